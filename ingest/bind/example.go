package bind

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// exampleState says what a row that bears the mark of an example is.
type exampleState uint8

const (
	noExample    exampleState = iota // it doesn't bear the mark
	exampleAsIs                      // it holds nothing but the example
	exampleOver                      // nothing of the example is left but the mark: a row of the owner's
	exampleBegun                     // cells of the owner's stand beside cells of the example
)

// exampleOf looks whether a row is an example of the blank workbook. The mark alone never takes a row away: every cell must be
// that of the example too. mark is the cell of the mark, left are the cells that still are the example's.
func (b *binder) exampleOf(r region, cells []sheet.Cell) (state exampleState, mark sheet.Cell, left []sheet.Cell) {
	if r.table == nil || r.ends() || r.wide != nil {
		return noExample, mark, nil
	}
	at := slices.IndexFunc(cells, func(c sheet.Cell) bool {
		return c.Kind == sheet.Text && len(c.Text) < 2*len(ExampleMark) && b.wordsOf(c.Text).spelled.whole == exampleWords
	})
	if at < 0 || r.fieldAt(cells[at].Col) != "note" {
		return noExample, mark, nil
	}
	mark = cells[at]
	// Each row is held against the example it has most of.
	most, own := -1, 0
	for _, system := range []units.System{units.InchFoot, units.Metric} {
		for _, e := range r.table.examples(system) {
			var of []sheet.Cell
			for i, c := range cells {
				if text := e[r.fieldAt(c.Col)]; i != at && text != "" && b.saysExample(c, r, text) {
					of = append(of, c)
				}
			}
			if len(of) > most {
				most, left, own = len(of), of, len(cells)-1-len(of)
			}
		}
	}
	switch {
	case own == 0:
		return exampleAsIs, mark, left
	case most <= 0:
		return exampleOver, mark, nil
	}
	return exampleBegun, mark, left
}

var exampleWords = spell(ExampleMark).whole

// fieldAt names the field of a column, numbered from the second of a field on; "" when the column has none.
func (r *region) fieldAt(col int) string {
	for _, k := range r.cols {
		if k.col == col && k.field >= 0 {
			return k.name
		}
	}
	return ""
}

// saysExample reports whether a cell says what the example says, however the spreadsheet program has stored it since.
func (b *binder) saysExample(c sheet.Cell, r region, text string) bool {
	if strings.EqualFold(strings.TrimSpace(c.Text), text) {
		return true
	}
	x := b.context("date", cell.UnitNone, cell.UnitNone)
	x.Year = 0
	for _, k := range r.cols {
		if k.col == c.Col && k.field >= 0 && r.table.Fields[k.field].What == aDate {
			t, ps := cell.Date(c, x)
			return len(ps) == 0 && t.Format(time.DateOnly) == text
		}
	}
	if d, ok := clockOf(c); ok && strings.Contains(text, ":") {
		want, known := clockOf(sheet.Cell{Kind: sheet.Text, Text: text})
		return known && d == want
	}
	if c.Kind != sheet.Number {
		return false
	}
	want, err := strconv.ParseFloat(text, 64)
	return err == nil && (c.Number == want || c.Format == sheet.Percent && c.Number*100 == want)
}

// passExample deals with a row that bears the mark of an example. It returns the cells to read as data, or nil when the row is
// none.
func (b *binder) passExample(r region, row int, cells []sheet.Cell) (data []sheet.Cell, state exampleState) {
	state, mark, left := b.exampleOf(r, cells)
	switch state {
	case exampleAsIs:
		b.fate(row, r.table.Kind, compute.NotData, compute.ExampleRow)
		return nil, state
	case exampleBegun:
		var names []string
		for _, c := range left {
			names = append(names, finding.Column(c.Col)+strconv.Itoa(row))
		}
		b.say("T060", b.at(row, mark.Col), mark.Text, "type over these cells or clear them; if all figures are yours, clear the word in the note",
			"this row was begun over an example, and of the example there still stand %s; the row was not used", strings.Join(names, ", "))
		b.fate(row, r.table.Kind, compute.SetAside, "begun over an example")
		return nil, state
	case exampleOver:
		b.say("T064", b.at(row, mark.Col), mark.Text, "clear the word in the note", "this row is marked as an example but holds your own figures; it was read")
		return slices.DeleteFunc(slices.Clone(cells), func(c sheet.Cell) bool { return c.Col == mark.Col }), state
	}
	return cells, state
}

// exampleRow reports whether a row of a region is an example as it stands: its dates settle nothing.
func (b *binder) exampleRow(r region, row *sheet.Row) bool {
	state, _, _ := b.exampleOf(r, cellsOf(row, r))
	return state == exampleAsIs || state == exampleBegun
}

// ownSheet says what a sheet without a table is that the blank workbook brings along: "" when it is none.
func ownSheet(s *sheet.Sheet) string {
	for i := range s.Rows {
		if !hasContent(&s.Rows[i]) {
			continue
		}
		switch c := firstText(&s.Rows[i]); {
		case c.Kind == sheet.Text && c.Text == ReadMeTitle && !tabular(s) && figureRows(s) < leastFigureRows:
			return "how to"
		case c.Kind == sheet.Text && c.Text == ListsTitle:
			return "list of words"
		}
		break
	}
	return ""
}
