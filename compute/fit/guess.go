package fit

import "math"

// settled takes over what the linear program cuts wholly: the pattern of each stock, nil for one that is left alone. split says of
// which stock it cuts several patterns in parts.
func (t *master) settled() (chosen []*pattern, split []bool) {
	s := t.s
	chosen, split = make([]*pattern, len(s.of)), make([]bool, len(s.of))
	for i := range s.classes {
		free := s.classes[i].stock
		take := func(j int, p *pattern) {
			if r := t.row[j]; r >= 0 {
				for x := int(math.Floor(t.x[r] + 1e-6)); x > 0 && len(free) > 0; x-- {
					chosen[free[0]] = p
					free = free[1:]
				}
			}
		}
		for _, j := range t.of[i] {
			take(int(j), t.cols[j].pat)
		}
		take(len(s.id)+2+i, nil)
		for _, k := range free {
			split[k] = true
		}
	}
	return chosen, split
}

// guess leaves some boards as the linear program cuts them and finds the best plan for the others, those that it splits among
// them: left of 8 are left. What it finds need not be the best.
func (s *space) guess(l level, best *solution, f proof, least int64, chosen []*pattern, split []bool, left int, stop int64) {
	free := make([]bool, len(s.of))
	for k := range free {
		s.chance = next(s.chance)
		free[k] = split[k] || int(s.chance>>33%8) >= left
	}
	given := solution{chosen: chosen}
	sub, g := s.part(given, f, free)
	for k, loss := range s.losses(given, f) {
		if !free[k] {
			g.least += loss
		}
	}
	for to, step := least, int64(1); to < best.score.at(l) && s.work < stop; step *= 2 {
		sub.work = s.work
		got := sub.within(l, *best, g, to, stop)
		s.work = sub.work
		if got.ok {
			all := make([]*pattern, len(chosen))
			for k := range all {
				if all[k] = chosen[k]; free[k] {
					all[k] = got.chosen[k]
				}
			}
			if sol := s.weigh(all); sol.score.less(best.score) {
				*best = sol
			}
			return
		}
		if !got.all {
			return
		}
		to = min(to+step, max(to+1, best.score.at(l)-1))
	}
}
