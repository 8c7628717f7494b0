package ingest_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"

	"drytally/compute"
	"drytally/ingest"
	"drytally/ingest/bind"
	"drytally/ingest/sheet"
)

// accounted holds a result against the sheets it came from: every row with content has exactly one fate, every record comes
// from a row that was used or that a check set aside afterwards, and every used row gave something.
func accounted(books []*sheet.Workbook, r *compute.Result) error {
	type row struct {
		file, sheet string
		row         int
	}
	fates := map[row]compute.RowFate{}
	accounts := 0
	for _, book := range books {
		for _, s := range book.Sheets {
			var content []int
			for _, r := range s.Rows {
				if r.Has(func(c sheet.Cell) bool { return c.Kind != sheet.Blank && strings.TrimSpace(c.Text) != "" || c.NoResult }) {
					content = append(content, r.Number)
				}
			}
			found := 0
			for _, a := range r.Accounts {
				if a.File != book.Name || a.Sheet != s.Name {
					continue
				}
				found++
				var rows []int
				for f := range a.Rows.All() {
					rows = append(rows, f.Row)
					name := s.Name
					if book.CSV {
						name = ""
					}
					fates[row{book.Name, name, f.Row}] = f
				}
				if !slices.Equal(rows, content) {
					return fmt.Errorf("%s %s: rows accounted for %v, rows with content %v", book.Name, s.Name, rows, content)
				}
				if sum := a.Count(compute.Used) + a.Count(compute.SetAside) + a.Count(compute.NotData); sum != len(content) {
					return fmt.Errorf("%s %s: used + set aside + not data = %d of %d rows", book.Name, s.Name, sum, len(content))
				}
			}
			if found != 1 {
				return fmt.Errorf("%s %s: %d accounts", book.Name, s.Name, found)
			}
			accounts++
		}
	}
	if accounts != len(r.Accounts) {
		return fmt.Errorf("%d accounts of %d sheets", len(r.Accounts), accounts)
	}
	gave := map[row]bool{}
	for _, x := range r.Job.Sales {
		if slices.ContainsFunc(x.Boards, func(id string) bool { return strings.ContainsRune(id, 0) }) {
			return fmt.Errorf("sale %q names %q", x.ID, x.Boards)
		}
	}
	for _, o := range origins(r.Job) {
		p := o.At("")
		at := row{p.File, p.Sheet, p.Row}
		f, ok := fates[at]
		if unclaimed := f.Why == "numbers outside any table" || f.Why == "no table recognized"; !ok || unclaimed || f.Fate == compute.NotData {
			return fmt.Errorf("a record comes from %v, whose fate is %q, %q", at, f.Fate, f.Why)
		}
		gave[at] = true
	}
	for at, f := range fates {
		// Settings and loads written as names and values take several rows for one thing.
		if f.Fate == compute.Used && !gave[at] && f.Kind != compute.KindSettings && f.Kind != compute.KindLoads {
			return fmt.Errorf("%v counts as used, but nothing was made of it", at)
		}
		if f.Fate == compute.SetAside && f.Why == "" {
			return fmt.Errorf("%v is set aside and does not say why", at)
		}
	}
	return nil
}

// origins gives the rows that the records of a job, of whatever kind, were read from. A row that could not be read gave none.
func origins(j *compute.Job) []compute.Origin {
	var out []compute.Origin
	for field, records := range reflect.ValueOf(*j).Fields() {
		if field.Name == "Unread" || records.Kind() != reflect.Slice || records.Type().Elem().Kind() != reflect.Struct {
			continue
		}
		if f, ok := records.Type().Elem().FieldByName("Origin"); ok {
			for i := range records.Len() {
				out = append(out, records.Index(i).FieldByIndex(f.Index).Interface().(compute.Origin))
			}
		}
	}
	return out
}

// lessonBooks opens the sheets of every fault file and of every demo week.
func lessonBooks(t *testing.T) map[string][]*sheet.Workbook {
	t.Helper()
	all := map[string][]*sheet.Workbook{}
	open := func(set, name string, data []byte) {
		book, err := ingest.Open(name, data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all[set] = append(all[set], book)
	}
	files, err := filepath.Glob(faults + "/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("got %d fault files, %v", len(files), err)
	}
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files {
			switch {
			case f.Name == "understood":
			case strings.HasSuffix(f.Name, ".xlsx"):
				open(filepath.Base(file), f.Name, workbookFrom(t, f.Name, f.Data))
			default:
				open(filepath.Base(file), f.Name, f.Data)
			}
		}
	}
	weeks := 0
	err = filepath.WalkDir("../testdata/weeks", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".xlsx" && filepath.Ext(path) != ".csv" || strings.Contains(path, "-papers") {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		set := path
		if filepath.Ext(path) == ".csv" {
			set = filepath.Dir(path)
		}
		weeks++
		open(set, filepath.Base(path), data)
		return nil
	})
	if err != nil || weeks < 3 {
		t.Fatalf("got %d files of demo weeks, %v", weeks, err)
	}
	return all
}

func TestRowsAreConserved(t *testing.T) {
	for name, books := range lessonBooks(t) {
		if err := accounted(books, compute.Assess(bind.Bind("week", books))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestRowsAreConservedInAnySheet: whatever stands in a sheet, every row with content has a fate and nothing panics. The
// sheets are made of rows of the lessons and weeks, whole blocks of them, and cells at random, in any order and any column.
func TestRowsAreConservedInAnySheet(t *testing.T) {
	var real []*sheet.Sheet
	names := []string{"Sheet1", "Load K3", "Mill", "Notes"}
	books := lessonBooks(t)
	for _, set := range sortedNames(books) {
		for _, book := range books[set] {
			for i := range book.Sheets {
				real = append(real, &book.Sheets[i])
				names = append(names, book.Sheets[i].Name)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		var books []*sheet.Workbook
		for n := range rapid.IntRange(1, 2).Draw(t, "books") {
			books = append(books, anyBook(t, n, real, names))
		}
		r := compute.Assess(bind.Bind("any", books))
		if err := accounted(books, r); err != nil {
			t.Fatal(err)
		}
	})
}

func sortedNames(books map[string][]*sheet.Workbook) []string {
	var names []string
	for n := range books {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

func anyBook(t *rapid.T, n int, real []*sheet.Sheet, names []string) *sheet.Workbook {
	book := &sheet.Workbook{Name: fmt.Sprintf("any%d.xlsx", n), CSV: rapid.Bool().Draw(t, "csv"), DecimalComma: rapid.IntRange(0, 9).Draw(t, "comma") == 0,
		Date1904: rapid.IntRange(0, 9).Draw(t, "1904") == 0}
	sheets := 1
	if !book.CSV {
		sheets = rapid.IntRange(1, 3).Draw(t, "sheets")
	}
	for i := range sheets {
		s := sheet.Sheet{Name: rapid.SampledFrom(names).Draw(t, "name") + strings.Repeat("'", i), HiddenCols: map[int]bool{}, Hidden: rapid.IntRange(0, 9).Draw(t, "hidden") == 0}
		row := 0
		for range rapid.IntRange(1, 6).Draw(t, "blocks") {
			row += rapid.IntRange(1, 3).Draw(t, "gap")
			from := rapid.SampledFrom(real).Draw(t, "from")
			shift := rapid.SampledFrom([]int{0, 0, 0, 1, 5}).Draw(t, "shift")
			switch rapid.IntRange(0, 3).Draw(t, "block") {
			case 0: // a whole block as it stands
				first := 0
				if len(from.Rows) > 1 && rapid.IntRange(0, 2).Draw(t, "within") == 0 {
					first = rapid.IntRange(0, len(from.Rows)-1).Draw(t, "first")
				}
				last := min(len(from.Rows), first+rapid.IntRange(1, 12).Draw(t, "rows"))
				for _, r := range from.Rows[first:last] {
					s.Rows = append(s.Rows, moved(r, row, shift))
					row++
				}
			case 1: // its rows shuffled
				if len(from.Rows) > 0 {
					for _, r := range rapid.Permutation(from.Rows[:min(len(from.Rows), 8)]).Draw(t, "shuffled") {
						s.Rows = append(s.Rows, moved(r, row, shift))
						row++
					}
				}
			case 2: // rows of several sheets, cells of one row mixed with those of another
				for range rapid.IntRange(1, 6).Draw(t, "rows") {
					other := rapid.SampledFrom(real).Draw(t, "other")
					if len(other.Rows) == 0 || len(from.Rows) == 0 {
						continue
					}
					a := moved(rapid.SampledFrom(from.Rows).Draw(t, "a"), row, shift)
					b := moved(rapid.SampledFrom(other.Rows).Draw(t, "b"), row, shift)
					cells := slices.Collect(a.Cells())
					for c := range b.Cells() {
						if !a.Has(func(x sheet.Cell) bool { return x.Col == c.Col }) {
							cells = append(cells, c)
						}
					}
					slices.SortFunc(cells, func(x, y sheet.Cell) int { return x.Col - y.Col })
					s.Rows = append(s.Rows, sheet.NewRow(row, a.Hidden, cells...))
					row++
				}
			default: // cells at random
				for range rapid.IntRange(1, 5).Draw(t, "rows") {
					hidden := rapid.IntRange(0, 9).Draw(t, "hidden row") == 0
					var cells []sheet.Cell
					for col := 1; col <= 6; col++ {
						if c, ok := anyCell(t, row, col+shift); ok {
							cells = append(cells, c)
						}
					}
					s.Rows = append(s.Rows, sheet.NewRow(row, hidden, cells...))
					row++
				}
			}
		}
		if len(s.Rows) > 1 && rapid.IntRange(0, 4).Draw(t, "merged") == 0 {
			at := rapid.SampledFrom(s.Rows).Draw(t, "merge at").Number
			s.Merges = append(s.Merges, sheet.Range{FirstRow: at, LastRow: at, FirstCol: 1, LastCol: 3})
		}
		book.Sheets = append(book.Sheets, s)
	}
	return book
}

// moved copies a row to another place.
func moved(r sheet.Row, row, shift int) sheet.Row {
	var cells []sheet.Cell
	for c := range r.Cells() {
		c.Col += shift
		cells = append(cells, c)
	}
	return sheet.NewRow(row, r.Hidden, cells...)
}

var anyTexts = []string{"", " ", "-", "\"", "Total", "Board", "Reading", "Load", "Load: K3", "Species", "white ash", "pine", "WP = eastern white pine", "12 pcs 1x8x10' white ash",
	"2x6x10 (40)", "1 1/8", "5/4", "61/2", "LO", "33+", "8.5", "10' 6\"", "2026-05-02", "3/4/2026", "May 2", "in", "mm", "%", "A01-A03", "all", "all except A1", "K3", "yes", "68 F", "Sample", "Date",
	"Width", "8'", "10'", "MC core", "Kerf", "1/8", "Kerf: 1/8", "units", "metric", "…", "a very long note that nobody could take for a heading of a column in any table at all"}

// anyCell makes a cell of any kind; ok is false for none.
func anyCell(t *rapid.T, row, col int) (sheet.Cell, bool) {
	c := sheet.Cell{Row: row, Col: col}
	switch rapid.IntRange(0, 9).Draw(t, "kind") {
	case 0, 1:
		return c, false
	case 2, 3, 4, 5:
		c.Kind, c.Text = sheet.Text, rapid.SampledFrom(anyTexts).Draw(t, "text")
	case 6, 7:
		n := rapid.SampledFrom([]float64{0, 1, 2, 3, 8, 10.5, 105, 1.125, 150, 4600, 46143, -3, 0.085}).Draw(t, "number")
		c.Kind, c.Number, c.Text = sheet.Number, n, strconv.FormatFloat(n, 'f', -1, 64)
		c.Format = rapid.SampledFrom([]sheet.Format{sheet.General, sheet.General, sheet.Date, sheet.Percent, sheet.Fraction, sheet.Clock}).Draw(t, "format")
		c.Formula = rapid.IntRange(0, 4).Draw(t, "formula") == 0
	case 8:
		c.Kind, c.Text = sheet.Text, rapid.StringN(0, 12, -1).Draw(t, "any text")
	default:
		switch rapid.IntRange(0, 2).Draw(t, "odd") {
		case 0:
			c.Kind, c.Text = sheet.ErrorValue, "#DIV/0!"
		case 1:
			c.Formula, c.NoResult = true, true
		default:
			c.Kind, c.Text = sheet.Bool, "TRUE"
		}
	}
	return c, true
}
