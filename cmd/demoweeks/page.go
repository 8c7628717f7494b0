package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// What a cell holds besides text and plain numbers.
type (
	fraction float64   // inches, shown as 1 1/8
	tenth    float64   // shown with one decimal
	fine     float64   // shown with three decimals
	share    float64   // 0..1, shown as a percentage
	day      time.Time // a date
	clock    time.Time // a time of day
	moment   time.Time // date and time in one cell
	sum      struct {  // a formula and what the spreadsheet program stored as its result
		formula string
		result  int
	}
	skip struct{} // nothing in this cell
)

// book is a workbook in the making. The first error stays and stops the rest.
type book struct {
	f      *excelize.File
	styles map[string]int
	dates  string // number format of dates
	err    error
}

func newBook(dates string) *book {
	return &book{f: excelize.NewFile(), styles: map[string]int{}, dates: dates}
}

// page is a sheet being filled from the top.
type page struct {
	b    *book
	name string
	row  int // the row written next
}

// page adds a sheet with the column widths given, in characters.
func (b *book) page(name string, widths ...float64) *page {
	if b.err == nil && len(b.f.GetSheetList()) == 1 && len(b.styles) == 0 {
		b.keep(b.f.SetSheetName(b.f.GetSheetName(0), name))
	} else if b.err == nil {
		_, err := b.f.NewSheet(name)
		b.keep(err)
	}
	for i, w := range widths {
		col, err := excelize.ColumnNumberToName(i + 1)
		b.keep(err)
		b.keep(b.f.SetColWidth(name, col, col, w))
	}
	return &page{b: b, name: name, row: 1}
}

func (b *book) keep(err error) {
	if b.err == nil {
		b.err = err
	}
}

// style gives the number of a named look, made when first asked for.
func (b *book) style(name string) int {
	if id, ok := b.styles[name]; ok {
		return id
	}
	font := &excelize.Font{Family: "Liberation Sans", Size: 10}
	s := &excelize.Style{Font: font}
	switch name {
	case "title":
		font.Size, font.Bold = 14, true
	case "said":
		font.Italic, font.Color = true, "7A3E00"
	case "heading":
		font.Bold = true
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"E4DCCB"}}
		s.Border = []excelize.Border{{Type: "bottom", Style: 2, Color: "5B4A32"}}
		s.Alignment = &excelize.Alignment{WrapText: true, Vertical: "center"}
	case "total":
		font.Bold = true
		s.Border = []excelize.Border{{Type: "top", Style: 1, Color: "5B4A32"}}
	case "fraction":
		s.NumFmt = 13 // # ??/??
	case "tenth":
		s.CustomNumFmt = text("0.0")
	case "fine":
		s.CustomNumFmt = text("0.000")
	case "share":
		s.NumFmt = 9 // 0%
	case "day":
		s.CustomNumFmt = text(b.dates)
	case "clock":
		s.NumFmt = 20 // h:mm
	case "moment":
		s.CustomNumFmt = text(b.dates + " hh:mm")
	}
	switch name {
	case "fraction", "tenth", "fine", "share", "day", "clock", "moment":
		s.Alignment = &excelize.Alignment{Horizontal: "center"}
	}
	id, err := b.f.NewStyle(s)
	b.keep(err)
	b.styles[name] = id
	return id
}

func text(s string) *string { return &s }

// title writes lines of text, the first one large, and leaves a row blank.
func (p *page) title(lines ...string) {
	for i, l := range lines {
		look := "said"
		if i == 0 {
			look = "title"
		}
		p.put(1, l, look)
		p.row++
	}
	p.row++
}

func (p *page) heading(cells ...string) {
	for i, c := range cells {
		p.put(i+1, c, "heading")
	}
	p.row++
}

func (p *page) line(cells ...any) { p.written("", cells) }

func (p *page) total(cells ...any) { p.written("total", cells) }

func (p *page) written(look string, cells []any) {
	for i, c := range cells {
		p.put(i+1, c, look)
	}
	p.row++
}

func (p *page) blank() { p.row++ }

// put writes one cell of the current row. An empty look is the one that goes with the kind of value.
func (p *page) put(col int, value any, look string) {
	b := p.b
	if _, nothing := value.(skip); nothing || b.err != nil {
		return
	}
	cell, err := excelize.CoordinatesToCellName(col, p.row)
	b.keep(err)
	own, formula := "plain", ""
	switch v := value.(type) {
	case fraction:
		value, own = float64(v), "fraction"
	case tenth:
		value, own = float64(v), "tenth"
	case fine:
		value, own = float64(v), "fine"
	case share:
		value, own = float64(v), "share"
	case day:
		value, own = serial(time.Time(v)), "day"
	case moment:
		value, own = serial(time.Time(v)), "moment"
	case clock:
		t := time.Time(v)
		value, own = float64(t.Hour()*60+t.Minute())/(24*60), "clock"
	case sum:
		value, formula = v.result, v.formula
	}
	if look == "" {
		look = own
	}
	b.keep(b.f.SetCellValue(p.name, cell, value))
	b.keep(b.f.SetCellStyle(p.name, cell, cell, b.style(look)))
	if formula != "" {
		b.keep(b.f.SetCellFormula(p.name, cell, formula)) // after the value: setting a value takes a formula away
	}
}

// freeze keeps the rows down to the heading in sight.
func (p *page) freeze(headingRow int) {
	p.b.keep(p.b.f.SetPanes(p.name, &excelize.Panes{
		Freeze: true, YSplit: headingRow, TopLeftCell: fmt.Sprintf("A%d", headingRow+1), ActivePane: "bottomLeft",
	}))
}

// serial gives the day number a spreadsheet stores, counted from 30 December 1899.
func serial(t time.Time) float64 {
	first := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	return t.Sub(first).Hours() / 24
}

// wide lays every sheet on its side when printed, one page wide.
func (b *book) wide(paper int) {
	for _, name := range b.f.GetSheetList() {
		b.keep(b.f.SetPageLayout(name, &excelize.PageLayoutOptions{
			Size: &paper, Orientation: text("landscape"), FitToWidth: number(1), FitToHeight: number(0),
		}))
		yes := true
		b.keep(b.f.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &yes}))
	}
}

func number(n int) *int { return &n }

// bytes closes the book. saved stands in its properties, so that two runs give the same bytes.
func (b *book) bytes(title string, saved time.Time) ([]byte, error) {
	stamp := saved.Format(time.RFC3339)
	b.keep(b.f.SetDocProps(&excelize.DocProperties{
		Title: title, Creator: "Maren", LastModifiedBy: "Maren", Created: stamp, Modified: stamp, Language: "en-US",
		Description: "an invented example",
	}))
	if b.err != nil {
		return nil, b.err
	}
	buf, err := b.f.WriteToBuffer()
	if err != nil {
		return nil, err
	}
	return repack(buf.Bytes())
}

// textResult is how excelize stores every formula's result: as text. Sums are numbers.
var textResult = regexp.MustCompile(`(<c [^>]*?) t="str"(><f>SUM\()`)

// noTime is the earliest time a zip archive can hold.
var noTime = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// repack writes the parts of a workbook again in a fixed order, all of one time, and with sums stored as numbers.
func repack(book []byte) ([]byte, error) {
	in, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		return nil, err
	}
	parts := slices.Clone(in.File)
	slices.SortFunc(parts, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	for _, part := range parts {
		r, err := part.Open()
		if err != nil {
			return nil, err
		}
		content, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		if strings.HasPrefix(part.Name, "xl/worksheets/") {
			content = textResult.ReplaceAll(content, []byte("$1$2"))
		}
		w, err := out.CreateHeader(&zip.FileHeader{Name: part.Name, Method: zip.Deflate, Modified: noTime})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(content); err != nil {
			return nil, err
		}
	}
	if err := out.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}
