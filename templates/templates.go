// Package templates holds the wording of the papers: statements, headings and cautions. Code fills them; a name or a
// value that is missing is an error, never an empty place on a paper.
package templates

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
	"text/template"
)

//go:embed statements.txt
var statementsText string

//go:embed cautions.txt
var cautionsText string

// block is one named text of a file: a line "== name" and the lines below it.
type block struct {
	name string
	text string
}

// blocks parts a file into its named texts. Lines that begin with # before the first name are remarks.
func blocks(file string) []block {
	var out []block
	for _, line := range strings.Split(file, "\n") {
		if name, ok := strings.CutPrefix(line, "== "); ok {
			out = append(out, block{name: strings.TrimSpace(name)})
			continue
		}
		if len(out) == 0 || strings.HasPrefix(line, "#") {
			continue
		}
		b := &out[len(out)-1]
		if line = strings.TrimSpace(line); line != "" {
			if b.text != "" {
				b.text += " "
			}
			b.text += line
		}
	}
	return out
}

var statements = sync.OnceValue(func() map[string]*template.Template {
	all := map[string]*template.Template{}
	for _, b := range blocks(statementsText) {
		if all[b.name] != nil {
			panic("templates: two statements are named " + b.name)
		}
		all[b.name] = template.Must(template.New(b.name).Option("missingkey=error").Funcs(template.FuncMap{"s": plural}).Parse(b.text))
	}
	return all
})

// plural gives one or many: {{s .n "board" "boards"}}.
func plural(n, one, many string) string {
	if n == "1" {
		return one
	}
	return many
}

// Say fills a statement. The error names a statement or value that is missing.
func Say(name string, with map[string]string) (string, error) {
	t := statements()[name]
	if t == nil {
		return "", fmt.Errorf("no wording is named %q", name)
	}
	var b strings.Builder
	if err := t.Execute(&b, with); err != nil {
		return "", fmt.Errorf("the wording %q lacks a value: %w", name, err)
	}
	return b.String(), nil
}

// Has reports whether there is a statement of a name.
func Has(name string) bool { return statements()[name] != nil }

// Names lists every statement there is.
func Names() []string {
	var names []string
	for _, b := range blocks(statementsText) {
		names = append(names, b.name)
	}
	return names
}
