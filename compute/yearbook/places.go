package yearbook

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"drytally/compute"
	"drytally/compute/calibrate"
	"drytally/compute/units"
)

// Places is where the wet boards sit in the kiln: every board measured in its place, held against the mean of its own load.
type Places struct {
	Loads          []string // that count, in order
	Boards         int      // measured in a known place
	Same           bool     // every stack had the same courses and spots: Cells are the places themselves, else thirds of them
	Courses, Spots int      // of the picture
	Cells          []Cell   // from the bottom left, course by course; N 0: nothing was measured there
	Parts          []Part   // thirds of the courses by thirds of the spots
	Tested         int      // parts with boards of enough loads
	Says           []compute.Statement
	How            []compute.Statement // how it was tested and drawn
}

// Cell is one place of the picture. Course 1 is the bottom, spot 1 the left.
type Cell struct {
	Course, Spot int
	Apart        units.MC // mean of its boards less the mean of their loads, to the tenth
	N            int
}

// Part is a third of the courses in a third of the spots.
type Part struct {
	Name      string // "bottom left"
	Apart     units.MC
	Low, High units.MC // range of Apart that holds with 95 % for all parts together, outward to the tenth
	N, Loads  int
	Courses   [2]int // first and last of the picture's courses in it
	Spots     [2]int
	Tested    bool
	Sure      bool // the range does not hold 0
}

// How many placed boards a load needs to count, and how many loads a part of the stack: with two loads a difference can't be told
// from how those two were stacked. Largest picture that shows the places themselves. This project's choices.
const (
	leastPlaced  = 6
	leastLoads   = 3
	mostCourses  = 24
	mostSpots    = 14
	partsAcross  = 3
	leastPerPart = 2 // boards of a load in a part
)

// placed is a board measured in its place.
type placed struct {
	load, course, spot int
	courses, spots     int
	apart              float64
}

// part gives the index of the part of the stack the board lies in.
func (b placed) part() int { return third(b.course, b.courses)*partsAcross + third(b.spot, b.spots) }

// joinPlaces holds every board in its place against the mean of its load.
func (j *join) joinPlaces() {
	p := &j.book.Places
	var all []placed
	size := map[[2]int]bool{}
	for at, l := range j.loads {
		var mine []placed
		sum := 0.0
		courses, spots := l.Courses, l.Spots
		for _, b := range j.boards {
			if b.key.load == at && b.Course > 0 && b.Spot > 0 {
				courses, spots = max(courses, b.Course), max(spots, b.Spot)
			}
		}
		for _, b := range j.boards {
			if b.key.load != at || b.gone || b.Course == 0 || b.Spot == 0 || b.MC.State != units.Number {
				continue
			}
			mine = append(mine, placed{at, b.Course, b.Spot, courses, spots, b.MC.MC.Percent()})
			sum += b.MC.MC.Percent()
		}
		if len(mine) < leastPlaced {
			continue
		}
		for i := range mine {
			mine[i].apart -= sum / float64(len(mine))
		}
		all = append(all, mine...)
		size[[2]int{courses, spots}] = true
		p.Loads = append(p.Loads, l.Name)
	}
	p.Boards = len(all)
	if len(all) == 0 {
		return
	}
	p.Same = len(size) == 1 && all[0].courses <= mostCourses && all[0].spots <= mostSpots
	p.Courses, p.Spots = partsAcross, partsAcross
	if p.Same {
		p.Courses, p.Spots = all[0].courses, all[0].spots
	}
	p.Cells = cells(all, p.Courses, p.Spots, p.Same)
	p.Parts = parts9(all)
	for i := range p.Parts {
		p.Parts[i].Courses, p.Parts[i].Spots = span(i/partsAcross, p.Courses), span(i%partsAcross, p.Spots)
	}
	p.test(all)
	p.say()
}

// cells takes the means of the places of the picture.
func cells(all []placed, courses, spots int, same bool) []Cell {
	sums := make([]float64, courses*spots)
	out := make([]Cell, courses*spots)
	for i := range out {
		out[i].Course, out[i].Spot = i/spots+1, i%spots+1
	}
	for _, b := range all {
		c, s := b.course-1, b.spot-1
		if !same {
			c, s = third(b.course, b.courses), third(b.spot, b.spots)
		}
		sums[c*spots+s] += b.apart
		out[c*spots+s].N++
	}
	for i := range out {
		if out[i].N > 0 {
			out[i].Apart = units.PercentTenth(sums[i] / float64(out[i].N))
		}
	}
	return out
}

// third gives the third, 0 to 2, in which place i of n lies: the outer two rounded down but at least one; of one or two places
// all lie in the outer thirds.
func third(i, n int) int {
	outer := max(1, n/partsAcross)
	switch {
	case i <= outer:
		return 0
	case i > n-outer:
		return 2
	}
	return 1
}

// span gives the first and last place of a third of n places; 0, -1 when it has none.
func span(third3, n int) [2]int {
	out := [2]int{0, -1}
	for i := 1; i <= n; i++ {
		if third(i, n) == third3 {
			if out[0] == 0 {
				out[0] = i
			}
			out[1] = i
		}
	}
	return out
}

// parts9 names the nine parts of a stack.
func parts9(all []placed) []Part {
	var out []Part
	for c := range partsAcross {
		for s := range partsAcross {
			out = append(out, Part{Name: [...]string{"bottom", "middle", "top"}[c] + " " + [...]string{"left", "center", "right"}[s]})
		}
	}
	for _, b := range all {
		out[b.part()].N++
	}
	return out
}

// test tells parts that are wetter or drier than their loads from chance. The loads are what repeats, not the boards: a wet
// corner of one load is not a wet corner of the kiln. Of every part the means of its boards are taken load by load, and their
// mean has Student's t range, with the 5 % of being wrong shared out among the parts tested (Bonferroni). The standard error
// is taken no smaller than boards drawn anywhere from their loads would make it.
//
// Source: textbook one-sample t and Bonferroni (memory).
func (p *Places) test(all []placed) {
	means := make([][]float64, len(p.Parts))
	spread := 0.0
	for _, b := range all {
		spread += b.apart * b.apart
	}
	spread = math.Sqrt(spread / float64(max(1, len(all)-len(p.Loads))))
	for i := range p.Parts {
		byLoad := map[int][]float64{}
		var order []int
		for _, b := range all {
			if b.part() != i {
				continue
			}
			if byLoad[b.load] == nil {
				order = append(order, b.load)
			}
			byLoad[b.load] = append(byLoad[b.load], b.apart)
		}
		for _, load := range order {
			if len(byLoad[load]) >= leastPerPart {
				means[i] = append(means[i], stat.Mean(byLoad[load], nil))
			}
		}
		part := &p.Parts[i]
		part.Loads = len(means[i])
		if part.N > 0 {
			sum := 0.0
			for _, load := range order {
				for _, a := range byLoad[load] {
					sum += a
				}
			}
			part.Apart = units.PercentTenth(sum / float64(part.N))
		}
		if part.Tested = part.Loads >= leastLoads; part.Tested {
			p.Tested++
		}
	}
	for i := range p.Parts {
		part := &p.Parts[i]
		if !part.Tested {
			continue
		}
		mean, deviation := stat.MeanStdDev(means[i], nil)
		n := float64(len(means[i]))
		wrong := (1 - confidence) / float64(p.Tested)
		half := calibrate.Student(1-wrong, len(means[i])-1) * max(deviation/math.Sqrt(n), spread/math.Sqrt(float64(part.N)))
		part.Apart = units.PercentTenth(mean)
		part.Low, part.High = units.Percent(mean-half).TenthDown(), units.Percent(mean+half).TenthUp()
		part.Sure = part.Low > 0 || part.High < 0
	}
}

// say puts into words only what the test bears out.
func (p *Places) say() {
	with := func(part Part) []any {
		return []any{"where", part.Name, "points", abs(part.Apart), "low", min(abs(part.Low), abs(part.High)), "high", max(abs(part.Low), abs(part.High)), "n", part.N, "loads", part.Loads}
	}
	if p.Tested == 0 {
		p.Says = append(p.Says, stated("yearbook-places-few", "n", len(p.Loads), "need", leastLoads))
		return
	}
	for _, part := range p.Parts {
		if part.Sure && part.Low > 0 {
			p.Says = append(p.Says, stated("yearbook-places-wet", with(part)...))
		}
	}
	for _, part := range p.Parts {
		if part.Sure && part.High < 0 {
			p.Says = append(p.Says, stated("yearbook-places-dry", with(part)...))
		}
	}
	if len(p.Says) == 0 {
		p.Says = append(p.Says, stated("yearbook-places-none", "n", p.Boards, "loads", len(p.Loads)))
	}
	p.How = append(p.How, stated("yearbook-places-test", "parts", p.Tested, "least", leastLoads))
	if !p.Same {
		p.How = append(p.How, stated("yearbook-places-thirds"))
	}
}

// wet lists the parts that are surely wetter than their loads.
func (p *Places) wet() []string {
	var all []string
	for _, part := range p.Parts {
		if part.Sure && part.Low > 0 {
			all = append(all, fmt.Sprintf("%s (%s points)", part.Name, part.Apart))
		}
	}
	return all
}

func abs(m units.MC) units.MC { return max(m, -m) }
