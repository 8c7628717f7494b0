package shrink

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"drytally/compute/source"
	"drytally/compute/units"
)

// ErrGrown says that a board is larger dry than green: one of the two sizes is wrong.
var ErrGrown = errors.New("the dry size is larger than the green size")

// Moisture returns the moisture content a board has come to, from its green and its dry size: F (1 - s / S0).
//
// One board says little: the spread of S0 alone makes it uncertain by 15 % of the points lost. A board that did not shrink
// gives the fiber saturation point, which then means "at or above". A result below 0 means that this board shrinks more
// than the table says. The error is ErrGrown when the dry size is the larger, or names the range of a size.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-9, solved for the moisture content. Derived.
func Moisture(green, dry units.Length, d Direction) (units.MC, error) {
	if err := errors.Join(d.check(), checkSize(green), checkSize(dry)); err != nil {
		return 0, err
	}
	if dry > green {
		return 0, ErrGrown
	}
	return units.Percent(moisture(green, dry, d)), nil
}

func moisture(green, dry units.Length, d Direction) float64 {
	s := 1 - float64(dry)/float64(green)
	return d.Fiber * (1 - s/d.Share) // 4-9 solved for the moisture content
}

// Pair is one dimension of one board, measured or set green and measured dry.
type Pair struct {
	Green, Dry units.Length
	Direction  Direction
	SawSpread  units.Length // standard deviation of Green when it is the saw's setting; 0 when it was measured
}

// Mean is what the shrinkage of many boards says of their mean moisture content.
type Mean struct {
	// Estimate has the 95 % range. Value and Low are not given below 0: no wood is drier than ovendry.
	Estimate units.Estimate
	// Common is the standard error that more boards don't make smaller: the wood of these boards may shrink more or less
	// than the table says, and with mixed sawing it is not known in which direction. Own is that of the boards' own spread.
	Common, Own units.MC
	Grown       []int // indices of pairs larger dry than green; they are counted, because leaving them out would make the mean drier
}

// meanConfidence is the share of cases the range of Mean is meant to hold.
const meanConfidence = 0.95

// Backwards returns the mean moisture content that the shrinkage of many boards of one wood speaks of.
//
// The mean of the boards' own answers has two errors. The common one is PieceSpread of the points lost. The own one is
// the boards' standard deviation over the root of their number, taken no smaller than PieceSpread and the sawing spread
// make it, with Student's t where the deviation was estimated. The range joins both as independent.
// The error names what is out of range; there must be at least one pair.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-9; the errors are derived.
func Backwards(pairs []Pair) (Mean, error) {
	if len(pairs) == 0 {
		return Mean{}, errors.New("no board was measured both green and dry")
	}
	var out Mean
	ms := make([]float64, len(pairs))
	var floor, common float64
	for i, p := range pairs {
		if err := errors.Join(p.Direction.check(), checkSize(p.Green), checkSize(p.Dry)); err != nil {
			return Mean{}, fmt.Errorf("pair %d: %w", i+1, err)
		}
		if p.Dry > p.Green {
			out.Grown = append(out.Grown, i)
		}
		d := p.Direction
		ms[i] = moisture(p.Green, p.Dry, d)
		lost := d.Fiber - ms[i]
		saw := d.Fiber * float64(p.SawSpread) / (float64(p.Green) * d.Share)
		floor += (PieceSpread*lost)*(PieceSpread*lost) + saw*saw
		// A uniform spread between the two directions has the standard deviation of its width over root 12.
		common += lost * math.Hypot(PieceSpread, (d.High-d.Low)/(math.Sqrt(12)*d.Share))
	}
	n := float64(len(ms))
	mean := stat.Mean(ms, nil)
	floor, common = math.Sqrt(floor/n), math.Abs(common/n)
	own, reach := floor, normal95*floor
	if len(ms) > 1 {
		sd := stat.StdDev(ms, nil)
		t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.5 + meanConfidence/2)
		own, reach = max(own, sd), max(reach, t*sd)
	}
	half := math.Hypot(normal95*common, reach/math.Sqrt(n))
	out.Common, out.Own = units.Percent(common), units.Percent(own/math.Sqrt(n))
	out.Estimate = units.Estimate{
		Value: max(0, units.Percent(mean)), Low: max(0, units.Percent(mean-half)), High: max(0, units.Percent(mean+half)),
		Confidence: meanConfidence, N: len(ms), Known: true,
	}
	return out, nil
}

// normal95 is the two-sided 95 % point of the normal distribution.
var normal95 = math.Sqrt2 * math.Erfinv(meanConfidence)

// Known is one dimension of a board whose moisture content is known otherwise: by weight or by corrected readings.
type Known struct {
	Green, Dry units.Length
	MC         units.MC // below the fiber saturation point by 5 points at least
}

// HouseFigure is the shrinkage of this mill's own wood and saw.
type HouseFigure struct {
	Direction Direction // takes the place of the table's; its range is that of no mixed sawing
	Error     float64   // standard error of Direction.Share
	Boards    int       // what it rests on beside the table
	Measured  float64   // what the boards alone say, as a share of the green size
}

// House joins the table's shrinkage with what the owner's own boards showed. The table is the prior, normal with a
// standard deviation of PieceSpread; the boards' mean has the error of their own spread, taken no smaller than PieceSpread;
// the two are weighted by their precision.
// The moisture contents must be at least 5 points under the fiber saturation point: nearer to it the shrinkage is as small
// as the errors of measuring. The error names the board.
//
// Source: equation 4-9 of the Wood Handbook FPL-GTR-282 (2021) solved for S0; normal prior and normal data. Derived.
func House(d Direction, boards []Known) (HouseFigure, error) {
	if err := d.check(); err != nil {
		return HouseFigure{}, err
	}
	if len(boards) == 0 {
		return HouseFigure{}, errors.New("no board was measured green and dry with a known moisture content")
	}
	shares := make([]float64, len(boards))
	for i, b := range boards {
		if err := errors.Join(checkSize(b.Green), checkSize(b.Dry), checkMC(b.MC)); err != nil {
			return HouseFigure{}, fmt.Errorf("board %d: %w", i+1, err)
		}
		lost := d.Fiber - b.MC.Percent()
		if lost < 5 {
			return HouseFigure{}, fmt.Errorf("board %d: the moisture content %s is not at least 5 points under the fiber saturation point, %g %%", i+1, b.MC, d.Fiber)
		}
		shares[i] = (1 - float64(b.Dry)/float64(b.Green)) * d.Fiber / lost // 4-9 solved for S0
	}
	n, mean := float64(len(shares)), stat.Mean(shares, nil)
	prior := PieceSpread * d.Share
	own := prior
	if len(shares) > 1 {
		own = max(own, stat.StdDev(shares, nil))
	}
	wPrior, wData := 1/(prior*prior), n/(own*own)
	out := HouseFigure{
		Direction: Direction{Share: (wPrior*d.Share + wData*mean) / (wPrior + wData), Fiber: d.Fiber,
			Source: source.Source{Document: "the mill's own boards", Place: d.Source.String(), Status: source.Owner}},
		Error: 1 / math.Sqrt(wPrior+wData), Boards: len(boards), Measured: mean,
	}
	out.Direction.Low, out.Direction.High = out.Direction.Share, out.Direction.Share
	return out, out.Direction.check()
}
