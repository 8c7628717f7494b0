package footage

import (
	"strings"
	"testing"

	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/testdata/published"
)

// TestSizeCells checks every size against the copy kept apart, as a fraction and as a decimal.
func TestSizeCells(t *testing.T) {
	rows, sizes := published.ByColumn(t, "dressed_sizes.csv"), Sizes()
	if len(rows) != 178 || len(sizes) != len(rows) {
		t.Fatalf("rows: got %d embedded and %d published, want 178", len(sizes), len(rows))
	}
	for i, r := range rows {
		s := sizes[i]
		if s.Item != r["item"] || s.Dimension != r["dimension"] {
			t.Fatalf("row %d is %s %s, published %s %s", i, s.Item, s.Dimension, r["item"], r["dimension"])
		}
		for _, c := range []struct {
			name, fraction, decimal string
			got                     units.Length
		}{
			{"nominal", "nominal_in", "nominal_dec", s.Nominal}, {"dry", "dry_min_in", "dry_dec", s.Dry},
			{"green", "green_min_in", "green_dec", s.Green}, {"rough dry", "rough_dry_min_in", "rough_dry_dec", s.RoughDry},
			{"rough green", "rough_green_suggested_in", "rough_green_dec", s.RoughGreen},
			{"overall", "overall_dry_in", "overall_dry_dec", s.Overall},
		} {
			if r[c.decimal] == "" {
				if c.got != 0 || r[c.fraction] != "" {
					t.Errorf("%s %v: %s is %v, published a blank", s.Item, s.Nominal, c.name, c.got)
				}
				continue
			}
			if c.got != length(t, r[c.decimal], units.Inch) || c.got.Trade() != r[c.fraction] {
				t.Errorf("%s %v: %s is %v, published %s and %s", s.Item, s.Nominal, c.name, c.got, r[c.fraction], r[c.decimal])
			}
		}
		// What was seen only in a page that quotes the rules is second hand here.
		want := r["status"] == "MEMORY"
		if (s.Source.Status == source.Memory) != want {
			t.Errorf("%s %v: status %v, published %s", s.Item, s.Nominal, s.Source.Status, r["status"])
		}
	}
}

func TestSizesUniqueAndInOrder(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range Sizes() {
		id := s.Item + " " + s.Dimension + " " + s.Nominal.Trade()
		if seen[id] {
			t.Errorf("%s stands twice", id)
		}
		seen[id] = true
		hardwood := strings.HasPrefix(s.Item, "hardwood")
		for _, o := range []struct {
			name     string
			low, top units.Length
		}{{"dry < nominal", s.Dry, s.Nominal}, {"dry < green", s.Dry, s.Green}, {"dry < rough dry", s.Dry, s.RoughDry},
			{"rough dry < rough green", s.RoughDry, s.RoughGreen}, {"face < overall", s.Dry, s.Overall}} {
			if o.low != 0 && o.top != 0 && o.low >= o.top {
				t.Errorf("%s: %s fails: %v and %v", id, o.name, o.low, o.top)
			}
		}
		if hardwood && s.RoughGreen != s.Nominal {
			t.Errorf("%s: rough green hardwood is %v, not nominal", id, s.RoughGreen)
		}
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct {
		name string
		find func(units.Length) (Size, bool)
		in   units.Length
		want string // nominal, empty: no name
	}{
		{"2x thickness", NominalThickness, units.Fraction(3, 2), "2"},
		{"1x thickness", NominalThickness, units.Fraction(3, 4), "1"},
		{"a hair under 3/4", NominalThickness, units.Fraction(3, 4) - 1, "3/4"},
		{"4x", NominalThickness, units.Fraction(7, 2), "4"},
		{"thinner than the table", NominalThickness, units.Fraction(1, 4), ""},
		{"thicker than the table", NominalThickness, 6 * units.Inch, ""},
	} {
		s, ok := c.find(c.in)
		if ok != (c.want != "") || ok && s.Nominal.Trade() != c.want {
			t.Errorf("%s: got %v %v, want %q", c.name, s.Nominal, ok, c.want)
		}
	}
}

func TestQuarters(t *testing.T) {
	for _, c := range []struct {
		in    units.Length
		state State
		want  string
	}{
		{units.Inch, RoughGreen, "4/4"}, {units.Fraction(9, 8), RoughGreen, "4/4"}, {units.Fraction(5, 4), RoughGreen, "5/4"},
		// 4/4 is at least 15/16 kiln dried rough and 13/16 surfaced two sides.
		{units.Fraction(15, 16), RoughDry, "4/4"}, {units.Fraction(15, 16) - 1, RoughDry, "3/4"}, {units.Fraction(13, 16), Surfaced, "4/4"},
		{units.Fraction(15, 8), RoughDry, "8/4"}, {units.Fraction(7, 4), Surfaced, "8/4"},
		{units.Fraction(1, 8), RoughDry, ""}, {5 * units.Inch, RoughDry, ""},
	} {
		s, ok := Quarters(c.in, c.state)
		name, _ := QuartersName(s.Nominal)
		if ok != (c.want != "") || ok && name != c.want {
			t.Errorf("%v in state %d: got %q %v, want %q", c.in, c.state, name, ok, c.want)
		}
	}
	for text, want := range map[string]units.Length{"4/4": units.Inch, "5/4": units.Fraction(5, 4), " 16/4 ": 4 * units.Inch, "3/4": units.Fraction(3, 4)} {
		if got, ok := ParseQuarters(text); !ok || got != want {
			t.Errorf("ParseQuarters(%q): got %v %v", text, got, ok)
		}
	}
	for _, bad := range []string{"", "/4", "4", "17/4", "1/4", "-4/4", "4/8", "5.5/4", "+5/4"} {
		if got, ok := ParseQuarters(bad); ok {
			t.Errorf("ParseQuarters(%q): got %v", bad, got)
		}
	}
	for _, bad := range []units.Length{0, units.Fraction(1, 8), units.Fraction(9, 8), 5 * units.Inch} {
		if got, ok := QuartersName(bad); ok {
			t.Errorf("QuartersName(%v): got %q", bad, got)
		}
	}
}

func TestFraction(t *testing.T) {
	for text, want := range map[string]units.Length{"": 0, "2": 2 * units.Inch, "3/4": units.Fraction(3, 4), "1 11/16": units.Fraction(27, 16)} {
		if got, err := fraction(text); err != nil || got != want {
			t.Errorf("%q: got %v (%v)", text, got, err)
		}
	}
	for _, bad := range []string{"x", "1/0", "1/3", "1 2", "1 1/2 1/4", "-1", "1.5", "1//2"} {
		if got, err := fraction(bad); err == nil {
			t.Errorf("%q: got %v", bad, got)
		}
	}
}

func TestReadSizesIsStrict(t *testing.T) {
	head := "item,dimension,nominal,dry,green,rough_dry,rough_green,overall,status,document\n"
	for name, data := range map[string]string{
		"empty": "", "heading": "item,dimension\na,b\n", "status": head + "boards,thickness,1,3/4,,,,,rumor,PS 20\n",
		"size": head + "boards,thickness,1,3/4x,,,,,seen,PS 20\n", "no document": head + "boards,thickness,1,3/4,,,,,seen,\n",
		"short row": head + "boards,thickness,1\n",
	} {
		if _, err := readSizes(data); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
