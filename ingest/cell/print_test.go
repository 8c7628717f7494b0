package cell

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// sixtyFourths draws a length that is a whole number of 64ths, up to 40 feet.
func sixtyFourths(t *rapid.T) units.Length {
	return inch(rapid.Int64Range(1, 40*12*64).Draw(t, "64ths"), 64)
}

func wantLength(t *rapid.T, c sheet.Cell, x Context, want units.Length) {
	t.Helper()
	got, ps := Length(c, x)
	if got != want || len(ps) != 0 {
		t.Fatalf("Length(%q): got %d nm %v, want %d nm", c.Text, got, ps, want)
	}
}

// TestLengthsPrintedAreRead: parse(print(x)) == x for every way this program writes lengths.
func TestLengthsPrintedAreRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := sixtyFourths(t)
		wantLength(t, text(l.Trade()), inches, l)
		wantLength(t, text(l.String()), mm, l)
		wantLength(t, text(l.FeetInches()), feet, l)
		wantLength(t, text(units.InchFoot.Size(l)), mm, l)
		// A 64th is 396 875 nm, so six decimals of a millimetre hold it exactly.
		wantLength(t, text(new(big.Rat).SetFrac64(int64(l), int64(units.Millimetre)).FloatString(6)+" mm"), inches, l)
		// And 1/64 in is 0.015625 in.
		wantLength(t, num(new(big.Rat).SetFrac64(int64(l), int64(units.Inch)).FloatString(6), sheet.Fraction), inches, l)
		// Thickness reads single sizes the same way.
		got, ps := Thickness(text(l.String()), inches)
		if len(got) != 1 || got[0] != l || len(ps) != 0 {
			t.Fatalf("Thickness(%q): got %v %v, want %v", l.String(), got, ps, l)
		}
	})
}

func TestMillimetresPrintedAreRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := units.Length(rapid.Int64Range(1, 120_000).Draw(t, "tenths")) * units.Millimetre / 10
		wantLength(t, text(units.Metric.Size(l)), inches, l)
		wantLength(t, text(units.Metric.Run(l)), inches, l)
		wantLength(t, num(fmt.Sprintf("%d.%d", l/units.Millimetre, l%units.Millimetre*10/units.Millimetre), sheet.General), mm, l)
	})
}

// TestListsPrintedAreRead: a list of like lengths comes back in its order.
func TestListsPrintedAreRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Int64Range(64, 640).Draw(t, "base")
		n := rapid.IntRange(1, 5).Draw(t, "n")
		separator := rapid.SampledFrom([]string{", ", "; ", "\n", " / "}).Draw(t, "separator")
		var want []units.Length
		s := ""
		for i := range n {
			l := inch(base+rapid.Int64Range(0, base-1).Draw(t, "more"), 64)
			want = append(want, l)
			if i > 0 {
				s += separator
			}
			s += l.String()
		}
		got, ps := Lengths(text(s), mm)
		if fmt.Sprint(got) != fmt.Sprint(want) || len(ps) != 0 {
			t.Fatalf("Lengths(%q): got %v %v, want %v", s, got, ps, want)
		}
	})
}

// TestReadingsPrintedAreRead: parse(print(x)) == x for every state of a reading, alone and in a list.
func TestReadingsPrintedAreRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var want []units.Reading
		s := ""
		for i := range rapid.IntRange(1, 5).Draw(t, "n") {
			r := units.Reading{State: units.ReadingState(rapid.IntRange(0, 3).Draw(t, "state"))}
			if r.State != units.NotTaken {
				r.Doubtful = rapid.Bool().Draw(t, "doubtful")
				if r.State == units.Number || rapid.Bool().Draw(t, "figure") {
					r.MC = units.MC(rapid.IntRange(100, 10000).Draw(t, "hundredths"))
				}
			}
			want = append(want, r)
			if i > 0 {
				s += ", "
			}
			s += r.String()
		}
		if s == "-" {
			want = nil // a dash alone is an empty cell
		}
		got, ps := Readings(text(s), Context{})
		if fmt.Sprint(got) != fmt.Sprint(want) || len(ps) != 0 {
			t.Fatalf("Readings(%q): got %v %v, want %v", s, got, ps, want)
		}
	})
}

// TestDatesPrintedAreRead: every day reads back from every form whose order is plain, and from its day number.
func TestDatesPrintedAreRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := calendar(2000, 1, 1).AddDate(0, 0, rapid.IntRange(0, 36000).Draw(t, "days"))
		for _, form := range []string{"2006-01-02", "2 Jan 2006", "Jan 2, 2006", "January 2, 2006", "Mon 2006/01/02", "20060102"} {
			if got, ps := Date(text(want.Format(form)), Context{}); !got.Equal(want) || len(ps) != 0 {
				t.Fatalf("Date(%q): got %v %v, want %v", want.Format(form), got, ps, want)
			}
		}
		for order, form := range map[Order]string{DayFirst: "02.01.2006", MonthFirst: "1/2/2006"} {
			if got, ps := Date(text(want.Format(form)), Context{DayFirst: order}); !got.Equal(want) || len(ps) != 0 {
				t.Fatalf("Date(%q): got %v %v, want %v", want.Format(form), got, ps, want)
			}
		}
		if got, ps := Date(day(want.Year(), int(want.Month()), want.Day()), Context{}); !got.Equal(want) || len(ps) != 0 {
			t.Fatalf("Date of the day number of %v: got %v %v", want, got, ps)
		}
	})
}

// TestWritingDoesNotMatter: letters of another width, other spaces and capitals change nothing.
func TestWritingDoesNotMatter(t *testing.T) {
	wide := func(s string) string {
		var out []rune
		for _, r := range s {
			switch {
			case r == ' ':
				r = '\u00a0'
			case r > ' ' && r <= '~':
				r += '！' - '!'
			}
			out = append(out, r)
		}
		return string(out)
	}
	for _, k := range lengthCases {
		if k.cell.Kind != sheet.Text {
			continue
		}
		got, ps := Length(text(wide(k.cell.Text)), k.x)
		if c := codes(t, ps); got != k.want || c != k.codes {
			t.Errorf("Length(%q): got %d nm %q, want %d nm %q", wide(k.cell.Text), got, c, k.want, k.codes)
		}
	}
}
