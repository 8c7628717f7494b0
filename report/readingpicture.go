package report

import (
	"cmp"
	"math"
	"slices"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// readingPicture is a dot plot: one axis of moisture content, a dot for each board, the range asked for shaded behind.
type readingPicture struct {
	band   compute.Band
	boards []*compute.BoardResult
	means  []meanLine
}

// meanLine is a mean with its range and the words beside it.
type meanLine struct {
	of units.Estimate
	as string
}

// readDot is one board's number in the picture.
type readDot struct {
	mc          units.MC
	id          string
	over, under bool
	x           float64
	level       int // 0 stands on the ground
}

// markGroup counts the boards that only showed a mark of the meter.
type markGroup struct {
	state     units.ReadingState
	low, high units.MC // of the marks
	n         int
}

// Measures of the picture, in millimetres.
const (
	flagRow     = 3.6  // a row of board numbers above the dots
	mostFlags   = 6    // rows of them
	dotsHeight  = 12.8 // the most the dots are stacked
	laneHeight  = 4.6  // a lane below the dots: a mean, a mark
	widestFlag  = 24.0
	limitHeight = 4.0 // the limits' numbers at the top
)

// drawLoadReadings draws the readings of a load.
func (j *job) drawLoadReadings(d *page.Doc, l *compute.LoadResult) {
	if l.Measured == 0 {
		return
	}
	p := readingPicture{band: l.Band}
	for _, at := range l.Boards {
		p.boards = append(p.boards, &j.Boards[at])
	}
	if l.Mean.Known {
		p.means = append(p.means, meanLine{l.Mean, "mean"})
	}
	if rest := l.MeanRest; rest.Known {
		p.means[len(p.means)-1].as = "mean of all"
		p.means = append(p.means, meanLine{rest, "mean without those held back"})
	}
	d.KeepTogether(func() {
		d.Heading(2, "The readings")
		p.draw(d)
	})
}

// parts sorts the boards into numbers and marks.
func (p *readingPicture) parts() (dots []readDot, marks []markGroup) {
	for _, b := range p.boards {
		switch b.MC.State {
		case units.Number:
			dots = append(dots, readDot{mc: b.MC.MC, id: b.Board.ID, over: b.Over, under: b.Under})
		case units.BelowRange, units.AboveRange:
			i := slices.IndexFunc(marks, func(m markGroup) bool { return m.state == b.MC.State })
			if i < 0 {
				marks = append(marks, markGroup{state: b.MC.State, low: b.MC.MC, high: b.MC.MC})
				i = len(marks) - 1
			}
			m := &marks[i]
			m.low, m.high, m.n = min(m.low, b.MC.MC), max(m.high, b.MC.MC), m.n+1
		}
	}
	slices.SortStableFunc(dots, func(a, b readDot) int { return cmp.Compare(a.mc, b.mc) })
	slices.SortFunc(marks, func(a, b markGroup) int { return cmp.Compare(a.state, b.state) })
	return dots, marks
}

// farGap parts boards that lie this much wetter than the next from the picture's axis, and a mark this much beyond
// everything else: they are told by an arrow at its edge, so that one slip of the pen doesn't squeeze all other dots.
const farGap = 8.0

// parted cuts off the dots behind the first gap of more than farGap above the limit.
func (p *readingPicture) parted(dots []readDot) (near, far []readDot) {
	for i := 1; i < len(dots); i++ {
		from := max(dots[i-1].mc, p.band.High)
		if (dots[i].mc - from).Percent() > farGap {
			return dots[:i], dots[i:]
		}
	}
	return dots, nil
}

// axisRange finds whole percents that hold everything, with room for the arrows of the marks.
func (p *readingPicture) axisRange(dots []readDot, marks []markGroup) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	take := func(m units.MC, below, above float64) {
		low, high = min(low, m.Percent()-below), max(high, m.Percent()+above)
	}
	for _, t := range dots {
		take(t.mc, 0.6, 0.6)
	}
	if p.band.Known {
		take(p.band.High, 1, 1)
		if p.band.Low != 0 {
			take(p.band.Low, 1, 1)
		}
	}
	for _, m := range p.means {
		if v := m.of.Value.Percent(); !math.IsInf(high, -1) && (v > high+farGap || v < low-farGap) {
			continue // an arrow at the edge
		}
		take(m.of.Value, 0.3, 0.3)
		if m.of.Confidence > 0 && m.of.High-m.of.Low < units.Percent(20) { // a very wide range runs over the edge as an arrow
			take(m.of.Low, 0.3, 0.3)
			take(m.of.High, 0.3, 0.3)
		}
	}
	for _, m := range marks {
		switch {
		case m.state == units.BelowRange && (math.IsInf(low, 1) || m.high.Percent() > low-farGap):
			take(m.high, 1.5, 0.6)
		case m.state == units.AboveRange && (math.IsInf(high, -1) || m.low.Percent() < high+farGap):
			take(m.low, 0.6, 1.5)
		}
	}
	low, high = max(0, math.Floor(low)), math.Ceil(high)
	for high-low < 5 {
		high++
	}
	return low, high
}

// draw draws the picture at the cursor.
func (p *readingPicture) draw(d *page.Doc) {
	all, marks := p.parts()
	dots, far := p.parted(all)
	low, high := p.axisRange(dots, marks)
	b := d.Body()
	box := page.Rect{X: b.X + 2, W: b.W - 4}
	for _, t := range dots {
		if t.over {
			box.W = b.W - 4 - widestFlag // room for the last board's number
			break
		}
	}
	axis := page.Axis{Box: box, Low: low, High: high, Minor: 5, Label: "moisture content, %"}
	if high-low <= 12 {
		axis.Step, axis.Minor = 1, 10
	}
	size, step, stack := stackDots(dots, axis)
	flags, flagRows, unnamed := placeFlags(d, dots)
	lanes := float64(len(p.means)+len(marks)) * laneHeight
	if len(far) > 0 {
		lanes += laneHeight
	}
	y := d.Y()
	top := y + limitHeight + float64(flagRows)*flagRow // of the dots, below the flags
	ground := top + stack + 1.5
	if flagged := besideStacks(dots, flags, size, step); flagged > 0 {
		ground = y + limitHeight + max(stack, float64(flagRows)*flagRow+flagged) + 1.5
		top = ground - 1.5 - flagged
	}
	axis.Box.Y, axis.Box.H = y+limitHeight, ground+lanes+0.8-y-limitHeight

	p.drawBand(d, axis)
	for _, f := range flags {
		fy := top - float64(f.row+1)*flagRow
		d.Line(f.dot.x, fy+0.6, f.dot.x, ground-float64(f.dot.level)*step-size, page.Stroke{Width: page.Hair, Gray: page.Soft})
		d.Fit(page.Rect{X: f.dot.x + 0.7, Y: fy, W: f.w, H: flagRow}, f.dot.id, page.Style{Face: page.Bold, Size: page.SizeSmall, Plain: true}, 0)
	}
	for _, t := range dots {
		d.Marker(dotMarker(t), t.x, ground-float64(t.level)*step-size/2, size)
	}
	lane := ground
	for _, m := range p.means {
		drawMean(d, axis, page.Rect{X: b.X, Y: lane, W: b.W, H: laneHeight}, m)
		lane += laneHeight
	}
	for _, m := range marks {
		drawMark(d, axis, page.Rect{X: b.X, Y: lane, W: b.W, H: laneHeight}, m)
		lane += laneHeight
	}
	if len(far) > 0 {
		drawFar(d, axis, page.Rect{X: b.X, Y: lane, W: b.W, H: laneHeight}, far)
	}
	d.Axis(axis)
	legend := legendOf(all)
	d.SetY(axis.Box.Bottom() + page.AxisHeight + 0.6)
	if w := d.TextWidth(axis.Label, page.Style{Size: page.SizeSmall}); legendWidth(d, legend)+w+6 <= box.W {
		d.SetY(axis.Box.Bottom() + page.AxisHeight - page.AxisLabel) // beside the label
	}
	drawLegend(d, legend)
	st := page.Style{Size: page.SizeSmall}
	if unnamed > 0 {
		d.Para(count(unnamed, "further board over the limit is", "further boards over the limit are")+" not named here; the list of readings names all.", st)
	}
	if step < size-1e-9 {
		d.Para("Some dots cover others.", st)
	}
}

// drawBand shades what is asked for and writes its limits at the top.
func (p *readingPicture) drawBand(d *page.Doc, a page.Axis) {
	if !p.band.Known {
		return
	}
	left, _ := a.At(a.Low)
	right, _ := a.At(p.band.High.Percent())
	if p.band.Low != 0 {
		left, _ = a.At(p.band.Low.Percent())
	}
	d.FillRect(page.Rect{X: left, Y: a.Box.Y, W: right - left, H: a.Box.H}, page.Pale)
	st := page.Style{Size: page.SizeSmall, Face: page.Bold}
	if p.band.Low != 0 {
		d.Line(left, a.Box.Y, left, a.Box.Bottom(), page.Stroke{Dash: []float64{1.2, 0.8}})
		st.Align = page.Right
		end := min(left+4, (left+right)/2-0.6) // a narrow band's two numbers stand back to back
		w := min(30, end-d.Body().X)
		d.Fit(page.Rect{X: end - w, Y: a.Box.Y - limitHeight, W: w, H: limitHeight}, p.band.Low.String()+" %", st, 0)
	}
	d.Line(right, a.Box.Y, right, a.Box.Bottom(), page.Stroke{Width: page.Thin * 1.6})
	st.Align = page.Left
	start := max(right-4, (left+right)/2+0.6)
	d.Fit(page.Rect{X: start, Y: a.Box.Y - limitHeight, W: min(40, d.Body().Right()-start), H: limitHeight}, "limit "+p.band.High.String()+" %", st, 0)
}

// besideStacks gives the height of the dots with flags when all of them stand to the right of all others, so that their flags need
// not go above the stacks; else 0.
func besideStacks(dots []readDot, flags []flag, size, step float64) float64 {
	first, height := math.Inf(1), 0.0
	for _, f := range flags {
		first, height = min(first, f.dot.x), max(height, float64(f.dot.level)*step+size)
	}
	for _, t := range dots {
		if !slices.ContainsFunc(flags, func(f flag) bool { return f.dot.id == t.id }) && t.x > first-2*size {
			return 0
		}
	}
	return height
}

// stackDots gives every dot its place: at its own x, as low as no dot beside it is in the way. The size is the largest with
// which the stacks stay under dotsHeight; stacks that are still too high overlap.
func stackDots(dots []readDot, a page.Axis) (size, step, height float64) {
	for _, size = range []float64{2.5, 2.1, 1.7, 1.3, 1.0} {
		var last []float64 // x of the last dot on each level
		for i := range dots {
			dots[i].x, _ = a.At(dots[i].mc.Percent())
			level := 0
			for level < len(last) && dots[i].x-last[level] < size*1.02 {
				level++
			}
			if level == len(last) {
				last = append(last, 0)
			}
			last[level], dots[i].level = dots[i].x, level
		}
		height = float64(len(last)) * size
		if height <= dotsHeight {
			return size, size, height
		}
	}
	levels := height / size
	return size, dotsHeight / levels, dotsHeight
}

// flag is a board's number on a thin pole above its dot.
type flag struct {
	dot *readDot
	row int // 0 is the lowest
	w   float64
}

// placeFlags names the boards over the limit, from the right: each in the lowest row in which its number ends before
// every pole and number to its right. What finds no row is counted.
func placeFlags(d *page.Doc, dots []readDot) (flags []flag, rows, unnamed int) {
	free := make([]float64, mostFlags) // how far right a row may still be used
	for i := range free {
		free[i] = d.Body().Right()
	}
	for i := len(dots) - 1; i >= 0; i-- {
		t := &dots[i]
		if !t.over {
			continue
		}
		w := min(widestFlag, d.TextWidth(oneLine(t.id), page.Style{Face: page.Bold, Size: page.SizeSmall, Plain: true})+0.1)
		row := slices.IndexFunc(free, func(x float64) bool { return t.x+0.7+w+1 <= x })
		if row < 0 {
			unnamed++
			continue
		}
		for k := 0; k <= row; k++ {
			free[k] = t.x
		}
		rows = max(rows, row+1)
		flags = append(flags, flag{t, row, w})
	}
	return flags, rows, unnamed
}

func dotMarker(t readDot) page.MarkerKind {
	switch {
	case t.over:
		return page.FilledTriangle
	case t.under:
		return page.OpenDot
	}
	return page.FilledDot
}

// legendOf says what the shapes mean, only those there are.
func legendOf(dots []readDot) []legendItem {
	var items []legendItem
	for _, it := range []struct {
		when func(readDot) bool
		legendItem
	}{
		{func(t readDot) bool { return !t.over && !t.under }, legendItem{page.FilledDot, "a board: its highest corrected reading"}},
		{func(t readDot) bool { return t.over }, legendItem{page.FilledTriangle, "a board over the limit, with its number"}},
		{func(t readDot) bool { return t.under && !t.over }, legendItem{page.OpenDot, "a board under the range asked for"}},
	} {
		if slices.ContainsFunc(dots, it.when) {
			items = append(items, it.legendItem)
		}
	}
	return items
}

type legendItem struct {
	kind page.MarkerKind
	text string
}

// The steps of a legend: from a shape to its words, and from one item to the next.
const (
	legendShape = 3.2
	legendGap   = 6.0
)

// legendWidth is the width of a legend on one line.
func legendWidth(d *page.Doc, items []legendItem) float64 {
	w := 2.0
	for i, it := range items {
		if i > 0 {
			w += legendGap
		}
		w += legendShape + d.TextWidth(it.text, page.Style{Size: page.SizeSmall}) + 0.1
	}
	return w
}

// drawLegend writes shapes and words on one line, or more when they need it.
func drawLegend(d *page.Doc, items []legendItem) {
	if len(items) == 0 {
		return
	}
	st := page.Style{Size: page.SizeSmall}
	b := d.Body()
	x, y := b.X+2, d.Y()
	const h = 4.2
	for _, it := range items {
		w := d.TextWidth(it.text, st) + 0.1
		if x+4+w > b.Right() && x > b.X+2 {
			x, y = b.X+2, y+h
		}
		d.Marker(it.kind, x+1, y+h/2, 1.9)
		d.Fit(page.Rect{X: x + legendShape, Y: y, W: min(w, b.Right()-x-legendShape), H: h}, it.text, st, 0)
		x += legendShape + w + legendGap
	}
	d.SetY(y + h)
}
