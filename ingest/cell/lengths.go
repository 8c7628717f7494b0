package cell

import (
	"math/big"
	"regexp"
	"slices"
	"strings"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

// Lengths reads one or more lengths of one board: "1 1/16, 1 3/32", "27/27/28 mm".
func Lengths(c sheet.Cell, x Context) ([]units.Length, []Problem) {
	if skip, ps := unread(c); skip {
		return nil, ps
	}
	return lengths(c, x, true)
}

// lengths reads the lengths of a cell that is not empty; several says whether more than one is allowed.
func lengths(c sheet.Cell, x Context, several bool) ([]units.Length, []Problem) {
	if p := noFigure(c, x, lengthHint); p != nil {
		return nil, list(p)
	}
	if saysNone(c, x) {
		return []units.Length{0}, nil
	}
	if c.Kind == sheet.Number {
		l, p := numberLength(c, x)
		if p != nil {
			return nil, list(p)
		}
		return []units.Length{l}, nil
	}
	p := newParser(clean(c.Text), x)
	if several {
		p.partList()
	}
	var ms []measure
	for {
		p.take("'") // the mark that made a spreadsheet keep 5/4 as text
		m, bad := p.measure()
		if bad != nil {
			return nil, list(p.notLength(bad))
		}
		ms = append(ms, m)
		p.takeAbout(aboutBehind)
		from := p.at
		// A stroke behind a unit parts two values: 2" / 2" is no fraction.
		parted := p.take(",", ";", "&", "and") || m.unit != UnitNone && p.take("/")
		if p.startsFigure() && several && (parted || m.unit != UnitNone || p.spacedList()) {
			continue
		}
		p.at = from
		break
	}
	words, bad := p.trailing(ms)
	if bad != nil {
		return nil, list(bad)
	}
	inherit(ms)
	var all []units.Length
	for _, m := range ms {
		l, bad := p.length(m)
		if bad != nil {
			return nil, list(bad)
		}
		all = append(all, l)
	}
	if bad := apart(all, p.text); bad != nil {
		return nil, list(bad)
	}
	var about *Problem
	if p.about {
		about = fault(finding.CellAbout, "measure again where it matters", "%s is marked as approximate and was taken as it stands", quote(strings.TrimSpace(c.Text)))
	}
	return all, list(about, words)
}

// startsFigure says whether a length may begin at the next token.
func (p *parser) startsFigure() bool {
	t := p.peek(0)
	return t.kind == numberToken || t.text == "~" || t.text == "±"
}

// notLength says what is wrong with a text that is no length.
func (p *parser) notLength(bad *Problem) *Problem {
	if bad.Code != finding.CellNumber {
		return bad
	}
	if strings.HasPrefix(p.text, "-") && p.peek(1).kind == numberToken {
		return fault(finding.CellNotPositive, lengthHint+", or leave the cell empty", "%s is less than zero, and %s can't be", quote(p.text), p.x.what("a length"))
	}
	return fault(finding.CellLength, lengthHint, "%s can't be read as %s", quote(p.text), p.x.what("a length"))
}

// trailing judges what stands behind the last length.
func (p *parser) trailing(ms []measure) (note, bad *Problem) {
	p.take(",", ";")
	if p.done() {
		return nil, nil
	}
	rest := p.rest()
	unlike := fault(finding.CellLength, lengthHint, "%s can't be read as %s: %s is left over", quote(p.text), p.x.what("a length"), quote(rest))
	if exponent.MatchString(p.text) {
		return nil, unlike
	}
	for i := range p.toks[p.at:] {
		if p.peek(i).kind == numberToken {
			first := p.peek(0).text
			if i <= 1 && (first == "-" || first == "to" || first == "," || first == "/" || first == "or" || i == 0) {
				return nil, fault(finding.CellSeveral, "write one value; feet and inches as 10' 6\", several values of one board with a comma and a space between",
					"%s holds several values or a range", quote(p.text))
			}
			return nil, unlike
		}
	}
	unit := ms[len(ms)-1].unit
	for _, t := range p.toks[p.at:] {
		switch {
		case t.kind == markToken && (t.text == "(" || t.text == ")" || t.text == "," || t.text == "!" || t.text == "*"):
		case t.kind != wordToken || telling[t.text] || lengthUnits[t.text] != UnitNone:
			return nil, unlike
		case unit == UnitNone && !harmless[t.text]:
			return nil, fault(finding.CellUnit, "write in, ft, mm, cm or m behind the figure, or move the words to the note",
				"the word %s in %s could be a unit", quote(t.text), quote(p.text))
		}
	}
	return fault(finding.CellWords, "nothing to do if the figure alone is right", "the words %s behind the figure were left out", quote(rest)), nil
}

// inherit gives bare values of a list the one unit that stands in it: 27/27/28 mm.
func inherit(ms []measure) {
	unit := UnitNone
	for _, m := range ms {
		if m.unit != UnitNone && unit != UnitNone && m.unit != unit {
			return
		}
		if m.unit != UnitNone {
			unit = m.unit
		}
	}
	for i := range ms {
		if ms[i].unit == UnitNone {
			ms[i].unit = unit
		}
	}
}

// apart refuses lists whose values differ by more than a factor of two: these are not measurements of one board, but
// most likely a figure torn in two.
func apart(all []units.Length, text string) *Problem {
	if slices.Max(all) <= 2*slices.Min(all) {
		return nil
	}
	return fault(finding.CellApart, "write several values of one board with a comma and a space between, each with its unit",
		"the values in %s lie too far apart to belong to one board", quote(text))
}

// partList turns slashes and commas that part the values of a list into semicolons: 27/27/28, 1 1/16 / 1 3/32, 27,27,28.
func (p *parser) partList() {
	var slashes, loose []int
	chain := true // numbers and slashes take turns
	for i, t := range p.toks {
		if t.text == "/" {
			slashes = append(slashes, i)
			if i > 0 && i+1 < len(p.toks) && p.toks[i-1].end < t.start && t.end < p.toks[i+1].start {
				loose = append(loose, i)
			}
		}
	}
	for k := 1; k < len(slashes); k++ {
		chain = chain && slashes[k] == slashes[k-1]+2
	}
	switch {
	case len(slashes) >= 2 && chain && slashes[0] == 1:
		p.semicolons(slashes)
	case len(loose) > 0 && len(loose) < len(slashes):
		p.semicolons(loose)
	}
	var out []token
	for _, t := range p.toks {
		if t.kind == numberToken && isCommaList(t.text, p.x.DecimalComma) {
			for i, part := range strings.Split(t.text, ",") {
				if i > 0 {
					out = append(out, token{markToken, ";", t.start, t.start})
				}
				out = append(out, token{numberToken, part, t.start, t.end})
			}
			continue
		}
		out = append(out, t)
	}
	p.toks = out
}

func (p *parser) semicolons(at []int) {
	for _, i := range at {
		p.toks[i].text = ";"
	}
}

// spacedList says whether values apart by nothing but spaces may be taken as a list: whole numbers in inches may not
// (5 4 is more likely a lost slash), decimals, mixed numbers and millimetres may.
func (p *parser) spacedList() bool {
	u := p.x.bare()
	for _, t := range p.toks {
		if v := lengthUnits[t.text]; v != UnitNone {
			u = v
		}
	}
	if u == Millimetre || u == Centimetre {
		return true
	}
	whole := true
	for i, t := range p.toks {
		if t.text == "/" {
			return true
		}
		if t.kind == numberToken {
			whole = whole && plainInteger.MatchString(p.toks[i].text)
		}
	}
	return !whole
}

var (
	quarterName   = regexp.MustCompile(`^'?(\d{1,2}|[a-z]+)[ -]*(?:quarter|quarters|qtr|qtrs|q)$`)
	quarterWords  = map[string]int64{"four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "twelve": 12, "sixteen": 16}
	quarterMetric = regexp.MustCompile(`^'?(\d{1,2}) ?/ ?4 ?(?:mm|cm|m)\b`)
	quarterSlash  = regexp.MustCompile(`^'?(\d{1,2}) ?/ ?4(?: [a-z]+)?$`)
)

// Thickness reads one or more thicknesses of a board. A number of quarters (5/4, 5 quarter) is a thickness in inches
// whatever the column's unit. Quarters and fractions that a spreadsheet turned into dates are read back and said.
func Thickness(c sheet.Cell, x Context) ([]units.Length, []Problem) {
	if skip, ps := unread(c); skip {
		return nil, ps
	}
	if l, p := datedSize(c, x); p != nil {
		if l == 0 {
			return nil, list(p)
		}
		return []units.Length{l}, list(p)
	}
	if c.Kind == sheet.Text {
		text := clean(c.Text)
		quarters := int64(0)
		if m := quarterName.FindStringSubmatch(text); m != nil {
			quarters = quarterWords[m[1]]
			if v, ok, _ := decimal(m[1], false); ok {
				quarters = v.Num().Int64()
			}
		} else if m := quarterSlash.FindStringSubmatch(text); m != nil {
			if v, ok, _ := decimal(m[1], false); ok {
				quarters = v.Num().Int64()
			}
			if word := text[strings.LastIndexByte(text, '4')+1:]; word != "" && !harmless[strings.TrimSpace(word)] {
				quarters = 0
			}
		}
		if m := quarterMetric.FindStringSubmatch(text); m != nil && number(m[1]) >= 4 {
			return nil, list(fault(finding.CellUnit, "write 5/4 alone, or the thickness in mm", "%s counts quarters of an inch and carries a metric unit", quote(text)))
		}
		if quarters >= 4 {
			l, p := lengthOf(big.NewRat(quarters, 4), Inch, quote(text), x)
			if p != nil {
				return nil, list(p)
			}
			return []units.Length{l}, nil
		}
	}
	return lengths(c, x, true)
}
