package compute

import (
	"errors"
	"fmt"
	"strings"

	"drytally/compute/air"
	"drytally/compute/profile"
	"drytally/compute/shrink"
	"drytally/compute/source"
	"drytally/compute/target"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// sawingOf turns the sheet's way of sawing into that of the shrinkage formulas. Not said is computed as mixed.
func sawingOf(s Sawing) shrink.Sawing {
	switch s.Kind {
	case FlatSawn:
		return shrink.Sawing{Kind: shrink.Flat}
	case QuarterSawn:
		return shrink.Sawing{Kind: shrink.Quarter}
	case RingAngle:
		return shrink.Sawing{Kind: shrink.Angle, Degrees: s.Angle}
	}
	return shrink.Sawing{Kind: shrink.Mixed}
}

// sizeWanted computes what to set the saw to for every wanted piece.
func (x *index) sizeWanted() {
	for i := range x.wanted {
		w := &x.wanted[i]
		r := SizeResult{Wanted: w, FinishThickness: w.Thickness, FinishWidth: w.Width, Pieces: w.Pieces, WasteShare: w.Waste, Shape: x.shape[i], Notes: x.shapeNotes[i]}
		if why, ok := x.size(&r); !ok {
			r.Known, r.Why = false, why
		}
		x.out.Sizes = append(x.out.Sizes, r)
	}
	x.oneSettings()
	x.sayCoverBy()
}

// targetFor gives the moisture content a piece is dried to: the owner's target, else the average of the band of its use.
func (x *index) targetFor(w *Wanted) (units.MC, source.Source, bool) {
	if t := x.job.Settings.Target; t != 0 {
		return t, source.Source{Document: "the owner's target", Status: source.Owner}, true
	}
	for _, use := range []string{w.Use, strings.TrimSpace(w.Use + " " + w.Piece), w.Piece} {
		if use == "" {
			continue
		}
		if _, mean, _, row, ok := air.Band(use, x.job.Settings.Region); ok {
			return mean, row.Source, true
		}
	}
	return 0, source.Source{}, false
}

// sawingFor gives how a piece is sawn: as its row says, else as this week's cuts of the wood were all sawn.
func (x *index) sawingFor(w *Wanted) Sawing {
	if w.Sawing.Kind != SawingNotSaid {
		return w.Sawing
	}
	return x.sawingOfCuts(w.Species, "")
}

// boardSawing gives how a board was sawn: as its row says, else as the cuts of its load were all sawn, else as this week's cuts of the
// wood were.
func (x *index) boardSawing(b *BoardResult) Sawing {
	if b.Board.Sawing.Kind != SawingNotSaid {
		return b.Board.Sawing
	}
	k := [2]string{b.Species.Name, key(b.Board.Load)}
	s, ok := x.sawn[k]
	if !ok {
		if s = x.sawingOfCuts(b.Species, b.Board.Load); s.Kind == SawingNotSaid {
			s = x.sawingOfCuts(b.Species, "")
		}
		if x.sawn == nil {
			x.sawn = map[[2]string]Sawing{}
		}
		x.sawn[k] = s
	}
	return s
}

// sawingOfCuts gives how the cuts of a wood for a load were sawn, or all cuts of the wood when no load is named; mixed when they differ,
// not said when none says.
func (x *index) sawingOfCuts(wood wood.Species, load string) Sawing {
	var s Sawing
	for i := range x.job.Cuts {
		c := &x.job.Cuts[i]
		if c.Species.Name != wood.Name || c.Sawing.Kind == SawingNotSaid || load != "" && !SameID(c.Load, load) {
			continue
		}
		if s.Kind != SawingNotSaid && s != c.Sawing {
			return Sawing{Kind: MixedSawn}
		}
		s = c.Sawing
	}
	return s
}

// size computes one wanted piece. It returns why it could not.
func (x *index) size(r *SizeResult) (Statement, bool) {
	w, s := r.Wanted, x.job.Settings
	if w.Species.Name == "" {
		return stated("size-no-species"), false
	}
	var ok bool
	if r.TargetMC, r.TargetSrc, ok = x.targetFor(w); !ok {
		return stated("size-no-target"), false
	}
	x.cite(r.TargetSrc)
	r.Sawing = x.sawingFor(w)
	x.panelWidth(r)
	r.PlaneThickness, r.PlaneWidth = 2*s.PlanePer, 2*s.EdgeCut
	thick, err := x.setting(r, shrink.Thickness, w.Thickness, r.PlaneThickness)
	if err != nil {
		return x.noSize(w, err), false
	}
	wide, err := x.setting(r, shrink.Width, r.FinishWidth, r.PlaneWidth)
	if err != nil {
		return x.noSize(w, err), false
	}
	r.Known = true
	r.Thickness, r.ThicknessExact, r.DryThickness, r.ShrinkThickness = thick.at, thick.formula, thick.dry, thick.shrink
	r.Width, r.WidthExact, r.DryWidth, r.ShrinkWidth = wide.at, wide.formula, wide.dry, wide.shrink
	r.CleansUp = target.Both(thick.cleans, wide.cleans)
	if k := r.Sawing.Kind; k == SawingNotSaid || k == MixedSawn {
		r.Notes = append(r.Notes, stated("size-sawing-not-said"))
	}
	x.nameSize(r)
	if err := x.countSize(r); err != nil {
		return x.noSize(w, err), false
	}
	// A predicted size is written to the 32nd, its range outward.
	step := units.Fraction(1, 32)
	if s.System == units.Metric {
		step = units.Millimetre
	}
	show := func(l units.Length) string { return s.System.SizeTo(l, step) }
	down := func(l units.Length) string { return s.System.Size(l / step * step) }
	up := func(l units.Length) string { return s.System.Size(l.RoundUp(step)) }
	r.Sentence = stated("set-saw", "thickness", s.System.Size(r.Thickness), "width", s.System.Size(r.Width),
		"drythickness", show(r.DryThickness.Value), "drywidth", show(r.DryWidth.Value),
		"tlow", down(r.DryThickness.Low), "thigh", up(r.DryThickness.High), "wlow", down(r.DryWidth.Low), "whigh", up(r.DryWidth.High),
		"share", wholePercent(r.CleansUp), "ft", s.System.Size(w.Thickness), "fw", s.System.Size(w.Width))
	return Statement{}, true
}

func (x *index) noSize(w *Wanted, err error) Statement {
	if !errors.Is(err, shrink.ErrNoShrinkage) {
		x.say("J025", w.Origin.At("finished thickness"), "", "check the sizes and the settings", "no saw setting for %q: %v", w.Piece, err)
	}
	return stated("size-no-shrinkage", "species", w.Species.Name, "why", err)
}

// set is a saw setting for one dimension.
type set struct {
	at, formula    units.Length
	dry            units.LengthRange
	shrink, cleans float64
}

// setting computes one dimension. The formula of the handbook covers the spread of the saw and takes the wood's average
// shrinkage; on wide boards the wood's own spread is the larger one, so the saw is set to cover both and the share the
// owner allows to come out scant is really kept. The formula's figure is kept beside it.
func (x *index) setting(r *SizeResult, d shrink.Dimension, finished, planing units.Length) (set, error) {
	s := x.job.Settings
	across, own, err := x.across(r.Wanted.Species, d, sawingOf(r.Sawing))
	if err != nil {
		return set{}, err
	}
	r.Own = append(r.Own, own...)
	r.Notes = append(r.Notes, houseNotes(d, own)...)
	// The share of scant boards the owner allows is halved between thickness and width, so that it holds for the piece.
	want := target.Want{Finished: finished, Planing: planing, Direction: across, MC: r.TargetMC, SawSpread: x.out.SawSpread.Used, Scant: s.ScantShare / 2, Step: s.SawStep}
	t, err := target.For(want)
	if err != nil {
		return set{}, err
	}
	out := set{at: max(t.Full, t.Setting), formula: t.Exact, shrink: t.Shrink}
	if out.dry, err = shrink.Predict(out.at, across, r.TargetMC, x.out.SawSpread.Used); err != nil {
		return set{}, err
	}
	out.cleans, err = target.CleansUp(out.at, want)
	return out, err
}

// countSize counts pieces, boards, footage and weight of a wanted piece. Waste is counted both ways there are in print, and the
// owner's way, or adding it, gives the boards to saw.
func (x *index) countSize(r *SizeResult) error {
	w := r.Wanted
	r.WasteRule = x.job.Settings.WasteRule
	count := func(rule target.WasteRule) (boards int, feet float64, err error) {
		if r.Pieces > 0 {
			boards, err = target.Boards(r.Pieces, w.Waste, rule)
			return boards, float64(boards) * w.Length.Feet(), err
		}
		return x.coverWith(r, rule)
	}
	if w.Area > 0 {
		if err := x.cover(r); err != nil {
			return err
		}
	}
	if w.Pieces > 0 {
		r.LinealNet = float64(w.Pieces) * w.Length.Feet()
	} else {
		r.Pieces = 0
	}
	added, addedFeet, err := count(target.AddWaste)
	if err != nil {
		return err
	}
	taken, takenFeet, err := count(target.LoseWaste)
	if err != nil {
		return err
	}
	r.BoardsAdded, r.BoardsTaken, r.Boards, r.LinealFeet = added, taken, added, addedFeet
	if r.WasteRule == target.LoseWaste {
		r.Boards, r.LinealFeet = taken, takenFeet
	}
	if w.Pieces == 0 {
		r.Pieces = r.ofLength(r.LinealNet)
		if c := &r.Cover; c.Openings > 0 && r.Pieces > 0 && r.Pieces < c.Across {
			c.Says = append(c.Says, stated("cover-pieces", "pieces", r.Pieces, "across", c.Across))
		}
	}
	if w.Length == 0 || r.Boards == 0 {
		r.Notes = append(r.Notes, stated("size-lineal", "length", x.job.Settings.System.Running(r.LinealFeet)))
		return nil
	}
	return x.footageOfSize(r)
}

// coverWith gives the boards and the running feet for the running feet needed, with waste by a rule.
func (x *index) coverWith(r *SizeResult, rule target.WasteRule) (boards int, feet float64, err error) {
	feet, err = rule.With(r.LinealNet, r.Wanted.Waste)
	return r.ofLength(feet), feet, err
}

// ofLength gives the boards that hold so many running feet; 0 when no length is given. An upright board longer than the wall is high
// counts with whole heights only.
func (r *SizeResult) ofLength(feet float64) int {
	length := r.Wanted.Length
	if r.Shape.Kind == profile.BoardBatten {
		length = uprightPiece(length, r.Cover.Height)
	}
	if length == 0 {
		return 0
	}
	return target.OfLength(feet, length)
}

// wholePercent writes a share as whole boards of a hundred, rounded down and never 100 while one may fail.
func wholePercent(share float64) string {
	n := int(share*100 + 1e-9)
	if n >= 100 {
		n = 99
	}
	return fmt.Sprint(n)
}

// tallyCuts gives every row of the saw's tally its footage and the size it dries to.
func (x *index) tallyCuts() {
	tally := x.newTally()
	for i := range x.job.Cuts {
		c := &x.job.Cuts[i]
		r := CutResult{Cut: c, Green: tally.green(c)}
		r.TargetMC = x.cutTarget(c)
		if r.TargetMC != 0 {
			r.DryThickness = x.predict(c.Species, shrink.Thickness, c.Sawing, c.Thickness, r.TargetMC)
			r.DryWidth = x.predict(c.Species, shrink.Width, c.Sawing, c.Width, r.TargetMC)
		}
		x.out.Cuts = append(x.out.Cuts, r)
	}
}

// cutTarget is the moisture content a green board is dried to: that of its load's band, or the owner's target.
func (x *index) cutTarget(c *Cut) units.MC {
	if i, ok := x.loads[key(c.Load)]; ok && c.Load != "" {
		if b := x.bandOf(&x.job.Loads[i]); b.Known && b.Mean != 0 {
			return b.Mean
		}
	}
	if t := x.job.Settings.Target; t != 0 {
		return t
	}
	for i := range x.wanted {
		w := &x.wanted[i]
		if w.Species.Name == c.Species.Name {
			if mc, _, ok := x.targetFor(w); ok {
				return mc
			}
		}
	}
	return 0
}

// predict gives a predicted dry size, or nothing when the species has no figure.
func (x *index) predict(s wood.Species, d shrink.Dimension, saw Sawing, green units.Length, mc units.MC) units.LengthRange {
	across, _, err := x.across(s, d, sawingOf(saw))
	if err != nil {
		return units.LengthRange{}
	}
	r, err := shrink.Predict(green, across, mc, x.out.SawSpread.Used)
	if err != nil {
		return units.LengthRange{}
	}
	return r
}
