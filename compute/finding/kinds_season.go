package finding

// seasonKinds are the findings of joining the weeks of a season.
var seasonKinds = []Kind{
	{"S001", Warning, "A load's use, limit, number of boards, places or days differ between two workbooks; the later one counts.", "Correct the one that is wrong."},
	{"S002", Warning, "A load went in after another of the same name had come out; they were taken as two loads.", "Give every load of a season a name of its own."},
	{"S003", Error, "A board is sold or used twice; it was counted once, where it stands first.", "Take it out of one of the two."},
	{"S004", Error, "A sale names a board that no workbook has, or that several loads have; it was not counted.", "Correct the number, or write the load beside it."},
	{"S005", Error, "More boards of a load were sold or used by the piece than were left; those left were counted.", "Check the number of pieces, and how many boards the load holds."},
	{"S006", Warning, "One sale by the piece has two numbers of pieces in two workbooks; the later one counts.", "Correct the one that is wrong."},
	{"S007", Warning, "A board's sizes differ between two workbooks by more than drying moves wood; the later ones count.", "Measure it again, or look whether two boards go by one number."},
	{"S008", Warning, "A board number stands in a load and in no load; they were counted as two boards.", "Write the load beside it if it is the same board."},
	{"S009", Warning, "A sale by the piece without a date stands in two workbooks; it was counted once.", "Write the day of the sale."},
	{"S010", Warning, "A workbook holds no date, so its place among the weeks is not known; it was taken as the first.", "Write the days of reading, weighing or selling."},
	{"S011", Error, "Boards were sold or used by the piece, but of which load is not known; they were not counted.", "Write the load beside them, or the numbers of the boards."},
	{"S012", Note, "Rows of sawing that stand in an earlier workbook too were counted once.", "Nothing, if they were carried over."},
	{"S013", Note, "Two workbooks are the same, byte for byte; they were counted once.", "Nothing; one of the two can go."},
	{"S014", Warning, "Rows of sawing without date, load or number are like some of an earlier workbook; they were counted again.", "Write the day sawn."},
}
