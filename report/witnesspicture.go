package report

import (
	"math"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// witnessLane is one of the four witnesses; w is nil when the sheets hold nothing of its kind.
type witnessLane struct {
	kind compute.WitnessKind
	w    *compute.Witness
}

// drawWitnesses draws the four witnesses on one axis, with what each rests on, and the conflicts below.
func (j *job) drawWitnesses(d *page.Doc, l *compute.LoadResult) {
	rows := []witnessLane{{kind: compute.WitnessMeter}, {kind: compute.WitnessWeight}, {kind: compute.WitnessShrinkage}, {kind: compute.WitnessAir}}
	known := false
	for i := range l.Witnesses {
		w := &l.Witnesses[i]
		known = known || w.Estimate.Known
		for k := range rows {
			if rows[k].kind == w.Kind && rows[k].w == nil {
				rows[k].w = w
			}
		}
	}
	if len(l.Witnesses) == 0 && len(l.Conflicts) == 0 {
		return
	}
	d.KeepTogether(func() {
		d.Heading(2, "How the load's mean moisture content is known")
		j.drawWitnessRows(d, l.Band, rows, known)
	})
	if len(l.Conflicts) == 0 {
		return
	}
	d.KeepTogether(func() {
		d.Space(1)
		d.Para("They do not agree", page.Style{Face: page.Bold})
		d.Bullets(j.allSaid(l.Conflicts), page.Style{})
	})
}

func (j *job) drawWitnessRows(d *page.Doc, band compute.Band, rows []witnessLane, known bool) {
	b := d.Body()
	const name = 19.0
	box := page.Rect{X: b.X + name, W: b.W * 0.27}
	text := page.Rect{X: box.Right() + 5, W: b.Right() - box.Right() - 5}
	st := page.Style{Size: page.SizeSmall}
	axis := page.Axis{Box: box, Minor: 2}
	axis.Low, axis.High = witnessRange(band, rows)
	if axis.High-axis.Low <= 12 {
		axis.Step = 1
	}
	heights := make([]float64, len(rows))
	words := make([]string, len(rows))
	total := 0.0
	var none []string
	rows = slices.DeleteFunc(slices.Clone(rows), func(r witnessLane) bool {
		if r.w == nil {
			none = append(none, capital(r.kind.String())+": "+j.witnessWords(r))
		}
		return r.w == nil
	})
	heights, words = heights[:len(rows)], words[:len(rows)]
	for i, r := range rows {
		words[i] = j.witnessWords(r)
		heights[i] = max(5.4, d.Measure(text.W, words[i], st)+1.2)
		total += heights[i]
	}
	top := d.Y()
	if known {
		top += limitHeight
	}
	axis.Box.Y, axis.Box.H = top, total
	if known && band.Known {
		p := readingPicture{band: band}
		p.drawBand(d, axis)
	}
	y := top
	for i, r := range rows {
		if i > 0 {
			d.Line(b.X, y, b.Right(), y, page.Stroke{Width: page.Hair, Gray: page.Light})
		}
		d.Fit(page.Rect{X: b.X, Y: y, W: name - 2, H: heights[i]}, capital(r.kind.String()), page.Style{Face: page.Bold, Size: page.SizeTable}, 0)
		if r.w != nil && r.w.Estimate.Known {
			drawWitness(d, axis, y+heights[i]/2, r)
		}
		d.Paragraph(text.X, y+(heights[i]-d.Measure(text.W, words[i], st))/2, text.W, words[i], st)
		y += heights[i]
	}
	bottom := y
	if known {
		d.Axis(axis)
		bottom += page.AxisHeight - page.AxisLabel
	}
	if len(none) > 0 { // beside the axis
		bottom = max(bottom, y+0.6+d.Paragraph(text.X, y+0.6, text.W, strings.Join(none, " "), page.Style{Size: page.SizeSmall, Gray: page.Soft}))
	}
	d.SetY(bottom + 0.6)
}

// drawWitness draws a range with its middle; for the air an arrow upwards from the least a board can have come to.
func drawWitness(d *page.Doc, a page.Axis, y float64, r witnessLane) {
	e := r.w.Estimate
	if r.kind == compute.WitnessAir {
		x, _ := a.At(e.Low.Percent())
		d.Line(x, y-1.6, x, y+1.6, page.Stroke{Width: 0.35})
		d.Arrow(x, y, min(a.Box.Right(), x+12), y, page.Stroke{Width: 0.35})
		return
	}
	x, _ := a.At(e.Value.Percent())
	if e.Confidence > 0 || e.Low != e.High {
		rangeEnd(d, a, x, y, e.Low.Percent())
		rangeEnd(d, a, x, y, e.High.Percent())
	}
	kind := page.FilledSquare
	if !r.w.Compared {
		kind = page.OpenSquare
	}
	d.Marker(kind, x, y, 2.2)
}

// witnessWords is the figure and what it rests on.
func (j *job) witnessWords(r witnessLane) string {
	if r.w == nil {
		return j.wording("witness-none-" + r.kind.String())
	}
	detail := ""
	if r.w.Detail.Name != "" {
		detail = j.say(r.w.Detail)
	}
	if !r.w.Compared {
		detail = joined(" ", detail, j.wording("witness-not-compared", "date", date(r.w.Date)))
	}
	e := r.w.Estimate
	switch {
	case !e.Known:
		return joined(" ", "No figure.", detail)
	case r.kind == compute.WitnessAir:
		return joined(" ", "Not below "+e.Low.String()+" %.", detail)
	}
	return joined(" ", estimateWords(e)+".", detail)
}

// witnessRange finds whole percents that hold band and witnesses; a range wider than 40 points runs over the edge.
func witnessRange(band compute.Band, rows []witnessLane) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	take := func(m units.MC) { low, high = min(low, m.Percent()-0.6), max(high, m.Percent()+0.6) }
	if band.Known {
		take(band.High)
		if band.Low != 0 {
			take(band.Low)
		}
	}
	for _, r := range rows {
		if r.w == nil || !r.w.Estimate.Known {
			continue
		}
		e := r.w.Estimate
		if r.kind == compute.WitnessAir {
			take(e.Low)
			continue
		}
		take(e.Value)
		if e.High-e.Low < units.Percent(40) {
			take(e.Low)
			take(e.High)
		}
	}
	if low > high {
		low, high = 4, 14
	}
	low, high = max(0, math.Floor(low)), math.Ceil(high)
	for high-low < 5 {
		high++
	}
	return low, high
}
