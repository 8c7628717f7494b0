package delim

import "strings"

// splitter cuts a text into records and fields. encoding/csv is not used: it passes over blank lines, so that row
// numbers would be lost; it takes no lone carriage return as a line end; and its LazyQuotes reads on over line ends from
// an inch mark that opens a field, without saying so.
//
// A field that begins with a quotation mark ends at the next one that stands before a separator or a line end (spaces
// between them are passed over); a doubled one inside is one; a single one inside is an inch mark. In any other field a
// quotation mark is itself. Where an inch mark inside quotes is followed by a separator or line end that the field would
// swallow, the field could also have ended there: the splitter says so in doubt and goes on.
type splitter struct {
	text string
	sep  byte
	at   int
	more bool // the record has another field

	row, col int // of the current record and field, counted from 1
	field    string
	doubt    string // why it cannot be told where the field ends, or empty
}

// nextRecord moves to the next record; false at the end of the text. A line end at the very end opens no record.
func (p *splitter) nextRecord() bool {
	for p.more {
		p.nextField()
	}
	if p.at >= len(p.text) {
		return false
	}
	p.row++
	p.col = 0
	p.more = true
	return true
}

// nextField reads the next field of the record; false when it has no more. A blank line is a record of one empty field.
func (p *splitter) nextField() bool {
	if !p.more {
		return false
	}
	p.col++
	p.doubt = ""
	if p.at < len(p.text) && p.text[p.at] == '"' {
		p.quoted()
	} else {
		from := p.at
		for p.at < len(p.text) && !p.ends(p.at) {
			p.at++
		}
		p.field = p.text[from:p.at]
	}
	switch {
	case p.at >= len(p.text):
		p.more = false
	case p.text[p.at] == p.sep:
		p.at++
	default:
		p.more = false
		p.at++
		if p.text[p.at-1] == '\r' && p.at < len(p.text) && p.text[p.at] == '\n' {
			p.at++
		}
	}
	return true
}

// ends says whether a separator or a line end stands at i.
func (p *splitter) ends(i int) bool {
	c := p.text[i]
	return c == p.sep || c == '\n' || c == '\r'
}

// quoted reads a field that begins with a quotation mark and leaves p.at behind it.
func (p *splitter) quoted() {
	from := p.at + 1
	doubled := false // a doubled mark stands in the field
	lone := false    // a lone mark stands in the field
	end := false     // a separator or line end stands in it, before or behind the lone mark
	for i := from; i < len(p.text); i++ {
		c := p.text[i]
		if c != '"' {
			// A separator before any lone mark is no doubt: the field was plainly opened to hold it. A line end is,
			// because a ditto mark alone in a field opens one too.
			if c == '\n' || c == '\r' || c == p.sep && lone {
				end = true
			}
			continue
		}
		if i+1 < len(p.text) && p.text[i+1] == '"' {
			doubled = true
			i++
			continue
		}
		behind := i + 1
		for behind < len(p.text) && (p.text[behind] == ' ' || p.text[behind] == '\t') && p.text[behind] != p.sep {
			behind++
		}
		if behind < len(p.text) && !p.ends(behind) {
			lone = true
			continue
		}
		p.field = p.text[from:i]
		if doubled {
			p.field = strings.ReplaceAll(p.field, `""`, `"`)
		}
		p.at = behind
		if lone && end {
			p.doubt = "a quotation mark inside this quoted field may be its end or an inch mark"
		}
		return
	}
	p.doubt = "the field opens with a quotation mark that is never closed"
	p.field = p.text[from:]
	p.at = len(p.text)
}
