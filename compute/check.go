package compute

import (
	"slices"
	"time"

	"drytally/compute/units"
)

// checks are the sense checks over a whole job, in the order they run. Each is one small function with its own code.
var checks = []func(*index){
	checkGrown,
	checkSections,
	checkGain,
	checkSamplesWithoutSection,
	checkLostPoint,
	checkAir,
	checkDates,
	checkRowsOfUnknownLoads,
	checkHighReadings,
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

// checkSections: a section that weighs more dry than wet.
func checkSections(x *index) {
	for _, w := range x.job.Weights {
		if w.Section() && w.Ovendry >= w.Wet {
			x.say("J009", w.Origin.At("section ovendry"), grams(w.Ovendry), "check whether the two weights were swapped",
				"a section of sample %q weighs %s ovendry and %s wet", w.Sample, grams(w.Ovendry), grams(w.Wet))
		}
	}
}

// gainShare is how much a sample board may gain between two weighings before it is said: a scale is no better.
const gainShare = 0.002

// checkGain: a sample board that gained weight.
func checkGain(x *index) {
	last := map[string]Weight{}
	for _, w := range byDate(x.job.Weights) {
		if w.Weight == 0 {
			continue
		}
		k := key(w.Load) + "|" + key(w.Sample)
		if old, ok := last[k]; ok && !w.Date.IsZero() && float64(w.Weight) > float64(old.Weight)*(1+gainShare) {
			x.say("J014", w.Origin.At("weight"), grams(w.Weight), "check the two weights", "sample %q weighs %s, more than the %s of row %d before it", w.Sample, grams(w.Weight), grams(old.Weight), old.Origin.Row)
		}
		last[k] = w
	}
}

// byDate gives the weighings in order of date; those without a date keep their place at the front.
func byDate(all []Weight) []Weight {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b Weight) int { return a.Date.Compare(b.Date) })
	return sorted
}

// checkSamplesWithoutSection: weighings of a sample whose ovendry weight can't be computed.
func checkSamplesWithoutSection(x *index) {
	has := map[string]bool{}
	for _, w := range x.job.Weights {
		if w.Section() {
			has[key(w.Sample)] = true
		}
	}
	said := map[string]bool{}
	for _, w := range x.job.Weights {
		k := key(w.Sample)
		if w.Weight != 0 && !has[k] && !said[k] {
			said[k] = true
			x.say("J019", w.Origin.At("sample"), w.Sample, "weigh a section wet and ovendry, and write both weights with this sample's number", "sample %q has weighings but no section weights", w.Sample)
		}
	}
}

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
			byLoad[key(r.Load)] = append(byLoad[key(r.Load)], r)
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
		if a.WetBulb.Known() && a.WetBulb.Celsius() > a.DryBulb.Celsius()+0.01 {
			s := x.job.Settings.System
			x.say("J015", a.Origin.At("wet bulb"), s.Temperature(a.WetBulb), "check whether dry and wet bulb were swapped", "the wet bulb, %s, is warmer than the dry bulb, %s", s.Temperature(a.WetBulb), s.Temperature(a.DryBulb))
		}
	}
}

// checkDates: out before in, and readings before the load went in.
func checkDates(x *index) {
	in := map[string]time.Time{}
	for _, l := range x.job.Loads {
		if !l.DateIn.IsZero() && !l.DateOut.IsZero() && l.DateOut.Before(l.DateIn) {
			x.say("J016", l.Origin.At("date out"), l.DateOut.Format(time.DateOnly), "check both dates", "load %q came out on %s, before it went in on %s", l.ID, l.DateOut.Format(time.DateOnly), l.DateIn.Format(time.DateOnly))
		}
		in[key(l.ID)] = l.DateIn
	}
	said := map[string]bool{}
	for _, r := range x.job.Readings {
		load, ok := x.loadOf(r.Load)
		if !ok || said[load] || r.Date.IsZero() || in[load].IsZero() {
			continue
		}
		if r.Date.Before(in[load]) {
			said[load] = true
			x.say("J016", r.Origin.At("date"), r.Date.Format(time.DateOnly), "check the date of the reading and of the load", "this reading was taken before its load went in on %s", in[load].Format(time.DateOnly))
		}
	}
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
		x.say("J021", r.Origin.At(r.Field), r.Value.String(), "weigh sample boards to know the moisture above 25 %", "%d readings of this load are above %d %%, where a meter only indicates", n[load], indicationOnly)
	}
}

// grams writes a small mass.
func grams(m units.Mass) string { return trim(m.Grams()) + " g" }
