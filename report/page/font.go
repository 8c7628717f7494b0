package page

import (
	"bytes"
	_ "embed"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"sync"
)

// The faces are Liberation Sans 2.1.5 under the SIL Open Font License 1.1, whole and unchanged; fonts/LICENSE.txt.
// Cut versions of them are in fonts/common; see common.go.
var (
	//go:embed fonts/LiberationSans-Regular.ttf
	regularTTF []byte
	//go:embed fonts/LiberationSans-Bold.ttf
	boldTTF []byte
	//go:embed fonts/LiberationSans-Italic.ttf
	italicTTF []byte
)

// FontLicense is the license text of the embedded typeface.
//
//go:embed fonts/LICENSE.txt
var FontLicense string

// faceData is what is known of a face without the PDF library: which characters it has and how wide they are.
type faceData struct {
	style string  // the name the PDF library gives the face
	ttf   []byte  // the file; never handed out without a copy
	width []int16 // advance of each character in thousandths of the size, as the PDF states it; below 0: the face lacks it
}

// Heights of the typeface as shares of its size; all three faces have the same (hhea and OS/2 tables).
const (
	ascent      = 0.905
	descent     = 0.212
	digitHeight = 0.687
)

var faces = sync.OnceValue(func() [3]*faceData {
	var f [3]*faceData
	for i, src := range []struct {
		style string
		ttf   []byte
	}{{"", regularTTF}, {"B", boldTTF}, {"I", italicTTF}} {
		w, err := readWidths(src.ttf)
		if err != nil {
			panic("page: embedded typeface: " + err.Error())
		}
		f[i] = &faceData{style: src.style, ttf: src.ttf, width: w}
	}
	return f
})

func (f Face) data() *faceData {
	if f > Italic {
		f = Regular
	}
	return faces()[f]
}

// file returns a copy: the PDF library writes into the bytes it is given.
func (f *faceData) file() []byte { return bytes.Clone(f.ttf) }

// has reports whether the face can draw r.
func (f *faceData) has(r rune) bool { return f.advance(r) >= 0 }

// advance is how wide the face draws r, in thousandths of the size; below 0 when it lacks r.
func (f *faceData) advance(r rune) int16 {
	if int(r) >= len(f.width) {
		return -1
	}
	return f.width[r]
}

// readWidths reads the advance of every character of a TrueType file, rounded to thousandths of the size; -1 where it has none.
// It knows cmap format 4 (the Basic Multilingual Plane), which is all the PDF library can draw.
//
// Source: OpenType specification 1.9, chapters cmap, hhea, hmtx, head; from memory.
func readWidths(ttf []byte) ([]int16, error) {
	t, err := tables(ttf)
	if err != nil {
		return nil, err
	}
	be := binary.BigEndian
	head, hhea, hmtx, cmap := t["head"], t["hhea"], t["hmtx"], t["cmap"]
	if len(head) < 54 || len(hhea) < 36 || len(cmap) < 4 {
		return nil, fmt.Errorf("a table is missing or too short")
	}
	perEm, metrics := int(be.Uint16(head[18:])), int(be.Uint16(hhea[34:]))
	if perEm == 0 || metrics == 0 || len(hmtx) < 4*metrics {
		return nil, fmt.Errorf("the table of advances is too short")
	}
	advance := func(glyph int) int16 {
		a := float64(be.Uint16(hmtx[4*min(glyph, metrics-1):]))
		return int16(math.Round(a * 1000 / float64(perEm)))
	}
	var sub []byte
	for i := range int(be.Uint16(cmap[2:])) {
		rec := cmap[4+8*i:]
		at := int(be.Uint32(rec[4:]))
		if be.Uint16(rec) == 3 && be.Uint16(rec[2:]) == 1 && be.Uint16(cmap[at:]) == 4 {
			sub = cmap[at:]
		}
	}
	if sub == nil {
		return nil, fmt.Errorf("no table of characters in format 4")
	}
	n := int(be.Uint16(sub[6:])) / 2
	end, start := sub[14:], sub[16+2*n:]
	delta, offset := sub[16+4*n:], sub[16+6*n:]
	width := slices.Repeat([]int16{-1}, 0xFFFF)
	for i := range n {
		first, last := int(be.Uint16(start[2*i:])), int(be.Uint16(end[2*i:]))
		for c := first; c <= last && c < 0xFFFF; c++ {
			g := c
			if o := int(be.Uint16(offset[2*i:])); o != 0 {
				if g = int(be.Uint16(offset[2*i+o+2*(c-first):])); g == 0 {
					continue
				}
			}
			if g = (g + int(be.Uint16(delta[2*i:]))) & 0xFFFF; g != 0 {
				width[c] = advance(g)
			}
		}
	}
	return width, nil
}

func tables(ttf []byte) (map[string][]byte, error) {
	be := binary.BigEndian
	if len(ttf) < 12 {
		return nil, fmt.Errorf("not a TrueType file")
	}
	t := map[string][]byte{}
	for i := range int(be.Uint16(ttf[4:])) {
		if len(ttf) < 12+16*i+16 {
			return nil, fmt.Errorf("the table of tables is cut off")
		}
		rec := ttf[12+16*i:]
		at, size := int(be.Uint32(rec[8:])), int(be.Uint32(rec[12:]))
		if at+size > len(ttf) {
			return nil, fmt.Errorf("table %q is cut off", rec[:4])
		}
		t[string(rec[:4])] = ttf[at : at+size]
	}
	return t, nil
}
