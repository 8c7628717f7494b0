package drying

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
)

// published reads the rows of a printed table of testdata/published.
func published(t *testing.T, name string) [][]string {
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
	return all[1:]
}
