package report

import (
	"fmt"
	"slices"

	"drytally/compute"
	"drytally/templates"
)

// verdictWords says plainly how a load stands, dry or not.
func (j *job) verdictWords(s *compute.SaleResult, l *compute.LoadResult) string {
	among := "" // whether any board to be taken out is known to be sold here
	if len(s.Boards) > 0 && !slices.ContainsFunc(s.Boards, func(at int) bool { return j.Boards[at].Over }) {
		among = "none"
	}
	with := []string{"dates", loadDays(l), "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N), "held", fmt.Sprint(len(l.HeldBack)), "among", among}
	switch {
	case l.Verdict == compute.DryForUse && !l.Withheld:
		return j.wording("statement-verdict-dry", with...)
	case l.Verdict == compute.DryButHeldBack && !l.Withheld:
		return j.wording("statement-verdict-held", with...)
	case l.Verdict == compute.NotDryYet:
		return j.wording("statement-verdict-not", with...)
	}
	return j.wording("statement-verdict-open", with...)
}

// loadDays writes the days of a load's readings.
func loadDays(l *compute.LoadResult) string {
	if l.FirstReading.IsZero() {
		return "a day the sheets don't say"
	}
	return span(l.FirstReading, l.LastReading)
}

// loadReadWords is what the load's readings say of boards without one of their own.
func (j *job) loadReadWords(l *compute.LoadResult) string {
	if l.Measured == 0 || !l.Mean.Known {
		return j.wording("statement-load-unread", "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N))
	}
	if l.SlowMissing != "" { // a mean of boards picked where it is easy says nothing of the others
		return j.wording("statement-load-uneven", "dates", loadDays(l), "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N), "places", l.SlowMissing)
	}
	return j.wording("statement-load-read", "dates", loadDays(l), "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N), "mean", estimateWords(l.Mean))
}

// notSaid lists what the paper doesn't say of these boards.
func (j *job) notSaid(s *compute.SaleResult) []string {
	var lines []string
	if n := len(s.Boards) - s.Measured; n > 0 {
		lines = append(lines, j.wording("statement-not-said-boards", "rest", fmt.Sprint(n)))
	}
	switch {
	case s.Measured == 0:
	case s.LastReading.IsZero():
		lines = append(lines, j.wording("statement-not-said-day"))
	default:
		lines = append(lines, j.wording("statement-not-said-later", "date", date(s.LastReading)))
	}
	return lines
}

// sayPlain says a statement as a buyer needs it, when there are such words.
func (j *job) sayPlain(n compute.Statement) string {
	if short := "statement-" + n.Name; templates.Has(short) {
		n.Name = short
	}
	return j.say(n)
}

// asking says whom to ask.
func (j *job) asking() string {
	if who := joined(", ", j.Job.Settings.MillName, j.Job.Settings.MillContact); who != "" {
		return j.wording("statement-ask", "who", who)
	}
	return j.wording("statement-ask-nobody")
}

// saleMethod says how the readings of the boards sold were corrected; of a sale that names none, those of its load.
func (j *job) saleMethod(s *compute.SaleResult) []string {
	var lines []string
	for _, m := range s.Methods {
		if len(s.Methods) > 1 {
			lines = append(lines, "Load "+shortID(m.Load)+".")
		}
		for _, n := range m.Says {
			switch n.Name {
			case "mean-of-readings", "readings-below", "readings-above": // the lead and the picture say it of these boards
			default:
				lines = append(lines, j.sayPlain(n))
			}
		}
	}
	return lines
}
