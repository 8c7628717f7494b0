package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/wood"
	"drytally/report/page"
	"drytally/templates"
)

// statement makes the moisture statement of a sale: for a buyer who knows nothing, and never more than was measured.
func (j *job) statement(s *compute.SaleResult) ([]byte, error) {
	d := j.paper("Moisture statement", "Sale "+shortID(s.ID), "statement "+s.ID, s.Date)
	j.drawStatement(d, s)
	return d.Bytes()
}

// drawStatement draws everything below the head: one page, what is signed at its foot. The boards are listed with their sizes where
// the rest can then still be read with ease, else with their moisture alone. Only a list too long for the page goes behind it.
func (j *job) drawStatement(d *page.Doc, s *compute.SaleResult) {
	loads := j.loadsOf(s)
	j.drawParties(d, s)
	j.drawStatementLead(d, s)
	j.drawSaleReadings(d, s, loads)
	before, after := j.saleNotes(s)
	if len(before) > 0 {
		d.Space(1)
		d.Bullets(before, page.Style{Size: page.SizeTable})
	}
	below := j.statementPrint(s, loads)
	for _, list := range []struct {
		draw func()
		size float64 // the least type of what stands below
	}{
		{func() { j.drawSaleBoards(d, s) }, easySize},
		{func() { j.drawSaleRun(d, s, page.SizeTable) }, easySize},
		{func() { j.drawSaleRun(d, s, listSize) }, cautionSize},
		{func() { j.sayBoardsBehind(d, s) }, 0},
	} {
		lead := func() {
			list.draw()
			d.Bullets(after, page.Style{Size: page.SizeTable})
			j.drawMeaning(d, s, loads)
			j.drawWarnings(d, s.Warnings)
		}
		if size, ok := largestSize(d, d.Room()-d.Height(lead), below); list.size == 0 || ok && size >= list.size {
			lead()
			drawSmallPrint(d, below)
			if list.size == 0 && len(s.Boards) > 0 {
				d.NewPage()
				d.Heading(2, "The boards")
				j.drawSaleBoards(d, s)
			}
			return
		}
	}
}

// easySize is the least type that is read with ease.
const easySize = 7.5 * page.Point

// sayBoardsBehind says where the boards are when their list finds no room on the page.
func (j *job) sayBoardsBehind(d *page.Doc, s *compute.SaleResult) {
	if len(s.Boards) > 0 {
		d.Para(j.wording("statement-boards-behind"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	}
}

// statementPrint is what stands below the meaning in two columns: the cautions where they belong, with what the sheets say of the same.
func (j *job) statementPrint(s *compute.SaleResult, loads []*compute.LoadResult) smallPrint {
	cautions := grouped(j.statementCautions(s, loads))
	var groups []noteGroup
	add := func(head string, own []string, under ...string) {
		g := noteGroup{head: head, lines: own}
		for _, c := range cautions {
			if slices.Contains(under, c.head) {
				g.lines = append(g.lines, c.lines...)
			}
		}
		if len(g.lines) > 0 {
			groups = append(groups, g)
		}
	}
	add("What it does not say", j.notSaid(s), cautionHeads[0])
	measured := "How these boards were measured"
	if len(s.Methods) > 0 && s.Methods[0].Boards == 0 {
		measured = "How the boards of the load were measured"
	}
	add(measured, j.saleMethod(s))
	add("If you measure them", []string{j.wording("statement-not-said-meter")}, cautionHeads[1], cautionHeads[2])
	add("How to keep them so", []string{j.wording("statement-keep")}, cautionHeads[3])
	say := func(line string) {
		last := &groups[len(groups)-1]
		last.lines = append(last.lines, line)
	}
	say(j.asking())
	add("How much they move", j.saleMoves(s))
	for _, tens := range []int{4, 6, 10} {
		add(cautionHeads[tens], nil, cautionHeads[tens])
	}
	say(j.wording("statement-cautions-from"))
	return smallPrint{groups: groups, end: drawSignature}
}

// statementCautions are the cautions of a sale's statement.
func (j *job) statementCautions(s *compute.SaleResult, loads []*compute.LoadResult) []templates.Caution {
	fallback := wood.Species{}
	if len(loads) > 0 {
		fallback = loads[0].Load.Species
	}
	return cautionsFor("statement", j.woodsOf(s.Boards, fallback), usesOf(s, loads))
}

// loadsOf finds the loads a sale's boards come from.
func (j *job) loadsOf(s *compute.SaleResult) []*compute.LoadResult {
	var out []*compute.LoadResult
	for _, id := range s.Loads {
		for i := range j.Loads {
			if compute.SameID(j.Loads[i].Load.ID, id) {
				out = append(out, &j.Loads[i])
				break
			}
		}
	}
	return out
}

// usesOf lists what the boards are for, as far as the sheets say.
func usesOf(s *compute.SaleResult, loads []*compute.LoadResult) []string {
	var out []string
	for _, row := range s.Sales {
		out = append(out, row.Use)
	}
	for _, l := range loads {
		out = append(out, l.Load.Use)
	}
	return slices.DeleteFunc(out, func(u string) bool { return u == "" })
}

// drawParties names seller, buyer and day.
func (j *job) drawParties(d *page.Doc, s *compute.SaleResult) {
	d.Rule(page.Stroke{Width: page.Heavy})
	d.Space(1)
	seller := j.Job.Settings.MillName
	if !j.headHolds(d) {
		seller = joined(", ", seller, j.headAddress())
	}
	pairs := []page.Pair{{Key: "Seller", Value: orNot(seller)},
		{Key: "Buyer", Value: orNot(s.Buyer)}, {Key: "Sold", Value: date(s.Date)}}
	if shortID(s.ID) != oneLine(s.ID) {
		pairs = append(pairs, page.Pair{Key: "Sale", Value: s.ID})
	}
	for _, f := range s.Footage {
		pairs = append(pairs, page.Pair{Key: "Footage dry (net)", Value: footageWords(f)})
	}
	if s.Solid != 0 {
		pairs = append(pairs, page.Pair{Key: "Volume dry", Value: j.solidWords(s.Solid)})
	}
	if w := s.Weight; w.Known() && w.Open == 0 && !w.Estimated {
		pairs = append(pairs, page.Pair{Key: "Weight", Value: j.wording("statement-weight", "low", j.system.Mass(w.Low), "high", j.system.Mass(w.High))})
	}
	d.Pairs(pairs, 2)
	d.Rule(page.Stroke{})
}

// drawStatementLead is what the boards are and what was measured, in sentences.
func (j *job) drawStatementLead(d *page.Doc, s *compute.SaleResult) {
	d.Space(1.2)
	loads := "boards of no load"
	if len(s.Loads) > 0 {
		loads = "load " + list(s.Loads)
		if len(s.Loads) > 1 {
			loads = "loads " + list(s.Loads)
		}
	}
	n := len(s.Boards)
	strong := page.Style{Face: page.Bold, Size: page.SizeLead}
	if n == 0 {
		pieces := 0
		for _, row := range s.Sales {
			pieces += row.Pieces
		}
		d.Para(j.wording("statement-lead-pieces", "pieces", fmt.Sprint(pieces), "wood", list(j.saleWoods(s)), "loads", loads), strong)
	} else {
		d.Para(j.wording("statement-lead", "n", fmt.Sprint(n), "wood", list(j.woodNames(s.Boards)), "loads", loads, "measured", fmt.Sprint(s.Measured),
			"rest", fmt.Sprint(n-s.Measured)), strong)
	}
	numbers := s.Measured - s.Below - s.Above
	said := ""
	if numbers < s.Measured {
		said = fmt.Sprint(numbers)
	}
	var lines []string
	switch {
	case numbers == 1:
		lines = append(lines, j.wording("statement-one-number", "mc", s.Mean.String(), "numbers", said))
	case numbers > 1:
		lines = append(lines, j.wording("statement-numbers", "low", s.Low.String(), "mean", s.Mean.String(), "high", s.High.String(), "numbers", said))
	}
	if s.Below > 0 {
		lines = append(lines, j.wording("statement-below", "n", fmt.Sprint(s.Below)))
	}
	if s.Above > 0 {
		lines = append(lines, j.wording("statement-above", "n", fmt.Sprint(s.Above)))
	}
	if len(lines) > 0 {
		d.Space(0.8)
		age := ""
		if s.Age > 0 {
			age = fmt.Sprint(s.Age)
		}
		d.Para(j.wording("statement-as-measured", "dates", readingDays(s), "age", age)+" "+strings.Join(lines, " "), strong)
	}
}

// readingDays writes the days of a sale's readings.
func readingDays(s *compute.SaleResult) string {
	if s.FirstReading.IsZero() {
		return "a day the sheets don't say"
	}
	return span(s.FirstReading, s.LastReading)
}

// woodNames lists the woods of some boards, in order of first board.
func (j *job) woodNames(boards []int) []string {
	var out []string
	for _, w := range j.woodsOf(boards, wood.Species{}) {
		out = append(out, w.Name)
	}
	return out
}

// saleWoods lists the woods of a sale: of its boards, or, when it names none, of its loads.
func (j *job) saleWoods(s *compute.SaleResult) []string {
	if len(s.Boards) > 0 {
		return j.woodNames(s.Boards)
	}
	var out []string
	for _, l := range j.loadsOf(s) {
		for _, w := range l.Species {
			if w != "" && !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
	}
	return out
}

// drawSaleReadings draws the boards' readings against what their use asks for, when they come from one load.
func (j *job) drawSaleReadings(d *page.Doc, s *compute.SaleResult, loads []*compute.LoadResult) {
	if s.Measured == 0 {
		return
	}
	p := readingPicture{}
	if len(loads) == 1 {
		p.band = loads[0].Band
	}
	for _, at := range s.Boards {
		p.boards = append(p.boards, &j.Boards[at])
	}
	d.KeepTogether(func() {
		d.Space(1.8)
		p.draw(d)
	})
}

// saleMove is the note on how the boards move through the year; it has a heading of its own.
const saleMove = "sale-move"

// saleMoves says how the boards move through the year.
func (j *job) saleMoves(s *compute.SaleResult) []string {
	var lines []string
	for _, n := range s.Notes {
		if n.Name == saleMove {
			lines = append(lines, j.say(n))
		}
	}
	return lines
}

// saleNotes are the notes on the sale that the loads' verdicts below don't say again: how old the readings are stands before
// the boards, the others behind.
func (j *job) saleNotes(s *compute.SaleResult) (before, after []string) {
	for _, n := range s.Notes {
		switch n.Name {
		case "sale-load", "sale-not-dry", saleMove:
		case "sale-age":
			before = append(before, j.say(n))
		default:
			after = append(after, j.say(n))
		}
	}
	return before, after
}

// drawMeaning says what the numbers mean for the use, and how the load stands.
func (j *job) drawMeaning(d *page.Doc, s *compute.SaleResult, loads []*compute.LoadResult) {
	st := page.Style{Size: page.SizeTable}
	d.Heading(2, "What it means")
	d.Para(j.wording("statement-what-is"), st)
	if len(loads) == 0 {
		d.Para(j.wording("statement-no-load"), st)
	}
	for _, l := range loads {
		var lines []string
		if len(loads) > 1 {
			lines = append(lines, "Load "+shortID(l.Load.ID)+".")
		}
		switch {
		case !l.Band.Known:
			lines = append(lines, j.wording("statement-no-band"))
		case l.Band.OwnLimit:
			low, source := "", ""
			if l.Band.Low != 0 {
				low, source = l.Band.Low.String(), l.Band.TableSource.String()
			}
			lines = append(lines, j.wording("statement-band-own", "use", l.Load.Use, "limit", l.Band.High.String(), "low", low, "source", source))
		default:
			mean := ""
			if l.Band.Mean != 0 {
				mean = l.Band.Mean.String()
			}
			lines = append(lines, j.wording("statement-band", "use", l.Load.Use, "region", l.Band.Region, "band", bandWords(l.Band), "mean", mean,
				"source", "Source: "+l.Band.Source.String()+".", "memory", yes(fromMemory(l.Band))))
		}
		if l.Band.Known && s.Measured > 0 && !slices.ContainsFunc(s.Boards, func(at int) bool { return j.Boards[at].Over }) {
			lines = append(lines, j.wording("statement-none-over", "limit", l.Band.High.String()))
		}
		lines = append(lines, j.verdictWords(s, l))
		if l.Verdict == compute.NotDryYet {
			lines = append(lines, j.allSaid(l.Reasons)...)
		}
		if s.Measured < len(s.Boards) || len(s.Boards) == 0 {
			lines = append(lines, j.loadReadWords(l))
		}
		d.Para(strings.Join(lines, " "), st)
	}
}
