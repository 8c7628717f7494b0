package footage

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/units"
)

// TestPartsAddUp: what is taken and what is left are the whole, exactly.
func TestPartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Piece{Thickness: units.Inch, Width: units.Length(rapid.IntRange(1, 400).Draw(t, "32nds")) * units.Inch / 32, Length: 8 * units.Foot, Count: rapid.IntRange(1, 50).Draw(t, "count")}
		whole, err := Of(Volume, p)
		if err != nil {
			t.Fatal(err)
		}
		of := rapid.IntRange(1, 60).Draw(t, "of")
		n := rapid.IntRange(0, of).Draw(t, "n")
		part := whole.Part(n, of)
		if got := part.Add(whole.Sub(part)); got.Rat().Cmp(whole.Rat()) != 0 {
			t.Errorf("%d of %d parts and the rest are %s, want %s", n, of, got, whole)
		}
		if want := new(big.Rat).Mul(whole.Rat(), big.NewRat(int64(n), int64(of))); part.Rat().Cmp(want) != 0 {
			t.Errorf("%d of %d parts of %s: got %s, want %s", n, of, whole, part.Rat(), want)
		}
	})
}
