package delim

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"drytally/ingest/sheet"
)

// FuzzRead checks that the reader never panics, gives the same twice, keeps cells in order, and neither loses nor
// invents text: the letters of all cells, without quotation marks, are those of the file without quotation marks,
// separators, line ends and a first line sep=.
func FuzzRead(f *testing.F) {
	for _, text := range []string{"a,b\n1,2\n", "sep=;\r\na;\"b\r\nc\"\"\";9,5\r\n", "a\t11 3/8\"\r\r\"x\"\t\n", "\xFF\xFEa\x00;\x00b\x00", "Bj\xF8rk|1\n", "\"1 1/2\" oak\",x\n\n", "a,\",b\nc,\"d\",e\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		book, err := Read("week47.csv", data)
		again, errAgain := Read("week47.csv", data)
		if !reflect.DeepEqual(book, again) || (err == nil) != (errAgain == nil) || err != nil && err.Error() != errAgain.Error() {
			t.Fatalf("got two answers for the same bytes: %v and %v", err, errAgain)
		}
		if err != nil {
			var fault *sheet.FileError
			if !errors.As(err, &fault) || fault.Problem == "" {
				t.Fatalf("got error %v, which is no refusal", err)
			}
			return
		}
		var cells strings.Builder
		lastRow := 0
		for _, row := range book.Sheets[0].Rows {
			if row.Number <= lastRow || row.Len() == 0 {
				t.Errorf("got row %d of %d cells behind row %d", row.Number, row.Len(), lastRow)
			}
			lastRow = row.Number
			lastCol := 0
			for c := range row.Cells() {
				if c.Row != row.Number || c.Col <= lastCol || c.Text == "" || c.Kind != sheet.Text && c.Kind != sheet.Number {
					t.Errorf("got the cell %+v behind column %d of row %d", c, lastCol, row.Number)
				}
				lastCol = c.Col
				cells.WriteString(c.Text)
			}
		}
		text, err := letters("week47.csv", data)
		if err != nil {
			t.Fatal(err)
		}
		sep, text, err := separator("week47.csv", text)
		if err != nil {
			t.Fatal(err)
		}
		// Space behind a closing quotation mark is passed over, so space is left out on both sides.
		drop := strings.NewReplacer(`"`, "", string(sep), "", "\r", "", "\n", "", " ", "", "\t", "")
		if got, want := drop.Replace(cells.String()), drop.Replace(text); got != want {
			t.Errorf("got the letters %q, want %q, from %q", got, want, data)
		}
		checkCounts(t, text, sep)
	})
}

// checkCounts compares rows and fields with a plain count, where no quotation mark makes counting hard.
func checkCounts(t *testing.T, text string, sep byte) {
	t.Helper()
	if strings.Contains(text, `"`) {
		return
	}
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
	if lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	p := splitter{text: text, sep: sep}
	for i, line := range lines {
		if !p.nextRecord() {
			t.Fatalf("got %d records, want %d, from %q", i, len(lines), text)
		}
		for p.nextField() {
		}
		if want := strings.Count(line, string(sep)) + 1; p.col != want {
			t.Errorf("got %d fields in record %d, want %d, from %q", p.col, i+1, want, text)
		}
	}
	if p.nextRecord() {
		t.Errorf("got more than %d records from %q", len(lines), text)
	}
}
