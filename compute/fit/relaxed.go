package fit

import (
	"math"
	"slices"
)

// relaxed is the linear program of the parts still to come: what is needed of each row is to be made up by shares of their options,
// the shares of a part together being one whole. That needs no row of its own: one option of each part, its key, takes what the
// others leave. So the basis has a column for each row of the core, a dozen or so, where with a row for each part it would have some two
// hundred (generalized upper bounds).
//
// It only gives prices to make slopes of, which hold whatever they are: nothing rests on the arithmetic here.
//
// Source: Dantzig and Van Slyke, Generalized upper bounding techniques, Journal of Computer and System Sciences 1 (1967); memory.
type relaxed struct {
	rows  int
	from  []int32 // the columns of part k are from[k] to from[k+1], the first is to take none; behind the last part see ends
	part  []int32 // of each column; -1: none
	cost  []float64
	first []int32 // the entries of column j are first[j] to first[j+1]
	at    []int32
	by    []float64
	rhs   []float64
	whole []float64 // of each part: 1, or 0 when it is no longer to come
	key   []int32   // of each part
	basis []int32   // the columns beside the keys, one for each row
	inv   [][]float64
	need  []float64 // the right-hand side less what the keys add
	x     []float64 // of the basis
	y     []float64 // prices of the rows
	u     []float64
	steps int // since the inverse was last made anew
	work  *int64
}

func newRelaxed(rows int, work *int64) *relaxed {
	r := &relaxed{rows: rows, first: []int32{0}, work: work}
	r.room()
	return r
}

// room makes room for all that depends on the right-hand side.
func (r *relaxed) room() {
	r.basis, r.inv = make([]int32, r.rows), make([][]float64, r.rows)
	for i := range r.inv {
		r.inv[i] = make([]float64, r.rows)
	}
	for _, v := range []*[]float64{&r.rhs, &r.need, &r.x, &r.y, &r.u} {
		*v = make([]float64, r.rows)
	}
}

// again is the same program at its start, with room of its own; the columns are shared.
func (r *relaxed) again() *relaxed {
	out := *r
	out.room()
	out.whole, out.key = slices.Clone(r.whole), slices.Clone(r.key)
	out.reset()
	return &out
}

// begin begins the next part with the column that takes none of it.
func (r *relaxed) begin() {
	k := len(r.from)
	r.from, r.whole, r.key = append(r.from, int32(len(r.part))), append(r.whole, 1), append(r.key, 0)
	r.add(k, 0)
}

// put puts an entry into the column that is added next.
func (r *relaxed) put(row int, by float64) {
	r.at, r.by = append(r.at, int32(row)), append(r.by, by)
}

func (r *relaxed) add(part int, cost float64) {
	r.part, r.cost = append(r.part, int32(part)), append(r.cost, cost)
	r.first = append(r.first, int32(len(r.at)))
}

// ends adds, behind all parts, three columns for each row: what is short of the need and what is beyond it, with their costs, and one to
// start with that must leave.
func (r *relaxed) ends(short float64, beyond []float64) {
	r.from = append(r.from, int32(len(r.part)))
	for i := range r.rows {
		r.put(i, 1)
		r.add(-1, short)
		r.put(i, -1)
		r.add(-1, beyond[i])
		r.put(i, 1)
		r.add(-1, 0)
	}
	r.reset()
}

// reset goes back to the start: prices of 0, at which no option pays.
func (r *relaxed) reset() {
	copy(r.key, r.from)
	for i := range r.basis {
		r.basis[i] = r.from[len(r.from)-1] + int32(3*i+2)
		clear(r.inv[i])
		r.inv[i][i] = 1
	}
	r.steps = 0
}

// starts reports whether a column is one to start with.
func (r *relaxed) starts(j int32) bool {
	ends := r.from[len(r.from)-1]
	return j >= ends && (j-ends)%3 == 2
}

// dot is a row times a column.
func (r *relaxed) dot(row []float64, j int32) float64 {
	v := 0.0
	at, by := r.at[r.first[j]:r.first[j+1]], r.by[r.first[j]:r.first[j+1]]
	for e, i := range at {
		v += float64(row[i] * by[e])
	}
	return v
}

// solve goes on from the last prices to those for the right-hand side as it is, with the parts of rest still to come (dual simplex). It
// reports false when it gave up.
func (r *relaxed) solve(rest []int) bool {
	if r.steps > refresh { // rounding must not pile up
		r.reset()
	}
	for range 40*r.rows + 100 {
		r.values()
		leave, sign := r.leaving()
		if leave < 0 {
			return true
		}
		enter := r.entering(rest, r.inv[leave], sign)
		if enter < 0 {
			break
		}
		r.pivot(leave, enter)
	}
	r.reset()
	return false
}

// values computes the basic columns' values and the prices.
func (r *relaxed) values() {
	copy(r.need, r.rhs)
	for k, j := range r.key {
		if r.whole[k] > 0 {
			for e := r.first[j]; e < r.first[j+1]; e++ {
				r.need[r.at[e]] -= r.by[e]
			}
		}
	}
	clear(r.y)
	for i, row := range r.inv {
		j := r.basis[i]
		v, c := 0.0, r.cost[j]
		if k := r.part[j]; k >= 0 {
			c -= r.cost[r.key[k]]
		}
		for n, b := range row {
			v += float64(b * r.need[n])
			r.y[n] += float64(c * b)
		}
		r.x[i] = v
	}
	*r.work += int64(3*len(r.key) + 3*r.rows*r.rows)
}

// leaving gives the place in the basis of the column that is furthest from what it may be, or -1, and the sign that makes it negative.
// A key that is to leave changes places with another column of its part first.
func (r *relaxed) leaving() (leave int, sign float64) {
	leave, least, swap := -1, -tinyShare, false
	for i, j := range r.basis {
		v := r.x[i]
		if r.starts(j) {
			v = -math.Abs(v)
		}
		if v < least {
			leave, least, swap = i, v, false
		}
		k := r.part[j]
		if k < 0 {
			continue
		}
		left, most := r.whole[k], i
		for n, q := range r.basis {
			if r.part[q] == k {
				if left -= r.x[n]; r.x[n] > r.x[most] {
					most = n
				}
			}
		}
		if left < least {
			leave, least, swap = most, left, true
		}
	}
	switch {
	case leave < 0:
		return -1, 1
	case swap:
		r.swap(leave)
	case r.x[leave] > 0:
		return leave, -1
	}
	return leave, 1
}

// swap makes a basic column the key of its part, and the key basic.
func (r *relaxed) swap(at int) {
	k, row := r.part[r.basis[at]], r.inv[at]
	for n, q := range r.basis {
		if r.part[q] == k && n != at {
			for i, v := range r.inv[n] {
				row[i] += v
			}
		}
	}
	for i := range row {
		row[i] = -row[i]
	}
	r.basis[at], r.key[k] = r.key[k], r.basis[at]
}

// entering gives the column that may enter for the leaving row first as the prices move, or -1.
func (r *relaxed) entering(rest []int, row []float64, sign float64) int32 {
	e := noEntry
	entries := int32(0)
	for _, k := range rest {
		key := r.key[k]
		base, cost := r.dot(row, key), r.cost[key]-r.dot(r.y, key)
		for j := r.from[k]; j < r.from[k+1]; j++ {
			if a := sign * (r.dot(row, j) - base); a < -tinyPivot && j != key {
				e.try(j, a, r.cost[j]-r.dot(r.y, j)-cost)
			}
		}
		entries += 2*(r.first[r.from[k+1]]-r.first[r.from[k]]) + 5*(r.from[k+1]-r.from[k])
	}
	ends := r.from[len(r.from)-1]
	for i, v := range row {
		j := ends + int32(3*i)
		if a := sign * v; a < -tinyPivot {
			e.try(j, a, r.cost[j]-r.y[i])
		} else if a > tinyPivot {
			e.try(j+1, -a, r.cost[j+1]+r.y[i])
		}
	}
	*r.work += int64(entries) + int64(4*r.rows)
	return e.col
}

func (r *relaxed) pivot(leave int, enter int32) {
	r.steps++
	key := int32(-1)
	if k := r.part[enter]; k >= 0 {
		key = r.key[k]
	}
	for i, row := range r.inv {
		r.u[i] = r.dot(row, enter)
		if key >= 0 {
			r.u[i] -= r.dot(row, key)
		}
	}
	r.basis[leave] = enter
	p := r.inv[leave]
	by := 1 / r.u[leave]
	for n := range p {
		p[n] *= by
	}
	for i, f := range r.u {
		if i == leave || f == 0 {
			continue
		}
		for n, v := range p {
			r.inv[i][n] -= float64(f * v)
		}
	}
	*r.work += int64(2 * r.rows * r.rows)
}
