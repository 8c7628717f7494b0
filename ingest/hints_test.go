package ingest_test

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest"
	"drytally/ingest/bind"
	"drytally/ingest/sheet"
)

var examplesOfHint = regexp.MustCompile(`\b(?:like|such as|it as|them as) (.*?\d.*?)(?:; .*|, or (?:leave|as) .*)?$`)

// TestHintsAreTaken writes every spelling that a hint about a cell of the fault files proposes into that cell of that file and reads
// all files of the set anew, as the owner would: then the finding is gone, and none of the kind stands in its place.
func TestHintsAreTaken(t *testing.T) {
	files, err := filepath.Glob(faults + "/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts := map[string]string{}
		var order []string
		for _, f := range archive.Files {
			if strings.HasSuffix(f.Name, ".csv") {
				texts[f.Name], order = string(f.Data), append(order, f.Name)
			}
		}
		for _, f := range readSet(t, texts, order).Findings {
			m := examplesOfHint.FindStringSubmatch(f.Hint)
			if f.Severity != finding.Error || f.Code[0] != 'C' || m == nil {
				continue
			}
			for _, example := range regexp.MustCompile(`, | or `).Split(m[1], -1) {
				corrected, ok := withCell(texts[f.Place.File], f.Place, example)
				if !ok {
					continue // a line with quotation marks, which this simple hand doesn't write
				}
				tried++
				now := map[string]string{}
				for name, text := range texts {
					now[name] = text
				}
				now[f.Place.File] = corrected
				for _, g := range readSet(t, now, order).Findings {
					if g.Place == f.Place && g.Code[0] == 'C' {
						t.Errorf("%s: for %q %s proposes %q; with it the file gives %s", filepath.Base(file), f.Stands, f.Code, example, g)
					}
				}
			}
		}
	}
	if tried < 20 {
		t.Errorf("only %d examples were tried", tried)
	}
}

func readSet(t *testing.T, texts map[string]string, order []string) *compute.Job {
	t.Helper()
	var books []*sheet.Workbook
	for _, name := range order {
		book, err := ingest.Open(name, []byte(texts[name]))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		books = append(books, book)
	}
	return bind.Bind("week", books)
}

// withCell writes a text into a cell of a CSV file.
func withCell(text string, at finding.Place, now string) (string, bool) {
	lines := strings.Split(text, "\n")
	if at.Row < 1 || at.Row > len(lines) || strings.Contains(lines[at.Row-1], `"`) {
		return "", false
	}
	sep := ","
	if strings.Contains(lines[0], ";") {
		sep = ";"
	}
	fields := strings.Split(lines[at.Row-1], sep)
	if at.Col < 1 || at.Col > len(fields) {
		return "", false
	}
	if strings.ContainsAny(now, sep+`"`) {
		now = `"` + strings.ReplaceAll(now, `"`, `""`) + `"`
	}
	fields[at.Col-1] = now
	lines[at.Row-1] = strings.Join(fields, sep)
	return strings.Join(lines, "\n"), true
}
