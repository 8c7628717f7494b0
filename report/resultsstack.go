package report

import (
	"fmt"
	"slices"

	"drytally/compute"
	"drytally/compute/units"
)

// jsStratum writes a third of a stack's courses or spots.
func jsStratum(s *compute.Stratum) any {
	return jsObject{{"by", s.By}, {"name", s.Name}, {"from", s.From}, {"to", s.To}, {"boards", s.Boards}, {"measured", s.Measured},
		{"mean", jsEstimate(s.Mean)}, {"mean_sampling_only", jsEstimate(s.Reading)}, {"spread_points", jsPercentIf(s.Spread)}, {"over", s.Over}, {"wettest", s.Wettest}}
}

// jsLayers writes what shell and core say of a load. Its mean is null when no board has a difference in numbers: a 0 would read
// like a result.
func (j *job) jsLayers(l *compute.LoadResult) any {
	s := &l.Layers
	var mean any
	if slices.ContainsFunc(l.Boards, func(at int) bool { g := j.Boards[at].Gradient; return g.Known && !g.AtLeast }) {
		mean = jsPercent(s.Mean)
	}
	return jsObject{{"pairs", s.Pairs}, {"core_wetter", jsTexts(s.CoreWetter)}, {"shell_wetter", jsTexts(s.ShellWetter)}, {"even", s.Even},
		{"core_less_shell_points", mean}, {"says", j.jsStatements(s.Says)}}
}

// jsGradient writes shell against core of one board, or null when neither was read.
func (j *job) jsGradient(g compute.Gradient) any {
	if !g.Known && g.Shell.State == units.NotTaken && g.Core.State == units.NotTaken {
		return nil
	}
	out := jsObject{{"shell", jsReading(g.Shell)}, {"core", jsReading(g.Core)}, {"core_less_shell_points", nil}, {"at_least", g.AtLeast}, {"sense", nil},
		{"says", j.jsStatement(g.Says)}}
	if g.Known {
		out[2].value, out[4].value = jsPercent(g.Points), g.Sense.String()
	}
	return out
}

// stratumRow is a third of a stack with its load.
type stratumRow struct {
	load *compute.LoadResult
	*compute.Stratum
}

func (j *job) stratumRows() []stratumRow {
	var rows []stratumRow
	for i := range j.Loads {
		for k := range j.Loads[i].Strata {
			rows = append(rows, stratumRow{&j.Loads[i], &j.Loads[i].Strata[k]})
		}
	}
	return rows
}

func (j *job) stratumColumns() []column[stratumRow] {
	return slices.Concat([]column[stratumRow]{
		{head: "Load", width: 12, cell: func(s stratumRow) any { return s.load.Load.ID }},
		{head: "Thirds of the", width: 12, cell: func(s stratumRow) any { return s.By }},
		{head: "Part", width: 12, cell: func(s stratumRow) any { return s.Name }},
		{head: "From", width: 7, cell: func(s stratumRow) any { return s.From }},
		{head: "To", width: 7, cell: func(s stratumRow) any { return s.To }},
		{head: "Boards", width: 8, cell: func(s stratumRow) any { return s.Boards }},
		{head: "Measured (boards)", width: 10, cell: func(s stratumRow) any { return s.Measured }},
		{head: "Over the limit (boards)", width: 10, cell: func(s stratumRow) any { return s.Over }},
	},
		estimates("Mean MC", func(s stratumRow) units.Estimate { return s.Mean }),
		[]column[stratumRow]{
			{head: "Standard deviation between its boards (points)", width: 13, cell: func(s stratumRow) any { return mcCell(s.Spread) }},
			{head: "Wettest part", width: 9, cell: func(s stratumRow) any { return s.Wettest }},
		})
}

// gradientColumns tell shell and core of a board.
func gradientColumns() []column[*compute.BoardResult] {
	type board = *compute.BoardResult
	layer := func(get func(compute.Gradient) units.Reading) func(board) any {
		return func(b board) any { return readingCell(get(b.Gradient)) }
	}
	known := func(get func(compute.Gradient) any) func(board) any {
		return func(b board) any {
			if !b.Gradient.Known {
				return nil
			}
			return get(b.Gradient)
		}
	}
	return []column[board]{
		{head: "MC of the shell (%)", width: 9, cell: layer(func(g compute.Gradient) units.Reading { return g.Shell })},
		{head: "MC of the core (%)", width: 9, cell: layer(func(g compute.Gradient) units.Reading { return g.Core })},
		{head: "Core less shell (points)", width: 9, cell: known(func(g compute.Gradient) any { return g.Points })},
		{head: "At least that", width: 8, cell: known(func(g compute.Gradient) any { return g.AtLeast })},
		{head: "Shell and core", width: 24, cell: known(func(g compute.Gradient) any { return g.Sense.String() })},
	}
}

// readingCell writes a reading: a number as a number, a mark as the sheet would have it.
func readingCell(r units.Reading) any {
	switch r.State {
	case units.NotTaken:
		return nil
	case units.Number:
		return r.MC
	}
	return r.String()
}

// estimates makes the columns of an estimate: value, from, to. An estimate without a range has the value alone.
func estimates[T any](head string, get func(T) units.Estimate) []column[T] {
	part := func(words string, ranged bool, mc func(units.Estimate) units.MC) column[T] {
		return column[T]{head: fmt.Sprintf("%s%s (%%)", head, words), width: 9, cell: func(v T) any {
			if e := get(v); e.Known && !(ranged && e.Confidence == 0) {
				return mc(e)
			}
			return nil
		}}
	}
	return []column[T]{part("", false, func(e units.Estimate) units.MC { return e.Value }), part(", from", true, func(e units.Estimate) units.MC { return e.Low }),
		part(", to", true, func(e units.Estimate) units.MC { return e.High })}
}
