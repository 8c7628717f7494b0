package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/report/page"
)

// loadPaper makes the paper of one load: the load certificate when its verdict is dry or dry but for held-back boards and
// nothing withholds it, else the same page as a load report.
func (j *job) loadPaper(l *compute.LoadResult) ([]byte, error) {
	d := j.paper(loadTitle(l), "Load "+shortID(l.Load.ID), "load "+l.Load.ID, lastDay(l))
	j.drawLoad(d, l)
	return d.Bytes()
}

// certificate is the name of a dry load's paper.
const certificate = "Load certificate"

// loadTitle names the paper: only a dry load that nothing withholds has a certificate.
func loadTitle(l *compute.LoadResult) string {
	if foundDry(l) && !l.Withheld {
		return certificate
	}
	return "Load report"
}

// foundDry reports whether the readings alone find a load dry.
func foundDry(l *compute.LoadResult) bool {
	return l.Verdict == compute.DryForUse || l.Verdict == compute.DryButHeldBack
}

// drawLoad draws everything below the head.
func (j *job) drawLoad(d *page.Doc, l *compute.LoadResult) {
	j.drawVerdict(d, l)
	j.drawHeldBack(d, l)
	j.drawLoadFacts(d, l)
	j.drawLoadReadings(d, l)
	drawFilling(d, func() { j.drawWitnesses(d, l) }, func() { j.drawLoadDays(d, l) }, func() { j.drawStores(d, l) }, func() { j.drawLoadStack(d, l) },
		func() { j.drawLayers(d, l) }, func() { j.drawRise(d, l) }, func() { j.drawCoreRecord(d, l) }, func() { j.drawNotMeasured(d, l) })
	j.drawBoardList(d, l)
	j.drawWarnings(d, l.Warnings)
	// What is signed comes before the appendix.
	drawSmallPrint(d, j.cautionPrint(cautionsFor("certificate", j.woodsOf(l.Boards, l.Load.Species), []string{l.Load.Use}), drawSignature),
		smallPrint{head: "Appendix: how the numbers were found", groups: j.methodGroups(l), from: j.loadSourceLines(l)})
}

// drawFilling draws parts one below the other. Where the next finds no room on the page, the first behind it that does goes before it.
func drawFilling(d *page.Doc, parts ...func()) {
	heights := make([]float64, len(parts))
	for i, draw := range parts {
		heights[i] = d.Height(draw)
	}
	for len(parts) > 0 {
		room := d.Room()
		next := max(0, slices.IndexFunc(heights, func(h float64) bool { return h <= room }))
		parts[next]()
		parts, heights = slices.Delete(parts, next, next+1), slices.Delete(heights, next, next+1)
	}
}

// drawVerdict is what must be read first: the verdict in one strong line, its reasons, and what would settle it.
func (j *job) drawVerdict(d *page.Doc, l *compute.LoadResult) {
	d.Rule(page.Stroke{Width: page.Heavy})
	d.Space(0.8)
	d.Para(j.wording("load-verdict-of", "load", shortID(l.Load.ID), "use", l.Load.Use), page.Style{Size: page.SizeBody, Gray: page.Soft})
	strong := page.Style{Face: page.Bold, Size: 17 * page.Point}
	d.Para(j.headline(l), strong)
	if loadTitle(l) == certificate {
		d.Space(0.5)
		d.Para(j.wording("load-own-word"), page.Style{Size: page.SizeTable})
	}
	d.Space(1.4)
	if l.Withheld {
		errors := problems(l.Warnings, finding.Error)
		name := "load-errors"
		if foundDry(l) {
			name = "load-withheld"
		}
		d.Para(j.wording(name, "n", fmt.Sprint(len(errors))), page.Style{Face: page.Bold})
		d.Bullets(shortened(errors, 6), page.Style{})
		d.Space(0.8)
	}
	d.Bullets(j.allSaid(l.Reasons), page.Style{})
	if settle := j.allSaid(l.ToSettle); len(settle) > 0 {
		d.KeepTogether(func() {
			d.Space(1.2)
			d.Para("What would settle it", page.Style{Face: page.Bold})
			d.Bullets(settle, page.Style{})
		})
	}
	d.Rule(page.Stroke{})
}

// headline is the verdict in a line. A load that its readings find dry has no certificate while errors touch its rows, and the
// line says so.
func (j *job) headline(l *compute.LoadResult) string {
	if l.Withheld && foundDry(l) {
		return j.wording("verdict-withheld", "verdict", capital(l.Verdict.String()))
	}
	return capital(verdictName(l.Verdict))
}

// verdictName is a verdict for the papers: by itself "not shown" leaves open what is not.
func verdictName(v compute.Verdict) string {
	if v == compute.NotShown {
		return "not shown to be dry"
	}
	return v.String()
}

// drawLoadFacts is the table of what the load is and what the readings come to.
func (j *job) drawLoadFacts(d *page.Doc, l *compute.LoadResult) {
	d.Space(1.5)
	var pairs []page.Pair
	if shortID(l.Load.ID) != oneLine(l.Load.ID) {
		pairs = append(pairs, page.Pair{Key: "Load", Value: l.Load.ID})
	}
	pairs = append(pairs, page.Pair{Key: "Wood", Value: orNot(strings.Join(l.Species, ", "))}, page.Pair{Key: "Use", Value: orNot(l.Load.Use)})
	if l.Band.Region != "" {
		pairs = append(pairs, page.Pair{Key: "Region", Value: l.Band.Region})
	}
	pairs = append(pairs, bandFact(l.Band))
	if !l.Load.DateIn.IsZero() || !l.Load.DateOut.IsZero() {
		pairs = append(pairs, page.Pair{Key: "In the kiln", Value: kilnDays(l.Load)})
	}
	if l.Load.Note != "" {
		pairs = append(pairs, page.Pair{Key: "Owner's note", Value: l.Load.Note})
	}
	pairs = append(pairs, page.Pair{Key: "Boards in the load", Value: fmt.Sprintf("%d, by the %s", l.N, l.NFrom)},
		page.Pair{Key: "Measured", Value: measuredWords(l)})
	pairs = append(pairs, j.readingFacts(l)...)
	d.Pairs(append(pairs, j.footageFacts(l)...), 2)
	if whose := bandSource(l.Band); whose != "" {
		d.Para(j.wording("load-whose", "whose", whose, "memory", yes(fromMemory(l.Band))), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	}
}

// footageFacts is what the load holds, green and dry, each with the boards it is of where these are not all of the load.
func (j *job) footageFacts(l *compute.LoadResult) []page.Pair {
	var pairs []page.Pair
	of := func(boards int) string { return ", of " + count(boards, "board", "boards") }
	feet := func(key string, all []compute.Footage, more string) {
		for _, f := range all {
			pairs = append(pairs, page.Pair{Key: key, Value: boardFeet(f.Hundredths) + " by " + ruleWords(f.Rule) + more})
		}
	}
	green, listed := ", measured before kiln drying", ""
	if len(l.Boards) != l.N || len(l.GreenFootage) > 0 && l.GreenBoards != l.N { // else each figure is of the load's boards
		green, listed = of(l.GreenBoards)+green, of(len(l.Boards))
	}
	feet("Board feet dry, net", l.DryFootage, listed)
	if l.DrySolid != 0 {
		pairs = append(pairs, page.Pair{Key: "Volume dry", Value: j.solidWords(l.DrySolid) + listed})
	}
	feet("Board feet green", l.GreenFootage, green)
	if l.Weight != 0 {
		pairs = append(pairs, page.Pair{Key: "Weight, dry", Value: "about " + j.system.Mass(l.Weight) + listed})
	}
	return pairs
}

// readingFacts is what the readings of the load come to.
func (j *job) readingFacts(l *compute.LoadResult) []page.Pair {
	var pairs []page.Pair
	if l.Mean.Known {
		of := "Mean of the load"
		if l.SlowMissing != "" {
			of = "Mean of the measured"
		}
		pairs = append(pairs, page.Pair{Key: of, Value: estimateWords(l.Mean)})
	}
	if rest := l.MeanRest; rest.Known {
		pairs = append(pairs, page.Pair{Key: "Mean of the rest", Value: estimateWords(rest)})
	}
	if l.Spread != 0 {
		pairs = append(pairs, page.Pair{Key: "Spread of boards", Value: l.Spread.String() + " points (standard deviation)"})
	}
	if l.Tolerance != 0 && l.SlowMissing == "" { // boards picked where it is easy set no limit for the others
		pairs = append(pairs, page.Pair{Key: "Upper limit", Value: j.wording("load-tolerance", "mc", l.Tolerance.String())})
	}
	if l.Measured > 0 && l.Band.Known {
		counted, more := "", ""
		if l.Counted < l.OverBound {
			counted, more = fmt.Sprint(l.Counted), fmt.Sprint(l.OverBound-l.Counted)
		}
		pairs = append(pairs, page.Pair{Key: "Over the limit", Value: j.wording("load-over", "over", fmt.Sprint(len(l.Over)), "measured", fmt.Sprint(l.Measured),
			"bound", fmt.Sprint(l.OverBound), "n", fmt.Sprint(l.N), "counted", counted, "more", more, "uneven", l.SlowMissing)})
	}
	if len(l.Under) > 0 {
		pairs = append(pairs, page.Pair{Key: "Under the range", Value: fmt.Sprintf("%d: %s", len(l.Under), strings.Join(shortened(l.Under, 12), ", "))})
	}
	return pairs
}

// drawNotMeasured lists what no reading speaks for; the stack, where it is drawn, has it below.
func (j *job) drawNotMeasured(d *page.Doc, l *compute.LoadResult) {
	if len(l.NotMeasured) == 0 || stackDrawn(l) {
		return
	}
	d.KeepTogether(func() {
		d.Heading(2, "Not measured")
		d.Para(strings.Join(shortened(l.NotMeasured, 30), "; ")+".", page.Style{Size: page.SizeTable})
	})
}

// methodGroups says how the numbers came about, so that a careful reader can do them again.
func (j *job) methodGroups(l *compute.LoadResult) (groups []noteGroup) {
	add := func(head string, lines ...string) {
		if len(lines) > 0 {
			groups = append(groups, noteGroup{head: head, lines: lines})
		}
	}
	add("How the readings were corrected", j.allSaid(notesOf(l, correctionNote))...)
	add("From readings to a verdict", j.methodLines(l)...)
	if !dryingShown(l) {
		add("The drying", j.dryingLines(l)...)
	}
	if used := j.settingsFor(loadSettings); len(used) > 0 {
		add("Settings", strings.Join(used, "; ")+".")
	}
	if airOnly(l) {
		add("Core temperatures", j.allSaid(l.Heat)...)
	}
	return groups
}

// loadSourceLines names the sources of a load's figures.
func (j *job) loadSourceLines(l *compute.LoadResult) []string {
	// What the method has named already isn't named again.
	var said strings.Builder
	for _, g := range j.methodGroups(l) {
		said.WriteString(strings.Join(g.lines, " "))
	}
	from := slices.DeleteFunc(loadSources(l), func(s string) bool { return strings.Contains(said.String(), s) })
	if len(from) == 0 {
		return nil
	}
	return []string{j.wording("load-figures-from", "sources", strings.Join(from, "; ")), j.wording("source-status")}
}

// methodLines names the rules behind the numbers that are on the paper.
func (j *job) methodLines(l *compute.LoadResult) []string {
	var lines []string
	if l.Measured > 0 {
		lines = append(lines, j.wording("load-method-board"))
	}
	switch {
	case !l.Mean.Known:
	case l.Below+l.Above == 0:
		lines = append(lines, j.wording("load-method-mean", "n", fmt.Sprint(l.N)))
	default:
		lines = append(lines, j.wording("load-method-marks"))
	}
	if l.Measured > 0 && l.Measured < l.N && l.Band.Known {
		lines = append(lines, j.wording("load-method-bound", "n", fmt.Sprint(l.N), "measured", fmt.Sprint(l.Measured), "over", fmt.Sprint(len(l.Over)),
			"bound", fmt.Sprint(l.OverBound)))
	}
	if l.Tolerance != 0 {
		lines = append(lines, j.wording("load-method-tolerance"))
	}
	return append(lines, j.allSaid(notesOf(l, methodNote))...)
}

// loadSettings are the settings a load's numbers rest on, by the names of the settings sheet.
var loadSettings = []string{"meter kind", "meter set to species", "meter corrects for temperature", "lowest mark", "highest mark",
	"allowed share", "most held back"}

// settingsFor writes settings as used, first the owner's, then the defaults, each lot with whose it is.
func (j *job) settingsFor(names []string) []string {
	var owner, ours []string
	for _, u := range j.Job.Settings.Used {
		switch {
		case !slices.Contains(names, u.Name) || u.Value == "":
		case u.Source.Status == source.OurChoice:
			ours = append(ours, u.Name+" "+u.Value)
		default:
			owner = append(owner, u.Name+" "+u.Value)
		}
	}
	var out []string
	if len(owner) > 0 {
		out = append(out, strings.Join(owner, ", ")+" (the owner's)")
	}
	if len(ours) > 0 {
		out = append(out, strings.Join(ours, ", ")+" (default)")
	}
	return out
}

// loadSources lists the sources of the load's band, witnesses and rates, without repeats.
func loadSources(l *compute.LoadResult) []string {
	all := append([]source.Source{l.Band.Source, l.Band.TableSource}, l.Sources...)
	all = append(all, l.Days.SafeLossSource)
	for _, w := range l.Witnesses {
		all = append(all, w.Source)
	}
	var out []string
	for _, s := range all {
		if s.Document != "" && !slices.Contains(out, s.String()) {
			out = append(out, s.String())
		}
	}
	return out
}

// drawWarnings lists the findings that touch a paper as numbered notes, each with its cell.
func (j *job) drawWarnings(d *page.Doc, all finding.List) {
	if len(all) == 0 {
		return
	}
	const most = 15
	head := "Set aside or doubtful in the sheets"
	keepHead(d, func() {
		d.Heading(2, head)
		d.Para(problem(all[0]), page.Style{Size: page.SizeSmall})
		d.Space(6) // the rule above the notes
	})
	d.Heading(2, head)
	for i, f := range all {
		if i == most {
			d.Note(j.wording("paper-more-warnings", "n", fmt.Sprint(len(all)-most)))
			break
		}
		d.Note(problem(f))
	}
	d.Notes()
}

// keepHead turns the page when there is no room for what draw draws: a heading and the beginning of what it heads.
func keepHead(d *page.Doc, draw func()) {
	d.Need(d.Height(draw))
}

// drawSignature leaves room for a name, a date and a signature by hand.
func drawSignature(d *page.Doc) {
	d.KeepTogether(func() {
		d.Space(7.5)
		y := d.Y()
		for i, word := range []string{"name", "date", "signature"} {
			x, w := d.Column(2*i, 2)
			d.Line(x, y, x+w, y, page.Stroke{})
			d.Fit(page.Rect{X: x, Y: y + 0.6, W: w, H: 4}, word, page.Style{Size: page.SizeSmall, Gray: page.Soft}, 0)
		}
		d.SetY(y + 4)
	})
}

// capital makes the first letter of a sentence a capital.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func orNot(s string) string {
	if strings.TrimSpace(s) == "" {
		return "not said in the sheets"
	}
	return s
}

// boardsByID finds the boards of a load by their number.
func (j *job) boardsByID(l *compute.LoadResult) map[string]*compute.BoardResult {
	out := map[string]*compute.BoardResult{}
	for _, at := range l.Boards {
		b := &j.Boards[at]
		out[b.Board.ID] = b
	}
	return out
}

// mcWords writes a board's moisture content: a number, or what the meter's mark says.
func mcWords(m compute.BoardMC) string {
	switch m.State {
	case units.Number:
		return m.MC.String() + " %"
	case units.BelowRange:
		return "under " + m.MC.String() + " %"
	case units.AboveRange:
		return "over " + m.MC.String() + " %"
	}
	return "not measured"
}
