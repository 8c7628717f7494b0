package fit

import (
	"testing"

	"pgregory.net/rapid"
)

// enoughDraws are the draws of which some should be of each kind; fewer are made with the race detector.
const enoughDraws = 100

// TestCoreAgainstAllChoices compares the search of a core with trying every choice.
func TestCoreAgainstAllChoices(t *testing.T) {
	found, none, cut := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.IntRange(1, 4).Draw(t, "rows")
		parts := rapid.IntRange(1, 7).Draw(t, "parts")
		c := &core{s: &space{}, slack: int64(rapid.IntRange(0, 40).Draw(t, "slack")), fixed: make([]*pattern, parts), few: rapid.SampledFrom([]int{1, 4, fewStates}).Draw(t, "few")}
		for range rows {
			c.need = append(c.need, rapid.IntRange(-3, 3).Draw(t, "need"))
			c.over = append(c.over, rapid.SampledFrom([]int64{0, 1, 3, 9, 30, 100}).Draw(t, "over"))
		}
		for k := range parts {
			p := part{stock: k}
			last := int64(0)
			for range rapid.IntRange(1, 3).Draw(t, "options") {
				last += int64(rapid.IntRange(0, 9).Draw(t, "cost"))
				o := option{cost: last, pat: &pattern{cost: last}}
				for r := range rows {
					if by := rapid.IntRange(-2, 2).Draw(t, "adds"); by != 0 {
						o.adds = append(o.adds, rowAdd{r, by})
					}
				}
				p.options = append(p.options, o)
			}
			c.parts = append(c.parts, p)
		}
		best := never
		sums := make([]int, rows)
		var try func(k int, cost int64)
		try = func(k int, cost int64) {
			if k == parts {
				for r, s := range sums {
					if s < c.need[r] {
						return
					}
					cost += int64(s-c.need[r]) * c.over[r]
				}
				best = min(best, int(cost))
				return
			}
			try(k+1, cost)
			for _, o := range c.parts[k].options {
				for _, a := range o.adds {
					sums[a.row] += a.by
				}
				try(k+1, cost+o.cost)
				for _, a := range o.adds {
					sums[a.row] -= a.by
				}
			}
		}
		try(0, 0)
		there := int64(best) <= c.slack
		c.parts = c.parts[:parts:parts]
		if got := c.search(mostStates, 1<<40); !got.all || got.ok != there || there && got.cost != int64(best) {
			t.Errorf("got %+v, want %d within %d (%t)", got, best, c.slack, there)
		}
		few := c.search(2, 1<<40)
		if few.all && few.ok != there || few.ok && few.cost < int64(best) {
			t.Errorf("with few states: got %+v, want %d within %d (%t)", few, best, c.slack, there)
		}
		switch {
		case !few.all:
			cut++
		case there:
			found++
		default:
			none++
		}
	})
	t.Logf("%d were found, %d were not there, %d were cut short", found, none, cut)
	if found+none+cut >= enoughDraws && (found == 0 || none == 0 || cut == 0) {
		t.Errorf("%d were found, %d were not there, %d were cut short: too few to tell", found, none, cut)
	}
}

// TestCoreOfFullWords: rows that fill a word of a state to its last bit leave no room for the sum of two states, which may take one bit
// more than either.
func TestCoreOfFullWords(t *testing.T) {
	for rows := 6; rows <= 16; rows++ { // of 8 bits each
		c := &core{s: &space{}, slack: 1000, fixed: make([]*pattern, 2*rows), few: fewStates}
		for r := range rows {
			c.need, c.over = append(c.need, 127), append(c.over, 2000)
			for n, by := range []int{127, -128} {
				c.parts = append(c.parts, part{stock: 2*r + n, options: []option{{adds: []rowAdd{{r, by}}, cost: 1, pat: &pattern{}}}})
			}
		}
		got := c.search(mostStates, 1<<40)
		if got.ok && got.cost != int64(rows) || !got.ok && got.all {
			t.Errorf("%d rows: got %+v, want a cost of %d", rows, got, rows)
		}
		if rows <= 14 && !got.ok {
			t.Errorf("%d rows: nothing found", rows)
		}
	}
}

// TestCoreOfManyMissing: of more ways to miss a piece than are listed the cheapest are, also where missing it is what costs nothing.
func TestCoreOfManyMissing(t *testing.T) {
	s := &space{id: []int{0}, d: []int{9000}, score: []int{1}, of: []int{0}, classes: []class{{stock: []int{0}}}}
	c, ok := s.newCore(missing, solution{}, proof{pi: []int64{unit + 1}, gains: []int64{2000}}, [][]*pattern{nil}, 5400)
	if !ok {
		t.Fatal("nothing is within the slack, want a plan without any piece")
	}
	if got := c.search(mostStates, 1<<40); !got.ok && got.all {
		t.Errorf("got %+v, want a plan without any piece or a search given up", got)
	}
}
