package compute

import (
	"slices"

	"drytally/compute/profile"
	"drytally/compute/target"
	"drytally/compute/units"
)

// panelHold is how deep a panel is to sit in each groove at its driest. This project's choice.
var panelHold = units.Fraction(1, 8)

// seasonOfShape holds the movement through the year against what the profile leaves for it: lap or tongue, the gap and the battens of
// board and batten, the grooves of a panel. What is too small is said on the sheet and in the findings.
func (x *index) seasonOfShape(r *SizeResult) {
	s := &r.Season
	if !s.Known {
		return
	}
	var gap, lap, swell, shrink units.Length
	for _, m := range s.Moves {
		gap, lap, swell, shrink = max(gap, m.LeastGap), max(lap, m.LeastLap), max(swell, m.SwellMost), max(shrink, m.ShrinkMost)
	}
	w := r.Wanted
	tell := func(field, hint, problem string, args ...any) {
		x.say("J068", w.Origin.At(field), "", hint, "%q: "+problem, append([]any{w.Piece}, args...)...)
	}
	switch r.Shape.Kind {
	case profile.BoardBatten:
		if w.Gap > 0 && gap > w.Gap { // without a gap written, the least one is said for all pieces
			s.Says = append(s.Says, stated("season-gap-short", "given", x.show(w.Gap), "need", x.show(gap)))
			tell("gap", "leave a wider gap", "the gap of %s is less than the %s the boards can swell", x.show(w.Gap), x.show(gap))
		}
		x.seasonOfBattens(r, lap, tell)
	case profile.Panel:
		if w.Face == 0 || w.Joint == 0 {
			return
		}
		s.Says = slices.DeleteFunc(s.Says, func(t Statement) bool { return t.Name == "season-leave" })
		play := w.Face + 2*w.Joint - r.FinishWidth
		held := (r.FinishWidth - shrink - w.Face) / 2
		switch {
		case play < swell:
			s.Says = append(s.Says, stated("panel-tight", "play", x.show(max(0, play)), "swell", x.thin(swell)))
			tell("finished width", "cut the panel narrower, or the grooves deeper", "the grooves leave %s of room, and the panel can swell by %s", x.show(max(0, play)), x.thin(swell))
		case held < panelHold:
			s.Says = append(s.Says, stated("panel-loose", "held", x.show(max(0, held)), "least", x.show(panelHold)))
			tell("lap", "make the panel wider, or the grooves deeper", "at its driest the panel sits only %s deep in each groove", x.show(max(0, held)))
		default:
			s.Says = append(s.Says, stated("panel-floats", "play", x.show(play), "swell", x.thin(swell), "held", x.show(held)))
		}
	case profile.Stile, profile.Rail:
		s.Says = slices.DeleteFunc(s.Says, func(t Statement) bool { return t.Name == "season-leave" })
	default:
		if s.LapGiven > 0 && lap >= s.LapGiven {
			tell("face", "make lap or tongue wider, or the wood drier", "the lap or tongue of %s is no more than the %s the piece can shrink", x.show(s.LapGiven), x.show(lap))
		}
	}
}

// seasonOfBattens looks for the battens of a row of boards and holds their overlap against what a board can shrink.
func (x *index) seasonOfBattens(r *SizeResult, lap units.Length, tell func(field, hint, problem string, args ...any)) {
	batten, ok := x.battenOf(r.Wanted)
	if !ok {
		return
	}
	over := target.Overlap(batten, r.Wanted.Gap)
	good := over > lap
	r.Season.Says = append(r.Season.Says, stated("season-batten", "batten", x.show(batten), "overlap", x.show(max(0, over)), "need", x.orNothing(lap), "ok", good))
	if !good {
		tell("gap", "use wider battens, or a smaller gap", "battens of %s lap each board by %s, no more than the %s a board can shrink", x.show(batten), x.show(max(0, over)), x.show(lap))
	}
}
