package bind

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"drytally/compute/slip"
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

// spelled is a heading brought to the form the declarative table is written in.
type spelled struct {
	whole string    // lower case, letters and digits, single spaces
	words string    // the same without its unit, running number and words that say nothing
	unit  cell.Unit // what stood behind the words
}

// spell brings a heading to the form the declarative table is written in: NFKC, lower case, letters, digits and single
// spaces, "#" and "no." as "no", the unit taken out and given apart.
func spell(s string) spelled {
	fields := headingFields(s)
	h := spelled{whole: strings.Join(fields, " ")}
	h.words, h.unit = withoutUnit(fields)
	return h
}

// headingWords is spell without the heading as a whole.
func headingWords(s string) (words string, unit cell.Unit) {
	h := spell(s)
	return h.words, h.unit
}

// withoutUnit takes the unit, the running number and words that say nothing off a heading.
func withoutUnit(fields []string) (words string, unit cell.Unit) {
	// A column headed by a degree sign alone: the unit is the heading.
	switch strings.Join(fields, " ") {
	case "f", "degf", "deg f":
		return "deg", cell.Fahrenheit
	case "c", "degc", "deg c":
		return "deg", cell.CelsiusUnit
	}
	if len(fields) == 1 {
		switch u := unitWords[fields[0]]; u {
		case cell.Gram, cell.Kilogram, cell.Pound:
			return fields[0], u // a column of weights headed by its unit
		}
	}
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
	kept := make([]string, 0, len(fields))
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
	if len(s) > longestSpelled {
		s = strings.ToValidUTF8(s[:longestSpelled], "") // a note, of which no more is looked at
	}
	s = withoutAccents(strings.ToLower(norm.NFKC.String(s)))
	if strings.Contains(s, ".") {
		s = dotted.ReplaceAllStringFunc(s, func(m string) string { return strings.ReplaceAll(m, ".", "") })
	}
	s = headingMarks.Replace(s)
	fields := strings.FieldsFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '%'
	})
	// The percent sign says the unit wherever it stands: % MC, MC % out.
	if n := len(fields); n > 1 {
		kept := slices.DeleteFunc(slices.Clone(fields), func(f string) bool { return f == "%" })
		if len(kept) > 0 && len(kept) < n {
			return append(kept, "%")
		}
	}
	return fields
}

// withoutAccents takes the accents off the letters: epaisseur for épaisseur.
func withoutAccents(s string) string {
	if !strings.ContainsFunc(s, func(r rune) bool { return r >= 'À' && r <= 'ſ' }) {
		return s
	}
	s = strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(s))
	return strings.ReplaceAll(s, "œ", "oe")
}

// longestSpelled is how many bytes of a text are brought to the form of a heading: titles are short.
const longestSpelled = 400

// headingMarks writes out the marks of headings.
var headingMarks = strings.NewReplacer("#", " no ", "°", " deg", "no.", " no ", "nr.", " no ", "m²", " m2 ", "ft²", " ft2 ",
	"sq. ft.", "sqft", "sq ft", "sqft", "sq. ft", "sqft", "\"", " in ", "″", " in ", "(')", " ft ", "(′)", " ft ", "w/", "with ", "&", " and ", "%", " % ")

// dotted finds an abbreviation written with points: M.C., R.H., o.d.
var dotted = regexp.MustCompile(`\b(?:\pL\.){2,}|\b\pL\.\pL\b`)

func isDigits(s string) bool {
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return s != ""
}

// match finds the field of a table that a heading names. Its words count without their unit only where the unit fits the
// field: "Date in" and "MC in" are no lengths in inches. near is true when only a near miss of a heading fits. When the
// heading is equally near to two fields, field is twoFieldNear and other names them.
func (t *Table) match(h spelled) (field int, near bool, other string) {
	if i := t.exact(h); i >= 0 {
		return i, false, ""
	}
	x := loadHeadingIndex()
	own := x.tables[t.Kind]
	fits := func(i int) bool { return unitFits(t.Fields[i].What, h.unit) }
	if len(h.words) < shortestNear || x.known[h.words] {
		return unknownField, false, "" // a word of another kind of table is no slip of one of this
	}
	best := unknownField
	for _, part := range lessOne(h.words) {
		for _, c := range own.near[part] {
			if c.field == best || !fits(c.field) || !slip.One(c.heading, h.words) {
				continue
			}
			if best >= 0 {
				return twoFieldNear, false, t.Fields[min(best, c.field)].Name + " as to " + t.Fields[max(best, c.field)].Name
			}
			best = c.field
		}
	}
	return best, best >= 0, ""
}

// anyKnows reports whether some kind of table knows a heading, slips not allowed.
func anyKnows(h spelled) bool {
	x := loadHeadingIndex()
	if h.words == "" || x.known[h.whole] || x.known[h.words] {
		return h.words != ""
	}
	if last := h.words[len(h.words)-1]; last == 's' || last >= '1' && last <= '9' {
		if x.known[h.words[:len(h.words)-1]] {
			return true
		}
	}
	return strings.Contains(h.words, " ") && x.sorted[inOrderOfLetters(h.words)]
}

// exact finds the field of a heading without allowing for slips; unknownField when there is none.
func (t *Table) exact(h spelled) int {
	if h.words == "" {
		return unknownField
	}
	own := loadHeadingIndex().tables[t.Kind]
	fits := func(i int) bool { return unitFits(t.Fields[i].What, h.unit) }
	if i, ok := own.exact[h.whole]; ok {
		return i
	}
	if i, ok := own.exact[h.words]; ok && fits(i) {
		return i
	}
	// The same words in another order: "thickness green", "ovendry section".
	if i, ok := own.sorted[inOrderOfLetters(h.words)]; ok && fits(i) {
		return i
	}
	// T1, MC2; widths, lengths.
	switch last := h.words[len(h.words)-1]; {
	case last >= '1' && last <= '9':
		if m := endDigit.FindStringSubmatch(h.words); m != nil {
			if i, ok := own.exact[m[1]]; ok && fits(i) {
				return i
			}
		}
	case last == 's':
		if i, ok := own.exact[h.words[:len(h.words)-1]]; ok && len(h.words) > 4 && fits(i) && t.Fields[i].What != anID && t.Fields[i].What != aCount {
			return i
		}
	}
	return unknownField
}

var endDigit = regexp.MustCompile(`^(.*[a-z])[1-9]$`)

// unitFits reports whether a heading's unit can be that of a quantity: a unit that can't is a word of the heading.
func unitFits(what quantity, u cell.Unit) bool {
	switch u {
	case cell.UnitNone:
		return true
	case cell.Inch, cell.Foot, cell.Millimetre, cell.Centimetre, cell.Metre:
		return what == aThickness || what == aLength || what == aRun || what == aSize || what == aCutOut
	case cell.Fahrenheit, cell.CelsiusUnit:
		return what == aTemperature
	case cell.Gram, cell.Kilogram, cell.Pound, cell.OunceUnit:
		return what == aMass
	case cell.PercentUnit:
		return what == aReading || what == anMC || what == aHumidity || what == aShare
	case cell.SquareFoot, cell.SquareMetre:
		return what == anArea
	}
	return true
}
