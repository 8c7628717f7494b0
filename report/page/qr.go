package page

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"sync"

	"rsc.io/qr/coding"
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
	code, err := d.encode(text)
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
	// One step of the coordinates is a module from here on, downwards as the code counts: small whole numbers, where a sheet
	// of tags would otherwise hold half a million numbers with decimals. What is set in between ends with Q.
	b := d.buf[:0]
	b = append(b, "q "...)
	for _, n := range []float64{module / Point, 0, 0, -module / Point, x / Point, (d.h - y) / Point} {
		b = append(strconv.AppendFloat(b, n, 'f', 4, 64), ' ')
	}
	whole := code.Size + 2*quietZone
	b = append(b, "cm 1 g"...)
	b = appendRect(b, 0, 0, whole, whole)
	b = append(b, " f 0 g"...)
	for _, r := range qrRects(code) {
		b = appendRect(b, r.col+quietZone, r.row+quietZone, r.width, r.height)
	}
	d.buf = append(b, " f Q"...)
	d.pdf.RawWriteBuf(bytes.NewReader(d.buf))
	return module, nil
}

func appendRect(b []byte, numbers ...int) []byte {
	for _, n := range numbers {
		b = strconv.AppendInt(append(b, ' '), int64(n), 10)
	}
	return append(b, " re"...)
}

// encode makes the code of a text. A tag asks for the same one twice: to see whether it has room, and to draw it.
func (d *Doc) encode(text string) (*coding.Code, error) {
	if d.code.made != nil && d.code.text == text {
		return d.code.made, nil
	}
	made, err := encoded(text)
	if err == nil {
		d.code.text, d.code.made = text, made
	}
	return made, err
}

// encoded makes the smallest code that holds a text: digits and capitals are kept shorter than other text.
func encoded(text string) (*coding.Code, error) {
	var enc coding.Encoding = coding.String(text)
	switch {
	case coding.Num(text).Check() == nil:
		enc = coding.Num(text)
	case coding.Alpha(text).Check() == nil:
		enc = coding.Alpha(text)
	}
	for v := coding.Version(coding.MinVersion); v <= coding.MaxVersion; v++ {
		if enc.Bits(v) > v.DataBytes(coding.M)*8 {
			continue
		}
		p, err := plan(v)
		if err != nil {
			return nil, err
		}
		return p.Encode(enc)
	}
	return nil, errors.New("text too long")
}

var plans [coding.MaxVersion + 1]struct {
	once sync.Once
	plan *coding.Plan
	err  error
}

// plan gives the layout of the codes of a size. Making it takes longer than filling it, and all tags of a run share it; it
// is only read.
func plan(v coding.Version) (*coding.Plan, error) {
	p := &plans[v]
	p.once.Do(func() { p.plan, p.err = coding.NewPlan(v, coding.M, 0) })
	return p.plan, p.err
}

// qrRect is a rectangle of black modules.
type qrRect struct{ row, col, width, height int }

// qrRects covers the black modules with few rectangles, which may overlap: each module not covered yet, from the top left,
// gets the larger of the widest and the highest rectangle that begins there.
func qrRects(code *coding.Code) []qrRect {
	n := code.Size
	black, done := make([]bool, n*n), make([]bool, n*n)
	for row := range n {
		for col := range n {
			black[row*n+col] = code.Black(col, row)
		}
	}
	all := func(row, col, width, height int) bool {
		for y := row; y < row+height; y++ {
			for x := col; x < col+width; x++ {
				if !black[y*n+x] {
					return false
				}
			}
		}
		return true
	}
	// uncovered counts the modules a rectangle would newly cover.
	uncovered := func(r qrRect) int {
		k := 0
		for y := r.row; y < r.row+r.height; y++ {
			for x := r.col; x < r.col+r.width; x++ {
				if !done[y*n+x] {
					k++
				}
			}
		}
		return k
	}
	rects := make([]qrRect, 0, n*n/5)
	for row := range n {
		for col := range n {
			if !black[row*n+col] || done[row*n+col] {
				continue
			}
			wide, high := qrRect{row, col, 1, 1}, qrRect{row, col, 1, 1}
			for col+wide.width < n && black[row*n+col+wide.width] {
				wide.width++
			}
			for row+wide.height < n && all(row+wide.height, col, wide.width, 1) {
				wide.height++
			}
			for row+high.height < n && black[(row+high.height)*n+col] {
				high.height++
			}
			for col+high.width < n && all(row, col+high.width, 1, high.height) {
				high.width++
			}
			best := wide
			if uncovered(high) > uncovered(wide) {
				best = high
			}
			for y := best.row; y < best.row+best.height; y++ {
				for x := best.col; x < best.col+best.width; x++ {
					done[y*n+x] = true
				}
			}
			rects = append(rects, best)
		}
	}
	return rects
}
