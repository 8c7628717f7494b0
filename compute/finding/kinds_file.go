package finding

// The codes of what can be wrong with a whole file. They stand in sheet.FileError and in the list of messages.
const (
	FileEmpty          Code = "F001"
	FileLock           Code = "F002"
	FileProtected      Code = "F003"
	FileOldWorkbook    Code = "F004"
	FileBinaryWorkbook Code = "F005"
	FileOpenDocument   Code = "F006"
	FileOtherOffice    Code = "F007"
	FilePDF            Code = "F008"
	FilePicture        Code = "F009"
	FileWebPage        Code = "F010"
	FileOtherZip       Code = "F011"
	FileUnknown        Code = "F012"
	FileTooLarge       Code = "F013"
	FileDamaged        Code = "F014"
	FileZipConflict    Code = "F015"
	FileXML            Code = "F016"
	FileDoctype        Code = "F017"
	FilePartMissing    Code = "F018"
	FileIndex          Code = "F019"
	FileOrder          Code = "F020"
	FileValue          Code = "F021"
	FileLayout         Code = "F022"
	FileLetters        Code = "F023"
	FileQuote          Code = "F024"
	FileSeparator      Code = "F025"
	FileNoTable        Code = "F026"
)

const saveAsXLSX = "open it in your spreadsheet program and save it as .xlsx"
const takeEarlierCopy = "open it in your spreadsheet program and save it under a new name, or take an earlier copy; nothing was read from it"

// fileKinds are the findings whose codes begin with F.
var fileKinds = []Kind{
	{FileEmpty, Error, "the file holds nothing",
		"check that the right file was saved here, and that its copy or download was finished"},
	{FileLock, Error, "this is the small marker file an office program leaves beside an open workbook, not the workbook",
		"use the workbook beside it, whose name has no ~$ in front"},
	{FileProtected, Error, "the workbook is locked with a password, so its cells cannot be read",
		"open it with its password, take the password off, and save it as .xlsx"},
	{FileOldWorkbook, Error, "this is a workbook of the older .xls kind", saveAsXLSX},
	{FileBinaryWorkbook, Error, "this is a workbook of the binary .xlsb kind", saveAsXLSX},
	{FileOpenDocument, Error, "this is an OpenDocument file", saveAsXLSX},
	{FileOtherOffice, Error, "this is a written document, a presentation or a drawing, not a workbook",
		"copy its table into a workbook and save that as .xlsx"},
	{FilePDF, Error, "this is a PDF, a printed page and not a workbook",
		"use the workbook it was printed from"},
	{FilePicture, Error, "this is a picture, not a workbook",
		"type its figures into a workbook and save that as .xlsx"},
	{FileWebPage, Error, "this is a web page or other marked-up text, even if its name ends in .xls", saveAsXLSX},
	{FileOtherZip, Error, "this is a packed (zip) file with no workbook in it that can be read",
		"if workbooks are packed inside, unpack them first; otherwise " + saveAsXLSX},
	{FileUnknown, Error, "this is neither a workbook nor text",
		"check that this is the right file, or " + saveAsXLSX},
	{FileTooLarge, Error, "the file holds more than a week's workbook can sensibly hold",
		"delete empty rows and columns that only carry formatting, or split the file by weeks"},
	{FileDamaged, Error, "the file is damaged or was cut off while it was copied", takeEarlierCopy},
	{FileZipConflict, Error, "the file's own list of its parts does not fit the parts", takeEarlierCopy},
	{FileXML, Error, "a part of the workbook is cut off or not properly written", takeEarlierCopy},
	{FileDoctype, Error, "a part of the workbook begins with a document type, which a workbook never has", takeEarlierCopy},
	{FilePartMissing, Error, "a part the workbook names is not in the file", takeEarlierCopy},
	{FileIndex, Error, "a cell points at a text or a style that is not in the file", takeEarlierCopy},
	{FileOrder, Error, "a row or a cell stands twice, out of order, or in the wrong row", takeEarlierCopy},
	{FileValue, Error, "a cell stores something that is not what it says it is", takeEarlierCopy},
	{FileLayout, Error, "a part of the workbook is not laid out as a workbook is", takeEarlierCopy},
	{FileLetters, Error, "the text is written in letters that cannot be told with certainty",
		"open it in your spreadsheet program and save it as .xlsx or as CSV in UTF-8"},
	{FileQuote, Error, "a quotation mark opens a field and it cannot be told where the field ends",
		"write inch marks inside a quoted field doubled, or save the table as .xlsx"},
	{FileSeparator, Error, "the file's first line names a separator that is not a comma, semicolon, tab or upright stroke",
		"change the first line, or save the table as .xlsx"},
	{FileNoTable, Error, "no table in it could be recognized by its headings, so there is nothing to write papers of",
		"give its columns headings such as board, thickness, width, reading; the README lists them"},
}
