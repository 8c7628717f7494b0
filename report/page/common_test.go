package page

import (
	"bytes"
	"compress/zlib"
	"encoding/json"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"
)

var updateFaces = flag.Bool("update-faces", false, "cut the common faces anew; needs python3 with fonttools")

// TestCommonFaces holds the cut faces to the whole ones: every byte of common.map stands for one character, which is in the cut
// face and as wide there and in the table of widths as in the whole one.
func TestCommonFaces(t *testing.T) {
	if *updateFaces {
		makeCommonFaces(t)
	}
	if got := len(commonBytes()); got != 223 {
		t.Errorf("common.map has %d characters, want 223", got)
	}
	if codes := commonBytes(); codes[standIn] == 0 || codes[noBreakSpace] == 0 {
		t.Error("the stand-in or the no-break space is missing")
	}
	for i, face := range faces() {
		c := commonFaces()[i]
		var definition struct {
			Tp, Name string
			Cw       []int
		}
		if err := json.Unmarshal(c.definition, &definition); err != nil {
			t.Fatal(err)
		}
		if definition.Tp != "TrueType" || strings.Contains(definition.Name, "Liberation") {
			t.Errorf("face %d: got %+v, want TrueType under a name of its own", i, definition)
		}
		cut, err := readWidths(unpacked(t, c.packed))
		if err != nil {
			t.Fatal(err)
		}
		of := map[byte]rune{}
		for r, b := range commonBytes() {
			if old, twice := of[b]; twice {
				t.Errorf("byte %#x stands for %q and %q", b, old, r)
			}
			of[b] = r
			if want := face.advance(r); want < 0 || cut[r] != want || definition.Cw[b] != int(want) {
				t.Errorf("face %d, %q: cut %d wide, table %d, whole %d", i, r, cut[r], definition.Cw[b], want)
			}
		}
	}
}

func unpacked(t *testing.T, packed []byte) []byte {
	t.Helper()
	z, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// makeCommonFaces cuts the faces and has the PDF library's own tool make its files of them.
func makeCommonFaces(t *testing.T) {
	t.Helper()
	const here = "fonts/common"
	dir := t.TempDir()
	if out, err := exec.Command("python3", filepath.Join(here, "cut.py"), dir).CombinedOutput(); err != nil {
		t.Fatalf("cut.py: %v\n%s", err, out)
	}
	library, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/go-pdf/fpdf").Output()
	if err != nil {
		t.Fatal(err)
	}
	// The tool compares the table with that of the encoding it differs from, which it looks for beside it.
	for to, from := range map[string]string{"common.map": filepath.Join(here, "common.map"), "cp1252.map": filepath.Join(strings.TrimSpace(string(library)), "font", "cp1252.map")} {
		b, err := os.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, to), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"regular", "bold", "italic"} {
		if err := fpdf.MakeFont(filepath.Join(dir, name+".ttf"), filepath.Join(dir, "common.map"), here, nil, true); err != nil {
			t.Fatal(err)
		}
	}
}
