package fit

// names gives leftovers names of their own.
type names struct {
	taken map[string]bool
	last  map[string]int // of each board: the letters given so far
	key   func(string) string
}

func newNames(boards []Board, r Rules) *names {
	n := &names{taken: map[string]bool{}, last: map[string]int{}, key: r.Key}
	if n.key == nil {
		n.key = func(s string) string { return s }
	}
	for _, t := range r.Taken {
		n.taken[n.key(t)] = true
	}
	for _, b := range boards {
		n.taken[n.key(b.ID)] = true
	}
	return n
}

// next names the next leftover of a board: A07-a, A07-b, and on to -z, -aa. A letter is used because A07-1 can be read as a run of
// boards in a list of them, and 7-1 is turned into a date by spreadsheet programs. A name that stands for something else already
// is passed over.
func (n *names) next(board string) string {
	for {
		n.last[board]++
		name := board + "-" + letters(n.last[board])
		if k := n.key(name); !n.taken[k] {
			n.taken[k] = true
			return name
		}
	}
}

// letters counts a, b ... z, aa, ab ... from 1.
func letters(i int) string {
	out := ""
	for ; i > 0; i = (i - 1) / 26 {
		out = string(rune('a'+(i-1)%26)) + out
	}
	return out
}
