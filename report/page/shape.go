package page

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

// atom is the smallest piece of text that is never torn apart: one character, or a number with its fraction.
type atom struct {
	text     string  // as it copies out of the document
	width    float64 // share of the size
	set      *set    // how it is drawn when that is not text as it stands
	gap      bool    // a space at which a line may break
	split    bool    // a line may break after it
	newline  bool    // a line must break here
	replaced bool    // a stand-in
	level    uint8   // odd: it runs from right to left
}

// set is a number that is drawn in parts.
type set struct {
	whole, num, den string // a fraction when den is not empty; whole may be empty
	raised          string // digits to draw raised, when text is a raised number
}

// shaped is text made ready to be measured, broken into lines and drawn in one face.
type shaped struct {
	atoms   []atom
	dropped int
}

// How a fraction is set, as shares of the size of the text it stands in.
const (
	fracSize   = 0.64   // size of numerator and denominator
	fracRise   = 0.275  // numerator: its top a little above the tops of the digits beside it: 0.275 + 0.64 * 0.687
	fracGap    = 0.08   // between whole number and numerator
	fracSlash  = 0.19   // from the end of the numerator to the denominator
	slashStart = -0.155 // where the slash starts, from the end of the numerator
	slashLean  = 17.0   // degrees the slash of the typeface is made to lean further
	raisedSize = 0.62
	raisedRise = 0.30
)

// shapeKey is what the shape of a text depends on: not its size.
type shapeKey struct {
	text  string
	face  Face
	plain bool
}

// mostShapes is how many shaped texts are kept, none longer than longestShape bytes; then all are forgotten and it begins
// anew.
const (
	mostShapes   = 1000
	longestShape = 2000
)

// shape gives the shape of a text, from those kept when it was asked for before: a text is measured, often in several sizes,
// before it is drawn. What it gives is shared and must not be written to.
func (d *Doc) shape(s string, st Style) shaped {
	if len(s) > longestShape {
		return shape(s, st)
	}
	k := shapeKey{s, st.Face, st.Plain}
	if sh, ok := d.shapes[k]; ok {
		return sh
	}
	if len(d.shapes) >= mostShapes {
		clear(d.shapes)
	}
	if d.shapes == nil {
		d.shapes = map[shapeKey]shaped{}
	}
	sh := shape(s, st)
	d.shapes[k] = sh
	return sh
}

// shape turns any string into atoms of the face.
func shape(s string, st Style) shaped {
	f := st.Face.data()
	c := clean(s, f)
	out := shaped{atoms: make([]atom, 0, len(c.runes)), dropped: c.dropped}
	for i := 0; i < len(c.runes); {
		r := c.runes[i]
		if !st.Plain {
			if whole, num, den, n := fractionAt(c.runes, i); n > 0 {
				out.atoms = append(out.atoms, fractionAtom(f, whole, num, den))
				i += n
				continue
			}
		}
		if n := raisedRun(c.runes, i); n > 0 {
			out.atoms = append(out.atoms, raisedAtom(f, string(c.runes[i:i+n])))
			i += n
			continue
		}
		a := atom{text: string(r), replaced: c.replaced != nil && c.replaced[i]}
		switch r {
		case '\n':
			a.newline = true
		case ' ':
			a.gap, a.width = !beforeUnit(c.runes, i), em(f, ' ')
		case noBreakSpace:
			a.text, a.width = " ", em(f, ' ')
		default:
			a.width = em(f, r)
			a.split = splitsAfter(c.runes, i)
		}
		out.atoms = append(out.atoms, a)
		i++
	}
	setLevels(out.atoms)
	return out
}

// em is the advance of r as a share of the size.
func em(f *faceData, r rune) float64 { return float64(max(0, f.advance(r))) / 1000 }

func ems(f *faceData, s string) float64 {
	w := 0.0
	for _, r := range s {
		w += em(f, r)
	}
	return w
}

// splitsAfter: a line may break after a hyphen or slash inside a word, and after a dash.
func splitsAfter(rs []rune, i int) bool {
	switch rs[i] {
	case '\u2013', '\u2014': // dashes
		return true
	case '-', '/', '_':
		return i > 1 && i+2 < len(rs) && isLetter(rs[i-1]) && isLetter(rs[i+1])
	}
	return false
}

// unitSigns are the signs of units that stay on the line of their number.
var unitSigns = map[string]bool{"%": true, "mm": true, "cm": true, "m": true, "m\u00B2": true, "m\u00B3": true, "in": true, "ft": true, "bf": true,
	"F": true, "C": true, "lb": true, "kg": true}

// longestUnit is the number of runes of the longest of them.
const longestUnit = 2

// KeepUnits puts no-break spaces between numbers and the signs of their units, for text that is broken into lines elsewhere.
// On a page it is done without it.
func KeepUnits(s string) string {
	rs := []rune(s)
	for i, r := range rs {
		if r == ' ' && beforeUnit(rs, i) {
			rs[i] = noBreakSpace
		}
	}
	return string(rs)
}

// beforeUnit reports whether the space at rs[i] stands between a number and its unit, where no line breaks.
func beforeUnit(rs []rune, i int) bool {
	if i == 0 || !isDigit(rs[i-1]) {
		return false
	}
	end := i + 1
	for end < len(rs) && (rs[end] == '%' || isLetter(rs[end]) || isRaisedDigit(rs[end])) {
		if end++; end-i-1 > longestUnit {
			return false
		}
	}
	return unitSigns[string(rs[i+1:end])] && (end == len(rs) || !isDigit(rs[end]))
}

// tradeDenominators are the denominators of the inch in the trade. Only with these is a/b set as a fraction.
var tradeDenominators = map[string]int{"2": 2, "4": 4, "8": 8, "16": 16, "32": 32, "64": 64}

// fractionAt finds a proper fraction of the trade at rs[i], with the whole number before it if one stands there: 3/8,
// 11 3/8. n is the number of runes it takes, 0 when there is none. Nominal thicknesses such as 5/4 are no proper fractions
// and stay as they are; so do dates and anything with a letter or a further slash beside it.
func fractionAt(rs []rune, i int) (whole, num, den string, n int) {
	if !isDigit(rs[i]) || i > 0 && joined(rs[i-1]) || i > 1 && rs[i-1] == '-' && isLetter(rs[i-2]) {
		return "", "", "", 0
	}
	at := i
	num = digitsAt(rs, at)
	at += len(num)
	if at+1 < len(rs) && (rs[at] == ' ' || rs[at] == noBreakSpace) && isDigit(rs[at+1]) && len(num) <= 4 {
		whole = num
		num = digitsAt(rs, at+1)
		at += 1 + len(num)
	}
	if at+1 >= len(rs) || rs[at] != '/' {
		return "", "", "", 0
	}
	den = digitsAt(rs, at+1)
	at += 1 + len(den)
	if at < len(rs) && joined(rs[at]) && rs[at] != 'x' && rs[at] != 'X' {
		if rs[at] != '.' && rs[at] != ',' && rs[at] != ':' || at+1 < len(rs) && isDigit(rs[at+1]) {
			return "", "", "", 0
		}
	}
	d := tradeDenominators[den]
	if d == 0 || num == "" || num[0] == '0' || len(num) > 2 || number(num) >= d {
		return "", "", "", 0
	}
	return whole, num, den, at - i
}

// joined reports whether r beside a number makes it part of something else.
func joined(r rune) bool {
	return isDigit(r) || isLetter(r) || strings.ContainsRune("./,:", r)
}

func isDigit(r rune) bool  { return r >= '0' && r <= '9' }
func isLetter(r rune) bool { return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r > 0xBF }

func digitsAt(rs []rune, i int) string {
	j := i
	for j < len(rs) && isDigit(rs[j]) {
		j++
	}
	return string(rs[i:j])
}

func number(digits string) int {
	n := 0
	for _, r := range digits {
		n = 10*n + int(r-'0')
	}
	return n
}

func fractionAtom(f *faceData, whole, num, den string) atom {
	a := atom{text: num + "/" + den, set: &set{whole: whole, num: num, den: den}}
	if whole != "" {
		a.text = whole + " " + a.text
		a.width = ems(f, whole) + fracGap
	}
	a.width += fracSize*(ems(f, num)+ems(f, den)) + fracSlash
	return a
}

// raisedRun gives the length of a raised number at i that holds a raised zero, which the typeface lacks; else 0.
func raisedRun(rs []rune, i int) int {
	j, zero := i, false
	for j < len(rs) && j < i+6 && isRaisedDigit(rs[j]) {
		zero = zero || rs[j] == '\u2070'
		j++
	}
	if !zero {
		return 0
	}
	return j - i
}

func raisedAtom(f *faceData, s string) atom {
	digits := norm.NFKD.String(s)
	return atom{text: s, set: &set{raised: digits}, width: raisedSize * ems(f, digits)}
}

// width is the width of atoms as a share of the size.
func width(atoms []atom) float64 {
	w := 0.0
	for _, a := range atoms {
		w += a.width
	}
	return w
}

// trimGaps takes the spaces off both ends of a line.
func trimGaps(line []atom) []atom {
	for len(line) > 0 && line[0].gap {
		line = line[1:]
	}
	for len(line) > 0 && line[len(line)-1].gap {
		line = line[:len(line)-1]
	}
	return line
}

// wrap breaks atoms into lines no wider than limit (a share of the size). A word wider than the limit is broken between
// characters. A line always takes at least one atom, so an atom wider than the limit makes a line of its own that is wider;
// Doc cuts such lines when it draws. There is always at least one line.
func wrap(atoms []atom, limit float64) [][]atom {
	const play = 1e-9
	var lines [][]atom
	start, end, w := 0, -1, 0.0 // end: where the line would break, next: where the next one would start
	next := 0
	for i := 0; i < len(atoms); i++ {
		a := atoms[i]
		if a.newline {
			lines = append(lines, trimRight(atoms[start:i]))
			start, end, w = i+1, -1, 0
			continue
		}
		if a.gap {
			if i == start {
				start = i + 1 // no line starts with a space
				continue
			}
			end, next = i, i+1
			w += a.width
			continue
		}
		if w+a.width > limit+play && i > start {
			if end < 0 {
				end, next = i, i
			}
			lines = append(lines, trimRight(atoms[start:end]))
			start, end, w = next, -1, 0
			i = next - 1
			continue
		}
		w += a.width
		if a.split {
			end, next = i+1, i+1
		}
	}
	if start < len(atoms) || len(lines) == 0 || atoms[len(atoms)-1].newline {
		lines = append(lines, trimRight(atoms[min(start, len(atoms)):]))
	}
	return lines
}

func trimRight(line []atom) []atom {
	for len(line) > 0 && line[len(line)-1].gap {
		line = line[:len(line)-1]
	}
	return line
}
