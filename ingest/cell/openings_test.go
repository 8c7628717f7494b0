package cell

import (
	"math"
	"testing"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// TestOpenings: what has one reading is read, the rest is refused. A square metre is 10.7639 square feet (0.3048 m to the foot).
func TestOpenings(t *testing.T) {
	t.Parallel()
	feet, metres := Context{Default: SquareFoot}, Context{Default: SquareMetre, DecimalComma: true}
	for _, c := range []struct {
		text string
		x    Context
		want float64
		code finding.Code
	}{
		{"21", feet, 21, ""},
		{"21 sq ft", feet, 21, ""},
		{"3x7", feet, 21, ""},
		{"3 X 7", feet, 21, ""},
		{"3'x7'", feet, 21, ""},
		{`3' x 6' 8"`, feet, 20, ""},
		{"3 by 7", feet, 21, ""},
		{"3 x 7 ft", feet, 21, ""},
		{"36x80", feet, 20, ""},
		{`36" x 80"`, feet, 20, ""},
		{"36 x 80 in", feet, 20, ""},
		{"21+15", feet, 36, ""},
		{"21 + 15 sq ft", feet, 36, ""},
		{"approx 21", feet, 21, finding.CellAbout},
		{"2 + 3 m2", feet, 5 * 10.76391, ""},
		{"3x7 + 4x4", feet, 37, ""},
		{"3x7 and 15", feet, 36, ""},
		{"3x7\n4x4", feet, 37, ""},
		{"0.9 x 2.1 m", feet, 1.89 * 10.76391, ""},
		{"0,9 x 2,1", metres, 1.89 * 10.76391, ""},
		{"900x2100", metres, 1.89 * 10.76391, ""},
		{"3' x 7'", metres, 21, ""},
		{"1,9", metres, 1.9 * 10.76391, ""},
		{"12x12", feet, 0, finding.CellNoUnit},    // a window of a foot or a barn door
		{"15x24", feet, 0, finding.CellNoUnit},    // wide doors, or a small window
		{"90x210", metres, 0, finding.CellNoUnit}, // centimetres, or two vents
		{"2x3x7", feet, 0, finding.CellArea},
		{"3x7 door", feet, 0, finding.CellArea},
		{"two doors", feet, 0, finding.CellArea},
		{"3x", feet, 0, finding.CellArea},
		{"21 +", feet, 0, finding.CellArea},
		{"21, 15", feet, 0, finding.CellArea},
		{"21-15", feet, 0, finding.CellArea},
		{"0x7", feet, 0, finding.CellNoUnit},
	} {
		got, ps := Openings(sheet.Cell{Row: 1, Col: 1, Kind: sheet.Text, Text: c.text}, c.x)
		code := finding.Code("")
		if len(ps) > 0 {
			code = ps[0].Code
		}
		if code != c.code || math.Abs(got-c.want) > 1e-4*c.want {
			t.Errorf("Openings(%q): got %v with %q, want %v with %q", c.text, got, code, c.want, c.code)
		}
	}
}
