package cell

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

type tokenKind uint8

const (
	endToken tokenKind = iota
	numberToken
	wordToken
	markToken
)

// token is a number as written, a word, or a single mark of a cleaned text.
type token struct {
	kind       tokenKind
	text       string
	start, end int
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// tokens cuts a cleaned text. A comma or point between two digits belongs to the number, except that the comma behind a
// fraction (1 1/16,1 3/32) parts two values unless the file's commas are decimal ones. The point behind a word or a
// number is dropped.
func tokens(s string, decimalComma bool) []token {
	var out []token
	for i := 0; i < len(s); {
		c := s[i]
		start := i
		switch {
		case c == ' ':
			i++
		case isDigit(c) || (c == '.' && i+1 < len(s) && isDigit(s[i+1]) && (i == 0 || !isDigit(s[i-1]))):
			afterSlash := len(out) > 0 && out[len(out)-1].text == "/"
			i++
			for i < len(s) {
				switch {
				case isDigit(s[i]):
					i++
					continue
				case (s[i] == '.' || s[i] == ',') && i+1 < len(s) && isDigit(s[i+1]) && (s[i] == '.' || decimalComma || !afterSlash):
					i++
					continue
				}
				break
			}
			out = append(out, token{numberToken, s[start:i], start, i})
			if i < len(s) && s[i] == '.' && (i+1 == len(s) || s[i+1] == ' ') {
				i++
			}
		default:
			r, n := utf8.DecodeRuneInString(s[i:])
			i += n
			if !unicode.IsLetter(r) {
				out = append(out, token{markToken, s[start:i], start, i})
				continue
			}
			for i < len(s) {
				r, n = utf8.DecodeRuneInString(s[i:])
				if !unicode.IsLetter(r) && !unicode.IsMark(r) {
					break
				}
				i += n
			}
			word := s[start:i]
			// 25mmx150: the times sign behind a unit.
			if stem := strings.TrimSuffix(word, "x"); stem != word && lengthUnits[stem] != UnitNone && i < len(s) && (isDigit(s[i]) || s[i] == ' ') {
				out = append(out, token{wordToken, stem, start, i - 1}, token{wordToken, "x", i - 1, i})
			} else {
				out = append(out, token{wordToken, word, start, i})
			}
			if i < len(s) && s[i] == '.' && (i+1 == len(s) || !isDigit(s[i+1])) {
				i++
			}
		}
	}
	return out
}

// parser walks over the tokens of one cell.
type parser struct {
	text  string
	toks  []token
	at    int
	x     Context
	about bool // a mark or word said that the value is approximate
}

// longestFigure is the longest text, in bytes, that is read as figures. A longer one is a note.
const longestFigure = 300

func newParser(text string, x Context) *parser {
	if len(text) > longestFigure {
		return &parser{text: text, x: x}
	}
	return &parser{text: text, toks: tokens(text, x.DecimalComma), x: x}
}

// peek gives the token n places ahead without taking it.
func (p *parser) peek(n int) token {
	if p.at+n < len(p.toks) {
		return p.toks[p.at+n]
	}
	return token{start: len(p.text), end: len(p.text)}
}

// take takes the next token if its text is one of those given.
func (p *parser) take(texts ...string) bool {
	t := p.peek(0)
	for _, s := range texts {
		if t.kind != endToken && t.text == s {
			p.at++
			return true
		}
	}
	return false
}

func (p *parser) done() bool { return p.at >= len(p.toks) }

// rest is the text not taken yet.
func (p *parser) rest() string { return strings.TrimSpace(p.text[p.peek(0).start:]) }

var aboutBefore = []string{"~", "about", "abt", "approx", "approximately", "ca", "circa", "around", "roughly", "±"}

var aboutBehind = []string{"~", "?", "±", "+", "approx", "about", "scant", "shy", "full", "strong", "heavy", "light", "fat"}

// takeAbout takes marks that call the value approximate.
func (p *parser) takeAbout(marks []string) {
	for {
		switch {
		case p.peek(0).text == "+" && p.peek(1).text == "/" && p.peek(2).text == "-":
			p.at += 3
		case p.peek(0).text == "(" && p.peek(1).text == "?" && p.peek(2).text == ")":
			p.at += 3
		case p.peek(0).text == "or" && p.peek(1).text == "so":
			p.at += 2
		case !p.take(marks...):
			return
		}
		p.about = true
	}
}
