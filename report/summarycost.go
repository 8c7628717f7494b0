package report

import (
	"fmt"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/price"
	"drytally/report/page"
)

// kilnToDo says what is loaded next and what stays out.
func (j *job) kilnToDo() []toDo {
	if j.Kiln == nil {
		return nil
	}
	var all []toDo
	for i := range j.Kiln.Loads {
		l := &j.Kiln.Loads[i]
		if !l.DateIn.IsZero() {
			continue // it stands in the kiln
		}
		mixed := ""
		if n := len(l.Warnings); n > 0 {
			mixed = strconv.Itoa(n)
		}
		taken := ""
		if l.Taken.Name != "" {
			taken = j.say(l.Taken)
		}
		all = append(all, toDo{what: "The kiln", text: j.wording("summary-kiln", "what", kilnName(l)+":", "fits", j.kilnFits(l), "mixed", mixed, "taken", taken)})
	}
	return all
}

// trailerToDo says of a sale that it does not go in one trip.
func (j *job) trailerToDo(s *compute.SaleResult) []toDo {
	if s.Weight.TooMuch.Name == "" {
		return nil
	}
	return []toDo{{what: "Sale " + shortID(s.ID), text: j.say(s.Weight.TooMuch)}}
}

// drawWeights says below the sales what they weigh and how many trips of the trailer that is, when its rated load is given.
// Without one the weights stand beside the sales alone.
func (j *job) drawWeights(d *page.Doc) {
	var lines []string
	for i := range j.Sales {
		if s := &j.Sales[i]; s.Weight.Rated != 0 {
			lines = append(lines, "Sale "+shortID(s.ID)+": "+strings.Join(j.allSaid(s.Weight.Says), " "))
		}
	}
	if len(lines) == 0 {
		return
	}
	notes := []string{j.wording("sale-weight-source")}
	for _, c := range cautionsFor("trailer", nil, nil) {
		notes = append(notes, c.Text+" ("+c.Source+")")
	}
	d.KeepTogether(func() {
		d.Bullets(lines, page.Style{Size: page.SizeTable})
		d.Para(strings.Join(notes, " "), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	})
}

// drawMoney writes what the owner's prices come to. It stands on the summary alone.
func (j *job) drawMoney(d *page.Doc) {
	m := j.Money
	if m == nil {
		return
	}
	j.drawSaleMoney(d, m)
	j.drawDryingMoney(d, m)
	d.KeepTogether(func() {
		if m.Step.Known {
			d.Heading(1, "What a thicker setting costs")
			d.Para(j.say(j.Step.Says)+" "+j.say(m.Step.Says), page.Style{})
		}
		d.Para(j.wording("money-on-owner"), page.Style{Size: page.SizeSmall, Gray: page.Soft})
	})
}

// drawSaleMoney lists the lines of every sale with their rule and price.
func (j *job) drawSaleMoney(d *page.Doc, m *compute.MoneyResult) {
	t := page.Table{Columns: []page.Column{{Head: "sale", Width: 16}, {Head: "wood", Width: 34}, {Head: "boards", Width: 12, Align: page.Right},
		{Head: "by", Width: 46}, {Head: "price"}, {Head: "amount", Width: 30, Align: page.Right}}}
	for _, s := range m.Sales {
		for i := range s.Lines {
			l := &s.Lines[i]
			row := page.Row{Ruled: i == 0, Cells: []page.Cell{{}, {Text: l.What}, {Text: strconv.Itoa(l.Boards)}, {Text: moneyMeasure(l)}, {Text: "not given"}, {Text: "not known"}}}
			if i == 0 {
				row.Cells[0] = page.Cell{Text: shortID(s.Sale), Face: page.Bold, Plain: true}
			}
			if l.Price.Given() {
				row.Cells[4].Text = l.Price.Write(m.Currency)
				if l.Own {
					row.Cells[4].Text += ", in the row"
				}
			}
			if l.Known {
				row.Cells[5].Text = l.Amount.Write(m.Currency)
			} else {
				row.Cells[4].Text = j.say(l.Why)
			}
			t.Rows = append(t.Rows, row)
		}
		total := j.wording("money-total-open")
		if s.Known {
			total = s.Total.Write(m.Currency)
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{}, {Text: "total", Face: page.Bold, Span: 4}, {Text: total, Face: page.Bold}}})
	}
	if len(t.Rows) > 0 {
		headedTable(d, "What the sales come to", t)
	}
}

// moneyMeasure writes what a line is counted by, with its rule.
func moneyMeasure(l *compute.MoneyLine) string {
	switch {
	case l.Price.Per == price.CubicMetre && l.Solid != 0:
		return fmt.Sprintf("%d.%06d cubic metres as measured", l.Solid/1_000_000, l.Solid%1_000_000)
	case l.Footage.Rule == compute.RuleBySpecies:
		return "-"
	}
	return footageWords(l.Footage)
}

// drawDryingMoney writes the drying charge on footage in and on footage out, both named.
func (j *job) drawDryingMoney(d *page.Doc, m *compute.MoneyResult) {
	t := page.Table{Columns: []page.Column{{Head: "load", Width: 16}, {Head: "charge", Width: 28}, {Head: "on footage in (green)", Width: 36}, {Head: "on footage out (dry)", Width: 36}, {Head: "which"}}}
	for _, c := range m.Drying {
		cell := func(feet []compute.Footage, solid int64, amount price.Amount, known bool) string {
			var words []string
			for _, f := range feet {
				words = append(words, footageWords(f))
			}
			if c.Charge.Per == price.CubicMetre {
				words = []string{j.solidWords(solid)}
			}
			if !known {
				return joined(": ", "not known", strings.Join(words, "; "))
			}
			return amount.Write(m.Currency) + " for " + strings.Join(words, "; ")
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: shortID(c.Load), Face: page.Bold, Plain: true}, {Text: c.Charge.Write(m.Currency)},
			{Text: cell(c.In, c.SolidIn, c.InAmount, c.InKnown)}, {Text: cell(c.Out, c.SolidOut, c.OutAmount, c.OutKnown)}, {Text: strings.Join(j.allSaid(c.Says), " ")}}})
	}
	if len(t.Rows) > 0 {
		headedTable(d, "Drying charge", t)
	}
}
