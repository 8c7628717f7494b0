package page

// Column is a column of a table.
type Column struct {
	Head  string
	Width float64 // millimetres; 0: an equal share of what the others leave
	Align Align
}

// CellMark is drawn in a cell instead of or before its text.
type CellMark uint8

// The marks of cells.
const (
	NoMark   CellMark = iota
	Ticked            // a tick
	EmptyBox          // a box to tick
	TickedBox
)

// Cell is a cell of a table.
type Cell struct {
	Text string
	Face Face
	Mark CellMark
	Span int // columns it takes; 0 is 1
	// Plain leaves 3/8 as it is; see Style.
	Plain bool
}

// Row is a row of a table.
type Row struct {
	Cells []Cell
	Ruled bool // a thin rule above it: a sum, a new group
	Group bool // a heading inside the table: bold, and kept with the row below
	Shade bool // on a pale ground
}

// Cells makes a row of plain texts.
func Cells(texts ...string) Row {
	r := Row{}
	for _, s := range texts {
		r.Cells = append(r.Cells, Cell{Text: s})
	}
	return r
}

// Table is a table in the flow: its heading row comes again on every page it runs over.
type Table struct {
	X, W    float64 // 0: the body's
	Columns []Column
	Rows    []Row
	Size    float64 // of type; 0: SizeTable
	// Empty is written when there are no rows.
	Empty string
}

const (
	cellGap  = 3.0  // between columns
	cellPad  = 0.65 // above and below the text of a row
	leastCol = 4.0
	// tableLead is the leading of tables over their size: closer than text, because rules part the rows.
	tableLead = 1.28
	// mostHeadLines keeps a long name of a column from filling the page; it is cut.
	mostHeadLines = 4
)

// Table draws a table at the cursor. Row heights follow the wrapped text; a row goes over a page break only when it is
// higher than a page. Columns wider than the table altogether are narrowed in proportion.
func (d *Doc) Table(t Table) {
	d.begin()
	if t.W == 0 {
		t.X, t.W = d.body.X, d.body.W
	}
	if t.Size == 0 {
		t.Size = SizeTable
	}
	if len(t.Columns) == 0 {
		return
	}
	l := tableLayout{t: t, x: make([]float64, len(t.Columns)), w: make([]float64, len(t.Columns))}
	l.place()
	head := Row{}
	for _, c := range t.Columns {
		head.Cells = append(head.Cells, Cell{Text: c.Head, Face: Bold})
	}
	first := min(d.rowHeight(&l, head), mostHeadLines*t.Size*tableLead+2*cellPad)
	for i := 0; i < len(t.Rows) && i < 2; i++ {
		first += d.rowHeight(&l, t.Rows[i])
	}
	d.Need(min(first, d.body.Bottom()-d.top))
	d.tableHead(&l, head)
	if len(t.Rows) == 0 && t.Empty != "" {
		d.tableRow(&l, head, Row{Cells: []Cell{{Text: t.Empty, Face: Italic, Span: len(t.Columns)}}}, false)
	}
	for i, r := range t.Rows {
		keep := 0.0
		if i+1 < len(t.Rows) && (r.Group || i > 1 && i+2 == len(t.Rows)) { // no last row goes over alone
			keep = d.rowHeight(&l, t.Rows[i+1])
		}
		need := d.rowHeight(&l, r) + keep
		if need > d.body.Bottom()-d.top-mostHeadLines*t.Size*tableLead {
			need = 3*t.Size*tableLead + 2*cellPad // it goes over the break anyway, but not with less than three lines
		}
		if d.measuring == 0 && d.Room() < need {
			d.tableFoot(&l)
			d.NewPage()
			d.tableHead(&l, head)
		}
		d.tableRow(&l, head, r, i > 0)
	}
	d.tableFoot(&l)
	d.took(1.5)
}

type tableLayout struct {
	t    Table
	x, w []float64
}

// place gives every column its left edge and width.
func (l *tableLayout) place() {
	n := len(l.t.Columns)
	fixed, shares := float64(n-1)*cellGap, 0
	for _, c := range l.t.Columns {
		fixed += c.Width
		if c.Width == 0 {
			shares++
		}
	}
	share := leastCol
	if shares > 0 {
		share = max(leastCol, (l.t.W-fixed)/float64(shares))
	}
	total := 0.0
	for i, c := range l.t.Columns {
		l.w[i] = c.Width
		if c.Width == 0 {
			l.w[i] = share
		}
		total += l.w[i]
	}
	gap := cellGap
	if full := total + float64(n-1)*gap; full > l.t.W+1e-9 {
		squeeze := l.t.W / full
		gap *= squeeze
		for i := range l.w {
			l.w[i] *= squeeze
		}
	}
	x := l.t.X
	for i := range l.w {
		l.x[i] = x
		x += l.w[i] + gap
	}
}

// laid is a cell with its place and its lines.
type laid struct {
	x, w    float64
	style   Style
	lines   [][]atom
	dropped int
	mark    CellMark
}

func (d *Doc) layRow(l *tableLayout, r Row) []laid {
	var out []laid
	col := 0
	for _, c := range r.Cells {
		if col >= len(l.w) {
			break
		}
		last := min(len(l.w), col+max(1, c.Span)) - 1
		x, w := l.x[col], l.x[last]+l.w[last]-l.x[col]
		st := Style{Face: c.Face, Size: l.t.Size, Align: l.t.Columns[col].Align, Plain: c.Plain}
		if r.Group {
			st.Face = Bold
		}
		if last > col {
			st.Align = Left
		}
		st.Leading = l.t.Size * tableLead
		a := laid{x: x, w: w, style: st, mark: c.Mark}
		if c.Mark != NoMark && c.Text != "" {
			a.w -= l.t.Size * 1.3
			if st.Align != Right {
				a.x += l.t.Size * 1.3
			}
		}
		a.lines, a.dropped = d.linesOf(max(a.w, 0), c.Text, st)
		out = append(out, a)
		col = last + 1
	}
	return out
}

func (d *Doc) rowHeight(l *tableLayout, r Row) float64 {
	n := 1
	for _, c := range d.layRow(l, r) {
		n = max(n, len(c.lines))
	}
	return float64(n)*l.t.Size*tableLead + 2*cellPad
}

func (d *Doc) tableHead(l *tableLayout, head Row) {
	named := false
	for _, c := range head.Cells {
		named = named || c.Text != ""
	}
	d.Line(l.t.X, d.y, l.t.X+l.t.W, d.y, Stroke{})
	if !named {
		return
	}
	cells := d.layRow(l, head)
	most := 1
	for i, c := range cells {
		cells[i].lines = d.cutLines(c.lines, mostHeadLines, c.w, c.style)
		most = max(most, len(cells[i].lines))
	}
	lead := l.t.Size * tableLead
	for _, c := range cells { // heads stand on the lowest line
		down := float64(most-len(c.lines)) * lead
		d.drawCell(c, c.lines, d.y+cellPad+down)
	}
	d.took(float64(most)*lead + 2*cellPad)
	d.Line(l.t.X, d.y, l.t.X+l.t.W, d.y, Stroke{})
}

func (d *Doc) tableFoot(l *tableLayout) {
	d.Line(l.t.X, d.y, l.t.X+l.t.W, d.y, Stroke{})
}

// tableRow draws a row, over several pages when it is higher than one.
func (d *Doc) tableRow(l *tableLayout, head, r Row, ruled bool) {
	cells := d.layRow(l, r)
	most := 1
	for _, c := range cells {
		most = max(most, len(c.lines))
		d.count(shaped{dropped: c.dropped})
	}
	lead := l.t.Size * tableLead
	if ruled {
		s := Stroke{Width: Hair, Gray: Light}
		if r.Ruled {
			s = Stroke{}
		}
		d.Line(l.t.X, d.y, l.t.X+l.t.W, d.y, s)
	}
	for from := 0; from < most; {
		n := most - from
		if room := int((d.Room()-2*cellPad)/lead + 1e-6); d.measuring == 0 && n > room {
			n = max(room, 1)
		}
		h := float64(n)*lead + 2*cellPad
		if r.Shade {
			d.FillRect(Rect{l.t.X, d.y + Hair, l.t.W, h - 2*Hair}, Pale)
		}
		for _, c := range cells {
			lo, hi := min(from, len(c.lines)), min(from+n, len(c.lines))
			if from == 0 {
				d.drawMark(c, d.y+cellPad, lead)
			}
			d.drawCell(c, c.lines[lo:hi], d.y+cellPad)
		}
		d.took(h)
		if from += n; from < most {
			d.tableFoot(l)
			d.NewPage()
			d.tableHead(l, head)
		}
	}
}

func (d *Doc) drawCell(c laid, lines [][]atom, y float64) {
	d.drawLines(lines, Rect{c.x, y, c.w, float64(len(lines)) * c.style.leading()}, c.style)
}

func (d *Doc) drawMark(c laid, y, lead float64) {
	size := c.style.size() * 0.9
	y += (lead - size) / 2
	x := c.x
	switch {
	case width(firstLine(c.lines)) > 0 && c.style.Align != Right:
		x = c.x - c.style.size()*1.3
	case width(firstLine(c.lines)) > 0:
		x = c.x + c.w + c.style.size()*0.3
	case c.style.Align == Center:
		x = c.x + (c.w-size)/2
	case c.style.Align == Right:
		x = c.x + c.w - size
	}
	switch c.mark {
	case Ticked:
		d.Tick(x, y, size)
	case EmptyBox, TickedBox:
		d.TickBox(x, y, size, c.mark == TickedBox)
	}
}

func firstLine(lines [][]atom) []atom {
	if len(lines) == 0 {
		return nil
	}
	return lines[0]
}
