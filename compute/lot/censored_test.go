package lot

import (
	"math"
	"strings"
	"testing"

	"drytally/compute/units"
	"drytally/testdata/published"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func censoredCases(t *testing.T) map[string]data {
	t.Helper()
	out := map[string]data{}
	for _, l := range published.ByColumn(t, "lot_censored_data.csv") {
		d := out[l["case"]]
		for _, v := range strings.Fields(l["values"]) {
			switch x := number(t, v); l["state"] {
			case "number":
				d.numbers = append(d.numbers, x)
			case "below":
				d.under = append(d.under, x)
			case "above":
				d.over = append(d.over, x)
			default:
				t.Fatalf("unknown state %q", l["state"])
			}
		}
		out[l["case"]] = d
	}
	return out
}

// Against R: survreg for the maximum, base R for the profile intervals (command in the data file).
func TestCensoredAgainstR(t *testing.T) {
	cases := censoredCases(t)
	lines := published.ByColumn(t, "lot_censored_fit.csv")
	if len(lines) != len(cases) {
		t.Fatalf("got %d fits for %d cases", len(lines), len(cases))
	}
	cut := distuv.ChiSquared{K: 1}.Quantile(0.95)
	for _, l := range lines {
		d := cases[l["case"]]
		mu, sigma, best := d.fit()
		constant := float64(len(d.numbers)) * math.Log(2*math.Pi) / 2
		low, high := d.meanInterval(mu, sigma, best, cut)
		thin, thick := d.spreadInterval(sigma, best, cut)
		for _, c := range []struct {
			column   string
			got, tol float64
		}{{"mean", mu, 1e-5}, {"sd", sigma, 1e-5}, {"loglik", best - constant, 1e-7}, // survreg stops at about six digits of the parameters
			{"mean_low", low, 1e-4}, {"mean_high", high, 1e-4}, {"sd_low", thin, 1e-4}, {"sd_high", thick, 1e-4}} {
			if want := number(t, l[c.column]); math.Abs(c.got-want) > c.tol*math.Max(1, math.Abs(want)) {
				t.Errorf("%s, %s: got %.7f, want %.7f", l["case"], c.column, c.got, want)
			}
		}
	}
}

// plainLikelihood is the log likelihood as a textbook writes it.
func plainLikelihood(d data, mu, sigma float64) float64 {
	l := 0.0
	n := distuv.Normal{Mu: mu, Sigma: sigma}
	for _, y := range d.numbers {
		l += n.LogProb(y)
	}
	for _, c := range d.under {
		l += math.Log(n.CDF(c))
	}
	for _, c := range d.over {
		l += math.Log(n.Survival(c))
	}
	return l
}

// A grid over mean and spread must find nothing better than the fit, nothing inside the fall of the likelihood outside the
// intervals, and something inside just short of each end.
func TestCensoredAgainstGrid(t *testing.T) {
	for name, d := range censoredCases(t) {
		if name == "one number" {
			continue // its intervals are far too wide for a grid; R has it
		}
		mu, sigma, _ := d.fit()
		best := plainLikelihood(d, mu, sigma)
		cut := cutoff(len(d.numbers), 0.80)
		low, high := d.meanInterval(mu, sigma, best+float64(len(d.numbers))*math.Log(2*math.Pi)/2, cut)
		thin, thick := d.spreadInterval(sigma, best+float64(len(d.numbers))*math.Log(2*math.Pi)/2, cut)
		least, most := math.Inf(1), math.Inf(-1)
		leastS, mostS := math.Inf(1), math.Inf(-1)
		const steps = 400
		stepM := 1.2 * (high - low) / steps
		ratio := math.Pow(1.44*thick/thin, 1.0/steps)
		for i := 0; i <= steps; i++ {
			m := low - 0.1*(high-low) + stepM*float64(i)
			for j := 0; j <= steps; j++ {
				s := thin / 1.2 * math.Pow(ratio, float64(j))
				l := plainLikelihood(d, m, s)
				if l > best+1e-9 {
					t.Fatalf("%s: mean %g and sd %g fit better (%g) than %g and %g (%g)", name, m, s, l, mu, sigma, best)
				}
				if 2*(best-l) <= cut {
					least, most = math.Min(least, m), math.Max(most, m)
					leastS, mostS = math.Min(leastS, s), math.Max(mostS, s)
				}
			}
		}
		if least < low-1e-9 || most > high+1e-9 || least > low+3*stepM || most < high-3*stepM {
			t.Errorf("%s: mean by grid %g to %g, got %g to %g", name, least, most, low, high)
		}
		if leastS < thin-1e-9 || mostS > thick+1e-9 || leastS > thin*math.Pow(ratio, 3) || mostS < thick/math.Pow(ratio, 3) {
			t.Errorf("%s: sd by grid %g to %g, got %g to %g", name, leastS, mostS, thin, thick)
		}
	}
}

// A general optimizer from another start comes to the same maximum.
func TestCensoredAgainstOptimizer(t *testing.T) {
	for name, d := range censoredCases(t) {
		mu, sigma, _ := d.fit()
		r, err := optimize.Minimize(optimize.Problem{Func: func(x []float64) float64 { return -d.logLikelihood(x[0], math.Exp(x[1])) }},
			[]float64{9, 1}, nil, &optimize.NelderMead{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(r.X[0]-mu) > 1e-2 || math.Abs(math.Exp(r.X[1])-sigma) > 1e-2 || -r.F > d.logLikelihood(mu, sigma)+1e-9 {
			t.Errorf("%s: optimizer %g and %g, got %g and %g", name, r.X[0], math.Exp(r.X[1]), mu, sigma)
		}
	}
}

// With numbers only the fit is the plain mean, the spread is s, and the interval is the t interval.
func TestNumbersOnlyIsTheTInterval(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) units.MC { return units.MC(10 * rapid.IntRange(50, 200).Draw(t, "mc")) }), 2, 25).Draw(t, "values")
		var d data
		for _, v := range values {
			d.numbers = append(d.numbers, v.Percent())
		}
		if d.why() != Fine {
			return
		}
		m, s := moments(values)
		n := float64(len(values))
		mu, sigma, best := d.fit()
		low, high := d.meanInterval(mu, sigma, best, cutoff(len(values), 0.95))
		half := halfWidth(len(values), 0, s, 0.95)
		if math.Abs(mu-m) > 1e-6 || math.Abs(sigma*math.Sqrt(n/(n-1))-s) > 1e-5*s ||
			math.Abs(low-(m-half)) > 1e-5*half || math.Abs(high-(m+half)) > 1e-5*half {
			t.Fatalf("got %g (%g to %g), sd %g; want %g (%g to %g), s %g", mu, low, high, sigma, m, m-half, m+half, s)
		}
	})
}

func num(x float64) units.Reading { return units.Reading{State: units.Number, MC: units.Percent(x)} }
func under(x float64) units.Reading {
	return units.Reading{State: units.BelowRange, MC: units.Percent(x)}
}
func over(x float64) units.Reading {
	return units.Reading{State: units.AboveRange, MC: units.Percent(x)}
}

func TestNotEstimable(t *testing.T) {
	tests := []struct {
		name     string
		readings []units.Reading
		why      Why
		mean     bool
	}{
		{"none", nil, NoReadings, false},
		{"not taken only", []units.Reading{{}, {}}, NoReadings, false},
		{"all below", []units.Reading{under(6), under(6)}, AllLimits, false},
		{"below and above, no number", []units.Reading{under(6), over(30)}, AllLimits, false},
		{"one number", []units.Reading{num(8)}, OneReading, true},
		{"all the same", []units.Reading{num(8), num(8), num(8)}, AllTheSame, true},
		{"one number and limits that agree", []units.Reading{num(5), under(6), under(6)}, SameAndOpen, false},
		{"a limit at the number itself", []units.Reading{num(6), num(6), under(6)}, SameAndOpen, false},
		{"a limit against the number", []units.Reading{num(8), under(6)}, Fine, true},
		{"two numbers", []units.Reading{num(8), num(8.1)}, Fine, true},
		{"above, against the numbers", []units.Reading{num(8), num(8), over(30)}, Fine, true},
	}
	for _, tt := range tests {
		got, err := FitCensored(tt.readings, 0.95)
		if err != nil || got.Why != tt.why || got.Mean.Known != tt.mean || got.SD.Known != (tt.why == Fine) {
			t.Errorf("%s: got %+v (%v), want %q, mean known %v", tt.name, got, err, tt.why, tt.mean)
		}
		if got.Mean.Known && tt.why != Fine && got.Mean.Confidence != 0 {
			t.Errorf("%s: a range with confidence %g from no spread", tt.name, got.Mean.Confidence)
		}
		if got.Mean.Known && (got.Mean.Low > got.Mean.Value || got.Mean.High < got.Mean.Value || got.Mean.Low < 0) {
			t.Errorf("%s: %v is outside %v to %v", tt.name, got.Mean.Value, got.Mean.Low, got.Mean.High)
		}
	}
	if _, err := FitCensored([]units.Reading{num(8), num(9), {State: units.BelowRange}}, 0.95); err == nil {
		t.Error("a reading below a mark that is not known was fitted")
	}
	if _, err := FitCensored([]units.Reading{num(8), num(9)}, 1); err == nil {
		t.Error("a confidence of 1 was accepted")
	}
}

func TestFitCensored(t *testing.T) {
	var r []units.Reading
	for _, v := range lumber() {
		r = append(r, units.Reading{State: units.Number, MC: v})
	}
	got, err := FitCensored(r, 0.95)
	if err != nil || got.Mean.Value != 820 || got.Mean.Low != 790 || got.Mean.High != 850 || got.Spread != 58 || got.SD.Value != 57 {
		t.Errorf("lumber: got %+v (%v), want 8.2 (7.9 to 8.5), spread 0.58, sd 0.57", got, err)
	}
}

func TestLawsOfCensoring(t *testing.T) {
	reading := rapid.Custom(func(t *rapid.T) units.Reading {
		switch v := units.MC(10 * rapid.IntRange(60, 150).Draw(t, "mc")); rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			return units.Reading{State: units.BelowRange, MC: 600}
		case 1:
			return units.Reading{State: units.AboveRange, MC: 1500}
		default:
			return units.Reading{State: units.Number, MC: v}
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SliceOfN(reading, 1, 15).Draw(t, "readings")
		a, errA := FitCensored(r, 0.95)
		b, errB := FitCensored(rapid.Permutation(r).Draw(t, "other"), 0.95)
		if errA != nil || errB != nil || a.Why != b.Why || apart(a.Mean.Value, b.Mean.Value) || apart(a.SD.Value, b.SD.Value) {
			t.Fatalf("the order changed the fit: %+v, %+v (%v, %v)", a, b, errA, errB)
		}
		// Moved by two points as a whole, the distribution moves by two points. (That one more wet board raises the mean is no
		// law: a far one opens the spread, and with most readings below range the mean then falls.)
		var moved []units.Reading
		for _, x := range r {
			moved = append(moved, units.Reading{State: x.State, MC: x.MC + 200})
		}
		c, err := FitCensored(moved, 0.95)
		if err != nil || c.Why != a.Why || a.Mean.Known && apart(c.Mean.Value, a.Mean.Value+200) || apart(c.SD.Value, a.SD.Value) {
			t.Fatalf("two points more: from %+v to %+v (%v)", a, c, err)
		}
	})
}

// apart reports that two values differ by more than the last digit, which binary rounding may turn.
func apart(a, b units.MC) bool { return a-b > 10 || b-a > 10 }

func TestTails(t *testing.T) {
	for z := -30.0; z < -8; z += 0.25 { // the shares are still normal numbers there
		if got, want := logShare(z), math.Log(normalShare(z)); math.Abs(got-want) > 1e-8*math.Abs(want) {
			t.Errorf("log of the share below %g: got %.12g, want %.12g", z, got, want)
		}
		want := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / normalShare(z)
		if got := hazard(z); math.Abs(got-want) > 1e-7*want {
			t.Errorf("hazard at %g: got %.12g, want %.12g", z, got, want)
		}
	}
	if l := logShare(-1e6); math.IsInf(l, 0) || math.IsNaN(l) {
		t.Errorf("far out: got %g", l)
	}
}

// TestZeroOf: against functions with known zeros, flat, steep and kinked ones among them, in few evaluations.
func TestZeroOf(t *testing.T) {
	for name, c := range map[string]struct {
		f     func(x float64) float64
		want  float64
		tries int
	}{
		"line":           {func(x float64) float64 { return 3 - x }, 3, 8},
		"steep":          {func(x float64) float64 { return math.Exp(-x) - math.Exp(-7) }, 7, 80},
		"tangent":        {func(x float64) float64 { return -math.Atan(x - 2.5) }, 2.5, 30},
		"flat at zero":   {func(x float64) float64 { return -math.Pow(x-1, 3) }, 1, 110},
		"kink":           {func(x float64) float64 { return min(5-x, 100*(5-x)) }, 5, 100},
		"above 0 always": {func(x float64) float64 { return 1 }, 4000, 3},
		"below 0 always": {func(x float64) float64 { return -1 }, -4000, 3},
	} {
		tries := 0
		got := zeroOf(-4000, 4000, func(x float64) float64 { tries++; return c.f(x) })
		if math.Abs(got-c.want) > 1e-4 || tries > c.tries {
			t.Errorf("%s: got %v in %d evaluations, want %v in %d at most", name, got, tries, c.want, c.tries)
		}
	}
}
