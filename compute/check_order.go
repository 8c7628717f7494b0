package compute

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"
)

// dated is a row with a date, for the check of their order.
type dated struct {
	at     time.Time
	origin Origin
}

// Of a list of dates in order but for some, each is said; with more than mostStray of them out of order (as a share) the
// list as a whole is.
const mostStray = 1.0 / 3

// mostSaidStray is how many rows of one list are said one by one.
const mostSaidStray = 5

// checkOrder: weighings of one sample, or lines of one air log, whose dates go back against the order of their rows. A list
// that begins with the latest date is in order too.
func checkOrder(x *index) {
	lists := map[string][]dated{}
	var names []string
	add := func(name string, at time.Time, o Origin) {
		if at.IsZero() {
			return
		}
		sheet := o.At("")
		name += "|" + sheet.File + "|" + sheet.Sheet
		if lists[name] == nil {
			names = append(names, name)
		}
		lists[name] = append(lists[name], dated{at, o})
	}
	for i := range x.job.Weights {
		if w := &x.job.Weights[i]; w.Weight != 0 {
			add("weighings of sample "+quoted(w.Sample)+"|"+key(w.Load), w.Date, w.Origin)
		}
	}
	for i := range x.job.Air {
		a := &x.job.Air[i]
		add("lines of this log|"+key(a.Load)+"|"+key(a.Where), a.Time, a.Origin)
	}
	for _, name := range names {
		what, _, _ := strings.Cut(name, "|")
		x.tellOrder(what, byDays(lists[name]))
	}
}

// byDays leaves the clock time out of a list in which some row has none.
func byDays(list []dated) []dated {
	if !slices.ContainsFunc(list, func(d dated) bool { return d.at.Equal(day(d.at)) }) {
		return list
	}
	days := slices.Clone(list)
	for i := range days {
		days[i].at = day(days[i].at)
	}
	return days
}

func (x *index) tellOrder(what string, list []dated) {
	kept := inOrder(list)
	stray := len(list) - len(kept)
	if len(list) < 3 || stray == 0 {
		return
	}
	inKept := map[int]bool{}
	for _, i := range kept {
		inKept[i] = true
	}
	if float64(stray) > mostStray*float64(len(list)) || stray > mostSaidStray {
		for i, d := range list {
			if !inKept[i] {
				x.say("J041", d.origin.At("date"), d.at.Format(time.DateOnly), "check these dates", "%d of the %d %s are out of order of date, the first of them here", stray, len(list), what)
				return
			}
		}
	}
	for i, d := range list {
		if inKept[i] {
			continue
		}
		hint := "check the date"
		before, after := neighbors(list, inKept, i)
		for _, years := range []int{1, -1} {
			if meant := d.at.AddDate(years, 0, 0); between(meant, before, after) {
				hint = "is it " + meant.Format(time.DateOnly) + "?"
			}
		}
		near := before
		if near == nil {
			near = after
		}
		x.say("J041", d.origin.At("date"), d.at.Format(time.DateOnly), hint, "this date, %s, is out of order: the row %s it is of %s",
			d.at.Format(time.DateOnly), map[bool]string{true: "above", false: "below"}[near == before], near.at.Format(time.DateOnly))
	}
}

// neighbors gives the rows in order just above and below row i.
func neighbors(list []dated, inKept map[int]bool, i int) (before, after *dated) {
	for k := i - 1; k >= 0 && before == nil; k-- {
		if inKept[k] {
			before = &list[k]
		}
	}
	for k := i + 1; k < len(list) && after == nil; k++ {
		if inKept[k] {
			after = &list[k]
		}
	}
	return before, after
}

// between reports whether a date lies between two rows, whichever is later; an end of the list is open.
func between(t time.Time, before, after *dated) bool {
	switch {
	case before == nil || after == nil:
		return false
	case before.at.After(after.at):
		return !t.After(before.at) && !t.Before(after.at)
	}
	return !t.Before(before.at) && !t.After(after.at)
}

// inOrder gives the longest part of a list whose dates only go forward, or only back, as indices.
func inOrder(list []dated) []int {
	up := longestRun(list, func(a, b time.Time) bool { return !b.Before(a) })
	down := longestRun(list, func(a, b time.Time) bool { return !b.After(a) })
	if len(down) > len(up) {
		return down
	}
	return up
}

// longestRun gives the longest subsequence in which follows holds from each to the next (patience sorting).
func longestRun(list []dated, follows func(a, b time.Time) bool) []int {
	var ends []int // ends[n] is the index of the best last element of a run of n+1
	prev := make([]int, len(list))
	for i, d := range list {
		// The first run whose end can't be followed by d is the one d shortens.
		n := sort.Search(len(ends), func(n int) bool { return !follows(list[ends[n]].at, d.at) })
		prev[i] = -1
		if n > 0 {
			prev[i] = ends[n-1]
		}
		if n == len(ends) {
			ends = append(ends, i)
		} else {
			ends[n] = i
		}
	}
	var run []int
	if len(ends) > 0 {
		for i := ends[len(ends)-1]; i >= 0; i = prev[i] {
			run = append(run, i)
		}
	}
	slices.Reverse(run)
	return run
}

// checkSaleDates: boards sold before their load came out of the kiln.
func checkSaleDates(x *index) {
	for i := range x.job.Sales {
		s := &x.job.Sales[i]
		name := s.Load
		if name == "" && len(s.Boards) > 0 {
			if at, n := x.findBoard("", s.Boards[0]); n == 1 {
				name = x.out.Boards[at].Board.Load
			}
		}
		load, ok := x.loadOf(name)
		if !ok || s.Date.IsZero() {
			continue
		}
		l := x.job.Loads[x.loads[load]]
		if out := l.DateOut; !out.IsZero() && day(s.Date).Before(day(out)) {
			x.say("J016", s.Origin.At("date"), s.Date.Format(time.DateOnly), "check the date of the sale and of the load", "this sale is of %s, before load %q came out on %s",
				s.Date.Format(time.DateOnly), l.ID, out.Format(time.DateOnly))
		}
	}
}

// checkOversold: the sales of one load together take more boards than it holds. One row that alone takes too many is said by
// the sale itself; boards not known or sold already are said there too and not counted here.
func checkOversold(x *index) {
	taken := map[string]int{}
	said := map[string]bool{}
	sold := map[int]bool{}
	for i := range x.job.Sales {
		s := &x.job.Sales[i]
		name, n := s.Load, s.Pieces
		if len(s.Boards) > 0 {
			n = 0
			for _, id := range s.Boards {
				at, loads := x.findBoard(s.Load, id)
				if loads != 1 || sold[at] {
					continue
				}
				sold[at] = true
				name = x.out.Boards[at].Board.Load
				n++
			}
		}
		load, ok := x.loadOf(name)
		if !ok || n == 0 {
			continue
		}
		l := x.job.Loads[x.loads[load]]
		held := max(l.Boards, x.listed[load])
		if n > held {
			continue
		}
		if taken[load] += n; taken[load] > held && !said[load] {
			said[load] = true
			x.say("J017", s.Origin.At("pieces"), fmt.Sprint(n), "check the sales of this load", "with this sale %d pieces of load %q are sold, which holds %d", taken[load], l.ID, held)
		}
	}
}
