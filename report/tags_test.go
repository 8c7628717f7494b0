package report

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/report/page"
	"drytally/report/write"
	"drytally/testdata/tool"
)

// tagsRecorded draws the tag sheets of a sale and keeps where everything stands.
func tagsRecorded(t *testing.T, j *job, s *compute.SaleResult) (*page.Doc, *tagSheet) {
	t.Helper()
	d, sheet := j.newTagSheet(tagPart{s, 1, 1}, true)
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
		r.Accounts = append(r.Accounts, compute.Account{File: text, Sheet: text, Rows: compute.FatesOf(compute.RowFate{Row: 1, Fate: compute.SetAside, Why: text})})
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

// TestTagRemarksStayOnTheSheet: what is said for all tags gets no page of its own, also below a full sheet.
func TestTagRemarksStayOnTheSheet(t *testing.T) {
	r := largeSale(10)
	for i := range r.Boards { // numbers that can't be read from 3 m: a second remark
		r.Boards[i].Board.ID = fmt.Sprintf("a board with a long number %d", i)
	}
	data, err := exampleJob(r).tags(tagParts(&r.Sales[0])[0])
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(data, []byte("/Type /Page\n")); n != 1 {
		t.Errorf("10 tags take %d pages, want 1", n)
	}
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
		{"number", compute.BoardMC{State: units.Number, MC: 820, Low: 820, High: 820, Date: day(17)}, load, "moisture read 8.2 % on 17 October 2026"},
		{"open", compute.BoardMC{State: units.Number, MC: 820, Low: 760, High: 890, Date: day(17)}, load,
			"moisture read 8.2 % on 17 October 2026 (7.6 to 8.9 %, as the wood's temperature and the meter's species setting are not known)"},
		{"open by the species", compute.BoardMC{State: units.Number, MC: 820, Low: 760, High: 890, Date: day(17), Wood: units.Celsius(18)}, load,
			"moisture read 8.2 % on 17 October 2026 (7.6 to 8.9 %, as the meter's species setting is not known)"},
		{"rough", compute.BoardMC{State: units.Number, MC: 820, Low: 820, High: 820, Date: day(17), Rough: true}, load, "moisture read about 8.2 % on 17 October 2026"},
		{"below", compute.BoardMC{State: units.BelowRange, MC: 600, Mark: 600, Date: day(17), Reading: units.Reading{State: units.BelowRange}}, load,
			"moisture read under 6.0 % on 17 October 2026 (LO)"},
		{"below a corrected mark", compute.BoardMC{State: units.BelowRange, MC: 730, Mark: 700, Date: day(17), Reading: units.Reading{State: units.BelowRange, MC: 700}}, load,
			"moisture read under 7.3 % on 17 October 2026 (<7.0: the meter's mark of 7.0 %, corrected)"},
		{"above", compute.BoardMC{State: units.AboveRange, MC: 3000, Mark: 3000, Reading: units.Reading{State: units.AboveRange}}, load, "moisture read over 30.0 % on no date (OL)"},
		{"not measured", compute.BoardMC{}, load, "moisture not measured; load K14 read 7.9 % on average (31 of 36 boards measured), 16 to 17 October 2026"},
		{"not measured, wet load", compute.BoardMC{}, &wet, "moisture not measured; load K14 read 7.9 % on average (31 of 36 boards measured), 16 to 17 October 2026; not dry yet"},
		{"nothing", compute.BoardMC{}, nil, "moisture not measured"},
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
	first, err := exampleJob(r).tags(tagPart{&r.Sales[0], 1, 1})
	took := time.Since(began)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("1000 tags: %v, %d kB", took.Round(time.Millisecond), len(first)/1000)
	if limit := 30 * time.Second; took > limit { // far above what it takes, so that a busy machine passes
		t.Errorf("1000 tags took %v, want less than %v", took, limit)
	}
	second, err := exampleJob(r).tags(tagPart{&r.Sales[0], 1, 1})
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("two runs differ (%v)", err)
	}
}

// What a tag prints stays off its edges and corners, where holes, staples, knives and weather are: only the cutting marks go there.
func TestTagStaysOffItsEdges(t *testing.T) {
	r := exampleResult()
	r.Boards[1].Board.ID = strings.Repeat("long ", 12)
	const edge, corner = 3.0, 9.0 // millimetres; no text or code reaches into a square of corner at the upper corners
	for _, paper := range []compute.Paper{compute.Letter, compute.A4} {
		r.Job.Settings.Paper = paper
		d, sheet := tagsRecorded(t, exampleJob(r), &r.Sales[0])
		seen := 0
		for i := range r.Sales[0].Boards {
			cell := sheet.cell(i)
			clear := page.Rect{X: cell.X + edge, Y: cell.Y, W: cell.W - 2*edge, H: cell.H - edge}
			for _, x := range d.Drawn() {
				if x.Page != 1 || x.What == page.DrewShape || !cell.Holds(x.Box) {
					continue
				}
				seen++
				ink := x.Box
				if x.What == page.DrewText { // its box has room for accents
					ink.Y = x.Box.Bottom() - x.Size*(capShare+descShare)
				}
				if !clear.Holds(ink) || ink.Y < cell.Y+corner-0.01 {
					t.Errorf("paper %d, tag %d: %s %q at %v comes nearer than %g mm to an edge of %v", paper, i, x.What, x.Text, ink, edge, cell)
				}
			}
		}
		if seen < 5*len(r.Sales[0].Boards) {
			t.Errorf("only %d things were looked at", seen)
		}
	}
}

// A number too small to be read from 3 m is said to be.
func TestTagSaysWhenItsNumberIsSmall(t *testing.T) {
	const remark = "can't be read from 3 m"
	for _, c := range []struct {
		name          string
		id            string
		width, height units.Length
		want          bool
	}{{"usual", "A17", 4 * units.Inch, 2 * units.Inch, false}, {"long number", "K14-2026-0117-B-left-upper", 4 * units.Inch, 2 * units.Inch, true},
		{"small tag", "A17", inch(5, 2), units.Inch, true}} {
		r := exampleResult()
		r.Sales[0].Boards = r.Sales[0].Boards[:1]
		r.Boards[0].Board.ID = c.id
		r.Job.Settings.TagWidth, r.Job.Settings.TagHeight = c.width, c.height
		d, _ := tagsRecorded(t, exampleJob(r), &r.Sales[0])
		tall := 0.0
		for _, x := range d.Drawn() {
			if x.Text == c.id {
				tall = x.Size * capShare
			}
		}
		if tall == 0 || (tall < 3000.0/360) != c.want || strings.Contains(drawnText(d, 0), remark) != c.want {
			t.Errorf("%s: number %.1f mm high, remark wanted %v, said %q", c.name, tall, c.want, drawnText(d, 0))
		}
	}
}

// Many boards go into several files, each board into one of them.
func TestTagsOfManyBoardsArePartedIntoFiles(t *testing.T) {
	r := largeSale(mostTags + 1)
	r.Sales[0].Missing = []string{"K14-9999"}
	parts := tagParts(&r.Sales[0])
	if len(parts) != 2 || len(parts[0].Boards) != mostTags || len(parts[1].Boards) != 1 || parts[0].Missing != nil || len(parts[1].Missing) != 1 {
		t.Fatalf("got %d parts", len(parts))
	}
	if a, b := parts[0].name(), parts[1].name(); a != "S7, part 1 of 2" || b != "S7, part 2 of 2" || parts[0].fileID() == parts[1].fileID() {
		t.Errorf("got the names %q and %q", a, b)
	}
	var names write.Namer
	if got := names.Name("tags-", parts[1].fileID(), ".pdf"); got != "tags-S7-part-2.pdf" {
		t.Errorf("the file is called %q", got)
	}
	if one := tagParts(&exampleResult().Sales[0]); len(one) != 1 || one[0].name() != "S7" || one[0].fileID() != "S7" {
		t.Errorf("a small sale gives %d parts", len(one))
	}
}

// A phone's way: the sheet as it is printed, read by a program that knows nothing of how it was made.
func TestTagCodesAreReadFromThePaper(t *testing.T) {
	tool.Need(t, "whether the codes on the tags can be read", "pdftoppm", "zbarimg")
	r := exampleResult()
	r.Boards[0].Board.ID = "Å-1"
	j := exampleJob(r)
	part := tagParts(&r.Sales[0])[0]
	data, err := j.tags(part)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	pdf := filepath.Join(dir, "tags.pdf")
	if err := os.WriteFile(pdf, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command("pdftoppm", "-r", "300", "-gray", "-png", pdf, filepath.Join(dir, "sheet")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	sheets, err := filepath.Glob(filepath.Join(dir, "sheet*.png"))
	if err != nil || len(sheets) == 0 {
		t.Fatalf("no sheet was drawn (%v)", err)
	}
	read, err := exec.Command("zbarimg", append([]string{"-q", "--raw"}, sheets...)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, tag := range j.tagsOf(part.SaleResult) {
		if !strings.Contains(string(read), tag.code()) {
			t.Errorf("the code of tag %q was not read as %q", tag.number, tag.code())
		}
	}
}
