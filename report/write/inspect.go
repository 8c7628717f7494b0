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

// found is what stands in a folder of papers.
type found struct {
	missing bool
	same    bool        // exactly the papers wanted, and nothing to remove
	mode    os.FileMode // of the folder
	drop    []string    // files to remove: papers of ours, and with force what stands in the way
	carry   []string    // everything else
}

const (
	freshMode = os.FileMode(0o755)
	forceHint = "move or rename it, or run again with -force to replace it"
)

// inspect looks at a folder (the one for papers, or the same set aside) and says what may be replaced. It gives a *Refused
// where the new papers would touch what is not ours. force lifts that, except where a folder or link is in the way.
func (p place) inspect(dir string, want manifest, force bool) (found, error) {
	info, err := p.lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return found{missing: true, mode: freshMode}, nil
	case err != nil:
		return found{}, p.trouble("it cannot be read", err)
	case info.Mode()&fs.ModeSymlink != 0:
		return found{}, p.refuse("it is a link to another folder", "papers go only into a folder of their own: move or rename the link")
	case !info.IsDir():
		return found{}, p.refuse("a file of this name stands where the folder of papers belongs", "move or rename it")
	case info.Mode().Perm()&0o200 == 0:
		return found{}, p.refuse("it is write-protected", "take the protection off, or move the folder away")
	}
	entries, err := p.readDir(dir)
	if err != nil {
		return found{}, p.trouble("it cannot be read", err)
	}
	old, listed, err := p.readManifest(dir)
	switch {
	case errors.Is(err, errDamaged) && !force:
		return found{}, p.refuse(err.Error(), "move the folder away, or run again with -force to replace papers of the same names")
	case errors.Is(err, errDamaged):
		old, listed = manifest{}, true
	case err != nil:
		return found{}, p.trouble("it cannot be read", err)
	}
	if listed && !force && old.Workbook != want.Workbook {
		return found{}, p.refuse(fmt.Sprintf("it holds the papers of another workbook, %q", old.Workbook),
			"rename one of the workbooks, move the folder away, or run again with -force to replace them")
	}
	f := found{mode: info.Mode().Perm()}
	var changed, inTheWay, blocked []string
	unchanged := map[string]string{} // our papers, name to sum
	for _, e := range entries {
		name := e.Name()
		if name == manifestName {
			f.drop = append(f.drop, name)
			continue
		}
		wanted, ours := want.has(name), false
		i := slices.IndexFunc(old.Papers, func(q paper) bool { return q.Name == name })
		if i >= 0 && e.Type().IsRegular() {
			b, err := p.readFile(filepath.Join(dir, name))
			if err != nil {
				return found{}, p.trouble(fmt.Sprintf("%q cannot be read", name), err)
			}
			ours = sum(b) == old.Papers[i].SHA256
		}
		switch {
		case ours:
			f.drop = append(f.drop, name)
			unchanged[name] = old.Papers[i].SHA256
		case wanted && !e.Type().IsRegular():
			blocked = append(blocked, name)
		case i >= 0 && !force:
			changed = append(changed, name)
		case wanted && !force:
			inTheWay = append(inTheWay, name)
		case wanted:
			f.drop = append(f.drop, name)
		default:
			f.carry = append(f.carry, name)
		}
	}
	switch {
	case len(blocked) > 0:
		return found{}, p.refuse(names(blocked)+" is no file, and a paper has that name", "move or rename it")
	case len(changed) > 0:
		return found{}, p.refuse(names(changed)+" was changed since it was written", forceHint)
	case len(inTheWay) > 0:
		return found{}, p.refuse(names(inTheWay)+" was not written for this workbook, and a paper has that name", forceHint)
	}
	f.same = listed && old.Workbook == want.Workbook && old.MadeFrom == want.MadeFrom && len(unchanged) == len(want.Papers)
	for _, q := range want.Papers {
		f.same = f.same && unchanged[q.Name] == q.SHA256
	}
	return f, nil
}

// has reports whether a paper of the set has the name, upper and lower case being one.
func (m manifest) has(name string) bool {
	return slices.ContainsFunc(m.Papers, func(q paper) bool { return fold(q.Name) == fold(name) })
}

func (p place) refuse(problem, hint string) error { return &Refused{p.dir, problem, hint} }

// names lists files for a message: the first three, and how many more.
func names(list []string) string {
	const most = 3
	var quoted []string
	for _, s := range list[:min(most, len(list))] {
		quoted = append(quoted, fmt.Sprintf("%q", s))
	}
	s := strings.Join(quoted, ", ")
	if n := len(list) - most; n > 0 {
		s += fmt.Sprintf(" and %d more", n)
	}
	return s
}

// mend puts right what a run that was cut off left behind. If the earlier papers were set aside and none took their place,
// they come back; if the new ones stand, what else was in the folder is carried over and the earlier papers are removed.
// Half-written papers are removed.
func (p place) mend() error {
	if _, err := p.lstat(p.aside); err == nil {
		if err := p.mendAside(); err != nil {
			return err
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return p.trouble("the folder above cannot be read", err)
	}
	entries, err := p.readDir(p.parent)
	if err != nil {
		return p.trouble("the folder above cannot be read", err)
	}
	for _, e := range entries {
		if e.IsDir() && p.isStage(e.Name()) {
			if err := p.removeAll(filepath.Join(p.parent, e.Name())); err != nil {
				return p.trouble("papers half written by an earlier run cannot be removed", err)
			}
		}
	}
	return nil
}

// isStage reports whether a folder is one that stage made for this place: the prefix, then digits only.
func (p place) isStage(name string) bool {
	random, ok := strings.CutPrefix(name, hiddenName(stagePrefix, p.base)+"-")
	return ok && random != "" && strings.Trim(random, "0123456789") == ""
}

// mendAside puts the papers back that an earlier run set aside; where the new ones stand already, it carries the owner's files over and
// removes the old papers.
func (p place) mendAside() error {
	if _, err := p.lstat(p.dir); errors.Is(err, fs.ErrNotExist) {
		if err := p.rename(p.aside, p.dir); err != nil {
			return p.trouble("papers set aside by an earlier run cannot be put back", err)
		}
		return nil
	}
	entries, err := p.readDir(p.aside)
	if err != nil {
		return p.trouble("papers set aside by an earlier run cannot be read", err)
	}
	old, _, err := p.readManifest(p.aside)
	if err != nil && !errors.Is(err, errDamaged) {
		return p.trouble("papers set aside by an earlier run cannot be read", err)
	}
	var drop []string
	for _, e := range entries {
		name := e.Name()
		if name == manifestName {
			continue
		}
		from := filepath.Join(p.aside, name)
		if i := slices.IndexFunc(old.Papers, func(q paper) bool { return q.Name == name }); i >= 0 && e.Type().IsRegular() {
			b, err := p.readFile(from)
			if err != nil {
				return p.trouble("papers set aside by an earlier run cannot be read", err)
			}
			if sum(b) == old.Papers[i].SHA256 {
				drop = append(drop, name)
				continue
			}
		}
		to := filepath.Join(p.dir, name)
		if _, err := p.lstat(to); err == nil {
			return p.refuse(fmt.Sprintf("an earlier run was cut off and %q is left in %q", name, p.aside),
				"move that file where you want it, then run again")
		}
		if err := p.rename(from, to); err != nil {
			return p.trouble(fmt.Sprintf("%q could not be carried over", name), err)
		}
	}
	// The list goes last, as in discard.
	for _, name := range append(drop, manifestName) {
		if err := p.remove(filepath.Join(p.aside, name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return p.trouble("papers set aside by an earlier run cannot be removed", err)
		}
	}
	if err := p.remove(p.aside); err != nil {
		return p.trouble("papers set aside by an earlier run cannot be removed", err)
	}
	return nil
}
