package calibrate

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"drytally/testdata/published"
)

// thermometer reads Table H.6 of JCGM 100:2008 (from memory).
func thermometer(t *testing.T) []Pair {
	t.Helper()
	_, rows := published.Table(t, "calibrate_thermometer.csv")
	var pairs []Pair
	for _, row := range rows {
		x, errX := strconv.ParseFloat(row[0], 64)
		y, errY := strconv.ParseFloat(row[1], 64)
		if errX != nil || errY != nil {
			t.Fatalf("bad row %v", row)
		}
		pairs = append(pairs, Pair{x, y})
	}
	return pairs
}

// TestThermometer is the example of JCGM 100:2008 (GUM), Annex H.3: 11 readings, origin 20 C. Data and printed results are
// from memory; that the arithmetic leads from the one to the other in every printed digit confirms both.
func TestThermometer(t *testing.T) {
	l, err := Fit(thermometer(t), 20)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name         string
		got, printed float64
		half         float64 // half of the last printed digit
	}{
		{"y1", l.Intercept, -0.1712, 0.00005},
		{"y2", l.Slope, 0.00218, 0.000005},
		{"s(y1)", l.UIntercept, 0.0029, 0.00005},
		{"s(y2)", l.USlope, 0.00067, 0.000005},
		{"r(y1, y2)", l.Correlation, -0.930, 0.0005},
		{"s", l.Residual, 0.0035, 0.00005},
		{"b(30)", l.At(30), -0.1494, 0.00005},
		{"u(b(30))", l.Uncertainty(30), 0.0041, 0.00005},
	} {
		if math.Abs(c.got-c.printed) > c.half {
			t.Errorf("%s: got %.6f, printed %g", c.name, c.got, c.printed)
		}
	}
}

// TestFitByHand: points 0, 1, 2 with values 0, 2, 1. Means 1 and 1, sxx = 2, sxy = 1: slope 1/2, intercept 1/2. Residuals
// -1/2, 1, -1/2: s^2 = 1.5 / 1. s(slope)^2 = 1.5/2, s(intercept)^2 = 1.5 * 5/(3*2). A prediction at the mean with t(1) =
// 12.7062 at 95 %: half width 12.7062 * sqrt(1.5 + 1.5/3).
func TestFitByHand(t *testing.T) {
	l, err := Fit([]Pair{{0, 0}, {1, 2}, {2, 1}}, 0)
	if err != nil {
		t.Fatal(err)
	}
	low, high, err := l.Predict(1, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"slope", l.Slope, 0.5}, {"intercept", l.Intercept, 0.5}, {"residual", l.Residual, math.Sqrt(1.5)},
		{"u slope", l.USlope, math.Sqrt(0.75)}, {"u intercept", l.UIntercept, math.Sqrt(1.25)},
		{"line at the mean", l.Uncertainty(1), math.Sqrt(0.5)},
		{"low", low, 1 - 12.7062047*math.Sqrt2}, {"high", high, 1 + 12.7062047*math.Sqrt2},
	} {
		if math.Abs(c.got-c.want) > 1e-6 {
			t.Errorf("%s: got %.8f, want %.8f", c.name, c.got, c.want)
		}
	}
}

func TestFitRefuses(t *testing.T) {
	for name, pairs := range map[string][]Pair{
		"none": nil, "two": {{1, 1}, {2, 2}}, "one place": {{8, 1}, {8, 2}, {8, 3}}, "no number": {{1, 1}, {2, math.NaN()}, {3, 3}},
	} {
		if l, err := Fit(pairs, 0); err == nil {
			t.Errorf("%s: got %+v, want an error", name, l)
		}
	}
	if _, _, err := (Line{N: 5}).Predict(0, 1); err == nil {
		t.Error("confidence 1 was taken")
	}
	if _, err := Differences(nil, 0.95); err == nil {
		t.Error("no pair was compared")
	}
}

// TestFitLaws: the line does not care where its origin is put or in which order the pairs come, goes through the means, and is
// best known there.
func TestFitLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 20).Draw(t, "n")
		var pairs []Pair
		var mx, my float64
		for i := range n {
			p := Pair{float64(i) + rapid.Float64Range(-0.4, 0.4).Draw(t, "x"), rapid.Float64Range(4, 30).Draw(t, "y")}
			pairs = append(pairs, p)
			mx, my = mx+p.X/float64(n), my+p.Y/float64(n)
		}
		a, err := Fit(pairs, 0)
		if err != nil {
			t.Fatal(err)
		}
		back := make([]Pair, 0, n)
		for i := range pairs {
			back = append(back, pairs[n-1-i])
		}
		b, err := Fit(back, rapid.Float64Range(-30, 30).Draw(t, "origin"))
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []float64{0, mx, 12, 40} {
			if math.Abs(a.At(x)-b.At(x)) > 1e-6 || math.Abs(a.Uncertainty(x)-b.Uncertainty(x)) > 1e-4 {
				t.Fatalf("at %g: %g +- %g and %g +- %g", x, a.At(x), a.Uncertainty(x), b.At(x), b.Uncertainty(x))
			}
			if a.Uncertainty(x) < a.Uncertainty(mx)-1e-6 {
				t.Fatalf("better known at %g than at the mean %g", x, mx)
			}
		}
		if math.Abs(a.At(mx)-my) > 1e-9 {
			t.Fatalf("at the mean %g: got %g, want %g", mx, a.At(mx), my)
		}
		low, high, _ := a.Predict(mx, 0.95)
		wide, wider, _ := a.Predict(mx, 0.99)
		if low > a.At(mx) || high < a.At(mx) || wide > low || wider < high {
			t.Fatalf("ranges %g..%g and %g..%g about %g", low, high, wide, wider, a.At(mx))
		}
	})
}

// TestDifferences: differences 1, 2, 3: mean 2, deviation 1, t(2) at 95 % = 4.30265, half width 4.30265 / sqrt 3.
func TestDifferences(t *testing.T) {
	d, err := Differences([]Pair{{8, 9}, {9, 11}, {10, 13}}, 0.95)
	half := 4.3026527 / math.Sqrt(3)
	if err != nil || math.Abs(d.Mean-2) > 1e-12 || math.Abs(d.Spread-1) > 1e-12 || math.Abs(d.High-2-half) > 1e-6 || math.Abs(d.Low-2+half) > 1e-6 || d.Confidence != 0.95 {
		t.Errorf("got %+v (%v), want 2 with spread 1 and half width %g", d, err, half)
	}
	one, err := Differences([]Pair{{8, 9.5}}, 0.95)
	if err != nil || one.Mean != 1.5 || one.Confidence != 0 || one.Low != 1.5 || one.High != 1.5 {
		t.Errorf("one pair: got %+v (%v), want 1.5 without a range", one, err)
	}
}
