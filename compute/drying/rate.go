package drying

import (
	_ "embed" // the table
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
	"time"

	"drytally/compute/source"
	"drytally/compute/units"
)

//go:embed saferates.csv
var safeText string

// Point is a moisture content on a day. Compare only points found by weighing: meter readings above 30 % cannot feed a rate.
type Point struct {
	Time time.Time
	MC   units.MC
}

// Loss is what one sample board lost between two weighings.
type Loss struct {
	From, To time.Time
	PerDay   units.MC // points of MC a day, to the nearest tenth; below 0 when the board gained
}

// DailyLosses returns the loss between each two weighings that follow each other in time. Points of the same moment are no
// interval and are left out. A daily figure within a limit can still hide a few hours that were too fast (Wengert 2000; seen),
// and an average over weeks proves nothing about the early peak.
//
// Source: rate = (MC1 - MC2) / days; common arithmetic.
func DailyLosses(points []Point) []Loss {
	p := inOrder(points)
	var out []Loss
	for i := 1; i < len(p); i++ {
		if days := days(p[i-1].Time, p[i].Time); days > 0 {
			perDay := (p[i-1].MC - p[i].MC).Percent() / days
			out = append(out, Loss{From: p[i-1].Time, To: p[i].Time, PerDay: units.MC(math.Round(perDay*10)) * 10})
		}
	}
	return out
}

// SafeRate is the published highest safe daily loss.
type SafeRate struct {
	PerDay units.MC // points of MC a day, to the tenth
	Row    string   // of the table
	Note   string   // what the row holds for, when it is not the species as asked
	Source source.Source
}

// Safe returns the published highest safe daily loss of a species at a nominal thickness: 1, 1 1/2 or 2 inches (4/4, 6/4, 8/4).
// ok is false where no figure was seen: other thicknesses (5/4 among them), softwoods, and hardwoods not in the table. 6/4 is
// derived: the 4/4 figure over 1.7, the factor on drying time (Wengert 2012; seen).
//
// These are maxima, strictest above about 45 % MC where nearly all defects start. Where the row gives a range, it is the lower.
//
// Source: FOR-128 p. 91, Table 9; seen.
func Safe(species string, nominal units.Length) (rate SafeRate, ok bool) {
	r, found := safeRates().byName[plainName(species)]
	if !found {
		return SafeRate{}, false
	}
	rate = SafeRate{Row: r.row, Note: r.note, Source: source.Source{Document: "Hardwood Dry Kiln Operation (small-kiln manual FOR-128)",
		Place: "p. 91, Table 9", Status: source.Seen}}
	switch nominal {
	case units.Inch:
		rate.PerDay = r.four
	case 2 * units.Inch:
		rate.PerDay = r.eight
	case units.Fraction(3, 2):
		rate.PerDay = units.MC(math.Round(r.four.Percent()/sixQuarterTime*10)) * 10
		rate.Source.Place += " at 4/4, over 1.7"
		rate.Source.Status = source.Derived
	}
	if rate.PerDay == 0 {
		return SafeRate{}, false
	}
	return rate, true
}

// TimeFactor gives how many times as long as 4/4 a nominal thickness dries: 1 for 4/4, 1.7 for 6/4, 2.5 for 8/4. ok is false for
// others: no figure was seen, and interpolating has no source.
//
// Source: Wengert (2012); seen.
func TimeFactor(nominal units.Length) (factor float64, from source.Source, ok bool) {
	from = source.Source{Document: "Wengert, extension answers (2012)", Place: "drying time of 6/4 and 8/4", Status: source.Seen}
	switch nominal {
	case units.Inch:
		return 1, from, true
	case units.Fraction(3, 2):
		return sixQuarterTime, from, true
	case 2 * units.Inch:
		return eightQuarterTime, from, true
	}
	return 0, source.Source{}, false
}

// eightQuarterTime is how much longer 8/4 dries than 4/4 (Wengert 2012; seen).
const eightQuarterTime = 2.5

// sixQuarterTime is how much longer 6/4 dries than 4/4 (Wengert 2012; seen).
const sixQuarterTime = 1.7

type safeRow struct {
	row, note   string
	four, eight units.MC // 0: no figure
	range4      units.MC // the upper end where 4/4 is a range, else 0
}

type safeTable struct {
	rows   []safeRow
	byName map[string]safeRow
}

var safeRates = sync.OnceValue(func() safeTable { return source.Must(readSafe(safeText)) })

type safeLine struct {
	Row     string `csv:"row"`
	Names   string `csv:"names"`
	Four    string `csv:"four"`
	FourLow string `csv:"four_low"`
	Eight   string `csv:"eight"`
	Status  string `csv:"status"`
	Note    string `csv:"note"`
}

func readSafe(text string) (safeTable, error) {
	lines, err := source.Rows[safeLine](text)
	if err != nil {
		return safeTable{}, fmt.Errorf("safe rates: %w", err)
	}
	t := safeTable{byName: map[string]safeRow{}}
	for _, l := range lines {
		row := safeRow{row: l.Row, note: l.Note}
		ok := l.Status == "seen"
		ok = rate(l.Four, &row.four) && l.Four != "" && ok
		ok = rate(l.Eight, &row.eight) && ok
		var low units.MC
		ok = rate(l.FourLow, &low) && ok
		if !ok {
			return safeTable{}, fmt.Errorf("safe rates: bad line %q", l)
		}
		if low != 0 {
			row.four, row.range4 = low, row.four
		}
		t.rows = append(t.rows, row)
		for _, n := range strings.Split(l.Names, ";") {
			n = plainName(n)
			if _, twice := t.byName[n]; twice || n == "" {
				return safeTable{}, fmt.Errorf("safe rates: name %q is empty or stands twice", n)
			}
			t.byName[n] = row
		}
	}
	return t, nil
}

// rate reads a rate above 0; an empty cell leaves 0, which is no figure.
func rate(cell string, to *units.MC) bool {
	if cell == "" {
		return true
	}
	x, err := strconv.ParseFloat(cell, 64)
	*to = units.Percent(x)
	return err == nil && x > 0
}

func plainName(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }
