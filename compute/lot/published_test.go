package lot

import (
	"strconv"
	"testing"

	"drytally/compute/units"
)

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func whole(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// lumber is a worked example: 20 corrected readings, one per board (computed, made up for the purpose).
func lumber() []units.MC {
	return []units.MC{810, 740, 880, 790, 830, 910, 760, 800, 850, 720, 840, 780, 940, 820, 770, 860, 800, 750, 890, 820}
}
