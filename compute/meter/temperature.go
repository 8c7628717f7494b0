package meter

import (
	"fmt"
	"math"

	"drytally/compute/source"
	"drytally/compute/units"
)

// TemperatureStep is what was done about the temperature of the wood.
type TemperatureStep struct {
	Outcome     Outcome
	Correction  units.MC // added to the reading, to the hundredth
	Figure      units.MC // the corrected value by the second method, to the hundredth
	FigureKnown bool     // false: the reading lies outside the second method's grid
	Rough       bool     // outside 10..30 C, or the two methods differ by more than half a point, or only one of them reaches
	Source      source.Source
	figure      float64 // as Figure, not rounded; 0 when not known
}

// Where the correction counts as good. Between 10 and 30 C the two methods differ by -0.5 to +0.6 for readings of 6 to 20;
// further out they part. Both limits are this project's choice from that comparison.
const (
	goodCoolest, goodWarmest = 10.0, 30.0
	farApart                 = 0.5
)

// The temperatures for which there are two methods to compare. Outside them nothing is corrected; hot lumber in particular
// has no known correction (Wengert; seen).
const coldest, hottest = -20.0, 50.0

const freezing = 0.0

var temperatureSource = source.Source{
	Document: "Pfaff and Garrahan, Forintek (1986)",
	Place:    "temperature correction of resistance meters, Douglas-fir scale",
	Status:   source.SecondHand,
}

// FigureSource is the source of the second temperature method, with which the first is compared.
func FigureSource() source.Source {
	return source.Source{Document: "FPL-GTR-6 (James 1988)", Place: "Figure 5, digitized", Status: source.SecondHand}
}

func temperatureStep(q Question, read float64) (float64, TemperatureStep, error) {
	if !q.Wood.Known() {
		if q.TempDone {
			return read, TemperatureStep{Outcome: DoneByMeter}, nil
		}
		return read, TemperatureStep{}, nil
	}
	t := q.Wood.Celsius()
	if !(t >= coldest && t <= hottest) {
		return 0, TemperatureStep{}, fmt.Errorf("wood at %.1f C: readings are corrected from %g to %g C only; measure the wood at room temperature",
			t, coldest, hottest)
	}
	if q.TempDone {
		return read, TemperatureStep{Outcome: DoneByMeter}, nil
	}
	mc := byFormula(read, t)
	s := TemperatureStep{Outcome: Applied, Correction: units.Percent(mc - read), Source: temperatureSource}
	s.figure, s.FigureKnown = byFigure(read, t)
	s.Figure = units.Percent(s.figure)
	s.Rough = t < goodCoolest || t > goodWarmest || !s.FigureKnown || math.Abs(mc-s.figure) > farApart
	return mc, s, nil
}

// byFormula returns the moisture content in percent of wood at t degrees Celsius whose resistance meter, scaled for
// Douglas-fir, shows read percent. It is neutral at 22.7 C.
//
// Source: Pfaff and Garrahan, Forintek (1986); form, signs and constants seen in three public source files, attribution from
// memory. Known disagreement: one of the three files has 0.000052 for the last constant (below 0.003 % MC at 50 C).
// The two species constants are 1 and 0 for Douglas-fir; those of other species were not found and are not used.
func byFormula(read, t float64) float64 {
	return (read + 0.567 - 0.0260*t + 0.000051*t*t) / (0.881 * math.Pow(1.0056, t)) // Pfaff and Garrahan, a = 1, b = 0
}

// byFigure returns the same by FPL-GTR-6 Figure 5, interpolated linearly both ways in the grid of figure5.csv. Its base is
// 70 F (21.1 C), so that it differs from the formula by some tenths even in warm wood. ok is false outside the grid's
// readings, 6 to 25.
func byFigure(read, t float64) (mc float64, ok bool) {
	g := figureFive()
	i, u, ok := bracket(g.celsius, t)
	if !ok {
		return 0, false
	}
	j, v, ok := bracket(g.readings, read)
	if !ok {
		return 0, false
	}
	at := func(i, j int) float64 { return g.correction[i][j] }
	add := (1-u)*((1-v)*at(i, j)+v*at(i, j+1)) + u*((1-v)*at(i+1, j)+v*at(i+1, j+1)) // bilinear
	return read + add, true
}

// bracket returns the interval of the rising values in which x lies and how far into it, 0..1.
func bracket(values []float64, x float64) (i int, part float64, ok bool) {
	last := len(values) - 1
	if !(x >= values[0] && x <= values[last]) {
		return 0, 0, false
	}
	for i < last-1 && x > values[i+1] {
		i++
	}
	return i, (x - values[i]) / (values[i+1] - values[i]), true
}
