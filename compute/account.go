package compute

import (
	"cmp"
	"iter"
	"slices"

	"drytally/compute/finding"
)

// Fate says what became of a row.
type Fate uint8

// The fates. Every row with content has exactly one.
const (
	NotData  Fate = iota // title, heading, note, total, or a table of no kind we read
	Used                 // at least one record was made of it
	SetAside             // a row of data that was not used; Why says why
)

// String gives the word printed for the fate.
func (f Fate) String() string { return [...]string{"not data", "used", "set aside"}[f] }

// RowFate is what became of one row of a sheet that holds any content.
type RowFate struct {
	Row  int
	Kind Kind // empty when the row belongs to no table
	Fate Fate
	Why  string // for NotData: title, heading, total, note, ...; for SetAside: the reason in a few words
}

// Account is what became of all rows of one sheet. Rows.Len() is the number of rows with content.
type Account struct {
	File, Sheet string
	Rows        Fates
}

// cloned copies accounts, so that one can be changed and the other not.
func cloned(accounts []Account) []Account {
	all := slices.Clone(accounts)
	for i := range all {
		all[i].Rows.runs = slices.Clone(all[i].Rows.runs)
	}
	return all
}

// Count returns how many rows had the fate.
func (a Account) Count(f Fate) int {
	n := 0
	for _, r := range a.Rows.runs {
		if r.Fate == f {
			n += r.len()
		}
	}
	return n
}

// holds reports whether the account is of the sheet a place is on. That of a CSV file names no sheet.
func (a Account) holds(p finding.Place) bool {
	return a.File == p.File && (p.Sheet == "" || a.Sheet == p.Sheet)
}

// SetRowAside turns a row that was used into one that was not, and says why.
func SetRowAside(accounts []Account, row finding.Place, why string) {
	for i := range accounts {
		if accounts[i].holds(row) {
			accounts[i].Rows.setAside(row.Row, why)
		}
	}
}

// Fates is what became of the rows of a sheet, in the order of the rows. The rows of a table mostly fare alike: rows one below
// the other with the same fate are kept as one run.
type Fates struct{ runs []rowRun }

// rowRun is rows one below the other of one fate, that of the first.
type rowRun struct {
	RowFate
	last int
}

func (r rowRun) len() int { return r.last - r.Row + 1 }

// joins reports whether a row goes on a run.
func (r rowRun) joins(f RowFate) bool {
	return f.Row == r.last+1 && f.Kind == r.Kind && f.Fate == r.Fate && f.Why == r.Why
}

// FatesOf gives the fates of rows, which are in order.
func FatesOf(rows ...RowFate) Fates {
	var f Fates
	for _, r := range rows {
		f.Add(r)
	}
	return f
}

// Add adds the fate of a row below all others.
func (f *Fates) Add(r RowFate) { f.addRun(rowRun{r, r.Row}) }

// setAside gives a row another fate. The row must be one that has a fate; others are left alone.
func (f *Fates) setAside(row int, why string) {
	i, _ := slices.BinarySearchFunc(f.runs, row, func(r rowRun, row int) int { return cmp.Compare(r.last, row) })
	if i == len(f.runs) || f.runs[i].Row > row {
		return
	}
	old := f.runs[i]
	var parts Fates // the run, parted at the row, and its neighbors, which may go on with the row
	from, to := max(i-1, 0), min(i+2, len(f.runs))
	for _, r := range f.runs[from:to] {
		if r.Row != old.Row {
			parts.addRun(r)
			continue
		}
		aside := old.RowFate
		aside.Row, aside.Fate, aside.Why = row, SetAside, why
		behind := old
		behind.Row = row + 1
		parts.addRun(rowRun{old.RowFate, row - 1})
		parts.addRun(rowRun{aside, row})
		parts.addRun(behind)
	}
	f.runs = slices.Replace(f.runs, from, to, parts.runs...)
}

// addRun adds a run below all others, if there is a row in it.
func (f *Fates) addRun(r rowRun) {
	switch n := len(f.runs); {
	case r.len() == 0:
	case n > 0 && f.runs[n-1].joins(r.RowFate):
		f.runs[n-1].last = r.last
	default:
		f.runs = append(f.runs, r)
	}
}

// any reports whether a row of a kind of table has a fate.
func (f Fates) any(kind Kind, fate Fate) bool {
	return slices.ContainsFunc(f.runs, func(r rowRun) bool { return r.Kind == kind && r.Fate == fate })
}

// Len is the number of rows.
func (f Fates) Len() int {
	n := 0
	for _, r := range f.runs {
		n += r.len()
	}
	return n
}

// All gives the rows in order.
func (f Fates) All() iter.Seq[RowFate] {
	return func(yield func(RowFate) bool) {
		for _, r := range f.runs {
			for ; r.Row <= r.last; r.Row++ {
				if !yield(r.RowFate) {
					return
				}
			}
		}
	}
}
