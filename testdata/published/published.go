// Package published gives tests the figures of this folder: printed tables, and what reference libraries gave. Each file says in its
// first lines where it comes from.
package published

import (
	"embed"
	"encoding/csv"
	"testing"
)

//go:embed *.csv
var files embed.FS

// Table reads a file: its heading row and the rows below, all cells as written.
func Table(t testing.TB, name string) (heading []string, rows [][]string) {
	t.Helper()
	f, err := files.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(all), err)
	}
	return all[0], all[1:]
}

// ByColumn reads a file: one map from heading to cell for each row.
func ByColumn(t testing.TB, name string) []map[string]string {
	t.Helper()
	heading, rows := Table(t, name)
	var out []map[string]string
	for _, row := range rows {
		m := map[string]string{}
		for i, h := range heading {
			m[h] = row[i]
		}
		out = append(out, m)
	}
	return out
}
