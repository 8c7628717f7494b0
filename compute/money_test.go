package compute

import (
	"testing"
	"time"

	"drytally/compute/price"
	"drytally/compute/units"
)

// Three boards of 6 in x 8 ft: surface measure of 4 square feet each, 12 board feet of 4/4.
func TestSaleMoney(t *testing.T) {
	bf := func(h int64) price.Price { return price.Price{Hundredths: h, Per: price.BoardFoot} }
	for _, c := range []struct {
		name  string
		woods []WoodPrice
		row   price.Price
		rule  FootageRule
		total price.Amount
		known bool
	}{
		{"the wood's price", []WoodPrice{{"white ash", bf(450)}}, price.Price{}, 0, 5400, true},
		{"by volume 12.75 board feet", []WoodPrice{{"white ash", bf(450)}}, price.Price{}, VolumeMeasure, 5738, true}, // 57.375
		{"the row's own price goes before", []WoodPrice{{"white ash", bf(450)}}, bf(500), 0, 6000, true},
		{"for 1,000 board feet", nil, price.Price{Hundredths: 90_000, Per: price.ThousandFeet}, 0, 1080, true},
		{"for all of it", nil, price.Price{Hundredths: 3000, Per: price.Lot}, 0, 3000, true},
		{"by the cubic metre: 0.030087 m3", nil, price.Price{Hundredths: 100_000, Per: price.CubicMetre}, 0, 3009, true},
		{"another wood's price", []WoodPrice{{"white oak", bf(450)}}, price.Price{}, 0, 0, false},
	} {
		job := saleJob()
		job.Settings.Currency, job.Settings.Prices, job.Settings.Rule = "kr", c.woods, c.rule
		job.Sales[0].Price = c.row
		m := Assess(job).Money
		if m == nil || len(m.Sales) != 1 {
			t.Fatalf("%s: got %+v", c.name, m)
		}
		if s := m.Sales[0]; s.Total != c.total || s.Known != c.known {
			t.Errorf("%s: got %d, known %v, want %d, %v; %+v", c.name, s.Total, s.Known, c.total, c.known, s.Lines)
		}
	}
}

// The charge on 24 board feet in is not that on what came out of a load of which not every board is listed.
func TestDryingMoney(t *testing.T) {
	job := saleJob()
	job.Settings.Currency, job.Settings.DryingCharge, job.Settings.Rule = "kr", price.Price{Hundredths: 40, Per: price.BoardFoot}, VolumeMeasure
	job.Loads[0].Boards = 6
	job.Cuts = []Cut{{Species: woodNamed("white ash"), Thickness: units.Fraction(9, 8), Width: 25 * units.Inch / 4, Length: 8 * units.Foot, Pieces: 6, Load: "K1", Date: sawn(time.January, 5)}}
	d := Assess(job).Money.Drying[0]
	// In: 1 1/8 x 6 1/4 x 8 ft x 6 = 28.125, printed and counted as 28.13; out: 1 1/16 x 6 x 8 ft x 6 = 25.5.
	if d.InAmount != 1125 || d.OutAmount != 1020 || !d.InKnown || !d.OutKnown || names(d.Says) != "money-drying-difference" || d.Says[0].With["amount"] != "1.05 kr" || d.Says[0].With["more"] != "in" {
		t.Errorf("got %+v", d)
	}
	job.Loads[0].Boards = 8
	d = Assess(job).Money.Drying[0]
	if d.OutKnown || d.OutAmount != 0 || names(d.Says) != "money-out-not-listed money-in-other-count" {
		t.Errorf("two boards not listed: got %+v", d)
	}
}

// 64 boards of a week; older and undated ones don't count. 10 boards of 1 1/8 x 8 in x 12 ft, a step of 1/16 in, a cut of 1/8 in:
// 80 square feet x 1/16 = 5 board feet a week, 5 x 4.348 = 21.74 a month; 1/16 over 1 1/4 is 5 %.
func TestThickerStep(t *testing.T) {
	cut := func(pieces int, day time.Time) Cut {
		return Cut{Species: woodNamed("white ash"), Thickness: units.Fraction(9, 8), Width: 8 * units.Inch, Length: 12 * units.Foot, Pieces: pieces, Date: day}
	}
	job := &Job{Settings: Defaults(), Cuts: []Cut{cut(4, sawn(5, 8)), cut(6, sawn(5, 2)), cut(99, sawn(5, 1)), cut(99, time.Time{})}}
	job.Settings.Currency, job.Settings.LogValue = "kr", price.Price{Hundredths: 60, Per: price.BoardFoot}
	r := Assess(job)
	if s := r.Step; !s.Known || s.Boards != 10 || s.Week != 500 || s.Month != 2174 || s.Share != units.Percent(5) || !s.From.Equal(sawn(5, 2)) {
		t.Errorf("got %+v, want 10 boards, 5.00 and 21.74 board feet, 5 %%", s)
	}
	if m := r.Money.Step; !m.Known || m.Amount != 1304 { // 21.74 x 0.60 = 13.044
		t.Errorf("got %+v, want 13.04", m)
	}
	job.Cuts = job.Cuts[3:]
	if s := Assess(job).Step; s.Known {
		t.Errorf("no day sawn: got %+v", s)
	}
}

func TestNoPricesNoMoney(t *testing.T) {
	job := saleJob()
	if m := Assess(job).Money; m != nil {
		t.Errorf("got %+v, want none", m)
	}
	job.Settings.Currency = "kr" // a currency alone asks for nothing
	if m := Assess(job).Money; m != nil {
		t.Errorf("a currency alone: got %+v, want none", m)
	}
}
