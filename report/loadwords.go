package report

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/report/page"
	"drytally/templates"
)

// wording fills a wording of the templates: pairs of name and value follow its name.
func (j *job) wording(name string, with ...string) string {
	s := compute.Statement{Name: name, With: map[string]string{}}
	for i := 0; i+1 < len(with); i += 2 {
		s.With[with[i]] = with[i+1]
	}
	return j.say(s)
}

// allSaid writes statements in words.
func (j *job) allSaid(all []compute.Statement) []string {
	var out []string
	for _, s := range all {
		out = append(out, j.say(s))
	}
	return out
}

// sayShort writes a statement for a narrow column: with the ids of loads and sales cut where they are too long for one.
func (j *job) sayShort(s compute.Statement) string {
	for _, name := range []string{"load", "sale"} {
		if id := s.With[name]; shortID(id) != oneLine(id) {
			s.With = maps.Clone(s.With)
			s.With[name] = shortID(id)
		}
	}
	return j.say(s)
}

// shortened keeps the first most-1 words of a list that is longer than most, and counts the rest.
func shortened(all []string, most int) []string {
	if len(all) <= most {
		return all
	}
	return append(append([]string{}, all[:most-1]...), fmt.Sprintf("and %d more", len(all)-most+1))
}

// problem writes a finding for a paper: its cell, then what is wrong.
func problem(f finding.Finding) string {
	at := f.Place.Sheet
	if c := f.Place.Cell(); c != "" {
		at = joined("!", at, c)
	}
	s := joined(": ", at, f.Problem)
	if strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

// problems writes the findings of a severity.
func problems(all finding.List, of finding.Severity) []string {
	var out []string
	for _, f := range all {
		if f.Severity == of {
			out = append(out, problem(f))
		}
	}
	return out
}

// lastDay is the day a load's paper stands for: of the last reading, else out of the kiln, else into it.
func lastDay(l *compute.LoadResult) time.Time {
	for _, t := range []time.Time{l.LastReading, l.Load.DateOut, l.Load.DateIn} {
		if !t.IsZero() {
			return t
		}
	}
	return time.Time{}
}

func kilnDays(l *compute.Load) string {
	switch {
	case l.DateIn.IsZero():
		return "out " + date(l.DateOut)
	case l.DateOut.IsZero():
		return "since " + date(l.DateIn)
	}
	return span(l.DateIn, l.DateOut)
}

func measuredWords(l *compute.LoadResult) string {
	words := ""
	switch {
	case l.Measured == 0:
		return "none"
	case l.FirstReading.IsZero():
		words = fmt.Sprintf("%d, on a day the sheets don't say", l.Measured)
	default:
		words = fmt.Sprintf("%d, on %s", l.Measured, span(l.FirstReading, l.LastReading))
	}
	said := slices.ContainsFunc(l.Reasons, func(s compute.Statement) bool { return s.Name == "slow-places-missing" })
	if l.SlowMissing != "" && !said {
		words += "; too few in the " + l.SlowMissing
	}
	return words
}

// bandFact says what moisture the use asks for.
func bandFact(b compute.Band) page.Pair {
	asked := "not known"
	if b.Known {
		asked = bandWords(b)
	}
	if b.Known && b.Mean != 0 {
		asked += ", average " + b.Mean.String() + " %"
	}
	return page.Pair{Key: "Moisture asked for", Value: asked}
}

// bandSource says whose figure that is; empty when no one's.
func bandSource(b compute.Band) string {
	switch {
	case !b.Known:
		return ""
	case b.OwnLimit:
		return joined("; ", "the limit is the owner's own", lowerSource(b))
	case b.Source.Document != "":
		return b.Source.String() + sourceUse(b)
	}
	return ""
}

// fromMemory reports whether a figure of the band was recalled and not read in its table.
func fromMemory(b compute.Band) bool {
	return b.Known && (b.Source.Status == source.Memory || b.TableSource.Status == source.Memory && lowerSource(b) != "")
}

// lowerSource says where the low end and the average come from when the limit is the owner's.
func lowerSource(b compute.Band) string {
	if b.TableSource.Document == "" || b.Low == 0 && b.Mean == 0 {
		return ""
	}
	return "the rest is of " + b.TableSource.String() + ": " + b.Use
}

// solidWords writes a measured volume.
func (j *job) solidWords(thousandths int64) string { return j.solid(thousandths) + " as measured" }

// solid writes a number of thousandths of a cubic metre, for an owner of inches and feet in cubic feet first, to as many digits as
// the thousandths tell.
func (j *job) solid(thousandths int64) string {
	metres := fmt.Sprintf("%d.%03d m\u00b3", thousandths/1000, thousandths%1000)
	if j.system == units.Metric {
		return metres
	}
	return fmt.Sprintf("%.1f cubic feet (%s)", units.CubicFeet(1000*thousandths), metres)
}

// sourceUse names the row of the table, when the owner's word for the use is another.
func sourceUse(b compute.Band) string {
	if b.Use == "" || b.Source.Status == source.Owner {
		return ""
	}
	return ": " + b.Use
}

// bandWords writes the range of single boards.
func bandWords(b compute.Band) string {
	if b.Low == 0 {
		return "up to " + b.High.String() + " %"
	}
	return b.Low.String() + " to " + b.High.String() + " %"
}

// estimateWords writes an estimate with its range.
func estimateWords(e units.Estimate) string {
	s := e.Value.String() + " %"
	if e.Confidence > 0 {
		s += fmt.Sprintf(" (%s to %s %%, %s %% range)", e.Low, e.High, strconv.FormatFloat(e.Confidence*100, 'f', -1, 64))
	}
	return s
}

// footageWords writes footage with its rule.
func footageWords(f compute.Footage) string {
	if !f.Known {
		return "not known, by " + ruleWords(f.Rule)
	}
	return boardFeet(f.Hundredths) + " board feet by " + ruleWords(f.Rule)
}

// boardFeet writes an exact number of hundredths of board feet.
func boardFeet(hundredths int64) string {
	if hundredths%100 == 0 {
		return strconv.FormatInt(hundredths/100, 10)
	}
	return fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100)
}

// ruleWords names a footage rule on the papers for others.
func ruleWords(r compute.FootageRule) string {
	return [...]string{"the rule of its wood", "volume measure", "hardwood surface measure", "softwood nominal measure"}[r]
}

// lossWords writes the latest loss a day, beside the published safe rate unless LossSays has that.
func (j *job) lossWords(f compute.DaysToTarget) string {
	switch {
	case f.DailyLoss != 0 && f.SafeLoss != 0 && len(f.LossSays) == 0:
		return j.wording("load-loss-safe", "loss", f.DailyLoss.String(), "safe", f.SafeLoss.String(), "source", f.SafeLossSource.String())
	case f.DailyLoss != 0:
		return j.wording("load-loss", "loss", f.DailyLoss.String())
	}
	return ""
}

// weekWoods lists all woods of the week for the cautions.
func (j *job) weekWoods() []templates.Wood {
	var out []templates.Wood
	for _, s := range j.Species {
		out = append(out, cautionWood(s))
	}
	return out
}

// cautionWood is a wood as the cautions ask for it.
func cautionWood(s wood.Species) templates.Wood {
	return templates.Wood{Name: s.Name, Hardwood: s.Hardwood}
}

// woodsOf lists the woods of some boards for the cautions; fallback is the wood of their load.
func (j *job) woodsOf(boards []int, fallback wood.Species) []templates.Wood {
	var out []templates.Wood
	seen := map[string]bool{}
	add := func(s wood.Species) {
		if s.Name != "" && !seen[s.Name] {
			seen[s.Name] = true
			out = append(out, cautionWood(s))
		}
	}
	for _, at := range boards {
		add(j.Boards[at].Species)
	}
	if len(out) == 0 {
		add(fallback)
	}
	return out
}

// oneLine puts text of the sheets on one line.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
