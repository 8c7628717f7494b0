package page

import (
	"encoding/hex"
	"slices"
	"strings"
)

// TextWidth is the width of s on one line.
func (d *Doc) TextWidth(s string, st Style) float64 {
	return width(d.shape(s, st).atoms) * st.size()
}

// Text draws s on one line, its baseline at y: starting at x, around x or ending at x, by the alignment. It gives the width.
// The caller knows that it fits; text from the sheets goes through Fit, FitBox or Paragraph.
func (d *Doc) Text(x, y float64, s string, st Style) float64 {
	sh := d.shape(s, st)
	w := width(sh.atoms) * st.size()
	d.count(sh)
	d.line(alignedAt(x, w, st.Align), y, sh.atoms, st, Rect{})
	return w
}

// TextUp draws s turned a quarter to the left, reading upwards, its baseline at x: starting at y, around y or ending at y, by
// the alignment. It gives the width, which runs up the page.
func (d *Doc) TextUp(x, y float64, s string, st Style) float64 {
	sh := d.shape(s, st)
	w := width(sh.atoms) * st.size()
	if d.measuring > 0 || !d.finite(x, y, w) {
		return w
	}
	d.begin()
	d.count(sh)
	bottom := y + map[Align]float64{Left: 0, Center: w / 2, Right: w}[st.Align]
	d.record(Drawn{What: DrewText, Box: Rect{x - ascent*st.size(), bottom - w, (ascent + descent) * st.size(), w},
		Text: copied(sh.atoms), Size: st.size()})
	d.pdf.TransformBegin()
	d.pdf.TransformRotate(90, x, bottom)
	d.ink.known = false
	d.glyphs(x, bottom, sh.atoms, st)
	d.pdf.TransformEnd()
	d.ink.known = false
	return w
}

// Fitted says how a text came into its box.
type Fitted struct {
	Size float64 // of the type, as drawn
	Cut  bool    // an ellipsis stands for its end, or nothing is drawn at all
}

const ellipsis = "\u2026"

// Fit draws s on one line inside the box, centered in its height. Text that is too wide or too high is shrunk, but not below
// least (0: SizeLeast); what then is still too wide is cut and ends in an ellipsis. Nothing ever leaves the box.
func (d *Doc) Fit(box Rect, s string, st Style, least float64) Fitted {
	s = strings.ReplaceAll(s, "\n", " ")
	if least == 0 {
		least = SizeLeast
	}
	sh := d.shape(s, st)
	for i := range sh.atoms {
		if sh.atoms[i].newline {
			sh.atoms = slices.Clone(sh.atoms) // the shape is kept for the next time
			sh.atoms[i] = atom{text: " ", width: em(st.Face.data(), ' '), gap: true}
		}
	}
	sh.atoms = trimGaps(sh.atoms)
	size := min(st.size(), box.H/(ascent+descent))
	if len(sh.atoms) == 0 {
		return Fitted{Size: st.size()}
	}
	if !d.finite(box.X, box.Y, box.W, box.H) || size <= 0 || box.W <= 0 {
		if d.measuring == 0 {
			d.report.Cut++
		}
		return Fitted{Cut: true}
	}
	if w := width(sh.atoms); w*size > box.W && w > 0 {
		size = min(size, max(least, box.W/w))
	}
	st.Size = size
	atoms, cut := cutTo(sh.atoms, box.W/size, st)
	if d.measuring == 0 && cut {
		d.report.Cut++
	}
	d.count(shaped{atoms, sh.dropped})
	x := alignedIn(box, width(atoms)*size, st.Align)
	d.line(x, box.Y+centered(box.H, size), atoms, st, box)
	return Fitted{Size: size, Cut: cut}
}

// centered is the distance from the top of a line of the given height to its baseline.
func centered(height, size float64) float64 { return (height-(ascent+descent)*size)/2 + ascent*size }

func alignedAt(x, w float64, a Align) float64 {
	switch a {
	case Center:
		return x - w/2
	case Right:
		return x - w
	}
	return x
}

func alignedIn(box Rect, w float64, a Align) float64 {
	switch a {
	case Center:
		return box.X + (box.W-w)/2
	case Right:
		return box.Right() - w
	}
	return box.X
}

// cutTo shortens atoms to the limit (a share of the size), ending them in an ellipsis. When not even the ellipsis fits,
// nothing is left.
func cutTo(atoms []atom, limit float64, st Style) ([]atom, bool) {
	const play = 1e-9
	if width(atoms) <= limit+play {
		return atoms, false
	}
	dots := atom{text: ellipsis, width: em(st.Face.data(), '…')}
	w, n := dots.width, 0
	if w > limit {
		return nil, true
	}
	for n < len(atoms) && w+atoms[n].width <= limit {
		w += atoms[n].width
		n++
	}
	return append(append([]atom{}, trimRight(atoms[:n])...), dots), true
}

// count counts what became of a text that is about to be drawn.
func (d *Doc) count(sh shaped) {
	if d.measuring > 0 {
		return
	}
	d.report.Dropped += sh.dropped
	for _, a := range sh.atoms {
		if a.replaced {
			d.report.Replaced++
		}
	}
}

// line draws atoms from x on the baseline y and records where. clip is the box they must stay in.
func (d *Doc) line(x, y float64, atoms []atom, st Style, clip Rect) {
	if d.measuring > 0 || len(atoms) == 0 {
		return
	}
	size := st.size()
	w := width(atoms) * size
	if !d.finite(x, y, w) {
		return
	}
	d.begin()
	d.record(Drawn{What: DrewText, Box: Rect{x, y - ascent*size, w, (ascent + descent) * size}, Clip: clip,
		Text: copied(atoms), Size: size})
	d.glyphs(x, y, atoms, st)
}

// copied is what atoms copy out of the document as.
func copied(atoms []atom) string {
	var b strings.Builder
	for _, a := range atoms {
		b.WriteString(a.text)
	}
	return b.String()
}

// glyphs puts the characters on the page. All text ends here.
func (d *Doc) glyphs(x, y float64, atoms []atom, st Style) {
	size := st.size()
	atoms = inSight(atoms)
	d.setInk(st.Gray)
	var run strings.Builder
	runX := x
	flush := func() {
		if run.Len() > 0 {
			d.letters(runX, y, run.String(), st.Face, size)
			run.Reset()
		}
	}
	for _, a := range atoms {
		switch {
		case a.newline:
			continue
		case a.set != nil && a.set.den != "":
			flush()
			d.fraction(x, y, a, st)
		case a.set != nil:
			flush()
			d.spoken(a.text)
			d.letters(x, y-raisedRise*size, a.set.raised, st.Face, raisedSize*size)
			d.spokenEnd(x, y, st)
		default:
			if run.Len() == 0 {
				runX = x
			}
			run.WriteString(a.text)
		}
		x += a.width * size
	}
	flush()
}

// fraction draws a whole number and its fraction. Readers that know replacement text copy it as 11 3/8; for all others the
// characters stand in the document in that order.
func (d *Doc) fraction(x, y float64, a atom, st Style) {
	size, f, n := st.size(), st.Face.data(), a.set
	d.spoken(a.text)
	if n.whole != "" {
		d.letters(x, y, n.whole+" ", st.Face, size)
		x += (ems(f, n.whole) + fracGap) * size
	}
	small := fracSize * size
	d.letters(x, y-fracRise*size, n.num, st.Face, small)
	x += ems(f, n.num) * small
	slash := x + slashStart*size
	d.setFont(st.Face, true, size) // before the state is saved: within, the library would set it for the slash alone
	d.pdf.TransformBegin()
	d.pdf.TransformSkewX(slashLean, slash, y)
	d.letters(slash, y, "/", st.Face, size)
	d.pdf.TransformEnd()
	d.letters(x+fracSlash*size, y, n.den, st.Face, small)
	d.spokenEnd(x, y, st)
}

// spoken opens a stretch of the page that copies out as s, whatever is drawn in it.
// Source: ISO 32000-1:2008, 14.9.4 replacement text; from memory.
func (d *Doc) spoken(s string) {
	d.pdf.RawWriteStr("/Span <</ActualText <" + hex.EncodeToString([]byte(inUTF16(s))) + ">>> BDC")
}

// spokenEnd closes the stretch. The empty text in the size of the line is for readers that give the replacement the size
// of what was drawn last: with the small size of a denominator they would take it for a line of its own.
func (d *Doc) spokenEnd(x, y float64, st Style) {
	d.letters(x, y, "", st.Face, st.size())
	d.pdf.RawWriteStr("EMC")
}

// letters hands text to the PDF library: in bytes of the common characters, or else with the whole face.
func (d *Doc) letters(x, y float64, s string, f Face, size float64) {
	coded, common := inCommon(s)
	d.setFont(f, common, size)
	if !common {
		coded = s
	}
	d.pdf.Text(x, y, coded)
}

// setFont tells the PDF library the face and size when it doesn't know them yet. A face is given to it when it is first used.
func (d *Doc) setFont(f Face, common bool, size float64) {
	if d.ink.known && d.ink.face == f && d.ink.common == common && d.ink.size == size {
		return
	}
	// The library leaves a face alone that it was given before.
	family, style := "whole", f.data().style
	if common {
		family = "common"
		c := commonFaces()[min(f, Italic)]
		d.pdf.AddFontFromBytes(family, style, c.definition, c.packed)
	} else if !d.wholes[min(f, Italic)] {
		d.wholes[min(f, Italic)] = true
		d.pdf.AddUTF8FontFromBytes(family, style, f.data().file())
	}
	d.pdf.SetFont(family, style, size/Point)
	d.ink.face, d.ink.common, d.ink.size = f, common, size
	d.ink.known = true
}

// setInk sets the gray of text. The fill gray is set along, which spares a saved state around every text.
func (d *Doc) setInk(g Gray) {
	d.pdf.SetTextColor(int(g), int(g), int(g))
	if r, _, _ := d.pdf.GetFillColor(); r != int(g) || !d.ink.known {
		d.pdf.SetFillColor(int(g), int(g), int(g))
	}
}
