package shrink

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/source"
	"drytally/compute/units"
)

func TestMoisture(t *testing.T) {
	d := mustAcross(t, "northern red oak", Width, Flat) // S0 8.6 %, F 30
	for _, c := range []struct {
		name       string
		green, dry float64
		want       float64
	}{
		// 6.3067 % of 8 in, the other way round.
		{"own arithmetic", 8, 7.495466667, 8},
		{"not shrunk", 8, 8, 30},
		{"ovendry", 10, 9.14, 0},
		{"more than the table", 10, 9.054, -3}, // 9.46 % is 1.1 x S0: 30 (1 - 1.1)
	} {
		got, err := Moisture(units.Inches(c.green), units.Inches(c.dry), d)
		if err != nil || got != units.Percent(c.want) {
			t.Errorf("%s: got %v (%v), want %g", c.name, got, err, c.want)
		}
	}
	if _, err := Moisture(8*units.Inch, 8*units.Inch+1, d); !errors.Is(err, ErrGrown) {
		t.Errorf("grown: got %v", err)
	}
	if _, err := Moisture(0, units.Inch, d); err == nil {
		t.Error("no green size: no error")
	}
}

// TestMoistureUndoesDry: sizes are exact to a nanometre, so the moisture content comes back to its hundredth.
func TestMoistureUndoesDry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDirection(t)
		x := units.Length(rapid.Int64Range(int64(units.Centimetre), int64(units.Metre)).Draw(t, "size"))
		m := units.MC(rapid.Int32Range(0, int32(d.Fiber*100)).Draw(t, "mc"))
		dry, _ := Dry(x, d, m)
		if back, err := Moisture(x, dry, d); err != nil || back-m > 1 || m-back > 1 {
			t.Fatalf("%v came back as %v (%v)", m, back, err)
		}
	})
}

// TestBackwards by hand: S0 8 %, F 30; three boards of 10 in that lost 0.56, 0.60 and 0.64 in shrank 7.0, 7.5 and 8.0 % of
// 8: hence 30 (1 - s/S0) = 9.0, 7.5, 6.0 %. Mean 7.5, points lost 22.5, common 0.15 x 22.5 = 3.375. The boards' own
// deviation is 1.5; the floor is the root of the mean of (0.15 x 21, 22.5, 24)^2 = 3.3844, over root 3 = 1.9540. The range is
// 1.95996 x the root of (3.375^2) joined with max(1.95996 x 3.3844, 4.30265 x 1.5) / root 3 = 6.6333 / 1.73205 = 3.8297:
// the root of 6.6149^2 + 3.8297^2 = 7.6435.
func TestBackwards(t *testing.T) {
	d := Direction{Share: 0.08, Low: 0.08, High: 0.08, Fiber: 30}
	var pairs []Pair
	for _, s := range []float64{0.056, 0.060, 0.064} {
		pairs = append(pairs, Pair{Green: 10 * units.Inch, Dry: units.Inches(10 * (1 - s)), Direction: d})
	}
	m, err := Backwards(pairs)
	if err != nil {
		t.Fatal(err)
	}
	e := m.Estimate
	if e.Value != 750 || m.Common != 338 || m.Own != 195 || e.Low != 0 || e.High != 1514 || e.N != 3 || !e.Known || e.Confidence != 0.95 {
		t.Errorf("got %+v", m)
	}
	// With mixed sawing between 4 and 12 % the common part also holds 0.08/root 12/0.08 = 0.2887: 22.5 x the root of
	// 0.15^2 + 0.2887^2 = 7.320.
	for i := range pairs {
		pairs[i].Direction.Low, pairs[i].Direction.High = 0.04, 0.12
	}
	if m, _ = Backwards(pairs); m.Common != 732 {
		t.Errorf("mixed: common got %v, want 7.32", m.Common)
	}
}

func TestBackwardsEdges(t *testing.T) {
	d := Direction{Share: 0.08, Low: 0.08, High: 0.08, Fiber: 30}
	if _, err := Backwards(nil); err == nil {
		t.Error("no boards: no error")
	}
	// One board: own and common are both 15 % of the 15 points lost.
	one, err := Backwards([]Pair{{Green: 10 * units.Inch, Dry: units.Inches(9.6), Direction: d}})
	if err != nil || one.Estimate.Value != 1500 || one.Common != 225 || one.Own != 225 {
		t.Errorf("one board: got %+v (%v)", one, err)
	}
	// A board larger dry than green stays in the mean and is named.
	two, err := Backwards([]Pair{{10 * units.Inch, units.Inches(9.6), d, 0}, {10 * units.Inch, units.Inches(10.08), d, 0}})
	if err != nil || len(two.Grown) != 1 || two.Grown[0] != 1 || two.Estimate.Value != 2400 {
		t.Errorf("grown: got %+v (%v)", two, err)
	}
	if _, err := Backwards([]Pair{{Green: units.Inch, Direction: d}}); err == nil {
		t.Error("no dry size: no error")
	}
}

// TestBackwardsKeepsTheCommonPart: however many boards, the range is never narrower than the common part, and the saw's
// spread never narrows it.
func TestBackwardsKeepsTheCommonPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Direction{Share: 0.08, Low: 0.08, High: 0.08, Fiber: 30}
		shares := rapid.SliceOfN(rapid.Float64Range(0.02, 0.06), 1, 200).Draw(t, "shares")
		var measured, set []Pair
		for _, s := range shares {
			p := Pair{Green: 8 * units.Inch, Dry: units.Inches(8 * (1 - s)), Direction: d}
			measured = append(measured, p)
			p.SawSpread = units.Fraction(30, 1000)
			set = append(set, p)
		}
		a, _ := Backwards(measured)
		b, _ := Backwards(set)
		half := float64(a.Estimate.High - a.Estimate.Value)
		// 2: rounding of value, end and part to the hundredth.
		if half < 1.9599*float64(a.Common)-2 || b.Estimate.High < a.Estimate.High || b.Estimate.Low > a.Estimate.Low {
			t.Fatalf("measured %+v, set %+v", a, b)
		}
	})
}

// TestHouse by hand: prior 8.0 % with deviation 1.2 %; four boards at 6 % that shrank 7.2 % of green say S0 = 7.2 x 30/24 = 9.0
// % each. Their own deviation is 0, so the floor 1.2 % holds, over root 4 = 0.6 %. Weights 1/1.44 and 4/1.44: (8 + 4 x 9)/5 =
// 8.8 %, error 1.2 / root 5 = 0.5367 %.
func TestHouse(t *testing.T) {
	d := Direction{Share: 0.08, Low: 0.05, High: 0.11, Fiber: 30}
	b := Known{Green: 10 * units.Inch, Dry: units.Inches(9.28), MC: units.Percent(6)}
	h, err := House(d, []Known{b, b, b, b})
	if err != nil || math.Abs(h.Direction.Share-0.088) > 1e-9 || math.Abs(h.Error-0.012/math.Sqrt(5)) > 1e-9 ||
		math.Abs(h.Measured-0.09) > 1e-9 || h.Boards != 4 || h.Direction.Source.Status != source.Owner || h.Direction.Low != h.Direction.Share {
		t.Errorf("got %+v (%v)", h, err)
	}
	for name, bad := range map[string][]Known{
		"none": nil, "too wet": {{units.Inch, units.Inch, units.Percent(25.01)}}, "no size": {{MC: units.Percent(8)}},
	} {
		if _, err := House(d, bad); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
