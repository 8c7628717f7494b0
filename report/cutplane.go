package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/report/page"
)

// drawWeekCuts lists the week's cuts as they were sawn.
func (j *job) drawWeekCuts(d *page.Doc) {
	if len(j.Cuts) == 0 {
		return
	}
	near := func(r units.LengthRange) string {
		if r.Value <= 0 {
			return "not known"
		}
		return fmt.Sprintf("%s (%s)", j.system.SizeTo(r.Value, sixteenth), j.rangeWords(r))
	}
	t := page.Table{Columns: []page.Column{{Head: "sawn", Width: 15}, {Head: "wood and lot", Width: 30}, {Head: "pieces", Width: 10, Align: page.Right},
		{Head: "as sawn", Width: 36}, {Head: "green footage", Width: 22}, {Head: "dries to, thickness"}, {Head: "dries to, width"}}}
	for _, c := range j.Cuts {
		day := ""
		if !c.Cut.Date.IsZero() {
			day = c.Cut.Date.Format("2 Jan")
		}
		lot := c.Cut.ID
		if c.Cut.Load != "" {
			lot = joined(", ", lot, "load "+shortID(c.Cut.Load))
		}
		what := joined(", ", oneLine(c.Cut.Species.Name), oneLine(lot))
		if c.Cut.Sawing.Kind != compute.SawingNotSaid {
			what = joined(", ", what, sawnWords(c.Cut.Sawing))
		}
		feet := "not known"
		if c.Green.Known {
			feet = boardFeet(c.Green.Hundredths) + ", " + ruleWords(c.Green.Rule)
		}
		size := j.sizeOrNot(c.Cut.Thickness) + " x " + j.sizeOrNot(c.Cut.Width)
		if c.Cut.Length > 0 {
			size += " x " + j.system.Run(c.Cut.Length)
		}
		thick := near(c.DryThickness)
		if c.TargetMC != 0 && c.DryThickness.Value > 0 {
			thick += " at " + c.TargetMC.String() + " %"
		}
		t.Rows = append(t.Rows, page.Cells(day, what, fmt.Sprint(c.Cut.Pieces), size, feet, thick, near(c.DryWidth)))
		if c.Cut.Note != "" {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{}, {Text: "Note: " + oneLine(c.Cut.Note), Face: page.Italic, Span: 6}}})
		}
	}
	headedTable(d, "The week's cuts as sawn", t)
	if j.Step.Known {
		d.Para(j.say(j.Step.Says), page.Style{Size: page.SizeTable})
	}
	for _, c := range j.Cuts {
		if p := c.DryThickness.Confidence; p > 0 {
			d.Para(j.wording("cut-predicted", "share", decimal(p*100)), page.Style{Size: page.SizeSmall, Gray: page.Soft})
			break
		}
	}
}

// foldFrom is the number of boards from which equal answers are folded into one row.
const foldFrom = 40

// planed is a row of the planing table: boards with the same answers. A row of boards not to be worked has its why alone.
type planed struct {
	boards []string
	load   string
	cells  []string // below the columns of planingForm
	why    string
}

// noBreak keeps words on one line.
const noBreak = "\u00A0"

// warps are the measures that come off a board besides the cuts.
var warps = []struct {
	name string
	of   func(*compute.Board) units.Length
}{
	{"cup", func(b *compute.Board) units.Length { return b.Cup }},
	{"bow", func(b *compute.Board) units.Length { return b.Bow }},
	{"twist", func(b *compute.Board) units.Length { return b.Twist }},
	{"crook", func(b *compute.Board) units.Length { return b.Crook }},
}

// planingForm is how the planing table is laid out for the boards there are.
type planingForm struct {
	columns []page.Column
	wood    bool // a column of its own, because boards of one load are of several woods
	warps   bool // words for all warps instead of a number for the cup alone
	woods   map[string]string
}

func (j *job) planingForm() planingForm {
	f := planingForm{woods: map[string]string{}}
	for _, b := range j.Boards {
		wood, ok := f.woods[b.Board.Load]
		f.wood = f.wood || ok && wood != b.Species.Name
		f.woods[b.Board.Load] = b.Species.Name
		for _, w := range warps[1:] {
			f.warps = f.warps || w.of(b.Board) > 0
		}
	}
	f.columns = []page.Column{{Head: "board", Width: 19}}
	if f.wood {
		f.columns = append(f.columns, page.Column{Head: "wood", Width: 24})
	}
	unit := ""
	if j.system == units.Metric { // once in the heading, not behind every number
		unit = ", mm"
	}
	f.columns = append(f.columns, page.Column{Head: "length" + unit, Width: 13.5, Align: page.Right}, page.Column{Head: "least thickness" + unit, Width: 14.5 + float64(len(unit))/2, Align: page.Right})
	if f.warps {
		f.columns = append(f.columns, page.Column{Head: "warp" + unit, Width: 26})
	} else {
		f.columns = append(f.columns, page.Column{Head: "cup" + unit, Width: 11, Align: page.Right})
	}
	for _, head := range []string{"cut to", "cleans up to", "ripped first", "width to"} {
		f.columns = append(f.columns, page.Column{Head: head + unit, Width: 13, Align: page.Right})
	}
	f.columns = append(f.columns, page.Column{Head: "makes"})
	return f
}

// loadHead is the heading of a load within the table.
func (f planingForm) loadHead(load string) string {
	wood := f.woods[load]
	if f.wood {
		wood = ""
	}
	if load == "" {
		return joined(", ", "in no load", wood)
	}
	return joined(", ", "load "+shortID(load), wood)
}

// drawPlaning lists what the boards on hand plane to and make, and counts the boards for each wanted piece.
func (j *job) drawPlaning(d *page.Doc) {
	form := j.planingForm()
	rows, unmeasured := j.planedRows(form)
	if len(rows) == 0 && len(unmeasured) == 0 {
		return
	}
	d.Need(45) // the heading with some of its table
	d.Heading(1, "Planing: what the boards measured dry make")
	j.drawCanMake(d)
	if len(rows) > 0 {
		d.Para(j.wording("cut-plane-rule"), page.Style{Size: page.SizeTable})
		d.Space(1.5)
		t := page.Table{Columns: form.columns}
		for i, r := range rows {
			if i == 0 || r.load != rows[i-1].load {
				t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{{Text: form.loadHead(r.load), Span: len(form.columns), Plain: true}}})
			}
			names := page.Cell{Text: strings.Join(r.boards, ", "), Face: page.Bold, Plain: true}
			if r.why != "" {
				names.Span = len(form.columns) - 1
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{names, {Text: r.why}}})
				continue
			}
			row := page.Row{Cells: []page.Cell{names}}
			for _, s := range r.cells {
				row.Cells = append(row.Cells, page.Cell{Text: s})
			}
			t.Rows = append(t.Rows, row)
		}
		d.Table(t)
	}
	if n := len(unmeasured); n > 0 {
		d.Para(j.wording("cut-not-measured-dry", "n", fmt.Sprint(n), "boards", strings.Join(unmeasured, ", ")), page.Style{Size: page.SizeTable, Plain: true})
	}
}

// planedRows makes the rows of the planing table, load by load, and lists the boards whose dry thickness is not known. On
// long lists boards with equal answers share a row; boards over their limit, which are not to be worked, always do.
func (j *job) planedRows(form planingForm) (rows []planed, unmeasured []string) {
	byLoad := map[string][]int{}
	var loads []string
	measured := 0
	for i, b := range j.Boards {
		if b.Least <= 0 {
			unmeasured = append(unmeasured, b.Board.ID)
			continue
		}
		if byLoad[b.Board.Load] == nil {
			loads = append(loads, b.Board.Load)
		}
		byLoad[b.Board.Load] = append(byLoad[b.Board.Load], i)
		measured++
	}
	slices.SortStableFunc(unmeasured, compute.CompareIDs)
	for _, load := range loads {
		slices.SortStableFunc(byLoad[load], func(a, b int) int { return compute.CompareIDs(j.Boards[a].Board.ID, j.Boards[b].Board.ID) })
		at := map[string]int{}
		for _, i := range byLoad[load] {
			b := &j.Boards[i]
			r := planed{boards: []string{b.Board.ID}, load: load}
			fold := measured >= foldFrom
			if b.Over && len(b.Makes) == 0 && b.MakesNone.Name != "" {
				r.why, fold = "none: "+j.sayShort(b.MakesNone), true
			} else {
				r.cells = j.planedCells(b, form)
			}
			same := r.why + "\x00" + strings.Join(r.cells, "\x00")
			if old, ok := at[same]; ok && fold {
				rows[old].boards = append(rows[old].boards, b.Board.ID)
				continue
			}
			at[same] = len(rows)
			rows = append(rows, r)
		}
	}
	return rows, unmeasured
}

// planedCells writes what stands behind a board's number.
func (j *job) planedCells(b *compute.BoardResult, form planingForm) []string {
	size := func(l units.Length, none string) string {
		if l <= 0 {
			return none
		}
		return j.system.Size(l)
	}
	var cells []string
	if form.wood {
		cells = append(cells, b.Species.Name)
	}
	warp := size(b.Board.Cup, "-")
	if form.warps {
		var all []string
		for _, w := range warps {
			if l := w.of(b.Board); l > 0 {
				all = append(all, w.name+noBreak+strings.ReplaceAll(j.system.Size(l), " ", noBreak))
			}
		}
		for i := range all {
			all[i] = strings.TrimSuffix(all[i], noBreak+"mm")
		}
		warp = strings.Join(all, ", ")
	}
	cutTo, planes, ripped, width := "whole", b.PlanesTo, b.RippedTo, b.WidthTo
	if b.CutTo > 0 {
		cutTo, planes, ripped, width = j.system.Run(b.CutTo), b.CutPlanes, b.CutRipped, b.CutWidth
	}
	wide := "not known"
	if b.Board.Width > 0 {
		wide = size(width, "nothing")
	}
	makes := strings.Join(b.Makes, "; ")
	if makes == "" && b.MakesNone.Name != "" {
		makes = "none: " + j.sayShort(b.MakesNone)
	}
	long := "-"
	if b.Board.Length > 0 {
		long = j.system.Run(b.Board.Length)
	}
	for _, s := range []string{long, j.system.Size(b.Least), warp, cutTo, size(planes, "nothing"), size(ripped, "-"), wide} {
		cells = append(cells, strings.TrimSuffix(s, " mm")) // the heading has it
	}
	return append(cells, makes)
}

// drawCanMake counts the dry boards for each wanted piece.
func (j *job) drawCanMake(d *page.Doc) {
	if len(j.Sizes) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "wanted piece", Width: 38}, {Head: "wood"}, {Head: "finished", Width: 26}, {Head: "pieces wanted", Width: 14, Align: page.Right},
		{Head: "long and wide enough", Width: 18, Align: page.Right}, {Head: "of these with skip", Width: 18, Align: page.Right}, {Head: "boards that make it", Width: 20, Align: page.Right}}}
	for _, s := range j.Sizes {
		wanted := "by area"
		if s.Pieces > 0 {
			wanted = fmt.Sprint(s.Pieces)
		}
		t.Rows = append(t.Rows, page.Cells(s.Wanted.Piece, s.Wanted.Species.Name, j.sizeOrNot(s.Wanted.Thickness)+" x "+j.sizeOrNot(s.Wanted.Width), wanted, fmt.Sprint(s.LargeEnough), skipWords(s), fmt.Sprint(s.CanMake)))
	}
	d.Table(t)
	d.Para(j.wording("cut-plane-counts"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	d.Space(2)
}

// skipWords writes the boards that keep unplaned places.
func skipWords(s compute.SizeResult) string {
	if s.LargeEnough == 0 {
		return "-"
	}
	return fmt.Sprintf("%d (%.0f %%)", s.Skip, 100*s.SkipShare)
}

// cutSettings are the settings the sheet's numbers rest on, by the names of the settings sheet.
var cutSettings = []string{"saw step", "kerf", "planing per face", "edge cut", "scant share", "waste counts", "target moisture", "footage rule", "region"}

// drawCutAppendix names the shrinkage values, settings and rules the sheet rests on.
func (j *job) drawCutAppendix(d *page.Doc) {
	d.Heading(1, "What the figures rest on")
	d.Para(j.wording("cut-method"), page.Style{Size: page.SizeTable})
	d.Space(1.5)
	if len(j.Species) > 0 {
		t := page.Table{Columns: []page.Column{{Head: "wood", Width: 40}, {Head: "radial, green to ovendry", Width: 24, Align: page.Right},
			{Head: "tangential, green to ovendry", Width: 24, Align: page.Right}, {Head: "fiber saturation", Width: 18, Align: page.Right}, {Head: "source"}}}
		share := func(x float64) string {
			if x == 0 {
				return "no figure"
			}
			return shareWords(x)
		}
		for _, s := range j.Species {
			from := s.ShrinkageSource.String()
			if s.ShrinkageSource == (source.Source{}) {
				from = "none"
			}
			t.Rows = append(t.Rows, page.Cells(s.Name, share(s.Radial), share(s.Tangential), share(s.Fiber/100), from))
		}
		d.Table(t)
	}
	j.drawHouse(d)
	j.drawSizeMethod(d)
	if j.SawSpread.Says.Name != "" {
		d.Para(j.say(j.SawSpread.Says), page.Style{Size: page.SizeTable})
	}
	var rules []string
	for _, r := range j.footageRules() {
		rules = append(rules, j.wording("rule-"+r))
	}
	if len(rules) > 0 {
		d.Para(strings.Join(append(rules, j.wording("rule-net")), " "), page.Style{Size: page.SizeTable})
	}
	if j.CoverBy.Name != "" {
		d.Para(j.say(j.CoverBy), page.Style{Size: page.SizeTable})
	}
	d.Para(joined("; ", j.settingsFor(cutSettings)...), page.Style{Size: page.SizeTable})
	d.Space(1)
	d.Para(j.wording("cut-sources"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	j.drawClimate(d)
}

// footageRules names the rules the sheet's footages are counted by, each once.
func (j *job) footageRules() []string {
	names := map[compute.FootageRule]string{compute.VolumeMeasure: "volume", compute.SurfaceMeasure: "surface", compute.SoftwoodNominal: "nominal"}
	used := map[compute.FootageRule]bool{}
	for _, s := range j.Sizes {
		used[s.Green.Rule] = used[s.Green.Rule] || s.Green.Known
		used[s.Net.Rule] = used[s.Net.Rule] || s.Net.Known
	}
	for _, c := range j.Cuts {
		used[c.Green.Rule] = used[c.Green.Rule] || c.Green.Known
	}
	var out []string
	for _, r := range []compute.FootageRule{compute.VolumeMeasure, compute.SurfaceMeasure, compute.SoftwoodNominal} {
		if used[r] {
			out = append(out, names[r])
		}
	}
	return out
}

// drawSizeMethod shows how each setting came about, so that it can be done again by hand.
func (j *job) drawSizeMethod(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "piece", Width: 36}, {Head: "shrinks, thickness x width", Width: 24}, {Head: "planed off", Width: 20}, {Head: "by the formula", Width: 28},
		{Head: "dried to, from"}}}
	for _, s := range j.Sizes {
		if !s.Known {
			continue
		}
		t.Rows = append(t.Rows, page.Cells(s.Wanted.Piece, tenthWords(s.ShrinkThickness)+" x "+tenthWords(s.ShrinkWidth),
			j.system.Size(s.PlaneThickness)+" x "+j.system.Size(s.PlaneWidth), j.system.Size(s.ThicknessExact)+" x "+j.system.Size(s.WidthExact),
			s.TargetMC.String()+" %, "+s.TargetSrc.String()))
	}
	if len(t.Rows) > 0 {
		d.Space(3)
		d.Table(t)
	}
}
