package bind

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// Setting is one row of the settings: its names, what its value is, where it goes, and how it is written back.
type Setting struct {
	Name     string
	Headings []string
	What     quantity
	Means    string
	put      func(*compute.Settings, value) error
	show     func(*compute.Settings) string
}

// SettingRows holds every setting, in the order they are printed.
var SettingRows = []Setting{
	{Name: "mill name", What: aText, Means: "printed on every paper", Headings: []string{"mill name", "mill", "name", "sawmill", "business", "business name", "company", "yard", "our name"},
		put: func(s *compute.Settings, v value) error { s.MillName = v.text; return nil }, show: func(s *compute.Settings) string { return s.MillName }},
	{Name: "mill address", What: aText, Means: "printed on every paper", Headings: []string{"mill address", "address", "where we are", "place", "street", "town", "location"},
		put: func(s *compute.Settings, v value) error { s.MillAddress = v.text; return nil }, show: func(s *compute.Settings) string { return s.MillAddress }},
	{Name: "mill contact", What: aText, Means: "telephone or mail", Headings: []string{"mill contact", "contact", "phone", "telephone", "mail", "email", "e mail", "call", "reach us", "tel"},
		put: func(s *compute.Settings, v value) error {
			if s.MillContact != "" {
				s.MillContact += ", "
			}
			s.MillContact += v.text
			return nil
		}, show: func(s *compute.Settings) string { return s.MillContact }},
	{Name: "units", What: aText, Means: "inches or metric: what a bare number is", Headings: []string{"units", "measure", "measures", "system", "measured in", "sizes in", "unit", "we measure in"},
		put: func(s *compute.Settings, v value) error {
			u, ok := systemOf(v.text)
			if !ok {
				return fmt.Errorf("%q is not inches or metric", v.text)
			}
			s.System = u
			return nil
		}, show: func(s *compute.Settings) string { return [...]string{"inches and feet", "metric"}[s.System] }},
	{Name: "paper", What: aText, Means: "Letter or A4", Headings: []string{"paper", "paper size", "print on", "page size", "page"},
		put: func(s *compute.Settings, v value) error {
			switch w, _ := headingWords(v.text); w {
			case "letter", "us letter", "legal letter":
				s.Paper = compute.Letter
			case "a4":
				s.Paper = compute.A4
			default:
				return fmt.Errorf("%q is not Letter or A4", v.text)
			}
			return nil
		}, show: func(s *compute.Settings) string { return [...]string{"Letter", "A4"}[s.Paper] }},
	{Name: "saw step", What: aLength, Means: "the saw is set in steps of this", Headings: []string{"saw step", "step", "setting step", "saw scale", "scale step", "saw setting step", "sets in steps of", "setworks step", "saw sets in"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.SawStep, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.SawStep) }},
	{Name: "kerf", What: aLength, Means: "width of the saw cut", Headings: []string{"kerf", "saw kerf", "blade kerf", "cut width", "blade"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.Kerf, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kerf) }},
	{Name: "saw spread", What: aLength, Means: "total sawing standard deviation", Headings: []string{"saw spread", "sawing spread", "spread", "saw variation", "sawing variation", "sawing standard deviation", "saw scatter"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.SawSpread, v) }, show: func(s *compute.Settings) string { return thousandths(s, s.SawSpread) }},
	{Name: "planing per face", What: aLength, Means: "least cut of the planer on each face", Headings: []string{"planing per face", "planing", "planer cut", "plane off per face", "planing each face", "skim", "planing allowance per face", "planer takes per face"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.PlanePer, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.PlanePer) }},
	{Name: "edge cut", What: aLength, Means: "jointing on each edge", Headings: []string{"edge cut", "edging", "jointing per edge", "jointing", "edge allowance", "straightening per edge", "jointer per edge", "each edge"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.EdgeCut, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.EdgeCut) }},
	{Name: "scant share", What: aShare, Means: "share of boards that may come out scant", Headings: []string{"scant share", "scant", "scant boards", "undersize share", "may be scant", "scant allowed"},
		put: func(s *compute.Settings, v value) error { return setShare(&s.ScantShare, v, 0.001, 0.5) }, show: func(s *compute.Settings) string { return percent(s.ScantShare) }},
	{Name: "target moisture", What: anMC, Means: "moisture content to dry to, when it isn't the use's own", Headings: []string{"target moisture", "target", "target mc", "dry to", "target moisture content", "aim", "dried to"},
		put: func(s *compute.Settings, v value) error { s.Target = v.mc; return nil }, show: func(s *compute.Settings) string { return orByUse(s.Target) }},
	{Name: "meter kind", What: aText, Means: "pin or dielectric", Headings: []string{"meter kind", "meter", "meter type", "kind of meter", "moisture meter", "type of meter"},
		put: func(s *compute.Settings, v value) error {
			w := strings.ToLower(v.text)
			switch {
			case strings.Contains(w, "pinless") || strings.Contains(w, "dielectric") || strings.Contains(w, "plate"):
				s.Meter = compute.DielectricMeter
			case strings.Contains(w, "pin") || strings.Contains(w, "resistance"):
				s.Meter = compute.PinMeter
			default:
				return fmt.Errorf("%q is not pin or dielectric", v.text)
			}
			return nil
		}, show: func(s *compute.Settings) string { return s.Meter.String() }},
	{Name: "meter set to species", What: aYesNo, Means: "yes when the meter itself corrects for the species", Headings: []string{"meter set to species", "set to species", "meter species", "species set on meter", "species correction on meter", "meter on species", "species dialed in",
		"meter already set to species", "species set", "is meter set to species", "meter set to wood", "meter set for species"},
		put: func(s *compute.Settings, v value) error { s.MeterSpecies = v.said; return nil }, show: func(s *compute.Settings) string { return s.MeterSpecies.String() }},
	{Name: "meter corrects for temperature", What: aYesNo, Means: "yes when the meter itself corrects for wood temperature", Headings: []string{"meter corrects for temperature", "meter temperature correction", "temperature correction on meter", "meter temp correction",
		"meter corrects temperature", "meter set to temperature", "temperature corrected by meter", "meter corrects for wood temperature", "meter corrects for wood temp", "corrects for temperature",
		"meter corrects wood temperature", "wood temperature set on meter", "meter does temperature", "temperature set on meter", "meter temperature set"},
		put: func(s *compute.Settings, v value) error { s.MeterWoodTemp = v.said; return nil }, show: func(s *compute.Settings) string { return s.MeterWoodTemp.String() }},
	{Name: "lowest mark", What: anMC, Means: "lowest number the meter shows", Headings: []string{"lowest mark", "meter low", "lowest reading", "meter lowest", "low mark", "meter lowest mark", "lo means", "lo is", "meter low mark", "lo means under", "lowest meter mark"},
		put: func(s *compute.Settings, v value) error { s.LowestMark = v.mc; return nil }, show: func(s *compute.Settings) string { return s.LowestMark.String() + " %" }},
	{Name: "highest mark", What: anMC, Means: "highest number the meter shows", Headings: []string{"highest mark", "meter high", "highest reading", "meter highest", "high mark", "meter highest mark", "ol means", "meter high mark", "ol is", "ol means over", "highest meter mark"},
		put: func(s *compute.Settings, v value) error { s.HighestMark = v.mc; return nil }, show: func(s *compute.Settings) string { return s.HighestMark.String() + " %" }},
	{Name: "meter calibration", What: aText, Means: "how and when the meter was checked", Headings: []string{"meter calibration", "calibration", "meter checked", "meter check", "calibrated", "checked", "meter last checked"},
		put: func(s *compute.Settings, v value) error { s.MeterCalibrate = v.text; return nil }, show: func(s *compute.Settings) string { return s.MeterCalibrate }},
	{Name: "limit", What: anMC, Means: "highest moisture content for loads that name none", Headings: []string{"limit", "mc limit", "highest mc", "max mc", "upper limit"},
		put: func(s *compute.Settings, v value) error { s.Limit = v.mc; return nil }, show: func(s *compute.Settings) string { return orByUse(s.Limit) }},
	{Name: "allowed share", What: aShare, Means: "share of the boards of a load that may be over the limit", Headings: []string{"allowed share", "share over", "may be over", "allowed over", "boards allowed over", "share allowed over", "how many may be over", "allowed share over limit", "over allowed"},
		put: func(s *compute.Settings, v value) error { return setShare(&s.AllowedShare, v, 0.001, 0.5) }, show: func(s *compute.Settings) string { return percent(s.AllowedShare) }},
	{Name: "most held back", What: aShare, Means: "with more than this share over the limit a load is not dry yet", Headings: []string{"most held back", "held back", "most to hold back", "hold back at most"},
		put: func(s *compute.Settings, v value) error { return setShare(&s.MostHeldBack, v, 0, 0.9) }, show: func(s *compute.Settings) string { return percent(s.MostHeldBack) }},
	{Name: "footage rule", What: aText, Means: "surface measure, volume, or softwood nominal", Headings: []string{"footage rule", "footage", "board foot rule", "board feet by", "tally rule", "footage by", "rule", "board measure", "scale by"},
		put: func(s *compute.Settings, v value) error {
			w := strings.ToLower(v.text)
			switch {
			case strings.Contains(w, "species") || strings.Contains(w, "surface") && strings.Contains(w, "volume"):
				s.Rule = compute.RuleBySpecies
			case strings.Contains(w, "surface"):
				s.Rule = compute.SurfaceMeasure
			case strings.Contains(w, "nominal"):
				s.Rule = compute.SoftwoodNominal
			case strings.Contains(w, "volume") || strings.Contains(w, "exact") || strings.Contains(w, "actual"):
				s.Rule = compute.VolumeMeasure
			default:
				return fmt.Errorf("%q is not surface measure, volume or softwood nominal", v.text)
			}
			return nil
		}, show: func(s *compute.Settings) string {
			return [...]string{"by species: surface measure for hardwood, volume for softwood", "volume", "surface measure", "softwood nominal"}[s.Rule]
		}},
	{Name: "region", What: aText, Means: "where the wood will be used, as in the handbook's table", Headings: []string{"region", "climate", "area", "where used", "service region", "region of use"},
		put: func(s *compute.Settings, v value) error { s.Region = v.text; return nil }, show: func(s *compute.Settings) string { return s.Region }},
	{Name: "tag width", What: aLength, Means: "of one tag", Headings: []string{"tag width", "tags wide", "tag w"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.TagWidth, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.TagWidth) }},
	{Name: "tag height", What: aLength, Means: "of one tag", Headings: []string{"tag height", "tags high", "tag h"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.TagHeight, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.TagHeight) }},
	{Name: "alias", What: aText, Means: "your own name for a wood: WP = eastern white pine", Headings: []string{"alias", "aliases", "short for", "short name", "species alias", "our names", "short names", "abbreviation", "abbreviations", "alias for species"},
		put: nil, show: func(s *compute.Settings) string {
			var all []string
			for _, k := range slices.Sorted(maps.Keys(s.Aliases)) {
				all = append(all, k+" = "+s.Aliases[k])
			}
			return strings.Join(all, "; ")
		}},
}

func setLength(l *units.Length, v value) error {
	if len(v.lengths) == 0 || v.lengths[0] <= 0 {
		return fmt.Errorf("the length is not more than zero")
	}
	*l = v.lengths[0]
	return nil
}

func setShare(s *float64, v value, low, high float64) error {
	if v.number < low || v.number > high {
		return fmt.Errorf("a share of %s is outside %s to %s", percent(v.number), percent(low), percent(high))
	}
	*s = v.number
	return nil
}

func percent(x float64) string { return strconv.FormatFloat(x*100, 'f', -1, 64) + " %" }

func orByUse(m units.MC) string {
	if m == 0 {
		return "by use"
	}
	return m.String() + " %"
}

func thousandths(s *compute.Settings, l units.Length) string {
	if s.System == units.Metric {
		return strconv.FormatFloat(l.Millimetres(), 'f', 2, 64) + " mm"
	}
	return strconv.FormatFloat(l.Inches(), 'f', 3, 64) + `"`
}

// settingNamed finds the setting a text names.
func settingNamed(text string) (*Setting, cell.Unit) {
	words, unit := headingWords(text)
	words = strings.TrimSuffix(words, " yes no")
	for _, w := range []string{strings.Join(headingFields(text), " "), words} {
		for i := range SettingRows {
			if slices.Contains(SettingRows[i].Headings, w) {
				return &SettingRows[i], unit
			}
		}
	}
	return nil, unit
}

// leastSettings is how many setting names a sheet must hold before it is read as settings without its name saying so.
const leastSettings = 3

// readSettings reads the rows of name and value outside the sheet's tables.
func (b *binder) readSettings(rs []region) {
	type pair struct {
		row     int
		name    sheet.Cell
		value   sheet.Cell
		setting *Setting
		unit    cell.Unit
	}
	var pairs []pair
	var unknown []pair
	var headings []int
	named := settingsSheet(b.sheet.Name)
	for i := range b.sheet.Rows {
		row := &b.sheet.Rows[i]
		if inside(rs, row.Number) {
			continue
		}
		var texts []sheet.Cell
		for _, c := range row.Cells {
			if !cell.Empty(c) || c.NoResult {
				texts = append(texts, c)
			}
		}
		if len(texts) == 0 || texts[0].Kind != sheet.Text {
			continue
		}
		p := pair{row: row.Number, name: texts[0]}
		p.setting, p.unit = settingNamed(texts[0].Text)
		if len(texts) > 1 {
			p.value = texts[1]
		}
		if words, _ := headingWords(p.name.Text); valueHeading(words, p.value.Text) {
			headings = append(headings, p.row)
			continue
		}
		switch {
		case p.setting != nil:
			pairs = append(pairs, p)
		case named && len(texts) > 1:
			unknown = append(unknown, p)
		}
	}
	if len(pairs) < leastSettings && !(named && len(pairs) > 0) {
		return
	}
	for _, row := range headings {
		b.fate(row, compute.KindSettings, compute.NotData, "heading")
	}
	// The units decide how the other values are read.
	slices.SortStableFunc(pairs, func(x, y pair) int {
		return boolOrder(y.setting.Name == "units") - boolOrder(x.setting.Name == "units")
	})
	given := map[string]int{}
	for _, p := range pairs {
		at := b.at(p.row, p.value.Col)
		if p.value.Kind == sheet.Blank && !p.value.NoResult {
			b.fate(p.row, compute.KindSettings, compute.NotData, "setting left empty")
			continue
		}
		if old := given[p.setting.Name]; old != 0 && p.setting.Name != "alias" && p.setting.Name != "mill contact" {
			b.say("T012", at, p.value.Text, "keep one of the two", "the setting %q was given in row %d already; this one was not taken", p.setting.Name, old)
			b.fate(p.row, compute.KindSettings, compute.SetAside, "setting given twice")
			continue
		}
		given[p.setting.Name] = p.row
		if !b.readSetting(p.setting, p.value, p.unit, at) {
			b.fate(p.row, compute.KindSettings, compute.SetAside, "value not readable")
			continue
		}
		b.fate(p.row, compute.KindSettings, compute.Used, "")
	}
	for _, p := range unknown {
		if b.fates[rowKey{b.book.Name, b.sheet.Name, p.row}].Why == "legend" {
			continue
		}
		b.say("T010", b.at(p.row, p.name.Col), p.name.Text, "nothing to do if it is for yourself; the README lists the settings", "%q is not a setting drytally knows", p.name.Text)
		b.fate(p.row, compute.KindSettings, compute.SetAside, "not a known setting")
	}
}

func boolOrder(b bool) int {
	if b {
		return 1
	}
	return 0
}

func inside(rs []region, row int) bool {
	return slices.ContainsFunc(rs, func(r region) bool { return row >= r.headFirst && row <= r.until })
}

func settingsSheet(name string) bool {
	words, _ := headingWords(name)
	for _, w := range strings.Fields(words) {
		if slices.Contains([]string{"settings", "setting", "setup", "mill", "figures", "defaults", "preferences", "basics"}, w) {
			return true
		}
	}
	return false
}

func valueHeading(words, value string) bool {
	v, _ := headingWords(value)
	return slices.Contains([]string{"name", "setting", "settings", "what", "item", "thing", "field", "key", "entry"}, words) &&
		slices.Contains([]string{"value", "values", "setting", "ours", "figure", "is", "answer", "entry", "what", "amount"}, v)
}

func (b *binder) readSetting(s *Setting, c sheet.Cell, unit cell.Unit, at finding.Place) bool {
	if s.Name == "alias" {
		return b.readAliases(c, at)
	}
	if s.What == aYesNo {
		// "yes, on ash" is a yes.
		words, _ := headingWords(c.Text)
		switch f := strings.Fields(words); {
		case len(f) > 1 && f[0] == "yes":
			c.Text = "yes"
		case len(f) > 1 && f[0] == "no":
			c.Text = "no"
		}
	}
	before := len(b.job.Findings)
	v, ok := b.read(c, column{col: c.Col, unit: unit}, Field{Name: s.Name, What: s.What})
	if !ok {
		return false
	}
	if err := s.put(&b.job.Settings, v); err != nil {
		b.job.Findings = b.job.Findings[:before]
		b.say("T020", at, c.Text, s.Means, "the setting %q can't be taken: %v", s.Name, err)
		return false
	}
	b.job.Settings.Used = append(b.job.Settings.Used, compute.SettingUsed{Name: s.Name, Place: at,
		Source: source.Source{Document: "the workbook", Place: at.String(), Status: source.Owner}})
	return true
}

// readAliases reads "WP = eastern white pine; A = white ash".
func (b *binder) readAliases(c sheet.Cell, at finding.Place) bool {
	ok := true
	for _, part := range strings.FieldsFunc(c.Text, func(r rune) bool { return r == ';' || r == ',' || r == '\n' }) {
		name, meaning, found := strings.Cut(part, "=")
		m := wood.Find(strings.TrimSpace(meaning), nil)
		if !found || m.Kind != wood.Found && m.Kind != wood.Taken {
			b.say("T020", at, c.Text, "write it as WP = eastern white pine", "the setting \"alias\" can't be taken: %q names no wood of the species table", strings.TrimSpace(part))
			ok = false
			continue
		}
		b.alias(name, m.Species.Name, at, c.Text)
	}
	return ok
}

// settingsUsed writes down every setting as used: the owner's where given, else the default, in the order of the table.
func (b *binder) settingsUsed() {
	given := map[string]compute.SettingUsed{}
	for _, u := range b.job.Settings.Used {
		given[u.Name] = u
	}
	s := &b.job.Settings
	s.Used = nil
	for _, row := range SettingRows {
		u, ok := given[row.Name]
		if !ok {
			u = compute.SettingUsed{Name: row.Name, Source: source.Source{Document: "drytally", Place: "default", Status: source.OurChoice}}
		}
		u.Value = row.show(s)
		s.Used = append(s.Used, u)
	}
}
