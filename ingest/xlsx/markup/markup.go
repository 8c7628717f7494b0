// Package markup cuts the XML of a workbook's parts into tags and text, quickly and without an allocation for each.
//
// It takes what encoding/xml takes in its strict mode, token for token, and refuses what that refuses (its fuzz test
// compares the two), except for two things it refuses on top: every <!...> that is neither a comment nor CDATA (a
// document type has no place in a workbook), and a reference to half of a surrogate pair such as &#xD800;, which no XML
// may hold and which encoding/xml turns into U+FFFD unasked. Nesting, namespaces and doubled attributes are the caller's
// matter, as they are with xml.Decoder.RawToken.
//
// It is there because a workbook is nearly all markup, and encoding/xml, which is called for every byte and makes a
// string of every name and value, took nine tenths of the time of reading one.
package markup

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// Kind says what Next came to.
type Kind uint8

// The kinds of tokens. A tag closed in itself, <a/>, comes as a StartTag and an EndTag.
const (
	End         Kind = iota // the input is read
	StartTag                // Name, Attrs
	EndTag                  // Name
	Text                    // Text; CDATA is a token of its own
	Comment                 // passed over
	Instruction             // Name.Local is its target
)

// The errors of Next besides those of the input itself.
var (
	ErrMalformed = errors.New("not well-formed XML")
	ErrDirective = errors.New("a document type")
	ErrLong      = errors.New("a token longer than allowed")
)

// Name is a name as written, before its prefix is resolved.
type Name struct{ Prefix, Local string }

// Attr is an attribute. Value has its references resolved.
type Attr struct {
	Name  Name
	Value []byte
}

// Reader reads tokens. What it hands out is valid until the next call of Next; names stay valid.
type Reader struct {
	Name  Name
	Attrs []Attr
	Text  []byte

	in      io.Reader
	longest int // bytes of a token
	buf     []byte
	pos     int
	end     error // what ended the input; io.EOF when it is read to its end
	err     error
	closing bool // the tag handed out last closes itself
	scratch []byte
	names   [256]known
}

// known is a name met before.
type known struct {
	raw  string
	name Name
}

// window is how much is read at once.
const window = 64 << 10

// NewReader reads from in, which is UTF-8 without a byte order mark. A token of more than longest bytes is refused.
func NewReader(in io.Reader, longest int) *Reader {
	return &Reader{in: in, longest: longest, buf: make([]byte, 0, window), scratch: make([]byte, 0, 256)}
}

// errShort asks for more input.
var errShort = errors.New("short")

// Next reads the next token. After an error it returns that error again.
func (r *Reader) Next() (Kind, error) {
	if r.err != nil {
		return End, r.err
	}
	if r.closing {
		r.closing = false
		r.Attrs = r.Attrs[:0]
		return EndTag, nil
	}
	for {
		kind, n, err := r.token(r.buf[r.pos:])
		if err == nil {
			r.pos += n
			return kind, nil
		}
		if err == errShort {
			if r.end == nil {
				if err = r.more(); err == nil {
					continue
				}
			} else {
				err = r.end
				switch {
				case err == io.EOF && r.pos == len(r.buf):
					return End, nil
				case err == io.EOF:
					err = ErrMalformed // cut off in a token
				}
			}
		}
		r.err = err
		return End, err
	}
}

// more fills the window, keeping what is not used up; the window grows when one token fills it.
func (r *Reader) more() error {
	left := len(r.buf) - r.pos
	if left > r.longest {
		return ErrLong
	}
	if left > cap(r.buf)/2 {
		grown := make([]byte, left, min(2*cap(r.buf), r.longest+window))
		copy(grown, r.buf[r.pos:])
		r.buf = grown
	} else {
		copy(r.buf[:left], r.buf[r.pos:])
		r.buf = r.buf[:left]
	}
	r.pos = 0
	for len(r.buf) < cap(r.buf) && r.end == nil {
		var n int
		n, r.end = r.in.Read(r.buf[len(r.buf):cap(r.buf)])
		r.buf = r.buf[:len(r.buf)+n]
	}
	return nil
}

// token reads one token at the beginning of b and gives its length; errShort when b ends before the token does.
func (r *Reader) token(b []byte) (Kind, int, error) {
	if len(b) == 0 {
		return End, 0, errShort
	}
	if b[0] != '<' {
		n := bytes.IndexByte(b, '<')
		if n < 0 {
			if r.end != io.EOF {
				return End, 0, errShort
			}
			n = len(b)
		}
		var err error
		r.scratch = r.scratch[:0]
		r.Text, err = r.plain(b[:n], true)
		return Text, n, err
	}
	if len(b) < 2 {
		return End, 0, errShort
	}
	switch b[1] {
	case '/':
		return r.endTag(b)
	case '!':
		return r.declared(b)
	case '?':
		return r.instruction(b)
	}
	return r.startTag(b)
}

func (r *Reader) endTag(b []byte) (Kind, int, error) {
	n, err := r.name(b[2:], &r.Name)
	if err != nil {
		return End, 0, err
	}
	i := skipSpace(b, 2+n)
	if i == len(b) {
		return End, 0, errShort
	}
	if b[i] != '>' {
		return End, 0, ErrMalformed
	}
	r.Attrs = r.Attrs[:0]
	return EndTag, i + 1, nil
}

func (r *Reader) startTag(b []byte) (Kind, int, error) {
	n, err := r.name(b[1:], &r.Name)
	if err != nil {
		return End, 0, err
	}
	r.Attrs, r.scratch = r.Attrs[:0], r.scratch[:0]
	i := 1 + n
	for {
		i = skipSpace(b, i)
		if i == len(b) {
			return End, 0, errShort
		}
		switch b[i] {
		case '>':
			return StartTag, i + 1, nil
		case '/':
			if i+1 == len(b) {
				return End, 0, errShort
			}
			if b[i+1] != '>' {
				return End, 0, ErrMalformed
			}
			r.closing = true
			return StartTag, i + 2, nil
		}
		var a Attr
		n, err := r.name(b[i:], &a.Name)
		if err != nil {
			return End, 0, err
		}
		if i = skipSpace(b, i+n); i == len(b) {
			return End, 0, errShort
		}
		if b[i] != '=' {
			return End, 0, ErrMalformed
		}
		if i = skipSpace(b, i+1); i == len(b) {
			return End, 0, errShort
		}
		quote := b[i]
		if quote != '"' && quote != '\'' {
			return End, 0, ErrMalformed
		}
		i++
		n = bytes.IndexByte(b[i:], quote)
		if n < 0 {
			return End, 0, errShort
		}
		if bytes.IndexByte(b[i:i+n], '<') >= 0 {
			return End, 0, ErrMalformed
		}
		if a.Value, err = r.plain(b[i:i+n], false); err != nil {
			return End, 0, err
		}
		r.Attrs = append(r.Attrs, a)
		i += n + 1
	}
}

// declared reads what begins with <!: a comment or CDATA.
func (r *Reader) declared(b []byte) (Kind, int, error) {
	const comment, cdata = "<!--", "<![CDATA["
	switch {
	case len(b) < 3:
		return End, 0, errShort
	case b[2] == '-':
		if len(b) < len(comment) {
			return End, 0, errShort
		}
		if b[3] != '-' {
			return End, 0, ErrMalformed
		}
		n := bytes.Index(b[len(comment):], []byte("--"))
		if n < 0 || len(comment)+n+2 == len(b) {
			return End, 0, errShort
		}
		n += len(comment) + 2
		if b[n] != '>' {
			return End, 0, ErrMalformed
		}
		return Comment, n + 1, nil
	case b[2] == '[':
		if n := min(len(b), len(cdata)); string(b[:n]) != cdata[:n] {
			return End, 0, ErrMalformed
		}
		n := -1
		if len(b) >= len(cdata) {
			n = bytes.Index(b[len(cdata):], []byte("]]>"))
		}
		if n < 0 {
			return End, 0, errShort
		}
		raw := b[len(cdata) : len(cdata)+n]
		if !legal(raw) {
			return End, 0, ErrMalformed
		}
		r.scratch = r.scratch[:0]
		r.Text = raw
		if bytes.IndexByte(raw, '\r') >= 0 {
			r.Text = r.lines(raw)
		}
		return Text, len(cdata) + n + 3, nil
	}
	return End, 0, ErrDirective
}

// instruction reads <?...?>. The first line of a part is one: its version must be 1.0, and its letters ones that come as
// UTF-8 here.
func (r *Reader) instruction(b []byte) (Kind, int, error) {
	n := nameLength(b[2:])
	if 2+n == len(b) {
		return End, 0, errShort
	}
	target := string(b[2 : 2+n])
	if !isName(target) {
		return End, 0, ErrMalformed
	}
	i := skipSpace(b, 2+n)
	end := bytes.Index(b[i:], []byte("?>"))
	if end < 0 {
		return End, 0, errShort
	}
	r.Name = Name{Local: target}
	if target == "xml" {
		content := string(b[i : i+end])
		if v := value("version=", content); v != "" && v != "1.0" {
			return End, 0, ErrMalformed
		}
		if letters := value("encoding=", content); letters != "" && !slices.ContainsFunc(readLetters, func(s string) bool { return strings.EqualFold(s, letters) }) {
			return End, 0, ErrMalformed
		}
	}
	return Instruction, i + end + 2, nil
}

// readLetters are the encodings a part may name. One in UTF-16 has been made UTF-8 before it comes here.
var readLetters = []string{"utf-8", "utf-16", "us-ascii"}

// value finds a quoted value in the first line of a part.
func value(name, content string) string {
	for {
		_, rest, found := strings.Cut(content, name)
		if !found || rest == "" {
			return ""
		}
		if quote := rest[0]; quote == '"' || quote == '\'' {
			v, _, closed := strings.Cut(rest[1:], string(quote))
			if !closed {
				return ""
			}
			return v
		}
		content = rest[1:]
	}
}

func skipSpace(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\n' || b[i] == '\t' || b[i] == '\r') {
		i++
	}
	return i
}

// name reads a name at the beginning of b and gives its length.
func (r *Reader) name(b []byte, out *Name) (int, error) {
	n := nameLength(b)
	if n == len(b) {
		return 0, errShort
	}
	if n == 0 {
		return 0, ErrMalformed
	}
	// Names repeat without end: each is looked up where one of its length and ends would be.
	at := &r.names[(n*31+int(b[0])*7+int(b[n-1]))&(len(r.names)-1)]
	if at.raw != string(b[:n]) {
		raw := string(b[:n])
		name, ok := split(raw)
		if !ok {
			return 0, ErrMalformed
		}
		*at = known{raw, name}
	}
	*out = at.name
	return n, nil
}

func nameLength(b []byte) int {
	n := 0
	for n < len(b) && nameByte[b[n]] {
		n++
	}
	return n
}

// nameByte holds the bytes a name is read over; which of them may begin it is looked at when it is new.
var nameByte = func() (is [256]bool) {
	for c := range is {
		is[c] = c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9' ||
			c == '_' || c == ':' || c == '.' || c == '-' || c >= utf8.RuneSelf
	}
	return is
}()

// isName checks a name, colons and all.
func isName(raw string) bool {
	if raw == "" {
		return false
	}
	for i := range len(raw) {
		if raw[i] >= utf8.RuneSelf {
			// Which letters of the world may stand in a name is a long table; encoding/xml has it.
			_, err := xml.NewDecoder(strings.NewReader("<?" + raw + " ?>")).RawToken()
			return err == nil
		}
	}
	return !(raw[0] >= '0' && raw[0] <= '9' || raw[0] == '.' || raw[0] == '-')
}

// split checks a name and takes it apart at its colon; a colon at either end belongs to the name, more than one is
// refused.
func split(raw string) (Name, bool) {
	if !isName(raw) || strings.Count(raw, ":") > 1 {
		return Name{}, false
	}
	if prefix, local, cut := strings.Cut(raw, ":"); cut && prefix != "" && local != "" {
		return Name{prefix, local}, true
	}
	return Name{Local: raw}, true
}
