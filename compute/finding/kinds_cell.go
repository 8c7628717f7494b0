package finding

// The codes of what can be wrong or doubtful in a single cell.
const (
	CellNotCalculated Code = "C001"
	CellErrorValue    Code = "C002"
	CellTrueFalse     Code = "C003"
	CellLength        Code = "C004"
	CellComma         Code = "C005"
	CellDated         Code = "C006"
	CellReadBack      Code = "C007"
	CellAbout         Code = "C008"
	CellWords         Code = "C009"
	CellNotPositive   Code = "C010"
	CellFraction      Code = "C011"
	CellSeveral       Code = "C012"
	CellUnit          Code = "C013"
	CellSize          Code = "C014"
	CellReading       Code = "C015"
	CellWetDry        Code = "C016"
	CellPercentOrPart Code = "C017"
	CellOutOfRange    Code = "C018"
	CellDate          Code = "C019"
	CellDateOrder     Code = "C020"
	CellNoYear        Code = "C021"
	CellDayNumber     Code = "C022"
	CellTemperature   Code = "C023"
	CellPercent       Code = "C024"
	CellMass          Code = "C025"
	CellCount         Code = "C026"
	CellArea          Code = "C027"
	CellNumber        Code = "C028"
	CellYesNo         Code = "C029"
	CellNameDated     Code = "C030"
	CellStored        Code = "C031"
	CellNoUnit        Code = "C032"
	CellApart         Code = "C033"
	CellPercentStyle  Code = "C034"
	CellCutOut        Code = "C041"
	CellPrice         Code = "C042"
)

// cellKinds are the findings whose codes begin with C.
var cellKinds = []Kind{
	{CellNotCalculated, Error, "A cell holds a formula that was never calculated, so it has no value.",
		"Open the workbook in your spreadsheet program, let it calculate, and save it."},
	{CellErrorValue, Error, "A cell's formula gave an error instead of a value.", "Correct the formula, or write the value itself."},
	{CellTrueFalse, Error, "A cell holds TRUE or FALSE where a figure is meant.", "Write the figure, or leave the cell empty."},
	{CellLength, Error, "What stands there can't be read as a length.", "Write it like 11 3/8, 11.375, 10' 6\" or 289 mm."},
	{CellComma, Error, "A comma or point in a number can be read two ways.",
		"Write decimals with a point and thousands without a mark: 9.5, 1234."},
	{CellDated, Error, "A figure was turned into a date or a time by the spreadsheet program, or a date stands in the wrong column.",
		"Set the cells to text, then write the figure again."},
	{CellReadBack, Note, "A size such as 5/4 had been turned into a date; it was read back as the size.",
		"Nothing, if that size is meant; setting the column to text keeps it from happening."},
	{CellAbout, Warning, "A figure is marked as approximate; the figure was used as it stands.", "Measure again where it matters."},
	{CellWords, Note, "Words behind a figure were left out.", "Nothing, if the figure alone is right."},
	{CellNotPositive, Error, "A figure is zero or negative where that can't be.", "Write the figure, or leave the cell empty."},
	{CellFraction, Error, "A fraction is not one a rule or tape shows.", "Write it with 2, 4, 8, 16, 32 or 64 below the line, or as a decimal."},
	{CellSeveral, Error, "Several values or a range stand where one value is meant.", "Write one value."},
	{CellUnit, Error, "A unit is not one that is read here, or a word behind the figure could be a unit.",
		"Write in, ft, mm, cm or m behind a length, or move the words to the note."},
	{CellSize, Error, "What stands there can't be read as a size in one cell.", "Write thickness x width x length, such as 1 x 12 x 10'."},
	{CellReading, Error, "What stands there is not a moisture reading.",
		"Write 9.5 with a point, LO if the meter showed its low mark, OL for its high mark, or leave the cell empty."},
	{CellWetDry, Error, "A word such as wet or dry stands where a moisture reading is meant.",
		"Write what the meter showed: a number, LO or OL; or leave the cell empty."},
	{CellPercentOrPart, Error, "A figure may be meant in percent or as a part of one.", "Write it with a percent sign: 45 %."},
	{CellOutOfRange, Error, "A figure is outside what it can be.", "Look for a lost point or the wrong unit."},
	{CellDate, Error, "What stands there can't be read as a date.", "Write it as 2026-11-24 or 24 Nov 2026."},
	{CellDateOrder, Error, "It can't be told which figure of a date is the day and which the month.", "Write it as 2026-11-24 or 24 Nov 2026."},
	{CellNoYear, Error, "A date has no year and the file doesn't settle it.", "Write the year too: 24 Nov 2026."},
	{CellDayNumber, Error, "A bare number stands where a date is meant; it may be the count of days a spreadsheet keeps.",
		"Format the cell as a date, or write 2026-11-24."},
	{CellTemperature, Error, "What stands there can't be read as a temperature.", "Write it like 60 F or 15 C."},
	{CellPercent, Error, "What stands there can't be read as a percentage.", "Write it like 45 %."},
	{CellMass, Error, "What stands there can't be read as a weight.", "Write it like 4600 g, 4.6 kg, 10.1 lb or 10 lb 2 oz."},
	{CellCount, Error, "What stands there is not a whole number of pieces.", "Write a whole number."},
	{CellArea, Error, "What stands there can't be read as an area.", "Write it like 400 sq ft or 40 m2."},
	{CellNumber, Error, "What stands there can't be read as a number.", "Write the figure alone."},
	{CellYesNo, Error, "What stands there is neither yes nor no.", "Write yes or no, or leave the cell empty."},
	{CellNameDated, Error, "A name or number of a board or load was turned into a date by the spreadsheet program.",
		"Set the cells to text, then write the name again."},
	{CellStored, Error, "A cell stores a number that can't be used.", "Write the figure again."},
	{CellNoUnit, Error, "A bare number stands where nothing settles its unit.", "Write the unit behind the number or in the heading."},
	{CellApart, Error, "The values of one cell lie too far apart to belong to one board.", "Write them apart by commas, with their units."},
	{CellPercentStyle, Error, "A cell is shown in percent where a plain figure is meant.", "Format the cell as a number and write the figure again."},
	{CellCutOut, Warning, "Bad wood to cut out of a board can't be read one way; nothing is cut from the board.",
		"Write where it begins and ends, from the butt end: 14-20 in; butt 6 in; top 8 in; or a total: lose 8 in."},
	{CellPrice, Error, "What stands there can't be read as a price.", "Write it like 4.50 USD per board foot, 900 USD per 1000 board feet or 310 USD in all."},
}
