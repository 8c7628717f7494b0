package page

import (
	"fmt"
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

func TestFacesHaveWhatPapersPrint(t *testing.T) {
	// No sixths, ticks, ballot boxes or raised zero: those are drawn.
	need := "ABCxyz0189 .,;:!?'\"()/%&#+-\u2013\u2014\u2026\u00B0\u00B1\u00D7\u00F7\u2264\u2265\u2248\u2260\u00B2\u00B3\u00B9\u2074\u2079\u2212\u00B7\u2022\u2192\u03C3\u00E9\u00DF\u201C\u201D\u2018\u2019\u25A1"
	for f := Regular; f <= Italic; f++ {
		for _, r := range need {
			if !f.data().has(r) {
				t.Errorf("face %d lacks %q", f, r)
			}
		}
	}
	if !strings.Contains(FontLicense, "SIL OPEN FONT LICENSE Version 1.1") {
		t.Error("the license of the typeface is not embedded")
	}
}

// The widths the layout counts with are those the PDF library states in the document.
func TestWidthsAgreeWithTheDocument(t *testing.T) {
	d := New(Options{})
	d.NewPage()
	for f := Regular; f <= Italic; f++ {
		d.ink.known = false
		d.setFont(f, true, 1)
		for r := range commonBytes() {
			coded, _ := inCommon(string(r))
			if got, want := d.pdf.GetStringSymbolWidth(coded), int(f.data().advance(r)); got != want {
				t.Errorf("common face %d, %U: got width %d, want %d", f, r, got, want)
			}
		}
		d.setFont(f, false, 1)
		for r, w := range f.data().width {
			if got := d.pdf.GetStringSymbolWidth(string(rune(r))); got != int(w) && w > 0 {
				t.Errorf("face %d, %U: got width %d, want %d", f, r, got, w)
			}
		}
	}
}

func TestClean(t *testing.T) {
	for _, c := range []struct {
		name, in, want    string
		replaced, dropped int
	}{
		{"plain", "abc 1", "abc 1", 0, 0},
		{"composes", "e\u0301", "\u00E9", 0, 0},
		{"does not compose", "x\u0302", "x\u25A1", 1, 0},
		{"lone mark", "\u0301", "\u25A1", 1, 0},
		{"above the plane", "a\U0001F332b", "a\u25A1b", 1, 0},
		{"joined emoji", "\U0001F468\u200D\U0001F469", "\u25A1\u25A1", 2, 1},
		{"control", "a\x00b\x1bc", "a\u25A1b\u25A1c", 2, 0},
		{"direction marks", "\u202Ea\u202C\u200F", "a", 0, 3},
		{"hebrew", "\u05E9a", "\u05E9a", 0, 0},
		{"arabic", "\u0645a", "\u25A1a", 1, 0},
		{"arabic", "\u0645", "\u25A1", 1, 0},
		{"chinese", "\u4E2D", "\u25A1", 1, 0},
		{"lines", "a\r\nb\rc\u2028d", "a\nb\nc\nd", 0, 0},
		{"spaces", "a\tb\u2003c\u202Fd", "a b c\u00A0d", 0, 0},
		{"fraction character", "11\u215C", "11 3/8", 0, 0},
		{"fraction character alone", "\u00BD in", "1/2 in", 0, 0},
		{"fraction slash", "3\u20448", "3/8", 0, 0},
		{"the typeface lacks a sixth", "\u2159", "1/6", 0, 0},
		{"bad utf8", "a\xffb", "a\u25A1b", 1, 0},
		{"variation selector", "a\uFE0F", "a", 0, 1},
	} {
		got := clean(c.in, Regular.data())
		replaced := 0
		for _, r := range got.replaced {
			if r {
				replaced++
			}
		}
		if string(got.runes) != c.want || replaced != c.replaced || got.dropped != c.dropped {
			t.Errorf("%s: clean(%q) gives %q, %d replaced, %d dropped, want %q, %d, %d", c.name, c.in, string(got.runes),
				replaced, got.dropped, c.want, c.replaced, c.dropped)
		}
	}
}

func TestFractions(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{`11 3/8"`, `[11 3/8]"`},
		{`3/8`, `[3/8]`},
		{`1/2 x 3/4`, `[1/2] x [3/4]`},
		{`3/4x6`, `[3/4]x6`},
		{`11-3/8`, `11-[3/8]`},
		{`7 63/64.`, `[7 63/64].`},
		{`(13/16")`, `([13/16]")`},
		{`5/4`, `5/4`}, {`4/4`, `4/4`}, {`8/4 oak`, `8/4 oak`}, // nominal thicknesses
		{`11/22/2024`, `11/22/2024`}, {`1/2/25`, `1/2/25`}, // dates
		{`A-3/8`, `A-3/8`}, {`B3/8`, `B3/8`}, {`3/8a`, `3/8a`}, // ids
		{`3/7`, `3/7`}, {`0/8`, `0/8`}, {`12/40`, `12/40`}, {`1/128`, `1/128`}, {`3/8.5`, `3/8.5`},
		{`1.1/2`, `1.1/2`}, {`2.5 3/8`, `2.5 [3/8]`}, {`3/8/16`, `3/8/16`}, {`3/`, `3/`}, {`/8`, `/8`},
		{"11\u00A03/8", `[11 3/8]`}, {`11  3/8`, `11  [3/8]`}, {`20241 3/8`, `20241 [3/8]`},
		{"9\u215E", `[9 7/8]`},
	} {
		var b strings.Builder
		for _, a := range shape(c.in, Style{}).atoms {
			if a.set != nil {
				b.WriteString("[" + a.text + "]")
				continue
			}
			b.WriteString(a.text)
		}
		if b.String() != c.want {
			t.Errorf("%q is set as %q, want %q", c.in, b.String(), c.want)
		}
		if got := copied(shape(c.in, Style{Plain: true}).atoms); strings.Contains(got, "[") {
			t.Errorf("%q set plain gives %q", c.in, got)
		}
	}
}

// Whatever the text and the width: no line is wider than the limit unless it is a single atom, and no character but spaces
// and line ends is lost.
func TestWrapKeepsEverything(t *testing.T) {
	letters := rapid.StringOf(rapid.SampledFrom([]rune("aW i.-/1238 \n\u00A0\u2013\u00E9\u0301\u05E9\U0001F332\"\u2070")))
	rapid.Check(t, func(t *rapid.T) {
		s := letters.Draw(t, "text")
		limit := rapid.Float64Range(0.1, 12).Draw(t, "limit")
		sh := shape(s, Style{})
		lines := wrap(sh.atoms, limit)
		var got strings.Builder
		for _, l := range lines {
			if width(l) > limit+1e-6 && len(l) > 1 {
				t.Fatalf("%q at %g: line %q is %g wide", s, limit, copied(l), width(l))
			}
			got.WriteString(copied(l))
		}
		squeeze := strings.NewReplacer(" ", "", "\n", "")
		if g, w := squeeze.Replace(got.String()), squeeze.Replace(copied(sh.atoms)); g != w {
			t.Fatalf("%q at %g: got %q, want %q", s, limit, g, w)
		}
	})
}

func TestWrapPlaces(t *testing.T) {
	for _, c := range []struct {
		name, in string
		limit    float64
		want     []string
	}{
		{"empty", "", 5, []string{""}},
		{"one word", "aaa", 5, []string{"aaa"}},
		{"between words", "aaa aaa aaa", 4, []string{"aaa aaa", "aaa"}}, // an a is 0.556 wide, a space 0.278
		{"long word", "aaaaaaaa", 1.7, []string{"aaa", "aaa", "aa"}},
		{"no-break space", "aa aa\u00A0aa", 3.2, []string{"aa", "aa aa"}},
		{"fraction stays whole", "aaa 11 3/8", 3.1, []string{"aaa", "11 3/8"}},
		{"number and unit", "aaaa 5.7 %", 4.2, []string{"aaaa", "5.7 %"}},
		{"fraction and unit", "aaa 3/8 in", 3.4, []string{"aaa", "3/8 in"}},
		{"unit before a point", "aaa 38 mm.", 3.4, []string{"aaa", "38 mm."}},
		{"square metres", "aaa 38 m\u00B2", 3.4, []string{"aaa", "38 m\u00B2"}},
		{"a word that begins as a unit", "aaaa 12 men", 4.2, []string{"aaaa 12", "men"}},
		{"no number before it", "aaa aa % aa", 3.8, []string{"aaa aa", "% aa"}},
		{"hyphen", "aaa-aaa", 2.5, []string{"aaa-", "aaa"}},
		{"forced", "a\nb\n\nc", 5, []string{"a", "b", "", "c"}},
		{"leading spaces", "  aaa", 5, []string{"aaa"}},
	} {
		var got []string
		for _, l := range wrap(shape(c.in, Style{}).atoms, c.limit) {
			got = append(got, copied(l))
		}
		if fmt.Sprintf("%q", got) != fmt.Sprintf("%q", c.want) {
			t.Errorf("%s: %q at %g gives %q, want %q", c.name, c.in, c.limit, got, c.want)
		}
	}
}

// Every way to draw text, with every nasty text, in boxes wide and narrow: nothing panics, nothing leaves its box, and what
// is lost is counted.
func TestNastyTextsStayInTheirBoxes(t *testing.T) {
	for i, s := range nasty {
		for _, w := range []float64{0, 3, 60} {
			d := New(Options{Record: true, Footer: s, Title: s})
			d.NewPage()
			b := d.Body()
			st := Style{Face: Face(i % 3), Align: Align(i % 3)}
			d.Fit(Rect{b.X, b.Y, w, 5}, s, st, 0)
			d.Fit(Rect{b.X, b.Y, w, 0.8}, s, st, 3)
			d.FitBox(Rect{b.X, b.Y, w, 9}, s, st, 0)
			d.FitBox(Rect{b.X, b.Y, w, 0.4}, s, st, 0)
			d.ParaIn(b.X, w, s, st)
			d.Pairs([]Pair{{s, s}, {"key", s}, {s, "value"}}, 1+i%3)
			d.Table(Table{X: b.X, W: max(w, 6), Columns: []Column{{Head: s, Width: 5}, {Head: "b"}, {Width: 9, Align: Right}},
				Rows: []Row{Cells(s, s, s), {Cells: []Cell{{Text: s, Span: 9, Mark: TickedBox}}}, Cells("x", "y", s, s, s)}})
			d.Bullets([]string{s}, st)
			d.Para("x"+d.Note(s), st)
			d.Notes()
			d.KeepTogether(func() { d.Heading(1+i%2, s); d.Para(s, st) })
			d.Title(s, s)
			if _, err := d.Bytes(); err != nil {
				t.Fatalf("text %d, width %g: %v", i, w, err)
			}
			for _, x := range Outside(d.Drawn(), Rect{b.X, b.Y, b.W, b.H + 20}) {
				t.Errorf("text %d, width %g: %s %.20q at %v leaves %v", i, w, x.What, x.Text, x.Box, x.Clip)
			}
			for _, x := range d.Drawn() {
				if !x.Foot && x.Box.Bottom() > b.Bottom()+0.01 {
					t.Errorf("text %d, width %g: %q at %v runs into the footer", i, w, x.Text, x.Box)
				}
			}
		}
	}
}

func TestNothingIsLostUnseen(t *testing.T) {
	d := New(Options{})
	d.Para("a\U0001F332\u4E2D\x00\u200Fb", Style{})
	d.Fit(Rect{20, 50, 10, 5}, strings.Repeat("long ", 40), Style{}, 0)
	if got, want := d.Report(), (Report{Replaced: 3, Dropped: 1, Cut: 1}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	d.Height(func() { d.Para("\U0001F332", Style{}) })
	if got := d.Report().Replaced; got != 3 {
		t.Errorf("measuring counted: got %d replaced, want 3", got)
	}
}

func TestFitShrinksThenCuts(t *testing.T) {
	d := New(Options{Record: true})
	d.NewPage()
	box := Rect{20, 20, 40, 6}
	for _, c := range []struct {
		name, s string
		want    func(Fitted) bool
	}{
		{"fits", "short", func(f Fitted) bool { return f.Size == SizeBody && !f.Cut }},
		{"shrinks", strings.Repeat("a", 26), func(f Fitted) bool { return f.Size < SizeBody && f.Size > SizeLeast && !f.Cut }},
		{"is cut", strings.Repeat("a", 90), func(f Fitted) bool { return f.Size == SizeLeast && f.Cut }},
	} {
		if got := d.Fit(box, c.s, Style{}, 0); !c.want(got) {
			t.Errorf("%s: got %+v", c.name, got)
		}
	}
	last := d.Drawn()[len(d.Drawn())-1]
	if !strings.HasSuffix(last.Text, ellipsis) || !norm.NFC.IsNormalString(last.Text) {
		t.Errorf("cut text is %q, want it to end in an ellipsis", last.Text)
	}
}
