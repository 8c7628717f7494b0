package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/report/page"
	"drytally/report/write"
)

// How much of what is wrong the text on the screen tells before it points at summary.pdf.
const (
	mostFindings = 10 // with their hints about twenty lines
	mostAside    = 6  // lines of rows set aside
	mostPlaces   = 6  // further cells of one folded finding
)

// textWidth is where lines of sentences are broken. Findings keep to one line each.
const textWidth = 78

// Summary writes what a run did in plain words: what was read, each load's verdict, the papers written into folder, what is
// withheld or set aside, and what to do.
func Summary(out io.Writer, r *compute.Result, folder string, files []write.File) error {
	t := newText(out, r)
	t.rowTotals()
	t.loads()
	t.sizes()
	t.papers(folder, files)
	t.withheld("Withheld until the errors below are corrected:")
	t.setAside(mostAside)
	t.findings()
	t.notes()
	return t.end()
}

// Check writes what was understood and everything that is wrong or doubtful, without papers.
func Check(out io.Writer, r *compute.Result) error {
	t := newText(out, r)
	t.rowTotals()
	t.sheets()
	t.loads()
	t.sizes()
	t.withheld("To be withheld until the errors below are corrected:")
	t.setAside(0)
	t.allFindings()
	return t.end()
}

// textOut writes a run's text. What comes from the sheets is shown, never acted on: a control character in a board's number
// must not steer the screen.
type textOut struct {
	*job
	lines linesTo
}

func newText(out io.Writer, r *compute.Result) *textOut {
	return &textOut{job: &job{Result: r, system: r.Job.Settings.System}, lines: linesTo{out: out}}
}

func (t *textOut) line(format string, args ...any) {
	t.lines.printf("%s\n", shown(fmt.Sprintf(format, args...), "\t"))
}

func (t *textOut) blank() { t.lines.printf("\n") }

// para writes sentences below an indent, broken into lines. A number and its unit stay together.
func (t *textOut) para(indent, words string) {
	line, width := "", textWidth-len(indent)
	for _, w := range strings.FieldsFunc(page.KeepUnits(words), func(r rune) bool { return string(r) != noBreak && unicode.IsSpace(r) }) {
		w = strings.ReplaceAll(w, noBreak, " ")
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > width {
			t.line("%s%s", indent, line)
			line = ""
		}
		line = joined(" ", line, w)
	}
	if line != "" {
		t.line("%s%s", indent, line)
	}
}

func (t *textOut) end() error {
	if t.lines.err != nil {
		return t.lines.err
	}
	return t.failed
}

// rowTally writes a sheet's or a workbook's row counts: 41 rows used, 1 set aside, 3 not data.
func rowTally(used, aside, not int) string {
	return fmt.Sprintf("%s used, %d set aside, %d not data", count(used, "row", "rows"), aside, not)
}

func (t *textOut) rowTotals() {
	name := t.Job.Name
	if len(t.Job.Files) == 1 {
		name = t.Job.Files[0].Name
	}
	t.line("%s: %s (headings, notes)", name, rowTally(t.UsedRows(), t.SetAside(), t.NotDataRows()))
}

// sheets says what each sheet was taken for.
func (t *textOut) sheets() {
	for _, a := range t.Accounts {
		var kinds []string
		for r := range a.Rows.All() {
			if k := string(r.Kind); k != "" && !slices.Contains(kinds, k) {
				kinds = append(kinds, k)
			}
		}
		what := "no table known here"
		if len(kinds) > 0 {
			what = "read as " + list(kinds)
		}
		t.line("  %s: %s; %s", t.cellName(finding.Place{File: a.File, Sheet: a.Sheet}), what,
			rowTally(a.Count(compute.Used), a.Count(compute.SetAside), a.Count(compute.NotData)))
	}
}

// loads writes each load's verdict, its first reason, the boards to hold back, what would settle it, and the days to go.
func (t *textOut) loads() {
	for i := range t.Loads {
		l := &t.Loads[i]
		t.blank()
		t.line("Load %s: %s", shortID(l.Load.ID), verdictWords(l))
		if len(l.Reasons) > 0 {
			t.para("  ", t.say(l.Reasons[0]))
		}
		if len(l.HeldBack) > 0 && (len(l.Reasons) == 0 || l.Reasons[0].Name != "held-back") {
			t.para("  ", "Take out "+list(l.HeldBack)+".")
		}
		if len(l.ToSettle) > 0 {
			t.para("  ", "To settle it: "+strings.Join(t.allSaid(l.ToSettle), " "))
		}
		if l.Verdict == compute.NotDryYet || l.Days.Known {
			t.para("  ", t.daysToGo(l))
		}
	}
}

// verdictWords gives a load's verdict. When it would allow a certificate and there is none, it must not be read without that.
func verdictWords(l *compute.LoadResult) string {
	switch {
	case l.Withheld && l.Verdict == compute.DryForUse:
		return l.Verdict.String() + " by its readings; certificate withheld"
	case l.Withheld && l.Verdict == compute.DryButHeldBack:
		return l.Verdict.String() + ", by its readings; certificate withheld"
	}
	return verdictName(l.Verdict)
}

// sizes names the wanted pieces that no saw setting could be given for.
func (t *textOut) sizes() {
	told := false
	for _, s := range t.Sizes {
		if s.Known {
			continue
		}
		if !told {
			t.blank()
			told = true
		}
		t.para("", "No saw setting for "+strconv.Quote(s.Wanted.Piece)+": "+t.say(s.Why))
	}
}

// paperWords says what each paper is for, by the beginning of its name.
var paperWords = []struct{ begins, words string }{
	{"summary.", "read this first"},
	{"cut-sheet.", "for the saw and the planer"},
	{"kiln-loading.", "to load the kiln by"},
	{"load-", "for the stack and the file"},
	{"statement-", "for the buyer"},
	{"tags-", "for the boards"},
	{"season.pdf", "read this"},
	{"season.xlsx", "every table, for you"},
	{"results.xlsx", "every table, for you"},
	{"results.json", "the same for other programs"},
}

func (t *textOut) papers(folder string, files []write.File) {
	if len(files) == 0 {
		return
	}
	t.blank()
	t.line("Written into %s:", folder)
	width := 0
	for _, f := range files {
		width = max(width, utf8.RuneCountInString(f.Name))
	}
	for _, f := range files {
		words := ""
		for _, p := range paperWords {
			if strings.HasPrefix(f.Name, p.begins) {
				words = "  " + p.words
				break
			}
		}
		t.line("  %s%s%s", f.Name, strings.Repeat(" ", width-utf8.RuneCountInString(f.Name)), words)
	}
}

func (t *textOut) withheld(head string) {
	papers := t.Withheld()
	if len(papers) == 0 {
		return
	}
	t.blank()
	t.line("%s", head)
	for _, p := range papers {
		t.line("  %s", p)
	}
}

// setAside names the rows set aside with why, those of one sheet and one reason on a line. most 0 names all.
func (t *textOut) setAside(most int) {
	var lines []string
	for _, a := range t.Accounts {
		for _, s := range setAsideBy(a) {
			word := "row "
			if len(s.rows) > 1 {
				word = "rows "
			}
			lines = append(lines, fmt.Sprintf("%s %s%s: %s", t.cellName(finding.Place{File: a.File, Sheet: a.Sheet}), word, strings.Join(runsOf(s.rows, 3, "-", nextRow), ", "), s.why))
		}
	}
	if len(lines) == 0 {
		return
	}
	t.blank()
	t.line("Rows set aside:")
	for i, l := range lines {
		if most > 0 && i == most && len(lines) > most+1 {
			t.line("  and %d more lines like these in summary.pdf", len(lines)-most)
			break
		}
		t.line("  %s", l)
	}
}

// runsOf joins names that follow one another, least and more, by their first and last with a word between: A05-A09. next reports
// whether b is the name behind a.
func runsOf(names []string, least int, between string, next func(a, b string) bool) []string {
	var parts []string
	for i := 0; i < len(names); {
		k := i
		for k+1 < len(names) && next(names[k], names[k+1]) {
			k++
		}
		if k-i+1 < least {
			k = i
			parts = append(parts, names[i])
		} else {
			parts = append(parts, names[i]+between+names[k])
		}
		i = k + 1
	}
	return parts
}

// nextRow reports whether b is the number of the row behind a.
func nextRow(a, b string) bool {
	x, err1 := strconv.Atoi(a)
	y, err2 := strconv.Atoi(b)
	return err1 == nil && err2 == nil && y == x+1
}

// folded is a finding with the further cells of its sheet that the same is to be said of.
type folded struct {
	finding.Finding
	more []finding.Place
}

// fold puts findings of one kind, sheet and hint together. The first one speaks for all.
func fold(all finding.List, of finding.Severity) []folded {
	type kind struct {
		code              finding.Code
		file, sheet, hint string
	}
	var out []folded
	at := map[kind]int{}
	for _, f := range all {
		if f.Severity != of {
			continue
		}
		k := kind{f.Code, f.Place.File, f.Place.Sheet, f.Hint}
		if i, ok := at[k]; ok {
			out[i].more = append(out[i].more, f.Place)
			continue
		}
		at[k] = len(out)
		out = append(out, folded{Finding: f})
	}
	return out
}

// findings writes errors, then warnings, folded, and past the first ten a count.
func (t *textOut) findings() {
	errors, warnings := fold(t.Findings, finding.Error), fold(t.Findings, finding.Warning)
	all := slices.Concat(errors, warnings)
	if len(all) == 0 {
		return
	}
	t.blank()
	t.line("In the sheets: %s", t.findingCounts())
	left := 0
	for i, f := range all {
		if i >= mostFindings && len(all) > mostFindings+1 {
			left += 1 + len(f.more)
			continue
		}
		t.line("%s%s", f.Finding, alsoIn(f.more))
		t.hint(f.Hint)
	}
	if left > 0 {
		t.line("and %d more, cell by cell in summary.pdf", left)
	}
}

func (t *textOut) findingCounts() string {
	errors, warnings := t.Findings.Count(finding.Error), t.Findings.Count(finding.Warning)
	var parts []string
	if errors > 0 {
		parts = append(parts, count(errors, "error", "errors"))
	}
	if warnings > 0 {
		parts = append(parts, count(warnings, "warning", "warnings"))
	}
	return list(parts)
}

// alsoIn names the further cells of a folded finding.
func alsoIn(more []finding.Place) string {
	if len(more) == 0 {
		return ""
	}
	var cells []string
	for i, p := range more {
		if i == mostPlaces && len(more) > mostPlaces+1 {
			cells = append(cells, fmt.Sprintf("%d more", len(more)-i))
			break
		}
		cell := p.Cell()
		if cell == "" {
			cell = "the same sheet"
		}
		cells = append(cells, cell)
	}
	return " (also in " + list(cells) + ")"
}

func (t *textOut) hint(hint string) {
	if hint != "" {
		t.line("    hint: %s", hint)
	}
}

// notes folds the notes into one line: a wall of them would hide what matters.
func (t *textOut) notes() {
	if n := t.Findings.Count(finding.Note); n > 0 {
		t.blank()
		t.line("%s in summary.pdf; nothing needs doing about %s.", count(n, "note", "notes"), map[bool]string{true: "it", false: "them"}[n == 1])
	}
}

// allFindings writes every finding in reading order, notes too.
func (t *textOut) allFindings() {
	t.blank()
	if len(t.Findings) == 0 {
		t.line("Nothing is wrong or doubtful in the sheets.")
		return
	}
	for _, f := range t.Findings {
		t.line("%s", f)
		t.hint(f.Hint)
	}
	t.blank()
	t.line("%s, %s, %s", count(t.Findings.Count(finding.Error), "error", "errors"), count(t.Findings.Count(finding.Warning), "warning", "warnings"),
		count(t.Findings.Count(finding.Note), "note", "notes"))
}
