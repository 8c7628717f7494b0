package bind

import (
	"drytally/compute"
	"drytally/compute/price"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// strangeSetting is a row of the settings whose name is no setting.
type strangeSetting struct {
	settingPair
	book   *sheet.Workbook
	sheet  *sheet.Sheet
	beside bool // a setting that is known stands in the same row
}

// settleStrange looks at the rows whose names are no settings, once all settings are read: aliases may stand below them. A wood
// with a price beside it is the price of that wood; woods in other rows are told how they are written.
func (b *binder) settleStrange() {
	book, reading := b.book, b.sheet
	defer func() { b.book, b.sheet = book, reading }()
	for _, p := range b.strange {
		b.book, b.sheet = p.book, p.sheet
		at, where := b.at(p.at.Row, p.at.Col), b.at(p.row, p.value.Col)
		isWood := wood.Find(p.name, b.job.Settings.Aliases).Kind != wood.Unknown
		m, ps := cell.Price(p.value, b.context("price", cell.UnitNone, cell.UnitNone), price.NotSaid)
		priced := len(ps) == 0 && m.Given() && m.Per != price.Lot
		beside := wood.Find(p.value.Text, b.job.Settings.Aliases)
		switch {
		case isWood && priced:
			b.amounts = append(b.amounts, pricedWood{wood: p.name, money: m, at: where, stands: p.value.Text, row: settingRow{b.sheet, p.row}})
			b.fate(p.row, compute.KindSettings, compute.Used, "")
			continue
		case isWood:
			b.say("T070", at, p.name, "for its price write price of "+p.name+", with a value such as "+b.priceExample(), "%q is a wood and not a setting; %q beside it was not used", p.name, p.value.Text)
		case priced:
			b.say("T070", at, p.name, "if it is a wood, write price of "+p.name+", and once alias with the value "+p.name+" = white oak", "%q is neither a setting nor a wood that is known; its price was not used", p.name)
		case beside.Kind == wood.Found || beside.Kind == wood.Taken:
			b.say("T070", at, p.name, "if it is your name for that wood, write alias with the value "+p.name+" = "+p.value.Text, "%q is not a setting drytally knows; the wood beside it was not used", p.name)
		case p.loose:
			continue // it may be anything
		default:
			b.say("T010", at, p.name, "nothing to do if it is for yourself; the README lists the settings", "%q is not a setting drytally knows", p.name)
		}
		if !p.beside {
			b.fate(p.row, compute.KindSettings, compute.NotData, "not a setting drytally knows")
		}
	}
}
