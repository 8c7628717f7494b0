package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/report/page"
)

// manyFindings is the example with a thousand rows that say the same and five hundred that differ.
func manyFindings() *compute.Result {
	r := exampleResult()
	for i := range 1000 {
		r.Findings = append(r.Findings, finding.Finding{Code: "J013", Severity: finding.Error, Stands: "x", Problem: `"x" is not a moisture reading`,
			Hint: "write a number", Place: finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 20 + i, Col: 3}})
		r.Accounts[1].Rows.Add(compute.RowFate{Row: 20 + i, Kind: compute.KindReadings, Fate: compute.SetAside, Why: "reading not understood"})
	}
	for i := range 500 {
		r.Findings = append(r.Findings, finding.Finding{Code: "J012", Severity: finding.Warning, Stands: fmt.Sprint(i), Problem: fmt.Sprintf("the reading %d stands alone", i),
			Place: finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 2000 + i, Col: 3}})
	}
	return r
}

func TestSummarySays(t *testing.T) {
	r := exampleResult()
	r.Job.Boards = []compute.Board{*r.Boards[2].Board}
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, j.drawSummary)
	text = strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"Correct 3 errors in the sheets (Boards!A41, Readings!C14, Sold!C3)",
		"Take out K14-9, K14-18, K14-26 and K14-36. Without them the load is found dry for the use (flooring).",
		"Measure at least 25 of the 80 boards", "About 9 more days", // what would settle K15, and days to go
		"dry but for held-back boards", "not shown", "No moisture reading of this load's 80 boards is in the sheets.",
		"statement and tags of sale S8:",
		"9,5", "write 9.5 with a point", "is it 8.1?", // what stands there, what to do
		"2 harmless notes: once a row of the settings is not one drytally knows (T010: ",
		"board number given twice", "reading not understood", // rows set aside
		"fans off two nights", "knot at one end", "blue stain on six", // the owner's notes
		`1/16" (default)`, `3/32" (yours)`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the summary does not say %q", want)
		}
	}
	if e, w := strings.Index(text, "Errors:"), strings.Index(text, "Warnings:"); e < 0 || w < e {
		t.Errorf("errors stand at %d, warnings at %d; want errors first", e, w)
	}
}

func TestSummaryFoldsEqualFindings(t *testing.T) {
	r := manyFindings()
	j := exampleJob(r)
	var cells int
	for _, f := range j.toldOf(finding.Error) {
		cells += len(f.places)
	}
	if got, want := len(j.toldOf(finding.Error)), 4; got != want { // three of the example, one for all the thousand
		t.Errorf("%d lines of errors, want %d", got, want)
	}
	if want := r.Findings.Count(finding.Error); cells != want {
		t.Errorf("%d cells are named, want all %d", cells, want)
	}
}

func TestCellName(t *testing.T) {
	one := exampleJob(exampleResult())
	two := exampleJob(exampleResult())
	two.Job.Files = append(two.Job.Files, compute.InputFile{Name: "more.xlsx"})
	for _, test := range []struct {
		j    *job
		at   finding.Place
		want string
	}{
		{one, finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 14, Col: 4}, "Readings!D14"},
		{one, finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 14}, "Readings row 14"},
		{one, finding.Place{File: "week42.xlsx", Sheet: "Readings"}, "Readings"},
		{one, finding.Place{File: "week42.xlsx"}, "week42.xlsx"},
		{two, finding.Place{File: "more.xlsx", Sheet: "Readings", Row: 14, Col: 4}, "more.xlsx Readings!D14"},
		{two, finding.Place{File: "readings.csv", Sheet: "readings", Row: 14, Col: 4}, "readings.csv D14"},
	} {
		if got := test.j.cellName(test.at); got != test.want {
			t.Errorf("%v: got %q, want %q", test.at, got, test.want)
		}
	}
}

func TestSummaryTwoRuns(t *testing.T) {
	first, err := exampleJob(exampleResult()).summaryPaper()
	if err != nil {
		t.Fatal(err)
	}
	second, err := exampleJob(exampleResult()).summaryPaper()
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("two runs differ (%v)", err)
	}
}

func TestNothingToDo(t *testing.T) {
	j := exampleJob(emptyResult())
	text, _ := recorded(t, j, page.Letter, j.drawSummary)
	if !strings.Contains(strings.Join(strings.Fields(text), " "), "Nothing is open") {
		t.Errorf("an empty job has something to do: %q", text)
	}
}
