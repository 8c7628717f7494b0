// Package cell says what one spreadsheet cell means as a quantity. Nothing is guessed: a cell that two careful people
// could read two ways gives a problem and no value.
package cell

import (
	"fmt"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// Unit is what a bare number of a column means. The zero value says that nothing settles it.
type Unit uint8

// The units.
const (
	UnitNone Unit = iota
	Inch
	Foot
	Millimetre
	Centimetre
	Metre
	Fahrenheit
	CelsiusUnit
	Gram
	Kilogram
	Pound
	OunceUnit
	PercentUnit
	SquareFoot
	SquareMetre
)

// Order says which of two figures of a date is the day. The zero value says that the file doesn't settle it.
type Order uint8

// The orders.
const (
	OrderUnknown Order = iota
	MonthFirst
	DayFirst
)

// Context is what the heading, the settings and the file as a whole settle about a cell.
type Context struct {
	Unit         Unit   // what a bare number means, from the heading; UnitNone: use Default
	Default      Unit   // by the kind of quantity and the owner's settings
	DecimalComma bool   // the file settles that 9,5 is nine and a half
	Date1904     bool   // day numbers count from 1904
	DayFirst     Order  // settled by the file as a whole, see DateOrder
	Year         int    // given to dates written without one; 0: none settled
	Column       string // the field's name, for messages
	ByMeasure    bool   // of a price: one for all of it is not meant
}

// bare is the unit of a number that carries none itself.
func (x Context) bare() Unit {
	if x.Unit != UnitNone {
		return x.Unit
	}
	return x.Default
}

// Problem is one thing to say about a cell. Its severity is that of its code's kind: with an error no value is given;
// with a warning or a note the value stands. Problem and Hint are lower case and have no full stop.
type Problem struct {
	Code          finding.Code
	Problem, Hint string
}

func fault(code finding.Code, hint, problem string, args ...any) *Problem {
	return &Problem{Code: code, Problem: fmt.Sprintf(problem, args...), Hint: hint}
}

// list gives the problems that are not nil.
func list(ps ...*Problem) []Problem {
	var all []Problem
	for _, p := range ps {
		if p != nil {
			all = append(all, *p)
		}
	}
	return all
}

// longestQuote is how many letters of a cell a message repeats.
const longestQuote = 60

// quote puts what stands in a cell between quotation marks. Inch marks inside would have to be escaped between straight
// ones, so then curly ones stand around.
func quote(s string) string {
	if r := []rune(s); len(r) > longestQuote {
		s = string(r[:longestQuote]) + "..."
	}
	if strings.Contains(s, `"`) && !strings.ContainsAny(s, "\n\r\t\\") {
		return "“" + s + "”"
	}
	return fmt.Sprintf("%q", s)
}

// stands quotes what a cell shows.
func stands(c sheet.Cell, x Context) string {
	if c.Kind == sheet.Number {
		return quote(shown(c, x))
	}
	return quote(strings.TrimSpace(c.Text))
}

// uncalculated gives the problem of a cell that has no value to read: a formula never calculated, or an error.
func uncalculated(c sheet.Cell) *Problem {
	switch {
	case c.NoResult:
		return fault(finding.CellNotCalculated, "open the workbook in your spreadsheet program, let it calculate, and save it",
			"the formula in this cell was never calculated, so it has no value")
	case c.Kind == sheet.ErrorValue:
		return fault(finding.CellErrorValue, "correct the formula, or write the value itself",
			"the formula in this cell gave the error %s instead of a value", quote(c.Text))
	}
	return nil
}

// noFigure gives the problem of a cell that can't hold a figure: no value, TRUE or FALSE, a date or a time.
// hint says how the figure is written.
func noFigure(c sheet.Cell, x Context, hint string) *Problem {
	if p := uncalculated(c); p != nil {
		return p
	}
	switch {
	case c.Kind == sheet.Bool:
		return fault(finding.CellTrueFalse, hint+", or leave the cell empty", "%s stands where %s is meant", quote(c.Text), x.what("a figure"))
	case dated(c):
		return fault(finding.CellDated, "set the cell to text and write the figure again: "+hint,
			"this cell holds %s, a date or time, where %s is meant", stands(c, x), x.what("a figure"))
	}
	return nil
}

// dated reports whether a cell is a number shown as a date or a time.
func dated(c sheet.Cell) bool {
	return c.Kind == sheet.Number && (c.Format == sheet.Date || c.Format == sheet.DateTime || c.Format == sheet.Clock)
}

// what names the field, or else the kind of quantity.
func (x Context) what(kind string) string {
	if x.Column != "" {
		return x.Column
	}
	return kind
}

// longestMark is the longest text, in bytes, that is looked at as a mark for nothing or for the same: notes are long and
// many.
const longestMark = 100

// Empty reports whether a cell says nothing: blank, only spaces, a dash, n/a. A formula that was never calculated is
// empty too; its NoResult tells it apart.
func Empty(c sheet.Cell) bool {
	switch c.Kind {
	case sheet.Blank:
		return true
	case sheet.Text:
		if len(c.Text) > longestMark && strings.TrimSpace(c.Text) != "" {
			return false
		}
		if plainlyFull(c.Text) {
			return false
		}
		switch clean(c.Text) {
		case "", "-", "--", "---", "n/a", "na", "n.a.", "n.a", "n / a", "#n/a":
			return true
		}
	}
	return false
}

// plainlyFull reports whether a text begins with an ASCII letter or digit that no mark for nothing begins with: most cells do,
// and need no closer look.
func plainlyFull(s string) bool {
	if s == "" {
		return false
	}
	b := s[0] | 0x20 // small letter
	return b >= 'a' && b <= 'z' && b != 'n' || s[0] >= '0' && s[0] <= '9'
}

// Ditto reports whether a cell says that the value above it is meant.
func Ditto(c sheet.Cell) bool {
	if c.Kind != sheet.Text || len(c.Text) > longestMark {
		return false
	}
	switch clean(c.Text) {
	case `"`, "do", "do.", "ditto", "dto", "dto.", "same", "same as above", "as above", `-"-`, `- " -`, `" "`, ",,":
		return true
	}
	return false
}

// unread reports whether a cell gives nothing to read: it is empty, which is no problem, or it was never calculated.
func unread(c sheet.Cell) (bool, []Problem) {
	if c.NoResult {
		return true, list(uncalculated(c))
	}
	return Empty(c), nil
}
