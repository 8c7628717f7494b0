package compute

import (
	"slices"

	"drytally/compute/season"
	"drytally/compute/shrink"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// moveSales says of every sale how far the widest board of each wood moves between the driest and the dampest it will meet: by the
// climate sheet when there is one for the use, else over the band the use asks for.
func (x *index) moveSales() {
	for i := range x.out.Sales {
		s := &x.out.Sales[i]
		low, high, where := x.yearOfSale(s)
		if high <= low {
			continue
		}
		for _, w := range x.widest(s) {
			across, err := shrink.Across(w.species, shrink.Width, sawingOf(w.sawing))
			if err != nil {
				continue // the wood's shrinkage is not in the table
			}
			m, err := season.Move(w.width, across, low, low, high)
			if err != nil {
				continue
			}
			x.cite(season.MoveSource())
			s.Notes = append(s.Notes, stated("sale-move", "wood", w.species.Name, "width", x.show(w.width), "sawing", sawingWord(w.sawing), "low", low, "high", high, "where", where,
				"change", x.thin(m.Swell), "near", x.near(m.Swell.Nearest(finest)), "most", x.thin(m.SwellMost), "within", x.near(m.SwellMost.RoundUp(finest)), "source", season.MoveSource()))
		}
	}
}

// sawingWord names the sawings whose shrinkage is known; empty for the others, for which the middle is taken.
func sawingWord(s Sawing) string {
	if s.Kind == FlatSawn || s.Kind == QuarterSawn {
		return s.Kind.String()
	}
	return ""
}

// finest is the least step of a tape measure.
var finest = units.Fraction(1, 64)

// near writes a small length that was rounded to the marks of a tape; nothing for an owner of millimetres, whose tenths are read off.
func (x *index) near(l units.Length) string {
	if x.job.Settings.System == units.Metric {
		return ""
	}
	return l.String()
}

// yearOfSale gives the moisture contents wood for the sale's use goes between, and by what they are known: the climate sheet, or the
// band. It gives nothing for boards of several uses.
func (x *index) yearOfSale(s *SaleResult) (low, high units.MC, where string) {
	var uses []string
	var band Band
	add := func(use string) {
		if use != "" && !slices.Contains(uses, use) {
			uses = append(uses, use)
		}
	}
	for _, row := range s.Sales {
		add(row.Use)
	}
	for _, id := range s.Loads {
		if i, ok := x.loads[key(id)]; ok {
			add(x.job.Loads[i].Use)
			band = x.bandOf(&x.job.Loads[i])
		}
	}
	if len(uses) != 1 {
		return 0, 0, ""
	}
	inside, known := indoorUse(&Wanted{Use: uses[0]})
	for _, c := range x.out.Climate {
		if known && c.Indoors == inside {
			return c.Low, c.High, inOrOut(inside)
		}
	}
	if !band.Known || band.Low == 0 {
		return 0, 0, ""
	}
	return band.Low, band.High, "band"
}

// widestBoard is the widest board of a wood; sawing is that of all of them, not said when they differ.
type widestBoard struct {
	species wood.Species
	width   units.Length
	sawing  Sawing
}

func (x *index) widest(s *SaleResult) []widestBoard {
	var all []widestBoard
	for _, at := range s.Boards {
		b := &x.out.Boards[at]
		if b.Species.Name == "" || b.Board.Width <= 0 {
			continue
		}
		sawing := x.boardSawing(b)
		i := slices.IndexFunc(all, func(w widestBoard) bool { return w.species.Name == b.Species.Name })
		if i < 0 {
			all = append(all, widestBoard{b.Species, b.Board.Width, sawing})
			continue
		}
		all[i].width = max(all[i].width, b.Board.Width)
		if all[i].sawing != sawing {
			all[i].sawing = Sawing{Kind: MixedSawn}
		}
	}
	return all
}
