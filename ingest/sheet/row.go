package sheet

import (
	"hash/maphash"
	"iter"
)

// Row is a row that holds at least one cell, or that is hidden. A workbook may hold millions of cells, and down a column the
// same names, dates and figures come again and again: a row keeps the columns of its cells, and what they say is kept once for
// all cells that say it (see Packer).
type Row struct {
	Number int
	Hidden bool
	cells  []placed
}

// placed is one cell of a row. What it says is shared and never changed.
type placed struct {
	says *content
	col  int32
}

// content is a cell without its place.
type content struct {
	text     string
	number   float64
	more     *More
	kind     Kind
	format   Format
	formula  bool
	noResult bool
}

// NewRow makes one row of cells, which are in order of column; their rows don't count. The rows of a workbook are made by a
// Packer.
func NewRow(number int, hidden bool, cells ...Cell) Row {
	r := Row{Number: number, Hidden: hidden}
	for _, c := range cells {
		says := c.content()
		r.cells = append(r.cells, placed{&says, int32(c.Col)})
	}
	return r
}

func (c Cell) content() content {
	return content{c.Text, c.Number, c.More, c.Kind, c.Format, c.Formula, c.NoResult}
}

// Cells gives the cells in order of column.
func (r Row) Cells() iter.Seq[Cell] {
	return func(yield func(Cell) bool) {
		for i := range r.cells {
			if !yield(r.at(i)) {
				return
			}
		}
	}
}

// at gives the i-th cell, counted from 0.
func (r Row) at(i int) Cell {
	c := r.cells[i].says
	return Cell{Row: r.Number, Col: int(r.cells[i].col), Text: c.text, Number: c.number, More: c.more, Kind: c.kind, Format: c.format, Formula: c.formula, NoResult: c.noResult}
}

// Len is the number of cells.
func (r Row) Len() int { return len(r.cells) }

// Has reports whether a cell of the row is as asked.
func (r Row) Has(as func(Cell) bool) bool {
	for i := range r.cells {
		if as(r.at(i)) {
			return true
		}
	}
	return false
}

// Change gives cells of the row another content: those that change says it has changed.
func (r Row) Change(change func(c *Cell) bool) {
	for i := range r.cells {
		if c := r.at(i); change(&c) {
			says := c.content()
			r.cells[i].says = &says
		}
	}
}

// Packer makes the rows of a workbook. It knows again what cells said not long ago: where nothing repeats, it holds no more
// than the cells themselves. The zero value is ready for use.
type Packer struct {
	seed     maphash.Seed
	seen     []*content
	cells    []placed  // room for the cells of the next rows
	contents []content // room for what they say
}

const (
	mostSeen     = 8192
	pieceOfRoom  = 256
	firstOfRooms = 32 // a small workbook takes small room
)

// Row makes a row of cells, which are in order of column; their rows don't count. The cells are copied.
func (p *Packer) Row(number int, hidden bool, cells []Cell) Row {
	if len(cells) == 0 {
		return Row{Number: number, Hidden: hidden}
	}
	from := len(p.cells)
	if cap(p.cells)-from < len(cells) {
		p.cells, from = make([]placed, 0, max(nextRoom(cap(p.cells)), len(cells))), 0
	}
	for _, c := range cells {
		p.cells = append(p.cells, placed{p.share(c.content()), int32(c.Col)})
	}
	return Row{Number: number, Hidden: hidden, cells: p.cells[from:len(p.cells):len(p.cells)]}
}

func nextRoom(last int) int { return min(max(2*last, firstOfRooms), pieceOfRoom) }

// share gives the content met before, or keeps this one. Which cells share is seen by nobody: contents are never changed.
func (p *Packer) share(c content) *content {
	if p.seen == nil {
		p.seed, p.seen = maphash.MakeSeed(), make([]*content, mostSeen)
	}
	at := &p.seen[maphash.Comparable(p.seed, c)%mostSeen]
	if *at != nil && **at == c {
		return *at
	}
	if len(p.contents) == cap(p.contents) {
		p.contents = make([]content, 0, nextRoom(cap(p.contents)))
	}
	p.contents = append(p.contents, c)
	*at = &p.contents[len(p.contents)-1]
	return *at
}
