package bind

import (
	"strings"
	"testing"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// TestHintsAreRead writes what can't be read into a cell of every field and setting, in inch and metric files with points and with
// decimal commas, and then feeds the spellings each hint proposes back into the same cell: they must be read without a finding.
func TestHintsAreRead(t *testing.T) {
	t.Parallel()
	type place struct {
		of string
		f  Field
	}
	var all []place
	for _, table := range Tables {
		for _, f := range table.Fields {
			all = append(all, place{string(table.Kind), f})
		}
	}
	for _, s := range SettingRows {
		if s.Name != "alias" && s.Name != "price" {
			all = append(all, place{"settings", Field{Name: s.Name, What: s.What}})
		}
	}
	junk := []string{"??", "abc", "-3", "0", "9,5", "1.950", "1,950", "1.950 kg", "1.950 mm", "1.234.5", "3/0", "5/7", "1e5", "99999999", "0.00001", "3 to 4", "3 4", "12 furlongs", "wet", "1.950 EUR in all",
		"5.5.26", "13/13", "Nov-24", "46146", "12x", "2x3x4x5"}
	examples := 0
	for _, system := range []units.System{units.InchFoot, units.Metric} {
		for _, comma := range []bool{false, true} {
			for _, p := range all {
				for _, text := range junk {
					b := &binder{job: &compute.Job{Settings: compute.Defaults()}, book: &sheet.Workbook{Name: "t.csv", CSV: true, DecimalComma: comma}, sheet: &sheet.Sheet{}, given: map[string]finding.Place{}}
					b.job.Settings.System = system
					c := sheet.Cell{Row: 2, Col: 1, Kind: sheet.Text, Text: text}
					b.read(c, column{col: 1, unit: cell.UnitNone}, p.f)
					for _, f := range b.job.Findings {
						m := exampleList.FindStringSubmatch(f.Hint)
						if m == nil {
							continue
						}
						for _, e := range exampleParts.Split(m[2], -1) {
							examples++
							if !b.wouldRead(e, c, column{col: 1}, p.f) {
								t.Errorf("%s %s, system %v, decimal comma %v: for %q %s proposes %q, which is not read; hint: %s", p.of, p.f.Name, system, comma, text, f.Code, e, f.Hint)
							}
						}
					}
				}
			}
		}
	}
	if examples < 1000 {
		t.Errorf("only %d examples were found in the hints", examples)
	}
}

// TestCommaHint: a point that may part thousands, in a file of decimal commas.
func TestCommaHint(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		field, text, want string
		what              quantity
	}{
		{"pieces", "1.950", "write it as 1950", aCount},
		{"weight", "1.950", "write it as 1950 or 1,950", aMass},
		{"green width", "1.950", "write it like 160 mm", aLength}, // a board is neither 1950 mm nor 1,95 mm wide
	} {
		b := &binder{job: &compute.Job{Settings: compute.Defaults()}, book: &sheet.Workbook{Name: "t.csv", CSV: true, DecimalComma: true}, sheet: &sheet.Sheet{}}
		b.job.Settings.System = units.Metric
		b.read(sheet.Cell{Row: 2, Col: 1, Kind: sheet.Text, Text: c.text}, column{col: 1}, Field{Name: c.field, What: c.what})
		if got := b.job.Findings; len(got) != 1 || !strings.HasPrefix(got[0].Hint, c.want) {
			t.Errorf("%s %q: got %v, want the hint %q", c.field, c.text, got, c.want)
		}
	}
}
