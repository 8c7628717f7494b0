package cell

import (
	"math/big"
	"regexp"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

var (
	humidityKind = kind{"a relative humidity", finding.CellPercent, "write it in percent, like 45 %"}
	mcKind       = kind{"a moisture content", finding.CellPercent, "write it in percent, like 8 %"}
	shareKind    = kind{"a share", finding.CellPercent, "write it like 10 % or 1 in 10"}
)

var percentWords = map[string]bool{"": true, "%": true, "percent": true, "pct": true, "% rh": true, "rh": true, "percent rh": true,
	"% mc": true, "mc": true, "percent mc": true}

// percent reads a figure in percent from 1 to high; zero is taken where it may be. Between zero and one (and at one
// without a sign) the figure may have been stored as a part of one, so it is refused.
func (k kind) percent(c sheet.Cell, x Context, high int64, zero bool, bounds string) (*big.Rat, []Problem) {
	s, p := k.scalar(c, x)
	if p != nil {
		return nil, list(p)
	}
	if !percentWords[s.suffix] {
		return nil, list(k.unlike(c, x))
	}
	one := s.value.Cmp(rat(1))
	switch {
	case s.value.Sign() < 0 || s.value.Cmp(rat(high)) > 0 || s.value.Sign() == 0 && !zero:
		return nil, list(k.outside(c, x, bounds))
	case s.value.Sign() > 0 && (one < 0 && !(c.Kind == sheet.Number && s.suffix == "%") || one == 0 && s.suffix == ""):
		return nil, list(fault(finding.CellPercentOrPart, "write it in percent with its sign, like 45 %",
			"%s may be a percentage or a part of one", stands(c, x)))
	}
	return s.value, list(s.about)
}

// Humidity reads a relative humidity from 0 to 100 %.
func Humidity(c sheet.Cell, x Context) (units.Humidity, []Problem) {
	if skip, ps := unread(c); skip {
		return units.Humidity{}, ps
	}
	v, ps := humidityKind.percent(c, x, 100, true, "0 to 100 %")
	if v == nil {
		return units.Humidity{}, ps
	}
	return units.RelativeHumidity(float(v)), ps
}

// highestMC is the wettest green wood taken, in percent: the lightest woods hold two and a half times their own weight.
const highestMC = 300

// MC reads a limit or target of moisture content, above 0 to 300 %, rounded to the hundredth.
func MC(c sheet.Cell, x Context) (units.MC, []Problem) {
	if skip, ps := unread(c); skip {
		return 0, ps
	}
	v, ps := mcKind.percent(c, x, highestMC, false, "1 to 300 %")
	if v == nil {
		return 0, ps
	}
	n, _ := scaled(v, 100)
	if n == 0 {
		return 0, list(mcKind.outside(c, x, "1 to 300 %"))
	}
	return units.MC(n), ps
}

var oneIn = regexp.MustCompile(`^(\d{1,6}|one) (?:in|of|out of|in every|of every) (?:every )?(\d{1,6}|ten|twenty|five|four|hundred|a hundred)$`)

var numberWords = map[string]int64{"one": 1, "four": 4, "five": 5, "ten": 10, "twenty": 20, "hundred": 100, "a hundred": 100}

// Share reads a share of a whole, 0 to 1: 10 %, 0.1, 1 in 10. A bare number from 1 on is in percent.
func Share(c sheet.Cell, x Context) (float64, []Problem) {
	if skip, ps := unread(c); skip {
		return 0, ps
	}
	if c.Kind == sheet.Text {
		if m := oneIn.FindStringSubmatch(clean(c.Text)); m != nil {
			a, b := numberWords[m[1]], numberWords[m[2]]
			if a == 0 {
				a = int64(number(m[1]))
			}
			if b == 0 {
				b = int64(number(m[2]))
			}
			if b == 0 || a > b {
				return 0, list(shareKind.outside(c, x, "0 to 100 %"))
			}
			return float64(a) / float64(b), nil
		}
	}
	s, p := shareKind.scalar(c, x)
	if p != nil {
		return 0, list(p)
	}
	below := s.value.Cmp(rat(1)) < 0
	switch {
	case s.suffix == "%" || s.suffix == "percent" || s.suffix == "pct":
	case s.suffix != "":
		return 0, list(shareKind.unlike(c, x))
	case below && s.value.Sign() > 0 && x.Unit == PercentUnit:
		return 0, list(fault(finding.CellPercentOrPart, "write it with a percent sign, like 10 %", "%s may be a percentage or a part of one", stands(c, x)))
	case below:
		s.value.Mul(s.value, rat(100))
	}
	if s.value.Sign() < 0 || s.value.Cmp(rat(100)) > 0 {
		return 0, list(shareKind.outside(c, x, "0 to 100 %"))
	}
	return float(s.value.Quo(s.value, rat(100))), list(s.about)
}
