package compute

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

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
		{name: "crooked", change: func(j *Job) { // 1 in (46/96)2 = 0.23 in over a shelf, which is cut 7 1/4 in wide; 0.85 in on the short board
			for i := range j.Boards {
				j.Boards[i].Crook = in
			}
		}, shelf: 3, edge: 2, boards: 3},
		{name: "very crooked", change: func(j *Job) { // 4 in (46/96)2 = 0.92 in: 7.08 in are straight
			for i := range j.Boards {
				j.Boards[i].Crook = 4 * in
			}
		}, edge: 2, boards: 3},
		{name: "bad wood", change: func(j *Job) { // clear are 1 to 40 and 44 to 95 in: a shelf, or both ledges behind the bad wood
			j.Boards = j.Boards[:1]
			j.Boards[0].CutOut.Stretches = []Stretch{{From: 40 * in, To: 44 * in}}
		}, shelf: 0, edge: 2, boards: 1},
		{name: "bad wood from the top", change: func(j *Job) { // clear are 1 to 48 and 52 to 95 in
			j.Boards = j.Boards[:1]
			j.Boards[0].CutOut.Stretches = []Stretch{{From: 44 * in, To: 48 * in, Top: true}}
		}, shelf: 1, edge: 2, boards: 1},
		{name: "bad wood at the ends, wherever", change: func(j *Job) { // 96 - 1 - 2 = 93 in are clear, two shelves need 92 1/8
			j.Boards = j.Boards[:1]
			j.Boards[0].CutOut.Total, j.Wanted[1].Thickness = 2*in, 2*in
		}, shelf: 2, boards: 1},
		{name: "more bad wood at the ends", change: func(j *Job) { // 92 in are clear
			j.Boards = j.Boards[:1]
			j.Boards[0].CutOut.Total, j.Wanted[1].Thickness = 3*in, 2*in
		}, shelf: 1, boards: 1},
		{name: "bad wood that could not be read", change: func(j *Job) { j.Boards[0].CutOut.Unread = true }, shelf: 2, edge: 2, boards: 2},
		{name: "bad wood off the board", change: func(j *Job) {
			j.Boards[0].CutOut.Stretches = []Stretch{{From: 90 * in, To: 97 * in}}
		}, shelf: 2, edge: 2, boards: 2},
		{name: "dried for another use", change: func(j *Job) { // the boards were not read; their load was dried to 14 %
			j.Wanted[0].Use, j.Wanted[1].Use = "interior", "exterior"
			j.Loads[0].Limit = units.Percent(14)
		}, edge: 2, boards: 3},
		{name: "not measured", change: func(j *Job) { j.Boards[2].Width = 0 }, shelf: 3, edge: 2, boards: 2},
		{name: "trimmed more", change: func(j *Job) { j.Settings.EndTrim = 3 * in }, shelf: 2, edge: 2, boards: 3},
		{name: "too wet for its use", change: func(j *Job) {
			j.Wanted[0].Use, j.Wanted[1].Use = "interior", "exterior"
			j.Settings.MeterSpecies, j.Settings.MeterWoodTemp = Yes, Yes
			j.Loads[0].Limit = units.Percent(20)
			for _, b := range j.Boards {
				j.Readings = append(j.Readings, Reading{Taking: &Taking{Load: "K1"}, Board: b.ID, Value: units.Reading{State: units.Number, MC: units.Percent(14)}})
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

// TestFitWood: one board, one shelf. As callipered the board is 1 and 1 1/8 in thick, 1 1/16 on average, 96 x 8 in; the shelf is cut
// 46 x 7 1/4 in and finished 46 x 7 x 3/4 in.
func TestFitWood(t *testing.T) {
	in := units.Inch
	got := Assess(fitJob(func(j *Job) {
		j.Boards, j.Wanted = j.Boards[:1], j.Wanted[:1]
		j.Wanted[0].Pieces = 1
		j.Boards[0].Thickness = []units.Length{in, in + in/8}
		j.Boards[0].CutOut.Stretches = []Stretch{{From: 60 * in, To: 70 * in}}
	})).Fit
	const cubicInch = 16.387064 // cubic centimetres
	w := got.Wood
	for name, c := range map[string]struct {
		got  int64
		want float64 // cubic inches
	}{
		"board":    {w.Boards, 1.0625 * 96 * 8},
		"finished": {w.Finished, 0.75 * 46 * 7},
		"chips":    {w.Chips, 1.0625*46*7.25 - 0.75*46*7},
		// A kerf across the end, behind the shelf, beside it, and at both sides of the bad wood, of which 10 - 1/4 in are left.
		"sawdust": {w.Sawdust, 1.0625 * 0.125 * (8 + 8 + 46 + 8 + 8)},
		"bad":     {w.Bad, 1.0625 * 9.75 * 8},
		// 7/8 in of the first end, the strip of 8 - 7 1/4 - 1/8 in beside the shelf, and 60 - 1 - 46 - 1/8 in behind it.
		"lost": {w.Lost, 1.0625 * (0.875*8 + 46*0.625 + 12.875*8)},
		"left": {w.Left, 1.0625 * 26 * 8},
	} {
		if d := float64(c.got) - c.want*cubicInch; d > 1 || d < -1 {
			t.Errorf("%s: got %d cm3, want %.1f", name, c.got, c.want*cubicInch)
		}
	}
	if w.Finished+w.Chips+w.Sawdust+w.Bad+w.Lost+w.Left != w.Boards {
		t.Errorf("%+v does not come to the board", w)
	}
}

// TestFitReadFirst: a board is read before it is cut unless its own reading, or else the verdict of its load, shows it dry for the use
// of the piece; boards that are shown are taken first.
func TestFitReadFirst(t *testing.T) {
	read := func(j *Job, id string, value units.Reading) {
		j.Readings = append(j.Readings, Reading{Taking: &Taking{Load: "K1", Date: time.Date(2026, 11, 3, 0, 0, 0, 0, time.UTC)}, Board: id, Value: value})
	}
	at := func(percent float64) units.Reading {
		return units.Reading{State: units.Number, MC: units.Percent(percent)}
	}
	base := func(j *Job) { // one shelf, for use indoors: up to 10 %
		j.Settings.MeterSpecies, j.Settings.MeterWoodTemp = Yes, Yes
		j.Boards, j.Wanted = j.Boards[:2], j.Wanted[:1]
		j.Wanted[0].Pieces, j.Wanted[0].Use, j.Loads[0].Limit = 1, "interior", units.Percent(9)
	}
	for name, c := range map[string]struct {
		change func(*Job)
		board  string // that is cut
		want   FitRead
	}{
		"nothing read":        {func(j *Job) {}, "1", FitRead{First: true, Limit: units.Percent(10), Pieces: 1}},
		"the second read":     {func(j *Job) { read(j, "2", at(8)) }, "2", FitRead{}},
		"read in a load open": {func(j *Job) { j.Boards = j.Boards[:1]; read(j, "1", at(8)) }, "1", FitRead{}},
		"above the meter's end": {func(j *Job) {
			j.Boards = j.Boards[:1]
			j.Loads[0].Limit = units.Percent(12)
			read(j, "1", units.Reading{State: units.AboveRange, MC: units.Percent(9)})
		}, "1", FitRead{First: true, Limit: units.Percent(10), Pieces: 1}},
		"no use, no limit": {func(j *Job) { j.Wanted[0].Use, j.Loads[0].Limit = "", 0 }, "1", FitRead{First: true, Pieces: 1}},
	} {
		got := Assess(fitJob(func(j *Job) { base(j); c.change(j) })).Fit
		cut := ""
		var found FitRead
		for i, s := range got.Plan.Boards {
			if s.Cut {
				cut += s.Board.ID
				found = got.Read[i]
			} else if got.Read[i] != (FitRead{}) {
				t.Errorf("%s: board %s is not cut, and is to be read first: %+v", name, s.Board.ID, got.Read[i])
			}
		}
		if cut != c.board || found != c.want {
			t.Errorf("%s: got board %s, %+v, want %s, %+v", name, cut, found, c.board, c.want)
		}
		if said := strings.Contains(fmt.Sprint(got.Says), "fit-unread"); said != c.want.First {
			t.Errorf("%s: got %v", name, got.Says)
		}
	}
}

// TestFitUnnamed: boards that went by the piece may be among those that are cut, and the fit says so of their load alone.
func TestFitUnnamed(t *testing.T) {
	says := func(change func(*Job)) string {
		for _, s := range Assess(fitJob(change)).Fit.Says {
			if s.Name == "fit-unnamed" {
				return strings.Join([]string{s.With["n"], s.With["load"], s.With["sales"], s.With["cut"]}, "; ")
			}
		}
		return ""
	}
	two := func(j *Job) {
		j.Loads = append(j.Loads, Load{ID: "K2"})
		j.Sales = []Sale{{ID: "S1", Load: "K1", Pieces: 1}, {ID: "S2", Load: "K1", Pieces: 2}, {ID: "S3", Load: "K2", Pieces: 5}}
	}
	if got := says(two); got != "3; K1; S1, S2; 3" {
		t.Errorf("got %q, want 3 boards of K1 in sales S1 and S2, 3 of it cut", got)
	}
	if got := says(func(j *Job) { j.Sales = []Sale{{ID: "S1", Load: "K1", Pieces: 1, Boards: []string{"1"}}} }); got != "" {
		t.Errorf("with numbers: got %q, want nothing", got)
	}
}

// TestPlanBoards: lengths of pieces count in planing, and what was found of skip.
func TestPlanBoards(t *testing.T) {
	in := units.Inch
	job := fitJob(func(j *Job) {
		j.Wanted = j.Wanted[:1]
		j.Boards[0].Bow = 3 * in / 8 // 3/8 in whole, 0.086 in over the shelf
		j.Boards[1].Cup = in / 4     // 1 - 1/4 - 1/8 = 5/8 in whole; ripped it is too narrow
		j.Boards[2].CutOut.Stretches = []Stretch{{From: 20 * in, To: 24 * in}}
	})
	got := Assess(job)
	b := got.Boards
	for i, want := range []struct {
		planes, cut, to units.Length
		makes           string
		none            string
	}{
		{in / 2, 25 * in / 32, 46 * in, "shelf", ""}, // 1 - 1/8 - 0.0861 = 0.7889 in is 50.5 64ths: 50 of them are sure
		{5 * in / 8, 5 * in / 8, 46 * in, "", "makes-too-thin"},
		{7 * in / 8, 7 * in / 8, 46 * in, "", "makes-too-short"},
	} {
		if d := b[i].CutPlanes - want.cut; b[i].PlanesTo != want.planes || d < -2 || d > 2 || b[i].CutTo != want.to || strings.Join(b[i].Makes, ",") != want.makes || b[i].MakesNone.Name != want.none {
			t.Errorf("board %d: got %+v, want %+v", i, b[i], want)
		}
	}
	// The third board is not long enough where it is clear.
	if s := got.Sizes[0]; s.LargeEnough != 2 || s.Skip != 1 || s.SkipShare != 0.5 || s.CanMake != 1 {
		t.Errorf("got %d large enough, %d with skip, %d that make it, want 2, 1, 1", s.LargeEnough, s.Skip, s.CanMake)
	} else if skip, ok := has(s.Notes, "size-skip"); !ok || skip.With["skip"] != "1" || skip.With["large"] != "2" {
		t.Errorf("half the boards keep skip and the setting promises %g: got %v %v, want it said", s.CleansUp, ok, skip.With)
	}
	// 96 x 8 x 1 in to 96 x 7 3/4 x 1/2 in: 396 cubic inches, 6489 cm3.
	if b[0].Chips != 6489 {
		t.Errorf("got %d cm3 of chips, want 6489", b[0].Chips)
	}
}

// TestLackIsOfPrintedFigures: what a board lacks is the difference between the two figures printed, and never nothing.
func TestLackIsOfPrintedFigures(t *testing.T) {
	for _, system := range []units.System{units.InchFoot, units.Metric} {
		for bow := range 97 {
			for k, thick := range []units.Length{3 * units.Inch / 4, 19 * units.Millimetre, 3 * units.Inch / 4} {
				b := Assess(fitJob(func(j *Job) {
					j.Settings.System = system
					j.Boards, j.Wanted = j.Boards[:1], j.Wanted[:1]
					j.Wanted[0].Thickness = thick
					j.Boards[0].Bow = units.Length(bow) * units.Inch / 64
					if k == 2 { // three strips of 2 in leave a ninth of the cup
						j.Wanted[0].Width, j.Boards[0].Cup = 2*units.Inch, units.Inch/3
					}
				})).Boards[0]
				if b.MakesNone.Name != "makes-too-thin" {
					continue
				}
				step := system.Finest()
				want := system.Size(thick.RoundUp(step) - max(b.CutPlanes, b.CutRipped).Nearest(step))
				if got := b.MakesNone.With["short"]; got != want || want == system.Size(0) {
					t.Errorf("system %d with a bow of %d/64 in cleans up to %s of %s: got %s too thin, want %s", system, bow, system.Size(b.CutPlanes), system.Size(thick), got, want)
				}
			}
		}
	}
}

// TestPlanBoardsNone: why a board is not offered, or makes nothing.
func TestPlanBoardsNone(t *testing.T) {
	in := units.Inch
	for want, change := range map[string]func(*Job){
		"makes-sold":          func(j *Job) { j.Sales = []Sale{{ID: "S1", Load: "K1", Boards: []string{"1"}}} },
		"makes-bad-unknown":   func(j *Job) { j.Boards[0].CutOut.Unread = true },
		"makes-nothing-clear": func(j *Job) { j.Boards[0].CutOut.Total = 95 * in },
		"makes-none-wanted":   func(j *Job) { j.Boards[0].Species.Name = "black walnut" },
		"makes-not-measured":  func(j *Job) { j.Boards[0].Thickness = nil },
		"makes-too-thin":      func(j *Job) { j.Boards[0].Thickness = []units.Length{in, 13 * in / 16} },
		"makes-too-wet": func(j *Job) { // not read, and dried to 14 % for use indoors
			j.Wanted[0].Use, j.Wanted[1].Use, j.Loads[0].Limit = "interior", "interior", units.Percent(14)
		},
	} {
		if b := Assess(fitJob(change)).Boards[0]; b.MakesNone.Name != want || len(b.Makes) > 0 {
			t.Errorf("%s: got %+v, makes %v", want, b.MakesNone, b.Makes)
		}
	}
}

// TestFitSameNumber: boards of one number in two loads and in none are all cut, each under a name of its own.
func TestFitSameNumber(t *testing.T) {
	got := Assess(fitJob(func(j *Job) {
		j.Loads = append(j.Loads, Load{ID: "K2"})
		j.Boards[1].ID, j.Boards[1].Load = "1", "K2"
		j.Boards[2].ID, j.Boards[2].Load, j.Boards[2].Origin.Row = "1", "", 9
	}))
	var ids []string
	for _, b := range got.Fit.Plan.Boards {
		ids = append(ids, b.Board.ID)
	}
	if want := "1, 1 (row 9), K2 1"; strings.Join(ids, ", ") != want || got.Fit.Pieces[0].Made != 3 {
		t.Errorf("got %v and %d shelves, want %s and 3", ids, got.Fit.Pieces[0].Made, want)
	}
	// A leftover has no name that a board from the saw has.
	got = Assess(fitJob(func(j *Job) {
		j.Boards, j.Wanted = j.Boards[:1], j.Wanted[:1]
		j.Wanted[0].Pieces = 1
		j.Cuts = []Cut{{ID: "1a", Pieces: 1}}
	}))
	if n := got.Fit.Plan.Leftovers[0].Name; n != "1-b" {
		t.Errorf("got the leftover %q, want 1-b", n)
	}
}

// TestBadWood: what is said of bad wood, and where it lies from the butt end.
func TestBadWood(t *testing.T) {
	in := units.Inch
	cases := []struct {
		name  string
		give  CutOut
		codes string
		known bool
		want  string
	}{
		{"none", CutOut{}, "", true, "[]"},
		{"two", CutOut{Stretches: []Stretch{{From: 20 * in, To: 22 * in}, {From: 4 * in, To: 6 * in, Top: true}}}, "", true, `[{20" 22"} {90" 92"}]`},
		{"overlapping from both ends", CutOut{Stretches: []Stretch{{From: 40 * in, To: 60 * in}, {From: 30 * in, To: 50 * in, Top: true}}}, "J072", true, `[{40" 66"}]`},
		{"touching", CutOut{Stretches: []Stretch{{From: 40 * in, To: 44 * in}, {From: 44 * in, To: 50 * in}}}, "", true, `[{40" 50"}]`},
		{"off the board", CutOut{Stretches: []Stretch{{From: 4 * in, To: 6 * in}, {From: 95 * in, To: 96*in + 1}}}, "J071", false, "[]"},
		{"off the top", CutOut{Stretches: []Stretch{{From: 90 * in, To: 100 * in, Top: true}}}, "J071", false, "[]"},
		{"more than all", CutOut{Total: 96 * in}, "J071", false, "[]"},
		{"all of it", CutOut{Stretches: []Stretch{{To: 50 * in}, {From: 50 * in, To: 96 * in}}}, "J071", false, "[]"},
		{"not read", CutOut{Unread: true}, "", false, "[]"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := Assess(fitJob(func(j *Job) { j.Boards[0].CutOut = c.give }))
			var codes []string
			for _, f := range got.Findings {
				if f.Code[0] == 'J' && f.Code > "J060" {
					codes = append(codes, string(f.Code))
				}
			}
			b := got.Boards[0]
			if s := strings.Join(codes, " "); s != c.codes || b.Bad.Known != c.known || fmt.Sprint(b.Bad.Spans) != c.want {
				t.Errorf("got %q and %+v, want %q, known %t, %s", s, b.Bad, c.codes, c.known, c.want)
			}
			if _, makes := got.Boards[0].MakesNone.With["sale"]; makes || !c.known && b.MakesNone.Name != "makes-bad-unknown" {
				t.Errorf("got %+v for a board whose bad wood is known: %t", b.MakesNone, c.known)
			}
		})
	}
}

// drawnFitJob is a job with boards of any size and warp, some of them odd, and wanted pieces.
func drawnFitJob(t *rapid.T) *Job {
	in := func(low, high int, what string) units.Length {
		return units.Fraction(int64(rapid.IntRange(8*low, 8*high).Draw(t, what)), 8)
	}
	cherry, _ := wood.ByName("black cherry")
	walnut, _ := wood.ByName("black walnut")
	species := []wood.Species{cherry, cherry, walnut, {}}
	odd := func(l units.Length) units.Length { // sometimes it is not given
		if rapid.IntRange(0, 19).Draw(t, "none") == 19 {
			return 0
		}
		return l
	}
	j := &Job{Settings: Defaults(), Loads: []Load{{ID: "K1"}, {ID: "K2", Limit: units.Percent(14)}}}
	j.Settings.EndTrim, j.Settings.Kerf = in(0, 2, "trim"), in(0, 1, "kerf")
	for i := range rapid.IntRange(1, 6).Draw(t, "boards") {
		b := Board{ID: fmt.Sprintf("A%d", 1+rapid.IntRange(0, i).Draw(t, "id")), Load: rapid.SampledFrom([]string{"K1", "K2"}).Draw(t, "load"), Species: rapid.SampledFrom(species).Draw(t, "wood"),
			Thickness: []units.Length{in(1, 2, "t"), in(1, 2, "t")}, Width: odd(in(5, 12, "w")), Length: odd(in(50, 120, "l")), Cup: in(0, 1, "cup") / 4, Bow: in(0, 1, "bow"), Crook: in(0, 2, "crook"), Twist: in(0, 1, "twist") / 2}
		for range max(0, rapid.IntRange(-1, 3).Draw(t, "bad")) {
			from := units.Inch * units.Length(rapid.SampledFrom([]int{0, 5, 12, 20, 28, 36, 47, 110}).Draw(t, "from"))
			b.CutOut.Stretches = append(b.CutOut.Stretches, Stretch{From: from, To: from + in(1, 9, "bad"), Top: rapid.Bool().Draw(t, "top")})
		}
		if len(b.CutOut.Stretches) == 0 {
			b.CutOut.Total, b.CutOut.Unread = in(0, 12, "lose"), rapid.IntRange(0, 9).Draw(t, "unread") == 0
		}
		if rapid.IntRange(0, 5).Draw(t, "reading") == 0 {
			j.Readings = append(j.Readings, Reading{Taking: &Taking{Load: b.Load}, Board: b.ID, Value: units.Reading{State: units.Number, MC: units.Percent(float64(rapid.IntRange(7, 20).Draw(t, "mc")))}})
		}
		j.Boards = append(j.Boards, b)
	}
	for i := range rapid.IntRange(1, 5).Draw(t, "pieces") {
		j.Wanted = append(j.Wanted, Wanted{Piece: fmt.Sprint("piece ", i), Species: rapid.SampledFrom(species).Draw(t, "wood"), Thickness: in(0, 1, "pt") + units.Inch/4, Width: in(1, 8, "pw"), Length: odd(in(6, 60, "pl")),
			Pieces: rapid.IntRange(0, 4).Draw(t, "count"), Use: rapid.SampledFrom([]string{"", "", "interior", "exterior"}).Draw(t, "use")})
	}
	if len(j.Boards) > 0 && rapid.IntRange(0, 3).Draw(t, "sold") == 0 {
		j.Sales = []Sale{{ID: "S1", Load: j.Boards[0].Load, Boards: []string{j.Boards[0].ID}}}
	}
	return j
}

// TestFitLaws: whatever stands in the sheets, no board is cut that may not be, every board is wholly accounted for, bad wood is in no
// piece, every piece planes to its size, no more is made than is wanted, and leftovers have names of their own.
func TestFitLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		res := Assess(drawnFitJob(t))
		f := res.Fit
		if f == nil || !f.Known {
			return
		}
		if len(f.Boards) != len(f.Plan.Boards) {
			t.Fatalf("%d boards and %d in the plan", len(f.Boards), len(f.Plan.Boards))
		}
		names := map[string]bool{}
		for _, b := range res.Job.Boards {
			names[key(b.ID)] = true
		}
		made := make([]int, len(f.Pieces))
		cut := res.Job.Settings
		for i, s := range f.Plan.Boards {
			b := &res.Boards[f.Boards[i]]
			if b.Sold != "" || b.Over || !b.Bad.Known {
				t.Fatalf("board %q (sold %q, over %t, bad wood known %t) is in the plan", b.Board.ID, b.Sold, b.Over, b.Bad.Known)
			}
			if s.Whole.Length != b.Board.Length || s.Whole.Width != b.Board.Width {
				t.Fatalf("board %q is %s x %s, in the plan %s x %s", b.Board.ID, b.Board.Length, b.Board.Width, s.Whole.Length, s.Whole.Width)
			}
			area, whole := 0.0, float64(b.Board.Length)*float64(b.Board.Width)
			for p := range s.Whole.Leaves() {
				area += float64(p.Length) * float64(p.Width)
				if p.Kind == fit.Rest && s.Cut {
					if names[key(p.Name)] {
						t.Fatalf("the leftover name %q is taken", p.Name)
					}
					names[key(p.Name)] = true
				}
				if p.Kind != fit.Made {
					continue
				}
				w := f.Pieces[p.Piece].Wanted
				made[p.Piece]++
				for _, d := range b.Bad.Spans {
					if max(p.Along, d.From) < min(p.Along+p.Length, d.To) {
						t.Fatalf("board %q: the piece from %s to %s holds bad wood from %s to %s", b.Board.ID, p.Along, p.Along+p.Length, d.From, d.To)
					}
				}
				if p.Along+p.Length > b.Board.Length-max(b.Bad.AtEnds, cut.EndTrim) || w.Species.Name != b.Species.Name {
					t.Fatalf("board %q (%s) is cut to %+v for %q (%s)", b.Board.ID, b.Species.Name, p, w.Piece, w.Species.Name)
				}
				share := float64(p.Length) / float64(b.Board.Length)
				n := 1.0
				if 2*p.Width+cut.Kerf <= b.Board.Width {
					n = 2
				}
				least := float64(min(b.Board.Thickness[0], b.Board.Thickness[1]))
				planes := least - float64(b.Board.Cup)/n/n - float64(b.Board.Bow)*share*share - float64(b.Board.Twist)*share/n/2 - float64(2*cut.PlanePer)
				if planes < float64(w.Thickness)-1 {
					t.Fatalf("board %q planes to %.4f in for %q of %s", b.Board.ID, planes/float64(units.Inch), w.Piece, w.Thickness)
				}
			}
			if d := area/whole - 1; d > 1e-12 || d < -1e-12 {
				t.Fatalf("board %q: its parts come to %g of it", b.Board.ID, area/whole)
			}
		}
		for i, p := range f.Pieces {
			if made[i] != p.Made || p.Made > p.Count {
				t.Fatalf("%q: %d cut, %d said, %d wanted", p.Wanted.Piece, made[i], p.Made, p.Count)
			}
		}
		if w := f.Wood; w.Finished+w.Chips+w.Sawdust+w.Bad+w.Lost+w.Left != w.Boards || min(w.Finished, w.Chips, w.Sawdust, w.Bad, w.Lost, w.Left) < 0 {
			t.Fatalf("%+v", w)
		}
	})
}

// TestCuttingTouchesNoLoad: what is wrong with the bad wood of a board is said, and is nothing against its load or its sale.
func TestCuttingTouchesNoLoad(t *testing.T) {
	job := func(field string) *Job {
		return fitJob(func(j *Job) {
			j.Boards[0].Origin = Origin{Table: &Table{File: "week.xlsx", Sheet: "Boards", Cols: map[string]int{"board": 1, "cup": 3, "cut out": 5}}, Row: 4}
			j.Sales = []Sale{{ID: "S1", Load: "K1", Boards: []string{"1"}}}
			j.Findings.Add("C001", j.Boards[0].Origin.At(field), "", "let it calculate", "never calculated")
		})
	}
	for field, want := range map[string]int{"cut out": 0, "cup": 1} {
		r := Assess(job(field))
		if len(r.Findings) == 0 || len(r.Loads[0].Warnings) != want || len(r.Sales[0].Warnings) != want || r.Loads[0].Withheld != (want > 0) {
			t.Errorf("%s: load %v, sale %v, withheld %t; want %d", field, r.Loads[0].Warnings, r.Sales[0].Warnings, r.Loads[0].Withheld, want)
		}
	}
}

// TestFromStock: beside each saw setting stands what the dry boards on hand make of the piece and what is then still to saw. The boards
// make three of five shelves; two more with a tenth of waste are 2.2, so 3 boards.
func TestFromStock(t *testing.T) {
	for _, c := range []struct {
		wanted     int
		made, rest string
	}{{3, "3", "0"}, {5, "3", "3"}} {
		job := fitJob(func(j *Job) {
			j.Settings.Target = units.Percent(8)
			j.Wanted = j.Wanted[:1]
			j.Wanted[0].Pieces, j.Wanted[0].Waste = c.wanted, 0.10
			j.Boards = j.Boards[:2]
			j.Boards[1].Length = 50 * units.Inch
		})
		stock, ok := has(Assess(job).Sizes[0].Notes, "size-from-stock")
		if !ok || stock.With["made"] != c.made || stock.With["rest"] != c.rest {
			t.Errorf("%d wanted: got %v %v, want %s made and %s to saw", c.wanted, ok, stock.With, c.made, c.rest)
		}
	}
}
