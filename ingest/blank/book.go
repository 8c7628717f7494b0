package blank

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"drytally/ingest/bind"
)

// book is a workbook in the making. The first error stays and stops the rest.
type book struct {
	f      *excelize.File
	styles map[string]int
	sheets int
	lists  map[string]string // the words of a drop-down list, joined -> the cells they stand in
	words  [][]string        // the lists, in the order of their rows
	err    error
}

func newBook() *book {
	b := &book{f: excelize.NewFile(), styles: map[string]int{}, lists: map[string]string{}}
	b.keep(b.f.SetDefaultFont(typeface))
	return b
}

func (b *book) keep(err error) {
	if b.err == nil {
		b.err = err
	}
}

// The looks: one typeface, greys and thin lines, the same on every sheet.
const (
	typeface = "Liberation Sans"
	ink      = "000000"
	pale     = "767676" // still read when printed
	line     = "BFBFBF"
	shade    = "F2F2F2"
)

// style gives the number of a named look, made when first asked for. Words in the name: what it is for, then for cells to
// fill in "lined".
func (b *book) style(name string) int {
	if id, ok := b.styles[name]; ok || b.err != nil {
		return id
	}
	what, lined := strings.CutSuffix(name, " lined")
	text, day := "@", "yyyy-mm-dd"
	s := &excelize.Style{Font: &excelize.Font{Family: typeface, Size: 10, Color: ink}, Alignment: &excelize.Alignment{Vertical: "center"}}
	switch what {
	case "title":
		s.Font.Size, s.Font.Bold = 14, true
	case "about":
		s.Font.Color = pale
	case "prose":
		s.Alignment.WrapText, s.Alignment.Vertical = true, "top"
	case "heading", "heading needed", "heading right", "heading needed right":
		s.Font.Size, s.Font.Bold = 9, strings.Contains(what, "needed")
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
		if strings.HasSuffix(what, "right") {
			s.Alignment.Horizontal = "right"
		}
		s.Alignment.WrapText, s.Alignment.Vertical = true, "bottom"
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{shade}}
		s.Border = []excelize.Border{{Type: "bottom", Style: 1, Color: pale}, {Type: "top", Style: 1, Color: line},
			{Type: "left", Style: 1, Color: line}, {Type: "right", Style: 1, Color: line}}
	case "default", "means":
		s.Font.Color, s.Alignment.WrapText = pale, true
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	case "name":
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	case "text":
		s.CustomNumFmt = &text
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	case "wrapped":
		s.CustomNumFmt = &text
		s.Alignment.Horizontal, s.Alignment.Indent, s.Alignment.WrapText = "left", 1, true
	case "size":
		s.CustomNumFmt = &text
		s.Alignment.Horizontal, s.Alignment.Indent = "right", 1
	case "number":
		s.Alignment.Horizontal, s.Alignment.Indent = "right", 1
	case "value":
		s.CustomNumFmt = &text
		s.Alignment.Horizontal, s.Alignment.Indent, s.Alignment.WrapText = "left", 1, true
	case "value number":
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	case "date":
		s.CustomNumFmt = &day
		s.Alignment.Horizontal = "center"
	default:
		panic("blank: no look is called " + name)
	}
	if lined {
		for _, side := range []string{"top", "bottom", "left", "right"} {
			s.Border = append(s.Border, excelize.Border{Type: side, Style: 1, Color: line})
		}
	}
	id, err := b.f.NewStyle(s)
	b.keep(err)
	b.styles[name] = id
	return id
}

// wraps reports whether the texts of a column run over lines: notes, and lists of boards.
func wraps(c bind.FormColumn) bool { return c.Kind == bind.FormText && c.Wide > 20 }

func styleOf(c bind.FormColumn) string {
	if wraps(c) {
		return "wrapped"
	}
	switch c.Kind {
	case bind.FormSize:
		return "size"
	case bind.FormNumber:
		return "number"
	case bind.FormDate:
		return "date"
	}
	return "text"
}

// at names a cell.
func at(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col, row)
	if err != nil {
		panic("blank: " + err.Error()) // sheets of ours are never that large
	}
	return name
}

func letters(col int) string { return strings.TrimRight(at(col, 1), "1") }

// sheet adds a sheet with the column widths given, in characters.
func (b *book) sheet(name string, widths []int) {
	if b.err != nil {
		return
	}
	if b.sheets == 0 {
		b.keep(b.f.SetSheetName(b.f.GetSheetName(0), name))
	} else {
		_, err := b.f.NewSheet(name)
		b.keep(err)
	}
	b.sheets++
	for i, w := range widths {
		b.keep(b.f.SetColWidth(name, letters(i+1), letters(i+1), float64(w)))
	}
}

// look sets the look of a cell.
func (b *book) look(sheet string, col, row int, style string) {
	if id := b.style(style); b.err == nil {
		b.keep(b.f.SetCellStyle(sheet, at(col, row), at(col, row), id))
	}
}

// put writes a text with its look.
func (b *book) put(sheet string, col, row int, s, style string) {
	if b.err == nil {
		b.keep(b.f.SetCellStr(sheet, at(col, row), s))
	}
	b.look(sheet, col, row, style)
}

// firstDay is the first day whose number all spreadsheet programs agree on.
var firstDay = time.Date(1900, time.March, 1, 0, 0, 0, 0, time.UTC)

// fill writes what a form has in a cell, as its column stores it. The look is the cell's already.
func (b *book) fill(sheet string, col, row int, s string, kind bind.FormKind) {
	if b.err != nil || s == "" {
		return
	}
	if n, ok := bind.FormNumberIn(s, kind); ok {
		b.keep(b.f.SetCellFloat(sheet, at(col, row), n, -1, 64))
		return
	}
	if kind == bind.FormDate {
		if t, err := time.Parse(time.DateOnly, s); err == nil && !t.Before(firstDay) {
			days := t.Sub(time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)) / (24 * time.Hour)
			b.keep(b.f.SetCellInt(sheet, at(col, row), int64(days)))
			return
		}
	}
	b.keep(b.f.SetCellStr(sheet, at(col, row), s))
}

// height makes a row high enough for so many lines.
func (b *book) height(sheet string, row, lines int, each float64) {
	if b.err == nil {
		b.keep(b.f.SetRowHeight(sheet, row, math.Max(5, float64(lines)*each+3)))
	}
}

// linesOf estimates how many lines a text takes in a width in characters, broken between words. The width counts digits, and
// letters are a little narrower.
func linesOf(s string, width int) int {
	lines, used := 1, 0
	width += width / 6
	for _, w := range strings.Fields(s) {
		n := utf8.RuneCountInString(w)
		if used > 0 && used+1+n > width {
			lines, used = lines+1, 0
		}
		if used > 0 {
			used++
		}
		used += n
	}
	return lines
}

// note hangs a note on a cell.
func (b *book) note(sheet string, col, row int, s string) {
	if b.err == nil {
		lines := uint(linesOf(s, 38) + strings.Count(s, "\n"))
		b.keep(b.f.AddComment(sheet, excelize.Comment{Cell: at(col, row), Author: "drytally", Width: 240, Height: 24 + 15*lines,
			Paragraph: []excelize.RichTextRun{{Text: s, Font: &excelize.Font{Family: typeface, Size: 9, Color: ink}}}}))
	}
}

// offer gives the cells of a column a drop-down list; other words may be written all the same.
func (b *book) offer(sheet string, col, first, last int, words []string) {
	if b.err != nil || len(words) == 0 {
		return
	}
	key := strings.Join(words, "\x00")
	cells, ok := b.lists[key]
	if !ok {
		row := "$" + itoa(listsTop+len(b.words))
		cells = "'" + listsSheet + "'!$A" + row + ":$" + letters(len(words)) + row
		b.lists[key] = cells
		b.words = append(b.words, words)
	}
	b.offerCells(sheet, col, first, last, cells)
}

func (b *book) offerCells(sheet string, col, first, last int, cells string) {
	if b.err != nil {
		return
	}
	v := excelize.NewDataValidation(true)
	v.Sqref = at(col, first) + ":" + at(col, last)
	v.SetSqrefDropList(cells)
	b.keep(b.f.AddDataValidation(sheet, v))
}

// printed lays a sheet on its side, one page wide, with the rows up to the headings on every page.
func (b *book) printed(sheet string, paper, headRow int, upright bool) {
	if b.err != nil {
		return
	}
	turn, high, wide, fit := "landscape", 0, 1, true
	if upright {
		turn = "portrait"
	}
	margin, foot := 0.5, 0.3
	b.keep(b.f.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &paper, Orientation: &turn, FitToWidth: &wide, FitToHeight: &high}))
	b.keep(b.f.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
	b.keep(b.f.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{Left: &margin, Right: &margin, Top: &margin, Bottom: &margin, Footer: &foot, Header: &foot}))
	b.keep(b.f.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: "&L&8&A&R&8Page &P of &N"}))
	grid := false
	b.keep(b.f.SetSheetView(sheet, 0, &excelize.ViewOptions{ShowGridLines: &grid}))
	if headRow > 0 {
		b.keep(b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: "'" + sheet + "'!$1:$" + itoa(headRow), Scope: sheet}))
	}
}

// freeze keeps the rows above and the columns before a cell in sight.
func (b *book) freeze(sheet string, cols, rows int) {
	if b.err == nil {
		pane := "bottomLeft"
		if cols > 0 {
			pane = "bottomRight"
		}
		b.keep(b.f.SetPanes(sheet, &excelize.Panes{Freeze: true, XSplit: cols, YSplit: rows, TopLeftCell: at(cols+1, rows+1), ActivePane: pane}))
	}
}

// bookStamp stands where the file format wants to know when a workbook was made: not the clock, so that the same call gives
// the same bytes.
const bookStamp = "1980-01-01T00:00:00Z"

// bytes closes the book.
func (b *book) bytes() ([]byte, error) {
	b.keep(b.f.SetDocProps(&excelize.DocProperties{Title: "Workbook of a week", Creator: "drytally", LastModifiedBy: "drytally",
		Created: bookStamp, Modified: bookStamp, Language: "en-US"}))
	if b.err != nil {
		return nil, b.err
	}
	buf, err := b.f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return repack(buf.Bytes())
}

// repack writes the parts of a workbook again in order of name and all of one time: the writer's own order and times differ
// from run to run. The list of contents comes first, as the packing convention of the file format asks.
func repack(made []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(made), int64(len(made)))
	if err != nil {
		return nil, err
	}
	parts := slices.Clone(in.File)
	slices.SortFunc(parts, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) }) // "[" comes before every letter
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	for _, part := range parts {
		r, err := part.Open()
		if err != nil {
			return nil, err
		}
		// The earliest time a zip archive can hold.
		w, err := out.CreateHeader(&zip.FileHeader{Name: part.Name, Method: zip.Deflate, Modified: time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			return nil, err
		}
		if _, err := io.Copy(w, r); err != nil {
			return nil, err
		}
		if err := r.Close(); err != nil {
			return nil, err
		}
	}
	if err := out.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}
