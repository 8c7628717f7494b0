package fit

import "slices"

// never is a cost above every slack; the sum of one for every row is still a number.
const never = 1 << 56

// reach is, for one row, the least that choices cost whose sum in the row is a number, from low on.
type reach struct {
	low  int
	cost []int64
}

func (r reach) at(x int) int64 {
	if i := x - r.low; i >= 0 && i < len(r.cost) {
		return r.cost[i]
	}
	return never
}

// ways is what a part can add to one row and the least that each costs: to add low, low+1, and so on. Fully counts all of an option's
// cost in the row, evenly the same share of it in every row it adds to: the first bounds what one row asks for, the second what all of
// them ask for together.
type ways struct {
	low           int
	fully, evenly []int64
}

// waysOf gives a part's ways for every row; a row it adds nothing to has none.
func (c *core) waysOf(p *part) []ways {
	if p.ways != nil {
		return p.ways
	}
	p.ways = make([]ways, len(c.need))
	high := make([]int, len(c.need))
	for _, o := range p.options {
		for _, a := range o.adds {
			p.ways[a.row].low, high[a.row] = min(p.ways[a.row].low, a.by), max(high[a.row], a.by)
		}
		c.s.work += int64(8 * len(o.adds))
	}
	for r := range p.ways {
		if w := &p.ways[r]; w.low < high[r] {
			w.fully = slices.Repeat([]int64{never}, high[r]-w.low+1)
			w.fully[-w.low] = 0
			w.evenly = slices.Clone(w.fully)
		}
	}
	for _, o := range p.options {
		share := o.cost / int64(max(1, len(o.adds)))
		for _, a := range o.adds {
			w := &p.ways[a.row]
			w.fully[a.by-w.low] = min(w.fully[a.by-w.low], o.cost)
			w.evenly[a.by-w.low] = min(w.evenly[a.by-w.low], share)
		}
	}
	return p.ways
}

// with adds to a reach what a part can add to the row, from low on, and the least that each costs.
func (c *core) with(r reach, low int, each []int64) reach {
	slack := c.slack
	if len(each) == 0 {
		return r
	}
	out := reach{low: r.low + low, cost: make([]int64, len(r.cost)+len(each)-1)}
	for i := range out.cost {
		out.cost[i] = never
	}
	some := 0
	for shift, v := range each {
		if v > slack {
			continue
		}
		some++
		for i, c := range r.cost {
			if c+v <= slack {
				out.cost[i+shift] = min(out.cost[i+shift], c+v)
			}
		}
	}
	c.s.work += int64(100 + len(each) + 2*len(out.cost) + 3*some*len(r.cost))
	for out.cost[0] > slack { // the number 0 is always within the slack
		out.low, out.cost = out.low+1, out.cost[1:]
	}
	for out.cost[len(out.cost)-1] > slack {
		out.cost = out.cost[:len(out.cost)-1]
	}
	return out
}

// rowBound is the least that the parts still to come cost, by the sum of one row as it is packed.
type rowBound struct{ fully, evenly []int64 }

// bounds gives the rows' bounds for the state after each part of a run, from the parts behind it.
func (h *halves) bounds(run []int) [][]rowBound {
	out := make([][]rowBound, len(run))
	for i := range out {
		out[i] = make([]rowBound, len(h.fields))
	}
	for n := range h.fields {
		f := &h.fields[n]
		a, b := reach{cost: []int64{0}}, reach{cost: []int64{0}}
		same := rowBound{h.table(f, a), h.table(f, b)}
		for i := len(run) - 1; i >= 0; i-- {
			out[i][n] = same
			if w := &h.waysOf(&h.parts[run[i]])[f.row]; len(w.fully) > 0 { // else the part adds nothing to the row
				a, b = h.with(a, w.low, w.fully), h.with(b, w.low, w.evenly)
				same = rowBound{h.table(f, a), h.table(f, b)}
			}
		}
	}
	return out
}

// table lists a reach by the sum packed in a state.
func (h *halves) table(f *field, r reach) []int64 {
	if f.loose { // more will do as well
		r.cost = slices.Clone(r.cost)
		for i := len(r.cost) - 2; i >= 0; i-- {
			r.cost[i] = min(r.cost[i], r.cost[i+1])
		}
	}
	out := make([]int64, f.mask+1)
	for v := range out {
		want := h.need[f.row] - (v + f.least)
		if f.loose {
			want = max(want, r.low)
		}
		out[v] = r.at(want)
	}
	h.s.work += int64(3 * len(out))
	return out
}
