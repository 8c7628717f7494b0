package page

import (
	"strconv"
	"strings"
)

// flow is the state of laying out one thing below the other.
type flow struct {
	y         float64 // the cursor: where the next thing starts
	top       float64 // where the cursor stood after the running head
	fresh     bool    // nothing stands on the page yet, so that a space before is left out
	lastLevel int     // of the outline
	notes     []note
	noteCount int
}

type note struct {
	number int
	text   string
}

// Y is the cursor: the height where the flow goes on.
func (d *Doc) Y() float64 {
	d.begin()
	return d.y
}

// SetY moves the cursor.
func (d *Doc) SetY(y float64) {
	d.begin()
	if d.finite(y) {
		d.y, d.fresh = y, false
	}
}

// Space moves the cursor down, but not at the top of a page.
func (d *Doc) Space(mm float64) {
	d.begin()
	if !d.fresh {
		d.y += mm
	}
}

// Room is what is left of the body below the cursor.
func (d *Doc) Room() float64 {
	d.begin()
	return d.body.Bottom() - d.y
}

// Need turns the page when less than h is left of it, unless nothing stands on it yet. It reports whether it did.
func (d *Doc) Need(h float64) bool {
	d.begin()
	if d.measuring > 0 || d.Room() >= h-1e-6 || d.fresh {
		return false
	}
	d.NewPage()
	return true
}

// took moves the cursor below something that was drawn.
func (d *Doc) took(h float64) {
	d.y += h
	d.fresh = false
}

// KeepTogether lays out what draw draws on one page: it is first measured, then, if too little room is left, the page is
// turned. What is higher than a page is laid out as it comes. draw is called twice and must do nothing but draw on d.
func (d *Doc) KeepTogether(draw func()) {
	if h := d.Height(draw); h <= d.body.Bottom()-d.top {
		d.Need(h)
	}
	draw()
}

// Height gives the height that draw takes in the flow, without drawing it. draw must do nothing but draw on d.
func (d *Doc) Height(draw func()) float64 {
	d.begin()
	before, report := d.flow, d.report
	before.notes = append([]note(nil), d.notes...)
	d.measuring++
	draw()
	d.measuring--
	h := d.y - before.y
	d.flow, d.report = before, report
	return h
}

// Title writes the line that names the paper, with what stands to its right in small type (a number, a date).
func (d *Doc) Title(s, right string) {
	d.begin()
	st := Style{Face: Bold, Size: SizeTitle}
	d.Need(2 * st.leading())
	w := d.body.W
	if right != "" {
		w = d.body.W*0.68 - Gutter
		rs := Style{Size: SizeSmall, Gray: Soft, Align: Right}
		d.FitBox(Rect{d.body.X + d.body.W*0.68, d.y + 0.6, d.body.W * 0.32, st.leading()}, right, rs, 0)
	}
	d.Fit(Rect{d.body.X, d.y, w, st.leading()}, s, st, SizeLead)
	d.took(st.leading() + 1.2)
}

// Heading writes the heading of a part, level 1 or 2, of at most three lines, with a space before it, keeps it with at least 12 mm of what follows,
// and puts it into the outline.
func (d *Doc) Heading(level int, s string) {
	st, before, after := Style{Face: Bold, Size: SizeHeading}, 6.0, 1.6
	if level > 1 {
		st, before, after = Style{Face: Bold, Size: SizeBody}, 2.8, 0.5
	}
	const keep = 12
	const mostLines = 3
	lines, dropped := d.linesOf(d.body.W, s, st)
	lines = d.cutLines(lines, mostLines, d.body.W, st)
	d.count(shaped{dropped: dropped})
	h := float64(len(lines)) * st.leading()
	d.Space(before)
	d.Need(h + after + keep)
	d.Bookmark(max(0, level-1), d.y, s)
	d.took(d.drawLines(lines, Rect{d.body.X, d.y, d.body.W, h}, st) + after)
}

// Rule draws a thin line across the body, with a little space above and below.
func (d *Doc) Rule(s Stroke) {
	d.Need(3)
	d.Space(1.2)
	d.Line(d.body.X, d.y, d.body.Right(), d.y, s)
	d.took(1.8)
}

// Para writes a paragraph across the body. It turns the page where it must, leaving no single first or last line behind.
func (d *Doc) Para(s string, st Style) { d.ParaIn(d.body.X, d.body.W, s, st) }

// ParaIn is Para between x and x+w.
func (d *Doc) ParaIn(x, w float64, s string, st Style) {
	d.begin()
	lines, dropped := d.linesOf(w, s, st)
	d.count(shaped{dropped: dropped})
	lead := st.leading()
	for len(lines) > 0 {
		n := len(lines)
		if room := int(d.Room()/lead + 1e-6); d.measuring == 0 && n > room {
			n = room
			if len(lines)-n == 1 && n > 2 {
				n-- // two lines go over, not one
			}
			if n < 2 && !d.fresh {
				d.NewPage()
				continue
			}
			n = max(n, 1)
		}
		d.took(d.drawLines(lines[:n], Rect{x, d.y, w, float64(n) * lead}, st))
		if lines = lines[n:]; len(lines) > 0 {
			d.NewPage()
		}
	}
}

// Bullets writes a list, each item after a short dash.
func (d *Doc) Bullets(items []string, st Style) {
	const indent = 4
	for _, s := range items {
		d.Need(min(d.Measure(d.body.W-indent, s, st), 2*st.leading()))
		d.Paragraph(d.body.X, d.y, indent, "\u2013", st)
		d.ParaIn(d.body.X+indent, d.body.W-indent, s, st)
		d.took(0.6)
	}
}

// Pair is a name and what belongs to it.
type Pair struct{ Key, Value string }

// Pairs writes names and values in cols columns (1 to 3), filled from the top down. Values wrap; names are in gray.
func (d *Doc) Pairs(pairs []Pair, cols int) {
	cols = max(1, min(3, cols))
	lead := SizeTable * tightFactor // values seldom run over a line
	ks, vs := Style{Size: SizeTable, Leading: lead, Gray: Soft}, Style{Size: SizeTable, Leading: lead}
	rows := (len(pairs) + cols - 1) / cols
	x0, w := d.Column(0, Columns/cols)
	step := w + Gutter
	kw := 0.0
	for _, p := range pairs {
		kw = max(kw, d.TextWidth(p.Key, ks))
	}
	kw = min(kw+3, w*0.45)
	for r := range rows {
		h := 0.0
		for c := range cols {
			if i := c*rows + r; i < len(pairs) {
				h = max(h, d.Measure(kw-2, pairs[i].Key, ks), d.Measure(w-kw, pairs[i].Value, vs))
			}
		}
		d.Need(h)
		if h > d.Room() && d.measuring == 0 { // a value higher than a page goes below its name, over the pages
			for c := range cols {
				if i := c*rows + r; i < len(pairs) {
					d.Para(pairs[i].Key, ks)
					d.Para(pairs[i].Value, vs)
				}
			}
			continue
		}
		for c := range cols {
			if i := c*rows + r; i < len(pairs) {
				x := x0 + float64(c)*step
				d.Paragraph(x, d.y, kw-2, pairs[i].Key, ks)
				d.Paragraph(x+kw, d.y, w-kw, pairs[i].Value, vs)
			}
		}
		d.took(h + 0.5)
	}
}

// Note takes a footnote and gives its mark, a raised number to put behind the words it belongs to. The same text has the
// same number until Notes writes them out; numbers run on through the document.
func (d *Doc) Note(s string) string {
	for _, n := range d.notes {
		if n.text == s {
			return raised(n.number)
		}
	}
	d.noteCount++
	d.notes = append(d.notes, note{d.noteCount, s})
	return raised(d.noteCount)
}

// Notes writes the footnotes taken since the last call, below what they belong to, and forgets them.
func (d *Doc) Notes() {
	if len(d.notes) == 0 {
		return
	}
	st := Style{Size: SizeSmall}
	const indent = 4
	d.Need(1.6 + 2*st.leading())
	d.Space(1.6)
	_, w := d.Column(0, 2)
	d.Line(d.body.X, d.y, d.body.X+w, d.y, Stroke{Width: Hair, Gray: Mid})
	d.took(1)
	notes := d.notes
	d.notes = nil
	for _, n := range notes {
		d.Need(min(2, float64(len(d.lines(d.body.W-indent, n.text, st)))) * st.leading())
		d.Fit(Rect{d.body.X, d.y, indent - 1, st.leading()}, raised(n.number), st, 0)
		d.ParaIn(d.body.X+indent, d.body.W-indent, n.text, st)
	}
}

// raised writes a number in superscript digits.
func raised(n int) string {
	digits := [...]string{"\u2070", "\u00B9", "\u00B2", "\u00B3", "\u2074", "\u2075", "\u2076", "\u2077", "\u2078", "\u2079"}
	var b strings.Builder
	for _, r := range strconv.Itoa(n) {
		b.WriteString(digits[r-'0'])
	}
	return b.String()
}
