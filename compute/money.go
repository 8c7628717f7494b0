package compute

import (
	"math/big"
	"slices"
	"strings"

	"drytally/compute/footage"
	"drytally/compute/price"
)

// MoneyResult is what the owner's prices come to. It is for the owner alone: it stands on no paper for others.
type MoneyResult struct {
	Currency string // as the owner writes it
	Sales    []SaleMoney
	Drying   []DryingMoney
	Step     StepMoney
}

// SaleMoney is what a sale comes to. Total is the sum of its lines, each rounded to the hundredth; it is known when all are.
type SaleMoney struct {
	Sale  string
	Lines []MoneyLine
	Total price.Amount
	Known bool
}

// MoneyLine is boards of one wood, one price and one footage rule.
type MoneyLine struct {
	What    string // the wood
	Boards  int
	Footage Footage
	Solid   int64 // cubic centimetres as measured, for a price by the cubic metre: thousandths of a metre are too coarse for a few boards
	Price   price.Price
	Own     bool // the row's own price; else the wood's
	Amount  price.Amount
	Known   bool
	Why     Statement // why it has no amount
}

// DryingMoney is the drying charge of a load, on the footage that went in and on the footage that came out.
type DryingMoney struct {
	Load          string
	Charge        price.Price
	In, Out       []Footage // green, of the cuts that name the load; dry, of its boards
	InAmount      price.Amount
	OutAmount     price.Amount
	InKnown       bool
	OutKnown      bool
	SolidIn       int64 // thousandths of a cubic metre
	SolidOut      int64
	Says          []Statement
	OutOf, Listed int // boards in the load, boards of it listed with their sizes
}

// StepMoney is what one more step of the saw costs in a month, by the owner's value of the log.
type StepMoney struct {
	Known  bool
	Value  price.Price
	Amount price.Amount
	Says   Statement
}

// countMoney multiplies the owner's prices. Without any, there is no money.
func (x *index) countMoney() {
	s := &x.job.Settings
	asked := len(s.Prices) > 0
	for _, row := range x.job.Sales {
		asked = asked || row.Price.Given()
	}
	if !asked && !s.DryingCharge.Given() && !s.LogValue.Given() {
		return
	}
	m := &MoneyResult{Currency: s.Currency}
	x.out.Money = m
	if asked {
		for i := range x.out.Sales {
			if x.out.Sales[i].OwnUse == "" {
				m.Sales = append(m.Sales, x.saleMoney(&x.out.Sales[i]))
			}
		}
	}
	if s.DryingCharge.Given() {
		for i := range x.out.Loads {
			m.Drying = append(m.Drying, x.dryingMoney(&x.out.Loads[i]))
		}
	}
	if s.LogValue.Given() && x.out.Step.Known {
		m.Step.Value = s.LogValue
		cubic := footage.FeetOf(big.NewRat(x.out.Step.Month, 100)).CubicThousandths()
		if a, err := s.LogValue.Of(x.out.Step.Month, 1000*cubic); err == nil {
			m.Step.Amount, m.Step.Known = a, true
			m.Step.Says = stated("money-step", "amount", a.Write(s.Currency), "month", feetHundredths(x.out.Step.Month), "value", s.LogValue.Write(s.Currency), "step", s.System.Size(s.SawStep))
		}
	}
}

// earlierSold gives the boards of a row that another row has sold before.
func earlierSold(s *SaleResult, row *Sale) []string {
	var ids []string
	for _, id := range row.Boards {
		if !slices.Contains(s.Missing, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// saleMoney counts a sale: rows priced for all of them and rows without named boards each by themselves, the others together by
// wood, footage rule and price. The footage printed is what is multiplied.
func (x *index) saleMoney(s *SaleResult) SaleMoney {
	out := SaleMoney{Sale: s.ID, Known: len(s.Missing) == 0}
	type group struct {
		species string
		rule    FootageRule
		price   price.Price
		own     bool
	}
	if n := len(s.Missing); n > 0 {
		out.Lines = append(out.Lines, MoneyLine{What: "boards not found", Boards: n, Why: stated("money-missing", "boards", strings.Join(s.Missing, ", "))})
	}
	of := map[group][]int{}
	var order []group
	counted := map[int]bool{}
	for _, row := range s.Sales {
		var boards []int
		for _, id := range row.Boards {
			if at, n := x.findBoard(row.Load, id); n == 1 && x.out.Boards[at].Sold == s.ID && !counted[at] {
				counted[at] = true
				boards = append(boards, at)
			}
		}
		switch {
		case row.AsksUnread:
			out.Lines = append(out.Lines, MoneyLine{What: "price not understood", Boards: max(len(boards), row.Pieces), Why: stated("money-unread")})
			continue
		case row.Price.Per == price.Lot && row.Price.Given():
			l := MoneyLine{What: "all of the row", Boards: max(len(boards), row.Pieces), Price: row.Price, Own: true, Known: true, Amount: price.Amount(row.Price.Hundredths)}
			if f := x.footageOfBoards(boards); len(f) == 1 {
				l.Footage = f[0]
			}
			out.Lines = append(out.Lines, l)
		case len(boards) == 0 && len(row.Boards) > 0: // they are missing, or sold before: said of each
			if before := earlierSold(s, row); len(before) > 0 {
				out.Lines = append(out.Lines, MoneyLine{What: "boards sold before", Boards: len(before), Price: row.Price, Own: row.Price.Given(), Why: stated("money-sold-before", "boards", strings.Join(before, ", "))})
			}
		case len(boards) == 0:
			out.Lines = append(out.Lines, MoneyLine{What: "boards not named", Boards: row.Pieces, Price: row.Price, Own: row.Price.Given(), Why: stated("money-no-boards")})
		}
		for _, at := range boards {
			b := &x.out.Boards[at]
			g := group{b.Species.Name, b.Footage.Rule, row.Price, row.Price.Given()}
			if row.Price.Per == price.Lot && g.own {
				continue
			}
			if !g.own {
				g.price, _ = x.job.Settings.PriceOf(g.species)
			}
			if of[g] == nil {
				order = append(order, g)
			}
			of[g] = append(of[g], at)
		}
	}
	for _, g := range order {
		l := MoneyLine{What: g.species, Boards: len(of[g]), Footage: x.footageOfBoards(of[g])[0], Solid: x.centimetresOf(of[g]), Price: g.price, Own: g.own}
		if l.What == "" {
			l.What = "wood not said"
		}
		l.count()
		out.Lines = append(out.Lines, l)
	}
	out.Known = out.Known && len(out.Lines) > 0
	for i := range out.Lines {
		out.Known = out.Known && out.Lines[i].Known
		out.Total += out.Lines[i].Amount
	}
	if !out.Known {
		out.Total = 0
	}
	return out
}

// count multiplies a line, or says why it can't.
func (l *MoneyLine) count() {
	switch {
	case !l.Price.Given():
		l.Why = stated("money-no-price", "wood", l.What)
	case l.Price.Per == price.CubicMetre && l.Solid == 0, l.Price.Per != price.CubicMetre && !l.Footage.Known:
		l.Why = stated("money-no-footage", "wood", l.What)
	default:
		a, err := l.Price.Of(l.Footage.Hundredths, l.Solid)
		if err != nil {
			l.Why = stated("money-too-much", "why", err)
			return
		}
		l.Amount, l.Known = a, true
	}
}

// dryingMoney counts the drying charge on footage in and on footage out.
func (x *index) dryingMoney(r *LoadResult) DryingMoney {
	s := &x.job.Settings
	d := DryingMoney{Load: r.Load.ID, Charge: s.DryingCharge, In: r.GreenFootage, Out: r.DryFootage, SolidOut: r.DrySolid, OutOf: r.N, Listed: len(r.Boards)}
	var solid footage.Solid
	cuts := 0
	for i := range x.job.Cuts {
		c := &x.job.Cuts[i]
		if c.Load == "" || key(c.Load) != key(r.Load.ID) {
			continue
		}
		cuts += c.Pieces
		if v, err := footage.SolidOf(footage.Piece{Thickness: c.Thickness, Width: c.Width, Length: c.Length, Count: c.Pieces}); err == nil {
			solid = solid.Add(v)
		}
	}
	d.SolidIn = solid.Thousandths()
	d.InAmount, d.InKnown = charged(s.DryingCharge, d.In, d.SolidIn)
	d.OutAmount, d.OutKnown = charged(s.DryingCharge, d.Out, d.SolidOut)
	if d.Listed < d.OutOf || d.Listed == 0 {
		d.OutKnown, d.OutAmount = false, 0
		d.Says = append(d.Says, stated("money-out-not-listed", "listed", d.Listed, "n", d.OutOf))
	}
	if !d.InKnown {
		d.Says = append(d.Says, stated("money-in-not-known"))
	} else if cuts != d.OutOf {
		d.Says = append(d.Says, stated("money-in-other-count", "cuts", cuts, "n", d.OutOf))
	}
	if d.InKnown && d.OutKnown {
		diff := d.InAmount - d.OutAmount
		more := "in"
		if diff < 0 {
			more, diff = "out", -diff
		}
		d.Says = append(d.Says, stated("money-drying-difference", "same", diff == 0, "amount", diff.Write(s.Currency), "more", more))
	}
	return d
}

// charged multiplies a charge with footage, rule by rule.
func charged(p price.Price, feet []Footage, solid int64) (price.Amount, bool) {
	if p.Per == price.CubicMetre {
		a, err := p.Of(0, 1000*solid)
		return a, err == nil
	}
	var sum price.Amount
	for _, f := range feet {
		a, err := p.Of(f.Hundredths, 0)
		if err != nil || !f.Known {
			return 0, false
		}
		sum += a
	}
	return sum, len(feet) > 0
}
