package bind

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"drytally/compute/finding"
	"drytally/compute/profile"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// bareRun is a length, height or width of a wanted piece whose cell names no unit.
type bareRun struct {
	at     finding.Place
	stands string
	figure string       // the bare figure of the cell
	length units.Length // as it was understood
	limit  units.Length // no such piece or wall is longer
	whole  bool         // a board must be as long
}

// What a bare length is no longer than, else its unit is doubted: lengths of lumber are counted to 24 ft, doors are under 12 ft, and
// the walls and floors of a small mill's customers come to the other two. Our choice, on the generous side.
const (
	longestPiece = 24 * units.Foot
	longestDoor  = 12 * units.Foot
	highestWall  = 40 * units.Foot
	longestWall  = 150 * units.Foot
)

// bareEnd is a text that ends in a figure without a unit: 30, 7 1/2, 1 x 4 x 30.
var bareEnd = regexp.MustCompile(`(?:^|[\sx×*])((?:\d+[ -])?\d+/\d+|\d+(?:[.,]\d+)?)\s*$`)

// noteBareRuns keeps the lengths of a wanted piece that name no unit.
func (b *binder) noteBareRuns(v *rowValues, kind profile.Kind) {
	door := kind == profile.Stile || kind == profile.Rail || kind == profile.Panel
	for _, r := range []bareRun{
		{stands: "length", limit: longestPiece, whole: true},
		{stands: "wall height", limit: highestWall},
		{stands: "wall width", limit: longestWall},
	} {
		field := r.stands
		col := v.origin.Cols()[field]
		c := b.sheet.Cell(v.origin.Row, col)
		m := bareEnd.FindStringSubmatch(c.Text)
		if r.length = v.length(field); r.length == 0 || m == nil || v.filled[field] || cell.Empty(c) {
			continue
		}
		if door {
			r.limit = longestDoor
		}
		r.at, r.stands, r.figure = b.at(v.origin.Row, col), c.Text, m[1]
		b.bare = append(b.bare, r)
	}
}

// sayLongPieces warns of bare lengths that are longer than every board of the sheets, or than such pieces are: a 30 may be meant
// in inches.
func (b *binder) sayLongPieces() {
	var longest units.Length
	for i := range b.job.Boards {
		longest = max(longest, b.job.Boards[i].Length)
	}
	for i := range b.job.Cuts {
		longest = max(longest, b.job.Cuts[i].Length)
	}
	s := b.job.Settings.System
	for _, r := range b.bare {
		why := ""
		switch {
		case r.whole && longest > 0 && r.length > longest:
			why = "longer than every board of these sheets (" + s.Run(longest) + ")"
		case r.length > r.limit && !(r.whole && longest > 0 && r.limit == longestPiece):
			why = "longer than such pieces are"
		default:
			continue
		}
		unit, hint := understoodAs(r)
		if unit == cell.Inch {
			continue // the heading says inches, so nothing is in doubt
		}
		b.say("T072", r.at, r.stands, hint, "%q was read as %s, %s", r.stands, runIn(r.length, unit), why)
	}
}

// understoodAs gives the unit a bare figure was read in, and how it is written in a smaller one.
func understoodAs(r bareRun) (cell.Unit, string) {
	in := func(u cell.Unit) bool {
		l, ps := cell.Length(sheet.Cell{Kind: sheet.Text, Text: r.figure}, cell.Context{Default: u, DecimalComma: strings.Contains(r.figure, ",")})
		return len(ps) == 0 && l == r.length
	}
	switch {
	case in(cell.Millimetre):
		return cell.Millimetre, "look at the figure; a number without a unit is in millimetres here"
	case in(cell.Centimetre), in(cell.Metre):
		return cell.Metre, fmt.Sprintf("if millimetres are meant write %s mm; else nothing to do", r.figure)
	case in(cell.Inch):
		return cell.Inch, ""
	}
	return cell.Foot, fmt.Sprintf(`if inches are meant write %s" or %s in; else nothing to do`, r.figure, r.figure)
}

// runIn writes a length in the unit it was read in.
func runIn(l units.Length, u cell.Unit) string {
	switch u {
	case cell.Millimetre:
		return strconv.FormatFloat(l.Millimetres(), 'f', -1, 64) + " mm"
	case cell.Metre:
		return strconv.FormatFloat(l.Millimetres()/1000, 'f', -1, 64) + " m"
	}
	return strconv.FormatFloat(math.Round(l.Feet()*100)/100, 'f', -1, 64) + " ft"
}
