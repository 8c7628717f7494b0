package cell

import (
	"math/big"
	"regexp"
	"slices"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// openingParts parts the openings of a cell: 3x7 + 4x4, 21 and 15, one to a line.
var openingParts = regexp.MustCompile(`\s*(?:\+|&|;|\band\b)\s*`)

// openingOf is one opening of a cell: an area, or width and height.
type openingOf struct {
	area  scalar
	sides []measure // two, or none
}

// Openings reads the area of doors and windows in square feet: 14 sq ft, 3' x 7', 36 x 80 in, 3x7, or a sum of such: 21 + 15.
// Width and height without a unit are read where only one unit makes an opening of them, see bareSide.
func Openings(c sheet.Cell, x Context) (float64, []Problem) {
	if c.Kind != sheet.Text {
		return Area(c, x)
	}
	if skip, ps := unread(c); skip {
		return 0, ps
	}
	kind := areaKind
	kind.hint = `write it like 3' x 7', 36 x 80 in or 21 sq ft`
	if x.bare() == SquareMetre {
		kind.hint = "write it like 0.9 x 2.1 m or 1.9 m2"
	}
	text := clean(c.Text)
	if len(text) > longestFigure {
		return 0, list(kind.unlike(c, x))
	}
	var all []openingOf
	for _, part := range openingParts.Split(text, -1) {
		p := newParser(part, x)
		if !slices.ContainsFunc(p.toks, func(t token) bool { return t.text == "x" || t.text == "*" || t.text == "by" }) {
			s, bad := kind.scalar(sheet.Cell{Row: c.Row, Col: c.Col, Kind: sheet.Text, Text: part}, x)
			if bad != nil && bad.Code == finding.CellComma {
				return 0, list(bad)
			}
			if bad != nil {
				return 0, list(kind.unlike(c, x))
			}
			all = append(all, openingOf{area: s})
			continue
		}
		wide, bad := p.measure()
		if bad == nil && !p.take("x", "by", "*") {
			bad = kind.unlike(c, x)
		}
		var high measure
		if bad == nil {
			high, bad = p.measure()
		}
		if bad != nil || !p.done() || p.about {
			return 0, list(kind.unlike(c, x))
		}
		all = append(all, openingOf{sides: []measure{wide, high}})
	}
	// A unit behind the last area holds for those before it, one behind the last side for both.
	behind := x.bare()
	if last := all[len(all)-1]; last.sides == nil && last.area.suffix != "" {
		behind = areaUnits[last.area.suffix]
	}
	sum := new(big.Rat)
	for _, o := range all {
		one, ok := o.squareFeet(behind)
		if !ok {
			if o.sides != nil {
				return 0, list(fault(finding.CellNoUnit, kind.hint, "nothing settles the unit of %s", stands(c, x)))
			}
			return 0, list(kind.unlike(c, x))
		}
		sum.Add(sum, one)
	}
	switch {
	case sum.Sign() <= 0:
		return 0, list(fault(finding.CellNotPositive, kind.hint+", or leave the cell empty", "%s is zero or less, and %s can't be", stands(c, x), x.what("an area")))
	case sum.Cmp(rat(largestArea)) > 0:
		return 0, list(kind.outside(c, x, "0 to 1000000 sq ft"))
	}
	for _, o := range all {
		if o.area.about != nil {
			return float(sum), list(o.area.about)
		}
	}
	return float(sum), nil
}

// squareFeet gives the area of one opening. behind is the unit of an area that names none.
func (o openingOf) squareFeet(behind Unit) (*big.Rat, bool) {
	if o.sides == nil {
		u, ok := areaUnits[o.area.suffix]
		if u == UnitNone {
			u = behind
		}
		v := new(big.Rat).Set(o.area.value)
		if u == SquareMetre {
			v.Quo(v, squareFoot)
		}
		return v, ok && v.Sign() > 0 && (u == SquareFoot || u == SquareMetre)
	}
	w, h := o.sides[0], o.sides[1]
	if w.unit == UnitNone && h.unit == UnitNone {
		u := bareSide(float(w.value), float(h.value), behind)
		w.unit, h.unit = u, u
	}
	if w.unit == UnitNone {
		w.unit = h.unit
	}
	if h.unit == UnitNone {
		h.unit = w.unit
	}
	area := big.NewRat(1, 1)
	for _, m := range []measure{w, h} {
		nm, ok := nanometres[m.unit]
		if !ok || m.value.Sign() <= 0 || !onTape(m.den, m.unit) {
			return nil, false
		}
		area.Mul(area, new(big.Rat).Mul(m.value, big.NewRat(int64(nm), int64(units.Foot))))
	}
	return area, true
}

// bareSide gives the one unit in which two bare figures can be the width and height of a door or window; UnitNone where two can be
// meant. An opening is wider than 10 in or 30 cm and no wider than 20 ft or 6 m: 3 x 7 can only be feet, 36 x 80 only inches, while
// 12 x 12 may be a small window or a barn door.
func bareSide(a, b float64, area Unit) Unit {
	low, high := min(a, b), max(a, b)
	switch {
	case area == SquareFoot && low < 10 && high <= 20:
		return Foot
	case area == SquareFoot && low > 20:
		return Inch
	case area == SquareMetre && high <= 6:
		return Metre
	case area == SquareMetre && low >= 300:
		return Millimetre
	}
	return UnitNone
}
