package fit

// level is what is made least: missing pieces, their order, or wood.
type level uint8

const (
	missing level = iota
	order
	wooden
)

func (s Score) at(l level) int64 { return [...]int64{int64(s.Missing), int64(s.Order), s.Wood}[l] }

// solution is a plan of one group.
type solution struct {
	score, bound Score
	chosen       []*pattern // of each stock of the group; nil: left alone
	missing      []int      // of each piece
}

// solve finds the plan of the group: level by level, never giving up what was won at the one before.
func (s *space) solve() solution {
	best := s.byHand()
	pool := make([][]*pattern, len(s.classes))
	var bounds [3]int64
	all := s.workMost
	for l := missing; l <= wooden; l++ {
		if best.score.at(l) == 0 || l == order && best.score.Missing == 0 {
			continue
		}
		s.workMost = all
		if l < wooden { // a level may take three quarters of what there is, the last all
			s.workMost = s.work + (all-s.work)*3/4
		}
		for i, p := range s.pool(best) {
			pool[i] = append(pool[i], p...)
		}
		bounds[l] = s.level(l, &best, pool)
	}
	best.bound = Score{Missing: int(bounds[missing]), Order: int(bounds[order]), Wood: bounds[wooden]}
	return best
}

// pool lists the patterns of a plan by class.
func (s *space) pool(sol solution) [][]*pattern {
	pool := make([][]*pattern, len(s.classes))
	for i := range s.classes {
		for _, k := range s.classes[i].stock {
			if p := sol.chosen[k]; p != nil {
				pool[i] = append(pool[i], p)
			}
		}
	}
	return pool
}

// mostRounds ends a level that the work would not.
const mostRounds = 20

// level lowers the plan at one level as far as it can and returns the proven bound of that level.
func (s *space) level(l level, best *solution, pool [][]*pattern) int64 {
	t := s.newMaster(l, *best, pool, 0)
	if !t.dual() {
		return 0
	}
	f := s.generate(t, l, best, pool)
	if !f.known {
		return 0
	}
	least := f.bound()
	if l == missing { // most often a careful plan makes as many pieces as the bound allows
		for try, part := range []int64{2, 3} {
			if least < best.score.at(l) {
				stop := s.upTo(part)
				if try == 0 {
					s.diveAll(l, best, least, pool)
				}
				s.improve(l, best, f, least, stop)
			}
			if least < best.score.at(l) {
				least = max(least, s.finish(l, best, f))
			}
		}
	}
	for round := 0; least < best.score.at(l) && s.work < s.workMost && round < mostRounds; round++ {
		if l == wooden {
			least = s.closeWood(best, pool, f, least, t, round)
			continue
		}
		old, before := least, best.score
		least = s.close(l, best, f, least, t, round)
		if least >= best.score.at(l) || best.score != before {
			continue
		}
		part := int64(min(2+round, 3))
		if least == old { // neither more is proven nor was a plan guessed: look near it with all that is left
			part = 1
		}
		if l == order && round == 0 {
			s.diveOpen(l, best, f, t, pool)
		}
		s.improve(l, best, f, least, s.upTo(part))
	}
	return min(least, best.score.at(l))
}

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
