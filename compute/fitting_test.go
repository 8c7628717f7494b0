package compute

import (
	"testing"

	"drytally/compute/fit"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// fitJob is three boards of one load and two wanted shelves.
func fitJob(change func(*Job)) *Job {
	cherry, _ := wood.ByName("black cherry")
	in := units.Inch
	board := func(id string, length units.Length) Board {
		return Board{ID: id, Load: "K1", Species: cherry, Thickness: []units.Length{in}, Width: 8 * in, Length: length}
	}
	job := &Job{Settings: Defaults(), Loads: []Load{{ID: "K1"}}, Boards: []Board{board("1", 96*in), board("2", 96*in), board("3", 50*in)},
		Wanted: []Wanted{{Piece: "shelf", Species: cherry, Thickness: 3 * in / 4, Width: 7 * in, Length: 46 * in, Pieces: 3},
			{Piece: "ledge", Species: cherry, Thickness: 3 * in / 4, Width: 3 * in, Length: 40 * in, Pieces: 2}}}
	if change != nil {
		change(job)
	}
	return job
}

// TestFitBoards: what takes part in the fit and what does not.
func TestFitBoards(t *testing.T) {
	in := units.Inch
	cases := []struct {
		name        string
		change      func(*Job)
		shelf, edge int // made
		boards      int // on hand
	}{
		// A board of 96 in makes two shelves of 46 in (1 + 46 + 1/8 + 46 + 1 = 94 1/8), or one and both ledges side by side
		// (3 1/4 + 1/8 + 3 1/4 in).
		{name: "all", shelf: 3, edge: 2, boards: 3},
		{name: "sold", change: func(j *Job) { j.Sales = []Sale{{ID: "S1", Load: "K1", Boards: []string{"1"}}} }, shelf: 2, edge: 2, boards: 2},
		{name: "other wood", change: func(j *Job) { j.Wanted[0].Species.Name = "black walnut" }, edge: 2, boards: 3},
		{name: "cupped", change: func(j *Job) { // 1 - 1/4 - 1/8 in whole, 1 - 1/16 - 1/8 in ripped
			for i := range j.Boards {
				j.Boards[i].Cup = in / 4
			}
		}, edge: 2, boards: 3},
		{name: "bowed", change: func(j *Job) { // the bow of 3/8 in is 3/8 (46/96)2 in a shelf: 1 - 0.086 - 1/8 in
			j.Boards = j.Boards[:1]
			j.Boards[0].Bow = 3 * in / 8
		}, shelf: 1, edge: 2, boards: 1},
		{name: "crooked", change: func(j *Job) { // 8 - 1 in are straight, a shelf is cut 7 1/4 in wide
			for i := range j.Boards {
				j.Boards[i].Crook = in
			}
		}, edge: 2, boards: 3},
		{name: "not measured", change: func(j *Job) { j.Boards[2].Width = 0 }, shelf: 3, edge: 2, boards: 2},
		{name: "trimmed more", change: func(j *Job) { j.Settings.EndTrim = 3 * in }, shelf: 2, edge: 2, boards: 3},
		{name: "too wet for its use", change: func(j *Job) {
			j.Wanted[0].Use, j.Wanted[1].Use = "interior", "exterior"
			j.Settings.MeterSpecies, j.Settings.MeterWoodTemp = Yes, Yes
			j.Loads[0].Limit = units.Percent(20)
			for _, b := range j.Boards {
				j.Readings = append(j.Readings, Reading{Board: b.ID, Load: "K1", Value: units.Reading{State: units.Number, MC: units.Percent(14)}})
			}
		}, edge: 2, boards: 3},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := Assess(fitJob(c.change)).Fit
			if got == nil || !got.Known {
				t.Fatalf("no plan: %+v", got)
			}
			if len(got.Boards) != c.boards || got.Pieces[0].Made != c.shelf || got.Pieces[1].Made != c.edge {
				t.Errorf("got %d shelves and %d ledges of %d boards, want %d and %d of %d", got.Pieces[0].Made, got.Pieces[1].Made, len(got.Boards), c.shelf, c.edge, c.boards)
			}
			for i, b := range got.Boards {
				if id := got.Plan.Boards[i].Board.ID; id == "" || b < 0 || b > 2 {
					t.Errorf("board %d of the plan is %q, index %d", i, id, b)
				}
			}
		})
	}
}

// TestFitBoardsLeftOut: a piece without all its sizes takes no part and says so; an area counts as its pieces.
func TestFitBoardsLeftOut(t *testing.T) {
	got := Assess(fitJob(func(j *Job) {
		j.Wanted[0].Length = 0
		j.Wanted[1].Pieces, j.Wanted[1].Area = 0, 3 // 3 square feet of 3 x 40 in, 0.833 each
		j.Wanted[1].Use = "interior"
	})).Fit
	if got == nil || len(got.Left) != 1 || got.Left[0].Why.Name != "fit-no-size" {
		t.Fatalf("got %+v, want the shelf left out", got)
	}
	if len(got.Pieces) != 1 || got.Pieces[0].Count != 4 || got.Pieces[0].Made != 4 {
		t.Errorf("got %+v, want 4 ledges", got.Pieces)
	}
	for _, l := range got.Plan.Leftovers {
		if !l.Whole && (l.Length < leftLength || l.Width < leftWidth) {
			t.Errorf("the leftover %+v is too small", l)
		}
	}
	if got.Plan.Boards[0].Whole.Kind == fit.Divided != got.Plan.Boards[0].Cut {
		t.Errorf("got %+v", got.Plan.Boards[0])
	}
}

// TestFitNothing: with no boards or no wanted pieces there is no fit.
func TestFitNothing(t *testing.T) {
	if got := Assess(fitJob(func(j *Job) { j.Boards = nil })).Fit; got != nil {
		t.Errorf("without boards: got %+v", got)
	}
	if got := Assess(fitJob(func(j *Job) { j.Wanted = nil })).Fit; got != nil {
		t.Errorf("without wanted pieces: got %+v", got)
	}
}
