package page

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"time"

	"github.com/go-pdf/fpdf"
	"rsc.io/qr/coding"
)

// Paper is a paper size. The zero value is Letter.
type Paper uint8

// The paper sizes.
const (
	Letter Paper = iota // 215.9 x 279.4 mm
	A4                  // 210 x 297 mm
)

// size gives width and height in points, upright.
func (p Paper) size() fpdf.SizeType {
	if p == A4 {
		return fpdf.SizeType{Wd: 595.28, Ht: 841.89}
	}
	return fpdf.SizeType{Wd: 612, Ht: 792}
}

// Margins are the edges of the paper that the body leaves free, in millimetres.
type Margins struct{ Left, Top, Right, Bottom float64 }

// Options are what is known of a document before it is drawn.
type Options struct {
	Paper     Paper
	Landscape bool
	Margins   Margins // zero: MarginSide, MarginTop, MarginBottom

	Title, Author, Subject string // document properties
	Creator                string // the program and its version
	Language               string // of the text, as in RFC 5646; empty: en-US
	// Date is when the paper was made: of the job, not of the clock. Zero: 1 January 2000.
	Date time.Time
	// Stamp gives the document's number, and the keywords kept in its properties, from a hash of everything drawn on the
	// pages but the number and the footer: another word or line gives another number. nil: the document has none. Keywords
	// are of ASCII, so that they can be found in the file as they stand.
	Stamp func(drawn [sha256.Size]byte) (number, keywords string)

	// Footer stands at the left foot of every page, "page n of m" at the right; the document's number comes before it. NoFooter
	// leaves both out.
	Footer   string
	NoFooter bool
	// OnPage is called at the start of every page with its number from 1, the cursor at the top of the body. It may draw a
	// running head and move the cursor down. It must not turn the page.
	OnPage func(d *Doc, n int)
	// Record keeps where everything was drawn, for tests; see Doc.Drawn.
	Record bool
}

// dateWhenNone is written into documents of jobs that have no date, so that the same calls give the same bytes.
var dateWhenNone = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Doc is a document being drawn. Make one with New, draw, and take its bytes with Bytes. It is for one goroutine.
type Doc struct {
	pdf  *fpdf.Fpdf
	opt  Options
	w, h float64
	body Rect
	err  error

	flow           // the cursor and what hangs on it
	report Report  // of text
	drawn  []Drawn // when recording

	// what the PDF library was last told on the page at hand; the zero value is "nothing known"
	ink struct {
		known  bool
		face   Face
		common bool
		size   float64
	}
	footing bool
	sum     contentSum
	numbers []numberAt       // places kept for the number
	wholes  [Italic + 1]bool // whole faces the PDF library was given
	// Text measured before: what is laid out is measured many times until it stands.
	shapes map[shapeKey]shaped
	broken map[breakKey]brokenText
	code   struct {
		text string
		made *coding.Code
	} // made last
	buf       []byte
	measuring int // above zero nothing is drawn: see KeepTogether
}

// Report says what happened to text on its way to the paper.
type Report struct {
	Replaced int // characters drawn as an open box
	Dropped  int // joiners and direction marks left out
	Cut      int // texts shortened with an ellipsis, or left out because not even that fitted
}

// New starts a document. The first page begins with NewPage, or by itself with the first thing the flow draws.
func New(o Options) *Doc {
	orientation := "P"
	if o.Landscape {
		orientation = "L"
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: orientation, UnitStr: "mm", Size: sizeInMM(o.Paper)})
	o.Margins = o.margins()
	if o.Date.IsZero() {
		o.Date = dateWhenNone
	}
	pdf.SetCatalogSort(true)
	pdf.SetCompression(true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCreationDate(o.Date)
	pdf.SetModificationDate(o.Date)
	pdf.SetLang(langTag(o.Language))
	pdf.SetProducer("drytally", true)
	pdf.SetTitle(oneLine(o.Title), true)
	pdf.SetAuthor(oneLine(o.Author), true)
	pdf.SetSubject(oneLine(o.Subject), true)
	pdf.SetCreator(oneLine(o.Creator), true)
	d := &Doc{pdf: pdf, opt: o}
	if o.Stamp != nil {
		d.sum.hash = sha256.New()
	}
	d.w, d.h = pdf.GetPageSize()
	d.body = o.bodyOf(d.w, d.h)
	if d.body.W <= 0 || d.body.H <= 0 {
		d.fail("margins %v leave no room on the paper", o.Margins)
	}
	return d
}

func (o Options) margins() Margins {
	if o.Margins == (Margins{}) {
		return Margins{MarginSide, MarginTop, MarginSide, MarginBottom}
	}
	return o.Margins
}

func (o Options) bodyOf(w, h float64) Rect {
	m := o.margins()
	return Rect{m.Left, m.Top, w - m.Left - m.Right, h - m.Top - m.Bottom}
}

// Body is the box that the margins of a document with these options leave, without making it.
func (o Options) Body() Rect {
	s := sizeInMM(o.Paper)
	if o.Landscape {
		s.Wd, s.Ht = s.Ht, s.Wd
	}
	return o.bodyOf(s.Wd, s.Ht)
}

func sizeInMM(p Paper) fpdf.SizeType {
	s := p.size()
	return fpdf.SizeType{Wd: s.Wd * Point, Ht: s.Ht * Point}
}

// langTag keeps letters, digits and hyphens; the tag goes into the document as it is.
func langTag(s string) string {
	for _, r := range s {
		if !(r == '-' || isDigit(r) || r < 0x80 && isLetter(r)) {
			return "en-US"
		}
	}
	return cmp.Or(s, "en-US")
}

// Size gives width and height of the paper.
func (d *Doc) Size() (w, h float64) { return d.w, d.h }

// Body is the box that the margins leave.
func (d *Doc) Body() Rect { return d.body }

// Column gives the left edge and the width of a stretch of the grid: span columns starting at column first, from 0.
func (d *Doc) Column(first, span int) (x, w float64) {
	one := (d.body.W - (Columns-1)*Gutter) / Columns
	return d.body.X + float64(first)*(one+Gutter), float64(span)*one + float64(span-1)*Gutter
}

// PageNo is the number of the page at hand; 0 before the first.
func (d *Doc) PageNo() int { return d.pdf.PageNo() }

// Report says how text fared so far.
func (d *Doc) Report() Report { return d.report }

// NewPage starts a page, with the cursor at the top of the body.
func (d *Doc) NewPage() {
	if d.measuring > 0 {
		return
	}
	d.pdf.AddPage()
	d.ink.known = false
	d.y = d.body.Y
	d.fresh = true
	if d.opt.OnPage != nil {
		d.opt.OnPage(d, d.PageNo())
		d.fresh = true
	}
	d.top = d.y
}

// Bytes draws the footers and gives the document. Nothing can be drawn afterwards. The error is the first mistake of any
// call before it: a coordinate that is no number, a text too long for a code, a trouble of the PDF library.
func (d *Doc) Bytes() ([]byte, error) {
	if d.PageNo() == 0 {
		d.NewPage()
	}
	number := d.stamp()
	if !d.opt.NoFooter {
		d.footers(number)
	}
	var b bytes.Buffer
	if err := d.pdf.Output(&b); err != nil {
		d.err = errors.Join(d.err, err)
	}
	if d.err != nil {
		return nil, fmt.Errorf("drawing %q: %w", d.opt.Title, d.err)
	}
	return b.Bytes(), nil
}

func (d *Doc) footers(number string) {
	text := d.opt.Footer
	if number != "" {
		text = "No. " + number + ". " + text
	}
	total := d.pdf.PageCount()
	m := d.opt.Margins
	st := Style{Size: SizeSmall, Gray: Soft}
	lead := st.leading()
	// In the margin, but not so near the paper's edge that a printer leaves it out.
	y := d.h - m.Bottom + max(0, min(8, m.Bottom-0.8-lead-NoInk))
	x := max(d.body.X, NoInk)
	w := min(d.body.Right(), d.w-NoInk) - x
	d.footing = true
	for n := 1; n <= total; n++ {
		d.pdf.SetPage(n)
		d.ink.known = false
		d.Line(x, y, x+w, y, Stroke{Width: Hair, Gray: Mid})
		right := st
		right.Align = Right
		d.Fit(Rect{x + w - 30, y + 0.8, 30, lead}, fmt.Sprintf("page %d of %d", n, total), right, SizeLeast)
		d.Fit(Rect{x, y + 0.8, w - 34, lead}, text, st, SizeLeast)
	}
}

// Bookmark puts a line into the outline of the document that leads to height y of the page at hand. Level 0 is the top; a
// level more than one below the line before is raised to one below.
func (d *Doc) Bookmark(level int, y float64, s string) {
	if d.measuring > 0 || !d.finite(y) {
		return
	}
	d.begin()
	d.setFont(Regular, true, SizeBody) // with a whole face at hand the library would turn the text into UTF-16 itself
	level = max(0, min(level, d.lastLevel+1))
	d.lastLevel = level
	d.pdf.Bookmark(inUTF16(oneLine(s)), level, y)
}

// begin makes sure there is a page.
func (d *Doc) begin() {
	if d.PageNo() == 0 {
		d.NewPage()
	}
}

func (d *Doc) fail(format string, args ...any) {
	if d.err == nil {
		d.err = fmt.Errorf(format, args...)
	}
}

// finite reports whether all numbers can be drawn, and remembers the mistake when one cannot.
func (d *Doc) finite(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) || math.Abs(x) > 1e5 {
			d.fail("a place on the page is no usable number: %v", v)
			return false
		}
	}
	return true
}
