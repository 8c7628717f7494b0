package main

import (
	"strings"
	"testing"

	"drytally/compute"
	"drytally/ingest/blank"
)

// TestTellCarried: everything that was carried over or left behind is told, one line each, with its count.
func TestTellCarried(t *testing.T) {
	c := blank.Carried{Last: "week47.xlsx", Settings: 1, Loose: 3, Wanted: 1, Air: 2, Climate: 12, Sales: []string{"S1", "S2"}, Gone: []string{"K1"},
		SalesGone: 1, Cuts: 2, Unread: []string{"Feet"}, SetAside: 1, Failed: []string{"week47.xlsx: Boards!row 9: cup can't be written so that it reads back the same"},
		Loads: []blank.CarriedLoad{
			{ID: "K2", Before: compute.NotDryYet, Verdict: compute.NotDryYet, Boards: 40, Readings: 12, Weights: 6},
			{ID: "K3", Before: compute.DryForUse, Verdict: compute.NotShown, Out: true, Boards: 20, Sold: 5, Readings: 1},
			{ID: "K4", Before: compute.NotShown, Verdict: compute.NotShown, Out: true, Boards: 1, Sold: 1},
		}}
	const want = `
Carried over from week47.xlsx, and read back the same:
  1 setting of yours
  load K2 (not dry yet, no date out): 40 boards, 12 readings, 6 weighings
  load K3 (dry for the use, 15 of its boards not sold): 20 boards, 1 reading
    with these rows alone its verdict is: not shown
  load K4 (not shown): 1 board, 0 readings
  3 boards of no load in the loads sheet
  1 wanted piece; delete those that are made
  2 lines of the air log
  12 months of climate
  sales S1, S2, so that no board is sold twice; their papers come out again

Left behind:
  load K1: dry, out of the kiln and sold out
  1 row of sales that hold nothing of what was carried over
  2 rows of cuts that name no load; copy what still lies green
  the column Feet, which drytally does not read
  1 row that could not be used; drytally check week47.xlsx says why
  week47.xlsx: Boards!row 9: cup can't be written so that it reads back the same
`
	if got := tellCarried(c); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	if got := tellCarried(blank.Carried{Last: "week47.xlsx"}); !strings.Contains(got, "nothing to carry over from week47.xlsx") {
		t.Errorf("got %q", got)
	}
}
