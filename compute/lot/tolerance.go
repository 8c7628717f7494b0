package lot

import (
	"errors"
	"fmt"
	"math"

	"drytally/compute/units"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
)

// OneSidedFactor returns k for which, with the confidence, at least the coverage of a normal population lies below
// mean + k s of a random sample of n. It is exact: k is the noncentral t quantile over the root of n, found by integrating
// over the sample's standard deviation.
//
// Errors: n < 2, coverage outside 0.5..1 or confidence outside 0..1 (ends excluded).
//
// Source: NIST/SEMATECH e-Handbook 7.2.6.3 and ISO 16269-6 (memory); values checked against published worked examples.
func OneSidedFactor(n int, coverage, confidence float64) (float64, error) {
	if err := checkTolerance(n, coverage, confidence); err != nil {
		return 0, err
	}
	w := newSpreadNodes(n)
	z := normalQuantile(coverage)
	return rising(confidence, func(k float64) float64 { return w.chance(k, z) }), nil
}

// TwoSidedFactor returns k for which, with the confidence, at least the coverage of a normal population lies between
// mean - k s and mean + k s. Errors as OneSidedFactor.
//
// Source: ISO 16269-6, exact two-sided factor (memory); 42 values equal Berthouex and Brown, Table 21.1 (seen).
func TwoSidedFactor(n int, coverage, confidence float64) (float64, error) {
	if err := checkTolerance(n, coverage, confidence); err != nil {
		return 0, err
	}
	nu, root := float64(n-1), math.Sqrt(float64(n))
	x, weight := nodes(160, 0, 10/root) // the mean of a standard normal sample, one half: the density is even
	r := make([]float64, len(x))
	for i := range x {
		weight[i] *= 2 * root * math.Exp(-x[i]*x[i]*float64(n)/2) / math.Sqrt(2*math.Pi)
		r[i] = rising(coverage, func(r float64) float64 { return normalShare(x[i]+r) - normalShare(x[i]-r) })
	}
	return rising(confidence, func(k float64) float64 {
		p := 0.0
		for i := range x {
			p += weight[i] * mathext.GammaIncRegComp(nu/2, nu*r[i]*r[i]/(2*k*k)) // P[chi2(n-1) > (n-1) r(x)^2 / k^2]
		}
		return p
	}), nil
}

// ErrNoSpread: the readings have no spread to reckon with.
var ErrNoSpread = errors.New("fewer than two different readings: the spread between boards is not known")

// UpperLimit returns the moisture content at or below which at least the coverage of the boards lie with the confidence, and
// rounds it up to the tenth. values are one per board, drawn at random; all of them must be numbers (with readings below or
// above the meter's range use counts). It rests on a normal distribution and on a load much larger than the sample; for a
// sample of over a tenth of the load it is on the safe side.
// Errors: ErrNoSpread, and those of OneSidedFactor.
func UpperLimit(values []units.MC, coverage, confidence float64) (units.MC, error) {
	k, err := OneSidedFactor(len(values), coverage, confidence)
	if err != nil {
		return 0, err
	}
	m, s := moments(values)
	if s == 0 {
		return 0, ErrNoSpread
	}
	return tenthUp(m + k*s), nil
}

// ShareBelow returns the share of boards that lie below the limit at least, with the confidence, when the readings are
// normally distributed: UpperLimit turned round. It is found for shares from 0 up; errors as UpperLimit.
func ShareBelow(values []units.MC, limit units.MC, confidence float64) (float64, error) {
	if err := checkTolerance(len(values), 0.9, confidence); err != nil {
		return 0, err
	}
	m, s := moments(values)
	if s == 0 {
		return 0, ErrNoSpread
	}
	w := newSpreadNodes(len(values))
	k := (limit.Percent() - m) / s
	low, high := -40.0, 40.0 // z of the share; the chance falls as the share rises
	for range 80 {
		if z := (low + high) / 2; w.chance(k, z) >= confidence {
			low = z
		} else {
			high = z
		}
	}
	return normalShare(low), nil
}

func checkTolerance(n int, coverage, confidence float64) error {
	switch {
	case n < 2:
		return ErrNoSpread
	case !(coverage > 0.5 && coverage < 1):
		return fmt.Errorf("coverage %g is outside 0.5..1", coverage)
	case !(confidence > 0 && confidence < 1):
		return fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	return nil
}

// spreadNodes are points of s/sigma of a normal sample with the weights of its density: (n-1) (s/sigma)^2 is chi-squared.
type spreadNodes struct {
	at, weight []float64
	root       float64 // of n
}

func newSpreadNodes(n int) spreadNodes {
	nu := float64(n - 1)
	wide := 12 / math.Sqrt(2*nu) // twelve standard deviations: beyond them the density is below 1e-30
	low, high := math.Max(0, 1-wide), 1+wide
	var at, weight []float64
	// With two or three boards the factor is large and the chance turns within a hundredth of the lower end: panels there
	// are narrow.
	panels := []float64{0, 0.001, 0.005, 0.03, 0.15, 0.5, 1}
	for i := range len(panels) - 1 {
		x, w := nodes(60, low+panels[i]*(high-low), low+panels[i+1]*(high-low))
		at, weight = append(at, x...), append(weight, w...)
	}
	lg, _ := math.Lgamma(nu / 2)
	for i, w := range at {
		weight[i] *= math.Exp(math.Ln2 + nu/2*math.Log(nu/2) - lg + (nu-1)*math.Log(w) - nu*w*w/2)
	}
	return spreadNodes{at: at, weight: weight, root: math.Sqrt(float64(n))}
}

// chance returns the chance that mean + k s of the sample lies at or above the z-quantile of the population:
// P[ t'(n-1, z root(n)) <= k root(n) ] of the noncentral t distribution.
func (w spreadNodes) chance(k, z float64) float64 {
	p := 0.0
	for i, s := range w.at {
		p += w.weight[i] * normalShare(w.root*(k*s-z))
	}
	return p
}

// nodes returns Gauss-Legendre points and weights on an interval.
func nodes(points int, low, high float64) (x, weight []float64) {
	x, weight = make([]float64, points), make([]float64, points)
	quad.Legendre{}.FixedLocations(x, weight, low, high)
	return x, weight
}

// rising returns the k > 0 at which a rising function reaches want, by bisection.
func rising(want float64, f func(k float64) float64) float64 {
	low, high := 0.0, 1.0
	for f(high) < want {
		low, high = high, 2*high
	}
	for range 60 {
		if k := (low + high) / 2; f(k) < want {
			low = k
		} else {
			high = k
		}
	}
	return (low + high) / 2
}
