package xlsx

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"drytally/ingest/sheet"
)

func readSound(t *testing.T, p parts) *sheet.Workbook {
	t.Helper()
	book, err := Read("week47.xlsx", p.pack(t))
	if err != nil {
		t.Fatalf("got error %v, want none", err)
	}
	return book
}

// TestCells reads one cell of each kind. The row is row 1, the cell is A1 unless it says otherwise.
func TestCells(t *testing.T) {
	t.Parallel()
	number := func(text string, v float64) sheet.Cell {
		return sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: text, Number: v}
	}
	text := func(s string) sheet.Cell { return sheet.Cell{Row: 1, Col: 1, Kind: sheet.Text, Text: s} }
	for _, c := range []struct {
		name, cell string
		want       sheet.Cell
	}{
		{"number", `<c r="A1"><v>11.375</v></c>`, number("11.375", 11.375)},
		{"digits are kept", `<c r="A1"><v>11.30000000000000071</v></c>`, number("11.30000000000000071", 11.3)},
		{"exponent", `<c r="A1" t="n"><v>-1.5E-3</v></c>`, number("-1.5E-3", -0.0015)},
		{"white space around a number", "<c r=\"A1\">\n <v> 7 </v>\n</c>", number("7", 7)},
		{"percent", `<c r="A1" s="1"><v>0.075</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "0.075", Number: 0.075, Format: sheet.Percent, More: &sheet.More{FormatCode: "0.00%"}}},
		{"date", `<c r="A1" s="2"><v>46146</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "46146", Number: 46146, Format: sheet.Date, More: &sheet.More{FormatCode: "mm-dd-yy"}}},
		{"fraction", `<c r="A1" s="3"><v>11.375</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "11.375", Number: 11.375, Format: sheet.Fraction, More: &sheet.More{FormatCode: "# ??/16"}}},
		{"shared text", `<c r="A1" t="s"><v>0</v></c>`, text("red oak")},
		{"runs joined, spoken text left out", `<c r="A1" t="s"><v>1</v></c>`, text("11 3/8")},
		{"text in the cell", `<c r="A1" t="inlineStr"><is><t>ash</t></is></c>`, text("ash")},
		{"runs in the cell", `<c r="A1" t="inlineStr"><is><r><t>as</t></r><r><t>h</t></r></is></c>`, text("ash")},
		{"space at the ends dropped", `<c r="A1" t="inlineStr"><is><t> ash </t></is></c>`, text("ash")},
		{"space at the ends kept", `<c r="A1" t="inlineStr"><is><t xml:space="preserve"> ash </t></is></c>`, text(" ash ")},
		{"escape", `<c r="A1" t="inlineStr"><is><t>a_x000A_b_x005F_x0041_</t></is></c>`, text("a\nb_x0041_")},
		{"escaped pair", `<c r="A1" t="inlineStr"><is><t>_xD83C__xDF32_</t></is></c>`, text("\U0001F332")},
		{"half an escaped pair stays", `<c r="A1" t="inlineStr"><is><t>_xD83C_x</t></is></c>`, text("_xD83C_x")},
		{"no escape stays", `<c r="A1" t="inlineStr"><is><t>_x00G0_ _x1_</t></is></c>`, text("_x00G0_ _x1_")},
		{"raw text block", `<c r="A1" t="inlineStr"><is><t><![CDATA[<6 & 7]]></t></is></c>`, text("<6 & 7")},
		{"true", `<c r="A1" t="b"><v>1</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Bool, Text: "TRUE"}},
		{"false", `<c r="A1" t="b"><v>0</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Bool, Text: "FALSE"}},
		{"error", `<c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.ErrorValue, Text: "#DIV/0!", Formula: true}},
		{"formula with a number", `<c r="A1"><f>3+4</f><v>7</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "7", Number: 7, Formula: true}},
		{"formula with a text", `<c r="A1" t="str"><f>B1</f><v>oak</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Text, Text: "oak", Formula: true}},
		{"formula that gives an empty text", `<c r="A1" t="str"><f>B1</f><v></v></c>`, sheet.Cell{Row: 1, Col: 1, Formula: true}},
		{"formula never calculated", `<c r="A1"><f>3+4</f></c>`, sheet.Cell{Row: 1, Col: 1, Formula: true, NoResult: true}},
		{"formula of text never calculated", `<c r="A1" t="str"><f>3+4</f></c>`, sheet.Cell{Row: 1, Col: 1, Formula: true, NoResult: true}},
		{"formula with an empty value", `<c r="A1"><f>3+4</f><v/></c>`, sheet.Cell{Row: 1, Col: 1, Formula: true, NoResult: true}},
		{"shared formula", `<c r="A1"><f t="shared" si="0"/><v>7</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "7", Number: 7, Formula: true}},
		// 2024-03-05 is day 45356 after 1899-12-30: 124 years of 365 days, 31 leap days, 31+29+5-1 days of the year, 1+1.
		{"written date", `<c r="A1" t="d"><v>2024-03-05</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "45356", Number: 45356, Format: sheet.Date}},
		{"written date and time", `<c r="A1" t="d"><v>2024-03-05T18:00:00Z</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "45356.75", Number: 45356.75, Format: sheet.DateTime}},
		{"written time", `<c r="A1" t="d"><v>06:00</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "0.25", Number: 0.25, Format: sheet.Clock}},
		// The first day of the system of 1900, and the last before its false leap day.
		{"first day", `<c r="A1" t="d"><v>1900-01-01</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "1", Number: 1, Format: sheet.Date}},
		{"before the false leap day", `<c r="A1" t="d"><v>1900-02-28</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "59", Number: 59, Format: sheet.Date}},
		{"after the false leap day", `<c r="A1" t="d"><v>1900-03-01</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "61", Number: 61, Format: sheet.Date}},
		{"last day", `<c r="A1" t="d"><v>9999-12-31</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "2958465", Number: 2958465, Format: sheet.Date}},
		{"date keeps the style it has", `<c r="A1" s="2" t="d"><v>2024-03-05T18:00:00</v></c>`, sheet.Cell{Row: 1, Col: 1, Kind: sheet.Number, Text: "45356.75", Number: 45356.75, Format: sheet.Date, More: &sheet.More{FormatCode: "mm-dd-yy"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			book := readSound(t, plain(`<row r="1">`+c.cell+`</row>`))
			if diff := cmp.Diff(c.want, book.Sheets[0].Cell(1, 1)); diff != "" {
				t.Errorf("cell of %s (-want +got):\n%s", c.cell, diff)
			}
		})
	}
}

func TestPlaces(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, rows string
		want       []string
	}{
		{"by name", `<row r="3"><c r="B3"><v>1</v></c><c r="AA3"><v>2</v></c></row><row r="7"><c r="A7"><v>3</v></c></row>`, []string{"B3", "AA3", "A7"}},
		{"cells without names", `<row r="3"><c><v>1</v></c><c/><c><v>2</v></c></row>`, []string{"A3", "C3"}},
		{"rows without numbers", `<row><c><v>1</v></c></row><row/><row><c><v>1</v></c></row>`, []string{"A1", "A3"}},
		{"counting goes on from a name", `<row r="2"><c r="D2"><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row>`, []string{"D2", "E2", "A3"}},
		{"last corner", `<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`, []string{"XFD1048576"}},
		{"blank cells are left out", `<row r="1"><c r="A1" s="1"/><c r="B1" t="s"/><c r="C1"><v></v></c><c r="D1"><v>4</v></c></row>`, []string{"D1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, row := range readSound(t, plain(c.rows)).Sheets[0].Rows {
				for cell := range row.Cells() {
					if cell.Row != row.Number {
						t.Errorf("got a cell of row %d in row %d", cell.Row, row.Number)
					}
					got = append(got, cellName(cell.Row, cell.Col))
				}
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("places of %s (-want +got):\n%s", c.rows, diff)
			}
		})
	}
}

// TestSheetMarks reads what stands around the cells: hidden rows, columns and sheets, merged blocks, comments, the date
// system, a false dimension and columns styled to the last.
func TestSheetMarks(t *testing.T) {
	t.Parallel()
	p := plain("").with(parts{
		sheetOne: xmlHead + `<worksheet ` + mainNS + `><dimension ref="A1:A1"/><cols><col min="1" max="2" hidden="1"/><col min="3" max="16384" style="1"/></cols>` +
			`<sheetData><row r="2"><c r="B2"><v>5</v></c></row><row r="4" hidden="1"/></sheetData><mergeCells><mergeCell ref="A1:C1"/><mergeCell ref="D9:B7"/></mergeCells></worksheet>`,
		"xl/worksheets/_rels/sheet1.xml.rels": relations(`<Relationship Id="x" Type="` + relKind + `comments" Target="../comments1.xml"/><Relationship Id="y" Type="` + relKind + `drawing" Target="../none.xml"/>`),
		"xl/comments1.xml": xmlHead + `<comments ` + mainNS + `><authors><author>owner</author></authors><commentList>` +
			`<comment ref="C9" authorId="0"><text><t>nothing here</t></text></comment><comment ref="A2" authorId="0"><text><t>left</t></text></comment>` +
			`<comment ref="B2" authorId="0"><text><r><t>end </t></r><r><t xml:space="preserve"> middle</t></r></text></comment></commentList></comments>`,
		"xl/workbook.xml": xmlHead + `<workbook ` + mainNS + ` ` + relNS + `><workbookPr date1904="true"/><sheets><sheet name="A_x0026_B" sheetId="4" state="veryHidden" r:id="rId1"/></sheets></workbook>`,
	})
	want := &sheet.Workbook{Name: "week47.xlsx", Date1904: true, Sheets: []sheet.Sheet{{
		Name: "A&B", Hidden: true,
		Rows: []sheet.Row{
			sheet.NewRow(2, false, sheet.Cell{Row: 2, Col: 1, More: &sheet.More{Comment: "left"}}, sheet.Cell{Row: 2, Col: 2, Kind: sheet.Number, Text: "5", Number: 5, More: &sheet.More{Comment: "end middle"}}),
			{Number: 4, Hidden: true},
			sheet.NewRow(9, false, sheet.Cell{Row: 9, Col: 3, More: &sheet.More{Comment: "nothing here"}}),
		},
		Merges:     []sheet.Range{{FirstRow: 1, FirstCol: 1, LastRow: 1, LastCol: 3}, {FirstRow: 7, FirstCol: 2, LastRow: 9, LastCol: 4}},
		HiddenCols: map[int]bool{1: true, 2: true},
	}}}
	if diff := cmp.Diff(want, readSound(t, p), cmpopts.EquateEmpty(), cellsOfRows); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// cellsOfRows compares rows by what they hold.
var cellsOfRows = cmp.Transformer("row", func(r sheet.Row) any {
	return struct {
		Number int
		Hidden bool
		Cells  []sheet.Cell
	}{r.Number, r.Hidden, slices.Collect(r.Cells())}
})

// TestOddWriters reads the same table from files put together in ways the format allows.
func TestOddWriters(t *testing.T) {
	t.Parallel()
	base := plain(`<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="3"><v>11.375</v></c></row>`)
	want := readSound(t, base).Sheets
	prefixed := strings.NewReplacer("<worksheet xmlns=", "<q:worksheet xmlns:q=", "</", "</q:", "<sheetData", "<q:sheetData", "<row", "<q:row", "<c ", "<q:c ", "<v>", "<q:v>").Replace(base[sheetOne])
	utf16 := "\xFF\xFE"
	for _, r := range strings.Replace(base[sheetOne], "UTF-8", "UTF-16", 1) {
		utf16 += string([]byte{byte(r), 0})
	}
	rename := func(pairs ...string) parts {
		q := parts{}
		for name, text := range base {
			q[strings.NewReplacer(pairs...).Replace(name)] = text
		}
		return q
	}
	strict := parts{}
	for name, text := range base {
		strict[name] = strings.NewReplacer(mainTransition, mainStrict, linkTransition, linkStrict).Replace(text)
	}
	for name, p := range map[string]parts{
		"prefixes":                  base.with(parts{sheetOne: prefixed}),
		"other r prefix":            base.edit(t, "xl/workbook.xml", "xmlns:r=", "xmlns:rel=").edit(t, "xl/workbook.xml", "r:id", "rel:id"),
		"strict":                    strict,
		"macros":                    base.edit(t, "[Content_Types].xml", "vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml", "vnd.ms-excel.sheet.macroEnabled.main+xml"),
		"capitals":                  rename("xl/", "XL/", "sheet1", "Sheet1"),
		"backslashes":               rename("xl/worksheets/", `xl\worksheets\`),
		"leading slash":             rename("xl/worksheets/", "/xl/worksheets/"),
		"absolute target":           base.edit(t, "xl/_rels/workbook.xml.rels", `"worksheets/`, `"/xl/worksheets/`),
		"backslash target":          base.edit(t, "xl/_rels/workbook.xml.rels", `"worksheets/`, `"worksheets\`),
		"dotted target":             base.edit(t, "xl/_rels/workbook.xml.rels", `"worksheets/`, `"../xl/./worksheets/`),
		"odd part name":             rename("worksheets/sheet1", "pages/my page").edit(t, "xl/_rels/workbook.xml.rels", "worksheets/sheet1.xml", "pages/my%20page.xml"),
		"odd workbook name":         rename("xl/workbook", "xl/book", "_rels/workbook", "_rels/book").edit(t, "_rels/.rels", "xl/workbook", "xl/book").edit(t, "[Content_Types].xml", "/xl/workbook", "/xl/book"),
		"type by default":           base.edit(t, "[Content_Types].xml", "Override PartName=\"/xl/workbook.xml\"", "Default Extension=\"unused\""),
		"byte order mark":           base.with(parts{sheetOne: "\uFEFF" + base[sheetOne]}),
		"utf-16":                    base.with(parts{sheetOne: utf16}),
		"unused broken part":        base.with(parts{"docProps/app.xml": "<broken"}),
		"other relation":            base.edit(t, "xl/_rels/workbook.xml.rels", "<Relationship ", `<Relationship Id="web" TargetMode="External" Type="`+relKind+`hyperlink" Target="http://example.org/"/><Relationship `),
		"foreign elements":          base.edit(t, sheetOne, "<sheetData>", `<sheetPr><tabColor rgb="FF0000"/></sheetPr><x:y xmlns:x="urn:other"><x:sheetData/></x:y><sheetData>`),
		"comments and instructions": base.edit(t, sheetOne, "<row", `<!-- rows --><?note x?><row`),
	} {
		t.Run(name, func(t *testing.T) {
			if diff := cmp.Diff(want, readSound(t, p).Sheets, cellsOfRows); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestChartPageIsLeftOut(t *testing.T) {
	t.Parallel()
	p := plain(`<row><c><v>1</v></c></row>`)
	p = p.edit(t, "xl/workbook.xml", "<sheets>", `<sheets><sheet name="Chart" sheetId="9" r:id="c"/>`).
		edit(t, "xl/_rels/workbook.xml.rels", "<Relationship ", `<Relationship Id="c" Type="`+relKind+`chartsheet" Target="chart.xml"/><Relationship `).
		with(parts{"xl/chart.xml": "<chartsheet/>"})
	if got := readSound(t, p).Sheets; len(got) != 1 || got[0].Name != "Readings" {
		t.Errorf("got sheets %v, want Readings alone", got)
	}
}
