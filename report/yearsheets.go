package report

import (
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/compute/yearbook"
)

// seasonBook makes season.xlsx: the account of a season as tables.
func (j *yearJob) seasonBook() ([]byte, error) {
	b := newBook()
	front := j.yearSheet(b)
	table(b, "Loads", pointers(j.year.Loads), j.yearLoadColumns())
	table(b, "Account", slices.Concat(pointers(j.year.Lines), pointers(j.year.Totals)), yearLineColumns())
	table(b, "Boards", pointers(j.year.Boards), j.yearBoardColumns())
	table(b, "Sold and used", pointers(j.year.Sales), j.yearSaleColumns())
	table(b, "Shrinkage", pointers(j.year.Shrinkage), j.yearShrinkageColumns())
	table(b, "Meters", pointers(j.year.Meters), yearMeterColumns())
	table(b, "Meter pairs", j.yearPairs(), yearPairColumns())
	table(b, "Places", pointers(j.year.Places.Cells), yearCellColumns(&j.year.Places))
	table(b, "Parts of the stack", pointers(j.year.Places.Parts), yearPartColumns())
	table(b, "Days in kiln", pointers(j.year.Times), j.yearTimeColumns())
	table(b, "Workbooks", pointers(j.year.Weeks), yearWeekColumns())
	table(b, "Findings", pointers(j.Findings), j.findingColumns())
	front.contents(yearSheetWords)
	return b.bytes("The season", j.about.Version, j.year.Settings.Paper)
}

// yearSheetWords says what each sheet of season.xlsx holds.
var yearSheetWords = map[string]string{
	"Loads": "every load once: days, moisture content at start and end, verdicts", "Account": "made = sold + used + left, load by load",
	"Boards": "every board once and what became of it", "Sold and used": "every sale once, and what the mill used itself",
	"Shrinkage": "the mill's own figures beside the handbook's", "Meters": "the meter held against weights",
	"Meter pairs": "the boards read and weighed on one day", "Places": "how far each place of the stack is from the mean of its loads",
	"Parts of the stack": "the thirds of the stack and what is proven of them", "Days in kiln": "by wood and thickness",
	"Workbooks": "what was read, and what became of it", "Findings": "where the weeks don't agree",
}

// yearSheet is the first page: what was read, the totals, and the advice.
func (j *yearJob) yearSheet(b *book) *frontPage {
	p := b.front("Season", "The season, "+span(j.year.First, j.year.Last), []float64{34, 16, 14, 14, 14, 60})
	p.line("drytally " + j.about.Version)
	p.line("Workbooks", len(j.year.Weeks))
	p.heads(1, "Footage by", "Made", "Sold", "Used", "Left")
	feet := func(h int64) any { return bookDecimal(float64(h) / 100) }
	for _, l := range j.year.Totals {
		p.line(ruleWords(l.Rule)+", board feet", feet(l.Feet.Made), feet(l.Feet.Sold), feet(l.Feet.Used), feet(l.Feet.Left))
	}
	c := j.year.All.Boards
	p.line("boards", c.Made, c.Sold, c.Used, c.Left)
	p.line()
	for _, s := range j.year.Sawn {
		p.line("Sawn green, "+ruleWords(s.Rule)+", board feet", feet(s.Feet.Hundredths))
		p.line("Sawn green, boards", s.Boards)
	}
	p.heads(1, "For next week's settings")
	for _, a := range j.year.Advice {
		words := j.say(a.Says)
		rests := map[bool]string{true: "from the data", false: "not enough yet"}[a.Known]
		p.high(6, words)
		p.line(rests, strconv.Itoa(a.N)+" of "+strconv.Itoa(a.Need), nil, nil, nil, bookProse(words))
	}
	return p
}

func (j *yearJob) yearLoadColumns() []column[*yearbook.Load] {
	type row = *yearbook.Load
	known := func(head string, get func(row) yearbook.Known) []column[row] {
		return []column[row]{
			{head: head + " MC (%)", width: 9, cell: func(l row) any {
				if k := get(l); k.By != "" {
					return k.MC
				}
				return nil
			}},
			{head: head + ", by", width: 10, cell: func(l row) any { return get(l).By }},
			{head: head + ", boards", width: 8, cell: func(l row) any { return countCell(get(l).N) }},
			{head: head + ", on", width: 12, cell: func(l row) any { return dayCell(get(l).Date) }},
		}
	}
	return slices.Concat([]column[row]{
		{head: "Load", width: 14, cell: func(l row) any { return l.Name }},
		{head: "Species", width: 20, cell: func(l row) any { return strings.Join(l.Species, ", ") }},
		{head: "Use", width: 18, cell: func(l row) any { return l.Use }},
		{head: "Date in", width: 12, cell: func(l row) any { return dayCell(l.DateIn) }},
		{head: "Date out", width: 12, cell: func(l row) any { return dayCell(l.DateOut) }},
		{head: "Days in kiln", width: 8, cell: func(l row) any { return countCell(l.Days) }},
	}, known("Start", func(l row) yearbook.Known { return l.Start }), known("End", func(l row) yearbook.Known { return l.End }), []column[row]{
		{head: "Verdicts by week", width: 44, cell: func(l row) any {
			var lines []string
			for _, v := range l.Verdicts {
				lines = append(lines, jsISO(v.Date)+" "+v.Verdict.String()+" ("+strconv.Itoa(v.Measured)+" of "+strconv.Itoa(v.N)+" measured, "+v.File+")")
			}
			return bookProse(strings.Join(lines, "\n"))
		}},
		{head: "Boards to hold back", width: 24, cell: func(l row) any { return bookProse(strings.Join(l.HeldBack, ", ")) }},
		{head: "Boards", width: 8, cell: func(l row) any { return l.N }},
		{head: "With a number", width: 9, cell: func(l row) any { return l.Listed }},
		{head: "Kept", width: 22, cell: func(l row) any { return l.Kept }},
		{head: "Still in the kiln", width: 9, cell: func(l row) any { return l.InKiln }},
	}, lengths(j.job, "Sawn", "", func(l row) units.Length { return l.Thickness }), originColumns(func(l row) compute.Origin { return l.Origin }))
}

func yearLineColumns() []column[*yearbook.Line] {
	type row = *yearbook.Line
	feet := func(head string, get func(row) int64) column[row] {
		return column[row]{head: "Board feet " + head, width: 11, cell: func(l row) any { return bookDecimal(float64(get(l)) / 100) }}
	}
	return []column[row]{
		{head: "Load", width: 18, cell: func(l row) any {
			switch {
			case l.Sum:
				return "all"
			case l.Load == "":
				return "in no load"
			}
			return l.Load
		}},
		{head: "Rule", width: 24, cell: func(l row) any { return ruleWords(l.Rule) }},
		{head: "Boards made", width: 9, cell: func(l row) any { return l.Boards.Made }},
		{head: "Boards sold", width: 9, cell: func(l row) any { return l.Boards.Sold }},
		{head: "Boards used", width: 9, cell: func(l row) any { return l.Boards.Used }},
		{head: "Boards left", width: 9, cell: func(l row) any { return l.Boards.Left }},
		feet("made", func(l row) int64 { return l.Feet.Made }), feet("sold", func(l row) int64 { return l.Feet.Sold }),
		feet("used", func(l row) int64 { return l.Feet.Used }), feet("left", func(l row) int64 { return l.Feet.Left }),
		{head: "Boards without a footage", width: 10, cell: func(l row) any { return countCell(l.Unsized) }},
		{head: "Parted by shares", width: 9, cell: func(l row) any { return l.AboutSold || l.AboutUsed }},
		{head: "Kept", width: 22, cell: func(l row) any { return l.Kept }},
		{head: "Still in the kiln", width: 9, cell: func(l row) any { return l.InKiln }},
	}
}

func (j *yearJob) yearBoardColumns() []column[*yearbook.Board] {
	type row = *yearbook.Board
	return slices.Concat([]column[row]{
		{head: "Load", width: 14, cell: func(b row) any { return b.Load }},
		{head: "Board", width: 12, cell: func(b row) any { return b.ID }},
		{head: "Species", width: 20, cell: func(b row) any { return b.Species }},
		{head: "What became of it", width: 10, cell: func(b row) any { return b.Fate.String() }},
		{head: "Sale or use", width: 16, cell: func(b row) any { return b.Sale }},
		{head: "Buyer", width: 22, cell: func(b row) any { return b.Buyer }},
		{head: "Date", width: 12, cell: func(b row) any { return dayCell(b.Date) }},
	}, lengths(j.job, "Thickness", "", func(b row) units.Length { return b.Thickness }), lengths(j.job, "Width", "", func(b row) units.Length { return b.Width }),
		runs(j.job, "Length", "", func(b row) units.Length { return b.Length }), []column[row]{
			{head: "Board feet", width: 9, cell: func(b row) any { return footageCell(b.Footage) }},
			{head: "Rule", width: 16, cell: func(b row) any { return ruleCell(b.Footage) }},
			{head: "MC, mean of its readings (%)", width: 11, cell: func(b row) any {
				if b.MC.State == units.Number {
					return b.MC.MC
				}
				if b.MC.State != units.NotTaken {
					return b.MC.String()
				}
				return nil
			}},
			{head: "To hold back", width: 8, cell: func(b row) any { return b.HeldBack }},
			{head: "Course", width: 8, cell: func(b row) any { return countCell(b.Course) }},
			{head: "Spot", width: 7, cell: func(b row) any { return countCell(b.Spot) }},
		}, originColumns(func(b row) compute.Origin { return b.Origin }))
}

func (j *yearJob) yearSaleColumns() []column[*yearbook.Sale] {
	type row = *yearbook.Sale
	return slices.Concat([]column[row]{
		{head: "Sale", width: 14, cell: func(s row) any { return s.ID }},
		{head: "Date", width: 12, cell: func(s row) any { return dayCell(s.Date) }},
		{head: "Buyer", width: 26, cell: func(s row) any { return s.Buyer }},
		{head: "Used ourselves for", width: 20, cell: func(s row) any { return s.OwnUse }},
		{head: "Loads", width: 16, cell: func(s row) any { return strings.Join(s.Loads, ", ") }},
		{head: "Boards by number", width: 9, cell: func(s row) any { return len(s.Boards) }},
		{head: "Numbers", width: 40, cell: func(s row) any { return bookProse(strings.Join(s.Boards, ", ")) }},
		{head: "Boards by the piece", width: 9, cell: func(s row) any { return countCell(s.Pieces) }},
		{head: "Board feet", width: 26, cell: func(s row) any { return footages(s.Footage) }},
		{head: "Parted by shares", width: 9, cell: func(s row) any { return s.About }},
		{head: "Boards without a footage", width: 10, cell: func(s row) any { return countCell(s.Unsized) }},
	}, originColumns(func(s row) compute.Origin { return s.Origin }))
}

func (j *yearJob) yearShrinkageColumns() []column[*yearbook.Shrinkage] {
	type row = *yearbook.Shrinkage
	share := func(head string, own bool, get func(row) float64) column[row] {
		return column[row]{head: head, width: 10, cell: func(s row) any {
			if own && !s.Known {
				return nil
			}
			return bookShare(get(s))
		}}
	}
	return []column[row]{
		{head: "Species", width: 20, cell: func(s row) any { return s.Species }},
		{head: "Direction", width: 14, cell: func(s row) any { return s.Direction }},
		share("Handbook", false, func(s row) float64 { return s.Table }), share("Handbook, from", false, func(s row) float64 { return s.TableLow }),
		share("Handbook, to", false, func(s row) float64 { return s.TableHigh }), share("Own boards", true, func(s row) float64 { return s.Own }),
		share("Own boards, from", true, func(s row) float64 { return s.OwnLow }), share("Own boards, to", true, func(s row) float64 { return s.OwnHigh }),
		share("Joined", true, func(s row) float64 { return s.Used }), share("Joined, from", true, func(s row) float64 { return s.Low }), share("Joined, to", true, func(s row) float64 { return s.High }),
		{head: "Boards", width: 8, cell: func(s row) any { return s.Boards }},
		{head: "Of these weighed", width: 9, cell: func(s row) any { return s.ByWeight }},
		{head: "Left out as slips", width: 24, cell: func(s row) any { return bookProse(strings.Join(s.LeftOut, ", ")) }},
		{head: "In words", width: 60, cell: func(s row) any { return j.sentence(s.Says) }},
		{head: "Source of the handbook's", width: 44, cell: func(s row) any { return bookProse(s.TableSource.String()) }},
	}
}

func yearMeterColumns() []column[*yearbook.Meter] {
	type row = *yearbook.Meter
	ranged := func(get func(units.Estimate) units.MC) func(row) any {
		return func(m row) any {
			if m.Difference.Confidence == 0 {
				return nil
			}
			return get(m.Difference)
		}
	}
	return []column[row]{
		{head: "Meter", width: 20, cell: func(m row) any { return meterCell(m.Meter) }},
		{head: "Species", width: 20, cell: func(m row) any { return m.Species }},
		{head: "Boards", width: 8, cell: func(m row) any { return len(m.Pairs) }},
		{head: "Weights less meter, mean (points)", width: 11, cell: func(m row) any { return m.Difference.Value }},
		{head: "From (points)", width: 9, cell: ranged(func(e units.Estimate) units.MC { return e.Low })},
		{head: "To (points)", width: 9, cell: ranged(func(e units.Estimate) units.MC { return e.High })},
		{head: "Standard deviation between boards (points)", width: 11, cell: func(m row) any { return m.Spread }},
	}
}

// yearPair is a board read and weighed, with its meter.
type yearPair struct {
	meter *yearbook.Meter
	yearbook.Pair
}

func (j *yearJob) yearPairs() []yearPair {
	var all []yearPair
	for i := range j.year.Meters {
		for _, p := range j.year.Meters[i].Pairs {
			all = append(all, yearPair{&j.year.Meters[i], p})
		}
	}
	return all
}

func yearPairColumns() []column[yearPair] {
	return []column[yearPair]{
		{head: "Meter", width: 20, cell: func(p yearPair) any { return meterCell(p.meter.Meter) }},
		{head: "Species", width: 20, cell: func(p yearPair) any { return p.meter.Species }},
		{head: "Load", width: 14, cell: func(p yearPair) any { return p.Load }},
		{head: "Board", width: 12, cell: func(p yearPair) any { return p.Board }},
		{head: "Date", width: 12, cell: func(p yearPair) any { return dayCell(p.Date) }},
		{head: "Meter (%)", width: 9, cell: func(p yearPair) any { return p.Shown }},
		{head: "By weight (%)", width: 9, cell: func(p yearPair) any { return p.Weighed }},
		{head: "Known by", width: 22, cell: func(p yearPair) any {
			if p.Section {
				return "ovendry section"
			}
			return "sample board weighed"
		}},
	}
}

func yearCellColumns(p *yearbook.Places) []column[*yearbook.Cell] {
	type row = *yearbook.Cell
	of := func(what string) string {
		if p.Same {
			return what
		}
		return "Third of the " + strings.ToLower(what) + "s"
	}
	return []column[row]{
		{head: of("Course"), width: 10, cell: func(c row) any { return c.Course }},
		{head: of("Spot"), width: 10, cell: func(c row) any { return c.Spot }},
		{head: "Above the mean of its loads (points)", width: 12, cell: func(c row) any {
			if c.N == 0 {
				return nil
			}
			return c.Apart
		}},
		{head: "Boards", width: 8, cell: func(c row) any { return c.N }},
	}
}

func yearPartColumns() []column[*yearbook.Part] {
	type row = *yearbook.Part
	tested := func(get func(row) units.MC) func(row) any {
		return func(p row) any {
			if !p.Tested {
				return nil
			}
			return get(p)
		}
	}
	return []column[row]{
		{head: "Part", width: 18, cell: func(p row) any { return p.Name }},
		{head: "Above the mean of its loads (points)", width: 12, cell: func(p row) any {
			if p.N == 0 {
				return nil
			}
			return p.Apart
		}},
		{head: "From (points)", width: 9, cell: tested(func(p row) units.MC { return p.Low })},
		{head: "To (points)", width: 9, cell: tested(func(p row) units.MC { return p.High })},
		{head: "More than chance", width: 10, cell: func(p row) any { return p.Sure }},
		{head: "Boards", width: 8, cell: func(p row) any { return p.N }},
		{head: "Loads", width: 8, cell: func(p row) any { return p.Loads }},
	}
}

func (j *yearJob) yearTimeColumns() []column[*yearbook.KilnTime] {
	type row = *yearbook.KilnTime
	return slices.Concat([]column[row]{{head: "Species", width: 20, cell: func(t row) any { return t.Species }}},
		lengths(j.job, "Sawn", "", func(t row) units.Length { return t.Thickness }), []column[row]{
			{head: "Loads found dry", width: 9, cell: func(t row) any { return t.N }},
			{head: "Days, least", width: 8, cell: func(t row) any { return t.Low }},
			{head: "Days, middle", width: 8, cell: func(t row) any { return t.Middle }},
			{head: "Days, most", width: 8, cell: func(t row) any { return t.High }},
			{head: "From, mean (%)", width: 9, cell: func(t row) any { return mcCell(t.From) }},
			{head: "To, mean (%)", width: 9, cell: func(t row) any { return mcCell(t.To) }},
		})
}

func yearWeekColumns() []column[*yearbook.Week] {
	type row = *yearbook.Week
	files := func(get func(compute.InputFile) string) func(row) any {
		return func(w row) any {
			var all []string
			for _, f := range w.Files {
				all = append(all, get(f))
			}
			return bookProse(strings.Join(all, "\n"))
		}
	}
	return []column[row]{
		{head: "Workbook", width: 30, cell: func(w row) any { return w.Name }},
		{head: "Files", width: 34, cell: files(func(f compute.InputFile) string { return f.Name })},
		{head: "First day", width: 12, cell: func(w row) any { return dayCell(w.First) }},
		{head: "Last day", width: 12, cell: func(w row) any { return dayCell(w.Last) }},
		{head: "Rows used", width: 8, cell: func(w row) any { return w.Used }},
		{head: "Rows set aside", width: 8, cell: func(w row) any { return w.SetAside }},
		{head: "Rows that are not data", width: 9, cell: func(w row) any { return w.NotData }},
		{head: "Errors", width: 8, cell: func(w row) any { return w.Errors }},
		{head: "Warnings", width: 9, cell: func(w row) any { return w.Warnings }},
		{head: "Notes", width: 8, cell: func(w row) any { return w.Notes }},
		{head: "Could not be read", width: 44, cell: func(w row) any { return bookProse(w.Unread) }},
		{head: "The same as", width: 22, cell: func(w row) any { return w.SameAs }},
		{head: "SHA-256", width: 68, cell: files(func(f compute.InputFile) string { return f.SHA256 })},
	}
}
