package compute

import (
	"math"
	"slices"
	"strconv"
	"time"

	"drytally/compute/air"
	"drytally/compute/calibrate"
	"drytally/compute/season"
	"drytally/compute/source"
	"drytally/compute/units"
)

// RiseResult answers "it was 7, now it reads 12": readings of a load on two days, the later ones higher.
type RiseResult struct {
	Known               bool // there are two days and the later one is higher
	FirstDate, LastDate time.Time
	First, Last         units.MC // means of the boards compared, corrected, to the tenth
	Boards              int
	Same                bool           // the same boards on both days; else all that were read on either
	Rise                units.Estimate // with its 95 % range from the boards compared; Confidence 0 when there is none
	Meter               units.MC       // what the meter alone could explain, either way, to the tenth
	Shown               bool           // more than meter and boards together could explain
	Humidity            units.Humidity // air that leads wood to Last
	At                  units.Temperature
	Says                []Statement
}

// leastRise is the rise under which nothing is said: readings are no finer.
const leastRise = 50 * units.MC(1)

// roomTemp is the temperature air is reckoned at when no store is known: 70 F, the temperature of most printed tables.
const roomTemp = 70.0

// dayMeans is what the boards of a load read on one day, in the middle and at both ends of the wood temperature when that was not
// written down: warm, neutral, cold.
type dayMeans struct {
	day    time.Time
	boards map[int][3]float64
}

// daysRead gives the corrected readings of a load's boards, day by day. Marks are no numbers and left out.
func (x *index) daysRead(load string) []dayMeans {
	m := x.measured[load]
	if m == nil {
		return nil
	}
	type sum struct {
		total [3]float64
		n     int
	}
	sums := map[time.Time]map[int]*sum{}
	for _, r := range x.placedOf(load) {
		if r.reading.Date.IsZero() || r.reading.Value.State != units.Number || !x.mainReading(r.reading) {
			continue
		}
		var at [3]float64
		ok := true
		for i, temperature := range []int{-1, 0, 1} {
			v := m.variants[0]
			v.temperature = temperature
			a, err := x.correct(r.reading, x.out.Boards[r.board].Species.Name, v, m.warm, m.middle, m.cold)
			ok = ok && err == nil && a.State == units.Number
			at[i] = a.MC.Percent()
		}
		if !ok {
			continue
		}
		d := day(r.reading.Date)
		if sums[d] == nil {
			sums[d] = map[int]*sum{}
		}
		s := sums[d][r.board]
		if s == nil {
			s = &sum{}
			sums[d][r.board] = s
		}
		for i := range at {
			s.total[i] += at[i]
		}
		s.n++
	}
	var days []dayMeans
	for d, boards := range sums {
		one := dayMeans{day: d, boards: map[int][3]float64{}}
		for b, s := range boards {
			one.boards[b] = [3]float64{s.total[0] / float64(s.n), s.total[1] / float64(s.n), s.total[2] / float64(s.n)}
		}
		days = append(days, one)
	}
	slices.SortFunc(days, func(a, b dayMeans) int { return a.day.Compare(b.day) })
	return days
}

// placedOf gives the readings of a load's boards, whichever meter and day.
func (x *index) placedOf(load string) []boardReading {
	if x.placedByLoad == nil {
		x.placedByLoad = map[string][]boardReading{}
		for _, r := range x.placed {
			l, _ := x.loadOf(x.out.Boards[r.board].Board.Load)
			x.placedByLoad[l] = append(x.placedByLoad[l], r)
		}
	}
	return x.placedByLoad[load]
}

// compareDays sets two days side by side: the boards read on both, or all of both when there are none.
func compareDays(a, b dayMeans) (pairs []calibrate.Pair, first, last [3]float64, same bool) {
	var common []int
	for board := range a.boards {
		if _, ok := b.boards[board]; ok {
			common = append(common, board)
		}
	}
	slices.Sort(common)
	mean := func(d dayMeans, only []int) (m [3]float64) {
		for _, board := range only {
			for i := range m {
				m[i] += d.boards[board][i] / float64(len(only))
			}
		}
		return m
	}
	if len(common) > 0 {
		for _, board := range common {
			pairs = append(pairs, calibrate.Pair{X: a.boards[board][1], Y: b.boards[board][1]})
		}
		return pairs, mean(a, common), mean(b, common), true
	}
	return nil, mean(a, sortedBoards(a)), mean(b, sortedBoards(b)), false
}

func sortedBoards(d dayMeans) []int {
	var all []int
	for b := range d.boards {
		all = append(all, b)
	}
	slices.Sort(all)
	return all
}

// riseOf compares the last day of a load's readings with the earlier day from which they rose most. Days on which some of the
// last day's boards were read come before all others.
func (x *index) riseOf(r *LoadResult) {
	days := x.daysRead(key(r.Load.ID))
	if len(days) < 2 {
		return
	}
	last := days[len(days)-1]
	best, bestSame := -1, false
	most := 0.0
	for i, d := range days[:len(days)-1] {
		_, from, to, same := compareDays(d, last)
		rise := to[1] - from[1]
		if best < 0 || same && !bestSame || same == bestSame && rise > most {
			best, bestSame, most = i, same, rise
		}
	}
	pairs, from, to, same := compareDays(days[best], last)
	out := RiseResult{FirstDate: days[best].day, LastDate: last.day, First: units.PercentTenth(from[1]), Last: units.PercentTenth(to[1]), Same: same,
		Boards: max(len(pairs), 0)}
	if !same {
		out.Boards = len(last.boards)
	}
	rise := to[1] - from[1]
	if units.PercentTenth(rise) < leastRise {
		return
	}
	out.Known = true
	out.Rise = units.Estimate{Value: units.PercentTenth(rise), Low: units.PercentTenth(rise), High: units.PercentTenth(rise), N: out.Boards, Known: true}
	sampling := 0.0
	if d, err := calibrate.Differences(pairs, confidence); err == nil && d.Confidence > 0 {
		out.Rise.Low, out.Rise.High, out.Rise.Confidence = units.Percent(d.Low).TenthDown(), units.Percent(d.High).TenthUp(), confidence
		sampling = d.Mean - d.Low
	}
	bias := meterBias
	if x.job.Settings.Meter == DielectricMeter {
		bias = meterBiasPlate
	}
	// A point on either day, independent; a wood temperature that was not written down can be off on both days.
	unknown := math.Abs(from[2]-from[0])/2 + math.Abs(to[2]-to[0])/2
	if x.temperatureWritten(key(r.Load.ID), days[best].day, last.day) {
		unknown = 0
	}
	off := math.Hypot(bias, bias) + unknown
	out.Meter = units.Percent(off).TenthUp()
	out.Shown = rise > math.Hypot(off, sampling)
	x.sayRise(r, &out)
	r.Rise = out
}

// temperatureWritten reports whether every reading of the two days needs no guess of the wood's temperature.
func (x *index) temperatureWritten(load string, days ...time.Time) bool {
	s := x.job.Settings
	if s.MeterWoodTemp == Yes || s.Meter == DielectricMeter {
		return true
	}
	for _, r := range x.placedOf(load) {
		if slices.ContainsFunc(days, day(r.reading.Date).Equal) && !r.reading.WoodTemp.Known() {
			return false
		}
	}
	return true
}

// sayRise answers in numbers: what changed, what the meter alone explains, which air makes it, how long that takes.
func (x *index) sayRise(r *LoadResult, out *RiseResult) {
	say := func(name string, with ...any) { out.Says = append(out.Says, stated(name, with...)) }
	passed := int(out.LastDate.Sub(out.FirstDate).Hours() / 24)
	low, high := "", ""
	if out.Rise.Confidence > 0 {
		low, high = out.Rise.Low.String(), out.Rise.High.String()
	}
	say("rise-found", "first", out.First, "firstdate", dateOr(out.FirstDate), "last", out.Last, "lastdate", dateOr(out.LastDate), "rise", out.Rise.Value,
		"low", low, "high", high, "n", out.Boards, "same", out.Same)
	say("rise-meter", "meter", out.Meter, "shown", out.Shown, "rise", out.Rise.Value)
	stores := x.storesOf(r.Load)
	out.At = units.Fahrenheit(roomTemp)
	if len(stores) > 0 && stores[0].temp.Known() {
		out.At = stores[0].temp
	}
	if h, _, err := air.HumidityFor(out.Last, out.At); err == nil {
		out.Humidity = h
		damp := ""
		if d, _, err := air.HumidityFor(out.Last+units.Percent(1), out.At); err == nil {
			damp = whole(math.Round(d.Percent()))
		}
		say("rise-air", "last", out.Last, "humidity", whole(math.Round(h.Percent())), "temperature", x.job.Settings.System.Temperature(out.At), "damp", damp, "source", air.EMCSource())
		x.cite(air.EMCSource())
	}
	kept := []season.Kept{season.OpenShed, season.ClosedShed, season.Stickered}
	if k := season.KeptOf(x.job.Settings.Stored); k != season.KeptNotSaid {
		kept = []season.Kept{k}
	} else if len(stores) == 1 && stores[0].kept != season.KeptNotSaid {
		kept = []season.Kept{stores[0].kept}
	}
	for _, k := range kept {
		p := season.PaceOf(k)
		few, most := p.Days(out.Rise.Value)
		to := ""
		if most > 0 {
			to = strconv.Itoa(int(most))
		}
		say("rise-days", "about", p.About, "points", out.Rise.Value, "few", int(few), "most", to, "passed", passed, "source", p.Source)
		x.cite(p.Source)
	}
	for _, s := range stores {
		// The store's air leads at most to its own figure, half a point either way.
		can := s.emc+storeSlack >= out.Last
		say("rise-store", "where", s.where, "emc", s.emc, "last", out.Last, "can", can)
	}
	x.cite(source.Source{Document: "Wengert, columns on moisture meters; FOR-128", Place: "p. 31", Status: source.Seen})
}

// storeSlack is how far the sorption equation and printed tables lie apart (Mitchell 2018; seen).
const storeSlack = 50 * units.MC(1)
