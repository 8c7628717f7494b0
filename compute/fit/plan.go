package fit

import (
	"cmp"
	"slices"
)

// weigh gives a plan its missing pieces and its score, after taking out what is cut beyond the number wanted.
func (s *space) weigh(chosen []*pattern) solution {
	out := solution{chosen: chosen, missing: slices.Clone(s.d)}
	for _, p := range chosen {
		if p != nil {
			for i, a := range p.made {
				out.missing[i] -= a
			}
		}
	}
	for i := range out.missing {
		for out.missing[i] < 0 {
			s.takeOut(&out, i)
		}
		out.score.Missing += out.missing[i]
		out.score.Order += out.missing[i] * s.score[i]
	}
	for _, p := range chosen {
		if p != nil {
			out.score.Wood += p.cost
		}
	}
	return out
}

// takeBetter takes a plan over when it is better.
func (sol *solution) takeBetter(other solution) bool {
	if !other.score.less(sol.score) {
		return false
	}
	*sol = other
	return true
}

// takeOut takes one piece out of the plan, where that saves the most wood.
func (s *space) takeOut(sol *solution, i int) {
	at, saves := -1, int64(-1)
	var then *pattern
	for k := range s.classes {
		c := &s.classes[k]
		for _, q := range c.stock {
			p := sol.chosen[q]
			if p == nil || p.made[i] == 0 {
				continue
			}
			for r := range p.rows {
				if !slices.Contains(p.rows[r].items, i) {
					continue
				}
				without := s.without(c, p, r, i)
				if d := p.cost - without.cost; d > saves {
					at, saves, then = q, d, without
				}
			}
		}
	}
	if len(then.rows) == 0 {
		then = nil
	}
	sol.chosen[at] = then
	sol.missing[i]++
}

// without is a pattern with one piece less in a row.
func (s *space) without(c *class, p *pattern, r, i int) *pattern {
	out := &pattern{rip: p.rip}
	for k, q := range p.rows {
		items := slices.Clone(q.items)
		if k == r {
			at := slices.Index(items, i)
			items = slices.Delete(items, at, at+1)
		}
		out.rows = append(out.rows, row{items: items})
	}
	s.settle(c, out)
	return out
}

// capped is a pattern with no more of each piece than is still wanted.
func (s *space) capped(c *class, p *pattern, wanted []int) *pattern {
	for i := range p.made {
		for p.made[i] > max(0, wanted[i]) {
			// The last row that holds it: rows are in order of size, so the smallest is given up.
			r := len(p.rows) - 1
			for !slices.Contains(p.rows[r].items, i) {
				r--
			}
			p = s.without(c, p, r, i)
		}
	}
	return p
}

// byHand makes first plans as a careful person would: board after board, each cut for the most volume of what is still wanted.
func (s *space) byHand() solution {
	var best solution
	pi := s.areas()
	up := numbers(len(s.classes))
	slices.SortStableFunc(up, func(x, y int) int { return cmp.Compare(s.area(x), s.area(y)) })
	down := slices.Clone(up)
	slices.Reverse(down)
	for n, run := range [][]int{up, down} {
		chosen := make([]*pattern, len(s.of))
		wanted := slices.Clone(s.d)
		s.fill(chosen, wanted, run, pi)
		if sol := s.weigh(chosen); n == 0 || sol.score.less(best.score) {
			best = sol
		}
	}
	return best
}

// numbers are those from 0 up to n.
func numbers(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// areas gives each piece's area in square 1/16 in, at least 1: with these for prices a board is cut for the most area.
func (s *space) areas() []int64 {
	out := make([]int64, len(s.id))
	for i := range out {
		out[i] = max(1, int64(s.l[i].Inches()*s.w[i].Inches()*256))
	}
	return out
}

func (s *space) area(class int) float64 {
	c := &s.classes[class]
	return c.width.Inches() * c.usable.Inches()
}

// fill cuts the stock that is not yet chosen, class after class, for what is still wanted.
func (s *space) fill(chosen []*pattern, wanted []int, classes []int, pi []int64) {
	only := make([]bool, len(s.classes))
	for _, i := range classes {
		c := &s.classes[i]
		clear(only)
		only[i] = true
		for _, k := range c.stock {
			if chosen[k] != nil {
				continue
			}
			if !slices.ContainsFunc(wanted, func(n int) bool { return n > 0 }) {
				return
			}
			value := slices.Clone(pi)
			for q := range value {
				if wanted[q] <= 0 {
					value[q] = 0
				}
			}
			o := s.price(value, atLeastNone(wanted), 0, only, func(int, int64) bool { return true })[i]
			if o.pat == nil {
				break
			}
			p := s.capped(c, o.pat, wanted)
			for q, a := range p.made {
				wanted[q] -= a
			}
			chosen[k] = p
		}
	}
}

// atLeastNone sets what is less than 0 to 0.
func atLeastNone(wanted []int) []int {
	out := slices.Clone(wanted)
	for i := range out {
		out[i] = max(0, out[i])
	}
	return out
}
