package bind

import (
	"drytally/compute"
	"drytally/compute/units"
)

// both is the cell of an example in inches and in metric.
type both struct{ inch, metric string }

func same(s string) both { return both{s, s} }

// formExamples are the example rows of the blank workbook, by field. They show the ways to write a cell; a field without an
// example has an empty cell. Every figure is invented.
var formExamples = map[compute.Kind][]map[string]both{
	compute.KindWanted: {{"piece": same("shelf"), "species": same("white ash"), "finished thickness": {"3/4", "19"}, "finished width": {"5 1/2", "140"},
		"length": {"3", "900"}, "pieces": same("12"), "profile": same("square"), "use": same("interior furniture"), "waste": same("10"), "sawing": same("flat")},
		{"piece": same("siding"), "species": same("eastern white pine"), "finished thickness": {"3/4", "19"}, "finished width": {"7 1/4", "184"},
			"face": {"6 3/4", "171"}, "area": {"210", "20"}, "profile": same("lapped"), "use": same("exterior siding"), "waste": same("10")}},
	compute.KindCuts: {{"species": same("white ash"), "green thickness": {"5/4", "32"}, "green width": {"6 1/2", "165"}, "length": {"8", "2500"},
		"pieces": same("14"), "lot": same("3"), "load": same("K1"), "sawing": same("flat"), "date": same("2026-05-04"), "stickered": {"3/4", "19"}}},
	compute.KindLoads: {{"load": same("K1"), "species": same("white ash"), "use": same("interior flooring"), "region": same("most areas of the United States"),
		"date in": same("2026-06-01"), "date out": same("2026-06-24"), "boards": same("60"), "courses": same("10"), "spots": same("6")}},
	compute.KindBoards: {{"board": same("A01"), "load": same("K1"), "species": same("white ash"), "dry thickness": {"1 1/16", "27"}, "dry thickness 2": {"1 3/32", "28"},
		"dry width": {"6 1/4", "159"}, "length": {"8", "2500"}, "green thickness": {"1 1/8", "29"}, "green width": {"6 5/8", "168"}, "nominal": {"4/4", "25"},
		"cup": {"1/16", "2"}, "course": same("1"), "spot": same("3"), "reading": same("8.5"), "wood temperature": {"66", "19"}, "date": same("2026-06-24")}},
	compute.KindReadings: {{"board": same("A01"), "load": same("K1"), "reading": same("8.5"), "wood temperature": {"66", "19"}, "date": same("2026-06-24"),
		"depth": {"1/4", "6"}, "where": same("middle")},
		{"board": same("A02"), "load": same("K1"), "reading": same("LO"), "wood temperature": {"66", "19"}, "date": same("2026-06-24"), "depth": {"1/4", "6"},
			"where": same("middle")}},
	compute.KindWeights: {{"sample": same("S1"), "load": same("K1"), "date": same("2026-06-01"), "section wet": same("43.2"), "section ovendry": same("29.8")},
		{"sample": same("S1"), "load": same("K1"), "date": same("2026-06-01"), "weight": same("2840")}},
	compute.KindAir: {{"date": same("2026-06-02"), "time": same("15:30"), "dry bulb": {"96", "36"}, "humidity": same("62"), "where": same("kiln"),
		"load": same("K1"), "running": same("fans")},
		{"date": same("2026-06-03"), "time": same("7:00"), "dry bulb": {"71", "22"}, "wet bulb": {"66", "19"}, "where": same("kiln"), "load": same("K1")}},
	compute.KindSold: {{"sale": same("1"), "load": same("K1"), "boards": same("A01-A12, A15"), "buyer": same("the buyer's name"), "use": same("interior flooring"),
		"date": same("2026-07-01")}},
	compute.KindClimate: {{"month": same("Jan"), "temperature": {"28", "-2"}, "humidity": same("74"), "where": same("outdoors")},
		{"month": same("Jan"), "temperature": {"68", "20"}, "humidity": same("32"), "where": same("indoors")}},
}

// examples gives the example rows of a kind in a system of units, with the mark that makes them known.
func (t *Table) examples(system units.System) []FormRow {
	var rows []FormRow
	for _, e := range formExamples[t.Kind] {
		row := FormRow{}
		for field, cell := range e {
			row[field] = pick(system == units.Metric, cell.metric, cell.inch)
		}
		row["note"] = ExampleMark
		rows = append(rows, row)
	}
	return rows
}
