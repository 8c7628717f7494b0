package compute

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drytally/compute/lot"
	"drytally/compute/units"
)

// third is a third of the courses or of the spots.
type third struct {
	name     string
	from, to int
}

// thirdsOf parts n courses or spots into thirds, the outer two rounded down but at least one; fewer than three are not parted.
func thirdsOf(n int, names [3]string) []third {
	if n < 3 {
		return nil
	}
	outer := max(1, n/3)
	return []third{{names[0], 1, outer}, {names[1], outer + 1, n - outer}, {names[2], n - outer + 1, n}}
}

// strata gives the means of the thirds of the courses and of the spots, names the wettest, and says when they are too far
// apart for the boards to count as one sample.
//
// Source of the rule "one sample only when the means agree within about one standard deviation": general sampling practice;
// memory.
func (x *index) strata(r *LoadResult, m *measurement, outcomes []outcome) {
	places := x.places[key(r.Load.ID)]
	if m == nil || len(places) == 0 || r.Measured == 0 {
		return
	}
	off := r.MeterOff.Percent()
	add := func(by string, thirds []third, of func(place [2]int) int, across int) {
		first := len(r.Strata)
		for _, t := range thirds {
			s := Stratum{By: by, Name: t.name, From: t.from, To: t.to}
			var readings []units.Reading
			for _, at := range r.Boards {
				b := x.out.Boards[at]
				p := [2]int{b.Board.Course, b.Board.Spot}
				if on, ok := places[p]; !ok || on != at || of(p) < t.from || of(p) > t.to {
					continue
				}
				s.Boards++
				if reading, ok := m.means[0][at]; ok && reading.State != units.NotTaken {
					readings = append(readings, reading)
					s.Measured++
				}
				if b.Over {
					s.Over++
				}
			}
			if r.N > len(r.Boards) {
				s.Boards = max(s.Boards, (t.to-t.from+1)*across) // boards that are in no sheet lie there too
			}
			s.Reading, s.Spread = meanOf(readings, s.Boards)
			s.Mean = withMeter(s.Reading, off)
			widenByVariants(&s.Mean, outcomes)
			r.Strata = append(r.Strata, s)
		}
		x.sayStrata(r, r.Strata[first:])
	}
	add("courses", thirdsOf(r.Courses, [3]string{"bottom", "middle", "top"}), func(p [2]int) int { return p[0] }, r.Spots)
	add("spots", thirdsOf(r.Spots, [3]string{"left", "middle", "right"}), func(p [2]int) int { return p[1] }, r.Courses)
	x.weightedByThird(r, m, places)
	widenByVariants(&r.ByThirds, outcomes)
}

// widenByVariants widens a mean of part of a load by what the sheet leaves open: that moves all boards alike, by as much as the
// load's mean.
func widenByVariants(e *units.Estimate, outcomes []outcome) {
	low, high := e.Low, e.High
	for _, o := range outcomes[1:] {
		if first := outcomes[0]; e.Known && e.Confidence != 0 && o.sampling.Known && first.sampling.Known {
			d := o.sampling.Value - first.sampling.Value
			low, high = min(low, max(0, e.Low+d)), max(high, e.High+d)
		}
	}
	e.Low, e.High = low, high
}

// sayStrata names the wettest of some strata, those without a reading, and a difference that is more than chance.
func (x *index) sayStrata(r *LoadResult, all []Stratum) {
	note := func(name string, with ...any) { r.Notes = append(r.Notes, stated(name, with...)) }
	wettest, driest, known := -1, -1, 0
	var missing []string
	for i, s := range all {
		if s.Measured == 0 && s.Boards > 0 {
			missing = append(missing, s.where())
		}
		if !s.Mean.Known {
			continue
		}
		known++
		if wettest < 0 || s.Mean.Value > all[wettest].Mean.Value {
			wettest = i
		}
		if driest < 0 || s.Mean.Value < all[driest].Mean.Value {
			driest = i
		}
	}
	if len(missing) > 0 {
		note("strata-not-measured", "where", strings.Join(missing, ", "))
	}
	if known < 2 || all[wettest].Mean.Value == all[driest].Mean.Value {
		return
	}
	same := func(s Stratum) bool { return s.Mean.Known && s.Mean.Value.Tenth() == all[wettest].Mean.Value.Tenth() }
	if next := slices.IndexFunc(all, same); next == wettest && !slices.ContainsFunc(all[wettest+1:], same) { // as printed it is the wettest
		all[wettest].Wettest = true
	}
	w, d := all[wettest], all[driest]
	with := []any{"where", w.where(), "mean", w.Mean.Value, "n", w.Measured, "low", w.Mean.Low, "high", w.Mean.High, "range", w.Mean.Confidence != 0,
		"driest", d.where(), "least", d.Mean.Value, "apart", w.Mean.Value - d.Mean.Value}
	note("strata-wettest", with...)
	apart := w.Mean.Value - d.Mean.Value
	within := spreadWithin(all)
	if min(w.Measured, d.Measured) < 3 || apart.Percent() <= within {
		return
	}
	// More than one standard deviation, and more than boards drawn by chance explain.
	if apart.Percent() <= threeMeans*within*math.Sqrt(1/float64(w.Measured)+1/float64(d.Measured)) {
		return
	}
	with = append(with, "within", units.PercentTenth(within))
	r.StrataDiffer = append(r.StrataDiffer, stated("strata-differ", with...))
	note("strata-differ", with...)
}

// threeMeans is how many standard deviations of their difference the highest and the lowest of three means lie apart by chance
// in no more than 5 of 100 cases. Source: studentized range for three groups, about 3.5 over the root of 2; textbook (memory).
const threeMeans = 2.5

// spreadWithin is the standard deviation between boards inside the strata, in points.
func spreadWithin(all []Stratum) float64 {
	sum, freedom := 0.0, 0.0
	for _, s := range all {
		if s.Measured > 1 {
			sum += float64(s.Measured-1) * s.Spread.Percent() * s.Spread.Percent()
			freedom += float64(s.Measured - 1)
		}
	}
	if freedom == 0 {
		return 0
	}
	return math.Sqrt(sum / freedom)
}

// where names a stratum: bottom courses (1-3).
func (s Stratum) where() string { return fmt.Sprintf("%s %s (%s)", s.Name, s.By, run(s.From, s.To)) }

// weightedByThird gives the load's mean from the thirds of its courses, each counted with the boards that lie in it. It is
// given when every third has two boards that gave a number, or all of its boards.
func (x *index) weightedByThird(r *LoadResult, m *measurement, places map[[2]int]int) {
	var parts []lot.Stratum
	for _, s := range r.Strata {
		if s.By != "courses" {
			continue
		}
		part := lot.Stratum{Boards: s.Boards}
		for p, at := range places {
			if reading := m.means[0][at]; p[0] >= s.From && p[0] <= s.To && reading.State == units.Number {
				part.Values = append(part.Values, reading.MC)
			} else if p[0] >= s.From && p[0] <= s.To && reading.State != units.NotTaken {
				return // a mark: no number to weigh
			}
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return
	}
	if mean, err := lot.StratifiedMean(parts, confidence); err == nil {
		r.ByThirds = withMeter(mean, r.MeterOff.Percent())
		if d := r.ByThirds.Value - r.Mean.Value; d >= units.Percent(notedShift) || -d >= units.Percent(notedShift) {
			r.Notes = append(r.Notes, stated("strata-mean", "mean", r.ByThirds.Value, "low", r.ByThirds.Low, "high", r.ByThirds.High, "plain", r.Mean.Value))
		}
	}
}

// notedShift is from how many points on it is said that the weighted mean is another than the plain one. This project's choice.
const notedShift = 0.3
