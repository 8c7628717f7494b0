package compute

import (
	"slices"
	"time"

	"drytally/compute/drying"
	"drytally/compute/finding"
	"drytally/compute/footage"
	"drytally/compute/units"
)

// Week is what the account of a season keeps of one workbook. It holds no more than that account needs, so that a year of
// weeks stays small.
type Week struct {
	Name        string
	Files       []InputFile
	Unread      string    // why nothing of it could be read; then nothing else is filled
	Unfilled    bool      // a blank workbook nothing was written into yet
	First, Last time.Time // first and last day of anything read, weighed, sawn or sold; zero when no day is written
	Used        int       // rows
	SetAside    int
	NotData     int
	Errors      int // findings of the workbook by itself
	Warnings    int
	Notes       int
	Settings    Settings
	Loads       []WeekLoad
	Boards      []WeekBoard
	Sales       []Sale // rows of the sold sheet
	Cuts        []WeekCut
	Shrinkage   []ShrinkBoard
	Pairs       []WeekPair
	Sizes       []SizeResult // the saw settings its cut sheet gave
	sizing      *Job         // what they were computed from
	Spread      SawSpread    // of the saw, as they were computed with
}

// FileName names a workbook as the owner knows it: its file, or the name of the set when it is several.
func (w *Week) FileName() string {
	if len(w.Files) == 1 {
		return w.Files[0].Name
	}
	return w.Name
}

// WeekLoad is one load as a workbook says it.
type WeekLoad struct {
	Load           *Load
	Species        []string
	N              int // boards in it
	Listed         int // boards of the boards sheet
	Measured       int
	Verdict        Verdict
	Mean           units.Estimate
	First, Latest  time.Time // of its readings
	Start, End     drying.Point
	Samples        int // sample boards Start and End rest on; 0: not known
	HeldBack       []string
	Courses, Spots int // of its stack; 0: not known
}

// WeekBoard is one board as a workbook says it.
type WeekBoard struct {
	Board   *Board
	ByPlace bool // known only by its place in the stack: its id is made of course and spot
	Species string
	Footage Footage
	Feet    footage.Feet  // exact, when Footage is known
	Least   units.Length  // least thickness measured
	MC      units.Reading // the mean of its corrected readings; NotTaken when it was not measured
	Over    bool
}

// WeekCut is a row of the saw's tally.
type WeekCut struct {
	Cut   *Cut
	Green Footage
	Feet  footage.Feet // exact, when Green is known
}

// WeekPair is one board whose moisture content is known by meter and by weight on the same day.
type WeekPair struct {
	Meter, Species string
	Load, Board    string
	Date           time.Time
	Shown, Weighed units.MC
	Section        bool // a section of it was dried in the oven; else it was weighed as a sample board
}

// AssessWeek computes what the papers of a workbook print, and what the account of a season keeps of it.
func AssessWeek(given *Job) (*Result, Week) {
	x := assess(given)
	r := x.out
	w := Week{Name: x.job.Name, Files: x.job.Files, Used: r.UsedRows(), SetAside: r.SetAside(), NotData: r.NotDataRows(),
		Errors: r.Findings.Count(finding.Error), Warnings: r.Findings.Count(finding.Warning), Notes: r.Findings.Count(finding.Note),
		Settings: x.job.Settings, Sales: x.job.Sales, Shrinkage: x.shrinkBoards(), Pairs: x.weighedPairs(), Sizes: r.Sizes, Spread: r.SawSpread,
		sizing: &Job{Settings: x.job.Settings, Wanted: x.job.Wanted, Cuts: x.job.Cuts, Climate: x.job.Climate}}
	w.sizing.Settings.SawSpread = r.SawSpread.Used
	w.First, w.Last = x.days()
	for i := range r.Loads {
		w.Loads = append(w.Loads, x.weekLoad(&r.Loads[i]))
	}
	for at := range r.Boards {
		w.Boards = append(w.Boards, x.weekBoard(at))
	}
	t := x.newTally()
	for i := range x.job.Cuts {
		green, feet := t.greenFeet(&x.job.Cuts[i])
		w.Cuts = append(w.Cuts, WeekCut{Cut: &x.job.Cuts[i], Green: green, Feet: feet})
	}
	return r, w
}

// SizesWith gives the saw settings of a week's wanted pieces with other figures of shrinkage, and with another spread of the
// saw where one is given.
func (w *Week) SizesWith(house []HouseShrinkage, sawSpread units.Length) []SizeResult {
	if w.sizing == nil {
		return nil
	}
	job := *w.sizing
	if sawSpread > 0 {
		job.Settings.SawSpread = sawSpread
	}
	x := &index{job: &job, out: &Result{Job: &job, House: house, SawSpread: SawSpread{Used: job.Settings.SawSpread}}}
	x.shapes()
	x.climate()
	x.sizeWanted()
	return x.out.Sizes
}

// days finds the first and the last day of what was read, weighed, sawn or sold; when no such day is written, those of loads
// and air.
func (x *index) days() (first, last time.Time) {
	take := func(t time.Time) {
		if t.IsZero() {
			return
		}
		if d := day(t); first.IsZero() || d.Before(first) {
			first = d
		}
		if d := day(t); d.After(last) {
			last = d
		}
	}
	for _, r := range x.job.Readings {
		take(r.Date)
	}
	for _, w := range x.job.Weights {
		take(w.Date)
	}
	for _, s := range x.job.Sales {
		take(s.Date)
	}
	known := first
	for _, c := range x.job.Cuts {
		take(c.Date)
	}
	if !known.IsZero() {
		return known, last // sawing of long ago, carried along with a load, does not begin the week
	}
	if !first.IsZero() {
		return first, last
	}
	for _, l := range x.job.Loads {
		take(l.DateIn)
		take(l.DateOut)
	}
	for _, a := range x.job.Air {
		take(a.Time)
	}
	return first, last
}

func (x *index) weekLoad(l *LoadResult) WeekLoad {
	w := WeekLoad{Load: l.Load, Species: l.Species, N: l.N, Listed: x.listed[key(l.Load.ID)], Measured: l.Measured, Verdict: l.Verdict, Mean: l.Mean,
		First: l.FirstReading, Latest: l.LastReading, HeldBack: l.HeldBack, Courses: l.Courses, Spots: l.Spots}
	samples := x.samplesOf(key(l.Load.ID))
	if weighed := slices.DeleteFunc(slices.Clone(samples), func(s sample) bool { return s.ovendry == 0 }); len(weighed) > 0 {
		samples = weighed // a section alone speaks for its own day only
	}
	if curve := meanCurve(samples); len(curve) > 0 {
		w.Start, w.End, w.Samples = curve[0], curve[len(curve)-1], len(samples)
		for _, p := range curve {
			if p.Time.Before(w.Start.Time) {
				w.Start = p
			}
			if p.Time.After(w.End.Time) {
				w.End = p
			}
		}
	}
	return w
}

func (x *index) weekBoard(at int) WeekBoard {
	b := x.out.Boards[at]
	w := WeekBoard{Board: b.Board, ByPlace: b.Board.Course > 0 && b.Board.ID == placeID(b.Board.Course, b.Board.Spot), Species: b.Species.Name,
		Footage: b.Footage, Feet: x.feet[at], Least: leastOf(b.Board.Thickness), Over: b.Over}
	if load, ok := x.loadOf(b.Board.Load); ok && x.measured[load] != nil {
		w.MC = x.measured[load].means[0][at]
	}
	return w
}

// weighedPairs lists the boards measured by meter and by weight: those a section was cut from, and sample boards of the stack
// that were weighed within a day of their reading.
func (x *index) weighedPairs() []WeekPair {
	var all []WeekPair
	for _, m := range x.out.Meters {
		if !m.Oven {
			continue
		}
		for _, p := range m.Pairs {
			all = append(all, WeekPair{Meter: m.Meter, Species: m.Species, Load: p.Load, Board: p.Board, Date: p.Date, Shown: p.Shown, Weighed: p.Against, Section: true})
		}
	}
	variants := x.allVariants()
	if len(variants) == 0 {
		return all
	}
	name := x.meterName(x.mainMeterKey)
	for _, d := range x.meterDays(x.mainMeterKey) {
		b := x.out.Boards[d.board]
		load, ok := x.loadOf(b.Board.Load)
		if !ok || d.day.IsZero() || len(d.readings) == 0 {
			continue
		}
		same := func(p WeekPair) bool {
			return SameID(p.Board, b.Board.ID) && SameID(p.Load, b.Board.Load) && p.Date.Equal(d.day)
		}
		for _, s := range x.samplesOf(load) {
			if key(s.id) != key(b.Board.ID) || s.ovendry == 0 || slices.ContainsFunc(all, same) {
				continue
			}
			near := slices.MinFunc(s.points, func(p, q drying.Point) int { return int(gap(day(p.Time), d.day) - gap(day(q.Time), d.day)) })
			shown, ok := x.shown(x.mainMeterKey, d, variants[0])
			if !ok || gap(day(near.Time), d.day) > pairedWithin {
				continue
			}
			all = append(all, WeekPair{Meter: name, Species: b.Species.Name, Load: b.Board.Load, Board: b.Board.ID, Date: d.day,
				Shown: units.PercentTenth(shown), Weighed: near.MC.Tenth()})
		}
	}
	return all
}
