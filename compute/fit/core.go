package fit

import (
	"cmp"
	"math"
	"slices"
)

// core is what is left of a level once every pattern is struck out that no plan within a slack of the bound can hold: a few
// choices for each of some clear lengths, the others having one each. Choices cost what they lose against the best of their
// length at the prices of the bound, so that a plan lies above the bound by exactly the sum of what its choices cost.
type core struct {
	s     *space
	slack int64   // the most that all choices may cost together, in parts of a unit
	need  []int   // of each row: pieces, then the caps with their signs turned, so that every row asks for at least so much
	over  []int64 // what one more than needed costs
	parts []part
	fixed []*pattern // of each stock with one choice
	few   int        // fewer states than so many are not worth a slope
	pool  []rowAdd   // where the options' adds lie
}

// part is something to choose for: a clear length, the missing of a piece, or a piece made beyond what is needed.
type part struct {
	stock   int // -1: not a clear length
	options []option
	ways    []ways // of each row, once they were asked for
}

// option is one choice. The cheapest of a part is not listed: it is taken out of the needs and the slack beforehand, and the others
// cost and add what they do against it.
type option struct {
	adds []rowAdd
	cost int64
	pat  *pattern
}

type rowAdd struct{ row, by int }

// newCore sets up the core of listed patterns. It reports false when nothing can be within the slack.
func (s *space) newCore(l level, best solution, f proof, lists [][]*pattern, slack int64) (*core, bool) {
	n := len(s.id)
	c := &core{s: s, slack: slack, need: make([]int, n+2), over: make([]int64, n+2), fixed: make([]*pattern, len(s.of)), few: fewStates}
	copy(c.need, s.d)
	copy(c.over, f.pi)
	c.need[n], c.need[n+1] = -math.MaxInt32, -math.MaxInt32
	if l > missing {
		c.need[n], c.over[n] = -best.score.Missing, f.caps[0]
	}
	if l > order {
		c.need[n+1], c.over[n+1] = -best.score.Order, f.caps[1]
	}
	for i := range s.classes {
		all := make([]option, 0, len(lists[i])+1)
		for _, p := range lists[i] {
			o := option{cost: f.gains[i] - s.gain(p, f), pat: p}
			start := len(c.pool)
			for r, a := range p.made {
				if a > 0 {
					c.pool = append(c.pool, rowAdd{r, a})
				}
			}
			o.adds = c.pool[start:len(c.pool):len(c.pool)]
			all = append(all, o)
		}
		if f.gains[i] <= slack {
			all = append(all, option{cost: f.gains[i]})
		}
		if len(all) == 0 {
			return nil, false
		}
		for _, k := range s.classes[i].stock {
			c.add(k, all)
		}
	}
	for i := range s.id {
		each := s.missed(l, f.caps, i) - f.pi[i]
		// Below 0, by rounding, all of the piece are missing where nothing else counts.
		least := -int64(s.d[i]) * min(0, each)
		var all []option
		for k := 0; k <= s.d[i] && len(all) <= mostOptions+1; k++ { // the cheapest first, so that none is left out before a dearer one
			z := k
			if each < 0 {
				z = s.d[i] - k
			}
			o := option{cost: least + each*int64(z)}
			if o.cost > slack {
				continue
			}
			if z > 0 {
				o.adds = append(o.adds, rowAdd{i, z})
				if l > missing {
					o.adds = append(o.adds, rowAdd{n, -z})
				}
				if l > order {
					o.adds = append(o.adds, rowAdd{n + 1, -z * s.score[i]})
				}
			}
			all = append(all, o)
		}
		if len(all) == 0 {
			return nil, false
		}
		c.add(-1, all)
	}
	return c, c.slack >= 0
}

// add adds a part; its cheapest option is taken out of the needs and of the slack.
func (c *core) add(stock int, all []option) {
	at := 0
	for i, o := range all {
		if o.cost < all[at].cost {
			at = i
		}
	}
	base := all[at]
	c.slack -= base.cost
	c.s.work += int64(500 * len(all))
	for _, a := range base.adds {
		c.need[a.row] -= a.by
	}
	if stock >= 0 {
		c.fixed[stock] = base.pat
	}
	p := part{stock: stock}
	by := make([]int, len(c.need))
	for i, o := range all {
		if i == at || o.cost-base.cost > c.slack {
			continue
		}
		clear(by)
		for _, a := range o.adds {
			by[a.row] += a.by
		}
		for _, a := range base.adds {
			by[a.row] -= a.by
		}
		q := option{cost: o.cost - base.cost, pat: o.pat}
		start := len(c.pool)
		for r, b := range by {
			if b != 0 {
				c.pool = append(c.pool, rowAdd{r, b})
			}
		}
		q.adds = c.pool[start:len(c.pool):len(c.pool)]
		p.options = append(p.options, q)
	}
	if len(p.options) > 0 {
		slices.SortFunc(p.options, func(x, y option) int { return cmp.Compare(x.cost, y.cost) })
		c.parts = append(c.parts, p)
	}
}

// inUse reports whether a row asks for anything.
func (c *core) inUse(row int) bool { return c.need[row] > -math.MaxInt32/2 }
