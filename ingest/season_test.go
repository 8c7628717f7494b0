package ingest

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestGatherSeason: workbooks and CSV files of a folder, and folders of CSV files in it; papers, hidden folders and folders of
// workbooks are passed over.
func TestGatherSeason(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a.xlsx", "june/boards.csv", "june/sold.csv", "july/boards.csv", "old/b.xlsx", "old/c.csv", ".hidden/d.csv", "a-papers/" + papersList, "a-papers/e.csv", "notes/readme.md"} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("Board,Width\nB1,6\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	names := func(sets []Set) string {
		var all []string
		for _, s := range sets {
			files := []string{}
			for _, p := range s.Paths {
				files = append(files, filepath.Base(p))
			}
			all = append(all, s.Name+" ("+strings.Join(files, " ")+") "+s.under)
		}
		slices.Sort(all)
		return strings.Join(all, "; ")
	}
	sets, err := GatherSeason([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	const want = "a (a.xlsx) ; boards (boards.csv) july; june (boards.csv sold.csv) june"
	if got := names(sets); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	for _, s := range sets {
		if s.Name != "june" {
			continue
		}
		job, err := Read(s)
		if err != nil {
			t.Fatal(err)
		}
		if got := job.Files[0].Name; got != "june/boards.csv" {
			t.Errorf("a file that another week has too goes by %q, want june/boards.csv", got)
		}
	}
	if err := os.Remove(filepath.Join(dir, "a.xlsx")); err != nil {
		t.Fatal(err)
	}
	if sets, err = GatherSeason([]string{dir}); err != nil || len(sets) != 2 {
		t.Errorf("a folder of nothing but weeks in folders: got %d sets, error %v; want 2", len(sets), err)
	}
	if _, err := GatherSeason([]string{filepath.Join(dir, "notes")}); err == nil || !strings.Contains(err.Error(), "holds no xlsx or CSV file") {
		t.Errorf("a folder without a week: %v", err)
	}
	for _, tt := range []struct{ path, to, want string }{
		{dir, "", filepath.Join(dir, seasonPapers)}, {filepath.Join(dir, "june", "boards.csv"), "", filepath.Join(dir, "june", seasonPapers)}, {dir, "x", filepath.Join("x", seasonPapers)},
	} {
		if got := SeasonFolder([]string{tt.path}, tt.to); got != tt.want {
			t.Errorf("papers of %s to %q: got %s, want %s", tt.path, tt.to, got, tt.want)
		}
	}
}
