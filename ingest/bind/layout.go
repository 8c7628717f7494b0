package bind

import (
	"slices"
	"strings"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// column is a column of a region that a heading names. field is an index into the table's fields, or one of the marks
// below.
type column struct {
	col     int
	field   int
	name    string // field name, numbered from the second on: "dry thickness 2"
	unit    cell.Unit
	heading string // as written
	near    bool   // the heading is only a near miss of one the table knows
	unsaid  bool   // weights: the heading names no unit and some cells do, so that a bare number could be either
	where   string // readings: the place on the board that the heading names
	other   string // what a message about an unread column needs: the fields it may mean, or the two units
}

// Why a column is not read.
const (
	unknownField = -1 // no field goes by that heading
	secondOfOne  = -2 // the field has a column already and can have only one
	twoFieldNear = -3 // the heading is equally near to two known ones
	twoUnits     = -4 // heading and unit row name different units
	acrossColumn = -5 // its heading is a value: a date, a length or a sample's number (see wide)
)

// region is one table found on a sheet: heading rows and the rows below that belong to it.
type region struct {
	table             *Table
	tied              *Table // another kind that the headings fit equally well
	headFirst         int    // row numbers of the heading
	headLast          int
	firstCol, lastCol int
	until             int // last row number that may belong to it
	cols              []column
	title             string
	// At most one of these says that the region is no plain table of columns.
	grid  *grid
	wide  *wide
	tally *pieceGrid
	pairs *pairs
	lines *lines
}

// ends reports whether the shape of the region says itself where it ends.
func (r *region) ends() bool {
	return r.grid != nil || r.tally != nil || r.pairs != nil || r.lines != nil
}

// longestHeading is how many characters a heading may have; longer text is a title or a note.
const longestHeading = 48

// firstRows is among how many rows with content the first heading of a sheet must stand. Further down a table has others
// above it, and its heading may stand anywhere.
const firstRows = 500

// findRegions finds every table of a sheet, from top to bottom.
func (b *binder) findRegions(s *sheet.Sheet) []region {
	var found []region
	looked := 0
	for i := 0; i < len(s.Rows); i++ {
		row := &s.Rows[i]
		if !hasContent(row) {
			continue
		}
		if looked++; looked > firstRows && len(found) == 0 {
			break // a heading stands among the first rows, or nowhere
		}
		heads := 2
		if looked > firstRows {
			heads = headingsIn(row)
		}
		if r, ok := findGrid(s, i); ok {
			found = append(found, r)
			i = rowIndex(s, r.until)
			continue
		}
		if heads == 0 {
			continue
		}
		if r, ok := b.findPieceGrid(s, i); ok {
			found = append(found, r)
			i = rowIndex(s, r.until)
			continue
		}
		if r, ok := b.findWide(s, i); ok {
			found = append(found, r)
			continue
		}
		if heads < 2 {
			continue
		}
		regions := headingRow(s, i, false)
		if i+1 < len(s.Rows) && s.Rows[i+1].Number == row.Number+1 && headingLike(&s.Rows[i+1]) {
			// Two lines are one heading only when both tell more together than either alone: a title above is no heading.
			if two := headingRow(s, i, true); matches(two) > matches(regions) && matches(two) > matches(headingRow(s, i+1, false)) {
				regions = two
				i++
			}
		}
		if len(regions) > 0 && i+1 < len(s.Rows) && s.Rows[i+1].Number == s.Rows[i].Number+1 && takeUnitRow(&s.Rows[i+1], regions) {
			i++
		}
		found = append(found, regions...)
	}
	// A region ends above the next one that shares a column with it.
	for i := range found {
		if found[i].ends() {
			continue
		}
		found[i].until = lastRow(s)
		for _, next := range found[i+1:] {
			if next.headFirst > found[i].headLast && next.firstCol <= found[i].lastCol && next.lastCol >= found[i].firstCol {
				found[i].until = next.headFirst - 1
				break
			}
		}
	}
	return found
}

func lastRow(s *sheet.Sheet) int {
	if len(s.Rows) == 0 {
		return 0
	}
	return s.Rows[len(s.Rows)-1].Number
}

func rowIndex(s *sheet.Sheet, number int) int {
	i, _ := slices.BinarySearchFunc(s.Rows, number, func(r sheet.Row, n int) int { return r.Number - n })
	return min(i, len(s.Rows)-1)
}

func matches(rs []region) int {
	n := 0
	for _, r := range rs {
		for _, c := range r.cols {
			if c.field >= 0 && !c.near {
				n++
			}
		}
	}
	return n
}

// headingLike reports whether a row could be the second line of a heading: it has text and no number.
func headingLike(r *sheet.Row) bool {
	text := false
	for c := range r.Cells() {
		switch c.Kind {
		case sheet.Text:
			if len(c.Text) > longestHeading {
				return false
			}
			text = text || !cell.Empty(c)
		case sheet.Number, sheet.ErrorValue, sheet.Bool:
			return false
		}
	}
	return text
}

// heading is the text above one column.
type heading struct {
	col          int
	upper, lower string
	both, under  spelled // both lines together, and the lower line alone
}

func (h heading) written() string { return strings.TrimSpace(h.upper + " " + h.lower) }

// headingRow reads row i (and i+1 when two is set) as headings and returns the tables they head, if any.
func headingRow(s *sheet.Sheet, i int, two bool) []region {
	heads := headingsOf(s, i, two)
	if len(heads) < 2 || !slices.ContainsFunc(heads, func(h heading) bool { return anyKnows(h.both) || anyKnows(h.under) }) {
		return nil
	}
	title := titleAbove(s, i)
	if r, ok := bestTable(s, heads, title); ok && !repeated(r) && len(repeats(heads)) == 1 {
		return []region{placed(r, s, i, two, title)}
	}
	// Not one table: try the blocks that blank columns part, and those that begin with the same heading.
	var found []region
	for _, block := range blocks(heads) {
		over := titleOver(s, i, block)
		if r, ok := bestTable(s, block, over); ok {
			found = append(found, placed(r, s, i, two, over))
		}
	}
	return found
}

func placed(r region, s *sheet.Sheet, i int, two bool, title string) region {
	r.headFirst, r.headLast = s.Rows[i].Number, s.Rows[i].Number
	if two {
		r.headLast = s.Rows[i+1].Number
	}
	r.title = title
	settleMeter(&r, s)
	return r
}

// headingsOf collects the headings of row i; with two, those of row i and i+1 joined, a merged upper heading standing
// over all its columns.
func headingsOf(s *sheet.Sheet, i int, two bool) []heading {
	at := map[int]*heading{}
	row := s.Rows[i]
	spread := two || i+1 == len(s.Rows) || !headingLike(&s.Rows[i+1])
	put := func(col int, text string, lower bool) {
		h := at[col]
		if h == nil {
			h = &heading{col: col}
			at[col] = h
		}
		if lower {
			h.lower = text
		} else {
			h.upper = text
		}
	}
	for c := range row.Cells() {
		if c.Kind != sheet.Text || cell.Empty(c) {
			if c.Kind == sheet.Number || c.Kind == sheet.ErrorValue {
				return nil
			}
			continue
		}
		if len([]rune(c.Text)) > longestHeading {
			return nil
		}
		put(c.Col, c.Text, false)
		// A merged heading stands over all its columns, unless the line below it tells them apart.
		for _, m := range s.Merges {
			if spread && m.FirstRow <= row.Number && row.Number <= m.LastRow && m.FirstCol == c.Col {
				for col := m.FirstCol + 1; col <= m.LastCol; col++ {
					put(col, c.Text, false)
				}
			}
		}
	}
	if two {
		for c := range s.Rows[i+1].Cells() {
			if c.Kind == sheet.Text && !cell.Empty(c) {
				put(c.Col, c.Text, true)
			}
		}
	}
	var heads []heading
	for _, h := range at {
		h.both = spell(h.written())
		if h.lower != "" {
			h.under = spell(h.lower)
		}
		heads = append(heads, *h)
	}
	slices.SortFunc(heads, func(a, b heading) int { return a.col - b.col })
	return heads
}

// blocks parts headings where a column is left blank between them.
func blocks(heads []heading) [][]heading {
	var out [][]heading
	for i, h := range heads {
		if i == 0 || h.col > heads[i-1].col+1 {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], h)
	}
	var parted [][]heading
	for _, block := range out {
		parted = append(parted, repeats(block)...)
	}
	return parted
}

// repeats parts a block in which the first two headings come again in the same order: two tables that touch.
func repeats(block []heading) [][]heading {
	var out [][]heading
	for i, h := range block {
		again := i > 0 && i+1 < len(block) && h.both.words == block[0].both.words && block[i+1].both.words == block[1].both.words
		if i == 0 || again {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], h)
	}
	return out
}

func tableOf(k compute.Kind) *Table {
	for i := range Tables {
		if Tables[i].Kind == k {
			return &Tables[i]
		}
	}
	panic("bind: no table for kind " + string(k))
}
