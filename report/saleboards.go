package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/footage"
	"drytally/compute/units"
	"drytally/report/page"
)

// drawSaleBoards is the list of the boards, several side by side when they are many.
func (j *job) drawSaleBoards(d *page.Doc, s *compute.SaleResult) {
	if len(s.Boards) == 0 {
		return
	}
	const apart = 4 // between the two halves of the table
	nominal := slices.ContainsFunc(s.Boards, func(at int) bool { return nominalWords(&j.Boards[at], j.system) != "" })
	size, feet, moisture := 34.0, 10.0, 16.0
	if nominal {
		size = 37.5
	}
	t := page.Table{}
	if len(j.openOf(s)) > 0 { // smaller, so that they stand on a line
		t.Size, size, feet, moisture = page.SizeSmall, size-4, 9, 22.5
	}
	sets := 1
	if len(s.Boards) > 4 {
		sets = 2
	}
	rows := (len(s.Boards) + sets - 1) / sets
	for i := range sets {
		if i > 0 {
			t.Columns = append(t.Columns, page.Column{Width: apart})
		}
		t.Columns = append(t.Columns, page.Column{Head: "Board"}, page.Column{Head: "Size", Width: size}, page.Column{Head: "Board feet", Width: feet, Align: page.Right},
			page.Column{Head: "Moisture", Width: moisture, Align: page.Right})
	}
	for r := range rows {
		var row page.Row
		for c := range sets {
			if c > 0 {
				row.Cells = append(row.Cells, page.Cell{})
			}
			if i := c*rows + r; i < len(s.Boards) {
				row.Cells = append(row.Cells, j.saleBoardCells(&j.Boards[s.Boards[i]])...)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	d.Space(2)
	d.Table(t)
	var legend []string
	if nominal {
		legend = append(legend, j.wording("statement-nominal"))
	}
	if slices.ContainsFunc(s.Boards, func(at int) bool { return j.Boards[at].Over }) {
		legend = append(legend, j.wording("statement-bold"))
	}
	j.drawSaleLegend(d, s, legend...)
}

// drawSaleRun lists the boards with their moisture alone, one behind the other, in a size of type.
func (j *job) drawSaleRun(d *page.Doc, s *compute.SaleResult, size float64) {
	if len(s.Boards) == 0 {
		return
	}
	parts := make([]string, len(s.Boards))
	for i, at := range s.Boards {
		b := &j.Boards[at]
		parts[i] = oneLine(b.Board.ID) + " " + saleMoisture(b)
		if b.Over {
			parts[i] += " (over the limit)"
		}
		parts[i] = strings.ReplaceAll(parts[i], " ", noBreak)
	}
	d.Space(1.2)
	d.Para(strings.Join(parts, "; "), page.Style{Size: size, Plain: true})
	j.drawSaleLegend(d, s, j.wording("statement-run"))
}

// drawSaleLegend explains a list of boards.
func (j *job) drawSaleLegend(d *page.Doc, s *compute.SaleResult, legend ...string) {
	if open := j.openOf(s); len(open) > 0 {
		legend = append(legend, j.wording("statement-ranges", "open", j.openWords(open...)))
	}
	if len(legend) > 0 {
		d.Para(strings.Join(legend, " "), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	}
}

// openOf lists the moistures of a sale that stand with a range.
func (j *job) openOf(s *compute.SaleResult) []compute.BoardMC {
	var open []compute.BoardMC
	for _, at := range s.Boards {
		if m := j.Boards[at].MC; openRange(m) {
			open = append(open, m)
		}
	}
	return open
}

// saleMoisture is a board's moisture, behind it the range where the correction leaves it open.
func saleMoisture(b *compute.BoardResult) string {
	if openRange(b.MC) {
		return fmt.Sprintf("%s (%s-%s)", mcWords(b.MC), b.MC.Low, b.MC.High)
	}
	return mcWords(b.MC)
}

// openRange reports whether the correction of a board's number is not settled, so that a range stands beside it.
func openRange(m compute.BoardMC) bool { return m.State == units.Number && m.Low != m.High }

// openWords says what leaves the correction of some boards open.
func (j *job) openWords(all ...compute.BoardMC) string {
	set := j.Job.Settings
	unmeasured := func(m compute.BoardMC) bool { return !m.Wood.Known() && set.MeterWoodTemp != compute.Yes }
	return j.wording("mc-open", "temperature", yes(slices.ContainsFunc(all, unmeasured)), "species", yes(set.MeterSpecies == compute.NotSaid))
}

// nominalWords writes the nominal thickness a board's footage counts with (4/4, 5/4), so that it can be done again; empty when
// its rule counts with the measured thickness.
func nominalWords(b *compute.BoardResult, system units.System) string {
	if !b.Footage.Known || b.Footage.Rule != compute.SurfaceMeasure || b.Nominal <= 0 {
		return ""
	}
	if name, ok := footage.QuartersName(b.Nominal); ok {
		return name
	}
	return system.Size(b.Nominal)
}

// saleBoardCells is a board's number, size behind its nominal thickness, footage and moisture.
func (j *job) saleBoardCells(b *compute.BoardResult) []page.Cell {
	feet := ""
	if b.Footage.Known {
		feet = boardFeet(b.Footage.Hundredths)
	}
	mc := page.Cell{Text: saleMoisture(b)}
	if b.Over {
		mc.Face = page.Bold
	}
	return []page.Cell{{Text: b.Board.ID, Plain: true}, {Text: joined(": ", nominalWords(b, j.system), j.soldSize(b))}, {Text: feet}, mc}
}

// soldSize writes a board's dry size as measured: thickness x width x length, the thickness at its thinnest.
func (j *job) soldSize(b *compute.BoardResult) string {
	var parts []string
	least := b.Least
	if least == 0 && len(b.Board.Thickness) > 0 {
		least = slices.Min(b.Board.Thickness)
	}
	for _, l := range []units.Length{least, b.Board.Width} {
		if l != 0 {
			parts = append(parts, j.system.Size(l))
		}
	}
	if b.Board.Length != 0 {
		parts = append(parts, j.system.Run(b.Board.Length))
	}
	if j.system == units.Metric { // one unit for all three
		for i := range parts[:max(0, len(parts)-1)] {
			parts[i] = strings.TrimSuffix(parts[i], " mm")
		}
	}
	return strings.Join(parts, " x ")
}
