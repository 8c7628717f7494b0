// Package lot says what readings of some boards prove about all boards of a load: by counting, by a normal distribution, and
// with readings the meter could only give as "below" or "above".
package lot

import (
	"fmt"
	"math/big"
	"sort"
	"strconv"
)

// OverBound returns the one-sided upper bound on the number of boards over the limit among all N, when n boards drawn at
// random were measured and x of them were over: with the confidence, at most that many are over. It lies between x and
// N-n+x, and is N when nothing was measured.
//
// It is the largest number D for which the chance of x or fewer over among n is still more than 1 - confidence, by the
// hypergeometric distribution. The comparison is made in whole numbers and is exact; the confidence counts as the decimal
// it is written as (0.95 is 19/20).
//
// Errors: N < 1, n outside 0..N, x outside 0..n, confidence outside 0..1 (both ends excluded).
//
// Source: exact hypergeometric test; textbook (memory). A board below the meter's range is under the limit, whatever it is.
func OverBound(N, n, x int, confidence float64) (int, error) {
	if err := checkCounts(N, n, x); err != nil {
		return 0, err
	}
	alpha, err := risk(confidence)
	if err != nil {
		return 0, err
	}
	// the chance falls as D rises, so the first D that is ruled out is one past the bound
	first := x + sort.Search(N-n, func(i int) bool { return ruledOut(N, x+1+i, n, x, alpha) })
	return first, nil
}

// Allowed returns the number of boards over the limit that a share leaves room for among n boards, rounded down: a share of
// 0.10 of 60 boards is 6. The share counts as the decimal it is written as. A share outside 0..1 or n < 0 leaves room for none.
func Allowed(n int, share float64) int {
	if n <= 0 || !(share > 0 && share <= 1) {
		return 0
	}
	return floorOf(new(big.Rat).Mul(decimal(share), new(big.Rat).SetInt64(int64(n))))
}

// Never is what FurtherClean returns when no number of further boards makes the claim.
const Never = -1

// FurtherClean returns the least number of further boards which, if all are under the limit, make the claim that at most the
// share of the boards that stay is over the limit. N boards are in the load, n were measured, x of these were over, and held
// of the x are taken out of the load. 0 means that the claim stands already.
//
// The bound is taken over all N boards (the boards taken out were found by the same sample) and the boards taken out are
// subtracted from it: N - held boards stay, of which at most bound - held are over. Never comes back when even measuring
// every board would not do, when held is outside 0..x, when nothing stays, and for arguments OverBound refuses.
func FurtherClean(N, n, x, held int, share float64, confidence float64) int {
	if checkCounts(N, n, x) != nil || held < 0 || held > x || held == N || !(share >= 0 && share <= 1) {
		return Never
	}
	alpha, err := risk(confidence)
	if err != nil {
		return Never
	}
	room := Allowed(N-held, share) + held
	if x > room {
		return Never
	}
	if room >= N {
		return 0
	}
	return sort.Search(N-n, func(m int) bool { return ruledOut(N, room+1, n+m, x, alpha) })
}

// SmallestSample returns the least number of boards to measure, of N drawn at random, so that the claim "at least the
// coverage of all boards is under the limit" holds with the confidence when over of the measured ones are over the limit.
// ok is false when no sample can make the claim, and for arguments outside their range: N < 1, over < 0, coverage or
// confidence outside 0..1 (ends excluded).
func SmallestSample(N, over int, coverage, confidence float64) (n int, ok bool) {
	alpha, err := risk(confidence)
	if err != nil || N < 1 || over < 0 || !(coverage > 0 && coverage < 1) {
		return 0, false
	}
	bad := floorOf(new(big.Rat).Mul(oneLess(coverage), new(big.Rat).SetInt64(int64(N)))) + 1 // least number that breaks the claim
	if bad <= over || over > N {
		return 0, false
	}
	n = over + sort.Search(N-over, func(i int) bool { return ruledOut(N, bad, over+i, over, alpha) })
	return n, true
}

// SmallestSampleEndless is SmallestSample for a load so large that drawing does not change it (binomial distribution). The
// (over+1)-th largest of that many readings is then an upper limit for the coverage, whatever the distribution.
func SmallestSampleEndless(over int, coverage, confidence float64) (n int, ok bool) {
	alpha, err := risk(confidence)
	if err != nil || over < 0 || !(coverage > 0 && coverage < 1) {
		return 0, false
	}
	p, q := decimal(coverage), oneLess(coverage)
	few := func(n int) bool { // chance of at most over among n is at most alpha
		term, sum := power(p, n), new(big.Rat)
		ratio := new(big.Rat).Quo(q, p)
		for i := 0; i <= over; i++ {
			sum.Add(sum, term)
			term = new(big.Rat).Mul(term, ratio)
			term.Mul(term, big.NewRat(int64(n-i), int64(i+1)))
		}
		return sum.Cmp(alpha) <= 0
	}
	high := over + 1
	for !few(high) {
		high *= 2
	}
	return over + sort.Search(high-over, func(i int) bool { return few(over + i) }), true
}

// ruledOut reports whether D boards over the limit among N are ruled out by x over among n: whether the chance of x or fewer
// is at most alpha. Exact.
func ruledOut(N, D, n, x int, alpha *big.Rat) bool {
	return atMost(ways(N, D, n, x), new(big.Int).Binomial(int64(N), int64(n)), alpha)
}

// atMost reports whether part is at most the share alpha of all.
func atMost(part, all *big.Int, alpha *big.Rat) bool {
	return new(big.Int).Mul(part, alpha.Denom()).Cmp(new(big.Int).Mul(all, alpha.Num())) <= 0
}

// ways counts the samples of n of N boards, of which D are over the limit, that show x or fewer over.
//
//	sum over i = 0..x of C(D,i) C(N-D,n-i)
func ways(N, D, n, x int) *big.Int {
	sum := new(big.Int)
	least := max(0, n-(N-D))
	if least > x {
		return sum
	}
	most := min(x, D, n)
	if most == min(D, n) {
		return sum.Binomial(int64(N), int64(n)) // every sample
	}
	term := new(big.Int).Binomial(int64(D), int64(least))
	term.Mul(term, new(big.Int).Binomial(int64(N-D), int64(n-least)))
	step := new(big.Int)
	for i := least; i <= most; i++ {
		sum.Add(sum, term)
		if i == most {
			break
		}
		// C(D,i+1) C(N-D,n-i-1) from the term before: the division leaves no rest
		term.Mul(term, step.SetInt64(int64(D-i)))
		term.Mul(term, step.SetInt64(int64(n-i)))
		term.Quo(term, step.SetInt64(int64(i+1)))
		term.Quo(term, step.SetInt64(int64(N-D-n+i+1)))
	}
	return sum
}

func checkCounts(N, n, x int) error {
	switch {
	case N < 1:
		return fmt.Errorf("a load of %d boards: at least 1 is needed", N)
	case n < 0 || n > N:
		return fmt.Errorf("%d boards measured is outside 0..%d", n, N)
	case x < 0 || x > n:
		return fmt.Errorf("%d boards over the limit is outside 0..%d", x, n)
	}
	return nil
}

// risk returns 1 - confidence as the exact decimal.
func risk(confidence float64) (*big.Rat, error) {
	if !(confidence > 0 && confidence < 1) {
		return nil, fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	return oneLess(confidence), nil
}

func oneLess(x float64) *big.Rat { return new(big.Rat).Sub(big.NewRat(1, 1), decimal(x)) }

// decimal returns the shortest decimal that reads back as x, as a fraction. x must be finite.
func decimal(x float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', -1, 64))
	if !ok {
		panic("lot: not a finite number")
	}
	return r
}

func floorOf(r *big.Rat) int { return int(new(big.Int).Quo(r.Num(), r.Denom()).Int64()) }

func power(x *big.Rat, n int) *big.Rat {
	e := big.NewInt(int64(n))
	return new(big.Rat).SetFrac(new(big.Int).Exp(x.Num(), e, nil), new(big.Int).Exp(x.Denom(), e, nil))
}
