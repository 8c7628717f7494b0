package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"drytally/report"
	"drytally/testdata/tool"
)

// demoPapers writes the papers of a demo week and gives their folder.
func demoPapers(t *testing.T, week string) string {
	t.Helper()
	to := t.TempDir()
	var out, errOut bytes.Buffer
	if code := run([]string{"-to", to, filepath.Join("..", "..", "testdata", "weeks", week)}, &out, &errOut); code > exitSetAside {
		t.Fatalf("exit %d: %s", code, &errOut)
	}
	return filepath.Join(to, strings.TrimSuffix(week, ".xlsx")+"-papers")
}

// unitAlone finds a line that begins with a unit parted from its number.
var unitAlone = regexp.MustCompile(`(?m)^ *(%|mm|lb|kg)[.,;:)]*( .*)?$`)

// TestPapersSayWhatTheyAre: every paper of the demo weeks is a sound file that names itself, its sources with their whole
// hashes, its language and its pages; its text copies out and is found.
func TestPapersSayWhatTheyAre(t *testing.T) {
	for _, week := range []string{"two-loads.xlsx", "metric-cherry.xlsx", "pine-csv"} {
		folder := demoPapers(t, week)
		sources, err := filepath.Glob(filepath.Join("..", "..", "testdata", "weeks", week, "*.csv"))
		if err != nil || strings.HasSuffix(week, ".xlsx") {
			sources = []string{filepath.Join("..", "..", "testdata", "weeks", week)}
		}
		var hashes []string
		for _, path := range sources {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			sum := sha256.Sum256(data)
			hashes = append(hashes, hex.EncodeToString(sum[:]))
		}
		papers, err := filepath.Glob(filepath.Join(folder, "*.pdf"))
		if err != nil || len(papers) < 3 {
			t.Fatalf("%s: %d papers (%v)", week, len(papers), err)
		}
		for _, path := range papers {
			t.Run(week+"/"+filepath.Base(path), func(t *testing.T) {
				data, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				record, ok := report.RecordOf(data)
				if !ok || fmt.Sprint(record.Sources) != fmt.Sprint(hashes) || record.Version != version() {
					t.Errorf("the record is %+v, want the sources %v and the version %s", record, hashes, version())
				}
				for _, want := range []string{"/Lang (en-US)", "/Title (", "/Author (", "/Subject (", "/Creator (", "/CreationDate (D:20", "/ModDate (D:20"} {
					if !bytes.Contains(data, []byte(want)) {
						t.Errorf("the properties lack %s", want)
					}
				}
				if !strings.HasPrefix(filepath.Base(path), "tags-") && !bytes.Contains(data, []byte("/Outlines")) {
					t.Error("it has no bookmarks")
				}
				tool.Need(t, "whether the paper is sound and its text copies out", "qpdf", "pdftotext")
				if said, err := exec.Command("qpdf", "--check", path).CombinedOutput(); err != nil {
					t.Errorf("qpdf: %v: %s", err, said)
				}
				text, err := exec.Command("pdftotext", "-layout", path, "-").Output()
				if err != nil {
					t.Fatal(err)
				}
				pages := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
				for i, page := range pages {
					for _, want := range []string{"No. " + record.Number, fmt.Sprintf("page %d of %d", i+1, len(pages))} {
						if !strings.Contains(page, want) {
							t.Errorf("page %d does not say %q", i+1, want)
						}
					}
				}
				if strings.Contains(string(text), "\u25A1") {
					t.Error("a sign could not be shown")
				}
				if name := filepath.Base(path); strings.HasPrefix(name, "load-") && len(pages) > 2 || strings.HasPrefix(name, "statement-") && len(pages) > 1 {
					t.Errorf("it has %d pages, want a load on two and a statement on one", len(pages))
				}
				if alone := unitAlone.FindString(string(text)); alone != "" {
					t.Errorf("a unit stands on a line of its own: %q", alone)
				}
			})
		}
	}
}

// TestNumbersStandInTheResults: what results.json lists of the papers is what they are.
func TestNumbersStandInTheResults(t *testing.T) {
	folder := demoPapers(t, "two-loads.xlsx")
	data, err := os.ReadFile(filepath.Join(folder, "results.json"))
	if err != nil {
		t.Fatal(err)
	}
	rows := regexp.MustCompile(`\{"file": "([^"]+)", "number": (null|"[0-9A-F]{5}-[0-9A-F]{5}"), "sha256": "([0-9a-f]{64})"\}`).FindAllSubmatch(data, -1)
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, m := range rows {
		paper, err := os.ReadFile(filepath.Join(folder, string(m[1])))
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(paper)
		record, ok := report.RecordOf(paper)
		if hex.EncodeToString(sum[:]) != string(m[3]) || ok != (string(m[2]) != "null") || ok && `"`+record.Number+`"` != string(m[2]) {
			t.Errorf("%s is listed with number %s and hash %s, and has %q and %x", m[1], m[2], m[3], record.Number, sum)
		}
		listed[string(m[1])] = true
	}
	for _, e := range entries {
		if name := e.Name(); !strings.HasPrefix(name, ".") && listed[name] == (name == "results.json") {
			t.Errorf("%s: listed is %v", name, listed[name])
		}
	}
}

// TestBoardsDryByTheirLoadAreNamed: of the dry load's boards that the cutting plan uses, those never read themselves are told from the
// others, once; the boards of the metric week were all read.
func TestBoardsDryByTheirLoadAreNamed(t *testing.T) {
	for week, want := range map[string]int{"two-loads.xlsx": 1, "metric-cherry.xlsx": 0} {
		data, err := os.ReadFile(filepath.Join(demoPapers(t, week), "results.json"))
		if err != nil {
			t.Fatal(err)
		}
		const says = "taken as dry because their load was found dry: A09, A14, A19, A38, A45, A58."
		if got := bytes.Count(data, []byte(says)); got != want {
			t.Errorf("%s: results.json says %q %d times, want %d", week, says, got, want)
		}
		if got := bytes.Count(data, []byte("taken as dry because")); got != want {
			t.Errorf("%s: boards are taken as dry by their load %d times, want %d", week, got, want)
		}
	}
}
