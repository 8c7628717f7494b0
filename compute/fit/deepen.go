package fit

// mostStates keeps the memory of a search to some ten megabytes.
const mostStates = 300_000

// deepen looks for the best plan at a level from the bound up: it asks for a plan within a small slack of the bound, then within
// larger ones, until there is one, which is then the best, or until the work runs out. It returns the proven bound.
func (s *space) deepen(l level, best *solution, f proof, least, stop int64) int64 {
	steps := ladder{step: 1}
	for least < best.score.at(l) && s.work < stop {
		start := s.work
		to := min(least+steps.step, best.score.at(l)) - 1
		may := stop
		if steps.step > 1 { // a wide step may fail: leave work for narrower ones
			may = s.towards(stop, 4)
		}
		got := s.within(l, *best, f, to, may)
		if got.ok {
			best.takeBetter(s.weigh(got.chosen))
		}
		switch {
		case got.all && got.ok:
			return best.score.at(l)
		case got.all:
			least = to + 1
			steps.climb(s.work - start)
		case steps.step > 1:
			steps.step = max(1, steps.step/4)
		default:
			return least
		}
	}
	return min(least, best.score.at(l))
}

// ladder says in which steps the slack grows. The work grows by about the same factor from step to step.
type ladder struct{ step, before int64 }

// climb sets the next step from the work of the last two: twice as far when it grew by less than a half, half as far when it grew more
// than threefold.
func (d *ladder) climb(work int64) {
	switch {
	case 2*work < 3*d.before:
		d.step *= 2
	case work > 3*d.before:
		d.step = max(1, d.step/2)
	}
	d.before = work
}

// within looks for the best plan that comes to no more than a number at a level.
func (s *space) within(l level, best solution, f proof, to, stop int64) found {
	slack := to*unit - f.least
	lists, ok := s.lists(f, slack, mostColumns, s.towards(stop, 4)) // where listing takes long, searching would take longer
	if !ok {
		return found{}
	}
	c, ok := s.newCore(l, best, f, lists, slack)
	if !ok {
		return found{all: true}
	}
	return c.search(mostStates, stop)
}
