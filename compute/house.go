package compute

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"drytally/compute/shrink"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// The ways a board can shrink that the mill's own figures are kept for. Boards of mixed or unsaid sawing say something of
// neither direction alone; their ratio to the table's middle is used for pieces sawn the same.
const (
	tangential = "tangential"
	radial     = "radial"
	mixed      = "mixed sawing"
)

// houseBoards is how many boards the mill's own figure needs: with fewer a typing slip can't be told from wood.
const houseBoards = 5

// A board is taken for a slip when its shrinkage lies outside slipLow to slipHigh times the table's, where no wood of the
// species is (15 % spread; Wood Handbook FPL-GTR-190, chapter 4; memory), or further than slipFar robust standard deviations
// from the median of its fellows. The robust deviation is the median distance times 1.4826, the normal factor, and taken no
// smaller than the spread between pieces. The three limits are this project's choice.
const (
	slipLow, slipHigh = 0.2, 2.5
	slipFar           = 3.0
	normalMAD         = 1.4826
)

// houseBoard is one dimension of one board with its moisture content.
type houseBoard struct {
	board    int // index into Result.Boards
	known    shrink.Known
	byWeight bool
	share    float64 // shrinkage to ovendry it speaks of
}

// houseKey is a species and a direction.
type houseKey struct{ species, direction string }

// houseFigures computes the mill's own shrinkage from boards with green and dry size and a moisture content.
func (x *index) houseFigures() {
	groups := map[houseKey][]houseBoard{}
	table := map[houseKey]shrink.Direction{}
	for at := range x.out.Boards {
		b := &x.out.Boards[at]
		mc, byWeight, ok := x.knownMC(at)
		if !ok || b.Species.Name == "" {
			continue
		}
		saw := sawingOf(b.Board.Sawing)
		dry := units.Length(0)
		if len(b.Board.Thickness) > 0 {
			dry = meanLength(b.Board.Thickness)
		}
		for _, d := range []struct {
			dimension  shrink.Dimension
			green, dry units.Length
		}{{shrink.Thickness, b.Board.GreenThickness, dry}, {shrink.Width, b.Board.GreenWidth, b.Board.Width}} {
			if d.green <= 0 || d.dry <= 0 {
				continue
			}
			across, err := shrink.Across(b.Species, d.dimension, saw)
			lost := across.Fiber - mc.Percent()
			if err != nil || lost < leastLost {
				continue
			}
			k := houseKey{b.Species.Name, directionName(d.dimension, saw)}
			if k.direction == "" {
				continue
			}
			table[k] = across
			groups[k] = append(groups[k], houseBoard{board: at, known: shrink.Known{Green: d.green, Dry: d.dry, MC: mc}, byWeight: byWeight,
				share: (1 - float64(d.dry)/float64(d.green)) * across.Fiber / lost}) // Wood Handbook 4-9 solved for S0
		}
	}
	keys := make([]houseKey, 0, len(groups))
	for k := range groups {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b houseKey) int {
		if a.species != b.species {
			return map[bool]int{true: -1, false: 1}[a.species < b.species]
		}
		return map[bool]int{true: -1, false: 1}[a.direction < b.direction]
	})
	for _, k := range keys {
		x.out.House = append(x.out.House, x.houseFigure(k, table[k], groups[k]))
	}
}

// leastLost is how many points under the fiber saturation point a board must be: see shrink.House.
const leastLost = 5.0

// directionName names how a dimension of a board shrinks; empty for ring angles between flat and quarter, which say something
// of both directions at once.
func directionName(d shrink.Dimension, saw shrink.Sawing) string {
	switch saw.Kind {
	case shrink.Mixed:
		return mixed
	case shrink.Angle:
		return ""
	}
	if (saw.Kind == shrink.Flat) == (d == shrink.Width) {
		return tangential
	}
	return radial
}

// knownMC gives a board's moisture content when its sizes were taken: by weight when it is a sample board, else the mean of
// its corrected readings. A mark is no moisture content.
func (x *index) knownMC(at int) (mc units.MC, byWeight, ok bool) {
	b := x.out.Boards[at]
	load, found := x.loadOf(b.Board.Load)
	if !found {
		return 0, false, false
	}
	for _, s := range x.samplesOf(load) {
		if p := s.lastPoint(); key(s.id) == key(b.Board.ID) && (b.MC.Date.IsZero() || gap(p.Time, b.MC.Date) <= comparable) {
			return p.MC, true, true
		}
	}
	if m := x.measured[load]; m != nil {
		if r, ok := m.means[0][at]; ok && r.State == units.Number {
			return r.MC, false, true
		}
	}
	return 0, false, false
}

func meanLength(all []units.Length) units.Length {
	var sum units.Length
	for _, l := range all {
		sum += l
	}
	return sum / units.Length(len(all))
}

// houseFigure joins the table's figure with what the boards of one group showed.
func (x *index) houseFigure(k houseKey, table shrink.Direction, boards []houseBoard) HouseShrinkage {
	h := HouseShrinkage{Species: k.species, Direction: k.direction, Table: table.Share, Used: table.Share, TableSource: table.Source}
	kept, out := withoutSlips(table.Share, boards)
	for _, b := range out {
		h.LeftOut = append(h.LeftOut, x.out.Boards[b.board].Board.ID)
	}
	h.Boards = len(kept)
	with := []any{"species", k.species, "direction", k.direction, "n", len(kept), "out", len(out), "table", percent(table.Share), "need", houseBoards}
	if len(kept) < houseBoards || 2*len(out) > len(kept) {
		h.Says = stated("house-too-few", with...)
		return h
	}
	known := make([]shrink.Known, len(kept))
	common := 0.0
	for i, b := range kept {
		known[i] = b.known
		if b.byWeight {
			h.ByWeight++
			continue
		}
		// A meter that is off is off on all boards alike: it moves the points lost, and with them the figure.
		common += x.meterOff(k.species) / z95 / (table.Fiber - b.known.MC.Percent()) / float64(len(kept))
	}
	f, err := shrink.House(table, known)
	if err != nil {
		h.Says = stated("house-too-few", with...)
		return h
	}
	h.Known, h.Own = true, f.Measured
	h.Used, h.Error = posterior(table.Share, f, common*f.Measured)
	h.Says = stated("house-figure", append(with, "own", percent(h.Own), "used", percent(h.Used), "error", percent(h.Error), "weighed", h.ByWeight)...)
	return h
}

// posterior joins prior and boards by their precision, with an error that is common to all boards beside that of their own
// spread. Without a common error it is what shrink.House gives.
func posterior(table float64, f shrink.HouseFigure, common float64) (share, standardError float64) {
	prior := shrink.PieceSpread * table
	wPrior := 1 / (prior * prior)
	wBoards := 1/(f.Error*f.Error) - wPrior
	wBoards = 1 / (1/wBoards + common*common)
	return (wPrior*table + wBoards*f.Measured) / (wPrior + wBoards), 1 / math.Sqrt(wPrior+wBoards) // normal prior, normal data
}

// withoutSlips leaves out the boards whose shrinkage no wood of the species has, and then those far from the others.
func withoutSlips(table float64, boards []houseBoard) (kept, out []houseBoard) {
	for _, b := range boards {
		if b.share < slipLow*table || b.share > slipHigh*table {
			out = append(out, b)
		} else {
			kept = append(kept, b)
		}
	}
	if len(kept) < houseBoards {
		return kept, out
	}
	shares := make([]float64, len(kept))
	for i, b := range kept {
		shares[i] = b.share
	}
	middle := median(shares)
	apart := make([]float64, len(shares))
	for i, s := range shares {
		apart[i] = math.Abs(s - middle)
	}
	spread := max(normalMAD*median(apart), shrink.PieceSpread*middle)
	var near []houseBoard
	for _, b := range kept {
		if math.Abs(b.share-middle) > slipFar*spread {
			out = append(out, b)
		} else {
			near = append(near, b)
		}
	}
	slices.SortStableFunc(out, func(a, b houseBoard) int { return a.board - b.board })
	return near, out
}

func median(all []float64) float64 {
	sorted := slices.Clone(all)
	slices.Sort(sorted)
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}

// house finds the mill's own figure of a species and direction, when it rests on boards.
func (x *index) house(species, direction string) (HouseShrinkage, bool) {
	for _, h := range x.out.House {
		if h.Known && h.Species == species && h.Direction == direction {
			return h, true
		}
	}
	return HouseShrinkage{}, false
}

// across gives the shrinkage of a wood along a dimension, with the mill's own figures in the place of the table's where there
// are any; and those figures.
func (x *index) across(s wood.Species, d shrink.Dimension, saw shrink.Sawing) (shrink.Direction, []HouseShrinkage, error) {
	table, err := shrink.Across(s, d, saw)
	if err != nil {
		return table, nil, err
	}
	var used []HouseShrinkage
	own := s
	take := func(direction string, figure *float64) {
		if h, ok := x.house(s.Name, direction); ok && *figure != 0 {
			*figure = h.Used
			used = append(used, h)
		}
	}
	name := directionName(d, saw)
	if h, ok := x.house(s.Name, mixed); ok && name == mixed {
		ratio := h.Used / table.Share
		table.Share, table.Low, table.High = h.Used, table.Low*ratio, table.High*ratio
		table.Source = houseSource(table.Source)
		return table, []HouseShrinkage{h}, nil
	}
	if name != radial {
		take(tangential, &own.Tangential)
	}
	if name != tangential {
		take(radial, &own.Radial)
	}
	if len(used) == 0 {
		return table, nil, nil
	}
	own.ShrinkageSource = houseSource(s.ShrinkageSource)
	with, err := shrink.Across(own, d, saw)
	if errors.Is(err, shrink.ErrNoShrinkage) {
		return table, nil, nil
	}
	return with, used, err
}

func houseSource(table source.Source) source.Source {
	return source.Source{Document: "the mill's own boards", Place: "with " + table.String(), Status: source.Owner}
}

// houseNotes says on a size what its shrinkage rests on.
func houseNotes(d shrink.Dimension, used []HouseShrinkage) []Statement {
	var all []Statement
	for _, h := range used {
		all = append(all, stated("size-own-figure", "dimension", d, "direction", h.Direction, "species", h.Species, "n", h.Boards, "out", fmt.Sprint(len(h.LeftOut)),
			"table", percent(h.Table), "own", percent(h.Own), "used", percent(h.Used)))
	}
	return all
}
