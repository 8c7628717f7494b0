package cell

import (
	"math/big"
	"strconv"
	"strings"
	"time"

	"drytally/ingest/sheet"
)

const dayMilliseconds = 24 * 60 * 60 * 1000

// serialTime turns a spreadsheet's day number into a time, to the millisecond. Numbers of the 1900 system count a
// 29 February 1900 that never was: number 60 is refused, lower ones are a day later than the count from 30 December 1899
// (ECMA-376 Part 1, 18.17.4.1; memory). ok is false for numbers outside the system.
func serialTime(v *big.Rat, from1904 bool) (t time.Time, ok bool) {
	ms, ok := scaled(v, dayMilliseconds)
	// 2 958 465 is 31 December 9999, the last day of the system.
	if !ok || ms < 0 || ms >= 2958466*dayMilliseconds {
		return time.Time{}, false
	}
	day, rest := ms/dayMilliseconds, ms%dayMilliseconds
	start := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	switch {
	case from1904:
		start = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	case day == 60 || day == 0:
		return time.Time{}, false
	case day < 60:
		day++
	}
	return start.AddDate(0, 0, int(day)).Add(time.Duration(rest) * time.Millisecond), true
}

// shown gives a number cell as a person sees it, with no more digits than a spreadsheet keeps.
func shown(c sheet.Cell, x Context) string {
	v, ok := stored(c)
	if !ok {
		return strings.TrimSpace(c.Text)
	}
	switch c.Format {
	case sheet.Date, sheet.DateTime, sheet.Clock:
		if t, ok := serialTime(v, x.Date1904); ok && c.Format != sheet.Clock {
			if c.Format == sheet.Date && t.Equal(t.Truncate(24*time.Hour)) {
				return t.Format("2 Jan 2006")
			}
			return t.Format("2 Jan 2006 15:04")
		}
		if ms, ok := scaled(v, dayMilliseconds); ok && ms >= 0 && ms < dayMilliseconds {
			return time.UnixMilli(ms).UTC().Round(time.Minute).Format("15:04")
		}
	case sheet.Percent:
		return digits(new(big.Rat).Mul(v, rat(100))) + " %"
	case sheet.Fraction:
		if s := mixedNumber(v); s != "" {
			return s
		}
	case sheet.Decimal, sheet.General:
		if code := c.FormatCode(); len(code) > 1 && strings.Trim(code, "0") == "" && v.IsInt() && v.Sign() >= 0 {
			s := v.Num().String()
			return strings.Repeat("0", max(0, len(code)-len(s))) + s // 007 in the format 000
		}
	}
	return digits(v)
}

// digits writes a number with at most 15 significant digits, as many as spreadsheets show, and no needless zeros.
func digits(v *big.Rat) string {
	if v.IsInt() && len(v.Num().String()) <= 20 {
		return v.Num().String()
	}
	f, _ := strconv.ParseFloat(strconv.FormatFloat(float(v), 'g', 15, 64), 64)
	return strconv.FormatFloat(f, 'f', -1, 64)
}

// mixedNumber writes 64ths as whole number and fraction, 11 3/8; it returns "" for anything else.
func mixedNumber(v *big.Rat) string {
	d := v.Denom()
	if v.Sign() < 0 || !d.IsInt64() || 64%d.Int64() != 0 || d.Int64() == 1 {
		return ""
	}
	whole, num := new(big.Int).QuoRem(v.Num(), d, new(big.Int))
	s := num.String() + "/" + d.String()
	if whole.Sign() > 0 {
		s = whole.String() + " " + s
	}
	return s
}
