package page

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// standIn is drawn where the typeface lacks a character; all three faces have it.
const standIn = '\u25A1' // open box

// noBreakSpace is drawn as a space at which no line breaks.
const noBreakSpace = '\u00A0'

// plainFor are characters the sheets hold for reasons of their program and that are drawn as their plain fellow.
// The fraction slash is among them so that 3/8 is set one way wherever it came from.
var plainFor = map[rune]rune{
	'\u2044': '/', '\u2215': '/', // fraction slash, division slash
	'\u2010': '-', '\u2011': '-', // hyphens
	'\u2212': '\u2212', // minus stays minus
	'\u202F': noBreakSpace, '\u2007': noBreakSpace,
	'\u2028': '\n', '\u2029': '\n', '\v': '\n', '\f': '\n', '\u0085': '\n',
	'\t': ' ',
}

// cleaned is text as it can be drawn: every rune is in the face, a space, noBreakSpace or '\n'.
type cleaned struct {
	runes    []rune
	replaced []bool // by a stand-in, rune by rune; nil: none is
	dropped  int    // joiners, direction marks and other characters without a shape
}

// clean normalizes s (NFC) and makes it drawable in the face. Accented letters come out composed; a combining mark that
// does not compose, a control character, a character the face lacks and one above U+FFFF are replaced by a stand-in. Fraction
// characters are written out: 11⅜ gives 11 3/8.
func clean(s string, f *faceData) cleaned {
	if isPlain(s) {
		return cleaned{runes: []rune(s)}
	}
	s = strings.ReplaceAll(s, "\r\n", "\n")
	var c cleaned
	put := func(r rune, replaced bool) {
		c.runes = append(c.runes, r)
		c.replaced = append(c.replaced, replaced)
	}
	for _, r := range norm.NFC.String(s) {
		if p, ok := plainFor[r]; ok {
			r = p
		}
		switch {
		case r == '\n' || r == ' ' || r == noBreakSpace:
			put(r, false)
		case r == '\r':
			put('\n', false)
		case unicode.Is(unicode.Zs, r):
			put(' ', false)
		case unicode.In(r, unicode.Cf, unicode.Variation_Selector):
			c.dropped++
		case isVulgar(r):
			if n := len(c.runes); n > 0 && unicode.IsDigit(c.runes[n-1]) {
				put(' ', false)
			}
			for _, q := range norm.NFKD.String(string(r)) {
				if q == '\u2044' {
					q = '/'
				}
				put(q, false)
			}
		case r > 0xFFFE || unicode.In(r, unicode.M, unicode.Cc) || !f.has(r) && !isRaisedDigit(r):
			put(standIn, true)
		default:
			put(r, false)
		}
	}
	return c
}

// isPlain reports whether s is of printable ASCII alone, which every face has.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// isVulgar reports whether r is one character for a whole fraction.
func isVulgar(r rune) bool {
	return r >= '\u00BC' && r <= '\u00BE' || r >= '\u2150' && r <= '\u215E' || r == '\u2189'
}

// isRaisedDigit reports whether r is a superscript digit. The typeface lacks the raised zero, so all are drawn by hand in
// numbers that need it.
func isRaisedDigit(r rune) bool {
	return r == '\u00B9' || r == '\u00B2' || r == '\u00B3' || r == '\u2070' || r >= '\u2074' && r <= '\u2079'
}

// oneLine is clean text for places that hold no line break and take no stand-in: document properties and bookmarks.
// Characters above U+FFFF become the replacement character, because the PDF library cannot write them.
func oneLine(s string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case r > 0xFFFE:
			return '\uFFFD'
		case unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp):
			return ' '
		case unicode.Is(unicode.Cf, r):
			return -1
		}
		return r
	}, norm.NFC.String(s))), " ")
}
