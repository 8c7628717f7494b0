package fit

import (
	"slices"

	"drytally/compute/units"
)

// ruler holds every place, from the end where cutting begins, that sums of sizes with their kerfs can reach.
type ruler struct {
	kerf    units.Length
	size    []units.Length // each size with its kerf
	marks   []units.Length // ascending, the first is 0
	before  [][]int32      // size, mark -> the last mark at or below the mark less the size; -1 below 0
	after   [][]int32      // size, mark -> the mark just a size above; -1 past the end
	rounded units.Length   // sizes were rounded up to whole multiples of this; 0: they were not
}

// mostMarks keeps a ruler short enough to compute with: a length of 16 ft has 12288 64ths of an inch.
const mostMarks = 12_500

// newRuler makes the ruler of the sizes up to the largest stock. Sizes without a common measure reach too many places; then
// they are rounded up, to a 64th of an inch or as many 64ths as it takes.
func newRuler(sizes []units.Length, kerf, most units.Length) ruler {
	r := ruler{kerf: kerf}
	for step := units.Length(0); ; {
		r.rounded, r.size = step, r.size[:0]
		for _, l := range sizes {
			l += kerf
			if step > 0 {
				l = l.RoundUp(step)
			}
			r.size = append(r.size, l)
		}
		if r.reach(most + kerf) {
			break
		}
		step = max(2*step, units.Fraction(1, 64))
	}
	for _, l := range r.size {
		before, after := make([]int32, len(r.marks)), make([]int32, len(r.marks))
		low, exact := -1, 0
		for p, x := range r.marks {
			for low+1 < len(r.marks) && r.marks[low+1] <= x-l {
				low++
			}
			before[p] = int32(low)
			for exact < len(r.marks) && r.marks[exact] < x+l {
				exact++
			}
			after[p] = -1
			if exact < len(r.marks) && r.marks[exact] == x+l {
				after[p] = int32(exact)
			}
		}
		r.before, r.after = append(r.before, before), append(r.after, after)
	}
	return r
}

// reach lists the marks up to the end, or reports false when there are too many.
func (r *ruler) reach(end units.Length) bool {
	step := units.Length(0)
	for _, l := range r.size {
		a, b := step, l
		for b > 0 {
			a, b = b, a%b
		}
		step = a
	}
	const mostSteps = 1 << 21
	if end/step >= mostSteps {
		return false
	}
	seen := make([]bool, end/step+1)
	seen[0] = true
	r.marks = r.marks[:0]
	for p, ok := range seen {
		if !ok {
			continue
		}
		if r.marks = append(r.marks, units.Length(p)*step); len(r.marks) > mostMarks {
			return false
		}
		for _, l := range r.size {
			if q := p + int(l/step); q < len(seen) {
				seen[q] = true
			}
		}
	}
	return true
}

// last is the last mark that parts with their kerfs may reach on stock of a size: the last part needs no kerf.
func (r *ruler) last(stock units.Length) int {
	i, found := slices.BinarySearch(r.marks, stock+r.kerf)
	if !found {
		i--
	}
	return i
}
