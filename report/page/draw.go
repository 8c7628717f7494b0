package page

import "math"

// Stroke is how a line is drawn. The zero value is a thin black line.
type Stroke struct {
	Width float64 // 0: Thin
	Gray  Gray
	Dash  []float64 // lengths of ink and gap; empty: unbroken
}

func (d *Doc) stroke(s Stroke) {
	w := s.Width
	if w == 0 {
		w = Thin
	}
	d.sum.add("stroke", "", w, float64(s.Gray), float64(len(s.Dash)))
	d.pdf.SetDrawColor(int(s.Gray), int(s.Gray), int(s.Gray))
	d.pdf.SetLineWidth(w)
	d.pdf.SetLineCapStyle("butt")
	d.pdf.SetLineJoinStyle("miter")
	d.pdf.SetDashPattern(s.Dash, 0)
}

func (d *Doc) fill(g Gray) {
	d.sum.add("fill", "", float64(g))
	d.pdf.SetFillColor(int(g), int(g), int(g))
}

// mayDraw is the common start of every drawing: it refuses numbers that are none, draws nothing while measuring, and records.
func (d *Doc) mayDraw(box Rect) bool {
	if !d.finite(box.X, box.Y, box.W, box.H) || d.measuring > 0 {
		return false
	}
	d.begin()
	d.record(Drawn{What: DrewShape, Box: box})
	return true
}

func around(pts []Pt) Rect {
	if len(pts) == 0 {
		return Rect{}
	}
	lo, hi := pts[0], pts[0]
	for _, p := range pts[1:] {
		lo = Pt{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = Pt{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return Rect{lo.X, lo.Y, hi.X - lo.X, hi.Y - lo.Y}
}

// Line draws a straight line.
func (d *Doc) Line(x1, y1, x2, y2 float64, s Stroke) { d.Polyline([]Pt{{x1, y1}, {x2, y2}}, s) }

// Polyline draws lines from place to place.
func (d *Doc) Polyline(pts []Pt, s Stroke) {
	if len(pts) < 2 || !d.allFinite(pts) || !d.mayDraw(around(pts)) {
		return
	}
	d.stroke(s)
	d.path(pts)
	d.pdf.DrawPath("D")
}

func (d *Doc) path(pts []Pt) {
	for _, p := range pts {
		d.sum.add("to", "", p.X, p.Y)
	}
	d.pdf.MoveTo(pts[0].X, pts[0].Y)
	for _, p := range pts[1:] {
		d.pdf.LineTo(p.X, p.Y)
	}
}

func (d *Doc) allFinite(pts []Pt) bool {
	for _, p := range pts {
		if !d.finite(p.X, p.Y) {
			return false
		}
	}
	return true
}

// Polygon fills the area between the places.
func (d *Doc) Polygon(pts []Pt, g Gray) {
	if len(pts) < 3 || !d.allFinite(pts) || !d.mayDraw(around(pts)) {
		return
	}
	d.fill(g)
	d.path(pts)
	d.pdf.ClosePath()
	d.pdf.DrawPath("F")
}

// StrokeRect draws the outline of a box.
func (d *Doc) StrokeRect(r Rect, s Stroke) {
	if !d.mayDraw(r) {
		return
	}
	d.stroke(s)
	d.pdf.Rect(r.X, r.Y, r.W, r.H, "D")
}

// FillRect fills a box.
func (d *Doc) FillRect(r Rect, g Gray) {
	if !d.mayDraw(r) {
		return
	}
	d.fill(g)
	d.pdf.Rect(r.X, r.Y, r.W, r.H, "F")
}

// Hatch fills a box with lines that rise to the right, gap apart; falling turns them the other way. It draws no outline.
func (d *Doc) Hatch(r Rect, gap float64, falling bool, s Stroke) {
	const leastGap = 0.2 // closer lines would be a gray, and a gray is no signal
	if !d.mayDraw(r) || r.W <= 0 || r.H <= 0 {
		return
	}
	d.stroke(s)
	gap = max(gap, leastGap) * math.Sqrt2 // along the edge
	// Measured from a lower corner, along and up, every line holds along + up = c; it is cut off where it leaves the box.
	for c := gap / 2; c < r.W+r.H; c += gap {
		x1, y1 := min(c, r.W), max(0, c-r.W) // where it starts, on the lower or the far edge
		x2, y2 := max(0, c-r.H), min(c, r.H) // where it ends, on the near or the upper edge
		if falling {
			d.pdf.Line(r.X+x1, r.Bottom()-y1, r.X+x2, r.Bottom()-y2)
			continue
		}
		d.pdf.Line(r.Right()-x1, r.Bottom()-y1, r.Right()-x2, r.Bottom()-y2)
	}
}

// Circle draws a ring.
func (d *Doc) Circle(x, y, radius float64, s Stroke) {
	if !d.mayDraw(Rect{x - radius, y - radius, 2 * radius, 2 * radius}) {
		return
	}
	d.stroke(s)
	d.pdf.Circle(x, y, radius, "D")
}

// Dot draws a filled circle.
func (d *Doc) Dot(x, y, radius float64, g Gray) {
	if !d.mayDraw(Rect{x - radius, y - radius, 2 * radius, 2 * radius}) {
		return
	}
	d.fill(g)
	d.pdf.Circle(x, y, radius, "F")
}

// Arrow draws a line with a filled head at its second end. A head is 2.2 mm long, or half the line when that is shorter.
func (d *Doc) Arrow(x1, y1, x2, y2 float64, s Stroke) {
	if !d.finite(x1, y1, x2, y2) {
		return
	}
	length := math.Hypot(x2-x1, y2-y1)
	if length == 0 {
		return
	}
	const headLength, headHalf = 2.2, 0.32 // half its width as a share of its length
	h := min(headLength, length/2)
	ux, uy := (x2-x1)/length, (y2-y1)/length
	bx, by := x2-ux*h, y2-uy*h
	d.Line(x1, y1, bx, by, s)
	d.Polygon([]Pt{{x2, y2}, {bx - uy*h*headHalf, by + ux*h*headHalf}, {bx + uy*h*headHalf, by - ux*h*headHalf}}, s.Gray)
}

// MarkerKind is a shape that stands for a measured value. They differ in shape and filling, never in gray alone.
type MarkerKind uint8

// The markers.
const (
	FilledDot MarkerKind = iota
	OpenDot
	FilledSquare
	OpenSquare
	FilledTriangle
	OpenTriangle
	HalfDot // lower half filled
	Cross
)

// Marker draws a marker of the size (its height) around a place. Open ones are filled with white, so that they stand on a
// band or a hatch.
func (d *Doc) Marker(k MarkerKind, x, y, size float64) {
	r := size / 2
	s := Stroke{Width: max(Thin, size/9)}
	box := Rect{x - r, y - r, size, size}
	tri := []Pt{{x, y - r}, {x + r, y + r*0.75}, {x - r, y + r*0.75}}
	switch k {
	case FilledDot:
		d.Dot(x, y, r, Black)
	case OpenDot, HalfDot:
		r -= s.Width / 2
		d.Dot(x, y, r, White)
		if k == HalfDot {
			half := []Pt{}
			const steps = 16
			for i := range steps + 1 {
				a := math.Pi * float64(i) / steps
				half = append(half, Pt{x + r*math.Cos(a), y + r*math.Sin(a)})
			}
			d.Polygon(half, Black)
		}
		d.Circle(x, y, r, s)
	case FilledSquare:
		d.FillRect(box, Black)
	case OpenSquare:
		d.FillRect(box, White)
		d.StrokeRect(box.Inset(s.Width/2), s)
	case FilledTriangle:
		d.Polygon(tri, Black)
	case OpenTriangle:
		d.Polygon(tri, White)
		d.Polyline(append(tri, tri[0], tri[1]), s)
	case Cross:
		d.Line(x-r, y-r, x+r, y+r, s)
		d.Line(x-r, y+r, x+r, y-r, s)
	}
}

// Tick draws a tick as by a pen, inside the square of the size with its upper left corner at x, y.
func (d *Doc) Tick(x, y, size float64) {
	d.Polyline([]Pt{{x + 0.16*size, y + 0.54*size}, {x + 0.40*size, y + 0.80*size}, {x + 0.86*size, y + 0.18*size}},
		Stroke{Width: max(0.25, size/10)})
}

// TickBox draws a square to tick, with its upper left corner at x, y; ticked or empty.
func (d *Doc) TickBox(x, y, size float64, ticked bool) {
	d.StrokeRect(Rect{x, y, size, size}, Stroke{Width: Thin})
	if ticked {
		d.Tick(x, y, size)
	}
}
