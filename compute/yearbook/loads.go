package yearbook

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/drying"
	"drytally/compute/finding"
	"drytally/compute/units"
)

// Load is one kiln load over all weeks it stands in. What the later week says counts.
type Load struct {
	compute.Load
	Name       string // its id; with the day it went in where two loads go by one name
	Species    []string
	N          int // boards in it
	Listed     int // of these, boards with a number
	Thickness  units.Length
	Days       int // in the kiln; 0 when a day is missing
	Start, End Known
	Verdicts   []WeekVerdict
	HeldBack   []string // boards to take out, by the last week that measured it
	Kept       string   // how its boards are kept after the kiln, as the settings of its last week say
	InKiln     bool     // it went in, and no day out is written
}

// Known is a moisture content with its day and how it is known. By empty: it is not known.
type Known struct {
	MC   units.MC
	Date time.Time
	By   string // weights or readings
	N    int    // sample boards, or boards measured
}

// WeekVerdict is the verdict of one week that measured the load.
type WeekVerdict struct {
	File        string
	Date        time.Time // of the week's last reading of it
	Verdict     compute.Verdict
	Measured, N int
}

// Dry reports whether the last verdict was dry, with or without held-back boards.
func (l *Load) Dry() bool {
	if len(l.Verdicts) == 0 {
		return false
	}
	v := l.Verdicts[len(l.Verdicts)-1].Verdict
	return v == compute.DryForUse || v == compute.DryButHeldBack
}

// load is a Load in the making: where each figure that counts was read.
type load struct {
	Load
	key   string
	at    map[string]finding.Place
	weeks []int // it stands in
	last  *compute.WeekLoad
}

// takeLoads takes in the loads of a week.
func (j *join) takeLoads(w int) {
	week := &j.weeks[w]
	for i := range week.Loads {
		wl := &week.Loads[i]
		k := compute.IDKey(wl.Load.ID)
		at, known := j.names[k]
		if known && j.again(j.loads[at], wl.Load) {
			known = false
		}
		if !known {
			at = len(j.loads)
			j.names[k] = at
			name := wl.Load.ID
			if slices.ContainsFunc(j.loads, func(l *load) bool { return l.key == k }) {
				name = fmt.Sprintf("%s (in %s)", wl.Load.ID, dayWords(wl.Load.DateIn))
			}
			j.loads = append(j.loads, &load{Load: Load{Load: compute.Load{ID: wl.Load.ID, Origin: wl.Load.Origin}, Name: name}, key: k, at: map[string]finding.Place{}})
		}
		j.mergeLoad(j.loads[at], wl, w)
	}
	j.inWeek[w] = map[string]int{}
	for k, at := range j.names {
		j.inWeek[w][k] = at
	}
}

// again reports whether a row is of another load than the one that went by its name before: it went in on or after the day
// that one came out.
func (j *join) again(l *load, row *compute.Load) bool {
	if l.DateOut.IsZero() || l.DateIn.IsZero() || row.DateIn.IsZero() || row.DateIn.Equal(l.DateIn) || row.DateIn.Before(l.DateOut) {
		return false
	}
	j.say("S002", row.Origin.At("load"), row.ID, "give every load of the season a name of its own", "load %q went in on %s here, after the load of that name in %s came out on %s; they were taken as two loads",
		row.ID, dayWords(row.DateIn), l.at["date out"], dayWords(l.DateOut))
	return true
}

// mergeLoad takes what a week says of a load. A figure that differs from the earlier week's is a finding; the later counts.
func (j *join) mergeLoad(l *load, wl *compute.WeekLoad, w int) {
	row := wl.Load
	differs := func(field, old, new string) {
		if before, ok := l.at[field]; ok && old != "" && new != "" && old != new && !same(before, row.Origin.At(field)) {
			j.say("S001", row.Origin.At(field), new, "correct the one that is wrong", "load %q: %s is %q here and %q in %s; the later one counts", row.ID, field, new, old, before)
		}
		if new != "" {
			l.at[field] = row.Origin.At(field)
		}
	}
	fold := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
	count := func(n int) string {
		if n == 0 {
			return ""
		}
		return fmt.Sprint(n)
	}
	mc := func(m units.MC) string {
		if m == 0 {
			return ""
		}
		return m.String() + " %"
	}
	when := func(t time.Time) string {
		if t.IsZero() {
			return ""
		}
		return dayWords(t)
	}
	take := func(dst *string, field, new string) {
		differs(field, fold(*dst), fold(new))
		if new != "" {
			*dst = new
		}
	}
	take(&l.Use, "use", row.Use)
	take(&l.Region, "region", row.Region)
	number(&l.Limit, row.Limit, func(a, b units.MC) { differs("limit", mc(a), mc(b)) })
	number(&l.Low, row.Low, func(a, b units.MC) { differs("lowest", mc(a), mc(b)) })
	number(&l.Boards, row.Boards, func(a, b int) { differs("boards", count(a), count(b)) })
	number(&l.Courses, row.Courses, func(a, b int) { differs("courses", count(a), count(b)) })
	number(&l.Spots, row.Spots, func(a, b int) { differs("spots", count(a), count(b)) })
	for _, d := range []struct {
		dst   *time.Time
		field string
		new   time.Time
	}{{&l.DateIn, "date in", row.DateIn}, {&l.DateOut, "date out", row.DateOut}} {
		differs(d.field, when(*d.dst), when(d.new))
		if !d.new.IsZero() {
			*d.dst = d.new
		}
	}
	for _, s := range wl.Species {
		if !slices.Contains(l.Load.Species, s) {
			l.Load.Species = append(l.Load.Species, s)
		}
	}
	if row.Note != "" {
		l.Note = row.Note
	}
	l.Origin = row.Origin
	l.weeks = append(l.weeks, w)
	if stored := j.weeks[w].Settings.Stored; stored != "" {
		l.Kept = stored
	}
	j.takeMoisture(l, wl, w)
}

// number keeps a figure that is given, and reports it with the one before.
func number[T int | units.MC](dst *T, new T, differs func(old, new T)) {
	differs(*dst, new)
	if new != 0 {
		*dst = new
	}
}

// takeMoisture takes a week's first and last moisture contents of a load, and its verdict. The start is known best by the sample
// boards, the end by the readings of the boards themselves.
func (j *join) takeMoisture(l *load, wl *compute.WeekLoad, w int) {
	weighed := func(p drying.Point) Known {
		return Known{MC: p.MC.Tenth(), Date: day(p.Time), By: "weights", N: wl.Samples}
	}
	read := Known{MC: wl.Mean.Value, Date: day(wl.Latest), By: "readings", N: wl.Measured}
	if wl.Samples > 0 {
		if s := weighed(wl.Start); l.Start.By != "weights" || s.Date.Before(l.Start.Date) {
			l.Start = s
		}
		if e := weighed(wl.End); l.End.By != "readings" && !e.Date.Before(l.End.Date) {
			l.End = e
		}
	}
	if wl.Measured == 0 {
		return
	}
	if wl.Mean.Known {
		if l.Start.By == "" {
			l.Start = read
		}
		if l.End.By != "readings" || !read.Date.Before(l.End.Date) {
			l.End = read
		}
	}
	v := WeekVerdict{File: j.weeks[w].FileName(), Date: wl.Latest, Verdict: wl.Verdict, Measured: wl.Measured, N: wl.N}
	if n := len(l.Verdicts); n > 0 && l.Verdicts[n-1].Date.Equal(v.Date) && l.Verdicts[n-1].Verdict == v.Verdict && l.Verdicts[n-1].Measured == v.Measured {
		l.Verdicts = l.Verdicts[:n-1] // the same readings, carried over into the next workbook
	}
	l.Verdicts = append(l.Verdicts, v)
	l.HeldBack = slices.Clone(wl.HeldBack)
	l.last = wl
}

// loadAt finds the load a name means in a week: -1 when no week up to then, and none later, has it.
func (j *join) loadAt(w int, name string) int {
	k := compute.IDKey(name)
	if at, ok := j.inWeek[w][k]; ok {
		return at
	}
	for i, l := range j.loads {
		if l.key == k {
			return i
		}
	}
	return -1
}

// onlyLoad gives the one load of a week, when there is just one.
func (j *join) onlyLoad(w int) int {
	if len(j.weeks[w].Loads) != 1 {
		return -1
	}
	return j.loadAt(w, j.weeks[w].Loads[0].Load.ID)
}
