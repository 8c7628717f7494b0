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

// with adds a part to a reach; share tells how much of an option's cost counts in the row.
func (c *core) with(r reach, p *part, row int, share func(o *option) int64) reach {
	slack := c.slack
	low, high := 0, 0
	for _, o := range p.options {
		by := o.in(row)
		low, high = min(low, by), max(high, by)
	}
	if low == 0 && high == 0 {
		return r
	}
	out := reach{low: r.low + low, cost: make([]int64, len(r.cost)+high-low)}
	for i := range out.cost {
		out.cost[i] = r.at(out.low + i)
	}
	for k := range p.options {
		o := &p.options[k]
		v, shift := share(o), o.in(row)-low
		for i, c := range r.cost {
			if c+v <= slack {
				out.cost[i+shift] = min(out.cost[i+shift], c+v)
			}
		}
	}
	c.s.work += int64(2 * len(p.options) * len(r.cost))
	for out.cost[0] > slack { // the number 0 is always within the slack
		out.low, out.cost = out.low+1, out.cost[1:]
	}
	for out.cost[len(out.cost)-1] > slack {
		out.cost = out.cost[:len(out.cost)-1]
	}
	return out
}

// in is what an option adds to a row.
func (o *option) in(row int) int {
	for _, a := range o.adds {
		if a.row == row {
			return a.by
		}
	}
	return 0
}

// fully counts all of an option's cost in a row, evenly the same share of it in every row it adds to: the first bounds what one row
// asks for, the second what all of them ask for together.
func fully(o *option) int64  { return o.cost }
func evenly(o *option) int64 { return o.cost / int64(max(1, len(o.adds))) }

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
		for i := len(run) - 1; i >= 0; i-- {
			out[i][n] = rowBound{h.table(f, a), h.table(f, b)}
			p := &h.parts[run[i]]
			a, b = h.with(a, p, f.row, fully), h.with(b, p, f.row, evenly)
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
	h.s.work += int64(2 * len(out))
	return out
}
