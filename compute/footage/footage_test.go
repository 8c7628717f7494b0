package footage

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/units"
	"drytally/testdata/published"
)

// rational reads 25/4, 8 or 9.3333 exactly.
func rational(t *testing.T, s string) *big.Rat {
	t.Helper()
	x, ok := new(big.Rat).SetString(s)
	if !ok {
		t.Fatalf("published cell %q is no number", s)
	}
	return x
}

// length turns a rational number of units into a length; it must be whole nanometres.
func length(t *testing.T, s string, unit units.Length) units.Length {
	t.Helper()
	x := rational(t, s)
	x.Mul(x, big.NewRat(int64(unit), 1))
	if !x.IsInt() {
		t.Fatalf("published cell %q is no whole number of nanometres", s)
	}
	return units.Length(x.Num().Int64())
}

func example(t *testing.T, r map[string]string) (Rule, Piece) {
	t.Helper()
	n, err := strconv.Atoi(r["pieces"])
	if err != nil {
		t.Fatal(err)
	}
	unit := units.Foot
	if r["length_unit"] == "in" {
		unit = units.Inch
	}
	rule := Volume
	switch {
	case strings.HasPrefix(r["rule"], "hardwood SM"):
		rule = Surface
	case strings.HasPrefix(r["rule"], "softwood"):
		rule = Nominal
	}
	return rule, Piece{length(t, r["thickness_in"], units.Inch), length(t, r["width_in"], units.Inch), length(t, r["length"], unit), n}
}

// TestPrintedExamples walks every example with a printed result, document by document as its row says, and the derived ones.
// Exact ones must be exact; the others must round to the printed digits. One board of a tally, so a first half goes up.
func TestPrintedExamples(t *testing.T) {
	printed, derived, counted := 0, 0, 0
	for _, r := range published.ByColumn(t, "board_footage_examples.csv") {
		rule, p := example(t, r)
		tally := NewTally(rule)
		got, err := tally.Add(p)
		if err != nil {
			t.Errorf("%s: %v", r["id"], err)
			continue
		}
		if sm := r["sm_counted_ft2"]; sm != "" {
			counted++
			if packs := tally.Packs(); len(packs) != 1 || strconv.FormatInt(packs[0].SurfaceFeet, 10) != sm {
				t.Errorf("%s: surface measure %+v, want %s", r["id"], packs, sm)
			}
		}
		want := r["printed_result_bf"]
		switch {
		case want == "" && r["id"] == "D02":
			// Exactly 7.5 square feet: see TestHalvesAlternate.
			derived++
		case want == "":
			derived++
			// Worked to four decimals (derived).
			if x, _ := new(big.Rat).Sub(got.Rat(), rational(t, r["bf_exact"])).Float64(); x > 0.00005 || x < -0.00005 {
				t.Errorf("%s: got %v, want %s (derived)", r["id"], got.Rat().FloatString(4), r["bf_exact"])
			}
		case r["match"] == "exact":
			printed++
			if got.Rat().Cmp(rational(t, want)) != 0 {
				t.Errorf("%s: got %v, printed %s exact", r["id"], got.Rat(), want)
			}
		default:
			printed++
			_, decimals, _ := strings.Cut(want, ".")
			if got.Rat().FloatString(len(decimals)) != want {
				t.Errorf("%s: got %s, printed %s", r["id"], got.Rat().FloatString(4), want)
			}
		}
	}
	// 36 read examples less 4 whose document prints no result; those 4 and D01 to D06 are derived. E18 and
	// the D rows but D02 name a surface measure.
	if printed != 32 || derived != 10 || counted != 6 {
		t.Errorf("walked %d printed, %d derived, %d with a surface measure, want 32, 10 and 6", printed, derived, counted)
	}
}

// ExampleOf is the US Navy builder training manual 14044 (seen): one piece 1 x 7 in x 33 ft is 19 3/12 board feet. The
// same page prints 19.26 as the decimal because it triples a rounded 6.42: a piece is never rounded before multiplying.
func ExampleOf() {
	f, _ := Of(Volume, Piece{units.Inch, 7 * units.Inch, 33 * units.Foot, 1})
	fmt.Println(f.Rat(), f)
	// Output: 77/4 19.25
}

// TestHalvesAlternate: 7 1/2 in x 12 ft is exactly 7.5 square feet: 8, 7, 8, 7 (Wengert 2007, second hand; the sum derived).
// Other boards between don't take a turn.
func TestHalvesAlternate(t *testing.T) {
	half := Piece{units.Inch, units.Fraction(15, 2), 12 * units.Foot, 1}
	other := Piece{units.Inch, 7 * units.Inch, 8*units.Foot + 11*units.Inch, 1} // 8 ft 11 in counts 8 ft: 4.667, counts 5
	tally := NewTally(Surface)
	for i, c := range []struct {
		p    Piece
		want int64
	}{{half, 8}, {other, 5}, {half, 7}, {half, 8}, {half, 7}} {
		if got, err := tally.Add(c.p); err != nil || got.Whole() != c.want || got.Hundredths() != 100*c.want {
			t.Errorf("board %d: got %v (%v), want %d", i+1, got, err, c.want)
		}
	}
	if got := tally.Total().Hundredths(); got != 3500 || tally.Boards() != 5 {
		t.Errorf("total: got %d of %d boards, want 3500 of 5", got, tally.Boards())
	}
}

// TestWholeFeet: the American Hardwood Export Council tallies a board 8 1/2 ft long as 8 ft (seen).
func TestWholeFeet(t *testing.T) {
	tally := NewTally(Surface)
	if got, _ := tally.Add(Piece{units.Inch, 6 * units.Inch, units.Feet(8.5), 1}); got.Whole() != 4 {
		t.Errorf("got %v, want 4", got)
	}
	if got, _ := tally.Add(Piece{units.Inch, 24 * units.Inch, 11 * units.Inch, 1}); got.Whole() != 0 {
		t.Errorf("under a foot long: got %v, want 0", got)
	}
}

func TestPacks(t *testing.T) {
	tally := NewTally(Surface)
	for _, p := range []Piece{
		{units.Fraction(5, 4), 6 * units.Inch, 14 * units.Foot, 1}, // SM 7, 8.75 BF
		{units.Inch, 6 * units.Inch, 8 * units.Foot, 3},            // SM 12, 12 BF
		{units.Fraction(5, 4), 6 * units.Inch, 8 * units.Foot, 1},  // SM 4, 5 BF
		{units.Fraction(3, 4), 9 * units.Inch, 8 * units.Foot, 1},  // counts as 1 in: SM 6
	} {
		if _, err := tally.Add(p); err != nil {
			t.Fatal(err)
		}
	}
	// 4/4: 18 square feet, 18 BF of 4 boards; 5/4: 11 square feet, 13.75 and so 14 BF of 2 boards.
	want := []Pack{{units.Inch, 4, 18, 18}, {units.Fraction(5, 4), 2, 11, 14}}
	if got := tally.Packs(); len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := tally.Total().Hundredths(); got != 3175 {
		t.Errorf("total: got %d, want 3175", got)
	}
}

func TestRounding(t *testing.T) {
	// 1 x 1 in x n ft is n/12 BF: 1/12 is 0.0833, 0.06/12 = 0.005 exactly a half hundredth, up.
	for _, c := range []struct {
		length units.Length
		want   int64
	}{{units.Foot, 8}, {6 * units.Foot / 100, 1}, {6*units.Foot/100 - 1, 0}, {6 * units.Foot, 50}} {
		f, err := Of(Volume, Piece{units.Inch, units.Inch, c.length, 1})
		if err != nil || f.Hundredths() != c.want {
			t.Errorf("%v: got %d (%v), want %d", c.length, f.Hundredths(), err, c.want)
		}
	}
	if f := (Feet{}); f.Hundredths() != 0 || f.String() != "0.00" || f.Add(Feet{}).Whole() != 0 {
		t.Errorf("zero value: got %v", f)
	}
}

func TestRefused(t *testing.T) {
	good := Piece{units.Inch, units.Inch, units.Foot, 1}
	for name, p := range map[string]Piece{
		"thickness": {0, units.Inch, units.Foot, 1}, "width": {units.Inch, -1, units.Foot, 1}, "length": {units.Inch, units.Inch, 101 * units.Metre, 1},
		"count": {units.Inch, units.Inch, units.Foot, -1}, "too many": {units.Inch, units.Inch, units.Foot, mostPieces + 1},
	} {
		for _, r := range []Rule{Volume, Surface, Nominal} {
			tally := NewTally(r)
			if _, err := tally.Add(p); err == nil || tally.Boards() != 0 || tally.Total().Hundredths() != 0 {
				t.Errorf("%s by %v: got %v", name, r, err)
			}
		}
		if _, err := SolidOf(p); err == nil {
			t.Errorf("solid, %s: no error", name)
		}
	}
	for _, r := range []Rule{NotSaid, Surface} {
		if _, err := Of(r, good); err == nil {
			t.Errorf("Of(%v): no error", r)
		}
	}
	if _, err := NewTally(NotSaid).Add(good); err == nil {
		t.Error("a tally without a rule took a row")
	}
}

func drawPiece(t *rapid.T) Piece {
	sixteenths := func(name string, most int64) units.Length {
		return units.Fraction(rapid.Int64Range(1, most).Draw(t, name), 16)
	}
	return Piece{sixteenths("thickness", 64), sixteenths("width", 400), sixteenths("length", 3000), rapid.IntRange(0, 40).Draw(t, "count")}
}

// TestFootageAddsOverRows: the exact total is the sum of the exact rows, and for the rules that don't round boards it does not
// depend on the order.
func TestFootageAddsOverRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := rapid.SampledFrom([]Rule{Volume, Surface, Nominal}).Draw(t, "rule")
		rows := rapid.SliceOfN(rapid.Custom(drawPiece), 1, 12).Draw(t, "rows")
		forward, sum := NewTally(rule), Feet{}
		for _, p := range rows {
			f, err := forward.Add(p)
			if err != nil {
				t.Fatal(err)
			}
			sum = sum.Add(f)
		}
		if forward.Total().Rat().Cmp(sum.Rat()) != 0 {
			t.Fatalf("total %v, sum %v", forward.Total(), sum)
		}
		if rule == Surface {
			return
		}
		backward := NewTally(rule)
		for i := range rows {
			_, _ = backward.Add(rows[len(rows)-1-i])
		}
		if backward.Total().Rat().Cmp(sum.Rat()) != 0 {
			t.Fatalf("backward %v, forward %v", backward.Total(), sum)
		}
	})
}

// TestRowOfManyIsManyRows: a row of n boards counts as n rows of one, the turns of the halves too.
func TestRowOfManyIsManyRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := rapid.SampledFrom([]Rule{Volume, Surface, Nominal}).Draw(t, "rule")
		many, single := NewTally(rule), NewTally(rule)
		for _, p := range rapid.SliceOfN(rapid.Custom(drawPiece), 1, 6).Draw(t, "rows") {
			if rapid.Bool().Draw(t, "an exact half") {
				p.Width, p.Length = units.Fraction(15, 2), 12*units.Foot
			}
			_, _ = many.Add(p)
			one := p
			one.Count = 1
			for range p.Count {
				_, _ = single.Add(one)
			}
		}
		if many.Total().Rat().Cmp(single.Total().Rat()) != 0 || many.Boards() != single.Boards() {
			t.Fatalf("many %v, single %v", many.Total(), single.Total())
		}
	})
}

// TestSurfaceStaysNearVolume: rounding a board to whole square feet moves it by half a foot at most, and dropping the
// fraction of a foot of length loses less than width / 12.
func TestSurfaceStaysNearVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPiece(t)
		p.Thickness, p.Count = units.Inch, 1
		surface, _ := NewTally(Surface).Add(p)
		volume, _ := Of(Volume, p)
		diff, _ := new(big.Rat).Sub(surface.Rat(), volume.Rat()).Float64()
		if diff > 0.5 || diff < -0.5-p.Width.Inches()/12 {
			t.Fatalf("%+v: surface %v, volume %v", p, surface, volume)
		}
	})
}
