package cell

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// fractions are the fractions that have a letter of their own.
var fractions = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅓': "1/3", '⅔': "2/3",
	'⅕': "1/5", '⅖': "2/5", '⅗': "3/5", '⅘': "4/5", '⅙': "1/6", '⅚': "5/6", '⅐': "1/7", '⅑': "1/9", '⅒': "1/10", '⅟': "1/",
}

const (
	raised  = "⁰¹²³⁴⁵⁶⁷⁸⁹"
	lowered = "₀₁₂₃₄₅₆₇₈₉"
)

var raisedFraction = regexp.MustCompile(`([⁰¹²³⁴⁵⁶⁷⁸⁹]+)\s*[⁄∕/]\s*([₀₁₂₃₄₅₆₇₈₉]+|\d+)`)

// plainDigits turns raised or lowered digits into plain ones.
func plainDigits(s string) string {
	return strings.Map(func(r rune) rune {
		for _, row := range []string{raised, lowered} {
			n := 0
			for _, d := range row {
				if d == r {
					return rune('0' + n)
				}
				n++
			}
		}
		return r
	}, s)
}

// clean brings what stands in a cell to lower case and one way of writing: one kind of space, dash, quotation mark,
// slash and times sign, full-width letters as plain ones, fractions as 3/8 with a space before them, line breaks as
// semicolons. Signs that have no plain form (² behind a number, digits of other scripts) stay and are read by nobody.
func clean(s string) string {
	if strings.ContainsAny(s, raised) {
		s = raisedFraction.ReplaceAllStringFunc(s, func(f string) string { return " " + plainDigits(f) })
	}
	b := make([]byte, 0, len(s))
	last := rune(0) // the last letter written
	put := func(t string) {
		for _, r := range t {
			if r == ' ' && (last == ' ' || last == 0) {
				continue
			}
			b = utf8.AppendRune(b, r)
			last = r
		}
	}
	for _, r := range strings.TrimSpace(s) {
		if r >= '！' && r <= '～' {
			r -= '！' - '!' // the full-width forms stand in the order of ASCII
		}
		if f, ok := fractions[r]; ok {
			if unicode.IsDigit(last) {
				f = " " + f
			}
			put(f)
			continue
		}
		switch r {
		case '\n', '\r', '\v', '\f', '\u0085', '\u2028', '\u2029':
			if last != ';' && last != ' ' {
				put(";")
			}
			put(" ")
		case '\u200b', '\u200c', '\u200d', '\u200e', '\u200f', '\u2060', '\ufeff', '\u00ad', '\u202a', '\u202b', '\u202c', '\u202d', '\u202e':
			// Invisible.
		case '‐', '‑', '‒', '–', '—', '―', '−', '﹣':
			put("-")
		case '″', '“', '”', '„', '‟', '‶', '〃', '˝', 'ʺ':
			put(`"`)
		case '\'', '′', '’', '‘', '‛', '´', '`', 'ʹ', 'ʼ':
			if last == '\'' { // two single marks are the inch mark
				b[len(b)-1] = '"'
				last = '"'
				continue
			}
			put("'")
		case '⁄', '∕':
			put("/")
		case '×', '✕', '✖', '⨯':
			put("x")
		case 'º', '˚':
			put("°")
		case '℃':
			put("°c")
		case '℉':
			put("°f")
		case '≈', '∼', '˜':
			put("~")
		case '²':
			if last == 'm' || last == 't' || last == 'n' {
				put("2")
			} else {
				put("²")
			}
		default:
			if unicode.IsSpace(r) || unicode.Is(unicode.Zs, r) {
				put(" ")
			} else {
				put(string(unicode.ToLower(r)))
			}
		}
	}
	return strings.TrimSpace(string(b))
}
