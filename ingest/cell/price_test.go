package cell

import (
	"testing"

	"drytally/compute/price"
	"drytally/ingest/sheet"
)

func TestPrice(t *testing.T) {
	var x Context
	bf, mbf, m3, lot := price.BoardFoot, price.ThousandFeet, price.CubicMetre, price.Lot
	for _, k := range []struct {
		cell  sheet.Cell
		x     Context
		per   price.Unit
		want  price.Price
		money string
		codes string
	}{
		{text("4.50 USD per board foot"), x, 0, price.Price{Hundredths: 450, Per: bf}, "USD", ""},
		{text("$4.50/bf"), x, 0, price.Price{Hundredths: 450, Per: bf}, "$", ""},
		{text("US$ 4.50 / bd. ft."), x, 0, price.Price{Hundredths: 450, Per: bf}, "US$", ""},
		{text("4.5 a board foot"), x, 0, price.Price{Hundredths: 450, Per: bf}, "", ""},
		{text("900 Canadian dollars per 1000 board feet"), x, 0, price.Price{Hundredths: 90_000, Per: mbf}, "Canadian dollars", ""},
		{text("900 kr/1,000 bf"), x, 0, price.Price{Hundredths: 90_000, Per: mbf}, "kr", ""},
		{text("875.25 per MBF"), x, 0, price.Price{Hundredths: 87_525, Per: mbf}, "", ""},
		{text("1200 € per m³"), x, 0, price.Price{Hundredths: 120_000, Per: m3}, "€", ""},
		{text("1200 EUR/m3"), x, 0, price.Price{Hundredths: 120_000, Per: m3}, "EUR", ""},
		{text("310 USD in all"), x, 0, price.Price{Hundredths: 31_000, Per: lot}, "USD", ""},
		{text("$310 total"), x, 0, price.Price{Hundredths: 31_000, Per: lot}, "$", ""},
		{text("310 for the lot"), x, 0, price.Price{Hundredths: 31_000, Per: lot}, "", ""},
		{text("4.50"), x, bf, price.Price{Hundredths: 450, Per: bf}, "", ""},
		{num("4.5", sheet.Decimal), x, bf, price.Price{Hundredths: 450, Per: bf}, "", ""},
		{text("4,50 EUR per bf"), Context{DecimalComma: true}, 0, price.Price{Hundredths: 450, Per: bf}, "EUR", ""},
		{text("1,234.50 USD"), x, lot, price.Price{Hundredths: 123_450, Per: lot}, "USD", ""},
		// What it is for decides: a heading gives way to the cell.
		{text("900 USD per 1000 bf"), x, bf, price.Price{Hundredths: 90_000, Per: mbf}, "USD", ""},
		{text(""), x, 0, price.Price{}, "", ""},
		{text("4.50 USD"), x, 0, price.Price{}, "", "C042"},
		{num("4.5", sheet.Decimal), x, 0, price.Price{}, "", "C042"},
		{text("4.50 per foot"), x, 0, price.Price{}, "", "C042"}, // of length or of the board
		{text("1,200 USD per m3"), x, 0, price.Price{}, "", "C005"},
		{text("0.875 USD per bf"), x, 0, price.Price{}, "", "C042"},
		{text("USD 4.50 EUR per bf"), x, 0, price.Price{}, "", "C042"},
		{text("0 USD per bf"), x, 0, price.Price{}, "", "C010"},
		{text("-4 USD per bf"), x, 0, price.Price{}, "", "C042"},
		{text("4-5 USD per bf"), x, 0, price.Price{}, "", "C042"},
		{text("~4.50 USD per bf"), x, 0, price.Price{}, "", "C042"},
		{text("4 kr each"), x, lot, price.Price{}, "", "C042"},
		{text("4 kr bf"), x, 0, price.Price{}, "", "C042"},
		{text("ask Ilka"), x, bf, price.Price{}, "", "C042"},
		{text("99999999999 USD per bf"), x, 0, price.Price{}, "", "C018"},
		{num("0.5", sheet.Percent), x, bf, price.Price{}, "", "C034"},
	} {
		got, ps := Price(k.cell, k.x, k.per)
		if c := codes(t, ps); got.Price != k.want || got.Currency != k.money || c != k.codes {
			t.Errorf("Price(%q): got %+v %q, want %+v %q %q; %v", k.cell.Text, got, c, k.want, k.money, k.codes, ps)
		}
	}
}

func FuzzPrice(f *testing.F) {
	for _, s := range []string{"4.50 USD per board foot", "$4.50/bf", "1,200 per m3", "310 in all", "4,50", "per", "a a a", "1 / 2 / 3"} {
		f.Add(s, uint8(0), uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, kind, settled uint8) {
		c, x := fuzzCell(s, kind, settled)
		got, ps := Price(c, x, price.Unit(settled%5))
		again, _ := Price(c, x, price.Unit(settled%5))
		oracle(t, c, got.Given(), ps, got, again)
		if got.Hundredths < 0 || got.Hundredths > price.Most {
			t.Errorf("%q gave %+v", s, got)
		}
	})
}
