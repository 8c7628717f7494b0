package finding

import (
	"slices"
	"strings"
	"testing"
)

func TestColumn(t *testing.T) {
	for col, want := range map[int]string{0: "", 1: "A", 26: "Z", 27: "AA", 52: "AZ", 703: "AAA", 16384: "XFD"} {
		if got := Column(col); got != want {
			t.Errorf("column %d: got %q, want %q", col, got, want)
		}
	}
}

func TestPlace(t *testing.T) {
	tests := []struct {
		p    Place
		want string
	}{
		{Place{"week47.xlsx", "Readings", 14, 4}, "week47.xlsx: Readings!D14"},
		{Place{"week47.xlsx", "Readings", 14, 0}, "week47.xlsx: Readings!row 14"},
		{Place{"week47.xlsx", "Readings", 0, 0}, "week47.xlsx: Readings"},
		{Place{"boards.csv", "", 3, 1}, "boards.csv: A3"},
		{Place{"boards.csv", "", 0, 0}, "boards.csv"},
	}
	for _, tt := range tests {
		if got := tt.p.String(); got != tt.want {
			t.Errorf("%+v: got %q, want %q", tt.p, got, tt.want)
		}
	}
}

func TestSort(t *testing.T) {
	var l List
	l.Add("T001", Place{"w", "B", 3, 1}, "", "", "a")
	l.Add("T001", Place{"w", "A", 9, 1}, "", "", "b")
	l.Add("T001", Place{"w", "B", 2, 5}, "", "", "c")
	l.Add("T001", Place{"w", "B", 2, 1}, "", "", "d")
	l.Sort(map[string]int{"B": 0, "A": 1})
	got := ""
	for _, f := range l {
		got += f.Problem
	}
	if got != "dcab" {
		t.Errorf("reading order %q, want dcab", got)
	}
	if l.Count(Error) != 4 || l.Count(Note) != 0 {
		t.Errorf("%d errors and %d notes, want 4 and 0", l.Count(Error), l.Count(Note))
	}
}

// TestKinds: every kind has a code of its own, a meaning and something to do.
func TestKinds(t *testing.T) {
	var codes []Code
	for _, k := range Kinds() {
		if slices.Contains(codes, k.Code) {
			t.Errorf("code %s stands twice", k.Code)
		}
		codes = append(codes, k.Code)
		if len(k.Code) != 4 || !strings.Contains("FCTJS", string(k.Code[:1])) || k.Meaning == "" || k.ToDo == "" {
			t.Errorf("kind %+v lacks something", k)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("an unknown code is our own mistake and must panic")
		}
	}()
	KindOf("X999")
}
