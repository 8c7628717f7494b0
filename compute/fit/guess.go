package fit

import "math"

// guesses guesses plans with fewer and fewer boards cut as the linear program does.
func (s *space) guesses(l level, best *solution, f proof, least int64, t *master, each int64) {
	chosen, split := t.settled()
	for left := 7; left > 0 && least < best.score.at(l); left-- {
		s.guess(l, best, f, least, chosen, s.loosened(split, left), s.upTo(each))
	}
}

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
		take(s.classRow(i), nil) // the slack column of a row has its number
		for _, k := range free {
			split[k] = true
		}
	}
	return chosen, split
}

// guess keeps what a plan cuts of all boards but the free ones, and finds the best plan for these. won says that it is better than
// the best there was, all that nothing better was left out.
func (s *space) guess(l level, best *solution, f proof, least int64, chosen []*pattern, free []bool, stop int64) (won, all bool) {
	given := solution{chosen: chosen}
	sub, g := s.part(given, f, free)
	for k, loss := range s.losses(given, f) {
		if !free[k] {
			g.least += loss
		}
	}
	for to, step := max(least, g.bound()), int64(1); to < best.score.at(l); step *= 2 {
		if s.work >= stop {
			return false, false
		}
		sub.work = s.work
		got := sub.within(l, *best, g, to, stop)
		s.work = sub.work
		if got.ok {
			return s.takeOver(best, chosen, got.chosen, free), got.all
		}
		if !got.all {
			return false, false
		}
		to = min(to+step, max(to+1, best.score.at(l)-1))
	}
	return false, true
}

// loosened are the boards to plan anew when the others stay as the linear program cuts them: those that it splits among patterns, and
// some more, so that of the others about left of 8 stay.
func (s *space) loosened(split []bool, left int) []bool {
	free := make([]bool, len(s.of))
	for k := range free {
		s.chance = next(s.chance)
		free[k] = split[k] || int(s.chance>>33%8) >= left
	}
	return free
}
