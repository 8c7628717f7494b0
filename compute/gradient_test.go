package compute

import (
	"slices"
	"testing"
	"time"

	"drytally/compute/units"
)

// layered is a load of boards read in shell and core, at the meter's neutral temperature.
func layered(pairs ...[2]string) *Job {
	job := week(len(pairs))
	job.Settings.MeterWoodTemp = Yes // so that a mark stays the number it is
	on := time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)
	for i, p := range pairs {
		for k, where := range []string{"shell", "core"} {
			job.Readings = append(job.Readings, Reading{Taking: &Taking{Field: "reading", Load: "K1", Where: where, Date: on}, Origin: row("readings", 2*i+k+2), Board: job.Boards[i].ID,
				Value: reading(p[k]), WoodTemp: units.Celsius(22.7)})
		}
	}
	return job
}

// reading writes a reading short: "8.5", "LO", "<7", "OL", "20+"; "" is none.
func reading(s string) units.Reading {
	number := func(s string) units.MC {
		x := 0.0
		for i, frac := 0, 0.0; i < len(s); i++ {
			if s[i] == '.' {
				frac = 1
				continue
			}
			x = x*10 + float64(s[i]-'0')
			if frac > 0 {
				frac *= 10
			}
			if i == len(s)-1 && frac > 1 {
				x /= frac
			}
		}
		return units.Percent(x)
	}
	switch {
	case s == "LO":
		return units.Reading{State: units.BelowRange}
	case s == "OL":
		return units.Reading{State: units.AboveRange}
	case s[0] == '<':
		return units.Reading{State: units.BelowRange, MC: number(s[1:])}
	case s[len(s)-1] == '+':
		return units.Reading{State: units.AboveRange, MC: number(s[:len(s)-1])}
	}
	return units.Reading{State: units.Number, MC: number(s)}
}

func TestGradient(t *testing.T) {
	tests := []struct {
		name, shell, core string
		points            float64
		least, known      bool
		sense             GradientSense
	}{
		{"core wetter: not done", "7", "9.1", 2.1, false, true, CoreWetter},
		{"shell wetter: took up moisture", "9.5", "7", -2.5, false, true, ShellWetter},
		{"even", "8", "8.6", 0.6, false, true, LayersEven},
		{"exactly uneven", "8", "9.5", 1.5, false, true, CoreWetter},
		{"shell below range", "LO", "9", 3, true, true, CoreWetter}, // the mark is 6
		{"shell under its own mark", "<7", "9", 2, true, true, CoreWetter},
		{"core below range", "9", "LO", -3, true, true, ShellWetter},
		{"little more than the mark", "LO", "6.5", 0.5, true, true, LayersEven},
		{"both below", "LO", "LO", 0, false, false, LayersEven},
		{"core over range", "20", "OL", 10, true, true, CoreWetter},                    // the mark is 30
		{"core where the meter only indicates", "20", "27", 5, true, true, CoreWetter}, // counts as over 25
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := Assess(layered([2]string{tt.shell, tt.core}))
			g := r.Boards[0].Gradient
			if g.Points != units.Percent(tt.points) || g.AtLeast != tt.least || g.Known != tt.known || g.Sense != tt.sense {
				t.Errorf("shell %s, core %s: %+v; want %.1f, at least %v, known %v, %s", tt.shell, tt.core, g, tt.points, tt.least, tt.known, tt.sense)
			}
			l := r.Loads[0]
			l.Notes = append(l.Notes, g.Says)
			spoken(t, l)
		})
	}
}

// TestGradientOfLoad: the load says which boards are not done and which took up moisture; a core over the limit is the board's
// moisture content, and the load's mean counts shell and core half each.
func TestGradientOfLoad(t *testing.T) {
	r := Assess(layered([2]string{"8", "10.5"}, [2]string{"9", "7"}, [2]string{"8", "8.2"}, [2]string{"7.6", "8"}))
	l := r.Loads[0]
	if l.Layers.Pairs != 4 || !slices.Equal(l.Layers.CoreWetter, []string{"B01"}) || !slices.Equal(l.Layers.ShellWetter, []string{"B02"}) || l.Layers.Even != 2 {
		t.Errorf("layers %+v", l.Layers)
	}
	if l.Layers.Mean != units.Percent(0.3) { // (2.5 - 2 + 0.2 + 0.4) / 4 = 0.275
		t.Errorf("mean difference %s, want 0.3", l.Layers.Mean)
	}
	if !slices.Equal(l.Over, []string{"B01"}) || r.Boards[0].MC.MC != units.Percent(10.5) {
		t.Errorf("over %v, board 1 at %s; want the core's 10.5", l.Over, r.Boards[0].MC.MC)
	}
	if l.Mean.Value != units.Percent(8.3) { // means of the boards: 9.3 (9.25), 8.0, 8.1, 7.8
		t.Errorf("mean %s, want 8.3", l.Mean.Value)
	}
	wantSaid(t, spoken(t, l), "Not done: on 1 of 4 boards", "Took up moisture since it was dried: on 1 of 4 boards", "+0.3 points on average",
		"the highest stands for the board and is held against the limit")
}

// TestLayerOf: by words, else by the depth of the pins in the board, which is 1 in thick.
func TestLayerOf(t *testing.T) {
	x := &index{out: &Result{Boards: []BoardResult{{Board: &Board{Thickness: []units.Length{units.Inch}}}, {Board: &Board{}}}}}
	for _, tt := range []struct {
		where string
		depth units.Length
		board int
		want  layer
	}{
		{"face", 0, 0, shellLayer}, {"Core, middle", 0, 0, coreLayer}, {"end", 0, 0, anyDepth}, {"middle", 0, 0, anyDepth},
		{"shell to core", 0, 0, anyDepth}, {"", units.Fraction(1, 8), 0, shellLayer}, {"", units.Fraction(1, 4), 0, anyDepth},
		{"", units.Fraction(1, 2), 0, coreLayer}, {"face", units.Fraction(1, 2), 0, shellLayer}, {"", units.Fraction(1, 2), 1, anyDepth},
	} {
		got := x.layerOf(boardReading{board: tt.board, reading: &Reading{Taking: &Taking{Where: tt.where, Depth: tt.depth}}})
		if got != tt.want {
			t.Errorf("%q at %s: layer %d, want %d", tt.where, tt.depth, got, tt.want)
		}
	}
}

// TestShellOnly: a load of which only shells were read is told so.
func TestShellOnly(t *testing.T) {
	job := week(5, many(5, 8)...)
	for i := range job.Readings {
		job.Readings[i].taken(func(t *Taking) { t.Where = "shell" })
	}
	wantSaid(t, spoken(t, only(t, job)), "On 5 boards only the shell was read")
}
