package main

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

func made(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := weeks()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestCommittedWeeksAreWhatTheGeneratorMakes(t *testing.T) {
	root := filepath.Join("..", "..", "testdata", "weeks")
	for name, want := range made(t) {
		got, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		if err != nil {
			t.Errorf("%s: %v; write it with go run ./cmd/demoweeks", name, err)
			continue
		}
		if !strings.HasSuffix(name, ".xlsx") {
			if !bytes.Equal(got, want) {
				t.Errorf("%s differs from what the generator makes; write it again with go run ./cmd/demoweeks", name)
			}
			continue
		}
		// Parts are compared unpacked: another Go release may pack the same bytes differently.
		gotParts, wantParts := unpack(t, name, got), unpack(t, name, want)
		if len(gotParts) != len(wantParts) {
			t.Errorf("%s has %d parts, want %d", name, len(gotParts), len(wantParts))
		}
		for part, content := range wantParts {
			if !bytes.Equal(gotParts[part], content) {
				t.Errorf("%s: %s differs from what the generator makes; write it again with go run ./cmd/demoweeks", name, part)
			}
		}
	}
}

func unpack(t *testing.T, name string, book []byte) map[string][]byte {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	parts := map[string][]byte{}
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatalf("%s: %s: %v", name, f.Name, err)
		}
		if parts[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatalf("%s: %s: %v", name, f.Name, err)
		}
	}
	return parts
}

func TestTwoRunsGiveTheSameBytes(t *testing.T) {
	first, second := made(t), made(t)
	if len(first) != 11 {
		t.Errorf("got %d files, want 2 workbooks and 9 CSV files", len(first))
	}
	for name := range first {
		if !bytes.Equal(first[name], second[name]) {
			t.Errorf("%s differs between two runs", name)
		}
	}
}

func TestFirstSheetSaysInvented(t *testing.T) {
	files := made(t)
	for _, name := range []string{"two-loads.xlsx", "metric-cherry.xlsx"} {
		f, err := excelize.OpenReader(bytes.NewReader(files[name]))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got, err := f.GetCellValue(f.GetSheetList()[0], "A2")
		if err != nil || got != invented {
			t.Errorf("%s: first sheet, A2: got %q, %v; want %q", name, got, err, invented)
		}
		_ = f.Close()
	}
	if !bytes.Contains(files["pine-csv/settings.csv"], []byte("An invented example")) {
		t.Error("pine-csv/settings.csv does not say that it is an invented example")
	}
}

func TestSumsAreNumbersAndRight(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(made(t)["two-loads.xlsx"]))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	n := 0
	for row := 1; row < 25; row++ {
		cell, _ := excelize.CoordinatesToCellName(6, row)
		formula, _ := f.GetCellFormula("Sawn this week", cell)
		if formula == "" {
			continue
		}
		n++
		stored, _ := f.GetCellValue("Sawn this week", cell)
		computed, err := f.CalcCellValue("Sawn this week", cell)
		if err != nil || stored != computed {
			t.Errorf("%s = %s: stored %q, computed %q, %v", cell, formula, stored, computed, err)
		}
		if kind, _ := f.GetCellType("Sawn this week", cell); kind == excelize.CellTypeFormula {
			t.Errorf("%s: the stored result is text, want a number", cell)
		}
	}
	if n != 4 {
		t.Errorf("got %d sums, want 3 subtotals and a total", n)
	}
}

// limitInterior is the highest moisture content for interior use: Wood Handbook FPL-GTR-190, Table 13-2; memory.
const limitInterior = 10.0

func TestAshIsOverTheLimitOnlyWhereHeldBack(t *testing.T) {
	files := made(t)
	w := drawMixed()
	sheet := rows(t, files["two-loads.xlsx"], "Meter readings")
	over, read, low := map[string]bool{}, map[string]bool{}, 0
	for _, row := range sheet {
		if len(row) < 4 || !strings.HasPrefix(row[0], "A") {
			continue
		}
		read[row[0]] = true
		if row[1] == "LO" {
			low++
			continue
		}
		f := 70.0 // the shop, where nothing is written
		if row[2] != "" {
			f = numberIn(t, row[2])
		}
		if corrected(numberIn(t, row[1]), celsius(f)) > limitInterior+0.05 { // printed 10.0 is not over 10
			over[row[0]] = true
		}
	}
	if len(read) != 54 {
		t.Errorf("got %d ash boards read, want 54 of 60", len(read))
	}
	if low < 2 || low > 8 {
		t.Errorf("got %d readings LO, want a few", low)
	}
	for _, b := range w.ash {
		if got, want := over[b.id], slices.Contains(w.heldBack, b.id); got != want {
			t.Errorf("%s: over the limit %v, want %v (true %.2f)", b.id, got, want, b.mc)
		}
	}
	if n := len(w.soldBoards()); n != 24 {
		t.Errorf("got %d boards sold, want 24", n)
	}
	for _, id := range w.soldBoards() {
		if over[id] || !read[id] {
			t.Errorf("%s is sold: over the limit %v, read %v", id, over[id], read[id])
		}
	}
}

func TestUnreadAshLeavesNoPlaceOut(t *testing.T) {
	w := drawMixed()
	widest, thickest := w.ash[0], w.ash[0]
	courses, spots := map[int]int{}, map[int]int{}
	for _, b := range w.ash {
		if b.width > widest.width {
			widest = b
		}
		if slices.Max(b.thick) > slices.Max(thickest.thick) {
			thickest = b
		}
		if !w.ashUnread[b.id] {
			courses[b.course]++
			spots[b.spot]++
		}
	}
	if w.ashUnread[widest.id] || w.ashUnread[thickest.id] {
		t.Errorf("widest %s and thickest %s must be among those read", widest.id, thickest.id)
	}
	for c := 1; c <= 10; c++ {
		if courses[c] < 4 {
			t.Errorf("course %d: %d read, want 4 or more", c, courses[c])
		}
	}
	for _, c := range []int{1, 5, 6} {
		if courses[c] != 6 {
			t.Errorf("course %d: %d read, want all 6: bottom and middle dry last", c, courses[c])
		}
	}
	for s := 1; s <= 6; s++ {
		if spots[s] < 8 {
			t.Errorf("spot %d: %d read, want 8 or more of 10", s, spots[s])
		}
	}
}

func TestMeansAreWhereTheStorySaysTheyAre(t *testing.T) {
	w, m := drawMixed(), drawMetric()
	for _, c := range []struct {
		name      string
		boards    []board
		low, high float64
	}{
		{"ash", w.ash, 7.8, 8.5},
		{"pine in the sun kiln", w.pineMeasured, 18.0, 20.0},
		{"cherry", m.boards, 7.6, 8.1},
	} {
		if got := mean(c.boards, func(b board) float64 { return b.mc }); got < c.low || got > c.high {
			t.Errorf("%s: mean moisture content %.2f, want %.1f to %.1f", c.name, got, c.low, c.high)
		}
	}
	if n := len(w.pineMeasured); n != 48 {
		t.Errorf("got %d pine boards pulled, want 48", n)
	}
}

func TestShrinkageReadBackwardsAgrees(t *testing.T) {
	w, m := drawMixed(), drawMetric()
	for _, c := range []struct {
		name   string
		boards []board
		green  float64
		wood   timber
	}{
		{"ash", w.ash, 4.25, whiteAsh},
		{"cherry", m.boards, 260, blackCherry},
	} {
		s := 1 - mean(c.boards, func(b board) float64 { return b.width })/c.green
		got := fiberSaturation * (1 - s/c.wood.tangential)
		want := mean(c.boards, func(b board) float64 { return b.mc })
		// 12 percent spread of shrinkage over 40 boards moves 22 points by 0.42 (one standard error), sawing by 0.35.
		if math.Abs(got-want) > 1.5 {
			t.Errorf("%s: widths say %.2f, the boards have %.2f", c.name, got, want)
		}
	}
}

func TestSampleWeightsAgreeWithTheirSections(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	s := sample{"S", through(25, 6, 8, 25), 2.84, 43}
	rows := s.weigh(r, date(time.October, 5), []int{0, 5, 10, 25}, 0.005)
	var start, last float64
	var weights []float64
	for _, row := range rows {
		if row.wet > 0 {
			start += (row.wet/row.ovendry - 1) * 100 / 2
			continue
		}
		weights = append(weights, row.weight)
	}
	od := weights[0] / (1 + start/100)
	last = (weights[len(weights)-1]/od - 1) * 100
	if math.Abs(last-8) > 0.8 {
		t.Errorf("got %.2f %% from sections and weights, want 8 within 0.8", last)
	}
	if !slices.IsSortedFunc(weights, func(a, b float64) int { return int(math.Copysign(1, b-a)) }) {
		t.Errorf("weights %v do not fall", weights)
	}
}

func TestPineCSVIsReadOnlyNearTheTop(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(string(made(t)["pine-csv/readings.csv"])), "\n")
	if n := len(lines) - 1; n != 14 {
		t.Errorf("got %d readings, want 14 of 60 boards", n)
	}
	if !bytes.HasPrefix(made(t)["pine-csv/loads.csv"], []byte("\ufeff")) {
		t.Error("loads.csv has no byte order mark")
	}
	if !bytes.Contains(made(t)["pine-csv/boards.csv"], []byte("\r\n")) {
		t.Error("boards.csv has no Windows line ends")
	}
}

func TestMeterAndAirFormulas(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
		within    float64
		from      string
	}{
		{"emc 70 F 65 %", emc(70, 0.65), 12.0, 0.06, "Wood Handbook Table 4-2; seen"},
		{"emc 110 F 70 %", emc(110, 0.70), 12, 0.5, "E. Wengert (2000); seen"},
		{"wet bulb 110 F 70 %", wetBulb(110, 0.70), 100, 0.5, "E. Wengert (2000); seen"},
		{"reads 12 at 50 F", corrected(12, 10), 13.2, 0.05, "own arithmetic with the formula"},
		{"reads 9 at 90 F", corrected(9, 32.2), 8.3, 0.05, "own arithmetic with the formula"},
		{"there and back", corrected(shown(11, 4), 4), 11, 1e-9, "inverse"},
	} {
		if math.Abs(c.got-c.want) > c.within {
			t.Errorf("%s: got %.3f, want %.3f within %g (%s)", c.name, c.got, c.want, c.within, c.from)
		}
	}
}

func TestWritten(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{inches(11.375, "-"), "11-3/8"}, {inches(11.375, " "), "11 3/8"}, {inches(0.75, " "), "3/4"}, {inches(9, " "), "9"},
		{feet(96), "8'"}, {feet(98), `8' 2"`},
		{runs([]string{"1", "2", "3", "5", "7", "8"}, func(s string) string { return string(s[0] + 1) }), "1-3, 5, 7, 8"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestRunRefusesWords(t *testing.T) {
	var out, errOut bytes.Buffer
	if code := run([]string{"here"}, &out, &errOut); code != 2 || errOut.Len() == 0 {
		t.Errorf("got exit %d and %q, want 2 and a message", code, errOut.String())
	}
	if code := run([]string{"-to", t.TempDir()}, &out, &errOut); code != 0 {
		t.Errorf("got exit %d, want 0: %s", code, errOut.String())
	}
}

func rows(t *testing.T, book []byte, name string) [][]string {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(book))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	got, err := f.GetRows(name)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func mean(boards []board, of func(board) float64) float64 {
	s := 0.0
	for _, b := range boards {
		s += of(b)
	}
	return s / float64(len(boards))
}

// numberIn reads the number of a cell such as "66 F" or "~10".
func numberIn(t *testing.T, s string) float64 {
	t.Helper()
	number, _, _ := strings.Cut(strings.TrimPrefix(s, "~"), " ")
	if x, err := strconv.ParseFloat(number, 64); err == nil {
		return x
	}
	t.Fatalf("no number in %q", s)
	return 0
}
