package wood

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"drytally/compute/source"
)

//go:embed species.csv
var speciesText string

// speciesRow is a row of species.csv as written. All fields are text: the reader must not turn a blank into 0.
type speciesRow struct {
	Name               string `csv:"name"`
	Botanical          string `csv:"botanical"`
	BotanicalStatus    string `csv:"botanical_status"`
	Kind               string `csv:"kind"`
	Scope              string `csv:"scope"`
	Radial             string `csv:"radial"`
	Tangential         string `csv:"tangential"`
	ShrinkageSource    string `csv:"shrinkage_source"`
	ShrinkageStatus    string `csv:"shrinkage_status"`
	Fiber              string `csv:"fiber"`
	FiberStatus        string `csv:"fiber_status"`
	GravityGreen       string `csv:"gravity_green"`
	GravityGreenSource string `csv:"gravity_green_source"`
	GravityGreenStatus string `csv:"gravity_green_status"`
	Gravity12          string `csv:"gravity_12"`
	Gravity12Source    string `csv:"gravity_12_source"`
	Gravity12Status    string `csv:"gravity_12_status"`
	GreenHeart         string `csv:"green_heart"`
	GreenSap           string `csv:"green_sap"`
	GreenSplitSource   string `csv:"green_split_source"`
	GreenSplitStatus   string `csv:"green_split_status"`
	GreenMean          string `csv:"green_mean"`
	GreenMeanSource    string `csv:"green_mean_source"`
	GreenMeanStatus    string `csv:"green_mean_status"`
}

// loadSpecies parses species.csv once. The table is part of the program, so a fault in it is ours and panics.
var loadSpecies = sync.OnceValue(func() []Species {
	rows := source.Must(source.Rows[speciesRow](speciesText))
	list := make([]Species, 0, len(rows))
	for _, r := range rows {
		s, err := r.species()
		if err != nil {
			panic(fmt.Sprintf("wood: species.csv: %q: %v", r.Name, err))
		}
		list = append(list, s)
	}
	return list
})

// All returns every row of the table in its order: domestic hardwoods, softwoods, imported woods, woods without
// shrinkage figures, commercial groups.
func All() []Species { return slices.Clone(loadSpecies()) }

// ByName returns the row with exactly this name as the table writes it.
func ByName(name string) (Species, bool) {
	for _, s := range loadSpecies() {
		if s.Name == name && name != "" {
			return s, true
		}
	}
	return Species{}, false
}

func (r speciesRow) species() (Species, error) {
	p := &cells{}
	s := Species{
		Name: r.Name, Botanical: r.Botanical, BotanicalStatus: p.status(r.BotanicalStatus),
		Hardwood: p.oneOf(r.Kind, "hardwood", "softwood") == "hardwood",
		Imported: p.oneOf(r.Scope, "domestic", "imported", "group") == "imported", Group: r.Scope == "group",
		Radial: p.share(r.Radial), Tangential: p.share(r.Tangential),
		Fiber: p.number(r.Fiber, 20, 30), BasicGravity: p.number(r.GravityGreen, 0.1, 1.3),
		Gravity12: p.number(r.Gravity12, 0.1, 1.3), GreenHeart: p.number(r.GreenHeart, 20, 300),
		GreenSap: p.number(r.GreenSap, 20, 300), GreenMean: p.number(r.GreenMean, 20, 300),
	}
	s.ShrinkageSource = p.source(r.ShrinkageSource, r.ShrinkageStatus, s.Radial != 0 || s.Tangential != 0)
	s.GravitySource = p.source(r.GravityGreenSource, r.GravityGreenStatus, s.BasicGravity != 0)
	s.Gravity12Source = p.source(r.Gravity12Source, r.Gravity12Status, s.Gravity12 != 0)
	s.GreenSource = p.source(r.GreenSplitSource, r.GreenSplitStatus, s.GreenHeart != 0 || s.GreenSap != 0)
	s.GreenMeanSource = p.source(r.GreenMeanSource, r.GreenMeanStatus, s.GreenMean != 0)
	place := "GTR-282 equation 4-9"
	if s.Fiber != 30 {
		place = "GTR-190 Table 13-5 footnote"
	}
	s.FiberSource = p.source(place, r.FiberStatus, true)
	if r.Name == "" || r.Name != strings.ToLower(r.Name) {
		p.fail("the name %q is empty or not in lower case", r.Name)
	}
	return s, p.err
}

// cells converts the cells of one row and keeps the first fault.
type cells struct{ err error }

func (p *cells) fail(format string, args ...any) {
	if p.err == nil {
		p.err = fmt.Errorf(format, args...)
	}
}

// number reads a blank as 0 ("not in the table") and anything else as a number in low..high.
func (p *cells) number(s string, low, high float64) float64 {
	if s == "" {
		return 0
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || !(x >= low && x <= high) || x == 0 {
		p.fail("%q is not a number from %g to %g", s, low, high)
		return 0
	}
	return x
}

// share reads a printed percent, 0..20, as a share. The exponent is put on before parsing: 4.4 gives 0.044 exactly as a
// literal would, which dividing by 100 does not.
func (p *cells) share(s string) float64 {
	if s == "" {
		return 0
	}
	return p.number(s+"e-2", 0, 0.2)
}

func (p *cells) oneOf(s string, words ...string) string {
	if !slices.Contains(words, s) {
		p.fail("%q is none of %q", s, words)
	}
	return s
}

func (p *cells) status(s string) source.Status {
	st := source.ParseStatus(s)
	if st == source.NotSaid {
		p.fail("%q is no status", s)
	}
	return st
}

// documents names the short names of species.csv in full. A place that starts with none of them is our arithmetic.
var documents = []struct{ short, full string }{
	{"GTR-190", "Wood Handbook FPL-GTR-190 (2010)"},
	{"GTR-282", "Wood Handbook FPL-GTR-282 (2021)"},
	{"GTR-113", "Wood Handbook FPL-GTR-113 (1999)"},
	{"FIA", "Forest Service FIA reference species table (2021)"},
}

// source reads a source cell. It must be filled exactly when there is a figure.
func (p *cells) source(place, status string, figure bool) source.Source {
	if !figure {
		if place != "" || status != "" {
			p.fail("a source stands where there is no figure: %q %q", place, status)
		}
		return source.Source{}
	}
	if place == "" {
		p.fail("a figure has no source")
	}
	src := source.Source{Document: "own arithmetic from this program's species table", Place: place, Status: p.status(status)}
	for _, d := range documents {
		if rest, ok := strings.CutPrefix(place, d.short+" "); ok {
			src.Document, src.Place = d.full, rest
			break
		}
		if rest, ok := strings.CutPrefix(place, "inverted from "+d.short+" "); ok {
			src.Document, src.Place = d.full, "inverted from "+rest
			break
		}
	}
	return src
}
