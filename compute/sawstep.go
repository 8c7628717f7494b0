package compute

import (
	"math/big"
	"time"

	"drytally/compute/footage"
	"drytally/compute/price"
	"drytally/compute/units"
)

// StepResult is what a saw setting one step thicker takes of the logs, at the rate of the last week sawn. Known false: no row of
// the tally has a date, or there is none.
type StepResult struct {
	Known    bool
	Step     units.Length
	Kerf     units.Length
	From, To time.Time // days sawn
	Boards   int
	Week     int64    // hundredths of a board foot of log, of that week
	Month    int64    // of a month at that rate
	Share    units.MC // percent of what the boards take of the log with one saw cut each, to the tenth
	Says     Statement
}

// stepDays is the week the rate is taken of: the last day sawn and the six before.
const stepDays = 7

// weeksAMonth is 365.25 days over 12 months of 7 days.
var weeksAMonth = big.NewRat(36525, 8400)

// thickerStep computes what one more step of the saw takes.
func (x *index) thickerStep() {
	s := x.job.Settings
	var last time.Time
	for _, c := range x.job.Cuts {
		if c.Date.After(last) {
			last = c.Date
		}
	}
	if last.IsZero() {
		return
	}
	r := StepResult{Step: s.SawStep, Kerf: s.Kerf, To: day(last)}
	var boards []footage.Piece
	for _, c := range x.job.Cuts {
		if c.Date.IsZero() || day(last).Sub(day(c.Date)) >= stepDays*24*time.Hour {
			continue
		}
		if r.From.IsZero() || c.Date.Before(r.From) {
			r.From = day(c.Date)
		}
		r.Boards += c.Pieces
		boards = append(boards, footage.Piece{Thickness: c.Thickness, Width: c.Width, Length: c.Length, Count: c.Pieces})
	}
	slice, err := price.Thicker(boards, s.SawStep, s.Kerf)
	if err != nil {
		return
	}
	r.Known = true
	r.Week = slice.Feet.Hundredths()
	r.Month = footage.FeetOf(new(big.Rat).Mul(slice.Feet.Rat(), weeksAMonth)).Hundredths()
	share, _ := slice.Share.Float64()
	r.Share = units.PercentTenth(share * 100)
	r.Says = stated("saw-step", "step", s.System.Size(s.SawStep), "kerf", s.System.Size(s.Kerf), "boards", r.Boards, "from", dateOr(r.From), "to", dateOr(r.To),
		"share", r.Share, "week", feetHundredths(r.Week), "month", feetHundredths(r.Month))
	x.out.Step = r
}

// feetHundredths writes board feet as they are counted, so that price times footage comes to the amount printed beside them.
func feetHundredths(h int64) string {
	return new(big.Rat).SetFrac64(h, 100).FloatString(2)
}
