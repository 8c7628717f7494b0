package report

import (
	"strings"

	"drytally/compute"
	"drytally/compute/units"
)

// jsMeter writes a meter held against the oven or against another meter.
func (j *job) jsMeter(m *compute.MeterComparison) any {
	return jsObject{
		{"meter", m.Meter}, {"against", m.Against}, {"oven", m.Oven}, {"species", m.Species},
		{"pairs", jsEach(m.Pairs, func(p *compute.MeterPair) any {
			return jsLine{{"load", p.Load}, {"board", p.Board}, {"date", jsDate(p.Date)}, {"shown_percent", jsPercent(p.Shown)}, {"against_percent", jsPercent(p.Against)}}
		})},
		{"left_out_marks", m.Marks}, {"left_out_apart", m.Apart}, {"difference", jsDifference(m.Difference)}, {"spread_points", jsPercentIf(m.Spread)},
		{"line", jsMeterLine(&m.Line)}, {"used", m.Used}, {"boards_changed", m.Boards}, {"says", j.jsStatements(m.Says)},
	}
}

// jsDifference writes an estimate that is a difference in points, or null.
func jsDifference(e units.Estimate) any {
	if !e.Known {
		return nil
	}
	o := jsLine{{"points", jsPercent(e.Value)}, {"low_points", nil}, {"high_points", nil}, {"confidence", jsRealIf(e.Confidence)}, {"n", e.N}}
	if e.Confidence != 0 {
		o[1].value, o[2].value = jsPercent(e.Low), jsPercent(e.High)
	}
	return o
}

func jsMeterLine(l *compute.MeterLine) any {
	if !l.Known {
		return nil
	}
	return jsObject{{"intercept", jsReal(l.Intercept)}, {"slope", jsReal(l.Slope)}, {"slope_standard_deviation", jsReal(l.USlope)},
		{"residual_points", jsReal(l.Residual)}, {"low_percent", jsPercent(l.Low)}, {"high_percent", jsPercent(l.High)},
		{"at", jsEach(l.At, func(p *compute.LinePoint) any {
			return jsLine{{"shown_percent", jsPercent(p.Shown)}, {"percent", jsPercent(p.MC)}, {"low_percent", jsPercent(p.Low)}, {"high_percent", jsPercent(p.High)}}
		})}}
}

func (j *job) meterColumns() []column[*compute.MeterComparison] {
	type row = *compute.MeterComparison
	difference := func(ranged bool, get func(units.Estimate) units.MC) func(row) any {
		return func(m row) any {
			if e := m.Difference; e.Known && !(ranged && e.Confidence == 0) {
				return get(e)
			}
			return nil
		}
	}
	line := func(get func(*compute.MeterLine) any) func(row) any {
		return func(m row) any {
			if !m.Line.Known {
				return nil
			}
			return get(&m.Line)
		}
	}
	return []column[row]{
		{head: "Meter", width: 18, cell: func(m row) any { return meterCell(m.Meter) }},
		{head: "Held against", width: 18, cell: func(m row) any { return meterCell(m.Against) }},
		{head: "Species", width: 20, cell: func(m row) any { return m.Species }},
		{head: "Boards compared", width: 10, cell: func(m row) any { return len(m.Pairs) }},
		{head: "Left out: only a mark", width: 9, cell: func(m row) any { return m.Marks }},
		{head: "Left out: days apart", width: 9, cell: func(m row) any { return m.Apart }},
		{head: "Differs by, on average (points)", width: 10, cell: difference(false, func(e units.Estimate) units.MC { return e.Value })},
		{head: "Differs by, from (points)", width: 9, cell: difference(true, func(e units.Estimate) units.MC { return e.Low })},
		{head: "Differs by, to (points)", width: 9, cell: difference(true, func(e units.Estimate) units.MC { return e.High })},
		{head: "Standard deviation between boards (points)", width: 11, cell: func(m row) any { return mcCell(m.Spread) }},
		{head: "Line: at reading 0 (%)", width: 9, cell: line(func(l *compute.MeterLine) any { return bookDecimal(l.Intercept) })},
		{head: "Line: slope", width: 8, cell: line(func(l *compute.MeterLine) any { return bookDecimal(l.Slope) })},
		{head: "Boards off the line by (points)", width: 10, cell: line(func(l *compute.MeterLine) any { return bookDecimal(l.Residual) })},
		{head: "Line from (%)", width: 8, cell: line(func(l *compute.MeterLine) any { return l.Low })},
		{head: "Line to (%)", width: 8, cell: line(func(l *compute.MeterLine) any { return l.High })},
		{head: "Readings corrected by it", width: 10, cell: func(m row) any { return m.Used }},
		{head: "Boards it changed", width: 9, cell: func(m row) any { return m.Boards }},
		{head: "In words", width: 70, cell: func(m row) any { return j.sentences(m.Says) }},
	}
}

// meterCell names a meter; one without a name is the meter of the settings.
func meterCell(name string) string {
	if name == "" {
		return "meter of the settings"
	}
	return name
}

// meterPairRow is a board measured both ways, with its comparison.
type meterPairRow struct {
	of *compute.MeterComparison
	*compute.MeterPair
}

func (j *job) meterPairRows() []meterPairRow {
	var rows []meterPairRow
	for i := range j.Meters {
		for k := range j.Meters[i].Pairs {
			rows = append(rows, meterPairRow{&j.Meters[i], &j.Meters[i].Pairs[k]})
		}
	}
	return rows
}

func meterPairColumns() []column[meterPairRow] {
	return []column[meterPairRow]{
		{head: "Meter", width: 18, cell: func(p meterPairRow) any { return meterCell(p.of.Meter) }},
		{head: "Held against", width: 18, cell: func(p meterPairRow) any { return meterCell(p.of.Against) }},
		{head: "Species", width: 20, cell: func(p meterPairRow) any { return p.of.Species }},
		{head: "Load", width: 12, cell: func(p meterPairRow) any { return p.Load }},
		{head: "Board", width: 12, cell: func(p meterPairRow) any { return p.Board }},
		{head: "Read on", width: 13, cell: func(p meterPairRow) any { return dayCell(p.Date) }},
		{head: "The meter showed, corrected as the settings say (%)", width: 14, cell: func(p meterPairRow) any { return p.Shown }},
		{head: "The other said (%)", width: 10, cell: func(p meterPairRow) any { return p.MeterPair.Against }},
	}
}

// jsShrinkage writes the mill's own shrinkage figure of a wood in a direction beside the table's.
func (j *job) jsShrinkage(h *compute.HouseShrinkage) any {
	out := jsObject{{"species", h.Species}, {"direction", h.Direction}, {"known", h.Known}, {"table_share", jsRealIf(h.Table)}, {"own_share", nil},
		{"used_share", jsRealIf(h.Used)}, {"standard_error_share", nil}, {"boards", h.Boards}, {"boards_by_weight", h.ByWeight}, {"left_out", jsTexts(h.LeftOut)},
		{"table_source", jsSource(h.TableSource)}, {"says", j.jsStatement(h.Says)}}
	if h.Known {
		out[4].value, out[6].value = jsReal(h.Own), jsReal(h.Error)
	}
	return out
}

func (j *job) shrinkageColumns() []column[*compute.HouseShrinkage] {
	type row = *compute.HouseShrinkage
	known := func(get func(row) float64) func(row) any {
		return func(h row) any {
			if !h.Known {
				return nil
			}
			return bookShare(get(h))
		}
	}
	return []column[row]{
		{head: "Species", width: 20, cell: func(h row) any { return h.Species }},
		{head: "Direction", width: 14, cell: func(h row) any { return h.Direction }},
		{head: "Handbook, green to ovendry", width: 11, cell: func(h row) any { return bookShare(h.Table) }},
		{head: "Own boards, mean", width: 10, cell: known(func(h row) float64 { return h.Own })},
		{head: "Used: the two joined", width: 10, cell: func(h row) any { return bookShare(h.Used) }},
		{head: "Standard error of that", width: 10, cell: known(func(h row) float64 { return h.Error })},
		{head: "Own boards used", width: 9, cell: func(h row) any { return h.Boards }},
		{head: "Of these by weight", width: 9, cell: func(h row) any { return h.ByWeight }},
		{head: "Left out as slips", width: 24, cell: func(h row) any { return bookProse(strings.Join(h.LeftOut, ", ")) }},
		{head: "In words", width: 70, cell: func(h row) any { return j.sentence(h.Says) }},
		{head: "Source of the handbook's", width: 40, cell: func(h row) any {
			if h.TableSource.Document == "" {
				return nil
			}
			return h.TableSource.String()
		}},
	}
}
