package bind

import (
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/air"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// What a form is to look like follows from the table of fields: the blank workbook is drawn from it, and a field that is
// added to the table has its column there from then on.

// FormKind is what a column of a form holds, as far as its looks go.
type FormKind uint8

// The kinds of columns.
const (
	FormText   FormKind = iota // stored as text, so that 5/4 isn't turned into a date and board 007 keeps its noughts
	FormSize                   // sizes, stored as text too, set to the right
	FormNumber                 // figures, with words such as LO among them
	FormDate
)

// FormColumn is one column of a form.
type FormColumn struct {
	Name     string // of the field, numbered from the second column of a field on: "dry thickness 2"
	Heading  string // the field's name with the unit a bare number has
	Means    string // one line about it
	Required bool
	Kind     FormKind
	Wide     int      // in characters
	Offers   []string // what the drop-down list offers; other words may be written all the same
	IsLoad   bool     // it names a load, which the sheet of loads holds
}

// Form is one sheet of a blank workbook.
type Form struct {
	Kind     compute.Kind
	About    string
	Columns  []FormColumn
	Examples []FormRow
}

// FormRow is what stands in one row of a form, by the names of its columns. Dates are written 2026-11-24.
type FormRow map[string]string

// FormSetting is one row of the settings form.
type FormSetting struct {
	Name    string // of the setting
	Heading string // the name with its unit
	Default string // what holds when the value is left empty
	Means   string
	Kind    FormKind
	Offers  []string
}

// The texts of a form that are part of its shape: the reader knows them again.
const (
	// ReadMeTitle stands in the first cell of a sheet of instructions.
	ReadMeTitle = "How to fill in this workbook"
	// ListsTitle stands in the first cell of the sheet that the drop-down lists take their words from.
	ListsTitle = "Words for the drop-down lists; nothing on this sheet is read"
	// SettingsAbout is the line above the settings.
	SettingsAbout = "Your mill, your saw, your meter. Leave a value empty where the figure in the third column is right for you."
	// ExampleMark stands in the note column of an example row. A row that bears it and holds nothing but the example is no data.
	ExampleMark = "example, type over it"
)

// SettingsHeadings are the headings of the settings form. What stands below the last two is no value.
var SettingsHeadings = [4]string{"setting", "value", "when left empty", "what it means"}

// formOrder is the order of a week's work. Kinds that are not named here follow in the order of Tables.
var formOrder = []compute.Kind{compute.KindWanted, compute.KindCuts, compute.KindLoads, compute.KindBoards, compute.KindReadings, compute.KindWeights,
	compute.KindAir, compute.KindSold, compute.KindClimate}

// Forms describes the sheets of a blank workbook in a system of units, the settings left out. columns says how many columns
// a field with several has at least, by kind and field; aliases are the owner's own names for woods, which the drop-down
// lists offer first.
func Forms(system units.System, columns map[compute.Kind]map[string]int, aliases []string) []Form {
	var forms []Form
	done := map[compute.Kind]bool{}
	add := func(t *Table) {
		if !done[t.Kind] {
			done[t.Kind] = true
			forms = append(forms, t.form(system, columns[t.Kind], aliases))
		}
	}
	for _, k := range formOrder {
		add(tableOf(k))
	}
	for i := range Tables {
		add(&Tables[i])
	}
	return forms
}

func (t *Table) form(system units.System, columns map[string]int, aliases []string) Form {
	form := Form{Kind: t.Kind, About: t.About, Examples: t.examples(system)}
	for i := range t.Fields {
		f := &t.Fields[i]
		if f.Other {
			continue
		}
		n := max(1, columns[f.Name])
		if f.Many {
			for _, row := range form.Examples {
				for n < mostColumns && row[numbered(f.Name, n+1)] != "" {
					n++
				}
			}
		}
		for k := 1; k <= n; k++ {
			name, heading := numbered(f.Name, k), t.headingOf(f)
			if n > 1 {
				heading += " " + strconv.Itoa(k)
			}
			c := FormColumn{Name: name, Heading: withUnit(heading, f.What, system), Means: f.Means, Required: f.Required, Kind: formKind(f.What),
				Wide: formWidth(f.What, f.Name), Offers: offers(string(t.Kind)+"/"+f.Name, f.What, aliases), IsLoad: f.Name == "load" && t.Kind != compute.KindLoads}
			form.Columns = append(form.Columns, c)
		}
	}
	return form
}

// mostColumns is how many columns a field with several can have.
const mostColumns = 9

// numbered names the k-th column of a field.
func numbered(field string, k int) string {
	if k == 1 {
		return field
	}
	return field + " " + strconv.Itoa(k)
}

// headingOf gives the heading a form writes above a field: its name, or the first heading the table knows where the name alone
// would not be read as the field.
func (t *Table) headingOf(f *Field) string {
	if i := t.exact(spell(f.Name)); i >= 0 && t.Fields[i].Name == f.Name {
		return f.Name
	}
	return f.Headings[0]
}

// FormSettings describes the settings form.
func FormSettings(system units.System) []FormSetting {
	d := compute.Defaults()
	d.System = system
	var all []FormSetting
	for i := range SettingRows {
		s := &SettingRows[i]
		row := FormSetting{Name: s.Name, Heading: withUnit(s.Name, s.What, system), Default: s.show(&d), Means: s.Means,
			Kind: formKind(s.What), Offers: offers("settings/"+s.Name, s.What, nil)}
		if row.Default == "" {
			row.Default = "nothing"
		}
		if s.Name == "units" {
			row.Default = s.show(&compute.Settings{}) // what the reader takes, whatever the sheet was made for
		}
		all = append(all, row)
	}
	return all
}

// withUnit writes the unit of a bare number behind a heading.
func withUnit(heading string, what quantity, system units.System) string {
	metric := system == units.Metric
	unit := ""
	switch what {
	case aThickness, aLength, aSize:
		unit = pick(metric, "mm", "in")
	case aRun:
		unit = pick(metric, "mm", "ft")
	case aTemperature:
		unit = pick(metric, "°C", "°F")
	case aHumidity, anMC, aReading, aShare:
		unit = "%"
	case aMass:
		unit = "g"
	case anArea:
		unit = pick(metric, "m²", "sq ft")
	}
	if unit == "" {
		return heading
	}
	return heading + " (" + unit + ")"
}

func pick(metric bool, a, b string) string {
	if metric {
		return a
	}
	return b
}

// formKind says how the cells of a quantity are stored: sizes and ids as text, or the spreadsheet program makes dates of them.
func formKind(what quantity) FormKind {
	switch what {
	case aDate:
		return FormDate
	case aThickness, aLength, aRun, aSize:
		return FormSize
	case aReading, aTemperature, aHumidity, anMC, aShare, aMass, aCount, anArea:
		return FormNumber
	}
	return FormText
}

func formWidth(what quantity, field string) int {
	switch what {
	case aText:
		switch field {
		case "note", "region":
			return 26
		case "buyer":
			return 22
		}
		return 17
	case aSpecies:
		return 20
	case anIDList:
		return 22
	case aDate:
		return 12
	case aCount:
		return 8
	case aTemperature:
		return 11
	}
	return 9
}

// offers gives the words of the drop-down list of a field, by kind and field; nil where there is none.
func offers(of string, what quantity, aliases []string) []string {
	switch what {
	case aYesNo:
		return []string{"yes", "no"}
	case aSawing:
		return []string{"flat", "quarter", "mixed"}
	case aMonth:
		return []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
	case aSpecies:
		return append(append([]string(nil), aliases...), woodNames()...)
	}
	switch {
	case strings.HasSuffix(of, "/use"):
		return air.Uses()
	case strings.HasSuffix(of, "/region"):
		return air.Regions()
	}
	return formOffers[of]
}

// formOffers are lists of words that go with one field only.
var formOffers = map[string][]string{
	"settings/units":           {"inches", "metric"},
	"settings/paper":           {"Letter", "A4"},
	"settings/meter kind":      {"pin", "dielectric"},
	"settings/footage rule":    {"by species", "surface measure", "volume", "softwood nominal"},
	"settings/boards are kept": {"wrapped", "closed shed", "open shed", "stickered"},
	"readings/where":           {"end", "middle", "shell", "core"},
	"air/where":                {"kiln", "shed", "shop"},
	"climate/where":            {"outdoors", "indoors"},
	"wanted/profile":           {"square", "lapped", "tongue and groove"},
}

// woodNames are the names of the species table that the reader takes without a word.
func woodNames() []string {
	var names []string
	for _, s := range wood.All() {
		if m := wood.Find(s.Name, nil); m.Kind == wood.Found && m.Species.Name == s.Name {
			names = append(names, s.Name)
		}
	}
	return names
}
