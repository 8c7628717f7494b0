package xlsx

import (
	"archive/zip"
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"
)

// parts is a workbook as its unpacked parts.
type parts map[string]string

const (
	xmlHead  = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	mainNS   = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
	relNS    = `xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	relKind  = `http://schemas.openxmlformats.org/officeDocument/2006/relationships/`
	sheetOne = "xl/worksheets/sheet1.xml"
)

// plain is a small sound workbook of one sheet; rows is what stands in its table of cells.
func plain(rows string) parts {
	return parts{
		"[Content_Types].xml": xmlHead + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
			`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>` +
			`<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
		"_rels/.rels":                relations(`<Relationship Id="rId1" Type="` + relKind + `officeDocument" Target="xl/workbook.xml"/>`),
		"xl/workbook.xml":            xmlHead + `<workbook ` + mainNS + ` ` + relNS + `><sheets><sheet name="Readings" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": relations(`<Relationship Id="rId1" Type="` + relKind + `worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="` + relKind + `sharedStrings" Target="sharedStrings.xml"/><Relationship Id="rId3" Type="` + relKind + `styles" Target="styles.xml"/>`),
		"xl/sharedStrings.xml":       xmlHead + `<sst ` + mainNS + `><si><t>red oak</t></si><si><r><rPr><b/></rPr><t xml:space="preserve">11 </t></r><r><t>3/8</t></r><rPh sb="0" eb="2"><t>spoken</t></rPh></si></sst>`,
		"xl/styles.xml":              xmlHead + `<styleSheet ` + mainNS + `><numFmts count="1"><numFmt numFmtId="164" formatCode="# ??/16"/></numFmts><cellXfs count="4"><xf numFmtId="0"/><xf numFmtId="10"/><xf numFmtId="14"/><xf numFmtId="164"/></cellXfs></styleSheet>`,
		sheetOne:                     xmlHead + `<worksheet ` + mainNS + `><sheetData>` + rows + `</sheetData></worksheet>`,
	}
}

func relations(inside string) string {
	return xmlHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + inside + `</Relationships>`
}

// with changes parts: an empty text removes one.
func (p parts) with(changes parts) parts {
	q := maps.Clone(p)
	for name, text := range changes {
		if q[name] = text; text == "" {
			delete(q, name)
		}
	}
	return q
}

// edit replaces text in one part and insists that it was there.
func (p parts) edit(t *testing.T, part, old, new string) parts {
	t.Helper()
	if !strings.Contains(p[part], old) {
		t.Fatalf("%s does not hold %q", part, old)
	}
	return p.with(parts{part: strings.Replace(p[part], old, new, 1)})
}

// pack makes the file, parts in order of name.
func (p parts) pack(t testing.TB) []byte {
	t.Helper()
	var names []string
	for name := range p {
		names = append(names, name)
	}
	slices.Sort(names)
	var w bytes.Buffer
	z := zip.NewWriter(&w)
	for _, name := range names {
		f, err := z.Create(name)
		if err == nil {
			_, err = f.Write([]byte(p[name]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return w.Bytes()
}
