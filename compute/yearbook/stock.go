package yearbook

import (
	"cmp"
	"math/big"
	"slices"

	"drytally/compute"
	"drytally/compute/footage"
	"drytally/compute/units"
)

// Line is one line of the stock: boards of a load that are counted by one rule. Made = Sold + Used + Left, for boards and for
// hundredths of board feet alike.
type Line struct {
	Load   string // empty: of no load
	Sum    bool   // of all loads
	InKiln bool
	Kept   string
	Rule   compute.FootageRule
	Boards Count
	Feet   Hundredths
	// Unsized is how many of the boards made have no footage: a size is missing, or they have no number.
	Unsized int
	// The footage sold, or used, holds a share of the load for boards gone by the piece: their own is not known.
	AboutSold, AboutUsed bool
}

// Group is what is left of one wood of one load: the stock list.
type Group struct {
	Load, Species string
	Kept          string
	InKiln        bool
	Boards        []string        // in the order of their numbers
	From, To      [3]units.Length // thickness, width, length: least and largest; 0 where no size is written
	Unsized       bool            // a size of some of them is missing
	ByPiece       int             // so many of the load's boards with a number went without it being written; on its last group
	Left          int             // boards of the load that are left, with a number or without, where ByPiece is given; else 0
	Loose         int             // boards without a number; then Boards is empty
}

// Count is boards, parted by what became of them.
type Count struct{ Made, Sold, Used, Left int }

// Hundredths is hundredths of a board foot, parted alike.
type Hundredths struct{ Made, Sold, Used, Left int64 }

func (c Count) add(d Count) Count {
	return Count{c.Made + d.Made, c.Sold + d.Sold, c.Used + d.Used, c.Left + d.Left}
}

func (c Hundredths) add(d Hundredths) Hundredths {
	return Hundredths{c.Made + d.Made, c.Sold + d.Sold, c.Used + d.Used, c.Left + d.Left}
}

// pile is the stock of one load in the making.
type pile struct {
	load            int // -1: none
	boards          []*board
	loose           int // boards without a number
	looseSold       int
	looseUsed       int
	lotSold, lotUse int // of the boards with a number, gone by the piece
	left            int // boards with a number that no sale names
	feet            map[compute.FootageRule]*parts
}

// parts is the exact footage of a load by one rule.
type parts struct {
	made, sold, used, left footage.Feet // left: of boards that no sale names; lots are taken from it
	boards                 Count        // boards by number
	unsized                int
}

// piles lists the stock load by load, boards of no load last.
func (j *join) piles() []*pile {
	all := make([]*pile, len(j.loads)+1)
	for i := range all {
		all[i] = &pile{load: i, feet: map[compute.FootageRule]*parts{}}
	}
	all[len(j.loads)].load = -1
	for _, b := range j.boards {
		if b.gone {
			continue
		}
		p := all[len(j.loads)]
		if b.key.load >= 0 {
			p = all[b.key.load]
		}
		p.boards = append(p.boards, b)
		if b.Fate == Left {
			p.left++
		}
	}
	for i, l := range j.loads {
		p := all[i]
		p.loose = max(0, l.Boards-len(p.boards))
		l.Listed = len(p.boards)
		l.N = p.loose + l.Listed
	}
	return all
}

// settleLots takes boards sold by the piece from what is left of their load: boards without a number first, since what they
// are is not known either way. More than are left can't have gone.
func (j *join) settleLots() {
	piles := j.piles()
	for _, l := range j.lots {
		p := piles[l.load]
		if p.loose == 0 && len(p.boards) == 0 {
			p.loose = l.pieces // how many the load held was never written: as many as went
			j.loads[l.load].N = l.pieces
			j.loads[l.load].Boards = l.pieces
		}
		room := p.loose - p.looseSold - p.looseUsed
		there := room + p.left - p.lotSold - p.lotUse
		n := min(l.pieces, there)
		if n < l.pieces {
			j.say("S005", l.row.Origin.At("pieces"), "", "check the number of pieces, and how many boards the load holds", "sale %q takes %d pieces of load %q, of which %d were left; %d were counted",
				l.row.ID, l.pieces, j.loads[l.load].Name, there, n)
		}
		loose := min(n, room)
		if l.of.OwnUse != "" {
			p.looseUsed, p.lotUse = p.looseUsed+loose, p.lotUse+n-loose
		} else {
			p.looseSold, p.lotSold = p.looseSold+loose, p.lotSold+n-loose
		}
		l.of.Pieces += n
		l.of.Unsized += loose
		l.of.About = l.of.About || n > loose
		if name := j.loads[l.load].Name; n > 0 && !slices.Contains(l.of.Loads, name) {
			l.of.Loads = append(l.of.Loads, name)
		}
		j.shareOut(l.of, p, n-loose)
	}
	j.sums(piles)
	j.list(piles)
}

// list makes the stock list.
func (j *join) list(piles []*pile) {
	for _, p := range piles {
		start := Group{}
		if p.load >= 0 {
			l := j.loads[p.load]
			start = Group{Load: l.Name, Kept: l.Kept, InKiln: l.inKiln()}
		}
		first := len(j.book.Stock)
		for _, b := range p.boards {
			if b.Fate != Left {
				continue
			}
			n := len(j.book.Stock)
			if n == first || j.book.Stock[n-1].Species != b.Species {
				g := start
				g.Species = b.Species
				j.book.Stock = append(j.book.Stock, g)
				n++
			}
			j.book.Stock[n-1].add(b)
		}
		for i := first; i < len(j.book.Stock); i++ {
			slices.SortFunc(j.book.Stock[i].Boards, compute.CompareIDs)
		}
		if n := len(j.book.Stock); n > first {
			if g := &j.book.Stock[n-1]; p.lotSold+p.lotUse > 0 {
				g.ByPiece = p.lotSold + p.lotUse
				g.Left = p.loose - p.looseSold - p.looseUsed - g.ByPiece
				for _, other := range j.book.Stock[first:] {
					g.Left += len(other.Boards)
				}
			}
		}
		if n := p.loose - p.looseSold - p.looseUsed; n > 0 {
			g := start
			g.Loose = n
			j.book.Stock = append(j.book.Stock, g)
		}
	}
}

func (g *Group) add(b *board) {
	g.Boards = append(g.Boards, b.ID)
	for k, size := range []units.Length{b.Thickness, b.Width, b.Length} {
		if size == 0 {
			g.Unsized = true
			continue
		}
		if g.From[k] == 0 || size < g.From[k] {
			g.From[k] = size
		}
		g.To[k] = max(g.To[k], size)
	}
}

// shareOut gives a sale its share of the footage of a load's boards that no sale names.
func (j *join) shareOut(a *account, p *pile, n int) {
	if n == 0 {
		return
	}
	for _, b := range p.boards {
		if b.Fate == Left && b.Footage.Known {
			a.feet[b.Footage.Rule] = a.feet[b.Footage.Rule].Add(b.feet.Part(n, p.left))
		}
	}
}

// sum adds the boards of a pile up by the rule that counts them, and to the sales they went to.
func (p *pile) sum() {
	for _, b := range p.boards {
		rule := b.Footage.Rule
		q := p.feet[rule]
		if q == nil {
			q = &parts{}
			p.feet[rule] = q
		}
		q.boards.Made++
		if !b.Footage.Known {
			q.unsized++
		}
		q.made = q.made.Add(b.feet)
		switch b.Fate {
		case Sold:
			q.boards.Sold++
			q.sold = q.sold.Add(b.feet)
		case UsedByMill:
			q.boards.Used++
			q.used = q.used.Add(b.feet)
		default:
			q.boards.Left++
			q.left = q.left.Add(b.feet)
		}
		switch {
		case b.of == nil:
		case b.Footage.Known:
			b.of.feet[rule] = b.of.feet[rule].Add(b.feet)
		default:
			b.of.Unsized++
		}
	}
}

// sums makes the lines of the stock.
func (j *join) sums(piles []*pile) {
	for _, p := range piles {
		p.sum()
		if p.loose > 0 && len(p.feet) == 0 {
			p.feet[j.ruleOf(p.load)] = &parts{}
		}
		first := true
		sold, used, left := p.lotSold, p.lotUse, p.left
		for _, rule := range Rules {
			q := p.feet[rule]
			if q == nil {
				continue
			}
			line := Line{Rule: rule, Boards: q.boards, Unsized: q.unsized, AboutSold: p.lotSold > 0 && q.boards.Left > 0, AboutUsed: p.lotUse > 0 && q.boards.Left > 0}
			if p.load >= 0 {
				l := j.loads[p.load]
				line.Load, line.InKiln, line.Kept = l.Name, l.inKiln(), l.Kept
			}
			// Boards gone by the piece are parted among the rules in the order of the rules; one load seldom has two.
			s := min(sold, q.boards.Left)
			u := min(used, q.boards.Left-s)
			sold, used = sold-s, used-u
			line.Boards.Sold, line.Boards.Used, line.Boards.Left = line.Boards.Sold+s, line.Boards.Used+u, line.Boards.Left-s-u
			if left > 0 {
				q.sold, q.used = q.sold.Add(q.left.Part(p.lotSold, left)), q.used.Add(q.left.Part(p.lotUse, left))
				q.left = q.left.Part(left-p.lotSold-p.lotUse, left)
			}
			if first { // boards without a number have no footage; they stand on the load's first line
				line.Boards = line.Boards.add(Count{p.loose, p.looseSold, p.looseUsed, p.loose - p.looseSold - p.looseUsed})
				line.Unsized += p.loose
				first = false
			}
			line.Feet = rounded(q)
			j.book.Lines = append(j.book.Lines, line)
		}
	}
}

// inKiln reports whether the load went in and has not come out.
func (l *load) inKiln() bool { return !l.DateIn.IsZero() && l.DateOut.IsZero() && !l.Dry() }

// ruleOf gives the rule that counts a load of which no board is known: that of the cuts of its week, else volume.
func (j *join) ruleOf(load int) compute.FootageRule {
	for w := range j.weeks {
		for _, c := range j.weeks[w].Cuts {
			if load >= 0 && compute.IDKey(c.Cut.Load) == j.loads[load].key {
				return c.Green.Rule
			}
		}
	}
	return compute.VolumeMeasure
}

// rounded writes exact footage in hundredths so that the parts add up to the whole. The whole, what was sold and what was used are
// rounded once, as on the papers of the sales, and left is the difference. Where nothing is left, the parts are rounded down and
// what is then missing goes to those that lost most.
func rounded(q *parts) Hundredths {
	h := Hundredths{Made: q.made.Hundredths(), Sold: q.sold.Hundredths(), Used: q.used.Hundredths()}
	if h.Left = h.Made - h.Sold - h.Used; h.Left >= 0 && q.left.Rat().Sign() > 0 {
		return h
	}
	h.Left = 0
	type share struct {
		to   *int64
		rest *big.Rat
	}
	shares := []share{{to: &h.Sold}, {to: &h.Used}, {to: &h.Left}}
	missing := h.Made
	for i, f := range []footage.Feet{q.sold, q.used, q.left} {
		exact := f.Rat()
		exact.Mul(exact, big.NewRat(100, 1))
		whole := new(big.Int).Quo(exact.Num(), exact.Denom())
		*shares[i].to = whole.Int64()
		shares[i].rest = exact.Sub(exact, new(big.Rat).SetInt(whole))
		missing -= whole.Int64()
	}
	slices.SortStableFunc(shares, func(a, b share) int { return b.rest.Cmp(a.rest) })
	for i := range missing {
		*shares[i].to++
	}
	return h
}

// sumStock sums the lines by rule, lists loads and boards, and closes the sales.
func (j *join) sumStock() {
	b := j.book
	for _, line := range b.Lines {
		b.All.Boards = b.All.Boards.add(line.Boards)
		b.All.Unsized += line.Unsized
		i := slices.IndexFunc(b.Totals, func(t Line) bool { return t.Rule == line.Rule })
		if i < 0 {
			i = len(b.Totals)
			b.Totals = append(b.Totals, Line{Rule: line.Rule, Sum: true})
		}
		t := &b.Totals[i]
		t.Boards, t.Feet, t.Unsized = t.Boards.add(line.Boards), t.Feet.add(line.Feet), t.Unsized+line.Unsized
		t.AboutSold, t.AboutUsed = t.AboutSold || line.AboutSold, t.AboutUsed || line.AboutUsed
	}
	slices.SortStableFunc(b.Totals, func(x, y Line) int { return cmp.Compare(slices.Index(Rules, x.Rule), slices.Index(Rules, y.Rule)) })
	for at := range j.loads {
		for _, board := range j.boards {
			if board.key.load == at && !board.gone {
				b.Boards = append(b.Boards, board.Board)
			}
		}
	}
	for _, board := range j.boards {
		if board.key.load < 0 && !board.gone {
			b.Boards = append(b.Boards, board.Board)
		}
	}
	for _, l := range j.loads {
		l.InKiln = l.inKiln()
		if !l.DateIn.IsZero() && l.DateOut.After(l.DateIn) {
			l.Days = int(day(l.DateOut).Sub(day(l.DateIn)).Hours() / 24)
		}
		l.Thickness = j.thicknessOf(l)
		b.Loads = append(b.Loads, l.Load)
	}
	j.sortSales()
}
