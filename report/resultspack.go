package report

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"time"

	"github.com/xuri/excelize/v2"

	"drytally/compute"
)

// pageWidth is about how many characters of columns stay readable on one page laid on its side.
const pageWidth = 200

// printed lays every sheet on its side when printed, as few pages wide as stay readable, with its name and page at the foot.
func (b *book) printed(paper compute.Paper) {
	side, high, fit := "landscape", 0, true
	size := 1 // Letter; the numbers are those of the file format
	if paper == compute.A4 {
		size = 9
	}
	for _, name := range b.sheets {
		wide := 1 + int(b.widths[name])/pageWidth
		b.keep(b.f.SetPageLayout(name, &excelize.PageLayoutOptions{Size: &size, Orientation: &side, FitToWidth: &wide, FitToHeight: &high}))
		b.keep(b.f.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}))
		b.keep(b.f.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddFooter: "&L" + name + "&RPage &P of &N"}))
	}
}

// bookStamp stands where the file format wants to know when a workbook was made: not the clock, so that the same input
// gives the same bytes.
const bookStamp = "1980-01-01T00:00:00Z"

// bytes closes the book.
func (b *book) bytes(title, version string, paper compute.Paper) ([]byte, error) {
	b.printed(paper)
	if b.err == nil {
		b.f.SetActiveSheet(0)
	}
	b.keep(b.f.SetDocProps(&excelize.DocProperties{Title: bookText(title), Creator: "drytally " + version, LastModifiedBy: "drytally " + version,
		Created: bookStamp, Modified: bookStamp, Language: "en-US"}))
	if b.err == nil {
		// One text, so that the book has its part of texts; what it holds is written over.
		b.keep(b.f.SetCellStr(b.sheets[0], "A1", title))
	}
	if b.err != nil {
		return nil, b.err
	}
	made := partsMade{}
	if _, err := b.f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return made }).WriteTo(io.Discard); err != nil {
		return nil, err
	}
	return b.pack(made)
}

// partsMade takes the parts the library makes, by their names.
type partsMade map[string]*bytes.Buffer

func (p partsMade) Create(name string) (io.Writer, error) {
	p[name] = new(bytes.Buffer)
	return p[name], nil
}

func (p partsMade) AddFS(fs.FS) error { return errors.ErrUnsupported }

func (p partsMade) Close() error { return nil }

// partsOf gives what is written over in the parts of the book: the columns and rows of its sheets and the table of texts.
func (b *book) partsOf() map[string]func(made []byte) ([]byte, error) {
	parts := map[string]func([]byte) ([]byte, error){"xl/sharedStrings.xml": func([]byte) ([]byte, error) {
		var out bytes.Buffer
		b.texts.writeTo(&out)
		return out.Bytes(), nil
	}}
	for i, name := range b.sheets {
		// The library numbers the parts of the sheets in the order they were added.
		parts[fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1)] = func(made []byte) ([]byte, error) {
			from, to := bytes.Index(made, []byte("<sheetData")), bytes.Index(made, []byte("</sheetData>"))
			if from < 0 || to < from {
				return nil, fmt.Errorf("the sheet %q has no place for its rows", name)
			}
			out := bytes.NewBuffer(make([]byte, 0, len(made)+len(b.rows[name].buf)+64*len(b.rows[name].rows)))
			out.Write(made[:from])
			b.rows[name].writeTo(out)
			out.Write(made[to+len("</sheetData>"):])
			delete(b.rows, name)
			return out.Bytes(), nil
		}
	}
	return parts
}

// zipStart is the earliest time a zip archive can hold.
var zipStart = time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)

// pack writes the parts of the workbook in order of name and all of one time: the library's own order and times differ
// from run to run. The list of contents comes first, as the packing convention of the file format asks.
func (b *book) pack(made partsMade) ([]byte, error) {
	over := b.partsOf()
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	press, err := flate.NewWriter(nil, flate.BestSpeed) // one for all parts: making it takes longer than most of them
	if err != nil {
		return nil, err
	}
	out.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) {
		press.Reset(w)
		return press, nil
	})
	for _, name := range slices.Sorted(maps.Keys(made)) { // "[" comes before every letter
		data := made[name].Bytes()
		if put := over[name]; put != nil {
			if data, err = put(data); err != nil {
				return nil, err
			}
			delete(over, name)
		}
		w, err := out.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: zipStart})
		if err != nil {
			return nil, err
		}
		if _, err = w.Write(data); err != nil {
			return nil, err
		}
	}
	if err := out.Close(); err != nil {
		return nil, err
	}
	if len(over) > 0 {
		return nil, fmt.Errorf("the workbook has no part for %d of its tables", len(over))
	}
	return buf.Bytes(), nil
}
