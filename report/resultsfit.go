package report

import (
	"slices"

	"drytally/compute"
	"drytally/compute/fit"
	"drytally/compute/units"
)

// jsFit writes which wanted pieces are cut from which boards, or null when there was nothing to fit.
func (j *job) jsFit(f *compute.FitResult) any {
	if f == nil {
		return nil
	}
	out := jsObject{
		{"known", f.Known}, {"says", j.jsStatements(f.Says)},
		{"end_trim", jsLength(f.EndTrim)}, {"kerf", jsLength(f.Kerf)}, {"left_length", jsLength(f.LeftLength)}, {"left_width", jsLength(f.LeftWidth)},
		{"wood_cm3", jsLine{{"boards", int(f.Wood.Boards)}, {"finished", int(f.Wood.Finished)}, {"chips", int(f.Wood.Chips)}, {"sawdust", int(f.Wood.Sawdust)},
			{"bad", int(f.Wood.Bad)}, {"lost", int(f.Wood.Lost)}, {"left", int(f.Wood.Left)}}},
		{"pieces", jsEach(f.Pieces, j.jsFitPiece)}, {"no_part", jsEach(f.Left, j.jsFitPiece)}, {"plan", nil},
	}
	if f.Known {
		out[len(out)-1].value = j.jsPlan(f)
	}
	return out
}

func (j *job) jsFitPiece(p *compute.FitPiece) any {
	return append(jsOrigin(p.Wanted.Origin), jsObject{{"piece", p.Wanted.Piece}, {"cut_width", jsLength(p.CutWidth)}, {"wanted", p.Count}, {"made", p.Made}, {"made_to_read_first", p.Open}, {"boards_that_can", p.Can},
		{"why", j.jsStatement(p.Why)}}...)
}

func (j *job) jsPlan(f *compute.FitResult) any {
	p := &f.Plan
	score := func(s fit.Score) any {
		return jsLine{{"missing", s.Missing}, {"order", s.Order}, {"board_feet", jsNumber(jsDecimal(s.Wood, 2))}}
	}
	boards := jsArray{}
	for i := range p.Boards {
		boards = append(boards, j.jsFitBoard(f, i))
	}
	return jsObject{
		{"proven", p.Proven}, {"used", score(p.Used)}, {"bound", score(p.Bound)}, {"rounded_up", jsLength(p.Rounded)}, {"work", jsNumber(jsDecimal(p.Work, 0))},
		{"made", jsEach(p.Made, func(n *int) any { return *n })}, {"boards_that_can", jsEach(p.Can, func(n *int) any { return *n })},
		{"boards", boards},
		{"leftovers", jsEach(p.Leftovers, func(l *fit.Leftover) any {
			return jsObject{{"name", l.Name}, {"board", l.Board}, {"length", jsLength(l.Length)}, {"width", jsLength(l.Width)}, {"thickness", jsLength(l.Thickness)}, {"whole", l.Whole}}
		})},
	}
}

// jsFitBoard writes a board on hand as it can be cut, and its cuts.
func (j *job) jsFitBoard(f *compute.FitResult, i int) any {
	s := &f.Plan.Boards[i]
	b := &s.Board
	return jsObject{
		{"id", b.ID}, {"board", j.jsBoardRef(&f.Boards[i])}, {"species", b.Species}, {"length", jsLength(b.Length)}, {"width", jsLength(b.Width)}, {"crook", jsLength(b.Crook)}, {"thickness", jsLength(b.Thickness)},
		{"planes_to", jsEach(b.Planed, func(p *fit.Planed) any {
			return jsObject{{"up_to_length", jsLength(p.UpTo)}, {"whole", jsLength(p.Whole)}, {"ripped", jsLength(p.Ripped)}}
		})},
		{"held_back", b.HeldBack}, {"not_for", jsTexts(b.Deny)}, {"lose_start", jsLength(b.LoseStart)}, {"lose_end", jsLength(b.LoseEnd)},
		{"defects", jsSpans(b.Defects)},
		{"cut", s.Cut}, {"read_first", f.Read[i].First}, {"read_limit_percent", jsPercentIf(f.Read[i].Limit)}, {"pieces_not_shown_dry", f.Read[i].Pieces}, {"counts_twice", b.Unsure}, {"board_feet", jsNumber(jsDecimal(s.Wood, 2))}, {"whole", j.jsPart(f, &s.Whole)},
	}
}

// jsSpans writes parts of a board's length.
func jsSpans(all []fit.Span) any {
	return jsEach(all, func(d *fit.Span) any { return jsObject{{"from", jsMeasure(d.From)}, {"to", jsMeasure(d.To)}} })
}

// jsPart writes a rectangle of a board with what it is divided into.
func (j *job) jsPart(f *compute.FitResult, p *fit.Part) any {
	var piece any
	if p.Kind == fit.Made {
		piece = p.Piece
	}
	return jsObject{{"kind", p.Kind.String()}, {"piece", piece}, {"name", p.Name}, {"along", jsMeasure(p.Along)}, {"across", jsMeasure(p.Across)},
		{"length", jsMeasure(p.Length)}, {"width", jsMeasure(p.Width)}, {"ripped", p.Rip}, {"parts", jsEach(p.Parts, func(q *fit.Part) any { return j.jsPart(f, q) })}}
}

// fitPieces lists the wanted pieces: those the plan is made for, then those that took no part.
func (j *job) fitPieces() []*compute.FitPiece {
	if j.Fit == nil {
		return nil
	}
	return slices.Concat(pointers(j.Fit.Pieces), pointers(j.Fit.Left))
}

func (j *job) fitColumns() []column[*compute.FitPiece] {
	type row = *compute.FitPiece
	return slices.Concat([]column[row]{
		{head: "Piece", width: 20, cell: func(p row) any { return p.Wanted.Piece }},
		{head: "Species", width: 20, cell: func(p row) any { return p.Wanted.Species.Name }},
		{head: "Pieces wanted", width: 9, cell: func(p row) any { return countCell(p.Count) }},
		{head: "Cut from the boards on hand", width: 10, cell: func(p row) any {
			if !j.Fit.Known || p.Why.Name != "" {
				return nil
			}
			return p.Made
		}},
		{head: "Of these, from boards to read first", width: 10, cell: func(p row) any {
			if !j.Fit.Known || p.Why.Name != "" {
				return nil
			}
			return p.Open
		}},
		{head: "Boards on hand that can be cut for it", width: 11, cell: func(p row) any {
			if !j.Fit.Known || p.Why.Name != "" {
				return nil
			}
			return p.Can
		}},
	},
		lengths(j, "Finished thickness", "", func(p row) units.Length { return p.Wanted.Thickness }),
		lengths(j, "Cut to width", "", func(p row) units.Length { return p.CutWidth }),
		runs(j, "Length", "", func(p row) units.Length { return p.Wanted.Length }),
		[]column[row]{{head: "Took no part because", width: 50, cell: func(p row) any { return j.sentence(p.Why) }}},
		originColumns(func(p row) compute.Origin { return p.Wanted.Origin }))
}

// cutRow is one piece or leftover of a board, in the order of cutting.
type cutRow struct {
	board *compute.BoardResult
	sheet *fit.Sheet
	read  compute.FitRead
	at    int // from 1 on each board
	fit.Part
}

// fitCuts lists what the boards that are cut become. Kerfs and lost ends are in results.json.
func (j *job) fitCuts() []cutRow {
	if j.Fit == nil || !j.Fit.Known {
		return nil
	}
	var rows []cutRow
	for i := range j.Fit.Plan.Boards {
		s := &j.Fit.Plan.Boards[i]
		if !s.Cut {
			continue
		}
		n := 0
		for p := range s.Whole.Leaves() {
			if p.Kind == fit.Made || p.Kind == fit.Rest {
				n++
				rows = append(rows, cutRow{&j.Boards[j.Fit.Boards[i]], s, j.Fit.Read[i], n, p})
			}
		}
	}
	return rows
}

func (j *job) fitCutColumns() []column[cutRow] {
	return slices.Concat([]column[cutRow]{
		{head: "Board", width: 12, cell: func(c cutRow) any { return c.sheet.Board.ID }},
		{head: "Load", width: 12, cell: func(c cutRow) any { return c.board.Board.Load }},
		{head: "Read it first", width: 22, cell: func(c cutRow) any { return j.readFirstCell(c.read) }},
		{head: "Cut", width: 6, cell: func(c cutRow) any { return c.at }},
		{head: "Becomes", width: 12, cell: func(c cutRow) any { return c.Kind.String() }},
		{head: "Piece or name of the leftover", width: 22, cell: func(c cutRow) any {
			if c.Kind == fit.Made {
				return j.Fit.Pieces[c.Piece].Wanted.Piece
			}
			return c.Name
		}},
	},
		runs(j, "Length", "", func(c cutRow) units.Length { return c.Length }),
		lengths(j, "Width", "", func(c cutRow) units.Length { return c.Width }),
		[]column[cutRow]{
			moveColumn(j, "From the first end", func(c cutRow) (units.Length, bool) { return c.Along, true }),
			moveColumn(j, "From the first edge", func(c cutRow) (units.Length, bool) { return c.Across, true }),
		})
}

// readFirstCell says that a board must be read before it is cut, and the most it may read; nothing when it was shown dry.
func (j *job) readFirstCell(r compute.FitRead) any {
	switch {
	case !r.First:
		return nil
	case r.Limit == 0:
		return "yes"
	}
	return "yes, at most " + r.Limit.String() + " %"
}

// leftovers lists what goes back to the stack: rests of boards that are cut. Boards that are left alone are on the sheet Boards.
func (j *job) leftovers() []*fit.Leftover {
	if j.Fit == nil || !j.Fit.Known {
		return nil
	}
	return slices.DeleteFunc(pointers(j.Fit.Plan.Leftovers), func(l *fit.Leftover) bool { return l.Whole })
}

func (j *job) leftoverColumns() []column[*fit.Leftover] {
	type row = *fit.Leftover
	return slices.Concat([]column[row]{
		{head: "Name", width: 14, cell: func(l row) any { return l.Name }},
		{head: "Of board", width: 12, cell: func(l row) any { return l.Board }},
	},
		runs(j, "Length", "", func(l row) units.Length { return l.Length }),
		lengths(j, "Width", "", func(l row) units.Length { return l.Width }),
		lengths(j, "Thickness of the board", "", func(l row) units.Length { return l.Thickness }))
}

// woodRow is a line of what becomes of the boards that are cut.
type woodRow struct {
	what string
	cm3  int64
}

func (j *job) woodRows() []woodRow {
	if j.Fit == nil || !j.Fit.Known || j.Fit.Wood.Boards == 0 {
		return nil
	}
	w := j.Fit.Wood
	return []woodRow{{"pieces, planed and jointed", w.Finished}, {"chips: planed and jointed off them", w.Chips}, {"sawdust", w.Sawdust}, {"bad wood cut out", w.Bad},
		{"ends trimmed, edges straightened, rests too small", w.Lost}, {"back to the stack", w.Left}, {"the boards that are cut", w.Boards}}
}

func (j *job) woodColumns() []column[woodRow] {
	return []column[woodRow]{
		{head: "Wood of the boards that are cut", width: 46, cell: func(w woodRow) any { return w.what }},
		solidColumn(j, "Solid", func(w woodRow) int64 { return w.cm3 }),
	}
}
