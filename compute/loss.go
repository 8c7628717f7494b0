package compute

import (
	"fmt"
	"time"

	"drytally/compute/air"
	"drytally/compute/drying"
	"drytally/compute/units"
)

// airReach says how far the load's air leads wood: no drier than its equilibrium. It is said of every load with an air log,
// and, where the use asks for less, what air would get there.
func (x *index) airReach(r *LoadResult) {
	emc, ok := x.airAtEnd(r.Load)
	if !ok {
		return
	}
	d := &r.Days
	d.Reach = emc.Tenth()
	x.cite(air.EMCSource())
	target := r.Band.Mean
	if target == 0 {
		target = r.Band.High
	}
	days := int(lastAir.Hours() / 24)
	switch {
	case !r.Band.Known:
		d.ReachSays = stated("air-reach", "emc", d.Reach, "days", days)
	case d.Reach < target:
		d.ReachSays = stated("air-reach-enough", "emc", d.Reach, "days", days, "target", target)
		if d.Reach > drying.NeededEMC(target) {
			d.ReachSays = stated("air-reach-slow", "emc", d.Reach, "days", days, "target", target, "needed", drying.NeededEMC(target).Tenth())
		}
	default:
		d.ReachSays = stated("air-reach-not", "emc", d.Reach, "days", days, "target", target, "needed", drying.NeededEMC(target).Tenth(),
			"would", x.airThatWould(r.Load, drying.NeededEMC(target)))
	}
	r.Notes = append(r.Notes, d.ReachSays)
}

// airThatWould writes the air that has an equilibrium, at the temperature of the end of the load's log: "33 % at 110 F". It is
// empty when no humidity gives it.
func (x *index) airThatWould(l *Load, emc units.MC) string {
	rows, _ := x.airOf(l)
	var end time.Time
	for _, a := range rows {
		if a.Time.After(end) {
			end = a.Time
		}
	}
	sum, n := 0.0, 0.0
	for _, a := range rows {
		if end.Sub(a.Time) <= lastAir {
			sum += a.DryBulb.Celsius()
			n++
		}
	}
	if n == 0 {
		return ""
	}
	t := units.Celsius(sum / n)
	h, _, err := air.HumidityFor(emc, t)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%.0f %% relative humidity at %s", h.Percent(), x.job.Settings.System.Temperature(t))
}

// lossAgainstSafe holds the daily loss of every sample board against the published safe rate of its wood and thickness.
func (x *index) lossAgainstSafe(r *LoadResult) {
	d := &r.Days
	found := false
	for _, s := range x.samplesOf(key(r.Load.ID)) {
		for _, l := range drying.DailyLosses(s.points) {
			if !found || l.PerDay > d.FastestLoss {
				found = true
				d.FastestLoss, d.FastestSample, d.FastestFrom, d.FastestTo = l.PerDay, s.id, l.From, l.To
			}
		}
	}
	if !found || d.FastestLoss <= 0 {
		return
	}
	species := tableName(first(r.Species))
	nominal := x.nominalOfLoad(r)
	with := []any{"loss", d.FastestLoss, "sample", d.FastestSample, "from", dateOr(d.FastestFrom), "to", dateOr(d.FastestTo), "species", species}
	safe, ok := drying.Safe(species, nominal)
	if !ok || nominal == 0 {
		d.LossSays = append(d.LossSays, stated("loss-no-rate", with...))
		r.Notes = append(r.Notes, d.LossSays...)
		return
	}
	d.SafeLoss, d.SafeLossSource = safe.PerDay, safe.Source
	x.cite(safe.Source)
	with = append(with, "safe", safe.PerDay, "row", safe.Row, "source", safe.Source.String(), "note", safe.Note)
	if d.FastestLoss > safe.PerDay {
		d.TooFast = true
		d.LossSays = append(d.LossSays, stated("loss-above-safe", with...))
		x.warnLoss(r, safe)
	} else {
		d.LossSays = append(d.LossSays, stated("loss-within-safe", with...))
	}
	r.Notes = append(r.Notes, d.LossSays...)
}

// warnLoss warns at the weighing that ended the fastest interval.
func (x *index) warnLoss(r *LoadResult, safe drying.SafeRate) {
	d := r.Days
	for i := range x.job.Weights {
		w := &x.job.Weights[i]
		if l, ok := x.loadOf(w.Load); ok && l == key(r.Load.ID) && key(w.Sample) == key(d.FastestSample) && w.Weight != 0 && w.Date.Equal(d.FastestTo) {
			x.say("J027", w.Origin.At("weight"), grams(w.Weight), "slow the drying while the wood is wet, and look for surface checks",
				"sample %q lost %s points of moisture a day up to this weighing; the published safe rate of %s is %s", w.Sample, d.FastestLoss, safe.Row, safe.PerDay)
			return
		}
	}
}

// nominalOfLoad gives the nominal thickness of the first board that has one.
func (x *index) nominalOfLoad(r *LoadResult) units.Length {
	for _, at := range r.Boards {
		if n := x.out.Boards[at].Nominal; n != 0 {
			return n
		}
	}
	return 0
}
