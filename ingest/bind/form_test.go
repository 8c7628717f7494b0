package bind

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"drytally/compute"
	"drytally/compute/air"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

var bothSystems = []units.System{units.InchFoot, units.Metric}

// TestFormHeadingsAreRead: every heading that is written is read as the field it stands over, with the unit it names.
func TestFormHeadingsAreRead(t *testing.T) {
	for _, system := range bothSystems {
		for _, form := range Forms(system, nil, nil) {
			table := tableOf(form.Kind)
			for _, c := range form.Columns {
				h := spell(c.Heading)
				field, near, _ := table.match(h)
				if field < 0 || near || !strings.HasPrefix(c.Name, table.Fields[field].Name) {
					t.Errorf("%s: the heading %q is not read as %q", form.Kind, c.Heading, c.Name)
					continue
				}
				if strings.HasSuffix(c.Heading, ")") && h.unit == cell.UnitNone {
					t.Errorf("%s: the heading %q is read with the unit %d", form.Kind, c.Heading, h.unit)
				}
				if len([]rune(c.Heading)) > longestHeading {
					t.Errorf("%s: %q is too long for a heading", form.Kind, c.Heading)
				}
			}
		}
		for _, s := range FormSettings(system) {
			got, unit, near := settingNamed(s.Heading)
			if got == nil || got.Name != s.Name || near || strings.HasSuffix(s.Heading, ")") != (unit != cell.UnitNone) {
				t.Errorf("the setting %q is not read as %q", s.Heading, s.Name)
			}
		}
	}
}

// TestFormSaysWhatThingsAre: the notes and lines of the blank workbook come from the table, so none may be missing.
func TestFormSaysWhatThingsAre(t *testing.T) {
	for _, table := range Tables {
		if table.About == "" {
			t.Errorf("%s: nothing says what the sheet is for", table.Kind)
		}
		for _, f := range table.Fields {
			if f.Means == "" {
				t.Errorf("%s, %s: no meaning", table.Kind, f.Name)
			}
		}
	}
	for _, s := range SettingRows {
		if s.Means == "" {
			t.Errorf("setting %s: no meaning", s.Name)
		}
	}
}

// TestExamplesAndOffersNameFields: a field that was renamed takes its example and its list along.
func TestExamplesAndOffersNameFields(t *testing.T) {
	for kind, rows := range formExamples {
		table := tableOf(kind)
		if table.field("note") < 0 {
			t.Errorf("%s: no note column to mark examples in", kind)
		}
		for _, row := range rows {
			for name := range row {
				field := strings.TrimRight(name, " 23456789")
				if i := table.field(field); i < 0 || field != name && !table.Fields[i].Many {
					t.Errorf("%s: an example for the field %q, which there is not", kind, name)
				}
			}
		}
	}
	for name := range formOffers {
		kind, field, _ := strings.Cut(name, "/")
		if kind == "settings" {
			if !slices.ContainsFunc(SettingRows, func(s Setting) bool { return s.Name == field }) {
				t.Errorf("a list for the setting %q, which there is not", field)
			}
		} else if tableOf(compute.Kind(kind)).field(field) < 0 {
			t.Errorf("a list for %q, which there is not", name)
		}
	}
}

// TestOffersAreUnderstood: what a list offers is read without a word.
func TestOffersAreUnderstood(t *testing.T) {
	settings := compute.Defaults()
	w := newWriter(&settings)
	read := func(name string, f Field, offers []string) {
		for _, o := range offers {
			w.reader.job.Findings = nil
			v, ok := w.reader.read(sheet.Cell{Kind: sheet.Text, Text: o}, column{}, f)
			if !ok || len(w.reader.job.Findings) > 0 {
				t.Errorf("%s: %q is not understood: %v", name, o, w.reader.job.Findings)
			}
			if i := slices.IndexFunc(SettingRows, func(s Setting) bool { return "settings/"+s.Name == name }); i >= 0 && SettingRows[i].put != nil {
				s := compute.Defaults()
				if err := SettingRows[i].put(&s, v); err != nil {
					t.Errorf("%s: %q is not taken: %v", name, o, err)
				}
			}
		}
	}
	lists := 0
	for _, form := range Forms(units.InchFoot, nil, nil) {
		table := tableOf(form.Kind)
		for _, c := range form.Columns {
			if i := table.field(c.Name); i >= 0 {
				read(string(form.Kind)+"/"+c.Name, table.Fields[i], c.Offers)
				lists += len(c.Offers)
			}
			if c.Name == "use" {
				for _, o := range c.Offers {
					if _, _, _, _, ok := air.Band(o, air.Regions()[0]); !ok {
						t.Errorf("%s: no moisture is known for the use %q", form.Kind, o)
					}
				}
			}
		}
	}
	for i, s := range FormSettings(units.InchFoot) {
		read("settings/"+s.Name, Field{Name: s.Name, What: SettingRows[i].What}, s.Offers)
	}
	if lists < 100 {
		t.Errorf("only %d words are offered", lists)
	}
}

// TestNewFieldNeedsNothingElse: a field that is only in the table of fields has its column, whatever it holds.
func TestNewFieldNeedsNothingElse(t *testing.T) {
	table := *tableOf(compute.KindBoards)
	table.Fields = slices.Clone(table.Fields)
	for what := aText; what <= aMonth; what++ {
		name := "shelf " + strings.Repeat("i", int(what)+1)
		table.Fields = append(table.Fields, Field{Name: name, What: what, Means: "an invented field", Headings: []string{name}})
	}
	form := table.form(units.InchFoot, nil, nil)
	for what := aText; what <= aMonth; what++ {
		i := slices.IndexFunc(form.Columns, func(c FormColumn) bool { return c.Name == "shelf "+strings.Repeat("i", int(what)+1) })
		if i < 0 || form.Columns[i].Means == "" || form.Columns[i].Heading == "" || form.Columns[i].Wide == 0 {
			t.Errorf("a new field of quantity %d has no column of its own", what)
		}
	}
}

// TestWrittenReadsBack: what a sheet can hold is written so that it reads back to the last digit, in either system, whatever
// unit it was written in at first.
func TestWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		settings := compute.Defaults()
		settings.System = rapid.SampledFrom(bothSystems).Draw(t, "system")
		w := newWriter(&settings)
		f := Field{Name: "thing", What: rapid.SampledFrom([]quantity{aThickness, aLength, aRun, aReading, aTemperature, aHumidity, anMC, aShare, aMass, aCount, anArea, aDate, aSawing}).Draw(t, "quantity")}
		n := rapid.IntRange(1, 9000).Draw(t, "n")
		var v value
		switch f.What {
		case aThickness, aLength, aRun:
			unit := rapid.SampledFrom([]units.Length{units.Fraction(1, 64), units.Fraction(1, 1000), units.Millimetre / 10, units.Millimetre}).Draw(t, "unit")
			if f.What == aRun {
				unit = rapid.SampledFrom([]units.Length{units.Inch / 8, units.Millimetre}).Draw(t, "run")
				n = rapid.IntRange(120, int(60*units.Foot/unit)).Draw(t, "long") // no board is shorter than four inches or longer than sixty feet
			}
			v.lengths = []units.Length{units.Length(n) * unit}
		case aReading:
			v.readings = []units.Reading{{State: rapid.SampledFrom([]units.ReadingState{units.Number, units.BelowRange, units.AboveRange}).Draw(t, "state"), MC: units.MC(n%50*10 + 400), Doubtful: rapid.Bool().Draw(t, "doubtful")}}
		case aTemperature:
			v.temp = units.Celsius(float64(n%900)/10 - 20)
			if rapid.Bool().Draw(t, "in F") {
				v.temp = units.Fahrenheit(float64(n%2000) / 10)
			}
		case aHumidity:
			v.rh = units.RelativeHumidity(float64(n%991+10) / 10)
		case anMC:
			v.mc = units.MC(n%400*10 + 100)
		case aShare:
			v.number = float64(n%500+1) / 1000
		case aMass:
			v.mass = units.Mass(n) * rapid.SampledFrom([]units.Mass{10, 100, 1000, 45359, 453592}).Draw(t, "mass")
		case aCount:
			v.count = n
		case anArea:
			v.number = float64(n) / 10
		case aDate:
			v.date = time.Date(2020, time.January, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n)
		case aSawing:
			v.sawing = compute.Sawing{Kind: compute.RingAngle, Angle: float64(n % 91)}
		}
		text, err := w.written(withUnit("thing", f.What, settings.System), f, v)
		if err != nil || text == "" {
			t.Fatalf("%+v: %q, %v", v, text, err)
		}
	})
}
