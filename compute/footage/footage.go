// Package footage counts board feet by named rules, exactly, and the solid volume and weight of measured boards.
package footage

import (
	"fmt"
	"math/big"
	"slices"

	"drytally/compute/units"
)

// Rule names a rule of counting. The rules are never mixed in one total. The zero value is "not said".
type Rule uint8

// The rules.
const (
	NotSaid Rule = iota
	// Volume is thickness x width x length / 12 of the sizes given, thickness under 1 in counted as 1 in.
	Volume
	// Surface is the hardwood rule: whole feet of length, width x length / 12 rounded to whole square feet for each board,
	// exact halves alternately up and down in the order of the rows, times the nominal thickness.
	Surface
	// Nominal is the softwood rule: as Volume, of nominal sizes and the actual length.
	Nominal
)

// String gives the words printed beside a total.
func (r Rule) String() string {
	return [...]string{"not said", "volume measure", "hardwood surface measure", "softwood nominal"}[r]
}

// Piece is a row of like boards. For Volume the sizes are those measured, for Surface the nominal thickness and the
// measured width and length, for Nominal the nominal thickness and width and the actual length.
type Piece struct {
	Thickness, Width, Length units.Length
	Count                    int
}

// mostPieces keeps hundredths of a board foot far inside 64 bits.
const mostPieces = 1_000_000

func (p Piece) check() error {
	for _, x := range []struct {
		name string
		l    units.Length
		most units.Length
	}{{"thickness", p.Thickness, units.Metre}, {"width", p.Width, 10 * units.Metre}, {"length", p.Length, 100 * units.Metre}} {
		if x.l <= 0 || x.l > x.most {
			return fmt.Errorf("the %s %s is not above 0 and at most %s", x.name, x.l, x.most)
		}
	}
	if p.Count < 0 || p.Count > mostPieces {
		return fmt.Errorf("%d pieces are not 0 to %d", p.Count, mostPieces)
	}
	return nil
}

// Feet is an exact number of board feet. The zero value is none.
type Feet struct{ exact *big.Rat }

func (f Feet) rat() *big.Rat {
	if f.exact == nil {
		return new(big.Rat)
	}
	return f.exact
}

// Add returns the exact sum. Sums are exact, so that adding rows and then rounding differs from adding rounded rows.
func (f Feet) Add(g Feet) Feet { return Feet{new(big.Rat).Add(f.rat(), g.rat())} }

// Sub returns the exact difference.
func (f Feet) Sub(g Feet) Feet { return Feet{new(big.Rat).Sub(f.rat(), g.rat())} }

// Part returns exactly n of as many like parts; of must be above 0.
func (f Feet) Part(n, of int) Feet {
	return Feet{new(big.Rat).Mul(f.rat(), big.NewRat(int64(n), int64(of)))}
}

// Rat returns the exact number.
func (f Feet) Rat() *big.Rat { return new(big.Rat).Set(f.rat()) }

// Hundredths returns hundredths of a board foot, rounded once to the nearest, exact halves up. Rounding is of a total or of a
// row for print, never of a piece before it is multiplied.
func (f Feet) Hundredths() int64 { return nearest(new(big.Rat).Mul(f.rat(), big.NewRat(100, 1))) }

// Whole returns whole board feet, rounded once to the nearest, exact halves up.
func (f Feet) Whole() int64 { return nearest(f.rat()) }

// String writes the number with two decimals.
func (f Feet) String() string {
	h := f.Hundredths()
	return fmt.Sprintf("%d.%02d", h/100, h%100)
}

// nearest rounds a number of 0 or more to the nearest whole one, exact halves up.
func nearest(x *big.Rat) int64 {
	twice := new(big.Int).Lsh(x.Num(), 1)
	twice.Add(twice, x.Denom()) // floor((2 num + den) / (2 den))
	return new(big.Int).Quo(twice, new(big.Int).Lsh(x.Denom(), 1)).Int64()
}

// boardFoot is 144 cubic inches in cubic nanometres: 1 in x 12 in x 1 ft.
var boardFoot = product(units.Inch, 12*units.Inch, units.Foot)

// FeetOf returns an exact number of board feet.
func FeetOf(exact *big.Rat) Feet { return Feet{new(big.Rat).Set(exact)} }

// CubicThousandths returns thousandths of a cubic metre of solid wood of so many board feet, rounded once, exact halves up.
func (f Feet) CubicThousandths() int64 {
	x := new(big.Rat).SetFrac(boardFoot, cubicMetre)
	return nearest(x.Mul(x, f.rat()).Mul(x, big.NewRat(1000, 1)))
}

// FeetOfCubic returns the board feet of so many cubic nanometres of wood: solid wood by volume, whatever its thickness.
func FeetOfCubic(cubic *big.Int) Feet { return Feet{new(big.Rat).SetFrac(cubic, boardFoot)} }

// product multiplies lengths. Three of them overflow 64 bits.
func product(ls ...units.Length) *big.Int {
	out := big.NewInt(1)
	for _, l := range ls {
		out.Mul(out, big.NewInt(int64(l)))
	}
	return out
}

// counted is the thickness that counts: stock under 1 in counts as 1 in, over 1 in as it is.
//
// Source: US Navy engineering text; Danforth, sec. 46; Griffith, Carpentry, sec. 77; seen.
func counted(thickness units.Length) units.Length { return max(thickness, units.Inch) }

// Of returns the footage of like boards by Volume or Nominal, exact: T x W x L / 144 in inches. For Surface use a Tally: its
// rounding depends on the boards before.
//
// Sizes must be above 0; the error names what is out of range.
//
// Source: 144 cubic inches: Minnesota Stat. 239.33, US Navy and Army manuals; softwood by nominal sizes: softwood measure sheet,
// Tenn. Comp. R. & Regs. 0080-07-07-.05; seen.
func Of(r Rule, p Piece) (Feet, error) {
	if r != Volume && r != Nominal {
		return Feet{}, fmt.Errorf("the rule %q does not count single rows", r)
	}
	if err := p.check(); err != nil {
		return Feet{}, err
	}
	num := product(counted(p.Thickness), p.Width, p.Length)
	num.Mul(num, big.NewInt(int64(p.Count)))
	return Feet{new(big.Rat).SetFrac(num, boardFoot)}, nil // T W L / 144
}

// Tally adds up rows by one rule. For Surface it carries which way the next exact half is rounded: the first goes up. The
// turn runs through the whole tally, so the order of the rows matters and is part of the result.
type Tally struct {
	rule    Rule
	total   Feet
	boards  int
	down    bool // the next exact half goes down
	surface map[units.Length]int64
	count   map[units.Length]int
}

// NewTally returns an empty tally by the rule.
func NewTally(r Rule) *Tally {
	return &Tally{rule: r, surface: map[units.Length]int64{}, count: map[units.Length]int{}}
}

// Rule returns the rule of the tally.
func (t *Tally) Rule() Rule { return t.rule }

// Add counts a row of like boards and returns its footage, exact. A row that is refused changes nothing.
//
// Source for Surface: American Hardwood Export Council, measurement page, and National Hardwood Lumber Association, 2015 rule
// book p. 7 para 16, as its chief inspector quotes it; seen. Alternate halves: Wengert (2007); second hand. That the turn
// runs through the tally and not each pack is this program's choice.
func (t *Tally) Add(p Piece) (Feet, error) {
	f, err := Feet{}, p.check()
	switch {
	case err != nil:
		return Feet{}, err
	case t.rule == Surface:
		sm := t.surfaceMeasure(p)
		nominal := counted(p.Thickness)
		t.surface[nominal] += sm
		t.count[nominal] += p.Count
		f = timesThickness(sm, nominal)
	default:
		if f, err = Of(t.rule, p); err != nil {
			return Feet{}, err
		}
	}
	t.total = t.total.Add(f)
	t.boards += p.Count
	return f, nil
}

func timesThickness(squareFeet int64, nominal units.Length) Feet {
	return Feet{new(big.Rat).SetFrac(product(units.Length(squareFeet), nominal), product(units.Inch))}
}

// surfaceMeasure returns the whole square feet of all boards of the row and turns the halves.
func (t *Tally) surfaceMeasure(p Piece) int64 {
	feet := p.Length / units.Foot // whole feet; the fraction is dropped
	num, den := int64(p.Width)*int64(feet), int64(12*units.Inch)
	each, rest := num/den, num%den
	n := int64(p.Count)
	if 2*rest != den {
		if 2*rest > den {
			each++
		}
		return each * n
	}
	up := n / 2
	if n%2 == 1 {
		if !t.down {
			up++
		}
		t.down = !t.down
	}
	return each*n + up
}

// Total returns the exact footage of all rows.
func (t *Tally) Total() Feet { return t.total }

// Boards returns the boards counted.
func (t *Tally) Boards() int { return t.boards }

// Pack is the boards of one nominal thickness in a tally by Surface.
type Pack struct {
	Thickness   units.Length // nominal
	Boards      int
	SurfaceFeet int64 // square feet
	Whole       int64 // board feet, rounded to whole ones once for the thickness
}

// Packs returns the tally by nominal thickness, thinnest first; empty for rules other than Surface. Whole is what a pack of
// one thickness is sold as: the sum of its surface measure times the thickness, to the nearest board foot. An exact half of
// the pack goes up (this program's choice; no text seen settles it).
//
// Source: Wengert, glossary of hardwood measure; seen.
func (t *Tally) Packs() []Pack {
	var out []Pack
	for thickness, sm := range t.surface {
		out = append(out, Pack{thickness, t.count[thickness], sm, timesThickness(sm, thickness).Whole()})
	}
	slices.SortFunc(out, func(a, b Pack) int { return int(a.Thickness/units.Micrometre - b.Thickness/units.Micrometre) })
	return out
}
