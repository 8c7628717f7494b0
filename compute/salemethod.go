package compute

import "drytally/compute/units"

// SaleMethod says how the readings of the boards of a sale that come from one load were corrected.
type SaleMethod struct {
	Load   string      // its id
	Boards int         // of the sale, with a reading of their own; 0: none is, and Says is of all boards of the load
	Says   []Statement // as on the load's paper, counted for these boards
}

// methodsOfSale says load by load how the readings behind a sale were corrected.
func (x *index) methodsOfSale(s *SaleResult) (all []SaleMethod) {
	for _, id := range s.Loads {
		r := x.resultOf(id)
		m := x.measured[key(id)]
		if r == nil || m == nil || r.Measured == 0 {
			continue
		}
		var boards []int
		for _, at := range s.Boards {
			if b := &x.out.Boards[at]; SameID(b.Board.Load, id) && b.MC.State != units.NotTaken {
				boards = append(boards, at)
			}
		}
		of := SaleMethod{Load: r.Load.ID, Boards: len(boards)}
		if len(boards) == 0 {
			of.Says = append(x.corrections(r, m, r.Boards, m.all), x.meterLines(r.Boards)...)
		} else {
			of.Says = append(x.corrections(r, m, boards, m.countsOf(boards)), x.meterLines(boards)...)
		}
		all = append(all, of)
	}
	return all
}
