package season

import (
	"drytally/compute/shrink"
	"drytally/compute/source"
	"drytally/compute/units"
)

// Movement is how far the width of a piece goes, from the moisture content it was made at, through a year. Both ways are given
// as lengths that are not negative; one is 0 when the year lies wholly on the other side.
type Movement struct {
	Swell, Shrink         units.Length // of average wood, sawing in the middle when it is not known
	SwellMost, ShrinkMost units.Length // of 95 of 100 pieces, sawn the way that moves more
	Coefficient           bool         // by the coefficient of Table 13-5 both ways; false: equation 13-3 was needed
}

// piecesHeld is the normal quantile of 0.95: 95 of 100 pieces move no further than the mean and this many deviations.
const piecesHeld = 1.645

// mostShare is the largest shrinkage the formulas take.
const mostShare = 0.29

// Move returns the movement of a width made at moisture content made, in a place whose air leads to low at its driest and high
// at its dampest.
//
// made is 0..30 %, width above 0 and at most 100 m. Errors: those of shrink.
//
// Source: Wood Handbook FPL-GTR-190 (2010), equation 13-2 with the coefficient from the wood's shrinkage, for 6..14 % (seen);
// outside, equation 13-3 as shrink.Between computes it. Most: the 15 % spread between pieces (memory) on top of the larger
// shrinkage of the two sawings. Derived.
func Move(width units.Length, d shrink.Direction, made, low, high units.MC) (Movement, error) {
	var m Movement
	most := d
	most.Share = min(mostShare, max(d.Share, d.High)*(1+piecesHeld*shrink.PieceSpread))
	m.Coefficient = true
	for _, one := range []struct {
		to   units.MC
		d    shrink.Direction
		into *units.Length
		sign units.Length
	}{{high, d, &m.Swell, 1}, {low, d, &m.Shrink, -1}, {high, most, &m.SwellMost, 1}, {low, most, &m.ShrinkMost, -1}} {
		change, linear, err := Change(width, one.d, made, one.to)
		if err != nil {
			return Movement{}, err
		}
		*one.into = max(0, one.sign*change)
		m.Coefficient = m.Coefficient && linear
	}
	return m, nil
}

// Change returns by how much a width changes from one moisture content to another, shrinking negative, and whether the
// coefficient of Table 13-5 did it (both between 6 and 14 %) or equation 13-3.
func Change(width units.Length, d shrink.Direction, from, to units.MC) (change units.Length, linear bool, err error) {
	if inTable(from) && inTable(to) {
		c, err := shrink.Coefficient(d)
		if err != nil {
			return 0, false, err
		}
		change, err = shrink.Change(width, c, from, to)
		return change, true, err
	}
	size, err := shrink.Between(width, d, from, to)
	if err != nil {
		return 0, false, err
	}
	return size - width, false, nil
}

func inTable(m units.MC) bool { return m >= units.Percent(6) && m <= units.Percent(14) }

// MoveSource is the source of the movement formulas.
func MoveSource() source.Source {
	return source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "eq. 13-2 and 13-3, p. 13-18; spread of 15 % from memory", Status: source.Derived}
}
