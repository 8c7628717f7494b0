package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/report/page"
)

// tagsRecorded draws the tag sheets of a sale and keeps where everything stands.
func tagsRecorded(t *testing.T, j *job, s *compute.SaleResult) (*page.Doc, *tagSheet) {
	t.Helper()
	d, sheet := j.newTagSheet(s, true)
	sheet.draw(d, j.tagsOf(s))
	j.tagRemarks(d, sheet, s)
	if _, err := d.Bytes(); err != nil {
		t.Fatalf("tags of sale %q: %v", s.ID, err)
	}
	if j.failed != nil {
		t.Fatalf("wording: %v", j.failed)
	}
	return d, sheet
}

// nastySheetTexts are ids and names no sheet should hold and some do.
var nastySheetTexts = []string{"", " ", strings.Repeat("W", 2000), strings.Repeat("1/2 ", 300), "emoji \U0001F332", "\u05E9\u05DC\u05D5\u05DD", "nul\x00\x1b[31m",
	"line\nbreak", "bad \xff utf8", "(paren) \\back", strings.Repeat("word ", 300), "A/3:*?", "\u212B\u00E7gjp"}

// nastySheets is the example with such texts everywhere, and boards nothing is known of.
func nastySheets() *compute.Result {
	r := exampleResult()
	for i := range r.Boards {
		b := &r.Boards[i]
		text := nastySheetTexts[i%len(nastySheetTexts)]
		b.Board.ID, b.Board.Load, b.Board.Note = text, text, text
		if i%2 == 0 {
			b.Species.Name = text
		}
		if i%3 == 0 {
			b.Least, b.Board.Width, b.Board.Length, b.Footage = 0, 0, 0, compute.Footage{}
			b.MC.Date = time.Time{}
		}
		b.Makes = []string{text, text}
	}
	r.Loads[0].Load.ID, r.Loads[1].Load.ID = nastySheetTexts[3], nastySheetTexts[2]
	r.Loads[1].Load.Note = nastySheetTexts[10]
	r.Job.Settings.MillName, r.Job.Settings.MillAddress = nastySheetTexts[10], nastySheetTexts[2]
	r.Sales[0].ID, r.Sales[0].Missing = nastySheetTexts[2], nastySheetTexts
	r.Sales[0].Boards = nil
	for i := range r.Boards {
		r.Sales[0].Boards = append(r.Sales[0].Boards, i)
	}
	for i := range r.Job.Wanted {
		w := &r.Job.Wanted[i]
		w.Piece, w.Profile, w.Use, w.Note = nastySheetTexts[(i+2)%len(nastySheetTexts)], nastySheetTexts[4], nastySheetTexts[2], nastySheetTexts[i]
	}
	for i := range r.Job.Cuts {
		r.Job.Cuts[i].ID, r.Job.Cuts[i].Note = nastySheetTexts[2], nastySheetTexts[5]
	}
	for _, text := range nastySheetTexts {
		r.Findings = append(r.Findings, finding.Finding{Code: "J013", Severity: finding.Error, Stands: text, Problem: text, Hint: text,
			Place: finding.Place{File: text, Sheet: text, Row: 1 << 20, Col: 1 << 14}})
		r.Accounts = append(r.Accounts, compute.Account{File: text, Sheet: text, Rows: []compute.RowFate{{Row: 1, Fate: compute.SetAside, Why: text}}})
	}
	return r
}

// largeSale is a sale of n boards.
func largeSale(n int) *compute.Result {
	r := exampleResult()
	r.Boards = exampleBoards("K14", n, exampleOak())
	r.Loads[0].Boards = nil
	r.Sales[0].Boards = nil
	for i := range r.Boards {
		r.Loads[0].Boards = append(r.Loads[0].Boards, i)
		r.Sales[0].Boards = append(r.Sales[0].Boards, i)
	}
	return r
}

func TestTagsStayInTheirBoxes(t *testing.T) {
	sizes := []struct {
		name          string
		width, height units.Length
		code          bool // large enough for a code
	}{
		{"usual", 4 * units.Inch, 2 * units.Inch, true},
		{"large", 6 * units.Inch, 4 * units.Inch, true},
		{"small", inch(5, 2), units.Inch, false},
		{"tiny", inch(1, 2), inch(1, 4), false},
		{"tall", 2 * units.Inch, 5 * units.Inch, true},
		{"wider than the paper", 40 * units.Inch, 2 * units.Inch, false},
		{"not given", 0, 0, true},
	}
	results := []struct {
		name string
		make func() *compute.Result
	}{{"example", exampleResult}, {"nasty", nastySheets}}
	for _, size := range sizes {
		for _, res := range results {
			for _, paper := range []compute.Paper{compute.Letter, compute.A4} {
				t.Run(fmt.Sprintf("%s, %s, paper %d", size.name, res.name, paper), func(t *testing.T) {
					r := res.make()
					r.Job.Settings.TagWidth, r.Job.Settings.TagHeight, r.Job.Settings.Paper = size.width, size.height, paper
					j := exampleJob(r)
					s := &r.Sales[0]
					d, sheet := tagsRecorded(t, j, s)
					w, h := d.Size()
					for _, x := range page.Outside(d.Drawn(), page.Rect{W: w, H: h}) {
						t.Errorf("%s %q at %v leaves its box %v", x.What, x.Text, x.Box, x.Clip)
					}
					if res.name == "example" && (sheet.codeless == 0) != size.code {
						t.Errorf("codes left out on %d of %d tags, want code: %v", sheet.codeless, sheet.drawn, size.code)
					}
					if sheet.codeless > 0 && !strings.Contains(drawnText(d, 0), "that a phone can read") {
						t.Error("codes are left out and the last sheet does not say so")
					}
				})
			}
		}
	}
}

// drawnText joins all text of a page as drawn; of all pages for page 0.
func drawnText(d *page.Doc, n int) string {
	var words []string
	for _, x := range d.Drawn() {
		if x.What == page.DrewText && (n == 0 || x.Page == n) {
			words = append(words, x.Text)
		}
	}
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}

func TestTagCodeHoldsTheTagsText(t *testing.T) {
	r := exampleResult()
	j := exampleJob(r)
	s := &r.Sales[0]
	d, sheet := tagsRecorded(t, j, s)
	for i := range s.Boards {
		cell := sheet.cell(i)
		var words []string
		code := ""
		for _, x := range d.Drawn() {
			if x.Page != 1 || !cell.Holds(x.Box) {
				continue
			}
			switch x.What {
			case page.DrewText:
				words = append(words, x.Text)
			case page.DrewCode:
				code = x.Text
			}
		}
		got := strings.Join(strings.Fields(strings.Join(words, " ")), " ")
		for _, caution := range sheet.cautions { // they are drawn first and are not in the code
			got = strings.TrimSpace(strings.Replace(got, caution, "", 1))
		}
		if want := strings.Join(strings.Fields(code), " "); got != want || code == "" {
			t.Errorf("tag %d reads %q, its code %q", i, got, want)
		}
	}
}

func TestTagFreeStripAndLargeNumber(t *testing.T) {
	r := exampleResult()
	r.Boards[0].Board.ID = "A17"
	j := exampleJob(r)
	d, sheet := tagsRecorded(t, j, &r.Sales[0])
	const strip = 6 // millimetres below a tag's upper edge that must stay white: a hole of 5 and its edge
	for i := range r.Sales[0].Boards {
		cell := sheet.cell(i)
		top := page.Rect{X: cell.X + cutMark, Y: cell.Y, W: cell.W - 2*cutMark, H: strip}
		for _, x := range d.Drawn() {
			// The box of a text has room for accents; what capitals ink begins lower.
			y := x.Box.Y
			if x.What == page.DrewText {
				y = x.Box.Bottom() - x.Size*(capShare+descShare)
			}
			if x.Page == 1 && cell.Holds(x.Box) && y < top.Bottom() && x.Box.W > 2*cutMark {
				t.Errorf("tag %d: %s %q reaches into the strip kept free", i, x.What, x.Text)
			}
		}
	}
	for _, x := range d.Drawn() {
		if x.Text == "A17" {
			if h := x.Size * capShare; h < 12 { // a number is to be read from 3 m
				t.Errorf("capitals of the number are %.1f mm high, want 12 at least", h)
			}
			return
		}
	}
	t.Error("board A17 has no tag")
}

func TestTagMoisture(t *testing.T) {
	load := &compute.LoadResult{Load: &compute.Load{ID: "K14"}, N: 36, Measured: 31, FirstReading: day(16), LastReading: day(17),
		Mean: units.Estimate{Value: units.Percent(7.9), Known: true}}
	wet := *load
	wet.Verdict = compute.NotDryYet
	tests := []struct {
		name string
		mc   compute.BoardMC
		load *compute.LoadResult
		want string
	}{
		{"number", compute.BoardMC{State: units.Number, MC: 820, Low: 820, High: 820, Date: day(17)}, load, "read 8.2 % on 17 October 2026"},
		{"open", compute.BoardMC{State: units.Number, MC: 820, Low: 760, High: 890, Date: day(17)}, load,
			"read 8.2 % on 17 October 2026 (7.6 to 8.9 %: wood temperature or species setting not known)"},
		{"rough", compute.BoardMC{State: units.Number, MC: 820, Low: 820, High: 820, Date: day(17), Rough: true}, load, "read about 8.2 % on 17 October 2026"},
		{"below", compute.BoardMC{State: units.BelowRange, MC: 600, Date: day(17)}, load, "read below the meter's lowest mark of 6.0 % on 17 October 2026"},
		{"above", compute.BoardMC{State: units.AboveRange, MC: 3000}, load, "read above the meter's highest mark of 30.0 % on no date"},
		{"not measured", compute.BoardMC{}, load, "not measured; load K14 read 7.9 % on average (31 of 36 boards measured), 16 to 17 October 2026"},
		{"not measured, wet load", compute.BoardMC{}, &wet, "not measured; load K14 read 7.9 % on average (31 of 36 boards measured), 16 to 17 October 2026; not dry yet"},
		{"nothing", compute.BoardMC{}, nil, "not measured"},
	}
	for _, test := range tests {
		j := exampleJob(exampleResult())
		if got := j.tagMC(&compute.BoardResult{Board: &compute.Board{}, MC: test.mc}, test.load); got != test.want || j.failed != nil {
			t.Errorf("%s: got %q (%v), want %q", test.name, got, j.failed, test.want)
		}
	}
}

func TestTagOverItsLimitSaysSo(t *testing.T) {
	r := exampleResult()
	r.Boards[8].Over = true
	got := exampleJob(r).tagOf(&r.Boards[8], &r.Loads[0])
	if want := "over the limit of its use (flooring, 8.9 %)"; got.over != want || !strings.Contains(got.code(), want) {
		t.Errorf("got %q in %q, want %q", got.over, got.code(), want)
	}
	r.Boards[8].Over = false
	if got := exampleJob(r).tagOf(&r.Boards[8], &r.Loads[0]); strings.Contains(got.code(), "dry") || got.over != "" {
		t.Errorf("a tag claims dryness: %q", got.code())
	}
}

func TestTagsOfAThousandBoards(t *testing.T) {
	r := largeSale(1000)
	began := time.Now()
	first, err := exampleJob(r).tags(&r.Sales[0])
	took := time.Since(began)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("1000 tags: %v, %d kB", took.Round(time.Millisecond), len(first)/1000)
	if limit := 30 * time.Second; took > limit { // far above what it takes, so that a busy machine passes
		t.Errorf("1000 tags took %v, want less than %v", took, limit)
	}
	second, err := exampleJob(r).tags(&r.Sales[0])
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("two runs differ (%v)", err)
	}
}
