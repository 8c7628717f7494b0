package compute

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"drytally/compute/air"
	"drytally/compute/meter"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// draw draws what the simulation of loads needs, from a seed.
type draw struct{ *rand.Rand }

func (d draw) between(low, high float64) float64     { return low + (high-low)*d.Float64() }
func (d draw) chance(p float64) bool                 { return d.Float64() < p }
func (d draw) whole(low, high int) int               { return low + d.IntN(high-low+1) }
func (d draw) around(middle, spread float64) float64 { return middle + spread*d.NormFloat64() }

// simulate draws load i.
func simulate(i int, easy bool) simulated {
	d := draw{rand.New(rand.NewPCG(simulationSeed, uint64(i)))}
	s := Defaults()
	s.Meter = PinMeter
	s.LowestMark, s.HighestMark = units.Percent(6), units.Percent(30)
	names := []string{"white ash", "white oak", "northern red oak"}
	species, ok := wood.ByName(names[d.IntN(len(names))])
	if !ok {
		panic("a species of the simulation is not in the table")
	}
	spots := d.whole(4, 8)
	courses := d.whole(3, 16)
	n := courses * spots
	use, low, high := "interior flooring", 6.0, 10.0 // Wood Handbook FPL-GTR-190, Table 13-2; memory
	if d.chance(0.4) {
		use, low, high = "exterior siding", 9.0, 14.0
	}
	sim := simulated{truth: d.moisture(d.between(low-1, high+3), courses, spots)}
	load := Load{Origin: row("loads", 2), ID: "K1", Species: species, Use: use, Boards: n, Courses: courses, Spots: spots}
	job := &Job{Name: "week", Settings: s, Loads: []Load{load}}
	sim.job = job
	for b := range n {
		job.Boards = append(job.Boards, Board{Origin: row("boards", b+2), ID: fmt.Sprintf("B%03d", b+1), Load: "K1", Sawing: Sawing{Kind: FlatSawn},
			Thickness: []units.Length{units.Inch}, Width: units.Inches(d.between(4, 8)), Length: 8 * units.Foot, Course: b/spots + 1, Spot: b%spots + 1})
	}
	d.measure(&sim, easy)
	d.shrinkage(&sim)
	d.weigh(&sim)
	d.logAir(&sim)
	return sim
}

// moisture draws the true moisture content of every board.
func (d draw) moisture(mean float64, courses, spots int) []float64 {
	fall, middle, spread, tail := d.between(0, 1.5), d.between(0, 0.6), d.between(0.3, 1.1), 0.0
	if d.chance(0.5) {
		tail = d.between(0.2, 0.9)
	}
	truth := make([]float64, courses*spots)
	for b := range truth {
		course, spot := float64(b/spots), float64(b%spots)
		up := course/math.Max(1, float64(courses-1)) - 0.5
		across := 0.5 - math.Abs(spot/math.Max(1, float64(spots-1))-0.5)*2
		truth[b] = d.around(mean-fall*up+middle*across, spread) + tail*(d.ExpFloat64()-1)
	}
	if d.chance(0.2) {
		first, more := d.IntN(len(truth)), d.between(1.5, 4)
		for b := first; b < min(len(truth), first+d.whole(1, 8)); b++ {
			truth[b] += more
		}
	}
	for b := range truth {
		truth[b] = math.Max(truth[b], 4)
	}
	return truth
}

// measure chooses boards and reads them.
func (d draw) measure(sim *simulated, easy bool) {
	job := sim.job
	l := job.Loads[0]
	n := len(job.Boards)
	s := &job.Settings
	count := n
	switch x := d.Float64(); {
	case easy:
		sim.kind, count = "easy boards", min(n, d.whole(12, 40))
	case x < 0.3:
		sim.kind = "all measured"
	case x < 0.85:
		sim.kind, count = "part measured", min(n, d.whole(12, 40))
	default:
		sim.kind, count = "few measured", min(n, d.whole(4, 8))
	}
	s.MeterSpecies = []Said{Yes, Yes, Yes, No, NotSaid}[d.IntN(5)]
	set := s.MeterSpecies == Yes || s.MeterSpecies == NotSaid && d.chance(0.5)
	s.MeterWoodTemp = []Said{No, No, No, No, Yes}[d.IntN(5)]
	if d.chance(0.1) {
		s.Meter = DielectricMeter
	}
	bias := d.around(0, meterBias/2)
	if s.Meter == DielectricMeter || !set && !seenSpecies(l.Species.Name) || s.MeterSpecies != Yes && !seenSpecies(l.Species.Name) {
		bias = d.around(0, meterBiasNoSpecies/2)
	}
	warmth := d.between(10, 30)
	missing := 0.0 // share of wood temperatures not written down
	switch x := d.Float64(); {
	case x < 0.15:
		missing = 1
	case x < 0.3:
		missing = 0.5
	}
	layers := d.chance(0.1) // shell and core of every board
	gradient := d.between(-1, 2)
	pushes := []int{1, 1, 1, 2, 3}[d.IntN(5)]
	row := 2
	for _, b := range d.choose(n, count, l.Courses, l.Spots, easy) {
		wood := d.around(warmth, 0.7)
		temperature := units.Celsius(wood)
		if d.chance(missing) {
			temperature = units.Temperature{}
		}
		push := func(where string, mc float64) {
			shown := mc
			if s.Meter != DielectricMeter {
				shown = showing(mc, wood, l.Species.Name, s.MeterWoodTemp == Yes, set)
			}
			shown = math.Round(d.around(shown+bias, 0.5)*10) / 10
			r := Reading{Taking: &Taking{Field: "reading", Load: "K1", Where: where, Date: time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)}, Origin: simRow("readings", row),
				Board: job.Boards[b].ID, WoodTemp: temperature, Value: units.Reading{State: units.Number, MC: units.Percent(shown)}}
			row++
			switch {
			case shown < s.LowestMark.Percent():
				r.Value = units.Reading{State: units.BelowRange}
			case shown > s.HighestMark.Percent():
				r.Value = units.Reading{State: units.AboveRange}
			}
			job.Readings = append(job.Readings, r)
		}
		if layers {
			push("shell", sim.truth[b]-gradient/2)
			push("core", sim.truth[b]+gradient/2)
			continue
		}
		for range pushes {
			push("", sim.truth[b])
		}
	}
}

func simRow(sheet string, n int) Origin {
	return Origin{Table: &Table{File: "week.xlsx", Sheet: sheet, Cols: map[string]int{"reading": 2, "board": 1}}, Row: n}
}

// choose draws boards at random in each third of the courses, in proportion; or the top courses and ends, which are easy.
func (d draw) choose(n, count, courses, spots int, easy bool) []int {
	order := d.Perm(n)
	if easy {
		var chosen []int
		for b := n - 1; b >= 0 && len(chosen) < count; b-- {
			if course := b / spots; course >= courses-2 || b%spots == 0 || b%spots == spots-1 {
				chosen = append(chosen, b)
			}
		}
		return chosen
	}
	third := func(b int) int { return min(2, (b/spots)*3/courses) }
	have := [3]int{}
	for b := range n {
		have[third(b)]++
	}
	var chosen []int
	left, of := count, n
	for t, h := range have {
		take := int(math.Round(float64(left) * float64(h) / float64(of)))
		left, of = left-take, of-h
		for _, b := range order {
			if take > 0 && third(b) == t {
				chosen = append(chosen, b)
				take--
			}
		}
	}
	return chosen
}

// showing gives what a meter without error shows in wood of a moisture content: the correction turned round.
func showing(mc, celsius float64, species string, tempDone, speciesDone bool) float64 {
	low, high := 0.1, 60.0
	for range 14 { // to 0.004; the correction itself is rounded to the tenth
		mid := (low + high) / 2
		q := meter.Question{Reading: units.Reading{State: units.Number, MC: units.Percent(mid)}, Species: tableName(species), TempDone: tempDone, SpeciesDone: speciesDone}
		if !tempDone {
			q.Wood = units.Celsius(celsius)
		}
		a, err := meter.Correct(q)
		if err != nil || a.MC.Percent() > mc {
			high = mid
		} else {
			low = mid
		}
	}
	return (low + high) / 2
}

// shrinkage gives some loads the green widths of their boards.
func (d draw) shrinkage(sim *simulated) {
	if !d.chance(0.3) {
		return
	}
	species := sim.job.Loads[0].Species
	stand := d.around(1, 0.10)
	for b := range sim.job.Boards {
		board := &sim.job.Boards[b]
		s0 := species.Tangential * stand * math.Max(0.3, d.around(1, 0.15))
		share := s0 * (species.Fiber - math.Min(species.Fiber, sim.truth[b])) / species.Fiber
		green := board.Width
		board.GreenWidth = to64(green)
		board.Width = to64(units.Inches(green.Inches() * (1 - share)))
		if board.Width > board.GreenWidth {
			board.Width = board.GreenWidth
		}
	}
}

// to64 reads a size to the nearest 1/64 in.
func to64(l units.Length) units.Length {
	step := units.Fraction(1, 64)
	return (l + step/2) / step * step
}

// weigh gives some loads sample boards with sections.
func (d draw) weigh(sim *simulated) {
	if !d.chance(0.3) {
		return
	}
	on := time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)
	row := 2
	for k := range d.whole(2, 6) {
		mc := sim.truth[d.IntN(len(sim.truth))]
		ovendry := d.between(2000, 5000)
		section := mc * d.around(1, 0.05)
		dry := d.between(90, 200)
		id := fmt.Sprint("S", k+1)
		sim.job.Weights = append(sim.job.Weights,
			Weight{Origin: simRow("weights", row), Sample: id, Load: "K1", Date: on, Weight: units.Grams(ovendry * (1 + mc/100))},
			Weight{Origin: simRow("weights", row+1), Sample: id, Load: "K1", Date: on, Wet: units.Grams(dry * (1 + section/100)), Ovendry: units.Grams(dry)})
		row += 2
	}
}

// logAir gives some loads a log of air that none of the boards has come down to.
func (d draw) logAir(sim *simulated) {
	if !d.chance(0.5) {
		return
	}
	least := math.Inf(1)
	for _, mc := range sim.truth {
		least = math.Min(least, mc)
	}
	emc := least - 0.3 - d.ExpFloat64()
	if emc < 2.5 {
		return
	}
	dry := units.Celsius(d.between(25, 45))
	humidity, _, err := air.HumidityFor(units.Percent(emc), dry)
	if err != nil {
		return
	}
	sim.job.Air = append(sim.job.Air, Air{Origin: simRow("air", 2), Time: time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC), Load: "K1", DryBulb: dry,
		Humidity: units.RelativeHumidity(math.Max(1, d.around(humidity.Percent(), 1)))})
}
