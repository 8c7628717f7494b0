package report

import (
	"os"
	"path/filepath"
	"testing"

	"drytally/compute"
	"drytally/ingest"
	"drytally/ingest/sheet"
)

// readSheets reads CSV files, by name, as the program does.
func readSheets(t *testing.T, files map[string]string) *compute.Result {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "week")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sets, err := ingest.Gather([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	job, err := ingest.Read(sets[0])
	if err != nil {
		t.Fatal(err)
	}
	return compute.Assess(job)
}

// Weights stand in the results in the unit they were written in, to the figure.
func TestWeightsKeepTheUnitOfTheirSheet(t *testing.T) {
	for _, c := range []struct {
		name, weights  string
		heading        string
		masses         []float64
		sectionHeading string
		section        float64
	}{
		{"pounds and grams", "Sample,Date,Weight (lb),Section wet (g),Section ovendry (g)\nS1,2026-10-01,10.1,52.31,46.02\nS1,2026-10-05,9.87,,\n",
			"Weight (lb)", []float64{10.1, 9.87}, "Section, wet (g)", 52.31},
		{"grams", "Sample,Date,Weight (g),Section wet (g),Section ovendry (g)\nS1,2026-10-01,4600,52.31,46.02\nS1,2026-10-05,4477.5,,\n",
			"Weight (g)", []float64{4600, 4477.5}, "Section, wet (g)", 52.31},
		{"unit in the cell", "Sample,Date,Weight,Section wet,Section ovendry\nS1,2026-10-01,10 lb 2 oz,2.5 oz,1.5 oz\nS1,2026-10-05,9.5 lb,,\nS1,2026-10-09,4200 g,,\n",
			"Weight (lb)", []float64{10.125, 9.5, 9.25942}, "Section, wet (oz)", 2.5},
		{"kilograms", "Sample,Date,Weight (kg),Section wet,Section ovendry\nS1,2026-10-01,4.6,52 g,46 g\nS1,2026-10-05,4.4775,,\n",
			"Weight (kg)", []float64{4.6, 4.4775}, "Section, wet (g)", 52},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := readSheets(t, map[string]string{"weights.csv": c.weights, "boards.csv": "Board,Thickness,Width,Length\nB1,1,6,8\n"})
			book := readBack(t, workbookOf(t, r))
			got := headed(t, sheetNamed(t, book, "Weights"), c.heading, len(c.masses))
			for i, want := range c.masses {
				sameNumber(t, got[i], want, sheet.General, c.heading)
			}
			sameNumber(t, headed(t, sheetNamed(t, book, "Weights"), c.sectionHeading, 1)[0], c.section, sheet.General, c.sectionHeading)
		})
	}
}
