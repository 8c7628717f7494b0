package compute

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"drytally/compute/air"
	"drytally/compute/source"
	"drytally/compute/units"
)

// confidence is the confidence of every one-sided statement on a load: 95 %.
const confidence = 0.95

// longSpan is how far apart the readings of a load may lie before it is said: wood changes in a week.
const longSpan = 7 * 24 * time.Hour

// stated makes a Statement from its name and pairs of key and value.
func stated(name string, with ...any) Statement {
	s := Statement{Name: name, With: map[string]string{}}
	for i := 0; i+1 < len(with); i += 2 {
		s.With[with[i].(string)] = fmt.Sprint(with[i+1])
	}
	return s
}

// put gives the statement with another value for a key.
func (s Statement) put(key string, value any) Statement {
	s.With = maps.Clone(s.With)
	s.With[key] = fmt.Sprint(value)
	return s
}

// assessLoad computes one load: its evidence, its witnesses and its verdict.
func (x *index) assessLoad(l *Load) LoadResult {
	k := key(l.ID)
	r := LoadResult{Load: l, Boards: x.boardsOf(k), Courses: l.Courses, Spots: l.Spots}
	r.Species = x.speciesOf(r.Boards)
	if len(r.Species) == 0 && l.Species.Name != "" {
		r.Species = []string{l.Species.Name}
	}
	x.countBoards(&r)
	r.Band = x.bandOf(l)
	m := x.measured[k]
	x.readingDates(&r)
	r.MeterOff = units.Percent(x.meterOff(first(r.Species)))
	if m != nil && m.off > 0 {
		r.MeterOff = min(r.MeterOff, units.Percent(m.off).TenthUp())
	}
	outcomes := x.outcomes(&r, m)
	first := outcomes[0]
	r.Measured, r.Below, r.Above = first.measured, first.below, first.above
	r.Mean, r.MeanRest, r.Spread, r.Tolerance = first.mean, first.meanRest, first.spread, first.tolerance
	r.OverBound, r.RestBound, r.RestN, r.Allowed = first.overBound, first.restBound, first.restN, first.allowed
	r.Sampling, r.Counted, r.NoLimit = first.sampling, first.counted, first.noLimit
	coverVariants(&r, outcomes)
	for _, at := range r.Boards {
		b := &x.out.Boards[at]
		b.Over, b.Under = slices.Contains(first.over, at), slices.Contains(first.under, at)
		if b.Over {
			r.Over = append(r.Over, b.Board.ID)
		}
		if b.Under {
			r.Under = append(r.Under, b.Board.ID)
		}
	}
	x.stack(&r)
	where := x.lookAtPlaces(&r)
	r.SlowMissing = where.missing
	x.strata(&r, m, outcomes)
	x.hearWitnesses(&r, m)
	x.judge(&r, m, outcomes, where)
	if len(r.HeldBack) == 0 {
		r.MeanRest = units.Estimate{} // of a load that goes on drying it would be the mean of its few dry boards
	}
	x.meterNotes(&r, &outcomes[0])
	x.correctionNotes(&r, m)
	x.gradients(&r, m)
	x.forecast(&r)
	x.airReach(&r)
	x.lossAgainstSafe(&r)
	x.loadFootage(&r)
	return r
}

// boardsRead is NFrom of a load whose boards are known only because they were read: how many it holds is not known.
const boardsRead = "boards read"

// countBoards settles how many boards the load holds: what the loads sheet says, or what is listed when that is more.
func (x *index) countBoards(r *LoadResult) {
	listed := len(r.Boards)
	switch said := r.Load.Boards; {
	case said == 0:
		r.N, r.NFrom = listed, "boards listed"
		if x.listed[key(r.Load.ID)] == 0 {
			r.NFrom = boardsRead // how many there are was never written
		}
	case said < listed:
		x.say("J005", r.Load.Origin.At("boards"), strconv.Itoa(said), "correct the number of boards, or the load of the boards listed too much",
			"load %q is said to hold %d boards, but %d are listed", r.Load.ID, said, listed)
		r.N, r.NFrom = listed, "boards listed"
	default:
		r.N, r.NFrom = said, "loads sheet"
	}
}

// bandOf finds what moisture the load's use asks for. The owner's own figures come before the table's.
func (x *index) bandOf(l *Load) Band {
	region := l.Region
	if region == "" {
		region = x.job.Settings.Region
	}
	b := Band{Use: l.Use, Region: region}
	if low, mean, high, row, ok := air.Band(l.Use, region); ok {
		b = Band{Low: low, Mean: mean, High: high, Use: row.Use, Region: row.Region, Source: row.Source, TableSource: row.Source, Known: true}
		x.cite(row.Source)
	}
	limit := l.Limit
	if limit == 0 {
		limit = x.job.Settings.Limit
	}
	if limit != 0 {
		b.High, b.OwnLimit, b.Known = limit, true, true
		b.Source = source.Source{Document: "the owner's own limit", Status: source.Owner}
		if b.Mean >= b.High {
			b.Mean = 0 // the table's average lies above the owner's limit and says nothing here
		}
		if b.Low >= b.High {
			b.Low = 0
		}
	}
	if l.Low != 0 {
		b.Low = l.Low
	}
	return b
}

// readingDates finds the first and last day of the readings that count.
func (x *index) readingDates(r *LoadResult) {
	for _, at := range r.Boards {
		d := x.out.Boards[at].MC.Date
		if d.IsZero() {
			continue
		}
		if r.FirstReading.IsZero() || d.Before(r.FirstReading) {
			r.FirstReading = d
		}
		if d.After(r.LastReading) {
			r.LastReading = d
		}
	}
}

// stack lists every place of the stack, from the bottom left, and names what was not measured.
func (x *index) stack(r *LoadResult) {
	places := x.places[key(r.Load.ID)]
	for p := range places {
		r.Courses, r.Spots = max(r.Courses, p[0]), max(r.Spots, p[1])
	}
	placed := map[int]bool{}
	if len(places) > 0 {
		for c := 1; c <= r.Courses; c++ {
			for s := 1; s <= r.Spots; s++ {
				spot := Spot{Course: c, Spot: s}
				if at, ok := places[[2]int{c, s}]; ok {
					b := x.out.Boards[at]
					spot.Board, spot.MC, spot.Over, spot.Under = b.Board.ID, b.MC, b.Over, b.Under
					placed[at] = true
				}
				r.Stack = append(r.Stack, spot)
			}
		}
	}
	for _, at := range r.Boards {
		b := x.out.Boards[at]
		if b.MC.State != units.NotTaken {
			continue
		}
		if b.Board.Course > 0 && placed[at] {
			r.NotMeasured = append(r.NotMeasured, fmt.Sprintf("%s (course %d, spot %d)", b.Board.ID, b.Board.Course, b.Board.Spot))
		} else {
			r.NotMeasured = append(r.NotMeasured, b.Board.ID)
		}
	}
	if more := r.N - len(r.Boards); more > 0 {
		r.NotMeasured = append(r.NotMeasured, fmt.Sprintf("%d boards that are in no sheet", more))
	}
}

// correctionNotes says how the readings of a load were corrected and what was left as read.
func (x *index) correctionNotes(r *LoadResult, m *measurement) {
	if m == nil {
		return
	}
	r.Sources = m.sources
	r.Notes = append(r.Notes, x.corrections(r, m, r.Boards, m.all)...)
}

// corrections says how the readings of some boards of a load were corrected; n counts them.
func (x *index) corrections(r *LoadResult, m *measurement, boards []int, n readingCounts) (says []Statement) {
	s := x.job.Settings
	note := func(name string, with ...any) { says = append(says, stated(name, with...)) }
	switch s.Meter {
	case MeterNotSaid:
		note("meter-not-said")
	case DielectricMeter:
		note("meter-dielectric")
	}
	if s.Meter != DielectricMeter {
		switch {
		case s.MeterWoodTemp == Yes:
			note("temperature-by-meter")
		case n.noTemp > 0:
			others := "" // the source of their correction
			if x.readingsOf(boards) > n.noTemp+n.fromAir {
				others = m.temp.Source.String()
			}
			middle := "" // where the meter's own neutral point was not taken
			if m.middle.Known() {
				middle = s.System.Temperature(m.middle)
			}
			note("temperature-missing", "n", n.noTemp, "middle", middle, "cold", s.System.Temperature(m.cold), "warm", s.System.Temperature(m.warm), "from", m.near.Place, "others", others)
		default:
			note("temperature-corrected", "source", m.temp.Source.String())
		}
		if n.rough > 0 {
			note("temperature-rough", "n", n.rough)
		}
		says = append(says, x.speciesNote(r, m))
	}
	for _, c := range []struct {
		name string
		n    int
	}{{"readings-superseded", n.superseded}, {"temperature-from-air", n.fromAir}, {"wood-frozen", n.frozen}, {"readings-not-used", n.failed}, {"mean-of-readings", n.several},
		{"readings-indicated", n.indicated}, {"readings-too-low", n.tooLow}} {
		if c.n > 0 {
			note(c.name, "n", c.n)
		}
	}
	if s.MeterCalibrate != "" {
		note("meter-calibration", "text", s.MeterCalibrate)
	} else {
		note("meter-calibration-not-said")
	}
	if below := x.countState(boards, units.BelowRange); below > 0 {
		note("readings-below", "n", below, "mark", x.markOf(boards, units.BelowRange))
	}
	if above := x.countState(boards, units.AboveRange); above > 0 {
		note("readings-above", "n", above, "mark", x.markOf(boards, units.AboveRange))
	}
	return says
}

// readingsOf counts the readings that boards rest on.
func (x *index) readingsOf(boards []int) int {
	n := 0
	for _, at := range boards {
		n += x.out.Boards[at].MC.N
	}
	return n
}

// countState counts the boards whose moisture content is of a state.
func (x *index) countState(boards []int, state units.ReadingState) int {
	n := 0
	for _, at := range boards {
		if x.out.Boards[at].MC.State == state {
			n++
		}
	}
	return n
}

// speciesNote says what was done about the species.
func (x *index) speciesNote(r *LoadResult, m *measurement) Statement {
	s := x.job.Settings
	wood := strings.Join(r.Species, " and ")
	if wood == "" {
		wood = "the wood"
	}
	with := []any{"species", wood, "low", m.species.MayLow.Tenth().Signed(), "high", m.species.MayHigh.Tenth().Signed(), "source", m.species.Source.String()}
	seen := seenSpecies(first(r.Species))
	switch {
	case s.MeterSpecies == Yes:
		return stated("species-by-meter", with...)
	case s.MeterSpecies == NotSaid && seen:
		return stated("species-unsaid-both", with...)
	case s.MeterSpecies == NotSaid:
		return stated("species-unsaid-none", with...)
	case seen:
		return stated("species-corrected", with...)
	}
	return stated("species-no-table", with...)
}

func first(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return names[0]
}
