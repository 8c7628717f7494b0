package wood

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// compounds are words that are also written as two, or whose second half is what the wood is called for short.
var compounds = map[string][]string{
	"redcedar": {"red", "cedar"}, "whitecedar": {"white", "cedar"}, "honeylocust": {"honey", "locust"},
	"sweetgum": {"sweet", "gum"}, "baldcypress": {"bald", "cypress"}, "blackgum": {"black", "gum"},
}

// directions are the abbreviations written before a name. "w" is never taken for white: "w oak" names no wood here.
var directions = map[string]string{"e": "eastern", "w": "western", "n": "northern", "s": "southern"}

// idle are words that name no wood.
var idle = map[string]bool{"lumber": true, "timber": true, "board": true, "log": true}

// words cuts a written name into folded words: lower case, singular, compounds as two, punctuation as space.
func words(s string) []string {
	s = strings.ToLower(norm.NFKC.String(s))
	s = strings.NewReplacer("'", "", "’", "").Replace(s)
	var out []string
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		w = singular(w)
		if long, ok := directions[w]; ok {
			w = long
		}
		switch parts, ok := compounds[w]; {
		case ok:
			out = append(out, parts...)
		case !idle[w]:
			out = append(out, w)
		}
	}
	return out
}

// singular takes the plural ending off a word. Table names go through it too, so it need only be consistent.
func singular(w string) string {
	switch {
	case len(w) < 4 || strings.HasSuffix(w, "ss") || strings.HasSuffix(w, "us"):
	case strings.HasSuffix(w, "ies"):
		return w[:len(w)-3] + "y"
	case strings.HasSuffix(w, "ches"), strings.HasSuffix(w, "shes"), strings.HasSuffix(w, "sses"):
		return w[:len(w)-2]
	case strings.HasSuffix(w, "s"):
		return w[:len(w)-1]
	}
	return w
}

// key makes one word of folded words in any order: "ash, white" and "white ash" have the same key.
func key(ws []string) string {
	sorted := slices.Clone(ws)
	slices.Sort(sorted)
	return strings.Join(sorted, " ")
}

// joined puts neighbors together that the table writes as one word: "bass wood", "red wood".
func joined(ws []string, known map[string]bool) []string {
	var out []string
	for i := 0; i < len(ws); i++ {
		if i+1 < len(ws) && known[ws[i]+ws[i+1]] {
			out = append(out, ws[i]+ws[i+1])
			i++
			continue
		}
		out = append(out, ws[i])
	}
	return out
}

// contains reports whether every word of part stands in whole.
func contains(whole, part []string) bool {
	for _, w := range part {
		if !slices.Contains(whole, w) {
			return false
		}
	}
	return len(part) > 0
}
