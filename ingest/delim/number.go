package delim

import (
	"math"
	"strconv"
	"strings"

	"drytally/ingest/sheet"
)

// cell makes a cell of a field that is not empty.
func (t *table) cell(row, col int, field string) sheet.Cell {
	c := sheet.Cell{Row: row, Col: col, Kind: sheet.Text, Text: field}
	digits := strings.Trim(field, " \t")
	mark, ok := decimal(digits)
	if !ok || mark == ',' || mark == '.' && t.comma {
		return c
	}
	if v, err := strconv.ParseFloat(digits, 64); err == nil && !math.IsInf(v, 0) {
		c.Kind, c.Number = sheet.Number, v
	}
	return c
}

// decimal says whether text is an optional sign, digits, and at most one point or comma, which it returns; 0 for none.
func decimal(text string) (mark byte, ok bool) {
	if text != "" && (text[0] == '+' || text[0] == '-') {
		text = text[1:]
	}
	n := 0
	for i := range len(text) {
		switch c := text[i]; {
		case c >= '0' && c <= '9':
			n++
		case (c == '.' || c == ',') && mark == 0:
			mark = c
		default:
			return 0, false
		}
	}
	return mark, n > 0
}

// commaIsPoint says whether the file itself settles that 9,5 is nine and a half: at least one number has a comma that
// cannot part thousands, and no number has a point that cannot part thousands.
func commaIsPoint(text string, sep byte) bool {
	settled := false
	p := splitter{text: text, sep: sep}
	for p.nextRecord() && p.row <= sheet.MaxRows {
		for p.nextField() {
			digits := strings.Trim(p.field, " \t")
			mark, ok := decimal(digits)
			if !ok || mark == 0 || thousands(digits, mark) {
				continue
			}
			if mark == '.' {
				return false
			}
			settled = true
		}
	}
	return settled
}

// thousands says whether the mark of a number could part thousands: one to three digits before it, not led by a zero,
// and three behind.
func thousands(digits string, mark byte) bool {
	before, behind, _ := strings.Cut(strings.TrimLeft(digits, "+-"), string(mark))
	return len(behind) == 3 && len(before) >= 1 && len(before) <= 3 && before[0] != '0'
}
