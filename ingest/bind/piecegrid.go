package bind

import (
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// pieceGrid is a tally of pieces from the saw: lengths across, widths down, a count in each cell. Wood and thickness stand
// in columns of their own or in the title.
type pieceGrid struct {
	lengths []sheet.Cell // the headings across
	unit    cell.Unit    // of bare lengths, from a heading above them
	total   int          // column of the rows' sums; 0: none
	width   int          // column of the widths
}

// lengthsOver is how many columns of lengths make a grid.
const lengthsOver = 2

// findPieceGrid looks for a piece tally whose lengths stand in row i.
func (b *binder) findPieceGrid(s *sheet.Sheet, i int) (region, bool) {
	table := tableOf(compute.KindCuts)
	row := &s.Rows[i]
	g := &pieceGrid{}
	var heads []heading
	var last units.Length
	for c := range row.Cells() {
		if cell.Empty(c) {
			continue
		}
		if l, ok := b.lengthHeading(c); ok && g.total == 0 {
			if l <= last {
				return region{}, false
			}
			last = l
			g.lengths = append(g.lengths, c)
			continue
		}
		if c.Kind != sheet.Text || len([]rune(c.Text)) > longestHeading {
			return region{}, false
		}
		if len(g.lengths) > 0 {
			if g.total != 0 || !sumHeading(c.Text) {
				return region{}, false
			}
			g.total = c.Col
			continue
		}
		h := heading{col: c.Col, upper: c.Text}
		h.both = spell(c.Text)
		heads = append(heads, h)
	}
	if len(g.lengths) < lengthsOver || g.lengths[0].Col < 2 {
		return region{}, false
	}
	title := titleAbove(s, i)
	r := region{table: table, headFirst: row.Number, headLast: row.Number, title: title, tally: g, firstCol: g.lengths[0].Col - 1, lastCol: g.lengths[len(g.lengths)-1].Col}
	r.lastCol = max(r.lastCol, g.total)
	g.width = g.lengths[0].Col - 1
	widthUnit := cell.UnitNone
	known := 0
	for _, h := range heads {
		r.firstCol = min(r.firstCol, h.col)
		c := table.column(h, false)
		if c.field >= 0 && (table.Fields[c.field].Name == "pieces" || table.Fields[c.field].Name == "size") {
			return region{}, false
		}
		if h.col == g.width {
			// The corner names the widths, or both: width \ length.
			if !slices.Contains(strings.Fields(h.both.words), "width") && (c.field < 0 || table.Fields[c.field].Name != "green width") && !cornerOf(h.both.words) {
				return region{}, false
			}
			if !strings.Contains(h.both.words, "length") && !cornerOf(h.both.words) {
				widthUnit = h.both.unit
			}
			continue
		}
		if c.field >= 0 {
			known++
			c.name = table.Fields[c.field].Name
		}
		r.cols = append(r.cols, c)
	}
	r.cols = append(r.cols, column{col: g.width, field: table.field("green width"), name: "green width", unit: widthUnit})
	over := lengthHeadingAbove(s, i, g)
	g.unit = over
	if !speaksFor(table, s.Name) && !speaksFor(table, title) && known == 0 && !b.tallyTitle(title) && over == cell.UnitNone {
		return region{}, false
	}
	if r.until = b.tallyUntil(s, i, g); r.until == 0 {
		return region{}, false
	}
	return r, true
}

// lengthHeading reads a cell as the length above a column: a bare number, 8', 2.4 m.
func (b *binder) lengthHeading(c sheet.Cell) (units.Length, bool) {
	if c.Kind != sheet.Number && c.Kind != sheet.Text || c.Kind == sheet.Text && !strings.ContainsAny(c.Text, "0123456789") || len(c.Text) > 16 {
		return 0, false
	}
	l, ps := cell.Length(c, b.context("length", cell.UnitNone, cell.Foot))
	return l, len(ps) == 0 && l > 0
}

// cornerOf reports whether words stand in the corner of a tally: w l, w x l, or nothing that is a field's name.
func cornerOf(words string) bool {
	return slices.Contains([]string{"w l", "w x l", "width length", "wide long", "width x length", "w by l", "wd lg", "size"}, words)
}

// sumHeading reports whether a heading stands over the sums of the rows.
func sumHeading(text string) bool {
	words, _ := headingWords(text)
	return totalWord(text) || slices.Contains([]string{"all", "pcs", "pieces", "count", "total pcs", "total pieces"}, words)
}

// lengthHeadingAbove finds "Length (ft)" over the lengths, in the row above, and gives its unit.
func lengthHeadingAbove(s *sheet.Sheet, i int, g *pieceGrid) cell.Unit {
	if i == 0 {
		return cell.UnitNone
	}
	for c := range s.Rows[i-1].Cells() {
		if c.Kind == sheet.Text && c.Col >= g.lengths[0].Col && c.Col <= g.lengths[len(g.lengths)-1].Col {
			if words, unit := headingWords(c.Text); strings.Contains(words, "length") || words == "long" {
				return unit
			}
		}
	}
	return cell.UnitNone
}

// tallyTitle reports whether a title names a wood and a thickness, as over a piece tally.
func (b *binder) tallyTitle(title string) bool {
	words := strings.Fields(title)
	if _, _, ok := b.speciesWords(words); !ok {
		return false
	}
	return slices.ContainsFunc(words, func(w string) bool { return thicknessLike.MatchString(strings.Trim(w, ",;:()")) })
}

// tallyUntil gives the last row of the tally: widths go down without a gap of more than one row, and a sum may close it. It
// is 0 when no row below looks like one of a tally.
func (b *binder) tallyUntil(s *sheet.Sheet, i int, g *pieceGrid) int {
	until, rows := 0, 0
	for k := i + 1; k < len(s.Rows); k++ {
		r := &s.Rows[k]
		if !hasContent(r) {
			continue
		}
		if r.Number > s.Rows[i].Number+2 && until > 0 && r.Number > until+2 {
			break
		}
		counts, wide, sum, other := 0, false, false, false
		for c := range r.Cells() {
			switch {
			case cell.Empty(c):
			case c.Col == g.width && c.Kind != sheet.Text:
				wide = true
			case c.Kind == sheet.Text && totalWord(c.Text):
				sum = true
			case c.Col == g.width:
				_, ps := cell.Length(c, b.context("width", cell.UnitNone, b.smallUnit()))
				wide = len(ps) == 0
			case c.Col > g.width:
				if _, ps := cell.Count(c, b.context("pieces", cell.UnitNone, cell.UnitNone)); len(ps) == 0 {
					counts++
				} else if c.Kind == sheet.Text {
					other = true
				}
			}
		}
		if !(wide || sum) || other && counts == 0 || wide && counts == 0 && rows == 0 {
			break
		}
		until = r.Number
		if sum {
			break
		}
		rows++
	}
	if rows == 0 {
		return 0
	}
	return until
}

// readPieceGrid makes one cut of every filled cell of a piece tally.
func (b *binder) readPieceGrid(r region) {
	g := r.tally
	at := b.at(r.headFirst, 0)
	facts := titleFacts{text: r.title}
	hasSpecies := slices.ContainsFunc(r.cols, func(c column) bool { return c.name == "species" })
	if r.title != "" {
		facts = b.factsIn(r.title, at)
	}
	for _, c := range r.cols {
		b.sayColumn(r, c)
	}
	lengths := map[int]units.Length{}
	for _, h := range g.lengths {
		v, ok := b.read(h, column{col: h.Col, unit: g.unit}, Field{Name: "length", What: aRun})
		if ok {
			lengths[h.Col] = v.lengths[0]
		}
	}
	hasThickness := slices.ContainsFunc(r.cols, func(c column) bool { return c.name == "green thickness" })
	lacks := ""
	switch {
	case !hasSpecies && facts.species.Name == "":
		lacks = "species"
	case !hasThickness && facts.thickness == 0:
		lacks = "green thickness"
	}
	if lacks != "" {
		b.say("T001", at, "", "write wood and thickness in the line above the tally, such as White ash 5/4", "this tally of pieces names no %s, neither above it nor in a column", lacks)
	}
	sums := newSums(r)
	above := map[int]*carried{}
	date := b.dateIn(facts.text)
	for row, cells := range b.rowsBelow(r) {
		if slices.ContainsFunc(cells, func(c sheet.Cell) bool { return c.Kind == sheet.Text && totalWord(c.Text) }) {
			b.fate(row.Number, r.table.Kind, compute.NotData, "total")
			b.checkSums(sums, cells)
			continue
		}
		v := b.readCells(r, row, cells, above)
		b.fillLoad(r, v)
		if !v.has("species") && facts.species.Name != "" {
			v.set("species", value{species: facts.species})
		}
		if !v.has("green thickness") && facts.thickness != 0 {
			v.set("green thickness", value{lengths: []units.Length{facts.thickness}})
		}
		if !v.has("date") && !date.IsZero() {
			v.set("date", value{date: date})
		}
		made, why := b.makePieces(r, v, cells, lengths, lacks, sums)
		switch {
		case made > 0:
			b.fate(row.Number, r.table.Kind, compute.Used, "")
		case why != "":
			b.fate(row.Number, r.table.Kind, compute.SetAside, why)
		default:
			b.fate(row.Number, r.table.Kind, compute.NotData, "no pieces of this width")
		}
	}
	b.sayFilled(r, above)
}

// makePieces makes the cuts of one row of a piece tally and adds them to the sums to check.
func (b *binder) makePieces(r region, v *rowValues, cells []sheet.Cell, lengths map[int]units.Length, lacks string, sums *sums) (made int, why string) {
	rowSum, readable := 0, true
	for _, h := range r.tally.lengths {
		k := slices.IndexFunc(cells, func(c sheet.Cell) bool { return c.Col == h.Col })
		if k < 0 {
			continue
		}
		n, ok := b.read(cells[k], column{col: h.Col}, Field{Name: "pieces", What: aCount})
		if !ok {
			readable, why = false, "pieces not readable"
			sums.unreadable(h.Col)
			continue
		}
		rowSum += n.count
		sums.add(h.Col, n.count)
		if n.count == 0 {
			continue
		}
		if lacks != "" {
			why = lacks + " missing"
			continue
		}
		if lengths[h.Col] == 0 {
			why = "the length above can't be read"
			continue
		}
		cut := v.only("species", "green thickness", "green width", "load", "lot", "date", "sawing", "note")
		cut.setCol("pieces", h.Col)
		cut.setCol("length", h.Col)
		cut.set("length", value{lengths: []units.Length{lengths[h.Col]}})
		cut.set("pieces", n)
		if problem := b.makeCut(cut); problem != "" {
			why = problem
			break // the same for every length of this row
		}
		made++
	}
	if g := r.tally; g.total != 0 {
		if k := slices.IndexFunc(cells, func(c sheet.Cell) bool { return c.Col == g.total }); k >= 0 {
			if n, ps := cell.Count(cells[k], b.context("pieces", cell.UnitNone, cell.UnitNone)); len(ps) == 0 && readable {
				sums.add(g.total, n)
				if n != rowSum {
					b.say("T031", b.at(cells[k].Row, cells[k].Col), cells[k].Text, "correct the count or the sum", "the sum of this row says %s, and its pieces come to %s", strconv.Itoa(n), strconv.Itoa(rowSum))
				}
			}
		}
	}
	return made, why
}

// woodOf reports whether a name is that of a wood, or of several.
func (b *binder) woodOf(name string) bool { return b.findWood(name).Kind != wood.Unknown }

// findWood is wood.Find, which looks long for names it does not know; each text is looked up once.
func (b *binder) findWood(name string) wood.Match {
	if m, ok := b.woods[name]; ok {
		return m
	}
	m := wood.Find(name, b.job.Settings.Aliases)
	b.woods[name] = m
	return m
}
