package compute

import (
	"math"
	"strconv"
	"time"

	"drytally/compute/air"
	"drytally/compute/drying"
	"drytally/compute/units"
)

// lastAir is how much of the end of an air log stands for the air to come. This project's choice.
const lastAir = 3 * 24 * time.Hour

// forecast lays the drying curve through the sample boards' weighings and says when the load comes to its target.
func (x *index) forecast(r *LoadResult) {
	if r.Verdict == DryForUse || r.Verdict == DryButHeldBack {
		return
	}
	d := &r.Days
	if !r.Band.Known {
		d.Says = stated("days-no-target")
		return
	}
	d.Target = r.Band.Mean
	if d.Target == 0 {
		d.Target = r.Band.High
	}
	samples := x.samplesOf(key(r.Load.ID))
	curve := belowFiber(meanCurve(samples))
	if len(curve) < 3 {
		d.Says = stated("days-none-weights")
		return
	}
	x.dailyLoss(r, curve)
	emc, ok := x.airAtEnd(r.Load)
	if !ok {
		d.Says = stated("days-none-air")
		return
	}
	d.Ends = emc.Tenth()
	f, err := daysBetween(curve, emc, d.Target)
	now := curve[len(curve)-1].MC.Tenth()
	switch {
	case err != nil:
		d.Says = stated("days-no-curve", "why", err)
	case f.Why == drying.TooDamp:
		d.Says = stated("days-no-air-reach", "emc", d.Ends, "target", d.Target, "needed", f.Needed.Tenth())
	case f.Why != drying.Fine:
		d.Says = stated("days-no-curve", "why", f.Why)
	case f.Reached:
		d.Says = stated("days-there", "mc", now, "target", d.Target)
	default:
		d.Known = true
		d.Days, d.Low, d.High, d.OpenEnd, d.From = math.Ceil(f.Days), math.Floor(max(0, f.Low)), math.Ceil(f.High), f.OpenEnd, curve[len(curve)-1].Time
		to := "to " + whole(d.High)
		if f.OpenEnd {
			to = "or many more"
		}
		d.Says = stated("days-go", "days", whole(d.Days), "low", whole(d.Low), "to", to, "date", dateOr(d.From), "now", now, "target", d.Target,
			"emc", d.Ends, "n", len(samples), "wettest", wettest(samples))
	}
}

// airAbout is how far the equilibrium moisture content of the air to come is known: the equation and a log of one or two
// lines a day are good to about half a point. This project's choice.
const airAbout = 50 * units.MC(1)

// daysBetween is drying.Days, its interval widened to what the air can be off either way.
func daysBetween(curve []drying.Point, emc, target units.MC) (drying.Forecast, error) {
	f, err := drying.Days(curve, emc, target, confidence)
	if err != nil || f.Why != drying.Fine {
		return f, err
	}
	for _, e := range []units.MC{max(0, emc-airAbout), emc + airAbout} {
		other, err := drying.Days(curve, e, target, confidence)
		if err != nil {
			return f, err
		}
		if other.Why != drying.Fine {
			f.OpenEnd = true
			continue
		}
		f.Low, f.High, f.OpenEnd = min(f.Low, other.Low), max(f.High, other.High), f.OpenEnd || other.OpenEnd
	}
	return f, nil
}

// wettest writes the moisture content of the wettest sample board at its last weighing.
func wettest(samples []sample) units.MC {
	var most units.MC
	for _, s := range samples {
		most = max(most, s.lastPoint().MC)
	}
	return most.Tenth()
}

func whole(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

// belowFiber leaves out weighings above 30 %, where the curve does not hold, when enough are left without them.
func belowFiber(curve []drying.Point) []drying.Point {
	var below []drying.Point
	for _, p := range curve {
		if p.MC <= units.Percent(30) {
			below = append(below, p)
		}
	}
	if len(below) >= 3 {
		return below
	}
	return curve
}

// airAtEnd gives the mean equilibrium moisture content of the last days of a load's air log.
func (x *index) airAtEnd(l *Load) (units.MC, bool) {
	rows, log := x.airOf(l)
	var end time.Time
	for _, a := range rows {
		if a.Time.After(end) {
			end = a.Time
		}
	}
	var last []air.Record
	for i, a := range rows {
		if end.Sub(a.Time) <= lastAir {
			last = append(last, log[i])
		}
	}
	sum, err := air.Summarize(last)
	return sum.Mean, err == nil
}

// dailyLoss compares the latest daily loss with the published safe rate.
func (x *index) dailyLoss(r *LoadResult, curve []drying.Point) {
	losses := drying.DailyLosses(curve)
	if len(losses) == 0 {
		return
	}
	r.Days.DailyLoss = losses[len(losses)-1].PerDay
	var nominal units.Length
	for _, at := range r.Boards {
		if n := x.out.Boards[at].Nominal; n != 0 {
			nominal = n
			break
		}
	}
	if safe, ok := drying.Safe(tableName(first(r.Species)), nominal); ok && nominal != 0 {
		r.Days.SafeLoss, r.Days.SafeLossSource = safe.PerDay, safe.Source
		x.cite(safe.Source)
	}
}
