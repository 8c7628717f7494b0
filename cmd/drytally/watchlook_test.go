package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"drytally/ingest"
)

// byHand is a watcher that is asked to look by hand, at times the test sets.
func byHand(t *testing.T) (w *watcher, now *time.Duration, done func() []string) {
	t.Helper()
	folder := t.TempDir()
	w = newWatcher(call{paths: []string{folder}}, io.Discard, io.Discard)
	w.known, w.poked = map[string]*known{}, make(chan struct{}, 1)
	now = new(time.Duration)
	w.elapsed = func() time.Duration { return *now }
	w.settle, w.rescan = 2*time.Second, 15*time.Second
	w.report = func(string) (*reports, error) { return nil, errors.New("none here") }
	var mu sync.Mutex
	var all []string
	w.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
		mu.Lock()
		defer mu.Unlock()
		all = append(all, set.Name)
		return outcome{lasting: true}
	}
	return w, now, func() []string { d := all; all = nil; return d }
}

// A file that still grows is left alone, however long; the times of the files are held against one another only.
func TestWatchWaitsUntilASaveHasSettled(t *testing.T) {
	for _, at := range []time.Time{time.Unix(1, 0), time.Now(), time.Now().AddDate(60, 0, 0)} {
		w, now, done := byHand(t)
		name := filepath.Join(w.folder, "week.csv")
		ctx := context.Background()
		for i := range 5 {
			writeFile(t, name, csvWeek(slices.Repeat([]string{"B"}, i+1)...))
			if err := os.Chtimes(name, at, at); err != nil {
				t.Fatal(err)
			}
			if next := w.look(ctx, i+1); next != w.settle {
				t.Errorf("look %d: next after %v, want %v", i, next, w.settle)
			}
			*now += w.settle - time.Millisecond
			w.look(ctx, i+1)
			if got := done(); got != nil {
				t.Fatalf("look %d: %q was done while it grew", i, got)
			}
			*now += time.Millisecond / 2
		}
		*now += w.settle
		w.look(ctx, 9)
		if got := done(); !slices.Equal(got, []string{"week"}) {
			t.Errorf("settled: done %q", got)
		}
		*now += time.Hour
		if next := w.look(ctx, 10); done() != nil || next != w.rescan {
			t.Errorf("nothing new: next after %v", next)
		}
		// The same size, another time.
		at = at.Add(-time.Hour)
		if err := os.Chtimes(name, at, at); err != nil {
			t.Fatal(err)
		}
		w.look(ctx, 11)
		*now += w.settle
		w.look(ctx, 12)
		if got := done(); !slices.Equal(got, []string{"week"}) {
			t.Errorf("time of change put back: done %q", got)
		}
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
		if w.look(ctx, 13); len(w.known) != 0 {
			t.Errorf("%d workbooks are remembered, none is there", len(w.known))
		}
	}
}

// What fails for a reason outside the workbook is tried again, slowly, and said once; what is wrong with the workbook
// itself is not tried again before it is saved.
func TestWatchTriesAgain(t *testing.T) {
	w, now, _ := byHand(t)
	var errOut bytes.Buffer
	w.errOut = &errOut
	tries, lasting := 0, false
	w.do = func(c call, set ingest.Set, out, errOut io.Writer) outcome {
		tries++
		fmt.Fprintln(errOut, "the disk is full")
		return outcome{code: exitFile, lasting: lasting}
	}
	writeFile(t, filepath.Join(w.folder, "week.csv"), csvWeek("B1"))
	n := 0
	for range 100 {
		n++
		w.look(context.Background(), n)
		*now += time.Second
	}
	// From 2 s on, every 15 s, to 99 s.
	if got := strings.Count(errOut.String(), "the disk is full"); tries != 7 || got != 1 {
		t.Errorf("%d tries, said %d times; want 7 and 1", tries, got)
	}
	tries, lasting = 0, true
	writeFile(t, filepath.Join(w.folder, "week.csv"), csvWeek("B1", "B2"))
	for range 100 {
		n++
		w.look(context.Background(), n)
		*now += time.Second
	}
	if tries != 1 {
		t.Errorf("%d tries of a workbook that can't be used, want 1", tries)
	}
}
