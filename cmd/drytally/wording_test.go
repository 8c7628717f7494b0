package main

import (
	"go/ast"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"drytally/templates"
)

// TestEveryStatementHasItsWording reads the names of statements where compute makes them and finds the wording of each.
func TestEveryStatementHasItsWording(t *testing.T) {
	makers := map[string]int{"stated": 0, "because": 1, "settle": 0, "open": 0, "note": 0} // call -> place of the name
	known := templates.Names()
	found := 0
	eachSource(t, "../../compute", func(path string, file *ast.File) {
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			maker, ok := call.Fun.(*ast.Ident)
			if !ok {
				return true
			}
			at, ok := makers[maker.Name]
			if !ok || len(call.Args) <= at {
				return true
			}
			name, ok := call.Args[at].(*ast.BasicLit)
			if !ok || name.Kind != token.STRING {
				return true
			}
			s, err := strconv.Unquote(name.Value)
			if err != nil {
				t.Fatal(err)
			}
			found++
			if !slices.Contains(known, s) {
				t.Errorf("%s: the statement %q has no wording", path, s)
			}
			return true
		})
	})
	if found < 50 {
		t.Fatalf("only %d statements were found in compute", found)
	}
}

// TestEveryWordingIsSaid: every text of the templates is named by the program, whole or by its beginning ("rule-" + the rule).
func TestEveryWordingIsSaid(t *testing.T) {
	said, begun := map[string]bool{}, []string{}
	for _, room := range []string{"../../compute", "../../report"} {
		eachSource(t, room, func(_ string, file *ast.File) {
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					s, err := strconv.Unquote(lit.Value)
					if err != nil {
						t.Fatal(err)
					}
					if said[s] = true; len(s) > 1 && strings.HasSuffix(s, "-") {
						begun = append(begun, s)
					}
				}
				return true
			})
		})
	}
	for _, name := range templates.Names() {
		if !said[name] && !slices.ContainsFunc(begun, func(s string) bool { return strings.HasPrefix(name, s) }) {
			t.Errorf("nothing says %q", name)
		}
	}
}
