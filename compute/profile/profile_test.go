package profile

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/source"
	"drytally/compute/units"
)

func TestParse(t *testing.T) {
	for text, want := range map[string]Kind{
		"": NotSaid, "square": Square, "S4S": Square, "Shiplap": Lapped, "ship-lap": Lapped, "lapped": Lapped, "rabbeted bevel": Lapped, "T&G": TongueGroove,
		"T & G": TongueGroove, "tongue-and-groove": TongueGroove, "tongue and groove, V": TongueGroove, "beveled": Beveled, "lap siding": Beveled, "clapboards": Beveled,
		"board and batten": BoardBatten, "Board & Batten": BoardBatten, "batten": Batten, "door stile": Stile, "bottom rail": Rail, "raised panel": Panel, "T/G": TongueGroove,
	} {
		if got, ok := Parse(text); !ok || got != want {
			t.Errorf("%q: got %v, %v, want %v", text, got, ok, want)
		}
	}
	for _, bad := range []string{"ogee", "?", "square or shiplap", "stile and rail", "tonguing"} {
		if got, ok := Parse(bad); ok || got != NotSaid {
			t.Errorf("%q: got %v, %v, want a refusal", bad, got, ok)
		}
	}
}

// TestWordsMeanOneKind: every word of the list is read back as its kind, and stands once.
func TestWordsMeanOneKind(t *testing.T) {
	seen := map[string]Kind{}
	for kind, all := range Words() {
		for _, w := range all {
			if old, ok := seen[w]; ok {
				t.Errorf("%q means %v and %v", w, old, kind)
			}
			seen[w] = kind
			if spell(w) != w {
				t.Errorf("%q is never met: people's words come as %q", w, spell(w))
			}
			if got, ok := Parse(strings.ToUpper(w)); !ok || got != kind {
				t.Errorf("%q: got %v, %v, want %v", w, got, ok, kind)
			}
		}
	}
}

func TestOf(t *testing.T) {
	in := units.Inches
	for _, c := range []struct {
		name               string
		kind               Kind
		given, want        Size
		conflict, standard bool
	}{
		{"tongue from both", TongueGroove, Size{Overall: in(5.375), Shows: in(5.125)}, Size{in(5.375), in(5.125), in(0.25)}, false, false},
		{"overall from face and lap", Lapped, Size{Shows: in(5), Joint: in(0.5)}, Size{in(5.5), in(5), in(0.5)}, false, false},
		{"face from overall and lap", Beveled, Size{Overall: in(11.25), Joint: in(1.25)}, Size{in(11.25), in(10), in(1.25)}, false, false},
		{"usual lap", Lapped, Size{Overall: in(7.25)}, Size{in(7.25), in(6.75), in(0.5)}, false, true}, // WWPA Table 4, rabbeted bevel 8
		{"usual tongue", TongueGroove, Size{Overall: in(7.125)}, Size{in(7.125), in(6.875), in(0.25)}, false, true},
		{"usual bevel lap", Beveled, Size{Overall: in(5.5)}, Size{in(5.5), in(4.5), in(1)}, false, true},
		{"all three fit", TongueGroove, Size{in(3.5), in(3.25), in(0.25)}, Size{in(3.5), in(3.25), in(0.25)}, false, false},
		{"they don't", TongueGroove, Size{in(3.5), in(3.125), in(0.25)}, Size{in(3.5), in(3.125), in(0.375)}, true, false},
		{"face wider than all", Square, Size{Overall: in(5), Shows: in(6)}, Size{in(5), in(5), 0}, true, false},
		{"square", Square, Size{Overall: in(5)}, Size{in(5), in(5), 0}, false, false},
		{"square that laps", NotSaid, Size{Overall: in(9.25), Shows: in(8.5)}, Size{in(9.25), in(8.5), in(0.75)}, false, false},
		{"lap wider than the board", Beveled, Size{Overall: in(1), Joint: in(1.5)}, Size{in(1), in(1), in(1.5)}, true, false},
	} {
		got, err := Of(c.kind, c.given)
		var conflict ErrConflict
		if errors.As(err, &conflict) != c.conflict || got.Size != c.want || got.Usual != c.standard || got.Usual && got.Source.Status != source.Seen {
			t.Errorf("%s: got %+v (%v), want %+v", c.name, got, err, c.want)
		}
	}
}

// TestTwoGiveTheThird: any two of face, joint and overall width give the same shape.
func TestTwoGiveTheThird(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]Kind{Lapped, Beveled, TongueGroove}).Draw(t, "kind")
		face := units.Length(rapid.IntRange(32, 64*12).Draw(t, "face")) * units.Fraction(1, 64)
		joint := units.Length(rapid.IntRange(1, 31).Draw(t, "joint")) * units.Fraction(1, 64)
		want := Size{face + joint, face, joint}
		for _, given := range []Size{{Overall: face + joint, Shows: face}, {Overall: face + joint, Joint: joint}, {Shows: face, Joint: joint}, want} {
			if got, err := Of(kind, given); err != nil || got.Size != want {
				t.Fatalf("%v of %+v: got %+v (%v), want %+v", kind, given, got.Size, err, want)
			}
		}
	})
}
