package shrink

import (
	"errors"
	"fmt"

	"drytally/compute/units"
)

// Coefficient returns the coefficient of dimensional change for 1 % of moisture content, as Table 13-5 prints it: based on
// the size at 10 % moisture content and a straight line of shrinkage.
//
// Source: Wood Handbook FPL-GTR-190 (2010), Table 13-5 footnote; memory, and confirmed by 33 of the 37 hardwoods whose
// coefficients and Table 4-3 row were both seen. Green ash, sweet birch and cedar elm have a neighbor's pair there,
// sycamore differs by 1 in the last digit.
func Coefficient(d Direction) (float64, error) {
	if err := d.check(); err != nil {
		return 0, err
	}
	return (d.Share / d.Fiber) / (1 - d.Share*(d.Fiber-10)/d.Fiber), nil // Table 13-5 footnote
}

// ShareFromCoefficient is the inverse of Coefficient: the shrinkage from green to ovendry as a share of the green size.
// c is above 0 and below 0.015, fiber 20..35 %.
func ShareFromCoefficient(c, fiber float64) (float64, error) {
	if !(c > 0 && c < 0.015) || !(fiber >= 20 && fiber <= 35) {
		return 0, fmt.Errorf("the coefficient %g is outside 0 to 0.015 or the fiber saturation point %g outside 20 to 35 %%", c, fiber)
	}
	return fiber * c / (1 + c*(fiber-10)), nil // Table 13-5 footnote, solved for the shrinkage
}

// Change returns by how much a piece changes from moisture content from to to, by its coefficient c for 1 %; shrinking is
// negative. Both moisture contents are 6..14 %; outside, use Move.
//
// Source: Wood Handbook FPL-GTR-190 (2010), equation 13-2, p. 13-18; seen. Worked example there: ExampleChange.
func Change(size units.Length, c float64, from, to units.MC) (units.Length, error) {
	for _, m := range []units.MC{from, to} {
		if m < units.Percent(6) || m > units.Percent(14) {
			return 0, fmt.Errorf("the moisture content %s is outside 6 to 14 %%", m)
		}
	}
	if err := checkSize(size); err != nil {
		return 0, err
	}
	return linear(size, c, from, to), nil
}

func linear(size units.Length, c float64, from, to units.MC) units.Length {
	return nanometre(float64(size) * c * (to.Percent() - from.Percent())) // 13-2
}

// Move returns by how much a piece changes from moisture content from to to; shrinking is negative. Neither moisture
// content may be above the fiber saturation point.
//
// Source: Wood Handbook FPL-GTR-190 (2010), equation 13-3; its form from memory, symbols and limits seen; the same as
// Between, which rests on the seen equation 4-9.
func Move(size units.Length, d Direction, from, to units.MC) (units.Length, error) {
	if err := errors.Join(d.check(), checkMC(from), checkMC(to), checkSize(size)); err != nil {
		return 0, err
	}
	if from.Percent() > d.Fiber || to.Percent() > d.Fiber {
		return 0, fmt.Errorf("the moisture contents %s and %s must not be above the fiber saturation point, %g %%", from, to, d.Fiber)
	}
	step := to.Percent() - from.Percent()
	return nanometre(float64(size) * step / (d.Fiber/d.Share - d.Fiber + from.Percent())), nil // 13-3
}

// SoftwoodDimension returns the shrinkage of 2 in softwood dimension lumber of mixed ring direction from green (28 %) to m,
// width and thickness, as shares of the green size. m is 8..19 %. It is not for redwood and the cedars.
//
// Source: Green, Moisture content and the shrinkage of lumber, FPL-RP-489 (1989); seen.
func SoftwoodDimension(m units.MC) (width, thickness float64, err error) {
	if m < units.Percent(8) || m > units.Percent(19) {
		return 0, 0, fmt.Errorf("the moisture content %s is outside 8 to 19 %%", m)
	}
	x := m.Percent()
	return (6.031 - 0.215*x) / 100, (5.062 - 0.181*x) / 100, nil // FPL-RP-489
}
