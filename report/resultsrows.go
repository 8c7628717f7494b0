package report

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"unicode/utf8"
)

// The rows of results.xlsx are written here, as they come, and put into the sheets when the book is packed. The library
// that makes the rest of the book keeps every cell as an object until then, a hundred times the size of what it writes.

// rowsOf is the rows of one sheet, written out. Cells come in order of column within a row; the heading row may come last.
type rowsOf struct {
	widths []float64 // of the columns from the first, in characters
	buf    []byte
	rows   []rowPiece
}

// rowPiece is one row: its cells in buf, and its height in points, 0 for what the program gives it.
type rowPiece struct {
	number   int
	from, to int
	height   float64
}

// row gives the piece of a row, begun when it is not the one at hand.
func (s *rowsOf) row(number int) *rowPiece {
	if n := len(s.rows); n > 0 && s.rows[n-1].number == number {
		return &s.rows[n-1]
	}
	s.rows = append(s.rows, rowPiece{number: number, from: len(s.buf), to: len(s.buf)})
	return &s.rows[len(s.rows)-1]
}

// cell begins a cell, up to its type.
func (s *rowsOf) cell(col, row, style int) {
	s.row(row)
	s.buf = append(s.buf, `<c r="`...)
	s.buf = appendColumn(s.buf, col)
	s.buf = strconv.AppendInt(s.buf, int64(row), 10)
	s.buf = append(s.buf, `" s="`...)
	s.buf = strconv.AppendInt(s.buf, int64(style), 10)
}

func (s *rowsOf) endCell(value string) {
	s.buf = append(s.buf, value...)
	s.buf = append(s.buf, `</v></c>`...)
	s.rows[len(s.rows)-1].to = len(s.buf)
}

// text writes a cell that holds a text of the book's table of texts.
func (s *rowsOf) text(col, row, style, at int) {
	s.cell(col, row, style)
	s.buf = append(s.buf, `" t="s"><v>`...)
	s.endCell(strconv.Itoa(at))
}

// number writes a cell that holds a number.
func (s *rowsOf) number(col, row, style int, x float64) {
	s.cell(col, row, style)
	s.buf = append(s.buf, `"><v>`...)
	s.endCell(strconv.FormatFloat(x, 'f', -1, 64))
}

func appendColumn(b []byte, col int) []byte {
	var letters [3]byte
	i := len(letters)
	for ; col > 0 && i > 0; col = (col - 1) / 26 {
		i--
		letters[i] = byte('A' + (col-1)%26)
	}
	return append(b, letters[i:]...)
}

// writeColumns writes the widths of the columns, neighbours of one width together.
func (s *rowsOf) writeColumns(out *bytes.Buffer) {
	if len(s.widths) == 0 {
		return
	}
	out.WriteString("<cols>")
	for first := 0; first < len(s.widths); {
		last := first
		for last+1 < len(s.widths) && s.widths[last+1] == s.widths[first] {
			last++
		}
		fmt.Fprintf(out, `<col min="%d" max="%d" width="%s" customWidth="1"/>`, first+1, last+1, strconv.FormatFloat(s.widths[first], 'f', -1, 64))
		first = last + 1
	}
	out.WriteString("</cols>")
}

// writeTo writes the columns' widths and the rows in order.
func (s *rowsOf) writeTo(out *bytes.Buffer) {
	s.writeColumns(out)
	rows := slices.Clone(s.rows)
	slices.SortStableFunc(rows, func(a, b rowPiece) int { return a.number - b.number })
	out.WriteString("<sheetData>")
	for _, r := range rows {
		fmt.Fprintf(out, `<row r="%d"`, r.number)
		if r.height > 0 {
			fmt.Fprintf(out, ` ht="%s" customHeight="1"`, strconv.FormatFloat(r.height, 'f', -1, 64))
		}
		out.WriteByte('>')
		out.Write(s.buf[r.from:r.to])
		out.WriteString("</row>")
	}
	out.WriteString("</sheetData>")
}

// textTable is the book's table of texts: each is written once.
type textTable struct {
	at  map[string]int
	all []string
}

func (t *textTable) of(s string) int {
	at, there := t.at[s]
	if !there {
		if t.at == nil {
			t.at = map[string]int{}
		}
		at = len(t.all)
		t.at[s] = at
		t.all = append(t.all, s)
	}
	return at
}

// writeTo writes the part that holds the table (ECMA-376 Part 1, 18.4; memory).
func (t *textTable) writeTo(out *bytes.Buffer) {
	fmt.Fprintf(out, `<?xml version="1.0" encoding="UTF-8"?>`+"\n"+`<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" uniqueCount="%d">`, len(t.all))
	for _, s := range t.all {
		out.WriteString(`<si><t xml:space="preserve">`)
		escapeInto(out, s)
		out.WriteString("</t></si>")
	}
	out.WriteString("</sst>")
}

// escapeInto writes a text for XML. bookText has taken out what XML cannot hold.
func escapeInto(out *bytes.Buffer, s string) {
	from := 0
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		as := ""
		switch {
		case r == '&':
			as = "&amp;"
		case r == '<':
			as = "&lt;"
		case r == '>':
			as = "&gt;"
		case r == '\r':
			as = "&#13;"
		case r == utf8.RuneError && size == 1:
			as = "\uFFFD"
		}
		if as != "" {
			out.WriteString(s[from:i])
			out.WriteString(as)
			from = i + size
		}
		i += size
	}
	out.WriteString(s[from:])
}
