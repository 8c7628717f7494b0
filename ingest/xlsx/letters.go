package xlsx

import (
	"bytes"
	"io"

	"golang.org/x/text/encoding/unicode"
)

// newSource wraps an unpacked part. XML may be written in UTF-16 and may begin with a byte order mark; both are taken
// care of here, so that the reader of markup sees plain UTF-8.
func newSource(body io.Reader, limit int64) *source {
	s := &source{body: body, limit: limit}
	mark := make([]byte, 3)
	n, _ := io.ReadFull(count{s}, mark) // the error is kept in s and comes again
	mark = mark[:n]
	switch {
	case bytes.Equal(mark, []byte("\xEF\xBB\xBF")):
		s.Reader = count{s}
	case bytes.HasPrefix(mark, []byte("\xFF\xFE")), bytes.HasPrefix(mark, []byte("\xFE\xFF")):
		whole := io.MultiReader(bytes.NewReader(mark), count{s})
		s.Reader = unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Reader(whole)
	default:
		s.Reader = io.MultiReader(bytes.NewReader(mark), count{s})
	}
	return s
}
