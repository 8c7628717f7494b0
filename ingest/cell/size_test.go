package cell

import (
	"testing"

	"drytally/compute/units"
	"drytally/ingest/sheet"
)

func TestSize(t *testing.T) {
	size := func(thick, wide, long units.Length, pieces int) SizeOf { return SizeOf{thick, wide, long, pieces} }
	in, ft := func(n, d int64) units.Length { return inch(n, d) }, func(n int64) units.Length { return inch(12*n, 1) }
	m := units.Length(units.Millimetre)
	for _, k := range []struct {
		name  string
		cell  sheet.Cell
		x     Context
		want  SizeOf
		codes string
	}{
		{"foot mark", text("1x12x10'"), inches, size(in(1, 1), in(12, 1), ft(10), 0), ""},
		{"quarters, bare feet", text("5/4x6x8"), inches, size(in(5, 4), in(6, 1), ft(8), 0), ""},
		{"pieces in brackets", text("2 x 6 x 10 (400)"), inches, size(in(2, 1), in(6, 1), ft(10), 400), ""},
		{"pieces with a word", text("2 x 6 x 10, 400 pcs"), inches, size(in(2, 1), in(6, 1), ft(10), 400), ""},
		{"pieces first", text("400 pcs 1x6x8"), inches, size(in(1, 1), in(6, 1), ft(8), 400), ""},
		{"pieces at", text("6 @ 1x12x10"), inches, size(in(1, 1), in(12, 1), ft(10), 6), ""},
		{"metric", text("25x150x3000"), mm, size(25*m, 150*m, 3000*m, 0), ""},
		{"metric with unit", text("25x150x3000 mm"), inches, size(25*m, 150*m, 3000*m, 0), ""},
		{"metric, length in metres", text("25 x 150 x 3,5 m"), comma, size(25*m, 150*m, 3500*m, 0), ""},
		{"units joined", text("25mmx150mmx3m"), inches, size(25*m, 150*m, 3000*m, 0), ""},
		{"two parts", text("3/4 x 3 1/4"), inches, size(in(3, 4), in(13, 4), 0, 0), ""},
		{"two parts with marks", text(`3/4" x 3-1/4"`), inches, size(in(3, 4), in(13, 4), 0, 0), ""},
		{"times sign", text("1 × 12 × 10′"), inches, size(in(1, 1), in(12, 1), ft(10), 0), ""},
		{"by", text("1 by 12 by 10 ft"), inches, size(in(1, 1), in(12, 1), ft(10), 0), ""},
		{"capital", text("1X12X10"), inches, size(in(1, 1), in(12, 1), ft(10), 0), ""},
		{"star", text("1*12*10"), inches, size(in(1, 1), in(12, 1), ft(10), 0), ""},
		{"marks on sides, bare feet", text(`1"x12"x10`), inches, size(in(1, 1), in(12, 1), ft(10), 0), ""},
		{"all in inches", text(`1x12x120"`), inches, size(in(1, 1), in(12, 1), in(120, 1), 0), ""},
		{"feet and inches", text(`1 x 6 x 10' 6"`), inches, size(in(1, 1), in(6, 1), in(126, 1), 0), ""},
		{"mixed numbers", text("1 1/8x7 1/2x8"), inches, size(in(9, 8), in(15, 2), ft(8), 0), ""},
		{"quarters in a metric sheet", text("5/4 x 150 x 3000"), mm, size(in(5, 4), 150*m, 3000*m, 0), ""},
		{"words", text("1x12x10 rough"), inches, size(in(1, 1), in(12, 1), ft(10), 0), "C009"},
		{"doubtful", text("1x12x10?"), inches, size(in(1, 1), in(12, 1), ft(10), 0), "C008"},

		{"one part", text("5/4"), inches, SizeOf{}, "C014"},
		{"four parts", text("1x2x3x4"), inches, SizeOf{}, "C014"},
		{"thickness and length", text("6 x 10'"), inches, SizeOf{}, "C014"},
		{"nothing between", text("1xx10"), inches, SizeOf{}, "C014"},
		{"words alone", text("misc"), inches, SizeOf{}, "C014"},
		{"number", num("12", sheet.General), inches, SizeOf{}, "C014"},
		{"date", num("46146", sheet.Date), inches, SizeOf{}, "C006"},
		{"bare sides, metric length", text("25x150x3 m"), inches, SizeOf{}, "C032"},
		{"bare length behind an inch heading", text("1x12x10"), Context{Unit: Inch}, SizeOf{}, "C032"},
		{"length less than width", text("25 mm x 300 mm x 240"), mm, SizeOf{}, "C032"},
		{"length of millimetres that are metres", text("25 mm x 150 mm x 3"), mm, SizeOf{}, "C018"},
		{"comma", text("25x150x3,5 m"), mm, SizeOf{}, "C005"},
		{"sevenths", text("1 1/7 x 3 x 8"), inches, SizeOf{}, "C011"},
		{"random lengths", text("1x6xRL"), inches, SizeOf{}, "C014"},
		{"metric figures in an inch sheet", text("25 x 150"), inches, SizeOf{}, "C018"},
		{"metric figures in an inch sheet, with length", text("25x150x3000"), inches, SizeOf{}, "C018"},
		{"inch figures in a metric sheet", text("2x4x8"), mm, SizeOf{}, "C018"},
		{"quarters and bare sides in a metric sheet", text("4/4x8x10"), mm, SizeOf{}, "C018"},
		{"pieces behind feet", text("1 x 12 x 10 ft 400"), inches, SizeOf{}, "C004"},
		{"zero", text("0x12x10"), inches, SizeOf{}, "C010"},
		{"length of a range", text("1x12x8-10"), inches, SizeOf{}, "C014"},
		{"lengths listed", text("1x12x8, 10, 12"), inches, SizeOf{}, "C014"},
	} {
		t.Run(k.name, func(t *testing.T) {
			got, ps := Size(k.cell, k.x)
			if c := codes(t, ps); got != k.want || c != k.codes {
				t.Errorf("Size(%q): got %+v %q, want %+v %q; %v", k.cell.Text, got, c, k.want, k.codes, ps)
			}
		})
	}
}
