package main

import (
	"os"
	"path/filepath"
	"testing"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/compute/yearbook"
	"drytally/ingest"
)

// readSeason makes a season of the invented mill and joins its weeks.
func readSeason(t *testing.T, weeks int) *yearbook.Yearbook {
	t.Helper()
	files, err := seasonWeeks(weeks)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	sets, err := ingest.Gather([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	var all []compute.Week
	for _, s := range sets {
		job, err := ingest.Read(s)
		if err != nil {
			t.Fatal(err)
		}
		_, w := compute.AssessWeek(job)
		all = append(all, w)
	}
	return yearbook.Join(all)
}

// TestSeasonFindsTheTruth: the account of the season finds what the mill's wood, saw, meter and kiln were made to do within the
// ranges it states, and nothing that was not there.
func TestSeasonFindsTheTruth(t *testing.T) {
	b := readSeason(t, 8)
	for _, want := range []struct {
		species, direction string
		share              float64
	}{
		{"white ash", "tangential", seasonAshTangential * whiteAsh.tangential}, {"white ash", "radial", seasonAshRadial * whiteAsh.radial},
		{"black cherry", "tangential", seasonCherryTangential * blackCherry.tangential}, {"black cherry", "radial", seasonCherryRadial * blackCherry.radial},
	} {
		found := false
		for _, s := range b.Shrinkage {
			if s.Species != want.species || s.Direction != want.direction {
				continue
			}
			found = true
			t.Logf("%s %s: truth %.4f, handbook %.4f, own %.4f (%.4f to %.4f), joined %.4f (%.4f to %.4f), %d boards", s.Species, s.Direction, want.share, s.Table, s.Own, s.OwnLow, s.OwnHigh, s.Used, s.Low, s.High, s.Boards)
			if !s.Known || want.share < s.Low || want.share > s.High {
				t.Errorf("%s %s: %.4f to %.4f does not hold the truth, %.4f", s.Species, s.Direction, s.Low, s.High, want.share)
			}
			if s.High-s.Low >= s.TableHigh-s.TableLow {
				t.Errorf("%s %s: %d boards tell no more than the handbook", s.Species, s.Direction, s.Boards)
			}
		}
		if !found {
			t.Errorf("no figure for %s, %s", want.species, want.direction)
		}
	}
	for _, m := range b.Meters {
		t.Logf("meter in %s: %v, %d pairs, spread %s", m.Species, m.Difference, len(m.Pairs), m.Spread)
		if d := m.Difference; d.Confidence == 0 || d.Low > units.Percent(seasonMeterLow) || d.High < units.Percent(seasonMeterLow) {
			t.Errorf("meter in %s: %s to %s points does not hold the truth, %g", m.Species, d.Low, d.High, seasonMeterLow)
		}
	}
	if len(b.Meters) != 2 {
		t.Errorf("got %d meters held against weights, want one in each of 2 woods", len(b.Meters))
	}
	// The wet corner raises its own load's mean.
	apart := seasonWet * (1 - float64(seasonWetCourses*seasonWetSpots)/float64(seasonCourses*seasonSpots))
	for _, p := range b.Places.Parts {
		t.Logf("%s: %s (%s to %s), %d boards of %d loads, sure %v", p.Name, p.Apart, p.Low, p.High, p.N, p.Loads, p.Sure)
		if p.Name == "bottom left" {
			if !p.Sure || p.Low > units.Percent(apart) || p.High < units.Percent(apart) {
				t.Errorf("bottom left: %s to %s, sure %v; want a range above 0 that holds %.2f", p.Low, p.High, p.Sure, apart)
			}
		} else if p.Sure && p.Low > 0 {
			t.Errorf("%s is said to be wetter and is not", p.Name)
		}
	}
	if s := b.Spread; !s.Known {
		t.Error("the spread of the saw is not known")
	} else if truth := 0.0284; s.Low.Inches() > truth || s.High.Inches() < truth { // root of 0.022^2 + 0.018^2
		t.Errorf("spread of the saw %s to %s does not hold the truth, %g in", s.Low, s.High, truth)
	}
	for i, l := range b.Loads {
		t.Logf("%s: %d days, start %v, end %v, %v", l.Name, l.Days, l.Start, l.End, l.Verdicts)
		if l.Days != seasonDays(i) || l.Start.By != "weights" || l.End.By != "readings" {
			t.Errorf("load %s: %d days, start by %s, end by %s; want %d, weights, readings", l.Name, l.Days, l.Start.By, l.End.By, seasonDays(i))
		}
	}
	t.Logf("%+v %+v", b.All.Boards, b.Totals)
	for _, a := range b.Advice {
		t.Logf("%v %d/%d %v", a.Known, a.N, a.Need, a.Says)
	}
	for _, f := range b.Findings {
		t.Errorf("a sound season has a finding: %s", f)
	}
	if got, want := b.All.Boards, (yearbook.Count{Made: 8 * 54, Sold: 8*18 + 2*6 + 3*8, Used: 2 * 5}); got.Made != want.Made || got.Sold != want.Sold || got.Used != want.Used {
		t.Errorf("boards %+v, want %+v", got, want)
	}
}
