package compute

import "fmt"

// SetAside counts the rows of data that were not used.
func (r *Result) SetAside() int { return r.rows(SetAside) }

// UsedRows counts the rows that were used.
func (r *Result) UsedRows() int { return r.rows(Used) }

// NotDataRows counts titles, headings, notes and totals.
func (r *Result) NotDataRows() int { return r.rows(NotData) }

func (r *Result) rows(f Fate) int {
	n := 0
	for _, a := range r.Accounts {
		n += a.Count(f)
	}
	return n
}

// ExampleRow is the reason of a row that is an example of the blank workbook as it stands.
const ExampleRow = "example"

// Unfilled reports whether a workbook is a blank one in which nothing was filled in but settings.
func (r *Result) Unfilled() bool {
	examples := 0
	for _, a := range r.Accounts {
		for row := range a.Rows.All() {
			switch {
			case row.Fate == SetAside, row.Fate == Used && row.Kind != KindSettings:
				return false
			case row.Fate == NotData && row.Why == ExampleRow:
				examples++
			}
		}
	}
	return examples > 0
}

// Withheld names the papers for others that are withheld.
func (r *Result) Withheld() []string {
	var papers []string
	for _, l := range r.Loads {
		if l.Withheld {
			papers = append(papers, fmt.Sprintf("certificate of load %s", l.Load.ID))
		}
	}
	for _, s := range r.Sales {
		if s.Withheld {
			papers = append(papers, fmt.Sprintf("statement and tags of sale %s", s.ID))
		}
	}
	return papers
}
