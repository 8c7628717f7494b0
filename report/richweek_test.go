package report

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/ingest"
	"drytally/report/page"
)

// richWeek is the demo week of two loads with everything written down that the papers can print: readings of shell and core, and
// of a later day, a probe in a core, the air of a shed, a second meter, and the climate of the place. The additions are invented.
func richWeek(t *testing.T, change func(*compute.Job)) *compute.Result {
	t.Helper()
	sets, err := ingest.Gather([]string{filepath.Join("..", "testdata", "weeks", "two-loads.xlsx")})
	if err != nil || len(sets) != 1 {
		t.Fatalf("got %d sets, error %v", len(sets), err)
	}
	job, err := ingest.Read(sets[0])
	if err != nil {
		t.Fatal(err)
	}
	job.Climate, job.Core = nil, nil // the ones below take their place
	first := job.Readings[0]
	read := func(board string, mc float64, where, meter string, date time.Time) {
		r := first
		taken := *first.Taking
		taken.Load, taken.Where, taken.Meter, taken.Date = "K14", where, meter, date
		r.Taking, r.Board, r.Course, r.Spot = &taken, board, 0, 0
		r.Value = units.Reading{State: units.Number, MC: units.Percent(mc)}
		r.WoodTemp = units.Fahrenheit(68)
		job.Readings = append(job.Readings, r)
	}
	last := first.Date
	for _, r := range job.Readings {
		if strings.HasPrefix(r.Board, "A") && r.Date.After(last) {
			last = r.Date
		}
	}
	for i := 1; i <= 9; i++ {
		id := fmt.Sprintf("A%02d", i)
		read(id, 8+float64(i%3)/5, "", "little one", last)
		if i > 4 {
			read(id, 11.5+float64(i%3)/5, "", "", last.AddDate(0, 0, 40))
		} else {
			read(id, 8, "shell", "", last.AddDate(0, 0, 40))
			read(id, 10.5+float64(i%2), "core", "", last.AddDate(0, 0, 40))
		}
	}
	for i := range 30 {
		job.Core = append(job.Core, compute.Core{Origin: first.Origin, Time: last.Add(time.Duration(i*20) * time.Minute), Temp: units.Celsius(40 + float64(i%20)), Probe: "P1", Load: "K14"})
	}
	for i := range 6 {
		job.Air = append(job.Air, compute.Air{Origin: first.Origin, Time: last.AddDate(0, 0, i), DryBulb: units.Celsius(12), Humidity: units.RelativeHumidity(80), Where: "closed shed"})
	}
	for m := time.January; m <= time.December; m++ {
		for _, inside := range []bool{false, true} {
			job.Climate = append(job.Climate, compute.Climate{Origin: first.Origin, Month: m, Temp: units.Celsius(10), Humidity: units.RelativeHumidity(50 + 2*float64(m)), Indoors: inside})
		}
	}
	if change != nil {
		change(job)
	}
	return compute.Assess(job)
}

// says holds the paper against sentences it must say and must not.
func says(t *testing.T, text string, want, never []string) {
	t.Helper()
	one := inOne(text)
	for _, w := range want {
		if !strings.Contains(one, w) {
			t.Errorf("the paper lacks %q", w)
		}
	}
	for _, n := range never {
		if strings.Contains(one, n) {
			t.Errorf("the paper says %q and must not", n)
		}
	}
}

func TestLoadPaperOfARichWeek(t *testing.T) {
	t.Parallel()
	r := richWeek(t, nil)
	j := exampleJob(r)
	l := &r.Loads[0]
	if len(l.Rise.Says) == 0 || len(l.Stores) == 0 || len(l.Layers.Says) == 0 || len(l.Strata) == 0 || len(l.Heat) == 0 || airOnly(l) {
		t.Fatalf("the week is not rich: %d %d %d %d %d", len(l.Rise.Says), len(l.Stores), len(l.Layers.Says), len(l.Strata), len(l.Heat))
	}
	for _, paper := range []page.Paper{page.Letter, page.A4} {
		text, _ := recorded(t, j, paper, func(d *page.Doc) { j.drawLoad(d, l) })
		says(t, text, []string{"bottom courses (1-3)", "Bold: the wettest third.", "Shell and core", "the core is wetter", "now it reads", "After the kiln", "Core temperatures as logged",
			"This is no treatment and no statement about insects", "signature"}, []string{"treatment record"})
	}
	heat := 0
	for _, s := range l.Heat {
		if s.Name == "heat-no-claim" {
			heat++
		}
	}
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawLoad(d, l) })
	if got := strings.Count(inOne(text), "This is no treatment"); heat != 1 || got != 1 {
		t.Errorf("the disclaimer stands %d times in the result and %d times on the paper, want once", heat, got)
	}
	twice(t, func() ([]byte, error) { return exampleJob(r).loadPaper(l) })
}

func TestCutSheetOfARichWeek(t *testing.T) {
	t.Parallel()
	r := richWeek(t, nil)
	r.House = []compute.HouseShrinkage{{Species: "white ash", Direction: "tangential", Known: true, Table: 0.078, Own: 0.081, Used: 0.0797, Error: 0.003, Boards: 12, ByWeight: 2, LeftOut: []string{"A31"},
		TableSource: source.Source{Document: "Wood Handbook"}}, {Species: "black cherry", Direction: "radial", Table: 0.037, Used: 0.037, Boards: 3,
		Says: compute.Statement{Name: "house-too-few", With: map[string]string{"species": "black cherry", "direction": "radial", "n": "3", "out": "0", "table": "3.7 %", "need": "8"}}}}
	j := exampleJob(r)
	for _, paper := range []page.Paper{page.Letter, page.A4} {
		text, _ := recorded(t, j, paper, j.drawCutSheet)
		says(t, text, []string{"Through the year:", "The year of the place", "of 100 flat boards", "cup and bow not counted", "Pieces out of the boards on hand", "boards, each makes", "back to the stack",
			"8 % +/- 0.3 %", "A31", "a figure of your own needs 8", "Each end is trimmed by",
			"With boards on hand", "none if dry: they make 14", "Dust, noise and machines"}, nil)
	}
}

// TestFitDrawsEveryPiece counts the pieces drawn and named against the plan.
func TestFitDrawsEveryPiece(t *testing.T) {
	t.Parallel()
	for name, r := range demoWeeks(t) {
		if r.Fit == nil || !r.Fit.Known {
			continue
		}
		made, boards := make([]int, len(r.Fit.Pieces)), 0
		for _, g := range cutGroups(r.Fit) {
			boards += len(g.sheets)
			for i, n := range g.made {
				made[i] += n * len(g.sheets)
			}
		}
		for i, p := range r.Fit.Pieces {
			if made[i] != p.Made {
				t.Errorf("%s: %d pieces %q drawn, the plan makes %d", name, made[i], p.Wanted.Piece, p.Made)
			}
		}
		for _, s := range r.Fit.Plan.Boards {
			if s.Cut {
				boards--
			}
		}
		if boards != 0 {
			t.Errorf("%s: %d boards too many are drawn", name, boards)
		}
	}
}

func TestSummaryOfARichWeek(t *testing.T) {
	t.Parallel()
	r := richWeek(t, func(job *compute.Job) {
		job.Settings.MillName = ""
		sale := job.Sales[0]
		sale.ID, sale.Boards, sale.Load = "S40", []string{"A04", "P001", "P003"}, ""
		job.Sales = append(job.Sales, sale)
	})
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, j.drawSummary)
	says(t, text, []string{"The meters", "little one", "The settings lack the mill's name", "A04", "take", "out of the sale, or tell the buyer", "Load K15 is not dry yet: dry its boards (P001, P003)"},
		[]string{"(no mill name"})
	s := &r.Sales[len(r.Sales)-1]
	paper, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawStatement(d, s) })
	says(t, paper, []string{"S40"[:1]}, []string{"no mill name", "over 0.0 %"})
}

// TestLongIDs gives load and sale an id of 500 letters: no paper may turn into pages of one narrow column.
func TestLongIDs(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("longwinded", 50)
	r := richWeek(t, func(job *compute.Job) {
		rename := func(load *string) {
			if *load == "K14" {
				*load = long
			}
		}
		for i := range job.Loads {
			rename(&job.Loads[i].ID)
		}
		for i := range job.Boards {
			rename(&job.Boards[i].Load)
		}
		for i := range job.Readings {
			taken := *job.Readings[i].Taking
			rename(&taken.Load)
			job.Readings[i].Taking = &taken
		}
		for i := range job.Cuts {
			rename(&job.Cuts[i].Load)
		}
		for i := range job.Weights {
			rename(&job.Weights[i].Load)
		}
		for i := range job.Air {
			rename(&job.Air[i].Load)
		}
		for i := range job.Core {
			rename(&job.Core[i].Load)
		}
		for i := range job.Sales {
			job.Sales[i].ID = long
			rename(&job.Sales[i].Load)
		}
	})
	j := exampleJob(r)
	// Cut sheet and summary are as long as there are boards and sales: the long names may cost each a page more than short ones.
	short := exampleJob(richWeek(t, func(*compute.Job) {}))
	_, usual := recorded(t, short, page.Letter, short.drawCutSheet)
	_, summary := recorded(t, short, page.Letter, short.drawSummary)
	t.Logf("with short names: cut sheet %d pages, summary %d", usual, summary)
	for name, tt := range map[string]struct {
		most int
		full bool // the id stands there in full
		draw func(*page.Doc)
	}{
		"load":      {4, true, func(d *page.Doc) { j.drawLoad(d, &r.Loads[0]) }},
		"statement": {3, true, func(d *page.Doc) { j.drawStatement(d, &r.Sales[0]) }},
		"summary":   {summary + 1, false, j.drawSummary},
		"cut sheet": {usual + 1, false, j.drawCutSheet},
	} {
		text, pages := recorded(t, j, page.Letter, tt.draw)
		if pages > tt.most {
			t.Errorf("%s: got %d pages, want at most %d", name, pages, tt.most)
		}
		if full := strings.Contains(strings.Join(strings.Fields(text), ""), long); full != tt.full {
			t.Errorf("%s: the id stands in full: %v, want %v", name, full, tt.full)
		}
	}
}

// TestWithheldHeadlines speaks of a certificate only where the readings alone would give one.
func TestWithheldHeadlines(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		verdict     compute.Verdict
		want, never string
	}{
		{compute.DryForUse, "Dry for the use by its readings; certificate withheld", "may change the verdict"},
		{compute.DryButHeldBack, "Dry but for held-back boards by its readings; certificate withheld", "may change the verdict"},
		{compute.NotDryYet, "may change the verdict", "ertificate"},
		{compute.NotShown, "may change the verdict", "ertificate"},
	} {
		k := loadSketches()["dry, withheld"]
		k.verdict = tt.verdict
		r := sketched(k)
		j := exampleJob(r)
		text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawVerdict(d, &r.Loads[0]) })
		says(t, text, []string{tt.want}, []string{tt.never})
	}
}

// TestUnevenSampleHasNoMean never gives the mean of boards picked where it is easy to people who buy the others.
func TestUnevenSampleHasNoMean(t *testing.T) {
	t.Parallel()
	r := sketched(loadSketches()["dry"])
	l := &r.Loads[0]
	l.SlowMissing = "bottom courses (1-3)"
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawStatement(d, &r.Sales[0]) })
	says(t, text, []string{"few or none from the bottom courses (1-3)", "no mean of the load is given"}, []string{"had a mean of"})
	unread := compute.BoardResult{Board: &compute.Board{ID: "X", Load: "K14"}}
	if got := j.tagMC(&unread, l); !strings.Contains(got, "no mean of load K14 is given") {
		t.Errorf("the tag says %q", got)
	}
	l.SlowMissing = ""
	if got := j.tagMC(&unread, l); !strings.Contains(got, "on average") {
		t.Errorf("the tag says %q", got)
	}
}

// TestRangeAndNominal are on statement and tag alike.
func TestRangeAndNominal(t *testing.T) {
	t.Parallel()
	r := sketched(loadSketches()["dry"])
	s := &r.Sales[0]
	s.Boards = s.Boards[:4] // few enough for their sizes to find room
	b := &r.Boards[s.Boards[0]]
	b.Nominal, b.MC = units.Fraction(5, 4), compute.BoardMC{State: units.Number, MC: units.Percent(8), Low: units.Percent(7.6), High: units.Percent(8.4), N: 1, Date: day(17)}
	s.Age = 12
	s.Notes = []compute.Statement{{Name: "sale-age", With: map[string]string{"days": "12"}}}
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawStatement(d, s) })
	says(t, text, []string{"5/4: 1 1/32", "8.0 % (7.6-8.4)", "12 days before the sale", "were taken 12 days before the sale", "the nominal thickness its footage counts with"}, nil)
	if at, table := strings.Index(inOne(text), "were taken 12 days"), strings.Index(inOne(text), "Board feet"); at < 0 || at > table {
		t.Errorf("the age of the readings stands at %d, the table at %d", at, table)
	}
	tag := j.tagOf(b, &r.Loads[0])
	for _, want := range []string{"5/4: 1 1/32", "7.6 to 8.4 %"} {
		if !strings.Contains(strings.Join(tag.lines(), "\n"), want) {
			t.Errorf("the tag lacks %q: %q", want, tag.lines())
		}
	}
	b.Footage.Rule = compute.VolumeMeasure
	if got := nominalWords(b, units.InchFoot); got != "" {
		t.Errorf("volume measure counts with the measured thickness, got %q", got)
	}
}

// TestSignatureNeverAlone lengthens the list of what is wrong line by line: the page the signature stands on always holds more.
func TestSignatureNeverAlone(t *testing.T) {
	t.Parallel()
	for n := range 40 {
		r := sketched(loadSketches()["dry"])
		l := &r.Loads[0]
		for range n {
			l.NotMeasured = append(l.NotMeasured, "another board of this load")
		}
		for i := range n % 15 {
			l.Warnings = append(l.Warnings, finding.Finding{Severity: finding.Warning, Place: finding.Place{Sheet: "Readings", Row: 20 + i, Col: 1}, Problem: fmt.Sprint("doubt ", i)})
		}
		j := exampleJob(r)
		d := page.New(page.Options{Record: true, OnPage: func(d *page.Doc, n int) {
			if n > 1 {
				j.runningHead(d, "test")
			}
		}})
		d.NewPage()
		j.drawLoad(d, l)
		at, texts := 0, map[int]int{}
		for _, x := range d.Drawn() {
			if x.What == page.DrewText {
				texts[x.Page]++
			}
			if x.Text == "signature" {
				at = x.Page
			}
		}
		if at == 0 || texts[at] < 8 { // running head, name, date, signature
			t.Errorf("%d: the signature stands on page %d with %d lines", n, at, texts[at])
		}
	}
}
