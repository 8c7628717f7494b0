package report

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"drytally/compute/units"
)

// book is a workbook in the making. The first error stays and stops the rest.
type book struct {
	f      *excelize.File
	styles map[string]int
	sheets []string           // names of the sheets written, in order
	widths map[string]float64 // of each sheet, in characters
	rows   map[string]*rowsOf // of each sheet
	texts  textTable
	links  int
	notes  int
	err    error
}

func newBook() *book {
	return &book{f: excelize.NewFile(), styles: map[string]int{}, widths: map[string]float64{}, rows: map[string]*rowsOf{}}
}

func (b *book) keep(err error) {
	if b.err == nil {
		b.err = err
	}
}

// What a cell can hold besides text, whole numbers and moisture contents. nil leaves it empty.
type (
	bookInches  units.Length // decimal inches
	bookMM      units.Length
	bookDay     time.Time
	bookMoment  time.Time // date and time
	bookShare   float64   // 0..1, shown in percent
	bookDecimal float64   // shown with two decimals
	bookNumber  float64   // shown with the digits it has
	bookProse   string    // text that runs over lines
	bookLink    struct{ text, target string }
	bookJump    string // name of a sheet of this book, with a link to it
)

// The number formats of the book.
var bookFormats = map[string]string{
	"text": "@", "prose": "@", "title": "@", "strong": "@", "strong right": "@", "link": "@", "heading": "@", "heading right": "@",
	"whole": "0", "mc": "0.0", "mc2": "0.00", "inches": "0.000", "mm": "0.0##", "decimal": "0.00", "number": "General", "share": "0.0%",
	"day": "yyyy-mm-dd", "moment": "yyyy-mm-dd hh:mm",
}

// style gives the number of a named look, made when first asked for. Every text has the number format of text, so that it
// stays text when its cell is edited; the look "quoted" carries the mark of a typed apostrophe as well.
func (b *book) style(name string) int {
	if id, ok := b.styles[name]; ok {
		return id
	}
	format, quoted := strings.CutSuffix(name, " quoted")
	code := bookFormats[format]
	s := &excelize.Style{Font: &excelize.Font{Family: "Liberation Sans", Size: 10}, CustomNumFmt: &code,
		Alignment: &excelize.Alignment{Vertical: "top"}}
	base, right := strings.CutSuffix(format, " right")
	if code == "@" {
		// Text stands a little off the number to its left.
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	}
	if right {
		s.Alignment.Horizontal, s.Alignment.Indent = "right", 0
	}
	switch base {
	case "title":
		s.Font.Size, s.Font.Bold = 14, true
	case "strong":
		s.Font.Bold = true
	case "heading":
		s.Font.Bold = true
		s.Border = []excelize.Border{{Type: "bottom", Style: 2, Color: "000000"}}
		s.Alignment.WrapText, s.Alignment.Vertical = true, "bottom"
	case "prose":
		s.Alignment.WrapText = true
	case "link":
		s.Font.Underline = "single"
	}
	id, err := b.f.NewStyle(s)
	b.keep(err)
	if quoted && err == nil {
		// A style of its own: the plain one of the same look must not get the mark.
		yes := true
		xf := b.f.Styles.CellXfs.Xf[id]
		xf.QuotePrefix = &yes
		b.f.Styles.CellXfs.Xf = append(b.f.Styles.CellXfs.Xf, xf)
		b.f.Styles.CellXfs.Count = len(b.f.Styles.CellXfs.Xf)
		id = len(b.f.Styles.CellXfs.Xf) - 1
	}
	b.styles[name] = id
	return id
}

// put writes a cell.
func (b *book) put(sheet string, col, row int, value any) {
	if b.err != nil || value == nil {
		return
	}
	switch v := value.(type) {
	case string:
		b.text(sheet, col, row, v, "text")
	case bookProse:
		b.text(sheet, col, row, string(v), "prose")
	case bookJump:
		b.text(sheet, col, row, string(v), "link")
		b.keep(b.f.SetCellHyperLink(sheet, cellName(col, row), "'"+string(v)+"'!A1", "Location"))
	case bookLink:
		b.link(sheet, col, row, v)
	case bool:
		if v {
			b.text(sheet, col, row, "yes", "text")
		}
	case int:
		b.number(sheet, col, row, float64(v), "whole")
	case units.MC:
		style := "mc"
		if v%10 != 0 {
			style = "mc2"
		}
		b.number(sheet, col, row, v.Percent(), style)
	case bookInches:
		b.number(sheet, col, row, math.Round(units.Length(v).Inches()*1e6)/1e6, "inches") // a 64th has six decimals
	case bookMM:
		b.number(sheet, col, row, math.Round(units.Length(v).Millimetres()*1e3)/1e3, "mm")
	case bookShare:
		b.number(sheet, col, row, float64(v), "share")
	case bookDecimal:
		b.number(sheet, col, row, float64(v), "decimal")
	case bookNumber:
		b.number(sheet, col, row, float64(v), "number")
	case bookDay:
		b.day(sheet, col, row, time.Time(v), "day")
	case bookMoment:
		b.day(sheet, col, row, time.Time(v), "moment")
	default:
		panic(fmt.Sprintf("report: results.xlsx has no way to write a %T", value))
	}
}

// Heights of rows, in points; a row cannot be higher than highestRow.
const (
	lineHeight = 12.5
	highestRow = 409
)

// height makes a row high enough for so many lines of text: not every program does that by itself.
func (b *book) height(sheet string, row, lines int) {
	if lines > 1 && b.err == nil {
		b.rows[sheet].row(row).height = min(highestRow, float64(lines)*lineHeight+2)
	}
}

// linesOf is about how many lines a text takes in a column of so many digits' width, on the safe side.
func linesOf(s string, width float64) int {
	const (
		indent = 2    // what the indent takes
		letter = 1.15 // letters of ordinary words that take the room of a digit
	)
	most, n := int(width*letter)-indent, 0
	for _, line := range strings.Split(s, "\n") {
		n++
		used := 0
		for _, word := range strings.Fields(line) {
			w := utf8.RuneCountInString(word)
			if used > 0 && used+1+w > most {
				n++
				used = 0
			}
			if used > 0 {
				used++
			}
			used += w
		}
	}
	return n
}

// cellName names a cell; its numbers are always ours and valid.
func cellName(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		panic(err)
	}
	return name
}

// escaped is how a workbook writes letters that XML cannot hold; a text that happens to look like it must not be read as
// one, so its underscore is written that way itself (ECMA-376 Part 1, 22.9.2.19; memory).
var escaped = regexp.MustCompile(`_x[0-9a-fA-F]{4}_`)

// text writes a text as a text, whatever it begins with.
func (b *book) text(sheet string, col, row int, s, style string) {
	s = bookText(s)
	if s == "" || b.err != nil {
		return
	}
	if strings.ContainsRune("=+-@", rune(s[0])) {
		style += " quoted"
	}
	if strings.Contains(s, "_x") {
		s = escaped.ReplaceAllString(s, "_x005F$0")
	}
	b.rows[sheet].text(col, row, b.style(style), b.texts.of(s))
}

// number writes a number, and words where there is none to write.
func (b *book) number(sheet string, col, row int, x float64, style string) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		b.text(sheet, col, row, "not a number", "text")
		return
	}
	if b.err == nil {
		b.rows[sheet].number(col, row, b.style(style), x)
	}
}

// firstDay is the first day whose number every spreadsheet program counts alike: some take 1900 for a leap year.
var firstDay = time.Date(1900, time.March, 1, 0, 0, 0, 0, time.UTC)

// day writes a date as the day number a spreadsheet shows as a date, counted from 30 December 1899.
func (b *book) day(sheet string, col, row int, t time.Time, style string) {
	switch {
	case t.IsZero():
	case t.Before(firstDay) || t.Year() > 9999:
		b.text(sheet, col, row, jsISO(t), "text")
	default:
		y, m, d := t.Date()
		days := time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)) / (24 * time.Hour)
		seconds := t.Hour()*3600 + t.Minute()*60 + t.Second()
		// Some programs keep 15 digits of a cell, cut off, and not every one rounds what it shows: ten o'clock would read 09:59. The tenth
		// decimal of a day is a hundredth of a millisecond; rounded up there, the time is never a hair too early.
		const tenth = 1e10
		b.number(sheet, col, row, math.Ceil((float64(days)+float64(seconds)/86400)*tenth)/tenth, style)
	}
}

// mostLinks is how many links the book gives: past that a person looks at the sheet itself, and the writer slows down.
const mostLinks = 2000

func (b *book) link(sheet string, col, row int, l bookLink) {
	if l.target == "" || b.links >= mostLinks {
		b.text(sheet, col, row, l.text, "text")
		return
	}
	b.links++
	b.text(sheet, col, row, l.text, "link")
	if b.err == nil {
		b.keep(b.f.SetCellHyperLink(sheet, cellName(col, row), l.target, "External"))
	}
}

// mostNotes is how many notes the book hangs: the sheet of findings has them all.
const mostNotes = 2000

// note hangs a note on a cell.
func (b *book) note(sheet string, col, row int, s string) {
	if b.notes++; b.err == nil && b.notes <= mostNotes {
		b.keep(b.f.AddComment(sheet, excelize.Comment{Cell: cellName(col, row), Author: "drytally", Text: escaped.ReplaceAllString(bookText(s), "_x005F$0"), Width: 320, Height: 120}))
	}
}

// sheet adds a sheet with the column widths given, in characters.
func (b *book) sheet(name string, widths []float64) {
	if b.err != nil {
		return
	}
	if len(b.sheets) == 0 {
		b.keep(b.f.SetSheetName(b.f.GetSheetName(0), name))
	} else {
		_, err := b.f.NewSheet(name)
		b.keep(err)
	}
	b.sheets = append(b.sheets, name)
	b.rows[name] = &rowsOf{widths: widths}
	for _, w := range widths {
		b.widths[name] += w
	}
}

// mostInCell is how many UTF-16 units a cell can hold (ECMA-376 leaves it open; spreadsheet programs stop there).
const mostInCell = 32_767

// bookText makes a text fit for a cell: what XML cannot hold is shown by its own sign, and what is too long for a cell is
// cut with words that say so.
func bookText(s string) string {
	s = shown(strings.ReplaceAll(s, "\r\n", "\n"), "\n\t")
	const cut = " ... (cut here: a cell holds no more; results.json has all of it)"
	length, at := 0, len(s)
	for i, r := range s {
		n := 1
		if r > 0xFFFF {
			n = 2
		}
		if length+n <= mostInCell-len(cut) {
			at = i + utf8.RuneLen(r)
		}
		length += n
	}
	if length > mostInCell {
		return s[:at] + cut
	}
	return s
}

// shown puts a visible sign in the place of every control character that is not in keep, and of what is no letter at all.
// Nothing a sheet holds can so steer a screen or break a file.
func shown(s, keep string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case strings.ContainsRune(keep, r):
			return r
		case r < 0x20:
			return 0x2400 + r // the signs for control characters: ␀ ␁ ...
		case r == 0x7F:
			return 0x2421 // ␡
		case r >= 0x80 && r < 0xA0, r == 0xFFFE, r == 0xFFFF:
			return utf8.RuneError
		}
		return r
	}, s)
}
