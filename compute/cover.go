package compute

import (
	"fmt"
	"strconv"

	"drytally/compute/profile"
	"drytally/compute/source"
	"drytally/compute/target"
	"drytally/compute/units"
)

// Cover is how a wanted piece covers a wall or a floor. Known false: no area is given.
type Cover struct {
	Known               bool
	Area, Openings, Net float64 // square feet: Net is Area less Openings
	Height, Run         units.Length
	Lineal              float64      // running feet for one square foot, without waste
	Footage             float64      // board feet by nominal sizes for one square foot; 0 when the size has no nominal name
	Courses             int          // whole courses that fill the height; 0 without a height
	Exposure            units.Length // of each course: evened out for beveled siding, else what shows
	Even                units.Length // exposure that would make all courses alike, or keep the least lap; 0 when Exposure does
	Last                units.Length // what the last course or board shows, or is ripped to
	Across              int          // boards side by side, of board and batten
	Battens             int          // one over each gap
	Gap                 units.Length // between boards
	Overlap             units.Length // of a batten, on each side of the gap
	Says                []Statement
}

// The sources of counting by area and of evening out courses.
var (
	coverSource = source.Source{Document: "Western Wood Products Association, Natural Wood Siding", Place: "Table 4 and coverage estimator", Status: source.Seen}
	evenSource  = source.Source{Document: "US Navy builder training manual 14044", Place: "bevel siding", Status: source.Seen}
)

// cover works out how a piece covers its area, and the running feet without waste.
func (x *index) cover(r *SizeResult) error {
	w := r.Wanted
	c := Cover{Known: true, Area: w.Area, Openings: w.Openings, Net: w.Area - w.Openings, Height: w.WallHeight, Run: w.WallRun, Gap: w.Gap}
	shows := w.Face
	if shows == 0 {
		shows = w.Width
	}
	c.Exposure = shows
	var err error
	switch r.Shape.Kind {
	case profile.BoardBatten:
		shows += w.Gap
		err = x.coverUpright(r, &c)
	case profile.Stile, profile.Rail, profile.Panel, profile.Batten: // neither courses nor boards side by side
	default:
		if err = x.coverCourses(r, &c, shows); err == nil {
			shows = c.Exposure
		}
	}
	if err != nil {
		return err
	}
	if c.Lineal, err = target.LinealFactor(shows); err != nil {
		return err
	}
	if t, wide, ok := x.nominalOfShape(r); ok {
		if c.Footage, err = target.FootageFactor(t, wide, shows); err != nil {
			return err
		}
	}
	x.cite(coverSource)
	r.LinealNet = c.Net * c.Lineal
	if c.Courses > 0 && c.Run > 0 { // whole courses: what is ripped off the last one is lost
		r.LinealNet = max(r.LinealNet, float64(c.Courses)*c.Run.Feet()-c.Openings*c.Lineal)
	}
	if c.Across > 0 {
		r.LinealNet = max(r.LinealNet, float64(c.Across)*c.Height.Feet()-c.Openings*c.Lineal)
	}
	x.sayCover(r, &c)
	r.Cover = c
	return nil
}

// coverCourses lays out courses one above the other, when the height is known.
func (x *index) coverCourses(r *SizeResult, c *Cover, shows units.Length) error {
	if c.Height == 0 {
		return nil
	}
	if r.Shape.Kind == profile.Beveled {
		n, e, err := target.EvenCourses(c.Height, shows)
		if err != nil {
			return err
		}
		c.Courses, c.Exposure, c.Last = n, e, e
		x.cite(evenSource)
		lap := max(0, r.Wanted.Width-e)
		c.Says = append(c.Says, stated("cover-even", "n", n, "exposure", x.show(e), "height", x.show(c.Height), "wished", x.show(shows), "lap", x.show(lap)))
		if lap < profile.LeastBevelLap {
			more, exposure := 0, ""
			if most := r.Wanted.Width - profile.LeastBevelLap; most > 0 { // the fewest courses that keep the least lap
				more, _, c.Even, _ = target.FixedCourses(c.Height, most)
				exposure = x.show(c.Even)
			}
			c.Says = append(c.Says, stated("cover-lap-least", "lap", x.show(lap), "least", x.show(profile.LeastBevelLap), "more", more, "exposure", exposure))
			x.say("J067", r.Wanted.Origin.At("face"), x.show(shows), "choose a smaller exposure or a wider board", "%q laps only %s; the least for bevel siding is %s", r.Wanted.Piece, x.show(lap), x.show(profile.LeastBevelLap))
		}
		return nil
	}
	n, last, even, err := target.FixedCourses(c.Height, shows)
	if err != nil {
		return err
	}
	c.Courses, c.Last = n, last
	if even != shows {
		c.Even = even
	}
	c.Says = append(c.Says, stated("cover-courses", "n", n, "face", x.show(shows), "height", x.show(c.Height), "last", x.show(last), "even", x.orNothing(c.Even), "lapped", r.Shape.Kind == profile.Lapped))
	return nil
}

// coverUpright lays boards side by side, battens over the gaps.
func (x *index) coverUpright(r *SizeResult, c *Cover) error {
	if c.Run == 0 {
		return nil
	}
	wall, err := target.Wall(c.Run, r.Wanted.Width, c.Gap)
	if err != nil {
		return err
	}
	c.Across, c.Battens, c.Last = wall.Boards, wall.Battens, wall.Last
	if batten, ok := x.battenOf(r.Wanted); ok {
		c.Overlap = target.Overlap(batten, c.Gap)
	}
	c.Says = append(c.Says, stated("cover-upright", "n", wall.Boards, "run", x.job.Settings.System.Run(c.Run), "width", x.show(r.Wanted.Width), "gap", x.orNothing(c.Gap), "battens", wall.Battens,
		"last", x.show(wall.Last)))
	if l := r.Wanted.Length; l != 0 && c.Height > l {
		c.Says = append(c.Says, stated("cover-short", "length", x.job.Settings.System.Run(l), "height", x.job.Settings.System.Run(c.Height)))
	}
	return nil
}

// sayCoverBy names the sources of coverage, once for all pieces.
func (x *index) sayCoverBy() {
	area, even := false, ""
	for i := range x.out.Sizes {
		s := &x.out.Sizes[i]
		area = area || s.Cover.Known
		if s.Cover.Courses > 0 && s.Shape.Kind == profile.Beveled {
			even = evenSource.String()
		}
	}
	if area {
		x.out.CoverBy = stated("cut-cover-source", "source", coverSource, "even", even)
	}
}

func (x *index) sayCover(r *SizeResult, c *Cover) {
	metric := x.job.Settings.System == units.Metric
	area, run, foot := 1.0, 1.0, orBlank(c.Footage, fmt.Sprintf("%.2f", c.Footage))
	if metric {
		area, run, foot = units.Foot.Millimetres()*units.Foot.Millimetres()/1e6, 1000/units.Foot.Millimetres(), "" // m2 in a square foot; m a m2 for 1 ft a square foot
	}
	show := func(v float64) string { return strconv.FormatFloat(v*area, 'f', 1, 64) }
	c.Says = append(c.Says, stated("cover-area", "metric", metric, "area", show(c.Area), "openings", orBlank(c.Openings, show(c.Openings)), "net", show(c.Net),
		"lineal", fmt.Sprintf("%.2f", c.Lineal*run), "footage", foot, "pieces", r.Wanted.Pieces > 0))
}

func orBlank(v float64, text string) string {
	if v == 0 {
		return ""
	}
	return text
}

// nominalOfShape gives the nominal size that board feet of siding are counted by: that of the pattern with just this face and width, else
// of the dressed size of a square board; for a wood sold by nominal sizes only.
func (x *index) nominalOfShape(r *SizeResult) (thickness, width units.Length, ok bool) {
	if r.Wanted.Species.Hardwood {
		return 0, 0, false
	}
	return r.Name.Thickness, r.Name.Width, r.Name.Known && r.Name.Width != 0
}

// uprightPiece is how many feet of a board's length an upright board really covers: whole heights, and all of it when it is shorter.
func uprightPiece(length, height units.Length) units.Length {
	if height == 0 || length < height {
		return length
	}
	return length / height * height
}

// battenCount gives battens without a number the number of gaps of the boards they belong to, and their length and height.
func (x *index) battenCount(i int) {
	if x.shape[i].Kind != profile.Batten {
		return
	}
	w := &x.wanted[i]
	unknown := func() {
		if w.Pieces == 0 && w.Area == 0 {
			x.noteShape(i, "batten-no-boards")
		}
	}
	at, ok := x.boardsOfBatten(i)
	if !ok {
		unknown()
		return
	}
	b := &x.wanted[at]
	wall, err := target.Wall(b.WallRun, b.Width, b.Gap)
	if err != nil || wall.Battens == 0 {
		unknown()
		return
	}
	heights := 1
	if w.Length == 0 {
		w.Length = b.WallHeight
	}
	if w.Length > 0 && b.WallHeight > w.Length {
		heights = int((b.WallHeight + w.Length - 1) / w.Length)
	}
	need := wall.Battens * heights
	if w.Pieces == 0 && w.Area == 0 {
		w.Pieces = need
		x.noteShape(i, "batten-count", "n", need, "boards", b.Piece, "gaps", wall.Battens)
	} else if w.Pieces > 0 && w.Pieces < need {
		x.noteShape(i, "batten-few", "n", w.Pieces, "need", need, "boards", b.Piece)
	}
}

// battenOf finds the width of the battens of a row of boards.
func (x *index) battenOf(w *Wanted) (units.Length, bool) {
	for i := range x.wanted {
		at, ok := x.boardsOfBatten(i)
		if x.shape[i].Kind == profile.Batten && ok && &x.wanted[at] == w && x.wanted[i].Width > 0 {
			return x.wanted[i].Width, true
		}
	}
	return 0, false
}
