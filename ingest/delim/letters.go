package delim

import (
	"bytes"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// letters makes text of the bytes. Letters that do not fit are refused, never replaced.
func letters(file string, data []byte) (string, error) {
	refuse := func(code finding.Code, problem string) (string, error) {
		return "", sheet.Refuse(code, file, "", problem)
	}
	if len(data) > sheet.MaxTextBytes {
		return "", sheet.Refuse(finding.FileTooLarge, file, "", "the file is larger than %d MB", sheet.MaxTextBytes>>20)
	}
	if wide, low := wideLetters(data); wide {
		text, ok := fromUTF16(data, low)
		if !ok {
			return refuse(finding.FileLetters, "the text is in UTF-16 and is damaged or was cut off")
		}
		return checkText(file, strings.TrimPrefix(text, "\uFEFF"))
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return refuse(finding.FileUnknown, "this is not text: there are zero bytes in it")
	}
	marked := bytes.HasPrefix(data, []byte("\uFEFF"))
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if utf8.Valid(data) {
		return checkText(file, string(data))
	}
	if marked || holdsUTF8(data) {
		return refuse(finding.FileLetters, "the text is in UTF-8 and is damaged, cut off, or mixed with other letters")
	}
	text, err := charmap.Windows1252.NewDecoder().Bytes(data)
	if err != nil || bytes.ContainsRune(text, utf8.RuneError) {
		return refuse(finding.FileLetters, "the text is neither in UTF-8 nor in Windows-1252")
	}
	return checkText(file, string(text))
}

// checkText refuses letters that no table holds: control characters other than tab, line ends, and the form feed. A
// last character 26 is the old mark for the end of a text.
func checkText(file, text string) (string, error) {
	text = strings.TrimSuffix(text, "\x1A")
	for i, r := range text {
		if r < 0x20 && r != '\t' && r != '\n' && r != '\r' && r != '\f' || r >= 0x7F && r < 0xA0 {
			line := 1 + strings.Count(text[:i], "\n")
			return "", sheet.Refuse(finding.FileUnknown, file, "", "this is not plain text: there is a control character (%U) in line %d", r, line)
		}
	}
	return text, nil
}

// wideLetters says whether the bytes are UTF-16, by the mark in front or, without one, by where the zero bytes stand:
// the letters of a table are mostly below 256, so that every other byte is zero. low says that the low byte comes first.
func wideLetters(data []byte) (wide, low bool) {
	switch {
	case bytes.HasPrefix(data, []byte("\xFF\xFE")):
		return true, true
	case bytes.HasPrefix(data, []byte("\xFE\xFF")):
		return true, false
	}
	var zeros [2]int
	for i, b := range data {
		if b == 0 {
			zeros[i&1]++
		}
	}
	half := len(data) / 2
	switch {
	case half == 0:
		return false, false
	case zeros[0] == 0 && zeros[1]*2 > half:
		return true, true
	case zeros[1] == 0 && zeros[0]*2 > half:
		return true, false
	}
	return false, false
}

// fromUTF16 decodes UTF-16; false when a letter is cut or half of a pair stands alone. The decoder of golang.org/x/text
// would put a replacement in such places without saying so.
func fromUTF16(data []byte, low bool) (string, bool) {
	if len(data)%2 != 0 {
		return "", false
	}
	unit := func(i int) rune {
		if low {
			return rune(data[i]) | rune(data[i+1])<<8
		}
		return rune(data[i])<<8 | rune(data[i+1])
	}
	var b strings.Builder
	b.Grow(len(data) / 2)
	for i := 0; i < len(data); i += 2 {
		r := unit(i)
		if r == 0 {
			return "", false
		}
		if utf16.IsSurrogate(r) {
			if i += 2; i >= len(data) {
				return "", false
			}
			if r = utf16.DecodeRune(r, unit(i)); r == utf8.RuneError {
				return "", false
			}
		}
		b.WriteRune(r)
	}
	return b.String(), true
}

// holdsUTF8 says whether any letter of several bytes is written in proper UTF-8. In a text of Windows-1252 such a run
// of bytes would be two or three odd letters in a row, so a text that has both is one that was damaged or patched.
func holdsUTF8(data []byte) bool {
	for len(data) > 0 {
		r, size := utf8.DecodeRune(data)
		if r != utf8.RuneError && size > 1 {
			return true
		}
		data = data[size:]
	}
	return false
}
