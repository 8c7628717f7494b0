package compute

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute/air"
	"drytally/compute/fit"
	"drytally/compute/plane"
	"drytally/compute/units"
)

// The least leftover that goes back to the stack. Ours: shorter or narrower ones are kept by few and counted by none.
const (
	leftLength = 24 * units.Inch
	leftWidth  = 2 * units.Inch
)

// FitResult is which wanted pieces are cut from which dry boards on hand, and how each board is cut. The plan makes the most pieces
// there are to make; of plans with as many, one whose pieces stand highest in the wanted sheet; of those, one that uses up the least
// wood. How far it can be from the best is in Plan.Gap; package fit says what is tried.
type FitResult struct {
	Known  bool     // false: the plan could not be made, and Says tells why
	Plan   fit.Plan // Plan.Boards: every board on hand with its cuts, in order of its id; Part.Piece is an index into Pieces
	Boards []int    // for each of Plan.Boards: index into Result.Boards
	Pieces []FitPiece
	Left   []FitPiece // wanted pieces that took no part, with Why

	EndTrim, Kerf         units.Length // as used
	LeftLength, LeftWidth units.Length // the least leftover that goes back to the stack
	Says                  []Statement  // what it comes to, how sure that is, which pieces are short, what took no part
}

// FitPiece is a wanted piece with how many of it the boards on hand make.
type FitPiece struct {
	Wanted      *Wanted
	CutWidth    units.Length // as ripped: finished and jointed on both edges
	Count, Made int
	Can         int       // boards on hand that can be cut for it at all
	Why         Statement // why it took no part; only in FitResult.Left
}

// fitBoards decides which wanted pieces are cut from which dry boards on hand. Boards that are sold, held back, of a load that is not
// dry yet, of no known species or not measured take no part.
func (x *index) fitBoards() {
	if len(x.out.Sizes) == 0 || len(x.out.Boards) == 0 {
		return
	}
	s := x.job.Settings
	r := &FitResult{EndTrim: s.EndTrim, Kerf: s.Kerf, LeftLength: leftLength, LeftWidth: leftWidth}
	pieces := x.fitPieces(r)
	boards := x.fitStock(r, pieces)
	if len(pieces) == 0 || len(boards) == 0 {
		return
	}
	plan, err := fit.Cut(boards, pieces, fit.Rules{EndTrim: s.EndTrim, CrossKerf: s.Kerf, RipKerf: s.Kerf, LeftLength: leftLength, LeftWidth: leftWidth})
	if err != nil {
		r.Says = append(r.Says, stated("fit-not", "why", err))
		x.out.Fit = r
		return
	}
	r.Known, r.Plan = true, plan
	at := map[string]int{}
	for i, b := range boards {
		at[b.ID] = r.Boards[i]
	}
	r.Boards = nil
	for _, b := range plan.Boards {
		r.Boards = append(r.Boards, at[b.Board.ID])
	}
	for i, n := range plan.Made {
		r.Pieces[i].Made, r.Pieces[i].Can = n, plan.Can[i]
	}
	x.sayFit(r)
	x.out.Fit = r
}

// fitPieces lists the wanted pieces that can be fitted, in the owner's order, and notes why the others can't. A piece is cut as wide
// as it is finished and jointed on both edges; its ends are the saw's.
func (x *index) fitPieces(r *FitResult) []fit.Piece {
	var out []fit.Piece
	for i := range x.out.Sizes {
		size := &x.out.Sizes[i]
		w := size.Wanted
		p := FitPiece{Wanted: w, Count: size.Pieces}
		switch {
		case w.Species.Name == "":
			p.Why = stated("fit-no-species", "piece", w.Piece)
		case w.Thickness == 0 || w.Width == 0 || w.Length == 0:
			p.Why = stated("fit-no-size", "piece", w.Piece)
		case size.Pieces <= 0:
			p.Why = stated("fit-no-count", "piece", w.Piece)
		}
		if p.Why.Name != "" {
			r.Left = append(r.Left, p)
			continue
		}
		p.CutWidth = w.Width + 2*x.job.Settings.EdgeCut
		r.Pieces = append(r.Pieces, p)
		out = append(out, fit.Piece{ID: fmt.Sprint(i), Species: w.Species.Name, Thickness: w.Thickness, Width: p.CutWidth, Length: w.Length, Count: p.Count})
	}
	return out
}

// fitStock lists the boards on hand as they can be cut; r.Boards says which they are.
func (x *index) fitStock(r *FitResult, pieces []fit.Piece) []fit.Board {
	var lengths []units.Length
	for _, p := range pieces {
		lengths = append(lengths, p.Length)
	}
	slices.Sort(lengths)
	lengths = slices.Compact(lengths)
	seen := map[string]bool{}
	var out []fit.Board
	for i := range x.out.Boards {
		b := &x.out.Boards[i]
		if b.Sold != "" || b.Over || b.Species.Name == "" || x.notDry(b.Board.Load) {
			continue
		}
		f, ok := x.fitBoard(b, lengths)
		if !ok {
			continue
		}
		if seen[f.ID] { // the same number in two loads
			f.ID = strings.TrimSpace(b.Board.Load + " " + f.ID)
		}
		if seen[f.ID] {
			continue
		}
		seen[f.ID] = true
		for k, p := range pieces {
			if x.tooWetFor(b, r.Pieces[k].Wanted) {
				f.Deny = append(f.Deny, p.ID)
			}
		}
		r.Boards = append(r.Boards, i)
		out = append(out, f)
	}
	return out
}

// fitBoard is a board as it can be cut: as wide as the straight strip within its crook, and for each length of piece as thick as it
// planes to once it is cut to that length. The whole crook is taken off, though a short section keeps less of it.
func (x *index) fitBoard(b *BoardResult, lengths []units.Length) (fit.Board, bool) {
	s := x.job.Settings
	cut := plane.Cut{Skim: s.PlanePer, EdgeCut: s.EdgeCut, Kerf: s.Kerf}
	board := plane.Board{Thickness: b.Board.Thickness, Width: b.Board.Width, Length: b.Board.Length, Cup: b.Board.Cup, Bow: b.Board.Bow,
		Crook: b.Board.Crook, Twist: b.Board.Twist}
	f := fit.Board{ID: b.Board.ID, Species: b.Species.Name, Length: b.Board.Length, Width: b.Board.Width - b.Board.Crook, Thickness: b.Least}
	if f.Length <= 0 || f.Width <= 0 || f.Thickness <= 0 {
		return fit.Board{}, false
	}
	for _, l := range lengths {
		if l > f.Length {
			break
		}
		whole, err := board.To(cut, plane.Plan{Length: l})
		if err != nil {
			return fit.Board{}, false
		}
		ripped, err := board.To(cut, plane.Plan{Length: l, Strips: 2})
		if err != nil {
			return fit.Board{}, false
		}
		f.Planed = append(f.Planed, fit.Planed{UpTo: l, Whole: whole.Thickness, Ripped: ripped.Thickness})
	}
	return f, true
}

// tooWetFor reports whether a board was measured wetter than the band of a piece's use.
func (x *index) tooWetFor(b *BoardResult, w *Wanted) bool {
	if w.Use == "" || b.MC.State != units.Number && b.MC.State != units.AboveRange {
		return false
	}
	_, _, high, _, ok := air.Band(w.Use, x.job.Settings.Region)
	return ok && b.MC.MC > high
}

// sayFit writes what the plan comes to in words.
func (x *index) sayFit(r *FitResult) {
	wanted, made, cut := 0, 0, 0
	for _, p := range r.Pieces {
		wanted, made = wanted+p.Count, made+p.Made
	}
	for _, b := range r.Plan.Boards {
		if b.Cut {
			cut++
		}
	}
	feet := func(hundredths int64) string { return fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100) }
	r.Says = append(r.Says, stated("fit-made", "made", made, "wanted", wanted, "cut", cut, "boards", len(r.Boards), "feet", feet(r.Plan.Used.Wood)))
	switch gap := r.Plan.Gap(); {
	case r.Plan.Proven:
		r.Says = append(r.Says, stated("fit-best"))
	case gap.Pieces > 0:
		r.Says = append(r.Says, stated("fit-gap-pieces", "n", gap.Pieces))
	case gap.Order > 0:
		r.Says = append(r.Says, stated("fit-gap-order"))
	default:
		r.Says = append(r.Says, stated("fit-gap-wood", "feet", feet(gap.Wood)))
	}
	for _, p := range r.Pieces {
		switch {
		case p.Can == 0:
			r.Says = append(r.Says, stated("fit-none", "piece", p.Wanted.Piece, "wanted", p.Count))
		case p.Made < p.Count:
			r.Says = append(r.Says, stated("fit-short", "piece", p.Wanted.Piece, "made", p.Made, "wanted", p.Count))
		}
	}
	for _, p := range r.Left {
		r.Says = append(r.Says, p.Why)
	}
}
