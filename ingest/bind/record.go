package bind

import (
	"maps"
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/profile"
	"drytally/compute/units"
)

// make makes the records of one row. It returns why the row is set aside, or "" when it is used.
func (b *binder) make(kind compute.Kind, v *rowValues) string {
	switch kind {
	case compute.KindCuts:
		return b.makeCut(v)
	case compute.KindBoards:
		return b.makeBoard(v)
	case compute.KindReadings:
		return b.makeReadings(v)
	case compute.KindWeights:
		return b.makeWeight(v)
	case compute.KindAir:
		return b.makeAir(v)
	case compute.KindWanted:
		return b.makeWanted(v)
	case compute.KindLoads:
		return b.makeLoad(v)
	case compute.KindSold:
		return b.makeSale(v)
	case compute.KindClimate:
		return b.makeClimate(v)
	}
	panic("bind: no records for kind " + string(kind))
}

// missing says that a row lacks something it can't do without, and returns the reason for setting it aside.
func (b *binder) missing(v *rowValues, field, what, hint string) string {
	if !v.bad[field] {
		b.say("T001", v.origin.At(field), "", hint, "this row has no %s", what)
		return what + " missing"
	}
	return what + " not readable"
}

// sizeInto fills thickness, width, length and pieces from a size given in one cell, where they have no cell of their own.
func sizeInto(v *rowValues, thickness, width, length, pieces string) {
	s := v.value("size").size
	put := func(name string, l units.Length) {
		if name != "" && l != 0 && !v.has(name) {
			v.set(name, value{lengths: []units.Length{l}})
			v.setCol(name, v.origin.Cols()["size"])
		}
	}
	put(thickness, s.Thickness)
	put(width, s.Width)
	put(length, s.Length)
	if pieces != "" && s.Pieces > 0 && !v.has(pieces) {
		v.set(pieces, value{count: s.Pieces})
		v.setCol(pieces, v.origin.Cols()["size"])
	}
}

func (b *binder) makeCut(v *rowValues) string {
	sizeInto(v, "green thickness", "green width", "length", "pieces")
	if !v.has("species") {
		return b.missing(v, "species", "species", "write the wood in this row")
	}
	if !v.has("green thickness") && !v.bad["green thickness"] && v.length("sawn at") != 0 { // only the setting is written
		v.set("green thickness", *v.value("sawn at"))
		v.setCol("green thickness", v.origin.Cols()["sawn at"])
	}
	for _, need := range []string{"green thickness", "green width", "length"} {
		if v.length(need) == 0 {
			return b.missing(v, need, need, "write the size, or clear the row if it is not meant")
		}
	}
	pieces := v.count("pieces")
	if !v.has("pieces") {
		if v.bad["pieces"] || !v.has("lot") {
			return b.missing(v, "pieces", "number of pieces", "write how many boards")
		}
		pieces = 1 // a row that names one board
	}
	measured := v.lengths("green thickness")
	b.job.Cuts = append(b.job.Cuts, compute.Cut{Origin: v.origin, Species: v.species("species"), Thickness: meanOf(measured), Measured: measured, Setting: v.length("sawn at"),
		Width: v.length("green width"), Length: v.length("length"), Pieces: pieces, ID: v.text("lot"), Load: v.text("load"),
		Sawing: v.sawing("sawing"), Date: v.date("date"), Note: v.text("note")})
	return ""
}

// meanOf gives the mean of what was measured in several places, 0 of nothing.
func meanOf(all []units.Length) units.Length {
	var sum units.Length
	for _, l := range all {
		sum += l
	}
	return sum / units.Length(max(1, len(all)))
}

func (b *binder) makeBoard(v *rowValues) string {
	sizeInto(v, "dry thickness", "dry width", "length", "")
	facts := 0
	for _, name := range v.names {
		if name != "board" && name != "load" && name != "species" && name != "note" && name != "date" {
			facts++
		}
	}
	if facts == 0 && len(strings.Fields(v.text("board"))) > 2 {
		b.say("T018", v.origin.At("board"), v.text("board"), "nothing to do if it is only a note", "this line holds a board number and nothing else that is known; it was not taken as a board")
		return "no board"
	}
	board := compute.Board{Origin: v.origin, ID: v.text("board"), Load: v.text("load"), Species: v.species("species"),
		Thickness: v.lengths("dry thickness"), Width: v.length("dry width"), Length: v.length("length"),
		GreenThickness: meanOf(v.lengths("green thickness")), GreenMeasured: v.lengths("green thickness"), Setting: v.length("sawn at"), GreenWidth: v.length("green width"), Nominal: v.length("nominal"), NominalWidth: v.length("nominal width"),
		Cup: v.length("cup"), Bow: v.length("bow"), Crook: v.length("crook"), Twist: v.length("twist"), Sawing: v.sawing("sawing"),
		CutOut: v.cutOut(), Course: v.count("course"), Spot: v.count("spot"), Note: v.text("note")}
	b.job.Boards = append(b.job.Boards, board)
	b.addReadings(v, compute.Reading{Origin: v.origin, Board: board.ID}, compute.Taking{Load: board.Load, Date: v.date("date")})
	return ""
}

// cutOut gives the bad wood of a board. A cell that could not be read says so.
func (v *rowValues) cutOut() compute.CutOut {
	c := v.value("cut out").cutOut
	out := compute.CutOut{Total: c.Total, Unread: v.bad["cut out"] || v.value("cut out").unread}
	for _, s := range c.Stretches {
		out.Stretches = append(out.Stretches, compute.Stretch{From: s.From, To: s.To, Top: s.Top})
	}
	return out
}

// addReadings adds every reading of a row, column by column.
func (b *binder) addReadings(v *rowValues, r compute.Reading, how compute.Taking) int {
	n := 0
	for _, name := range v.names {
		if name != "reading" && !strings.HasPrefix(name, "reading ") && name != secondMeter {
			continue
		}
		taken := how
		taken.Field, taken.Meter = name, v.text("which meter")
		if name == secondMeter {
			taken.Meter = secondMeter
		}
		if w := v.value(name).where; w != "" {
			taken.Where = strings.TrimSpace(taken.Where + " " + w)
		}
		for _, x := range v.value(name).readings {
			if x.State == units.NotTaken {
				continue
			}
			one := r
			one.Value, one.WoodTemp, one.Taking = x, v.tempOf(name), b.taking(taken)
			b.job.Readings = append(b.job.Readings, one)
			n++
		}
	}
	return n
}

// tempOf gives the wood temperature that belongs to a column of readings: that of the row's one column of temperatures, else
// that of the column behind it, before the next column of readings.
func (v *rowValues) tempOf(reading string) units.Temperature {
	field := func(name, of string) bool {
		return name == of || strings.HasPrefix(name, of+" ") && isDigits(name[len(of)+1:])
	}
	columns, best := 0, ""
	next := 1 << 30
	for name, col := range v.origin.Cols() {
		if (field(name, "reading") || name == secondMeter) && col > v.origin.Cols()[reading] {
			next = min(next, col)
		}
	}
	for name, col := range v.origin.Cols() {
		if !field(name, "wood temperature") {
			continue
		}
		columns++
		if col > v.origin.Cols()[reading] && col < next && (best == "" || col < v.origin.Cols()[best]) {
			best = name
		}
	}
	if columns <= 1 {
		best = "wood temperature"
	}
	return v.value(best).temp
}

func (b *binder) makeReadings(v *rowValues) string {
	if v.text("board") == "" && v.count("course") == 0 {
		return b.missing(v, "board", "board or place", "write the board's number, or its course and spot")
	}
	n := b.addReadings(v, compute.Reading{Origin: v.origin, Board: v.text("board"), Course: v.count("course"), Spot: v.count("spot")},
		compute.Taking{Load: v.text("load"), Date: v.date("date"), Depth: v.length("depth"), Where: v.text("where"), Note: v.text("note")})
	if n == 0 {
		return "no reading taken"
	}
	return ""
}

func (b *binder) makeWeight(v *rowValues) string {
	w := compute.Weight{Origin: v.origin, Sample: v.text("sample"), Load: v.text("load"), Date: v.date("date"), Weight: v.mass("weight"),
		Wet: v.mass("section wet"), Ovendry: v.mass("section ovendry"), Note: v.text("note"),
		Unit: v.value("weight").massUnit, SectionUnit: v.value("section wet").massUnit}
	if w.Weight == 0 && !w.Section() {
		return b.missing(v, "weight", "weight", "write the weight, or clear the row if it is not meant")
	}
	if w.Section() && (w.Wet == 0 || w.Ovendry == 0) {
		field := "section wet"
		if w.Ovendry == 0 {
			field = "section ovendry"
		}
		if w.Weight == 0 {
			return b.missing(v, field, field+" weight", "a section needs its wet and its ovendry weight")
		}
		b.say("T001", v.origin.At(field), "", "a section needs its wet and its ovendry weight", "this row has no %s weight; the section was left out", field)
		w.Wet, w.Ovendry = 0, 0
	}
	b.job.Weights = append(b.job.Weights, w)
	return ""
}

func (b *binder) makeAir(v *rowValues) string {
	at := v.date("date")
	if v.has("time") {
		at = at.Truncate(24 * time.Hour).Add(time.Duration(v.value("time").number * float64(time.Hour)).Round(time.Second))
	}
	cores := b.addCores(v, at)
	a := compute.Air{Origin: v.origin, Time: at, DryBulb: v.value("dry bulb").temp, WetBulb: v.value("wet bulb").temp,
		Humidity: v.value("humidity").rh, Where: v.text("where"), Load: v.text("load"), Running: v.text("running"), Note: v.text("note")}
	if cores && (!a.DryBulb.Known() || coreWords(a.Where)) {
		return ""
	}
	if !a.DryBulb.Known() {
		return b.missing(v, "dry bulb", "air temperature", "write the temperature, or clear the row")
	}
	if !a.Humidity.Known() && !a.WetBulb.Known() && !cores {
		return b.missing(v, "humidity", "humidity or wet bulb", "write one of the two, or clear the row")
	}
	b.job.Air = append(b.job.Air, a)
	return ""
}

func (b *binder) makeWanted(v *rowValues) string {
	sizeInto(v, "finished thickness", "finished width", "length", "pieces")
	kind, _ := profile.Parse(v.text("profile"))
	if v.length("finished thickness") == 0 {
		return b.missing(v, "finished thickness", "finished thickness", "write the finished size")
	}
	// The width may follow from what shows, and that of a panel from its door.
	if v.length("finished width") == 0 && (v.bad["finished width"] || v.length("face") == 0 && (kind != profile.Panel || v.length("wall width") == 0)) {
		return b.missing(v, "finished width", "finished width", "write the finished size")
	}
	// Battens may be counted from their boards.
	wall := v.length("wall height") != 0 && v.length("wall width") != 0 && kind != profile.Stile && kind != profile.Rail && kind != profile.Panel
	if !v.has("pieces") && !v.has("area") && (v.bad["pieces"] || v.bad["area"] || !wall && kind != profile.Batten) {
		return b.missing(v, "pieces", "number of pieces or area", "write how many pieces, the area to cover, or height and width of the wall")
	}
	b.noteBareRuns(v, kind)
	b.job.Wanted = append(b.job.Wanted, compute.Wanted{Origin: v.origin, Piece: v.text("piece"), Species: v.species("species"),
		Thickness: v.length("finished thickness"), Width: v.length("finished width"), Face: v.length("face"), Length: v.length("length"),
		Joint: v.length("lap"), Gap: v.length("gap"), WallHeight: v.length("wall height"), WallRun: v.length("wall width"), Openings: v.value("openings").number,
		Pieces: v.count("pieces"), Area: v.value("area").number, Profile: v.text("profile"), Use: v.text("use"), Waste: v.value("waste").number,
		Sawing: v.sawing("sawing"), Note: v.text("note"), Unread: slices.Sorted(maps.Keys(v.bad))})
	return ""
}

func (b *binder) makeLoad(v *rowValues) string {
	b.job.Loads = append(b.job.Loads, compute.Load{Origin: v.origin, ID: v.text("load"), Species: v.species("species"), Use: v.text("use"),
		Region: v.text("region"), Limit: v.mc("limit"), Low: v.mc("lowest"), DateIn: v.date("date in"), DateOut: v.date("date out"),
		Boards: v.count("boards"), Courses: v.count("courses"), Spots: v.count("spots"), Note: v.text("note")})
	return ""
}

func (b *binder) makeSale(v *rowValues) string {
	s := compute.Sale{Origin: v.origin, ID: v.text("sale"), Load: v.text("load"), Boards: v.value("boards").ids, Pieces: v.count("pieces"),
		Buyer: v.text("buyer"), Use: v.text("use"), Date: v.date("date"), Note: v.text("note")}
	s.Price, s.AsksUnread = b.salePrice(v)
	if n := v.count("boards"); n > 0 && s.Pieces == 0 {
		s.Pieces = n // "12 boards" where their numbers could stand
	}
	takeOwnUse(&s, v)
	if len(s.Boards) == 0 && s.Pieces == 0 {
		return b.missing(v, "boards", "boards or number of pieces", "write which boards were sold, or how many")
	}
	if s.ID == "" {
		if s.ID = s.Buyer; s.ID == "" {
			return b.missing(v, "sale", "sale number or buyer", "write a sale number or the buyer")
		}
	}
	b.job.Sales = append(b.job.Sales, s)
	return ""
}

// ownUse is what stands for the sale's number, and for what the boards were used for, when a row doesn't say.
const ownUse = "own use"

// ownUseWords are what people write in the place of the buyer when they used the boards themselves.
var ownUseWords = []string{"own use", "own", "our own use", "for own use", "ourselves", "us", "self", "used ourselves", "own shop", "own job"}

// takeOwnUse marks a row of boards the mill used itself: by its own column, or by the word in the place of the buyer. A sale's
// number and buyer filled from above are not its.
func takeOwnUse(s *compute.Sale, v *rowValues) {
	s.OwnUse = v.text("own use")
	buyer, _ := headingWords(s.Buyer)
	self := slices.Contains(ownUseWords, buyer)
	switch {
	case self && s.OwnUse == "" && s.Use != "":
		s.OwnUse = s.Use
	case self && s.OwnUse == "":
		s.OwnUse = ownUse
	case s.OwnUse == "":
		return // sold
	}
	if self || v.filled["buyer"] {
		s.Buyer = ""
	}
	if s.ID == "" || v.filled["sale"] && !self {
		s.ID = ownUse
	}
}
