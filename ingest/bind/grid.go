package bind

import (
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// grid is a table of readings with courses down and spots across.
type grid struct {
	courses map[int]int // row number -> course
	spots   map[int]int // column -> spot
	corner  int         // column of the courses
}

// findGrid looks for a grid of readings whose spot numbers stand in row i: ascending numbers across, and below them rows
// that begin with ascending or descending course numbers. The sheet or its title must speak of readings.
func findGrid(s *sheet.Sheet, i int) (region, bool) {
	table := tableOf(compute.KindReadings)
	row := s.Rows[i]
	g := &grid{courses: map[int]int{}, spots: map[int]int{}}
	last := 0
	for c := range row.Cells() {
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
	title := titleAbove(s, i)
	if len(g.spots) < 2 || g.corner < 1 || !speaksFor(table, s.Name) && !speaksFor(table, title) {
		return region{}, false
	}
	step, prev, until := 0, 0, row.Number
	named := endCourses(s, i, g.corner)
	for k := i + 1; k < len(s.Rows); k++ {
		r := s.Rows[k]
		if len(g.courses) > 0 && r.Number > until+2 {
			break
		}
		var first sheet.Cell
		for c := range r.Cells() {
			if c.Col == g.corner {
				first = c
			}
		}
		n, ok := numberedPlace(first, courseHeadings)
		if named[r.Number] > 0 {
			n, ok = named[r.Number], true
		}
		if !ok {
			if !hasContent(&r) {
				continue
			}
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
		until = r.Number
	}
	if len(g.courses) < 2 {
		return region{}, false
	}
	r := region{table: table, headFirst: row.Number, headLast: row.Number, firstCol: g.corner, lastCol: g.corner, until: until, grid: g, title: title}
	for col := range g.spots {
		r.lastCol = max(r.lastCol, col)
	}
	return r, true
}

// endCourses gives the courses of rows that are called only top or bottom: the bottom one is course 1, the top one comes
// after the numbered course beside it.
func endCourses(s *sheet.Sheet, i, corner int) map[int]int {
	named := map[int]int{}
	word := func(k int) (string, int) {
		if k <= i || k >= len(s.Rows) {
			return "", 0
		}
		c := s.Cell(s.Rows[k].Number, corner)
		if n, ok := numberedPlace(c, courseHeadings); ok {
			return "", n
		}
		words, _ := headingWords(c.Text)
		for _, w := range []string{"bottom", "top"} {
			if slices.Contains([]string{w, w + " course", w + " layer", w + " row"}, words) {
				return w, 0
			}
		}
		return "", 0
	}
	for k := i + 1; k < len(s.Rows) && k <= i+200; k++ {
		w, _ := word(k)
		if w == "bottom" {
			named[s.Rows[k].Number] = 1
			continue
		}
		if w != "top" {
			continue
		}
		for _, beside := range []int{k + 1, k - 1} {
			if _, n := word(beside); n > 0 {
				named[s.Rows[k].Number] = n + 1
			}
		}
	}
	return named
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

// readGrid reads a grid of readings, courses down and spots across. The load is the one the title or sheet names.
func (b *binder) readGrid(r region) {
	load, from := b.loadAbove, b.loadFrom
	if load == "" && len(b.job.Loads) == 1 {
		load, from = b.job.Loads[0].ID, ""
	}
	said := false
	date, temp := b.dateIn(r.title), b.tempIn(r.title)
	reading := Field{Name: "reading", What: aReading}
	tables := map[int]*compute.Table{} // of the readings of one spot
	for i := range b.sheet.Rows {
		row := &b.sheet.Rows[i]
		if row.Number <= r.headLast || row.Number > r.until || !hasContent(row) {
			continue
		}
		course, ok := r.grid.courses[row.Number]
		if !ok {
			b.fate(row.Number, r.table.Kind, compute.NotData, "note")
			continue
		}
		used, bad := 0, 0
		for c := range row.Cells() {
			spot, ok := r.grid.spots[c.Col]
			if !ok || cell.Empty(c) && !c.NoResult {
				continue
			}
			v, ok := b.read(c, column{col: c.Col, unit: cell.UnitNone}, reading)
			if !ok {
				bad++
				continue
			}
			for _, x := range v.readings {
				if x.State == units.NotTaken {
					continue
				}
				if tables[c.Col] == nil {
					tables[c.Col] = b.table(map[string]int{"reading": c.Col, "course": r.grid.corner})
				}
				b.job.Readings = append(b.job.Readings, compute.Reading{
					Origin: compute.Origin{Table: tables[c.Col], Row: row.Number}, Course: course, Spot: spot, Value: x, WoodTemp: temp,
					Taking: b.taking(compute.Taking{Field: "reading", Load: load, Date: date})})
				used++
			}
		}
		switch {
		case used == 0 && bad > 0:
			b.fate(row.Number, r.table.Kind, compute.SetAside, "no reading could be read")
		case used == 0:
			b.fate(row.Number, r.table.Kind, compute.NotData, "course without readings")
		default:
			b.fate(row.Number, r.table.Kind, compute.Used, "")
			if !said && from == "the sheet's name" || !said && from == "the file's name" {
				b.sayLoad(row.Number, load, from)
				said = true
			}
		}
	}
}
