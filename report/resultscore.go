package report

import (
	"slices"

	"drytally/compute"
	"drytally/compute/heat"
	"drytally/compute/units"
)

// jsCoreTemperatures writes the record of a probe, with the sentences that must stand beside its figures. Whether a published
// figure was asked for or was lethal to something stays out: beside a record it would read as a claim.
func (j *job) jsCoreTemperatures(h *compute.HeatRecord) any {
	return jsObject{{"load", h.Load}, {"probe", h.Probe}, {"lines", h.Lines}, {"from", jsDate(h.From)}, {"to", jsDate(h.To)}, {"gaps", h.Gaps},
		{"highest", jsTemperature(h.Highest)},
		{"at", jsEach(h.At, func(a *compute.HeldAt) any {
			return jsObject{{"temperature", jsTemperature(a.Temp)}, {"longest_minutes", a.Longest}, {"total_minutes", a.Total}, {"begins", jsDate(a.Begins)},
				{"published", jsEach(a.Published, func(f *heat.Figure) any {
					return jsObject{{"temperature", jsTemperature(f.Temp)}, {"minutes", f.Minutes}, {"most_minutes", jsCountIf(f.Most)}, {"about", f.About}, {"source", jsSource(f.Source)}}
				})}}
		})},
		{"says", j.jsStatements(h.Says)}}
}

// probeRow is one temperature of a probe's record.
type probeRow struct {
	*compute.HeatRecord
	at    *compute.HeldAt
	first bool // of its probe
}

func (j *job) probeRows() []probeRow {
	var rows []probeRow
	for i := range j.Heat {
		for k := range j.Heat[i].At {
			rows = append(rows, probeRow{&j.Heat[i], &j.Heat[i].At[k], k == 0})
		}
	}
	return rows
}

func (j *job) probeColumns() []column[probeRow] {
	return []column[probeRow]{
		{head: "Load", width: 12, cell: func(p probeRow) any { return p.Load }},
		{head: "Probe", width: 16, cell: func(p probeRow) any { return p.Probe }},
		{head: "Lines", width: 7, cell: func(p probeRow) any { return p.Lines }},
		{head: "From", width: 16, cell: func(p probeRow) any { return dayCell(p.From) }},
		{head: "To", width: 16, cell: func(p probeRow) any { return dayCell(p.To) }},
		{head: "Gaps of more than 30 minutes", width: 10, cell: func(p probeRow) any { return p.Gaps }},
		temperatureColumn(j, "Highest", func(p probeRow) units.Temperature { return p.Highest }),
		temperatureColumn(j, "At or above", func(p probeRow) units.Temperature { return p.at.Temp }),
		{head: "Longest without a break (minutes)", width: 11, cell: func(p probeRow) any { return p.at.Longest }},
		{head: "Beginning", width: 16, cell: func(p probeRow) any { return dayCell(p.at.Begins) }},
		{head: "In all (minutes)", width: 9, cell: func(p probeRow) any { return p.at.Total }},
		// The sentence that this is no treatment stands in every row: a row may be copied alone.
		{head: "What it does not say", width: 60, cell: func(p probeRow) any {
			if len(p.Says) == 0 {
				return nil
			}
			return j.sentence(p.Says[len(p.Says)-1])
		}},
		{head: "The record in words", width: 80, cell: func(p probeRow) any {
			if !p.first {
				return nil
			}
			return j.sentences(p.Says)
		}},
	}
}

func (j *job) coreColumns() []column[*compute.Core] {
	type row = *compute.Core
	return slices.Concat([]column[row]{
		{head: "Time", width: 16, cell: func(c row) any { return dayCell(c.Time) }},
		{head: "Probe", width: 16, cell: func(c row) any { return c.Probe }},
		temperatureColumn(j, "Core of the board", func(c row) units.Temperature { return c.Temp }),
		{head: "Load", width: 10, cell: func(c row) any { return c.Load }},
		{head: "Note", width: 30, cell: func(c row) any { return c.Note }},
	}, originColumns(func(c row) compute.Origin { return c.Origin }))
}
