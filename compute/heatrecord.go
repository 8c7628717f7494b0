package compute

import (
	"math"
	"strconv"
	"strings"
	"time"

	"drytally/compute/heat"
	"drytally/compute/units"
)

// HeatRecord is the temperature record of one probe in the core of one board, beside what is published. It is no treatment, and
// nothing about insects or fungi follows from it; Says holds the sentence and goes with the figures wherever they are printed.
type HeatRecord struct {
	Load     string // empty when the lines belong to no load
	Probe    string // as written, or the number of its column
	Lines    int
	From, To time.Time
	Gaps     int // places where two lines lie more than 30 minutes apart
	Highest  units.Temperature
	At       []HeldAt // once for every published temperature, coolest first
	Says     []Statement
}

// HeldAt is how long a probe was at or above a published temperature. Minutes are whole, rounded down.
type HeldAt struct {
	Temp           units.Temperature
	Longest, Total int       // minutes: the longest run without a break, and all of it
	Begins         time.Time // of the longest run; zero when there is none
	Published      []heat.Figure
}

// heatRecords computes the record of every probe, and for loads with air temperatures alone says why nothing follows.
func (x *index) heatRecords() {
	type probe struct{ load, name string }
	var order []probe
	points := map[probe][]heat.Point{}
	names := map[probe][2]string{}
	for i := range x.job.Core {
		c := &x.job.Core[i]
		load := x.loadOfCore(c)
		p := probe{key(load), key(c.Probe)}
		if _, ok := names[p]; !ok {
			order = append(order, p)
			names[p] = [2]string{load, c.Probe}
		}
		points[p] = append(points[p], heat.Point{Time: c.Time, Temp: c.Temp})
	}
	for _, p := range order {
		x.out.Heat = append(x.out.Heat, x.heatRecord(names[p][0], names[p][1], points[p]))
	}
	for i := range x.out.Loads {
		l := &x.out.Loads[i]
		for _, h := range x.out.Heat {
			if h.Load != "" && key(h.Load) == key(l.Load.ID) && len(h.Says) > 0 {
				l.Heat = append(l.Heat, h.Says[:len(h.Says)-len(heatAlways)]...)
			}
		}
		if len(l.Heat) > 0 {
			l.Heat = append(l.Heat, alwaysSaid()...)
		}
		if len(l.Heat) == 0 {
			l.Heat = x.airOnly(l.Load)
		}
	}
}

// loadOfCore gives the id of the load a probe's line belongs to: the one it names, or the only one that was in the kiln then.
func (x *index) loadOfCore(c *Core) string {
	if c.Load != "" || len(x.job.Loads) == 1 {
		if l, ok := x.loadOf(c.Load); ok {
			return x.job.Loads[x.loads[l]].ID
		}
		return ""
	}
	found := ""
	for i := range x.job.Loads {
		l := &x.job.Loads[i]
		if l.DateIn.IsZero() || c.Time.Before(l.DateIn) || !l.DateOut.IsZero() && !c.Time.Before(l.DateOut.Add(24*time.Hour)) {
			continue
		}
		if found != "" {
			return "" // two loads in the kiln: the line does not say whose board it is
		}
		found = l.ID
	}
	return found
}

// heatRecord gives what one probe of a load logged, and for how long without a break.
func (x *index) heatRecord(load, name string, points []heat.Point) HeatRecord {
	h := HeatRecord{Load: load, Probe: name, Gaps: heat.Gaps(points)}
	log := heat.Ordered(points)
	h.Lines = len(log)
	for i, p := range log {
		if i == 0 {
			h.From = p.Time
		}
		h.To = p.Time
		if !h.Highest.Known() || p.Temp.Celsius() > h.Highest.Celsius() {
			h.Highest = p.Temp
		}
	}
	for _, f := range heat.Thresholds() {
		if n := len(h.At); n > 0 && h.At[n-1].Temp == f.Temp {
			h.At[n-1].Published = append(h.At[n-1].Published, f)
			continue
		}
		held := heat.At(points, f.Temp)
		h.At = append(h.At, HeldAt{Temp: f.Temp, Longest: int(held.Longest / time.Minute), Total: int(held.Total / time.Minute), Begins: held.From, Published: []heat.Figure{f}})
	}
	if h.Lines == 0 {
		return h
	}
	say := func(s string, with ...any) { h.Says = append(h.Says, stated(s, with...)) }
	say("heat-record", "probe", h.Probe, "n", h.Lines, "from", moment(h.From), "to", moment(h.To), "highest", bothScales(h.Highest), "gaps", h.Gaps)
	var never []string
	for _, at := range h.At {
		if at.Total == 0 {
			never = append(never, bothScales(at.Temp))
			continue
		}
		say("heat-at", "temp", bothScales(at.Temp), "longest", at.Longest, "total", at.Total, "begins", moment(at.Begins))
	}
	if len(never) > 0 {
		say("heat-never", "temps", strings.Join(never, ", "))
	}
	for _, at := range h.At {
		if at.Total == 0 {
			continue
		}
		for _, f := range at.Published {
			x.cite(f.Source)
			say("heat-published", "temp", bothScales(f.Temp), "minutes", f.Minutes, "about", f.About, "source", f.Source)
		}
	}
	h.Says = append(h.Says, alwaysSaid()...)
	return h
}

// heatAlways are the sentences that go with every record, in this order and last.
var heatAlways = [...]string{"heat-counting", "heat-no-claim"}

func alwaysSaid() []Statement {
	var all []Statement
	for _, name := range heatAlways {
		all = append(all, stated(name))
	}
	return all
}

// airOnly says of a load with logged air and no probe why the air tells nothing of the core.
func (x *index) airOnly(l *Load) []Statement {
	rows, _ := x.airOf(l)
	var highest units.Temperature
	for _, a := range rows {
		if a.DryBulb.Known() && (!highest.Known() || a.DryBulb.Celsius() > highest.Celsius()) {
			highest = a.DryBulb
		}
	}
	if !highest.Known() {
		return nil
	}
	f := heat.InchInHotAir()
	under := "" // then what boards do in hotter air says nothing of these
	if highest.Celsius() < coreTemp {
		under = "true"
	} else {
		x.cite(f.Source)
	}
	return []Statement{stated("heat-air-only", "highest", x.job.Settings.System.Temperature(highest), "low", f.Minutes, "high", f.Most, "air", wholeScales(f.Temp),
		"under", under, "core", wholeScales(units.Celsius(coreTemp)), "source", f.Source), stated("heat-no-claim-air")}
}

// coreTemp is the temperature, in degrees C, that the rule for wood packaging asks of the whole piece.
//
// Source: ISPM 15 by the Canadian directive D-13-01; second hand.
const coreTemp = 56

// bothScales writes a temperature in both scales, to the tenth at the finest: a threshold is known by either.
func bothScales(t units.Temperature) string { return inScales(t, 10) }

// wholeScales writes a temperature in both scales to the degree, where nothing is counted by it.
func wholeScales(t units.Temperature) string { return inScales(t, 1) }

func inScales(t units.Temperature, parts float64) string {
	write := func(v float64) string { return strconv.FormatFloat(math.Round(v*parts)/parts, 'f', -1, 64) }
	return write(t.Fahrenheit()) + " F (" + write(t.Celsius()) + " C)"
}

// moment writes a day with its time.
func moment(t time.Time) string {
	if t.IsZero() {
		return "no date"
	}
	return t.Format("2 January 2006, 15:04")
}
