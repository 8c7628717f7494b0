package ingest_test

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// workbookFrom makes an xlsx from a plain description, so that a faulty workbook can be read in its file: a line
// "sheet NAME", then lines "CELL kind value". Kinds: text, number, formula (value is the stored result, empty for never
// calculated), percent, date (a day number), fraction, error, bool. "merge A1:C1", "hide-row 4", "hide-col C", "hide-sheet"
// and "note A1 text" are what they say.
func workbookFrom(t *testing.T, name string, text []byte) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	current, sheets := "", 0
	check := func(err error, line string) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %q: %v", name, line, err)
		}
	}
	styles := map[string]int{}
	for kind, number := range map[string]int{"percent": 10, "date": 14, "fraction": 13} {
		id, err := f.NewStyle(&excelize.Style{NumFmt: number})
		check(err, kind)
		styles[kind] = id
	}
	for _, line := range strings.Split(string(text), "\n") {
		if line = strings.TrimRight(line, "\r"); strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		word, rest, _ := strings.Cut(line, " ")
		switch word {
		case "sheet":
			current = rest
			if sheets++; sheets == 1 {
				check(f.SetSheetName("Sheet1", current), line)
			} else {
				_, err := f.NewSheet(current)
				check(err, line)
			}
			continue
		case "merge":
			from, to, _ := strings.Cut(rest, ":")
			check(f.MergeCell(current, from, to), line)
			continue
		case "hide-row":
			n, err := strconv.Atoi(rest)
			check(err, line)
			check(f.SetRowVisible(current, n, false), line)
			continue
		case "hide-col":
			check(f.SetColVisible(current, rest, false), line)
			continue
		case "hide-sheet":
			check(f.SetSheetVisible(current, false), line)
			continue
		}
		kind, value, _ := strings.Cut(rest, " ")
		switch kind {
		case "text":
			check(f.SetCellStr(current, word, strings.ReplaceAll(value, `\n`, "\n")), line)
		case "number", "percent", "date", "fraction":
			x, err := strconv.ParseFloat(value, 64)
			check(err, line)
			check(f.SetCellValue(current, word, x), line)
			if id, ok := styles[kind]; ok {
				check(f.SetCellStyle(current, word, word, id), line)
			}
		case "formula":
			if value != "" {
				x, err := strconv.ParseFloat(value, 64)
				check(err, line)
				check(f.SetCellValue(current, word, x), line)
			}
			check(f.SetCellFormula(current, word, "1*1"), line)
		case "bool":
			check(f.SetCellBool(current, word, value == "true"), line)
		default:
			t.Fatalf("%s: %q: no cell kind %q", name, line, kind)
		}
	}
	var b bytes.Buffer
	if _, err := f.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
