package units

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The parts of a volume, as printed, add up to the whole as printed. By hand: 0.4 of a step, again and again, is 0, 1, 0, 1, 0 steps.
func TestSolidsAddUp(t *testing.T) {
	if got := strings.Join(Metric.Solids(400, 400, 400, 400, 400), "; "); got != "0.000 cubic metres; 0.001 cubic metres; 0.000 cubic metres; 0.001 cubic metres; 0.000 cubic metres" {
		t.Errorf("got %s", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		for _, s := range []System{InchFoot, Metric} {
			var sum int64
			printed := 0.0
			parts := rapid.SliceOfN(rapid.Int64Range(0, 9_000_000), 1, 9).Draw(t, "parts")
			for _, p := range parts {
				sum += p
			}
			number := func(words string) float64 {
				n, _, _ := strings.Cut(words, " ")
				x, err := strconv.ParseFloat(n, 64)
				if err != nil {
					t.Fatal(err)
				}
				return x
			}
			for _, words := range s.Solids(parts...) {
				printed += number(words)
			}
			if whole := number(s.Solid(sum)); math.Abs(printed-whole) > 1e-6 {
				t.Fatalf("the parts of %v come to %v, the whole to %v", parts, printed, whole)
			}
		}
	})
}
