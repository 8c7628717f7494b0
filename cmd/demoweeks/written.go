package main

import (
	"fmt"
	"math"
	"strings"
)

// inches writes x to the nearest 64th as people type it: whole and fraction joined by sep, 11-3/8 or 11 3/8.
func inches(x float64, sep string) string {
	n := int(math.Round(x * 64))
	whole, num, den := n/64, n%64, 64
	for num > 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", num, den)
	}
	return fmt.Sprintf("%d%s%d/%d", whole, sep, num, den)
}

// feet writes a board length given in inches: 8' or 8' 2".
func feet(x float64) string {
	whole, rest := int(x)/12, int(x)%12
	if rest == 0 {
		return fmt.Sprintf("%d'", whole)
	}
	return fmt.Sprintf(`%d' %d"`, whole, rest)
}

// runs writes board numbers as a list with runs: A01-A12, A15. The numbers must be in order.
func runs(ids []string, next func(string) string) string {
	var parts []string
	for i := 0; i < len(ids); {
		j := i
		for j+1 < len(ids) && next(ids[j]) == ids[j+1] {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, ids[i])
		case j == i+1:
			parts = append(parts, ids[i], ids[j])
		default:
			parts = append(parts, ids[i]+"-"+ids[j])
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}
