// Package bind turns cells into records. One declarative table (Tables and settingRows) holds every kind of table, its
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
)

// Field is one column of a table.
type Field struct {
	Name     string   // the project's name of the field, as in findings and results
	Headings []string // what people write above it, in the form headingWords gives
	What     quantity
	Required bool
	Many     bool   // several columns may hold it: thickness 1, thickness 2
	Fill     bool   // typed once and left blank below
	Means    string // one line for the help and the blank workbook
}

// Table is one kind of table.
type Table struct {
	Kind   compute.Kind
	Sheets []string // words in a sheet's name or title that speak for this kind
	Fields []Field
	Needs  [][]string // each group: at least one of the fields must have a column
	Tells  []string   // fields that speak for this kind more than for any other
}

// Tables holds every kind but the settings, which are rows of name and value.
var Tables = []Table{
	{
		Kind:   compute.KindCuts,
		Sheets: []string{"cut", "cuts", "sawn", "saw log", "saw day", "sawing", "green", "tally", "milled", "off the saw"},
		Fields: []Field{
			{Name: "species", What: aSpecies, Fill: true, Means: "the wood, by its everyday name", Headings: []string{
				"species", "wood", "kind", "kind of wood", "timber", "spp", "sp", "tree", "what wood"}},
			{Name: "size", What: aSize, Means: "thickness, width and length in one cell: 1x12x10'", Headings: []string{
				"size", "sizes", "dimension", "dimensions", "board size", "dims", "dim", "sawn size", "t x w x l", "size sawn"}},
			{Name: "green thickness", What: aThickness, Means: "as sawn", Headings: []string{
				"green thickness", "thickness", "thick", "thk", "t", "sawn thickness", "green thk", "green t", "thickness green",
				"sawn thick", "thickness sawn", "rough thickness", "quarter", "quarters", "green thick", "cut thickness", "saw setting", "set to"}},
			{Name: "green width", What: aLength, Means: "as sawn", Headings: []string{
				"green width", "width", "wide", "wd", "w", "sawn width", "green w", "width green", "width sawn", "rough width", "green wd",
				"sawn wide", "cut width", "wdth"}},
			{Name: "length", What: aRun, Fill: true, Means: "of the boards", Headings: []string{
				"length", "long", "len", "l", "lgth", "board length", "log length", "lg", "sawn length"}},
			{Name: "pieces", What: aCount, Means: "boards of this size", Headings: []string{
				"pieces", "pcs", "pc", "count", "qty", "quantity", "number", "boards", "how many", "no of boards", "number of boards",
				"no of pieces", "tally", "bds", "number of pieces", "no pcs", "ct"}},
			{Name: "lot", What: anID, Means: "board or lot number", Headings: []string{
				"lot", "board", "board id", "lot no", "id", "board no", "log", "log no", "bundle", "pack", "lot or board", "stack", "lot board", "board or lot"}},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load it goes into", Headings: loadHeadings},
			{Name: "sawing", What: aSawing, Means: "flat, quarter, mixed, or the ring angle in degrees", Headings: sawingHeadings},
			{Name: "date", What: aDate, Fill: true, Means: "day sawn", Headings: []string{"date", "day", "sawn on", "date sawn", "when", "sawn"}},
			{Name: "stickered", What: aLength, Means: "sticker thickness", Headings: []string{"stickers", "sticker", "stickered", "sticker thickness"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"green thickness", "size"}, {"green width", "size"}, {"pieces", "size", "lot"}},
		Tells: []string{"sawing", "stickered", "green thickness", "green width", "pieces"},
	},
	{
		Kind:   compute.KindBoards,
		Sheets: []string{"boards", "board", "dry boards", "dry", "stack", "measured", "sizes", "after kiln", "out of kiln", "dried", "pile", "pcs"},
		Fields: []Field{
			{Name: "board", What: anID, Required: true, Means: "the board's number", Headings: boardHeadings},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load it was dried in", Headings: loadHeadings},
			{Name: "species", What: aSpecies, Fill: true, Means: "the wood", Headings: []string{"species", "wood", "kind", "kind of wood", "timber", "spp", "sp"}},
			{Name: "size", What: aSize, Means: "dry thickness, width and length in one cell", Headings: []string{
				"size", "dry size", "dimension", "dimensions", "board size", "dims", "dim"}},
			{Name: "dry thickness", What: aThickness, Many: true, Means: "measured dry, in one or more places", Headings: []string{
				"dry thickness", "thickness", "thick", "thk", "t", "dry thk", "dry t", "thickness dry", "thickness a", "thickness b", "thickness c",
				"thk a", "thk b", "thk c", "thick end", "thick mid", "thick middle", "thickness end", "thickness middle", "thickness mid", "dry thick", "t end", "t mid",
				"thick other end", "thickness other end", "thickness one end", "thick one end", "thickness far end", "thick far end", "thin end", "butt end", "top end", "thk end", "thk mid", "thk middle"}},
			{Name: "dry width", What: aLength, Means: "measured dry", Headings: []string{
				"dry width", "width", "wide", "wd", "w", "dry w", "width dry", "wdth", "dry wd", "width measured", "face width", "dry wide"}},
			{Name: "length", What: aRun, Fill: true, Means: "of the board", Headings: []string{"length", "long", "len", "l", "lgth", "dry length", "board length", "lg"}},
			{Name: "green thickness", What: aThickness, Means: "as it came from the saw", Headings: []string{
				"green thickness", "green thk", "green t", "sawn thickness", "thickness green", "thickness sawn", "was thick", "green thick"}},
			{Name: "green width", What: aLength, Means: "as it came from the saw", Headings: []string{
				"green width", "green w", "sawn width", "width green", "width sawn", "was wide", "green wd", "green wide"}},
			{Name: "nominal", What: aThickness, Means: "nominal thickness: 4/4, 5/4", Headings: []string{
				"nominal", "quarter", "quarters", "nominal thickness", "nom", "nom thickness", "called", "sold as", "trade size"}},
			{Name: "nominal width", What: aLength, Means: "nominal width of softwood", Headings: []string{"nominal width", "nom width", "nom w", "width nominal"}},
			{Name: "cup", What: aLength, Means: "hollow across the face", Headings: []string{"cup", "cupped", "cupping", "cup depth"}},
			{Name: "bow", What: aLength, Means: "flatwise bend end to end", Headings: []string{"bow", "bowed"}},
			{Name: "crook", What: aLength, Means: "edgewise bend end to end", Headings: []string{"crook", "crooked", "edge bend", "spring"}},
			{Name: "twist", What: aLength, Means: "height of the free corner", Headings: []string{"twist", "wind", "twisted"}},
			{Name: "sawing", What: aSawing, Means: "flat, quarter, mixed, or the ring angle in degrees", Headings: sawingHeadings},
			{Name: "course", What: aCount, Means: "layer in the stack, 1 at the bottom", Headings: courseHeadings},
			{Name: "spot", What: aCount, Means: "place in the layer, 1 at the left", Headings: spotHeadings},
			{Name: "reading", What: aReading, Many: true, Means: "what the meter showed", Headings: readingHeadings},
			{Name: "wood temperature", What: aTemperature, Fill: true, Means: "of the wood, not the air", Headings: woodTempHeadings},
			{Name: "date", What: aDate, Fill: true, Means: "day measured", Headings: []string{"date", "day", "measured", "read on", "date measured", "date read", "measured on"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"board"}, {"dry thickness", "dry width", "size", "length", "cup", "course"}},
		Tells: []string{"cup", "bow", "crook", "twist", "dry thickness", "dry width", "course", "spot", "board"},
	},
	{
		Kind:   compute.KindReadings,
		Sheets: []string{"reading", "readings", "meter", "mc", "moisture", "meter readings", "pins"},
		Fields: []Field{
			{Name: "board", What: anID, Fill: true, Means: "the board's number", Headings: boardHeadings},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load", Headings: loadHeadings},
			{Name: "course", What: aCount, Means: "layer in the stack, 1 at the bottom", Headings: courseHeadings},
			{Name: "spot", What: aCount, Means: "place in the layer, 1 at the left", Headings: spotHeadings},
			{Name: "reading", What: aReading, Required: true, Many: true, Means: "what the meter showed", Headings: readingHeadings},
			{Name: "wood temperature", What: aTemperature, Fill: false, Means: "of the wood, not the air", Headings: woodTempHeadings},
			{Name: "date", What: aDate, Fill: true, Means: "day read", Headings: []string{"date", "day", "when", "read on", "date read", "measured", "measured on", "date measured", "read"}},
			{Name: "depth", What: aLength, Means: "depth of the pins", Headings: []string{"depth", "pin depth", "pins", "how deep"}},
			{Name: "where", What: aText, Means: "end or middle, face or core", Headings: []string{
				"where", "place", "position", "where on board", "end middle", "end or middle", "face core", "location", "at", "spot on board", "where along board", "place on board", "where read"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"reading"}, {"board", "course", "spot"}},
		Tells: []string{"reading", "wood temperature", "depth", "where"},
	},
	{
		Kind:   compute.KindWeights,
		Sheets: []string{"weight", "weights", "sample", "samples", "sample boards", "oven", "sections", "weighings"},
		Fields: []Field{
			{Name: "sample", What: anID, Required: true, Fill: true, Means: "the sample board's number", Headings: []string{
				"sample", "sample id", "sample no", "sample board", "board", "board id", "board no", "id", "no", "sb", "piece", "sample number", "which sample"}},
			{Name: "load", What: anID, Fill: true, Means: "the kiln load", Headings: loadHeadings},
			{Name: "date", What: aDate, Fill: false, Means: "day weighed", Headings: []string{"date", "day", "when", "weighed on", "weighed", "date weighed"}},
			{Name: "weight", What: aMass, Means: "of the sample board", Headings: []string{
				"weight", "wt", "weight now", "board weight", "sample weight", "mass", "weighs", "scale", "sample board weight", "wt of sample"}},
			{Name: "section wet", What: aMass, Means: "wet weight of a section", Headings: []string{
				"section wet", "wet", "wet weight", "section wet weight", "wet wt", "green weight", "section green", "section green weight", "before oven", "wet section", "sec wet", "section wet wt"}},
			{Name: "section ovendry", What: aMass, Means: "ovendry weight of the same section", Headings: []string{
				"section ovendry", "ovendry", "oven dry", "ovendry weight", "oven dry weight", "dry weight", "od", "od weight", "section dry", "section oven dry", "after oven",
				"section dry weight", "dry wt", "od wt", "dry section", "sec od", "section od", "section ovendry weight", "bone dry", "section ovendry wt", "section oven dry wt", "section oven dry weight"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"sample"}, {"weight", "section wet"}},
		Tells: []string{"weight", "section wet", "section ovendry"},
	},
	{
		Kind:   compute.KindAir,
		Sheets: []string{"air", "kiln air", "kiln log", "log", "climate", "temperature", "humidity", "chamber"},
		Fields: []Field{
			{Name: "date", What: aDate, Required: true, Fill: true, Means: "day, or day and time", Headings: []string{
				"date", "day", "date time", "when", "time and date", "date and time", "read at", "timestamp"}},
			{Name: "time", What: aClock, Means: "time of day, when it has its own column", Headings: []string{"time", "clock", "hour", "time of day"}},
			{Name: "dry bulb", What: aTemperature, Means: "air temperature", Headings: []string{
				"dry bulb", "temperature", "temp", "air temp", "air temperature", "kiln temp", "db", "dry", "kiln temperature", "air", "dry bulb temp", "chamber temp"}},
			{Name: "wet bulb", What: aTemperature, Means: "wet-bulb temperature", Headings: []string{"wet bulb", "wb", "wet", "wet bulb temp", "wet bulb temperature"}},
			{Name: "humidity", What: aHumidity, Means: "relative humidity", Headings: []string{
				"relative humidity", "humidity", "rh", "rel hum", "rel humidity", "air humidity"}},
			{Name: "where", What: aText, Means: "kiln, shed, shop ...", Headings: []string{"where", "place", "location", "room", "sensor", "position"}},
			{Name: "load", What: anID, Fill: true, Means: "the load in the kiln", Headings: loadHeadings},
			{Name: "running", What: aText, Means: "what was running: fans, vents, heat", Headings: []string{
				"running", "what was running", "fans", "fan", "on", "vents", "state", "running what", "what ran"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"date"}, {"dry bulb"}, {"humidity", "wet bulb"}},
		Tells: []string{"dry bulb", "wet bulb", "humidity", "running", "time"},
	},
	{
		Kind:   compute.KindWanted,
		Sheets: []string{"wanted", "want", "orders", "order", "to make", "needed", "cut list", "project", "needs", "wish"},
		Fields: []Field{
			{Name: "piece", What: aText, Required: true, Means: "what it is", Headings: []string{
				"piece", "item", "what", "part", "product", "piece name", "name", "description", "for", "wanted", "what for", "job"}},
			{Name: "species", What: aSpecies, Required: true, Fill: true, Means: "the wood", Headings: []string{
				"species", "wood", "kind of wood", "timber", "spp", "sp", "kind"}},
			{Name: "size", What: aSize, Means: "finished thickness, width and length in one cell", Headings: []string{"size", "finished size", "dimension", "dimensions", "final size"}},
			{Name: "finished thickness", What: aThickness, Means: "planed", Headings: []string{
				"finished thickness", "thickness", "thick", "thk", "t", "final thickness", "planed thickness", "finish thickness", "net thickness",
				"thickness finished", "planed to", "fin t", "fin thk", "finished thk", "finished thick", "finished t", "thickness planed"}},
			{Name: "finished width", What: aLength, Means: "overall, with tongue or lap", Headings: []string{
				"finished width", "width", "wide", "wd", "w", "final width", "overall width", "finish width", "net width", "width finished", "fin w", "fin wd",
				"finished wd", "finished wide", "finished w", "overall", "width overall"}},
			{Name: "face", What: aLength, Means: "what shows, when less than the overall width", Headings: []string{
				"face", "exposure", "face width", "exposed", "showing", "face or exposure", "coverage width", "shows", "cover", "covers", "face exposure"}},
			{Name: "length", What: aRun, Means: "of one piece", Headings: []string{"length", "long", "len", "l", "lg", "lgth", "finished length", "cut length", "piece length"}},
			{Name: "pieces", What: aCount, Means: "how many", Headings: []string{
				"pieces", "pcs", "pc", "count", "qty", "quantity", "number", "how many", "no of pieces", "number of pieces", "no", "ct"}},
			{Name: "area", What: anArea, Means: "to cover, instead of pieces", Headings: []string{
				"area", "square feet", "sq ft", "sqft", "sf", "area to cover", "coverage", "area sq ft", "square metres", "m2", "sq m", "area m2", "floor area", "wall area"}},
			{Name: "profile", What: aText, Means: "square, lapped, tongue and groove", Headings: []string{"profile", "shape", "edge", "pattern", "edges", "milling"}},
			{Name: "use", What: aText, Fill: false, Means: "where it goes: flooring, cladding", Headings: []string{"use", "where", "goes where", "where it goes", "used for", "used as", "service"}},
			{Name: "waste", What: aShare, Means: "share added for waste", Headings: []string{"waste", "extra", "allowance", "waste allowance", "spare", "add", "waste share", "plus"}},
			{Name: "sawing", What: aSawing, Means: "flat, quarter, mixed, or the ring angle in degrees", Headings: sawingHeadings},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"piece"}, {"finished thickness", "size"}, {"pieces", "area", "size"}},
		Tells: []string{"face", "area", "profile", "waste", "piece", "finished thickness", "finished width", "use"},
	},
	{
		Kind:   compute.KindLoads,
		Sheets: []string{"load", "loads", "kiln loads", "kiln", "charge", "charges"},
		Fields: []Field{
			{Name: "load", What: anID, Required: true, Means: "the load's name or number", Headings: append([]string{"id", "name", "no", "number"}, loadHeadings...)},
			{Name: "species", What: aSpecies, Means: "the wood", Headings: []string{"species", "wood", "kind", "kind of wood", "timber", "what wood", "spp"}},
			{Name: "use", What: aText, Means: "where the boards go: flooring, cladding", Headings: []string{
				"use", "for", "used for", "goes where", "where it goes", "going to", "intended use", "purpose", "what for", "goes to", "end use", "for what"}},
			{Name: "region", What: aText, Means: "of service, as in the handbook's table", Headings: []string{"region", "climate", "area", "where"}},
			{Name: "limit", What: anMC, Means: "your own highest moisture content", Headings: []string{
				"limit", "mc limit", "max mc", "highest mc", "upper limit", "not over", "max", "target max", "limit mc", "mc max", "must be under", "highest", "highest moisture"}},
			{Name: "lowest", What: anMC, Means: "your own lowest moisture content", Headings: []string{"lowest", "min mc", "lower limit", "not under", "mc min", "lowest mc", "min"}},
			{Name: "date in", What: aDate, Means: "day it went in", Headings: []string{"date in", "in", "started", "start", "into kiln", "went in", "loaded", "loaded on", "in kiln", "start date", "day in", "in on"}},
			{Name: "date out", What: aDate, Means: "day it came out", Headings: []string{"date out", "out", "ended", "end", "out of kiln", "came out", "unloaded", "pulled", "finished", "end date", "day out", "out on"}},
			{Name: "boards", What: aCount, Means: "boards in the load", Headings: []string{
				"boards", "boards in load", "pieces", "pcs", "count", "how many", "no of boards", "number of boards", "bds", "board count", "boards in the load", "in the load"}},
			{Name: "courses", What: aCount, Means: "layers in the stack", Headings: []string{"courses", "layers", "rows", "tiers", "no of courses", "courses high", "layers high"}},
			{Name: "spots", What: aCount, Means: "boards side by side in a layer", Headings: []string{
				"spots", "boards per course", "boards a course", "boards per layer", "wide", "per course", "per layer", "boards across", "across", "places", "boards wide", "places a course", "places per course"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"load"}, {"use", "boards", "date in", "date out", "courses", "limit"}},
		Tells: []string{"use", "region", "limit", "date in", "date out", "boards", "courses", "spots"},
	},
	{
		Kind:   compute.KindSold,
		Sheets: []string{"sold", "sale", "sales", "selling", "invoice", "bought", "shipped", "out the door"},
		Fields: []Field{
			{Name: "sale", What: anID, Fill: true, Means: "the sale's number", Headings: []string{
				"sale", "sale no", "sale id", "invoice", "ticket", "slip", "sale number", "no", "receipt", "order", "slip no", "ticket no"}},
			{Name: "load", What: anID, Fill: true, Means: "the load the boards come from", Headings: append([]string{"from load", "from"}, loadHeadings...)},
			{Name: "boards", What: anIDList, Means: "board numbers: A01-A12, A15", Headings: []string{
				"boards", "board", "board id", "board no", "which boards", "board numbers", "board nos", "ids", "boards sold", "bd", "board number",
				"pc no", "piece no", "tag", "tag no", "tags", "bd no", "board ids", "id", "numbers", "boards sold no"}},
			{Name: "pieces", What: aCount, Means: "how many, when the boards are not named", Headings: []string{"pieces", "pcs", "count", "qty", "quantity", "how many", "number"}},
			{Name: "buyer", What: aText, Fill: true, Means: "who bought them", Headings: []string{"buyer", "customer", "sold to", "to", "who", "name", "client", "for", "who for"}},
			{Name: "use", What: aText, Means: "what the buyer uses them for", Headings: []string{"use", "used for", "for what", "what for", "use by buyer"}},
			{Name: "date", What: aDate, Fill: true, Means: "day sold", Headings: []string{"date", "day", "sold on", "when", "date sold"}},
			{Name: "note", What: aText, Means: "anything", Headings: noteHeadings},
		},
		Needs: [][]string{{"boards", "pieces"}, {"buyer", "sale"}},
		Tells: []string{"buyer", "sale"},
	},
}

// Headings that several kinds share.
var (
	loadHeadings = []string{"load", "load no", "load id", "kiln load", "charge", "charge no", "batch", "kiln charge", "load number", "ld", "in load", "kiln run", "run"}
	noteHeadings = []string{"note", "notes", "remark", "remarks", "comment", "comments", "memo", "anything else", "other", "said"}

	boardHeadings = []string{"board", "board id", "board no", "id", "no", "piece", "piece no", "pc no", "tag", "tag no", "bd", "board number", "number", "bd no", "brd", "tag number", "pc"}

	sawingHeadings = []string{"sawing", "how sawn", "sawn how", "cut", "grain", "sawn as", "ring angle", "rings", "flat or quarter", "sawing pattern", "sawn flat or quarter"}
	courseHeadings = []string{"course", "layer", "tier", "row", "course no", "layer no", "level", "course from bottom", "layer from bottom", "crs"}
	spotHeadings   = []string{"spot", "place", "position", "pos", "place in course", "place in layer", "spot no", "place across", "across", "spot from left", "place from left", "slot"}

	readingHeadings = []string{"reading", "mc", "meter", "moisture", "meter reading", "readings", "moisture content", "mc reading", "meter mc", "pin reading",
		"reading a", "reading b", "reading c", "mc a", "mc b", "mc c", "meter says", "moisture reading", "shows", "meter shows", "meter showed", "reads"}
	woodTempHeadings = []string{"wood temperature", "wood temp", "temp", "temperature", "board temp", "temp of wood", "wood", "wood t", "board temperature", "wood deg"}
)
