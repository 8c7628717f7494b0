package fit

// mostStates keeps the memory of a search to some ten megabytes.
const mostStates = 300_000

// close brings the best plan of a level and its bound together: it raises the bound and guesses plans, with more work from round
// to round. It returns the proven bound.
func (s *space) close(l level, best *solution, f proof, least int64, t *master, round int) int64 {
	// What raising and a guess may take of the work that is left, as one part of so many: little before anything was tried, because
	// the plan is to be found too.
	raise, each := int64(12), int64(24)
	switch {
	case round > 2:
		raise, each = 1, 16
	case round > 0:
		raise, each = 2, 16
	}
	least = s.deepen(l, best, f, least, s.upTo(raise))
	s.guesses(l, best, f, least, t, each)
	return least
}

// guesses guesses plans with fewer and fewer boards cut as the linear program does.
func (s *space) guesses(l level, best *solution, f proof, least int64, t *master, each int64) {
	chosen, split := t.settled()
	for left := 7; left > 0 && least < best.score.at(l); left-- {
		s.guess(l, best, f, least, chosen, s.loosened(split, left), s.upTo(each))
	}
}

// closeWood does the same at the level of wood. There raising the bound most often meets the plan by itself, in a part of the work; else a
// good plan is needed before most of the work goes into raising, so that it need not go all the way.
func (s *space) closeWood(best *solution, pool [][]*pattern, f proof, least int64, t *master, round int) int64 {
	// What raising, looking near the plan and a guess may take of the work that is left, as one part of so many.
	raise, near, each := int64(6), int64(8), int64(60)
	switch {
	case round > 1:
		raise, near, each = 1, 3, 30
	case round == 1:
		raise, near, each = 2, 3, 30
	}
	// Too far from the bound to meet it, also beside what raising has won.
	poor := func() bool { return best.score.Wood-least > max(least/1000, 4*(least-f.bound())) }
	if round > 0 && poor() {
		raise = 12
	}
	least = s.deepen(wooden, best, f, least, s.upTo(raise))
	if least >= best.score.Wood {
		return least
	}
	if round == 0 {
		s.diveOpen(wooden, best, f, t, pool)
	}
	if poor() {
		near = 2
	}
	stop := s.upTo(near)
	if round == 0 && poor() {
		s.diveAll(wooden, best, least, pool)
	}
	s.improve(wooden, best, f, least, stop)
	s.guesses(wooden, best, f, least, t, each)
	return least
}

// upTo is where the work stands when one part of so many of what is left is done.
func (s *space) upTo(part int64) int64 { return s.towards(s.workMost, part) }

// towards is where it stands when one part of so many of what is left until stop is done.
func (s *space) towards(stop, part int64) int64 { return s.work + (stop-s.work)/part }

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
