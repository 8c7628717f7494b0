package write

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
)

// manifestName is the file in a folder of papers that says what was written there, and for which workbook.
const manifestName = ".drytally-papers.json"

// ListName is the name of the hidden file that every folder of papers holds.
const ListName = manifestName

// manifest is its content.
type manifest struct {
	Note     string  `json:"note"`
	Format   int     `json:"format"`
	Workbook string  `json:"workbook"`
	MadeFrom string  `json:"made_from,omitempty"`
	SetAside bool    `json:"set_aside,omitempty"`
	Papers   []paper `json:"papers"`
}

// paper is a file as it was written.
type paper struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

const (
	manifestNote   = "drytally wrote these papers; it replaces only files that are still as listed here"
	manifestFormat = 1
)

func newManifest(workbook string, files []File) manifest {
	m := manifest{Note: manifestNote, Format: manifestFormat, Workbook: workbook}
	for _, f := range files {
		m.Papers = append(m.Papers, paper{f.Name, sum(f.Data)})
	}
	slices.SortFunc(m.Papers, func(a, b paper) int { return strings.Compare(a.Name, b.Name) })
	return m
}

func (m manifest) bytes() []byte {
	b, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		panic("write: manifest: " + err.Error()) // strings and numbers always marshal
	}
	return append(b, '\n')
}

func sum(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// readManifest gives the manifest of a folder; found is false when there is none. A manifest that cannot be understood is
// an error that wraps errDamaged.
func (k disk) readManifest(dir string) (m manifest, found bool, err error) {
	b, err := k.readFile(filepath.Join(dir, manifestName))
	if errors.Is(err, fs.ErrNotExist) {
		return manifest{}, false, nil
	}
	if err != nil {
		return manifest{}, false, err
	}
	if err := json.Unmarshal(b, &m); err != nil || m.Format != manifestFormat {
		return manifest{}, false, errDamaged
	}
	return m, true, nil
}

var errDamaged = errors.New("the list of papers cannot be read")

// Standing reports whether dir holds the papers of the workbook as a run wrote them from the very same things, whole and
// unaltered, with nothing left to put right; and whether rows were set aside or a paper withheld then. It changes nothing.
func Standing(dir, workbook, madeFrom string) (setAside, ok bool) {
	p, err := placeOf(realDisk(), dir)
	if err != nil || madeFrom == "" {
		return false, false
	}
	for _, name := range []string{p.aside, filepath.Join(p.parent, hiddenName(lockPrefix, p.base))} {
		if _, err := p.lstat(name); !errors.Is(err, fs.ErrNotExist) {
			return false, false // a run is at work, or one was cut off
		}
	}
	m, found, err := p.readManifest(p.dir)
	if err != nil || !found || m.Workbook != workbook || m.MadeFrom != madeFrom || len(m.Papers) == 0 {
		return false, false
	}
	old, err := p.inspect(p.dir, m, false)
	return m.SetAside, err == nil && old.same
}
