package page

import (
	"slices"
	"testing"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"drytally/compute/letter"
)

// The owner is told of exactly the signs that are drawn as boxes or left out.
func TestLettersToldAreThoseDrawn(t *testing.T) {
	check := func(s string) (same bool, boxed, invisible int) {
		told, left := letter.Lost(s)
		seen := map[rune]bool{}
		for _, r := range norm.NFC.String(s) {
			one := clean(string(r), Regular.data())
			switch {
			case slices.Contains(one.replaced, true):
				seen[r] = true
				boxed++
			case one.dropped > 0:
				seen[r] = true
				invisible++
			}
		}
		for _, r := range append(told, left...) {
			if !seen[r] {
				return false, boxed, invisible
			}
			delete(seen, r)
		}
		return len(seen) == 0, boxed, invisible
	}
	boxed, invisible := 0, 0
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if r > 0x2FFFF && r < 0xE0000 || r > 0xE0FFF && r&0xFF != 0 {
			continue // planes without letters
		}
		same, b, i := check(string(r))
		if !same {
			t.Fatalf("U+%04X: what is told is not what is drawn", r)
		}
		boxed, invisible = boxed+b, invisible+i
	}
	if boxed < 10_000 || invisible < 100 {
		t.Errorf("only %d boxes and %d left out were seen", boxed, invisible)
	}
	for _, face := range []Face{Bold, Italic} {
		for r := range rune(0x10000) {
			if Regular.data().has(r) != face.data().has(r) && letter.Of(r) == letter.Shown {
				t.Errorf("U+%04X is shown, and not all faces have it", r)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		if same, _, _ := check(s); !same {
			t.Fatalf("%q: what is told is not what is drawn", s)
		}
	})
}
