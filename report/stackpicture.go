package report

import (
	"fmt"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// The largest stack that is drawn; a larger one is told by the list of boards alone.
const (
	mostCourses = 60
	mostSpots   = 40
)

// stackPicture is the stack seen from its end: courses up, spots across.
type stackPicture struct {
	l      *compute.LoadResult
	byID   map[string]*compute.BoardResult
	cell   page.Rect // size of a place; X and Y are its place while drawing
	column float64   // room for the names of the courses
	beside bool      // legend and parts of the stack stand to its right
}

// What stands to the right of the stack, when its places stay wide enough for their numbers.
const (
	besideWidth = 66.0
	besideGap   = 7.0
	leastPlace  = 7.5
)

// placeKind is how a place of the stack is drawn.
type placeKind uint8

const (
	noBoard    placeKind = iota // no board is said to lie there
	unmeasured                  // a board lies there, without a reading
	inLimit
	underRange
	overLimit
)

// stackDrawn reports whether the stack is drawn: when its courses and spots are known and not too many.
func stackDrawn(l *compute.LoadResult) bool {
	return len(l.Stack) > 0 && l.Courses > 0 && l.Spots > 0 && l.Courses <= mostCourses && l.Spots <= mostSpots
}

// drawLoadStack draws the stack seen from its end.
func (j *job) drawLoadStack(d *page.Doc, l *compute.LoadResult) {
	if !stackDrawn(l) {
		j.drawStrata(d, l)
		return
	}
	p := stackPicture{l: l, byID: j.boardsByID(l), column: 16}
	room := d.Body().W - p.column
	if w := (room - besideWidth - besideGap) / float64(l.Spots); w >= leastPlace {
		room, p.beside = w*float64(l.Spots), true
	}
	p.cell.W = min(15, room/float64(l.Spots))
	p.cell.H = max(2.0, min(3.4, 105/float64(l.Courses), p.cell.W*0.8))
	d.KeepTogether(func() {
		d.Heading(2, "The stack seen from its end")
		p.draw(d, j)
	})
	d.KeepTogether(func() {
		if words := strings.Join(j.strataWords(l), " "); p.beside && words != "" {
			d.Para(words, page.Style{Size: page.SizeTable})
		}
		if len(l.NotMeasured) > 0 { // the stack shows those that are not named
			d.Para("Not measured: "+strings.Join(shortened(l.NotMeasured, 12), "; ")+".", page.Style{Size: page.SizeSmall})
		}
	})
	if !p.beside {
		j.drawStrata(d, l)
	}
}

// kind says what a place shows. The number compared was compared before; here it is only looked up.
func (p *stackPicture) kind(s compute.Spot) placeKind {
	over, under := s.Over, s.Under
	if b := p.byID[s.Board]; b != nil {
		over, under = over || b.Over, under || b.Under
	}
	switch {
	case s.MC.State == units.NotTaken && s.Board == "":
		return noBoard
	case s.MC.State == units.NotTaken:
		return unmeasured
	case over:
		return overLimit
	case under:
		return underRange
	}
	return inLimit
}

func (p *stackPicture) draw(d *page.Doc, j *job) {
	b := d.Body()
	left, top := b.X+p.column, d.Y()+0.5
	kinds := map[placeKind]bool{}
	marks := false
	for _, s := range p.l.Stack {
		if s.Course < 1 || s.Course > p.l.Courses || s.Spot < 1 || s.Spot > p.l.Spots {
			continue
		}
		r := page.Rect{X: left + float64(s.Spot-1)*p.cell.W, Y: top + float64(p.l.Courses-s.Course)*p.cell.H, W: p.cell.W, H: p.cell.H}
		k := p.kind(s)
		kinds[k] = true
		marks = marks || s.MC.State == units.BelowRange || s.MC.State == units.AboveRange
		drawPlace(d, r.Inset(0.25), k, placeWords(s.MC))
	}
	st := page.Style{Size: page.SizeSmall, Align: page.Right}
	for c := 1; c <= p.l.Courses; c++ {
		if p.cell.H < 3 && c%5 != 0 && c != 1 && c != p.l.Courses {
			continue
		}
		text := fmt.Sprint(c)
		switch {
		case c == 1:
			text = "course 1"
		case c == p.l.Courses && p.cell.H >= 3:
			text = "top " + text
		}
		y := top + float64(p.l.Courses-c)*p.cell.H
		d.Fit(page.Rect{X: b.X, Y: y + p.cell.H/2 - 1.8, W: p.column - 1.5, H: 3.6}, text, st, 0)
	}
	bottom := top + float64(p.l.Courses)*p.cell.H
	d.Line(left-1, bottom+0.4, left+float64(p.l.Spots)*p.cell.W+1, bottom+0.4, page.Stroke{Width: page.Heavy})
	st.Align = page.Center
	for s := 1; s <= p.l.Spots; s++ {
		d.Fit(page.Rect{X: left + float64(s-1)*p.cell.W, Y: bottom + 0.9, W: p.cell.W, H: 3.4}, fmt.Sprint(s), st, 0)
	}
	st.Align = page.Right
	d.Fit(page.Rect{X: b.X, Y: bottom + 0.9, W: p.column - 1.5, H: 3.4}, "spot", st, 0)
	d.SetY(bottom + 5.4)
	if p.beside {
		side := page.Rect{X: b.Right() - besideWidth, Y: top, W: besideWidth}
		y := drawStackLegend(d, side, kinds, marks)
		if len(p.l.Strata) > 0 {
			y = j.drawStrataRows(d, p.l, side.X, y+1.5, side.W)
		}
		d.SetY(max(y, bottom+5.4) + 0.6)
		return
	}
	d.SetY(drawStackLegend(d, page.Rect{X: b.X + 2, Y: d.Y(), W: b.W - 2}, kinds, marks))
}

// placeWords is what stands in a place: the number, or the mark the meter showed.
func placeWords(m compute.BoardMC) string {
	switch m.State {
	case units.Number:
		return m.MC.String()
	case units.BelowRange:
		return "<" + m.MC.String()
	case units.AboveRange:
		return ">" + m.MC.String()
	}
	return ""
}

// drawPlace draws one place. The kinds differ in line and hatch, so that they are told apart in black and white.
func drawPlace(d *page.Doc, r page.Rect, k placeKind, text string) {
	st := page.Style{Size: min(page.SizeTable, r.H*0.9), Align: page.Center}
	room := text != "" && r.H >= 2.6 && r.W >= 4.5
	switch k {
	case noBoard:
		d.StrokeRect(r, page.Stroke{Width: page.Hair, Gray: page.Mid, Dash: []float64{0.7, 0.7}})
		return
	case unmeasured:
		d.StrokeRect(r, page.Stroke{})
		return
	case overLimit:
		d.Hatch(r, 1.1, false, page.Stroke{Gray: page.Black})
		d.StrokeRect(r, page.Stroke{Width: page.Heavy})
		st.Face = page.Bold
	case underRange:
		d.FillRect(r, page.Pale)
		d.Hatch(r, 1.6, true, page.Stroke{Width: page.Hair, Gray: page.Mid})
		d.StrokeRect(r, page.Stroke{})
	default:
		d.FillRect(r, page.Pale)
		d.StrokeRect(r, page.Stroke{})
	}
	if !room {
		return
	}
	if k == overLimit || k == underRange {
		w := min(r.W-1, d.TextWidth(text, st)+2.4)
		d.FillRect(page.Rect{X: r.X + (r.W-w)/2, Y: r.Y + 0.3, W: w, H: r.H - 0.6}, page.White)
	}
	d.Fit(page.Rect{X: r.X + 0.4, Y: r.Y, W: r.W - 0.8, H: r.H}, text, st, 0)
}

// drawStackLegend shows each kind of place that is in the picture, with words, one beside the other as far as the width
// of the box goes. It gives the y below.
func drawStackLegend(d *page.Doc, in page.Rect, kinds map[placeKind]bool, marks bool) float64 {
	words := [...]string{noBoard: "no board known there", unmeasured: "not measured", inLimit: "measured, moisture content in %",
		underRange: "under the range asked for", overLimit: "over the limit"}
	st := page.Style{Size: page.SizeSmall}
	x, y := in.X, in.Y
	const h, box = 4.0, 7.0
	for _, k := range []placeKind{inLimit, overLimit, underRange, unmeasured, noBoard} {
		if !kinds[k] {
			continue
		}
		w := d.TextWidth(words[k], st) + 0.1
		if x > in.X && (x+box+1.5+w > in.Right() || in.W < 100) {
			x, y = in.X, y+h
		}
		drawPlace(d, page.Rect{X: x, Y: y + 0.7, W: box, H: h - 1.4}, k, "")
		d.Fit(page.Rect{X: x + box + 1.5, Y: y, W: min(w, in.Right()-x-box-1.5), H: h}, words[k], st, 0)
		x += box + 1.5 + w + 5
	}
	y += h
	if marks {
		y += d.Paragraph(in.X, y, in.W, "< and >: only the meter's mark.", st)
	}
	return y
}
