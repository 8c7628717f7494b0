package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"drytally/ingest"
)

// manySets are sets that are told apart by their names only.
func manySets(n int) []ingest.Set {
	var sets []ingest.Set
	for i := range n {
		name := fmt.Sprintf("week%03d", i)
		sets = append(sets, ingest.Set{Name: name, Paths: []string{name + ".xlsx"}})
	}
	return sets
}

// Whatever is done first, both streams read the same, no more work at once than there are workers, and nothing is done twice.
func TestOrderIsStable(t *testing.T) {
	sets := manySets(300) // more than may be done ahead of their turn
	var want [2]string
	for seed := range uint64(6) {
		var out, errOut bytes.Buffer
		b := newBatch(call{}, &out, &errOut)
		b.workers = 1 + int(seed)*3
		var atWork, most, done atomic.Int64
		b.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
			if n := atWork.Add(1); n > most.Load() {
				most.Store(n)
			}
			defer atWork.Add(-1)
			time.Sleep(time.Duration(rand.New(rand.NewPCG(seed, uint64(done.Add(1)))).IntN(2000)) * time.Microsecond)
			var n int
			fmt.Sscanf(set.Name, "week%d", &n)
			switch n % 5 {
			case 0:
				fmt.Fprintf(errOut, "%s is bad\n", set.Name)
				return outcome{code: exitFile}
			case 1, 2:
				fmt.Fprintf(out, "%s: unchanged\n", set.Name)
				return outcome{unchanged: true}
			case 3:
				return outcome{code: exitSetAside}
			}
			fmt.Fprintf(out, "%s\nreport\n", set.Name)
			return outcome{}
		}
		b.run(context.Background(), sets)
		b.total()
		if got := [2]string{out.String(), errOut.String()}; seed == 0 {
			want = got
		} else if got != want {
			t.Fatalf("with %d workers: the streams differ from those of one worker\ngot %q\nwant %q", b.workers, got, want)
		}
		if done.Load() != 300 || most.Load() > int64(b.workers) || b.worst != exitFile {
			t.Errorf("%d were done, %d at once by %d workers, code %d", done.Load(), most.Load(), b.workers, b.worst)
		}
	}
	if !strings.Contains(want[0], "week299\nreport\n\n300 workbooks: 120 done, 120 unchanged, 60 not done\n") || strings.Count(want[1], "\n") != 60 {
		t.Errorf("got the end %q", want[0][len(want[0])-200:])
	}
}

// A mistake of our own in one workbook is said and keeps no other from its papers.
func TestOwnFaultStopsNoOther(t *testing.T) {
	var out, errOut bytes.Buffer
	b := newBatch(call{}, &out, &errOut)
	b.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
		fmt.Fprintln(out, set.Name)
		if set.Name == "week001" {
			panic("no such row")
		}
		return outcome{}
	}
	b.run(context.Background(), manySets(3))
	if b.worst != exitFile || b.written != 2 || b.failed != 1 {
		t.Errorf("code %d, %d written, %d failed", b.worst, b.written, b.failed)
	}
	if out.String() != "week000\n\nweek002\n" || !strings.Contains(errOut.String(), "week001.xlsx: drytally itself is at fault (no such row)") {
		t.Errorf("got %q and %q", &out, &errOut)
	}
}

// A stopped run finishes what it has in hand and begins nothing more.
func TestStoppedRun(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	var out, errOut bytes.Buffer
	b := newBatch(call{}, &out, &errOut)
	b.workers = 1
	b.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
		if set.Name == "week002" {
			stop()
		}
		fmt.Fprintln(out, set.Name)
		return outcome{}
	}
	b.run(ctx, manySets(10))
	if want := "week000\n\nweek001\n\nweek002\n"; out.String() != want {
		t.Errorf("got %q, want %q", &out, want)
	}
}

// How far a run is, is said only when it takes long and somebody reads along.
func TestProgress(t *testing.T) {
	for _, c := range []struct {
		progress bool
		want     string
	}{{true, "drytally: 1 of 3 workbooks done, about 50 seconds left\n"}, {false, ""}} {
		var out, errOut bytes.Buffer
		b := newBatch(call{}, &out, &errOut)
		b.workers, b.progress, b.tick = 1, c.progress, 10*time.Millisecond
		b.elapsed = func() time.Duration { return 26 * time.Second }
		b.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
			if set.Name == "week001" {
				time.Sleep(100 * time.Millisecond)
			}
			return outcome{}
		}
		b.run(context.Background(), manySets(3))
		if got := errOut.String(); !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("progress %v: got %q, want %q", c.progress, got, c.want)
		}
	}
	var out, errOut bytes.Buffer
	if b := newBatch(call{}, &out, &errOut); b.progress {
		t.Error("a run nobody reads along with says how far it is")
	}
	for _, c := range []struct {
		d    time.Duration
		want string
	}{{0, "5 seconds"}, {12 * time.Second, "10 seconds"}, {58 * time.Second, "a minute"}, {100 * time.Second, "2 minutes"}, {95 * time.Minute, "2 hours"}} {
		if got := roughly(c.d); got != c.want {
			t.Errorf("%v: got %q, want %q", c.d, got, c.want)
		}
	}
}

// many makes a folder of workbooks, CSV sets apart; the text tells each from the others.
func many(t *testing.T, n int) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "weeks")
	data, err := os.ReadFile("../../testdata/weeks/metric-cherry.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		writeFile(t, filepath.Join(folder, fmt.Sprintf("week%02d.xlsx", i)), string(data))
	}
	return folder
}

func writeFile(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Papers are dropped once they are written: a run over many workbooks needs no more memory than one over a few.
func TestMemoryOfManyIsBounded(t *testing.T) {
	n := 24
	if testing.Short() {
		n = 8
	}
	folder := many(t, n)
	var out, errOut bytes.Buffer
	var heap []uint64
	b := newBatch(call{}, &out, &errOut)
	b.after = func(set ingest.Set, o outcome, said string) bool {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		heap = append(heap, m.HeapAlloc)
		return false
	}
	sets, err := ingest.Gather([]string{folder})
	if err != nil {
		t.Fatal(err)
	}
	b.run(context.Background(), sets)
	if b.written != n {
		t.Fatalf("%d written: %s", b.written, &errOut)
	}
	// The papers of one such week are half a megabyte and the work on it several; two weeks are in hand at any time.
	const room = 24 << 20
	if first, last := heap[n/4], heap[n-1]; last > first+room {
		t.Errorf("%d MB after %d workbooks, %d MB after %d", first>>20, n/4, last>>20, n)
	}
	t.Logf("heap after the first workbook %d MB, after number %d %d MB", heap[0]>>20, n, heap[n-1]>>20)
}

// Papers of two workbooks never go into one folder: of those that would, none is written, and the others are.
func TestCollidingPapers(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "weeks")
	const table = "Board,Thickness,Width,Length\nB1,1,6,8\n"
	writeFile(t, filepath.Join(dir, "a", "week.csv"), table)
	writeFile(t, filepath.Join(dir, "b", "WEEK.csv"), table)
	writeFile(t, filepath.Join(dir, "c", "other.csv"), table)
	writeFile(t, filepath.Join(dir, "d", "w\u00E9ek.csv"), table)
	writeFile(t, filepath.Join(dir, "e", "we\u0301ek.csv"), table)
	var out, errOut bytes.Buffer
	to := filepath.Join(dir, "out")
	args := []string{"-to", to}
	for _, sub := range []string{"a", "b", "c", "d", "e"} {
		args = append(args, filepath.Join(dir, sub))
	}
	if got := run(args, &out, &errOut); got != exitCall {
		t.Errorf("exit %d, want %d: %s", got, exitCall, &errOut)
	}
	entries, err := os.ReadDir(to)
	if err != nil || len(entries) != 1 || entries[0].Name() != "other-papers" {
		t.Errorf("got %v, %v; want other-papers alone", entries, err)
	}
	if n := strings.Count(errOut.String(), "would both go into"); n != 2 {
		t.Errorf("%d messages, want 2: %s", n, &errOut)
	}
	// One file named two ways is one workbook.
	out.Reset()
	abs := filepath.Join(dir, "c", "other.csv")
	t.Chdir(filepath.Dir(abs))
	if got := run([]string{"other.csv", abs, filepath.Join(dir, "c", "..", "c", "other.csv")}, &out, &errOut); got != exitWritten || strings.Contains(out.String(), "workbooks:") {
		t.Errorf("exit %d: %s", got, &out)
	}
}
