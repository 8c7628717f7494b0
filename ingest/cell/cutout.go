package cell

import (
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// cutOutHint says how bad wood is written, in the owner's measure.
func cutOutHint(x Context) string {
	places, ends, total := `14-20 in; knot 3' to 3'6"; 4-9 in from the top`, "butt 6 in; top 8 in", "lose 8 in"
	if x.bare() == Millimetre {
		places, ends, total = "350-500 mm; knot 900 to 1050 mm; 100-230 mm from the top", "butt 150 mm; top 200 mm", "lose 200 mm"
	}
	return "write where it begins and ends, from the butt end, apart by semicolons: " + places + "; or what an end loses: " + ends + "; or one total: " + total
}

// CutOut is the bad wood of a board: stretches of its length, or a total that is lost at its ends.
type CutOut struct {
	Stretches []Stretch
	Total     units.Length // 0 when stretches are given
}

// Stretch is a part of a board's length. From is 0 or more, To is above From.
type Stretch struct {
	From, To units.Length
	Top      bool // measured from the top end; else from the butt end
}

// flaws are words that say why wood is bad. They change nothing.
var flaws = wordSet("knot", "knots", "check", "checks", "checked", "split", "splits", "shake", "wane", "waney", "rot", "rotten", "decay", "bark", "pitch",
	"pocket", "pith", "hole", "holes", "worm", "stain", "stained", "crack", "cracks", "cracked", "gum", "mineral", "streak", "sapwood", "sap", "burl", "bad",
	"wood", "defect", "defects", "flaw", "loose", "dead", "black", "red", "large", "big", "small", "tight", "tear", "torn", "honeycomb", "collapse", "damage",
	"damaged", "break", "broken", "snipe", "nail", "metal", "spike")

// fillers are words that only join.
var fillers = wordSet("the", "at", "of", "off", "on", "a", "cut", "out", "in", "all")

// totals are words that say that a length is a loss.
var totals = wordSet("lose", "loses", "loss", "lost", "total", "trim")

func wordSet(all ...string) map[string]bool {
	set := map[string]bool{}
	for _, w := range all {
		set[w] = true
	}
	return set
}

// boardEnd is an end of a board as a cell names it.
type boardEnd uint8

const (
	noEnd boardEnd = iota
	buttEnd
	topEnd
	bothEnds
)

// CutOutOf reads the bad wood of a board. What can't be read one way gives a warning and no value: the board is then not cut.
func CutOutOf(c sheet.Cell, x Context) (CutOut, []Problem) {
	if skip, ps := unread(c); skip {
		return CutOut{}, ps
	}
	if p := noFigure(c, x, cutOutHint(x)); p != nil {
		if p.Code == finding.CellNotCalculated || p.Code == finding.CellErrorValue {
			return CutOut{}, list(p)
		}
		return CutOut{}, list(fault(finding.CellCutOut, cutOutHint(x), "%s", p.Problem))
	}
	if c.Kind == sheet.Number {
		if v, ok := stored(c); ok && v.Sign() == 0 {
			return CutOut{}, nil
		}
		return CutOut{}, list(fault(finding.CellCutOut, cutOutHint(x), "%s does not say where the bad wood lies", stands(c, x)))
	}
	p := newParser(clean(c.Text), x)
	switch p.text {
	case "none", "nil", "no", "clear", "all clear", "ok", "nothing", "0":
		return CutOut{}, nil
	}
	if len(p.toks) == 0 {
		return CutOut{}, list(fault(finding.CellCutOut, cutOutHint(x), "%s can't be read as bad wood to cut out", stands(c, x)))
	}
	var out CutOut
	for !p.done() {
		if p.take(";", ",") {
			continue
		}
		from := p.peek(0).start
		one, bad := p.cutOut()
		if bad == nil && one.Total > 0 && (out.Total > 0 || len(out.Stretches) > 0) || bad == nil && out.Total > 0 {
			bad = fault(finding.CellCutOut, "", "%s names a total beside something else, so where it is lost is not known", stands(c, x))
		}
		if bad != nil {
			if part := p.text[from:]; bad.Problem == "" {
				bad.Problem = quote(part) + " can't be read as bad wood to cut out"
			}
			return CutOut{}, list(fault(finding.CellCutOut, cutOutHint(x), "%s", bad.Problem))
		}
		out.Total = max(out.Total, one.Total)
		out.Stretches = append(out.Stretches, one.Stretches...)
	}
	if p.about {
		return out, list(fault(finding.CellAbout, "measure again where it matters", "%s is marked as approximate and was taken as it stands", stands(c, x)))
	}
	return out, nil
}

// cutOut takes one item up to the next semicolon or comma. How it is written is said by the caller.
func (p *parser) cutOut() (CutOut, *Problem) {
	unclear := fault(finding.CellCutOut, "", "")
	var ms []measure
	var simple []bool // one number and at most a unit
	end, total, dash, place := noEnd, false, false, false
	for !p.done() && p.peek(0).text != ";" && p.peek(0).text != "," {
		t := p.peek(0)
		if e := p.end(); e != noEnd {
			if end != noEnd {
				return CutOut{}, unclear
			}
			end = e
			continue
		}
		switch {
		case p.startsFigure() || about[t.text]:
			before := p.at
			m, bad := p.measure()
			if bad != nil {
				return CutOut{}, bad
			}
			ms, simple = append(ms, m), append(simple, p.at-before <= 2)
			p.takeAbout([]string{"~", "?"})
			if len(ms) > 2 || len(ms) == 2 && !dash {
				return CutOut{}, unclear
			}
		case len(ms) == 1 && !dash && p.take("-", "to", "thru", "through", "until"):
			dash = true
		case t.text == "from":
			p.at++
			place = place || p.namesEnd()
		case t.kind == wordToken && totals[t.text]:
			p.at++
			total = true
		case t.kind == wordToken && (flaws[t.text] || fillers[t.text]) || t.text == "(" || t.text == ")" || t.text == ":":
			p.at++
		default:
			return CutOut{}, unclear
		}
	}
	switch {
	case len(ms) == 2:
		s, bad := p.stretch(ms, simple)
		if bad != nil {
			return CutOut{}, bad
		}
		if end == bothEnds {
			return CutOut{}, unclear
		}
		s.Top = end == topEnd
		return CutOut{Stretches: []Stretch{s}}, nil
	case len(ms) != 1 || dash || place: // 6 in from the butt is a place and no stretch
		return CutOut{}, unclear
	case end == noEnd && !total:
		return CutOut{}, fault(finding.CellCutOut, "", "%s gives one length and does not say where it lies", quote(p.text))
	}
	l, bad := p.length(ms[0])
	if bad != nil {
		return CutOut{}, bad
	}
	switch end {
	case buttEnd:
		return CutOut{Stretches: []Stretch{{To: l}}}, nil
	case topEnd:
		return CutOut{Stretches: []Stretch{{To: l, Top: true}}}, nil
	case bothEnds:
		return CutOut{Stretches: []Stretch{{To: l}, {To: l, Top: true}}}, nil
	}
	return CutOut{Total: l}, nil
}

// about are the marks and words that may stand before a figure.
var about = wordSet(aboutBefore...)

// end takes the name of an end of the board.
func (p *parser) end() boardEnd {
	name := map[string]boardEnd{"butt": buttEnd, "top": topEnd, "both": bothEnds, "each": bothEnds}[p.peek(0).text]
	if name == noEnd {
		return noEnd
	}
	if name == bothEnds && p.peek(1).text != "ends" && p.peek(1).text != "end" {
		return noEnd
	}
	p.at++
	p.take("end", "ends")
	return name
}

// namesEnd reports whether an end is named next.
func (p *parser) namesEnd() bool {
	n := 0
	for fillers[p.peek(n).text] {
		n++
	}
	switch p.peek(n).text {
	case "butt", "top", "both", "each":
		return true
	}
	return false
}

// stretch makes a stretch of two lengths. One that carries no unit takes that of the other, unless it could be feet or inches.
func (p *parser) stretch(ms []measure, simple []bool) (Stretch, *Problem) {
	for i := range ms {
		if o := 1 - i; ms[i].unit == UnitNone && ms[o].unit != UnitNone {
			if (ms[o].unit == Foot || ms[o].unit == Metre) && (i == 1 || !simple[o]) {
				return Stretch{}, fault(finding.CellCutOut, "", "one of the two lengths in %s has no unit, and both units could be meant", quote(p.text))
			}
			ms[i].unit = ms[o].unit
		}
	}
	var out Stretch
	for i, into := range []*units.Length{&out.From, &out.To} {
		if i == 0 && ms[i].value.Sign() == 0 {
			continue // from the very end
		}
		l, bad := p.length(ms[i])
		if bad != nil {
			return Stretch{}, bad
		}
		*into = l
	}
	if out.From >= out.To {
		return Stretch{}, fault(finding.CellCutOut, "", "%s does not end behind where it begins", quote(p.text))
	}
	return out, nil
}
