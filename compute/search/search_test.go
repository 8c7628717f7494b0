package search

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestEdge(t *testing.T) {
	for _, c := range []struct {
		name              string
		from, step, last  float64
		turns, want, near float64 // inside up to turns from 0
	}{
		{"up", 0, 0.25, 100, 7.3, 7.3, 1e-9},
		{"down", 0, -0.25, -100, 7.3, -7.3, 1e-9},
		{"within the first step", 0, 10, 100, 1e-3, 1e-3, 1e-9},
		{"beyond the last place", 0, 1, 5, 7.3, 5, 0},
		{"at the last place", 0, 1, 5, 5, 5, 0},
		{"between the last step and the last place", 0, 1, 5, 4.5, 4.5, 1e-9},
	} {
		got := Edge(c.from, c.step, c.last, 45, func(x float64) bool { return math.Abs(x) <= c.turns })
		if math.Abs(got-c.want) > c.near {
			t.Errorf("%s: got %.12f, want %g", c.name, got, c.want)
		}
	}
}

func TestLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-50, 50).Draw(t, "low")
		width := rapid.Float64Range(0.1, 50).Draw(t, "width")
		at := low + width*rapid.Float64Range(0, 1).Draw(t, "at")
		got := Least(low, low+width, 60, func(x float64) float64 { return math.Abs(x - at) })
		if math.Abs(got-at) > 1e-9 {
			t.Fatalf("between %g and %g: got %.12f, want %.12f", low, low+width, got, at)
		}
	})
}
