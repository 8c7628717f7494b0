package haul

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/footage"
	"drytally/compute/units"
	"drytally/compute/wood"
)

func species(t *testing.T, name string) wood.Species {
	t.Helper()
	s, ok := wood.ByName(name)
	if !ok {
		t.Fatal(name)
	}
	return s
}

func solid(t *testing.T, thick, wide, long units.Length, n int) footage.Solid {
	t.Helper()
	v, err := footage.SolidOf(footage.Piece{Thickness: thick, Width: wide, Length: long, Count: n})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// One green red oak 8/4 x 12 in x 12 ft at 75 % weighs 122 lb (derived, from a worked example that was seen); dried to 7 % the
// same board has the ovendry wood of its green volume: 122.3 / 1.75 x 1.07 = 74.8 lb.
func TestOneOakBoard(t *testing.T) {
	oak := species(t, "northern red oak")
	v := solid(t, 2*units.Inch, 12*units.Inch, 12*units.Foot, 1)
	at75, err := footage.Weight(v, oak, units.Percent(75))
	if err != nil {
		t.Fatal(err)
	}
	dry, err := Dried(v, oak, units.Percent(7))
	if want := at75.Pounds() / 1.75 * 1.07; err != nil || math.Abs(dry.About.Pounds()-want) > 0.01 || math.Abs(want-74.8) > 0.1 {
		t.Errorf("dried to 7 %%: got %.2f lb (%v), want %.2f", dry.About.Pounds(), err, want)
	}
	if math.Abs(dry.Low.Pounds()/dry.About.Pounds()-0.9) > 1e-4 || math.Abs(dry.High.Pounds()/dry.About.Pounds()-1.1) > 1e-4 {
		t.Errorf("got %v, want 10 %% either way", dry)
	}
	green, err := Green(v, oak)
	if err != nil {
		t.Fatal(err)
	}
	if green.Low.Pounds() > 0.8*green.About.Pounds()+0.01 || green.High.Pounds() < 1.2*green.About.Pounds()-0.01 || green.About <= dry.High {
		t.Errorf("green: got %.0f, %.0f, %.0f lb", green.Low.Pounds(), green.About.Pounds(), green.High.Pounds())
	}
}

// Loblolly pine has dry heartwood and wet sapwood: its green range reaches 10 % beyond both.
func TestGreenReachesHeartAndSap(t *testing.T) {
	pine := species(t, "loblolly pine")
	v := solid(t, units.Inch, 10*units.Inch, 12*units.Foot, 70)
	r, err := Green(v, pine)
	if err != nil {
		t.Fatal(err)
	}
	low, mean, high := greenMC(pine)
	if low >= mean || mean >= high {
		t.Fatalf("the table's figures %g, %g, %g no longer tell the case", low, mean, high)
	}
	at := func(mc float64) float64 {
		m, err := footage.Weight(v, pine, units.Percent(mc))
		if err != nil {
			t.Fatal(err)
		}
		return m.Pounds()
	}
	if got, want := r.High.Pounds(), max(1.2*at(mean), 1.1*at(high)); math.Abs(got-want) > 0.1 {
		t.Errorf("high end: got %.1f lb, want %.1f", got, want)
	}
	if got, want := r.Low.Pounds(), min(0.8*at(mean), 0.9*at(low)); math.Abs(got-want) > 0.1 {
		t.Errorf("low end: got %.1f lb, want %.1f", got, want)
	}
	u, err := Unknown(v, pine)
	if err != nil || u.High != r.High || u.Low >= r.Low {
		t.Errorf("moisture not known: got %v (%v), green %v", u, err, r)
	}
}

func TestWeightNotKnown(t *testing.T) {
	v := solid(t, units.Inch, 10*units.Inch, 12*units.Foot, 1)
	if _, err := Green(v, wood.Species{Name: "made up", BasicGravity: 0.5, Fiber: 30}); !errors.Is(err, ErrNoGreen) {
		t.Errorf("got %v, want %v", err, ErrNoGreen)
	}
	if _, err := Green(v, wood.Species{Name: "made up", GreenMean: 80, Fiber: 30}); !errors.Is(err, footage.ErrNoGravity) {
		t.Errorf("got %v, want %v", err, footage.ErrNoGravity)
	}
	if _, err := Dried(v, wood.Species{Name: "made up", Fiber: 30}, units.Percent(8)); !errors.Is(err, footage.ErrNoGravity) {
		t.Errorf("got %v, want %v", err, footage.ErrNoGravity)
	}
}

func TestTrips(t *testing.T) {
	lb := units.Pounds(1)
	for _, c := range []struct {
		boards []units.Mass
		rated  units.Mass
		want   string
		err    error
	}{
		{nil, 100 * lb, "[]", nil},
		{[]units.Mass{40 * lb, 60 * lb}, 100 * lb, "[2]", nil}, // just full
		{[]units.Mass{40 * lb, 60 * lb, 1 * lb}, 100 * lb, "[2 1]", nil},
		{[]units.Mass{60 * lb, 60 * lb, 60 * lb}, 100 * lb, "[1 1 1]", nil},
		{[]units.Mass{101 * lb}, 100 * lb, "[]", ErrTooHeavy},
	} {
		got, err := Trips(c.boards, c.rated)
		if fmt.Sprint(got) != c.want || !errors.Is(err, c.err) {
			t.Errorf("Trips(%v, %v): got %v (%v), want %s (%v)", c.boards, c.rated, got, err, c.want, c.err)
		}
	}
}

// Every board rides once and no trip is over the rated load.
func TestTripsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rated := units.Mass(rapid.IntRange(100, 1000).Draw(t, "rated"))
		var boards []units.Mass
		for range rapid.IntRange(0, 80).Draw(t, "n") {
			boards = append(boards, units.Mass(rapid.IntRange(1, 100).Draw(t, "board")))
		}
		trips, err := Trips(boards, rated)
		if err != nil {
			t.Fatal(err)
		}
		at := 0
		for _, n := range trips {
			sum := units.Mass(0)
			for _, b := range boards[at : at+n] {
				sum += b
			}
			if at += n; sum > rated || n == 0 {
				t.Fatalf("a trip of %d boards weighs %d, rated %d", n, sum, rated)
			}
		}
		if at != len(boards) {
			t.Fatalf("%d of %d boards ride", at, len(boards))
		}
	})
}

func TestOutward(t *testing.T) {
	lb := units.Pounds(1)
	r := Range{101 * lb, 114 * lb, 131 * lb}.Outward(10 * lb)
	if r != (Range{100 * lb, 110 * lb, 140 * lb}) {
		t.Errorf("got %v", r)
	}
}
