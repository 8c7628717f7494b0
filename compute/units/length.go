// Package units holds the quantities of the trade as types, so that an inch is never taken for a millimetre
// and the number compared with a limit is the number printed.
package units

import (
	"fmt"
	"math"
	"strconv"
)

// Length is a length in nanometres, used like time.Duration. 64ths of an inch, mils and millimetres are exact.
// The zero value means "not given": no length in this trade is zero.
type Length int64

// Lengths to multiply with. There is no product of two lengths here: an area or a volume is the business of footage.
const (
	Nanometre  Length = 1
	Micrometre        = 1000 * Nanometre
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch
)

// Inches returns the length of x inches, rounded to the nanometre.
func Inches(x float64) Length { return Length(math.Round(x * float64(Inch))) }

// Feet returns the length of x feet, rounded to the nanometre.
func Feet(x float64) Length { return Length(math.Round(x * float64(Foot))) }

// Millimetres returns the length of x millimetres, rounded to the nanometre.
func Millimetres(x float64) Length { return Length(math.Round(x * float64(Millimetre))) }

// Fraction returns num/den inches. den must divide an inch in nanometres (1, 2, 4 ... 64, 5, 10, 100, 1000 do).
func Fraction(num, den int64) Length { return Length(num * int64(Inch) / den) }

// Inches gives the length in inches.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Feet gives the length in feet.
func (l Length) Feet() float64 { return float64(l) / float64(Foot) }

// Millimetres gives the length in millimetres.
func (l Length) Millimetres() float64 { return float64(l) / float64(Millimetre) }

// RoundUp returns the smallest multiple of step that is not less than l. step must be positive.
func (l Length) RoundUp(step Length) Length {
	n := l / step
	if l%step > 0 {
		n++
	}
	return n * step
}

// Nearest returns the multiple of step nearest to l, halves away from zero. step must be positive.
func (l Length) Nearest(step Length) Length {
	half := step / 2
	if l < 0 {
		return -((-l + half) / step * step)
	}
	return (l + half) / step * step
}

// finestDenominator is the finest fraction of an inch the trade writes.
const finestDenominator = 64

// Trade writes the length in inches as the trade does: whole inches and a fraction in lowest terms, 11 3/8.
// A length that is no whole 64th is written with three decimals, 0.016. No inch mark is added.
func (l Length) Trade() string {
	if l < 0 {
		return "-" + (-l).Trade()
	}
	n := int64(l) * finestDenominator
	if n%int64(Inch) != 0 {
		return strconv.FormatFloat(l.Inches(), 'f', 3, 64)
	}
	n /= int64(Inch)
	whole, num, den := n/finestDenominator, n%finestDenominator, int64(finestDenominator)
	for num > 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return strconv.FormatInt(whole, 10)
	case whole == 0:
		return fmt.Sprintf("%d/%d", num, den)
	default:
		return fmt.Sprintf("%d %d/%d", whole, num, den)
	}
}

// FeetInches writes a board length in feet and inches, 10' 6", and plain feet when nothing is left over, 10'.
func (l Length) FeetInches() string {
	feet, rest := l/Foot, l%Foot
	switch {
	case rest == 0:
		return fmt.Sprintf("%d'", feet)
	case feet == 0:
		return rest.Trade() + `"`
	default:
		return fmt.Sprintf(`%d' %s"`, feet, rest.Trade())
	}
}

// String writes inches with the inch mark.
func (l Length) String() string { return l.Trade() + `"` }

// System is the measure the owner's papers are written in. The zero value is inches and feet.
type System uint8

// The two systems.
const (
	InchFoot System = iota
	Metric
)

// Size writes a thickness or width: 7 1/4" or 184 mm.
func (s System) Size(l Length) string {
	if s == Metric {
		return millimetres(l) + " mm"
	}
	return l.Nearest(Fraction(1, finestDenominator)).String()
}

// Finest is the step Size writes to.
func (s System) Finest() Length {
	if s == Metric {
		return Millimetre / 10
	}
	return Fraction(1, finestDenominator)
}

// SizeTo writes a thickness or width rounded to the nearest step: a range or a prediction is not known to a 64th.
func (s System) SizeTo(l, step Length) string {
	if s == Metric {
		return strconv.FormatFloat(math.Round(l.Millimetres()), 'f', 0, 64) + " mm"
	}
	return l.Nearest(step).String()
}

// Spread writes a standard deviation of sizes: 0.030" or 0.76 mm.
func (s System) Spread(l Length) string {
	if s == Metric {
		return strconv.FormatFloat(l.Millimetres(), 'f', 2, 64) + " mm"
	}
	return strconv.FormatFloat(l.Inches(), 'f', 3, 64) + `"`
}

// Run writes a board length: 10' 6" or 3200 mm.
func (s System) Run(l Length) string {
	if s == Metric {
		return millimetres(l) + " mm"
	}
	return l.Nearest(Fraction(1, 16)).FeetInches()
}

// Running writes how much of a length there is in all: 447 ft or 136 m.
func (s System) Running(feet float64) string {
	if s == Metric {
		return strconv.FormatFloat(math.Round(feet*Foot.Millimetres()/1000), 'f', 0, 64) + " m"
	}
	return strconv.FormatFloat(math.Round(feet), 'f', 0, 64) + " ft"
}

func millimetres(l Length) string {
	return strconv.FormatFloat(math.Round(l.Millimetres()*10)/10, 'f', -1, 64)
}

// LengthRange is a predicted size with its range. Confidence is the share of pieces the range is meant to hold, 0..1.
type LengthRange struct {
	Value, Low, High Length
	Confidence       float64
}
