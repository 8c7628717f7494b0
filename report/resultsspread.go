package report

import (
	"strings"

	"drytally/compute"
	"drytally/compute/units"
)

// jsSawSpread writes the spread of the sawing used, and what the mill's own green boards show.
func (j *job) jsSawSpread(s *compute.SawSpread) any {
	measured := func(l units.Length) any {
		if !s.Measured {
			return nil
		}
		return jsLength(l)
	}
	return jsObject{{"used", jsLength(s.Used)}, {"from", s.From.String()}, {"measured", s.Measured}, {"within", measured(s.Sawing.Within)},
		{"between", measured(s.Sawing.Between)}, {"total", measured(s.Sawing.Total)}, {"total_low", measured(s.Low)}, {"total_high", measured(s.High)},
		{"boards", s.Boards}, {"readings", s.Readings}, {"settings", s.Sawing.Groups}, {"left_out", jsTexts(s.LeftOut)}, {"says", j.jsStatement(s.Says)}}
}

// spreadColumns make the one row of the saw's spread.
func (j *job) spreadColumns() []column[*compute.SawSpread] {
	type row = *compute.SawSpread
	unit := " (in)"
	if j.system == units.Metric {
		unit = " (mm)"
	}
	length := func(head string, get func(row) units.Length) column[row] {
		return column[row]{head: head + unit, width: 10, cell: func(s row) any {
			l := get(s)
			switch {
			case l == 0:
				return nil
			case j.system == units.Metric:
				return bookMM(l)
			}
			return bookInches(l)
		}}
	}
	return []column[row]{
		length("Spread used", func(s row) units.Length { return s.Used }),
		{head: "From", width: 16, cell: func(s row) any { return s.From.String() }},
		length("Own boards, in all", func(s row) units.Length { return s.Sawing.Total }),
		length("Own boards, within", func(s row) units.Length { return s.Sawing.Within }),
		length("Own boards, between", func(s row) units.Length { return s.Sawing.Between }),
		length("In all, at least", func(s row) units.Length { return s.Low }),
		length("In all, at most", func(s row) units.Length { return s.High }),
		{head: "Boards", width: 9, cell: func(s row) any { return s.Boards }},
		{head: "Green thicknesses", width: 10, cell: func(s row) any { return s.Readings }},
		{head: "Settings kept apart", width: 10, cell: func(s row) any { return countCell(s.Sawing.Groups) }},
		{head: "Left out as miscut", width: 24, cell: func(s row) any { return bookProse(strings.Join(s.LeftOut, ", ")) }},
		{head: "In words", width: 70, cell: func(s row) any { return j.sentence(s.Says) }},
	}
}

// spreadRows is the saw's spread, where there are settings it serves or boards it was measured on.
func (j *job) spreadRows() []*compute.SawSpread {
	s := &j.SawSpread
	if s.Says.Name == "" || len(j.Sizes) == 0 && s.Boards == 0 && len(s.LeftOut) == 0 {
		return nil
	}
	return []*compute.SawSpread{s}
}
