package bind

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
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
}

// SettingRows holds every setting, in the order they are printed.
var SettingRows = []Setting{
	{Name: "mill name", What: aText, Means: "printed on every paper", Headings: []string{"mill name", "mill", "name", "sawmill", "business", "business name", "company", "yard", "our name"},
		put: func(s *compute.Settings, v value) error { s.MillName = v.text; return nil }, show: func(s *compute.Settings) string { return s.MillName }},
	{Name: "mill address", What: aText, Means: "printed on every paper", Headings: []string{"mill address", "address", "where we are", "place", "street", "town", "location"},
		put: func(s *compute.Settings, v value) error { s.MillAddress = v.text; return nil }, show: func(s *compute.Settings) string { return s.MillAddress }},
	{Name: "mill contact", What: aText, Means: "telephone or mail", Headings: []string{"mill contact", "contact", "phone", "telephone", "mail", "email", "e mail", "call", "reach us", "tel"},
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
		put: func(s *compute.Settings, v value) error { return setLength(&s.SawSpread, v) }, show: func(s *compute.Settings) string { return thousandths(s, s.SawSpread) }},
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
	{Name: "alias", What: aText, Means: "your own name for a wood: WP = eastern white pine", Headings: []string{"alias", "aliases", "short for", "short name", "species alias", "our names", "short names", "abbreviation", "abbreviations", "alias for species"},
		put: nil, show: func(s *compute.Settings) string {
			var all []string
			for _, k := range slices.Sorted(maps.Keys(s.Aliases)) {
				all = append(all, k+" = "+s.Aliases[k])
			}
			return strings.Join(all, "; ")
		}},
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

func thousandths(s *compute.Settings, l units.Length) string {
	if s.System == units.Metric {
		return strconv.FormatFloat(l.Millimetres(), 'f', 2, 64) + " mm"
	}
	return strconv.FormatFloat(l.Inches(), 'f', 3, 64) + `"`
}
