package delim

import (
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// separators are tried in this order; the first of equals wins. A tab is hardly ever part of a text, a comma often is.
const separators = "\t;|,"

// separator finds what parts the fields and returns the text without a first line sep=.
func separator(file, text string) (byte, string, error) {
	if sep, rest, ok := named(text); ok {
		if len(sep) == 1 && strings.Contains(separators, sep) {
			return sep[0], rest, nil
		}
		return 0, "", sheet.Refuse(finding.FileSeparator, file, "", "the first line names the separator %q, which is not a comma, semicolon, tab or upright stroke", sep)
	}
	var best score
	for _, sep := range []byte("\t;|") {
		if s := weigh(text, sep); s.better(best) {
			best = s
		}
	}
	comma := weigh(text, ',')
	comma.split -= best.decimals // records whose commas are explained as decimal commas
	if best.split == 0 || comma.better(best) {
		best = comma
	}
	return best.sep, text, nil
}

// named reads a first line such as sep=; which some programs write for others.
func named(text string) (sep, rest string, ok bool) {
	end := strings.IndexAny(text, "\r\n")
	if end < 0 {
		end = len(text)
	}
	line := text[:end]
	if n := len(line); n >= 2 && line[0] == '"' && line[n-1] == '"' {
		line = line[1 : n-1]
	}
	if len(line) < 4 || !strings.EqualFold(line[:4], "sep=") {
		return "", text, false
	}
	rest = text[end:]
	if strings.HasPrefix(rest, "\r\n") {
		rest = rest[2:]
	} else if rest != "" {
		rest = rest[1:]
	}
	return line[4:], rest, true
}

// score says how well a separator cuts a text.
type score struct {
	sep      byte
	split    int // records cut into two fields or more
	usual    int // records with the number of fields most records have, two or more
	decimals int // cut records with a comma in them, where every comma stands between two digits
}

// better compares first how many records are cut, then how evenly. That the whole file is looked at keeps a title or a
// note with a comma in it from deciding.
func (s score) better(than score) bool {
	if s.split != than.split {
		return s.split > than.split
	}
	return s.usual > than.usual
}

// weigh cuts the text with one separator.
func weigh(text string, sep byte) score {
	s := score{sep: sep}
	if strings.IndexByte(text, sep) < 0 {
		return s
	}
	counts := map[int]int{}
	p := splitter{text: text, sep: sep}
	// Past the limit the file is refused anyway, and looking on would only take time.
	for p.nextRecord() && p.row <= sheet.MaxRows {
		commas, plain := 0, 0
		for p.nextField() {
			if sep != ',' {
				all, decimal := countCommas(p.field)
				commas, plain = commas+all, plain+decimal
			}
		}
		if p.col < 2 {
			continue
		}
		s.split++
		if counts[p.col]++; counts[p.col] > s.usual {
			s.usual = counts[p.col]
		}
		if commas > 0 && commas == plain {
			s.decimals++
		}
	}
	return s
}

// countCommas counts the commas of a field, and those that stand between two digits.
func countCommas(field string) (all, decimal int) {
	for i := 0; ; i++ {
		n := strings.IndexByte(field[i:], ',')
		if n < 0 {
			return all, decimal
		}
		i += n
		all++
		if i > 0 && i+1 < len(field) && isDigit(field[i-1]) && isDigit(field[i+1]) {
			decimal++
		}
	}
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
