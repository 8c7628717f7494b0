package cell

import (
	"strings"
	"testing"
	"time"
	"unicode"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// text makes a text cell.
func text(s string) sheet.Cell { return sheet.Cell{Row: 4, Col: 2, Kind: sheet.Text, Text: s} }

// num makes a number cell from its stored digits.
func num(digits string, f sheet.Format) sheet.Cell {
	c := sheet.Cell{Row: 4, Col: 2, Kind: sheet.Number, Text: digits, Format: f}
	if v, ok := stored(c); ok {
		c.Number = float(v)
	}
	return c
}

// codes writes the codes of problems in order, apart by spaces, and checks their wording.
func codes(t *testing.T, ps []Problem) string {
	t.Helper()
	var all []string
	for _, p := range ps {
		all = append(all, string(p.Code))
		checkWording(t, p)
	}
	return strings.Join(all, " ")
}

// checkWording holds a problem to the house's way of writing: lower case at the start, no full stop at the end, a hint.
func checkWording(t *testing.T, p Problem) {
	t.Helper()
	for _, s := range []string{p.Problem, p.Hint} {
		if s == "" || strings.HasSuffix(s, ".") || unicode.IsUpper([]rune(s)[0]) {
			t.Errorf("code %s: %q is empty, begins with a capital or ends with a full stop", p.Code, s)
		}
	}
	finding.KindOf(p.Code) // panics for a code that is in no list
}

// failed reports whether problems leave no value.
func failed(ps []Problem) bool {
	for _, p := range ps {
		if finding.KindOf(p.Code).Severity == finding.Error {
			return true
		}
	}
	return false
}

func TestEmpty(t *testing.T) {
	for _, s := range []string{"", " ", "\u00a0 ", "-", "--", "—", "–", "n/a", "N/A", "na", "NA", "n.a.", "\u200b", "---"} {
		if !Empty(text(s)) {
			t.Errorf("Empty(%q) = false, want true", s)
		}
	}
	for _, s := range []string{"0", ".", "none", "x", "-1", "?", `"`, "nab"} {
		if Empty(text(s)) {
			t.Errorf("Empty(%q) = true, want false", s)
		}
	}
	if !Empty(sheet.Cell{}) || !Empty(sheet.Cell{Formula: true, NoResult: true}) {
		t.Error("a blank cell and a formula without result must be empty")
	}
	if Empty(num("0", sheet.General)) {
		t.Error("the number 0 must not be empty")
	}
}

func TestDitto(t *testing.T) {
	for _, s := range []string{`"`, "″", "''", "”", "“", "do.", "do", "Ditto", "same", "DITTO ", "same as above", "〃"} {
		if !Ditto(text(s)) {
			t.Errorf("Ditto(%q) = false, want true", s)
		}
	}
	for _, s := range []string{"", "-", "1", "dot", `1"`, "'"} {
		if Ditto(text(s)) {
			t.Errorf("Ditto(%q) = true, want false", s)
		}
	}
	if Ditto(num("1", sheet.General)) {
		t.Error("a number must not be a ditto mark")
	}
}

// readers are all readers, told only by whether a value was refused.
var readers = map[string]func(sheet.Cell, Context) []Problem{
	"Length":      func(c sheet.Cell, x Context) []Problem { _, p := Length(c, x); return p },
	"Lengths":     func(c sheet.Cell, x Context) []Problem { _, p := Lengths(c, x); return p },
	"Thickness":   func(c sheet.Cell, x Context) []Problem { _, p := Thickness(c, x); return p },
	"Size":        func(c sheet.Cell, x Context) []Problem { _, p := Size(c, x); return p },
	"Readings":    func(c sheet.Cell, x Context) []Problem { _, p := Readings(c, x); return p },
	"Date":        func(c sheet.Cell, x Context) []Problem { _, p := Date(c, x); return p },
	"Temperature": func(c sheet.Cell, x Context) []Problem { _, p := Temperature(c, x); return p },
	"Humidity":    func(c sheet.Cell, x Context) []Problem { _, p := Humidity(c, x); return p },
	"MC":          func(c sheet.Cell, x Context) []Problem { _, p := MC(c, x); return p },
	"Share":       func(c sheet.Cell, x Context) []Problem { _, p := Share(c, x); return p },
	"Mass":        func(c sheet.Cell, x Context) []Problem { _, p := Mass(c, x); return p },
	"Count":       func(c sheet.Cell, x Context) []Problem { _, p := Count(c, x); return p },
	"Area":        func(c sheet.Cell, x Context) []Problem { _, p := Area(c, x); return p },
	"Openings":    func(c sheet.Cell, x Context) []Problem { _, p := Openings(c, x); return p },
	"Number":      func(c sheet.Cell, x Context) []Problem { _, p := Number(c, x); return p },
	"YesNo":       func(c sheet.Cell, x Context) []Problem { _, _, p := YesNo(c, x); return p },
	"Text":        func(c sheet.Cell, x Context) []Problem { _, p := Text(c, x); return p },
}

func TestCellsWithoutAValue(t *testing.T) {
	for name, read := range readers {
		x := Context{Default: Inch, Column: "width"}
		if got := codes(t, read(sheet.Cell{Formula: true, NoResult: true}, x)); got != "C001" {
			t.Errorf("%s of a formula never calculated: got %q, want C001", name, got)
		}
		if got := codes(t, read(sheet.Cell{Kind: sheet.ErrorValue, Text: "#DIV/0!", Formula: true}, x)); got != "C002" {
			t.Errorf("%s of #DIV/0!: got %q, want C002", name, got)
		}
		for _, c := range []sheet.Cell{{}, text(""), text("  "), text("n/a"), text("—")} {
			if got := codes(t, read(c, x)); got != "" {
				t.Errorf("%s of the empty cell %q: got %q, want no problem", name, c.Text, got)
			}
		}
	}
}

func TestTrueAndFalse(t *testing.T) {
	for name, read := range readers {
		want := "C003"
		switch name {
		case "YesNo", "Text":
			want = ""
		case "Date":
			want = "C019"
		}
		for _, s := range []string{"TRUE", "FALSE"} {
			if got := codes(t, read(sheet.Cell{Kind: sheet.Bool, Text: s}, Context{Default: Inch})); got != want {
				t.Errorf("%s of %s: got %q, want %q", name, s, got, want)
			}
		}
	}
}

// TestDatesAmongFigures: a figure turned into a date by the spreadsheet program is never read as a number.
func TestDatesAmongFigures(t *testing.T) {
	for name, read := range readers {
		want := "C006"
		switch name {
		case "Date":
			want = ""
		case "Text":
			want = "C030"
		case "YesNo":
			want = "C029"
		}
		// 46350 is 24 November 2026: 46023 is 1 January 2026, and 24 November is the 328th day of a common year.
		if got := codes(t, read(num("46350", sheet.Date), Context{Default: Inch})); got != want {
			t.Errorf("%s of a date-styled cell: got %q, want %q", name, got, want)
		}
	}
}

// TestUnusableNumbers: a reader that is handed a stored number no program can have meant refuses it and ends.
func TestUnusableNumbers(t *testing.T) {
	for name, read := range readers {
		for _, s := range []string{"1e999", "NaN", "Inf", "", "1e99999999999", "--1", "0x10", "1_0"} {
			c := sheet.Cell{Kind: sheet.Number, Text: s}
			if ps := read(c, Context{Default: Inch}); name != "Text" && !failed(ps) {
				t.Errorf("%s of the stored number %q gave a value", name, s)
			}
		}
	}
}

func TestKindsAreUnique(t *testing.T) {
	seen := map[finding.Code]bool{}
	for _, k := range finding.Kinds() {
		if seen[k.Code] {
			t.Errorf("code %s stands twice", k.Code)
		}
		seen[k.Code] = true
		if k.Meaning == "" || k.ToDo == "" {
			t.Errorf("code %s has no meaning or nothing to do", k.Code)
		}
	}
}

// TestLongTexts: a cell made to take long is refused at once. 32 767 is the longest text of a cell.
func TestLongTexts(t *testing.T) {
	for _, piece := range []string{"'", "1 ", "1/", "1,", "1.", "a", "~", "x1", "<", "-", "½", "１", "\n1", "(1", "1'"} {
		c := text("1" + strings.Repeat(piece, sheet.MaxTextLength/len(piece)))
		start := time.Now()
		for name, read := range readers {
			if ps := read(c, Context{Default: Inch}); name != "Text" && !failed(ps) {
				t.Errorf("%s of a text of %d times %q gave a value", name, sheet.MaxTextLength/len(piece), piece)
			}
		}
		Ditto(c)
		DateOrder([]sheet.Cell{c})
		// Sixteen readers take some 10 ms together; the bound only catches what grows with the square of the length.
		if took := time.Since(start); took > 10*time.Second {
			t.Errorf("a text of many %q took %v", piece, took)
		}
	}
}
