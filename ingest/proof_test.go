package ingest_test

import (
	"archive/zip"
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/xuri/excelize/v2"

	"drytally/ingest"
	"drytally/ingest/sheet"
)

// soundWorkbooks gives every workbook of the demo weeks and of the fault files, by name.
func soundWorkbooks(t *testing.T) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	weeks, err := filepath.Glob("../testdata/weeks/*.xlsx")
	if err != nil || len(weeks) == 0 {
		t.Fatalf("no demo workbooks: %v", err)
	}
	for _, path := range weeks {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(path)] = data
	}
	files, err := filepath.Glob(faults + "/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		archive, err := txtar.ParseFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files {
			if strings.HasSuffix(f.Name, ".xlsx") {
				all[filepath.Base(path)+" "+f.Name] = workbookFrom(t, f.Name, f.Data)
			}
		}
	}
	return all
}

// TestSecondReader: every sound workbook gives the same cells read by drytally and by excelize, raw.
func TestSecondReader(t *testing.T) {
	cells := 0
	for name, data := range soundWorkbooks(t) {
		ours, err := ingest.Open(name, data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		theirs, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i := range ours.Sheets {
			s := &ours.Sheets[i]
			got := map[string]string{}
			for _, r := range s.Rows {
				for c := range r.Cells() {
					if c.Kind == sheet.Blank || c.Text == "" {
						continue
					}
					at, err := excelize.CoordinatesToCellName(c.Col, c.Row)
					if err != nil {
						t.Fatal(err)
					}
					got[at] = plainNumber(c.Text)
				}
			}
			want := map[string]string{}
			rows, err := theirs.GetRows(s.Name, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatalf("%s %s: %v", name, s.Name, err)
			}
			for r, row := range rows {
				for c, text := range row {
					if text == "" {
						continue
					}
					at, err := excelize.CoordinatesToCellName(c+1, r+1)
					if err != nil {
						t.Fatal(err)
					}
					want[at] = plainNumber(text)
				}
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s %s (-excelize +drytally):\n%s", name, s.Name, d)
			}
			cells += len(got)
		}
		theirs.Close()
	}
	if cells < 3000 {
		t.Fatalf("only %d cells were compared", cells)
	}
	t.Logf("%d cells compared", cells)
}

// plainNumber writes a number one way: 0.50 and .5 are one. Truth values are written 1 and TRUE by the two readers.
func plainNumber(s string) string {
	if x, err := strconv.ParseFloat(s, 64); err == nil {
		return strconv.FormatFloat(x, 'g', 15, 64)
	}
	switch s {
	case "TRUE":
		return "1"
	case "FALSE":
		return "0"
	}
	return s
}

// TestBitFlips: every single flipped bit in a used part of a demo workbook is refused, or provably changes no cell.
func TestBitFlips(t *testing.T) {
	data, err := os.ReadFile("../testdata/weeks/two-loads.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	sound, err := ingest.Open("two-loads.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var places []int64 // of every byte of the parts that hold cells, strings, styles and the list of sheets
	for _, f := range z.File {
		if !strings.HasPrefix(f.Name, "xl/worksheets/sheet") && f.Name != "xl/sharedStrings.xml" && f.Name != "xl/styles.xml" && f.Name != "xl/workbook.xml" {
			continue
		}
		from, err := f.DataOffset()
		if err != nil {
			t.Fatal(err)
		}
		for i := range int64(f.CompressedSize64) {
			places = append(places, from+i)
		}
	}
	flips := 320
	if testing.Short() {
		flips = 40
	}
	random := rand.New(rand.NewPCG(1, 2))
	refused := 0
	for range flips {
		at, bit := places[random.IntN(len(places))], random.IntN(8)
		flipped := bytes.Clone(data)
		flipped[at] ^= 1 << bit
		book, err := ingest.Open("two-loads.xlsx", flipped)
		if err != nil {
			refused++
			continue
		}
		book.SHA256 = sound.SHA256
		if d := cmp.Diff(sound, book, cellsOfRows); d != "" {
			t.Errorf("bit %d of byte %d changed cells without an error:\n%s", bit, at, d)
		}
	}
	t.Logf("%d of %d flips refused, the others changed no cell", refused, flips)
}

// cellsOfRows compares rows by what they hold.
var cellsOfRows = cmp.Transformer("row", func(r sheet.Row) any {
	return struct {
		Number int
		Hidden bool
		Cells  []sheet.Cell
	}{r.Number, r.Hidden, slices.Collect(r.Cells())}
})
