package report

import (
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
)

func (j *job) sizeColumns() []column[*compute.SizeResult] {
	type size = *compute.SizeResult
	// shares are left empty where no setting could be given: a 0 % there would read like a result
	known := func(get func(size) float64) func(size) any {
		return func(s size) any {
			if !s.Known {
				return nil
			}
			return bookShare(get(s))
		}
	}
	return slices.Concat([]column[size]{
		{head: "Piece", width: 20, cell: func(s size) any { return s.Wanted.Piece }},
		{head: "Species", width: 20, cell: func(s size) any { return s.Wanted.Species.Name }},
		{head: "In words", width: 60, cell: func(s size) any {
			if s.Known {
				return j.sentence(s.Sentence)
			}
			return j.sentence(s.Why)
		}},
	},
		lengths(j, "Set the saw, thickness", "", func(s size) units.Length { return s.Thickness }),
		lengths(j, "Set the saw, width", "", func(s size) units.Length { return s.Width }),
		lengths(j, "Finished thickness", "", func(s size) units.Length { return s.FinishThickness }),
		lengths(j, "Finished width", "", func(s size) units.Length { return s.FinishWidth }),
		runs(j, "Length", "", func(s size) units.Length { return s.Wanted.Length }),
		[]column[size]{
			{head: "Dried to MC (%)", width: 9, cell: func(s size) any { return mcCell(s.TargetMC) }},
			{head: "Shrinkage, thickness", width: 10, cell: known(func(s size) float64 { return s.ShrinkThickness })},
			{head: "Shrinkage, width", width: 10, cell: known(func(s size) float64 { return s.ShrinkWidth })},
		},
		lengths(j, "Planing, both faces", "", func(s size) units.Length { return s.PlaneThickness }),
		lengths(j, "Jointing, both edges", "", func(s size) units.Length { return s.PlaneWidth }),
		lengths(j, "By the formula, thickness", "", func(s size) units.Length { return s.ThicknessExact }),
		lengths(j, "By the formula, width", "", func(s size) units.Length { return s.WidthExact }),
		ranges(j, "Dry thickness", func(s size) units.LengthRange { return s.DryThickness }),
		ranges(j, "Dry width", func(s size) units.LengthRange { return s.DryWidth }),
		[]column[size]{
			{head: "Expected to clean up", width: 10, cell: known(func(s size) float64 { return s.CleansUp })},
			{head: "Pieces wanted", width: 9, cell: func(s size) any { return countCell(s.Pieces) }},
			{head: "Waste", width: 9, cell: func(s size) any { return bookShare(s.WasteShare) }},
			{head: "Boards to saw", width: 9, cell: func(s size) any { return countCell(s.Boards) }},
			{head: "Counted with the waste", width: 12, cell: func(s size) any { return wasteWord(s.WasteRule) }},
			{head: "Boards, waste added", width: 9, cell: func(s size) any { return countCell(s.BoardsAdded) }},
			{head: "Boards, waste taken out", width: 9, cell: func(s size) any { return countCell(s.BoardsTaken) }},
			{head: "Running feet with waste", width: 10, cell: func(s size) any { return decimalCell(s.LinealFeet) }},
			{head: "Green footage (board feet)", width: 11, cell: func(s size) any { return footageCell(s.Green) }},
			{head: "Green footage rule", width: 16, cell: func(s size) any { return ruleCell(s.Green) }},
			{head: "Net footage (board feet)", width: 11, cell: func(s size) any { return footageCell(s.Net) }},
			{head: "Net footage rule", width: 16, cell: func(s size) any { return ruleCell(s.Net) }},
			massColumn(j, "Green weight, about", func(s size) units.Mass { return s.Weight }),
			{head: "Dry boards on hand that make it", width: 11, cell: func(s size) any { return s.CanMake }},
			{head: "Dry boards long and wide enough", width: 11, cell: func(s size) any { return s.LargeEnough }},
			{head: "Of these, with skip when planed whole", width: 11, cell: func(s size) any { return s.Skip }},
			{head: "Share with skip", width: 9, cell: func(s size) any { return bookShare(s.SkipShare) }},
			{head: "Sawing", width: 16, cell: func(s size) any { return sawingWords(s.Sawing) }},
			{head: "Shrinkage by own boards", width: 10, cell: func(s size) any { return len(s.Own) > 0 }},
		}, j.weightRangeColumns(), j.shapeColumns(), j.seasonColumns(), []column[size]{
			{head: "Notes", width: 50, cell: func(s size) any { return j.sentences(s.Notes) }},
		}, originColumns(func(s size) compute.Origin { return s.Wanted.Origin }))
}

func (j *job) cutColumns() []column[*compute.CutResult] {
	type cut = *compute.CutResult
	return slices.Concat([]column[cut]{
		{head: "Species", width: 20, cell: func(c cut) any { return c.Cut.Species.Name }},
		{head: "Lot", width: 10, cell: func(c cut) any { return c.Cut.ID }},
		{head: "Load", width: 10, cell: func(c cut) any { return c.Cut.Load }},
		{head: "Pieces", width: 8, cell: func(c cut) any { return countCell(c.Cut.Pieces) }},
	},
		lengths(j, "Green thickness", "", func(c cut) units.Length { return c.Cut.Thickness }),
		lengths(j, "Green width", "", func(c cut) units.Length { return c.Cut.Width }),
		runs(j, "Length", "", func(c cut) units.Length { return c.Cut.Length }),
		[]column[cut]{
			{head: "Green footage (board feet)", width: 11, cell: func(c cut) any { return footageCell(c.Green) }},
			{head: "Footage rule", width: 16, cell: func(c cut) any { return ruleCell(c.Green) }},
			{head: "Sawing", width: 16, cell: func(c cut) any { return sawingWords(c.Cut.Sawing) }},
			{head: "Dried to MC (%)", width: 9, cell: func(c cut) any { return mcCell(c.TargetMC) }},
		},
		ranges(j, "Dry thickness", func(c cut) units.LengthRange { return c.DryThickness }),
		ranges(j, "Dry width", func(c cut) units.LengthRange { return c.DryWidth }),
		[]column[cut]{
			{head: "Sawn on", width: 13, cell: func(c cut) any { return dayCell(c.Cut.Date) }},
			{head: "Note", width: 30, cell: func(c cut) any { return c.Cut.Note }},
		}, originColumns(func(c cut) compute.Origin { return c.Cut.Origin }))
}

func (j *job) saleColumns() []column[*compute.SaleResult] {
	type sale = *compute.SaleResult
	return []column[sale]{
		{head: "Sale", width: 12, cell: func(s sale) any { return s.ID }},
		{head: "Buyer", width: 24, cell: func(s sale) any { return s.Buyer }},
		{head: "Own use", width: 16, cell: func(s sale) any { return s.OwnUse }},
		{head: "Date", width: 13, cell: func(s sale) any { return dayCell(s.Date) }},
		{head: "Loads", width: 14, cell: func(s sale) any { return strings.Join(s.Loads, ", ") }},
		{head: "Boards named", width: 9, cell: func(s sale) any { return len(s.Boards) }},
		{head: "Board numbers", width: 40, cell: func(s sale) any {
			var ids []string
			for _, at := range s.Boards {
				ids = append(ids, j.Boards[at].Board.ID)
			}
			return bookProse(strings.Join(ids, ", "))
		}},
		{head: "Not found", width: 16, cell: func(s sale) any { return strings.Join(s.Missing, ", ") }},
		{head: "Boards measured", width: 9, cell: func(s sale) any { return s.Measured }},
		{head: "Lowest MC (%)", width: 9, cell: func(s sale) any { return mcCell(s.Low) }},
		{head: "Highest MC (%)", width: 9, cell: func(s sale) any { return mcCell(s.High) }},
		{head: "Mean MC (%)", width: 9, cell: func(s sale) any { return mcCell(s.Mean) }},
		{head: "Boards below the meter's range", width: 10, cell: func(s sale) any { return s.Below }},
		{head: "Boards above the meter's range", width: 10, cell: func(s sale) any { return s.Above }},
		{head: "First reading", width: 13, cell: func(s sale) any { return dayCell(s.FirstReading) }},
		{head: "Last reading", width: 13, cell: func(s sale) any { return dayCell(s.LastReading) }},
		{head: "Days from last reading to sale", width: 10, cell: func(s sale) any { return ageOf(s) }},
		{head: "Net footage (board feet)", width: 26, cell: func(s sale) any { return footages(s.Footage) }},
		massColumn(j, "Weight, from", func(s sale) units.Mass { return s.Weight.Low }),
		massColumn(j, "Weight, to", func(s sale) units.Mass { return s.Weight.High }),
		massColumn(j, "Heaviest board", func(s sale) units.Mass { return s.Weight.Heaviest }),
		{head: "Trips of the trailer", width: 9, cell: func(s sale) any { return countCell(len(s.Weight.Trips)) }},
		{head: "Weight in words", width: 50, cell: func(s sale) any { return j.sentences(s.Weight.Says) }},
		{head: "How it was measured", width: 80, cell: func(s sale) any {
			var all []compute.Statement
			for _, m := range s.Methods {
				all = append(all, m.Says...)
			}
			return j.sentences(all)
		}},
		{head: "Withheld", width: 9, cell: func(s sale) any { return s.Withheld }},
		{head: "Why withheld", width: 50, cell: func(s sale) any { return j.sentences(s.WithheldWhy) }},
		{head: "Notes", width: 50, cell: func(s sale) any { return j.sentences(s.Notes) }},
	}
}
