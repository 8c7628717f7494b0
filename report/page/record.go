package page

// What names what was drawn.
type What string

// The kinds of things drawn.
const (
	DrewText  What = "text"
	DrewShape What = "shape"
	DrewCode  What = "code"
)

// Drawn is one thing on a page: the box its ink stays in, and the box it was meant to stay in. For text the height of Box is
// that of the tallest and deepest letters of the typeface, whether or not the text has them.
type Drawn struct {
	Page int
	What What
	Box  Rect
	Clip Rect
	Text string // as it copies out of the document
	Size float64
	Foot bool // part of the footer, which stands in the margin
}

// Drawn lists everything drawn so far, in order, when Options.Record is set.
func (d *Doc) Drawn() []Drawn { return d.drawn }

// Outside lists what left the box it was meant to stay in, or the area given.
func Outside(all []Drawn, area Rect) []Drawn {
	var out []Drawn
	for _, x := range all {
		if !area.Holds(x.Box) || !x.Clip.Holds(x.Box) {
			out = append(out, x)
		}
	}
	return out
}

func (d *Doc) record(x Drawn) {
	d.sum.add(x.What, x.Text, float64(d.PageNo()), x.Box.X, x.Box.Y, x.Box.W, x.Box.H, x.Size)
	if !d.opt.Record {
		return
	}
	x.Page, x.Foot = d.PageNo(), d.footing
	if x.Clip == (Rect{}) {
		x.Clip = Rect{0, 0, d.w, d.h}
	}
	d.drawn = append(d.drawn, x)
}
