package compute

import (
	"cmp"
	"slices"

	"drytally/compute/fit"
	"drytally/compute/units"
)

// BadWood is what is cut out of a board. Known false: something is given that can't be placed, and nothing is cut from the board.
type BadWood struct {
	Known   bool
	Spans   []fit.Span   // from the butt end, in order and apart from one another
	AtEnds  units.Length // lost at the ends, wherever: laid out at the top end
	Written bool         // anything is given for the board
}

// checkBadWood places the bad wood of every board, measured from the butt end.
func checkBadWood(x *index) {
	for i := range x.out.Boards {
		r := &x.out.Boards[i]
		c := r.Board.CutOut
		r.Bad = BadWood{Known: !c.Unread, AtEnds: c.Total, Written: c.Unread || c.Total > 0 || len(c.Stretches) > 0}
		if c.Unread || !r.Bad.Written || r.Board.Length == 0 {
			r.Bad.Known = r.Bad.Known && !r.Bad.Written
			continue
		}
		x.placeBadWood(r)
	}
}

// placeBadWood turns what is written into stretches from the butt end. A stretch that lies off the board shows that the board was
// measured otherwise than it is written: then none is used.
func (x *index) placeBadWood(r *BoardResult) {
	b, long := r.Board, r.Board.Length
	off := func(problem string, args ...any) {
		x.say("J071", b.Origin.At("cut out"), "", "check the length of the board, and from which end the bad wood was measured", problem, args...)
		r.Bad.Known, r.Bad.Spans, r.Bad.AtEnds = false, nil, 0
	}
	if b.CutOut.Total >= long {
		off("board %q is to lose %s, and it is %s long", b.ID, x.job.Settings.System.Run(b.CutOut.Total), x.job.Settings.System.Run(long))
		return
	}
	var all []fit.Span
	for _, s := range b.CutOut.Stretches {
		if s.To > long {
			off("bad wood of board %q ends at %s, and the board is %s long", b.ID, x.job.Settings.System.Run(s.To), x.job.Settings.System.Run(long))
			return
		}
		if s.Top {
			all = append(all, fit.Span{From: long - s.To, To: long - s.From})
		} else {
			all = append(all, fit.Span{From: s.From, To: s.To})
		}
	}
	slices.SortFunc(all, func(a, b fit.Span) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	overlap := false
	for _, s := range all {
		n := len(r.Bad.Spans)
		if n == 0 || s.From > r.Bad.Spans[n-1].To {
			r.Bad.Spans = append(r.Bad.Spans, s)
			continue
		}
		overlap = overlap || s.From < r.Bad.Spans[n-1].To
		r.Bad.Spans[n-1].To = max(r.Bad.Spans[n-1].To, s.To)
	}
	if len(r.Bad.Spans) == 1 && r.Bad.Spans[0] == (fit.Span{To: long}) {
		off("the bad wood of board %q is all of it", b.ID)
		return
	}
	if overlap {
		x.say("J072", b.Origin.At("cut out"), "", "nothing to do if they overlap; else check from which end each was measured",
			"stretches of bad wood of board %q overlap; they were taken as one", b.ID)
	}
}
