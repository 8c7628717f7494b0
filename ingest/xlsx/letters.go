package xlsx

import (
	"bytes"
	"io"

	"golang.org/x/text/encoding/unicode"
)

// newSource wraps an unpacked part. XML may be written in UTF-16 and may begin with a byte order mark; both are taken
// care of here, so that the decoder sees plain UTF-8.
func newSource(body io.Reader, limit int64) (*source, error) {
	s := &source{body: body, buf: make([]byte, 0, 32<<10), limit: limit}
	err := s.fill()
	switch {
	case err != nil && err != io.EOF:
		return s, err
	case bytes.HasPrefix(s.buf, []byte("\xEF\xBB\xBF")):
		s.pos = 3
	case bytes.HasPrefix(s.buf, []byte("\xFF\xFE")), bytes.HasPrefix(s.buf, []byte("\xFE\xFF")):
		if s.err != nil && s.err != io.EOF {
			return s, nil
		}
		whole := &source{body: body, buf: s.buf, read: s.read, limit: limit, err: s.err}
		s.body = unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Reader(whole)
		s.buf, s.err = make([]byte, 0, 32<<10), nil
	}
	return s, nil
}
