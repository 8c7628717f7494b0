package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"drytally/testdata/tool"
)

// TestSkipsSayWhatIsNotChecked reads all tests: one that is passed over says first what is then not checked, and only testdata/tool
// looks for programs, so that in an automatic run none may be missing.
func TestSkipsSayWhatIsNotChecked(t *testing.T) {
	const says = "not checked"
	scriptSkip := regexp.MustCompile(`(?m)^(?:\[[^\]]*\] *)?skip(.*)$`)
	skips := 0
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || d.IsDir():
			return err
		case strings.HasSuffix(path, ".txtar"):
			b, err := os.ReadFile(path)
			for _, m := range scriptSkip.FindAllSubmatch(b, -1) {
				if skips++; !strings.HasPrefix(strings.Trim(string(m[1]), " '"), says) {
					t.Errorf("%s: %q does not begin with what is %s", path, m[0], says)
				}
			}
			return err
		case !strings.HasSuffix(path, "_test.go"):
			return nil
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			f, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			switch f.Sel.Name {
			case "Skip", "Skipf", "SkipNow":
				skips++
				reason := ""
				if len(call.Args) > 0 {
					if lit, ok := call.Args[0].(*ast.BasicLit); ok {
						reason, _ = strconv.Unquote(lit.Value)
					}
				}
				if !strings.HasPrefix(reason, says) {
					t.Errorf("%v: a skip does not begin with what is %s", set.Position(call.Pos()), says)
				}
			case "LookPath":
				t.Errorf("%v: whether a program is there is asked by tool.Need", set.Position(call.Pos()))
			}
			return true
		})
		return nil
	})
	if err != nil || skips < 10 {
		t.Fatalf("%d skips were read (%v)", skips, err)
	}
}

// told notes how a test ended.
type told struct {
	testing.TB
	skipped, failed string
}

func (o *told) Helper()                        {}
func (o *told) Skipf(format string, a ...any)  { o.skipped = fmt.Sprintf(format, a...) }
func (o *told) Fatalf(format string, a ...any) { o.failed = fmt.Sprintf(format, a...) }

// A missing program is a reason to skip for a person and a fault for an automatic run.
func TestMissingProgram(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	for _, c := range []struct{ ci, without, skipped, failed string }{
		{"", "", "not checked: whether it is sound (qpdf not installed)", ""},
		{"true", "", "", "not checked: whether it is sound (CI is set and qpdf not installed)"},
		{"true", "soffice", "", "not checked: whether it is sound (CI is set and qpdf not installed)"},
		{"true", "soffice qpdf", "not checked: whether it is sound (qpdf not installed)", ""},
	} {
		t.Setenv("CI", c.ci)
		t.Setenv("CI_WITHOUT", c.without)
		var got told
		if tool.Need(&got, "whether it is sound", "qpdf"); got.skipped != c.skipped || got.failed != c.failed {
			t.Errorf("CI=%q: skipped %q, failed %q; want %q, %q", c.ci, got.skipped, got.failed, c.skipped, c.failed)
		}
	}
}
