package fit

import (
	"cmp"
	"math"
	"slices"

	"drytally/compute/units"
)

// stock is a clear length of a board: what lies between its ends and its defects.
type stock struct {
	board      int
	from, to   units.Length // on the board
	lead, tail units.Length // trimmed off before the first cut; not cut into by the last
}

// usable is what sections can be laid on.
func (c stock) usable() units.Length { return c.to - c.from - c.lead - c.tail }

// clearLengths splits every board at its defects, in order of board and place. A board that is held back has none.
func clearLengths(boards []Board, r Rules) []stock {
	var out []stock
	for i, b := range boards {
		if b.HeldBack {
			continue
		}
		at := units.Length(0)
		add := func(to units.Length) {
			if to <= at {
				return
			}
			c := stock{board: i, from: at, to: to, tail: max(0, r.EndTrim-(b.Length-to))}
			if trim := r.EndTrim - at; trim > 0 { // a defect can lie within the trim
				c.lead = max(trim, r.CrossKerf)
			}
			out = append(out, c)
		}
		for _, d := range b.lost(r) {
			add(d.From)
			at = d.To
		}
		add(b.Length)
	}
	return out
}

// Clear is the longest piece that can be cut from a board at all: its ends trimmed, its bad wood cut out. 0: none can.
func Clear(b Board, r Rules) units.Length {
	most := units.Length(0)
	for _, c := range clearLengths([]Board{b}, r) {
		most = max(most, c.usable())
	}
	return most
}

// lost lists what is cut out of a board, in order and apart from one another: every loss is at least a kerf long, and one at an
// end at least as long as the trim.
func (b Board) lost(r Rules) []Span {
	all := slices.Clone(b.Defects)
	if b.LoseStart > 0 {
		all = append(all, Span{0, b.LoseStart})
	}
	if b.LoseEnd > 0 {
		all = append(all, Span{b.Length - b.LoseEnd, b.Length})
	}
	for i := range all {
		d := &all[i]
		d.From, d.To = max(0, d.From), min(b.Length, d.To)
		least := r.CrossKerf
		if d.From == 0 || d.To == b.Length {
			least = max(least, r.EndTrim)
		}
		switch {
		case d.From >= d.To: // outside the board, or of no length
			d.From, d.To = 0, 0
		case d.To == b.Length:
			d.From = max(0, min(d.From, d.To-least))
		default:
			d.To = min(b.Length, max(d.To, d.From+least))
		}
	}
	slices.SortFunc(all, func(x, y Span) int { return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To)) })
	var out []Span
	for _, d := range all {
		switch n := len(out); {
		case d.From >= d.To:
		case n > 0 && d.From <= out[n-1].To:
			out[n-1].To = max(out[n-1].To, d.To)
		default:
			out = append(out, d)
		}
	}
	return out
}

// edgeStep is what a loss to straightening is rounded up to.
var edgeStep = units.Fraction(1, 64)

// edge is what straightening takes off the width of a part of the board: the crook times the square of the part's share of the
// length, rounded up. Source: arc of a circle; derived (see package plane).
func (b Board) edge(part units.Length) units.Length {
	if b.Crook == 0 {
		return 0
	}
	share := float64(part) / float64(b.Length)
	// A hair above a step by the arithmetic alone is that step.
	return units.Length(math.Ceil(float64(b.Crook)*share*share/float64(edgeStep)-1e-9)) * edgeStep
}

// canMake reports whether a clear length of the board can hold the piece at all.
func (b Board) canMake(c stock, p Piece, r Rules) bool {
	if b.HeldBack || b.Species != p.Species || slices.Contains(b.Deny, p.ID) {
		return false
	}
	if p.Length > c.usable() || p.Width+b.edge(p.Length) > b.Width {
		return false
	}
	for _, t := range b.Planed {
		if t.UpTo == 0 || p.Length <= t.UpTo {
			return t.Whole >= p.Thickness || t.Ripped >= p.Thickness && 2*p.Width+r.RipKerf <= b.Width
		}
	}
	return false
}

// canMake counts the boards that can be cut for a piece.
func canMake(boards []Board, lengths []stock, p Piece, r Rules) int {
	last, n := -1, 0
	for _, c := range lengths {
		if c.board != last && boards[c.board].canMake(c, p, r) {
			last = c.board
			n++
		}
	}
	return n
}

// group is a set of clear lengths and pieces that have nothing to do with the others.
type group struct {
	lengths, pieces []int
}

// apart splits the task into groups: wood of one species never meets that of another. Lengths and pieces that meet nothing are
// in no group.
func apart(boards []Board, pieces []Piece, lengths []stock, r Rules) []group {
	of := make([]int, len(pieces)) // piece -> group it belongs to, followed to its end
	for i := range of {
		of[i] = i
	}
	end := func(i int) int {
		for of[i] != i {
			i = of[i]
		}
		return i
	}
	first := make([]int, len(lengths))
	meets := make([]bool, len(pieces))
	for k, c := range lengths {
		first[k] = -1
		for i, p := range pieces {
			if !boards[c.board].canMake(c, p, r) {
				continue
			}
			meets[i] = true
			if first[k] < 0 {
				first[k] = i
				continue
			}
			x, y := end(first[k]), end(i)
			of[max(x, y)] = min(x, y)
		}
	}
	var out []group
	at := map[int]int{}
	for i := range pieces {
		if !meets[i] {
			continue
		}
		e := end(i)
		if _, ok := at[e]; !ok {
			at[e] = len(out)
			out = append(out, group{})
		}
		out[at[e]].pieces = append(out[at[e]].pieces, i)
	}
	for k := range lengths {
		if first[k] >= 0 {
			g := &out[at[end(first[k])]]
			g.lengths = append(g.lengths, k)
		}
	}
	return out
}
