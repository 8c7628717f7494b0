package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// loadSketch says in a few words what an invented load looks like. All figures are invented.
type loadSketch struct {
	id, use, region string
	wood            wood.Species
	n               int // boards in the load
	courses, spots  int
	// read gives board i's reading: a number, or "<6", "30+", or "" for not measured.
	read      func(i int) string
	low, high float64 // of the band; 0 none
	own       bool
	verdict   compute.Verdict
	withheld  bool
	name      func(i int) string
}

// sketched makes a Result of one load and one sale of its first boards. The counts are taken from the sketch, so that the
// page and the evidence agree.
func sketched(k loadSketch) *compute.Result {
	s := compute.Defaults()
	s.MillName, s.MillAddress, s.MillContact = "Hollow Road Mill", "12 Hollow Road, Somewhere", "555 0100"
	s.Used = []compute.SettingUsed{
		{Name: "meter kind", Value: "pin", Source: source.Source{Document: "the workbook", Status: source.Owner}},
		{Name: "lowest mark", Value: "6.0 %", Source: source.Source{Document: "drytally", Place: "default", Status: source.OurChoice}},
		{Name: "allowed share", Value: "10 %", Source: source.Source{Document: "drytally", Place: "default", Status: source.OurChoice}},
		{Name: "kerf", Value: `1/8"`, Source: source.Source{Document: "drytally", Place: "default", Status: source.OurChoice}},
	}
	if k.name == nil {
		k.name = func(i int) string { return fmt.Sprintf("%s-%d", k.id, i+1) }
	}
	job := &compute.Job{Name: "week42", Settings: s, Files: []compute.InputFile{{Name: "week42.xlsx", SHA256: strings.Repeat("9f2c61d0aa37b1c6", 4)}}}
	job.Loads = []compute.Load{{Origin: exampleOrigin("Loads", 3, "load"), ID: k.id, Use: k.use, Species: k.wood, DateIn: day(1), DateOut: day(15), Boards: k.n}}
	r := &compute.Result{Job: job, Species: []wood.Species{k.wood}}
	l := compute.LoadResult{Load: &job.Loads[0], Species: []string{k.wood.Name}, N: k.n, NFrom: "loads sheet", Courses: k.courses, Spots: k.spots, Verdict: k.verdict,
		Withheld: k.withheld, Band: compute.Band{Low: units.Percent(k.low), High: units.Percent(k.high), Mean: units.Percent((k.low + k.high) / 2).Tenth(), Use: k.use,
			Region: k.region, OwnLimit: k.own, Known: k.high != 0,
			Source: source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "Table 13-2", Status: source.Memory}}}
	if k.own {
		l.Band.Source, l.Band.Mean = source.Source{Document: "the owner's own limit", Status: source.Owner}, 0
	}
	sum, numbers := 0.0, 0
	for i := range k.n {
		b := compute.BoardResult{Board: &compute.Board{Origin: exampleOrigin("Boards", 4+i, "board"), ID: k.name(i), Load: k.id, Species: k.wood,
			Thickness: []units.Length{inch(33, 32)}, Width: inch(13+int64(i%9), 2), Length: 10*units.Foot + 6*units.Inch}, Species: k.wood, Least: inch(33, 32),
			Footage: compute.Footage{Rule: compute.SurfaceMeasure, Hundredths: int64(500 + 100*(i%3)), Known: true}}
		if k.spots > 0 {
			b.Board.Course, b.Board.Spot = 1+i/k.spots, 1+i%k.spots
		}
		b.MC = sketchedMC(k.read(i))
		switch b.MC.State {
		case units.Number:
			sum += b.MC.MC.Percent()
			numbers++
			b.Over, b.Under = k.high != 0 && b.MC.MC > l.Band.High, b.MC.MC < l.Band.Low
		case units.BelowRange:
			l.Below++
		case units.AboveRange:
			l.Above++
			b.Over = k.high != 0
		case units.NotTaken:
			l.NotMeasured = append(l.NotMeasured, b.Board.ID)
		}
		if b.MC.State != units.NotTaken {
			l.Measured++
		}
		if b.Over {
			l.Over = append(l.Over, b.Board.ID)
		}
		if b.Under {
			l.Under = append(l.Under, b.Board.ID)
		}
		l.Boards = append(l.Boards, i)
		r.Boards = append(r.Boards, b)
		if k.spots > 0 {
			l.Stack = append(l.Stack, compute.Spot{Course: b.Board.Course, Spot: b.Board.Spot, Board: b.Board.ID, MC: b.MC})
		}
	}
	if numbers > 1 {
		mean := units.Percent(sum / float64(numbers)).Tenth()
		l.Mean = units.Estimate{Value: mean, Low: mean - 30, High: mean + 30, Confidence: 0.95, N: l.Measured, Known: true}
		l.Spread = units.Percent(0.6)
		l.Witnesses = sketchedWitnesses(mean)
	}
	if l.Measured > 0 {
		l.FirstReading, l.LastReading = day(16), day(17)
	}
	if k.verdict == compute.DryButHeldBack {
		l.HeldBack, l.MeanRest = l.Over, l.Mean
	}
	sketchedReasons(&l)
	l.OverBound, l.DryFootage = min(k.n, len(l.Over)+4), []compute.Footage{{Rule: compute.SurfaceMeasure, Hundredths: 100 * int64(6*k.n), Known: true}}
	l.GreenFootage = []compute.Footage{{Rule: compute.VolumeMeasure, Hundredths: 650*int64(k.n) + 33, Known: true}}
	l.GreenBoards, l.Weight = k.n+6, units.Pounds(640)
	l.Notes = []compute.Statement{{Name: "temperature-missing", With: map[string]string{"n": "3", "cold": "50 F", "warm": "86 F", "from": "range of wood temperature taken"}},
		{Name: "species-by-meter"}, {Name: "meter-calibration-not-said"}}
	if k.withheld {
		l.Warnings = finding.List{{Code: "J013", Severity: finding.Error, Place: finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 14, Col: 4}, Stands: "9,5",
			Problem: `"9,5" is not a moisture reading`, Hint: "write 9.5 with a point"}}
	}
	l.Warnings = append(l.Warnings, finding.Finding{Code: "J012", Severity: finding.Warning, Place: finding.Place{File: "week42.xlsx", Sheet: "Readings", Row: 9, Col: 3},
		Problem: "the reading 81.0 stands among readings around 8.0; is it 8.1?"})
	r.Loads = []compute.LoadResult{l}
	r.Sales = []compute.SaleResult{sketchedSale(r, min(k.n, 12))}
	return r
}

func sketchedMC(text string) compute.BoardMC {
	m := compute.BoardMC{N: 1, Date: day(17)}
	var x float64
	switch {
	case text == "":
		return compute.BoardMC{}
	case strings.HasPrefix(text, "<"):
		fmt.Sscan(text[1:], &x)
		m.State = units.BelowRange
	case strings.HasSuffix(text, "+"):
		fmt.Sscan(strings.TrimSuffix(text, "+"), &x)
		m.State = units.AboveRange
	default:
		fmt.Sscan(text, &x)
		m.State = units.Number
	}
	m.MC = units.Percent(x)
	m.Low, m.High = m.MC, m.MC
	m.Reading = units.Reading{State: m.State, MC: m.MC}
	return m
}

func sketchedWitnesses(mean units.MC) []compute.Witness {
	handbook := source.Source{Document: "Wood Handbook FPL-GTR-282 (2021)", Place: "eq. 4-5", Status: source.Seen}
	return []compute.Witness{
		{Kind: compute.WitnessMeter, Compared: true, Estimate: units.Estimate{Value: mean, Low: mean - 110, High: mean + 110, Confidence: 0.95, N: 24, Known: true},
			Detail: compute.Statement{Name: "witness-meter", With: map[string]string{"n": "24", "dates": "16 October 2026", "bias": "1"}}, Source: handbook},
		{Kind: compute.WitnessShrinkage, Compared: true, Estimate: units.Estimate{Value: mean + 60, Low: mean - 300, High: mean + 420, Confidence: 0.95, N: 20, Known: true},
			Detail: compute.Statement{Name: "witness-shrinkage", With: map[string]string{"n": "20"}}, Source: handbook},
		{Kind: compute.WitnessAir, Compared: true, Estimate: units.Estimate{Value: mean - 150, Low: mean - 150, N: 60, Known: true}, Source: handbook,
			Detail: compute.Statement{Name: "witness-air", With: map[string]string{"temperature": "118 F", "humidity": "31", "emc": (mean - 150).String()}}},
	}
}

// sketchedReasons gives a load the sentences of its verdict.
func sketchedReasons(l *compute.LoadResult) {
	n, measured, limit := fmt.Sprint(l.N), fmt.Sprint(l.Measured), l.Band.High.String()
	say := func(name string, with ...string) compute.Statement {
		s := compute.Statement{Name: name, With: map[string]string{}}
		for i := 0; i < len(with); i += 2 {
			s.With[with[i]] = with[i+1]
		}
		return s
	}
	switch l.Verdict {
	case compute.DryForUse:
		l.Reasons = []compute.Statement{say("none-over", "measured", measured, "n", n, "limit", limit),
			say("bound-met", "bound", "4", "n", n, "share", "10 %", "allowed", "6")}
	case compute.DryButHeldBack:
		l.Reasons = []compute.Statement{say("held-back", "n", fmt.Sprint(len(l.HeldBack)), "boards", strings.Join(l.HeldBack, ", "), "limit", limit)}
	case compute.NotDryYet:
		l.Reasons = []compute.Statement{say("mean-over", "mean", l.Mean.Value.String(), "limit", limit)}
		l.Days.Says = say("days-none-weights")
	default:
		if l.Measured == 0 {
			l.Reasons = []compute.Statement{say("no-readings", "n", n)}
			l.ToSettle = []compute.Statement{say("settle-measure-first", "n", "25", "of", n)}
			return
		}
		l.Reasons = []compute.Statement{say("witnesses-disagree")}
		l.ToSettle = []compute.Statement{say("settle-witnesses"), say("settle-more-clear", "n", "12", "clear", "9.0", "off", "1.0", "courses", "4", "where", "1-2", "limit", limit)}
		l.Conflicts = []compute.Statement{say("conflict", "a", "meter", "alow", "7.0", "ahigh", "9.0", "b", "weights", "blow", "11.0", "bhigh", "13.0")}
	}
}

// sketchedSale sells the first boards of a result's first load.
func sketchedSale(r *compute.Result, n int) compute.SaleResult {
	l := &r.Loads[0]
	s := compute.SaleResult{ID: "S7", Buyer: "A. Buyer", Date: day(20), Loads: []string{l.Load.ID}, FirstReading: l.FirstReading, LastReading: l.LastReading,
		Footage: []compute.Footage{{Rule: compute.SurfaceMeasure, Hundredths: int64(600 * n), Known: true}},
		Sales:   []*compute.Sale{{Origin: exampleOrigin("Sold", 2), ID: "S7", Buyer: "A. Buyer", Use: l.Load.Use, Date: day(20), Pieces: n}}}
	var numbers []units.MC
	var held []string
	for i := range n {
		s.Boards = append(s.Boards, i)
		b := r.Boards[i]
		switch b.MC.State {
		case units.Number:
			numbers = append(numbers, b.MC.MC)
		case units.BelowRange:
			s.Below++
		case units.AboveRange:
			s.Above++
		}
		if b.MC.State != units.NotTaken {
			s.Measured++
		}
		if b.Over {
			held = append(held, b.Board.ID)
		}
	}
	if len(numbers) > 0 {
		sum := 0.0
		for _, m := range numbers {
			sum += m.Percent()
		}
		s.Low, s.High, s.Mean = slices.Min(numbers), slices.Max(numbers), units.Percent(sum/float64(len(numbers))).Tenth()
	}
	if len(held) > 0 {
		s.Notes = append(s.Notes, compute.Statement{Name: "sale-held-back", With: map[string]string{"boards": strings.Join(held, ", "), "limit": l.Band.High.String()}})
	}
	return s
}

// The sketches of the tests, by name.
func loadSketches() map[string]loadSketch {
	oak, walnut := exampleOak(), exampleOak()
	walnut.Name = "black walnut"
	const most = "most areas of the United States"
	spread := func(mid float64) func(int) string {
		return func(i int) string { return fmt.Sprintf("%.1f", mid+float64((i*7)%11-5)/5) }
	}
	some := func(every int, read func(int) string) func(int) string {
		return func(i int) string {
			if i%every != 0 {
				return ""
			}
			return read(i)
		}
	}
	long := strings.Repeat("Great-Aunt Philippa's back pasture ", 6)
	nasty := []string{"", "  ", "a\nb\tc", "<b>&amp;{{.x}}%s%d\\", "\u202eabc\u0000\u0007", "\U0001F332\U0001F332 \U00020000", "3/8 x 11 3/8", strings.Repeat("W", 300),
		"line\r\nline", "\xff\xfe broken", "\u0301\u0301\u0301", "=1+1", "\u05d0\u05d1\u05d2 \u0639\u0631\u0628", "-"}
	return map[string]loadSketch{
		"dry": {id: "K14", use: "flooring", region: most, wood: oak, n: 60, courses: 10, spots: 6, low: 6, high: 10, verdict: compute.DryForUse,
			read: some(2, spread(7.9))},
		"dry, owner's limit, walnut": {id: "K15", use: "bowls", region: most, wood: walnut, n: 20, courses: 5, spots: 4, high: 9.5, own: true, verdict: compute.DryForUse,
			read: spread(8)},
		"dry, withheld": {id: "K16", use: "flooring", region: most, wood: oak, n: 30, courses: 5, spots: 6, low: 6, high: 10, verdict: compute.DryForUse, withheld: true,
			read: spread(8)},
		"held back": {id: "K17", use: "flooring", region: most, wood: oak, n: 36, courses: 6, spots: 6, low: 6, high: 9, verdict: compute.DryButHeldBack,
			read: func(i int) string {
				switch {
				case i%13 == 12:
					return "30+"
				case i%11 == 10:
					return "<6"
				case i%9 == 8:
					return "9.8"
				case i == 5:
					return "5.6"
				case i%7 == 5:
					return ""
				}
				return spread(7.5)(i)
			}},
		"not dry": {id: "K18", use: "flooring", region: most, wood: oak, n: 48, courses: 8, spots: 6, low: 6, high: 10, verdict: compute.NotDryYet, read: some(2, func(i int) string {
			return fmt.Sprintf("%.1f", 11+float64(i%17)/2)
		})},
		"not shown":           {id: "K19", use: "flooring", region: most, wood: oak, n: 48, low: 6, high: 10, verdict: compute.NotShown, read: some(4, spread(8))},
		"no readings, no use": {id: "K20", wood: examplePine(), n: 80, verdict: compute.NotShown, read: func(int) string { return "" }},
		"all below range":     {id: "K21", use: "flooring", region: most, wood: oak, n: 12, courses: 3, spots: 4, low: 6, high: 10, verdict: compute.NotShown, read: func(int) string { return "<6" }},
		"one board":           {id: "K22", use: "a shelf", region: most, wood: oak, n: 1, courses: 1, spots: 1, low: 6, high: 10, verdict: compute.DryForUse, read: spread(8)},
		"200 boards": {id: "K23", use: "flooring", region: most, wood: oak, n: 200, courses: 25, spots: 8, low: 6, high: 10, verdict: compute.DryButHeldBack,
			read: func(i int) string {
				if i%9 == 4 {
					return fmt.Sprintf("%.1f", 10.1+float64(i%5)/10)
				}
				return spread(8)(i)
			}},
		"200 boards alike": {id: "K24", use: "flooring", region: most, wood: oak, n: 200, courses: 50, spots: 4, low: 6, high: 10, verdict: compute.DryForUse, read: func(int) string { return "8.0" }},
		"long names": {id: long, use: long, region: long, wood: oak, n: 24, courses: 4, spots: 6, low: 6, high: 8, verdict: compute.DryButHeldBack,
			read: spread(7.5), name: func(i int) string { return fmt.Sprint(long, i) }},
		"nasty strings": {id: nasty[3], use: nasty[5], region: nasty[4], wood: oak, n: len(nasty), courses: 3, spots: 5, low: 6, high: 8, verdict: compute.DryButHeldBack,
			read: spread(7.5), name: func(i int) string { return nasty[i] }},
		"wide and wild": {id: "K25", use: "flooring", region: most, wood: oak, n: 20, courses: 2, spots: 10, low: 6, high: 10, verdict: compute.NotDryYet,
			read: func(i int) string { return []string{"4.0", "180", "12.5", "60+", "<4"}[i%5] }},
	}
}
