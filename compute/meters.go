package compute

import (
	"slices"
	"time"

	"drytally/compute/calibrate"
	"drytally/compute/drying"
	"drytally/compute/units"
)

// MeterComparison holds one meter against the oven, or a second meter against the one the settings speak of, on boards of one
// wood that were measured both ways.
type MeterComparison struct {
	Meter      string // its name; empty: the meter of the settings
	Against    string // "oven", or the name of the other meter; empty: the meter of the settings
	Oven       bool
	Species    string // empty when it is not known
	Pairs      []MeterPair
	Marks      int            // boards left out because a meter showed only a mark
	Apart      int            // boards left out because the two are more than a day apart, or one has no date
	Difference units.Estimate // Against less Meter, on average, to the tenth, with its 95 % range; Confidence 0 when there is none
	Spread     units.MC       // standard deviation of the difference from board to board
	Line       MeterLine
	Used       bool // readings of this meter were corrected by the line
	Boards     int  // boards whose moisture content it changed
	Says       []Statement
}

// MeterPair is one board measured both ways.
type MeterPair struct {
	Load, Board    string
	Date           time.Time // of the meter's readings; zero when it is not known
	Shown, Against units.MC  // Shown: mean of the board's readings, corrected as the settings say when it is their meter
}

// MeterLine is the straight line Against = Intercept + Slope x Shown, with what is known of it. Known false: too few pairs.
type MeterLine struct {
	Known            bool
	Intercept, Slope float64
	USlope           float64 // standard deviation of the slope
	Residual         float64 // points of MC about the line
	Low, High        units.MC
	At               []LinePoint // at the lowest, the middle and the highest pair
}

// LinePoint is the line at one reading, with the range in which 95 of 100 further boards lie.
type LinePoint struct{ Shown, MC, Low, High units.MC }

// When a line is used. All this project's choice: six pairs are the fewest at which the range of a further board is less than
// three residuals either way, and a slope that is not known to lie between a half and one and a half would bend readings more
// than it corrects them.
const (
	leastPairs    = 6
	leastSlope    = 0.5
	mostSlope     = 1.5
	mostResidual  = 1.5 // points of MC
	pairedWithin  = 24 * time.Hour
	middleOfRange = 0.5
)

// mainReading reports whether a reading was taken with the meter the settings speak of.
func (x *index) mainReading(r *Reading) bool { return x.meterKey(r) == x.mainMeterKey }

// meterKey gives the key of the meter a reading was taken with. A reading that names none is of the meter of the settings.
func (x *index) meterKey(r *Reading) string {
	if r.Meter == "" {
		return key(x.job.Settings.MeterName)
	}
	return key(r.Meter)
}

// mainMeter finds the meter the settings speak of: the one they name, else readings that name none, else the meter that read most
// boards. Of boards read with it, only its readings count for the load; a second meter's readings of them are kept for the
// comparison. A board that only another meter has read counts with that.
func (x *index) mainMeter(readings []boardReading) []boardReading {
	x.placed = readings
	boards := map[string]map[int]bool{}
	var order []string
	for _, r := range readings {
		k := x.meterKey(r.reading)
		if boards[k] == nil {
			boards[k] = map[int]bool{}
			order = append(order, k)
		}
		boards[k][r.board] = true
	}
	main := key(x.job.Settings.MeterName)
	if boards[main] == nil {
		if main = ""; boards[main] == nil {
			for _, k := range order {
				if main == "" || len(boards[k]) > len(boards[main]) {
					main = k
				}
			}
		}
	}
	x.mainMeterKey = main
	x.otherMeter = map[int]string{}
	if len(order) < 2 {
		return readings
	}
	var kept []boardReading
	for _, r := range readings {
		switch k := x.meterKey(r.reading); {
		case k == main:
			kept = append(kept, r)
		case !boards[main][r.board] && (x.otherMeter[r.board] == "" || x.otherMeter[r.board] == k):
			x.otherMeter[r.board] = k
			kept = append(kept, r)
		}
	}
	return kept
}

// meterDay is what one meter read on one board on one day.
type meterDay struct {
	board    int
	day      time.Time
	readings []*Reading
	marks    int
}

// meterDays lists, for one meter, the boards and days it read, in order of first reading.
func (x *index) meterDays(meter string) []*meterDay {
	type at struct {
		board int
		day   time.Time
	}
	seen := map[at]*meterDay{}
	var all []*meterDay
	for _, r := range x.placed {
		if x.meterKey(r.reading) != meter {
			continue
		}
		k := at{r.board, day(r.reading.Date)}
		d := seen[k]
		if d == nil {
			d = &meterDay{board: r.board, day: k.day}
			seen[k] = d
			all = append(all, d)
		}
		if r.reading.Value.State == units.Number {
			d.readings = append(d.readings, r.reading)
		} else {
			d.marks++
		}
	}
	return all
}

// shown gives the mean of a day's readings under a variant: corrected for the meter of the settings, as read for any other.
func (x *index) shown(meter string, d *meterDay, v variant) (float64, bool) {
	sum := 0.0
	for _, r := range d.readings {
		if meter != x.mainMeterKey {
			sum += r.Value.MC.Percent()
			continue
		}
		b := x.out.Boards[d.board]
		load, _ := x.loadOf(b.Board.Load)
		m := x.measured[load]
		if m == nil {
			return 0, false
		}
		a, err := x.correct(r, b.Species.Name, v, m.warm, m.middle, m.cold)
		if err != nil || a.State != units.Number {
			return 0, false
		}
		sum += a.MC.Percent()
	}
	return sum / float64(len(d.readings)), len(d.readings) > 0
}

// ovenDay is what the oven said of one board on one day.
type ovenDay struct {
	board int
	day   time.Time
	mc    float64
}

// ovenDays lists the boards sections were cut from, day by day.
func (x *index) ovenDays() []ovenDay {
	type at struct {
		board int
		day   time.Time
	}
	values := map[at][]units.MC{}
	var order []at
	for _, w := range x.job.Weights {
		if !w.Section() {
			continue
		}
		board, loads := x.findBoard(w.Load, w.Sample)
		mc, err := drying.SectionMC(w.Wet, w.Ovendry)
		if loads != 1 || err != nil {
			continue
		}
		k := at{board, day(w.Date)}
		if values[k] == nil {
			order = append(order, k)
		}
		values[k] = append(values[k], mc)
	}
	var all []ovenDay
	for _, k := range order {
		if mc, ok := drying.Average(values[k]); ok {
			all = append(all, ovenDay{k.board, k.day, mc.Percent()})
		}
	}
	return all
}

// comparison is a MeterComparison in the making.
type comparison struct {
	meter, species string // keys
	oven           bool
	pairs          []meterPairing
	result         MeterComparison
	lines          map[variant]calibrate.Line
	usable         bool
}

// meterPairing is a board and day of a meter with what it is held against.
type meterPairing struct {
	day  *meterDay
	oven float64
	main *meterDay // nil for the oven
}

// calibrateMeters compares the meters and corrects by a line where there are enough pairs.
func (x *index) calibrateMeters() {
	var meters []string
	for _, r := range x.placed {
		if k := x.meterKey(r.reading); !slices.Contains(meters, k) {
			meters = append(meters, k)
		}
	}
	var all []*comparison
	oven := x.ovenDays()
	for _, meter := range meters {
		all = append(all, x.pairUp(meter, oven, nil)...)
	}
	for _, meter := range meters {
		if meter != x.mainMeterKey {
			all = append(all, x.pairUp(meter, nil, x.meterDays(x.mainMeterKey))...)
		}
	}
	for _, c := range all {
		x.fitMeter(c)
	}
	x.applyLines(all)
	for _, c := range all {
		x.sayMeter(c)
		x.out.Meters = append(x.out.Meters, c.result)
	}
}

// pairUp pairs what a meter read with the oven or with the main meter's readings, wood by wood: the nearest in time, at most a
// day away, each once.
func (x *index) pairUp(meter string, oven []ovenDay, main []*meterDay) []*comparison {
	bySpecies := map[string]*comparison{}
	var order []*comparison
	of := func(board int) *comparison {
		b := x.out.Boards[board]
		k := key(b.Species.Name)
		c := bySpecies[k]
		if c == nil {
			c = &comparison{meter: meter, species: k, oven: main == nil, result: MeterComparison{Meter: x.meterName(meter), Oven: main == nil, Species: b.Species.Name}}
			if c.oven {
				c.result.Against = "oven"
			} else {
				c.result.Against = x.meterName(x.mainMeterKey)
			}
			bySpecies[k] = c
			order = append(order, c)
		}
		return c
	}
	days := x.meterDays(meter)
	nearest := func(board int, at time.Time) *meterDay {
		var best *meterDay
		for _, d := range days {
			if d.board == board && gap(d.day, at) <= pairedWithin && (best == nil || gap(d.day, at) < gap(best.day, at)) {
				best = d
			}
		}
		return best
	}
	pair := func(board int, at time.Time, p meterPairing) {
		if !slices.ContainsFunc(days, func(d *meterDay) bool { return d.board == board }) {
			return
		}
		c := of(board)
		d := nearest(board, at)
		switch {
		case d == nil:
			c.result.Apart++
		case len(d.readings) == 0 || p.main != nil && len(p.main.readings) == 0:
			c.result.Marks++
		default:
			p.day = d
			c.pairs = append(c.pairs, p)
		}
	}
	for _, o := range oven {
		pair(o.board, o.day, meterPairing{oven: o.mc})
	}
	for _, m := range main {
		pair(m.board, m.day, meterPairing{main: m})
	}
	return order
}

// meterName gives a meter's name as written.
func (x *index) meterName(k string) string {
	if k == "" || key(x.job.Settings.MeterName) == k {
		return x.job.Settings.MeterName
	}
	for _, r := range x.placed {
		if x.meterKey(r.reading) == k {
			return r.reading.Meter
		}
	}
	return ""
}

// numbers gives the pairs of a comparison under a variant.
func (x *index) numbers(c *comparison, v variant) []calibrate.Pair {
	var pairs []calibrate.Pair
	for _, p := range c.pairs {
		shown, ok := x.shown(c.meter, p.day, v)
		against := p.oven
		if p.main != nil {
			var known bool
			against, known = x.shown(x.mainMeterKey, p.main, v)
			ok = ok && known
		}
		if ok {
			pairs = append(pairs, calibrate.Pair{X: shown, Y: against})
		}
	}
	return pairs
}

// allVariants lists the variants of all loads. The first is the one results are printed for.
func (x *index) allVariants() []variant {
	var all []variant
	for _, load := range sortedKeys(x.measured) {
		for _, v := range x.measured[load].variants {
			if !slices.Contains(all, v) {
				all = append(all, v)
			}
		}
	}
	return all
}
