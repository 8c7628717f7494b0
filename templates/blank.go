package templates

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
	"text/template"
)

//go:embed blank.txt
var blankText string

var blankBlocks = sync.OnceValue(func() []block { return blocks(blankText) })

// Blank gives the paragraphs of the first sheet of a blank workbook, by name and in order. A paragraph whose value is not
// given is an error, but for the last ones, which are left out when there is nothing to say them of.
func Blank(with map[string]string) (names, paragraphs []string, err error) {
	for _, b := range blankBlocks() {
		if b.name == "carried" && with["last"] == "" || b.name == "left" && with["left"] == "" {
			continue
		}
		t, err := template.New(b.name).Option("missingkey=error").Parse(b.text)
		if err != nil {
			return nil, nil, err
		}
		var s strings.Builder
		if err := t.Execute(&s, with); err != nil {
			return nil, nil, fmt.Errorf("the wording %q lacks a value: %w", b.name, err)
		}
		names, paragraphs = append(names, b.name), append(paragraphs, s.String())
	}
	return names, paragraphs, nil
}
