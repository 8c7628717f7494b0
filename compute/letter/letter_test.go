package letter

import (
	"slices"
	"testing"
)

func TestLost(t *testing.T) {
	for _, c := range []struct {
		in               string
		boxed, invisible []rune
	}{
		{"plain, 11 3/8\" \t(x)\n", nil, nil},
		{"caf\u00e9 e\u0301 \u00bd \u2264 \u2070 \u2011 \u00a0\u3000", nil, nil},
		{"\u05d0\u05d1", nil, nil},
		{"x\u0302", []rune{0x302}, nil},
		{"\U0001F332 \U0001F332\u200d\ufe0f", []rune{0x1F332}, []rune{0x200D, 0xFE0F}},
		{"\u0645\u4e00", []rune{0x645, 0x4E00}, nil},
		{"a\x00b\x7f\u0085c", []rune{0, 0x7F}, nil},
		{"a\u200bb\u00adc\u202e", nil, []rune{0x200B, 0xAD, 0x202E}},
		{"bad \xff", []rune{0xFFFD}, nil},
		{"", nil, nil},
	} {
		boxed, invisible := Lost(c.in)
		if !slices.Equal(boxed, c.boxed) || !slices.Equal(invisible, c.invisible) {
			t.Errorf("%q: got %U and %U, want %U and %U", c.in, boxed, invisible, c.boxed, c.invisible)
		}
	}
}
