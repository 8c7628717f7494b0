// Package slip tells how few slips of the pen lie between two words, so that a message can name what was meant.
package slip

import (
	"slices"
	"unicode/utf8"
)

// Count returns the least number of letters to put in, take out or change to make b of a (Levenshtein).
func Count(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			change := diagonal
			if x[i] != y[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}

// One reports whether a and b differ by one letter typed wrong, left out or added, or by two letters swapped. A word is no slip of
// itself.
func One(a, b string) bool {
	if n := utf8.RuneCountInString(a) - utf8.RuneCountInString(b); n < -1 || n > 1 || a == b {
		return false
	}
	x, y := []rune(a), []rune(b)
	if len(x) > len(y) {
		x, y = y, x
	}
	i := 0
	for i < len(x) && x[i] == y[i] {
		i++
	}
	if len(x) < len(y) {
		return slices.Equal(x[i:], y[i+1:])
	}
	return slices.Equal(x[i+1:], y[i+1:]) || i+1 < len(x) && x[i] == y[i+1] && x[i+1] == y[i] && slices.Equal(x[i+2:], y[i+2:])
}
