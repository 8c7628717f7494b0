package fit

import "slices"

// axis is one of the two ways to cut: into rows (sections along the length, or strips across the width), and each row into items
// the other way.
type axis struct {
	rip    bool
	order  []int // pieces of the set, the smallest row first
	sizes  []int // the sizes rows can have, ascending: indices into lens, or wids when ripping
	upTo   []int // for each of sizes: how many of order fit a row of that size
	rows   *ruler
	items  *ruler
	itemOf []int   // of each piece: its size along the row
	groups [][]int // classes whose rows reach equally far
}

// tables holds what the dynamic programs have computed at the present prices.
type tables struct {
	item [][]int64 // line k: the most that items of the first k pieces of the order are worth in a row, by mark
	row  [][]int64 // line k: the most that rows of the first k sizes are worth, by mark
	each []int64   // what a row of each size is worth
}

// spread fills the next line of a table: what up to most parts of one size, each worth v, add to the line before.
func (s *space) spread(to, from []int64, before []int32, v int64, most, room int) {
	copy(to, from)
	switch {
	case v <= 0 || most <= 0:
	case most >= room:
		for p, q := range before[:len(to)] {
			if q >= 0 {
				to[p] = max(to[p], to[q]+v)
			}
		}
		s.work += int64(2 * len(to))
	default:
		for range most {
			for p := len(to) - 1; p >= 0; p-- {
				if q := before[p]; q >= 0 {
					to[p] = max(to[p], to[q]+v)
				}
			}
		}
		s.work += int64(2 * most * len(to))
	}
}

// lines makes room for n+1 lines of a length, the first all zero.
func lines(t [][]int64, n, length int) [][]int64 {
	for len(t) < n+1 {
		t = append(t, nil)
	}
	t = t[:n+1]
	for k := range t {
		t[k] = slices.Grow(t[k][:0], length)[:length]
	}
	clear(t[0])
	return t
}

// items computes what the items of a row are worth, for every extent of a row. No row holds more of a piece than bound.
func (s *space) items(a *axis, pi []int64, bound []int) {
	t := &s.tables
	t.item = lines(t.item, len(a.order), len(a.items.marks))
	far := a.items.marks[len(a.items.marks)-1]
	for k, i := range a.order {
		z := a.itemOf[i]
		s.spread(t.item[k+1], t.item[k], a.items.before[z], pi[i], bound[i], int(far/a.items.size[z]))
	}
}

// rowsUpTo computes what rows are worth together, up to a mark, each as far as the class lets its items reach. A row is as large as one of its pieces, so there
// are no more rows of a size than pieces of it.
func (s *space) rowsUpTo(a *axis, c *class, last int, bound []int) {
	t := &s.tables
	t.row = lines(t.row, len(a.sizes), last+1)
	t.each = t.each[:0]
	first := 0
	for k, z := range a.sizes {
		t.each = append(t.each, t.item[a.upTo[k]][c.itemEnd(a.rip, z)])
		most := 0
		for _, i := range a.order[first:a.upTo[k]] {
			most += bound[i]
		}
		first = a.upTo[k]
		s.spread(t.row[k+1], t.row[k], a.rows.before[z], t.each[k], most, int(a.rows.marks[last]/a.rows.size[z]))
	}
}

// offer is the best pattern of a class at the present prices: the worth of its pieces less its wood, 0 or more.
type offer struct {
	gain int64
	pat  *pattern // nil when it was not asked for, or when leaving the wood alone is as good
}

// price finds the best pattern of every class (or only of some) for prices pi of the pieces, a hundredth of a board foot costing
// perWood. No row holds more of a piece than bound; a pattern may. The pattern is worked out where want asks for it.
func (s *space) price(pi []int64, bound []int, perWood int64, only []bool, want func(class int, gain int64) bool) []offer {
	out := make([]offer, len(s.classes))
	for k := range s.sets {
		if only != nil && !slices.ContainsFunc(s.sets[k].classes, func(i int) bool { return only[i] }) {
			continue
		}
		for _, a := range s.sets[k].axes {
			s.items(a, pi, bound)
			for _, group := range a.groups {
				s.priceGroup(a, group, pi, bound, perWood, only, want, out)
			}
		}
	}
	return out
}

func (s *space) priceGroup(a *axis, group []int, pi []int64, bound []int, perWood int64, only []bool, want func(int, int64) bool, out []offer) {
	far := 0
	for _, i := range group {
		if only == nil || only[i] {
			far = max(far, s.classes[i].rowEnd(a.rip))
		}
	}
	if far == 0 {
		return
	}
	s.rowsUpTo(a, &s.classes[group[0]], far, bound)
	values := s.tables.row[len(a.sizes)]
	for _, i := range group {
		if only != nil && !only[i] {
			continue
		}
		c := &s.classes[i]
		at, gain := c.rowEnd(a.rip), values[c.rowEnd(a.rip)]
		if perWood > 0 {
			at, gain = 0, 0
			for p, cost := range c.costs(a.rip) {
				if g := values[p] - perWood*cost; g > gain {
					at, gain = p, g
				}
			}
			s.work += int64(2 * c.rowEnd(a.rip))
		}
		if gain <= out[i].gain {
			continue
		}
		out[i] = offer{gain: gain}
		if want(i, gain) {
			out[i].pat = s.read(c, a, at, pi)
		}
	}
}

// taken reads from a table how many parts of each line make up the value at a mark.
func taken(t [][]int64, at int, before func(k int) []int32, v func(k int) int64, each func(k int)) {
	p := int32(at)
	for k := len(t) - 1; k > 0; k-- {
		q, n := p, int64(0)
		for t[k-1][q]+n*v(k-1) != t[k][p] {
			q = before(k - 1)[q]
			n++
		}
		for range n {
			each(k - 1)
		}
		p = q
	}
}

// read reads the best pattern up to a mark from the tables.
func (s *space) read(c *class, a *axis, at int, pi []int64) *pattern {
	p := &pattern{rip: a.rip}
	t := &s.tables
	taken(t.row, at, func(k int) []int32 { return a.rows.before[a.sizes[k]] }, func(k int) int64 { return t.each[k] }, func(k int) {
		var r row
		taken(t.item[:a.upTo[k]+1], c.itemEnd(a.rip, a.sizes[k]), func(k int) []int32 { return a.items.before[a.itemOf[a.order[k]]] },
			func(k int) int64 { return pi[a.order[k]] }, func(k int) { r.items = append(r.items, a.order[k]) })
		p.rows = append(p.rows, r)
	})
	s.settle(c, p)
	return p
}
