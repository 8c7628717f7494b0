package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/yearbook"
	"drytally/report/page"
	"drytally/report/write"
)

// yearJob is what the papers of a season are made from. The job in it has the settings of the last week and the findings of
// joining the weeks.
type yearJob struct {
	*job
	year *yearbook.Yearbook
}

func newYearJob(b *yearbook.Yearbook, about About) *yearJob {
	r := &compute.Result{Job: &compute.Job{Settings: b.Settings}, Findings: b.Findings}
	r.Job.Files = b.Files()
	return &yearJob{job: &job{Result: r, about: about, system: b.Settings.System}, year: b}
}

// SeasonPapers makes the papers of a season, in memory.
func SeasonPapers(b *yearbook.Yearbook, about About) ([]write.File, error) {
	j := newYearJob(b, about)
	var files []write.File
	for _, p := range []struct {
		name string
		make func() ([]byte, error)
	}{{"season.pdf", j.seasonPaper}, {"season.xlsx", j.seasonBook}} {
		data, err := p.make()
		if err == nil {
			err = j.failed
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.name, err)
		}
		files = append(files, write.File{Name: p.name, Data: data})
	}
	return files, nil
}

// seasonPaper makes the account of a season for the sawyer.
func (j *yearJob) seasonPaper() ([]byte, error) {
	return drawn(j.paper("The season", span(j.year.First, j.year.Last), "season", j.year.Last), j.drawYear)
}

func (j *yearJob) drawYear(d *page.Doc) {
	j.drawFootage(d)
	j.drawAdvice(d)
	j.drawYearLoads(d)
	j.drawStock(d)
	j.drawShrinkage(d)
	j.drawYearMeters(d)
	j.drawPlaces(d)
	j.drawWeeks(d)
	j.drawYearFindings(d)
	d.Space(3)
	d.Para(j.wording("yearbook-cautions"), page.Style{Size: page.SizeSmall})
}

// shortDay writes a day for a narrow column: 8 Jan 2026.
func shortDay(t time.Time) string {
	if t.IsZero() {
		return "-"
	}
	return t.Format("2 Jan 2006")
}

// shortSpan writes a first and a last day: 3 Jan to 9 Jan 2026.
func shortSpan(from, to time.Time) string {
	switch {
	case from.Equal(to):
		return shortDay(from)
	case from.Year() == to.Year():
		return from.Format("2 Jan") + " to " + shortDay(to)
	}
	return shortDay(from) + " to " + shortDay(to)
}

// drawAdvice lists what the season says for next week, and apart from it what it can't say yet.
func (j *yearJob) drawAdvice(d *page.Doc) {
	var known, open []string
	for _, a := range j.year.Advice {
		if a.Known {
			known = append(known, j.say(a.Says))
		} else {
			open = append(open, j.say(a.Says))
		}
	}
	if len(known)+len(open) == 0 {
		return
	}
	d.Need(24)
	d.Heading(1, "For next week's settings")
	if len(known) > 0 {
		d.Bullets(known, page.Style{})
	}
	if len(open) > 0 {
		d.Space(0.8)
		d.Bullets(open, page.Style{Size: page.SizeTable, Gray: page.Soft})
	}
}

// drawYearLoads lists every load once.
func (j *yearJob) drawYearLoads(d *page.Doc) {
	if len(j.year.Loads) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "load", Width: 12}, {Head: "wood", Width: 20}, {Head: "for", Width: 24}, {Head: "went in", Width: 18}, {Head: "days in kiln", Width: 11, Align: page.Right},
		{Head: "start, %", Width: 23.5}, {Head: "end, %", Width: 18}, {Head: "verdict, by the day of reading"}}}
	weighed := false
	for i := range j.year.Loads {
		l := &j.year.Loads[i]
		days := "-"
		switch {
		case l.Days > 0:
			days = strconv.Itoa(l.Days)
		case l.InKiln:
			days = "still in"
		}
		var verdicts []string
		for _, v := range l.Verdicts {
			verdicts = append(verdicts, v.Date.Format("2 Jan")+": "+verdictName(v.Verdict))
		}
		words := strings.Join(verdicts, "; ")
		if words == "" {
			words = "not measured"
		}
		if len(l.HeldBack) > 0 {
			words += "; to take out: " + strings.Join(shortened(l.HeldBack, 8), ", ")
		}
		weighed = weighed || l.Start.By != "" || l.End.By != ""
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: shortID(l.Name), Face: page.Bold, Plain: true}, {Text: strings.Join(l.Species, ", ")}, {Text: l.Use},
			{Text: shortDay(l.DateIn)}, {Text: days}, {Text: knownWords(l.Start)}, {Text: knownWords(l.End)}, {Text: words}}})
	}
	headedTable(d, "Loads", t)
	if weighed {
		d.Para("Start and end: the mean, and of how many sample boards weighed or boards read with the meter.", page.Style{Size: page.SizeSmall, Gray: page.Soft})
	}
}

// knownWords writes a moisture content with how it is known: 19.4, 3 weighed.
func knownWords(k yearbook.Known) string {
	switch k.By {
	case "weights":
		return fmt.Sprintf("%s, %d weighed", k.MC, k.N)
	case "readings":
		return fmt.Sprintf("%s, %d read", k.MC, k.N)
	}
	return "-"
}

// drawWeeks lists every workbook with what became of it.
func (j *yearJob) drawWeeks(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "workbook"}, {Head: "days in it", Width: 37}, {Head: "rows used", Width: 13, Align: page.Right}, {Head: "set aside", Width: 12, Align: page.Right},
		{Head: "errors, warnings, notes", Width: 24}, {Head: "SHA-256 begins", Width: 27}}}
	unread := 0
	for _, w := range j.year.Weeks {
		var hash string
		if len(w.Files) > 0 {
			hash = w.Files[0].SHA256[:min(12, len(w.Files[0].SHA256))]
			if n := len(w.Files); n > 1 {
				hash += fmt.Sprintf(" (of %d files)", n)
			}
		}
		name := page.Cell{Text: w.FileName(), Plain: true}
		switch {
		case w.Unread != "":
			unread++
			name.Face = page.Bold
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{name, {Text: "could not be read: " + w.Unread, Span: 5, Plain: true}}})
		case w.SameAs != "":
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{name, {Text: "the same, byte for byte, as " + w.SameAs + "; counted once", Span: 4, Plain: true}, {Text: hash}}})
		default:
			days := "no day"
			if !w.First.IsZero() {
				days = shortSpan(w.First, w.Last)
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{name, {Text: days}, {Text: strconv.Itoa(w.Used)}, {Text: strconv.Itoa(w.SetAside)},
				{Text: fmt.Sprintf("%d, %d, %d", w.Errors, w.Warnings, w.Notes)}, {Text: hash}}})
		}
	}
	headedTable(d, "Workbooks", t)
	d.Para(j.wording("yearbook-weeks"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	if unread > 0 {
		d.Space(1)
		d.Para(j.wording("yearbook-unread", "n", strconv.Itoa(unread)), page.Style{Face: page.Bold, Size: page.SizeTable})
	}
}

// drawYearFindings lists what two weeks don't agree on.
func (j *yearJob) drawYearFindings(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "cell", Width: 44}, {Head: "what is wrong"}, {Head: "what to do", Width: 46}, {Head: "code", Width: 10}}}
	for _, group := range []struct {
		head string
		of   finding.Severity
	}{{"Errors: not counted as written", finding.Error}, {"Warnings: counted as it says", finding.Warning}, {"Notes: nothing needs doing", finding.Note}} {
		all := j.toldOf(group.of)
		if len(all) == 0 {
			continue
		}
		t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{{Text: group.head, Span: 4}}})
		for _, f := range all {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: j.cellNames(f.places), Face: page.Bold, Plain: true}, {Text: shortWords(f.Problem), Plain: true},
				{Text: shortWords(f.Hint), Plain: true}, {Text: string(f.Code)}}})
		}
	}
	if len(t.Rows) == 0 {
		d.Need(20)
		d.Heading(1, "Where the weeks don't agree")
		d.Para(j.wording("yearbook-agree"), page.Style{})
		return
	}
	headedTable(d, "Where the weeks don't agree", t)
}

// SeasonSummary writes what a run over a season did in plain words.
func SeasonSummary(out io.Writer, b *yearbook.Yearbook, folder string, files []write.File) error {
	j := newYearJob(b, About{})
	t := &textOut{job: j.job, lines: linesTo{out: out}}
	used, aside, unread := 0, 0, 0
	for _, w := range b.Weeks {
		used, aside = used+w.Used, aside+w.SetAside
		if w.Unread != "" {
			unread++
		}
	}
	t.line("%s, %s: %s used, %d set aside", count(len(b.Weeks)-unread, "workbook", "workbooks"), span(b.First, b.Last), count(used, "row", "rows"), aside)
	t.line("%s, %s: %d sold, %d used, %d left", count(len(b.Loads), "load", "loads"), count(b.All.Boards.Made, "board", "boards"), b.All.Boards.Sold, b.All.Boards.Used, b.All.Boards.Left)
	for _, l := range b.Totals {
		t.line("  board feet by %s: %s made = %s sold + %s used + %s left", ruleWords(l.Rule), boardFeet(l.Feet.Made), boardFeet(l.Feet.Sold), boardFeet(l.Feet.Used), boardFeet(l.Feet.Left))
	}
	t.papers(folder, files)
	for _, w := range b.Weeks {
		if w.Unread != "" {
			t.blank()
			t.line("Not read: %s", w.Unread)
		}
	}
	errors, warnings := fold(b.Findings, finding.Error), fold(b.Findings, finding.Warning)
	if len(errors)+len(warnings) > 0 {
		t.blank()
		t.line("Where the weeks don't agree: %s", t.findingCounts())
		for i, f := range append(errors, warnings...) {
			if i == mostFindings {
				t.line("and more, cell by cell in season.pdf")
				break
			}
			t.line("%s%s", f.Finding, alsoIn(f.more))
			t.hint(f.Hint)
		}
	}
	return t.end()
}
