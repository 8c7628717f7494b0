package bind

import (
	"strings"

	"drytally/ingest/sheet"
)

// settleCommas lets the CSV files of a set follow one rule: when some of them settle that 9,5 is nine and a half and none has a
// number such as 9.5, it holds for all of them.
func settleCommas(books []*sheet.Workbook) {
	comma := false
	for _, book := range books {
		comma = comma || book.DecimalComma
		if !book.CSV || book.DecimalPoint {
			return
		}
	}
	if !comma {
		return
	}
	for _, book := range books {
		if book.DecimalComma {
			continue
		}
		book.DecimalComma = true
		for i := range book.Sheets {
			for _, row := range book.Sheets[i].Rows {
				row.Change(func(c *sheet.Cell) bool {
					if c.Kind != sheet.Number || !strings.Contains(c.Text, ".") {
						return false
					}
					c.Kind, c.Number = sheet.Text, 0 // 1.234 can be read two ways now
					return true
				})
			}
		}
	}
}
