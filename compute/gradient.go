package compute

import (
	"math"
	"slices"
	"strings"

	"drytally/compute/meter"
	"drytally/compute/units"
)

// layer is how deep in a board a reading was taken.
type layer uint8

const (
	anyDepth layer = iota // not said, or at the depth that stands for the whole board
	shellLayer
	coreLayer
)

// corrected is one reading of a board under one variant.
type corrected struct {
	reading *Reading
	answer  meter.Answer
	layer   layer
}

// layers are the mean of the shell readings and the mean of the core readings of one board. NotTaken: none.
type layers struct{ shell, core units.Reading }

// Pins at a quarter to a fifth of the thickness read what stands for the whole board, at half the thickness the core
// (Wengert, columns on moisture meters; seen). Shallower than a fifth counts as shell, 0.4 of the thickness and deeper as
// core; 0.4 is this project's choice.
const (
	shellUntil = 0.2
	coreFrom   = 0.4
)

// unevenFrom is the difference between shell and core, in points, from which it is said which is the wetter. Practice uses
// 1 to 2 (seen, one practitioner) and 1.5 to 2 (memory); no standard gives a figure. This project's choice.
const unevenFrom = units.MC(150)

// layerOf tells shell from core: by the words written beside the reading, else by the depth of the pins and the thickness.
func (x *index) layerOf(r boardReading) layer {
	words := strings.FieldsFunc(strings.ToLower(r.reading.Where), func(c rune) bool { return c < 'a' || c > 'z' })
	shell := slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"shell", "face", "surface", "skin", "outside"}, w)
	})
	core := slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"core", "inside", "heart", "center", "centre"}, w)
	})
	switch {
	case shell && core:
		return anyDepth
	case shell:
		return shellLayer
	case core:
		return coreLayer
	}
	board := x.out.Boards[r.board].Board
	thick := board.Nominal
	if len(board.Thickness) > 0 {
		thick = slices.Min(board.Thickness)
	}
	if r.reading.Depth <= 0 || thick <= 0 {
		return anyDepth
	}
	switch share := float64(r.reading.Depth) / float64(thick); {
	case share < shellUntil:
		return shellLayer
	case share >= coreFrom:
		return coreLayer
	}
	return anyDepth
}

// numberInMean turns a reading into what it is worth in a mean: above 25 % a pin meter only indicates, so that its number
// says no more than "over 25". A plate meter is believed to the end of its range. Sources at indicationOnly and in meter.
func (x *index) numberInMean(c corrected) units.Reading {
	r := units.Reading{State: c.answer.State, MC: c.answer.MC}
	if r.State != units.Number {
		return r
	}
	if x.job.Settings.Meter == DielectricMeter {
		if c.answer.Trust == meter.OutOfRange && r.MC > units.Percent(indicationOnly) {
			r.State = units.AboveRange
		}
		return r
	}
	if max(c.reading.Value.MC, r.MC) > units.Percent(indicationOnly) {
		return units.Reading{State: units.AboveRange, MC: min(r.MC, units.Percent(indicationOnly))}
	}
	return r
}

// meanOfBoard gives what the readings of one board say of its mean. Shell and core count half each when both were read: the
// shell is the outside quarter of each face (Dry Kiln Operator's Manual AH-188, ch. 6; memory). With marks among the
// readings the mean is a limit as well.
func (x *index) meanOfBoard(all []corrected) units.Reading {
	n := map[layer]float64{}
	for _, c := range all {
		n[c.layer]++
	}
	return x.weightedMean(all, func(c corrected) float64 {
		if c.layer == anyDepth || n[shellLayer] == 0 || n[coreLayer] == 0 {
			return 1
		}
		return (n[shellLayer] + n[coreLayer]) / 2 / n[c.layer]
	})
}

func (x *index) weightedMean(all []corrected, weight func(corrected) float64) units.Reading {
	least, most, weights := 0.0, 0.0, 0.0 // sums of what the readings are at least and at most
	below, above := false, false
	for _, c := range all {
		w := weight(c)
		r := x.numberInMean(c)
		weights += w
		most += w * r.MC.Percent()
		if r.State == units.BelowRange {
			below = true
		} else {
			least += w * r.MC.Percent()
		}
		above = above || r.State == units.AboveRange
	}
	switch {
	case weights == 0:
		return units.Reading{}
	case above:
		return units.Reading{State: units.AboveRange, MC: units.Percent(least / weights).TenthDown()}
	case below:
		return units.Reading{State: units.BelowRange, MC: units.Percent(most / weights).TenthUp()}
	}
	return units.Reading{State: units.Number, MC: units.PercentTenth(most / weights)}
}

// noteBoard keeps what one board's readings say beside its moisture content.
func (x *index) noteBoard(m *measurement, at int, all []corrected) {
	if len(all) > 1 {
		m.count(at, func(c *readingCounts) *int { return &c.several })
	}
	of := func(l layer) (some []corrected) {
		for _, c := range all {
			if c.layer == l {
				some = append(some, c)
			}
		}
		return some
	}
	one := func(corrected) float64 { return 1 }
	p := layers{shell: x.weightedMean(of(shellLayer), one), core: x.weightedMean(of(coreLayer), one)}
	if p != (layers{}) {
		m.pairs[at] = p
	}
	if slices.ContainsFunc(all, func(c corrected) bool {
		return c.answer.State == units.Number && x.numberInMean(c).State == units.AboveRange
	}) {
		m.count(at, func(c *readingCounts) *int { return &c.indicated })
	}
	if slices.ContainsFunc(all, func(c corrected) bool { return c.answer.Trust == meter.OutOfRange && c.answer.MC < units.Percent(10) }) {
		m.count(at, func(c *readingCounts) *int { return &c.tooLow })
	}
}

// gradientOf compares shell and core of a board.
func gradientOf(id string, p layers) Gradient {
	g := Gradient{Shell: p.shell, Core: p.core}
	if p.shell.State == units.NotTaken || p.core.State == units.NotTaken {
		return g
	}
	ends := func(r units.Reading) (low, high float64) {
		switch r.State {
		case units.BelowRange:
			return 0, r.MC.Percent()
		case units.AboveRange:
			return r.MC.Percent(), math.Inf(1)
		}
		return r.MC.Percent(), r.MC.Percent()
	}
	shellLow, shellHigh := ends(p.shell)
	coreLow, coreHigh := ends(p.core)
	switch {
	case p.shell.State == units.Number && p.core.State == units.Number:
		g.Points = p.core.MC - p.shell.MC
	case coreLow > shellHigh:
		g.Points, g.AtLeast = units.PercentTenth(coreLow-shellHigh), true
	case coreHigh < shellLow:
		g.Points, g.AtLeast = units.PercentTenth(coreHigh-shellLow), true
	default:
		return g // the marks leave it open which is the wetter
	}
	g.Known = true
	name := "gradient-even"
	switch {
	case g.Points >= unevenFrom:
		g.Sense, name = CoreWetter, "gradient-core-wetter"
	case g.Points <= -unevenFrom:
		g.Sense, name = ShellWetter, "gradient-shell-wetter"
	case g.AtLeast:
		name = "gradient-mark"
	}
	g.Says = stated(name, "board", id, "shell", p.shell, "core", p.core, "points", max(g.Points, -g.Points), "signed", g.Points.Signed(), "least", g.AtLeast)
	return g
}

// gradients compares shell and core of the load's boards and says which way the load lies.
func (x *index) gradients(r *LoadResult, m *measurement) {
	if m == nil {
		return
	}
	sum, exact, shellOnly, unsettled := 0, 0, 0, 0
	for _, at := range r.Boards {
		p, ok := m.pairs[at]
		if !ok {
			continue
		}
		b := &x.out.Boards[at]
		b.Gradient = gradientOf(b.Board.ID, p)
		g := b.Gradient
		switch {
		case p.core.State == units.NotTaken:
			shellOnly++
			continue
		case p.shell.State == units.NotTaken:
			continue
		}
		r.Layers.Pairs++
		switch {
		case !g.Known || g.AtLeast && g.Sense == LayersEven:
			unsettled++
			continue
		case g.Sense == CoreWetter:
			r.Layers.CoreWetter = append(r.Layers.CoreWetter, b.Board.ID)
		case g.Sense == ShellWetter:
			r.Layers.ShellWetter = append(r.Layers.ShellWetter, b.Board.ID)
		default:
			r.Layers.Even++
		}
		if !g.AtLeast {
			sum += int(g.Points)
			exact++
		}
	}
	say := func(name string, with ...any) { r.Layers.Says = append(r.Layers.Says, stated(name, with...)) }
	if r.Layers.Pairs > 0 {
		if exact > 0 {
			r.Layers.Mean = units.PercentTenth(float64(sum) / float64(exact) / 100)
			say("layers-mean", "n", exact, "points", r.Layers.Mean.Signed())
		}
		if n := len(r.Layers.CoreWetter); n > 0 {
			say("layers-not-done", "n", n, "of", r.Layers.Pairs, "boards", strings.Join(r.Layers.CoreWetter, ", "), "points", unevenFrom)
		}
		if n := len(r.Layers.ShellWetter); n > 0 {
			say("layers-took-up", "n", n, "of", r.Layers.Pairs, "boards", strings.Join(r.Layers.ShellWetter, ", "), "points", unevenFrom)
		}
		if r.Layers.Even == r.Layers.Pairs {
			say("layers-even", "n", r.Layers.Even, "points", unevenFrom)
		}
		if unsettled > 0 {
			say("layers-open", "n", unsettled)
		}
	}
	if shellOnly > 0 {
		say("layers-shell-only", "n", shellOnly)
	}
	r.Notes = append(r.Notes, r.Layers.Says...)
}

// markOf gives the mark to name for boards that read out of the meter's range: the one that says least when there are several.
func (x *index) markOf(boards []int, state units.ReadingState) units.MC {
	mark := units.MC(0)
	for _, at := range boards {
		b := x.out.Boards[at].MC
		if b.State != state {
			continue
		}
		if mark == 0 || state == units.BelowRange && b.Mark > mark || state == units.AboveRange && b.Mark < mark {
			mark = b.Mark
		}
	}
	return mark
}
