// Package bind turns cells into records. One declarative table (Tables and SettingRows) holds every kind of table, its
// fields, the headings people give them, and what a cell of the column holds; the reader, the blank workbook, the help
// and the hints are all made from it.
package bind

import "drytally/compute"

// quantity says how a cell of a column is read.
type quantity uint8

const (
	aText quantity = iota
	anID
	aSpecies
	aSawing
	aThickness // lengths, with quarter names
	aLength    // one length
	aRun       // a board length: a bare number is feet, or millimetres in a metric workbook
	aReading   // one or more meter readings
	aDate
	aClock
	aTemperature
	aHumidity
	anMC
	aShare
	aMass
	aCount
	anArea
	anIDList
	aYesNo
	aSize // a whole size in one cell: 1x12x10'
	aMonth
	aCutOut
	aSpan    // a length of a building: a bare number has no unit in an inch workbook, for it may be feet or inches
	aBurden  // what a trailer weighs or carries: a bare number is pounds, or kilograms in a metric workbook
	aPrice   // money and what it is for
	aPriceBF // money for a board foot, by the heading
	aSum     // money for all, by the heading
)

// Field is one column of a table.
type Field struct {
	Name     string   // the project's name of the field, as in findings and results
	Headings []string // what people write above it, in the form headingWords gives
	What     quantity
	Required bool
	Many     bool   // several columns may hold it: thickness 1, thickness 2
	Fill     bool   // typed once and left blank below
	Within   string // Fill only while this field is left blank too, where it has a column
	Means    string // one line for the help and the blank workbook
	Other    bool   // another way to write what other fields hold; the blank workbook has no column for it
}

// Table is one kind of table.
type Table struct {
	Kind   compute.Kind
	About  string   // what the sheet is for, one line above its headings in the blank workbook
	Sheets []string // words in a sheet's name or title that speak for this kind
	Fields []Field
	Needs  [][]string // each group: at least one of the fields must have a column
	Tells  []string   // fields that speak for this kind more than for any other
}

// Tables holds every kind but the settings, which are rows of name and value.
var Tables = []Table{
	{
		Kind:   compute.KindCuts,
		About:  "Green boards as they came from the saw: one row for every size, or for every board.",
		Sheets: []string{"cut", "cuts", "sawn", "saw log", "saw day", "sawing", "green", "tally", "milled", "off the saw"},
		Fields: []Field{
			{Name: "species", What: aSpecies, Fill: true, Means: "the wood, by its everyday name", Headings: []string{
				"species", "wood", "kind", "kind of wood", "timber", "spp", "sp", "tree", "what wood",
				"spec", "specie", "species name", "wood species", "wood type", "type of wood", "tree species", "timber type",
				"wood kind", "lumber", "spc"}},
			{Name: "size", What: aSize, Other: true, Means: "thickness, width and length in one cell: 1x12x10'", Headings: []string{
				"size", "sizes", "dimension", "dimensions", "board size", "dims", "dim", "sawn size", "t x w x l", "size sawn",
				"rough size", "green size", "size t x w x l", "cut size", "board dims", "size of board"}},
			{Name: "green thickness", What: aThickness, Many: true, Means: "as sawn, measured in one or more places", Headings: []string{
				"green thickness a", "green thickness b", "green thickness c", "green thickness end", "green thickness mid", "green thickness middle", "thickness end",
				"thickness mid", "thickness middle", "thickness other end", "green thk end", "green thk mid", "green end", "green mid", "green middle", "green other end",
				"green thickness", "thickness", "thick", "thk", "t", "sawn thickness", "green thk", "green t", "thickness green",
				"sawn thick", "thickness sawn", "rough thickness", "green thick", "cut thickness",
				"thickns", "thickness rough", "rough t", "rough thk", "thk green", "t sawn", "cut thick", "thickness cut", "sawn thk",
				"sawn t"}},
			{Name: "sawn at", What: aThickness, Means: "what the saw was set to, alone or beside the thickness measured", Headings: []string{
				"sawn at", "saw setting", "set to", "quarter", "quarters", "sawn at setting", "aimed at", "target thickness", "setting aimed at", "saw set at"}},
			{Name: "green width", What: aLength, Means: "as sawn", Headings: []string{
				"green width", "width", "wide", "wd", "w", "sawn width", "green w", "width green", "width sawn", "rough width", "green wd",
				"sawn wide", "cut width", "wdth",
				"wid", "rough w", "rough wd", "w sawn", "width rough", "width cut", "w green", "sawn w", "sawn wd"}},
			{Name: "length", What: aRun, Fill: true, Means: "of the boards", Headings: []string{
				"length", "long", "len", "l", "lgth", "board length", "log length", "lg", "sawn length",
				"lth", "lngth", "lgt", "lng", "ln", "length of board", "cut length", "l sawn"}},
			{Name: "pieces", What: aCount, Means: "boards of this size", Headings: []string{
				"pieces", "pcs", "pc", "count", "qty", "quantity", "number", "boards", "how many", "no of boards", "number of boards",
				"no of pieces", "tally", "bds", "number of pieces", "no pcs", "ct",
				"brds", "no of pcs", "number pcs", "pcs cut", "boards cut", "boards sawn", "pieces cut", "pieces sawn", "nos", "amount",
				"piece count", "pc count", "board count", "tally count", "no of bds", "ea", "each", "total pcs", "total pieces",
				"sticks", "nr of boards", "how many pcs"}},
			{Name: "lot", What: anID, Means: "board or lot number", Headings: []string{
				"lot", "board", "board id", "lot no", "id", "board no", "log", "log no", "bundle", "pack", "lot or board", "stack", "lot board", "board or lot",
				"lot id", "tree no", "log id", "log number", "bundle no", "pack no", "stack no", "pile", "pile no", "unit no",
				"lift", "bundle id", "pack id", "board number"}},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load it goes into", Headings: loadHeadings},
			{Name: "sawing", What: aSawing, Means: "flat, quarter, mixed, or the ring angle in degrees", Headings: sawingHeadings},
			{Name: "date", What: aDate, Fill: true, Means: "day sawn", Headings: []string{"date", "day", "sawn on", "date sawn", "when", "sawn",
				"date cut", "cut on", "cut date", "milled on", "date milled", "milled", "saw date", "sawing date", "date of sawing",
				"sawn date", "day sawn", "date of cut"}},
			{Name: "stickered", What: aLength, Means: "sticker thickness", Headings: []string{"stickers", "sticker", "stickered", "sticker thickness",
				"stickered at", "stickers used", "sticker size", "stacked on"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"green thickness", "sawn at", "size"}, {"green width", "size"}, {"pieces", "size", "lot"}},
		Tells: []string{"sawing", "stickered", "green thickness", "sawn at", "green width", "pieces"},
	},
	{
		Kind:   compute.KindBoards,
		About:  "Dry boards as measured: one row for every board. A board may be measured in several places.",
		Sheets: []string{"boards", "board", "dry boards", "dry", "stack", "measured", "sizes", "after kiln", "out of kiln", "dried", "pile", "pcs"},
		Fields: []Field{
			{Name: "board", What: anID, Required: true, Means: "the board's number", Headings: boardHeadings},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load it was dried in", Headings: loadHeadings},
			{Name: "species", What: aSpecies, Fill: true, Means: "the wood", Headings: []string{"species", "wood", "kind", "kind of wood", "timber", "spp", "sp",
				"spec", "specie", "species name", "wood species", "wood type", "type of wood", "timber type", "wood kind", "lumber",
				"spc"}},
			{Name: "size", What: aSize, Other: true, Means: "dry thickness, width and length in one cell", Headings: []string{
				"size", "dry size", "dimension", "dimensions", "board size", "dims", "dim",
				"actual size", "size dry", "measured size", "kd size", "size of board"}},
			{Name: "dry thickness", What: aThickness, Many: true, Means: "measured dry, in one or more places", Headings: []string{
				"dry thickness", "thickness", "thick", "thk", "t", "dry thk", "dry t", "thickness dry", "thickness a", "thickness b", "thickness c",
				"thk a", "thk b", "thk c", "thick end", "thick mid", "thick middle", "thickness end", "thickness middle", "thickness mid", "dry thick", "t end", "t mid",
				"thick other end", "thickness other end", "thickness one end", "thick one end", "thickness far end", "thick far end", "thin end", "butt end", "top end", "thk end", "thk mid", "thk middle",
				"actual thickness", "measured thickness", "kd thickness", "thickness after", "act thickness", "actual t", "actual thk",
				"thickness kd", "thickns", "thickness measured", "thk dry", "t dry", "thickness after kiln", "thickness after drying",
				"dried thickness"}},
			{Name: "dry width", What: aLength, Means: "measured dry", Headings: []string{
				"dry width", "width", "wide", "wd", "w", "dry w", "width dry", "wdth", "dry wd", "width measured", "face width", "dry wide",
				"wid", "actual width", "kd width", "width after", "actual w", "w dry", "width kd", "wd dry", "width after drying",
				"width after kiln", "dried width", "measured width"}},
			{Name: "length", What: aRun, Fill: true, Means: "of the board", Headings: []string{"length", "long", "len", "l", "lgth", "dry length", "board length", "lg",
				"lth", "lngth", "lgt", "lng", "ln", "actual length", "length dry", "kd length"}},
			{Name: "green thickness", What: aThickness, Many: true, Means: "as it came from the saw, in one or more places", Headings: []string{
				"green thickness a", "green thickness b", "green thickness c", "green thickness end", "green thickness mid", "green thickness middle",
				"green thk end", "green thk mid", "green end", "green mid", "green middle", "green other end",
				"green thickness", "green thk", "green t", "sawn thickness", "thickness green", "thickness sawn", "was thick", "green thick",
				"thickness before", "rough thickness", "rough thk", "rough t", "thk green", "t green", "thickness rough", "sawn thk",
				"sawn t", "cut thickness", "thickness off saw"}},
			{Name: "sawn at", What: aThickness, Means: "what the saw was set to, beside the thickness measured", Headings: []string{
				"sawn at", "sawn at setting", "aimed at", "target thickness", "setting aimed at", "saw set at"}},
			{Name: "green width", What: aLength, Means: "as it came from the saw", Headings: []string{
				"green width", "green w", "sawn width", "width green", "width sawn", "was wide", "green wd", "green wide",
				"width before", "rough width", "rough w", "w green", "wd green", "width rough", "sawn wd", "cut width", "width off saw"}},
			{Name: "nominal", What: aThickness, Means: "nominal thickness: 4/4, 5/4", Headings: []string{
				"nominal", "quarter", "quarters", "nominal thickness", "nom", "nom thickness", "called", "sold as", "trade size",
				"nominal t", "nom t", "nominal thk", "thickness nominal", "nom thk", "nom thick", "trade thickness", "grade thickness"}},
			{Name: "nominal width", What: aLength, Means: "nominal width of softwood", Headings: []string{"nominal width", "nom width", "nom w", "width nominal"}},
			{Name: "cup", What: aLength, Means: "hollow across the face", Headings: []string{"cup", "cupped", "cupping", "cup depth",
				"cup in middle", "cupped by"}},
			{Name: "bow", What: aLength, Means: "flatwise bend end to end", Headings: []string{"bow", "bowed",
				"bow depth"}},
			{Name: "crook", What: aLength, Means: "edgewise bend end to end", Headings: []string{"crook", "crooked", "edge bend", "spring",
				"crook depth", "sweep"}},
			{Name: "twist", What: aLength, Means: "height of the free corner", Headings: []string{"twist", "wind", "twisted",
				"twist height", "winding"}},
			{Name: "cut out", What: aCutOut, Means: "bad wood by length, measured from the butt end: 14-20 in; 3' to 3'6\"; 4-9 in from the top; butt 6 in; or lose 8 in", Headings: []string{
				"cut out", "cut outs", "to cut out", "defects", "defect", "defects from butt", "defects from butt end", "cut out from butt", "cut out from butt end",
				"bad wood", "bad wood from butt", "lose", "to lose", "length to lose", "lengths to lose", "loses"}},
			{Name: "sawing", What: aSawing, Means: "flat, quarter, mixed, or the ring angle in degrees", Headings: sawingHeadings},
			{Name: "course", What: aCount, Means: "layer in the stack, 1 at the bottom", Headings: courseHeadings},
			{Name: "spot", What: aCount, Means: "place in the layer, 1 at the left", Headings: spotHeadings},
			{Name: "reading", What: aReading, Many: true, Means: "what the meter showed", Headings: readingHeadings},
			{Name: "second meter", What: aReading, Means: "what a second meter showed on the same board", Headings: secondMeterHeadings},
			{Name: "wood temperature", What: aTemperature, Many: true, Fill: true, Means: "of the wood, not the air", Headings: woodTempHeadings},
			{Name: "date", What: aDate, Fill: true, Means: "day measured", Headings: []string{"date", "day", "measured", "read on", "date measured", "date read", "measured on",
				"date tested", "tested", "tested on", "date checked", "checked", "checked on", "date of reading", "reading date",
				"mc date", "date of measuring"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"board"}, {"dry thickness", "dry width", "size", "length", "cup", "course"}},
		Tells: []string{"cup", "bow", "crook", "twist", "dry thickness", "dry width", "course", "spot", "board"},
	},
	{
		Kind:   compute.KindReadings,
		About:  "What the moisture meter showed: one row for every reading, by the board's number or by its place in the stack.",
		Sheets: []string{"reading", "readings", "meter", "mc", "moisture", "meter readings", "pins"},
		Fields: []Field{
			{Name: "board", What: anID, Fill: true, Means: "the board's number", Headings: boardHeadings},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load", Headings: loadHeadings},
			{Name: "course", What: aCount, Means: "layer in the stack, 1 at the bottom", Headings: courseHeadings},
			{Name: "spot", What: aCount, Means: "place in the layer, 1 at the left", Headings: spotHeadings},
			{Name: "reading", What: aReading, Required: true, Many: true, Means: "what the meter showed", Headings: readingHeadings},
			{Name: "second meter", What: aReading, Means: "what a second meter showed on the same board", Headings: secondMeterHeadings},
			{Name: "which meter", What: aText, Fill: true, Means: "the meter's name, when several are used", Headings: []string{
				"which meter", "meter used", "meter name", "read with", "with meter", "with which meter", "by meter", "name of meter",
				"sample", "sample no"}},
			{Name: "wood temperature", What: aTemperature, Many: true, Fill: false, Means: "of the wood, not the air", Headings: woodTempHeadings},
			{Name: "date", What: aDate, Fill: true, Means: "day read", Headings: []string{"date", "day", "when", "read on", "date read", "measured", "measured on", "date measured", "read",
				"date tested", "tested", "tested on", "date checked", "checked", "checked on", "date of reading", "reading date",
				"mc date", "reading taken", "taken on", "date taken", "metered", "metered on"}},
			{Name: "depth", What: aLength, Means: "depth of the pins", Headings: []string{"depth", "pin depth", "pins", "how deep",
				"depth of pins", "pin length", "needle depth", "depth of reading", "pins deep", "reading depth"}},
			{Name: "where", What: aText, Means: "end or middle, face or core", Headings: []string{
				"where", "where on board", "end middle", "end or middle", "face core", "location", "at", "spot on board", "where along board", "place on board", "where read",
				"loc", "posn", "where measured", "where on the board", "part of board", "point", "point on board"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"reading"}, {"board", "course", "spot"}},
		Tells: []string{"reading", "wood temperature", "depth", "where"},
	},
	{
		Kind:   compute.KindWeights,
		About:  "Sample boards weighed while they dry, and the sections cut from them, weighed wet and ovendry.",
		Sheets: []string{"weight", "weights", "sample", "samples", "sample boards", "oven", "sections", "weighings"},
		Fields: []Field{
			{Name: "sample", What: anID, Required: true, Fill: true, Means: "the sample board's number", Headings: []string{
				"sample", "sample id", "sample no", "sample board", "board", "board id", "board no", "id", "no", "sb", "piece", "sample number", "which sample",
				"sample name", "sb no", "sb number", "kiln sample", "board number", "board name", "sample board no", "sample board id",
				"sample board number", "spl", "bd", "bd no"}},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load", Headings: loadHeadings},
			{Name: "date", What: aDate, Fill: false, Means: "day weighed", Headings: []string{"date", "day", "when", "weighed on", "weighed", "date weighed",
				"date of weighing", "weighing date", "weigh date", "day weighed"}},
			{Name: "weight", What: aMass, Means: "of the sample board", Headings: []string{
				"weight", "wt", "weight now", "board weight", "sample weight", "mass", "weighs", "scale", "sample board weight", "wt of sample",
				"current weight", "weight today", "present weight", "new weight", "current wt", "wt now", "wt today", "gross weight",
				"total weight", "g", "grams", "kg", "lb", "lbs", "pounds", "weighing", "weight of board", "whole board"}},
			{Name: "section wet", What: aMass, Means: "wet weight of a section", Headings: []string{
				"section wet", "wet", "wet weight", "section wet weight", "wet wt", "green weight", "section green", "section green weight", "before oven", "wet section", "sec wet", "section wet wt",
				"green wt", "section green wt", "wet wt section", "sec green", "section weight wet", "wet section weight", "sec wet wt",
				"section wt wet", "initial section weight", "slice wet", "wafer wet", "cookie wet"}},
			{Name: "section ovendry", What: aMass, Means: "ovendry weight of the same section", Headings: []string{
				"section ovendry", "dry", "ovendry", "oven dry", "ovendry weight", "oven dry weight", "dry weight", "od", "od weight", "section dry", "section oven dry", "after oven",
				"section dry weight", "dry wt", "od wt", "dry section", "sec od", "section od", "section ovendry weight", "bone dry", "section ovendry wt", "section oven dry wt", "section oven dry weight",
				"odw", "oven wt", "oven weight", "oven dried", "oven dried weight", "dry section weight", "section od weight", "sec dry",
				"dried", "section wt dry", "final section weight", "slice dry", "wafer dry", "cookie dry", "bone dry weight",
				"section weight dry", "zero weight"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"sample"}, {"weight", "section wet"}},
		Tells: []string{"weight", "section wet", "section ovendry"},
	},
	{
		Kind:   compute.KindAir,
		About:  "The air in the kiln, the shed or the shop: dry bulb with relative humidity or wet bulb. A probe in a board has its own column.",
		Sheets: []string{"air", "kiln air", "kiln log", "log", "climate", "temperature", "humidity", "chamber"},
		Fields: []Field{
			{Name: "date", What: aDate, Required: true, Fill: true, Means: "day, or day and time", Headings: []string{
				"date", "day", "date time", "when", "time and date", "date and time", "read at", "timestamp",
				"time stamp", "datetime", "logged", "logged at", "date logged", "date of reading", "day and time", "reading time"}},
			{Name: "time", What: aClock, Means: "time of day, when it has its own column", Headings: []string{"time", "clock", "hour", "time of day",
				"time read", "hr", "hours", "at time"}},
			{Name: "dry bulb", What: aTemperature, Means: "air temperature", Headings: []string{
				"dry bulb", "temperature", "temp", "deg", "air temp", "air temperature", "kiln temp", "db", "dry", "kiln temperature", "air", "dry bulb temp", "chamber temp",
				"dry bulb temperature", "temp dry bulb", "temp db", "db temp", "inside temp", "temp inside", "temp in kiln",
				"temperature in kiln", "kiln t", "air t", "t air", "ambient", "ambient temp", "ambient temperature", "t"}},
			{Name: "wet bulb", What: aTemperature, Means: "wet-bulb temperature", Headings: []string{"wet bulb", "wb", "wet", "wet bulb temp", "wet bulb temperature",
				"wb temp", "temp wb", "temp wet bulb", "wick", "wick temp"}},
			{Name: "humidity", What: aHumidity, Means: "relative humidity", Headings: []string{
				"relative humidity", "humidity", "rh", "rel hum", "rel humidity", "air humidity",
				"hum", "humid", "kiln rh", "kiln humidity", "rh in kiln", "inside rh", "inside humidity", "relative hum", "humidity rh",
				"rel humid", "r humidity", "hygrometer", "humidity in kiln"}},
			{Name: "core temperature", What: aTemperature, Many: true, Means: "of a probe in the core of a board, never the air", Headings: []string{
				"core temperature", "core temp", "core", "board core", "core of board", "probe in board", "temp in core", "temperature in core", "wood core",
				"core probe", "board core temp", "center of board", "centre of board", "in the board", "in board"}},
			{Name: "where", What: aText, Means: "kiln, shed, shop, core of a board ...", Headings: []string{"where", "place", "location", "room", "sensor", "position"}},
			{Name: "load", What: anID, Fill: true, Means: "the load in the kiln", Headings: loadHeadings},
			{Name: "running", What: aText, Means: "what was running: fans, vents, heat", Headings: []string{
				"running", "what was running", "fans", "fan", "on", "vents", "state", "running what", "what ran",
				"vent", "vents open", "heater", "heat", "dehumidifier", "dh", "fan status", "mode", "status", "fans running",
				"equipment", "machine", "heat on", "fan on"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"date"}, {"dry bulb", "core temperature"}, {"humidity", "wet bulb", "core temperature"}},
		Tells: []string{"dry bulb", "wet bulb", "humidity", "running", "time", "core temperature"},
	},
	{
		Kind:   compute.KindWanted,
		About:  "Finished pieces somebody wants. The cut sheet says what to set the saw to for each.",
		Sheets: []string{"wanted", "want", "orders", "order", "to make", "needed", "cut list", "project", "needs", "wish"},
		Fields: []Field{
			{Name: "piece", What: aText, Required: true, Means: "what it is", Headings: []string{
				"piece", "item", "what", "part", "product", "piece name", "name", "description", "for", "wanted", "what for", "job",
				"part name", "component", "piece id", "product name", "what it is", "item no", "element", "piece wanted", "items",
				"pieces wanted"}},
			{Name: "species", What: aSpecies, Required: true, Fill: true, Means: "the wood", Headings: []string{
				"species", "wood", "kind of wood", "timber", "spp", "sp", "kind",
				"spec", "specie", "species name", "wood species", "wood type", "type of wood", "timber type", "wood kind", "lumber",
				"material", "spc"}},
			{Name: "size", What: aSize, Other: true, Means: "finished thickness, width and length in one cell", Headings: []string{"size", "finished size", "dimension", "dimensions", "final size",
				"finished dimensions", "finished dims", "dims", "dim", "net size", "planed size", "size finished", "target size"}},
			{Name: "finished thickness", What: aThickness, Means: "planed", Headings: []string{
				"finished thickness", "thickness", "thick", "thk", "t", "final thickness", "planed thickness", "finish thickness", "net thickness",
				"thickness finished", "planed to", "fin t", "fin thk", "finished thk", "finished thick", "finished t", "thickness planed",
				"net t", "net thk", "final t", "final thk", "target thickness", "thickness net", "thickness final", "finish t",
				"finish thk", "dressed thickness", "planed t", "planed thk", "thick finished", "thk finished", "surfaced thickness",
				"thickns"}},
			{Name: "finished width", What: aLength, Means: "overall, with tongue or lap", Headings: []string{
				"finished width", "width", "wide", "wd", "w", "final width", "overall width", "finish width", "net width", "width finished", "fin w", "fin wd",
				"finished wd", "finished wide", "finished w", "overall", "width overall",
				"wid", "net w", "final w", "target width", "width net", "width final", "finish w", "dressed width", "planed width",
				"planed w", "width planed", "surfaced width", "wd finished"}},
			{Name: "face", What: aLength, Means: "what shows, when less than the overall width", Headings: []string{
				"face", "exposure", "face width", "exposed", "showing", "face or exposure", "coverage width", "shows", "cover", "covers", "face exposure"}},
			{Name: "lap", What: aLength, Means: "lap or tongue; of a door's rail or panel the depth of tenon or groove", Headings: []string{
				"lap", "lap or tongue", "tongue", "tongue width", "lap width", "overlap", "rabbet width", "tongue size", "groove", "groove depth", "depth of groove", "tenon"}},
			{Name: "gap", What: aLength, Means: "between the boards of board and batten", Headings: []string{
				"gap", "gap between boards", "gap between", "space between", "spacing"}},
			{Name: "length", What: aRun, Means: "of one piece", Headings: []string{"length", "long", "len", "l", "lg", "lgth", "finished length", "cut length", "piece length",
				"net length", "final length", "finish length", "finished l", "lth", "lngth", "lgt", "length finished", "length needed"}},
			{Name: "pieces", What: aCount, Means: "how many", Headings: []string{
				"pieces", "pcs", "pc", "count", "qty", "quantity", "number", "how many", "no of pieces", "number of pieces", "no", "ct",
				"required", "needed", "qty needed", "qty required", "no needed", "number needed", "pieces needed", "pcs needed",
				"count needed", "number required", "no required", "pcs required", "qty req d", "no req d", "amount", "ea", "no of pcs",
				"pcs wanted", "number wanted", "ordered", "how many pcs", "how many wanted"}},
			{Name: "area", What: anArea, Means: "to cover, instead of pieces", Headings: []string{
				"area", "square feet", "sqft", "sf", "area to cover", "coverage", "area sqft", "square metres", "m2", "sq m", "area m2", "floor area", "wall area",
				"area needed", "square footage", "surface", "to cover", "cover area", "area wanted", "total area", "surface area"}},
			{Name: "openings", What: anArea, Means: "doors and windows to take off the area", Headings: []string{
				"openings", "area of openings", "openings area", "less openings", "doors and windows", "windows and doors", "opening area"}},
			{Name: "wall height", What: aRun, Means: "of the wall to cover; of a door's part, of the door", Headings: []string{
				"wall height", "height", "height of wall", "height to cover", "door height", "height of door"}},
			{Name: "wall width", What: aRun, Means: "of the wall to cover, along it; of a door's part, of the door", Headings: []string{
				"wall width", "wall length", "run of wall", "wall run", "length of wall", "width of wall", "door width", "width of door"}},
			{Name: "profile", What: aText, Means: "square, lapped, beveled, tongue and groove, board and batten, batten, stile, rail, panel", Headings: []string{"profile", "shape", "edge", "pattern", "edges", "milling",
				"edge profile", "joint", "t and g", "tongue and groove", "type of edge", "milled edge"}},
			{Name: "use", What: aText, Fill: false, Means: "where it goes: flooring, cladding", Headings: []string{"use", "where", "goes where", "where it goes", "used for", "used as", "service",
				"end use", "purpose", "application", "room", "for use", "intended use"}},
			{Name: "waste", What: aShare, Means: "share added for waste", Headings: []string{"waste", "extra", "allowance", "waste allowance", "spare", "add", "waste share", "plus",
				"waste factor", "overage", "waste allowed", "add for waste", "waste added", "allow for waste"}},
			{Name: "sawing", What: aSawing, Means: "flat, quarter, mixed, or the ring angle in degrees", Headings: sawingHeadings},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"piece"}, {"finished thickness", "size"}, {"pieces", "area", "size", "wall height"}},
		Tells: []string{"face", "area", "lap", "gap", "openings", "wall height", "wall width", "profile", "waste", "piece", "finished thickness", "finished width", "use"},
	},
	{
		Kind:   compute.KindLoads,
		About:  "Kiln loads: one row for every load, with what its boards are for and how it is stacked.",
		Sheets: []string{"load", "loads", "kiln loads", "kiln", "charge", "charges"},
		Fields: []Field{
			{Name: "load", What: anID, Required: true, Means: "the load's name or number", Headings: append([]string{"id", "name", "no", "number", "charge name", "run id", "kiln charge no"}, loadHeadings...)},
			{Name: "species", What: aSpecies, Means: "the wood", Headings: []string{"species", "wood", "kind", "kind of wood", "timber", "what wood", "spp",
				"spec", "species name", "wood species", "wood type", "type of wood", "wood kind", "lumber"}},
			{Name: "use", What: aText, Means: "where the boards go: flooring, cladding", Headings: []string{
				"use", "for", "used for", "goes where", "where it goes", "going to", "intended use", "purpose", "what for", "goes to", "end use", "for what",
				"product", "end product", "destination", "to be used for", "use of boards", "will be", "made into"}},
			{Name: "region", What: aText, Means: "of service, as in the handbook's table", Headings: []string{"region", "climate", "area", "where"}},
			{Name: "limit", What: anMC, Means: "your own highest moisture content", Headings: []string{
				"limit", "mc limit", "max mc", "highest mc", "upper limit", "not over", "max", "target max", "limit mc", "mc max", "must be under", "highest", "highest moisture",
				"max moisture", "max mc allowed", "upper mc", "limit moisture", "at most", "dry below", "must be below",
				"highest mc allowed", "mc at most"}},
			{Name: "lowest", What: anMC, Means: "your own lowest moisture content", Headings: []string{"lowest", "min mc", "lower limit", "not under", "mc min", "lowest mc", "min",
				"min moisture", "lower mc", "at least", "mc at least", "lowest moisture", "not below"}},
			{Name: "date in", What: aDate, Means: "day it went in", Headings: []string{"date in", "in", "started", "start", "into kiln", "went in", "loaded", "loaded on", "in kiln", "start date", "day in", "in on",
				"date loaded", "load date", "in date", "loaded in", "kiln in", "date started", "began", "begin", "start of drying",
				"drying started", "start drying", "put in", "date of loading", "day loaded", "date start"}},
			{Name: "date out", What: aDate, Means: "day it came out", Headings: []string{"date out", "out", "ended", "end", "out of kiln", "came out", "unloaded", "pulled", "finished", "end date", "day out", "out on",
				"date unloaded", "out date", "unload date", "kiln out", "finished drying", "done", "date done", "date pulled",
				"completed", "end of drying", "drying ended", "taken out", "date of unloading", "day unloaded", "date finished",
				"date end"}},
			{Name: "boards", What: aCount, Means: "boards in the load", Headings: []string{
				"boards", "boards in load", "pieces", "pcs", "count", "how many", "no of boards", "number of boards", "bds", "board count", "boards in the load", "in the load",
				"total boards", "total pcs", "total pieces", "board total", "pcs in load", "pieces in load", "boards total",
				"number in load", "no of bds", "no of pieces", "number of pieces", "count of boards", "how many boards", "bds in load",
				"no boards", "no in load", "brds"}},
			{Name: "courses", What: aCount, Means: "layers in the stack", Headings: []string{"courses", "layers", "rows", "tiers", "no of courses", "courses high", "layers high",
				"no of layers", "number of layers", "number of courses", "stack layers", "layers in stack", "rows high", "tiers high",
				"high", "courses in stack", "no of rows", "no of tiers"}},
			{Name: "spots", What: aCount, Means: "boards side by side in a layer", Headings: []string{
				"spots", "boards per course", "boards a course", "boards per layer", "wide", "per course", "per layer", "boards across", "across", "places", "boards wide", "places a course", "places per course",
				"boards in a layer", "boards in layer", "boards in course", "boards in a course", "pcs per layer", "pieces per layer",
				"pieces per course", "no across", "boards per row", "boards per tier", "number across", "bds per layer",
				"spots per course"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"load"}, {"use", "boards", "date in", "date out", "courses", "limit"}},
		Tells: []string{"use", "region", "limit", "date in", "date out", "boards", "courses", "spots"},
	},
	{
		Kind:   compute.KindSold,
		About:  "Boards sold: one row for every sale, or several rows with the same number. It makes the statement and the tags.",
		Sheets: []string{"sold", "sale", "sales", "selling", "invoice", "bought", "shipped", "out the door", "own use"},
		Fields: []Field{
			{Name: "sale", What: anID, Fill: true, Means: "the sale's number", Headings: []string{
				"sale", "sale no", "sale id", "invoice", "ticket", "slip", "sale number", "no", "receipt", "order", "slip no", "ticket no",
				"invoice no", "invoice number", "inv", "inv no", "order no", "order number", "bill", "bill no", "delivery no", "docket",
				"docket no", "ticket number", "receipt no", "receipt number", "slip number"}},
			{Name: "load", What: anID, Fill: true, Within: "sale", Means: "the load the boards come from", Headings: append([]string{"from load", "from"}, loadHeadings...)},
			{Name: "boards", What: anIDList, Means: "board numbers: A01-A12, A15", Headings: []string{
				"boards", "board", "board id", "board no", "which boards", "board numbers", "board nos", "ids", "boards sold", "bd", "board number",
				"pc no", "piece no", "tag", "tag no", "tags", "bd no", "board ids", "id", "numbers", "boards sold no",
				"board list", "list of boards", "tags sold", "board tags", "tag numbers", "tag nos", "boards taken", "which", "bds",
				"brd", "tag number", "boards and numbers"}},
			{Name: "pieces", What: aCount, Means: "how many, when the boards are not named", Headings: []string{"pieces", "pcs", "count", "qty", "quantity", "how many", "number",
				"pcs sold", "pieces sold", "no of boards", "number of boards", "qty sold", "no sold", "how many sold", "board count",
				"number sold", "no of pcs", "no of pieces", "number of pieces", "boards count", "pcs taken"}},
			{Name: "buyer", What: aText, Fill: true, Within: "sale", Means: "who bought them", Headings: []string{"buyer", "customer", "sold to", "to", "who", "name", "client", "for", "who for",
				"customer name", "buyer name", "purchaser", "client name", "bought by", "to whom", "sold to whom", "company", "bill to",
				"ship to", "delivered to", "customer buyer"}},
			{Name: "use", What: aText, Means: "what the buyer uses them for", Headings: []string{"use", "used for", "for what", "what for", "use by buyer",
				"end use", "purpose", "application", "to be used for", "will be used for"}},
			{Name: "own use", What: aText, Means: "what you used the boards for yourself, when they were not sold", Headings: []string{"own use", "used ourselves", "used by us",
				"used it for", "we used for", "built", "built into", "built with", "made into", "kept for", "own job", "own project"}},
			{Name: "date", What: aDate, Fill: true, Within: "sale", Means: "day sold", Headings: []string{"date", "day", "sold on", "when", "date sold",
				"sale date", "date of sale", "delivered", "delivery date", "invoice date", "shipped", "ship date", "picked up",
				"date delivered", "date shipped", "pickup date", "day sold"}},
			{Name: "price", What: aPrice, Means: "what is asked and for what: 4.50 USD per board foot", Headings: []string{"price", "unit price", "asking", "price asked"}},
			{Name: "price per board foot", What: aPriceBF, Means: "what is asked for a board foot", Headings: []string{"price per board foot", "price per bf", "price bf", "per bf",
				"per board foot", "price per bd ft", "rate per bf", "price board foot"}},
			{Name: "sum", What: aSum, Means: "what is asked for all of the row", Headings: []string{"price in all", "price for all", "sale price", "price paid", "sum asked", "sum paid", "price for the lot"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"boards", "pieces"}, {"buyer", "sale", "own use"}},
		Tells: []string{"buyer", "sale", "own use"},
	},
	{
		Kind:   compute.KindClimate,
		About:  "The air of the year where the wood will live, month by month. Leave it empty if you don't know it.",
		Sheets: []string{"climate", "weather", "place", "months", "year"},
		Fields: []Field{
			{Name: "month", What: aMonth, Required: true, Means: "Jan to Dec, or 1 to 12", Headings: []string{"month", "months", "month of year", "mon"}},
			{Name: "temperature", What: aTemperature, Means: "mean of the month", Headings: []string{
				"mean temperature", "mean temp", "temperature", "temp", "average temperature", "average temp", "avg temp", "avg temperature", "mean air temp",
				"outdoor temp", "outdoor temperature", "outside temp", "outside temperature", "mean", "temp outdoors"}},
			{Name: "humidity", What: aHumidity, Means: "mean relative humidity of the month", Headings: []string{
				"mean relative humidity", "mean rh", "relative humidity", "rh", "humidity", "mean humidity", "average rh", "average humidity", "avg rh",
				"average relative humidity", "outdoor rh", "outdoor humidity", "outside rh", "outside humidity", "rh outdoors"}},
			{Name: "indoor temperature", What: aTemperature, Means: "mean of the month indoors, when it has its own column", Headings: []string{
				"indoor temperature", "indoor temp", "inside temp", "inside temperature", "room temp", "room temperature", "house temp", "temp indoors"}},
			{Name: "indoor humidity", What: aHumidity, Means: "mean of the month indoors, when it has its own column", Headings: []string{
				"indoor humidity", "indoor rh", "indoor relative humidity", "inside rh", "inside humidity", "room rh", "room humidity", "house rh", "rh indoors"}},
			{Name: "where", What: aText, Fill: true, Means: "indoors or outdoors", Headings: []string{
				"where", "indoor outdoor", "indoors or outdoors", "indoor or outdoor", "in or out", "inside or outside", "place", "location", "air"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"month"}, {"temperature", "indoor temperature"}, {"humidity", "indoor humidity"}},
		Tells: []string{"month", "indoor temperature", "indoor humidity"},
	},
}
