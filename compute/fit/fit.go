// Package fit decides which wanted pieces are cut from which dry boards, and how each board is cut.
//
// # What is looked for
//
// Of all plans of the pattern space below: one that makes the most pieces; of those, one whose pieces stand highest in the
// owner's list; of those, one that uses the least wood. A piece is never traded for less waste.
//
//  1. Pieces: the number of wanted pieces that are not made is least.
//  2. Order: the i-th of n pieces counts n-i+1 when it is not made; the sum is least among the plans that are best by 1.
//  3. Wood: each clear length that is cut counts with the wood it uses up, in hundredths of a board foot of actual volume
//     (1.44 cubic inches), rounded up; the sum is least among the plans that are best by 1 and 2. The whole-width rest at the
//     end of a crosscut length, or the whole-length rest beside the last strip of a ripped one, is not used up when it is big
//     enough for the stack (Rules.LeftLength, Rules.LeftWidth); every other loss is, so that long leftovers are preferred. The
//     wood of a board marked Unsure counts twice: it is cut only where sure boards would take more than twice as much, or make
//     fewer pieces.
//
// # The pattern space
//
// A board that is cut first loses its defects: crosscuts leave clear lengths. Each clear length is then left alone or cut in
// one of two ways, whichever is better:
//
//   - crosscut first: into sections; each section is ripped into strips of one piece each; a piece shorter than its section
//     is cut to length last;
//   - ripped first: into strips over the whole clear length; each strip is crosscut into pieces; a piece narrower than its
//     strip is ripped to width last.
//
// A section is as long as its longest piece and a strip as wide as its widest. A board's end is trimmed before the first cut
// and is not cut into by the last. A kerf lies between two parts, and before a rest. A crooked board is straightened along one
// edge: a section loses what is left of the crook over its own length, a clear length that is ripped first over all of its length.
// A piece fits a board of its species that is not held back and does not deny it, when the board planes to its thickness:
// whole, or ripped for a piece that is at most half as wide as the board less a kerf.
//
// # How
//
// Boards meet only in how many of each piece are still wanted. The plan is therefore chosen from patterns, one for each clear
// length. Prices of the pieces come from a linear program over the patterns found so far; a dynamic program finds the best
// pattern of each clear length for those prices; when no pattern is better than its length, the linear program is solved. The
// bound is computed from the prices alone in whole numbers (Lagrange), so it holds whatever rounding the linear program did.
//
// The three levels are done one after the other (level.go). The first plans are made board by board as by hand (plan.go) and by
// rounding the linear program step by step (dive.go). Then the bound is raised and plans are guessed until they meet, or the work is
// spent:
//
//   - Raising (deepen.go). All patterns are listed that a plan within a small slack of the bound can hold; that is a few for each
//     clear length, and one for most. Whether such a plan is there is decided exactly, by listing what each half of the clear lengths
//     can come to within the slack and looking for two halves that make up the wanted pieces (core.go, halves.go), with clear lengths
//     that compete for the same pieces in the same half (sequence.go). Partial plans that can't end within the slack are dropped by
//     bounds row by row (reach.go) and by Lagrange bounds whose prices come from linear programs of what is still to come (slopes.go,
//     relaxed.go). No plan: the bound is raised by the slack. A plan: it is the best.
//   - Guessing (guess.go). Most clear lengths stay as the linear program cuts them, and the best plan is looked for among the others.
//   - Looking near the plan there is (again.go): some boards are taken out and planned anew, by branch and bound (finish.go) and, for
//     order and wood, in turn with the search of what the bound leaves open (guess.go).
//
// The number of pieces is mostly settled by looking near; its patterns are too many to list. What is listed, and how many partial plans
// are held, has limits; where they are met, or the work is spent, the plan is not proven and the gap to the bound is told. All bounds
// but the branch and bound's are in whole numbers; it leaves a branch when the linear program shows, to a hundred-thousandth of the
// least step, that nothing better is in it. Work is counted in steps, not in time: the same input gives the same plan in every run.
// What each part of the code adds to the count is weighed by measurement: a step is about a nanosecond of one processor.
//
// Source: Gilmore and Gomory, A linear programming approach to the cutting stock problem, Operations Research 9 (1961) and 11
// (1963), and Multistage cutting stock problems of two and more dimensions, 13 (1965); memory. The core of what the bound leaves
// open: Balas and Zemel, An algorithm for large zero-one knapsack problems, 28 (1980); memory. Checked against a general
// integer solver: testdata/solved.csv.
package fit

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute/units"
)

// Span is a part of a board's length, from its first end.
type Span struct {
	From, To units.Length
}

// Planed is what a board planes to when its pieces are cut to length before planing.
type Planed struct {
	UpTo   units.Length // for pieces up to this length; 0: of any length
	Whole  units.Length // thickness of a strip as wide as the board, or of any narrower one
	Ripped units.Length // thickness of a strip at most half as wide as the board
}

// Board is a dry board on hand. Length and Width are what can be used of it; all sizes are above 0.
type Board struct {
	ID        string // unlike every other board's
	Species   string
	Length    units.Length
	Width     units.Length
	Crook     units.Length // gap under a line from end to end on the edge; 0: straight. A part of the length keeps its square share
	Thickness units.Length // as it lies on the stack; for the volume
	Planed    []Planed     // the first whose UpTo is 0 or not below the piece's length counts
	HeldBack  bool         // nothing is cut from it
	Unsure    bool         // its wood counts twice: sure boards are taken before it
	Deny      []string     // ids of pieces it may not be cut for: too wet for their use, say
	LoseStart units.Length // bad wood to lose at the first end
	LoseEnd   units.Length // bad wood to lose at the other end
	Defects   []Span       // bad wood to cut out
}

// Piece is a wanted piece, with the size it is cut to: jointing of the edges and trimming of its own ends are in it.
// Pieces stand in the owner's order: the first matters most.
type Piece struct {
	ID        string // unlike every other piece's
	Species   string
	Thickness units.Length // finished; held against Planed
	Width     units.Length
	Length    units.Length
	Count     int // 0 or more
}

// Rules are the allowances of the cutting.
type Rules struct {
	EndTrim    units.Length // cut off each end of a board before a piece is measured; 0: ends are used as they are
	CrossKerf  units.Length // 0 or more
	RipKerf    units.Length // 0 or more
	LeftLength units.Length // a rest at least this long and LeftWidth wide goes back to the stack
	LeftWidth  units.Length
	Work       int64 // steps to spend, about; 0: DefaultWork

	// Taken are names that no leftover may have, besides the boards' own ids; Key brings names to one form before they are
	// compared (nil: as they are).
	Taken []string
	Key   func(string) string
}

// DefaultWork is about a second of one processor, so that a slower or busy one stays within two.
const DefaultWork = 1_150_000_000

// Plan is what Cut hands back.
type Plan struct {
	Boards    []Sheet // every board, in order of its id
	Made      []int   // pieces made, in the order of the pieces given
	Can       []int   // boards that can be cut for each piece at all
	Used      Score   // what the plan comes to
	Bound     Score   // no plan can come to less: see Gap
	Proven    bool    // the plan is the best there is
	Leftovers []Leftover
	// Rounded says by how much every size with its kerf was rounded up because the sizes have no common measure (inches and
	// millimetres mixed, say). Best and Bound then hold for the rounded sizes. 0: nothing was rounded.
	Rounded units.Length
	Work    int64 // steps spent
}

// Score is what a plan comes to at each of the three levels, compared in this order. Less is better.
type Score struct {
	Missing int   // wanted pieces that are not made
	Order   int   // the same, each counted by its place in the list
	Wood    int64 // hundredths of a board foot used up, those of unsure boards twice
}

// Gap is the distance of a plan from the proven bound. A level is proven when it is 0 and those before it are 0.
type Gap struct {
	Pieces int   // at most this many more pieces could be made
	Order  int   // at most this much could be won by other pieces; meaningful when Pieces is 0
	Wood   int64 // at most this much less wood, hundredths of a board foot; meaningful when Pieces and Order are 0
}

// Gap returns how far the plan can be from the best.
func (p Plan) Gap() Gap {
	return Gap{Pieces: p.Used.Missing - p.Bound.Missing, Order: p.Used.Order - p.Bound.Order, Wood: p.Used.Wood - p.Bound.Wood}
}

// Leftover is a rest that goes back to the stack.
type Leftover struct {
	Name          string // the board's id and a letter: B7-a
	Board         string
	Length, Width units.Length
	Thickness     units.Length // of the board as it lay on the stack
	Whole         bool         // the board was not cut at all: Name is its id
}

// mostSize keeps sums of sizes far inside what an int64 holds.
const mostSize = 100 * units.Metre

// Cut decides which pieces are cut from which board. The order of the boards does not matter.
// The error names a size out of range or an id that stands twice.
func Cut(boards []Board, pieces []Piece, rules Rules) (Plan, error) {
	if err := check(boards, pieces, rules); err != nil {
		return Plan{}, err
	}
	sorted := slices.Clone(boards)
	slices.SortFunc(sorted, func(a, b Board) int { return strings.Compare(a.ID, b.ID) })
	if rules.Work == 0 {
		rules.Work = DefaultWork
	}
	out := Plan{Made: make([]int, len(pieces)), Proven: true}
	lengths := clearLengths(sorted, rules)
	chosen, ids := make([]*pattern, len(lengths)), make([][]int, len(lengths))
	groups := apart(sorted, pieces, lengths, rules)
	for n, group := range groups {
		s := newSpace(group, sorted, pieces, lengths, rules)
		s.workMost = (rules.Work - out.Work) / int64(len(groups)-n)
		got := s.solve()
		out.Rounded = max(out.Rounded, s.rounded)
		out.Work += s.work
		out.Proven = out.Proven && got.score == got.bound
		out.Used = out.Used.plus(got.score)
		out.Bound = out.Bound.plus(got.bound)
		for i, p := range got.chosen {
			chosen[s.of[i]], ids[s.of[i]] = p, s.id
		}
		for k, i := range group.pieces {
			out.Made[i] = pieces[i].Count - got.missing[k]
		}
	}
	for i, p := range pieces {
		n := canMake(sorted, lengths, p, rules)
		out.Can = append(out.Can, n)
		if n == 0 {
			none := Score{Missing: p.Count, Order: p.Count * (len(pieces) - i)}
			out.Used, out.Bound = out.Used.plus(none), out.Bound.plus(none)
		}
	}
	out.lay(sorted, pieces, lengths, chosen, ids, rules)
	return out, nil
}

func (s Score) plus(t Score) Score {
	return Score{Missing: s.Missing + t.Missing, Order: s.Order + t.Order, Wood: s.Wood + t.Wood}
}

// less compares level by level.
func (s Score) less(t Score) bool {
	switch {
	case s.Missing != t.Missing:
		return s.Missing < t.Missing
	case s.Order != t.Order:
		return s.Order < t.Order
	}
	return s.Wood < t.Wood
}

func check(boards []Board, pieces []Piece, r Rules) error {
	sound := func(what string, least units.Length, all ...units.Length) error {
		for _, l := range all {
			if l < least || l > mostSize {
				return fmt.Errorf("%s has a size of %s, which is not %s to 100 m", what, l, least)
			}
		}
		return nil
	}
	if err := sound("the rules of cutting", 0, r.EndTrim, r.CrossKerf, r.RipKerf, r.LeftLength, r.LeftWidth); err != nil {
		return err
	}
	seen := map[string]bool{}
	for _, b := range boards {
		if seen[b.ID] {
			return fmt.Errorf("the board %q stands twice", b.ID)
		}
		seen[b.ID] = true
		what := fmt.Sprintf("the board %q", b.ID)
		if err := sound(what, 1, b.Length, b.Width, b.Thickness); err != nil {
			return err
		}
		if err := sound(what, 0, b.LoseStart, b.LoseEnd, b.Crook); err != nil {
			return err
		}
		for _, d := range b.Defects {
			if d.From > d.To {
				return fmt.Errorf("a defect of %s ends at %s before it begins at %s", what, d.To, d.From)
			}
		}
	}
	clear(seen)
	for _, p := range pieces {
		if seen[p.ID] {
			return fmt.Errorf("the piece %q stands twice", p.ID)
		}
		seen[p.ID] = true
		if err := sound(fmt.Sprintf("the piece %q", p.ID), 1, p.Thickness, p.Width, p.Length); err != nil {
			return err
		}
		if p.Count < 0 || p.Count > mostCount {
			return fmt.Errorf("the piece %q is wanted %d times, which is not 0 to %d", p.ID, p.Count, mostCount)
		}
	}
	return nil
}

// mostCount keeps weighted sums of counts exact.
const mostCount = 100_000
