package main

import "math"

// timber is a wood with its shrinkage from green to ovendry as a share of the green size.
type timber struct {
	name               string
	radial, tangential float64
}

// Source: Wood Handbook FPL-GTR-190 (2010), Table 4-3; ash and cherry seen, eastern white pine memory.
var (
	whiteAsh    = timber{"white ash", 0.049, 0.078}
	blackCherry = timber{"black cherry", 0.037, 0.071}
	whitePine   = timber{"eastern white pine", 0.021, 0.061}
)

// fiberSaturation is the moisture content below which wood shrinks, percent. Source: Wood Handbook FPL-GTR-282 (2021),
// equation 4-9; seen in a transcription.
const fiberSaturation = 30.0

// dried gives the size at moisture content mc (percent) of a piece that was green when it was sawn. s0 is the shrinkage
// from green to ovendry as a share of the green size.
//
// Source: Wood Handbook FPL-GTR-282 (2021), equation 4-9; seen in a transcription.
func dried(green, s0, mc float64) float64 {
	if mc >= fiberSaturation {
		return green
	}
	return green * (1 - s0*(fiberSaturation-mc)/fiberSaturation) // eq. 4-9
}

// emc gives the equilibrium moisture content in percent of air at f degrees Fahrenheit and relative humidity rh, 0..1.
//
// Source: Wood Handbook FPL-GTR-190 (2010), equation 4-5; form seen, coefficients seen at second hand.
func emc(f, rh float64) float64 {
	w := 330 + 0.452*f + 0.00415*f*f
	k := 0.791 + 0.000463*f - 0.000000844*f*f
	k1 := 6.34 + 0.000775*f - 0.0000935*f*f
	k2 := 1.09 + 0.0284*f - 0.0000904*f*f
	kh := k * rh
	return 1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh)) // eq. 4-5
}

// humidityFor gives the relative humidity, 0..1, at which air at f degrees Fahrenheit has the wanted emc.
func humidityFor(f, wanted float64) float64 {
	return bisect(0.01, 0.99, func(rh float64) bool { return emc(f, rh) > wanted })
}

// saturation gives the vapor pressure over water in kPa at c degrees Celsius: the Magnus form; memory.
func saturation(c float64) float64 { return 0.61094 * math.Exp(17.625*c/(c+243.04)) }

// wetBulb gives the wet-bulb temperature in Fahrenheit of air at f degrees Fahrenheit and relative humidity rh, 0..1, by
// the psychrometer equation for a ventilated wick at sea level, 0.000662 per degree C; seen at second hand.
func wetBulb(f, rh float64) float64 {
	const seaLevel = 101.325 // kPa
	c := celsius(f)
	vapor := rh * saturation(c)
	w := bisect(c-60, c, func(w float64) bool { return saturation(w)-0.000662*seaLevel*(c-w) > vapor })
	return fahrenheit(w)
}

// shown gives what a pin meter shows in wood of moisture content u (percent) at c degrees Celsius: the temperature
// formula of Pfaff and Garrahan (1986), u = (R + 0.567 - 0.0260x + 0.000051x^2) / (0.881 * 1.0056^x), solved for R.
// Form and constants seen, attribution memory.
func shown(u, c float64) float64 {
	return u*0.881*math.Pow(1.0056, c) - 0.567 + 0.0260*c - 0.000051*c*c
}

// corrected is shown the other way round: moisture content from what the meter shows.
func corrected(reading, c float64) float64 {
	return (reading + 0.567 - 0.0260*c + 0.000051*c*c) / (0.881 * math.Pow(1.0056, c))
}

// curve is a sample board's drying: moisture content after so many days in air of one equilibrium,
// m(t) = e + (start - e) exp(-k t). Falling exponential; the usual textbook form, memory.
type curve struct{ start, e, k float64 }

// through gives the curve from start to end in so many days.
func through(start, e, end, days float64) curve {
	return curve{start, e, math.Log((start-e)/(end-e)) / days}
}

func (c curve) at(days float64) float64 { return c.e + (c.start-c.e)*math.Exp(-c.k*days) }

func celsius(f float64) float64    { return (f - 32) / 1.8 }
func fahrenheit(c float64) float64 { return c*1.8 + 32 }

// bisect finds where above turns from false to true between low and high.
func bisect(low, high float64, above func(float64) bool) float64 {
	for range 60 {
		mid := (low + high) / 2
		if above(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return (low + high) / 2
}

// to rounds x to the nearest step, which must be one part of a whole number of parts of 1. Dividing by that whole number
// keeps 8.1 from becoming 8.100000000000001.
func to(x, step float64) float64 {
	parts := math.Round(1 / step)
	return math.Round(x*parts) / parts
}
