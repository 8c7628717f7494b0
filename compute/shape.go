package compute

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"drytally/compute/profile"
	"drytally/compute/units"
)

// shapes works out the wanted pieces as they are computed: profile read, face, lap and overall width from each other, area from
// height and run of a wall, sizes of a door's parts from its width. The rows themselves stay as they were read.
func (x *index) shapes() {
	x.wanted = slices.Clone(x.job.Wanted)
	x.shape = make([]profile.Shape, len(x.wanted))
	x.shapeNotes = make([][]Statement, len(x.wanted))
	for i := range x.wanted {
		w := &x.wanted[i]
		kind, ok := profile.Parse(w.Profile)
		if !ok {
			x.say("J064", w.Origin.At("profile"), w.Profile, "write square, lapped, beveled, tongue and groove, board and batten, batten, stile, rail or panel",
				"%q is not a profile drytally knows, or names two; %q is computed as square", w.Profile, w.Piece)
			x.noteShape(i, "profile-unknown", "profile", w.Profile)
		}
		for _, field := range w.Unread {
			at, stands := w.Origin.At(field), ""
			if x.job.Stands != nil {
				stands = x.job.Stands(at)
			}
			x.noteShape(i, "cell-unread", "field", field, "cell", strings.TrimPrefix(at.String(), at.File+": "), "stands", stands)
		}
		x.shape[i].Kind = kind
	}
	for i := range x.wanted {
		x.doorPart(i)
		x.resolve(i)
		x.wall(i)
	}
	for i := range x.wanted {
		x.battenCount(i)
	}
}

func (x *index) noteShape(i int, name string, with ...any) {
	x.shapeNotes[i] = append(x.shapeNotes[i], stated(name, with...))
}

// resolve works out face, joint and overall width.
func (x *index) resolve(i int) {
	w := &x.wanted[i]
	s, err := profile.Of(x.shape[i].Kind, profile.Size{Overall: w.Width, Shows: w.Face, Joint: w.Joint})
	var conflict profile.ErrConflict
	switch {
	case errors.As(err, &conflict) && conflict.Want == 0:
		x.say("J065", w.Origin.At("face"), x.show(w.Face), "correct one of the two", "%q: what shows, %s, is more than the overall width, %s; it is computed as showing all of it", w.Piece, x.show(w.Face), x.show(w.Width))
	case errors.As(err, &conflict):
		field := "lap"
		if w.Joint == 0 {
			field = "finished width"
		}
		x.say("J065", w.Origin.At(field), x.show(s.Joint), "correct one of the three", "%q: face and lap or tongue come to %s, but the overall width is %s; computed with the width and a lap of %s",
			w.Piece, x.show(conflict.Want), x.show(s.Overall), x.show(s.Joint))
	}
	x.shape[i] = s
	if s.Usual && err == nil {
		x.noteShape(i, "profile-usual", "kind", s.Kind, "joint", x.show(s.Joint), "face", x.show(s.Shows), "source", s.Source)
		x.cite(s.Source)
	}
	if s.Kind == profile.Panel {
		return
	}
	if s.Overall > 0 {
		w.Width = s.Overall
	}
	if s.Shows > 0 && s.Shows < s.Overall {
		w.Face = s.Shows
	} else {
		w.Face = 0
	}
}

// wall takes the area from height and run, or the run from area and height; openings come off it.
func (x *index) wall(i int) {
	w := &x.wanted[i]
	if k := x.shape[i].Kind; k == profile.Stile || k == profile.Rail || k == profile.Panel {
		return // height and run are those of the door
	}
	of := func(a, b units.Length) float64 { return a.Feet() * b.Feet() }
	switch {
	case w.WallHeight > 0 && w.WallRun > 0 && w.Area > 0:
		if got := of(w.WallHeight, w.WallRun); got > w.Area*1.02 || got < w.Area*0.98 {
			x.say("J065", w.Origin.At("area"), fmt.Sprintf("%.1f", w.Area), "correct one of the three; write openings in their own column", "%q: the area is %.1f square feet, but height and run come to %.1f; computed with the area",
				w.Piece, w.Area, got)
			w.WallRun = units.Feet(w.Area / w.WallHeight.Feet())
		}
	case w.WallHeight > 0 && w.WallRun > 0:
		w.Area = of(w.WallHeight, w.WallRun)
	case w.WallHeight > 0 && w.Area > 0:
		w.WallRun = units.Feet(w.Area / w.WallHeight.Feet())
	case w.WallRun > 0 && w.Area > 0:
		w.WallHeight = units.Feet(w.Area / w.WallRun.Feet())
	}
	if w.Openings > 0 && w.Openings >= w.Area {
		x.say("J066", w.Origin.At("openings"), fmt.Sprintf("%.1f", w.Openings), "check the area and the openings", "%q: the openings, %.1f square feet, leave nothing of the area of %.1f; they were not taken off",
			w.Piece, w.Openings, w.Area)
		w.Openings = 0
	}
}

// doorPart works out what a door's width and height say of its parts.
func (x *index) doorPart(i int) {
	w, kind := &x.wanted[i], x.shape[i].Kind
	switch {
	case kind == profile.Stile && w.Length == 0 && w.WallHeight > 0:
		w.Length = w.WallHeight
		x.noteShape(i, "door-stile", "length", x.job.Settings.System.Run(w.Length))
	case kind == profile.Rail && w.WallRun > 0:
		stile, ok := x.stileOf(i)
		clear := w.WallRun - 2*stile
		if !ok || clear <= 0 {
			x.noteShape(i, "door-no-stile")
			return
		}
		length := clear + 2*w.Joint
		if w.Length != 0 && w.Length != length {
			x.say("J065", w.Origin.At("length"), x.show(w.Length), "correct one of them", "%q is %s long, but a door %s wide with stiles of %s and tenons of %s needs %s; computed as written", w.Piece, x.show(w.Length), x.show(w.WallRun), x.show(stile), x.show(w.Joint), x.show(length))
			return
		}
		w.Length = length
		x.noteShape(i, "door-rail", "length", x.show(length), "clear", x.show(clear), "tenon", x.orNothing(w.Joint), "door", x.show(w.WallRun), "stile", x.show(stile))
	case kind == profile.Panel && w.WallRun > 0 && w.Face == 0:
		stile, ok := x.stileOf(i)
		if !ok || w.WallRun <= 2*stile {
			x.noteShape(i, "door-no-stile")
			return
		}
		w.Face = w.WallRun - 2*stile
	}
}

func (x *index) orNothing(l units.Length) string {
	if l == 0 {
		return ""
	}
	return x.show(l)
}

// stileOf finds the width of the stiles that go with a part of a door: the nearest row of stiles above, else below, on the same sheet.
func (x *index) stileOf(i int) (units.Length, bool) {
	best, at := units.Length(0), -1
	for k := range x.wanted {
		if x.shape[k].Kind != profile.Stile || x.wanted[k].Width == 0 || !x.wanted[k].Origin.SameSheet(x.wanted[i].Origin) {
			continue
		}
		if at < 0 || k < i {
			best, at = x.wanted[k].Width, k
		}
	}
	return best, at >= 0
}

// boardsOfBatten finds the boards whose gaps a row of battens covers: the nearest row of board and batten above, else below, on the
// same sheet.
func (x *index) boardsOfBatten(i int) (int, bool) {
	at := -1
	for k := range x.wanted {
		if x.shape[k].Kind == profile.BoardBatten && x.wanted[k].Origin.SameSheet(x.wanted[i].Origin) && (at < 0 || k < i) {
			at = k
		}
	}
	return at, at >= 0
}

// panelWidth works out a panel: it shows between the stiles, sits in a groove on both sides, and leaves room to swell.
func (x *index) panelWidth(r *SizeResult) {
	w := r.Wanted
	if r.Shape.Kind != profile.Panel || w.Face == 0 || w.Joint == 0 {
		return
	}
	between := w.Face + 2*w.Joint // from groove bottom to groove bottom
	probe := *r
	probe.Wanted = &Wanted{Species: w.Species, Width: between, Use: w.Use, Piece: w.Piece}
	play, known := units.Length(0), false
	if s := x.seasonOf(&probe); s.Known && len(s.Moves) > 0 {
		play, known = s.Moves[0].LeastGap, true
	}
	if w.Width == 0 {
		w.Width = between - play
		r.Notes = append(r.Notes, stated("panel-width", "width", x.show(w.Width), "face", x.show(w.Face), "groove", x.show(w.Joint), "play", x.orNothing(play), "known", known))
	}
	r.FinishWidth, r.Shape.Overall, r.Shape.Shows, r.Shape.Joint = w.Width, w.Width, w.Face, w.Joint
}
