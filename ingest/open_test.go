package ingest

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"drytally/compute/finding"
)

// compound makes a compound file of one directory sector with the given streams ([MS-CFB] 2.2 and 2.6; memory).
func compound(streams ...string) []byte {
	const sector = 512
	data := make([]byte, 3*sector) // header, sector table, directory
	copy(data, compoundMark)
	le := binary.LittleEndian
	le.PutUint16(data[30:], 9) // sectors of 512 bytes
	le.PutUint32(data[48:], 1) // the directory begins in sector 1
	le.PutUint32(data[76:], 0) // the sector table is sector 0
	le.PutUint32(data[sector+4:], 0xFFFFFFFE)
	for i, name := range append([]string{"Root Entry"}, streams...) {
		entry := data[2*sector+128*i:]
		units := utf16.Encode([]rune(name))
		for j, u := range units {
			le.PutUint16(entry[2*j:], u)
		}
		le.PutUint16(entry[64:], uint16(2*len(units)+2))
	}
	return data
}

func packed(t *testing.T, pairs ...string) []byte {
	t.Helper()
	var w bytes.Buffer
	z := zip.NewWriter(&w)
	for i := 0; i < len(pairs); i += 2 {
		f, err := z.Create(pairs[i])
		if err == nil {
			_, err = f.Write([]byte(pairs[i+1]))
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

func workbook(t *testing.T) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetCellValue("Sheet1", "A1", 7.5); err != nil {
		t.Fatal(err)
	}
	var w bytes.Buffer
	if err := f.Write(&w); err != nil {
		t.Fatal(err)
	}
	return w.Bytes()
}

func TestOpenRefuses(t *testing.T) {
	t.Parallel()
	circle := compound("x")
	binary.LittleEndian.PutUint32(circle[512+4:], 1)
	for _, c := range []struct {
		name, file string
		data       []byte
		code       finding.Code
	}{
		{"empty", "a.xlsx", nil, finding.FileEmpty},
		{"blank text", "a.csv", []byte("\n \n"), finding.FileEmpty},
		{"lock file", "folder/~$a.xlsx", []byte("\x05owner"), finding.FileLock},
		{"lock file, empty", `folder\~$a.xlsx`, nil, finding.FileLock},
		{"password", "a.xlsx", compound("EncryptionInfo", "EncryptedPackage"), finding.FileProtected},
		{"old workbook", "a.xlsx", compound("Workbook"), finding.FileOldWorkbook},
		{"older workbook", "a.xls", compound("Book"), finding.FileOldWorkbook},
		{"oldest workbook", "a.xls", []byte("\x09\x08\x08\x00\x00\x05\x05\x00"), finding.FileOldWorkbook},
		{"old document", "a.doc", compound("WordDocument"), finding.FileOtherOffice},
		{"other compound file", "a.db", compound("Anything"), finding.FileUnknown},
		{"compound file in a circle", "a.xls", circle, finding.FileUnknown},
		{"compound file cut", "a.xls", compound("Workbook")[:600], finding.FileUnknown},
		{"compound mark alone", "a.xls", compoundMark, finding.FileUnknown},
		{"open document", "a.xlsx", packed(t, "mimetype", "application/vnd.oasis.opendocument.spreadsheet", "content.xml", "<a/>"), finding.FileOpenDocument},
		{"pdf", "a.xlsx", []byte("%PDF-1.7\n"), finding.FilePDF},
		{"png", "a.csv", []byte("\x89PNG\r\n\x1a\n0000"), finding.FilePicture},
		{"jpeg", "a.csv", []byte("\xFF\xD8\xFF\xE0"), finding.FilePicture},
		{"gif", "a.csv", []byte("GIF89a"), finding.FilePicture},
		{"phone picture", "a.csv", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), finding.FilePicture},
		{"bitmap", "a.csv", append([]byte("BM\x10\x00\x00\x00\x00\x00\x00\x00"), make([]byte, 6)...), finding.FilePicture},
		{"web page", "a.xls", []byte("\r\n<HTML><table>"), finding.FileWebPage},
		{"web page with a mark", "a.xls", []byte("\uFEFF<!DOCTYPE html>"), finding.FileWebPage},
		{"web page in UTF-16", "a.xls", []byte("\xFF\xFE<\x00t\x00a\x00b\x00l\x00e\x00>\x00"), finding.FileWebPage},
		{"marked-up text", "a.xls", []byte(`<?xml version="1.0"?><Workbook/>`), finding.FileWebPage},
		{"rich text", "a.csv", []byte(`{\rtf1 a}`), finding.FileOtherOffice},
		{"zip without a workbook", "a.xlsx", packed(t, "a.txt", "a"), finding.FileOtherZip},
		{"zip of nothing", "a.xlsx", packed(t), finding.FileOtherZip},
		{"zip cut", "a.xlsx", workbook(t)[:2000], finding.FileDamaged},
		{"binary", "a.csv", []byte("a\x00\x01\x02\x00\x00\xFF"), finding.FileUnknown},
	} {
		t.Run(c.name, func(t *testing.T) {
			book, err := Open(c.file, c.data)
			var fault *FileError
			if !errors.As(err, &fault) {
				t.Fatalf("got %v and error %v, want a refusal with code %s", book, err, c.code)
			}
			if fault.Code != c.code || fault.Problem == "" || fault.Hint == "" || strings.ContainsAny(fault.File, `/\`) {
				t.Errorf("got %+v, want code %s with problem and hint", fault, c.code)
			}
		})
	}
}

func TestOpenReads(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		file string
		data []byte
		csv  bool
	}{
		{"a.xlsx", workbook(t), false},
		{"a.csv", workbook(t), false}, // the ending does not count
		{"a.csv", []byte("7.5\n"), true},
		{"a.xlsx", []byte("7.5\n"), true},
		{"a.csv", []byte("BM,II,GIF\n"), true},
	} {
		book, err := Open("week/"+c.file, c.data)
		if err != nil {
			t.Errorf("got error %v for %s", err, c.file)
			continue
		}
		if book.CSV != c.csv || book.Name != c.file || len(book.Sheets) != 1 || len(book.Sheets[0].Rows) != 1 {
			t.Errorf("got %+v for %s", book, c.file)
		}
	}
	// The SHA-256 of "abc" (FIPS 180-2, appendix B.1; memory).
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if book, err := Open("a.csv", []byte("abc")); err != nil || book.SHA256 != abc {
		t.Errorf("got %+v and error %v, want the sum %s", book, err, abc)
	}
}
