package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"

	"drytally/ingest"
)

// screen is a stream that may be read while it is written.
type screen struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// watched is a watcher at work, with short times.
type watched struct {
	*watcher
	folder      string
	out, errOut screen
	mu          sync.Mutex
	done        []string // names of the sets that were done, in order
	stop        func() int
}

// deadline is how long a test waits for what must come; short times make it come soon.
const deadline = 20 * time.Second

func watchFolder(t *testing.T, set func(w *watcher)) *watched {
	t.Helper()
	v := &watched{folder: filepath.Join(t.TempDir(), "d\u00E4s weeks")}
	if err := os.Mkdir(v.folder, 0o755); err != nil {
		t.Fatal(err)
	}
	w := newWatcher(call{paths: []string{v.folder}}, &v.out, &v.errOut)
	w.settle, w.rescan = 40*time.Millisecond, time.Hour
	w.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
		o := one(c, set, out, errOut)
		if !o.unchanged {
			v.mu.Lock()
			defer v.mu.Unlock()
			v.done = append(v.done, set.Owner())
		}
		return o
	}
	if set != nil {
		set(w)
	}
	v.watcher = w
	ctx, cancel := context.WithCancel(context.Background())
	code := make(chan int, 1)
	go func() { code <- w.run(ctx) }()
	v.stop = sync.OnceValue(func() int {
		cancel()
		select {
		case c := <-code:
			return c
		case <-time.After(deadline):
			t.Error("watching doesn't stop")
			return -1
		}
	})
	t.Cleanup(func() { v.stop() })
	v.wait(t, "the start", func() bool { return strings.Contains(v.errOut.String(), "watching") })
	return v
}

// wait waits until something holds.
func (v *watched) wait(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(deadline); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if holds() {
			return
		}
	}
	t.Fatalf("%s doesn't come\ndone: %q\nout: %s\nerr: %s", what, v.sets(), &v.out, &v.errOut)
}

func (v *watched) sets() []string {
	v.mu.Lock()
	defer v.mu.Unlock()
	return slices.Clone(v.done)
}

// count tells how often a set was done.
func (v *watched) count(owner string) int {
	n := 0
	for _, s := range v.sets() {
		if s == owner {
			n++
		}
	}
	return n
}

// save saves as office programs do: under another name first, then renamed.
func (v *watched) save(t *testing.T, name, text string) {
	t.Helper()
	temp := filepath.Join(v.folder, "~tmp"+name+".part")
	writeFile(t, temp, text)
	if err := os.Rename(temp, filepath.Join(v.folder, name)); err != nil {
		t.Fatal(err)
	}
}

func (v *watched) exists(name string) func() bool {
	return func() bool {
		_, err := os.Stat(filepath.Join(v.folder, name))
		return err == nil
	}
}

func csvWeek(boards ...string) string {
	return "Board,Thickness,Width,Length\n" + strings.Join(boards, ",1,6,8\n") + ",1,6,8\n"
}

func TestWatchWritesPapersOfWhatIsSaved(t *testing.T) {
	cherry, err := os.ReadFile("../../testdata/weeks/metric-cherry.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	two, err := os.ReadFile("../../testdata/weeks/two-loads.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	v := watchFolder(t, nil)
	v.save(t, "week 47.xlsx", string(cherry))
	writeFile(t, filepath.Join(v.folder, "~$week 47.xlsx"), "marker")
	writeFile(t, filepath.Join(v.folder, ".~lock.week 47.xlsx#"), "marker")
	v.wait(t, "the papers", v.exists("week 47-papers/load-C16.pdf"))
	v.wait(t, "the words", func() bool { return strings.Contains(v.out.String(), "Written into") })

	// Saved again with the same content: touched, not changed.
	before := v.out.String()
	v.save(t, "week 47.xlsx", string(cherry))
	v.save(t, "week 48.xlsx", string(cherry))
	v.wait(t, "the second week", func() bool { return v.count("week 48.xlsx") == 1 })
	v.wait(t, "its words", func() bool { return strings.Contains(v.out.String(), "week 48-papers") })
	if n := v.count("week 47.xlsx"); n != 1 || !strings.HasPrefix(v.out.String(), before+"\nweek 48.xlsx") {
		t.Errorf("week 47 was done %d times: %s", n, &v.out)
	}

	// Saved with other content.
	v.save(t, "week 47.xlsx", string(two))
	v.wait(t, "the new papers", v.exists("week 47-papers/load-K14.pdf"))
	if v.exists("week 47-papers/load-C16.pdf")() {
		t.Error("a paper of the earlier content stands")
	}
	if code := v.stop(); code != exitWritten {
		t.Errorf("exit %d", code)
	}
	if got := v.sets(); !slices.Equal(got, []string{"week 47.xlsx", "week 48.xlsx", "week 47.xlsx"}) {
		t.Errorf("done: %q", got)
	}
	entries, err := os.ReadDir(v.folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".drytally") {
			t.Errorf("%q is left", e.Name())
		}
	}
}

// CSV files of the folder are one set, done once when all of them have settled.
func TestWatchTakesCSVFilesTogether(t *testing.T) {
	v := watchFolder(t, func(w *watcher) { w.settle = 250 * time.Millisecond })
	writeFile(t, filepath.Join(v.folder, "boards.csv"), csvWeek("B1"))
	writeFile(t, filepath.Join(v.folder, "readings.csv"), "Board,Reading\nB1,8.1\n")
	writeFile(t, filepath.Join(v.folder, "settings.csv"), "Setting,Value\nMill name,Invented\n")
	v.wait(t, "the papers", v.exists("../d\u00E4s weeks-papers/results.json"))
	writeFile(t, filepath.Join(v.folder, "readings.csv"), "Board,Reading\nB1,9.1\n")
	v.wait(t, "the papers of the second save", func() bool { return len(v.sets()) == 2 })
	v.stop()
	if got := v.sets(); !slices.Equal(got, []string{"d\u00E4s weeks (CSV files)", "d\u00E4s weeks (CSV files)"}) {
		t.Errorf("done: %q", got)
	}
}

// What was there at the start is done too, and what has its papers already is said in a line.
func TestWatchBeginsWithWhatIsThere(t *testing.T) {
	folder := many(t, 2)
	for i := range 2 {
		w := newWatcher(call{paths: []string{folder}}, nil, nil)
		var out, errOut screen
		w.out, w.errOut, w.settle = &out, &errOut, 10*time.Millisecond
		ctx, cancel := context.WithCancel(context.Background())
		ended := make(chan int)
		go func() { ended <- w.run(ctx) }()
		want := []string{"Written into", "unchanged, its papers stand"}[i]
		for end := time.Now().Add(deadline); strings.Count(out.String(), want) < 2 && time.Now().Before(end); {
			time.Sleep(5 * time.Millisecond)
		}
		cancel()
		<-ended
		if n := strings.Count(out.String(), want); n != 2 {
			t.Errorf("run %d: %q stands %d times, want 2: %s", i+1, want, n, &out)
		}
	}
}

func TestWatchSurvivesAFolderThatGoesAway(t *testing.T) {
	v := watchFolder(t, func(w *watcher) { w.rescan = 50 * time.Millisecond })
	v.save(t, "first.csv", csvWeek("B1"))
	v.wait(t, "the papers", v.exists("first-papers/summary.pdf"))
	for i := range 3 {
		away := v.folder + " away"
		if err := os.Rename(v.folder, away); err != nil {
			t.Fatal(err)
		}
		gone := func() int { return strings.Count(v.errOut.String(), "is gone; waiting for it to come back") }
		v.wait(t, "word that it is gone", func() bool { return gone() == i+1 })
		if i < 2 {
			if err := os.Rename(away, v.folder); err != nil {
				t.Fatal(err)
			}
		} else if err := os.Mkdir(v.folder, 0o755); err != nil { // another folder of the same name
			t.Fatal(err)
		}
		v.wait(t, "word that it is back", func() bool { return strings.Count(v.errOut.String(), "is back") == i+1 })
		name := fmt.Sprintf("week%d", i)
		v.save(t, name+".xlsx", "x") // a workbook that can't be used is said
		v.wait(t, "word of "+name, func() bool { return strings.Contains(v.errOut.String(), name+".xlsx: error F026") })
		if n := gone(); n != i+1 {
			t.Errorf("said %d times that it is gone, want %d", n, i+1)
		}
	}
}

// A folder that is replaced between two looks is noticed though its name never was away.
func TestWatchFollowsAReplacedFolder(t *testing.T) {
	v := watchFolder(t, func(w *watcher) { w.rescan = 50 * time.Millisecond })
	next := v.folder + " next"
	writeFile(t, filepath.Join(next, "new.csv"), csvWeek("B1"))
	if err := os.Rename(v.folder, v.folder+" old"); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(next, v.folder); err != nil {
		t.Fatal(err)
	}
	v.wait(t, "the papers", v.exists("new-papers/summary.pdf"))
	v.save(t, "new.csv", csvWeek("B1", "B2"))
	v.wait(t, "the papers of the second save", func() bool { return v.count("new (CSV files)") == 2 })
}

// Reports that never come, come too many at once, or can't be had at all: the folder is looked at anyway.
func TestWatchWithoutReports(t *testing.T) {
	events, problems := make(chan fsnotify.Event), make(chan error)
	for name, set := range map[string]func(w *watcher){
		"none come": func(w *watcher) {
			w.report = func(string) (*reports, error) {
				e := make(chan fsnotify.Event)
				return &reports{events: e, errors: make(chan error), close: func() error { close(e); return nil }}, nil
			}
			w.rescan = 60 * time.Millisecond
		},
		"none to be had": func(w *watcher) {
			w.report = func(string) (*reports, error) { return nil, errors.New("no space left on device") }
			w.rescan = 60 * time.Millisecond
		},
		"too many": func(w *watcher) {
			w.report = func(string) (*reports, error) {
				return &reports{events: events, errors: problems, close: func() error { close(events); return nil }}, nil
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			v := watchFolder(t, set)
			v.save(t, "week.csv", csvWeek("B1"))
			if name == "too many" {
				problems <- fsnotify.ErrEventOverflow
			}
			v.wait(t, "the papers", v.exists("week-papers/summary.pdf"))
			if said := strings.Count(v.errOut.String(), "doesn't report changes"); name == "none to be had" && said != 1 {
				t.Errorf("said %d times that nothing is reported", said)
			}
		})
	}
}

// Stopped while papers are being written, it ends when they stand.
func TestWatchFinishesWhatItHasInHand(t *testing.T) {
	began, goOn := make(chan bool, 1), make(chan bool)
	v := watchFolder(t, func(w *watcher) {
		inner := w.do
		w.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
			began <- true
			<-goOn
			return inner(c, set, out, errOut)
		}
	})
	v.save(t, "week.csv", csvWeek("B1"))
	select {
	case <-began:
	case <-time.After(deadline):
		t.Fatal("it doesn't begin")
	}
	ended := make(chan int)
	go func() { ended <- v.stop() }()
	select {
	case <-ended:
		t.Fatal("it ended with papers in hand")
	case <-time.After(50 * time.Millisecond):
	}
	close(goOn)
	if code := <-ended; code != exitWritten || !v.exists("week-papers/summary.pdf")() || !strings.Contains(v.out.String(), "Written into") {
		t.Errorf("exit %d, papers %v: %s", code, v.exists("week-papers/summary.pdf")(), &v.out)
	}
}

// Thousands of saves: they come together into few runs, and neither memory nor the number of things at work grows.
func TestWatchForALongTime(t *testing.T) {
	saves := 6000
	if testing.Short() {
		saves = 1500
	}
	runtime.GC()
	before := runtime.NumGoroutine()
	var tries int
	var mu sync.Mutex
	v := watchFolder(t, func(w *watcher) {
		w.settle, w.rescan = 4*time.Millisecond, 20*time.Millisecond
		w.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
			mu.Lock()
			defer mu.Unlock()
			tries++
			return outcome{lasting: true}
		}
	})
	heap := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	var first uint64
	for i := range saves {
		v.save(t, fmt.Sprintf("week%d.xlsx", i/5%40), fmt.Sprint("x", i)) // five saves of each, then the next
		if i%200 == 199 {                                                 // names that never come again
			for n := range 40 {
				was, is := fmt.Sprintf("week%d.xlsx", n), fmt.Sprintf("gone%d-%d.xlsx", i, n)
				if err := os.Rename(filepath.Join(v.folder, was), filepath.Join(v.folder, is)); err != nil {
					t.Fatal(err)
				}
				if err := os.Remove(filepath.Join(v.folder, is)); err != nil {
					t.Fatal(err)
				}
			}
		}
		if i == saves/4 {
			first = heap()
		}
	}
	last := heap()
	mu.Lock()
	t.Logf("%d saves, %d runs, heap %d KB after a quarter, %d KB after all", saves, tries, first>>10, last>>10)
	if tries > saves/2 || tries == 0 {
		t.Errorf("%d saves made %d runs", saves, tries)
	}
	mu.Unlock()
	if last > first+4<<20 {
		t.Errorf("heap grew from %d to %d KB", first>>10, last>>10)
	}
	v.stop()
	if n := len(v.known); n > 40+1 {
		t.Errorf("%d workbooks are remembered, at most 40 are there", n)
	}
	for end := time.Now().Add(deadline); runtime.NumGoroutine() > before && time.Now().Before(end); {
		time.Sleep(10 * time.Millisecond)
	}
	if after := runtime.NumGoroutine(); after > before {
		t.Errorf("%d things at work before, %d after", before, after)
	}
}
