package bind

import (
	"drytally/compute"
	"drytally/ingest/sheet"
)

// A season's workbook has half a million cells, most of which say what another did: what they come to is kept once. Nothing that is
// shared here is changed afterwards; a row that needs columns of its own copies them first (rowValues.setCol).

// mostAlike is how many cells of a table are known again.
const mostAlike = 500

// readAgain is read for the cells of a table. Down a column they repeat: one of which nothing had to be said is not read again.
func (b *binder) readAgain(c sheet.Cell, k column, f Field) (value, bool) {
	if f.What == anIDList || f.What == aCutOut || f.What.money() {
		return b.read(c, k, f) // what it says is each row's own
	}
	alike := c
	alike.Row = 0
	if v, known := b.again[alike]; known {
		return v, true
	}
	said := len(b.job.Findings)
	v, ok := b.read(c, k, f)
	if ok && len(b.job.Findings) == said {
		if len(b.again) == mostAlike {
			clear(b.again)
		}
		b.again[alike] = v
	}
	return v, ok
}

// origin gives the origin of a record of one row, its columns still to be named.
func (b *binder) origin(row int) compute.Origin {
	return compute.Origin{Table: b.table(map[string]int{}), Row: row}
}

// table gives a table of the sheet being read, whose fields stand in these columns.
func (b *binder) table(cols map[string]int) *compute.Table {
	at := b.at(0, 0)
	return &compute.Table{File: at.File, Sheet: at.Sheet, Cols: cols}
}

// tableFor gives the table of a region, which the records of all its rows share.
func (b *binder) tableFor(r region) *compute.Table {
	id := tableKey{b.sheet, r.headFirst, r.firstCol}
	table, made := b.tables[id]
	if !made {
		cols := map[string]int{}
		for _, k := range r.cols {
			if k.field >= 0 {
				cols[k.name] = k.col
			}
		}
		table = b.table(cols)
		if b.tables == nil {
			b.tables = map[tableKey]*compute.Table{}
		}
		b.tables[id] = table
	}
	return table
}

// tableKey names a table by where its heading stands.
type tableKey struct {
	sheet         *sheet.Sheet
	row, firstCol int
}

// mostTakings is how many ways readings were taken are known again.
const mostTakings = 1000

// taking gives the Taking that readings taken alike share.
func (b *binder) taking(how compute.Taking) *compute.Taking {
	if known := b.takings[how]; known != nil {
		return known
	}
	if b.takings == nil || len(b.takings) == mostTakings {
		b.takings = map[compute.Taking]*compute.Taking{}
	}
	kept := how
	b.takings[how] = &kept
	return &kept
}
