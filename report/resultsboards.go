package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
)

func (j *job) boardColumns() []column[*compute.BoardResult] {
	type board = *compute.BoardResult
	mc := func(get func(compute.BoardMC) any) func(board) any {
		return func(b board) any {
			if b.MC.State == units.NotTaken {
				return nil
			}
			return get(b.MC)
		}
	}
	own := func(get func(*compute.Board) units.Length) func(board) units.Length {
		return func(b board) units.Length { return get(b.Board) }
	}
	most := 0 // thicknesses measured on one board
	for _, b := range j.Boards {
		most = max(most, len(b.Board.Thickness))
	}
	var thickness []column[board]
	for i := range most {
		head := "Dry thickness"
		if most > 1 {
			head = numbered(head, i+1)
		}
		thickness = slices.Concat(thickness, lengths(j, head, "dry thickness", func(b board) units.Length {
			if i < len(b.Board.Thickness) {
				return b.Board.Thickness[i]
			}
			return 0
		}))
	}
	return slices.Concat([]column[board]{
		{head: "Board", width: 10, field: "board", cell: func(b board) any { return b.Board.ID }},
		{head: "Load", width: 10, field: "load", cell: func(b board) any { return b.Board.Load }},
		{head: "Species", width: 20, field: "species", cell: func(b board) any { return b.Species.Name }},
		{head: "MC, highest corrected reading (%)", width: 12, field: "reading", cell: mc(func(m compute.BoardMC) any { return m.MC })},
		{head: "That figure is", width: 20, cell: mc(func(m compute.BoardMC) any {
			return map[units.ReadingState]string{units.Number: "a number", units.BelowRange: "a mark: the wood is under it", units.AboveRange: "a mark: the wood is over it"}[m.State]
		})},
		{head: "MC at least (%)", width: 9, cell: mc(func(m compute.BoardMC) any { return m.Low })},
		{head: "MC at most (%)", width: 9, cell: mc(func(m compute.BoardMC) any { return m.High })},
		{head: "Meter's mark, where it showed no number (%)", width: 11, cell: mc(func(m compute.BoardMC) any { return mcCell(m.Mark) })},
		{head: "MC before the meter's own line (%)", width: 10, cell: mc(func(m compute.BoardMC) any { return mcCell(m.Uncalibrated) })},
		{head: "As read", width: 8, cell: mc(func(m compute.BoardMC) any { return m.Reading.String() })},
		{head: "Readings", width: 9, cell: mc(func(m compute.BoardMC) any { return m.N })},
		{head: "Read on", width: 13, field: "date", cell: mc(func(m compute.BoardMC) any { return dayCell(m.Date) })},
		{head: "Rough correction", width: 10, cell: mc(func(m compute.BoardMC) any { return m.Rough })},
		{head: "Over the limit", width: 8, cell: func(b board) any { return b.Over }},
		{head: "Too dry for the use", width: 9, cell: func(b board) any { return b.Under }},
		{head: "Sold in", width: 10, cell: func(b board) any { return b.Sold }},
	},
		gradientColumns(),
		thickness,
		lengths(j, "Dry width", "dry width", own(func(b *compute.Board) units.Length { return b.Width })),
		runs(j, "Length", "length", own(func(b *compute.Board) units.Length { return b.Length })),
		lengths(j, "Nominal thickness", "nominal", func(b board) units.Length { return b.Nominal }),
		lengths(j, "Nominal width", "nominal width", own(func(b *compute.Board) units.Length { return b.NominalWidth })),
		[]column[board]{
			{head: "Net footage, dry (board feet)", width: 11, cell: func(b board) any { return footageCell(b.Footage) }},
			{head: "Footage rule", width: 16, cell: func(b board) any { return ruleCell(b.Footage) }},
		},
		lengths(j, "Green thickness", "green thickness", own(func(b *compute.Board) units.Length { return b.GreenThickness })),
		lengths(j, "Green width", "green width", own(func(b *compute.Board) units.Length { return b.GreenWidth })),
		[]column[board]{{head: "MC from its shrinkage (%)", width: 10, cell: func(b board) any {
			if b.ShrinkMC.Known {
				return b.ShrinkMC.Value
			}
			return nil
		}}},
		lengths(j, "Cup", "cup", own(func(b *compute.Board) units.Length { return b.Cup })),
		lengths(j, "Bow", "bow", own(func(b *compute.Board) units.Length { return b.Bow })),
		lengths(j, "Crook", "crook", own(func(b *compute.Board) units.Length { return b.Crook })),
		lengths(j, "Twist", "twist", own(func(b *compute.Board) units.Length { return b.Twist })),
		[]column[board]{
			{head: "Bad wood, from the butt end", width: 20, field: "cut out", cell: func(b board) any { return j.badWords(b) }},
			{head: "Sawing", width: 14, field: "sawing", cell: func(b board) any { return sawingWords(b.Board.Sawing) }},
			{head: "Course", width: 8, field: "course", cell: func(b board) any { return countCell(b.Board.Course) }},
			{head: "Spot", width: 8, field: "spot", cell: func(b board) any { return countCell(b.Board.Spot) }},
			{head: "Note", width: 30, field: "note", cell: func(b board) any { return b.Board.Note }},
		}, originColumns(func(b board) compute.Origin { return b.Board.Origin }))
}

// badWords writes the bad wood of a board: its stretches from the butt end, or what its ends lose.
func (j *job) badWords(b *compute.BoardResult) string {
	if !b.Bad.Known {
		return "not known"
	}
	var all []string
	for _, s := range b.Bad.Spans {
		all = append(all, j.spanWords(s))
	}
	if b.Bad.AtEnds > 0 {
		all = append(all, j.system.Run(b.Bad.AtEnds)+" at the ends")
	}
	return strings.Join(all, "; ")
}

// numbered numbers a heading that stands several times.
func numbered(head string, n int) string { return fmt.Sprintf("%s %d", head, n) }

// sawingWords gives how a board is sawn, with the angle where it is given.
func sawingWords(s compute.Sawing) any {
	switch s.Kind {
	case compute.SawingNotSaid:
		return nil
	case compute.RingAngle:
		return "rings at " + string(jsReal(s.Angle).(jsNumber)) + " degrees"
	}
	return s.Kind.String()
}

func (j *job) planingColumns() []column[*compute.BoardResult] {
	type board = *compute.BoardResult
	return slices.Concat([]column[board]{
		{head: "Board", width: 10, cell: func(b board) any { return b.Board.ID }},
		{head: "Load", width: 10, cell: func(b board) any { return b.Board.Load }},
		{head: "Species", width: 20, cell: func(b board) any { return b.Species.Name }},
	},
		lengths(j, "Least thickness", "", func(b board) units.Length { return b.Least }),
		lengths(j, "Planes to, whole", "", func(b board) units.Length { return b.PlanesTo }),
		lengths(j, "Planes to, ripped in two first", "", func(b board) units.Length { return b.RippedTo }),
		lengths(j, "Width jointed", "", func(b board) units.Length { return b.WidthTo }),
		runs(j, "Length", "", func(b board) units.Length { return b.Board.Length }),
		runs(j, "Cut to length first", "", func(b board) units.Length { return b.CutTo }),
		lengths(j, "Then planes to, whole", "", func(b board) units.Length { return b.CutPlanes }),
		lengths(j, "Then planes to, ripped", "", func(b board) units.Length { return b.CutRipped }),
		[]column[board]{{head: "Ripped into", width: 8, cell: func(b board) any { return countCell(b.CutStrips) }}},
		lengths(j, "Then width jointed", "", func(b board) units.Length { return b.CutWidth }),
		[]column[board]{
			solidColumn(j, "Chips when worked whole, solid", func(b board) int64 { return b.Chips }),
			{head: "Makes, largest first", width: 40, cell: func(b board) any { return bookProse(strings.Join(b.Makes, ", ")) }},
			{head: "Makes none because", width: 40, cell: func(b board) any { return j.sentence(b.MakesNone) }},
		}, originColumns(func(b board) compute.Origin { return b.Board.Origin }))
}

func (j *job) readingColumns() []column[*readingRow] {
	type row = *readingRow
	fates := j.fates()
	return slices.Concat([]column[row]{
		{head: "Board", width: 10, field: "board", cell: func(r row) any { return r.Board }},
		{head: "Load", width: 10, field: "load", cell: func(r row) any { return r.Load }},
		{head: "Course", width: 8, cell: func(r row) any { return countCell(r.Course) }},
		{head: "Spot", width: 8, cell: func(r row) any { return countCell(r.Spot) }},
		{head: "As read", width: 9, field: "reading", cell: func(r row) any { return r.Value.String() }},
		{head: "Number or mark (%)", width: 9, cell: func(r row) any { return mcCell(r.Value.MC) }},
		{head: "That is", width: 14, cell: func(r row) any { return jsReadingStates[r.Value.State] }},
		{head: "Doubtful", width: 9, cell: func(r row) any { return r.Value.Doubtful }},
		temperatureColumn(j, "Wood temperature", func(r row) units.Temperature { return r.WoodTemp }),
		{head: "Read on", width: 16, field: "date", cell: func(r row) any { return dayCell(r.Date) }},
	},
		lengths(j, "Pin depth", "", func(r row) units.Length { return r.Depth }),
		[]column[row]{
			{head: "Where", width: 16, cell: func(r row) any { return r.Where }},
			{head: "Meter", width: 14, cell: func(r row) any { return r.Meter }},
			{head: "Note", width: 30, cell: func(r row) any { return r.Note }},
			{head: "Row was", width: 10, cell: func(r row) any {
				if r.aside {
					return compute.SetAside.String()
				}
				return fateOf(fates, r.Origin)
			}},
			{head: "Cell", width: 18, cell: func(r row) any { return place(r.Origin.At(r.Field)) }},
		}, originColumns(func(r row) compute.Origin { return r.Origin }))
}

// weightUnits gives the units the weights of sample boards and of their sections are written in on most rows of the owner's
// sheets: a column has one unit.
func (j *job) weightUnits() (whole, section units.MassUnit) {
	var wholes, sections [units.InOunces + 1]int
	for _, w := range j.Job.Weights {
		if w.Weight != 0 {
			wholes[w.Unit]++
		}
		if w.Section() {
			sections[w.SectionUnit]++
		}
	}
	for u := range units.InOunces + 1 {
		if wholes[u] > wholes[whole] {
			whole = u
		}
		if sections[u] > sections[section] {
			section = u
		}
	}
	return whole, section
}

// written gives a mass in a unit, to the digits that a whole number of milligrams settles: 9.87 lb must not come back as 9.870001.
func written(m units.Mass, u units.MassUnit) float64 {
	step := [...]float64{units.InGrams: 1e3, units.InKilograms: 1e6, units.InPounds: 1e5, units.InOunces: 1e4}[u]
	return math.Round(m.In(u)*step) / step
}

func (j *job) weightColumns() []column[*compute.Weight] {
	type row = *compute.Weight
	mass := func(head, field string, unit units.MassUnit, get func(row) units.Mass) column[row] {
		return column[row]{head: head + " (" + unit.String() + ")", width: 11, field: field, cell: func(w row) any {
			if get(w) == 0 {
				return nil
			}
			return bookNumber(written(get(w), unit))
		}}
	}
	whole, section := j.weightUnits()
	return slices.Concat([]column[row]{
		{head: "Sample board", width: 12, field: "sample", cell: func(w row) any { return w.Sample }},
		{head: "Load", width: 10, cell: func(w row) any { return w.Load }},
		{head: "Date", width: 16, field: "date", cell: func(w row) any { return dayCell(w.Date) }},
		mass("Weight", "weight", whole, func(w row) units.Mass { return w.Weight }),
		mass("Section, wet", "section wet", section, func(w row) units.Mass { return w.Wet }),
		mass("Section, ovendry", "section ovendry", section, func(w row) units.Mass { return w.Ovendry }),
		{head: "Note", width: 30, cell: func(w row) any { return w.Note }},
	}, originColumns(func(w row) compute.Origin { return w.Origin }))
}

func (j *job) airColumns() []column[*compute.Air] {
	type row = *compute.Air
	return slices.Concat([]column[row]{
		{head: "Time", width: 16, cell: func(a row) any { return dayCell(a.Time) }},
		temperatureColumn(j, "Dry bulb", func(a row) units.Temperature { return a.DryBulb }),
		temperatureColumn(j, "Wet bulb", func(a row) units.Temperature { return a.WetBulb }),
		{head: "Relative humidity (%)", width: 10, cell: func(a row) any {
			if a.Humidity.Known() {
				return bookDecimal(a.Humidity.Percent())
			}
			return nil
		}},
		{head: "Where", width: 16, cell: func(a row) any { return a.Where }},
		{head: "Load", width: 10, cell: func(a row) any { return a.Load }},
		{head: "Running", width: 20, cell: func(a row) any { return a.Running }},
		{head: "Note", width: 30, cell: func(a row) any { return a.Note }},
	}, originColumns(func(a row) compute.Origin { return a.Origin }))
}
