package report

import (
	"fmt"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// The room for the end view of a stack, with what is written beside it.
const (
	kilnLeft   = 22.0 // heights
	kilnLabels = 60.0 // what the courses hold
	kilnTall   = 92.0
	kilnGap    = 5.0
)

// kilnScales are the scales the stack is drawn at: 1 to this.
var kilnScales = []float64{5, 8, 10, 12, 15, 20, 25, 30, 35, 40, 45, 50, 60, 80, 100, 150, 200, 300, 500, 1000}

// drawKilnStack draws a stack seen from its end in the kiln, to scale: walls, bolsters, boards, stickers, and the room above.
func (j *job) drawKilnStack(d *page.Doc, l *compute.KilnLoad, at int) {
	k, s := j.Kiln.Kiln, &l.Plan.Stacks[at]
	b := d.Body()
	wide, tall := k.Width.Millimetres(), k.Height.Millimetres()
	scale := kilnScales[len(kilnScales)-1]
	for _, x := range kilnScales {
		if wide/x <= b.W-kilnLeft-kilnLabels-kilnGap && tall/x <= kilnTall {
			scale = x
			break
		}
	}
	title := "The stack in the kiln, seen from its end"
	if len(l.Plan.Stacks) > 1 {
		title = fmt.Sprintf("Stack %d in the kiln, seen from its end", at+1)
	}
	d.KeepTogether(func() {
		d.Heading(2, title)
		y := d.Y() + 1
		left, floor := b.X+kilnLeft, y+tall/scale
		place := func(x, up units.Length, w, h units.Length) page.Rect {
			return page.Rect{X: left + x.Millimetres()/scale, Y: floor - (up+h).Millimetres()/scale, W: w.Millimetres() / scale, H: h.Millimetres() / scale}
		}
		// walls and ceiling, the room above the stack, the bolsters
		room := place(0, 0, k.Width, k.Height)
		d.StrokeRect(room, page.Stroke{Width: page.Heavy})
		if k.Top > 0 {
			top := place(0, k.Height-k.Top, k.Width, 0)
			d.Line(top.X, top.Y, room.Right(), top.Y, page.Stroke{Gray: page.Mid, Dash: []float64{1.2, 0.8}})
		}
		if k.Bolster > 0 {
			r := place(s.Side, 0, s.Width, k.Bolster)
			d.Hatch(r, 1.2, false, page.Stroke{Width: page.Hair, Gray: page.Mid})
			d.StrokeRect(r, page.Stroke{Width: page.Hair})
		}
		for _, c := range s.Courses {
			for _, board := range c.Boards {
				r := place(board.X, c.Base, board.Width, c.Thickness)
				d.FillRect(r, page.White)
				d.StrokeRect(r, page.Stroke{Width: page.Hair})
			}
			d.FillRect(place(s.Side, c.Base+c.Thickness, s.Width, k.Sticker), page.Light)
		}
		j.drawKilnLabels(d, l, at, place, room)
		j.drawKilnMeasures(d, at, l, place, room)
		d.SetY(floor + 9.8)
		d.Para(j.wording("kiln-legend")+fmt.Sprintf(" Scale 1 : %s.", decimal(scale)), page.Style{Size: page.SizeSmall, Gray: page.Soft})
		d.Space(1)
	})
}

// drawKilnLabels writes beside the courses what they hold, like courses together, never one label over the other.
func (j *job) drawKilnLabels(d *page.Doc, l *compute.KilnLoad, at int, place func(x, up, w, h units.Length) page.Rect, room page.Rect) {
	s := &l.Plan.Stacks[at]
	before := 0
	for i := range at {
		before += len(l.Plan.Stacks[i].Courses)
	}
	const line = 3.6
	runs := courseRuns(s)
	x, st := room.Right()+kilnGap, page.Style{Size: page.SizeSmall}
	most := int(room.H / line)
	if most < 1 {
		return
	}
	next := room.Bottom() + 6 // the label above it ends here at the lowest
	shown := 0
	for i, r := range runs {
		first, last := s.Courses[r.from], s.Courses[r.to]
		box := place(s.Side, first.Base, s.Width, last.Base+last.Thickness-first.Base)
		middle := (box.Y + box.Bottom()) / 2
		y := min(middle-line/2, next-line)
		name := fmt.Sprintf("course %d", before+r.from+1)
		if r.to > r.from {
			name = fmt.Sprintf("courses %d to %d", before+r.from+1, before+r.to+1)
		}
		text := name + ": " + j.courseBoards(l, r.first, false)
		if rest := len(runs) - i; rest > 1 && y-line < room.Y-2 || shown >= most {
			text = fmt.Sprintf("and %d more, see below", rest)
			d.Fit(page.Rect{X: x + 2, Y: y, W: kilnLabels - 2, H: line}, text, st, page.SizeLeast)
			return
		}
		d.Polyline([]page.Pt{{X: box.Right() + 0.6, Y: middle}, {X: room.Right() + 1, Y: middle}, {X: x + 1, Y: y + line/2}}, page.Stroke{Width: page.Hair, Gray: page.Mid})
		d.Fit(page.Rect{X: x + 2, Y: y, W: kilnLabels - 2, H: line}, text, st, page.SizeLeast)
		next = y
		shown++
	}
}

// drawKilnMeasures writes the measures around the picture: heights to the left, widths and gaps below.
func (j *job) drawKilnMeasures(d *page.Doc, at int, l *compute.KilnLoad, place func(x, up, w, h units.Length) page.Rect, room page.Rect) {
	k, s := j.Kiln.Kiln, &l.Plan.Stacks[at]
	st := page.Style{Size: page.SizeSmall, Align: page.Right}
	mark := func(up units.Length, text string, y float64) float64 {
		at := place(0, up, 0, 0).Y
		y = max(y, at-1.8)
		d.Fit(page.Rect{X: room.X - kilnLeft, Y: y, W: kilnLeft - 3, H: 3.6}, text, st, page.SizeLeast)
		d.Line(room.X-2, at, room.X, at, page.Stroke{})
		return y + 3.6
	}
	y := mark(k.Height, j.system.Run(k.Height), room.Y-4)
	mark(s.Height, j.near(s.Height), y)
	st.Align = page.Center
	stack := place(s.Side, 0, s.Width, 0)
	y = room.Bottom() + 1.8
	d.Fit(page.Rect{X: stack.X, Y: y, W: stack.W, H: 3.6}, "stack "+j.near(s.Width), st, page.SizeLeast)
	for _, x := range []float64{room.X, stack.X, stack.Right(), room.Right()} {
		d.Line(x, room.Bottom(), x, y-0.2, page.Stroke{})
	}
	side := max(stack.X-room.X, 15)
	d.Fit(page.Rect{X: (room.X+stack.X)/2 - side/2, Y: y, W: side, H: 3.6}, j.near(s.Side), st, page.SizeLeast)
	d.Fit(page.Rect{X: (room.Right()+stack.Right())/2 - side/2, Y: y, W: side, H: 3.6}, j.near(s.Side), st, page.SizeLeast)
	d.Fit(page.Rect{X: room.X, Y: y + 3.6, W: room.W, H: 3.6}, "kiln "+j.system.Run(k.Width), st, page.SizeLeast)
}
