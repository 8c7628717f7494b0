package report

import (
	"slices"

	"drytally/compute"
	"drytally/compute/haul"
	"drytally/compute/price"
	"drytally/compute/stack"
	"drytally/compute/units"
)

// jsKiln writes how the boards not yet dried are loaded, or null when the kiln's measures are not given. A gap of 0 is a result.
func (j *job) jsKiln(k *compute.KilnResult) any {
	if k == nil {
		return nil
	}
	return jsObject{{"kiln", jsKilnMeasures(k.Kiln)}, {"loads", jsEach(k.Loads, j.jsKilnLoad)},
		{"not_loaded", jsEach(k.Aside, func(a *compute.KilnAside) any {
			return jsLine{{"load", a.Load}, {"date_out", jsDate(a.Out)}, {"rows", a.Rows}, {"boards", a.Boards}}
		})}}
}

func jsKilnMeasures(k stack.Kiln) any {
	if !k.Given() {
		return nil
	}
	return jsObject{{"length", jsLength(k.Length)}, {"width", jsLength(k.Width)}, {"height", jsLength(k.Height)}, {"sticker_thickness", jsLength(k.Sticker)},
		{"sticker_spacing", jsLength(k.Spacing)}, {"gap_between_boards", jsMeasure(k.BoardGap)}, {"gap_at_walls", jsMeasure(k.WallGap)}, {"gap_at_ends", jsMeasure(k.EndGap)},
		{"bolster_height", jsMeasure(k.Bolster)}, {"room_above", jsMeasure(k.Top)}}
}

func (j *job) jsKilnLoad(l *compute.KilnLoad) any {
	return jsObject{{"load", l.Load}, {"date_in", jsDate(l.DateIn)}, {"placed", l.Placed}, {"left_out", l.Out},
		{"rows", jsEach(l.Rows, func(r *compute.KilnRow) any {
			var why any
			if r.Why != stack.AllPlaced {
				why = r.Why.String()
			}
			return append(jsOrigin(r.Cut.Origin), jsPair{"placed", r.Placed}, jsPair{"left_out", r.Out}, jsPair{"why", why}, jsPair{"courses", jsEach(r.Courses, func(n *int) any { return *n })})
		})},
		{"stickers", l.Stickers}, {"sticker_run", jsMeasure(l.StickerRun)}, {"sticker_lines", l.Lines},
		{"green_footage", jsEach(l.Footage, func(f *compute.Footage) any { return jsFootage(*f) })},
		{"green_weight", jsWeightRange(l.Green)}, {"dry_weight", jsWeightRange(l.Dry)},
		{"stacks", jsEach(l.Plan.Stacks, func(s *stack.Stack) any {
			return jsObject{{"start", jsMeasure(s.Start)}, {"length", jsLength(s.Length)}, {"width", jsLength(s.Width)}, {"height", jsLength(s.Height)}, {"room_at_wall", jsMeasure(s.Side)},
				{"sticker_lines", jsEach(s.Lines, func(at *units.Length) any { return jsMeasure(*at) })}, {"widest_spacing", jsMeasure(s.Widest)}, {"spacing_asked", jsLength(s.Spacing)}, {"sticker_openings", jsLength(s.Opening)},
				{"courses", jsEach(s.Courses, func(c *stack.Course) any {
					return jsObject{{"thickness", jsLength(c.Thickness)}, {"underside", jsMeasure(c.Base)}, {"gap", jsMeasure(c.Gap)}, {"stickers", c.Stickers}, {"to_be_filled_up", c.Sparse},
						{"boards", jsEach(c.Boards, func(b *stack.Board) any { return jsLine{{"row", b.Row}, {"from_left_wall", jsMeasure(b.X)}} })}}
				})}}
		})},
		{"kiln_taken", j.jsStatement(l.Taken)}, {"warnings", j.jsStatements(l.Warnings)}, {"openings", j.jsStatements(l.Open)}, {"says", j.jsStatements(l.Says)}}
}

// jsWeightRange writes a weight known about, or null.
func jsWeightRange(r haul.Range) any {
	if !r.Known() {
		return nil
	}
	return jsObject{{"low", jsMass(r.Low)}, {"about", jsMass(r.About)}, {"high", jsMass(r.High)}}
}

func (j *job) jsSaleWeight(w *compute.SaleWeight) any {
	return jsObject{{"weight", jsWeightRange(w.Range)}, {"boards", w.Boards}, {"moisture_known", w.Measured}, {"moisture_open", w.Open}, {"boards_not_named", w.Estimated},
		{"heaviest_board", jsMass(w.Heaviest)}, {"rated_load", jsMass(w.Rated)}, {"trips", jsEach(w.Trips, func(n *int) any { return *n })}, {"says", j.jsStatements(w.Says)},
		{"too_much", j.jsStatement(w.TooMuch)}}
}

// jsStep writes what a thicker setting takes of the logs, or null.
func (j *job) jsStep(s *compute.StepResult) any {
	if !s.Known {
		return nil
	}
	return jsObject{{"step", jsLength(s.Step)}, {"kerf", jsLength(s.Kerf)}, {"from", jsDate(s.From)}, {"to", jsDate(s.To)}, {"boards", s.Boards},
		{"week_board_feet", jsNumber(jsDecimal(s.Week, 2))}, {"month_board_feet", jsNumber(jsDecimal(s.Month, 2))}, {"share_percent", jsPercent(s.Share)}, {"says", j.jsStatement(s.Says)}}
}

// jsAsked writes what the owner asks, or null. Money is in the currency named beside.
func jsAsked(p price.Price) any {
	if !p.Given() {
		return nil
	}
	return jsLine{{"amount", jsNumber(jsDecimal(p.Hundredths, 2))}, {"per", p.Per.String()}}
}

func jsAmount(a price.Amount, known bool) any {
	if !known {
		return nil
	}
	return jsNumber(jsDecimal(int64(a), 2))
}

// jsMoneySettings writes the owner's prices, or null when he gives none.
func jsMoneySettings(s *compute.Settings) any {
	if s.Currency == "" && len(s.Prices) == 0 && !s.DryingCharge.Given() && !s.LogValue.Given() {
		return nil
	}
	return jsObject{{"currency", s.Currency}, {"woods", jsEach(s.Prices, func(p *compute.WoodPrice) any { return jsObject{{"species", p.Species}, {"asked", jsAsked(p.Price)}} })},
		{"drying_charge", jsAsked(s.DryingCharge)}, {"log_value", jsAsked(s.LogValue)}}
}

// jsMoney writes what the owner's prices come to, or null when he gives none.
func (j *job) jsMoney(m *compute.MoneyResult) any {
	if m == nil {
		return nil
	}
	solid := func(n int64) any { return jsCountIf(int(n)) }
	feet := func(f *compute.Footage) any { return jsFootage(*f) }
	return jsObject{{"currency", m.Currency},
		{"sales", jsEach(m.Sales, func(s *compute.SaleMoney) any {
			return jsObject{{"sale", s.Sale}, {"total", jsAmount(s.Total, s.Known)}, {"lines", jsEach(s.Lines, func(l *compute.MoneyLine) any {
				return jsObject{{"what", l.What}, {"boards", l.Boards}, {"footage", jsFootage(l.Footage)}, {"cubic_centimetres", solid(l.Solid)}, {"asked", jsAsked(l.Price)},
					{"asked_in_the_row", l.Own}, {"amount", jsAmount(l.Amount, l.Known)}, {"why", j.jsStatement(l.Why)}}
			})}}
		})},
		{"drying", jsEach(m.Drying, func(d *compute.DryingMoney) any {
			return jsObject{{"load", d.Load}, {"charge", jsAsked(d.Charge)}, {"footage_in", jsEach(d.In, feet)}, {"footage_out", jsEach(d.Out, feet)},
				{"thousandths_m3_in", solid(d.SolidIn)}, {"thousandths_m3_out", solid(d.SolidOut)}, {"amount_in", jsAmount(d.InAmount, d.InKnown)},
				{"amount_out", jsAmount(d.OutAmount, d.OutKnown)}, {"boards", d.OutOf}, {"boards_listed", d.Listed}, {"says", j.jsStatements(d.Says)}}
		})},
		{"thicker_step", jsObject{{"log_value", jsAsked(m.Step.Value)}, {"month", jsAmount(m.Step.Amount, m.Step.Known)}, {"says", j.jsStatement(m.Step.Says)}}}}
}

// kilnCourse is a course of a loading, for the workbook.
type kilnCourse struct {
	load   *compute.KilnLoad
	stack  int
	number int
	c      stack.Course
}

func (j *job) kilnCourses() []kilnCourse {
	if j.Kiln == nil {
		return nil
	}
	var all []kilnCourse
	for i := range j.Kiln.Loads {
		l := &j.Kiln.Loads[i]
		n := 0
		for k, s := range l.Plan.Stacks {
			for _, c := range s.Courses {
				n++
				all = append(all, kilnCourse{l, k + 1, n, c})
			}
		}
	}
	return all
}

func (j *job) kilnCourseColumns() []column[kilnCourse] {
	return slices.Concat([]column[kilnCourse]{
		{head: "Load", width: 20, cell: func(c kilnCourse) any { return kilnName(c.load) }},
		{head: "Stack", width: 7, cell: func(c kilnCourse) any { return c.stack }},
		{head: "Course", width: 7, cell: func(c kilnCourse) any { return c.number }},
		{head: "Boards", width: 8, cell: func(c kilnCourse) any { return len(c.c.Boards) }},
		{head: "Lay", width: 60, cell: func(c kilnCourse) any { return bookProse(j.courseBoards(c.load, c.c, true)) }},
	},
		lengths(j, "Thickness", "", func(c kilnCourse) units.Length { return c.c.Thickness }),
		lengths(j, "Underside from the floor", "", func(c kilnCourse) units.Length { return c.c.Base }),
		[]column[kilnCourse]{
			moveColumn(j, "Gap between boards", func(c kilnCourse) (units.Length, bool) { return c.c.Gap, len(c.c.Boards) > 1 }),
			{head: "Stickers on it", width: 9, cell: func(c kilnCourse) any { return c.c.Stickers }},
			{head: "To be filled up", width: 9, cell: func(c kilnCourse) any { return c.c.Sparse }},
		})
}

// kilnRow is a row of the tally with what became of its boards, or the boards of a load that is out.
type kilnRow struct {
	load *compute.KilnLoad
	row  *compute.KilnRow
}

func (j *job) kilnRows() []kilnRow {
	if j.Kiln == nil {
		return nil
	}
	var all []kilnRow
	for i := range j.Kiln.Loads {
		l := &j.Kiln.Loads[i]
		for k := range l.Rows {
			all = append(all, kilnRow{l, &l.Rows[k]})
		}
	}
	return all
}

func (j *job) kilnRowColumns() []column[kilnRow] {
	return slices.Concat([]column[kilnRow]{
		{head: "Load", width: 20, cell: func(r kilnRow) any { return kilnName(r.load) }},
		{head: "Species", width: 20, cell: func(r kilnRow) any { return r.row.Cut.Species.Name }},
		{head: "Size", width: 28, cell: func(r kilnRow) any { return j.cutSize(r.row.Cut) }},
		{head: "Boards", width: 8, cell: func(r kilnRow) any { return r.row.Placed + r.row.Out }},
		{head: "Placed", width: 8, cell: func(r kilnRow) any { return r.row.Placed }},
		{head: "Stay out", width: 8, cell: func(r kilnRow) any { return r.row.Out }},
		{head: "Why", width: 30, cell: func(r kilnRow) any {
			if r.row.Out == 0 {
				return nil
			}
			return r.row.Why.String()
		}},
		{head: "Courses", width: 16, cell: func(r kilnRow) any { return intRuns(r.row.Courses) }},
		massColumn(j, "Green weight of the load, from", func(r kilnRow) units.Mass { return r.load.Green.Low }),
		massColumn(j, "Green weight of the load, to", func(r kilnRow) units.Mass { return r.load.Green.High }),
		massColumn(j, "Dry weight of the load, from", func(r kilnRow) units.Mass { return r.load.Dry.Low }),
		massColumn(j, "Dry weight of the load, to", func(r kilnRow) units.Mass { return r.load.Dry.High }),
		{head: "Said of the load", width: 70, cell: func(r kilnRow) any { return j.sentences(kilnSays(r.load)) }},
	}, originColumns(func(r kilnRow) compute.Origin { return r.row.Cut.Origin }))
}

// moneyRow is one amount of money: a line of a sale, its total, a drying charge, the thicker step.
type moneyRow struct {
	of, what, measure, asked string
	amount                   any
	words                    []compute.Statement
}

func (j *job) moneyRows() []moneyRow {
	m := j.Money
	if m == nil {
		return nil
	}
	amount := func(a price.Amount, known bool) any {
		if !known {
			return nil
		}
		return bookDecimal(float64(a) / 100)
	}
	asked := func(p price.Price) string {
		if !p.Given() {
			return ""
		}
		return p.Write(m.Currency)
	}
	said := func(s compute.Statement) []compute.Statement {
		if s.Name == "" {
			return nil
		}
		return []compute.Statement{s}
	}
	var all []moneyRow
	for _, s := range m.Sales {
		for i := range s.Lines {
			l := &s.Lines[i]
			all = append(all, moneyRow{"sale " + s.Sale, l.What, moneyMeasure(l), asked(l.Price), amount(l.Amount, l.Known), said(l.Why)})
		}
		all = append(all, moneyRow{of: "sale " + s.Sale, what: "total", amount: amount(s.Total, s.Known)})
	}
	for _, d := range m.Drying {
		for _, side := range []struct {
			what   string
			feet   []compute.Footage
			amount any
			words  []compute.Statement
		}{{"drying, on footage in (green)", d.In, amount(d.InAmount, d.InKnown), d.Says}, {"drying, on footage out (dry)", d.Out, amount(d.OutAmount, d.OutKnown), nil}} {
			all = append(all, moneyRow{"load " + d.Load, side.what, footages(side.feet), asked(d.Charge), side.amount, side.words})
		}
	}
	if m.Step.Known {
		all = append(all, moneyRow{"the saw", "one step thicker, a month", boardFeet(j.Step.Month) + " board feet of log", asked(m.Step.Value), amount(m.Step.Amount, true), []compute.Statement{m.Step.Says}})
	}
	return all
}

func (j *job) moneyColumns() []column[moneyRow] {
	currency := ""
	if j.Money != nil {
		currency = " (" + j.Money.Currency + ")"
	}
	return []column[moneyRow]{
		{head: "Of", width: 16, cell: func(r moneyRow) any { return r.of }},
		{head: "What", width: 30, cell: func(r moneyRow) any { return r.what }},
		{head: "By", width: 34, cell: func(r moneyRow) any { return r.measure }},
		{head: "Asked", width: 28, cell: func(r moneyRow) any { return r.asked }},
		{head: "Amount" + currency, width: 14, cell: func(r moneyRow) any { return r.amount }},
		{head: "In words", width: 60, cell: func(r moneyRow) any { return j.sentences(r.words) }},
	}
}

// kilnSays is all that is said of a load, the most urgent first.
func kilnSays(l *compute.KilnLoad) []compute.Statement {
	var all []compute.Statement
	if l.Taken.Name != "" {
		all = append(all, l.Taken)
	}
	return slices.Concat(all, l.Warnings, l.Open, l.Says)
}
