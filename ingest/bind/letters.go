package bind

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute/finding"
	"drytally/compute/letter"
	"drytally/ingest/sheet"
)

// mostNamed is how many cells or signs a finding about letters names.
const mostNamed = 6

// sayLetters tells of signs in the texts of the sheet being read that the papers can't show or that have no shape: one finding
// for a column, at its first such cell, since a column of notes may hold one in every row. Names and numbers of boards, loads,
// sales and samples are told cell by cell: where a box stands for a sign, two of them can look alike.
func (b *binder) sayLetters(regions []region) {
	type found struct {
		cells []sheet.Cell
		signs []rune
	}
	boxed, invisible := map[int]*found{}, map[int]*found{}
	note := func(all map[int]*found, c sheet.Cell, signs []rune) {
		if len(signs) == 0 {
			return
		}
		f := all[c.Col]
		if f == nil {
			f = &found{}
			all[c.Col] = f
		}
		f.cells = append(f.cells, c)
		for _, r := range signs {
			if !slices.Contains(f.signs, r) {
				f.signs = append(f.signs, r)
			}
		}
	}
	for i := range b.sheet.Rows {
		for c := range b.sheet.Rows[i].Cells() {
			if c.Kind != sheet.Text {
				continue
			}
			boxes, left := letter.Lost(c.Text)
			note(invisible, c, left)
			if len(boxes) > 0 && isName(regions, c) {
				b.say("T062", b.at(c.Row, c.Col), c.Text, "write it in letters and digits", "the papers can't show %s of this name; an open box is printed for each, and two such names can look alike", signNames(boxes))
				continue
			}
			note(boxed, c, boxes)
		}
	}
	for col, f := range boxed {
		b.say("T061", b.at(f.cells[0].Row, col), f.cells[0].Text, "nothing to do if the words are clear without them",
			"the papers can't show %s; an open box is printed for each%s", signNames(f.signs), alsoIn(f.cells))
	}
	for col, f := range invisible {
		b.say("T063", b.at(f.cells[0].Row, col), f.cells[0].Text, "nothing to do if the words are right as printed",
			"%s %s%s", signNames(f.signs), noShape(f.signs), alsoIn(f.cells))
	}
}

// isName reports whether a cell stands in a column of names or numbers of boards, loads, sales or samples.
func isName(regions []region, c sheet.Cell) bool {
	for i := range regions {
		r := &regions[i]
		if r.table == nil || c.Row <= r.headLast || c.Row > r.until {
			continue
		}
		for _, k := range r.cols {
			if k.col == c.Col && k.field >= 0 {
				what := r.table.Fields[k.field].What
				return what == anID || what == anIDList
			}
		}
	}
	return false
}

// signNames names signs by their numbers, which is how they can be looked up: the sign U+1F332.
func signNames(signs []rune) string {
	var names []string
	for _, r := range signs[:min(len(signs), mostNamed)] {
		names = append(names, fmt.Sprintf("U+%04X", r))
	}
	words := "the sign "
	if len(signs) > 1 {
		words = "the signs "
	}
	words += strings.Join(names, ", ")
	if more := len(signs) - mostNamed; more > 0 {
		words += fmt.Sprintf(" and %d more", more)
	}
	return words
}

func noShape(signs []rune) string {
	if len(signs) > 1 {
		return "have no shape and were left out"
	}
	return "has no shape and was left out"
}

// alsoIn names the further cells of a column.
func alsoIn(cells []sheet.Cell) string {
	rest := cells[1:]
	if len(rest) == 0 {
		return ""
	}
	var names []string
	for _, c := range rest[:min(len(rest), mostNamed)] {
		names = append(names, finding.Place{Row: c.Row, Col: c.Col}.Cell())
	}
	words := "; also in " + strings.Join(names, ", ")
	if more := len(rest) - mostNamed; more > 0 {
		words += fmt.Sprintf(" and %d more", more)
	}
	return words
}

// sayNameLetters tells of signs in the name of a sheet or a file.
func (b *binder) sayNameLetters(at finding.Place, name, what string) {
	boxes, left := letter.Lost(name)
	if len(boxes) > 0 {
		b.say("T061", at, name, "nothing to do if the name is clear without them", "the papers can't show %s of this %s's name; an open box is printed for each", signNames(boxes), what)
	}
	if len(left) > 0 {
		b.say("T063", at, name, "nothing to do if the name is right as printed", "%s of this %s's name %s", signNames(left), what, noShape(left))
	}
}
