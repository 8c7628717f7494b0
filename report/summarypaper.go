package report

import (
	"fmt"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/report/page"
)

// summaryPaper makes the page the sawyer reads first: what to do now, the verdicts, what is wrong or doubtful in the sheets
// cell by cell, and what became of every row.
func (j *job) summaryPaper() ([]byte, error) {
	d := j.paper("Summary", j.Job.Name, j.number("summary"), j.weekDay())
	j.drawSummary(d)
	return d.Bytes()
}

func (j *job) drawSummary(d *page.Doc) {
	j.drawToDo(d)
	j.drawLoadLines(d)
	j.drawSizeLines(d)
	j.drawSaleLines(d)
	j.drawFindings(d)
	j.drawAccounts(d)
	j.drawOwnNotes(d)
	j.drawSettingsUsed(d)
}

// toDo is a line of what to do now. Idle says that nothing is to be done: it has no box to tick.
type toDo struct {
	what, text string
	idle       bool
}

// drawToDo lists what to do now, each with a box to tick.
func (j *job) drawToDo(d *page.Doc) {
	all := j.toDo()
	d.Heading(1, "What to do now")
	t := page.Table{Columns: []page.Column{{Width: 36}, {}}, Size: page.SizeBody, Empty: j.wording("summary-nothing")}
	for _, x := range all {
		first := page.Cell{Text: x.what, Face: page.Bold, Mark: page.EmptyBox, Plain: true}
		if x.idle {
			first.Mark = page.Ticked
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{first, {Text: x.text}}})
	}
	d.Table(t)
}

// toDo gathers what to do from errors, verdicts, withheld papers and pieces without a setting.
func (j *job) toDo() []toDo {
	var all []toDo
	if n := j.Findings.Count(finding.Error); n > 0 {
		var cells []string
		for _, f := range j.Findings {
			if f.Severity == finding.Error {
				cells = append(cells, j.cellName(f.Place))
			}
		}
		const most = 6
		all = append(all, toDo{what: "The sheets", text: j.wording("summary-errors", "n", strconv.Itoa(n), "cells", strings.Join(shortened(cells, most), ", "))})
	}
	for i := range j.Loads {
		all = append(all, j.loadToDo(&j.Loads[i]))
	}
	for _, s := range j.Sales {
		if s.Withheld {
			all = append(all, toDo{what: "Sale " + s.ID, text: j.wording("summary-withheld-sale")})
		}
	}
	for _, s := range j.Sizes {
		if !s.Known {
			all = append(all, toDo{what: s.Wanted.Piece, text: j.wording("summary-no-setting", "why", j.say(s.Why))})
		}
	}
	if n := j.Findings.Count(finding.Warning); n > 0 {
		all = append(all, toDo{what: "The sheets", text: j.wording("summary-warnings", "n", strconv.Itoa(n))})
	}
	return all
}

// loadToDo says what to do with a load.
func (j *job) loadToDo(l *compute.LoadResult) toDo {
	x := toDo{what: "Load " + l.Load.ID}
	use := oneLine(l.Load.Use)
	switch l.Verdict {
	case compute.DryForUse:
		x.text, x.idle = j.wording("summary-dry", "use", use), !l.Withheld
	case compute.DryButHeldBack:
		x.text = j.wording("summary-held-back", "use", use, "boards", list(l.HeldBack))
	case compute.NotDryYet:
		x.text = joined(" ", j.wording("summary-keep-drying", "use", use), j.daysToGo(l))
	default:
		x.text = joined(" ", j.wording("summary-open"), strings.Join(j.allSaid(l.ToSettle), " "), j.daysToGo(l))
	}
	if l.Withheld {
		x.text = joined(" ", x.text, j.wording("summary-withheld-load"))
	}
	return x
}

func (j *job) daysToGo(l *compute.LoadResult) string {
	if l.Days.Says.Name == "" {
		return ""
	}
	return j.say(l.Days.Says)
}

// drawLoadLines gives every load one line: its verdict and the first reason.
func (j *job) drawLoadLines(d *page.Doc) {
	if len(j.Loads) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "load", Width: 18}, {Head: "for", Width: 26}, {Head: "boards measured", Width: 19}, {Head: "mean", Width: 13, Align: page.Right},
		{Head: "verdict", Width: 30}, {Head: "because"}}}
	for i := range j.Loads {
		l := &j.Loads[i]
		mean, why := "-", ""
		if l.Mean.Known {
			mean = l.Mean.Value.String() + " %"
		}
		if len(l.Reasons) > 0 {
			why = j.say(l.Reasons[0])
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: l.Load.ID, Face: page.Bold, Plain: true}, {Text: l.Load.Use},
			{Text: fmt.Sprintf("%d of %d", l.Measured, l.N)}, {Text: mean}, {Text: l.Verdict.String(), Face: page.Bold}, {Text: why}}})
	}
	d.Heading(1, "Loads")
	d.Table(t)
}

// drawSizeLines gives the saw settings of the week, short.
func (j *job) drawSizeLines(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "piece", Width: 40}, {Head: "wood"}, {Head: "finished", Width: 30}, {Head: "set the saw to", Width: 34},
		{Head: "boards to saw", Width: 16, Align: page.Right}, {Head: "of 100 clean up", Width: 17, Align: page.Right}}}
	for _, s := range j.Sizes {
		if !s.Known {
			continue
		}
		boards := "-"
		if s.Boards > 0 {
			boards = strconv.Itoa(s.Boards)
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: s.Wanted.Piece}, {Text: s.Wanted.Species.Name},
			{Text: j.system.Size(s.FinishThickness) + " x " + j.system.Size(s.FinishWidth)},
			{Text: j.system.Size(s.Thickness) + " x " + j.system.Size(s.Width), Face: page.Bold}, {Text: boards}, {Text: s.Sentence.With["share"]}}})
	}
	if len(t.Rows) == 0 {
		return
	}
	d.Heading(1, "Sizes of the week")
	d.Table(t)
}

// drawSaleLines lists the sales, and the papers that are withheld with why.
func (j *job) drawSaleLines(d *page.Doc) {
	if len(j.Sales) > 0 {
		t := page.Table{Columns: []page.Column{{Head: "sale", Width: 16}, {Head: "buyer", Width: 26}, {Head: "day", Width: 27}, {Head: "boards", Width: 11, Align: page.Right},
			{Head: "footage", Width: 32}, {Head: "papers"}}}
		for _, s := range j.Sales {
			var feet []string
			for _, f := range s.Footage {
				feet = append(feet, footageWords(f))
			}
			papers := "statement and tags"
			switch {
			case s.Withheld:
				papers = "withheld, see below"
			case len(s.Boards) == 0:
				papers = joined(" ", "statement only.", strings.Join(j.allSaid(s.Notes), " "))
			}
			if len(s.Missing) > 0 {
				papers += " Not found: " + strings.Join(s.Missing, ", ") + "."
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: s.ID, Face: page.Bold, Plain: true}, {Text: s.Buyer}, {Text: date(s.Date)},
				{Text: strconv.Itoa(len(s.Boards))}, {Text: strings.Join(feet, "; ")}, {Text: papers}}})
		}
		d.Heading(1, "Sales")
		d.Table(t)
	}
	if withheld := j.Withheld(); len(withheld) > 0 {
		d.KeepTogether(func() {
			d.Heading(1, "Papers withheld")
			d.Bullets(j.withheldWhy(withheld), page.Style{})
		})
	}
}

// withheldWhy names each withheld paper with the errors that touch its rows.
func (j *job) withheldWhy(names []string) []string {
	var why [][]string
	for _, l := range j.Loads {
		if l.Withheld {
			var errs []string
			for _, f := range l.Warnings {
				if f.Severity == finding.Error {
					errs = append(errs, j.cellName(f.Place)+", "+f.Problem)
				}
			}
			why = append(why, errs)
		}
	}
	for _, s := range j.Sales {
		if s.Withheld {
			why = append(why, j.allSaid(s.WithheldWhy))
		}
	}
	out := make([]string, len(names))
	for i, name := range names {
		out[i] = name
		if i < len(why) && len(why[i]) > 0 {
			out[i] = joined(": ", name, strings.Join(shortened(why[i], 6), "; "))
		}
	}
	return out
}
