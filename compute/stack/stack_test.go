package stack

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute/source"
	"drytally/compute/units"
)

const inch, foot = units.Inch, units.Foot

// small is a kiln of 13 x 10 x 4 ft with easy gaps: 144 in along, 108 in across, 36 in up are clear.
func small() Kiln {
	return Kiln{Length: 150 * inch, Width: 10 * foot, Height: 4 * foot, Bolster: 4 * inch, Top: 8 * inch, WallGap: 6 * inch, EndGap: 3 * inch,
		BoardGap: inch / 2, Sticker: 3 * inch / 4}
}

// By hand: n boards of 10 in with gaps of 1/2 in take 10.5 n - 0.5 in, so 10 lie in 108 in, 104.5 in wide. 120 of them make 12
// courses of 1 3/4 in with their stickers: 21 in above bolsters of 4 in. Twelve feet with stickers at most 16 in apart takes
// 9 spaces, 10 lines; ten feet ends on a line of its own.
func TestTwoLengthsByHand(t *testing.T) {
	rows := []Row{{Thickness: inch, Width: 10 * inch, Length: 10 * foot, Count: 50}, {Thickness: inch, Width: 10 * inch, Length: 12 * foot, Count: 70}}
	p, err := For(small(), rows)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Stacks) != 1 || p.Fates[0] != (Fate{Placed: 50}) || p.Fates[1] != (Fate{Placed: 70}) {
		t.Fatalf("got %d stacks and fates %v, want 1 and all placed", len(p.Stacks), p.Fates)
	}
	s := p.Stacks[0]
	if len(s.Courses) != 12 || s.Width != 209*inch/2 || s.Height != 25*inch || s.Length != 12*foot || s.Side != (120*inch-209*inch/2)/2 || s.Opening != 9*inch {
		t.Errorf("got %d courses, %s wide, %s high, %s long, %s at the walls, openings %s", len(s.Courses), s.Width, s.Height, s.Length, s.Side, s.Opening)
	}
	for i, c := range s.Courses {
		want := 12 * foot
		if i >= 7 {
			want = 10 * foot
		}
		if c.Longest != want || c.Shortest != want || len(c.Boards) != 10 || c.Gap != inch/2 || c.Sparse {
			t.Errorf("course %d: got %d boards of %s to %s, gap %s, sparse %v; want 10 of %s, 1/2", i+1, len(c.Boards), c.Shortest, c.Longest, c.Gap, c.Sparse, want)
		}
	}
	// 10 ft in 8 spaces of 15 in, then 24 in in 2 of 12 in.
	if got := fmt.Sprint(s.Lines); got != fmt.Sprint([]units.Length{0, 15 * inch, 30 * inch, 45 * inch, 60 * inch, 75 * inch, 90 * inch, 105 * inch, 120 * inch, 132 * inch, 144 * inch}) {
		t.Errorf("lines at %s", got)
	}
	if n, run := p.Stickers(); n != 7*11+5*9 || run != units.Length(122)*209*inch/2 || s.Widest != 15*inch {
		t.Errorf("got %d stickers, %s in all, at most %s apart; want 122", n, run, s.Widest)
	}
}

func TestWhyBoardsStayOut(t *testing.T) {
	k := small()
	for _, c := range []struct {
		name   string
		row    Row
		placed int
		why    Reason
	}{
		{"too long", Row{Thickness: inch, Width: 10 * inch, Length: 145 * inch, Count: 3}, 0, TooLong},
		{"just long enough", Row{Thickness: inch, Width: 10 * inch, Length: 144 * inch, Count: 3}, 3, AllPlaced},
		{"too wide", Row{Thickness: inch, Width: 109 * inch, Length: 60 * inch, Count: 1}, 0, TooWide},
		{"too thick", Row{Thickness: 36 * inch, Width: 40 * inch, Length: 60 * inch, Count: 1}, 0, TooThick},
		// 36 in of height hold 20 courses of 1 3/4 in; two stacks of 5 ft stand behind each other in 144 in: 400 boards.
		{"no room", Row{Thickness: inch, Width: 10 * inch, Length: 60 * inch, Count: 401}, 400, NoRoom},
		{"none", Row{Thickness: inch, Width: 10 * inch, Length: 60 * inch}, 0, AllPlaced},
	} {
		p, err := For(k, []Row{c.row})
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Fates[0]; got != (Fate{Placed: c.placed, Out: c.row.Count - c.placed, Why: c.why}) {
			t.Errorf("%s: got %+v (%s), want %d placed, %s", c.name, got, got.Why, c.placed, c.why)
		}
	}
}

func TestMeasuresThatLeaveNoRoom(t *testing.T) {
	for _, c := range []struct {
		change func(*Kiln)
		words  string
	}{
		{func(k *Kiln) { k.Height = 0 }, "inside measures"},
		{func(k *Kiln) { k.WallGap = 5 * foot }, "gaps at the walls"},
		{func(k *Kiln) { k.EndGap = 80 * inch }, "gaps at the ends"},
		{func(k *Kiln) { k.Bolster = 40 * inch }, "no height"},
		{func(k *Kiln) { k.Sticker = 0 }, "sticker thickness"},
	} {
		k := small()
		c.change(&k)
		if _, err := For(k, nil); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("got %v, want an error with %q", err, c.words)
		}
	}
	if _, err := For(Kiln{Length: 60 * foot, Width: 60 * foot, Height: 60 * foot, Sticker: inch}, []Row{{Thickness: inch, Width: inch / 4, Length: foot, Count: 900_000}}); err == nil {
		t.Error("a kiln that holds boards without end is refused nowhere")
	}
}

// A slow wood and a fast one of the same length: the slow one lies below. Where lengths differ, length decides.
func TestWhatDriesFirstLiesOnTop(t *testing.T) {
	rows := []Row{{Thickness: inch, Width: 50 * inch, Length: 8 * foot, Count: 2, Slow: 1}, {Thickness: 2 * inch, Width: 50 * inch, Length: 8 * foot, Count: 2, Slow: 2.5},
		{Thickness: inch, Width: 50 * inch, Length: 10 * foot, Count: 2, Slow: 1}}
	p, err := For(small(), rows)
	if err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, c := range p.Stacks[0].Courses {
		got = append(got, c.Boards[0].Row)
	}
	if fmt.Sprint(got) != "[2 1 0]" {
		t.Errorf("courses from the bottom are of rows %v, want [2 1 0]", got)
	}
}

func TestSpacingFor(t *testing.T) {
	for _, c := range []struct{ thick, want units.Length }{{3 * inch / 4, 12 * inch}, {inch, 16 * inch}, {units.Fraction(11, 8), 16 * inch}, {units.Fraction(3, 2), 24 * inch}, {3 * inch, 24 * inch}} {
		if got, from := SpacingFor(c.thick); got != c.want || from.Status != source.CommonPractice {
			t.Errorf("SpacingFor(%s): got %s (%s), want %s", c.thick, got, from, c.want)
		}
	}
}

// Whatever the kiln and the tally: every board is accounted for, nothing overlaps, nothing leaves the kiln, no board lies on a
// shorter one, a course has one thickness, and every end of a board lies on a line of stickers.
func TestPlanHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(label string, low, high int) units.Length {
			return units.Length(rapid.IntRange(low, high).Draw(t, label)) * units.Millimetre
		}
		k := Kiln{Length: mm("length", 500, 8000), Width: mm("width", 300, 3000), Height: mm("height", 300, 2500), Bolster: mm("bolster", 0, 150), Top: mm("top", 0, 200),
			WallGap: mm("wall", 0, 150), EndGap: mm("end", 0, 100), BoardGap: mm("gap", 0, 40), Sticker: mm("sticker", 10, 32), Spacing: mm("spacing", 0, 700)}
		var rows []Row
		for range rapid.IntRange(0, 9).Draw(t, "rows") {
			rows = append(rows, Row{Thickness: units.Length(rapid.SampledFrom([]int{19, 27, 29, 54}).Draw(t, "thick")) * units.Millimetre, Width: mm("wide", 40, 700),
				Length: units.Length(rapid.SampledFrom([]int{900, 2400, 2450, 2500, 3100}).Draw(t, "long")) * units.Millimetre,
				Count:  rapid.IntRange(0, 60).Draw(t, "count"), Slow: float64(rapid.IntRange(0, 2).Draw(t, "slow"))})
		}
		p, err := For(k, rows)
		if err != nil {
			if _, across, up := k.Clear(); across > 0 && up > k.Sticker && k.Length > 2*k.EndGap {
				t.Fatalf("refused: %v", err)
			}
			return
		}
		keeps(t, k, rows, p)
	})
}

// keeps holds a plan against what every plan must keep.
func keeps(t interface {
	Helper()
	Fatalf(format string, args ...any)
}, k Kiln, rows []Row, p Plan) {
	t.Helper()
	lying := make([]int, len(rows))
	end := units.Length(0)
	for n, s := range p.Stacks {
		if s.Start < end+k.EndGap || s.Start+s.Length > k.Length-k.EndGap {
			t.Fatalf("stack %d lies from %s to %s in a kiln of %s", n+1, s.Start, s.Start+s.Length, k.Length)
		}
		end = s.Start + s.Length
		if s.Height > k.Height-k.Top || s.Side < k.WallGap {
			t.Fatalf("stack %d is %s high with %s at the walls", n+1, s.Height, s.Side)
		}
		top, below, stickers := k.Bolster, units.Length(1<<62), 0
		for i, c := range s.Courses {
			if c.Base != top || len(c.Boards) == 0 {
				t.Fatalf("course %d of %d boards lies at %s, want %s", i+1, len(c.Boards), c.Base, top)
			}
			top += c.Thickness + k.Sticker
			right := k.WallGap
			for j, b := range c.Boards {
				lying[b.Row]++
				r := rows[b.Row]
				if r.Thickness != c.Thickness || r.Width != b.Width || r.Length != b.Length || b.Length < c.Shortest || b.Length > c.Longest {
					t.Fatalf("course %d holds a board that is not as its row", i+1)
				}
				if j > 0 {
					right += k.BoardGap
				}
				if b.X < right || b.X+b.Width > k.Width-k.WallGap {
					t.Fatalf("course %d: board %d lies from %s to %s; the board before it ends at %s", i+1, j+1, b.X, b.X+b.Width, right)
				}
				right = b.X + b.Width
				near := false
				for _, at := range s.Lines {
					near = near || at <= b.Length && b.Length-at <= endShare
				}
				if !near {
					t.Fatalf("no line of stickers at the end of a board of %s: %v", b.Length, s.Lines)
				}
			}
			if c.Longest > below {
				t.Fatalf("course %d has a board of %s above one of %s", i+1, c.Longest, below)
			}
			below = c.Shortest
			stickers += c.Stickers
		}
		if top != s.Height || stickers != s.Stickers {
			t.Fatalf("stack %d: height %s and %d stickers, its courses come to %s and %d", n+1, s.Height, s.Stickers, top, stickers)
		}
		if s.Widest > s.Spacing {
			t.Fatalf("stickers %s apart, at most %s asked for", s.Widest, s.Spacing)
		}
	}
	for i, r := range rows {
		f := p.Fates[i]
		if lying[i] != f.Placed || f.Placed+f.Out != r.Count || (f.Out == 0) != (f.Why == AllPlaced) {
			t.Fatalf("row %d: %d lie there, fate %+v, of %d", i, lying[i], f, r.Count)
		}
	}
}
