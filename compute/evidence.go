package compute

import (
	"math"

	"drytally/compute/lot"
	"drytally/compute/units"
)

// evidence counts and fits the readings of a load under one variant.
func (x *index) evidence(r *LoadResult, m *measurement, variant int) outcome {
	var o outcome
	var all, rest []units.Reading
	var numbers []units.MC
	marks := 0
	off := r.MeterOff.Percent()
	for _, at := range r.Boards {
		b, ok := m.boards[variant][at]
		if !ok || b.State == units.NotTaken {
			continue
		}
		o.measured++
		reading := m.means[variant][at]
		if b.State == units.Number && reading.State == units.Number {
			numbers = append(numbers, b.MC)
		} else {
			marks++
		}
		switch b.State {
		case units.BelowRange:
			o.below++
		case units.AboveRange:
			o.above++
		}
		all = append(all, reading)
		over := false
		if r.Band.Known {
			var settled bool
			one := measuredBoard{margin: (r.Band.High - b.MC).Percent()}
			if over, settled = overLimit(b, r.Band.High); over {
				o.over = append(o.over, at)
				one.held = true
				// A board at its limit's mark is over it, whatever its number.
				one.margin = min(one.margin, -0.01)
			} else if !settled {
				o.unsettled++
				one.margin = math.Inf(-1) // it may be over, however far
			}
			o.boards, o.at = append(o.boards, one), append(o.at, at)
			if r.Band.Low != 0 && underBand(b, r.Band.Low) {
				o.under = append(o.under, at)
			}
		}
		if !over {
			rest = append(rest, reading)
		}
	}
	o.restN = r.N - len(o.over)
	o.sampling, o.spread = meanOf(all, r.N)
	o.mean, o.meanRest = withMeter(o.sampling, off), withMeter(o.sampling, off)
	if len(rest) < len(all) {
		o.meanRest, _ = meanOf(rest, o.restN)
		o.meanRest = withMeter(o.meanRest, off)
	}
	o.tolerance, o.noLimit = upperLimit(numbers, marks, off)
	if o.measured > 0 {
		o.overBound, o.restBound, o.counted = r.N, o.restN, r.N
		if r.Band.Known {
			o.counted, o.overBound, o.restBound = boundsOf(r.N, o.boards, off)
		}
		o.allowed = lot.Allowed(o.restN, x.job.Settings.AllowedShare)
	}
	return o
}

// coverage is the share of boards an upper tolerance limit is given for.
const coverage = 0.95

// meanOf gives mean and spread of a load's boards: of numbers alone the t interval narrowed for a load of n boards, with
// marks below or above the meter's range the censored fit, which does not narrow and so is on the safe side.
func meanOf(readings []units.Reading, n int) (units.Estimate, units.MC) {
	var numbers []units.MC
	for _, r := range readings {
		if r.State == units.Number {
			numbers = append(numbers, r.MC)
		}
	}
	if len(readings) == 0 {
		return units.Estimate{}, 0
	}
	if len(numbers) == len(readings) {
		s, err := lot.MeanOf(numbers, n, confidence)
		if err != nil {
			return units.Estimate{}, 0
		}
		return s.Mean, s.SD.Tenth()
	}
	fit, err := lot.FitMean(readings, confidence)
	if err != nil {
		return units.Estimate{}, 0
	}
	return fit.Mean, fit.Spread.Tenth()
}

// cleanNeeded gives the least number of further boards that would settle the bound if none of them is over the limit; the
// boards found over it are taken out. 0 when no number would do.
func (x *index) cleanNeeded(n, measured, over int) int {
	more := lot.FurtherClean(n, measured, over, over, x.job.Settings.AllowedShare, confidence)
	if more < 0 || more > n-measured {
		return 0
	}
	return more
}
