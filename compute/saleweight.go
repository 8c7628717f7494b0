package compute

import (
	"fmt"
	"slices"

	"drytally/compute/footage"
	"drytally/compute/haul"
	"drytally/compute/units"
)

// SaleWeight is about what the boards of a sale weigh, and how many trips of the trailer that is.
type SaleWeight struct {
	haul.Range              // of all boards, rounded outward; not known when a size or a figure of the wood is missing
	Boards     int          // weighed
	Measured   int          // of these, by a moisture content of their own or of their load
	Open       int          // of these, of whose moisture nothing is known: from dry to green
	Estimated  bool         // boards not named: by the lightest and the heaviest boards of their load
	Rated      units.Mass   // what the trailer may carry; 0 when not given
	Trips      []int        // boards on each trip, at their heavy end; empty when no rated load is given
	Heaviest   units.Mass   // the heaviest board, at its heavy end
	Says       []Statement  // the weight, what it rests on, the trips
	TooMuch    Statement    // that one trip of the trailer does not carry it, which Says holds too; no name when it does
	pieces     []haul.Range // in the order they are laid on
}

// rated gives what the trailer may carry: its rated load, or gross rating less empty weight; the less of the two.
func (x *index) rated() units.Mass {
	s := x.job.Settings
	load := s.TrailerLoad
	if s.TrailerGross == 0 || s.TrailerEmpty == 0 {
		return load
	}
	left := s.TrailerGross - s.TrailerEmpty
	switch {
	case left <= 0:
		return load
	case load == 0:
		return left
	}
	return min(load, left)
}

// weighSales gives every sale about what its boards weigh.
func (x *index) weighSales() {
	s := x.job.Settings
	if s.TrailerGross != 0 && s.TrailerEmpty != 0 && s.TrailerGross <= s.TrailerEmpty {
		for _, u := range s.Used {
			if u.Name == "trailer gross rating" {
				x.say("J082", u.Place, u.Value, "check the two", "the trailer's gross rating of %s is not more than its empty weight of %s", s.System.Mass(s.TrailerGross), s.System.Mass(s.TrailerEmpty))
			}
		}
	}
	for i := range x.out.Sales {
		if x.out.Sales[i].OwnUse == "" { // what stays at the mill goes on no trailer
			x.weighSale(&x.out.Sales[i])
		}
	}
}

// weighSale gives the weight of what is sold, board by board, and the trips it takes; or what is missing for it.
func (x *index) weighSale(s *SaleResult) {
	w := &s.Weight
	missing := ""
	for _, at := range s.Boards {
		r, known, err := x.boardWeight(&x.out.Boards[at])
		if err != nil {
			missing = fmt.Sprintf("board %s: %v", x.out.Boards[at].Board.ID, err)
			break
		}
		if known {
			w.Measured++
		} else {
			w.Open++
		}
		w.pieces = append(w.pieces, r)
	}
	for _, row := range s.Sales {
		if len(row.Boards) == 0 && missing == "" {
			missing = x.unnamedWeight(w, row)
		}
	}
	if len(s.Missing) > 0 && missing == "" {
		missing = "it names boards that are not in the sheets"
	}
	if missing != "" || len(w.pieces) == 0 {
		if missing == "" {
			missing = "it has no boards"
		}
		s.Weight = SaleWeight{Says: []Statement{stated("sale-weight-unknown", "why", missing)}}
		return
	}
	for _, p := range w.pieces {
		w.Range = w.Range.Add(p)
		w.Heaviest = max(w.Heaviest, p.High)
	}
	w.Boards, w.Range = len(w.pieces), x.outward(w.Range)
	x.cite(haul.SpreadSource())
	show := x.job.Settings.System.Mass
	w.Says = append(w.Says, stated("sale-weight", "low", show(w.Low), "high", show(w.High), "n", w.Boards))
	if w.Open > 0 {
		w.Says = append(w.Says, stated("sale-weight-open", "n", w.Open))
	}
	if w.Estimated {
		w.Says = append(w.Says, stated("sale-weight-unnamed"))
	}
	x.trips(w)
}

// trips counts trips with every board at its heavy end. What is compared is what is printed: when the whole range lies within
// the rated load, it is one trip.
func (x *index) trips(w *SaleWeight) {
	w.Rated = x.rated()
	if w.Rated == 0 {
		return
	}
	show := x.job.Settings.System.Mass
	if w.High <= w.Rated {
		w.Trips = []int{w.Boards}
		w.Says = append(w.Says, stated("sale-one-trip", "rated", show(w.Rated), "high", show(w.High)))
		return
	}
	var high []units.Mass
	for _, p := range w.pieces {
		high = append(high, p.High)
	}
	trips, err := haul.Trips(high, w.Rated)
	if err != nil {
		w.TooMuch = stated("sale-too-heavy", "rated", show(w.Rated), "board", show(w.Heaviest))
		w.Says = append(w.Says, w.TooMuch)
		return
	}
	if len(trips) == 1 { // the sum is under the rated load, but not as it is printed
		last := trips[0] - 1
		trips = []int{last, 1}
		if last == 0 {
			trips = []int{1}
		}
	}
	w.Trips = trips
	w.TooMuch = stated("sale-trips", "rated", show(w.Rated), "n", len(trips), "high", show(w.High), "most", slices.Max(trips))
	w.Says = append(w.Says, w.TooMuch)
}

// boardWeight gives about what a dry board weighs at its own moisture content, else at its load's mean, else from dry to green.
func (x *index) boardWeight(b *BoardResult) (r haul.Range, known bool, err error) {
	v, err := footage.SolidOf(footage.Piece{Thickness: meanThickness(b.Board.Thickness), Width: b.Board.Width, Length: b.Board.Length, Count: 1})
	if err != nil {
		return haul.Range{}, false, err
	}
	x.cite(b.Species.GravitySource)
	if mc, ok := x.moistureOf(b); ok {
		r, err = haul.Measured(v, b.Species, mc)
		return r, true, err
	}
	x.cite(b.Species.GreenMeanSource)
	r, err = haul.Unknown(v, b.Species)
	return r, false, err
}

// moistureOf gives the moisture content a board is weighed at: its own, else its load's mean. ok is false when neither is known.
func (x *index) moistureOf(b *BoardResult) (units.MC, bool) {
	switch b.MC.State {
	case units.Number, units.BelowRange: // below its mark it is drier, by so little that the range of the weight holds it
		return b.MC.MC, true
	case units.NotTaken:
		if l := x.resultOf(b.Board.Load); l != nil && l.Mean.Known {
			return l.Mean.Value, true
		}
	}
	return 0, false
}

// unnamedWeight adds the pieces of a row that names no boards: from the lightest to the heaviest boards of its load as listed,
// else of its load's cuts, from dry to green. It says why it can't.
func (x *index) unnamedWeight(w *SaleWeight, row *Sale) string {
	load, ok := x.loadOf(row.Load)
	if !ok {
		return "its boards are not named, nor the load they come from"
	}
	var of []haul.Range
	open := 0
	for i := range x.out.Boards {
		b := &x.out.Boards[i]
		if key(b.Board.Load) != load || b.Sold != "" {
			continue
		}
		r, known, err := x.boardWeight(b)
		if err != nil {
			return fmt.Sprintf("board %s: %v", b.Board.ID, err)
		}
		if !known {
			open++
		}
		of = append(of, r)
	}
	if len(of) < row.Pieces {
		of, open = nil, row.Pieces
		for i := range x.job.Cuts {
			c := &x.job.Cuts[i]
			if c.Load == "" || key(c.Load) != load {
				continue
			}
			v, err := footage.SolidOf(footage.Piece{Thickness: c.Thickness, Width: c.Width, Length: c.Length, Count: 1})
			if err != nil {
				return err.Error()
			}
			r, err := haul.Unknown(v, c.Species)
			if err != nil {
				return err.Error()
			}
			x.cite(c.Species.GravitySource)
			for range min(c.Pieces, row.Pieces) {
				of = append(of, r)
			}
		}
	}
	if row.Pieces == 0 || len(of) < row.Pieces {
		return "the sheets hold no sizes of its boards"
	}
	w.Estimated = true
	w.Measured += row.Pieces - min(open, row.Pieces)
	w.Open += min(open, row.Pieces)
	low, high := slices.Clone(of), slices.Clone(of)
	slices.SortFunc(low, func(a, b haul.Range) int { return int(a.Low - b.Low) })
	slices.SortFunc(high, func(a, b haul.Range) int { return int(b.High - a.High) })
	about := haul.Range{}
	for _, r := range of {
		about = about.Add(r)
	}
	for i := range row.Pieces {
		w.pieces = append(w.pieces, haul.Range{Low: low[i].Low, About: about.About / units.Mass(len(of)), High: high[i].High})
	}
	return ""
}
