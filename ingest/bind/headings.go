package bind

// Headings that several kinds share.
var (
	loadHeadings = []string{"load", "load no", "load id", "kiln load", "charge", "charge no", "batch", "kiln charge", "load number", "ld", "in load", "kiln run", "run",
		"load name", "kiln load no", "kiln load id", "charge id", "run no", "kiln no load", "kiln load number", "load code",
		"charge number", "batch no", "kiln batch", "from load no"}
	noteHeadings = []string{"note", "notes", "remark", "remarks", "comment", "comments", "memo", "anything else", "other", "said",
		"details", "info", "observations", "misc", "notes and comments", "note to self", "extra notes", "remarks and notes"}

	boardHeadings = []string{"board", "board id", "board no", "id", "no", "piece", "piece no", "pc no", "tag", "tag no", "bd", "board number", "number", "bd no", "brd", "tag number", "pc",
		"board name", "board id no", "tag id", "serial", "serial no", "plank", "plank no", "plank number", "slab", "slab no",
		"bd id", "ref", "ref no", "reference", "label", "barcode", "stick no", "brd no", "brd id", "bd number", "id no",
		"id number", "piece id", "piece number", "stick", "board tag", "marked", "mark"}

	sawingHeadings = []string{"sawing", "how sawn", "sawn how", "cut", "grain", "sawn as", "ring angle", "rings", "flat or quarter", "sawing pattern", "sawn flat or quarter",
		"orientation", "saw pattern", "cut type", "type of cut", "grain direction", "flat quarter", "fs qs", "qs fs",
		"sawn flat or qtr", "how cut", "grain angle", "rings angle", "growth rings"}
	courseHeadings = []string{"course", "layer", "tier", "row", "course no", "layer no", "level", "course from bottom", "layer from bottom", "crs",
		"row in stack", "stack layer", "stack row", "layer in stack", "course in stack", "shelf", "layer number", "tier no",
		"row no", "course number", "layer from bottom up", "stack course", "height in stack"}
	spotHeadings = []string{"spot", "place", "position", "pos", "place in course", "place in layer", "spot no", "place across", "across", "spot from left", "place from left", "slot",
		"position in row", "place in row", "board in layer", "slot no", "column", "spot in course", "spot in layer",
		"position in layer", "position in course", "place no", "pos in layer", "position number", "stack column", "spot number",
		"no in course", "no in layer"}

	readingHeadings = []string{"reading", "mc", "meter", "moisture", "meter reading", "readings", "moisture content", "mc reading", "meter mc", "pin reading",
		"reading a", "reading b", "reading c", "mc a", "mc b", "mc c", "meter says", "moisture reading", "shows", "meter shows", "meter showed", "reads",
		"moist", "mst", "m c", "pin mc", "pin meter", "pinless", "mc out", "mc dry", "final mc", "kd mc", "mc final", "mc after",
		"dry mc", "mc now", "current mc", "mc after kiln", "meter value", "raw reading", "raw mc", "meter raw", "uncorrected",
		"as read", "moisture meter", "mc pins", "meter shown", "moisture read", "moisture out", "final moisture", "mc measured",
		"measured mc", "moisture measured", "wood mc", "board mc", "mc of wood", "mc of board"}
	secondMeterHeadings = []string{"meter b", "second meter", "other meter", "meter 2", "check meter", "reading meter b", "reading meter 2", "reading second meter",
		"reading other meter", "mc meter b", "meter b reading", "second meter reading", "other meter reading", "meter 2 reading", "second meter mc", "meter b mc"}
	woodTempHeadings = []string{"wood temperature", "wood temp", "temp", "temperature", "deg", "board temp", "temp of wood", "wood degf", "wood degc", "wood f", "wood c", "wood t", "board temperature", "wood deg",
		"temp wood", "surface temp", "lumber temp", "t wood", "wood surface temp", "temperature of wood", "board t",
		"temp of board", "temp board", "wood tmp", "wd temp", "temp at reading"}
)
