package report

// frontPage is the first sheet of a workbook, written from the top down.
type frontPage struct {
	book   *book
	name   string
	widths []float64
	row    int // the next one
}

// front adds the first sheet with its title.
func (b *book) front(name, title string, widths []float64) *frontPage {
	b.sheet(name, widths)
	b.text(name, 1, 1, title, "title")
	return &frontPage{book: b, name: name, widths: widths, row: 2}
}

// line writes the cells of a row.
func (p *frontPage) line(values ...any) {
	for i, v := range values {
		p.book.put(p.name, i+1, p.row, v)
	}
	p.row++
}

// heads writes headings below an empty line. The first so many stand over words, the others over numbers.
func (p *frontPage) heads(words int, heads ...string) {
	p.row++
	for i, h := range heads {
		style := "strong"
		if i >= words {
			style = "strong right"
		}
		p.book.text(p.name, i+1, p.row, h, style)
	}
	p.row++
}

// high makes the next line high enough for a text in one of its columns.
func (p *frontPage) high(col int, text string) {
	p.book.height(p.name, p.row, linesOf(text, p.widths[col-1]))
}

// contents ends the page with what else is in the workbook.
func (p *frontPage) contents(says map[string]string) {
	p.heads(1, "In this workbook")
	for _, name := range p.book.sheets[1:] {
		p.line(bookJump(name), says[name])
	}
}
