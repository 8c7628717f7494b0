package cell

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// Text reads a name, an id or a note: NFC, trimmed, every run of spaces as one, line breaks kept. A number gives its
// digits as shown. A date is refused, since it was most likely a name such as 3-4, except in columns of notes and of
// times; a clock time gives its figures.
func Text(c sheet.Cell, x Context) (string, []Problem) {
	if skip, ps := unread(c); skip {
		return "", ps
	}
	if p := uncalculated(c); p != nil {
		return "", list(p)
	}
	if c.Kind == sheet.Number {
		if (c.Format == sheet.Date || c.Format == sheet.DateTime) && x.Column != "note" && x.Column != "time" {
			return "", list(fault(finding.CellNameDated, "set the cell to text and write it again",
				"this cell holds %s, a date, where %s is meant", stands(c, x), x.what("a name or number")))
		}
		return shown(c, x), nil
	}
	if plain(c.Text) {
		return c.Text, nil
	}
	lines := strings.FieldsFunc(norm.NFC.String(c.Text), func(r rune) bool { return r == '\n' || r == '\r' })
	kept := lines[:0]
	for _, line := range lines {
		line = strings.Map(func(r rune) rune {
			if unicode.Is(unicode.Cf, r) && r != '\u200d' { // invisible, except the joiner of compound signs
				return -1
			}
			return r
		}, line)
		line = strings.Join(strings.Fields(line), " ")
		if line != "" {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "\n"), nil
}

// plain says whether a text is as Text gives it already: visible ASCII, with single spaces inside.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] <= ' ' && (s[i] != ' ' || i == 0 || i == len(s)-1 || s[i-1] == ' ') || s[i] >= 0x7F {
			return false
		}
	}
	return s != ""
}

// YesNo reads yes or no. known is false when nothing was said: an empty cell, a question mark, not sure.
func YesNo(c sheet.Cell, x Context) (yes, known bool, p []Problem) {
	if skip, ps := unread(c); skip {
		return false, false, ps
	}
	if p := uncalculated(c); p != nil {
		return false, false, list(p)
	}
	word := strings.Trim(clean(c.Text), ".!()' ")
	if c.Kind == sheet.Number {
		word = shown(c, x)
	}
	switch word {
	case "yes", "y", "true", "yep", "yeah", "yes it is", "on", "1", "✓", "✔", "☑":
		return true, true, nil
	case "no", "n", "false", "nope", "none", "off", "0":
		return false, true, nil
	case "?", "not sure", "unsure", "unknown", "don't know", "dont know", "not known", "not said":
		return false, false, nil
	}
	return false, false, list(fault(finding.CellYesNo, "write yes or no, or leave the cell empty", "%s is neither yes nor no", stands(c, x)))
}
