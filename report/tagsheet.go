package report

import (
	"fmt"
	"math"
	"slices"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// The edges of a tag sheet, in millimetres. The side edge is less than many printers reach: what a tag prints stands
// tagPad further in.
const (
	tagSheetSide   = 3.0
	tagSheetTop    = 8.0
	tagSheetBottom = 9.0
	tagFootRoom    = 6.0 // for remarks, above the footer
	cutMark        = 2.5 // half the length of a cutting mark
)

// Measures of a tag of the usual size; other sizes scale them.
const (
	tagUsualWidth  = 4 * 25.4
	tagUsualHeight = 2 * 25.4
	tagStrip       = 9.0  // kept free on top for a hole or staples
	tagPad         = 4.0  // left, right and below
	tagCap         = 12.2 // height of the capitals of the board's number: half as high again as readFrom3m
	tagCapLeast    = 4.0  // and what is left of it on a small tag that has much to say
	tagGap         = 1.8  // below the number
	factLead       = 1.2  // from line to line, as a share of the size
	capShare       = 0.688
	descShare      = 0.212 // what letters such as g reach below the line
	// Both are shares of the size of the typeface: its capitals are 1409 of 2048 units high, its descent 434.

	codeModule    = 0.46 // the size a module is given when there is room
	codeMost      = 0.5  // share of the tag's longer side a code takes at most
	longestCode   = 2331 // bytes; see page.Doc.QR
	cautionLines  = 2
	cautionGap    = 0.8
	smallestScale = 0.3
)

// readFrom3m is how high a capital must be, in millimetres, to be read from 3 m: an inch for every 30 feet, 1/360 of the way.
// Source: Manual on Uniform Traffic Control Devices, FHWA (2009), section 2A.13, letter height on signs; from memory.
const readFrom3m = 3000.0 / 360

// tagSheet is the grid of the tags of a sale, and what was met while drawing them.
type tagSheet struct {
	w, h       float64 // of a tag
	cols, rows int
	x, y       float64 // of the first tag
	shrunk     bool    // the paper is smaller than the tag
	cautions   []string

	drawn, codeless int
	small           int      // tags whose number can't be read from 3 m
	cautionsLeft    []string // cautions the tags have no room for
}

// newTagSheet starts the document, upright or lengthwise, whichever takes more tags.
func (j *job) newTagSheet(s tagPart, record bool) (*page.Doc, *tagSheet) {
	set := j.Job.Settings
	usual := compute.Defaults()
	if set.TagWidth <= 0 {
		set.TagWidth = usual.TagWidth
	}
	if set.TagHeight <= 0 {
		set.TagHeight = usual.TagHeight
	}
	paper := page.Letter
	if set.Paper == compute.A4 {
		paper = page.A4
	}
	o := page.Options{Paper: paper, Record: record,
		Margins: page.Margins{Left: tagSheetSide, Top: tagSheetTop, Right: tagSheetSide, Bottom: tagSheetBottom},
		Title:   "Tags of sale " + s.name(), Author: set.MillName, Subject: "board tags", Creator: "drytally " + j.about.Version, Date: s.Date,
		Stamp:  j.stamp("tags " + s.name()),
		Footer: fmt.Sprintf("Tags of sale %s. Made from %s by drytally %s", s.name(), j.inputs(), j.about.Version)}
	lengthwise := o
	lengthwise.Landscape = true
	g := tagGridOf(o.Body(), set.TagWidth, set.TagHeight)
	if h := tagGridOf(lengthwise.Body(), set.TagWidth, set.TagHeight); h.fit() > g.fit() {
		o, g = lengthwise, h
	}
	d := page.New(o)
	g.settle(d.Body())
	g.cautions = j.tagCautions(s.SaleResult)
	return d, g
}

// tagGridOf lays tags of a size into the body.
func tagGridOf(body page.Rect, width, height units.Length) *tagSheet {
	const play = 1e-6
	g := &tagSheet{w: width.Millimetres(), h: height.Millimetres()}
	g.cols = int((body.W + play) / g.w)
	g.rows = int((body.H - tagFootRoom + play) / g.h)
	return g
}

func (g *tagSheet) fit() int { return g.cols * g.rows }

// settle places the grid in the middle of the width; a tag larger than the paper becomes as large as the paper.
func (g *tagSheet) settle(body page.Rect) {
	if g.fit() == 0 {
		k := min(body.W/g.w, (body.H-tagFootRoom)/g.h)
		g.w, g.h, g.cols, g.rows, g.shrunk = g.w*k, g.h*k, 1, 1, true
	}
	g.x, g.y = body.X+(body.W-float64(g.cols)*g.w)/2, body.Y
}

// draw draws all tags.
func (g *tagSheet) draw(d *page.Doc, all []tag) {
	for i, t := range all {
		at := i % g.fit()
		if at == 0 {
			d.NewPage()
			g.marks(d, min(len(all)-i, g.fit()))
		}
		g.tag(d, t, g.cell(at))
	}
	g.drawn = len(all)
}

// cell is the box of a tag on its sheet.
func (g *tagSheet) cell(at int) page.Rect {
	return page.Rect{X: g.x + float64(at%g.cols)*g.w, Y: g.y + float64(at/g.cols)*g.h, W: g.w, H: g.h}
}

// marks draws a cutting mark at every corner of the first n tags.
func (g *tagSheet) marks(d *page.Doc, n int) {
	s := page.Stroke{Width: page.Hair, Gray: page.Soft}
	paperW, paperH := d.Size()
	rows := (n + g.cols - 1) / g.cols
	for r := range rows + 1 {
		for c := range g.cols + 1 {
			x, y := g.x+float64(c)*g.w, g.y+float64(r)*g.h
			d.Line(max(0, x-cutMark), y, min(paperW, x+cutMark), y, s)
			d.Line(x, max(0, y-cutMark), x, min(paperH, y+cutMark), s)
		}
	}
}

// remarks is the box for remarks on the last sheet, below its last row of tags.
func (g *tagSheet) remarks(d *page.Doc) page.Rect {
	b := d.Body()
	last := 0
	if g.drawn > 0 {
		last = (g.drawn-1)%g.fit()/g.cols + 1
	}
	y := g.y + float64(last)*g.h + cutMark + 0.5
	const side = 5 // further in than the tags' edges, where every printer reaches
	return page.Rect{X: b.X + side, Y: y, W: b.W - 2*side, H: b.Bottom() - y}
}

// tag draws one tag into its box: number on top, the facts below it to the left, the code to the right, cautions at the foot.
func (g *tagSheet) tag(d *page.Doc, t tag, cell page.Rect) {
	upright := cell.H > cell.W // then the code stands below the facts
	k := min(cell.W/tagUsualWidth, cell.H/tagUsualHeight)
	if upright {
		k = min(cell.W/(0.6*tagUsualWidth), cell.H/(1.8*tagUsualHeight))
	}
	k = min(2, max(smallestScale, k))
	strip, pad := tagStrip*k, tagPad*k
	in := page.Rect{X: cell.X + pad, Y: cell.Y + strip, W: cell.W - 2*pad, H: cell.H - strip - pad*0.9}
	in.H -= g.drawCautions(d, t, in, k)
	in = g.drawCode(d, t, in, upright, k)
	gap := tagGap * k
	// A small tag says everything under a smaller number rather than something under a large one.
	capital := min(tagCap*k, max(tagCapLeast, in.H-gap-t.leastHeight(d, in.W)))
	top, capital := drawNumber(d, t.number, in, capital)
	if capital < readFrom3m-1e-6 {
		g.small++
	}
	top += gap
	drawFacts(d, t, page.Rect{X: in.X, Y: in.Y + top, W: in.W, H: in.H - top}, k)
}

// holds reports whether a box has room for the tag's text in the least type, below a number that can still be read.
func (t tag) holds(d *page.Doc, w, h, k float64) bool {
	return t.leastHeight(d, w)+tagGap*k+tagCapLeast <= h
}

// leastHeight is the height of the tag's facts in the least type.
func (t tag) leastHeight(d *page.Doc, w float64) float64 {
	h := 0.0
	for _, f := range t.facts() {
		f.style.Size = page.SizeLeast
		f.style.Leading = page.SizeLeast * factLead
		h += d.Measure(w, f.text, f.style)
	}
	return h
}

// drawNumber draws the board's number, its capitals of the height given or less where it is long, and gives the height
// taken and that of the capitals. The letters' accents reach into the free strip.
func drawNumber(d *page.Doc, number string, in page.Rect, capital float64) (taken, capitals float64) {
	st := page.Style{Face: page.Bold, Size: capital / capShare, Plain: true}
	if w := d.TextWidth(number, st); w > in.W {
		st.Size *= in.W / w
	}
	if st.Size < page.SizeLeast {
		st.Size = page.SizeLeast
		f := d.Fit(page.Rect{X: in.X, Y: in.Y, W: in.W, H: min(in.H, 1.2*page.SizeLeast)}, number, st, 0)
		return min(in.H, 1.2*page.SizeLeast), f.Size * capShare
	}
	h := st.Size * capShare
	d.Text(in.X, in.Y+h, number, st)
	if hangs(number) {
		taken = st.Size * descShare
	}
	return h + taken, h
}

// hangs reports whether a number has letters that reach below the line.
func hangs(s string) bool {
	for _, r := range s {
		switch {
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.', r == ' ', r == '/', r == '#', r == '+', r == '*':
		case r >= 'a' && r <= 'z' && r != 'g' && r != 'j' && r != 'p' && r != 'q' && r != 'y':
		default:
			return true
		}
	}
	return false
}

// fact is a line of the tag and how it is set.
type fact struct {
	text  string
	style page.Style
}

// facts are the lines below the number, and how they are set at the usual size. Empty ones are left out.
func (t tag) facts() []fact {
	all := []fact{
		{t.wood, page.Style{Face: page.Bold, Size: 11 * page.Point}},
		{t.size, page.Style{Size: 11 * page.Point}},
		{t.over, page.Style{Face: page.Bold, Size: 9 * page.Point}},
		{t.mc, page.Style{Size: 9 * page.Point}},
		{t.feet, page.Style{Size: 8 * page.Point}},
		{t.origin, page.Style{Size: 8 * page.Point}},
	}
	return slices.DeleteFunc(all, func(f fact) bool { return f.text == "" })
}

// drawFacts draws what the tag says below its number, all a little smaller where there is much.
func drawFacts(d *page.Doc, t tag, box page.Rect, k float64) {
	all := t.facts()
	const step = 0.96
	scaled := func(f fact, k float64) page.Style {
		f.style.Size = max(page.SizeLeast, f.style.Size*k)
		f.style.Leading = f.style.Size * factLead
		return f.style
	}
	for {
		height, least := 0.0, true
		for _, f := range all {
			st := scaled(f, k)
			least = least && st.Size == page.SizeLeast
			height += d.Measure(box.W, f.text, st)
		}
		if height <= box.H || least {
			break
		}
		k *= step
	}
	y := box.Y
	for _, f := range all {
		st := scaled(f, k)
		h := min(d.Measure(box.W, f.text, st), box.Bottom()-y)
		d.FitBox(page.Rect{X: box.X, Y: y, W: box.W, H: max(0, h)}, f.text, st, 0)
		y += h
	}
}

// drawCode draws the code at the lower right and gives the box left beside it or above it. There is none when its modules
// would be smaller than a phone reads, or when it would leave no room for the text.
func (g *tagSheet) drawCode(d *page.Doc, t tag, in page.Rect, upright bool, k float64) page.Rect {
	text := t.code()
	most := min(in.H, in.W*codeMost)
	if upright {
		most = min(in.W, in.H*codeMost)
	}
	if most <= 0 || len(text) > longestCode {
		g.codeless++
		return in
	}
	module := 0.0
	d.Height(func() { module, _ = d.QR(in.X, in.Y, most, text) })
	size := most * min(1, codeModule*max(1, k)/module)
	left := in
	if upright {
		left.H -= size + 2*k
	} else {
		left.W -= size + 2*k
	}
	if module < page.LeastModule || !t.holds(d, left.W, left.H, k) {
		g.codeless++
		return in
	}
	d.QR(in.Right()-size, in.Bottom()-size, size, text)
	return left
}

// drawCautions draws as many cautions as two lines hold and gives their height. The others are kept for the foot of the
// last sheet, all of them where the tag's text needs the room.
func (g *tagSheet) drawCautions(d *page.Doc, t tag, in page.Rect, k float64) float64 {
	st := page.Style{Size: max(page.SizeLeast, 6.2*page.Point*k), Gray: page.Soft}
	st.Leading = st.Size * factLead
	text, left := "", []string(nil)
	for _, s := range g.cautions {
		longer := joined(" ", text, s)
		h := d.Measure(in.W, longer, st)
		if len(left) > 0 || int(math.Round(h/st.Leading)) > cautionLines || !t.holds(d, in.W, in.H-h-cautionGap*k, k) {
			left = append(left, s)
			continue
		}
		text = longer
	}
	if len(left) > len(g.cautionsLeft) {
		g.cautionsLeft = left
	}
	if text == "" {
		return 0
	}
	h := d.Measure(in.W, text, st)
	d.Paragraph(in.X, in.Bottom()-h, in.W, text, st)
	return h + cautionGap*k
}
