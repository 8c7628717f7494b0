package bind

import (
	"iter"
	"slices"
	"strings"
	"time"
	"unicode"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// carried is what stands above a cell left blank, by column.
type carried struct {
	value value
	row   int
	said  int // row at which the carrying was last said; 0 when not yet
	name  string
	from  string
	until int
	woods filledWoods // of a load
}

// readRegion reads the rows of one table.
func (b *binder) readRegion(r region) {
	for row := r.headFirst; row <= r.headLast; row++ {
		b.fate(row, r.kind(), compute.NotData, "heading")
	}
	b.saidLoad = false
	b.again = map[sheet.Cell]value{} // another table may read the same cell otherwise
	b.loadAbove, b.loadFrom = b.loadOver(r)
	switch {
	case r.tied != nil:
		b.refuseTied(r)
	case r.grid != nil:
		b.readGrid(r)
	case r.tally != nil:
		b.readPieceGrid(r)
	case r.wide != nil:
		for _, c := range r.cols {
			b.sayColumn(r, c)
		}
		b.readWide(r)
	case r.pairs != nil:
		b.readPairs(r)
	case r.lines != nil:
		b.readLines(r)
	default:
		b.readColumns(r)
	}
}

func (r *region) kind() compute.Kind {
	if r.table == nil {
		return ""
	}
	return r.table.Kind
}

// refuseTied sets the rows of a table aside whose headings fit two kinds equally well.
func (b *binder) refuseTied(r region) {
	n := 0
	for row := range b.rowsBelow(r) {
		b.fate(row.Number, "", compute.SetAside, "kind of table not clear")
		n++
	}
	b.say("T032", b.at(r.headFirst, r.firstCol), "", "write a title above it or name the sheet: "+string(r.table.Kind)+" or "+string(r.tied.Kind),
		"these headings fit a table of %s and one of %s equally well; %s not used", r.table.Kind, r.tied.Kind, wereWas(n, "row"))
}

// readColumns reads a plain table of columns.
func (b *binder) readColumns(r region) {
	b.settleMassUnits(&r)
	for _, c := range r.cols {
		b.sayColumn(r, c)
	}
	s := newSums(r)
	key := sumsKey{b.sheet, r.table.Kind, r.firstCol}
	s.goOn(b.sums[key])
	b.sums[key] = s
	above := map[int]*carried{}
	data, examples, inRow, rest := 0, 0, 0, 0
	b.makeRoom(r)
	for row, cells := range b.rowsBelow(r) {
		if inRow == mostUnreadable {
			b.fate(row.Number, r.table.Kind, compute.SetAside, "not looked at, like the rows before it")
			rest++
			continue
		}
		cells, state := b.passExample(r, row.Number, cells)
		if state == exampleAsIs || state == exampleBegun {
			examples++
			continue
		}
		if why := b.notData(r, cells, s); why != "" {
			b.fate(row.Number, r.table.Kind, compute.NotData, why)
			if why == bareSum {
				b.say("T047", b.at(row.Number, cells[0].Col), "", "nothing to do if it is their sum; else fill the row", "this row holds nothing but the sum of the counts above it and was taken as that")
			}
			if why == "total" || why == bareSum {
				b.checkSums(s, cells)
				b.sayFilled(r, above)
				clear(above)
			}
			continue
		}
		data++
		s.row(b.readRow(r, row, cells, above))
		if inRow++; b.fateOf(row.Number).fate != compute.SetAside {
			inRow = 0
		}
	}
	if rest > 0 {
		b.say("T048", b.at(r.headFirst, r.firstCol), "", "see what the findings of the first rows have in common: a heading over the wrong column, or a column left empty",
			"%d rows in a row of this %s table can't be used; %s set aside unread after them", mostUnreadable, r.table.Kind, wereWas(rest, "row"))
	}
	b.sayFilled(r, above)
	if data == 0 && examples == 0 {
		b.say("T041", b.at(r.headFirst, r.firstCol), "", "nothing to do if nothing was written yet; else put the rows below their headings",
			"no row stands below these headings of a %s table", r.table.Kind)
	}
}

// manyRows is from how many rows on a table is given room for its records beforehand.
const manyRows = 500

// makeRoom makes room for the records of a large table at once: grown step by step, the old and the new would both be held.
func (b *binder) makeRoom(r region) {
	rows := rowIndex(b.sheet, r.until) - rowIndex(b.sheet, r.headLast)
	if rows < manyRows {
		return
	}
	switch r.table.Kind {
	case compute.KindReadings:
		columns := 0
		for _, k := range r.cols {
			if k.field >= 0 && r.table.Fields[k.field].What == aReading {
				columns++
			}
		}
		b.job.Readings = slices.Grow(b.job.Readings, rows*max(columns, 1))
	case compute.KindBoards:
		b.job.Boards = slices.Grow(b.job.Boards, rows)
	}
}

// mostUnreadable is how many rows in a row are tried that can't be used. The rest is then set aside unread: they suffer from the
// same cause, and a thousand messages tell no more than the first.
const mostUnreadable = 200

// settleMassUnits finds columns of weights in which some cells name their unit and the heading names none: there a bare
// number is not read as grams. Where no cell names one, the unit cancels out of every moisture content.
func (b *binder) settleMassUnits(r *region) {
	for i := range r.cols {
		k := &r.cols[i]
		if k.field < 0 || r.table.Fields[k.field].What != aMass || k.unit != cell.UnitNone {
			continue
		}
		for j := range b.sheet.Rows {
			if n := b.sheet.Rows[j].Number; n > r.headLast && n <= r.until {
				c := b.sheet.Cell(n, k.col)
				k.unsaid = k.unsaid || c.Kind == sheet.Text && strings.ContainsFunc(c.Text, unicode.IsLetter) && strings.ContainsAny(c.Text, "0123456789")
			}
		}
	}
}

// sayFilled says which blanks were filled from above.
func (b *binder) sayFilled(r region, above map[int]*carried) {
	for _, c := range r.cols {
		if k := above[c.col]; k != nil && k.said > 0 {
			b.sayOneFilled(c.col, k)
		}
	}
}

func (b *binder) sayOneFilled(col int, k *carried) {
	if b.sayFilledOver(col, k) {
		return
	}
	b.say("T004", b.at(k.said, col), "", "nothing to do if that is what was meant",
		"%s was left blank from here to row %d and taken from row %d: %s", k.name, k.until, k.row, k.from)
}

// sayColumn says what a column was not read for, or read as.
func (b *binder) sayColumn(r region, c column) {
	at := b.at(r.headFirst, c.col)
	switch {
	case c.field == acrossColumn || c.heading == "":
	case c.field == secondOfOne:
		b.say("T034", at, c.heading, "keep one column of "+c.other+", or give the other another heading", "a second column is headed as %s; only the first was read", c.other)
	case c.field == twoFieldNear:
		b.say("T033", at, c.heading, "write the heading out", "the heading %q is as near to %s; the column was not read", c.heading, c.other)
	case c.field == twoUnits:
		b.say("T035", at, c.heading, "correct one of the two", "the heading %q and the unit %q below it name two units; the column was not read", c.heading, c.other)
	case c.field >= 0 && c.near:
		b.say("T002", at, c.heading, "correct the heading if it means something else", "the heading %q was read as %q", c.heading, c.name)
	case c.field == unknownField && b.sayUnread(r, c):
	case c.field == unknownField:
		b.say("T003", at, c.heading, "nothing to do if drytally needn't know it", "the column %q is not one drytally reads", c.heading)
	}
}

// cellsOf gives the cells with content of a row within a region's columns.
func cellsOf(row *sheet.Row, r region) []sheet.Cell {
	cells := make([]sheet.Cell, 0, row.Len())
	for c := range row.Cells() {
		if c.Col >= r.firstCol && c.Col <= r.lastCol && (!cell.Empty(c) || c.NoResult) {
			cells = append(cells, c)
		}
	}
	return cells
}

// rowsBelow gives the rows below a region's headings with their cells, those without content left out.
func (b *binder) rowsBelow(r region) iter.Seq2[*sheet.Row, []sheet.Cell] {
	return func(yield func(*sheet.Row, []sheet.Cell) bool) {
		for i := range b.sheet.Rows {
			row := &b.sheet.Rows[i]
			if row.Number <= r.headLast || row.Number > r.until {
				continue
			}
			if cells := cellsOf(row, r); len(cells) > 0 && !yield(row, cells) {
				return
			}
		}
	}
}

// readCells reads the cells of one row column by column, filling blanks from above where the field allows it.
func (b *binder) readCells(r region, row *sheet.Row, cells []sheet.Cell, above map[int]*carried) *rowValues {
	v := b.freshRow(r, row.Number)
	byCol := b.byCol
	clear(byCol)
	for _, c := range cells {
		byCol[c.Col] = c
	}
	own := 0
	for _, k := range r.cols {
		if _, there := byCol[k.col]; there && k.field >= 0 && r.table.Fields[k.field].What != aText {
			own++
		}
	}
	for _, k := range r.cols {
		if k.field < 0 {
			continue
		}
		f := r.table.Fields[k.field]
		c, there := byCol[k.col]
		switch {
		case !there && f.What == aRun && own <= 1:
			// A row that holds nothing but its number was not measured; it has no length from above.
		case !there && (f.Fill || r.tally != nil && k.name == "green thickness") && above[k.col] != nil && b.mayFill(r, f, byCol):
			up := above[k.col]
			v.set(k.name, up.value)
			v.filled[k.name] = true
			if up.said == 0 {
				up.said = row.Number
			}
			up.until = row.Number
		case there && cell.Ditto(c):
			if up := above[k.col]; up != nil {
				v.set(k.name, up.value)
			} else {
				v.bad[k.name] = true
				b.say("T015", b.at(row.Number, k.col), c.Text, "write the value itself", "there is nothing above that this mark could repeat")
			}
		case there:
			val, ok := b.readAgain(c, k, f)
			up := above[k.col]
			if up != nil && up.said > 0 {
				b.sayOneFilled(k.col, up)
			}
			if !ok {
				v.bad[k.name] = true
				delete(above, k.col) // what could not be read must not be passed over by what stood before it
				continue
			}
			val.where = k.where
			v.set(k.name, val)
			if up == nil {
				up = new(carried)
				above[k.col] = up
			}
			*up = carried{value: val, row: row.Number, name: k.name, from: asShown(c, val)}
		}
	}
	return v
}

// asShown gives what stands in a cell as its reader sees it: of a stored date the day, not its number.
func asShown(c sheet.Cell, v value) string {
	if c.Kind == sheet.Number && !v.date.IsZero() {
		return v.date.Format(time.DateOnly)
	}
	return c.Text
}

// freshRow makes the values of a row with the columns they are read from, which all rows of a table share. What it gives is
// used up before the next row is begun: its room is taken again.
func (b *binder) freshRow(r region, row int) *rowValues {
	if b.byCol == nil {
		b.byCol = map[int]sheet.Cell{}
		b.row = &rowValues{bad: map[string]bool{}, filled: map[string]bool{}}
	}
	v := b.row
	clear(v.at)
	clear(v.bad)
	clear(v.filled)
	v.names, v.at, v.shared = v.names[:0], v.at[:0], true
	v.origin = compute.Origin{Table: b.tableFor(r), Row: row}
	return v
}

// mayFill reports whether a blank may be filled from above: within a sale only, where a sale's number has a column.
func (b *binder) mayFill(r region, f Field, byCol map[int]sheet.Cell) bool {
	if f.Within == "" {
		return true
	}
	for _, k := range r.cols {
		if k.field >= 0 && k.name == f.Within {
			_, own := byCol[k.col]
			return !own
		}
	}
	return true
}

// readRow reads one data row and makes its records.
func (b *binder) readRow(r region, row *sheet.Row, cells []sheet.Cell, above map[int]*carried) *rowValues {
	v := b.readCells(r, row, cells, above)
	b.noteWood(v, above)
	b.fillLoad(r, v)
	why := ""
	for _, f := range r.table.Fields {
		if !f.Required || v.has(f.Name) {
			continue
		}
		why = f.Name + " missing"
		if v.bad[f.Name] {
			why = f.Name + " not readable"
			break
		}
		b.say("T001", b.at(row.Number, v.origin.Cols()[f.Name]), "", "fill the cell, or clear the row if it is not meant",
			"this row of the %s table has no %s", r.table.Kind, f.Name)
		break
	}
	if why == "" {
		why = b.make(r.table.Kind, v)
	} else if r.table.Kind == compute.KindReadings && v.bad["reading"] {
		// The board is there and was read, whatever the meter said.
		b.job.Unread = append(b.job.Unread, compute.Unread{Origin: v.origin, Board: v.text("board"), Load: v.text("load"), Course: v.count("course"), Spot: v.count("spot")})
	}
	if why != "" {
		b.fate(row.Number, r.table.Kind, compute.SetAside, why)
		return v
	}
	b.fate(row.Number, r.table.Kind, compute.Used, "")
	return v
}

// fillLoad gives a row that names no load the one its title or sheet names, and says so once for a table.
func (b *binder) fillLoad(r region, v *rowValues) {
	if r.table.Kind == compute.KindLoads || r.table.field("load") < 0 || v.has("load") || v.bad["load"] {
		return
	}
	if b.loadAbove == "" {
		return
	}
	v.set("load", value{text: b.loadAbove})
	if !b.saidLoad {
		b.saidLoad = true
		b.sayLoad(v.origin.Row, b.loadAbove, b.loadFrom)
	}
}

func (b *binder) sayLoad(row int, load, from string) {
	b.say("T038", b.at(row, 0), "", "nothing to do if that is so; else write the load beside the rows", "rows that name no load were taken as of load %q, which %s names", load, from)
}
