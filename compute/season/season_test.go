package season

import (
	"math"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"

	"drytally/compute/shrink"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/testdata/published"
)

func month12(low, high float64) []Month {
	var all []Month
	for m := time.January; m <= time.December; m++ {
		rh := low + (high-low)*float64(m-1)/11
		all = append(all, Month{m, units.Fahrenheit(70), units.RelativeHumidity(rh)})
	}
	return all
}

// TestYear: at 70 F the sorption equation gives 7.7 % at 40 % humidity (FOR-128; seen) and 12.0 % at 65 % (Table 4-2; seen).
func TestYear(t *testing.T) {
	y, err := Of(month12(40, 65))
	if err != nil || y.Low.MC != units.Percent(7.7) || y.High.MC != units.Percent(12) || y.Low.Month != time.January || y.High.Month != time.December ||
		len(y.Months) != 12 || y.Extrapolated != 0 {
		t.Errorf("got %+v (%v), want 7.7 in January to 12.0 in December", y, err)
	}
	one, err := Of([]Month{{time.July, units.Celsius(20), units.RelativeHumidity(50)}})
	if err != nil || one.Low != one.High || one.Low.Month != time.July {
		t.Errorf("one month: got %+v (%v)", one, err)
	}
	cold, err := Of([]Month{{time.January, units.Fahrenheit(15), units.RelativeHumidity(75)}})
	if err != nil || cold.Extrapolated != 1 {
		t.Errorf("15 F: got %+v (%v), want one month outside the working range", cold, err)
	}
	for name, months := range map[string][]Month{
		"none":        nil,
		"month 13":    {{13, units.Celsius(20), units.RelativeHumidity(50)}},
		"twice":       {{1, units.Celsius(20), units.RelativeHumidity(50)}, {1, units.Celsius(20), units.RelativeHumidity(55)}},
		"no humidity": {{1, units.Celsius(20), units.Humidity{}}},
	} {
		if y, err := Of(months); err == nil {
			t.Errorf("%s: got %+v, want an error", name, y)
		}
	}
}

func flat(t *testing.T, share float64) shrink.Direction {
	t.Helper()
	return shrink.Direction{Share: share, Low: share, High: share, Fiber: 30}
}

// TestPrintedGaps: four gaps worked with equation 13-3 to three decimals, flat-sawn, from the tangential shrinkage (derived).
// Between gives all four. Where both ends lie within 6 to 14 % Move takes equation 13-2, whose coefficient is based on the size at
// 10 %: the pine comes out the same, 0.0021195 * 5.5 * 5 = 0.0583, the oak floor made at 8 % a thousandth smaller,
// 0.0030410 * 5.125 * 4 = 0.0623 where 13-3 gives 0.0627.
func TestPrintedGaps(t *testing.T) {
	for _, c := range []struct {
		name        string
		share, size float64
		from, to    float64
		printed     float64
		move        float64
		coefficient bool
	}{
		{"cedar 7 1/4", 0.050, 7.25, 12, 18, 0.075, 0.0747, false},
		{"white pine 5 1/2", 0.061, 5.5, 9, 14, 0.058, 0.0583, true},
		{"white pine 7 1/4", 0.061, 7.25, 15, 9, -0.091, -0.0912, false},
		{"red oak floor 5 1/8", 0.086, 5.125, 8, 12, 0.063, 0.0623, true},
	} {
		from, to := units.Percent(c.from), units.Percent(c.to)
		size := units.Inches(c.size)
		by13_3, err := shrink.Between(size, flat(t, c.share), from, to)
		if diff := (by13_3 - size).Inches(); err != nil || math.Abs(diff-c.printed) > 0.0005 {
			t.Errorf("%s: Between gives %.4f (%v), printed %g", c.name, diff, err, c.printed)
		}
		m, err := Move(size, flat(t, c.share), from, min(from, to), max(from, to))
		if got := (m.Swell - m.Shrink).Inches(); err != nil || math.Abs(got-c.move) > 0.00005 || m.Coefficient != c.coefficient {
			t.Errorf("%s: Move gives %.5f, coefficient %v (%v); want %g, %v", c.name, got, m.Coefficient, err, c.move, c.coefficient)
		}
	}
}

// TestMoveWhiteFir: the printed example of equation 13-2: 232 mm, 8 to 11 %, coefficient 0.00245 gives 1.7 mm (0.067 in).
func TestMoveWhiteFir(t *testing.T) {
	share, err := shrink.ShareFromCoefficient(0.00245, 30)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Move(units.Millimetres(232), flat(t, share), units.Percent(8), units.Percent(8), units.Percent(11))
	if err != nil || math.Abs(m.Swell.Millimetres()-1.7) > 0.05 || math.Abs(m.Swell.Inches()-0.067) > 0.0005 || !m.Coefficient {
		t.Errorf("got %.3f mm (%v), want 1.7", m.Swell.Millimetres(), err)
	}
}

// TestPineRule: a pine board moves about 1 % of its width for 4 points (Wengert; seen). The pines give 0.8 to 1.1 % flat-sawn.
func TestPineRule(t *testing.T) {
	for _, name := range []string{"eastern white pine", "loblolly pine", "longleaf pine", "ponderosa pine", "red pine"} {
		s, ok := wood.ByName(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		d, err := shrink.Across(s, shrink.Width, shrink.Sawing{Kind: shrink.Flat})
		if err != nil {
			t.Fatal(err)
		}
		m, err := Move(10*units.Inch, d, units.Percent(8), units.Percent(8), units.Percent(12))
		if share := m.Swell.Inches() * 10; err != nil || share < 0.75 || share > 1.15 {
			t.Errorf("%s: got %.2f %% (%v), want about 1", name, share, err)
		}
	}
}

// TestMoveLaws: one way is nothing when the year lies on the other side, most is never less than the average, a dampter year
// swells more, and wood made at the middle moves both ways.
func TestMoveLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := units.MC(rapid.Int32Range(300, 2400).Draw(t, "low"))
		high := low + units.MC(rapid.Int32Range(0, 500).Draw(t, "more"))
		made := units.MC(rapid.Int32Range(300, 2500).Draw(t, "made"))
		width := units.Length(rapid.Int64Range(int64(units.Inch), int64(20*units.Inch)).Draw(t, "width"))
		r, tang := rapid.Float64Range(0.02, 0.05).Draw(t, "radial"), rapid.Float64Range(0.05, 0.12).Draw(t, "tangential")
		d := shrink.Direction{Share: (r + tang) / 2, Low: r, High: tang, Fiber: 30}
		m, err := Move(width, d, made, low, high)
		if err != nil {
			t.Fatal(err)
		}
		if m.Swell < 0 || m.Shrink < 0 || m.SwellMost < m.Swell || m.ShrinkMost < m.Shrink {
			t.Fatalf("%+v", m)
		}
		if made >= high && m.Swell != 0 || made <= low && m.Shrink != 0 {
			t.Fatalf("made at %s in a year of %s to %s: %+v", made, low, high, m)
		}
		wide, err := Move(2*width, d, made, low, high)
		if diff := wide.Swell - 2*m.Swell; err != nil || diff > 2 || diff < -2 {
			t.Fatalf("twice the width swells %d and %d (%v)", wide.Swell, m.Swell, err)
		}
	})
}

// TestPaces walks the table against the second transcription.
func TestPaces(t *testing.T) {
	_, rows := published.Table(t, "season_store.csv")
	if len(rows) != len(paces()) {
		t.Fatalf("got %d ways, want %d", len(paces()), len(rows))
	}
	for i, w := range rows {
		p := paces()[i]
		var n [6]float64
		for k := range n {
			n[k], _ = strconv.ParseFloat(w[k+1], 64)
		}
		if p.Kept.String() != w[0] || [6]float64{p.slow, p.first, p.days, p.then, p.slowest, p.fastest} != n || p.Source.Status.String() != w[7] {
			t.Errorf("row %d: got %+v, want %v", i, p, w)
		}
	}
}

func TestKeptOf(t *testing.T) {
	for text, want := range map[string]Kept{
		"": KeptNotSaid, "wrapped pack": Wrapped, "in plastic": Wrapped, "unwrapped": KeptNotSaid, "closed shed": ClosedShed,
		"closed unheated shed, dead packed": ClosedShed, "open shed": OpenShed, "open-sided barn": OpenShed, "under a roof": OpenShed,
		"stickered in the shop": Stickered, "on sticks": Stickered, "shed": KeptNotSaid, "shop": KeptNotSaid, "solid piled": KeptNotSaid,
		"not wrapped": KeptNotSaid, "wrapped or stickered": KeptNotSaid, "stickered, open shed": Stickered, "wrapped and stickered": KeptNotSaid,
	} {
		if got := KeptOf(text); got != want {
			t.Errorf("%q: got %v, want %v", text, got, want)
		}
	}
}

// TestRegain: what is printed of store air, by hand.
func TestRegain(t *testing.T) {
	mc := units.Percent
	for _, c := range []struct {
		name      string
		from, air float64
		kept      Kept
		days      float64
		low, high float64
	}{
		// Wrapped: 0.2 a month or less. After 60 days from 8.0 in air of 12: 8.0 to 8.4.
		{"wrapped", 8, 12, Wrapped, 60, 8, 8.4},
		// Under a roof: 2 a month for 45 days makes 3.0, then 1 a month: 4.0 after 75 days. Slow: end 14 - 1.5 = 12.5, 4.5 away,
		// 4.5 (1 - exp(-2.5/4.5)) = 1.92, outward 9.9.
		{"under a roof, 75 days", 8, 14, OpenShed, 75, 9.9, 12},
		{"under a roof, 45 days", 8, 14, OpenShed, 45, 9.2, 11}, // 4.5 (1 - exp(-1.5/4.5)) = 1.276
		{"never beyond the air", 8, 14, OpenShed, 10000, 12.5, 14.5},
		// Closed shed, 5.5 % in air of 11: after 90 days at most 5.5 + 5.49 (NC State: 9 to 11 after several months).
		{"closed shed, 90 days", 5.5, 11, ClosedShed, 90, 6.3, 11},
		// On stickers: after a week the fast end is in the air (and half a point), the slow one a third of the way to 10.5.
		{"stickers, 7 days", 7, 12, Stickered, 7, 8.1, 12.5},
		{"stickers, 21 days", 7, 12, Stickered, 21, 10.5, 12.5},
		{"day nought", 7, 12, OpenShed, 0, 7, 7},
		// Drying out in a heated room: 10 % in air of 7: fast to 6.5 in a week, slow to 7.5 in three.
		{"dry room", 10, 7, Stickered, 7, 6.5, 9.2},
		// Near the air: from 11 in air of 12 it may stay or come to 12.5.
		{"near the air", 11, 12, Stickered, 30, 11, 12.5},
		{"at the air", 12, 12, Stickered, 30, 11.5, 12.5},
		{"not said", 7, 12, KeptNotSaid, 7, 7, 12.5},
		{"wrapped for ever", 8, 12, Wrapped, 10000, 8, 12.5}, // the wrap may hold
		{"wrapped in dry air", 8, 5, Wrapped, 10000, 4.5, 8},
	} {
		f, err := Regain(mc(c.from), mc(c.air), c.kept)
		if err != nil {
			t.Fatal(err)
		}
		if low, high := f.At(c.days); low != mc(c.low) || high != mc(c.high) {
			t.Errorf("%s: got %s to %s, want %g to %g", c.name, low, high, c.low, c.high)
		}
	}
	if _, err := Regain(mc(31), mc(12), Wrapped); err == nil {
		t.Error("31 % was taken")
	}
}

// TestLeaves: from 8.0 under a roof at 2 points a month the fast end passes 10 % after 30 days: on day 30 it is exactly 10.0.
func TestLeaves(t *testing.T) {
	f, err := Regain(units.Percent(8), units.Percent(14), OpenShed)
	if err != nil {
		t.Fatal(err)
	}
	if day, leaves := f.Leaves(units.Percent(6), units.Percent(10)); day != 30 || !leaves {
		t.Errorf("got day %d, %v; want 30", day, leaves)
	}
	if day, leaves := f.Leaves(units.Percent(6), units.Percent(15)); leaves {
		t.Errorf("the range ends at 14.5 and left a band up to 15 on day %d", day)
	}
	if day, leaves := f.Leaves(units.Percent(6), units.Percent(7)); day != 0 || !leaves {
		t.Errorf("outside from the start: got day %d, %v; want 0", day, leaves)
	}
	dry, err := Regain(units.Percent(8), units.Percent(5), Stickered) // fast end 4.5 in a week: 8 - 3.5 d/7 is exactly 6.0 on day 4
	if err != nil {
		t.Fatal(err)
	}
	if day, leaves := dry.Leaves(units.Percent(6), units.Percent(10)); day != 4 || !leaves {
		t.Errorf("dry room: got day %d, %v; want 4", day, leaves)
	}
}

// TestDays: 5 points under a roof: 3 in the first 45 days, 2 more at 1 a month: 105 days; slow 1 a month: 150. On stickers 7 to
// 21 days. Wrapped: 5 / 0.2 = 25 months at the fastest, no slowest.
func TestDays(t *testing.T) {
	for _, c := range []struct {
		kept         Kept
		points       float64
		fewest, most float64
	}{
		{OpenShed, 5, 105, 150}, {OpenShed, 2, 30, 60}, {OpenShed, 3, 45, 90}, {Stickered, 5, 7, 21}, {Wrapped, 5, 750, 0},
		{ClosedShed, 5, 82, 500}, // 5 / 1.83 = 2.732 months, 5 / 0.3
		{OpenShed, -2, 30, 60}, {Wrapped, 0, 0, 0},
	} {
		if fewest, most := PaceOf(c.kept).Days(units.Percent(c.points)); fewest != c.fewest || most != c.most {
			t.Errorf("%v, %g points: got %g to %g days, want %g to %g", c.kept, c.points, fewest, most, c.fewest, c.most)
		}
	}
}

// TestRegainLaws: the range is a range, holds the start, widens and never goes beyond start and ends.
func TestRegainLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := units.MC(rapid.Int32Range(30, 250).Draw(t, "from") * 10)
		air := units.MC(rapid.Int32Range(30, 250).Draw(t, "air") * 10)
		f, err := Regain(from, air, Kept(rapid.IntRange(0, 4).Draw(t, "kept")))
		if err != nil {
			t.Fatal(err)
		}
		lastLow, lastHigh := f.At(0)
		if lastLow != from || lastHigh != from {
			t.Fatalf("day 0: %s to %s, want %s", lastLow, lastHigh, from)
		}
		for d := 5.0; d < 400; d += 25 {
			low, high := f.At(d)
			if low > high || low < min(from, f.EndLow) || high > max(from, f.EndHigh) {
				t.Fatalf("day %g: %s to %s, from %s in air of %s", d, low, high, from, air)
			}
			// Both ends go one way.
			if f.EndLow >= from && low < lastLow || f.EndHigh <= from && high > lastHigh {
				t.Fatalf("day %g turned back: %s to %s after %s to %s", d, low, high, lastLow, lastHigh)
			}
			lastLow, lastHigh = low, high
		}
	})
}
