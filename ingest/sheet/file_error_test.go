package sheet

import (
	"fmt"
	"strings"
	"testing"

	"drytally/compute/finding"
)

// TestFileCodes checks that the codes of files are numbered without a gap and written as our sentences are.
func TestFileCodes(t *testing.T) {
	t.Parallel()
	n := 0
	for _, k := range finding.Kinds() {
		if !strings.HasPrefix(string(k.Code), "F") {
			continue
		}
		n++
		if want := finding.Code(fmt.Sprintf("F%03d", n)); k.Code != want {
			t.Errorf("got code %s, want %s", k.Code, want)
		}
		if k.Severity != finding.Error || k.Meaning == "" || k.ToDo == "" || strings.HasSuffix(k.Meaning, ".") || strings.HasSuffix(k.ToDo, ".") {
			t.Errorf("got %+v, want an error with meaning and advice, without full stops", k)
		}
	}
	if n != 26 { // F001 to F026
		t.Errorf("got %d codes of files, want 26", n)
	}
}

func TestFileErrorText(t *testing.T) {
	t.Parallel()
	e := Refuse(finding.FileOrder, "week47.xlsx", "xl/worksheets/sheet2.xml", "row %d stands twice", 4)
	e.Hint = "look again"
	if got, want := e.Error(), "week47.xlsx: error F020: xl/worksheets/sheet2.xml: row 4 stands twice; look again"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := e.Finding().String(), "week47.xlsx: error F020: xl/worksheets/sheet2.xml: row 4 stands twice"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	// A problem without arguments is taken as it is.
	if got := Refuse(finding.FileOrder, "a", "", "7 %").Problem; got != "7 %" {
		t.Errorf("got %q, want %q", got, "7 %")
	}
}
