// Package yearbook joins the weeks of a season: every load, board, sale and cut once, the mill's own shrinkage from all its
// boards together, its meter against the oven, and where the wet boards sit in its kiln.
package yearbook

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
)

// confidence is the confidence of every range of the account.
const confidence = 0.95

// Yearbook is everything the season's papers print.
type Yearbook struct {
	Weeks       []Week // every workbook, in order of its last day; those that could not be read last
	First, Last time.Time
	Settings    compute.Settings // of the last week read: mill, paper, units
	Loads       []Load           // in order of their first week
	Boards      []Board          // every board once, load by load
	Lines       []Line           // stock: one per load and footage rule, those of no load last
	Totals      []Line           // the sums of Lines, one per rule
	All         Line             // all boards, whatever their rule; its footage is not known
	Stock       []Group          // what is left, load by load
	Sales       []Sale           // every sale once, and what the mill used itself, by day
	Sawn        []Sawn           // green footage, one per rule
	Shrinkage   []Shrinkage
	Meters      []Meter
	Places      Places
	Spread      SawSpread
	Times       []KilnTime
	Advice      []Advice
	Findings    finding.List // of joining the weeks, in order of the weeks
}

// Week is one workbook and what became of it.
type Week struct {
	compute.Week
	SameAs string // it is the same, byte for byte, as this other one, and was counted with it
}

// Advice is a line for next week's settings. Known false: what it rests on is not enough yet, N of Need.
type Advice struct {
	Known   bool
	N, Need int
	Says    compute.Statement
}

// join is a yearbook in the making.
type join struct {
	book   *Yearbook
	weeks  []compute.Week // those read, in order
	loads  []*load
	names  map[string]int      // key of a load -> the load that goes by that name now
	inWeek []map[string]int    // per week: key of a load -> load
	boards []*board            // in order of first week
	find   map[boardKey]int    // -> boards
	byID   map[string][]int    // key of a board -> boards, over all loads
	lots   []*lot              // sold or used by the piece
	sales  map[string]*account // by key of the sale
	order  []*account
	place  map[string]int // of a file in the order of weeks, for sorting findings
}

// Join makes the account of a season from its weeks. The order of the weeks given does not matter.
func Join(given []compute.Week) *Yearbook {
	j := &join{book: &Yearbook{}, names: map[string]int{}, find: map[boardKey]int{}, byID: map[string][]int{}, sales: map[string]*account{}, place: map[string]int{}}
	j.takeWeeks(given)
	for w := range j.weeks {
		j.takeLoads(w)
	}
	for w := range j.weeks {
		j.takeBoards(w)
	}
	j.settlePlaces()
	for w := range j.weeks {
		j.takeSales(w)
	}
	j.settleLots()
	j.sumStock()
	j.sumSawn()
	j.kilnTimes()
	j.joinShrinkage()
	j.joinMeters()
	j.joinPlaces()
	j.sawSpread()
	j.advise()
	slices.SortStableFunc(j.book.Findings, func(a, b finding.Finding) int {
		return cmp.Or(cmp.Compare(j.place[a.Place.File], j.place[b.Place.File]), strings.Compare(a.Place.Sheet, b.Place.Sheet),
			cmp.Compare(a.Place.Row, b.Place.Row), cmp.Compare(a.Place.Col, b.Place.Col), strings.Compare(string(a.Code), string(b.Code)))
	})
	return j.book
}

// takeWeeks puts the weeks in order: by their last day, then the first, then by name. A week without any day comes first, so that
// every dated one counts before it. Of two alike to the byte only one counts.
func (j *join) takeWeeks(given []compute.Week) {
	all := slices.Clone(given)
	slices.SortStableFunc(all, func(a, b compute.Week) int {
		unread := func(w compute.Week) int {
			if w.Unread != "" {
				return 1
			}
			return 0
		}
		return cmp.Or(cmp.Compare(unread(a), unread(b)), a.Last.Compare(b.Last), a.First.Compare(b.First), strings.Compare(a.Name, b.Name), strings.Compare(hashes(a), hashes(b)))
	})
	seen := map[string]string{}
	for _, w := range all {
		row := Week{Week: w}
		h := hashes(w)
		switch other, twice := seen[h]; {
		case w.Unread != "":
		case twice && h != "":
			row.SameAs = other
			j.say("S013", finding.Place{File: w.FileName()}, "", "nothing to do; one of the two can go", "%s is the same, byte for byte, as %s and was counted once", w.FileName(), other)
		default:
			seen[h] = w.FileName()
			if w.Last.IsZero() {
				j.say("S010", finding.Place{File: w.FileName()}, "", "write the days of reading, weighing or selling", "%s holds no date, so its place among the weeks is not known; it was taken as the first", w.FileName())
			}
			j.weeks = append(j.weeks, w)
			j.book.Settings = w.Settings
			if j.book.First.IsZero() || !w.First.IsZero() && w.First.Before(j.book.First) {
				j.book.First = w.First
			}
			j.book.Last = w.Last
		}
		for _, f := range w.Files {
			if _, ok := j.place[f.Name]; !ok {
				j.place[f.Name] = len(j.place)
			}
		}
		j.book.Weeks = append(j.book.Weeks, row)
	}
	j.inWeek = make([]map[string]int, len(j.weeks))
}

// Errors counts what the weeks don't agree on so that something was not counted.
func (b *Yearbook) Errors() int { return b.Findings.Count(finding.Error) }

// Files are those of all weeks, in their order.
func (b *Yearbook) Files() []compute.InputFile {
	var all []compute.InputFile
	for _, w := range b.Weeks {
		all = append(all, w.Files...)
	}
	return all
}

// hashes joins the hashes of a week's files; empty when there is none.
func hashes(w compute.Week) string {
	var all []string
	for _, f := range w.Files {
		all = append(all, f.SHA256)
	}
	return strings.Join(all, " ")
}

func (j *join) say(code finding.Code, at finding.Place, stands, hint, problem string, args ...any) {
	j.book.Findings.Add(code, at, stands, hint, problem, args...)
}

// stated makes a Statement from its name and pairs of key and value.
func stated(name string, with ...any) compute.Statement {
	s := compute.Statement{Name: name, With: map[string]string{}}
	for i := 0; i+1 < len(with); i += 2 {
		s.With[with[i].(string)] = fmt.Sprint(with[i+1])
	}
	return s
}

// show writes a size in the measure of the last week.
func (j *join) show(l units.Length) string { return j.book.Settings.System.Size(l) }

// dayWords writes a day for a message.
func dayWords(t time.Time) string { return t.Format("2006-01-02") }

func day(t time.Time) time.Time { return t.Truncate(24 * time.Hour) }

// same reports whether two places are in one row. Files of two weeks go by their folder too, so the name tells them apart.
func same(a, b finding.Place) bool { return a.File == b.File && a.Sheet == b.Sheet && a.Row == b.Row }
