package page

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"drytally/testdata/tool"
)

func TestSameCallsGiveSameBytes(t *testing.T) {
	for _, o := range []Options{{}, {Paper: A4, Landscape: true}} {
		// At once, so that the race detector sees whether documents share anything.
		var got [3][]byte
		var wait sync.WaitGroup
		for i := range got {
			wait.Go(func() {
				b, err := sample(t, o).Bytes()
				if err != nil {
					t.Error(err)
				}
				got[i] = b
			})
		}
		wait.Wait()
		if !bytes.Equal(got[0], got[1]) || !bytes.Equal(got[0], got[2]) {
			t.Errorf("options %+v: three runs of the same calls gave different bytes", o)
		}
	}
}

func TestDocumentIsSmall(t *testing.T) {
	const most = 120_000 // bytes; three faces are embedded once in a document
	d := New(Options{})
	d.Para("one line, \u2264 3/8\"", Style{})
	d.Para("bold", Style{Face: Bold})
	d.Para("italic", Style{Face: Italic})
	b, err := d.Bytes()
	if err != nil || len(b) > most {
		t.Errorf("a page with three faces takes %d bytes, error %v, want at most %d", len(b), err, most)
	}
}

func TestDocumentProperties(t *testing.T) {
	b, err := New(Options{Title: "A", Language: "en-US) /X (", Creator: "drytally 1"}).Bytes()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"/Lang (en-US)", "D:20000101000000", "/CreationDate", "/ModDate"} {
		if !bytes.Contains(b, []byte(want)) {
			t.Errorf("document does not hold %q", want)
		}
	}
	b, _ = New(Options{Date: sampleDate}).Bytes()
	if !bytes.Contains(b, []byte("D:20241122093000")) {
		t.Error("document does not hold the date of the job")
	}
}

func TestPaperAndGrid(t *testing.T) {
	for _, c := range []struct {
		name string
		o    Options
		w, h float64 // of ISO 216 and of the US letter sheet
	}{{"letter", Options{}, 215.9, 279.4}, {"a4", Options{Paper: A4}, 210, 297},
		{"a4 across", Options{Paper: A4, Landscape: true}, 297, 210}} {
		d := New(c.o)
		if w, h := d.Size(); math.Abs(w-c.w) > 0.01 || math.Abs(h-c.h) > 0.01 {
			t.Errorf("%s: got %.2f x %.2f, want %.2f x %.2f", c.name, w, h, c.w, c.h)
		}
		if got, want := c.o.Body(), d.Body(); math.Abs(got.W-want.W) > 1e-6 || math.Abs(got.H-want.H) > 1e-6 || got.X != want.X || got.Y != want.Y {
			t.Errorf("%s: the body is %v before and %v after", c.name, got, want)
		}
		x, w := d.Column(0, Columns)
		if math.Abs(x-d.Body().X) > 1e-9 || math.Abs(w-d.Body().W) > 1e-9 {
			t.Errorf("%s: all columns take %g..%g, want the body %v", c.name, x, x+w, d.Body())
		}
		x, w = d.Column(Columns-1, 1)
		if math.Abs(x+w-d.Body().Right()) > 1e-9 {
			t.Errorf("%s: the last column ends at %g, want %g", c.name, x+w, d.Body().Right())
		}
	}
}

func TestMistakesComeOut(t *testing.T) {
	for name, draw := range map[string]func(*Doc){
		"no number":       func(d *Doc) { d.Line(0, 0, math.NaN(), 1, Stroke{}) },
		"infinite":        func(d *Doc) { d.Text(math.Inf(1), 0, "x", Style{}) },
		"far off":         func(d *Doc) { d.Dot(1e9, 0, 1, Black) },
		"code too long":   func(d *Doc) { d.QR(0, 0, 20, strings.Repeat("x", 5000)) },
		"axis turned":     func(d *Doc) { d.Axis(Axis{Low: 2, High: 1}) },
		"axis no number":  func(d *Doc) { d.Axis(Axis{Low: 2, High: math.NaN()}) },
		"box no number":   func(d *Doc) { d.Fit(Rect{0, 0, math.NaN(), 5}, "x", Style{}, 0) },
		"cursor off":      func(d *Doc) { d.SetY(math.NaN()) },
		"hatch no number": func(d *Doc) { d.Hatch(Rect{0, 0, math.Inf(1), 4}, 1, false, Stroke{}) },
	} {
		d := New(Options{})
		d.NewPage()
		draw(d)
		if _, err := d.Bytes(); err == nil {
			t.Errorf("%s: got no error", name)
		}
	}
}

func TestSampleStaysOnThePage(t *testing.T) {
	for _, o := range []Options{{Record: true}, {Record: true, Paper: A4}} {
		d := sample(t, o)
		if _, err := d.Bytes(); err != nil {
			t.Fatal(err)
		}
		body := d.Body()
		for _, x := range Outside(d.Drawn(), body) {
			if x.Foot && !body.Holds(x.Box) && (Rect{0, body.Bottom(), 300, 300}).Holds(x.Box) {
				continue
			}
			t.Errorf("page %d: %s %q at %v leaves %v or the body %v", x.Page, x.What, x.Text, x.Box, x.Clip, body)
		}
		if r := d.Report(); r.Replaced != 5 || r.Cut != 0 { // 5 of the emoji, see nasty
			t.Errorf("got report %+v, want 5 characters replaced and nothing cut", r)
		}
	}
}

// document writes the bytes to a file for another program.
func document(t *testing.T, d *Doc) string {
	t.Helper()
	b, err := d.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(name, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// run runs a program that may not be installed.
func run(t *testing.T, program string, args ...string) string {
	t.Helper()
	tool.Need(t, "whether another program reads the document", program)
	out, err := exec.Command(program, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", program, args, err, out)
	}
	return string(out)
}

func TestDocumentIsSound(t *testing.T) {
	d := sample(t, Options{Record: true})
	for i, s := range nasty {
		d.Bookmark(i%4, 20, s)
		d.Para(s, Style{})
	}
	run(t, "qpdf", "--check", document(t, d))
	o := Options{Title: strings.Join(nasty, " "), Author: nasty[2], Footer: strings.Join(nasty, " "), Subject: nasty[14], Creator: nasty[12]}
	run(t, "qpdf", "--check", document(t, New(o)))
}

func TestTextCopiesOut(t *testing.T) {
	d := New(Options{Footer: "load 12"})
	d.Para(`It is 11 3/8" wide and 13/16" thick, of 5/4 stock; 7 63/64 holds.`, Style{})
	d.Para(`Bold 1 1/2" x 10' 6"`+d.Note("first"), Style{Face: Bold})
	d.Para("na\u00EFve caf\u00E9 \u2264 9 % \u00B1 0.5 \u00B7 ft\u00B2", Style{Face: Italic})
	d.Table(Table{Columns: []Column{{Head: "size", Align: Right, Width: 30}, {Head: "cell"}},
		Rows: []Row{{Cells: []Cell{{Text: `9 7/8"`}, {Text: "3/8", Plain: true}}}}})
	d.Para("note "+raised(10)+" and "+raised(20), Style{})
	name := document(t, d)
	for _, mode := range []string{"-layout", "-raw"} {
		got := strings.Join(strings.Fields(run(t, "pdftotext", mode, name, "-")), " ")
		for _, want := range []string{`It is 11 3/8" wide and 13/16" thick, of 5/4 stock; 7 63/64 holds.`,
			`Bold 1 1/2" x 10' 6"` + raised(1), "na\u00EFve caf\u00E9 \u2264 9 % \u00B1 0.5 \u00B7 ft\u00B2", `9 7/8" 3/8`,
			"note " + raised(10) + " and " + raised(20), "page 1 of 1", "load 12"} {
			if !strings.Contains(got, want) {
				t.Errorf("pdftotext %s: got %q, want it to hold %q", mode, got, want)
			}
		}
	}
}

// TestAxisHasNoMinusZero: an axis from below zero is numbered 0 at zero.
func TestAxisHasNoMinusZero(t *testing.T) {
	d := New(Options{Record: true})
	d.NewPage()
	d.Axis(Axis{Box: Rect{20, 40, 100, 10}, Low: -0.5, High: 8.5, Step: 2})
	for _, x := range d.Drawn() {
		if x.Text == "-0" {
			t.Error("zero is written -0")
		}
	}
}
