package air

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// published reads a printed table of testdata/published: its headings and its rows.
func published(t *testing.T, name string) (head []string, rows [][]string) {
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
	return all[0], all[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
