package bind

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// titleReach is how many rows above a heading may belong to its title.
const titleReach = 4

// titleAbove joins the text of the rows just above row i that hold at most two cells.
func titleAbove(s *sheet.Sheet, i int) string { return titleText(s, i, 0, 1<<30) }

// titleOver is titleAbove for one block of columns.
func titleOver(s *sheet.Sheet, i int, block []heading) string {
	return titleText(s, i, block[0].col, block[len(block)-1].col)
}

func titleText(s *sheet.Sheet, i, from, to int) string {
	var parts []string
	for k := i - 1; k >= 0 && k >= i-titleReach; k-- {
		var texts []string
		for c := range s.Rows[k].Cells() {
			if c.Col < from || c.Col > to || cell.Empty(c) || aboutLine(c.Text) {
				continue
			}
			switch {
			case c.Kind == sheet.Text:
				texts = append(texts, c.Text)
			case c.Kind == sheet.Number && len(texts) == 1 && s.Rows[k].Len() <= 2:
				texts = append(texts, c.Text) // Load | 14
			default:
				return strings.Join(parts, " ")
			}
		}
		if len(texts) > 2 {
			break
		}
		parts = append(texts, parts...)
	}
	return strings.Join(parts, " ")
}

// aboutLine reports whether a text is the line of a blank workbook that says what its sheet is for: it names no load, and
// speaks for no kind but that of its sheet's name.
func aboutLine(s string) bool {
	return slices.ContainsFunc(Tables, func(t Table) bool { return t.About == s })
}

// loadWord finds what is named as a load: "Load K3", "charge no. 7", "kiln load: 12". The name holds a digit.
var loadWord = regexp.MustCompile(`(?i)\b(?:load|charge|batch|kiln\s+run)\b[\s:#=]*(?:(?:no|nr|number)\b[\s.:#]*)?([\pL\d][\pL\d.\-/]*)`)

// dateLike is a year or a date, which names no load: "load 2026", "load 5/14/26".
var dateLike = regexp.MustCompile(`^(?:19|20)\d\d\b|^\d{1,2}[-/.]\d{1,2}\b`)

// loadIn gives the load that a title or the name of a sheet names, or "" when it names none or more than one.
func (b *binder) loadIn(text string) string {
	var named []string
	add := func(id string) {
		for _, n := range named {
			if compute.SameID(n, id) {
				return
			}
		}
		named = append(named, id)
	}
	for _, m := range loadWord.FindAllStringSubmatch(text, -1) {
		id := strings.TrimRight(m[1], ".-/")
		known := slices.ContainsFunc(b.job.Loads, func(l compute.Load) bool { return compute.SameID(l.ID, id) })
		if known || strings.ContainsAny(id, "0123456789") && !dateLike.MatchString(id) {
			add(b.knownLoad(id))
		}
	}
	if len(named) == 0 {
		for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,:;()[]_\t\n", r) }) {
			for _, l := range b.job.Loads {
				// A number alone is no load's name without the word before it.
				if strings.EqualFold(w, l.ID) && !isDigits(w) {
					add(l.ID)
				}
			}
		}
	}
	if len(named) != 1 {
		return ""
	}
	return named[0]
}

// knownLoad gives the loads sheet's writing of a load's name, or the name itself.
func (b *binder) knownLoad(id string) string {
	for _, l := range b.job.Loads {
		if compute.SameID(l.ID, id) {
			return l.ID
		}
	}
	return id
}

// loadOver gives the load of a region's rows that name none: the one its title names, else the one its sheet names. from
// says which, for the message.
func (b *binder) loadOver(r region) (load, from string) {
	if r.title != "" {
		if l := b.loadIn(r.title); l != "" {
			return l, "the title"
		}
	}
	if l := b.loadIn(b.sheet.Name); l != "" {
		if b.book.CSV {
			return l, "the file's name"
		}
		return l, "the sheet's name"
	}
	return "", ""
}

// titleFacts is what the title of a piece tally or of a list in lines says of all its rows.
type titleFacts struct {
	species   wood.Species
	thickness units.Length
	text      string // the title without wood and thickness
}

// factsIn looks for a wood and a thickness in a title. What it finds about the wood it says at the place given.
func (b *binder) factsIn(title string, at finding.Place) titleFacts {
	facts := titleFacts{text: title}
	words := strings.Fields(title)
	if from, to, ok := b.speciesWords(words); ok {
		name := strings.Trim(strings.Join(words[from:to], " "), ".,;:()")
		facts.species, _ = b.speciesOf(name, at)
		words = slices.Delete(slices.Clone(words), from, to)
	}
	for n := min(3, len(words)); n >= 1 && facts.thickness == 0; n-- {
		for i := 0; i+n <= len(words); i++ {
			text := strings.Trim(strings.Join(words[i:i+n], " "), ",;:()")
			if !thicknessLike.MatchString(text) {
				continue
			}
			ls, ps := cell.Thickness(sheet.Cell{Kind: sheet.Text, Text: text}, b.context("green thickness", cell.UnitNone, b.smallUnit()))
			if len(ps) == 0 && len(ls) == 1 {
				facts.thickness = ls[0]
				words = slices.Delete(slices.Clone(words), i, i+n)
				break
			}
		}
	}
	facts.text = strings.Join(words, " ")
	return facts
}

// thicknessLike tells a thickness in running text by its quarter, its mark or its unit, so that no date or count is taken.
var thicknessLike = regexp.MustCompile(`^(?:\d{1,2}/4|\d{1,2}(?:[ -]\d+/\d+|\.\d+|/\d+)? ?(?:"|''|″|in\.?|inch|inches)|\d{2,3} ?mm)$`)

// mostSpeciesWords is how many words the name of a wood has at most.
const mostSpeciesWords = 4

// speciesWords finds the longest run of words that names a wood, or several it may be.
func (b *binder) speciesWords(words []string) (from, to int, ok bool) {
	for n := min(mostSpeciesWords, len(words)); n >= 1; n-- {
		for i := 0; i+n <= len(words); i++ {
			text := strings.Trim(strings.Join(words[i:i+n], " "), ".,;:()")
			if len(text) < 2 || strings.ContainsAny(text, "0123456789=") {
				continue
			}
			if b.woodOf(text) {
				return i, i + n, true
			}
		}
	}
	return 0, 0, false
}

// tempIn finds a wood temperature in a title: "wood at 66 F".
func (b *binder) tempIn(title string) units.Temperature {
	f := strings.Fields(strings.NewReplacer("°", " ", ",", " ", ";", " ").Replace(title))
	for i, w := range f {
		n, unit := w, ""
		if i+1 < len(f) {
			unit = f[i+1]
		}
		if k := strings.TrimRight(w, "FCfc"); k != w && isNumber(k) {
			n, unit = k, w[len(k):]
		}
		if x, err := strconv.ParseFloat(n, 64); err == nil {
			switch strings.ToUpper(unit) {
			case "F":
				return units.Fahrenheit(x)
			case "C":
				return units.Celsius(x)
			}
		}
	}
	return units.Temperature{}
}

func isNumber(s string) bool { _, err := strconv.ParseFloat(s, 64); return err == nil }
