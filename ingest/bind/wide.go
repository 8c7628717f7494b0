package bind

import (
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// wide is a table whose headings across are values: dates with a weight or a reading under each, or the numbers of the
// samples with a weight under each.
type wide struct {
	field  string // what the cells hold: weight or reading
	by     string // what the headings across are: date, or sample
	unit   cell.Unit
	across []acrossHead
}

type acrossHead struct {
	col  int
	cell sheet.Cell
	date time.Time
	bad  bool // the heading can't be read as a date
}

func (w *wide) dates() bool { return w.by == "date" }

// findWide looks for a table with dates across in row i: text headings of which one names the sample or board, and a date
// in one column at least.
func (b *binder) findWide(s *sheet.Sheet, i int) (region, bool) {
	row := &s.Rows[i]
	var heads []heading
	w := &wide{by: "date"}
	for c := range row.Cells() {
		switch {
		case cell.Empty(c):
		case b.dateHeading(c):
			w.across = append(w.across, acrossHead{col: c.Col, cell: c})
		case c.Kind != sheet.Text || len([]rune(c.Text)) > longestHeading:
			return region{}, false
		default:
			h := heading{col: c.Col, upper: c.Text}
			h.both = spell(c.Text)
			heads = append(heads, h)
		}
	}
	title := titleAbove(s, i)
	if len(w.across) == 0 {
		return b.findSamplesAcross(s, i, heads, title)
	}
	if len(heads) == 0 {
		return region{}, false
	}
	best, bestScore := region{}, 0
	for _, k := range []struct {
		kind       compute.Kind
		row, field string
	}{{compute.KindWeights, "sample", "weight"}, {compute.KindReadings, "board", "reading"}} {
		table := tableOf(k.kind)
		r, score, _ := fit(table, heads, false)
		known := 0
		for _, c := range r.cols {
			if c.field >= 0 {
				known++
			}
		}
		if known*2 < len(heads) || !slices.ContainsFunc(r.cols, func(c column) bool { return c.name == k.row }) || slices.ContainsFunc(r.cols, func(c column) bool { return c.name == k.field }) {
			continue
		}
		score += 2*weighMatch + weighTell
		if speaksFor(table, s.Name) {
			score += weighName
		}
		if speaksFor(table, title) {
			score += weighTitle
		}
		switch {
		case score > bestScore:
			of := *w
			of.field = k.field
			best, bestScore = r, score
			best.wide, best.tied = &of, nil
		case score == bestScore:
			best.tied = table
		}
	}
	if bestScore == 0 {
		return region{}, false
	}
	return b.placedWide(best, s, i, title), true
}

// placedWide gives a wide region its place, title and unit.
func (b *binder) placedWide(r region, s *sheet.Sheet, i int, title string) region {
	r.headFirst, r.headLast, r.title = s.Rows[i].Number, s.Rows[i].Number, title
	for _, a := range r.wide.across {
		r.cols = append(r.cols, column{col: a.col, field: acrossColumn})
		r.firstCol, r.lastCol = min(r.firstCol, a.col), max(r.lastCol, a.col)
	}
	if r.wide.field == "weight" {
		r.wide.unit = massUnitIn(title)
	}
	if i+1 < len(s.Rows) && s.Rows[i+1].Number == s.Rows[i].Number+1 {
		if cells := cellsOf(&s.Rows[i+1], r); len(cells) > 0 && isUnitRow(cells) {
			r.headLast = s.Rows[i+1].Number
			for _, c := range cells {
				u, ok := unitOf(c.Text)
				for k := range r.cols {
					if ok && r.cols[k].col == c.Col && r.cols[k].field == acrossColumn {
						r.wide.unit = u
					} else if ok && r.cols[k].col == c.Col {
						r.cols[k].unit = u
					}
				}
			}
		}
	}
	return r
}

// massUnitIn finds a unit of weight in a title: "weights in grams", "weight (lb)".
func massUnitIn(title string) cell.Unit {
	unit := cell.UnitNone
	for _, f := range headingFields(title) {
		switch u := unitWords[f]; u {
		case cell.Gram, cell.Kilogram, cell.Pound, cell.OunceUnit:
			if unit != cell.UnitNone && unit != u {
				return cell.UnitNone
			}
			unit = u
		}
	}
	return unit
}

// dateHeading reports whether a cell can be a date, whatever the file settles about its order and year.
func (b *binder) dateHeading(c sheet.Cell) bool {
	if c.Kind == sheet.Number && c.Format != sheet.Date && c.Format != sheet.DateTime {
		return false
	}
	if c.Kind != sheet.Number && (c.Kind != sheet.Text || !strings.ContainsAny(c.Text, "0123456789") || len(c.Text) > 32) {
		return false
	}
	x := cell.Context{Date1904: b.book.Date1904, Year: 2000, DayFirst: cell.MonthFirst, Column: "date"}
	if t, p := cell.Date(c, x); len(p) == 0 && !t.IsZero() {
		return true
	}
	x.DayFirst = cell.DayFirst
	t, p := cell.Date(c, x)
	return len(p) == 0 && !t.IsZero()
}

// findSamplesAcross looks for a table of weights with dates down and the samples across: the first heading is the date, all
// others are short names with a digit in them, and sheet or title speak of weights.
func (b *binder) findSamplesAcross(s *sheet.Sheet, i int, heads []heading, title string) (region, bool) {
	table := tableOf(compute.KindWeights)
	if len(heads) < 3 || !speaksFor(table, s.Name) && !speaksFor(table, title) {
		return region{}, false
	}
	w := &wide{by: "sample", field: "weight"}
	r := region{table: table, firstCol: heads[0].col, lastCol: heads[len(heads)-1].col, wide: w}
	for k, h := range heads {
		c := table.column(h, false)
		switch {
		case k == 0:
			if c.field < 0 || table.Fields[c.field].What != aDate {
				return region{}, false
			}
			c.name = table.Fields[c.field].Name
			r.cols = append(r.cols, c)
		case c.field >= 0 && table.Fields[c.field].Name == "note":
			c.name = "note"
			r.cols = append(r.cols, c)
		case c.field >= 0, len(h.upper) > 12, !strings.ContainsAny(h.upper, "0123456789"):
			return region{}, false
		default:
			w.across = append(w.across, acrossHead{col: h.col, cell: s.Cell(s.Rows[i].Number, h.col)})
		}
	}
	if len(w.across) < 2 {
		return region{}, false
	}
	return b.placedWide(r, s, i, title), true
}

// readWide reads a table whose headings across are values.
func (b *binder) readWide(r region) {
	w := r.wide
	for i := range w.across {
		a := &w.across[i]
		if !w.dates() {
			continue
		}
		var ps []cell.Problem
		a.date, ps = cell.Date(a.cell, b.context("date", cell.UnitNone, cell.UnitNone))
		a.bad = !b.problems(a.cell, ps) || a.date.IsZero()
	}
	f := r.table.Fields[r.table.field(w.field)]
	above := map[int]*carried{}
	for row, cells := range b.rowsBelow(r) {
		if why := b.notData(r, cells, nil); why != "" {
			b.fate(row.Number, r.table.Kind, compute.NotData, why)
			continue
		}
		fixed := b.readCells(r, row, cells, above)
		b.fillLoad(r, fixed)
		need := r.table.Fields[0].Name // sample or board
		if !w.dates() {
			need = "date"
		}
		if !fixed.has(need) {
			if !fixed.bad[need] {
				b.say("T001", b.at(row.Number, fixed.origin.Cols()[need]), "", "fill the cell, or clear the row if it is not meant", "this row of the %s table has no %s", r.table.Kind, need)
			}
			b.fate(row.Number, r.table.Kind, compute.SetAside, need+" missing or not readable")
			continue
		}
		made, why := b.makeWide(r, f, fixed, cells)
		switch {
		case made > 0:
			b.fate(row.Number, r.table.Kind, compute.Used, "")
		case why != "":
			b.fate(row.Number, r.table.Kind, compute.SetAside, why)
		default:
			b.fate(row.Number, r.table.Kind, compute.NotData, "no "+w.field+" written yet")
		}
	}
	b.sayFilled(r, above)
}

// makeWide makes the records of one row of a wide table: one of what its own columns hold, one of every filled cell across.
func (b *binder) makeWide(r region, f Field, fixed *rowValues, cells []sheet.Cell) (made int, why string) {
	w := r.wide
	if fixed.has("section wet") || fixed.has("section ovendry") {
		if why = b.makeWeight(fixed); why == "" {
			made++
		}
	}
	for _, a := range w.across {
		k := slices.IndexFunc(cells, func(c sheet.Cell) bool { return c.Col == a.col })
		if k < 0 {
			continue
		}
		if a.bad {
			why = "the date above can't be read"
			b.say(finding.CellDate, b.at(cells[k].Row, a.col), cells[k].Text, "correct the date above", "this %s was not used, because the date above it can't be read", w.field)
			continue
		}
		val, ok := b.read(cells[k], column{col: a.col, unit: w.unit}, f)
		if !ok {
			why = w.field + " not readable"
			continue
		}
		v := fixed.only(r.table.Fields[0].Name, "load", "note", "date", "wood temperature", "where", "depth")
		v.setCol(w.field, a.col)
		v.set(w.field, val)
		if w.dates() {
			v.set("date", value{date: a.date})
		} else {
			v.set("sample", value{text: strings.TrimSpace(a.cell.Text)})
			v.setCol("sample", a.col)
		}
		if problem := b.make(r.table.Kind, v); problem != "" {
			why = problem
			continue
		}
		made++
	}
	return made, why
}
