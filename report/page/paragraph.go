package page

// Measure gives the height of s set as a paragraph of the width.
func (d *Doc) Measure(w float64, s string, st Style) float64 {
	return float64(len(d.lines(w, s, st))) * st.leading()
}

// lines breaks s into lines of the width; none is wider.
func (d *Doc) lines(w float64, s string, st Style) [][]atom {
	lines, _ := d.linesOf(w, s, st)
	return lines
}

func (d *Doc) linesOf(w float64, s string, st Style) (lines [][]atom, dropped int) {
	key := breakKey{shapeKey{s, st.Face, st.Plain}, w, st.size()}
	if known, ok := d.broken[key]; ok {
		return known.lines, known.dropped
	}
	sh := d.shape(s, st)
	limit := w / st.size()
	lines = wrap(sh.atoms, limit)
	for i, l := range lines {
		lines[i], _ = cutTo(l, limit, st)
	}
	if len(s) <= longestShape {
		if d.broken == nil || len(d.broken) >= mostShapes {
			d.broken = map[breakKey]brokenText{}
		}
		d.broken[key] = brokenText{lines, sh.dropped}
	}
	return lines, sh.dropped
}

// breakKey is what the lines of a text depend on.
type breakKey struct {
	shapeKey
	width, size float64
}

type brokenText struct {
	lines   [][]atom
	dropped int
}

// Paragraph draws s in lines of at most the width w, the top of the first line at y, and gives the height. It does not turn
// the page: use it where the room is known, and Para in the flow. Each line stays between x and x+w.
func (d *Doc) Paragraph(x, y, w float64, s string, st Style) float64 {
	lines, dropped := d.linesOf(w, s, st)
	d.count(shaped{dropped: dropped})
	return d.drawLines(lines, Rect{x, y, w, float64(len(lines)) * st.leading()}, st)
}

// drawLines draws lines from the top of the box and gives their height.
func (d *Doc) drawLines(lines [][]atom, box Rect, st Style) float64 {
	lead := st.leading()
	for i, l := range lines {
		d.count(shaped{atoms: l})
		top := box.Y + float64(i)*lead
		d.line(alignedIn(box, width(l)*st.size(), st.Align), top+centered(lead, st.size()), l, st, box)
	}
	return float64(len(lines)) * lead
}

// FitBox draws s in as many lines as the box has room for, from its top. Text that does not fit is set smaller, step by step,
// but not below least (0: SizeLeast); what then is still too much is cut and ends in an ellipsis. Nothing leaves the box.
func (d *Doc) FitBox(box Rect, s string, st Style, least float64) Fitted {
	if least == 0 {
		least = SizeLeast
	}
	least = min(least, st.size())
	if !d.finite(box.X, box.Y, box.W, box.H) {
		return Fitted{Cut: true}
	}
	ratio := st.leading() / st.size()
	const step = 0.25 * Point
	size := st.size()
	for ; ; size = max(least, size-step) {
		st.Size, st.Leading = size, size*ratio
		lines, dropped := d.linesOf(box.W, s, st)
		// The leading must hold the letters, or a single line would leave a box of exactly its height.
		if h := float64(len(lines)-1)*st.leading() + max(st.leading(), (ascent+descent)*size); h <= box.H+1e-6 {
			if !d.tooWide(s, st, box.W) || size <= least {
				d.count(shaped{dropped: dropped})
				d.drawLines(lines, box, st)
				return Fitted{Size: size}
			}
		}
		if size <= least {
			break
		}
	}
	lines, dropped := d.linesOf(box.W, s, st)
	room := int(box.H/st.leading() + 1e-6)
	d.count(shaped{dropped: dropped})
	d.drawLines(d.cutLines(lines, room, box.W, st), box, st)
	return Fitted{Size: size, Cut: true}
}

// cutLines keeps at most n lines; when that cuts any, the last one kept ends in an ellipsis.
func (d *Doc) cutLines(lines [][]atom, n int, w float64, st Style) [][]atom {
	if len(lines) <= n && n > 0 {
		return lines
	}
	if d.measuring == 0 {
		d.report.Cut++
	}
	if n < 1 {
		return nil
	}
	const tooMuch = 1e3 // of the size: whatever the line holds, it is cut
	kept := append([][]atom{}, lines[:n]...)
	last := append(append([]atom{}, kept[n-1]...), atom{text: " ", width: tooMuch})
	kept[n-1], _ = cutTo(last, w/st.size(), st)
	return kept
}

// tooWide reports whether a word of s is wider than w, so that it would be torn apart.
func (d *Doc) tooWide(s string, st Style, w float64) bool {
	word := 0.0
	for _, a := range d.shape(s, st).atoms {
		if a.gap || a.newline {
			word = 0
			continue
		}
		if word += a.width * st.size(); word > w+1e-6 {
			return true
		}
		if a.split {
			word = 0
		}
	}
	return false
}
