// Package page draws the papers: it owns the paper size, the grid, the one typeface, and every way to put text, tables,
// pictures and codes on a page. It is the only package that knows the PDF library.
//
// # Measures
//
// Everything is in millimetres, sizes of type included, measured from the upper left corner of the paper; y grows
// downwards. The body of a page is what the margins leave. It is divided into 6 columns with gutters of 4 mm (Doc.Column);
// text of the body stands on lines 12.2 points apart (Baseline).
//
// # Look
//
// One typeface in three faces, thin rules, grays. Nothing is told by a color, and nothing by a gray alone: a gray always
// goes with a mark, a hatch or a word.
//
// # Text
//
// All text goes through one function. What the typeface lacks is drawn as an open box and counted (Doc.Report), so that no
// character of a sheet disappears unseen. Fractions of the trade, 11 3/8, are set with a small raised numerator and a small
// denominator, and copy out of the document as 11 3/8.
//
// # Two ways to lay out
//
// Free drawing takes coordinates (Text, Fit, Paragraph, Line ...). The flow keeps a cursor in the body and turns the page by
// itself (Heading, Para, Table, Pairs, Notes ...); Need and KeepTogether keep things on one page.
//
// The same calls give the same bytes.
package page

// Point is the printer's point in millimetres.
const Point = 25.4 / 72

// The grid of a page, in millimetres.
const (
	MarginSide   = 18.0 // left and right
	MarginTop    = 14.0
	MarginBottom = 15.5 // the footer stands inside it
	Columns      = 6
	Gutter       = 4.0
	Baseline     = 12.2 * Point // from line to line in text of SizeBody
	NoInk        = 4.5          // edge of the paper where common printers put none: a sixth of an inch and a hair
)

// The sizes of type, in millimetres. The leading that goes with a size is Style.leading.
const (
	SizeTitle   = 20 * Point          // the one line that names a paper
	SizeHeading = 13 * Point          // a part of a paper
	SizeLead    = 11 * Point          // a verdict, a sentence that must be read
	SizeBody    = 9.5 * Point         // text
	SizeTable   = 8.5 * Point         // tables
	SizeSmall   = 7.5 * Point         // notes, labels, footers
	SizeLeast   = 5.5 * Point         // nothing is shrunk below this
	leadFactor  = Baseline / SizeBody // leading over size for text of several lines
	tightFactor = 11.0 / 9.5          // leading over size for titles and headings
)

// The weights of rules, in millimetres.
const (
	Hair  = 0.10 // between rows
	Thin  = 0.18 // above and below tables, axes
	Heavy = 0.45 // the one strong line of a paper
)

// Gray is how light ink is: 0 black, 255 paper white. The zero value is black.
type Gray uint8

// The grays in use. Text is never lighter than Soft.
const (
	Black Gray = 0
	Soft  Gray = 85  // labels, footers
	Mid   Gray = 140 // axis ticks, hatches
	Light Gray = 195 // rules between rows
	Pale  Gray = 236 // the ground of a band or a heading row
	White Gray = 255
)

// Face is a face of the typeface. The zero value is the regular one.
type Face uint8

// The faces.
const (
	Regular Face = iota
	Bold
	Italic
)

// Align says where text stands in its box, or relative to its x.
type Align uint8

// The alignments. The zero value is left.
const (
	Left Align = iota
	Center
	Right
)

// Style is how text is set. The zero value is body text in black, left-aligned.
type Style struct {
	Face    Face
	Size    float64 // millimetres; 0 is SizeBody
	Gray    Gray
	Align   Align
	Leading float64 // from line to line; 0 follows from the size
	// Plain leaves 3/8 as three characters of full size. Used for ids and for what stands in a cell.
	Plain bool
}

func (s Style) size() float64 {
	if s.Size == 0 {
		return SizeBody
	}
	return s.Size
}

func (s Style) leading() float64 {
	switch {
	case s.Leading != 0:
		return s.Leading
	case s.size() >= SizeHeading:
		return s.size() * tightFactor
	}
	return s.size() * leadFactor
}

// Rect is a box: its upper left corner, width and height.
type Rect struct{ X, Y, W, H float64 }

// Right is the x of the right edge.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the y of the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Inset returns the box made smaller by d on every side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Holds reports whether q lies inside r, with a hundredth of a millimetre of play for rounding.
func (r Rect) Holds(q Rect) bool {
	const play = 0.01
	return q.X >= r.X-play && q.Y >= r.Y-play && q.Right() <= r.Right()+play && q.Bottom() <= r.Bottom()+play
}

// Pt is a place on the page.
type Pt struct{ X, Y float64 }
