package cell

import (
	"reflect"
	"testing"
	"time"

	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// fuzzCell makes a cell and a context of what the fuzzer gives. Odd kinds make number cells in every format.
func fuzzCell(s string, kind, settled uint8) (sheet.Cell, Context) {
	c := text(s)
	if kind%2 == 1 {
		c = num(s, sheet.Format(kind/2%8))
	}
	x := Context{Default: Unit(settled % 6), DecimalComma: settled&64 != 0, DayFirst: Order(settled % 3), Column: "width"}
	if settled&128 != 0 {
		x.Year, x.Date1904 = 2026, true
	}
	return c, x
}

// oracle checks what holds for every reader: an empty cell gives nothing, any other a value or an error and never both,
// the wording of messages, and the same again the second time.
func oracle(t *testing.T, c sheet.Cell, hasValue bool, ps []Problem, first, second any) {
	t.Helper()
	codes(t, ps)
	switch {
	case Empty(c) && (hasValue || len(ps) > 0):
		t.Errorf("the empty cell %q gave %v %v", c.Text, first, ps)
	case !Empty(c) && !hasValue && !failed(ps):
		t.Errorf("%q gave neither a value nor an error: %v", c.Text, ps)
	case hasValue && failed(ps):
		t.Errorf("%q gave both a value and an error: %v %v", c.Text, first, ps)
	}
	if !reflect.DeepEqual(first, second) {
		t.Errorf("%q was read in two ways: %v and %v", c.Text, first, second)
	}
}

func FuzzLength(f *testing.F) {
	for _, k := range lengthCases {
		f.Add(k.cell.Text, uint8(0), uint8(1))
	}
	for _, cases := range [][]lengthsCase{lengthsCases, thicknessCases} {
		for _, k := range cases {
			f.Add(k.cell.Text, uint8(0), uint8(3))
			f.Add(k.cell.Text, uint8(7), uint8(64+3))
		}
	}
	for _, s := range []string{"1x12x10'", "5/4x6x8", "2 x 6 x 10 (400)", "25x150x3,5 m", "6 @ 1x12x10"} {
		f.Add(s, uint8(0), uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, kind, settled uint8) {
		c, x := fuzzCell(s, kind, settled)
		sane := func(all ...units.Length) {
			for _, l := range all {
				if l < shortest || l > longest {
					t.Errorf("%q gave %d nm, outside %d to %d", s, l, shortest, longest)
				}
			}
		}
		l, ps := Length(c, x)
		again, _ := Length(c, x)
		oracle(t, c, l != 0, ps, l, again)
		if l != 0 {
			sane(l)
		}
		for name, read := range map[string]func(sheet.Cell, Context) ([]units.Length, []Problem){"Lengths": Lengths, "Thickness": Thickness} {
			all, lps := read(c, x)
			again, _ := read(c, x)
			oracle(t, c, len(all) > 0, lps, all, again)
			sane(all...)
			// What is one length is the same length as a list.
			if name == "Lengths" && l != 0 && len(all) > 0 && (len(all) != 1 || all[0] != l) {
				t.Errorf("Length(%q) is %v and Lengths %v", s, l, all)
			}
		}
		size, sps := Size(c, x)
		sizeAgain, _ := Size(c, x)
		oracle(t, c, size.Thickness != 0, sps, size, sizeAgain)
		if size.Thickness != 0 {
			sane(size.Thickness, size.Width)
		}
	})
}

func FuzzReading(f *testing.F) {
	for _, s := range []string{"10.5", "LO", "<6", "under 6", "33+", ">30", "OL", "12/14", "11 11 13", "~10", "10.5?", "about 10", "12, -, 14",
		"10½", "10 1/2", "9,5", "wet", "10-12", "0.105", "LO 6", "11,12,13", "n/a", "not taken", "10,5/11,0"} {
		f.Add(s, uint8(0), uint8(0))
		f.Add(s, uint8(0), uint8(64))
		f.Add(s, uint8(5), uint8(0))
	}
	f.Fuzz(func(t *testing.T, s string, kind, settled uint8) {
		c, x := fuzzCell(s, kind, settled)
		rs, ps := Readings(c, x)
		again, _ := Readings(c, x)
		said := len(rs) > 0
		if c.Kind == sheet.Text && notTaken.MatchString(clean(s)) {
			said = true // in words
		}
		oracle(t, c, said && !failed(ps), ps, rs, again)
		for _, r := range rs {
			if r.State == units.Number && r.MC == 0 || r.MC < 0 || r.MC > 10000 || r.State == units.NotTaken && r != (units.Reading{}) {
				t.Errorf("Readings(%q) gave %+v", s, r)
			}
		}
		for name, read := range readers {
			if name != "Readings" {
				read(c, x) // must not panic
			}
		}
	})
}

func FuzzDate(f *testing.F) {
	for _, s := range []string{"2026-11-24", "11/24/2026", "24.11.2026", "24 Nov 2026", "Nov 24, 2026", "Nov 24", "2026-11-14 15:30", "11/14/2026 3:30 pm",
		"45992", "11/10/2026", "26/11/24", "Nov-24", "Tue Nov 24 2026", "46350.645833333336", "60", "20261124", "11/24", "2026-02-30"} {
		f.Add(s, uint8(0), uint8(0))
		f.Add(s, uint8(0), uint8(129))
		f.Add(s, uint8(7), uint8(0))
		f.Add(s, uint8(9), uint8(128))
	}
	f.Fuzz(func(t *testing.T, s string, kind, settled uint8) {
		c, x := fuzzCell(s, kind, settled)
		got, ps := Date(c, x)
		again, _ := Date(c, x)
		oracle(t, c, !got.IsZero(), ps, got, again)
		if !got.IsZero() && (got.Year() < firstYear || got.Year() > lastYear || got.Location() != time.UTC) {
			t.Errorf("Date(%q) gave %v", s, got)
		}
		DateOrder([]sheet.Cell{c})
	})
}
