package write

import (
	"os"
	"path/filepath"
	"testing"
)

func TestOne(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "new.xlsx")
	folder := filepath.Join(dir, "folder.xlsx")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name, path, data string
		replace          bool
		fails            bool
		stands           string // afterwards
	}{
		{"new", path, "one", false, false, "one"},
		{"there already", path, "two", false, true, "one"},
		{"replaced", path, "three", true, false, "three"},
		{"a folder", folder, "x", true, true, ""},
		{"no such folder", filepath.Join(dir, "gone", "new.xlsx"), "x", false, true, ""},
	} {
		if err := One(tt.path, []byte(tt.data), tt.replace); (err != nil) != tt.fails {
			t.Errorf("%s: got %v", tt.name, err)
		}
		if got, _ := os.ReadFile(tt.path); string(got) != tt.stands {
			t.Errorf("%s: %q stands there, want %q", tt.name, got, tt.stands)
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 2 {
		t.Errorf("%d things in the folder, want the file and the folder (%v)", len(entries), err)
	}
}

func TestOneLeavesALink(t *testing.T) {
	dir := t.TempDir()
	path, elsewhere := filepath.Join(dir, "link.xlsx"), filepath.Join(dir, "elsewhere.xlsx")
	link(t, elsewhere, path)
	if err := One(path, []byte("x"), true); err == nil {
		t.Error("a link: got no error")
	}
	if to, err := os.Readlink(path); err != nil || to != elsewhere {
		t.Errorf("the link leads to %q (%v), want %q", to, err, elsewhere)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 1 {
		t.Errorf("%d things in the folder, want the link (%v)", len(entries), err)
	}
}
