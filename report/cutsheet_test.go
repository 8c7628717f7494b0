package report

import (
	"bytes"
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// emptyResult is a job of which nothing is known.
func emptyResult() *compute.Result {
	return &compute.Result{Job: &compute.Job{Settings: compute.Defaults()}}
}

func TestCutSheetSays(t *testing.T) {
	j := exampleJob(exampleResult())
	text, _ := recorded(t, j, page.Letter, j.drawCutSheet)
	text = strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		`1" x 6 1/4"`, "floor board", "northern red oak", `3/4" x 5 1/4" x 8'`, // setting, piece, wood, finished size
		"96 of 100", "132 with 10 % waste added", "If 10 % is lost", "134, so that enough are left", "1056 ft with 10 % waste added", "about 2400 lb (1900 to 2900 lb)", // shares and counts
		"528 green, 462 net when dry: board feet by hardwood surface measure", // both footages with their rule
		"Tick a box for every 5 boards sawn; the last box is 2.",
		"What moisture content this piece is dried to is not known", // of the piece without a setting
		"blue stain on six",       // the owner's note of a cut
		`1/32" too thin for`,      // why a board makes none
		"Wood Handbook", "memory", // sources and status
		`saw step 1/16" (default)`, `planing per face 3/32" (the owner's)`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the cut sheet does not say %q", want)
		}
	}
	if !strings.Contains(text, "Thickness 15/16") || strings.Index(text, "Thickness 15/16") > strings.Index(text, `Thickness 1"`) {
		t.Error("the settings are not grouped by thickness, the thinnest first")
	}
}

// TestCutSheetMarksWhatIsUnread: openings that could not be read are told at their piece, with a setting and without one.
func TestCutSheetMarksWhatIsUnread(t *testing.T) {
	r := exampleResult()
	with := map[string]string{"field": "openings", "cell": "Wanted!J6", "stands": "2 doors"}
	known := 0
	for i := range r.Sizes {
		r.Sizes[i].Notes = append(r.Sizes[i].Notes, compute.Statement{Name: "cell-unread", With: with})
		if r.Sizes[i].Known {
			known++
		}
	}
	if known == 0 || known == len(r.Sizes) {
		t.Fatalf("%d of %d pieces have a setting, want some and not all", known, len(r.Sizes))
	}
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, j.drawCutSheet)
	text = strings.Join(strings.Fields(text), " ")
	if got := strings.Count(text, "openings in Wanted!J6, 2 doors."); got != len(r.Sizes) {
		t.Errorf("openings not read are told %d times, want %d: once at each piece", got, len(r.Sizes))
	}
}

func TestCutSheetTwoRuns(t *testing.T) {
	first, err := exampleJob(exampleResult()).cutSheet()
	if err != nil {
		t.Fatal(err)
	}
	second, err := exampleJob(exampleResult()).cutSheet()
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("two runs differ (%v)", err)
	}
}

func TestTallyHasABoxForEveryBoard(t *testing.T) {
	for _, test := range []struct {
		boards, boxes int
		says          string
	}{
		{1, 1, "Tick a box for every board sawn."},
		{75, 75, "Tick a box for every board sawn."},
		{76, 16, "Tick a box for every 5 boards sawn; the last box is 1."}, // 15 boxes of 5 and one
		{100, 20, "Tick a box for every 5 boards sawn."},
		{100000, 50, "Tick a box for every 100000 boards sawn."}, // above all steps: see below
	} {
		j := exampleJob(emptyResult())
		d := page.New(page.Options{Record: true})
		j.drawTally(d, test.boards)
		boxes, text := 0, ""
		for _, x := range d.Drawn() {
			if x.What == page.DrewText {
				text = x.Text
			} else {
				boxes++
			}
		}
		if test.boards == 100000 { // even a thousand a box would need a hundred boxes: one box stands for all
			test.boxes = 1
		}
		if boxes != test.boxes || text != test.says {
			t.Errorf("%d boards: %d boxes, %q; want %d, %q", test.boards, boxes, text, test.boxes, test.says)
		}
	}
}

func TestPlanedBoardsFold(t *testing.T) {
	r := largeSale(100)
	for i := range r.Boards {
		b := &r.Boards[i]
		b.Board.Cup, b.Board.Width, b.PlanesTo, b.WidthTo, b.Over = 0, inch(6, 1), inch(29, 32), inch(23, 4), false
		b.Makes = []string{"floor board"}
	}
	r.Boards[7].Makes, r.Boards[7].MakesNone = nil, compute.Statement{Name: "makes-held-back"}
	r.Boards[7].Over = true
	r.Boards[9].Least = 0
	j := exampleJob(r)
	rows, unmeasured := j.planedRows(j.planingForm())
	if len(rows) != 2 || len(rows[0].boards) != 98 || len(rows[1].boards) != 1 || rows[1].why == "" || len(unmeasured) != 1 {
		t.Fatalf("100 boards came to %d rows and %d not measured, want 98 in one row, one not to be worked, one not measured", len(rows), len(unmeasured))
	}
	r.Boards = r.Boards[:foldFrom-1]
	if rows, _ := j.planedRows(j.planingForm()); len(rows) != foldFrom-2 {
		t.Errorf("a list of %d boards came to %d rows, want one for each of the %d measured", foldFrom-1, len(rows), foldFrom-2)
	}
}

func TestRangeWords(t *testing.T) {
	r := units.LengthRange{Low: 22 * units.Millimetre, High: 26 * units.Millimetre}
	j := exampleJob(emptyResult())
	j.system = units.Metric
	if got := j.rangeWords(r); got != "22 to 26 mm" {
		t.Errorf("got %q, want 22 to 26 mm", got)
	}
	j.system = units.InchFoot
	r = units.LengthRange{Low: inch(7, 8), High: inch(15, 16)}
	if got := j.rangeWords(r); got != `7/8" to 15/16"` {
		t.Errorf("got %q", got)
	}
}
