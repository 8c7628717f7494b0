package report

import (
	"drytally/compute"
	"drytally/compute/profile"
	"drytally/report/page"
)

// outline is the end of a milled piece: places in millimetres from its lower left corner, upward.
type outline struct {
	pts []page.Pt
	at  float64 // where the next piece of the row begins
}

// bevelThin is how thin the upper edge of beveled siding is drawn against its butt: the drawing shows the principle, the owner's own
// knife makes the edge.
const bevelThin = 0.3

// profileOutline draws one piece of a profile: thickness t, overall width w, what shows, and the joint. Two pieces lie side by side by
// what shows. ok is false for a piece that has no joint to show.
func profileOutline(s profile.Shape, t float64) (o outline, ok bool) {
	w, shows, joint := s.Overall.Millimetres(), s.Shows.Millimetres(), s.Joint.Millimetres()
	if w <= 0 || shows <= 0 || shows > w {
		return outline{}, false
	}
	o.at = shows
	switch s.Kind {
	case profile.Lapped:
		o.pts = []page.Pt{{X: 0, Y: 0}, {X: w - joint, Y: 0}, {X: w - joint, Y: t / 2}, {X: w, Y: t / 2}, {X: w, Y: t}, {X: joint, Y: t}, {X: joint, Y: t / 2}, {X: 0, Y: t / 2}}
	case profile.TongueGroove:
		a, b := t/3, 2*t/3
		o.pts = []page.Pt{{X: 0, Y: 0}, {X: shows, Y: 0}, {X: shows, Y: a}, {X: w, Y: a}, {X: w, Y: b}, {X: shows, Y: b}, {X: shows, Y: t}, {X: 0, Y: t},
			{X: 0, Y: b}, {X: joint, Y: b}, {X: joint, Y: a}, {X: 0, Y: a}}
	default:
		return outline{}, false
	}
	return o, true
}

// drawInUse says of every piece what matters once it is dry: its profile drawn, how it covers its wall, what its size is called, and how
// it moves through the year. It stands apart from the settings, which are read at the saw.
func (j *job) drawInUse(d *page.Doc) {
	first := true
	for i := range j.Sizes {
		s := &j.Sizes[i]
		if !s.Known || !s.Cover.Known && !s.Name.Known && len(s.Season.Says) == 0 {
			continue
		}
		if first {
			keepHead(d, func() {
				d.Heading(1, "The pieces in use")
				j.drawPieceInUse(d, s)
			})
			d.Heading(1, "The pieces in use")
			first = false
		}
		d.KeepTogether(func() { j.drawPieceInUse(d, s) })
	}
}

func (j *job) drawPieceInUse(d *page.Doc, s *compute.SizeResult) {
	size := j.system.Size(s.FinishThickness) + " x " + j.system.Size(s.FinishWidth)
	kind := ""
	if s.Shape.Kind > profile.Square {
		kind = s.Shape.Kind.String()
	}
	d.Heading(2, joined(", ", oneLine(s.Wanted.Piece), size, kind))
	j.drawProfile(d, s)
	var says []string
	says = append(says, j.allSaid(s.Cover.Says)...)
	if s.Name.Known {
		says = append(says, j.say(s.Name.Says))
	}
	if len(says) > 0 {
		d.Bullets(says, page.Style{Size: page.SizeTable})
	}
	j.drawSeason(d, s)
}

// drawProfile draws how pieces of a profile lie side by side, end on and to scale, with what shows marked.
func (j *job) drawProfile(d *page.Doc, s *compute.SizeResult) {
	switch s.Shape.Kind {
	case profile.Lapped, profile.TongueGroove:
		j.drawJoined(d, s)
	case profile.Beveled:
		j.drawBeveled(d, s)
	case profile.BoardBatten:
		j.drawBoardBatten(d, s)
	case profile.Panel:
		j.drawPanel(d, s)
	}
}

// view is a drawing to scale in a strip of the page, its base line at y.
type view struct {
	d           *page.Doc
	x, y, scale float64
}

func (v view) pt(p page.Pt) page.Pt { return page.Pt{X: v.x + p.X/v.scale, Y: v.y - p.Y/v.scale} }

func (v view) piece(pts []page.Pt, dx float64) {
	moved := make([]page.Pt, len(pts))
	for i, p := range pts {
		moved[i] = v.pt(page.Pt{X: p.X + dx, Y: p.Y})
	}
	v.d.Polygon(moved, page.Light)
	v.d.Polyline(append(moved, moved[0]), page.Stroke{Width: 0.25})
}

func (v view) box(x, y, w, h float64) {
	v.piece([]page.Pt{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}, 0)
}

// measure marks a distance along the row below the drawing, with its words.
func (v view) measure(from, to float64, words string) {
	a, b := v.x+from/v.scale, v.x+to/v.scale
	y := v.y + 2
	v.d.Line(a, y, b, y, page.Stroke{})
	for _, x := range []float64{a, b} {
		v.d.Line(x, y-1, x, y+1, page.Stroke{})
	}
	const room = 60.0
	v.d.Fit(page.Rect{X: (a+b)/2 - room/2, Y: y + 0.8, W: room, H: 3.6}, words, page.Style{Size: page.SizeSmall, Align: page.Center}, 0)
}

// strip takes a strip of the page for a drawing w by h millimetres in nature, and writes its scale; draw draws into it.
func (j *job) strip(d *page.Doc, w, h float64, what string, draw func(view)) {
	const (
		most    = 118.0 // width of the drawing
		highest = 26.0
		below   = 8.0 // marks and words
		left    = 32.0
	)
	scale := 0.0
	for _, x := range viewScales {
		if w/x <= most && h/x <= highest {
			scale = x
			break
		}
	}
	if scale == 0 || w <= 0 || h <= 0 {
		return
	}
	d.Space(1.5)
	b, y := d.Body(), d.Y()
	base := y + h/scale
	draw(view{d: d, x: b.X + left, y: base, scale: scale})
	d.FitBox(page.Rect{X: b.X, Y: y, W: left - 3, H: max(8, h/scale)}, what+", 1 : "+decimal(scale), page.Style{Size: page.SizeSmall, Gray: page.Soft}, 0)
	d.SetY(max(base, y+4) + below)
}

func (j *job) drawJoined(d *page.Doc, s *compute.SizeResult) {
	t := s.FinishThickness.Millimetres()
	o, ok := profileOutline(s.Shape, t)
	if !ok {
		return
	}
	w := s.Shape.Overall.Millimetres()
	const gap = 0.8 // millimetres of nature between two pieces, so that the joint can be seen
	j.strip(d, w+o.at+gap, t, "two pieces joined, end on", func(v view) {
		v.piece(o.pts, 0)
		v.piece(o.pts, o.at+gap)
		v.measure(0, o.at, "shows "+j.system.Size(s.Shape.Shows))
		v.measure(o.at+gap, o.at+gap+w, "over all "+j.system.Size(s.Shape.Overall))
	})
}

// drawBeveled draws three courses of siding as they lie on the wall, turned on their side: the butt of each laps the thin edge before it.
func (j *job) drawBeveled(d *page.Doc, s *compute.SizeResult) {
	t, w := s.FinishThickness.Millimetres(), s.Shape.Overall.Millimetres()
	e := s.Shape.Shows
	if s.Cover.Known && s.Cover.Courses > 0 {
		e = s.Cover.Exposure
	}
	at := e.Millimetres()
	if at <= 0 || at > w {
		return
	}
	// Each piece is turned about its thin edge so far that its butt lies on the piece below.
	lift := t * (bevelThin + (1-bevelThin)*(w-at)/w)
	j.strip(d, w+2*at, t+lift, "three courses on the wall, end on, turned on their side", func(v view) {
		for k := range 3 {
			dx := float64(2-k) * at
			v.piece([]page.Pt{{X: 0, Y: lift}, {X: w, Y: 0}, {X: w, Y: t * bevelThin}, {X: 0, Y: t + lift}}, dx)
		}
		v.measure(0, at, "shows "+j.system.Size(e))
		v.measure(at, w, "lap "+j.system.Size(s.Shape.Overall-e))
	})
}

// drawBoardBatten draws two boards with a batten over their gap.
func (j *job) drawBoardBatten(d *page.Doc, s *compute.SizeResult) {
	t, w, gap := s.FinishThickness.Millimetres(), s.Shape.Overall.Millimetres(), s.Cover.Gap.Millimetres()
	over := s.Cover.Overlap.Millimetres()
	high := t
	if over > 0 {
		high = 2 * t
	}
	j.strip(d, 2*w+gap, high, "two boards and their joint, end on", func(v view) {
		v.box(0, 0, w, t)
		v.box(w+gap, 0, w, t)
		if over > 0 {
			v.box(w-over, t, gap+2*over, t)
		}
		words := "boards edge to edge"
		if s.Cover.Gap > 0 {
			words = "gap " + j.system.Size(s.Cover.Gap)
		}
		if over > 0 {
			words += ", batten laps " + j.system.Size(s.Cover.Overlap)
		}
		v.measure(w-over, w+gap+over, words)
	})
}

// drawPanel draws a panel in the grooves of its frame.
func (j *job) drawPanel(d *page.Doc, s *compute.SizeResult) {
	t, w := s.FinishThickness.Millimetres(), s.Shape.Overall.Millimetres()
	shows, groove := s.Shape.Shows.Millimetres(), s.Shape.Joint.Millimetres()
	if shows <= 0 || groove <= 0 || w <= 0 || w > shows+2*groove {
		return
	}
	frame := groove + 2*t // as much of the stile as shows the groove
	j.strip(d, shows+2*frame, 2*t, "panel in its grooves, end on", func(v view) {
		for _, right := range []bool{false, true} {
			pts := []page.Pt{{X: 0, Y: 0}, {X: frame, Y: 0}, {X: frame, Y: t / 2}, {X: frame - groove, Y: t / 2}, {X: frame - groove, Y: 1.5 * t}, {X: frame, Y: 1.5 * t}, {X: frame, Y: 2 * t}, {X: 0, Y: 2 * t}}
			if right {
				for i := range pts {
					pts[i].X = shows + 2*frame - pts[i].X
				}
			}
			v.piece(pts, 0)
		}
		v.box((shows+2*frame-w)/2, t/2, w, t)
		v.measure(frame, frame+shows, "shows "+j.system.Size(s.Shape.Shows)+" of "+j.system.Size(s.Shape.Overall)+", grooves "+j.system.Size(s.Shape.Joint)+" deep")
	})
}
