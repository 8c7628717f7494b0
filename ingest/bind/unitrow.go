package bind

import (
	"strings"

	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// unitRowWords are what people put into a row of units where a column has none.
var unitRowWords = map[string]bool{"no": true, "pcs": true, "pc": true, "pieces": true, "id": true, "count": true, "date": true,
	"text": true, "name": true, "ea": true, "each": true, "y m d": true, "yyyy mm dd": true, "mm dd yyyy": true, "dd mm yyyy": true,
	"yes no": true, "mc": true}

// unitOf reads a cell that is nothing but a unit: in, (mm), °F, % MC, or the foot mark.
func unitOf(text string) (cell.Unit, bool) {
	text = strings.Trim(strings.TrimSpace(text), "()[]")
	if text == "'" || text == "′" {
		return cell.Foot, true
	}
	unit := cell.UnitNone
	for _, f := range headingFields(text) {
		if f == "deg" || f == "mc" {
			continue
		}
		u, ok := unitWords[f]
		if !ok || unit != cell.UnitNone {
			return cell.UnitNone, false
		}
		unit = u
	}
	return unit, unit != cell.UnitNone
}

// isUnitRow reports whether cells are a row of units, as in a second heading line: in, in, ft.
func isUnitRow(cells []sheet.Cell) bool {
	units := 0
	for _, c := range cells {
		if c.Kind != sheet.Text {
			return false
		}
		if cell.Empty(c) {
			continue
		}
		if _, ok := unitOf(c.Text); ok {
			units++
		} else if !unitRowWords[strings.Join(headingFields(c.Text), " ")] {
			return false
		}
	}
	return units > 0
}

// takeUnitRow gives the columns of the tables just above the units that stand in a row under their headings, and counts the
// row as part of the heading. It reports whether the row was one for all of the tables that it reaches into.
func takeUnitRow(row *sheet.Row, regions []region) bool {
	taken := 0
	for i := range regions {
		r := &regions[i]
		cells := cellsOf(row, *r)
		if len(cells) == 0 {
			taken++
			continue
		}
		if !isUnitRow(cells) {
			continue
		}
		taken++
		r.headLast = row.Number
		for _, c := range cells {
			unit, ok := unitOf(c.Text)
			if !ok {
				continue
			}
			for k := range r.cols {
				col := &r.cols[k]
				if col.col != c.Col {
					continue
				}
				if col.unit != cell.UnitNone && col.unit != unit && col.field >= 0 {
					col.field, col.other = twoUnits, strings.TrimSpace(c.Text)
				}
				col.unit = unit
			}
		}
	}
	return taken == len(regions)
}
