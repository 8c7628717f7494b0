package ingest

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

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
	under string // what its files go by before their names, where names of several sets are alike
}

// PapersFolder gives the folder the papers go into: NAME-papers, beside the workbook or in the folder given.
func (s Set) PapersFolder(to string) string {
	if to == "" {
		to = s.Dir
	}
	return filepath.Join(to, shortened(s.Name)+"-papers")
}

// shortened cuts a name that would leave no room for what is put behind it (file systems allow 255 bytes), and tells it from
// others cut alike by a mark made of the whole.
func shortened(name string) string {
	const most = 240
	if len(name) <= most {
		return name
	}
	sum := sha256.Sum256([]byte(name))
	cut := most - 9
	for name[cut]&0xC0 == 0x80 { // not within a character
		cut--
	}
	return name[:cut] + "-" + hex.EncodeToString(sum[:4])
}

// Owner names whose papers these are, so that only a newer run of the same workbook replaces them.
func (s Set) Owner() string {
	if s.csv {
		return s.Name + " (CSV files)"
	}
	return filepath.Base(s.Paths[0])
}

// Apart parts the sets whose papers have a folder of their own from those whose papers would go into one folder, where the
// second would replace the first. Of these none is taken; the error names each of them.
func Apart(sets []Set, to string) ([]Set, error) {
	folders := map[string][]Set{}
	for _, s := range sets {
		folders[sameFolder(s.PapersFolder(to))] = append(folders[sameFolder(s.PapersFolder(to))], s)
	}
	var apart []Set
	var problems []error
	for _, s := range sets {
		same := folders[sameFolder(s.PapersFolder(to))]
		if len(same) == 1 {
			apart = append(apart, s)
		} else if s.Paths[0] != same[0].Paths[0] { // said once for each after the first
			problems = append(problems, fmt.Errorf("the papers of %s and of %s would both go into %s; give one of them another name, or run them apart",
				same[0].Paths[0], s.Paths[0], s.PapersFolder(to)))
		}
	}
	return apart, errors.Join(problems...)
}

// sameFolder gives one text for all ways to write a folder that some machine takes for one: from here or from the root,
// through links, in upper or lower case, with accents composed or not.
func sameFolder(folder string) string {
	if abs, err := filepath.Abs(folder); err == nil {
		folder = abs
	}
	if above, err := filepath.EvalSymlinks(filepath.Dir(folder)); err == nil {
		folder = filepath.Join(above, filepath.Base(folder))
	}
	return norm.NFC.String(cases.Fold().String(norm.NFC.String(folder)))
}

// papersList stands in every folder of papers; what is in there is our own.
const papersList = ".drytally-papers.json"

// Gather finds the workbooks that the paths mean: files, and the workbooks and CSV files of folders (not of folders in
// them). CSV files of one folder are one set. Office lock files and papers' folders are passed over. A path that can't be
// used doesn't stop the others: the sets of those come together with an error that joins what is wrong with each such path.
func Gather(paths []string) ([]Set, error) {
	g := gathering{csvOf: map[string]int{}, added: map[string]bool{}}
	var problems []error
	for _, path := range paths {
		if err := g.path(path); err != nil {
			problems = append(problems, err)
		}
	}
	for i := range g.sets {
		if err := g.sets[i].name(); err != nil {
			return nil, err
		}
	}
	return g.sets, errors.Join(problems...)
}

// Empty says that a folder holds nothing to read.
type Empty struct{ Folder string }

func (e *Empty) Error() string {
	return fmt.Sprintf("the folder %q holds no xlsx or CSV file", e.Folder)
}

// gathering collects sets.
type gathering struct {
	sets  []Set
	csvOf map[string]int  // place in sets of a folder's CSV files
	added map[string]bool // files already taken
}

// path takes what one path means.
func (g *gathering) path(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no file or folder %q", path)
	case err != nil:
		return fmt.Errorf("%q can't be opened: %w", path, Cause(err))
	case !info.IsDir():
		g.add(path)
		return nil
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return fmt.Errorf("the folder %q can't be read: %w", path, Cause(err))
	}
	if slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == papersList }) {
		return fmt.Errorf("the folder %q holds papers written by drytally; name the workbook they were made from", path)
	}
	found := false
	for _, e := range entries {
		if Wanted(e.Name()) && !isFolder(path, e) {
			g.add(filepath.Join(path, e.Name()))
			found = true
		}
	}
	if !found {
		return &Empty{Folder: path}
	}
	return nil
}

// isFolder reports whether an entry is a folder or a link to one. What can't be looked at is taken as a file, so that
// reading it says what is wrong.
func isFolder(dir string, e fs.DirEntry) bool {
	if e.Type()&fs.ModeSymlink == 0 {
		return e.IsDir()
	}
	info, err := os.Stat(filepath.Join(dir, e.Name()))
	return err == nil && info.IsDir()
}

// add takes one file.
func (g *gathering) add(path string) {
	dir := filepath.Dir(path)
	same := filepath.Clean(path)
	if abs, err := filepath.Abs(path); err == nil {
		same = abs
	}
	if g.added[same] {
		return // named twice
	}
	g.added[same] = true
	if !isDelimited(path) {
		base := filepath.Base(path)
		g.sets = append(g.sets, Set{Name: strings.TrimSuffix(base, filepath.Ext(base)), Dir: dir, Paths: []string{path}})
		return
	}
	folder := filepath.Dir(same)
	if i, ok := g.csvOf[folder]; ok {
		g.sets[i].Paths = append(g.sets[i].Paths, path)
		return
	}
	g.csvOf[folder] = len(g.sets)
	g.sets = append(g.sets, Set{Dir: dir, Paths: []string{path}, csv: true})
}

// name gives a set of CSV files its name.
func (s *Set) name() error {
	if !s.csv {
		return nil
	}
	// By the files' own names: whether one is named from here or from the root must not change the order.
	slices.SortFunc(s.Paths, func(a, b string) int { return cmp.Compare(filepath.Base(a), filepath.Base(b)) })
	base := filepath.Base(s.Paths[0])
	s.Name = strings.TrimSuffix(base, filepath.Ext(base))
	if len(s.Paths) > 1 {
		// The set is named after its folder and its papers stand beside that folder, which is called as the owner did: from
		// here or from the root.
		abs, err := filepath.Abs(s.Dir)
		if err != nil {
			return fmt.Errorf("%q can't be found: %w", s.Dir, err)
		}
		s.Name, s.Dir = filepath.Base(abs), filepath.Join(s.Dir, "..")
	}
	return nil
}

// Beside gives the CSV files that stand in the folder of a set of CSV files and are not among those named.
func (s Set) Beside() []string {
	if !s.csv {
		return nil
	}
	entries, err := os.ReadDir(filepath.Dir(s.Paths[0]))
	if err != nil {
		return nil // reading the set says what is wrong
	}
	var beside []string
	for _, e := range entries {
		if Wanted(e.Name()) && isDelimited(e.Name()) && !slices.ContainsFunc(s.Paths, func(p string) bool { return filepath.Base(p) == e.Name() }) {
			beside = append(beside, e.Name())
		}
	}
	return beside
}

// Files names the files of a set in one line.
func (s Set) Files() string {
	var names []string
	for _, p := range s.Paths {
		names = append(names, filepath.Base(p))
	}
	return FileNames(names)
}

// FileNames lists files in one line: a few by name, and how many more.
func FileNames(names []string) string {
	const most = 4
	if n := len(names) - most; n > 1 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), n)
	}
	return strings.Join(names, ", ")
}

func isDelimited(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".csv", ".tsv", ".txt":
		return true
	}
	return false
}

// Wanted reports whether a file of a folder is one to read, going by its name: a workbook or a CSV file, and neither hidden
// nor the marker an office program leaves beside an open workbook. What the owner names himself is always tried.
func Wanted(name string) bool {
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
	books, err := s.Books()
	if err != nil {
		return nil, err
	}
	return bind.Bind(s.Name, books), nil
}

// Books opens all files of a set.
func (s Set) Books() ([]*sheet.Workbook, error) {
	var books []*sheet.Workbook
	for _, path := range s.Paths {
		data, err := readFile(path)
		if err != nil {
			return nil, err
		}
		book, err := Open(filepath.Base(path), data)
		if err != nil {
			return nil, err
		}
		if s.under != "" {
			book.Name = s.under + "/" + book.Name
		}
		books = append(books, book)
	}
	return books, nil
}
