package report

import (
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/report/page"
)

// millToDo asks for the mill's name when papers for others go out without it.
func (j *job) millToDo() []toDo {
	if j.Job.Settings.MillName != "" || len(j.Loads)+len(j.Sales) == 0 {
		return nil
	}
	return []toDo{{what: "The settings", text: j.wording("summary-no-mill")}}
}

// saleToDo says what to do about a sale that holds boards which are not dry enough for their use.
func (j *job) saleToDo(s *compute.SaleResult) []toDo {
	var lines, over []string
	of := map[string][]string{} // load -> its boards in the sale
	name := func(load string) string { return strings.ToLower(strings.TrimSpace(load)) }
	for _, at := range s.Boards {
		b := &j.Boards[at]
		if b.Over {
			over = append(over, b.Board.ID)
		}
		of[name(b.Board.Load)] = append(of[name(b.Board.Load)], b.Board.ID)
	}
	for _, l := range j.loadsOf(s) {
		boards := of[name(l.Load.ID)]
		switch {
		case l.Verdict == compute.NotDryYet:
			lines = append(lines, j.wording("summary-sale-wet", "load", shortID(l.Load.ID), "boards", strings.Join(shortened(boards, mostSaleBoards), ", ")))
		case len(s.Boards) == 0 && len(l.HeldBack) > 0:
			lines = append(lines, j.wording("summary-sale-held", "load", shortID(l.Load.ID), "boards", strings.Join(l.HeldBack, ", ")))
		}
	}
	for _, row := range s.Sales {
		if len(row.Boards) == 0 && row.Pieces > 0 && s.OwnUse == "" {
			lines = append(lines, j.wording("summary-sale-unnamed", "pieces", strconv.Itoa(row.Pieces), "load", shortID(row.Load)))
		}
	}
	if len(over) > 0 {
		lines = append([]string{j.wording("summary-sale-over", "n", strconv.Itoa(len(over)), "boards", strings.Join(over, ", "))}, lines...)
	}
	if len(lines) == 0 {
		return nil
	}
	return []toDo{{what: "Sale " + shortID(s.ID), text: strings.Join(lines, " ")}}
}

// mostSaleBoards is how many boards of a load that is not dry a line of the summary names.
const mostSaleBoards = 8

// drawMeters says what meters held against the oven, and against each other, came to.
func (j *job) drawMeters(d *page.Doc) {
	var lines []string
	for _, m := range j.Meters {
		if len(m.Says) > 0 {
			lines = append(lines, strings.Join(j.allSaid(m.Says), " "))
		}
	}
	if len(lines) == 0 {
		return
	}
	d.Need(24)
	d.Heading(1, "The meters")
	d.Bullets(lines, page.Style{Size: page.SizeTable})
}

// drawSummaryYear writes the year of the place when there is no cut sheet to hold it.
func (j *job) drawSummaryYear(d *page.Doc) {
	if len(j.Sizes)+len(j.Cuts) == 0 {
		j.drawClimate(d)
	}
}

// drawLooseProbes writes the core records that belong to no load.
func (j *job) drawLooseProbes(d *page.Doc) {
	for _, h := range j.Heat {
		if h.Load != "" || len(h.Says) == 0 {
			continue
		}
		d.KeepTogether(func() {
			d.Heading(1, "Core temperatures as logged, of no load")
			d.Bullets(j.allSaid(h.Says), page.Style{Size: page.SizeTable})
		})
	}
}
