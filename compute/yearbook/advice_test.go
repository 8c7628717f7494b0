package yearbook

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// wants makes a week that wants one piece of white ash, flat-sawn, and has no boards of its own.
func wants(t *testing.T) compute.Week {
	t.Helper()
	ash, ok := wood.ByName("white ash")
	if !ok {
		t.Fatal("white ash was not found")
	}
	s := newSheet("last")
	s.job.Wanted = []compute.Wanted{{Origin: s.origin("piece"), Piece: "shelf", Species: ash, Thickness: units.Fraction(3, 4), Width: 11 * units.Inch, Length: 8 * units.Foot, Pieces: 4,
		Use: "interior flooring", Sawing: compute.Sawing{Kind: compute.FlatSawn}}}
	s.job.Air = []compute.Air{{Origin: s.origin(), Time: on(28)}}
	return s.week()
}

// adviceOf finds the advice of a name.
func adviceOf(t *testing.T, b *Yearbook, name string) Advice {
	t.Helper()
	for _, a := range b.Advice {
		if a.Says.Name == name {
			return a
		}
	}
	t.Fatalf("no advice %s in %+v", name, b.Advice)
	return Advice{}
}

// TestSawAdvice: wood that shrinks more than the handbook's wants a wider setting, by whole steps of the saw; with too few boards
// the setting stays and the line says how many there are.
func TestSawAdvice(t *testing.T) {
	for _, tt := range []struct {
		name   string
		shares []float64
		known  bool
		steps  string
	}{
		{"shrinks more", []float64{.115, .117, .119, .121, .118, .120, .116, .122}, true, "more"},
		{"shrinks less", []float64{.045, .046, .047, .048, .044, .043, .045, .046}, true, "less"},
		{"as the handbook's", []float64{.077, .078, .079, .078, .077, .079, .078, .078}, true, "no change"},
		{"too few boards", []float64{.115, .117, .119}, false, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := Join([]compute.Week{shrunk(t, "early", 2, 1, tt.shares), wants(t)})
			if !tt.known {
				a := adviceOf(t, b, "yearbook-saw-few")
				if a.Known || a.N != len(tt.shares) || a.Need != leastHouse {
					t.Errorf("got %+v, want %d of %d", a, len(tt.shares), leastHouse)
				}
				return
			}
			a := adviceOf(t, b, "yearbook-saw")
			if !a.Known || a.N != len(tt.shares) || !strings.Contains(a.Says.With["stepsw"], tt.steps) || a.Says.With["stepst"] != "no change" {
				t.Errorf("got %+v; want the width %s, the thickness (radial, no boards) as before", a, tt.steps)
			}
		})
	}
}

// TestSawnBeside: the advice says when every row of the saw has the wood thicker than the piece needs, or thinner.
func TestSawnBeside(t *testing.T) {
	advised := units.Length(0)
	for _, tt := range []struct {
		name             string
		rows             []units.Length // by how much they are thicker than advised
		thicker, thinner string
	}{
		{"no rows", nil, "", ""},
		{"as advised", []units.Length{0}, "", ""},
		{"thicker", []units.Length{units.Inch / 8, units.Inch / 4}, `1/8"`, ""},
		{"thinner", []units.Length{-units.Inch / 16, -units.Inch / 8}, "", `1/16"`},
		{"both", []units.Length{-units.Inch / 16, units.Inch / 8}, "", ""},
	} {
		early := shrunk(t, "early", 2, 1, []float64{.077, .078, .079, .078, .077, .079, .078, .078})
		ash := early.Boards[0].Board.Species
		ash.Name = "white ash"
		for _, by := range tt.rows {
			early.Cuts = append(early.Cuts, compute.WeekCut{Cut: &compute.Cut{Species: ash, Thickness: advised + by, Pieces: 1}})
		}
		a := adviceOf(t, Join([]compute.Week{early, wants(t)}), "yearbook-saw").Says.With
		if advised == 0 {
			n, err := strconv.ParseFloat(strings.TrimSuffix(a["thickness"], `"`), 64)
			if err != nil {
				t.Fatalf("the advised thickness %q is no whole number of inches", a["thickness"])
			}
			advised = units.Length(n * float64(units.Inch))
		}
		if a["thicker"] != tt.thicker || a["thinner"] != tt.thinner {
			t.Errorf("%s: got %q thicker, %q thinner, want %q, %q", tt.name, a["thicker"], a["thinner"], tt.thicker, tt.thinner)
		}
	}
}

func TestSteps(t *testing.T) {
	step := units.Inch / 16
	for _, tt := range []struct {
		d    units.Length
		want string
	}{{0, "no change"}, {step, "1 step more"}, {3 * step, "3 steps more"}, {-step, "1 step less"}, {-2 * step, "2 steps less"}} {
		if got := steps(tt.d, step); got != tt.want {
			t.Errorf("%v: got %q, want %q", tt.d, got, tt.want)
		}
	}
}

// TestKilnTimes: the range and the median of the loads found dry, and nothing of those still in or not dry.
func TestKilnTimes(t *testing.T) {
	load := func(name string, days int, dry bool, out bool) compute.Week {
		at := time.Date(2026, time.January, 1+len(name), 0, 0, 0, 0, time.UTC)
		l := compute.Load{ID: name, DateIn: at}
		if out {
			l.DateOut = at.AddDate(0, 0, days)
		}
		v := compute.NotShown
		if dry {
			v = compute.DryForUse
		}
		end := units.Estimate{Value: units.Percent(8), Known: true}
		return compute.Week{Name: name, Files: []compute.InputFile{{Name: name, SHA256: name}}, Last: at, Settings: compute.Defaults(),
			Loads: []compute.WeekLoad{{Load: &l, Species: []string{"white ash"}, N: 10, Measured: 10, Verdict: v, Mean: end, Latest: at}}}
	}
	b := Join([]compute.Week{load("a", 20, true, true), load("b", 31, true, true), load("c", 24, true, true), load("d", 25, true, true), load("e", 90, false, true), load("f", 3, true, false)})
	if len(b.Times) != 1 {
		t.Fatalf("got %+v, want one line", b.Times)
	}
	// 20, 24, 25, 31: the middle of 24 and 25, rounded up.
	got := b.Times[0]
	want := KilnTime{Species: "white ash", Low: 20, Middle: 25, High: 31, N: 4, To: units.Percent(8), ToN: 4}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if a := adviceOf(t, b, "yearbook-days"); a.N != 4 || a.Need != leastTimes {
		t.Errorf("got %+v", a)
	}
	if a := adviceOf(t, Join([]compute.Week{load("a", 20, true, true)}), "yearbook-days-few"); a.Known || a.N != 1 {
		t.Errorf("got %+v, want 1 of 3", a)
	}
}

// TestPairsCountOnce: a pair carried over into the next workbook is one pair, with the later figures; meters and woods are kept
// apart.
func TestPairsCountOnce(t *testing.T) {
	pair := func(meter, species, board string, day int, shown, weighed float64) compute.WeekPair {
		return compute.WeekPair{Meter: meter, Species: species, Load: "K1", Board: board, Date: on(day), Shown: units.Percent(shown), Weighed: units.Percent(weighed)}
	}
	week := func(name string, day int, pairs ...compute.WeekPair) compute.Week {
		return compute.Week{Name: name, Files: []compute.InputFile{{Name: name, SHA256: name}}, Last: on(day), Settings: compute.Defaults(),
			Loads: []compute.WeekLoad{{Load: &compute.Load{ID: "K1"}}}, Pairs: pairs}
	}
	b := Join([]compute.Week{
		week("late", 9, pair("", "white ash", "A 1", 2, 8, 8.8), pair("", "white ash", "A2", 9, 8, 8.4), pair("", "black cherry", "C1", 9, 8, 9)),
		week("early", 2, pair("", "white ash", "A1", 2, 8, 8.2), pair("small one", "white ash", "A1", 2, 9, 9))})
	if len(b.Meters) != 3 {
		t.Fatalf("got %d, want ash, cherry, and ash by the small one: %+v", len(b.Meters), b.Meters)
	}
	i := slices.IndexFunc(b.Meters, func(m Meter) bool { return m.Meter == "" && m.Species == "white ash" })
	m := b.Meters[i]
	// 0.8 and 0.4: mean 0.6, standard deviation 0.28, range 0.6 +- 12.706 * 0.2828 / 1.4142 = 0.6 +- 2.54 (t of 1 degree).
	if len(m.Pairs) != 2 || m.Difference.Value != units.Percent(0.6) || m.Spread != units.Percent(0.3) || m.Difference.Low != units.Percent(-2.0) || m.Difference.High != units.Percent(3.2) {
		t.Errorf("got %+v, spread %s, %d pairs", m.Difference, m.Spread, len(m.Pairs))
	}
	if a := adviceOf(t, b, "yearbook-meter-few"); a.Known {
		t.Errorf("two pairs are not enough: %+v", a)
	}
}

// TestSawSpread: the deviations about each load's own mean are pooled, and a column copied from the saw's scale tells nothing.
func TestSawSpread(t *testing.T) {
	week := func(sizes ...units.Length) *Yearbook {
		s := newSheet("w").load(compute.Load{ID: "K1"}).load(compute.Load{ID: "K2"})
		for i := range 40 {
			load := []string{"K1", "K2"}[i%2]
			s.board(load, string(rune('A'+i%26))+string(rune('a'+i/26)), 6*units.Inch)
			b := &s.job.Boards[i]
			b.GreenThickness = sizes[i/2%len(sizes)]
			if load == "K2" {
				b.GreenThickness += units.Inch / 20 // another load came out thicker as a whole
			}
		}
		for _, load := range []string{"K1", "K2"} {
			s.job.Cuts = append(s.job.Cuts, compute.Cut{Origin: s.origin(), Load: load, Thickness: units.Inch, Width: 6 * units.Inch, Length: 8 * units.Foot, Pieces: 20})
		}
		return Join([]compute.Week{s.week()})
	}
	in := func(x int64) units.Length { return units.Fraction(x, 1000) }
	// Five of each of four sizes a load: squares of 30, 10, 10, 30 thousandths, 20 of 40 boards each, 2000/4 * 40 / 38.
	b := week(in(970), in(990), in(1010), in(1030))
	if s := b.Spread; !s.Known || s.Value != in(23) || s.Low >= s.Value || s.High <= s.Value || s.N != 40 || s.Loads != 2 {
		t.Errorf("got %+v, want 0.023 in: root of 500 * 40 / 38 millionths", s)
	}
	if s := week(in(1000)).Spread; s.Known {
		t.Errorf("all boards alike: got %+v, want nothing known", s)
	}
}
