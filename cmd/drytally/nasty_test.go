package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"drytally/ingest"
	"drytally/ingest/sheet"
	"drytally/testdata/tool"
)

// nastyTexts are what people paste, what programs leave behind, and what somebody who means harm would write. Marks in
// brackets become what a workbook can hold and the library that writes it would not: see writeNasty.
var nastyTexts = []string{
	"caf\u00e9 \u00c5se\u0301n \u1e9e x\u0302 \u2264 \u00bd",
	"trees \U0001F332\U0001F3FD \U0001F468\u200D\U0001F469\u200D\U0001F467",
	"\u05e9\u05dc\u05d5\u05dd 12 \u0645\u0631\u062d\u0628\u0627",
	"\u4e2d\u6587 \u0e01\u0e34\u0e19 \u0915\u094d\u0937 \U00020000",
	strings.Repeat("W", 2000),
	strings.Repeat("long words of a note ", 95),
	"bell[BEL] null[NUL] escape[ESC][31m end",
	"half[SUR] pair",
	"../../../etc/passwd",
	`..\..\C:\CON.txt`,
	"CON", "a/b:c*d?e\"f<g>h|i", ".hidden.", "-to", "~$lock",
	"zero\u200bwidth\u2060join\ufeffer\u00adsoft",
	"\u202eesrever\u202c \u2066iso\u2069",
	"Z\u0351\u036b\u0343\u036a\u0302\u036b\u033d\u034f\u0334a\u0310l\u0334g\u0328\u0321o\u0322\u0321",
	"=cmd|' /C calc'!A0", "=1+1", "@SUM(A1)", "+1+1", "=HYPERLINK(\"http://x.invalid\",\"y\")",
	"<b>&amp;]]>&#0;<!--", "{{.n}} {{template \"x\"}} %s %d %!",
	"line one\nline two\ttab\r\nline three", "  spaces   around  ", "\u00a0\u3000\u2003",
	"(paren) \\back\\ %%EOF endstream endobj",
	"\ue000\uf8ff\ufffd\ufdd0", "_x0041_ _x005F_", "'quoted", "N/A?", "12-11-10", "1,2;3", "A01-A99999",
}

// nastyMarks are written into the workbook's table of texts as that format writes what XML can't hold.
var nastyMarks = strings.NewReplacer("[NUL]", "_x0000_", "[BEL]", "_x0007_", "[ESC]", "_x001B_", "[SUR]", "_xD800_")

// writeNasty writes a workbook with a nasty text in every text field of every sheet: for each text a load with boards,
// readings, weights, air, cuts, wanted pieces and a sale that are all called by it.
func writeNasty(t *testing.T, path string) {
	t.Helper()
	f := excelize.NewFile()
	sheets := []struct {
		name string
		head []any
		rows func(i int, n string) [][]any
	}{
		{"Loads \U0001F332 & 'co' 1", []any{"Load", "Use", "Boards", "Species", "Courses", "Spots", "Limit", "Date in", "Date out", "Note"}, func(i int, n string) [][]any {
			use := any("flooring")
			if i%3 == 0 {
				use = n
			}
			return [][]any{{n, use, 4, "white oak", 2, 2, 9, "2026-09-01", "2026-10-01", n}}
		}},
		{"Boards", []any{"Board", "Load", "Thickness", "Width", "Length", "Course", "Spot", "Species", "Note", "\u202enasty \U0001F332"}, func(i int, n string) [][]any {
			var rows [][]any
			for k := range 4 {
				rows = append(rows, []any{fmt.Sprintf("%s %d", n, k+1), n, "1 1/16", "6 1/2", 8, 1 + k/2, 1 + k%2, "white oak", n, n})
			}
			return rows
		}},
		{"Readings", []any{"Board", "Load", "Reading", "Which meter", "Where", "Wood temperature", "Date", "Note"}, func(i int, n string) [][]any {
			var rows [][]any
			for k := range 4 {
				rows = append(rows, []any{fmt.Sprintf("%s %d", n, k+1), n, 7.5 + float64(k)/10, n, n, "68 F", "2026-10-02", n})
			}
			return rows
		}},
		{"Weights", []any{"Sample", "Load", "Date", "Weight", "Section wet", "Section ovendry", "Note"}, func(i int, n string) [][]any {
			return [][]any{{n, n, "2026-09-02", "4600 g", "52.3 g", "40.1 g", n}, {n, n, "2026-09-09", "4400 g", nil, nil, n}}
		}},
		{"Air", []any{"Date", "Dry bulb", "Relative humidity", "Where", "Load", "Running", "Note"}, func(i int, n string) [][]any {
			return [][]any{{"2026-09-05", "100 F", "45 %", n, n, n, n}}
		}},
		{"Cuts", []any{"Lot", "Species", "Green thickness", "Green width", "Length", "Pieces", "Load", "Date", "Note"}, func(i int, n string) [][]any {
			return [][]any{{n, "white oak", "1 1/8", 7, 8, 3, n, "2026-08-20", n}}
		}},
		{"Wanted", []any{"Piece", "Species", "Finished thickness", "Finished width", "Length", "Pieces", "Profile", "Use", "Note"}, func(i int, n string) [][]any {
			return [][]any{{n, "white oak", "3/4", 5, 4, 2, n, "flooring", n}, {n, n, "3/4", 5, 4, 2, n, n, n}}
		}},
		{"Sold", []any{"Sale", "Load", "Boards", "Pieces", "Buyer", "Use", "Date", "Note"}, func(i int, n string) [][]any {
			return [][]any{{n, n, n + " 1, " + n + " 2", nil, n, n, "2026-10-05", n}, {n + " by count", n, nil, 2, n, "flooring", "2026-10-06", n}}
		}},
	}
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	check(f.SetSheetName("Sheet1", "Settings"))
	row := 1
	put := func(name string, values []any) {
		for col, v := range values {
			if v == nil {
				continue
			}
			cell, err := excelize.CoordinatesToCellName(col+1, row)
			check(err)
			if s, ok := v.(string); ok {
				check(f.SetCellStr(name, cell, s))
			} else {
				check(f.SetCellValue(name, cell, v))
			}
		}
		row++
	}
	put("Settings", []any{"Setting", "Value"})
	for i, name := range []string{"mill name", "address", "contact", "meter name", "alias", "region", "kerf", "limit"} {
		put("Settings", []any{name, nastyTexts[(3*i+1)%len(nastyTexts)]})
	}
	for _, s := range sheets {
		_, err := f.NewSheet(s.name)
		check(err)
		row = 1
		put(s.name, []any{nastyTexts[6]}) // a title
		put(s.name, s.head)
		for i, n := range nastyTexts {
			for _, r := range s.rows(i, n) {
				put(s.name, r)
			}
		}
	}
	made, err := f.WriteToBuffer()
	check(err)
	in, err := zip.NewReader(bytes.NewReader(made.Bytes()), int64(made.Len()))
	check(err)
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	marked := 0
	for _, part := range in.File {
		r, err := part.Open()
		check(err)
		data, err := io.ReadAll(r)
		check(err)
		if strings.HasPrefix(part.Name, "xl/sharedStrings") || strings.HasPrefix(part.Name, "xl/worksheets") {
			marked += bytes.Count(data, []byte("[NUL]"))
			data = []byte(nastyMarks.Replace(string(data)))
		}
		w, err := z.Create(part.Name)
		check(err)
		_, err = w.Write(data)
		check(err)
	}
	check(z.Close())
	if marked == 0 {
		t.Fatal("no mark was found to replace")
	}
	check(os.WriteFile(path, out.Bytes(), 0o600))
}

// nastyRun writes the workbook and its papers and gives their folder.
func nastyRun(t *testing.T) (workbook, folder string) {
	t.Helper()
	dir := t.TempDir()
	workbook = filepath.Join(dir, "in", "week\u00e9 #1 100%.xlsx")
	if err := os.Mkdir(filepath.Dir(workbook), 0o755); err != nil {
		t.Fatal(err)
	}
	writeNasty(t, workbook)
	to := filepath.Join(dir, "out")
	var out, errOut bytes.Buffer
	if code := run([]string{"-to", to, workbook}, &out, &errOut); code != exitSetAside && code != exitWritten {
		t.Fatalf("exit %d: %s%s", code, &out, &errOut)
	}
	if m := regexp.MustCompile(`[\x00-\x08\x0b-\x1f\x7f]`).FindString(out.String() + errOut.String()); m != "" {
		t.Errorf("the control character %q reaches the screen", m)
	}
	var all []string
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			all = append(all, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	folder = filepath.Join(to, "week\u00e9 #1 100%-papers")
	for _, path := range all {
		if path != workbook && filepath.Dir(path) != folder {
			t.Errorf("%q was written outside the folder", path)
		}
	}
	return workbook, folder
}

func TestNastyTexts(t *testing.T) {
	workbook, folder := nastyRun(t)
	t.Run("are told and stay texts", func(t *testing.T) { nastyTold(t, folder) })
	t.Run("open in an office program", func(t *testing.T) { nastyOpens(t, folder) })
	t.Run("make sound papers", func(t *testing.T) { nastySound(t, workbook, folder) })
}

// nastySound: no paper is unsound, none has a word outside of its page, and all are verified.
func nastySound(t *testing.T, workbook, folder string) {
	if testing.Short() {
		t.Skip("not checked with -short: whether each of some hundred papers is sound and keeps its words on the page")
	}
	papers, err := filepath.Glob(filepath.Join(folder, "*.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	for _, p := range papers {
		kind, _, _ := strings.Cut(filepath.Base(p), "-")
		kinds[kind]++
	}
	t.Logf("papers: %v", kinds)
	for _, k := range []string{"load", "statement", "tags", "summary.pdf", "cut"} {
		if kinds[k] == 0 || k == "load" && kinds[k] < len(nastyTexts)/2 || k == "tags" && kinds[k] < 5 {
			t.Errorf("got %d papers of the kind %s", kinds[k], k)
		}
	}
	var out, errOut bytes.Buffer
	if code := run([]string{"verify", folder, workbook}, &out, &errOut); code != exitWritten {
		t.Errorf("verify gives %d: %s%s", code, &out, &errOut)
	}
	tool.Need(t, "whether the papers are sound and keep their words on the page", "qpdf", "pdftotext", "pdftoppm")
	for _, p := range papers {
		if said, err := exec.Command("qpdf", "--check", p).CombinedOutput(); err != nil {
			t.Errorf("%s: qpdf: %v: %s", filepath.Base(p), err, said)
		}
		if said, err := exec.Command("pdftoppm", "-r", "20", "-gray", p, filepath.Join(t.TempDir(), "page")).CombinedOutput(); err != nil || len(said) > 0 {
			t.Errorf("%s: pdftoppm: %v: %s", filepath.Base(p), err, said)
		}
		boxes, err := exec.Command("pdftotext", "-bbox", p, "-").Output()
		if err != nil {
			t.Errorf("%s: pdftotext: %v", filepath.Base(p), err)
		}
		if words := outsideOf(t, boxes); len(words) > 0 {
			t.Errorf("%s: outside of the page's printable box: %.500q", filepath.Base(p), words)
		}
	}
}

var (
	pageBox = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
	wordBox = regexp.MustCompile(`(?s)<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>`)
)

// outsideOf lists the words of pdftotext -bbox that leave the page's printable box, a sixth of an inch within its edges.
func outsideOf(t *testing.T, html []byte) []string {
	t.Helper()
	const edge = 72 / 6.0 // points: where common printers put no ink
	var out []string
	seen := 0
	for _, part := range bytes.Split(html, []byte("<page "))[1:] {
		m := pageBox.FindSubmatch(append([]byte("<page "), part...))
		if m == nil {
			t.Fatal("a page has no size")
		}
		w, h := number(t, m[1]), number(t, m[2])
		for _, b := range wordBox.FindAllSubmatch(part, -1) {
			seen++
			if number(t, b[1]) < edge-0.1 || number(t, b[2]) < edge-0.1 || number(t, b[3]) > w-edge+0.1 || number(t, b[4]) > h-edge+0.1 {
				out = append(out, string(b[0]))
			}
		}
	}
	if seen == 0 {
		t.Error("no word was found")
	}
	return out
}

func number(t *testing.T, s []byte) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(string(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// nastyTold: what can't be printed as it stands is told with its cell, and the workbook of results holds texts and no formula.
func nastyTold(t *testing.T, folder string) {
	data, err := os.ReadFile(filepath.Join(folder, "results.json"))
	if err != nil {
		t.Fatal(err)
	}
	var results struct {
		Findings []struct{ Code, Sheet, Cell, Stands string }
	}
	if err := json.Unmarshal(data, &results); err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{} // code and the first sign of the text
	for _, f := range results.Findings {
		if f.Code[0] == 'T' && f.Code >= "T061" && f.Code <= "T063" {
			if f.Cell == "" && !strings.HasPrefix(f.Sheet, "Loads") {
				t.Errorf("%+v has no cell", f)
			}
			told[f.Code+" "+f.Stands] = true
		}
	}
	for i, stands := range []string{nastyTexts[1], nastyTexts[2], nastyTexts[3], "bell\x07 null\x00 escape\x1b[31m end"} {
		if !told["T062 "+stands] {
			t.Errorf("text %d: no finding tells of a name that can't be shown", i)
		}
	}
	codes := map[string]int{}
	for k := range told {
		codes[k[:4]]++
	}
	if codes["T061"] == 0 || codes["T063"] == 0 {
		t.Errorf("got findings %v", codes)
	}
	file := filepath.Join(folder, "results.xlsx")
	if data, err = os.ReadFile(file); err != nil {
		t.Fatal(err)
	}
	book, err := ingest.Open("results.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	notes := map[string]bool{}
	for _, s := range book.Sheets {
		for _, r := range s.Rows {
			for c := range r.Cells() {
				if c.Formula || c.Kind == sheet.ErrorValue {
					t.Errorf("%s!%d,%d holds a formula: %q", s.Name, c.Row, c.Col, c.Text)
				}
				notes[c.Text] = true
			}
		}
	}
	for _, want := range []string{"=1+1", "=cmd|' /C calc'!A0", "@SUM(A1)", "+1+1", nastyTexts[1], nastyTexts[4], "../../../etc/passwd", "bell␇ null␀ escape␛[31m end"} {
		if !notes[want] {
			t.Errorf("results.xlsx does not hold %.60q as a text", want)
		}
	}
}

// nastyOpens: an office program opens the workbook of results.
func nastyOpens(t *testing.T, folder string) {
	if testing.Short() {
		t.Skip("not checked with -short: whether an office program opens the results of such a week")
	}
	tool.Need(t, "whether an office program opens the results of such a week", "soffice")
	dir := t.TempDir()
	tool.Convert(t, "csv", dir, filepath.Join(folder, "results.xlsx"))
	if made, err := os.ReadFile(filepath.Join(dir, "results.csv")); err != nil || !bytes.Contains(made, []byte("Rows used")) {
		t.Errorf("results.xlsx does not open (%v)", err)
	}
}
