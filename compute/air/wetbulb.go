package air

import (
	"fmt"
	"math"

	"drytally/compute/source"
	"drytally/compute/units"
)

// seaLevel is the pressure the psychrometric formula is used with, in inches of mercury. Higher up the true humidity is a
// little higher than computed: at 3000 ft (26.8 inches) and a depression of 20 F by 0.9 % RH in air of 110 F, by 2.3 % at 80 F.
const seaLevel = 29.92

// The formula is for a wet wick, not an iced one, and for air that is no steam.
const iced, boiling = 32.0, 212.0 // deg F

// WetBulbSource is the source of the psychrometric formula.
func WetBulbSource() source.Source {
	return source.Source{Document: "US Weather Bureau psychrometric formula", Place: "ventilated psychrometer, 29.92 inches of mercury",
		Status: source.Memory}
}

// HumidityFromWetBulb returns the relative humidity of air from its dry bulb and its wet bulb, at sea level and with brisk air
// over the wick (about 600 ft/min, Wengert 2000; seen): a poorly ventilated wick reads too warm and overstates humidity.
//
// Errors: ErrNotGiven; dry bulb over 212 F; wet bulb under 32 F (ice) or above the dry bulb; a depression deeper than
// perfectly dry air gives (a wick run dry makes no depression, so it is rather a slip of the pen).
//
// Source: ventilated psychrometer formula of the US Weather Bureau and saturation pressure by Hyland and Wexler; both memory.
// Checked: 110/100 F gives 70 % (Wengert 2000; seen), 68/62 F gives 71 % (US Army TM 5-3610-285-14; seen).
func HumidityFromWetBulb(dry, wet units.Temperature) (units.Humidity, error) {
	if !dry.Known() || !wet.Known() {
		return units.Humidity{}, ErrNotGiven
	}
	td, tw := dry.Fahrenheit(), wet.Fahrenheit()
	switch {
	case !(td <= boiling):
		return units.Humidity{}, fmt.Errorf("dry bulb %.1f F is over %g F", td, boiling)
	case !(tw >= iced):
		return units.Humidity{}, fmt.Errorf("wet bulb %.1f F is under %g F, where the wick is ice", tw, iced)
	case tw > td+sameReading:
		return units.Humidity{}, fmt.Errorf("wet bulb %.1f F is above dry bulb %.1f F", tw, td)
	}
	tw = math.Min(tw, td)
	e := saturation(tw) - 0.000367*seaLevel*(td-tw)*(1+(tw-32)/1571) // US Weather Bureau
	if e < 0 {
		return units.Humidity{}, fmt.Errorf("wet bulb %.1f F is lower than even dry air of %.1f F makes it", tw, td)
	}
	return units.RelativeHumidity(math.Min(100, 100*e/saturation(td))), nil
}

// sameReading is the dust by which two equal thermometers may differ after conversion from Celsius.
const sameReading = 1e-9

// saturation returns the vapor pressure of water at t degrees Fahrenheit in inches of mercury, 32..212 F.
//
// Source: Hyland and Wexler over liquid water, pascals from kelvins; memory. It gives 29.95 at 212 F.
func saturation(t float64) float64 {
	const pascalPerInchOfMercury = 3386.389 // at 32 F
	k := (t-32)/1.8 + 273.15
	ln := -5800.2206/k + 1.3914993 - 0.048640239*k + 0.000041764768*k*k - 0.000000014452093*k*k*k +
		6.5459673*math.Log(k) // Hyland and Wexler
	return math.Exp(ln) / pascalPerInchOfMercury
}
