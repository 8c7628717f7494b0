// Package drying follows a load by weight: moisture content from ovendry sections and sample boards, the drying curve and
// the day it reaches a target, and how fast is too fast.
package drying

import (
	"errors"
	"fmt"
	"math"

	"drytally/compute/source"
	"drytally/compute/units"
)

// ErrNoWeight: a weight that is needed was not given.
var ErrNoWeight = errors.New("a weight is missing")

// OvendrySource is the source of moisture content by weight.
func OvendrySource() source.Source {
	return source.Source{Document: "ASTM D4442", Place: "definition; sample boards by FOR-128 p. 27 and Wengert (2012)", Status: source.Seen}
}

// SectionMC returns the moisture content of a section by its weight before and after the oven. It can be over 100 %.
//
// To the hundredth; section results by the secondary oven methods are not to be reported finer than whole percents (ASTM
// D4442-16; seen). Errors: ErrNoWeight; a section heavier after the oven than before; more than 400 %, which is a slip.
//
// Source: MC = 100 (wet - ovendry) / ovendry, ASTM D4442 and FOR-128 p. 27, eq. 4; seen.
func SectionMC(wet, ovendry units.Mass) (units.MC, error) {
	share, err := waterShare(wet, ovendry)
	if err != nil {
		return 0, err
	}
	if share < 0 {
		return 0, fmt.Errorf("section of %.1f g weighs %.1f g after the oven: the two weights may be exchanged", wet.Grams(), ovendry.Grams())
	}
	return units.Percent(100 * share), nil
}

// wettest is the most water over wood that any species holds, with room; balsa at its wettest is about here (memory).
const wettest = 4.0

func waterShare(wet, ovendry units.Mass) (float64, error) {
	if wet <= 0 || ovendry <= 0 {
		return 0, ErrNoWeight
	}
	share := float64(wet-ovendry) / float64(ovendry) // ASTM D4442
	if share > wettest {
		return 0, fmt.Errorf("%.1f g of wet wood for %.1f g of ovendry wood is over %.0f %%: check the weights and their units",
			wet.Grams(), ovendry.Grams(), 100*wettest)
	}
	return share, nil
}

// Average returns the mean of the sections' moisture contents, to the hundredth: the MC of the sample board they were cut
// from, at that moment. ok is false without a section.
//
// Source: Wengert (2012); seen.
func Average(sections []units.MC) (mc units.MC, ok bool) {
	if len(sections) == 0 {
		return 0, false
	}
	var sum int64
	for _, s := range sections {
		sum += int64(s)
	}
	return units.MC(math.Round(float64(sum) / float64(len(sections)))), true
}

// OvendryWeight returns the weight a sample board would have after the oven, from its weight and its moisture content on the
// day the sections were cut. Errors: ErrNoWeight, a negative moisture content or one over 400 %.
//
// Source: OD = 100 W / (100 + MC), Wengert (2012); seen.
func OvendryWeight(green units.Mass, mc units.MC) (units.Mass, error) {
	if green <= 0 {
		return 0, ErrNoWeight
	}
	if p := mc.Percent(); p < 0 || p > 100*wettest {
		return 0, fmt.Errorf("moisture content %v %% is outside 0..%.0f %%", mc, 100*wettest)
	}
	return units.Mass(math.Round(float64(green) * 100 / (100 + mc.Percent()))), nil // Wengert (2012)
}

// SampleMC returns the moisture content of a sample board on any day from its weight that day and its ovendry weight, to the
// hundredth. Errors: ErrNoWeight; a board lighter than its ovendry weight (a wrong estimate, or a piece broken off).
//
// Source: MC = 100 (W / OD - 1), Wengert (2012); seen.
func SampleMC(weight, ovendry units.Mass) (units.MC, error) {
	share, err := waterShare(weight, ovendry)
	if err != nil {
		return 0, err
	}
	if share < 0 {
		return 0, fmt.Errorf("sample board of %.1f g is lighter than its ovendry weight %.1f g", weight.Grams(), ovendry.Grams())
	}
	return units.Percent(100 * share), nil // Wengert (2012)
}
