package cell

import (
	"math/big"
	"regexp"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

const lengthHint = `write it like 11 3/8, 11.375, 10' 6" or 289 mm`

var lengthUnits = map[string]Unit{
	`"`: Inch, "in": Inch, "inch": Inch, "inches": Inch, "ins": Inch,
	"'": Foot, "ft": Foot, "foot": Foot, "feet": Foot,
	"mm": Millimetre, "millimetre": Millimetre, "millimetres": Millimetre, "millimeter": Millimetre, "millimeters": Millimetre,
	"cm": Centimetre, "centimetre": Centimetre, "centimetres": Centimetre, "centimeter": Centimetre, "centimeters": Centimetre,
	"m": Metre, "metre": Metre, "metres": Metre, "meter": Metre, "meters": Metre,
}

// The nanometres of each unit of length.
var nanometres = map[Unit]units.Length{
	Inch: units.Inch, Foot: units.Foot, Millimetre: units.Millimetre, Centimetre: units.Centimetre, Metre: units.Metre,
}

// The shortest and the longest length taken from a cell. A cup is given to a hundredth of a millimetre at best; no board,
// stack or kiln is longer than 100 m.
const (
	shortest = units.Micrometre
	longest  = 100 * units.Metre
)

// harmless are words behind a figure that don't change it.
var harmless = map[string]bool{
	"rough": true, "rgh": true, "green": true, "grn": true, "dry": true, "kd": true, "ad": true, "planed": true, "dressed": true,
	"wide": true, "thick": true, "long": true, "actual": true, "net": true, "each": true, "ea": true, "exact": true,
	"exactly": true, "measured": true, "only": true, "sawn": true,
}

// telling are words behind a figure and its unit that change it or leave it open.
var telling = map[string]bool{
	"to": true, "or": true, "minus": true, "plus": true, "less": true, "more": true, "under": true, "over": true, "below": true,
	"above": true, "min": true, "max": true, "minimum": true, "maximum": true, "half": true, "quarter": true, "quarters": true,
	"third": true, "eighth": true, "eighths": true, "sixteenth": true, "sixteenths": true, "nominal": true, "nom": true,
	"not": true, "no": true, "x": true, "by": true, "per": true, "square": true, "sq": true, "cubic": true, "short": true,
	"and": true, "a": true, "e": true, "least": true, "most": true, "up": true, "th": true, "ths": true,
}

// measure is one length as written.
type measure struct {
	figure
	unit Unit // UnitNone when it carries none
}

// unit takes the unit that stands next, also behind a hyphen (10-foot).
func (p *parser) unit() Unit {
	n := 0
	if p.peek(0).text == "-" && p.peek(1).kind == wordToken {
		n = 1
	}
	u := lengthUnits[p.peek(n).text]
	if u != UnitNone {
		p.at += n + 1
	}
	return u
}

// smaller says whether a length in feet or metres may be continued in the unit u.
func smaller(u, than Unit) bool {
	switch than {
	case Foot:
		return u == Inch
	case Metre:
		return u == Centimetre || u == Millimetre
	}
	return false
}

// measure takes one length: figure and unit, feet and inches, metres and centimetres.
func (p *parser) measure() (measure, *Problem) {
	p.takeAbout(aboutBefore)
	f, bad := p.figure()
	if bad != nil {
		return measure{}, bad
	}
	p.takeAbout([]string{"~", "?", "±"})
	m := measure{f, p.unit()}
	if m.unit != Foot && m.unit != Metre {
		return m, nil
	}
	from := p.at
	comma := p.take(",")
	if !comma {
		p.take("-", "and", "&")
	}
	if p.peek(0).kind != numberToken {
		p.at = from
		return m, nil
	}
	g, bad := p.figure()
	if bad != nil {
		return measure{}, bad
	}
	u := p.unit()
	if u == UnitNone && m.unit == Foot && !comma {
		u = Inch // 10' 6
	}
	if !smaller(u, m.unit) {
		p.at = from
		return m, nil
	}
	if !onTape(g.den, u) || !onTape(f.den, m.unit) {
		return measure{}, p.offTape()
	}
	ratio := big.NewRat(int64(nanometres[u]), int64(nanometres[m.unit]))
	part := new(big.Rat).Mul(g.value, ratio)
	if part.Cmp(rat(1)) >= 0 || !f.value.IsInt() {
		return measure{}, fault(finding.CellLength, lengthHint, "%s: the smaller part is not less than one of the larger, or the larger is not whole", quote(p.text))
	}
	m.value = new(big.Rat).Add(m.value, part)
	m.den, m.num, m.plain = 0, 0, false
	return m, nil
}

// length turns a measure into a length; bare numbers take the context's unit.
func (p *parser) length(m measure) (units.Length, *Problem) {
	u := m.unit
	if u == UnitNone {
		u = p.x.bare()
		metric := u == Millimetre || u == Centimetre || u == Metre
		if metric && m.den > 2 && m.den&(m.den-1) == 0 {
			return 0, fault(finding.CellNoUnit, "write the unit behind it: in or mm",
				"%s is a fraction as of an inch, but bare numbers of this column are metric", quote(p.text))
		}
	}
	if !onTape(m.den, u) {
		return 0, p.offTape()
	}
	return lengthOf(m.value, u, quote(p.text), p.x)
}

// lengthOf gives a value in a unit as a length and refuses what no length here can be. stands is quoted already.
func lengthOf(v *big.Rat, u Unit, stands string, x Context) (units.Length, *Problem) {
	nm, ok := nanometres[u]
	if !ok {
		return 0, fault(finding.CellNoUnit, "write the unit behind the number or in the heading: in, ft, mm, cm or m",
			"nothing settles the unit of %s", stands)
	}
	if v.Sign() <= 0 {
		return 0, fault(finding.CellNotPositive, lengthHint+", or leave the cell empty", "%s is zero or less, and %s can't be", stands, x.what("a length"))
	}
	n, ok := scaled(v, int64(nm))
	if l := units.Length(n); !ok || l < shortest || l > longest {
		return 0, fault(finding.CellOutOfRange, "look for a lost point or the wrong unit: "+lengthHint,
			"%s is outside 0.001 mm to 100 m, so it can't be %s", stands, x.what("a length"))
	}
	return units.Length(n), nil
}

// mayBeNone are the fields for which nothing at all is a sound answer: a board without cup is flat, and a mill may not
// joint its edges or trim ends that are square and clean.
var mayBeNone = map[string]bool{"cup": true, "bow": true, "crook": true, "twist": true, "planing per face": true, "edge cut": true,
	"end trim": true, "gap between boards": true, "gap at the walls": true, "gap at the ends": true, "bolster height": true,
	"room above the stack": true}

// Length reads one length. A zero for the fields of mayBeNone says that there is none and
// comes back as zero without a problem; elsewhere zero is an error.
func Length(c sheet.Cell, x Context) (units.Length, []Problem) {
	if skip, ps := unread(c); skip {
		return 0, ps
	}
	all, ps := lengths(c, x, false)
	if len(all) == 0 {
		return 0, ps
	}
	return all[0], ps
}

var exponent = regexp.MustCompile(`\d\.?e[+-]?\d`)

// numberLength reads a number cell as a length.
func numberLength(c sheet.Cell, x Context) (units.Length, *Problem) {
	v, ok := stored(c)
	if !ok {
		return 0, storedProblem(c)
	}
	if c.Format == sheet.Percent {
		return 0, fault(finding.CellPercentStyle, "format the cell as a number and write the figure again", "%s is shown in percent, and %s can't be", stands(c, x), x.what("a length"))
	}
	return lengthOf(v, x.bare(), stands(c, x), x)
}

// saysNone reports whether a cell says that there is none, in a field where that is an answer.
func saysNone(c sheet.Cell, x Context) bool {
	if !mayBeNone[x.Column] {
		return false
	}
	if c.Kind == sheet.Number {
		v, ok := stored(c)
		return ok && v.Sign() == 0 && !dated(c)
	}
	p := newParser(clean(c.Text), x)
	switch p.text {
	case "none", "nil", "no", "flat", "straight":
		return true
	}
	m, bad := p.measure()
	return bad == nil && p.done() && m.value.Sign() == 0
}
