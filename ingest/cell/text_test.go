package cell

import (
	"testing"

	"drytally/ingest/sheet"
)

func TestText(t *testing.T) {
	format := func(digits, code string) sheet.Cell {
		c := num(digits, sheet.Decimal)
		c.More = &sheet.More{FormatCode: code}
		return c
	}
	for _, k := range []struct {
		name  string
		cell  sheet.Cell
		x     Context
		want  string
		codes string
	}{
		{"plain", text("A12"), Context{}, "A12", ""},
		{"spaces", text("  A  12\u00a0b "), Context{}, "A 12 b", ""},
		{"composed", text("Cafe\u0301"), Context{}, "Café", ""},
		{"line breaks", text("one \n\n two"), Context{}, "one\ntwo", ""},
		{"invisible", text("A\u200b12\ufeff"), Context{}, "A12", ""},
		{"inch mark kept", text(`11 3/8"`), Context{}, `11 3/8"`, ""},
		{"number", num("12", sheet.General), Context{}, "12", ""},
		{"number with point and zero", num("12.0", sheet.General), Context{}, "12", ""},
		{"number with exponent", num("1.2E2", sheet.General), Context{}, "120", ""},
		{"noise", num("0.30000000000000004", sheet.General), Context{}, "0.3", ""},
		{"decimal", num("12.5", sheet.General), Context{}, "12.5", ""},
		{"large", num("1234567890123", sheet.General), Context{}, "1234567890123", ""},
		{"leading zeros", format("7", "000"), Context{}, "007", ""},
		{"two decimals", format("12", "0.00"), Context{}, "12", ""},
		{"percent", num("0.105", sheet.Percent), Context{}, "10.5 %", ""},
		{"fraction", num("11.375", sheet.Fraction), Context{}, "11 3/8", ""},
		{"clock", num("0.645833333333333", sheet.Clock), Context{}, "15:30", ""},
		{"bool", sheet.Cell{Kind: sheet.Bool, Text: "TRUE"}, Context{}, "TRUE", ""},
		{"date", num("46146", sheet.Date), Context{Column: "board"}, "", "C030"},
		{"date and time in a time column", num("46146.645833333333", sheet.DateTime), Context{Column: "time"}, "4 May 2026 15:30", ""},
		{"date in a note", num("46146", sheet.Date), Context{Column: "note"}, "4 May 2026", ""},
	} {
		got, ps := Text(k.cell, k.x)
		if c := codes(t, ps); got != k.want || c != k.codes {
			t.Errorf("%s: Text(%q): got %q %q, want %q %q", k.name, k.cell.Text, got, c, k.want, k.codes)
		}
	}
}

func TestYesNo(t *testing.T) {
	for _, k := range []struct {
		cell       sheet.Cell
		yes, known bool
		codes      string
	}{
		{text("yes"), true, true, ""}, {text("Y"), true, true, ""}, {text("TRUE"), true, true, ""}, {text("✓"), true, true, ""},
		{text("Yes."), true, true, ""}, {num("1", sheet.General), true, true, ""}, {sheet.Cell{Kind: sheet.Bool, Text: "TRUE"}, true, true, ""},
		{text("no"), false, true, ""}, {text("N"), false, true, ""}, {num("0", sheet.General), false, true, ""},
		{sheet.Cell{Kind: sheet.Bool, Text: "FALSE"}, false, true, ""},
		{text("?"), false, false, ""}, {text("don’t know"), false, false, ""}, {text("-"), false, false, ""},
		{text("maybe"), false, false, "C029"}, {text("x"), false, false, "C029"}, {num("2", sheet.General), false, false, "C029"},
	} {
		yes, known, ps := YesNo(k.cell, Context{})
		if c := codes(t, ps); yes != k.yes || known != k.known || c != k.codes {
			t.Errorf("YesNo(%q): got %v %v %q, want %v %v %q", k.cell.Text, yes, known, c, k.yes, k.known, k.codes)
		}
	}
}
