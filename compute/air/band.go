package air

import (
	_ "embed" // the table
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"drytally/compute/source"
	"drytally/compute/units"
)

//go:embed recommended.csv
var recommendedText string

// Row names the row of the table a band comes from.
type Row struct {
	Use, Region string
	Source      source.Source
}

type band struct {
	group           string // interior or exterior
	row             Row
	low, mean, high units.MC
}

// Band returns the recommended moisture content for a use in a region: the range of single pieces, and the average.
//
// use is in everyday words. A word that says inside or outside decides ("exterior trim"); without one the thing named decides
// ("flooring" is interior, "siding" exterior; "trim" alone is interior). Words for both, a denial, or no known word give
// ok false, and so does a region that is none of the table's three. Nothing is guessed.
//
// Source: Wood Handbook FPL-GTR-190 (2010), Table 13-2; memory, interior averages checked second hand.
func Band(use, region string) (low, mean, high units.MC, row Row, ok bool) {
	group, area := groupOf(use), areaOf(region)
	if group == "" || area == "" {
		return 0, 0, 0, Row{}, false
	}
	for _, b := range recommended() {
		if b.group == group && b.row.Region == area {
			return b.low, b.mean, b.high, b.row, true
		}
	}
	return 0, 0, 0, Row{}, false
}

// Regions returns the three regions of the table as it names them.
func Regions() []string {
	var out []string
	for _, b := range recommended() {
		if !slices.Contains(out, b.row.Region) {
			out = append(out, b.row.Region)
		}
	}
	return out
}

// The words. Those of the table itself come first; the others are everyday names for the same things (common practice).
const (
	interior, exterior = "interior", "exterior"

	sayInside  = "interior inside indoor indoors"
	sayOutside = "exterior outside outdoor outdoors"

	insideThings = "woodwork flooring floor floors furniture trim millwork joinery cabinet cabinets cabinetry casework shelving shelf " +
		"shelves paneling panelling wainscot wainscoting baseboard baseboards casing molding moulding moldings ceiling ceilings stair " +
		"stairs tread treads table tables tabletop tabletops countertop countertops desk bookcase mantel drawer drawers"
	outsideThings = "siding framing sheathing cladding batten battens clapboard clapboards decking deck fence fencing fascia soffit " +
		"pergola gate"
	// A place that is neither clearly inside nor outside: an inside thing there (patio table, barn floor) is left open.
	openPlaces = "garden patio yard lawn picnic adirondack porch barn shed garage trailer truck boat water"
	// A denial, or a choice between two uses, is not for a program to read.
	refuse = "not no never non either except unknown mixed"
)

func groupOf(use string) string {
	var in, out, open, sayIn, sayOut bool
	for _, w := range words(use) {
		switch {
		case among(w, refuse):
			return ""
		case among(w, sayInside):
			sayIn = true
		case among(w, sayOutside):
			sayOut = true
		case among(w, insideThings):
			in = true
		case among(w, outsideThings):
			out = true
		case among(w, openPlaces):
			open = true
		}
	}
	if sayIn || sayOut {
		in, out, open = sayIn, sayOut, false
	}
	switch {
	case in && !out && !open:
		return interior
	case out && !in:
		return exterior
	}
	return ""
}

// The regions of the table, as it names them.
const (
	mostAreas    = "most areas of the United States"
	drySouthwest = "dry southwestern area"
	dampCoast    = "damp, warm coastal area"
)

// areaOf finds the region of the table that is meant: by "most", by "southwest", or by "coast" together with "damp" or "warm".
func areaOf(region string) string {
	var most, dry, damp, coast bool
	for _, w := range words(region) {
		switch {
		case among(w, refuse):
			return ""
		case w == "most":
			most = true
		case among(w, "southwest southwestern"):
			dry = true
		case among(w, "damp warm humid"):
			damp = true
		case among(w, "coast coastal"):
			coast = true
		}
	}
	switch {
	case most && !dry && !damp && !coast:
		return mostAreas
	case dry && !most && !damp && !coast:
		return drySouthwest
	case damp && coast && !most && !dry:
		return dampCoast
	}
	return ""
}

func words(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) })
}

func among(word, list string) bool { return slices.Contains(strings.Fields(list), word) }

var recommended = sync.OnceValue(func() []band { return source.Must(readRecommended(recommendedText)) })

type recommendedLine struct {
	Group  string `csv:"group"`
	Use    string `csv:"use"`
	Region string `csv:"region"`
	Mean   string `csv:"mean"`
	Low    string `csv:"low"`
	High   string `csv:"high"`
	Status string `csv:"status"`
}

func readRecommended(text string) ([]band, error) {
	lines, err := source.Rows[recommendedLine](text)
	if err != nil {
		return nil, fmt.Errorf("recommended moisture: %w", err)
	}
	var out []band
	for _, l := range lines {
		low, errL := strconv.Atoi(l.Low)
		mean, errM := strconv.Atoi(l.Mean)
		high, errH := strconv.Atoi(l.High)
		if errL != nil || errM != nil || errH != nil || l.Status != "memory" || l.Group != interior && l.Group != exterior {
			return nil, fmt.Errorf("recommended moisture: bad line %q", l)
		}
		out = append(out, band{group: l.Group, low: units.MC(100 * low), mean: units.MC(100 * mean), high: units.MC(100 * high),
			row: Row{Use: l.Use, Region: l.Region, Source: source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)",
				Place: "Table 13-2", Status: source.Memory}}})
	}
	return out, nil
}

// Uses returns the uses that the table names, each with the word inside or outside it stands under: "interior flooring".
// Band knows every one of them.
func Uses() []string {
	var out []string
	for _, b := range recommended() {
		_, things, ok := strings.Cut(b.row.Use, ": ")
		if !ok {
			continue
		}
		for _, thing := range strings.Split(things, ", ") {
			if use := b.group + " " + strings.TrimPrefix(thing, "wood "); !slices.Contains(out, use) {
				out = append(out, use)
			}
		}
	}
	return out
}
