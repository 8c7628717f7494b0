package report

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"drytally/report/page"
	"drytally/templates"
)

// noteGroup is what stands under one small heading of the small print.
type noteGroup struct {
	head  string
	lines []string
}

// cautionHeads are the headings, by the tens of a caution's number.
var cautionHeads = map[int]string{0: "No grade", 1: "What was measured", 2: "Meters", 3: "After the kiln", 4: "Heat and insects",
	6: "Footage and sizes", 9: "Handling", 10: "Some woods and uses"}

// cautionsFor gives the cautions of a paper that are for these woods and uses.
func cautionsFor(paper string, woods []templates.Wood, uses []string) []templates.Caution {
	return slices.DeleteFunc(templates.Cautions(paper), func(c templates.Caution) bool { return !c.For(woods, uses) })
}

// grouped puts cautions under their headings. Each ends in the letter of its source; the sources come back as one line.
func grouped(all []templates.Caution) (groups []noteGroup, sources string) {
	var from []string
	for _, c := range all {
		at := slices.Index(from, c.Source)
		if at < 0 {
			at, from = len(from), append(from, c.Source)
		}
		tens, _ := strconv.Atoi(strings.TrimPrefix(c.ID, "C"))
		head := cautionHeads[tens/10]
		if n := len(groups); n == 0 || groups[n-1].head != head {
			groups = append(groups, noteGroup{head: head})
		}
		g := &groups[len(groups)-1]
		g.lines = append(g.lines, c.Text+" ["+letter(at)+"]")
	}
	for i := range from {
		from[i] = "[" + letter(i) + "] " + from[i]
	}
	return groups, strings.Join(from, ". ") + "."
}

// letter is a, b, ... z, aa.
func letter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

// drawSmallPrint writes groups and cautions in two columns, and the cautions' sources below.
func (j *job) drawSmallPrint(d *page.Doc, head string, groups []noteGroup, cautions []templates.Caution) {
	more, sources := grouped(cautions)
	groups = append(groups, more...)
	if len(groups) == 0 {
		return
	}
	d.KeepTogether(func() {
		d.Heading(2, head)
		drawGroups(d, groups)
		if len(more) > 0 {
			d.Para(j.wording("cautions-from", "sources", sources), page.Style{Size: cautionSmall, Gray: page.Soft})
		}
	})
}

// drawCautions writes the cautions of a paper.
func (j *job) drawCautions(d *page.Doc, paper string, woods []templates.Wood, uses []string) {
	j.drawSmallPrint(d, "Please note", nil, cautionsFor(paper, woods, uses))
}

// The type of cautions and method, and of the cautions' sources, which nobody has to read to understand the paper.
const (
	cautionSize  = 7.0 * page.Point
	cautionSmall = 6.0 * page.Point
)

// drawGroups sets groups in two columns, parted between two lines so that the higher column is as low as can be.
func drawGroups(d *page.Doc, groups []noteGroup) {
	_, w := d.Column(0, page.Columns/2)
	var left, right []noteGroup
	best := math.Inf(1)
	for g := range groups {
		for k := range groups[g].lines {
			l, r := partedAt(groups, g, k+1)
			if h := max(groupsHeight(d, l, w), groupsHeight(d, r, w)); h < best-1e-6 {
				best, left, right = h, l, r
			}
		}
	}
	y := d.Y()
	for i, column := range [][]noteGroup{left, right} {
		x, _ := d.Column(i*page.Columns/2, page.Columns/2)
		cy := y
		for _, g := range column {
			cy += drawGroup(d, g, x, cy, w, true)
		}
	}
	d.SetY(y + best + 0.8)
}

// partedAt parts groups behind the first lines lines of group g. A group that goes on has no heading again.
func partedAt(groups []noteGroup, g, lines int) (left, right []noteGroup) {
	left = append(append(left, groups[:g]...), noteGroup{groups[g].head, groups[g].lines[:lines]})
	if lines < len(groups[g].lines) {
		right = append(right, noteGroup{"", groups[g].lines[lines:]})
	}
	return left, append(right, groups[g+1:]...)
}

func groupsHeight(d *page.Doc, groups []noteGroup, w float64) float64 {
	h := 0.0
	for _, g := range groups {
		h += drawGroup(d, g, 0, 0, w, false)
	}
	return h
}

// drawGroup draws a group, or only gives its height.
func drawGroup(d *page.Doc, g noteGroup, x, y, w float64, draw bool) float64 {
	head, st := page.Style{Face: page.Bold, Size: cautionSize}, page.Style{Size: cautionSize}
	text, h := strings.Join(g.lines, " "), 0.0
	if g.head != "" {
		h = d.Measure(w, g.head, head)
	}
	if draw {
		d.Paragraph(x, y, w, g.head, head)
		d.Paragraph(x, y+h, w, text, st)
	}
	return h + d.Measure(w, text, st) + 1.2
}
