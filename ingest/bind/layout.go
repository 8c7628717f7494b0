package bind

import (
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// column is a column of a region that a heading names. field is an index into the table's fields, or -1 when no field
// goes by that heading.
type column struct {
	col     int
	field   int
	name    string // field name, numbered from the second on: "dry thickness 2"
	unit    cell.Unit
	heading string // as written
	near    bool   // the heading is only a near miss of one the table knows
}

// region is one table found on a sheet: heading rows and the rows below that belong to it.
type region struct {
	table             *Table
	headFirst         int // row numbers of the heading
	headLast          int
	firstCol, lastCol int
	until             int // last row number that may belong to it
	cols              []column
	grid              *grid // readings as a grid instead of columns
	title             string
}

// longestHeading is how many characters a heading may have; longer text is a title or a note.
const longestHeading = 48

// findRegions finds every table of a sheet, from top to bottom.
func findRegions(s *sheet.Sheet) []region {
	var found []region
	for i := 0; i < len(s.Rows); i++ {
		row := &s.Rows[i]
		if g, ok := findGrid(s, i); ok {
			found = append(found, g)
			i = rowIndex(s, g.grid.lastRow)
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
		found = append(found, regions...)
	}
	// A region ends above the next one that shares a column with it.
	for i := range found {
		found[i].until = lastRow(s)
		if found[i].grid != nil {
			found[i].until = found[i].grid.lastRow
			continue
		}
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
	for i := range s.Rows {
		if s.Rows[i].Number >= number {
			return i
		}
	}
	return len(s.Rows) - 1
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
	for _, c := range r.Cells {
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
	col           int
	upper, lower  string
	words, alone  string // normal form of both lines together, and of the lower line alone
	unit, onlyUni cell.Unit
}

// headingRow reads row i (and i+1 when two is set) as headings and returns the tables they head, if any.
func headingRow(s *sheet.Sheet, i int, two bool) []region {
	heads := headingsOf(s, i, two)
	if len(heads) < 2 {
		return nil
	}
	title := titleAbove(s, i)
	if r, ok := bestTable(s, heads, title); ok && !repeated(r) {
		return []region{placed(r, s, i, two, title)}
	}
	// Not one table: try the blocks that blank columns part.
	var found []region
	for _, block := range blocks(heads) {
		if r, ok := bestTable(s, block, title); ok {
			found = append(found, placed(r, s, i, two, titleOver(s, i, block)))
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
	return r
}

// headingsOf collects the headings of row i; with two, those of row i and i+1 joined, a merged upper heading standing
// over all its columns.
func headingsOf(s *sheet.Sheet, i int, two bool) []heading {
	at := map[int]*heading{}
	row := s.Rows[i]
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
	for _, c := range row.Cells {
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
		if two {
			for _, m := range s.Merges {
				if m.FirstRow <= row.Number && row.Number <= m.LastRow && m.FirstCol == c.Col {
					for col := m.FirstCol + 1; col <= m.LastCol; col++ {
						put(col, c.Text, false)
					}
				}
			}
		}
	}
	if two {
		for _, c := range s.Rows[i+1].Cells {
			if c.Kind == sheet.Text && !cell.Empty(c) {
				put(c.Col, c.Text, true)
			}
		}
	}
	var heads []heading
	for _, h := range at {
		h.words, h.unit = headingWords(strings.TrimSpace(h.upper + " " + h.lower))
		if h.lower != "" {
			h.alone, h.onlyUni = headingWords(h.lower)
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
	return out
}

// Weights of the choice between kinds of table. They only order the candidates: a heading that is known counts most, one
// that only this kind has counts extra, and the sheet's own name settles the rest.
const (
	weighMatch = 2
	weighTell  = 2
	weighName  = 5
	weighTitle = 4
	weighMiss  = -1
)

// bestTable finds the kind of table whose fields fit the headings best, if any fits at all.
func bestTable(s *sheet.Sheet, heads []heading, title string) (region, bool) {
	best, bestScore := region{}, 0
	for t := range Tables {
		table := &Tables[t]
		r := region{table: table, firstCol: heads[0].col, lastCol: heads[len(heads)-1].col}
		seen := map[int]int{}
		score, known := 0, 0
		for _, h := range heads {
			c := column{col: h.col, field: -1, unit: h.unit, heading: strings.TrimSpace(h.upper + " " + h.lower)}
			words := h.words
			c.field, c.near = table.match(words, c.heading)
			if (c.field < 0 || c.near) && h.alone != "" {
				if f, near := table.match(h.alone, h.lower); f >= 0 && !near {
					c.field, c.near = f, false
					if h.onlyUni != cell.UnitNone {
						c.unit = h.onlyUni
					}
				}
			}
			if (c.field < 0 || c.near) && h.lower != "" && h.upper != "" {
				if up, unit := headingWords(h.upper); up != "" {
					if _, isUnit := unitWords[strings.ToLower(strings.Trim(h.lower, "()[]. "))]; isUnit {
						if f, near := table.match(up, h.upper); f >= 0 {
							c.field, c.near = f, near
							if c.unit == cell.UnitNone {
								c.unit = unit
							}
						}
					}
				}
			}
			if c.field >= 0 {
				f := table.Fields[c.field]
				seen[c.field]++
				if n := seen[c.field]; n > 1 {
					if !f.Many {
						r.cols = append(r.cols, column{col: h.col, field: -2, heading: c.heading})
						score += weighMiss
						continue
					}
					c.name = f.Name + " " + strconv.Itoa(n)
				} else {
					c.name = f.Name
					if slices.Contains(table.Tells, f.Name) {
						score += weighTell
					}
				}
				if c.near {
					score++
				} else {
					score += weighMatch
				}
				known++
			} else {
				score += weighMiss
			}
			r.cols = append(r.cols, c)
		}
		if known < 2 || known*2 < len(heads) || !table.satisfied(seen) {
			continue
		}
		if speaksFor(table, s.Name) {
			score += weighName
		}
		if speaksFor(table, title) {
			score += weighTitle
		}
		if score > bestScore {
			best, bestScore = r, score
		}
	}
	return best, bestScore > 0
}

// repeated reports whether a field that can have only one column came twice: two tables side by side.
func repeated(r region) bool {
	return slices.ContainsFunc(r.cols, func(c column) bool { return c.field == -2 })
}

func (t *Table) satisfied(seen map[int]int) bool {
	for _, group := range t.Needs {
		ok := false
		for i, f := range t.Fields {
			if seen[i] > 0 && slices.Contains(group, f.Name) {
				ok = true
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

// speaksFor reports whether a sheet name or title has one of the words that speak for the kind.
func speaksFor(t *Table, name string) bool {
	words, _ := headingWords(name)
	words = " " + words + " "
	for _, w := range t.Sheets {
		if strings.Contains(words, " "+w+" ") {
			return true
		}
	}
	return false
}

// titleAbove joins the text of the rows just above row i that hold at most two cells.
func titleAbove(s *sheet.Sheet, i int) string { return titleText(s, i, 0, 1<<30) }

// titleOver is titleAbove for one block of columns.
func titleOver(s *sheet.Sheet, i int, block []heading) string {
	return titleText(s, i, block[0].col, block[len(block)-1].col)
}

func titleText(s *sheet.Sheet, i, from, to int) string {
	var parts []string
	for k := i - 1; k >= 0 && k >= i-3; k-- {
		var texts []string
		for _, c := range s.Rows[k].Cells {
			if c.Col >= from && c.Col <= to && c.Kind == sheet.Text && !cell.Empty(c) {
				texts = append(texts, c.Text)
			} else if c.Col >= from && c.Col <= to && c.Kind == sheet.Number {
				return strings.Join(parts, " ")
			}
		}
		if len(texts) > 2 {
			break
		}
		parts = append(parts, texts...)
	}
	return strings.Join(parts, " ")
}

// grid is a table of readings with courses down and spots across.
type grid struct {
	courses map[int]int // row number -> course
	spots   map[int]int // column -> spot
	lastRow int
	head    int // row number of the spots
	corner  int // column of the courses
}

// findGrid looks for a grid of readings whose spot numbers stand in row i: ascending numbers across, and below them rows
// that begin with ascending or descending course numbers. The sheet or its title must speak of readings.
func findGrid(s *sheet.Sheet, i int) (region, bool) {
	table := tableOf(compute.KindReadings)
	title := titleAbove(s, i)
	if !speaksFor(table, s.Name) && !speaksFor(table, title) {
		return region{}, false
	}
	row := s.Rows[i]
	g := &grid{courses: map[int]int{}, spots: map[int]int{}, head: row.Number}
	last := 0
	for _, c := range row.Cells {
		n, ok := numberedPlace(c, spotHeadings)
		if !ok {
			if len(g.spots) > 0 && !cell.Empty(c) && c.Kind != sheet.Text {
				return region{}, false
			}
			continue
		}
		if n != last+1 {
			return region{}, false
		}
		last = n
		g.spots[c.Col] = n
		if g.corner == 0 {
			g.corner = c.Col - 1
		}
	}
	if len(g.spots) < 2 || g.corner < 1 {
		return region{}, false
	}
	step := 0
	prev := 0
	for k := i + 1; k < len(s.Rows); k++ {
		r := s.Rows[k]
		if len(g.courses) > 0 && r.Number > g.lastRow+2 {
			break
		}
		var first sheet.Cell
		for _, c := range r.Cells {
			if c.Col == g.corner {
				first = c
			}
		}
		n, ok := numberedPlace(first, courseHeadings)
		if !ok {
			if len(g.courses) == 0 {
				return region{}, false
			}
			break
		}
		if prev != 0 {
			if step == 0 {
				step = n - prev
			}
			if n-prev != step || (step != 1 && step != -1) {
				break
			}
		}
		prev = n
		g.courses[r.Number] = n
		g.lastRow = r.Number
	}
	if len(g.courses) < 2 {
		return region{}, false
	}
	r := region{table: table, headFirst: row.Number, headLast: row.Number, firstCol: g.corner, lastCol: g.corner, grid: g, title: title}
	for col := range g.spots {
		r.lastCol = max(r.lastCol, col)
	}
	return r, true
}

// numberedPlace reads "3", 3, "spot 3" or "course 3" (bottom and top courses may say so behind the number).
func numberedPlace(c sheet.Cell, words []string) (int, bool) {
	switch c.Kind {
	case sheet.Number:
		n, err := strconv.Atoi(c.Text)
		return n, err == nil && n > 0 && n < 200 && c.Format != sheet.Date
	case sheet.Text:
		for _, f := range strings.FieldsFunc(strings.ToLower(c.Text), func(r rune) bool { return r == ' ' || r == '.' || r == '(' || r == ')' || r == ',' }) {
			if n, err := strconv.Atoi(f); err == nil {
				return n, n > 0 && n < 200
			}
			if !slices.Contains(words, f) && f != "bottom" && f != "top" && f != "no" {
				return 0, false
			}
		}
	}
	return 0, false
}

func tableOf(k compute.Kind) *Table {
	for i := range Tables {
		if Tables[i].Kind == k {
			return &Tables[i]
		}
	}
	panic("bind: no table for kind " + string(k))
}
