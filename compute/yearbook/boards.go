package yearbook

import (
	"fmt"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/footage"
	"drytally/compute/units"
)

// Fate says what became of a board. The zero value is "left".
type Fate uint8

// The fates of boards.
const (
	Left Fate = iota
	Sold
	UsedByMill
)

// String gives the word printed.
func (f Fate) String() string { return [...]string{"left", "sold", "used"}[f] }

// Board is one board over all weeks. The sizes are those of the last week that has them.
type Board struct {
	Origin                   compute.Origin // of the row that counts
	Load                     string         // name of its load; empty: none
	ID                       string
	Species                  string
	Thickness, Width, Length units.Length
	Footage                  compute.Footage
	Course, Spot             int
	MC                       units.Reading // mean of its corrected readings; NotTaken when it was never measured
	HeldBack                 bool          // to be taken out of its load
	Fate                     Fate
	Sale                     string // the sale it went in, or what the mill used it for
	Buyer                    string
	Date                     time.Time // of the sale
}

// boardKey tells boards apart: a board number is unique in its load.
type boardKey struct {
	load int // -1: none
	id   string
}

// board is a Board in the making.
type board struct {
	Board
	key     boardKey
	feet    footage.Feet
	green   units.Length // green thickness, when it was measured
	byPlace bool
	gone    bool     // another board lies at its place: it is that one
	of      *account // the sale it went in
	soldAt  finding.Place
}

// Sizes of one board in two weeks differ by more than drying moves wood when they lie further apart than these, whichever is
// the larger: 5 % is what 15 points of drying move a flat-sawn width (Wood Handbook FPL-GTR-190, Table 4-3 and equation
// 4-9; derived), the others are what two people measure apart. Lengths don't shrink. This project's choice.
const (
	sizeShare     = 0.05
	thicknessPlay = units.Inch / 16
	widthPlay     = units.Inch / 8
	lengthPlay    = 2 * units.Inch
)

// takeBoards takes in the boards of a week.
func (j *join) takeBoards(w int) {
	week := &j.weeks[w]
	for i := range week.Boards {
		wb := &week.Boards[i]
		k := boardKey{-1, compute.IDKey(wb.Board.ID)}
		if wb.Board.Load != "" {
			k.load = j.loadAt(w, wb.Board.Load)
		}
		if at, ok := j.find[k]; ok {
			j.mergeBoard(j.boards[at], wb)
			continue
		}
		b := &board{key: k, byPlace: wb.ByPlace, Board: Board{ID: wb.Board.ID, Species: wb.Species, Origin: wb.Board.Origin, Footage: wb.Footage}}
		if k.load >= 0 {
			b.Load = j.loads[k.load].Name
		}
		j.find[k] = len(j.boards)
		j.byID[k.id] = append(j.byID[k.id], len(j.boards))
		j.boards = append(j.boards, b)
		j.mergeBoard(b, wb)
	}
}

// mergeBoard takes what a week says of a board: sizes where it has them, a reading where it was measured.
func (j *join) mergeBoard(b *board, wb *compute.WeekBoard) {
	row := wb.Board
	for _, s := range []struct {
		name     string
		old, new units.Length
		play     units.Length
	}{{"thickness", b.Thickness, wb.Least, thicknessPlay}, {"width", b.Width, row.Width, widthPlay}, {"length", b.Length, row.Length, lengthPlay}} {
		apart := max(s.old-s.new, s.new-s.old)
		play := s.play
		if s.name != "length" {
			play = max(play, units.Length(sizeShare*float64(max(s.old, s.new))))
		}
		if s.old > 0 && s.new > 0 && apart > play {
			j.say("S007", row.Origin.At("board"), row.ID, "measure it again, or look whether two boards go by one number",
				"board %q: its %s is %s here and %s in %s, which is more than drying moves wood; the later one counts", b.named(), s.name, j.show(s.new), j.show(s.old), b.Origin.At("board"))
		}
	}
	sized := wb.Least > 0 || row.Width > 0 || row.Length > 0
	if sized {
		b.Thickness, b.Width, b.Length = orOld(wb.Least, b.Thickness), orOld(row.Width, b.Width), orOld(row.Length, b.Length)
		b.Origin = row.Origin
	}
	if wb.Footage.Known || !b.Footage.Known {
		b.Footage, b.feet = wb.Footage, wb.Feet
	}
	switch { // the spread wants one reading a board: the mean of several hides what a saw does within a board
	case len(row.GreenMeasured) > 1:
		b.green = 0
	case row.GreenThickness > 0:
		b.green = row.GreenThickness
	}
	if wb.Species != "" {
		b.Species = wb.Species
	}
	if row.Course > 0 && row.Spot > 0 {
		b.Course, b.Spot = row.Course, row.Spot
	}
	if wb.MC.State != units.NotTaken {
		b.MC = wb.MC
	}
}

func orOld(new, old units.Length) units.Length {
	if new > 0 {
		return new
	}
	return old
}

// named writes a board with its load.
func (b *board) named() string {
	if b.Load == "" {
		return b.ID
	}
	return fmt.Sprintf("%s of load %s", b.ID, b.Load)
}

// settlePlaces makes one of a board known by its place in one week and by its number in another, marks the boards held back,
// and says which numbers stand both in a load and in none.
func (j *join) settlePlaces() {
	type place struct{ load, course, spot int }
	numbered := map[place]*board{}
	for _, b := range j.boards {
		if !b.byPlace && b.Course > 0 && b.Spot > 0 {
			numbered[place{b.key.load, b.Course, b.Spot}] = b
		}
	}
	for _, b := range j.boards {
		if other := numbered[place{b.key.load, b.Course, b.Spot}]; b.byPlace && other != nil {
			b.gone = true
			if other.MC.State == units.NotTaken {
				other.MC = b.MC
			}
		}
		if b.key.load < 0 {
			for _, at := range j.byID[b.key.id] {
				if o := j.boards[at]; o.key.load >= 0 {
					j.say("S008", b.Origin.At("board"), b.ID, "write the load beside it if it is the same board, else give one of the two another number",
						"board %q stands in no load here, and in load %q in %s; they were counted as two boards", b.ID, o.Load, o.Origin.At("board"))
				}
			}
		}
	}
	for load, l := range j.loads {
		for _, id := range l.HeldBack {
			if at, ok := j.find[boardKey{load, compute.IDKey(id)}]; ok {
				j.boards[at].HeldBack = true
			}
		}
	}
}
