package yearbook

import (
	"fmt"
	"math"
	"testing"
	"time"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// shrunk makes a week of flat-sawn boards of white ash that shrank as told, read at 8 %.
func shrunk(t *testing.T, name string, day, first int, shares []float64) compute.Week {
	t.Helper()
	ash, ok := wood.ByName("white ash")
	if !ok {
		t.Fatal("white ash was not found")
	}
	s := newSheet(name).load(compute.Load{ID: "K1", Species: ash})
	for i, share := range shares {
		id := fmt.Sprint(first + i)
		green := 8 * units.Inch
		dry := units.Length(float64(green) * (1 - share*(30-8)/30)) // Wood Handbook 4-9
		s.board("K1", id, dry)
		b := &s.job.Boards[i]
		b.GreenWidth, b.Sawing, b.Species = green, compute.Sawing{Kind: compute.FlatSawn}, ash
		s.job.Readings = append(s.job.Readings, compute.Reading{Taking: &compute.Taking{Field: "reading", Load: "K1", Date: time.Date(2026, time.March, day, 0, 0, 0, 0, time.UTC)}, Origin: s.origin("reading"), Board: id,
			Value: units.Reading{State: units.Number, MC: units.Percent(8)}, WoodTemp: units.Celsius(22.7)})
	}
	s.job.Settings.MeterSpecies, s.job.Settings.MeterWoodTemp = compute.Yes, compute.Yes
	return s.week()
}

// TestHandbookCountsOnce: boards over two weeks give the figure they would give in one, not the mean of two joined figures; and a
// board that stands in both counts once.
func TestHandbookCountsOnce(t *testing.T) {
	a := []float64{0.080, 0.084, 0.088, 0.092, 0.086, 0.090}
	b := []float64{0.082, 0.087, 0.089, 0.085, 0.091, 0.083}
	all := Join([]compute.Week{shrunk(t, "all", 2, 1, append(append([]float64{}, a...), b...))})
	two := Join([]compute.Week{shrunk(t, "late", 9, 7, b), shrunk(t, "early", 2, 1, a)})
	again := Join([]compute.Week{shrunk(t, "late", 9, 1, append(append([]float64{}, a...), b...)), shrunk(t, "early", 2, 1, a)})
	if len(all.Shrinkage) != 1 || !all.Shrinkage[0].Known {
		t.Fatalf("got %+v", all.Shrinkage)
	}
	want := all.Shrinkage[0]
	for name, got := range map[string]*Yearbook{"two weeks": two, "carried over": again} {
		g := got.Shrinkage[0]
		if g.Boards != 12 || math.Abs(g.Used-want.Used) > 1e-12 || math.Abs(g.Error-want.Error) > 1e-12 || math.Abs(g.Own-want.Own) > 1e-12 {
			t.Errorf("%s: %d boards, own %.6f, joined %.6f +- %.6f; want 12, %.6f, %.6f +- %.6f", name, g.Boards, g.Own, g.Used, g.Error, want.Own, want.Used, want.Error)
		}
	}
	// By hand: the boards' mean is 0.08642; the handbook's 0.078 (Table 4-3) pulls it back by its own precision alone.
	if want.Own < 0.0863 || want.Own > 0.0866 || want.Used >= want.Own || want.Used <= want.Table {
		t.Errorf("own %.5f, joined %.5f, handbook %.5f", want.Own, want.Used, want.Table)
	}
	// The season of one week is the week's own figure.
	week := shrunk(t, "all", 2, 1, append(append([]float64{}, a...), b...))
	if h := compute.PoolShrinkage(week.Shrinkage)[0]; math.Abs(h.Used-want.Used) > 1e-12 || h.Error != want.Error {
		t.Errorf("the week alone gives %.6f +- %.6f, the season %.6f +- %.6f", h.Used, h.Error, want.Used, want.Error)
	}
	// What is drawn: the joined range lies inside both.
	if !(want.TableLow < want.Low && want.High < want.TableHigh && want.High-want.Low < want.OwnHigh-want.OwnLow) {
		t.Errorf("ranges: handbook %.4f to %.4f, own %.4f to %.4f, joined %.4f to %.4f", want.TableLow, want.TableHigh, want.OwnLow, want.OwnHigh, want.Low, want.High)
	}
}
