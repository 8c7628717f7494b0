package lot

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"drytally/testdata/published"
)

// All cells of the small-lot table: none and one board over the limit.
func TestSmallestSampleTable(t *testing.T) {
	lines := published.ByColumn(t, "lot_smallest.csv") // computed
	if got, want := len(lines), 13*4; got != want {
		t.Fatalf("got %d lines, want %d", got, want)
	}
	for _, l := range lines {
		g, p := number(t, l["confidence"]), number(t, l["coverage"])
		for over, column := range []string{"none", "one"} {
			var got int
			var ok bool
			if l["n_lot"] == "infinite" {
				got, ok = SmallestSampleEndless(over, p, g)
			} else {
				got, ok = SmallestSample(whole(t, l["n_lot"]), over, p, g)
			}
			want := whole(t, l[column])
			if l["n_lot"] == "20" && g == 0.90 && p == 0.95 && over == 1 {
				// The table has 20. Two boards of 20 break the claim; 19 measured miss at least one of the two with a chance of
				// exactly 1 - (19*18)/(20*19) = 1/10, which is not more than 1 - 0.90, so 19 will do. In binary 1 - 0.9 is a
				// little less than 0.1, which is presumably how the table came to 20.
				if want != 20 {
					t.Errorf("the one cell that differs reads %d, want 20", want)
				}
				want = 19
			}
			if !ok || got != want {
				t.Errorf("N %s, %d over, coverage %g, confidence %g: got %d (%v), want %d", l["n_lot"], over, p, g, got, ok, want)
			}
		}
	}
}

// All cells of the distribution-free table; 59 and 93 are the classical values (memory).
func TestOrderTable(t *testing.T) {
	for _, l := range published.ByColumn(t, "lot_order.csv") {
		g, p := number(t, l["confidence"]), number(t, l["coverage"])
		for over, column := range []string{"none", "one", "two"} {
			got, ok := SmallestSampleEndless(over, p, g)
			if want := whole(t, l[column]); !ok || got != want {
				t.Errorf("%d over, coverage %g, confidence %g: got %d (%v), want %d", over, p, g, got, ok, want)
			}
		}
	}
}

// What no board over in n proves; computed.
func TestOverBoundFigures(t *testing.T) {
	tests := []struct {
		N, n, x    int
		confidence float64
		want       int
	}{
		{60, 20, 0, 0.95, 6},
		{60, 20, 0, 0.90, 5},
		{60, 30, 0, 0.95, 4},
		{60, 30, 0, 0.90, 3},
		{120, 20, 0, 0.95, 15},
		{120, 20, 0, 0.90, 11},
		{120, 40, 0, 0.95, 7},
		{120, 40, 0, 0.90, 5},
		// edges that need no table
		{60, 0, 0, 0.95, 60}, // nothing measured, nothing known
		{60, 60, 0, 0.95, 0}, // all measured: the count
		{60, 60, 7, 0.95, 7}, // likewise
		{1, 1, 1, 0.95, 1},   // one board, over
		{1, 1, 0, 0.95, 0},   // one board, under
		{1, 0, 0, 0.95, 1},   // one board, not measured
		{2, 1, 0, 0.95, 1},   // the other board may be over: chance 1/2 of seeing none
		{20, 19, 0, 0.95, 0}, // one over among 20 is missed with chance exactly 1/20, which is not more than 1 - 0.95
		{20, 19, 0, 0.96, 1}, // with a little more confidence it is not ruled out
		{20, 20, 20, 0.95, 20},
	}
	for _, tt := range tests {
		got, err := OverBound(tt.N, tt.n, tt.x, tt.confidence)
		if err != nil || got != tt.want {
			t.Errorf("N %d, n %d, %d over, %g: got %d (%v), want %d", tt.N, tt.n, tt.x, tt.confidence, got, err, tt.want)
		}
	}
}

// bruteBound goes through every D with sums of plain binomials.
func bruteBound(N, n, x int, alpha *big.Rat) int {
	bound := x
	for D := x; D <= N; D++ {
		sum := new(big.Int)
		for i := 0; i <= x; i++ {
			if i > D || n-i > N-D {
				continue
			}
			sum.Add(sum, new(big.Int).Mul(new(big.Int).Binomial(int64(D), int64(i)), new(big.Int).Binomial(int64(N-D), int64(n-i))))
		}
		if new(big.Rat).SetFrac(sum, new(big.Int).Binomial(int64(N), int64(n))).Cmp(alpha) > 0 {
			bound = D
		}
	}
	return bound
}

func TestOverBoundAgainstBruteForce(t *testing.T) {
	for N := 1; N <= 18; N++ {
		for n := 0; n <= N; n++ {
			for x := 0; x <= n; x++ {
				for _, g := range []struct {
					g     float64
					alpha *big.Rat
				}{{0.95, big.NewRat(1, 20)}, {0.9, big.NewRat(1, 10)}, {0.5, big.NewRat(1, 2)}} {
					got, err := OverBound(N, n, x, g.g)
					if want := bruteBound(N, n, x, g.alpha); err != nil || got != want {
						t.Fatalf("N %d, n %d, %d over, %g: got %d (%v), want %d", N, n, x, g.g, got, err, want)
					}
				}
			}
		}
	}
}

func TestOverBoundErrors(t *testing.T) {
	for _, tt := range []struct {
		N, n, x int
		g       float64
	}{{0, 0, 0, 0.95}, {10, 11, 0, 0.95}, {10, -1, 0, 0.95}, {10, 5, 6, 0.95}, {10, 5, -1, 0.95}, {10, 5, 0, 0}, {10, 5, 0, 1}} {
		if got, err := OverBound(tt.N, tt.n, tt.x, tt.g); err == nil {
			t.Errorf("N %d, n %d, %d over, %g: got %d, want an error", tt.N, tt.n, tt.x, tt.g, got)
		}
		if got := FurtherClean(tt.N, tt.n, tt.x, 0, 0.1, tt.g); got != Never {
			t.Errorf("N %d, n %d, %d over, %g: got %d further boards, want Never", tt.N, tt.n, tt.x, tt.g, got)
		}
	}
}

func TestAllowed(t *testing.T) {
	tests := []struct {
		n     int
		share float64
		want  int
	}{
		{60, 0.10, 6}, // in binary 0.1 is a little more, 0.29 a little less than the decimal
		{100, 0.29, 29},
		{59, 0.10, 5},
		{9, 0.10, 0},
		{60, 0, 0},
		{60, 1, 60},
		{60, 1.5, 0},
		{60, -0.1, 0},
		{0, 0.1, 0},
	}
	for _, tt := range tests {
		if got := Allowed(tt.n, tt.share); got != tt.want {
			t.Errorf("%d boards, share %g: got %d, want %d", tt.n, tt.share, got, tt.want)
		}
	}
}

func TestFurtherClean(t *testing.T) {
	tests := []struct {
		name          string
		N, n, x, held int
		share         float64
		want          int
	}{
		// 1 in 10 of 60 is 6: at most 6 over must be shown, for which 20 clean boards do (table above)
		{"20 clean of 60 do", 60, 20, 0, 0, 0.10, 0},
		{"19 clean of 60 need one more", 60, 19, 0, 0, 0.10, 1},
		{"nothing measured: the whole sample", 60, 0, 0, 0, 0.10, 20},
		{"one over of 12 (table: 31 with one over)", 60, 12, 1, 0, 0.10, 19},
		// one over, taken out: 59 stay, 5 allowed among them, so at most 6 over among the 60 must be shown with one over
		{"one over and taken out", 60, 12, 1, 1, 0.10, 19},
		{"no board over is allowed: all must be measured", 10, 5, 0, 0, 0.05, 5},
		{"more found over than allowed", 60, 30, 7, 0, 0.10, Never},
		{"seven found over and all taken out", 60, 30, 7, 7, 0.10, 16}, // 53 stay, 5 allowed: 12 in all; the chance of 7 or fewer of 13 is 0.0558 among 45, 0.0382 among 46 (scipy 1.10.1),
		{"all measured and clean", 60, 60, 0, 0, 0.10, 0},
		{"all taken out: nothing stays", 5, 5, 5, 5, 0.10, Never},
		{"more taken out than were over", 60, 20, 1, 2, 0.10, Never},
		{"any share may be over", 60, 0, 0, 0, 1, 0},
	}
	for _, tt := range tests {
		got := FurtherClean(tt.N, tt.n, tt.x, tt.held, tt.share, 0.95)
		if got != tt.want {
			t.Errorf("%s: got %d, want %d", tt.name, got, tt.want)
		}
	}
}

// claims tells whether the claim stands, by OverBound and Allowed alone.
func claims(t *rapid.T, N, n, x, held int, share, g float64) bool {
	b, err := OverBound(N, n, x, g)
	if err != nil {
		t.Fatal(err)
	}
	return b-held <= Allowed(N-held, share)
}

func TestFurtherCleanIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		N := rapid.IntRange(1, 120).Draw(t, "N")
		n := rapid.IntRange(0, N).Draw(t, "n")
		x := rapid.IntRange(0, min(n, 6)).Draw(t, "x")
		held := rapid.IntRange(0, x).Draw(t, "held")
		share := float64(rapid.IntRange(0, 100).Draw(t, "share")) / 100
		g := rapid.SampledFrom([]float64{0.8, 0.9, 0.95, 0.99}).Draw(t, "g")
		if held == N {
			return
		}
		m := FurtherClean(N, n, x, held, share, g)
		if m == Never {
			if claims(t, N, N, x, held, share, g) {
				t.Fatal("said never, but measuring every board makes the claim")
			}
			return
		}
		if m < 0 || m > N-n || !claims(t, N, n+m, x, held, share, g) {
			t.Fatalf("%d further boards do not make the claim", m)
		}
		if m > 0 && claims(t, N, n+m-1, x, held, share, g) {
			t.Fatalf("%d further boards are one more than needed", m)
		}
	})
}

func TestLawsOfTheBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		N := rapid.IntRange(2, 300).Draw(t, "N")
		n := rapid.IntRange(1, N-1).Draw(t, "n")
		x := rapid.IntRange(0, n-1).Draw(t, "x")
		g := rapid.SampledFrom([]float64{0.8, 0.9, 0.95, 0.99}).Draw(t, "g")
		at := func(N, n, x int, g float64) int {
			b, err := OverBound(N, n, x, g)
			if err != nil {
				t.Fatal(err)
			}
			return b
		}
		b := at(N, n, x, g)
		if b < x || b > N-n+x {
			t.Fatalf("bound %d is outside %d..%d", b, x, N-n+x)
		}
		if wetter := at(N, n, x+1, g); wetter < b {
			t.Fatalf("one more board over lowered the bound from %d to %d", b, wetter)
		}
		if further := at(N, n+1, x, g); further > b {
			t.Fatalf("one more clean board raised the bound from %d to %d", b, further)
		}
		if surer := at(N, n, x, 0.995); surer < b {
			t.Fatalf("more confidence lowered the bound from %d to %d", b, surer)
		}
	})
}

func TestSmallestSampleRefusals(t *testing.T) {
	if n, ok := SmallestSample(10, 0, 0.95, 0.95); !ok || n != 10 { // one board over breaks the claim: all must be seen
		t.Errorf("10 boards, 95/95: got %d (%v), want 10", n, ok)
	}
	if n, ok := SmallestSample(10, 1, 0.95, 0.95); ok {
		t.Errorf("10 boards, one over, 95/95: got %d, want none", n)
	}
	for _, g := range []float64{0, 1, -1} {
		if n, ok := SmallestSampleEndless(0, 0.9, g); ok {
			t.Errorf("confidence %g: got %d", g, n)
		}
		if n, ok := SmallestSample(60, 0, g, 0.95); ok {
			t.Errorf("coverage %g: got %d", g, n)
		}
	}
}

func ExampleOverBound() {
	// 20 boards of 60 measured, none over the limit: with 95 % confidence at most 6 of the 60 are.
	b, err := OverBound(60, 20, 0, 0.95)
	fmt.Println(b, err)
	// Output: 6 <nil>
}
