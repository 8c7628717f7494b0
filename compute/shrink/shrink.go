// Package shrink computes how much a board shrinks from green to a moisture content, how it moves in service, and what
// its shrinkage says of its moisture content.
package shrink

import (
	"errors"
	"fmt"
	"math"

	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// Kind is a kind of sawing. The zero value, Mixed, is also what is computed when nothing is said.
type Kind uint8

// The kinds of sawing.
const (
	Mixed   Kind = iota // every ring direction between flat and quarter, or not known
	Flat                // rings along the wide face
	Quarter             // rings across the wide face
	Angle               // Degrees says
)

// Sawing is how the rings lie in a board.
type Sawing struct {
	Kind    Kind
	Degrees float64 // Angle only: between the rings and the wide face, 0 flat .. 90 quarter
}

// Dimension is a dimension of a board across the grain.
type Dimension uint8

// The two dimensions. Lengthwise shrinkage is 0.1 to 0.2 % and left out (Wood Handbook FPL-GTR-190 (2010), p. 4-5; seen).
const (
	Thickness Dimension = iota
	Width
)

// String gives the word.
func (d Dimension) String() string { return [...]string{"thickness", "width"}[d] }

// Direction is the shrinkage from green to ovendry along one dimension of a board.
type Direction struct {
	Share float64 // of the green size, 0 < Share < 0.3
	// Low and High are the ends Share lies in the middle of when the sawing is mixed or not known; else both are Share.
	Low, High float64
	Fiber     float64 // fiber saturation point in percent: no shrinkage above it
	Source    source.Source
}

// ErrNoShrinkage says that the table has no shrinkage figure for the wood in a direction that is needed.
var ErrNoShrinkage = errors.New("no shrinkage figure in the table")

// Across returns the shrinkage of a wood along a dimension of a board sawn so.
//
// A flat-sawn board shrinks tangentially in width and radially in thickness, a quarter-sawn one the other way round. At
// ring angle a the width shrinks by T cos2 a + R sin2 a (rotation of small strains). Mixed sawing takes the middle of the
// two with the two as its range. The error is ErrNoShrinkage when a figure that is needed is not in the table (it is never
// taken as 0), or names the range of the angle.
//
// Source: Wood Handbook FPL-GTR-190 (2010), p. 13-18, and Wengert's columns for the directions; seen. The rotation is derived.
// Known disagreement: real boards are seldom perfectly flat or quarter sawn, so the pure figures overstate the width of
// flat-sawn boards and understate their thickness (same page; seen).
func Across(s wood.Species, d Dimension, saw Sawing) (Direction, error) {
	out := Direction{Fiber: s.Fiber, Source: s.ShrinkageSource}
	// The angle of the rings to the dimension's own "flat" position: thickness is the width turned by 90 degrees.
	tangential, radial := 0.0, 0.0 // weights
	switch saw.Kind {
	case Mixed:
		tangential, radial = 0.5, 0.5
	case Flat, Quarter:
		if (saw.Kind == Flat) == (d == Width) {
			tangential = 1
		} else {
			radial = 1
		}
	case Angle:
		if !(saw.Degrees >= 0 && saw.Degrees <= 90) {
			return out, fmt.Errorf("the ring angle %g is outside 0 to 90 degrees", saw.Degrees)
		}
		sin := math.Sin(saw.Degrees * math.Pi / 180)
		radial = sin * sin
		if d == Thickness {
			radial = 1 - radial
		}
		tangential = 1 - radial
	default:
		return out, fmt.Errorf("sawing kind %d is unknown", saw.Kind)
	}
	if tangential > 0 && s.Tangential == 0 {
		return out, fmt.Errorf("%s, tangential: %w", s.Name, ErrNoShrinkage)
	}
	if radial > 0 && s.Radial == 0 {
		return out, fmt.Errorf("%s, radial: %w", s.Name, ErrNoShrinkage)
	}
	out.Share = tangential*s.Tangential + radial*s.Radial
	out.Low, out.High = out.Share, out.Share
	if saw.Kind == Mixed {
		out.Low, out.High = min(s.Radial, s.Tangential), max(s.Radial, s.Tangential)
	}
	return out, out.check()
}

// check refuses a direction that no wood has.
func (d Direction) check() error {
	switch {
	case !(d.Share > 0 && d.Share < 0.3):
		return fmt.Errorf("the shrinkage %g is outside 0 to 0.3 of the green size: %w", d.Share, ErrNoShrinkage)
	case !(d.Fiber >= 20 && d.Fiber <= 35):
		return fmt.Errorf("the fiber saturation point %g is outside 20 to 35 %%", d.Fiber)
	}
	return nil
}

// at gives the shrinkage to m percent for a shrinkage to ovendry of s0.
func (d Direction) at(s0, m float64) float64 {
	if m >= d.Fiber {
		return 0
	}
	return s0 * (d.Fiber - m) / d.Fiber // Wood Handbook 4-9
}

// mcRange are the moisture contents a board can have. Green boards reach 250 %.
const mcRange = "0 to 300 %"

func checkMC(m units.MC) error {
	if m < 0 || m > units.Percent(300) {
		return fmt.Errorf("the moisture content %s is outside %s", m, mcRange)
	}
	return nil
}

// To returns the shrinkage from green to m as a share of the green size.
//
// m is 0..300 %. At and above the fiber saturation point the shrinkage is 0.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-9; seen. It assumes a straight line and averages of small clear pieces.
func (d Direction) To(m units.MC) (float64, error) {
	if err := errors.Join(d.check(), checkMC(m)); err != nil {
		return 0, err
	}
	return d.at(d.Share, m.Percent()), nil
}

// checkSize refuses sizes that are not given or no board has.
func checkSize(l units.Length) error {
	if l <= 0 || l > 100*units.Metre {
		return fmt.Errorf("the size %s is not above 0 and at most 100 m", l)
	}
	return nil
}

// Dry returns the size at m of a board that was green (at or above the fiber saturation point), to the nanometre.
//
// green is above 0 and at most 100 m, m is 0..300 %; outside those the error names the range.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-9; seen.
func Dry(green units.Length, d Direction, m units.MC) (units.Length, error) {
	s, err := d.To(m)
	if err := errors.Join(err, checkSize(green)); err != nil {
		return 0, err
	}
	return nanometre(float64(green) * (1 - s)), nil // 4-9
}

// Green returns the green size that dries to the size dry at m, to the nanometre: dry / (1 - S), never dry (1 + S),
// because S is a share of the green size.
//
// dry is above 0 and at most 100 m, m is 0..300 %; outside those the error names the range.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-9; seen.
func Green(dry units.Length, d Direction, m units.MC) (units.Length, error) {
	s, err := d.To(m)
	if err := errors.Join(err, checkSize(dry)); err != nil {
		return 0, err
	}
	return nanometre(float64(dry) / (1 - s)), nil // 4-9 solved for the green size
}

// Between returns the size at moisture content to of a board that has the size at moisture content from. Above the fiber
// saturation point a board is as large as green.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-9 used twice; the same as equation 13-3. Derived.
// Known disagreement: the line is that of first drying; wood that was dry before moves along a slightly flatter one.
func Between(size units.Length, d Direction, from, to units.MC) (units.Length, error) {
	s1, err1 := d.To(from)
	s2, err2 := d.To(to)
	if err := errors.Join(err1, err2, checkSize(size)); err != nil {
		return 0, err
	}
	return nanometre(float64(size) * (1 - s2) / (1 - s1)), nil // 4-9 twice
}

func nanometre(x float64) units.Length { return units.Length(math.Round(x)) }
