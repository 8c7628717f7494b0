package bind

import (
	"regexp"
	"slices"
	"strings"

	"drytally/ingest/sheet"
)

var (
	pointInFigure = regexp.MustCompile(`(\d)\.(\d)`)
	exampleParts  = regexp.MustCompile(`, | or `)
	// exampleList is where a hint says how something is written: write it like A, B or C; such as A.
	exampleList = regexp.MustCompile(`\b((?:like|such as|it as|them as) )(.*?\d.*?)(; .*|, or (?:leave|as) .*)?$`)
)

// commaInFigures writes the figures of a hint as the file writes its own: 11,375.
func commaInFigures(hint string) string {
	return strings.ReplaceAll(pointInFigure.ReplaceAllString(hint, "$1,$2"), "with a point", "with a comma")
}

// keepTrueExamples leaves in the hints of a cell just read only those examples that would be read in its place: the length of a
// board is none for its thickness, and a point is none where a comma is the mark of decimals.
func (b *binder) keepTrueExamples(said int, c sheet.Cell, k column, f Field) {
	for i := said; i < len(b.job.Findings); i++ {
		m := exampleList.FindStringSubmatch(b.job.Findings[i].Hint)
		if m == nil {
			continue
		}
		head := strings.TrimSuffix(b.job.Findings[i].Hint, m[0])
		examples := slices.DeleteFunc(exampleParts.Split(m[2], -1), func(text string) bool { return !b.wouldRead(text, c, k, f) })
		if len(examples) == 0 { // what stands there is of another kind: say how this one is written
			head, m[1], m[3] = "", "write it like ", ""
			examples = slices.DeleteFunc(slices.Clone(spellings[f.What]), func(text string) bool {
				return !b.wouldRead(b.inFile(text), c, k, f)
			})
		}
		b.job.Findings[i].Hint = "correct the cell"
		if len(examples) > 0 {
			for at := range examples {
				examples[at] = b.inFile(examples[at])
			}
			b.job.Findings[i].Hint = head + m[1] + either(examples[:min(len(examples), mostExamples)]) + m[3]
		}
	}
}

// mostExamples is how many examples a hint gives.
const mostExamples = 4

// spellings are sound ways to write the quantities, for hints that have none of their own.
var spellings = map[quantity][]string{
	aThickness:   {"1 1/8", "5/4", "28 mm"},
	aLength:      {"6 1/4", "160 mm", "1/8", "3 mm"},
	aRun:         {`8' 6"`, "96 in", "2400 mm"},
	aSpan:        {"12 ft", "3.6 m"},
	aSize:        {"1 x 12 x 10'", "25 x 150 x 3000 mm"},
	aReading:     {"9.5", "LO", "OL"},
	aDate:        {"2026-11-24", "24 Nov 2026"},
	aTemperature: {"60 F", "15 C"},
	aHumidity:    {"45 %"},
	anMC:         {"8 %"},
	aShare:       {"10 %", "2 %"},
	aMass:        {"4600 g", "4.6 kg", "10 lb"},
	aBurden:      {"3500 lb", "1600 kg"},
	aCount:       {"12"},
	anArea:       {"40 m2", "400 sq ft"},
	aPrice:       {"4.50 USD per board foot", "900 USD per 1000 board feet", "900 USD per cubic metre"},
	aPriceBF:     {"4.50 USD"},
	aSum:         {"310 USD"},
	aMonth:       {"1", "Jan"},
}

// inFile writes an example as the file writes its figures and money.
func (b *binder) inFile(text string) string {
	if own := b.job.Settings.Currency; own != "" {
		text = strings.ReplaceAll(text, " USD", " "+own)
	}
	if b.book.DecimalComma {
		return commaInFigures(text)
	}
	return text
}

// wouldRead reports whether a text would be read in the place of a cell without a finding.
func (b *binder) wouldRead(text string, c sheet.Cell, k column, f Field) bool {
	said := len(b.job.Findings)
	b.trying = true
	defer func() { b.trying = false }()
	c = sheet.Cell{Row: c.Row, Col: c.Col, Kind: sheet.Text, Text: text}
	_, ok := b.readCell(c, k, f)
	ok = ok && len(b.job.Findings) == said
	b.job.Findings = b.job.Findings[:said]
	return ok
}
