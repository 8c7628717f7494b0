package page

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// hebrew writes capitals as letters that run from right to left, in the manner of the examples in Unicode Standard Annex 9.
func hebrew(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' {
			return 0x5D0 + (r - 'A')
		}
		return r
	}, s)
}

func seen(s string) string { return copied(inSight(shape(s, Style{}).atoms)) }

func TestRightToLeftTextStandsInItsOrder(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"car means CAR.", "car means RAC."}, // Annex 9, 3.4, example of rule L2; from memory
		{"he said THE CAR WAS IT", "he said TI SAW RAC EHT"},
		{"A", "A"}, {"AB", "BA"}, {"AB CD", "DC BA"}, {"AB cd EF", "BA cd FE"},
		{"board AB 12", "board 12 BA"}, {"AB 12 CD", "DC 12 BA"}, {"12 AB", "12 BA"}, {"AB 3.5% CD", "DC 3.5% BA"},
		{"AB (CD) x", "(DC) BA x"}, {"AB 11 3/8 CD", "DC 11 3/8 BA"}, {"AB, cd", "BA, cd"}, {"(AB)", "(BA)"},
		{"AB\nCD e", "BA\nDC e"}, {"plain (text) 12", "plain (text) 12"}, {"AB-CD", "DC-BA"}, {"12-AB", "12-BA"},
	} {
		var got []string
		for _, line := range strings.Split(hebrew(c.in), "\n") {
			got = append(got, seen(line))
		}
		if want := hebrew(c.want); strings.Join(got, "\n") != want {
			t.Errorf("%q stands as %q, want %q", hebrew(c.in), strings.Join(got, "\n"), want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		atoms := shape(rapid.StringOf(rapid.RuneFrom([]rune("ab 12.%()\n\u05D0\u05D1\u05D2-/"))).Draw(t, "text"), Style{}).atoms
		sorted := map[string]int{}
		for _, a := range atoms {
			sorted[strings.NewReplacer("(", ")").Replace(a.text)]++
		}
		for _, a := range inSight(atoms) {
			sorted[strings.NewReplacer("(", ")").Replace(a.text)]--
		}
		for s, n := range sorted {
			if n != 0 {
				t.Fatalf("the sign %q was lost or doubled", s)
			}
		}
	})
}

// A reader that knows the rules gets the letters back in the order they were written.
func TestRightToLeftTextCopiesOut(t *testing.T) {
	d := New(Options{NoFooter: true})
	d.Para("mill "+hebrew("SHLOM")+" end", Style{})
	got := run(t, "pdftotext", document(t, d), "-")
	clean := strings.Map(func(r rune) rune {
		if r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 {
			return -1
		}
		return r
	}, got)
	if want := hebrew("SHLOM"); !strings.Contains(clean, want) {
		t.Errorf("got %q, want it to hold %q", clean, want)
	}
}
