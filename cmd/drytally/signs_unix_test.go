//go:build unix

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSignsInNames: the name of a file can hold signs that would move the cursor or color the screen. None reaches it.
func TestSignsInNames(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	name := func(s string) string { return filepath.Join(dir, "we\x1b[31m\n"+s) }
	for path, text := range map[string]string{name("k.xlsx"): "PK\x03\x04 cut off", name("k.csv"): "nothing,of,ours\n1,2,3\n", name("old.doc"): "text"} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	season := filepath.Join(dir, "se\x1b[31mason")
	if err := os.Mkdir(season, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(season, "a\x1b.xlsx"), []byte("PK\x03\x04 cut off"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{name("k.xlsx")}, {name("k.csv")}, {name("old.doc")}, {dir}, {"check", name("k.xlsx")}, {"season", season}, {"blank", name("new.xls")},
		{"blank", name("new.xlsx"), "-from", name("k.xlsx")}, {"verify", name("gone.pdf"), name("k.csv")}, {name("gone")}, {"-to\x1b", "x"}, {"chek\x1b[31m"}} {
		var out, errOut bytes.Buffer
		code := run(args, &out, &errOut)
		said := out.String() + errOut.String()
		if code < exitSetAside || strings.Contains(said, "\x1b") || strings.Contains(said, "31m\n") {
			t.Errorf("%q: exit %d and %q", args, code, said)
		}
		if errOut.Len() == 0 {
			t.Errorf("%q: nothing is said on stderr", args)
		}
	}
}
