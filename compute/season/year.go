// Package season says where the wood goes: the moisture content that the air of a place leads it to through the year, how much
// a finished piece moves with it, and what the air of a store does to boards after the kiln.
package season

import (
	"errors"
	"fmt"
	"time"

	"drytally/compute/air"
	"drytally/compute/units"
)

// Month is the mean air of one month at one place.
type Month struct {
	Month    time.Month
	Temp     units.Temperature
	Humidity units.Humidity
}

// MonthEMC is a month with the moisture content its air leads wood to.
type MonthEMC struct {
	Month        time.Month
	MC           units.MC // to the tenth
	Extrapolated bool     // outside the working range of the sorption equation: below 30 F, under 5 or over 95 % humidity
}

// Year is what the months of a place come to.
type Year struct {
	Months       []MonthEMC // in the order given
	Low, High    MonthEMC   // the driest and the dampest of them, the first of equals
	Extrapolated int        // months outside the working range
}

// ErrNoMonth: there is no month to go by.
var ErrNoMonth = errors.New("no month has temperature and humidity")

// Of computes a year from its months. It can be given fewer than twelve: then the year may go further than Low and High.
//
// Errors: ErrNoMonth; a month that is none of the twelve or stands twice; the errors of air.Equilibrium.
//
// Source: the sorption equation on monthly means. The mean of a month's moisture contents lies a little off that of its mean
// air, because the equation is curved; boards follow slowly, so their own year is narrower than this one. Derived.
func Of(months []Month) (Year, error) {
	var y Year
	seen := map[time.Month]bool{}
	for _, m := range months {
		if m.Month < time.January || m.Month > time.December {
			return Year{}, fmt.Errorf("month %d is none of the twelve", m.Month)
		}
		if seen[m.Month] {
			return Year{}, fmt.Errorf("%s stands twice", m.Month)
		}
		seen[m.Month] = true
		e, err := air.Equilibrium(m.Temp, m.Humidity)
		if err != nil {
			return Year{}, fmt.Errorf("%s: %w", m.Month, err)
		}
		k := MonthEMC{Month: m.Month, MC: e.MC.Tenth(), Extrapolated: e.Extrapolated}
		if len(y.Months) == 0 || k.MC < y.Low.MC {
			y.Low = k
		}
		if len(y.Months) == 0 || k.MC > y.High.MC {
			y.High = k
		}
		if k.Extrapolated {
			y.Extrapolated++
		}
		y.Months = append(y.Months, k)
	}
	if len(y.Months) == 0 {
		return Year{}, ErrNoMonth
	}
	return y, nil
}
