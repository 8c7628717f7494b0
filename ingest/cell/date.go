package cell

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

const dateHint = "write it as 2026-11-24 or 24 Nov 2026"

// The years taken as dates of a mill's records.
const firstYear, lastYear = 1950, 2100

var months = map[string]time.Month{
	"jan": 1, "january": 1, "feb": 2, "february": 2, "mar": 3, "march": 3, "apr": 4, "april": 4, "may": 5, "jun": 6, "june": 6,
	"jul": 7, "july": 7, "aug": 8, "august": 8, "sep": 9, "sept": 9, "september": 9, "oct": 10, "october": 10,
	"nov": 11, "november": 11, "dec": 12, "december": 12,
}

var weekdays = map[string]time.Weekday{
	"sun": 0, "sunday": 0, "mon": 1, "monday": 1, "tue": 2, "tues": 2, "tuesday": 2, "wed": 3, "weds": 3, "wednesday": 3,
	"thu": 4, "thur": 4, "thurs": 4, "thursday": 4, "fri": 5, "friday": 5, "sat": 6, "saturday": 6,
}

var (
	clockBehind = regexp.MustCompile(`^(.*?\S)(?:t| |, | at )(\d{1,2})(?::(\d{2})(?::(\d{2})(?:\.\d{1,6})?)?)? ?(am|pm|a\.m\.|p\.m\.)?z?$`)
	isoForm     = regexp.MustCompile(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$`)
	isoBasic    = regexp.MustCompile(`^(19|20)\d{6}$`)
	threeForm   = regexp.MustCompile(`^(\d{1,2}) ?([-/.]) ?(\d{1,2}) ?([-/.]) ?(\d{2}|\d{4})$`)
	twoForm     = regexp.MustCompile(`^(\d{1,2})([-/.])(\d{1,2})\.?$`)
	dayMonth    = regexp.MustCompile(`^(\d{1,2})(?:st|nd|rd|th)?[ ./-]*(?:of )?([a-z]{3,}?)\.?(?:[ ,./-]*(\d{4})|[ ,./-]+('?\d{2}))?$`)
	monthDay    = regexp.MustCompile(`^([a-z]{3,})\.?([ ./-]*)(\d{1,2})(?:st|nd|rd|th)?(?:[ ,./-]+(\d{4}|'?\d{2}))?$`)
	yearMonth   = regexp.MustCompile(`^(\d{4})[ -/.]([a-z]{3,})\.?[ -/.](\d{1,2})$`)
	bareNumber  = regexp.MustCompile(`^\d+(\.\d+)?$`)
	dayName3    = regexp.MustCompile(`^([a-z]+)\.?,? +`)
)

// Date reads a date, with its clock time where one is given, as a time in UTC. Dates without a year take Context.Year;
// dates whose order of day and month is open take Context.DayFirst; if neither is settled that is a problem.
func Date(c sheet.Cell, x Context) (time.Time, []Problem) {
	if skip, ps := unread(c); skip {
		return time.Time{}, ps
	}
	if p := uncalculated(c); p != nil {
		return time.Time{}, list(p)
	}
	unlike := list(fault(finding.CellDate, dateHint, "%s can't be read as a date", stands(c, x)))
	var t time.Time
	var p *Problem
	switch c.Kind {
	case sheet.Number:
		t, p = numberDate(c, x)
	case sheet.Text:
		t, p = textDate(c, x)
	default:
		return time.Time{}, unlike
	}
	switch {
	case p != nil:
		return time.Time{}, list(p)
	case t.IsZero():
		return time.Time{}, unlike
	case t.Year() < firstYear || t.Year() > lastYear:
		return time.Time{}, list(fault(finding.CellOutOfRange, "look at the year: "+dateHint, "%s is not in the years %d to %d", stands(c, x), firstYear, lastYear))
	}
	return t, nil
}

// numberDate reads a number cell. It returns the zero time when that is no date.
func numberDate(c sheet.Cell, x Context) (time.Time, *Problem) {
	v, ok := stored(c)
	if !ok {
		return time.Time{}, storedProblem(c)
	}
	switch c.Format {
	case sheet.Date, sheet.DateTime:
		t, ok := serialTime(v, x.Date1904)
		if !ok {
			return time.Time{}, fault(finding.CellDate, dateHint, "the day number %s is no date", quote(c.Text))
		}
		return t, nil
	case sheet.Clock:
		return time.Time{}, nil
	}
	if s := digits(v); isoBasic.MatchString(s) {
		return isoBasicDate(s), nil
	}
	return time.Time{}, dayNumber(c, x)
}

func dayNumber(c sheet.Cell, x Context) *Problem {
	return fault(finding.CellDayNumber, "format the cell as a date, or "+dateHint,
		"%s is a bare number and not a date; it may be the count of days a spreadsheet keeps", stands(c, x))
}

func isoBasicDate(s string) time.Time {
	y, _ := strconv.Atoi(s[:4])
	m, _ := strconv.Atoi(s[4:6])
	d, _ := strconv.Atoi(s[6:])
	return calendar(y, m, d)
}

// calendar gives a date that the calendar has, or the zero time.
func calendar(y, m, d int) time.Time {
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if t.Year() != y || int(t.Month()) != m || t.Day() != d {
		return time.Time{}
	}
	return t
}

// textDate reads a written date. It returns the zero time when that is no date.
func textDate(c sheet.Cell, x Context) (time.Time, *Problem) {
	text := strings.TrimPrefix(clean(c.Text), "'")
	if bareNumber.MatchString(text) {
		if isoBasic.MatchString(text) {
			return isoBasicDate(text), nil
		}
		if !twoForm.MatchString(text) {
			return time.Time{}, dayNumber(c, x)
		}
	}
	day, hasWeekday := time.Sunday, false
	if m := dayName3.FindStringSubmatch(text); m != nil {
		if day, hasWeekday = weekdays[m[1]]; hasWeekday {
			text = text[len(m[0]):]
		}
	}
	t, p := writtenDate(text, c, x)
	if p == nil && t.IsZero() {
		if m := clockBehind.FindStringSubmatch(text); m != nil && (m[3] != "" || m[5] != "") {
			clock, ok := clockTime(m[2], m[3], m[4], m[5])
			if !ok {
				return time.Time{}, nil
			}
			if t, p = writtenDate(strings.TrimRight(m[1], ", "), c, x); p == nil && !t.IsZero() {
				t = t.Add(clock)
			}
		}
	}
	if p == nil && !t.IsZero() && hasWeekday && t.Weekday() != day {
		return time.Time{}, fault(finding.CellDate, dateHint, "%s names a weekday that does not fit: %s is a %s",
			stands(c, x), t.Format("2 Jan 2006"), t.Weekday())
	}
	return t, p
}

func clockTime(hours, minutes, seconds, half string) (time.Duration, bool) {
	h, _ := strconv.Atoi(hours)
	m, _ := strconv.Atoi(minutes)
	s, _ := strconv.Atoi(seconds)
	if half != "" {
		if h < 1 || h > 12 {
			return 0, false
		}
		if h %= 12; half[0] == 'p' {
			h += 12
		}
	}
	return time.Duration(h)*time.Hour + time.Duration(m)*time.Minute + time.Duration(s)*time.Second, h < 24 && m < 60 && s < 60
}

// writtenDate reads a date without its clock time. It returns the zero time when that is no date.
func writtenDate(text string, c sheet.Cell, x Context) (time.Time, *Problem) {
	if m := isoForm.FindStringSubmatch(text); m != nil {
		return calendar(number(m[1]), number(m[2]), number(m[3])), nil
	}
	if m := yearMonth.FindStringSubmatch(text); m != nil {
		return calendar(number(m[1]), int(months[m[2]]), number(m[3])), nil
	}
	if m := threeForm.FindStringSubmatch(text); m != nil && m[2] == m[4] {
		return numericDate(number(m[1]), number(m[3]), m[5], c, x)
	}
	if m := twoForm.FindStringSubmatch(text); m != nil && (m[2] != "." || strings.HasSuffix(text, ".")) {
		return numericDate(number(m[1]), number(m[3]), "", c, x)
	}
	var d, month int
	year := ""
	if m := dayMonth.FindStringSubmatch(text); m != nil {
		d, month, year = number(m[1]), int(months[m[2]]), m[3]+m[4]
	} else if m := monthDay.FindStringSubmatch(text); m != nil {
		d, month, year = number(m[3]), int(months[m[1]]), m[4]
		// A spreadsheet writes November 2024 as Nov-24; only a space alone makes it a day.
		if year == "" && month != 0 && m[2] != " " {
			return time.Time{}, fault(finding.CellDate, dateHint, "%s may be a day or a month with its year", stands(c, x))
		}
	}
	if month == 0 {
		return time.Time{}, nil
	}
	y, p := yearOf(year, c, x)
	if p != nil {
		return time.Time{}, p
	}
	return calendar(y, month, d), nil
}

func number(s string) int { n, _ := strconv.Atoi(s); return n }

// yearOf gives the year written, two digits meaning this century, or the one the file settles.
func yearOf(s string, c sheet.Cell, x Context) (int, *Problem) {
	s = strings.TrimPrefix(s, "'")
	switch {
	case len(s) == 2:
		return 2000 + number(s), nil
	case s != "":
		return number(s), nil
	case x.Year != 0:
		return x.Year, nil
	}
	return 0, fault(finding.CellNoYear, "write the year too: "+dateHint, "%s has no year, and the file does not settle it", stands(c, x))
}

// numericDate reads a date of figures alone, a and b being its first two.
func numericDate(a, b int, year string, c sheet.Cell, x Context) (time.Time, *Problem) {
	if a < 1 || b < 1 || a > 31 || b > 31 || a > 12 && b > 12 {
		return time.Time{}, nil
	}
	order := x.DayFirst
	// 26/11/24 may begin with its year unless the file as a whole begins with the day.
	yearFirst := len(year) == 2 && a > 12 && number(year) >= 1 && number(year) <= 31 && order != DayFirst
	switch {
	case a > 12:
		order = DayFirst
	case b > 12:
		order = MonthFirst
	case a == b && order == OrderUnknown && len(year) != 2:
		order = DayFirst // 11/11/2026 reads the same both ways
	}
	if yearFirst || order == OrderUnknown {
		return time.Time{}, fault(finding.CellDateOrder, dateHint, "it can't be told which figure of %s is the day", stands(c, x))
	}
	y, p := yearOf(year, c, x)
	if p != nil {
		return time.Time{}, p
	}
	if order == DayFirst {
		a, b = b, a
	}
	return calendar(y, a, b), nil
}

// DateOrder says which order of day and month the written dates of a file settle: a figure of 13 to 31 in the first or
// second place. Where dates contradict one another, or none settles it, the order is unknown. Date-styled cells have no
// say: a program stored them, and their writing is not kept.
func DateOrder(cells []sheet.Cell) Order {
	var first, second bool
	for _, c := range cells {
		if c.Kind != sheet.Text {
			continue
		}
		text := strings.TrimPrefix(clean(c.Text), "'")
		if m := dayName3.FindStringSubmatch(text); m != nil {
			text = text[len(m[0]):]
		}
		if m := clockBehind.FindStringSubmatch(text); m != nil && (m[3] != "" || m[5] != "") {
			text = m[1]
		}
		a, b := 0, 0
		if m := threeForm.FindStringSubmatch(text); m != nil && m[2] == m[4] {
			a, b = number(m[1]), number(m[3])
		} else if m := twoForm.FindStringSubmatch(text); m != nil && m[2] != "." {
			a, b = number(m[1]), number(m[3])
		}
		if a < 1 || b < 1 || a > 31 || b > 31 || a > 12 && b > 12 {
			continue
		}
		first, second = first || a > 12, second || b > 12
	}
	switch {
	case first && !second:
		return DayFirst
	case second && !first:
		return MonthFirst
	}
	return OrderUnknown
}
