package write

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var errInjected = errors.New("no space left on device")

// failing is the real disk, on which the step with the number fails (0: none). With dead, every later step fails too, as if
// the program had been killed there; a write that fails leaves half a file. steps counts those that change anything.
func failing(number int, dead bool) (k disk, steps *int) {
	real := realDisk()
	k, steps = real, new(int)
	fail := func() bool {
		*steps++
		return *steps == number || dead && number > 0 && *steps > number
	}
	k.mkdirTemp = func(dir, pattern string) (string, error) {
		if fail() {
			return "", &fs.PathError{Op: "mkdir", Path: dir, Err: errInjected}
		}
		return real.mkdirTemp(dir, pattern)
	}
	k.writeFile = func(name string, data []byte) error {
		if fail() {
			if !dead || *steps == number {
				_ = real.writeFile(name, data[:len(data)/2])
			}
			return &fs.PathError{Op: "write", Path: name, Err: errInjected}
		}
		return real.writeFile(name, data)
	}
	k.rename = func(from, to string) error {
		if fail() {
			return &os.LinkError{Op: "rename", Old: from, New: to, Err: errInjected}
		}
		return real.rename(from, to)
	}
	one := func(op func(string) error) func(string) error {
		return func(name string) error {
			if fail() {
				return &fs.PathError{Op: "change", Path: name, Err: errInjected}
			}
			return op(name)
		}
	}
	k.remove, k.removeAll, k.syncDir = one(real.remove), one(real.removeAll), one(real.syncDir)
	k.chmod = func(name string, mode os.FileMode) error {
		if fail() {
			return &fs.PathError{Op: "chmod", Path: name, Err: errInjected}
		}
		return real.chmod(name, mode)
	}
	return k, steps
}

// before prepares a folder for the second run: none, the papers of the first run, or these and files of the owner.
var before = map[string]func(t *testing.T, dir string) (old, want map[string]string){
	"no folder": func(t *testing.T, dir string) (old, want map[string]string) {
		return map[string]string{}, held(secondRun)
	},
	"earlier papers": func(t *testing.T, dir string) (old, want map[string]string) {
		mustCommit(t, dir, firstRun)
		return held(firstRun), held(secondRun)
	},
	"earlier papers and own files": func(t *testing.T, dir string) (old, want map[string]string) {
		mustCommit(t, dir, firstRun)
		own := []string{"a.txt", "mine", "sub/b.txt", "mine too", "z.txt", "last"}
		for i := 0; i < len(own); i += 2 {
			put(t, filepath.Join(dir, filepath.FromSlash(own[i])), own[i+1])
		}
		return held(firstRun, own...), held(secondRun, own...)
	},
}

// Whichever step fails once: either there is an error and everything is as it was, or there is none and the new set stands.
func TestEveryStepCanFail(t *testing.T) {
	for name, prepare := range before {
		_, most := failing(0, false)
		for n := 1; n == 1 || n <= *most+1; n++ {
			dir := target(t)
			old, want := prepare(t, dir)
			k, steps := failing(n, false)
			err := commit(k, dir, secondRun, workbook)
			*most = max(*most, *steps)
			got := contents(t, dir)
			switch {
			case err == nil && cmp.Equal(got, want):
			case err != nil && cmp.Equal(got, old):
				if !errors.Is(err, errInjected) || strings.Contains(err.Error(), ".drytally") {
					t.Errorf("%s, step %d: message %q is not plain", name, n, err)
				}
				nothingBeside(t, dir)
			default:
				t.Errorf("%s, step %d: error %v and this set stands: %v", name, n, err, got)
			}
			again(t, fmt.Sprintf("%s, step %d", name, n), dir, want)
		}
		if *most < 6 {
			t.Errorf("%s: only %d steps were tried", name, *most)
		}
	}
}

// Killed at whichever step: the folder holds the old set, the new set, or nothing while the old set waits beside it; no file
// of the owner is lost; and the next run brings the new set.
func TestKilledAtEveryStep(t *testing.T) {
	for name, prepare := range before {
		_, most := failing(0, true)
		for n := 1; n == 1 || n <= *most+1; n++ {
			dir := target(t)
			old, want := prepare(t, dir)
			k, steps := failing(n, true)
			err := commit(k, dir, secondRun, workbook)
			*most = max(*most, *steps)
			papers := func(m map[string]string) map[string]string {
				p := map[string]string{}
				for _, f := range slices.Concat(firstRun, secondRun) {
					if s, ok := m[f.Name]; ok {
						p[f.Name] = s
					}
				}
				return p
			}
			got := papers(contents(t, dir))
			if !cmp.Equal(got, papers(old)) && !cmp.Equal(got, papers(want)) && len(got) > 0 {
				t.Errorf("%s, killed at step %d (error %v): half a set stands: %v", name, n, err, got)
			}
			if _, e := os.Lstat(dir); errors.Is(e, fs.ErrNotExist) && len(old) > 0 {
				aside := filepath.Join(filepath.Dir(dir), asidePrefix+filepath.Base(dir))
				if diff := cmp.Diff(old, contents(t, aside)); diff != "" {
					t.Errorf("%s, killed at step %d: the old set is lost (-want +got):\n%s", name, n, diff)
				}
			}
			again(t, fmt.Sprintf("%s, killed at step %d", name, n), dir, want)
		}
	}
}

// again commits the second run on a healthy disk.
func again(t *testing.T, name, dir string, want map[string]string) {
	t.Helper()
	if err := commit(realDisk(), dir, secondRun, workbook); err != nil {
		t.Errorf("%s: the next run gives %v", name, err)
		return
	}
	if diff := cmp.Diff(want, contents(t, dir)); diff != "" {
		t.Errorf("%s: after the next run (-want +got):\n%s", name, diff)
	}
	nothingBeside(t, dir)
}
