package report

import (
	"fmt"
	"math"
	"strings"

	"drytally/compute/units"
	"drytally/report/page"
)

// drawMean draws a mean as a square on the line of its range. A range that leaves the axis ends in an arrow.
func drawMean(d *page.Doc, a page.Axis, lane page.Rect, m meanLine) {
	y := lane.Y + lane.H/2
	x, inside := a.At(m.of.Value.Percent())
	left, right := x, x
	if !inside {
		from := x - 9
		if x <= a.Box.X {
			from = x + 9
		}
		d.Arrow(from, y, x, y, page.Stroke{Width: 0.35})
		drawBeside(d, lane, min(from, x), max(from, x), m.as+" "+estimateWords(m.of))
		return
	}
	if m.of.Confidence > 0 {
		left = rangeEnd(d, a, x, y, m.of.Low.Percent())
		right = rangeEnd(d, a, x, y, m.of.High.Percent())
	}
	d.Marker(page.FilledSquare, x, y, 2)
	drawBeside(d, lane, left, right, m.as+" "+estimateWords(m.of))
}

// rangeEnd draws one side of a range and gives where it ends.
func rangeEnd(d *page.Doc, a page.Axis, from, y, to float64) float64 {
	x, inside := a.At(to)
	if !inside {
		if math.Abs(x-from) > 0.5 {
			d.Arrow(from, y, x, y, page.Stroke{})
		}
		return x
	}
	d.Line(from, y, x, y, page.Stroke{Width: 0.35})
	d.Line(x, y-0.9, x, y+0.9, page.Stroke{})
	return x
}

// drawMark draws an arrow away from a mark of the meter: those boards lie somewhere beyond it.
func drawMark(d *page.Doc, a page.Axis, lane page.Rect, m markGroup) {
	y := lane.Y + lane.H/2
	const long = 9
	words, at := "under", m.high
	if m.state == units.AboveRange {
		words, at = "over", m.low
	}
	x, inside := a.At(at.Percent())
	to := max(a.Box.X, x-long)
	if m.state == units.AboveRange {
		to = min(a.Box.Right(), x+long)
	}
	if inside {
		d.Line(x, y-1.3, x, y+1.3, page.Stroke{Width: 0.35})
	} else if x, to = a.Box.X+long, a.Box.X; m.state == units.AboveRange { // the mark itself lies beyond the edge
		x, to = a.Box.Right()-long, a.Box.Right()
	}
	d.Arrow(x, y, to, y, page.Stroke{Width: 0.35})
	text := fmt.Sprintf("%s only showed the meter's mark: %s %s %%", count(m.n, "board", "boards"), words, at)
	if m.low != m.high {
		text = fmt.Sprintf("%s only showed the meter's mark: %s %s to %s %%", count(m.n, "board", "boards"), words, m.low, m.high)
	}
	drawBeside(d, lane, min(x, to), max(x, to), text)
}

// drawFar names the boards that lie beyond the right edge.
func drawFar(d *page.Doc, a page.Axis, lane page.Rect, far []readDot) {
	y := lane.Y + lane.H/2
	x := a.Box.Right() - 9
	d.Arrow(x, y, a.Box.Right(), y, page.Stroke{Width: 0.35})
	var named []string
	for _, t := range far {
		named = append(named, t.id+" "+t.mc.String()+" %")
	}
	drawBeside(d, lane, x, a.Box.Right(), "beyond this picture: "+strings.Join(shortened(named, 5), ", "))
}

// drawBeside writes words in a lane to the right of a stretch, or to its left when there is more room. A white ground keeps
// them off the lines of the band.
func drawBeside(d *page.Doc, lane page.Rect, left, right float64, words string) {
	st := page.Style{Size: page.SizeSmall}
	w := d.TextWidth(words, st)
	x := right + 1.8
	if lane.Right()-x < w {
		x = left - 1.8 - w
	}
	if x < lane.X {
		x = max(lane.X, lane.Right()-w)
		w = min(w, lane.W)
	}
	d.FillRect(page.Rect{X: x - 0.4, Y: lane.Y + 0.7, W: w + 0.8, H: lane.H - 1.4}, page.White)
	d.Fit(page.Rect{X: x, Y: lane.Y, W: w + 0.1, H: lane.H}, words, st, 0)
}
