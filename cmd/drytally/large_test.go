package main

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/xuri/excelize/v2"
)

// largeBook makes a workbook of boards in loads of 500, each board read so many times, as a year or ten of a mill would fill it.
func largeBook(t testing.TB, boards, readings int) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fail := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	sheet := func(name string, rows int, head []any, row func(i int) []any) {
		_, err := f.NewSheet(name)
		fail(err)
		w, err := f.NewStreamWriter(name)
		fail(err)
		fail(w.SetRow("A1", head))
		for i := range rows {
			fail(w.SetRow(fmt.Sprintf("A%d", i+2), row(i)))
		}
		fail(w.Flush())
	}
	const inLoad = 500
	fail(f.SetSheetName("Sheet1", "Settings"))
	fail(f.SetSheetRow("Settings", "A1", &[]any{"Setting", "Value"}))
	fail(f.SetSheetRow("Settings", "A2", &[]any{"Mill name", "Ninefinger Brook Mill"}))
	fail(f.SetSheetRow("Settings", "A3", &[]any{"Meter kind", "resistance"}))
	board := func(i int) string { return fmt.Sprintf("B%05d", i) }
	load := func(i int) string { return fmt.Sprintf("K%03d", i/inLoad) }
	sheet("Loads", (boards+inLoad-1)/inLoad, []any{"Load", "Species", "Used for", "Date in", "Date out", "Courses", "Spots"}, func(i int) []any {
		return []any{load(i * inLoad), "white ash", "interior flooring", "2026-09-01", "2026-10-20", 50, 10}
	})
	sheet("Dry sizes", boards, []any{"Board", "Load", "Thickness (in)", "Width (in)", "Length (ft)", "Course", "Spot"}, func(i int) []any {
		return []any{board(i), load(i), 1 + float64(i%7)/64, 4 + float64(i%40)/16, 8, i%inLoad/10 + 1, i%10 + 1}
	})
	sheet("Readings", boards*readings, []any{"Board", "Meter (%)", "Wood temp (F)", "Date"}, func(i int) []any {
		return []any{board(i / readings), 6 + float64((i*7919)%25)/10, 68 + i%5, "2026-10-21"}
	})
	var out bytes.Buffer
	fail(f.Write(&out))
	return out.Bytes()
}
