package fit

// state is what the parts of a side come to so far: the sums of the rows, packed, and the cost.
type state struct {
	high, low uint64
	cost      int64
	trail     int32 // the last step of the way here; -1: the cheapest options throughout
}

// step is a choice that is not the cheapest of its part.
type step struct {
	before       int32
	part, option int16 // fewer than mostParts and mostOptions
}

// field says where a row's sum stands in a state.
type field struct {
	row   int
	high  bool
	at    int
	mask  uint64
	least int  // the sum that is packed as 0
	loose bool // the row may end above its need
}

func (f *field) of(x *state) int {
	if f.high {
		return int(x.high >> f.at & f.mask)
	}
	return int(x.low >> f.at & f.mask)
}

// sum is the row's sum itself.
func (f *field) sum(x *state) int { return f.of(x) + f.least }

// put adds a number to the row's part of two words.
func (f *field) put(v int, high, low *uint64) {
	if f.high {
		*high += uint64(v) << f.at
	} else {
		*low += uint64(v) << f.at
	}
}

func (x *state) before(y *state) bool { return x.high < y.high || x.high == y.high && x.low < y.low }

// merged joins lists of states two by two, and what comes of them again, until they are one; it takes the place of the first.
func (h *halves) merged(all [][]state) []state {
	place := all[0][:0]
	for level := 0; len(all) > 1; level++ {
		spare := &h.spare[level%2]
		out, next := (*spare)[:0], all[:0]
		for i := 0; i < len(all); i += 2 {
			start, b := len(out), []state(nil)
			if i+1 < len(all) {
				b = all[i+1]
			}
			out = merge(out, all[i], b)
			next = append(next, out[start:])
		}
		h.s.work += int64(10 * len(out))
		*spare, all = out, next
	}
	return append(place, all[0]...)
}

// merge appends two lists joined in order, with the cheaper of two states with the same sums.
func merge(out, a, b []state) []state {
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		x, y := &a[i], &b[j]
		switch {
		case x.before(y):
			out = append(out, *x)
			i++
		case y.before(x):
			out = append(out, *y)
			j++
		default:
			if y.cost < x.cost {
				x = y
			}
			out = append(out, *x)
			i++
			j++
		}
	}
	out = append(out, a[i:]...)
	return append(out, b[j:]...)
}
