package cell

import (
	"math/big"
	"strconv"

	"drytally/compute/finding"
)

// figure is a number as written: a decimal, a fraction, or whole and fraction.
type figure struct {
	value *big.Rat
	den   int64 // of the fraction; 0 when there is none
	num   int64
	whole bool // a whole number stands before the fraction
	plain bool // nothing but digits
}

// figure takes a number, a fraction (3/8, 3 / 8) or a mixed number (11 3/8, 11-3/8, 11 and 3/8).
func (p *parser) figure() (figure, *Problem) {
	t := p.peek(0)
	if t.kind != numberToken {
		return figure{}, fault(finding.CellNumber, "write the figure", "there is no number in %s", quote(p.text))
	}
	if p.peek(1).text == "/" && p.peek(2).kind == numberToken {
		return p.fraction(nil)
	}
	v, ok, twoWays := decimal(t.text, p.x.DecimalComma)
	if twoWays {
		return figure{}, commaProblem(t.text, p.text)
	}
	if !ok {
		return figure{}, fault(finding.CellNumber, "write the figure with one point", "%s is not a number", quote(t.text))
	}
	p.at++
	f := figure{value: v, plain: plainInteger.MatchString(t.text)}
	if !f.plain {
		return f, nil
	}
	joint := 0
	switch next := p.peek(0); next.text {
	case "-", "+", "&", "and":
		joint = 1
	}
	a, slash, b := p.peek(joint), p.peek(joint+1), p.peek(joint+2)
	if a.kind != numberToken || slash.text != "/" || b.kind != numberToken {
		return f, nil
	}
	// 11/8 behind "1 " would be no proper fraction, but it is read here so that the message can say so.
	p.at += joint
	return p.fraction(v)
}

// fraction takes 3/8 and adds it to the whole number before it.
func (p *parser) fraction(whole *big.Rat) (figure, *Problem) {
	a, b := p.peek(0), p.peek(2)
	num, err1 := strconv.ParseInt(a.text, 10, 32)
	den, err2 := strconv.ParseInt(b.text, 10, 32)
	if err1 != nil || err2 != nil || den == 0 {
		if !p.x.DecimalComma && (commaDecimal.MatchString(a.text) || commaDecimal.MatchString(b.text)) {
			return figure{}, commaProblem(a.text, p.text)
		}
		return figure{}, fault(finding.CellFraction, "write it like 3/8, or as a decimal", "the fraction in %s can't be read", quote(p.text))
	}
	if whole != nil && num >= den {
		return figure{}, fault(finding.CellFraction, "write it like 11 3/8, or as a decimal",
			"the fraction in %s is not less than one, so it can't stand behind a whole number", quote(p.text))
	}
	p.at += 3
	v := big.NewRat(num, den)
	if whole != nil {
		v.Add(v, whole)
	}
	return figure{value: v, num: num, den: den, whole: whole != nil}, nil
}

// onTape says whether a rule or tape of the unit shows such a fraction. Feet are also parted into twelfths; tenths are
// those of a decimal scale.
func onTape(den int64, u Unit) bool {
	switch den {
	case 0, 2, 4, 8, 16, 32, 64, 10, 100, 1000:
		return true
	case 3, 6, 12:
		return u == Foot
	}
	return false
}

func (p *parser) offTape() *Problem {
	return fault(finding.CellFraction, "write it with 2, 4, 8, 16, 32 or 64 below the line, or as a decimal",
		"the fraction in %s is not one that a tape shows", quote(p.text))
}
