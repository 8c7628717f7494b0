package target

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"drytally/compute/units"
)

// Sawing is the spread of a saw, from boards measured green at several places each.
type Sawing struct {
	Within  units.Length // standard deviation along a board
	Between units.Length // standard deviation of the boards' averages; it still holds Within over the root of the readings
	Total   units.Length // standard deviation of all readings: the one the target size takes
	// Boards, Readings and Groups (boards sawn at one setting) are what the figures rest on.
	Boards, Readings, Groups int
}

// Measure returns the sawing spread of boards sawn at one setting, each with its readings of one dimension.
//
// There must be at least 2 boards with at least 2 readings each, all sizes above 0; the error says which is short.
// Total is not the root of Within^2 + Between^2: the source takes each as an ordinary standard deviation.
//
// Source: EM 8731 (2000), pp. 21 and 22; seen. Worked example Table 3: TestMeasurePrinted.
func Measure(boards [][]units.Length) (Sawing, error) {
	return MeasureGroups([][][]units.Length{boards})
}

// MeasureGroups returns the sawing spread of boards sawn at several settings: a group for each setting. Every group keeps its own
// mean, so that the distance between two settings is no spread; the sums of squares of the groups are joined over their degrees of
// freedom. One group gives what Measure does.
//
// There must be at least one group, each with at least 2 boards of at least 2 readings, all sizes above 0; the error says which
// is short.
//
// Source: within one group EM 8731 (2000), pp. 21 and 22; seen. Joining the groups: derived, the usual pooled deviation.
func MeasureGroups(groups [][][]units.Length) (Sawing, error) {
	if len(groups) == 0 {
		return Sawing{}, fmt.Errorf("no boards measured: the sawing spread needs at least 2")
	}
	var variances []float64
	var between, total pooled
	out := Sawing{Groups: len(groups)}
	for _, boards := range groups {
		if len(boards) < 2 {
			return Sawing{}, fmt.Errorf("%d boards measured: the sawing spread needs at least 2", len(boards))
		}
		var averages, all []float64
		for i, readings := range boards {
			if len(readings) < 2 {
				return Sawing{}, fmt.Errorf("board %d has %d readings: the sawing spread needs at least 2 a board", i+1, len(readings))
			}
			xs := make([]float64, len(readings))
			for j, r := range readings {
				if r <= 0 {
					return Sawing{}, fmt.Errorf("board %d, reading %d: %s is not above 0", i+1, j+1, r)
				}
				xs[j] = float64(r)
			}
			mean, variance := stat.MeanVariance(xs, nil)
			variances, averages, all = append(variances, variance), append(averages, mean), append(all, xs...)
		}
		between.add(averages)
		total.add(all)
		out.Boards += len(boards)
		out.Readings += len(all)
	}
	out.Within = units.Length(math.Round(math.Sqrt(stat.Mean(variances, nil)))) // EM 8731 SW
	out.Between = between.deviation()                                           // EM 8731 SB
	out.Total = total.deviation()                                               // EM 8731 ST
	return out, nil
}

// pooled joins the squares of several samples about their own means.
type pooled struct{ squares, freedom float64 }

func (p *pooled) add(xs []float64) {
	n := float64(len(xs) - 1)
	p.squares += stat.Variance(xs, nil) * n
	p.freedom += n
}

func (p *pooled) deviation() units.Length {
	return units.Length(math.Round(math.Sqrt(p.squares / p.freedom)))
}

// Bounds returns how small and how large the true total spread may be, each with 95 % confidence. The boards count, not the
// readings: readings of one board are alike, so the degrees of freedom are the boards less one for each group.
//
// Source: the chi-square range of a variance; derived. With 8 boards of one group the true spread is at most 1.8 times the figure.
func (s Sawing) Bounds() (low, high units.Length) {
	freedom := float64(s.Boards - s.Groups)
	if freedom < 1 {
		return 0, 0
	}
	chi := distuv.ChiSquared{K: freedom}
	at := func(q float64) units.Length {
		return units.Length(math.Round(float64(s.Total) * math.Sqrt(freedom/chi.Quantile(q))))
	}
	return at(0.95), at(0.05)
}
