package bind

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// fate records what became of a row. A row that is part of two tables counts once: set aside before used before not data.
// A row that holds nothing has none.
func (b *binder) fate(row int, kind compute.Kind, f compute.Fate, why string) {
	if b.fates[b.sheet] == nil {
		b.fates[b.sheet] = make([]compute.RowFate, len(b.sheet.Rows))
	}
	i := rowIndex(b.sheet, row)
	if i >= len(b.sheet.Rows) || b.sheet.Rows[i].Number != row {
		return
	}
	if old := &b.fates[b.sheet][i]; old.Row == 0 || f > old.Fate {
		*old = compute.RowFate{Row: row, Kind: kind, Fate: f, Why: why}
	}
}

// fateOf gives what became of a row so far; Row is 0 when nobody claimed it yet.
func (b *binder) fateOf(row int) compute.RowFate {
	if i := rowIndex(b.sheet, row); i < len(b.fates[b.sheet]) && b.sheet.Rows[i].Number == row {
		return b.fates[b.sheet][i]
	}
	return compute.RowFate{}
}

// emptySetting is why the row of a setting without a value is no data.
const emptySetting = "setting left empty"

// account closes the sheet: every row with content has a fate, and a sheet or row nobody claimed is said.
func (b *binder) account(rs []region) {
	a := compute.Account{File: b.book.Name, Sheet: b.sheet.Name}
	tables := len(rs) > 0
	unread, first := 0, 0
	fates := b.fates[b.sheet]
	if fates == nil {
		fates = make([]compute.RowFate, len(b.sheet.Rows))
	}
	delete(b.fates, b.sheet)
	a.Rows = fates[:0] // the account takes their place: a row's is read before it is written over
	for i := range b.sheet.Rows {
		r := &b.sheet.Rows[i]
		if !hasContent(r) {
			continue
		}
		f := fates[i]
		if f.Row == 0 {
			f = compute.RowFate{Row: r.Number, Fate: compute.NotData, Why: "title or note"}
			if numbersIn(r) > 1 {
				f.Fate, f.Why = compute.SetAside, "numbers outside any table"
				if unread++; first == 0 {
					first = r.Number
				}
			}
		} else if f.Fate == compute.Used || f.Why == emptySetting {
			tables = true
		}
		a.Rows = append(a.Rows, f)
	}
	switch {
	case len(a.Rows) == 0:
	case !tables && ownSheet(b.sheet) != "":
		for i := range a.Rows {
			a.Rows[i] = compute.RowFate{Row: a.Rows[i].Row, Fate: compute.NotData, Why: ownSheet(b.sheet)}
		}
	case !tables:
		b.sayNoTable(&a)
	case unread > 0:
		b.say("T014", b.at(first, 0), "", "put them under a heading row, or ignore this if they are not for drytally",
			"%s of %q from here on hold numbers but stand under no heading that is known", plural(unread, "row"), b.sheet.Name)
	}
	b.job.Accounts = append(b.job.Accounts, a)
}

// sayNoTable says that a sheet holds cells and no table: an error where its name or its look promises one, a note where it
// is a page of notes.
func (b *binder) sayNoTable(a *compute.Account) {
	const headings = "give its columns headings such as board, thickness, width, reading"
	kind := b.speaksForAny()
	switch {
	case kind != "":
		b.say("T042", b.at(0, 0), "", headings+"; the README lists them",
			"%q is named like a sheet of the kind %q, but no table could be recognized in its %s; none was used", b.sheet.Name, kind, plural(len(a.Rows), "row"))
	case tabular(b.sheet) || figureRows(b.sheet) >= leastFigureRows:
		b.say("T008", b.at(0, 0), "", headings+", or leave the sheet as it is if it is not for drytally",
			"no table on %q could be recognized by its headings; its %s not used", b.sheet.Name, wereWas(len(a.Rows), "row"))
	default:
		b.say("T043", b.at(0, 0), "", "nothing to do if these are notes", "no table stands on %q; its %s taken as notes", b.sheet.Name, wereWas(len(a.Rows), "row"))
		return
	}
	// Rows that look like data are set aside and not passed off as notes.
	for i := range a.Rows {
		f := &a.Rows[i]
		if f.Fate != compute.NotData || f.Kind != "" || f.Why != "title or note" {
			continue
		}
		if r := b.sheet.Rows[rowIndex(b.sheet, f.Row)]; filledIn(&r) >= 2 && digitsIn(&r) || figuresIn(&r) >= 2 {
			f.Fate, f.Why = compute.SetAside, "no table recognized"
		}
	}
}

// speaksForAny gives the kind of table the sheet's name promises, "" for none.
func (b *binder) speaksForAny() compute.Kind {
	if settingsSheet(b.sheet.Name) {
		return compute.KindSettings
	}
	for i := range Tables {
		if speaksFor(&Tables[i], b.sheet.Name) {
			return Tables[i].Kind
		}
	}
	return ""
}

// tabular reports whether a sheet looks like a table at all: two rows with two filled cells. A page of notes does not.
func tabular(s *sheet.Sheet) bool {
	rows := 0
	for i := range s.Rows {
		if filledIn(&s.Rows[i]) >= 2 {
			rows++
		}
	}
	return rows >= 2
}

// leastFigureRows is how many lines with two figures or more make a list and no page of notes.
const leastFigureRows = 3

var figures = regexp.MustCompile(`\d+`)

// figureRows counts the rows whose text holds two figures or more.
func figureRows(s *sheet.Sheet) int {
	n := 0
	for i := range s.Rows {
		if figuresIn(&s.Rows[i]) >= 2 {
			n++
		}
	}
	return n
}

func figuresIn(r *sheet.Row) int {
	n := 0
	for c := range r.Cells() {
		n += len(figures.FindAllStringIndex(c.Text, 3))
	}
	return n
}

func filledIn(r *sheet.Row) int {
	n := 0
	for c := range r.Cells() {
		if !cell.Empty(c) {
			n++
		}
	}
	return n
}

func digitsIn(r *sheet.Row) bool {
	return r.Has(func(c sheet.Cell) bool { return strings.ContainsAny(c.Text, "0123456789") })
}

// plural writes a number with its noun: 1 row, 2 rows.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// wereWas is plural with its verb: 1 row was, 2 rows were.
func wereWas(n int, noun string) string {
	if n == 1 {
		return "1 " + noun + " was"
	}
	return plural(n, noun) + " were"
}

func hasContent(r *sheet.Row) bool {
	return r.Has(func(c sheet.Cell) bool {
		return c.Kind != sheet.Blank && strings.TrimSpace(c.Text) != "" || c.NoResult
	})
}

func numbersIn(r *sheet.Row) int {
	n := 0
	for c := range r.Cells() {
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
		b.say("T009", b.at(0, 0), "", "unhide them if you want to see what was read", "%s of %q read like the others", wereWas(hidden, "hidden row"), b.sheet.Name)
	}
	var cols []string
	for _, col := range slices.Sorted(maps.Keys(b.sheet.HiddenCols)) {
		for _, r := range rs {
			for _, c := range r.cols {
				if c.col == col && (c.field >= 0 || c.field == acrossColumn) {
					cols = append(cols, finding.Column(col))
				}
			}
		}
	}
	if len(cols) > 0 {
		b.say("T009", b.at(0, 0), "", "unhide them if you want to see what was read", "hidden column %s of %q was read like the others", strings.Join(cols, ", "), b.sheet.Name)
	}
}
