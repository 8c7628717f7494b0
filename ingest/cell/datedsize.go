package cell

import (
	"fmt"
	"math/big"
	"regexp"
	"strconv"
	"strings"
	"time"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// The years in which a size typed into a spreadsheet can have become a date. The program gives the year of typing; 3/32
// becomes March 1932 and is not read back.
const firstTyped, lastTyped = 1990, 2100

// usualSize says whether num/den is a thickness as the trade writes it: quarters from 4/4 on, or a proper fraction of
// an inch in lowest terms.
func usualSize(num, den int) bool {
	if den == 4 && num >= 4 {
		return true
	}
	switch den {
	case 2, 4, 8, 16:
		return num < den && num%2 == 1
	}
	return false
}

var dayMonthText = regexp.MustCompile(`^(\d{1,2})-([a-z]{3,})$`)

// datedSize reads back a size that a spreadsheet turned into a date: a date-styled number, or the text 4-May that a CSV
// file keeps of one. The problem is nil when the cell is none of these; it is a note beside a size and an error beside 0.
func datedSize(c sheet.Cell, x Context) (units.Length, *Problem) {
	var day, month int
	refuse := func() *Problem {
		return fault(finding.CellDated, "set the cell to text and write the size again: "+lengthHint,
			"this cell holds %s, a date or time, and no usual size can be read back from it", stands(c, x))
	}
	switch {
	case dated(c):
		v, ok := stored(c)
		if !ok {
			return 0, storedProblem(c)
		}
		code := strings.ToLower(c.FormatCode())
		monthYear := strings.Contains(code, "y") && !strings.Contains(code, "d") && code != ""
		if c.Format != sheet.Date || !v.IsInt() || monthYear {
			return 0, refuse()
		}
		t, ok := serialTime(v, x.Date1904)
		if !ok || t.Year() < firstTyped || t.Year() > lastTyped {
			return 0, refuse()
		}
		day, month = t.Day(), int(t.Month())
	case c.Kind == sheet.Text:
		m := dayMonthText.FindStringSubmatch(clean(c.Text))
		if m == nil || months[m[2]] == 0 {
			return 0, nil
		}
		day, _ = strconv.Atoi(m[1])
		month = int(months[m[2]])
	default:
		return 0, nil
	}
	monthDay, dayMonth := usualSize(month, day), usualSize(day, month)
	if monthDay == dayMonth && day != month || !monthDay && !dayMonth {
		return 0, refuse()
	}
	num, den := month, day
	if !monthDay {
		num, den = day, month
	}
	l, p := lengthOf(big.NewRat(int64(num), int64(den)), Inch, stands(c, x), x)
	if p != nil {
		return 0, p
	}
	return l, fault(finding.CellReadBack, "nothing to do if that size is meant; setting the column to text keeps it from happening",
		"this cell holds %s, a date; it was read back as the size %d/%d", quote(dayName(day, month)), num, den)
}

// dayName writes a day as 4 May.
func dayName(day, month int) string { return fmt.Sprintf("%d %s", day, time.Month(month).String()[:3]) }
