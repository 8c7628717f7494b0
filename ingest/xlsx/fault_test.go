package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// wantFault checks that an error refuses the file with a code, names the part, and reads as our sentences do.
func wantFault(t *testing.T, err error, code finding.Code, part, says string) {
	t.Helper()
	var refused *sheet.FileError
	if !errors.As(err, &refused) {
		t.Fatalf("got error %v, want a refusal with code %s", err, code)
	}
	if refused.Code != code || refused.Part != part || !strings.Contains(refused.Problem, says) {
		t.Errorf("got %s of part %q: %q, want %s of part %q saying %q", refused.Code, refused.Part, refused.Problem, code, part, says)
	}
	if p := refused.Problem; p == "" || strings.HasSuffix(p, ".") || refused.Hint == "" || refused.File != "week47.xlsx" {
		t.Errorf("got file %q, problem %q and hint %q, want all of them, without a full stop", refused.File, p, refused.Hint)
	}
}

func TestFaults(t *testing.T) {
	t.Parallel()
	const good = `<row r="1"><c r="A1" t="s"><v>0</v></c></row>`
	rows := func(s string) parts { return plain(s) }
	base := plain(good)
	const strings1, styles, main, links = "xl/sharedStrings.xml", "xl/styles.xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
	cell := func(s string) parts { return rows(`<row r="1">` + s + `</row>`) }
	for _, c := range []struct {
		name string
		p    parts
		code finding.Code
		part string
		says string
	}{
		{"cut", base.with(parts{sheetOne: base[sheetOne][:len(base[sheetOne])-30]}), finding.FileXML, sheetOne, ""},
		{"cut in a tag", base.with(parts{sheetOne: base[sheetOne][:len(base[sheetOne])-5]}), finding.FileXML, sheetOne, ""},
		{"empty part", base.with(parts{sheetOne: " "}), finding.FileXML, sheetOne, "cut"},
		{"tags crossed", base.edit(t, sheetOne, "</row></sheetData>", "</sheetData></row>"), finding.FileXML, sheetOne, ""},
		{"tag closed with another prefix", rows(`<row xmlns:q="` + mainTransition + `"></q:row>`), finding.FileXML, sheetOne, ""},
		{"text behind the root", base.with(parts{sheetOne: base[sheetOne] + "x"}), finding.FileXML, sheetOne, ""},
		{"second root", base.with(parts{sheetOne: base[sheetOne] + "<a/>"}), finding.FileXML, sheetOne, ""},
		{"attribute twice", base.edit(t, sheetOne, `<row r="1"`, `<row r="1" r="1"`), finding.FileXML, sheetOne, ""},
		{"prefix never declared", base.edit(t, sheetOne, "<row", "<q:a></q:a><row"), finding.FileXML, sheetOne, ""},
		{"unknown entity", cell(`<c t="str"><v>&oak;</v></c>`), finding.FileXML, sheetOne, ""},
		{"control character", cell("<c t=\"str\"><v>\x02</v></c>"), finding.FileXML, sheetOne, ""},
		{"not UTF-8", cell("<c t=\"str\"><v>\xFF</v></c>"), finding.FileXML, sheetOne, ""},
		{"document type", base.edit(t, sheetOne, "<worksheet", `<!DOCTYPE worksheet [<!ENTITY a "b">]><worksheet`), finding.FileDoctype, sheetOne, "document type"},
		{"document type in the texts", base.edit(t, strings1, "<sst", `<!DOCTYPE sst><sst`), finding.FileDoctype, strings1, ""},
		{"text number too high", cell(`<c r="A1" t="s"><v>2</v></c>`), finding.FileIndex, sheetOne, "A1 points at text number \"2\", and there are 2 texts"},
		{"text number below zero", cell(`<c r="A1" t="s"><v>-1</v></c>`), finding.FileIndex, sheetOne, ""},
		{"style too high", cell(`<c r="A1" s="4"><v>1</v></c>`), finding.FileIndex, sheetOne, "A1 has the style \"4\", and there are 4 styles"},
		{"style of a blank cell", cell(`<c r="A1" s="4"/>`), finding.FileIndex, sheetOne, ""},
		{"style of a row", rows(`<row r="1" s="9"/>`), finding.FileIndex, sheetOne, "row 1"},
		{"style of a column", base.edit(t, sheetOne, "<sheetData>", `<cols><col min="1" max="1" style="9"/></cols><sheetData>`), finding.FileIndex, sheetOne, "A has"},
		{"cell twice", cell(`<c r="B1"/><c r="B1"><v>1</v></c>`), finding.FileOrder, sheetOne, "B1 stands twice"},
		{"cells out of order", cell(`<c r="B1"/><c r="A1"/>`), finding.FileOrder, sheetOne, "A1 stands"},
		{"row twice", rows(`<row r="2"/><row r="2"/>`), finding.FileOrder, sheetOne, "row 2 stands twice"},
		{"rows out of order", rows(`<row r="2"/><row r="1"/>`), finding.FileOrder, sheetOne, "row 1"},
		{"row 0", rows(`<row r="0"/>`), finding.FileOrder, sheetOne, "no row 0"},
		{"row past the last", rows(`<row r="1048577"/>`), finding.FileOrder, sheetOne, "1048576"},
		{"row number no number", rows(`<row r="1x"/>`), finding.FileOrder, sheetOne, "1x"},
		{"row without number past the last", rows(`<row r="1048576"/><row/>`), finding.FileOrder, sheetOne, "1048577"},
		{"column past the last", cell(`<c r="XFE1"/>`), finding.FileOrder, sheetOne, "XFE1"},
		{"cell without name past the last", cell(`<c r="XFD1"/><c/>`), finding.FileOrder, sheetOne, "16384"},
		{"no cell name", cell(`<c r="1A"/>`), finding.FileOrder, sheetOne, "1A"},
		{"cell in the wrong row", cell(`<c r="A2"/>`), finding.FileOrder, sheetOne, "A2 stands in row 1"},
		{"not a number", cell(`<c r="A1"><v>1,5</v></c>`), finding.FileValue, sheetOne, `"1,5"`},
		{"NaN", cell(`<c><v>NaN</v></c>`), finding.FileValue, sheetOne, ""},
		{"infinite", cell(`<c><v>INF</v></c>`), finding.FileValue, sheetOne, ""},
		{"too large", cell(`<c><v>1e999</v></c>`), finding.FileValue, sheetOne, ""},
		{"hexadecimal", cell(`<c><v>0x10</v></c>`), finding.FileValue, sheetOne, ""},
		{"grouped", cell(`<c><v>1_000</v></c>`), finding.FileValue, sheetOne, ""},
		{"neither true nor false", cell(`<c t="b"><v>2</v></c>`), finding.FileValue, sheetOne, ""},
		{"no date", cell(`<c t="d"><v>2024-02-30</v></c>`), finding.FileValue, sheetOne, ""},
		{"date before the first", cell(`<c t="d"><v>1899-12-31</v></c>`), finding.FileValue, sheetOne, ""},
		{"unknown type", cell(`<c t="z"><v>1</v></c>`), finding.FileValue, sheetOne, "z"},
		{"unknown type, blank", cell(`<c t="z"/>`), finding.FileValue, sheetOne, "z"},
		{"two values", cell(`<c><v>1</v><v>2</v></c>`), finding.FileValue, sheetOne, "two"},
		{"value in the wrong place", cell(`<c t="inlineStr"><v>1</v></c>`), finding.FileValue, sheetOne, ""},
		{"text in the wrong place", cell(`<c><is><t>1</t></is></c>`), finding.FileValue, sheetOne, ""},
		{"error of nothing", cell(`<c t="e"/>`), finding.FileValue, sheetOne, ""},
		{"hidden neither", rows(`<row r="1" hidden="maybe"/>`), finding.FileValue, sheetOne, "maybe"},
		{"tag in a value", cell(`<c><v>1<b/></v></c>`), finding.FileLayout, sheetOne, ""},
		{"text between tags", rows(`<row r="1">7</row>`), finding.FileLayout, sheetOne, ""},
		{"cell outside a row", rows(`<c r="A1"><v>1</v></c>`), finding.FileLayout, sheetOne, "<c>"},
		{"foreign row", rows(`<x:row xmlns:x="urn:x"/>`), finding.FileLayout, sheetOne, "<row>"},
		{"foreign cell", rows(`<row><x:c xmlns:x="urn:x"/></row>`), finding.FileLayout, sheetOne, "<c>"},
		{"no namespace", base.edit(t, sheetOne, mainNS, ""), finding.FileLayout, sheetOne, "<worksheet>"},
		{"other root", base.with(parts{sheetOne: "<html/>"}), finding.FileLayout, sheetOne, "<worksheet>"},
		{"no table", base.with(parts{sheetOne: "<worksheet " + mainNS + "/>"}), finding.FileLayout, sheetOne, "no table"},
		{"two tables", base.edit(t, sheetOne, "<sheetData>", "<sheetData/><sheetData>"), finding.FileLayout, sheetOne, "two tables"},
		{"row outside the table", base.edit(t, sheetOne, "<sheetData>", "<row/><sheetData>"), finding.FileLayout, sheetOne, "outside"},
		{"merged block", base.edit(t, sheetOne, "</sheetData>", `</sheetData><mergeCells><mergeCell ref="A0:B1"/></mergeCells>`), finding.FileOrder, sheetOne, "A0:B1"},
		{"columns", base.edit(t, sheetOne, "<sheetData>", `<cols><col min="0" max="1"/></cols><sheetData>`), finding.FileOrder, sheetOne, "columns"},
		{"columns twice", base.edit(t, sheetOne, "<sheetData>", `<cols><col min="1" max="16384"/><col min="5" max="5"/></cols><sheetData>`), finding.FileOrder, sheetOne, "twice"},
		{"sheet part missing", base.with(parts{sheetOne: ""}), finding.FilePartMissing, sheetOne, "missing"},
		{"texts missing", base.with(parts{strings1: ""}), finding.FilePartMissing, strings1, "missing"},
		{"styles missing", base.with(parts{styles: ""}), finding.FilePartMissing, styles, "missing"},
		{"comments missing", base.with(parts{"xl/worksheets/_rels/sheet1.xml.rels": relations(`<Relationship Id="x" Type="` + relKind + `comments" Target="../c.xml"/>`)}), finding.FilePartMissing, "xl/c.xml", "missing"},
		{"main part missing", base.with(parts{main: ""}), finding.FilePartMissing, main, "missing"},
		{"relationships missing", base.with(parts{links: ""}), finding.FilePartMissing, links, "missing"},
		{"first relationships missing", base.with(parts{"_rels/.rels": ""}), finding.FilePartMissing, "_rels/.rels", "missing"},
		{"sheet without a part", base.edit(t, main, ` r:id="rId1"`, ""), finding.FilePartMissing, main, `"Readings" is listed without a part`},
		{"sheet with an unknown part", base.edit(t, main, "rId1", "rId7"), finding.FilePartMissing, main, `"Readings" is listed without a part`},
		{"two sheets of one part", base.edit(t, main, "<sheets>", `<sheets><sheet name="B" sheetId="2" r:id="rId1"/>`), finding.FileLayout, main, "same part"},
		{"two sheets of one name", base.edit(t, main, "<sheets>", `<sheets><sheet name="READINGS" sheetId="2" r:id="rId2"/>`), finding.FileLayout, main, "two sheets"},
		{"sheet that is no sheet", base.edit(t, main, "rId1", "rId3"), finding.FileLayout, main, "styles"},
		{"no sheets", base.edit(t, main, `<sheet name="Readings" sheetId="1" r:id="rId1"/>`, ""), finding.FileLayout, main, "no sheets"},
		{"sheet of unknown state", base.edit(t, main, "<sheet ", `<sheet state="gone" `), finding.FileValue, main, "gone"},
		{"relationship twice", base.edit(t, links, "rId2", "rId1"), finding.FileLayout, links, "twice"},
		{"comment of no cell", base.with(parts{"xl/worksheets/_rels/sheet1.xml.rels": relations(`<Relationship Id="x" Type="` + relKind + `comments" Target="../c.xml"/>`), "xl/c.xml": `<comments ` + mainNS + `><commentList><comment ref="?"/></commentList></comments>`}), finding.FileOrder, "xl/c.xml", ""},
		{"two comments of a cell", base.with(parts{"xl/worksheets/_rels/sheet1.xml.rels": relations(`<Relationship Id="x" Type="` + relKind + `comments" Target="../c.xml"/>`), "xl/c.xml": `<comments ` + mainNS + `><commentList><comment ref="A1"/><comment ref="A1"/></commentList></comments>`}), finding.FileOrder, "xl/c.xml", "A1"},
		{"no content types", base.with(parts{"[Content_Types].xml": ""}), finding.FileOtherZip, "", ""},
		{"binary workbook", base.edit(t, "[Content_Types].xml", "vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml", "vnd.ms-excel.sheet.binary.macroEnabled.main"), finding.FileBinaryWorkbook, "", "xlsb"},
		{"written document", base.edit(t, "[Content_Types].xml", "spreadsheetml.sheet", "wordprocessingml.document"), finding.FileOtherOffice, "", ""},
		{"presentation", base.edit(t, "[Content_Types].xml", "spreadsheetml.sheet", "presentationml.presentation"), finding.FileOtherOffice, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read("week47.xlsx", c.p.pack(t))
			wantFault(t, err, c.code, c.part, c.says)
		})
	}
}

// TestZipFaults damages the packing and not the parts.
func TestZipFaults(t *testing.T) {
	t.Parallel()
	data := plain(`<row r="1"><c r="A1"><v>1</v></c></row>`).pack(t)
	name := []byte(sheetOne)
	local := bytes.Index(data, append([]byte{}, name...)) - 30
	central := bytes.LastIndex(data, name) - 46
	if local < 0 || !bytes.HasPrefix(data[local:], localSignature) || !bytes.HasPrefix(data[central:], centralSignature) {
		t.Fatalf("the headers of %s are not where they were looked for: %d, %d", name, local, central)
	}
	for _, c := range []struct {
		name   string
		change func(d []byte) []byte
		code   finding.Code
		part   string
		says   string
	}{
		{"cut in half", func(d []byte) []byte { return d[:len(d)/2] }, finding.FileDamaged, "", "cut off"},
		{"nothing", func([]byte) []byte { return nil }, finding.FileEmpty, "", ""},
		{"content", func(d []byte) []byte { d[local+30+len(name)+20] ^= 4; return d }, finding.FileDamaged, sheetOne, "checksum"},
		{"checksum in the directory", func(d []byte) []byte { d[central+16] ^= 1; return d }, finding.FileDamaged, sheetOne, ""},
		{"size in the directory", func(d []byte) []byte { d[central+24] ^= 1; return d }, finding.FileDamaged, sheetOne, ""},
		{"name in front", func(d []byte) []byte { d[local+31] ^= 1; return d }, finding.FileZipConflict, sheetOne, "name"},
		{"method in front", func(d []byte) []byte { d[local+8] ^= 8; return d }, finding.FileZipConflict, sheetOne, "packed"},
		{"size in front", func(d []byte) []byte { d[local+22] = 7; return d }, finding.FileZipConflict, sheetOne, "size"},
		{"packed size in front", func(d []byte) []byte { d[local+18] = 7; return d }, finding.FileZipConflict, sheetOne, "size"},
		{"checksum in front", func(d []byte) []byte { d[local+14] = 7; return d }, finding.FileZipConflict, sheetOne, "checksum"},
		{"locked", func(d []byte) []byte { d[local+6] |= 1; d[central+8] |= 1; return d }, finding.FileProtected, sheetOne, "password"},
		{"locked in front alone", func(d []byte) []byte { d[local+6] |= 1; return d }, finding.FileZipConflict, sheetOne, "password"},
		{"unknown packing", func(d []byte) []byte { d[local+8], d[central+10] = 99, 99; return d }, finding.FileDamaged, sheetOne, ""},
		{"part past the end", func(d []byte) []byte { d[central+23] = 0x7F; return d }, finding.FileZipConflict, sheetOne, "end of the file"},
		{"two entries of one place", func(d []byte) []byte {
			// The directory's entry of the styles now leads to the sheet.
			other := bytes.LastIndex(d, []byte("xl/styles.xml")) - 46
			copy(d[other+42:other+46], d[central+42:central+46])
			return d
		}, finding.FileZipConflict, "xl/styles.xml", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read("week47.xlsx", c.change(bytes.Clone(data)))
			wantFault(t, err, c.code, c.part, c.says)
		})
	}
}

func TestPartsThatShareAName(t *testing.T) {
	t.Parallel()
	p := plain(`<row r="1"/>`)
	p["XL/Worksheets/Sheet1.xml"] = p[sheetOne]
	_, err := Read("week47.xlsx", p.pack(t))
	wantFault(t, err, finding.FileZipConflict, sheetOne, "twice")
}

// TestPartInsideAnother packs a sound sheet a second time inside an unused part and lets the directory lead there: name,
// sizes and checksum all fit, and only the overlap gives it away.
func TestPartInsideAnother(t *testing.T) {
	t.Parallel()
	sound := plain(`<row r="1"><c r="A1"><v>1</v></c></row>`)
	inner := sound.pack(t)
	at := bytes.Index(inner, []byte(sheetOne)) - 30
	end := bytes.Index(inner[at+4:], []byte("PK")) + at + 4 // the descriptor or the next header
	var w bytes.Buffer
	z := zip.NewWriter(&w)
	hull, err := z.CreateHeader(&zip.FileHeader{Name: "a.bin", Method: zip.Store})
	if err == nil {
		_, err = hull.Write(inner[at:end])
	}
	for name, text := range sound {
		f, failed := z.Create(name)
		if failed == nil {
			_, failed = f.Write([]byte(text))
		}
		err = errors.Join(err, failed)
	}
	if err := errors.Join(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	data := w.Bytes()
	if _, err := Read("week47.xlsx", data); err != nil {
		t.Fatalf("got error %v before the directory was changed", err)
	}
	central := bytes.LastIndex(data, []byte(sheetOne)) - 46
	inside := bytes.Index(data, inner[at:end])
	binary.LittleEndian.PutUint32(data[central+42:], uint32(inside))
	_, err = Read("week47.xlsx", data)
	wantFault(t, err, finding.FileZipConflict, sheetOne, "inside another")
}

// TestDamageIsNamedFirst reads a part that has a fault and does not fit its checksum: the damage is the cause to tell.
func TestDamageIsNamedFirst(t *testing.T) {
	t.Parallel()
	// The fault stands in front of more text than the reader unpacks at once.
	rows := `<row r="2"/><row r="1"/>` + strings.Repeat("<row/>", 30000)
	data := plain(rows).pack(t)
	data[bytes.LastIndex(data, []byte(sheetOne))-46+16] ^= 1 // the checksum in the directory
	_, err := Read("week47.xlsx", data)
	wantFault(t, err, finding.FileDamaged, sheetOne, "checksum")
}
