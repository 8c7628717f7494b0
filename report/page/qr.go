package page

import (
	"fmt"

	"rsc.io/qr"
)

// quietZone is the white border a code needs, in modules.
// Source: ISO/IEC 18004:2015, 5.3.8 quiet zone; from memory.
const quietZone = 4

// LeastModule is the smallest module, in millimetres, that a phone reads from an ordinary print.
const LeastModule = 0.4

// QR draws text as a code at error correction level M: a square of the size, quiet zone included, its upper left corner at
// x, y. It gives the size of a module; below LeastModule the code may not be read. It fails when the text is too long
// (2331 bytes).
func (d *Doc) QR(x, y, size float64, text string) (module float64, err error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		d.fail("text of %d bytes is too long for a code", len(text))
		return 0, fmt.Errorf("text of %d bytes is too long for a code", len(text))
	}
	module = size / float64(code.Size+2*quietZone)
	if !d.finite(x, y, size) || d.measuring > 0 {
		return module, nil
	}
	d.begin()
	d.record(Drawn{What: DrewCode, Box: Rect{x, y, size, size}, Text: text})
	d.fill(White)
	d.pdf.Rect(x, y, size, size, "F")
	d.fill(Black)
	for _, r := range qrRuns(code) {
		d.pdf.Rect(x+(float64(r.col)+quietZone)*module, y+(float64(r.row)+quietZone)*module, float64(r.length)*module, module, "F")
	}
	return module, nil
}

// qrRun is an unbroken stretch of black modules in one row.
type qrRun struct{ row, col, length int }

func qrRuns(code *qr.Code) []qrRun {
	var runs []qrRun
	for row := range code.Size {
		for col := 0; col < code.Size; {
			n := 0
			for code.Black(col+n, row) {
				n++
			}
			if n > 0 {
				runs = append(runs, qrRun{row, col, n})
			}
			col += max(n, 1)
		}
	}
	return runs
}
