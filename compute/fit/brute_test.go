package fit

import (
	"fmt"
	"testing"

	"drytally/compute/units"

	"pgregory.net/rapid"
)

// exhaust finds the best score of a small task by going through everything: for every clear length and every choice of wanted pieces
// the least that their rows take up, and then every way to share the pieces out among the clear lengths. Of the solving it takes only
// what a clear length is, what a crook costs and how wood is counted.
func exhaust(boards []Board, pieces []Piece, r Rules) Score {
	// A choice of pieces is a number: digit i, of base Count+1, is how many of piece i.
	size, place := 1, make([]int, len(pieces))
	for i, p := range pieces {
		place[i] = size
		size *= p.Count + 1
	}
	digits := make([][]int, size)
	for m := range digits {
		for i, p := range pieces {
			digits[m] = append(digits[m], m/place[i]%(p.Count+1))
		}
	}
	holds := func(m, part int) bool {
		for i, n := range digits[part] {
			if n > digits[m][i] {
				return false
			}
		}
		return true
	}
	const no = 1 << 60
	least := make([]int64, size) // wood of the boards so far for a choice
	for m := 1; m < size; m++ {
		least[m] = no
	}
	for _, c := range clearLengths(boards, r) {
		b := boards[c.board]
		total := c.to - c.from
		cost := make([]int64, size)
		for m := 1; m < size; m++ {
			cost[m] = no
		}
		for _, rip := range []bool{false, true} {
			// row is how far a row of just these pieces reaches, with its kerf; 0: it can't be cut.
			row := make([]units.Length, size)
			for m := 1; m < size; m++ {
				var far, sum units.Length
				kerf, can := r.RipKerf, true
				if rip {
					kerf = r.CrossKerf
				}
				for i, n := range digits[m] {
					if n == 0 {
						continue
					}
					p := pieces[i]
					can = can && suits(b, p, r)
					long, item := p.Length, p.Width
					if rip {
						long, item = p.Width, p.Length
					}
					far = max(far, long)
					sum += units.Length(n) * (item + kerf)
				}
				room := c.usable()
				if !rip {
					room = b.Width - b.edge(far)
				}
				if can && sum-kerf <= room {
					row[m] = far + r.CrossKerf
					if rip {
						row[m] = far + r.RipKerf
					}
				}
			}
			room, kerf := c.usable(), r.CrossKerf
			if rip {
				room, kerf = b.Width-b.edge(total), r.RipKerf
			}
			reach := make([]units.Length, size)
			for m := 1; m < size; m++ {
				reach[m] = no
				for part := 1; part <= m; part++ {
					if row[part] > 0 && holds(m, part) {
						reach[m] = min(reach[m], reach[m-part]+row[part])
					}
				}
				x := reach[m]
				if x-kerf > room {
					continue
				}
				v := wood(b.Thickness, b.Width, total)
				if rest := total - c.lead - x; !rip && rest > 0 && rest >= r.LeftLength && b.Width >= r.LeftWidth {
					v = wood(b.Thickness, b.Width, c.lead+x)
				}
				if rest := room - x; rip && rest > 0 && rest >= r.LeftWidth && total >= r.LeftLength {
					v = wood(b.Thickness, b.Width-rest, total)
				}
				if b.Unsure {
					v *= 2
				}
				cost[m] = min(cost[m], v)
			}
		}
		for m := size - 1; m > 0; m-- {
			for part := 1; part <= m; part++ {
				if cost[part] < no && holds(m, part) {
					least[m] = min(least[m], least[m-part]+cost[part])
				}
			}
		}
	}
	best := Score{Missing: no}
	for m, v := range least {
		if v >= no {
			continue
		}
		s := Score{Wood: v}
		for i, p := range pieces {
			short := p.Count - digits[m][i]
			s.Missing += short
			s.Order += short * (len(pieces) - i)
		}
		if s.less(best) {
			best = s
		}
	}
	return best
}

// tinyTask draws a task small enough to exhaust, with sizes coarse enough that many plans come near one another.
func tinyTask(t *rapid.T) ([]Board, []Piece, Rules) {
	step := units.Fraction(1, 2)
	if rapid.Bool().Draw(t, "fine") {
		step = units.Fraction(1, 8)
	}
	in := func(low, high int, what string) units.Length {
		return units.Length(rapid.IntRange(low, high).Draw(t, what)) * units.Inch
	}
	near := func(low, high int, what string) units.Length {
		return units.Length(rapid.IntRange(int(units.Length(low)*units.Inch/step), int(units.Length(high)*units.Inch/step)).Draw(t, what)) * step
	}
	r := Rules{EndTrim: in(0, 1, "trim"), CrossKerf: units.Length(rapid.IntRange(0, 2).Draw(t, "kerf")) * units.Fraction(1, 8), RipKerf: units.Length(rapid.IntRange(0, 2).Draw(t, "rip kerf")) * units.Fraction(1, 8),
		LeftLength: in(0, 20, "left"), LeftWidth: in(0, 3, "left width"),
		Work: rapid.SampledFrom([]int64{0, 0, 0, 1_000, 10_000, 100_000, 1_000_000}).Draw(t, "work")}
	woods := []string{"oak", "oak", "oak", "ash"}
	var boards []Board
	for i := range rapid.IntRange(1, 6).Draw(t, "boards") {
		b := Board{ID: fmt.Sprint("b", i), Species: rapid.SampledFrom(woods).Draw(t, "wood"), Length: near(14, 60, "length"), Width: near(3, 10, "width"), Thickness: in(1, 2, "thickness"),
			Planed:   []Planed{{UpTo: in(0, 30, "up to"), Whole: in(0, 2, "whole"), Ripped: in(1, 2, "ripped")}, {Whole: in(0, 1, "whole"), Ripped: in(1, 1, "ripped")}},
			HeldBack: rapid.IntRange(0, 19).Draw(t, "held") == 0, Unsure: rapid.IntRange(0, 2).Draw(t, "unsure") == 0}
		switch rapid.IntRange(0, 9).Draw(t, "bad") {
		case 0:
			b.LoseStart = in(0, 6, "start")
		case 1:
			b.LoseEnd = in(0, 6, "end")
		case 2, 3, 4:
			for range rapid.IntRange(1, 3).Draw(t, "defects") {
				from := near(0, 60, "from")
				b.Defects = append(b.Defects, Span{from, from + near(0, 3, "bad")})
			}
		case 5:
			b.Crook = units.Length(rapid.IntRange(0, 12).Draw(t, "crook")) * units.Fraction(1, 8)
		}
		boards = append(boards, b)
	}
	var pieces []Piece
	for i, room := 0, 400; i < 5; i++ {
		n := rapid.IntRange(0, min(4, room-1)).Draw(t, "count")
		room /= n + 1
		p := Piece{ID: fmt.Sprint("p", i), Species: rapid.SampledFrom(woods).Draw(t, "wood"), Thickness: in(1, 2, "thickness"), Width: near(1, 5, "width"), Length: near(5, 30, "length"), Count: n}
		if p.Thickness > units.Inch && rapid.Bool().Draw(t, "thin") {
			p.Thickness = units.Inch
		}
		pieces = append(pieces, p)
		if rapid.IntRange(0, 9).Draw(t, "deny") == 0 {
			boards[0].Deny = append(boards[0].Deny, p.ID)
		}
	}
	return boards, pieces, r
}

// TestAgainstEverything holds plans and bounds against the best of everything there is, with work enough and with too little: no bound
// lies above the best, no plan below, and what is proven is the best.
func TestAgainstEverything(t *testing.T) {
	proven, open := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		boards, pieces, r := tinyTask(t)
		plan := cut(t, boards, pieces, r)
		want := exhaust(boards, pieces, r)
		used, bound := plan.Used, plan.Bound
		if used.less(want) {
			t.Fatalf("the plan comes to %+v, the best there is to %+v", used, want)
		}
		if plan.Rounded != 0 {
			t.Fatalf("sizes were rounded to %s", plan.Rounded)
		}
		if bound.Missing > want.Missing || used.Missing == want.Missing && (bound.Order > want.Order || used.Order == want.Order && bound.Wood > want.Wood) {
			t.Errorf("the bound is %+v, the best there is comes to %+v", bound, want)
		}
		if plan.Proven && used != want {
			t.Errorf("proven with %+v, the best there is comes to %+v", used, want)
		}
		if r.Work == 0 && !plan.Proven {
			t.Errorf("not proven with all the work: %+v, bound %+v, the best there is comes to %+v", used, bound, want)
		}
		if proven++; !plan.Proven {
			proven--
			open++
		}
	})
	t.Logf("%d were proven, %d not", proven, open)
	if proven+open >= enoughDraws && (proven == 0 || open == 0) {
		t.Errorf("%d were proven and %d not: too few to tell", proven, open)
	}
}
