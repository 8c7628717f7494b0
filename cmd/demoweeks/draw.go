package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// board is one dried board: what it is, and what anyone who measured it well would find.
type board struct {
	id           string
	course, spot int
	mc           float64 // true moisture content, percent
	// Sizes in the unit of its stack, inches or millimetres. Length in the same unit.
	thick                  []float64
	width, length          float64
	cup, bow, crook, twist float64
}

// stack says how to draw the boards of a load. Sizes are inches, or millimetres when mm is set.
type stack struct {
	wood                 timber
	mm                   bool
	courses, spots       int
	id                   func(course, spot int) string
	thick, width         float64 // as sawn
	length               func(course int) float64
	places               int // where the thickness is measured
	mean, spread         float64
	driest, wettest      float64
	courseEffect         func(course int) float64 // added to the mean: slow places stay wetter
	pockets              map[[2]int]float64       // course and spot of boards with a moisture content of their own
	thickStep, widthStep float64                  // what the owner reads off caliper and rule
	cups, bends          []float64                // what he writes for cup, and for bow, crook and twist
}

// Spreads of the draw. Shrinkage differs between boards of one species by about an eighth; memory, the Wood Handbook gives
// 15 percent as coefficient of variation. Sawing spreads are those of a fair band mill: total near 0.030 in.
const (
	shrinkSpread  = 0.12
	sawBetween    = 0.022 // inches
	sawWithin     = 0.018 // inches
	sawWidth      = 0.030 // inches
	meterNoise    = 0.4   // percent moisture content
	meterNoiseMax = 0.7   // no more than this: a bad contact is read again
)

// draw makes every board of the stack, course by course from the bottom and spot by spot from the left.
func (s stack) draw(r *rand.Rand) []board {
	unit := 1.0
	if s.mm {
		unit = 25.4
	}
	var boards []board
	for course := 1; course <= s.courses; course++ {
		for spot := 1; spot <= s.spots; spot++ {
			b := board{id: s.id(course, spot), course: course, spot: spot, length: s.length(course)}
			b.mc = clamp(s.mean+s.courseEffect(course)+s.spread*r.NormFloat64(), s.driest, s.wettest)
			if mc, ok := s.pockets[[2]int{course, spot}]; ok {
				b.mc = mc
			}
			// Flat-sawn: the width shrinks along the rings, the thickness across them.
			radial := s.wood.radial * (1 + shrinkSpread*clamp(r.NormFloat64(), -2, 2))
			tangential := s.wood.tangential * (1 + shrinkSpread*clamp(r.NormFloat64(), -2, 2))
			green := s.thick + unit*sawBetween*r.NormFloat64()
			for range s.places {
				t := dried(green+unit*sawWithin*r.NormFloat64(), radial, b.mc)
				b.thick = append(b.thick, to(t, s.thickStep))
			}
			b.width = to(dried(s.width+unit*sawWidth*r.NormFloat64(), tangential, b.mc), s.widthStep)
			b.cup = s.cups[r.IntN(len(s.cups))]
			b.bow = s.bends[r.IntN(len(s.bends))]
			b.crook = s.bends[r.IntN(len(s.bends))]
			b.twist = s.bends[r.IntN(len(s.bends))]
			boards = append(boards, b)
		}
	}
	return boards
}

// read gives what the meter shows in wood of moisture content mc at wood temperature f, to the tenth it displays.
func read(r *rand.Rand, mc, f float64) float64 {
	noise := clamp(meterNoise*r.NormFloat64(), -meterNoiseMax, meterNoiseMax)
	return to(shown(mc+noise, celsius(f)), 0.1)
}

// onDisplay writes a reading as the owner copies it from the meter: a number, LO below its lowest number, or its highest
// number with a plus.
func onDisplay(reading, lowest, highest float64) any {
	switch {
	case reading < lowest:
		return "LO"
	case reading > highest:
		return fmt.Sprintf("%g+", highest)
	}
	return tenth(reading)
}

// sample is a sample board: its name, how it dries, and what it would weigh ovendry.
type sample struct {
	name    string
	dries   curve
	ovendry float64 // in the unit of the scale
	section float64 // grams, ovendry, of a section
}

// weighing is one row about a sample: a section or a weight of the board.
type weighing struct {
	sample       string
	day          time.Time
	weight       float64
	wet, ovendry float64
}

// weigh gives two sections cut on the first day and the board's weight on each day given, counted from start.
func (s sample) weigh(r *rand.Rand, start time.Time, days []int, step float64) []weighing {
	var rows []weighing
	for range 2 {
		od := to(s.section*(1+0.05*r.NormFloat64()), 0.1)
		mc := s.dries.start + 0.3*r.NormFloat64()
		// ASTM D4442: moisture content = 100 (wet - ovendry) / ovendry; definition seen.
		rows = append(rows, weighing{sample: s.name, day: start, wet: to(od*(1+mc/100), 0.1), ovendry: od})
	}
	for _, d := range days {
		w := s.ovendry * (1 + s.dries.at(float64(d))/100)
		rows = append(rows, weighing{sample: s.name, day: start.AddDate(0, 0, d), weight: to(w, step)})
	}
	return rows
}

// air is one line of an air log in Fahrenheit and percent.
type air struct {
	at           time.Time
	dry, wet, rh float64
}

// airAt draws a line of the log near the temperature f whose equilibrium moisture content is near e.
func airAt(r *rand.Rand, at time.Time, f, e float64) air {
	dry := math.Round(f + 2*r.NormFloat64())
	rh := humidityFor(dry, e+0.12*r.NormFloat64())
	return air{at: at, dry: dry, wet: to(wetBulb(dry, rh), 0.5), rh: math.Round(100 * rh)}
}

func clamp(x, low, high float64) float64 { return math.Min(high, math.Max(low, x)) }

func date(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }

func clockOn(day time.Time, hour, minute int) time.Time {
	return day.Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute)
}
