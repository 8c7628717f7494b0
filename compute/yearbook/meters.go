package yearbook

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/calibrate"
	"drytally/compute/units"
)

// Meter is one meter in one wood held against weights, over all weeks.
type Meter struct {
	Meter, Species string
	Pairs          []Pair
	// Difference is what the weights said less what the meter said, on average, to the tenth of a point. Confidence 0: one pair,
	// no range.
	Difference units.Estimate
	Spread     units.MC // standard deviation of the difference from board to board
}

// Pair is one board measured both ways.
type Pair struct {
	Load, Board    string
	Date           time.Time
	Shown, Weighed units.MC
	Section        bool
}

// joinMeters lists every pair once and compares them meter by meter and wood by wood.
func (j *join) joinMeters() {
	type key struct {
		meter, species, board string
		load                  int
		date                  time.Time
	}
	type group struct{ meter, species string }
	at := map[key]int{} // -> pairs
	var keys []key
	var pairs []Pair
	meters := map[string]string{} // key -> name as written
	for w := range j.weeks {
		for _, p := range j.weeks[w].Pairs {
			k := key{compute.IDKey(p.Meter), p.Species, compute.IDKey(p.Board), -1, day(p.Date)}
			pair := Pair{Board: p.Board, Date: p.Date, Shown: p.Shown, Weighed: p.Weighed, Section: p.Section}
			if p.Load != "" {
				if k.load = j.loadAt(w, p.Load); k.load >= 0 {
					pair.Load = j.loads[k.load].Name
				}
			}
			meters[k.meter] = p.Meter
			if i, ok := at[k]; ok {
				pairs[i] = pair // a later workbook says it again
				continue
			}
			at[k] = len(pairs)
			keys, pairs = append(keys, k), append(pairs, pair)
		}
	}
	groups := map[group]*Meter{}
	for i, k := range keys {
		g := group{k.meter, k.species}
		if groups[g] == nil {
			groups[g] = &Meter{Meter: meters[k.meter], Species: k.species}
		}
		groups[g].Pairs = append(groups[g].Pairs, pairs[i])
	}
	for _, g := range slices.SortedFunc(maps.Keys(groups), func(a, b group) int {
		return cmp.Or(strings.Compare(a.meter, b.meter), strings.Compare(a.species, b.species))
	}) {
		m := groups[g]
		m.compare()
		j.book.Meters = append(j.book.Meters, *m)
	}
}

// compare gives the mean difference of a meter's pairs.
func (m *Meter) compare() {
	var pairs []calibrate.Pair
	for _, p := range m.Pairs {
		pairs = append(pairs, calibrate.Pair{X: p.Shown.Percent(), Y: p.Weighed.Percent()})
	}
	d, err := calibrate.Differences(pairs, confidence)
	if err != nil {
		return
	}
	m.Difference = d.Estimate()
	m.Spread = units.PercentTenth(d.Spread)
}
