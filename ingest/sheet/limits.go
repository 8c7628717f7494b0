package sheet

// The limits of both readers. They are far above any week's workbook (20 000 rows of ten columns are 9 MB unpacked) and
// low enough that a small file made to exhaust the machine ends within two seconds and 200 MB.
//
// A workbook that is large in earnest is large packed too, and has more: for every byte that the parts read take in the
// packed file, the further bytes, rows and cells of Earnest. Ten years of a mill's readings pack to 13 times less than they
// unpack to, 15 bytes a row and 4 a cell; what is made to exhaust packs to a thousand times less.
const (
	MaxFileBytes  = 64 << 20 // a packed workbook, pictures included
	MaxTextBytes  = 32 << 20 // a CSV file
	MaxPartBytes  = 24 << 20 // one unpacked part of a workbook
	MaxTotalBytes = 32 << 20 // all unpacked parts that are read
	MaxEntries    = 10000    // parts packed in a workbook file
	MaxSheets     = 256
	MaxRows       = 200000  // rows of all sheets, also those that only carry formatting
	MaxCells      = 600000  // cells of all sheets, also those that only carry formatting
	MaxStrings    = 300000  // texts in a workbook's table of texts
	MaxMerges     = 65536   // merged blocks of one sheet
	MaxTags       = 2500000 // tags of all parts that are read: four for each of the cells
	MaxXMLDepth   = 64

	// The sizes of a spreadsheet page and the longest text of a cell: ECMA-376 Part 1, section 18.3.1, and what
	// spreadsheet programs share (memory).
	LastRow       = 1048576
	LastCol       = 16384
	MaxTextLength = 32767 // UTF-16 units
)

// Allowance is how much of a workbook is read.
type Allowance struct{ Bytes, Rows, Cells, Tags int64 }

// Earnest is what may be read on top of the limits when the parts that are read take so many bytes packed, up to bounds
// that hold for any file: a part of 192 MB, a million rows, three million cells.
func Earnest(packed int64) Allowance {
	const mostBytes, mostRows, mostCells = 192 << 20, LastRow, 3000000
	packed = min(packed, mostBytes)
	a := Allowance{Bytes: min(40*packed, mostBytes), Rows: min(packed/8, mostRows), Cells: min(packed, mostCells)}
	a.Tags = 4 * a.Cells
	return a
}
