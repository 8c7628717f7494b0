package yearbook

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"drytally/compute/units"
)

// KilnTime is how many days loads of one wood and green thickness stayed in the kiln until they were found dry for their use.
type KilnTime struct {
	Species           string
	Thickness         units.Length // green; 0: not known
	Low, Middle, High int          // days; Middle is the median, rounded up
	N                 int          // loads
	From, To          units.MC     // mean start and end, where known
	FromN, ToN        int
}

// kilnTimes gathers the loads that went in on a known day, came out on another, and were found dry.
func (j *join) kilnTimes() {
	type key struct {
		species   string
		thickness units.Length
	}
	groups := map[key][]*load{}
	for _, l := range j.loads {
		if l.Days > 0 && l.Dry() && len(l.Load.Species) == 1 {
			k := key{l.Load.Species[0], l.Thickness}
			groups[k] = append(groups[k], l)
		}
	}
	for k, loads := range groups {
		t := KilnTime{Species: k.species, Thickness: k.thickness, N: len(loads)}
		var days []int
		var from, to []float64
		for _, l := range loads {
			days = append(days, l.Days)
			if l.Start.By == "weights" {
				from = append(from, l.Start.MC.Percent())
			}
			if l.End.By != "" {
				to = append(to, l.End.MC.Percent())
			}
		}
		slices.Sort(days)
		n := len(days)
		t.Low, t.High, t.Middle = days[0], days[n-1], (days[(n-1)/2]+days[n/2]+1)/2
		if t.FromN, t.ToN = len(from), len(to); t.FromN > 0 {
			t.From = units.PercentTenth(stat.Mean(from, nil))
		}
		if t.ToN > 0 {
			t.To = units.PercentTenth(stat.Mean(to, nil))
		}
		j.book.Times = append(j.book.Times, t)
	}
	slices.SortFunc(j.book.Times, func(a, b KilnTime) int {
		return cmp.Or(strings.Compare(a.Species, b.Species), cmp.Compare(a.Thickness, b.Thickness))
	})
}

// SawSpread is the spread of the saw from the green thickness of boards, one figure a board: the standard deviation about the
// mean of their load, for boards sawn to one setting.
type SawSpread struct {
	Known     bool
	Value     units.Length // to the thousandth of an inch, or the hundredth of a millimetre
	Low, High units.Length // 95 %, outward
	N, Loads  int          // boards, and loads they come from
	Set       units.Length // what the settings of the last week say
}

// A spread of the saw needs so many boards, of so many different sizes: where every board has the same figure it is the setting
// that was written down, not the board. Boards further than sawnWithin from the setting were sawn to another. This project's
// choices.
const (
	spreadBoards = 30
	spreadSizes  = 4
	sawnWithin   = units.Inch / 8
)

// sawSpread pools the deviations of green thickness from the mean of each load.
//
// Source: pooled standard deviation and its chi-squared range, textbook (memory); one reading a board gives the total spread of
// EM 8731 (2000), p. 22.
func (j *join) sawSpread() {
	s := &j.book.Spread
	s.Set = j.book.Settings.SawSpread
	if n := len(j.weeks); n > 0 {
		s.Set = j.weeks[n-1].Spread.Used
	}
	sum, freedom := 0.0, 0
	sizes := map[units.Length]bool{}
	for at, l := range j.loads {
		var xs []float64
		for _, b := range j.boards {
			g := b.green
			if b.key.load == at && g > 0 && l.Thickness > 0 && max(g-l.Thickness, l.Thickness-g) <= sawnWithin {
				xs = append(xs, float64(g))
				sizes[g] = true
			}
		}
		if len(xs) < 2 {
			continue
		}
		_, variance := stat.MeanVariance(xs, nil)
		sum += variance * float64(len(xs)-1)
		freedom += len(xs) - 1
		s.N += len(xs)
		s.Loads++
	}
	if s.N < spreadBoards || len(sizes) < spreadSizes || sum == 0 {
		return
	}
	f := float64(freedom)
	end := func(p float64) float64 {
		return math.Sqrt(sum / distuv.ChiSquared{K: f}.Quantile(p))
	}
	step := units.Inch / 1000
	if j.book.Settings.System == units.Metric {
		step = units.Millimetre / 100
	}
	s.Known = true
	s.Value = units.Length(math.Round(math.Sqrt(sum/f)/float64(step))) * step
	s.Low = units.Length(end((1+confidence)/2)) / step * step
	s.High = units.Length(math.Ceil(end((1-confidence)/2)/float64(step))) * step
}
