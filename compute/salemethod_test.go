package compute

import (
	"testing"

	"drytally/compute/units"
)

// TestMethodsOfSale: what is said of the readings behind a sale counts the boards sold, and those of the whole load when none is named.
func TestMethodsOfSale(t *testing.T) {
	job := week(20, many(20, 8)...)
	for i := range 5 { // B01 to B05: the wood's temperature was not written down
		job.Readings[i].WoodTemp = units.Temperature{}
	}
	again := job.Readings[0]
	again.Value.MC += 10
	job.Readings = append(job.Readings, again)
	sold := func(id string, pieces int, boards ...string) {
		job.Sales = append(job.Sales, Sale{Origin: row("sold", len(job.Sales)+2), ID: id, Load: "K1", Boards: boards, Pieces: pieces})
	}
	sold("S1", 0, "B01", "B04", "B06")
	sold("S2", 0, "B07", "B08")
	sold("S3", 4)
	r := Assess(job)
	of := func(sale int, name string) string {
		for _, s := range r.Sales[sale].Methods[0].Says {
			if s.Name == name {
				return s.With["n"]
			}
		}
		return ""
	}
	for _, c := range []struct {
		sale, boards     int
		missing, several string
	}{
		{0, 3, "3", "1"}, // B01 was read twice
		{1, 2, "", ""},
		{2, 0, "6", "1"},
	} {
		m := r.Sales[c.sale].Methods[0]
		if m.Load != "K1" || m.Boards != c.boards {
			t.Errorf("%s: %d boards of load %s, want %d of K1", r.Sales[c.sale].ID, m.Boards, m.Load, c.boards)
		}
		if got := of(c.sale, "temperature-missing"); got != c.missing {
			t.Errorf("%s: %q readings without temperature, want %q", r.Sales[c.sale].ID, got, c.missing)
		}
		if got := of(c.sale, "mean-of-readings"); got != c.several {
			t.Errorf("%s: %q boards read more than once, want %q", r.Sales[c.sale].ID, got, c.several)
		}
	}
	for _, n := range r.Loads[0].Notes {
		if n.Name == "temperature-missing" && (n.With["n"] != "6" || n.With["others"] == "") {
			t.Errorf("the load says %v, want 6 readings without temperature and the source of the others", n)
		}
	}
}
