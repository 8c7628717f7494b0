package yearbook

import (
	"fmt"
	"math"

	"drytally/compute"
	"drytally/compute/shrink"
)

// Shrinkage is the mill's own figure of a species and direction from the boards of all weeks together, with the ranges that hold
// 95 %: of the handbook's figure (15 % between pieces of the wood, taken for what one mill's wood can differ by), of the mean
// of the mill's own boards, and of the two joined.
type Shrinkage struct {
	compute.HouseShrinkage
	TableLow, TableHigh float64
	OwnLow, OwnHigh     float64 // 0 when Known is false
	Low, High           float64
}

// z95 is the two-sided 95 % point of the normal distribution.
var z95 = math.Sqrt2 * math.Erfinv(confidence)

// joinShrinkage pools the boards of all weeks: each once, with its last figures, and the handbook's figure once.
func (j *join) joinShrinkage() {
	type key struct {
		load      int
		board     string
		direction string
	}
	at := map[key]int{}
	var all []compute.ShrinkBoard
	for w := range j.weeks {
		for _, b := range j.weeks[w].Shrinkage {
			k := key{-1, compute.IDKey(b.Board), b.Direction}
			if b.Load != "" {
				k.load = j.loadAt(w, b.Load)
			}
			if k.load >= 0 {
				b.Board = fmt.Sprintf("%s of %s", b.Board, j.loads[k.load].Name)
			}
			if i, ok := at[k]; ok {
				all[i] = b
				continue
			}
			at[k] = len(all)
			all = append(all, b)
		}
	}
	for _, h := range compute.PoolShrinkage(all) {
		s := Shrinkage{HouseShrinkage: h}
		half := z95 * shrink.PieceSpread * h.Table
		s.TableLow, s.TableHigh = h.Table-half, h.Table+half
		if h.Known {
			s.Low, s.High = h.Used-z95*h.Error, h.Used+z95*h.Error
			// The joined precision less the handbook's is that of the boards.
			prior := shrink.PieceSpread * h.Table
			own := z95 / math.Sqrt(1/(h.Error*h.Error)-1/(prior*prior))
			s.OwnLow, s.OwnHigh = h.Own-own, h.Own+own
		}
		j.book.Shrinkage = append(j.book.Shrinkage, s)
	}
}

// house gives the figures that rest on boards.
func (b *Yearbook) house() []compute.HouseShrinkage {
	var all []compute.HouseShrinkage
	for _, s := range b.Shrinkage {
		all = append(all, s.HouseShrinkage)
	}
	return all
}
