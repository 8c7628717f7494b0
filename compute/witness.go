package compute

import (
	"fmt"
	"math"
	"strings"
	"time"

	"drytally/compute/air"
	"drytally/compute/drying"
	"drytally/compute/shrink"
	"drytally/compute/source"
	"drytally/compute/units"
)

// How far a meter's mean can be off, either way, beside sampling. Three good meters on several hundred kiln-dried boards
// were seldom off the oven by more than 1 (Wengert; seen); without species correction 1 or 2 (FOR-128 p. 31; seen); both
// kinds rarely differ from the oven by more than 2 (Wengert and Bois 1997, quoted by Shupe and others; seen).
const (
	meterBias          = 1.0
	meterBiasNoSpecies = 2.0
	meterBiasPlate     = 2.0
)

// Two days further apart than this are not compared: wood changes in between. This project's choice.
const comparable = 3 * 24 * time.Hour

// hearWitnesses hears what meter, weights, shrinkage and air say of the load's mean, and finds who disagrees.
func (x *index) hearWitnesses(r *LoadResult, m *measurement) {
	x.meterWitness(r, m)
	x.weightWitness(r)
	x.shrinkageWitness(r)
	x.airWitness(r)
	for i := range r.Witnesses {
		for k := i + 1; k < len(r.Witnesses); k++ {
			a, b := r.Witnesses[i], r.Witnesses[k]
			if !a.Compared || !b.Compared {
				continue
			}
			if s, ok := disagree(a, b); ok {
				r.Conflicts = append(r.Conflicts, s)
			}
		}
	}
}

func (x *index) meterWitness(r *LoadResult, m *measurement) {
	if m == nil || !r.Mean.Known {
		return
	}
	if r.Mean.Confidence == 0 {
		return // one board of several says nothing of the load's mean that could be held against another witness
	}
	r.Witnesses = append(r.Witnesses, Witness{Kind: WitnessMeter, Estimate: r.Mean, Date: r.LastReading, Compared: true, Source: meterOffSource(),
		Detail: stated("witness-meter", "n", r.Measured, "dates", dates(r.FirstReading, r.LastReading), "bias", trim(r.MeterOff.Percent()), "places", r.SlowMissing)})
}

// widened adds an error that more boards don't make smaller.
func widened(e units.Estimate, bias float64) units.Estimate {
	low, high := (e.Value - e.Low).Percent(), (e.High - e.Value).Percent()
	if e.Confidence == 0 {
		low, high = 0, 0
	}
	e.Low = max(0, units.Percent(e.Value.Percent()-math.Hypot(low, bias)).TenthDown())
	e.High = units.Percent(e.Value.Percent() + math.Hypot(high, bias)).TenthUp()
	e.Confidence = confidence
	return e
}

// sampleShare is how far the mean of n sample boards can lie from the mean of the load, as a share of it. Source: redwood
// kiln study, Forest Products Society abstract (seen): 38 % for 2 samples, 15.9 % for 6, 10.8 % for 12; between them the
// figure times the root of n is interpolated, beyond them it is carried on.
func sampleShare(n int) float64 {
	at := []struct{ n, share float64 }{{2, 0.38}, {6, 0.159}, {12, 0.108}}
	scaled := func(i int) float64 { return at[i].share * math.Sqrt(at[i].n) }
	k := float64(n)
	switch {
	case k <= at[0].n:
		return scaled(0) / math.Sqrt(k)
	case k >= at[2].n:
		return scaled(2) / math.Sqrt(k)
	}
	i := 0
	if k > at[1].n {
		i = 1
	}
	part := (k - at[i].n) / (at[i+1].n - at[i].n)
	return (scaled(i) + part*(scaled(i+1)-scaled(i))) / math.Sqrt(k)
}

func (x *index) weightWitness(r *LoadResult) {
	samples := x.samplesOf(key(r.Load.ID))
	if len(samples) == 0 {
		return
	}
	var last time.Time
	for _, s := range samples {
		if t := s.lastPoint().Time; t.After(last) {
			last = t
		}
	}
	sum, n, sections := 0.0, 0, 0
	for _, s := range samples {
		if p := s.lastPoint(); last.Sub(p.Time) <= comparable {
			sum += p.MC.Percent()
			n++
			sections += s.sections
		}
	}
	mean := sum / float64(n)
	half := mean * sampleShare(n)
	from := source.Source{Document: "ASTM D4442; redwood kiln study, Forest Products Society abstract", Place: "error of small samples", Status: source.Seen}
	x.cite(drying.OvendrySource())
	x.cite(from)
	w := Witness{Kind: WitnessWeight, Date: last, Source: from, Compared: r.LastReading.IsZero() || gap(last, r.LastReading) <= comparable,
		Estimate: units.Estimate{Value: units.PercentTenth(mean), Low: max(0, units.Percent(mean-half).TenthDown()), High: units.Percent(mean + half).TenthUp(),
			Confidence: confidence, N: n, Known: true},
		Detail: stated("witness-weight", "n", n, "date", dateOr(last), "sections", sections)}
	x.addWitness(r, w)
}

// addWitness adds a witness, and says so when it is too old to compare.
func (x *index) addWitness(r *LoadResult, w Witness) {
	if !w.Compared {
		r.Notes = append(r.Notes, stated("witness-old", "witness", w.Kind, "date", dateOr(w.Date), "days", int(gap(w.Date, r.LastReading).Hours()/24)))
	}
	r.Witnesses = append(r.Witnesses, w)
}

func gap(a, b time.Time) time.Duration {
	if a.After(b) {
		return a.Sub(b)
	}
	return b.Sub(a)
}

// shrinkageWitness reads the shrinkage of boards measured green and dry backwards.
func (x *index) shrinkageWitness(r *LoadResult) {
	var pairs []shrink.Pair
	boards := 0
	for _, at := range r.Boards {
		b := &x.out.Boards[at]
		if b.Board.GreenWidth == 0 || b.Board.Width == 0 {
			continue
		}
		across, err := shrink.Across(b.Species, shrink.Width, sawingOf(b.Board.Sawing))
		if err != nil {
			continue
		}
		if mc, err := shrink.Moisture(b.Board.GreenWidth, b.Board.Width, across); err == nil {
			b.ShrinkMC = units.Estimate{Value: max(0, mc).Tenth(), N: 1, Known: true}
		}
		pairs = append(pairs, shrink.Pair{Green: b.Board.GreenWidth, Dry: b.Board.Width, Direction: across})
		boards++
	}
	mean, err := shrink.Backwards(pairs)
	if err != nil {
		return
	}
	e := mean.Estimate
	e.Value, e.Low, e.High = e.Value.Tenth(), e.Low.TenthDown(), e.High.TenthUp()
	x.addWitness(r, Witness{Kind: WitnessShrinkage, Estimate: e, Date: r.LastReading, Compared: true,
		Source: source.Source{Document: "Wood Handbook FPL-GTR-282 (2021)", Place: "eq. 4-9, read backwards; spread of 15 % from memory", Status: source.Derived},
		Detail: stated("witness-shrinkage", "n", boards)})
}

// airSlack is how far a reading may lie under the driest air's equilibrium before it is a conflict: the equation, the sensor
// and the times between the lines of a log are good to about a point. This project's choice.
const airSlack = 100 * units.MC(1)

// airWitness finds the driest air the load has met. It bounds the moisture content from below and says nothing above.
func (x *index) airWitness(r *LoadResult) {
	rows, log := x.airOf(r.Load)
	if len(rows) == 0 {
		return
	}
	sum, err := air.Summarize(log)
	if err != nil {
		return
	}
	row := rows[sum.At]
	humidity := row.Humidity
	if !humidity.Known() {
		if humidity, err = air.HumidityFromWetBulb(row.DryBulb, row.WetBulb); err != nil {
			return
		}
		x.cite(air.WetBulbSource())
	}
	x.cite(air.EMCSource())
	low := sum.Lowest.Tenth()
	x.addWitness(r, Witness{Kind: WitnessAir, Date: row.Time, Compared: true, Source: air.EMCSource(),
		Estimate: units.Estimate{Value: low, Low: low, N: sum.Used, Known: true},
		Detail: stated("witness-air", "temperature", x.job.Settings.System.Temperature(row.DryBulb),
			"humidity", fmt.Sprintf("%.0f", humidity.Percent()), "emc", low)})
}

// airOf gives the lines of the air log a load has met: those that name it, or that name none and lie between its days in
// and out. Air of a shed or shop is not the kiln's. The lines and the records for the formulas run side by side.
func (x *index) airOf(l *Load) ([]*Air, []air.Record) {
	var rows []*Air
	var log []air.Record
	for i := range x.job.Air {
		a := &x.job.Air[i]
		if a.Load != "" && key(a.Load) != key(l.ID) || elsewhere(a.Where) {
			continue
		}
		if a.Load == "" {
			if !l.DateIn.IsZero() && a.Time.Before(l.DateIn) || !l.DateOut.IsZero() && a.Time.After(l.DateOut.Add(24*time.Hour)) {
				continue
			}
			if l.DateIn.IsZero() && l.DateOut.IsZero() && len(x.job.Loads) > 1 {
				continue
			}
		}
		record := air.Record{DryBulb: a.DryBulb, WetBulb: a.WetBulb, Humidity: a.Humidity}
		if _, err := record.EMC(); err != nil {
			continue
		}
		rows = append(rows, a)
		log = append(log, record)
	}
	return rows, log
}

// elsewhere reports whether a line of the log was taken outside the kiln.
func elsewhere(where string) bool {
	w := strings.ToLower(where)
	for _, place := range []string{"shed", "shop", "store", "storage", "garage", "warehouse", "loft", "outside", "outdoor", "yard", "house", "barn"} {
		if strings.Contains(w, place) {
			return true
		}
	}
	return false
}

// disagree reports whether two witnesses can't both be right: their values lie further apart than both ranges together.
func disagree(a, b Witness) (Statement, bool) {
	if a.Kind == WitnessAir {
		a, b = b, a
	}
	if b.Kind == WitnessAir {
		if a.Kind == WitnessAir || a.Estimate.High >= b.Estimate.Low && a.Estimate.Value >= b.Estimate.Low-airSlack {
			return Statement{}, false
		}
		return stated("conflict-air", "a", a.Kind, "ahigh", a.Estimate.High, "emc", b.Estimate.Low), true
	}
	low, high := a, b
	if low.Estimate.Value > high.Estimate.Value {
		low, high = high, low
	}
	apart := (high.Estimate.Value - low.Estimate.Value).Percent()
	joint := math.Hypot((low.Estimate.High - low.Estimate.Value).Percent(), (high.Estimate.Value - high.Estimate.Low).Percent())
	if apart <= joint {
		return Statement{}, false
	}
	return stated("conflict", "a", a.Kind, "alow", a.Estimate.Low, "ahigh", a.Estimate.High, "b", b.Kind, "blow", b.Estimate.Low, "bhigh", b.Estimate.High), true
}

// dates writes one day, or the first and the last.
func dates(from, to time.Time) string {
	if from.Equal(to) {
		return dateOr(from)
	}
	return dateOr(from) + " to " + dateOr(to)
}
