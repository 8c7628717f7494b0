package fit

import (
	"encoding/binary"
	"slices"
)

// lister lists patterns of one class by trying rows, largest first, and in each row its pieces; what can't reach the gain
// needed is left as soon as the tables show it.
type lister struct {
	s       *space
	c       *class
	a       *axis
	f       proof
	need    int64
	ahead   []int64 // by mark: the most that further rows can win, less the wood used up in the end
	made    []int
	rows    []row
	room    []int32             // of each row: the last mark still free
	found   map[string]*pattern // by the pieces made, written as key
	key     []byte
	most    int
	stop    int64
	tooMany bool
}

// lists finds, for every class, all patterns that win no more than slack less than the best of the class can at the prices of a
// proof, and hold no more of a piece than is wanted. Patterns that another one with at least the same pieces and no more wood
// stands for may be missing. It reports false when there are more than most of them, or the work reached stop.
func (s *space) lists(f proof, slack int64, most int, stop int64) ([][]*pattern, bool) {
	all := make([]*lister, len(s.classes))
	for i := range all {
		all[i] = &lister{s: s, c: &s.classes[i], f: f, need: f.gains[i] - slack, made: make([]int, len(s.id)), found: map[string]*pattern{}, stop: stop}
	}
	for k := range s.sets {
		for _, a := range s.sets[k].axes {
			fresh := false
			for _, l := range all {
				if l.c.set != k {
					continue
				}
				if !fresh {
					s.items(a, f.pi, s.d)
					fresh = true
				}
				most += len(l.found)
				l.a, l.most = a, most
				l.each()
				if l.tooMany {
					return nil, false
				}
				most -= len(l.found)
			}
		}
	}
	out := make([][]*pattern, len(all))
	for i, l := range all {
		for _, p := range l.found {
			out[i] = append(out[i], p)
		}
		// The most pieces first; the order does not rest on the map's.
		slices.SortFunc(out[i], func(x, y *pattern) int { return -slices.Compare(x.made, y.made) })
		s.work += int64(1500 + 150*len(out[i]))
		out[i] = undominated(out[i], &s.work)
	}
	return out, true
}

// each lists the patterns of one axis.
func (l *lister) each() {
	end, cost := l.c.rowEnd(l.a.rip), l.c.costs(l.a.rip)
	worth := make([]int64, len(l.a.sizes))
	for k := range worth {
		worth[k] = l.s.tables.item[l.a.upTo[k]][l.c.itemEnd(l.a.rip, l.a.sizes[k])]
	}
	l.ahead = make([]int64, end+1)
	for p := end; p >= 0; p-- {
		l.ahead[p] = -l.f.perWood * cost[p]
		for k, z := range l.a.sizes {
			if q := l.a.rows.after[z][p]; q >= 0 && int(q) <= end {
				l.ahead[p] = max(l.ahead[p], worth[k]+l.ahead[q])
			}
		}
	}
	l.s.work += int64(5 * end * len(worth))
	l.next(0, len(worth)-1, 0, worth)
}

// next adds rows of the k-th size or smaller from a mark on.
func (l *lister) next(p, k int, value int64, worth []int64) {
	if l.s.work++; l.tooMany || l.s.work > l.stop {
		l.tooMany = true
		return
	}
	if value-l.f.perWood*l.c.costs(l.a.rip)[p] >= l.need {
		l.keep(p)
	}
	for ; k >= 0; k-- {
		q := l.a.rows.after[l.a.sizes[k]][p]
		if q < 0 || int(q) > l.c.rowEnd(l.a.rip) || value+worth[k]+l.ahead[q] < l.need {
			continue
		}
		l.row(l.a.sizes[k])
		l.room = append(l.room, 0)
		l.item(l.a.upTo[k]-1, int32(l.c.itemEnd(l.a.rip, l.a.sizes[k])), k, int(q), value, worth)
		l.rows, l.room = l.rows[:len(l.rows)-1], l.room[:len(l.room)-1]
	}
}

// row begins a row, in the room of one before it.
func (l *lister) row(size int) {
	n := len(l.rows)
	if n == cap(l.rows) {
		l.rows = append(l.rows, row{})
	}
	l.rows = l.rows[:n+1]
	l.rows[n] = row{size: size, items: l.rows[n].items[:0]}
}

// item adds pieces, from the pos-th of the order down, to the last row, which ends at mark q.
func (l *lister) item(pos int, room int32, k, q int, value int64, worth []int64) {
	l.s.work += 18
	if value+l.s.tables.item[pos+1][room]+l.ahead[q] < l.need || l.tooMany {
		return
	}
	last := len(l.rows) - 1
	r := &l.rows[last]
	if len(r.items) == 0 && (pos < 0 || k > 0 && pos < l.a.upTo[k-1]) {
		return // nothing of the row's own size is in it
	}
	if pos < 0 {
		if last > 0 && l.rows[last-1].size == r.size && slices.Compare(l.rows[last-1].items, r.items) > 0 {
			return // the same two rows the other way round
		}
		l.room[last] = room
		l.next(q, k, value, worth)
		return
	}
	i := l.a.order[pos]
	n := len(r.items)
	for {
		l.item(pos-1, room, k, q, value, worth)
		r = &l.rows[last]
		room = l.a.items.before[l.a.itemOf[i]][room]
		if room < 0 || l.made[i] >= l.s.d[i] {
			break
		}
		r.items = append(r.items, i)
		l.made[i]++
		value += l.f.pi[i]
	}
	l.made[i] -= len(r.items) - n
	r.items = r.items[:n]
}

// keep keeps the pattern at hand unless another piece fits into it at no cost.
func (l *lister) keep(p int) {
	if len(l.rows) == 0 {
		return
	}
	for _, i := range l.a.order {
		if l.made[i] >= l.s.d[i] {
			continue
		}
		for n, r := range l.rows {
			if l.s.sizeOf(i, l.a.rip) <= r.size && l.a.items.before[l.a.itemOf[i]][l.room[n]] >= 0 {
				return
			}
		}
		if l.f.perWood == 0 {
			if q := l.a.rows.after[l.s.sizeOf(i, l.a.rip)][p]; q >= 0 && int(q) <= l.c.rowEnd(l.a.rip) {
				return
			}
		}
	}
	l.s.work += 100
	l.key = l.key[:0]
	for _, a := range l.made {
		l.key = binary.AppendUvarint(l.key, uint64(a))
	}
	cost := l.c.costs(l.a.rip)[p]
	if old, ok := l.found[string(l.key)]; ok && old.cost <= cost {
		return
	}
	out := &pattern{rip: l.a.rip}
	for _, r := range l.rows {
		out.rows = append(out.rows, row{items: slices.Clone(r.items)})
	}
	l.s.settle(l.c, out)
	l.s.work += 400
	l.found[string(l.key)] = out
	l.tooMany = len(l.found) > l.most
}

// undominated drops patterns that another stands for: at least the same pieces and no more wood.
func undominated(all []*pattern, work *int64) []*pattern {
	const mostCompared = 3000
	if len(all) > mostCompared {
		return all
	}
	var out []*pattern
	for _, p := range all { // one that stands for p has more pieces in the first place that differs: it came before
		stands := false
		for _, q := range out {
			if q.cost > p.cost {
				continue
			}
			stands = true
			for i, a := range p.made {
				if q.made[i] < a {
					stands = false
					break
				}
			}
			if stands {
				break
			}
		}
		*work += int64(4 * len(out))
		if !stands {
			out = append(out, p)
		}
	}
	return out
}
