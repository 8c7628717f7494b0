package cell

import (
	"testing"

	"drytally/compute/units"
	"drytally/ingest/sheet"
)

func TestReadings(t *testing.T) {
	n := func(mc units.MC) units.Reading { return units.Reading{State: units.Number, MC: mc} }
	low := func(mc units.MC) units.Reading { return units.Reading{State: units.BelowRange, MC: mc} }
	high := func(mc units.MC) units.Reading { return units.Reading{State: units.AboveRange, MC: mc} }
	doubt := func(r units.Reading) units.Reading { r.Doubtful = true; return r }
	rs := func(r ...units.Reading) []units.Reading { return r }
	var x Context
	settled := Context{DecimalComma: true}
	for _, k := range []struct {
		name  string
		cell  sheet.Cell
		x     Context
		want  []units.Reading
		codes string
	}{
		{"decimal", text("10.5"), x, rs(n(1050)), ""},
		{"whole", text("12"), x, rs(n(1200)), ""},
		{"percent sign", text("12 %"), x, rs(n(1200)), ""},
		{"percent word", text("12.5 percent"), x, rs(n(1250)), ""},
		{"percent and mc", text("12.5% MC"), x, rs(n(1250)), ""},
		{"hundredth", text("10.25"), x, rs(n(1025)), ""},
		{"letter fraction", text("10½"), x, rs(n(1050)), ""},
		{"letter fraction with space", text("10 ¾"), x, rs(n(1075)), ""},
		{"trailing point", text("10."), x, rs(n(1000)), ""},
		{"low mark", text("LO"), x, rs(low(0)), ""},
		{"low word", text("low"), x, rs(low(0)), ""},
		{"low mark with points", text("L.O."), x, rs(low(0)), ""},
		{"less sign", text("<6"), x, rs(low(600)), ""},
		{"less sign and space", text("< 6 %"), x, rs(low(600)), ""},
		{"full-width less sign", text("＜６"), x, rs(low(600)), ""},
		{"under", text("under 6"), x, rs(low(600)), ""},
		{"below", text("Below 7"), x, rs(low(700)), ""},
		{"less than", text("less than 6.5"), x, rs(low(650)), ""},
		{"under range", text("under range"), x, rs(low(0)), ""},
		{"plus", text("33+"), x, rs(high(3300)), ""},
		{"plus and space", text("33 +"), x, rs(high(3300)), ""},
		{"greater sign", text(">30"), x, rs(high(3000)), ""},
		{"high mark", text("OL"), x, rs(high(0)), ""},
		{"high mark with points", text("O.L."), x, rs(high(0)), ""},
		{"high mark with slash", text("O/L"), x, rs(high(0)), ""},
		{"high", text("HI"), x, rs(high(0)), ""},
		{"high word", text("High"), x, rs(high(0)), ""},
		{"over", text("over 30"), x, rs(high(3000)), ""},
		{"more than", text("more than 30"), x, rs(high(3000)), ""},
		{"over range", text("over-range"), x, rs(high(0)), ""},
		{"two apart by a slash", text("12/14"), x, rs(n(1200), n(1400)), ""},
		{"two apart by a spaced slash", text("12 / 14"), x, rs(n(1200), n(1400)), ""},
		{"marks apart by a slash", text("lo/lo"), x, rs(low(0), low(0)), ""},
		{"points and a comma", text("12.5,13.5"), x, rs(n(1250), n(1350)), ""},
		{"apart by spaces", text("11 11 13"), x, rs(n(1100), n(1100), n(1300)), ""},
		{"apart by commas and spaces", text("11, 11.5, 13"), x, rs(n(1100), n(1150), n(1300)), ""},
		{"apart by commas", text("11,12,13"), x, rs(n(1100), n(1200), n(1300)), ""},
		{"apart by semicolons", text("10.5;11"), x, rs(n(1050), n(1100)), ""},
		{"apart by line breaks", text("10.5\n11\r\n12"), x, rs(n(1050), n(1100), n(1200)), ""},
		{"apart by and", text("10 and 12"), x, rs(n(1000), n(1200)), ""},
		{"apart by an ampersand", text("10 & 12"), x, rs(n(1000), n(1200)), ""},
		{"marks in a list", text("LO, 12"), x, rs(low(0), n(1200)), ""},
		{"marks alone in a list", text("LO LO"), x, rs(low(0), low(0)), ""},
		{"one not taken in a list", text("12, -, 14"), x, rs(n(1200), units.Reading{}, n(1400)), ""},
		{"n/a in a list", text("12; n/a; 14"), x, rs(n(1200), units.Reading{}, n(1400)), ""},
		{"tilde", text("~10"), x, rs(doubt(n(1000))), ""},
		{"question mark", text("10.5?"), x, rs(doubt(n(1050))), ""},
		{"question mark apart", text("10.5 ?"), x, rs(doubt(n(1050))), ""},
		{"about", text("about 10"), x, rs(doubt(n(1000))), ""},
		{"approx.", text("approx. 10"), x, rs(doubt(n(1000))), ""},
		{"doubtful low", text("LO?"), x, rs(doubt(low(0))), ""},
		{"doubtful limit", text("<6?"), x, rs(doubt(low(600))), ""},
		{"doubtful plus", text("33.0+?"), x, rs(doubt(high(3300))), ""},
		{"decimal comma settled", text("10,5"), settled, rs(n(1050)), ""},
		{"decimal commas in a list", text("10,5/11,0"), settled, rs(n(1050), n(1100)), ""},
		{"not taken", text("not taken"), x, nil, ""},
		{"number", num("10.5", sheet.General), x, rs(n(1050)), ""},
		{"number with noise", num("10.499999999999998", sheet.General), x, rs(n(1050)), ""},
		{"percent format", num("0.105", sheet.Percent), x, rs(n(1050)), ""},
		{"percent format with noise", num("7.0000000000000007E-2", sheet.Percent), x, rs(n(700)), ""},
		{"text format number", num("10", sheet.AsText), x, rs(n(1000)), ""},
		{"one, the lowest number", text("1"), x, rs(n(100)), ""},
		{"a hundred, the highest", text("100"), x, rs(n(10000)), ""},

		{"comma not settled", text("9,5"), x, nil, "C005"},
		{"two or a decimal", text("12,14"), x, nil, "C005"},
		{"wet", text("wet"), x, nil, "C016"},
		{"dry", text("Dry"), x, nil, "C016"},
		{"still wet", text("still wet"), x, nil, "C016"},
		{"number and wet", text("14 wet"), x, nil, "C016"},
		{"range", text("10-12"), x, nil, "C012"},
		{"range with spaces", text("10 - 12"), x, nil, "C012"},
		{"range with to", text("10 to 12"), x, nil, "C012"},
		{"torn fraction", text("10 1/2"), x, nil, "C015"},
		{"lost point", text("10 5"), x, nil, "C015"},
		{"spaces and slash", text("12/14 11"), x, nil, "C015"},
		{"mark and number", text("LO 6"), x, nil, "C015"},
		{"word", text("broken"), x, nil, "C015"},
		{"number and word", text("12 end"), x, nil, "C015"},
		{"average", text("avg 12"), x, nil, "C015"},
		{"both marks", text("<33+"), x, nil, "C015"},
		{"lone sign", text("<"), x, nil, "C015"},
		{"lone question mark", text("?"), x, nil, "C015"},
		{"less or equal", text("≤6"), x, nil, "C015"},
		{"letter O", text("1O.5"), x, nil, "C015"},
		{"two points", text("10..5"), x, nil, "C012"},
		{"three points", text("1.0.5"), x, nil, "C015"},
		{"minus behind", text("6-"), x, nil, "C015"},
		{"exponent", text("1e1"), x, nil, "C015"},
		{"negative", text("-5"), x, nil, "C010"},
		{"zero", text("0"), x, nil, "C010"},
		{"negative number", num("-5", sheet.General), x, nil, "C010"},
		{"part of one", num("0.105", sheet.General), x, nil, "C017"},
		{"part of one as text", text("0.105"), x, nil, "C017"},
		{"lost point", text("105"), x, nil, "C018"},
		{"whole number in percent format", num("10.5", sheet.Percent), x, nil, "C018"},
		{"date of 12/11", num("46337", sheet.Date), x, nil, "C006"},
		{"clock", num("0.5", sheet.Clock), x, nil, "C006"},
	} {
		t.Run(k.name, func(t *testing.T) {
			got, ps := Readings(k.cell, k.x)
			if c := codes(t, ps); len(got) != len(k.want) || c != k.codes {
				t.Fatalf("Readings(%q): got %v %q, want %v %q; %v", k.cell.Text, got, c, k.want, k.codes, ps)
			}
			for i := range got {
				if got[i] != k.want[i] {
					t.Errorf("Readings(%q): got %+v, want %+v", k.cell.Text, got, k.want)
				}
			}
		})
	}
}
