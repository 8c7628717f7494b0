package compute

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"drytally/compute/lot"
	"drytally/compute/source"
	"drytally/compute/units"
)

// meterOff is what the meter of a load can be off as a whole, either way with 95 %, in points of MC. It is the same on every
// board, so that more boards don't make it smaller. Figures and sources at meterBias.
func (x *index) meterOff(species string) float64 {
	s := x.job.Settings
	switch {
	case s.Meter == DielectricMeter:
		return meterBiasPlate
	case s.MeterSpecies != Yes && !seenSpecies(species):
		return meterBiasNoSpecies
	}
	return meterBias
}

// meterOffSource is the source of what a meter can be off.
func meterOffSource() source.Source {
	return source.Source{Document: "Wengert, columns on moisture meters; FOR-128", Place: "p. 31", Status: source.Seen}
}

// z95 is the two-sided 95 % point of the normal distribution.
var z95 = math.Sqrt2 * math.Erfinv(confidence)

// measuredBoard is a measured board held against the limit: how far its reading lies under it, in points. Below 0: over it.
type measuredBoard struct {
	margin float64
	held   bool // over the limit and taken out of the load
}

// millionth is the unit of the weights of shifts.
const millionth = 1_000_000

// shiftsOf goes through what the meter may be off: for every number of boards that would then be over the limit, how likely
// it is. The error is normal with 95 % inside off, either way, and cut off there: more than that a meter is said to be off
// seldom.
func shiftsOf(boards []measuredBoard, off float64) []lot.Shift {
	sorted := slices.Clone(boards)
	slices.SortFunc(sorted, func(a, b measuredBoard) int {
		switch {
		case a.margin < b.margin:
			return -1
		case a.margin > b.margin:
			return 1
		}
		return 0
	})
	below := func(points float64) float64 {
		tail := (1 - confidence) / 2
		share := distuv.UnitNormal.CDF(max(-off, min(off, points)) / (off / z95))
		return max(0, min(1, (share-tail)/confidence))
	}
	var shifts []lot.Shift
	held, from := 0, 0.0
	for i := 0; i <= len(sorted); i++ {
		until := 1.0
		if i < len(sorted) {
			until = below(sorted[i].margin)
		}
		// Between the margin of the board before and this one's: i boards are over.
		if w := int64(math.Round(until*millionth)) - int64(math.Round(from*millionth)); w > 0 {
			shifts = append(shifts, lot.Shift{Weight: w, Over: i, Held: held})
		}
		if i < len(sorted) {
			from = until
			if sorted[i].held {
				held++
			}
		}
	}
	return shifts
}

// boundsOf gives the 95 % bounds on boards over the limit: by counting alone, of all N with the meter's own error, and of
// those that stay when the boards over are taken out. Neither bound is below what counting alone gives.
func boundsOf(n int, boards []measuredBoard, off float64) (counted, all, rest int) {
	over, held := 0, 0
	for _, b := range boards {
		if b.margin < 0 {
			over++
		}
		if b.held {
			held++
		}
	}
	counted, all, rest = n, n, n-held
	if c, err := lot.OverBound(n, len(boards), over, confidence); err == nil {
		counted = c
	}
	kept := make([]measuredBoard, len(boards))
	for i, b := range boards {
		kept[i] = measuredBoard{margin: b.margin}
	}
	if b, err := lot.OverBoundShifted(n, len(boards), 0, shiftsOf(kept, off), confidence); err == nil {
		all = max(counted, b)
	}
	if b, err := lot.OverBoundShifted(n, len(boards), held, shiftsOf(boards, off), confidence); err == nil {
		rest = max(counted-held, b)
	}
	return counted, all, rest
}

// furtherClear gives the least number of further boards that bring the bound of the boards that stay within room, when each
// of them reads at least off under the limit. ok is false when even all boards not yet measured would not do.
func furtherClear(n int, boards []measuredBoard, off float64, share float64) (more int, ok bool) {
	held, over := 0, 0
	for _, b := range boards {
		if b.held {
			held++
		}
		if b.margin < 0 {
			over++
		}
	}
	room := lot.Allowed(n-held, share)
	for more = 0; more <= n-len(boards); more++ {
		with := slices.Clone(boards)
		for range more {
			with = append(with, measuredBoard{margin: off})
		}
		if lot.Within(n, len(with), held, shiftsOf(with, off), room, confidence) && countedWithin(n, len(with), over, held, room) {
			return more, true
		}
	}
	return 0, false
}

func countedWithin(n, measured, over, held, room int) bool {
	bound, err := lot.OverBound(n, measured, over, confidence)
	return err == nil && bound-held <= room
}

// withMeter joins the range of sampling with what the meter itself can be off. Without a range of sampling there is none.
func withMeter(e units.Estimate, off float64) units.Estimate {
	if !e.Known || e.Confidence == 0 {
		return e
	}
	return widened(e, off)
}

// upperLimit gives the moisture content at or below which 95 % of the boards lie with 95 % confidence, the meter's own error
// counted, or the reason why it is left out. values are the highest readings of the boards; marks counts the boards that
// gave no number to reckon with.
func upperLimit(values []units.MC, marks int, off float64) (units.MC, Statement) {
	switch {
	case marks > 0:
		return 0, stated("limit-marks", "n", marks)
	case len(values) < 2:
		return 0, stated("limit-few", "n", len(values))
	}
	m, s, skew := momentsOf(values)
	if top := slices.Max(values); s > 0 && top.Percent() > m+outlying*s {
		return 0, stated("limit-outlying", "mc", top, "times", trim(outlying))
	}
	if len(values) >= skewBoards && math.Abs(skew) > mostSkew {
		return 0, stated("limit-skewed", "n", len(values))
	}
	limit, err := lot.UpperLimitShifted(values, coverage, confidence, units.Percent(off/z95))
	if err != nil {
		return 0, stated("limit-same")
	}
	return limit, Statement{}
}

// When readings are too far from a normal distribution for an upper limit. Source: lot statistics, general practice; this
// project's choice.
const (
	outlying   = 3.0 // standard deviations over the mean
	mostSkew   = 1.0
	skewBoards = 20
)

// momentsOf gives mean, standard deviation (with n - 1) and skewness.
func momentsOf(values []units.MC) (m, s, skew float64) {
	n := float64(len(values))
	for _, v := range values {
		m += v.Percent() / n
	}
	var two, three float64
	for _, v := range values {
		d := v.Percent() - m
		two += d * d
		three += d * d * d
	}
	s = math.Sqrt(two / math.Max(1, n-1))
	if two > 0 {
		skew = three / n / math.Pow(two/n, 1.5)
	}
	return m, s, skew
}

// meterNotes says how the meter's own error was counted, so that the bound can be redone by hand.
func (x *index) meterNotes(r *LoadResult, o *outcome) {
	if o.measured == 0 {
		return
	}
	if r.MeterOff < units.Percent(x.meterOff(first(r.Species))) {
		r.Notes = append(r.Notes, stated("meter-off-line", "off", r.MeterOff.Tenth()))
	} else {
		x.cite(meterOffSource())
		r.Notes = append(r.Notes, stated("meter-off", "off", r.MeterOff.Tenth(), "source", meterOffSource().String()))
	}
	if r.Band.Known && r.OverBound != r.Counted {
		half, full := 0, 0
		for _, b := range o.boards {
			if b.margin < r.MeterOff.Percent()/2 {
				half++
			}
			if b.margin < r.MeterOff.Percent() {
				full++
			}
		}
		r.Notes = append(r.Notes, stated("meter-off-bound", "counted", r.Counted, "bound", r.OverBound, "n", r.N,
			"halfoff", fmt.Sprint(trim(r.MeterOff.Percent()/2)), "half", half, "off", r.MeterOff.Tenth(), "full", full, "measured", o.measured, "limit", r.Band.High))
	}
	if r.NoLimit.Name != "" {
		r.Notes = append(r.Notes, r.NoLimit)
	}
}

// coverVariants makes what is said of a load hold for every variant: what the sheet leaves open (the temperature of wood that
// was not measured, the species setting) widens the ranges. The values stay those of the first variant.
func coverVariants(r *LoadResult, outcomes []outcome) {
	for i, o := range outcomes[1:] {
		r.OverBound, r.RestBound, r.Counted = max(r.OverBound, o.overBound), max(r.RestBound, o.restBound), max(r.Counted, o.counted)
		cover(&r.Mean, o.mean)
		cover(&r.Sampling, o.sampling)
		cover(&r.MeanRest, o.meanRest)
		if r.Tolerance != 0 && o.tolerance == 0 {
			r.Tolerance, r.NoLimit = 0, outcomes[i+1].noLimit
		}
		if r.Tolerance != 0 {
			r.Tolerance = max(r.Tolerance, o.tolerance)
		}
	}
}

func cover(e *units.Estimate, other units.Estimate) {
	if e.Known && other.Known && e.Confidence != 0 && other.Confidence != 0 {
		e.Low, e.High = min(e.Low, other.Low), max(e.High, other.High)
	}
}
