package report

import (
	"strings"

	"drytally/compute"
	"drytally/compute/profile"
	"drytally/compute/target"
	"drytally/compute/units"
)

// jsWasteRules are the ways of counting waste, by target.WasteRule.
var jsWasteRules = [...]string{"added", "taken out"}

func wasteWord(r target.WasteRule) string { return jsWasteRules[r] }

// jsShape writes the profile as computed.
func jsShape(s *profile.Shape) any {
	return jsObject{{"kind", s.Kind.String()}, {"overall", jsLength(s.Overall)}, {"shows", jsLength(s.Shows)}, {"lap", jsLength(s.Joint)}, {"usual_lap", s.Usual}}
}

// jsCover writes how a piece covers its area, or null without one.
func (j *job) jsCover(c *compute.Cover) any {
	if !c.Known {
		return nil
	}
	return jsObject{{"area_square_feet", jsReal(c.Area)}, {"openings_square_feet", jsReal(c.Openings)}, {"net_square_feet", jsReal(c.Net)}, {"height", jsLength(c.Height)},
		{"run", jsLength(c.Run)}, {"running_feet_per_square_foot", jsReal(c.Lineal)}, {"board_feet_per_square_foot", jsRealIf(c.Footage)}, {"courses", jsCountIf(c.Courses)},
		{"exposure", jsLength(c.Exposure)}, {"even_exposure", jsLength(c.Even)}, {"last", jsLength(c.Last)}, {"boards_across", jsCountIf(c.Across)}, {"battens", jsCountIf(c.Battens)},
		{"gap", jsLength(c.Gap)}, {"batten_overlap", jsLength(c.Overlap)}, {"says", j.jsStatements(c.Says)}}
}

// jsName writes what the trade calls a finished size, or null.
func (j *job) jsName(n *compute.DressedName) any {
	if !n.Known {
		return nil
	}
	return jsObject{{"nominal_thickness", jsLength(n.Thickness)}, {"nominal_width", jsLength(n.Width)}, {"source", jsSource(n.Source)}, {"says", j.jsStatement(n.Says)}}
}

func (j *job) jsOneSetting(o *compute.OneSetting) any {
	return jsObject{{"species", o.Species}, {"pieces", jsTexts(o.Pieces)}, {"thickness", jsLength(o.Thickness)}, {"width", jsLength(o.Width)},
		{"one_thickness", o.OneThickness}, {"one_width", o.OneWidth}, {"more_wood_share", jsReal(o.More)}, {"says", j.jsStatement(o.Says)}}
}

// shapeColumns tell profile, coverage and names of a wanted piece.
func (j *job) shapeColumns() []column[*compute.SizeResult] {
	type size = *compute.SizeResult
	cover := func(get func(*compute.Cover) any) func(size) any {
		return func(s size) any {
			if !s.Cover.Known {
				return nil
			}
			return get(&s.Cover)
		}
	}
	out := []column[size]{
		{head: "Profile", width: 16, cell: func(s size) any { return s.Shape.Kind.String() }},
	}
	out = append(out, lengths(j, "Shows", "", func(s size) units.Length { return s.Shape.Shows })...)
	out = append(out, lengths(j, "Lap or tongue", "", func(s size) units.Length { return s.Shape.Joint })...)
	out = append(out,
		column[size]{head: "Area (sq ft)", width: 10, cell: cover(func(c *compute.Cover) any { return decimalCell(c.Area) })},
		column[size]{head: "Openings (sq ft)", width: 10, cell: cover(func(c *compute.Cover) any { return decimalCell(c.Openings) })},
		column[size]{head: "To cover (sq ft)", width: 10, cell: cover(func(c *compute.Cover) any { return decimalCell(c.Net) })},
		column[size]{head: "Running feet per square foot", width: 10, cell: cover(func(c *compute.Cover) any { return decimalCell(c.Lineal) })},
		column[size]{head: "Board feet per square foot, nominal", width: 10, cell: cover(func(c *compute.Cover) any { return decimalCell(c.Footage) })},
		column[size]{head: "Courses", width: 9, cell: cover(func(c *compute.Cover) any { return countCell(c.Courses) })})
	out = append(out, lengths(j, "Exposure", "", func(s size) units.Length { return s.Cover.Exposure })...)
	return append(out,
		column[size]{head: "Boards side by side", width: 9, cell: cover(func(c *compute.Cover) any { return countCell(c.Across) })},
		column[size]{head: "Battens", width: 9, cell: cover(func(c *compute.Cover) any { return countCell(c.Battens) })},
		column[size]{head: "Coverage in words", width: 60, cell: func(s size) any { return j.sentences(s.Cover.Says) }},
		column[size]{head: "Name of size", width: 50, cell: func(s size) any { return j.sentence(s.Name.Says) }})
}

// settingNearColumns make the rows of settings that one could do for.
func (j *job) settingNearColumns() []column[*compute.OneSetting] {
	type row = *compute.OneSetting
	out := []column[row]{
		{head: "Species", width: 20, cell: func(o row) any { return o.Species }},
		{head: "Pieces", width: 40, cell: func(o row) any { return bookProse(strings.Join(o.Pieces, ", ")) }},
	}
	out = append(out, lengths(j, "One thickness", "", func(o row) units.Length { return o.Thickness })...)
	out = append(out, lengths(j, "One width", "", func(o row) units.Length { return o.Width })...)
	return append(out,
		column[row]{head: "More wood at most", width: 10, cell: func(o row) any { return bookShare(o.More) }},
		column[row]{head: "In words", width: 70, cell: func(o row) any { return j.sentence(o.Says) }})
}

// weightRangeColumns tell how far off the weights of a piece's boards can be, and what they hold.
func (j *job) weightRangeColumns() []column[*compute.SizeResult] {
	type size = *compute.SizeResult
	cubic := func(get func(size) int64) func(size) any {
		return func(s size) any {
			if get(s) == 0 {
				return nil
			}
			return bookDecimal(float64(get(s)) / 1000)
		}
	}
	return []column[size]{
		massColumn(j, "Green weight, from", func(s size) units.Mass { return s.WeightLow }),
		massColumn(j, "Green weight, to", func(s size) units.Mass { return s.WeightHigh }),
		massColumn(j, "Dry weight, about", func(s size) units.Mass { return s.DryWeight }),
		massColumn(j, "Dry weight, from", func(s size) units.Mass { return s.DryWeightLow }),
		massColumn(j, "Dry weight, to", func(s size) units.Mass { return s.DryWeightHigh }),
		{head: "Green (m3)", width: 9, cell: cubic(func(s size) int64 { return s.Solid })},
		{head: "Dry (m3)", width: 9, cell: cubic(func(s size) int64 { return s.DrySolid })},
	}
}
