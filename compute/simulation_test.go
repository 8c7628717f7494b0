package compute

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"drytally/compute/units"
)

// The simulation draws loads whose moisture is known, measures them as a sawyer would, and counts how often what the
// program says of them is true.
//
// What it assumes:
//   - A board's moisture content is a mean over the load, plus a fall from the bottom course to the top (0 to 1.5 points),
//     plus wetter spots in the middle of the courses (0 to 0.6), plus a spread between boards (0.3 to 1.1), plus, in half
//     the loads, a tail to the wet side (exponential, 0.2 to 0.9), plus, in one load of five, a wet pocket (1 to 8 boards
//     that lie together, 1.5 to 4 points wetter). The mean runs from a point under the band of the use to 3 points over it.
//   - The meter reads with a scatter of 0.5 at every push and a bias of its own that stays the same over the load: standard
//     deviation half of what the program counts (0.5 for a corrected pin meter, 1.0 for a plate meter and for wood nobody
//     corrects for). It follows the published temperature formula and species table: their own error is part of the bias.
//   - Boards are drawn at random in each third of the courses, in proportion; three loads of ten are measured whole.
//   - Wood is at 10 to 30 C, boards of a load within a degree or so. Some temperatures, or all, are not written down.
//   - Wood shrinks along equation 4-9 with 15 % spread between boards and 10 % between stands; sizes are read to 1/64 in.
//   - Sample boards are drawn at random; a section is within 5 % of its board (of the moisture, standard deviation).
//   - The humidity sensor is off by 1 % RH (standard deviation), and no board is closer than 0.3 points to the driest air.
//
// Where the statements would not hold: boards picked because they are easy to reach (TestSimulationEasyBoards shows it);
// a meter that is off by more than is counted for it; readings with a wrong wood temperature written down; wet spots
// inside a board that no pin met; wood colder or warmer than the range tried when no temperature was written; a load that
// changed between the days of its readings; a spread that leaps between strata not one of whose boards was measured.
const simulationSeed = 20260502

// simulated is one load with its truth.
type simulated struct {
	job   *Job
	truth []float64 // of board i of the job
	kind  string    // how it was measured
}

// tallied counts cases and those that held.
type tallied struct{ held, cases int }

func (c *tallied) add(ok bool) {
	c.cases++
	if ok {
		c.held++
	}
}

func (c tallied) share() float64 {
	if c.cases == 0 {
		return math.NaN()
	}
	return float64(c.held) / float64(c.cases)
}

// claims are what is counted over many loads.
type claims struct {
	statements map[string]*tallied
	verdicts   map[Verdict]int
	dry        map[string]*tallied // by the way of measuring: dry verdicts, and how many of them were true
	notDry     tallied             // loads that truly are not dry: how many were not called dry
	isDry      tallied             // loads that truly are dry: how many were called dry
	near       tallied             // the same of loads within a point of what is still dry
}

func newClaims() *claims {
	return &claims{statements: map[string]*tallied{}, verdicts: map[Verdict]int{}, dry: map[string]*tallied{}}
}

func (c *claims) count(name string, ok bool) { at(c.statements, name).add(ok) }

func at(m map[string]*tallied, name string) *tallied {
	if m[name] == nil {
		m[name] = &tallied{}
	}
	return m[name]
}

func meanOfTruth(all []float64) float64 {
	sum := 0.0
	for _, x := range all {
		sum += x
	}
	return sum / float64(len(all))
}

// judgeTruth compares what is said of a load with its truth.
func (c *claims) judgeTruth(sim simulated) {
	r := Assess(sim.job)
	l := r.Loads[0]
	limit, low := l.Band.High.Percent(), l.Band.Low.Percent()
	mean := meanOfTruth(sim.truth)
	c.verdicts[l.Verdict]++
	over := 0
	for _, mc := range sim.truth {
		if mc > limit {
			over++
		}
	}
	in := func(low, high units.MC) bool { return mean >= low.Percent()-1e-9 && mean <= high.Percent()+1e-9 }
	c.count("bound on boards over the limit", over <= l.OverBound)
	if sim.kind != "all measured" {
		c.count("... part of the load measured", over <= l.OverBound)
		if math.Abs(mean-limit) < 2.5 {
			c.count("... of these, mean within 2.5 of the limit", over <= l.OverBound)
		}
	}
	if l.Mean.Known && l.Mean.Confidence > 0 {
		c.count("interval of the mean", in(l.Mean.Low, l.Mean.High))
	}
	for _, s := range l.Strata {
		if s.Mean.Known && s.Mean.Confidence > 0 {
			var part []float64
			for b, mc := range sim.truth {
				if at := map[string]int{"courses": sim.job.Boards[b].Course, "spots": sim.job.Boards[b].Spot}[s.By]; at >= s.From && at <= s.To {
					part = append(part, mc)
				}
			}
			true := meanOfTruth(part)
			c.count("mean of a third of the "+s.By, true >= s.Mean.Low.Percent()-1e-9 && true <= s.Mean.High.Percent()+1e-9)
		}
	}
	if m := l.ByThirds; m.Known {
		c.count("mean weighed by thirds", in(m.Low, m.High))
	}
	if l.Tolerance != 0 {
		under := 0
		for _, mc := range sim.truth {
			if mc <= l.Tolerance.Percent() {
				under++
			}
		}
		c.count("upper limit for 95 % of boards", float64(under) >= 0.95*float64(len(sim.truth)))
	}
	for _, w := range l.Witnesses {
		if w.Kind == WitnessAir {
			least := math.Inf(1)
			for _, mc := range sim.truth {
				least = math.Min(least, mc)
			}
			c.count("witness air (least of any board)", least >= (w.Estimate.Low-airSlack).Percent())
			continue
		}
		c.count("witness "+w.Kind.String(), in(w.Estimate.Low, w.Estimate.High))
	}
	if len(l.Witnesses) > 1 {
		c.count("no conflict where all are honest", len(l.Conflicts) == 0)
	}
	isDry := l.Verdict == DryForUse || l.Verdict == DryButHeldBack
	held := map[string]bool{}
	if l.Verdict == DryButHeldBack {
		for _, id := range l.HeldBack {
			held[id] = true
		}
	}
	truly := trulyDry(sim, held, low, limit)
	if isDry {
		at(c.dry, "all dry verdicts").add(truly)
		at(c.dry, sim.kind).add(truly)
		at(c.dry, l.Verdict.String()).add(truly)
		if low, _ := trulyBoth(sim, held, low, limit); !truly {
			at(c.dry, "false: mean truly under the band (false of all)").add(low)
		}
	}
	if !isDry {
		// Not called dry: is it dry as it lies, with no board taken out?
		truly = trulyDry(sim, nil, low, limit)
	}
	if truly {
		c.isDry.add(isDry)
	}
	if !truly {
		c.notDry.add(!isDry)
		if mean > low-1 && mean < limit+1 {
			c.near.add(!isDry)
		}
	}
}

// trulyBoth tells of the boards that stay whether their mean is under the band or over it.
func trulyBoth(sim simulated, held map[string]bool, low, high float64) (under, over bool) {
	var stay []float64
	for b, mc := range sim.truth {
		if !held[sim.job.Boards[b].ID] {
			stay = append(stay, mc)
		}
	}
	mean := meanOfTruth(stay)
	return mean < low, mean > high
}

// trulyDry tells by the true moisture of the boards that stay: no more over the limit than the allowed share, and the mean
// inside the band.
func trulyDry(sim simulated, held map[string]bool, low, limit float64) bool {
	var stay []float64
	over := 0
	for b, mc := range sim.truth {
		if held[sim.job.Boards[b].ID] {
			continue
		}
		stay = append(stay, mc)
		if mc > limit {
			over++
		}
	}
	mean := meanOfTruth(stay)
	return float64(over) <= sim.job.Settings.AllowedShare*float64(len(stay)) && mean >= low && mean <= limit
}

func (c *claims) merge(o *claims) {
	for k, v := range o.statements {
		at(c.statements, k).held += v.held
		at(c.statements, k).cases += v.cases
	}
	for k, v := range o.dry {
		at(c.dry, k).held += v.held
		at(c.dry, k).cases += v.cases
	}
	for k, v := range o.verdicts {
		c.verdicts[k] += v
	}
	c.notDry.held, c.notDry.cases = c.notDry.held+o.notDry.held, c.notDry.cases+o.notDry.cases
	c.isDry.held, c.isDry.cases = c.isDry.held+o.isDry.held, c.isDry.cases+o.isDry.cases
	c.near.held, c.near.cases = c.near.held+o.near.held, c.near.cases+o.near.cases
}

// String writes the table.
func (c *claims) String() string {
	var b strings.Builder
	line := func(name string, t tallied) {
		fmt.Fprintf(&b, "%-48s %5d of %5d  %6.2f %%\n", name, t.held, t.cases, 100*t.share())
	}
	b.WriteString("statement                                        held    cases\n")
	for _, k := range sortedKeys(c.statements) {
		line(k, *c.statements[k])
	}
	b.WriteString("verdict\n")
	for v := NotShown; v <= DryForUse; v++ {
		fmt.Fprintf(&b, "%-48s %5d\n", v, c.verdicts[v])
	}
	b.WriteString("dry verdicts that were true\n")
	for _, k := range sortedKeys(c.dry) {
		line(k, *c.dry[k])
	}
	b.WriteString("loads truly dry that were called dry\n")
	line("all", c.isDry)
	b.WriteString("loads truly not dry that were not called dry\n")
	line("all", c.notDry)
	line("within a point of what is still dry", c.near)
	return b.String()
}

// simulateMany counts over loads 0..n-1, two at a time.
func simulateMany(n int, easy bool) *claims {
	const workers = 2
	parts := make([]*claims, workers)
	var wait sync.WaitGroup
	for w := range workers {
		parts[w] = newClaims()
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := w; i < n; i += workers {
				parts[w].judgeTruth(simulate(i, easy))
			}
		}()
	}
	wait.Wait()
	all := newClaims()
	for _, p := range parts {
		all.merge(p)
	}
	return all
}

// TestSimulation: over 2,000 loads the 95 % statements hold in at least 94 %, and no more than 5 % of the loads called dry
// are not dry, nor are more than 5 % of the loads that are not dry called dry.
func TestSimulation(t *testing.T) {
	n, slack := 2000, 0.0
	if testing.Short() {
		n, slack = 200, 0.03 // of 200 loads a share of 0.95 scatters by 0.015
	}
	c := simulateMany(n, false)
	t.Logf("%d loads\n%s", n, c)
	for name, s := range c.statements {
		if s.share() < 0.94-slack {
			t.Errorf("%s: held in %.2f %% of %d cases, want 94", name, 100*s.share(), s.cases)
		}
	}
	if dry := at(c.dry, "all dry verdicts"); 1-dry.share() > 0.05+slack {
		t.Errorf("%d dry verdicts, %.2f %% of them false; want at most 5", dry.cases, 100*(1-dry.share()))
	}
	if 1-c.notDry.share() > 0.05+slack {
		t.Errorf("%.2f %% of %d loads not dry were called dry; want at most 5", 100*(1-c.notDry.share()), c.notDry.cases)
	}
}

// TestSimulationEasyBoards shows where the statements do not hold: boards that are easy to reach are no sample. The verdict
// asks for the slow places, the bound and the mean can't know.
func TestSimulationEasyBoards(t *testing.T) {
	n := 300
	if testing.Short() {
		n = 60
	}
	t.Logf("%d loads, measured on the top courses and the ends only\n%s", n, simulateMany(n, true))
}
