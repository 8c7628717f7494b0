package price

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/footage"
	"drytally/compute/units"
)

func TestOf(t *testing.T) {
	for _, c := range []struct {
		name        string
		p           Price
		feet, cubic int64
		want        Amount
	}{
		{"152 board feet at 4.50", Price{450, BoardFoot}, 15200, 0, 68400},
		{"the same by the thousand", Price{450_000, ThousandFeet}, 15200, 0, 68400},
		{"a half goes up", Price{1, BoardFoot}, 50, 0, 1},
		{"less than a half is nothing", Price{1, BoardFoot}, 49, 0, 0},
		{"0.359 m3 at 1,200", Price{120_000, CubicMetre}, 0, 359, 43080},
		{"for all", Price{31_250, Lot}, 0, 0, 31250},
	} {
		got, err := c.p.Of(c.feet, 1000*c.cubic)
		if err != nil || got != c.want {
			t.Errorf("%s: got %d (%v), want %d", c.name, got, err, c.want)
		}
	}
	for _, c := range []struct {
		p           Price
		feet, cubic int64
	}{{Price{}, 100, 100}, {Price{100, CubicMetre}, 100, 0}, {Price{Most, BoardFoot}, 1000, 0}} {
		if got, err := c.p.Of(c.feet, 1000*c.cubic); err == nil {
			t.Errorf("%v of %d: got %d, want an error", c.p, c.feet, got)
		}
	}
}

func TestWrite(t *testing.T) {
	for _, c := range []struct {
		a        Amount
		currency string
		want     string
	}{{0, "USD", "0.00 USD"}, {5, "$", "$0.05"}, {123456789, "kr", "1,234,567.89 kr"}, {-100, "$", "-$1.00"}, {99999, "", "999.99"}} {
		if got := c.a.Write(c.currency); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	for want, p := range map[string]Price{"$4.50 a board foot": {450, BoardFoot}, "$312.50 for all of it": {31250, Lot}, "$900.00 for 1,000 board feet": {90_000, ThousandFeet}} {
		if got := p.Write("$"); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// Any figure multiplied in one piece is within half a hundredth of the exact product.
func TestOfIsTheNearestHundredth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Price{rapid.Int64Range(1, 1_000_000).Draw(t, "price"), rapid.SampledFrom([]Unit{BoardFoot, ThousandFeet}).Draw(t, "per")}
		feet := rapid.Int64Range(0, 10_000_000).Draw(t, "feet")
		got, err := p.Of(feet, 0)
		if err != nil {
			t.Fatal(err)
		}
		unit := map[Unit]int64{BoardFoot: 100, ThousandFeet: 100_000}[p.Per]
		off := new(big.Rat).Sub(big.NewRat(int64(got), 1), new(big.Rat).Mul(big.NewRat(p.Hundredths, 1), big.NewRat(feet, unit)))
		if off.Abs(off).Cmp(big.NewRat(1, 2)) > 0 {
			t.Fatalf("%v of %d: got %d, off by %s", p, feet, got, off)
		}
	})
}

// Wengert (extension answers, seen): each 1/32 in of thickness is 2 to 3 % of the yield, 1 1/8 against 1 1/16 in nearly 5 %. By
// our formula 1/32 in on 1 1/16 in with a cut of 1/8 in takes 1/32 / (1 1/16 + 1/8) = 2.63 % more log for the same boards, and
// 1/16 in takes 5.26 %; of the same log there are then 1/16 / (1 1/16 + 1/16 + 1/8) = 5.0 % fewer boards.
func TestThickerAgainstPublished(t *testing.T) {
	board := []footage.Piece{{Thickness: units.Fraction(17, 16), Width: 8 * units.Inch, Length: 10 * units.Foot, Count: 100}}
	one, err := Thicker(board, units.Fraction(1, 32), units.Fraction(1, 8))
	if err != nil {
		t.Fatal(err)
	}
	if one.Share.Cmp(big.NewRat(1, 38)) != 0 {
		t.Errorf("1/32 in: got a share of %s, want 1/38", one.Share)
	}
	if f, _ := one.Share.Float64(); f < 0.02 || f > 0.03 {
		t.Errorf("1/32 in: got %.4f, published 0.02 to 0.03", f)
	}
	two, err := Thicker(board, units.Fraction(1, 16), units.Fraction(1, 8))
	if err != nil || two.Share.Cmp(big.NewRat(1, 19)) != 0 {
		t.Errorf("1/16 in: got %s (%v), want 1/19", two.Share, err)
	}
	fewer := new(big.Rat).Quo(two.Share, new(big.Rat).Add(two.Share, big.NewRat(1, 1)))
	if fewer.Cmp(big.NewRat(5, 100)) != 0 {
		t.Errorf("1/16 in: got %s fewer boards of the same log, published nearly 5 %%", fewer)
	}
	// 100 boards of 8 in x 10 ft: 666 2/3 square feet, times 1/32 in.
	if got := one.Feet.Rat(); got.Cmp(big.NewRat(2000, 96)) != 0 {
		t.Errorf("1/32 in: got %s board feet, want 2000/96", got)
	}
	for _, bad := range [][]footage.Piece{nil, {{Thickness: 0, Width: 1, Length: 1, Count: 1}}} {
		if _, err := Thicker(bad, units.Inch, 0); err == nil {
			t.Errorf("%v: no error", bad)
		}
	}
}
