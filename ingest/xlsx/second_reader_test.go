package xlsx

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"drytally/ingest/sheet"
)

// oddText gives texts with what spreadsheet cells really hold and what breaks readers.
var oddText = rapid.OneOf(
	rapid.StringMatching(`[ -~]{0,12}`),
	rapid.SampledFrom([]string{"11 3/8\"", " ends ", "two\nlines", "tab\there", "<&>'\"", "_x0041_", "_x005F_", "_x", "_x00zz_", "Bjørk – ½", "\u00a0", "木材", "\U0001F332", "=1+1", "#N/A", "1,234", "5/4", "]]>", "TRUE"}),
	rapid.StringN(0, 10, -1).Filter(printable),
)

// printable keeps to letters XML can hold; what a writer makes of others is not our matter.
func printable(s string) bool {
	for _, r := range s {
		if r < 0x20 && r != '\n' && r != '\t' || r == 0xFFFD || r == 0xFFFE || r == 0xFFFF || r >= 0xD800 && r < 0xE000 {
			return false
		}
	}
	return true
}

var oddNumber = rapid.OneOf(
	rapid.Float64Range(-1e6, 1e6),
	rapid.Map(rapid.IntRange(-100000, 100000), func(n int) float64 { return float64(n) / 64 }),
	rapid.SampledFrom([]float64{0, 46146, 11.375, 0.075, 1e-300, math.MaxFloat64, 0.1 + 0.2}),
)

type put struct {
	row, col int
	value    any
	style    int
}

// TestSecondReader writes random sheets with another library and reads them both with ours and with that library's
// unformatted reading: every cell must be the same, and none may be missing in either.
func TestSecondReader(t *testing.T) {
	t.Parallel()
	codes := []string{"0.00%", "m/d/yyyy", "# ??/16", "[h]:mm", "0.000", "@", `[$-409]d\-mmm;@`}
	want := []sheet.Format{sheet.Percent, sheet.Date, sheet.Fraction, sheet.Clock, sheet.Decimal, sheet.AsText, sheet.Date}
	rapid.Check(t, func(rt *rapid.T) {
		f := excelize.NewFile()
		defer f.Close()
		styles := make([]int, len(codes))
		for i := range codes {
			id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &codes[i]})
			if err != nil {
				rt.Fatal(err)
			}
			styles[i] = id
		}
		names := []string{"Sheet1"}
		for i := range rapid.IntRange(0, 2).Draw(rt, "more sheets") {
			names = append(names, fmt.Sprintf("Page %d & more", i))
			if _, err := f.NewSheet(names[i+1]); err != nil {
				rt.Fatal(err)
			}
		}
		placed := map[string]map[[2]int]put{}
		for _, name := range names {
			placed[name] = map[[2]int]put{}
			for range rapid.IntRange(0, 25).Draw(rt, "cells") {
				p := put{row: rapid.IntRange(1, 60).Draw(rt, "row"), col: rapid.IntRange(1, 40).Draw(rt, "col"), style: rapid.IntRange(-1, len(codes)-1).Draw(rt, "style")}
				p.value = rapid.OneOf(rapid.Map(oddText, func(s string) any { return s }), rapid.Map(oddNumber, func(v float64) any { return v }),
					rapid.Map(rapid.Bool(), func(b bool) any { return b })).Draw(rt, "value")
				ref := cellName(p.row, p.col)
				if err := f.SetCellValue(name, ref, p.value); err != nil {
					rt.Fatal(err)
				}
				style := 0
				if p.style >= 0 {
					style = styles[p.style]
				}
				if err := f.SetCellStyle(name, ref, ref, style); err != nil {
					rt.Fatal(err)
				}
				placed[name][[2]int{p.row, p.col}] = p
			}
		}
		var w bytes.Buffer
		if err := f.Write(&w); err != nil {
			rt.Fatal(err)
		}
		ours, err := Read("made.xlsx", w.Bytes())
		if err != nil {
			rt.Fatalf("got error %v for a sound workbook", err)
		}
		theirs, err := excelize.OpenReader(bytes.NewReader(w.Bytes()))
		if err != nil {
			rt.Fatal(err)
		}
		defer theirs.Close()
		if len(ours.Sheets) != len(names) {
			rt.Fatalf("got %d sheets, want %d", len(ours.Sheets), len(names))
		}
		for i, name := range names {
			got := &ours.Sheets[i]
			if got.Name != name {
				rt.Errorf("got sheet %q, want %q", got.Name, name)
			}
			sameCells(rt, got, theirs)
			for place, p := range placed[name] {
				c := got.Cell(place[0], place[1])
				checkPut(rt, c, p)
				if p.style >= 0 && c.Kind != sheet.Blank && (c.Format != want[p.style] || c.FormatCode() != codes[p.style]) {
					rt.Errorf("got format %d %q for %s, want %d %q", c.Format, c.FormatCode(), cellName(c.Row, c.Col), want[p.style], codes[p.style])
				}
			}
		}
	})
}

// sameCells compares a sheet with the second reader's, both ways.
func sameCells(rt *rapid.T, got *sheet.Sheet, theirs *excelize.File) {
	rows, err := theirs.GetRows(got.Name, excelize.Options{RawCellValue: true})
	if err != nil {
		rt.Fatal(err)
	}
	filled := 0
	for r, row := range rows {
		for c, text := range row {
			cell := got.Cell(r+1, c+1)
			own := cell.Text
			if cell.Kind == sheet.Bool {
				own = map[string]string{"TRUE": "1", "FALSE": "0"}[own]
			}
			if own != text {
				rt.Errorf("got %q in %s of %q, the second reader %q", own, cellName(r+1, c+1), got.Name, text)
			}
			if text != "" {
				filled++
			}
		}
	}
	own := 0
	for _, row := range got.Rows {
		own += row.Len()
	}
	if own != filled {
		rt.Errorf("got %d cells in %q, the second reader %d", own, got.Name, filled)
	}
}

// checkPut compares a cell with what was written into it.
func checkPut(rt *rapid.T, c sheet.Cell, p put) {
	ok := false
	switch v := p.value.(type) {
	case string:
		// The writer stores a text that looks like an escape without escaping it, so that it means the letter.
		v = string(unescape([]byte(v)))
		ok = v == "" && c.Kind == sheet.Blank || c.Kind == sheet.Text && c.Text == v
	case float64:
		stored, err := strconv.ParseFloat(c.Text, 64)
		// The writer cuts a number after 15 digits: off by less than one unit of the last, 1e-14 of it.
		ok = c.Kind == sheet.Number && err == nil && c.Number == stored && math.Abs(stored-v) <= 1e-14*math.Abs(v)
	case bool:
		ok = c.Kind == sheet.Bool && (c.Text == "TRUE") == v
	}
	if !ok {
		rt.Errorf("got %+v for %#v in %s", c, p.value, cellName(p.row, p.col))
	}
}
