package fit

import (
	"math"
	"slices"
)

// diver rounds a linear program to whole boards.
type diver struct {
	*master
	l      level
	from   solution
	free   [][]int // stock of each class that has no pattern yet
	chosen []*pattern
}

// How missing pieces are charged for while diving (see newMaster). Strictly, their number is all but settled first.
const (
	mild   = 4
	strict = 64
)

// diveAll dives with all boards. Where pieces are still missing beyond the bound it does so in both ways of charging for them.
func (s *space) diveAll(l level, best *solution, least int64, pool [][]*pattern) {
	for _, soft := range []float64{mild, strict} {
		if soft == strict && (l > missing || least >= best.score.at(l)) {
			break
		}
		if sol, ok := s.dive(l, *best, pool, soft); ok {
			best.takeBetter(sol)
		}
	}
}

// diveOpen dives with the boards that the linear program leaves alone or splits among patterns, and some more, the others staying as it cuts
// them: mostly that comes to as good a plan as to dive with all boards, for a small part of the work.
func (s *space) diveOpen(l level, best *solution, f proof, t *master, pool [][]*pattern) {
	chosen, split := t.settled()
	free := s.loosened(split, 7)
	for k, p := range chosen {
		free[k] = free[k] || p == nil
	}
	sub, _ := s.part(solution{chosen: chosen}, f, free)
	var own [][]*pattern
	for i, c := range s.classes {
		if slices.ContainsFunc(c.stock, func(k int) bool { return free[k] }) {
			own = append(own, pool[i])
		}
	}
	sol, ok := sub.dive(l, *best, own, mild)
	s.work = sub.work
	if ok {
		s.takeOver(best, chosen, sol.chosen, free)
	}
}

// dive solves the linear program, fixes the pattern with the largest share on a board, and goes on with the rest of boards and
// pieces. A choice that leaves nothing to win is taken back, some times. It reports false when it gave up. For soft see newMaster.
func (s *space) dive(l level, from solution, pool [][]*pattern, soft float64) (solution, bool) {
	d := diver{master: s.newMaster(l, from, pool, soft), l: l, from: from, free: s.stocks(), chosen: make([]*pattern, len(s.of))}
	if !d.dual() {
		return solution{}, false
	}
	rounds, undos, last := 6, 15, -1
	for s.work < s.workMost {
		open := make([]bool, len(s.classes))
		for i, free := range d.free {
			open[i] = len(free) > 0
		}
		d.more(open, rounds)
		if rounds = 0; l == missing { // new patterns while diving win pieces; the order and the wood are mended quicker afterwards
			rounds = 2
		}
		if last >= 0 && undos > 0 && d.hopeless() {
			undos--
			d.undo(last)
			last = -1
		} else if !slices.Contains(open, true) {
			break
		} else {
			var ok bool
			if last, ok = d.fix(); !ok {
				break
			}
		}
		d.leave()
		d.values()
		if !d.dual() {
			return solution{}, false
		}
	}
	if left := atLeastNone(d.demand); slices.Max(left) > 0 {
		s.fill(d.chosen, left, numbers(len(s.classes)), s.areas())
	}
	return s.weigh(d.chosen), true
}

// leave shuts out of the basis the patterns of boards that are taken, and those that must not be taken. The further a dive has come,
// the less is left to look at.
func (d *diver) leave() {
	d.live = d.live[:0]
	for j := range d.cols {
		c := &d.cols[j]
		if !c.out && (c.pat == nil || len(d.free[d.class(j)]) > 0) {
			d.live = append(d.live, int32(j))
		}
	}
	d.s.work += int64(2 * len(d.cols))
}

// class is the class of a pattern's column.
func (d *diver) class(col int) int {
	at := d.cols[col].at
	return int(at[len(at)-1]) - d.s.classRow(0)
}

// hopeless reports whether nothing can be won any more as things stand in the linear program.
func (d *diver) hopeless() bool {
	short, by := 0.0, 0.0
	for i, j := range d.z {
		if r := d.row[j]; r >= 0 {
			short += d.x[r]
			by += float64(d.x[r] * float64(d.s.score[i]))
		}
	}
	const near = 0.01
	m, o := float64(d.from.score.Missing), float64(d.from.score.Order)
	switch d.l {
	case missing:
		return short > m-1+near
	case order:
		return short > m+near || by > o-1+near
	}
	return short > near // what is missing anyway is not asked for at this level
}

// take takes the pattern of a column for a board of its class, or gives it back.
func (d *diver) take(class, col int) {
	k := d.free[class][0]
	d.free[class] = d.free[class][1:]
	d.chosen[k] = d.cols[col].pat
	d.count(class, col, 1)
}

func (d *diver) count(class, col, by int) {
	for i, a := range d.cols[col].pat.made {
		d.demand[i] -= by * a
		d.rhs[i] = math.Max(0, float64(d.demand[i]))
	}
	d.rhs[d.s.classRow(class)] -= float64(by)
}

// undo gives the board back that was taken last, and shuts out the column.
func (d *diver) undo(col int) {
	class := d.class(col)
	for _, k := range d.s.classes[class].stock {
		if d.chosen[k] == d.cols[col].pat && !slices.Contains(d.free[class], k) {
			d.chosen[k] = nil
			d.free[class] = append([]int{k}, d.free[class]...)
			break
		}
	}
	d.count(class, col, -1)
	d.cols[col].out = true
}

// fix takes over every pattern with a whole share, or else the one with the largest, and then says which. It reports false when
// there is none.
func (d *diver) fix() (last int, ok bool) {
	type share struct {
		class, col int
		x          float64
	}
	var all []share
	for i, cols := range d.of {
		for _, j := range cols {
			if r := d.row[j]; r >= 0 && d.x[r] > 1e-5 && len(d.free[i]) > 0 {
				all = append(all, share{i, int(j), d.x[r]})
			}
		}
	}
	whole := false
	for _, h := range all {
		for x := h.x; x > 1-1e-5 && len(d.free[h.class]) > 0; x-- {
			d.take(h.class, h.col)
			whole = true
		}
	}
	if whole {
		return -1, true
	}
	best := -1
	for n, h := range all {
		if !d.cols[h.col].out && (best < 0 || h.x > all[best].x) {
			best = n
		}
	}
	if best < 0 {
		return -1, false
	}
	d.take(all[best].class, all[best].col)
	return all[best].col, true
}

// more adds patterns that suit what is still wanted, for some rounds.
func (d *diver) more(open []bool, rounds int) {
	s := d.s
	for range rounds {
		if !d.primal() {
			return
		}
		d.prices()
		f := s.atPrices(d.master, d.l, d.from)
		added := false
		for i, o := range s.price(f.pi, atLeastNone(d.demand), f.perWood, open, d.pays) {
			if o.pat != nil {
				if p := s.capped(&s.classes[i], o.pat, d.demand); d.pays(i, s.gain(p, f)) {
					d.put(i, p, d.l == wooden)
					added = true
				}
			}
		}
		if !added {
			return
		}
	}
	d.primal()
}
