// Package haul tells about what wood weighs and how many trips a trailer makes with it. It knows the wood alone: stickers,
// straps, water on the boards and the trailer itself come on top.
package haul

import (
	"errors"
	"fmt"

	"drytally/compute/footage"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// Range is a weight that is known about: nothing says more than that it lies between Low and High. The zero value is "not known".
type Range struct{ Low, About, High units.Mass }

// Known reports whether there is a weight.
func (r Range) Known() bool { return r.High > 0 }

// Add gives the range of both.
func (r Range) Add(s Range) Range { return Range{r.Low + s.Low, r.About + s.About, r.High + s.High} }

// Outward rounds the ends outward to whole steps, and the middle to the nearest: what is printed is what is compared.
func (r Range) Outward(step units.Mass) Range {
	if step <= 0 || !r.Known() {
		return r
	}
	return Range{r.Low / step * step, (r.About + step/2) / step * step, (r.High + step - 1) / step * step}
}

// How far a weight may be from the table's, as shares.
const (
	dryShare   = 0.10 // specific gravity within a wood
	greenShare = 0.20 // gravity and green moisture together
)

// SpreadSource names where the shares come from.
func SpreadSource() source.Source {
	return source.Source{Document: "spread of weights: 10 % dry, 20 % green", Status: source.Memory}
}

// ErrNoGreen says that the table has no green moisture content for the wood.
var ErrNoGreen = errors.New("no green moisture content in the table")

// driest is the driest that wood for indoors is made, percent: the low end where nothing is known of the moisture.
const driest = 6.0

// Green gives about what boards weigh green: v is their green volume. About is at the table's mean, else between its heartwood
// and its sapwood. The ends are 20 % off it, or 10 % off the weight of all heartwood and all sapwood where those lie further
// apart. The errors are footage.ErrNoGravity and ErrNoGreen.
//
// Source: weight by footage.Weight; the shares: SpreadSource.
func Green(v footage.Solid, s wood.Species) (Range, error) {
	low, mean, high := greenMC(s)
	if mean == 0 {
		return Range{}, fmt.Errorf("%s: %w", s.Name, ErrNoGreen)
	}
	about, err := footage.Weight(v, s, units.Percent(mean))
	if err != nil {
		return Range{}, err
	}
	r := Range{share(about, 1-greenShare), about, share(about, 1+greenShare)}
	for _, mc := range []float64{low, high} {
		m, err := footage.Weight(v, s, units.Percent(mc))
		if err != nil {
			return Range{}, err
		}
		r.Low, r.High = min(r.Low, share(m, 1-dryShare)), max(r.High, share(m, 1+dryShare))
	}
	return r, nil
}

// greenMC gives the table's green moisture contents of a wood: the lowest, the mean, the highest; 0 when it has none.
func greenMC(s wood.Species) (low, mean, high float64) {
	for _, x := range []float64{s.GreenHeart, s.GreenSap, s.GreenMean} {
		if x > 0 {
			if low == 0 || x < low {
				low = x
			}
			high = max(high, x)
		}
	}
	if mean = s.GreenMean; mean == 0 {
		mean = (low + high) / 2
	}
	return low, mean, high
}

// GreenMean gives the table's mean green moisture content as it is used here, to the tenth; 0 when it has none.
func GreenMean(s wood.Species) units.MC {
	_, mean, _ := greenMC(s)
	return units.PercentTenth(mean)
}

// Dried gives about what boards of a green volume weigh once dried to m: their ovendry wood is that of the green volume, and
// does not change. The ends are 10 % off. The error is footage.ErrNoGravity or names the range of m.
//
// Source: definition of specific gravity and moisture content; the share: SpreadSource.
func Dried(green footage.Solid, s wood.Species, m units.MC) (Range, error) {
	wet := units.Percent(max(100, s.Fiber)) // any moisture above fiber saturation, where the volume is the green one
	at, err := footage.Weight(green, s, wet)
	if err != nil {
		return Range{}, err
	}
	if m < 0 || m > units.Percent(300) {
		return Range{}, fmt.Errorf("the moisture content %s is outside 0 to 300 %%", m)
	}
	return within(share(at, (100+m.Percent())/(100+wet.Percent()))), nil
}

// Measured gives about what boards weigh whose volume was measured at m: the ends are 10 % off.
//
// Source: footage.Weight, Wood Handbook equation 4-13; the share: SpreadSource.
func Measured(v footage.Solid, s wood.Species, m units.MC) (Range, error) {
	at, err := footage.Weight(v, s, m)
	if err != nil {
		return Range{}, err
	}
	return within(at), nil
}

// Unknown gives the weight of boards of whose moisture nothing is known: from dry at 6 % to green. Without a green moisture
// content in the table the high end can't be given, and the error is ErrNoGreen.
func Unknown(v footage.Solid, s wood.Species) (Range, error) {
	dry, err := Measured(v, s, units.Percent(driest))
	if err != nil {
		return Range{}, err
	}
	green, err := Green(v, s)
	if err != nil {
		return Range{}, err
	}
	return Range{dry.Low, (dry.About + green.About) / 2, green.High}, nil
}

func within(m units.Mass) Range { return Range{share(m, 1-dryShare), m, share(m, 1+dryShare)} }

func share(m units.Mass, x float64) units.Mass { return units.Grams(m.Grams() * x) }

// ErrTooHeavy says that a single board weighs more than the trailer is rated for.
var ErrTooHeavy = errors.New("one board alone is over the rated load")

// Trips gives how many boards go on each trip, laid on in the order given until the next one would be over the rated load. The
// error is ErrTooHeavy.
func Trips(boards []units.Mass, rated units.Mass) ([]int, error) {
	var trips []int
	on := units.Mass(0)
	for _, b := range boards {
		if b > rated {
			return nil, ErrTooHeavy
		}
		if len(trips) == 0 || on+b > rated {
			trips, on = append(trips, 0), 0
		}
		trips[len(trips)-1]++
		on += b
	}
	return trips, nil
}
