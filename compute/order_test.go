package compute

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCompareIDs(t *testing.T) {
	for _, want := range [][]string{
		{"A1", "A2", "A10"},
		{"1", "2", "10", "100"},
		{"A07", "A07-a", "A08"},
		{"A2", "a3", "A4"},
		{"A01", "A1", "A02"},
		{"K14 A2", "K14 A10", "K15 A1"},
		{"1-2", "1-10", "2-1"},
		{"P9", "P99999999999999999999999", "P100000000000000000000000"},
		{"", "A", "B1"},
	} {
		got := slices.Clone(want)
		slices.Reverse(got)
		slices.SortFunc(got, CompareIDs)
		if !slices.Equal(got, want) {
			t.Errorf("sorted %q, want %q", got, want)
		}
	}
}

// TestCompareIDsIsAnOrder: any three numbers have one order, and only equal ones are equal.
func TestCompareIDsIsAnOrder(t *testing.T) {
	id := rapid.StringOf(rapid.SampledFrom([]rune("aA012 -é")))
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := id.Draw(t, "a"), id.Draw(t, "b"), id.Draw(t, "c")
		if x, y := CompareIDs(a, b), CompareIDs(b, a); (x < 0) != (y > 0) || (x == 0) != (a == b) {
			t.Fatalf("%q against %q gives %d, and back %d", a, b, x, y)
		}
		if CompareIDs(a, b) <= 0 && CompareIDs(b, c) <= 0 && CompareIDs(a, c) > 0 {
			t.Fatalf("%q, %q, %q run in a circle", a, b, c)
		}
	})
}

// TestBoardsStandInOrder: the lists of a load and of a sale are in the order people count, whatever the order of the rows.
func TestBoardsStandInOrder(t *testing.T) {
	job := week(4)
	for i, id := range []string{"A10", "A9", "A1", "A2"} {
		job.Boards[i].ID = id
	}
	job.Sales = []Sale{{Origin: row("sold", 2), ID: "S1", Load: job.Loads[0].ID, Boards: []string{"A10", "A2", "A1"}}}
	r := Assess(job)
	ofBoards := func(at []int) string {
		var out []string
		for _, i := range at {
			out = append(out, r.Boards[i].Board.ID)
		}
		return strings.Join(out, " ")
	}
	if got := ofBoards(r.Loads[0].Boards); got != "A1 A2 A9 A10" {
		t.Errorf("the load lists %s", got)
	}
	if got := ofBoards(r.Sales[0].Boards); got != "A1 A2 A10" {
		t.Errorf("the sale lists %s", got)
	}
}
