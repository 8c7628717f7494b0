package report

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/wood"
	"drytally/report/page"
)

// statement makes the moisture statement of a sale: for a buyer who knows nothing, and never more than was measured.
func (j *job) statement(s *compute.SaleResult) ([]byte, error) {
	d := j.paper("Moisture statement", "Sale "+shortID(s.ID), "statement "+s.ID, s.Date)
	j.drawStatement(d, s)
	return d.Bytes()
}

// drawStatement draws everything below the head.
func (j *job) drawStatement(d *page.Doc, s *compute.SaleResult) {
	loads := j.loadsOf(s)
	j.drawParties(d, s)
	j.drawStatementLead(d, s)
	j.drawSaleReadings(d, s, loads)
	before, after := j.saleNotes(s)
	if len(before) > 0 {
		d.Space(1)
		d.Bullets(before, page.Style{})
	}
	rest := func() {
		d.Bullets(after, page.Style{})
		j.drawMeaning(d, s, loads)
		j.drawNotSaid(d, s)
		j.drawWarnings(d, s.Warnings)
		d.KeepTogether(func() { // the signature never stands alone
			j.drawKeep(d)
			j.drawSaleMoves(d, s)
			j.drawSaleMethod(d, s)
			drawSignature(d)
		})
	}
	boards := func() { j.drawSaleBoards(d, s) }
	// What is signed stands on one page: a long list of boards goes behind it.
	if whole := d.Height(rest); len(s.Boards) > 0 && whole <= d.Room() && whole+d.Height(boards) > d.Room() {
		d.Para(j.wording("statement-boards-behind"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
		rest()
		d.NewPage()
		d.Heading(2, "The boards")
		boards()
	} else {
		boards()
		rest()
	}
	fallback := wood.Species{}
	if len(loads) > 0 {
		fallback = loads[0].Load.Species
	}
	j.drawCautions(d, "statement", j.woodsOf(s.Boards, fallback), usesOf(s, loads), nil)
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
	set := j.Job.Settings
	pairs := []page.Pair{{Key: "Seller", Value: orNot(joined(", ", set.MillName, set.MillAddress, set.MillContact))},
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
		d.Space(3)
		p.draw(d)
	})
}

// saleMove is the note on how the boards move through the year; it has a heading of its own.
const saleMove = "sale-move"

// drawSaleMoves says how the boards move through the year.
func (j *job) drawSaleMoves(d *page.Doc, s *compute.SaleResult) {
	var lines []string
	for _, n := range s.Notes {
		if n.Name == saleMove {
			lines = append(lines, j.say(n))
		}
	}
	if len(lines) > 0 {
		d.Heading(2, "How it moves through the year")
		d.Para(strings.Join(lines, " "), page.Style{Size: page.SizeTable})
	}
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
	d.Heading(2, "What it means")
	d.Para(j.wording("statement-what-is"), page.Style{})
	if len(loads) == 0 {
		d.Para(j.wording("statement-no-load"), page.Style{})
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
			lines = append(lines, j.wording("statement-band-own", "use", l.Load.Use, "limit", l.Band.High.String()))
		default:
			mean := ""
			if l.Band.Mean != 0 {
				mean = l.Band.Mean.String()
			}
			lines = append(lines, j.wording("statement-band", "use", l.Load.Use, "region", l.Band.Region, "band", bandWords(l.Band), "mean", mean,
				"source", "Source: "+l.Band.Source.String()+".", "memory", yes(fromMemory(l.Band))))
		}
		lines = append(lines, j.verdictWords(s, l))
		if l.Verdict == compute.NotDryYet {
			lines = append(lines, j.allSaid(l.Reasons)...)
		}
		if s.Measured < len(s.Boards) || len(s.Boards) == 0 {
			lines = append(lines, j.loadReadWords(l))
		}
		d.Para(strings.Join(lines, " "), page.Style{})
	}
}

// verdictWords says plainly how a load stands, dry or not.
func (j *job) verdictWords(s *compute.SaleResult, l *compute.LoadResult) string {
	among := "" // whether any board to be taken out is known to be sold here
	if len(s.Boards) > 0 && !slices.ContainsFunc(s.Boards, func(at int) bool { return j.Boards[at].Over }) {
		among = "none"
	}
	with := []string{"dates", loadDays(l), "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N), "held", fmt.Sprint(len(l.HeldBack)), "among", among}
	switch {
	case l.Verdict == compute.DryForUse && !l.Withheld:
		return j.wording("statement-verdict-dry", with...)
	case l.Verdict == compute.DryButHeldBack && !l.Withheld:
		return j.wording("statement-verdict-held", with...)
	case l.Verdict == compute.NotDryYet:
		return j.wording("statement-verdict-not", with...)
	}
	return j.wording("statement-verdict-open", with...)
}

// loadDays writes the days of a load's readings.
func loadDays(l *compute.LoadResult) string {
	if l.FirstReading.IsZero() {
		return "a day the sheets don't say"
	}
	return span(l.FirstReading, l.LastReading)
}

// loadReadWords is what the load's readings say of boards without one of their own.
func (j *job) loadReadWords(l *compute.LoadResult) string {
	if l.Measured == 0 || !l.Mean.Known {
		return j.wording("statement-load-unread", "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N))
	}
	if l.SlowMissing != "" { // a mean of boards picked where it is easy says nothing of the others
		return j.wording("statement-load-uneven", "dates", loadDays(l), "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N), "places", l.SlowMissing)
	}
	return j.wording("statement-load-read", "dates", loadDays(l), "measured", fmt.Sprint(l.Measured), "n", fmt.Sprint(l.N), "mean", estimateWords(l.Mean))
}

// drawNotSaid lists what the paper doesn't say, how to keep the boards, and whom to ask.
func (j *job) drawNotSaid(d *page.Doc, s *compute.SaleResult) {
	rest := ""
	if n := len(s.Boards) - s.Measured; n > 0 {
		rest = fmt.Sprint(n)
	}
	lines := []string{j.wording("statement-not-said-boards", "rest", rest)}
	switch {
	case s.Measured == 0:
	case s.LastReading.IsZero():
		lines = append(lines, j.wording("statement-not-said-day"))
	default:
		lines = append(lines, j.wording("statement-not-said-later", "date", date(s.LastReading)))
	}
	lines = append(lines, j.wording("statement-not-said-meter"), j.wording("statement-not-said-grade"))
	d.Heading(2, "What it does not say")
	d.Bullets(lines, page.Style{Size: page.SizeTable})
}

// drawKeep says how to keep the boards as they are, and whom to ask.
func (j *job) drawKeep(d *page.Doc) {
	d.Heading(2, "How to keep it so")
	ask := j.wording("statement-ask-nobody")
	if who := joined(", ", j.Job.Settings.MillName, j.Job.Settings.MillContact); who != "" {
		ask = j.wording("statement-ask", "who", who)
	}
	d.Para(j.wording("statement-keep")+" "+ask, page.Style{Size: page.SizeTable})
}

// drawSaleMethod says how the readings of the boards sold were corrected; of a sale that names none, those of its load.
func (j *job) drawSaleMethod(d *page.Doc, s *compute.SaleResult) {
	for _, m := range s.Methods {
		d.Space(1)
		text := j.wording("statement-corrected", "boards", fmt.Sprint(m.Boards), "how", strings.Join(j.allSaid(m.Says), " "))
		if len(s.Methods) > 1 {
			text = "Load " + shortID(m.Load) + ". " + text
		}
		d.Para(text, page.Style{Size: page.SizeSmall})
	}
}
