package plane

import (
	"fmt"
	"math"

	"drytally/compute/units"
)

// Arc returns the cup left in a strip of a board that is cupped to the arc of a circle: c = R - root(R2 - w2/4) with
// R = (W2/4 + C2)/(2C). It is a little below the square law C (w/W)2, which To uses.
//
// The cup is 0 or more and at most half the width, the strip above 0 and at most as wide as the board.
//
// Source: geometry of the circle; derived. Published check: none.
func Arc(cup, width, strip units.Length) (units.Length, error) {
	if width <= 0 || cup < 0 || cup > width/2 || strip <= 0 || strip > width {
		return 0, fmt.Errorf("cup %s, width %s and strip %s are no arc: cup at most half the width, strip at most the width", cup, width, strip)
	}
	if cup == 0 {
		return 0, nil
	}
	c, w, s := float64(cup), float64(width), float64(strip)
	r := (w*w/4 + c*c) / (2 * c)
	return units.Length(math.Round(r - math.Sqrt(r*r-s*s/4))), nil
}

// FromShrinkage is what a flat-sawn board becomes by shrinking alone, without restraint.
type FromShrinkage struct {
	Cup, Width units.Length
}

// Cupped returns the cup of a flat-sawn board whose face lies at a distance from the pith, and its new width. tangential and
// radial are the shrinkages over the actual step of moisture content as shares of the green size, 0..0.3. The edges lift
// toward the bark. Weight on the stack makes the cup smaller.
//
// Source: derived; a point at radius r and angle q moves to r (1 - R) and q (1 - T)/(1 - R). The same idea as Mitchell, Modeling
// the Cupping of Lumber, BioResources 11(3), 2016 (abstract seen), whose tables were not.
func Cupped(width, fromPith units.Length, tangential, radial float64) (FromShrinkage, error) {
	if width <= 0 || fromPith <= 0 || !(radial >= 0 && radial < 0.3) || !(tangential >= 0 && tangential < 0.3) {
		return FromShrinkage{}, fmt.Errorf("width %s, distance %s and shrinkages %g, %g: sizes must be above 0, shrinkages 0 to 0.3", width, fromPith, tangential, radial)
	}
	w, h := float64(width), float64(fromPith)
	k := (1 - tangential) / (1 - radial)
	r, q := math.Hypot(h, w/2), math.Atan(w/(2*h))
	return FromShrinkage{
		Cup:   units.Length(math.Round((1 - radial) * (r*math.Cos(k*q) - h))),
		Width: units.Length(math.Round(2 * (1 - radial) * r * math.Sin(k*q))),
	}, nil
}
