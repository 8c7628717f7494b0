package report

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/report/page"
)

// cellName names a place as the spreadsheet shows it: Readings!D14. The file comes first when there is more than one; a
// file that is a single table goes by its own name, readings.csv D14.
func (j *job) cellName(p finding.Place) string {
	if p.Sheet == "" || p.Sheet == strings.TrimSuffix(p.File, path.Ext(p.File)) {
		return joined(" ", p.File, p.Cell())
	}
	at := joined("!", p.Sheet, p.Cell())
	if p.Row > 0 && p.Col == 0 {
		at = p.Sheet + " " + p.Cell()
	}
	if len(j.Job.Files) > 1 {
		at = joined(" ", p.File, at)
	}
	return at
}

// told is a finding with every place it was found at.
type told struct {
	finding.Finding
	places []finding.Place
}

// toldOf gathers the findings of a severity, those that say the same of cells of one sheet in one line.
func (j *job) toldOf(of finding.Severity) []told {
	var all []told
	at := map[finding.Finding]int{}
	for _, f := range j.Findings {
		if f.Severity != of {
			continue
		}
		same := f
		same.Place.Row, same.Place.Col = 0, 0
		if i, ok := at[same]; ok {
			all[i].places = append(all[i].places, f.Place)
			continue
		}
		at[same] = len(all)
		all = append(all, told{f, []finding.Place{f.Place}})
	}
	return all
}

// drawFindings lists what is wrong or doubtful in the sheets, cell by cell: errors, then warnings, then a line of notes.
func (j *job) drawFindings(d *page.Doc) {
	const title = "The sheets, cell by cell"
	errors, warnings := j.toldOf(finding.Error), j.toldOf(finding.Warning)
	if len(errors)+len(warnings) == 0 {
		d.Need(26) // the heading with the lines below it
		d.Heading(1, title)
		d.Para(j.wording("summary-clean", "doubtful", j.doubtful()), page.Style{})
	} else {
		t := page.Table{Columns: []page.Column{{Head: "cell", Width: 26}, {Head: "stands there", Width: 28}, {Head: "what is wrong"}, {Head: "what to do"}, {Head: "code", Width: 10}}}
		for _, group := range []struct {
			head string
			all  []told
		}{{"Errors: the row is set aside, or the value is not used", errors}, {"Warnings: used as it stands", warnings}} {
			if len(group.all) == 0 {
				continue
			}
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{{Text: group.head, Span: 5}}})
			for _, f := range group.all {
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: j.cellNames(f.places), Face: page.Bold, Plain: true}, {Text: shortWords(f.Stands), Plain: true},
					{Text: shortWords(f.Problem), Plain: true}, {Text: shortWords(f.Hint), Plain: true}, {Text: string(f.Code)}}})
			}
		}
		headedTable(d, title, t)
	}
	if n := j.Findings.Count(finding.Note); n > 0 {
		d.Space(1)
		d.Para(j.wording("summary-notes", "n", strconv.Itoa(n), "kinds", j.noteKinds()), page.Style{Size: page.SizeTable})
	}
}

// doubtful lists the readings the owner marked doubtful.
func (j *job) doubtful() string {
	const most = 12
	var all []string
	for i := range j.Job.Readings {
		r := &j.Job.Readings[i]
		if r.Value.Doubtful {
			all = append(all, fmt.Sprintf("%s (%s)", cmp.Or(r.Board, j.cellName(r.Origin.At(r.Field))), r.Value))
		}
	}
	return strings.Join(shortened(all, most), ", ")
}

// mostWord is how long a word without a space can be in a narrow column; the cell beside it has it in full.
const mostWord = 60

// shortWords cuts words that would fill a narrow column by themselves.
func shortWords(s string) string {
	words := strings.Fields(s)
	cut := false
	for i, w := range words {
		if r := []rune(w); len(r) > mostWord {
			words[i], cut = string(r[:mostWord-1])+"\u2026", true
			if r[0] == '"' {
				words[i] += `"`
			}
		}
	}
	if !cut {
		return s
	}
	return strings.Join(words, " ")
}

// cellNames writes the first place in full and the others by their cells.
func (j *job) cellNames(places []finding.Place) string {
	names := []string{j.cellName(places[0])}
	for _, p := range places[1:] {
		names = append(names, p.Cell())
	}
	return strings.Join(names, ", ")
}

// noteCells is how many cells of one kind of note are named in the folded line.
const noteCells = 6

// noteKinds counts the notes by their kind and names their cells.
func (j *job) noteKinds() string {
	cells := map[finding.Code][]string{}
	var codes []finding.Code
	for _, f := range j.Findings {
		if f.Severity != finding.Note {
			continue
		}
		if cells[f.Code] == nil {
			codes = append(codes, f.Code)
		}
		cells[f.Code] = append(cells[f.Code], j.cellName(f.Place))
	}
	meaning := map[finding.Code]string{}
	for _, k := range finding.Kinds() {
		meaning[k.Code] = small(strings.TrimSuffix(k.Meaning, "."))
	}
	var out []string
	for _, c := range codes {
		times := "once"
		if n := len(cells[c]); n > 1 {
			times = fmt.Sprintf("%d times", n)
		}
		out = append(out, fmt.Sprintf("%s %s (%s: %s)", times, meaning[c], c, strings.Join(shortened(cells[c], noteCells), ", ")))
	}
	return strings.Join(out, "; ")
}

// small makes the first letter small.
func small(s string) string {
	for i, r := range s {
		return string(unicode.ToLower(r)) + s[i+len(string(r)):]
	}
	return s
}

// drawAccounts says what became of every row of every sheet, and why rows were set aside.
func (j *job) drawAccounts(d *page.Doc) {
	if len(j.Accounts) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "sheet"}, {Head: "rows", Width: 20, Align: page.Right}, {Head: "used", Width: 20, Align: page.Right},
		{Head: "set aside", Width: 20, Align: page.Right}, {Head: "not data", Width: 20, Align: page.Right}}}
	line := func(name string, used, aside, not int) page.Row {
		return page.Cells(name, strconv.Itoa(used+aside+not), strconv.Itoa(used), strconv.Itoa(aside), strconv.Itoa(not))
	}
	for _, a := range j.Accounts {
		t.Rows = append(t.Rows, line(j.cellName(finding.Place{File: a.File, Sheet: a.Sheet}), a.Count(compute.Used), a.Count(compute.SetAside), a.Count(compute.NotData)))
	}
	sum := line("all sheets", j.UsedRows(), j.SetAside(), j.NotDataRows())
	sum.Ruled = true
	for i := range sum.Cells {
		sum.Cells[i].Face = page.Bold
	}
	t.Rows = append(t.Rows, sum)
	headedTable(d, "What became of every row", t)
	d.Para(j.wording("summary-rows"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	j.drawSetAside(d)
}

// asideRows are the rows of a sheet set aside for one reason, by number.
type asideRows struct {
	why  string
	rows []string
}

// setAsideBy gives the rows of a sheet set aside, by reason, in the order the reasons come first.
func setAsideBy(a compute.Account) []asideRows {
	var out []asideRows
	for r := range a.Rows.All() {
		if r.Fate != compute.SetAside {
			continue
		}
		i := slices.IndexFunc(out, func(s asideRows) bool { return s.why == r.Why })
		if i < 0 {
			i = len(out)
			out = append(out, asideRows{why: r.Why})
		}
		out[i].rows = append(out[i].rows, strconv.Itoa(r.Row))
	}
	return out
}

// drawSetAside names every row set aside with its why.
func (j *job) drawSetAside(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "sheet", Width: 40}, {Head: "rows set aside", Width: 60}, {Head: "why"}}}
	for _, a := range j.Accounts {
		for _, s := range setAsideBy(a) {
			t.Rows = append(t.Rows, page.Cells(j.cellName(finding.Place{File: a.File, Sheet: a.Sheet}), strings.Join(s.rows, ", "), s.why))
		}
	}
	if len(t.Rows) > 0 {
		d.Space(2)
		d.Table(t)
	}
}

// drawOwnNotes carries along what the owner wrote into his notes columns. Equal notes stand once.
func (j *job) drawOwnNotes(d *page.Doc) {
	type at struct{ kind, item, note string }
	of := map[string]map[string][]string{} // of a note: the items it stands at, by their kind
	kinds := map[string][]string{}
	known := map[at]bool{}
	var notes []string
	add := func(kind, item, note string) {
		note = oneLine(note)
		if note == "" || known[at{kind, item, note}] {
			return
		}
		known[at{kind, item, note}] = true
		if of[note] == nil {
			of[note] = map[string][]string{}
			notes = append(notes, note)
		}
		if of[note][kind] == nil {
			kinds[note] = append(kinds[note], kind)
		}
		of[note][kind] = append(of[note][kind], item)
	}
	addRow := func(o compute.Origin, note string) {
		at := o.At("")
		add(j.cellName(finding.Place{File: at.File, Sheet: at.Sheet})+" row", strconv.Itoa(o.Row), note)
	}
	for _, l := range j.Job.Loads {
		add("load", shortID(l.ID), l.Note)
	}
	for _, b := range j.Job.Boards {
		add("board", b.ID, b.Note)
	}
	for _, c := range j.Job.Cuts {
		addRow(c.Origin, c.Note)
	}
	for _, w := range j.Job.Wanted {
		add("wanted piece", w.Piece, w.Note)
	}
	for _, r := range j.Job.Readings {
		addRow(r.Origin, r.Note)
	}
	for _, w := range j.Job.Weights {
		add("sample", w.Sample, w.Note)
	}
	for _, a := range j.Job.Air {
		addRow(a.Origin, a.Note)
	}
	for _, s := range j.Job.Sales {
		add("sale", shortID(s.ID), s.Note)
	}
	if len(notes) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "at", Width: 50}, {Head: "your note"}}}
	for _, note := range notes {
		var where []string
		for _, kind := range kinds[note] {
			where = append(where, kind+" "+strings.Join(of[note][kind], ", "))
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: strings.Join(where, "; "), Plain: true}, {Text: note}}})
	}
	headedTable(d, "Your notes", t)
}

// drawSettingsUsed lists the settings, the owner's and the defaults.
func (j *job) drawSettingsUsed(d *page.Doc) {
	var pairs []page.Pair
	var missing []string
	for _, u := range j.Job.Settings.Used {
		if u.Value == "" {
			missing = append(missing, u.Name)
			continue
		}
		if u.Source.Status == source.CommonPractice {
			continue // on the paper it is for
		}
		whose := "yours"
		if u.Source.Status == source.OurChoice {
			whose = "default"
		}
		pairs = append(pairs, page.Pair{Key: u.Name, Value: u.Value + " (" + whose + ")"})
	}
	if len(pairs)+len(missing) == 0 {
		return
	}
	d.KeepTogether(func() {
		d.Heading(1, "Settings used")
		d.Pairs(pairs, 2)
		if len(missing) > 0 {
			d.Space(1)
			d.Para(j.wording("summary-settings-missing", "names", list(missing)), page.Style{Size: page.SizeSmall, Gray: page.Soft})
		}
	})
}
