package fit

import (
	"fmt"
	"math/big"
	"reflect"
	"slices"
	"strings"
	"testing"

	"drytally/compute/units"

	"pgregory.net/rapid"
)

// checkPlan checks everything a plan says against its boards and pieces, with nothing taken from the solving.
func checkPlan(t rapid.TB, plan Plan, task func() ([]Board, []Piece, Rules)) {
	t.Helper()
	boards, pieces, rules := task()
	if len(plan.Boards) != len(boards) {
		t.Fatalf("%d boards are in the plan, want %d", len(plan.Boards), len(boards))
	}
	made := make([]int, len(pieces))
	left := map[string]bool{}
	for _, l := range plan.Leftovers {
		if left[l.Name] {
			t.Errorf("the leftover %q stands twice", l.Name)
		}
		left[l.Name] = true
	}
	var wood int64
	for i, s := range plan.Boards {
		if i > 0 && plan.Boards[i-1].Board.ID >= s.Board.ID {
			t.Errorf("board %q comes after %q", s.Board.ID, plan.Boards[i-1].Board.ID)
		}
		if s.Whole.Along != 0 || s.Whole.Across != 0 || s.Whole.Length != s.Board.Length || s.Whole.Width != s.Board.Width {
			t.Errorf("board %q: the whole is %+v", s.Board.ID, s.Whole)
		}
		checkPart(t, s.Board, s.Whole)
		wood += s.Wood * s.Board.times()
		area := new(big.Int)
		var used []Part
		for p := range s.Whole.Leaves() {
			area.Add(area, square(p))
			switch p.Kind {
			case Made:
				made[p.Piece]++
				checkPiece(t, s.Board, p, pieces[p.Piece], rules)
				used = append(used, p)
			case Rest:
				if s.Cut && (p.Length < rules.LeftLength || p.Width < rules.LeftWidth) {
					t.Errorf("board %q: the leftover %+v is too small", s.Board.ID, p)
				}
				if !s.Board.HeldBack && !left[p.Name] {
					t.Errorf("board %q: the leftover %q is not listed", s.Board.ID, p.Name)
				}
				delete(left, p.Name)
			case Kerf:
				if min(p.Length, p.Width) > max(rules.CrossKerf, rules.RipKerf) {
					t.Errorf("board %q: a kerf of %s x %s", s.Board.ID, p.Length, p.Width)
				}
			}
		}
		if want := square(s.Whole); area.Cmp(want) != 0 {
			t.Errorf("board %q: pieces, kerf, trim and leftovers cover %s, the board %s", s.Board.ID, area, want)
		}
		if s.Cut != (len(used) > 0) || s.Cut && s.Board.HeldBack {
			t.Errorf("board %q: cut %t, held back %t, %d pieces", s.Board.ID, s.Cut, s.Board.HeldBack, len(used))
		}
	}
	if len(left) > 0 {
		t.Errorf("leftovers that no board has: %v", left)
	}
	var score Score
	for i, p := range pieces {
		if made[i] != plan.Made[i] || made[i] > p.Count {
			t.Errorf("piece %q: %d are cut, the plan says %d, %d are wanted", p.ID, made[i], plan.Made[i], p.Count)
		}
		score.Missing += p.Count - made[i]
		score.Order += (p.Count - made[i]) * (len(pieces) - i)
	}
	score.Wood = plan.Used.Wood
	if score != plan.Used || wood != plan.Used.Wood {
		t.Errorf("the cuts come to %+v and %d of wood, the plan says %+v", score, wood, plan.Used)
	}
	if plan.Used.less(plan.Bound) || plan.Proven && plan.Used != plan.Bound {
		t.Errorf("the plan comes to %+v, its bound to %+v (proven %t)", plan.Used, plan.Bound, plan.Proven)
	}
}

func square(p Part) *big.Int {
	return new(big.Int).Mul(big.NewInt(int64(p.Length)), big.NewInt(int64(p.Width)))
}

// checkPart checks that a divided part is exactly its parts, in length and in width.
func checkPart(t rapid.TB, b Board, p Part) {
	t.Helper()
	if p.Length <= 0 || p.Width <= 0 {
		t.Errorf("board %q: a part of no size: %+v", b.ID, p)
	}
	if p.Kind != Divided {
		if len(p.Parts) > 0 {
			t.Errorf("board %q: a %s has parts", b.ID, p.Kind)
		}
		return
	}
	along, across := p.Along, p.Across
	for _, q := range p.Parts {
		if q.Along != along || q.Across != across {
			t.Errorf("board %q: a part lies at %s, %s, want %s, %s", b.ID, q.Along, q.Across, along, across)
		}
		if p.Rip {
			across += q.Width
			if q.Length != p.Length {
				t.Errorf("board %q: a strip is %s long in a part of %s", b.ID, q.Length, p.Length)
			}
		} else {
			along += q.Length
			if q.Width != p.Width {
				t.Errorf("board %q: a section is %s wide in a part of %s", b.ID, q.Width, p.Width)
			}
		}
		checkPart(t, b, q)
	}
	if p.Rip && across != p.Across+p.Width || !p.Rip && along != p.Along+p.Length {
		t.Errorf("board %q: the parts end at %s, %s in %+v", b.ID, along, across, p)
	}
}

// checkPiece checks a piece against the board it lies on: size, species, thickness, trimmed ends, bad wood.
func checkPiece(t rapid.TB, b Board, at Part, p Piece, r Rules) {
	t.Helper()
	if at.Length != p.Length || at.Width != p.Width {
		t.Errorf("board %q: the piece %q is %s x %s, want %s x %s", b.ID, p.ID, at.Length, at.Width, p.Length, p.Width)
	}
	if !suits(b, p, r) {
		t.Errorf("board %q (%s, %+v) is cut for %q (%s, %s)", b.ID, b.Species, b.Planed, p.ID, p.Species, p.Thickness)
	}
	if b.Crook > 0 {
		share := new(big.Rat).SetFrac64(int64(p.Length), int64(b.Length))
		least := new(big.Rat).SetInt64(int64(b.Crook))
		least.Mul(least, share.Mul(share, share))
		if at.Across+at.Width > b.Width || least.Cmp(new(big.Rat).SetInt64(int64(at.Across)+1)) > 0 { // 1 nm: the step is rounded up but for a hair
			t.Errorf("board %q (crook %s): the piece %q of %s lies %s from the edge", b.ID, b.Crook, p.ID, p.Length, at.Across)
		}
	}
	bad := append([]Span{{0, max(b.LoseStart, r.EndTrim)}, {b.Length - max(b.LoseEnd, r.EndTrim), b.Length}}, b.Defects...)
	for _, d := range bad {
		if max(at.Along, d.From) < min(at.Along+at.Length, d.To) {
			t.Errorf("board %q: the piece %q at %s lies on what is lost, %+v", b.ID, p.ID, at.Along, d)
		}
	}
}

// suits reports whether a board may be cut for a piece at all, whatever its size.
func suits(b Board, p Piece, r Rules) bool {
	if b.Species != p.Species || slices.Contains(b.Deny, p.ID) {
		return false
	}
	for _, t := range b.Planed {
		if t.UpTo == 0 || t.UpTo >= p.Length {
			return t.Whole >= p.Thickness || t.Ripped >= p.Thickness && 2*p.Width+r.RipKerf <= b.Width
		}
	}
	return false
}

// task draws a small task. Sizes are in quarters of an inch, or in millimetres.
func task(t *rapid.T) ([]Board, []Piece, Rules) {
	step := units.Fraction(1, 4)
	if rapid.Bool().Draw(t, "metric") {
		step = 5 * units.Millimetre
	}
	in := func(low, high int, what string) units.Length {
		return units.Length(rapid.IntRange(4*low, 4*high).Draw(t, what)) * step
	}
	woods := []string{"cherry", "walnut"}
	r := Rules{EndTrim: in(0, 2, "trim"), CrossKerf: units.Length(rapid.IntRange(0, 3).Draw(t, "kerf")) * step / 2, LeftLength: in(0, 24, "left"), LeftWidth: in(0, 3, "left width"), Work: 100_000_000}
	r.RipKerf = r.CrossKerf
	var boards []Board
	for i := range rapid.IntRange(0, 5).Draw(t, "boards") {
		b := Board{ID: fmt.Sprint("b", i), Species: rapid.SampledFrom(woods).Draw(t, "wood"), Length: in(10, 120, "length"), Width: in(3, 14, "width"), Thickness: in(1, 2, "thickness"),
			Planed: []Planed{{Whole: in(0, 1, "whole"), Ripped: in(1, 1, "ripped")}}, HeldBack: rapid.IntRange(0, 9).Draw(t, "held") == 0, Unsure: rapid.IntRange(0, 3).Draw(t, "unsure") == 0}
		if rapid.IntRange(0, 4).Draw(t, "bad") == 0 {
			b.LoseStart, b.LoseEnd = in(0, 20, "start"), in(0, 20, "end")
		}
		for range max(0, rapid.IntRange(-3, 5).Draw(t, "defects")) { // they may overlap, touch, or lie off the board
			from := in(0, 130, "from")
			b.Defects = append(b.Defects, Span{from, from + in(0, 20, "bad")/units.Length(rapid.IntRange(1, 9).Draw(t, "part"))})
		}
		if rapid.IntRange(0, 3).Draw(t, "crooked") == 0 {
			b.Crook = in(0, 2, "crook")
		}
		boards = append(boards, b)
	}
	var pieces []Piece
	for i := range rapid.IntRange(0, 5).Draw(t, "pieces") {
		p := Piece{ID: fmt.Sprint("p", i), Species: rapid.SampledFrom(woods).Draw(t, "wood"), Thickness: in(1, 1, "thickness"), Width: in(1, 8, "width"), Length: in(6, 80, "length"),
			Count: rapid.IntRange(0, 6).Draw(t, "count")}
		pieces = append(pieces, p)
		if rapid.IntRange(0, 9).Draw(t, "deny") == 0 && len(boards) > 0 {
			boards[0].Deny = append(boards[0].Deny, p.ID)
		}
	}
	return boards, pieces, r
}

func cut(t rapid.TB, boards []Board, pieces []Piece, r Rules) Plan {
	t.Helper()
	plan, err := Cut(boards, pieces, r)
	if err != nil {
		t.Fatalf("%v", err)
	}
	checkPlan(t, plan, func() ([]Board, []Piece, Rules) { return boards, pieces, r })
	return plan
}

// TestNothingIsLost: pieces, kerf, trim and leftovers are exactly the board, for every board, and nothing more is cut than there is.
func TestNothingIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boards, pieces, r := task(t)
		cut(t, boards, pieces, r)
	})
}

// TestMoreBoardsNeverMakeFewerPieces: a plan may always leave the further board alone.
func TestMoreBoardsNeverMakeFewerPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boards, pieces, r := task(t)
		if len(boards) == 0 {
			return
		}
		more := cut(t, boards, pieces, r)
		fewer := cut(t, boards[:len(boards)-1], pieces, r)
		if more.Used.Missing > fewer.Bound.Missing && fewer.Used.Missing == fewer.Bound.Missing {
			t.Errorf("with one board more %d are missing, without it %d", more.Used.Missing, fewer.Used.Missing)
		}
	})
}

// TestALargerKerfNeverMakesMorePieces: every plan with a large kerf is one with a small kerf too.
func TestALargerKerfNeverMakesMorePieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boards, pieces, r := task(t)
		thin := cut(t, boards, pieces, r)
		r.CrossKerf += units.Length(rapid.IntRange(0, 4).Draw(t, "more")) * units.Fraction(1, 8)
		r.RipKerf += units.Length(rapid.IntRange(0, 4).Draw(t, "more")) * units.Fraction(1, 8)
		thick := cut(t, boards, pieces, r)
		if thick.Used.Missing < thin.Bound.Missing || thin.Proven && thick.Used.Missing < thin.Used.Missing {
			t.Errorf("a larger kerf leaves %d missing, the smaller %d", thick.Used.Missing, thin.Used.Missing)
		}
	})
}

// TestOrderOfBoardsIsNothing: the plan rests on the boards, not on the order they are given in.
func TestOrderOfBoardsIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		boards, pieces, r := task(t)
		want := cut(t, boards, pieces, r)
		if got := cut(t, rapid.Permutation(boards).Draw(t, "order"), pieces, r); !reflect.DeepEqual(got, want) {
			t.Errorf("got %+v, want %+v", got, want)
		}
	})
}

func TestRefused(t *testing.T) {
	in := units.Inch
	board := func(change func(*Board)) []Board {
		b := Board{ID: "b", Length: 10 * in, Width: in, Thickness: in}
		change(&b)
		return []Board{b}
	}
	piece := func(change func(*Piece)) []Piece {
		p := Piece{ID: "p", Length: in, Width: in, Thickness: in, Count: 1}
		change(&p)
		return []Piece{p}
	}
	cases := []struct {
		name   string
		boards []Board
		pieces []Piece
		rules  Rules
		says   string
	}{
		{name: "board of no width", boards: board(func(b *Board) { b.Width = 0 }), says: "size of 0"},
		{name: "board beyond sense", boards: board(func(b *Board) { b.Length = 101 * units.Metre }), says: "100 m"},
		{name: "board twice", boards: append(board(func(*Board) {}), board(func(*Board) {})...), says: "twice"},
		{name: "defect backwards", boards: board(func(b *Board) { b.Defects = []Span{{2 * in, in}} }), says: "before it begins"},
		{name: "loss below nothing", boards: board(func(b *Board) { b.LoseEnd = -in }), says: "size of -1"},
		{name: "piece of no length", pieces: piece(func(p *Piece) { p.Length = 0 }), says: "size of 0"},
		{name: "piece twice", pieces: append(piece(func(*Piece) {}), piece(func(*Piece) {})...), says: "twice"},
		{name: "wanted less than none", pieces: piece(func(p *Piece) { p.Count = -1 }), says: "-1 times"},
		{name: "kerf below nothing", rules: Rules{RipKerf: -1}, says: "rules"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Cut(c.boards, c.pieces, c.rules); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want an error that says %q", err, c.says)
			}
		})
	}
}

// TestByHand holds plans that can be worked out on paper.
func TestByHand(t *testing.T) {
	in := units.Inch
	rules := Rules{EndTrim: in, CrossKerf: in / 8, RipKerf: in / 8, LeftLength: 12 * in, LeftWidth: 2 * in}
	board := func(id string, length, width units.Length) Board {
		return Board{ID: id, Species: "oak", Length: length, Width: width, Thickness: in, Planed: []Planed{{Whole: in, Ripped: in}}}
	}
	crooked := func(b Board, crook units.Length) Board { b.Crook = crook; return b }
	bad := func(b Board, all ...Span) Board { b.Defects = all; return b }
	piece := func(id string, length, width units.Length, n int) Piece {
		return Piece{ID: id, Species: "oak", Thickness: in, Length: length, Width: width, Count: n}
	}
	cases := []struct {
		name   string
		boards []Board
		pieces []Piece
		made   []int
		wood   int64 // hundredths of a board foot
		left   string
	}{
		// 1 + 2 x 20 + 2 x 1/8 = 41 1/4 in are used up, 41.25 x 6 / 1.44 = 171.9; 96 - 41 1/4 = 54 3/4 in stay.
		{"one leftover at the end", []Board{board("a", 96*in, 6*in)}, []Piece{piece("p", 20*in, 6*in, 2)}, []int{2}, 172, `a-a 54 3/4" x 6"`},
		// Two strips of 2 15/16 side by side: 1 + 20 + 1/8 in are used up, 21.125 x 6 / 1.44 = 88.02.
		{"ripped", []Board{board("a", 96*in, 6*in)}, []Piece{piece("p", 20*in, 2*in+15*in/16, 2)}, []int{2}, 89, `a-a 74 7/8" x 6"`},
		// Cut into sections of 30 in no second one fits: 1 + 30 + 1/8 + 30 + 1 > 62 in; the two lie side by side, and a strip of
		// 6 - 2 (1 1/2 + 1/8) = 2 3/4 in stays over the whole length: 62 x 3.25 / 1.44 = 139.93 against 62 x 6 / 1.44 = 258.3. As a
		// section 31 1/8 in are used up, 31.125 x 6 / 1.44 = 129.7, which is less.
		{"section before strip", []Board{board("a", 62*in, 6*in)}, []Piece{piece("p", 30*in, 3*in/2, 2)}, []int{2}, 130, `a-a 30" x 2 3/4", a-b 30 7/8" x 6"`},
		// The section of a long piece would use up the board's width: ripped first 1 1/2 + 1/8 of 6 in are, 1.625 x 62 / 1.44 = 69.97.
		{"strip before section", []Board{board("a", 62*in, 6*in)}, []Piece{piece("p", 60*in, 3*in/2, 1)}, []int{1}, 70, `a-a 62" x 4 3/8"`},
		// The wide board is left whole.
		{"smaller board", []Board{board("a", 24*in, 8*in), board("b", 24*in, 6*in)}, []Piece{piece("p", 22*in, 6*in, 1)}, []int{1}, 100, `a 24" x 8"`},
		// 1 + 10 + 1 = 12 in: no kerf is needed where the trim is cut off anyway.
		{"exactly full", []Board{board("a", 12*in, 6*in)}, []Piece{piece("p", 10*in, 6*in, 1)}, []int{1}, 50, ""},
		{"a hair too short", []Board{board("a", 12*in-1, 6*in)}, []Piece{piece("p", 10*in, 6*in, 1)}, []int{0}, 0, `a 12.000" x 6"`},
		// Only one of the two can be made: the one that stands first, though the second uses less.
		{"first in the list", []Board{board("a", 24*in, 6*in)}, []Piece{piece("p", 22*in, 6*in, 1), piece("q", 20*in, 6*in, 1)}, []int{1, 0}, 100, ""},
		// The crook of 1 in is 1/4 in over half the length and 1 in over all of it: 4 3/4 in and no more than 4 are straight.
		{"crook of a section", []Board{crooked(board("a", 80*in, 5*in), in)}, []Piece{piece("p", 40*in, 19*in/4, 1)}, []int{1}, 143, `a-a 38 7/8" x 5"`},
		{"crook of the whole", []Board{crooked(board("a", 80*in, 5*in), in)}, []Piece{piece("p", 76*in, 17*in/4, 1)}, []int{0}, 0, `a 80" x 5"`},
		// From 1 to 30 and from 34 to 79 in: one piece of 20 before the bad wood and two behind it, 34 + 20 + 1/8 + 20 in; the first
		// clear length is used up but for 30 - 1 - 20 - 1/8 = 8 7/8 in, too short for the stack: 30 x 6 / 1.44 = 125; of the
		// second 40 1/4 in are used up, 40.25 x 6 / 1.44 = 167.7, and 46 - 40 1/4 = 5 3/4 in are too short as well: 46 x 6 / 1.44 = 191.7.
		{"around bad wood", []Board{bad(board("a", 80*in, 6*in), Span{30 * in, 34 * in})}, []Piece{piece("p", 20*in, 6*in, 4)}, []int{3}, 317, ""},
		{"bad wood in the way", []Board{bad(board("a", 80*in, 6*in), Span{30 * in, 34 * in})}, []Piece{piece("p", 46*in, 6*in, 1)}, []int{0}, 0, `a 80" x 6"`},
		// Two that overlap are one, from 20 to 60 in; the rests are 20 and 20 in long.
		{"bad wood twice", []Board{bad(board("a", 80*in, 6*in), Span{20 * in, 50 * in}, Span{40 * in, 60 * in})}, []Piece{piece("p", 18*in, 6*in, 3)}, []int{2}, 168, ""},
		// Two small pieces count for more than the large one that stands first.
		{"most pieces", []Board{board("a", 24*in, 6*in)}, []Piece{piece("p", 22*in, 6*in, 1), piece("q", 10*in, 6*in, 2)}, []int{0, 2}, 100, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			plan := cut(t, c.boards, c.pieces, rules)
			var left []string
			for _, l := range plan.Leftovers {
				left = append(left, fmt.Sprintf("%s %s x %s", l.Name, l.Length, l.Width))
			}
			if !slices.Equal(plan.Made, c.made) || plan.Used.Wood != c.wood || strings.Join(left, ", ") != c.left || !plan.Proven {
				t.Errorf("got %v of %d with %v left (proven %t), want %v of %d with %q", plan.Made, plan.Used.Wood, left, plan.Proven, c.made, c.wood, c.left)
			}
		})
	}
}

// TestRounded: sizes without a common measure are rounded up with their kerf, and the plan still holds.
func TestRounded(t *testing.T) {
	var boards []Board
	var pieces []Piece
	for i := range 4 {
		boards = append(boards, Board{ID: fmt.Sprint("b", i), Length: 3*units.Metre + units.Length(i), Width: 8*units.Inch + 1, Thickness: units.Inch, Planed: []Planed{{Whole: units.Inch}}})
	}
	for i := range 6 {
		pieces = append(pieces, Piece{ID: fmt.Sprint("p", i), Thickness: units.Inch, Width: 50*units.Millimetre + units.Length(7*i), Length: units.Length(300+70*i)*units.Millimetre + units.Length(13*i*i), Count: 5})
	}
	plan := cut(t, boards, pieces, Rules{EndTrim: units.Inch, CrossKerf: units.Fraction(1, 8) + 1, RipKerf: 3 * units.Millimetre, LeftLength: units.Foot, LeftWidth: units.Inch, Work: 100_000_000})
	if plan.Rounded == 0 || plan.Rounded%units.Fraction(1, 64) != 0 || plan.Used.Missing > 0 {
		t.Errorf("rounded to %s with %d missing, want a multiple of 1/64 in and none", plan.Rounded, plan.Used.Missing)
	}
}

// TestNames: a leftover is named after its board, and never as something else is named already.
func TestNames(t *testing.T) {
	in := units.Inch
	board := func(id string) Board {
		return Board{ID: id, Species: "oak", Length: 96 * in, Width: 6 * in, Thickness: in, Planed: []Planed{{Whole: in}}}
	}
	boards := []Board{board("A1"), board("A1-a"), board("12")}
	pieces := []Piece{{ID: "p", Species: "oak", Thickness: in, Width: 6 * in, Length: 20 * in, Count: 3}, {ID: "q", Species: "oak", Thickness: in, Width: 6 * in, Length: 61 * in, Count: 3}}
	got := []string{}
	plan := cut(t, boards, pieces, Rules{CrossKerf: in / 8, LeftLength: 12 * in, LeftWidth: in, Taken: []string{"12A"},
		Key: func(s string) string { return strings.ReplaceAll(strings.ToLower(s), "-", "") }})
	for _, l := range plan.Leftovers {
		got = append(got, l.Name)
	}
	if want := []string{"12-b", "A1-b", "A1-a-a"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	for i, want := range map[int]string{1: "a", 26: "z", 27: "aa", 52: "az", 53: "ba"} {
		if got := letters(i); got != want {
			t.Errorf("%d: got %q, want %q", i, got, want)
		}
	}
}

// TestUnsureBoards: of boards alike the sure one is cut, and a larger sure one too, as long as it takes no more than twice the wood.
// No piece is given up for it.
func TestUnsureBoards(t *testing.T) {
	in := units.Inch
	board := func(id string, width units.Length, unsure bool) Board {
		return Board{ID: id, Species: "cherry", Length: 48 * in, Width: width, Thickness: in, Planed: []Planed{{Whole: in, Ripped: in}}, Unsure: unsure}
	}
	for _, c := range []struct {
		name   string
		boards []Board
		pieces int
		cut    string
		wood   int64 // hundredths of a board foot: length x width / 1.44
	}{
		{"alike", []Board{board("a", 6*in, true), board("b", 6*in, false)}, 1, "b", 200},
		{"a wider sure board", []Board{board("a", 6*in, true), board("b", 9*in, false)}, 1, "b", 300},
		{"more than twice as wide", []Board{board("a", 6*in, true), board("b", 13*in, false)}, 1, "a", 400},
		{"two pieces", []Board{board("a", 6*in, true), board("b", 9*in, false)}, 2, "ab", 700},
	} {
		plan := cut(t, c.boards, []Piece{{ID: "p", Species: "cherry", Thickness: in / 2, Width: 6 * in, Length: 48 * in, Count: c.pieces}}, Rules{LeftLength: 24 * in, LeftWidth: 8 * in})
		got := ""
		for _, s := range plan.Boards {
			if s.Cut {
				got += s.Board.ID
			}
		}
		if got != c.cut || plan.Used.Wood != c.wood || plan.Made[0] != c.pieces || !plan.Proven {
			t.Errorf("%s: got %d of board %s with %d of wood (proven %t), want %d of %s with %d", c.name, plan.Made[0], got, plan.Used.Wood, plan.Proven, c.pieces, c.cut, c.wood)
		}
	}
}
