package report

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/ingest/sheet"
	"drytally/ingest/xlsx"
	"drytally/testdata/tool"
)

func workbookOf(t *testing.T, r *compute.Result) []byte {
	t.Helper()
	j := exampleJob(r)
	data, err := j.resultsWorkbook()
	if err == nil {
		err = j.failed
	}
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// readBack reads a workbook with the strict reader, which is not the library that wrote it.
func readBack(t *testing.T, data []byte) *sheet.Workbook {
	t.Helper()
	book, err := xlsx.Read("results.xlsx", data)
	if err != nil {
		t.Fatalf("the strict reader refuses the workbook: %v", err)
	}
	return book
}

func sheetNamed(t *testing.T, book *sheet.Workbook, name string) *sheet.Sheet {
	t.Helper()
	for i := range book.Sheets {
		if book.Sheets[i].Name == name {
			return &book.Sheets[i]
		}
	}
	t.Fatalf("there is no sheet %q", name)
	return nil
}

// headed gives the cells below a heading, n of them.
func headed(t *testing.T, s *sheet.Sheet, heading string, n int) []sheet.Cell {
	t.Helper()
	for c := range s.Rows[0].Cells() {
		if c.Text == heading {
			var cells []sheet.Cell
			for row := 2; row < n+2; row++ {
				cells = append(cells, s.Cell(row, c.Col))
			}
			return cells
		}
	}
	t.Fatalf("sheet %s has no heading %q", s.Name, heading)
	return nil
}

func sameNumber(t *testing.T, c sheet.Cell, want float64, format sheet.Format, what string) {
	t.Helper()
	if c.Kind != sheet.Number || c.Number != want || c.Format != format {
		t.Errorf("%s: got kind %d, number %v, format %d (text %q), want number %v, format %d", what, c.Kind, c.Number, c.Format, c.Text, want, format)
	}
}

func blank(t *testing.T, c sheet.Cell, what string) {
	t.Helper()
	if c.Kind != sheet.Blank {
		t.Errorf("%s: got %q, want an empty cell", what, c.Text)
	}
}

func TestWorkbookReadsBackToTheNumbers(t *testing.T) {
	for r, want := range map[*compute.Result]string{
		fullResult():   "Summary, Loads, Witnesses, Boards, Readings, Sizes, Cuts, Planing, Sales, Weights, Air, Findings, Rows, Settings, Sources, Cautions",
		filledResult(): "Summary, Loads, Witnesses, Boards, Readings, Strata, Meters, Meter pairs, Sizes, Cuts, Shrinkage, One setting, Saw spread, Planing, Fit, Fit cuts, Leftovers, Fit wood, Sales, Kiln courses, Kiln rows, Money, Storage, Climate, Weights, Air, Core temperatures, Probe log, Findings, Rows, Settings, Sources, Cautions",
	} {
		var names []string
		for _, s := range readBack(t, workbookOf(t, r)).Sheets {
			names = append(names, s.Name)
			if s.Name != "Summary" && sheetWords[s.Name] == "" {
				t.Errorf("the summary does not say what the sheet %s holds", s.Name)
			}
		}
		if got := strings.Join(names, ", "); got != want {
			t.Errorf("sheets: got %s, want %s", got, want)
		}
	}
	r := fullResult()
	book := readBack(t, workbookOf(t, r))

	boards := sheetNamed(t, book, "Boards")
	n := len(r.Boards)
	mc, least := headed(t, boards, "MC, highest corrected reading (%)", n), headed(t, sheetNamed(t, book, "Planing"), "Least thickness (in)", n)
	fraction := headed(t, sheetNamed(t, book, "Planing"), "Least thickness (fraction)", n)
	feet, on := headed(t, boards, "Net footage, dry (board feet)", n), headed(t, boards, "Read on", n)
	for i, b := range r.Boards {
		what := "board " + b.Board.ID
		sameNumber(t, least[i], b.Least.Inches(), sheet.Decimal, what+" least thickness")
		if got := fraction[i].Text; got != b.Least.Trade() || fraction[i].Kind != sheet.Text {
			t.Errorf("%s: got fraction %q, want %q as text", what, got, b.Least.Trade())
		}
		sameNumber(t, feet[i], float64(b.Footage.Hundredths)/100, sheet.Decimal, what+" footage")
		if b.MC.State == units.NotTaken {
			blank(t, mc[i], what+" MC")
			blank(t, on[i], what+" read on")
			continue
		}
		sameNumber(t, mc[i], b.MC.MC.Percent(), sheet.Decimal, what+" MC")
		days := b.MC.Date.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24
		sameNumber(t, on[i], days, sheet.Date, what+" read on")
	}

	loads := sheetNamed(t, book, "Loads")
	means := headed(t, loads, "Mean MC (%)", 2)
	sameNumber(t, means[0], 7.9, sheet.Decimal, "mean of K14")
	blank(t, means[1], "mean of K15")
	blank(t, headed(t, loads, "Boards that may be over, 95 % bound", 2)[1], "bound of K15, which was not measured")
	sameNumber(t, headed(t, loads, "Days to go, about", 2)[1], 9, sheet.General, "days of K15")
	blank(t, headed(t, loads, "Days to go, about", 2)[0], "days of K14")
	sizes := sheetNamed(t, book, "Sizes")
	share, set := headed(t, sizes, "Expected to clean up", 4), headed(t, sizes, "Set the saw, width (in)", 4)
	sameNumber(t, share[0], 0.96, sheet.Percent, "share that cleans up")
	blank(t, share[3], "share of a piece without a setting")
	sameNumber(t, set[1], 11, sheet.Decimal, "saw width of the shelf")
	readings := sheetNamed(t, book, "Readings")
	sameNumber(t, headed(t, readings, "Wood temperature (F)", 3)[0], 68, sheet.Decimal, "wood temperature")
	// 46311 is 16 October 2026; a cell holds 15 digits, which is a hundredth of a millisecond here.
	hour := headed(t, readings, "Read on", 3)[1]
	if want := 46311 + 15.5/24; hour.Format != sheet.DateTime || math.Abs(hour.Number-want) > 1e-9 {
		t.Errorf("a reading with its hour: got %v, format %d, want %v as date and time", hour.Number, hour.Format, want)
	}
	if got := headed(t, readings, "Row was", 3)[2].Text; got != "set aside" {
		t.Errorf("row of the third reading: got %q, want set aside", got)
	}
	air := headed(t, sheetNamed(t, book, "Witnesses"), "To (%)", 2)
	blank(t, air[1], "upper end of the air witness")
	total := 0
	for _, a := range r.Accounts {
		total += a.Rows.Len()
	}
	if got := len(sheetNamed(t, book, "Rows").Rows) - 1; got != total {
		t.Errorf("rows accounted for: got %d, want %d", got, total)
	}
}

// Both readers find the same text and the same numbers in every cell.
func TestWorkbookReadsAlikeInBothReaders(t *testing.T) {
	data := workbookOf(t, filledResult())
	strict := readBack(t, data)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for i := range strict.Sheets {
		s := &strict.Sheets[i]
		for _, row := range s.Rows {
			for c := range row.Cells() {
				if c.Formula {
					t.Errorf("%s!%s holds a formula", s.Name, cellName(c.Col, c.Row))
				}
				if c.Kind == sheet.Blank {
					continue
				}
				got, err := f.GetCellValue(s.Name, cellName(c.Col, c.Row), excelize.Options{RawCellValue: true})
				if err != nil || got != c.Text {
					t.Errorf("%s!%s: one reader says %q, the other %q (%v)", s.Name, cellName(c.Col, c.Row), c.Text, got, err)
				}
			}
		}
	}
}

func TestWorkbookMetricHasMillimetres(t *testing.T) {
	r := filledResult()
	r.Job.Settings.System = units.Metric
	book := readBack(t, workbookOf(t, r))
	sameNumber(t, headed(t, sheetNamed(t, book, "Boards"), "Green thickness (mm)", 1)[0], 27, sheet.Decimal, "green thickness")
	sameNumber(t, headed(t, sheetNamed(t, book, "Core temperatures"), "At or above (C)", 1)[0], 56, sheet.Decimal, "temperature of a probe")
	for _, s := range book.Sheets[1:] {
		for c := range s.Rows[0].Cells() {
			if strings.Contains(c.Text, "(in)") || strings.Contains(c.Text, "fraction") || strings.Contains(c.Text, "(F)") {
				t.Errorf("a metric workbook has the heading %q on the sheet %s", c.Text, s.Name)
			}
		}
	}
}

func TestWorkbookSameBytes(t *testing.T) {
	first := workbookOf(t, filledResult())
	for range 3 {
		if !bytes.Equal(first, workbookOf(t, filledResult())) {
			t.Fatal("two runs gave different bytes")
		}
	}
}

func TestWorkbookOfNothing(t *testing.T) {
	book := readBack(t, workbookOf(t, &compute.Result{Job: &compute.Job{Name: "empty", Settings: compute.Defaults()}}))
	if len(book.Sheets) != 1 || book.Sheets[0].Name != "Summary" {
		t.Errorf("got %d sheets, want the summary alone", len(book.Sheets))
	}
}

// hostileTexts are texts an owner's sheet can hold that must come out as text and nothing else.
var hostileTexts = []string{
	"=1+1", "=HYPERLINK(\"http://x.invalid\",\"click\")", "+1", "-1", "@SUM(A1:A9)", "=cmd|' /C x'!A0", "\t=1+1", "\n=1", "'=1", "007", "5/4", "1e5", "TRUE",
	" leading and trailing ", "two\nlines", "a\r\nb", "<b>&amp;</b> ]]>", "_x0041_", "quote \" and 'tick'", "日本 é 🪵", "#REF!", "&P", "{=1}",
}

func TestNastyTextStaysText(t *testing.T) {
	r := filledResult()
	for i, s := range hostileTexts {
		r.Boards[i].Board.Note = s
		r.Boards[i].Board.ID = s
	}
	nasty := "=1+1\x00<b>"
	r.Job.Unread[0].Board, r.Job.Core[0].Probe, r.Job.Climate[0].Note, r.Heat[0].Probe = nasty, nasty, nasty, nasty
	r.Meters[0].Meter, r.Meters[0].Pairs[0].Board, r.Loads[0].Stores[0].Where, r.Loads[0].SlowMissing = nasty, nasty, nasty, nasty
	r.House[0].LeftOut, r.Fit.Plan.Leftovers[0].Name, r.Fit.Plan.Boards[0].Board.ID, r.Job.Wanted[1].Piece = []string{nasty}, nasty, nasty, nasty
	r.Job.Name, r.Job.Files[0].Name = "=1+1 & <week>", "it's 100% #1 week.xlsx"
	r.Findings[2].Place.File, r.Findings[2].Place.Sheet = "it's 100% #1 week.xlsx", "Ann's = sheet"
	data := workbookOf(t, r)
	boards := sheetNamed(t, readBack(t, data), "Boards")
	notes, ids := headed(t, boards, "Note", len(hostileTexts)), headed(t, boards, "Board", len(hostileTexts))
	for i, s := range hostileTexts {
		want := strings.ReplaceAll(s, "\r\n", "\n")
		for _, c := range []sheet.Cell{notes[i], ids[i]} {
			if c.Kind != sheet.Text || c.Text != want || c.Formula || c.Format != sheet.AsText {
				t.Errorf("%q: got kind %d, text %q, formula %v, format %d, want plain text", s, c.Kind, c.Text, c.Formula, c.Format)
			}
		}
	}
	for _, at := range [][2]string{{"Probe log", "Probe"}, {"Core temperatures", "Probe"}, {"Climate", "Note"}, {"Meters", "Meter"}, {"Meter pairs", "Board"}, {"Storage", "Kept in"},
		{"Loads", "Slow places with too few measured boards"}, {"Shrinkage", "Left out as slips"}, {"Leftovers", "Name"}, {"Fit cuts", "Board"}, {"Fit cuts", "Piece or name of the leftover"}} {
		if c := headed(t, sheetNamed(t, readBack(t, data), at[0]), at[1], 1)[0]; c.Kind != sheet.Text || c.Text != "=1+1␀<b>" || c.Formula {
			t.Errorf("%s, %s: got kind %d, text %q, formula %v, want plain text", at[0], at[1], c.Kind, c.Text, c.Formula)
		}
	}
	// No part of the file may hold a formula, and what begins like one carries the mark of quoted text.
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range z.File {
		if content := partOf(t, part); strings.Contains(content, "<f>") || strings.Contains(content, "<f ") {
			t.Errorf("%s holds a formula", part.Name)
		}
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for row, want := range map[int]bool{2: true, 3: true, 4: true, 5: true, 6: true, 11: false} {
		id, err := f.GetCellStyle("Boards", cellName(1, row))
		if err != nil {
			t.Fatal(err)
		}
		mark := f.Styles.CellXfs.Xf[id].QuotePrefix
		if got := mark != nil && *mark; got != want {
			t.Errorf("%q: quoted is %v, want %v", hostileTexts[row-2], got, want)
		}
	}
}

func partOf(t *testing.T, part *zip.File) string {
	t.Helper()
	r, err := part.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	content, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(content)
}

func TestBookText(t *testing.T) {
	long := strings.Repeat("a", 40_000)
	for in, want := range map[string]string{
		"plain": "plain", "a\x00b\x1b[31m": "a␀b␛[31m", "tab\tand\nline": "tab\tand\nline", "a\rb": "a␍b", "\x7f": "␡", "\u0085": "\ufffd",
		"\ufffe\uffff": "\ufffd\ufffd", "\xff": "\ufffd", "": "",
	} {
		if got := bookText(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
	for _, in := range []string{long, strings.Repeat("🪵", 20_000)} { // a log takes two UTF-16 units
		got := bookText(in)
		units := 0
		for _, r := range got {
			units++
			if r > 0xFFFF {
				units++
			}
		}
		if units > mostInCell || !strings.HasSuffix(got, "has all of it)") {
			t.Errorf("a text of %d bytes came out %d units long, ending in %q", len(in), units, got[len(got)-20:])
		}
	}
	if exact := strings.Repeat("a", mostInCell); bookText(exact) != exact {
		t.Error("a text that just fits was cut")
	}
}

// The office program that most owners can have for nothing opens the workbook and prints it.
func TestWorkbookOpensInAnOfficeProgram(t *testing.T) {
	if testing.Short() {
		t.Skip("not checked with -short: whether an office program opens results.xlsx")
	}
	tool.Need(t, "whether an office program opens results.xlsx", "soffice")
	dir := t.TempDir()
	r := filledResult()
	for i, s := range hostileTexts {
		r.Boards[i].Board.Note = s
	}
	r.Boards[0].MC.Date = day(16).Add(10 * time.Hour)
	file := filepath.Join(dir, "results.xlsx")
	if err := os.WriteFile(file, workbookOf(t, r), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, to := range []string{"pdf", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,4"} { // 4: the fourth sheet, Boards
		tool.Convert(t, to, dir, file)
	}
	pdf, err := os.ReadFile(filepath.Join(dir, "results.pdf"))
	if err != nil || !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		t.Fatalf("no PDF came out (%v)", err)
	}
	made, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil || len(made) != 1 {
		t.Fatalf("got %d CSV files (%v), want 1", len(made), err)
	}
	csv, err := os.ReadFile(made[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"=1+1", "@SUM(A1:A9)", "K14-36", "2026-10-16 10:00:00"} {
		if !bytes.Contains(csv, []byte(want)) {
			t.Errorf("the office program does not show %q on the sheet Boards", want)
		}
	}
	if m := regexp.MustCompile(`#(NAME|VALUE|REF)\?`).Find(csv); m != nil {
		t.Errorf("the office program calculated something: %s", m)
	}
}

func ExampleLength_decimals() {
	fmt.Println(jsInches(units.Fraction(11, 64)), jsInches(units.Millimetres(19)), jsDecimal(int64(units.Fraction(3, 4)), 6))
	// Output: 0.171875 0.748031496 19.05
}
