package cell

import (
	"math/big"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

var (
	countKind  = kind{"a count", finding.CellCount, "write a whole number"}
	areaKind   = kind{"an area", finding.CellArea, "write it like 400 sq ft or 40 m2"}
	numberKind = kind{"a number", finding.CellNumber, "write the figure alone"}
)

var pieceWords = map[string]bool{"": true, "pc": true, "pcs": true, "piece": true, "pieces": true, "ea": true, "each": true,
	"board": true, "boards": true, "bd": true, "bds": true}

// mostPieces is the greatest count taken: more boards than a mill saws in years.
const mostPieces = 1_000_000

// Count reads a whole number of pieces from 0 to a million. A comma before three digits parts thousands, since no count
// has decimals, unless the file's commas are decimal ones.
func Count(c sheet.Cell, x Context) (int, []Problem) {
	if skip, ps := unread(c); skip {
		return 0, ps
	}
	if text := clean(c.Text); c.Kind == sheet.Text && !x.DecimalComma {
		if t := tokens(text, false); len(t) > 0 && oneCommaThree.MatchString(t[0].text) && t[0].start == 0 {
			c.Text = strings.Replace(text, ",", "", 1)
		}
	}
	s, p := countKind.scalar(c, x)
	if p != nil {
		return 0, list(p)
	}
	if !pieceWords[s.suffix] {
		return 0, list(countKind.unlike(c, x))
	}
	if s.value.Sign() < 0 || s.value.Cmp(rat(mostPieces)) > 0 {
		return 0, list(countKind.outside(c, x, "0 to 1000000"))
	}
	n, _ := scaled(s.value, 1)
	// A calculated count may be off by the last binary digit.
	noise := new(big.Rat).Sub(s.value, rat(n))
	if noise.Abs(noise).Cmp(big.NewRat(1, 1_000_000_000)) > 0 {
		return 0, list(fault(finding.CellCount, "write a whole number of pieces", "%s is not a whole number", stands(c, x)))
	}
	return int(n), list(s.about)
}

var areaUnits = map[string]Unit{
	"":     UnitNone,
	"sqft": SquareFoot, "sq ft": SquareFoot, "sf": SquareFoot, "ft2": SquareFoot, "ft ^": SquareFoot, "square feet": SquareFoot, "square foot": SquareFoot,
	"sq feet": SquareFoot, "sq foot": SquareFoot, "sqft2": UnitNone,
	"m2": SquareMetre, "sqm": SquareMetre, "sq m": SquareMetre, "square metres": SquareMetre, "square metre": SquareMetre,
	"square meters": SquareMetre, "square meter": SquareMetre, "sq metres": SquareMetre, "sq meters": SquareMetre,
}

// squareFoot is the square foot in square metres, exactly: 0.3048 squared.
var squareFoot = big.NewRat(9_290_304, 100_000_000)

// largestArea is the largest area to cover that is taken, in square feet.
const largestArea = 1_000_000

// Area reads an area in square feet; square metres are converted.
func Area(c sheet.Cell, x Context) (float64, []Problem) {
	if skip, ps := unread(c); skip {
		return 0, ps
	}
	s, p := areaKind.scalar(c, x)
	if p != nil {
		return 0, list(p)
	}
	u, ok := areaUnits[s.suffix]
	if !ok {
		return 0, list(areaKind.unlike(c, x))
	}
	if u == UnitNone {
		u = x.bare()
	}
	switch u {
	case SquareFoot:
	case SquareMetre:
		s.value.Quo(s.value, squareFoot)
	default:
		return 0, list(fault(finding.CellNoUnit, "write sq ft or m2 behind it or in the heading", "nothing settles the unit of %s", stands(c, x)))
	}
	switch {
	case s.value.Sign() <= 0:
		return 0, list(fault(finding.CellNotPositive, areaKind.hint+", or leave the cell empty", "%s is zero or less, and %s can't be", stands(c, x), x.what("an area")))
	case s.value.Cmp(rat(largestArea)) > 0:
		return 0, list(areaKind.outside(c, x, "0 to 1000000 sq ft"))
	}
	return float(s.value), list(s.about)
}

// Number reads a plain number.
func Number(c sheet.Cell, x Context) (float64, []Problem) {
	if skip, ps := unread(c); skip {
		return 0, ps
	}
	s, p := numberKind.scalar(c, x)
	if p != nil {
		return 0, list(p)
	}
	if s.suffix == "%" && c.Kind == sheet.Number {
		return 0, list(fault(finding.CellPercentStyle, "format the cell as a number and write the figure again", "%s is shown in percent, and %s can't be", stands(c, x), x.what("a number")))
	}
	if s.suffix != "" {
		return 0, list(numberKind.unlike(c, x))
	}
	return float(s.value), list(s.about)
}
