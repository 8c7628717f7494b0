package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/fit"
	"drytally/compute/units"
	"drytally/report/page"
)

// cutAlike is boards that are cut in the same way: the first is drawn.
type cutAlike struct {
	sheets []fit.Sheet
	read   []compute.FitRead // of each of sheets
	made   []int             // of each piece, from one board
}

// cutGroups gathers the boards that are cut, those with the same pieces and the same bad wood at the same places together.
func cutGroups(f *compute.FitResult) []cutAlike {
	var out []cutAlike
	at := map[string]int{}
	for k, s := range f.Plan.Boards {
		if !s.Cut {
			continue
		}
		made := make([]int, len(f.Pieces))
		var b strings.Builder
		for p := range s.Whole.Leaves() {
			switch p.Kind {
			case fit.Made:
				fmt.Fprintln(&b, p.Piece, p.Along, p.Length, p.Width)
				made[p.Piece]++
			case fit.Rest: // its width is the board's own, and how much an edge loses
				fmt.Fprintln(&b, p.Kind, p.Along, p.Length)
			}
		}
		fmt.Fprintln(&b, s.Board.Length, s.Board.Defects, s.Board.LoseEnd)
		if i, ok := at[b.String()]; ok {
			out[i].sheets, out[i].read = append(out[i].sheets, s), append(out[i].read, f.Read[k])
			continue
		}
		at[b.String()] = len(out)
		out = append(out, cutAlike{[]fit.Sheet{s}, []compute.FitRead{f.Read[k]}, made})
	}
	return out
}

// drawFit draws which wanted pieces come out of which boards on hand, and how each board is cut.
func (j *job) drawFit(d *page.Doc) {
	f := j.Fit
	if f == nil || len(f.Says) == 0 && !f.Known {
		return
	}
	d.Need(40)
	d.Heading(1, "Pieces out of the boards on hand")
	d.Bullets(j.allSaid(f.Says), page.Style{})
	if !f.Known {
		return
	}
	d.Space(1)
	j.drawFitPieces(d)
	j.drawFitWood(d)
	groups := cutGroups(f)
	if len(groups) == 0 {
		return
	}
	longest := units.Length(0)
	for _, g := range groups {
		longest = max(longest, g.sheets[0].Board.Length)
	}
	scale := boardScale(longest, d.Body().W)
	trim, rounded := "", ""
	if f.EndTrim > 0 {
		trim = j.system.Size(f.EndTrim)
	}
	if f.Plan.Rounded > 0 {
		rounded = j.system.Size(f.Plan.Rounded)
	}
	d.Para(j.wording("fit-legend", "scale", decimal(scale), "trim", trim, "kerf", j.system.Size(f.Kerf), "rounded", rounded),
		page.Style{Size: page.SizeTable, Gray: page.Soft})
	for _, g := range groups {
		d.KeepTogether(func() { j.drawCutAlike(d, g, scale) })
	}
	j.drawUncut(d)
}

// drawFitPieces is the table of the pieces, each with the letter it has in the drawings.
func (j *job) drawFitPieces(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Width: 8}, {Head: "wanted piece"}, {Head: "wood", Width: 38}, {Head: "cut to, before jointing the edges", Width: 34},
		{Head: "wanted", Width: 14, Align: page.Right}, {Head: "from these boards", Width: 18, Align: page.Right}, {Head: "of these, read first", Width: 18, Align: page.Right}}}
	for i, p := range j.Fit.Pieces {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: pieceLetter(i), Face: page.Bold}, {Text: p.Wanted.Piece}, {Text: p.Wanted.Species.Name},
			{Text: j.system.Size(p.CutWidth) + " x " + j.system.Run(p.Wanted.Length)}, {Text: fmt.Sprint(p.Count)}, {Text: fmt.Sprint(p.Made), Face: page.Bold}, {Text: fmt.Sprint(p.Open)}}})
	}
	d.Table(t)
}

// pieceLetter names a piece in the drawings: A, B, ... Z, AA.
func pieceLetter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return pieceLetter(i/26-1) + pieceLetter(i%26)
}

// boardScale is the scale boards are drawn at, 1 to this, so that the longest fits.
func boardScale(longest units.Length, width float64) float64 {
	for _, x := range viewScales {
		if x >= 10 && longest.Millimetres()/x <= width {
			return x
		}
	}
	return longest.Millimetres() / width
}

// drawCutAlike draws one board of a group, with the numbers of all and what comes back to the stack.
func (j *job) drawCutAlike(d *page.Doc, g cutAlike, scale float64) {
	var ids, makes []string
	for _, s := range g.sheets {
		ids = append(ids, s.Board.ID)
	}
	for i, n := range g.made {
		if n > 0 {
			makes = append(makes, fmt.Sprintf("%d %s", n, pieceLetter(i)))
		}
	}
	d.Space(2.2)
	head := strings.Join(ids, ", ")
	if len(ids) > 1 {
		head = fmt.Sprintf("%d boards, each makes %s: %s", len(ids), list(makes), head)
	} else {
		head = joined(" ", head, "makes "+list(makes))
	}
	first := j.readFirst(g)
	if len(ids) == 1 { // on its own line
		head, first = joined(". ", append([]string{head}, first...)...), nil
	}
	for _, words := range append([]string{head}, first...) {
		d.Para(words, page.Style{Size: page.SizeTable, Face: page.Bold, Plain: true})
	}
	sheet := g.sheets[0]
	b, y := d.Body(), d.Y()+0.6
	h := max(sheet.Board.Width.Millimetres()/scale, 2)
	var kerfs []page.Rect
	for p := range sheet.Whole.Leaves() {
		r := page.Rect{X: b.X + p.Along.Millimetres()/scale, Y: y + p.Across.Millimetres()/scale, W: p.Length.Millimetres() / scale, H: p.Width.Millimetres() / scale}
		if p.Kind == fit.Kerf {
			kerfs = append(kerfs, r)
			continue
		}
		j.drawPart(d, p, r, len(g.sheets) > 1)
	}
	for _, r := range kerfs { // over the lines of the parts beside them
		d.FillRect(page.Rect{X: r.X, Y: r.Y, W: max(r.W, leastKerf), H: max(r.H, leastKerf)}, page.Black)
	}
	d.StrokeRect(page.Rect{X: b.X, Y: y, W: sheet.Board.Length.Millimetres() / scale, H: h}, page.Stroke{Width: 0.35})
	d.SetY(y + h + 0.8)
	if words := j.cutOutWords(sheet.Board); words != "" {
		d.Para(words, page.Style{Size: page.SizeSmall})
	}
	var rests []string
	for _, s := range g.sheets {
		for p := range s.Whole.Leaves() {
			if p.Kind == fit.Rest {
				rests = append(rests, p.Name+" "+j.restSize(p.Width, p.Length))
			}
		}
	}
	if len(rests) > 0 {
		d.Para("Back to the stack: "+strings.Join(rests, "; "), page.Style{Size: page.SizeSmall})
	}
}

// restSize writes what goes back to the stack, rounded down: no wood is promised that is not there.
func (j *job) restSize(width, length units.Length) string {
	step := sixteenth
	if j.system == units.Metric {
		step = units.Millimetre
	}
	return j.system.SizeTo(width/step*step, step) + " x " + j.system.Run(length/step*step)
}

// readFirst names the boards of a group that must be read before they are cut, with the most they may read.
func (j *job) readFirst(g cutAlike) []string {
	ids := map[units.MC][]string{}
	var limits []units.MC
	for i, r := range g.read {
		if !r.First {
			continue
		}
		if ids[r.Limit] == nil {
			limits = append(limits, r.Limit)
		}
		ids[r.Limit] = append(ids[r.Limit], g.sheets[i].Board.ID)
	}
	slices.Sort(limits)
	var out []string
	for _, l := range limits {
		most := ""
		if l > 0 {
			most = l.String()
		}
		which := strings.Join(ids[l], ", ")
		if len(ids[l]) == len(g.sheets) { // the line above names them
			which = ""
		}
		out = append(out, j.wording("fit-read-first", "limit", most, "boards", which))
	}
	return out
}

// leastKerf is how thin a saw cut is drawn at the least, in millimetres.
const leastKerf = 0.2

// cutOutWords says where the bad wood of a board lies.
func (j *job) cutOutWords(b fit.Board) string {
	if b.LoseEnd > 0 {
		return j.wording("fit-lose-ends", "loss", j.system.Run(b.LoseEnd))
	}
	var all []string
	for _, s := range b.Defects {
		all = append(all, j.spanWords(s))
	}
	if len(all) == 0 {
		return ""
	}
	return j.wording("fit-cut-out", "spans", strings.Join(all, "; "))
}

// spanWords writes a part of a board's length. A bare 0 is its end in any unit.
func (j *job) spanWords(s fit.Span) string {
	from := "0"
	if s.From > 0 {
		from = j.system.Run(s.From)
	}
	return from + " to " + j.system.Run(s.To)
}

// drawFitWood is what becomes of the wood of the boards that are cut.
func (j *job) drawFitWood(d *page.Doc) {
	w := j.Fit.Wood
	if w.Boards == 0 {
		return
	}
	_, unit, _ := strings.Cut(j.system.Solid(0), " ")
	t := page.Table{Columns: []page.Column{{Width: 30}}}
	row := page.Row{Cells: []page.Cell{{Text: "solid, " + unit}}}
	heads := []string{"boards cut", "finished pieces", "chips", "sawdust", "bad wood", "trimmed off", "back to the stack"}
	parts := j.system.Solids(w.Finished, w.Chips, w.Sawdust, w.Bad, w.Lost, w.Left)
	for i, words := range append([]string{j.system.Solid(w.Boards)}, parts...) {
		t.Columns = append(t.Columns, page.Column{Head: heads[i], Align: page.Right})
		words, _, _ := strings.Cut(words, " ")
		row.Cells = append(row.Cells, page.Cell{Text: words})
	}
	t.Rows = []page.Row{row}
	d.Space(2)
	d.Table(t)
}

// drawPart draws one part of a board: a piece gray with its letter, and its size where there is room. In a drawing that stands for
// several boards a rest has its letter alone.
func (j *job) drawPart(d *page.Doc, p fit.Part, r page.Rect, several bool) {
	st := page.Style{Size: min(page.SizeSmall, r.H*0.8), Align: page.Center}
	switch p.Kind {
	case fit.Made:
		d.FillRect(r, page.Pale)
		d.StrokeRect(r, page.Stroke{})
		st.Face = page.Bold
		words := pieceLetter(p.Piece)
		if full := words + "  " + j.system.Run(j.Fit.Pieces[p.Piece].Wanted.Length); d.TextWidth(full, st) < r.W-1 {
			words = full
		}
		if st.Size >= page.SizeLeast && d.TextWidth(words, st) < r.W {
			d.Fit(r, words, st, 0)
		}
	case fit.Trim:
		if r.W > 0.2 && r.H > 0.2 {
			d.Hatch(r, 1.2, false, page.Stroke{Width: page.Hair, Gray: page.Mid})
		}
	case fit.Defect:
		d.Hatch(r, 0.8, false, page.Stroke{Width: 0.2})
		d.Hatch(r, 0.8, true, page.Stroke{Width: 0.2})
		d.StrokeRect(r, page.Stroke{})
	case fit.Rest:
		d.StrokeRect(r, page.Stroke{Width: page.Hair})
		name := p.Name
		if at := strings.LastIndexByte(name, '-'); several && at >= 0 {
			name = "number" + name[at:]
		}
		for _, words := range []string{name + "  back to the stack", name} {
			if st.Size >= page.SizeLeast && d.TextWidth(words, st) < r.W-1 {
				d.Fit(r, words, st, 0)
				break
			}
		}
	}
}

// drawUncut names the boards on hand that nothing is cut from.
func (j *job) drawUncut(d *page.Doc) {
	var ids []string
	for _, s := range j.Fit.Plan.Boards {
		if !s.Cut {
			ids = append(ids, s.Board.ID)
		}
	}
	if len(ids) == 0 {
		return
	}
	d.Space(2)
	d.Para(j.wording("fit-uncut", "n", fmt.Sprint(len(ids)), "boards", strings.Join(runsOf(ids, 3, " to ", nextID), ", ")), page.Style{Size: page.SizeTable, Plain: true})
}
