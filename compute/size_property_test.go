package compute

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/units"
	"drytally/compute/wood"
)

// TestMoreAllowanceNeverSetsSmaller: more planing, more edge cut, a wider spread of the saw, a smaller share of scant boards, and a drier
// target never give a smaller setting; and what is set is never below what is wanted.
func TestMoreAllowanceNeverSetsSmaller(t *testing.T) {
	woods := slices.DeleteFunc(wood.All(), func(s wood.Species) bool { return s.Tangential == 0 || s.Radial == 0 })
	rapid.Check(t, func(t *rapid.T) {
		inch64 := func(name string, low, high int) units.Length {
			return units.Length(rapid.IntRange(low, high).Draw(t, name)) * units.Fraction(1, 64)
		}
		job := &Job{Settings: Defaults()}
		s := &job.Settings
		s.PlanePer, s.EdgeCut, s.SawSpread = inch64("planing", 1, 16), inch64("edge", 1, 24), inch64("spread", 1, 4)
		s.ScantShare = float64(rapid.IntRange(1, 40).Draw(t, "scant")) / 100
		s.Target = units.Percent(float64(rapid.IntRange(7, 20).Draw(t, "target")))
		kind := rapid.SampledFrom([]SawingKind{SawingNotSaid, FlatSawn, QuarterSawn, MixedSawn}).Draw(t, "sawing")
		job.Wanted = []Wanted{{Piece: "x", Species: rapid.SampledFrom(woods).Draw(t, "wood"), Thickness: inch64("thickness", 24, 128), Width: inch64("width", 128, 640),
			Length: 8 * units.Foot, Pieces: 10, Sawing: Sawing{Kind: kind}}}
		was := Assess(job).Sizes[0]
		if !was.Known {
			t.Fatalf("no setting: %+v", was)
		}
		if was.Thickness <= was.FinishThickness+was.PlaneThickness || was.Width <= was.FinishWidth+was.PlaneWidth {
			t.Fatalf("set %v x %v for %v x %v", was.Thickness, was.Width, was.FinishThickness, was.FinishWidth)
		}
		what := rapid.SampledFrom([]string{"planing", "edge", "spread", "scant", "target"}).Draw(t, "what")
		switch what {
		case "planing":
			s.PlanePer += units.Fraction(1, 64)
		case "edge":
			s.EdgeCut += units.Fraction(1, 64)
		case "spread":
			s.SawSpread += units.Fraction(1, 64)
		case "scant":
			s.ScantShare /= 2
		case "target":
			s.Target -= units.Percent(1)
		}
		is := Assess(job).Sizes[0]
		if !is.Known || is.Thickness < was.Thickness || is.Width < was.Width || is.ThicknessExact < was.ThicknessExact || is.WidthExact < was.WidthExact {
			t.Fatalf("more %s: set %v x %v, was %v x %v", what, is.Thickness, is.Width, was.Thickness, was.Width)
		}
	})
}
