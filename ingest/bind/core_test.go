package bind

import "testing"

// TestCoreWords: only words that put the probe into the wood make its temperature one of the core.
func TestCoreWords(t *testing.T) {
	for where, want := range map[string]bool{
		"core": true, "Core of B7": true, "board core": true, "probe in board": true, "in the board": true, "center of board 3": true,
		"kiln": false, "": false, "probe": false, "between boards": false, "on the boards": false, "in the stack of boards": false,
		"air at the core of the stack": false, "not the core": false, "under the top board": false, "center of kiln": false, "boardroom": false,
	} {
		if got := coreWords(where); got != want {
			t.Errorf("%q: got %v, want %v", where, got, want)
		}
	}
}

func TestIndoors(t *testing.T) {
	for where, want := range map[string][2]bool{ // indoors, known
		"indoors": {true, true}, "Inside, heated": {true, true}, "outdoors": {false, true}, "outside in the shade": {false, true},
		"attic": {false, false}, "in and out": {true, false}, "not indoors": {false, false}, "porch": {false, false},
	} {
		if in, known := indoors(where); known != want[1] || known && in != want[0] {
			t.Errorf("%q: got %v, %v; want %v", where, in, known, want)
		}
	}
}
