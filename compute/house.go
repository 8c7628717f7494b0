package compute

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

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

// ShrinkBoard is one dimension of one board, measured green and dry, with its moisture content: what it says of its wood's
// shrinkage in a direction.
type ShrinkBoard struct {
	Load, Board string
	Species     string
	Direction   string           // tangential, radial, or mixed sawing
	Table       shrink.Direction // the handbook's
	Known       shrink.Known
	ByWeight    bool    // the moisture content is known by weight, else by meter
	MeterOff    float64 // what that meter can be off as a whole, either way with 95 %, in points of MC; 0 by weight
	at          int     // the order of the rows
}

// share is the shrinkage to ovendry the board speaks of.
func (b ShrinkBoard) share() float64 {
	return (1 - float64(b.Known.Dry)/float64(b.Known.Green)) * b.Table.Fiber / (b.Table.Fiber - b.Known.MC.Percent()) // Wood Handbook 4-9 solved for S0
}

// shrinkBoards lists what the boards with green and dry size and a moisture content say of their shrinkage.
func (x *index) shrinkBoards() []ShrinkBoard {
	var all []ShrinkBoard
	for at := range x.out.Boards {
		b := &x.out.Boards[at]
		mc, byWeight, ok := x.knownMC(at)
		if !ok || b.Species.Name == "" {
			continue
		}
		off := 0.0
		if !byWeight {
			off = x.meterOff(b.Species.Name)
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
			direction := directionName(d.dimension, saw)
			if err != nil || across.Fiber-mc.Percent() < leastLost || direction == "" {
				continue
			}
			all = append(all, ShrinkBoard{Load: b.Board.Load, Board: b.Board.ID, Species: b.Species.Name, Direction: direction, Table: across,
				Known: shrink.Known{Green: d.green, Dry: d.dry, MC: mc}, ByWeight: byWeight, MeterOff: off, at: len(all)})
		}
	}
	return all
}

// PoolShrinkage gives the mill's own figures from boards of one week or of many: of every species and direction the
// handbook's figure is counted once, whatever the number of weeks. The boards are taken in the order given.
func PoolShrinkage(boards []ShrinkBoard) []HouseShrinkage {
	type group struct{ species, direction string }
	groups := map[group][]ShrinkBoard{}
	for i, b := range boards {
		b.at = i
		k := group{b.Species, b.Direction}
		groups[k] = append(groups[k], b)
	}
	var out []HouseShrinkage
	for _, k := range slices.SortedFunc(maps.Keys(groups), func(a, b group) int {
		return cmp.Or(strings.Compare(a.species, b.species), strings.Compare(a.direction, b.direction))
	}) {
		out = append(out, houseFigure(groups[k]))
	}
	return out
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

// houseFigure joins the table's figure with what the boards of one species and direction showed.
func houseFigure(boards []ShrinkBoard) HouseShrinkage {
	species, direction := boards[0].Species, boards[0].Direction
	table := boards[len(boards)-1].Table // what the last board was held against
	h := HouseShrinkage{Species: species, Direction: direction, Table: table.Share, Used: table.Share, TableSource: table.Source}
	kept, out := withoutSlips(table.Share, boards)
	for _, b := range out {
		h.LeftOut = append(h.LeftOut, b.Board)
	}
	h.Boards = len(kept)
	with := []any{"species", species, "direction", direction, "n", len(kept), "out", len(out), "table", percent(table.Share), "need", houseBoards}
	if len(kept) < houseBoards || 2*len(out) > len(kept) {
		h.Says = stated("house-too-few", with...)
		return h
	}
	known := make([]shrink.Known, len(kept))
	common := 0.0
	for i, b := range kept {
		known[i] = b.Known
		if b.ByWeight {
			h.ByWeight++
			continue
		}
		// A meter that is off is off on all boards alike: it moves the points lost, and with them the figure.
		common += b.MeterOff / z95 / (table.Fiber - b.Known.MC.Percent()) / float64(len(kept))
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
func withoutSlips(table float64, boards []ShrinkBoard) (kept, out []ShrinkBoard) {
	for _, b := range boards {
		if s := b.share(); s < slipLow*table || s > slipHigh*table {
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
		shares[i] = b.share()
	}
	middle := median(shares)
	apart := make([]float64, len(shares))
	for i, s := range shares {
		apart[i] = math.Abs(s - middle)
	}
	spread := max(normalMAD*median(apart), shrink.PieceSpread*middle)
	var near []ShrinkBoard
	for _, b := range kept {
		if math.Abs(b.share()-middle) > slipFar*spread {
			out = append(out, b)
		} else {
			near = append(near, b)
		}
	}
	slices.SortStableFunc(out, func(a, b ShrinkBoard) int { return a.at - b.at })
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
