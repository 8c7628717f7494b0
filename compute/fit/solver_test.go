package fit

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"strconv"
	"testing"

	"drytally/compute/units"
)

// smallCase is a case of testdata/cases.json or knotty.json; sizes are 64ths of an inch.
type smallCase struct {
	Name                                               string
	EndTrim, CrossKerf, RipKerf, LeftLength, LeftWidth int64
	Boards                                             []struct {
		ID, Species              string
		Length, Width, Thickness int64
		Whole, Ripped            int64
		Crook                    int64
		HeldBack                 bool
		Deny                     []string
		LoseStart, LoseEnd       int64
		Defects                  [][2]int64
	}
	Pieces []struct {
		ID, Species              string
		Thickness, Width, Length int64
		Count                    int
	}
}

func (c smallCase) task() ([]Board, []Piece, Rules) {
	in := func(n int64) units.Length { return units.Fraction(n, 64) }
	var boards []Board
	for _, b := range c.Boards {
		x := Board{ID: b.ID, Species: b.Species, Length: in(b.Length), Width: in(b.Width), Thickness: in(b.Thickness), Planed: []Planed{{Whole: in(b.Whole), Ripped: in(b.Ripped)}},
			Crook: in(b.Crook), HeldBack: b.HeldBack, Deny: b.Deny, LoseStart: in(b.LoseStart), LoseEnd: in(b.LoseEnd)}
		for _, d := range b.Defects {
			x.Defects = append(x.Defects, Span{in(d[0]), in(d[1])})
		}
		boards = append(boards, x)
	}
	var pieces []Piece
	for _, p := range c.Pieces {
		pieces = append(pieces, Piece{ID: p.ID, Species: p.Species, Thickness: in(p.Thickness), Width: in(p.Width), Length: in(p.Length), Count: p.Count})
	}
	return boards, pieces, Rules{EndTrim: in(c.EndTrim), CrossKerf: in(c.CrossKerf), RipKerf: in(c.RipKerf), LeftLength: in(c.LeftLength), LeftWidth: in(c.LeftWidth)}
}

func smallCases(t *testing.T, file string) []smallCase {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var all []smallCase
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// TestAgainstASolver compares each small case with the best plan that a general integer solver found for a model of the same
// pattern space (testdata/model). The program that made both files stands in the first line of solved.csv.
func TestAgainstASolver(t *testing.T) {
	againstASolver(t, "testdata/cases.json", "testdata/solved.csv", 50)
}

// TestKnottyAgainstASolver does the same with boards that have several stretches of bad wood, and crooks.
func TestKnottyAgainstASolver(t *testing.T) {
	cases := againstASolver(t, "testdata/knotty.json", "testdata/knotty.csv", 30)
	bad, several, crooked := 0, 0, 0
	for _, c := range cases {
		for _, b := range c.Boards {
			if len(b.Defects) > 0 {
				bad++
			}
			if len(b.Defects) > 1 {
				several++
			}
			if b.Crook > 0 {
				crooked++
			}
		}
	}
	if bad < 50 || several < 30 || crooked < 10 {
		t.Errorf("%d boards have bad wood, %d several stretches of it, %d a crook: too few to tell", bad, several, crooked)
	}
}

// scores reads a file of lines of a name, the pieces missing, their order and, where the file has it, the wood.
func scores(t *testing.T, file string) map[string]Score {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]Score{}
	for _, row := range rows[1:] {
		var n [3]int
		for i, cell := range row[1:] {
			if n[i], err = strconv.Atoi(cell); err != nil {
				t.Fatal(err)
			}
		}
		all[row[0]] = Score{Missing: n[0], Order: n[1], Wood: int64(n[2])}
	}
	return all
}

func againstASolver(t *testing.T, cased, solvedIn string, least int) []smallCase {
	t.Helper()
	solved := scores(t, solvedIn)
	cases := smallCases(t, cased)
	if len(cases) < least || len(solved) != len(cases) {
		t.Fatalf("%d cases and %d solved, want at least %d and as many solved", len(cases), len(solved), least)
	}
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			t.Parallel()
			plan, err := Cut(c.task())
			if err != nil {
				t.Fatal(err)
			}
			want, ok := solved[c.Name]
			if !ok {
				t.Fatal("not solved")
			}
			if plan.Used != want {
				t.Errorf("got %+v, the solver found %+v", plan.Used, want)
			}
			if !plan.Proven {
				t.Errorf("the plan is not proven: bound %+v, plan %+v", plan.Bound, plan.Used)
			}
			checkPlan(t, plan, c.task)
		})
	}
	return cases
}
