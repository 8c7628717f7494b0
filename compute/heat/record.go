// Package heat holds the temperature record of a probe in the core of a board beside published temperatures and times. It
// states temperature and time and nothing else: no treatment, no insect and no fungus follows from a record here.
package heat

import (
	"slices"
	"time"

	"drytally/compute/units"
)

// Point is one line of a probe's log.
type Point struct {
	Time time.Time
	Temp units.Temperature
}

// LongestGap is how far two lines of a log may lie apart and still stand for the time between them. This project's choice:
// the core of an inch board in a cooling kiln can fall by several degrees in half an hour.
const LongestGap = 30 * time.Minute

// same is how far a temperature may lie under a threshold by conversion between Fahrenheit and Celsius alone.
const same = 1e-6

// Held is the time a record shows at or above a temperature.
type Held struct {
	Total   time.Duration // all of it
	Longest time.Duration // the longest run without a break
	From    time.Time     // when the longest run begins; zero when there is none
	Lines   int           // lines of the log at or above the temperature
}

// At returns how long the record shows the wood at or above a temperature, on the safe side: the time between two lines
// counts only when both are at or above it and they lie no more than LongestGap apart. What lies between a line below and a
// line above is left out, so is a single line. The order of the points does not matter; of two at the same time the cooler
// one counts. Points without a time or a temperature are left out.
func At(points []Point, atLeast units.Temperature) Held {
	var h Held
	if !atLeast.Known() {
		return h
	}
	log := Ordered(points)
	var run time.Duration
	var began time.Time
	for i, p := range log {
		if !above(p, atLeast) {
			run = 0
			continue
		}
		h.Lines++
		if run == 0 {
			began = p.Time
		}
		if i == 0 || !above(log[i-1], atLeast) {
			continue
		}
		step := p.Time.Sub(log[i-1].Time)
		if step > LongestGap {
			run, began = 0, p.Time
			continue
		}
		if run == 0 {
			began = log[i-1].Time
		}
		run += step
		h.Total += step
		if run > h.Longest {
			h.Longest, h.From = run, began
		}
	}
	return h
}

func above(p Point, t units.Temperature) bool { return p.Temp.Celsius() >= t.Celsius()-same }

// Ordered returns the usable points of a log in order of time, one a moment, the coolest of several.
func Ordered(points []Point) []Point {
	var log []Point
	for _, p := range points {
		if p.Temp.Known() && !p.Time.IsZero() {
			log = append(log, p)
		}
	}
	slices.SortStableFunc(log, func(a, b Point) int {
		if c := a.Time.Compare(b.Time); c != 0 {
			return c
		}
		switch {
		case a.Temp.Celsius() < b.Temp.Celsius():
			return -1
		case a.Temp.Celsius() > b.Temp.Celsius():
			return 1
		}
		return 0
	})
	return slices.CompactFunc(log, func(a, b Point) bool { return a.Time.Equal(b.Time) })
}

// Gaps counts the places of a log where two lines lie more than LongestGap apart.
func Gaps(points []Point) int {
	log := Ordered(points)
	n := 0
	for i := 1; i < len(log); i++ {
		if log[i].Time.Sub(log[i-1].Time) > LongestGap {
			n++
		}
	}
	return n
}
