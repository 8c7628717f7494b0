package delim

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"drytally/ingest/sheet"
)

// cell makes a cell of a field that is not empty.
func (t *table) cell(row, col int, field string) sheet.Cell {
	c := sheet.Cell{Row: row, Col: col, Kind: sheet.Text, Text: field}
	digits := strings.Trim(field, " \t")
	mark, ok := decimal(digits)
	t.point = t.point || ok && mark == '.' && !thousands(digits, mark)
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

// commaIsPoint says whether the file itself settles that 9,5 is nine and a half: at least one number, alone or before its
// unit, has a comma that cannot part thousands, and no number alone has a point that cannot part thousands.
func commaIsPoint(text string, sep byte) bool {
	settled := false
	p := splitter{text: text, sep: sep}
	for p.nextRecord() && p.row <= sheet.MaxRows {
		for p.nextField() {
			digits := strings.Trim(p.field, " \t")
			mark, alone := decimal(digits)
			ok := alone
			if !alone {
				digits = withoutUnit(digits)
				mark, ok = decimal(digits)
			}
			if !ok || mark == 0 || mark == '.' && !alone || thousands(digits, mark) {
				continue // what has a point and letters may be a name
			}
			if mark == '.' {
				return false
			}
			settled = true
		}
	}
	return settled
}

// longestUnit is how many signs a unit has at the most: mm, kg, sqft, EUR.
const longestUnit = 4

// withoutUnit takes a unit off the end of a number; what ends in anything else it leaves as it is.
func withoutUnit(s string) string {
	number := strings.TrimRightFunc(s, func(r rune) bool { return unicode.IsLetter(r) || strings.ContainsRune("%°\"'²³", r) })
	if utf8.RuneCountInString(s[len(number):]) > longestUnit {
		return s
	}
	return strings.TrimRight(number, " \t\u00a0")
}

// thousands says whether the mark of a number could part thousands: one to three digits before it, not led by a zero,
// and three behind.
func thousands(digits string, mark byte) bool {
	before, behind, _ := strings.Cut(strings.TrimLeft(digits, "+-"), string(mark))
	return len(behind) == 3 && len(before) >= 1 && len(before) <= 3 && before[0] != '0'
}
