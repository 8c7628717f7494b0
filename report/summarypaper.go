package report

import (
	"fmt"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/report/page"
)

// summaryPaper makes the page the sawyer reads first: what to do now, the verdicts, what is wrong or doubtful in the sheets
// cell by cell, and what became of every row.
func (j *job) summaryPaper() ([]byte, error) {
	return drawn(j.paper("Summary", j.Job.Name, "summary", j.weekDay()), j.drawSummary)
}

func (j *job) drawSummary(d *page.Doc) {
	j.drawToDo(d)
	j.drawLoadLines(d)
	j.drawSizeLines(d)
	j.drawSaleLines(d)
	j.drawWeights(d)
	j.drawMoney(d)
	j.drawMeters(d)
	j.drawLooseProbes(d)
	j.drawSummaryYear(d)
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
	t := page.Table{Columns: []page.Column{{Width: 36}, {}}, Size: page.SizeBody, Empty: j.wording("summary-nothing")}
	for _, x := range all {
		first := page.Cell{Text: x.what, Face: page.Bold, Mark: page.EmptyBox, Plain: true}
		if x.idle {
			first.Mark = page.Ticked
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{first, {Text: x.text}}})
	}
	headedTable(d, "What to do now", t)
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
	for i := range j.Sales {
		s := &j.Sales[i]
		if s.Withheld {
			all = append(all, toDo{what: "Sale " + shortID(s.ID), text: j.wording("summary-withheld-sale")})
		}
		for _, n := range s.Notes {
			if n.Name == "sale-remeasure" && s.OwnUse == "" {
				all = append(all, toDo{what: "Sale " + shortID(s.ID), text: j.say(compute.Statement{Name: "summary-remeasure", With: n.With})})
			}
		}
		all = append(all, j.saleToDo(s)...)
		all = append(all, j.trailerToDo(s)...)
	}
	all = append(all, j.millToDo()...)
	all = append(all, j.kilnToDo()...)
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
	x := toDo{what: "Load " + shortID(l.Load.ID)}
	use := oneLine(l.Load.Use)
	switch l.Verdict {
	case compute.DryForUse:
		x.text, x.idle = j.wording("summary-dry", "use", use), !l.Withheld
		if l.Withheld {
			x.text = j.wording("summary-dry-withheld", "use", use)
		}
		x.text = joined(" ", x.text, j.readWords(l))
	case compute.DryButHeldBack:
		x.text = joined(" ", j.wording("summary-held-back", "use", use, "boards", list(l.HeldBack), "n", strconv.Itoa(len(l.HeldBack))), j.readWords(l))
	case compute.NotDryYet:
		x.text = joined(" ", j.wording("summary-keep-drying", "use", use), j.daysToGo(l))
	default:
		x.text = joined(" ", j.wording("summary-open"), strings.Join(j.allSaid(l.ToSettle), " "), j.daysToGo(l))
	}
	switch {
	case l.Withheld && foundDry(l):
		x.text = joined(" ", x.text, j.wording("summary-withheld-load"))
	case l.Withheld:
		x.text = joined(" ", x.text, j.wording("summary-errors-load"))
	}
	return x
}

// readWords says of the boards that stay in a dry load which were read, and what is known of those that were not.
func (j *job) readWords(l *compute.LoadResult) string {
	const most = 12
	return j.wording("summary-read", "held", strconv.FormatBool(len(l.HeldBack) > 0), "n", strconv.Itoa(l.RestN), "read", strconv.Itoa(l.Measured-len(l.HeldBack)),
		"unread", strconv.Itoa(l.N-l.Measured), "boards", strings.Join(shortened(j.unread(l), most), ", "), "limit", l.Band.High.String(), "bound", strconv.Itoa(l.RestBound))
}

// unread names the boards of a load that were not read, and counts those that stand in no sheet.
func (j *job) unread(l *compute.LoadResult) []string {
	var names []string
	for _, at := range l.Boards {
		if b := &j.Boards[at]; b.MC.State == units.NotTaken {
			names = append(names, b.Board.ID)
		}
	}
	if n := l.N - len(l.Boards); n > 0 {
		names = append(names, j.wording("summary-in-no-sheet", "n", strconv.Itoa(n)))
	}
	return names
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
	t := page.Table{Columns: []page.Column{{Head: "load", Width: 18}, {Head: "for", Width: 26}, {Head: "boards measured", Width: 19}, {Head: "mean of those read", Width: 15, Align: page.Right},
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
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: shortID(l.Load.ID), Face: page.Bold, Plain: true}, {Text: l.Load.Use},
			{Text: fmt.Sprintf("%d of %d", l.Measured, l.N)}, {Text: mean}, {Text: j.verdictCell(l), Face: page.Bold}, {Text: why}}})
	}
	headedTable(d, "Loads", t)
}

// verdictCell is a verdict in a word or two; of a load that only its readings find dry it says that its certificate is withheld.
func (j *job) verdictCell(l *compute.LoadResult) string {
	if l.Withheld && foundDry(l) {
		return j.wording("verdict-withheld", "verdict", l.Verdict.String())
	}
	return verdictName(l.Verdict)
}

// headedTable writes a table under its heading, which never stays behind on a page alone. A table of less than half a page stays whole.
func headedTable(d *page.Doc, head string, t page.Table) {
	const few = 20 // rows; more are not measured
	rows := func(n int) func() {
		first := t
		first.Rows = t.Rows[:min(n, len(t.Rows))]
		return func() {
			d.Heading(1, head)
			d.Table(first)
		}
	}
	begins := rows(2)
	if whole := rows(few); len(t.Rows) <= few && d.Height(whole) <= d.Body().H/2 {
		begins = whole
	}
	keepHead(d, begins)
	rows(len(t.Rows))()
}

// drawSizeLines gives the saw settings of the week, short.
func (j *job) drawSizeLines(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "piece", Width: 40}, {Head: "wood"}, {Head: "finished", Width: 30}, {Head: "set the saw to", Width: 34},
		{Head: "boards to saw", Width: 16, Align: page.Right}, {Head: "of 100 flat boards clean up", Width: 17, Align: page.Right}}}
	stock := false
	for _, s := range j.Sizes {
		if !s.Known {
			continue
		}
		boards := "-"
		if s.Boards > 0 {
			boards = strconv.Itoa(s.Boards)
			if from, ok := stockNote(&s); ok {
				boards, stock = boards+" ("+from["rest"]+")", true
			}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: s.Wanted.Piece}, {Text: s.Wanted.Species.Name},
			{Text: j.system.Size(s.FinishThickness) + " x " + j.system.Size(s.FinishWidth)},
			{Text: j.system.Size(s.Thickness) + " x " + j.system.Size(s.Width), Face: page.Bold}, {Text: boards}, {Text: s.Sentence.With["share"]}}})
	}
	if len(t.Rows) == 0 {
		return
	}
	headedTable(d, "Sizes of the week", t)
	if stock {
		d.Para(j.wording("summary-sizes-stock"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	}
}

// drawSaleLines lists the sales, and the papers that are withheld with why.
func (j *job) drawSaleLines(d *page.Doc) {
	if len(j.Sales) > 0 {
		t := page.Table{Columns: []page.Column{{Head: "sale", Width: 16}, {Head: "buyer", Width: 26}, {Head: "day", Width: 27}, {Head: "boards", Width: 11, Align: page.Right},
			{Head: "footage, weight", Width: 32}, {Head: "papers"}}}
		for _, s := range j.Sales {
			var feet []string
			for _, f := range s.Footage {
				feet = append(feet, footageWords(f))
			}
			if w := s.Weight; w.Known() {
				feet = append(feet, j.wording("summary-weight", "low", j.system.Mass(w.Low), "high", j.system.Mass(w.High)))
			}
			papers := "statement and tags"
			switch {
			case s.OwnUse != "":
				papers = "none: used by the mill itself"
			case s.Withheld:
				papers = "withheld, see below"
			case len(s.Boards) == 0:
				papers = "statement only."
				for _, n := range s.Notes {
					papers += " " + j.sayShort(n)
				}
			}
			boards := strconv.Itoa(len(s.Boards))
			if s.Named() == 0 {
				pieces := 0
				for _, row := range s.Sales {
					pieces += row.Pieces
				}
				boards = fmt.Sprintf("%d, not named", pieces)
			}
			if len(s.Missing) > 0 {
				papers += " Not found: " + strings.Join(s.Missing, ", ") + "."
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: shortID(s.ID), Face: page.Bold, Plain: true}, {Text: s.Buyer}, {Text: date(s.Date)},
				{Text: boards}, {Text: strings.Join(feet, "; ")}, {Text: papers}}})
		}
		headedTable(d, "Sales", t)
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
