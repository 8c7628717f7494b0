// Package calibrate compares two ways of measuring the same things: their mean difference, and a straight line that turns
// what one shows into what the other would have shown, with the uncertainty of both.
package calibrate

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"drytally/compute/source"
	"drytally/compute/units"
)

// Pair is one thing measured both ways: X by the one to be corrected, Y by the one it is held against.
type Pair struct{ X, Y float64 }

// Line is y = Intercept + Slope (x - Origin), fitted by ordinary least squares: all of the scatter is taken to be in y.
type Line struct {
	Origin             float64
	Intercept, Slope   float64 // y1 and y2 of the source
	UIntercept, USlope float64 // standard deviations of the two
	Correlation        float64 // of the two, -1..1
	Residual           float64 // standard deviation of the points about the line, with n - 2
	N                  int
	LowX, HighX        float64 // the line rests on points between these
}

// fewest is how many pairs a line needs before it has any spread at all.
const fewest = 3

// ErrTooFew: a line needs three pairs.
var ErrTooFew = fmt.Errorf("a line needs at least %d pairs", fewest)

// ErrOnePlace: every x is the same, so there is no slope.
var ErrOnePlace = errors.New("all pairs lie at one reading, so no line can be laid through them")

// LineSource is the source of the formulas.
func LineSource() source.Source {
	return source.Source{Document: "JCGM 100:2008 (GUM)", Place: "Annex H.3", Status: source.Memory}
}

// Fit lays the line through the pairs, with its intercept at x = origin.
//
// Errors: ErrTooFew, ErrOnePlace, and a pair that is no finite number.
//
// Source: JCGM 100:2008 (GUM), Annex H.3, equations H.13a to H.13g; from memory. Its worked example (11 thermometer readings)
// comes out in every printed digit: TestThermometer.
func Fit(pairs []Pair, origin float64) (Line, error) {
	if len(pairs) < fewest {
		return Line{}, ErrTooFew
	}
	l := Line{Origin: origin, N: len(pairs), LowX: math.Inf(1), HighX: math.Inf(-1)}
	n := float64(len(pairs))
	var meanX, meanY float64
	for _, p := range pairs {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
			return Line{}, fmt.Errorf("the pair %g, %g is not two numbers", p.X, p.Y)
		}
		meanX, meanY = meanX+p.X/n, meanY+p.Y/n
		l.LowX, l.HighX = min(l.LowX, p.X), max(l.HighX, p.X)
	}
	if l.LowX == l.HighX {
		return Line{}, ErrOnePlace
	}
	// Sums about the means: the same as the source's D = n sum(x^2) - (sum x)^2 divided by n, without its loss of digits.
	var xx, xy float64
	for _, p := range pairs {
		xx += (p.X - meanX) * (p.X - meanX)
		xy += (p.X - meanX) * (p.Y - meanY)
	}
	at := meanX - origin
	l.Slope = xy / xx                // H.13b
	l.Intercept = meanY - l.Slope*at // H.13a
	square := xx + n*at*at           // sum of (x - origin)^2
	var rest float64
	for _, p := range pairs {
		d := p.Y - l.At(p.X)
		rest += d * d
	}
	l.Residual = math.Sqrt(rest / (n - 2))               // H.13f
	l.UIntercept = l.Residual * math.Sqrt(square/(n*xx)) // H.13c
	l.USlope = l.Residual / math.Sqrt(xx)                // H.13d
	l.Correlation = -at * n / math.Sqrt(n*square)        // H.13e
	return l, nil
}

// At gives y on the line at x.
func (l Line) At(x float64) float64 { return l.Intercept + l.Slope*(x-l.Origin) } // H.12

// Uncertainty gives the standard uncertainty of the line itself at x: how well At(x) is known as a mean.
//
// Source: as Fit, equation H.15.
func (l Line) Uncertainty(x float64) float64 {
	d := x - l.Origin
	u2 := l.UIntercept*l.UIntercept + d*d*l.USlope*l.USlope + 2*d*l.UIntercept*l.USlope*l.Correlation // H.15
	return math.Sqrt(max(0, u2))
}

// Predict gives the range in which one further y at x lies with the given confidence (0..1, ends excluded): the uncertainty
// of the line and the scatter about it together.
//
// Source: u^2 = Residual^2 + Uncertainty(x)^2 with Student's t of n - 2 degrees; textbook (memory).
func (l Line) Predict(x, confidence float64) (low, high float64, err error) {
	if !(confidence > 0 && confidence < 1) {
		return 0, 0, fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	half := Student(confidence, l.N-2) * math.Hypot(l.Residual, l.Uncertainty(x))
	return l.At(x) - half, l.At(x) + half, nil
}

// Difference is the mean of y - x over pairs.
type Difference struct {
	Mean, Spread float64 // Spread: standard deviation between pairs, with n - 1; 0 for one pair
	Low, High    float64 // range of the mean with the confidence asked for; Mean itself for one pair
	Confidence   float64 // that of the range; 0 for one pair: there is no range
	N            int
}

// Estimate gives the difference of pairs in percent of moisture content, its range rounded outwards to the tenth.
func (d Difference) Estimate() units.Estimate {
	return units.Estimate{Value: units.PercentTenth(d.Mean), Low: units.Percent(d.Low).TenthDown(), High: units.Percent(d.High).TenthUp(),
		Confidence: d.Confidence, N: d.N, Known: true}
}

// Differences gives the mean difference y - x with its t interval.
//
// Errors: no pair, confidence outside 0..1 (ends excluded).
//
// Source: textbook paired t interval (memory).
func Differences(pairs []Pair, confidence float64) (Difference, error) {
	if len(pairs) == 0 {
		return Difference{}, errors.New("no pair to compare")
	}
	if !(confidence > 0 && confidence < 1) {
		return Difference{}, fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	d := Difference{N: len(pairs)}
	n := float64(d.N)
	for _, p := range pairs {
		d.Mean += (p.Y - p.X) / n
	}
	d.Low, d.High = d.Mean, d.Mean
	if d.N < 2 {
		return d, nil
	}
	for _, p := range pairs {
		e := p.Y - p.X - d.Mean
		d.Spread += e * e / (n - 1)
	}
	d.Spread = math.Sqrt(d.Spread)
	half := Student(confidence, d.N-1) * d.Spread / math.Sqrt(n)
	d.Low, d.High, d.Confidence = d.Mean-half, d.Mean+half, confidence
	return d, nil
}

// Student gives the two-sided quantile of Student's t with freedom degrees (1 or more): 95 % lie within it either way for confidence 0.95.
func Student(confidence float64, freedom int) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(freedom)}.Quantile((1 + confidence) / 2)
}
