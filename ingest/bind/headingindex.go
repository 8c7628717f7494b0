package bind

import (
	"slices"
	"strings"
	"sync"

	"drytally/compute"
	"drytally/ingest/sheet"
)

// shortestNear is how long a heading must be to be taken for a near miss of another.
const shortestNear = 5

// headingIndex finds headings at once; a workbook may hold thousands of rows of text, each of which could be a heading.
type headingIndex struct {
	tables map[compute.Kind]tableIndex
	known  map[string]bool // the headings of all kinds
	sorted map[string]bool // the same, their words in order of letters
}

type tableIndex struct {
	exact  map[string]int // heading -> field
	sorted map[string]int // its words in order of letters -> field
	near   map[string][]nearHeading
}

// nearHeading is a heading under each of its forms with one letter left out, and under itself.
type nearHeading struct {
	heading string
	field   int
}

var loadHeadingIndex = sync.OnceValue(func() *headingIndex {
	x := &headingIndex{tables: map[compute.Kind]tableIndex{}, known: map[string]bool{}, sorted: map[string]bool{}}
	for _, t := range Tables {
		own := tableIndex{exact: map[string]int{}, sorted: map[string]int{}, near: map[string][]nearHeading{}}
		for i, f := range t.Fields {
			for _, h := range slices.Concat(f.Headings, frenchHeadings[t.Kind][f.Name]) {
				x.known[h], x.sorted[inOrderOfLetters(h)] = true, true
				if _, taken := own.exact[h]; !taken {
					own.exact[h] = i
				}
				if _, taken := own.sorted[inOrderOfLetters(h)]; !taken {
					own.sorted[inOrderOfLetters(h)] = i
				}
				if len(h) < shortestNear {
					continue
				}
				for _, part := range lessOne(h) {
					own.near[part] = append(own.near[part], nearHeading{h, i})
				}
			}
		}
		x.tables[t.Kind] = own
	}
	return x
})

// headingsIn counts the cells of a row that are a heading as they stand, but for letter case, a unit in brackets, points and a
// running number. Far down a sheet most rows are told from headings by that, without a closer look.
func headingsIn(r *sheet.Row) int {
	x := loadHeadingIndex()
	n := 0
	for c := range r.Cells() {
		if c.Kind != sheet.Text || len(c.Text) > longestHeading {
			continue
		}
		text, _, _ := strings.Cut(c.Text, "(")
		if x.known[strings.ToLower(strings.Trim(text, " .:#,0123456789\u00a0"))] {
			n++
		}
	}
	return n
}

// inOrderOfLetters puts the words of a heading in order.
func inOrderOfLetters(words string) string {
	if !strings.Contains(words, " ") {
		return words
	}
	w := strings.Fields(words)
	slices.Sort(w)
	return strings.Join(w, " ")
}

// lessOne gives a text and every form of it with one letter left out. Two texts that differ by one slip share one of them.
func lessOne(s string) []string {
	r := []rune(s)
	all := []string{s}
	for i := range r {
		if i > 0 && r[i] == r[i-1] {
			continue
		}
		all = append(all, string(r[:i])+string(r[i+1:]))
	}
	return all
}
