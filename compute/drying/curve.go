package drying

import (
	"fmt"
	"math"
	"slices"
	"time"

	"drytally/compute/search"
	"drytally/compute/units"
	"gonum.org/v1/gonum/stat/distuv"
)

// Why says why no date can be given. Empty: it can.
type Why string

// The reasons. They are for the program; the papers have their own wording.
const (
	Fine      Why = ""
	TooFew    Why = "fewer than two weighings at different times"
	TooDamp   Why = "the air brings wood to no lower moisture content than the target"
	NotDrying Why = "the wood is not drying toward the moisture content of the air"
)

// Forecast is the drying curve m(t) = E + (m0 - E) exp(-k t) laid through weighings, and the date it comes to a target.
type Forecast struct {
	Why    Why
	Needed units.MC // EMC the air should have for the target: 2 points under it
	// The rest is set when Why is Fine.
	PerDay  float64   // k, the share of the way to E covered in a day
	Ends    units.MC  // E: what the air leads to
	Now     units.MC  // the curve at the last weighing, to the tenth
	Reached bool      // the curve had come to the target by the last weighing
	Days    float64   // from the last weighing to the target; 0 or less when Reached
	Date    time.Time // the same as a date, to the minute
	// Low and High are the profile likelihood interval of Days with the confidence asked for. Without it (fewer than three
	// weighings) Bounded is false. OpenEnd: the weighings do not rule out any later date; High is not set then.
	Bounded   bool
	Low, High float64
	OpenEnd   bool
	Points    int  // weighings used
	UnderAir  bool // a weighing lies under the EMC of the air: weights, air log or sensor is wrong
}

// pointsUnder is how far the EMC of the air should lie under a target. Source: equalizing rule of Wengert, Drying Oak Lumber,
// step 6C; seen.
const pointsUnder units.MC = 200

// NeededEMC returns the EMC the air should have for wood to come to the target in good time: 2 points under it, at least 0.
func NeededEMC(target units.MC) units.MC { return max(0, target-pointsUnder) }

// leastScatter is the least standard deviation of a weighing about the curve that is believed, in points of MC: sample boards
// are good to about that (0.1 %, Wengert 2012; seen). Three weighings that happen to lie on a curve do not fix a date.
const leastScatter = 0.1

// tooLong is the most days a forecast looks ahead: beyond ten years a date says nothing.
const tooLong = 3650.0

// Days lays the drying curve through the weighings of one sample board (or the means of several on the same days) and
// returns when it comes to the target. The order of the points is irrelevant.
//
// emc is the moisture content the air leads to; it is taken as exact. The start of the curve and k are found by least squares.
// The interval is the profile likelihood interval of the date: all dates at which the best curve through that date fits no
// worse than s^2 t^2 allows, with Student's t for two points fewer than there are (s at least leastScatter). It is wider on the late side, as it
// should be, and can be open there. It holds for the curve's own scatter only: air that changes is not in it.
//
// The curve is for wood below fiber saturation; weighings of greener wood make it too fast at the end. Errors: confidence
// outside 0..1 (ends excluded), target or emc below 0.
//
// Source: exponential approach to the EMC, method of this program; least squares and profile interval are textbook (memory).
func Days(points []Point, emc, target units.MC, confidence float64) (Forecast, error) {
	if !(confidence > 0 && confidence < 1) {
		return Forecast{}, fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	if emc < 0 || target < 0 {
		return Forecast{}, fmt.Errorf("EMC %v and target %v: neither can be below 0", emc, target)
	}
	f := Forecast{Needed: NeededEMC(target), Points: len(points)}
	points = inOrder(points)
	c := newCurve(points, emc)
	f.UnderAir = slices.ContainsFunc(c.y, func(y float64) bool { return y < 0 })
	switch {
	case c.span == 0:
		f.Why = TooFew
		return f, nil
	case emc >= target:
		f.Why = TooDamp
		return f, nil
	}
	k, sse, ok := c.best()
	start := c.start(k)
	if !ok || start <= 0 {
		f.Why = NotDrying
		return f, nil
	}
	goal := (target - emc).Percent()
	f.PerDay, f.Ends = k, emc
	f.Now = units.MC(math.Round((emc.Percent()+start*math.Exp(-k*c.span))*10)) * 10
	f.Days = math.Log(start/goal)/k - c.span // curve solved for t
	f.Reached = f.Days <= 0
	if f.Days > tooLong {
		f = Forecast{Needed: f.Needed, Points: f.Points, UnderAir: f.UnderAir, Why: NotDrying}
		return f, nil
	}
	last := points[len(points)-1].Time
	f.Date = last.Add(time.Duration(f.Days * 24 * float64(time.Hour))).Round(time.Minute)
	if n := len(points); n > 2 {
		t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 2)}.Quantile((1 + confidence) / 2)
		allowed := sse + t*t*math.Max(sse/float64(n-2), leastScatter*leastScatter)
		f.Bounded = true
		f.Low, f.High, f.OpenEnd = c.interval(f.Days+c.span, goal, allowed)
		f.Low, f.High = f.Low-c.span, f.High-c.span
		if f.OpenEnd {
			f.High = 0
		}
	}
	return f, nil
}

// curve holds the weighings as days since the first and points of MC above the EMC.
type curve struct {
	t, y []float64
	span float64 // days from the first to the last
}

func newCurve(ordered []Point, emc units.MC) curve {
	var c curve
	for _, p := range ordered {
		c.t, c.y = append(c.t, days(ordered[0].Time, p.Time)), append(c.y, (p.MC-emc).Percent())
	}
	if n := len(c.t); n > 0 {
		c.span = c.t[n-1]
	}
	return c
}

// start returns the best start of the curve (above the EMC) for a k: linear least squares.
func (c curve) start(k float64) float64 {
	var ey, ee float64
	for i, t := range c.t {
		e := math.Exp(-k * t)
		ey, ee = ey+e*c.y[i], ee+e*e
	}
	return ey / ee
}

// squares returns the sum of squares of a curve.
func (c curve) squares(start, k float64) float64 {
	s := 0.0
	for i, t := range c.t {
		d := c.y[i] - start*math.Exp(-k*t)
		s += d * d
	}
	return s
}

// The k looked at, times the span of the weighings: slower than slowest is no drying, and with fastest all of it is over
// before the first hundredth of the span.
const slowest, fastest = 1e-4, 500.0

// best returns the k with the least sum of squares, its start fitted. ok is false when it lies at the slow end: not drying.
func (c curve) best() (k, sse float64, ok bool) {
	at := func(ln float64) float64 { k := math.Exp(ln); return c.squares(c.start(k), k) }
	low, high := math.Log(slowest/c.span), math.Log(fastest/c.span)
	ln := leastOf(low, high, at)
	return math.Exp(ln), at(ln), ln > low+0.01
}

// interval returns the days since the first weighing at which the best curve that comes to the goal just then has the allowed
// sum of squares. open: no later day within tooLong has.
func (c curve) interval(at, goal, allowed float64) (low, high float64, open bool) {
	fits := func(day float64) bool { return c.through(day, goal) <= allowed }
	const halvings = 36 // ten years to a hundredth of a second
	low = search.Edge(at, -0.25, -tooLong, halvings, fits)
	high = search.Edge(at, 0.25, at+tooLong, halvings, fits)
	return low, high, high >= at+tooLong
}

// through returns the least sum of squares of the curves that come to the goal at a day.
func (c curve) through(day, goal float64) float64 {
	at := func(ln float64) float64 {
		k, sum := math.Exp(ln), 0.0
		for i, t := range c.t {
			d := c.y[i] - goal*math.Exp(k*(day-t)) // in one exponent: day can be far off
			sum += d * d
		}
		return sum
	}
	return at(leastOf(math.Log(slowest/c.span), math.Log(fastest/c.span), at))
}

// leastOf returns the place of the least value of f between low and high: a grid finds the valley, golden section its bottom.
// Near the bottom f is flat, so that places closer than a hundred-millionth of their distance can't be told apart.
func leastOf(low, high float64, f func(x float64) float64) float64 {
	const steps = 200
	width := (high - low) / steps
	best, at := math.Inf(1), low
	for i := range steps + 1 {
		x := low + float64(i)*width
		if y := f(x); y < best {
			best, at = y, x
		}
	}
	const narrowings = 38 // two widths of the grid to a hundred-millionth
	return search.Least(math.Max(low, at-width), math.Min(high, at+width), narrowings, f)
}

func inOrder(points []Point) []Point {
	p := slices.Clone(points)
	slices.SortStableFunc(p, func(a, b Point) int {
		if c := a.Time.Compare(b.Time); c != 0 {
			return c
		}
		return int(a.MC) - int(b.MC) // so that the order of rows is irrelevant
	})
	return p
}

func days(from, to time.Time) float64 { return to.Sub(from).Hours() / 24 }
