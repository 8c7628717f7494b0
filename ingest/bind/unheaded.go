package bind

import (
	"maps"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// unheaded is the words in a column without a heading, beside rows that were used.
type unheaded struct {
	row, cells int
	stands     string
}

// sayUnheaded says which cells of used rows were not read because no heading stands over them. A figure there may be a
// reading, so it is an error and the papers of its row wait; a word is a note.
func (b *binder) sayUnheaded(rs []region) {
	found := map[int]*unheaded{}
	for i := range b.sheet.Rows {
		row := &b.sheet.Rows[i]
		if b.fateOf(row.Number).fate != compute.Used {
			continue
		}
		for c := range row.Cells() {
			if cell.Empty(c) || headed(rs, row.Number, c.Col) {
				continue
			}
			if c.Kind == sheet.Number || strings.ContainsAny(c.Text, "0123456789") {
				// Every row with a figure is touched, so that no paper rests on it unseen.
				b.say("T045", b.at(row.Number, c.Col), c.Text, "write a heading over the column, or move the figure into the note",
					"%q stands under no heading and was not read", c.Text)
				continue
			}
			if found[c.Col] == nil {
				found[c.Col] = &unheaded{row: row.Number, stands: c.Text}
			}
			found[c.Col].cells++
		}
	}
	for _, col := range slices.Sorted(maps.Keys(found)) {
		u := found[col]
		b.say("T046", b.at(u.row, col), u.stands, "nothing to do if drytally needn't know it", "%s in this column under no heading and not read", wereWas(u.cells, "cell"))
	}
}

// headed reports whether a cell stands in a table that is no plain table of columns, or under a heading, whether that
// heading is one drytally reads or not.
func headed(rs []region, row, col int) bool {
	plain := false
	for i := range rs {
		r := &rs[i]
		if row <= r.headLast || row > r.until {
			continue
		}
		if r.grid != nil || r.wide != nil || r.tally != nil || r.pairs != nil || r.lines != nil {
			return true
		}
		plain = true
		if slices.ContainsFunc(r.cols, func(k column) bool { return k.col == col && (k.heading != "" || k.field >= 0) }) {
			return true
		}
	}
	return !plain // settings and other rows outside every table have their own words
}
