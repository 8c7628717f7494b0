package sheet

// The limits of both readers. They are far above any week's workbook (20 000 rows of ten columns are 9 MB unpacked) and
// low enough that a file made to exhaust the machine ends within two seconds and 200 MB. The byte limits follow from
// the speed of encoding/xml, about 25 MB a second on a small machine.
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
