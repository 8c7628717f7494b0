package ingest

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// seasonPapers is the folder the papers of a season go into.
const seasonPapers = "season-papers"

// SeasonFolder gives the folder the papers of a season go into: season-papers in the folder given, else in the first folder
// named, else beside the first file.
func SeasonFolder(paths []string, to string) string {
	if to == "" {
		to = paths[0]
		if info, err := os.Stat(to); err == nil && !info.IsDir() {
			to = filepath.Dir(to)
		}
	}
	return filepath.Join(to, seasonPapers)
}

// GatherSeason finds the workbooks of a season as Gather does, and besides them the CSV sets of folders in a folder named: a
// week kept as CSV files has a folder of its own. What can't be gathered is in the error, beside the sets that can. Files of sets that would go by one name are told apart by their folders.
func GatherSeason(paths []string) ([]Set, error) {
	var all []string
	for _, path := range paths {
		within, err := csvFolders(path)
		if err != nil {
			return nil, err
		}
		// A folder that holds nothing but such folders is one too.
		if entries, err := os.ReadDir(path); err != nil || len(within) == 0 || slices.ContainsFunc(entries, func(e os.DirEntry) bool { return !e.IsDir() && Wanted(e.Name()) }) {
			all = append(all, path)
		}
		all = append(all, within...)
	}
	sets, problem := Gather(all)
	in := map[string]int{}
	for _, s := range sets {
		for _, p := range s.Paths {
			in[strings.ToLower(filepath.Base(p))]++
		}
	}
	for i := range sets {
		s := &sets[i]
		if !slices.ContainsFunc(s.Paths, func(p string) bool { return in[strings.ToLower(filepath.Base(p))] > 1 }) {
			continue
		}
		abs, err := filepath.Abs(filepath.Dir(s.Paths[0]))
		if err != nil {
			return nil, fmt.Errorf("%q can't be found: %w", s.Dir, err)
		}
		s.under = filepath.Base(abs)
	}
	return sets, problem
}

// csvFolders lists the folders in a folder that hold CSV files and no workbook, in order of name. Papers are passed over.
func csvFolders(path string) ([]string, error) {
	info, err := os.Stat(path)
	if err != nil || !info.IsDir() {
		return nil, nil // Gather says what is wrong with it
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return nil, fmt.Errorf("the folder %q can't be read: %w", path, err)
	}
	var folders []string
	for _, e := range entries {
		if !e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		inner, err := os.ReadDir(filepath.Join(path, e.Name()))
		if err != nil {
			return nil, fmt.Errorf("the folder %q can't be read: %w", filepath.Join(path, e.Name()), err)
		}
		lists, others := 0, false
		for _, f := range inner {
			switch {
			case f.Name() == papersList:
				others = true
			case f.IsDir() || !Wanted(f.Name()):
			case isDelimited(f.Name()):
				lists++
			default:
				others = true
			}
		}
		if lists > 0 && !others {
			folders = append(folders, filepath.Join(path, e.Name()))
		}
	}
	return folders, nil
}
