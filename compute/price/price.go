// Package price multiplies the owner's prices with footage. Money is a whole number of hundredths of the currency the owner
// names; nothing here knows a currency, and nothing is guessed.
package price

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"

	"drytally/compute/footage"
	"drytally/compute/units"
)

// Unit is what a price is for. The zero value is "not said".
type Unit uint8

// The units.
const (
	NotSaid Unit = iota
	BoardFoot
	ThousandFeet
	CubicMetre
	Lot // all that a row of the sold sheet names
)

// String gives the words printed.
func (u Unit) String() string {
	return [...]string{"not said", "a board foot", "1,000 board feet", "a cubic metre", "all of it"}[u]
}

// Price is what the owner asks. Hundredths is above 0; the zero value is "not given".
type Price struct {
	Hundredths int64
	Per        Unit
}

// Given reports whether there is a price.
func (p Price) Given() bool { return p.Hundredths > 0 && p.Per != NotSaid }

// Amount is an amount of money, in hundredths.
type Amount int64

// Most is the highest price and the highest amount: beyond it a figure is a slip.
const Most = 1_000_000_000_000

// Of gives the price of so many hundredths of a board foot, or, for a price by the cubic metre, so many cubic centimetres. It is
// rounded once, to the nearest hundredth, exact halves up. The error says that it is beyond Most, or that the measure is missing.
func (p Price) Of(feet int64, cubic int64) (Amount, error) {
	x := new(big.Rat).SetInt64(p.Hundredths)
	switch p.Per {
	case BoardFoot:
		x.Mul(x, big.NewRat(feet, 100))
	case ThousandFeet:
		x.Mul(x, big.NewRat(feet, 100_000))
	case CubicMetre:
		if cubic <= 0 {
			return 0, fmt.Errorf("the volume is not known")
		}
		x.Mul(x, big.NewRat(cubic, 1_000_000))
	case Lot:
	default:
		return 0, fmt.Errorf("no price is given")
	}
	if x.Cmp(big.NewRat(Most, 1)) > 0 || x.Sign() < 0 {
		return 0, fmt.Errorf("the amount is beyond what can be")
	}
	return Amount(nearest(x)), nil
}

// nearest rounds a number of 0 or more, exact halves up.
func nearest(x *big.Rat) int64 {
	twice := new(big.Int).Lsh(x.Num(), 1)
	twice.Add(twice, x.Denom())
	return new(big.Int).Quo(twice, new(big.Int).Lsh(x.Denom(), 1)).Int64()
}

// Write writes an amount with its currency as the owner wrote it: a sign before, a word behind.
func (a Amount) Write(currency string) string {
	minus := ""
	if a < 0 {
		minus, a = "-", -a
	}
	whole := fmt.Sprint(int64(a) / 100)
	for at := len(whole) - 3; at > 0; at -= 3 {
		whole = whole[:at] + "," + whole[at:]
	}
	figure := fmt.Sprintf("%s.%02d", whole, int64(a)%100)
	if currency == "" {
		return minus + figure
	}
	if strings.IndexFunc(currency, unicode.IsLetter) < 0 {
		return minus + currency + figure
	}
	return minus + figure + " " + currency
}

// Write writes a price: 4.50 USD a board foot, 900.00 USD for 1,000 board feet.
func (p Price) Write(currency string) string {
	link := " "
	if p.Per == Lot || p.Per == ThousandFeet {
		link = " for "
	}
	return Amount(p.Hundredths).Write(currency) + link + p.Per.String()
}

// Slice is a strip of the board's width and length, as thick as a saw setting is set higher.
type Slice struct {
	Feet  footage.Feet // of solid wood, exact
	Share *big.Rat     // of the wood the boards took with their saw cuts: step / (setting + kerf)
}

// Thicker gives what a setting of one step more takes of the log for boards of these sizes: the step times their width and
// length. Share holds it against the boards with one saw cut each: for boards of one thickness step / (setting + kerf). The
// saw cuts of the edges are not counted. Sizes must be above 0.
func Thicker(boards []footage.Piece, step, kerf units.Length) (Slice, error) {
	if step <= 0 || kerf < 0 {
		return Slice{}, fmt.Errorf("a step of %s or a kerf of %s can't be", step, kerf)
	}
	more, all := new(big.Int), new(big.Int)
	for _, b := range boards {
		if b.Thickness <= 0 || b.Width <= 0 || b.Length <= 0 || b.Count < 0 {
			return Slice{}, fmt.Errorf("a board's size or count can't be")
		}
		face := new(big.Int).Mul(big.NewInt(int64(b.Width)), big.NewInt(int64(b.Length)))
		face.Mul(face, big.NewInt(int64(b.Count)))
		more.Add(more, new(big.Int).Mul(face, big.NewInt(int64(step))))
		all.Add(all, new(big.Int).Mul(face, big.NewInt(int64(b.Thickness+kerf))))
	}
	if all.Sign() == 0 {
		return Slice{}, fmt.Errorf("there are no boards")
	}
	return Slice{Feet: footage.FeetOfCubic(more), Share: new(big.Rat).SetFrac(more, all)}, nil
}
