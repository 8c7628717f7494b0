// Package blank makes the workbook a sawyer fills in: one sheet for every kind of table, drawn from the table of fields that
// the reader reads by (ingest/bind). It can be empty, or carry over what is still open in an earlier workbook.
package blank

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"drytally/compute/units"
	"drytally/ingest/bind"
	"drytally/templates"
)

// filling is what goes into the sheets besides their headings.
type filling struct {
	system   units.System
	settings map[string]string // by name
	aliases  []string          // the owner's own names for woods
	written  bind.Written
	last     string // the workbook it is carried over from
	left     string // its rows of cuts that were left behind
}

// Make makes an empty workbook for figures in a system of units: Letter paper with inches, A4 with millimetres. The same call
// gives the same bytes.
func Make(system units.System) ([]byte, error) {
	f := filling{system: system, settings: map[string]string{}}
	if system == units.Metric {
		f.settings["units"], f.settings["paper"] = "metric", "A4"
	}
	return f.make()
}

const (
	readMeSheet   = "Read me"
	settingsSheet = "Settings"
	listsSheet    = "Lists"
	listsTop      = 3 // the row of the first list
)

const (
	titleRow = 1
	aboutRow = 2
	headRow  = 4
	firstRow = 5    // of what is filled in
	pageWide = 130  // characters of columns that fill a page laid on its side
	lines    = 27   // rows drawn to be filled in on a page of that width
	spare    = 20   // rows drawn below what is carried over
	offered  = 2000 // the last row that has drop-down lists
)

// The numbers of paper sizes are those of the file format (ECMA-376 Part 1, 18.3.1.63; memory).
const paperLetter, paperA4 = 1, 9

func itoa(n int) string { return strconv.Itoa(n) }

// sheetName gives the name of the sheet of a kind.
func sheetName(kind string) string { return strings.ToUpper(kind[:1]) + kind[1:] }

func (f filling) make() ([]byte, error) {
	b := newBook()
	defer b.f.Close()
	paper := paperLetter
	if strings.EqualFold(f.settings["paper"], "A4") {
		paper = paperA4
	}
	if err := f.readMe(b, paper); err != nil {
		return nil, err
	}
	f.settingsSheet(b, paper)
	for _, form := range bind.Forms(f.system, f.written.Columns, f.aliases) {
		f.formSheet(b, form, paper)
	}
	listed(b)
	if b.err == nil {
		b.f.SetActiveSheet(0)
	}
	data, err := b.bytes()
	if err != nil {
		return nil, fmt.Errorf("the workbook can't be made: %w", err)
	}
	return data, nil
}

// readMe writes the first page: how the workbook is filled in, and what each sheet is for.
func (f filling) readMe(b *book, paper int) error {
	other := "289 mm, 15 C, 4.6 kg"
	if f.system == units.Metric {
		other = `11 3/8", 60 F, 10 lb`
	}
	_, paragraphs, err := templates.Blank(map[string]string{"other": other, "last": f.last, "left": f.left})
	if err != nil {
		return err
	}
	const wide = 84
	b.sheet(readMeSheet, []int{wide})
	b.put(readMeSheet, 1, 1, bind.ReadMeTitle, "title")
	b.height(readMeSheet, 1, 1, 20)
	row := 3
	for _, p := range paragraphs {
		b.put(readMeSheet, 1, row, p, "prose")
		b.height(readMeSheet, row, linesOf(p, wide), 13)
		row++
		b.height(readMeSheet, row, 0, 0)
		row++
	}
	b.rich(readMeSheet, row, "The sheets", "")
	row++
	b.rich(readMeSheet, row, settingsSheet, bind.SettingsAbout)
	for _, form := range bind.Forms(f.system, nil, nil) {
		row++
		b.rich(readMeSheet, row, sheetName(string(form.Kind)), form.About)
		b.height(readMeSheet, row, linesOf(sheetName(string(form.Kind))+"  "+form.About, wide), 13)
	}
	b.printed(readMeSheet, paper, 0, true)
	return nil
}

// rich writes a bold name with words behind it into one cell.
func (b *book) rich(sheet string, row int, name, words string) {
	if b.err == nil {
		b.keep(b.f.SetCellRichText(sheet, at(1, row), []excelize.RichTextRun{
			{Text: name, Font: &excelize.Font{Family: typeface, Size: 10, Bold: true, Color: ink}},
			{Text: "  " + words, Font: &excelize.Font{Family: typeface, Size: 10, Color: ink}}}))
	}
	b.look(sheet, 1, row, "prose")
}

// top writes the title of a sheet and what it is for.
func (b *book) top(sheet, about string) {
	b.put(sheet, 1, titleRow, sheet, "title")
	b.height(sheet, titleRow, 1, 20)
	b.put(sheet, 1, aboutRow, about, "about")
}

func (f filling) settingsSheet(b *book, paper int) {
	widths := []int{34, 36, 30, 58}
	b.sheet(settingsSheet, widths)
	b.top(settingsSheet, bind.SettingsAbout)
	for i, h := range bind.SettingsHeadings {
		b.put(settingsSheet, i+1, headRow, h, "heading needed")
	}
	row := firstRow
	for _, s := range bind.FormSettings(f.system) {
		look := "value lined"
		if s.Kind == bind.FormNumber {
			look = "value number lined"
		}
		b.put(settingsSheet, 1, row, s.Heading, "name lined")
		b.look(settingsSheet, 2, row, look)
		b.fill(settingsSheet, 2, row, f.settings[s.Name], s.Kind)
		b.put(settingsSheet, 3, row, s.Default, "default lined")
		b.put(settingsSheet, 4, row, s.Means, "means lined")
		b.height(settingsSheet, row, max(linesOf(f.settings[s.Name], widths[1]), linesOf(s.Default, widths[2]), linesOf(s.Means, widths[3])), 13)
		b.offer(settingsSheet, 2, row, row, s.Offers)
		row++
	}
	b.freeze(settingsSheet, 0, headRow)
	b.printed(settingsSheet, paper, headRow, false)
}

func (f filling) formSheet(b *book, form bind.Form, paper int) {
	name := sheetName(string(form.Kind))
	rows := f.written.Rows[form.Kind]
	var widths []int
	for _, c := range form.Columns {
		widths = append(widths, c.Wide)
	}
	b.sheet(name, widths)
	note := 0
	for i, c := range form.Columns {
		if c.Name == "note" {
			note = i + 1
		}
		// Cells below the drawn rows keep 5/4 from being made a date too.
		if id := b.style(styleOf(c)); b.err == nil {
			b.keep(b.f.SetColStyle(name, letters(i+1), id))
		}
	}
	b.top(name, form.About)
	f.headings(b, name, form, headRow, true)
	// What stands in the rows: examples, or what is carried over.
	type put struct {
		row   int
		cells bind.FormRow
	}
	var puts []put
	row := firstRow
	if len(rows) == 0 {
		for _, e := range form.Examples {
			puts = append(puts, put{row, e})
			row++
		}
	}
	again := map[int]bool{}
	for _, r := range rows {
		if r.Again {
			row++ // an empty row, and the headings once more
			again[row] = true
			row++
		}
		puts = append(puts, put{row, r.Row})
		row++
	}
	last := max(firstRow+drawn(widths)-1, row+spare-1)
	for i, c := range form.Columns {
		col := i + 1
		if id := b.style(styleOf(c) + " lined"); b.err == nil {
			b.keep(b.f.SetCellStyle(name, at(col, firstRow), at(col, last), id))
		}
		switch {
		case c.IsLoad:
			b.offerCells(name, col, firstRow, offered, "'Loads'!$A$"+itoa(firstRow)+":$A$"+itoa(firstRow+199))
		default:
			b.offer(name, col, firstRow, offered, c.Offers)
		}
	}
	for _, p := range puts {
		high := 1
		for i, c := range form.Columns {
			b.fill(name, i+1, p.row, p.cells[c.Name], c.Kind)
			if wraps(c) {
				high = max(high, linesOf(p.cells[c.Name], c.Wide-5))
			}
		}
		if high > 1 {
			b.height(name, p.row, high, 13)
		}
	}
	for r := range again {
		f.headings(b, name, form, r, false)
	}
	if note > 0 && len(rows) == 0 && len(form.Examples) > 0 && b.err == nil {
		// Grey as long as the note says example.
		grey, err := b.f.NewConditionalStyle(&excelize.Style{Font: &excelize.Font{Italic: true, Color: pale}})
		b.keep(err)
		b.keep(b.f.SetConditionalFormat(name, at(1, firstRow)+":"+at(len(form.Columns), last), []excelize.ConditionalFormatOptions{
			{Type: "formula", Criteria: "$" + letters(note) + itoa(firstRow) + `="` + bind.ExampleMark + `"`, Format: &grey}}))
	}
	b.freeze(name, 1, headRow)
	b.printed(name, paper, headRow, false)
}

// drawn is how many rows fill a page when a sheet of these columns is fitted to its width.
func drawn(widths []int) int {
	all := 0
	for _, w := range widths {
		all += w
	}
	return min(max(lines, lines*all/pageWide), 2*lines)
}

// headings writes the row of headings. Those above the first row carry their meaning as a note.
func (f filling) headings(b *book, name string, form bind.Form, row int, notes bool) {
	high := 1
	for i, c := range form.Columns {
		look := "heading"
		if c.Required {
			look = "heading needed"
		}
		if c.Kind == bind.FormSize || c.Kind == bind.FormNumber {
			look += " right"
		}
		b.put(name, i+1, row, c.Heading, look)
		high = max(high, linesOf(c.Heading, c.Wide-2))
		if notes {
			b.note(name, i+1, row, c.Means)
		}
	}
	b.height(name, row, high, 12)
}

// listed writes the words of the drop-down lists onto a hidden sheet, a list a row: the rows of a workbook are counted and told.
func listed(b *book) {
	b.sheet(listsSheet, []int{26})
	b.put(listsSheet, 1, 1, bind.ListsTitle, "about")
	for i, words := range b.words {
		for k, w := range words {
			b.put(listsSheet, k+1, listsTop+i, w, "text")
		}
	}
	if b.err == nil {
		b.keep(b.f.SetSheetVisible(listsSheet, false))
	}
}
