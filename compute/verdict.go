package compute

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute/units"
)

// outcome is what a load's readings come to under one variant.
type outcome struct {
	over, under            []int // indices into Result.Boards
	unsettled              int   // boards whose mark neither proves nor refutes the limit
	measured, below, above int
	sampling               units.Estimate // mean without the meter's own error in its range
	mean, meanRest         units.Estimate
	spread, tolerance      units.MC
	noLimit                Statement       // why tolerance is left out
	at                     []int           // of boards: indices into Result.Boards
	boards                 []measuredBoard // held against the limit, when there is one
	counted                int             // overBound by counting alone
	overBound              int             // with 95 % confidence, boards of the N over the limit
	restBound              int             // the same without the boards found over it
	restN, allowed         int
	verdict                Verdict
	reasons, settle        []Statement
}

// near counts the boards that stay and read within what the meter can be off of the limit.
func (o *outcome) near(off units.MC) int {
	n := 0
	for _, b := range o.boards {
		if !b.held && b.margin < off.Percent() {
			n++
		}
	}
	return n
}

// outcomes goes through the variants of a load.
func (x *index) outcomes(r *LoadResult, m *measurement) []outcome {
	if m == nil {
		return []outcome{{restN: r.N}}
	}
	var all []outcome
	for v := range m.variants {
		all = append(all, x.evidence(r, m, v))
	}
	return all
}

// overLimit compares a board with the limit: the number compared is the number printed.
func overLimit(b BoardMC, limit units.MC) (over, settled bool) {
	switch b.State {
	case units.Number:
		return b.MC > limit, true
	case units.BelowRange: // the wood is under the mark
		return false, b.MC <= limit
	case units.AboveRange: // the wood is over the mark
		return b.MC >= limit, b.MC >= limit
	}
	return false, false
}

// underBand reports whether a board is drier than the use asks for.
func underBand(b BoardMC, low units.MC) bool {
	switch b.State {
	case units.Number:
		return b.MC < low
	case units.BelowRange:
		return b.MC <= low
	}
	return false
}

// judgeOutcome gives the verdict of the readings alone, before places and witnesses are asked. The steps stand in the
// order in which a careful person would ask.
func (x *index) judgeOutcome(r *LoadResult, o *outcome) {
	s := x.job.Settings
	because := func(v Verdict, name string, with ...any) {
		o.verdict, o.reasons = v, append(o.reasons, stated(name, with...))
	}
	settle := func(name string, with ...any) { o.settle = append(o.settle, stated(name, with...)) }
	limit := r.Band.High
	share := percentOf(len(o.over), o.measured)
	whole := "" // says that no board is taken out
	if len(o.over) == 0 {
		whole = "yes"
	}
	switch {
	case o.measured == 0:
		because(NotShown, "no-readings", "n", r.N)
		settle("settle-measure-first", "n", min(r.N, max(1, x.cleanNeeded(r.N, 0, 0))), "of", r.N)
		return
	case !r.Band.Known:
		because(NotShown, "no-limit", "use", r.Load.Use)
		settle("settle-use")
		return
	case float64(len(o.over)) > s.MostHeldBack*float64(o.measured) && (o.measured >= leastBoards || o.measured == r.N):
		// A few wet boards can be taken out even when they lift the mean; with many the load goes on drying.
		if o.mean.Known && o.mean.Value > limit {
			because(NotDryYet, "mean-over", "mean", o.mean.Value, "limit", limit)
			o.reasons = append(o.reasons, stated("boards-over", "n", len(o.over), "measured", o.measured, "limit", limit))
			return
		}
		because(NotDryYet, "too-many-over", "n", len(o.over), "measured", o.measured, "share", share, "limit", limit, "most", percent(s.MostHeldBack))
		return
	case r.NFrom == boardsRead:
		because(NotShown, "boards-not-counted", "n", o.measured)
		settle("settle-count")
		return
	case o.measured < leastBoards && o.measured < r.N:
		because(NotShown, "few-boards", "n", o.measured, "of", r.N, "least", leastBoards, "over", len(o.over), "limit", limit)
		settle("settle-measure-first", "n", min(r.N, max(1, x.cleanNeeded(r.N, 0, 0))), "of", r.N)
		return
	case o.unsettled > 0:
		because(NotShown, "mark-over-limit", "n", o.unsettled, "limit", limit)
		settle("settle-other-meter", "n", o.unsettled, "limit", limit)
		return
	case !o.meanRest.Known && o.below == o.measured:
		because(NotShown, "all-below", "measured", o.measured, "mark", x.markOf(r.Boards, units.BelowRange))
		settle("settle-section")
	case !o.meanRest.Known:
		because(NotShown, "mean-not-known", "measured", o.measured)
	case r.Band.Low != 0 && o.meanRest.Value < r.Band.Low:
		because(NotShown, "mean-under", "mean", o.meanRest.Value, "low", r.Band.Low, "held", len(o.over))
		return
	case r.Band.Low != 0 && leastMean(o.meanRest) < r.Band.Low:
		because(NotShown, "mean-low-open", "mean", o.meanRest.Value, "least", leastMean(o.meanRest), "low", r.Band.Low, "off", r.MeterOff.Tenth(), "held", len(o.over))
		settle("settle-mean-low")
	}
	// With every board measured and none over, the readings decide: there is no board left to estimate. What the meter itself
	// can be off is said beside it. The simulation holds this to fewer than 5 false dry verdicts in 100.
	allClear := o.measured == r.N && len(o.over) == 0
	if o.restBound > o.allowed && !allClear {
		because(NotShown, "bound-open", "bound", o.restBound, "n", o.restN, "allowed", o.allowed, "share", percent(s.AllowedShare), "measured", o.measured, "whole", whole,
			"uneven", r.SlowMissing)
		x.settleBound(r, o, settle)
	}
	if len(o.reasons) > 0 {
		return
	}
	o.verdict = DryForUse
	if len(o.over) > 0 {
		o.verdict = DryButHeldBack
		o.reasons = append(o.reasons, stated("held-back", "n", len(o.over), "boards", x.names(o.over), "limit", limit))
	} else {
		o.reasons = append(o.reasons, stated("none-over", "measured", o.measured, "n", r.N, "limit", limit))
	}
	o.reasons = append(o.reasons, stated("mean-in-band", "mean", o.meanRest.Value, "low", r.Band.Low, "high", limit, "held", len(o.over)))
	if o.measured < r.N {
		o.reasons = append(o.reasons, stated("bound-met", "bound", o.restBound, "n", o.restN, "allowed", o.allowed, "share", percent(s.AllowedShare), "whole", whole))
	} else {
		o.reasons = append(o.reasons, stated("all-measured", "n", r.N))
		if o.restBound > o.allowed {
			o.reasons = append(o.reasons, stated("near-limit", "off", r.MeterOff.Tenth(), "limit", limit, "n", o.near(r.MeterOff), "clear", (limit-r.MeterOff).TenthDown()))
		}
	}
}

// names lists the ids of boards.
func (x *index) names(boards []int) string {
	var ids []string
	for _, at := range boards {
		ids = append(ids, x.out.Boards[at].Board.ID)
	}
	return strings.Join(ids, ", ")
}

// judge brings readings, places and witnesses together. A verdict must hold for every variant; a dry verdict needs the
// slow places measured and no witness against it.
func (x *index) judge(r *LoadResult, m *measurement, outcomes []outcome, p places) {
	for i := range outcomes {
		x.judgeOutcome(r, &outcomes[i])
	}
	o := outcomes[0]
	if x.sameForAll(outcomes) {
		// What is printed must hold for every variant: the reasons give the bounds that cover all.
		o.overBound, o.restBound, o.counted, o.reasons, o.settle = r.OverBound, r.RestBound, r.Counted, nil, nil
		x.judgeOutcome(r, &o)
	}
	r.Verdict, r.Reasons, r.ToSettle = o.verdict, o.reasons, o.settle
	if m != nil && len(outcomes) > 1 {
		x.judgeVariants(r, m, outcomes)
	}
	if r.Verdict == NotDryYet {
		return
	}
	dry := r.Verdict == DryForUse || r.Verdict == DryButHeldBack
	open := func(name string, with ...any) {
		if dry {
			// What spoke for dry stays on the page as fact, but the verdict is withdrawn.
			r.Verdict = NotShown
		}
		r.Reasons = append([]Statement{stated(name, with...)}, r.Reasons...)
	}
	if len(r.Conflicts) > 0 && o.measured > 0 {
		open("witnesses-disagree")
		r.ToSettle = append(r.ToSettle, stated("settle-witnesses"))
	}
	if o.measured > 0 && o.measured < r.N {
		judgePlaces(r, p, open)
	}
	if r.Verdict == DryButHeldBack {
		r.HeldBack = r.Over
	}
}

// sameForAll reports whether every one of several variants gives the same verdict on the same boards.
func (x *index) sameForAll(outcomes []outcome) bool {
	for _, o := range outcomes {
		if o.verdict != outcomes[0].verdict || !slices.Equal(o.over, outcomes[0].over) {
			return false
		}
	}
	return len(outcomes) > 1
}

// judgeVariants withdraws a verdict that rests on something the sheet leaves open.
func (x *index) judgeVariants(r *LoadResult, m *measurement, outcomes []outcome) {
	changes := func(same func(a, b variant) bool) bool {
		for i, a := range m.variants {
			for k, b := range m.variants {
				if same(a, b) && (outcomes[i].verdict != outcomes[k].verdict || !slices.Equal(outcomes[i].over, outcomes[k].over)) {
					return true
				}
			}
		}
		return false
	}
	byTemp := changes(func(a, b variant) bool { return a.species == b.species })
	bySpecies := changes(func(a, b variant) bool { return a.temperature == b.temperature })
	if !byTemp && !bySpecies {
		return
	}
	verdicts := map[Verdict]bool{}
	for _, o := range outcomes {
		verdicts[o.verdict] = true
	}
	if len(verdicts) == 1 && r.Verdict == NotDryYet {
		return // not dry under every variant, only the boards over the limit change
	}
	s := x.job.Settings.System
	if byTemp {
		r.Reasons = append([]Statement{stated("temperature-decides", "n", m.all.noTemp+m.all.fromAir, "warm", s.Temperature(m.warm), "cold", s.Temperature(m.cold))}, r.Reasons...)
		r.ToSettle = append(r.ToSettle, stated("settle-temperature", "n", m.all.noTemp+m.all.fromAir))
	}
	if bySpecies {
		r.Reasons = append([]Statement{stated("species-decides")}, r.Reasons...)
		r.ToSettle = append(r.ToSettle, stated("settle-species"))
	}
	r.Verdict = NotShown
}

// leastBoards is how few measured boards say nothing of a load as a whole. Source: method of sample boards, at least four even
// in a small kiln (FOR-128 p. 76; seen).
const leastBoards = 4

// places is where in its stack a load was measured.
type places struct {
	known    bool   // where the measured boards lay
	missing  string // slow places with too few of them, in words
	measured int    // boards measured there
}

// lookAtPlaces asks whether the slowest places of the stack, the bottom third and the middle third of its courses, are among
// the measured with at least half their share: boards picked where it is easy are no sample. Source: method of sampling kiln loads, which
// puts samples where drying is slow (FOR-128 p. 76; seen).
func (x *index) lookAtPlaces(r *LoadResult) (p places) {
	if r.Measured == 0 || r.Measured == r.N {
		return p
	}
	measured := map[int]int{} // boards by course
	for _, at := range r.Boards {
		if b := x.out.Boards[at]; b.MC.State != units.NotTaken {
			measured[b.Board.Course]++
		}
	}
	if p.known = r.Courses > 0 && measured[0] < r.Measured; !p.known {
		return p
	}
	var missing []string
	third := func(name string, from, to int) {
		n := 0
		for c := from; c <= to; c++ {
			n += measured[c]
		}
		// Of evenly drawn boards a third of the courses would hold a third: at least half of that is asked for.
		if 2*n*r.Courses < r.Measured*(to-from+1) {
			missing = append(missing, fmt.Sprintf("%s courses (%s)", name, run(from, to)))
			p.measured += n
		}
	}
	low := max(1, r.Courses/3)
	third("bottom", 1, low)
	if mid := max(low+1, r.Courses-low); r.Courses > 2 {
		third("middle", low+1, mid)
	}
	p.missing = strings.Join(missing, " and ")
	return p
}

// judgePlaces opens the verdict of a load that was not measured, or not known to be, where it dries slowest.
func judgePlaces(r *LoadResult, p places, open func(string, ...any)) {
	switch {
	case !p.known:
		open("places-not-known", "n", r.Measured)
		r.ToSettle = append(r.ToSettle, stated("settle-places", "rest", r.N-r.Measured))
	case p.missing != "":
		open("slow-places-missing", "places", p.missing, "measured", p.measured)
		r.ToSettle = append(r.ToSettle, stated("settle-slow-places", "places", p.missing))
	}
}

// slowUnmeasured says how many of some further boards should come from the slow courses (the bottom two thirds) and which
// these are: as many as their share of the boards not yet measured, rounded up. It gives two empty strings when places are
// not known.
func (x *index) slowUnmeasured(r *LoadResult, more int) (n, where string) {
	slow, all := 0, 0
	top := r.Courses - max(1, r.Courses/3)
	for _, s := range r.Stack {
		if s.MC.State != units.NotTaken || s.Board == "" && r.N == len(r.Boards) {
			continue
		}
		all++
		if s.Course <= top {
			slow++
		}
	}
	if all == 0 || slow == 0 || r.Courses < 3 {
		return "", ""
	}
	return fmt.Sprint(min(slow, (more*slow+all-1)/all)), run(1, top)
}

// run writes from-to, or one number.
func run(from, to int) string {
	if from >= to {
		return fmt.Sprint(from)
	}
	return fmt.Sprintf("%d-%d", from, to)
}

// percent writes a share as a percentage with no more digits than it has.
func percent(share float64) string {
	return strings.TrimSuffix(strings.TrimSuffix(fmt.Sprintf("%.1f", share*100), "0"), ".") + " %"
}

// percentOf writes n of m as a percentage.
func percentOf(n, m int) string {
	if m == 0 {
		return "0 %"
	}
	return percent(float64(n) / float64(m))
}
