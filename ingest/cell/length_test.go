package cell

import (
	"testing"

	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// inch gives n/d inches; 64ths and thousandths of an inch are whole nanometres (25 400 000 / 64 = 396 875).
func inch(n, d int64) units.Length { return units.Fraction(n, d) }

type lengthCase struct {
	name  string
	cell  sheet.Cell
	x     Context
	want  units.Length
	codes string
}

var (
	inches = Context{Default: Inch, Column: "width"}
	feet   = Context{Default: Foot, Column: "length"}
	mm     = Context{Default: Millimetre, Column: "width"}
	comma  = Context{Default: Millimetre, DecimalComma: true, Column: "width"}
)

var lengthCases = []lengthCase{
	{"hyphen", text("11-3/8"), inches, inch(91, 8), ""},
	{"space and mark", text(`11 3/8"`), inches, inch(91, 8), ""},
	{"decimal", text("11.375"), inches, inch(91, 8), ""},
	{"unit word", text("11 3/8 in"), inches, inch(91, 8), ""},
	{"unit word with point", text("11 3/8 in."), inches, inch(91, 8), ""},
	{"inches", text("7 INCHES"), inches, inch(7, 1), ""},
	{"feet and inches", text(`10' 6"`), inches, inch(126, 1), ""},
	{"feet and inches without space", text(`10'6"`), inches, inch(126, 1), ""},
	{"feet, hyphen, mixed inches", text(`10'-6 1/2"`), inches, inch(253, 2), ""},
	{"feet, spaced hyphen", text(`10' - 6"`), feet, inch(126, 1), ""},
	{"feet and bare inches", text("10' 6"), feet, inch(126, 1), ""},
	{"words", text("10 ft 6 in"), inches, inch(126, 1), ""},
	{"words with comma", text("10 ft, 6 in"), inches, inch(126, 1), ""},
	{"words with and", text("10 feet and 6 inches"), inches, inch(126, 1), ""},
	{"feet joined", text("10ft"), inches, inch(120, 1), ""},
	{"hyphened unit", text("10-foot"), inches, inch(120, 1), ""},
	{"feet and no inches", text(`10' 0"`), feet, inch(120, 1), ""},
	{"no feet", text(`0' 9"`), feet, inch(9, 1), ""},
	{"half a foot", text("10 1/2 ft"), inches, inch(126, 1), ""},
	{"third of a foot", text("10 1/3'"), inches, inch(124, 1), ""},
	{"bare feet", text("10"), feet, inch(120, 1), ""},
	{"decimal feet", text("10.5"), feet, inch(126, 1), ""},
	{"inch mark in a foot column", text(`96"`), feet, inch(96, 1), ""},
	{"two single marks", text("6' 6''"), feet, inch(78, 1), ""},
	{"millimetres", text("289 mm"), inches, 289 * units.Millimetre, ""},
	{"millimetres joined", text("289mm"), inches, 289 * units.Millimetre, ""},
	{"metres", text("0.2 m"), inches, 200 * units.Millimetre, ""},
	{"metres and centimetres", text("3 m 20 cm"), mm, 3200 * units.Millimetre, ""},
	{"centimetres", text("28.9 cm"), inches, 289 * units.Millimetre, ""},
	{"decimal comma settled", text("28,9 cm"), comma, 289 * units.Millimetre, ""},
	{"comma thousands in a comma file", text("1.234,5"), comma, 12345 * 100 * units.Micrometre, ""},
	{"thousands and point", text("1,234.5"), mm, 12345 * 100 * units.Micrometre, ""},
	{"unit of the heading", text("28"), Context{Unit: Millimetre, Default: Inch}, 28 * units.Millimetre, ""},
	{"own unit over the heading", text(`1 1/8"`), Context{Unit: Millimetre, Default: Inch}, inch(9, 8), ""},
	{"letter fraction", text("⅜"), inches, inch(3, 8), ""},
	{"letter fraction behind a whole number", text("11⅜"), inches, inch(91, 8), ""},
	{"letter fraction behind a space", text("11 ⅜″"), inches, inch(91, 8), ""},
	{"raised and lowered", text("11 ³⁄₁₆"), inches, inch(179, 16), ""},
	{"raised joined", text("11³⁄₁₆"), inches, inch(179, 16), ""},
	{"fraction slash", text("11 3⁄8"), inches, inch(91, 8), ""},
	{"primes", text("10′ 6″"), inches, inch(126, 1), ""},
	{"curly quotes", text("10’ 6”"), inches, inch(126, 1), ""},
	{"spaced slash", text("1 1 / 8"), inches, inch(9, 8), ""},
	{"slash spaced on one side", text("1 1/ 8"), inches, inch(9, 8), ""},
	{"spaced hyphen", text("1 - 1/8"), inches, inch(9, 8), ""},
	{"en dash", text("1–1/8"), inches, inch(9, 8), ""},
	{"and", text("11 and 3/8"), inches, inch(91, 8), ""},
	{"improper", text("9/8"), inches, inch(9, 8), ""},
	{"full-width", text("１１　３／８"), inches, inch(91, 8), ""},
	{"no-break space", text("11\u00a03/8\u202f\""), inches, inch(91, 8), ""},
	{"leading point", text(".75"), inches, inch(3, 4), ""},
	{"trailing point", text("11."), inches, inch(11, 1), ""},
	{"kept as text by an apostrophe", text("'5/4"), inches, inch(5, 4), ""},
	{"many digits", text("0.30000000000000004"), inches, inch(3, 10), ""},
	{"tenths", text("3/10"), inches, inch(3, 10), ""},
	{"line break behind", text("11 3/8\n"), inches, inch(91, 8), ""},

	{"number", num("11.375", sheet.General), inches, inch(91, 8), ""},
	{"number in fraction format", num("11.375", sheet.Fraction), inches, inch(91, 8), ""},
	{"number with exponent", num("1.125E0", sheet.General), inches, inch(9, 8), ""},
	{"small number with exponent", num("1.125E-1", sheet.General), inches, inch(9, 80), ""},
	{"binary noise", num("0.30000000000000004", sheet.General), inches, inch(3, 10), ""},
	{"binary noise below", num("7.2499999999999991", sheet.General), inches, inch(29, 4), ""},
	{"whole number with point", num("10.0", sheet.Decimal), feet, inch(120, 1), ""},

	{"about", text("~1 1/8"), inches, inch(9, 8), "C008"},
	{"about word", text("about 1 1/8"), inches, inch(9, 8), "C008"},
	{"question mark", text(`1 1/8"?`), inches, inch(9, 8), "C008"},
	{"scant", text("1 1/8 scant"), inches, inch(9, 8), "C008"},
	{"plus behind", text("1 1/8+"), inches, inch(9, 8), "C008"},
	{"plus or minus", text("1 1/8 +/-"), inches, inch(9, 8), "C008"},
	{"word behind", text("11 3/8 rough"), inches, inch(91, 8), "C009"},
	{"word in brackets", text("11 3/8 (green)"), inches, inch(91, 8), "C009"},
	{"words behind a unit", text(`11 3/8" broken end`), inches, inch(91, 8), "C009"},

	{"comma not settled", text("1,234"), inches, 0, "C005"},
	{"comma decimal not settled", text("28,9 cm"), inches, 0, "C005"},
	{"thousands point in a comma file", text("1.234"), comma, 0, "C005"},
	{"negative", text("-3"), inches, 0, "C010"},
	{"negative with mark", text(`−3/4"`), inches, 0, "C010"},
	{"zero", text("0"), inches, 0, "C010"},
	{"zero number", num("0", sheet.General), inches, 0, "C010"},
	{"negative number", num("-1.5", sheet.General), inches, 0, "C010"},
	{"not a number", text("NaN"), inches, 0, "C004"},
	{"infinite", text("Inf"), inches, 0, "C004"},
	{"infinity", text("∞"), inches, 0, "C004"},
	{"exponent text", text("1e3"), inches, 0, "C004"},
	{"exponent text with point", text("1.5E+3"), inches, 0, "C004"},
	{"sevenths", text("11 3/7"), inches, 0, "C011"},
	{"thirds of an inch", text("1 1/3"), inches, 0, "C011"},
	{"third letter", text("1⅓"), inches, 0, "C011"},
	{"zero below", text("1/0"), inches, 0, "C011"},
	{"improper behind a whole number", text("1 9/8"), inches, 0, "C011"},
	{"decimal in a fraction", text("1.5/8"), inches, 0, "C011"},
	{"too long", text("400 ft"), inches, 0, "C018"},
	{"too long a number", num("1e30", sheet.General), inches, 0, "C018"},
	{"too short", text("0.00001"), inches, 0, "C018"},
	{"range", text("10-12"), inches, 0, "C012"},
	{"range with to", text("10 to 12"), inches, 0, "C012"},
	{"two values", text("10 12"), inches, 0, "C012"},
	{"several values", text("1 1/16, 1 3/32"), inches, 0, "C012"},
	{"feet and too many inches", text(`5' 14"`), inches, 0, "C004"},
	{"word", text("wide"), inches, 0, "C004"},
	{"unknown unit", text("11 yd"), inches, 0, "C013"},
	{"misspelt unit", text("289 milimeter"), inches, 0, "C013"},
	{"words that change the figure", text(`11" less kerf`), inches, 0, "C004"},
	{"nominal", text(`2" nominal`), inches, 0, "C004"},
	{"two points", text("1.2.3"), inches, 0, "C004"},
	{"raised digit", text("11²"), inches, 0, "C004"},
	{"other digits", text("١١"), inches, 0, "C004"},
	{"letter for a figure", text("1O"), inches, 0, "C013"},
	{"no unit anywhere", text("11"), Context{}, 0, "C032"},
	{"fraction of an inch in a metric column", text("1 1/8"), mm, 0, "C032"},
	{"date", num("46350", sheet.Date), inches, 0, "C006"},
	{"clock", num("0.5", sheet.Clock), inches, 0, "C006"},
	{"stored exponent", num("1e999", sheet.General), inches, 0, "C031"},
	{"percent", num("0.5", sheet.Percent), inches, 0, "C034"},
}

func TestLength(t *testing.T) {
	for _, k := range lengthCases {
		t.Run(k.name, func(t *testing.T) {
			got, ps := Length(k.cell, k.x)
			if c := codes(t, ps); got != k.want || c != k.codes {
				t.Errorf("Length(%q): got %d nm %q, want %d nm %q; %v", k.cell.Text, got, c, k.want, k.codes, ps)
			}
		})
	}
}

// TestNone: a flat board has a cup of 0 and a mill may cut nothing off its edges; elsewhere 0 is no length.
func TestNone(t *testing.T) {
	for _, col := range []string{"cup", "bow", "crook", "twist", "planing per face", "edge cut", "end trim"} {
		for _, c := range []sheet.Cell{text("0"), text(`0"`), text("none"), num("0", sheet.General), num("0.0", sheet.Fraction)} {
			if got, ps := Length(c, Context{Default: Inch, Column: col}); got != 0 || len(ps) != 0 {
				t.Errorf("Length(%q) of %s: got %v %v, want 0 and no problem", c.Text, col, got, ps)
			}
		}
		if _, ps := Length(text("bad"), Context{Default: Inch, Column: col}); !failed(ps) {
			t.Errorf("Length(\"bad\") of %s gave a value", col)
		}
	}
}

type lengthsCase struct {
	name  string
	cell  sheet.Cell
	x     Context
	want  []units.Length
	codes string
}

var lengthsCases = []lengthsCase{
	{"one", text("1 1/16"), inches, []units.Length{inch(17, 16)}, ""},
	{"comma and space", text("1 1/16, 1 3/32"), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"comma alone", text("1 1/16,1 3/32"), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"semicolon", text("1 1/16; 1 3/32"), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"line break", text("1 1/16\n1 3/32"), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"spaced slash", text("1 1/16 / 1 3/32"), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"spaces alone", text("1 1/16 1 3/32"), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"marks", text(`1 1/16" 1 3/32"`), inches, []units.Length{inch(17, 16), inch(35, 32)}, ""},
	{"slashes and unit", text("27/27/28 mm"), inches, []units.Length{27e6, 27e6, 28e6}, ""},
	{"spaced slashes", text("27 / 27 / 28"), mm, []units.Length{27e6, 27e6, 28e6}, ""},
	{"commas without spaces", text("27,27,28"), mm, []units.Length{27e6, 27e6, 28e6}, ""},
	{"spaces in millimetres", text("27 27 28"), mm, []units.Length{27e6, 27e6, 28e6}, ""},
	{"decimals", text("1.06 1.09 1.1"), inches, []units.Length{inch(106, 100), inch(109, 100), inch(11, 10)}, ""},
	{"ampersand", text("1 & 1 1/16"), inches, []units.Length{inch(1, 1), inch(17, 16)}, ""},
	{"units each", text("27mm, 28mm"), inches, []units.Length{27e6, 28e6}, ""},
	{"decimal commas", text("27,5 / 27,0 / 28,5"), comma, []units.Length{275e5, 27e6, 285e5}, ""},
	{"doubtful one", text("27, 28?, 27"), mm, []units.Length{27e6, 28e6, 27e6}, "C008"},
	{"trailing comma", text("1 1/16,"), inches, []units.Length{inch(17, 16)}, ""},
	{"points and a comma", text("1.06,1.09"), inches, []units.Length{inch(106, 100), inch(109, 100)}, ""},
	{"fractions", text("3/4, 13/16"), inches, []units.Length{inch(3, 4), inch(13, 16)}, ""},

	{"lost slash", text("5 4"), inches, nil, "C012"},
	{"torn fraction", text("1 1 8"), inches, nil, "C012"},
	{"far apart", text("11, 3/8"), inches, nil, "C033"},
	{"dated slashes", text("1/2/3"), inches, nil, "C033"},
	{"comma between two", text("27,28"), mm, nil, "C005"},
	{"range", text("27-28"), mm, nil, "C012"},
	{"one bad", text("1 1/16, bad"), inches, nil, "C013"},
	{"odd fraction", text("27/28 mm"), mm, nil, "C011"},
	{"date", num("46146", sheet.Date), inches, nil, "C006"},
}

func TestLengths(t *testing.T) {
	for _, k := range lengthsCases {
		t.Run(k.name, func(t *testing.T) { k.check(t, "Lengths", Lengths) })
	}
}

func (k lengthsCase) check(t *testing.T, name string, read func(sheet.Cell, Context) ([]units.Length, []Problem)) {
	t.Helper()
	got, ps := read(k.cell, k.x)
	if c := codes(t, ps); len(got) != len(k.want) || c != k.codes {
		t.Fatalf("%s(%q): got %v %q, want %v %q; %v", name, k.cell.Text, got, c, k.want, k.codes, ps)
	}
	for i := range got {
		if got[i] != k.want[i] {
			t.Errorf("%s(%q): got %v, want %v", name, k.cell.Text, got, k.want)
		}
	}
}
