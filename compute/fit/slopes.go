package fit

import (
	"cmp"
	"math"
	"slices"
)

// slope is a bound on what the parts still to come cost, from prices of the rows (Lagrange). It holds for any prices that are, for a row
// that may end above its need, no further below 0 than what one more costs.
type slope struct {
	price []int64 // of each field
	rest  int64   // the bound while all sums are 0
	hits  int     // states it left; halved at times, so that what hit lately counts most
}

// pruner leaves states of one side that can't end within the slack. Its slopes come from linear programs of what is still to come,
// solved for some of the states; each of them then leaves many others.
type pruner struct {
	h      *halves
	lp     *relaxed
	rest   []int // the parts still to come
	slopes []slope
}

const (
	fewStates   = 200 // fewer than so many are not worth a slope: each costs a linear program and a look at every state
	mostSamples = 24  // states that slopes are made for at a time
	mostSlopes  = 24  // kept from before, those that hit most
	mostFailed  = 4   // samples in a row that no slope leaves: the others are likely to pass as well
)

// relaxed writes the linear program of all parts.
func (h *halves) relaxed() *relaxed {
	lp := newRelaxed(len(h.fields), &h.s.work)
	at := make([]int, len(h.need))
	for i := range at {
		at[i] = -1
	}
	for i, f := range h.fields {
		at[f.row] = i
	}
	for k := range h.parts {
		lp.begin()
		for _, o := range h.parts[k].options {
			for _, a := range o.adds {
				if i := at[a.row]; i >= 0 {
					lp.put(i, float64(a.by))
				}
			}
			lp.add(k, float64(o.cost)/unit)
			h.s.work += int64(10 + 4*len(o.adds))
		}
	}
	// To fall short of a need, or above it where that is not wanted, costs far more than the slack: so there is always a solution.
	dear := 4 * (float64(h.slack)/unit + 1)
	beyond := make([]float64, len(h.fields))
	for i, f := range h.fields {
		beyond[i] = dear
		if f.loose {
			beyond[i] = float64(h.over[f.row]) / unit
		}
	}
	lp.ends(dear, beyond)
	return lp
}

// decided takes over that a part is no longer to come.
func (g *pruner) decided(k int, rest []int) {
	g.lp.whole[k] = 0
	g.rest = rest
	for i := range g.slopes {
		g.complete(&g.slopes[i])
	}
}

// complete computes a slope's bound from its prices.
func (g *pruner) complete(c *slope) {
	h := g.h
	byRow := make([]int64, len(h.need))
	c.rest = 0
	for i, f := range h.fields {
		byRow[f.row] = c.price[i]
		c.rest += c.price[i] * int64(h.need[f.row])
	}
	for _, k := range g.rest {
		least := int64(0)
		for q := range h.parts[k].options {
			o := &h.parts[k].options[q]
			v := o.cost
			for _, a := range o.adds {
				v -= byRow[a.row] * int64(a.by)
			}
			least = min(least, v)
			h.s.work += int64(2 * len(o.adds))
		}
		c.rest += least
	}
}

// at is the bound on what a state of a cost and sums ends at.
func (c *slope) at(cost int64, sums []int) int64 {
	v := cost + c.rest
	price := c.price[:len(sums)]
	for i, x := range sums {
		v -= price[i] * int64(x)
	}
	return v
}

// above reports whether a state of a cost and sums can't end within the slack by one of the slopes.
func (g *pruner) above(cost int64, sums []int) bool {
	for k := range g.slopes {
		if c := &g.slopes[k]; c.at(cost, sums) > g.h.slack {
			g.h.s.work += int64((k + 1) * len(sums))
			c.hits++
			return true
		}
	}
	g.h.s.work += int64(len(g.slopes) * len(sums))
	return false
}

// least is the best bound on what a state ends at.
func (g *pruner) least(x *state) int64 {
	v := x.cost
	for k := range g.slopes {
		v = max(v, g.by(&g.slopes[k], x))
	}
	return v
}

// by is a slope's bound on what a state ends at.
func (g *pruner) by(c *slope, x *state) int64 {
	v := x.cost + c.rest
	for i := range g.h.fields {
		f := &g.h.fields[i]
		v -= c.price[i] * int64(f.sum(x))
	}
	return v
}

// sharpen adds slopes that some of the states don't pass, and drops all states that don't.
func (g *pruner) sharpen(all []state) []state {
	h := g.h
	if len(all) < h.few {
		return all
	}
	slices.SortStableFunc(g.slopes, func(x, y slope) int { return -cmp.Compare(x.hits, y.hits) })
	g.slopes = g.slopes[:min(len(g.slopes), mostSlopes)]
	for k := range g.slopes {
		g.slopes[k].hits /= 2
	}
	old := len(g.slopes)
	samples, failed := min(mostSamples, len(all)/h.few), 0
	for n := 0; n < samples && failed < mostFailed; n++ {
		x := &all[(2*n+1)*len(all)/(2*samples)]
		if slices.ContainsFunc(g.slopes[old:], func(c slope) bool { return g.by(&c, x) > h.slack }) {
			continue
		}
		if c, ok := g.slope(x); ok && g.by(&c, x) > h.slack {
			g.slopes = append(g.slopes, c)
			failed = 0
		} else {
			failed++
		}
	}
	fresh := g.slopes[old:]
	if len(fresh) == 0 {
		return all
	}
	out := all[:0]
	for i := range all {
		x := &all[i]
		keep := true
		for k := range fresh {
			h.s.work += int64(2 * len(h.fields))
			if g.by(&fresh[k], x) > h.slack {
				fresh[k].hits++
				keep = false
				break
			}
		}
		if keep {
			out = append(out, *x)
		}
	}
	return out
}

// slope solves the linear program of what is still to come after a state.
func (g *pruner) slope(x *state) (slope, bool) {
	h := g.h
	for i := range h.fields {
		f := &h.fields[i]
		g.lp.rhs[i] = float64(h.need[f.row] - f.sum(x))
	}
	if !g.lp.solve(g.rest) {
		return slope{}, false
	}
	c := slope{price: make([]int64, len(h.fields))}
	for i, f := range h.fields {
		c.price[i] = int64(math.Round(g.lp.y[i] * unit))
		if f.loose {
			c.price[i] = max(c.price[i], -h.over[f.row])
		}
	}
	g.complete(&c)
	return c, true
}
