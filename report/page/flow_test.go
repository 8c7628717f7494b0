package page

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rsc.io/qr"
)

// texts gives what was written on a page, in order.
func texts(d *Doc, page int) []string {
	var out []string
	for _, x := range d.Drawn() {
		if x.Page == page && x.What == DrewText {
			out = append(out, x.Text)
		}
	}
	return out
}

func TestKeepTogetherTurnsThePage(t *testing.T) {
	d := New(Options{Record: true})
	d.NewPage()
	d.SetY(d.Body().Bottom() - 20)
	block := func() {
		for range 6 {
			d.Para("line", Style{})
		}
	}
	h := d.Height(block)
	if want := 6 * Baseline; math.Abs(h-want) > 1e-6 {
		t.Errorf("got height %g, want %g", h, want)
	}
	d.KeepTogether(block)
	if d.PageNo() != 2 || len(texts(d, 1)) != 0 || len(texts(d, 2)) != 6 {
		t.Errorf("got %d lines on page 1 and %d on page 2, want 0 and 6", len(texts(d, 1)), len(texts(d, 2)))
	}
	d.KeepTogether(func() { d.Para(strings.Repeat("word ", 4000), Style{}) })
	if len(texts(d, 2)) == 6 {
		t.Error("a block higher than a page should start where it stands")
	}
}

func TestParagraphLeavesNoSingleLine(t *testing.T) {
	for room := 1; room <= 6; room++ {
		d := New(Options{Record: true, NoFooter: true})
		d.NewPage()
		d.SetY(d.Body().Bottom() - (float64(room)+0.2)*Baseline)
		d.Para("1\n2\n3\n4\n5", Style{})
		first, second := len(texts(d, 1)), len(texts(d, 2))
		if first+second != 5 || first == 1 || second == 1 {
			t.Errorf("room for %d of 5 lines: got %d and %d", room, first, second)
		}
	}
}

func TestTableHeadComesAgain(t *testing.T) {
	d := New(Options{Record: true})
	tab := Table{Columns: []Column{{Head: "board"}, {Head: "width"}}}
	for i := range 120 {
		tab.Rows = append(tab.Rows, Cells(fmt.Sprint(i), "x"))
	}
	d.Table(tab)
	if d.PageNo() < 2 {
		t.Fatal("120 rows should take more than a page")
	}
	seen := 0
	for p := 1; p <= d.PageNo(); p++ {
		got := texts(d, p)
		if got[0] != "board" || got[1] != "width" {
			t.Errorf("page %d starts with %q, want the heading row", p, got[:2])
		}
		seen += (len(got) - 2) / 2
	}
	if seen != 120 {
		t.Errorf("got %d rows on all pages, want 120", seen)
	}
}

func TestGroupStaysWithItsRow(t *testing.T) {
	for room := 8.0; room < 30; room += 1.5 {
		d := New(Options{Record: true})
		d.NewPage()
		d.SetY(d.Body().Bottom() - room)
		d.Table(Table{Columns: []Column{{}, {}}, Rows: []Row{Cells("a", "b"), Cells("a", "b"),
			{Group: true, Cells: []Cell{{Text: "group", Span: 2}}}, Cells("c", "d")}})
		page := map[string]int{}
		for _, x := range d.Drawn() {
			page[x.Text] = x.Page
		}
		if page["group"] != page["c"] {
			t.Errorf("room %g: the group stands on page %d and its row on page %d", room, page["group"], page["c"])
		}
	}
}

func TestLastRowDoesNotGoOverAlone(t *testing.T) {
	for room := 8.0; room < 60; room += 0.5 {
		d := New(Options{Record: true})
		d.NewPage()
		d.SetY(d.Body().Bottom() - room)
		tab := Table{Columns: []Column{{Head: "head"}}}
		for i := range 9 {
			tab.Rows = append(tab.Rows, Cells(fmt.Sprint("row ", i)))
		}
		d.Table(tab)
		page := map[string]int{}
		for _, x := range d.Drawn() {
			page[x.Text] = x.Page
		}
		if page["row 7"] != page["row 8"] {
			t.Errorf("room %g: the last row stands on page %d, the one above it on page %d", room, page["row 8"], page["row 7"])
		}
	}
}

func TestRowHigherThanAPage(t *testing.T) {
	d := New(Options{Record: true})
	d.Table(Table{Columns: []Column{{Head: "a", Width: 30}, {Head: "b"}}, Rows: []Row{Cells(strings.Repeat("word ", 900), "x")}})
	n := 0
	for _, x := range d.Drawn() {
		n += strings.Count(x.Text, "word")
		if x.Box.Bottom() > d.Body().Bottom()+0.01 {
			t.Fatalf("%q at %v leaves the body", x.Text, x.Box)
		}
	}
	if n != 900 {
		t.Errorf("got %d words, want 900", n)
	}
}

func TestNotes(t *testing.T) {
	d := New(Options{Record: true})
	a, b, c := d.Note("first"), d.Note("second"), d.Note("first")
	if a != "\u00B9" || b != "\u00B2" || c != a {
		t.Errorf("got marks %q %q %q", a, b, c)
	}
	d.Height(func() { d.Note("only measured"); d.Notes() })
	d.Notes()
	if got := d.Note("third"); got != "\u00B3" {
		t.Errorf("numbers run on: got %q, want \u00B3", got)
	}
	if got := strings.Join(texts(d, 1), " "); got != "\u00B9 first \u00B2 second" {
		t.Errorf("got %q", got)
	}
}

func TestRunningHeadAndFooter(t *testing.T) {
	d := New(Options{Record: true, Footer: "load 12", OnPage: func(d *Doc, n int) {
		d.Text(d.Body().X, d.Y()+3, fmt.Sprint("head ", n), Style{})
		d.SetY(d.Y() + 8)
	}})
	d.Para("one", Style{})
	d.NewPage()
	d.Para("two", Style{})
	if _, err := d.Bytes(); err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"head 1", "one", "page 1 of 2", "load 12"}, {"head 2", "two", "page 2 of 2", "load 12"}}
	for i, w := range want {
		if got := texts(d, i+1); fmt.Sprint(got) != fmt.Sprint(w) {
			t.Errorf("page %d: got %q, want %q", i+1, got, w)
		}
	}
}

func TestAxis(t *testing.T) {
	a := Axis{Box: Rect{20, 0, 100, 10}, Low: 4, High: 14}
	for _, c := range []struct {
		v, x   float64
		inside bool
	}{{4, 20, true}, {14, 120, true}, {9, 70, true}, {3, 20, false}, {99, 120, false}, {math.NaN(), 20, false}} {
		if x, in := a.At(c.v); math.Abs(x-c.x) > 1e-9 || in != c.inside {
			t.Errorf("At(%g) gives %g %v, want %g %v", c.v, x, in, c.x, c.inside)
		}
	}
	for _, c := range []struct {
		span float64
		n    int
		want float64
	}{{10, 8, 2}, {10, 10, 1}, {1, 8, 0.2}, {24, 8, 5}, {0, 8, 1}, {math.NaN(), 8, 1}} {
		if got := NiceStep(c.span, c.n); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("NiceStep(%g, %d) gives %g, want %g", c.span, c.n, got, c.want)
		}
	}
	d := New(Options{Record: true, NoFooter: true})
	d.Axis(Axis{Box: Rect{20, 20, 100, 10}, Low: 5.5, High: 7, Step: 0.5, Label: "%"})
	if got := strings.Join(texts(d, 1), " "); got != "5.5 6 6.5 7 %" {
		t.Errorf("got numbers %q, want 5.5 6 6.5 7", got)
	}
}

// The rectangles that are drawn give back the code module by module, with nothing in the quiet zone. The code is the one the
// library's own front gives.
func TestCodeIsDrawnAsEncoded(t *testing.T) {
	for _, text := range []string{"A17", "0123456789", `board A17, white oak, 1 1/16 x 7 1/4 in, MC 8.1 %`, strings.Repeat("x", 2331), "\u00E9\U0001F332"} {
		code, err := qr.Encode(text, qr.M)
		if err != nil {
			t.Fatal(err)
		}
		own, err := encoded(text)
		if err != nil {
			t.Fatal(err)
		}
		black := map[[2]int]bool{}
		for _, r := range qrRects(own) {
			for x := r.col; x < r.col+r.width; x++ {
				for y := r.row; y < r.row+r.height; y++ {
					black[[2]int{x, y}] = true
				}
			}
		}
		for y := -quietZone; y < code.Size+quietZone; y++ {
			for x := -quietZone; x < code.Size+quietZone; x++ {
				if drawn := black[[2]int{x, y}]; drawn != code.Black(x, y) {
					t.Fatalf("text of %d bytes: module %d,%d is drawn black %v, want %v", len(text), x, y, drawn, code.Black(x, y))
				}
			}
		}
		d := New(Options{})
		module, err := d.QR(20, 20, 30, text)
		if want := 30 / float64(code.Size+8); err != nil || math.Abs(module-want) > 1e-9 {
			t.Errorf("got module %g, error %v, want %g", module, err, want)
		}
	}
}

func TestHatchStaysInItsBox(t *testing.T) {
	// The lines are cut off by hand, not by a clip, so their ends are worth a look: every end lies on an edge.
	for _, r := range []Rect{{10, 10, 30, 5}, {10, 10, 5, 30}, {10, 10, 0.1, 9}} {
		d := New(Options{Record: true})
		d.NewPage()
		d.pdf.SetCompression(false)
		d.Hatch(r, 1, false, Stroke{})
		d.Hatch(r, 1, true, Stroke{})
		b, err := d.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for line := range strings.Lines(string(b)) {
			var x1, y1, x2, y2 float64
			if k, _ := fmt.Sscanf(line, "%f %f m %f %f l S", &x1, &y1, &x2, &y2); k != 4 {
				continue
			}
			n++
			for _, p := range []Pt{{x1, 792 - y1}, {x2, 792 - y2}} { // points, letter paper
				if !r.Inset(-0.01).Holds(Rect{p.X * Point, p.Y * Point, 0, 0}) {
					t.Errorf("box %v: a line ends at %v", r, p)
				}
			}
		}
		if n < 2 {
			t.Errorf("box %v: found %d lines", r, n)
		}
	}
}
