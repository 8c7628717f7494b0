package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"drytally/compute/units"
)

// space is one group's task, written for computing: pieces and sizes by number, clear lengths that are alike as one class.
type space struct {
	id             []int // of each piece: its place in the list given
	w, l           []units.Length
	d              []int // wanted
	score          []int // what a missing piece counts at the second level
	lens, wids     []units.Length
	lenOf, widOf   []int // of each piece: index into lens, wids
	along, across  ruler // where crosscuts and rip cuts can lie
	classes        []class
	sets           []set
	of             []int // stock of the group: index into the list of all
	rules          Rules
	rounded        units.Length
	work, workMost int64
	chance         uint64 // where the row of chances stands: the same in every run
	tables         tables
}

// class is clear lengths of one size that can be cut for the same pieces.
type class struct {
	width, usable, lead, total units.Length
	thick                      units.Length
	crook, of                  units.Length // the crook of the board and its length; both 0 when it is straight
	edge                       units.Length // lost to straightening when ripped first
	times                      int64        // what its wood counts: 1, or 2 of an unsure board
	set                        int
	stock                      []int   // positions in space.of
	along, across              int     // the last mark of each ruler that fits, ripped first
	strips                     []int   // for each of lens: the last mark across that fits a section of that length
	costCross, costRip         []int64 // wood used up when cut to a mark of along, of across
}

// rowEnd is the last mark that the rows of a pattern may reach, itemEnd the last that the items of a row of a size may.
func (c *class) rowEnd(rip bool) int {
	if rip {
		return c.across
	}
	return c.along
}

func (c *class) itemEnd(rip bool, size int) int {
	if rip {
		return c.along
	}
	return c.strips[size]
}

func (c *class) costs(rip bool) []int64 {
	if rip {
		return c.costRip
	}
	return c.costCross
}

// set is the pieces that some classes can be cut for.
type set struct {
	classes []int
	axes    []*axis // crosscut first, ripped first
}

// pattern is one way to cut a clear length.
type pattern struct {
	rip  bool
	rows []row // sections, longest first, or strips, widest first
	made []int // of each piece of the group
	cost int64 // wood used up
}

// row is a section or a strip.
type row struct {
	size  int   // index into lens or wids
	items []int // pieces: strips across a section, or pieces along a strip
}

func newSpace(g group, boards []Board, pieces []Piece, lengths []stock, r Rules) *space {
	s := &space{of: g.lengths, rules: r}
	for _, i := range g.pieces {
		p := pieces[i]
		s.id, s.w, s.l, s.d = append(s.id, i), append(s.w, p.Width), append(s.l, p.Length), append(s.d, p.Count)
		s.score = append(s.score, len(pieces)-i)
		s.lens, s.wids = append(s.lens, p.Length), append(s.wids, p.Width)
	}
	distinct := func(all *[]units.Length, each []units.Length) (of []int) {
		slices.Sort(*all)
		*all = slices.Compact(*all)
		for _, x := range each {
			i, _ := slices.BinarySearch(*all, x)
			of = append(of, i)
		}
		return of
	}
	s.lenOf, s.widOf = distinct(&s.lens, s.l), distinct(&s.wids, s.w)
	var longest, widest units.Length
	for _, k := range g.lengths {
		longest, widest = max(longest, lengths[k].usable()), max(widest, boards[lengths[k].board].Width)
	}
	s.along = newRuler(s.lens, r.CrossKerf, longest)
	s.across = newRuler(s.wids, r.RipKerf, widest)
	s.rounded = max(s.along.rounded, s.across.rounded)
	s.classify(boards, pieces, lengths)
	return s
}

// classify sorts the stock into classes and sets, by their sizes.
func (s *space) classify(boards []Board, pieces []Piece, lengths []stock) {
	sets := map[string]int{}
	classes := map[string]int{}
	for k, at := range s.of {
		c := lengths[at]
		b := boards[c.board]
		can := make([]bool, len(s.id))
		for i, p := range s.id {
			can[i] = b.canMake(c, pieces[p], s.rules)
		}
		key := fmt.Sprint(can)
		if _, ok := sets[key]; !ok {
			sets[key] = len(s.sets)
			s.sets = append(s.sets, s.newSet(can))
		}
		n := class{width: b.Width, usable: c.usable(), lead: c.lead, total: c.to - c.from, thick: b.Thickness, set: sets[key], edge: b.edge(c.to - c.from), times: b.times()}
		if b.Crook > 0 {
			n.crook, n.of = b.Crook, b.Length
		}
		key = fmt.Sprint(n.width, n.usable, n.lead, n.total, n.thick, n.set, n.crook, n.of, n.times)
		if _, ok := classes[key]; !ok {
			classes[key] = len(s.classes)
			s.classes = append(s.classes, n)
		}
		q := &s.classes[classes[key]]
		q.stock = append(q.stock, k)
	}
	// The order of the classes rests on sizes alone, so that the ids do not steer the plan.
	slices.SortStableFunc(s.classes, func(x, y class) int {
		return cmp.Or(cmp.Compare(x.width, y.width), cmp.Compare(x.usable, y.usable), cmp.Compare(x.lead, y.lead), cmp.Compare(x.total, y.total),
			cmp.Compare(x.thick, y.thick), cmp.Compare(x.crook, y.crook), cmp.Compare(x.of, y.of), cmp.Compare(x.times, y.times), slices.Compare(s.sets[x.set].axes[0].order, s.sets[y.set].axes[0].order))
	})
	for i := range s.classes {
		c := &s.classes[i]
		c.along, c.across = s.along.last(c.usable), s.across.last(max(0, c.width-c.edge))
		for _, l := range s.lens {
			c.strips = append(c.strips, s.across.last(max(0, c.width-Board{Crook: c.crook, Length: c.of}.edge(l))))
		}
		c.costCross, c.costRip = make([]int64, c.along+1), make([]int64, c.across+1)
		for p := 1; p <= c.along; p++ {
			c.costCross[p] = s.cost(c, false, s.along.marks[p])
		}
		for p := 1; p <= c.across; p++ {
			c.costRip[p] = s.cost(c, true, s.across.marks[p])
		}
	}
	s.group()
}

// group sorts the classes into those that a set's tables are computed for together.
func (s *space) group() {
	for k := range s.sets {
		s.sets[k].classes = nil
	}
	for i, c := range s.classes {
		s.sets[c.set].classes = append(s.sets[c.set].classes, i)
	}
	for _, q := range s.sets {
		q.axes[0].groups = together(q.classes, func(i, j int) int {
			x, y := &s.classes[i], &s.classes[j]
			return cmp.Or(cmp.Compare(x.width, y.width), cmp.Compare(x.crook, y.crook), cmp.Compare(x.of, y.of))
		})
		q.axes[1].groups = together(q.classes, func(i, j int) int { return cmp.Compare(s.classes[i].usable, s.classes[j].usable) })
	}
}

// together groups what is equal, ascending.
func together(all []int, by func(x, y int) int) [][]int {
	all = slices.Clone(all)
	slices.SortStableFunc(all, by)
	var out [][]int
	for k, i := range all {
		if k == 0 || by(i, all[k-1]) != 0 {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

func (s *space) newSet(can []bool) set {
	cross := &axis{rows: &s.along, items: &s.across, itemOf: s.widOf}
	ripped := &axis{rip: true, rows: &s.across, items: &s.along, itemOf: s.lenOf}
	for _, a := range []*axis{cross, ripped} {
		for i, ok := range can {
			if ok {
				a.order = append(a.order, i)
			}
		}
		// Within one size of row the larger items come last.
		slices.SortStableFunc(a.order, func(x, y int) int {
			return cmp.Or(cmp.Compare(s.sizeOf(x, a.rip), s.sizeOf(y, a.rip)), cmp.Compare(a.itemOf[x], a.itemOf[y]))
		})
		for k, i := range a.order {
			if z := s.sizeOf(i, a.rip); k == 0 || z != a.sizes[len(a.sizes)-1] {
				a.sizes, a.upTo = append(a.sizes, z), append(a.upTo, 0)
			}
			a.upTo[len(a.upTo)-1] = k + 1
		}
	}
	return set{axes: []*axis{cross, ripped}}
}

// cost is the wood used up by a cut to a mark, x being the sum of the parts with their kerfs: up to there when the rest is big
// enough for the stack, else all of the clear length. Nothing cut uses nothing.
func (s *space) cost(c *class, rip bool, x units.Length) int64 {
	switch {
	case x == 0:
		return 0
	case rip && c.width-c.edge-x > 0 && c.width-c.edge-x >= s.rules.LeftWidth && c.total >= s.rules.LeftLength:
		return c.times * wood(c.thick, c.edge+x, c.total)
	case !rip && c.total-c.lead-x > 0 && c.total-c.lead-x >= s.rules.LeftLength && c.width >= s.rules.LeftWidth:
		return c.times * wood(c.thick, c.width, c.lead+x)
	}
	return c.times * wood(c.thick, c.width, c.total)
}

// times is how often the wood of the board counts.
func (b Board) times() int64 {
	if b.Unsure {
		return 2
	}
	return 1
}

// wood is a volume in hundredths of a board foot, 1.44 cubic inches, rounded up. Whole hundredths are not rounded up by an
// error of arithmetic: sizes in 64ths of an inch never lie closer above one than 1/(64 64 64 1.44).
func wood(t, w, l units.Length) int64 {
	return int64(math.Ceil(t.Inches()*w.Inches()*l.Inches()/1.44 - 1e-8))
}

// settle gives a pattern its rows' sizes, their order, the counts and the cost from its items. Empty rows are dropped.
func (s *space) settle(c *class, p *pattern) {
	p.made = make([]int, len(s.id))
	rows := p.rows[:0]
	x := units.Length(0)
	for _, r := range p.rows {
		if len(r.items) == 0 {
			continue
		}
		r.size = 0
		for _, i := range r.items {
			p.made[i]++
			r.size = max(r.size, s.sizeOf(i, p.rip))
		}
		if p.rip {
			x += s.across.size[r.size]
			slices.SortStableFunc(r.items, func(a, b int) int { return cmp.Or(cmp.Compare(s.l[b], s.l[a]), cmp.Compare(a, b)) })
		} else {
			x += s.along.size[r.size]
			slices.SortStableFunc(r.items, func(a, b int) int { return cmp.Or(cmp.Compare(s.w[b], s.w[a]), cmp.Compare(a, b)) })
		}
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Or(cmp.Compare(b.size, a.size), slices.Compare(a.items, b.items)) })
	p.rows = rows
	p.cost = s.cost(c, p.rip, x)
}

// stocks lists the stock of each class.
func (s *space) stocks() [][]int {
	out := make([][]int, len(s.classes))
	for i, c := range s.classes {
		out[i] = slices.Clone(c.stock)
	}
	return out
}

// sizeOf gives the size of row a piece asks for: its length, or its width when ripping.
func (s *space) sizeOf(i int, rip bool) int {
	if rip {
		return s.widOf[i]
	}
	return s.lenOf[i]
}
