package ingest

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/ingest/bind"
	"drytally/ingest/sheet"
)

// Set is one workbook, or the CSV files of one folder that belong together.
type Set struct {
	Name  string   // without folder and extension; a set of CSV files has its folder's name
	Dir   string   // the folder the papers' folder goes into
	Paths []string // in order of name
	csv   bool
}

// PapersFolder gives the folder the papers go into: NAME-papers, beside the workbook or in the folder given.
func (s Set) PapersFolder(to string) string {
	if to == "" {
		to = s.Dir
	}
	return filepath.Join(to, s.Name+"-papers")
}

// Owner names whose papers these are, so that only a newer run of the same workbook replaces them.
func (s Set) Owner() string {
	if s.csv {
		return s.Name + " (CSV files)"
	}
	return filepath.Base(s.Paths[0])
}

// Apart refuses sets whose papers would go into one folder: the second would replace the first.
func Apart(sets []Set, to string) error {
	seen := map[string]Set{}
	for _, s := range sets {
		// Upper and lower case are one on many machines.
		folder := strings.ToLower(filepath.Clean(s.PapersFolder(to)))
		if other, ok := seen[folder]; ok {
			return fmt.Errorf("the papers of %s and of %s would both go into %s; give one of them another name, or run them apart",
				other.Paths[0], s.Paths[0], s.PapersFolder(to))
		}
		seen[folder] = s
	}
	return nil
}

// papersList stands in every folder of papers; what is in there is our own.
const papersList = ".drytally-papers.json"

// Gather finds the workbooks that the paths mean: files, and the workbooks and CSV files of folders (not of folders in
// them). CSV files of one folder are one set. Office lock files and papers' folders are passed over.
func Gather(paths []string) ([]Set, error) {
	var sets []Set
	csvOf := map[string]int{}
	added := map[string]bool{}
	add := func(path string) {
		dir := filepath.Dir(path)
		clean := filepath.Clean(path)
		if added[clean] {
			return // named twice
		}
		added[clean] = true
		if !isDelimited(path) {
			base := filepath.Base(path)
			sets = append(sets, Set{Name: strings.TrimSuffix(base, filepath.Ext(base)), Dir: dir, Paths: []string{path}})
			return
		}
		if i, ok := csvOf[dir]; ok {
			sets[i].Paths = append(sets[i].Paths, path)
			return
		}
		csvOf[dir] = len(sets)
		sets = append(sets, Set{Dir: dir, Paths: []string{path}, csv: true})
	}
	for _, path := range paths {
		info, err := os.Stat(path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("there is no file or folder %q", path)
		}
		if err != nil {
			return nil, fmt.Errorf("%q can't be opened: %w", path, err)
		}
		if !info.IsDir() {
			add(path)
			continue
		}
		entries, err := os.ReadDir(path)
		if err != nil {
			return nil, fmt.Errorf("the folder %q can't be read: %w", path, err)
		}
		found := false
		if slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == papersList }) {
			return nil, fmt.Errorf("the folder %q holds papers written by drytally; name the workbook they were made from", path)
		}
		for _, e := range entries {
			if !e.IsDir() && readable(e.Name()) {
				add(filepath.Join(path, e.Name()))
				found = true
			}
		}
		if !found {
			return nil, fmt.Errorf("the folder %q holds no xlsx or CSV file", path)
		}
	}
	for i := range sets {
		s := &sets[i]
		if !s.csv {
			continue
		}
		slices.Sort(s.Paths)
		s.Paths = slices.Compact(s.Paths)
		base := filepath.Base(s.Paths[0])
		s.Name = strings.TrimSuffix(base, filepath.Ext(base))
		if len(s.Paths) > 1 {
			// The set is named after its folder and its papers stand beside that folder.
			abs, err := filepath.Abs(s.Dir)
			if err != nil {
				return nil, fmt.Errorf("%q can't be found: %w", s.Dir, err)
			}
			s.Name, s.Dir = filepath.Base(abs), filepath.Dir(abs)
		}
	}
	return sets, nil
}

func isDelimited(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".csv", ".tsv", ".txt":
		return true
	}
	return false
}

// readable reports whether a file of a folder is one to read; what the owner names himself is always tried.
func readable(name string) bool {
	if strings.HasPrefix(name, "~$") || strings.HasPrefix(name, ".") {
		return false
	}
	switch strings.ToLower(filepath.Ext(name)) {
	case ".xlsx", ".xlsm", ".csv", ".tsv":
		return true
	}
	return false
}

// Read reads all files of a set and binds them into one job. A file that can't be read fails the whole set.
func Read(s Set) (*compute.Job, error) {
	var books []*sheet.Workbook
	for _, path := range s.Paths {
		data, err := os.ReadFile(path)
		if err != nil {
			return nil, fmt.Errorf("%q can't be read: %w", path, err)
		}
		book, err := Open(filepath.Base(path), data)
		if err != nil {
			return nil, err
		}
		books = append(books, book)
	}
	return bind.Bind(s.Name, books), nil
}
