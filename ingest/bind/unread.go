package bind

import (
	"slices"
	"strings"

	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// fewCells is up to how many filled cells under an unknown heading are passed over with a note.
const fewCells = 3

// sayUnread warns of a column whose heading is not known and which holds more than a few cells, and names the headings it may be
// meant for. It reports whether there was anything to warn of.
func (b *binder) sayUnread(r region, c column) bool {
	var cells []sheet.Cell
	for i := range b.sheet.Rows {
		if n := b.sheet.Rows[i].Number; n > r.headLast && n <= r.until {
			if x := b.sheet.Cell(n, c.col); !cell.Empty(x) {
				cells = append(cells, x)
			}
		}
	}
	if len(cells) <= fewCells {
		return false
	}
	hint := "nothing to do if drytally needn't know it; else give it a heading the README lists"
	if may := b.mayMean(r, c, cells); len(may) > 0 {
		hint = "is it " + either(may) + "? Give it that heading; else nothing to do"
	}
	b.say("T071", b.at(r.headFirst, c.col), c.heading, hint, "the column %q is not one drytally reads; the %d cells below it were not read", c.heading, len(cells))
	return true
}

// mostMeant is how many headings are named for a column that is not known.
const mostMeant = 3

// mayMean gives the fields without a column that an unknown heading may mean: those with a heading of the same words that can hold
// what stands in the column, else those few that can hold it.
func (b *binder) mayMean(r region, c column, cells []sheet.Cell) []string {
	words, _ := headingWords(c.heading)
	var byWords, byCells []string
	for i, f := range r.table.Fields {
		if f.Other || slices.ContainsFunc(r.cols, func(k column) bool { return k.field == i }) {
			continue
		}
		anything := slices.Contains([]quantity{aText, anID, anIDList, aPrice, aPriceBF, aSum}, f.What) // what stands there tells nothing
		if !anything && !b.canHold(f, c, cells) {
			continue
		}
		if slices.ContainsFunc(f.Headings, func(h string) bool { return sharesWords(h, words) }) {
			byWords = append(byWords, f.Name)
		}
		if !anything {
			byCells = append(byCells, f.Name)
		}
	}
	for _, may := range [][]string{byWords, byCells} {
		if len(may) > 0 && len(may) <= mostMeant {
			return may
		}
	}
	return nil
}

// sharesWords reports whether all words of one heading stand in the other.
func sharesWords(a, b string) bool {
	x, y := strings.Fields(a), strings.Fields(b)
	if len(x) > len(y) {
		x, y = y, x
	}
	for _, w := range x {
		if len(w) < 3 || !slices.Contains(y, w) {
			return false
		}
	}
	return len(x) > 0
}

// canHold reports whether the first cells of a column read as a field without a finding.
func (b *binder) canHold(f Field, c column, cells []sheet.Cell) bool {
	const looked = 6
	said := len(b.job.Findings)
	defer func() { b.job.Findings = b.job.Findings[:said] }()
	for _, x := range cells[:min(looked, len(cells))] {
		switch f.What {
		case aSpecies:
			if wood.Find(x.Text, b.job.Settings.Aliases).Kind == wood.Unknown {
				return false
			}
		default:
			if _, ok := b.read(x, column{col: x.Col, unit: c.unit}, f); !ok || len(b.job.Findings) > said {
				return false
			}
		}
	}
	return true
}
