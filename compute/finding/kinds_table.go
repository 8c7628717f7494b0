package finding

// tableKinds are the findings about rows, columns and tables.
var tableKinds = []Kind{
	{"T001", Error, "A row lacks a field it can't do without; it is set aside.", "Fill the cell, or clear the row if it is not meant."},
	{"T002", Warning, "A heading is a near miss of a known one and was read as that.", "Correct the heading."},
	{"T003", Note, "A column has a heading that is not one drytally reads.", "Nothing, if drytally needn't know it."},
	{"T004", Note, "Cells left blank were filled from the cell above.", "Nothing, if that is what was meant."},
	{"T005", Error, "The wood is not in the species table.", "Write its everyday name, or explain yours once in the settings: WP = eastern white pine."},
	{"T006", Error, "The name can mean several woods.", "Write which one, or settle it once in the settings."},
	{"T007", Note, "A wood's name was taken in its usual sense.", "Write the full name if you mean another wood."},
	{"T008", Warning, "No table on a sheet could be recognized.", "Give its columns headings such as board, thickness, width, reading."},
	{"T009", Note, "Hidden sheets, rows or columns were read like the others.", "Unhide them to see what was read."},
	{"T010", Note, "A row of the settings is not one drytally knows.", "Nothing, if it is for yourself."},
	{"T011", Error, "A size no board has; the value was not used.", "Write the size with its unit."},
	{"T012", Warning, "A setting was given twice; the second was not taken.", "Keep one of the two."},
	{"T013", Error, "A list of board numbers could not be read.", "Write numbers apart by commas, a run as A01-A12."},
	{"T014", Warning, "Rows hold numbers but stand under no known heading.", "Put them under a heading row."},
	{"T015", Error, "A mark for \"the same as above\" with nothing above.", "Write the value itself."},
	{"T016", Warning, "A way of sawing that is not known, taken as not said.", "Write flat, quarter, mixed, or the ring angle in degrees."},
	{"T017", Error, "A time of day that could not be read.", "Write it as 15:30 or 3:30 pm."},
	{"T018", Warning, "A line under a boards heading holds a note where a board number should be.", "Nothing, if it is only a note."},
	{"T019", Warning, "One short name was given two meanings; the second was not taken.", "Keep one of the two."},
	{"T020", Error, "A setting's value can't be taken; the default is used.", "Correct the value."},
}
