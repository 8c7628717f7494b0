package xlsx

import (
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// cellPlace reads a cell's name such as B7 or $B$7; false when it is none or lies outside the largest page.
func cellPlace[T string | []byte](ref T) (row, col int, ok bool) {
	i := 0
	if i < len(ref) && ref[i] == '$' {
		i++
	}
	letters := i
	for ; i < len(ref) && i-letters < 4; i++ {
		c := ref[i] | 0x20 // lower case
		if c < 'a' || c > 'z' {
			break
		}
		col = col*26 + int(c-'a') + 1
	}
	if i == letters || col > sheet.LastCol {
		return 0, 0, false
	}
	if i < len(ref) && ref[i] == '$' {
		i++
	}
	digits := i
	for ; i < len(ref) && i-digits < 8; i++ {
		if ref[i] < '0' || ref[i] > '9' {
			return 0, 0, false
		}
		row = row*10 + int(ref[i]-'0')
	}
	return row, col, i == len(ref) && row >= 1 && row <= sheet.LastRow
}

// rangePlace reads A1:B2, or a single cell.
func rangePlace(ref string) (sheet.Range, bool) {
	first, last, two := strings.Cut(ref, ":")
	if !two {
		last = first
	}
	r1, c1, ok1 := cellPlace(first)
	r2, c2, ok2 := cellPlace(last)
	return sheet.Range{FirstRow: min(r1, r2), FirstCol: min(c1, c2), LastRow: max(r1, r2), LastCol: max(c1, c2)}, ok1 && ok2
}

// cellName is the name of a cell for a message.
func cellName(row, col int) string { return finding.Place{Row: row, Col: col}.Cell() }

// cellRef is a cell's place, named only when a message needs it.
type cellRef struct{ row, col int }

// String gives the name.
func (c cellRef) String() string { return cellName(c.row, c.col) }
