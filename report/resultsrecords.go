package report

import (
	"maps"
	"slices"

	"drytally/compute"
	"drytally/compute/finding"
)

// jsSorted writes texts by name, in order of name.
func jsSorted(m map[string]string) any {
	o := jsLine{}
	for _, k := range slices.Sorted(maps.Keys(m)) {
		o = append(o, jsPair{k, m[k]})
	}
	return o
}

// jsAccount writes what became of the rows of one sheet: the counts, and every row that was not used with why.
func jsAccount(a *compute.Account) any {
	rows := jsArray{}
	for r := range a.Rows.All() {
		if r.Fate != compute.Used {
			rows = append(rows, jsLine{{"row", r.Row}, {"kind", string(r.Kind)}, {"fate", r.Fate.String()}, {"why", r.Why}})
		}
	}
	return jsObject{{"file", a.File}, {"sheet", a.Sheet}, {"rows_with_content", a.Rows.Len()}, {"rows_used", a.Count(compute.Used)},
		{"rows_set_aside", a.Count(compute.SetAside)}, {"rows_not_data", a.Count(compute.NotData)}, {"rows_not_used", rows}}
}

// fates tells what became of each row, by file, sheet and row.
func (j *job) fates() map[finding.Place]compute.Fate {
	all := map[finding.Place]compute.Fate{}
	for _, a := range j.Accounts {
		for r := range a.Rows.All() {
			all[finding.Place{File: a.File, Sheet: a.Sheet, Row: r.Row}] = r.Fate
		}
	}
	return all
}

// fateOf gives the word for what became of the row of a record. A record that no account knows was used: it has a record.
func fateOf(fates map[finding.Place]compute.Fate, o compute.Origin) string {
	if f, ok := fates[o.At("")]; ok {
		return f.String()
	}
	return compute.Used.String()
}

// jsOrigin writes the row of a record.
func jsOrigin(o compute.Origin) jsObject {
	at := o.At("")
	return jsObject{{"file", at.File}, {"sheet", at.Sheet}, {"row", at.Row}}
}

// jsRecords writes every record as it was read, in the order of its row. A record whose row was set aside afterwards is
// among them: its fate says so.
func (j *job) jsRecords() any {
	fates := j.fates()
	record := func(o compute.Origin, aside bool, fields ...jsPair) any {
		cells := jsLine{}
		for _, field := range slices.Sorted(maps.Keys(o.Cols())) {
			if o.Cols()[field] > 0 {
				cells = append(cells, jsPair{field, o.At(field).Cell()})
			}
		}
		fate := fateOf(fates, o)
		if aside {
			fate = compute.SetAside.String()
		}
		out := append(jsOrigin(o), jsPair{"fate", fate}, jsPair{"cells", cells})
		return append(out, fields...)
	}
	k := j.Job
	return jsObject{
		{"cuts", jsEach(k.Cuts, func(c *compute.Cut) any { return record(c.Origin, false, jsCut(c)...) })},
		{"boards", jsEach(k.Boards, func(b *compute.Board) any { return record(b.Origin, false, jsBoard(b)...) })},
		{"readings", jsEach(j.readingRows(), func(r *readingRow) any { return record(r.Origin, r.aside, jsReadingRow(&r.Reading)...) })},
		{"weights", jsEach(k.Weights, func(w *compute.Weight) any { return record(w.Origin, false, jsWeight(w)...) })},
		{"air", jsEach(k.Air, func(a *compute.Air) any { return record(a.Origin, false, jsAir(a)...) })},
		{"wanted", jsEach(k.Wanted, func(w *compute.Wanted) any { return record(w.Origin, false, jsWanted(w)...) })},
		{"loads", jsEach(k.Loads, func(l *compute.Load) any { return record(l.Origin, false, jsLoadRow(l)...) })},
		{"sold", jsEach(k.Sales, func(s *compute.Sale) any { return record(s.Origin, false, jsSold(s)...) })},
		{"core_temperatures", jsEach(k.Core, func(c *compute.Core) any { return record(c.Origin, false, jsCore(c)...) })},
		{"climate", jsEach(k.Climate, func(c *compute.Climate) any { return record(c.Origin, false, jsClimate(c)...) })},
	}
}

// readingRow is a reading, or a row of readings none of which could be read: such a row is set aside, and its reading is
// not taken.
type readingRow struct {
	compute.Reading
	aside bool
}

// readingRows lists the readings with the rows that could not be read in their places.
func (j *job) readingRows() []readingRow {
	var rows []readingRow
	for _, r := range j.Job.Readings {
		rows = append(rows, readingRow{Reading: r})
	}
	for _, u := range j.Job.Unread {
		row := readingRow{compute.Reading{Taking: &compute.Taking{Load: u.Load}, Origin: u.Origin, Board: u.Board, Course: u.Course, Spot: u.Spot}, true}
		// Behind the last row of its sheet that stands above it; else before the first of its sheet; else at the end.
		at := len(rows)
		for i := len(rows) - 1; i >= 0; i-- {
			if rows[i].Origin.SameSheet(u.Origin) {
				if at = i; rows[i].Origin.Row <= u.Origin.Row {
					at = i + 1
					break
				}
			}
		}
		rows = slices.Insert(rows, at, row)
	}
	return rows
}

func jsCut(c *compute.Cut) jsObject {
	return jsObject{{"id", c.ID}, {"load", c.Load}, {"species", c.Species.Name}, {"thickness", jsLength(c.Thickness)},
		{"measured", jsLengths(c.Measured)}, {"sawn_at", jsLength(c.Setting)}, {"width", jsLength(c.Width)}, {"length", jsLength(c.Length)}, {"pieces", jsCountIf(c.Pieces)}, {"sawing", jsSawing(c.Sawing)},
		{"date", jsDate(c.Date)}, {"note", c.Note}}
}

func jsBoard(b *compute.Board) jsObject {
	return jsObject{{"board", b.ID}, {"load", b.Load}, {"species", b.Species.Name}, {"thickness", jsLengths(b.Thickness)},
		{"width", jsLength(b.Width)}, {"length", jsLength(b.Length)}, {"green_thickness", jsLength(b.GreenThickness)},
		{"green_measured", jsLengths(b.GreenMeasured)}, {"sawn_at", jsLength(b.Setting)},
		{"green_width", jsLength(b.GreenWidth)}, {"nominal", jsLength(b.Nominal)}, {"nominal_width", jsLength(b.NominalWidth)}, {"cup", jsLength(b.Cup)}, {"bow", jsLength(b.Bow)},
		{"crook", jsLength(b.Crook)}, {"twist", jsLength(b.Twist)}, {"cut_out", jsCutOut(b.CutOut)}, {"sawing", jsSawing(b.Sawing)}, {"course", jsCountIf(b.Course)},
		{"spot", jsCountIf(b.Spot)}, {"note", b.Note}}
}

// jsCutOut writes bad wood as it was read, or null.
func jsCutOut(c compute.CutOut) any {
	if len(c.Stretches) == 0 && c.Total == 0 && !c.Unread {
		return nil
	}
	return jsObject{{"stretches", jsEach(c.Stretches, func(s *compute.Stretch) any {
		return jsObject{{"from", jsMeasure(s.From)}, {"to", jsMeasure(s.To)}, {"from_top", s.Top}}
	})}, {"total", jsLength(c.Total)}, {"unread", c.Unread}}
}

func jsReadingRow(r *compute.Reading) jsObject {
	var cell any
	if at := r.Origin.At(r.Field); at.Col > 0 {
		cell = at.Cell()
	}
	return jsObject{{"cell", cell}, {"board", r.Board}, {"load", r.Load}, {"course", jsCountIf(r.Course)}, {"spot", jsCountIf(r.Spot)},
		{"reading", jsReading(r.Value)}, {"wood_temperature", jsTemperature(r.WoodTemp)}, {"date", jsDate(r.Date)},
		{"depth", jsLength(r.Depth)}, {"where", r.Where}, {"meter", r.Meter}, {"note", r.Note}}
}

func jsWeight(w *compute.Weight) jsObject {
	return jsObject{{"sample", w.Sample}, {"load", w.Load}, {"date", jsDate(w.Date)}, {"weight", jsMass(w.Weight)},
		{"section_wet", jsMass(w.Wet)}, {"section_ovendry", jsMass(w.Ovendry)}, {"unit", w.Unit.String()},
		{"section_unit", w.SectionUnit.String()}, {"note", w.Note}}
}

func jsAir(a *compute.Air) jsObject {
	return jsObject{{"time", jsDate(a.Time)}, {"dry_bulb", jsTemperature(a.DryBulb)}, {"wet_bulb", jsTemperature(a.WetBulb)},
		{"relative_humidity_percent", jsHumidity(a.Humidity)}, {"where", a.Where}, {"load", a.Load}, {"running", a.Running}, {"note", a.Note}}
}

func jsWanted(w *compute.Wanted) jsObject {
	return jsObject{{"piece", w.Piece}, {"species", w.Species.Name}, {"thickness", jsLength(w.Thickness)}, {"width", jsLength(w.Width)},
		{"face", jsLength(w.Face)}, {"lap", jsLength(w.Joint)}, {"gap", jsLength(w.Gap)}, {"wall_height", jsLength(w.WallHeight)}, {"wall_width", jsLength(w.WallRun)},
		{"openings_square_feet", jsRealIf(w.Openings)}, {"length", jsLength(w.Length)}, {"pieces", jsCountIf(w.Pieces)}, {"area_square_feet", jsRealIf(w.Area)},
		{"profile", w.Profile}, {"use", w.Use}, {"waste_share", jsReal(w.Waste)}, {"sawing", jsSawing(w.Sawing)}, {"note", w.Note}, {"unread", jsTexts(w.Unread)}}
}

func jsLoadRow(l *compute.Load) jsObject {
	return jsObject{{"load", l.ID}, {"species", l.Species.Name}, {"use", l.Use}, {"region", l.Region}, {"limit_percent", jsPercentIf(l.Limit)},
		{"lowest_percent", jsPercentIf(l.Low)}, {"date_in", jsDate(l.DateIn)}, {"date_out", jsDate(l.DateOut)}, {"boards", jsCountIf(l.Boards)},
		{"courses", jsCountIf(l.Courses)}, {"spots", jsCountIf(l.Spots)}, {"note", l.Note}}
}

func jsSold(s *compute.Sale) jsObject {
	return jsObject{{"sale", s.ID}, {"load", s.Load}, {"boards", jsTexts(s.Boards)}, {"pieces", jsCountIf(s.Pieces)}, {"buyer", s.Buyer},
		{"use", s.Use}, {"own_use", s.OwnUse}, {"date", jsDate(s.Date)}, {"asked", jsAsked(s.Price)}, {"asks_unread", s.AsksUnread}, {"note", s.Note}}
}

func jsCore(c *compute.Core) jsObject {
	var cell any
	if at := c.Origin.At(c.Field); at.Col > 0 {
		cell = at.Cell()
	}
	return jsObject{{"cell", cell}, {"time", jsDate(c.Time)}, {"temperature", jsTemperature(c.Temp)}, {"probe", c.Probe}, {"load", c.Load}, {"note", c.Note}}
}

func jsClimate(c *compute.Climate) jsObject {
	return jsObject{{"month", int(c.Month)}, {"temperature", jsTemperature(c.Temp)}, {"relative_humidity_percent", jsHumidity(c.Humidity)},
		{"indoors", c.Indoors}, {"note", c.Note}}
}
