package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"drytally/ingest"
)

// batch does many workbooks, several at once. What each has to say is kept until its turn, so that both streams read the
// same whichever is done first.
type batch struct {
	call        call
	out, errOut io.Writer
	workers     int
	progress    bool                 // say on errOut how far a long run is
	elapsed     func() time.Duration // since the run began
	tick        time.Duration        // between two words on how far it is
	do          func(c call, set ingest.Set, out, errOut io.Writer) outcome
	after       func(set ingest.Set, o outcome, said string) (silent bool) // asked in turn, before anything is written; may be nil

	written, unchanged, failed, empty int
	worst                             int
	told, lastUnchanged               bool // something was written; the last of it was the line of a workbook left as it is
}

func newBatch(c call, out, errOut io.Writer) *batch {
	began := time.Now() // its monotonic reading: a clock put forward or back changes nothing
	return &batch{call: c, out: out, errOut: errOut, workers: runtime.GOMAXPROCS(0), progress: isTerminal(errOut),
		elapsed: func() time.Duration { return time.Since(began) }, tick: 5 * time.Second, do: one}
}

// isTerminal reports whether somebody reads along.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// said is what one workbook has to say, and what became of it.
type said struct {
	outcome
	out, err bytes.Buffer
	skipped  bool // the run was stopped before it began
}

// run does the sets. When ctx ends, those at work are finished and no other is begun.
func (b *batch) run(ctx context.Context, sets []ingest.Set) {
	workers := max(1, min(b.workers, len(sets)))
	// As many may be done ahead of their turn as there is room for here; their papers are written and gone, only their
	// few lines of text wait.
	const ahead = 64
	turns := make(chan chan *said, ahead)
	go func() {
		defer close(turns)
		free := make(chan struct{}, workers)
		for _, set := range sets {
			turn := make(chan *said, 1)
			turns <- turn
			free <- struct{}{}
			go func() {
				defer func() { <-free }()
				s := &said{}
				if ctx.Err() != nil {
					s.skipped = true
				} else {
					s.outcome = b.guarded(set, s)
				}
				turn <- s
			}()
		}
	}()
	ticker := time.NewTicker(b.tick)
	defer ticker.Stop()
	const quick = 2 * time.Second
	first := time.NewTimer(quick)
	defer first.Stop()
	done := 0
	for turn := range turns {
		var s *said
		for s == nil {
			select {
			case s = <-turn:
			case <-first.C:
				b.far(done, len(sets))
			case <-ticker.C:
				b.far(done, len(sets))
			}
		}
		if !s.skipped {
			b.tell(sets[done], s)
		}
		done++
	}
}

// guarded does one workbook. A mistake of our own in one of them must not keep the others from their papers.
func (b *batch) guarded(set ingest.Set, s *said) (o outcome) {
	defer func() {
		if r := recover(); r != nil {
			s.out.Reset()
			fmt.Fprintf(&s.err, "drytally: %s: drytally itself is at fault (%v) and nothing of it was written; please keep the file and report it\n", printable(set.Owner()), r)
			o = outcome{code: exitFile, lasting: true}
		}
	}()
	return b.do(b.call, set, &s.out, &s.err)
}

// tell writes what a workbook has to say.
func (b *batch) tell(set ingest.Set, s *said) {
	b.worst = max(b.worst, s.code)
	switch {
	case s.code == exitFile:
		b.failed++
	case s.empty:
		b.empty++
	case s.unchanged:
		b.unchanged++
	default:
		b.written++
	}
	if b.after != nil && b.after(set, s.outcome, s.out.String()+s.err.String()) {
		return
	}
	// Reports have a blank line between them; lines of workbooks left as they are stand together.
	if s.out.Len() > 0 {
		if b.told && !(s.unchanged && b.lastUnchanged) {
			fmt.Fprintln(b.out)
		}
		b.told, b.lastUnchanged = true, s.unchanged
	}
	_, errOut := b.out.Write(s.out.Bytes())
	_, _ = b.errOut.Write(s.err.Bytes())
	if errOut != nil {
		b.worst = exitFile
	}
}

// far says how far a long run is and about how long the rest takes, going by what is done.
func (b *batch) far(done, all int) {
	if !b.progress || all < 2 {
		return
	}
	left := ""
	if done > 0 {
		left = ", about " + roughly(b.elapsed()/time.Duration(done)*time.Duration(all-done)) + " left"
	}
	fmt.Fprintf(b.errOut, "drytally: %d of %d workbooks done%s\n", done, all, left)
}

// roughly writes a time as one would say it.
func roughly(d time.Duration) string {
	switch {
	case d < 55*time.Second:
		return fmt.Sprintf("%d seconds", max(5, int((d+2*time.Second)/(5*time.Second))*5))
	case d < 90*time.Second:
		return "a minute"
	case d < 90*time.Minute:
		return fmt.Sprintf("%d minutes", int((d+30*time.Second)/time.Minute))
	}
	return fmt.Sprintf("%d hours", int((d+30*time.Minute)/time.Hour))
}

// total says in a line what became of several workbooks, and how to have those made that were left.
func (b *batch) total() {
	if b.unchanged > 0 {
		defer fmt.Fprintln(b.out, "(-again makes the papers of unchanged workbooks anew)")
	}
	all := b.written + b.unchanged + b.failed + b.empty
	if all < 2 {
		return
	}
	var parts []string
	for _, p := range []struct {
		n    int
		what string
	}{{b.written, "done"}, {b.unchanged, "unchanged"}, {b.empty, "not begun"}, {b.failed, "not done"}} {
		if p.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", p.n, p.what))
		}
	}
	fmt.Fprintf(b.out, "\n%d workbooks: %s\n", all, strings.Join(parts, ", "))
}

// several does what the paths mean, one workbook or many, and gives the exit code.
func several(c call, out, errOut io.Writer) int {
	sets, problem := ingest.Gather(c.paths)
	worst := exitWritten
	for _, err := range each(problem) {
		tell(errOut, err)
		worst = exitFile
	}
	for _, s := range sets {
		if beside := s.Beside(); len(beside) > 0 {
			fmt.Fprintf(errOut, "drytally: %s read without %s beside it; CSV files that belong together are named together, or by their folder\n",
				printable(s.Files()), printable(ingest.FileNames(beside)))
		}
	}
	if !c.check {
		sets, problem = ingest.Apart(sets, c.to)
		for _, err := range each(problem) {
			tell(errOut, err)
			worst = max(worst, exitCall)
		}
	}
	// Who names one workbook wants to read about it; of a folder, or of many, what didn't change is passed over.
	c.skip = !c.check && !(len(sets) == 1 && slices.Contains(c.paths, sets[0].Paths[0]))
	if !slices.ContainsFunc(sets, func(s ingest.Set) bool { return !small(s) }) && os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		// Weeks' workbooks need little memory: tidying it less often saves a tenth of the time.
		debug.SetGCPercent(300)
		if len(sets) > 1 {
			debug.SetMemoryLimit(70 << 20)
		}
	}
	b := newBatch(c, out, errOut)
	b.run(context.Background(), sets)
	b.total()
	return max(worst, b.worst)
}

// small reports whether the files of a set are together no larger than a week's workbook is, ten thousand readings at the most.
func small(s ingest.Set) bool {
	const most = 256 << 10
	sum := int64(0)
	for _, path := range s.Paths {
		if info, err := os.Stat(path); err == nil {
			sum += info.Size()
		}
	}
	return sum <= most
}

// each parts joined errors.
func each(err error) []error {
	if err == nil {
		return nil
	}
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return []error{err}
	}
	var all []error
	for _, e := range joined.Unwrap() {
		all = append(all, each(e)...)
	}
	return all
}
