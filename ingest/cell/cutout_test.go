package cell

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/price"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

var cutOutCases = []struct {
	name  string
	cell  sheet.Cell
	x     Context
	want  string
	codes string
}{
	{"a stretch", text("14-20 in"), inches, `14"-20"`, ""},
	{"bare, in inches", text("14-20"), inches, `14"-20"`, ""},
	{"bare, in millimetres", text("400-520"), mm, `400-520 mm`, ""},
	{"with its flaw", text("knot 40-44"), inches, `40"-44"`, ""},
	{"feet and inches", text(`3' from the butt end to 3'6"`), inches, `36"-42"`, ""},
	{"feet and inches, to", text(`3' to 3' 6"`), inches, `36"-42"`, ""},
	{"both in feet", text("3 to 4 ft"), inches, `36"-48"`, ""},
	{"metres", text("1.2-1.4 m"), mm, `1200-1400 mm`, ""},
	{"decimal comma", text("1,2-1,4 m"), comma, `1200-1400 mm`, ""},
	{"mixed numbers", text("11-3/8 - 14 1/2"), inches, `11 3/8"-14 1/2"`, ""},
	{"fractions with marks", text(`11 3/8" to 14 1/2"`), inches, `11 3/8"-14 1/2"`, ""},
	{"unit on the first", text(`14" - 20`), inches, `14"-20"`, ""},
	{"from the end", text("0-6 in"), inches, `0"-6"`, ""},
	{"from the top", text("4-9 in from the top end"), inches, `top 4"-9"`, ""},
	{"several", text("14-20 in; knot 40-44; top 8 in"), inches, `14"-20", 40"-44", top 0"-8"`, ""},
	{"by commas", text("14-20, 40-44"), inches, `14"-20", 40"-44"`, ""},
	{"on two lines", text("14-20 in\nsplit 40-44 in"), inches, `14"-20", 40"-44"`, ""},
	{"an end", text("butt 6 in"), inches, `0"-6"`, ""},
	{"an end with words", text(`end check at the top end 5"`), inches, "", "C041"}, // which end does the first word mean?
	{"a check at an end", text(`check at the top end 5"`), inches, `top 0"-5"`, ""},
	{"off an end", text(`6" off the butt`), inches, `0"-6"`, ""},
	{"both ends", text("both ends 4 in"), inches, `0"-4", top 0"-4"`, ""},
	{"a total", text(`lose 8"`), inches, `total 8"`, ""},
	{"a total in metric", text("lose 200"), mm, `total 200 mm`, ""},
	{"none", text("none"), inches, "", ""},
	{"clear", text("clear"), inches, "", ""},
	{"dash", text("-"), inches, "", ""},
	{"nothing as a number", num("0", sheet.General), inches, "", ""},
	{"about", text("~14-20 in"), inches, `14"-20"`, "C008"},
	{"doubtful", text("14-20?"), inches, `14"-20"`, "C008"},

	{"a place", text(`knot 6" from the butt`), inches, "", "C041"},
	{"one length", text("14 in"), inches, "", "C041"},
	{"a number", num("14", sheet.General), inches, "", "C041"},
	{"a date it was turned into", num("46146", sheet.Date), inches, "", "C041"},
	{"backwards", text("20-14 in"), inches, "", "C041"},
	{"of no length", text("14-14 in"), inches, "", "C041"},
	{"feet to bare", text("3' to 4"), inches, "", "C041"},
	{"bare to feet and inches", text(`3 to 3'6"`), inches, "", "C041"},
	{"feet, dash, inches", text(`3'-6"`), inches, "", "C041"}, // 3 ft 6 in as the trade writes it: one length
	{"an end without a name", text("end check 3 in"), inches, "", "C041"},
	{"other words", text("ugly from 3 on"), inches, "", "C041"},
	{"words alone", text("big knot"), inches, "", "C041"},
	{"total beside a stretch", text("14-20; lose 8"), inches, "", "C041"},
	{"stretch beside a total", text("lose 8; 14-20"), inches, "", "C041"},
	{"two totals", text("lose 8; lose 4"), inches, "", "C041"},
	{"three lengths", text("14-20-30"), inches, "", "C041"},
	{"both ends of a stretch", text("4-9 in both ends"), inches, "", "C041"},
	{"two ends", text("butt 4-9 in top"), inches, "", "C041"},
	{"one good, one not", text("14-20; nasty"), inches, "", "C041"},
	{"sevenths", text("1/7 to 3 in"), inches, "", "C041"},
	{"beyond sense", text("4-900 m"), mm, "", "C041"},
	{"comma in a number", text("14-20,40-44"), inches, "", "C041"},
	{"not calculated", sheet.Cell{NoResult: true}, inches, "", "C001"},
}

func TestCutOut(t *testing.T) {
	for _, k := range cutOutCases {
		t.Run(k.name, func(t *testing.T) {
			got, ps := CutOutOf(k.cell, k.x)
			if s := cutOutWords(got, k.x); s != k.want {
				t.Errorf("%q: got %s, want %s", k.cell.Text, s, k.want)
			}
			if c := codes(t, ps); c != k.codes {
				t.Errorf("%q: got the findings %q, want %q (%+v)", k.cell.Text, c, k.codes, ps)
			}
		})
	}
}

// cutOutWords writes down what was read, in inches or millimetres.
func cutOutWords(c CutOut, x Context) string {
	metric := x.bare() == Millimetre || x.DecimalComma
	one := func(l units.Length) string {
		if metric {
			return fmt.Sprint(l.Millimetres())
		}
		return l.String()
	}
	var all []string
	for _, s := range c.Stretches {
		w := one(s.From) + "-" + one(s.To)
		if s.Top {
			w = "top " + w
		}
		all = append(all, w)
	}
	if c.Total > 0 {
		all = append(all, "total "+one(c.Total))
	}
	if metric && len(all) > 0 {
		all[len(all)-1] += " mm"
	}
	return strings.Join(all, ", ")
}

// TestCutOutWritten: what is written in the way the hint asks for is read as it was meant.
func TestCutOutWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		write := func(n int64) string {
			l := units.Fraction(n, 16)
			return rapid.SampledFrom([]string{l.String(), l.FeetInches(), l.Trade() + " in"}).Draw(t, "as")
		}
		var want CutOut
		var text []string
		for range rapid.IntRange(1, 4).Draw(t, "stretches") {
			from := rapid.Int64Range(1, 2000).Draw(t, "from")
			to := from + rapid.Int64Range(1, 500).Draw(t, "long")
			s := Stretch{From: units.Fraction(from, 16), To: units.Fraction(to, 16), Top: rapid.Bool().Draw(t, "top")}
			w := write(from) + " to " + write(to)
			if s.Top {
				w += " from the top"
			}
			want.Stretches, text = append(want.Stretches, s), append(text, w)
		}
		written := strings.Join(text, "; ")
		got, ps := CutOutOf(sheet.Cell{Kind: sheet.Text, Text: written}, inches)
		if len(ps) > 0 || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: got %+v (%v), want %+v", written, got, ps, want)
		}
	})
}

// FuzzCutOut: whatever stands there, stretches run forward, and nothing comes back beside a finding that it can't be read.
func FuzzCutOut(f *testing.F) {
	for _, k := range cutOutCases {
		f.Add(k.cell.Text, uint8(0), uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, kind, settled uint8) {
		c, x := fuzzCell(s, kind, settled)
		got, ps := CutOutOf(c, x)
		again, _ := CutOutOf(c, x)
		if !reflect.DeepEqual(got, again) {
			t.Errorf("%q: %+v and %+v", s, got, again)
		}
		none := got.Total == 0 && len(got.Stretches) == 0
		for _, p := range ps {
			checkWording(t, p)
			if p.Code != "C008" && !none {
				t.Errorf("%q: %+v with %v", s, got, p)
			}
		}
		for _, r := range got.Stretches {
			if r.From < 0 || r.To <= r.From || r.To > longest || got.Total != 0 {
				t.Errorf("%q: %+v", s, got)
			}
		}
	})
}

// TestCutOutHint: what is proposed for bad wood that can't be read is in the owner's measure, and is read.
func TestCutOutHint(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		x           Context
		unit, other string
	}{{inches, " in", " mm"}, {mm, " mm", " in"}} {
		_, ps := CutOutOf(text("ugly from 3 on"), tt.x)
		if len(ps) != 1 || strings.Contains(ps[0].Hint, tt.other) || !strings.Contains(ps[0].Hint, tt.unit) {
			t.Fatalf("got %v, want one problem with a hint in%s", ps, tt.unit)
		}
		examples := 0
		for _, part := range strings.Split(ps[0].Hint, "; ") {
			if _, after, ok := strings.Cut(part, ": "); ok {
				part = after
			}
			examples++
			if c, ps := CutOutOf(text(part), tt.x); len(ps) > 0 || len(c.Stretches) == 0 && c.Total == 0 {
				t.Errorf("%q of the hint gives %+v and %v", part, c, ps)
			}
		}
		if examples != 6 {
			t.Errorf("%d examples in %q, want 6", examples, ps[0].Hint)
		}
	}
}

// TestPriceHint: a price in a metric book is proposed for a cubic metre.
func TestPriceHint(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		x    Context
		want string
	}{{inches, "write it like 4.50 USD per board foot, "}, {mm, "write it like 900 USD per cubic metre, "}} {
		if _, ps := Price(text("dear"), c.x, price.NotSaid); len(ps) != 1 || !strings.HasPrefix(ps[0].Hint, c.want) {
			t.Errorf("got %v, want a hint that begins with %q", ps, c.want)
		}
	}
}
