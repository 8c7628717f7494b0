package bind

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// fate records what became of a row. A row that is part of two tables counts once: set aside before used before not data.
// A row that holds nothing has none.
func (b *binder) fate(row int, kind compute.Kind, f compute.Fate, why string) {
	i := rowIndex(b.sheet, row)
	if i >= len(b.sheet.Rows) || b.sheet.Rows[i].Number != row {
		return
	}
	all := b.fates[b.sheet]
	if all == nil {
		all = newFates(len(b.sheet.Rows))
		b.fates[b.sheet] = all
	}
	if old := all.at(i); !old.claimed || f > old.fate {
		all.set(i, rowFate{claimed: true, kind: kind, fate: f, why: why})
	}
}

// fateOf gives what became of a row so far.
func (b *binder) fateOf(row int) rowFate {
	if i := rowIndex(b.sheet, row); b.fates[b.sheet] != nil && i < len(b.sheet.Rows) && b.sheet.Rows[i].Number == row {
		return b.fates[b.sheet].at(i)
	}
	return rowFate{}
}

// rowFate is what became of a row so far.
type rowFate struct {
	claimed bool // false: nobody said anything of it yet
	kind    compute.Kind
	fate    compute.Fate
	why     string
}

// fates is what became of the rows of a sheet so far. A large table has many rows and few fates.
type fates struct {
	of    []int32 // by row, in the order of the sheet's rows: which of all
	all   []rowFate
	known map[rowFate]int32
}

func newFates(rows int) *fates {
	return &fates{of: make([]int32, rows), all: make([]rowFate, 1), known: map[rowFate]int32{}}
}

func (f *fates) at(row int) rowFate { return f.all[f.of[row]] }

func (f *fates) set(row int, to rowFate) {
	i, ok := f.known[to]
	if !ok {
		i = int32(len(f.all))
		f.known[to] = i
		f.all = append(f.all, to)
	}
	f.of[row] = i
}

// emptySetting is why the row of a setting without a value is no data.
const emptySetting = "setting left empty"

// account closes the sheet: every row with content has a fate, and a sheet or row nobody claimed is said.
func (b *binder) account(rs []region) {
	tables := len(rs) > 0
	rows, unread, first := 0, 0, 0
	for i := range b.sheet.Rows {
		r := &b.sheet.Rows[i]
		if !hasContent(r) {
			continue
		}
		rows++
		switch f := b.fateOf(r.Number); {
		case f.fate == compute.Used || f.why == emptySetting:
			tables = true
		case f.claimed:
		case numbersIn(r) > 1:
			b.fate(r.Number, "", compute.SetAside, "numbers outside any table")
			if unread++; first == 0 {
				first = r.Number
			}
		default:
			b.fate(r.Number, "", compute.NotData, titleOrNote)
		}
	}
	own := ownSheet(b.sheet)
	lost := false // rows of data stand under no heading
	switch {
	case rows == 0 || !tables && own != "":
	case !tables:
		lost = b.sayNoTable(rows)
	case unread > 0:
		b.say("T014", b.at(first, 0), "", "put them under a heading row, or ignore this if they are not for drytally",
			"%s of %q from here on hold numbers but stand under no heading that is known", plural(unread, "row"), b.sheet.Name)
	}
	a := compute.Account{File: b.book.Name, Sheet: b.sheet.Name}
	for i := range b.sheet.Rows {
		r := &b.sheet.Rows[i]
		if !hasContent(r) {
			continue
		}
		f := b.fateOf(r.Number)
		switch {
		case !tables && own != "":
			f = rowFate{fate: compute.NotData, why: own}
		case lost && f.kind == "" && f.why == titleOrNote && looksLikeData(r):
			f.fate, f.why = compute.SetAside, "no table recognized"
		}
		a.Rows.Add(compute.RowFate{Row: r.Number, Kind: f.kind, Fate: f.fate, Why: f.why})
	}
	delete(b.fates, b.sheet)
	b.job.Accounts = append(b.job.Accounts, a)
}

// titleOrNote is why a row outside all tables is no data.
const titleOrNote = "title or note"

// looksLikeData reports whether a row outside all tables must not be passed off as a note.
func looksLikeData(r *sheet.Row) bool { return filledIn(r) >= 2 && digitsIn(r) || figuresIn(r) >= 2 }

// sayNoTable says that a sheet holds cells and no table: an error where its name or its look promises one, a note where it
// is a page of notes. It reports whether the sheet was taken for more than notes.
func (b *binder) sayNoTable(rows int) bool {
	const headings = "give its columns headings such as board, thickness, width, reading"
	kind := b.speaksForAny()
	switch {
	case kind != "":
		b.say("T042", b.at(0, 0), "", headings+"; the README lists them",
			"%q is named like a sheet of the kind %q, but no table could be recognized in its %s; none was used%s", b.sheet.Name, kind, plural(rows, "row"), b.readWith())
	case tabular(b.sheet) || figureRows(b.sheet) >= leastFigureRows:
		b.say("T008", b.at(0, 0), "", headings+", or leave the sheet as it is if it is not for drytally",
			"no table on %q could be recognized by its headings; its %s not used%s", b.sheet.Name, wereWas(rows, "row"), b.readWith())
	default:
		b.say("T043", b.at(0, 0), "", "nothing to do if these are notes", "no table stands on %q; its %s taken as notes%s", b.sheet.Name, wereWas(rows, "row"), b.readWith())
		return false
	}
	return true
}

// readWith names the files that a CSV file was read with as one set; "" when there are none.
func (b *binder) readWith() string {
	const most = 6
	var others []string
	for _, f := range b.job.Files {
		if f.Name != b.book.Name {
			others = append(others, f.Name)
		}
	}
	if n := len(others) - most; n > 0 {
		others = append(others[:most], plural(n, "other"))
	}
	if len(others) == 0 {
		return ""
	}
	return "; it was read as one set with " + strings.Join(others, ", ")
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

// longestInList is how long a line of a list is at the most; what is longer is a paragraph.
const longestInList = 150

// figureRows counts the rows whose text holds two figures or more. A paragraph alone in its row is none of a list.
func figureRows(s *sheet.Sheet) int {
	n := 0
	for i := range s.Rows {
		if r := &s.Rows[i]; figuresIn(r) >= 2 && !(r.Len() == 1 && r.Has(func(c sheet.Cell) bool { return utf8.RuneCountInString(c.Text) > longestInList })) {
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
