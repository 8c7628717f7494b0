package bind

import (
	"slices"
	"strconv"
	"testing"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// rowsOf makes a sheet of rows of texts; an empty text is a blank cell, digits a number.
func rowsOf(name string, rows ...[]string) sheet.Sheet {
	s := sheet.Sheet{Name: name}
	for i, texts := range rows {
		var cells []sheet.Cell
		for k, text := range texts {
			c := sheet.Cell{Row: i + 1, Col: k + 1, Kind: sheet.Text, Text: text}
			if v, err := strconv.ParseFloat(text, 64); err == nil {
				c.Kind, c.Number = sheet.Number, v
			}
			if text != "" {
				cells = append(cells, c)
			}
		}
		s.Rows = append(s.Rows, sheet.NewRow(i+1, false, cells...))
	}
	return s
}

// TestLargeTable reads a table of many rows: every row is accounted for, and a figure under no heading and a sign the papers
// can't show are found in its midst too.
func TestLargeTable(t *testing.T) {
	t.Parallel()
	const n, odd, bad, sign = 3 * manyRows, manyRows + 100, manyRows + 200, manyRows + 300
	rows := [][]string{{"Board", "Meter (%)", "Notes"}}
	for i := range n {
		row := []string{"B" + strconv.Itoa(i), strconv.Itoa(6 + i%5), ""}
		switch i + 2 {
		case odd:
			row = append(row, "", "17")
		case bad:
			row[1] = "wet"
		case sign:
			row[2] = "by the 🌲"
		}
		rows = append(rows, row)
	}
	book := &sheet.Workbook{Name: "week47.xlsx", Sheets: []sheet.Sheet{rowsOf("Readings", rows...)}}
	job := Bind("week47", []*sheet.Workbook{book})
	if len(job.Readings) != n-1 || job.Readings[odd-2].Origin.Row != odd || job.Readings[odd-2].Board != "B"+strconv.Itoa(odd-2) {
		t.Errorf("got %d readings, want %d in the order of their rows", len(job.Readings), n-1)
	}
	a := job.Accounts[0]
	if a.Count(compute.Used) != n-1 || a.Count(compute.SetAside) != 1 || a.Rows.Len() != n+1 {
		t.Errorf("got %d rows used and %d set aside of %d, want %d, 1 and %d", a.Count(compute.Used), a.Count(compute.SetAside), a.Rows.Len(), n-1, n+1)
	}
	if !slices.ContainsFunc(job.Findings, func(f finding.Finding) bool { return f.Code == "T045" && f.Place.Row == odd && f.Place.Col == 5 }) {
		t.Errorf("got no finding of the figure in E%d, which stands under no heading", odd)
	}
	if !slices.ContainsFunc(job.Findings, func(f finding.Finding) bool { return f.Code == "T061" && f.Place.Row == sign && f.Place.Col == 3 }) {
		t.Errorf("got no finding of the sign in C%d that the papers can't show", sign)
	}
}

// TestColumnsOfARow checks that the rows of a table, which share where their fields stand, keep apart where they differ: one
// row gives its size in one cell, the next has a cell for each.
func TestColumnsOfARow(t *testing.T) {
	t.Parallel()
	book := &sheet.Workbook{Name: "week47.xlsx", Sheets: []sheet.Sheet{rowsOf("Cuts",
		[]string{"Species", "Size", "Thickness (in)", "Width (in)", "Length (ft)", "Pcs"},
		[]string{"white ash", "1 x 6 x 8'", "", "", "", "4"},
		[]string{"white ash", "", "1", "6", "8", "5"},
		[]string{"white ash", "1 x 7 x 8'", "", "", "", "6"})}}
	job := Bind("week47", []*sheet.Workbook{book})
	if len(job.Cuts) != 3 {
		t.Fatalf("got %d cuts, want 3: %v", len(job.Cuts), job.Findings)
	}
	for i, want := range []int{2, 4, 2} {
		if got := job.Cuts[i].Origin.At("green width").Col; got != want {
			t.Errorf("cut %d: got its width from column %d, want %d", i+1, got, want)
		}
	}
}
