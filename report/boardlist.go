package report

import (
	"fmt"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/page"
)

// drawBoardList writes every board that was measured with its number: with it the mean and the counts can be done again.
func (j *job) drawBoardList(d *page.Doc, l *compute.LoadResult) {
	if l.Measured == 0 {
		return
	}
	corrected, ranges := false, false
	var boards []*compute.BoardResult
	for _, at := range l.Boards {
		b := &j.Boards[at]
		if b.MC.State == units.NotTaken {
			continue
		}
		boards = append(boards, b)
		if r := b.MC.Reading; r.State == units.Number && b.MC.State == units.Number {
			corrected = corrected || r.MC != b.MC.MC
			ranges = ranges || b.MC.Low != b.MC.High
		}
	}
	entries := make([]listEntry, len(boards))
	for i, b := range boards {
		entries[i] = listEntry{b.Board.ID, listWords(b, corrected, j.system), b.Over}
	}
	d.Need(24) // the heading with some of the list
	d.Heading(2, "Readings by board")
	d.Para(j.wording("load-list", "corrected", yes(corrected), "ranges", yes(ranges)), page.Style{Size: listSize, Gray: page.Soft})
	d.Space(0.6)
	drawList(d, entries)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// listWords is what was read in wood of which temperature and what it is corrected: 8.5 at 66 F > 8.9, with the range when the correction is open.
func listWords(b *compute.BoardResult, corrected bool, system units.System) string {
	m := b.MC
	is := placeWords(m)
	if m.State == units.Number && m.Low != m.High {
		is += fmt.Sprintf(" (%s-%s)", m.Low, m.High)
	}
	if corrected && m.Reading.State != units.NotTaken {
		read := m.Reading.String()
		if m.Wood.Known() {
			read += " at " + system.Temperature(m.Wood)
		}
		return read + " \u2192 " + is
	}
	if m.Reading.Doubtful {
		is += "?"
	}
	return is
}

type listEntry struct {
	id, value string
	strong    bool // over the limit
}

// listSize is the type of the list of readings.
const listSize = 7 * page.Point

// drawList writes names and values in as many columns as their widths allow, filled from the top down on each page.
func drawList(d *page.Doc, all []listEntry) {
	const row, gap = 2.65, 5.0
	st, bold := page.Style{Size: listSize, Plain: true}, page.Style{Size: listSize, Face: page.Bold, Plain: true}
	idW, valueW := 0.0, 0.0
	for _, e := range all {
		idW, valueW = max(idW, d.TextWidth(oneLine(e.id), bold)), max(valueW, d.TextWidth(e.value, bold))
	}
	b := d.Body()
	valueW += 0.2
	idW = min(idW+2, b.W-valueW)
	cols := max(1, int((b.W+gap)/(idW+valueW+gap)))
	for cols > 1 && (len(all)+cols-2)/(cols-1) == (len(all)+cols-1)/cols {
		cols-- // no fewer rows for it
	}
	step := (b.W + gap) / float64(cols)
	for len(all) > 0 {
		d.Need(3 * row)
		rows := max(1, min(int(d.Room()/row), (len(all)+cols-1)/cols))
		n := min(len(all), rows*cols)
		y := d.Y()
		for i, e := range all[:n] {
			x, cy := b.X+float64(i/rows)*step, y+float64(i%rows)*row
			s := st
			if e.strong {
				s = bold
			}
			d.Fit(page.Rect{X: x, Y: cy, W: idW - 1, H: row}, e.id, s, 0)
			s.Align = page.Right
			d.Fit(page.Rect{X: x + idW, Y: cy, W: min(step-gap-idW, valueW+4), H: row}, e.value, s, 0)
		}
		d.SetY(y + float64(rows)*row)
		if all = all[n:]; len(all) > 0 {
			d.NewPage()
		}
	}
	d.Space(1)
}
