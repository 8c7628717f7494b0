// Package ingest turns the owner's files into what the computation takes.
package ingest

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"io"
	"path"
	"strings"
	"unicode/utf16"

	"drytally/compute/finding"
	"drytally/ingest/delim"
	"drytally/ingest/sheet"
	"drytally/ingest/xlsx"
)

// FileError says why a whole file was refused.
type FileError = sheet.FileError

// Open reads a workbook or a table written as text. It goes by the first bytes, not by the ending of the name: files are
// renamed. What is neither is refused with an *FileError that says what it is and what to do with it. Name is the
// file's name, of which the last step is used.
func Open(name string, data []byte) (*sheet.Workbook, error) {
	file := fileName(name)
	read := delim.Read
	switch code := otherKind(file, data); {
	case code != "":
		return nil, sheet.Refuse(code, file, "", finding.KindOf(code).Meaning)
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		read = xlsx.Read
	}
	book, err := read(file, data)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(data)
	book.SHA256 = hex.EncodeToString(sum[:])
	return book, nil
}

// fileName gives the last step of a path, whichever way its steps are parted.
func fileName(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }

// otherKind tells what a file is when it is not one to read; empty when it may be one.
func otherKind(file string, data []byte) finding.Code {
	switch {
	case strings.HasPrefix(file, "~$"):
		return finding.FileLock
	case len(data) == 0:
		return finding.FileEmpty
	case bytes.HasPrefix(data, compoundMark):
		return compoundKind(data)
	case bytes.HasPrefix(data, []byte("PK\x05\x06")):
		return finding.FileOtherZip // a zip file of no parts
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		if holdsOpenDocument(data) {
			return finding.FileOpenDocument
		}
		return ""
	case bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")):
		return finding.FilePDF
	case isPicture(data):
		return finding.FilePicture
	case isOldStream(data):
		return finding.FileOldWorkbook
	case isMarkup(data):
		return finding.FileWebPage
	case bytes.HasPrefix(data, []byte(`{\rtf`)):
		return finding.FileOtherOffice
	}
	return ""
}

// isPicture goes by the marks in front of the usual picture files (each format's own published description; memory).
func isPicture(data []byte) bool {
	for _, mark := range []string{"\x89PNG\r\n\x1a\n", "\xFF\xD8\xFF", "GIF87a", "GIF89a", "II*\x00", "MM\x00*"} {
		if bytes.HasPrefix(data, []byte(mark)) {
			return true
		}
	}
	if len(data) < 14 {
		return false
	}
	kind := string(data[8:12])
	switch {
	case string(data[:4]) == "RIFF" && kind == "WEBP":
		return true
	case string(data[4:8]) == "ftyp" && (kind == "heic" || kind == "heix" || kind == "mif1" || kind == "avif"):
		return true
	}
	// BM alone could begin a text: the size behind it must be the file's and the four bytes after that zero.
	return string(data[:2]) == "BM" && int(binary.LittleEndian.Uint32(data[2:])) == len(data) && binary.LittleEndian.Uint32(data[6:]) == 0
}

// isOldStream knows the oldest workbooks, which are a bare stream of records: the four bytes in front are the mark and
// the length of its first record ([MS-XLS] 2.4.21 and its forerunners; memory).
func isOldStream(data []byte) bool {
	for _, mark := range []string{"\x09\x00\x04\x00", "\x09\x02\x06\x00", "\x09\x04\x06\x00", "\x09\x08\x08\x00", "\x09\x08\x10\x00"} {
		if bytes.HasPrefix(data, []byte(mark)) {
			return true
		}
	}
	return false
}

// isMarkup knows web pages and other marked-up text by how they begin, in UTF-8 or in UTF-16.
func isMarkup(data []byte) bool {
	start := data[:min(len(data), 1024)]
	start = bytes.ReplaceAll(start, []byte{0}, nil)
	for _, mark := range []string{"\xEF\xBB\xBF", "\xFF\xFE", "\xFE\xFF"} {
		start = bytes.TrimPrefix(start, []byte(mark))
	}
	start = bytes.ToLower(bytes.TrimSpace(start))
	for _, tag := range []string{"<!", "<?xml", "<html", "<head", "<body", "<table", "<meta", "<style", "<div", "mime-version:"} {
		if bytes.HasPrefix(start, []byte(tag)) {
			return true
		}
	}
	return false
}

// holdsOpenDocument looks for the part that names the kind of an OpenDocument file (OpenDocument 1.2 part 3, section
// 3.3; memory). A zip file that cannot be listed is left to the reader of workbooks, which says what is wrong with it.
func holdsOpenDocument(data []byte) bool {
	const prefix = "application/vnd.oasis.opendocument."
	if bytes.Count(data, []byte("PK\x01\x02")) > sheet.MaxEntries {
		return false
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return false
	}
	for _, f := range z.File {
		if f.Name != "mimetype" {
			continue
		}
		body, err := f.Open()
		if err != nil {
			return false
		}
		defer body.Close()
		kind, _ := io.ReadAll(io.LimitReader(body, int64(len(prefix))))
		return string(kind) == prefix
	}
	return false
}

// compoundMark begins a compound file, the container of older office files and of locked newer ones ([MS-CFB] 2.2;
// memory).
var compoundMark = []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")

// compoundKind tells by the names of its streams what a compound file holds.
func compoundKind(data []byte) finding.Code {
	kind := finding.FileUnknown
	for _, name := range compoundStreams(data) {
		switch name {
		case "EncryptedPackage", "EncryptionInfo":
			return finding.FileProtected
		case "Workbook", "Book":
			kind = finding.FileOldWorkbook
		case "WordDocument", "PowerPoint Document", "VisioDocument":
			if kind == finding.FileUnknown {
				kind = finding.FileOtherOffice
			}
		}
	}
	return kind
}

// compoundStreams lists the names in a compound file's directory ([MS-CFB] 2.2, 2.3 and 2.6; memory). It follows the
// chain of sectors through the part of the sector table that the header itself points at; a larger file's directory
// is then listed as far as that goes.
func compoundStreams(data []byte) []string {
	const (
		header   = 512
		listed   = 109 // sectors of the sector table named in the header
		lastReal = 0xFFFFFFFA
		entry    = 128
	)
	if len(data) < header {
		return nil
	}
	word := func(at int) uint32 { return binary.LittleEndian.Uint32(data[at:]) }
	shift := binary.LittleEndian.Uint16(data[30:])
	if shift != 9 && shift != 12 {
		return nil
	}
	size := 1 << shift
	// sector gives where a sector begins, or -1 when it is not wholly in the file.
	sector := func(n uint32) int {
		if n > lastReal || (int64(n)+2)<<shift > int64(len(data)) {
			return -1
		}
		return (int(n) + 1) << shift
	}
	var names []string
	next := word(48)
	for range len(data)/size + 1 { // a chain that runs in a circle ends here
		at := sector(next)
		if at < 0 {
			break
		}
		for e := at; e < at+size; e += entry {
			bytesUsed := int(binary.LittleEndian.Uint16(data[e+64:]))
			if bytesUsed < 2 || bytesUsed > 64 {
				continue
			}
			var units []uint16
			for i := 0; i < bytesUsed-2; i += 2 {
				units = append(units, binary.LittleEndian.Uint16(data[e+i:]))
			}
			names = append(names, string(utf16.Decode(units)))
		}
		perSector := uint32(size / 4)
		if next/perSector >= listed {
			break
		}
		table := sector(word(76 + 4*int(next/perSector)))
		if table < 0 {
			break
		}
		next = word(table + 4*int(next%perSector))
	}
	return names
}
