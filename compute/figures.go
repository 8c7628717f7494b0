package compute

import (
	"strconv"
	"strings"
)

// trim writes a number with at most one decimal.
func trim(x float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
}
