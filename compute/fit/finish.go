package fit

import (
	"cmp"
	"math"
	"slices"
)

// mostColumns is how many listed patterns are worked with.
const mostColumns = 20_000

// finish ends the proof of the number of pieces: it lists every pattern that a better plan can hold and searches those. It returns
// the bound it could prove. f is untouched: its prices, its gains and its bound belong together.
func (s *space) finish(l level, best *solution, f proof) int64 {
	slack := (best.score.at(l)-1)*unit - f.least
	lists, ok := s.lists(f, slack, mostColumns, s.upTo(8))
	if !ok {
		return 0
	}
	all := s.workMost
	defer func() { s.workMost = all }()
	s.workMost = s.upTo(4) // most searches end early or not at all
	bound, ok := s.search(l, best, f, lists)
	if ok {
		return best.score.at(l)
	}
	return min(wholeUnits(bound), best.score.at(l))
}

// search finds the best plan of listed patterns. It reports whether it looked at all of them, and else the bound it could prove.
func (s *space) search(l level, best *solution, f proof, lists [][]*pattern) (bound int64, all bool) {
	t := s.newMaster(l, *best, lists, 0)
	b := branch{master: t, l: l, best: best, chosen: make([]*pattern, len(s.of)), free: s.stocks(), first: make([]int, len(s.classes))}
	if !t.dual() {
		return 0, !t.stuck // nothing better fits the caps
	}
	bound = s.listed(t, l, *best, lists)
	if !b.better(t.objective()) {
		return bound, true
	}
	lists, open := b.thin()
	if slices.Contains(open, false) {
		return bound, s.searchOpen(l, best, f, lists, open)
	}
	b.node()
	return bound, !b.given
}

// thin drops the listed patterns that the linear program shows no better plan to hold, and tells for which classes more than one
// choice is left.
func (b *branch) thin() (lists [][]*pattern, open []bool) {
	v := b.objective()
	b.prices()
	lists, open = make([][]*pattern, len(b.of)), make([]bool, len(b.of))
	may := func(j int) bool { return b.row[j] >= 0 || b.better(v+math.Max(0, b.reduced(j))) }
	for i, cols := range b.of {
		for _, j := range cols {
			if may(int(j)) {
				lists[i] = append(lists[i], b.cols[j].pat)
			}
		}
		alone := may(b.s.classRow(i))
		open[i] = len(lists[i]) > 1 || alone && len(lists[i]) > 0
	}
	return lists, open
}

// searchOpen searches the classes that are open; the others take their one choice.
func (s *space) searchOpen(l level, best *solution, f proof, lists [][]*pattern, open []bool) bool {
	given := solution{chosen: make([]*pattern, len(s.of)), score: best.score}
	free := make([]bool, len(s.of))
	var rest [][]*pattern
	for i := range s.classes {
		if open[i] {
			rest = append(rest, lists[i])
		}
		for _, k := range s.classes[i].stock {
			if free[k] = open[i]; !open[i] && len(lists[i]) > 0 {
				given.chosen[k] = lists[i][0]
				given.score.Wood -= lists[i][0].cost
			}
		}
	}
	sub, g := s.part(given, f, free)
	now := solution{score: given.score}
	_, all := sub.search(l, &now, g, rest)
	s.work = sub.work
	if now.chosen != nil {
		s.takeOver(best, given.chosen, now.chosen, free)
	}
	return all
}

// listed is the bound of space.bound over the listed patterns alone. Plans that hold any other are no better than the best.
func (s *space) listed(t *master, l level, best solution, lists [][]*pattern) int64 {
	t.prices()
	f := s.atPrices(t, l, best)
	for i := range s.classes {
		gain := int64(0)
		for _, p := range lists[i] {
			gain = max(gain, s.gain(p, f))
		}
		f.least -= gain * int64(len(s.classes[i].stock))
	}
	return f.least
}

// branch searches the listed patterns: it takes the class whose share is nearest to whole and tries, for one of its clear
// lengths, every pattern that the bound allows.
type branch struct {
	*master
	l      level
	best   *solution
	chosen []*pattern
	free   [][]int
	first  []int // alike lengths take their patterns in order, so that no choice is tried twice: the least still allowed
	given  bool  // the work ran out
}

// better reports whether a bound still leaves room for a better plan. The tolerance is far above the arithmetic's error and far
// below 1, the least that a better plan wins.
func (b *branch) better(v float64) bool {
	return math.Ceil(v-1e-5) < float64(b.best.score.at(b.l))
}

// node solves the program as it stands, and goes on below where its bound leaves room for a better plan.
func (b *branch) node() {
	s := b.s
	if s.work >= s.workMost {
		b.given = true
	}
	if b.given {
		return
	}
	if !b.dual() {
		b.given = b.stuck
		return
	}
	v := b.objective()
	if !b.better(v) {
		return
	}
	class, whole := b.pick()
	if whole {
		chosen := slices.Clone(b.chosen)
		for i, cols := range b.of {
			free := b.free[i]
			for _, j := range cols {
				if r := b.row[j]; r >= 0 {
					for range int(math.Round(b.x[r])) {
						chosen[free[0]] = b.cols[j].pat
						free = free[1:]
					}
				}
			}
		}
		if !b.best.takeBetter(s.weigh(chosen)) {
			b.given = true // the arithmetic was off: nothing is proven here
		}
		return
	}
	b.prices()
	type option struct {
		at   int // position in of; len: left alone
		x, d float64
	}
	var all []option
	cols := b.of[class]
	for at := b.first[class]; at <= len(cols); at++ {
		j := s.classRow(class) // the slack column of a row has its number
		if at < len(cols) {
			j = int(cols[at])
		}
		o := option{at: at}
		if r := b.row[j]; r >= 0 {
			o.x = b.x[r]
		} else {
			o.d = math.Max(0, b.reduced(j))
		}
		if b.better(v + o.d) {
			all = append(all, o)
		}
	}
	s.work += int64(16 * len(cols))
	slices.SortStableFunc(all, func(x, y option) int { return cmp.Or(cmp.Compare(y.x, x.x), cmp.Compare(x.d, y.d)) })
	first, stock := b.first[class], b.free[class]
	for _, o := range all {
		if !b.better(v + o.d) {
			continue
		}
		k := stock[0]
		var p *pattern
		if o.at < len(cols) {
			p = b.cols[cols[o.at]].pat
		}
		b.shift(class, p, -1)
		b.chosen[k], b.free[class], b.first[class] = p, stock[1:], o.at
		b.node()
		b.chosen[k], b.free[class], b.first[class] = nil, stock, first
		b.shift(class, p, 1)
		if b.given {
			return
		}
	}
}

// shift takes a pattern's pieces and its clear length out of the right-hand side (by -1) or puts them back.
func (b *branch) shift(class int, p *pattern, by float64) {
	b.rhs[b.s.classRow(class)] += by
	if p != nil {
		for i, a := range p.made {
			b.rhs[i] += by * float64(a)
		}
		if b.l == wooden {
			b.done -= by * float64(p.cost)
		}
	}
	b.values()
}

// pick gives the class with the share nearest to whole, from below; whole is true when every share is whole.
func (b *branch) pick() (class int, whole bool) {
	best := 0.0
	whole = true
	for i, cols := range b.of {
		for _, j := range cols {
			r := b.row[j]
			if r < 0 {
				continue
			}
			if x := b.x[r] - math.Floor(b.x[r]+1e-6); x > 1e-6 && x > best {
				class, whole, best = i, false, x
			}
		}
	}
	return class, whole
}
