package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestExitCodes: the codes are an interface; every one is told from the others.
func TestExitCodes(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	sound := write("sound/boards.csv", "Board,Thickness,Width,Length\nB1,1,6,8\n")
	aside := write("aside/boards.csv", "Board,Thickness,Width,Length\nB1,1,6,8\n,1,6,8\n")
	withheld := write("withheld/week.csv", "Board,Thickness,Width,Length\nB1,1,6,8\n")
	write("withheld/sold.csv", "Sale,Boards,Buyer\nS1,B9,Ida\n")
	broken := write("broken/week.xlsx", "PK\x03\x04 cut off")
	none := write("none/words.csv", "nothing,of,ours\n1,2,3\n")
	same := write("other/boards.csv", "Board,Thickness,Width,Length\nB1,1,6,8\n")
	tests := []struct {
		name string
		args []string
		want int
	}{
		{"sound", []string{sound}, exitWritten},
		{"sound again", []string{sound}, exitWritten},
		{"help", []string{"-h"}, exitWritten},
		{"version", []string{"-version"}, exitWritten},
		{"a row set aside", []string{aside}, exitSetAside},
		{"check of a row set aside", []string{"check", aside}, exitSetAside},
		{"a paper withheld", []string{filepath.Dir(withheld)}, exitSetAside},
		{"no arguments", nil, exitCall},
		{"no file", []string{"check"}, exitCall},
		{"unknown option", []string{"-forse", sound}, exitCall},
		{"option without its value", []string{sound, "-to"}, exitCall},
		{"two papers' folders in one", []string{"-to", filepath.Join(dir, "out"), sound, same}, exitCall},
		{"no such file", []string{filepath.Join(dir, "gone.xlsx")}, exitFile},
		{"damaged", []string{broken}, exitFile},
		{"no table", []string{none}, exitFile},
		{"the worst of several counts", []string{sound, aside, broken}, exitFile},
		{"papers unchanged", []string{"verify", filepath.Join(dir, "sound", "boards-papers"), sound}, exitWritten},
		{"papers of another workbook", []string{"verify", filepath.Join(dir, "sound", "boards-papers"), aside}, exitSetAside},
		{"verify without papers", []string{"verify", sound}, exitCall},
		{"verify against a damaged workbook", []string{"verify", filepath.Join(dir, "sound", "boards-papers"), broken}, exitFile},
		{"verify what is not there", []string{"verify", filepath.Join(dir, "gone.pdf"), sound}, exitFile},
		{"a blank workbook", []string{"blank", filepath.Join(dir, "new.xlsx")}, exitWritten},
		{"a blank workbook over a file", []string{"blank", filepath.Join(dir, "new.xlsx")}, exitFile},
		{"an unfilled workbook", []string{filepath.Join(dir, "new.xlsx")}, exitFile},
		{"check of an unfilled workbook", []string{"check", filepath.Join(dir, "new.xlsx")}, exitWritten},
		{"a blank workbook without a name", []string{"blank"}, exitCall},
		{"a blank workbook of another kind", []string{"blank", filepath.Join(dir, "new.ods")}, exitCall},
		{"a blank workbook in no folder", []string{"blank", filepath.Join(dir, "gone", "new.xlsx")}, exitFile},
		{"carried over", []string{"blank", filepath.Join(dir, "next.xlsx"), "-from", sound}, exitWritten},
		{"carried over with errors", []string{"blank", filepath.Join(dir, "aside.xlsx"), "-from", aside}, exitFile},
		{"carried over from a damaged workbook", []string{"blank", filepath.Join(dir, "never.xlsx"), "-from", broken}, exitFile},
		{"carrying over without blank", []string{"-from", sound, sound}, exitCall},
		{"a season", []string{"season", sound}, exitWritten},
		{"a season with a row set aside", []string{"season", sound, aside}, exitSetAside},
		{"a season with a damaged file", []string{"season", "-to", filepath.Join(dir, "torn"), sound, broken}, exitFile},
		{"a season of nothing that can be read", []string{"season", "-to", filepath.Join(dir, "nothing"), none, broken}, exitFile},
		{"a season without a file", []string{"season"}, exitCall},
		{"our own papers", []string{filepath.Join(dir, "sound", "boards-papers")}, exitFile},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var out, errOut bytes.Buffer
			if got := run(tt.args, &out, &errOut); got != tt.want {
				t.Errorf("exit %d, want %d\nstdout: %s\nstderr: %s", got, tt.want, &out, &errOut)
			}
		})
	}
	if _, err := os.Stat(filepath.Join(dir, "torn", "season-papers", "season.pdf")); err != nil {
		t.Errorf("a damaged file kept the season from being written: %v", err)
	}
	for _, gone := range []string{"out", "broken/week-papers", "none/words-papers", "never.xlsx", "new-papers", "gone", "nothing"} {
		if _, err := os.Stat(filepath.Join(dir, gone)); err == nil {
			t.Errorf("%s was written", gone)
		}
	}
}
