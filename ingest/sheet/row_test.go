package sheet

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// TestPackedRows packs rows of cells that repeat much or little and reads them back: every cell comes out as it went in, also
// after the rows behind it were packed.
func TestPackedRows(t *testing.T) {
	t.Parallel()
	more := []*More{nil, {FormatCode: "0.0"}, {FormatCode: "0.0"}}
	rapid.Check(t, func(t *rapid.T) {
		var packer Packer
		var want [][]Cell
		var rows []Row
		texts := rapid.SampledFrom([]int{1, 3, 50000}).Draw(t, "different texts")
		for n := range rapid.IntRange(1, 40).Draw(t, "rows") {
			var cells []Cell
			for col := range rapid.IntRange(0, 20).Draw(t, "columns") {
				c := Cell{Row: 3*n + 1, Col: LastCol - 2*col, Kind: Kind(rapid.IntRange(0, 4).Draw(t, "kind")), Format: Format(rapid.IntRange(0, 7).Draw(t, "format")),
					Text:   string(rune('a' + rapid.IntRange(0, texts).Draw(t, "text"))),
					Number: rapid.SampledFrom([]float64{0, 8.5, 1e300}).Draw(t, "number"), More: rapid.SampledFrom(more).Draw(t, "more"),
					Formula: rapid.Bool().Draw(t, "formula"), NoResult: rapid.Bool().Draw(t, "no result")}
				cells = append(cells, c)
			}
			slices.Reverse(cells)
			want = append(want, slices.Clone(cells))
			rows = append(rows, packer.Row(3*n+1, n%2 == 0, cells))
			clear(cells) // the packer keeps a copy
		}
		for n, r := range rows {
			if r.Number != 3*n+1 || r.Hidden != (n%2 == 0) || r.Len() != len(want[n]) {
				t.Fatalf("got row %d of %d cells, hidden %t, want row %d of %d", r.Number, r.Len(), r.Hidden, 3*n+1, len(want[n]))
			}
			if d := cmp.Diff(want[n], slices.Collect(r.Cells())); d != "" {
				t.Fatalf("row %d (-want +got):\n%s", r.Number, d)
			}
		}
	})
}

// TestShared checks that cells which say the same are held once, and those which don't, apart.
func TestShared(t *testing.T) {
	t.Parallel()
	var packer Packer
	a := packer.Row(1, false, []Cell{{Col: 1, Kind: Text, Text: "B1"}, {Col: 2, Kind: Number, Text: "8.5", Number: 8.5}})
	b := packer.Row(2, false, []Cell{{Col: 1, Kind: Text, Text: "B1"}, {Col: 2, Kind: Number, Text: "8.5", Number: 8.5, Format: Percent}})
	if a.cells[0].says != b.cells[0].says {
		t.Error("the same text is held twice")
	}
	if a.cells[1].says == b.cells[1].says {
		t.Error("a number and a percentage are held as one")
	}
}
