package drying

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"drytally/compute/units"
	"pgregory.net/rapid"
)

func TestSectionMC(t *testing.T) {
	tests := []struct {
		name         string
		wet, ovendry units.Mass
		want         string
		fails        bool
	}{
		{"Purdue FNR-156, quoted in a forum; second hand", units.Grams(136), units.Grams(100), "36.0", false},
		{"FOR-128 p. 27, eq. 4; seen", units.Pounds(10), units.Pounds(5), "100.0", false},
		{"Univ. of Vermont Extension: 10 lb water, 20 lb wood; result derived", units.Pounds(30), units.Pounds(20), "50.0", false},
		{"bone dry", units.Grams(100), units.Grams(100), "0.0", false},
		{"exchanged", units.Grams(100), units.Grams(136), "", true},
		{"grams over pounds", units.Grams(5000), units.Grams(11), "", true},
		{"no ovendry weight", units.Grams(136), 0, "", true},
		{"no wet weight", 0, units.Grams(100), "", true},
		{"negative", units.Grams(136), units.Grams(-100), "", true},
	}
	for _, tt := range tests {
		got, err := SectionMC(tt.wet, tt.ovendry)
		if (err != nil) != tt.fails || err == nil && got.String() != tt.want {
			t.Errorf("%s: %g g and %g g: got %v (%v), want %s", tt.name, tt.wet.Grams(), tt.ovendry.Grams(), got, err, tt.want)
		}
	}
	if _, err := SectionMC(0, 0); !errors.Is(err, ErrNoWeight) {
		t.Errorf("no weights: got %v, want %v", err, ErrNoWeight)
	}
}

// Made up from the formulas (derived): sections 85.0 and 83.0 %, board 4,600 g, later 2,700 g.
func ExampleSampleMC() {
	mc, _ := Average([]units.MC{units.Percent(85), units.Percent(83)})
	od, _ := OvendryWeight(units.Grams(4600), mc)
	now, _ := SampleMC(units.Grams(2700), od)
	fmt.Println(mc, od.Grams(), now)
	// Output: 84.0 2500 8.0
}

func TestSampleBoardRefusals(t *testing.T) {
	if _, ok := Average(nil); ok {
		t.Error("the average of no section is known")
	}
	if _, err := OvendryWeight(0, 8400); !errors.Is(err, ErrNoWeight) {
		t.Errorf("no weight: got %v", err)
	}
	for _, mc := range []units.MC{-1, 40100} {
		if od, err := OvendryWeight(units.Grams(4600), mc); err == nil {
			t.Errorf("MC %v: got %g g", mc, od.Grams())
		}
	}
	if _, err := SampleMC(units.Grams(2400), units.Grams(2500)); err == nil {
		t.Error("a board lighter than its ovendry weight was taken")
	}
}

// The two forms of the formula are the same: a board of any moisture content weighs back to it.
func TestSampleBoardRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		green := units.Grams(float64(rapid.IntRange(500, 20000).Draw(t, "grams")))
		mc := units.MC(rapid.IntRange(0, 15000).Draw(t, "mc"))
		od, err := OvendryWeight(green, mc)
		if err != nil {
			t.Fatal(err)
		}
		back, err := SampleMC(green, od)
		if err != nil || math.Abs(float64(back-mc)) > 1 { // the ovendry weight is rounded to the milligram
			t.Fatalf("%g g at %v: ovendry %g g, back to %v (%v)", green.Grams(), mc, od.Grams(), back, err)
		}
	})
}
