package markup

import (
	"bytes"
	"strconv"
	"unicode/utf8"
)

// plain resolves the references of a text or of an attribute's value and makes its line ends one sign. What holds
// neither comes back as it is. Between tags ]]> is refused, which would end CDATA.
func (r *Reader) plain(raw []byte, betweenTags bool) ([]byte, error) {
	special := false
	for _, c := range raw {
		if odd[c] {
			special = true
			break
		}
	}
	if !special {
		return raw, nil
	}
	if !legal(raw) || betweenTags && bytes.Contains(raw, []byte("]]>")) {
		return nil, ErrMalformed
	}
	if bytes.IndexByte(raw, '&') < 0 {
		if bytes.IndexByte(raw, '\r') < 0 {
			return raw, nil
		}
		return r.lines(raw), nil
	}
	from := len(r.scratch)
	for {
		n := bytes.IndexByte(raw, '&')
		if n < 0 {
			r.appendLines(raw)
			return r.scratch[from:len(r.scratch):len(r.scratch)], nil
		}
		r.appendLines(raw[:n])
		raw = raw[n+1:]
		end := bytes.IndexByte(raw, ';')
		if end < 0 {
			return nil, ErrMalformed
		}
		letter, ok := reference(raw[:end])
		if !ok {
			return nil, ErrMalformed
		}
		r.scratch = utf8.AppendRune(r.scratch, letter)
		raw = raw[end+1:]
	}
}

// odd holds the bytes a text must be looked at closely for.
var odd = func() (is [256]bool) {
	for c := range is {
		is[c] = c < 0x20 && c != '\t' && c != '\n' || c == '&' || c == ']' || c >= utf8.RuneSelf
	}
	return is
}()

// lines makes the line ends \r\n and \r of a text \n.
func (r *Reader) lines(raw []byte) []byte {
	from := len(r.scratch)
	r.appendLines(raw)
	return r.scratch[from:len(r.scratch):len(r.scratch)]
}

func (r *Reader) appendLines(raw []byte) {
	for {
		n := bytes.IndexByte(raw, '\r')
		if n < 0 {
			r.scratch = append(r.scratch, raw...)
			return
		}
		r.scratch = append(append(r.scratch, raw[:n]...), '\n')
		if raw = raw[n+1:]; len(raw) > 0 && raw[0] == '\n' {
			raw = raw[1:]
		}
	}
}

// reference gives the letter that stands between & and ;.
func reference(ref []byte) (rune, bool) {
	switch string(ref) {
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "amp":
		return '&', true
	case "apos":
		return '\'', true
	case "quot":
		return '"', true
	}
	digits, numeric := bytes.CutPrefix(ref, []byte("#"))
	if !numeric {
		return 0, false
	}
	base := 10
	if hex, is := bytes.CutPrefix(digits, []byte("x")); is {
		digits, base = hex, 16
	}
	n, err := strconv.ParseUint(string(digits), base, 32)
	if err != nil || n > utf8.MaxRune || !inXML(rune(n)) {
		return 0, false
	}
	return rune(n), true
}

// legal says whether a text is UTF-8 and holds only letters XML may hold.
func legal(text []byte) bool {
	for i := 0; i < len(text); {
		if c := text[i]; c < utf8.RuneSelf {
			if !inXML(rune(c)) {
				return false
			}
			i++
			continue
		}
		r, size := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && size == 1 || !inXML(r) {
			return false
		}
		i += size
	}
	return true
}

// inXML says whether XML may hold a letter (XML 1.0, production 2, Char; memory).
func inXML(r rune) bool {
	return r >= 0x20 && r <= 0xD7FF || r == '\t' || r == '\n' || r == '\r' || r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 && r <= 0x10FFFF
}
