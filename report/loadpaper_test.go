package report

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/report/page"
)

// recorded draws a paper into a recording document and gives what stands on it, line by line, and what left its box.
func recorded(t *testing.T, j *job, paper page.Paper, draw func(*page.Doc)) (text string, pages int) {
	t.Helper()
	d := page.New(page.Options{Paper: paper, Record: true, Title: "test", Footer: "test", Stamp: j.stamp("test"), OnPage: func(d *page.Doc, n int) {
		if n > 1 {
			j.runningHead(d, "test")
		}
	}})
	d.NewPage()
	j.head(d, "Title", "right")
	draw(d)
	body := d.Body()
	body.H += page.MarginBottom // the footer stands below
	body.Y -= page.MarginTop
	body.H += page.MarginTop
	body.X, body.W = body.X-0.5, body.W+1 // half of a heavy line
	pages = d.PageNo()
	if _, err := d.Bytes(); err != nil {
		t.Fatalf("the paper fails: %v", err)
	}
	if j.failed != nil {
		t.Fatalf("a wording fails: %v", j.failed)
	}
	all := d.Drawn()
	for _, x := range page.Outside(all, body) {
		t.Errorf("page %d: %s %q is drawn at %+v, outside of %+v", x.Page, x.What, x.Text, x.Box, x.Clip)
	}
	onBody := d.Body()
	for _, x := range all {
		if !x.Foot && x.Box.Bottom() > onBody.Bottom()+0.5 {
			t.Errorf("page %d: %s %q runs below the body: %+v", x.Page, x.What, x.Text, x.Box)
		}
	}
	checkTextApart(t, all)
	var b strings.Builder
	for _, x := range all {
		if x.What == page.DrewText && !x.Foot {
			b.WriteString(x.Text)
			b.WriteByte('\n')
		}
	}
	return b.String(), pages
}

// checkTextApart finds lines of text that run into each other. The boxes of text are higher than its letters, so only
// what overlaps by more than a third of the smaller box counts.
func checkTextApart(t *testing.T, all []page.Drawn) {
	t.Helper()
	var texts []page.Drawn
	for _, x := range all {
		if x.What == page.DrewText && strings.TrimSpace(x.Text) != "" {
			texts = append(texts, x)
		}
	}
	slices.SortStableFunc(texts, func(a, b page.Drawn) int { return a.Page - b.Page })
	for i, a := range texts {
		for _, b := range texts[i+1:] {
			if b.Page != a.Page {
				break
			}
			w := min(a.Box.Right(), b.Box.Right()) - max(a.Box.X, b.Box.X)
			h := min(a.Box.Bottom(), b.Box.Bottom()) - max(a.Box.Y, b.Box.Y)
			if w > 0.2 && h > min(a.Box.H, b.Box.H)/3 {
				t.Errorf("page %d: %q at %+v runs into %q at %+v", a.Page, a.Text, a.Box, b.Text, b.Box)
				return
			}
		}
	}
}

// inOne is the text with its lines joined, to find sentences that run over lines.
func inOne(s string) string { return strings.Join(strings.Fields(s), " ") }

func TestLoadPapers(t *testing.T) {
	t.Parallel()
	for name, k := range loadSketches() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := sketched(k)
			j := exampleJob(r)
			l := &r.Loads[0]
			for _, paper := range []page.Paper{page.Letter, page.A4} {
				text, pages := recorded(t, j, paper, func(d *page.Doc) { j.drawLoad(d, l) })
				one := inOne(text)
				for _, want := range []string{capital(k.verdict.String()), "Verdict of load", "Boards in the load", "No grade", "This paper is about moisture and is no grade",
					"No heat treatment is claimed", "signature", "and no strength or span is stated"} {
					if !strings.Contains(one, want) {
						t.Errorf("%s: the paper lacks %q", name, want)
					}
				}
				if most := 4; pages > most && name != "long names" && name != "nasty strings" {
					t.Errorf("%s: got %d pages, want at most %d", name, pages, most)
				}
			}
			twice(t, func() ([]byte, error) { return exampleJob(sketched(k)).loadPaper(&sketched(k).Loads[0]) })
		})
	}
}

// twice makes a paper two times: the bytes must be equal.
func twice(t *testing.T, draw func() ([]byte, error)) {
	t.Helper()
	a, err := draw()
	if err != nil {
		t.Fatalf("the paper fails: %v", err)
	}
	b, err := draw()
	if err != nil {
		t.Fatalf("the paper fails the second time: %v", err)
	}
	if !bytes.Equal(a, b) {
		t.Errorf("two runs gave different bytes (%d and %d)", len(a), len(b))
	}
	keep(t, a)
}

// keep writes a paper where DRYTALLY_PAPERS names a folder, to be looked at.
func keep(t *testing.T, paper []byte) {
	t.Helper()
	folder := os.Getenv("DRYTALLY_PAPERS")
	if folder == "" {
		return
	}
	name := strings.NewReplacer("/", "-", " ", "-", "'", "", ",", "").Replace(t.Name()) + ".pdf"
	if err := os.WriteFile(filepath.Join(folder, name), paper, 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestLoadPaperSays(t *testing.T) {
	t.Parallel()
	tests := []struct {
		sketch, title string
		want, never   []string
	}{
		{"dry", "Load certificate", []string{"6.0 to 10.0 %, average 8.0 %", "Table 13-2 (memory)", "30, on 16 to 17 October 2026", "60, by the loads sheet",
			"360 by hardwood surface measure, of 60 boards", "390.33 by volume measure, of 66 boards, measured before kiln drying", "It is no certification by an inspector or an agency.", "about 640 lb",
			"K14-1", "K14-22; and 19 more.", "Readings!C9: the reading 81.0 stands among readings around 8.0; is it 8.1?", "allowed share 10 % (default)", "meter kind pin (the owner's)",
			"Weights: no sample board with weights", "Not below", "limit 10.0 %"}, []string{"Take this board out", "What would settle it", "kerf", "horse"}},
		{"dry, owner's limit, walnut", "Load certificate", []string{"up to 9.5 %", "the limit is the owner's own"}, []string{"Table 13-2", "Not measured"}},
		{"dry, withheld", "Load report", []string{"No certificate is given: 1 error in the sheets touches this load.", `Readings!D14: "9,5" is not a moisture reading.`}, nil},
		{"held back", "Load certificate", []string{"Take these boards out: 6 over 9.0 %", "K17-9", "9.8 %, course 2, spot 3", "over 30.0 %, course 3, spot 1",
			"only showed the meter's mark: under 6.0 %", "only showed the meter's mark: over 30.0 %", "mean without those held back", "over the limit", "not measured", "1: K17-6",
			"under the range asked for", "Mean and spread fit a normal distribution"}, nil},
		{"not dry", "Load report", []string{"Not dry yet", "No forecast: a drying curve needs"}, nil},
		{"not shown", "Load report", []string{"Not shown to be dry", "What would settle it", "They do not agree", "By meter it is 7.0 to 9.0 %"}, []string{"The stack seen from its end"}},
		{"no readings, no use", "Load report", []string{"No moisture reading of this load's 80 boards", "not said in the sheets", "Moisture asked for", "not known", "and 51 more"},
			[]string{"Readings by board", "The readings"}},
		{"all below range", "Load report", []string{"12 boards only showed the meter's mark: under 6.0 %", "<6.0"}, nil},
		{"200 boards", "Load certificate", []string{"K23-200", "course 1"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.sketch, func(t *testing.T) {
			t.Parallel()
			k, ok := loadSketches()[tt.sketch]
			if !ok {
				t.Fatalf("no sketch %q", tt.sketch)
			}
			r := sketched(k)
			j := exampleJob(r)
			if got := loadTitle(&r.Loads[0]); got != tt.title {
				t.Errorf("title: got %q, want %q", got, tt.title)
			}
			text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawLoad(d, &r.Loads[0]) })
			says(t, text, tt.want, tt.never)
			for _, b := range r.Boards { // every number can be found again
				if b.MC.State == units.Number && !strings.Contains(text, b.Board.ID+"\n"+b.MC.MC.String()+"\n") {
					t.Errorf("board %s with %s is not in the list of readings", b.Board.ID, b.MC.MC)
				}
			}
		})
	}
}

// TestLoadTitle holds that nothing but a dry load without errors has a certificate.
func TestLoadTitle(t *testing.T) {
	t.Parallel()
	for v := compute.NotShown; v <= compute.DryForUse; v++ {
		for _, withheld := range []bool{false, true} {
			want := "Load report"
			if v >= compute.DryButHeldBack && !withheld {
				want = "Load certificate"
			}
			if got := loadTitle(&compute.LoadResult{Verdict: v, Withheld: withheld}); got != want {
				t.Errorf("verdict %v, withheld %v: got %q, want %q", v, withheld, got, want)
			}
		}
	}
}

// TestZeroLoad makes the paper of a load of which nothing at all is known.
func TestZeroLoad(t *testing.T) {
	t.Parallel()
	j := exampleJob(&compute.Result{Job: &compute.Job{Settings: compute.Defaults(), Loads: []compute.Load{{}}}})
	l := &compute.LoadResult{Load: &j.Job.Loads[0]}
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawLoad(d, l) })
	if !strings.Contains(text, "Not shown") {
		t.Errorf("an empty load: got no verdict \"Not shown\" in\n%s", text)
	}
}

func TestManyWarnings(t *testing.T) {
	t.Parallel()
	r := sketched(loadSketches()["dry"])
	for i := range 60 {
		r.Loads[0].Warnings = append(r.Loads[0].Warnings, finding.Finding{Severity: finding.Warning, Place: finding.Place{Sheet: "Readings", Row: 20 + i, Col: 2}, Problem: "odd"})
	}
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, func(d *page.Doc) { j.drawLoad(d, &r.Loads[0]) })
	if want := "And 46 more"; !strings.Contains(inOne(text), want) { // 61 findings, 15 of them named
		t.Errorf("the paper lacks %q", want)
	}
}

func TestFlagsDoNotCross(t *testing.T) {
	t.Parallel()
	d := page.New(page.Options{})
	d.NewPage()
	var dots []readDot
	for i := range 30 {
		dots = append(dots, readDot{id: strings.Repeat("B", 1+i%9), over: i%2 == 0, x: d.Body().X + float64(i*i)/9})
	}
	flags, rows, unnamed := placeFlags(d, dots)
	if len(flags)+unnamed != 15 || rows > mostFlags {
		t.Errorf("got %d flags and %d without, in %d rows; want 15 together, at most %d rows", len(flags), unnamed, rows, mostFlags)
	}
	for i, a := range flags {
		for _, b := range flags[i+1:] { // b stands left of a
			if b.row <= a.row && b.dot.x+0.7+b.w > a.dot.x {
				t.Errorf("the flag of the board at %.1f (row %d) runs into the pole at %.1f (row %d)", b.dot.x, b.row, a.dot.x, a.row)
			}
		}
	}
}
