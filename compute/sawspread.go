package compute

import (
	"cmp"
	"slices"

	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/target"
	"drytally/compute/units"
)

// The least the saw's own spread rests on: so many boards measured in more than one place, and so many readings. With 8 boards of
// one setting the true spread is, with 95 % confidence, at most 1.8 times the figure; with 4 it could be 2.9 times, no better
// than the default. EM 8731's own worked example has 8 boards of 4 readings (p. 22, seen). The limits are this project's choice.
const (
	spreadBoards   = 8
	spreadReadings = 20
)

// miscut is how far apart the thickest and thinnest place of a board may be before it is a miscut or a slip of the pen and not the
// saw's everyday spread. Source: Wengert, for 4/4; seen.
var miscut = units.Fraction(1, 4)

// SpreadFrom says where the sawing spread used comes from. The zero value is the default.
type SpreadFrom uint8

// The origins of the spread used.
const (
	SpreadDefault SpreadFrom = iota
	SpreadSetting            // the owner's own figure in the settings
	SpreadBoards             // the mill's own boards, measured green
)

// String gives the words printed.
func (s SpreadFrom) String() string {
	return [...]string{"default", "owner's setting", "own boards"}[s]
}

// SawSpread is the total spread of the sawing the settings of the saw are computed with, and what the mill's own boards say of it.
type SawSpread struct {
	Used     units.Length
	From     SpreadFrom
	Measured bool          // the figures below are known
	Sawing   target.Sawing // of the boards measured green in several places
	Low      units.Length  // the true spread is not smaller than this, with 95 % confidence
	High     units.Length  // nor larger than this
	Boards   int           // boards with more than one green thickness that could be used, whether enough or not
	Readings int
	LeftOut  []string // boards left out as miscut, or as slips
	Says     Statement
}

// greenBoard is one board measured green at several places.
type greenBoard struct {
	name     string
	origin   Origin
	readings []units.Length
	setting  units.Length // what the saw was set to, when the sheet says so; else 0
	mean     units.Length
}

// sawnSpread computes the spread of the saw from boards measured green in several places, and decides which spread is used: the
// owner's own figure when he gives one, else that of his boards when there are enough, else the default.
func (x *index) sawnSpread() {
	r := SawSpread{Used: x.job.Settings.SawSpread}
	own := x.ownSetting("saw spread")
	if own.Col > 0 || own.File != "" {
		r.From = SpreadSetting
	}
	groups := x.greenGroups(&r)
	with := func(more ...any) []any {
		return append([]any{"boards", r.Boards, "readings", r.Readings, "used", x.job.Settings.System.Spread(r.Used), "needboards", spreadBoards, "needreadings", spreadReadings,
			"out", len(r.LeftOut), "set", r.From == SpreadSetting}, more...)
	}
	if r.Boards < spreadBoards || r.Readings < spreadReadings {
		r.Says = stated("saw-spread-few", with()...)
		x.out.SawSpread = r
		return
	}
	s, err := target.MeasureGroups(groups)
	if err != nil || s.Total <= 0 {
		r.Says = stated("saw-spread-few", with()...)
		x.out.SawSpread = r
		return
	}
	r.Measured, r.Sawing = true, s
	r.Low, r.High = s.Bounds()
	if r.From != SpreadSetting {
		r.From, r.Used = SpreadBoards, s.Total
	} else if r.Low > r.Used {
		x.say("J061", own, x.thin(r.Used), "take the setting out, and the figure of the boards is used; or measure more boards",
			"the sawing spread %s of the settings is smaller than your own boards show: %s from %d boards, at least %s", x.thin(r.Used), x.thin(s.Total), s.Boards, x.thin(r.Low))
	}
	r.Says = stated("saw-spread-own", with("within", x.thin(s.Within), "between", x.thin(s.Between), "total", x.thin(s.Total), "low", x.thin(r.Low), "high", x.thin(r.High),
		"groups", s.Groups, "source", spreadSource())...)
	x.cite(spreadSource())
	x.out.SawSpread = r
}

func spreadSource() source.Source {
	return source.Source{Document: "Brown, Lumber Size Control, Part 2, Oregon State University EM 8731 (2000)", Place: "pp. 21 and 22", Status: source.Seen}
}

// ownSetting gives the place of a setting in the owner's sheets; zero when he gives none.
func (x *index) ownSetting(name string) finding.Place {
	for _, s := range x.job.Settings.Used {
		if s.Name == name {
			return s.Place
		}
	}
	return finding.Place{}
}

// greenGroups lists the boards measured green in several places, one group for each setting, and counts them.
func (x *index) greenGroups(r *SawSpread) [][][]units.Length {
	var all []greenBoard
	add := func(g greenBoard) {
		if len(g.readings) < 2 {
			return
		}
		if slices.Max(g.readings)-slices.Min(g.readings) > miscut {
			r.LeftOut = append(r.LeftOut, g.name)
			x.say("J062", g.origin.At("green thickness"), x.show(slices.Min(g.readings))+" to "+x.show(slices.Max(g.readings)), "check the thicknesses; a true miscut needn't be corrected",
				"%s is %s to %s thick green, more than %s apart: a miscut or a slip, left out of the saw's spread", g.name, x.show(slices.Min(g.readings)), x.show(slices.Max(g.readings)), x.show(miscut))
			return
		}
		g.mean = meanLength(g.readings)
		all = append(all, g)
	}
	for i := range x.job.Cuts {
		c := &x.job.Cuts[i]
		name := "row " + x.rowName(c.Origin)
		if c.ID != "" {
			name = c.ID
		}
		if len(c.Measured) > 1 && c.Pieces > 1 {
			x.say("J063", c.Origin.At("green thickness"), "", "give each board measured a row of its own", "%d thicknesses stand in a row of %d boards: which is of which board is not known, so they tell nothing of the saw's spread", len(c.Measured), c.Pieces)
			continue
		}
		add(greenBoard{name: name, origin: c.Origin, readings: c.Measured, setting: c.Setting})
	}
	for i := range x.out.Boards {
		b := x.out.Boards[i].Board
		add(greenBoard{name: b.ID, origin: b.Origin, readings: b.GreenMeasured, setting: b.Setting})
	}
	var groups [][][]units.Length
	for _, g := range x.bySetting(all) {
		if len(g) < 2 { // a board alone says nothing of the spread between boards
			continue
		}
		var group [][]units.Length
		for _, b := range g {
			group = append(group, b.readings)
			r.Boards++
			r.Readings += len(b.readings)
		}
		groups = append(groups, group)
	}
	return groups
}

func (x *index) rowName(o Origin) string { return o.At("").String() }

// bySetting parts boards by what the saw was set to. Where the sheets don't say, boards are sorted by thickness and parted wherever
// two neighbours are a step of the saw or more apart; so a spread is rather found too large than too small.
func (x *index) bySetting(all []greenBoard) [][]greenBoard {
	slices.SortStableFunc(all, func(a, b greenBoard) int {
		return cmp.Or(cmp.Compare(a.setting, b.setting), cmp.Compare(a.mean, b.mean))
	})
	var groups [][]greenBoard
	for i, b := range all {
		if i > 0 {
			last := all[i-1]
			if b.setting == last.setting && (b.setting != 0 || b.mean-last.mean < x.job.Settings.SawStep) {
				groups[len(groups)-1] = append(groups[len(groups)-1], b)
				continue
			}
		}
		groups = append(groups, []greenBoard{b})
	}
	return groups
}
