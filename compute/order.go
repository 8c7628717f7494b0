package compute

import (
	"cmp"
	"strings"
)

// CompareIDs orders the numbers of boards as people count: A2 before A10, A07 before A07-a. Capitals and zeros in front decide only
// between numbers that are else the same. It gives a negative number, 0 or a positive one.
func CompareIDs(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		dx, dy := digits(x), digits(y)
		if dx > 0 && dy > 0 {
			nx, ny := strings.TrimLeft(x[:dx], "0"), strings.TrimLeft(y[:dy], "0")
			if c := cmp.Or(len(nx)-len(ny), strings.Compare(nx, ny)); c != 0 {
				return c
			}
			x, y = x[dx:], y[dy:]
			continue
		}
		if c := int(lower(x[0])) - int(lower(y[0])); c != 0 {
			return c
		}
		x, y = x[1:], y[1:]
	}
	return cmp.Or(len(x)-len(y), strings.Compare(a, b))
}

// lower gives the small letter of a capital of the alphabet.
func lower(c byte) byte {
	if c >= 'A' && c <= 'Z' {
		return c + 'a' - 'A'
	}
	return c
}

// digits counts the digits a text begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// compareBoards orders boards by their number, those of one number as they stand in the sheets.
func (x *index) compareBoards(a, b int) int {
	return cmp.Or(CompareIDs(x.out.Boards[a].Board.ID, x.out.Boards[b].Board.ID), a-b)
}
