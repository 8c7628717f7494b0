package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"net/url"
	"slices"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// container is the zip file of a workbook. Its parts are found by their name in lower case without a leading slash:
// part names do not tell capitals apart (ECMA-376 Part 2, part name equivalence; memory).
type container struct {
	file  string
	parts map[string]*zip.File
	left  sheet.Allowance // what may still be read
	// What the parts read so far take in the packed file, and which they are: a part counts once.
	packed int64
	opened map[*zip.File]bool
}

// The signatures of a zip file's central header and local header (PKWARE APPNOTE 4.3.12 and 4.3.7; memory).
var (
	centralSignature = []byte("PK\x01\x02")
	localSignature   = []byte("PK\x03\x04")
)

// partKey makes the name a part is found by: forward slashes, no leading slash, dots resolved, lower case.
func partKey(name string) string {
	name = strings.ReplaceAll(name, `\`, "/")
	var steps []string
	for step := range strings.SplitSeq(name, "/") {
		switch step {
		case "", ".":
		case "..":
			if len(steps) > 0 {
				steps = steps[:len(steps)-1]
			}
		default:
			steps = append(steps, step)
		}
	}
	return strings.ToLower(strings.Join(steps, "/"))
}

// encrypted is the flag bit of a part locked with a password (APPNOTE 4.4.4; memory).
const encrypted = 1

// openContainer lists the parts and checks that the file's directory agrees with the headers in front of the parts.
// The directory is what is read; another program may follow the headers, and then would see another workbook.
func openContainer(file string, data []byte) (*container, error) {
	if len(data) > sheet.MaxFileBytes {
		return nil, sheet.Refuse(finding.FileTooLarge, file, "", "the file is larger than %d MB", sheet.MaxFileBytes>>20)
	}
	if bytes.Count(data, centralSignature) > sheet.MaxEntries {
		return nil, sheet.Refuse(finding.FileTooLarge, file, "", "more than %d parts are packed in the file", sheet.MaxEntries)
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, sheet.Refuse(finding.FileDamaged, file, "", "the packed file is damaged or was cut off: its list of parts cannot be read")
	}
	c := &container{file: file, parts: make(map[string]*zip.File, len(z.File)), opened: map[*zip.File]bool{},
		left: sheet.Allowance{Bytes: sheet.MaxTotalBytes, Rows: sheet.MaxRows, Cells: sheet.MaxCells, Tags: sheet.MaxTags}}
	spans := make([]span, 0, len(z.File))
	for _, f := range z.File {
		if f.Flags&encrypted != 0 {
			return nil, sheet.Refuse(finding.FileProtected, file, f.Name, "this part is locked with a password")
		}
		s, err := checkLocalHeader(data, f)
		if err != nil {
			return nil, sheet.Refuse(finding.FileZipConflict, file, f.Name, err.Error())
		}
		spans = append(spans, s)
		if strings.HasSuffix(f.Name, "/") {
			continue // a folder
		}
		key := partKey(f.Name)
		if _, twice := c.parts[key]; twice {
			return nil, sheet.Refuse(finding.FileZipConflict, file, f.Name, "this part is packed twice")
		}
		c.parts[key] = f
	}
	slices.SortFunc(spans, func(a, b span) int { return int(a.from - b.from) })
	for i := 1; i < len(spans); i++ {
		if spans[i].from < spans[i-1].to {
			return nil, sheet.Refuse(finding.FileZipConflict, file, spans[i].name, "this part lies partly inside another")
		}
	}
	return c, nil
}

// span is the run of bytes of one packed part, its header included.
type span struct {
	from, to int64
	name     string
}

// checkLocalHeader finds the header in front of a part and compares it with the directory's entry. archive/zip gives
// the place of the data but not of the header, whose length depends on an extra field of unknown length: the header is
// searched backwards, shortest first.
func checkLocalHeader(data []byte, f *zip.File) (span, error) {
	const fixed = 30 // bytes of a local header before its name (APPNOTE 4.3.7; memory)
	offset, err := f.DataOffset()
	if err != nil {
		return span{}, errors.New("the directory points at a place where no part begins")
	}
	end := offset + int64(f.CompressedSize64)
	if offset > int64(len(data)) || end < offset || end > int64(len(data)) {
		return span{}, errors.New("the part runs past the end of the file")
	}
	for extra := int64(0); extra <= 0xFFFF; extra++ {
		at := offset - fixed - int64(len(f.Name)) - extra
		if at < 0 {
			break
		}
		h := data[at:]
		if !bytes.HasPrefix(h, localSignature) ||
			int(binary.LittleEndian.Uint16(h[26:])) != len(f.Name) ||
			int64(binary.LittleEndian.Uint16(h[28:])) != extra ||
			string(h[fixed:fixed+len(f.Name)]) != f.Name {
			continue
		}
		return span{at, end, f.Name}, compareHeaders(h, f)
	}
	return span{}, errors.New("the name in front of the part differs from its name in the directory")
}

// compareHeaders compares what a local header says with the directory's entry. Sizes and checksum may be left out of the
// local header when a descriptor follows the data (flag bit 3), and sizes of all ones stand for larger ones elsewhere.
func compareHeaders(h []byte, f *zip.File) error {
	const descriptor = 8
	flags := binary.LittleEndian.Uint16(h[6:])
	if flags&encrypted != 0 {
		return errors.New("the part is locked with a password, and the directory does not say so")
	}
	if binary.LittleEndian.Uint16(h[8:]) != f.Method {
		return errors.New("the part and the directory disagree about how it is packed")
	}
	crc, packed, size := binary.LittleEndian.Uint32(h[14:]), binary.LittleEndian.Uint32(h[18:]), binary.LittleEndian.Uint32(h[22:])
	later := flags&descriptor != 0
	same := func(local uint32, listed uint64) bool {
		return uint64(local) == listed || local == 0xFFFFFFFF || later && local == 0
	}
	if !same(packed, f.CompressedSize64) || !same(size, f.UncompressedSize64) {
		return errors.New("the part and the directory disagree about its size")
	}
	if crc != f.CRC32 && !(later && crc == 0) {
		return errors.New("the part and the directory disagree about its checksum")
	}
	return nil
}

// find gives the packed file of a part by its name or by its name with %20 and the like resolved, or nil.
func (c *container) find(part string) *zip.File {
	if f := c.parts[partKey(part)]; f != nil {
		return f
	}
	if plain, err := url.PathUnescape(part); err == nil {
		return c.parts[partKey(plain)]
	}
	return nil
}

// read opens a part, hands its XML to fn, and reads what fn leaves, so that the checksum is always compared. When the
// part is damaged that is the error told, whatever fn stumbled over.
func (c *container) read(part string, fn func(*stream) error) error {
	f := c.find(part)
	if f == nil {
		return sheet.Refuse(finding.FilePartMissing, c.file, part, "this part is missing from the file")
	}
	c.allow(f)
	most := min(c.left.Bytes, sheet.MaxPartBytes+sheet.Earnest(int64(f.CompressedSize64)).Bytes)
	if f.UncompressedSize64 > uint64(most) {
		return c.tooLarge(part)
	}
	body, err := f.Open()
	if err != nil {
		return sheet.Refuse(finding.FileDamaged, c.file, part, "this part cannot be unpacked: it is packed in a way no workbook uses")
	}
	defer body.Close()
	src := newSource(body, most)
	err = c.readAll(part, src, fn)
	c.left.Bytes = max(0, c.left.Bytes-src.read)
	switch cause := src.cause(); {
	case cause == nil:
		return err
	case errors.Is(cause, errTooLong):
		return c.tooLarge(part)
	default:
		return sheet.Refuse(finding.FileDamaged, c.file, part, "this part is damaged or was cut off: its content does not fit its checksum")
	}
}

// allow adds what the packed size of a part that is about to be read allows.
func (c *container) allow(f *zip.File) {
	if c.opened[f] {
		return
	}
	c.opened[f] = true
	before := sheet.Earnest(c.packed)
	c.packed += int64(f.CompressedSize64)
	now := sheet.Earnest(c.packed)
	c.left.Bytes += now.Bytes - before.Bytes
	c.left.Rows += now.Rows - before.Rows
	c.left.Cells += now.Cells - before.Cells
	c.left.Tags += now.Tags - before.Tags
}

// readAll runs fn over the stream, reads to the end of the part, and on an error unpacks the rest to learn whether the
// part is damaged.
func (c *container) readAll(part string, src *source, fn func(*stream) error) error {
	s := newStream(c, part, src)
	err := fn(s)
	if err == nil {
		err = s.finish()
	}
	if err != nil {
		src.drain()
	}
	return err
}

func (c *container) tooLarge(part string) error {
	return sheet.Refuse(finding.FileTooLarge, c.file, part, "this part unpacks to more than %d MB, or all parts together to more than %d MB, and is packed smaller than tables are",
		sheet.MaxPartBytes>>20, sheet.MaxTotalBytes>>20)
}

var errTooLong = errors.New("more bytes than allowed")

// maxToken bounds one tag or one run of text: MaxTextLength letters of up to eight bytes as XML writes them (&#xFFFF;),
// four times over for tags with many attributes.
const maxToken = 4 * 8 * (sheet.MaxTextLength + 1)

// source is an unpacked part. It counts what was unpacked and remembers what went wrong.
type source struct {
	io.Reader // the part in UTF-8
	body      io.Reader
	read      int64
	limit     int64
	err       error
}

// count is the side of a source that unpacks.
type count struct{ *source }

// Read unpacks.
func (c count) Read(p []byte) (int, error) {
	if c.err != nil {
		return 0, c.err
	}
	n, err := c.body.Read(p)
	c.err = err
	if c.read += int64(n); c.read > c.limit {
		c.err = errTooLong
		return 0, c.err
	}
	return n, err
}

// drain unpacks what is left, to have the checksum compared.
func (s *source) drain() { _, _ = io.Copy(io.Discard, count{s}) }

// cause is what went wrong while unpacking, or nil.
func (s *source) cause() error {
	if s.err == io.EOF {
		return nil
	}
	return s.err
}
