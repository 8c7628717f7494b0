package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/source"
	"drytally/compute/stack"
	"drytally/compute/units"
	"drytally/report/page"
)

// kilnPaper makes the paper held while loading: what fits, the stack seen from its end, and every course with a box to tick.
func (j *job) kilnPaper() ([]byte, error) {
	return drawn(j.paper("Loading the kiln", j.Job.Name, "kiln loading", j.weekDay()), j.drawKiln)
}

func (j *job) drawKiln(d *page.Doc) {
	for i := range j.Kiln.Loads {
		l := &j.Kiln.Loads[i]
		if i > 0 { // each load is a sheet of its own to take along
			d.NewPage()
		}
		j.drawKilnLoad(d, l)
	}
	if len(j.Kiln.Loads) == 0 {
		d.Para(j.wording("kiln-nothing"), page.Style{Size: page.SizeLead})
	}
	var out []string
	for _, a := range j.Kiln.Aside {
		out = append(out, fmt.Sprintf("load %s (out %s, %s)", shortID(a.Load), date(a.Out), count(a.Boards, "board", "boards")))
	}
	if len(out) > 0 {
		d.Space(1)
		d.Para(j.wording("kiln-aside", "loads", list(out)), page.Style{Size: page.SizeTable})
	}
	d.Para(j.kilnSettings(), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	d.Space(2)
	j.drawCautions(d, "kiln", j.weekWoods(), nil, nil)
}

// kilnSettings writes the gaps and sizes the stacks rest on: the owner's, and those that are common practice without a source.
func (j *job) kilnSettings() string {
	var yours, usual []string
	for _, u := range j.Job.Settings.Used {
		if !slices.Contains(kilnSettingNames, u.Name) {
			continue
		}
		if words := u.Name + " " + u.Value; u.Source.Status == source.CommonPractice {
			usual = append(usual, words)
		} else {
			yours = append(yours, words)
		}
	}
	return j.wording("kiln-settings", "yours", list(yours), "usual", list(usual))
}

// kilnSettingNames are the settings of a stack.
var kilnSettingNames = []string{"sticker thickness", "sticker spacing", "gap between boards", "gap at the walls", "gap at the ends", "bolster height", "room above the stack"}

// kilnName names what a plan loads.
func kilnName(l *compute.KilnLoad) string {
	if l.Load == "" {
		return "Boards of no load yet"
	}
	return "Load " + shortID(l.Load)
}

// kilnFits says in one sentence what fits.
func (j *job) kilnFits(l *compute.KilnLoad) string {
	courses := 0
	for _, s := range l.Plan.Stacks {
		courses += len(s.Courses)
	}
	name := "kiln-some-out"
	switch {
	case l.Out == 0:
		name = "kiln-all-fit"
	case l.Placed == 0:
		name = "kiln-none-fit"
	}
	return j.wording(name, "n", strconv.Itoa(l.Placed), "of", strconv.Itoa(l.Placed+l.Out), "out", strconv.Itoa(l.Out), "courses", strconv.Itoa(courses))
}

func (j *job) drawKilnLoad(d *page.Doc, l *compute.KilnLoad) {
	head := kilnName(l)
	if !l.DateIn.IsZero() {
		head += ", in the kiln since " + date(l.DateIn)
	}
	d.Heading(1, head)
	d.Para(j.kilnFits(l), page.Style{Size: page.SizeLead, Face: page.Bold})
	if l.Taken.Name != "" {
		d.Para(j.say(l.Taken), page.Style{Face: page.Bold})
	}
	d.Para(j.say(l.Says[0]), page.Style{})
	d.Space(1)
	if l.Placed > 0 {
		d.Pairs(j.kilnFigures(l), 2)
		d.Space(1)
		if len(l.Warnings) > 0 {
			d.KeepTogether(func() {
				d.Heading(2, "Mind before loading")
				d.Bullets(j.allSaid(l.Warnings), page.Style{})
			})
		}
		for i := range l.Plan.Stacks {
			j.drawKilnStack(d, l, i)
		}
		small := page.Style{Size: page.SizeTable}
		d.Para(j.wording("kiln-order"), small)
		j.drawCourses(d, l)
		if len(l.Open) > 0 {
			d.KeepTogether(func() {
				d.Heading(2, "Where the air finds a way round")
				d.Bullets(j.allSaid(l.Open), small)
			})
		}
		says := append(j.allSaid(l.Says[1:]), j.wording("kiln-weight-spread"))
		d.KeepTogether(func() {
			d.Heading(2, "Weight and air")
			d.Bullets(says, small)
		})
	}
	j.drawKilnRows(d, l)
}

// kilnFigures are the figures of a load as it stands.
func (j *job) kilnFigures(l *compute.KilnLoad) []page.Pair {
	k := j.Kiln.Kiln
	var feet []string
	for _, f := range l.Footage {
		feet = append(feet, footageWords(f))
	}
	var high, gap, apart []string
	for _, s := range l.Plan.Stacks {
		high = append(high, j.near(s.Height))
		gap = append(gap, j.near(s.Side))
		apart = append(apart, j.near(s.Widest))
	}
	return []page.Pair{
		{Key: "Kiln inside", Value: j.system.Run(k.Length) + " long, " + j.system.Run(k.Width) + " wide, " + j.system.Run(k.Height) + " high"},
		{Key: "Stack", Value: strings.Join(high, ", ") + " high from the floor; " + strings.Join(slices.Compact(gap), ", ") + " free at each wall"},
		{Key: "Green footage", Value: strings.Join(feet, "; ")},
		{Key: "Stickers", Value: fmt.Sprintf("%d of %s, %s in all", l.Stickers, j.system.Size(k.Sticker), j.system.Running(l.StickerRun.Feet()))},
		{Key: "Stickers apart", Value: "at most " + strings.Join(slices.Compact(apart), ", ")},
		{Key: "Bolsters", Value: fmt.Sprintf("%d, one under each line of stickers, %s high", l.Lines, j.system.Size(k.Bolster))},
	}
}

// near writes a length of the stack to the eighth of an inch or the millimetre: a stack is not built to a 64th.
func (j *job) near(l units.Length) string { return j.system.SizeTo(l, units.Fraction(1, 8)) }

// courseRun is courses that follow each other and are alike.
type courseRun struct {
	from, to int // counted from the bottom of their stack, from 0
	first    stack.Course
}

// courseRuns joins the courses of a stack that are alike.
func courseRuns(s *stack.Stack) []courseRun {
	var runs []courseRun
	for i, c := range s.Courses {
		if n := len(runs); n > 0 && alikeCourses(runs[n-1].first, c) {
			runs[n-1].to = i
			continue
		}
		runs = append(runs, courseRun{i, i, c})
	}
	return runs
}

func alikeCourses(a, b stack.Course) bool {
	return slices.EqualFunc(a.Boards, b.Boards, func(x, y stack.Board) bool { return x.Row == y.Row })
}

// courseBoards writes what a course holds: 10 of 1" x 10" x 12'.
func (j *job) courseBoards(l *compute.KilnLoad, c stack.Course, where bool) string {
	n := map[int]int{}
	var rows []int
	for _, b := range c.Boards {
		if n[b.Row] == 0 {
			rows = append(rows, b.Row)
		}
		n[b.Row]++
	}
	slices.SortStableFunc(rows, func(a, b int) int { return int((l.Rows[b].Cut.Length - l.Rows[a].Cut.Length) / units.Millimetre) })
	var out []string
	for _, r := range rows {
		cut := l.Rows[r].Cut
		text := fmt.Sprintf("%d of %s", n[r], j.cutSize(cut))
		if where {
			text += " " + joined(", ", oneLine(cut.Species.Name), oneLine(cut.ID), j.cellName(cut.Origin.At("")))
		}
		out = append(out, text)
	}
	if where {
		return strings.Join(out, "; ")
	}
	return strings.Join(out, ", ")
}

// cutSize writes a green size: 1" x 10" x 12', or 29 x 150 x 2500 mm.
func (j *job) cutSize(c *compute.Cut) string {
	if j.system == units.Metric {
		bare := func(l units.Length) string { return strings.TrimSuffix(j.system.Size(l), " mm") }
		return bare(c.Thickness) + " x " + bare(c.Width) + " x " + j.system.Run(c.Length)
	}
	return j.system.Size(c.Thickness) + " x " + j.system.Size(c.Width) + " x " + j.system.Run(c.Length)
}

// drawCourses lists every course with a box to tick, in the order of loading.
func (j *job) drawCourses(d *page.Doc, l *compute.KilnLoad) {
	t := page.Table{Columns: []page.Column{{Head: "course", Width: 18}, {Head: "boards", Width: 12, Align: page.Right}, {Head: "lay"},
		{Head: "gap", Width: 15, Align: page.Right}, {Head: "stickers on it", Width: 15, Align: page.Right}, {Head: "its top from the floor", Width: 20, Align: page.Right}}}
	n := 0
	for i := range l.Plan.Stacks {
		s := &l.Plan.Stacks[i]
		if len(l.Plan.Stacks) > 1 {
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{{Text: fmt.Sprintf("stack %d, its front end %s from the front wall", i+1, j.near(s.Start)), Span: 6}}})
		}
		for _, c := range s.Courses {
			n++
			gap := "-"
			if len(c.Boards) > 1 {
				gap = j.near(c.Gap)
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: strconv.Itoa(n), Face: page.Bold, Mark: page.EmptyBox}, {Text: strconv.Itoa(len(c.Boards))},
				{Text: j.courseBoards(l, c, true)}, {Text: gap}, {Text: strconv.Itoa(c.Stickers)}, {Text: j.near(c.Base + c.Thickness)}}})
		}
	}
	headedTable(d, "Course by course, from the bottom", t)
}

// drawKilnRows accounts for every row of the tally that belongs to the load.
func (j *job) drawKilnRows(d *page.Doc, l *compute.KilnLoad) {
	t := page.Table{Columns: []page.Column{{Head: "row of the tally", Width: 33}, {Head: "wood", Width: 29}, {Head: "as sawn", Width: 33}, {Head: "boards", Width: 11, Align: page.Right},
		{Head: "placed", Width: 11, Align: page.Right}, {Head: "stay out", Width: 13, Align: page.Right}, {Head: "why, or in which courses"}}}
	for _, r := range l.Rows {
		why := "courses "
		if len(r.Courses) == 1 {
			why = "course "
		}
		why += intRuns(r.Courses)
		switch {
		case r.Placed == 0:
			why = r.Why.String()
		case r.Out > 0:
			why += "; " + r.Why.String()
		}
		t.Rows = append(t.Rows, page.Cells(j.cellName(r.Cut.Origin.At("")), joined(", ", oneLine(r.Cut.Species.Name), oneLine(r.Cut.ID)), j.cutSize(r.Cut),
			strconv.Itoa(r.Placed+r.Out), strconv.Itoa(r.Placed), strconv.Itoa(r.Out), why))
	}
	sum := page.Row{Ruled: true, Cells: []page.Cell{{Text: "all", Face: page.Bold}, {}, {}, {Text: strconv.Itoa(l.Placed + l.Out), Face: page.Bold},
		{Text: strconv.Itoa(l.Placed), Face: page.Bold}, {Text: strconv.Itoa(l.Out), Face: page.Bold}, {}}}
	t.Rows = append(t.Rows, sum)
	headedTable(d, "Every row of the tally", t)
}

// intRuns writes numbers in order with their runs: 1 to 7, 9.
func intRuns(all []int) string {
	names := make([]string, len(all))
	for i, n := range all {
		names[i] = strconv.Itoa(n)
	}
	return strings.Join(runsOf(names, 2, " to ", nextRow), ", ")
}
