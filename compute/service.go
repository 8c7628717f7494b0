package compute

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"drytally/compute/air"
	"drytally/compute/profile"
	"drytally/compute/season"
	"drytally/compute/shrink"
	"drytally/compute/units"
)

// ClimateYear is what the months of the place lead wood to, indoors or outdoors in the shade.
type ClimateYear struct {
	Indoors             bool
	Low, High           units.MC // of the months given, to the tenth
	LowMonth, HighMonth time.Month
	Months              []season.MonthEMC // in the order of the sheet; with fewer than 12 the year may go further
	Says                []Statement
}

// SeasonResult is how much the width of a wanted piece moves through the year of the place. Known false: no figure could be
// given; Says tells why when there is a climate at all.
type SeasonResult struct {
	Known     bool
	Indoors   bool
	Low, High units.MC
	Width     units.Length // of what shows: the face, or the overall width
	LapGiven  units.Length // overall width less face; 0 when the piece has no lap or tongue
	Moves     []SeasonMove // first for the target moisture content, then for every load with boards that make the piece
	Says      []Statement
}

// SeasonMove is the movement of a piece made at one moisture content. The lengths are not negative.
type SeasonMove struct {
	Load                  string       // whose mean Made is; empty: the target
	Made                  units.MC     // to the tenth
	Swell, Shrink         units.Length // of average wood
	SwellMost, ShrinkMost units.Length // of 95 of 100 pieces, sawn the way that moves more
	LeastGap, LeastLap    units.Length // SwellMost and ShrinkMost rounded up to 1/32 in or half a millimetre
	Coefficient           bool         // by equation 13-2, between 6 and 14 %; else 13-3
}

// climate computes the year of the place, outdoors first.
func (x *index) climate() {
	for _, inside := range []bool{false, true} {
		var months []season.Month
		for _, c := range x.job.Climate {
			if c.Indoors == inside {
				months = append(months, season.Month{Month: c.Month, Temp: c.Temp, Humidity: c.Humidity})
			}
		}
		year, err := season.Of(months)
		if err != nil {
			continue // no months; a month whose air gives nothing was refused when it was read
		}
		c := ClimateYear{Indoors: inside, Low: year.Low.MC, High: year.High.MC, LowMonth: year.Low.Month, HighMonth: year.High.Month, Months: year.Months}
		c.Says = append(c.Says, stated("season-year", "where", inOrOut(inside), "low", c.Low, "lowmonth", c.LowMonth, "high", c.High, "highmonth", c.HighMonth,
			"source", air.EMCSource()))
		if n := len(year.Months); n < 12 {
			c.Says = append(c.Says, stated("season-few-months", "n", n, "where", inOrOut(inside)))
		}
		if year.Extrapolated > 0 {
			c.Says = append(c.Says, stated("season-outside-range", "n", year.Extrapolated))
		}
		if !inside {
			c.Says = append(c.Says, stated("season-shade"))
		}
		x.cite(air.EMCSource())
		x.out.Climate = append(x.out.Climate, c)
	}
}

func inOrOut(in bool) string {
	if in {
		return "indoors"
	}
	return "outdoors"
}

// serveSizes says of every wanted piece how it moves through the year.
func (x *index) serveSizes() {
	if len(x.out.Climate) == 0 {
		return
	}
	for i := range x.out.Sizes {
		r := &x.out.Sizes[i]
		if r.TargetMC != 0 && r.Wanted.Species.Name != "" {
			r.Season = x.seasonOf(r)
			x.seasonOfShape(r)
		}
	}
}

// indoorUse reports whether a piece goes indoors, by the words of its use.
func indoorUse(w *Wanted) (inside, known bool) {
	for _, use := range []string{w.Use, strings.TrimSpace(w.Use + " " + w.Piece), w.Piece} {
		if use == "" {
			continue
		}
		if _, _, _, row, ok := air.Band(use, air.Regions()[0]); ok {
			return strings.HasPrefix(row.Use, "Interior"), true
		}
	}
	return false, false
}

// seasonOf computes one piece.
func (x *index) seasonOf(r *SizeResult) SeasonResult {
	var s SeasonResult
	why := func(name string, with ...any) SeasonResult {
		s.Says = append(s.Says, stated(name, with...))
		return s
	}
	inside, known := indoorUse(r.Wanted)
	if !known {
		return why("season-no-use")
	}
	at := slices.IndexFunc(x.out.Climate, func(c ClimateYear) bool { return c.Indoors == inside })
	if at < 0 {
		return why("season-no-months", "where", inOrOut(inside))
	}
	across, err := shrink.Across(r.Wanted.Species, shrink.Width, sawingOf(r.Sawing))
	if err != nil {
		return why("size-no-shrinkage", "species", r.Wanted.Species.Name, "why", err)
	}
	year := x.out.Climate[at]
	s.Indoors, s.Low, s.High, s.Width = inside, year.Low, year.High, r.Wanted.Width
	if f := r.Wanted.Face; f != 0 && f < s.Width && r.Shape.Kind != profile.Panel {
		s.LapGiven = s.Width - f
		s.Width = f
	}
	if s.Width <= 0 {
		return s
	}
	add := func(load string, made units.MC) {
		m, err := season.Move(s.Width, across, made, s.Low, s.High)
		if err != nil {
			return
		}
		step := units.Fraction(1, 32)
		if x.job.Settings.System == units.Metric {
			step = units.Millimetre / 2
		}
		move := SeasonMove{Load: load, Made: made, Swell: m.Swell, Shrink: m.Shrink, SwellMost: m.SwellMost, ShrinkMost: m.ShrinkMost,
			LeastGap: m.SwellMost.RoundUp(step), LeastLap: m.ShrinkMost.RoundUp(step), Coefficient: m.Coefficient}
		s.Known = true
		s.Moves = append(s.Moves, move)
		x.sayMove(&s, move, r.Shape.Kind == profile.Square)
	}
	add("", r.TargetMC)
	for _, load := range x.loadsMaking(r.Wanted.Piece) {
		mean := load.Mean
		if load.MeanRest.Known {
			mean = load.MeanRest
		}
		if mean.Known && mean.Value != r.TargetMC {
			add(load.Load.ID, mean.Value)
		}
	}
	x.cite(season.MoveSource())
	s.Says = append(s.Says, stated("season-source", "source", season.MoveSource()))
	return s
}

// sayMove says what a piece made at one moisture content does. A square one has no lap or tongue to cover its joint.
func (x *index) sayMove(s *SeasonResult, m SeasonMove, square bool) {
	s.Says = append(s.Says, stated("season-move", "load", m.Load, "made", m.Made, "width", x.show(s.Width), "where", inOrOut(s.Indoors), "low", s.Low, "high", s.High,
		"swell", x.thinOr(m.Swell), "swellmost", x.thin(m.SwellMost), "shrink", x.thinOr(m.Shrink), "shrinkmost", x.thin(m.ShrinkMost)))
	gap, lap := "", ""
	if m.LeastGap > 0 {
		gap = x.show(m.LeastGap)
	}
	if m.LeastLap > 0 {
		lap = x.show(m.LeastLap)
	}
	s.Says = append(s.Says, stated("season-leave", "where", inOrOut(s.Indoors), "gap", gap, "lap", lap, "square", square))
	if s.LapGiven > 0 && m.LeastLap >= s.LapGiven {
		s.Says = append(s.Says, stated("season-lap-short", "given", x.show(s.LapGiven), "need", lap))
	}
}

// thin writes a small length in decimals: 0.058" or 1.5 mm.
func (x *index) thin(l units.Length) string {
	if x.job.Settings.System == units.Metric {
		return strconv.FormatFloat(l.Millimetres(), 'f', 1, 64) + " mm"
	}
	return fmt.Sprintf(`%.3f"`, l.Inches())
}

// thinOr writes a small length, and nothing for none.
func (x *index) thinOr(l units.Length) string {
	if l == 0 {
		return ""
	}
	return x.thin(l)
}

// loadsMaking lists the loads with boards that make a piece.
func (x *index) loadsMaking(piece string) []*LoadResult {
	var all []*LoadResult
	for i := range x.out.Loads {
		l := &x.out.Loads[i]
		if slices.ContainsFunc(l.Boards, func(at int) bool { return x.out.Boards[at].makes(piece) }) {
			all = append(all, l)
		}
	}
	return all
}
