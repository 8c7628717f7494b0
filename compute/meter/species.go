package meter

import (
	"math"
	"strings"

	"drytally/compute/source"
	"drytally/compute/units"
)

// SpeciesStep is what was done about the species.
type SpeciesStep struct {
	Outcome    Outcome
	Row        string   // of the table, when one was found
	Correction units.MC // added, to the hundredth
	// BeyondRow: the row does not reach to this reading; the correction at its end is carried on.
	BeyondRow bool
	// MayLow and MayHigh bound what the species could change, when Outcome is NoSeenTable: from a row known from memory, else
	// the general 2 points either way. They are said and never added.
	MayLow, MayHigh units.MC
	Source          source.Source
}

// generalSpeciesSpread is how far a reading without species correction can be off, in points of MC: "1 or 2 %" for North
// American species. Source: Hardwood Dry Kiln Operation, a manual for operators of small dry kilns (FOR-128), p. 31; seen.
const generalSpeciesSpread = 2.0

var (
	rowSource = source.Source{Document: "FPL-GTR-6 (James 1988)", Status: source.SecondHand,
		Place: "Table 1, recalled and confirmed by its published regression"}
	fitSource = source.Source{Document: "FPL-GTR-6 (James 1988)", Status: source.SecondHand,
		Place: "Table 1, published fits of its rows"}
	memorySource = source.Source{Document: "FPL-GTR-6 (James 1988)", Place: "Table 1", Status: source.Memory}
	spreadSource = source.Source{Document: "Hardwood Dry Kiln Operation (small-kiln manual FOR-128)", Place: "p. 31",
		Status: source.Seen}
)

// speciesStep corrects a value on the Douglas-fir scale (after temperature) for the species. A row seen indirectly comes
// before a fit, because the fits alone err by up to 2 % MC against their rows; a row from memory changes nothing.
func speciesStep(q Question, scale float64) (float64, SpeciesStep) {
	switch {
	case q.SpeciesDone:
		return scale, SpeciesStep{Outcome: DoneByMeter}
	case strings.TrimSpace(q.Species) == "":
		return scale, SpeciesStep{}
	}
	name := plainName(q.Species)
	rows := resistanceRows()
	base := rows.byName[baseSpecies]
	row, found := rows.byName[name]
	if found && row.confirmed {
		mc, beyond := sameResistance(base, row, scale)
		return mc, SpeciesStep{Outcome: Applied, Row: row.species, Correction: units.Percent(mc - scale), BeyondRow: beyond,
			Source: rowSource}
	}
	if fit, ok := fits().byName[name]; ok {
		mc := sameResistanceByFit(fits().byName[baseSpecies], fit, scale)
		return mc, SpeciesStep{Outcome: Applied, Row: fit.species, Correction: units.Percent(mc - scale),
			BeyondRow: scale < fitLow || scale > fitHigh, Source: fitSource}
	}
	s := SpeciesStep{Outcome: NoSeenTable, MayLow: units.Percent(-generalSpeciesSpread),
		MayHigh: units.Percent(generalSpeciesSpread), Source: spreadSource}
	if found {
		mc, beyond := sameResistance(base, row, scale)
		may := round(units.Number, mc-scale)
		s.Row, s.BeyondRow, s.MayLow, s.MayHigh, s.Source = row.species, beyond, min(0, may), max(0, may), memorySource
	}
	return scale, s
}

// baseSpecies is the species North American pin meters are scaled for (memory, long-standing).
const baseSpecies = "douglas-fir"

// sameResistance returns the moisture content at which wood of the row has the resistance that Douglas-fir has at scale
// percent: log R is linear between whole percents. Where either row ends, the correction at that end is carried on, so that
// a wetter reading never gives drier wood; beyond says so.
//
// Source: FPL-GTR-6 (James 1988), Table 1, 80 F.
func sameResistance(base, row resistanceRow, scale float64) (mc float64, beyond bool) {
	low := math.Max(base.first(), base.at(row.logR[0]))
	high := math.Min(base.last(), base.at(row.logR[len(row.logR)-1]))
	inside := math.Min(math.Max(scale, low), high)
	return scale + row.at(base.log(inside)) - inside, inside != scale
}

// The fits hold from 7 to 25 % MC.
const fitLow, fitHigh = 7.0, 25.0

// sameResistanceByFit returns the same by the two regressions log10(MC) = a + b log10(R in kilohm).
//
// Source: fits of FPL-GTR-6 (James 1988), Table 1, as printed in a public transcription; coefficients seen.
func sameResistanceByFit(base, f fit, scale float64) float64 {
	if scale <= 0 {
		return scale
	}
	logR := (math.Log10(scale) - base.a) / base.b // inverted
	return math.Pow(10, f.a+f.b*logR)
}

// plainName folds a name for looking it up: lower case, single blanks.
func plainName(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }
