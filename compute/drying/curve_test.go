package drying

import (
	"math"
	"testing"
	"time"

	"drytally/compute/units"
	"pgregory.net/rapid"
)

func TestRedOakDays(t *testing.T) {
	// printed output of the notebook (seen): 1.5 in, 72 F, 72 % RH, 100 to 14 %: EMC 13.55, 113.4 days
	got, err := RedOakDays(units.Fraction(3, 2), units.Fahrenheit(72), units.RelativeHumidity(72), units.Percent(100), units.Percent(14))
	if err != nil || math.Abs(got-113.4) > 0.05 {
		t.Errorf("got %.3f days (%v), want 113.4", got, err)
	}
	if math.Abs(got-113.355) > 0.0005 { // computed before
		t.Errorf("got %.4f days, want 113.355", got)
	}
	for _, tt := range []struct {
		name     string
		l        units.Length
		rh       float64
		from, to units.MC
	}{
		{"target at the EMC", units.Inch, 72, 10000, 1355},
		{"not drier", units.Inch, 72, 2000, 2000},
		{"no thickness", 0, 72, 10000, 1400},
		{"no such air", units.Inch, 101, 10000, 1400},
	} {
		if d, err := RedOakDays(tt.l, units.Fahrenheit(72), units.RelativeHumidity(tt.rh), tt.from, tt.to); err == nil {
			t.Errorf("%s: got %g days, want an error", tt.name, d)
		}
	}
}

// A run made up for this check; figures by nls, optimize and uniroot of R 4.2.2.
func weighings() []Point {
	mc := []units.MC{3420, 2910, 2360, 1890, 1520, 1230}
	var out []Point
	for i, d := range []float64{0, 3, 7, 12, 18, 25} {
		out = append(out, Point{Time: day(d), MC: mc[i]})
	}
	return out
}

func TestDaysAgainstR(t *testing.T) {
	c := newCurve(weighings(), 650)
	k, sse, ok := c.best()
	//	nls(m ~ E+(m0-E)*exp(-k*t)): m0 33.98846566892, k 0.06493832682, deviance 0.3790360217
	if !ok || math.Abs(k-0.06493832682) > 1e-7 || math.Abs(sse-0.3790360217) > 1e-8 || math.Abs(6.5+c.start(k)-33.98846566892) > 1e-5 {
		t.Errorf("got k %.9f, start %.8f, squares %.10f; want 0.06493833, 33.98847, 0.37903602", k, 6.5+c.start(k), sse)
	}
	f, err := Days(weighings(), 650, 800, 0.95)
	if err != nil || f.Why != Fine || math.Abs(f.Days-19.7855915) > 1e-4 {
		t.Fatalf("got %+v (%v), want 19.786 days", f, err)
	}
	// profile over the date with qt(0.975, 4)
	if !f.Bounded || f.OpenEnd || math.Abs(f.Low-17.49649224) > 1e-3 || math.Abs(f.High-22.24794722) > 1e-3 {
		t.Errorf("interval %.4f to %.4f, want 17.4965 to 22.2479", f.Low, f.High)
	}
	if f.Needed != 600 || f.Ends != 650 || f.Points != 6 || f.UnderAir || f.Reached {
		t.Errorf("got %+v", f)
	}
	if want := day(25).Add(time.Duration(19.7855915 * 24 * float64(time.Hour))); f.Date.Sub(want).Abs() > time.Minute {
		t.Errorf("date %v, want %v", f.Date, want)
	}
}

// Brute grid over start and k: no better fit, and no date outside the interval that fits well enough.
func TestDaysAgainstGrid(t *testing.T) {
	f, err := Days(weighings(), 650, 800, 0.80)
	if err != nil {
		t.Fatal(err)
	}
	c := newCurve(weighings(), 650)
	_, sse, _ := c.best()
	const student = 1.533206 // two-sided 80 %, 4 degrees of freedom (standard tables; memory)
	allowed := sse * (1 + student*student/4)
	low, high := math.Inf(1), math.Inf(-1)
	for k := 0.05; k < 0.08; k += 0.00005 {
		for a := 24.0; a < 31; a += 0.01 {
			s := 0.0
			for i, d := range c.t {
				e := c.y[i] - a*math.Exp(-k*d)
				s += e * e
			}
			if s < sse-1e-9 {
				t.Fatalf("start %g and k %g fit better: %g, got %g", a, k, s, sse)
			}
			if s <= allowed {
				date := math.Log(a/1.5)/k - 25
				low, high = math.Min(low, date), math.Max(high, date)
			}
		}
	}
	if math.Abs(low-f.Low) > 0.1 || math.Abs(high-f.High) > 0.1 {
		t.Errorf("by grid %.2f to %.2f days, got %.2f to %.2f", low, high, f.Low, f.High)
	}
}

func TestDaysEdges(t *testing.T) {
	two := []Point{{Time: day(0), MC: 2000}, {Time: day(10), MC: 1400}}
	tests := []struct {
		name        string
		points      []Point
		emc, target units.MC
		why         Why
	}{
		{"no weighing", nil, 600, 800, TooFew},
		{"one weighing", two[:1], 600, 800, TooFew},
		{"two at once", []Point{{Time: day(0), MC: 2000}, {Time: day(0), MC: 1400}}, 600, 800, TooFew},
		{"EMC at the target", two, 800, 800, TooDamp},
		{"EMC over the target", two, 900, 800, TooDamp},
		{"gaining", []Point{{Time: day(0), MC: 1400}, {Time: day(10), MC: 2000}}, 600, 800, NotDrying},
		{"standing still", []Point{{Time: day(0), MC: 2000}, {Time: day(10), MC: 2000}}, 600, 800, NotDrying},
		{"under the air throughout", []Point{{Time: day(0), MC: 500}, {Time: day(10), MC: 450}}, 600, 800, NotDrying},
		{"drying", two, 600, 800, Fine},
	}
	for _, tt := range tests {
		f, err := Days(tt.points, tt.emc, tt.target, 0.95)
		if err != nil || f.Why != tt.why || f.Needed != tt.target-200 {
			t.Errorf("%s: got %+v (%v), want %q and an EMC of %v", tt.name, f, err, tt.why, tt.target-200)
		}
		if f.Why != Fine && (f.Days != 0 || f.Bounded || !f.Date.IsZero()) {
			t.Errorf("%s: a date without a reason to: %+v", tt.name, f)
		}
	}
	// two weighings: 14 points above the EMC, then 8: k = ln(14/8)/10, and to 2: ln(8/2)/k = 24.772 days (by hand)
	f, err := Days(two, 600, 800, 0.95)
	if want := 10 * math.Log(4) / math.Log(14.0/8); err != nil || math.Abs(f.Days-want) > 1e-5 || f.Bounded {
		t.Errorf("two weighings: got %+v (%v), want %.4f days and no interval", f, err, want)
	}
	// already there
	f, err = Days([]Point{{Time: day(0), MC: 2000}, {Time: day(10), MC: 700}}, 600, 800, 0.95)
	if err != nil || !f.Reached || f.Days > 0 {
		t.Errorf("already there: got %+v (%v)", f, err)
	}
	// a weighing under the EMC is said
	f, err = Days([]Point{{Time: day(0), MC: 2000}, {Time: day(5), MC: 1000}, {Time: day(10), MC: 590}}, 600, 800, 0.95)
	if err != nil || !f.UnderAir {
		t.Errorf("under the air: got %+v (%v)", f, err)
	}
	// three scattered weighings leave the date open
	f, err = Days([]Point{{Time: day(0), MC: 2000}, {Time: day(2), MC: 1650}, {Time: day(4), MC: 1600}}, 600, 800, 0.95)
	if err != nil || f.Why != Fine || !f.OpenEnd || f.High != 0 {
		t.Errorf("three scattered weighings: got %+v (%v), want an open end", f, err)
	}
	if NeededEMC(150) != 0 {
		t.Errorf("needed EMC for 1.5: got %v, want 0", NeededEMC(150))
	}
	for _, bad := range []float64{0, 1} {
		if _, err := Days(two, 600, 800, bad); err == nil {
			t.Errorf("confidence %g: no error", bad)
		}
	}
	if _, err := Days(two, -1, 800, 0.95); err == nil {
		t.Error("an EMC below 0 was taken")
	}
}

// Weighings that lie on a curve give the curve back, in any order, and an interval that holds the day.
func TestDaysFindsTheCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.02, 0.2).Draw(t, "k")
		start := rapid.Float64Range(15, 30).Draw(t, "start")
		n := rapid.IntRange(3, 10).Draw(t, "n")
		var points []Point
		for i := range n {
			d := 15 * float64(i) / float64(n-1)
			points = append(points, Point{Time: day(d), MC: units.Percent(6 + start*math.Exp(-k*d))})
		}
		f, err := Days(rapid.Permutation(points).Draw(t, "order"), 600, 800, 0.95)
		want := math.Log(start/2)/k - 15
		if err != nil || f.Why != Fine || math.Abs(f.Days-want) > 0.02*math.Max(1, math.Abs(want)) { // MC is rounded to 0.01
			t.Fatalf("got %+v (%v), want %g days", f, err, want)
		}
		if !f.Bounded || f.Low > f.Days || !f.OpenEnd && f.High < f.Days {
			t.Fatalf("%g days is outside %g to %g", f.Days, f.Low, f.High)
		}
		g, _ := Days(points, 600, 800, 0.95)
		if g != f {
			t.Fatalf("the order changed the forecast: %+v, %+v", f, g)
		}
	})
}
