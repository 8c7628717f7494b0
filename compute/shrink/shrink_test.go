package shrink

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/units"
	"drytally/compute/wood"
)

func mustAcross(t interface {
	Helper()
	Fatal(...any)
}, name string, d Dimension, k Kind) Direction {
	t.Helper()
	s, ok := wood.ByName(name)
	if !ok {
		t.Fatal("no wood ", name)
	}
	dir, err := Across(s, d, Sawing{Kind: k})
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestDryOwnArithmetic: equation 4-9 with seen Table 4-3 values, worked by hand to the digits shown (derived).
func TestDryOwnArithmetic(t *testing.T) {
	for _, c := range []struct {
		name, species string
		dim           Dimension
		saw           Kind
		green, mc     float64
		shrink, dry   float64 // percent, inches
	}{
		{"red oak flat width", "northern red oak", Width, Flat, 8, 8, 6.3067, 7.4955},
		{"red oak flat thickness", "northern red oak", Thickness, Flat, 1.125, 8, 2.9333, 1.0920},
		{"red oak quarter width", "northern red oak", Width, Quarter, 8, 8, 2.9333, 7.7653},
		{"yellow-poplar flat width", "yellow-poplar", Width, Flat, 10, 7, 6.2867, 9.3713},
		{"white oak flat width", "white oak", Width, Flat, 6, 12, 6.3000, 5.6220},
		{"eastern redcedar flat width", "eastern redcedar", Width, Flat, 6, 8, 3.4467, 5.7932},
		{"western redcedar flat width, start 22", "western redcedar", Width, Flat, 6, 12, 2.2727, 5.8636},
	} {
		d := mustAcross(t, c.species, c.dim, c.saw)
		s, err := d.To(units.Percent(c.mc))
		if err != nil || math.Abs(s*100-c.shrink) > 0.00005 {
			t.Errorf("%s: shrinkage got %.5f %%, want %.4f (%v)", c.name, s*100, c.shrink, err)
		}
		dry, err := Dry(units.Inches(c.green), d, units.Percent(c.mc))
		if err != nil || math.Abs(dry.Inches()-c.dry) > 0.00005 {
			t.Errorf("%s: dry got %.5f, want %.4f (%v)", c.name, dry.Inches(), c.dry, err)
		}
	}
	// The same western redcedar with shrinkage starting at 30: 3.0000 %, 5.8200 in.
	d := mustAcross(t, "western redcedar", Width, Flat)
	d.Fiber = 30
	if dry, err := Dry(6*units.Inch, d, units.Percent(12)); err != nil || math.Abs(dry.Inches()-5.82) > 0.00005 {
		t.Errorf("western redcedar, start 30: got %v, want 5.8200 (%v)", dry.Inches(), err)
	}
	// White oak at 18 % (4.2 %) dried on to 8 % (7.7 %): 6 in becomes 5.7808.
	if got, err := Between(6*units.Inch, mustAcross(t, "white oak", Width, Flat), units.Percent(18), units.Percent(8)); err != nil || math.Abs(got.Inches()-5.7808) > 0.00005 {
		t.Errorf("white oak 18 to 8 %%: got %v, want 5.7808 (%v)", got.Inches(), err)
	}
	// A board at 80 % is green: the start is the fiber saturation point.
	if got, err := Between(8*units.Inch, mustAcross(t, "northern red oak", Width, Quarter), units.Percent(80), units.Percent(8)); err != nil || math.Abs(got.Inches()-7.7653) > 0.00005 {
		t.Errorf("red oak 80 to 8 %%: got %v, want 7.7653 (%v)", got.Inches(), err)
	}
	if got, err := Green(6*units.Inch, mustAcross(t, "northern red oak", Width, Flat), units.Percent(8)); err != nil || math.Abs(got.Inches()-6.4039) > 0.00005 {
		t.Errorf("green width for 6 in dry: got %v, want 6.4039 (%v)", got.Inches(), err)
	}
}

// TestWengertFactor: the factor 1 - FMC/30 is 0.77 at 7 % and 0.67 at 10 % (Wengert, column on shrinkage in drying; seen).
func TestWengertFactor(t *testing.T) {
	d := Direction{Share: 0.1, Low: 0.1, High: 0.1, Fiber: 30}
	for mc, want := range map[float64]float64{7: 0.77, 10: 0.67} {
		if s, err := d.To(units.Percent(mc)); err != nil || math.Abs(s/d.Share-want) > 0.005 {
			t.Errorf("at %g %%: got %g, want %g (%v)", mc, s/d.Share, want, err)
		}
	}
}

// TestYellowPoplarPrinted: a Wengert column (seen) prints 3.4 and 6.2 % for yellow-poplar (4.6, 8.2) to 7 %. That is the
// line starting at 28 %, 3.45 and 6.15 (both are rounded to the even digit there); the handbook's 30 gives 3.53 and 6.29.
// The two starts differ by 0.14 of a percent at most here, far inside the 15 % spread.
func TestYellowPoplarPrinted(t *testing.T) {
	for _, c := range []struct {
		dim     Dimension
		printed float64
		at28    float64
		at30    float64
	}{{Thickness, 3.4, 3.45, 3.53}, {Width, 6.2, 6.15, 6.29}} {
		d := mustAcross(t, "yellow-poplar", c.dim, Flat)
		s30, _ := d.To(units.Percent(7))
		d.Fiber = 28
		s28, _ := d.To(units.Percent(7))
		if math.Abs(s28*100-c.at28) > 0.005 || math.Abs(s30*100-c.at30) > 0.005 {
			t.Errorf("%v: got %.4f with 28 and %.4f with 30, want %g and %g", c.dim, s28*100, s30*100, c.at28, c.at30)
		}
		// 0.0501: the printed figure is the computed 3.45 and 6.15 rounded to a tenth, a half either way.
		if math.Abs(s28*100-c.printed) > 0.0501 {
			t.Errorf("%v: got %.4f, printed %g", c.dim, s28*100, c.printed)
		}
		if (s30-s28)*100 > 0.15 {
			t.Errorf("%v: the two starts differ by %g", c.dim, (s30-s28)*100)
		}
	}
}

// TestQuartersawnOakThickness: 1 1/16 in quarter-sawn oak to 6 % loses "about 8 %, nearly 3/32 in" (Wengert, seen). White
// oak's tangential 10.5 % gives 8.4 % and 0.089 in, northern red oak's 8.6 % gives 6.9 % and 0.073.
func TestQuartersawnOakThickness(t *testing.T) {
	s, _ := mustAcross(t, "white oak", Thickness, Quarter).To(units.Percent(6))
	if math.Abs(s-0.08) > 0.005 || 1.0625*s > 3.0/32 || 1.0625*s < 3.0/32-0.01 {
		t.Errorf("got %g and %g in", s, 1.0625*s)
	}
}

func TestAcross(t *testing.T) {
	oak, _ := wood.ByName("northern red oak") // 4.0, 8.6 %
	for _, c := range []struct {
		name         string
		dim          Dimension
		saw          Sawing
		want, lo, hi float64
	}{
		{"flat width", Width, Sawing{Kind: Flat}, 0.086, 0.086, 0.086},
		{"flat thickness", Thickness, Sawing{Kind: Flat}, 0.040, 0.040, 0.040},
		{"quarter width", Width, Sawing{Kind: Quarter}, 0.040, 0.040, 0.040},
		{"quarter thickness", Thickness, Sawing{Kind: Quarter}, 0.086, 0.086, 0.086},
		{"mixed", Width, Sawing{}, 0.063, 0.040, 0.086},
		{"angle 0 is flat", Width, Sawing{Kind: Angle}, 0.086, 0.086, 0.086},
		{"angle 90 is quarter", Width, Sawing{Kind: Angle, Degrees: 90}, 0.040, 0.040, 0.040},
		{"angle 45 is the middle", Thickness, Sawing{Kind: Angle, Degrees: 45}, 0.063, 0.063, 0.063},
		// cos2 30 = 3/4: 0.75*8.6 + 0.25*4.0 = 7.45 %
		{"angle 30 width", Width, Sawing{Kind: Angle, Degrees: 30}, 0.0745, 0.0745, 0.0745},
		{"angle 30 thickness", Thickness, Sawing{Kind: Angle, Degrees: 30}, 0.0515, 0.0515, 0.0515},
	} {
		d, err := Across(oak, c.dim, c.saw)
		if err != nil || math.Abs(d.Share-c.want)+math.Abs(d.Low-c.lo)+math.Abs(d.High-c.hi) > 1e-12 {
			t.Errorf("%s: got %+v (%v), want %g, %g, %g", c.name, d, err, c.want, c.lo, c.hi)
		}
	}
	for _, deg := range []float64{-1, 90.5, math.NaN()} {
		if _, err := Across(oak, Width, Sawing{Kind: Angle, Degrees: deg}); err == nil || !strings.Contains(err.Error(), "0 to 90") {
			t.Errorf("angle %g: got %v, want the range named", deg, err)
		}
	}
	birch, _ := wood.ByName("gray birch") // tangential is printed as a dash
	for _, c := range []struct {
		dim    Dimension
		kind   Kind
		refuse bool
	}{{Width, Flat, true}, {Thickness, Flat, false}, {Width, Quarter, false}, {Width, Mixed, true}} {
		if _, err := Across(birch, c.dim, Sawing{Kind: c.kind}); errors.Is(err, ErrNoShrinkage) != c.refuse {
			t.Errorf("gray birch %v, kind %d: got %v, refuse %v", c.dim, c.kind, err, c.refuse)
		}
	}
	if _, err := Across(wood.Species{}, Width, Sawing{}); !errors.Is(err, ErrNoShrinkage) {
		t.Errorf("no species: got %v", err)
	}
}

func TestOutOfRange(t *testing.T) {
	d := Direction{Share: 0.08, Fiber: 30}
	for name, err := range map[string]error{
		"mc below 0":   second(d.To(-1)),
		"mc too high":  second(d.To(units.Percent(301))),
		"no size":      second(Dry(0, d, 0)),
		"no direction": second(Dry(units.Inch, Direction{}, 0)),
		"green size":   second(Green(-units.Inch, d, 0)),
		"fiber":        second(Green(units.Inch, Direction{Share: 0.08, Fiber: 3}, 0)),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if s, err := d.To(units.Percent(30)); s != 0 || err != nil {
		t.Errorf("at the fiber saturation point: got %g, %v", s, err)
	}
}

func second[T any](_ T, err error) error { return err }

// TestYellowPoplarPractice: yellow-poplar boards sawn 12, 11 and 10 in wide and dried to about 10 % lose between 1/2 and
// 3/4 in at 11 to 12 in and end near 11 1/2, 10 3/8 and 9 1/2 (common practice, no source). Saw spread: 0.030 in.
func TestYellowPoplarPractice(t *testing.T) {
	d := mustAcross(t, "yellow-poplar", Width, Flat)
	for green, ends := range map[float64]float64{12: 11.5, 11: 10.375, 10: 9.5} {
		r, err := Predict(units.Inches(green), d, units.Percent(10), units.Fraction(30, 1000))
		if err != nil {
			t.Fatal(err)
		}
		if end := units.Inches(ends); end < r.Low || end > r.High {
			t.Errorf("%g in: predicted %v to %v, seen %g", green, r.Low.Inches(), r.High.Inches(), ends)
		}
		if loss := units.Inches(green) - r.Value; green > 10 && (loss < units.Fraction(1, 2) || loss > units.Fraction(3, 4)) {
			t.Errorf("%g in: predicted loss %v, seen 1/2 to 3/4", green, loss.Inches())
		}
	}
}

// TestPredictRange: with 15 % of 6.3067 % of 8 in = 0.07568 in and 0.03 in x (1 - 0.063067) = 0.02811 in the standard
// deviation is 0.08073 in, and 1.64485 of them 0.13279 (by hand).
func TestPredictRange(t *testing.T) {
	r, err := Predict(8*units.Inch, mustAcross(t, "northern red oak", Width, Flat), units.Percent(8), units.Fraction(30, 1000))
	if err != nil || math.Abs((r.High-r.Value).Inches()-0.13279) > 0.00002 || math.Abs((r.Value-r.Low).Inches()-0.13279) > 0.00002 || r.Confidence != 0.9 {
		t.Errorf("got %v, %v, %v (%v)", r.Low.Inches(), r.Value.Inches(), r.High.Inches(), err)
	}
	// Mixed sawing must hold both pure cases.
	mixed, _ := Predict(8*units.Inch, mustAcross(t, "northern red oak", Width, Mixed), units.Percent(8), 0)
	for _, k := range []Kind{Flat, Quarter} {
		pure, _ := Predict(8*units.Inch, mustAcross(t, "northern red oak", Width, k), units.Percent(8), 0)
		if pure.Low < mixed.Low || pure.High > mixed.High {
			t.Errorf("kind %d: %v to %v is not inside %v to %v", k, pure.Low, pure.High, mixed.Low, mixed.High)
		}
	}
	if green, _ := Predict(8*units.Inch, mustAcross(t, "northern red oak", Width, Flat), units.Percent(40), 0); green.Low != green.High || green.Value != 8*units.Inch {
		t.Errorf("a green board does not shrink: got %+v", green)
	}
}

// ExampleDry is northern red oak, flat-sawn, 8 in wide, dried to 8 %: Table 4-3 (seen) and equation 4-9.
func ExampleDry() {
	oak, _ := wood.ByName("northern red oak")
	d, _ := Across(oak, Width, Sawing{Kind: Flat})
	dry, _ := Dry(8*units.Inch, d, units.Percent(8))
	fmt.Printf("%.4f\n", dry.Inches())
	// Output: 7.4955
}

func drawDirection(t *rapid.T) Direction {
	s := rapid.Float64Range(0.005, 0.29).Draw(t, "share")
	return Direction{Share: s, Low: s, High: s, Fiber: rapid.SampledFrom([]float64{22, 28, 30}).Draw(t, "fiber")}
}

// TestGreenUndoesDry: the dry size is rounded to the nanometre, an error of 0.5 nm at most; dividing by 1 - S, which is
// above 0.7, makes it 0.72 nm, and rounding again gives a whole number at most 1 nm away.
func TestGreenUndoesDry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDirection(t)
		x := units.Length(rapid.Int64Range(int64(units.Millimetre), int64(20*units.Metre)).Draw(t, "size"))
		m := units.MC(rapid.Int32Range(0, 20000).Draw(t, "mc"))
		dry, err1 := Dry(x, d, m)
		back, err2 := Green(dry, d, m)
		if err1 != nil || err2 != nil || back-x > 1 || x-back > 1 {
			t.Fatalf("Green(Dry(%d)) = %d (%v, %v)", x, back, err1, err2)
		}
	})
}

// TestDryIsMonotone: a drier board is never larger.
func TestDryIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDirection(t)
		x := units.Length(rapid.Int64Range(int64(units.Millimetre), int64(20*units.Metre)).Draw(t, "size"))
		m1 := units.MC(rapid.Int32Range(0, 5000).Draw(t, "mc 1"))
		m2 := units.MC(rapid.Int32Range(int32(m1), 5000).Draw(t, "mc 2"))
		dry1, _ := Dry(x, d, m1)
		dry2, _ := Dry(x, d, m2)
		if dry1 > dry2 || dry2 > x {
			t.Fatalf("Dry(%d) at %v: %d, at %v: %d", x, m1, dry1, m2, dry2)
		}
	})
}

// TestAngleStaysBetween: no ring angle shrinks more than tangential or less than radial, and thickness and width together
// always shrink by the sum of the two.
func TestAngleStaysBetween(t *testing.T) {
	oak, _ := wood.ByName("white oak")
	rapid.Check(t, func(t *rapid.T) {
		saw := Sawing{Kind: Angle, Degrees: rapid.Float64Range(0, 90).Draw(t, "angle")}
		w, err1 := Across(oak, Width, saw)
		th, err2 := Across(oak, Thickness, saw)
		if err1 != nil || err2 != nil || w.Share < oak.Radial-1e-12 || w.Share > oak.Tangential+1e-12 ||
			math.Abs(w.Share+th.Share-oak.Radial-oak.Tangential) > 1e-12 {
			t.Fatalf("%g degrees: %g and %g (%v, %v)", saw.Degrees, w.Share, th.Share, err1, err2)
		}
	})
}
