package compute

import (
	"testing"
	"time"

	"drytally/compute/units"
)

// By hand, in a kiln of 156 x 120 x 48 in with 6 in kept above, 3 in at the ends, bolsters of 4 in and stickers of 3/4 in: a course of
// 12 boards 8 in wide is 12 x 8 + 11 x 1/2 = 101 1/2 in wide and reaches 5 7/8 in up; 42 1/8 in are left above it, and behind 8 feet
// 156 - 3 - 96 = 57 in. Two boards more leave 101 1/2 - 16 = 85 1/2 in between them, one more 46 3/4 in on each side.
func TestKilnOpenings(t *testing.T) {
	ash := woodNamed("white ash")
	row := func(n int, long units.Length) Cut {
		return Cut{Species: ash, Thickness: units.Fraction(9, 8), Width: 8 * units.Inch, Length: long, Pieces: n, Date: sawn(5, 1)}
	}
	for _, c := range []struct {
		name   string
		height units.Length
		cuts   []Cut
		want   string
		at     int
		with   map[string]string
	}{
		{"one course", 48 * units.Inch, []Cut{row(12, 96*units.Inch)}, "kiln-open-above kiln-open-behind kiln-open-from", 0, map[string]string{"room": `42 1/8"`, "kept": `6"`}},
		{"behind", 48 * units.Inch, []Cut{row(12, 96*units.Inch)}, "kiln-open-above kiln-open-behind kiln-open-from", 1, map[string]string{"room": `57"`, "kept": `3"`}},
		// 17 7/8 - 5 7/8 = 12 in is what is kept and 6 in more; 153 in of boards leave nothing behind but what the ends keep.
		{"as much as may be", 143 * units.Inch / 8, []Cut{row(12, 147*units.Inch)}, "", 0, nil},
		{"an eighth more above", 18 * units.Inch, []Cut{row(12, 147*units.Inch)}, "kiln-open-above kiln-open-from", 0, map[string]string{"room": `12 1/8"`}},
		{"a few on top", 16 * units.Inch, []Cut{row(14, 147*units.Inch)}, "kiln-open-course kiln-open-from", 0, map[string]string{"course": "2", "room": `85 1/2"`, "boards": "2"}},
		{"one on top", 16 * units.Inch, []Cut{row(13, 147*units.Inch)}, "kiln-open-course kiln-open-from", 0, map[string]string{"course": "2", "room": `46 3/4"`, "boards": "1"}},
		{"short ones", 16 * units.Inch, []Cut{row(12, 147*units.Inch), row(12, 130*units.Inch)}, "kiln-open-short kiln-open-from", 0, map[string]string{"from": "2", "to": "2", "room": `17"`}},
		{"short by no more than 6 in", 16 * units.Inch, []Cut{row(12, 147*units.Inch), row(12, 141*units.Inch)}, "", 0, nil},
	} {
		s := kilnSettings()
		s.Kiln.Height = c.height
		l := Assess(&Job{Settings: s, Cuts: c.cuts}).Kiln.Loads[0]
		if got := names(l.Open); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
			continue
		}
		for k, want := range c.with {
			if got := l.Open[c.at].With[k]; got != want {
				t.Errorf("%s: %s: got %q, want %q", c.name, k, got, want)
			}
		}
	}
}

// A load in the kiln keeps those out that have no date in; its own plan is held against the stack as it stands.
func TestKilnTaken(t *testing.T) {
	cut := func(load string) Cut {
		return Cut{Species: woodNamed("white ash"), Load: load, Thickness: units.Inch, Width: 8 * units.Inch, Length: 96 * units.Inch, Pieces: 12, Date: sawn(5, 1)}
	}
	for _, c := range []struct {
		name  string
		loads []Load
		want  map[string]string // load -> loads that stand in the kiln
	}{
		{"free", []Load{{ID: "K1", DateIn: sawn(time.May, 1), DateOut: sawn(time.May, 9)}, {ID: "K2"}}, map[string]string{"": "", "K2": ""}},
		{"one in it", []Load{{ID: "K1", DateIn: sawn(time.May, 1)}, {ID: "K2"}}, map[string]string{"": "K1 (in since 1 May 2026)", "K1": "", "K2": "K1 (in since 1 May 2026)"}},
	} {
		r := Assess(&Job{Settings: kilnSettings(), Loads: c.loads, Cuts: []Cut{cut(""), cut("K1"), cut("K2")}})
		for _, l := range r.Kiln.Loads {
			if got := l.Taken.With["loads"]; got != c.want[l.Load] {
				t.Errorf("%s: load %q: got %q, want %q", c.name, l.Load, got, c.want[l.Load])
			}
		}
	}
}
