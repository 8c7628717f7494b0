package compute

import (
	"strings"
	"testing"

	"drytally/compute/units"
	"drytally/compute/wood"
)

// printedBoards are those of EM 8731, Table 3 (seen), in mils.
var printedBoards = [][]int64{{1700, 1730, 1710, 1720}, {1670, 1720, 1700, 1710}, {1690, 1720, 1700, 1680}, {1740, 1730, 1750, 1720},
	{1700, 1680, 1660, 1670}, {1710, 1720, 1720, 1740}, {1660, 1690, 1680, 1680}, {1710, 1750, 1740, 1720}}

func sawnJob(boards [][]int64, setting func(i int) units.Length, shift func(i int) units.Length) *Job {
	ash, _ := wood.ByName("white ash")
	job := &Job{Settings: Defaults()}
	for i, b := range boards {
		c := Cut{Species: ash, Width: 6 * units.Inch, Length: 8 * units.Foot, Pieces: 1, ID: "G" + string(rune('1'+i)), Setting: setting(i)}
		for _, mil := range b {
			c.Measured = append(c.Measured, units.Fraction(mil, 1000)+shift(i))
		}
		c.Thickness = meanLength(c.Measured)
		job.Cuts = append(job.Cuts, c)
	}
	job.Wanted = []Wanted{{Piece: "shelf", Species: ash, Thickness: units.Fraction(3, 4), Width: 6 * units.Inch, Length: 4 * units.Foot, Pieces: 10,
		Use: "interior shelving", Sawing: Sawing{Kind: FlatSawn}}}
	return job
}

func none(int) units.Length { return 0 }

// TestOwnSpread: the printed boards give the printed spread, which then sets the saw: a wider spread than the default's never
// narrows a setting.
func TestOwnSpread(t *testing.T) {
	mil := func(l units.Length) int64 { return int64(l.Inches()*100000 + 0.5) }
	apart := func(i int) units.Length { return units.Length(i%2) * units.Fraction(1, 2) }
	for _, c := range []struct {
		name           string
		job            *Job
		from           SpreadFrom
		boards, groups int
		total          int64 // hundred-thousandths of an inch; 0: not measured
	}{
		{"printed", sawnJob(printedBoards, none, none), SpreadBoards, 8, 1, 2546},
		{"fewer than 8", sawnJob(printedBoards[:7], none, none), SpreadDefault, 7, 0, 0},
		{"two settings, said", sawnJob(printedBoards, func(i int) units.Length { return units.Length(1+i%2) * units.Inch }, none), SpreadBoards, 8, 2, 0},
		{"two settings, half an inch apart, not said", sawnJob(printedBoards, none, apart), SpreadBoards, 8, 2, 0},
	} {
		r := Assess(c.job)
		s := r.SawSpread
		if s.From != c.from || s.Boards != c.boards || s.Sawing.Groups != c.groups || c.total != 0 && mil(s.Sawing.Total) != c.total {
			t.Errorf("%s: got %v from %d boards in %d groups, %d", c.name, s.From, s.Boards, s.Sawing.Groups, mil(s.Sawing.Total))
		}
		if c.groups == 2 && s.Sawing.Total > units.Fraction(30, 1000) {
			t.Errorf("%s: two settings were thrown together: %v", c.name, s.Sawing.Total)
		}
		if s.From == SpreadBoards && s.Used != s.Sawing.Total || s.From == SpreadDefault && s.Used != units.Fraction(30, 1000) {
			t.Errorf("%s: used %v", c.name, s.Used)
		}
	}
	// The spread is used: twice as far from the mean is a wider setting.
	wide := make([][]int64, len(printedBoards))
	for i, b := range printedBoards {
		for _, x := range b {
			wide[i] = append(wide[i], 1700+4*(x-1700)/2*2)
		}
	}
	narrow, broad := Assess(sawnJob(printedBoards, none, none)).Sizes[0], Assess(sawnJob(wide, none, none)).Sizes[0]
	if !narrow.Known || broad.ThicknessExact <= narrow.ThicknessExact || broad.WidthExact <= narrow.WidthExact {
		t.Errorf("a larger spread of the own boards: setting %v x %v, was %v x %v", broad.ThicknessExact, broad.WidthExact, narrow.ThicknessExact, narrow.WidthExact)
	}
}

// TestOwnSpreadAndSetting: the owner's own figure stands, and is held against his boards.
func TestOwnSpreadAndSetting(t *testing.T) {
	for _, c := range []struct {
		set   int64 // mils
		warns bool
	}{{10, true}, {20, false}, {60, false}} {
		job := sawnJob(printedBoards, none, none)
		job.Settings.SawSpread = units.Fraction(c.set, 1000)
		o := Origin{Table: &Table{File: "week.xlsx", Sheet: "Settings", Cols: map[string]int{"value": 2}}, Row: 4}
		job.Settings.Used = []SettingUsed{{Name: "saw spread", Place: o.At("value")}}
		r := Assess(job)
		warned := false
		for _, f := range r.Findings {
			warned = warned || f.Code == "J061"
		}
		if s := r.SawSpread; s.From != SpreadSetting || s.Used != units.Fraction(c.set, 1000) || !s.Measured || warned != c.warns {
			t.Errorf("set to %d mils: used %v from %v, measured %v, warned %v", c.set, s.Used, s.From, s.Measured, warned)
		}
		if !strings.Contains(r.SawSpread.Says.With["total"], "0.025") {
			t.Errorf("the boards' own figure is not told: %v", r.SawSpread.Says.With)
		}
	}
}
