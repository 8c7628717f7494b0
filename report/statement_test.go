package report

import (
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

func TestStatements(t *testing.T) {
	t.Parallel()
	for name, k := range loadSketches() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := sketched(k)
			j := exampleJob(r)
			for _, paper := range []page.Paper{page.Letter, page.A4} {
				text, pages := recorded(t, j, paper, func(d *page.Doc) { j.drawStatement(d, &r.Sales[0]) })
				one := inOne(text)
				for _, want := range []string{"Hollow Road Mill", "A. Buyer", "20 October 2026", "What it does not say", "is no grade", "How to keep them so", "with the number of this paper",
					"board feet by hardwood surface measure"} {
					if !strings.Contains(one, want) {
						t.Errorf("%s: the paper lacks %q", name, want)
					}
				}
				if pages > 1 && name != "long names" && name != "nasty strings" {
					t.Errorf("%s: got %d pages, want 1", name, pages)
				}
				for _, never := range []string{"guarantee", "warrant", "certificate"} {
					if strings.Contains(strings.ToLower(one), never) {
						t.Errorf("%s: the statement says %q", name, never)
					}
				}
			}
			twice(t, func() ([]byte, error) { return exampleJob(sketched(k)).statement(&sketched(k).Sales[0]) })
		})
	}
}

func TestStatementSays(t *testing.T) {
	t.Parallel()
	tests := []struct {
		sketch      string
		want, never []string
	}{
		{"dry", []string{"12 boards of northern red oak, from load K14. 6 of them were measured", "the other 6 were not.", "As measured on 16 to 17 October 2026: lowest 6.9 %",
			"found dry for that use on 16 to 17 October 2026.", "30 of the 60 boards of their load, as measured on 16 to 17 October 2026, had a mean of 7.9 % (7.6 to 8.2 %, 95 % range)", "6 of these boards were not", "Nothing is said of any day after 17 October 2026", "kiln dried",
			"Nothing is said about insects"}, []string{"horse", "use with food. Food rules"}},
		{"dry, owner's limit, walnut", []string{"Each was measured", "the seller's own limit is 9.5 %", "horse bedding", "Food rules"}, nil},
		{"dry, withheld", []string{"It was not shown that the load they come from is dry"}, []string{"was found dry"}},
		{"held back", []string{"once 6 boards are taken out.", "1 board read under the meter's lowest mark", "K17-9: to be held back from this use, over 9.0 %"}, []string{"among these"}},
		{"not dry", []string{"was not dry yet for that use", "is over the limit of 10.0 %", "Dry these boards further"}, []string{"found dry"}},
		{"not shown", []string{"It was not shown that the load"}, []string{"found dry"}},
		{"no readings, no use", []string{"None of them was measured.", "no verdict is given"}, []string{"As measured on", "lowest", "found dry", "any day after"}},
		{"all below range", []string{"12 boards read under the meter's lowest mark"}, []string{"lowest 0", "mean 0", " 0.0 %"}},
		{"one board", []string{"1 board of northern red oak", "It was measured", "17 October 2026: 7.0 %."}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.sketch, func(t *testing.T) {
			t.Parallel()
			r := sketched(loadSketches()[tt.sketch])
			j := exampleJob(r)
			text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawStatement(d, &r.Sales[0]) })
			says(t, text, tt.want, tt.never)
		})
	}
}

// TestStatementOfPieces sells a number of pieces of two loads, one of them without a use, naming no board.
func TestStatementOfPieces(t *testing.T) {
	t.Parallel()
	r := sketched(loadSketches()["dry"])
	other := r.Loads[0]
	r.Job.Loads = append(r.Job.Loads, compute.Load{ID: "K99"})
	other.Load, other.Band, other.Verdict = &r.Job.Loads[1], compute.Band{}, compute.NotShown
	r.Loads = append(r.Loads, other)
	j := exampleJob(r)
	s := &compute.SaleResult{ID: "S9", Loads: []string{"K14", "k99 "}, Sales: []*compute.Sale{{Pieces: 40}},
		Notes: []compute.Statement{{Name: "sale-no-boards", With: map[string]string{"pieces": "40"}}}}
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawStatement(d, s) })
	one := inOne(text)
	for _, want := range []string{"40 pieces of northern red oak, from loads K14 and k99", "Load K14.", "Load K99.", "Buyer not said in the sheets", "no date", "no verdict is given",
		"nothing is said of single boards", "30 of the 60 boards of their load"} {
		if !strings.Contains(one, want) {
			t.Errorf("the paper lacks %q", want)
		}
	}
}

// TestHeldBackNotAmong says that no board to be taken out is sold, when that is so.
func TestHeldBackNotAmong(t *testing.T) {
	t.Parallel()
	r := sketched(loadSketches()["held back"])
	r.Sales[0].Boards = []int{0, 1, 2}
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawStatement(d, &r.Sales[0]) })
	if want := "once 6 boards are taken out; none of them is among these."; !strings.Contains(inOne(text), want) {
		t.Errorf("the paper lacks %q", want)
	}
}

func TestSoldSize(t *testing.T) {
	t.Parallel()
	b := &compute.BoardResult{Board: &compute.Board{Width: units.Millimetres(246), Length: units.Millimetres(2500)}, Least: units.Millimetres(28)}
	for _, tt := range []struct {
		system units.System
		board  *compute.BoardResult
		want   string
	}{
		{units.Metric, b, "28 x 246 x 2500 mm"},
		{units.InchFoot, &compute.BoardResult{Board: &compute.Board{Width: inch(29, 4), Thickness: []units.Length{inch(9, 8), inch(17, 16)}}}, `1 1/16" x 7 1/4"`},
		{units.Metric, &compute.BoardResult{Board: &compute.Board{}}, ""},
	} {
		j := &job{system: tt.system}
		if got := j.soldSize(tt.board); got != tt.want {
			t.Errorf("%+v: got %q, want %q", tt.board, got, tt.want)
		}
	}
}

// TestStatementNumbers never turns a mark of the meter into a number.
func TestStatementNumbers(t *testing.T) {
	t.Parallel()
	r := sketched(loadSketches()["held back"])
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawStatement(d, &r.Sales[0]) })
	for _, at := range r.Sales[0].Boards {
		b := r.Boards[at]
		want := b.MC.MC.String() + " %"
		switch b.MC.State {
		case units.NotTaken:
			want = "not measured"
		case units.BelowRange:
			want = "under " + want
		case units.AboveRange:
			want = "over " + want
		}
		if !strings.Contains(text, want) {
			t.Errorf("board %s: the paper lacks %q", b.Board.ID, want)
		}
	}
}

// TestStatementOfManyBoards: what is measured of up to 80 boards stands on one page with the cautions; of more the list stands behind.
// Either way every board is named with its moisture.
func TestStatementOfManyBoards(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ boards, pages int }{{4, 1}, {12, 1}, {24, 1}, {60, 1}, {80, 1}, {200, 4}} {
		r := sketched(loadSketches()["200 boards"])
		s := &r.Sales[0]
		s.Boards = nil
		for i := range c.boards {
			s.Boards = append(s.Boards, i)
		}
		j := exampleJob(r)
		for _, paper := range []page.Paper{page.Letter, page.A4} {
			text, pages := recorded(t, j, paper, func(d *page.Doc) { j.drawStatement(d, s) })
			if pages != c.pages {
				t.Errorf("%d boards: got %d pages, want %d", c.boards, pages, c.pages)
			}
			one := inOne(text)
			for _, at := range s.Boards {
				if id := r.Boards[at].Board.ID; !strings.Contains(strings.ReplaceAll(one, noBreak, " "), id+" ") {
					t.Errorf("%d boards: the paper lacks %q", c.boards, id)
				}
			}
		}
	}
}
