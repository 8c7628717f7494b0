package main

import (
	"go/build"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// TestImportsGoOneWay reads the imports of every package: cmd -> ingest, compute, report; ingest -> compute, templates (the
// wording of the blank workbook); report -> compute, templates; compute touches no file, clock, chance, spreadsheet or PDF.
func TestImportsGoOneWay(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	may := map[string][]string{ // room -> rooms it may import
		"cmd":       {"ingest", "compute", "report", "templates"},
		"ingest":    {"ingest", "compute", "templates"},
		"compute":   {"compute"},
		"report":    {"report", "compute", "templates"},
		"templates": {},
	}
	// Outside packages that only one place may import, and what compute may not.
	only := map[string]string{
		"github.com/go-pdf/fpdf": "report/page",
		"rsc.io/qr":              "report/page",
		"rsc.io/qr/coding":       "report/page",
	}
	notInCompute := []string{"os", "io/fs", "net", "net/http", "os/exec", "math/rand", "math/rand/v2", "crypto/rand", "archive/zip",
		"github.com/xuri/excelize/v2", "github.com/go-pdf/fpdf", "path/filepath", "syscall"}
	packages := 0
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if name := d.Name(); path != root && (strings.HasPrefix(name, ".") || name == "testdata" || strings.HasSuffix(name, "-papers")) {
			return filepath.SkipDir
		}
		p, err := build.ImportDir(path, 0)
		if err != nil {
			return nil // no Go files here
		}
		packages++
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		room, _, _ := strings.Cut(rel, "/")
		allowed, known := may[room]
		if !known {
			t.Errorf("%s: not one of the rooms of the house", rel)
			return nil
		}
		for _, imp := range p.Imports {
			if own, ok := strings.CutPrefix(imp, "drytally/"); ok {
				to, _, _ := strings.Cut(own, "/")
				if !contains(allowed, to) {
					t.Errorf("%s imports %s: imports go one way", rel, imp)
				}
			}
			if place, ok := only[imp]; ok && rel != place {
				t.Errorf("%s imports %s, which only %s may", rel, imp, place)
			}
			if room == "compute" && contains(notInCompute, imp) {
				t.Errorf("%s imports %s: compute has no file, clock, chance, spreadsheet or PDF", rel, imp)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if packages < 15 {
		t.Fatalf("only %d packages were read", packages)
	}
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}
