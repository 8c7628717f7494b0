package meter

import (
	_ "embed" // the tables
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"drytally/compute/source"
)

//go:embed figure5.csv
var figureText string

//go:embed resistance.csv
var resistanceText string

//go:embed fits.csv
var fitText string

// grid is Figure 5: correction[i][j] in percent MC at celsius[i] and readings[j].
type grid struct {
	celsius, readings []float64
	correction        [][]float64
	beyond            int // cells over the last curve of the chart
}

// resistanceRow is the resistance of one species: logR[i] is the decimal logarithm of megohms at percent[i], falling.
type resistanceRow struct {
	species       string
	confirmed     bool // seen indirectly; false is memory
	percent, logR []float64
}

func (r resistanceRow) first() float64 { return r.percent[0] }
func (r resistanceRow) last() float64  { return r.percent[len(r.percent)-1] }

// log returns log R at mc percent, which must lie in the row's range.
func (r resistanceRow) log(mc float64) float64 {
	i, part, _ := bracket(r.percent, mc)
	return (1-part)*r.logR[i] + part*r.logR[i+1]
}

// at returns the percent MC with the given log R; a resistance beyond the row gives the row's end. Where two whole percents
// share a resistance (the instrument's floor) it gives the drier.
func (r resistanceRow) at(logR float64) float64 {
	if logR >= r.logR[0] {
		return r.first()
	}
	for i := range len(r.logR) - 1 {
		if logR >= r.logR[i+1] {
			return r.percent[i] + (r.logR[i]-logR)/(r.logR[i]-r.logR[i+1])
		}
	}
	return r.last()
}

// fit is log10(MC) = a + b log10(R in kilohm).
type fit struct {
	species string
	a, b    float64
}

// named is a table with the names its rows answer to.
type named[T any] struct {
	rows   []T
	byName map[string]T
}

var figureFive = sync.OnceValue(func() grid { return source.Must(readGrid(figureText)) })

var resistanceRows = sync.OnceValue(func() named[resistanceRow] { return source.Must(readRows(resistanceText)) })

var fits = sync.OnceValue(func() named[fit] { return source.Must(readFits(fitText)) })

type gridLine struct {
	Celsius    string `csv:"celsius"`
	Reading    string `csv:"reading"`
	Correction string `csv:"correction"`
	Beyond     string `csv:"beyond"`
	Status     string `csv:"status"`
}

func readGrid(text string) (grid, error) {
	lines, err := source.Rows[gridLine](text)
	if err != nil {
		return grid{}, err
	}
	var g grid
	for _, l := range lines {
		c, errC := strconv.ParseFloat(l.Celsius, 64)
		r, errR := strconv.ParseFloat(l.Reading, 64)
		add, errA := strconv.ParseFloat(l.Correction, 64)
		if errC != nil || errR != nil || errA != nil || l.Status != "second hand" || l.Beyond != "yes" && l.Beyond != "no" {
			return grid{}, fmt.Errorf("figure 5: bad line %q", l)
		}
		if n := len(g.celsius); n == 0 || c > g.celsius[n-1] {
			g.celsius, g.correction = append(g.celsius, c), append(g.correction, nil)
		} else if c < g.celsius[n-1] {
			return grid{}, fmt.Errorf("figure 5: line %q out of order", l)
		}
		i := len(g.celsius) - 1
		if i == 0 {
			g.readings = append(g.readings, r)
		}
		j := len(g.correction[i])
		if j >= len(g.readings) || g.readings[j] != r || j > 0 && r <= g.readings[j-1] {
			return grid{}, fmt.Errorf("figure 5: line %q out of order", l)
		}
		g.correction[i] = append(g.correction[i], add)
		if l.Beyond == "yes" {
			g.beyond++
		}
	}
	for i := range g.correction {
		if len(g.correction[i]) != len(g.readings) {
			return grid{}, fmt.Errorf("figure 5: %d readings at %g C, want %d", len(g.correction[i]), g.celsius[i], len(g.readings))
		}
	}
	return g, nil
}

type resistanceLine struct {
	Species string `csv:"species"`
	Names   string `csv:"names"`
	Status  string `csv:"status"`
	MC7     string `csv:"mc7"`
	MC8     string `csv:"mc8"`
	MC9     string `csv:"mc9"`
	MC10    string `csv:"mc10"`
	MC11    string `csv:"mc11"`
	MC12    string `csv:"mc12"`
	MC13    string `csv:"mc13"`
	MC14    string `csv:"mc14"`
	MC15    string `csv:"mc15"`
	MC16    string `csv:"mc16"`
	MC17    string `csv:"mc17"`
	MC18    string `csv:"mc18"`
	MC19    string `csv:"mc19"`
	MC20    string `csv:"mc20"`
	MC21    string `csv:"mc21"`
	MC22    string `csv:"mc22"`
	MC23    string `csv:"mc23"`
	MC24    string `csv:"mc24"`
	MC25    string `csv:"mc25"`
}

func (l resistanceLine) cells() []string {
	return []string{l.MC7, l.MC8, l.MC9, l.MC10, l.MC11, l.MC12, l.MC13, l.MC14, l.MC15, l.MC16, l.MC17, l.MC18, l.MC19, l.MC20,
		l.MC21, l.MC22, l.MC23, l.MC24, l.MC25}
}

func readRows(text string) (named[resistanceRow], error) {
	lines, err := source.Rows[resistanceLine](text)
	if err != nil {
		return named[resistanceRow]{}, err
	}
	t := named[resistanceRow]{byName: map[string]resistanceRow{}}
	for _, l := range lines {
		row := resistanceRow{species: l.Species, confirmed: l.Status == "seen indirectly"}
		if !row.confirmed && l.Status != "memory" {
			return t, fmt.Errorf("resistance: unknown status %q of %q", l.Status, l.Species)
		}
		for i, cell := range l.cells() {
			if cell == "" && i == 0 {
				continue // hickory has no value at 7 %
			}
			r, err := strconv.ParseFloat(cell, 64)
			if err != nil || r <= 0 {
				return t, fmt.Errorf("resistance: %q of %q is no resistance", cell, l.Species)
			}
			row.percent, row.logR = append(row.percent, float64(7+i)), append(row.logR, math.Log10(r))
		}
		if err := t.add(row, l.Names); err != nil {
			return t, fmt.Errorf("resistance: %w", err)
		}
	}
	return t, nil
}

type fitLine struct {
	Species string `csv:"species"`
	Names   string `csv:"names"`
	A       string `csv:"a"`
	B       string `csv:"b"`
	Status  string `csv:"status"`
}

func readFits(text string) (named[fit], error) {
	lines, err := source.Rows[fitLine](text)
	if err != nil {
		return named[fit]{}, err
	}
	t := named[fit]{byName: map[string]fit{}}
	for _, l := range lines {
		a, errA := strconv.ParseFloat(l.A, 64)
		b, errB := strconv.ParseFloat(l.B, 64)
		if errA != nil || errB != nil || b >= 0 || l.Status != "seen" {
			return t, fmt.Errorf("fits: bad line %q", l)
		}
		if err := t.add(fit{species: l.Species, a: a, b: b}, l.Names); err != nil {
			return t, fmt.Errorf("fits: %w", err)
		}
	}
	return t, nil
}

// add keeps a row under each of its names, which stand between semicolons.
func (t *named[T]) add(row T, names string) error {
	t.rows = append(t.rows, row)
	for _, n := range strings.Split(names, ";") {
		n = plainName(n)
		if _, twice := t.byName[n]; twice || n == "" {
			return fmt.Errorf("name %q is empty or stands twice", n)
		}
		t.byName[n] = row
	}
	return nil
}

// CorrectedSpecies returns the everyday names of species that are corrected, in alphabetical order.
func CorrectedSpecies() []string { return slices.Clone(corrected()) }

// Corrects reports whether a species is corrected, by its everyday name in lower case.
func Corrects(name string) bool {
	_, is := slices.BinarySearch(corrected(), name)
	return is
}

var corrected = sync.OnceValue(func() []string {
	var out []string
	for n, r := range resistanceRows().byName {
		if r.confirmed {
			out = append(out, n)
		}
	}
	for n := range fits().byName {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
})
