package compute

import (
	"strconv"
	"strings"
)

// counted writes a number with its noun: 1 board, 3 boards.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// trim writes a number with at most one decimal.
func trim(x float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
}
