package report

import (
	"cmp"
	"math"
	"net/url"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/templates"
)

// originColumns tell the row of the owner's sheet.
func originColumns[T any](get func(T) compute.Origin) []column[T] {
	return []column[T]{
		{head: "File", width: 18, cell: func(v T) any { return get(v).At("").File }},
		{head: "Sheet", width: 14, cell: func(v T) any { return get(v).At("").Sheet }},
		{head: "Row", width: 7, cell: func(v T) any { return countCell(get(v).Row) }},
	}
}

func (j *job) loadColumns() []column[*compute.LoadResult] {
	type load = *compute.LoadResult
	bound := func(get func(load) int) func(load) any {
		return func(l load) any {
			if !bounded(l) {
				return nil
			}
			return get(l)
		}
	}
	return slices.Concat([]column[load]{
		{head: "Load", width: 12, cell: func(l load) any { return l.Load.ID }},
		{head: "Species", width: 20, cell: func(l load) any { return strings.Join(l.Species, ", ") }},
		{head: "Use", width: 18, cell: func(l load) any { return l.Load.Use }},
		{head: "Verdict", width: 24, cell: func(l load) any { return l.Verdict.String() }},
		{head: "Reasons", width: 60, cell: func(l load) any { return j.sentences(l.Reasons) }},
		{head: "What would settle it", width: 50, cell: func(l load) any { return j.sentences(l.ToSettle) }},
		{head: "MC from (%)", width: 9, cell: func(l load) any { return mcCell(l.Band.Low) }},
		{head: "MC average (%)", width: 9, cell: func(l load) any { return mcCell(l.Band.Mean) }},
		{head: "MC limit (%)", width: 9, cell: func(l load) any { return mcCell(l.Band.High) }},
		{head: "Own limit", width: 8, cell: func(l load) any { return l.Band.OwnLimit }},
		{head: "Boards", width: 8, cell: func(l load) any { return l.N }},
		{head: "Boards counted from", width: 14, cell: func(l load) any { return l.NFrom }},
		{head: "Measured (boards)", width: 10, cell: func(l load) any { return l.Measured }},
		{head: "Over the limit (boards)", width: 10, cell: func(l load) any { return len(l.Over) }},
		{head: "Boards over the limit", width: 24, cell: func(l load) any { return bookProse(strings.Join(l.Over, ", ")) }},
		{head: "Boards too dry for the use", width: 24, cell: func(l load) any { return bookProse(strings.Join(l.Under, ", ")) }},
		{head: "Boards to hold back", width: 24, cell: func(l load) any { return bookProse(strings.Join(l.HeldBack, ", ")) }},
		{head: "Below the meter's range", width: 10, cell: func(l load) any { return l.Below }},
		{head: "Above the meter's range", width: 10, cell: func(l load) any { return l.Above }},
	},
		estimates("Mean MC", func(l load) units.Estimate { return l.Mean }),
		estimates("Mean MC without held-back boards", func(l load) units.Estimate { return l.MeanRest }),
		estimates("Mean MC by thirds of the courses", func(l load) units.Estimate { return l.ByThirds }),
		[]column[load]{
			{head: "Standard deviation between boards (points)", width: 12, cell: func(l load) any { return mcCell(l.Spread) }},
			{head: "95 % of boards at or below, with 95 % confidence (%)", width: 14, cell: func(l load) any { return mcCell(l.Tolerance) }},
			{head: "No such figure because", width: 40, cell: func(l load) any { return j.sentence(l.NoLimit) }},
			{head: "The meter can be off, either way (points)", width: 11, cell: func(l load) any { return mcCell(l.MeterOff) }},
			{head: "Boards that may be over, 95 % bound", width: 12, cell: bound(func(l load) int { return l.OverBound })},
			{head: "The same by counting alone, as if the meter were right", width: 14, cell: bound(func(l load) int { return l.Counted })},
			{head: "Boards that stay", width: 9, cell: func(l load) any { return l.RestN }},
			{head: "Of these may be over, 95 % bound", width: 12, cell: bound(func(l load) int { return l.RestBound })},
			{head: "Of these allowed over", width: 10, cell: bound(func(l load) int { return l.Allowed })},
			{head: "Witnesses that disagree", width: 40, cell: func(l load) any { return j.sentences(l.Conflicts) }},
			{head: "Parts of the stack that differ", width: 40, cell: func(l load) any { return j.sentences(l.StrataDiffer) }},
			{head: "Shell and core", width: 40, cell: func(l load) any { return j.sentences(l.Layers.Says) }},
			{head: "Later readings against earlier ones", width: 40, cell: func(l load) any { return j.sentences(l.Rise.Says) }},
			{head: "First reading", width: 13, cell: func(l load) any { return dayCell(l.FirstReading) }},
			{head: "Last reading", width: 13, cell: func(l load) any { return dayCell(l.LastReading) }},
			{head: "Green footage (board feet)", width: 22, cell: func(l load) any { return footages(l.GreenFootage) }},
			{head: "Green boards", width: 9, cell: func(l load) any { return countCell(l.GreenBoards) }},
			{head: "Dry footage (board feet)", width: 22, cell: func(l load) any { return footages(l.DryFootage) }},
			{head: "Days to go, about", width: 9, cell: func(l load) any { return daysCell(l.Days.Known, l.Days.Days) }},
			{head: "Days to go, from", width: 9, cell: func(l load) any { return daysCell(l.Days.Known, l.Days.Low) }},
			{head: "Days to go, to", width: 9, cell: func(l load) any { return daysCell(l.Days.Known && !l.Days.OpenEnd, l.Days.High) }},
			{head: "Days counted from", width: 13, cell: func(l load) any { return dayCell(l.Days.From) }},
			{head: "Days in words", width: 40, cell: func(l load) any { return j.sentence(l.Days.Says) }},
			{head: "Daily loss (points)", width: 9, cell: func(l load) any { return mcCell(l.Days.DailyLoss) }},
			{head: "Safe daily loss (points)", width: 9, cell: func(l load) any { return mcCell(l.Days.SafeLoss) }},
			{head: "Fastest daily loss (points)", width: 9, cell: func(l load) any { return mcCell(l.Days.FastestLoss) }},
			{head: "Of sample board", width: 10, cell: func(l load) any { return l.Days.FastestSample }},
			{head: "From", width: 13, cell: func(l load) any { return dayCell(l.Days.FastestFrom) }},
			{head: "To", width: 13, cell: func(l load) any { return dayCell(l.Days.FastestTo) }},
			{head: "Faster than safe", width: 9, cell: func(l load) any { return l.Days.TooFast }},
			{head: "Loss in words", width: 40, cell: func(l load) any { return j.sentences(l.Days.LossSays) }},
			{head: "The air brings wood to (%)", width: 9, cell: func(l load) any { return mcCell(l.Days.Reach) }},
			{head: "What the air can do", width: 40, cell: func(l load) any { return j.sentence(l.Days.ReachSays) }},
			massColumn(j, "Weight of the dry pack, about", func(l load) units.Mass { return l.Weight }),
			{head: "Slow places with too few measured boards", width: 40, cell: func(l load) any { return bookProse(l.SlowMissing) }},
			{head: "Not measured", width: 40, cell: func(l load) any { return bookProse(strings.Join(l.NotMeasured, "; ")) }},
			{head: "How the readings were taken", width: 100, cell: func(l load) any { return j.sentences(l.Notes) }},
			{head: "Core temperatures", width: 60, cell: func(l load) any { return j.sentences(l.Heat) }},
			{head: "Certificate withheld", width: 10, cell: func(l load) any { return l.Withheld }},
			{head: "Note", width: 24, cell: func(l load) any { return l.Load.Note }},
		}, originColumns(func(l load) compute.Origin { return l.Load.Origin }))
}

// daysCell keeps 0 days apart from no forecast.
func daysCell(known bool, days float64) any {
	if !known {
		return nil
	}
	return bookNumber(days)
}

// footages writes board feet by rule in words: rules are never added up.
func footages(all []compute.Footage) string {
	var parts []string
	for _, f := range all {
		if f.Known {
			parts = append(parts, jsDecimal(f.Hundredths, 2)+" by "+jsRule(f.Rule))
		}
	}
	return strings.Join(parts, "; ")
}

func massColumn[T any](j *job, head string, get func(T) units.Mass) column[T] {
	unit := " (lb)"
	if j.system == units.Metric {
		unit = " (kg)"
	}
	return column[T]{head: head + unit, width: 10, cell: func(v T) any {
		if j.system == units.Metric {
			return decimalCell(toHundredth(get(v).Grams() / 1000))
		}
		return decimalCell(toHundredth(get(v).Pounds()))
	}}
}

// toHundredth leaves out what only the change of units put behind the point: 710 lb, not 710.00005.
func toHundredth(x float64) float64 { return math.Round(x*100) / 100 }

// solidColumn is a volume of solid wood, in cubic feet for an owner of inches and feet.
func solidColumn[T any](j *job, head string, get func(T) int64) column[T] {
	if j.system == units.Metric {
		return column[T]{head: head + " (cubic centimetres)", width: 13, cell: func(v T) any { return int(get(v)) }}
	}
	return column[T]{head: head + " (cubic feet)", width: 13, cell: func(v T) any { return bookDecimal(math.Round(units.CubicFeet(get(v))*1e4) / 1e4) }}
}

// witnessRow is one witness with its load.
type witnessRow struct {
	load *compute.LoadResult
	*compute.Witness
}

func (j *job) witnessRows() []witnessRow {
	var rows []witnessRow
	for i := range j.Loads {
		for k := range j.Loads[i].Witnesses {
			rows = append(rows, witnessRow{&j.Loads[i], &j.Loads[i].Witnesses[k]})
		}
	}
	return rows
}

func (j *job) witnessColumns() []column[witnessRow] {
	mc := func(air bool, get func(units.Estimate) units.MC) func(witnessRow) any {
		return func(w witnessRow) any {
			if !w.Estimate.Known || !air && w.Kind == compute.WitnessAir {
				return nil
			}
			return get(w.Estimate)
		}
	}
	return []column[witnessRow]{
		{head: "Load", width: 12, cell: func(w witnessRow) any { return w.load.Load.ID }},
		{head: "Witness", width: 12, cell: func(w witnessRow) any { return w.Kind.String() }},
		{head: "Mean MC (%)", width: 10, cell: mc(false, func(e units.Estimate) units.MC { return e.Value })},
		{head: "From; for air the least possible (%)", width: 16, cell: mc(true, func(e units.Estimate) units.MC { return e.Low })},
		{head: "To (%)", width: 10, cell: mc(false, func(e units.Estimate) units.MC { return e.High })},
		{head: "Rests on (boards, samples or rows)", width: 16, cell: func(w witnessRow) any { return w.Estimate.N }},
		{head: "What it rests on", width: 56, cell: func(w witnessRow) any { return j.sentence(w.Detail) }},
		{head: "Figure of", width: 13, cell: func(w witnessRow) any { return dayCell(w.Date) }},
		{head: "Compared with the readings", width: 11, cell: func(w witnessRow) any {
			if w.Compared {
				return "yes"
			}
			return "no"
		}},
		{head: "Source", width: 40, cell: func(w witnessRow) any {
			if w.Source.Document == "" {
				return nil
			}
			return w.Source.String()
		}},
	}
}

func (j *job) findingColumns() []column[*finding.Finding] {
	type row = *finding.Finding
	return []column[row]{
		{head: "Severity", width: 10, cell: func(f row) any { return f.Severity.String() }},
		{head: "Code", width: 7, cell: func(f row) any { return string(f.Code) }},
		{head: "File", width: 20, cell: func(f row) any { return f.Place.File }},
		{head: "Cell", width: 18, cell: func(f row) any { return j.cellLink(f.Place, place(f.Place)) }},
		{head: "What stands there", width: 20, cell: func(f row) any { return f.Stands }},
		{head: "What is wrong", width: 62, cell: func(f row) any { return bookProse(f.Problem) }},
		{head: "What to do", width: 52, cell: func(f row) any { return bookProse(f.Hint) }},
	}
}

// accountRow is what became of one row.
type accountRow struct {
	file, sheet string
	compute.RowFate
}

func (j *job) accountRows() []accountRow {
	var rows []accountRow
	for _, a := range j.Accounts {
		for r := range a.Rows.All() {
			rows = append(rows, accountRow{a.File, a.Sheet, r})
		}
	}
	return rows
}

func accountColumns() []column[accountRow] {
	return []column[accountRow]{
		{head: "File", width: 20, cell: func(r accountRow) any { return r.file }},
		{head: "Sheet", width: 18, cell: func(r accountRow) any { return r.sheet }},
		{head: "Row", width: 8, cell: func(r accountRow) any { return r.Row }},
		{head: "Table", width: 12, cell: func(r accountRow) any { return string(r.Kind) }},
		{head: "What became of it", width: 16, cell: func(r accountRow) any { return r.Fate.String() }},
		{head: "Why", width: 50, cell: func(r accountRow) any { return r.Why }},
	}
}

func (j *job) settingColumns() []column[*compute.SettingUsed] {
	type row = *compute.SettingUsed
	return []column[row]{
		{head: "Setting", width: 30, cell: func(s row) any { return s.Name }},
		{head: "Value used", width: 50, cell: func(s row) any { return bookProse(s.Value) }},
		{head: "From", width: 26, cell: func(s row) any {
			if s.Place == (finding.Place{}) {
				return ownerless(s.Source)
			}
			return j.cellLink(s.Place, s.Place.String())
		}},
	}
}

// ownerless says where a setting without a cell comes from.
func ownerless(s source.Source) string {
	if s.Status == source.NotSaid {
		return source.OurChoice.String()
	}
	return s.Status.String()
}

func madeColumns() []column[*Made] {
	return []column[*Made]{
		{head: "Paper", width: 30, cell: func(m *Made) any { return bookLink{m.Name, url.PathEscape(m.Name)} }},
		{head: "No.", width: 14, cell: func(m *Made) any { return m.Number }},
		{head: "SHA-256 of its bytes", width: 70, cell: func(m *Made) any { return m.SHA256 }},
	}
}

func sourceColumns() []column[source.Source] {
	return []column[source.Source]{
		{head: "Document", width: 60, cell: func(s source.Source) any { return bookProse(s.Document) }},
		{head: "Place", width: 40, cell: func(s source.Source) any { return bookProse(s.Place) }},
		{head: "How it is known", width: 26, cell: func(s source.Source) any { return s.Status.String() }},
	}
}

// cautionRows lists the cautions of all statements, each once.
func (j *job) cautionRows() []templates.Caution {
	var all []templates.Caution
	for i := range j.Sales {
		s := &j.Sales[i]
		if s.Withheld || s.OwnUse != "" { // it has no statement
			continue
		}
		for _, c := range j.statementCautions(s, j.loadsOf(s)) {
			if !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b templates.Caution) int {
		return cmp.Or(cmp.Compare(len(a.ID), len(b.ID)), cmp.Compare(a.ID, b.ID))
	})
	return all
}

func cautionColumns() []column[templates.Caution] {
	return []column[templates.Caution]{
		{head: "Number", width: 9, cell: func(c templates.Caution) any { return c.ID }},
		{head: "Caution on a moisture statement", width: 90, cell: func(c templates.Caution) any { return bookProse(c.Text) }},
		{head: "Known from", width: 60, cell: func(c templates.Caution) any { return bookProse(c.Source) }},
	}
}
