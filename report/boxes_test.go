package report

import (
	"fmt"
	"testing"

	"drytally/compute"
	"drytally/report/page"
)

// TestPapersStayInTheirBoxes draws the papers whose length the sheets decide, of ordinary and of hard results; recorded holds every text
// against its box.
func TestPapersStayInTheirBoxes(t *testing.T) {
	for name, draw := range map[string]func(*job, *page.Doc){"cut sheet": (*job).drawCutSheet, "summary": (*job).drawSummary} {
		for _, res := range []struct {
			name string
			make func() *compute.Result
		}{{"example", exampleResult}, {"nasty", nastySheets}, {"large", func() *compute.Result { return largeSale(1000) }}, {"empty", emptyResult},
			{"many findings", manyFindings}} {
			for _, paper := range []page.Paper{page.Letter, page.A4} {
				t.Run(fmt.Sprintf("%s, %s, paper %d", name, res.name, paper), func(t *testing.T) {
					j := exampleJob(res.make())
					_, pages := recorded(t, j, paper, func(d *page.Doc) { draw(j, d) })
					t.Logf("%d pages", pages)
				})
			}
		}
	}
}
