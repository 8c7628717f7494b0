package xlsx

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"drytally/ingest/sheet"
)

// checkSound checks what holds of every workbook that was read, whatever was in the file.
func checkSound(t *testing.T, book *sheet.Workbook) {
	t.Helper()
	if len(book.Sheets) > sheet.MaxSheets {
		t.Errorf("got %d sheets", len(book.Sheets))
	}
	for _, page := range book.Sheets {
		lastRow := 0
		for _, row := range page.Rows {
			if row.Number <= lastRow || row.Number > sheet.LastRow {
				t.Errorf("got row %d behind row %d", row.Number, lastRow)
			}
			lastRow = row.Number
			if row.Len() == 0 && !row.Hidden {
				t.Errorf("got row %d with no cells, not hidden", row.Number)
			}
			lastCol := 0
			for c := range row.Cells() {
				if c.Row != row.Number || c.Col <= lastCol || c.Col > sheet.LastCol {
					t.Errorf("got the cell %s behind column %d in row %d", cellName(c.Row, c.Col), lastCol, row.Number)
				}
				lastCol = c.Col
				blank := c.Kind == sheet.Blank
				if blank != (c.Text == "") || blank && !c.Formula && c.Comment() == "" || c.NoResult && !(blank && c.Formula) {
					t.Errorf("got a cell that contradicts itself: %+v", c)
				}
				if c.Kind == sheet.Number && (c.Number != c.Number || c.Number-c.Number != 0) {
					t.Errorf("got the number %v in %s", c.Number, cellName(c.Row, c.Col))
				}
			}
		}
		for _, m := range page.Merges {
			if m.FirstRow < 1 || m.FirstCol < 1 || m.LastRow < m.FirstRow || m.LastCol < m.FirstCol || m.LastRow > sheet.LastRow || m.LastCol > sheet.LastCol {
				t.Errorf("got the merged block %+v", m)
			}
		}
	}
}

// readTwice reads a file twice and checks that both runs agree.
func readTwice(t *testing.T, data []byte) (*sheet.Workbook, bool) {
	t.Helper()
	book, err := Read("week47.xlsx", data)
	again, errAgain := Read("week47.xlsx", data)
	if (err == nil) != (errAgain == nil) || err != nil && err.Error() != errAgain.Error() || !reflect.DeepEqual(book, again) {
		t.Fatalf("got two answers for the same bytes: %v and %v", err, errAgain)
	}
	if err != nil {
		var fault *sheet.FileError
		if !errors.As(err, &fault) || fault.Problem == "" {
			t.Fatalf("got error %v, which is no refusal", err)
		}
		return nil, false
	}
	checkSound(t, book)
	return book, true
}

// FuzzRead changes the bytes of the packed file.
func FuzzRead(f *testing.F) {
	f.Add(plain(`<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="3"><v>11.375</v></c></row>`).pack(f))
	f.Add(twoSheets(f))
	f.Fuzz(func(t *testing.T, data []byte) { readTwice(t, data) })
}

// FuzzSheet changes the unpacked parts, behind the checksum that stops nearly all of FuzzRead. When the table of cells
// is read, every cell with a plain value in the part's text must be found in the sheet.
func FuzzSheet(f *testing.F) {
	base := plain("")
	f.Add(`<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="3"><f>1+1</f><v>11.375</v></c></row>`, base["xl/sharedStrings.xml"], base["xl/styles.xml"])
	f.Add(`<row><c t="inlineStr"><is><r><t xml:space="preserve"> a_x000A_</t></r></is></c><c t="b"><v>1</v></c><c t="d"><v>2024-03-05</v></c><c t="e"><v>#N/A</v></c></row><row r="9" hidden="1"/>`, base["xl/sharedStrings.xml"], base["xl/styles.xml"])
	f.Add(`</sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells><sheetData>`, base["xl/sharedStrings.xml"], base["xl/styles.xml"])
	f.Fuzz(func(t *testing.T, rows, texts, styles string) {
		p := plain(rows).with(parts{"xl/sharedStrings.xml": texts + " ", "xl/styles.xml": styles + " "})
		book, ok := readTwice(t, p.pack(t))
		if !ok || strings.Contains(rows, "<!") || strings.Contains(rows, "<?") || strings.Contains(rows, "extLst") || strings.Contains(rows, "sheetData") {
			return
		}
		read := 0
		for _, row := range book.Sheets[0].Rows {
			for c := range row.Cells() {
				if c.Kind == sheet.Number {
					read++
				}
			}
		}
		if stored := strings.Count(rows, "<c><v>7</v></c>"); read < stored {
			t.Errorf("got %d numbers, want at least the %d that stand in %q", read, stored, rows)
		}
	})
}
