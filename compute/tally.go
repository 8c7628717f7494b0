package compute

import (
	"drytally/compute/footage"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// String gives the words printed beside a total.
func (r FootageRule) String() string {
	if r == RuleBySpecies {
		return "by species"
	}
	return footage.Rule(r).String()
}

// ruleFor gives the rule that counts a wood: the owner's, else surface measure for hardwood and volume for softwood.
func (x *index) ruleFor(s wood.Species) FootageRule {
	switch rule := x.job.Settings.Rule; {
	case rule != RuleBySpecies:
		return rule
	case s.Name == "":
		return VolumeMeasure
	case s.Hardwood:
		return SurfaceMeasure
	}
	return VolumeMeasure
}

// tally counts boards row by row, one tally for each rule; the turn of the rounding of surface measure runs through the
// rows in the order of the sheet.
type tally struct {
	x     *index
	rules map[FootageRule]*footage.Tally
}

func (x *index) newTally() *tally { return &tally{x: x, rules: map[FootageRule]*footage.Tally{}} }

// add counts like boards. known is false when a size or a nominal name the rule needs is missing.
func (t *tally) add(rule FootageRule, p footage.Piece) (feet footage.Feet, known bool) {
	if p.Thickness <= 0 || p.Width <= 0 || p.Length <= 0 || p.Count <= 0 {
		return footage.Feet{}, false
	}
	if t.rules[rule] == nil {
		t.rules[rule] = footage.NewTally(footage.Rule(rule))
	}
	feet, err := t.rules[rule].Add(p)
	return feet, err == nil
}

// nominalOf gives the nominal thickness surface measure counts: the one the sheet names, else that of the quarter name the
// thickness reaches.
func nominalOf(named, thickness units.Length, state footage.State) (units.Length, source.Source, bool) {
	if named != 0 {
		return named, source.Source{Document: "the workbook", Status: source.Owner}, true
	}
	size, ok := footage.Quarters(thickness, state)
	return size.Nominal, size.Source, ok
}

// green counts a row of the saw's tally.
func (t *tally) green(c *Cut) Footage {
	f, _ := t.greenFeet(c)
	return f
}

// greenFeet counts a row of the saw's tally and gives its exact footage too.
func (t *tally) greenFeet(c *Cut) (Footage, footage.Feet) {
	rule := t.x.ruleFor(c.Species)
	p := footage.Piece{Thickness: c.Thickness, Width: c.Width, Length: c.Length, Count: c.Pieces}
	if len(c.Measured) > 1 {
		p.Thickness = leastOf(c.Measured) // as of dry boards
	}
	if rule == SurfaceMeasure {
		nominal, from, ok := nominalOf(0, p.Thickness, footage.RoughGreen)
		if !ok {
			return Footage{Rule: rule}, footage.Feet{}
		}
		t.x.cite(from)
		p.Thickness = nominal
	}
	if rule == SoftwoodNominal {
		return Footage{Rule: rule}, footage.Feet{} // a green size has no nominal name
	}
	feet, ok := t.add(rule, p)
	return Footage{Rule: rule, Hundredths: feet.Hundredths(), Known: ok}, feet
}

// tallyBoards gives every dry board its footage, counted once in the order of the rows, so that the board's tag, its load
// and its sale all carry the same number.
func (x *index) tallyBoards() {
	t := x.newTally()
	x.feet = map[int]footage.Feet{}
	for i := range x.out.Boards {
		b := &x.out.Boards[i]
		rule := x.ruleFor(b.Species)
		p := footage.Piece{Thickness: leastOf(b.Board.Thickness), Width: b.Board.Width, Length: b.Board.Length, Count: 1}
		b.Footage = Footage{Rule: rule}
		switch rule {
		case SurfaceMeasure:
			nominal, from, ok := nominalOf(b.Board.Nominal, p.Thickness, footage.RoughDry)
			if !ok {
				continue
			}
			x.cite(from)
			p.Thickness, b.Nominal = nominal, nominal
		case SoftwoodNominal:
			p.Thickness, p.Width = b.Board.Nominal, b.Board.NominalWidth
			b.Nominal = b.Board.Nominal
		}
		feet, ok := t.add(rule, p)
		if !ok {
			continue
		}
		x.feet[i] = feet
		b.Footage.Hundredths, b.Footage.Known = feet.Hundredths(), true
	}
}

func leastOf(all []units.Length) units.Length {
	var least units.Length
	for _, l := range all {
		if l > 0 && (least == 0 || l < least) {
			least = l
		}
	}
	return least
}

// footageOfBoards sums the footage of some boards, one total for each rule. A total is known only when every board of the
// rule could be counted.
func (x *index) footageOfBoards(boards []int) []Footage {
	var totals []Footage
	sums := map[FootageRule]footage.Feet{}
	missing := map[FootageRule]bool{}
	var rules []FootageRule
	for _, at := range boards {
		rule := x.out.Boards[at].Footage.Rule
		if _, ok := sums[rule]; !ok {
			rules = append(rules, rule)
		}
		feet, ok := x.feet[at]
		sums[rule] = sums[rule].Add(feet)
		missing[rule] = missing[rule] || !ok
	}
	for _, rule := range rules {
		totals = append(totals, Footage{Rule: rule, Hundredths: sums[rule].Hundredths(), Known: !missing[rule]})
	}
	return totals
}

// loadFootage gives a load its green footage from the cuts that name it, its dry footage from its boards, and about what
// the dry pack weighs.
func (x *index) loadFootage(r *LoadResult) {
	t := x.newTally()
	known := map[FootageRule]bool{}
	sums := map[FootageRule]int64{}
	for i := range x.job.Cuts {
		c := &x.job.Cuts[i]
		if c.Load == "" || key(c.Load) != key(r.Load.ID) {
			continue
		}
		f := t.green(c)
		r.GreenBoards += c.Pieces
		if _, ok := known[f.Rule]; !ok {
			known[f.Rule] = true
		}
		known[f.Rule] = known[f.Rule] && f.Known
		sums[f.Rule] += f.Hundredths
	}
	for _, rule := range []FootageRule{VolumeMeasure, SurfaceMeasure, SoftwoodNominal} {
		if _, ok := known[rule]; !ok {
			continue
		}
		total := sums[rule]
		if tallied := t.rules[rule]; tallied != nil {
			total = tallied.Total().Hundredths()
		}
		r.GreenFootage = append(r.GreenFootage, Footage{Rule: rule, Hundredths: total, Known: known[rule]})
	}
	r.DryFootage = x.footageOfBoards(r.Boards)
	r.DrySolid, r.Weight = x.solidOf(r.Boards), x.packWeight(r)
}

// solidOf gives the measured volume of some boards in thousandths of a cubic metre; 0 when a size is missing.
func (x *index) solidOf(boards []int) int64 {
	return x.solidSum(boards).Thousandths()
}

// centimetresOf is the same in cubic centimetres.
func (x *index) centimetresOf(boards []int) int64 {
	return x.solidSum(boards).CubicCentimetres()
}

// solidSum adds up what boards hold as measured; the sum is nothing when a size is missing.
func (x *index) solidSum(boards []int) footage.Solid {
	var sum footage.Solid
	for _, at := range boards {
		b := x.out.Boards[at].Board
		v, err := footage.SolidOf(footage.Piece{Thickness: leastOf(b.Thickness), Width: b.Width, Length: b.Length, Count: 1})
		if err != nil {
			return footage.Solid{}
		}
		sum = sum.Add(v)
	}
	return sum
}

// meanThickness is the mean of what was measured in several places: what a board weighs, where its least thickness is what it planes
// and counts to.
func meanThickness(all []units.Length) units.Length {
	var sum units.Length
	for _, l := range all {
		sum += l
	}
	return sum / units.Length(max(1, len(all)))
}

// packWeight gives about what the listed boards of a load weigh at the load's mean moisture content; 0 when a size, the
// mean or a specific gravity is missing.
func (x *index) packWeight(r *LoadResult) units.Mass {
	if !r.Mean.Known || len(r.Boards) == 0 {
		return 0
	}
	var sum units.Mass
	for _, at := range r.Boards {
		b := x.out.Boards[at]
		solid, err := footage.SolidOf(footage.Piece{Thickness: meanThickness(b.Board.Thickness), Width: b.Board.Width, Length: b.Board.Length, Count: 1})
		if err != nil {
			return 0
		}
		w, err := footage.Weight(solid, b.Species, r.Mean.Value)
		if err != nil {
			return 0
		}
		sum += w
	}
	return sum
}

// footageOfSize counts the green and the net footage of a wanted piece, and about what its green boards weigh.
func (x *index) footageOfSize(r *SizeResult) error {
	w := r.Wanted
	rule := x.ruleFor(w.Species)
	t := x.newTally()
	green := Cut{Species: w.Species, Thickness: r.Thickness, Width: r.Width, Length: w.Length, Pieces: r.Boards}
	r.Green = t.green(&green)
	r.Net = x.netOfSize(r, rule)
	mc := w.Species.GreenMean
	if mc == 0 {
		mc = w.Species.GreenHeart
	}
	solid, err := footage.SolidOf(footage.Piece{Thickness: r.Thickness, Width: r.Width, Length: w.Length, Count: r.Boards})
	if err != nil {
		return err
	}
	r.Solid = solid.Thousandths()
	if mass, err := footage.Weight(solid, w.Species, units.Percent(mc)); err == nil && mc != 0 {
		r.Weight, r.WeightLow, r.WeightHigh = mass, about(mass, -greenWeightOff), about(mass, greenWeightOff)
		x.cite(w.Species.GravitySource)
	}
	dry, err := footage.SolidOf(footage.Piece{Thickness: r.DryThickness.Value, Width: r.DryWidth.Value, Length: w.Length, Count: r.Boards})
	if err != nil {
		return err
	}
	r.DrySolid = dry.Thousandths()
	if mass, err := footage.Weight(dry, w.Species, r.TargetMC); err == nil {
		r.DryWeight, r.DryWeightLow, r.DryWeightHigh = mass, about(mass, -dryWeightOff), about(mass, dryWeightOff)
	}
	return nil
}

// What a weight computed from the tables can be off, either way, as a share: specific gravity varies by about 10 % within a wood,
// green moisture far more. Source: spread of gravity memory; 20 % for green stock is the practice taken here.
const greenWeightOff, dryWeightOff = 0.20, 0.10

func about(m units.Mass, off float64) units.Mass { return units.Grams(m.Grams() * (1 + off)) }

// netOfSize counts the same boards as they come dry from the kiln, before planing: the footage they would be sold by.
func (x *index) netOfSize(r *SizeResult, rule FootageRule) Footage {
	p := footage.Piece{Thickness: r.DryThickness.Value, Width: r.DryWidth.Value, Length: r.Wanted.Length, Count: r.Boards}
	switch rule {
	case SurfaceMeasure:
		nominal, _, ok := nominalOf(0, p.Thickness, footage.RoughDry)
		if !ok {
			return Footage{Rule: rule}
		}
		p.Thickness = nominal
	case SoftwoodNominal:
		return Footage{Rule: rule} // a rough size has no nominal name
	}
	feet, ok := x.newTally().add(rule, p)
	return Footage{Rule: rule, Hundredths: feet.Hundredths(), Known: ok}
}
