package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"

	"drytally/ingest"
)

// watcher keeps a folder's papers up to date. The folder itself is the truth: whatever the system reports only makes it look
// there sooner. So nothing is lost when reports are, and what it must remember is one entry for each workbook there.
type watcher struct {
	call        call
	folder      string
	out, errOut io.Writer
	settle      time.Duration // how long size and time of a file must stay the same before it is read
	rescan      time.Duration // looks there anyway: network drives often report nothing
	elapsed     func() time.Duration
	report      func(folder string) (*reports, error) // how changes are reported
	do          func(c call, set ingest.Set, out, errOut io.Writer) outcome

	known   map[string]*known
	poked   chan struct{} // holds one word that something changed
	reports *reports      // nil while there are none
	at      os.FileInfo   // the folder the reports are about
	gone    bool          // the folder is away
	trouble string        // what was said last about the folder as a whole
	looked  bool          // the workbooks found at the start were done
}

// known is what is remembered of a workbook.
type known struct {
	stamp string        // names, sizes and times of its files
	since time.Duration // when they were first seen like that
	done  string        // the stamp at which nothing was left to do
	retry time.Duration // when to try again what failed for reasons outside the workbook
	said  string        // what was said of it then
	last  int           // the look that found it
}

// reports are the system's reports of changes in a folder.
type reports struct {
	events <-chan fsnotify.Event
	errors <-chan error
	close  func() error
	ended  chan struct{} // closed when nobody reads them any more
}

// systemReports asks the operating system for reports.
func systemReports(folder string) (*reports, error) {
	n, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	if err := n.Add(folder); err != nil {
		_ = n.Close()
		return nil, err
	}
	return &reports{events: n.Events, errors: n.Errors, close: n.Close}, nil
}

func newWatcher(c call, out, errOut io.Writer) *watcher {
	began := time.Now() // its monotonic reading: a clock put forward or back changes nothing
	return &watcher{call: c, folder: c.paths[0], out: out, errOut: errOut, settle: 2 * time.Second, rescan: 15 * time.Second,
		elapsed: func() time.Duration { return time.Since(began) }, report: systemReports, do: one}
}

// watchUntilStopped watches a folder until it is interrupted. What is being written then is finished.
func watchUntilStopped(c call, out, errOut io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	// A second interrupt ends the program at once; what stands in the folder is whole even then.
	context.AfterFunc(ctx, stop)
	return newWatcher(c, out, errOut).run(ctx)
}

// run watches until ctx ends.
func (w *watcher) run(ctx context.Context) int {
	w.known, w.poked = map[string]*known{}, make(chan struct{}, 1)
	if info, err := os.Stat(w.folder); err != nil || !info.IsDir() {
		fmt.Fprintf(w.errOut, "drytally: there is no folder %q to watch\n", w.folder)
		return exitFile
	}
	var empty *ingest.Empty
	if _, err := ingest.Gather([]string{w.folder}); err != nil && !errors.As(err, &empty) {
		tell(w.errOut, err)
		return exitFile
	}
	fmt.Fprintf(w.errOut, "drytally: watching %q; a workbook saved there gets its papers, Ctrl-C stops it\n", w.folder)
	defer w.detach()
	timer := time.NewTimer(0)
	defer timer.Stop()
	for n := 1; ; n++ {
		timer.Reset(w.look(ctx, n))
		select {
		case <-ctx.Done():
			fmt.Fprintln(w.errOut, "drytally: stopped watching")
			return exitWritten
		case <-timer.C:
		case <-w.poked:
			// One save makes many reports: let them come together.
			select {
			case <-ctx.Done():
			case <-time.After(w.settle / 4):
			}
		}
	}
}

// look looks at the folder, does what has settled, and says after what time to look again.
func (w *watcher) look(ctx context.Context, n int) time.Duration {
	if ctx.Err() != nil || !w.present() {
		return w.settle
	}
	sets, err := ingest.Gather([]string{w.folder})
	var empty *ingest.Empty
	if errors.As(err, &empty) {
		err = nil
	}
	var clash error
	if err == nil {
		sets, clash = ingest.Apart(sets, w.call.to)
	}
	w.say(errors.Join(err, clash))
	if err != nil {
		return w.rescan
	}
	next := w.rescan
	var ready []ingest.Set
	stamps := map[string]string{}
	for _, set := range sets {
		name, stamp, now := w.nameOf(set), stampOf(set), w.elapsed()
		k := w.known[name]
		if k == nil || k.stamp != stamp {
			if k == nil {
				k = &known{}
				w.known[name] = k
			}
			k.stamp, k.since, k.retry = stamp, now, 0
		}
		k.last = n
		switch {
		case k.stamp == k.done:
		case now < k.since+w.settle:
			next = min(next, k.since+w.settle-now)
		case now < k.retry:
			next = min(next, k.retry-now)
		default:
			ready = append(ready, set)
			stamps[name] = stamp
		}
	}
	for name, k := range w.known {
		if k.last != n {
			delete(w.known, name)
		}
	}
	if len(ready) > 0 {
		w.work(ctx, ready, stamps)
		next = 0 // it may have taken long
	} else if len(sets) == 0 || next == w.rescan {
		w.looked = true
	}
	return next
}

// work does the workbooks that have settled.
func (w *watcher) work(ctx context.Context, ready []ingest.Set, stamps map[string]string) {
	c := w.call
	c.skip = true
	b := newBatch(c, w.out, w.errOut)
	b.do, b.told = w.do, w.looked
	b.after = func(set ingest.Set, o outcome, said string) (silent bool) {
		name := w.nameOf(set)
		k := w.known[name]
		if o.lasting {
			k.done, k.said = stamps[name], ""
			return o.unchanged && w.looked // touched, not changed
		}
		silent = said == k.said
		k.retry, k.said = w.elapsed()+w.rescan, said
		return silent
	}
	b.run(ctx, ready)
	w.looked = true
}

// nameOf tells a set from others, whatever stands in it.
func (w *watcher) nameOf(set ingest.Set) string {
	return set.PapersFolder(w.call.to) + "\x00" + set.Owner()
}

// stampOf tells a set's files as they stand from how they stood: by names, sizes and times. The times are only compared
// with one another, never with the clock.
func stampOf(set ingest.Set) string {
	var b strings.Builder
	for _, path := range set.Paths {
		info, err := os.Stat(path)
		if err != nil {
			fmt.Fprintf(&b, "%s: %v\n", path, err)
			continue
		}
		fmt.Fprintf(&b, "%s %d %d\n", path, info.Size(), info.ModTime().UnixNano())
	}
	return b.String()
}

// say says what is wrong with the folder as a whole, once for as long as it stays the same.
func (w *watcher) say(err error) {
	now := ""
	for _, e := range each(err) {
		now += fmt.Sprintf("drytally: %v\n", e)
	}
	if now != w.trouble {
		fmt.Fprint(w.errOut, now)
	}
	w.trouble = now
}

// present reports whether the folder is there, and sees to it that the reports are about the one there now.
func (w *watcher) present() bool {
	info, err := os.Stat(w.folder)
	if err == nil && !info.IsDir() {
		err = fs.ErrNotExist
	}
	if err != nil {
		if !w.gone {
			fmt.Fprintf(w.errOut, "drytally: the folder %q is gone; waiting for it to come back\n", w.folder)
		}
		w.gone = true
		w.detach()
		return false
	}
	if w.gone {
		fmt.Fprintf(w.errOut, "drytally: the folder %q is back\n", w.folder)
		w.gone = false
	}
	if w.at == nil || !os.SameFile(w.at, info) {
		w.detach()
		w.attach(info)
	}
	return true
}

// attach asks for reports and reads them, for as long as they come.
func (w *watcher) attach(info os.FileInfo) {
	w.at = info
	r, err := w.report(w.folder)
	if err != nil {
		fmt.Fprintf(w.errOut, "drytally: this system doesn't report changes in %q (%v); looking there every %s\n", w.folder, err, w.rescan)
		return
	}
	r.ended = make(chan struct{})
	w.reports = r
	folder := filepath.Clean(w.folder)
	go func() {
		defer close(r.ended)
		for {
			select {
			case e, ok := <-r.events:
				if !ok {
					return
				}
				name := filepath.Clean(e.Name)
				if e.Op == fsnotify.Chmod || name != folder && !ingest.Wanted(filepath.Base(name)) {
					continue // our own papers' folders, office programs' markers and the like
				}
			case _, ok := <-r.errors:
				if !ok {
					return
				}
				// Most often more changes than the system keeps: the look that follows sees them all.
			}
			select {
			case w.poked <- struct{}{}:
			default: // a look is due already
			}
		}
	}()
}

func (w *watcher) detach() {
	if w.reports != nil {
		_ = w.reports.close()
		<-w.reports.ended
	}
	w.reports, w.at = nil, nil
}
