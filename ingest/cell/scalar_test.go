package cell

import (
	"math"
	"testing"

	"drytally/compute/units"
	"drytally/ingest/sheet"
)

type scalarCase struct {
	name  string
	cell  sheet.Cell
	x     Context
	want  float64
	codes string
}

func checkScalars(t *testing.T, name string, cases []scalarCase, read func(sheet.Cell, Context) (float64, []Problem)) {
	t.Helper()
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			got, ps := read(k.cell, k.x)
			// The last binary digit may differ from the decimal written here.
			if c := codes(t, ps); math.Abs(got-k.want) > 1e-9 || c != k.codes {
				t.Errorf("%s(%q): got %v %q, want %v %q; %v", name, k.cell.Text, got, c, k.want, k.codes, ps)
			}
		})
	}
}

func TestTemperature(t *testing.T) {
	var none Context
	f, c := Context{Default: Fahrenheit}, Context{Default: CelsiusUnit}
	checkScalars(t, "Temperature", []scalarCase{
		{"F", text("60 F"), none, 60, ""},
		{"C", text("15 C"), none, 59, ""},
		{"degree sign", text("68°"), f, 68, ""},
		{"degree sign and letter", text("68°F"), c, 68, ""},
		{"one letter", text("20℃"), f, 68, ""},
		{"deg", text("68 deg F"), none, 68, ""},
		{"degrees", text("68 degrees"), f, 68, ""},
		{"words", text("20 degrees Celsius"), none, 68, ""},
		{"joined", text("60f"), none, 60, ""},
		{"bare by default", text("60"), f, 60, ""},
		{"bare by heading", text("20"), Context{Unit: CelsiusUnit, Default: Fahrenheit}, 68, ""},
		{"number", num("60.5", sheet.Decimal), f, 60.5, ""},
		{"negative", text("-5 C"), none, 23, ""},
		{"minus sign", text("−40"), f, -40, ""},
		{"zero", text("0"), c, 32, ""},
		{"half", text("68 1/2 F"), none, 68.5, ""},
		{"about", text("~60 F"), none, 60, "C008"},
		{"doubtful", text("60 F ?"), none, 60, "C008"},
		{"hottest", text("300 F"), none, 300, ""},
		{"no unit", text("60"), none, 0, "C032"},
		{"kelvin", text("293 K"), none, 0, "C023"},
		{"word", text("warm"), f, 0, "C023"},
		{"range", text("60-65 F"), none, 0, "C012"},
		{"two", text("60/65"), f, 0, "C011"},
		{"too hot", text("301 F"), none, 0, "C018"},
		{"too hot in C", text("160 C"), none, 0, "C018"},
		{"too cold", text("-41 F"), none, 0, "C018"},
		{"percent format", num("0.6", sheet.Percent), f, 0, "C023"},
		{"comma", text("20,5 C"), none, 0, "C005"},
		{"comma settled", text("20,5 C"), Context{DecimalComma: true}, 68.9, ""},
	}, func(c sheet.Cell, x Context) (float64, []Problem) {
		got, ps := Temperature(c, x)
		if !got.Known() {
			if !failed(ps) {
				t.Errorf("Temperature(%q): neither value nor problem", c.Text)
			}
			return 0, ps
		}
		return got.Fahrenheit(), ps
	})
}

func TestHumidity(t *testing.T) {
	var x Context
	checkScalars(t, "Humidity", []scalarCase{
		{"bare", text("45"), x, 45, ""},
		{"percent", text("45 %"), x, 45, ""},
		{"rh", text("45% RH"), x, 45, ""},
		{"decimal", text("45.5"), x, 45.5, ""},
		{"percent format", num("0.45", sheet.Percent), x, 45, ""},
		{"full percent format", num("1", sheet.Percent), x, 100, ""},
		{"number", num("45", sheet.General), x, 45, ""},
		{"full-width", text("４５％"), x, 45, ""},
		{"hundred", text("100"), x, 100, ""},
		{"about", text("about 45"), x, 45, "C008"},
		{"part of one", text("0.45"), x, 0, "C017"},
		{"part of one as a number", num("0.45", sheet.General), x, 0, "C017"},
		{"part of one with a sign", text("0.45 %"), x, 0, "C017"},
		{"one", text("1"), x, 0, "C017"},
		{"over", text("101"), x, 0, "C018"},
		{"whole number in percent format", num("45", sheet.Percent), x, 0, "C018"},
		{"negative", text("-5"), x, 0, "C018"},
		{"word", text("damp"), x, 0, "C024"},
		{"range", text("40-50"), x, 0, "C012"},
		{"unit", text("45 F"), x, 0, "C024"},
	}, func(c sheet.Cell, x Context) (float64, []Problem) {
		got, ps := Humidity(c, x)
		return got.Percent(), ps
	})
}

func TestMC(t *testing.T) {
	var x Context
	checkScalars(t, "MC", []scalarCase{
		{"bare", text("8"), x, 8, ""},
		{"percent", text("8 %"), x, 8, ""},
		{"half", text("8 1/2"), x, 8.5, ""},
		{"percent format", num("0.08", sheet.Percent), x, 8, ""},
		{"percent format with noise", num("7.0000000000000007E-2", sheet.Percent), x, 7, ""},
		{"mc", text("12% MC"), x, 12, ""},
		{"green", text("120"), x, 120, ""},
		{"part of one", num("0.08", sheet.General), x, 0, "C017"},
		{"one", num("1", sheet.General), x, 0, "C017"},
		{"zero", text("0"), x, 0, "C018"},
		{"negative", text("-8"), x, 0, "C018"},
		{"too wet", text("301"), x, 0, "C018"},
		{"range", text("6-8 %"), x, 0, "C012"},
		{"word", text("dry"), x, 0, "C024"},
		{"tiny in percent format", num("0.00001", sheet.Percent), x, 0, "C018"},
	}, func(c sheet.Cell, x Context) (float64, []Problem) {
		got, ps := MC(c, x)
		return got.Percent(), ps
	})
}

func TestShare(t *testing.T) {
	var x Context
	checkScalars(t, "Share", []scalarCase{
		{"percent", text("10 %"), x, 0.1, ""},
		{"part of one", text("0.1"), x, 0.1, ""},
		{"in words", text("1 in 10"), x, 0.1, ""},
		{"spelled", text("one in ten"), x, 0.1, ""},
		{"out of", text("1 out of 20"), x, 0.05, ""},
		{"fraction", text("1/10"), x, 0.1, ""},
		{"bare percent", text("10"), x, 0.1, ""},
		{"percent format", num("0.1", sheet.Percent), x, 0.1, ""},
		{"number", num("0.1", sheet.General), x, 0.1, ""},
		{"number in percent", num("15", sheet.General), x, 0.15, ""},
		{"half a percent", text("0.5 %"), x, 0.005, ""},
		{"zero", text("0"), x, 0, ""},
		{"hundred", text("100%"), x, 1, ""},
		{"part of one under a percent heading", text("0.1"), Context{Unit: PercentUnit}, 0, "C017"},
		{"percent under a percent heading", text("10"), Context{Unit: PercentUnit}, 0.1, ""},
		{"over", text("101"), x, 0, "C018"},
		{"in words, over", text("11 in 10"), x, 0, "C018"},
		{"of nothing", text("1 in 0"), x, 0, "C018"},
		{"negative", text("-10%"), x, 0, "C018"},
		{"word", text("some"), x, 0, "C024"},
	}, Share)
}

func TestMass(t *testing.T) {
	none, g := Context{}, Context{Default: Gram}
	checkScalars(t, "Mass", []scalarCase{
		{"thousands", text("4,600 g"), none, 4600, ""},
		{"thousands by default", text("4,600"), g, 4600, ""},
		{"comma file", text("4,600 g"), Context{DecimalComma: true}, 4.6, ""},
		{"grams", text("4600g"), none, 4600, ""},
		{"bare", text("4600"), g, 4600, ""},
		{"number", num("4600", sheet.General), g, 4600, ""},
		{"heading", num("4.6", sheet.General), Context{Unit: Kilogram, Default: Gram}, 4600, ""},
		{"kilograms", text("4.6 kg"), none, 4600, ""},
		{"kilograms and grams", text("4 kg 600 g"), none, 4600, ""},
		// The international pound is 453.59237 g exactly; the milligram is the last figure kept.
		{"pounds", text("10.1 lb"), none, 4581.283, ""},
		{"pound sign", text("10.1#"), none, 4581.283, ""},
		{"pounds and ounces", text("10 lb 2 oz"), none, 4592.623, ""},
		{"pounds and ounces with points", text("10 lbs., 2 oz."), none, 4592.623, ""},
		{"half a pound", text("10 1/2 lb"), none, 4762.720, ""},
		{"ounces", text("16 oz"), none, 453.592, ""},
		{"about", text("~4600 g"), none, 4600, "C008"},
		{"no unit", text("4600"), none, 0, "C032"},
		{"comma in kilograms", text("4,600 kg"), none, 0, "C005"},
		{"too many ounces", text("10 lb 17 oz"), none, 0, "C025"},
		{"ounces without unit", text("10 lb 2"), none, 0, "C025"},
		{"tons", text("2 t"), none, 0, "C025"},
		{"grains or grams", text("46 gr"), none, 0, "C025"},
		{"zero", text("0 g"), none, 0, "C010"},
		{"negative", text("-4 g"), none, 0, "C010"},
		{"negative number", num("-4", sheet.General), g, 0, "C010"},
		{"word", text("heavy"), g, 0, "C025"},
		{"too heavy", text("60000 kg"), none, 0, "C018"},
		{"percent format", num("0.5", sheet.Percent), g, 0, "C034"},
		{"date", num("46146", sheet.Date), g, 0, "C006"},
	}, func(c sheet.Cell, x Context) (float64, []Problem) {
		m, ps := Mass(c, x)
		return float64(m) / float64(units.Gram), ps
	})
}

func TestCount(t *testing.T) {
	var x Context
	checkScalars(t, "Count", []scalarCase{
		{"bare", text("12"), x, 12, ""},
		{"pieces", text("12 pcs"), x, 12, ""},
		{"pieces with point", text("12 pcs."), x, 12, ""},
		{"boards", text("12 boards"), x, 12, ""},
		{"point and zero", text("12.0"), x, 12, ""},
		{"number", num("12", sheet.General), x, 12, ""},
		{"number with point and zero", num("12.0", sheet.General), x, 12, ""},
		{"noise", num("11.999999999999998", sheet.General), x, 12, ""},
		{"thousands", text("1,200"), x, 1200, ""},
		{"thousands and word", text("1,200 pcs"), x, 1200, ""},
		{"zero", text("0"), x, 0, ""},
		{"about", text("~12"), x, 12, "C008"},
		{"half", text("12.5"), x, 0, "C026"},
		{"half a number", num("12.5", sheet.General), x, 0, "C026"},
		{"dozen", text("a dozen"), x, 0, "C026"},
		{"two dozen", text("2 dozen"), x, 0, "C026"},
		{"negative", text("-3"), x, 0, "C018"},
		{"negative number", num("-3", sheet.General), x, 0, "C018"},
		{"too many", num("1e9", sheet.General), x, 0, "C018"},
		{"range", text("10-12"), x, 0, "C012"},
		{"sum", text("10+2"), x, 0, "C026"},
		{"comma", text("1,2"), x, 0, "C005"},
		{"percent format", num("0.12", sheet.Percent), x, 0, "C026"},
		{"date", num("46146", sheet.Date), x, 0, "C006"},
	}, func(c sheet.Cell, x Context) (float64, []Problem) {
		n, ps := Count(c, x)
		return float64(n), ps
	})
}

func TestArea(t *testing.T) {
	none, ft, m := Context{}, Context{Default: SquareFoot}, Context{Default: SquareMetre}
	checkScalars(t, "Area", []scalarCase{
		{"bare feet", text("400"), ft, 400, ""},
		{"sq ft", text("400 sq ft"), none, 400, ""},
		{"sq. ft.", text("400 sq. ft."), none, 400, ""},
		{"sqft", text("400sqft"), none, 400, ""},
		{"raised two", text("400 ft²"), none, 400, ""},
		{"sf", text("400 SF"), none, 400, ""},
		// 40 / 0.09290304 exactly; the square foot is 0.3048 m squared.
		{"m2", text("40 m2"), none, 430.5564166683, ""},
		{"raised m2", text("40 m²"), none, 430.5564166683, ""},
		{"sq m", text("40 sq m"), ft, 430.5564166683, ""},
		{"bare metres", num("40", sheet.General), m, 430.5564166683, ""},
		{"no unit", text("400"), none, 0, "C032"},
		{"feet", text("400 ft"), none, 0, "C027"},
		{"thousands or decimals", text("1,200 sq ft"), none, 0, "C005"},
		{"zero", text("0"), ft, 0, "C010"},
		{"word", text("the barn"), ft, 0, "C027"},
		{"sides", text("20 x 20"), ft, 0, "C027"},
		{"too large", text("2000000"), ft, 0, "C018"},
	}, Area)
}

func TestNumber(t *testing.T) {
	var x Context
	checkScalars(t, "Number", []scalarCase{
		{"decimal", text("2.5"), x, 2.5, ""},
		{"mixed", text("2 1/2"), x, 2.5, ""},
		{"negative", text("-2.5"), x, -2.5, ""},
		{"number", num("2.5", sheet.General), x, 2.5, ""},
		{"comma", text("2,5"), x, 0, "C005"},
		{"comma settled", text("2,5"), Context{DecimalComma: true}, 2.5, ""},
		{"unit", text("2.5 kg"), x, 0, "C028"},
		{"word", text("two"), x, 0, "C028"},
		{"percent format", num("0.5", sheet.Percent), x, 0, "C034"},
		{"exponent text", text("1e3"), x, 0, "C028"},
		{"nan", text("nan"), x, 0, "C028"},
	}, Number)
}
