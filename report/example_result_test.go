package report

import (
	"fmt"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// The figures of this file are invented: they only have the shape of a real week.

func day(d int) time.Time { return time.Date(2026, time.October, d, 0, 0, 0, 0, time.UTC) }

func inch(num, den int64) units.Length { return units.Fraction(num, den) }

func exampleOak() wood.Species {
	from := source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "Table 4-3", Status: source.Seen}
	return wood.Species{Name: "northern red oak", Botanical: "Quercus rubra", Hardwood: true, Radial: 0.04, Tangential: 0.086,
		ShrinkageSource: from, Fiber: 30, FiberSource: from, BasicGravity: 0.56, GravitySource: from}
}

func examplePine() wood.Species {
	from := source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "Table 4-3", Status: source.Memory}
	return wood.Species{Name: "eastern white pine", Botanical: "Pinus strobus", Radial: 0.021, Tangential: 0.061,
		ShrinkageSource: from, Fiber: 30, FiberSource: from, BasicGravity: 0.34, GravitySource: from}
}

func exampleOrigin(sheet string, row int, fields ...string) compute.Origin {
	table := &compute.Table{File: "week42.xlsx", Sheet: sheet, Cols: map[string]int{}}
	for i, f := range fields {
		table.Cols[f] = i + 1
	}
	return compute.Origin{Table: table, Row: row}
}

// exampleBoards makes n boards of a load with every kind of reading among them.
func exampleBoards(load string, n int, s wood.Species) []compute.BoardResult {
	boards := make([]compute.BoardResult, n)
	for i := range boards {
		b := &compute.Board{Origin: exampleOrigin("Boards", 4+i, "board", "dry thickness", "dry width"), ID: fmt.Sprintf("%s-%d", load, i+1),
			Load: load, Species: s, Thickness: []units.Length{inch(17, 16), inch(33, 32)}, Width: inch(13+int64(i%9), 2), Length: 10*units.Foot + 6*units.Inch,
			Cup: inch(int64(i%4), 32), Course: 1 + i/6, Spot: 1 + i%6}
		r := compute.BoardResult{Board: b, Species: s, Nominal: units.Inch, Least: inch(33, 32), PlanesTo: inch(29-int64(i%4), 32),
			RippedTo: inch(29, 32), WidthTo: b.Width - inch(1, 2),
			Footage: compute.Footage{Rule: compute.SurfaceMeasure, Hundredths: int64(500 + 100*(i%5)), Known: true}}
		switch {
		case i%7 == 5: // not measured
		case i%11 == 10:
			r.MC = compute.BoardMC{State: units.BelowRange, MC: units.Percent(6), N: 1, Date: day(17)}
		case i%13 == 12:
			r.MC = compute.BoardMC{State: units.AboveRange, MC: units.Percent(30), N: 1, Date: day(17)}
			r.Over = true
		default:
			mc := units.Percent(7 + float64(i%9)/4).Tenth()
			r.MC = compute.BoardMC{Reading: units.Reading{State: units.Number, MC: mc}, State: units.Number, MC: mc, Low: mc, High: mc, N: 2, Date: day(16 + i%2)}
			r.Over = i%9 == 8
		}
		if i%4 == 3 {
			r.MakesNone = compute.Statement{Name: "makes-too-thin", With: map[string]string{"strips": "1", "short": `1/32"`, "piece": "table top"}}
		} else {
			r.Makes = []string{"floor board", "shelf (ripped)"}
		}
		boards[i] = r
	}
	return boards
}

// exampleResult is an invented week: a red oak load K14, dry but for held-back boards, an unmeasured pine load K15, saw
// settings, cuts, and two sales, one of them withheld.
func exampleResult() *compute.Result {
	oak, pine := exampleOak(), examplePine()
	s := compute.Defaults()
	s.MillName, s.MillAddress, s.MillContact = "Hollow Road Mill", "12 Hollow Road, Somewhere", "555 0100"
	s.Used = []compute.SettingUsed{
		{Name: "saw step", Value: `1/16"`, Source: source.Source{Document: "default of this program", Status: source.OurChoice}},
		{Name: "planing per face", Value: `3/32"`, Place: finding.Place{File: "week42.xlsx", Sheet: "Settings", Row: 6, Col: 2}},
	}
	job := &compute.Job{Name: "week42", Settings: s, SheetOrder: map[string]int{"Settings": 0, "Loads": 1, "Boards": 2, "Readings": 3},
		Files: []compute.InputFile{{Name: "week42.xlsx", SHA256: "9f2c61d0aa37b1c6e0d15c3cf0a9b8f7d6e5c4b3a2918070605040302010ffee"}}}
	job.Loads = []compute.Load{
		{Origin: exampleOrigin("Loads", 3, "load"), ID: "K14", Use: "flooring", DateIn: day(1), DateOut: day(15), Boards: 36, Courses: 6, Spots: 6, Note: "fans off two nights"},
		{Origin: exampleOrigin("Loads", 4, "load"), ID: "K15", Use: "cladding", DateIn: day(12), Boards: 80},
	}
	job.Wanted = []compute.Wanted{
		{Origin: exampleOrigin("Wanted", 2), Piece: "floor board", Species: oak, Thickness: inch(3, 4), Width: inch(21, 4), Length: 8 * units.Foot, Pieces: 120, Waste: 0.1, Use: "flooring"},
		{Origin: exampleOrigin("Wanted", 3), Piece: "shelf", Species: oak, Thickness: inch(3, 4), Width: inch(39, 4), Length: 6 * units.Foot, Pieces: 8, Waste: 0.1, Use: "furniture"},
		{Origin: exampleOrigin("Wanted", 4), Piece: "siding", Species: pine, Thickness: inch(3, 4), Width: inch(37, 4), Face: inch(17, 2), Area: 640, Waste: 0.15, Use: "cladding", Profile: "lapped"},
		{Origin: exampleOrigin("Wanted", 5), Piece: "bench leg", Species: pine, Thickness: inch(7, 4), Width: inch(7, 4), Pieces: 4},
	}
	job.Cuts = []compute.Cut{
		{Origin: exampleOrigin("Cuts", 3), Species: oak, Thickness: inch(9, 8), Width: inch(27, 4), Length: 10 * units.Foot, Pieces: 44, Load: "K16", Sawing: compute.Sawing{Kind: compute.FlatSawn}, Date: day(13)},
		{Origin: exampleOrigin("Cuts", 4), Species: pine, Thickness: inch(17, 16), Width: inch(10, 1), Length: 12 * units.Foot, Pieces: 61, Date: day(14), Note: "blue stain on six"},
	}
	r := &compute.Result{Job: job, Species: []wood.Species{pine, oak}, Sources: []source.Source{oak.ShrinkageSource, pine.ShrinkageSource}}
	r.Boards = exampleBoards("K14", 36, oak)
	r.Boards[2].Board.Note = "knot at one end"
	first := compute.LoadResult{Load: &job.Loads[0], Species: []string{oak.Name}, N: 36, NFrom: "loads sheet", Measured: 31, Courses: 6, Spots: 6,
		Band:    compute.Band{Low: units.Percent(6), Mean: units.Percent(7), High: units.Percent(8.9), Use: "flooring", Region: s.Region, Source: oak.ShrinkageSource, Known: true},
		Verdict: compute.DryButHeldBack, Mean: units.Estimate{Value: units.Percent(7.9), Low: units.Percent(7.6), High: units.Percent(8.2), Confidence: 0.95, N: 31, Known: true},
		MeanRest: units.Estimate{Value: units.Percent(7.7), Low: units.Percent(7.4), High: units.Percent(8), Confidence: 0.95, N: 27, Known: true},
		Reasons: []compute.Statement{{Name: "held-back", With: map[string]string{"n": "4", "boards": "K14-9, K14-13, K14-18, K14-36", "limit": "8.9"}},
			{Name: "mean-in-band", With: map[string]string{"mean": "7.7", "low": "6.0", "high": "8.9", "held": "2"}}},
		FirstReading: day(16), LastReading: day(17), Weight: units.Pounds(640)}
	for i := range r.Boards {
		first.Boards = append(first.Boards, i)
		if r.Boards[i].Over {
			first.Over = append(first.Over, r.Boards[i].Board.ID)
		}
	}
	first.HeldBack = first.Over
	second := compute.LoadResult{Load: &job.Loads[1], Species: []string{pine.Name}, N: 80, NFrom: "loads sheet",
		Band:     compute.Band{Low: units.Percent(9), Mean: units.Percent(12), High: units.Percent(14), Use: "exterior trim, siding", Region: s.Region, Known: true},
		Reasons:  []compute.Statement{{Name: "no-readings", With: map[string]string{"n": "80"}}},
		ToSettle: []compute.Statement{{Name: "settle-measure-first", With: map[string]string{"n": "25", "of": "80"}}},
		Days: compute.DaysToTarget{Known: true, Days: 9, Low: 7, High: 12, From: day(20), Target: units.Percent(12), Ends: units.Percent(9),
			Says: compute.Statement{Name: "days-go", With: map[string]string{"days": "9", "low": "7", "to": "to 12", "date": "20 October 2026",
				"n": "3", "now": "17.5", "wettest": "18.6", "target": "12.0", "emc": "9.0"}}}}
	r.Loads = []compute.LoadResult{first, second}
	r.Cuts = exampleCuts(job)
	r.Sizes = exampleSizes(job)
	r.Sales = []compute.SaleResult{
		{ID: "S7", Buyer: "A. Buyer", Date: day(20), Loads: []string{"K14"}, Boards: []int{0, 1, 2, 5, 8, 10, 12, 20}, Measured: 7,
			Footage: []compute.Footage{{Rule: compute.SurfaceMeasure, Hundredths: 5400, Known: true}}, Low: units.Percent(7), High: units.Percent(9), Mean: units.Percent(7.8),
			FirstReading: day(16), LastReading: day(17), Sales: []*compute.Sale{{Origin: exampleOrigin("Sold", 2), ID: "S7", Buyer: "A. Buyer", Date: day(20)}}},
		{ID: "S8", Buyer: "B. Buyer", Date: day(21), Loads: []string{"K14"}, Missing: []string{"K14-99"}, Withheld: true,
			WithheldWhy: []compute.Statement{{Name: "sale-withheld-error", With: map[string]string{"where": `week42.xlsx: Sold!C3, sale "S8" names board "K14-99", which is not in the sheets`}}}},
	}
	r.Findings = exampleFindings()
	r.Accounts = []compute.Account{
		{File: "week42.xlsx", Sheet: "Boards", Rows: compute.FatesOf(compute.RowFate{Row: 1, Why: "title"}, compute.RowFate{Row: 3, Kind: compute.KindBoards, Why: "heading"}, compute.RowFate{Row: 4, Kind: compute.KindBoards, Fate: compute.Used},
			compute.RowFate{Row: 41, Kind: compute.KindBoards, Fate: compute.SetAside, Why: "board number given twice"})},
		{File: "week42.xlsx", Sheet: "Readings", Rows: compute.FatesOf(compute.RowFate{Row: 1, Kind: compute.KindReadings, Why: "heading"}, compute.RowFate{Row: 2, Kind: compute.KindReadings, Fate: compute.Used},
			compute.RowFate{Row: 14, Kind: compute.KindReadings, Fate: compute.SetAside, Why: "reading not understood"})},
	}
	return r
}

func exampleCuts(job *compute.Job) []compute.CutResult {
	around := func(l units.Length, off int64) units.LengthRange {
		return units.LengthRange{Value: l, Low: l - inch(off, 64), High: l + inch(off, 64), Confidence: 0.9}
	}
	return []compute.CutResult{
		{Cut: &job.Cuts[0], Green: compute.Footage{Rule: compute.SurfaceMeasure, Hundredths: 27900, Known: true}, TargetMC: units.Percent(7.5),
			DryThickness: around(inch(35, 32), 2), DryWidth: around(inch(101, 16), 6)},
		{Cut: &job.Cuts[1], Green: compute.Footage{Rule: compute.VolumeMeasure, Hundredths: 64813, Known: true}},
	}
}

func exampleSizes(job *compute.Job) []compute.SizeResult {
	handbook := source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "Table 13-2", Status: source.Seen}
	size := func(i int, thick, wide units.Length, share string) compute.SizeResult {
		w := &job.Wanted[i]
		return compute.SizeResult{Wanted: w, Known: true, TargetMC: units.Percent(7.5), TargetSrc: handbook, Thickness: thick, Width: wide,
			ThicknessExact: thick - inch(1, 32), WidthExact: wide - inch(1, 64), FinishThickness: w.Thickness, FinishWidth: w.Width,
			PlaneThickness: inch(1, 8), PlaneWidth: inch(1, 4), ShrinkThickness: 0.03, ShrinkWidth: 0.0645,
			DryThickness: units.LengthRange{Value: thick - inch(1, 16), Low: thick - inch(1, 8), High: thick, Confidence: 0.9},
			DryWidth:     units.LengthRange{Value: wide - inch(7, 16), Low: wide - inch(5, 8), High: wide - inch(1, 4), Confidence: 0.9},
			CleansUp:     0.96, Pieces: w.Pieces, WasteShare: w.Waste, Sawing: compute.Sawing{Kind: compute.FlatSawn},
			Sentence: compute.Statement{Name: "set-saw", With: map[string]string{"thickness": thick.String(), "width": wide.String(),
				"drythickness": (thick - inch(1, 16)).String(), "drywidth": (wide - inch(7, 16)).String(), "tlow": (thick - inch(1, 8)).String(), "thigh": thick.String(),
				"wlow": (wide - inch(5, 8)).String(), "whigh": (wide - inch(1, 4)).String(), "share": share, "ft": w.Thickness.String(), "fw": w.Width.String()}}}
	}
	floor := size(0, inch(1, 1), inch(25, 4), "96")
	floor.Boards, floor.LinealFeet, floor.CanMake, floor.Weight = 132, 1056, 17, units.Pounds(2380)
	floor.WeightLow, floor.WeightHigh, floor.BoardsAdded, floor.BoardsTaken = units.Pounds(1904), units.Pounds(2856), 132, 134
	floor.Green = compute.Footage{Rule: compute.SurfaceMeasure, Hundredths: 52800, Known: true}
	floor.Net = compute.Footage{Rule: compute.SurfaceMeasure, Hundredths: 46200, Known: true}
	shelf := size(1, inch(1, 1), inch(11, 1), "91")
	shelf.Boards, shelf.LinealFeet, shelf.CanMake = 9, 54, 3
	siding := size(2, inch(15, 16), inch(81, 8), "95")
	siding.LinealFeet = 1039
	siding.Notes = []compute.Statement{{Name: "size-sawing-not-said"}, {Name: "size-lineal", With: map[string]string{"length": "1039 ft"}}}
	leg := compute.SizeResult{Wanted: &job.Wanted[3], Pieces: 4, Why: compute.Statement{Name: "size-no-target"}}
	return []compute.SizeResult{floor, shelf, siding, leg}
}

func exampleFindings() finding.List {
	at := func(sheet string, row, col int) finding.Place {
		return finding.Place{File: "week42.xlsx", Sheet: sheet, Row: row, Col: col}
	}
	return finding.List{
		{Code: "T010", Severity: finding.Note, Place: at("Settings", 9, 1), Stands: "favorite hat", Problem: `"favorite hat" is not a setting`, Hint: "nothing, if it is for yourself"},
		{Code: "T003", Severity: finding.Note, Place: at("Boards", 3, 9), Stands: "color", Problem: `the column "color" was not read`, Hint: "nothing, if drytally needn't know it"},
		{Code: "J001", Severity: finding.Error, Place: at("Boards", 41, 1), Stands: "K14-7", Problem: `board "K14-7" stands in row 10 already`, Hint: "give one of the two another number"},
		{Code: "J012", Severity: finding.Warning, Place: at("Readings", 9, 3), Stands: "81", Problem: "the reading 81.0 stands among readings around 8.0; is it 8.1?", Hint: "correct it if a decimal point was lost"},
		{Code: "J013", Severity: finding.Error, Place: at("Readings", 14, 3), Stands: "9,5", Problem: `"9,5" is not a moisture reading`, Hint: "write 9.5 with a point, LO if the meter showed its low mark, or leave the cell empty"},
		{Code: "J010", Severity: finding.Error, Place: at("Sold", 3, 3), Stands: "K14-99", Problem: `sale "S8" names board "K14-99", which is not in the sheets`, Hint: "correct the number, or write the load beside it"},
	}
}

// exampleJob is a job of papers over a result.
func exampleJob(r *compute.Result) *job {
	return &job{Result: r, about: About{Version: "0.0-test"}, system: r.Job.Settings.System}
}
