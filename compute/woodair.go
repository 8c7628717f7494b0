package compute

import (
	"time"

	"drytally/compute/units"
)

// nearAir is how far from a reading a line of the air log may lie to stand for the wood's temperature. This project's choice;
// stackSpread is tried either way.
const nearAir = time.Hour

// takeAirTemps gives readings with a clock time and without wood temperature the temperature of the load's air within the
// hour. A reading at midnight sharp is one with no clock time.
func (x *index) takeAirTemps(load string, readings []boardReading) {
	i, ok := x.loads[load]
	if !ok || x.job.Settings.Meter == DielectricMeter || x.job.Settings.MeterWoodTemp == Yes {
		return
	}
	rows, _ := x.airOf(&x.job.Loads[i])
	for _, r := range readings {
		at := r.reading.Date
		if r.reading.WoodTemp.Known() || at.IsZero() || at.Equal(day(at)) {
			continue
		}
		nearest, found := nearAir, units.Temperature{}
		for _, a := range rows {
			if g := gap(a.Time, at); !a.Time.Equal(day(a.Time)) && (g < nearest || g == nearest && !found.Known()) {
				nearest, found = g, a.DryBulb
			}
		}
		if found.Known() {
			x.airTemps[r.reading] = found
		}
	}
}

// airOfDays gives the coolest and the warmest air logged for a load, wherever, on the days of some readings or the day before
// or after. Readings mostly carry a day and no time, and wood follows the air around it.
func (x *index) airOfDays(load string, readings []boardReading) (low, high float64, ok bool) {
	days := map[time.Time]bool{}
	for _, r := range readings {
		if d := day(r.reading.Date); !r.reading.Date.IsZero() {
			days[d], days[d.AddDate(0, 0, -1)], days[d.AddDate(0, 0, 1)] = true, true, true
		}
	}
	for _, a := range x.job.Air {
		if a.Load != "" && key(a.Load) != load || !days[day(a.Time)] {
			continue
		}
		c := a.DryBulb.Celsius()
		if !ok || c < low {
			low = c
		}
		if !ok || c > high {
			high = c
		}
		ok = true
	}
	return low, high, ok
}

// airRange gives the coolest and the warmest of the temperatures taken from the air log. all is false when a reading has
// neither its own temperature nor one of the log, or when none was taken from the log.
func (x *index) airRange(readings []boardReading) (low, high float64, all bool) {
	n := 0
	for _, r := range readings {
		t, ok := x.airTemps[r.reading]
		if !ok {
			if !r.reading.WoodTemp.Known() {
				return 0, 0, false
			}
			continue
		}
		c := t.Celsius()
		if n == 0 || c < low {
			low = c
		}
		if n == 0 || c > high {
			high = c
		}
		n++
	}
	return low, high, n > 0
}
