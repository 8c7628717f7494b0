package bind

import (
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/slip"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// settingNamed finds the setting a text names; near is true when only a near miss of a name fits.
func settingNamed(text string) (s *Setting, unit cell.Unit, near bool) {
	h := spellName(text)
	if s = settingExactly(h); s != nil {
		return s, h.unit, false
	}
	if len(h.words) < shortestName {
		return nil, h.unit, false
	}
	for i := range SettingRows {
		for _, name := range SettingRows[i].Headings {
			if len(name) < shortestName || !slip.One(name, h.words) && !slip.One(name, h.whole) {
				continue
			}
			if s != nil && s != &SettingRows[i] {
				return nil, h.unit, false // two settings are equally near
			}
			s = &SettingRows[i]
		}
	}
	return s, h.unit, s != nil
}

// shortestName is how long a setting's name must be to be taken for a near miss: kerff for kerf.
const shortestName = 4

func spellName(text string) spelled {
	h := spell(strings.TrimRight(strings.TrimSpace(text), ":="))
	h.words = strings.TrimSuffix(strings.TrimSuffix(h.words, " yes no"), " y n")
	return h
}

func settingExactly(h spelled) *Setting {
	for _, w := range []string{h.whole, h.words} {
		for i := range SettingRows {
			if slices.Contains(SettingRows[i].Headings, w) {
				return &SettingRows[i]
			}
		}
	}
	if called, _ := priceOfWood(h.whole); called != "" {
		return settingExactly(spelled{whole: "price"})
	}
	return nil
}

// leastSettings is how many setting names a sheet must hold before it is read as settings without its name saying so.
const leastSettings = 3

// settingPair is a setting's name with its value, wherever the two stand.
type settingPair struct {
	pair
	value   sheet.Cell
	setting *Setting
	unit    cell.Unit
	near    bool
	loose   bool       // it stands among settings on a sheet that is not named after them
	holds   sheet.Cell // what a blank workbook said holds when the value is left empty
}

// readSettings reads names and values of settings outside the sheet's tables: names down with the value beside each, or
// names across with the values in the row below.
func (b *binder) readSettings(rs []region) {
	pairs, unknown, headings := b.settingPairs(rs)
	named := settingsSheet(b.sheet.Name)
	exact := 0
	for _, p := range pairs {
		if !p.near {
			exact++
		}
	}
	if exact < leastSettings && !(named && len(pairs) > 0) {
		return
	}
	for _, row := range headings {
		b.fate(row, compute.KindSettings, compute.NotData, "heading")
	}
	// The units decide how the other values are read.
	slices.SortStableFunc(pairs, func(x, y settingPair) int {
		return boolOrder(y.setting.Name == "units") - boolOrder(x.setting.Name == "units")
	})
	for _, p := range pairs {
		at := b.at(p.row, p.value.Col)
		if p.near {
			b.say("T002", b.at(p.at.Row, p.at.Col), p.name, "correct the name if it means something else", "the setting %q was read as %q", p.name, p.setting.Name)
		}
		if p.value.Kind == sheet.Blank && !p.value.NoResult {
			b.holdDefault(p)
			b.fate(p.row, compute.KindSettings, compute.NotData, emptySetting)
			continue
		}
		if old, ok := b.given[p.setting.Name]; ok && !p.setting.several {
			b.say("T012", at, p.value.Text, "keep one of the two", "the setting %q was given in %s already; this one was not taken", p.setting.Name, old)
			b.fate(p.row, compute.KindSettings, compute.SetAside, "setting given twice")
			continue
		}
		b.given[p.setting.Name] = at
		read := b.readSetting
		if p.setting.Name == "price" {
			read = func(*Setting, sheet.Cell, cell.Unit, finding.Place) bool { return b.readPrices(p.name, p.value, at) }
		}
		if !read(p.setting, p.value, p.unit, at) {
			b.fate(p.row, compute.KindSettings, compute.SetAside, "value not readable")
			continue
		}
		b.fate(p.row, compute.KindSettings, compute.Used, "")
	}
	for _, p := range unknown {
		if b.fateOf(p.row).why == "legend" {
			continue
		}
		// A row of which a setting is known is used for that.
		beside := slices.ContainsFunc(pairs, func(k settingPair) bool { return k.row == p.row })
		b.strange = append(b.strange, strangeSetting{settingPair: p, book: b.book, sheet: b.sheet, beside: beside})
	}
}

// holdDefault says so where the column for what holds when a setting is left empty says something else than what holds: a value
// was written into the wrong column, or the workbook is from before the program chose another figure.
func (b *binder) holdDefault(p settingPair) {
	if p.holds.Kind == sheet.Blank {
		return
	}
	holds := ""
	for _, system := range []units.System{units.InchFoot, units.Metric} {
		for _, s := range FormSettings(system) {
			if s.Name != p.setting.Name {
				continue
			}
			if s.Default == p.holds.Text {
				return
			}
			if system == b.job.Settings.System {
				holds = s.Default
			}
		}
	}
	b.say("T065", b.at(p.row, p.holds.Col), p.holds.Text, "write your own value beside it, into the column headed "+SettingsHeadings[1],
		"this column is not read; with the value left empty %s holds for %s", holds, p.setting.Name)
}

// settingPairs collects the settings of a sheet, the names that are none, and the rows that are headings.
func (b *binder) settingPairs(rs []region) (pairs, unknown []settingPair, headings []int) {
	named := settingsSheet(b.sheet.Name)
	aside := map[int]string{} // columns that a heading of the blank workbook keeps for what is no value
	for i := 0; i < min(len(b.sheet.Rows), firstRows); i++ {
		row := &b.sheet.Rows[i]
		if inside(rs, row.Number) {
			continue
		}
		if across := b.settingsAcross(i); across != nil {
			headings = append(headings, row.Number)
			for _, p := range across {
				if p.setting != nil {
					pairs = append(pairs, p)
				} else {
					unknown = append(unknown, p)
				}
			}
			i++
			continue
		}
		for _, one := range pairsOfSettings(row, named) {
			p := settingPair{pair: one}
			one.values = slices.DeleteFunc(slices.Clone(one.values), func(c sheet.Cell) bool {
				if !one.inline && aside[c.Col] == SettingsHeadings[2] {
					p.holds = c
				}
				return !one.inline && aside[c.Col] != ""
			})
			if len(one.values) > 0 {
				p.value = one.values[0]
			}
			p.setting, p.unit, p.near = settingNamed(one.name)
			if words, _ := headingWords(one.name); !one.inline && valueHeading(words, p.value.Text) {
				headings = append(headings, row.Number)
				for c := range row.Cells() {
					if slices.Contains(SettingsHeadings[2:], c.Text) {
						aside[c.Col] = c.Text
					}
				}
				continue
			}
			switch {
			case p.setting != nil && !(p.near && len(one.values) == 0):
				pairs = append(pairs, p)
			case len(one.values) > 0 && !one.inline: // a line of text with a colon in it may be anything
				p.loose = !named
				unknown = append(unknown, p)
			}
		}
	}
	return pairs, unknown, headings
}

// pairsOfSettings reads a row of a sheet as names with values. On a sheet named after settings a number may stand where a name belongs.
func pairsOfSettings(row *sheet.Row, named bool) []pair {
	if of := pairsOf(row); of != nil {
		return of
	}
	switch t := firstText(row); {
	case t.Kind == sheet.Text:
		isSetting := func(name string) bool { s, _, near := settingNamed(name); return s != nil && !near }
		within := inlinePairs(t)
		if len(within) > 0 && !isSetting(t.Text) && !slices.ContainsFunc(within, func(p pair) bool { return !isSetting(p.name) }) {
			return within // the cell holds name and value both; what stands beside it is a remark
		}
		// What stands beside a name with a colon in it is its value: Price: white ash
		return []pair{{row: row.Number, name: t.Text, at: t, values: filledBehind(row, t.Col)}}
	case named && t.Kind == sheet.Number && filledIn(row) > 1 && numbersIn(row) == 1:
		// What stands beside a number must not go without a word.
		values := filledBehind(row, t.Col)
		return []pair{{row: row.Number, name: t.Text, at: t, values: values[len(values)-1:]}}
	}
	return nil
}

// filledBehind gives the cells with content to the right of a column.
func filledBehind(row *sheet.Row, col int) (cells []sheet.Cell) {
	for c := range row.Cells() {
		if c.Col > col && (!cell.Empty(c) || c.NoResult) {
			cells = append(cells, c)
		}
	}
	return cells
}

func firstText(row *sheet.Row) sheet.Cell {
	for c := range row.Cells() {
		if !cell.Empty(c) || c.NoResult {
			return c
		}
	}
	return sheet.Cell{}
}

// settingsAcross reads row i as names of settings with their values in the row below. Half of the names at least, and three
// of them, must be settings.
func (b *binder) settingsAcross(i int) []settingPair {
	rows := b.sheet.Rows
	if i+1 >= len(rows) || rows[i+1].Number != rows[i].Number+1 {
		return nil
	}
	if t := firstText(&rows[i]); t.Kind != sheet.Text {
		return nil
	}
	exact := 0
	for c := range rows[i].Cells() {
		if c.Kind == sheet.Text && settingExactly(spellName(c.Text)) != nil {
			exact++
		}
	}
	if exact < leastSettings {
		return nil
	}
	var all []settingPair
	known := 0
	for c := range rows[i].Cells() {
		if cell.Empty(c) {
			continue
		}
		if c.Kind != sheet.Text || len([]rune(c.Text)) > longestHeading {
			return nil
		}
		p := settingPair{pair: pair{row: rows[i+1].Number, name: c.Text, at: c}}
		p.setting, p.unit, p.near = settingNamed(c.Text)
		if p.setting != nil && !p.near {
			known++
		}
		p.value = sheet.Cell{Row: rows[i+1].Number, Col: c.Col}
		for v := range rows[i+1].Cells() {
			if v.Col == c.Col && !cell.Empty(v) {
				p.value = v
			}
		}
		all = append(all, p)
	}
	if known < leastSettings || known*2 < len(all) {
		return nil
	}
	// A row of settings' names below is no row of values.
	names := 0
	for v := range rows[i+1].Cells() {
		if s, _, near := settingNamed(v.Text); s != nil && !near {
			names++
		}
	}
	if names*2 >= known {
		return nil
	}
	return all
}

func boolOrder(b bool) int {
	if b {
		return 1
	}
	return 0
}

func inside(rs []region, row int) bool {
	return slices.ContainsFunc(rs, func(r region) bool {
		if r.pairs != nil {
			return slices.ContainsFunc(r.pairs.of, func(p pair) bool { return p.row == row })
		}
		return row >= r.headFirst && row <= r.until
	})
}

func settingsSheet(name string) bool {
	words, _ := headingWords(name)
	for _, w := range strings.Fields(words) {
		if slices.Contains([]string{"settings", "setting", "setup", "mill", "figures", "defaults", "preferences", "basics", "reglages", "parametres"}, w) {
			return true
		}
	}
	return false
}

func valueHeading(words, value string) bool {
	v, _ := headingWords(value)
	return slices.Contains([]string{"name", "setting", "settings", "what", "item", "thing", "field", "key", "entry", "nom", "reglage"}, words) &&
		slices.Contains([]string{"value", "values", "setting", "ours", "figure", "is", "answer", "entry", "what", "amount", "valeur", "wert"}, v)
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
	if s.money != nil {
		b.amounts = append(b.amounts, pricedWood{setting: s, money: v.money, at: at, stands: c.Text, row: settingRow{b.sheet, at.Row}})
	} else if err := s.put(&b.job.Settings, v); err != nil {
		b.job.Findings = b.job.Findings[:before]
		b.say("T020", at, c.Text, s.Means, "the setting %q can't be taken: %v", s.Name, err)
		return false
	}
	b.owner[s.Name] = v
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
