package compute

import (
	"math"
	"testing"
	"time"

	"drytally/compute/price"
	"drytally/compute/units"
)

// TestOwnUseIsNoSale: boards the mill used itself under the number of a sale are no part of it: not of its boards, its weight, its
// date, and two uses without a number stay two.
func TestOwnUseIsNoSale(t *testing.T) {
	job := week(6, 8, 8, 8, 8, 8, 8)
	id := func(i int) []string { return []string{job.Boards[i].ID} }
	on := func(day int) time.Time { return time.Date(2026, 6, day, 0, 0, 0, 0, time.UTC) }
	job.Settings.Currency = "USD"
	job.Settings.Prices = []WoodPrice{{Species: job.Boards[0].Species.Name, Price: price.Price{Hundredths: 450, Per: price.BoardFoot}}}
	job.Sales = []Sale{
		{Origin: row("sold", 2), ID: "S1", Boards: id(0), Buyer: "Oda", Date: on(1)},
		{Origin: row("sold", 3), ID: "S1", Boards: id(1), OwnUse: "bench", Date: on(9)},
		{Origin: row("sold", 4), ID: "own use", Boards: id(2), OwnUse: "shelf"},
		{Origin: row("sold", 5), ID: "own use", Boards: id(3), OwnUse: "barn door"},
	}
	r := Assess(job)
	if len(r.Sales) != 4 {
		t.Fatalf("got %d sales, want 4", len(r.Sales))
	}
	if s := r.Sales[0]; s.OwnUse != "" || len(s.Boards) != 1 || !s.Date.Equal(on(1)) {
		t.Errorf("the sale has %d boards of %s, used for %q; want the one sold on the 1st", len(s.Boards), s.Date, s.OwnUse)
	}
	for i, want := range []string{"", "bench", "shelf", "barn door"} {
		s := r.Sales[i]
		if s.OwnUse != want || len(s.Boards) != 1 {
			t.Errorf("%d: used for %q with %d boards, want %q with 1", i, s.OwnUse, len(s.Boards), want)
		}
		if want != "" && s.Weight.High != 0 {
			t.Errorf("%d: what the mill used itself is weighed for a trailer", i)
		}
	}
	if r.Money == nil || len(r.Money.Sales) != 1 || r.Money.Sales[0].Sale != "S1" {
		t.Errorf("money is worked out of %+v, want of the sale alone", r.Money)
	}
}

// TestWeightByTheMeanThickness: a board of 1, 1 1/4 and 1 1/4 in weighs as one of 1 1/6 in, not as its thinnest place.
func TestWeightByTheMeanThickness(t *testing.T) {
	weigh := func(places ...units.Length) units.Mass {
		job := week(4, 8, 8, 8, 8)
		for i := range job.Boards {
			job.Boards[i].Thickness = places
		}
		job.Sales = []Sale{{Origin: row("sold", 2), ID: "S1", Boards: []string{job.Boards[0].ID}, Buyer: "Oda"}}
		return Assess(job).Sales[0].Weight.High
	}
	quarter := units.Fraction(1, 4)
	got, thin, want := weigh(units.Inch, units.Inch+quarter, units.Inch+quarter), weigh(units.Inch), weigh(units.Inch+2*quarter/3)
	if thin == 0 || got <= thin || math.Abs(float64(got-want)) > 0.001*float64(want) {
		t.Errorf("it weighs %v, its thinnest place would make %v, its mean %v", got, thin, want)
	}
}
