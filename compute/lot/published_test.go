package lot

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"drytally/compute/units"
)

// published reads a table of testdata/published as one map of columns a row.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range all[1:] {
		m := map[string]string{}
		for i, c := range cells {
			m[all[0][i]] = c
		}
		out = append(out, m)
	}
	return out
}

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
