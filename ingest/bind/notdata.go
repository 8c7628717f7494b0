package bind

import (
	"slices"
	"strings"

	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// notData says why a row of the table's block is no data: a repeated heading, a total, a note. It returns "" for data.
func (b *binder) notData(r region, cells []sheet.Cell, s *sums) string {
	known := 0
	for _, c := range cells {
		if c.Kind == sheet.Text && r.table.exact(b.wordsOf(c.Text).spelled) >= 0 {
			known++
		}
	}
	if known >= 2 && known*2 >= len(cells) && !r.meets(cells) {
		return "heading"
	}
	if slices.ContainsFunc(cells, func(c sheet.Cell) bool { return c.Kind == sheet.Text && b.wordsOf(c.Text).total }) && !r.meets(cells) {
		return "total"
	}
	if isUnitRow(cells) && !r.meets(cells) {
		return "heading"
	}
	filled := 0
	for _, c := range cells {
		for _, k := range r.cols {
			if k.col == c.Col && k.field >= 0 && r.table.Fields[k.field].What != aText && !isTextOnly(c) {
				filled++
			}
		}
	}
	// One line of text under a table is a note, not a row: "all read by J. on Saturday".
	first := strings.TrimSpace(cells[0].Text)
	if filled == 0 && len(cells) == 1 && cells[0].Kind == sheet.Text && (strings.Contains(first, " ") || strings.HasSuffix(first, ":")) {
		return "note"
	}
	if allFormulasOfTotals(cells) && !r.meets(cells) {
		return "total"
	}
	if s != nil && s.bareTotal(r, cells) {
		return bareSum
	}
	return ""
}

// words is a cell's text as words.
type words struct {
	spelled spelled
	total   bool // it says that the row is a sum of others
}

// mostWords is how many texts are known again.
const mostWords = 2000

// wordsOf takes the text of a cell as words. Down a column texts repeat: those met before are known.
func (b *binder) wordsOf(text string) words {
	w, known := b.words[text]
	if !known {
		w = words{spell(text), totalWord(text)}
		if b.words == nil || len(b.words) == mostWords {
			b.words = map[string]words{}
		}
		b.words[text] = w
	}
	return w
}

// bareSum is why a row is no data that holds a sum without a word saying so.
const bareSum = "sum without a word"

// meets reports whether a row has what a row of its kind can't do without, apart from words of totals, headings or units: it
// is data then, even if a note of it speaks of a total.
func (r *region) meets(cells []sheet.Cell) bool {
	has := func(name string) bool {
		for _, k := range r.cols {
			if k.field < 0 || k.name != name {
				continue
			}
			for _, c := range cells {
				if c.Col != k.col {
					continue
				}
				what := r.table.Fields[k.field].What
				if c.Kind == sheet.Text && (totalWord(c.Text) || what != anID && what != aText && what != aSpecies && isTextOnly(c)) {
					return false
				}
				if c.Kind == sheet.Text {
					if r.table.exact(spell(c.Text)) == k.field {
						return false
					}
				}
				return true
			}
		}
		return false
	}
	for _, f := range r.table.Fields {
		if f.Required && !f.Fill && !has(f.Name) {
			return false
		}
	}
	for _, group := range r.table.Needs {
		filledAbove := slices.ContainsFunc(group, func(name string) bool {
			i := r.table.field(name)
			return i >= 0 && r.table.Fields[i].Fill
		})
		if !filledAbove && !slices.ContainsFunc(group, has) {
			return false
		}
	}
	return true
}

// money reports whether a field is an amount of money: a row of sums may hold theirs beside that of the counts.
func (q quantity) money() bool { return q == aPrice || q == aPriceBF || q == aSum }

// isTextOnly reports whether a cell holds text without any digit.
func isTextOnly(c sheet.Cell) bool {
	return c.Kind == sheet.Text && !strings.ContainsAny(c.Text, "0123456789")
}

var (
	sumWords  = []string{"total", "totals", "subtotal", "sub total", "sum", "grand total", "in all", "all together", "altogether", "tot", "ttl", "sub tot"}
	meanWords = []string{"average", "avg", "mean", "averages", "ave"}
)

// totalWord reports whether a text says that the row sums others up.
func totalWord(s string) bool { return speaksOf(s, sumWords) || meanWord(s) }

// meanWord reports whether a text says that the row gives a mean of others.
func meanWord(s string) bool { return speaksOf(s, meanWords) }

func speaksOf(s string, list []string) bool {
	words, _ := headingWords(s)
	for _, w := range list {
		if words == w || strings.HasPrefix(words, w+" ") && len(words) < 32 || strings.HasSuffix(words, " "+w) && len(words) < 32 {
			return true
		}
	}
	return false
}

// allFormulasOfTotals reports whether a row is nothing but calculated numbers without a name, as under a column of figures.
func allFormulasOfTotals(cells []sheet.Cell) bool {
	for _, c := range cells {
		if !c.Formula || c.Kind != sheet.Number && !isNumber(strings.TrimSpace(c.Text)) {
			return false
		}
	}
	return len(cells) > 0 && len(cells) <= 3
}

// bareTotal reports whether a row holds, in the columns that are read, nothing but the sum of the counts above it.
func (s *sums) bareTotal(r region, cells []sheet.Cell) bool {
	var known []sheet.Cell
	for _, c := range cells {
		if slices.ContainsFunc(r.cols, func(k column) bool { return k.col == c.Col && k.field >= 0 && !r.table.Fields[k.field].What.money() }) {
			known = append(known, c)
		}
	}
	if len(known) != 1 || s.rows.since < 2 && s.rows.all < 2 {
		return false
	}
	sum := s.counts[known[0].Col]
	if sum == nil || sum.bad || sum.badAll {
		return false
	}
	n, ps := cell.Count(known[0], cell.Context{Column: "total"})
	return len(ps) == 0 && n > 0 && (n == sum.since && s.rows.since >= 2 || n == sum.all)
}
