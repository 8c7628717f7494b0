package plane

import (
	"errors"
	"slices"

	"drytally/compute/units"
)

// Piece is a finished size that is wanted. Width or Length 0: any will do.
type Piece struct {
	Thickness, Width, Length units.Length
}

// Lack is a reason why a board does not make a piece.
type Lack uint8

// The lacks. The zero value is "nothing lacks".
const (
	Nothing     Lack = iota
	NotMeasured      // What was not measured on the board
	TooShort         // by By
	TooNarrow        // by By
	TooThin          // by By
)

// Measure is what can be measured on a board.
type Measure uint8

// The measures.
const (
	Thickness Measure = iota
	Width
	Length
)

// Reason says why a board makes no piece: what lacks, by how much, and for which piece.
type Reason struct {
	Lack   Lack
	What   Measure      // NotMeasured only
	By     units.Length // TooShort, TooNarrow, TooThin: how much more it would take
	Strips int          // TooThin only: the fewest strips it is ripped into when it lacks least; 1: not ripped
	Piece  int          // index of the piece that lacks least
}

// Made is a piece that a board makes.
type Made struct {
	Piece int // index into the pieces asked for
	Plan  Plan
	Size  Size
}

// Fit is what a board makes: the pieces, largest first, or why none.
type Fit struct {
	Made []Made
	None Reason
}

// Fits returns which of the wanted pieces a board makes, the largest (by volume, then in order) first.
//
// A board is tried whole, then ripped into ever more strips as long as a strip is wide enough; the fewest strips that do are
// kept. It is cut to the piece's length before planing when that is given. When it makes none, None tells what lacks for the
// piece that comes nearest, by its shortage as a share of what is needed.
// The error names a size out of range; a measure that is missing is a Reason and no error.
func Fits(b Board, c Cut, pieces []Piece) (Fit, error) {
	if err := b.check(c, Plan{}); err != nil {
		return Fit{}, err
	}
	var out Fit
	nearest := -1.0
	for i, p := range pieces {
		plan, size, lack, err := b.makes(c, p)
		if err != nil {
			return Fit{}, err
		}
		if lack.Lack == Nothing {
			out.Made = append(out.Made, Made{Piece: i, Plan: plan, Size: size})
			continue
		}
		lack.Piece = i
		if short := lack.share(p); nearest < 0 || short < nearest {
			nearest, out.None = short, lack
		}
	}
	if len(out.Made) > 0 {
		out.None = Reason{}
	}
	slices.SortStableFunc(out.Made, func(x, y Made) int {
		a, b := pieces[x.Piece].bulk(), pieces[y.Piece].bulk()
		switch {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	return out, nil
}

// bulk orders pieces by size; an unnamed measure counts as one inch.
func (p Piece) bulk() float64 {
	x := 1.0
	for _, l := range []units.Length{p.Thickness, p.Width, p.Length} {
		if l > 0 {
			x *= l.Inches()
		}
	}
	return x
}

// share makes shortages of different measures comparable. What was not measured comes last: nothing is known of it.
func (r Reason) share(p Piece) float64 {
	of := map[Lack]units.Length{TooShort: p.Length, TooNarrow: p.Width, TooThin: p.Thickness}[r.Lack]
	if of == 0 {
		return 2
	}
	return float64(r.By) / float64(of)
}

// makes finds the plan by which the board makes the piece, or what lacks. Length is looked at first, then width, then
// thickness: a board too short is not helped by anything, a thin one may be by ripping.
func (b Board) makes(c Cut, p Piece) (Plan, Size, Reason, error) {
	switch {
	case b.least() == 0:
		return Plan{}, Size{}, Reason{Lack: NotMeasured, What: Thickness}, nil
	case p.Length > 0 && b.Length == 0:
		return Plan{}, Size{}, Reason{Lack: NotMeasured, What: Length}, nil
	case p.Width > 0 && b.Width == 0:
		return Plan{}, Size{}, Reason{Lack: NotMeasured, What: Width}, nil
	}
	clear := b.Length
	if b.Clear > 0 {
		clear = min(clear, b.Clear)
	}
	if p.Length > clear && b.Length > 0 {
		return Plan{}, Size{}, Reason{Lack: TooShort, By: p.Length - clear}, nil
	}
	lack := Reason{Lack: TooThin}
	for n := 1; n <= mostStrips; n++ {
		plan := Plan{Strips: n, Length: p.Length}
		size, err := b.To(c, plan)
		if err != nil {
			return Plan{}, Size{}, Reason{}, errors.Join(errors.New("planing"), err)
		}
		if size.Width < p.Width {
			if n == 1 {
				return Plan{}, Size{}, Reason{Lack: TooNarrow, By: p.Width - size.Width}, nil
			}
			break
		}
		if size.Thickness >= p.Thickness {
			return plan, size, Reason{}, nil
		}
		if thin := p.Thickness - size.Thickness; lack.Strips == 0 || thin < lack.By {
			lack.By, lack.Strips = thin, n
		}
		// Without a width to keep, or without cup and twist to lose, ripping helps nothing.
		if p.Width == 0 || b.Cup+b.Twist == 0 {
			break
		}
	}
	return Plan{}, Size{}, lack, nil
}
