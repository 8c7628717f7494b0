package report

import (
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/fit"
	"drytally/compute/units"
	"drytally/report/page"
)

// TestRestSize: 58 29/32 in is nearer to 58 15/16 in, which is more wood than there is.
func TestRestSize(t *testing.T) {
	j := exampleJob(filledResult())
	for _, c := range []struct {
		system        units.System
		width, length units.Length
		want          string
	}{
		{units.InchFoot, units.Fraction(319, 32), units.Fraction(1885, 32), `9 15/16" x 4' 10 7/8"`},
		{units.InchFoot, 10 * units.Inch, 48 * units.Inch, `10" x 4'`},
		{units.Metric, 2438 * units.Millimetre / 10, 11976 * units.Millimetre / 10, "243 mm x 1197 mm"},
	} {
		j.system = c.system
		if got := j.restSize(c.width, c.length); got != c.want {
			t.Errorf("%v x %v: got %s, want %s", c.width, c.length, got, c.want)
		}
	}
}

func TestShortRuns(t *testing.T) {
	for in, want := range map[string]string{
		"":                         "",
		"A1":                       "A1",
		"A1 A2":                    "A1 A2",
		"A1 A2 A3":                 "A1 to A3",
		"A08 A09 A10 A12":          "A08 to A10 A12",
		"A8 A9 A10 A11":            "A8 to A11",
		"A8 A09 A10":               "A8 A09 A10",
		"A1 B2 B3 B4 C":            "A1 B2 to B4 C",
		"A1-a A1-b A1-c":           "A1-a A1-b A1-c",
		"A009 A10 A11":             "A009 A10 A11",
		"98 99 100":                "98 to 100",
		"7 99999999999999999999 8": "7 99999999999999999999 8",
	} {
		if got := strings.Join(runsOf(strings.Fields(in), 3, " to ", nextID), " "); got != want {
			t.Errorf("%s: got %s, want %s", in, got, want)
		}
	}
}

// TestDrawFit: the sheet names every leftover and says where bad wood lies; boards alike share a drawing, and only those.
func TestDrawFit(t *testing.T) {
	r := filledResult()
	in := units.Inch
	w := &r.Job.Wanted[1]
	sheet := func(id string, change func(*fit.Board)) fit.Sheet {
		b := fit.Board{ID: id, Length: 96 * in, Width: 6 * in, Thickness: in}
		change(&b)
		return fit.Sheet{Board: b, Cut: true, Whole: fit.Part{Kind: fit.Divided, Length: b.Length, Width: b.Width, Parts: []fit.Part{
			{Kind: fit.Made, Length: 30 * in, Width: b.Width}, {Kind: fit.Kerf, Along: 30 * in, Length: in / 8, Width: b.Width},
			{Kind: fit.Rest, Name: id + "-a", Along: 30*in + in/8, Length: 66*in - in/8, Width: b.Width}}}}
	}
	none := func(*fit.Board) {}
	r.Fit = &compute.FitResult{Known: true, Boards: make([]int, 9), Read: []compute.FitRead{{}, {First: true, Limit: units.Percent(10), Pieces: 1}, {}, {First: true, Pieces: 1}, {}, {}, {}, {}, {}}, Pieces: []compute.FitPiece{{Wanted: w, Count: 6, Made: 6, Can: 6}}, Wood: compute.FitWood{Boards: 28317, Chips: 2832},
		Plan: fit.Plan{Boards: []fit.Sheet{sheet("B1", none), sheet("B2", none), sheet("B3", func(b *fit.Board) { b.Width = 7 * in }),
			sheet("B4", func(b *fit.Board) { b.Defects = []fit.Span{{From: 80 * in, To: 84 * in}} }), sheet("B5", func(b *fit.Board) { b.Defects = []fit.Span{{To: 4 * in}} }), sheet("B6", func(b *fit.Board) { b.LoseEnd = 8 * in })}}}
	for _, id := range []string{"X1", "X2", "X3"} {
		r.Fit.Plan.Boards = append(r.Fit.Plan.Boards, fit.Sheet{Board: fit.Board{ID: id, Length: in, Width: in}})
	}
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, j.drawFit)
	says(t, text, []string{"2 boards, each makes 1 A: B1, B2", "B3 makes 1 A", "B1-a 6", "B2-a 6", "B3-a 7", "B4 makes 1 A", "6' 8\" to 7'", "0 to 4\"", "8\" of bad wood is lost at the ends",
		"Read first, cut if no more than 10.0 %: B2", "B4 makes 1 A", "Read first.", "Ends are not trimmed", "X1 to X3", "solid, cubic feet", "1.00", "0.10"}, []string{"B4, B5", "X2"})
}
