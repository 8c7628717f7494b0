package xlsx

import (
	"testing"

	"drytally/ingest/sheet"
)

func TestFormat(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		code string
		want sheet.Format
	}{
		{"", sheet.General}, {"General", sheet.General}, {"GENERAL", sheet.General}, {`General" in"`, sheet.General},
		{"0", sheet.Decimal}, {"0.00", sheet.Decimal}, {"#,##0.00", sheet.Decimal}, {"0.00E+00", sheet.Decimal}, {"##0.0E+0", sheet.Decimal},
		{`"$"#,##0_);[Red]("$"#,##0)`, sheet.Decimal}, {`[$€-407]#,##0.00`, sheet.Decimal}, {`0.0" mm"`, sheet.Decimal}, {`0.0\ \m\m`, sheet.Decimal},
		{`0 "days/hour"`, sheet.Decimal}, {`0 mm`, sheet.Decimal}, {`0.000 [Red]`, sheet.Decimal}, {`"h"0`, sheet.Decimal}, {`0_d`, sheet.Decimal}, {`0*d`, sheet.Decimal},
		{`0"%"`, sheet.Decimal}, {`0\%`, sheet.Decimal}, {`0"/"0`, sheet.Decimal}, {";;;", sheet.General},
		{"0%", sheet.Percent}, {"0.00%", sheet.Percent}, {`0.0\ %`, sheet.Percent}, {"[Red]0%", sheet.Percent},
		{"# ?/?", sheet.Fraction}, {"# ??/16", sheet.Fraction}, {"??/??", sheet.Fraction}, {`# ?/8"in"`, sheet.Fraction},
		{"mm-dd-yy", sheet.Date}, {"d-mmm", sheet.Date}, {"mmm-yy", sheet.Date}, {"yyyy/m/d", sheet.Date}, {"dddd", sheet.Date}, {"m", sheet.Date}, {"mm", sheet.Date},
		{"mmmm", sheet.Date}, {"[$-409]d\\-mmm;@", sheet.Date}, {`[$-F800]dddd\,\ mmmm\ dd\,\ yyyy`, sheet.Date}, {"[$-411]ggge\"年\"m\"月\"", sheet.Date}, {`yyyy"m"`, sheet.Date},
		{"m/d/yy h:mm", sheet.DateTime}, {"yyyy-mm-dd hh:mm:ss", sheet.DateTime}, {"yyyy-mm-dd\\Thh:mm:ss.000", sheet.DateTime}, {"d h AM/PM", sheet.DateTime},
		{"h:mm", sheet.Clock}, {"h:mm AM/PM", sheet.Clock}, {"mm:ss", sheet.Clock}, {"mm:ss.0", sheet.Clock}, {"[h]:mm:ss", sheet.Clock}, {"[mm]:ss", sheet.Clock},
		{"[ss].00", sheet.Clock}, {"h A/P", sheet.Clock}, {"[$-F400]h:mm:ss AM/PM", sheet.Clock}, {"s", sheet.Clock}, {"[h]", sheet.Clock},
		{"@", sheet.AsText}, {`"a"@`, sheet.AsText},
	} {
		if y := newStyle(c.code); y.format != c.want {
			t.Errorf("got format %d for %q, want %d", y.format, c.code, c.want)
		}
	}
}

// TestFormatOfValue reads codes whose sections show numbers in different ways.
func TestFormatOfValue(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		code string
		v    float64
		want sheet.Format
	}{
		{"[<1]0.0%;0.0", 0.075, sheet.Percent}, {"[<1]0.0%;0.0", 7.5, sheet.Decimal},
		{"[>=1]0.0;0.0%", 0.075, sheet.Percent}, {"[>=1]0.0;0.0%", 7.5, sheet.Decimal},
		{"0%;0", 1, sheet.Percent}, {"0%;0", 0, sheet.Percent}, {"0%;0", -1, sheet.Decimal},
		{"0%;0;h:mm", 0, sheet.Clock}, {"0%;0;h:mm", -2, sheet.Decimal}, {"0%;0;h:mm;@", 2, sheet.Percent},
		{"d-mmm;@", -1, sheet.Date}, {"0%;0;@", -1, sheet.Decimal}, {"0%;0;@", 0, sheet.Percent},
		{`0%;"a;b"0`, -1, sheet.Decimal}, {`[=5]0%;[<>6]0;m/d`, 5, sheet.Percent}, {`[=5]0%;[<>6]0;m/d`, 7, sheet.Decimal}, {`[=5]0%;[<>6]0;m/d`, 6, sheet.Date},
		{"[<=1]0%;[>2]0;# ?/?", 1, sheet.Percent}, {"[<=1]0%;[>2]0;# ?/?", 3, sheet.Decimal}, {"[<=1]0%;[>2]0;# ?/?", 2, sheet.Fraction},
	} {
		y := newStyle(c.code)
		if got := y.of(c.v); got != c.want {
			t.Errorf("got format %d for %v in %q, want %d", got, c.v, c.code, c.want)
		}
	}
}

// TestBuiltinFormats checks what each number format that is not written out does to a number.
func TestBuiltinFormats(t *testing.T) {
	t.Parallel()
	want := map[int]sheet.Format{0: sheet.General, 9: sheet.Percent, 10: sheet.Percent, 12: sheet.Fraction, 13: sheet.Fraction, 22: sheet.DateTime, 49: sheet.AsText}
	for _, id := range []int{14, 15, 16, 17, 27, 28, 29, 30, 31, 36, 50, 51, 52, 53, 54, 55, 56, 57, 58} {
		want[id] = sheet.Date
	}
	for _, id := range []int{18, 19, 20, 21, 32, 33, 34, 35, 45, 46, 47} {
		want[id] = sheet.Clock
	}
	for _, id := range []int{1, 2, 3, 4, 5, 6, 7, 8, 11, 37, 38, 39, 40, 41, 42, 43, 44, 48} {
		want[id] = sheet.Decimal
	}
	if len(want) != len(builtin) {
		t.Errorf("got %d formats, want %d", len(builtin), len(want))
	}
	for id, code := range builtin {
		if got := newStyle(code).format; got != want[id] {
			t.Errorf("got format %d for number %d (%q), want %d", got, id, code, want[id])
		}
	}
}
