// Package target computes what to set the saw to, so that a piece is still full size after it shrinks and is planed, what
// share of the boards then cleans up, and how many boards to saw.
package target

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"drytally/compute/shrink"
	"drytally/compute/units"
)

// Want is one dimension of a wanted piece and what it takes to get there.
type Want struct {
	Finished  units.Length // net size after planing
	Planing   units.Length // taken off in all: both faces for a thickness, both edges for a width; 0 for a rough piece
	Direction shrink.Direction
	MC        units.MC     // moisture content it is planed at; at or above the fiber saturation point nothing shrinks
	SawSpread units.Length // total standard deviation of the sawing
	Scant     float64      // share of boards allowed to come out scant, 0..0.5
	Step      units.Length // the saw is set in steps of this
}

// Setting is what to set the saw to for one dimension.
type Setting struct {
	Exact   units.Length // before rounding up
	Setting units.Length // Exact rounded up to the saw's step
	Shrink  float64      // share of the green size, to the moisture content wanted
	Z       float64      // standard deviations of sawing above the least size
	// Full is the setting at which the share 1 - Scant cleans up when the spread of the wood's shrinkage is counted beside
	// that of the saw, rounded up to the step. It is never below Setting's share of boards for the same Scant.
	Full     units.Length
	Dry      units.LengthRange // size of the boards at the moisture content, sawn at Setting
	CleansUp float64           // share of boards sawn at Setting that clean up in this dimension, 0..1
}

func (w Want) check() error {
	var errs []error
	if w.Finished <= 0 || w.Finished > 10*units.Metre {
		errs = append(errs, fmt.Errorf("the finished size %s is not above 0 and at most 10 m", w.Finished))
	}
	if w.Planing < 0 || w.Planing > units.Metre {
		errs = append(errs, fmt.Errorf("the planing allowance %s is not 0 to 1 m", w.Planing))
	}
	if w.SawSpread < 0 || w.SawSpread > units.Inch {
		errs = append(errs, fmt.Errorf("the sawing spread %s is not 0 to 1 inch", w.SawSpread))
	}
	if w.Step <= 0 || w.Step > units.Inch {
		errs = append(errs, fmt.Errorf("the step of the saw %s is not above 0 and at most 1 inch", w.Step))
	}
	return errors.Join(errs...)
}

// For returns the saw setting for one dimension: (finished + planing) / (1 - S) + Z St, rounded up to the saw's step.
//
// S is the shrinkage to w.MC, Z the normal quantile of the boards not allowed scant, St the total sawing spread. The
// formula covers the saw's spread and takes the wood's average shrinkage: CleansUp counts both spreads, and Full is the
// setting that would cover both.
// The error names the field out of range.
//
// Source: Brown, Lumber Size Control, Part 2, Oregon State University EM 8731 (2000): the model of critical size plus Z ST
// seen (pp. 12 to 15), the surfaced-dry form with division memory; dividing follows from the Wood Handbook's shrinkage being
// a share of the green size.
// Known disagreement: some handouts multiply by 1 + S, which is short by 0.16 % at S = 4 %.
func For(w Want) (Setting, error) {
	if err := w.check(); err != nil {
		return Setting{}, err
	}
	z, err := Z(w.Scant)
	if err != nil {
		return Setting{}, err
	}
	s, err := w.Direction.To(w.MC)
	if err != nil {
		return Setting{}, err
	}
	out := Setting{Z: z, Shrink: s}
	exact := float64(w.Finished+w.Planing)/(1-s) + z*float64(w.SawSpread) // EM 8731, surfaced dry
	out.Exact = units.Length(math.Round(exact))
	out.Setting = out.Exact.RoundUp(w.Step)
	if out.Full, err = w.full(out.Setting); err != nil {
		return Setting{}, err
	}
	if out.CleansUp, err = CleansUp(out.Setting, w); err != nil {
		return Setting{}, err
	}
	out.Dry, err = shrink.Predict(out.Setting, w.Direction, w.MC, w.SawSpread)
	return out, err
}

// CleansUp returns the share of boards sawn at a setting that still have the finished size and the planing allowance when
// they are dry: the share whose dry size is not below Finished + Planing. Sawing (SawSpread) and shrinkage
// (shrink.PieceSpread) are counted as independent normal spreads. With mixed sawing it is the mean over all shrinkages
// between the two, evenly spread. Scant and Step are not used.
//
// Source: derived; the spread of the wood is of the Wood Handbook FPL-GTR-190 (2010), chapter 4, memory.
func CleansUp(setting units.Length, w Want) (float64, error) {
	if w.Step == 0 {
		w.Step = units.Millimetre // not used here
	}
	if err := w.check(); err != nil {
		return 0, err
	}
	if setting <= 0 || setting > 20*units.Metre {
		return 0, fmt.Errorf("the setting %s is not above 0 and at most 20 m", setting)
	}
	middle, err := w.Direction.To(w.MC)
	if err != nil {
		return 0, err
	}
	share := func(s float64) float64 {
		over := float64(setting)*(1-s) - float64(w.Finished+w.Planing)
		sd := float64(shrink.Deviation(setting, s, w.SawSpread))
		if sd == 0 {
			if over >= 0 {
				return 1
			}
			return 0
		}
		return 0.5 * math.Erfc(-over/sd/math.Sqrt2)
	}
	low, high := w.Direction.Low/w.Direction.Share*middle, w.Direction.High/w.Direction.Share*middle
	if !(high > low) {
		return share(middle), nil
	}
	const slices = 64 // the middles of 64 slices: the share is smooth, the error far below what is printed
	sum := 0.0
	for i := range slices {
		sum += share(low + (high-low)*(float64(i)+0.5)/slices)
	}
	return sum / slices, nil
}

// Both returns the share of boards expected to clean up in thickness and in width, taken as independent. A board that
// shrinks much does so both ways, so the true share lies between this and the smaller of the two.
func Both(thickness, width float64) float64 { return thickness * width }

// full finds the least setting, in whole steps from the one given, at which 1 - Scant of the boards clean up. The share
// grows with the setting, so it is searched by halving.
func (w Want) full(from units.Length) (units.Length, error) {
	want := 1 - max(w.Scant, LeastScant)
	// Half as much again and 12 deviations of the saw are beyond any wood: shrinkage is below 0.3, its spread 15 % of it.
	steps := int((from/2+12*w.SawSpread)/w.Step) + 1
	var failed error
	n := sort.Search(steps+1, func(i int) bool {
		got, err := CleansUp(from+units.Length(i)*w.Step, w)
		failed = errors.Join(failed, err)
		return got >= want
	})
	if failed != nil {
		return 0, failed
	}
	if n > steps {
		return 0, fmt.Errorf("no setting near %s cleans up %.3f of the boards", from, want)
	}
	return from + units.Length(n)*w.Step, nil
}

// LeastScant stands for "no board may be scant": no spread has an end, so the 0.1 % point is taken, as EM 8731's Table 2
// does (its Z of 3.09; seen).
const LeastScant = 0.001

// Z returns the number of standard deviations that leaves the share scant of boards below the least size: the normal
// quantile of 1 - scant. scant is 0..0.5; below LeastScant it counts as LeastScant.
//
// Source: EM 8731 (2000), Table 2; seen; its figures agree with the quantile within 0.015.
func Z(scant float64) (float64, error) {
	if !(scant >= 0 && scant <= 0.5) {
		return 0, fmt.Errorf("the share of scant boards %g is outside 0 to 0.5", scant)
	}
	return math.Sqrt2 * math.Erfinv(1-2*max(scant, LeastScant)), nil // EM 8731 Table 2
}

// TopHead returns what the upper head of a planer takes off a board when the lower head takes its full setting: whatever is
// left above the finished size, and 0 when nothing is.
//
// Source: EM 8731 (2000), p. 5; seen.
func TopHead(board, finished, lowerHead units.Length) units.Length {
	return max(0, board-finished-lowerHead)
}
