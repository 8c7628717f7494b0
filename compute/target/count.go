package target

import (
	"fmt"
	"math"

	"drytally/compute/units"
)

// WasteRule says how a share of waste is counted; both are in print and they differ, so the rule is named with the count.
type WasteRule uint8

// The two rules.
const (
	// AddWaste multiplies by 1 + w (Western Wood Products Association coverage estimator, 10 %; seen).
	AddWaste WasteRule = iota
	// LoseWaste divides by 1 - w: of what is sawn the share w is lost (Army subcourse EN01136, 15 %; seen).
	LoseWaste
)

// String gives the words printed beside a count.
func (r WasteRule) String() string {
	return [...]string{"waste added to what is needed", "waste taken out of what is sawn"}[r]
}

// With returns need with the waste counted in. waste is 0 or more and below 1.
func (r WasteRule) With(need, waste float64) (float64, error) {
	if !(need >= 0) || math.IsInf(need, 1) || !(waste >= 0 && waste < 1) {
		return 0, fmt.Errorf("the need %g is below 0 or the waste %g outside 0 to 1", need, waste)
	}
	if r == LoseWaste {
		return need / (1 - waste), nil
	}
	return need * (1 + waste), nil
}

// fuzz keeps what is a whole number but for the last bits of a float from being rounded up to the next.
const fuzz = 1e-9

func ceil(x float64) int { return int(math.Ceil(x * (1 - fuzz))) }

// Boards returns the boards to saw for pieces wanted, rounded up to whole boards.
func Boards(pieces int, waste float64, r WasteRule) (int, error) {
	x, err := r.With(float64(pieces), waste)
	return ceil(x), err
}

// Courses returns how many boards side by side cover a run (a floor's width, a wall's height) by what each shows, with
// waste, before and after rounding up.
//
// Source: Army subcourse EN01136; seen.
func Courses(run, exposed units.Length, waste float64, r WasteRule) (exact float64, whole int, err error) {
	if run <= 0 || exposed <= 0 {
		return 0, 0, fmt.Errorf("the run %s or the exposed face %s is not above 0", run, exposed)
	}
	exact, err = r.With(float64(run)/float64(exposed), waste)
	return exact, ceil(exact), err
}

// LinealFactor returns the lineal feet that cover one square foot by boards that show the exposed face: 12 / e.
//
// Source: Western Wood Products Association, Natural Wood Siding, Table 4 and its coverage estimator; seen.
func LinealFactor(exposed units.Length) (float64, error) {
	if exposed <= 0 {
		return 0, fmt.Errorf("the exposed face %s is not above 0", exposed)
	}
	return float64(12*units.Inch) / float64(exposed), nil // WWPA coverage estimator
}

// FootageFactor returns the board feet that cover one square foot: nominal width / e, times the nominal thickness in inches.
//
// Source: as LinealFactor; seen.
func FootageFactor(nominalThickness, nominalWidth, exposed units.Length) (float64, error) {
	if nominalThickness <= 0 || nominalWidth <= 0 || exposed <= 0 {
		return 0, fmt.Errorf("a size is not above 0: %s, %s, %s", nominalThickness, nominalWidth, exposed)
	}
	return nominalThickness.Inches() * float64(nominalWidth) / float64(exposed), nil // WWPA coverage estimator
}

// Cover is the boards that cover an area.
type Cover struct {
	LinealFeet float64 // with the waste
	Pieces     int     // of the length asked for, rounded up; 0 when no length was given
}

// Area returns the boards that cover squareFeet by the face that shows, with waste. length 0 leaves the pieces out.
func Area(squareFeet float64, exposed, length units.Length, waste float64, r WasteRule) (Cover, error) {
	factor, err := LinealFactor(exposed)
	if err != nil {
		return Cover{}, err
	}
	if length < 0 {
		return Cover{}, fmt.Errorf("the length %s is below 0", length)
	}
	feet, err := r.With(squareFeet*factor, waste)
	if err != nil {
		return Cover{}, err
	}
	out := Cover{LinealFeet: feet}
	if length > 0 {
		out.Pieces = OfLength(feet, length)
	}
	return out, nil
}

// OfLength returns the boards of one length that hold so many running feet, rounded up. length must be above 0.
func OfLength(feet float64, length units.Length) int { return ceil(feet / length.Feet()) }

// EvenCourses returns how many whole courses fill a height nearest to the exposure wished, and the exposure that makes them
// come out even. The exposure can be a little above the one wished: check that the lap left is wide enough.
//
// Source: US Navy builder training manual 14044; seen.
func EvenCourses(height, wished units.Length) (courses int, exposure units.Length, err error) {
	if height <= 0 || wished <= 0 {
		return 0, 0, fmt.Errorf("the height %s or the exposure %s is not above 0", height, wished)
	}
	courses = max(1, int((height+wished/2)/wished))
	return courses, units.Length(math.Round(float64(height) / float64(courses))), nil
}
