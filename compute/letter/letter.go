// Package letter knows which signs of a text the papers can show. What they can't show is printed as an open box, what has no
// shape is left out, and the owner is told where either stands.
package letter

import (
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Fate is what becomes of a sign on paper.
type Fate uint8

// The fates.
const (
	Shown     Fate = iota // as it is, or as its plain fellow: a space for a tab, 3/8 for a fraction of one sign
	Invisible             // it has no shape and is left out: joiners, direction marks, variation selectors
	Boxed                 // an open box stands for it
)

// Of gives the fate of a sign of a text in NFC.
func Of(r rune) Fate {
	switch {
	case r < 0x7F && r >= ' ':
		return Shown
	case isBreak(r) || r == '\t' || unicode.Is(unicode.Zs, r):
		return Shown
	case unicode.In(r, unicode.Cf, unicode.Variation_Selector):
		return Invisible
	case unicode.Is(unicode.Cc, r) || unicode.Is(unicode.M, r):
		return Boxed
	case raised(r) || spelledOut(r) || unicode.Is(typeface, r):
		return Shown
	}
	return Boxed
}

// Lost lists the signs of a text that the papers print as open boxes and those they leave out, each once, in the order they
// stand. A byte that belongs to no sign counts as U+FFFD.
func Lost(s string) (boxed, invisible []rune) {
	if plain(s) {
		return nil, nil
	}
	seen := map[rune]bool{}
	for _, r := range norm.NFC.String(s) {
		fate := Of(r)
		if fate == Shown || seen[r] {
			continue
		}
		seen[r] = true
		if fate == Boxed {
			boxed = append(boxed, r)
		} else {
			invisible = append(invisible, r)
		}
	}
	return boxed, invisible
}

// plain reports whether a text is of the signs every keyboard has: most are, and need no closer look.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x7F || s[i] < ' ' && s[i] != '\t' && s[i] != '\n' && s[i] != '\r' {
			return false
		}
	}
	return true
}

// isBreak reports whether a sign ends a line.
func isBreak(r rune) bool {
	switch r {
	case '\n', '\r', '\v', '\f', '\u0085', '\u2028', '\u2029':
		return true
	}
	return false
}

// raised reports whether a sign is a superscript digit; those the typeface lacks are drawn by hand.
func raised(r rune) bool {
	return r == '\u00B9' || r == '\u00B2' || r == '\u00B3' || r == '\u2070' || r >= '\u2074' && r <= '\u2079'
}

// spelledOut reports whether a sign is printed as others: one sign for a whole fraction, dashes and slashes of other widths.
func spelledOut(r rune) bool {
	switch r {
	case '\u2011', '\u2044', '\u2215', '\u2189':
		return true
	}
	return r >= '\u00BC' && r <= '\u00BE' || r >= '\u2150' && r <= '\u215E'
}
