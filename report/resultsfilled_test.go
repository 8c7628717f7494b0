package report

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"drytally/compute"
	"drytally/compute/fit"
	"drytally/compute/heat"
	"drytally/compute/profile"
	"drytally/compute/season"
	"drytally/compute/source"
	"drytally/compute/target"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/sheet"
)

func said(name string, with ...string) compute.Statement {
	s := compute.Statement{Name: name}
	for i := 0; i < len(with); i += 2 {
		if s.With == nil {
			s.With = map[string]string{}
		}
		s.With[with[i]] = with[i+1]
	}
	return s
}

// filledResult is the invented week with every part of a result filled, so that every key of results.json has a value once.
// Its figures don't belong together.
func filledResult() *compute.Result {
	r := fullResult()
	book := source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "Table 4-2", Status: source.Seen}
	pc, hour := units.Percent, time.Hour
	estimate := func(mc float64) units.Estimate {
		return units.Estimate{Value: pc(mc), Low: pc(mc - 0.5), High: pc(mc + 0.5), Confidence: 0.95, N: 12, Known: true}
	}
	j := r.Job
	j.Unread = []compute.Unread{{Origin: exampleOrigin("Readings", 4, "board", "reading"), Board: "K14-9", Load: "K14", Course: 2, Spot: 3}}
	j.Readings[1].Meter = "old one"
	j.Core = []compute.Core{{Origin: exampleOrigin("Probes", 2, "time", "core"), Field: "core", Time: day(14).Add(9 * hour), Temp: units.Celsius(57.5), Probe: "P1", Load: "K14", Note: "deepest"}}
	j.Climate = []compute.Climate{{Origin: exampleOrigin("Climate", 2, "month"), Month: time.January, Temp: units.Celsius(-2), Humidity: units.RelativeHumidity(78), Note: "from the airfield"},
		{Origin: exampleOrigin("Climate", 3, "month"), Month: time.July, Temp: units.Celsius(22), Humidity: units.RelativeHumidity(65)},
		{Origin: exampleOrigin("Climate", 4, "month"), Month: time.July, Temp: units.Celsius(21), Humidity: units.RelativeHumidity(50), Indoors: true}}
	s := &j.Settings
	s.MeterName, s.StoreTemp, s.StoreHumidity, s.Stored, s.Limit, s.Target = "new one", units.Celsius(18), units.RelativeHumidity(60), "closed shed", pc(9), pc(7)
	ringed := compute.Sawing{Kind: compute.RingAngle, Angle: 20}
	j.Cuts[0].ID, j.Cuts[0].Sawing, j.Wanted[0].Sawing = "lot 3", ringed, ringed
	j.Sales[0].Pieces = 2
	j.Loads[0].Species, j.Loads[0].Region, j.Loads[0].Limit, j.Loads[0].Low = exampleOak(), "dry Southwest", pc(9), pc(6)

	j.Cuts[0].Measured, j.Cuts[0].Setting = []units.Length{inch(9, 8), inch(37, 32)}, inch(9, 8)
	r.SawSpread = compute.SawSpread{Used: inch(25, 1000), From: compute.SpreadBoards, Measured: true, Low: inch(18, 1000), High: inch(46, 1000), Boards: 8, Readings: 32,
		Sawing: target.Sawing{Within: inch(16, 1000), Between: inch(22, 1000), Total: inch(25, 1000), Boards: 8, Readings: 32, Groups: 1}, LeftOut: []string{"K14-8"}, Says: said("heat-counting")}
	l := &r.Loads[0]
	l.NoLimit, l.Sampling, l.ByThirds, l.MeterOff, l.Counted, l.SlowMissing = said("limit-few"), estimate(7.9), estimate(8.1), pc(1.2), 3, "bottom course, middle spots"
	l.Strata = []compute.Stratum{{By: "courses", Name: "bottom", From: 1, To: 2, Boards: 12, Measured: 10, Mean: estimate(8.6), Reading: estimate(8.6), Spread: pc(0.4), Over: 2, Wettest: true},
		{By: "courses", Name: "middle", From: 3, To: 4, Boards: 12}}
	l.StrataDiffer = []compute.Statement{said("strata-not-measured", "where", "middle courses")}
	l.Layers = compute.Layers{Pairs: 3, CoreWetter: []string{"K14-1"}, ShellWetter: []string{"K14-3"}, Even: 1, Says: []compute.Statement{said("layers-even", "n", "1", "points", "1.5")}}
	l.Conflicts = []compute.Statement{said("season-shade")}
	l.Witnesses[0].Source = book
	l.Rise = compute.RiseResult{Known: true, FirstDate: day(2), LastDate: day(17), First: pc(7), Last: pc(12), Boards: 6, Same: true,
		Rise: units.Estimate{Value: pc(5), Low: pc(4), High: pc(6), Confidence: 0.95, N: 6, Known: true}, Meter: pc(1), Shown: true,
		Humidity: units.RelativeHumidity(64), At: units.Celsius(21), Says: []compute.Statement{said("rise-meter", "meter", "1.0", "shown", "true", "rise", "5.0")}}
	l.Stores = []compute.StoreResult{{Where: "shed", Temp: units.Celsius(12), Air: pc(12.5), Lines: 30, FirstLine: day(1), Last: day(17), Kept: season.ClosedShed,
		Start: pc(7.9), From: day(17), Points: []compute.StorePoint{{Days: 30, Low: pc(8.1), High: pc(8.6)}, {Days: 90, Low: pc(8.5), High: pc(9.4)}},
		EndLow: pc(11), EndHigh: pc(13), Width: inch(13, 2), WidthLow: -inch(1, 32), WidthHi: 0, Leaves: true, LeavesAfter: 0, MeasureBy: day(17), Source: book,
		Says: []compute.Statement{said("store-stays", "low", "6.0", "high", "8.9")}}}
	l.Heat = []compute.Statement{said("heat-no-claim")}
	l.Band.TableSource, l.Sources = book, []source.Source{book}
	d := &r.Loads[1].Days
	d.DailyLoss, d.SafeLoss, d.SafeLossSource, d.Reach, d.FastestLoss, d.FastestSample, d.TooFast = pc(0.9), pc(2), book, pc(6.5), pc(3.1), "S2", true
	d.FastestFrom, d.FastestTo, d.ReachSays, d.LossSays = day(12), day(13), said("air-reach", "days", "3", "emc", "6.5"), []compute.Statement{said("heat-counting")}
	r.Loads[1].DrySolid = 1234

	b := &r.Boards[0]
	l.GreenBoards, b.MC.Mark = 120, pc(7)
	b.MC.Uncalibrated, b.MC.Wood, b.Sold, b.Under = pc(8.3), units.Celsius(20), "S7", true
	b.Board.NominalWidth, b.Board.GreenWidth, b.Board.Bow, b.Board.Crook, b.Board.Twist = 6*units.Inch, inch(27, 4), inch(1, 8), inch(1, 16), inch(1, 16)
	b.Board.CutOut = compute.CutOut{Stretches: []compute.Stretch{{From: inch(5, 1), To: inch(7, 1), Top: true}}, Total: inch(3, 1)}
	b.Bad = compute.BadWood{Known: true, Spans: []fit.Span{{From: inch(89, 1), To: inch(91, 1)}}, AtEnds: inch(3, 1), Written: true}
	b.CutTo, b.CutPlanes, b.CutRipped, b.CutStrips, b.CutWidth, b.Chips = 4*units.Foot, inch(27, 32), inch(7, 8), 3, inch(49, 8), 812
	l.Stack[0].MC = b.MC
	j.Boards[0] = *b.Board
	j.Boards[0].Nominal, j.Boards[0].GreenMeasured, j.Boards[0].Setting = units.Inch, []units.Length{inch(9, 8), inch(37, 32)}, inch(9, 8)
	b.Gradient = compute.Gradient{Known: true, Shell: units.Reading{State: units.Number, MC: pc(9)}, Core: units.Reading{State: units.Number, MC: pc(7.5)}, Points: -pc(1.5),
		Sense: compute.ShellWetter, Says: said("gradient-shell-wetter", "board", "K14-1", "shell", "9.0", "core", "7.5", "least", "false", "points", "1.5")}
	r.Boards[1].Gradient = compute.Gradient{Known: true, Shell: units.Reading{State: units.BelowRange, MC: pc(7)}, Core: units.Reading{State: units.Number, MC: pc(9)}, Points: pc(2), AtLeast: true, Sense: compute.CoreWetter}
	r.Boards[2].Gradient = compute.Gradient{Shell: units.Reading{State: units.Number, MC: pc(9)}}

	oak := compute.HouseShrinkage{Species: "northern red oak", Direction: "tangential", Known: true, Table: 0.086, Own: 0.071, Used: 0.074, Error: 0.004, Boards: 9, ByWeight: 4,
		LeftOut: []string{"K14-8"}, TableSource: book, Says: said("heat-counting")}
	r.House = []compute.HouseShrinkage{oak, {Species: "eastern white pine", Direction: "radial", Table: 0.021, Used: 0.021, Boards: 2, TableSource: book}}
	z := &r.Sizes[0]
	z.TargetSrc, z.ThicknessExact, z.WidthExact, z.Own = book, inch(1051, 1000), inch(6180, 1000), []compute.HouseShrinkage{oak}
	z.DryWidth, z.Sawing, z.Weight, z.LinealFeet, z.Notes = z.DryThickness, ringed, units.Pounds(700), 812, []compute.Statement{said("heat-counting")}
	z.Season = compute.SeasonResult{Known: true, Indoors: true, Low: pc(6), High: pc(11), Width: inch(5, 1), LapGiven: inch(1, 4), Says: []compute.Statement{said("season-shade")},
		Moves: []compute.SeasonMove{{Made: pc(11), Swell: 0, Shrink: inch(60, 1000), SwellMost: 0, ShrinkMost: inch(90, 1000), LeastGap: 0, LeastLap: inch(3, 32), Coefficient: true},
			{Load: "K14", Made: pc(7.7), Swell: inch(40, 1000), Shrink: inch(20, 1000), SwellMost: inch(60, 1000), ShrinkMost: inch(30, 1000), LeastGap: inch(1, 16), LeastLap: inch(1, 32)}}}
	z.WasteRule, z.BoardsAdded, z.BoardsTaken, z.LinealNet, z.WeightLow, z.WeightHigh = target.LoseWaste, 132, 134, 960, units.Pounds(560), units.Pounds(840)
	z.DryWeight, z.DryWeightLow, z.DryWeightHigh, z.Solid, z.DrySolid = units.Pounds(420), units.Pounds(380), units.Pounds(460), 1500, 1300
	z.Shape = profile.Shape{Kind: profile.TongueGroove, Size: profile.Size{Overall: inch(21, 4), Shows: inch(5, 1), Joint: inch(1, 4)}, Usual: true}
	z.Name = compute.DressedName{Known: true, Thickness: units.Inch, Width: 6 * units.Inch, Source: book, Says: said("heat-counting")}
	z.Cover = compute.Cover{Known: true, Area: 160, Openings: 21, Net: 139, Height: 8 * units.Foot, Run: 20 * units.Foot, Lineal: 2.34, Footage: 1.17, Courses: 19, Exposure: inch(5, 1), Even: inch(19, 4),
		Last: inch(2, 1), Across: 26, Battens: 25, Gap: inch(1, 4), Overlap: inch(1, 1), Says: []compute.Statement{said("heat-counting")}}
	r.CoverBy = said("heat-counting")
	r.OneSetting = []compute.OneSetting{{Species: "northern red oak", Pieces: []string{"floor board", "shelf"}, Thickness: inch(17, 16), Width: inch(25, 4), OneThickness: true, OneWidth: true, More: 0.06,
		Says: said("heat-counting")}}
	w := &j.Wanted[0]
	w.Joint, w.Gap, w.WallHeight, w.WallRun, w.Openings = inch(1, 4), inch(1, 8), 8*units.Foot, 20*units.Foot, 21
	r.Sales[0].Age, r.Sales[0].Solid, r.Sales[0].Notes = 3, 55, []compute.Statement{said("heat-counting")}
	r.Sales[0].Warnings = l.Warnings

	month := func(m time.Month, mc float64) season.MonthEMC { return season.MonthEMC{Month: m, MC: pc(mc)} }
	r.Climate = []compute.ClimateYear{{Low: pc(12), High: pc(15.5), LowMonth: time.July, HighMonth: time.January, Months: []season.MonthEMC{{Month: time.January, MC: pc(15.5), Extrapolated: true}, month(time.July, 12)},
		Says: []compute.Statement{said("season-shade")}}, {Indoors: true, Low: pc(9), High: pc(9), LowMonth: time.July, HighMonth: time.July, Months: []season.MonthEMC{month(time.July, 9)}}}
	r.Meters = []compute.MeterComparison{{Meter: "old one", Against: "oven", Oven: true, Species: "northern red oak", Marks: 1, Apart: 2, Spread: pc(0.7), Used: true, Boards: 12,
		Pairs:      []compute.MeterPair{{Load: "K14", Board: "K14-1", Date: day(16), Shown: pc(8), Against: pc(9.1)}, {Load: "K14", Board: "K14-4", Shown: pc(7), Against: pc(8)}},
		Difference: units.Estimate{Value: pc(1.1), Low: pc(0.6), High: pc(1.6), Confidence: 0.95, N: 2, Known: true},
		Line: compute.MeterLine{Known: true, Intercept: -0.4, Slope: 1.19, USlope: 0.07, Residual: 0.5, Low: pc(7), High: pc(12),
			At: []compute.LinePoint{{Shown: pc(8), MC: pc(9.1), Low: pc(8), High: pc(10.2)}}},
		Says: []compute.Statement{said("meters-not-apart")}}, {Species: "eastern white pine", Difference: units.Estimate{Value: -pc(0.4), N: 1, Known: true}}}
	r.Species = append(r.Species, fullSpecies(book))
	r.Heat = []compute.HeatRecord{{Load: "K14", Probe: "P1", Lines: 40, From: day(14), To: day(15), Gaps: 1, Highest: units.Celsius(61),
		At: []compute.HeldAt{{Temp: units.Celsius(56), Longest: 75, Total: 90, Begins: day(14).Add(10 * hour),
			Published: []heat.Figure{{Kind: heat.Schedule, Temp: units.Celsius(56), Minutes: 30, Most: 40, About: "something printed", Source: book}}}, {Temp: units.Celsius(71.1)}},
		Says: []compute.Statement{said("heat-counting"), said("heat-no-claim")}}}
	r.Fit = filledFit(r)
	filledKiln(r)
	return r
}

// fullSpecies is a wood with every figure.
func fullSpecies(book source.Source) wood.Species {
	s := exampleOak()
	s.Name, s.Gravity12, s.Gravity12Source, s.GreenHeart, s.GreenSap, s.GreenSource, s.GreenMean, s.GreenMeanSource = "oak of every figure", 0.63, book, 80, 69, book, 75, book
	return s
}

// filledFit is a plan for one board, crosscut once and then ripped, beside a board that is left alone.
func filledFit(r *compute.Result) *compute.FitResult {
	w := r.Job.Wanted
	cut := fit.Board{ID: "K14-1", Species: "northern red oak", Length: 8 * units.Foot, Width: inch(13, 2), Crook: inch(1, 8), Thickness: inch(33, 32), Planed: []fit.Planed{{UpTo: 8 * units.Foot, Whole: inch(13, 16), Ripped: inch(7, 8)}},
		HeldBack: true, Unsure: true, Deny: []string{"2"}, LoseStart: inch(1, 2), LoseEnd: inch(1, 1), Defects: []fit.Span{{From: inch(5, 1), To: inch(7, 1)}}}
	whole := fit.Part{Kind: fit.Divided, Length: 8 * units.Foot, Width: inch(13, 2), Rip: true, Parts: []fit.Part{
		{Kind: fit.Made, Piece: 1, Length: 8 * units.Foot, Width: inch(4, 1)},
		{Kind: fit.Kerf, Across: inch(4, 1), Length: 8 * units.Foot, Width: inch(1, 8)},
		{Kind: fit.Rest, Name: "K14-1-a", Across: inch(33, 8), Length: 8 * units.Foot, Width: inch(19, 8)}}}
	return &compute.FitResult{Known: true, Boards: []int{0, 1}, Read: []compute.FitRead{{First: true, Limit: units.Percent(10), Pieces: 1}, {}}, EndTrim: units.Inch, Kerf: inch(1, 8), LeftLength: 24 * units.Inch, LeftWidth: 2 * units.Inch,
		Wood:   compute.FitWood{Boards: 20815, Finished: 9000, Chips: 2000, Sawdust: 315, Bad: 500, Lost: 1000, Left: 8000},
		Says:   []compute.Statement{said("fit-best", "unsure", "true")},
		Pieces: []compute.FitPiece{{Wanted: &w[0], CutWidth: inch(11, 2), Count: 120}, {Wanted: &w[1], CutWidth: inch(4, 1), Count: 8, Made: 1, Can: 1}},
		Left:   []compute.FitPiece{{Wanted: &w[3], Count: 4, Why: said("fit-no-size", "piece", "bench leg")}},
		Plan: fit.Plan{Proven: true, Made: []int{0, 1}, Can: []int{0, 1}, Used: fit.Score{Missing: 127, Order: 8, Wood: 305}, Bound: fit.Score{Missing: 127, Order: 8, Wood: 305}, Rounded: units.Millimetre, Work: 9001,
			Boards:    []fit.Sheet{{Board: cut, Cut: true, Wood: 305, Whole: whole}, {Board: fit.Board{ID: "K14-2", Length: inch(40, 1), Width: inch(6, 1), Thickness: units.Inch}, Whole: fit.Part{Kind: fit.Rest, Name: "K14-2", Length: inch(40, 1), Width: inch(6, 1)}}},
			Leftovers: []fit.Leftover{{Name: "K14-1-a", Board: "K14-1", Length: 8 * units.Foot, Width: inch(19, 8), Thickness: inch(33, 32)}, {Name: "K14-2", Board: "K14-2", Length: inch(40, 1), Width: inch(6, 1), Thickness: units.Inch, Whole: true}}}}
}

// What was added to the results holds its numbers: a movement of 0 is a 0, what is not known is null.
func TestResultsJSONHoldsWhatIsRarelyThere(t *testing.T) {
	r := filledResult()
	_, parsed := resultsOf(t, r)
	for path, want := range map[string]string{
		"records.readings.2.fate":                    "set aside", // row 4 stands between rows 3 and 14
		"records.readings.2.board":                   "K14-9",
		"records.readings.2.reading.state":           "not taken",
		"records.readings.3.row":                     "14",
		"records.readings.1.meter":                   "old one",
		"records.core_temperatures.0.temperature.c":  "57.5",
		"records.core_temperatures.0.cell":           "B2",
		"records.climate.0.month":                    "1",
		"loads.0.no_tolerance_why.name":              "limit-few",
		"loads.0.meter_off_points":                   "1.2",
		"loads.0.over_bound_counted":                 "3",
		"loads.1.over_bound_counted":                 "<nil>",
		"loads.0.strata.0.wettest":                   "true",
		"loads.0.strata.1.mean":                      "<nil>",
		"loads.0.layers.core_less_shell_points":      "0.0", // one board has numbers
		"loads.1.layers.core_less_shell_points":      "<nil>",
		"loads.0.stores.0.width_change_low.in":       "-0.03125",
		"loads.0.stores.0.width_change_high.in":      "0",
		"loads.0.stores.0.leaves_after_days":         "0",
		"loads.0.rise.rise.points":                   "5.0",
		"loads.1.rise":                               "<nil>",
		"loads.1.days.fastest_sample":                "S2",
		"boards.0.gradient.core_less_shell_points":   "-1.5",
		"boards.1.gradient.at_least":                 "true",
		"boards.2.gradient.sense":                    "<nil>",
		"boards.3.gradient":                          "<nil>",
		"boards.0.moisture.uncalibrated_percent":     "8.3",
		"boards.1.moisture.uncalibrated_percent":     "<nil>",
		"sizes.0.season.moves.0.swell.in":            "0",
		"sizes.0.season.moves.0.least_lap.in":        "0.09375",
		"sizes.1.season":                             "<nil>",
		"sizes.0.own_shrinkage.0.own_share":          "0.071",
		"own_shrinkage.1.own_share":                  "<nil>",
		"sales.0.age_days":                           "3",
		"sales.1.age_days":                           "<nil>",
		"meters.0.line.slope":                        "1.19",
		"meters.1.line":                              "<nil>",
		"meters.1.difference.low_points":             "<nil>",
		"meters.1.difference.points":                 "-0.4",
		"core_temperatures.0.at.0.longest_minutes":   "75",
		"core_temperatures.0.says.1.name":            "heat-no-claim",
		"fit.plan.used.board_feet":                   "3.05",
		"fit.plan.boards.0.whole.parts.0.piece":      "1",
		"fit.plan.boards.0.whole.parts.1.piece":      "<nil>",
		"fit.plan.boards.0.board.index":              "0",
		"settings.values.store_temperature.c":        "18",
		"settings.values.end_trim.in":                "1",
		"climate.0.months.0.extrapolated":            "true",
		"fit.plan.leftovers.0.name":                  "K14-1-a",
		"fit.plan.boards.0.crook.in":                 "0.125",
		"fit.wood_cm3.chips":                         "2000",
		"boards.0.bad_wood.stretches.0.from.in":      "89",
		"boards.0.cut_to.in":                         "48",
		"boards.0.chips_cm3":                         "812",
		"records.boards.0.cut_out.total.in":          "3",
		"records.boards.0.cut_out.stretches.0.to.in": "7",
		"fit.no_part.0.why.name":                     "fit-no-size",
		"fit.plan.boards.0.whole.parts.2.across.in":  "4.125",
		"core_temperatures.0.at.0.published.0.about": "something printed",
	} {
		if got := fmt.Sprint(dig(t, parsed, path)); got != want {
			t.Errorf("%s: got %s, want %s", path, got, want)
		}
	}
}

// A row that could not be read stands among the readings where the sheet has it.
func TestUnreadRowsStandInTheirPlaces(t *testing.T) {
	at := func(sheet string, row int) compute.Origin {
		return compute.Origin{Table: &compute.Table{File: "w.xlsx", Sheet: sheet}, Row: row}
	}
	how := &compute.Taking{Field: "reading"}
	r := &compute.Result{Job: &compute.Job{
		Readings: []compute.Reading{{Taking: how, Origin: at("A", 3)}, {Taking: how, Origin: at("A", 3)}, {Taking: how, Origin: at("A", 7)}, {Taking: how, Origin: at("B", 2)}},
		Unread:   []compute.Unread{{Origin: at("A", 2)}, {Origin: at("A", 5)}, {Origin: at("A", 6)}, {Origin: at("A", 9)}, {Origin: at("B", 4)}, {Origin: at("C", 1)}}}}
	var got []string
	for _, row := range exampleJob(r).readingRows() {
		got = append(got, fmt.Sprintf("%s%d %v", row.Origin.Table.Sheet, row.Origin.Row, row.aside))
	}
	want := "A2 true, A3 false, A3 false, A5 true, A6 true, A7 false, A9 true, B2 false, B4 true, C1 true"
	if words := strings.Join(got, ", "); words != want {
		t.Errorf("got %s, want %s", words, want)
	}
}

// The sheets that only some weeks have hold their numbers; what is not known is an empty cell, a movement of 0 is a 0.
func TestWorkbookHoldsWhatIsRarelyThere(t *testing.T) {
	book := readBack(t, workbookOf(t, filledResult()))
	for _, c := range []struct {
		sheet, head string
		row         int // from 1
		want        any // a number, a share, a text, or nothing
	}{
		{"Loads", "The meter can be off, either way (points)", 1, 1.2},
		{"Loads", "The same by counting alone, as if the meter were right", 1, 3},
		{"Loads", "Fastest daily loss (points)", 2, 3.1},
		{"Boards", "MC before the meter's own line (%)", 1, 8.3},
		{"Boards", "Core less shell (points)", 1, -1.5},
		{"Boards", "MC of the shell (%)", 1, 9},
		{"Strata", "Mean MC (%)", 1, 8.6},
		{"Meters", "Line: slope", 1, 1.19},
		{"Meters", "Differs by, on average (points)", 2, -0.4},
		{"Meter pairs", "The other said (%)", 1, 9.1},
		{"Shrinkage", "Own boards, mean", 1, bookShare(0.071)},
		{"Shrinkage", "Handbook, green to ovendry", 1, bookShare(0.086)},
		{"Sizes", "Swells, 95 of 100 pieces at most (in)", 1, 0},
		{"Sizes", "Lap needed (in)", 1, 0.09375},
		{"Fit", "Cut from the boards on hand", 2, 1},
		{"Fit cuts", "Length (in)", 1, 96},
		{"Fit cuts", "From the first edge (in)", 2, 4.125},
		{"Leftovers", "Width (in)", 1, 2.375},
		{"Fit wood", "Solid (cubic feet)", 2, 0.0706},
		{"Planing", "Cut to length first (in)", 1, 48},
		{"Planing", "Then width jointed (in)", 1, 6.125},
		{"Planing", "Chips when worked whole, solid (cubic feet)", 1, 0.0287},
		{"Sales", "Days from last reading to sale", 1, 3},
		{"Sales", "Weight, to (lb)", 1, 600},
		{"Kiln courses", "Boards", 2, 2},
		{"Kiln courses", "Underside from the floor (in)", 2, 5.75},
		{"Kiln rows", "Stay out", 2, 2},
		{"Money", "Amount (shillings)", 1, 123.45},
		{"Storage", "MC after 90 days, to (%)", 1, 9.4},
		{"Storage", "It changes, from (in)", 1, -0.03125},
		{"Storage", "Can leave what the use asks for after (days)", 1, 0},
		{"Climate", "Brings wood to (%)", 1, 15.5},
		{"Core temperatures", "Longest without a break (minutes)", 1, 75},
		{"Probe log", "Core of the board (F)", 1, 135.5},
		{"Loads", "No such figure because", 1, "No upper limit for boards: it needs two boards measured at least."},
		{"Loads", "Slow places with too few measured boards", 1, "bottom course, middle spots"},
		{"Boards", "Sold in", 1, "S7"},
		{"Boards", "MC of the shell (%)", 2, "<7.0"},
		{"Boards", "At least that", 2, "yes"},
		{"Readings", "Row was", 3, "set aside"},
		{"Readings", "Board", 3, "K14-9"},
		{"Readings", "That is", 3, "not taken"},
		{"Climate", "Of the year", 1, "dampest"},
		{"Climate", "Of the year", 2, "driest"},
		{"Core temperatures", "What it does not say", 2, "This is no treatment and no statement about insects or fungi: one probe in one board says nothing of the other boards, nor of anything that comes into the wood later."},
		{"Fit cuts", "Becomes", 2, "leftover"},
		{"Boards", "Bad wood, from the butt end", 1, `7' 5" to 7' 7"; 3" at the ends`},
		{"Fit cuts", "Piece or name of the leftover", 1, "shelf"},
		{"Fit", "Piece", 3, "bench leg"},
		{"Loads", "The same by counting alone, as if the meter were right", 2, nil},
		{"Boards", "Core less shell (points)", 3, nil},
		{"Strata", "Mean MC (%)", 2, nil},
		{"Meters", "Differs by, from (points)", 2, nil},
		{"Meters", "Line: slope", 2, nil},
		{"Shrinkage", "Own boards, mean", 2, nil},
		{"Sizes", "Lap needed (in)", 2, nil},
		{"Fit", "Cut from the boards on hand", 3, nil},
		{"Sales", "Days from last reading to sale", 2, nil},
		{"Readings", "Number or mark (%)", 3, nil},
	} {
		got := headed(t, sheetNamed(t, book, c.sheet), c.head, c.row)[c.row-1]
		at := fmt.Sprintf("%s, %s, row %d", c.sheet, c.head, c.row)
		switch want := c.want.(type) {
		case nil:
			blank(t, got, at)
		case string:
			if got.Text != want {
				t.Errorf("%s: got %q, want %q", at, got.Text, want)
			}
		case bookShare:
			sameNumber(t, got, float64(want), sheet.Percent, at)
		case float64:
			sameNumber(t, got, want, sheet.Decimal, at)
		case int:
			sameNumber(t, got, float64(want), sheet.Decimal, at)
		}
	}
	if n := len(sheetNamed(t, book, "Leftovers").Rows); n != 2 {
		t.Errorf("leftovers: got %d rows with the heading, want 2: a board that is left alone is no leftover", n)
	}
}
