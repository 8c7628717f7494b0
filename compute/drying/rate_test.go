package drying

import (
	"math"
	"strings"
	"testing"
	"time"

	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/testdata/published"
)

func day(n float64) time.Time {
	return time.Date(2025, 3, 1, 8, 0, 0, 0, time.UTC).Add(time.Duration(n * 24 * float64(time.Hour)))
}

func TestSafeTable(t *testing.T) {
	_, lines := published.Table(t, "drying_safe_rates.csv")
	rows := safeRates().rows
	if len(rows) != len(lines) || len(rows) != 14 {
		t.Fatalf("got %d rows, want %d", len(rows), len(lines))
	}
	for i, l := range lines {
		r := rows[i]
		four := r.four.String()
		if r.range4 != 0 { // as printed: 1.0-3.8
			four += "-" + r.range4.String()
		}
		eight := r.eight.String()
		if r.eight == 0 {
			eight = "none"
		}
		if four != l[1] || eight != l[2] {
			t.Errorf("%s: got %s and %s, want %s (%s) and %s", r.row, four, eight, l[1], l[0], l[2])
		}
		// the two transcriptions name the same wood, turned round: "ash, white" and "white ash"
		for _, w := range strings.FieldsFunc(strings.ToLower(l[0]), func(r rune) bool { return strings.ContainsRune(" ,/()", r) }) {
			if w != "white" && !strings.Contains(r.row, w) {
				t.Errorf("row %q does not match the printed %q", r.row, l[0])
			}
		}
		// 8/4 is 4/4 over 2.5, the factor on drying time (Wengert; seen), when both are rounded to the tenth: half a digit of
		// the one, and half a digit over 2.5 of the other
		if d := r.four.Percent()/2.5 - r.eight.Percent(); r.eight != 0 && math.Abs(d) > 0.05+0.05/2.5+1e-9 {
			t.Errorf("%s: 4/4 over 2.5 is %.2f, 8/4 is %v", r.row, r.four.Percent()/2.5, r.eight)
		}
	}
}

func TestSafe(t *testing.T) {
	tests := []struct {
		species string
		nominal units.Length
		want    string
		status  source.Status
		note    bool
	}{
		{"upland red oak", units.Inch, "3.8", source.Seen, true},
		{"Red  Oak", units.Inch, "3.8", source.Seen, true},
		{"red oak", units.Fraction(3, 2), "2.2", source.Derived, true},   // 3.8 / 1.7 = 2.24
		{"white oak", units.Fraction(3, 2), "1.5", source.Derived, true}, // 2.5 / 1.7 = 1.47
		{"red oak", 2 * units.Inch, "1.5", source.Seen, true},
		{"lowland red oak", units.Inch, "1.0", source.Seen, true},
		{"lowland red oak", 2 * units.Inch, "", 0, false},
		{"red oak", units.Fraction(5, 4), "", 0, false}, // no figure for 5/4 was seen
		{"red oak", 3 * units.Inch, "", 0, false},
		{"red oak", 0, "", 0, false},
		{"black walnut", units.Inch, "8.2", source.Seen, false},
		{"eastern white pine", units.Inch, "", 0, false},
		{"shagbark hickory", units.Inch, "", 0, false},
		{"", units.Inch, "", 0, false},
	}
	for _, tt := range tests {
		got, ok := Safe(tt.species, tt.nominal)
		if ok != (tt.want != "") {
			t.Errorf("%q at %v: ok is %v", tt.species, tt.nominal, ok)
			continue
		}
		if ok && (got.PerDay.String() != tt.want || got.Source.Status != tt.status || (got.Note != "") != tt.note) {
			t.Errorf("%q at %v: got %+v, want %s, %v, note %v", tt.species, tt.nominal, got, tt.want, tt.status, tt.note)
		}
	}
}

// Charges of FPL-RN-0310 (Bergman 2008): moisture contents and days seen, average rates derived there to the hundredth.
func TestDailyLosses(t *testing.T) {
	tests := []struct {
		name     string
		from, to units.MC
		days     float64
		want     string
	}{
		{"4/4 mixed, air-dried, 0.74", 1840, 730, 15, "0.7"},
		{"5/4 black cherry, 1.51", 4750, 680, 27, "1.5"},
		{"4/4 northern red oak, green, 1.71", 8290, 610, 45, "1.7"},
		{"the same longer, 1.55", 8290, 520, 50, "1.6"}, // 1.554 by the figures printed; the 1.55 of the notes rounds to this
		{"4/4 mixed from green, 2.11", 6970, 850, 29, "2.1"},
		{"a gain", 800, 900, 2, "-0.5"},
	}
	for _, tt := range tests {
		got := DailyLosses([]Point{{Time: day(tt.days), MC: tt.to}, {Time: day(0), MC: tt.from}})
		if len(got) != 1 || got[0].PerDay.String() != tt.want || !got[0].From.Equal(day(0)) || !got[0].To.Equal(day(tt.days)) {
			t.Errorf("%s: got %v, want %s", tt.name, got, tt.want)
		}
	}
	if got := DailyLosses([]Point{{Time: day(0), MC: 800}, {Time: day(0), MC: 700}}); len(got) != 0 {
		t.Errorf("two weighings at once: got %v, want no interval", got)
	}
	if got := DailyLosses(nil); got != nil {
		t.Errorf("no weighings: got %v", got)
	}
}

// The 8/4 rates of the published table are the 4/4 rates over 2.5 (derived; it confirmed the table's columns): TimeFactor says
// the same of the time.
func TestTimeFactorAgainstSafeRates(t *testing.T) {
	f, from, ok := TimeFactor(2 * units.Inch)
	if !ok || from.Status != source.Seen {
		t.Fatalf("8/4: got %g, %s, %v", f, from, ok)
	}
	for _, r := range safeRates().rows {
		if r.eight != 0 && math.Abs(r.four.Percent()/r.eight.Percent()-f) > 0.1 {
			t.Errorf("%s: 4/4 over 8/4 is %.2f, the factor on time is %g", r.row, r.four.Percent()/r.eight.Percent(), f)
		}
	}
	for _, thick := range []units.Length{units.Fraction(5, 4), 3 * units.Inch, 0} {
		if f, _, ok := TimeFactor(thick); ok {
			t.Errorf("%s: got %g, no figure was seen", thick, f)
		}
	}
}
