package compute

import (
	"math"
	"slices"

	"drytally/compute/calibrate"
	"drytally/compute/units"
)

// fitMeter computes difference and line of a comparison, and settles whether the line may be used.
func (x *index) fitMeter(c *comparison) {
	r := &c.result
	variants := x.allVariants()
	if len(variants) == 0 {
		return
	}
	pairs := x.numbers(c, variants[0])
	for i, p := range c.pairs {
		if len(pairs) != len(c.pairs) {
			break // a reading that could not be corrected: its finding stands with the readings
		}
		b := x.out.Boards[p.day.board].Board
		r.Pairs = append(r.Pairs, MeterPair{Load: b.Load, Board: b.ID, Date: p.day.day, Shown: units.PercentTenth(pairs[i].X), Against: units.PercentTenth(pairs[i].Y)})
	}
	d, err := calibrate.Differences(pairs, confidence)
	if err != nil {
		return
	}
	r.Difference = d.Estimate()
	r.Spread = units.PercentTenth(d.Spread)
	c.lines = map[variant]calibrate.Line{}
	c.usable = true
	for _, v := range variants {
		l, err := calibrate.Fit(x.numbers(c, v), 0)
		if err != nil {
			c.usable = false
			return
		}
		c.lines[v] = l
		c.usable = c.usable && goodLine(l)
	}
	l := c.lines[variants[0]]
	r.Line = MeterLine{Known: true, Intercept: l.Intercept, Slope: l.Slope, USlope: l.USlope, Residual: l.Residual, Low: units.PercentTenth(l.LowX), High: units.PercentTenth(l.HighX)}
	for _, at := range []float64{l.LowX, l.LowX + middleOfRange*(l.HighX-l.LowX), l.HighX} {
		low, high, err := l.Predict(at, confidence)
		if err != nil {
			continue
		}
		r.Line.At = append(r.Line.At, LinePoint{Shown: units.PercentTenth(at), MC: units.PercentTenth(l.At(at)), Low: units.Percent(low).TenthDown(), High: units.Percent(high).TenthUp()})
	}
}

// goodLine reports whether a line may correct readings.
func goodLine(l calibrate.Line) bool {
	if l.N < leastPairs || l.Residual > mostResidual {
		return false
	}
	low, high := slopeRange(l)
	return low >= leastSlope && high <= mostSlope
}

// slopeRange gives the 95 % range of a slope: a line through the same points moved so that Predict without residual is it.
func slopeRange(l calibrate.Line) (low, high float64) {
	half := calibrate.Student(confidence, l.N-2) * l.USlope
	return l.Slope - half, l.Slope + half
}

// byLine corrects a moisture content by a line. Beyond the lowest and the highest pair the correction of that pair is kept: a
// line is not known where there was nothing to lay it through.
func byLine(l calibrate.Line, mc float64) float64 {
	end := min(max(mc, l.LowX), l.HighX)
	return math.Max(0, mc+l.At(end)-end)
}

// applyLines corrects the boards of every load: by the line of the meter that read them against the oven, or of a second
// meter against the main one and then of that against the oven.
func (x *index) applyLines(all []*comparison) {
	for _, load := range sortedKeys(x.measured) {
		m := x.measured[load]
		touched := map[int]bool{}
		off, oven := 0.0, true
		for vi, v := range m.variants {
			for at, b := range m.boards[vi] {
				chain := x.linesFor(all, at)
				if len(chain) == 0 {
					continue
				}
				b.Uncalibrated = b.MC
				mean := m.means[vi][at]
				if _, other := x.otherMeter[at]; other && b.Reading.MC != 0 {
					b.MC = b.Reading.MC // its line was laid through what it showed
					mean.MC = b.Reading.MC
				}
				for _, c := range chain {
					b.MC = roundState(b.State, byLine(c.lines[v], b.MC.Percent()))
					mean.MC = roundState(mean.State, byLine(c.lines[v], mean.MC.Percent()))
					c.result.Used = true
					if vi == 0 {
						c.result.Boards++
					}
				}
				b.Low, b.High = b.MC, b.MC
				m.boards[vi][at], m.means[vi][at] = b, mean
				touched[at] = true
				off, oven = math.Max(off, lineOff(chain[0].lines[v])), oven && len(chain) == 1 && chain[0].oven
			}
		}
		if oven && len(touched) > 0 && len(touched) == len(m.boards[0]) {
			m.off = off // every board was read with a meter that was checked against the oven
		}
		for at := range touched {
			x.out.Boards[at].MC = m.ofAll(at)
		}
	}
}

// linesFor gives the comparisons that correct a board's reading, in order: that of the meter that read it against the oven, else
// that of a second meter against the main one and then of that against the oven.
func (x *index) linesFor(all []*comparison, at int) []*comparison {
	species := key(x.out.Boards[at].Species.Name)
	usable := func(meter string, oven bool) []*comparison {
		i := slices.IndexFunc(all, func(c *comparison) bool {
			return c.meter == meter && c.species == species && c.oven == oven && c.usable
		})
		if i < 0 {
			return nil
		}
		return all[i : i+1]
	}
	meter, other := x.otherMeter[at]
	if !other {
		return usable(x.mainMeterKey, true)
	}
	if oven := usable(meter, true); oven != nil {
		return oven
	}
	if main := usable(meter, false); main != nil {
		return slices.Concat(main, usable(x.mainMeterKey, true))
	}
	return nil
}

// lineOff is what a meter can still be off as a whole once its readings are corrected by a line: the line's own uncertainty
// with 95 %, where it is known worst.
func lineOff(l calibrate.Line) float64 {
	return calibrate.Student(confidence, l.N-2) * math.Max(l.Uncertainty(l.LowX), l.Uncertainty(l.HighX))
}

// roundState rounds a corrected figure once: a number to the nearest tenth, a limit outward.
func roundState(s units.ReadingState, percent float64) units.MC {
	switch s {
	case units.BelowRange:
		return units.Percent(percent).TenthUp()
	case units.AboveRange:
		return units.Percent(percent).TenthDown()
	}
	return units.PercentTenth(percent)
}
