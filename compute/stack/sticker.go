package stack

import (
	"slices"

	"drytally/compute/source"
	"drytally/compute/units"
)

// spacings are the usual rooms between stickers, by the thickness of the boards: the first whose thickness is not reached.
var spacings = []struct{ under, room units.Length }{
	{units.Inch, 12 * units.Inch},
	{units.Fraction(3, 2), 16 * units.Inch},
}

// widestSpacing is the usual room under boards thicker than all in spacings.
const widestSpacing = 24 * units.Inch

// SpacingFor gives the usual room between stickers for boards of a thickness: 12 in under 1 in, 16 in under 1 1/2 in, else 24 in.
//
// Source: common practice, 12 to 24 in by thickness; no text was seen.
func SpacingFor(thickness units.Length) (units.Length, source.Source) {
	from := source.Source{Document: "stickers 12 to 24 in apart by thickness", Status: source.CommonPractice}
	for _, s := range spacings {
		if thickness < s.under {
			return s.room, from
		}
	}
	return widestSpacing, from
}

// endShare is how far a board may reach over the sticker at its end, so that boards of nearly one length share it: our choice,
// the 2 in that OSHA 29 CFR 1910.265(c)(27) leaves a sticker proud of its stack (seen).
const endShare = 2 * units.Inch

// stickers finds the lines of stickers: one at the front, one at the end of every length of board in the stack, and between
// them so many that none is further from the next than the spacing. A line stands on every course that reaches it, so that
// the stickers are one above the other down to the bolster.
func (l *layer) stickers(s *Stack) {
	s.Spacing = l.kiln.Spacing
	thinnest := s.Courses[0].Thickness
	var ends []units.Length
	for _, c := range s.Courses {
		thinnest = min(thinnest, c.Thickness)
		for _, b := range c.Boards {
			ends = append(ends, b.Length)
		}
	}
	if s.Spacing <= 0 {
		s.Spacing, _ = SpacingFor(thinnest)
	}
	slices.Sort(ends)
	s.Lines = []units.Length{0}
	for _, end := range ends {
		last := s.Lines[len(s.Lines)-1]
		if end-last <= endShare && last > 0 {
			continue
		}
		between := int64((end - last + s.Spacing - 1) / s.Spacing)
		for i := int64(1); i <= between; i++ {
			s.Lines = append(s.Lines, last+(end-last)*units.Length(i)/units.Length(between))
		}
	}
	for i := 1; i < len(s.Lines); i++ {
		s.Widest = max(s.Widest, s.Lines[i]-s.Lines[i-1])
	}
	s.StickerLength = s.Width
	for i := range s.Courses {
		c := &s.Courses[i]
		for _, at := range s.Lines {
			if at <= c.Longest {
				c.Stickers++
			}
		}
		s.Stickers += c.Stickers
	}
}
