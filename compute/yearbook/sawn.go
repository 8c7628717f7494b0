package yearbook

import (
	"fmt"
	"slices"

	"drytally/compute"
	"drytally/compute/footage"
	"drytally/compute/units"
)

// Sawn is what the saw made by one rule, green.
type Sawn struct {
	Rule    compute.FootageRule
	Boards  int
	Feet    compute.Footage
	Unsized int // boards without a footage
}

// cutKey is what two rows of one sawing have in common.
func cutKey(c *compute.Cut) string {
	return fmt.Sprint(dayWords(c.Date), c.Species.Name, c.Thickness, c.Width, c.Length, c.Pieces, c.Sawing, compute.IDKey(c.Load), compute.IDKey(c.ID))
}

// sumSawn counts every row of the saw once: a row with a day, a load or a number that stands in several workbooks was carried
// over. Rows without any of these count every time.
func (j *join) sumSawn() {
	type sum struct {
		boards, unsized int
		feet            footage.Feet
	}
	sums := map[compute.FootageRule]*sum{}
	counted := map[string]int{} // rows of a key that were counted
	for w := range j.weeks {
		here := map[string]int{}
		var again, loose []*compute.Cut
		for i := range j.weeks[w].Cuts {
			c := &j.weeks[w].Cuts[i]
			k := cutKey(c.Cut)
			here[k]++
			told := !c.Cut.Date.IsZero() || c.Cut.Load != "" || c.Cut.ID != ""
			switch {
			case told && here[k] <= counted[k]:
				again = append(again, c.Cut)
				continue
			case !told && counted[k] > 0:
				loose = append(loose, c.Cut)
			}
			s := sums[c.Green.Rule]
			if s == nil {
				s = &sum{}
				sums[c.Green.Rule] = s
			}
			s.boards += c.Cut.Pieces
			s.feet = s.feet.Add(c.Feet)
			if !c.Green.Known {
				s.unsized += c.Cut.Pieces
			}
		}
		for k, n := range here {
			counted[k] = max(counted[k], n)
		}
		if len(again) > 0 {
			j.say("S012", again[0].Origin.At(""), "", "nothing to do", "%s of sawing here and below stood in an earlier workbook already and counted there", rowsWords(len(again)))
		}
		if len(loose) > 0 {
			j.say("S014", loose[0].Origin.At(""), "", "write the day sawn, so that a row carried over is not counted twice", "%s of sawing without date, load or number are like some of an earlier workbook; they were counted again", rowsWords(len(loose)))
		}
	}
	for _, rule := range Rules {
		if s := sums[rule]; s != nil {
			j.book.Sawn = append(j.book.Sawn, Sawn{Rule: rule, Boards: s.boards, Unsized: s.unsized, Feet: compute.Footage{Rule: rule, Hundredths: s.feet.Hundredths(), Known: true}})
		}
	}
}

func rowsWords(n int) string {
	if n == 1 {
		return "1 row"
	}
	return fmt.Sprintf("%d rows", n)
}

// thicknessOf gives the green thickness a load was sawn to, when all its cuts agree; else 0.
func (j *join) thicknessOf(l *load) units.Length {
	var all []units.Length
	for _, w := range l.weeks {
		for _, c := range j.weeks[w].Cuts {
			sawn := c.Cut.Thickness
			if c.Cut.Setting > 0 {
				sawn = c.Cut.Setting
			}
			if compute.IDKey(c.Cut.Load) == l.key && c.Cut.Load != "" && !slices.Contains(all, sawn) {
				all = append(all, sawn)
			}
		}
	}
	if len(all) != 1 {
		return 0
	}
	return all[0]
}
