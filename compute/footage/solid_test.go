package footage

import (
	"errors"
	"math"
	"testing"

	"drytally/compute/units"
	"drytally/compute/wood"
)

// TestCubicMetres: one board foot of measured wood is 0.002359737216 m3 exactly, 144 x 16.387064 cm3 (derived from 1 in = 25.4 mm).
func TestCubicMetres(t *testing.T) {
	v, err := SolidOf(Piece{units.Inch, 12 * units.Inch, units.Foot, 1})
	if err != nil || v.CubicMetres() != 0.002359737216 {
		t.Errorf("got %v (%v)", v.CubicMetres(), err)
	}
	// 1 MBF is 2.3597 m3, 2.360 to the thousandth.
	mbf, _ := SolidOf(Piece{units.Inch, 12 * units.Inch, units.Foot, 1000})
	if mbf.Thousandths() != 2360 || v.Add(mbf).CubicMetres() != 2.362096953216 {
		t.Errorf("1 MBF: got %d thousandths, with one more %v", mbf.Thousandths(), v.Add(mbf).CubicMetres())
	}
	// Solid wood thinner than 1 in is its own volume: the rule of footage is not for it.
	thin, _ := SolidOf(Piece{units.Fraction(1, 2), 12 * units.Inch, units.Foot, 1})
	if thin.CubicMetres() != 0.001179868608 || (Solid{}).CubicMetres() != 0 {
		t.Errorf("1/2 in: got %v", thin.CubicMetres())
	}
}

// TestSolidParts: a board foot is 2359.737216 cm3 (derived above); two of it less one, in three parts, 786.579 each.
func TestSolidParts(t *testing.T) {
	foot, _ := SolidOf(Piece{units.Inch, 12 * units.Inch, units.Foot, 1})
	two, _ := SolidOf(Piece{units.Inch, 12 * units.Inch, units.Foot, 2})
	for got, want := range map[int64]int64{two.Less(foot).CubicCentimetres(): 2360, foot.Part(3).CubicCentimetres(): 787, two.Less(two).CubicCentimetres(): 0} {
		if got != want {
			t.Errorf("got %d cm3, want %d", got, want)
		}
	}
}

// TestLoadWeights: Wengert prints the weight of 1,000 board feet 1 1/8 in thick and 12 ft 2 in long (seen): northern red oak
// at 75 % 5,821 lb, white oak at 65 % 5,879, black walnut at 90 % 5,753. From the basic gravity (0.56, 0.60, 0.51) the same
// volume gives 5,815, 5,875 and 5,750 (derived). He seems to use weights a foot already rounded: his are 0.05 to 0.11 % higher
// in all three, so 0.15 % is allowed against print and half a pound against our own arithmetic. The tenth of a percent is
// nothing beside the 10 % by which gravity varies.
func TestLoadWeights(t *testing.T) {
	for _, c := range []struct {
		species            string
		mc, printed, exact float64
	}{{"northern red oak", 75, 5821, 5815}, {"white oak", 65, 5879, 5875}, {"black walnut", 90, 5753, 5750}} {
		s, ok := wood.ByName(c.species)
		if !ok {
			t.Fatal(c.species)
		}
		// 1,000 board feet counted 12 ft long: 1,000 boards of 1 square foot, each 1/12 of 12 ft 2 in long.
		v, err := SolidOf(Piece{units.Fraction(9, 8), units.Inch, 12*units.Foot + 2*units.Inch, 1000})
		if err != nil {
			t.Fatal(err)
		}
		m, err := Weight(v, s, units.Percent(c.mc))
		if err != nil || math.Abs(m.Pounds()-c.exact) > 0.6 || math.Abs(m.Pounds()/c.printed-1) > 0.0015 {
			t.Errorf("%s: got %.1f lb (%v), worked %g, printed %g", c.species, m.Pounds(), err, c.exact, c.printed)
		}
	}
}

// TestPoundsPerFoot: 5.2025 x G x (1 + M/100) pounds a board foot of real wood, 2.3597 in kilograms (derived).
func TestPoundsPerFoot(t *testing.T) {
	v, _ := SolidOf(Piece{units.Inch, 12 * units.Inch, units.Foot, 1})
	m, err := Weight(v, wood.Species{Name: "made up", Fiber: 30, BasicGravity: 1}, units.Percent(30))
	if err != nil || math.Abs(m.Pounds()/1.3-5.2023) > 0.0003 || math.Abs(m.Grams()/1300-2.3597) > 0.00005 {
		t.Errorf("got %.5f lb, %.5f kg (%v)", m.Pounds()/1.3, m.Grams()/1300, err)
	}
	// One green red oak 8/4 x 12 in x 12 ft at 75 %: 122 lb, 55.5 kg (derived).
	oak, _ := wood.ByName("northern red oak")
	board, _ := SolidOf(Piece{2 * units.Inch, 12 * units.Inch, 12 * units.Foot, 1})
	if m, _ := Weight(board, oak, units.Percent(75)); math.Abs(m.Pounds()-122) > 0.5 || math.Abs(m.Grams()-55500) > 50 {
		t.Errorf("8/4 board: got %.2f lb, %.0f g", m.Pounds(), m.Grams())
	}
}

// TestGravityAt: equation 4-13 at 12 % against the gravity printed at 12 % (Table 5-3a). All but ten
// woods agree within 0.03.
func TestGravityAt(t *testing.T) {
	// By hand: 0.56 / (1 - 0.265 x 0.56 x 0.6) = 0.56 / 0.91096 = 0.61474.
	oak, _ := wood.ByName("northern red oak")
	if g, err := GravityAt(oak, units.Percent(12)); err != nil || math.Abs(g-0.61474) > 0.00001 {
		t.Errorf("red oak: got %g (%v)", g, err)
	}
	if g, _ := GravityAt(oak, units.Percent(30)); g != 0.56 {
		t.Errorf("green: got %g", g)
	}
	// The equation takes the average volumetric shrinkage of all woods, 26.5 % x G. Basswood, paper birch and chestnut oak
	// shrink more, black locust, live oak and water hickory less; willow oak, Sitka spruce, western white pine and white spruce
	// are printed with figures that don't fit each other (misprints likely, unresolved).
	odd := map[string]bool{"american basswood": true, "paper birch": true, "chestnut oak": true, "black locust": true, "live oak": true,
		"water hickory": true, "willow oak": true, "sitka spruce": true, "western white pine": true, "white spruce": true}
	for _, s := range wood.All() {
		if s.BasicGravity == 0 || s.Gravity12 == 0 {
			continue
		}
		g, err := GravityAt(s, units.Percent(12))
		if err != nil || (math.Abs(g-s.Gravity12) > 0.03) != odd[s.Name] {
			t.Errorf("%s: computed %.3f (%v), printed %.2f at 12 %%, listed as odd %v", s.Name, g, err, s.Gravity12, odd[s.Name])
		}
	}
	if _, err := GravityAt(wood.Species{Name: "teak", Fiber: 30}, 0); !errors.Is(err, ErrNoGravity) {
		t.Errorf("no gravity: got %v", err)
	}
	for _, m := range []units.MC{-1, units.Percent(301)} {
		if _, err := Weight(Solid{}, oak, m); err == nil {
			t.Errorf("%v: no error", m)
		}
	}
}
