package heat

import (
	"math"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"

	"drytally/compute/units"
	"drytally/testdata/published"
)

var start = time.Date(2026, 6, 3, 10, 0, 0, 0, time.UTC)

// logOf makes a log from minutes and degrees Celsius.
func logOf(pairs ...float64) []Point {
	var log []Point
	for i := 0; i+1 < len(pairs); i += 2 {
		log = append(log, Point{start.Add(time.Duration(pairs[i] * float64(time.Minute))), units.Celsius(pairs[i+1])})
	}
	return log
}

// TestAt: the time at or above 56 C. Between two lines it counts only when both reach it and 30 minutes or less lie between.
func TestAt(t *testing.T) {
	for _, c := range []struct {
		name                  string
		log                   []Point
		total, longest, lines int
		from                  int // minutes; -1 for none
	}{
		{"no line", nil, 0, 0, 0, -1},
		{"one line", logOf(0, 60), 0, 0, 1, -1},
		{"two lines at exactly 56", logOf(0, 56, 10, 56), 10, 10, 2, 0},
		{"one of two below", logOf(0, 55.9, 10, 60), 0, 0, 1, -1},
		{"rise and fall", logOf(0, 50, 10, 57, 20, 58, 30, 57, 40, 50), 20, 20, 3, 10},
		{"a dip parts two runs", logOf(0, 57, 10, 57, 20, 55, 30, 57, 40, 57, 50, 57), 30, 20, 5, 30},
		{"a gap of exactly 30 counts", logOf(0, 57, 30, 57), 30, 30, 2, 0},
		{"a gap of 31 does not", logOf(0, 57, 31, 57), 0, 0, 2, -1},
		{"a gap parts two runs", logOf(0, 57, 20, 57, 60, 57, 75, 57), 35, 20, 4, 0},
		{"the later run is longer", logOf(0, 57, 10, 57, 60, 57, 75, 57), 25, 15, 4, 60},
		{"out of order", logOf(20, 57, 0, 57, 10, 57), 20, 20, 3, 0},
		{"two at one time: the cooler counts", logOf(0, 57, 10, 57, 10, 50, 20, 57), 0, 0, 2, -1},
		{"one temperature lacking", append(logOf(0, 57, 10, 57), Point{Time: start.Add(5 * time.Minute)}), 10, 10, 2, 0},
	} {
		h := At(c.log, units.Celsius(56))
		from := -1
		if !h.From.IsZero() {
			from = int(h.From.Sub(start).Minutes())
		}
		if h.Total.Minutes() != float64(c.total) || h.Longest.Minutes() != float64(c.longest) || h.Lines != c.lines || from != c.from {
			t.Errorf("%s: got %v in all, %v longest from %d, %d lines; want %d, %d from %d, %d lines", c.name, h.Total, h.Longest, from, h.Lines, c.total, c.longest, c.from, c.lines)
		}
	}
	if h := At(logOf(0, 57, 10, 57), units.Temperature{}); h != (Held{}) {
		t.Errorf("no threshold: got %+v", h)
	}
	// 132.8 F is 56 C: the conversion must not lose it.
	f := []Point{{start, units.Fahrenheit(132.8)}, {start.Add(time.Minute), units.Fahrenheit(132.8)}}
	if h := At(f, units.Celsius(56)); h.Total != time.Minute {
		t.Errorf("132.8 F: got %v at or above 56 C, want a minute", h.Total)
	}
	if n := Gaps(logOf(0, 50, 30, 50, 61, 50, 200, 50)); n != 2 {
		t.Errorf("got %d gaps, want 2", n)
	}
}

// TestAtLaws: the longest run is part of the total, the total part of the log's span; a hotter threshold and a line left out
// never add time beyond the gap rule; the order of lines does not matter.
func TestAtLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var log []Point
		at := 0
		for range rapid.IntRange(0, 30).Draw(t, "n") {
			at += rapid.IntRange(1, 45).Draw(t, "step")
			log = append(log, Point{start.Add(time.Duration(at) * time.Minute), units.Celsius(rapid.Float64Range(40, 75).Draw(t, "temp"))})
		}
		c := rapid.Float64Range(50, 72).Draw(t, "threshold")
		h := At(log, units.Celsius(c))
		if h.Longest > h.Total || len(log) > 0 && h.Total > log[len(log)-1].Time.Sub(log[0].Time) || h.Longest > 0 && h.From.IsZero() {
			t.Fatalf("%+v in a log of %d lines", h, len(log))
		}
		if hot := At(log, units.Celsius(c+2)); hot.Total > h.Total || hot.Longest > h.Longest {
			t.Fatalf("at %g: %+v, 2 degrees higher: %+v", c, h, hot)
		}
		turned := make([]Point, 0, len(log))
		for i := range log {
			turned = append(turned, log[len(log)-1-i])
		}
		if r := At(turned, units.Celsius(c)); r != h {
			t.Fatalf("turned round: %+v, want %+v", r, h)
		}
		// A line that becomes cooler never adds time.
		if len(log) > 0 {
			cooler := append([]Point(nil), log...)
			cooler[rapid.IntRange(0, len(log)-1).Draw(t, "which")].Temp = units.Celsius(20)
			if k := At(cooler, units.Celsius(c)); k.Total > h.Total || k.Longest > h.Longest {
				t.Fatalf("cooler: %+v, before %+v", k, h)
			}
		}
	})
}

// TestPublished walks the table against the second transcription.
func TestPublished(t *testing.T) {
	_, rows := published.Table(t, "heat_thresholds.csv")
	got := figures()
	if len(got) != len(rows) || len(got) != 14 {
		t.Fatalf("got %d figures, want %d", len(got), len(rows))
	}
	seen := map[string]bool{}
	for i, w := range rows {
		g := got[i].figure
		c, _ := strconv.ParseFloat(w[1], 64)
		fahrenheit, _ := strconv.ParseFloat(w[2], 64)
		n, _ := strconv.Atoi(w[3])
		most, _ := strconv.Atoi(w[4])
		if got[i].key != w[0] || g.Temp.Celsius() != c || g.Minutes != n || g.Most != most || g.Source.Status.String() != w[5] {
			t.Errorf("row %d: got %q %+v, want %v", i, got[i].key, g, w)
		}
		// Half a degree: 160 F is printed beside 71 C and 71.1 C.
		if math.Abs(g.Temp.Fahrenheit()-fahrenheit) > 0.5 {
			t.Errorf("%s: %g C is %.1f F, printed %g", w[0], c, g.Temp.Fahrenheit(), fahrenheit)
		}
		if seen[w[0]] {
			t.Errorf("%s stands twice", w[0])
		}
		seen[w[0]] = true
	}
	last := 0.0
	for _, f := range Thresholds() {
		if f.Kind == HeatUp || f.Temp.Celsius() < last || f.Temp.Celsius() < 55 {
			t.Errorf("%+v out of order or no core temperature", f)
		}
		last = f.Temp.Celsius()
	}
	// Simpson 2003: from 15 to 438 minutes.
	if f := InchInHotAir(); f.Minutes != 15 || f.Most != 438 {
		t.Errorf("got %d to %d minutes, want 15 to 438", f.Minutes, f.Most)
	}
}
