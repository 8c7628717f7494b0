package cell

import (
	"fmt"
	"testing"
	"time"

	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// serial gives the day number of a date after February 1900, counted from 30 December 1899.
func serial(y, m, d int) string {
	return fmt.Sprint(int(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24))
}

func day(y, m, d int) sheet.Cell { return num(serial(y, m, d), sheet.Date) }

var thicknessCases = []lengthsCase{
	{"4/4", text("4/4"), inches, []units.Length{inch(1, 1)}, ""},
	{"5/4", text("5/4"), inches, []units.Length{inch(5, 4)}, ""},
	{"6/4", text("6/4"), inches, []units.Length{inch(3, 2)}, ""},
	{"7/4", text("7/4"), inches, []units.Length{inch(7, 4)}, ""},
	{"8/4", text("8/4"), inches, []units.Length{inch(2, 1)}, ""},
	{"10/4", text("10/4"), inches, []units.Length{inch(5, 2)}, ""},
	{"12/4", text("12/4"), inches, []units.Length{inch(3, 1)}, ""},
	{"16/4", text("16/4"), inches, []units.Length{inch(4, 1)}, ""},
	{"quarters in a metric column", text("5/4"), mm, []units.Length{inch(5, 4)}, ""},
	{"quarters under a metric heading", text("8 / 4"), Context{Unit: Millimetre}, []units.Length{inch(2, 1)}, ""},
	{"quarters with a word", text("5/4 rough"), mm, []units.Length{inch(5, 4)}, ""},
	{"quarter word", text("5 quarter"), inches, []units.Length{inch(5, 4)}, ""},
	{"quarter word joined", text("Five-quarter"), mm, []units.Length{inch(5, 4)}, ""},
	{"quarter abbreviated", text("8 qtr"), inches, []units.Length{inch(2, 1)}, ""},
	{"inches", text("1 1/8"), inches, []units.Length{inch(9, 8)}, ""},
	{"several", text("1 1/16, 1 3/32"), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"millimetres", text("27"), mm, []units.Length{27e6}, ""},
	{"3/4 in a metric column", text("3/4"), mm, nil, "C032"},
	{"one quarter word", text("one quarter"), inches, nil, "C004"},
	{"quarters and millimetres", text("5/4 mm"), mm, nil, "C013"},

	{"date of 5/4, month first", day(2026, 5, 4), inches, []units.Length{inch(5, 4)}, "C007"},
	{"date of 5/4, day first", day(2026, 4, 5), inches, []units.Length{inch(5, 4)}, "C007"},
	{"date of 4/4", day(2026, 4, 4), inches, []units.Length{inch(1, 1)}, "C007"},
	{"date of 8/4", day(2026, 8, 4), inches, []units.Length{inch(2, 1)}, "C007"},
	{"date of 8/4, day first", day(2026, 4, 8), inches, []units.Length{inch(2, 1)}, "C007"},
	{"date of 10/4", day(2026, 10, 4), inches, []units.Length{inch(5, 2)}, "C007"},
	{"date of 12/4", day(2026, 12, 4), inches, []units.Length{inch(3, 1)}, "C007"},
	{"date of 3/4", day(2026, 3, 4), inches, []units.Length{inch(3, 4)}, "C007"},
	{"date of 3/4, day first", day(2026, 4, 3), inches, []units.Length{inch(3, 4)}, "C007"},
	{"date of 1/2", day(2026, 1, 2), inches, []units.Length{inch(1, 2)}, "C007"},
	{"date of 1/4", day(2026, 1, 4), inches, []units.Length{inch(1, 4)}, "C007"},
	{"date of 3/8", day(2026, 3, 8), inches, []units.Length{inch(3, 8)}, "C007"},
	{"date of 5/8", day(2026, 5, 8), inches, []units.Length{inch(5, 8)}, "C007"},
	{"date of 7/8", day(2026, 7, 8), inches, []units.Length{inch(7, 8)}, "C007"},
	{"date of 11/16", day(2026, 11, 16), inches, []units.Length{inch(11, 16)}, "C007"},
	{"date in a metric column", day(2026, 5, 4), mm, []units.Length{inch(5, 4)}, "C007"},
	{"day and month as CSV keeps them", text("4-May"), inches, []units.Length{inch(5, 4)}, "C007"},
	{"day and month, no size", text("24-Nov"), inches, nil, "C006"},
	{"date that is no size", day(2026, 11, 24), inches, nil, "C006"},
	{"date of 9/9", day(2026, 9, 9), inches, nil, "C006"},
	{"1932, from 1/32", day(1932, 1, 1), inches, nil, "C006"},
	{"1932, from 2/32", day(1932, 2, 1), inches, nil, "C006"},
	{"date with a time", num(serial(2026, 5, 4)+".5", sheet.Date), inches, nil, "C006"},
	{"date and time format", num(serial(2026, 5, 4), sheet.DateTime), inches, nil, "C006"},
	{"clock", num("0.25", sheet.Clock), inches, nil, "C006"},
	{"29 February 1900", num("60", sheet.Date), inches, nil, "C006"},
	{"month and year format", sheet.Cell{Kind: sheet.Number, Text: serial(2026, 1, 4), Format: sheet.Date, More: &sheet.More{FormatCode: "mmm-yy"}}, inches, nil, "C006"},
	{"day and month format", sheet.Cell{Kind: sheet.Number, Text: serial(2026, 5, 4), Format: sheet.Date, More: &sheet.More{FormatCode: "d-mmm"}}, inches, []units.Length{inch(5, 4)}, "C007"},
}

func TestThickness(t *testing.T) {
	for _, k := range thicknessCases {
		t.Run(k.name, func(t *testing.T) { k.check(t, "Thickness", Thickness) })
	}
}

// TestThickness1904: the day number of the other system is read back too; 1462 days lie between the two starts.
func TestThickness1904(t *testing.T) {
	got, ps := Thickness(num(fmt.Sprint(46146-1462), sheet.Date), Context{Default: Inch, Date1904: true})
	if len(got) != 1 || got[0] != inch(5, 4) {
		t.Errorf("Thickness of 4 May 2026 in the 1904 system: got %v %v, want 5/4", got, ps)
	}
}

// TestUsualSizesDoNotClash: no date can be two usual sizes that differ, so reading one back never chooses.
func TestUsualSizesDoNotClash(t *testing.T) {
	for m := 1; m <= 12; m++ {
		for d := 1; d <= 31; d++ {
			if m != d && usualSize(m, d) && usualSize(d, m) {
				t.Errorf("%d/%d and %d/%d are both usual sizes", m, d, d, m)
			}
		}
	}
}
