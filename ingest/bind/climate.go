package bind

import (
	"strings"
	"time"
	"unicode"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// monthOf reads a month: Jan, January, 1, or a date, whose day and year don't count.
func (b *binder) monthOf(c sheet.Cell, x cell.Context) (time.Month, bool) {
	if c.Kind == sheet.Number && (c.Format == sheet.Date || c.Format == sheet.DateTime) {
		if d, ps := cell.Date(c, x); len(ps) == 0 && !d.IsZero() {
			return d.Month(), true
		}
	}
	words := strings.ToLower(strings.TrimSpace(c.Text))
	for m := time.January; m <= time.December; m++ {
		if words == itoa(int(m)) || words == "0"+itoa(int(m)) {
			return m, true
		}
		name := strings.ToLower(m.String())
		first := strings.FieldsFunc(words, func(r rune) bool { return !unicode.IsLetter(r) })
		if len(first) == 1 && len(first[0]) >= 3 && (strings.HasPrefix(name, first[0]) || first[0] == "sept" && m == time.September) {
			return m, true
		}
	}
	b.say("T021", b.at(c.Row, c.Col), c.Text, "write Jan to Dec, or 1 to 12", "%q is not a month", c.Text)
	return 0, false
}

// indoors reads whether the air of a climate is that of a room.
func indoors(where string) (inside, known bool) {
	var in, out bool
	words := strings.FieldsFunc(strings.ToLower(where), func(r rune) bool { return !unicode.IsLetter(r) })
	for i, w := range words {
		switch w {
		case "in":
			in = in || i+1 == len(words) || words[i+1] != "the" // in the shade is not indoors
		case "indoors", "indoor", "inside", "room", "house", "interior":
			in = true
		case "outdoors", "outdoor", "outside", "out", "exterior", "shade":
			out = true
		case "not", "no":
			return false, false
		}
	}
	return in, in != out
}

// makeClimate makes one month, or two when indoors has its own columns.
func (b *binder) makeClimate(v *rowValues) string {
	month := time.Month(v.count("month"))
	outside := compute.Climate{Origin: v.origin, Month: month, Temp: v.value("temperature").temp, Humidity: v.value("humidity").rh, Note: v.text("note")}
	room := compute.Climate{Origin: v.origin, Month: month, Temp: v.value("indoor temperature").temp, Humidity: v.value("indoor humidity").rh, Indoors: true, Note: v.text("note")}
	columns := v.has("indoor temperature") || v.has("indoor humidity")
	where := v.text("where")
	if !columns && where != "" {
		in, known := indoors(where)
		if !known {
			b.say("T021", v.origin.At("where"), where, "write indoors or outdoors", "%q is neither indoors nor outdoors", where)
			return "neither indoors nor outdoors"
		}
		outside.Indoors = in
	}
	var made []compute.Climate
	for _, c := range []compute.Climate{outside, room} {
		if c.Temp.Known() && c.Humidity.Known() {
			made = append(made, c)
		}
	}
	if len(made) == 0 {
		if !outside.Temp.Known() && !room.Temp.Known() {
			return b.missing(v, "temperature", "temperature", "write the mean temperature of the month")
		}
		return b.missing(v, "humidity", "humidity", "write the mean relative humidity of the month")
	}
	taken := 0
	for _, c := range made {
		if b.climateStands(c) {
			continue
		}
		if taken++; !columns && where == "" && !b.climateSaid() {
			b.say("T023", v.origin.At("month"), "", "write it beside the months if the air is that of a room", "these months don't say indoors or outdoors; they were taken as outdoors")
		}
		b.job.Climate = append(b.job.Climate, c)
	}
	if taken == 0 {
		return "month given twice"
	}
	return ""
}

// climateSaid reports whether it was said already that months of this sheet were taken as outdoors.
func (b *binder) climateSaid() bool {
	for _, f := range b.job.Findings {
		if f.Code == "T023" && f.Place.File == b.book.Name && f.Place.Sheet == b.at(0, 0).Sheet {
			return true
		}
	}
	return false
}

// climateStands says so when a month stands already.
func (b *binder) climateStands(c compute.Climate) bool {
	for _, old := range b.job.Climate {
		if old.Month == c.Month && old.Indoors == c.Indoors {
			b.say("T022", c.Origin.At("month"), "", "keep one of the two", "%s %s stands in row %d already; this one was not taken", c.Month, inOrOut(c.Indoors), old.Origin.Row)
			return true
		}
	}
	return false
}

func inOrOut(in bool) string {
	if in {
		return "indoors"
	}
	return "outdoors"
}
