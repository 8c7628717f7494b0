package compute

import (
	"maps"
	"slices"
	"strings"

	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// Assess computes everything the papers print. The job is not changed.
func Assess(given *Job) *Result { return assess(given).out }

// assess does it and keeps what was looked up on the way.
func assess(given *Job) *index {
	copied := *given
	job := &copied
	out := &Result{Job: job, Findings: slices.Clone(job.Findings), Accounts: cloned(job.Accounts),
		Boards: make([]BoardResult, 0, len(job.Boards))}
	x := &index{job: job, out: out, loads: map[string]int{}, boards: map[string]map[string]int{},
		places: map[string]map[[2]int]int{}, byID: map[string][]int{}, listed: map[string]int{}, airTemps: map[*Reading]units.Temperature{}}
	x.indexLoads()
	x.indexBoards()
	readings := x.placeReadings()
	for _, check := range checks {
		check(x)
	}
	readings = x.mainMeter(readings)
	x.measureBoards(readings)
	x.calibrateMeters()
	x.tallyBoards()
	for i := range job.Loads {
		if x.loads[key(job.Loads[i].ID)] == i {
			out.Loads = append(out.Loads, x.assessLoad(&job.Loads[i]))
		}
	}
	x.serveLoads()
	out.House = PoolShrinkage(x.shrinkBoards())
	x.sawnSpread()
	x.shapes()
	x.climate()
	x.tallyCuts()
	x.sizeWanted()
	x.assessSales()
	x.loadKiln()
	x.thickerStep()
	x.weighSales()
	x.countMoney()
	x.planBoards()
	x.fitBoards()
	x.serveSizes()
	x.moveSales()
	x.touchLoads()
	x.gather()
	out.Findings.Sort(job.SheetOrder)
	job.Stands = nil // the cells need not be kept any longer
	return x
}

// touchLoads gives every load the findings that touch its rows, and withholds its certificate when one is an error.
func (x *index) touchLoads() {
	rows := x.rowsOfLoads()
	ofCutting := x.cuttingCells()
	for i := range x.out.Loads {
		l := &x.out.Loads[i]
		mine := rows[key(l.Load.ID)]
		for _, f := range x.out.Findings {
			if f.Severity == finding.Note || !mine[rowPlace(f.Place)] || ofCutting[f.Place] {
				continue
			}
			l.Warnings = append(l.Warnings, f)
			l.Withheld = l.Withheld || f.Severity == finding.Error
		}
		l.Warnings.Sort(x.job.SheetOrder)
	}
}

// cuttingCells are the cells that only say how a board is cut up. Nothing about moisture or footage rests on them.
func (x *index) cuttingCells() map[finding.Place]bool {
	cells := map[finding.Place]bool{}
	for i := range x.job.Boards {
		if o := x.job.Boards[i].Origin; o.Cols()["cut out"] > 0 {
			cells[o.At("cut out")] = true
		}
	}
	return cells
}

// rowPlace is the row a place stands in.
func rowPlace(p finding.Place) finding.Place { p.Col = 0; return p }

// rowsOfLoads lists the rows with an error or a warning that belong to each load, set-aside rows too.
func (x *index) rowsOfLoads() map[string]map[finding.Place]bool {
	rows := map[string]map[finding.Place]bool{}
	found := map[finding.Place]bool{} // only rows with a finding are asked for
	for _, f := range x.out.Findings {
		if f.Severity != finding.Note {
			found[rowPlace(f.Place)] = true
		}
	}
	add := func(load string, o Origin) {
		if !found[rowPlace(o.At(""))] {
			return
		}
		if rows[load] == nil {
			rows[load] = map[finding.Place]bool{}
		}
		rows[load][rowPlace(o.At(""))] = true
	}
	for _, l := range x.job.Loads {
		add(key(l.ID), l.Origin)
	}
	for _, b := range x.job.Boards {
		if l, ok := x.loadOf(b.Load); ok {
			add(l, b.Origin)
		}
	}
	for _, b := range x.out.Boards {
		add(key(b.Board.Load), b.Board.Origin)
	}
	// A reading that could not be placed touches every load it may belong to.
	touch := func(load, board string, o Origin) {
		if l, ok := x.loadOf(load); ok {
			add(l, o)
			return
		}
		boards := x.byID[key(board)]
		for _, at := range boards {
			add(key(x.out.Boards[at].Board.Load), o)
		}
		if len(boards) == 0 {
			for _, l := range x.job.Loads {
				add(key(l.ID), o)
			}
		}
	}
	for _, r := range x.job.Readings {
		touch(r.Load, r.Board, r.Origin)
	}
	for _, u := range x.job.Unread {
		touch(u.Load, u.Board, u.Origin)
	}
	for _, w := range x.job.Weights {
		if l, ok := x.loadOf(w.Load); ok {
			add(l, w.Origin)
		}
	}
	return rows
}

// gather lists the species and the sources the job rests on.
func (x *index) gather() {
	species := map[string]wood.Species{}
	use := func(s wood.Species) {
		if s.Name != "" {
			species[s.Name] = s
		}
	}
	for _, b := range x.out.Boards {
		use(b.Species)
	}
	for _, c := range x.job.Cuts {
		use(c.Species)
	}
	for _, w := range x.job.Wanted {
		use(w.Species)
	}
	for _, name := range slices.Sorted(maps.Keys(species)) {
		x.out.Species = append(x.out.Species, species[name])
	}
	for _, s := range x.out.Species {
		x.cite(s.ShrinkageSource)
		x.cite(s.GravitySource)
	}
	slices.SortStableFunc(x.out.Sources, func(a, b source.Source) int { return strings.Compare(a.String(), b.String()) })
}

// cite adds a source once.
func (x *index) cite(s source.Source) {
	if s.Document != "" && s.Status != source.Owner && !slices.Contains(x.out.Sources, s) {
		x.out.Sources = append(x.out.Sources, s)
	}
}
