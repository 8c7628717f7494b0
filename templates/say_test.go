package templates

import "testing"

// TestSayOfOneAndAll: sentences that are easily wrong for one board, and for all of them.
func TestSayOfOneAndAll(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		with map[string]string
		want string
	}{
		{"settle-measure-first", map[string]string{"n": "25", "of": "80"}, "Measure at least 25 of the 80 boards, the bottom and middle courses among them."},
		{"settle-measure-first", map[string]string{"n": "6", "of": "6"}, "Measure all 6 boards."},
		{"settle-measure-first", map[string]string{"n": "1", "of": "1"}, "Measure the board."},
		{"places-not-known", map[string]string{"n": "1"}, "Where the measured board lay in the stack is not recorded, so it is not known whether it was in a slow place."},
		{"places-not-known", map[string]string{"n": "3"}, "Where the 3 measured boards lay in the stack is not recorded, so it is not known whether the slow places were among them."},
		{"statement-not-said-boards", map[string]string{"rest": "1"}, "1 of these boards was not measured: nothing is said of it."},
		{"statement-not-said-boards", map[string]string{"rest": "6"}, "6 of these boards were not measured: nothing is said of them."},
	} {
		if got, err := Say(c.name, c.with); err != nil || got != c.want {
			t.Errorf("%s %v: got %q and %v, want %q", c.name, c.with, got, err, c.want)
		}
	}
}
