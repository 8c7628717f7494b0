package write

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const workbook = "week 47.xlsx"

// Two runs of one workbook: the second drops a paper, changes one, keeps one and adds one.
var (
	firstRun  = []File{{"summary.pdf", []byte("one")}, {"load-12.pdf", []byte("twelve")}, {"results.json", []byte("{}")}}
	secondRun = []File{{"summary.pdf", []byte("two")}, {"load-13.pdf", []byte("thirteen")}, {"results.json", []byte("{}")}}
)

// contents gives the files below a folder with what stands in them; the list of papers is left out.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || e.Name() == manifestName {
			return err
		}
		rel, _ := filepath.Rel(dir, path)
		if e.Type()&fs.ModeSymlink != 0 {
			got[filepath.ToSlash(rel)], err = os.Readlink(path)
			return err
		}
		b, err := os.ReadFile(path)
		got[filepath.ToSlash(rel)] = string(b)
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return got
}

func held(files []File, more ...string) map[string]string {
	m := map[string]string{}
	for _, f := range files {
		m[f.Name] = string(f.Data)
	}
	for i := 0; i < len(more); i += 2 {
		m[more[i]] = more[i+1]
	}
	return m
}

// link makes a link; on Windows not every user may.
func link(t *testing.T, to, name string) {
	t.Helper()
	switch err := os.Symlink(to, name); {
	case err != nil && runtime.GOOS == "windows":
		t.Skipf("not checked: a link in the place of papers (%v); a folder in the place of one stands in", err)
	case err != nil:
		t.Fatal(err)
	}
}

func put(t *testing.T, name, data string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(data), 0o644); err != nil {
		t.Fatal(err)
	}
}

// commit writes papers that are no set yet.
func commit(k disk, dir string, files []File, workbook string) error {
	var s Set
	for _, f := range files {
		if err := s.Add(f.Name, f.Data); err != nil {
			return err
		}
	}
	return s.commit(k, dir, workbook, false)
}

func mustCommit(t *testing.T, dir string, files []File) {
	t.Helper()
	if err := commit(realDisk(), dir, files, workbook); err != nil {
		t.Fatal(err)
	}
}

// nothingBeside fails when a hidden folder of ours is left.
func nothingBeside(t *testing.T, dir string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".drytally") {
			t.Errorf("%q is left beside the papers", e.Name())
		}
	}
}

// target is a folder of papers to be, in a place with spaces and letters beyond ASCII.
func target(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "s\u00E4ge * [1]", "week 47-papers")
	if err := os.Mkdir(filepath.Dir(dir), 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}

func TestCommitReplacesTheWholeSet(t *testing.T) {
	dir := target(t)
	mustCommit(t, dir, firstRun)
	if diff := cmp.Diff(held(firstRun), contents(t, dir)); diff != "" {
		t.Errorf("first run (-want +got):\n%s", diff)
	}
	put(t, filepath.Join(dir, "photo.jpg"), "mine")
	put(t, filepath.Join(dir, "notes", "monday.txt"), "also mine")
	mustCommit(t, dir, secondRun)
	if diff := cmp.Diff(held(secondRun, "photo.jpg", "mine", "notes/monday.txt", "also mine"), contents(t, dir)); diff != "" {
		t.Errorf("second run (-want +got):\n%s", diff)
	}
	nothingBeside(t, dir)
}

func TestSamePapersAreNotTouched(t *testing.T) {
	dir := target(t)
	mustCommit(t, dir, firstRun)
	touched := 0
	k := realDisk()
	k.rename = func(string, string) error { touched++; return nil }
	k.mkdirTemp = func(string, string) (string, error) { touched++; return "", errors.New("not expected") }
	if err := commit(k, dir, firstRun, workbook); err != nil || touched > 0 {
		t.Errorf("got error %v and %d steps, want none", err, touched)
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name    string
		prepare func(t *testing.T, dir string)
		want    []string          // in the message
		force   map[string]string // what stands there after force; nil: force does not help
	}{
		{"changed by hand", func(t *testing.T, dir string) {
			mustCommit(t, dir, firstRun)
			put(t, filepath.Join(dir, "summary.pdf"), "scribbled on")
		}, []string{`"summary.pdf" was changed since it was written`, "move or rename it"}, held(secondRun)},
		{"changed by hand and no longer wanted", func(t *testing.T, dir string) {
			mustCommit(t, dir, firstRun)
			put(t, filepath.Join(dir, "load-12.pdf"), "signed")
		}, []string{`"load-12.pdf" was changed`}, held(secondRun, "load-12.pdf", "signed")},
		{"a file of the owner has the name", func(t *testing.T, dir string) {
			put(t, filepath.Join(dir, "Load-13.PDF"), "mine")
			put(t, filepath.Join(dir, "letter.txt"), "mine")
		}, []string{`"Load-13.PDF" was not written for this workbook`}, held(secondRun, "letter.txt", "mine")},
		{"papers of another workbook", func(t *testing.T, dir string) {
			if err := commit(realDisk(), dir, firstRun, "week 47.csv"); err != nil {
				t.Fatal(err)
			}
		}, []string{"another workbook", `"week 47.csv"`}, held(secondRun)},
		{"damaged list", func(t *testing.T, dir string) {
			mustCommit(t, dir, firstRun)
			put(t, filepath.Join(dir, manifestName), "{")
		}, []string{"list of papers cannot be read"}, held(secondRun, "load-12.pdf", "twelve")},
		{"a folder has the name of a paper", func(t *testing.T, dir string) {
			put(t, filepath.Join(dir, "load-13.pdf", "x"), "mine")
		}, []string{`"load-13.pdf" is no file`}, nil},
		{"a file where the folder belongs", func(t *testing.T, dir string) { put(t, dir, "mine") }, []string{"a file of this name"}, nil},
		{"write-protected", func(t *testing.T, dir string) {
			mustCommit(t, dir, firstRun)
			if err := os.Chmod(dir, 0o555); err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { os.Chmod(dir, 0o755) })
		}, []string{"write-protected"}, nil},
		{"link", func(t *testing.T, dir string) {
			real := filepath.Join(filepath.Dir(dir), "elsewhere")
			put(t, filepath.Join(real, "letter.txt"), "mine")
			link(t, real, dir)
		}, []string{"a link to another folder"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := target(t)
			c.prepare(t, dir)
			before := contents(t, filepath.Dir(dir))
			err := commit(realDisk(), dir, secondRun, workbook)
			var refused *Refused
			if !errors.As(err, &refused) {
				t.Fatalf("got error %v, want a refusal", err)
			}
			for _, w := range c.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("got message %q, want it to hold %q", err, w)
				}
			}
			if diff := cmp.Diff(before, contents(t, filepath.Dir(dir))); diff != "" {
				t.Errorf("something changed (-before +after):\n%s", diff)
			}
			nothingBeside(t, dir)
			s := Set{files: secondRun}
			err = s.Commit(dir, workbook, true)
			if c.force == nil {
				if !errors.As(err, &refused) {
					t.Errorf("force: got error %v, want a refusal", err)
				}
				return
			}
			if diff := cmp.Diff(c.force, contents(t, dir)); err != nil || diff != "" {
				t.Errorf("force: error %v (-want +got):\n%s", err, diff)
			}
			nothingBeside(t, dir)
		})
	}
}

func TestNoFolderAbove(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "missing", "x-papers")
	if err := commit(realDisk(), dir, firstRun, workbook); err == nil || !strings.Contains(err.Error(), "there is no folder") {
		t.Errorf("got %v", err)
	}
	for _, dir := range []string{"", ".", "..", "/"} {
		if err := commit(realDisk(), dir, firstRun, workbook); err == nil {
			t.Errorf("folder %q: got no error", dir)
		}
	}
}

func TestReadOnlyFolderAbove(t *testing.T) {
	if os.Getuid() == 0 || runtime.GOOS == "windows" {
		t.Skip("not checked: a write-protected folder above (this user may write anywhere); TestEveryStepCanFail stands in")
	}
	dir := target(t)
	if err := os.Chmod(filepath.Dir(dir), 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(filepath.Dir(dir), 0o755) })
	if err := commit(realDisk(), dir, firstRun, workbook); !errors.Is(err, fs.ErrPermission) {
		t.Errorf("got %v, want permission denied", err)
	}
}

func TestSetRefusesNames(t *testing.T) {
	var s Set
	if err := s.Add("summary.pdf", nil); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"", ".", "..", "a/b", `a\b`, ".hidden", manifestName, "Summary.PDF", "con.pdf", "a.", "a ", "a\nb", "a:b", strings.Repeat("x", 300)} {
		if err := s.Add(name, nil); err == nil {
			t.Errorf("name %q: got no error", name)
		}
	}
	if err := commit(realDisk(), filepath.Join(t.TempDir(), "x"), nil, workbook); err == nil {
		t.Error("an empty set: got no error")
	}
	if len(s.files) != 1 {
		t.Errorf("got %d papers, want 1", len(s.files))
	}
}

// A file saved into the folder while the new papers are put in place is neither lost nor overwritten.
func TestSavedInTheMiddle(t *testing.T) {
	for _, c := range []struct {
		name, file string
		refused    bool
	}{{"own file", "new note.txt", false}, {"a paper changed", "summary.pdf", true}, {"in the way", "load-13.pdf", true}} {
		dir := target(t)
		mustCommit(t, dir, firstRun)
		k := realDisk()
		k.mkdirTemp = func(parent, pattern string) (string, error) {
			put(t, filepath.Join(dir, c.file), "saved just now")
			return os.MkdirTemp(parent, pattern)
		}
		err := commit(k, dir, secondRun, workbook)
		if got := contents(t, dir)[c.file]; got != "saved just now" {
			t.Errorf("%s: %q holds %q, error %v", c.name, c.file, got, err)
		}
		if refused := new(Refused); errors.As(err, &refused) != c.refused {
			t.Errorf("%s: got error %v, want a refusal %v", c.name, err, c.refused)
		}
		nothingBeside(t, dir)
	}
}

// After a power cut in the middle of a forced run, a file that the force would have removed is handed back by name.
func TestLeftOverOwnFileIsNamed(t *testing.T) {
	dir := target(t)
	mustCommit(t, dir, secondRun)
	aside := filepath.Join(filepath.Dir(dir), asidePrefix+filepath.Base(dir))
	put(t, filepath.Join(aside, "summary.pdf"), "mine")
	err := commit(realDisk(), dir, firstRun, workbook)
	if refused := new(Refused); !errors.As(err, &refused) || !strings.Contains(err.Error(), "summary.pdf") {
		t.Errorf("got %v", err)
	}
	if got := contents(t, aside)["summary.pdf"]; got != "mine" {
		t.Errorf("the file holds %q", got)
	}
}
