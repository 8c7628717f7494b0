package drying

import (
	"fmt"
	"math"

	"drytally/compute/air"
	"drytally/compute/source"
	"drytally/compute/units"
)

// RedOakSource is the source of the red oak model.
func RedOakSource() source.Source {
	return source.Source{Document: "Simpson and Tschernitz", Status: source.SecondHand,
		Place: "red oak drying model, by a public notebook citing an encyclopaedia article"}
}

// RedOakDays returns about how many days northern red oak of a thickness takes from one moisture content to another in air that
// stays the same. It is for a coarse range only: it assumes constant air and grows without end as the target nears the EMC.
//
// Errors: those of air.Equilibrium; thickness not above 0; to at or above from; a target at or below the EMC of the air.
//
// Source: (M - Me)/(M0 - Me) = exp(-t/tau), tau = L^1.52 / (0.0575 + 0.00142 p), L in inches, p the saturation pressure in mm
// of mercury; second hand. Worked example: 1.5 in, 72 F, 72 % RH, 100 to 14 % in 113.4 days (printed output seen).
func RedOakDays(thickness units.Length, t units.Temperature, h units.Humidity, from, to units.MC) (days float64, err error) {
	share, err := air.WaterShare(t, h)
	if err != nil {
		return 0, err
	}
	e, m0, m := 100*share, from.Percent(), to.Percent()
	switch {
	case thickness <= 0:
		return 0, fmt.Errorf("thickness %v is not above 0", thickness)
	case m >= m0:
		return 0, fmt.Errorf("%v %% is not drier than %v %%", to, from)
	case m <= e:
		return 0, fmt.Errorf("air with an EMC of %.1f %% does not dry to %v %%", e, to)
	}
	pressure := math.Pow(10, 8.07131-1730.63/(233.426+t.Celsius())) // mm of mercury, as printed with the model
	tau := math.Pow(thickness.Inches(), 1.52) / (0.0575 + 0.00142*pressure)
	return tau * math.Log((m0-e)/(m-e)), nil // red oak model
}
