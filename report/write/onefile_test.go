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
	link := filepath.Join(dir, "link.xlsx")
	if err := os.Symlink(filepath.Join(dir, "elsewhere.xlsx"), link); err != nil {
		t.Skip("this file system has no links")
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
		{"a link", link, "x", true, true, ""},
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
	if err != nil || len(entries) != 3 {
		t.Errorf("%d things in the folder, want the file, the folder and the link (%v)", len(entries), err)
	}
}
