package bind

import (
	"cmp"
	"regexp"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/price"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// pricedWood is a price of the settings as read: of a wood, or where a setting's own goes.
type pricedWood struct {
	setting *Setting // nil: of a wood
	wood    string
	money   cell.MoneyOf
	at      finding.Place
	stands  string
	row     settingRow
}

// settingRow is a row of settings.
type settingRow struct {
	sheet *sheet.Sheet
	row   int
}

var saysPer = regexp.MustCompile(`(?i)/|\bper\b`)

// readPrices reads "white ash = 4.50 USD per board foot; WP = 900 per 1000 board feet", or the price alone where the setting's
// name holds the wood.
func (b *binder) readPrices(name string, c sheet.Cell, at finding.Place) bool {
	c.Row, c.Col = at.Row, at.Col
	if called, per := priceOfWood(name); called != "" {
		if per != "" && !saysPer.MatchString(c.Text) {
			c.Kind, c.Text = sheet.Text, c.Text+" "+per
		}
		return b.priceOf(called, c, at)
	}
	ok := true
	for _, part := range strings.FieldsFunc(c.Text, func(r rune) bool { return r == ';' || r == '\n' }) {
		called, text, found := strings.Cut(part, "=")
		if !found {
			b.say(finding.CellPrice, at, c.Text, "write it like white ash = "+b.priceExample()+"; several apart by semicolons", "%q names no wood and its price", strings.TrimSpace(part))
			ok = false
			continue
		}
		one := c
		one.Kind, one.Text = sheet.Text, strings.TrimSpace(text)
		ok = b.priceOf(strings.TrimSpace(called), one, at) && ok
	}
	return ok
}

// apart are the signs that may stand between the word price and a wood, or about it.
const apart = " :=()–-"

var (
	priceOf     = regexp.MustCompile(`(?i)^prices?[` + apart + `]+(?:of|for) (.+)$`)
	priceBefore = regexp.MustCompile(`(?i)^prices?[` + apart + `]+(.+)$`)
	priceBehind = regexp.MustCompile(`(?i)^(.+?)[` + apart + `]+prices?((?: per |/).*)?$`)
)

// priceOfWood takes a setting's name apart that names the price of a wood: what the wood is called, and what the price is for when
// that is said; "" when it names none. Without the "of" the rest must be a wood: price white ash, Price: white ash, white ash price
// per bf.
func priceOfWood(name string) (called, per string) {
	name = strings.TrimRight(strings.Join(strings.Fields(name), " "), ":= ")
	rest, sure := "", false
	if m := priceOf.FindStringSubmatch(name); m != nil {
		rest, sure = m[1], true
	} else if m := priceBefore.FindStringSubmatch(name); m != nil {
		rest = m[1]
	} else if m := priceBehind.FindStringSubmatch(name); m != nil {
		rest = m[1] + m[2]
	}
	called = rest
	if i := saysPer.FindStringIndex(rest); i != nil {
		called, per = rest[:i[0]], rest[i[0]:]
	}
	called = strings.Trim(called, apart)
	if !sure && wood.Find(called, nil).Kind == wood.Unknown {
		return "", ""
	}
	return called, per
}

// priceExample is how a price is written, in the owner's measure and currency.
func (b *binder) priceExample() string {
	if b.job.Settings.System == units.Metric {
		return b.inFile("900 USD per cubic metre")
	}
	return b.inFile("4.50 USD per board foot")
}

func (b *binder) priceOf(called string, c sheet.Cell, at finding.Place) bool {
	x := b.context("price", cell.UnitNone, b.smallUnit())
	x.ByMeasure = true // of a wood there is no price in all
	m, ps := cell.Price(c, x, price.NotSaid)
	if !b.problems(c, ps) {
		return false
	}
	if m.Per == price.Lot {
		b.say(finding.CellPrice, at, c.Text, "write what a board foot, 1000 board feet or a cubic metre is", "a wood has no price for all of it")
		return false
	}
	b.amounts = append(b.amounts, pricedWood{wood: called, money: m, at: at, stands: c.Text, row: settingRow{b.sheet, at.Row}})
	return true
}

// settlePrices gives the prices of the settings their wood and their currency, once all settings are read: aliases and the
// currency may stand below them.
func (b *binder) settlePrices() {
	for _, a := range b.amounts { // a currency behind one price is that of all
		if b.job.Settings.Currency == "" {
			b.job.Settings.Currency = a.money.Currency
		}
	}
	taken := map[settingRow]bool{}
	for _, a := range b.amounts {
		taken[a.row] = b.settlePrice(a) || taken[a.row]
	}
	reading := b.sheet
	defer func() { b.sheet = reading }()
	for _, a := range b.amounts {
		if !taken[a.row] {
			b.sheet = a.row.sheet
			b.fate(a.row.row, compute.KindSettings, compute.SetAside, "value not readable")
		}
	}
}

// settlePrice takes one price; it reports whether it could.
func (b *binder) settlePrice(a pricedWood) bool {
	s := &b.job.Settings
	switch {
	case !b.inCurrency(a.money, a.at, a.stands):
		return false
	case a.setting != nil && a.money.Per == price.Lot:
		b.say(finding.CellPrice, a.at, a.stands, "write it for a board foot, 1000 board feet or a cubic metre", "the setting %q can't be for all", a.setting.Name)
		return false
	case a.setting != nil:
		*a.setting.money(s) = a.money.Price
		return true
	}
	of, ok := b.speciesOf(a.wood, a.at)
	if !ok {
		return false
	}
	if old, twice := s.PriceOf(of.Name); twice {
		b.say("T012", a.at, a.stands, "keep one of the two", "%s has a price of %s already; this one was not taken", of.Name, old.Write(s.Currency))
		return false
	}
	s.Prices = append(s.Prices, compute.WoodPrice{Species: of.Name, Price: a.money.Price})
	if len(s.Prices) == 1 {
		s.Used = append(s.Used, compute.SettingUsed{Name: "price", Place: a.at, Source: source.Source{Document: "the workbook", Place: a.at.String(), Status: source.Owner}})
	}
	return true
}

// inCurrency reports whether a price is in the currency of the others. No currency is guessed.
func (b *binder) inCurrency(m cell.MoneyOf, at finding.Place, stands string) bool {
	own := b.job.Settings.Currency
	switch {
	case m.Currency == "" && own == "":
		b.say("T066", at, stands, "write the currency behind the figure, or once in the settings", "%q names no currency", stands)
		return false
	case m.Currency != "" && own == "":
		b.job.Settings.Currency = m.Currency
	case m.Currency != "" && !strings.EqualFold(m.Currency, own):
		b.say("T066", at, stands, "write one currency for all", "%q is in %s and the other prices are in %s", stands, m.Currency, own)
		return false
	}
	return true
}

// bareMoney reports whether a cell holds a figure alone.
func (b *binder) bareMoney(c sheet.Cell) bool {
	text := strings.TrimSpace(c.Text)
	if b.book.DecimalComma {
		text = strings.Replace(text, ",", ".", 1)
	}
	return c.Kind == sheet.Number || isNumber(text)
}

// sayNoMoney says once for a column that its figures are left alone: an owner who keeps what he was paid has not asked for more.
func (b *binder) sayNoMoney(c sheet.Cell, hint, problem string) {
	for _, f := range b.job.Findings {
		if f.Code == "T067" && f.Place.File == b.book.Name && f.Place.Sheet == b.at(c.Row, c.Col).Sheet && f.Place.Col == c.Col {
			return
		}
	}
	b.say("T067", b.at(c.Row, c.Col), c.Text, hint, "%s", problem)
}

// salePrice gives what a row of the sold sheet asks: of its columns the first that holds anything. A second price that says
// something else is told.
func (b *binder) salePrice(v *rowValues) (p price.Price, unread bool) {
	for _, name := range []string{"price", "price per board foot", "sum"} {
		x := v.value(name)
		unread = unread || v.bad[name] || x.moneyStands != ""
		switch {
		case !x.money.Given():
		case x.money.Currency == "" && b.job.Settings.Currency == "":
			b.sayNoMoney(sheet.Cell{Row: x.moneyAt.Row, Col: x.moneyAt.Col, Text: x.moneyStands}, "write the currency behind the figure, or once in the settings", "the figures under this heading name no currency; no money is worked out from them")
		case p == x.money.Price && (x.money.Currency == "" || strings.EqualFold(x.money.Currency, b.job.Settings.Currency)):
		case p.Given():
			b.say("T069", x.moneyAt, x.moneyStands, "keep one of the two", "this row asks %s and %s; the first was taken",
				p.Write(b.job.Settings.Currency), x.money.Write(cmp.Or(x.money.Currency, b.job.Settings.Currency)))
		case b.inCurrency(x.money, x.moneyAt, x.moneyStands):
			p = x.money.Price
		}
	}
	return p, unread && !p.Given()
}
