package bind

import (
	"maps"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// binder makes one job of one workbook, or of one set of CSV files.
type binder struct {
	job   *compute.Job
	fates map[rowKey]compute.RowFate // what became of each row so far
	book  *sheet.Workbook            // the file being read
	sheet *sheet.Sheet
	order cell.Order
	year  int
}

type rowKey struct {
	file, sheet string
	row         int
}

// Bind turns the cells of one workbook (or of one set of CSV files) into a job. Settings are read first, wherever they
// stand, because aliases and units decide how the rest is read.
func Bind(name string, books []*sheet.Workbook) *compute.Job {
	b := &binder{
		job:   &compute.Job{Name: name, Settings: compute.Defaults(), SheetOrder: map[string]int{}},
		fates: map[rowKey]compute.RowFate{},
	}
	regions := map[*sheet.Sheet][]region{}
	for _, book := range books {
		b.book = book
		b.job.Files = append(b.job.Files, compute.InputFile{Name: book.Name, SHA256: book.SHA256})
		for i := range book.Sheets {
			s := &book.Sheets[i]
			b.sheet = s
			b.job.SheetOrder[s.Name] = len(b.job.SheetOrder)
			regions[s] = findRegions(s)
			b.readLegend()
			b.readSettings(regions[s])
		}
	}
	b.settingsUsed()
	for _, book := range books {
		b.book = book
		b.settleDates(regions)
		for i := range book.Sheets {
			b.sheet = &book.Sheets[i]
			b.sayHidden(regions[b.sheet])
			for _, r := range regions[b.sheet] {
				b.readRegion(r)
			}
			b.account(regions[b.sheet])
		}
	}
	b.job.Findings.Sort(b.job.SheetOrder)
	return b.job
}

// at gives the place of a cell on the sheet being read.
func (b *binder) at(row, col int) finding.Place {
	name := b.sheet.Name
	if b.book.CSV {
		name = ""
	}
	return finding.Place{File: b.book.Name, Sheet: name, Row: row, Col: col}
}

func (b *binder) say(code finding.Code, at finding.Place, stands, hint, problem string, args ...any) {
	b.job.Findings.Add(code, at, stands, hint, problem, args...)
}

// context gives what a cell of a column may be read with.
func (b *binder) context(name string, unit, fallback cell.Unit) cell.Context {
	return cell.Context{Unit: unit, Default: fallback, DecimalComma: b.book.DecimalComma, Date1904: b.book.Date1904,
		DayFirst: b.order, Year: b.year, Column: name}
}

// smallUnit and longUnit are what a bare size and a bare board length mean when neither heading nor cell says.
func (b *binder) smallUnit() cell.Unit {
	if b.job.Settings.System == units.Metric {
		return cell.Millimetre
	}
	return cell.Inch
}

func (b *binder) longUnit() cell.Unit {
	if b.job.Settings.System == units.Metric {
		return cell.Millimetre
	}
	return cell.Foot
}

func (b *binder) heatUnit() cell.Unit {
	if b.job.Settings.System == units.Metric {
		return cell.CelsiusUnit
	}
	return cell.Fahrenheit
}

func (b *binder) massUnit() cell.Unit { return cell.Gram }

// settleDates looks at every date column of the file: the order of day and month, and the year of dates written without
// one, hold for the whole file or not at all.
func (b *binder) settleDates(regions map[*sheet.Sheet][]region) {
	var dates []sheet.Cell
	for i := range b.book.Sheets {
		s := &b.book.Sheets[i]
		for _, r := range regions[s] {
			for _, c := range r.cols {
				if c.field < 0 || r.table.Fields[c.field].What != aDate {
					continue
				}
				for k := range s.Rows {
					if n := s.Rows[k].Number; n > r.headLast && n <= r.until {
						if x := s.Cell(n, c.col); !cell.Empty(x) && !cell.Ditto(x) {
							dates = append(dates, x)
						}
					}
				}
			}
		}
	}
	b.order, b.year = cell.DateOrder(dates), 0
	years := map[int]bool{}
	for _, d := range dates {
		if t, p := cell.Date(d, b.context("date", cell.UnitNone, cell.UnitNone)); len(p) == 0 && !t.IsZero() {
			years[t.Year()] = true
		}
	}
	if len(years) == 1 {
		for y := range years {
			b.year = y
		}
	}
}

// fate records what became of a row. A row that is part of two tables counts once: set aside before used before not data.
func (b *binder) fate(row int, kind compute.Kind, f compute.Fate, why string) {
	k := rowKey{b.book.Name, b.sheet.Name, row}
	old, had := b.fates[k]
	if !had || f > old.Fate {
		b.fates[k] = compute.RowFate{Row: row, Kind: kind, Fate: f, Why: why}
	}
}

// account closes the sheet: every row with content has a fate, and a row nobody claimed is said.
func (b *binder) account(rs []region) {
	a := compute.Account{File: b.book.Name, Sheet: b.sheet.Name}
	tables := len(rs) > 0
	unread := 0
	for i := range b.sheet.Rows {
		r := &b.sheet.Rows[i]
		if !hasContent(r) {
			continue
		}
		f, ok := b.fates[rowKey{b.book.Name, b.sheet.Name, r.Number}]
		if !ok {
			f = compute.RowFate{Row: r.Number, Fate: compute.NotData, Why: "title or note"}
			if numbersIn(r) > 1 {
				f.Fate, f.Why = compute.SetAside, "numbers outside any table"
				unread++
			}
		} else if f.Fate == compute.Used {
			tables = true
		}
		a.Rows = append(a.Rows, f)
	}
	if !tables && tabular(b.sheet) {
		b.say("T008", b.at(0, 0), "", "give its columns headings such as board, thickness, width, reading, or leave the sheet as it is if it is not for drytally",
			"no table on %q could be recognized by its headings; its %d rows were not used", b.sheet.Name, len(a.Rows))
	} else if unread > 0 {
		b.say("T014", b.at(0, 0), "", "put them under a heading row, or ignore this if they are not for drytally",
			"%d rows of %q hold numbers but stand under no heading that is known", unread, b.sheet.Name)
	}
	b.job.Accounts = append(b.job.Accounts, a)
}

// tabular reports whether a sheet looks like a table at all: two rows with two filled cells. A page of notes does not.
func tabular(s *sheet.Sheet) bool {
	rows := 0
	for _, r := range s.Rows {
		n := 0
		for _, c := range r.Cells {
			if !cell.Empty(c) {
				n++
			}
		}
		if n >= 2 {
			rows++
		}
	}
	return rows >= 2
}

func hasContent(r *sheet.Row) bool {
	return slices.ContainsFunc(r.Cells, func(c sheet.Cell) bool {
		return c.Kind != sheet.Blank && strings.TrimSpace(c.Text) != "" || c.NoResult
	})
}

func numbersIn(r *sheet.Row) int {
	n := 0
	for _, c := range r.Cells {
		if c.Kind == sheet.Number {
			n++
		}
	}
	return n
}

// sayHidden says that hidden sheets, rows and columns were read like all others.
func (b *binder) sayHidden(rs []region) {
	if len(rs) == 0 {
		return
	}
	if b.sheet.Hidden {
		b.say("T009", b.at(0, 0), "", "unhide it if you want to see what was read", "the hidden sheet %q was read like the others", b.sheet.Name)
	}
	hidden := 0
	for _, r := range b.sheet.Rows {
		if r.Hidden && hasContent(&r) {
			hidden++
		}
	}
	if hidden > 0 {
		b.say("T009", b.at(0, 0), "", "unhide them if you want to see what was read", "%d hidden rows of %q were read like the others", hidden, b.sheet.Name)
	}
	var cols []string
	for _, col := range slices.Sorted(maps.Keys(b.sheet.HiddenCols)) {
		for _, r := range rs {
			for _, c := range r.cols {
				if c.col == col && c.field >= 0 {
					cols = append(cols, finding.Column(col))
				}
			}
		}
	}
	if len(cols) > 0 {
		b.say("T009", b.at(0, 0), "", "unhide them if you want to see what was read", "hidden column %s of %q was read like the others", strings.Join(cols, ", "), b.sheet.Name)
	}
}
