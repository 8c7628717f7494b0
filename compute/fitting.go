package compute

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute/air"
	"drytally/compute/fit"
	"drytally/compute/footage"
	"drytally/compute/plane"
	"drytally/compute/target"
	"drytally/compute/units"
)

// The least leftover that goes back to the stack. Ours: shorter or narrower ones are kept by few and counted by none.
const (
	leftLength = 24 * units.Inch
	leftWidth  = 2 * units.Inch
)

// FitResult is which wanted pieces are cut from which dry boards on hand, and how each board is cut. The plan makes the most pieces
// there are to make; of plans with as many, one whose pieces stand highest in the wanted sheet; of those, one that uses up the least
// wood, the wood of boards not shown dry for a piece counted twice. How far it can be from the best is in Plan.Gap; package fit says what is tried.
type FitResult struct {
	Known  bool      // false: the plan could not be made, and Says tells why
	Plan   fit.Plan  // Plan.Boards: every board on hand with its cuts, in order of its id; Part.Piece is an index into Pieces
	Boards []int     // for each of Plan.Boards: index into Result.Boards
	Read   []FitRead // for each of Plan.Boards: what is to be read before it is cut
	Pieces []FitPiece
	Left   []FitPiece // wanted pieces that took no part, with Why

	EndTrim, Kerf         units.Length // as used
	LeftLength, LeftWidth units.Length // the least leftover that goes back to the stack
	Wood                  FitWood
	Says                  []Statement // what it comes to, how sure that is, which pieces are short, what took no part
}

// FitRead tells of a board that is cut whether it was shown dry for the use of its pieces. First false: it was, or it is not cut.
type FitRead struct {
	First  bool     // read it before it is cut
	Limit  units.MC // the most it may read for all of those pieces; 0: not known
	Pieces int      // pieces cut from it whose use it was not shown dry for
}

// FitWood is what becomes of the wood of the boards that are cut, in cubic centimetres of solid wood as measured, by the mean of a
// board's thicknesses. The parts come to Boards exactly.
type FitWood struct {
	Boards   int64
	Finished int64 // the pieces, planed and jointed
	Chips    int64 // planed and jointed off the pieces
	Sawdust  int64
	Bad      int64 // bad wood cut out
	Lost     int64 // ends trimmed, edges straightened, rests too small for the stack
	Left     int64 // back to the stack
}

// FitPiece is a wanted piece with how many of it the boards on hand make.
type FitPiece struct {
	Wanted      *Wanted
	CutWidth    units.Length // as ripped: finished and jointed on both edges
	Count, Made int
	Open        int       // of Made: cut from boards that were not shown dry for it
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
	boards, out := x.fitStock(r, pieces)
	if len(pieces) == 0 || len(boards) == 0 {
		return
	}
	rules := x.cutRules()
	rules.Key = key
	for i := range x.job.Boards { // also those that are sold or were set aside
		rules.Taken = append(rules.Taken, x.job.Boards[i].ID)
	}
	for i := range x.job.Cuts {
		rules.Taken = append(rules.Taken, x.job.Cuts[i].ID)
	}
	plan, err := fit.Cut(boards, pieces, rules)
	if err != nil {
		r.Says = append(r.Says, stated("fit-not", "why", err))
		x.out.Fit = r
		return
	}
	r.Known = true
	at := map[string]int{}
	for i, b := range boards {
		at[b.ID] = r.Boards[i]
	}
	r.Boards = nil
	slices.SortFunc(plan.Boards, func(a, b fit.Sheet) int { return CompareIDs(a.Board.ID, b.Board.ID) })
	slices.SortStableFunc(plan.Leftovers, func(a, b fit.Leftover) int { return CompareIDs(a.Board, b.Board) })
	for _, b := range plan.Boards {
		r.Boards = append(r.Boards, at[b.Board.ID])
		r.Read = append(r.Read, x.readFirst(r, &x.out.Boards[at[b.Board.ID]], b))
	}
	r.Plan = plan
	for i, n := range plan.Made {
		r.Pieces[i].Made, r.Pieces[i].Can = n, plan.Can[i]
	}
	x.fitWood(r)
	x.sayFit(r)
	r.Says = append(r.Says, out...)
	x.out.Fit = r
	x.sayStock(r)
}

// sayStock says beside the saw setting of every piece how many of it can be cut from dry boards on hand, and what is then still to saw.
func (x *index) sayStock(r *FitResult) {
	for _, p := range r.Pieces {
		if p.Made == 0 {
			continue
		}
		for i := range x.out.Sizes {
			s := &x.out.Sizes[i]
			if s.Wanted != p.Wanted || s.Boards == 0 {
				continue
			}
			rest := 0
			if p.Made < p.Count {
				var err error
				if rest, err = target.Boards(p.Count-p.Made, s.WasteShare, s.WasteRule); err != nil {
					continue
				}
			}
			s.Notes = append(s.Notes, stated("size-from-stock", "made", p.Made, "wanted", p.Count, "open", p.Open, "rest", rest))
		}
	}
}

// fitWood adds up what becomes of the wood of the boards that are cut.
func (x *index) fitWood(r *FitResult) {
	var finished, chip, sawdust, bad, lost, left, all footage.Solid
	for i, s := range r.Plan.Boards {
		if !s.Cut {
			continue
		}
		rough := x.out.Boards[r.Boards[i]].Board.Thickness
		volume := func(p fit.Part) footage.Solid {
			var v footage.Solid
			for _, t := range rough {
				if one, err := footage.SolidOf(footage.Piece{Thickness: t, Width: p.Width, Length: p.Length, Count: 1}); err == nil {
					v = v.Add(one)
				}
			}
			return v.Part(max(1, len(rough)))
		}
		for p := range s.Whole.Leaves() {
			v := volume(p)
			all = all.Add(v)
			switch p.Kind {
			case fit.Made:
				w := r.Pieces[p.Piece].Wanted
				done, err := footage.SolidOf(footage.Piece{Thickness: w.Thickness, Width: w.Width, Length: w.Length, Count: 1})
				if err == nil {
					finished, chip = finished.Add(done), chip.Add(v.Less(done))
				}
			case fit.Kerf:
				sawdust = sawdust.Add(v)
			case fit.Defect:
				bad = bad.Add(v)
			case fit.Rest:
				left = left.Add(v)
			default:
				lost = lost.Add(v)
			}
		}
	}
	// Each part is the difference of two rounded sums, so that the parts come to the whole.
	var sum footage.Solid
	part := func(v footage.Solid) int64 {
		before := sum.CubicCentimetres()
		sum = sum.Add(v)
		return sum.CubicCentimetres() - before
	}
	r.Wood = FitWood{Boards: all.CubicCentimetres(), Finished: part(finished), Chips: part(chip), Sawdust: part(sawdust), Bad: part(bad), Lost: part(lost), Left: part(left)}
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

// fitStock lists the boards on hand as they can be cut; r.Boards says which they are. It also says which take no part though they
// are on hand.
func (x *index) fitStock(r *FitResult, pieces []fit.Piece) (out []fit.Board, says []Statement) {
	var lengths []units.Length
	for _, p := range pieces {
		lengths = append(lengths, p.Length)
	}
	slices.Sort(lengths)
	lengths = slices.Compact(lengths)
	seen := map[string]bool{}
	var badWood, size []string
	for i := range x.out.Boards {
		b := &x.out.Boards[i]
		if b.Sold != "" || b.Over || b.Species.Name == "" || x.notDry(b.Board.Load) {
			continue
		}
		if !b.Bad.Known {
			badWood = append(badWood, b.Board.ID)
			continue
		}
		f, ok := x.fitBoard(b, lengths)
		if !ok {
			size = append(size, b.Board.ID)
			continue
		}
		if seen[f.ID] { // the same number in two loads
			f.ID = strings.TrimSpace(b.Board.Load + " " + f.ID)
		}
		if seen[f.ID] {
			f.ID = fmt.Sprintf("%s (row %d)", b.Board.ID, b.Board.Origin.Row)
		}
		for n := 2; seen[f.ID]; n++ { // rows of one number in two files
			f.ID = fmt.Sprintf("%s (%d)", b.Board.ID, n)
		}
		seen[f.ID] = true
		for k, p := range pieces {
			w := r.Pieces[k].Wanted
			switch {
			case x.tooWetFor(b, w):
				f.Deny = append(f.Deny, p.ID)
			case w.Species.Name == b.Species.Name && !x.shownDryFor(b, w):
				f.Unsure = true
			}
		}
		r.Boards = append(r.Boards, i)
		out = append(out, f)
	}
	slices.SortStableFunc(badWood, CompareIDs)
	slices.SortStableFunc(size, CompareIDs)
	if len(badWood) > 0 {
		says = append(says, stated("fit-out-bad", "n", len(badWood), "boards", strings.Join(badWood, ", ")))
	}
	if len(size) > 0 {
		says = append(says, stated("fit-out-size", "n", len(size), "boards", strings.Join(size, ", ")))
	}
	return out, says
}

// fitBoard is a board as it can be cut, for each length of piece as thick as it planes to once it is cut to that length.
func (x *index) fitBoard(b *BoardResult, lengths []units.Length) (fit.Board, bool) {
	cut, board, f := x.planeCut(), onPlaner(b), onSaw(b)
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

// tooWetFor reports whether a board was measured wetter than the band of a piece's use. A reading below a mark that is itself over
// the band shows nothing dry enough. A board that was not read itself counts as its load, which was dried to a limit of its own.
func (x *index) tooWetFor(b *BoardResult, w *Wanted) bool {
	if w.Use == "" {
		return false
	}
	_, _, high, _, ok := air.Band(w.Use, x.job.Settings.Region)
	if !ok {
		return false
	}
	if b.MC.State == units.NotTaken {
		l := x.resultOf(b.Board.Load)
		return l != nil && l.Band.Known && l.Band.High > high
	}
	return b.MC.MC > high
}

// mostFor is the most a board may read for a piece: the upper end of the band of the piece's use, and where that is not known the
// limit the board's load was dried to. 0: neither is known.
func (x *index) mostFor(b *BoardResult, w *Wanted) units.MC {
	if _, _, high, _, ok := air.Band(w.Use, x.job.Settings.Region); ok {
		return high
	}
	if l := x.resultOf(b.Board.Load); l != nil && l.Band.Known {
		return l.Band.High
	}
	return 0
}

// shownDryFor reports whether a board was found dry enough for a piece: by its own reading with all that its correction leaves open,
// or, when it was not read itself, by the verdict of its load.
func (x *index) shownDryFor(b *BoardResult, w *Wanted) bool {
	most := x.mostFor(b, w)
	switch b.MC.State {
	case units.NotTaken:
		l := x.resultOf(b.Board.Load)
		return most > 0 && l != nil && (l.Verdict == DryForUse || l.Verdict == DryButHeldBack) && l.Band.Known && l.Band.High <= most
	case units.AboveRange:
		return false
	}
	return max(b.MC.MC, b.MC.High) <= most
}

// readFirst tells whether a board must be read before it is cut as planned, and counts the pieces that hang on it.
func (x *index) readFirst(r *FitResult, b *BoardResult, s fit.Sheet) (read FitRead) {
	for p := range s.Whole.Leaves() {
		if p.Kind != fit.Made || x.shownDryFor(b, r.Pieces[p.Piece].Wanted) {
			continue
		}
		most := x.mostFor(b, r.Pieces[p.Piece].Wanted)
		r.Pieces[p.Piece].Open++
		if !read.First || most != 0 && (read.Limit == 0 || most < read.Limit) {
			read.Limit = most
		}
		read.First = true
		read.Pieces++
	}
	return read
}

// boardFootSolid is a board foot in cubic centimetres: 144 cubic inches of 16.387064.
const boardFootSolid = 144 * 16.387064

// sayUnnamed says of which loads boards went without their numbers: they may be among those the pieces are cut from.
func (x *index) sayUnnamed(r *FitResult) {
	for i := range x.job.Loads {
		load := &x.job.Loads[i]
		cut := 0
		for k, s := range r.Plan.Boards {
			if at, ok := x.loadOf(x.out.Boards[r.Boards[k]].Board.Load); ok && s.Cut && at == key(load.ID) {
				cut++
			}
		}
		n, sales := 0, []string(nil)
		for k := range x.job.Sales {
			row := &x.job.Sales[k]
			if at, ok := x.loadOf(row.Load); ok && at == key(load.ID) && len(row.Boards) == 0 && row.Pieces > 0 {
				n += row.Pieces
				if row.ID != "" && !slices.Contains(sales, row.ID) {
					sales = append(sales, row.ID)
				}
			}
		}
		if n > 0 && cut > 0 {
			r.Says = append(r.Says, stated("fit-unnamed", "n", n, "load", load.ID, "sales", strings.Join(sales, ", "), "several", len(sales) > 1, "cut", cut))
		}
	}
}

// sayFit writes what the plan comes to in words.
func (x *index) sayFit(r *FitResult) {
	wanted, made, cut := 0, 0, 0
	for _, p := range r.Pieces {
		wanted, made = wanted+p.Count, made+p.Made
	}
	open, hang, unsure := 0, 0, false
	var byLoad []string // cut, not read, and dry by what the others of the load read
	for i, b := range r.Plan.Boards {
		unsure = unsure || b.Board.Unsure
		if b.Cut {
			cut++
		}
		if r.Read[i].First {
			open++
			hang += r.Read[i].Pieces
		} else if b.Cut && x.out.Boards[r.Boards[i]].MC.State == units.NotTaken {
			byLoad = append(byLoad, b.Board.ID)
		}
	}
	show := x.job.Settings.System.Solid
	r.Says = append(r.Says, stated("fit-made", "made", made, "wanted", wanted, "cut", cut, "boards", len(r.Boards), "used", show(r.Wood.Boards-r.Wood.Left)))
	if open > 0 {
		r.Says = append(r.Says, stated("fit-unread", "n", open, "cut", cut, "pieces", hang, "made", made))
	}
	if len(byLoad) > 0 {
		r.Says = append(r.Says, stated("fit-by-load", "n", len(byLoad), "boards", strings.Join(byLoad, ", ")))
	}
	x.sayUnnamed(r)
	switch gap := r.Plan.Gap(); {
	case r.Plan.Proven:
		r.Says = append(r.Says, stated("fit-best", "unsure", unsure))
	case gap.Pieces > 0:
		r.Says = append(r.Says, stated("fit-gap-pieces", "n", gap.Pieces))
	case gap.Order > 0:
		r.Says = append(r.Says, stated("fit-gap-order"))
	default:
		r.Says = append(r.Says, stated("fit-gap-wood", "less", show(int64(float64(gap.Wood)*boardFootSolid/100)), "unsure", unsure))
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
	if made > 0 {
		parts := x.job.Settings.System.Solids(r.Wood.Finished, r.Wood.Chips, r.Wood.Sawdust) // as in the table of the wood
		r.Says = append(r.Says, stated("fit-chips", "made", made, "chips", parts[1], "sawdust", parts[2]))
	}
}
