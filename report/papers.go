// Package report turns a Result into the papers. It prints what the Result says and computes nothing.
package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
	"drytally/report/write"
	"drytally/templates"
)

// About names the program on the papers.
type About struct {
	Version  string
	Compiler string // what it was built with: another one may pack the same pages into other bytes
}

// job is what every paper is made from.
type job struct {
	*compute.Result
	about  About
	system units.System
	failed error  // the first wording that was missing; it fails the paper
	number string // of the paper made last
	made   []Made // the papers made so far
}

// Papers makes all papers of a result, in memory.
func Papers(r *compute.Result, about About) ([]write.File, error) {
	j := &job{Result: r, about: about, system: r.Job.Settings.System}
	var files []write.File
	var names write.Namer
	add := func(paper, id, ext string, make func() ([]byte, error)) error {
		j.number = ""
		data, err := make()
		if err == nil {
			err = j.failed
		}
		name := paper + ext
		if id != "" {
			name = names.Name(paper+"-", id, ext)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		files = append(files, write.File{Name: name, Data: data})
		j.made = append(j.made, madeOf(name, j.number, data))
		return nil
	}
	if err := add("summary", "", ".pdf", j.summaryPaper); err != nil {
		return nil, err
	}
	if len(r.Sizes) > 0 || len(r.Cuts) > 0 {
		if err := add("cut-sheet", "", ".pdf", j.cutSheet); err != nil {
			return nil, err
		}
	}
	if r.Kiln != nil {
		if err := add("kiln-loading", "", ".pdf", j.kilnPaper); err != nil {
			return nil, err
		}
	}
	for i := range r.Loads {
		l := &r.Loads[i]
		if err := add("load", l.Load.ID, ".pdf", func() ([]byte, error) { return j.loadPaper(l) }); err != nil {
			return nil, err
		}
	}
	for i := range r.Sales {
		s := &r.Sales[i]
		if s.Withheld || s.OwnUse != "" {
			continue // withheld, or the mill's own: there is no buyer to tell
		}
		if err := add("statement", s.ID, ".pdf", func() ([]byte, error) { return j.statement(s) }); err != nil {
			return nil, err
		}
		if len(s.Boards) == 0 {
			continue
		}
		for _, part := range tagParts(s) {
			if err := add("tags", part.fileID(), ".pdf", func() ([]byte, error) { return j.tags(part) }); err != nil {
				return nil, err
			}
		}
	}
	if err := add("results", "", ".xlsx", j.resultsWorkbook); err != nil {
		return nil, err
	}
	if err := add("results", "", ".json", j.resultsJSON); err != nil {
		return nil, err
	}
	return files, nil
}

// say writes a statement in words. A missing wording is our own mistake and fails the run, not just a line.
func (j *job) say(s compute.Statement) string {
	text, err := templates.Say(s.Name, s.With)
	if err != nil && j.failed == nil {
		j.failed = err
	}
	return text
}

// inputs names the files a paper rests on with the head of their hash.
func (j *job) inputs() string {
	if n := len(j.Job.Files); n > 2 {
		return fmt.Sprintf("%s and %d more files", j.Job.Files[0].Name, n-1)
	}
	var all []string
	for _, f := range j.Job.Files {
		all = append(all, fmt.Sprintf("%s (SHA-256 %s)", f.Name, f.SHA256[:min(12, len(f.SHA256))]))
	}
	return strings.Join(all, ", ")
}

// paper starts a paper: its size from the settings, the mill's head on the first page, a short head on the others.
//
// id tells the paper from the others of the job and is part of its number.
func (j *job) paper(title, subtitle, id string, date time.Time) *page.Doc {
	s := j.Job.Settings
	size := page.Letter
	if s.Paper == compute.A4 {
		size = page.A4
	}
	d := page.New(page.Options{Paper: size, Title: title, Author: s.MillName, Subject: subtitle, Creator: "drytally " + j.about.Version,
		Date: date, Stamp: j.stamp(id), Footer: fmt.Sprintf("Made from %s by drytally %s", j.inputs(), j.about.Version),
		OnPage: func(d *page.Doc, n int) {
			if n > 1 {
				j.runningHead(d, title+", "+subtitle)
			}
		}})
	d.NewPage()
	j.head(d, title, subtitle)
	return d
}

// drawn draws a paper and gives its bytes.
func drawn(d *page.Doc, draw func(*page.Doc)) ([]byte, error) {
	draw(d)
	return d.Bytes()
}

// head is the head of a first page: the mill to the left, the paper's number to the right, then its name.
func (j *job) head(d *page.Doc, title, subtitle string) {
	s := j.Job.Settings
	b := d.Body()
	soft := page.Style{Size: page.SizeSmall, Gray: page.Soft}
	if s.MillName != "" {
		d.Fit(page.Rect{X: b.X, Y: b.Y, W: b.W * headShare, H: 5}, s.MillName, headStyle, 0)
	}
	right := soft
	right.Align = page.Right
	d.NumberHere(page.Rect{X: b.X + b.W*0.66, Y: b.Y, W: b.W * 0.34, H: 5}, right)
	if under := j.headAddress(); under != "" {
		d.Fit(page.Rect{X: b.X, Y: b.Y + 4.6, W: b.W, H: 4}, under, soft, 0)
	}
	d.SetY(b.Y + 12)
	d.Title(title, subtitle)
}

// headShare is how much of the body's width the mill's name may take in the head.
const headShare = 0.65

var headStyle = page.Style{Size: page.SizeBody, Face: page.Bold}

// headAddress is the line below the mill's name in the head.
func (j *job) headAddress() string {
	return joined(", ", j.Job.Settings.MillAddress, j.Job.Settings.MillContact)
}

// headHolds reports whether the head has room for the whole of the mill's name and address.
func (j *job) headHolds(d *page.Doc) bool {
	w := d.Body().W
	return d.TextWidth(j.Job.Settings.MillName, headStyle) <= w*headShare && d.TextWidth(j.headAddress(), page.Style{Size: page.SizeSmall}) <= w
}

// runningHead is the small head of later pages.
func (j *job) runningHead(d *page.Doc, text string) {
	b := d.Body()
	d.Fit(page.Rect{X: b.X, Y: b.Y, W: b.W, H: 4}, joined(", ", j.Job.Settings.MillName, text), page.Style{Size: page.SizeSmall, Gray: page.Soft}, 0)
	d.SetY(b.Y + 7)
}

// mostID is how many letters of an id stand in heads, tables and headings.
const mostID = 32

// shortID cuts an id that is too long for a head or a column; each paper has it once in full.
func shortID(id string) string {
	id = oneLine(id)
	if r := []rune(id); len(r) > mostID {
		return string(r[:mostID-1]) + "\u2026"
	}
	return id
}

// joined joins what is not empty.
func joined(sep string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(slices.Clone(parts), func(s string) bool { return s == "" }), sep)
}

// date writes a day as people read it: 12 November 2026.
func date(t time.Time) string {
	if t.IsZero() {
		return "no date"
	}
	return t.Format("2 January 2006")
}

// span writes a first and a last day.
func span(from, to time.Time) string {
	switch {
	case from.IsZero():
		return "no date"
	case from.Equal(to) || to.IsZero():
		return date(from)
	case from.Year() == to.Year() && from.Month() == to.Month():
		return fmt.Sprintf("%d to %s", from.Day(), date(to))
	}
	return date(from) + " to " + date(to)
}

// list joins words with commas and "and".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// count writes a number with its noun: 1 board, 3 boards.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// linesTo writes lines and stops at the first error of the stream.
type linesTo struct {
	out io.Writer
	err error
}

func (l *linesTo) printf(format string, args ...any) {
	if l.err == nil {
		_, l.err = fmt.Fprintf(l.out, format, args...)
	}
}
