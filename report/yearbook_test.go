package report

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/compute/yearbook"
	"drytally/ingest"
	"drytally/ingest/sheet"
	"drytally/report/page"
)

// demoYear joins the demo weeks, and adds what they have too little of: figures of the mill's own, pairs of meter and weight, and
// findings. The additions are invented.
func demoYear(t *testing.T) *yearbook.Yearbook {
	t.Helper()
	sets, err := ingest.GatherSeason([]string{filepath.Join("..", "testdata", "weeks")})
	if err != nil {
		t.Fatal(err)
	}
	weeks := []compute.Week{{Name: "torn.xlsx", Unread: "torn.xlsx: error F014: the file is damaged"}}
	for _, s := range sets {
		job, err := ingest.Read(s)
		if err != nil {
			t.Fatal(err)
		}
		_, w := compute.AssessWeek(job)
		weeks = append(weeks, w)
	}
	if len(weeks) != 5 {
		t.Fatalf("got %d weeks, want 2 workbooks, two folders of CSV files and one that could not be read", len(weeks))
	}
	b := yearbook.Join(weeks)
	pc := units.Percent
	for i, species := range []string{"white ash", "black cherry", "a wood with a name of its own that runs on and on"} {
		for _, direction := range []string{"radial", "tangential", "mixed sawing"} {
			x := 0.01 * float64(i)
			b.Shrinkage = append(b.Shrinkage, yearbook.Shrinkage{HouseShrinkage: compute.HouseShrinkage{Species: species, Direction: direction, Known: true, Table: 0.05 + x, Own: 0.06 + x, Used: 0.058 + x, Boards: 40 + i, LeftOut: []string{"A7"}},
				TableLow: 0.035 + x, TableHigh: 0.065 + x, OwnLow: 0.055 + x, OwnHigh: 0.065 + x, Low: 0.054 + x, High: 0.062 + x})
		}
		m := yearbook.Meter{Meter: "the small one", Species: species, Difference: units.Estimate{Value: pc(0.6), Low: pc(0.4), High: pc(0.8), Confidence: 0.95, N: 40, Known: true}, Spread: pc(0.4)}
		for k := range 40 * (i + 1) {
			m.Pairs = append(m.Pairs, yearbook.Pair{Load: "K14", Board: fmt.Sprint(k), Date: day(3), Shown: pc(8), Weighed: pc(8.6 + 0.1*float64(k%7-3)), Section: k%3 == 0})
		}
		m.Pairs = append(m.Pairs, yearbook.Pair{Board: "far", Shown: pc(8), Weighed: pc(31)})
		b.Meters = append(b.Meters, m)
	}
	b.Findings = append(b.Findings, finding.Finding{Code: "S003", Severity: finding.Error, Place: finding.Place{File: "two-loads.xlsx", Sheet: "Sold", Row: 5, Col: 3}, Stands: "A03",
		Problem: `board "A03 of load K14" went in sale S31 already`, Hint: "take it out of one of the two"},
		finding.Finding{Code: "S012", Severity: finding.Note, Place: finding.Place{File: "two-loads.xlsx", Sheet: "Sawn", Row: 5}, Problem: "2 rows were counted already"})
	return b
}

func TestSeasonPaper(t *testing.T) {
	t.Parallel()
	for _, paper := range []page.Paper{page.Letter, page.A4} {
		j := newYearJob(demoYear(t), About{Version: "test"})
		text, pages := recorded(t, j.job, paper, j.drawYear)
		says(t, text, []string{"Boards and footage", "For next week's settings", "not enough yet", "Account of every load", "Stock list", "W01-W60", "P001, P003", "without a number", "50 are left, as in the account: 10 of the boards listed went by the piece",
			"Sold and used", "What your wood shrinks", "5.8 % (5.4 to 6.2)", "The meter against weights", "+0.4 to +0.8", "Where the wet boards sit in the kiln", "All loads are taken as dried in one kiln",
			"torn.xlsx", "could not be read", "1 workbook could not be read", "S003", "It is no inventory"}, []string{"NaN", "%!"})
		if pages > 7 {
			t.Errorf("got %d pages, want 7 at most", pages)
		}
		// The numbers printed balance: made = sold + used + left, on every line of the account.
		for _, l := range append(j.year.Lines, j.year.Totals...) {
			if l.Feet.Made != l.Feet.Sold+l.Feet.Used+l.Feet.Left || !strings.Contains(text, boardFeet(l.Feet.Left)) {
				t.Errorf("load %s: %+v", l.Load, l.Feet)
			}
		}
	}
	b := demoYear(t)
	t.Run("xlsx", func(t *testing.T) {
		twice(t, func() ([]byte, error) { return newYearJob(b, About{Version: "test"}).seasonBook() })
	})
	twice(t, func() ([]byte, error) { return newYearJob(b, About{Version: "test"}).seasonPaper() })
}

// TestSeasonOfLongNames gives loads and sales ids of 500 letters, and one load nothing at all.
func TestSeasonOfLongNames(t *testing.T) {
	t.Parallel()
	b := demoYear(t)
	long := strings.Repeat("longwinded", 50)
	for i := range b.Loads {
		b.Loads[i].Name, b.Loads[i].Use = long, "=1+1"
	}
	for i := range b.Lines {
		b.Lines[i].Load = long
	}
	for i := range b.Stock {
		b.Stock[i].Load = long
	}
	for i := range b.Sales {
		b.Sales[i].ID = long
	}
	b.Loads = append(b.Loads, yearbook.Load{Name: "K0"})
	j := newYearJob(b, About{Version: "test"})
	if _, pages := recorded(t, j.job, page.Letter, j.drawYear); pages > 9 {
		t.Errorf("got %d pages, want 9 at most", pages)
	}
}

// TestEmptySeason: a season of nothing is a short paper, not a failure.
func TestEmptySeason(t *testing.T) {
	t.Parallel()
	j := newYearJob(yearbook.Join(nil), About{Version: "test"})
	if _, pages := recorded(t, j.job, page.Letter, j.drawYear); pages != 1 {
		t.Errorf("got %d pages, want 1", pages)
	}
	if _, err := j.seasonBook(); err != nil {
		t.Error(err)
	}
}

// TestSeasonBookReadsBack reads season.xlsx with the strict reader: its account balances in the numbers written, every sheet is
// told of on the first, and no text of the owner's is a formula.
func TestSeasonBookReadsBack(t *testing.T) {
	t.Parallel()
	b := demoYear(t)
	b.Boards[0].ID = "=1+1"
	data, err := newYearJob(b, About{Version: "test"}).seasonBook()
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(data, []byte("<f>")) {
		t.Error("a formula stands in the workbook")
	}
	book := readBack(t, data)
	for _, s := range book.Sheets[1:] {
		if yearSheetWords[s.Name] == "" {
			t.Errorf("the first sheet does not say what the sheet %s holds", s.Name)
		}
	}
	if got, want := len(book.Sheets)-1, len(yearSheetWords); got != want {
		t.Errorf("got %d sheets behind the first, want %d", got, want)
	}
	account, n := sheetNamed(t, book, "Account"), len(b.Lines)+len(b.Totals)
	for _, what := range []string{"Boards ", "Board feet "} {
		made, sold, used, left := headed(t, account, what+"made", n), headed(t, account, what+"sold", n), headed(t, account, what+"used", n), headed(t, account, what+"left", n)
		for i := range n {
			if d := made[i].Number - sold[i].Number - used[i].Number - left[i].Number; d > 1e-6 || d < -1e-6 || made[i].Kind != sheet.Number {
				t.Errorf("%srow %d: %v made, %v sold, %v used, %v left", what, i+2, made[i].Number, sold[i].Number, used[i].Number, left[i].Number)
			}
		}
	}
	if c := headed(t, sheetNamed(t, book, "Boards"), "Board", 1)[0]; c.Kind != sheet.Text || c.Text != "=1+1" {
		t.Errorf("a board's number came back as kind %d, %q", c.Kind, c.Text)
	}
}

func TestIDRuns(t *testing.T) {
	for _, tt := range []struct {
		ids  []string
		want string
	}{
		{nil, ""}, {[]string{"A1"}, "A1"}, {[]string{"A1", "A2"}, "A1, A2"}, {[]string{"A1", "A2", "A3"}, "A1-A3"},
		{[]string{"A08", "A09", "A10", "B11"}, "A08-A10, B11"}, {[]string{"8", "9", "10"}, "8-10"}, {[]string{"09", "010", "011"}, "09, 010, 011"},
		{[]string{"1", "3", "2"}, "1, 3, 2"}, {[]string{"x", "y", "z"}, "x, y, z"}, {[]string{"P099", "P100", "P101", "P103"}, "P099-P101, P103"},
	} {
		if got := strings.Join(runsOf(tt.ids, 3, "-", nextID), ", "); got != tt.want {
			t.Errorf("%v: got %q, want %q", tt.ids, got, tt.want)
		}
	}
}
