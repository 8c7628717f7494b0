package compute

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// week makes a job with one load of n ash boards for flooring, laid up in courses of five from the bottom, of which the
// first len(mcs) in a spread-out order were read in wood at the meter's neutral temperature.
func week(n int, mcs ...float64) *Job {
	ash, _ := wood.ByName("white ash")
	s := Defaults()
	s.Meter, s.MeterSpecies, s.MeterWoodTemp = PinMeter, Yes, No
	s.LowestMark, s.HighestMark = units.Percent(6), units.Percent(30)
	job := &Job{Name: "week", Settings: s}
	job.Loads = []Load{{Origin: row("loads", 2), ID: "K1", Species: ash, Use: "interior flooring", Boards: n, Courses: (n + 4) / 5, Spots: 5}}
	for i := range n {
		job.Boards = append(job.Boards, Board{Origin: row("boards", i+2), ID: fmt.Sprintf("B%02d", i+1), Load: "K1",
			Thickness: []units.Length{units.Inch}, Width: 5 * units.Inch, Length: 8 * units.Foot, Course: i/5 + 1, Spot: i%5 + 1})
	}
	step := 1
	if len(mcs) > 0 {
		step = max(1, n/len(mcs))
	}
	for i, mc := range mcs {
		at := i * step % n
		if step > 1 {
			at = (i*step + i*step/n) % n
		}
		job.Readings = append(job.Readings, Reading{Taking: &Taking{Field: "reading", Load: "K1", Date: time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)}, Origin: row("readings", i+2), Board: job.Boards[at].ID,
			Value: units.Reading{State: units.Number, MC: units.Percent(mc)}, WoodTemp: units.Celsius(22.7)})
	}
	return job
}

// taken changes how one reading was taken, and not how those were that share its Taking.
func (r *Reading) taken(change func(*Taking)) {
	own := *r.Taking
	change(&own)
	r.Taking = &own
}

func row(sheet string, n int) Origin {
	return Origin{Table: &Table{File: "week.xlsx", Sheet: sheet, Cols: map[string]int{"reading": 2, "board": 1}}, Row: n}
}

// many gives n readings around a middle, none the same as its neighbor.
func many(n int, middle float64) []float64 {
	var all []float64
	for i := range n {
		all = append(all, middle+0.3*float64(i%5-2))
	}
	return all
}

func only(t *testing.T, job *Job) LoadResult {
	t.Helper()
	r := Assess(job)
	if len(r.Loads) != 1 {
		t.Fatalf("%d loads assessed, want 1", len(r.Loads))
	}
	return r.Loads[0]
}

// reasons lists the names of a load's reasons and of what would settle it.
func reasons(l LoadResult) string {
	var names []string
	for _, s := range l.Reasons {
		names = append(names, s.Name)
	}
	for _, s := range l.ToSettle {
		names = append(names, s.Name)
	}
	return strings.Join(names, " ")
}

func TestZeroValues(t *testing.T) {
	var v Verdict
	var b BoardMC
	if v != NotShown || b.State != units.NotTaken {
		t.Errorf("zero verdict %v, zero reading state %v; want not shown and not taken", v, b.State)
	}
}

// TestVerdict goes through the verdicts. The band of interior uses is 6 to 10 % (Wood Handbook FPL-GTR-190, Table 13-2;
// memory). 20 clean of 60 leave at most 6 over with 95 % confidence, 19 leave 7 (lot: hypergeometric table; computed).
func TestVerdict(t *testing.T) {
	with := func(n int, mcs []float64, more ...float64) *Job { return week(n, append(mcs, more...)...) }
	tests := []struct {
		name string
		job  *Job
		want Verdict
		says string // one of the reasons or of what would settle it
	}{
		{"no reading", week(60), NotShown, "no-readings"},
		{"20 of 60 clean", with(60, many(20, 8)), DryForUse, "bound-met"},
		{"15 of 60 clean", with(60, many(15, 8)), NotShown, "settle-more-clear"},
		{"all of 20 clean", with(20, many(20, 8)), DryForUse, "all-measured"},
		{"all measured, two over", with(20, many(18, 8), 11.2, 10.6), DryButHeldBack, "held-back"},
		{"two over, few measured", with(60, many(20, 8), 11.2, 10.6), NotShown, "bound-open"},
		{"wet", with(20, many(20, 15)), NotDryYet, "mean-over"},
		{"mean just inside, half over", with(20, many(20, 9.9)), NotDryYet, "too-many-over"},
		{"too dry for the use", with(20, many(20, 5)), NotShown, "mean-under"},
		{"limit hit exactly is not over", with(5, []float64{10, 10, 10, 10, 10}), DryForUse, "none-over"},
		{"one tenth over", with(5, []float64{8, 8, 8, 8, 10.1}), DryButHeldBack, "held-back"},
		{"rounded to the limit is not over", with(5, []float64{8, 8, 8, 8, 10.04}), DryForUse, "none-over"},
		{"one board", with(1, []float64{8}), DryForUse, "all-measured"},
		{"one wet board", with(1, []float64{18}), NotDryYet, "mean-over"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := only(t, tt.job)
			if l.Verdict != tt.want || !strings.Contains(reasons(l), tt.says) {
				t.Errorf("verdict %q because %s; want %q with %s", l.Verdict, reasons(l), tt.want, tt.says)
			}
		})
	}
}

func TestVerdictWithoutLimit(t *testing.T) {
	job := week(20, many(20, 8)...)
	job.Loads[0].Use = "something of Ida's"
	if l := only(t, job); l.Verdict != NotShown || !strings.Contains(reasons(l), "settle-use") {
		t.Errorf("verdict %q because %s; want not shown for want of a use", l.Verdict, reasons(l))
	}
	job.Loads[0].Limit = units.Percent(9)
	l := only(t, job)
	if l.Verdict != DryForUse || !l.Band.OwnLimit || l.Band.High != units.Percent(9) {
		t.Errorf("with the owner's limit of 9: verdict %q, band %+v", l.Verdict, l.Band)
	}
}

// TestVerdictMarks: LO is under the limit when the meter's lowest mark is, and proves nothing when it isn't.
func TestVerdictMarks(t *testing.T) {
	job := week(6, 8, 8.4, 7.9, 8.2, 8.1, 7.7)
	job.Readings[2].Value = units.Reading{State: units.BelowRange}
	if l := only(t, job); l.Verdict != DryForUse || l.Below != 1 || l.Tolerance != 0 {
		t.Errorf("one LO: verdict %q, %d below, tolerance %s; want dry, 1, none", l.Verdict, l.Below, l.Tolerance)
	}
	job.Settings.LowestMark = units.Percent(11)
	if l := only(t, job); l.Verdict != NotShown || !strings.Contains(reasons(l), "mark-over-limit") {
		t.Errorf("LO of a meter that begins at 11: verdict %q because %s; want not shown", l.Verdict, reasons(l))
	}
	job = week(6, 8, 8.4, 7.9, 8.2, 8.1, 7.7)
	job.Readings[2].Value = units.Reading{State: units.AboveRange}
	if l := only(t, job); l.Verdict != DryButHeldBack || !slices.Equal(l.HeldBack, []string{job.Readings[2].Board}) {
		t.Errorf("one over-range mark: verdict %q, held back %v", l.Verdict, l.HeldBack)
	}
}

// TestVerdictPlaces: the slow courses must be among the measured unless every board is.
func TestVerdictPlaces(t *testing.T) {
	job := week(60)
	for i := range 25 { // the top five courses only
		b := job.Boards[59-i]
		job.Readings = append(job.Readings, Reading{Taking: &Taking{Field: "reading", Load: "K1"}, Origin: row("readings", i+2), Board: b.ID,
			Value: units.Reading{State: units.Number, MC: units.Percent(8)}, WoodTemp: units.Celsius(22.7)})
	}
	if l := only(t, job); l.Verdict != NotShown || !strings.Contains(reasons(l), "slow-places-missing") {
		t.Errorf("top courses only: verdict %q because %s", l.Verdict, reasons(l))
	}
	job = week(60, many(25, 8)...)
	for i := range job.Boards {
		job.Boards[i].Course, job.Boards[i].Spot = 0, 0
	}
	job.Loads[0].Courses, job.Loads[0].Spots = 0, 0
	if l := only(t, job); l.Verdict != NotShown || !strings.Contains(reasons(l), "places-not-known") {
		t.Errorf("places not written: verdict %q because %s", l.Verdict, reasons(l))
	}
}

// TestVerdictTemperature: a verdict that rests on a wood temperature nobody wrote down is not given. Readings of 9.5 are
// under 10 at 22.7 C and over it in wood of 10 C (Pfaff and Garrahan formula: about 10.5; computed).
func TestVerdictTemperature(t *testing.T) {
	job := week(5, 9.5, 9.4, 9.5, 9.3, 9.5)
	for i := range job.Readings {
		job.Readings[i].WoodTemp = units.Temperature{}
	}
	l := only(t, job)
	if l.Verdict != NotShown || !strings.Contains(reasons(l), "settle-temperature") {
		t.Errorf("verdict %q because %s; want not shown until the temperature is written", l.Verdict, reasons(l))
	}
	job.Settings.MeterWoodTemp = Yes
	if l := only(t, job); l.Verdict != DryForUse {
		t.Errorf("meter corrects itself: verdict %q because %s", l.Verdict, reasons(l))
	}
}

// TestVerdictSpecies: white oak reads half a point high on the meter's scale (FPL-GTR-6 Table 1, seen indirectly: 10.0 is
// about 9.7), so 10.2 is over 10 as read and not over it when corrected. When nobody says whether the meter was set, no
// verdict is given.
func TestVerdictSpecies(t *testing.T) {
	oak, _ := wood.ByName("white oak")
	job := week(5, 8, 8.1, 8, 8.2, 10.2)
	job.Loads[0].Species = oak
	verdicts := map[Said]Verdict{}
	for _, said := range []Said{Yes, No, NotSaid} {
		job.Settings.MeterSpecies = said
		verdicts[said] = only(t, job).Verdict
	}
	want := map[Said]Verdict{Yes: DryButHeldBack, No: DryForUse, NotSaid: NotShown}
	for said, v := range want {
		if verdicts[said] != v {
			t.Errorf("meter set to species %q: verdict %q, want %q", said, verdicts[said], v)
		}
	}
}

// TestVerdictWitnesses: sample boards that weigh far wetter than the meter reads withdraw a dry verdict, and so does air that
// could not have dried the boards so far.
func TestVerdictWitnesses(t *testing.T) {
	job := week(20, many(20, 8)...)
	on := job.Readings[0].Date
	for i := range 3 {
		id := fmt.Sprint("S", i)
		job.Weights = append(job.Weights,
			Weight{Origin: row("weights", 2+2*i), Sample: id, Load: "K1", Date: on, Weight: units.Grams(4000 + float64(i))},
			Weight{Origin: row("weights", 3+2*i), Sample: id, Load: "K1", Date: on, Wet: units.Grams(120), Ovendry: units.Grams(100)})
	}
	l := only(t, job)
	if l.Verdict != NotShown || len(l.Conflicts) != 1 || l.Conflicts[0].Name != "conflict" {
		t.Errorf("samples at 20 %%, meter at 8: verdict %q, conflicts %v", l.Verdict, l.Conflicts)
	}
	job = week(20, many(20, 7)...)
	job.Air = []Air{{Origin: row("air", 2), Time: on.AddDate(0, 0, -1), Load: "K1", DryBulb: units.Fahrenheit(90), Humidity: units.RelativeHumidity(75)}}
	l = only(t, job)
	if l.Verdict != NotShown || len(l.Conflicts) != 1 || l.Conflicts[0].Name != "conflict-air" {
		t.Errorf("air of 75 %%, meter at 7: verdict %q, conflicts %v", l.Verdict, l.Conflicts)
	}
	job.Air[0].Humidity = units.RelativeHumidity(30)
	if l := only(t, job); l.Verdict != DryForUse {
		t.Errorf("air of 30 %%: verdict %q because %s", l.Verdict, reasons(l))
	}
}

// TestOrderIsIrrelevant: rows in another order give the same verdict and figures.
func TestOrderIsIrrelevant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "boards")
		var mcs []float64
		for range rapid.IntRange(0, n).Draw(t, "measured") {
			mcs = append(mcs, float64(rapid.IntRange(60, 140).Draw(t, "mc"))/10)
		}
		a, b := week(n, mcs...), week(n, mcs...)
		b.Readings = rapid.Permutation(b.Readings).Draw(t, "order")
		x, y := Assess(a).Loads[0], Assess(b).Loads[0]
		if x.Verdict != y.Verdict || x.Mean != y.Mean || x.OverBound != y.OverBound || !slices.Equal(x.Over, y.Over) {
			t.Fatalf("%v: %v %v %v; in another order %v %v %v", mcs, x.Verdict, x.Mean, x.Over, y.Verdict, y.Mean, y.Over)
		}
	})
}

// TestWetterNeverDrier: a board that goes from inside the limit to over it never makes the load dry for the use, nor dry at all when it
// was not dry yet. From "not shown" the load may come to "dry but for held-back boards", since a board near the limit is in doubt while it
// stays and in none once it is out; then the board is held back and the others are dry by themselves.
func TestWetterNeverDrier(t *testing.T) {
	isDry := func(v Verdict) bool { return v == DryForUse || v == DryButHeldBack }
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "boards")
		measured := rapid.IntRange(1, n).Draw(t, "measured")
		var mcs []float64
		for range measured {
			mcs = append(mcs, float64(rapid.IntRange(65, 115).Draw(t, "mc"))/10)
		}
		before := Assess(week(n, mcs...)).Loads[0]
		at := rapid.IntRange(0, measured-1).Draw(t, "which")
		if mcs[at] > 10 {
			return
		}
		mcs[at] = 10 + float64(rapid.IntRange(1, 80).Draw(t, "wetter"))/10
		job := week(n, mcs...)
		after, wet := Assess(job).Loads[0], job.Readings[at].Board
		if after.OverBound < before.OverBound {
			t.Fatalf("%v of %d: bound %d before, %d after", mcs, n, before.OverBound, after.OverBound)
		}
		if after.Verdict == DryForUse || before.Verdict == NotDryYet && isDry(after.Verdict) {
			t.Fatalf("%v of %d: %q before, %q after a board became wetter", mcs, n, before.Verdict, after.Verdict)
		}
		if !isDry(after.Verdict) {
			return
		}
		if !slices.Contains(after.HeldBack, wet) {
			t.Fatalf("%v of %d: %s became wetter and is not held back", mcs, n, wet)
		}
		if measured <= leastBoards {
			return // the others are too few to say anything by themselves, whatever they read
		}
		job = week(n, mcs...)
		job.Loads[0].Boards = n - 1
		job.Boards = slices.DeleteFunc(job.Boards, func(b Board) bool { return b.ID == wet })
		job.Readings = slices.Delete(job.Readings, at, at+1)
		if alone := Assess(job).Loads[0]; !isDry(alone.Verdict) || alone.RestBound > after.RestBound {
			t.Fatalf("%v of %d: %q with bound %d, but the others alone %q with bound %d because %s", mcs, n, after.Verdict, after.RestBound,
				alone.Verdict, alone.RestBound, reasons(alone))
		}
	})
}

// TestBoardNearTheLimit: two boards near the limit leave a load of 13 open, and the advice is to take one out. A reading over the limit
// takes that board out, and the verdict is the one that was promised.
func TestBoardNearTheLimit(t *testing.T) {
	mcs := append(many(10, 6.5), 9.3, 9.3)
	before := Assess(week(13, mcs...)).Loads[0]
	advice, ties := "", ""
	for _, s := range before.ToSettle {
		if s.Name == "settle-take-out" {
			advice, ties = s.With["boards"], s.With["ties"]
		}
	}
	if before.Verdict != NotShown || advice != "B11" || ties != "B12" {
		t.Errorf("got %q with the advice to take out %q, alike %q, want %q, B11 and B12", before.Verdict, advice, ties, NotShown)
	}
	mcs[10] = 10.1
	after := Assess(week(13, mcs...)).Loads[0]
	if after.Verdict != DryButHeldBack || !slices.Equal(after.HeldBack, []string{"B11"}) {
		t.Errorf("got %q, held back %v, want %q and B11", after.Verdict, after.HeldBack, DryButHeldBack)
	}
}

// TestWithheld: an error at a row of a sold board withholds the sale's papers and the load's certificate.
func TestWithheld(t *testing.T) {
	job := week(5, 8, 8, 8, 8, 8)
	job.Sales = []Sale{{Origin: row("sold", 2), ID: "S1", Boards: []string{"B01", "b-02"}, Buyer: "Ida"}}
	r := Assess(job)
	if r.Sales[0].Withheld || len(r.Sales[0].Boards) != 2 {
		t.Fatalf("sound sale: withheld %v, boards %v", r.Sales[0].Withheld, r.Sales[0].Boards)
	}
	job.Findings.Add("T011", finding.Place{File: "week.xlsx", Sheet: "boards", Row: 3, Col: 3}, "116", "", "a size no board has")
	r = Assess(job)
	if !r.Sales[0].Withheld || !r.Loads[0].Withheld || len(r.Withheld()) != 2 {
		t.Errorf("error at board B02: sale withheld %v, load withheld %v", r.Sales[0].Withheld, r.Loads[0].Withheld)
	}
}

// TestSaleFigures: 5 in by 8 ft is 3 1/3 square feet, counted 3; two boards are 6 board feet by surface measure.
func TestSaleFigures(t *testing.T) {
	job := week(5, 8, 8.4, 8, 8, 8)
	job.Sales = []Sale{{Origin: row("sold", 2), ID: "S1", Boards: []string{"B01", "B02"}, Buyer: "Ida"}}
	s := Assess(job).Sales[0]
	if len(s.Footage) != 1 || s.Footage[0].Hundredths != 600 || s.Footage[0].Rule != SurfaceMeasure || !s.Footage[0].Known {
		t.Errorf("footage %+v, want 6.00 by surface measure", s.Footage)
	}
	if s.Low != units.Percent(8) || s.High != units.Percent(8.4) || s.Mean != units.Percent(8.2) || s.Measured != 2 {
		t.Errorf("low %s, mean %s, high %s of %d; want 8.0, 8.2, 8.4 of 2", s.Low, s.Mean, s.High, s.Measured)
	}
}

// TestTaggedFootageAddsUp: the footage of the boards adds up to that of their load and sale, halves included. 7 1/2 in by
// 8 ft is 5 square feet; 4 1/2 in by 4 ft is exactly 1 1/2 and counts 2, 1, 2 ...
func TestTaggedFootageAddsUp(t *testing.T) {
	job := week(5, 8, 8, 8, 8, 8)
	for i := range job.Boards {
		job.Boards[i].Width, job.Boards[i].Length = units.Fraction(9, 2), 4*units.Foot
	}
	r := Assess(job)
	var sum int64
	for _, b := range r.Boards {
		sum += b.Footage.Hundredths
	}
	if sum != 800 || r.Loads[0].DryFootage[0].Hundredths != sum {
		t.Errorf("boards add up to %d, load says %d; want 800 (2 + 1 + 2 + 1 + 2)", sum, r.Loads[0].DryFootage[0].Hundredths)
	}
}

// TestForecast: three samples that lose moisture in logged air get a forecast; in damp air the target is out of reach.
func TestForecast(t *testing.T) {
	job := week(20, many(20, 18)...)
	on := job.Readings[0].Date
	// One sample, ovendry 1000 g, from 30 % on the first day: 30, 24, 20.
	for i, w := range []float64{1300, 1240, 1200} {
		job.Weights = append(job.Weights, Weight{Origin: row("weights", 2+i), Sample: "S1", Load: "K1", Date: on.AddDate(0, 0, 3*i-6), Weight: units.Grams(w)})
	}
	job.Weights = append(job.Weights, Weight{Origin: row("weights", 9), Sample: "S1", Load: "K1", Date: on.AddDate(0, 0, -6), Wet: units.Grams(130), Ovendry: units.Grams(100)})
	job.Air = []Air{{Origin: row("air", 2), Time: on, Load: "K1", DryBulb: units.Fahrenheit(100), Humidity: units.RelativeHumidity(30)}}
	l := only(t, job)
	if l.Verdict != NotDryYet || !l.Days.Known || l.Days.Low > l.Days.Days || !l.Days.OpenEnd && l.Days.High < l.Days.Days {
		t.Errorf("verdict %q, days %+v", l.Verdict, l.Days)
	}
	job.Air[0].Humidity = units.RelativeHumidity(65)
	if l := only(t, job); l.Days.Known || l.Days.Says.Name != "days-no-air-reach" {
		t.Errorf("damp air: days %+v", l.Days)
	}
	job.Air = nil
	if l := only(t, job); l.Days.Known || l.Days.Says.Name != "days-none-air" {
		t.Errorf("no air log: days %+v", l.Days)
	}
}

// TestSampleShare: the published figures of the redwood kiln study (Forest Products Society abstract; seen).
func TestSampleShare(t *testing.T) {
	for n, want := range map[int]float64{2: 0.38, 6: 0.159, 12: 0.108} {
		if got := sampleShare(n); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("%d samples: %.4f, want %.3f", n, got, want)
		}
	}
	for n := 1; n < 40; n++ {
		if sampleShare(n+1) >= sampleShare(n) {
			t.Errorf("%d samples are worse than %d", n+1, n)
		}
	}
}
