package cell

import (
	"fmt"
	"testing"
	"time"

	"drytally/ingest/sheet"
)

func TestDate(t *testing.T) {
	at := func(y, m, d int, clock ...int) time.Time {
		clock = append(clock, 0, 0, 0)
		return time.Date(y, time.Month(m), d, clock[0], clock[1], clock[2], 0, time.UTC)
	}
	nov24 := at(2026, 11, 24)
	var x Context
	year := Context{Year: 2026}
	american, european := Context{DayFirst: MonthFirst}, Context{DayFirst: DayFirst}
	for _, k := range []struct {
		name  string
		cell  sheet.Cell
		x     Context
		want  time.Time
		codes string
	}{
		{"serial", day(2026, 11, 24), x, nov24, ""},
		{"serial with time", num("46350.645833333336", sheet.DateTime), x, at(2026, 11, 24, 15, 30), ""},
		{"serial of 1904", num(fmt.Sprint(46350-1462), sheet.Date), Context{Date1904: true}, nov24, ""},
		{"iso", text("2026-11-24"), x, nov24, ""},
		{"iso with slashes", text("2026/11/24"), x, nov24, ""},
		{"iso without marks", text("20261124"), x, nov24, ""},
		{"iso without marks as a number", num("20261124", sheet.General), x, nov24, ""},
		{"iso with time", text("2026-11-14 15:30"), x, at(2026, 11, 14, 15, 30), ""},
		{"iso with T", text("2026-11-14T15:30:05Z"), x, at(2026, 11, 14, 15, 30, 5), ""},
		{"month first, settled by itself", text("11/24/2026"), x, nov24, ""},
		{"month first, two-digit year", text("11/24/26"), x, nov24, ""},
		{"month first with time", text("11/14/2026 3:30 pm"), x, at(2026, 11, 14, 15, 30), ""},
		{"time joined to pm", text("11/14/2026 3:30PM"), x, at(2026, 11, 14, 15, 30), ""},
		{"full hour", text("11/14/2026, 3 pm"), x, at(2026, 11, 14, 15), ""},
		{"at", text("Nov 14, 2026 at 12:05 a.m."), x, at(2026, 11, 14, 0, 5), ""},
		{"noon", text("2026-11-14 12:00 pm"), x, at(2026, 11, 14, 12), ""},
		{"day first with points", text("24.11.2026"), x, nov24, ""},
		{"day first with hyphens", text("24-11-2026"), x, nov24, ""},
		{"spaced points", text("24. 11. 2026"), x, nov24, ""},
		{"same day and month", text("11/11/2026"), x, at(2026, 11, 11), ""},
		{"day and month name", text("24 Nov 2026"), x, nov24, ""},
		{"hyphens and name", text("24-Nov-2026"), x, nov24, ""},
		{"hyphens, name, two-digit year", text("24-Nov-26"), x, nov24, ""},
		{"name first", text("Nov 24, 2026"), x, nov24, ""},
		{"full name", text("November 24th, 2026"), x, nov24, ""},
		{"point behind the name", text("Nov. 24 2026"), x, nov24, ""},
		{"year, name, day", text("2026-Nov-24"), x, nov24, ""},
		{"the day of", text("24th of November 2026"), x, nov24, ""},
		{"Sept", text("Sept 3, 2026"), x, at(2026, 9, 3), ""},
		{"weekday", text("Tue, Nov 24, 2026"), x, nov24, ""},
		{"weekday in full", text("Tuesday 2026-11-24"), x, nov24, ""},
		{"year apostrophe", text("Nov 24 '26"), x, nov24, ""},
		{"settled month first", text("11/10/2026"), american, at(2026, 11, 10), ""},
		{"settled day first", text("11/10/2026"), european, at(2026, 10, 11), ""},
		{"settled day first, two-digit year", text("11.10.26"), european, at(2026, 10, 11), ""},
		{"day first and a two-digit year that could be a day", text("26/11/24"), european, at(2024, 11, 26), ""},
		{"no year, settled", text("Nov 24"), year, nov24, ""},
		{"day first, no year, settled", text("24 Nov"), year, nov24, ""},
		{"figures, no year, settled", text("11/24"), year, nov24, ""},
		{"hyphen, no year, settled", text("24-Nov"), year, nov24, ""},
		{"full-width", text("２０２６－１１－２４"), x, nov24, ""},
		{"joined", text("24nov2026"), x, nov24, ""},
		{"leap day", text("29 Feb 2024"), x, at(2024, 2, 29), ""},

		{"order open", text("11/10/2026"), x, time.Time{}, "C020"},
		{"order open with points", text("11.10.2026"), x, time.Time{}, "C020"},
		{"three short figures", text("10/11/12"), x, time.Time{}, "C020"},
		{"same day and month, short year", text("11/11/12"), x, time.Time{}, "C020"},
		{"year or day first", text("26/11/24"), x, time.Time{}, "C020"},
		{"order open, no year", text("11/10"), year, time.Time{}, "C020"},
		{"no year", text("Nov 24"), x, time.Time{}, "C021"},
		{"no year in figures", text("11/24"), x, time.Time{}, "C021"},
		{"bare serial", num("45992", sheet.General), x, time.Time{}, "C022"},
		{"bare serial with time", num("45992.5", sheet.Decimal), x, time.Time{}, "C022"},
		{"bare serial as text", text("45992"), x, time.Time{}, "C022"},
		{"year alone", text("2026"), x, time.Time{}, "C022"},
		{"month and year", text("Nov 2026"), x, time.Time{}, "C019"},
		{"month and day or year, joined", text("nov24"), year, time.Time{}, "C019"},
		{"month and day or year, slash", text("Nov/24"), year, time.Time{}, "C019"},
		{"month and day or year", text("Nov-24"), year, time.Time{}, "C019"},
		{"no such day", text("2026-02-30"), x, time.Time{}, "C019"},
		{"no leap day", text("29 Feb"), year, time.Time{}, "C019"},
		{"no such month", text("2026-13-01"), x, time.Time{}, "C019"},
		{"both over twelve", text("24/13/2026"), x, time.Time{}, "C019"},
		{"mixed marks", text("24/11-2026"), x, time.Time{}, "C019"},
		{"wrong weekday", text("Mon Nov 24 2026"), x, time.Time{}, "C019"},
		{"yesterday", text("yesterday"), x, time.Time{}, "C019"},
		{"other language", text("24 novembre 2026"), x, time.Time{}, "C019"},
		{"time alone", text("15:30"), x, time.Time{}, "C019"},
		{"no such time", text("2026-11-24 25:00"), x, time.Time{}, "C019"},
		{"no such hour", text("2026-11-24 13:00 pm"), x, time.Time{}, "C019"},
		{"clock", num("0.5", sheet.Clock), x, time.Time{}, "C019"},
		{"29 February 1900", num("60", sheet.Date), x, time.Time{}, "C019"},
		{"negative serial", num("-1", sheet.Date), x, time.Time{}, "C019"},
		{"serial beyond the system", num("99999999", sheet.Date), x, time.Time{}, "C019"},
		{"too early", num("100", sheet.Date), x, time.Time{}, "C018"},
		{"too early in writing", text("1826-11-24"), x, time.Time{}, "C018"},
		{"two dates", text("2026-11-24 / 2026-11-25"), x, time.Time{}, "C019"},
	} {
		t.Run(k.name, func(t *testing.T) {
			got, ps := Date(k.cell, k.x)
			if c := codes(t, ps); !got.Equal(k.want) || c != k.codes {
				t.Errorf("Date(%q): got %v %q, want %v %q; %v", k.cell.Text, got, c, k.want, k.codes, ps)
			}
		})
	}
}

// TestSerialLeapYearSlip: the 1900 system counts 1 as 1 January 1900, 59 as 28 February, 60 as the day that never was
// and 61 as 1 March (ECMA-376 Part 1, 18.17.4.1; memory).
func TestSerialLeapYearSlip(t *testing.T) {
	for n, want := range map[int64]string{1: "1900-01-01", 59: "1900-02-28", 61: "1900-03-01"} {
		got, ok := serialTime(rat(n), false)
		if !ok || got.Format(time.DateOnly) != want {
			t.Errorf("serialTime(%d): got %v %v, want %s", n, got, ok, want)
		}
	}
	for _, n := range []int64{0, 60, -1} {
		if got, ok := serialTime(rat(n), false); ok {
			t.Errorf("serialTime(%d): got %v, want none", n, got)
		}
	}
	if got, ok := serialTime(rat(0), true); !ok || got.Format(time.DateOnly) != "1904-01-01" {
		t.Errorf("serialTime(0) of 1904: got %v %v, want 1904-01-01", got, ok)
	}
}

func TestDateOrder(t *testing.T) {
	for _, k := range []struct {
		name  string
		dates []string
		want  Order
	}{
		{"nothing", nil, OrderUnknown},
		{"open", []string{"11/10/2026", "3/4/2026"}, OrderUnknown},
		{"month first", []string{"11/10/2026", "11/24/2026"}, MonthFirst},
		{"day first", []string{"11/10/2026", "24/11/2026"}, DayFirst},
		{"day first with points and time", []string{"24.11.2026 15:30"}, DayFirst},
		{"without years", []string{"11/24"}, MonthFirst},
		{"weekday before", []string{"Tue 24/11/2026"}, DayFirst},
		{"contradiction", []string{"11/24/2026", "24/11/2026"}, OrderUnknown},
		{"iso has no say", []string{"2026-11-24", "24 Nov 2026", "Nov 24"}, OrderUnknown},
		{"no date", []string{"24/13/2026", "hello", "31", "32/1/2026"}, OrderUnknown},
	} {
		var cells []sheet.Cell
		for _, s := range k.dates {
			cells = append(cells, text(s))
		}
		cells = append(cells, day(2026, 1, 24), sheet.Cell{})
		if got := DateOrder(cells); got != k.want {
			t.Errorf("%s: DateOrder(%q): got %d, want %d", k.name, k.dates, got, k.want)
		}
	}
}
