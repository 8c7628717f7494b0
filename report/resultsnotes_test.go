package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"drytally/compute"
	"drytally/compute/finding"
)

func TestBoardNotesHangOnTheirCells(t *testing.T) {
	r := fullResult()
	r.Findings = append(r.Findings,
		finding.Finding{Code: "J004", Severity: finding.Warning, Place: r.Boards[3].Board.Origin.At("dry width"), Problem: "wider dry than green", Hint: "check both sizes"},
		finding.Finding{Code: "J018", Severity: finding.Error, Place: r.Boards[4].Board.Origin.At("course"), Problem: "outside the stack"})
	boards := sheetNamed(t, readBack(t, workbookOf(t, r)), "Boards")
	width := headed(t, boards, "Dry width (in)", 36)[3]
	if want := "week42.xlsx: Boards!C7: warning J004: wider dry than green\ncheck both sizes"; !strings.Contains(width.Comment(), want) {
		t.Errorf("note on %s: got %q, want %q", cellName(width.Col, width.Row), width.Comment(), want)
	}
	// The sheet had no column for the course: the note hangs on the board itself.
	if c := headed(t, boards, "Board", 36)[4]; !strings.Contains(c.Comment(), "J018") {
		t.Errorf("note on %s: got %q, want J018", cellName(c.Col, c.Row), c.Comment())
	}
}

// Of several readings in one row of the sheet, a note hangs on its own.
func TestReadingNotesHangOnTheirOwn(t *testing.T) {
	r := readSheets(t, map[string]string{"boards.csv": "Board,Thickness,Width,Length,Reading,Reading\nB1,1,6,8,8.1,8.3\nB2,1,6,8,8.2,88\nB3,1,6,8,8.2,8.4\nB4,1,6,8,8.0,8.1\nB5,1,6,8,8.0,8.1\n",
		"weights.csv": "Sample,Date,Weight (g),Section wet (g),Section ovendry (g)\nS1,2026-10-01,4600,40,46\n"})
	book := readBack(t, workbookOf(t, r))
	noted := 0
	for i, c := range headed(t, sheetNamed(t, book, "Readings"), "As read", 10) {
		if has := strings.Contains(c.Comment(), "J0"); has {
			noted++
			if c.Text != "88.0" || !strings.Contains(c.Comment(), "F3") {
				t.Errorf("reading %d, %s, has the note %q", i, c.Text, c.Comment())
			}
		}
	}
	if noted != 1 {
		t.Errorf("%d readings have a note, want 1: %v", noted, r.Findings)
	}
	if c := headed(t, sheetNamed(t, book, "Weights"), "Section, ovendry (g)", 1)[0]; !strings.Contains(c.Comment(), "J009") {
		t.Errorf("the ovendry weight has the note %q", c.Comment())
	}
}

func TestFindingsLinkToTheCell(t *testing.T) {
	r := fullResult()
	j := exampleJob(r)
	csv := fullResult()
	csv.Job.Name = "pine csv"
	csv.Job.Files = []compute.InputFile{{Name: "boards.csv"}, {Name: "sold.csv"}}
	for _, c := range []struct {
		j    *job
		at   finding.Place
		want string
	}{
		{j, finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 14, Col: 4}, "../week42.xlsx#'Readings'!D14"},
		{j, finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 14}, "../week42.xlsx#'Readings'!A14"},
		{j, finding.Place{File: "week42.xlsx"}, "../week42.xlsx"},
		{j, finding.Place{File: "my week 5%.xlsx", Sheet: "Ann's #2", Row: 3, Col: 28}, "../my%20week%205%25.xlsx#'Ann''s%20%232'!AB3"},
		{exampleJob(csv), finding.Place{File: "boards.csv", Row: 3, Col: 1}, "../pine%20csv/boards.csv"},
		{j, finding.Place{}, ""},
	} {
		if got := c.j.cellLink(c.at, "x").target; got != c.want {
			t.Errorf("%v: got %s, want %s", c.at, got, c.want)
		}
	}
	f, err := excelize.OpenReader(bytes.NewReader(workbookOf(t, r)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	ok, target, err := f.GetCellHyperLink("Findings", "D6")
	if err != nil || !ok || target != "../week42.xlsx#'Readings'!C14" {
		t.Errorf("link of Findings!D6: got %v %q (%v)", ok, target, err)
	}
}
