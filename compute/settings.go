package compute

import (
	"drytally/compute/finding"
	"drytally/compute/price"
	"drytally/compute/source"
	"drytally/compute/stack"
	"drytally/compute/target"
	"drytally/compute/units"
)

// Said is a yes, a no, or nothing said.
type Said uint8

// The three answers. The zero value is "not said".
const (
	NotSaid Said = iota
	Yes
	No
)

// String gives the word.
func (s Said) String() string { return [...]string{"not said", "yes", "no"}[s] }

// MeterKind is how the moisture meter works.
type MeterKind uint8

// The kinds of meters. The zero value is "not said".
const (
	MeterNotSaid MeterKind = iota
	PinMeter
	DielectricMeter
)

// String gives the trade's word.
func (m MeterKind) String() string { return [...]string{"not said", "pin", "dielectric"}[m] }

// FootageRule names a rule of board_footage; the rules are never mixed in one total.
type FootageRule uint8

// The rules. The zero value leaves the choice to the species: surface measure for hardwood, volume for softwood.
const (
	RuleBySpecies FootageRule = iota
	VolumeMeasure
	SurfaceMeasure
	SoftwoodNominal
)

// Paper is a paper size.
type Paper uint8

// The paper sizes. The zero value is Letter.
const (
	Letter Paper = iota
	A4
)

// SettingUsed is one setting as used, for the results and the appendix of a paper.
type SettingUsed struct {
	Name, Value string
	Place       finding.Place // zero when it is a default
	Source      source.Source
}

// Settings are the owner's figures for mill, meter and papers, with the defaults of this program where he gives none.
type Settings struct {
	MillName, MillAddress, MillContact string

	SawStep    units.Length // the saw is set in steps of this; default 1/16 in
	Kerf       units.Length // default 1/8 in
	SawSpread  units.Length // total sawing standard deviation; default 0.030 in
	PlanePer   units.Length // planing per face; default 1/16 in, 1/8 in for both faces
	EdgeCut    units.Length // jointing per edge; default 1/8 in, 1/4 in for both edges
	EndTrim    units.Length // cut off each end of a dry board before a piece is measured; default 1 in (our choice)
	ScantShare float64      // share of boards allowed to come out scant; default 0.05

	Meter          MeterKind
	MeterSpecies   Said     // was the meter already set to the species?
	MeterWoodTemp  Said     // does the meter itself correct for wood temperature?
	LowestMark     units.MC // the lowest number the meter shows; default 7: meters begin at 6, 6.5 or 7, and this claims the least
	HighestMark    units.MC // the highest number; default 25: a number above it is an indication only
	AllowedShare   float64  // share of boards of a load that may be over the limit; default 0.10
	MostHeldBack   float64  // more than this share held back is "not dry yet"; default 0.25
	Limit          units.MC // highest MC for every load that names none; 0 when not given
	Target         units.MC // MC to dry to, for the cut sheet; 0: by use
	Rule           FootageRule
	System         units.System
	Paper          Paper
	TagWidth       units.Length // default 4 in
	TagHeight      units.Length // default 2 in
	Region         string       // as written; default "most of the United States"
	Aliases        map[string]string
	Used           []SettingUsed // every setting as used, in the order of the table of settings
	MeterCalibrate string        // what the owner says of the meter's calibration, as written

	WasteRule target.WasteRule // how a share of waste is counted; default: added to what is needed

	MeterName     string            // the meter the other settings speak of, when several are used
	StoreTemp     units.Temperature // mean air of the place boards are kept in after the kiln
	StoreHumidity units.Humidity
	Stored        string // how boards are kept there, as written: wrapped, closed shed, stickered ...

	Kiln stack.Kiln // what a load is laid in; its inside measures are 0 when not given
	// What the trailer may carry, weigh with its load, and weighs alone; 0 when not given.
	TrailerLoad, TrailerGross, TrailerEmpty units.Mass

	Currency     string      // as the owner writes it; empty when no price is given
	Prices       []WoodPrice // in the order given
	DryingCharge price.Price
	LogValue     price.Price // of a board foot of log
}

// WoodPrice is the owner's price of a wood, by its name in the species table.
type WoodPrice struct {
	Species string
	Price   price.Price
}

// PriceOf gives the owner's price of a wood.
func (s *Settings) PriceOf(species string) (price.Price, bool) {
	for _, p := range s.Prices {
		if p.Species == species {
			return p.Price, true
		}
	}
	return price.Price{}, false
}

// KilnSource names where the gaps, the sticker and the bolster come from that a workbook doesn't give.
func KilnSource() source.Source {
	return source.Source{Document: "sticker thickness, gaps and bolster height", Status: source.CommonPractice}
}

// Defaults returns the settings of a workbook that says nothing.
func Defaults() Settings {
	return Settings{
		SawStep: units.Fraction(1, 16), Kerf: units.Fraction(1, 8), SawSpread: units.Fraction(30, 1000),
		PlanePer: units.Fraction(1, 16), EdgeCut: units.Fraction(1, 8), EndTrim: units.Inch, ScantShare: 0.05,
		LowestMark: units.Percent(7), HighestMark: units.Percent(25), AllowedShare: 0.10, MostHeldBack: 0.25,
		TagWidth: 4 * units.Inch, TagHeight: 2 * units.Inch, Region: "most of the United States",
		Aliases: map[string]string{},
		Kiln: stack.Kiln{Bolster: 4 * units.Inch, Top: 6 * units.Inch, WallGap: 6 * units.Inch, EndGap: 3 * units.Inch,
			BoardGap: units.Fraction(1, 2), Sticker: units.Fraction(3, 4)},
	}
}
