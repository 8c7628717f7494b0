// Package search finds places on a line: where something stops to hold, and where a function is least.
package search

import "math"

// Edge returns where inside stops to hold, seen from a place where it holds: it walks from there in growing steps, the first one
// step wide, to a place where it doesn't, and halves what lies between. A step below 0 walks down. last is where the walk ends; it
// comes back when inside holds there too. inside must not come to hold again once it has stopped.
func Edge(inner, step, last float64, halvings int, inside func(x float64) bool) float64 {
	outer := inner
	for {
		outer += step
		if step > 0 && outer >= last || step < 0 && outer <= last {
			if outer = last; inside(outer) {
				return last
			}
			break
		}
		if !inside(outer) {
			break
		}
		inner, step = outer, 2*step
	}
	for range halvings {
		if x := (inner + outer) / 2; inside(x) {
			inner = x
		} else {
			outer = x
		}
	}
	return (inner + outer) / 2
}

// Least returns the place of the one valley of f between low and high, by golden section: each step keeps 0.618 of the stretch.
func Least(low, high float64, steps int, f func(x float64) float64) float64 {
	ratio := (math.Sqrt(5) - 1) / 2
	a, b := high-ratio*(high-low), low+ratio*(high-low)
	fa, fb := f(a), f(b)
	for range steps {
		if fa > fb {
			low, a, fa = a, b, fb
			b = low + ratio*(high-low)
			fb = f(b)
		} else {
			high, b, fb = b, a, fa
			a = high - ratio*(high-low)
			fa = f(a)
		}
	}
	return (low + high) / 2
}
