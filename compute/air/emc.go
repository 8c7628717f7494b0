// Package air knows what the air does to wood: the moisture content wood comes to in air of a temperature and humidity,
// the humidity from two thermometers, and the moisture content the handbook recommends for a use.
package air

import (
	"errors"
	"fmt"

	"drytally/compute/source"
	"drytally/compute/units"
)

// EMC is an equilibrium moisture content.
type EMC struct {
	MC           units.MC // to the hundredth; print its Tenth at the finest, the equation and the printed table differ by that
	Extrapolated bool     // outside the working range 30..212 F and 5..95 % relative humidity
}

// The working range. Table 4-2 of the Wood Handbook runs 30 to 270 F and 5 to 95 % (memory; 30 to 130 F and 5 to 90 % seen);
// above 212 F the equation is extrapolation (memory).
const (
	coolest, warmest = 30.0, 212.0 // deg F
	driest, dampest  = 5.0, 95.0   // percent relative humidity
)

// The temperatures beyond which nothing is computed: liquid water and the fits of the equation end well inside. The table
// itself ends at 270 F (memory).
const absurdlyCold, absurdlyHot = -40.0, 270.0 // deg F

// ErrNotGiven: temperature or humidity is not known.
var ErrNotGiven = errors.New("temperature or humidity is not given")

// EMCSource is the source of the sorption equation.
func EMCSource() source.Source {
	return source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "eq. 4-5", Status: source.SecondHand}
}

// Equilibrium returns the equilibrium moisture content of wood in air of a temperature and relative humidity.
//
// Errors: ErrNotGiven; temperature outside -40..270 F; humidity outside 0..100 %. At 100 % it still returns a number, which
// is no fiber saturation point. Species, stress and whether the wood gains or loses water are not in it: wood gaining
// moisture settles about 1 point lower (Wengert 2014; seen).
//
// Source: Wood Handbook FPL-GTR-190 (2010), eq. 4-5 with the Fahrenheit coefficients; form seen, coefficients second hand,
// identical in two unrelated public files. Known disagreement: the Dry Kiln Operator's Manual tables (AH-188) differ by up
// to 0.5 % MC (Mitchell 2018; seen).
func Equilibrium(t units.Temperature, h units.Humidity) (EMC, error) {
	share, err := WaterShare(t, h)
	if err != nil {
		return EMC{}, err
	}
	f, rh := t.Fahrenheit(), h.Percent()
	return EMC{MC: units.Percent(100 * share), Extrapolated: !(f >= coolest && f <= warmest && rh >= driest && rh <= dampest)}, nil
}

// WaterShare is Equilibrium without rounding: the mass of water over the mass of ovendry wood, 0..about 0.3, for formulas
// that go on from it. Errors as Equilibrium.
func WaterShare(t units.Temperature, h units.Humidity) (float64, error) {
	if !t.Known() || !h.Known() {
		return 0, ErrNotGiven
	}
	if f := t.Fahrenheit(); !(f >= absurdlyCold && f <= absurdlyHot) {
		return 0, fmt.Errorf("temperature %.0f F is outside %g..%g F", f, absurdlyCold, absurdlyHot)
	}
	if rh := h.Percent(); !(rh >= 0 && rh <= 100) {
		return 0, fmt.Errorf("relative humidity %.1f is outside 0..100 %%", rh)
	}
	return sorption(fahrenheitSet(t.Fahrenheit()), h.Percent()/100) / 100, nil
}

// coefficients are W, K, K1 and K2 of equation 4-5 at one temperature.
type coefficients struct{ w, k, k1, k2 float64 }

// fahrenheitSet is used everywhere. Source: two unrelated public files, one citing Simpson (1973); second hand.
func fahrenheitSet(t float64) coefficients {
	return coefficients{
		w:  330 + 0.452*t + 0.00415*t*t,          // W of eq. 4-5
		k:  0.791 + 0.000463*t - 0.000000844*t*t, // K
		k1: 6.34 + 0.000775*t - 0.0000935*t*t,    // K1
		k2: 1.09 + 0.0284*t - 0.0000904*t*t,      // K2
	}
}

// celsiusSet is a second fit of the same data, kept to check the first: the two differ by at most 0.011 % MC from 30 to 160 F
// and 5 to 90 %. Source: public code citing FPL-RN-0268; second hand.
func celsiusSet(t float64) coefficients {
	return coefficients{
		w:  349 + 1.29*t + 0.0135*t*t,           // W of eq. 4-5
		k:  0.805 + 0.000736*t - 0.00000273*t*t, // K
		k1: 6.27 - 0.00938*t - 0.000303*t*t,     // K1
		k2: 1.91 + 0.0407*t - 0.000293*t*t,      // K2
	}
}

// sorption returns the equilibrium moisture content in percent at relative humidity h, 0..1.
func sorption(c coefficients, h float64) float64 {
	kh := c.k * h
	one, two := c.k1*kh, c.k1*c.k2*kh*kh
	return 1800 / c.w * (kh/(1-kh) + (one+2*two)/(1+one+two)) // eq. 4-5
}

// HumidityFor returns the relative humidity at which wood comes to the moisture content mc in air of temperature t.
// Extrapolated as in EMC. Errors: ErrNotGiven, temperature as in Equilibrium, and a moisture content below 0 or above what
// saturated air gives.
//
// Source: eq. 4-5 solved by bisection; it rises with humidity.
func HumidityFor(mc units.MC, t units.Temperature) (h units.Humidity, extrapolated bool, err error) {
	most, err := WaterShare(t, units.RelativeHumidity(100))
	if err != nil {
		return units.Humidity{}, false, err
	}
	want := mc.Percent() / 100
	if want < 0 || want > most {
		return units.Humidity{}, false, fmt.Errorf("no humidity gives %v %% at %.0f F: the range is 0..%.1f %%", mc, t.Fahrenheit(), 100*most)
	}
	low, high := 0.0, 100.0
	for range 60 { // 100 / 2^60: far below any hygrometer
		mid := (low + high) / 2
		if share, err := WaterShare(t, units.RelativeHumidity(mid)); err != nil {
			return units.Humidity{}, false, err
		} else if share < want {
			low = mid
		} else {
			high = mid
		}
	}
	rh := (low + high) / 2
	f := t.Fahrenheit()
	return units.RelativeHumidity(rh), !(f >= coolest && f <= warmest && rh >= driest && rh <= dampest), nil
}
