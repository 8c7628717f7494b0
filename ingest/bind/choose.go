package bind

import (
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// Weights of the choice between kinds of table. They only order the candidates: a heading that is known counts most, one
// that only this kind has counts extra, and the sheet's own name settles the rest.
const (
	weighMatch = 2
	weighTell  = 2
	weighName  = 5
	weighTitle = 4
	weighMiss  = -1
)

// bestTable finds the kind of table whose fields fit the headings best, if any fits at all. When another kind fits equally
// well the region says so in tied.
func bestTable(s *sheet.Sheet, heads []heading, title string) (region, bool) {
	best, bestScore := region{}, 0
	name, over := spoken(s.Name), spoken(title)
	readings := tableOf(compute.KindReadings)
	for t := range Tables {
		r, score, ok := fit(&Tables[t], heads, readings.spokenOf(name) || readings.spokenOf(over))
		if !ok {
			continue
		}
		if r.table.spokenOf(name) {
			score += weighName
		}
		if r.table.spokenOf(over) {
			score += weighTitle
		}
		switch {
		case score > bestScore:
			best, bestScore = r, score
		case score == bestScore && bestScore > 0:
			best.tied = r.table
		}
	}
	return best, bestScore > 0
}

// fit lays one kind of table over the headings.
func fit(table *Table, heads []heading, readings bool) (r region, score int, ok bool) {
	r = region{table: table, firstCol: heads[0].col, lastCol: heads[len(heads)-1].col}
	seen := map[int]int{}
	known := 0
	places := table.hasReadings() && placesAlone(heads, readings)
	// Slips are looked for only beside a heading that is right.
	if !slices.ContainsFunc(heads, func(h heading) bool { return table.exact(h.both) >= 0 || table.exact(h.under) >= 0 }) {
		return r, 0, false
	}
	for _, h := range heads {
		c := table.column(h, places)
		if c.field < 0 {
			score += weighMiss
			r.cols = append(r.cols, c)
			continue
		}
		f := table.Fields[c.field]
		seen[c.field]++
		n := seen[c.field]
		if n > 1 && !f.Many {
			r.cols = append(r.cols, column{col: h.col, field: secondOfOne, heading: c.heading, other: f.Name})
			score += weighMiss
			continue
		}
		c.name = f.Name
		if n > 1 {
			c.name += " " + strconv.Itoa(n)
		} else if slices.Contains(table.Tells, f.Name) {
			score += weighTell
		}
		if c.near {
			score++
		} else {
			score += weighMatch
		}
		known++
		r.cols = append(r.cols, c)
	}
	settlePlace(&r)
	return r, score, known >= 2 && known*2 >= len(heads) && table.satisfied(seen)
}

// column finds the field one heading means.
func (t *Table) column(h heading, places bool) column {
	c := column{col: h.col, unit: h.both.unit, heading: h.written()}
	c.field, c.near, c.other = t.match(h.both)
	if (c.field < 0 || c.near) && h.under.words != "" {
		if f, near, _ := t.match(h.under); f >= 0 && !near {
			c.field, c.near = f, false
			if h.under.unit != cell.UnitNone {
				c.unit = h.under.unit
			}
		}
	}
	if (c.field < 0 || c.near) && h.lower != "" && h.upper != "" {
		if below, isUnit := unitOf(h.lower); isUnit {
			up := spell(h.upper)
			if f, near, _ := t.match(up); f >= 0 && unitFits(t.Fields[f].What, below) {
				c.field, c.near = f, near
				if c.unit == cell.UnitNone {
					c.unit = up.unit
				}
			}
		}
	}
	if (c.field < 0 || c.near) && t.hasReadings() {
		if where, ok := placeOfReading(h.both.words, places); ok && unitFits(aReading, h.both.unit) {
			c.field, c.near, c.where = t.field("reading"), false, where
		} else if i := t.field("dry thickness"); i >= 0 && unitFits(aThickness, h.both.unit) && thicknessAt(h.both.words, t.Fields[i].Headings) {
			c.field, c.near = i, false
		}
	}
	return c
}

// field gives the index of a field by its name, or -1.
func (t *Table) field(name string) int {
	return slices.IndexFunc(t.Fields, func(f Field) bool { return f.Name == name })
}

// repeated reports whether a field that can have only one column came twice: two tables side by side.
func repeated(r region) bool {
	return slices.ContainsFunc(r.cols, func(c column) bool { return c.field == secondOfOne })
}

func (t *Table) satisfied(seen map[int]int) bool {
	for _, group := range t.Needs {
		if !slices.ContainsFunc(group, func(name string) bool { return seen[t.field(name)] > 0 }) {
			return false
		}
	}
	return true
}

// speaksFor reports whether a sheet name or title has one of the words that speak for the kind.
func speaksFor(t *Table, name string) bool {
	return t.spokenOf(spoken(name))
}

// spoken brings the name of a sheet or a title to the form in which words are looked for.
func spoken(name string) string {
	words, _ := headingWords(name)
	return " " + words + " "
}

func (t *Table) spokenOf(name string) bool {
	return slices.ContainsFunc(t.Sheets, func(w string) bool { return strings.Contains(name, " "+w+" ") })
}
