// Package finding holds what is wrong or doubtful in the owner's sheets: a code, the cell, what stands there, what is
// wrong and what to do.
package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Severity says what a finding does to the row it touches.
type Severity uint8

// The severities.
const (
	Note    Severity = iota // said once, changes nothing
	Warning                 // printed on the papers it touches; the row is used
	Error                   // the row is set aside and papers for others that rest on it are withheld
)

// String gives the word used in messages.
func (s Severity) String() string { return [...]string{"note", "warning", "error"}[s] }

// Code names a kind of finding. All codes stand in Kinds.
type Code string

// Place is a cell, a row (Col 0), a sheet (Row 0) or a whole file (Sheet empty and Row 0). Row and Col count from 1.
type Place struct {
	File, Sheet string
	Row, Col    int
}

// Column returns the spreadsheet letters of a column counted from 1: 1 is A, 27 is AA. It returns "" for 0.
func Column(col int) string {
	s := ""
	for ; col > 0; col = (col - 1) / 26 {
		s = string(rune('A'+(col-1)%26)) + s
	}
	return s
}

// Cell gives the name a spreadsheet shows: D14, "row 14" when no column is meant, "" for a whole sheet.
func (p Place) Cell() string {
	switch {
	case p.Row == 0:
		return ""
	case p.Col == 0:
		return fmt.Sprintf("row %d", p.Row)
	}
	return fmt.Sprintf("%s%d", Column(p.Col), p.Row)
}

// String gives file, sheet and cell: week47.xlsx: Readings!D14.
func (p Place) String() string {
	s := p.File
	if p.Sheet != "" {
		s += ": " + p.Sheet
		if c := p.Cell(); c != "" {
			s += "!" + c
		}
	} else if c := p.Cell(); c != "" {
		s += ": " + c
	}
	return s
}

// Finding is one thing to tell the owner. Problem and Hint are lower case and have no full stop.
type Finding struct {
	Code     Code
	Severity Severity
	Place    Place
	Stands   string // what stands in the cell, as written; empty when it is not about one cell
	Problem  string
	Hint     string
}

// String writes the finding on one line, without its hint.
func (f Finding) String() string {
	return fmt.Sprintf("%s: %s %s: %s", f.Place, f.Severity, f.Code, f.Problem)
}

// List is a list of findings.
type List []Finding

// Add appends a finding of the given kind; its severity comes from Kinds.
func (l *List) Add(code Code, at Place, stands, hint, problem string, args ...any) {
	*l = append(*l, Finding{Code: code, Severity: KindOf(code).Severity, Place: at, Stands: stands,
		Problem: fmt.Sprintf(problem, args...), Hint: hint})
}

// Sort puts the findings into reading order: file, sheet in the order given, row, column, code.
func (l List) Sort(sheetOrder map[string]int) {
	slices.SortStableFunc(l, func(a, b Finding) int {
		return cmp.Or(
			strings.Compare(a.Place.File, b.Place.File),
			cmp.Compare(sheetOrder[a.Place.Sheet], sheetOrder[b.Place.Sheet]),
			strings.Compare(a.Place.Sheet, b.Place.Sheet),
			cmp.Compare(a.Place.Row, b.Place.Row),
			cmp.Compare(a.Place.Col, b.Place.Col),
			strings.Compare(string(a.Code), string(b.Code)),
		)
	})
}

// Count returns how many findings have the severity.
func (l List) Count(s Severity) int {
	n := 0
	for _, f := range l {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// Kind describes a code: how severe it is, what it means, and what the owner can do.
type Kind struct {
	Code     Code
	Severity Severity
	Meaning  string
	ToDo     string
}

// Kinds returns every kind of finding, in the order of the README's list of messages.
func Kinds() []Kind {
	return slices.Concat(fileKinds, cellKinds, tableKinds, jobKinds, seasonKinds)
}

var kindByCode = sync.OnceValue(func() map[Code]Kind {
	all := map[Code]Kind{}
	for _, k := range Kinds() {
		all[k.Code] = k
	}
	return all
})

// KindOf returns the kind of a code. An unknown code is a mistake of ours and panics.
func KindOf(code Code) Kind {
	k, ok := kindByCode()[code]
	if !ok {
		panic("finding: no kind for code " + string(code))
	}
	return k
}
