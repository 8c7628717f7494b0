package bind

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// lines is a list of cuts written as lines of text, one line a row: "12 pcs 1 1/8 x 8 x 10' white ash".
type lines struct {
	of map[int]cutLine // by row
}

// cutLine is one line taken apart, its parts still as written.
type cutLine struct {
	col     int
	whole   string
	size    string
	face    string // the thickness taken from a line above, with its x
	pieces  int
	rest    string // the words left: wood, sawing, note
	problem string // why it can't be read, though it looks like such a line
}

const (
	figure     = `\d+(?:[ -]\d+/\d+|/\d+|\.\d+|,\d+)?`
	sizeUnit   = `(?: ?(?:"|''|″|'|′|mm\b|cm\b|m\b|in\b\.?|inch(?:es)?\b|ft\b\.?|feet\b))?`
	lengthPart = `(?:\d+ ?['′] ?\d+(?:[ -]\d+/\d+)? ?(?:"|''|″)|` + figure + sizeUnit + `)`
)

var (
	lineFace   = regexp.MustCompile(`(?i)` + figure + sizeUnit + ` ?(?:x|×|\*|by) ?` + lengthPart)
	lineSize   = regexp.MustCompile(`(?i)` + figure + sizeUnit + ` ?(?:x|×|\*|by) ?` + figure + sizeUnit + ` ?(?:x|×|\*|by) ?` + lengthPart)
	linePieces = []*regexp.Regexp{
		regexp.MustCompile(`(?i)\(\s*(\d{1,6})\s*(?:pcs?|pieces?|boards?|bds?|ea|each|sticks?)?\.?\s*\)`),
		regexp.MustCompile(`(?i)\b(\d{1,6})\s*(?:pcs?|pieces?|boards?|bds?|ea|each|sticks?)\b\.?(?:\s+of\b)?`),
		regexp.MustCompile(`(?i)\b(?:qty|count|pcs|pieces|quantity)\s*[:=.]?\s*(\d{1,6})\b`),
		regexp.MustCompile(`^\s*(\d{1,6})\s*(?:@|-|–|:|of\b|,|x\b|×)?\s*\x00`), // a bare figure before the size
		regexp.MustCompile(`\x00\s*(?:@|=|:|-|–|,|x\b|×)\s*(\d{1,6})(?:\s|$)`), // a figure after the size, behind a mark
		regexp.MustCompile(`(?:=|:|-|–|,)\s*(\d{1,6})\s*$`),                    // and at the end of the line
	}
	lineFeet = regexp.MustCompile(`(?i)\d[\d.,]*\s*(?:bf|bd\.?\s*ft\.?|board\s+(?:feet|foot)|bft|fbm)\b`) // footage is computed, not read
	spaces   = regexp.MustCompile(`[\s\x{00a0}]+`)
)

// longestLine is how many letters a line of a cut list has at most, and mostLineWords how many words may be left beside
// size and count: longer text is a note.
const (
	longestLine   = 100
	mostLineWords = 7
)

// takeLine takes a row's text apart. ok is false when it does not look like a line of a cut list. thickness is that of a line
// above, such as "White ash 5/4", below which width and length alone make a line; empty when there is none.
func takeLine(row *sheet.Row, thickness string) (cutLine, bool) {
	var parts []string
	l := cutLine{}
	for c := range row.Cells() {
		if cell.Empty(c) {
			continue
		}
		if c.Kind != sheet.Text && c.Kind != sheet.Number {
			return l, false
		}
		if l.col == 0 {
			l.col = c.Col
		}
		parts = append(parts, strings.TrimSpace(c.Text))
	}
	l.whole = spaces.ReplaceAllString(strings.Join(parts, " , "), " ")
	l.whole = strings.NewReplacer("’", "'", "”", "\"", "“", "\"", " , ,", " ,").Replace(l.whole)
	if len([]rune(l.whole)) > longestLine || len(parts) > 4 {
		return l, false
	}
	sizes := lineSize.FindAllStringIndex(l.whole, 2)
	if len(sizes) == 0 && thickness != "" {
		if sizes = lineFace.FindAllStringIndex(l.whole, 2); len(sizes) > 0 {
			l.face = thickness + " x "
		}
	}
	if len(sizes) == 0 {
		return l, false
	}
	from, to := sizes[0][0], sizes[0][1]
	l.size = l.face + l.whole[from:to]
	rest := lineFeet.ReplaceAllString(l.whole[:from]+"\x00"+l.whole[to:], " ")
	counts := 0
	for _, form := range linePieces {
		if m := form.FindStringSubmatchIndex(rest); m != nil {
			n, err := strconv.Atoi(rest[m[2]:m[3]])
			if err != nil {
				continue
			}
			mark := ""
			if strings.Contains(rest[m[0]:m[1]], "\x00") {
				mark = "\x00"
			}
			l.pieces = n
			counts++
			rest = rest[:m[0]] + " " + mark + " " + rest[m[1]:]
		}
	}
	l.rest = strings.Trim(spaces.ReplaceAllString(strings.NewReplacer("\x00", " ", "@", " ", "=", " ", "(", " ", ")", " ").Replace(rest), " "), " ,;:-–")
	l.rest = strings.TrimPrefix(l.rest, "of ")
	if len(strings.Fields(l.rest)) > mostLineWords {
		return l, false
	}
	switch {
	case len(sizes) > 1:
		l.problem = "it holds more than one size"
	case counts > 1:
		l.problem = "it holds more than one number of pieces"
	case strings.ContainsAny(l.rest, "0123456789"):
		l.problem = "a figure in it is neither size nor number of pieces"
	}
	return l, true
}

// leastLines is how many lines make a list where the sheet does not speak of the saw.
const leastLines = 2

// findLines looks for lines of a cut list outside the tables of a sheet.
func (b *binder) findLines(s *sheet.Sheet, rs []region) (region, bool) {
	table := tableOf(compute.KindCuts)
	r := region{table: table, firstCol: 1, lastCol: sheet.LastCol, lines: &lines{of: map[int]cutLine{}}}
	if !slices.ContainsFunc(s.Rows, func(row sheet.Row) bool {
		return !inside(rs, row.Number) && row.Has(func(c sheet.Cell) bool { return c.Kind == sheet.Text && lineFace.MatchString(c.Text) })
	}) {
		return r, false // no size outside the tables: names of woods need not be looked for
	}
	thickness := ""
	for i := range s.Rows {
		row := &s.Rows[i]
		if inside(rs, row.Number) || !hasContent(row) {
			continue
		}
		if _, t, ok := b.lineHeading(row); ok {
			thickness = t
			continue
		}
		if l, ok := takeLine(row, thickness); ok {
			if r.headFirst == 0 {
				r.headFirst = row.Number
				r.title = titleAbove(s, i)
			}
			r.lines.of[row.Number] = l
			r.until = row.Number
		}
	}
	r.headLast = r.headFirst - 1
	n := len(r.lines.of)
	return r, n >= leastLines || n > 0 && (speaksFor(table, s.Name) || speaksFor(table, r.title))
}

// lineHeading reads a line that is nothing but a wood's name, with a thickness or without: it holds for the lines below it.
func (b *binder) lineHeading(row *sheet.Row) (name, thickness string, ok bool) {
	if filledIn(row) != 1 {
		return "", "", false
	}
	c := firstText(row)
	if c.Kind != sheet.Text || len(c.Text) > longestHeading {
		return "", "", false
	}
	var words []string
	for _, w := range strings.Fields(strings.NewReplacer(",", " ", ":", " ", ";", " ", "(", " ", ")", " ", "–", " ").Replace(c.Text)) {
		if thickness == "" && thicknessLike.MatchString(w) {
			thickness = w
			continue
		}
		if w != "-" {
			words = append(words, w)
		}
	}
	name = strings.Trim(strings.Join(words, " "), " .")
	return name, thickness, name != "" && len(words) <= mostSpeciesWords && b.woodOf(name)
}

// readLines makes a cut of every line.
func (b *binder) readLines(r region) {
	if wanted := tableOf(compute.KindWanted); speaksFor(wanted, b.sheet.Name) && !sawSheet(b.sheet.Name) {
		for row := range r.lines.of {
			b.fate(row, r.table.Kind, compute.SetAside, "wanted pieces as lines of text")
		}
		b.say("T040", b.at(r.headFirst, 0), "", "put them under headings: piece, species, thickness, width, length, pieces",
			"%s of text look like wanted pieces; these are read from columns only", plural(len(r.lines.of), "line"))
		return
	}
	b.say("T039", b.at(r.headFirst, 0), "", "nothing to do if these are boards from the saw; else put them under headings",
		"%s of text from here on were read as boards from the saw", plural(len(r.lines.of), "line"))
	var over wood.Species
	if r.title != "" {
		if words := strings.Fields(r.title); len(words) > 0 {
			if _, _, ok := b.speciesWords(words); ok {
				over = b.factsIn(r.title, b.at(r.headFirst, 0)).species
			}
		}
	}
	s := newSums(r)
	pieces := &sum{}
	s.counts[0] = pieces
	for i := range b.sheet.Rows {
		row := &b.sheet.Rows[i]
		if _, _, heading := b.lineHeading(row); row.Number < r.headFirst && !heading || row.Number > r.until+2 || !hasContent(row) || inside(b.regions, row.Number) {
			continue
		}
		l, ok := r.lines.of[row.Number]
		if !ok {
			b.betweenLines(row, &over, s)
			continue
		}
		if l.problem == "" {
			pieces.since += l.pieces
			pieces.all += l.pieces
		} else {
			pieces.bad, pieces.badAll = true, true
		}
		if why := b.readLine(row, l, over); why != "" {
			b.fate(row.Number, r.table.Kind, compute.SetAside, why)
			continue
		}
		b.fate(row.Number, r.table.Kind, compute.Used, "")
	}
}

// sawSheet reports whether a sheet's name speaks of the saw apart from the words "cut list", which may mean either.
func sawSheet(name string) bool {
	words, _ := headingWords(name)
	words = strings.ReplaceAll(" "+words+" ", " cut list ", " ")
	return speaksFor(tableOf(compute.KindCuts), words) || words == " "
}

// betweenLines deals with a row between the lines of a cut list: a wood's name that holds for what follows, a total, or a
// note; a row with figures that is none of these is said.
func (b *binder) betweenLines(row *sheet.Row, over *wood.Species, s *sums) {
	if b.fateOf(row.Number).claimed {
		return
	}
	var cells []sheet.Cell
	for c := range row.Cells() {
		if !cell.Empty(c) || c.NoResult {
			cells = append(cells, c)
		}
	}
	if len(cells) == 0 {
		return
	}
	name, _, heading := b.lineHeading(row)
	switch {
	case heading:
		*over, _ = b.speciesOf(name, b.at(row.Number, cells[0].Col))
		b.fate(row.Number, compute.KindCuts, compute.NotData, "heading")
	case slices.ContainsFunc(cells, func(c sheet.Cell) bool { return c.Kind == sheet.Text && totalWord(c.Text) }):
		b.fate(row.Number, compute.KindCuts, compute.NotData, "total")
		b.checkSums(s, cells)
	case slices.ContainsFunc(cells, func(c sheet.Cell) bool { return strings.ContainsAny(c.Text, "0123456789") || c.NoResult }):
		b.say("T040", b.at(row.Number, cells[0].Col), cells[0].Text, "write number of pieces, thickness x width x length, and wood: 12 pcs 1x8x10' white ash", "this line stands among boards from the saw but can't be read as one")
		b.fate(row.Number, compute.KindCuts, compute.SetAside, "line not readable")
	default:
		b.fate(row.Number, compute.KindCuts, compute.NotData, "note")
	}
}

// readLine makes the cut of one line.
func (b *binder) readLine(row *sheet.Row, l cutLine, over wood.Species) string {
	at := b.at(row.Number, l.col)
	hint := "write number of pieces, thickness x width x length, and wood: 12 pcs 1x8x10' white ash"
	refuse := func(why string) string {
		b.say("T040", at, l.whole, hint, "this line can't be read as boards from the saw: %s", why)
		return "line not readable"
	}
	if l.problem != "" {
		return refuse(l.problem)
	}
	v := &rowValues{bad: map[string]bool{}, filled: map[string]bool{}, origin: b.origin(row.Number)}
	for _, name := range []string{"size", "species", "pieces", "green thickness", "green width", "length"} {
		v.setCol(name, l.col)
	}
	size, ok := b.read(sheet.Cell{Row: row.Number, Col: l.col, Kind: sheet.Text, Text: l.size}, column{col: l.col}, Field{Name: "size", What: aSize})
	if !ok {
		return "size not readable"
	}
	if size.size.Thickness > size.size.Width {
		return refuse("it would be thicker than wide; a bare number of pieces may stand before the size")
	}
	v.set("size", size)
	if l.pieces > 0 {
		v.set("pieces", value{count: l.pieces})
	}
	words := strings.Fields(strings.NewReplacer(",", " ", ";", " ").Replace(l.rest))
	if from, to, found := b.speciesWords(words); found {
		name := strings.Trim(strings.Join(words[from:to], " "), ".,;:-")
		sp, ok := b.speciesOf(name, at)
		if !ok {
			return "species not readable"
		}
		v.set("species", value{species: sp})
		words = slices.Delete(slices.Clone(words), from, to)
	} else if over.Name != "" {
		v.set("species", value{species: over})
	} else if len(words) > 0 {
		b.speciesOf(strings.Join(words, " "), at)
		return "species not readable"
	}
	if left := strings.Join(words, " "); left != "" {
		if s, ok := sawingOf(left); ok {
			v.set("sawing", value{sawing: s})
		} else {
			v.set("note", value{text: left})
		}
	}
	b.fillLoad(region{table: tableOf(compute.KindCuts)}, v)
	return b.makeCut(v)
}
