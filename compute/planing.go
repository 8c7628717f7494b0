package compute

import (
	"drytally/compute/plane"
	"drytally/compute/units"
)

// planBoards computes what every dry board planes to and which wanted pieces it makes.
func (x *index) planBoards() {
	s := x.job.Settings
	cut := plane.Cut{Skim: s.PlanePer, EdgeCut: s.EdgeCut, Kerf: s.Kerf}
	makes := map[int]int{} // wanted piece -> boards that make it
	for i := range x.out.Boards {
		b := &x.out.Boards[i]
		// A board that is sold, held back or of a load that is not dry yet is not offered for work; its sizes are computed.
		switch {
		case b.Sold != "":
			x.planOne(b, cut, nil)
			b.MakesNone = stated("makes-sold", "sale", b.Sold)
		case x.notDry(b.Board.Load):
			x.planOne(b, cut, nil)
			b.MakesNone = stated("makes-not-dry")
		case b.Over:
			x.planOne(b, cut, nil)
			b.MakesNone = stated("makes-held-back")
		default:
			x.planOne(b, cut, makes)
		}
	}
	for i := range x.out.Sizes {
		x.out.Sizes[i].CanMake = makes[i]
	}
}

// notDry reports whether a load's verdict is "not dry yet".
func (x *index) notDry(load string) bool {
	k, ok := x.loadOf(load)
	for i := range x.out.Loads {
		if ok && key(x.out.Loads[i].Load.ID) == k && load != "" {
			return x.out.Loads[i].Verdict == NotDryYet
		}
	}
	return false
}

// planOne computes the sizes of one board, and what it makes unless makes is nil.
func (x *index) planOne(b *BoardResult, cut plane.Cut, makes map[int]int) {
	board := plane.Board{Thickness: b.Board.Thickness, Width: b.Board.Width, Length: b.Board.Length, Cup: b.Board.Cup, Bow: b.Board.Bow,
		Crook: b.Board.Crook, Twist: b.Board.Twist}
	if whole, err := board.To(cut, plane.Plan{}); err == nil {
		b.Least, b.PlanesTo, b.WidthTo = whole.Least, max(0, whole.Thickness), max(0, whole.Width)
	}
	if ripped, err := board.To(cut, plane.Plan{Strips: 2}); err == nil {
		b.RippedTo = max(0, ripped.Thickness)
	}
	if makes == nil {
		return
	}
	var pieces []plane.Piece
	var of []int
	for i := range x.out.Sizes {
		w := x.out.Sizes[i].Wanted
		if w.Species.Name == b.Species.Name && w.Species.Name != "" {
			pieces = append(pieces, plane.Piece{Thickness: w.Thickness, Width: w.Width, Length: w.Length})
			of = append(of, i)
		}
	}
	if len(pieces) == 0 {
		b.MakesNone = stated("makes-none-wanted")
		return
	}
	fit, err := plane.Fits(board, cut, pieces)
	if err != nil {
		b.MakesNone = stated("makes-not-measured")
		return
	}
	for _, m := range fit.Made {
		name := x.out.Sizes[of[m.Piece]].Wanted.Piece
		if m.Plan.Strips > 1 {
			name += " (ripped)"
		}
		b.Makes = append(b.Makes, name)
		makes[of[m.Piece]]++
	}
	if len(b.Makes) == 0 {
		b.MakesNone = x.makesNone(fit.None, x.out.Sizes[of[fit.None.Piece]].Wanted.Piece)
	}
}

func (x *index) makesNone(why plane.Reason, piece string) Statement {
	short := x.job.Settings.System.SizeTo(why.By.RoundUp(units.Fraction(1, 64)), units.Fraction(1, 64))
	switch why.Lack {
	case plane.TooThin:
		return stated("makes-too-thin", "short", short, "piece", piece)
	case plane.TooNarrow:
		return stated("makes-too-narrow", "short", short, "piece", piece)
	case plane.TooShort:
		return stated("makes-too-short", "short", short, "piece", piece)
	}
	return stated("makes-not-measured")
}
