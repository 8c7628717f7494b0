package templates

import "strings"

// Caution is one numbered fact printed on papers.
type Caution struct {
	ID     string // of the list of cautions, such as C08
	Text   string
	Source string // where it is known from, with its status
	When   string // the condition it is printed under, as in the file; empty: always
}

// Cautions gives the cautions of a paper ("certificate", "statement", "tag", "cut", "kiln", "trailer") in the order of the list, those that
// are only for some woods or uses too: ask each with For.
func Cautions(paper string) []Caution {
	var out []Caution
	for _, b := range blocks(cautionsText) {
		id, rest, _ := strings.Cut(b.name, ":")
		papers, when, _ := strings.Cut(rest, ";")
		if !hasWord(strings.Fields(papers), paper) {
			continue
		}
		text, from, _ := strings.Cut(b.text, " || ")
		out = append(out, Caution{ID: id, Text: text, Source: from, When: strings.TrimSpace(when)})
	}
	return out
}

// Wood is what a caution asks of a wood on the paper: its name in the species table, and whether it is a hardwood.
type Wood struct {
	Name     string
	Hardwood bool
}

// For reports whether the caution is for a paper about these woods and uses. A condition that is not understood is a
// mistake of the file and panics; a test goes through all.
func (c Caution) For(woods []Wood, uses []string) bool {
	kind, list, _ := strings.Cut(c.When, " ")
	words := strings.Split(list, ",")
	for i := range words {
		words[i] = strings.ToLower(strings.TrimSpace(words[i]))
	}
	switch kind {
	case "":
		return true
	case "hardwood", "softwood":
		for _, w := range woods {
			if w.Hardwood == (kind == "hardwood") {
				return true
			}
		}
		return false
	case "species":
		for _, w := range woods {
			if hasWord(words, strings.ToLower(w.Name)) {
				return true
			}
		}
		return false
	case "use", "not-use":
		for _, use := range uses {
			for _, word := range words {
				if strings.Contains(strings.ToLower(use), word) {
					return kind == "use"
				}
			}
		}
		return kind == "not-use"
	}
	panic("templates: caution " + c.ID + " has a condition that is not known: " + c.When)
}

func hasWord(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}
