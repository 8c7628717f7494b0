package report

import (
	"fmt"
	"strings"

	"drytally/compute"
	"drytally/report/page"
)

// drawSeason says how a piece moves through the year of the place.
func (j *job) drawSeason(d *page.Doc, s *compute.SizeResult) {
	var says []string
	for _, x := range s.Season.Says {
		if x.Name != "season-source" { // once for all pieces, in the appendix
			says = append(says, j.say(x))
		}
	}
	if len(says) > 0 {
		d.Space(0.8)
		d.Para(j.wording("cut-through-year", "says", strings.Join(says, " ")), page.Style{Size: page.SizeTable})
	}
}

// drawHouse is the table of the mill's own shrinkage figures, with the boards each rests on.
func (j *job) drawHouse(d *page.Doc) {
	if len(j.House) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "the mill's own boards", Width: 40}, {Head: "direction", Width: 22}, {Head: "boards", Width: 13, Align: page.Right},
		{Head: "of these by weight", Width: 15, Align: page.Right}, {Head: "own boards shrank", Width: 18, Align: page.Right}, {Head: "handbook", Width: 16, Align: page.Right},
		{Head: "used", Width: 24, Align: page.Right}, {Head: "left out as slips"}}}
	for _, h := range j.House {
		own, used := "-", "handbook's"
		if h.Known {
			own, used = shareWords(h.Own), shareWords(h.Used)+" +/- "+shareWords(h.Error)
		}
		t.Rows = append(t.Rows, page.Cells(h.Species, h.Direction, fmt.Sprint(h.Boards), fmt.Sprint(h.ByWeight), own, shareWords(h.Table), used,
			strings.Join(shortened(h.LeftOut, 12), ", ")))
	}
	d.Table(t)
	var says []string
	for _, h := range j.House {
		if h.Says.Name != "" && !h.Known {
			says = append(says, j.say(h.Says))
		}
	}
	if len(says) > 0 {
		d.Para(strings.Join(says, " "), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	}
}

// climateLines say what the months of the place lead wood to.
func (j *job) climateLines() []string {
	var out []string
	for _, c := range j.Climate {
		out = append(out, strings.Join(j.allSaid(c.Says), " "))
	}
	for _, s := range j.Sizes {
		for _, x := range s.Season.Says {
			if x.Name == "season-source" {
				return append(out, j.say(x))
			}
		}
	}
	return out
}

// drawClimate writes the year of the place.
func (j *job) drawClimate(d *page.Doc) {
	lines := j.climateLines()
	if len(lines) == 0 {
		return
	}
	keepHead(d, func() {
		d.Heading(2, "The year of the place")
		d.Para(lines[0], page.Style{Size: page.SizeTable})
	})
	d.Heading(2, "The year of the place")
	d.Bullets(lines, page.Style{Size: page.SizeTable})
}
