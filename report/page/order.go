package page

import (
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/bidi"
)

// setLevels gives every atom of a text its level: even ones run from left to right, odd ones from right to left. Each line
// of the text is a paragraph of its own whose base is left to right, as everything else on the paper.
//
// Source: Unicode Standard Annex 9, revision 50, rules W4 to W7, N0 to N2, I1; from memory. Embeddings, overrides and
// isolates are left out: their marks never reach the paper (clean). So are marks (W1), which are composed or drawn as boxes.
func setLevels(atoms []atom) {
	const first = 0xD6 // begins U+0590, the first of these letters, and nothing below
	if !slices.ContainsFunc(atoms, func(a atom) bool { return a.text != "" && a.text[0] >= first && classOf(a) == bidi.R }) {
		return
	}
	for len(atoms) > 0 {
		end := slices.IndexFunc(atoms, func(a atom) bool { return a.newline })
		if end < 0 {
			end = len(atoms)
		}
		setLineLevels(atoms[:end])
		atoms = atoms[min(end+1, len(atoms)):]
	}
}

// classOf gives the class of an atom. A stand-in has none of its own: it stands where it stood.
func classOf(a atom) bidi.Class {
	switch {
	case a.set != nil:
		return bidi.EN
	case a.replaced || a.text == "":
		return bidi.ON
	}
	r, _ := utf8.DecodeRuneInString(a.text)
	p, _ := bidi.LookupRune(r)
	return p.Class()
}

// setLineLevels gives the atoms of a line their levels by the rules of the Unicode bidirectional algorithm named beside each step. The line's
// base runs from left to right.
func setLineLevels(line []atom) {
	class := make([]bidi.Class, len(line))
	for i, a := range line {
		class[i] = classOf(a)
	}
	// at gives the class of a place; the ends of the line are of its base.
	at := func(i int) bidi.Class {
		if i < 0 || i >= len(class) {
			return bidi.L
		}
		return class[i]
	}
	for i := range class { // W4: one separator between two numbers
		if (class[i] == bidi.ES || class[i] == bidi.CS) && i > 0 && at(i-1) == bidi.EN && at(i+1) == bidi.EN {
			class[i] = bidi.EN
		}
	}
	for i := range class { // W5: signs such as % and " beside a number, from either side
		if class[i] == bidi.EN {
			for k := i - 1; k >= 0 && class[k] == bidi.ET; k-- {
				class[k] = bidi.EN
			}
			for k := i + 1; k < len(class) && class[k] == bidi.ET; k++ {
				class[k] = bidi.EN
			}
		}
	}
	strong := bidi.L
	for i, c := range class { // W6, W7
		switch c {
		case bidi.L, bidi.R:
			strong = c
		case bidi.EN:
			if strong == bidi.L {
				class[i] = bidi.L
			}
		case bidi.AN:
		default:
			class[i] = bidi.ON
		}
	}
	right := func(c bidi.Class) bool { return c == bidi.R || c == bidi.EN || c == bidi.AN }
	for _, p := range bracketPairs(line) { // N0
		inner, before := class[p[0]+1:p[1]], bidi.L
		for k := p[0] - 1; k >= 0; k-- {
			if class[k] == bidi.L || right(class[k]) {
				before = class[k]
				break
			}
		}
		switch {
		case slices.Contains(inner, bidi.L):
			class[p[0]], class[p[1]] = bidi.L, bidi.L
		case slices.ContainsFunc(inner, right) && right(before):
			class[p[0]], class[p[1]] = bidi.R, bidi.R
		case slices.ContainsFunc(inner, right):
			class[p[0]], class[p[1]] = bidi.L, bidi.L
		}
	}
	for i := 0; i < len(class); { // N1, N2
		if class[i] != bidi.ON {
			i++
			continue
		}
		end := i
		for end < len(class) && class[end] == bidi.ON {
			end++
		}
		to := bidi.L
		if right(at(i-1)) && right(at(end)) {
			to = bidi.R
		}
		for ; i < end; i++ {
			class[i] = to
		}
	}
	for i, c := range class { // I1
		switch c {
		case bidi.R:
			line[i].level = 1
		case bidi.EN, bidi.AN:
			line[i].level = 2
		}
	}
}

// bracketPairs finds the brackets of a line that belong together, in the order they open.
func bracketPairs(line []atom) [][2]int {
	const open, closing = "([{", ")]}"
	var stack []int
	var pairs [][2]int
	for i, a := range line {
		if len(a.text) != 1 {
			continue
		}
		if strings.Contains(open, a.text) {
			stack = append(stack, i)
			continue
		}
		kind := strings.Index(closing, a.text)
		if kind < 0 {
			continue
		}
		for k := len(stack) - 1; k >= 0; k-- {
			if line[stack[k]].text == open[kind:kind+1] {
				pairs = append(pairs, [2]int{stack[k], i})
				stack = stack[:k]
				break
			}
		}
	}
	slices.SortFunc(pairs, func(a, b [2]int) int { return a[0] - b[0] })
	return pairs
}

// inSight gives the atoms of a line in the order they stand on the paper, brackets of what runs from right to left mirrored.
//
// Source: Unicode Standard Annex 9, revision 50, rules L2 and L4; from memory.
func inSight(line []atom) []atom {
	highest := uint8(0)
	for _, a := range line {
		highest = max(highest, a.level)
	}
	if highest == 0 {
		return line
	}
	line = slices.Clone(line)
	for level := highest; level > 0; level-- {
		for i := 0; i < len(line); {
			end := i
			for end < len(line) && line[end].level >= level {
				end++
			}
			slices.Reverse(line[i:end])
			i = max(end, i+1)
		}
	}
	for i := range line {
		if line[i].level%2 == 1 && !line[i].gap && !line[i].replaced {
			line[i].text = bidi.ReverseString(line[i].text) // of one sign: its mirrored fellow, if it has one
		}
	}
	return line
}
