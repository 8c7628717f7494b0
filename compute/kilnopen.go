package compute

import (
	"strings"
	"time"

	"drytally/compute/stack"
	"drytally/compute/units"
)

// openRoom is how much wider than the settings keep free a way past the boards is before it is said: our choice.
const openRoom = 6 * units.Inch

// kilnOpenings says where a stack leaves the air a way round its boards: above it, behind its back end, over ends that lie short, and
// between boards of a course that need no filling up to bear what lies above.
func (x *index) kilnOpenings(l *KilnLoad) {
	k, near := x.job.Settings.Kiln, func(w units.Length) string { return x.job.Settings.System.SizeTo(w, units.Fraction(1, 8)) }
	stacks := l.Plan.Stacks
	before := 0
	warn := func(name string, stack int, with ...any) {
		l.Open = append(l.Open, stated(name, append(with, "stack", stack+1, "stacks", len(stacks))...))
	}
	for i := range stacks {
		s := &stacks[i]
		if above := k.Height - s.Height; above > k.Top+openRoom {
			warn("kiln-open-above", i, "room", near(above), "kept", near(k.Top))
		}
		end := k.Length
		if i+1 < len(stacks) {
			end = stacks[i+1].Start
		}
		if behind := end - s.Start - s.Length; behind > k.EndGap+openRoom {
			warn("kiln-open-behind", i, "room", near(behind), "kept", near(k.EndGap))
		}
		short, from, to := units.Length(0), 0, 0
		for c := range s.Courses {
			if by := s.Length - s.Courses[c].Shortest; by > openRoom {
				if short == 0 {
					from = before + c + 1
				}
				short, to = max(short, by), before+c+1
			}
		}
		if short > 0 {
			warn("kiln-open-short", i, "room", near(short), "from", from, "to", to)
		}
		for c := range s.Courses {
			if gap := widestGap(s, c); gap > k.BoardGap+openRoom && !s.Courses[c].Sparse {
				warn("kiln-open-course", i, "course", before+c+1, "room", near(gap), "boards", len(s.Courses[c].Boards))
			}
		}
		before += len(s.Courses)
	}
	if len(l.Open) > 0 {
		l.Open = append(l.Open, stated("kiln-open-from", "room", near(openRoom)))
	}
}

// widestGap is the widest way through a course: between its boards, or beside a single one.
func widestGap(s *stack.Stack, course int) units.Length {
	c := &s.Courses[course]
	if len(c.Boards) == 1 {
		return (s.Width - c.Boards[0].Width) / 2
	}
	return c.Gap
}

// inKilnTogether gives the days on which both loads stood in a kiln. A load without a date out still does; the day one comes out and
// the other goes in is none.
func inKilnTogether(a, b *Load) (from, to time.Time, ok bool) {
	if a.DateIn.IsZero() || b.DateIn.IsZero() {
		return from, to, false
	}
	from, to = a.DateIn, a.DateOut
	if b.DateIn.After(from) {
		from = b.DateIn
	}
	if to.IsZero() || !b.DateOut.IsZero() && b.DateOut.Before(to) {
		to = b.DateOut
	}
	return from, to, to.IsZero() || from.Before(to)
}

// oneKiln says which loads stood in the kiln on the same days: the settings describe one kiln.
func (x *index) oneKiln() {
	for i := range x.job.Loads {
		for k := range i {
			a, b := &x.job.Loads[k], &x.job.Loads[i]
			from, to, ok := inKilnTogether(a, b)
			if !ok {
				continue
			}
			until := "with no date out of either"
			if !to.IsZero() {
				until = "until " + dateOr(to)
			}
			x.say("J083", b.Origin.At("date in"), dateOr(b.DateIn), "nothing, if they dried together or you have another kiln; else correct the dates",
				"loads %q and %q were both in a kiln from %s %s; the settings describe one kiln", a.ID, b.ID, dateOr(from), until)
		}
	}
}

// kilnTaken says of boards that wait for the kiln which loads still stand in it.
func (x *index) kilnTaken(l *KilnLoad) {
	if !l.DateIn.IsZero() {
		return
	}
	var in []string
	for i := range x.job.Loads {
		if o := &x.job.Loads[i]; !o.DateIn.IsZero() && o.DateOut.IsZero() {
			in = append(in, o.ID+" (in since "+dateOr(o.DateIn)+")")
		}
	}
	if len(in) > 0 {
		l.Taken = stated("kiln-taken", "n", len(in), "loads", strings.Join(in, ", "))
	}
}
