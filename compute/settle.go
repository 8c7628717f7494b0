package compute

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"drytally/compute/units"
)

// leastMean is the mean less one standard error of sampling and meter together: five in six means lie above it. Too dry is the
// lesser harm, so that less is asked than of the boards over the limit; the simulation of loads holds dry verdicts of loads
// that are not dry to fewer than 5 in 100. This project's choice.
func leastMean(e units.Estimate) units.MC {
	if e.Confidence == 0 {
		return e.Value
	}
	down := (e.Value - e.Low).Percent() / z95
	return units.Percent(e.Value.Percent() - down).TenthDown()
}

// settleBound says the least work that would bring the bound of boards over the limit within the allowed share: measuring
// further boards; or, when boards near the limit keep it open whatever else is measured, taking these out.
func (x *index) settleBound(r *LoadResult, o *outcome, settle func(string, ...any)) {
	limit, off, share := r.Band.High, r.MeterOff.Percent(), x.job.Settings.AllowedShare
	clear := (limit - r.MeterOff).TenthDown()
	if more, ok := furtherClear(r.N, o.boards, off, share); ok && more > 0 {
		n, where := x.slowUnmeasured(r, more)
		settle("settle-more-clear", "n", more, "clear", clear, "off", r.MeterOff.Tenth(), "limit", limit, "courses", n, "where", where)
		return
	}
	if o.measured < r.N {
		if more := x.cleanNeeded(r.N, o.measured, len(o.over)); more == 0 {
			settle("settle-all", "n", r.N-o.measured)
		}
	}
	if out, more, ok := takeOut(r.N, o.boards, off, share); ok {
		ids := func(of []int) string {
			var names []string
			for _, at := range of {
				names = append(names, x.out.Boards[o.at[at]].Board.ID)
			}
			slices.SortFunc(names, CompareIDs)
			return strings.Join(names, ", ")
		}
		least := o.boards[out[len(out)-1]].margin // of the driest of them
		var ties []int                            // boards that stay and read as much as it
		for at, b := range o.boards {
			if b.margin == least && !b.held && !slices.Contains(out, at) {
				ties = append(ties, at)
			}
		}
		settle("settle-take-out", "n", len(out), "boards", ids(out), "from", units.Percent(limit.Percent()-least), "ties", ids(ties), "tied", len(ties),
			"more", fmt.Sprint(more), "clear", clear, "limit", limit)
	}
	settle("settle-check-meter", "off", r.MeterOff.Tenth(), "limit", limit)
}

// takeOut finds the fewest boards, the wettest first, that bring the bound of those that stay within the allowed share when
// they are taken out beside the boards over the limit; with as few further boards measured clear of the limit as can be. The
// boards are indices into boards. ok is false when none would do, or when no board would stay.
func takeOut(n int, boards []measuredBoard, off, share float64) (out []int, more int, ok bool) {
	order := make([]int, 0, len(boards))
	for i, b := range boards {
		if !b.held {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case boards[a].margin < boards[b].margin:
			return -1
		case boards[a].margin > boards[b].margin:
			return 1
		}
		return 0
	})
	with := slices.Clone(boards)
	for k, at := range order {
		if boards[at].margin > off || math.IsInf(boards[at].margin, -1) {
			return nil, 0, false // the next board is clear of the limit: it is not what keeps the bound open
		}
		with[at].held = true
		if k+1 == len(order) && len(boards) == n {
			return nil, 0, false
		}
		if more, ok := furtherClear(n, with, off, share); ok {
			return order[:k+1], more, true
		}
	}
	return nil, 0, false
}
