package xlsx

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/xuri/excelize/v2"
)

// season is a workbook of 20 000 rows of ten cells, texts and numbers as a year's boards have them.
func season(b testing.TB) []byte {
	b.Helper()
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		b.Fatal(err)
	}
	for r := 1; r <= 20000; r++ {
		row := make([]any, 10)
		for c := range row {
			if c%3 == 0 {
				row[c] = fmt.Sprintf("red oak %d", r%50)
			} else {
				row[c] = float64(r*c) / 16
			}
		}
		if err := w.SetRow(fmt.Sprintf("A%d", r), row); err != nil {
			b.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		b.Fatal(err)
	}
	return out.Bytes()
}

const seasonCells = 200000

func BenchmarkRead(b *testing.B) {
	data := season(b)
	b.ReportAllocs()
	for b.Loop() {
		book, err := Read("season.xlsx", data)
		if err != nil {
			b.Fatal(err)
		}
		n := 0
		for _, row := range book.Sheets[0].Rows {
			n += row.Len()
		}
		if n != seasonCells {
			b.Fatalf("got %d cells, want %d", n, seasonCells)
		}
	}
}

// BenchmarkSecondReader reads the same file with the other library's row iterator, unformatted.
func BenchmarkSecondReader(b *testing.B) {
	data := season(b)
	b.ReportAllocs()
	for b.Loop() {
		f, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			b.Fatal(err)
		}
		rows, err := f.Rows("Sheet1")
		if err != nil {
			b.Fatal(err)
		}
		n := 0
		for rows.Next() {
			cells, err := rows.Columns(excelize.Options{RawCellValue: true})
			if err != nil {
				b.Fatal(err)
			}
			n += len(cells)
		}
		if err := f.Close(); err != nil {
			b.Fatal(err)
		}
		if n != seasonCells {
			b.Fatalf("got %d cells, want %d", n, seasonCells)
		}
	}
}
