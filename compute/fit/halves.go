package fit

import (
	"math/bits"
	"slices"
)

// halves searches a core from two sides: the states of each half of the parts are listed in order of their sums, the cheapest
// of those with equal sums, and two of them that make up the needs are looked for by going through both lists at once.
//
// Source: Horowitz and Sahni, Computing partitions with applications to the knapsack problem, Journal of the ACM 21 (1974); memory.
type halves struct {
	*core
	fields    []field // of the rows that anything adds to; loose ones lowest
	looseBits int
	steps     []step
	most      int   // states of a side
	stop      int64 // where the work ends
	cut       bool  // some states were left out
	lists     [][]state
	spare     [2][]state // room for joining lists
	spent     int64      // what every choice costs
}

// What a search does not try: it would take more memory or work than there is.
const (
	mostParts   = 600
	mostOptions = 4000
	mostSteps   = 2_000_000
)

// wordBits are filled of each word of a state. The sum of two states, which join looks for, may take one bit more.
const wordBits = 63

// found is what a search found.
type found struct {
	chosen []*pattern
	cost   int64
	ok     bool // something was found
	all    bool // nothing cheaper is there
}

// search looks for the cheapest choice within the slack.
func (c *core) search(most int, stop int64) found {
	own := *c
	h := &halves{core: &own, most: most, stop: stop}
	if len(c.parts) > mostParts || slices.ContainsFunc(c.parts, func(p part) bool { return len(p.options) > mostOptions }) {
		return found{}
	}
	possible, fits := h.setFields()
	switch {
	case !possible:
		return found{all: true}
	case !fits:
		return found{}
	}
	run := h.sequence()
	lp := h.relaxed()
	low, high := h.newSide(run, false, lp), h.newSide(run, true, lp.again())
	for range run {
		if h.s.work > stop || len(h.steps) > mostSteps {
			return found{}
		}
		d := low
		if len(high.states) < len(low.states) {
			d = high
		}
		if d.advance(); len(d.states) == 0 {
			return found{all: !h.cut}
		}
	}
	out := h.join(low.states, high.states)
	out.all = !h.cut
	return out
}

// setFields finds out how far the rows reach and gives them their bits. possible is false when a need can't be met, fits when
// there are too few bits.
func (h *halves) setFields() (possible, fits bool) {
	// What is made beyond the need becomes a part of its own where it costs much, and is looked at in the end where it costs little.
	loose := make([]bool, len(h.need))
	for r, v := range h.over {
		if v > h.slack || !h.inUse(r) {
			continue
		}
		if loose[r] = v == 0 || h.slack/v > 4; loose[r] {
			continue
		}
		p := part{stock: -1}
		for x := int64(1); x*v <= h.slack; x++ {
			p.options = append(p.options, option{adds: []rowAdd{{r, -int(x)}}, cost: x * v})
		}
		h.parts = append(h.parts, p)
	}
	at := 0
	for _, now := range []bool{true, false} {
		for r := range h.need {
			if loose[r] != now || !h.inUse(r) {
				continue
			}
			all := reach{cost: []int64{0}}
			for k := range h.parts {
				w := &h.waysOf(&h.parts[k])[r]
				all = h.with(all, w.low, w.fully)
			}
			end := all.low + len(all.cost) - 1
			if h.need[r] > end || !now && all.at(h.need[r]) > h.slack {
				return false, true
			}
			wide := bits.Len(uint(len(all.cost) - 1))
			if now && h.need[r] <= all.low && h.over[r] == 0 {
				continue // met whatever is chosen
			}
			if wide == 0 { // nothing adds to it: what it lies above its need is the same whatever is chosen
				h.spent -= int64(h.need[r]) * h.over[r]
				continue
			}
			if at < 64 && at+wide > wordBits {
				at = 64
			}
			if at+wide > 64+wordBits {
				return true, false
			}
			h.fields = append(h.fields, field{row: r, high: at >= 64, at: at % 64, mask: 1<<wide - 1, least: all.low, loose: now})
			at += wide
		}
		if now {
			if h.looseBits = at; at >= 64 {
				return true, false
			}
		}
	}
	h.slack -= h.spent
	return h.slack >= 0, true
}

// join looks for the cheapest two states, one of each side, that make up the needs.
func (h *halves) join(a, b []state) found {
	var wantHigh, wantLow uint64
	for n := range h.fields {
		if f := &h.fields[n]; !f.loose {
			f.put(h.need[f.row]-2*f.least, &wantHigh, &wantLow)
		}
	}
	wantLow >>= h.looseBits
	key := func(x *state) (uint64, uint64) { return x.high, x.low >> h.looseBits }
	best := found{cost: h.slack + 1}
	var x, y int32
	j := len(b) - 1
	for i := range a {
		high, low := key(&a[i])
		if high > wantHigh || low > wantLow {
			continue
		}
		high, low = wantHigh-high, wantLow-low
		for j >= 0 {
			if p, q := key(&b[j]); p < high || p == high && q <= low {
				break
			}
			j--
		}
		for k := j; k >= 0; k-- {
			if p, q := key(&b[k]); p != high || q != low {
				break
			}
			if h.s.work > h.stop {
				h.cut = true
				break
			}
			if v := h.together(&a[i], &b[k]); v < best.cost {
				best.cost, best.ok = v, true
				x, y = a[i].trail, b[k].trail
			}
		}
	}
	h.s.work += int64(4 * (len(a) + len(b)))
	if !best.ok {
		return best
	}
	best.cost += h.spent
	best.chosen = slices.Clone(h.fixed)
	for _, t := range []int32{x, y} {
		for ; t >= 0; t = h.steps[t].before {
			if p := &h.parts[h.steps[t].part]; p.stock >= 0 {
				best.chosen[p.stock] = p.options[h.steps[t].option].pat
			}
		}
	}
	return best
}

// together is what two states cost whose sums meet the needs of all rows that are not loose.
func (h *halves) together(x, y *state) int64 {
	h.s.work += 10
	v := x.cost + y.cost
	for n := range h.fields {
		f := &h.fields[n]
		if !f.loose {
			break
		}
		over := f.sum(x) + f.sum(y) - h.need[f.row]
		if over < 0 {
			return never
		}
		v += int64(over) * h.over[f.row]
	}
	return v
}
