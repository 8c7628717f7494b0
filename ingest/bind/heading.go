package bind

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"drytally/ingest/cell"
)

// unitWords are the units people write into a heading.
var unitWords = map[string]cell.Unit{
	"in": cell.Inch, "inch": cell.Inch, "inches": cell.Inch, "ins": cell.Inch, "ft": cell.Foot, "feet": cell.Foot, "foot": cell.Foot,
	"mm": cell.Millimetre, "cm": cell.Centimetre, "m": cell.Metre, "metre": cell.Metre, "metres": cell.Metre, "meters": cell.Metre,
	"f": cell.Fahrenheit, "degf": cell.Fahrenheit, "c": cell.CelsiusUnit, "degc": cell.CelsiusUnit,
	"g": cell.Gram, "gram": cell.Gram, "grams": cell.Gram, "kg": cell.Kilogram, "lb": cell.Pound, "lbs": cell.Pound, "pounds": cell.Pound, "oz": cell.OunceUnit,
	"%": cell.PercentUnit, "pct": cell.PercentUnit, "percent": cell.PercentUnit,
	"sqft": cell.SquareFoot, "ft2": cell.SquareFoot, "sf": cell.SquareFoot, "m2": cell.SquareMetre,
}

// noise are words of a heading that carry no meaning of their own.
var noise = map[string]bool{"the": true, "a": true, "of": false, "our": true, "my": true, "about": true, "approx": true}

// headingWords brings a heading to the form the declarative table is written in: NFKC, lower case, letters, digits and
// single spaces, "#" and "no." as "no", the unit taken out and given apart.
func headingWords(s string) (words string, unit cell.Unit) {
	fields := headingFields(s)
	if len(fields) > 1 && fields[len(fields)-1] == "deg" {
		fields = fields[:len(fields)-1]
	}
	// A unit counts when it stands last, or before nothing but a number (thickness in 1); alone it is a heading (T, F).
	for len(fields) > 1 {
		last := fields[len(fields)-1]
		u, ok := unitWords[last]
		if !ok {
			break
		}
		if unit == cell.UnitNone {
			unit = u
		}
		fields = fields[:len(fields)-1]
		if n := len(fields); n > 1 && fields[n-1] == "deg" {
			fields = fields[:n-1]
		}
	}
	kept := fields[:0]
	for i, f := range fields {
		if noise[f] && len(fields) > 1 {
			continue
		}
		// A running number at the end of a repeated column: thickness 1, thickness 2.
		if i == len(fields)-1 && i > 0 && len(f) <= 2 && isDigits(f) {
			continue
		}
		kept = append(kept, f)
	}
	return strings.Join(kept, " "), unit
}

// headingFields gives the words of a heading as they stand, units and running numbers too.
func headingFields(s string) []string {
	s = strings.ToLower(norm.NFKC.String(s))
	s = strings.NewReplacer("#", " no ", "°", " deg", "no.", " no ", "nr.", " no ", "m²", " m2 ", "ft²", " ft2 ",
		"sq. ft.", "sqft", "sq ft", "sqft", "sq. ft", "sqft", "\"", " in ", "″", " in ", "w/", "with ").Replace(s)
	return strings.FieldsFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '%'
	})
}

func isDigits(s string) bool {
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return s != ""
}

// match finds the field of a table that a heading names, given its words without a unit and as it stands: "Date in" is no
// length in inches. near is true when only a near miss of a heading fits.
func (t *Table) match(words, written string) (field int, near bool) {
	if words == "" {
		return -1, false
	}
	whole := strings.Join(headingFields(written), " ")
	for _, w := range []string{whole, words} {
		for i, f := range t.Fields {
			if slices.Contains(f.Headings, w) {
				return i, false
			}
		}
	}
	// The same words in another order: "thickness green", "ovendry section".
	for i, f := range t.Fields {
		if slices.ContainsFunc(f.Headings, func(h string) bool { return len(h) == len(words) && sameWords(h, words) }) {
			return i, false
		}
	}
	best := -1
	for i, f := range t.Fields {
		for _, h := range f.Headings {
			if len(h) >= 5 && len(words) >= 5 && oneSlip(h, words) {
				if best >= 0 && best != i {
					return -1, false // two fields are equally near
				}
				best = i
			}
		}
	}
	return best, best >= 0
}

// sameWords reports whether two headings are made of the same words.
func sameWords(a, b string) bool {
	x, y := strings.Fields(a), strings.Fields(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// oneSlip reports whether a and b differ by one letter typed wrong, left out, added, or two letters swapped.
func oneSlip(a, b string) bool {
	x, y := []rune(a), []rune(b)
	if len(x) > len(y) {
		x, y = y, x
	}
	if len(y)-len(x) > 1 {
		return false
	}
	i := 0
	for i < len(x) && x[i] == y[i] {
		i++
	}
	if len(x) == len(y) {
		if i == len(x) {
			return false // the same word
		}
		if string(x[i+1:]) == string(y[i+1:]) {
			return true
		}
		return i+1 < len(x) && x[i] == y[i+1] && x[i+1] == y[i] && string(x[i+2:]) == string(y[i+2:])
	}
	return string(x[i:]) == string(y[i+1:])
}
