package fit

import "math"

// program is a linear program: least cost over columns of 0 or more whose sum is the right-hand side. It keeps the inverse of
// its basis; columns can be added and costs and right-hand sides changed between solves.
//
// Products are rounded before they are added (the conversions to float64), so that machines that join the two steps come to the same.
//
// The searches of halves solve theirs, which are many and all of one form, by a smaller program: relaxed.
//
// What it gives are prices and shares to steer by. Bounds are recomputed in whole numbers; only branch (finish.go) leaves by its objective,
// with room for its error, and by its word that there is no solution (see sureShare).
type program struct {
	m     int
	cols  []column
	live  []int32 // the columns that may enter the basis: all, unless some are shut out
	basis []int32 // row -> column
	row   []int32 // column -> row, -1 when not in the basis
	inv   [][]float64
	rhs   []float64
	x     []float64 // of the basic columns, by row
	y     []float64 // prices of the rows
	steps int       // pivots since the inverse was last made anew
	work  *int64
	done  float64 // cost of what was already taken out of the right-hand side
	stuck bool    // the last solve gave up
}

// column is a sparse column; coefficients are whole numbers.
type column struct {
	at   []int32
	by   []float64
	cost float64
	pat  *pattern // nil for slacks and missing pieces
	out  bool     // must not be taken any more
}

// The tolerances of the arithmetic. Coefficients are whole numbers of a few digits, costs up to about a million.
const (
	tinyCost  = 1e-7
	tinyShare = 1e-7
	tinyPivot = 1e-8
	tinyRatio = 1e-9
	sureShare = 1e-5 // a share less negative than this may be rounding: then "no solution" is not sure
	refresh   = 200  // pivots between two fresh inverses
	mostStill = 200  // pivots that win nothing before the first column that helps is taken
)

// newProgram starts from one slack column a row, with its sign.
func newProgram(rhs []float64, sign []float64, work *int64) *program {
	p := &program{m: len(rhs), rhs: rhs, work: work, x: make([]float64, len(rhs)), y: make([]float64, len(rhs))}
	for i, s := range sign {
		p.add(column{at: []int32{int32(i)}, by: []float64{s}})
		p.basis = append(p.basis, int32(i))
		p.row[i] = int32(i)
		p.inv = append(p.inv, make([]float64, p.m))
		p.inv[i][i] = 1 / s
	}
	p.values()
	return p
}

func (p *program) add(c column) int {
	p.cols = append(p.cols, c)
	p.row = append(p.row, -1)
	p.live = append(p.live, int32(len(p.cols)-1))
	return len(p.cols) - 1
}

// values computes the basic columns' values from the right-hand side.
func (p *program) values() {
	for i, r := range p.inv {
		v := 0.0
		for k, b := range p.rhs {
			if b != 0 {
				v += float64(r[k] * b)
			}
		}
		p.x[i] = v
	}
	*p.work += int64(p.m * p.m)
}

// prices computes the rows' prices from the costs of the basis.
func (p *program) prices() {
	clear(p.y)
	for i, b := range p.basis {
		if c := p.cols[b].cost; c != 0 {
			for k, v := range p.inv[i] {
				p.y[k] += float64(c * v)
			}
			*p.work += int64(p.m)
		}
	}
}

func (p *program) reduced(j int) float64 {
	c := &p.cols[j]
	d := c.cost
	for k, i := range c.at {
		d -= float64(p.y[i] * c.by[k])
	}
	return d
}

func (p *program) objective() float64 {
	v := p.done
	for i, b := range p.basis {
		v += float64(p.cols[b].cost * p.x[i])
	}
	return v
}

// primal goes on to the least cost from a basis whose values are all 0 or more. It reports false when it gave up.
func (p *program) primal() bool {
	u := make([]float64, p.m)
	still, last := 0, p.objective()
	for range 50 * (p.m + 50) {
		p.prices()
		enter, least := -1, -tinyCost
		for _, j := range p.live {
			if p.row[j] >= 0 {
				continue
			}
			if d := p.reduced(int(j)); d < least {
				enter, least = int(j), d
				if still > mostStill { // the first that helps: never turns in a circle
					break
				}
			}
		}
		*p.work += int64(8 * len(p.live))
		if enter < 0 {
			return true
		}
		p.direction(u, enter)
		leave := -1
		for i := range u {
			if u[i] <= tinyPivot {
				continue
			}
			if leave < 0 {
				leave = i
				continue
			}
			a, b := float64(math.Max(0, p.x[i])*u[leave]), float64(math.Max(0, p.x[leave])*u[i])
			if d := a - b; d < -1e-12 || d <= 1e-12 && (still > mostStill && p.basis[i] < p.basis[leave] || still <= mostStill && u[i] > u[leave]) {
				leave = i
			}
		}
		if leave < 0 {
			return false
		}
		p.pivot(leave, enter, u)
		if v := p.objective(); v < last-float64(1e-9*(1+math.Abs(last))) {
			still, last = 0, v
		} else {
			still++
		}
	}
	return false
}

// dual goes on to values of 0 or more from a basis whose reduced costs are all 0 or more. It reports false when there are
// none, or when it gave up.
func (p *program) dual() bool {
	p.stuck = false
	u := make([]float64, p.m)
	for step := range 50 * (p.m + 50) {
		leave, least := -1, -tinyShare
		for i, v := range p.x {
			if v < least {
				leave = i
				if least = v; step > 20*p.m {
					break
				}
			}
		}
		if leave < 0 {
			return true
		}
		p.prices()
		e := noEntry
		r := p.inv[leave]
		for _, j := range p.live {
			c := &p.cols[j]
			if p.row[j] >= 0 {
				continue
			}
			a := 0.0
			for k, i := range c.at {
				a += float64(r[i] * c.by[k])
			}
			if a >= -tinyPivot {
				continue
			}
			e.try(j, a, p.reduced(int(j)))
		}
		*p.work += int64(16 * len(p.live))
		if e.col < 0 {
			p.stuck = least > -sureShare
			return false
		}
		p.direction(u, int(e.col))
		p.pivot(leave, int(e.col), u)
	}
	p.stuck = true
	return false
}

// entry is the column that may enter the basis first as the prices move in a dual step; of those that may at about the same time, the
// one with the largest coefficient.
type entry struct {
	col         int32 // -1: none
	ratio, most float64
}

var noEntry = entry{col: -1, ratio: math.Inf(1)}

// try tries a column with a coefficient a, below 0, in the leaving row and a reduced cost d.
func (e *entry) try(col int32, a, d float64) {
	d = math.Max(0, d) / -a
	if d < e.ratio-tinyRatio || d <= e.ratio+tinyRatio && -a > e.most {
		e.col, e.ratio, e.most = col, math.Min(d, e.ratio), -a
	}
}

// direction computes the column in terms of the basis.
func (p *program) direction(u []float64, j int) {
	c := &p.cols[j]
	for i, r := range p.inv {
		v := 0.0
		for k, at := range c.at {
			v += float64(r[at] * c.by[k])
		}
		u[i] = v
	}
	*p.work += int64(p.m * len(c.at))
}

func (p *program) pivot(leave, enter int, u []float64) {
	p.row[p.basis[leave]] = -1
	p.basis[leave], p.row[enter] = int32(enter), int32(leave)
	if p.steps++; p.steps >= refresh && p.invert() {
		return
	}
	r := p.inv[leave]
	by := 1 / u[leave]
	for k := range r {
		r[k] *= by
	}
	p.x[leave] *= by
	for i, f := range u {
		if i == leave || math.Abs(f) < 1e-13 {
			continue
		}
		q := p.inv[i]
		for k, v := range r {
			q[k] -= float64(f * v)
		}
		p.x[i] -= float64(f * p.x[leave])
		*p.work += int64(p.m)
	}
}

// invert makes the inverse anew from the columns of the basis, so that rounding does not pile up. It reports false, and keeps
// what there was, when the basis has become too near to singular.
func (p *program) invert() bool {
	p.steps = 0
	n := p.m
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, 2*n)
		a[i][n+i] = 1
	}
	for k, b := range p.basis {
		c := &p.cols[b]
		for q, i := range c.at {
			a[i][k] = c.by[q]
		}
	}
	for k := range n {
		big := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[big][k]) {
				big = i
			}
		}
		if math.Abs(a[big][k]) < tinyPivot {
			return false
		}
		a[k], a[big] = a[big], a[k]
		by := 1 / a[k][k]
		for q := k; q < 2*n; q++ {
			a[k][q] *= by
		}
		for i := range n {
			f := a[i][k]
			if i == k || f == 0 {
				continue
			}
			row := a[k]
			for q := k; q < 2*n; q++ {
				a[i][q] -= float64(f * row[q])
			}
			*p.work += int64(2*n - k)
		}
	}
	for i := range n {
		copy(p.inv[i], a[i][n:])
	}
	p.values()
	return true
}
