package report

import (
	"bytes"
	"fmt"
	"path/filepath"
	"testing"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/ingest"
)

// demoWeeks reads and assesses every demo week, by name.
func demoWeeks(t *testing.T) map[string]*compute.Result {
	t.Helper()
	weeks := filepath.Join("..", "testdata", "weeks")
	sets, err := ingest.Gather([]string{weeks, filepath.Join(weeks, "pine-csv")})
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]*compute.Result{}
	for _, s := range sets {
		job, err := ingest.Read(s)
		if err != nil {
			t.Fatal(err)
		}
		all[s.Name] = compute.Assess(job)
	}
	if len(all) < 3 {
		t.Fatalf("got %d demo weeks, want at least 3", len(all))
	}
	return all
}

// The results of the demo weeks follow the schema, hold what was computed, and come out alike on a second run.
func TestResultsOfTheDemoWeeks(t *testing.T) {
	schema := resultsSchemaOf(t)
	again := demoWeeks(t)
	for name, r := range demoWeeks(t) {
		t.Run(name, func(t *testing.T) {
			data, parsed := resultsOf(t, r)
			for _, problem := range follows(schema, schema, parsed, "") {
				t.Error(problem)
			}
			book := workbookOf(t, r)
			second, _ := resultsOf(t, again[name])
			if !bytes.Equal(data, second) {
				t.Error("results.json differs on a second run")
			}
			if !bytes.Equal(book, workbookOf(t, again[name])) {
				t.Error("results.xlsx differs on a second run")
			}
			for i, b := range r.Boards {
				path := fmt.Sprintf("boards.%d.", i)
				sameLength(t, dig(t, parsed, path+"planes_to"), b.PlanesTo, path+"planes_to")
				for k, l := range b.Board.Thickness {
					at := fmt.Sprintf("records.boards.%d.thickness.%d", recordOf(t, r, b.Board), k)
					sameLength(t, dig(t, parsed, at), l, at)
				}
				if b.MC.State != units.NotTaken {
					if got := units.Percent(number(t, dig(t, parsed, path+"moisture.percent"))); got != b.MC.MC {
						t.Errorf("%smoisture.percent: got %s, want %s", path, got, b.MC.MC)
					}
				}
			}
			for i, l := range r.Loads {
				path := fmt.Sprintf("loads.%d.", i)
				if got := dig(t, parsed, path+"verdict"); got != l.Verdict.String() {
					t.Errorf("%sverdict: got %v, want %s", path, got, l.Verdict)
				}
				if l.Mean.Known && units.Percent(number(t, dig(t, parsed, path+"mean.percent"))) != l.Mean.Value {
					t.Errorf("%smean.percent: got %v, want %s", path, dig(t, parsed, path+"mean.percent"), l.Mean.Value)
				}
			}
			n := 0
			for _, a := range r.Accounts {
				n += a.Rows.Len()
			}
			if got := len(sheetNamed(t, readBack(t, book), "Rows").Rows) - 1; got != n {
				t.Errorf("rows accounted for in results.xlsx: got %d, want %d", got, n)
			}
		})
	}
}

// recordOf finds the record a computed board was made from.
func recordOf(t *testing.T, r *compute.Result, b *compute.Board) int {
	t.Helper()
	for i := range r.Job.Boards {
		if r.Job.Boards[i].Origin.SameRow(b.Origin) {
			return i
		}
	}
	t.Fatalf("board %s has no record", b.ID)
	return 0
}
