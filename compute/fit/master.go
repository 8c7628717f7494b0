package fit

import (
	"math"
	"slices"
)

// proof is the best bound found at a level and the prices that give it, in parts of a unit.
type proof struct {
	least   int64 // L: no plan comes to less, in parts of a unit
	pi      []int64
	gains   []int64  // of each class: the most one clear length can win at these prices
	caps    [2]int64 // prices of the caps
	perWood int64
	known   bool
}

// unit is the whole number that stands for 1 in prices.
const unit = 1 << 16

func (f proof) bound() int64 {
	if !f.known {
		return 0
	}
	return wholeUnits(f.least)
}

// wholeUnits rounds a bound in parts of a unit up; nothing comes to less than 0.
func wholeUnits(least int64) int64 { return (max(0, least) + unit - 1) / unit }

// master is the linear program of the group at a level: rows of pieces, two caps, and classes.
type master struct {
	*program
	s      *space
	of     [][]int32 // class -> its pattern columns
	z      []int32   // piece -> the column of its missing
	demand []int     // still wanted, as the right-hand side says
}

// newMaster writes the linear program. The caps bind at the levels before l. soft above 0 lets them go and charges for missing
// pieces instead, so that there is always a solution to steer by: the more, the less their order counts beside their number.
func (s *space) newMaster(l level, sol solution, pool [][]*pattern, soft float64) *master {
	n, m := len(s.id), s.classRow(len(s.classes))
	rhs, sign := make([]float64, m), make([]float64, m)
	t := &master{s: s, demand: slices.Clone(s.d), of: make([][]int32, len(s.classes))}
	for i, d := range s.d {
		if soft > 0 && l == wooden {
			t.demand[i] -= sol.missing[i] // what is missing at this level stays so
		}
		rhs[i], sign[i] = float64(t.demand[i]), -1
		rhs[n] += float64(d)
		rhs[n+1] += float64(d * s.score[i])
	}
	sign[n], sign[n+1] = 1, 1
	if soft == 0 && l > missing {
		rhs[n] = float64(sol.score.Missing)
	}
	if soft == 0 && l > order {
		rhs[n+1] = float64(sol.score.Order)
	}
	dearest := 1.0
	for i, c := range s.classes {
		rhs[s.classRow(i)], sign[s.classRow(i)] = float64(len(c.stock)), 1
		dearest = max(dearest, float64(s.cost(&s.classes[i], false, c.total)))
	}
	t.program = newProgram(rhs, sign, &s.work)
	for i := range s.id {
		z := column{at: []int32{int32(i), int32(n), int32(n + 1)}, by: []float64{1, 1, float64(s.score[i])}}
		switch {
		case soft > 0 && l < wooden: // the order is looked at too, whatever the level
			z.cost = soft*float64(s.score[0]) + float64(s.score[i])
		case soft > 0:
			z.cost = 2 * dearest * (1 + float64(s.score[i])/float64(2*s.score[0]))
		default:
			z.cost = float64(s.misses(l, i))
		}
		t.z = append(t.z, int32(t.add(z)))
	}
	for i, all := range pool {
		for _, p := range all {
			t.put(i, p, l == wooden)
		}
	}
	return t
}

// classRow is the row of a class in the linear program: behind those of the pieces and of the two caps.
func (s *space) classRow(class int) int { return len(s.id) + 2 + class }

// misses is what a missing piece counts at a level.
func (s *space) misses(l level, i int) int64 { return [...]int64{1, int64(s.score[i]), 0}[l] }

// missed is what it counts in parts of a unit, with the prices of the caps.
func (s *space) missed(l level, caps [2]int64, i int) int64 {
	return caps[0] + caps[1]*int64(s.score[i]) + unit*s.misses(l, i)
}

// put adds the column of a pattern.
func (t *master) put(class int, p *pattern, withWood bool) {
	c := column{pat: p}
	for i, a := range p.made {
		if a > 0 {
			c.at, c.by = append(c.at, int32(i)), append(c.by, float64(a))
		}
	}
	c.at, c.by = append(c.at, int32(t.s.classRow(class))), append(c.by, 1)
	if withWood {
		c.cost = float64(p.cost)
	}
	t.of[class] = append(t.of[class], int32(t.add(c)))
	t.s.work += 200
}

// pays reports whether a pattern of a class that wins so much at the prices of the rows would lower the cost.
func (t *master) pays(class int, gain int64) bool {
	const more = 1e-6 // than rounding does
	return float64(gain)/unit > -t.y[t.s.classRow(class)]+more
}

// generate solves the linear program by adding, round by round, the best pattern of every class for the prices it gives.
func (s *space) generate(t *master, l level, best *solution, pool [][]*pattern) proof {
	var f proof
	stop := s.upTo(2)
	for s.work < stop {
		if !t.primal() {
			break
		}
		t.prices()
		g, offers := s.bound(t, l, *best)
		if !f.known || g.least > f.least {
			f = g
		}
		if f.bound() >= best.score.at(l) || float64(f.least) >= enough(l, t.objective()) {
			break
		}
		added := false
		for i, o := range offers {
			if o.pat != nil {
				pool[i] = append(pool[i], o.pat)
				t.put(i, o.pat, l == wooden)
				added = true
			}
		}
		if !added {
			break
		}
	}
	return f
}

// enough says which bound is good enough to go on with, the linear program standing at v. For the number of pieces rounding up does the
// rest; at the other levels every part of a unit that the bound lies higher leaves fewer patterns to look at.
func enough(l level, v float64) float64 {
	if l == missing {
		return (math.Ceil(v-1e-6)-1)*unit + 1
	}
	return (v - 0.1) * unit
}

// bound computes, in whole numbers, what no plan can be below, from the prices of the linear program. With it come the patterns that
// would lower the cost.
//
// For any prices p >= 0 of the pieces and l1, l2 >= 0 of the caps Z1, Z2, a plan comes to at least
//
//	sum p d - l1 Z1 - l2 Z2 + sum d min(0, a + l1 + l2 score - p) - sum over clear lengths of the most a pattern can win
//
// where a is what one missing piece counts and a pattern wins p times its pieces less its wood.
func (s *space) bound(t *master, l level, sol solution) (proof, []offer) {
	f := s.atPrices(t, l, sol)
	offers := s.price(f.pi, s.d, f.perWood, nil, t.pays)
	for i, o := range offers {
		f.gains[i] = o.gain
		f.least -= int64(len(s.classes[i].stock)) * o.gain
	}
	return f, offers
}

// atPrices rounds the prices of the linear program to whole parts of a unit and computes the bound but for its last sum.
func (s *space) atPrices(t *master, l level, sol solution) proof {
	n := len(s.id)
	whole := func(x float64) int64 { return max(0, int64(math.Round(x*unit))) }
	f := proof{pi: make([]int64, n), gains: make([]int64, len(s.classes)), known: true}
	l1, l2 := whole(-t.y[n]), whole(-t.y[n+1])
	if l == missing {
		l1 = 0
	}
	if l <= order {
		l2 = 0
	}
	f.caps = [2]int64{l1, l2}
	f.least = -l1*int64(sol.score.Missing) - l2*int64(sol.score.Order)
	for i := range f.pi {
		f.pi[i] = whole(t.y[i])
		f.least += int64(s.d[i]) * (f.pi[i] + min(0, s.missed(l, f.caps, i)-f.pi[i]))
	}
	if l == wooden {
		f.perWood = unit
	}
	return f
}
