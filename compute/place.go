package compute

import (
	"fmt"
	"slices"

	"drytally/compute/units"
)

// impliedLoads makes the loads of a workbook without a loads sheet from its boards and readings: loads without use or
// limit, whose verdict stays open.
func impliedLoads(job *Job) []Load {
	var loads []Load
	seen := map[string]bool{}
	add := func(id string, o Origin) {
		if !seen[key(id)] {
			seen[key(id)] = true
			loads = append(loads, Load{Origin: o, ID: id})
		}
	}
	for _, b := range job.Boards {
		if b.Load != "" {
			add(b.Load, b.Origin)
		}
	}
	for _, r := range job.Readings {
		if r.Load != "" {
			add(r.Load, r.Origin)
		}
	}
	if len(loads) == 0 && len(job.Readings) > 0 {
		add("all", job.Readings[0].Origin)
	}
	return loads
}

// indexLoads takes in the loads sheet.
func (x *index) indexLoads() {
	if len(x.job.Loads) == 0 {
		x.job.Loads = impliedLoads(x.job)
		for _, l := range x.job.Loads {
			x.say("J023", l.Origin.At("load"), l.ID, "add a loads sheet with load, use and number of boards", "load %q is in no loads sheet, so its use and its number of boards are not known", l.ID)
		}
	}
	for i, l := range x.job.Loads {
		k := key(l.ID)
		if old, ok := x.loads[k]; ok {
			x.say("J007", l.Origin.At("load"), l.ID, "give one of the two another name", "load %q stands in row %d already", l.ID, x.job.Loads[old].Origin.Row)
			x.setAside(l.Origin, "load named twice")
			continue
		}
		x.loads[k] = i
	}
}

// indexBoards takes in the boards sheet.
func (x *index) indexBoards() {
	for i := range x.job.Boards {
		b := &x.job.Boards[i]
		load, ok := x.loadOf(b.Load)
		if !ok && b.Load != "" && len(x.job.Loads) > 0 {
			x.say("J006", b.Origin.At("load"), b.Load, "correct the load, or add it to the loads sheet", "board %q names load %q, which is not in the loads sheet", b.ID, b.Load)
			x.setAside(b.Origin, "load not known")
			continue
		}
		if old, n := x.boards[load][key(b.ID)]; n {
			x.say("J001", b.Origin.At("board"), b.ID, "give one of the two another number", "board %q stands in row %d already", b.ID, x.out.Boards[old].Board.Origin.Row)
			x.setAside(b.Origin, "board number given twice")
			continue
		}
		x.addBoard(load, b)
		x.listed[load]++
	}
}

// addBoard adds a board to the result and to the maps.
func (x *index) addBoard(load string, b *Board) int {
	at := len(x.out.Boards)
	r := BoardResult{Board: b, Species: b.Species}
	if r.Species.Name == "" {
		if i, ok := x.loads[load]; ok {
			r.Species = x.job.Loads[i].Species
		}
	}
	x.out.Boards = append(x.out.Boards, r)
	if x.boards[load] == nil {
		x.boards[load] = map[string]int{}
		x.places[load] = map[[2]int]int{}
	}
	x.boards[load][key(b.ID)] = at
	if b.Course > 0 && b.Spot > 0 {
		x.takePlace(load, b, at)
	}
	return at
}

// takePlace notes where a board lies in the stack.
func (x *index) takePlace(load string, b *Board, at int) {
	if i, ok := x.loads[load]; ok {
		l := x.job.Loads[i]
		if l.Courses > 0 && b.Course > l.Courses || l.Spots > 0 && b.Spot > l.Spots {
			x.say("J018", b.Origin.At("course"), fmt.Sprintf("course %d, spot %d", b.Course, b.Spot), "correct the place, or the size of the stack in the loads sheet",
				"board %q lies outside the stack of %d courses and %d spots", b.ID, l.Courses, l.Spots)
			return
		}
	}
	place := [2]int{b.Course, b.Spot}
	if old, taken := x.places[load][place]; taken {
		x.say("J008", b.Origin.At("course"), "", "correct course or spot of one of them", "board %q and board %q are both said to lie in course %d, spot %d",
			b.ID, x.out.Boards[old].Board.ID, b.Course, b.Spot)
		return
	}
	x.places[load][place] = at
}

// boardReading is a reading with the board it was taken on.
type boardReading struct {
	board   int // index into Result.Boards
	reading *Reading
}

// placeReadings finds the board of every reading. A load without a boards sheet gets its boards from the readings.
func (x *index) placeReadings() []boardReading {
	var placed []boardReading
	for i := range x.job.Readings {
		r := &x.job.Readings[i]
		at, ok := x.boardOfReading(r)
		if !ok {
			x.setAside(r.Origin, "board or load not known")
			continue
		}
		placed = append(placed, boardReading{at, r})
	}
	return placed
}

func (x *index) boardOfReading(r *Reading) (int, bool) {
	if r.Load != "" && len(x.job.Loads) > 0 {
		if _, ok := x.loadOf(r.Load); !ok {
			x.say("J006", r.Origin.At("load"), r.Load, "correct the load, or add it to the loads sheet", "this reading names load %q, which is not in the loads sheet", r.Load)
			return 0, false
		}
	}
	if r.Board == "" {
		load, ok := x.loadOf(r.Load)
		if !ok {
			x.say("J003", r.Origin.At(r.Field), r.Value.String(), "write the load beside the readings, or in the title above them", "a reading by place needs its load, and there are %d loads", len(x.job.Loads))
			return 0, false
		}
		if at, ok := x.places[load][[2]int{r.Course, r.Spot}]; ok {
			return at, true
		}
		if x.listed[load] > 0 {
			x.say("J002", r.Origin.At(r.Field), r.Value.String(), "correct the place, or write the board's course and spot in the boards sheet",
				"no board of the boards sheet lies in course %d, spot %d", r.Course, r.Spot)
			return 0, false
		}
		id := fmt.Sprintf("course %d spot %d", r.Course, r.Spot)
		return x.addBoard(load, x.impliedBoard(load, id, r)), true
	}
	at, loads := x.findBoard(r.Load, r.Board)
	if loads == 1 {
		return at, true
	}
	if loads > 1 {
		x.say("J003", r.Origin.At("board"), r.Board, "write the load beside the reading", "board %q is in %d loads and this reading names none", r.Board, loads)
		return 0, false
	}
	load, ok := x.loadOf(r.Load)
	if !ok && len(x.job.Loads) > 0 {
		x.say("J002", r.Origin.At("board"), r.Board, "correct the number, or write the load beside it", "no board %q is in the boards sheet", r.Board)
		return 0, false
	}
	if x.listed[load] > 0 {
		x.say("J002", r.Origin.At("board"), r.Board, "correct the number, or add the board to the boards sheet", "no board %q is in the boards sheet of its load", r.Board)
		return 0, false
	}
	return x.addBoard(load, x.impliedBoard(load, r.Board, r)), true
}

// impliedBoard is a board known only because it was read.
func (x *index) impliedBoard(load, id string, r *Reading) *Board {
	name := r.Load
	if i, ok := x.loads[load]; ok {
		name = x.job.Loads[i].ID
	}
	return &Board{Origin: r.Origin, ID: id, Load: name, Course: r.Course, Spot: r.Spot}
}

// boardsOf lists the boards of a load in the order they were met.
func (x *index) boardsOf(load string) []int {
	var at []int
	for _, i := range x.boards[load] {
		at = append(at, i)
	}
	slices.Sort(at)
	return at
}

// speciesOf lists the species names of some boards, in order of first board.
func (x *index) speciesOf(boards []int) []string {
	var names []string
	for _, i := range boards {
		if n := x.out.Boards[i].Species.Name; n != "" && !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	return names
}

// show writes a size in the owner's measure.
func (x *index) show(l units.Length) string { return x.job.Settings.System.Size(l) }
