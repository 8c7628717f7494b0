package compute

import (
	"cmp"
	"errors"
	"slices"
	"strings"
	"time"

	"drytally/compute/finding"
	"drytally/compute/meter"
	"drytally/compute/source"
	"drytally/compute/units"
)

// A wood temperature that was not written down is taken to lie in this range when nothing else tells: where the published
// correction is good (see meter). When other boards of the load were read with their temperature on the same day, the
// range is theirs, widened by stackSpread. Both are this project's choice.
const (
	coolestWood = 10.0 // C
	warmestWood = 30.0
	stackSpread = 2.0
)

// No correction is published for wood beyond these (see meter).
const coldestRead, hottestRead = -20.0, 50.0

// variant is one way to take what the sheet leaves open: the temperature of wood that was not measured, and whether the
// meter was set to the species. The first variant takes both in the middle; a verdict must hold for all.
type variant struct {
	temperature int  // -1 warm end (drier), 0 the meter's neutral point, 1 cold end (wetter)
	species     bool // correct for the species
}

// variantsOf lists the variants that the settings and readings leave open for a load.
func (x *index) variantsOf(readings []boardReading) []variant {
	s := x.job.Settings
	var temps = []int{0}
	if s.Meter != DielectricMeter && s.MeterWoodTemp != Yes {
		for _, r := range readings {
			if !r.reading.WoodTemp.Known() {
				temps = []int{0, -1, 1}
				break
			}
		}
	}
	species := []bool{s.MeterSpecies != Yes}
	if s.Meter != DielectricMeter && s.MeterSpecies == NotSaid {
		for _, r := range readings {
			if seenSpecies(x.out.Boards[r.board].Species.Name) {
				species = []bool{false, true}
				break
			}
		}
	}
	var all []variant
	for _, sp := range species {
		for _, t := range temps {
			all = append(all, variant{t, sp})
		}
	}
	return all
}

// seenSpecies reports whether a species correction with a table that was seen exists for the wood.
func seenSpecies(name string) bool { return meter.Corrects(tableName(name)) }

// tableName gives the name that tables of other subjects know a commercial group by.
func tableName(species string) string { return strings.TrimSuffix(species, " (commercial group)") }

// correct corrects one reading under a variant.
// warm, middle and cold are what wood whose temperature was not written down may have had; middle not known: the meter's own
// neutral point.
func (x *index) correct(r *Reading, species string, v variant, warm, middle, cold units.Temperature) (meter.Answer, error) {
	s := x.job.Settings
	q := meter.Question{Reading: r.Value, Dielectric: s.Meter == DielectricMeter, Wood: r.WoodTemp, Species: tableName(species),
		TempDone: s.MeterWoodTemp == Yes, SpeciesDone: !v.species}
	if mark := x.markShown(r.Value); mark != 0 {
		q.Reading.MC = mark
	}
	if !q.Wood.Known() && !q.TempDone {
		if air, ok := x.airTemps[r]; ok {
			q.Wood = units.Celsius(air.Celsius() - stackSpread*float64(v.temperature))
			return meter.Correct(q)
		}
		switch v.temperature {
		case -1:
			q.Wood = warm
		case 0:
			q.Wood = middle
		case 1:
			q.Wood = cold
		}
	}
	return meter.Correct(q)
}

// readingCounts is what became of readings, counted for one board or several.
type readingCounts struct {
	noTemp     int // readings without wood temperature
	fromAir    int // readings whose wood temperature was taken from the air log
	frozen     int // readings in frozen wood that was dry enough to be read
	rough      int // readings whose temperature correction is only rough
	failed     int // readings that could not be used
	superseded int // earlier readings of boards that were read again
	several    int // boards with more than one reading
	indicated  int // boards with a reading too high to be a number in a mean
	tooLow     int // boards that read under what every source takes for a pin meter's range
}

// count counts one thing for a board.
func (m *measurement) count(board int, one func(*readingCounts) *int) {
	c := m.counts[board]
	*one(&c)++
	m.counts[board] = c
	*one(&m.all)++
}

// countsOf adds up the counts of some boards.
func (m *measurement) countsOf(boards []int) readingCounts {
	var sum readingCounts
	for _, at := range boards {
		c := m.counts[at]
		sum.noTemp += c.noTemp
		sum.fromAir += c.fromAir
		sum.frozen += c.frozen
		sum.rough += c.rough
		sum.failed += c.failed
		sum.superseded += c.superseded
		sum.several += c.several
		sum.indicated += c.indicated
		sum.tooLow += c.tooLow
	}
	return sum
}

// markShown gives the mark a reading out of the meter's range stands for: the one written beside it (<7), else the meter's own of the
// settings. It gives 0 for a number.
func (x *index) markShown(r units.Reading) units.MC {
	switch {
	case r.State != units.BelowRange && r.State != units.AboveRange:
		return 0
	case r.MC != 0:
		return r.MC
	case r.State == units.BelowRange:
		return x.job.Settings.LowestMark
	}
	return x.job.Settings.HighestMark
}

// measurement is what the readings of one load come to, once per variant.
type measurement struct {
	variants []variant
	// The ends taken for wood whose temperature was not written down, and the middle when others of the load tell.
	warm, middle, cold units.Temperature
	boards             []map[int]BoardMC       // per variant: board index -> its highest corrected reading
	means              []map[int]units.Reading // per variant: board index -> the mean of its corrected readings
	pairs              map[int]layers          // under the first variant: board index -> its shell and core
	counts             map[int]readingCounts   // board index -> what became of its readings
	all                readingCounts           // of all boards together
	off                float64                 // what the meter can be off once it is calibrated against the oven; 0: it is not
	species            meter.SpeciesStep       // what the species step did, on the last number corrected
	temp               meter.TemperatureStep
	near               source.Source   // where the temperature range was taken from
	sources            []source.Source // of the corrections made
}

// measureBoards gives every board its moisture content under the first variant of its load, with the range of all.
func (x *index) measureBoards(readings []boardReading) {
	x.measured = map[string]*measurement{}
	byLoad := map[string][]boardReading{}
	for _, r := range readings {
		load, _ := x.loadOf(x.out.Boards[r.board].Board.Load)
		byLoad[load] = append(byLoad[load], r)
	}
	for load, all := range byLoad {
		byLoad[load] = x.current(load, all)
	}
	for _, load := range sortedKeys(byLoad) {
		x.measureLoad(load, byLoad[load])
	}
}

// latest keeps, of every board, the readings of its latest day: the wood has changed since the others. A reading without a
// date may be of that day too and is kept.
func latest(readings []boardReading) (kept, superseded []boardReading) {
	last := map[int]time.Time{}
	for _, r := range readings {
		if d := day(r.reading.Date); d.After(last[r.board]) {
			last[r.board] = d
		}
	}
	for _, r := range readings {
		if r.reading.Date.IsZero() || day(r.reading.Date).Equal(last[r.board]) {
			kept = append(kept, r)
		} else {
			superseded = append(superseded, r)
		}
	}
	return kept, superseded
}

func day(t time.Time) time.Time { return t.Truncate(24 * time.Hour) }

// measureLoad corrects the readings of a load under each of its variants, and gives its boards their moisture content.
func (x *index) measureLoad(load string, readings []boardReading) {
	x.takeAirTemps(load, readings)
	readings, superseded := latest(readings)
	m := &measurement{variants: x.variantsOf(readings), pairs: map[int]layers{}, counts: map[int]readingCounts{}}
	for _, r := range superseded {
		m.count(r.board, func(c *readingCounts) *int { return &c.superseded })
	}
	x.measured[load] = m
	m.warm, m.cold, m.near = x.woodRange(load, readings)
	if m.near.Status == source.Owner {
		m.middle = units.Celsius((m.warm.Celsius() + m.cold.Celsius()) / 2)
	}
	for range m.variants {
		m.boards, m.means = append(m.boards, map[int]BoardMC{}), append(m.means, map[int]units.Reading{})
	}
	dropped := map[*Reading]bool{}
	for vi, v := range m.variants {
		taken := map[int][]corrected{}
		for _, r := range readings {
			species := x.out.Boards[r.board].Species.Name
			a, err := x.correct(r.reading, species, v, m.warm, m.middle, m.cold)
			if err != nil {
				if !dropped[r.reading] {
					dropped[r.reading] = true
					m.count(r.board, func(c *readingCounts) *int { return &c.failed })
					x.say("J013", r.reading.Origin.At(r.reading.Field), r.reading.Value.String(), hintFor(err), "this reading was not used: %v", err)
				}
				continue
			}
			if vi == 0 {
				x.noteReading(m, r, a)
			}
			b := BoardMC{Reading: r.reading.Value, State: a.State, MC: a.MC, Mark: x.markShown(r.reading.Value), Low: a.MC, High: a.MC, N: 1, Date: r.reading.Date, Wood: r.reading.WoodTemp, Rough: a.Temperature.Rough}
			if old, ok := m.boards[vi][r.board]; ok {
				b.N += old.N
				if !wetter(b, old) {
					n := b.N
					b = old
					b.N = n
				}
			}
			m.boards[vi][r.board] = b
			taken[r.board] = append(taken[r.board], corrected{r.reading, a, x.layerOf(r)})
		}
		for at, all := range taken {
			m.means[vi][at] = x.meanOfBoard(all)
			if vi == 0 {
				x.noteBoard(m, at, all)
			}
		}
	}
	x.setAsideUnread(readings, dropped)
	for at := range m.boards[0] {
		x.out.Boards[at].MC = m.ofAll(at)
	}
}

// ofAll gives a board's moisture content under the first variant with the range of all.
func (m *measurement) ofAll(at int) BoardMC {
	b := m.boards[0][at]
	for _, other := range m.boards[1:] {
		if o, ok := other[at]; ok {
			b.Low, b.High = min(b.Low, o.MC), max(b.High, o.MC)
		}
	}
	return b
}

// setAsideUnread sets aside the rows of which no reading could be used. A row that is a board's own stays used.
func (x *index) setAsideUnread(readings []boardReading, dropped map[*Reading]bool) {
	if len(dropped) == 0 {
		return
	}
	kept := map[finding.Place]bool{}
	for i := range x.job.Boards {
		kept[rowPlace(x.job.Boards[i].Origin.At(""))] = true
	}
	for _, r := range readings {
		if !dropped[r.reading] {
			kept[rowPlace(r.reading.Origin.At(""))] = true
		}
	}
	for r := range dropped {
		if !kept[rowPlace(r.Origin.At(""))] {
			x.setAside(r.Origin, "no reading could be used")
		}
	}
}

// noteReading counts what the load report says of the corrections.
func (x *index) noteReading(m *measurement, of boardReading, a meter.Answer) {
	r := of.reading
	count := func(one func(*readingCounts) *int) { m.count(of.board, one) }
	if !r.WoodTemp.Known() && x.job.Settings.MeterWoodTemp != Yes && x.job.Settings.Meter != DielectricMeter {
		if _, ok := x.airTemps[r]; ok {
			count(func(c *readingCounts) *int { return &c.fromAir })
		} else {
			count(func(c *readingCounts) *int { return &c.noTemp })
		}
	}
	if a.Frozen {
		count(func(c *readingCounts) *int { return &c.frozen })
	}
	if a.Temperature.Rough {
		count(func(c *readingCounts) *int { return &c.rough })
	}
	m.cite(x, a.Temperature.Source)
	if a.Temperature.Outcome == meter.Applied {
		m.temp = a.Temperature
		m.cite(x, meter.FigureSource())
	}
	if r.Value.State == units.Number {
		m.species = a.Species
		m.cite(x, a.Species.Source)
	}
}

// cite notes a source for the load and for the job.
func (m *measurement) cite(x *index, s source.Source) {
	x.cite(s)
	if s.Document != "" && !slices.Contains(m.sources, s) {
		m.sources = append(m.sources, s)
	}
}

func hintFor(err error) string {
	if errors.Is(err, meter.ErrNoMark) {
		return "write the meter's lowest and highest mark into the settings"
	}
	return "measure again in wood between 50 and 86 F, or weigh a sample"
}

// wetter reports whether a is wetter than b: above the range, then by number, then below the range.
func wetter(a, b BoardMC) bool {
	rank := func(s units.ReadingState) int {
		return map[units.ReadingState]int{units.BelowRange: 0, units.Number: 1, units.AboveRange: 2}[s]
	}
	if a.State != b.State {
		return rank(a.State) > rank(b.State)
	}
	return a.MC > b.MC
}

// woodRange gives the ends of the temperature that unmeasured wood may have had.
func (x *index) woodRange(load string, readings []boardReading) (warm, cold units.Temperature, near source.Source) {
	low, high, n := 0.0, 0.0, 0
	for _, r := range readings {
		if !r.reading.WoodTemp.Known() {
			continue
		}
		c := r.reading.WoodTemp.Celsius()
		if n == 0 || c < low {
			low = c
		}
		if n == 0 || c > high {
			high = c
		}
		n++
	}
	if airLow, airHigh, all := x.airRange(readings); all {
		return units.Celsius(airHigh + stackSpread), units.Celsius(airLow - stackSpread), source.Source{Document: "the workbook", Place: "air log within the hour", Status: source.Owner}
	}
	if n == 0 {
		low, high, place := coolestWood, warmestWood, "range of wood temperature taken"
		if airLow, airHigh, ok := x.airOfDays(load, readings); ok && (airLow-stackSpread < low || airHigh+stackSpread > high) {
			low, high, place = min(low, airLow-stackSpread), max(high, airHigh+stackSpread), "range of wood temperature taken, widened by the air log of those days"
		}
		return units.Celsius(min(high, hottestRead)), units.Celsius(max(low, coldestRead)), source.Source{Document: "drytally", Place: place, Status: source.OurChoice}
	}
	return units.Celsius(high + stackSpread), units.Celsius(low - stackSpread), source.Source{Document: "the workbook", Place: "wood temperatures of the same load", Status: source.Owner}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, cmp.Compare)
	return keys
}
