package report

import (
	"strings"
	"testing"

	"drytally/report/page"
)

// TestSmallPrintTakesTheRoomThereIs: alone on a page the cautions stand in the largest type they have; where little room is left, in a
// smaller one, on the same page; where not even the least finds room, in the largest on the next page; and what is more than a page in
// the least type flows on in it.
func TestSmallPrintTakesTheRoomThereIs(t *testing.T) {
	j := exampleJob(exampleResult())
	size := func(used float64, more int) (size float64, pages int) {
		var doc *page.Doc
		_, pages = recorded(t, j, page.Letter, func(d *page.Doc) {
			doc = d
			d.Para("a line", page.Style{})
			d.Space(used)
			s := j.cautionPrint(cautionsFor("statement", nil, nil), nil)
			for range more {
				s.groups = append(s.groups, s.groups[0])
			}
			drawSmallPrint(d, s)
		})
		for _, x := range doc.Drawn() {
			if strings.HasPrefix(x.Text, "This paper is no grade") {
				size = x.Size
			}
		}
		return size, pages
	}
	for name, c := range map[string]struct {
		used  float64
		more  int
		least float64
		most  float64
		pages int
	}{
		"much room":        {0, 0, 8 * page.Point, 8 * page.Point, 1},
		"little room":      {140, 0, 6.6 * page.Point, 7.5 * page.Point, 1},
		"no room":          {190, 0, 8 * page.Point, 8 * page.Point, 2},
		"more than a page": {190, 60, cautionSize, cautionSize, 3},
	} {
		if got, pages := size(c.used, c.more); got < c.least || got > c.most || pages != c.pages {
			t.Errorf("%s: got type of %.1f points on %d pages, want %.1f to %.1f on %d", name, got/page.Point, pages, c.least/page.Point, c.most/page.Point, c.pages)
		}
	}
}
