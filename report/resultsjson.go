package report

import (
	"bytes"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
)

// resultsSchema counts up when a key of results.json changes its meaning or goes away. results.schema.json beside this
// file documents every key.
const resultsSchema = 1

// resultsJSON makes results.json: everything read, everything computed and everything set aside, for other programs.
func (j *job) resultsJSON() ([]byte, error) {
	s := &j.Job.Settings
	var out bytes.Buffer
	jsWrite(&out, jsObject{
		{"schema", "drytally results"},
		{"schema_version", resultsSchema},
		{"program", jsLine{{"name", "drytally"}, {"version", j.about.Version}}},
		{"name", j.Job.Name},
		{"inputs", jsEach(j.Job.Files, func(f *compute.InputFile) any { return jsLine{{"file", f.Name}, {"sha256", f.SHA256}} })},
		{"papers", jsEach(j.made, jsMade)},
		{"summary", j.jsSummary()},
		{"sheets", jsEach(j.Accounts, jsAccount)},
		{"findings", jsFindings(j.Findings)},
		{"settings", jsObject{{"used", jsEach(s.Used, jsSettingUsed)}, {"values", jsSettings(s)}}},
		{"records", j.jsRecords()},
		{"loads", jsEach(j.Loads, j.jsLoad)},
		{"boards", jsEach(j.Boards, j.jsBoardResult)},
		{"cuts", jsEach(j.Cuts, jsCutResult)},
		{"sizes", jsEach(j.Sizes, j.jsSize)},
		{"sales", jsEach(j.Sales, j.jsSale)},
		{"own_shrinkage", jsEach(j.House, j.jsShrinkage)},
		{"saw_spread", j.jsSawSpread(&j.SawSpread)},
		{"one_setting", jsEach(j.OneSetting, j.jsOneSetting)},
		{"coverage", j.jsStatement(j.CoverBy)},
		{"fit", j.jsFit(j.Fit)},
		{"climate", jsEach(j.Climate, j.jsClimateYear)},
		{"meters", jsEach(j.Meters, j.jsMeter)},
		{"core_temperatures", jsEach(j.Heat, j.jsCoreTemperatures)},
		{"kiln_loading", j.jsKiln(j.Kiln)},
		{"thicker_setting", j.jsStep(&j.Step)},
		{"money", j.jsMoney(j.Money)},
		{"species", jsEach(j.Species, jsSpecies)},
		{"sources", jsEach(j.Sources, func(s *source.Source) any { return jsSource(*s) })},
	}, "")
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// jsMade writes a paper with the hash of its bytes. The file these lines stand in is not among them: it can't hold its own.
func jsMade(m *Made) any {
	number := any(nil)
	if m.Number != "" {
		number = m.Number
	}
	return jsLine{{"file", m.Name}, {"number", number}, {"sha256", m.SHA256}}
}

func (j *job) jsSummary() any {
	used, aside, not := j.UsedRows(), j.SetAside(), j.NotDataRows()
	return jsObject{
		{"rows_with_content", used + aside + not}, {"rows_used", used}, {"rows_set_aside", aside}, {"rows_not_data", not},
		{"errors", j.Findings.Count(finding.Error)}, {"warnings", j.Findings.Count(finding.Warning)}, {"notes", j.Findings.Count(finding.Note)},
		{"papers_withheld", jsTexts(j.Withheld())},
	}
}

// jsSettingUsed writes a setting in words, with its cell or that it is a default.
func jsSettingUsed(u *compute.SettingUsed) any {
	return jsObject{{"name", u.Name}, {"value", u.Value}, {"file", u.Place.File}, {"sheet", u.Place.Sheet}, {"cell", jsCell(u.Place)},
		{"source", jsSource(u.Source)}}
}
