package compute

import (
	"fmt"
	"slices"

	"drytally/compute/units"
)

// allRead names the load of readings that name none, when there is no other.
const allRead = "all"

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
	for _, u := range job.Unread {
		if u.Load != "" {
			add(u.Load, u.Origin)
		}
	}
	if len(loads) == 0 && len(job.Readings) > 0 {
		add(allRead, job.Readings[0].Origin)
	}
	return loads
}

// indexLoads takes in the loads sheet.
func (x *index) indexLoads() {
	if len(x.job.Loads) == 0 {
		x.job.Loads = impliedLoads(x.job)
		told := x.anySetAside(KindLoads) // what keeps the loads sheet from being read is said there
		for _, l := range x.job.Loads {
			if told {
				break
			}
			x.say("J023", l.Origin.At("load"), l.ID, "add a loads sheet with load, use and number of boards", "load %q is in no loads sheet, so its use and its number of boards are not known", l.ID)
		}
	}
	var kept []Load
	for _, l := range x.job.Loads {
		k := key(l.ID)
		if old, ok := x.loads[k]; ok {
			x.say("J007", l.Origin.At("load"), l.ID, "give one of the two another name", "load %q stands in row %d already", l.ID, kept[old].Origin.Row)
			x.setAside(l.Origin, "load named twice")
			continue
		}
		if l.Courses > mostPlaces || l.Spots > mostPlaces {
			x.say("J031", l.Origin.At("courses"), fmt.Sprintf("%d courses, %d spots", l.Courses, l.Spots), "correct the number",
				"load %q can't have %d courses of %d spots; the size of its stack was not used", l.ID, l.Courses, l.Spots)
			l.Courses, l.Spots = 0, 0
		}
		x.loads[k] = len(kept)
		kept = append(kept, l)
	}
	x.job.Loads = kept
}

// anySetAside reports whether a row of a kind of table was set aside.
func (x *index) anySetAside(kind Kind) bool {
	return slices.ContainsFunc(x.job.Accounts, func(a Account) bool { return a.Rows.any(kind, SetAside) })
}

// mostPlaces is how many courses, or spots in a course, a stack can have: more is a slip of the keyboard.
const mostPlaces = 200

// indexBoards takes in the boards sheet.
func (x *index) indexBoards() {
	for i := range x.job.Boards {
		b := &x.job.Boards[i]
		load, ok := x.loadOf(b.Load)
		if !ok && b.Load != "" && len(x.job.Loads) > 0 {
			x.say("J006", b.Origin.At("load"), b.Load, x.nearestLoad(b.Load)+"correct the load, or add it to the loads sheet", "board %q names load %q, which is not in the loads sheet", b.ID, b.Load)
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

// addBoard adds a board to the result and to the maps. It carries the load it was found to belong to, so that nobody after
// has to ask again.
func (x *index) addBoard(load string, b *Board) int {
	if _, there := x.boards[load][key(b.ID)]; there {
		panic("compute: board " + b.ID + " added twice")
	}
	at := len(x.out.Boards)
	if i, ok := x.loads[load]; ok && b.Load != x.job.Loads[i].ID {
		b = b.inLoad(x.job.Loads[i].ID)
	}
	r := BoardResult{Board: b, Species: b.Species}
	if i, ok := x.loads[load]; ok {
		if r.Species.Name == "" {
			r.Species = x.job.Loads[i].Species
		}
	}
	x.out.Boards = append(x.out.Boards, r)
	x.byID[key(b.ID)] = append(x.byID[key(b.ID)], at)
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

// inLoad copies a board into a load: the job keeps its own.
func (b *Board) inLoad(load string) *Board {
	copied := *b
	copied.Load = load
	return &copied
}

// takePlace notes where a board lies in the stack.
func (x *index) takePlace(load string, b *Board, at int) {
	if i, ok := x.loads[load]; ok {
		l := x.job.Loads[i]
		if l.Courses > 0 && b.Course > l.Courses || l.Spots > 0 && b.Spot > l.Spots || b.Course > mostPlaces || b.Spot > mostPlaces {
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
	placed := make([]boardReading, 0, len(x.job.Readings))
	for i := range x.job.Readings {
		r := &x.job.Readings[i]
		at, ok := x.boardOfReading(r)
		if !ok {
			x.setAside(r.Origin, "board or load not known")
			continue
		}
		placed = append(placed, boardReading{at, r})
	}
	x.placeUnread()
	return placed
}

// placeUnread counts the boards of readings that could not be read into their loads: they are there, and not measured.
func (x *index) placeUnread() {
	for _, u := range x.job.Unread {
		if u.Board == "" {
			continue
		}
		if _, n := x.findBoard(u.Load, u.Board); n > 0 {
			continue
		}
		if load, ok := x.loadOf(u.Load); ok && x.listed[load] == 0 {
			x.addBoard(load, x.impliedBoard(load, u.Board, &Reading{Taking: &Taking{Load: u.Load}, Origin: u.Origin, Course: u.Course, Spot: u.Spot}))
		}
	}
}

// boardOfReading finds the board a reading is of, by its number or by its place. A board that no boards sheet of the load could hold
// is added; ok is false, and a finding says why, where the sheets don't tell.
func (x *index) boardOfReading(r *Reading) (int, bool) {
	if r.Load != "" && len(x.job.Loads) > 0 {
		if _, ok := x.loadOf(r.Load); !ok {
			x.say("J006", r.Origin.At("load"), r.Load, x.nearestLoad(r.Load)+"correct the load, or add it to the loads sheet", "this reading names load %q, which is not in the loads sheet", r.Load)
			return 0, false
		}
	}
	if r.Board == "" {
		load, ok := x.loadOf(r.Load)
		if !ok {
			x.say("J003", r.Origin.At(r.Field), r.Value.String(), "write the load beside the readings, or in the title above them", "a reading by place needs its load, and there are %d loads", len(x.job.Loads))
			return 0, false
		}
		if r.Spot == 0 {
			x.say("J029", r.Origin.At(r.Field), r.Value.String(), "write the spot in the course too, or the board's number", "course %d alone does not say which board was read", r.Course)
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
		id := placeID(r.Course, r.Spot)
		if at, ok := x.boards[load][key(id)]; ok {
			return at, true
		}
		return x.addBoard(load, x.impliedBoard(load, id, r)), true
	}
	at, loads := x.findBoard(r.Load, r.Board)
	if loads == 0 && r.Load != "" {
		// The boards sheet may leave the load to the readings.
		if i, ok := x.boards[""][key(r.Board)]; ok {
			x.adopt(i, key(r.Load))
			return i, true
		}
	}
	if loads == 1 {
		return at, true
	}
	if loads > 1 {
		x.say("J003", r.Origin.At("board"), r.Board, "write the load beside the reading", "board %q is in %d loads and this reading names none", r.Board, loads)
		return 0, false
	}
	load, ok := x.loadOf(r.Load)
	if !ok && len(x.job.Loads) > 0 {
		x.say("J002", r.Origin.At("board"), r.Board, x.nearestBoard("", r.Board)+"correct the number, or write the load beside it", "no board %q is in the boards sheet", r.Board)
		return 0, false
	}
	if x.listed[load] > 0 {
		x.say("J002", r.Origin.At("board"), r.Board, x.nearestBoard(load, r.Board)+"correct the number, or add the board to the boards sheet", "no board %q is in the boards sheet of its load", r.Board)
		return 0, false
	}
	return x.addBoard(load, x.impliedBoard(load, r.Board, r)), true
}

// adopt puts a board of the boards sheet that names no load into the load its reading names.
func (x *index) adopt(at int, load string) {
	b := &x.out.Boards[at]
	k := key(b.Board.ID)
	delete(x.boards[""], k)
	if x.boards[load] == nil {
		x.boards[load] = map[string]int{}
		x.places[load] = map[[2]int]int{}
	}
	x.boards[load][k] = at
	x.listed[""]--
	x.listed[load]++
	if i, ok := x.loads[load]; ok {
		b.Board = b.Board.inLoad(x.job.Loads[i].ID)
		if b.Species.Name == "" {
			b.Species = x.job.Loads[i].Species
		}
	}
	if b.Board.Course > 0 && b.Board.Spot > 0 {
		x.takePlace(load, b.Board, at)
	}
}

// placeID stands for the number of a board that is known by its place alone.
func placeID(course, spot int) string { return fmt.Sprintf("course %d spot %d", course, spot) }

// impliedBoard is a board known only because it was read.
func (x *index) impliedBoard(load, id string, r *Reading) *Board {
	name := r.Load
	if i, ok := x.loads[load]; ok {
		name = x.job.Loads[i].ID
	}
	return &Board{Origin: r.Origin, ID: id, Load: name, Course: r.Course, Spot: r.Spot}
}

// boardsOf lists the boards of a load in the order of their numbers.
func (x *index) boardsOf(load string) []int {
	var at []int
	for _, i := range x.boards[load] {
		at = append(at, i)
	}
	slices.SortFunc(at, x.compareBoards)
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
