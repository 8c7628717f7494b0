package xlsx

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/xuri/excelize/v2"

	"drytally/ingest/sheet"
)

// twoSheets is a workbook with shared texts, styles, a comment and two sheets.
func twoSheets(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fail := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	code := "0.0%"
	percent, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
	fail(err)
	_, err = f.NewSheet("Loads")
	fail(err)
	for _, name := range []string{"Sheet1", "Loads"} {
		for r := 1; r <= 30; r++ {
			fail(f.SetSheetRow(name, fmt.Sprintf("A%d", r), &[]any{fmt.Sprintf("board %d", r), "red oak", 1 + float64(r)/16, r%3 == 0, 0.07 + float64(r)/1000}))
		}
		fail(f.SetCellStyle(name, "E1", "E30", percent))
		fail(f.MergeCell(name, "G1", "H2"))
		fail(f.AddComment(name, excelize.Comment{Cell: "B2", Author: "owner", Text: "end grain"}))
	}
	var w bytes.Buffer
	fail(f.Write(&w))
	return w.Bytes()
}

// TestFlippedBits flips single bits all over the file: in the packed parts that are read, in the headers and in the
// directory. Each flip must be refused, or change no cell.
func TestFlippedBits(t *testing.T) {
	t.Parallel()
	data := twoSheets(t)
	sound, err := Read("week47.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	var bytesAt []int // positions in parts that are read
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	end := 0
	for _, f := range z.File {
		from, err := f.DataOffset()
		if err != nil {
			t.Fatal(err)
		}
		end = max(end, int(from)+int(f.CompressedSize64))
		switch f.Name {
		case "docProps/app.xml", "docProps/core.xml", "xl/theme/theme1.xml", "xl/drawings/vmlDrawing1.vml", "xl/drawings/vmlDrawing2.vml":
			continue // not read
		}
		for i := range int(f.CompressedSize64) {
			bytesAt = append(bytesAt, int(from)+i)
		}
	}
	// The seed is arbitrary; it only has to stay the same.
	draw := rand.New(rand.NewPCG(47, 11))
	refused, same := 0, 0
	try := func(at int) {
		bit := byte(1) << draw.IntN(8)
		flipped := bytes.Clone(data)
		flipped[at] ^= bit
		got, err := Read("week47.xlsx", flipped)
		var fault *sheet.FileError
		switch {
		case errors.As(err, &fault):
			refused++
		case err != nil:
			t.Errorf("byte %d bit %#x: got error %v, which is no refusal", at, bit, err)
		case !reflect.DeepEqual(sound, got):
			t.Errorf("byte %d bit %#x: read without an error, and the cells differ", at, bit)
		default:
			same++
		}
	}
	for range 600 {
		try(bytesAt[draw.IntN(len(bytesAt))])
	}
	inParts := refused
	if inParts < 550 {
		t.Errorf("got %d of 600 flips inside parts refused, want nearly all: the rest may only be unused bits", inParts)
	}
	for range 300 {
		try(draw.IntN(len(data)))
	}
	for at := end; at < len(data); at++ { // the last descriptor and the directory
		try(at)
	}
	t.Logf("refused %d (inside parts %d of 600), nothing changed %d", refused, inParts, same)
}
