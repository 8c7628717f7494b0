package target

import (
	"fmt"

	"drytally/compute/units"
)

// BoardsAndBattens is how a wall is covered with wide upright boards and battens over the gaps between them.
type BoardsAndBattens struct {
	Boards  int          // side by side
	Battens int          // one over each gap; corners are not counted
	Last    units.Length // width the last board is ripped to; the whole width when it comes out even
}

// Wall returns the boards and battens for a run of wall. run and width are above 0, gap is 0 or more.
//
// Source: geometry; n boards and n - 1 gaps fill n x width + (n - 1) x gap.
func Wall(run, width, gap units.Length) (BoardsAndBattens, error) {
	if run <= 0 || width <= 0 || gap < 0 {
		return BoardsAndBattens{}, fmt.Errorf("the run %s or the board %s is not above 0, or the gap %s below it", run, width, gap)
	}
	pitch := width + gap
	n := int((run + gap + pitch - 1) / pitch)
	last := run - units.Length(n-1)*pitch
	if last <= 0 { // the run ends in the gap
		n--
		last = width
	}
	n = max(n, 1)
	return BoardsAndBattens{Boards: n, Battens: n - 1, Last: min(last, width)}, nil
}

// Overlap returns how far a batten laps the board on each side of a gap: half of what is left of its width.
func Overlap(batten, gap units.Length) units.Length { return (batten - gap) / 2 }

// FixedCourses returns how many courses of boards that show just so much fill a height, what the last one is ripped to show, and the
// exposure that would make all alike; that is never above the face.
//
// Source: geometry.
func FixedCourses(height, face units.Length) (courses int, last, even units.Length, err error) {
	if height <= 0 || face <= 0 {
		return 0, 0, 0, fmt.Errorf("the height %s or the face %s is not above 0", height, face)
	}
	courses = int((height + face - 1) / face)
	return courses, height - units.Length(courses-1)*face, height / units.Length(courses), nil
}
