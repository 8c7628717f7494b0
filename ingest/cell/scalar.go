package cell

import (
	"math/big"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// scalar is a figure with what stands behind it.
type scalar struct {
	value  *big.Rat
	suffix string // cleaned, no points, single spaces; empty for a number cell
	about  *Problem
}

// kind says how one kind of quantity is written.
type kind struct {
	name string       // for messages when the column has no name
	code finding.Code // of what can't be read
	hint string
}

func (k kind) unlike(c sheet.Cell, x Context) *Problem {
	return fault(k.code, k.hint, "%s can't be read as %s", stands(c, x), x.what(k.name))
}

// scalar reads one figure. Number cells in percent format come times a hundred with the suffix %.
func (k kind) scalar(c sheet.Cell, x Context) (scalar, *Problem) {
	if p := noFigure(c, x, k.hint); p != nil {
		return scalar{}, p
	}
	if c.Kind == sheet.Number {
		v, ok := stored(c)
		if !ok {
			return scalar{}, storedProblem(c)
		}
		if c.Format == sheet.Percent {
			return scalar{value: v.Mul(v, rat(100)), suffix: "%"}, nil
		}
		return scalar{value: v}, nil
	}
	p := newParser(clean(c.Text), x)
	p.take("'")
	p.takeAbout(aboutBefore)
	negative := p.take("-")
	f, bad := p.figure()
	if bad != nil {
		if bad.Code == finding.CellNumber {
			bad = k.unlike(c, x)
		}
		return scalar{}, bad
	}
	if !onTape(f.den, Foot) {
		return scalar{}, p.offTape()
	}
	// "60 F ?" carries its mark behind the unit, "60? F" before it.
	p.takeAbout([]string{"~", "?", "±"})
	rest := p.toks[p.at:]
	var words []string
	for i, t := range rest {
		switch {
		case t.text == "?" || t.text == "~":
			p.about = true
		case t.kind == numberToken && !(t.text == "2" && i > 0 && rest[i-1].end == t.start):
			if len(rest) > 0 && (rest[0].text == "-" || rest[0].text == "to" || i == 0 || rest[0].text == "/" || rest[0].text == ",") {
				return scalar{}, fault(finding.CellSeveral, "write one value", "%s holds several values or a range", stands(c, x))
			}
			return scalar{}, k.unlike(c, x)
		case t.kind == numberToken:
			words[len(words)-1] += "2" // ft2, m2
		default:
			words = append(words, t.text)
		}
	}
	s := scalar{value: f.value, suffix: strings.Join(words, " ")}
	if negative {
		s.value.Neg(s.value)
	}
	if p.about {
		s.about = fault(finding.CellAbout, "measure again where it matters", "%s is marked as approximate and was taken as it stands", stands(c, x))
	}
	return s, nil
}

// outside says that a value is outside what it can be.
func (k kind) outside(c sheet.Cell, x Context, bounds string) *Problem {
	return fault(finding.CellOutOfRange, "look for a lost point or the wrong unit: "+k.hint, "%s is outside %s, so it can't be %s", stands(c, x), bounds, x.what(k.name))
}
