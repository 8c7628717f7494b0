package report

import (
	"fmt"
	"strings"

	"drytally/compute"
	"drytally/report/page"
)

// drawHeldBack names the boards to take out, big: whoever stands at the stack must not miss one.
func (j *job) drawHeldBack(d *page.Doc, l *compute.LoadResult) {
	if len(l.HeldBack) == 0 {
		return
	}
	byID := j.boardsByID(l)
	under := make([]string, len(l.HeldBack))
	for i, id := range l.HeldBack {
		if b := byID[id]; b != nil {
			under[i] = mcWords(b.MC)
			if b.Board.Course > 0 && b.Board.Spot > 0 {
				under[i] += fmt.Sprintf(", course %d, spot %d", b.Board.Course, b.Board.Spot)
			}
		}
	}
	d.Space(1)
	head := j.wording("held-back-head", "n", fmt.Sprint(len(l.HeldBack)), "limit", l.Band.High.String())
	for _, size := range []float64{page.SizeHeading, page.SizeBody} {
		if g := gridOf(d, l.HeldBack, under, size); g.rows <= 6 {
			g.draw(d, head)
			return
		}
	}
	d.Para(head, page.Style{Face: page.Bold})
	all := make([]string, len(under))
	for i, id := range l.HeldBack {
		all[i] = id + " (" + under[i] + ")"
	}
	d.Para(strings.Join(all, "; "), page.Style{})
}

// heldGrid is a box of numbers, each with a line below it.
type heldGrid struct {
	names, under []string
	cols, rows   int
	size, cell   float64 // of type; width of an entry
}

func gridOf(d *page.Doc, names, under []string, size float64) heldGrid {
	g := heldGrid{names: names, under: under, size: size}
	w := d.Body().W - 6
	for i := range names {
		g.cell = max(g.cell, d.TextWidth(names[i], page.Style{Face: page.Bold, Size: size, Plain: true}), d.TextWidth(under[i], page.Style{Size: page.SizeSmall}))
	}
	g.cell = min(g.cell+7, w)
	g.cols = max(1, int(w/g.cell))
	g.cell = w / float64(g.cols)
	g.rows = (len(names) + g.cols - 1) / g.cols
	return g
}

func (g heldGrid) draw(d *page.Doc, head string) {
	b := d.Body()
	idHeight := g.size * 1.25
	row := idHeight + 5.2
	headHeight := d.Measure(b.W-6, head, page.Style{Face: page.Bold})
	h := 2.2 + headHeight + 1 + float64(g.rows)*row + 0.8
	d.Need(h + 1)
	y := d.Y() + 0.5
	d.StrokeRect(page.Rect{X: b.X + 0.3, Y: y, W: b.W - 0.6, H: h}, page.Stroke{Width: page.Heavy})
	d.Paragraph(b.X+3, y+2, b.W-6, head, page.Style{Face: page.Bold})
	top := y + 2.2 + headHeight + 1
	for i, id := range g.names {
		x, cy := b.X+3+float64(i%g.cols)*g.cell, top+float64(i/g.cols)*row
		d.Fit(page.Rect{X: x, Y: cy, W: g.cell - 3, H: idHeight}, id, page.Style{Face: page.Bold, Size: g.size, Plain: true}, 0)
		d.Fit(page.Rect{X: x, Y: cy + idHeight, W: g.cell - 3, H: 3.6}, g.under[i], page.Style{Size: page.SizeSmall}, 0)
	}
	d.SetY(y + h + 1.5)
}
