package target

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"drytally/compute/units"
)

// Sawing is the spread of a saw, from boards measured green at several places each.
type Sawing struct {
	Within  units.Length // standard deviation along a board
	Between units.Length // standard deviation of the boards' averages; it still holds Within over the root of the readings
	Total   units.Length // standard deviation of all readings: the one the target size takes
	// Boards and Readings are what the figures rest on.
	Boards, Readings int
}

// Measure returns the sawing spread of boards, each with its readings of one dimension.
//
// There must be at least 2 boards with at least 2 readings each, all sizes above 0; the error says which is short.
// Total is not the root of Within^2 + Between^2: the source takes each as an ordinary standard deviation.
//
// Source: EM 8731 (2000), pp. 21 and 22; seen. Worked example Table 3: TestMeasurePrinted.
func Measure(boards [][]units.Length) (Sawing, error) {
	if len(boards) < 2 {
		return Sawing{}, fmt.Errorf("%d boards measured: the sawing spread needs at least 2", len(boards))
	}
	var variances, averages, all []float64
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
	length := func(x float64) units.Length { return units.Length(math.Round(x)) }
	return Sawing{
		Within:  length(math.Sqrt(stat.Mean(variances, nil))), // EM 8731 SW
		Between: length(stat.StdDev(averages, nil)),           // EM 8731 SB
		Total:   length(stat.StdDev(all, nil)),                // EM 8731 ST
		Boards:  len(boards), Readings: len(all),
	}, nil
}
