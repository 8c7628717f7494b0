package compute

import (
	"slices"
	"time"

	"drytally/compute/drying"
	"drytally/compute/units"
)

// sample is one sample board with its moisture content on every day it was weighed.
type sample struct {
	id       string
	ovendry  units.Mass
	points   []drying.Point
	sections int // ovendry sections it rests on
}

// samplesOf computes the sample boards of a load. Weighings and sections whose load is not named belong to it when it is the
// only load.
func (x *index) samplesOf(load string) []sample {
	if all, known := x.samples[load]; known {
		return all
	}
	var ids []string
	byID := map[string][]Weight{}
	for _, w := range byDate(x.job.Weights) {
		l, ok := x.loadOf(w.Load)
		if !ok || l != load {
			continue
		}
		k := key(w.Sample)
		if _, seen := byID[k]; !seen {
			ids = append(ids, k)
		}
		byID[k] = append(byID[k], w)
	}
	var all []sample
	for _, k := range ids {
		if s, ok := sampleOf(byID[k]); ok {
			all = append(all, s)
		}
	}
	if x.samples == nil {
		x.samples = map[string][]sample{}
	}
	x.samples[load] = all
	return all
}

// sampleOf computes one sample board from its sections and weighings. The ovendry weight is that of the latest day with
// both, because early ones drift (Dry Kiln Operator's Manual AH-188, ch. 6; memory). Sections without a date belong to the
// first weighing. Sections without any weighing speak for their own day.
func sampleOf(rows []Weight) (sample, bool) {
	s := sample{id: rows[0].Sample}
	var firstWeighed time.Time
	for _, w := range rows {
		if w.Weight != 0 && (firstWeighed.IsZero() || w.Date.Before(firstWeighed)) {
			firstWeighed = w.Date
		}
	}
	byDay := map[time.Time][]units.MC{}
	for _, w := range rows {
		if !w.Section() {
			continue
		}
		mc, err := drying.SectionMC(w.Wet, w.Ovendry)
		if err != nil {
			continue // said by its own check
		}
		d := day(w.Date)
		if w.Date.IsZero() {
			d = day(firstWeighed)
		}
		byDay[d] = append(byDay[d], mc)
	}
	var days []time.Time
	for d := range byDay {
		days = append(days, d)
	}
	slices.SortFunc(days, time.Time.Compare)
	for _, d := range days {
		mc, _ := drying.Average(byDay[d])
		for _, w := range rows {
			if w.Weight == 0 || !day(w.Date).Equal(d) {
				continue
			}
			if od, err := drying.OvendryWeight(w.Weight, mc); err == nil {
				s.ovendry, s.sections = od, len(byDay[d])
			}
		}
	}
	if s.ovendry == 0 {
		for _, d := range days {
			mc, _ := drying.Average(byDay[d])
			s.points = append(s.points, drying.Point{Time: d, MC: mc})
			s.sections += len(byDay[d])
		}
		return s, len(s.points) > 0
	}
	for _, w := range rows {
		if w.Weight == 0 {
			continue
		}
		if mc, err := drying.SampleMC(w.Weight, s.ovendry); err == nil {
			s.points = append(s.points, drying.Point{Time: w.Date, MC: mc})
		}
	}
	return s, len(s.points) > 0
}

// lastPoint gives the latest weighing of a sample.
func (s sample) lastPoint() drying.Point {
	return slices.MaxFunc(s.points, func(a, b drying.Point) int { return a.Time.Compare(b.Time) })
}

// meanCurve joins the samples of a load into one series: the mean of the days on which every sample was weighed.
func meanCurve(samples []sample) []drying.Point {
	if len(samples) == 0 {
		return nil
	}
	var curve []drying.Point
	for _, p := range samples[0].points {
		sum, n := 0.0, 0
		for _, s := range samples {
			for _, q := range s.points {
				if day(q.Time).Equal(day(p.Time)) {
					sum += q.MC.Percent()
					n++
					break
				}
			}
		}
		if n == len(samples) {
			curve = append(curve, drying.Point{Time: p.Time, MC: units.Percent(sum / float64(n))})
		}
	}
	return curve
}
