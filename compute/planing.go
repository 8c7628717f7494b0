package compute

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute/fit"
	"drytally/compute/footage"
	"drytally/compute/plane"
	"drytally/compute/units"
)

// planBoards computes what every dry board planes to and which wanted pieces it makes.
func (x *index) planBoards() {
	for i := range x.out.Boards {
		b := &x.out.Boards[i]
		x.planeWhole(b)
		// A board that is sold, held back or of a load that is not dry yet is not offered for work; its sizes are computed.
		switch {
		case b.Sold != "":
			b.MakesNone = stated("makes-sold", "sale", b.Sold)
		case x.notDry(b.Board.Load):
			b.MakesNone = stated("makes-not-dry")
		case b.Over:
			b.MakesNone = stated("makes-held-back")
		case !b.Bad.Known:
			b.MakesNone = stated("makes-bad-unknown")
		default:
			x.planOne(b)
		}
	}
	for i := range x.out.Sizes {
		if s := &x.out.Sizes[i]; s.LargeEnough > 0 {
			s.SkipShare = float64(s.Skip) / float64(s.LargeEnough)
			if s.Known && s.SkipShare > 1-s.CleansUp {
				s.Notes = append(s.Notes, stated("size-skip", "skip", s.Skip, "large", s.LargeEnough))
			}
		}
	}
}

// notDry reports whether a load's verdict is "not dry yet".
func (x *index) notDry(load string) bool {
	l := x.resultOf(load)
	return l != nil && l.Verdict == NotDryYet
}

// resultOf gives what was found of a load, nil when the name is no load's.
func (x *index) resultOf(load string) *LoadResult {
	k, ok := x.loadOf(load)
	for i := range x.out.Loads {
		if ok && key(x.out.Loads[i].Load.ID) == k && load != "" {
			return &x.out.Loads[i]
		}
	}
	return nil
}

func (x *index) planeCut() plane.Cut {
	s := x.job.Settings
	return plane.Cut{Skim: s.PlanePer, EdgeCut: s.EdgeCut, Kerf: s.Kerf}
}

// cutRules are the allowances of cutting up dry boards.
func (x *index) cutRules() fit.Rules {
	s := x.job.Settings
	return fit.Rules{EndTrim: s.EndTrim, CrossKerf: s.Kerf, RipKerf: s.Kerf, LeftLength: leftLength, LeftWidth: leftWidth}
}

// onSaw is a board with its length, width, crook and bad wood as the saw meets it.
func onSaw(b *BoardResult) fit.Board {
	return fit.Board{ID: b.Board.ID, Species: b.Species.Name, Length: b.Board.Length, Width: b.Board.Width, Crook: b.Board.Crook, Thickness: b.Least,
		Defects: b.Bad.Spans, LoseEnd: b.Bad.AtEnds}
}

// onPlaner is a board with its thickness and warp as the planer meets it.
func onPlaner(b *BoardResult) plane.Board {
	r := b.Board
	return plane.Board{Thickness: r.Thickness, Width: r.Width, Length: r.Length, Cup: r.Cup, Bow: r.Bow, Crook: r.Crook, Twist: r.Twist}
}

// sure rounds down to what is printed: a board certainly comes to that much, and what it lacks for a piece is counted from there.
func (x *index) sure(l units.Length) units.Length {
	step := x.job.Settings.System.Finest()
	return max(0, l) / step * step
}

// planeWhole computes the sizes of a board that is left as long as it is, and the chips it makes.
func (x *index) planeWhole(b *BoardResult) {
	board, cut := onPlaner(b), x.planeCut()
	whole, err := board.To(cut, plane.Plan{})
	if err != nil {
		return
	}
	b.Least, b.PlanesTo, b.WidthTo = whole.Least, x.sure(whole.Thickness), x.sure(whole.Width)
	if ripped, err := board.To(cut, plane.Plan{Strips: 2}); err == nil {
		b.RippedTo = x.sure(ripped.Thickness)
	}
	if off, ok := chips(b.Board.Thickness, b.Board.Width, b.Board.Length, b.PlanesTo, b.WidthTo); ok {
		b.Chips = off.CubicCentimetres()
	}
}

// chips is the solid wood between a rough size and the finished one of the same length. The rough thickness is the mean of those
// measured.
func chips(rough []units.Length, width, length, toThickness, toWidth units.Length) (footage.Solid, bool) {
	var all footage.Solid
	for _, t := range rough {
		one, err := footage.SolidOf(footage.Piece{Thickness: t, Width: width, Length: length, Count: 1})
		if err != nil {
			return footage.Solid{}, false
		}
		all = all.Add(one)
	}
	done, err := footage.SolidOf(footage.Piece{Thickness: toThickness, Width: toWidth, Length: length, Count: 1})
	if err != nil || len(rough) == 0 {
		return footage.Solid{}, false
	}
	return all.Part(len(rough)).Less(done), true
}

// planOne finds the wanted pieces a board makes, and its sizes when it is cut to length for the largest of them.
func (x *index) planOne(b *BoardResult) {
	board, cut := onPlaner(b), x.planeCut()
	var pieces []plane.Piece
	var of []int
	tooWet := false
	for i := range x.out.Sizes {
		w := x.out.Sizes[i].Wanted
		switch {
		case w.Species.Name != b.Species.Name || w.Species.Name == "":
		case x.tooWetFor(b, w):
			tooWet = true
		default:
			pieces = append(pieces, plane.Piece{Thickness: w.Thickness, Width: w.Width, Length: w.Length})
			of = append(of, i)
		}
	}
	switch {
	case len(pieces) == 0 && tooWet:
		b.MakesNone = stated("makes-too-wet")
		return
	case len(pieces) == 0:
		b.MakesNone = stated("makes-none-wanted")
		return
	}
	if b.Board.Length > 0 {
		if board.Clear = fit.Clear(onSaw(b), x.cutRules()); board.Clear <= 0 {
			b.MakesNone = stated("makes-nothing-clear")
			return
		}
	}
	fits, err := plane.Fits(board, cut, pieces)
	if err != nil {
		b.MakesNone = stated("makes-not-measured")
		return
	}
	best, strips := fits.None.Piece, fits.None.Strips
	for k, m := range fits.Made {
		if k == 0 {
			best, strips = m.Piece, m.Plan.Strips
		}
		name := x.out.Sizes[of[m.Piece]].Wanted.Piece
		if m.Plan.Strips > 1 {
			name += fmt.Sprintf("%s%d)", ripped, m.Plan.Strips)
		}
		b.Makes = append(b.Makes, name)
		x.out.Sizes[of[m.Piece]].CanMake++
	}
	if len(b.Makes) == 0 {
		b.MakesNone = x.makesNone(fits.None, x.out.Sizes[of[best]].Wanted)
	}
	for k, p := range pieces {
		x.countSkip(&x.out.Sizes[of[k]], board, cut, p)
	}
	x.planeCutTo(b, board, cut, plane.Plan{Length: pieces[best].Length, Strips: max(2, strips)})
}

// ripped stands behind the name of a piece that a board makes only when it is ripped first.
const ripped = " (ripped in "

// makes reports whether a board makes a piece, ripped first or not.
func (b *BoardResult) makes(piece string) bool {
	return slices.ContainsFunc(b.Makes, func(m string) bool { return m == piece || strings.HasPrefix(m, piece+ripped) })
}

// countSkip counts a board for a piece it is long and wide enough for, and whether planing it whole would leave skip.
func (x *index) countSkip(r *SizeResult, board plane.Board, cut plane.Cut, p plane.Piece) {
	long := board.Length
	if board.Clear > 0 {
		long = min(long, board.Clear)
	}
	if p.Length > long || p.Width > 0 && board.Width == 0 {
		return
	}
	size, err := board.To(cut, plane.Plan{Length: p.Length})
	if err != nil || size.Width < p.Width {
		return
	}
	r.LargeEnough++
	if size.Thickness < p.Thickness {
		r.Skip++
	}
}

// planeCutTo computes the sizes of a board that is cut to a length before it is planed, whole and ripped; a piece of no length leaves
// it whole.
func (x *index) planeCutTo(b *BoardResult, board plane.Board, cut plane.Cut, plan plane.Plan) {
	if plan.Length <= 0 || plan.Length > board.Length {
		return
	}
	whole, err := board.To(cut, plane.Plan{Length: plan.Length})
	if err != nil {
		return
	}
	b.CutTo, b.CutStrips, b.CutPlanes, b.CutWidth = plan.Length, plan.Strips, x.sure(whole.Thickness), x.sure(whole.Width)
	if ripped, err := board.To(cut, plan); err == nil {
		b.CutRipped = x.sure(ripped.Thickness)
	}
}

// makesNone says what a board lacks for the piece it comes nearest to. Thickness and width are counted between the figures that are
// printed: the board's rounded down, the piece's, when it is no whole step, rounded up.
func (x *index) makesNone(why plane.Reason, w *Wanted) Statement {
	system := x.job.Settings.System
	from := func(need units.Length) string {
		return system.Size(need.RoundUp(system.Finest()) - x.sure(need-why.By))
	}
	switch why.Lack {
	case plane.TooThin:
		return stated("makes-too-thin", "short", from(w.Thickness), "piece", w.Piece, "strips", why.Strips)
	case plane.TooNarrow:
		return stated("makes-too-narrow", "short", from(w.Width), "piece", w.Piece)
	case plane.TooShort:
		return stated("makes-too-short", "short", system.Run(why.By), "piece", w.Piece)
	}
	return stated("makes-not-measured")
}
