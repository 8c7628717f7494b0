package units

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTrade(t *testing.T) {
	tests := []struct {
		l    Length
		want string
	}{
		{0, "0"}, {Inch, "1"}, {Fraction(91, 8), "11 3/8"}, {Fraction(3, 4), "3/4"}, {Fraction(63, 64), "63/64"},
		{Fraction(2, 64), "1/32"}, {-Fraction(1, 2), "-1/2"}, {Inches(11.375), "11 3/8"},
		{Fraction(30, 1000), "0.030"}, {Millimetres(25), "0.984"}, // 25 mm is no whole 64th
	}
	for _, tt := range tests {
		if got := tt.l.Trade(); got != tt.want {
			t.Errorf("%d nm: got %q, want %q", tt.l, got, tt.want)
		}
	}
}

func TestFeetInches(t *testing.T) {
	tests := []struct {
		l    Length
		want string
	}{
		{10 * Foot, "10'"}, {10*Foot + 6*Inch, `10' 6"`}, {10*Foot + Fraction(13, 2), `10' 6 1/2"`}, {Fraction(15, 2), `7 1/2"`},
	}
	for _, tt := range tests {
		if got := tt.l.FeetInches(); got != tt.want {
			t.Errorf("%d nm: got %q, want %q", tt.l, got, tt.want)
		}
	}
}

func TestSystem(t *testing.T) {
	tests := []struct{ name, got, want string }{
		{"size in inches", InchFoot.Size(Fraction(29, 4)), `7 1/4"`},
		{"size rounded to the nearest 64th", InchFoot.Size(Inches(1.01)), `1 1/64"`},
		{"size in millimetres", Metric.Size(Millimetres(28.25)), "28.3 mm"},
		{"size to a step", InchFoot.SizeTo(Inches(7.51), Fraction(1, 16)), `7 1/2"`},
		{"whole millimetres", Metric.SizeTo(Millimetres(28.6), Millimetre), "29 mm"},
		{"run", InchFoot.Run(98 * Inch), `8' 2"`},
		{"metric run", Metric.Run(Millimetres(2500)), "2500 mm"},
		{"temperature", InchFoot.Temperature(Celsius(20)), "68 F"},
		{"metric temperature", Metric.Temperature(Fahrenheit(68)), "20 C"},
		{"no temperature", Metric.Temperature(Temperature{}), "not given"},
		{"running feet", InchFoot.Running(446.77), "447 ft"},
		{"running metres", Metric.Running(100), "30 m"},
		{"mass", InchFoot.Mass(Pounds(122)), "122 lb"},
		{"metric mass", Metric.Mass(Grams(55_500)), "56 kg"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.name, tt.got, tt.want)
		}
	}
}

// TestExact: 64ths of an inch, thousandths and millimetres are whole nanometres, so that sums of them don't drift.
func TestExact(t *testing.T) {
	for n := int64(1); n <= 64; n++ {
		if Fraction(n, 64)*64 != Length(n)*Inch {
			t.Errorf("%d/64 inch is not exact", n)
		}
	}
	if Fraction(1, 1000)*1000 != Inch || 10*Millimetre != Centimetre || Millimetres(25.4) != Inch {
		t.Error("a thousandth of an inch or a millimetre is not exact")
	}
}

func TestRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(0, int64(100*Foot)).Draw(t, "length"))
		step := Length(rapid.SampledFrom([]int64{int64(Fraction(1, 16)), int64(Fraction(1, 64)), int64(Millimetre)}).Draw(t, "step"))
		up, near := l.RoundUp(step), l.Nearest(step)
		if up%step != 0 || up < l || up-l >= step {
			t.Fatalf("%d rounded up to steps of %d: %d", l, step, up)
		}
		if near%step != 0 || math.Abs(float64(near-l)) > float64(step)/2 {
			t.Fatalf("%d to the nearest step of %d: %d", l, step, near)
		}
	})
}

func TestMC(t *testing.T) {
	tests := []struct{ got, want string }{
		{Percent(10).String(), "10.0"}, {Percent(10.25).String(), "10.25"}, {Percent(10.04).Tenth().String(), "10.0"},
		{Percent(10.05).Tenth().String(), "10.1"}, {Percent(8.21).TenthUp().String(), "8.3"}, {Percent(8.29).TenthDown().String(), "8.2"},
		{Percent(8.2).TenthUp().String(), "8.2"}, {Percent(-0.15).TenthDown().String(), "-0.2"}, {Percent(-0.15).TenthUp().String(), "-0.1"},
		{PercentTenth(12.647).String(), "12.6"}, // Percent first would make it 12.65 and then 12.7
	}
	for i, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("case %d: got %q, want %q", i, tt.got, tt.want)
		}
	}
}

func TestReadingString(t *testing.T) {
	tests := []struct {
		r    Reading
		want string
	}{
		{Reading{}, "-"}, {Reading{State: Number, MC: 1050}, "10.5"}, {Reading{State: BelowRange}, "LO"}, {Reading{State: BelowRange, MC: 600}, "<6.0"},
		{Reading{State: AboveRange, MC: 3300}, "33.0+"}, {Reading{State: AboveRange}, "OL"}, {Reading{State: Number, MC: 1050, Doubtful: true}, "10.5?"},
	}
	for _, tt := range tests {
		if got := tt.r.String(); got != tt.want {
			t.Errorf("%+v: got %q, want %q", tt.r, got, tt.want)
		}
	}
}

// TestUnknown: nothing known is not zero.
func TestUnknown(t *testing.T) {
	var c Temperature
	var h Humidity
	if c.Known() || h.Known() || !Celsius(0).Known() || !RelativeHumidity(0).Known() {
		t.Error("a zero temperature or humidity must be told from one that was not given")
	}
	if f := Fahrenheit(212).Celsius(); math.Abs(f-100) > 1e-9 {
		t.Errorf("212 F is %g C", f)
	}
}
