package report

import (
	"slices"
	"time"

	"drytally/compute"
	"drytally/compute/season"
	"drytally/compute/units"
)

// jsClimateYear writes what the months of a place lead wood to.
func (j *job) jsClimateYear(c *compute.ClimateYear) any {
	return jsObject{{"indoors", c.Indoors}, {"low_percent", jsPercent(c.Low)}, {"low_month", int(c.LowMonth)}, {"high_percent", jsPercent(c.High)}, {"high_month", int(c.HighMonth)},
		{"months", jsEach(c.Months, func(m *season.MonthEMC) any {
			return jsLine{{"month", int(m.Month)}, {"percent", jsPercent(m.MC)}, {"extrapolated", m.Extrapolated}}
		})},
		{"says", j.jsStatements(c.Says)}}
}

// jsSeason writes how the width of a piece moves through the year, or null when no climate is given. A movement of 0 is a result.
func (j *job) jsSeason(s *compute.SeasonResult) any {
	if !s.Known && len(s.Says) == 0 {
		return nil
	}
	return jsObject{{"known", s.Known}, {"indoors", s.Indoors}, {"low_percent", jsPercentIf(s.Low)}, {"high_percent", jsPercentIf(s.High)}, {"width", jsLength(s.Width)},
		{"lap_given", jsLength(s.LapGiven)},
		{"moves", jsEach(s.Moves, func(m *compute.SeasonMove) any {
			return jsObject{{"load", m.Load}, {"made_percent", jsPercent(m.Made)}, {"swell", jsMeasure(m.Swell)}, {"shrink", jsMeasure(m.Shrink)},
				{"swell_most", jsMeasure(m.SwellMost)}, {"shrink_most", jsMeasure(m.ShrinkMost)}, {"least_gap", jsMeasure(m.LeastGap)},
				{"least_lap", jsMeasure(m.LeastLap)}, {"by_coefficient", m.Coefficient}}
		})},
		{"says", j.jsStatements(s.Says)}}
}

// jsStore writes what the air of a store makes of a load.
func (j *job) jsStore(s *compute.StoreResult) any {
	out := jsObject{{"where", s.Where}, {"temperature", jsTemperature(s.Temp)}, {"air_percent", jsPercent(s.Air)}, {"lines", s.Lines}, {"first_line", jsDate(s.FirstLine)},
		{"last_line", jsDate(s.Last)}, {"kept", s.Kept.String()}, {"start_percent", jsPercent(s.Start)}, {"from", jsDate(s.From)},
		{"points", jsEach(s.Points, func(p *compute.StorePoint) any {
			return jsLine{{"days", p.Days}, {"low_percent", jsPercent(p.Low)}, {"high_percent", jsPercent(p.High)}}
		})},
		{"end_low_percent", jsPercent(s.EndLow)}, {"end_high_percent", jsPercent(s.EndHigh)}, {"width", jsLength(s.Width)}, {"width_change_low", nil}, {"width_change_high", nil},
		{"leaves", s.Leaves}, {"leaves_after_days", nil}, {"measure_by", jsDate(s.MeasureBy)}, {"source", jsSource(s.Source)}, {"says", j.jsStatements(s.Says)}}
	if s.Width != 0 {
		out[13].value, out[14].value = jsMeasure(s.WidthLow), jsMeasure(s.WidthHi)
	}
	if s.Leaves {
		out[16].value = s.LeavesAfter
	}
	return out
}

// jsRise writes readings on two days of which the later are higher, or null.
func (j *job) jsRise(r *compute.RiseResult) any {
	if !r.Known {
		return nil
	}
	return jsObject{{"first_date", jsDate(r.FirstDate)}, {"last_date", jsDate(r.LastDate)}, {"first_percent", jsPercent(r.First)}, {"last_percent", jsPercent(r.Last)},
		{"boards", r.Boards}, {"same_boards", r.Same}, {"rise", jsDifference(r.Rise)}, {"meter_points", jsPercent(r.Meter)}, {"shown", r.Shown},
		{"relative_humidity_percent", jsHumidity(r.Humidity)}, {"temperature", jsTemperature(r.At)}, {"says", j.jsStatements(r.Says)}}
}

// storeRow is one place a load is kept in.
type storeRow struct {
	load *compute.LoadResult
	*compute.StoreResult
}

func (j *job) storeRows() []storeRow {
	var rows []storeRow
	for i := range j.Loads {
		for k := range j.Loads[i].Stores {
			rows = append(rows, storeRow{&j.Loads[i], &j.Loads[i].Stores[k]})
		}
	}
	return rows
}

func (j *job) storeColumns() []column[storeRow] {
	var days []int // that any forecast is given for
	for _, s := range j.storeRows() {
		for _, p := range s.Points {
			days = append(days, p.Days)
		}
	}
	slices.Sort(days)
	var after []column[storeRow]
	for _, d := range slices.Compact(days) {
		at := func(get func(compute.StorePoint) units.MC) func(storeRow) any {
			return func(s storeRow) any {
				for _, p := range s.Points {
					if p.Days == d {
						return get(p)
					}
				}
				return nil
			}
		}
		head := "MC after " + count(d, "day", "days")
		after = append(after, column[storeRow]{head: head + ", from (%)", width: 10, cell: at(func(p compute.StorePoint) units.MC { return p.Low })},
			column[storeRow]{head: head + ", to (%)", width: 10, cell: at(func(p compute.StorePoint) units.MC { return p.High })})
	}
	return slices.Concat([]column[storeRow]{
		{head: "Load", width: 12, cell: func(s storeRow) any { return s.load.Load.ID }},
		{head: "Kept in", width: 18, cell: func(s storeRow) any { return s.Where }},
		{head: "How", width: 14, cell: func(s storeRow) any { return s.Kept.String() }},
		temperatureColumn(j, "Mean air", func(s storeRow) units.Temperature { return s.Temp }),
		{head: "Its air brings wood to (%)", width: 9, cell: func(s storeRow) any { return s.Air }},
		{head: "Lines of the air log", width: 9, cell: func(s storeRow) any { return countCell(s.Lines) }},
		{head: "MC at the start (%)", width: 9, cell: func(s storeRow) any { return s.Start }},
		{head: "Start", width: 13, cell: func(s storeRow) any { return dayCell(s.From) }},
	}, after, []column[storeRow]{
		{head: "MC in the end, from (%)", width: 10, cell: func(s storeRow) any { return s.EndLow }},
		{head: "MC in the end, to (%)", width: 10, cell: func(s storeRow) any { return s.EndHigh }},
		{head: "Can leave what the use asks for after (days)", width: 12, cell: func(s storeRow) any {
			if !s.Leaves {
				return nil
			}
			return s.LeavesAfter
		}},
		{head: "Measure again by", width: 13, cell: func(s storeRow) any { return dayCell(s.MeasureBy) }},
	},
		lengths(j, "Typical width", "", func(s storeRow) units.Length { return s.Width }),
		[]column[storeRow]{
			moveColumn(j, "It changes, from", func(s storeRow) (units.Length, bool) { return s.WidthLow, s.Width != 0 }),
			moveColumn(j, "It changes, to", func(s storeRow) (units.Length, bool) { return s.WidthHi, s.Width != 0 }),
			{head: "In words", width: 70, cell: func(s storeRow) any { return j.sentences(s.Says) }},
		})
}

// moveColumn gives a small change of a length in decimals; 0 is a result and is written.
func moveColumn[T any](j *job, head string, get func(T) (l units.Length, known bool)) column[T] {
	unit := " (in)"
	if j.system == units.Metric {
		unit = " (mm)"
	}
	return column[T]{head: head + unit, width: 10, cell: func(v T) any {
		l, known := get(v)
		switch {
		case !known:
			return nil
		case j.system == units.Metric:
			return bookMM(l)
		}
		return bookInches(l)
	}}
}

// seasonColumns tell how the width of a piece, made at its target moisture content, moves through the year.
func (j *job) seasonColumns() []column[*compute.SizeResult] {
	type size = *compute.SizeResult
	move := func(get func(compute.SeasonMove) units.Length) func(size) (units.Length, bool) {
		return func(s size) (units.Length, bool) {
			for _, m := range s.Season.Moves {
				if m.Load == "" {
					return get(m), true
				}
			}
			return 0, false
		}
	}
	return []column[size]{
		{head: "Driest in the year (%)", width: 9, cell: func(s size) any { return mcCell(s.Season.Low) }},
		{head: "Dampest in the year (%)", width: 9, cell: func(s size) any { return mcCell(s.Season.High) }},
		moveColumn(j, "Swells, average wood", move(func(m compute.SeasonMove) units.Length { return m.Swell })),
		moveColumn(j, "Shrinks, average wood", move(func(m compute.SeasonMove) units.Length { return m.Shrink })),
		moveColumn(j, "Swells, 95 of 100 pieces at most", move(func(m compute.SeasonMove) units.Length { return m.SwellMost })),
		moveColumn(j, "Shrinks, 95 of 100 pieces at most", move(func(m compute.SeasonMove) units.Length { return m.ShrinkMost })),
		moveColumn(j, "Gap to leave", move(func(m compute.SeasonMove) units.Length { return m.LeastGap })),
		moveColumn(j, "Lap needed", move(func(m compute.SeasonMove) units.Length { return m.LeastLap })),
		{head: "Through the year, in words", width: 60, cell: func(s size) any { return j.sentences(s.Season.Says) }},
	}
}

// climateColumns tell the months of the place as they were read, with what their air leads wood to.
func (j *job) climateColumns() []column[*compute.Climate] {
	type row = *compute.Climate
	year := func(c row) *compute.ClimateYear {
		for i := range j.Climate {
			if j.Climate[i].Indoors == c.Indoors {
				return &j.Climate[i]
			}
		}
		return nil
	}
	month := func(c row) *season.MonthEMC {
		if y := year(c); y != nil {
			for i := range y.Months {
				if y.Months[i].Month == c.Month {
					return &y.Months[i]
				}
			}
		}
		return nil
	}
	return slices.Concat([]column[row]{
		{head: "Where", width: 11, cell: func(c row) any { return map[bool]string{true: "indoors", false: "outdoors"}[c.Indoors] }},
		{head: "Month", width: 12, cell: func(c row) any { return monthName(c.Month) }},
		temperatureColumn(j, "Mean temperature", func(c row) units.Temperature { return c.Temp }),
		{head: "Mean relative humidity (%)", width: 10, cell: func(c row) any {
			if c.Humidity.Known() {
				return bookDecimal(c.Humidity.Percent())
			}
			return nil
		}},
		{head: "Brings wood to (%)", width: 9, cell: func(c row) any {
			if m := month(c); m != nil {
				return m.MC
			}
			return nil
		}},
		{head: "Beyond the range of the equation", width: 11, cell: func(c row) any { m := month(c); return m != nil && m.Extrapolated }},
		{head: "Of the year", width: 12, cell: func(c row) any {
			switch y := year(c); {
			case y == nil:
				return nil
			case c.Month == y.LowMonth && c.Month == y.HighMonth:
				return nil
			case c.Month == y.LowMonth:
				return "driest"
			case c.Month == y.HighMonth:
				return "dampest"
			}
			return nil
		}},
		{head: "The year in words", width: 60, cell: func(c row) any {
			if y := year(c); y != nil && len(y.Months) > 0 && y.Months[0].Month == c.Month {
				return j.sentences(y.Says)
			}
			return nil
		}},
		{head: "Note", width: 30, cell: func(c row) any { return c.Note }},
	}, originColumns(func(c row) compute.Origin { return c.Origin }))
}

// monthName names a month; one that is none of the twelve has no name.
func monthName(m time.Month) any {
	if m < time.January || m > time.December {
		return nil
	}
	return m.String()
}
