// Package stack lays boards in courses on stickers in a kiln: what fits, what stays out, where each board lies, and how many
// stickers it takes. It knows sizes alone; what the boards weigh and how fast they dry is for others.
package stack

import (
	"cmp"
	"fmt"
	"slices"

	"drytally/compute/units"
)

// Kiln is the room a load is laid in. Length, Width and Height are inside measures, all above 0; the others are 0 or more.
type Kiln struct {
	Length, Width, Height units.Length
	Bolster               units.Length // from the floor to the underside of the first course
	Top                   units.Length // kept free above the stack, for top weight and baffle
	WallGap               units.Length // least room to each side wall, for the air
	EndGap                units.Length // least room to each end, and between two stacks
	BoardGap              units.Length // least room between two boards of a course
	Sticker               units.Length // thickness of the stickers; above 0
	Spacing               units.Length // most room between two stickers along the boards; 0: by thickness, see SpacingFor
}

// Given reports whether the inside measures are known.
func (k Kiln) Given() bool { return k.Length > 0 && k.Width > 0 && k.Height > 0 }

// Clear gives what is left for boards along, across and up, stickers between the courses included.
func (k Kiln) Clear() (along, across, up units.Length) {
	return k.Length - 2*k.EndGap, k.Width - 2*k.WallGap, k.Height - k.Bolster - k.Top
}

// Row is like boards. Sizes are above 0. Slow is higher for boards that dry more slowly: of boards of one length these lie
// below, so that what is dry first comes off the top.
type Row struct {
	Thickness, Width, Length units.Length
	Count                    int
	Slow                     float64
}

// Board is a board in its place. X is its left edge from the left wall; its front end lies flush with the stack's.
type Board struct {
	Row           int // index of the rows given
	X             units.Length
	Width, Length units.Length
}

// Course is one layer of boards of one thickness. Base is the height of its underside above the floor. The longest boards lie
// outside.
type Course struct {
	Base, Thickness   units.Length
	Longest, Shortest units.Length
	Boards            []Board
	Stickers          int          // on top of it
	Gap               units.Length // between its boards
	Sparse            bool         // too few boards to bear what lies above: it is filled up with pieces of its thickness
}

// Stack is one stack of courses, course 1 at the bottom. Start is its front end from the front wall.
type Stack struct {
	Start, Length, Width units.Length
	Side                 units.Length // from its sides to the walls
	Height               units.Length // from the floor to the stickers on top
	Courses              []Course
	Lines                []units.Length // where a line of stickers stands, from the front end of the stack; a bolster under each
	Spacing              units.Length   // most room between two lines that was asked for
	Widest               units.Length   // most room between two lines as they stand
	Stickers             int
	StickerLength        units.Length // of one: the stack's width
	Opening              units.Length // the heights of the sticker openings together
}

// Reason is why boards stay out. The zero value is "all placed".
type Reason uint8

// The reasons.
const (
	AllPlaced Reason = iota
	TooLong
	TooWide
	TooThick
	NoRoom
)

// String gives the words printed.
func (r Reason) String() string {
	return [...]string{"all placed", "longer than the kiln has room for", "wider than the kiln has room for", "thicker than the kiln has room for", "no room left"}[r]
}

// Fate is what became of the boards of a row: Placed and Out make up its count.
type Fate struct {
	Placed, Out int
	Why         Reason // of Out
}

// Plan is how a load lies.
type Plan struct {
	Stacks []Stack
	Fates  []Fate // one per row given
}

// Boards counts the boards placed and those left out.
func (p Plan) Boards() (placed, out int) {
	for _, f := range p.Fates {
		placed, out = placed+f.Placed, out+f.Out
	}
	return placed, out
}

// Stickers counts the stickers, and their length in all.
func (p Plan) Stickers() (n int, run units.Length) {
	for _, s := range p.Stacks {
		n += s.Stickers
		run += units.Length(s.Stickers) * s.StickerLength
	}
	return n, run
}

// mostPlaced keeps a kiln of odd measures from laying boards without end.
const mostPlaced = 50_000

// For lays the rows. Boards of one thickness make a course; no board lies on a shorter one; of boards of one length the slow
// ones lie below. When a stack is full, the next one stands behind it, as far as the kiln's length goes. The error names
// measures that leave no room.
//
// Source: long packs not on short, stickers as wide as the stack and one above the other, bolsters under them: OSHA 29 CFR
// 1910.265(c)(27); seen. One thickness to a course, ends on stickers: common practice, no source.
func For(k Kiln, rows []Row) (Plan, error) {
	along, across, up := k.Clear()
	switch {
	case !k.Given():
		return Plan{}, fmt.Errorf("the kiln's inside measures are not all above 0")
	case k.Sticker <= 0:
		return Plan{}, fmt.Errorf("the sticker thickness is not above 0")
	case along <= 0:
		return Plan{}, fmt.Errorf("the gaps at the ends leave no length")
	case across <= 0:
		return Plan{}, fmt.Errorf("the gaps at the walls leave no width")
	case up <= k.Sticker:
		return Plan{}, fmt.Errorf("bolsters and the room above the stack leave no height")
	}
	l := layer{kiln: k, rows: rows, left: make([]int, len(rows))}
	for i, r := range rows {
		if r.Thickness <= 0 || r.Width <= 0 || r.Length <= 0 || r.Count < 0 {
			return Plan{}, fmt.Errorf("row %d has a size or a count that can't be", i+1)
		}
		l.left[i] = r.Count
		l.order = append(l.order, i)
	}
	slices.SortStableFunc(l.order, func(a, b int) int {
		x, y := rows[a], rows[b]
		return cmp.Or(cmp.Compare(y.Length, x.Length), cmp.Compare(y.Slow, x.Slow), cmp.Compare(y.Thickness, x.Thickness), cmp.Compare(y.Width, x.Width))
	})
	plan := Plan{Fates: make([]Fate, len(rows))}
	for start := k.EndGap; ; {
		s := l.stack(start, k.Length-k.EndGap-start)
		if len(s.Courses) == 0 {
			break
		}
		if l.placed > mostPlaced {
			return Plan{}, fmt.Errorf("it would hold more than %d boards", mostPlaced)
		}
		plan.Stacks = append(plan.Stacks, s)
		start += s.Length + max(k.EndGap, units.Millimetre)
	}
	for i, r := range rows {
		f := Fate{Placed: r.Count - l.left[i], Out: l.left[i]}
		switch {
		case f.Out == 0:
		case r.Length > along:
			f.Why = TooLong
		case r.Width > across:
			f.Why = TooWide
		case r.Thickness+k.Sticker > up:
			f.Why = TooThick
		default:
			f.Why = NoRoom
		}
		plan.Fates[i] = f
	}
	return plan, nil
}

// layer is the boards still to be laid.
type layer struct {
	kiln   Kiln
	rows   []Row
	order  []int // longest first, then slow, thick, wide
	left   []int // by row
	placed int
}

// stack lays courses from the bottom until nothing more fits in.
func (l *layer) stack(start, along units.Length) Stack {
	_, across, up := l.kiln.Clear()
	s := Stack{Start: start}
	base := units.Length(0) // above the bolsters
	for {
		c := l.course(along, across, up-base-l.kiln.Sticker)
		if len(c.Boards) == 0 || l.placed > mostPlaced {
			break
		}
		c.Base = l.kiln.Bolster + base
		base += c.Thickness + l.kiln.Sticker
		s.Courses = append(s.Courses, c)
		s.Length = max(s.Length, c.Longest)
		s.Width = max(s.Width, natural(c.Boards, l.kiln.BoardGap))
	}
	if len(s.Courses) == 0 {
		return s
	}
	s.Side = (l.kiln.Width - s.Width) / 2
	s.Height = l.kiln.Bolster + base
	s.Opening = units.Length(len(s.Courses)) * l.kiln.Sticker
	for i := range s.Courses {
		s.Courses[i].spread(s.Side, s.Width, i+1 < len(s.Courses))
	}
	l.stickers(&s)
	return s
}

// course takes the boards of the next course: of the thickness of the longest boards left that are thin enough. A shorter board
// completes it only when no longer one is left, of whatever thickness, that would have to lie above it.
func (l *layer) course(along, across, up units.Length) Course {
	fits := func(i int) bool {
		r := l.rows[i]
		return l.left[i] > 0 && r.Length <= along && r.Width <= across && r.Thickness <= up
	}
	var c Course
	used, above := units.Length(0), units.Length(0) // above: the longest board left, that would have to lie on this course
	for _, i := range l.order {
		if !fits(i) {
			continue
		}
		r := l.rows[i]
		if above > r.Length {
			break
		}
		for c.Thickness == 0 || r.Thickness == c.Thickness {
			with := used + r.Width
			if len(c.Boards) > 0 {
				with += l.kiln.BoardGap
			}
			if l.left[i] == 0 || with > across {
				break
			}
			used, c.Thickness = with, r.Thickness
			c.Boards = append(c.Boards, Board{Row: i, Width: r.Width, Length: r.Length})
			l.left[i]--
			l.placed++
		}
		if l.left[i] > 0 {
			above = max(above, r.Length)
		}
	}
	for i, b := range c.Boards {
		c.Longest = max(c.Longest, b.Length)
		if i == 0 || b.Length < c.Shortest {
			c.Shortest = b.Length
		}
	}
	c.Boards = longOutside(c.Boards)
	return c
}

// longOutside puts the first boards, which are the longest, to the outside by turns.
func longOutside(all []Board) []Board {
	out := make([]Board, len(all))
	left, right := 0, len(all)-1
	for i, b := range all {
		if i%2 == 0 {
			out[left] = b
			left++
		} else {
			out[right] = b
			right--
		}
	}
	return out
}

// natural is the width of boards with the least gap between them.
func natural(boards []Board, gap units.Length) units.Length {
	w := units.Length(len(boards)-1) * gap
	for _, b := range boards {
		w += b.Width
	}
	return w
}

// leastSparse is a gap between boards that no longer counts as a void under stickers: our choice.
const leastSparse = 6 * units.Inch

// spread lays the boards over the width of the stack, the outer ones flush with its sides; a single board lies in the middle.
func (c *Course) spread(side, width units.Length, under bool) {
	n := len(c.Boards)
	wood, widest := units.Length(0), units.Length(0)
	for _, b := range c.Boards {
		wood += b.Width
		widest = max(widest, b.Width)
	}
	x := side
	if n > 1 {
		c.Gap = (width - wood) / units.Length(n-1)
		c.Sparse = under && c.Gap > max(widest, leastSparse)
	} else {
		x += (width - wood) / 2
		c.Sparse = under && width-wood > 2*max(widest, leastSparse)
	}
	for i := range c.Boards {
		c.Boards[i].X = x
		x += c.Boards[i].Width + c.Gap
	}
	if n > 1 { // what the division left over
		c.Boards[n-1].X = side + width - c.Boards[n-1].Width
	}
}
