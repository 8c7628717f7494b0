package bind

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/unicode/norm"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// sawingOf reads flat, quarter, mixed, rift, or a ring angle in degrees.
func sawingOf(s string) (compute.Sawing, bool) {
	words := strings.ToLower(norm.NFKC.String(s))
	n := strings.TrimSpace(strings.NewReplacer("degrees", "", "degree", "", "deg", "", "°", "").Replace(words))
	if x, err := strconv.ParseFloat(n, 64); err == nil && x >= 0 && x <= 90 {
		return compute.Sawing{Kind: compute.RingAngle, Angle: x}, true
	}
	switch {
	case strings.Contains(words, "mix") || strings.Contains(words, "through") || strings.Contains(words, "live") || strings.Contains(words, "any"):
		return compute.Sawing{Kind: compute.MixedSawn}, true
	case strings.Contains(words, "quarter") || strings.Contains(words, "vertical") || words == "q" || words == "qs":
		return compute.Sawing{Kind: compute.QuarterSawn}, true
	case strings.Contains(words, "flat") || strings.Contains(words, "plain") || strings.Contains(words, "slash") || words == "f" || words == "fs":
		return compute.Sawing{Kind: compute.FlatSawn}, true
	case strings.Contains(words, "rift"):
		return compute.Sawing{Kind: compute.RingAngle, Angle: 45}, true
	}
	return compute.Sawing{}, false
}

// clockOf reads a time of day: a clock-styled number, 15:30, 3:30 pm, 7 am.
func clockOf(c sheet.Cell) (time.Duration, bool) {
	if c.Kind == sheet.Number && (c.Format == sheet.Clock || c.Format == sheet.DateTime) {
		f := c.Number - float64(int64(c.Number))
		return time.Duration(f * 24 * float64(time.Hour)).Round(time.Minute), f >= 0
	}
	s := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(c.Text), ".", ""))
	for _, form := range []string{"15:04", "15:04:05", "3:04pm", "3:04 pm", "3pm", "3 pm", "15h04"} {
		if t, err := time.Parse(form, s); err == nil {
			return time.Duration(t.Hour())*time.Hour + time.Duration(t.Minute())*time.Minute + time.Duration(t.Second())*time.Second, true
		}
	}
	if s == "noon" || s == "midday" {
		return 12 * time.Hour, true
	}
	return 0, s == "midnight"
}

// speciesOf finds the species a name means, or says why it can't.
func (b *binder) speciesOf(written string, at finding.Place) (wood.Species, bool) {
	m := wood.Find(written, b.job.Settings.Aliases)
	switch m.Kind {
	case wood.Found:
		return m.Species, true
	case wood.Taken:
		// Said once for a name: a sheet may hold it in every row.
		if key := strings.ToLower(written); !b.taken[key] {
			b.say("T007", at, written, "write the full name if you mean another wood", "%q was taken as %s, here and wherever else it stands", written, m.Species.Name)
			if !b.trying {
				b.taken[key] = true
			}
		}
		return m.Species, true
	case wood.Ambiguous:
		b.say("T006", at, written, "write one of them, or set it once in the settings: "+written+" = "+first(names(m.Candidates)), "%q can be %s", written, either(names(m.Candidates)))
	default:
		hint := "write the everyday name of the wood, or explain it once in the settings: " + written + " = white ash"
		if len(m.Nearest) > 0 {
			hint = "did you mean " + either(m.Nearest) + "? Or explain it once in the settings: " + written + " = " + first(m.Nearest)
		}
		b.say("T005", at, written, hint, "no wood called %q is in the species table", written)
	}
	return wood.Species{}, false
}

func names(species []wood.Species) []string {
	var all []string
	for _, s := range species {
		all = append(all, s.Name)
	}
	return all
}

func first(names []string) string {
	if len(names) == 0 {
		return "white ash"
	}
	return names[0]
}

// either joins names with commas and "or", at most six of them.
func either(names []string) string {
	more := ""
	if len(names) > 6 {
		names, more = names[:6], " or another"
	}
	if len(names) < 2 || more != "" {
		return strings.Join(names, ", ") + more
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

var legendLine = regexp.MustCompile(`^\s*([\pL][\pL\d .\-/]{0,15}?)\s*(?:=|:=|\bmeans\b|\bis\b)\s*([\pL][\pL \-,]{2,40})\s*$`)

// readLegend takes lines such as "WP = eastern white pine" anywhere on a sheet as the owner's names for woods.
func (b *binder) readLegend() {
	for i := range b.sheet.Rows {
		row := &b.sheet.Rows[i]
		for c := range row.Cells() {
			if c.Kind != sheet.Text || !strings.ContainsAny(c.Text, "=:") && !strings.Contains(c.Text, " means ") && !strings.Contains(c.Text, " is ") {
				continue
			}
			for _, line := range strings.FieldsFunc(c.Text, func(r rune) bool { return r == ';' || r == '\n' || r == ',' && strings.Count(c.Text, "=") > 1 }) {
				m := legendLine.FindStringSubmatch(line)
				if m == nil {
					continue
				}
				if found := wood.Find(m[2], nil); found.Kind == wood.Found || found.Kind == wood.Taken {
					b.alias(m[1], found.Species.Name, b.at(c.Row, c.Col), c.Text)
					b.fate(row.Number, "", compute.NotData, "legend")
				}
			}
		}
	}
}

// alias notes one of the owner's own names for a wood; a second, different meaning is refused.
func (b *binder) alias(name, species string, at finding.Place, stands string) {
	key := strings.ToLower(strings.TrimSpace(name))
	if old, ok := b.job.Settings.Aliases[key]; ok && old != species {
		b.say("T019", at, stands, "keep one of the two", "%q already means %s; the second meaning %s was not taken", name, old, species)
		return
	}
	b.job.Settings.Aliases[key] = species
	for _, u := range b.job.Settings.Used {
		if u.Name == "alias" {
			return
		}
	}
	b.job.Settings.Used = append(b.job.Settings.Used, compute.SettingUsed{Name: "alias", Place: at,
		Source: source.Source{Document: "the workbook", Place: at.String(), Status: source.Owner}})
}

// dateIn finds an ISO or written-out date in a title.
func (b *binder) dateIn(title string) time.Time {
	f := strings.Fields(title)
	for n := 3; n >= 1; n-- {
		for i := 0; i+n <= len(f); i++ {
			text := strings.Trim(strings.Join(f[i:i+n], " "), "(),;:")
			if !strings.ContainsAny(text, "0123456789") {
				continue
			}
			t, p := cell.Date(sheet.Cell{Kind: sheet.Text, Text: text}, b.context("date", cell.UnitNone, cell.UnitNone))
			if len(p) == 0 && !t.IsZero() {
				return t
			}
		}
	}
	return time.Time{}
}

// systemOf reads the units setting: inches and feet, or metric.
func systemOf(s string) (units.System, bool) {
	w, _ := headingWords(s)
	switch {
	case strings.HasPrefix(w, "metric") || strings.HasPrefix(w, "mm") || strings.HasPrefix(w, "milli") || strings.HasPrefix(w, "si"):
		return units.Metric, true
	case strings.HasPrefix(w, "in") || strings.HasPrefix(w, "imperial") || strings.HasPrefix(w, "us") || strings.HasPrefix(w, "feet") || strings.HasPrefix(w, "f"):
		return units.InchFoot, true
	}
	return 0, false
}
