package units

import (
	"math"
	"strconv"
)

// MC is moisture content in hundredths of a percentage point, dry basis (mass of water over mass of ovendry wood).
// Results are rounded once, by Tenth, TenthUp or TenthDown, and then both compared and printed.
type MC int32

// Percent returns the moisture content of x percent, rounded to the hundredth.
func Percent(x float64) MC { return MC(math.Round(x * 100)) }

// PercentTenth returns the moisture content of x percent, rounded once to the nearest tenth. Percent(x).Tenth() would round
// twice: 12.647 to 12.65 to 12.7.
func PercentTenth(x float64) MC { return MC(math.Round(x*10)) * 10 }

// Percent gives the moisture content in percent.
func (m MC) Percent() float64 { return float64(m) / 100 }

// Tenth returns m rounded to the nearest tenth of a percent, halves away from zero.
func (m MC) Tenth() MC {
	if m < 0 {
		return -(-m).Tenth()
	}
	return (m + 5) / 10 * 10
}

// TenthUp returns the tenth of a percent at or above m: an upper limit is rounded outward.
func (m MC) TenthUp() MC { return -(-m).TenthDown() }

// TenthDown returns the tenth of a percent at or below m: a lower limit is rounded outward.
func (m MC) TenthDown() MC {
	t := m / 10 * 10
	if m < 0 && m%10 != 0 {
		t -= 10
	}
	return t
}

// String writes m exactly: one decimal, or two where the second is not zero. There is no percent sign.
func (m MC) String() string {
	if m%10 == 0 {
		return strconv.FormatFloat(m.Percent(), 'f', 1, 64)
	}
	return strconv.FormatFloat(m.Percent(), 'f', 2, 64)
}

// Signed writes a difference as String does, with a plus sign above 0.
func (m MC) Signed() string {
	if m > 0 {
		return "+" + m.String()
	}
	return m.String()
}

// Estimate is a moisture content that was not simply read off: its value, a range, and what the range rests on.
// Known false (the zero value) means that it could not be given.
type Estimate struct {
	Value, Low, High MC
	Confidence       float64 // share of cases the range holds, 0..1; 0 when there is no range
	N                int     // boards, samples or rows it rests on
	Known            bool
}

// ReadingState says what kind of answer the meter gave.
type ReadingState uint8

// The states. The zero value is "not taken".
const (
	NotTaken   ReadingState = iota
	Number                  // the meter showed a number
	BelowRange              // the meter showed its low mark: drier than its lowest number
	AboveRange              // the meter showed its high mark: wetter than its highest number
)

// Reading is one answer of a moisture meter. Its MC is the number shown; for BelowRange and AboveRange it is the
// mark written ("<6" is 6, "33+" is 33), or 0 when only LO or OL was written and the meter's own mark applies.
type Reading struct {
	State    ReadingState
	Doubtful bool // the owner marked it as doubtful (~, ?)
	MC       MC
}

// String writes the reading as the sheet would: 10.5, <6, LO, 33+, OL, or a dash when not taken.
func (r Reading) String() string {
	s := "-"
	switch r.State {
	case Number:
		s = r.MC.String()
	case BelowRange:
		if s = "LO"; r.MC != 0 {
			s = "<" + r.MC.String()
		}
	case AboveRange:
		if s = "OL"; r.MC != 0 {
			s = r.MC.String() + "+"
		}
	}
	if r.Doubtful {
		s += "?"
	}
	return s
}
