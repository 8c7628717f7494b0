package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"drytally/compute/finding"
	"drytally/testdata/tool"
)

var update = flag.Bool("update", false, "write the expected files anew")

// TestReadmeMessages: the README lists every finding there is, in the words of the code.
func TestReadmeMessages(t *testing.T) {
	tool.NoUpdate(t, *update)
	const readme, begin, end = "../../README.md", "<!-- messages: made from the code by TestReadmeMessages -->\n", "<!-- end of messages -->"
	var b strings.Builder
	b.WriteString("| code | severity | what it means | what to do |\n|---|---|---|---|\n")
	seen := map[finding.Code]bool{}
	for _, k := range finding.Kinds() {
		if seen[k.Code] {
			t.Errorf("code %s stands twice", k.Code)
		}
		seen[k.Code] = true
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", k.Code, k.Severity, sentence(k.Meaning), sentence(k.ToDo))
	}
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, ok := strings.Cut(string(data), begin)
	table, tail, ok2 := strings.Cut(rest, end)
	if !ok || !ok2 {
		t.Fatal("the README has no place for the messages")
	}
	if table == b.String() {
		return
	}
	if !*update {
		t.Fatal("the README's messages are not those of the code; run go test ./cmd/drytally -run Readme -update")
	}
	if err := os.WriteFile(readme, []byte(head+begin+b.String()+end+tail), 0o644); err != nil {
		t.Fatal(err)
	}
}

// sentence writes a text as a sentence in a table.
func sentence(s string) string {
	s = strings.ReplaceAll(strings.TrimSuffix(s, "."), "|", "\\|")
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:] + "."
}
