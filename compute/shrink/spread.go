package shrink

import (
	"errors"
	"math"

	"drytally/compute/units"
)

// PieceSpread is the coefficient of variation of shrinkage between pieces of one wood.
//
// Source: Wood Handbook FPL-GTR-190 (2010), chapter 4; memory.
const PieceSpread = 0.15

// PredictConfidence is the share of pieces a predicted size's range is meant to hold.
const PredictConfidence = 0.90

// z90 is the normal quantile of 0.95: 90 % lie within z90 standard deviations of the mean.
var z90 = math.Sqrt2 * math.Erfinv(PredictConfidence)

// Predict returns the size at m of boards sawn green to the setting green, with the range that is meant to hold 90 % of
// them. sawSpread is the total standard deviation of the sawing, 0 when the green size was measured on the board itself.
//
// The range joins two spreads as independent: shrinkage varies by PieceSpread between pieces, the green size by sawSpread.
// With mixed sawing it runs from the lower end at the higher shrinkage to the upper end at the lower one, so that it holds
// for both.
//
// Source: equation 4-9 of the Wood Handbook FPL-GTR-282 (2021); the spread of a product to first order. Derived.
func Predict(green units.Length, d Direction, m units.MC, sawSpread units.Length) (units.LengthRange, error) {
	value, err := Dry(green, d, m)
	if err == nil && sawSpread < 0 {
		err = errors.New("the sawing spread is below 0")
	}
	if err != nil {
		return units.LengthRange{}, err
	}
	end := func(s0, sign float64) units.Length {
		s := d.at(s0, m.Percent())
		return nanometre(float64(green)*(1-s) + sign*z90*deviation(green, s, sawSpread))
	}
	return units.LengthRange{
		Value: value, Low: end(d.High, -1), High: end(d.Low, +1), Confidence: PredictConfidence,
	}, nil
}

// Deviation returns the standard deviation of the dry size of boards sawn to the setting green that shrink by s (a share of
// the green size, to the moisture content meant), from the spread of wood and saw together.
func Deviation(green units.Length, s float64, sawSpread units.Length) units.Length {
	return nanometre(deviation(green, s, sawSpread))
}

func deviation(green units.Length, s float64, sawSpread units.Length) float64 {
	return math.Hypot(float64(green)*s*PieceSpread, (1-s)*float64(sawSpread))
}
