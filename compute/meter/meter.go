// Package meter turns what a hand-held moisture meter showed into moisture content: first the temperature of the wood,
// then the species. It says what was not corrected, what is only rough, and what the meter cannot tell.
package meter

import (
	"errors"
	"fmt"
	"math"

	"drytally/compute/source"
	"drytally/compute/units"
)

// Question is one answer of a meter and what is known of how it was taken.
type Question struct {
	Reading     units.Reading
	Dielectric  bool              // a pinless meter: it is never corrected
	Wood        units.Temperature // of the wood, not of the air; not known: no temperature correction is made
	Species     string            // everyday name; empty: not said
	TempDone    bool              // the meter itself corrected for the temperature of the wood
	SpeciesDone bool              // the meter was set to the species
}

// Outcome says what became of one step of the correction. The zero value is "not given".
type Outcome uint8

// The outcomes.
const (
	NotGiven    Outcome = iota // temperature or species was not given: nothing was done
	Applied                    // the published correction was added
	DoneByMeter                // the meter did it already
	NoSeenTable                // the species has no table that was seen: nothing was done
	Uncorrected                // a dielectric meter: no published correction is used
)

// String gives the words printed.
func (o Outcome) String() string {
	return [...]string{"not given", "applied", "done by the meter", "no seen table", "left uncorrected"}[o]
}

// Trust says how far a number can be relied on as a number. The zero value is "not judged" (no number was shown).
type Trust uint8

// The degrees of trust, judged by the reading and by the corrected moisture content, whichever is further out.
const (
	NotJudged  Trust = iota
	Sure             // inside the range all sources allow
	AtTheEdge        // between the narrowest and the widest range sources give: better taken as a limit
	OutOfRange       // an indication only: never a number in a mean
)

// The range in which a meter's number is a number, in percent MC.
//
// Resistance: 7 to 28 (small-kiln manual FOR-128; seen), 8 to 25 (University of Tasmania on AS/NZS 1080.1; seen), 5 to 28
// (New Zealand wood information; seen), 6 to 30 (Wood Handbook FPL-GTR-190, ch. 13; seen). The sure range 7 to 25 and the
// widest 6 to 28 are this project's choice from these.
// Dielectric: 4 to 30 (Wood Handbook FPL-GTR-190, ch. 13; seen).
const (
	pinSureLow, pinSureHigh = 7, 25
	pinLow, pinHigh         = 6, 28
	plateLow, plateHigh     = 4, 30
)

// highestReading is the highest number taken as a meter's answer. Over it the number is no reading at all.
const highestReading = 100

// driest is the least moisture content a correction may lead to: hot wood that reads 1 % would come out below nothing. Such
// an answer is OutOfRange anyway.
const driest = 0

// Answer is a corrected reading.
type Answer struct {
	State       units.ReadingState
	MC          units.MC // Number: rounded to the nearest tenth; BelowRange: the wood is under this; AboveRange: it is over this
	Temperature TemperatureStep
	Species     SpeciesStep
	Trust       Trust
	Frozen      bool // the wood was frozen, but dry enough to be read (below fiber saturation no water freezes)
}

// Errors that a caller may want to tell apart.
var (
	// ErrFrozen: frozen wood above fiber saturation reads far too low (FPL-GTR-6; memory).
	ErrFrozen = errors.New("frozen wood this wet is not read by a pin meter: let it thaw and measure again")
	// ErrNoMark: the meter showed its low or high mark, and which number that is was not said.
	ErrNoMark = errors.New("the meter showed its low or high mark, and the number of that mark is not known")
)

// Correct corrects one reading: wood temperature first, then species. Formulas work in float64 and the result is rounded
// once, at the end: a number to the nearest tenth, a limit outward to the next tenth.
//
// A mark below or above the meter's range is corrected like a number and stays a limit. A reading that was not taken comes
// back as such. Errors: a reading outside 0..100 %, wood outside -20..50 C, ErrNoMark, ErrFrozen.
//
// Order of the steps: the temperature formula is built on the Douglas-fir scale and the species follows it (seen in three
// public source files); AS/NZS 1080.1 has the same order (memory).
func Correct(q Question) (Answer, error) {
	a := Answer{State: q.Reading.State}
	if q.Reading.State == units.NotTaken {
		return a, nil
	}
	if q.Reading.State != units.Number && q.Reading.MC == 0 {
		return Answer{}, ErrNoMark
	}
	read := q.Reading.MC.Percent()
	if read < 0 || read > highestReading {
		return Answer{}, fmt.Errorf("reading %q is outside 0..%d %%", q.Reading, highestReading)
	}
	if q.Dielectric {
		a.Temperature.Outcome, a.Species.Outcome = Uncorrected, Uncorrected
		a.Temperature.Source, a.Species.Source = dielectricSource, dielectricSource
		a.MC, a.Trust = round(q.Reading.State, read), trustPlate(q.Reading.State, read)
		return a, nil
	}

	warm, step, err := temperatureStep(q, read)
	if err != nil {
		return Answer{}, err
	}
	a.Temperature = step
	if a.Frozen = q.Wood.Known() && q.Wood.Celsius() <= freezing; a.Frozen {
		// The wetter of the two methods decides, since a frozen wet board shows too little.
		if q.Reading.State == units.AboveRange || math.Max(warm, step.figure) > pinHigh {
			return Answer{}, ErrFrozen
		}
	}
	mc, kind := speciesStep(q, warm)
	a.Species = kind
	mc = math.Max(mc, driest)
	a.MC, a.Trust = round(q.Reading.State, mc), trustPin(q.Reading.State, read, mc)
	return a, nil
}

// Between corrects a reading for wood at either of two temperatures, for a wood temperature that was not written down. The
// warmer wood gives the lower moisture content; every temperature between gives a value between.
// The temperature and TempDone of q are not used otherwise; errors are those of Correct.
func Between(q Question, a, b units.Temperature) (low, high Answer, err error) {
	warm, cold := a, b
	if cold.Celsius() > warm.Celsius() {
		warm, cold = cold, warm
	}
	q.Wood = warm
	if low, err = Correct(q); err != nil {
		return Answer{}, Answer{}, err
	}
	q.Wood = cold
	if high, err = Correct(q); err != nil {
		return Answer{}, Answer{}, err
	}
	return low, high, nil
}

var dielectricSource = source.Source{
	Document: "Wengert, column on moisture meters", Status: source.Seen,
	Place: "dielectric meters follow density; no published table of corrections is used",
}

// round is the one rounding of a result: a number to the nearest tenth of a percent, a limit outward. It goes straight from
// float64 to tenths; by way of hundredths 12.647 would become 12.65 and then 12.7.
func round(s units.ReadingState, percent float64) units.MC {
	const dust = 1e-9 // binary dust must not push a limit that is a whole tenth one further
	tenths := math.Round(percent * 10)
	switch s {
	case units.BelowRange:
		tenths = math.Ceil(percent*10 - dust)
	case units.AboveRange:
		tenths = math.Floor(percent*10 + dust)
	}
	return units.MC(tenths) * 10
}

func trustPin(s units.ReadingState, read, mc float64) Trust {
	if s != units.Number {
		return NotJudged
	}
	low, high := math.Min(read, mc), math.Max(read, mc)
	switch {
	case low < pinLow || high > pinHigh:
		return OutOfRange
	case low < pinSureLow || high > pinSureHigh:
		return AtTheEdge
	}
	return Sure
}

func trustPlate(s units.ReadingState, read float64) Trust {
	switch {
	case s != units.Number:
		return NotJudged
	case read < plateLow || read > plateHigh:
		return OutOfRange
	}
	return Sure
}
