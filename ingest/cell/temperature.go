package cell

import (
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

var temperatureKind = kind{"a temperature", finding.CellTemperature, "write it like 60 F or 15 C"}

var temperatureUnits = map[string]Unit{
	"": UnitNone, "°": UnitNone, "deg": UnitNone, "degree": UnitNone, "degrees": UnitNone, "degs": UnitNone,
	"f": Fahrenheit, "° f": Fahrenheit, "deg f": Fahrenheit, "degf": Fahrenheit, "degrees f": Fahrenheit, "fahrenheit": Fahrenheit,
	"degrees fahrenheit": Fahrenheit, "deg fahrenheit": Fahrenheit, "° fahrenheit": Fahrenheit, "f °": Fahrenheit,
	"c": CelsiusUnit, "° c": CelsiusUnit, "deg c": CelsiusUnit, "degc": CelsiusUnit, "degrees c": CelsiusUnit, "celsius": CelsiusUnit,
	"degrees celsius": CelsiusUnit, "deg celsius": CelsiusUnit, "° celsius": CelsiusUnit, "centigrade": CelsiusUnit, "c °": CelsiusUnit,
}

// The coldest and the hottest wood or air of this trade, in degrees Fahrenheit: a hard winter and a hot kiln.
const coldest, hottest = -40, 300

// Temperature reads a temperature from -40 to 300 F.
func Temperature(c sheet.Cell, x Context) (units.Temperature, []Problem) {
	if skip, ps := unread(c); skip {
		return units.Temperature{}, ps
	}
	s, p := temperatureKind.scalar(c, x)
	if p != nil {
		return units.Temperature{}, list(p)
	}
	u, ok := temperatureUnits[s.suffix]
	if !ok {
		return units.Temperature{}, list(temperatureKind.unlike(c, x))
	}
	if u == UnitNone {
		u = x.bare()
	}
	var t units.Temperature
	switch u {
	case Fahrenheit:
		t = units.Fahrenheit(float(s.value))
	case CelsiusUnit:
		t = units.Celsius(float(s.value))
	default:
		return units.Temperature{}, list(fault(finding.CellNoUnit, "write F or C behind it or in the heading", "nothing settles whether %s is in F or C", stands(c, x)))
	}
	// The hundredth of a degree keeps the bounds themselves inside when they come from Celsius.
	if f := t.Fahrenheit(); f < coldest-0.01 || f > hottest+0.01 {
		return units.Temperature{}, list(temperatureKind.outside(c, x, "-40 to 300 F (-40 to 149 C)"))
	}
	return t, list(s.about)
}
