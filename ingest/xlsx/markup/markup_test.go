package markup

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"

	"pgregory.net/rapid"
)

const longest = 1 << 20

// ours writes the tokens of a text as lines, one a token, and how the reading ended.
func ours(in io.Reader) ([]string, error) {
	r := NewReader(in, longest)
	var all []string
	for {
		kind, err := r.Next()
		if err != nil {
			return all, err
		}
		switch kind {
		case End:
			return all, nil
		case StartTag:
			line := fmt.Sprintf("start %q", r.Name)
			for _, a := range r.Attrs {
				line += fmt.Sprintf(" %q=%q", a.Name, a.Value)
			}
			all = append(all, line)
		case EndTag:
			all = append(all, fmt.Sprintf("end %q", r.Name))
		case Text:
			all = append(all, fmt.Sprintf("text %q", r.Text))
		case Comment:
			all = append(all, "comment")
		case Instruction:
			all = append(all, fmt.Sprintf("instruction %q", r.Name.Local))
		}
	}
}

var errDirective = errors.New("a directive")

// theirs does the same with encoding/xml.
func theirs(in io.Reader) ([]string, error) {
	d := xml.NewDecoder(in)
	d.CharsetReader = func(charset string, r io.Reader) (io.Reader, error) {
		if strings.EqualFold(charset, "utf-16") || strings.EqualFold(charset, "us-ascii") {
			return r, nil
		}
		return nil, errors.New("unknown letters")
	}
	name := func(n xml.Name) Name { return Name{n.Space, n.Local} }
	var all []string
	for {
		token, err := d.RawToken()
		if err == io.EOF {
			return all, nil
		}
		if err != nil {
			return all, err
		}
		switch t := token.(type) {
		case xml.StartElement:
			line := fmt.Sprintf("start %q", name(t.Name))
			for _, a := range t.Attr {
				line += fmt.Sprintf(" %q=%q", name(a.Name), a.Value)
			}
			all = append(all, line)
		case xml.EndElement:
			all = append(all, fmt.Sprintf("end %q", name(t.Name)))
		case xml.CharData:
			all = append(all, fmt.Sprintf("text %q", []byte(t)))
		case xml.Comment:
			all = append(all, "comment")
		case xml.ProcInst:
			all = append(all, fmt.Sprintf("instruction %q", t.Target))
		case xml.Directive:
			return all, errDirective
		}
	}
}

// numeric finds references by number.
var numeric = regexp.MustCompile(`&#(x[0-9a-fA-F]+|[0-9]+);`)

// halfPair says whether a text holds a reference to half of a surrogate pair.
func halfPair(text string) bool {
	for _, m := range numeric.FindAllStringSubmatch(text, -1) {
		digits, base := m[1], 10
		if digits[0] == 'x' {
			digits, base = digits[1:], 16
		}
		if n, err := strconv.ParseUint(digits, base, 64); err == nil && n >= 0xD800 && n <= 0xDFFF {
			return true
		}
	}
	return false
}

// compare checks that both read the same tokens, or that both refuse after the same ones. The differences named in the
// package's comment are the only ones.
func compare(t interface {
	Helper()
	Errorf(string, ...any)
}, text string) {
	t.Helper()
	got, err := ours(strings.NewReader(text))
	want, wantErr := theirs(strings.NewReader(text))
	switch {
	case err == nil && wantErr != nil:
		t.Errorf("%q: read, and encoding/xml refuses it with %v", text, wantErr)
	case err != nil && wantErr == nil && !halfPair(text):
		t.Errorf("%q: got error %v, and encoding/xml reads it", text, err)
	case errors.Is(wantErr, errDirective) != errors.Is(err, ErrDirective) && !halfPair(text) && errors.Is(wantErr, errDirective):
		t.Errorf("%q: got error %v, want %v", text, err, ErrDirective)
	}
	n := min(len(got), len(want))
	if err == nil && wantErr == nil || wantErr != nil && !halfPair(text) {
		// A doctype that is never closed is refused here before it is read, and there behind it; no token is between.
		n = max(len(got), len(want))
	}
	for i := range n {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Errorf("%q: token %d: got %q, want %q", text, i, got[min(i, len(got)):], want[min(i, len(want)):])
			return
		}
	}
	// The same text a byte at a time and a half at a time.
	for _, in := range []io.Reader{iotest.OneByteReader(strings.NewReader(text)), iotest.HalfReader(strings.NewReader(text)), iotest.DataErrReader(strings.NewReader(text))} {
		again, errAgain := ours(in)
		if (err == nil) != (errAgain == nil) || strings.Join(got, "\n") != strings.Join(again, "\n") {
			t.Errorf("%q: got %q, %v in small pieces and %q, %v at once", text, again, errAgain, got, err)
		}
	}
}

// samples are texts with each thing that XML knows, sound and broken.
var samples = []string{
	"", " ", "a", "<a/>", "<a></a>", "<a b='c' d=\"e\"/>", "<a b='c'd='e'/>", "<a b = 'c' />", "<a\n\tb='c'\r\n/>", "</a >", "</ a>", "< a>", "<a / >", "<a/",
	"<a", "<", "</", "<a b", "<a b=", "<a b='", "<a b='c", "<a b=c>", "<a b>", "<a b='<'>", "<a b='>'>", "<a b='\"'>", "<a b='&lt;&gt;&amp;&apos;&quot;'>",
	"<x:c r='A1'/>", "<x:y:z/>", "<:a/>", "<a:/>", "<:/>", "<1/>", "<-a/>", "<.a/>", "<_a/>", "<a1.-_/>", "<é/>", "<a·/>", "<·a/>", "<a\xff/>", "<木材 b='c'/>", "<a é='1'/>",
	"&lt;", "&#65;", "&#x41;", "&#X41;", "&#;", "&#x;", "&;", "&", "&lt", "&oak;", "&#0;", "&#xD800;", "&#55296;", "&#x10FFFF;", "&#x110000;", "&#xFFFE;", "&#00000000000000000000000000065;",
	"&#99999999999999999999;", "&#+65;", "&#6_5;", "&#x4_1;", "&#13;\n", "\r&#10;", "a&#1;b", "&lt;&#x9;\t", "& lt;", "&lt ;",
	"\r", "\r\n", "\n\r", "a\rb\r\nc\n", "\r\r\n", "<a b='\r\n\t'/>", "<a b='\r&#13;\n'/>", "]]>", "]]", "]>", "a]]>b", "]]&gt;", "]&#93;>", "<a b=']]>'/>",
	"<![CDATA[]]>", "<![CDATA[<a>&lt;]]>", "<![CDATA[]]]]>", "<![CDATA[]]]>", "<![CDATA[\r\n\r]]>", "<![CDATA[\x01]]>", "<![CDATA[", "<![CDATA[]]", "<![CDAT", "<![cdata[]]>", "<![", "<!", "<![CDATA[\xff]]>",
	"<!---->", "<!-- a -->", "<!-- a - b -->", "<!-- a -- b -->", "<!-- a --->", "<!--->", "<!-->", "<!--", "<!-", "<!- -->", "<!-- \x01\xff -->", "<!---", "<!----",
	"<!DOCTYPE a>", "<!DOCTYPE a [<!ENTITY b 'c'>]>", "<!DOCTYPE", "<!>", "<! >", "<!a",
	"<?xml version='1.0'?>", "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>", "<?xml version='1.1'?>", "<?xml encoding='latin-1'?>", "<?xml encoding='utf-16'?>",
	"<?xml encoding='US-ASCII'?>", "<?xml encoding='us-a\u017fcii'?>", "<?xml encoding=utf-16?>", "<?xml encoding='utf-16?>", "<?xml version='' encoding='x'?>", "<?xml?>", "<?xml ?>", "<?XML version='2'?>", "<?a?>", "<?a b?c?>", "<?a", "<?a ?", "<??>", "<? a?>", "<?1?>",
	"<?a:b:c?>", "<?a:b?>", "<?é?>", "<?·?>", "<?a??>", "<?a?b?>", "<?xml version=version='1.0'?>",
	"\x00", "\x01", "\x0b", "\x7f", "\xc3", "\xed\xa0\x80", "\xef\xbf\xbe", "\xef\xbf\xbf", "\xef\xbf\xbd", "\xf4\x90\x80\x80", "é木\U0001F332", "<a b='\x01'/>", "<a b='\xff'/>",
	"<a b='1' b='2'/>", "<a></b>", "</a>", "<a/><b/>", "<a>1<!-- -->2<?p?>3<![CDATA[4]]>5</a>",
}

func TestSamples(t *testing.T) {
	t.Parallel()
	for _, s := range samples {
		compare(t, s)
		compare(t, "<a>"+s+"</a>")
		compare(t, "<a b=\""+s+"\"/>")
		compare(t, s+"<z/>")
	}
}

// TestRandom puts pieces of markup together at random.
func TestRandom(t *testing.T) {
	t.Parallel()
	pieces := []string{"<", ">", "/", "</", "/>", "a", "b:c", "x:y:z", "=", "'", "\"", " ", "\r", "\n", "&", ";", "#", "x41", "65", "lt", "]]>", "]", "<![CDATA[", "<!--", "--", "-->", "<?", "?>", "xml", "version=", "encoding=", "utf-8", "1.0", "é", "\xff", "\x01", "<!", "<a b='c'>", "</a>", "<a/>"}
	rapid.Check(t, func(rt *rapid.T) {
		compare(rt, strings.Join(rapid.SliceOfN(rapid.SampledFrom(append(pieces, samples...)), 0, 12).Draw(rt, "pieces"), ""))
	})
}

// FuzzTokens compares any bytes. What it may find between the two is named in the package's comment.
func FuzzTokens(f *testing.F) {
	for _, s := range samples {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { compare(t, text) })
}

// TestWindow reads tokens that lie over the ends of what is read at once, and values longer than it.
func TestWindow(t *testing.T) {
	t.Parallel()
	for _, size := range []int{window - 3, window - 1, window, window + 1, 3 * window} {
		text := strings.Repeat("oak ", size/4)
		compare(t, text[:size%8]+"<a>"+text+"</a><c r='A1' s=\""+text+"\">1 &lt; 2\r\n</c><!--"+text+"--><![CDATA["+text+"]]>"+strings.Repeat("<c r='B1'><v>7</v></c>", 5000))
	}
}

func TestLong(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		strings.Repeat(" ", 2*longest), "<a b='" + strings.Repeat("x", 2*longest) + "'/>", "<!--" + strings.Repeat("x", 2*longest) + "-->",
		"<" + strings.Repeat("x", 2*longest) + "/>", "<![CDATA[" + strings.Repeat("x", 2*longest) + "]]>", "<?a " + strings.Repeat("x", 2*longest) + "?>",
	} {
		if _, err := ours(strings.NewReader(text)); !errors.Is(err, ErrLong) {
			t.Errorf("%.10s...: got error %v, want %v", text, err, ErrLong)
		}
	}
	// Just as long as allowed.
	if _, err := ours(strings.NewReader("<a>" + strings.Repeat("x", longest-1) + "</a>")); err != nil {
		t.Errorf("got error %v, want none", err)
	}
}

// TestInputFails checks that a trouble of the input is told as it is, and again when asked again.
func TestInputFails(t *testing.T) {
	t.Parallel()
	trouble := errors.New("checksum")
	for _, text := range []string{"", "<a>", "<a", "x", "<a>x"} {
		r := NewReader(io.MultiReader(strings.NewReader(text), iotest.ErrReader(trouble)), longest)
		var err error
		for range 5 {
			if _, err = r.Next(); err != nil {
				break
			}
		}
		if _, again := r.Next(); err != trouble || again != trouble {
			t.Errorf("%q: got errors %v and %v, want %v", text, err, again, trouble)
		}
	}
}

// TestNoAllocation checks that cells are read without an allocation for each.
func TestNoAllocation(t *testing.T) {
	cells := []byte("<row>" + strings.Repeat(`<c r="B12" s="3" t="str"><v>11 3/8 &quot;</v></c>`, 3000) + "</row>")
	n := testing.AllocsPerRun(5, func() {
		r := NewReader(bytes.NewReader(cells), longest)
		for {
			if kind, err := r.Next(); err != nil || kind == End {
				return
			}
		}
	})
	if n > 30 {
		t.Errorf("got %v allocations for 3000 cells, want a few in all", n)
	}
}
