package compute

import (
	"fmt"
	"slices"
	"time"

	"drytally/compute/units"
)

// checks are the sense checks over a whole job, in the order they run. Each is one small function with its own code.
var checks = []func(*index){
	checkGrown,
	checkThickerThanWide,
	checkSections,
	checkGain,
	checkLostWeight,
	checkSampleTwice,
	checkSamplesWithoutSection,
	checkLostPoint,
	checkAir,
	checkDates,
	checkSaleDates,
	checkOrder,
	checkOversold,
	checkLoadless,
	checkRowsOfUnknownLoads,
	checkHighReadings,
	checkBadWood,
	checkRegions,
}

// checkGrown: a board larger dry than green.
func checkGrown(x *index) {
	for i := range x.out.Boards {
		b := x.out.Boards[i].Board
		if b.GreenWidth != 0 && b.Width > b.GreenWidth {
			x.say("J004", b.Origin.At("dry width"), x.show(b.Width), "check both widths", "board %q is %s wide dry and %s green", b.ID, x.show(b.Width), x.show(b.GreenWidth))
		}
		if b.GreenThickness != 0 && len(b.Thickness) > 0 && slices.Min(b.Thickness) > b.GreenThickness {
			x.say("J004", b.Origin.At("dry thickness"), x.show(slices.Min(b.Thickness)), "check both thicknesses", "board %q is %s thick dry and %s green", b.ID, x.show(slices.Min(b.Thickness)), x.show(b.GreenThickness))
		}
	}
}

// checkThickerThanWide: thickness and width that were most likely swapped.
func checkThickerThanWide(x *index) {
	tell := func(o Origin, field, what string, thickness, width units.Length) {
		if width != 0 && thickness > width {
			x.say("J044", o.At(field), x.show(thickness), "check whether thickness and width were swapped", "%s is %s thick and %s wide", what, x.show(thickness), x.show(width))
		}
	}
	for i := range x.job.Cuts {
		c := &x.job.Cuts[i]
		tell(c.Origin, "green thickness", "this row", c.Thickness, c.Width)
	}
	for i := range x.job.Boards {
		b := &x.job.Boards[i]
		if len(b.Thickness) > 0 {
			tell(b.Origin, "dry thickness", "board "+quoted(b.ID), slices.Max(b.Thickness), b.Width)
		}
	}
	for i := range x.job.Wanted {
		w := &x.job.Wanted[i]
		tell(w.Origin, "finished thickness", quoted(w.Piece), w.Thickness, w.Width)
	}
}

func quoted(s string) string { return fmt.Sprintf("%q", s) }

// A reading is taken for one with a lost decimal point when it is more than lostTimes the load's median and its tenth part
// lies within lostNear of the median's factor.
const (
	lostTimes = 5.0
	lostNear  = 2.5
)

// checkLostPoint: 105 among readings of 10.5.
func checkLostPoint(x *index) {
	byLoad := map[string][]*Reading{}
	for i := range x.job.Readings {
		r := &x.job.Readings[i]
		if r.Value.State == units.Number {
			load, _ := x.loadOf(r.Load)
			byLoad[load] = append(byLoad[load], r)
		}
	}
	for _, load := range sortedKeys(byLoad) {
		rs := byLoad[load]
		var all []units.MC
		for _, r := range rs {
			all = append(all, r.Value.MC)
		}
		slices.Sort(all)
		median := float64(all[len(all)/2])
		if len(all) < 5 || median == 0 {
			continue
		}
		for _, r := range rs {
			times := float64(r.Value.MC) / median
			if times > lostTimes && times/10 < lostNear && times/10 > 1/lostNear {
				x.say("J012", r.Origin.At(r.Field), r.Value.String(), "correct it if a decimal point was lost", "the reading %s stands among readings around %s; is it %s?",
					r.Value, units.MC(median), r.Value.MC/10)
			}
		}
	}
}

// checkAir: wet bulb above dry bulb.
func checkAir(x *index) {
	for i := range x.job.Air {
		a := &x.job.Air[i]
		if a.WetBulb.Known() && a.DryBulb.Known() && a.WetBulb.Celsius() > a.DryBulb.Celsius()+0.01 {
			s := x.job.Settings.System
			x.say("J015", a.Origin.At("wet bulb"), s.Temperature(a.WetBulb), "check whether dry and wet bulb were swapped", "the wet bulb, %s, is warmer than the dry bulb, %s", s.Temperature(a.WetBulb), s.Temperature(a.DryBulb))
		}
	}
}

// checkDates: out before in. Readings before the load went in are found when it is measured.
func checkDates(x *index) {
	for _, l := range x.job.Loads {
		if !l.DateIn.IsZero() && !l.DateOut.IsZero() && l.DateOut.Before(l.DateIn) {
			x.say("J016", l.Origin.At("date out"), l.DateOut.Format(time.DateOnly), "check both dates", "load %q came out on %s, before it went in on %s", l.ID, l.DateOut.Format(time.DateOnly), l.DateIn.Format(time.DateOnly))
		}
	}
}

// checkLoadless: boards, weighings and lines of the air log that name no load, beside the only load there is. Air between the days
// of a load is its air by those days, whoever else there is.
func checkLoadless(x *index) {
	if len(x.job.Loads) != 1 || x.job.Loads[0].ID == allRead {
		return
	}
	load := &x.job.Loads[0]
	say := func(rows []Origin, one, many, beside string) {
		if len(rows) > 0 {
			x.say("J032", rows[0].At("load"), "", "nothing to do if that is so; else write the load beside the "+beside,
				"%s taken as of load %q, the only one", counted(len(rows), one+" names no load and was", many+" from here on name no load and were"), load.ID)
		}
	}
	var boards, weights, log []Origin
	for i := range x.job.Boards {
		if x.job.Boards[i].Load == "" {
			boards = append(boards, x.job.Boards[i].Origin)
		}
	}
	for i := range x.job.Weights {
		if x.job.Weights[i].Load == "" {
			weights = append(weights, x.job.Weights[i].Origin)
		}
	}
	if load.DateIn.IsZero() && load.DateOut.IsZero() {
		lines, _ := x.airOf(load)
		for _, a := range lines {
			if a.Load == "" {
				log = append(log, a.Origin)
			}
		}
	}
	say(boards, "board", "boards", "boards")
	say(weights, "row of weights", "rows of weights", "rows")
	say(log, "line of the air log", "lines of the air log", "lines")
}

// checkRowsOfUnknownLoads: cuts, weights and air that name a load of no loads sheet. They are used for what needs no load.
func checkRowsOfUnknownLoads(x *index) {
	said := map[string]bool{}
	tell := func(o Origin, load string) {
		if load == "" || said[key(load)] || len(x.job.Loads) == 0 {
			return
		}
		if _, ok := x.loads[key(load)]; !ok {
			said[key(load)] = true
			x.say("J024", o.At("load"), load, "nothing to do if that load comes later", "load %q is not in the loads sheet; what belongs to it is not in any load report", load)
		}
	}
	for _, c := range x.job.Cuts {
		tell(c.Origin, c.Load)
	}
	for _, w := range x.job.Weights {
		tell(w.Origin, w.Load)
	}
	for _, a := range x.job.Air {
		tell(a.Origin, a.Load)
	}
}

// indicationOnly is the reading above which a resistance meter only indicates. Source: method of resistance meters; the
// sure ranges of several texts end at 25 % (University of Tasmania on AS/NZS 1080.1:1997; seen).
const indicationOnly = 25

// checkHighReadings: readings above 25 % are said once for each load.
func checkHighReadings(x *index) {
	n := map[string]int{}
	at := map[string]*Reading{}
	for i := range x.job.Readings {
		r := &x.job.Readings[i]
		if r.Value.State == units.Number && r.Value.MC > units.Percent(indicationOnly) {
			load, _ := x.loadOf(r.Load)
			if n[load]++; at[load] == nil {
				at[load] = r
			}
		}
	}
	for _, load := range sortedKeys(n) {
		r := at[load]
		x.say("J021", r.Origin.At(r.Field), r.Value.String(), "weigh sample boards to know the moisture above 25 %", "%s of this load above %d %%, where a meter only indicates", counted(n[load], "reading", "readings"), indicationOnly)
	}
}
