package cell

import (
	"math/big"
	"regexp"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// mostDigits is the longest number read; what is longer is no measurement.
const mostDigits = 40

var (
	plainNumber    = regexp.MustCompile(`^\d*(\.\d+)?$`)
	plainInteger   = regexp.MustCompile(`^\d+$`)
	commaDecimal   = regexp.MustCompile(`^\d+,\d+$`)
	thousandsPoint = regexp.MustCompile(`^[1-9]\d{0,2}(,\d{3})+\.\d+$`)    // 1,234.5
	thousandsMany  = regexp.MustCompile(`^[1-9]\d{0,2}(,\d{3}){2,}$`)      // 1,234,567
	pointsComma    = regexp.MustCompile(`^[1-9]\d{0,2}(\.\d{3})+,\d+$`)    // 1.234,5
	pointsMany     = regexp.MustCompile(`^[1-9]\d{0,2}(\.\d{3}){2,}$`)     // 1.234.567
	onePointThree  = regexp.MustCompile(`^[1-9]\d{0,2}\.\d{3}$`)           // 1.234
	oneCommaThree  = regexp.MustCompile(`^[1-9]\d{0,2},\d{3}$`)            // 1,234
	pointList      = regexp.MustCompile(`^\d+\.\d{1,2}(,\d+\.\d{1,2})+$`)  // 12.5,13.5
	commaList      = regexp.MustCompile(`^\d+(\.\d+)?(,\d+(\.\d+)?){2,}$`) // 27,27,28
)

// decimal reads a number as written. twoWays says that it can be read two ways, or only with a decimal comma that the
// file doesn't settle; ok says that it was read.
func decimal(s string, decimalComma bool) (value *big.Rat, ok, twoWays bool) {
	if s == "" || len(s) > mostDigits {
		return nil, false, false
	}
	switch {
	case thousandsPoint.MatchString(s), thousandsMany.MatchString(s):
		s = strings.ReplaceAll(s, ",", "")
	case pointsComma.MatchString(s):
		s = strings.ReplaceAll(strings.ReplaceAll(s, ".", ""), ",", ".")
	case decimalComma && commaDecimal.MatchString(s):
		s = strings.ReplaceAll(s, ",", ".")
	case decimalComma && pointsMany.MatchString(s):
		s = strings.ReplaceAll(s, ".", "")
	case decimalComma && onePointThree.MatchString(s):
		return nil, false, true
	case strings.Contains(s, ","):
		return nil, false, true
	case !plainNumber.MatchString(s):
		return nil, false, false
	}
	value, ok = new(big.Rat).SetString(s)
	return value, ok, false
}

// isCommaList says whether commas without spaces can do nothing but part the values of a list: there are several of them
// and they don't part thousands, or each value has its own point.
func isCommaList(s string, decimalComma bool) bool {
	return !decimalComma && (commaList.MatchString(s) && !thousandsMany.MatchString(s) && !thousandsPoint.MatchString(s) || pointList.MatchString(s))
}

// commaProblem says that a number's comma or point can be read two ways.
func commaProblem(number, whole string) *Problem {
	hint := "write decimals with a point and thousands without a mark"
	as := func(old, now string) string {
		return strings.Replace(whole, number, strings.ReplaceAll(number, old, now), 1)
	}
	switch {
	case oneCommaThree.MatchString(number):
		hint = "write it as " + as(",", "") + " or " + as(",", ".")
	case onePointThree.MatchString(number):
		hint = "write it as " + as(".", "") + " or " + as(".", ",")
	case commaDecimal.MatchString(number):
		hint = "write it as " + as(",", ".") + "; or two values with a space behind the comma"
	}
	return fault(finding.CellComma, hint, "the number in %s can be read two ways", quote(whole))
}

var storedForm = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,2})?$`)

// stored gives the exact value of a number cell's stored digits, which may carry an exponent.
func stored(c sheet.Cell) (*big.Rat, bool) {
	s := strings.TrimSpace(c.Text)
	// Two digits of exponent hold anything measured; with more, exact numbers of a thousand digits would come about.
	if len(s) > mostDigits || !storedForm.MatchString(s) {
		return nil, false
	}
	return new(big.Rat).SetString(s)
}

// storedProblem says that a number cell's content can't be used.
func storedProblem(c sheet.Cell) *Problem {
	return fault(finding.CellStored, "write the figure again", "the number %s stored in this cell can't be used", quote(c.Text))
}

// scaled gives r times scale rounded to a whole number, halves away from zero. ok is false beyond int64.
func scaled(r *big.Rat, scale int64) (int64, bool) {
	n := new(big.Int).Mul(r.Num(), big.NewInt(scale))
	n.Mul(n, big.NewInt(2))
	d := r.Denom()
	if r.Sign() < 0 {
		n.Sub(n, d)
	} else {
		n.Add(n, d)
	}
	n.Quo(n, new(big.Int).Mul(d, big.NewInt(2)))
	return n.Int64(), n.IsInt64()
}

func float(r *big.Rat) float64 { f, _ := r.Float64(); return f }

func rat(n int64) *big.Rat { return big.NewRat(n, 1) }
