package page

import (
	"embed"
	"fmt"
	"strings"
	"sync"
	"unicode/utf16"
)

// Nearly all text of the papers is of some 220 characters. The PDF library takes a face of that size as it lies here, one
// byte a character, which spares it reading, cutting and packing the whole face for every document. Text with any other character
// is drawn with the whole face. The cut faces have the outlines and widths of the whole ones, so nobody sees which it was.
//
// fonts/common/common.map gives each byte its character and glyph name. The files beside it are made by
// `go test ./report/page -run CommonFaces -update-faces`.

//go:embed fonts/common/common.map fonts/common/*.json fonts/common/*.z
var commonFiles embed.FS

// commonFace is a cut face as the PDF library takes it.
type commonFace struct{ definition, packed []byte }

var commonFaces = sync.OnceValue(func() (f [Italic + 1]commonFace) {
	for i, name := range []string{"regular", "bold", "italic"} {
		f[i] = commonFace{commonFile(name + ".json"), commonFile(name + ".z")}
	}
	return f
})

func commonFile(name string) []byte {
	b, err := commonFiles.ReadFile("fonts/common/" + name)
	if err != nil {
		panic("page: embedded typeface: " + err.Error())
	}
	return b
}

// commonBytes says which byte draws a character of the common ones.
var commonBytes = sync.OnceValue(func() map[rune]byte {
	m := map[rune]byte{}
	for line := range strings.Lines(string(commonFile("common.map"))) {
		var code byte
		var r rune
		var glyph string
		if _, err := fmt.Sscanf(line, "!%x U+%x %s", &code, &r, &glyph); err != nil {
			panic("page: embedded typeface: " + err.Error())
		}
		m[r] = code
	}
	return m
})

// inCommon gives the bytes that draw s with a common face, and whether all of s can be drawn with it.
func inCommon(s string) (string, bool) {
	if isPlain(s) {
		return s, true
	}
	codes := commonBytes()
	b := make([]byte, 0, len(s))
	for _, r := range s {
		c, ok := codes[r]
		if !ok {
			return "", false
		}
		b = append(b, c)
	}
	return string(b), true
}

// inUTF16 gives s as it may stand in a document's properties and outline.
func inUTF16(s string) string {
	var b strings.Builder
	b.WriteString("\xFE\xFF")
	for _, u := range utf16.Encode([]rune(s)) {
		b.WriteByte(byte(u >> 8))
		b.WriteByte(byte(u))
	}
	return b.String()
}
