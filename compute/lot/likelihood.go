package lot

import (
	"math"

	"drytally/compute/search"
)

// far is how far, in percent MC, the search for an end of an interval goes. An end beyond it is given as it stands there: no
// wood is that wet, and a spread that large says nothing.
const far = 1000.0

// fit returns the maximum of the likelihood. why must be Fine.
//
// With the spread as 1/sigma and the mean as mu/sigma the log likelihood is concave (Olsen 1978; memory). So for each sigma
// there is one best mu, and the best of these over 1/sigma is found by narrowing in.
func (d data) fit() (mu, sigma, best float64) {
	low, high := 1/far, 1/smallest
	// golden section over ln(1/sigma): a concave function of 1/sigma has one peak there too
	const narrowings = 70 // 14 powers of e by a factor of 1e-14
	f := func(lnTau float64) float64 { _, l := d.bestMean(math.Exp(-lnTau)); return -l }
	ln := search.Least(math.Log(low), math.Log(high), narrowings, f)
	sigma = math.Exp(-ln)
	mu, best = d.bestMean(sigma)
	return mu, sigma, best
}

// smallest is the least spread looked at, in percent MC: a hundredth of the meter's last digit.
const smallest = 0.001

// bestMean returns the mean that fits best with a spread, and the log likelihood there. The slope in mu falls.
func (d data) bestMean(sigma float64) (mu, l float64) {
	mu = zeroOf(-4*far, 4*far, func(mu float64) float64 {
		slope, marks := 0.0, again{of: hazard}
		for _, y := range d.numbers {
			slope += (y - mu) / sigma
		}
		for _, c := range d.under {
			slope -= marks.at((c - mu) / sigma)
		}
		for _, c := range d.over {
			slope += marks.at((mu - c) / sigma)
		}
		return slope
	})
	return mu, d.logLikelihood(mu, sigma)
}

// bestSpread returns the log likelihood of a mean with the spread that fits it best. In 1/sigma the slope falls.
func (d data) bestSpread(mu float64) float64 {
	ln := zeroOf(math.Log(1/(8*far)), math.Log(1/smallest), func(ln float64) float64 {
		tau := math.Exp(ln)
		slope, marks := float64(len(d.numbers))/tau, again{of: hazard}
		for _, y := range d.numbers {
			slope -= tau * (y - mu) * (y - mu)
		}
		for _, c := range d.under {
			slope += (c - mu) * marks.at(tau*(c-mu))
		}
		for _, c := range d.over {
			slope += (mu - c) * marks.at(tau*(mu-c))
		}
		return slope
	})
	return d.logLikelihood(mu, math.Exp(-ln))
}

// zeroOf returns where f, which falls from above 0 to below it between low and high, is 0; an end of the stretch when it is of
// one sign there. Each step tries inverse quadratic interpolation through the last three places where that is safe, else halves.
//
// Source: T. R. Chandrupatla, A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear function without
// using derivatives, Advances in Engineering Software 28 (1997); memory.
func zeroOf(low, high float64, f func(x float64) float64) float64 {
	const close = 1e-15 // of the place
	b, a := low, high
	fb, fa := f(b), f(a)
	if fb <= 0 {
		return low
	}
	if fa >= 0 {
		return high
	}
	c, fc := a, fa
	share := 0.5
	for range 200 { // more than halving alone would need
		x := a + share*(b-a)
		fx := f(x)
		if (fx > 0) == (fa > 0) {
			c, fc = a, fa
		} else {
			c, b, fc, fb = b, a, fb, fa
		}
		a, fa = x, fx
		best := a
		if math.Abs(fb) < math.Abs(fa) {
			best = b
		}
		within := (2*math.Abs(best) + 1) * close / math.Abs(b-a)
		if within > 0.5 || fa == 0 {
			return best
		}
		share = 0.5
		if xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb); phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			share = fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
		}
		share = min(max(share, within), 1-within)
	}
	return a
}

// halvings narrow the end of an interval in.
const halvings = 45

// meanInterval returns the means at which twice the log likelihood has fallen by cut, each with its best spread.
func (d data) meanInterval(mu, sigma, best, cut float64) (low, high float64) {
	inside := func(m float64) bool { return 2*(best-d.bestSpread(m)) <= cut }
	return search.Edge(mu, -sigma, mu-far, halvings, inside), search.Edge(mu, sigma, mu+far, halvings, inside)
}

// spreadInterval returns the spreads at which twice the log likelihood has fallen by cut, each with its best mean.
func (d data) spreadInterval(sigma, best, cut float64) (low, high float64) {
	inside := func(ln float64) bool { _, l := d.bestMean(math.Exp(ln)); return 2*(best-l) <= cut }
	at := math.Log(sigma)
	return math.Exp(search.Edge(at, -0.1, math.Log(smallest), halvings, inside)), math.Exp(search.Edge(at, 0.1, math.Log(far), halvings, inside))
}

// again gives a function's value, and the last one again when it is asked for the same place: a meter has one low and one high
// mark, and all boards beyond it lie there.
type again struct {
	of   func(float64) float64
	x, y float64
	any  bool
}

func (a *again) at(x float64) float64 {
	if !a.any || x != a.x {
		a.x, a.y, a.any = x, a.of(x), true
	}
	return a.y
}
