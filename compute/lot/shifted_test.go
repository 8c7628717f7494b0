package lot

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/units"
)

// chanceByEnumeration is the chance that a sample of n of N boards, D of them over, shows at most x over: every sample is
// looked at.
func chanceByEnumeration(N, D, n, x int) *big.Rat {
	few, all := int64(0), int64(0)
	var choose func(from, left, over int)
	choose = func(from, left, over int) {
		if left == 0 {
			all++
			if over <= x {
				few++
			}
			return
		}
		for i := from; i <= N-left; i++ {
			next := over
			if i < D {
				next++
			}
			choose(i+1, left-1, next)
		}
	}
	choose(0, n, 0)
	return big.NewRat(few, all)
}

// drawShifts draws shifts that fit n measured boards of which held are taken out.
func drawShifts(t *rapid.T, n, held int) []Shift {
	var shifts []Shift
	for range rapid.IntRange(1, 4).Draw(t, "shifts") {
		h := rapid.IntRange(0, held).Draw(t, "held over")
		shifts = append(shifts, Shift{Weight: int64(rapid.IntRange(1, 9).Draw(t, "weight")), Held: h, Over: h + rapid.IntRange(0, n-held).Draw(t, "staying over")})
	}
	return shifts
}

// TestOverBoundShiftedByEnumeration: the bound is the largest number of boards over whose mean chance stays above 5 %, by
// looking at every sample of small loads.
func TestOverBoundShiftedByEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		N := rapid.IntRange(1, 9).Draw(t, "N")
		n := rapid.IntRange(0, N).Draw(t, "n")
		held := rapid.IntRange(0, min(n, 3)).Draw(t, "held")
		shifts := drawShifts(t, n, held)
		got, err := OverBoundShifted(N, n, held, shifts, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		want := 0
		for d := 0; d <= N-held; d++ {
			sum, weights := new(big.Rat), int64(0)
			for _, s := range shifts {
				weights += s.Weight
				sum.Add(sum, new(big.Rat).Mul(big.NewRat(s.Weight, 1), chanceByEnumeration(N, d+s.Held, n, s.Over)))
			}
			if sum.Quo(sum, big.NewRat(weights, 1)).Cmp(big.NewRat(1, 20)) > 0 {
				want = d
			}
		}
		if got != want {
			t.Fatalf("N %d, n %d, held %d, %v: bound %d, by enumeration %d", N, n, held, shifts, got, want)
		}
		for room := -1; room <= N; room++ {
			if within := Within(N, n, held, shifts, room, 0.95); within != (room >= got) {
				t.Fatalf("N %d, n %d, held %d, %v: within %d is %v, the bound is %d", N, n, held, shifts, room, within, got)
			}
		}
	})
}

// TestOverBoundShiftedOneShift: a meter without an error of its own gives the plain bound, held boards subtracted.
func TestOverBoundShiftedOneShift(t *testing.T) {
	for _, c := range []struct{ N, n, x int }{{60, 20, 0}, {60, 30, 2}, {120, 40, 1}, {20, 20, 3}, {7, 0, 0}} {
		plain, err := OverBound(c.N, c.n, c.x, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		for _, held := range []int{0, c.x} {
			got, err := OverBoundShifted(c.N, c.n, held, []Shift{{Weight: 1, Over: c.x, Held: held}}, 0.95)
			if err != nil || got != plain-held {
				t.Errorf("%d of %d over, N %d, held %d: %d (%v), want %d", c.x, c.n, c.N, held, got, err, plain-held)
			}
		}
	}
	// Every board measured: only the shifts count. 4 of 100 parts say 3 over, which may be left out; 6 may not.
	for weight, want := range map[int64]int{4: 1, 6: 3} {
		got, err := OverBoundShifted(10, 10, 0, []Shift{{Weight: 100 - weight, Over: 1}, {Weight: weight, Over: 3}}, 0.95)
		if err != nil || got != want {
			t.Errorf("weight %d of 100 for 3 over: bound %d (%v), want %d", weight, got, err, want)
		}
	}
}

func TestOverBoundShiftedRefuses(t *testing.T) {
	one := []Shift{{Weight: 1}}
	for name, f := range map[string]func() (int, error){
		"no shift":          func() (int, error) { return OverBoundShifted(5, 3, 0, nil, 0.95) },
		"weight 0":          func() (int, error) { return OverBoundShifted(5, 3, 0, []Shift{{}}, 0.95) },
		"over n":            func() (int, error) { return OverBoundShifted(5, 3, 0, []Shift{{Weight: 1, Over: 4}}, 0.95) },
		"held over held":    func() (int, error) { return OverBoundShifted(5, 3, 1, []Shift{{Weight: 1, Over: 2, Held: 2}}, 0.95) },
		"staying over left": func() (int, error) { return OverBoundShifted(5, 3, 2, []Shift{{Weight: 1, Over: 2, Held: 0}}, 0.95) },
		"held over n":       func() (int, error) { return OverBoundShifted(5, 3, 4, one, 0.95) },
		"n over N":          func() (int, error) { return OverBoundShifted(5, 6, 0, one, 0.95) },
		"confidence 1":      func() (int, error) { return OverBoundShifted(5, 3, 0, one, 1) },
	} {
		if got, err := f(); err == nil {
			t.Errorf("%s: got %d and no error", name, got)
		}
	}
}

// TestUpperLimitShifted: without an error of the meter it is the plain limit; with one it is never lower, and for many boards
// it goes to the sum of normal quantiles. The readings are those of the handbook-like example: m 8.18, s 0.5836 (computed).
func TestUpperLimitShifted(t *testing.T) {
	var values []units.MC
	for _, v := range []float64{8.1, 7.4, 8.8, 7.9, 8.3, 9.1, 7.6, 8.0, 8.5, 7.2, 8.4, 7.8, 9.4, 8.2, 7.7, 8.6, 8.0, 7.5, 8.9, 8.2} {
		values = append(values, units.Percent(v))
	}
	plain, err := UpperLimit(values, 0.95, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	last := plain
	for _, off := range []float64{0, 0.25, 0.5, 1} {
		got, err := UpperLimitShifted(values, 0.95, 0.95, units.Percent(off))
		if err != nil || got < last || off == 0 && got != plain {
			t.Errorf("off %.2f: %v (%v), before it %v, plain %v", off, got, err, last, plain)
		}
		last = got
		// k 2.396 (table, 95/95, n 20), z 1.6449
		want := 8.18 + 1.6449*0.5836 + math.Hypot((2.396-1.6449)*0.5836, 1.6449*off)
		if math.Abs(got.Percent()-want) > 0.1 {
			t.Errorf("off %.2f: %v, by hand %.2f", off, got, want)
		}
	}
	if _, err := UpperLimitShifted(values, 0.95, 0.95, -1); err == nil {
		t.Error("an error below 0 was taken")
	}
}

// TestFitMean: the short fit has the mean and spread of the long one.
func TestFitMean(t *testing.T) {
	readings := []units.Reading{{State: units.Number, MC: 800}, {State: units.Number, MC: 750}, {State: units.BelowRange, MC: 600}, {State: units.Number, MC: 910}}
	long, err := FitCensored(readings, 0.95)
	short, err2 := FitMean(readings, 0.95)
	if err != nil || err2 != nil || long.Mean != short.Mean || long.Spread != short.Spread || short.SD.Confidence != 0 {
		t.Errorf("long %+v (%v), short %+v (%v)", long, err, short, err2)
	}
}
