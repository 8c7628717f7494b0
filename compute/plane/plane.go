// Package plane computes what a dry board planes and joints to, and which wanted sizes it makes.
package plane

import (
	"errors"
	"fmt"

	"drytally/compute/units"
)

// Board is a dry board, measured. A warp of 0 was not given and is computed as none.
type Board struct {
	Thickness     []units.Length // callipered through the board at one place or several
	Width, Length units.Length
	Clear         units.Length // longest piece that can be cut from it, ends trimmed and bad wood cut out; 0: as long as it is
	Cup           units.Length // gap under a straight line from edge to edge on the hollow face
	Bow           units.Length // gap under a line from end to end on the face
	Crook         units.Length // gap under a line from end to end on the edge
	Twist         units.Length // height of the free corner when the other end lies snug
}

// TwistRule says how much of a twist is planed off.
type TwistRule uint8

// The rules.
const (
	TwistShimmed TwistRule = iota // half: levelled with equal shims before planing
	TwistFull                     // all of it: three corners on the table
)

// WarpRule says how cup, bow and twist are joined when a board has more than one.
type WarpRule uint8

// The rules. The sum is over-safe, the largest alone optimistic; the sum is the default.
const (
	WarpSum WarpRule = iota
	WarpLargest
)

// String gives the words printed beside a planed size.
func (r WarpRule) String() string {
	return [...]string{"cup, bow and twist added", "the largest of cup, bow and twist"}[r]
}

// Cut is how the board is worked.
type Cut struct {
	Skim    units.Length // least cut of one face
	EdgeCut units.Length // least cut of one edge
	Kerf    units.Length // of the rip saw
	Twist   TwistRule
	Warp    WarpRule
}

// Plan is how a board is cut before it is planed. The zero value is the board whole.
type Plan struct {
	Strips int          // ripped into this many equal strips; 0 and 1 are not ripped
	Length units.Length // cut to this length; 0 is the whole length
}

// Loss is what planing takes off a board besides the cuts of the faces and edges.
type Loss struct {
	Cup, Bow, Twist, Crook units.Length // as they count for the plan
}

// Size is what a board comes to.
type Size struct {
	Least     units.Length // least thickness measured
	Thickness units.Length // planed on both faces
	Width     units.Length // of the board or of one strip, jointed on both edges; 0 when the width was not measured
	Loss      Loss
}

// ErrNoThickness says that no thickness was measured.
var ErrNoThickness = errors.New("no thickness was measured")

func (b Board) check(c Cut, p Plan) error {
	for _, l := range append([]units.Length{b.Width, b.Length, b.Cup, b.Bow, b.Crook, b.Twist, c.Skim, c.EdgeCut, c.Kerf, p.Length}, b.Thickness...) {
		if l < 0 || l > 100*units.Metre {
			return fmt.Errorf("the size %s is not 0 to 100 m", l)
		}
	}
	if p.Strips < 0 || p.Strips > mostStrips {
		return fmt.Errorf("%d strips are not 0 to %d", p.Strips, mostStrips)
	}
	if p.Length > 0 && b.Length > 0 && p.Length > b.Length {
		return fmt.Errorf("the length %s to cut is more than the board's %s", p.Length, b.Length)
	}
	return nil
}

// mostStrips keeps the arithmetic of strips inside what a board can be ripped into.
const mostStrips = 100

// least returns the smallest thickness measured that was given, 0 when none was.
func (b Board) least() units.Length {
	var out units.Length
	for _, t := range b.Thickness {
		if t > 0 && (out == 0 || t < out) {
			out = t
		}
	}
	return out
}

// To returns what the board planes to and is jointed to.
//
// Thickness is the least thickness less cup, bow and twist as they count for the plan, less a skim cut of both faces; it can
// come out 0 or below, and then nothing is left. Width is the strip's width less the crook and both edge cuts.
//
// Ripped into n strips a board keeps cup/n2; cut from length L to l it keeps bow and crook times (l/L)2, twist times l/L, and
// in strips twist/n. Cup comes off once: at the edges it is taken from the hollow face, in the middle from the round one, and
// no place loses both. It would be twice only if the thickness were the height of the board lying on the table.
// Without the board's length bow, crook and twist count in full. Strips are (width - (n - 1) kerf)/n wide.
// The error is ErrNoThickness, or names a range.
//
// Source: Wengert on planing cupped boards: thickness less cup less roughness; seen. The squares are derived from the arc of
// a circle (see Arc), the twist from the surface z = h u v over the board.
func (b Board) To(c Cut, p Plan) (Size, error) {
	if err := b.check(c, p); err != nil {
		return Size{}, err
	}
	out := Size{Least: b.least()}
	if out.Least == 0 {
		return Size{}, ErrNoThickness
	}
	n := units.Length(max(1, p.Strips))
	share := 1.0
	if p.Length > 0 && b.Length > 0 {
		share = float64(p.Length) / float64(b.Length)
	}
	// Losses are rounded up to the nanometre: an allowance is never cut short.
	part := func(l units.Length, by float64) units.Length {
		x := float64(l) * by
		y := units.Length(x)
		if float64(y) < x {
			y++
		}
		return y
	}
	out.Loss = Loss{Cup: part(b.Cup, 1/float64(n*n)), Bow: part(b.Bow, share*share), Crook: part(b.Crook, share*share),
		Twist: part(b.Twist, share/float64(n))}
	if c.Twist == TwistShimmed {
		out.Loss.Twist = (out.Loss.Twist + 1) / 2
	}
	warp := out.Loss.Cup + out.Loss.Bow + out.Loss.Twist
	if c.Warp == WarpLargest {
		warp = max(out.Loss.Cup, out.Loss.Bow, out.Loss.Twist)
	}
	out.Thickness = out.Least - warp - 2*c.Skim
	if b.Width > 0 {
		out.Width = (b.Width-(n-1)*c.Kerf)/n - out.Loss.Crook - 2*c.EdgeCut
	}
	return out, nil
}
