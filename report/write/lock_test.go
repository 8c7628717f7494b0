package write

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// impatient is the real disk, on which a run waits for another one only a moment.
func impatient() disk {
	k := realDisk()
	k.lock = func(name string) (func(), error) { return lockPatiently(name, 3, time.Millisecond) }
	return k
}

func TestSecondRunIsKeptOut(t *testing.T) {
	dir := target(t)
	mustCommit(t, dir, firstRun)
	name := filepath.Join(filepath.Dir(dir), hiddenName(lockPrefix, filepath.Base(dir)))
	release, err := tryLock(name)
	if err != nil {
		t.Fatal(err)
	}
	// What the run at work has under its hands stays.
	stage := filepath.Join(filepath.Dir(dir), stagePrefix+filepath.Base(dir)+"-123")
	put(t, filepath.Join(stage, "summary.pdf"), "half")
	err = commit(impatient(), dir, secondRun, workbook)
	var busy *Busy
	if !errors.As(err, &busy) || !strings.Contains(err.Error(), `another drytally is writing the papers of "week 47.xlsx"`) {
		t.Errorf("got error %v, want that another run is at work", err)
	}
	if diff := cmp.Diff(held(firstRun), contents(t, dir)); diff != "" || contents(t, stage)["summary.pdf"] != "half" {
		t.Errorf("something changed (-before +after):\n%s", diff)
	}
	if _, ok := Standing(dir, workbook, "x"); ok {
		t.Error("papers count as standing while they are being written")
	}
	release()
	again(t, "after the other run", dir, held(secondRun))
}

// A lock file nobody holds, as a killed run leaves it, keeps nobody out, however old or young it says it is.
func TestLeftLockKeepsNobodyOut(t *testing.T) {
	for _, at := range []time.Time{time.Unix(1, 0), time.Now(), time.Now().AddDate(80, 0, 0)} {
		dir := target(t)
		name := filepath.Join(filepath.Dir(dir), hiddenName(lockPrefix, filepath.Base(dir)))
		put(t, name, "")
		if err := os.Chtimes(name, at, at); err != nil {
			t.Fatal(err)
		}
		if err := commit(impatient(), dir, firstRun, workbook); err != nil {
			t.Errorf("lock file of %v: %v", at, err)
		}
		nothingBeside(t, dir)
	}
}

// Many runs at once: every one is heard in its turn, only one is at work at a time, and the last set is whole.
func TestRunsAtOnce(t *testing.T) {
	dir := target(t)
	k := realDisk()
	var mu sync.Mutex
	inside := 0
	var wg sync.WaitGroup
	for i := range 12 {
		wg.Go(func() {
			s := Set{files: []File{{"summary.pdf", fmt.Appendf(nil, "%d", i)}, {fmt.Sprintf("load-%d.pdf", i), fmt.Appendf(nil, "%d", i)}}}
			s.Still = func() error {
				mu.Lock()
				defer mu.Unlock()
				inside++
				if inside > 1 {
					t.Error("two runs write at once")
				}
				return nil
			}
			k := k
			k.lock = func(name string) (func(), error) {
				release, err := lockPatiently(name, 5000, 2*time.Millisecond)
				return func() {
					mu.Lock()
					inside--
					mu.Unlock()
					release()
				}, err
			}
			if err := s.commit(k, dir, workbook, false); err != nil {
				t.Errorf("run %d: %v", i, err)
			}
		})
	}
	wg.Wait()
	got := contents(t, dir)
	last := got["summary.pdf"]
	if diff := cmp.Diff(map[string]string{"summary.pdf": last, "load-" + last + ".pdf": last}, got); diff != "" {
		t.Errorf("no whole set stands (-want +got):\n%s", diff)
	}
	nothingBeside(t, dir)
}

// Where no lock can be had because nothing can be written, the same papers are no error and others are.
func TestNoLockToBeHad(t *testing.T) {
	dir := target(t)
	mustCommit(t, dir, firstRun)
	k := realDisk()
	k.lock = func(name string) (func(), error) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("read-only file system")}
	}
	if err := commit(k, dir, firstRun, workbook); err != nil {
		t.Errorf("the same papers: got %v", err)
	}
	err := commit(k, dir, secondRun, workbook)
	if err == nil || !strings.Contains(err.Error(), "read-only file system") || strings.Contains(err.Error(), ".drytally") {
		t.Errorf("other papers: got %v", err)
	}
}

// On Windows a folder can't be renamed while one of its files is open in a program: the papers stay as they are, and the
// message says what to do.
func TestPaperOpenElsewhere(t *testing.T) {
	dir := target(t)
	mustCommit(t, dir, firstRun)
	k := realDisk()
	k.rename = func(from, to string) error {
		if from == dir {
			return &os.LinkError{Op: "rename", Old: from, New: to, Err: errors.New("the process cannot access the file because it is being used by another process")}
		}
		return os.Rename(from, to)
	}
	err := commit(k, dir, secondRun, workbook)
	if err == nil || !strings.Contains(err.Error(), "close them where they are open") || strings.Contains(err.Error(), ".drytally") {
		t.Errorf("got %v", err)
	}
	if diff := cmp.Diff(held(firstRun), contents(t, dir)); diff != "" {
		t.Errorf("something changed (-before +after):\n%s", diff)
	}
	nothingBeside(t, dir)
	again(t, "once it is closed", dir, held(secondRun))
}

// When what the papers were made from no longer holds, nothing is written.
func TestNoLongerTrue(t *testing.T) {
	dir := target(t)
	mustCommit(t, dir, firstRun)
	gone := errors.New("the workbook changed")
	s := Set{files: secondRun, Still: func() error { return gone }}
	if err := s.Commit(dir, workbook, true); !errors.Is(err, gone) {
		t.Errorf("got %v", err)
	}
	if diff := cmp.Diff(held(firstRun), contents(t, dir)); diff != "" {
		t.Errorf("something changed (-before +after):\n%s", diff)
	}
	nothingBeside(t, dir)
}

func TestStanding(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(t *testing.T, dir string)
		want   bool
	}{
		{"as written", func(t *testing.T, dir string) {}, true},
		{"with a file of the owner", func(t *testing.T, dir string) { put(t, filepath.Join(dir, "photo.jpg"), "mine") }, true},
		{"a paper changed", func(t *testing.T, dir string) { put(t, filepath.Join(dir, "summary.pdf"), "signed") }, false},
		{"a paper gone", func(t *testing.T, dir string) { os.Remove(filepath.Join(dir, "load-12.pdf")) }, false},
		{"list gone", func(t *testing.T, dir string) { os.Remove(filepath.Join(dir, manifestName)) }, false},
		{"list damaged", func(t *testing.T, dir string) { put(t, filepath.Join(dir, manifestName), "{") }, false},
		{"folder gone", func(t *testing.T, dir string) { os.RemoveAll(dir) }, false},
		{"a run was cut off", func(t *testing.T, dir string) {
			put(t, filepath.Join(filepath.Dir(dir), asidePrefix+filepath.Base(dir), "x"), "mine")
		}, false},
		{"made from others", func(t *testing.T, dir string) {
			s := Set{files: firstRun, MadeFrom: "other"}
			if err := s.Commit(dir, workbook, false); err != nil {
				t.Fatal(err)
			}
		}, false},
		{"made from unknown things", func(t *testing.T, dir string) { mustCommit(t, dir, firstRun) }, false},
	} {
		dir := target(t)
		s := Set{files: firstRun, MadeFrom: "these", SetAside: true}
		if err := s.Commit(dir, workbook, false); err != nil {
			t.Fatal(err)
		}
		c.change(t, dir)
		aside, ok := Standing(dir, workbook, "these")
		if ok != c.want || ok && !aside {
			t.Errorf("%s: got %v (rows set aside %v), want %v", c.name, ok, aside, c.want)
		}
		if _, ok := Standing(dir, "week 48.xlsx", "these"); ok {
			t.Errorf("%s: the papers stand for another workbook", c.name)
		}
		if _, ok := Standing(dir, workbook, ""); ok {
			t.Errorf("%s: the papers stand for nothing", c.name)
		}
	}
}

// A folder name as long as the file system allows leaves no room for our prefixes.
func TestLongFolderName(t *testing.T) {
	for _, base := range []string{strings.Repeat("a", 240) + "-papers", strings.Repeat("\u00E4", 120) + "-papers"} {
		dir := filepath.Join(t.TempDir(), base)
		mustCommit(t, dir, firstRun)
		mustCommit(t, dir, secondRun)
		if diff := cmp.Diff(held(secondRun), contents(t, dir)); diff != "" {
			t.Errorf("%d bytes (-want +got):\n%s", len(base), diff)
		}
		nothingBeside(t, dir)
	}
	if hiddenName("x", strings.Repeat("a", 250)+"1") == hiddenName("x", strings.Repeat("a", 250)+"2") {
		t.Error("two long names have one hidden name")
	}
}
