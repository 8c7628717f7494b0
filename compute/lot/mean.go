package lot

import (
	"fmt"
	"math"

	"drytally/compute/units"
)

// Sample is what numbers of n boards say of the mean and the spread of a load.
type Sample struct {
	Mean units.Estimate // to the tenth, the range outward; Known false without a reading, Confidence 0 when there is no range
	SD   units.MC       // standard deviation between boards (with n - 1), to the hundredth; 0 for fewer than two boards
}

// MeanOf returns the mean of a load of N boards with its t interval, from one number per board, drawn at random. The interval
// narrows by the finite population factor sqrt(1 - n/N) and is the mean alone when every board was measured. N = 0: the size
// of the load is not known, and the interval is not narrowed. It says nothing about single boards.
//
// Errors: N less than the number of values (and not 0), confidence outside 0..1 (ends excluded).
//
// Source: textbook t interval with finite population correction (memory).
func MeanOf(values []units.MC, N int, confidence float64) (Sample, error) {
	n := len(values)
	if N != 0 && N < n || N < 0 {
		return Sample{}, fmt.Errorf("a load of %d boards with %d measured", N, n)
	}
	if !(confidence > 0 && confidence < 1) {
		return Sample{}, fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	if n == 0 {
		return Sample{}, nil
	}
	m, s := moments(values)
	out := Sample{Mean: units.Estimate{Value: tenth(m), Low: tenthDown(m), High: tenthUp(m), N: n, Known: true}}
	if n == N {
		out.Mean.Confidence = confidence
	}
	if n < 2 {
		return out, nil
	}
	half := halfWidth(n, N, s, confidence)
	out.SD = units.Percent(s)
	out.Mean.Low, out.Mean.High, out.Mean.Confidence = tenthDown(m-half), tenthUp(m+half), confidence
	return out, nil
}

// halfWidth returns half of the t interval of a mean, in percent MC.
func halfWidth(n, N int, s, confidence float64) float64 {
	half := studentQuantile(confidence, float64(n-1)) * s / math.Sqrt(float64(n))
	if N > 0 {
		half *= math.Sqrt(1 - float64(n)/float64(N))
	}
	return half
}

// Stratum is a part of a load (a layer, the ends, a thickness) with the numbers of its measured boards.
type Stratum struct {
	Boards int // in the part, measured or not
	Values []units.MC
}

// StratifiedMean returns the mean of a load from its parts, each weighted with its boards. Every part needs two values, or one
// for every board it has.
//
// The interval uses t with Satterthwaite's degrees of freedom; with every board measured it is the mean alone. Errors: no
// part, a part with too few or too many values, confidence outside 0..1.
//
// Source: m = sum W m, variance = sum W^2 s^2 / n (1 - n/N), W = N / sum N: textbook (memory); Satterthwaite: memory.
func StratifiedMean(parts []Stratum, confidence float64) (units.Estimate, error) {
	if !(confidence > 0 && confidence < 1) {
		return units.Estimate{}, fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	m, variance, freedom, n, err := stratified(parts)
	if err != nil {
		return units.Estimate{}, err
	}
	half := 0.0
	if variance > 0 {
		half = studentQuantile(confidence, freedom) * math.Sqrt(variance)
	}
	return units.Estimate{Value: tenth(m), Low: tenthDown(m - half), High: tenthUp(m + half), Confidence: confidence, N: n,
		Known: true}, nil
}

func stratified(parts []Stratum) (mean, variance, freedom float64, n int, err error) {
	all := 0
	for i, p := range parts {
		if len(p.Values) > p.Boards || len(p.Values) < min(2, p.Boards) || p.Boards < 1 {
			return 0, 0, 0, 0, fmt.Errorf("part %d has %d values for %d boards: at least two, or all of them, are needed", i+1,
				len(p.Values), p.Boards)
		}
		all += p.Boards
		n += len(p.Values)
	}
	if all == 0 {
		return 0, 0, 0, 0, fmt.Errorf("no part of the load was given")
	}
	below := 0.0 // of Satterthwaite's fraction
	for _, p := range parts {
		m, s := moments(p.Values)
		w, k := float64(p.Boards)/float64(all), float64(len(p.Values))
		v := w * w * s * s / k * (1 - k/float64(p.Boards))
		mean += w * m
		variance += v
		if v > 0 {
			below += v * v / (k - 1)
		}
	}
	if variance > 0 {
		freedom = variance * variance / below
	}
	return mean, variance, freedom, n, nil
}

// moments returns the mean and the standard deviation (with n - 1) in percent MC; the deviation of fewer than two values is 0.
func moments(values []units.MC) (m, s float64) {
	n := int64(len(values))
	var sum, squares int64 // of hundredths: exact, so that equal readings have no spread at all
	for _, v := range values {
		sum += int64(v)
		squares += int64(v) * int64(v)
	}
	m = float64(sum) / float64(n) / 100
	if n > 1 {
		s = math.Sqrt(float64(n*squares-sum*sum)/float64(n*(n-1))) / 100
	}
	return m, s
}

// dust keeps binary rounding from pushing a limit that is a whole tenth one further.
const dust = 1e-9

func tenth(percent float64) units.MC     { return units.MC(math.Round(percent*10)) * 10 }
func tenthUp(percent float64) units.MC   { return units.MC(math.Ceil(percent*10-dust)) * 10 }
func tenthDown(percent float64) units.MC { return units.MC(math.Floor(percent*10+dust)) * 10 }
