package xlsx

import (
	"math"
	"strconv"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// stored is what a cell's element holds.
type stored struct {
	kind                   string // the t attribute
	formula, value, inline bool   // which of f, v and is stand in it
}

// cell reads one cell into g.cells, unless it is blank. A cell without a name stands right of the last.
func (g *grid) cell(row int, lastCol *int) error {
	s := g.s
	if s.left.Cells--; s.left.Cells < 0 {
		return g.tooManyCells(s)
	}
	col := *lastCol + 1
	if ref, given := s.raw("r"); given {
		r, c, ok := cellPlace(ref)
		switch {
		case !ok:
			return s.fault(finding.FileOrder, "%q is no cell of a page", ref)
		case r != row:
			return s.fault(finding.FileOrder, "the cell %s stands in row %d", cellName(r, c), row)
		}
		col = c
	}
	if col > sheet.LastCol {
		return s.fault(finding.FileOrder, "row %d has more than %d cells", row, sheet.LastCol)
	}
	if col <= *lastCol {
		return s.fault(finding.FileOrder, "the cell %s stands twice or out of order", cellName(row, col))
	}
	*lastCol = col

	styleIndex, err := g.style("s", func() string { return cellName(row, col) })
	if err != nil {
		return err
	}
	got := stored{kind: "n"}
	if t, given := s.raw("t"); given {
		got.kind = cellKind(t)
	}
	if err := g.inside(&got, row, col); err != nil {
		return err
	}

	cell := sheet.Cell{Row: row, Col: col, Formula: got.formula}
	if styleIndex < len(g.styles) {
		cell.Format, cell.More = g.styles[styleIndex].format, g.styles[styleIndex].more
	}
	if err := g.decode(&cell, got); err != nil {
		return err
	}
	if cell.Kind == sheet.Number && styleIndex < len(g.styles) && got.kind != "d" {
		cell.Format = g.styles[styleIndex].of(cell.Number)
	}
	if cell.Kind != sheet.Blank || cell.Formula {
		g.cells = append(g.cells, cell)
	}
	return nil
}

// cellKind gives the usual types of a cell without making a string of them.
func cellKind(t []byte) string {
	for _, kind := range [...]string{"s", "n", "str", "inlineStr", "b", "e", "d"} {
		if string(t) == kind {
			return kind
		}
	}
	return string(t)
}

// inside reads the elements of a cell; the value's text lands in g.value.
func (g *grid) inside(got *stored, row, col int) error {
	s := g.s
	g.value = g.value[:0]
	for {
		more, err := s.child()
		if err != nil || !more {
			return err
		}
		twice := false
		switch {
		case s.space != mainSpace:
			return s.fault(finding.FileLayout, "the tag <%s> does not belong in the cell %s", s.name, cellName(row, col))
		case s.name == "v":
			twice, got.value = got.value || got.inline, true
			g.value, err = s.content(g.value)
		case s.name == "f":
			twice, got.formula = got.formula, true
			err = s.skip()
		case s.name == "is":
			twice, got.inline = got.value || got.inline, true
			g.value, err = s.richText(g.value)
		case s.name == "extLst":
			err = s.skip()
		default:
			return s.fault(finding.FileLayout, "the tag <%s> does not belong in the cell %s", s.name, cellName(row, col))
		}
		if err != nil {
			return err
		}
		if twice {
			return s.fault(finding.FileValue, "the cell %s has two values or two formulas", cellName(row, col))
		}
	}
}

// decode makes the cell's value of the stored text, by the cell's type (ECMA-376 Part 1, 18.18.11, ST_CellType; memory).
func (g *grid) decode(cell *sheet.Cell, got stored) error {
	name := cellRef{cell.Row, cell.Col}
	if got.inline != (got.kind == "inlineStr") && (got.inline || got.value) {
		return g.s.fault(finding.FileValue, "the cell %s keeps its value in a place that does not fit its type %q", name, got.kind)
	}
	plain := trimWhite(g.value)
	// Only a text may be empty; anything else empty has no value.
	if len(plain) == 0 && got.kind != "str" && got.kind != "inlineStr" || !got.value && !got.inline {
		switch got.kind {
		case "n", "s", "b", "e", "d", "str", "inlineStr":
		default:
			return g.s.fault(finding.FileValue, "the cell %s is of the unknown type %q", name, got.kind)
		}
		if got.kind == "e" && !got.formula {
			return g.s.fault(finding.FileValue, "the cell %s is said to hold an error and holds nothing", name)
		}
		cell.NoResult = got.formula
		return nil
	}
	switch got.kind {
	case "n":
		return g.number(cell, plain, name)
	case "s":
		at, ok := index(plain)
		if !ok || at >= len(g.strings) {
			return g.s.fault(finding.FileIndex, "the cell %s points at text number %q, and there are %d texts", name, plain, len(g.strings))
		}
		setText(cell, g.strings[at])
	case "str":
		g.value = unescape(g.value)
		if err := g.s.checkLength(g.value); err != nil {
			return err
		}
		setText(cell, g.texts.of(g.value))
	case "inlineStr":
		setText(cell, g.texts.of(g.value))
	case "b":
		switch string(plain) {
		case "1", "true":
			cell.Kind, cell.Text = sheet.Bool, "TRUE"
		case "0", "false":
			cell.Kind, cell.Text = sheet.Bool, "FALSE"
		default:
			return g.s.fault(finding.FileValue, "the cell %s is %q, neither true nor false", name, plain)
		}
	case "e":
		cell.Kind, cell.Text = sheet.ErrorValue, string(plain)
	case "d":
		return g.isoDate(cell, string(plain), name)
	default:
		return g.s.fault(finding.FileValue, "the cell %s is of the unknown type %q", name, got.kind)
	}
	return nil
}

// setText makes a text cell, or leaves it blank when the text is empty: a formula that gives an empty text was
// calculated, so it is blank without NoResult.
func setText(cell *sheet.Cell, text string) {
	if text != "" {
		cell.Kind, cell.Text = sheet.Text, text
	}
}

// number reads a stored number. It must be a finite decimal as XML Schema writes a double; the digits are kept.
func (g *grid) number(cell *sheet.Cell, digits []byte, name cellRef) error {
	text := g.texts.of(digits)
	v, err := strconv.ParseFloat(text, 64)
	if !isDecimal(text) || err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return g.s.fault(finding.FileValue, "the cell %s holds %q, which is no finite decimal number", name, clip(text))
	}
	cell.Kind, cell.Text, cell.Number = sheet.Number, text, v
	return nil
}

// isDecimal says whether text is an optional sign, digits with at most one point, and an optional exponent.
func isDecimal(text string) bool {
	i := 0
	sign := func() {
		if i < len(text) && (text[i] == '+' || text[i] == '-') {
			i++
		}
	}
	run := func() int {
		from := i
		for i < len(text) && text[i] >= '0' && text[i] <= '9' {
			i++
		}
		return i - from
	}
	sign()
	n := run()
	if i < len(text) && text[i] == '.' {
		i++
		n += run()
	}
	if n == 0 {
		return false
	}
	if i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		i++
		sign()
		if run() == 0 {
			return false
		}
	}
	return i == len(text)
}

// index reads a number of up to nine digits without making a string of it.
func index(digits []byte) (int, bool) {
	if len(digits) == 0 || len(digits) > 9 {
		return 0, false
	}
	n := 0
	for _, c := range digits {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, true
}

// clip shortens what is quoted in a message.
func clip(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "..."
	}
	return text
}
