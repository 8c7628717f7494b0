package footage

import (
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"drytally/compute/source"
	"drytally/compute/units"
)

//go:embed sizes.csv
var sizesText string

// Size is a row of the tables of nominal and dressed sizes. A size the table does not give is 0.
type Size struct {
	Item      string // "boards", "dimension", "flooring_tg", "hardwood_4_4", ...
	Dimension string // "thickness", "face_width", "overall_width", "thickness_butt", "thickness_S2S"
	Nominal   units.Length
	Dry       units.Length // least dressed size, dry; for hardwood surfaced two sides
	Green     units.Length // least dressed size, green
	RoughDry  units.Length // least rough size, dry
	// RoughGreen is the rough green size suggested for softwood, the least rough green size for hardwood.
	RoughGreen units.Length
	Overall    units.Length // face with tongue or lap, dry
	Source     source.Source
}

// sizeRow is a row as written: text fields only, so that a blank is not read as 0.
type sizeRow struct {
	Item       string `csv:"item"`
	Dimension  string `csv:"dimension"`
	Nominal    string `csv:"nominal"`
	Dry        string `csv:"dry"`
	Green      string `csv:"green"`
	RoughDry   string `csv:"rough_dry"`
	RoughGreen string `csv:"rough_green"`
	Overall    string `csv:"overall"`
	Status     string `csv:"status"`
	Document   string `csv:"document"`
}

// loadSizes parses sizes.csv once.
var loadSizes = sync.OnceValue(func() []Size { return source.Must(readSizes(sizesText)) })

func readSizes(text string) ([]Size, error) {
	rows, err := source.Rows[sizeRow](text)
	if err != nil {
		return nil, err
	}
	var out []Size
	for _, r := range rows {
		s := Size{Item: r.Item, Dimension: r.Dimension}
		var errs []error
		for _, c := range []struct {
			to   *units.Length
			text string
		}{{&s.Nominal, r.Nominal}, {&s.Dry, r.Dry}, {&s.Green, r.Green}, {&s.RoughDry, r.RoughDry},
			{&s.RoughGreen, r.RoughGreen}, {&s.Overall, r.Overall}} {
			var err error
			*c.to, err = fraction(c.text)
			errs = append(errs, err)
		}
		s.Source = source.Source{Document: r.Document, Status: source.ParseStatus(r.Status)}
		if s.Item == "" || s.Dimension == "" || s.Nominal == 0 || s.Dry == 0 || r.Document == "" || s.Source.Status == source.NotSaid {
			errs = append(errs, errors.New("item, dimension, nominal, dry, document or status is missing"))
		}
		if err := errors.Join(errs...); err != nil {
			return nil, fmt.Errorf("%s %s %s: %w", r.Item, r.Dimension, r.Nominal, err)
		}
		out = append(out, s)
	}
	return out, nil
}

// fraction reads inches as the tables print them: 2, 3/4, 1 11/16. A blank is 0. The denominator is a power of two to 64.
func fraction(s string) (units.Length, error) {
	var out units.Length
	for i, part := range strings.Fields(s) {
		num, den, slash := strings.Cut(part, "/")
		n, err := strconv.ParseUint(num, 10, 16)
		d := uint64(1)
		if slash && err == nil {
			d, err = strconv.ParseUint(den, 10, 16)
		}
		if err != nil || d == 0 || 64%d != 0 || i > 1 || (i == 1 && !slash) {
			return 0, fmt.Errorf("%q is no size in inches", s)
		}
		out += units.Fraction(int64(n), int64(d))
	}
	return out, nil
}

// Sizes returns all rows of the tables in their order. Many are from memory: see each row's Source.
func Sizes() []Size { return slices.Clone(loadSizes()) }

// NominalThickness names a dressed dry softwood thickness: the largest nominal size of boards and dimension whose least
// dressed size is not above it. It is false below the smallest and above the largest of the table. A rough board must not be
// named by it: 1 1/16 in rough is above the dressed 5/4.
//
// Source: PS 20 Table 3; seen in a page that reproduces it, the 2 in and thicker rows also in Tenn. 0080-07-07-.06 Table 4.
func NominalThickness(dressed units.Length) (Size, bool) {
	return largest(dressed, func(s Size) units.Length {
		if s.Dimension == "thickness" && (s.Item == "boards" || s.Item == "dimension") {
			return s.Dry
		}
		return 0
	})
}

// State says how a hardwood board was made when its thickness is named.
type State uint8

// The states.
const (
	RoughGreen State = iota // rough, green or air dried: not below nominal
	RoughDry                // rough, kiln dried: 1/16 in scant allowed to 7/4, 1/8 in above
	Surfaced                // surfaced two sides
)

// Quarters names a hardwood thickness in quarters of an inch: the largest nominal size whose least size in that state is not
// above it. It is false below and above the table.
//
// Source: National Hardwood Lumber Association, surfaced-lumber section and Standard Kiln Dried Rule, as quoted; second hand,
// some rows memory (see the row's Source).
func Quarters(thickness units.Length, state State) (Size, bool) {
	return largest(thickness, func(s Size) units.Length {
		if s.Dimension != "thickness_S2S" {
			return 0
		}
		return [...]units.Length{s.RoughGreen, s.RoughDry, s.Dry}[state]
	})
}

// above is how far over the largest nominal size of a table a size may be and still have its name: the distance of the
// last rows.
const above = units.Inch / 2

// largest finds the row with the largest nominal size whose least size (0: not a row of this table) is not above size.
func largest(size units.Length, least func(Size) units.Length) (Size, bool) {
	var best Size
	var top units.Length
	for _, s := range loadSizes() {
		l := least(s)
		if l == 0 {
			continue
		}
		top = max(top, s.Nominal)
		if l <= size && s.Nominal > best.Nominal {
			best = s
		}
	}
	return best, best.Nominal > 0 && size <= top+above
}

// The first and last name in quarters of an inch the trade uses.
const leastQuarters, mostQuarters = 2, 16

// ParseQuarters reads a thickness named in quarters of an inch, 2/4 to 16/4: 5/4 is 1 1/4 in.
//
// Source: Wengert and several trade pages; seen.
func ParseQuarters(name string) (units.Length, bool) {
	num, ok := strings.CutSuffix(strings.TrimSpace(name), "/4")
	n, err := strconv.ParseUint(num, 10, 8)
	if !ok || err != nil || n < leastQuarters || n > mostQuarters {
		return 0, false
	}
	return units.Fraction(int64(n), 4), true
}

// QuartersName writes a nominal thickness in quarters of an inch, 1 1/4 in as 5/4; false when it is no whole quarter from
// 2/4 to 16/4.
func QuartersName(nominal units.Length) (string, bool) {
	n := nominal / units.Fraction(1, 4)
	if nominal%units.Fraction(1, 4) != 0 || n < leastQuarters || n > mostQuarters {
		return "", false
	}
	return strconv.Itoa(int(n)) + "/4", true
}

// Dressed names a dressed dry softwood size: nominal thickness and width by rows of one table, boards or dimension. Rows known only
// from memory name nothing. It is false outside the tables, and where there is no row for the width, as for 7 in dimension.
//
// Source: as NominalThickness.
func Dressed(thickness, width units.Length) (t, w Size, ok bool) {
	t, ok = NominalThickness(thickness)
	if !ok || t.Source.Status == source.Memory {
		return Size{}, Size{}, false
	}
	w, ok = largest(width, func(s Size) units.Length {
		if s.Dimension == "face_width" && s.Item == t.Item && s.Source.Status != source.Memory {
			return s.Dry
		}
		return 0
	})
	return t, w, ok
}

// Worked finds the row of a worked pattern with just this face and overall width; 0 for an overall width the table has none of.
// Rows known only from memory are never found: their figures are not printed as the standard's.
func Worked(item string, face, overall units.Length) (Size, bool) {
	for _, s := range loadSizes() {
		if s.Item == item && s.Source.Status != source.Memory && (s.Dimension == "face_width" || s.Dimension == "overall_width") && s.Dry == face && s.Overall == overall {
			return s, true
		}
	}
	return Size{}, false
}
