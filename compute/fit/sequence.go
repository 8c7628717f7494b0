package fit

import (
	"cmp"
	"math"
	"slices"
)

// sequence puts the parts in the order in which the two sides take them, one from each end: parts that add to the same rows stand near
// one another, so that most rows are added to by one end alone for long, and are settled early by the other. That is worth more than any
// other part of the search: ten times the work, and more, against an order by size.
//
// Parts and rows are given places along a line, each in the middle of those it has to do with, by turns until they hardly move
// (reciprocal averaging: the strongest axis of a correspondence analysis). An option counts the more the less it costs.
//
// Source: Hill, Reciprocal averaging, Journal of Ecology 61 (1973); memory.
func (h *halves) sequence() []int {
	const turns = 40
	share, inRow := make([][]float64, len(h.parts)), make([]float64, len(h.need)) // what each part has to do with each row
	inPart := make([]float64, len(h.parts))
	all := 0.0
	for k := range h.parts {
		share[k] = make([]float64, len(h.need))
		for _, o := range h.parts[k].options {
			near := 1 - float64(o.cost)/float64(h.slack+1)
			near *= near
			for _, a := range o.adds {
				if h.inUse(a.row) {
					v := float64(near * math.Abs(float64(a.by)))
					share[k][a.row] += v
					inPart[k] += v
					inRow[a.row] += v
					all += v
				}
			}
			h.s.work += int64(4 + 8*len(o.adds))
		}
	}
	place, ofRow := make([]float64, len(h.parts)), make([]float64, len(h.need))
	for k := range place {
		place[k] = float64(k)
	}
	for range turns {
		mean, far := 0.0, 0.0
		for k, x := range place {
			mean += float64(x * inPart[k])
		}
		mean /= max(all, 1)
		for k := range place {
			place[k] -= mean
			far = max(far, math.Abs(place[k]))
		}
		if far == 0 {
			break
		}
		clear(ofRow)
		for k := range place {
			place[k] /= far
			for r, v := range share[k] {
				ofRow[r] += float64(v * place[k])
			}
		}
		for r, v := range inRow {
			if v > 0 {
				ofRow[r] /= v
			}
		}
		for k, v := range inPart {
			if v == 0 {
				continue
			}
			place[k] = 0
			for r, v := range share[k] {
				place[k] += float64(v * ofRow[r])
			}
			place[k] /= v
		}
	}
	h.s.work += int64(4 * turns * len(h.parts) * len(h.need))
	out := numbers(len(h.parts))
	slices.SortStableFunc(out, func(x, y int) int { return cmp.Compare(place[x], place[y]) })
	return out
}
