package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"drytally/testdata/tool"
)

// provenFigure is a figure in bold with the paper it stands on in parentheses behind it.
var provenFigure = regexp.MustCompile(`\*\*([^*]+)\*\*\s+\((\S+\.pdf)\)`)

// TestLogToSale runs the worked example as its page tells it: the program answers what the page says it does, and every figure
// the page works out by hand stands on the paper named.
func TestLogToSale(t *testing.T) {
	tool.NoUpdate(t, *update)
	const week = "../../testdata/weeks/log-to-sale"
	const begin, end = "kept true by TestLogToSale -->\n```\n", "```\n"
	page, err := os.ReadFile(filepath.Join(week, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	to := t.TempDir()
	var out, errOut bytes.Buffer
	if code := run([]string{"-to", to, week}, &out, &errOut); code != exitWritten {
		t.Fatalf("exit code %d, want %d\n%s%s", code, exitWritten, &out, &errOut)
	}
	answer := strings.ReplaceAll(out.String(), to+string(filepath.Separator), "")
	head, rest, ok := strings.Cut(string(page), begin)
	told, tail, ok2 := strings.Cut(rest, end)
	if !ok || !ok2 {
		t.Fatal("the page has no place for the program's answer")
	}
	if told != answer {
		if !*update {
			t.Fatalf("the program answers\n%s\nbut the page says\n%s\nrun go test ./cmd/drytally -run LogToSale -update", answer, told)
		}
		if err := os.WriteFile(filepath.Join(week, "README.md"), []byte(head+begin+answer+end+tail), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	figures := provenFigure.FindAllStringSubmatch(string(page), -1)
	if n := strings.Count(string(page), "**") / 2; len(figures) != n-1 || n < 16 { // one bold word only explains the others
		t.Errorf("%d figures in bold name their paper, of %d words in bold", len(figures), n)
	}
	tool.Need(t, "whether the page's figures stand on the papers", "pdftotext")
	text := map[string]string{}
	for _, f := range figures {
		if _, ok := text[f[2]]; !ok {
			paper, err := exec.Command("pdftotext", "-layout", filepath.Join(to, "log-to-sale-papers", f[2]), "-").Output()
			if err != nil {
				t.Fatalf("%s: %v", f[2], err)
			}
			text[f[2]] = strings.Join(strings.Fields(string(paper)), " ")
		}
		if figure := strings.Join(strings.Fields(f[1]), " "); !strings.Contains(text[f[2]], figure) {
			t.Errorf("%q does not stand on %s", figure, f[2])
		}
	}
}
