package compute

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"drytally/compute/finding"
	"drytally/compute/units"
)

// assessSales joins the rows of each sale and computes what can be said of its boards.
func (x *index) assessSales() {
	at := map[string]int{}
	soldIn := map[int]*Sale{} // board -> row
	for i := range x.job.Sales {
		row := &x.job.Sales[i]
		k := key(row.ID) + "\x00" + key(row.OwnUse) // what the mill used itself is no part of a sale, whatever its number
		if _, ok := at[k]; !ok {
			at[k] = len(x.out.Sales)
			x.out.Sales = append(x.out.Sales, SaleResult{ID: row.ID, OwnUse: row.OwnUse})
		}
		s := &x.out.Sales[at[k]]
		s.Sales = append(s.Sales, row)
		if s.Buyer == "" {
			s.Buyer = row.Buyer
		}
		if row.Date.After(s.Date) {
			s.Date = row.Date
		}
		x.addSold(s, row, soldIn)
	}
	for i := range x.out.Sales {
		x.orderSold(&x.out.Sales[i])
		x.measureSale(&x.out.Sales[i])
	}
}

// addSold adds the boards of one row to its sale.
func (x *index) addSold(s *SaleResult, row *Sale, soldIn map[int]*Sale) {
	if load, ok := x.loadOf(row.Load); ok {
		id := x.job.Loads[x.loads[load]].ID
		if !slices.Contains(s.Loads, id) && (row.Load != "" || len(row.Boards) == 0) {
			s.Loads = append(s.Loads, id)
		}
	} else if row.Load != "" {
		x.say("J006", row.Origin.At("load"), row.Load, x.nearestLoad(row.Load)+"correct the load, or add it to the loads sheet", "the sale names load %q, which is not in the loads sheet", row.Load)
	}
	for _, id := range row.Boards {
		board, n := x.findBoard(row.Load, id)
		if n != 1 {
			s.Missing = append(s.Missing, id)
			x.say("J010", row.Origin.At("boards"), id, x.nearestBoard(key(row.Load), id)+"correct the number, or write the load beside it", "sale %q names board %q, which %s", s.ID, id, [...]string{"is not in the sheets", "", "is in several loads"}[min(n, 2)])
			continue
		}
		if other, sold := soldIn[board]; sold {
			on := ""
			if !other.Date.IsZero() {
				on = " on " + dateOr(other.Date)
			}
			x.say("J011", row.Origin.At("boards"), id, "take it out of one of the two", "board %q was sold before, in sale %q%s", id, other.ID, on)
			s.Notes = append(s.Notes, stated("sale-sold-before", "board", id, "sale", other.ID, "on", on))
			continue
		}
		soldIn[board] = row
		x.out.Boards[board].Sold = s.ID
		s.Boards = append(s.Boards, board)
		if l := x.out.Boards[board].Board.Load; l != "" && !slices.ContainsFunc(s.Loads, func(o string) bool { return key(o) == key(l) }) {
			s.Loads = append(s.Loads, l)
		}
	}
	x.checkCount(s, row)
}

// orderSold puts the boards of a sale in order of their numbers, load by load.
func (x *index) orderSold(s *SaleResult) {
	place := map[string]int{} // of a board's load among those of the sale
	for _, at := range s.Boards {
		l := x.out.Boards[at].Board.Load
		if _, ok := place[l]; !ok {
			place[l] = slices.IndexFunc(s.Loads, func(id string) bool { return SameID(id, l) })
		}
	}
	load := func(at int) int { return place[x.out.Boards[at].Board.Load] }
	slices.SortFunc(s.Boards, func(a, b int) int { return cmp.Or(load(a)-load(b), x.compareBoards(a, b)) })
}

// checkCount compares the pieces of a row with the boards it names, or with what its load holds.
func (x *index) checkCount(s *SaleResult, row *Sale) {
	if row.Pieces == 0 {
		return
	}
	if n := len(row.Boards); n > 0 && n != row.Pieces {
		x.say("J026", row.Origin.At("pieces"), fmt.Sprint(row.Pieces), "correct one of the two", "sale %q says %d pieces and names %d boards", s.ID, row.Pieces, n)
		return
	}
	if load, ok := x.loadOf(row.Load); ok && len(row.Boards) == 0 {
		l := x.job.Loads[x.loads[load]]
		held := max(l.Boards, len(x.boards[load]))
		if row.Pieces > held && held > 0 {
			x.say("J017", row.Origin.At("pieces"), fmt.Sprint(row.Pieces), "check the number of pieces", "sale %q takes %d pieces of load %q, which holds %d", s.ID, row.Pieces, l.ID, held)
		}
	}
}

// measureSale computes footage and moisture of a sale's boards, and whether its papers are withheld.
func (x *index) measureSale(s *SaleResult) {
	var numbers []units.MC
	for _, at := range s.Boards {
		b := x.out.Boards[at]
		switch b.MC.State {
		case units.NotTaken:
			continue
		case units.Number:
			numbers = append(numbers, b.MC.MC)
		case units.BelowRange:
			s.Below++
		case units.AboveRange:
			s.Above++
		}
		s.Measured++
		if d := b.MC.Date; !d.IsZero() {
			if s.FirstReading.IsZero() || d.Before(s.FirstReading) {
				s.FirstReading = d
			}
			if d.After(s.LastReading) {
				s.LastReading = d
			}
		}
	}
	if len(numbers) > 0 {
		s.Low, s.High = slices.Min(numbers), slices.Max(numbers)
		sum := 0
		for _, m := range numbers {
			sum += int(m)
		}
		s.Mean = units.PercentTenth(float64(sum) / float64(len(numbers)) / 100)
	}
	s.Footage, s.Solid = x.footageOfBoards(s.Boards), x.solidOf(s.Boards)
	if !s.Date.IsZero() && !s.LastReading.IsZero() {
		s.Age = max(0, int(day(s.Date).Sub(day(s.LastReading)).Hours()/24))
	}
	s.Methods = x.methodsOfSale(s)
	x.saleNotes(s)
	x.withholdSale(s)
}

// freshDays is how old readings may be before a statement says that the boards may have changed. In humid weather boards piled
// under a roof take up about 2 points a month (Wood Handbook, ch. 13; the figure memory): half a point a week.
const freshDays = 7

// saleNotes says what the buyer must know of the loads the boards come from.
func (x *index) saleNotes(s *SaleResult) {
	if s.Age > freshDays {
		s.Notes = append(s.Notes, stated("sale-age", "days", s.Age))
	}
	if s.Named() == 0 {
		pieces := 0
		for _, row := range s.Sales {
			pieces += row.Pieces
		}
		s.Notes = append(s.Notes, stated("sale-no-boards", "pieces", pieces))
	}
	var held []string
	var limit units.MC
	for _, at := range s.Boards {
		if b := x.out.Boards[at]; b.Over {
			held = append(held, b.Board.ID)
			if i, ok := x.loads[key(b.Board.Load)]; ok {
				limit = x.bandOf(&x.job.Loads[i]).High
			}
		}
	}
	if len(held) > 0 && s.OwnUse == "" {
		s.Notes = append(s.Notes, stated("sale-held-back", "boards", strings.Join(held, ", "), "limit", limit))
		x.say("J020", s.Sales[0].Origin.At("boards"), strings.Join(held, ", "), "take these boards out of the sale, or tell the buyer", "sale %q holds boards over the limit of their load: %s", s.ID, strings.Join(held, ", "))
	}
	for _, id := range s.Loads {
		for _, l := range x.out.Loads {
			if key(l.Load.ID) != key(id) {
				continue
			}
			if l.Verdict == NotDryYet && s.OwnUse == "" {
				x.say("J020", s.Sales[0].Origin.At("load"), l.Load.ID, "tell the buyer, or dry it first", "sale %q is of load %q, which is not dry yet", s.ID, l.Load.ID)
			}
			for _, store := range l.Stores {
				if by := store.MeasureBy; !by.IsZero() && day(s.Date).After(by) && !day(s.LastReading).After(by) {
					s.Notes = append(s.Notes, stated("sale-remeasure", "load", l.Load.ID, "date", dateOr(by), "air", store.Air))
					break
				}
			}
			s.Notes = append(s.Notes, stated("sale-load", "load", l.Load.ID, "verdict", l.Verdict, "date", dateOr(l.LastReading), "measured", l.Measured, "n", l.N))
		}
	}
}

func dateOr(t time.Time) string {
	if t.IsZero() {
		return "no date"
	}
	return t.Format("2 January 2006")
}

// withholdSale withholds the papers of a sale when an error touches a row they rest on.
func (x *index) withholdSale(s *SaleResult) {
	rows := map[finding.Place]bool{}
	for _, row := range s.Sales {
		rows[rowPlace(row.Origin.At(""))] = true
	}
	sold := map[int]bool{}
	for _, at := range s.Boards {
		sold[at] = true
		rows[rowPlace(x.out.Boards[at].Board.Origin.At(""))] = true
	}
	for _, r := range x.placed {
		if sold[r.board] {
			rows[rowPlace(r.reading.Origin.At(""))] = true
		}
	}
	for _, u := range x.job.Unread {
		for _, at := range x.byID[key(u.Board)] {
			if sold[at] {
				rows[rowPlace(u.Origin.At(""))] = true
			}
		}
	}
	ofCutting := x.cuttingCells()
	for _, f := range x.out.Findings {
		if f.Severity == finding.Note || !rows[rowPlace(f.Place)] || ofCutting[f.Place] || s.priceCell(f.Place) {
			continue
		}
		s.Warnings = append(s.Warnings, f)
		if f.Severity == finding.Error && s.OwnUse == "" {
			s.Withheld = true
			s.WithheldWhy = append(s.WithheldWhy, stated("sale-withheld-error", "where", f.Place.String()+", "+f.Problem))
		}
	}
}

// priceCell reports whether a cell holds a price. No paper for the buyer rests on one.
func (s *SaleResult) priceCell(p finding.Place) bool {
	for _, row := range s.Sales {
		for _, field := range []string{"price", "price per board foot", "sum"} {
			if at := row.Origin.At(field); at.Col != 0 && p == at {
				return true
			}
		}
	}
	return false
}
