// Package delim reads tables written as text with a separator between the fields (CSV, TSV). What cannot be told with
// certainty, the letters or where a quoted field ends, is refused and never guessed.
package delim

import (
	"path"
	"strings"
	"unicode/utf8"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// Read reads a table from its bytes. Name is the file's name; its last step without the ending names the one sheet.
// Errors are *sheet.FileError. SHA256 is left empty.
//
// Letters: UTF-8, UTF-16 in either order, else Windows-1252. Separators: comma, semicolon, tab or upright stroke, told
// from the whole file or from a first line "sep=;", which is then not counted as a row. Rows are numbered by record as
// a spreadsheet program numbers them on opening: a blank line counts, a line break inside quotes does not. Text stays
// exactly as written. A field that is a plain decimal number is of Kind Number, and any other is Text; where the file
// shows that it writes 9,5 for nine and a half, DecimalComma is set and numbers with a comma or point stay Text.
func Read(name string, data []byte) (*sheet.Workbook, error) {
	file := path.Base(strings.ReplaceAll(name, `\`, "/"))
	text, err := letters(file, data)
	if err != nil {
		return nil, err
	}
	if strings.Trim(text, " \t\r\n") == "" {
		return nil, sheet.Refuse(finding.FileEmpty, file, "", finding.KindOf(finding.FileEmpty).Meaning)
	}
	sep, text, err := separator(file, text)
	if err != nil {
		return nil, err
	}
	t := table{file: file, comma: sep == ';' && commaIsPoint(text, sep)}
	if err := t.read(text, sep); err != nil {
		return nil, err
	}
	t.out.Name = strings.TrimSuffix(file, path.Ext(file))
	if t.out.Name == "" {
		t.out.Name = file
	}
	t.out.HiddenCols = map[int]bool{}
	return &sheet.Workbook{Name: file, CSV: true, DecimalComma: t.comma, DecimalPoint: t.point, Sheets: []sheet.Sheet{t.out}}, nil
}

// table is the sheet being read.
type table struct {
	file  string
	comma bool
	point bool // a number has a point that can't part thousands
	out   sheet.Sheet
	cells int

	packer sheet.Packer
}

func (t *table) read(text string, sep byte) error {
	tooLarge := func(problem string, args ...any) error {
		return sheet.Refuse(finding.FileTooLarge, t.file, "", problem, args...)
	}
	p := splitter{text: text, sep: sep}
	var row []sheet.Cell
	for p.nextRecord() {
		if p.row > sheet.MaxRows {
			return tooLarge("there are more than %d rows", sheet.MaxRows)
		}
		row = row[:0]
		for p.nextField() {
			if p.doubt != "" {
				return sheet.Refuse(finding.FileQuote, t.file, "", "%s: %s",
					finding.Place{Row: p.row, Col: p.col}.Cell(), p.doubt)
			}
			if p.col > sheet.LastCol {
				return tooLarge("row %d has more than %d fields", p.row, sheet.LastCol)
			}
			if p.field == "" {
				continue
			}
			if len(p.field) > sheet.MaxTextLength && utf8.RuneCountInString(p.field) > sheet.MaxTextLength {
				return tooLarge("%s holds a text longer than the %d letters a cell can hold",
					finding.Place{Row: p.row, Col: p.col}.Cell(), sheet.MaxTextLength)
			}
			if t.cells++; t.cells > sheet.MaxCells {
				return tooLarge("there are more than %d filled cells", sheet.MaxCells)
			}
			row = append(row, t.cell(p.row, p.col, p.field))
		}
		if len(row) > 0 {
			t.out.Rows = append(t.out.Rows, t.packer.Row(p.row, false, row))
		}
	}
	return nil
}
