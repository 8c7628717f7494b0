package write

import (
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

func TestSafeName(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"12", "12"}, {"Load 12", "Load-12"}, {"A/B\\C", "A-B-C"}, {"../../etc/passwd", "etc-passwd"},
		{"", "unnamed"}, {"...", "unnamed"}, {"///", "unnamed"}, {"\U0001F332", "unnamed"},
		{"con", "con_"}, {"NUL.txt", "NUL.txt_"}, {"com1", "com1_"}, {"LPT\u00B2", "LPT\u00B2_"}, {"COM10", "COM10"}, {"console", "console"},
		{"a. ", "a"}, {".hidden", "hidden"}, {"-rf", "rf"}, {"a:b*c?d\"e<f>g|h", "a-b-c-d-e-f-g-h"},
		{"e\u0301tuve", "\u00E9tuve"}, {"a\x00b\nc", "a-b-c"}, {"a\u202Eb\u200B", "ab"}, {"bad\xffutf", "bad-utf"},
		{"smith & sons (2)", "smith-&-sons-(2)"},
	} {
		if got := SafeName(c.in); got != c.want {
			t.Errorf("SafeName(%q) gives %q, want %q", c.in, got, c.want)
		}
	}
	a, b := SafeName(strings.Repeat("a", 300)+"1"), SafeName(strings.Repeat("a", 300)+"2")
	if a == b || len(a) > mostBytes {
		t.Errorf("long ids give %q and %q, want them apart and at most %d bytes", a, b, mostBytes)
	}
}

func TestSafeNameIsAlwaysSafe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.SampledFrom([]rune("cConNUL1. -/\\:\u00E9\u0301\u00B9x")))).Draw(t, "id")
		got := SafeName(id)
		if err := checkName(got); err != nil {
			t.Fatalf("SafeName(%q) gives %q: %v", id, got, err)
		}
		// an underscore may follow the longest name
		if len(got) > mostBytes+1 || !utf8.ValidString(got) || !norm.NFC.IsNormalString(got) || SafeName(id) != got {
			t.Fatalf("SafeName(%q) gives %q", id, got)
		}
		if again := SafeName(got); again != got && len(got) <= mostBytes {
			t.Fatalf("SafeName(%q) gives %q and from that %q", id, got, again)
		}
	})
}

func TestNamerKeepsIdsApart(t *testing.T) {
	var n Namer
	for _, c := range []struct{ id, want string }{
		{"A1", "load-A1.pdf"}, {"a1", "load-a1-2.pdf"}, {"A1", "load-A1.pdf"}, {"A1 ", "load-A1-3.pdf"},
		{"a1-2", "load-a1-2-2.pdf"}, {"stra\u00DFe", "load-stra\u00DFe.pdf"}, {"STRASSE", "load-STRASSE-2.pdf"},
	} {
		if got := n.Name("load-", c.id, ".pdf"); got != c.want {
			t.Errorf("id %q gives %q, want %q", c.id, got, c.want)
		}
	}
	if got := n.Name("tags-", "A1", ".pdf"); got != "tags-A1.pdf" {
		t.Errorf("another prefix gives %q", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		var n Namer
		seen := map[string]string{}
		for _, id := range rapid.SliceOfDistinct(rapid.StringOf(rapid.SampledFrom([]rune("aA1- ./2"))), rapid.ID[string]).Draw(t, "ids") {
			name := fold(n.Name("p-", id, ".pdf"))
			if other, ok := seen[name]; ok {
				t.Fatalf("ids %q and %q are both called %q", id, other, name)
			}
			seen[name] = id
		}
	})
}
