package units

import (
	"math"
	"strconv"
)

// Temperature is a temperature; its zero value is "not known". Formulas convert at their edge to the unit of their source.
type Temperature struct {
	celsius float64
	known   bool
}

// Celsius returns the temperature of x degrees Celsius.
func Celsius(x float64) Temperature { return Temperature{celsius: x, known: true} }

// Fahrenheit returns the temperature of x degrees Fahrenheit.
func Fahrenheit(x float64) Temperature { return Temperature{celsius: (x - 32) / 1.8, known: true} }

// Known reports whether the temperature was given.
func (t Temperature) Known() bool { return t.known }

// Celsius gives degrees Celsius.
func (t Temperature) Celsius() float64 { return t.celsius }

// Fahrenheit gives degrees Fahrenheit.
func (t Temperature) Fahrenheit() float64 { return t.celsius*1.8 + 32 }

// Temperature writes a temperature in whole degrees of the system: 68 F or 20 C.
func (s System) Temperature(t Temperature) string {
	if !t.known {
		return "not given"
	}
	if s == Metric {
		return strconv.FormatFloat(math.Round(t.Celsius()), 'f', 0, 64) + " C"
	}
	return strconv.FormatFloat(math.Round(t.Fahrenheit()), 'f', 0, 64) + " F"
}

// Humidity is relative humidity; its zero value is "not known".
type Humidity struct {
	percent float64
	known   bool
}

// RelativeHumidity returns the humidity of x percent, 0..100.
func RelativeHumidity(x float64) Humidity { return Humidity{percent: x, known: true} }

// Known reports whether the humidity was given.
func (h Humidity) Known() bool { return h.known }

// Percent gives the humidity in percent.
func (h Humidity) Percent() float64 { return h.percent }

// Mass is a mass in milligrams. The zero value means "not given".
type Mass int64

// Masses to multiply with.
const (
	Milligram Mass = 1
	Gram           = 1000 * Milligram
	Kilogram       = 1000 * Gram
)

// Grams returns the mass of x grams, rounded to the milligram.
func Grams(x float64) Mass { return Mass(math.Round(x * 1000)) }

// Pounds returns the mass of x avoirdupois pounds, rounded to the milligram.
func Pounds(x float64) Mass { return Mass(math.Round(x * 453_592.37)) }

// Grams gives the mass in grams.
func (m Mass) Grams() float64 { return float64(m) / 1000 }

// Pounds gives the mass in avoirdupois pounds.
func (m Mass) Pounds() float64 { return float64(m) / 453_592.37 }

// MassUnit is a unit weights are written in. The zero value is grams.
type MassUnit uint8

// The units of weight.
const (
	InGrams MassUnit = iota
	InKilograms
	InPounds
	InOunces
)

// String gives the unit's sign.
func (u MassUnit) String() string { return [...]string{"g", "kg", "lb", "oz"}[u] }

// In gives the mass in a unit.
func (m Mass) In(u MassUnit) float64 {
	switch u {
	case InKilograms:
		return float64(m) / 1e6
	case InPounds:
		return m.Pounds()
	case InOunces:
		return m.Pounds() * 16
	}
	return m.Grams()
}

// cubicFoot is a cubic foot in cubic centimetres, exact: 1 ft is 30.48 cm.
const cubicFoot = 30.48 * 30.48 * 30.48

// CubicFeet gives a volume of so many cubic centimetres in cubic feet.
func CubicFeet(cm3 int64) float64 { return float64(cm3) / cubicFoot }

// Solid writes a volume of wood, given in cubic centimetres: 1.93 cubic feet or 0.055 cubic metres.
func (s System) Solid(cm3 int64) string {
	if s == Metric {
		return strconv.FormatFloat(float64(cm3)/1e6, 'f', 3, 64) + " cubic metres"
	}
	return strconv.FormatFloat(CubicFeet(cm3), 'f', 2, 64) + " cubic feet"
}

// Solids writes volumes that make up a whole, so that they come to it as printed: each is the difference of two rounded sums.
func (s System) Solids(cm3 ...int64) []string {
	step := 1e3 // cubic metres are written to the thousandth, cubic feet to the hundredth
	if s != Metric {
		step = cubicFoot / 100
	}
	var out []string
	sum, before := int64(0), 0.0
	for _, v := range cm3 {
		sum += v
		upTo := math.Round(float64(sum) / step)
		out = append(out, s.Solid(int64(math.Round((upTo-before)*step))))
		before = upTo
	}
	return out
}

// Mass writes a mass for a person: 4,600 g stays grams, a pack is given in whole pounds or kilograms.
func (s System) Mass(m Mass) string {
	if s == Metric {
		return strconv.FormatFloat(math.Round(m.Grams()/1000), 'f', 0, 64) + " kg"
	}
	return strconv.FormatFloat(math.Round(m.Pounds()), 'f', 0, 64) + " lb"
}
