package compute

import (
	"strings"

	"drytally/compute/finding"
	"drytally/compute/footage"
)

// key folds an id for comparison: case, blanks, hyphens and points do not tell two boards apart.
func key(id string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '-', '–', '.', '_', '/', '#', '\u00a0':
			return -1
		}
		return r
	}, strings.ToLower(id))
}

// index finds loads and boards by their ids while the checks run over the job.
type index struct {
	job      *Job
	out      *Result
	loads    map[string]int            // key of load -> index into job.Loads
	boards   map[string]map[string]int // key of load -> key of board -> index into out.Boards
	places   map[string]map[[2]int]int // key of load -> course, spot -> index into out.Boards
	listed   map[string]int            // key of load -> boards in the boards sheet
	feet     map[int]footage.Feet      // board -> its exact footage
	measured map[string]*measurement   // key of load -> what its readings come to
}

// say adds a finding of the checks.
func (x *index) say(code finding.Code, at finding.Place, stands, hint, problem string, args ...any) {
	x.out.Findings.Add(code, at, stands, hint, problem, args...)
}

// setAside moves a row from used to set aside, once a check has shown that it can't be used.
func (x *index) setAside(o Origin, why string) {
	for i := range x.out.Accounts {
		a := &x.out.Accounts[i]
		if a.File != o.File || o.Sheet != "" && a.Sheet != o.Sheet {
			continue
		}
		for k := range a.Rows {
			if a.Rows[k].Row == o.Row {
				a.Rows[k].Fate, a.Rows[k].Why = SetAside, why
			}
		}
	}
}

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
	at = -1
	for _, l := range x.job.Loads {
		if i, ok := x.boards[key(l.ID)][key(id)]; ok {
			at = i
			loads++
		}
	}
	if i, ok := x.boards[""][key(id)]; ok {
		at = i
		loads++
	}
	return at, loads
}
