package xlsx

import (
	"bytes"
	"errors"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
	"drytally/ingest/xlsx/markup"
)

// space is the namespace of a name, told apart only as far as a workbook needs it.
type space uint8

const (
	noSpace    space = iota
	mainSpace        // the cells and their tables
	linkSpace        // the list of relationships
	typeSpace        // the list of content types
	idSpace          // r:id, a reference to a relationship
	xmlSpace         // xml:space
	otherSpace       // anything else: skipped
)

// spaces names the namespaces, transitional and strict (ECMA-376 Part 1 and Part 4, annex A; memory).
var spaces = map[string]space{
	"":              noSpace,
	mainTransition:  mainSpace,
	mainStrict:      mainSpace,
	linkPackage:     linkSpace,
	typePackage:     typeSpace,
	linkTransition:  idSpace,
	linkStrict:      idSpace,
	xmlSpaceAddress: xmlSpace,
}

const (
	mainTransition  = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	mainStrict      = "http://purl.oclc.org/ooxml/spreadsheetml/main"
	linkTransition  = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	linkStrict      = "http://purl.oclc.org/ooxml/officeDocument/relationships"
	linkPackage     = "http://schemas.openxmlformats.org/package/2006/relationships"
	typePackage     = "http://schemas.openxmlformats.org/package/2006/content-types"
	xmlSpaceAddress = "http://www.w3.org/XML/1998/namespace"
)

// stream reads a part's XML as tags and text. Package markup cuts it into tokens; the nesting, the namespaces, a second
// root, text behind the root and doubled attributes are looked after here.
type stream struct {
	file, part string
	left       *sheet.Allowance
	in         *markup.Reader
	open       []tag
	bound      []binding
	rooted     bool
	prolog     bool // something came before this token

	// What the last call of next returned.
	name  string // local name of a start or end tag
	space space
	attrs []markup.Attr // valid until the next call
	text  []byte        // valid until the next call
}

// tag is an open element.
type tag struct {
	name  markup.Name
	space space
	bound int  // bindings in force outside it
	inner int  // bindings in force inside it
	keep  bool // xml:space="preserve" holds inside
}

type binding struct {
	prefix string
	space  space
}

type event uint8

const (
	atEnd event = iota // the part is read
	startTag
	endTag
	textRun
)

// inEarnest ends the sentences that say what a file holds too much of: see sheet.Earnest.
const inEarnest = ", which is more than a file of its size holds in earnest"

func newStream(c *container, part string, src *source) *stream {
	return &stream{file: c.file, part: part, left: &c.left, in: markup.NewReader(src, maxToken)}
}

// fault makes the error of this part.
func (s *stream) fault(code finding.Code, problem string, args ...any) error {
	return sheet.Refuse(code, s.file, s.part, problem, args...)
}

func (s *stream) malformed() error {
	return s.fault(finding.FileXML, "the text of this part is not properly written XML, or is cut off")
}

// next reads the next tag or run of text. Comments and instructions to other programs are passed over.
func (s *stream) next() (event, error) {
	for {
		kind, err := s.in.Next()
		switch {
		case err == nil:
		case errors.Is(err, markup.ErrDirective):
			return 0, s.fault(finding.FileDoctype, "this part begins with a document type, which a workbook never has")
		case errors.Is(err, markup.ErrLong):
			return 0, s.fault(finding.FileTooLarge, "one text or tag in this part is longer than any cell can be")
		default:
			return 0, s.malformed() // or the part could not be unpacked, which container.read knows
		}
		first := !s.prolog
		s.prolog = true
		switch kind {
		case markup.End:
			if len(s.open) > 0 || !s.rooted {
				return 0, s.fault(finding.FileXML, "the text of this part is cut off")
			}
			return atEnd, nil
		case markup.StartTag:
			return startTag, s.start(s.in.Name, s.in.Attrs)
		case markup.EndTag:
			return endTag, s.end(s.in.Name)
		case markup.Text:
			if len(s.open) > 0 {
				s.text = s.in.Text
				return textRun, nil
			}
			if !isSpace(s.in.Text) {
				return 0, s.malformed()
			}
		case markup.Instruction:
			if strings.EqualFold(s.in.Name.Local, "xml") && !first {
				return 0, s.malformed()
			}
		}
	}
}

func (s *stream) start(name markup.Name, attrs []markup.Attr) error {
	if len(s.open) == 0 && s.rooted {
		return s.malformed() // a second root
	}
	s.rooted = true
	if s.left.Tags--; s.left.Tags < 0 {
		return s.fault(finding.FileTooLarge, "there are more than %d tags in the parts of this workbook"+inEarnest, sheet.MaxTags)
	}
	if len(s.open) >= sheet.MaxXMLDepth {
		return s.fault(finding.FileTooLarge, "the tags of this part are nested more than %d deep", sheet.MaxXMLDepth)
	}
	in := tag{name: name, bound: len(s.bound)}
	if n := len(s.open); n > 0 {
		in.keep = s.open[n-1].keep
	}
	if doubled(attrs) {
		return s.malformed()
	}
	for i := range attrs {
		switch a := &attrs[i]; {
		case a.Name.Prefix == "xmlns":
			s.bind(a.Name.Local, a.Value)
		case a.Name.Prefix == "" && a.Name.Local == "xmlns":
			s.bind("", a.Value)
		case a.Name.Prefix == "xml" && a.Name.Local == "space":
			in.keep = string(a.Value) == "preserve"
		}
	}
	in.inner = len(s.bound)
	if n := len(s.open); n > 0 && s.open[n-1].name.Prefix == name.Prefix && s.open[n-1].inner == in.inner {
		in.space = s.open[n-1].space // as the tag around it, which is nearly always so
	} else {
		var known bool
		if in.space, known = s.resolve(name.Prefix); !known {
			return s.malformed()
		}
	}
	s.open = append(s.open, in)
	s.name, s.space, s.attrs = name.Local, in.space, attrs
	return nil
}

func (s *stream) end(name markup.Name) error {
	n := len(s.open)
	if n == 0 || s.open[n-1].name != name {
		return s.malformed()
	}
	in := s.open[n-1]
	s.open, s.bound = s.open[:n-1], s.bound[:in.bound]
	s.name, s.space, s.attrs = name.Local, in.space, nil
	return nil
}

func (s *stream) bind(prefix string, address []byte) {
	sp, known := spaces[string(address)]
	if !known {
		sp = otherSpace
	}
	s.bound = append(s.bound, binding{prefix, sp})
}

// resolve gives the namespace of a prefix; false when the prefix was never declared.
func (s *stream) resolve(prefix string) (space, bool) {
	for i := len(s.bound) - 1; i >= 0; i-- {
		if s.bound[i].prefix == prefix {
			return s.bound[i].space, true
		}
	}
	if prefix == "xml" {
		return xmlSpace, true
	}
	return noSpace, prefix == ""
}

// doubled says whether an attribute stands twice in a tag.
func doubled(attrs []markup.Attr) bool {
	const few = 16 // above this a map is quicker than comparing each with each
	if len(attrs) > few {
		seen := make(map[markup.Name]bool, len(attrs))
		for i := range attrs {
			if seen[attrs[i].Name] {
				return true
			}
			seen[attrs[i].Name] = true
		}
		return false
	}
	for i := range attrs {
		for j := range i {
			if attrs[i].Name == attrs[j].Name {
				return true
			}
		}
	}
	return false
}

// attr gives an attribute without prefix.
func (s *stream) attr(name string) (string, bool) {
	value, given := s.raw(name)
	return string(value), given
}

// raw is attr without a copy: the value is valid until the next tag is read.
func (s *stream) raw(name string) ([]byte, bool) {
	for i := range s.attrs {
		if a := &s.attrs[i]; a.Name.Local == name && a.Name.Prefix == "" {
			return a.Value, true
		}
	}
	return nil, false
}

// id gives the r:id attribute, whatever its prefix.
func (s *stream) id() string {
	for i := range s.attrs {
		a := &s.attrs[i]
		if a.Name.Local != "id" || a.Name.Prefix == "" {
			continue
		}
		if sp, _ := s.resolve(a.Name.Prefix); sp == idSpace {
			return string(a.Value)
		}
	}
	return ""
}

// flag gives an attribute that is true or false; absent counts as false.
func (s *stream) flag(name string) (bool, error) {
	v, ok := s.raw(name)
	if !ok {
		return false, nil
	}
	switch string(bytes.TrimSpace(v)) {
	case "1", "true":
		return true, nil
	case "0", "false":
		return false, nil
	}
	return false, s.fault(finding.FileValue, "the attribute %s of <%s> is %q, neither true nor false", name, s.name, v)
}

// root reads the first tag and checks that it is the one wanted.
func (s *stream) root(sp space, name string) error {
	ev, err := s.next()
	if err != nil {
		return err
	}
	if ev != startTag || s.space != sp || s.name != name {
		return s.fault(finding.FileLayout, "this part should begin with <%s> and does not", name)
	}
	return nil
}

// child reads to the next tag inside the element that was opened last; false when that element ends. Text between tags
// other than space is refused: it would be a value out of its place.
func (s *stream) child() (bool, error) {
	for {
		ev, err := s.next()
		if err != nil {
			return false, err
		}
		switch {
		case ev == startTag:
			return true, nil
		case ev == endTag:
			return false, nil
		case !isSpace(s.text):
			return false, s.fault(finding.FileLayout, "there is text between the tags of this part")
		}
	}
}

// skip reads to the end of the element that was opened last.
func (s *stream) skip() error {
	depth := len(s.open)
	for len(s.open) >= depth {
		if _, err := s.next(); err != nil {
			return err
		}
	}
	return nil
}

// content appends the text of the element that was opened last, which holds no tags, to buf.
func (s *stream) content(buf []byte) ([]byte, error) {
	for {
		ev, err := s.next()
		if err != nil {
			return buf, err
		}
		switch ev {
		case endTag:
			return buf, nil
		case startTag:
			return buf, s.fault(finding.FileLayout, "the tag <%s> stands inside a value", s.name)
		}
		buf = append(buf, s.text...)
	}
}

// keep says whether white space at the ends of the text about to be read belongs to it.
func (s *stream) keep() bool { return len(s.open) > 0 && s.open[len(s.open)-1].keep }

// finish reads what follows the root.
func (s *stream) finish() error {
	for {
		ev, err := s.next()
		if err != nil || ev == atEnd {
			return err
		}
		if len(s.open) > 0 || ev != endTag {
			return s.malformed()
		}
	}
}

// trimWhite cuts the white space of XML off both ends.
func trimWhite(text []byte) []byte {
	for len(text) > 0 && isWhite(text[0]) {
		text = text[1:]
	}
	for len(text) > 0 && isWhite(text[len(text)-1]) {
		text = text[:len(text)-1]
	}
	return text
}

func isWhite(c byte) bool { return c == ' ' || c == '\t' || c == '\r' || c == '\n' }

func isSpace(text []byte) bool {
	for _, c := range text {
		if !isWhite(c) {
			return false
		}
	}
	return true
}
