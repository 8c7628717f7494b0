package meter

import (
	"errors"
	"testing"

	"drytally/compute/units"
)

func TestLimitsStayLimits(t *testing.T) {
	six := units.Percent(6)
	tests := []struct {
		name string
		q    Question
		want string
		err  error
	}{
		{"not taken", Question{}, "0.0", nil},
		{"below 6, cold: under a higher limit, rounded up", Question{Reading: units.Reading{State: units.BelowRange, MC: six}, Wood: units.Celsius(22)}, "6.1", nil}, // 6.043 by formula
		{"below 6, neutral", Question{Reading: units.Reading{State: units.BelowRange, MC: six}}, "6.0", nil},
		{"above 30, warm: over a lower limit, rounded down", Question{Reading: units.Reading{State: units.AboveRange, MC: units.Percent(30)}, Wood: units.Celsius(27)}, "29.1", nil}, // 29.192 by formula
		{"LO without a mark", Question{Reading: units.Reading{State: units.BelowRange}}, "0.0", ErrNoMark},
		{"OL without a mark", Question{Reading: units.Reading{State: units.AboveRange}}, "0.0", ErrNoMark},
		{"a dielectric meter needs its mark too", Question{Reading: units.Reading{State: units.BelowRange}, Dielectric: true}, "0.0", ErrNoMark},
	}
	for _, tt := range tests {
		a, err := Correct(tt.q)
		if !errors.Is(err, tt.err) || a.MC.String() != tt.want {
			t.Errorf("%s: got %v (%v), want %s (%v)", tt.name, a.MC, err, tt.want, tt.err)
		}
		if err == nil && a.State != tt.q.Reading.State {
			t.Errorf("%s: state became %v", tt.name, a.State)
		}
		if a.Trust != NotJudged {
			t.Errorf("%s: a limit was judged as a number: %v", tt.name, a.Trust)
		}
	}
}

func TestFrozen(t *testing.T) {
	number := func(x float64) units.Reading { return units.Reading{State: units.Number, MC: units.Percent(x)} }
	tests := []struct {
		name   string
		q      Question
		frozen bool
		err    error
	}{
		{"dry and frozen is read", Question{Reading: number(9), Wood: units.Celsius(-5)}, true, nil},
		{"wet and frozen is not", Question{Reading: number(25), Wood: units.Celsius(-5)}, false, ErrFrozen},
		{"the wetter method decides", Question{Reading: number(18), Wood: units.Celsius(-20)}, false, ErrFrozen}, // 28.7 by figure 5, 23.9 by formula
		{"over the high mark and frozen", Question{Reading: units.Reading{State: units.AboveRange, MC: 3000}, Wood: units.Celsius(-1)}, false, ErrFrozen},
		{"below the low mark and frozen is a limit", Question{Reading: units.Reading{State: units.BelowRange, MC: 600}, Wood: units.Celsius(-1)}, true, nil},
		{"thawed", Question{Reading: number(25), Wood: units.Celsius(1)}, false, nil},
		{"frozen counts also when the meter corrects", Question{Reading: number(29), Wood: units.Celsius(-5), TempDone: true}, false, ErrFrozen},
		{"a dielectric meter has no frozen rule", Question{Reading: number(29), Wood: units.Celsius(-5), Dielectric: true}, false, nil},
	}
	for _, tt := range tests {
		a, err := Correct(tt.q)
		if !errors.Is(err, tt.err) || a.Frozen != tt.frozen {
			t.Errorf("%s: got frozen %v, error %v; want %v, %v", tt.name, a.Frozen, err, tt.frozen, tt.err)
		}
	}
}

func TestTrust(t *testing.T) {
	tests := []struct {
		read       float64
		wood       units.Temperature
		dielectric bool
		want       Trust
	}{
		{7, units.Temperature{}, false, Sure},
		{25, units.Temperature{}, false, Sure},
		{6.9, units.Temperature{}, false, AtTheEdge},
		{6, units.Temperature{}, false, AtTheEdge},
		{5.9, units.Temperature{}, false, OutOfRange},
		{25.1, units.Temperature{}, false, AtTheEdge},
		{28.1, units.Temperature{}, false, OutOfRange},
		{7.2, units.Celsius(35), false, AtTheEdge},  // the corrected value is out
		{24.5, units.Celsius(12), false, AtTheEdge}, // likewise
		{6.5, units.Celsius(12), false, AtTheEdge},  // the reading is out
		{4, units.Temperature{}, true, Sure},
		{3.9, units.Temperature{}, true, OutOfRange},
		{30.1, units.Temperature{}, true, OutOfRange},
	}
	for _, tt := range tests {
		a, err := Correct(Question{Reading: units.Reading{State: units.Number, MC: units.Percent(tt.read)}, Wood: tt.wood, Dielectric: tt.dielectric})
		if err != nil || a.Trust != tt.want {
			t.Errorf("reading %g, wood %v: got %v (MC %v, %v), want %v", tt.read, tt.wood, a.Trust, a.MC, err, tt.want)
		}
	}
}

func TestNothingTwice(t *testing.T) {
	q := Question{Reading: units.Reading{State: units.Number, MC: 1200}, Wood: units.Celsius(10), Species: "white oak"}
	both, err := Correct(q)
	if err != nil {
		t.Fatal(err)
	}
	q.TempDone, q.SpeciesDone = true, true
	none, err := Correct(q)
	if err != nil || none.MC != 1200 || none.Temperature.Outcome != DoneByMeter || none.Species.Outcome != DoneByMeter {
		t.Errorf("meter did both: got %v, %v, %v (%v); want 12.0 unchanged", none.MC, none.Temperature.Outcome, none.Species.Outcome, err)
	}
	if both.MC != 1260 { // 13.216 by the formula, then 12.647 for white oak
		t.Errorf("both steps: got %v, want 12.6", both.MC)
	}
	q.Dielectric, q.TempDone, q.SpeciesDone = true, false, false
	plate, err := Correct(q)
	if err != nil || plate.MC != 1200 || plate.Temperature.Outcome != Uncorrected || plate.Species.Outcome != Uncorrected {
		t.Errorf("dielectric: got %v, %v, %v (%v); want 12.0 unchanged", plate.MC, plate.Temperature.Outcome, plate.Species.Outcome, err)
	}
	if _, err := Correct(Question{Reading: units.Reading{State: units.Number, MC: units.Percent(140)}}); err == nil {
		t.Error("a reading of 140 % was taken")
	}
}
