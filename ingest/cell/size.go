package cell

import (
	"regexp"
	"strconv"
	"strings"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

const sizeHint = `write thickness x width x length, such as 1 x 12 x 10' or 25 x 150 x 3000 mm`

// SizeOf is a size given in one cell. What is zero was not given.
type SizeOf struct {
	Thickness, Width, Length units.Length
	Pieces                   int
}

var (
	piecesBehind = regexp.MustCompile(`^(.*?)[ ,;:-]*(?:\((\d{1,6}) ?(?:pcs?|pieces?|ea|each|boards?|bds?)?\.?\)|[ ,;:](\d{1,6}) ?(?:pcs?|pieces?|ea|each|boards?|bds?)\.?)$`)
	piecesBefore = regexp.MustCompile(`^(\d{1,6}) ?(?:(?:pcs?|pieces?|ea|boards?|bds?)\.?(?: of)?|@) ?(.*)$`)
)

// sizeBounds are the least and the greatest thickness, width and length of a board: veneer to beam, lath to slab, block to
// the longest log a small mill takes.
var sizeBounds = [3][2]units.Length{
	{units.Inch / 16, 24 * units.Inch},
	{units.Inch / 4, 60 * units.Inch},
	{4 * units.Inch, 60 * units.Foot},
}

// Size reads a size of two or three parts: 1x12x10', 5/4x6x8, 2 x 6 x 10 (400), 25x150x3000 mm, 3/4 x 3 1/4. A bare
// length in inch sheets is in feet, as the trade writes it; in metric sheets in millimetres.
func Size(c sheet.Cell, x Context) (SizeOf, []Problem) {
	if skip, ps := unread(c); skip {
		return SizeOf{}, ps
	}
	if p := noFigure(c, x, sizeHint); p != nil {
		return SizeOf{}, list(p)
	}
	notSize := fault(finding.CellSize, sizeHint, "%s can't be read as a size", stands(c, x))
	if c.Kind != sheet.Text {
		return SizeOf{}, list(notSize)
	}
	var s SizeOf
	text := clean(c.Text)
	if m := piecesBehind.FindStringSubmatch(text); m != nil {
		text = m[1]
		s.Pieces, _ = strconv.Atoi(m[2] + m[3])
	} else if m := piecesBefore.FindStringSubmatch(text); m != nil {
		text = m[2]
		s.Pieces, _ = strconv.Atoi(m[1])
	}
	p := newParser(strings.TrimSpace(text), x)
	p.take("'")
	var ms []measure
	for {
		m, bad := p.measure()
		if bad != nil {
			if bad.Code == finding.CellNumber {
				bad = notSize
			}
			return SizeOf{}, list(bad)
		}
		ms = append(ms, m)
		if !p.take("x", "by", "*") {
			break
		}
	}
	if len(ms) < 2 || len(ms) > 3 {
		return SizeOf{}, list(notSize)
	}
	words, bad := p.trailing(ms[len(ms)-1:])
	if bad != nil {
		return SizeOf{}, list(notSize)
	}
	bareEnd := ms[len(ms)-1].unit == UnitNone
	if bad := p.sizeUnits(ms); bad != nil {
		return SizeOf{}, list(bad)
	}
	for i, m := range ms {
		l, bad := p.length(m)
		if bad != nil {
			return SizeOf{}, list(bad)
		}
		if l < sizeBounds[i][0] || l > sizeBounds[i][1] {
			return SizeOf{}, list(fault(finding.CellOutOfRange, "write the units of all parts: 1\" x 12\" x 10' or 25 x 150 x 3000 mm",
				"the %s in %s would be %.4g in, which no board has", [...]string{"thickness", "width", "length"}[i], stands(c, x), l.Inches()))
		}
		*[]*units.Length{&s.Thickness, &s.Width, &s.Length}[i] = l
	}
	if len(ms) == 3 && bareEnd && s.Length < s.Width {
		return SizeOf{}, list(fault(finding.CellNoUnit, "write the length with its unit, such as 3 m or 3000 mm",
			"the length in %s would be less than the width; its unit is not clear", stands(c, x)))
	}
	var about *Problem
	if p.about {
		about = fault(finding.CellAbout, "measure again where it matters", "%s is marked as approximate and was taken as it stands", stands(c, x))
	}
	return s, list(about, words)
}

// sizeUnits settles the units of a size's parts. Millimetres, centimetres or inches behind the last part hold for all;
// feet or metres hold for the length alone. Quarters as thickness are inches.
func (p *parser) sizeUnits(ms []measure) *Problem {
	last := &ms[len(ms)-1]
	metric := func(u Unit) bool { return u == Millimetre || u == Centimetre || u == Metre }
	shared := last.unit
	if last.unit == Foot || last.unit == Metre {
		if len(ms) == 2 {
			return fault(finding.CellSize, sizeHint, "%s has two parts, and the second looks like a length", quote(p.text))
		}
		shared = UnitNone
	}
	for i := range ms[:len(ms)-1] {
		m := &ms[i]
		quarters := i == 0 && m.den == 4 && m.num >= 4 && !m.whole
		switch {
		case m.unit != UnitNone:
		case quarters:
			m.unit = Inch
		case shared != UnitNone:
			m.unit = shared
		case metric(last.unit) != metric(p.x.bare()) && last.unit != UnitNone:
			return fault(finding.CellNoUnit, "write the units of all parts", "nothing settles the unit of thickness and width in %s", quote(p.text))
		}
	}
	if last.unit != UnitNone || len(ms) == 2 {
		return nil
	}
	switch sides := ms[1].unit; {
	case sides == Inch || sides == UnitNone && p.x.Unit == UnitNone && p.x.Default == Inch:
		last.unit = Foot
	case sides == UnitNone && (p.x.Unit == Inch || p.x.bare() == Foot || p.x.bare() == UnitNone):
		return fault(finding.CellNoUnit, "write the length with its mark: 10' or 120\"", "nothing settles whether the length in %s is in feet or inches", quote(p.text))
	case sides != UnitNone:
		last.unit = sides
	}
	return nil
}
