package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// TestComputeHasNoClock: compute uses time values but never asks what time it is, and the papers take no date but the job's.
func TestComputeHasNoClock(t *testing.T) {
	for _, room := range []string{"../../compute", "../../report", "../../ingest"} {
		eachSource(t, room, func(path string, file *ast.File) {
			ast.Inspect(file, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if pkg, ok := s.X.(*ast.Ident); ok && pkg.Name == "time" && (s.Sel.Name == "Now" || s.Sel.Name == "Since") {
						t.Errorf("%s asks the clock: time.%s", path, s.Sel.Name)
					}
				}
				return true
			})
		})
	}
}

// eachSource reads the files of a room that are built into the program.
func eachSource(t *testing.T, room string, look func(path string, file *ast.File)) {
	t.Helper()
	err := filepath.WalkDir(room, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && d.Name() == "testdata" {
			return filepath.SkipDir
		}
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err == nil {
			look(path, file)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
