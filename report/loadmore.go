package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/report/page"
)

// noteKind is where on a load's paper one of its notes belongs.
type noteKind uint8

const (
	correctionNote noteKind = iota // how the readings were corrected
	methodNote                     // how the numbers were found
	elsewhereNote                  // it has a place of its own
)

// noteKindOf sorts a note by the name of its wording.
func noteKindOf(name string) noteKind {
	for _, prefix := range []string{"strata-", "layers-", "air-reach", "loss-"} {
		if strings.HasPrefix(name, prefix) {
			return elsewhereNote
		}
	}
	for _, prefix := range []string{"limit-", "meter-off"} {
		if strings.HasPrefix(name, prefix) {
			return methodNote
		}
	}
	return correctionNote
}

// notesOf gives the notes of a load that are of a kind, without repeats.
func notesOf(l *compute.LoadResult, kind noteKind) []compute.Statement {
	var out []compute.Statement
	for _, n := range l.Notes {
		if noteKindOf(n.Name) == kind {
			out = append(out, n)
		}
	}
	if kind == methodNote && l.NoLimit.Name != "" && !slices.ContainsFunc(out, func(s compute.Statement) bool { return s.Name == l.NoLimit.Name }) {
		out = append(out, l.NoLimit)
	}
	return out
}

// strataRow is the height of a row of the parts of the stack.
const strataRow = 3.3

// drawStrataRows draws the thirds of the stack between x and x+w from y down, the wettest of the courses and of the spots bold, and
// gives the y below.
func (j *job) drawStrataRows(d *page.Doc, l *compute.LoadResult, x, y, w float64) float64 {
	edges := []float64{w - 34, w - 17, w - 7, w} // right edges of the columns
	row := func(face page.Face, words ...string) {
		st := page.Style{Size: page.SizeSmall, Face: face}
		d.Fit(page.Rect{X: x, Y: y, W: edges[0], H: strataRow}, words[0], st, 0)
		st.Align = page.Right
		for i := 1; i < len(words); i++ {
			d.Fit(page.Rect{X: x + edges[i-1], Y: y, W: edges[i] - edges[i-1], H: strataRow}, words[i], st, 0)
		}
		y += strataRow
	}
	row(page.Regular, "part of the stack", "measured", "mean", "over")
	for i, s := range l.Strata {
		rule := page.Stroke{Width: page.Hair, Gray: page.Light}
		if i == 0 || s.By != l.Strata[i-1].By {
			rule = page.Stroke{Width: page.Hair}
		}
		d.Line(x, y, x+w, y, rule)
		mean, face := "-", page.Regular
		if s.Mean.Known {
			mean = s.Mean.Value.String() + " %"
		}
		if s.Wettest {
			face = page.Bold
		}
		row(face, fmt.Sprintf("%s %s (%s)", s.Name, s.By, fromTo(s.From, s.To)), fmt.Sprintf("%d of %d", s.Measured, s.Boards), mean, fmt.Sprint(s.Over))
	}
	d.Line(x, y, x+w, y, page.Stroke{Width: page.Hair})
	return y + d.Paragraph(x, y+0.3, w, j.wording("strata-bold"), page.Style{Size: page.SizeSmall, Gray: page.Soft}) + 0.3
}

func fromTo(from, to int) string {
	if from == to {
		return fmt.Sprint(from)
	}
	return fmt.Sprintf("%d-%d", from, to)
}

// strataWords are the sentences on the parts of the stack that the table doesn't say.
func (j *job) strataWords(l *compute.LoadResult) []string {
	var out []string
	for _, n := range l.Notes {
		if strings.HasPrefix(n.Name, "strata-") && n.Name != "strata-wettest" && n.Name != "strata-not-measured" {
			out = append(out, j.say(n))
		}
	}
	return out
}

// drawStrata draws the thirds of a stack that is too large to be drawn.
func (j *job) drawStrata(d *page.Doc, l *compute.LoadResult) {
	if len(l.Strata) == 0 {
		return
	}
	d.KeepTogether(func() {
		d.Heading(2, "Parts of the stack")
		x, w := d.Column(0, page.Columns/2)
		d.SetY(j.drawStrataRows(d, l, x, d.Y(), w))
		if words := strings.Join(j.strataWords(l), " "); words != "" {
			d.Para(words, page.Style{Size: page.SizeTable})
		}
	})
}

// mostGradients is how many boards are named with their shell and core.
const mostGradients = 6

// drawLayers says what shell and core tell of the load: of all boards, then board by board those where they differ.
func (j *job) drawLayers(d *page.Doc, l *compute.LoadResult) {
	lines := j.allSaid(l.Layers.Says)
	var uneven []string
	for _, at := range l.Boards {
		if g := j.Boards[at].Gradient; g.Says.Name != "" && g.Sense != compute.LayersEven {
			uneven = append(uneven, j.say(g.Says))
		}
	}
	if len(lines)+len(uneven) == 0 {
		return
	}
	d.KeepTogether(func() {
		d.Heading(2, "Shell and core")
		d.Bullets(lines, page.Style{Size: page.SizeTable})
		d.Bullets(shortened(uneven, mostGradients), page.Style{Size: page.SizeTable})
	})
}

// drawRise compares readings of two days, the later ones higher.
func (j *job) drawRise(d *page.Doc, l *compute.LoadResult) {
	if len(l.Rise.Says) == 0 {
		return
	}
	d.KeepTogether(func() {
		d.Heading(2, fmt.Sprintf("It was %s %%, now it reads %s %%", l.Rise.First, l.Rise.Last))
		d.Bullets(j.allSaid(l.Rise.Says), page.Style{Size: page.SizeTable})
	})
}

// drawLoadDays is the forecast, or why there is none, with what the air can reach and how fast the drying went. Of a load that
// is dry already only a drying that was too fast is said here.
func (j *job) drawLoadDays(d *page.Doc, l *compute.LoadResult) {
	if !dryingShown(l) {
		return
	}
	head, first := "How fast it dried", ""
	if l.Days.Says.Name != "" {
		head, first = "Days to go", j.say(l.Days.Says)
	}
	d.KeepTogether(func() {
		d.Heading(2, head)
		if first != "" {
			d.Para(first, page.Style{})
		}
		if rest := j.dryingLines(l); len(rest) > 0 {
			d.Para(strings.Join(rest, " "), page.Style{Size: page.SizeTable})
		}
	})
}

// dryingShown reports whether the drying has a heading of its own.
func dryingShown(l *compute.LoadResult) bool { return l.Days.Says.Name != "" || l.Days.TooFast }

// dryingLines say what the air can reach and how fast the wood dried.
func (j *job) dryingLines(l *compute.LoadResult) []string {
	var lines []string
	if s := j.lossWords(l.Days); s != "" {
		lines = append(lines, s)
	}
	lines = append(lines, j.allSaid(l.Days.LossSays)...)
	if l.Days.ReachSays.Name != "" {
		lines = append(lines, j.say(l.Days.ReachSays))
	}
	return lines
}

// drawStores says what the air of the place it is kept in makes of the load.
func (j *job) drawStores(d *page.Doc, l *compute.LoadResult) {
	if len(l.Stores) == 0 {
		return
	}
	d.Need(20)
	d.Heading(2, "After the kiln")
	for _, s := range l.Stores {
		d.Para(strings.Join(j.allSaid(s.Says), " "), page.Style{Size: page.SizeTable})
		d.Space(0.8)
	}
}

// airOnly reports whether a load has no probe in the core of a board, only air temperatures.
func airOnly(l *compute.LoadResult) bool { return len(l.Heat) > 0 && l.Heat[0].Name == "heat-air-only" }

// drawCoreRecord writes the record of the core probes. Its last sentence always says that it is no treatment.
func (j *job) drawCoreRecord(d *page.Doc, l *compute.LoadResult) {
	if len(l.Heat) == 0 || airOnly(l) {
		return
	}
	d.KeepTogether(func() {
		d.Heading(2, "Core temperatures as logged")
		d.Bullets(j.allSaid(l.Heat), page.Style{Size: page.SizeTable})
	})
}
