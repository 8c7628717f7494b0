package heat

import (
	_ "embed" // the table
	"fmt"
	"slices"
	"strconv"
	"sync"

	"drytally/compute/source"
	"drytally/compute/units"
)

//go:embed published.csv
var publishedText string

// Kind says what a published figure is. The zero value is not used.
type Kind uint8

// The kinds.
const (
	kindNotSaid Kind = iota
	Schedule         // a rule asks for it
	Lethal           // a study or handbook reports that it killed
	Survived         // insects are reported to have survived it
	HeatUp           // how long the center of a board took to come to 56 C in air of that temperature
)

var kinds = []string{"", "schedule", "lethal", "survived", "heat-up"}

// String gives the word of the table.
func (k Kind) String() string { return kinds[k] }

// Figure is one published temperature and time.
type Figure struct {
	Kind    Kind
	Temp    units.Temperature // of the wood's core; for HeatUp of the air
	Minutes int               // for HeatUp the shortest time
	Most    int               // HeatUp only: the longest time
	About   string            // what it is about, in a few words
	Source  source.Source
}

// Thresholds returns every published core temperature with its time, coolest first. None of them makes a record a treatment.
func Thresholds() []Figure {
	var out []Figure
	for _, f := range figures() {
		if f.figure.Kind != HeatUp {
			out = append(out, f.figure)
		}
	}
	slices.SortStableFunc(out, func(a, b Figure) int {
		if d := a.Temp.Celsius() - b.Temp.Celsius(); d != 0 {
			return int(d * 1000)
		}
		return a.Minutes - b.Minutes
	})
	return out
}

// InchInHotAir returns how long the center of green boards an inch thick took to come to 56 C in air of 71 C, from the
// shortest time to the longest: the drier the air, the longer. It is why air temperatures tell nothing of the core.
func InchInHotAir() Figure {
	for _, f := range figures() {
		if f.key == "green inch" {
			return f.figure
		}
	}
	panic("heat: the table has no green inch board") // the embedded table is damaged: our mistake
}

type line struct {
	key    string
	figure Figure
}

var figures = sync.OnceValue(func() []line { return source.Must(readPublished(publishedText)) })

type publishedLine struct {
	Key      string `csv:"key"`
	Kind     string `csv:"kind"`
	Celsius  string `csv:"celsius"`
	Minutes  string `csv:"minutes"`
	Most     string `csv:"most"`
	About    string `csv:"about"`
	Document string `csv:"document"`
	Place    string `csv:"place"`
	Status   string `csv:"status"`
}

func readPublished(text string) ([]line, error) {
	lines, err := source.Rows[publishedLine](text)
	if err != nil {
		return nil, fmt.Errorf("published heat: %w", err)
	}
	var out []line
	for _, l := range lines {
		kind := slices.Index(kinds, l.Kind)
		status := source.ParseStatus(l.Status)
		c, errC := strconv.ParseFloat(l.Celsius, 64)
		n, errN := strconv.Atoi(l.Minutes)
		most, errM := 0, error(nil)
		if l.Most != "" {
			most, errM = strconv.Atoi(l.Most)
		}
		if errC != nil || errN != nil || errM != nil || kind < 1 || status != source.Seen && status != source.SecondHand || l.Key == "" || l.About == "" || l.Document == "" ||
			(Kind(kind) == HeatUp) != (most > 0) {
			return nil, fmt.Errorf("published heat: bad line %q", l)
		}
		out = append(out, line{key: l.Key, figure: Figure{Kind: Kind(kind), Temp: units.Celsius(c), Minutes: n, Most: most, About: l.About,
			Source: source.Source{Document: l.Document, Place: l.Place, Status: status}}})
	}
	return out, nil
}
