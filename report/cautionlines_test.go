package report

import (
	"strings"
	"testing"

	"drytally/report/page"
)

// TestSmallPrintTakesTheRoomThereIs: alone on a page the cautions stand in the largest type they have; where little room is left, in a
// smaller one, on the same page; and never below the least.
func TestSmallPrintTakesTheRoomThereIs(t *testing.T) {
	j := exampleJob(exampleResult())
	size := func(used float64) (size float64, pages int) {
		var doc *page.Doc
		_, pages = recorded(t, j, page.Letter, func(d *page.Doc) {
			doc = d
			d.Para("a line", page.Style{})
			d.Space(used)
			j.drawCautions(d, "statement", nil, nil, nil)
		})
		for _, x := range doc.Drawn() {
			if strings.HasPrefix(x.Text, "This paper is about moisture") {
				size = x.Size
			}
		}
		return size, pages
	}
	free, one := size(0)
	tight, still := size(140)
	least, two := size(190)
	if one != 1 || still != 1 || two != 2 || free != 8*page.Point || tight >= free || tight <= cautionSize || least != cautionSize {
		t.Errorf("got type of %.1f, %.1f and %.1f points on %d, %d and %d pages; want 8 points, smaller on one page, and the least on two",
			free/page.Point, tight/page.Point, least/page.Point, one, still, two)
	}
}
