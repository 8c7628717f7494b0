package bind

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// secondMeter is the field of a second meter's readings, and the name that meter goes by.
const secondMeter = "second meter"

func itoa(n int) string { return strconv.Itoa(n) }

// coreWords reports whether a place named in the air log is the core of a board: a probe there reads no air.
func coreWords(where string) bool {
	words := strings.FieldsFunc(strings.ToLower(where), func(r rune) bool { return !unicode.IsLetter(r) })
	has := func(any ...string) bool {
		return slices.ContainsFunc(any, func(w string) bool { return slices.Contains(words, w) })
	}
	switch {
	case has("air", "chamber", "room", "outside", "shed", "shop", "not", "no", "between", "under", "over", "on", "stack", "pile", "pack"):
		return false // next to a board is not in it
	case has("core"):
		return true
	}
	return has("board", "plank") && has("center", "centre", "in", "inside", "into")
}

// addCores takes the core temperatures of a line of the air log: those of columns of their own, and the temperature of a line
// whose place is the core of a board. It reports whether there was any.
func (b *binder) addCores(v *rowValues, at time.Time) bool {
	n := 0
	add := func(field, probe string, t units.Temperature) {
		if !t.Known() {
			return
		}
		b.job.Core = append(b.job.Core, compute.Core{Origin: v.origin, Field: field, Time: at, Temp: t, Probe: probe, Load: v.text("load"), Note: v.text("note")})
		n++
	}
	where := v.text("where")
	for _, name := range v.names {
		if name == "core temperature" || strings.HasPrefix(name, "core temperature ") {
			probe := strings.TrimPrefix(name, "core temperature")
			if coreWords(where) {
				probe = where + probe
			} else if probe == "" {
				probe = " 1"
			}
			add(name, strings.TrimSpace(probe), v.value(name).temp)
		}
	}
	if coreWords(where) {
		add("dry bulb", where, v.value("dry bulb").temp)
	}
	return n > 0
}

// settleMeter reads a column headed "Meter" that stands beside a column of readings, and holds names, as the names of the
// meters.
func settleMeter(r *region, s *sheet.Sheet) {
	which := slices.IndexFunc(r.table.Fields, func(f Field) bool { return f.Name == "which meter" })
	if which < 0 {
		return
	}
	at, readings := -1, 0
	for i, c := range r.cols {
		if c.field < 0 {
			continue
		}
		switch words, _ := headingWords(c.heading); {
		case c.field == which:
			return
		case r.table.Fields[c.field].Name != "reading":
		case words == "meter":
			if at >= 0 {
				return
			}
			at = i
		default:
			readings++
		}
	}
	if at < 0 || readings == 0 {
		return
	}
	names := 0
	for k := range s.Rows {
		if s.Rows[k].Number <= r.headLast {
			continue
		}
		c := s.Cell(s.Rows[k].Number, r.cols[at].col)
		if cell.Empty(c) || cell.Ditto(c) {
			continue
		}
		if c.Kind != sheet.Text {
			return
		}
		if x, ps := cell.Readings(c, cell.Context{}); len(ps) == 0 && len(x) > 0 {
			return
		}
		names++
	}
	if names == 0 {
		return
	}
	r.cols[at].field, r.cols[at].name, r.cols[at].near = which, "which meter", false
	n := 0
	for i := range r.cols {
		if c := &r.cols[i]; c.field >= 0 && r.table.Fields[c.field].Name == "reading" {
			if n++; n == 1 {
				c.name = "reading"
			} else {
				c.name = "reading " + itoa(n)
			}
		}
	}
}
