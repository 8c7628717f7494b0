package report

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"drytally/report/page"
	"drytally/templates"
)

// noteGroup is what stands under one small heading of the small print.
type noteGroup struct {
	head  string
	lines []string
	size  float64 // of its type; 0: cautionSize
}

// style is the type of a group's lines.
func (g noteGroup) style() page.Style {
	size := max(g.size, cautionSize)
	return page.Style{Size: size, Leading: cautionLead / cautionSize * size}
}

// part gives some of a group's lines, under another heading or none.
func (g noteGroup) part(head string, lines []string) noteGroup {
	g.head, g.lines = head, lines
	return g
}

// cautionHeads are the headings, by the tens of a caution's number.
var cautionHeads = map[int]string{0: "No grade", 1: "What was measured", 2: "Meters", 3: "After the kiln", 4: "Heat and insects",
	6: "Footage and sizes", 7: "The kiln", 8: "Dust, noise and machines", 9: "Handling", 10: "Some woods and uses"}

// cautionsFor gives the cautions of a paper that are for these woods and uses.
func cautionsFor(paper string, woods []templates.Wood, uses []string) []templates.Caution {
	return slices.DeleteFunc(templates.Cautions(paper), func(c templates.Caution) bool { return !c.For(woods, uses) })
}

// grouped puts cautions under their headings, each with its number behind it.
func grouped(all []templates.Caution) (groups []noteGroup) {
	for _, c := range all {
		tens, _ := strconv.Atoi(strings.TrimPrefix(c.ID, "C"))
		head := cautionHeads[tens/10]
		if n := len(groups); n == 0 || groups[n-1].head != head {
			groups = append(groups, noteGroup{head: head})
		}
		g := &groups[len(groups)-1]
		g.lines = append(g.lines, c.Text+noBreak+"["+c.ID+"]")
	}
	return groups
}

// cautionSources is one line of where cautions are known from, without the word that they were seen: C08, C20 Wengert, extension answers.
func cautionSources(all []templates.Caution) string {
	var from []string
	numbers := map[string][]string{}
	for _, c := range all {
		if numbers[c.Source] == nil {
			from = append(from, c.Source)
		}
		numbers[c.Source] = append(numbers[c.Source], c.ID)
	}
	for i, source := range from {
		from[i] = "[" + strings.Join(numbers[source], ", ") + "]" + noBreak + strings.TrimRight(strings.TrimSuffix(source, "seen"), ",; ")
	}
	return strings.Join(from, ". ") + "."
}

// smallPrint is a block of small print: a heading, groups in two columns, their sources, and what comes last.
type smallPrint struct {
	head   string // empty: none
	groups []noteGroup
	from   []string
	end    func(*page.Doc) // nil: nothing
}

// cautionPrint is the block of a paper's cautions, and last what end draws.
func (j *job) cautionPrint(cautions []templates.Caution, end func(*page.Doc)) smallPrint {
	s := smallPrint{head: "Please note", end: end}
	if len(cautions) == 0 {
		return s
	}
	s.groups, s.from = grouped(cautions), []string{j.wording("cautions-from", "sources", cautionSources(cautions))}
	return s
}

// sized gives blocks in another type.
func sized(blocks []smallPrint, size float64) []smallPrint {
	blocks = slices.Clone(blocks)
	for k := range blocks {
		blocks[k].groups = slices.Clone(blocks[k].groups)
		for i := range blocks[k].groups {
			blocks[k].groups[i].size = size
		}
	}
	return blocks
}

// heading draws the block's heading, or the space of one where its groups need none.
func (s smallPrint) heading(d *page.Doc) {
	if s.head == "" {
		d.Space(2.8)
		return
	}
	d.Heading(2, s.head)
}

// last draws what stands below the columns.
func (s smallPrint) last(d *page.Doc) {
	if len(s.from) > 0 {
		d.Para(strings.Join(s.from, " "), page.Style{Size: cautionSmall, Leading: 1.16 * cautionSmall})
	}
	if s.end != nil {
		s.end(d)
	}
}

// take takes the room of a block that stays on its page; only good for measuring.
func (s smallPrint) take(d *page.Doc) {
	if len(s.groups) > 0 {
		_, w := d.Column(0, page.Columns/2)
		s.heading(d)
		_, _, h := balanced(d, s.groups, w)
		d.Space(h + 0.8)
	}
	s.last(d)
}

// drawSmallPrint writes blocks of small print in the largest type in which they fit on the page at hand, else on a page of their own:
// what is to be read is no smaller than the page asks for. What fits on neither flows over pages in the smallest type. What a block
// draws last never stands alone on a page: some of the small print goes with it.
func drawSmallPrint(d *page.Doc, blocks ...smallPrint) {
	if len(blocks) > 0 && len(blocks[0].groups) > 0 {
		d.Need(leastSmallPrint)
	}
	if size, ok := largestSize(d, d.Room(), blocks...); ok {
		blocks = sized(blocks, size)
	} else if size, ok := largestSize(d, d.Body().H-freshHead, blocks...); ok {
		d.NewPage()
		blocks = sized(blocks, size)
	}
	for _, s := range blocks {
		if len(s.groups) == 0 {
			d.KeepTogether(func() { s.last(d) })
			continue
		}
		d.Need(leastSmallPrint)
		s.heading(d)
		flowGroups(d, s.groups, d.Height(func() { s.last(d) }))
		s.last(d)
	}
}

// largestSize gives the largest type in which blocks fit into a height, and whether there is one.
func largestSize(d *page.Doc, room float64, blocks ...smallPrint) (size float64, ok bool) {
	for _, size := range []float64{8 * page.Point, easySize, 7 * page.Point, 6.6 * page.Point, cautionSize} {
		if d.Height(func() {
			for _, s := range sized(blocks, size) {
				s.take(d)
			}
		}) <= room {
			return size, true
		}
	}
	return 0, false
}

// leastSmallPrint is the room in which small print begins; less turns the page.
const leastSmallPrint = 32.0

// flowGroups sets groups in two columns, over as many pages as they take, and leaves room below them for what comes last.
func flowGroups(d *page.Doc, groups []noteGroup, last float64) {
	_, w := d.Column(0, page.Columns/2)
	for {
		left, right, height := balanced(d, groups, w)
		if height+0.8+last <= d.Room()+1e-6 {
			drawColumns(d, left, right)
			return
		}
		room := d.Room()
		left, rest := filled(d, groups, w, room)
		right, rest = filled(d, rest, w, room)
		switch {
		case len(left) == 0 && fresh(d): // one sentence is higher than a page
			d.Para(joined(" ", rest[0].head, rest[0].lines[0]), rest[0].style())
			groups = behind(rest, 0, 1)
			if len(groups) == 0 {
				return
			}
			continue
		case len(rest) == 0 && fresh(d): // what comes last needs more than the page, and flows on by itself
			drawColumns(d, left, right)
			return
		case len(rest) == 0: // all fits but for the end: the last lines go over with it
			kept, carried := parted(groups)
			if len(kept) > 0 {
				left, right, _ = balanced(d, kept, w)
				drawColumns(d, left, right)
			}
			rest = carried
		default:
			drawColumns(d, left, right)
		}
		groups = rest
		d.NewPage()
	}
}

// fresh reports whether the cursor stands at the top of a page.
func fresh(d *page.Doc) bool { return d.Y() < d.Body().Y+freshHead }

// freshHead is more than the running head of a page takes.
const freshHead = 12.0

// filled takes from the front of groups what a column of the height holds.
func filled(d *page.Doc, groups []noteGroup, w, height float64) (column, rest []noteGroup) {
	used := 0.0
	for g := range groups {
		take := 0
		for k := range groups[g].lines {
			if used+drawGroup(d, groups[g].part(groups[g].head, groups[g].lines[:k+1]), 0, 0, w, false) > height {
				break
			}
			take = k + 1
		}
		if take < len(groups[g].lines) {
			if take > 0 {
				column = append(column, groups[g].part(groups[g].head, groups[g].lines[:take]))
			}
			return column, behind(groups, g, take)
		}
		used += drawGroup(d, groups[g], 0, 0, w, false)
		column = append(column, groups[g])
	}
	return column, nil
}

// behind gives what follows the first lines lines of group g. A group that goes on has no heading again.
func behind(groups []noteGroup, g, lines int) []noteGroup {
	var rest []noteGroup
	if lines < len(groups[g].lines) {
		head := ""
		if lines == 0 {
			head = groups[g].head
		}
		rest = append(rest, groups[g].part(head, groups[g].lines[lines:]))
	}
	return append(rest, groups[g+1:]...)
}

// parted parts off the last group, or of a single one its last line.
func parted(groups []noteGroup) (kept, last []noteGroup) {
	if n := len(groups); n > 1 {
		return groups[:n-1], groups[n-1:]
	}
	if n := len(groups[0].lines); n > 1 {
		left, right := partedAt(groups, 0, n-1)
		return left, right
	}
	return nil, groups
}

// drawCautions writes the cautions of a paper, and last what end draws.
func (j *job) drawCautions(d *page.Doc, paper string, woods []templates.Wood, uses []string, end func(*page.Doc)) {
	drawSmallPrint(d, j.cautionPrint(cautionsFor(paper, woods, uses), end))
}

// The least type of cautions and method, and the type of the cautions' sources, which nobody has to read to understand the paper.
const (
	cautionSize  = 6.2 * page.Point
	cautionLead  = 1.15 * cautionSize
	cautionSmall = 6.0 * page.Point
)

// balanced parts groups between two lines so that the higher column is as low as can be. From place to place the left column only grows
// and the right one only shrinks, so the best place is where the left one comes to be the higher, or just before.
func balanced(d *page.Doc, groups []noteGroup, w float64) (left, right []noteGroup, best float64) {
	type place struct{ group, lines int }
	var places []place
	for g := range groups {
		for k := range groups[g].lines {
			places = append(places, place{g, k + 1})
		}
	}
	heights := func(i int) (l, r float64) {
		left, right = partedAt(groups, places[i].group, places[i].lines)
		return groupsHeight(d, left, w), groupsHeight(d, right, w)
	}
	higher := func(i int) float64 { l, r := heights(i); return max(l, r) }
	i := sort.Search(len(places), func(i int) bool { l, r := heights(i); return l >= r })
	if i == len(places) {
		return nil, nil, math.Inf(1)
	}
	best = higher(i)
	for i > 0 && higher(i-1) < best+1e-6 { // of places alike the first
		i--
		best = higher(i)
	}
	left, right = partedAt(groups, places[i].group, places[i].lines)
	return left, right, best
}

// drawColumns draws two columns side by side.
func drawColumns(d *page.Doc, left, right []noteGroup) {
	y, bottom := d.Y(), d.Y()
	for i, column := range [][]noteGroup{left, right} {
		x, w := d.Column(i*page.Columns/2, page.Columns/2)
		cy := y
		for _, g := range column {
			cy += drawGroup(d, g, x, cy, w, true)
		}
		bottom = max(bottom, cy)
	}
	d.SetY(bottom + 0.8)
}

// partedAt parts groups behind the first lines lines of group g. A group that goes on has no heading again.
func partedAt(groups []noteGroup, g, lines int) (left, right []noteGroup) {
	left = append(append(left, groups[:g]...), groups[g].part(groups[g].head, groups[g].lines[:lines]))
	if lines < len(groups[g].lines) {
		right = append(right, groups[g].part("", groups[g].lines[lines:]))
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
	st := g.style()
	head := st
	head.Face = page.Bold
	text, h := strings.Join(g.lines, " "), 0.0
	if g.head != "" {
		h = d.Measure(w, g.head, head)
	}
	if draw {
		d.Paragraph(x, y, w, g.head, head)
		d.Paragraph(x, y+h, w, text, st)
	}
	return h + d.Measure(w, text, st) + 0.9
}
