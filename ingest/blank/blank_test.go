package blank_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/ingest"
	"drytally/ingest/bind"
	"drytally/ingest/blank"
	"drytally/ingest/sheet"
	"drytally/testdata/tool"
)

var systems = map[string]units.System{"inches": units.InchFoot, "metric": units.Metric}

func made(t *testing.T, system units.System) []byte {
	t.Helper()
	data, err := blank.Make(system)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func read(t *testing.T, data []byte) (*sheet.Workbook, *compute.Job) {
	t.Helper()
	book, err := ingest.Open("new.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	return book, bind.Bind("new", []*sheet.Workbook{book})
}

// edit changes a workbook the way a person does who types into it.
func edit(t *testing.T, data []byte, change func(f *excelize.File)) []byte {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	change(f)
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// The places of the sheets: headings in row 4, the first row of data is row 5.
const headRow, firstRow = 4, 5

// cellOf gives the cell of a column by its field.
func cellOf(t *testing.T, form bind.Form, name string, row int) string {
	t.Helper()
	i := slices.IndexFunc(form.Columns, func(c bind.FormColumn) bool { return c.Name == name })
	if i < 0 {
		t.Fatalf("%s has no column for %q", form.Kind, name)
	}
	at, err := excelize.CoordinatesToCellName(i+1, row)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

func sheetOf(form bind.Form) string {
	return strings.ToUpper(string(form.Kind[:1])) + string(form.Kind[1:])
}

// TestBlankIsReadWithoutAFinding: an unfilled workbook gives no finding, no record, and every row of it is accounted for.
func TestBlankIsReadWithoutAFinding(t *testing.T) {
	for name, system := range systems {
		t.Run(name, func(t *testing.T) {
			data := made(t, system)
			if !bytes.Equal(data, made(t, system)) {
				t.Error("two calls gave different bytes")
			}
			book, job := read(t, data)
			result := compute.Assess(job)
			for _, f := range result.Findings {
				t.Errorf("%s", f)
			}
			if !result.Unfilled() {
				t.Error("it does not count as unfilled")
			}
			if system == units.Metric && (job.Settings.System != units.Metric || job.Settings.Paper != compute.A4) {
				t.Errorf("got units %d and paper %d, want metric and A4", job.Settings.System, job.Settings.Paper)
			}
			examples := 0
			for _, a := range result.Accounts {
				for row := range a.Rows.All() {
					if row.Why == compute.ExampleRow {
						examples++
					}
					if row.Fate == compute.SetAside || row.Fate == compute.Used && row.Kind != compute.KindSettings {
						t.Errorf("%s row %d is %s", a.Sheet, row.Row, row.Fate)
					}
				}
			}
			want := 0
			for _, form := range bind.Forms(system, nil, nil) {
				want += len(form.Examples)
				if i := slices.IndexFunc(book.Sheets, func(s sheet.Sheet) bool { return s.Name == sheetOf(form) }); i < 0 {
					t.Errorf("there is no sheet for %s", form.Kind)
				}
			}
			if examples != want || want < 10 {
				t.Errorf("%d rows are examples, want %d", examples, want)
			}
		})
	}
}

// TestBlankIsShapedAsItShould: text columns, dates, lists, notes, headings in sight and on every printed page.
func TestBlankIsShapedAsItShould(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(made(t, units.InchFoot)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	titles := map[string]string{}
	for _, n := range f.GetDefinedName() {
		if n.Name == "_xlnm.Print_Titles" {
			titles[n.Scope] = n.RefersTo
		}
	}
	format := func(id int) string {
		s, err := f.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case s.CustomNumFmt != nil:
			return *s.CustomNumFmt
		case s.NumFmt == 49: // the built-in format of text
			return "@"
		}
		return ""
	}
	for _, form := range bind.Forms(units.InchFoot, nil, nil) {
		name := sheetOf(form)
		if want := "'" + name + "'!$1:$4"; titles[name] != want {
			t.Errorf("%s: printed again are %q, want %q", name, titles[name], want)
		}
		if p, err := f.GetPanes(name); err != nil || !p.Freeze || p.YSplit != headRow {
			t.Errorf("%s: the headings don't stay in sight (%v)", name, err)
		}
		if p, err := f.GetPageLayout(name); err != nil || *p.Orientation != "landscape" || *p.FitToWidth != 1 {
			t.Errorf("%s: it is not laid out for printing (%v)", name, err)
		}
		notes, err := f.GetComments(name)
		if err != nil || len(notes) != len(form.Columns) {
			t.Errorf("%s: %d notes for %d headings (%v)", name, len(notes), len(form.Columns), err)
		}
		lists, err := f.GetDataValidations(name)
		if err != nil {
			t.Fatal(err)
		}
		want := 0
		for i, c := range form.Columns {
			if len(c.Offers) > 0 || c.IsLoad {
				want++
			}
			for _, list := range lists {
				// 'Lists'!$A$7:$C$7
				_, row, ok := strings.Cut(list.Formula1, "'Lists'!$A$")
				if !strings.HasPrefix(list.Sqref, cellOf(t, form, c.Name, firstRow)+":") || !ok {
					continue
				}
				row, _, _ = strings.Cut(row, ":")
				var words []string
				for k := range c.Offers {
					at, _ := excelize.ColumnNumberToName(k + 1)
					word, err := f.GetCellValue("Lists", at+row)
					if err != nil {
						t.Fatal(err)
					}
					words = append(words, word)
				}
				last, _ := excelize.ColumnNumberToName(len(c.Offers))
				if !slices.Equal(words, c.Offers) || !strings.HasSuffix(list.Formula1, ":$"+last+"$"+row) {
					t.Errorf("%s, %s: the list %s holds %q, want %q", name, c.Name, list.Formula1, words, c.Offers)
				}
			}
			column, _ := excelize.ColumnNumberToName(i + 1)
			far, err := f.GetColStyle(name, column)
			if err != nil {
				t.Fatal(err)
			}
			near, err := f.GetCellStyle(name, cellOf(t, form, c.Name, firstRow+3))
			if err != nil {
				t.Fatal(err)
			}
			for _, id := range []int{near, far} {
				got := format(id)
				switch {
				case (c.Kind == bind.FormText || c.Kind == bind.FormSize) && got != "@":
					t.Errorf("%s, %s: the format is %q, want text", name, c.Name, got)
				case c.Kind == bind.FormDate && got != "yyyy-mm-dd":
					t.Errorf("%s, %s: the format is %q, want a date", name, c.Name, got)
				}
			}
		}
		if len(lists) != want {
			t.Errorf("%s: %d drop-down lists, want %d", name, len(lists), want)
		}
	}
	for _, size := range []struct {
		kind compute.Kind
		name string
	}{{compute.KindCuts, "green thickness"}, {compute.KindBoards, "board"}, {compute.KindBoards, "dry width"}, {compute.KindWanted, "length"}, {compute.KindSold, "boards"}} {
		for _, form := range bind.Forms(units.InchFoot, nil, nil) {
			for _, c := range form.Columns {
				if form.Kind == size.kind && c.Name == size.name && c.Kind != bind.FormText && c.Kind != bind.FormSize {
					t.Errorf("%s, %s is not stored as text", size.kind, size.name)
				}
			}
		}
	}
}

// TestExamplesWouldBeRead: an example shows how a row is written, so it must be one: without the mark it is read, and
// without a word.
func TestExamplesWouldBeRead(t *testing.T) {
	for name, system := range systems {
		t.Run(name, func(t *testing.T) {
			forms := bind.Forms(system, nil, nil)
			data := edit(t, made(t, system), func(f *excelize.File) {
				for _, form := range forms {
					for i := range form.Examples {
						set(t, f, sheetOf(form), cellOf(t, form, "note", firstRow+i), "")
					}
				}
			})
			_, job := read(t, data)
			for _, f := range job.Findings {
				t.Errorf("%s", f)
			}
			rows := 0
			for _, a := range job.Accounts {
				for r := range a.Rows.All() {
					if r.Fate == compute.Used && r.Kind != compute.KindSettings {
						rows++
					}
				}
			}
			want := 0
			for _, form := range forms {
				want += len(form.Examples)
			}
			if rows != want {
				t.Errorf("%d example rows are read, want %d", rows, want)
			}
		})
	}
}

func set(t *testing.T, f *excelize.File, sheet, cell string, value any) {
	t.Helper()
	if err := f.SetCellValue(sheet, cell, value); err != nil {
		t.Fatal(err)
	}
}

// filledWeek types a small load into the blank workbook: over the first example of each sheet and on below, as one would.
func filledWeek(t *testing.T, f *excelize.File, forms []bind.Form) {
	t.Helper()
	put := func(kind compute.Kind, row int, cells map[string]any) {
		i := slices.IndexFunc(forms, func(x bind.Form) bool { return x.Kind == kind })
		for _, c := range forms[i].Columns {
			v, ok := cells[c.Name]
			if !ok {
				v = nil // what an example left there is cleared, its mark too
			}
			set(t, f, sheetOf(forms[i]), cellOf(t, forms[i], c.Name, row), v)
			if _, ok := v.(time.Time); ok { // the writer gives dates a look of its own; a person's typing keeps that of the cell
				id, err := f.GetCellStyle(sheetOf(forms[i]), cellOf(t, forms[i], c.Name, row+9))
				if err != nil {
					t.Fatal(err)
				}
				if err := f.SetCellStyle(sheetOf(forms[i]), cellOf(t, forms[i], c.Name, row), cellOf(t, forms[i], c.Name, row), id); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	day := time.Date(2027, time.March, 9, 0, 0, 0, 0, time.UTC)
	put(compute.KindLoads, 5, map[string]any{"load": "M1", "species": "red maple", "use": "interior flooring", "date in": day.AddDate(0, 0, -20), "boards": 4, "courses": 2, "spots": 2})
	put(compute.KindCuts, 5, map[string]any{"species": "red maple", "green thickness": "5/4", "green width": "7-1/2", "length": "8", "pieces": 4, "load": "M1", "date": "2027-02-10"})
	for i, id := range []string{"007", "1-1", "5/4", "M4"} { // names a spreadsheet program likes to change
		put(compute.KindBoards, 5+i, map[string]any{"board": id, "load": "M1", "dry thickness": "1 3/32", "dry width": "7 1/4", "length": "8", "course": i/2 + 1, "spot": i%2 + 1})
		put(compute.KindReadings, 5+i, map[string]any{"board": id, "load": "M1", "reading": []any{8.5, "LO", "<6", 9}[i], "wood temperature": 64, "date": day})
	}
	put(compute.KindWanted, 5, map[string]any{"piece": "strip", "species": "red maple", "finished thickness": "3/4", "finished width": "5", "pieces": 4})
	put(compute.KindWanted, 6, nil)
	put(compute.KindSold, 5, map[string]any{"sale": "3", "load": "M1", "boards": "007, M4", "buyer": "Ida", "date": day})
	put(compute.KindWeights, 5, map[string]any{"sample": "S1", "load": "M1", "date": day, "section wet": 40.25, "section ovendry": 36})
	put(compute.KindWeights, 6, map[string]any{"sample": "S1", "load": "M1", "date": day, "weight": 2000})
	put(compute.KindAir, 5, map[string]any{"date": day, "time": "15:30", "dry bulb": 90, "humidity": 45, "where": "kiln", "load": "M1"})
	set(t, f, "Settings", "B5", "Three Herons Mill")
	set(t, f, "Settings", "B9", "A4")
	set(t, f, "Settings", "B10", "1/32")
}

// checkFilledWeek holds what is read of the filled workbook against what was typed.
func checkFilledWeek(t *testing.T, job *compute.Job) {
	t.Helper()
	for _, f := range job.Findings {
		t.Errorf("%s", f)
	}
	if len(job.Loads) != 1 || len(job.Cuts) != 1 || len(job.Boards) != 4 || len(job.Readings) != 4 || len(job.Wanted) != 1 || len(job.Sales) != 1 || len(job.Weights) != 2 || len(job.Air) != 1 || len(job.Climate) != 0 {
		t.Fatalf("got %d loads, %d cuts, %d boards, %d readings, %d wanted, %d sales, %d weights, %d lines of air, %d months", len(job.Loads), len(job.Cuts),
			len(job.Boards), len(job.Readings), len(job.Wanted), len(job.Sales), len(job.Weights), len(job.Air), len(job.Climate))
	}
	if job.Settings.Paper != compute.A4 || job.Settings.System != units.InchFoot {
		t.Errorf("got paper %d and units %d, want A4 and inches", job.Settings.Paper, job.Settings.System)
	}
	got := fmt.Sprint(job.Settings.MillName, "|", job.Settings.SawStep, "|", job.Cuts[0].Thickness, "|", job.Cuts[0].Width, "|", job.Loads[0].DateIn.Format(time.DateOnly), "|",
		job.Boards[0].ID, " ", job.Boards[1].ID, " ", job.Boards[2].ID, "|", job.Readings[0].Value, " ", job.Readings[1].Value, " ", job.Readings[2].Value, "|",
		job.Readings[0].Date.Format(time.DateOnly), "|", strings.Join(job.Sales[0].Boards, " "), "|", job.Weights[0].Wet.Grams(), "|", job.Air[0].Time.Format("15:04"))
	const want = `Three Herons Mill|1/32"|1 1/4"|7 1/2"|2027-02-17|007 1-1 5/4|8.5 LO <6.0|2027-03-09|007 M4|40.25|15:30`
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestTypedOverExamples: typed over, an example row is a row like any other.
func TestTypedOverExamples(t *testing.T) {
	forms := bind.Forms(units.InchFoot, nil, nil)
	_, job := read(t, edit(t, made(t, units.InchFoot), func(f *excelize.File) { filledWeek(t, f, forms) }))
	checkFilledWeek(t, job)
	result := compute.Assess(job)
	if result.Unfilled() {
		t.Error("a filled workbook counts as unfilled")
	}
}

// TestMarkLeftStanding: the word example in the note takes no row away that is the owner's, and lets no figure of the example
// pass for his.
func TestMarkLeftStanding(t *testing.T) {
	forms := bind.Forms(units.InchFoot, nil, nil)
	form := forms[slices.IndexFunc(forms, func(f bind.Form) bool { return f.Kind == compute.KindBoards })]
	tests := []struct {
		name   string
		change map[string]any // of the example row; nil clears a cell
		boards int
		says   string
	}{
		{"as it stands", nil, 0, ""},
		{"stored as numbers since", map[string]any{"course": 1.0, "reading": 8.5}, 0, ""},
		{"cleared in part", map[string]any{"cup": nil, "species": nil}, 0, ""},
		{"begun over", map[string]any{"board": "B7", "dry thickness": "1"}, 0, "T060"},
		{"a cell more", map[string]any{"bow": "1/8"}, 0, "T060"},
		{"mark cleared", map[string]any{"note": nil}, 1, ""},
		{"own note", map[string]any{"note": "split at one end", "board": "B7"}, 1, ""},
		{"own note that speaks of an example", map[string]any{"note": "an example of cup"}, 1, ""},
		{"all typed over but the mark", map[string]any{"board": "B7", "load": "K9", "species": "red maple", "dry thickness": "1", "dry thickness 2": nil, "dry width": "7",
			"length": "10", "green thickness": nil, "green width": nil, "nominal": nil, "cup": nil, "course": 2, "spot": 5, "reading": 7, "wood temperature": 70, "date": "2026-11-02"}, 1, "T064"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, job := read(t, edit(t, made(t, units.InchFoot), func(f *excelize.File) {
				for name, v := range tt.change {
					set(t, f, "Boards", cellOf(t, form, name, firstRow), v)
				}
			}))
			var says []string
			for _, f := range job.Findings {
				says = append(says, string(f.Code))
			}
			if got := strings.Join(says, " "); got != tt.says || len(job.Boards) != tt.boards {
				t.Errorf("got %d boards and findings %q, want %d and %q", len(job.Boards), got, tt.boards, tt.says)
			}
			if len(job.Boards) == 1 && job.Boards[0].Note == bind.ExampleMark {
				t.Error("the mark was taken for a note")
			}
		})
	}
}

// TestExampleSettlesNoYear: the date of an example says nothing of the owner's dates.
func TestExampleSettlesNoYear(t *testing.T) {
	forms := bind.Forms(units.InchFoot, nil, nil)
	form := forms[slices.IndexFunc(forms, func(f bind.Form) bool { return f.Kind == compute.KindCuts })]
	_, job := read(t, edit(t, made(t, units.InchFoot), func(f *excelize.File) {
		for name, v := range map[string]any{"species": "white ash", "green thickness": "1", "green width": "6", "length": "8", "pieces": 3, "date": "14 May"} {
			set(t, f, "Cuts", cellOf(t, form, name, firstRow+1), v)
		}
	}))
	if len(job.Cuts) != 1 || !job.Cuts[0].Date.IsZero() || len(job.Findings) != 1 || job.Findings[0].Code != "C021" {
		t.Errorf("got %+v and %v, want a cut without a date and the question for its year", job.Cuts, job.Findings)
	}
}

// TestThroughAnOfficeProgram: what the owner's office program stores of a filled workbook reads back the same, sizes as text.
func TestThroughAnOfficeProgram(t *testing.T) {
	if testing.Short() {
		t.Skip("not checked with -short: whether a workbook stored by an office program reads back the same")
	}
	tool.Need(t, "whether a workbook stored by an office program reads back the same", "soffice")
	dir := t.TempDir()
	through := func(name string, data []byte) []byte {
		t.Helper()
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(dir, "stored")
		tool.Convert(t, "xlsx", out, file)
		stored, err := os.ReadFile(filepath.Join(out, name))
		if err != nil {
			t.Fatal(err)
		}
		return stored
	}
	for name, system := range systems {
		_, job := read(t, through(name+".xlsx", made(t, system)))
		result := compute.Assess(job)
		if len(result.Findings) > 0 || !result.Unfilled() {
			t.Errorf("unfilled, %s: findings %v", name, result.Findings)
		}
	}
	forms := bind.Forms(units.InchFoot, nil, nil)
	book, job := read(t, through("filled.xlsx", edit(t, made(t, units.InchFoot), func(f *excelize.File) { filledWeek(t, f, forms) })))
	checkFilledWeek(t, job)
	i := slices.IndexFunc(book.Sheets, func(s sheet.Sheet) bool { return s.Name == "Cuts" })
	if c := book.Sheets[i].Cell(5, 2); c.Kind != sheet.Text || c.Text != "5/4" {
		t.Errorf("the thickness was stored as %+v, want the text 5/4", c)
	}
}
