package compute

import (
	"strings"
	"unicode"

	"drytally/compute/finding"
	"drytally/compute/footage"
	"drytally/compute/profile"
	"drytally/compute/units"
)

// key folds an id for comparison: case, blanks, hyphens and points do not tell two boards apart, unless they stand between
// two digits: A-01 is A01, but 1-11 is not 11-1.
func key(id string) string {
	if folded(id) {
		return id
	}
	var out []rune
	parted := false
	for _, r := range strings.ToLower(id) {
		switch r {
		case ' ', '-', '–', '.', '_', '/', '#', '\u00a0':
			parted = len(out) > 0
			continue
		}
		if parted && unicode.IsDigit(r) && unicode.IsDigit(out[len(out)-1]) {
			out = append(out, '-')
		}
		parted = false
		out = append(out, r)
	}
	return string(out)
}

// folded reports whether an id is its own key, as most are but for capitals.
func folded(id string) bool {
	for i := range len(id) {
		if c := id[i]; !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9') {
			return false
		}
	}
	return true
}

// SameID reports whether two ids mean one board, load or sample: case, blanks, hyphens and points don't tell them apart, unless
// they stand between two digits.
func SameID(a, b string) bool { return key(a) == key(b) }

// IDKey gives what two ids that mean one board, load, sample or sale have in common: see SameID.
func IDKey(id string) string { return key(id) }

// index finds loads and boards by their ids while the checks run over the job.
type index struct {
	job    *Job
	out    *Result
	loads  map[string]int            // key of load -> index into job.Loads
	boards map[string]map[string]int // key of load -> key of board -> index into out.Boards
	places map[string]map[[2]int]int // key of load -> course, spot -> index into out.Boards
	byID   map[string][]int          // key of board -> indices into out.Boards, over all loads
	listed map[string]int            // key of load -> boards in the boards sheet
	feet   map[int]footage.Feet      // board -> its exact footage
	placed []boardReading            // every reading with its board, whichever meter and day
	// The same by the key of their load; made when first asked for (see placedOf).
	placedByLoad map[string][]boardReading
	// The meter the settings speak of, by its key, and the meter of boards that only another one has read.
	mainMeterKey string
	otherMeter   map[int]string
	measured     map[string]*measurement        // key of load -> what its readings come to
	samples      map[string][]sample            // key of load -> its sample boards; made when first asked for (see samplesOf)
	airTemps     map[*Reading]units.Temperature // wood temperatures taken from the air log
	sawn         map[[2]string]Sawing           // wood and key of load -> how its cuts were sawn; made when first asked for (see boardSawing)

	wanted     []Wanted        // the wanted pieces as computed: shapes worked out; in the order of job.Wanted
	shape      []profile.Shape // of each
	shapeNotes [][]Statement   // what was worked out for each
}

// say adds a finding of the checks. What stands there is given as it was understood; where the cell's own letters are known
// they take its place.
func (x *index) say(code finding.Code, at finding.Place, stands, hint, problem string, args ...any) {
	if x.job.Stands != nil && at.Col > 0 {
		if letters := x.job.Stands(at); letters != "" {
			stands = letters
		}
	}
	x.out.Findings.Add(code, at, stands, hint, problem, args...)
}

// setAside moves a row from used to set aside, once a check has shown that it can't be used.
func (x *index) setAside(o Origin, why string) { SetRowAside(x.out.Accounts, o.At(""), why) }

// loadOf gives the load a record belongs to: the one it names, or the only one there is. ok is false when there is none.
func (x *index) loadOf(name string) (load string, ok bool) {
	if name == "" {
		if len(x.job.Loads) == 1 {
			return key(x.job.Loads[0].ID), true
		}
		return "", false
	}
	_, ok = x.loads[key(name)]
	return key(name), ok
}

// findBoard gives the board an id means. With no load named, the id must stand in one load only.
func (x *index) findBoard(load, id string) (at int, loads int) {
	if load != "" {
		if i, ok := x.boards[key(load)][key(id)]; ok {
			return i, 1
		}
		return -1, 0
	}
	switch all := x.byID[key(id)]; len(all) {
	case 0:
		return -1, 0
	default:
		return all[0], len(all)
	}
}
