package lot

import (
	"fmt"
	"math"

	"drytally/compute/units"
)

// Why says why a mean or spread could not be given. Empty: it could.
type Why string

// The reasons. They are for the program; the papers have their own wording.
const (
	Fine        Why = ""
	NoReadings  Why = "no readings"
	AllLimits   Why = "every reading is below or above the meter's range"
	OneReading  Why = "one reading"
	AllTheSame  Why = "all readings are the same number"
	SameAndOpen Why = "all numbers are the same, and the other readings do not speak against it"
)

// Normal is a normal distribution fitted to readings of which some are only "below" or "above".
type Normal struct {
	Mean    units.Estimate // to the tenth, the range outward, not below 0; Known false when not estimable
	SD      units.Estimate // maximum likelihood, to the hundredth; Known false when not estimable
	Spread  units.MC       // the SD times sqrt(n/(n-1)): with numbers only it is the usual s
	Numbers int            // readings that are numbers
	Below   int            // readings below the meter's range
	Above   int            // readings above it
	Why     Why            // why SD (and perhaps Mean) is not known
}

// FitCensored fits a normal distribution by maximum likelihood to readings, one per board. A number counts with its density, a
// reading below range with the chance of anything below its mark, one above with the chance of anything above. Readings
// that were not taken are passed over. None is dropped or replaced by a number.
//
// The intervals are profile likelihood intervals. Their cutoff is m ln(1 + t^2/(m-1)) with m the count of numbers (at least 2)
// and t Student's factor for m - 1: with numbers only the mean's interval is then exactly the t interval, while the usual
// chi-squared cutoff would be too narrow for few boards. The interval of the SD uses the same cutoff.
//
// Not estimable, with the reason in Why: no reading; no number at all; numbers all the same with nothing against it (one
// number and no limit, or only limits that agree, count here too). Of numbers only, all the same, the mean is still given,
// without a range. Errors: a mark of 0 on a reading out of range, confidence outside 0..1.
//
// Source: normal maximum likelihood with censored terms; textbook (memory). Checked against survreg of R.
func FitCensored(readings []units.Reading, confidence float64) (Normal, error) {
	return fitCensored(readings, confidence, true)
}

// FitMean is FitCensored without the interval of the SD, which takes as long as the rest: Low and High of SD are its value and
// its Confidence is 0.
func FitMean(readings []units.Reading, confidence float64) (Normal, error) {
	return fitCensored(readings, confidence, false)
}

func fitCensored(readings []units.Reading, confidence float64, spread bool) (Normal, error) {
	if !(confidence > 0 && confidence < 1) {
		return Normal{}, fmt.Errorf("confidence %g is outside 0..1", confidence)
	}
	var d data
	for _, r := range readings {
		if (r.State == units.BelowRange || r.State == units.AboveRange) && r.MC == 0 {
			return Normal{}, fmt.Errorf("a reading out of range has no mark")
		}
		switch r.State {
		case units.Number:
			d.numbers = append(d.numbers, r.MC.Percent())
		case units.BelowRange:
			d.under = append(d.under, r.MC.Percent())
		case units.AboveRange:
			d.over = append(d.over, r.MC.Percent())
		}
	}
	out := Normal{Numbers: len(d.numbers), Below: len(d.under), Above: len(d.over)}
	n := d.count()
	if out.Why = d.why(); out.Why != Fine {
		if out.Why == OneReading || out.Why == AllTheSame {
			v := tenth(d.numbers[0])
			out.Mean = units.Estimate{Value: v, Low: v, High: v, N: n, Known: true}
		}
		return out, nil
	}
	mu, sigma, best := d.fit()
	cut := cutoff(len(d.numbers), confidence)
	low, high := d.meanInterval(mu, sigma, best, cut)
	out.Mean = units.Estimate{Value: tenth(mu), Low: max(0, tenthDown(low)), High: tenthUp(high), Confidence: confidence, N: n,
		Known: true}
	out.SD = units.Estimate{Value: units.Percent(sigma), Low: units.Percent(sigma), High: units.Percent(sigma), N: n, Known: true}
	if spread {
		low, high = d.spreadInterval(sigma, best, cut)
		out.SD = units.Estimate{Value: units.Percent(sigma), Low: units.Percent(low), High: units.Percent(high),
			Confidence: confidence, N: n, Known: true}
	}
	out.Spread = units.Percent(sigma * math.Sqrt(float64(n)/float64(n-1)))
	return out, nil
}

// cutoff returns how far twice the log likelihood may fall inside the interval.
func cutoff(numbers int, confidence float64) float64 {
	m := float64(max(2, numbers))
	t := studentQuantile(confidence, m-1)
	return m * math.Log1p(t*t/(m-1))
}

// data are the readings in percent MC: numbers, marks they lie under, marks they lie over.
type data struct{ numbers, under, over []float64 }

func (d data) count() int { return len(d.numbers) + len(d.under) + len(d.over) }

// why returns the reason for which the likelihood has no maximum with a spread above 0, or Fine.
func (d data) why() Why {
	if d.count() == 0 {
		return NoReadings
	}
	if len(d.numbers) == 0 {
		return AllLimits
	}
	v := d.numbers[0]
	for _, y := range d.numbers {
		if y != v {
			return Fine
		}
	}
	for _, c := range d.under {
		if c < v {
			return Fine // lies under a mark below the numbers: it pulls the spread open
		}
	}
	for _, c := range d.over {
		if c > v {
			return Fine
		}
	}
	switch {
	case len(d.numbers) < d.count():
		return SameAndOpen
	case len(d.numbers) == 1:
		return OneReading
	}
	return AllTheSame
}

// logLikelihood is that of a normal distribution, without the constant of the numbers (ln(2 pi)/2 each).
func (d data) logLikelihood(mu, sigma float64) float64 {
	l, marks := -float64(len(d.numbers))*math.Log(sigma), again{of: logShare}
	for _, y := range d.numbers {
		z := (y - mu) / sigma
		l -= z * z / 2
	}
	for _, c := range d.under {
		l += marks.at((c - mu) / sigma)
	}
	for _, c := range d.over {
		l += marks.at((mu - c) / sigma)
	}
	return l
}

// logShare returns the logarithm of the normal share below z, without underflow.
func logShare(z float64) float64 {
	if z > tail {
		return math.Log(normalShare(z))
	}
	return -z*z/2 - math.Log(-z) - math.Log(2*math.Pi)/2 + math.Log(tailSeries(z))
}

// hazard returns density over share below z: the slope of logShare.
func hazard(z float64) float64 {
	if z > tail {
		return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / normalShare(z)
	}
	return -z / tailSeries(z)
}

// tail is where the asymptotic series of the normal tail takes over; there it is good to 2e-8.
const tail = -12.0

func tailSeries(z float64) float64 {
	i := 1 / (z * z)
	return 1 - i*(1-3*i*(1-5*i*(1-7*i)))
}
