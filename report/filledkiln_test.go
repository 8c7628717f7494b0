package report

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/haul"
	"drytally/compute/price"
	"drytally/compute/source"
	"drytally/compute/stack"
	"drytally/compute/units"
	"drytally/ingest"
	"drytally/report/page"
)

// filledKiln fills what is said of the kiln's loading, the weights and the money. Its figures don't belong together.
func filledKiln(r *compute.Result) {
	s := &r.Job.Settings
	s.Kiln.Length, s.Kiln.Width, s.Kiln.Height, s.Kiln.Spacing = 13*units.Foot, 10*units.Foot, 4*units.Foot, 16*units.Inch
	s.Used = append(s.Used, compute.SettingUsed{Name: "sticker thickness", Value: `3/4"`, Source: source.Source{Document: "drytally", Place: "default", Status: source.CommonPractice}})
	s.TrailerLoad, s.TrailerGross, s.TrailerEmpty = units.Pounds(1800), units.Pounds(2990), units.Pounds(900)
	s.Currency, s.Prices = "shillings", []compute.WoodPrice{{Species: "northern red oak", Price: price.Price{Hundredths: 450, Per: price.BoardFoot}}}
	s.DryingCharge, s.LogValue = price.Price{Hundredths: 35, Per: price.BoardFoot}, price.Price{Hundredths: 60_000, Per: price.ThousandFeet}
	r.Job.Sales[0].Price = price.Price{Hundredths: 5, Per: price.CubicMetre}
	long := stack.Row{Thickness: units.Inch, Width: 10 * units.Inch, Length: 12 * units.Foot, Count: 12}
	plan, err := stack.For(s.Kiln, []stack.Row{long, {Thickness: units.Inch, Width: 10 * units.Inch, Length: 15 * units.Foot, Count: 2}})
	if err != nil {
		panic(err)
	}
	weight := haul.Range{Low: units.Pounds(400), About: units.Pounds(500), High: units.Pounds(600)}
	cut := r.Cuts[0].Cut
	l := compute.KilnLoad{Load: "K16", DateIn: day(20), Plan: plan, Placed: 12, Out: 2, Lines: 10, Footage: []compute.Footage{{Rule: compute.VolumeMeasure, Hundredths: 12000, Known: true}},
		Rows:  []compute.KilnRow{{Cut: cut, Placed: 12, Courses: []int{1, 2}}, {Cut: cut, Out: 2, Why: stack.TooLong}},
		Green: weight, Dry: weight, Says: []compute.Statement{said("kiln-of-load-in", "load", "K16", "n", "14", "in", "20 October 2026")}, Taken: said("kiln-taken", "n", "1", "loads", "K15 (in since 19 October 2026)"), Warnings: []compute.Statement{said("kiln-no-days", "n", "1")},
		Open: []compute.Statement{said("kiln-open-from", "room", `6"`)}}
	l.Stickers, l.StickerRun = plan.Stickers()
	r.Kiln = &compute.KilnResult{Kiln: s.Kiln, Loads: []compute.KilnLoad{l}, Aside: []compute.KilnAside{{Load: "K14", Out: day(15), Rows: 1, Boards: 40}}}
	r.Step = compute.StepResult{Known: true, Step: units.Fraction(1, 16), Kerf: units.Fraction(1, 8), From: day(1), To: day(3), Boards: 64, Week: 1053, Month: 4579, Share: units.Percent(5.3),
		Says: said("saw-step", "step", `1/16"`, "kerf", `1/8"`, "boards", "64", "from", "1 October 2026", "to", "3 October 2026", "share", "5.3", "week", "10.5", "month", "45.8")}
	r.Sales[0].Weight = compute.SaleWeight{Range: weight, Boards: 2, Measured: 1, Open: 1, Rated: units.Pounds(450), Trips: []int{1, 1}, Heaviest: units.Pounds(300), Estimated: true,
		Says: []compute.Statement{said("sale-trips", "n", "2", "most", "1", "high", "600 lb", "rated", "450 lb")}}
	r.Sales[0].Weight.TooMuch = r.Sales[0].Weight.Says[0]
	r.Sales[0].Methods = []compute.SaleMethod{{Load: "K14", Boards: 2, Says: []compute.Statement{said("meter-not-said")}}}
	r.Money = &compute.MoneyResult{Currency: "shillings",
		Sales: []compute.SaleMoney{{Sale: "S7", Known: true, Total: 12345, Lines: []compute.MoneyLine{{What: "northern red oak", Boards: 2, Footage: compute.Footage{Rule: compute.SurfaceMeasure, Hundredths: 1200, Known: true}, Solid: 31,
			Price: s.Prices[0].Price, Own: true, Amount: 12345, Known: true}, {What: "eastern white pine", Boards: 1, Why: said("money-no-price", "wood", "eastern white pine")}}}},
		Drying: []compute.DryingMoney{{Load: "K14", Charge: s.DryingCharge, In: l.Footage, Out: l.Footage, InAmount: 4200, OutAmount: 4000, InKnown: true, OutKnown: true, SolidIn: 283, SolidOut: 270, OutOf: 12, Listed: 12,
			Says: []compute.Statement{said("money-drying-difference", "same", "false", "amount", "2.00 shillings", "more", "in")}}},
		Step: compute.StepMoney{Known: true, Value: s.LogValue, Amount: 2747, Says: said("money-step", "amount", "27.47 shillings", "month", "45.8", "value", "600.00 shillings for 1,000 board feet", "step", `1/16"`)}}
}

// Money stands on the summary, not on what a buyer or the saw gets. The paper of the kiln names every course, every row and
// what stays out.
func TestMoneyStaysWithTheOwner(t *testing.T) {
	r := filledResult()
	j := exampleJob(r)
	for name, c := range map[string]struct {
		draw func(*page.Doc)
		has  []string
		not  []string
	}{
		"summary":   {j.drawSummary, []string{"123.45 shillings", "4.50 shillings a board foot", "42.00 shillings for", "27.47 shillings a month", "2 trips of at most 1 board", "road rules"}, nil},
		"statement": {func(d *page.Doc) { j.drawStatement(d, &r.Sales[0]) }, nil, []string{"shillings", "price"}},
		"cut sheet": {j.drawCutSheet, []string{"45.8 a month"}, []string{"shillings", "price"}},
		"load":      {func(d *page.Doc) { j.drawLoad(d, &r.Loads[0]) }, nil, []string{"shillings", "price"}},
		"kiln": {j.drawKiln, []string{"12 of 14 boards fit", "2 stay out", "longer than the kiln has room for", "courses 1 to 2", "Common practice, no source", "load K14 (out", "stickers over the bearers",
			"opens easily from inside"}, []string{"shillings", "price"}},
	} {
		text, _ := recorded(t, j, page.Letter, c.draw)
		text = strings.Join(strings.Fields(text), " ")
		for _, want := range c.has {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q stands nowhere in %s", name, want, text)
			}
		}
		for _, never := range c.not {
			if strings.Contains(strings.ToLower(text), never) {
				t.Errorf("%s: got %q on it, want none", name, never)
			}
		}
	}
}

// Without prices no money and no word of it stands anywhere: on no paper, in no result. The weeks that have prices are read
// without them.
func TestNoPricesNoMoneyAnywhere(t *testing.T) {
	root := filepath.Join("..", "testdata", "weeks")
	sets, err := ingest.Gather([]string{root, filepath.Join(root, "pine-csv")})
	if err != nil {
		t.Fatal(err)
	}
	priced := 0
	for _, set := range sets {
		job, err := ingest.Read(set)
		if err != nil {
			t.Fatal(err)
		}
		currency := job.Settings.Currency
		texts := moneyTexts(t, compute.Assess(job))
		if currency != "" {
			priced++
			for name, want := range map[string]bool{"summary": true, "results.json": true, "results.xlsx": true, "cut sheet": false, "statement": false, "load": false} {
				if got := strings.Contains(texts[name], " "+currency) || strings.Contains(texts[name], `"`+currency); got != want {
					t.Errorf("%s: the currency stands on the %s: %v, want %v", set.Name, name, got, want)
				}
			}
		}
		s := &job.Settings
		s.Currency, s.Prices, s.DryingCharge, s.LogValue = "", nil, price.Price{}, price.Price{}
		s.Used = slices.DeleteFunc(s.Used, func(u compute.SettingUsed) bool {
			return slices.Contains([]string{"currency", "price", "drying charge", "log value"}, u.Name)
		})
		for i := range job.Sales {
			job.Sales[i].Price = price.Price{}
		}
		for name, text := range moneyTexts(t, compute.Assess(job)) {
			for _, word := range []string{"price", "costs", "drying charge", "log value"} {
				if strings.Contains(strings.ToLower(text), word) {
					t.Errorf("%s: %q stands on the %s, and no price is given", set.Name, word, name)
				}
			}
			if currency != "" && strings.Contains(text, " "+currency) {
				t.Errorf("%s: %q stands on the %s, and no price is given", set.Name, currency, name)
			}
		}
	}
	if priced == 0 {
		t.Error("no demo week has prices: nothing was checked")
	}
}

// moneyTexts gives the text of every kind of paper of a week.
func moneyTexts(t *testing.T, r *compute.Result) map[string]string {
	t.Helper()
	j := exampleJob(r)
	all := map[string]string{}
	draw := func(name string, what func(*page.Doc)) {
		text, _ := recorded(t, j, page.Letter, what)
		all[name] += strings.Join(strings.Fields(text), " ")
	}
	draw("summary", j.drawSummary)
	draw("cut sheet", j.drawCutSheet)
	if r.Kiln != nil {
		draw("kiln loading", j.drawKiln)
	}
	for i := range r.Loads {
		draw("load", func(d *page.Doc) { j.drawLoad(d, &r.Loads[i]) })
	}
	for i := range r.Sales {
		draw("statement", func(d *page.Doc) { j.drawStatement(d, &r.Sales[i]) })
		for _, g := range j.tagsOf(&r.Sales[i]) {
			all["tags"] += strings.Join(g.lines(), " ")
		}
	}
	data, _ := resultsOf(t, r)
	all["results.json"] = string(data)
	for _, s := range readBack(t, workbookOf(t, r)).Sheets {
		for _, row := range s.Rows {
			for c := range row.Cells() {
				all["results.xlsx"] += " " + c.Text
			}
		}
	}
	return all
}
