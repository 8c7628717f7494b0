package bind

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/price"
	"drytally/compute/source"
	"drytally/compute/target"
	"drytally/compute/units"
)

// Setting is one row of the settings: its names, what its value is, where it goes, and how it is written back.
type Setting struct {
	Name     string
	Headings []string
	What     quantity
	Means    string
	put      func(*compute.Settings, value) error
	show     func(*compute.Settings) string
	money    func(*compute.Settings) *price.Price // where an amount of money goes; put is nil then
	// when says whether the setting is listed when it was not given; nil: always. A default that is not used is not listed.
	when   func(*compute.Settings) bool
	status source.Status // of the default; 0: OurChoice
	// several: it may be given more than once, and what was given comes together.
	several bool
}

// SettingRows holds every setting, in the order they are printed.
var SettingRows = []Setting{
	{Name: "mill name", What: aText, Means: "printed on every paper", Headings: []string{"mill name", "mill", "name", "sawmill", "business", "business name", "company", "yard", "our name"},
		put: func(s *compute.Settings, v value) error { s.MillName = v.text; return nil }, show: func(s *compute.Settings) string { return s.MillName }},
	{Name: "mill address", What: aText, Means: "printed on every paper", Headings: []string{"mill address", "address", "where we are", "place", "street", "town", "location"},
		put: func(s *compute.Settings, v value) error { s.MillAddress = v.text; return nil }, show: func(s *compute.Settings) string { return s.MillAddress }},
	{Name: "mill contact", What: aText, several: true, Means: "telephone or mail", Headings: []string{"mill contact", "contact", "phone", "telephone", "mail", "email", "e mail", "call", "reach us", "tel"},
		put: func(s *compute.Settings, v value) error {
			if s.MillContact != "" {
				s.MillContact += ", "
			}
			s.MillContact += v.text
			return nil
		}, show: func(s *compute.Settings) string { return s.MillContact }},
	{Name: "units", What: aText, Means: "inches or metric: what a bare number is", Headings: []string{"units", "measure", "measures", "system", "measured in", "sizes in", "unit", "we measure in"},
		put: func(s *compute.Settings, v value) error {
			u, ok := systemOf(v.text)
			if !ok {
				return fmt.Errorf("%q is not inches or metric", v.text)
			}
			s.System = u
			return nil
		}, show: func(s *compute.Settings) string { return [...]string{"inches and feet", "metric"}[s.System] }},
	{Name: "paper", What: aText, Means: "Letter or A4", Headings: []string{"paper", "paper size", "print on", "page size", "page"},
		put: func(s *compute.Settings, v value) error {
			switch w, _ := headingWords(v.text); w {
			case "letter", "us letter", "legal letter":
				s.Paper = compute.Letter
			case "a4":
				s.Paper = compute.A4
			default:
				return fmt.Errorf("%q is not Letter or A4", v.text)
			}
			return nil
		}, show: func(s *compute.Settings) string { return [...]string{"Letter", "A4"}[s.Paper] }},
	{Name: "saw step", What: aLength, Means: "the saw is set in steps of this", Headings: []string{"saw step", "step", "setting step", "saw scale", "scale step", "saw setting step", "sets in steps of", "setworks step", "saw sets in"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.SawStep, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.SawStep) }},
	{Name: "kerf", What: aLength, Means: "width of the saw cut", Headings: []string{"kerf", "saw kerf", "blade kerf", "cut width", "blade"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.Kerf, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kerf) }},
	{Name: "saw spread", What: aLength, Means: "total sawing standard deviation", Headings: []string{"saw spread", "sawing spread", "spread", "saw variation", "sawing variation", "sawing standard deviation", "saw scatter"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.SawSpread, v) }, show: func(s *compute.Settings) string { return s.System.Spread(s.SawSpread) }},
	{Name: "planing per face", What: aLength, Means: "least cut of the planer on each face", Headings: []string{"planing per face", "planing", "planer cut", "plane off per face", "planing each face", "skim", "planing allowance per face", "planer takes per face"},
		put: func(s *compute.Settings, v value) error { return setLengthOrNone(&s.PlanePer, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.PlanePer) }},
	{Name: "edge cut", What: aLength, Means: "jointing on each edge", Headings: []string{"edge cut", "edging", "jointing per edge", "jointing", "edge allowance", "straightening per edge", "jointer per edge", "each edge"},
		put: func(s *compute.Settings, v value) error { return setLengthOrNone(&s.EdgeCut, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.EdgeCut) }},
	{Name: "end trim", What: aLength, Means: "cut off each end of a dry board before a piece is measured", Headings: []string{"end trim", "end trimming", "trim", "trim each end", "trim per end", "ends trimmed", "end cut", "end loss"},
		put: func(s *compute.Settings, v value) error { return setLengthOrNone(&s.EndTrim, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.EndTrim) }},
	{Name: "scant share", What: aShare, Means: "share of boards that may come out scant", Headings: []string{"scant share", "scant", "scant boards", "undersize share", "may be scant", "scant allowed"},
		put: func(s *compute.Settings, v value) error { return setShare(&s.ScantShare, v, 0.001, 0.5) }, show: func(s *compute.Settings) string { return percent(s.ScantShare) }},
	{Name: "target moisture", What: anMC, Means: "moisture content to dry to, when it isn't the use's own", Headings: []string{"target moisture", "target", "target mc", "dry to", "target moisture content", "aim", "dried to"},
		put: func(s *compute.Settings, v value) error { s.Target = v.mc; return nil }, show: func(s *compute.Settings) string { return orByUse(s.Target) }},
	{Name: "waste counts", What: aText, Means: "added to what is needed, or taken out of what is sawn", Headings: []string{"waste counts", "waste rule", "waste is", "waste counted", "how waste counts", "count waste"},
		put: func(s *compute.Settings, v value) error {
			w := strings.ToLower(v.text)
			switch {
			case strings.Contains(w, "add"):
				s.WasteRule = target.AddWaste
			case strings.Contains(w, "taken") || strings.Contains(w, "take") || strings.Contains(w, "out of") || strings.Contains(w, "lost"):
				s.WasteRule = target.LoseWaste
			default:
				return fmt.Errorf("%q is not added or taken out", v.text)
			}
			return nil
		}, show: func(s *compute.Settings) string { return s.WasteRule.String() }},
	{Name: "meter kind", What: aText, Means: "pin or dielectric", Headings: []string{"meter kind", "meter", "meter type", "kind of meter", "moisture meter", "type of meter"},
		put: func(s *compute.Settings, v value) error {
			w := strings.ToLower(v.text)
			switch {
			case strings.Contains(w, "pinless") || strings.Contains(w, "dielectric") || strings.Contains(w, "plate"):
				s.Meter = compute.DielectricMeter
			case strings.Contains(w, "pin") || strings.Contains(w, "resistance"):
				s.Meter = compute.PinMeter
			default:
				return fmt.Errorf("%q is not pin or dielectric", v.text)
			}
			return nil
		}, show: func(s *compute.Settings) string { return s.Meter.String() }},
	{Name: "meter set to species", What: aYesNo, Means: "yes when the meter itself corrects for the species", Headings: []string{"meter set to species", "set to species", "meter species", "species set on meter", "species correction on meter", "meter on species", "species dialed in",
		"meter already set to species", "species set", "is meter set to species", "meter set to wood", "meter set for species"},
		put: func(s *compute.Settings, v value) error { s.MeterSpecies = v.said; return nil }, show: func(s *compute.Settings) string { return s.MeterSpecies.String() }},
	{Name: "meter corrects for temperature", What: aYesNo, Means: "yes when the meter itself corrects for wood temperature", Headings: []string{"meter corrects for temperature", "meter temperature correction", "temperature correction on meter", "meter temp correction",
		"meter corrects temperature", "meter set to temperature", "temperature corrected by meter", "meter corrects for wood temperature", "meter corrects for wood temp", "corrects for temperature",
		"meter corrects wood temperature", "wood temperature set on meter", "meter does temperature", "temperature set on meter", "meter temperature set"},
		put: func(s *compute.Settings, v value) error { s.MeterWoodTemp = v.said; return nil }, show: func(s *compute.Settings) string { return s.MeterWoodTemp.String() }},
	{Name: "lowest mark", What: anMC, Means: "lowest number the meter shows", Headings: []string{"lowest mark", "meter low", "lowest reading", "meter lowest", "low mark", "meter lowest mark", "lo means", "lo is", "meter low mark", "lo means under", "lowest meter mark"},
		put: func(s *compute.Settings, v value) error { s.LowestMark = v.mc; return nil }, show: func(s *compute.Settings) string { return s.LowestMark.String() + " %" }},
	{Name: "highest mark", What: anMC, Means: "highest number the meter shows", Headings: []string{"highest mark", "meter high", "highest reading", "meter highest", "high mark", "meter highest mark", "ol means", "meter high mark", "ol is", "ol means over", "highest meter mark"},
		put: func(s *compute.Settings, v value) error { s.HighestMark = v.mc; return nil }, show: func(s *compute.Settings) string { return s.HighestMark.String() + " %" }},
	{Name: "meter calibration", What: aText, Means: "how and when the meter was checked", Headings: []string{"meter calibration", "calibration", "meter checked", "meter check", "calibrated", "checked", "meter last checked"},
		put: func(s *compute.Settings, v value) error { s.MeterCalibrate = v.text; return nil }, show: func(s *compute.Settings) string { return s.MeterCalibrate }},
	{Name: "limit", What: anMC, Means: "highest moisture content for loads that name none", Headings: []string{"limit", "mc limit", "highest mc", "max mc", "upper limit"},
		put: func(s *compute.Settings, v value) error { s.Limit = v.mc; return nil }, show: func(s *compute.Settings) string { return orByUse(s.Limit) }},
	{Name: "allowed share", What: aShare, Means: "share of the boards of a load that may be over the limit", Headings: []string{"allowed share", "share over", "may be over", "allowed over", "boards allowed over", "share allowed over", "how many may be over", "allowed share over limit", "over allowed"},
		put: func(s *compute.Settings, v value) error { return setShare(&s.AllowedShare, v, 0.001, 0.5) }, show: func(s *compute.Settings) string { return percent(s.AllowedShare) }},
	{Name: "most held back", What: aShare, Means: "with more than this share over the limit a load is not dry yet", Headings: []string{"most held back", "held back", "most to hold back", "hold back at most"},
		put: func(s *compute.Settings, v value) error { return setShare(&s.MostHeldBack, v, 0, 0.9) }, show: func(s *compute.Settings) string { return percent(s.MostHeldBack) }},
	{Name: "footage rule", What: aText, Means: "surface measure, volume, or softwood nominal", Headings: []string{"footage rule", "footage", "board foot rule", "board feet by", "tally rule", "footage by", "rule", "board measure", "scale by"},
		put: func(s *compute.Settings, v value) error {
			w := strings.ToLower(v.text)
			switch {
			case strings.Contains(w, "species") || strings.Contains(w, "surface") && strings.Contains(w, "volume"):
				s.Rule = compute.RuleBySpecies
			case strings.Contains(w, "surface"):
				s.Rule = compute.SurfaceMeasure
			case strings.Contains(w, "nominal"):
				s.Rule = compute.SoftwoodNominal
			case strings.Contains(w, "volume") || strings.Contains(w, "exact") || strings.Contains(w, "actual"):
				s.Rule = compute.VolumeMeasure
			default:
				return fmt.Errorf("%q is not surface measure, volume or softwood nominal", v.text)
			}
			return nil
		}, show: func(s *compute.Settings) string {
			return [...]string{"by species: surface measure for hardwood, volume for softwood", "volume", "surface measure", "softwood nominal"}[s.Rule]
		}},
	{Name: "region", What: aText, Means: "where the wood will be used, as in the handbook's table", Headings: []string{"region", "climate", "area", "where used", "service region", "region of use"},
		put: func(s *compute.Settings, v value) error { s.Region = v.text; return nil }, show: func(s *compute.Settings) string { return s.Region }},
	{Name: "tag width", What: aLength, Means: "of one tag", Headings: []string{"tag width", "tags wide", "tag w"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.TagWidth, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.TagWidth) }},
	{Name: "tag height", What: aLength, Means: "of one tag", Headings: []string{"tag height", "tags high", "tag h"},
		put: func(s *compute.Settings, v value) error { return setLength(&s.TagHeight, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.TagHeight) }},
	{Name: "meter name", What: aText, Means: "which meter these settings are for, when several are used", Headings: []string{"meter name", "name of meter", "main meter", "our meter", "meter these are for"},
		put: func(s *compute.Settings, v value) error { s.MeterName = v.text; return nil }, show: func(s *compute.Settings) string { return s.MeterName }},
	{Name: "store temperature", What: aTemperature, Means: "mean air of the place boards are kept in after the kiln", Headings: []string{"store temperature", "store temp", "shed temperature", "shed temp", "shop temperature", "shop temp", "storage temperature", "storage temp"},
		put: func(s *compute.Settings, v value) error { s.StoreTemp = v.temp; return nil }, show: func(s *compute.Settings) string {
			if !s.StoreTemp.Known() {
				return ""
			}
			return s.System.Temperature(s.StoreTemp)
		}},
	{Name: "store humidity", What: aHumidity, Means: "mean relative humidity of the place boards are kept in after the kiln", Headings: []string{"store humidity", "store rh", "shed humidity", "shed rh", "shop humidity", "shop rh", "storage humidity", "storage rh", "store relative humidity"},
		put: func(s *compute.Settings, v value) error { s.StoreHumidity = v.rh; return nil }, show: func(s *compute.Settings) string {
			if !s.StoreHumidity.Known() {
				return ""
			}
			return strconv.FormatFloat(s.StoreHumidity.Percent(), 'f', -1, 64) + " %"
		}},
	{Name: "boards are kept", What: aText, Means: "after the kiln: wrapped, closed shed, open shed, or stickered", Headings: []string{"boards are kept", "kept", "stored", "stored as", "boards are stored", "storage", "store", "after the kiln", "how stored"},
		put: func(s *compute.Settings, v value) error { s.Stored = v.text; return nil }, show: func(s *compute.Settings) string { return s.Stored }},
	{Name: "alias", What: aText, several: true, Means: "your own name for a wood: WP = eastern white pine", Headings: []string{"alias", "aliases", "short for", "short name", "species alias", "our names", "short names", "abbreviation", "abbreviations", "alias for species"},
		put: nil, show: func(s *compute.Settings) string {
			var all []string
			for _, k := range slices.Sorted(maps.Keys(s.Aliases)) {
				all = append(all, k+" = "+s.Aliases[k])
			}
			return strings.Join(all, "; ")
		}},
	{Name: "kiln length", What: aSpan, Means: "inside; with width and height it is worked out how the next boards are loaded", Headings: []string{"kiln length", "kiln inside length", "inside length of kiln", "kiln inside long", "kiln long"},
		when: never, put: func(s *compute.Settings, v value) error { return setLength(&s.Kiln.Length, v) }, show: func(s *compute.Settings) string { return runOrNone(s, s.Kiln.Length) }},
	{Name: "kiln width", What: aSpan, Means: "inside, across the boards", Headings: []string{"kiln width", "kiln inside width", "inside width of kiln", "kiln inside wide", "kiln depth", "kiln inside depth", "kiln wide"},
		when: never, put: func(s *compute.Settings, v value) error { return setLength(&s.Kiln.Width, v) }, show: func(s *compute.Settings) string { return runOrNone(s, s.Kiln.Width) }},
	{Name: "kiln height", What: aSpan, Means: "inside, to the lowest thing above the stack", Headings: []string{"kiln height", "kiln inside height", "inside height of kiln", "kiln inside high", "kiln high"},
		when: never, put: func(s *compute.Settings, v value) error { return setLength(&s.Kiln.Height, v) }, show: func(s *compute.Settings) string { return runOrNone(s, s.Kiln.Height) }},
	{Name: "sticker thickness", What: aLength, Means: "of the stickers between the courses", Headings: []string{"sticker thickness", "stickers", "sticker", "stickers are", "sticker size", "sticker thick"},
		when: withKiln, status: source.CommonPractice, put: func(s *compute.Settings, v value) error { return setLength(&s.Kiln.Sticker, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kiln.Sticker) }},
	{Name: "sticker spacing", What: aLength, Means: "most room between two stickers along the boards", Headings: []string{"sticker spacing", "stickers apart", "space between stickers", "between stickers", "stickers every", "sticker distance"},
		when: withKiln, status: source.CommonPractice, put: func(s *compute.Settings, v value) error { return setLength(&s.Kiln.Spacing, v) }, show: func(s *compute.Settings) string {
			if s.Kiln.Spacing == 0 {
				return "by thickness"
			}
			return s.System.Size(s.Kiln.Spacing)
		}},
	{Name: "gap between boards", What: aLength, Means: "least room between two boards of a course", Headings: []string{"gap between boards", "board gap", "between boards", "space between boards", "boards apart"},
		when: withKiln, status: source.CommonPractice, put: func(s *compute.Settings, v value) error { return setGap(&s.Kiln.BoardGap, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kiln.BoardGap) }},
	{Name: "gap at the walls", What: aLength, Means: "least room from the stack to each side wall", Headings: []string{"gap at the walls", "wall gap", "gap at walls", "gap to the walls", "gap at the wall", "room at the walls"},
		when: withKiln, status: source.CommonPractice, put: func(s *compute.Settings, v value) error { return setGap(&s.Kiln.WallGap, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kiln.WallGap) }},
	{Name: "gap at the ends", What: aLength, Means: "least room from the stack to each end of the kiln, and between two stacks", Headings: []string{"gap at the ends", "end gap", "gap at ends", "room at the ends"},
		when: withKiln, status: source.CommonPractice, put: func(s *compute.Settings, v value) error { return setGap(&s.Kiln.EndGap, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kiln.EndGap) }},
	{Name: "bolster height", What: aLength, Means: "from the kiln's floor to the first course", Headings: []string{"bolster height", "bolsters", "bolster", "foundation height", "bunk height", "bearer height", "bearers"},
		when: withKiln, status: source.CommonPractice, put: func(s *compute.Settings, v value) error { return setGap(&s.Kiln.Bolster, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kiln.Bolster) }},
	{Name: "room above the stack", What: aLength, Means: "kept free for top weight and baffle", Headings: []string{"room above the stack", "room above stack", "top room", "room for top weight", "room for weight and baffle", "above the stack"},
		when: withKiln, status: source.CommonPractice, put: func(s *compute.Settings, v value) error { return setGap(&s.Kiln.Top, v) }, show: func(s *compute.Settings) string { return s.System.Size(s.Kiln.Top) }},
	{Name: "trailer rated load", What: aBurden, Means: "what the trailer may carry; a bare number is in pounds, or kilograms in metric", Headings: []string{"trailer rated load", "trailer load", "rated load", "trailer rating", "payload", "trailer payload", "trailer carries", "trailer may carry"},
		when: never, put: func(s *compute.Settings, v value) error { return setBurden(&s.TrailerLoad, v) }, show: func(s *compute.Settings) string { return massOrNone(s, s.TrailerLoad) }},
	{Name: "trailer gross rating", What: aBurden, Means: "what trailer and load may weigh together", Headings: []string{"trailer gross rating", "trailer gross", "gross rating", "trailer gross weight", "trailer gross weight rating"},
		when: never, put: func(s *compute.Settings, v value) error { return setBurden(&s.TrailerGross, v) }, show: func(s *compute.Settings) string { return massOrNone(s, s.TrailerGross) }},
	{Name: "trailer empty weight", What: aBurden, Means: "of the trailer alone", Headings: []string{"trailer empty weight", "trailer empty", "trailer weighs", "empty trailer", "trailer own weight", "trailer weight"},
		when: never, put: func(s *compute.Settings, v value) error { return setBurden(&s.TrailerEmpty, v) }, show: func(s *compute.Settings) string { return massOrNone(s, s.TrailerEmpty) }},
	{Name: "currency", What: aText, Means: "of all prices, as you write it", Headings: []string{"currency", "money", "money in", "prices in", "prices are in"},
		when: never, put: func(s *compute.Settings, v value) error { s.Currency = v.text; return nil }, show: func(s *compute.Settings) string { return s.Currency }},
	{Name: "price", What: aText, several: true, Means: "of a wood: white ash = 4.50 USD per board foot", Headings: []string{"price", "prices", "price list", "wood prices"},
		when: never, put: nil, show: func(s *compute.Settings) string {
			var all []string
			for _, p := range s.Prices {
				all = append(all, p.Species+" = "+p.Price.Write(s.Currency))
			}
			return strings.Join(all, "; ")
		}},
	{Name: "drying charge", What: aPrice, Means: "what is asked for drying: 0.35 USD per board foot", Headings: []string{"drying charge", "kiln charge", "charge for drying", "price of drying", "drying price", "drying fee"},
		when: never, money: func(s *compute.Settings) *price.Price { return &s.DryingCharge }, show: func(s *compute.Settings) string { return moneyOrNone(s, s.DryingCharge) }},
	{Name: "log value", What: aPrice, Means: "what a board foot of log is worth to you", Headings: []string{"log value", "log price", "log cost", "price of logs", "logs cost", "value of a board foot of log"},
		when: never, money: func(s *compute.Settings) *price.Price { return &s.LogValue }, show: func(s *compute.Settings) string { return moneyOrNone(s, s.LogValue) }},
}

func never(*compute.Settings) bool { return false }

func withKiln(s *compute.Settings) bool { return s.Kiln.Given() }

func runOrNone(s *compute.Settings, l units.Length) string {
	if l == 0 {
		return ""
	}
	return s.System.Run(l)
}

func massOrNone(s *compute.Settings, m units.Mass) string {
	if m == 0 {
		return ""
	}
	return s.System.Mass(m)
}

func moneyOrNone(s *compute.Settings, p price.Price) string {
	if !p.Given() {
		return ""
	}
	return p.Write(s.Currency)
}

// widestGap is the largest gap of a kiln's stack that is no slip.
const widestGap = 6 * units.Foot

// setGap takes a length that may be 0.
func setGap(l *units.Length, v value) error {
	if len(v.lengths) == 0 || v.lengths[0] < 0 || v.lengths[0] > widestGap {
		return fmt.Errorf("the length is not 0 to 6 ft")
	}
	*l = v.lengths[0]
	return nil
}

// leastBurden is the lightest trailer or load of a trailer that is no slip of the unit.
const leastBurden = 40 * units.Kilogram

func setBurden(m *units.Mass, v value) error {
	if v.mass < leastBurden {
		return fmt.Errorf("the weight is under 40 kg (88 lb)")
	}
	*m = v.mass
	return nil
}

func setLength(l *units.Length, v value) error {
	if len(v.lengths) == 0 || v.lengths[0] <= 0 {
		return fmt.Errorf("the length is not more than zero")
	}
	*l = v.lengths[0]
	return nil
}

// setLengthOrNone takes a length of which none is a sound answer: the cell's reader lets nothing else through as 0.
func setLengthOrNone(l *units.Length, v value) error {
	if len(v.lengths) == 0 || v.lengths[0] < 0 {
		return fmt.Errorf("the length is less than zero")
	}
	*l = v.lengths[0]
	return nil
}

func setShare(s *float64, v value, low, high float64) error {
	if v.number < low || v.number > high {
		return fmt.Errorf("a share of %s is outside %s to %s", percent(v.number), percent(low), percent(high))
	}
	*s = v.number
	return nil
}

func percent(x float64) string { return strconv.FormatFloat(x*100, 'f', -1, 64) + " %" }

func orByUse(m units.MC) string {
	if m == 0 {
		return "by use"
	}
	return m.String() + " %"
}
