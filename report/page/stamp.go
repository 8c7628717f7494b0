package page

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"math"
)

// contentSum adds up everything drawn. Without a hash it does nothing.
type contentSum struct {
	hash hash.Hash
	buf  []byte
}

// add takes one drawing into the sum: what it is, its numbers to a thousandth, its text.
func (c *contentSum) add(what What, text string, numbers ...float64) {
	if c.hash == nil {
		return
	}
	c.buf = append(append(c.buf[:0], what...), 0)
	for _, x := range numbers {
		c.buf = binary.AppendVarint(c.buf, int64(math.Round(x*1000)))
	}
	c.buf = append(binary.AppendUvarint(c.buf, uint64(len(text))), text...)
	c.hash.Write(c.buf)
}

// numberAt is a place kept for the document's number.
type numberAt struct {
	page  int
	box   Rect
	style Style
}

// NumberHere keeps a place for the document's number, which is known only when all is drawn: "No. 1A2B3-4C5D6". Without
// Options.Stamp it stays empty.
func (d *Doc) NumberHere(box Rect, st Style) {
	if d.measuring > 0 {
		return
	}
	d.begin()
	d.numbers = append(d.numbers, numberAt{d.PageNo(), box, st})
}

// stamp takes the sum of what was drawn, asks for the number, and writes it where places were kept for it.
func (d *Doc) stamp() string {
	if d.opt.Stamp == nil {
		return ""
	}
	var drawn [sha256.Size]byte
	d.sum.hash.Sum(drawn[:0])
	d.sum.hash = nil
	number, keywords := d.opt.Stamp(drawn)
	d.pdf.SetKeywords(keywords, false)
	last := d.PageNo()
	for _, at := range d.numbers {
		d.pdf.SetPage(at.page)
		d.ink.known = false
		d.Fit(at.box, "No. "+number, at.style, 0)
	}
	d.pdf.SetPage(last)
	d.ink.known = false
	return number
}
