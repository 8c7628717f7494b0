package cell

import (
	"math/big"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

var massKind = kind{"a weight", finding.CellMass, "write it like 4600 g, 4.6 kg, 10.1 lb or 10 lb 2 oz"}

var massUnits = map[string]Unit{
	"g": Gram, "gm": Gram, "gms": Gram, "gram": Gram, "grams": Gram, "gramme": Gram, "grammes": Gram,
	"kg": Kilogram, "kgs": Kilogram, "kilo": Kilogram, "kilos": Kilogram, "kilogram": Kilogram, "kilograms": Kilogram,
	"lb": Pound, "lbs": Pound, "pound": Pound, "pounds": Pound, "#": Pound,
	"oz": OunceUnit, "ozs": OunceUnit, "ounce": OunceUnit, "ounces": OunceUnit,
}

// Milligrams of each unit times 100, so that the pound of 0.45359237 kg (exact, the international pound) and the ounce,
// a sixteenth of it, can be written down as a ratio of whole numbers.
var centimilligrams = map[Unit]*big.Rat{
	Gram: rat(100_000), Kilogram: rat(100_000_000), Pound: rat(45_359_237), OunceUnit: big.NewRat(45_359_237, 16),
}

var writtenIn = map[Unit]units.MassUnit{Kilogram: units.InKilograms, Pound: units.InPounds, OunceUnit: units.InOunces}

// heaviest is the heaviest load taken, 50 t: more than a truck carries.
const heaviest = 50_000 * units.Kilogram

// Mass reads a weight, rounded to the milligram. In grams a comma before three digits parts thousands unless the file
// settles otherwise: no scale of this trade shows milligrams.
func Mass(c sheet.Cell, x Context) (units.Mass, []Problem) {
	m, _, ps := MassIn(c, x)
	return m, ps
}

// MassIn reads a weight as Mass does and says in which unit it was written; of 10 lb 2 oz in pounds.
func MassIn(c sheet.Cell, x Context) (units.Mass, units.MassUnit, []Problem) {
	if skip, ps := unread(c); skip {
		return 0, 0, ps
	}
	if p := noFigure(c, x, massKind.hint); p != nil {
		return 0, 0, list(p)
	}
	if c.Kind == sheet.Number {
		v, ok := stored(c)
		if !ok {
			return 0, 0, list(storedProblem(c))
		}
		if c.Format == sheet.Percent {
			return 0, 0, list(fault(finding.CellPercentStyle, "format the cell as a number and write the figure again", "%s is shown in percent, and %s can't be", stands(c, x), x.what("a weight")))
		}
		m, p := massOf(v, x.bare(), c, x)
		return m, writtenIn[x.bare()], list(p)
	}
	p := newParser(clean(c.Text), x)
	p.take("'")
	p.takeAbout(aboutBefore)
	v, u, bad := p.mass(c)
	if bad != nil {
		return 0, 0, list(bad)
	}
	if u == Pound || u == Kilogram {
		p.take(",", "and", "&")
	}
	if p.peek(0).kind == numberToken {
		w, u2, bad := p.mass(c)
		if bad != nil {
			return 0, 0, list(bad)
		}
		per := map[Unit]Unit{Pound: OunceUnit, Kilogram: Gram}[u]
		big16 := map[Unit]int64{Pound: 16, Kilogram: 1000}[u]
		if u2 == UnitNone || u2 != per || w.Cmp(rat(big16)) >= 0 || !v.IsInt() {
			return 0, 0, list(massKind.unlike(c, x))
		}
		v.Add(v, w.Quo(w, rat(big16)))
	}
	p.takeAbout([]string{"~", "?", "±"})
	if !p.done() {
		return 0, 0, list(massKind.unlike(c, x))
	}
	if u == UnitNone {
		u = x.bare()
	}
	m, bad := massOf(v, u, c, x)
	if bad != nil {
		return 0, 0, list(bad)
	}
	if p.about {
		return m, writtenIn[u], list(fault(finding.CellAbout, "measure again where it matters", "%s is marked as approximate and was taken as it stands", stands(c, x)))
	}
	return m, writtenIn[u], nil
}

// mass takes a figure and its unit.
func (p *parser) mass(c sheet.Cell) (*big.Rat, Unit, *Problem) {
	if p.peek(0).text == "-" && p.peek(1).kind == numberToken {
		return nil, 0, fault(finding.CellNotPositive, massKind.hint, "%s is less than zero, and a weight can't be", stands(c, p.x))
	}
	t := p.peek(0)
	if oneCommaThree.MatchString(t.text) && !p.x.DecimalComma {
		u := massUnits[p.peek(1).text]
		if u == Gram || p.peek(1).kind == endToken && p.x.bare() == Gram {
			p.toks[p.at].text = t.text[:len(t.text)-4] + t.text[len(t.text)-3:]
		}
	}
	f, bad := p.figure()
	if bad != nil {
		if bad.Code == finding.CellNumber {
			bad = massKind.unlike(c, p.x)
		}
		return nil, 0, bad
	}
	if !onTape(f.den, UnitNone) {
		return nil, 0, p.offTape()
	}
	p.takeAbout([]string{"~", "?", "±"})
	u := massUnits[p.peek(0).text]
	if u != UnitNone {
		p.at++
	}
	return f.value, u, nil
}

func massOf(v *big.Rat, u Unit, c sheet.Cell, x Context) (units.Mass, *Problem) {
	per, ok := centimilligrams[u]
	if !ok {
		return 0, fault(finding.CellNoUnit, "write g, kg, lb or oz behind it or in the heading", "nothing settles the unit of %s", stands(c, x))
	}
	if v.Sign() <= 0 {
		return 0, fault(finding.CellNotPositive, massKind.hint+", or leave the cell empty", "%s is zero or less, and %s can't be", stands(c, x), x.what("a weight"))
	}
	w := new(big.Rat).Mul(v, per)
	n, ok := scaled(w.Quo(w, rat(100)), 1)
	if !ok || n < 1 || units.Mass(n) > heaviest {
		return 0, massKind.outside(c, x, "1 mg to 50 t")
	}
	return units.Mass(n), nil
}
