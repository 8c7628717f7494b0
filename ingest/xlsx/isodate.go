package xlsx

import (
	"math"
	"strconv"
	"strings"
	"time"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// isoDate reads a cell of type d, which writes a date or a time out (2024-03-05, 2024-03-05T14:30:00, 14:30). The cell
// becomes a day number in the workbook's own date system, as if it had been stored as one. When its style is none of a
// date, the way it is written says how it is shown.
func (g *grid) isoDate(cell *sheet.Cell, text string, name cellRef) error {
	serial, format, ok := isoSerial(text, g.book.out.Date1904)
	if !ok {
		return g.s.fault(finding.FileValue, "the cell %s holds %q, which is no date a workbook can hold", name, clip(text))
	}
	cell.Kind, cell.Number = sheet.Number, serial
	cell.Text = strconv.FormatFloat(serial, 'f', -1, 64)
	switch cell.Format {
	case sheet.Date, sheet.DateTime, sheet.Clock:
	default:
		cell.Format = format
	}
	return nil
}

const day = 24 * time.Hour

// isoSerial turns a written date into a day number. The system of 1900 counts a 29 February 1900 that never was, so
// its days before 1 March 1900 are one less than the count from 30 December 1899 (ECMA-376 Part 1, 18.17.4.1; memory).
func isoSerial(text string, from1904 bool) (float64, sheet.Format, bool) {
	text = strings.TrimSuffix(text, "Z")
	text = strings.TrimPrefix(text, "T")
	for _, layout := range []string{"15:04:05", "15:04"} {
		if t, err := time.Parse(layout, text); err == nil {
			return share(t), sheet.Clock, true
		}
	}
	for _, layout := range []string{"2006-01-02", "2006-01-02T15:04:05", "2006-01-02T15:04"} {
		t, err := time.Parse(layout, text)
		if err != nil {
			continue
		}
		format := sheet.DateTime
		if layout == "2006-01-02" {
			format = sheet.Date
		}
		start := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
		if from1904 {
			start = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
		}
		// Counted in seconds: a time.Duration ends after 292 years.
		days := math.Floor(float64(t.Unix()-start.Unix()) / day.Seconds())
		if !from1904 && t.Before(time.Date(1900, 3, 1, 0, 0, 0, 0, time.UTC)) {
			days--
		}
		if days < 0 || !from1904 && days < 1 {
			return 0, 0, false
		}
		return days + share(t), format, true
	}
	return 0, 0, false
}

// share is the part of the day that has gone by.
func share(t time.Time) float64 {
	gone := time.Duration(t.Hour())*time.Hour + time.Duration(t.Minute())*time.Minute +
		time.Duration(t.Second())*time.Second + time.Duration(t.Nanosecond())
	return float64(gone) / float64(day)
}
