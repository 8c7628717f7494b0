package report

import (
	"strconv"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// viewScales are the scales an end view is drawn at: 1 to this.
var viewScales = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 100}

// drawEndView draws the end of a board to scale, lying against fence and table: as sawn, dry, and the finished piece inside.
func (j *job) drawEndView(d *page.Doc, s *compute.SizeResult, box page.Rect) {
	const labels = 8.0 // below the drawing: its width, and the scale
	w, h := s.Width.Millimetres(), s.Thickness.Millimetres()
	scale := 0.0
	for _, x := range viewScales {
		if w/x <= box.W-16 && h/x <= box.H-labels {
			scale = x
			break
		}
	}
	if scale == 0 || w <= 0 || h <= 0 {
		return // no board is so large; the figures stand beside it
	}
	base := box.Bottom() - labels
	x := box.Right() - w/scale
	at := func(wide, thick units.Length) page.Rect {
		bw, bh := min(wide, s.Width).Millimetres()/scale, min(thick, s.Thickness).Millimetres()/scale
		return page.Rect{X: x, Y: base - bh, W: bw, H: bh}
	}
	finished := at(s.FinishWidth, s.FinishThickness)
	d.FillRect(finished, page.Light)
	d.StrokeRect(at(s.DryWidth.Value, s.DryThickness.Value), page.Stroke{Dash: []float64{1.2, 0.8}})
	d.StrokeRect(at(s.Width, s.Thickness), page.Stroke{Width: 0.35})
	label := page.Style{Size: page.SizeSmall, Align: page.Right}
	d.Fit(page.Rect{X: x - 16, Y: base - h/scale/2 - 2, W: 14, H: 4}, j.system.Size(s.Thickness), label, 0)
	label.Align = page.Center
	d.Fit(page.Rect{X: x, Y: base + 0.8, W: w / scale, H: 3.6}, j.system.Size(s.Width), label, 0)
	label.Align, label.Gray = page.Right, page.Soft
	d.Fit(page.Rect{X: box.X, Y: base + 4.2, W: box.W, H: 3.6}, "end view, 1 : "+decimal(scale), label, 0)
}

// Boxes to tick, in millimetres: large enough for a pencil in a glove.
const (
	boxSize  = 5.0
	boxGap   = 1.5
	boxFives = 3.0 // more after every five
	mostRows = 3

	tallyWords = 4.2 // the line above them
)

// boxSteps are the boards one box may stand for.
var boxSteps = []int{1, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000}

// drawTally draws boxes to tick while sawing, in fives; a line to write on when boards aren't counted.
func (j *job) drawTally(d *page.Doc, boards int) {
	d.Need(tallyWords + boxSize)
	b, y := d.Body(), d.Y()
	small := page.Style{Size: page.SizeSmall, Gray: page.Soft}
	if boards <= 0 {
		d.Text(b.X, y+boxSize, j.wording("cut-tally-by-hand"), small)
		d.Line(b.X+28, y+boxSize, b.X+100, y+boxSize, page.Stroke{})
		d.SetY(y + boxSize + 1)
		return
	}
	const five = 5*(boxSize+boxGap) + boxFives
	across := max(1, int((b.W+boxGap+boxFives)/five)) * 5
	each := boards // when even the largest step needs too many boxes
	for _, n := range boxSteps {
		if (boards+n-1)/n <= across*mostRows {
			each = n
			break
		}
	}
	boxes := (boards + each - 1) / each
	with := []string{"each", "", "last", ""}
	if each > 1 {
		with[1] = strconv.Itoa(each)
		if last := boards - (boxes-1)*each; last != each {
			with[3] = strconv.Itoa(last)
		}
	}
	d.Fit(page.Rect{X: b.X, Y: y, W: b.W, H: 4}, j.wording("cut-boxes", with...), page.Style{Size: page.SizeTable}, 0)
	y += tallyWords
	for i := range boxes {
		col, row := i%across, i/across
		d.TickBox(b.X+float64(col)*(boxSize+boxGap)+float64(col/5)*boxFives, y+float64(row)*(boxSize+boxGap), boxSize, false)
	}
	d.SetY(y + float64((boxes-1)/across+1)*(boxSize+boxGap) - boxGap)
}
