package fit

import (
	"iter"

	"drytally/compute/units"
)

// Kind is what becomes of a part of a board.
type Kind uint8

// The kinds.
const (
	Divided Kind = iota // cut on, into Parts
	Made                // a wanted piece
	Kerf                // sawdust
	Trim                // lost: an end trimmed, an edge straightened, a rest too small for the stack
	Defect              // bad wood cut out
	Rest                // a rest that goes back to the stack, or a board that is left alone
)

// String gives the word printed.
func (k Kind) String() string {
	return [...]string{"divided", "piece", "kerf", "trim", "defect", "leftover"}[k]
}

// Part is a rectangle of a board. A divided part is exactly as long and as wide as its parts together: with Rip false they lie
// one after the other along the board and have its width, with Rip true side by side across it and have its length.
type Part struct {
	Kind          Kind
	Along, Across units.Length // from the board's first end and first edge
	Length, Width units.Length
	Rip           bool
	Parts         []Part
	Piece         int    // Made: index into the pieces given
	Name          string // Rest: the name for the inventory
}

// Leaves yields the parts that are not divided, in the order they are cut.
func (p Part) Leaves() iter.Seq[Part] {
	return func(yield func(Part) bool) { p.leaves(yield) }
}

func (p Part) leaves(yield func(Part) bool) bool {
	if p.Kind != Divided {
		return yield(p)
	}
	for _, q := range p.Parts {
		if !q.leaves(yield) {
			return false
		}
	}
	return true
}

// Sheet is one board with its cuts.
type Sheet struct {
	Board Board
	Cut   bool  // false: the board is left alone, and Whole is a Rest
	Whole Part  // the board, divided
	Wood  int64 // hundredths of a board foot used up
}

// lay writes out the cuts of every board.
func (p *Plan) lay(boards []Board, pieces []Piece, lengths []stock, chosen []*pattern, ids [][]int, rules Rules) {
	at := 0
	names := newNames(boards, rules)
	for i, b := range boards {
		y := layer{rules: rules, board: b, pieces: pieces, names: names}
		sheet := Sheet{Board: b, Whole: Part{Length: b.Length, Width: b.Width}}
		first := at
		for ; at < len(lengths) && lengths[at].board == i; at++ {
			if c := chosen[at]; c != nil {
				sheet.Cut = true
				sheet.Wood += c.cost / b.times()
			}
		}
		if sheet.Cut {
			y.boardOf(&sheet.Whole, lengths[first:at], chosen[first:at], ids[first:at])
		} else {
			sheet.Whole.Kind, sheet.Whole.Name = Rest, b.ID
			if !b.HeldBack {
				y.left = append(y.left, Leftover{Name: b.ID, Board: b.ID, Length: b.Length, Width: b.Width, Thickness: b.Thickness, Whole: true})
			}
		}
		p.Boards = append(p.Boards, sheet)
		p.Leftovers = append(p.Leftovers, y.left...)
	}
}

// layer writes out the cuts of one board.
type layer struct {
	rules  Rules
	board  Board
	pieces []Piece
	names  *names
	left   []Leftover
}

// put adds a part behind what is there already and returns it.
func (y *layer) put(in *Part, k Kind, size units.Length) *Part {
	p := Part{Kind: k, Along: in.Along, Across: in.Across, Length: in.Length, Width: in.Width}
	done := units.Length(0)
	for _, q := range in.Parts {
		if in.Rip {
			done += q.Width
		} else {
			done += q.Length
		}
	}
	if in.Rip {
		p.Across, p.Width = in.Across+done, size
	} else {
		p.Along, p.Length = in.Along+done, size
	}
	in.Parts = append(in.Parts, p)
	return &in.Parts[len(in.Parts)-1]
}

// some adds a part unless it is of no size.
func (y *layer) some(in *Part, k Kind, size units.Length) {
	if size > 0 {
		y.put(in, k, size)
	}
}

// rest adds a rest: to the stack when it is big enough, else trim.
func (y *layer) rest(in *Part, size units.Length) {
	if size <= 0 {
		return
	}
	p := y.put(in, Trim, size)
	if p.Length >= y.rules.LeftLength && p.Width >= y.rules.LeftWidth {
		p.Kind, p.Name = Rest, y.names.next(y.board.ID)
		y.left = append(y.left, Leftover{Name: p.Name, Board: y.board.ID, Length: p.Length, Width: p.Width, Thickness: y.board.Thickness})
	}
}

// boardOf lays the board's clear lengths and what is lost between them.
func (y *layer) boardOf(whole *Part, lengths []stock, chosen []*pattern, ids [][]int) {
	kerf := y.rules.CrossKerf
	at := units.Length(0)
	lose := func(to units.Length) {
		all := to - at
		var before, behind units.Length
		if at > 0 {
			before = min(kerf, all)
		}
		if to < y.board.Length {
			behind = min(kerf, all-before)
		}
		y.some(whole, Kerf, before)
		y.some(whole, Defect, all-before-behind)
		y.some(whole, Kerf, behind)
		at = to
	}
	for i, c := range lengths {
		if c.from > at {
			lose(c.from)
		}
		switch p := chosen[i]; {
		case p == nil:
			y.rest(whole, c.to-c.from)
		case p.rip:
			y.ripped(y.put(whole, Divided, c.to-c.from), c, p, ids[i])
		default:
			y.crosscut(whole, c, p, ids[i])
		}
		at = c.to
	}
	if at < y.board.Length {
		lose(y.board.Length)
	}
}

// lead trims the first end of a clear length.
func (y *layer) lead(in *Part, c stock) {
	if c.lead > 0 {
		y.some(in, Trim, c.lead-y.rules.CrossKerf)
		y.some(in, Kerf, min(c.lead, y.rules.CrossKerf))
	}
}

// apart adds the kerf behind a part when anything follows, and returns what is left.
func (y *layer) apart(in *Part, kerf, left units.Length) units.Length {
	kerf = min(kerf, left)
	y.some(in, Kerf, kerf)
	return left - kerf
}

// crosscut lays sections along the board and strips across each.
func (y *layer) crosscut(in *Part, c stock, p *pattern, id []int) {
	y.lead(in, c)
	left := c.to - c.from - c.lead
	for _, r := range p.rows {
		long := y.longest(r, id)
		s := y.put(in, Divided, long)
		s.Rip = true
		edge := y.board.edge(long)
		y.some(s, Trim, edge)
		across := s.Width - edge
		for _, i := range r.items {
			w := y.pieces[id[i]].Width
			if l := y.pieces[id[i]].Length; l == long {
				y.put(s, Made, w).Piece = id[i]
			} else {
				strip := y.put(s, Divided, w)
				y.put(strip, Made, l).Piece = id[i]
				y.rest(strip, y.apart(strip, y.rules.CrossKerf, long-l))
			}
			across = y.apart(s, y.rules.RipKerf, across-w)
		}
		y.rest(s, across)
		left = y.apart(in, y.rules.CrossKerf, left-long)
	}
	y.rest(in, left)
}

// ripped lays strips over the whole clear length and pieces along each.
func (y *layer) ripped(in *Part, c stock, p *pattern, id []int) {
	in.Rip = true
	edge := y.board.edge(in.Length)
	y.some(in, Trim, edge)
	across := in.Width - edge
	for _, r := range p.rows {
		wide := y.widest(r, id)
		s := y.put(in, Divided, wide)
		y.lead(s, c)
		left := c.to - c.from - c.lead
		for _, i := range r.items {
			l := y.pieces[id[i]].Length
			if w := y.pieces[id[i]].Width; w == wide {
				y.put(s, Made, l).Piece = id[i]
			} else {
				part := y.put(s, Divided, l)
				part.Rip = true
				y.put(part, Made, w).Piece = id[i]
				y.rest(part, y.apart(part, y.rules.RipKerf, wide-w))
			}
			left = y.apart(s, y.rules.CrossKerf, left-l)
		}
		y.rest(s, left)
		across = y.apart(in, y.rules.RipKerf, across-wide)
	}
	y.rest(in, across)
}

func (y *layer) longest(r row, id []int) units.Length {
	var out units.Length
	for _, i := range r.items {
		out = max(out, y.pieces[id[i]].Length)
	}
	return out
}

func (y *layer) widest(r row, id []int) units.Length {
	var out units.Length
	for _, i := range r.items {
		out = max(out, y.pieces[id[i]].Width)
	}
	return out
}
