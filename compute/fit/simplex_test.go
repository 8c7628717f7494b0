package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

// TestProgramAgainstGonum compares least costs with those of another solver of linear programs: columns that cover demands, some of them
// at a price, others held by a cap.
func TestProgramAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		demands, caps := rapid.IntRange(1, 5).Draw(t, "demands"), rapid.IntRange(1, 4).Draw(t, "caps")
		m := demands + caps
		rhs, sign := make([]float64, m), make([]float64, m)
		for i := range rhs {
			rhs[i], sign[i] = float64(rapid.IntRange(0, 9).Draw(t, "rhs")), 1
			if i < demands {
				sign[i] = -1
			}
		}
		var work int64
		p := newProgram(append([]float64(nil), rhs...), sign, &work)
		for i := range demands { // a demand can be left for a price, so that there is always a solution
			p.add(column{at: []int32{int32(i)}, by: []float64{1}, cost: float64(rapid.IntRange(20, 40).Draw(t, "price"))})
		}
		for range rapid.IntRange(0, 12).Draw(t, "columns") {
			c := column{cost: float64(rapid.IntRange(0, 30).Draw(t, "cost"))}
			for i := range demands {
				if a := rapid.IntRange(0, 4).Draw(t, "makes"); a > 0 {
					c.at, c.by = append(c.at, int32(i)), append(c.by, float64(a))
				}
			}
			c.at, c.by = append(c.at, int32(demands+rapid.IntRange(0, caps-1).Draw(t, "cap"))), append(c.by, 1)
			p.add(c)
		}
		a := mat.NewDense(m, len(p.cols), nil)
		cost := make([]float64, len(p.cols))
		for j, c := range p.cols {
			cost[j] = c.cost
			for k, i := range c.at {
				a.Set(int(i), j, c.by[k])
			}
		}
		want, _, err := lp.Simplex(cost, a, rhs, 1e-10, nil)
		if err != nil {
			t.Fatalf("the other solver: %v", err)
		}
		if !p.dual() {
			t.Fatalf("no solution was found, want %g", want)
		}
		if got := p.objective(); math.Abs(got-want) > 1e-6 {
			t.Errorf("dual: got %g, want %g", got, want)
		}
		// With other costs the basis stays a solution and the least cost is found from there.
		for j := range p.cols {
			if j >= m {
				p.cols[j].cost = float64((j * 7) % 13)
				cost[j] = p.cols[j].cost
			}
		}
		if want, _, err = lp.Simplex(cost, a, rhs, 1e-10, nil); err != nil {
			t.Fatalf("the other solver, other costs: %v", err)
		}
		if !p.primal() {
			t.Fatalf("no least cost was found, want %g", want)
		}
		if got := p.objective(); math.Abs(got-want) > 1e-6 {
			t.Errorf("primal: got %g, want %g", got, want)
		}
	})
}
