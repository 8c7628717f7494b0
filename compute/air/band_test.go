package air

import (
	"strings"
	"testing"

	"drytally/compute/source"
	"drytally/testdata/published"
)

func TestRecommendedTable(t *testing.T) {
	_, lines := published.Table(t, "air_recommended.csv") // memory; interior averages checked second hand
	got := recommended()
	if len(got) != len(lines) || len(got) != 6 {
		t.Fatalf("got %d rows, want %d", len(got), len(lines))
	}
	seen := map[string]bool{}
	for i, l := range lines {
		b := got[i]
		if b.row.Use != l[0] || b.row.Region != l[1] || b.mean.Percent() != number(t, l[2]) || b.low.Percent() != number(t, l[3]) ||
			b.high.Percent() != number(t, l[4]) || b.row.Source.Status.String() != l[5] {
			t.Errorf("row %d: got %+v, want %v", i, b, l)
		}
		if !(b.low < b.mean && b.mean < b.high) {
			t.Errorf("row %d: %v, %v, %v do not rise", i, b.low, b.mean, b.high)
		}
		if !strings.HasPrefix(strings.ToLower(b.row.Use), b.group) {
			t.Errorf("row %d: group %q, use %q", i, b.group, b.row.Use)
		}
		if key := b.group + b.row.Region; seen[key] {
			t.Errorf("row %d stands twice", i)
		} else {
			seen[key] = true
		}
	}
	for _, r := range Regions() {
		if areaOf(r) != r {
			t.Errorf("region %q is read as %q", r, areaOf(r))
		}
	}
}

func TestBand(t *testing.T) {
	const most = "most of the United States"
	tests := []struct {
		use, region string
		want        string // group, or empty
		low, high   string
	}{
		{"Flooring", most, interior, "6.0", "10.0"},
		{"shelving", most, interior, "6.0", "10.0"},
		{"furniture", "dry southwest", interior, "4.0", "9.0"},
		{"trim", most, interior, "6.0", "10.0"},
		{"interior trim", most, interior, "6.0", "10.0"},
		{"exterior trim", most, exterior, "9.0", "14.0"},
		{"kitchen cabinets", "Damp, warm coastal area", interior, "8.0", "13.0"},
		{"paneling", most, interior, "6.0", "10.0"},
		{"siding", most, exterior, "9.0", "14.0"},
		{"cladding", "southwestern", exterior, "7.0", "12.0"},
		{"board and batten", most, exterior, "9.0", "14.0"},
		{"board-and-batten siding", most, exterior, "9.0", "14.0"},
		{"decking", most, exterior, "9.0", "14.0"},
		{"fencing", "warm coast", exterior, "9.0", "14.0"},
		{"sheathing", most, exterior, "9.0", "14.0"},
		{"barn siding", most, exterior, "9.0", "14.0"},
		{"siding used inside", most, interior, "6.0", "10.0"},
		{"outdoor furniture", most, exterior, "9.0", "14.0"},
		{"patio table", most, "", "", ""},
		{"barn floor", most, "", "", ""},
		{"porch flooring", most, "", "", ""},
		{"porch ceiling, exterior", most, exterior, "9.0", "14.0"},
		{"deck flooring", most, "", "", ""},
		{"siding or flooring", most, "", "", ""},
		{"interior or exterior", most, "", "", ""},
		{"not exterior", most, "", "", ""},
		{"firewood", most, "", "", ""},
		{"", most, "", "", ""},
		{"board", most, "", "", ""},
		{"flooring", "", "", "", ""},
		{"flooring", "Ohio", "", "", ""},
		{"flooring", "not the southwest", "", "", ""},
		{"flooring", "most of the dry southwest", "", "", ""},
		{"flooring", "humid", "", "", ""},
	}
	for _, tt := range tests {
		low, mean, high, row, ok := Band(tt.use, tt.region)
		if ok != (tt.want != "") {
			t.Errorf("%q in %q: ok is %v (%s), want %q", tt.use, tt.region, ok, row.Use, tt.want)
			continue
		}
		if !ok {
			continue
		}
		if low.String() != tt.low || high.String() != tt.high || mean <= low || mean >= high ||
			!strings.HasPrefix(strings.ToLower(row.Use), tt.want) || row.Source.Status != source.Memory {
			t.Errorf("%q in %q: got %v, %v, %v of %q; want %s..%s of %s", tt.use, tt.region, low, mean, high, row.Use, tt.low, tt.high, tt.want)
		}
	}
}

func TestUsesAreKnown(t *testing.T) {
	uses := Uses()
	if len(uses) != 9 { // Table 13-2 names four uses inside and five outside
		t.Errorf("got %d uses, want 9: %q", len(uses), uses)
	}
	for _, use := range uses {
		for _, region := range Regions() {
			if _, _, _, _, ok := Band(use, region); !ok {
				t.Errorf("no moisture is given for %q in %q", use, region)
			}
		}
	}
}
