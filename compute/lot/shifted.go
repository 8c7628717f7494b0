package lot

import (
	"fmt"
	"math"
	"math/big"
	"sort"

	"drytally/compute/units"
)

// Shift is one way the meter may be off as a whole, with what the readings then come to. A meter that is off is off on every
// board of a load alike, so that more boards don't average it out.
type Shift struct {
	Weight int64 // parts of the sum of all weights; more than 0
	Over   int   // boards over the limit among all measured, when the meter is off so
	Held   int   // of these, boards that are taken out of the load
}

// OverBoundShifted is OverBound for a meter that may be off as a whole: with the confidence, at most that many of the boards
// that stay are over the limit. N boards are in the load, n were measured, of which held are taken out.
//
// It is the largest number d for which the chance of so few among the measured, averaged over the shifts by their weights, is
// still more than 1 - confidence; under each shift d + Held boards of all N are then over. With one shift and nothing held it
// is OverBound. With every board measured it is the bound that the shifts alone leave: the weight of those with more over is
// at most 1 - confidence. The comparison is exact.
//
// Errors: those of OverBound; no shift; a weight not above 0; Held above Over or above held.
//
// Source: the p value averaged over what is not known of the instrument (Cousins and Highland 1992; memory). Checked by
// enumeration and by this project's simulation of loads.
func OverBoundShifted(N, n, held int, shifts []Shift, confidence float64) (int, error) {
	alpha, err := checkShifts(N, n, held, shifts, confidence)
	if err != nil {
		return 0, err
	}
	stay := N - held
	first := sort.Search(stay, func(i int) bool { return shiftsRuleOut(N, n, i+1, shifts, alpha) })
	return first, nil
}

// Within reports whether OverBoundShifted is at most room, without looking for the bound itself. It is false for arguments
// OverBoundShifted refuses.
func Within(N, n, held int, shifts []Shift, room int, confidence float64) bool {
	alpha, err := checkShifts(N, n, held, shifts, confidence)
	if err != nil || room < 0 {
		return false
	}
	return room >= N-held || shiftsRuleOut(N, n, room+1, shifts, alpha)
}

func checkShifts(N, n, held int, shifts []Shift, confidence float64) (*big.Rat, error) {
	if err := checkCounts(N, n, 0); err != nil {
		return nil, err
	}
	if held < 0 || held > n {
		return nil, fmt.Errorf("%d boards taken out is outside 0..%d", held, n)
	}
	if len(shifts) == 0 {
		return nil, fmt.Errorf("no shift of the meter was given")
	}
	for _, s := range shifts {
		if s.Weight <= 0 || s.Over < 0 || s.Over > n || s.Held < 0 || s.Held > s.Over || s.Held > held || s.Over-s.Held > n-held {
			return nil, fmt.Errorf("a shift of weight %d with %d boards over, %d of them taken out, does not fit %d measured and %d taken out",
				s.Weight, s.Over, s.Held, n, held)
		}
	}
	return risk(confidence)
}

// shiftsRuleOut reports whether d boards over the limit among those that stay are ruled out: whether the weighted mean of the
// chances is at most alpha.
func shiftsRuleOut(N, n, d int, shifts []Shift, alpha *big.Rat) bool {
	sum, weights := new(big.Int), int64(0)
	chances := map[[2]int]*big.Int{}
	for _, s := range shifts {
		weights += s.Weight
		k := [2]int{d + s.Held, s.Over}
		if chances[k] == nil {
			chances[k] = ways(N, k[0], n, k[1])
		}
		sum.Add(sum, new(big.Int).Mul(chances[k], big.NewInt(s.Weight)))
	}
	all := new(big.Int).Binomial(int64(N), int64(n))
	all.Mul(all, big.NewInt(weights))
	return atMost(sum, all, alpha)
}

// UpperLimitShifted is UpperLimit for a meter that is off as a whole by a normal error with the standard deviation off. The
// two errors, that of the sample and that of the meter, are joined as independent:
//
//	m + z s + sqrt( ((k - z) s)^2 + (z' off)^2 )      z the coverage's normal quantile, z' the confidence's, k as in UpperLimit
//
// With off = 0 it is UpperLimit. Errors: those of UpperLimit; off below 0.
//
// Source: UpperLimit's; the joining is derived, to first order, and checked by this project's simulation of loads.
func UpperLimitShifted(values []units.MC, coverage, confidence float64, off units.MC) (units.MC, error) {
	if off < 0 {
		return 0, fmt.Errorf("the meter's error %v is below 0", off)
	}
	k, err := OneSidedFactor(len(values), coverage, confidence)
	if err != nil {
		return 0, err
	}
	m, s := moments(values)
	if s == 0 {
		return 0, ErrNoSpread
	}
	z := normalQuantile(coverage)
	return tenthUp(m + z*s + math.Hypot((k-z)*s, normalQuantile(confidence)*off.Percent())), nil
}
