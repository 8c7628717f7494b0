package fit

import "slices"

// side is the states of one end of the sequence of parts.
type side struct {
	h         *halves
	run       []int // the parts in the order this side takes them
	taken     int
	bounds    [][]rowBound // after so many parts
	pruner    *pruner
	states    []state
	checked   int // how many there were when all were last checked
	unchecked int // parts taken since then
}

func (h *halves) newSide(run []int, back bool, lp *relaxed) *side {
	d := &side{h: h, run: slices.Clone(run), pruner: &pruner{h: h, lp: lp}}
	if back {
		slices.Reverse(d.run)
	}
	d.bounds = h.bounds(d.run)
	first := state{trail: -1}
	for n := range h.fields {
		f := &h.fields[n]
		f.put(-f.least, &first.high, &first.low)
	}
	d.states = []state{first}
	return d
}

// advance takes the next part.
func (d *side) advance() {
	h, k := d.h, d.run[d.taken]
	bounds := d.bounds[d.taken]
	d.taken++
	d.pruner.decided(k, d.run[d.taken:])
	d.states = h.grow(d.states, k, bounds, d.pruner)
	// To look at all states anew pays when there is a good part more of them, or after some parts, when the bounds have moved on.
	if d.unchecked++; len(d.states) > d.checked+d.checked/8 || d.unchecked > 8 {
		d.unchecked = 0
		d.states = d.pruner.sharpen(h.recheck(d.states, bounds, d.pruner))
		d.checked = len(d.states)
	}
	if len(d.states) > h.most {
		h.cut = true
		d.states = h.best(d.states, d.pruner)
	}
}

// grow adds a part to all states of a side and keeps what can still end within the slack. States stay in order of their sums.
func (h *halves) grow(all []state, k int, bounds []rowBound, g *pruner) []state {
	p := &h.parts[k]
	for len(h.lists) < len(p.options) {
		h.lists = append(h.lists, nil)
	}
	changes := make([]change, len(p.options))
	for n := range changes {
		changes[n] = h.change(&p.options[n], g)
		h.lists[n] = h.lists[n][:0]
	}
	var t tally
	for i := range all {
		x := &all[i]
		h.s.work += 6
		if x.cost+p.options[0].cost > h.slack {
			continue
		}
		h.count(&t, x, bounds, g)
		for n := range changes {
			c := &changes[n]
			if x.cost+c.cost > h.slack {
				break // the options stand in order of cost
			}
			if !h.allows(&t, x.cost+c.cost, c, bounds, g) {
				continue
			}
			h.s.work += 6
			h.steps = append(h.steps, step{x.trail, int16(k), int16(n)})
			h.lists[n] = append(h.lists[n], state{high: x.high + c.high, low: x.low + c.low, cost: x.cost + c.cost, trail: int32(len(h.steps) - 1)})
		}
	}
	added := [][]state{all}
	for n := range changes {
		if len(h.lists[n]) > 0 {
			added = append(added, h.lists[n])
		}
	}
	if len(added) == 1 {
		return all
	}
	return h.merged(added)
}

// change is what an option does to a state.
type change struct {
	high, low uint64
	cost      int64
	fields    []rowAdd // rows by field
	slopes    []int64  // what it adds to the bound of each slope
}

func (h *halves) change(o *option, g *pruner) change {
	c := change{cost: o.cost, slopes: make([]int64, len(g.slopes))}
	for n := range h.fields {
		f := &h.fields[n]
		for _, a := range o.adds {
			if a.row == f.row {
				f.put(a.by, &c.high, &c.low)
				c.fields = append(c.fields, rowAdd{n, a.by})
			}
		}
	}
	for k := range c.slopes {
		c.slopes[k] = c.cost
		for _, a := range c.fields {
			c.slopes[k] -= g.slopes[k].price[a.row] * int64(a.by)
		}
	}
	return c
}

// tally is a state's sums and bounds, worked out as far as they were asked for.
type tally struct {
	sums   []int // as packed
	whole  []int // the sums themselves
	evenly int64
	most   int64 // the largest of the rows' bounds, and its field
	at     int
	slopes []int64
	done   int // slopes worked out
}

func (h *halves) count(t *tally, x *state, bounds []rowBound, g *pruner) {
	t.sums, t.slopes = slices.Grow(t.sums[:0], len(h.fields))[:len(h.fields)], slices.Grow(t.slopes[:0], len(g.slopes))[:len(g.slopes)]
	t.whole = slices.Grow(t.whole[:0], len(h.fields))[:len(h.fields)]
	t.evenly, t.most, t.at, t.done = 0, 0, -1, 0
	for n := range h.fields {
		v := h.fields[n].of(x)
		t.sums[n], t.whole[n] = v, v+h.fields[n].least
		t.evenly += bounds[n].evenly[v]
		if b := bounds[n].fully[v]; b > t.most {
			t.most, t.at = b, n
		}
	}
	t.evenly = min(t.evenly, never)
	h.s.work += int64(3 * len(h.fields))
}

// allows reports whether an option, bringing a state to a cost, may still end within the slack.
func (h *halves) allows(t *tally, cost int64, c *change, bounds []rowBound, g *pruner) bool {
	evenly, most := t.evenly, t.most
	h.s.work += 5
	for _, a := range c.fields {
		v := t.sums[a.row]
		b := &bounds[a.row]
		if cost+b.fully[v+a.by] > h.slack {
			return false
		}
		if a.row == t.at {
			most = 0
		}
		evenly += b.evenly[v+a.by] - b.evenly[v]
	}
	h.s.work += int64(2 * len(c.fields))
	if cost+most > h.slack || t.evenly < never && cost+evenly > h.slack {
		return false
	}
	for k := range g.slopes {
		if k == t.done {
			t.slopes[k] = g.slopes[k].at(cost-c.cost, t.whole)
			t.done++
			h.s.work += int64(len(t.whole))
		}
		if t.slopes[k]+c.slopes[k] > h.slack {
			g.slopes[k].hits++
			return false
		}
		h.s.work++
	}
	return true
}

// recheck drops the states that can no longer end within the slack.
func (h *halves) recheck(all []state, bounds []rowBound, g *pruner) []state {
	sums := make([]int, len(h.fields))
	out := all[:0]
	for i := range all {
		if x := &all[i]; h.within(x, sums, bounds) && !g.above(x.cost, sums) {
			out = append(out, *x)
		}
	}
	return out
}

// within unpacks the sums of a state and reports whether the rows' bounds leave it within the slack.
func (h *halves) within(x *state, sums []int, bounds []rowBound) bool {
	v := x.cost
	h.s.work += int64(3 * len(sums))
	for n := range h.fields {
		f := &h.fields[n]
		at := f.of(x)
		sums[n] = at + f.least
		b := &bounds[n]
		if x.cost+b.fully[at] > h.slack {
			return false
		}
		v += b.evenly[at]
	}
	return v <= h.slack
}

// best keeps the states that promise most: three quarters of what is allowed, so that the next parts don't meet the limit at once, and
// what promises as much as the last of these.
func (h *halves) best(all []state, g *pruner) []state {
	worth := make([]int64, len(all))
	for i := range all {
		worth[i] = g.least(&all[i])
	}
	sorted := slices.Clone(worth)
	slices.Sort(sorted)
	edge := sorted[h.most*3/4]
	out := all[:0]
	for i := range all {
		if worth[i] < edge || worth[i] == edge && len(out) < h.most {
			out = append(out, all[i])
		}
	}
	h.s.work += int64(100 * len(all))
	return out
}
