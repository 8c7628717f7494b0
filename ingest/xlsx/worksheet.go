package xlsx

import (
	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// grid reads the cells of one worksheet.
type grid struct {
	*book
	s       *stream
	out     *sheet.Sheet
	lastRow int
	cells   []sheet.Cell // of the row being read
	value   []byte       // of the cell being read
	texts   known
}

// readCells reads a worksheet part. What the part says about its own extent (dimension) is not used: it is often
// missing or wrong.
func (b *book) readCells(part string, out *sheet.Sheet) error {
	return b.read(part, func(s *stream) error {
		if err := s.root(mainSpace, "worksheet"); err != nil {
			return err
		}
		g := &grid{book: b, s: s, out: out}
		tables, hidden := 0, make([]bool, sheet.LastCol+1)
		for {
			more, err := s.child()
			if err != nil {
				return err
			}
			if !more {
				break
			}
			switch {
			case s.space != mainSpace:
				err = s.skip()
			case s.name == "cols":
				err = g.columns(hidden)
			case s.name == "sheetData":
				if tables++; tables > 1 {
					return s.fault(finding.FileLayout, "this part holds two tables of cells")
				}
				err = g.rows()
			case s.name == "mergeCells":
				err = g.merges()
			case s.name == "row" || s.name == "c":
				err = s.fault(finding.FileLayout, "a row or a cell stands outside the table of cells")
			default:
				err = s.skip()
			}
			if err != nil {
				return err
			}
		}
		if tables == 0 {
			return s.fault(finding.FileLayout, "this part holds no table of cells")
		}
		for col, is := range hidden {
			if is {
				out.HiddenCols[col] = true
			}
		}
		return nil
	})
}

// columns reads which columns are hidden. A file describes no column twice.
func (g *grid) columns(hidden []bool) error {
	s, described := g.s, 0
	for {
		more, err := s.child()
		if err != nil || !more {
			return err
		}
		if s.space == mainSpace && s.name == "col" {
			firstText, _ := s.attr("min")
			lastText, _ := s.attr("max")
			first, ok1 := wholeNumber(firstText)
			last, ok2 := wholeNumber(lastText)
			if !ok1 || !ok2 || first < 1 || last < first || last > sheet.LastCol {
				return s.fault(finding.FileOrder, "the columns %q to %q are none a page has", firstText, lastText)
			}
			if described += last - first + 1; described > sheet.LastCol {
				return s.fault(finding.FileOrder, "a column is described twice")
			}
			hide, err := s.flag("hidden")
			if err != nil {
				return err
			}
			if _, err := g.style("style", func() string { return finding.Column(first) }); err != nil {
				return err
			}
			for col := first; hide && col <= last; col++ {
				hidden[col] = true
			}
		}
		if err := s.skip(); err != nil {
			return err
		}
	}
}

// style reads an attribute that points at a cell style; absent is style 0.
func (g *grid) style(name string, where func() string) (int, error) {
	text, given := g.s.raw(name)
	if !given {
		return 0, nil
	}
	n, ok := wholeNumber(text)
	if !ok || n >= max(1, len(g.styles)) {
		return 0, g.s.fault(finding.FileIndex, "%s has the style %q, and there are %d styles", where(), text, len(g.styles))
	}
	return n, nil
}

// rows reads the table of cells. Nothing but rows belongs in it.
func (g *grid) rows() error {
	for {
		more, err := g.s.child()
		if err != nil || !more {
			return err
		}
		if g.s.space != mainSpace || g.s.name != "row" {
			return g.s.fault(finding.FileLayout, "the tag <%s> does not belong between the rows", g.s.name)
		}
		if err := g.row(); err != nil {
			return err
		}
	}
}

// row reads one row. A row without a number is the one after the last.
func (g *grid) row() error {
	s := g.s
	if s.left.Rows--; s.left.Rows < 0 {
		return s.fault(finding.FileTooLarge, "there are more than %d rows, counting those that only carry formatting"+inEarnest, sheet.MaxRows)
	}
	number := g.lastRow + 1
	text, given := s.raw("r")
	if given {
		var ok bool
		if number, ok = wholeNumber(text); !ok {
			return s.fault(finding.FileOrder, "%q is no row number", text)
		}
	}
	if number < 1 || number > sheet.LastRow {
		return s.fault(finding.FileOrder, "there is no row %d on a page: rows go from 1 to %d", number, sheet.LastRow)
	}
	if number <= g.lastRow {
		return s.fault(finding.FileOrder, "row %d stands twice or out of order", number)
	}
	g.lastRow = number
	hidden, err := s.flag("hidden")
	if err != nil {
		return err
	}
	if _, err := g.style("s", finding.Place{Row: number}.Cell); err != nil {
		return err
	}
	g.cells = g.cells[:0]
	lastCol := 0
	for {
		more, err := s.child()
		if err != nil {
			return err
		}
		if !more {
			break
		}
		switch {
		case s.space == mainSpace && s.name == "c":
			err = g.cell(number, &lastCol)
		case s.space == mainSpace && s.name == "extLst":
			err = s.skip()
		default:
			err = s.fault(finding.FileLayout, "the tag <%s> does not belong in row %d", s.name, number)
		}
		if err != nil {
			return err
		}
	}
	if len(g.cells) > 0 || hidden {
		g.out.Rows = append(g.out.Rows, g.packer.Row(number, hidden, g.cells))
	}
	return nil
}

// known holds texts met before, each where one of its letters would be: names and figures repeat down a column.
type known [2048]string

// of gives a text as a string, the one met before if it is still there.
func (k *known) of(text []byte) string {
	const short = 32
	if len(text) > short {
		return string(text)
	}
	h := uint32(2166136261) // FNV-1a, which spreads short texts well
	for _, c := range text {
		h = (h ^ uint32(c)) * 16777619
	}
	at := &k[(h^h>>15)%uint32(len(k))]
	if *at != string(text) {
		*at = string(text)
	}
	return *at
}

// merges reads the merged blocks.
func (g *grid) merges() error {
	s := g.s
	for {
		more, err := s.child()
		if err != nil || !more {
			return err
		}
		if s.space == mainSpace && s.name == "mergeCell" {
			ref, _ := s.attr("ref")
			block, ok := rangePlace(ref)
			if !ok {
				return s.fault(finding.FileOrder, "the merged block %q is none a page has", ref)
			}
			if len(g.out.Merges) >= sheet.MaxMerges {
				return s.fault(finding.FileTooLarge, "there are more than %d merged blocks", sheet.MaxMerges)
			}
			g.out.Merges = append(g.out.Merges, block)
		}
		if err := s.skip(); err != nil {
			return err
		}
	}
}

func (b *book) tooManyCells(s *stream) error {
	return s.fault(finding.FileTooLarge, "there are more than %d cells, counting those that only carry formatting"+inEarnest, sheet.MaxCells)
}
