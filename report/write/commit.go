package write

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// File is a paper: its name within the folder, and its bytes.
type File struct {
	Name string
	Data []byte
}

// Set collects the papers of one workbook. The zero value is an empty set.
type Set struct {
	// MadeFrom stands for everything the papers were made from: the same text, the same papers. It is written into their list
	// for Standing; empty when nobody will ask.
	MadeFrom string
	// SetAside says that rows were set aside or a paper withheld; it is kept beside MadeFrom.
	SetAside bool
	// Still is asked once no other run can write there any more. Its error is given on and nothing is written.
	Still func() error
	files []File
}

// Add puts a paper into the set. The name must be one that SafeName or Namer would give (no folder in it, not hidden, no
// device of Windows), and no other name of the set may equal it, upper and lower case being one.
func (s *Set) Add(name string, data []byte) error {
	if err := checkName(name); err != nil {
		return err
	}
	for _, f := range s.files {
		if fold(f.Name) == fold(name) {
			return fmt.Errorf("two papers are called %q", name)
		}
	}
	s.files = append(s.files, File{name, data})
	return nil
}

// Commit makes dir hold the papers of the workbook: the whole set, or, when it gives an error, what it held before.
//
// The papers are first written into a new folder beside dir and then take its place in one step. Papers that an earlier run
// of the same workbook wrote are replaced, and removed when they are not in the set. Everything else in dir stays: a file
// of the owner is carried over. Where a paper would take the place of such a file, or where a paper was changed by hand
// since it was written, Commit gives a *Refused and changes nothing; with force it replaces what stands in the way.
//
// When the very same papers already stand there, nothing is touched. A run that was cut off in the middle, by a power cut
// say, leaves the old set, the new set, or the old set in a hidden folder beside; the next Commit puts that right.
//
// Two runs never write into one folder at once: the second waits a while, and then gives a *Busy.
//
// The folder above dir must exist. workbook is the name that tells one workbook's papers from another's.
func (s *Set) Commit(dir, workbook string, force bool) error {
	return s.commit(realDisk(), dir, workbook, force)
}

// Refused says that a commit would have touched a file that is not ours, or found something else where the folder of papers
// belongs. Nothing was changed.
type Refused struct {
	Dir     string // the folder of papers
	Problem string
	Hint    string // what to do
}

func (r *Refused) Error() string { return fmt.Sprintf("%s: %s; %s", r.Dir, r.Problem, r.Hint) }

// Busy says that another run is writing the same papers and didn't come to an end. Nothing was changed.
type Busy struct{ Dir, Workbook string }

func (b *Busy) Error() string {
	return fmt.Sprintf("%s: another drytally is writing the papers of %q; let it finish, then run again", b.Dir, b.Workbook)
}

const (
	stagePrefix = ".drytally-new-"   // papers being written
	asidePrefix = ".drytally-aside-" // the earlier set while the new one takes its place
)

// checkName lets through the names the papers have.
func checkName(name string) error {
	stem := strings.TrimSuffix(name, filepath.Ext(name))
	switch {
	case name == "" || strings.HasPrefix(name, ".") || strings.HasSuffix(name, ".") || strings.HasSuffix(name, " "),
		strings.ContainsAny(name, `/\<>:"|?*`), deviceName(stem), len(name) > 200:
		return fmt.Errorf("%q cannot be the name of a paper", name)
	}
	for _, r := range name {
		if r < 0x20 {
			return fmt.Errorf("%q cannot be the name of a paper", name)
		}
	}
	return nil
}

func (s *Set) commit(k disk, dir, workbook string, force bool) error {
	if len(s.files) == 0 {
		return fmt.Errorf("%s: no papers to write", dir)
	}
	p, err := placeOf(k, dir)
	if err != nil {
		return err
	}
	if err := p.parentIsThere(); err != nil {
		return err
	}
	want := newManifest(workbook, s.files)
	want.MadeFrom, want.SetAside = s.MadeFrom, s.SetAside
	release, err := p.lock(filepath.Join(p.parent, hiddenName(lockPrefix, p.base)))
	switch {
	case errors.Is(err, errHeld):
		return &Busy{Dir: p.dir, Workbook: workbook}
	case err != nil:
		// Where nothing can be written, nothing need be when the very same papers stand.
		if old, e := p.inspect(p.dir, want, force); e == nil && old.same {
			return nil
		}
		return p.trouble("the papers cannot be written beside it", err)
	}
	defer release()
	if s.Still != nil {
		if err := s.Still(); err != nil {
			return err
		}
	}
	if err := p.mend(); err != nil {
		return err
	}
	old, err := p.inspect(p.dir, want, force)
	if err != nil {
		return err
	}
	if old.same {
		return nil
	}
	stage, err := p.stage(s.files, want, old.mode)
	if err != nil {
		return err
	}
	if err := p.swap(stage, old, want, force); err != nil {
		_ = k.removeAll(stage) // what could not be removed is by the next run
		return err
	}
	return nil
}

// place is where the papers go.
type place struct {
	disk
	parent, dir, aside, base string
}

func placeOf(k disk, dir string) (place, error) {
	dir = filepath.Clean(dir)
	parent, base := filepath.Split(dir)
	if base == "" || base == "." || base == ".." {
		return place{}, fmt.Errorf("%q cannot be a folder for papers", dir)
	}
	if parent == "" {
		parent = "."
	}
	return place{disk: k, parent: parent, dir: dir, aside: filepath.Join(parent, hiddenName(asidePrefix, base)), base: base}, nil
}

func (p place) parentIsThere() error {
	info, err := os.Stat(p.parent) // the folder above may well be a link
	switch {
	case errors.Is(err, fs.ErrNotExist) || err == nil && !info.IsDir():
		return fmt.Errorf("%s: there is no folder %q to write into", p.dir, p.parent)
	case err != nil:
		return p.trouble("the folder above cannot be read", err)
	}
	return nil
}

// trouble wraps an error of the file system without the names of our hidden folders, which would mean nothing to the owner.
func (p place) trouble(what string, err error) error {
	return fmt.Errorf("%s: %s: %w", p.dir, what, bare(err))
}

// bare gives an error of the file system without the names it carries.
func bare(err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		return pe.Err
	case errors.As(err, &le):
		return le.Err
	}
	return err
}

// stage writes the papers into a new folder beside the one they are for, and gives its name. On an error nothing is left.
func (p place) stage(files []File, want manifest, mode os.FileMode) (string, error) {
	stage, err := p.mkdirTemp(p.parent, hiddenName(stagePrefix, p.base)+"-*")
	if err != nil {
		return "", p.trouble("the papers cannot be written beside it", err)
	}
	if err := p.fill(stage, files, want, mode); err != nil {
		_ = p.removeAll(stage) // what could not be removed is by the next run
		return "", p.trouble("the papers could not be written", err)
	}
	return stage, nil
}

// fill writes the papers and their list into a folder.
func (p place) fill(stage string, files []File, want manifest, mode os.FileMode) error {
	for _, f := range files {
		if err := p.writeFile(filepath.Join(stage, f.Name), f.Data); err != nil {
			return err
		}
	}
	if err := p.writeFile(filepath.Join(stage, manifestName), want.bytes()); err != nil {
		return err
	}
	if err := p.chmod(stage, mode); err != nil {
		return err
	}
	return p.syncDir(stage)
}

// swap puts the staged folder in the place of the old one. On an error everything is as it was, but for the staged folder.
func (p place) swap(stage string, old found, want manifest, force bool) error {
	if old.missing {
		if err := p.rename(stage, p.dir); err != nil {
			return p.trouble("the papers could not be put in place", err)
		}
		_ = p.syncDir(p.parent)
		return nil
	}
	if err := p.rename(p.dir, p.aside); err != nil {
		return p.trouble("the earlier papers could not be moved out of the way; close them where they are open", err)
	}
	// Set aside, nobody changes it any more: look again, for what was saved since.
	now, err := p.inspect(p.aside, want, force)
	if err != nil {
		return p.back(err)
	}
	if err := p.rename(stage, p.dir); err != nil {
		return p.back(p.trouble("the papers could not be put in place", err))
	}
	for i, name := range now.carry {
		if err := p.rename(filepath.Join(p.aside, name), filepath.Join(p.dir, name)); err != nil {
			err = p.trouble(fmt.Sprintf("%q could not be carried over", name), err)
			for _, moved := range now.carry[:i] {
				if e := p.rename(filepath.Join(p.dir, moved), filepath.Join(p.aside, moved)); e != nil {
					return fmt.Errorf("%w; the new papers stand, and your other files are partly in %q", err, p.aside)
				}
			}
			if e := p.rename(p.dir, stage); e != nil {
				return fmt.Errorf("%w; the new papers stand, and your other files are in %q", err, p.aside)
			}
			return p.back(err)
		}
	}
	_ = p.syncDir(p.parent)
	p.discard(now.drop)
	return nil
}

// back undoes the first step of swap and gives err on.
func (p place) back(err error) error {
	if e := p.rename(p.aside, p.dir); e != nil {
		return fmt.Errorf("%w; the earlier papers are in %q and come back with the next run", err, p.aside)
	}
	return err
}

// discard removes the old papers and the folder they were set aside in. What cannot be removed now is by the next run; the
// folder itself goes only when it is empty. The list of papers goes last: without it the next run could not tell papers
// that are still there from the owner's files.
func (p place) discard(drop []string) {
	for _, name := range append(slices.DeleteFunc(drop, isManifest), manifestName) {
		if err := p.remove(filepath.Join(p.aside, name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return
		}
	}
	_ = p.remove(p.aside)
}

func isManifest(name string) bool { return name == manifestName }
