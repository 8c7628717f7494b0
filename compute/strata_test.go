package compute

import (
	"strings"
	"testing"

	"drytally/compute/units"
)

// placed reads every n-th board of a stack of 9 courses of 5 boards; of gives the reading of a place.
func placedStack(every int, of func(course, spot int) float64) *Job {
	job := week(45)
	for i := 0; i < 45; i += every {
		b := job.Boards[i]
		mc := of(b.Course, b.Spot)
		if mc == 0 {
			continue
		}
		job.Readings = append(job.Readings, Reading{Taking: &Taking{Field: "reading", Load: "K1"}, Origin: row("readings", i+2), Board: b.ID,
			Value: units.Reading{State: units.Number, MC: units.Percent(mc)}, WoodTemp: units.Celsius(22.7)})
	}
	return job
}

func TestStrata(t *testing.T) {
	// Bottom courses 2 points wetter; within a course 0.1 a spot.
	l := only(t, placedStack(1, func(course, spot int) float64 {
		if course <= 3 {
			return 9.5 + float64(spot)/10
		}
		return 7.5 + float64(spot)/10
	}))
	if len(l.Strata) != 6 {
		t.Fatalf("%d strata, want 3 of courses and 3 of spots", len(l.Strata))
	}
	bottom, middle, left := l.Strata[0], l.Strata[1], l.Strata[3]
	if bottom.From != 1 || bottom.To != 3 || bottom.Boards != 15 || bottom.Measured != 15 || bottom.Mean.Value != units.Percent(9.8) || !bottom.Wettest {
		t.Errorf("bottom %+v", bottom)
	}
	if middle.From != 4 || middle.To != 6 || middle.Mean.Value != units.Percent(7.8) || middle.Wettest {
		t.Errorf("middle %+v", middle)
	}
	if left.By != "spots" || left.From != 1 || left.To != 1 || left.Boards != 9 {
		t.Errorf("left %+v", left)
	}
	// Every board measured: sampling leaves no range, the meter does.
	if bottom.Reading.Low != bottom.Reading.High || bottom.Mean.Low > units.Percent(8.8) || bottom.Mean.High < units.Percent(10.8) {
		t.Errorf("bottom: by sampling %v, with the meter %v", bottom.Reading, bottom.Mean)
	}
	wantSaid(t, spoken(t, l), "Wettest: the bottom courses (1-3), mean 9.8 % of 15 boards", "The bottom courses (1-3) and the", "are 2.0 points apart, more than boards side by side differ")
	if len(l.StrataDiffer) != 1 {
		t.Errorf("%d differences said, want that of the courses alone: %v", len(l.StrataDiffer), l.StrataDiffer)
	}
}

// TestStrataAlike: boards that differ by chance alone are one sample.
func TestStrataAlike(t *testing.T) {
	l := only(t, placedStack(2, func(course, spot int) float64 { return 8 + float64((course*7+spot*11)%13)/10 }))
	if len(l.StrataDiffer) != 0 {
		t.Errorf("said to differ: %s", spoken(t, l))
	}
}

// TestStrataNotMeasured: what was not measured is named, and the mean by thirds is not given then.
func TestStrataNotMeasured(t *testing.T) {
	l := only(t, placedStack(1, func(course, spot int) float64 {
		if course > 6 || spot == 5 {
			return 0
		}
		return 8
	}))
	wantSaid(t, spoken(t, l), "No board was measured in: top courses (7-9).", "No board was measured in: right spots (5).")
	if l.ByThirds.Known {
		t.Errorf("a mean by thirds without the top: %v", l.ByThirds)
	}
}

// TestByThirds: many boards measured in the dry top and few in the wet bottom: the plain mean is too dry. Bottom 10, middle 9,
// top 8 in equal parts is 9.
func TestByThirds(t *testing.T) {
	seen := map[int]int{}
	l := only(t, placedStack(1, func(course, spot int) float64 {
		part := (course - 1) / 3
		if seen[part]++; part < 2 && seen[part] > 3 {
			return 0
		}
		return 10 - float64(part)
	}))
	if !l.ByThirds.Known || l.ByThirds.Value != units.Percent(9) || l.Mean.Value >= units.Percent(8.6) {
		t.Errorf("by thirds %v, plain %v", l.ByThirds, l.Mean)
	}
	wantSaid(t, spoken(t, l), "With each third of the courses counted by the boards that lie in it, the mean is 9.0 %")
}

// TestStrataNeedPlaces: without places there are no strata.
func TestStrataNeedPlaces(t *testing.T) {
	job := week(20, many(20, 8)...)
	for i := range job.Boards {
		job.Boards[i].Course, job.Boards[i].Spot = 0, 0
	}
	l := only(t, job)
	if len(l.Strata) != 0 || strings.Contains(spoken(t, l), "Wettest") {
		t.Errorf("strata %v", l.Strata)
	}
}

// TestStrataTie: of parts whose means are printed alike none is the wettest.
func TestStrataTie(t *testing.T) {
	for _, c := range []struct {
		middle float64
		want   bool
	}{{9.5, false}, {9.54, false}, {9.2, true}} {
		l := only(t, placedStack(1, func(course, _ int) float64 {
			switch {
			case course <= 3:
				return 9.5
			case course <= 6:
				return c.middle
			}
			return 8
		}))
		wettest := 0
		for _, s := range l.Strata[:3] {
			if s.Wettest {
				wettest++
			}
		}
		if l.Strata[0].Wettest != c.want || (wettest > 0) != c.want {
			t.Errorf("9.5 and %g %%: %d parts are marked the wettest, the bottom %v; want %v", c.middle, wettest, l.Strata[0].Wettest, c.want)
		}
	}
}

// TestUnevenWhateverTheVerdict: a load read in its top courses alone is said to be so, wet or dry, by the meter's figure too.
func TestUnevenWhateverTheVerdict(t *testing.T) {
	for _, mc := range []float64{7.5, 20} {
		l := only(t, placedStack(1, func(course, _ int) float64 {
			if course < 7 {
				return 0
			}
			return mc
		}))
		const want = "bottom courses (1-3) and middle courses (4-6)"
		if l.SlowMissing != want || len(l.Witnesses) == 0 || l.Witnesses[0].Detail.With["places"] != want || (mc > 10) != (l.Verdict == NotDryYet) {
			t.Errorf("%g %%: got %q missing, verdict %v, %+v", mc, l.SlowMissing, l.Verdict, l.Witnesses)
		}
	}
}
