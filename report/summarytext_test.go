package report

import (
	"errors"
	commandline "flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/report/write"
	"drytally/testdata/tool"
)

var updateText = commandline.Bool("update-text", false, "write the golden texts anew")

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	tool.NoUpdate(t, *updateText)
	if *updateText {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs; if it should, run with -update-text and read the change (-want +got):\n%s", name, diff)
	}
}

var someFiles = []write.File{{Name: "summary.pdf"}, {Name: "cut-sheet.pdf"}, {Name: "load-K14.pdf"}, {Name: "load-K15.pdf"},
	{Name: "statement-S7.pdf"}, {Name: "tags-S7.pdf"}, {Name: "results.xlsx"}, {Name: "results.json"}}

func summaryOf(t *testing.T, r *compute.Result, files []write.File) string {
	t.Helper()
	var out strings.Builder
	if err := Summary(&out, r, "week42-papers", files); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func checkOf(t *testing.T, r *compute.Result) string {
	t.Helper()
	var out strings.Builder
	if err := Check(&out, r); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestSummaryText(t *testing.T) { golden(t, "summary.txt", summaryOf(t, fullResult(), someFiles)) }

func TestCheckText(t *testing.T) { golden(t, "check.txt", checkOf(t, fullResult())) }

// crowdedResult has more wrong with it than a screen should show.
func crowdedResult() *compute.Result {
	r := exampleResult()
	r.Findings = nil
	at := func(row, col int) finding.Place {
		return finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: row, Col: col}
	}
	for row := 20; row < 40; row++ {
		r.Findings = append(r.Findings, finding.Finding{Code: "J013", Severity: finding.Error, Place: at(row, 3), Problem: fmt.Sprintf("\"%d,5\" is not a moisture reading", row), Hint: "write it with a point"})
	}
	for i := range 14 {
		r.Findings = append(r.Findings, finding.Finding{Code: "T020", Severity: finding.Warning, Place: at(50+i, 2), Problem: "something of its own", Hint: fmt.Sprintf("do thing %d", i)})
	}
	r.Accounts = nil
	for sheet := range 9 {
		r.Accounts = append(r.Accounts, compute.Account{File: "week42.xlsx", Sheet: fmt.Sprintf("Sheet%d", sheet),
			Rows: compute.FatesOf(compute.RowFate{Row: 2, Fate: compute.SetAside, Why: "no reading taken"}, compute.RowFate{Row: 3, Fate: compute.SetAside, Why: "no reading taken"},
				compute.RowFate{Row: 4, Fate: compute.SetAside, Why: "no reading taken"}, compute.RowFate{Row: 9, Fate: compute.SetAside, Why: "no reading taken"})})
	}
	return r
}

func TestSummaryFoldsAndStops(t *testing.T) {
	r := crowdedResult()
	got := summaryOf(t, r, someFiles)
	golden(t, "summary-crowded.txt", got)
	// Nothing is lost: what is shown and what is counted make up all findings. One line folds 20 errors, nine warnings have
	// a line each, five are left.
	for _, want := range []string{"and 5 more, cell by cell in summary.pdf", "(also in C21, C22, C23, C24, C25, C26 and 13 more)", "rows 2-4, 9: no reading taken", "and 3 more lines like these"} {
		if !strings.Contains(got, want) {
			t.Errorf("the summary lacks %q", want)
		}
	}
	// The check shows all of them.
	check := checkOf(t, r)
	for _, f := range r.Findings {
		if !strings.Contains(check, f.String()+"\n    hint: "+f.Hint+"\n") {
			t.Errorf("the check lacks %s", f)
		}
	}
}

func TestTextOfNothing(t *testing.T) {
	r := &compute.Result{Job: &compute.Job{Name: "empty", Settings: compute.Defaults()}}
	want := "empty: 0 rows used, 0 set aside, 0 not data (headings, notes)\n"
	if got := summaryOf(t, r, nil); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := checkOf(t, r), want+"\nNothing is wrong or doubtful in the sheets.\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// What stands in a sheet can't steer the screen, and a line break in it makes no line of its own.
func TestTextShowsControlCharacters(t *testing.T) {
	r := fullResult()
	r.Job.Loads[0].ID = "K\x1b]0;owned\x07\n14"
	r.Findings[2].Problem = "a\x1b[2Jb"
	for name, got := range map[string]string{"summary": summaryOf(t, r, someFiles), "check": checkOf(t, r)} {
		for i, c := range got {
			if c < 0x20 && c != '\n' {
				t.Errorf("%s: control character %q at byte %d", name, c, i)
			}
		}
		if !strings.Contains(got, "K␛]0;owned␇␊14") || !strings.Contains(got, "a␛[2Jb") {
			t.Errorf("%s: the characters are not shown:\n%s", name, got)
		}
	}
}

func TestTextNamesEveryFileAndPaper(t *testing.T) {
	r := fullResult()
	got := summaryOf(t, r, someFiles)
	for _, f := range someFiles {
		if !strings.Contains(got, "\n  "+f.Name) {
			t.Errorf("the summary lacks %s", f.Name)
		}
	}
	for _, p := range r.Withheld() {
		if !strings.Contains(got, p) {
			t.Errorf("the summary does not say that the %s is withheld", p)
		}
	}
}

type fullDisk struct{}

var errFull = errors.New("the disk is full")

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestTextErrors(t *testing.T) {
	if err := Summary(fullDisk{}, fullResult(), "x", someFiles); !errors.Is(err, errFull) {
		t.Errorf("got %v, want the error of the stream", err)
	}
	r := fullResult()
	r.Loads[0].Reasons = []compute.Statement{{Name: "no-such-wording"}}
	if err := Check(io.Discard, r); err == nil {
		t.Error("a reason without wording was passed over")
	}
}

func TestRunsOf(t *testing.T) {
	for in, want := range map[string]string{"": "", "3": "3", "3 4": "3, 4", "3 4 5": "3-5", "1 3 4 5 6 9 10": "1, 3-6, 9, 10"} {
		if got := strings.Join(runsOf(strings.Fields(in), 3, "-", nextRow), ", "); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

// A verdict that would allow a certificate is never read without that there is none.
func TestVerdictSaysThatTheCertificateIsWithheld(t *testing.T) {
	for _, c := range []struct {
		verdict  compute.Verdict
		withheld bool
		want     string
	}{
		{compute.DryForUse, false, "dry for the use"},
		{compute.DryForUse, true, "dry for the use by its readings; certificate withheld"},
		{compute.DryButHeldBack, false, "dry but for held-back boards"},
		{compute.DryButHeldBack, true, "dry but for held-back boards, by its readings; certificate withheld"},
		{compute.NotDryYet, true, "not dry yet"}, // no certificate is due
		{compute.NotShown, true, "not shown to be dry"},
	} {
		r := fullResult()
		r.Loads[0].Verdict, r.Loads[0].Withheld = c.verdict, c.withheld
		for name, got := range map[string]string{"summary": summaryOf(t, r, someFiles), "check": checkOf(t, r)} {
			if !strings.Contains(got, "\nLoad K14: "+c.want+"\n") {
				t.Errorf("%s, %s, withheld %v: want the line %q in\n%s", name, c.verdict, c.withheld, c.want, got)
			}
		}
	}
}

// The check says which columns were not read, though that is no more than a note.
func TestCheckNamesColumnsNotRead(t *testing.T) {
	r := fullResult()
	r.Findings = append(r.Findings, finding.Finding{Code: "T003", Severity: finding.Note, Place: finding.Place{File: "week42.xlsx", Sheet: "Boards", Row: 3, Col: 9},
		Stands: "Bin", Problem: `the column "Bin" was not read`, Hint: "nothing, if drytally needn't know it"})
	if got, want := checkOf(t, r), `week42.xlsx: Boards!I3: note T003: the column "Bin" was not read`; !strings.Contains(got, want) {
		t.Errorf("the check lacks %q:\n%s", want, got)
	}
}
