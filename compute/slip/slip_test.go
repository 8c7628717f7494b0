package slip

import (
	"testing"

	"pgregory.net/rapid"
)

func TestCountAndOne(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b  string
		count int
		one   bool
	}{
		{"kerf", "kerf", 0, false},
		{"kerf", "kerff", 1, true},
		{"kerf", "krf", 1, true},
		{"kerf", "korf", 1, true},
		{"kerf", "kefr", 2, true}, // swapped: two letters changed, one slip
		{"kerf", "kref", 2, true},
		{"kerf", "fker", 2, false},
		{"kerf", "kerfff", 2, false},
		{"chêne", "chene", 1, true}, // letters, not bytes
		{"ab", "ba", 2, true},
		{"", "a", 1, true},
		{"", "", 0, false},
		{"season", "seson", 1, true},
		{"check", "watch", 4, false},
	} {
		if count, one := Count(c.a, c.b), One(c.a, c.b); count != c.count || one != c.one {
			t.Errorf("%q and %q: got %d and %v, want %d and %v", c.a, c.b, count, one, c.count, c.one)
		}
	}
}

// TestSlipsAgree: both are the same either way round; one slip is a count of one, or of two when letters were swapped.
func TestSlipsAgree(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringOfN(rapid.SampledFrom([]rune("abê")), 0, 5, -1)
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		n, one := Count(a, b), One(a, b)
		if n != Count(b, a) || one != One(b, a) {
			t.Fatalf("%q and %q: not the same the other way round", a, b)
		}
		if (n == 0) != (a == b) || n == 1 && !one || one && n != 1 && n != 2 {
			t.Fatalf("%q and %q: %d slips, and one slip is %v", a, b, n, one)
		}
	})
}
