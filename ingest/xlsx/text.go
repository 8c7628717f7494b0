package xlsx

import (
	"bytes"
	"unicode/utf16"
	"unicode/utf8"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// richText appends the text of the element opened last (si, is or text) to buf: its own t, or the t of its runs one
// after the other. Phonetic runs (rPh), which repeat the text as it is spoken, are left out.
func (s *stream) richText(buf []byte) ([]byte, error) {
	from := len(buf)
	for {
		more, err := s.child()
		if err != nil {
			return buf, err
		}
		if !more {
			return buf, s.checkLength(buf[from:])
		}
		switch {
		case s.space == mainSpace && s.name == "t":
			buf, err = s.stringValue(buf)
		case s.space == mainSpace && s.name == "r":
			buf, err = s.textRun(buf)
		case s.space == mainSpace && s.name != "rPh" && s.name != "phoneticPr" && s.name != "extLst":
			err = s.fault(finding.FileLayout, "the tag <%s> does not belong in a text", s.name)
		default:
			err = s.skip()
		}
		if err != nil {
			return buf, err
		}
	}
}

// textRun appends the text of a run of rich text.
func (s *stream) textRun(buf []byte) ([]byte, error) {
	for {
		more, err := s.child()
		if err != nil || !more {
			return buf, err
		}
		if s.space == mainSpace && s.name == "t" {
			buf, err = s.stringValue(buf)
		} else {
			err = s.skip()
		}
		if err != nil {
			return buf, err
		}
	}
}

// stringValue appends the text of a t element. White space at its ends counts only where xml:space says so.
func (s *stream) stringValue(buf []byte) ([]byte, error) {
	from, keep := len(buf), s.keep()
	buf, err := s.content(buf)
	if err != nil {
		return buf, err
	}
	text := buf[from:]
	if !keep {
		text = trimWhite(text)
	}
	return append(buf[:from], unescape(text)...), nil
}

// checkLength refuses a text longer than a cell can hold.
func (s *stream) checkLength(text []byte) error {
	if len(text) <= sheet.MaxTextLength {
		return nil
	}
	units := 0
	for rest := text; len(rest) > 0; {
		r, size := utf8.DecodeRune(rest)
		rest = rest[size:]
		units += max(1, utf16.RuneLen(r))
	}
	if units > sheet.MaxTextLength {
		return s.fault(finding.FileTooLarge, "a text is longer than the %d letters a cell can hold", sheet.MaxTextLength)
	}
	return nil
}

// unescape decodes _xHHHH_, the way a workbook writes letters that XML cannot hold (ECMA-376 Part 1, 22.9.2.19,
// ST_Xstring; memory). It works in place: the result is never longer. Half of a surrogate pair alone stays as written.
func unescape(text []byte) []byte {
	at := bytes.Index(text, []byte("_x"))
	if at < 0 {
		return text
	}
	out := text[:at]
	for rest := text[at:]; len(rest) > 0; {
		unit, ok := escape(rest)
		if !ok {
			out = append(out, rest[0])
			rest = rest[1:]
			continue
		}
		size := escapeSize
		if utf16.IsSurrogate(unit) {
			low, _ := escape(rest[escapeSize:])
			if unit = utf16.DecodeRune(unit, low); unit == utf8.RuneError {
				out = append(out, rest[:escapeSize]...)
				rest = rest[escapeSize:]
				continue
			}
			size = 2 * escapeSize
		}
		out = utf8.AppendRune(out, unit)
		rest = rest[size:]
	}
	return out
}

const escapeSize = len("_x0000_")

// escape reads one _xHHHH_ at the beginning of text.
func escape(text []byte) (rune, bool) {
	if len(text) < escapeSize || text[0] != '_' || text[1] != 'x' || text[6] != '_' {
		return 0, false
	}
	var unit rune
	for _, c := range text[2:6] {
		switch {
		case c >= '0' && c <= '9':
			unit = unit<<4 | rune(c-'0')
		case c >= 'a' && c <= 'f':
			unit = unit<<4 | rune(c-'a'+10)
		case c >= 'A' && c <= 'F':
			unit = unit<<4 | rune(c-'A'+10)
		default:
			return 0, false
		}
	}
	return unit, true
}

// readStrings reads the workbook's table of texts.
func (c *container) readStrings(part string) ([]string, error) {
	var table []string
	err := c.read(part, func(s *stream) error {
		if err := s.root(mainSpace, "sst"); err != nil {
			return err
		}
		var buf []byte
		for {
			more, err := s.child()
			if err != nil || !more {
				return err
			}
			switch {
			case s.space == mainSpace && s.name == "si":
				if len(table) >= sheet.MaxStrings {
					return s.fault(finding.FileTooLarge, "the table of texts holds more than %d texts", sheet.MaxStrings)
				}
				buf, err = s.richText(buf[:0])
				table = append(table, string(buf))
			case s.space == mainSpace && s.name != "extLst":
				err = s.fault(finding.FileLayout, "the tag <%s> does not belong in the table of texts", s.name)
			default:
				err = s.skip()
			}
			if err != nil {
				return err
			}
		}
	})
	return table, err
}
