package yearbook

import (
	"fmt"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
)

// What an advice needs before it is given. A house figure needs as many boards as compute asks of it. This project's choices:
// three loads show a range, six pairs are the fewest a meter's own line is laid through.
const (
	leastHouse = 5
	leastTimes = 3
	leastPairs = 6
)

// advise writes what the season says for next week's settings. Every line states what it rests on.
func (j *join) advise() {
	j.adviseSaw()
	j.adviseSpread()
	j.adviseTimes()
	j.adviseMeters()
	j.advisePlaces()
}

func (j *join) advice(known bool, n, need int, name string, with ...any) {
	j.book.Advice = append(j.book.Advice, Advice{Known: known, N: n, Need: need, Says: stated(name, append(with, "n", n, "need", need)...)})
}

// adviseSaw computes the wanted pieces of the last week that has any again, with the season's figures of shrinkage, and the
// saw's own spread where it is known, and says by how many steps the saw setting changes.
func (j *join) adviseSaw() {
	var week *compute.Week
	for w := range j.weeks {
		if len(j.weeks[w].Sizes) > 0 {
			week = &j.weeks[w]
		}
	}
	if week == nil {
		return
	}
	spread := units.Length(0)
	if j.book.Spread.Known && week.Spread.From == compute.SpreadDefault { // the owner's own figure stands, and that of his boards in the week
		spread = j.book.Spread.Value
	}
	system, step := j.book.Settings.System, week.Settings.SawStep
	for i, s := range week.SizesWith(j.book.house(), spread) {
		old := week.Sizes[i]
		name := old.Wanted.Piece
		if !s.Known || !old.Known || step <= 0 {
			continue
		}
		n := j.boardsBehind(s)
		with := []any{"piece", name, "species", s.Wanted.Species.Name, "file", week.FileName(),
			"thickness", system.Size(s.Thickness), "width", system.Size(s.Width), "oldthickness", system.Size(old.Thickness), "oldwidth", system.Size(old.Width),
			"stepst", steps(s.Thickness-old.Thickness, step), "stepsw", steps(s.Width-old.Width, step), "step", system.Size(step),
			"same", word(s.Thickness == old.Thickness && s.Width == old.Width), "spread", word(spread > 0), "spreadn", j.book.Spread.N}
		with = append(with, j.sawnBeside(s)...)
		if len(s.Own) == 0 {
			j.advice(false, n, leastHouse, "yearbook-saw-few", with...)
			continue
		}
		j.advice(true, n, leastHouse, "yearbook-saw", with...)
	}
}

// sawnBeside tells how thick the season's rows of the saw have the wood of a piece, when all of them are thicker than the piece needs
// or all are thinner.
func (j *join) sawnBeside(s compute.SizeResult) []any {
	low, high := units.Length(0), units.Length(0)
	for w := range j.weeks {
		for _, c := range j.weeks[w].Cuts {
			if c.Cut.Species.Name != s.Wanted.Species.Name || c.Cut.Thickness == 0 {
				continue
			}
			if low == 0 || c.Cut.Thickness < low {
				low = c.Cut.Thickness
			}
			high = max(high, c.Cut.Thickness)
		}
	}
	sawn, by := j.show(low), units.Length(0)
	if high > low {
		sawn += " to " + j.show(high)
	}
	switch {
	case low == 0:
	case low > s.Thickness:
		by = low - s.Thickness
	case high < s.Thickness:
		by = high - s.Thickness
	}
	switch {
	case by > 0:
		return []any{"sawn", sawn, "thicker", j.show(by), "thinner", ""}
	case by < 0:
		return []any{"sawn", sawn, "thicker", "", "thinner", j.show(-by)}
	}
	return []any{"sawn", "", "thicker", "", "thinner", ""}
}

// boardsBehind gives the number of boards behind the weakest figure a size rests on; of a wood without a figure the boards there
// are.
func (j *join) boardsBehind(s compute.SizeResult) int {
	n := -1
	for _, h := range s.Own {
		if n < 0 || h.Boards < n {
			n = h.Boards
		}
	}
	if n >= 0 {
		return n
	}
	for _, h := range j.book.Shrinkage {
		if h.Species == s.Wanted.Species.Name {
			n = max(n, h.Boards)
		}
	}
	return max(0, n)
}

// steps writes a change in steps of the saw: "1 step more", "2 steps less", "no change".
func steps(d, step units.Length) string {
	n := int(d / step)
	noun := "steps"
	if n == 1 || n == -1 {
		noun = "step"
	}
	switch {
	case n > 0:
		return fmt.Sprintf("%d %s more", n, noun)
	case n < 0:
		return fmt.Sprintf("%d %s less", -n, noun)
	}
	return "no change"
}

func word(yes bool) string {
	if yes {
		return "yes"
	}
	return ""
}

func (j *join) adviseSpread() {
	s := j.book.Spread
	if !s.Known {
		j.advice(false, s.N, spreadBoards, "yearbook-spread-few", "sizes", spreadSizes)
		return
	}
	show := thousandths
	if j.book.Settings.System == units.Metric {
		show = hundredths
	}
	// The setting lies outside what the boards bear out.
	j.advice(true, s.N, spreadBoards, "yearbook-spread", "spread", show(s.Value), "low", show(s.Low), "high", show(s.High), "set", show(s.Set), "loads", s.Loads,
		"more", word(s.Set < s.Low), "less", word(s.Set > s.High))
}

func thousandths(l units.Length) string { return fmt.Sprintf("%.3f in", l.Inches()) }

func hundredths(l units.Length) string { return fmt.Sprintf("%.2f mm", l.Millimetres()) }

func (j *join) adviseTimes() {
	for _, t := range j.book.Times {
		thick := ""
		if t.Thickness > 0 {
			thick = j.show(t.Thickness)
		}
		with := []any{"species", t.Species, "thickness", thick, "low", t.Low, "middle", t.Middle, "high", t.High, "from", t.From, "to", t.To, "fromn", t.FromN}
		if t.N < leastTimes {
			j.advice(false, t.N, leastTimes, "yearbook-days-few", with...)
			continue
		}
		j.advice(true, t.N, leastTimes, "yearbook-days", with...)
	}
	if len(j.book.Times) == 0 {
		j.advice(false, 0, leastTimes, "yearbook-days-none")
	}
}

func (j *join) adviseMeters() {
	for _, m := range j.book.Meters {
		d := m.Difference
		with := []any{"meter", m.Meter, "species", m.Species, "points", abs(d.Value), "low", d.Low.Signed(), "high", d.High.Signed(), "spread", m.Spread,
			"side", side(d)}
		if len(m.Pairs) < leastPairs || d.Confidence == 0 {
			j.advice(false, len(m.Pairs), leastPairs, "yearbook-meter-few", with...)
			continue
		}
		j.advice(true, len(m.Pairs), leastPairs, "yearbook-meter", with...)
	}
	if len(j.book.Meters) == 0 {
		j.advice(false, 0, leastPairs, "yearbook-meter-none")
	}
}

// side says to which side a meter is off, when its range does not hold 0: "low" when it showed less than the weights.
func side(d units.Estimate) string {
	switch {
	case d.Low > 0:
		return "low"
	case d.High < 0:
		return "high"
	}
	return ""
}

func (j *join) advisePlaces() {
	p := &j.book.Places
	if p.Tested == 0 {
		j.advice(false, len(p.Loads), leastLoads, "yearbook-slow-few")
		return
	}
	wet := p.wet()
	j.advice(true, len(p.Loads), leastLoads, "yearbook-slow", "where", strings.Join(wet, ", "), "boards", p.Boards)
}
