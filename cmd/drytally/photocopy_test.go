package main

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"drytally/testdata/tool"
)

// TestPhotocopy copies the first page of each paper in gray at 100 dots an inch, a poor copier's work, and lets a character reader
// read it back. It must find what decides on every page, and most words: a program reads such a page worse than a person does, so a
// tenth to a fifth of the words is left to it.
func TestPhotocopy(t *testing.T) {
	if testing.Short() {
		t.Skip("not checked with -short: whether a poor copy of a paper can be read")
	}
	tool.Need(t, "whether a poor copy of a paper can be read", "pdftoppm", "pdftotext", "tesseract")
	dir := t.TempDir()
	var out, errOut bytes.Buffer
	if code := run([]string{"-to", dir, "../../testdata/weeks/two-loads.xlsx"}, &out, &errOut); code != exitWritten {
		t.Fatalf("exit code %d\n%s%s", code, &out, &errOut)
	}
	word := regexp.MustCompile(`[A-Za-z0-9./%-]{3,}`)
	for _, c := range []struct {
		paper string
		must  []string
		share float64 // of the words that must be read back
	}{
		{"load-K14.pdf", []string{"Dry but for held-back boards", "A04", "A27", "A34", "Take these boards out"}, 0.90},
		{"load-K15.pdf", []string{"Not dry yet", "18.8"}, 0.80},
		{"statement-S31.pdf", []string{"Moisture statement", "24 boards of white ash", "no grade"}, 0.90},
		{"cut-sheet.pdf", []string{"Cut sheet", "Thickness"}, 0.75},
		{"summary.pdf", []string{"What to do now", "Take out A04"}, 0.80},
	} {
		t.Run(c.paper, func(t *testing.T) {
			t.Parallel()
			command := func(name string, args ...string) string {
				t.Helper()
				b, err := exec.Command(name, args...).Output()
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				return string(b)
			}
			paper, copied := filepath.Join(dir, "two-loads-papers", c.paper), filepath.Join(t.TempDir(), "copy")
			command("pdftoppm", "-r", "100", "-gray", "-f", "1", "-l", "1", "-singlefile", paper, copied)
			printed := word.FindAllString(command("pdftotext", "-f", "1", "-l", "1", "-layout", paper, "-"), -1)
			seen := command("tesseract", copied+".pgm", "-", "--dpi", "100", "--psm", "11")
			known := map[string]bool{}
			for _, w := range word.FindAllString(seen, -1) {
				known[w] = true
			}
			n := 0
			for _, w := range printed {
				if known[w] {
					n++
				}
			}
			if got := float64(n) / float64(len(printed)); got < c.share {
				t.Errorf("%.0f of 100 words of %d can be read on a copy, want %.0f", 100*got, len(printed), 100*c.share)
			} else {
				t.Logf("%.0f of 100 words of %d read on a copy", 100*got, len(printed))
			}
			text := strings.Join(strings.Fields(seen), " ")
			for _, want := range c.must {
				if !strings.Contains(text, want) {
					t.Errorf("%q can't be read on a copy", want)
				}
			}
		})
	}
}
