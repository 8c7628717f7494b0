package bind

import (
	"regexp"
	"slices"
	"strconv"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// sums adds up the counts of a table while its rows are read, to hold the sheet's own totals against them. Only counts of
// pieces and of boards are checked: footage and weights follow rules of their own.
type sums struct {
	kind   compute.Kind
	counts map[int]*sum // by column
	rows   sum          // how many rows of data
}

// sum is what stands above a total: since the last total, in this table, and in tables of the same columns above it.
type sum struct {
	since, all, before int
	bad                bool // a count above could not be read
	badAll             bool
}

// counted are the fields whose columns are added up.
var counted = map[compute.Kind]string{compute.KindCuts: "pieces", compute.KindWanted: "pieces", compute.KindSold: "pieces", compute.KindLoads: "boards"}

// boardRows are the kinds of which each row is a board, so that a total of boards counts rows.
var boardRows = map[compute.Kind]bool{compute.KindBoards: true}

func newSums(r region) *sums {
	s := &sums{kind: r.table.Kind, counts: map[int]*sum{}}
	for _, c := range r.cols {
		if c.field >= 0 && r.table.Fields[c.field].What == aCount && c.name == counted[s.kind] {
			s.counts[c.col] = &sum{}
		}
	}
	if r.tally != nil {
		for _, h := range r.tally.lengths {
			s.counts[h.Col] = &sum{}
		}
		if r.tally.total != 0 {
			s.counts[r.tally.total] = &sum{}
		}
	}
	return s
}

// goOn takes over what a table of the same columns further up came to: a repeated heading does not end a total.
func (s *sums) goOn(old *sums) {
	if old == nil || old.kind != s.kind {
		return
	}
	s.rows.before = old.rows.before + old.rows.all
	for col, c := range s.counts {
		if o := old.counts[col]; o != nil {
			c.before = o.before + o.all
			c.badAll = o.badAll
		}
	}
}

func (s *sums) add(col, n int) {
	if c := s.counts[col]; c != nil {
		c.since += n
		c.all += n
	}
}

func (s *sums) unreadable(col int) {
	if c := s.counts[col]; c != nil {
		c.bad, c.badAll = true, true
	}
}

// row adds one row of data.
func (s *sums) row(v *rowValues) {
	s.rows.since++
	s.rows.all++
	name := counted[s.kind]
	for col := range s.counts {
		switch {
		case v.bad[name]:
			s.unreadable(col)
		case v.has(name):
			s.add(col, v.count(name))
		case v.has("size") && v.value("size").size.Pieces > 0:
			s.add(col, v.value("size").size.Pieces)
		case s.kind == compute.KindCuts && v.has("lot"):
			s.add(col, 1)
		case s.kind == compute.KindSold && len(v.value("boards").ids) > 0:
			s.add(col, len(v.value("boards").ids))
		}
	}
}

// fits reports whether a total agrees with one of the sums it may stand for.
func (c *sum) fits(n int) bool {
	return c.bad || c.badAll && n != c.since || n == c.since || n == c.all || n == c.all+c.before
}

// next begins a new part below a total.
func (c *sum) next() { c.since, c.bad = 0, false }

// piecesSaid finds a count in words: 24 boards, 17 pcs.
var piecesSaid = regexp.MustCompile(`(?i)\b(\d{1,6})\s*(?:boards?|bds?|pieces?|pcs?|sticks?)\b`)

// checkSums holds a row of totals against the rows above it.
func (b *binder) checkSums(s *sums, cells []sheet.Cell) {
	if slices.ContainsFunc(cells, func(c sheet.Cell) bool { return c.Kind == sheet.Text && meanWord(c.Text) }) {
		return // an average is no sum, and no part ends at it
	}
	for _, c := range cells {
		if sum := s.counts[c.Col]; sum != nil {
			b.checkTotal(sum, c)
			continue
		}
		if c.Kind != sheet.Text {
			continue
		}
		m := piecesSaid.FindStringSubmatch(c.Text)
		if m == nil {
			continue
		}
		n, err := strconv.Atoi(m[1])
		if err != nil {
			continue
		}
		switch {
		case boardRows[s.kind]:
			b.holdTotal(&s.rows, c, n)
		case len(s.counts) == 1:
			for _, sum := range s.counts {
				b.holdTotal(sum, c, n)
			}
		}
	}
	for _, sum := range s.counts {
		sum.next()
	}
	s.rows.next()
}

func (b *binder) checkTotal(s *sum, c sheet.Cell) {
	if c.Kind == sheet.Text && totalWord(c.Text) && !piecesSaid.MatchString(c.Text) {
		return
	}
	n, ps := cell.Count(c, b.context("total", cell.UnitNone, cell.UnitNone))
	if c.NoResult || c.Kind == sheet.ErrorValue {
		b.problems(c, ps)
		return
	}
	if m := piecesSaid.FindStringSubmatch(c.Text); c.Kind == sheet.Text && m != nil {
		n, ps = 0, nil
		n, _ = strconv.Atoi(m[1])
	}
	if len(ps) > 0 {
		b.say("T031", b.at(c.Row, c.Col), c.Text, "write the sum as a whole number, or leave the cell empty", "this total can't be checked: it is no whole number")
		return
	}
	b.holdTotal(s, c, n)
}

// holdTotal says that a total differs from every sum it may stand for.
func (b *binder) holdTotal(s *sum, c sheet.Cell, n int) {
	if s.fits(n) {
		return
	}
	if s.since != s.all && s.since > 0 {
		b.say("T031", b.at(c.Row, c.Col), c.Text, "correct the count or the total", "the total says %d; the rows above it come to %d, all rows of the table to %d", n, s.since, s.all+s.before)
		return
	}
	b.say("T031", b.at(c.Row, c.Col), c.Text, "correct the count or the total", "the total says %d, and the rows above it come to %d", n, s.all+s.before)
}
