package cell

import (
	"math/big"
	"regexp"
	"strings"

	"drytally/compute/finding"
	"drytally/compute/price"
	"drytally/ingest/sheet"
)

// priceKind says how a price is written, in the owner's measure.
func priceKind(x Context) kind {
	like := []string{"4.50 USD per board foot", "900 USD per 1000 board feet"}
	if x.Default == Millimetre {
		like = []string{"900 USD per cubic metre", "4.50 USD per board foot"}
	}
	if !x.ByMeasure {
		like = append(like, "310 USD in all")
	}
	last := len(like) - 1
	return kind{"a price", finding.CellPrice, "write it like " + strings.Join(like[:last], ", ") + " or " + like[last]}
}

// MoneyOf is a price with its currency as written, which is empty when none stands there.
type MoneyOf struct {
	price.Price
	Currency string
}

var (
	priceFigure = regexp.MustCompile(`^([^\d]*?)\s*(\d[\d.,]*)\s*([^\d]*)$`)
	pricePer    = regexp.MustCompile(`(?i)\s*(?:/|\bper\b|\ba\b)\s*`)
	priceAll    = regexp.MustCompile(`(?i)[\s,]*\b(?:in all|for all(?: of (?:it|them))?|for the lot|altogether|total)\s*$`)
	noCurrency  = regexp.MustCompile(`(?i)\b(?:each|ea|apiece|pc|pcs|piece|pieces|board|boards|bd|bf|foot|feet|ft|about|or|and)\b`)
	currency    = regexp.MustCompile(`^(?:\p{Sc}|\pL{1,3}\p{Sc}|\pL+\.?(?: \pL+)*)$`)
)

// priceUnits are the words for what a price is for, without points, commas and blanks.
var priceUnits = map[string]price.Unit{
	"bf": price.BoardFoot, "bdft": price.BoardFoot, "bft": price.BoardFoot, "fbm": price.BoardFoot, "boardfoot": price.BoardFoot, "boardfeet": price.BoardFoot,
	"1000bf": price.ThousandFeet, "1000bdft": price.ThousandFeet, "1000boardfeet": price.ThousandFeet, "1000fbm": price.ThousandFeet, "mbf": price.ThousandFeet,
	"mbdft": price.ThousandFeet, "mfbm": price.ThousandFeet, "thousandboardfeet": price.ThousandFeet, "thousandbf": price.ThousandFeet, "thousandbdft": price.ThousandFeet,
	"m3": price.CubicMetre, "cubicmetre": price.CubicMetre, "cubicmeter": price.CubicMetre, "cbm": price.CubicMetre, "cum": price.CubicMetre,
}

// Price reads an amount of money and what it is for: $4.50/bf, 900 USD per 1000 board feet, 310 in all. per is what a figure
// is for that doesn't say, from the heading; with NotSaid such a figure is an error. Money has no more than two decimals.
func Price(c sheet.Cell, x Context, per price.Unit) (MoneyOf, []Problem) {
	if skip, ps := unread(c); skip {
		return MoneyOf{}, ps
	}
	if p := noFigure(c, x, priceKind(x).hint); p != nil {
		return MoneyOf{}, list(p)
	}
	if c.Kind == sheet.Number {
		v, ok := stored(c)
		if !ok {
			return MoneyOf{}, list(storedProblem(c))
		}
		if c.Format == sheet.Percent {
			return MoneyOf{}, list(fault(finding.CellPercentStyle, "format the cell as a number and write the figure again", "%s is shown in percent, and %s can't be", stands(c, x), x.what("a price")))
		}
		m, bad := moneyOf(v, per, c, x)
		return m, list(bad)
	}
	text := strings.Join(strings.Fields(strings.ReplaceAll(c.Text, "³", "3")), " ")
	if at := priceAll.FindStringIndex(text); at != nil {
		text, per = text[:at[0]], price.Lot
	} else if at := pricePer.FindStringIndex(text); at != nil {
		unit := text[at[1]:]
		known, ok := priceUnits[strings.ToLower(strings.NewReplacer(" ", "", ".", "", ",", "", "-", "").Replace(unit))]
		if !ok {
			return MoneyOf{}, list(priceKind(x).unlike(c, x))
		}
		text, per = text[:at[0]], known
	}
	m := priceFigure.FindStringSubmatch(text)
	if m == nil || m[1] != "" && m[3] != "" || m[1]+m[3] != "" && (!currency.MatchString(m[1]+m[3]) || noCurrency.MatchString(m[1]+m[3])) {
		return MoneyOf{}, list(priceKind(x).unlike(c, x))
	}
	v, ok, twoWays := decimal(m[2], x.DecimalComma)
	switch {
	case twoWays:
		return MoneyOf{}, list(commaProblem(m[2], text))
	case !ok:
		return MoneyOf{}, list(priceKind(x).unlike(c, x))
	}
	out, bad := moneyOf(v, per, c, x)
	if bad != nil {
		return MoneyOf{}, list(bad)
	}
	out.Currency = m[1] + m[3]
	return out, nil
}

func moneyOf(v *big.Rat, per price.Unit, c sheet.Cell, x Context) (MoneyOf, *Problem) {
	switch {
	case v.Sign() <= 0:
		return MoneyOf{}, fault(finding.CellNotPositive, priceKind(x).hint+", or leave the cell empty", "%s is zero or less, and %s can't be", stands(c, x), x.what("a price"))
	case per == price.NotSaid:
		return MoneyOf{}, fault(finding.CellPrice, priceKind(x).hint, "%s does not say what it is for: a board foot, 1000 board feet, a cubic metre, or all", stands(c, x))
	}
	h := new(big.Rat).Mul(v, rat(100))
	switch {
	case !h.IsInt():
		return MoneyOf{}, fault(finding.CellPrice, "write no more than two decimals; a finer price can be written for 1000 board feet", "%s has more than two decimals", stands(c, x))
	case h.Cmp(rat(price.Most)) > 0:
		return MoneyOf{}, priceKind(x).outside(c, x, "0.01 to 10,000,000,000")
	}
	return MoneyOf{Price: price.Price{Hundredths: h.Num().Int64(), Per: per}}, nil
}
