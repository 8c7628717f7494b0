package footage

import (
	"errors"
	"fmt"
	"math/big"

	"drytally/compute/units"
	"drytally/compute/wood"
)

// Solid is an exact volume of wood of measured sizes. It never comes from nominal sizes or from board feet. The zero
// value is none.
type Solid struct{ exact *big.Int } // cubic nanometres

// SolidOf returns the volume of like boards of measured sizes. Sizes must be above 0; the error names what is out of range.
func SolidOf(p Piece) (Solid, error) {
	if err := p.check(); err != nil {
		return Solid{}, err
	}
	v := product(p.Thickness, p.Width, p.Length)
	return Solid{v.Mul(v, big.NewInt(int64(p.Count)))}, nil
}

func (v Solid) cubic() *big.Int {
	if v.exact == nil {
		return new(big.Int)
	}
	return v.exact
}

// Add returns the exact sum.
func (v Solid) Add(w Solid) Solid { return Solid{new(big.Int).Add(v.cubic(), w.cubic())} }

// Less returns the exact difference. It can be below 0.
func (v Solid) Less(w Solid) Solid { return Solid{new(big.Int).Sub(v.cubic(), w.cubic())} }

// Part returns the n-th part, n above 0; what is left over of a cubic nanometre is dropped.
func (v Solid) Part(n int) Solid { return Solid{new(big.Int).Quo(v.cubic(), big.NewInt(int64(n)))} }

// CubicCentimetres returns the volume rounded once to the nearest cubic centimetre, exact halves up.
func (v Solid) CubicCentimetres() int64 {
	x := new(big.Rat).SetFrac(v.cubic(), cubicMetre)
	return nearest(x.Mul(x, big.NewRat(1_000_000, 1)))
}

// cubicMetre in cubic nanometres.
var cubicMetre = product(units.Metre, units.Metre, units.Metre)

// CubicMetres returns the volume in cubic metres, to the nearest float.
func (v Solid) CubicMetres() float64 {
	x, _ := new(big.Rat).SetFrac(v.cubic(), cubicMetre).Float64()
	return x
}

// Thousandths returns thousandths of a cubic metre, rounded once to the nearest, exact halves up.
func (v Solid) Thousandths() int64 {
	x := new(big.Rat).SetFrac(v.cubic(), cubicMetre)
	return nearest(x.Mul(x, big.NewRat(1000, 1)))
}

// ErrNoGravity says that the table has no specific gravity for the wood.
var ErrNoGravity = errors.New("no specific gravity in the table")

// water is the density of water that specific gravity refers to, kg/m3; 62.4 lb/ft3 as the handbooks round it.
const water = 1000

// GravityAt returns the specific gravity on ovendry mass and the volume at m: G / (1 - 0.265 G (1 - m/F)) below the fiber
// saturation point F, the basic gravity G above it. m is 0..300 %. The error is ErrNoGravity, or names the range.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-13; seen.
// Known disagreement: willow oak's printed figures (0.56 green, 0.69 at 12 %) are too far apart for it.
func GravityAt(s wood.Species, m units.MC) (float64, error) {
	switch {
	case s.BasicGravity == 0:
		return 0, fmt.Errorf("%s: %w", s.Name, ErrNoGravity)
	case m < 0 || m > units.Percent(300):
		return 0, fmt.Errorf("the moisture content %s is outside 0 to 300 %%", m)
	case m.Percent() >= s.Fiber:
		return s.BasicGravity, nil
	}
	return s.BasicGravity / (1 - 0.265*s.BasicGravity*(1-m.Percent()/s.Fiber)), nil // Wood Handbook 4-13
}

// Weight returns about what boards of the wood weigh: v is their volume as measured at m. Gravity varies by about 10 %
// within a wood and green moisture far more, so the figure is to be printed as "about". The error is ErrNoGravity, or names
// the range of m.
//
// Source: definition of specific gravity and of moisture content; gravity by GravityAt. Published check: TestLoadWeights.
func Weight(v Solid, s wood.Species, m units.MC) (units.Mass, error) {
	g, err := GravityAt(s, m)
	if err != nil {
		return 0, err
	}
	return units.Grams(1000 * v.CubicMetres() * water * g * (1 + m.Percent()/100)), nil
}
