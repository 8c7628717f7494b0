package compute

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"drytally/compute/calibrate"
	"drytally/compute/source"
	"drytally/compute/units"
)

// ovened makes a load whose boards were read, and sections cut from the first len(oven) of them the same day.
func ovened(read []float64, oven ...float64) *Job {
	job := week(len(read), read...)
	for i := range read {
		job.Readings[i].Board = job.Boards[i].ID
		job.Readings[i].Value.MC = units.Percent(read[i])
	}
	for i, mc := range oven {
		job.Weights = append(job.Weights, Weight{Origin: row("weights", i+2), Sample: job.Boards[i].ID, Load: "K1", Date: job.Readings[i].Date,
			Wet: units.Grams(100 + mc), Ovendry: units.Grams(100)})
	}
	return job
}

// TestOvenLine: the oven is a tenth of the reading and 0.3 points above the meter on six boards from 6 to 11 %, exactly. Every
// reading in that range is corrected by that line; 14 keeps the correction at 11, which is 1.4, and the figure before it stays.
func TestOvenLine(t *testing.T) {
	read := []float64{6, 7, 8, 9, 10, 11, 8.6, 14}
	var oven []float64
	for _, x := range read[:6] {
		oven = append(oven, 0.3+1.1*x)
	}
	r := Assess(ovened(read, oven...))
	if len(r.Meters) != 1 {
		t.Fatalf("%d comparisons, want 1", len(r.Meters))
	}
	m := r.Meters[0]
	if !m.Oven || !m.Used || m.Boards != 8 || len(m.Pairs) != 6 || m.Difference.Value != units.PercentTenth(1.15) || !m.Line.Known ||
		math.Abs(m.Line.Slope-1.1) > 0.001 || math.Abs(m.Line.Intercept-0.3) > 0.01 || m.Line.Low != units.Percent(6) || m.Line.High != units.Percent(11) {
		t.Errorf("got %+v", m)
	}
	for i, want := range []float64{6.9, 8, 9.1, 10.2, 11.3, 12.4, 9.8, 15.4} {
		b := r.Boards[i].MC
		if math.Abs(b.MC.Percent()-want) > 0.051 || b.Uncalibrated != units.Percent(read[i]) || b.Reading.MC != units.Percent(read[i]) {
			t.Errorf("read %g: got %s before %s, want %g", read[i], b.MC, b.Uncalibrated, want)
		}
	}
	found := false
	for _, u := range r.Job.Settings.Used {
		found = found || u.Name == "meter line, white ash" && u.Source.Status == source.Derived
	}
	if !found {
		t.Errorf("the line is not among the settings used: %+v", r.Job.Settings.Used)
	}
	if _, ok := has(r.Loads[0].Notes, "meters-used"); !ok {
		t.Errorf("the load's notes don't say it: %v", r.Loads[0].Notes)
	}
}

// TestOvenNotUsed: five pairs are too few; pairs all alike settle no slope; sections of another week are no pairs. Nothing is
// corrected then, and the difference is still told.
func TestOvenNotUsed(t *testing.T) {
	for _, c := range []struct {
		name string
		job  func() *Job
		says string
		n    int
	}{
		{"five", func() *Job { return ovened([]float64{6, 7, 8, 9, 10, 8}, 7, 8, 9, 10, 11) }, "meters-few", 5},
		{"one", func() *Job { return ovened([]float64{6, 7, 8}, 7) }, "meters-few", 1},
		{"close together", func() *Job {
			return ovened([]float64{8, 8.1, 8, 8.2, 8.1, 8, 8.1}, 9.2, 8.4, 8.6, 9.1, 8.8, 9.3, 8.2)
		}, "meters-no-line", 7},
		{"another week", func() *Job {
			j := ovened([]float64{6, 7, 8, 9, 10, 11}, 7, 8, 9, 10, 11, 12)
			for i := range j.Weights {
				j.Weights[i].Date = j.Weights[i].Date.AddDate(0, 0, 7)
			}
			return j
		}, "meters-left-out", 0},
		{"marks", func() *Job {
			j := ovened([]float64{6, 7, 8}, 7, 8, 9)
			for i := range j.Readings {
				j.Readings[i].Value = units.Reading{State: units.BelowRange}
			}
			return j
		}, "meters-left-out", 0},
	} {
		r := Assess(c.job())
		if len(r.Meters) != 1 || r.Meters[0].Used || r.Meters[0].Difference.N != c.n {
			t.Errorf("%s: %+v", c.name, r.Meters)
			continue
		}
		if _, ok := has(r.Meters[0].Says, c.says); !ok {
			t.Errorf("%s: says %v, want %s", c.name, r.Meters[0].Says, c.says)
		}
		for _, b := range r.Boards {
			if b.MC.Uncalibrated != 0 {
				t.Errorf("%s: a board was corrected: %+v", c.name, b.MC)
			}
		}
	}
	if r := Assess(week(6, 6, 7, 8, 9, 10, 11)); len(r.Meters) != 0 {
		t.Errorf("one meter and no oven: %+v", r.Meters)
	}
}

// TestSecondMeter: a second meter that always shows one point more. The load's figure stays the first meter's; the board that
// only the second one read is brought to the first by the line.
func TestSecondMeter(t *testing.T) {
	read := []float64{6, 7, 8, 9, 10, 11, 20}
	job := ovened(read)
	job.Readings = job.Readings[:6]
	for i := range 6 {
		r := job.Readings[i]
		r.Origin = row("readings", 20+i)
		r.taken(func(t *Taking) { t.Meter = "B" })
		r.Value.MC += units.Percent(1)
		job.Readings = append(job.Readings, r)
	}
	lone := job.Readings[6]
	lone.Board, lone.Value.MC, lone.Origin = job.Boards[6].ID, units.Percent(9.5), row("readings", 30)
	job.Readings = append(job.Readings, lone)
	r := Assess(job)
	if len(r.Meters) != 1 {
		t.Fatalf("%d comparisons, want 1: %+v", len(r.Meters), r.Meters)
	}
	m := r.Meters[0]
	if m.Oven || m.Meter != "B" || m.Difference.Value != -units.Percent(1) || len(m.Pairs) != 6 || !m.Used || m.Boards != 1 {
		t.Errorf("got %+v", m)
	}
	for i := range 6 {
		if b := r.Boards[i].MC; b.MC != units.Percent(read[i]) || b.Uncalibrated != 0 || b.N != 1 {
			t.Errorf("board %d: %+v, want %g by the first meter alone", i, b, read[i])
		}
	}
	if b := r.Boards[6].MC; b.MC != units.Percent(8.5) || b.Uncalibrated != units.Percent(9.5) {
		t.Errorf("the seventh board: %+v, want 8.5 from 9.5", b)
	}
}

// TestMainMeter: the settings' name decides, then readings without a name, then the meter of most boards.
func TestMainMeter(t *testing.T) {
	for _, c := range []struct {
		name, setting string
		meters        []string // of the readings of boards 0, 1, 2
		main          string
	}{
		{"no name", "", []string{"", "B", "B"}, ""},
		{"most boards", "", []string{"A", "B", "B"}, "b"},
		{"first of equals", "", []string{"A", "B"}, "a"},
		{"by the settings", "A", []string{"A", "B", "B"}, "a"},
		{"a name nobody uses", "C", []string{"A", "B", "B"}, "b"},
	} {
		job := week(3, 8, 8, 8)
		job.Settings.MeterName = c.setting
		x := &index{job: job, out: &Result{}}
		var readings []boardReading
		for i, m := range c.meters {
			readings = append(readings, boardReading{i, &Reading{Taking: &Taking{Meter: m}}})
		}
		if kept := x.mainMeter(readings); x.mainMeterKey != c.main || len(kept) != len(readings) {
			t.Errorf("%s: main %q, %d kept; want %q and all, as no board was read twice", c.name, x.mainMeterKey, len(kept), c.main)
		}
	}
}

// TestByLine: between the pairs the line, beyond them the correction of the nearest pair; it never turns the order of two boards.
func TestByLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pairs []calibrate.Pair
		for i := range 8 {
			x := 6 + float64(i) + rapid.Float64Range(-0.3, 0.3).Draw(t, "x")
			pairs = append(pairs, calibrate.Pair{X: x, Y: x + rapid.Float64Range(-1, 1).Draw(t, "off")})
		}
		l, err := calibrate.Fit(pairs, 0)
		if err != nil {
			t.Fatal(err)
		}
		if !goodLine(l) {
			return
		}
		a, b := rapid.Float64Range(0, 30).Draw(t, "a"), rapid.Float64Range(0, 30).Draw(t, "b")
		if a > b {
			a, b = b, a
		}
		if byLine(l, a) > byLine(l, b)+1e-9 {
			t.Fatalf("%g becomes %g and %g becomes %g", a, byLine(l, a), b, byLine(l, b))
		}
		if got := byLine(l, l.HighX+5) - l.HighX - 5; math.Abs(got-(l.At(l.HighX)-l.HighX)) > 1e-9 {
			t.Fatalf("beyond the pairs the correction is %g", got)
		}
	})
}

// TestLineOfTrueBoards: made-up boards of known moisture, a meter that is 1.5 points too low with a scatter of half a point, eight
// sections. Corrected means must come nearer to the truth than uncorrected ones.
func TestLineOfTrueBoards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var read, oven []float64
		truth, before, after := 0.0, 0.0, 0.0
		for i := range 16 {
			mc := 7 + 0.4*float64(i)
			read = append(read, math.Round(10*(mc-1.5+rapid.Float64Range(-0.5, 0.5).Draw(t, fmt.Sprint(i))))/10)
			truth += mc / 16
			if i%2 == 0 {
				oven = append(oven, mc)
			}
		}
		// Sections come from the boards with even numbers, put first.
		var order []float64
		for i := 0; i < 16; i += 2 {
			order = append(order, read[i])
		}
		for i := 1; i < 16; i += 2 {
			order = append(order, read[i])
		}
		r := Assess(ovened(order, oven...))
		for _, b := range r.Boards {
			after += b.MC.MC.Percent() / 16
			if before += b.MC.Uncalibrated.Percent() / 16; b.MC.Uncalibrated == 0 {
				t.Fatalf("not corrected: %+v", r.Meters[0])
			}
		}
		if math.Abs(after-truth) > 0.5 || math.Abs(before-truth) < 1 {
			t.Fatalf("true mean %.2f, corrected %.2f, before %.2f", truth, after, before)
		}
	})
}

// TestMeterDates: undated sections and undated readings belong together, a date on one side only does not.
func TestMeterDates(t *testing.T) {
	job := ovened([]float64{6, 7, 8}, 7, 8, 9)
	for i := range job.Weights {
		job.Weights[i].Date = time.Time{}
	}
	if m := Assess(job).Meters[0]; m.Apart != 3 || m.Difference.Known {
		t.Errorf("dated readings, undated sections: %+v", m)
	}
	for i := range job.Readings {
		job.Readings[i].taken(func(t *Taking) { t.Date = time.Time{} })
	}
	if m := Assess(job).Meters[0]; m.Apart != 0 || m.Difference.Value != units.Percent(1) {
		t.Errorf("neither dated: %+v", m)
	}
}
