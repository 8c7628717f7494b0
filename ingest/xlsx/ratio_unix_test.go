//go:build unix

package xlsx

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// mostOfRawRows is how much of the second reader's time for its raw rows our reading may take.
const mostOfRawRows = 0.5

// TestReadingTime holds the CPU time of reading a file against the second reader's raw row iterator on the same file. Both
// must give the same cells.
func TestReadingTime(t *testing.T) {
	if testing.Short() || raceDetector {
		t.Skip("not checked with -short or the race detector: how long reading takes (with it times say nothing)")
	}
	path := filepath.Join(t.TempDir(), "season.xlsx")
	data := season(t)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	ours := func() [][]string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		book, err := Read("season.xlsx", data)
		if err != nil {
			t.Fatal(err)
		}
		var all [][]string
		for _, row := range book.Sheets[0].Rows {
			cells := make([]string, 0, row.Len())
			for c := range row.Cells() {
				for len(cells) < c.Col-1 {
					cells = append(cells, "")
				}
				cells = append(cells, c.Text)
			}
			all = append(all, cells)
		}
		return all
	}
	theirs := func() [][]string {
		f, err := excelize.OpenFile(path)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := f.Rows("Sheet1")
		if err != nil {
			t.Fatal(err)
		}
		var all [][]string
		for rows.Next() {
			cells, err := rows.Columns(excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, cells)
		}
		return all
	}
	a, b := ours(), theirs()
	n := 0
	for i := range b {
		for k := range b[i] {
			if n++; len(a) != len(b) || len(a[i]) != len(b[i]) || a[i][k] != b[i][k] {
				t.Fatalf("the readers differ in row %d, cell %d: got %q, want %q", i+1, k+1, a[i], b[i])
			}
		}
	}
	if n != seasonCells {
		t.Fatalf("got %d cells, want %d", n, seasonCells)
	}
	// The least of several turns: other programs on the machine only ever add.
	least, leastTheirs := time.Duration(1<<62), time.Duration(1<<62)
	for range 5 {
		least = min(least, cpuOf(t, func() { ours() }))
		leastTheirs = min(leastTheirs, cpuOf(t, func() { theirs() }))
	}
	ratio := float64(least) / float64(leastTheirs)
	t.Logf("%d cells: ours %v, raw rows of the second reader %v, ratio %.2f", n, least.Round(time.Millisecond), leastTheirs.Round(time.Millisecond), ratio)
	if ratio > mostOfRawRows {
		t.Errorf("reading takes %.2f of the second reader's time, want at most %.2f", ratio, mostOfRawRows)
	}
}

// cpuOf gives the CPU time of this process, user and system, that f takes.
func cpuOf(t *testing.T, f func()) time.Duration {
	t.Helper()
	before := cpu(t)
	f()
	return cpu(t) - before
}

func cpu(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
