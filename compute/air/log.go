package air

import (
	"errors"

	"drytally/compute/units"
)

// Record is one line of an air log: a dry bulb with either the humidity or the wet bulb. The humidity counts when both are
// given.
type Record struct {
	DryBulb, WetBulb units.Temperature
	Humidity         units.Humidity
}

// EMC returns the equilibrium moisture content of the record. Errors: those of Equilibrium and HumidityFromWetBulb.
func (r Record) EMC() (EMC, error) {
	h := r.Humidity
	if !h.Known() {
		var err error
		if h, err = HumidityFromWetBulb(r.DryBulb, r.WetBulb); err != nil {
			return EMC{}, err
		}
	}
	return Equilibrium(r.DryBulb, h)
}

// Summary is what an air log says of the wood in that air.
type Summary struct {
	Lowest       units.MC // no board can have become drier than this
	At           int      // index of the record with the lowest EMC, the first of several
	Mean         units.MC // plain mean over the used records
	Used         int      // records that gave an EMC; 0 means nothing else here is set
	Extrapolated bool     // the lowest lies outside the equation's working range
	Unused       []Unused
}

// Unused is a record of which no EMC could be made.
type Unused struct {
	Index int
	Err   error
}

// ErrNoRecord: a log has no record that gives an EMC.
var ErrNoRecord = errors.New("no line of the air log has temperature and humidity")

// Summarize goes through a log. The mean is plain: it stands for the time between only when the lines are evenly spaced.
// A log without one usable line gives ErrNoRecord beside the list of unused records.
func Summarize(log []Record) (Summary, error) {
	var s Summary
	var sum float64
	for i, r := range log {
		e, err := r.EMC()
		if err != nil {
			s.Unused = append(s.Unused, Unused{Index: i, Err: err})
			continue
		}
		if s.Used == 0 || e.MC < s.Lowest {
			s.Lowest, s.At, s.Extrapolated = e.MC, i, e.Extrapolated
		}
		sum += e.MC.Percent()
		s.Used++
	}
	if s.Used == 0 {
		return s, ErrNoRecord
	}
	s.Mean = units.Percent(sum / float64(s.Used))
	return s, nil
}
