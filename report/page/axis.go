package page

import (
	"math"
	"strconv"
)

// Axis is a horizontal number axis along the lower edge of a box: the picture stands in the box, ticks, numbers and label
// below it.
type Axis struct {
	Box       Rect
	Low, High float64              // values at the left and right edge of the box
	Step      float64              // from number to number; 0: NiceStep of about 8 numbers
	Minor     int                  // ticks without a number within a step: 5 makes fifths; 0 and 1 none
	Label     string               // below the numbers, at the right: "moisture content, %"
	Write     func(float64) string // 0: as few digits as the number needs
	Grid      bool                 // thin lines up through the box at the numbers
}

// AxisHeight is the room an axis takes below its box: ticks, numbers, label.
const AxisHeight = 8.5

// AxisLabel is the part of it that an axis without a label leaves free.
const AxisLabel = 3.3

// At gives the x of a value. A value beyond the axis comes back at the edge with inside false: draw it as an arrow there.
func (a Axis) At(v float64) (x float64, inside bool) {
	if a.High <= a.Low || math.IsNaN(v) {
		return a.Box.X, false
	}
	share := (v - a.Low) / (a.High - a.Low)
	return a.Box.X + max(0, min(1, share))*a.Box.W, share >= 0 && share <= 1
}

// NiceStep gives a step of 1, 2 or 5 times a power of ten that divides span into at most n parts.
func NiceStep(span float64, n int) float64 {
	if !(span > 0) || math.IsInf(span, 0) || n < 1 {
		return 1
	}
	least := span / float64(n)
	ten := math.Pow(10, math.Floor(math.Log10(least)))
	for _, m := range []float64{1, 2, 5} {
		if m*ten >= least*(1-1e-9) {
			return m * ten
		}
	}
	return 10 * ten
}

// Axis draws the axis. It fails (see Bytes) when High is not above Low.
func (d *Doc) Axis(a Axis) {
	if !d.finite(a.Low, a.High, a.Step) {
		return
	}
	if a.High <= a.Low {
		d.fail("an axis from %g to %g has no length", a.Low, a.High)
		return
	}
	span := a.High - a.Low
	const mostTicks = 60
	if a.Step <= 0 || span/a.Step > mostTicks {
		a.Step = NiceStep(span, 8)
	}
	write := a.Write
	if write == nil {
		write = func(v float64) string { return strconv.FormatFloat(math.Round(v/a.Step*1e6)/1e6*a.Step, 'f', -1, 32) }
	}
	const tick, minorTick = 1.4, 0.8
	y := a.Box.Bottom()
	st := Style{Size: SizeSmall, Align: Center}
	room := a.Step / span * a.Box.W
	minor := max(1, a.Minor)
	first, last := math.Ceil(a.Low/a.Step-1e-9), math.Floor(a.High/a.Step+1e-9)
	for k := math.Ceil((a.Low/a.Step - 1e-9) * float64(minor)); minor > 1 && k <= (a.High/a.Step+1e-9)*float64(minor); k++ {
		x, _ := a.At(k * a.Step / float64(minor))
		d.Line(x, y, x, y+minorTick, Stroke{Gray: Mid})
	}
	for k := first; k <= last; k++ {
		v := k * a.Step
		if v == 0 {
			v = 0 // not minus zero, which an axis from below zero comes to
		}
		x, _ := a.At(v)
		if a.Grid {
			d.Line(x, a.Box.Y, x, y, Stroke{Width: Hair, Gray: Light})
		}
		d.Line(x, y, x, y+tick, Stroke{})
		d.Fit(Rect{x - room/2, y + tick + 0.3, room, st.leading()}, write(v), st, SizeLeast)
	}
	d.Line(a.Box.X, y, a.Box.Right(), y, Stroke{})
	if a.Label != "" {
		d.Fit(Rect{a.Box.X, y + tick + 0.2 + st.leading(), a.Box.W, st.leading()}, a.Label,
			Style{Size: SizeSmall, Gray: Soft, Align: Right}, SizeLeast)
	}
}
