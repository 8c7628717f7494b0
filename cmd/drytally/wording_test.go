package main

import (
	"go/ast"
	"go/token"
	"slices"
	"strconv"
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
