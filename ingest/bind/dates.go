package bind

import (
	"cmp"
	"time"

	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// settled is what the dates of one workbook, or of a set of CSV files, settle together: the order of day and month, and the
// year of dates written without one. They hold for all of it or not at all.
type settled struct {
	order cell.Order
	year  int
}

// dateColumn is the dates of one column (or of one row of headings) of a file.
type dateColumn struct {
	sheet *sheet.Sheet
	name  string
	cells []sheet.Cell // the first cell of every date
	times []int        // how many cells hold it
	known map[dateKey]int
}

// dateKey is what makes two cells hold the same date.
type dateKey struct {
	kind   sheet.Kind
	format sheet.Format
	code   string
	text   string
	other  bool // a formula, or one without a result
}

// add adds a cell. Dates repeat: of a thousand readings of a day one is looked at.
func (d *dateColumn) add(c sheet.Cell) {
	if d.known == nil {
		d.known = map[dateKey]int{}
	}
	k := dateKey{c.Kind, c.Format, c.FormatCode(), c.Text, c.Formula || c.NoResult}
	if i, ok := d.known[k]; ok {
		d.times[i]++
		return
	}
	d.known[k] = len(d.cells)
	d.cells, d.times = append(d.cells, c), append(d.times, 1)
}

// dateColumns collects every date of the file being read, column by column.
func (b *binder) dateColumns(regions map[*sheet.Sheet][]region) []dateColumn {
	var all []dateColumn
	for i := range b.book.Sheets {
		s := &b.book.Sheets[i]
		for _, r := range regions[s] {
			if r.wide != nil && r.wide.dates() {
				d := dateColumn{sheet: s, name: "date"}
				for _, a := range r.wide.across {
					d.add(a.cell)
				}
				all = append(all, d)
			}
			if r.pairs != nil {
				all = append(all, r.pairs.dates(s)...)
			}
			if r.table == nil {
				continue
			}
			for _, c := range r.cols {
				if c.field < 0 || r.table.Fields[c.field].What != aDate {
					continue
				}
				d := dateColumn{sheet: s, name: c.name}
				for k := range s.Rows {
					if n := s.Rows[k].Number; n <= r.headLast || n > r.until || b.exampleRow(r, &s.Rows[k]) {
						continue
					}
					for x := range s.Rows[k].Cells() {
						if x.Col == c.col && !cell.Empty(x) && !cell.Ditto(x) {
							d.add(x)
						}
					}
				}
				all = append(all, d)
			}
		}
	}
	return all
}

// settleDates looks at every date of the files and gives what holds for each of them: what all dates together settle, else what
// its own do. It says what it did with dates that lack a year and which stored dates may be turned round.
func (b *binder) settleDates(books []*sheet.Workbook, regions map[*sheet.Sheet][]region) map[*sheet.Workbook]settled {
	columns := map[*sheet.Workbook][]dateColumn{}
	var all []sheet.Cell
	own := map[*sheet.Workbook]cell.Order{}
	for _, book := range books {
		b.book = book
		columns[book] = b.dateColumns(regions)
		var dates []sheet.Cell
		for _, d := range columns[book] {
			dates = append(dates, d.cells...)
		}
		own[book] = cell.DateOrder(dates)
		all = append(all, dates...)
	}
	order := cell.DateOrder(all)
	by, years := map[*sheet.Workbook]settled{}, map[int]bool{}
	for _, book := range books {
		b.book, b.settled = book, settled{order: cmp.Or(order, own[book])}
		named := map[int]bool{}
		for _, d := range columns[book] {
			for _, c := range d.cells {
				if t, p := cell.Date(c, b.context("date", cell.UnitNone, cell.UnitNone)); len(p) == 0 && !t.IsZero() {
					named[t.Year()], years[t.Year()] = true, true
				}
			}
		}
		b.settled.year = onlyYear(named)
		by[book] = b.settled
	}
	for _, book := range books {
		b.book, b.settled = book, by[book]
		b.settled.year = cmp.Or(onlyYear(years), b.settled.year)
		by[book] = b.settled
		if b.settled.year != 0 {
			b.sayYear(columns[book], b.settled.year)
		}
		for _, d := range columns[book] {
			b.saySwapped(d)
		}
	}
	return by
}

// onlyYear gives the year of a set of one; 0 of any other.
func onlyYear(years map[int]bool) int {
	if len(years) == 1 {
		for y := range years {
			return y
		}
	}
	return 0
}

// sayYear says once how many dates took their year from the file's other dates.
func (b *binder) sayYear(columns []dateColumn, year int) {
	var first *sheet.Cell
	n := 0
	for _, d := range columns {
		for i := range d.cells {
			x := b.context("date", cell.UnitNone, cell.UnitNone)
			t, p := cell.Date(d.cells[i], x)
			x.Year = 0
			_, without := cell.Date(d.cells[i], x)
			if len(p) > 0 || t.IsZero() || len(without) == 0 {
				continue
			}
			if n += d.times[i]; first == nil {
				first = &d.cells[i]
				b.sheet = d.sheet
			}
		}
	}
	if n > 0 {
		b.say("T036", b.at(first.Row, first.Col), first.Text, "nothing to do if that is the year; else write the year too",
			"%s without a year taken as of %d, the only year that is written", plural(n, "date"), year)
	}
}

// saySwapped looks for a column whose written dates the spreadsheet program could not take as dates (25/11/2026 where it
// expects the month first) beside stored dates that all could be read both ways: these were then turned round when they
// were typed or opened.
func (b *binder) saySwapped(d dateColumn) {
	order := cell.DateOrder(d.cells)
	if order == cell.OrderUnknown {
		return
	}
	var first *sheet.Cell
	var swapped time.Time
	n := 0
	for i := range d.cells {
		c := d.cells[i]
		if c.Kind != sheet.Number || c.Format != sheet.Date && c.Format != sheet.DateTime {
			continue
		}
		t, p := cell.Date(c, b.context("date", cell.UnitNone, cell.UnitNone))
		if len(p) > 0 || t.IsZero() {
			continue
		}
		if t.Day() > 12 {
			return // a date that only fits as it is stored: the program took them in the right order
		}
		if t.Day() == int(t.Month()) {
			continue
		}
		if n += d.times[i]; first == nil {
			first, swapped = &d.cells[i], time.Date(t.Year(), time.Month(t.Day()), int(t.Month()), 0, 0, 0, 0, time.UTC)
		}
	}
	if n == 0 {
		return
	}
	b.sheet = d.sheet
	written := map[cell.Order]string{cell.DayFirst: "day first", cell.MonthFirst: "month first"}[order]
	stands, _ := cell.Date(*first, b.context("date", cell.UnitNone, cell.UnitNone))
	b.say("T037", b.at(first.Row, first.Col), stands.Format(time.DateOnly), "is this one "+swapped.Format("2 Jan 2006")+"? Look at all stored dates of the column",
		"this column holds %s beside dates written %s, which the spreadsheet program left as text; day and month of the stored ones may be turned round",
		plural(n, "stored date"), written)
}
