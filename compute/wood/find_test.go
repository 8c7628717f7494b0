package wood

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/source"
)

func names(list []Species) []string {
	var out []string
	for _, s := range list {
		out = append(out, s.Name)
	}
	return out
}

func TestFindSettled(t *testing.T) {
	for _, c := range []struct {
		written string
		kind    MatchKind
		want    string
	}{
		{"white ash", Found, "white ash"},
		{"White Ash", Found, "white ash"},
		{"ash, white", Found, "white ash"},
		{"  ASH -- WHITE ", Found, "white ash"},
		{"white ashes", Found, "white ash"},
		{"white\u00a0ash lumber", Found, "white ash"},
		{"eastern white pine", Found, "eastern white pine"},
		{"E. white pine", Found, "eastern white pine"},
		{"pine, white, eastern", Found, "eastern white pine"},
		{"N. Red Oak", Found, "northern red oak"},
		{"yellow poplar", Found, "yellow-poplar"},
		{"yellowpoplar", Found, "yellow-poplar"},
		{"poplar, yellow", Found, "yellow-poplar"},
		{"tulip poplar", Found, "yellow-poplar"},
		{"eastern red cedar", Found, "eastern redcedar"},
		{"Western Redcedar", Found, "western redcedar"},
		{"W. red-cedar", Found, "western redcedar"},
		{"black cherries", Found, "black cherry"},
		{"bald cypress", Found, "baldcypress"},
		{"box elder", Found, "boxelder"},
		{"American bass wood", Found, "american basswood"},
		{"Sap Gum", Found, "sweetgum"},
		{"SYP", Found, "southern yellow pine (commercial group)"},
		{"Quercus alba", Found, "white oak"},
		{"Juglans nigra", Found, "black walnut"},
		{"douglas fir, coast", Found, "douglas-fir (coast)"},
		{"sassafras", Found, "sassafras"},
		{"poplar", Taken, "yellow-poplar"},
		{"hard maple", Taken, "sugar maple"},
		{"walnut", Taken, "black walnut"},
		{"cypress", Taken, "baldcypress"},
		{"white pine", Taken, "eastern white pine"},
		{"catalpa", Taken, "northern catalpa"},
		// "red oak" and "white oak" alone are the commercial groups, not northern red oak and Quercus alba.
		{"red oak", Taken, "red oak (commercial group)"},
		{"Oak, Red", Taken, "red oak (commercial group)"},
		{"White Oaks", Taken, "white oak (commercial group)"},
		// The trap of Table 13-5: its row "oak, black" is California black oak. Here the name means eastern black oak.
		{"oak, black", Found, "black oak"},
		{"california black oak", Found, "california black oak"},
	} {
		m := Find(c.written, nil)
		if m.Kind != c.kind || m.Species.Name != c.want {
			t.Errorf("Find(%q): got %v %q %v, want %v %q", c.written, m.Kind, m.Species.Name, m.Nearest, c.kind, c.want)
		}
	}
	if s := Find("oak, black", nil).Species; s.Radial != 0.044 || s.Tangential != 0.111 || s.ShrinkageSource.Status != source.Memory {
		t.Errorf("black oak: got %g, %g (%v), want 4.4 and 11.1 %%, memory", s.Radial, s.Tangential, s.ShrinkageSource.Status)
	}
	if m := Find("poplar", nil); !slices.Equal(names(m.Candidates), []string{"balsam poplar"}) || m.NameSource.Status != source.Memory {
		t.Errorf("poplar: got %v, %v", names(m.Candidates), m.NameSource)
	}
}

// TestGrayBirchHasNoTangential: Table 4-3 prints a dash. It is found, and has nothing to compute a flat-sawn width with.
func TestGrayBirchHasNoTangential(t *testing.T) {
	m := Find("gray birch", nil)
	if m.Kind != Found || m.Species.Tangential != 0 || m.Species.Radial != 0.052 {
		t.Errorf("got %v %+v", m.Kind, m.Species)
	}
}

func TestFindAmbiguous(t *testing.T) {
	for _, c := range []struct {
		written string
		among   []string
	}{
		{"oak", []string{"white oak", "northern red oak", "red oak (commercial group)", "live oak"}},
		{"cedar", []string{"eastern redcedar", "western redcedar", "northern white-cedar", "incense-cedar"}},
		{"red cedar", []string{"eastern redcedar", "western redcedar"}},
		{"white cedar", []string{"atlantic white-cedar", "northern white-cedar"}},
		{"pine", []string{"eastern white pine", "loblolly pine"}},
		{"maple", []string{"sugar maple", "red maple"}},
		{"soft maple", []string{"red maple", "silver maple"}},
		{"Ash", []string{"white ash", "black ash"}},
		{"hickory", []string{"shagbark hickory", "pecan hickory", "true hickory (commercial group)"}},
		{"spruce", []string{"red spruce", "sitka spruce"}},
		{"elm", []string{"american elm", "slippery elm"}},
		{"birch", []string{"yellow birch", "paper birch"}},
		{"swamp oak", []string{"swamp chestnut oak", "swamp white oak"}},
		{"redwood", []string{"redwood (old-growth)", "redwood (young-growth)"}},
		{"douglas-fir", []string{"douglas-fir (coast)", "douglas-fir (interior west)"}},
		{"Pseudotsuga menziesii", []string{"douglas-fir (coast)", "douglas-fir (interior south)"}},
		{"yellow pine", []string{"ponderosa pine", "southern yellow pine (commercial group)"}},
		{"gum", []string{"sweetgum", "black tupelo"}},
	} {
		m := Find(c.written, nil)
		if m.Kind != Ambiguous || m.Species.Name != "" {
			t.Errorf("Find(%q): got %v %q, want ambiguous", c.written, m.Kind, m.Species.Name)
		}
		for _, w := range c.among {
			if !slices.Contains(names(m.Candidates), w) {
				t.Errorf("Find(%q): %q is not among %v", c.written, w, names(m.Candidates))
			}
		}
	}
	if got := names(Find("spruce", nil).Candidates); slices.Contains(got, "spruce pine") {
		t.Errorf("spruce pine is a pine, got %v", got)
	}
}

func TestFindUnknown(t *testing.T) {
	for _, c := range []struct{ written, nearest string }{
		{"wallnut", "walnut"},
		{"pupler", "poplar"},
		{"Whit Ash", "white ash"},
		{"quartersawn white oak", "white oak (commercial group)"},
		{"plywood", ""},
		{"w oak", ""},
		{"", ""},
		{" - ", ""},
		{"white", ""},
	} {
		m := Find(c.written, nil)
		if m.Kind != Unknown || m.Species.Name != "" {
			t.Errorf("Find(%q): got %v %q, want unknown", c.written, m.Kind, m.Species.Name)
		}
		if c.nearest != "" && !slices.Contains(m.Nearest, c.nearest) {
			t.Errorf("Find(%q): nearest %q, want %q among them", c.written, m.Nearest, c.nearest)
		}
		if len(m.Nearest) > mostNearest {
			t.Errorf("Find(%q): %d suggestions", c.written, len(m.Nearest))
		}
	}
}

func TestAliasesComeFirst(t *testing.T) {
	aliases := map[string]string{"Oak": "northern red oak", "t-wood": "Tulip Poplar", "poplar": "balsam poplar", "bad": "no such wood"}
	for _, c := range []struct {
		written string
		kind    MatchKind
		want    string
	}{
		{"oaks", Found, "northern red oak"}, {"T Wood", Found, "yellow-poplar"}, {"POPLAR", Found, "balsam poplar"},
		{"bad", Unknown, ""}, {"white ash", Found, "white ash"},
	} {
		if m := Find(c.written, aliases); m.Kind != c.kind || m.Species.Name != c.want {
			t.Errorf("Find(%q): got %v %q, want %v %q", c.written, m.Kind, m.Species.Name, c.kind, c.want)
		}
	}
	if m := Find("bad", aliases); m.Alias != "no such wood" {
		t.Errorf("alias: got %q", m.Alias)
	}
}

// TestTableNamesFindThemselves: every name of the table, in any order of its words and any case, is that wood, but for
// "white oak", which alone means the group.
func TestTableNamesFindThemselves(t *testing.T) {
	all := All()
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(all).Draw(t, "species")
		ws := rapid.Permutation(strings.FieldsFunc(s.Name, func(r rune) bool { return strings.ContainsRune(" -(),", r) })).Draw(t, "words")
		written := strings.Join(ws, rapid.SampledFrom([]string{" ", ", ", "-"}).Draw(t, "between"))
		if rapid.Bool().Draw(t, "capitals") {
			written = strings.ToUpper(written)
		}
		want, kind := s.Name, Found
		if s.Name == "white oak" {
			want, kind = "white oak (commercial group)", Taken
		}
		if m := Find(written, nil); m.Kind != kind || m.Species.Name != want {
			t.Fatalf("Find(%q): got %v %q, want %v %q", written, m.Kind, m.Species.Name, kind, want)
		}
	})
}

// TestFindNeverPanics: any text gives an answer that fits its kind.
func TestFindNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Find(rapid.String().Draw(t, "written"), nil)
		if (m.Kind == Found || m.Kind == Taken) != (m.Species.Name != "") || (m.Kind == Ambiguous && len(m.Candidates) < 2) {
			t.Fatalf("%+v", m)
		}
	})
}
