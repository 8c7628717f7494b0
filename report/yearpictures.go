package report

import (
	"fmt"
	"math"
	"strconv"

	"drytally/compute/units"
	"drytally/compute/yearbook"
	"drytally/report/page"
)

// drawShrinkage draws the handbook's figure, the mill's own and the two joined, wood by wood, and says what rests on what.
func (j *yearJob) drawShrinkage(d *page.Doc) {
	var known []*yearbook.Shrinkage
	var few []string
	for i := range j.year.Shrinkage {
		s := &j.year.Shrinkage[i]
		if s.Known {
			known = append(known, s)
		} else {
			few = append(few, j.say(s.Says))
		}
	}
	if len(known)+len(few) == 0 {
		return
	}
	head := func() { d.Heading(1, "What your wood shrinks") }
	if len(known) == 0 {
		d.Need(24)
		head()
	} else {
		low, high := known[0].TableLow, known[0].TableHigh
		for _, s := range known {
			low, high = min(low, s.TableLow, s.OwnLow), max(high, s.TableHigh, s.OwnHigh)
		}
		a := page.Axis{Low: max(0, math.Floor(100*low-0.2)), High: math.Ceil(100*high + 0.2), Minor: 2, Grid: true, Label: "shrinkage from green to ovendry, % of the green size"}
		for from := 0; from < len(known); from += mostShrinkage {
			d.KeepTogether(func() {
				if from == 0 {
					head()
					d.Para(j.wording("yearbook-shrinkage"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
					d.Space(1)
				}
				j.drawShrinkageLanes(d, a, known[from:min(len(known), from+mostShrinkage)])
			})
		}
	}
	if len(few) > 0 {
		d.Bullets(few, page.Style{Size: page.SizeTable, Gray: page.Soft})
	}
}

// mostShrinkage is how many woods and directions stand over one axis.
const mostShrinkage = 8

func (j *yearJob) drawShrinkageLanes(d *page.Doc, a page.Axis, all []*yearbook.Shrinkage) {
	b := d.Body()
	const name, words, lane, gap = 40.0, 62.0, 4.3, 2.6
	top := d.Y()
	a.Box = page.Rect{X: b.X + name, Y: top, W: b.W - name - words, H: float64(len(all))*(3*lane+gap) - gap/2}
	d.Axis(a)
	y := top
	for i, s := range all {
		if i > 0 {
			d.Line(b.X, y-gap/2, b.Right(), y-gap/2, page.Stroke{Width: page.Hair, Gray: page.Light})
		}
		d.Fit(page.Rect{X: b.X, Y: y, W: name - 2, H: lane}, s.Species, page.Style{Size: page.SizeTable, Face: page.Bold}, 0)
		d.Fit(page.Rect{X: b.X, Y: y + lane, W: name - 2, H: lane}, s.Direction, page.Style{Size: page.SizeTable}, 0)
		n := count(s.Boards, "board", "boards")
		if len(s.LeftOut) > 0 {
			n += fmt.Sprintf(", %d left out", len(s.LeftOut))
		}
		d.Fit(page.Rect{X: b.X, Y: y + 2*lane, W: name - 2, H: lane}, n, page.Style{Size: page.SizeSmall, Gray: page.Soft}, 0)
		for k, row := range []struct {
			what          string
			at, low, high float64
			marker        page.MarkerKind
			width         float64
			dash          []float64
			face          page.Face
		}{
			{"handbook", s.Table, s.TableLow, s.TableHigh, page.OpenDot, page.Thin, []float64{1.2, 0.9}, page.Regular},
			{"own boards", s.Own, s.OwnLow, s.OwnHigh, page.OpenSquare, page.Thin, nil, page.Regular},
			{"joined", s.Used, s.Low, s.High, page.FilledSquare, page.Heavy, nil, page.Bold},
		} {
			cy := y + (float64(k)+0.5)*lane
			x, _ := a.At(100 * row.at)
			from, fromIn := a.At(100 * row.low)
			to, toIn := a.At(100 * row.high)
			d.Line(from, cy, to, cy, page.Stroke{Width: row.width, Dash: row.dash})
			for _, end := range []struct {
				x  float64
				in bool
			}{{from, fromIn}, {to, toIn}} {
				if end.in {
					d.Line(end.x, cy-0.9, end.x, cy+0.9, page.Stroke{})
				}
			}
			d.Marker(row.marker, x, cy, 2)
			st := page.Style{Size: page.SizeSmall, Face: row.face}
			right := a.Box.Right() + 4
			d.Fit(page.Rect{X: right, Y: y + float64(k)*lane, W: 19, H: lane}, row.what, st, 0)
			d.Fit(page.Rect{X: right + 19, Y: y + float64(k)*lane, W: words - 23, H: lane}, fmt.Sprintf("%s (%s to %s)", tenthWords(row.at), strconv.FormatFloat(100*row.low, 'f', 1, 64), strconv.FormatFloat(100*row.high, 'f', 1, 64)), st, 0)
		}
		y += 3*lane + gap
	}
	d.SetY(a.Box.Bottom() + page.AxisHeight + 1.5)
}

// drawYearMeters draws every board read and weighed on one day, meter by meter and wood by wood.
func (j *yearJob) drawYearMeters(d *page.Doc) {
	if len(j.year.Meters) == 0 {
		return
	}
	low, high := 0.0, 0.0
	for _, m := range j.year.Meters {
		for _, p := range m.Pairs {
			low, high = min(low, (p.Weighed-p.Shown).Percent()), max(high, (p.Weighed-p.Shown).Percent())
		}
		if m.Difference.Confidence > 0 {
			low, high = min(low, m.Difference.Low.Percent()), max(high, m.Difference.High.Percent())
		}
	}
	a := page.Axis{Low: math.Floor(2*max(low, -8)-0.5) / 2, High: math.Ceil(2*min(high, 8)+0.5) / 2, Minor: 2, Label: "weights less meter, points of moisture content"}
	const most = 6
	for from := 0; from < len(j.year.Meters); from += most {
		d.KeepTogether(func() {
			if from == 0 {
				d.Heading(1, "The meter against weights")
				d.Para(j.wording("yearbook-meters"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
				d.Space(1)
			}
			j.drawMeterLanes(d, a, j.year.Meters[from:min(len(j.year.Meters), from+most)])
		})
	}
	t := page.Table{Columns: []page.Column{{Head: "meter", Width: 30}, {Head: "wood", Width: 34}, {Head: "boards", Width: 14, Align: page.Right}, {Head: "weights less meter, mean", Width: 26, Align: page.Right},
		{Head: "95 % range of the mean", Width: 30, Align: page.Right}, {Head: "between boards", Width: 20, Align: page.Right}, {Head: ""}}}
	for _, m := range j.year.Meters {
		name := m.Meter
		if name == "" {
			name = "of the settings"
		}
		rng := "-"
		if m.Difference.Confidence > 0 {
			rng = m.Difference.Low.Signed() + " to " + m.Difference.High.Signed()
		}
		t.Rows = append(t.Rows, page.Cells(name, m.Species, strconv.Itoa(len(m.Pairs)), m.Difference.Value.Signed(), rng, m.Spread.String()))
	}
	d.Table(t)
}

func (j *yearJob) drawMeterLanes(d *page.Doc, a page.Axis, all []yearbook.Meter) {
	b := d.Body()
	const name, bar, highest = 40.0, 4.0, 30.0
	a.Box = page.Rect{X: b.X + name, Y: d.Y(), W: b.W - name}
	// Dots of one tenth stand on each other.
	heights, dots := make([]float64, len(all)), make([]float64, len(all))
	for i, m := range all {
		tallest, piled := 1, map[units.MC]int{}
		for _, p := range m.Pairs {
			piled[p.Weighed-p.Shown]++
			tallest = max(tallest, piled[p.Weighed-p.Shown])
		}
		dots[i] = min(1.9, (highest-bar-2.4)/float64(tallest))
		heights[i] = max(10, float64(tallest)*dots[i]+bar+2.4)
		a.Box.H += heights[i]
	}
	d.Axis(a)
	zero, _ := a.At(0)
	d.Line(zero, a.Box.Y, zero, a.Box.Bottom(), page.Stroke{Dash: []float64{1, 1}, Gray: page.Soft})
	y := a.Box.Y
	sections, boards := false, false
	for i, m := range all {
		if i > 0 {
			d.Line(b.X, y, b.Right(), y, page.Stroke{Width: page.Hair, Gray: page.Light})
		}
		d.Fit(page.Rect{X: b.X, Y: y + 1, W: name - 2, H: 4}, m.Species, page.Style{Size: page.SizeTable, Face: page.Bold}, 0)
		d.Fit(page.Rect{X: b.X, Y: y + 5, W: name - 2, H: 4}, joined(", ", m.Meter, count(len(m.Pairs), "board", "boards")), page.Style{Size: page.SizeSmall, Gray: page.Soft}, 0)
		piled := map[units.MC]int{}
		for _, p := range m.Pairs {
			diff := p.Weighed - p.Shown
			x, inside := a.At(diff.Percent())
			cy := y + heights[i] - bar - 0.8 - (float64(piled[diff])+0.5)*dots[i]
			piled[diff]++
			if !inside {
				d.Arrow(x-4*sign(diff), cy, x, cy, page.Stroke{})
				continue
			}
			kind := page.OpenDot
			if p.Section {
				kind, sections = page.FilledDot, true
			} else {
				boards = true
			}
			d.Marker(kind, x, cy, 0.84*dots[i])
		}
		cy := y + heights[i] - bar/2 - 0.4
		if e := m.Difference; e.Known {
			x, _ := a.At(e.Value.Percent())
			if e.Confidence > 0 {
				rangeEnd(d, a, x, cy, e.Low.Percent())
				rangeEnd(d, a, x, cy, e.High.Percent())
			}
			d.Marker(page.FilledSquare, x, cy, 2)
		}
		y += heights[i]
	}
	d.SetY(a.Box.Bottom() + page.AxisHeight)
	var legend []legendItem
	if sections {
		legend = append(legend, legendItem{page.FilledDot, "a section of it dried in the oven"})
	}
	if boards {
		legend = append(legend, legendItem{page.OpenDot, "weighed as a sample board of the stack"})
	}
	drawLegend(d, append(legend, legendItem{page.FilledSquare, "mean, with its 95 % range"}))
	d.Space(1.2)
}

func sign(m units.MC) float64 {
	if m < 0 {
		return -1
	}
	return 1
}

// drawPlaces draws the stack of all loads: how far each place is from the mean of its loads.
func (j *yearJob) drawPlaces(d *page.Doc) {
	p := &j.year.Places
	if p.Boards == 0 {
		return
	}
	b := d.Body()
	const label, side, gap = 16.0, 62.0, 8.0
	w := min(16, (b.W-label-side-gap)/float64(p.Spots))
	h := max(5.6, min(8.4, 110/float64(p.Courses)))
	d.KeepTogether(func() {
		d.Heading(1, "Where the wet boards sit in the kiln")
		d.Para(fmt.Sprintf("%s of %s, the stack seen from its end. ", count(p.Boards, "board", "boards"), count(len(p.Loads), "load", "loads"))+j.wording("yearbook-places"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
		d.Space(1.5)
		top := d.Y()
		left := b.X + label
		most := units.MC(0)
		for _, c := range p.Cells {
			if c.N > 0 {
				most = max(most, c.Apart)
			}
		}
		for _, c := range p.Cells {
			drawHeat(d, page.Rect{X: left + float64(c.Spot-1)*w, Y: top + float64(p.Courses-c.Course)*h, W: w, H: h}.Inset(0.2), c, most)
		}
		j.framePlaces(d, p, left, top, w, h)
		bottom := top + float64(p.Courses)*h
		d.Line(left-1, bottom+0.5, left+float64(p.Spots)*w+1, bottom+0.5, page.Stroke{Width: page.Heavy})
		names := func(i int, what string, thirds [3]string) string {
			if !p.Same {
				return thirds[i-1]
			}
			if i == 1 && what != "" {
				return what + " 1"
			}
			return strconv.Itoa(i)
		}
		st := page.Style{Size: page.SizeSmall, Align: page.Right}
		for c := 1; c <= p.Courses; c++ {
			d.Fit(page.Rect{X: b.X, Y: top + float64(p.Courses-c)*h + h/2 - 1.8, W: label - 1.5, H: 3.6}, names(c, "course", [3]string{"bottom", "middle", "top"}), st, 0)
		}
		st.Align = page.Center
		for s := 1; s <= p.Spots; s++ {
			d.Fit(page.Rect{X: left + float64(s-1)*w, Y: bottom + 1, W: w, H: 3.4}, names(s, "spot", [3]string{"left", "center", "right"}), st, 0)
		}
		x := left + float64(p.Spots)*w + gap
		y := top
		for _, s := range j.allSaid(p.Says) {
			y += d.Paragraph(x, y, b.Right()-x, capital(s), page.Style{Size: page.SizeTable}) + 1.6
		}
		for _, s := range j.allSaid(p.How) {
			y += d.Paragraph(x, y, b.Right()-x, s, page.Style{Size: page.SizeSmall, Gray: page.Soft}) + 1.2
		}
		d.SetY(max(bottom+5.5, y))
	})
}

// drawHeat draws one place: its hatch is the closer, the wetter it is; the number stands on white, its count below.
func drawHeat(d *page.Doc, r page.Rect, c yearbook.Cell, most units.MC) {
	if c.N == 0 {
		d.StrokeRect(r, page.Stroke{Width: page.Hair, Gray: page.Mid, Dash: []float64{0.7, 0.7}})
		return
	}
	if c.Apart > 0 && most > 0 {
		const widest, closest = 3.6, 0.75
		share := float64(c.Apart) / float64(most)
		d.Hatch(r, widest+(closest-widest)*math.Sqrt(share), false, page.Stroke{Width: page.Hair})
	}
	d.StrokeRect(r, page.Stroke{Width: page.Hair, Gray: page.Mid})
	st := page.Style{Size: page.SizeTable, Align: page.Center, Face: page.Bold}
	text := c.Apart.Signed()
	w := d.TextWidth(text, st) + 1.2
	mid := r.Y + r.H*0.40
	if c.Apart > 0 {
		d.FillRect(page.Rect{X: r.X + (r.W-w)/2, Y: r.Y + 0.7, W: w, H: r.H - 1.4}, page.White)
	}
	d.Fit(page.Rect{X: r.X + 0.3, Y: mid - 1.7, W: r.W - 0.6, H: 3.4}, text, st, 0)
	d.Fit(page.Rect{X: r.X + 0.3, Y: r.Bottom() - 2.9, W: r.W - 0.6, H: 2.4}, strconv.Itoa(c.N), page.Style{Size: page.SizeLeast, Align: page.Center, Gray: page.Soft}, 0)
}

// framePlaces draws a heavy frame around the parts of the stack whose difference is proven.
func (j *yearJob) framePlaces(d *page.Doc, p *yearbook.Places, left, top, w, h float64) {
	for _, part := range p.Parts {
		if !part.Sure || part.Courses[0] == 0 || part.Spots[0] == 0 {
			continue
		}
		y := top + float64(p.Courses-part.Courses[1])*h
		d.StrokeRect(page.Rect{X: left + float64(part.Spots[0]-1)*w, Y: y, W: float64(part.Spots[1]-part.Spots[0]+1) * w, H: float64(part.Courses[1]-part.Courses[0]+1) * h}, page.Stroke{Width: 0.9})
	}
}
