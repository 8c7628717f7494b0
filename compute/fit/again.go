package fit

import (
	"cmp"
	"slices"
)

// improve looks for better plans at a level near the best there is: again and again it takes some boards out, those that lose most
// among them, and finds the best plan for these alone. least is the bound proven so far.
func (s *space) improve(l level, best *solution, f proof, least, stop int64) {
	stop = s.work + (stop-s.work)*2/3 // a third is left for what follows
	const fewest, most = 4, 40
	boards, failed := 8, 0
	spread := 17 // few boards at a time win most for their work; pieces now and then need more of them
	if l == missing {
		spread = 41
	}
	for failed < 150 && s.work < stop && least < best.score.at(l) {
		var won, all bool
		free := s.someWorst(*best, f, boards)
		if l > missing && failed%2 == 1 { // in turn the two ways of looking find more than either alone
			won, all = s.guess(l, best, f, least, best.chosen, free, min(stop, s.upTo(againParts)))
		} else {
			won, all = s.again(l, best, f, free, stop)
		}
		switch {
		case all:
			boards = min(boards+1, most)
		case boards > fewest:
			boards--
		}
		if !won && !all && l != order { // too far from the bound to look at everything: dive with other boards, which hardly ever wins order
			won = s.diveAgain(l, best, f, s.someWorst(*best, f, 8+failed*7%spread), stop)
		}
		if failed++; won {
			failed = 0
		}
	}
}

// againParts: one look near the plan takes at most such a part of the work that is left.
const againParts = 40

// next is the next of a row of numbers without a pattern that matters here; the upper bits are the better ones.
func next(x uint64) uint64 { return x*6364136223846793005 + 1442695040888963407 }

// someWorst picks boards to take out: half of them those that lose most, the others from all.
func (s *space) someWorst(sol solution, f proof, n int) []bool {
	loss := s.losses(sol, f)
	s.work += int64(20 * len(loss))
	worst := numbers(len(s.of))
	slices.SortStableFunc(worst, func(x, y int) int { return cmp.Compare(loss[y], loss[x]) })
	free := make([]bool, len(s.of))
	for i := range min(n, len(worst)) {
		s.chance = next(s.chance)
		at := int(s.chance >> 33 % uint64(len(worst)))
		if i%2 == 0 { // the square of a chance lies near the worst
			at = at * at / len(worst) * (i + 1) / n
		}
		free[worst[at]] = true
	}
	return free
}

// again finds the best plan at a level for the free boards, the others staying as they are. won says that it is better, all that
// nothing better was left out.
func (s *space) again(l level, best *solution, f proof, free []bool, stop int64) (won, all bool) {
	slack := (best.score.at(l)-1)*unit - f.least
	for k, loss := range s.losses(*best, f) {
		if !free[k] {
			slack -= loss
		}
	}
	sub, g := s.part(*best, f, free)
	const mostListed = 2500 // for some boards; mostColumns is for all
	sub.workMost = min(stop, s.upTo(againParts))
	now := sub.weigh(sub.only(*best))
	lists, all := sub.lists(g, slack, mostListed, sub.workMost)
	if all {
		_, all = sub.search(l, &now, g, lists)
	}
	s.work = sub.work
	return s.takeOver(best, best.chosen, now.chosen, free), all
}

// diveAgain dives with the free boards alone.
func (s *space) diveAgain(l level, best *solution, f proof, free []bool, stop int64) bool {
	sub, _ := s.part(*best, f, free)
	sub.workMost = stop
	now := sub.weigh(sub.only(*best))
	sol, ok := sub.dive(l, now, sub.pool(now), mild)
	s.work = sub.work
	return ok && s.takeOver(best, best.chosen, sol.chosen, free)
}

// takeOver joins what the free boards are cut to now with what the others keep, and takes that for the best plan when it is better.
func (s *space) takeOver(best *solution, kept, now []*pattern, free []bool) bool {
	chosen := slices.Clone(kept)
	for k, p := range now {
		if free[k] {
			chosen[k] = p
		}
	}
	return best.takeBetter(s.weigh(chosen))
}

// part is the task of the free boards alone, the others keeping what they are cut to.
func (s *space) part(sol solution, f proof, free []bool) (*space, proof) {
	s.work += int64(100 * len(s.of))
	sub := *s
	sub.tables = tables{}
	sub.classes, sub.d = nil, slices.Clone(s.d)
	g := f
	g.gains = nil
	for i, c := range s.classes {
		c.stock = slices.DeleteFunc(slices.Clone(c.stock), func(k int) bool { return !free[k] })
		if len(c.stock) > 0 {
			sub.classes = append(sub.classes, c)
			g.gains = append(g.gains, f.gains[i])
		}
	}
	for k, p := range sol.chosen {
		if p != nil && !free[k] {
			for i, a := range p.made {
				sub.d[i] = max(0, sub.d[i]-a)
			}
		}
	}
	sub.sets = slices.Clone(s.sets)
	for k := range sub.sets {
		q := &sub.sets[k]
		cross, ripped := *q.axes[0], *q.axes[1]
		q.axes = []*axis{&cross, &ripped}
	}
	sub.group()
	return &sub, g
}

// only is what a plan cuts of the classes of the space.
func (s *space) only(sol solution) []*pattern {
	out := make([]*pattern, len(s.of))
	for i := range s.classes {
		for _, k := range s.classes[i].stock {
			out[k] = sol.chosen[k]
		}
	}
	return out
}

// losses gives, for each stock, how far what it is cut to is from the most it could win at the prices of the bound.
func (s *space) losses(sol solution, f proof) []int64 {
	out := make([]int64, len(s.of))
	for i := range s.classes {
		for _, k := range s.classes[i].stock {
			out[k] = f.gains[i] - s.gain(sol.chosen[k], f)
		}
	}
	return out
}

// gain is what a pattern wins at the prices of a bound.
func (s *space) gain(p *pattern, f proof) int64 {
	if p == nil {
		return 0
	}
	v := -f.perWood * p.cost
	for i, a := range p.made {
		v += f.pi[i] * int64(a)
	}
	return v
}
