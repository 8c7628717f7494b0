package compute

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"drytally/compute/stack"
	"drytally/compute/units"
	"drytally/compute/wood"
)

func kilnSettings() Settings {
	s := Defaults()
	s.Kiln.Length, s.Kiln.Width, s.Kiln.Height = 13*units.Foot, 10*units.Foot, 4*units.Foot
	return s
}

func woodNamed(name string) wood.Species {
	s, ok := wood.ByName(name)
	if !ok {
		panic(name)
	}
	return s
}

func sawn(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }

// names lists the statements by name.
func names(all []Statement) string {
	var out []string
	for _, s := range all {
		out = append(out, s.Name)
	}
	return strings.Join(out, " ")
}

// Whatever the tally and the loads: every board of every row is placed, left out, or of a load that is out.
func TestKilnAccountsForEveryBoard(t *testing.T) {
	woods := []string{"white ash", "eastern white pine", "black cherry", "northern red oak", "willow oak"}
	rapid.Check(t, func(t *rapid.T) {
		job := &Job{Settings: kilnSettings()}
		job.Settings.Kiln.Height = units.Length(rapid.IntRange(24, 80).Draw(t, "height")) * units.Inch
		job.Loads = []Load{{ID: "K1", DateIn: sawn(time.March, 1), DateOut: sawn(time.April, 1)}, {ID: "K2"}, {ID: "K3", DateIn: sawn(time.May, 1)}}
		total := 0
		for i := range rapid.IntRange(0, 12).Draw(t, "rows") {
			c := Cut{Origin: Origin{Table: &Table{File: "cuts.csv"}, Row: i + 2}, Species: woodNamed(rapid.SampledFrom(woods).Draw(t, "wood")), Load: rapid.SampledFrom([]string{"", "K1", "k-2", "K3", "K9"}).Draw(t, "load"),
				Thickness: units.Fraction(int64(rapid.IntRange(6, 24).Draw(t, "eighths")), 8), Width: units.Length(rapid.IntRange(2, 20).Draw(t, "wide")) * units.Inch,
				Length: units.Length(rapid.IntRange(4, 16).Draw(t, "long")) * units.Foot, Pieces: rapid.IntRange(1, 200).Draw(t, "pieces")}
			total += c.Pieces
			job.Cuts = append(job.Cuts, c)
		}
		r := Assess(job)
		if r.Kiln == nil {
			t.Fatal("no loading")
		}
		seen, got := map[int]bool{}, 0
		for _, a := range r.Kiln.Aside {
			got += a.Boards
			if a.Load != "K1" {
				t.Fatalf("load %s is left aside", a.Load)
			}
		}
		for _, l := range r.Kiln.Loads {
			placed, out := 0, 0
			for _, row := range l.Rows {
				if seen[row.Cut.Origin.Row] || row.Placed+row.Out != row.Cut.Pieces || (row.Out > 0) != (row.Why != stack.AllPlaced) || (row.Placed > 0) != (len(row.Courses) > 0) {
					t.Fatalf("row %d: %d placed and %d left out of %d (%s), courses %v", row.Cut.Origin.Row, row.Placed, row.Out, row.Cut.Pieces, row.Why, row.Courses)
				}
				seen[row.Cut.Origin.Row] = true
				placed, out = placed+row.Placed, out+row.Out
			}
			if placed != l.Placed || out != l.Out {
				t.Fatalf("load %q: %d and %d, rows come to %d and %d", l.Load, l.Placed, l.Out, placed, out)
			}
			if l.Green.Known() && l.Dry.Known() && l.Green.High <= l.Dry.Low {
				t.Fatalf("load %q weighs less green than dry", l.Load)
			}
			got += placed + out
		}
		if got != total {
			t.Fatalf("%d boards accounted for, of %d", got, total)
		}
	})
}

// Twelve boards of 8 in fill a course of this kiln: what is warned, with which numbers.
func TestMixedLoads(t *testing.T) {
	ash, oak, cherry, pine := woodNamed("white ash"), woodNamed("northern red oak"), woodNamed("black cherry"), woodNamed("eastern white pine")
	eighths := func(n int64) units.Length { return units.Fraction(n, 8) }
	cut := func(s wood.Species, thick units.Length, day time.Time) Cut {
		return Cut{Species: s, Thickness: thick, Width: 8 * units.Inch, Length: 8 * units.Foot, Pieces: 12, Date: day}
	}
	for _, c := range []struct {
		name string
		cuts []Cut
		want string
		with map[string]string
	}{
		{"one wood, one day", []Cut{cut(ash, eighths(9), sawn(5, 1)), cut(ash, eighths(9), sawn(5, 3))}, "", nil},
		{"an eighth is scatter", []Cut{cut(ash, eighths(9), sawn(5, 1)), cut(ash, eighths(10), sawn(5, 1))}, "", nil},
		{"4/4 and 8/4", []Cut{cut(ash, eighths(9), sawn(5, 1)), cut(ash, eighths(17), sawn(5, 1))}, "kiln-mixed-thickness", map[string]string{"factor": "2.5", "thinname": "4/4", "thickname": "8/4"}},
		{"6/4 and 8/4", []Cut{cut(ash, eighths(13), sawn(5, 1)), cut(ash, eighths(17), sawn(5, 1))}, "kiln-mixed-thickness", map[string]string{"factor": "1.5"}},
		{"no factor for 5/4", []Cut{cut(ash, eighths(9), sawn(5, 1)), cut(ash, eighths(11), sawn(5, 1))}, "kiln-mixed-thickness-unknown", map[string]string{"times": "1.22"}},
		{"oak and cherry", []Cut{cut(oak, eighths(9), sawn(5, 1)), cut(cherry, eighths(9), sawn(5, 1))}, "kiln-mixed-woods", map[string]string{"factor": "1.5", "rates": "northern red oak 3.8, black cherry 5.8"}},
		{"cherry and pine", []Cut{cut(cherry, eighths(9), sawn(5, 1)), cut(pine, eighths(9), sawn(5, 1))}, "kiln-mixed-woods", map[string]string{"factor": "", "rates": "black cherry 5.8, eastern white pine none seen", "apart": "12.0"}},
		{"13 days apart", []Cut{cut(ash, eighths(9), sawn(5, 1)), cut(ash, eighths(9), sawn(5, 14))}, "", nil},
		{"14 days apart", []Cut{cut(ash, eighths(9), sawn(5, 1)), cut(ash, eighths(9), sawn(5, 15))}, "kiln-mixed-days", map[string]string{"days": "14"}},
		{"a day not said", []Cut{cut(ash, eighths(9), sawn(5, 1)), cut(ash, eighths(9), time.Time{})}, "kiln-no-days", map[string]string{"n": "1"}},
	} {
		r := Assess(&Job{Settings: kilnSettings(), Cuts: c.cuts})
		l := r.Kiln.Loads[0]
		if got := names(l.Warnings); got != c.want {
			t.Errorf("%s: got the warnings %q, want %q", c.name, got, c.want)
			continue
		}
		for k, want := range c.with {
			if got := l.Warnings[0].With[k]; got != want {
				t.Errorf("%s: %s: got %q, want %q", c.name, k, got, want)
			}
		}
	}
}

func TestNoKilnNoLoading(t *testing.T) {
	job := &Job{Settings: Defaults(), Cuts: []Cut{{Species: woodNamed("white ash"), Thickness: units.Inch, Width: 6 * units.Inch, Length: 8 * units.Foot, Pieces: 3}}}
	if r := Assess(job); r.Kiln != nil || len(r.Findings) != 0 {
		t.Errorf("got %+v and %v, want neither a loading nor a finding", r.Kiln, r.Findings)
	}
}

// saleJob is a load of six like boards of white ash, three of them sold, read at 8 %.
func saleJob() *Job {
	job := &Job{Settings: Defaults(), Loads: []Load{{ID: "K1", Use: "interior flooring", DateOut: sawn(3, 30)}}}
	for i := range 6 {
		id := fmt.Sprintf("A%d", i+1)
		job.Boards = append(job.Boards, Board{Origin: Origin{Table: &Table{File: "b.csv"}, Row: i + 2}, ID: id, Load: "K1", Species: woodNamed("white ash"), Thickness: []units.Length{units.Fraction(17, 16)}, Width: 6 * units.Inch, Length: 8 * units.Foot})
	}
	job.Sales = []Sale{{ID: "S1", Load: "K1", Boards: []string{"A1", "A2", "A3"}}}
	return job
}

// 1 1/16 x 6 in x 8 ft is 4.25 board feet of real wood; white ash of basic gravity 0.55 at 8 % by equation 4-13 has 0.55 / (1 -
// 0.265 x 0.55 x (1 - 8/30)) = 0.6158, and weighs 5.2025 x 0.6158 x 1.08 x 4.25 = 14.70 lb.
func TestSaleWeight(t *testing.T) {
	read := func(job *Job, n int) *Job {
		for i := range n {
			job.Readings = append(job.Readings, Reading{Taking: &Taking{Load: "K1", Date: sawn(4, 1)}, Board: fmt.Sprintf("A%d", i+1), Value: units.Reading{State: units.Number, MC: units.Percent(8)}, WoodTemp: units.Celsius(21)})
		}
		return job
	}
	job := read(saleJob(), 6)
	job.Settings.MeterSpecies, job.Settings.MeterWoodTemp = Yes, Yes
	w := Assess(job).Sales[0].Weight
	if w.Boards != 3 || w.Measured != 3 || w.Open != 0 || math.Abs(w.About.Pounds()-3*14.70) > 0.6 {
		t.Errorf("got %d boards, %d measured, about %.1f lb; want 3, 3, 44", w.Boards, w.Measured, w.About.Pounds())
	}
	if w.Low.Pounds() > 0.9*3*14.70 || w.High.Pounds() < 1.1*3*14.70 || w.High.Pounds() > 1.1*3*14.70+1 {
		t.Errorf("got %.1f to %.1f lb, want 10 %% either way, outward to the pound", w.Low.Pounds(), w.High.Pounds())
	}
	if names(w.Says) != "sale-weight" || w.Trips != nil {
		t.Errorf("without a rated load: got %q and trips %v", names(w.Says), w.Trips)
	}
	// No reading: from dry to green, and said.
	open := Assess(saleJob()).Sales[0].Weight
	if open.Open != 3 || names(open.Says) != "sale-weight sale-weight-open" || open.High <= w.High || open.Low > w.Low {
		t.Errorf("moisture not known: got %+v", open)
	}
	// Boards not named are any of the load.
	job = read(saleJob(), 6)
	job.Sales = []Sale{{ID: "S1", Load: "K1", Pieces: 3}}
	some := Assess(job).Sales[0].Weight
	if !some.Estimated || some.Boards != 3 || some.Range != w.Range {
		t.Errorf("not named: got %+v, want the range of three like boards %+v", some, w.Range)
	}
	job.Sales = []Sale{{ID: "S1", Pieces: 7}}
	if none := Assess(job).Sales[0].Weight; none.Known() || names(none.Says) != "sale-weight-unknown" {
		t.Errorf("seven of six boards: got %+v", none)
	}
}

func TestTrailer(t *testing.T) {
	for _, c := range []struct {
		name               string
		load, gross, empty units.Mass
		trips              string
		says               string
	}{
		{"not given", 0, 0, 0, "[]", "sale-weight sale-weight-open"},
		{"enough", units.Pounds(500), 0, 0, "[3]", "sale-weight sale-weight-open sale-one-trip"},
		{"gross less empty", 0, units.Pounds(1500), units.Pounds(1000), "[3]", "sale-weight sale-weight-open sale-one-trip"},
		{"the less of the two", units.Pounds(500), units.Pounds(1050), units.Pounds(1000), "[2 1]", "sale-weight sale-weight-open sale-trips"},
		{"gross under empty", units.Pounds(500), units.Pounds(900), units.Pounds(1000), "[3]", "sale-weight sale-weight-open sale-one-trip"},
		{"one board too heavy", units.Pounds(15), 0, 0, "[]", "sale-weight sale-weight-open sale-too-heavy"},
	} {
		job := saleJob()
		job.Settings.TrailerLoad, job.Settings.TrailerGross, job.Settings.TrailerEmpty = c.load, c.gross, c.empty
		w := Assess(job).Sales[0].Weight
		if fmt.Sprint(w.Trips) != c.trips || names(w.Says) != c.says {
			t.Errorf("%s: got trips %v and %q, want %s and %q (%.1f lb, heaviest %.1f)", c.name, w.Trips, names(w.Says), c.trips, c.says, w.High.Pounds(), w.Heaviest.Pounds())
		}
	}
}
