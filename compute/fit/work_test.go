package fit

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"drytally/compute/units"
)

// large is a task of 200 boards and 12 pieces of one species. The boards are all unlike one another; together the pieces ask for a share
// of the boards' area.
func large(seed uint64, share float64) ([]Board, []Piece, Rules) {
	r := rand.New(rand.NewPCG(seed, 7))
	eighth := units.Fraction(1, 8)
	var boards []Board
	var area, wanted float64
	for i := range 200 {
		b := Board{ID: fmt.Sprintf("B%03d", i), Species: "oak", Length: units.Length(72+6*r.IntN(13)) * units.Inch, Width: 4*units.Inch + units.Length(r.IntN(65))*eighth,
			Thickness: 9 * eighth, Planed: []Planed{{Whole: units.Length(6+r.IntN(3)) * eighth, Ripped: units.Inch}}}
		boards = append(boards, b)
		area += b.Length.Inches() * b.Width.Inches()
	}
	var pieces []Piece
	for i := range 12 {
		pieces = append(pieces, Piece{ID: fmt.Sprint("P", i), Species: "oak", Thickness: []units.Length{6 * eighth, 6 * eighth, units.Inch}[r.IntN(3)],
			Width: 12*eighth + units.Length(2*r.IntN(25))*eighth, Length: units.Length(12+2*r.IntN(43)) * units.Inch, Count: 1})
	}
	for wanted < share*area {
		i := r.IntN(len(pieces))
		pieces[i].Count++
		wanted += pieces[i].Length.Inches() * pieces[i].Width.Inches()
	}
	return boards, pieces, Rules{EndTrim: units.Inch, CrossKerf: eighth, RipKerf: eighth, LeftLength: 24 * units.Inch, LeftWidth: 3 * units.Inch}
}

// knotty gives the boards of a task bad wood: up to most short stretches each, and crooks.
func knotty(seed uint64, boards []Board, most int) []Board {
	r := rand.New(rand.NewPCG(seed, 11))
	eighth := units.Fraction(1, 8)
	for i := range boards {
		b := &boards[i]
		for range r.IntN(most + 1) {
			from := units.Length(r.Int64N(int64(b.Length/eighth))) * eighth
			b.Defects = append(b.Defects, Span{From: from, To: from + units.Length(1+r.IntN(48))*eighth})
		}
		if r.IntN(3) == 0 {
			b.Crook = units.Length(r.IntN(6)) * eighth
		}
	}
	return boards
}

// TestLargeKnotty: the same with bad wood in the boards, a few stretches each and very many, and with crooks. The number
// of pieces made is proven to be the most here too; the wood used is within a hundredth of the proven bound.
func TestLargeKnotty(t *testing.T) {
	if testing.Short() {
		t.Skip("not checked with -short: large cutting plans of knotty boards")
	}
	for i, c := range []struct {
		share float64
		most  int
	}{{0.4, 2}, {0.4, 6}, {0.9, 2}, {0.9, 6}, {0.6, 20}} {
		boards, pieces, rules := large(uint64(i%2), c.share)
		boards = knotty(uint64(i), boards, c.most)
		plan := cut(t, boards, pieces, rules)
		gap := plan.Gap()
		t.Logf("up to %d stretches of bad wood, pieces of %.0f %% of the area: %d missing, order %d, wood %d; gap %+v, %d million steps", c.most, 100*c.share,
			plan.Used.Missing, plan.Used.Order, plan.Used.Wood, gap, plan.Work/1_000_000)
		if gap.Pieces != 0 || gap.Wood > plan.Used.Wood/100 {
			t.Errorf("up to %d stretches of bad wood, pieces of %.0f %% of the area: got %+v, bound %+v", c.most, 100*c.share, plan.Used, plan.Bound)
		}
	}
}

// TestLarge: 200 boards and 12 pieces, with wood enough and with too little. The number of pieces made is proven to be the most; the
// wood used is within a hundredth of the proven bound.
func TestLarge(t *testing.T) {
	if testing.Short() {
		t.Skip("not checked with -short: large cutting plans")
	}
	for seed, share := range []float64{0.4, 0.7, 0.9, 1.3} {
		boards, pieces, rules := large(uint64(seed%2), share)
		plan := cut(t, boards, pieces, rules)
		gap := plan.Gap()
		t.Logf("pieces of %.0f %% of the area, task %d: %d missing, order %d, wood %d; gap %+v, %d million steps", 100*share, seed,
			plan.Used.Missing, plan.Used.Order, plan.Used.Wood, gap, plan.Work/1_000_000)
		if gap.Pieces != 0 || gap.Wood > plan.Used.Wood/100 {
			t.Errorf("pieces of %.0f %% of the area, task %d: got %+v, bound %+v", 100*share, seed, plan.Used, plan.Bound)
		}
	}
}

func BenchmarkLarge(b *testing.B) {
	for _, share := range []float64{0.4, 0.7, 0.9, 1.3} {
		b.Run(fmt.Sprint(share), func(b *testing.B) {
			boards, pieces, rules := large(0, share)
			for b.Loop() {
				plan, err := Cut(boards, pieces, rules)
				if err != nil {
					b.Fatal(err)
				}
				gap := plan.Gap()
				b.ReportMetric(float64(gap.Pieces), "gap-pieces")
				b.ReportMetric(float64(gap.Order), "gap-order")
				b.ReportMetric(100*float64(gap.Wood)/float64(plan.Used.Wood), "gap-wood-%")
			}
		})
	}
}
