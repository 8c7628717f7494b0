package lot

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// ShareUnder returns the lower bound on the share of boards under a limit, 0..1, when x of n measured boards were over it and
// the load is so large that drawing does not change it. For a load of known size OverBound is sharper.
//
// Errors: n < 1, x outside 0..n, confidence outside 0..1 (ends excluded).
//
// Source: Clopper and Pearson, one-sided; textbook (memory).
func ShareUnder(n, x int, confidence float64) (float64, error) {
	switch {
	case n < 1:
		return 0, fmt.Errorf("%d boards measured: at least 1 is needed", n)
	case x < 0 || x > n:
		return 0, fmt.Errorf("%d boards over the limit is outside 0..%d", x, n)
	case !(confidence > 0 && confidence < 1):
		return 0, fmt.Errorf("confidence %g is outside 0..1", confidence)
	case x == n:
		return 0, nil
	}
	return 1 - mathext.InvRegIncBeta(float64(x+1), float64(n-x), confidence), nil // Clopper-Pearson
}

// normalQuantile returns z with the share p of a normal distribution below it.
func normalQuantile(p float64) float64 { return distuv.UnitNormal.Quantile(p) }

// studentQuantile returns the two-sided t factor of the confidence for the degrees of freedom, which need not be whole.
func studentQuantile(confidence, freedom float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile((1 + confidence) / 2)
}

func normalShare(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
