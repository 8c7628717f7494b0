package compute

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"drytally/compute/finding"
)

// TestFates holds rows kept as runs against the same rows kept one by one, while some are set aside.
func TestFates(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var want []RowFate
		row := 0
		for range rapid.IntRange(0, 40).Draw(t, "rows") {
			row += rapid.SampledFrom([]int{1, 1, 1, 2, 7}).Draw(t, "gap")
			want = append(want, RowFate{Row: row, Kind: rapid.SampledFrom([]Kind{"", KindBoards}).Draw(t, "kind"), Fate: Fate(rapid.IntRange(0, 2).Draw(t, "fate")),
				Why: rapid.SampledFrom([]string{"", "", "", "note"}).Draw(t, "why")})
		}
		given := []Account{{File: "week.xlsx", Sheet: "Boards", Rows: FatesOf(want...)}, {File: "week.xlsx", Sheet: "Other", Rows: FatesOf(want...)}}
		accounts := cloned(given)
		before := slices.Clone(want)
		for range rapid.IntRange(0, 30).Draw(t, "set aside") {
			at, why := rapid.IntRange(0, row+2).Draw(t, "row"), rapid.SampledFrom([]string{"one", "two", "note"}).Draw(t, "reason")
			SetRowAside(accounts, finding.Place{File: "week.xlsx", Sheet: "Boards", Row: at}, why)
			for i := range want {
				if want[i].Row == at {
					want[i].Fate, want[i].Why = SetAside, why
				}
			}
		}
		for i, want := range [][]RowFate{want, before} {
			got := accounts[i].Rows
			if d := cmp.Diff(want, slices.Collect(got.All())); d != "" || got.Len() != len(want) {
				t.Fatalf("sheet %d: %d rows, want %d (-want +got):\n%s", i, got.Len(), len(want), d)
			}
			for f := NotData; f <= SetAside; f++ {
				n := 0
				for _, r := range want {
					if r.Fate == f {
						n++
					}
				}
				if accounts[i].Count(f) != n {
					t.Fatalf("sheet %d: %d rows %s, want %d", i, accounts[i].Count(f), f, n)
				}
			}
			for k := 1; k < len(got.runs); k++ {
				if got.runs[k-1].joins(got.runs[k].RowFate) {
					t.Fatalf("two runs of one fate follow each other at row %d", got.runs[k].Row)
				}
			}
		}
		if d := cmp.Diff(before, slices.Collect(given[0].Rows.All())); d != "" {
			t.Fatalf("what was given has changed (-want +got):\n%s", d)
		}
	})
}
