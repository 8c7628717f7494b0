package season

import (
	"fmt"
	"math"

	"drytally/compute/units"
)

// airTolerance is how far the sorption equation and the printed tables of kiln operators lie apart: half a point
// (Mitchell 2018; seen). The air of a store is known no better than that.
const airTolerance = 0.5

// shortOfAir is how far below the air's figure wood settles that takes moisture up (Wengert 2014; seen).
const shortOfAir = 1.0

// month is the days of a month of the printed paces.
const month = 30.0

// Forecast is what the air of a store makes of boards, as a range.
type Forecast struct {
	From units.MC // at day 0
	Air  units.MC // equilibrium moisture content of the store
	Pace Pace
	// The moisture contents the low and the high end of the range lead to in the end, to the tenth.
	EndLow, EndHigh units.MC
	ends            [2]float64
}

// Regain forecasts boards at moisture content from in air that leads wood to air, kept as k. It is called regain, but a dry store
// takes moisture away by the same paces; for that direction nothing is printed (this project's choice).
//
// from and air are 0..30 %; outside those the error names the range.
//
// Source: paces see PaceOf. The fast end is a straight line to the air, the slow end falls off as the boards come near it
// (exponential, beginning at the printed pace), so that both begin as printed and neither goes beyond the air. The air is
// taken half a point either way; wood taking up moisture may stop one point short. Derived.
func Regain(from, air units.MC, k Kept) (Forecast, error) {
	for _, m := range []units.MC{from, air} {
		if m < 0 || m > units.Percent(30) {
			return Forecast{}, fmt.Errorf("the moisture content %s is outside 0 to 30 %%", m)
		}
	}
	f := Forecast{From: from, Air: air, Pace: PaceOf(k)}
	m, e := from.Percent(), air.Percent()
	low := math.Max(0, e-airTolerance)
	if m < e {
		low = math.Max(e-shortOfAir-airTolerance, math.Min(m, e-airTolerance)) // wood between the two may stay where it is
	}
	f.ends = [2]float64{low, e + airTolerance}
	if f.Pace.slow == 0 && f.Pace.slowest == 0 { // at the slow end nothing happens at all
		f.ends = [2]float64{math.Min(m, low), math.Max(m, e+airTolerance)}
	}
	f.EndLow, f.EndHigh = units.Percent(f.ends[0]).TenthDown(), units.Percent(f.ends[1]).TenthUp()
	return f, nil
}

// At returns the range after so many days (0 or more), to the tenth, outward.
func (f Forecast) At(days float64) (low, high units.MC) {
	days = math.Max(0, days)
	m := f.From.Percent()
	lo, hi := f.ends[0], f.ends[1]
	// Toward an end above the start the fast path makes the high end of the range, toward one below it the low end.
	a := f.slow(m, lo, days)
	if lo < m {
		a = f.fast(m, lo, days)
	}
	b := f.slow(m, hi, days)
	if hi > m {
		b = f.fast(m, hi, days)
	}
	return units.Percent(a + dust).TenthDown(), units.Percent(b - dust).TenthUp()
}

// dust keeps binary rounding from pushing a limit that is a whole tenth one further.
const dust = 1e-9

// fast goes straight to the end at the fast pace.
func (f Forecast) fast(from, to, days float64) float64 {
	p := f.Pace
	far := math.Abs(to - from)
	var gone float64
	switch {
	case p.fastest > 0:
		gone = far * math.Min(1, days/p.fastest)
	case days <= p.days:
		gone = p.first * days / month
	default:
		gone = (p.first*p.days + p.then*(days-p.days)) / month
	}
	return toward(from, to, math.Min(far, gone))
}

// slow begins at the slow pace and falls off near the end.
func (f Forecast) slow(from, to, days float64) float64 {
	p := f.Pace
	far := math.Abs(to - from)
	switch {
	case far == 0:
		return from
	case p.slowest > 0:
		return toward(from, to, far*math.Min(1, days/p.slowest))
	}
	return toward(from, to, far*(1-math.Exp(-p.slow*days/month/far)))
}

func toward(from, to, by float64) float64 {
	if to < from {
		return from - by
	}
	return from + by
}

// longest is how far ahead a forecast is asked: two years.
const longest = 730

// Leaves returns the last whole day on which the whole range still lies inside low..high, and whether it ever leaves within two
// years. A low of 0 is no bound. The moisture content at the start must lie inside; else day 0 is returned.
func (f Forecast) Leaves(low, high units.MC) (day int, leaves bool) {
	for d := 0; d <= longest; d++ {
		a, b := f.At(float64(d))
		if low != 0 && a < low || high != 0 && b > high {
			return max(0, d-1), true
		}
	}
	return longest, false
}

// Days returns how many days a change by so many points (either way) takes at the printed paces alone, whatever the air: the
// fewest and the most. most is 0 when no end can be given. On stickers the days are those to the air of the room.
func (p Pace) Days(points units.MC) (fewest, most float64) {
	x := math.Abs(points.Percent())
	if p.fastest > 0 {
		fewest, most = p.fastest, p.slowest
	} else {
		if first := p.first * p.days / month; x <= first || p.then == 0 {
			fewest = x / p.first * month
		} else {
			fewest = p.days + (x-first)/p.then*month
		}
		if p.slow > 0 {
			most = x / p.slow * month
		}
	}
	return math.Ceil(fewest - dust), math.Ceil(most - dust)
}
