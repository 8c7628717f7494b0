// Package sheet holds cells as a file stores them, before anyone says what they mean. The readers of xlsx and CSV make
// them; bind reads them.
package sheet

// Kind says what a cell stores.
type Kind uint8

// The kinds. The zero value is an empty cell.
const (
	Blank Kind = iota
	Text
	Number
	Bool
	ErrorValue // #DIV/0! and the like; Text holds it
)

// Format says how the file's style shows a number. CSV cells are always General.
type Format uint8

// The formats that change what a stored number means.
const (
	General Format = iota
	Decimal
	Percent  // 0.075 is shown as 7.5 %
	Date     // a day number shown as a date
	DateTime // a day number shown as date and time
	Clock    // a share of a day shown as a time
	Fraction // 11.375 is shown as 11 3/8
	AsText
)

// Cell is one stored cell. Row and Col count from 1. What few cells have stands apart in More.
type Cell struct {
	Row, Col int
	Text     string  // the text; for a number its stored digits; for a bool TRUE or FALSE; for an error its name
	Number   float64 // Kind Number only
	More     *More   // nil when there is none of it; shared by cells, never changed
	Kind     Kind
	Format   Format
	Formula  bool // the cell holds a formula and the value is its stored result
	NoResult bool // a formula that was never calculated: Kind is Blank
}

// More is what few cells have.
type More struct {
	FormatCode string // the number format as the file gives it, empty for General
	Comment    string
}

// FormatCode gives the number format as the file gives it, empty for General.
func (c Cell) FormatCode() string {
	if c.More == nil {
		return ""
	}
	return c.More.FormatCode
}

// Comment gives the cell's comment, empty for none.
func (c Cell) Comment() string {
	if c.More == nil {
		return ""
	}
	return c.More.Comment
}

// Range is a merged block, inclusive, counted from 1.
type Range struct{ FirstRow, FirstCol, LastRow, LastCol int }

// Sheet is one table page of a workbook. Rows are in order of number.
type Sheet struct {
	Name       string
	Hidden     bool
	Rows       []Row
	Merges     []Range
	HiddenCols map[int]bool
}

// Workbook is a file read. Name is the file's name without its folder. SHA256 is in hexadecimal.
type Workbook struct {
	Name     string
	SHA256   string
	Date1904 bool
	CSV      bool
	Sheets   []Sheet
	// DecimalComma is true when the file itself settles that 9,5 means nine and a half (a semicolon-separated CSV
	// whose numbers carry commas).
	DecimalComma bool
	// DecimalPoint is true when a number of a CSV has a point that can't part thousands: 9.5.
	DecimalPoint bool
}

// Cell returns the cell at row and col, or a blank one. It is a binary search: use Rows for whole tables.
func (s *Sheet) Cell(row, col int) Cell {
	lo, hi := 0, len(s.Rows)
	for lo < hi {
		mid := (lo + hi) / 2
		if s.Rows[mid].Number < row {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < len(s.Rows) && s.Rows[lo].Number == row {
		for c := range s.Rows[lo].Cells() {
			if c.Col == col {
				return c
			}
		}
	}
	return Cell{Row: row, Col: col}
}
