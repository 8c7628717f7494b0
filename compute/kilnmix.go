package compute

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"drytally/compute/drying"
	"drytally/compute/footage"
	"drytally/compute/haul"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// apartDays is how many days apart boards may be sawn before the load counts as of mixed moisture: our choice.
const apartDays = 14

// apartSamples is how far the sample boards of a load may lie apart, in points, before it is said: our choice.
const apartSamples units.MC = 500

// apartThickness is how far thicknesses may lie apart before they count as mixed: boards of one setting scatter less. Our choice.
const apartThickness = units.Inch / 8

// mixed says with numbers what is mixed in one load: thickness, wood, days since the saw, moisture.
func (x *index) mixed(l *KilnLoad) {
	var in []*Cut
	for _, r := range l.Rows {
		if r.Placed > 0 {
			in = append(in, r.Cut)
		}
	}
	if len(in) == 0 {
		return
	}
	x.mixedThickness(l, in)
	x.mixedWoods(l, in)
	x.mixedDays(l, in)
	x.mixedSamples(l)
}

func (x *index) mixedThickness(l *KilnLoad, in []*Cut) {
	thin, thick := in[0].Thickness, in[0].Thickness
	for _, c := range in {
		thin, thick = min(thin, c.Thickness), max(thick, c.Thickness)
	}
	if thick-thin <= apartThickness {
		return
	}
	size := x.job.Settings.System.Size
	with := []any{"thin", size(thin), "thick", size(thick)}
	low, known := footage.Quarters(thin, footage.RoughGreen)
	high, also := footage.Quarters(thick, footage.RoughGreen)
	f1, from, ok1 := drying.TimeFactor(low.Nominal)
	f2, _, ok2 := drying.TimeFactor(high.Nominal)
	if known && also && ok1 && ok2 && f2 > f1 {
		a, _ := footage.QuartersName(low.Nominal)
		b, _ := footage.QuartersName(high.Nominal)
		x.cite(from)
		l.Warnings = append(l.Warnings, stated("kiln-mixed-thickness", append(with, "thinname", a, "thickname", b, "factor", fmt.Sprintf("%.1f", f2/f1), "source", from)...))
		return
	}
	l.Warnings = append(l.Warnings, stated("kiln-mixed-thickness-unknown", append(with, "times", fmt.Sprintf("%.2f", float64(thick)/float64(thin)))...))
}

// mixedWoods warns of woods in one load that dry unlike: by their safe daily loss and by how wet they are green.
func (x *index) mixedWoods(l *KilnLoad, in []*Cut) {
	var woods []wood.Species
	for _, c := range in {
		if c.Species.Name != "" && !slices.ContainsFunc(woods, func(w wood.Species) bool { return w.Name == c.Species.Name }) {
			woods = append(woods, c.Species)
		}
	}
	if len(woods) < 2 {
		return
	}
	var names, rates, greens []string
	var slow, fast drying.SafeRate
	var dry, wet units.MC
	for _, w := range woods {
		names = append(names, w.Name)
		rate := "none seen"
		if safe, ok := drying.Safe(tableName(w.Name), units.Inch); ok {
			rate = safe.PerDay.String()
			if slow.PerDay == 0 || safe.PerDay < slow.PerDay {
				slow = safe
			}
			if safe.PerDay > fast.PerDay {
				fast = safe
			}
			x.cite(safe.Source)
		}
		rates = append(rates, w.Name+" "+rate)
		green := "not known"
		if mc := haul.GreenMean(w); mc != 0 {
			green = mc.String() + " %"
			if dry == 0 || mc < dry {
				dry = mc
			}
			wet = max(wet, mc)
			x.cite(w.GreenMeanSource)
			x.cite(w.GreenSource)
		}
		greens = append(greens, w.Name+" "+green)
	}
	factor := ""
	if fast.PerDay > slow.PerDay {
		factor = fmt.Sprintf("%.1f", fast.PerDay.Percent()/slow.PerDay.Percent())
	}
	apart := ""
	if wet > dry {
		apart = (wet - dry).String()
	}
	l.Warnings = append(l.Warnings, stated("kiln-mixed-woods", "woods", strings.Join(names, ", "), "rates", strings.Join(rates, ", "), "factor", factor,
		"slow", slow.Row, "greens", strings.Join(greens, ", "), "apart", apart))
}

// mixedDays warns of boards in one load that were sawn far apart.
func (x *index) mixedDays(l *KilnLoad, in []*Cut) {
	var first, last time.Time
	none := 0
	for _, c := range in {
		switch {
		case c.Date.IsZero():
			none++
		case first.IsZero() || c.Date.Before(first):
			first = c.Date
		}
		if c.Date.After(last) {
			last = c.Date
		}
	}
	if days := int(day(last).Sub(day(first)).Hours() / 24); !first.IsZero() && days >= apartDays {
		l.Warnings = append(l.Warnings, stated("kiln-mixed-days", "first", dateOr(first), "last", dateOr(last), "days", days))
	}
	if none > 0 && len(in) > 1 {
		l.Warnings = append(l.Warnings, stated("kiln-no-days", "n", none))
	}
}

// mixedSamples holds the sample boards of a load against each other, on their latest weighings.
func (x *index) mixedSamples(l *KilnLoad) {
	if l.Load == "" {
		return
	}
	var low, high drying.Point
	var dry, wet string
	for i, s := range x.samplesOf(key(l.Load)) {
		p := s.lastPoint()
		if i == 0 || p.MC < low.MC {
			low, dry = p, s.id
		}
		if i == 0 || p.MC > high.MC {
			high, wet = p, s.id
		}
	}
	if high.MC.Tenth()-low.MC.Tenth() > apartSamples {
		l.Warnings = append(l.Warnings, stated("kiln-mixed-samples", "dry", dry, "low", low.MC.Tenth(), "wet", wet, "high", high.MC.Tenth(), "points", high.MC.Tenth()-low.MC.Tenth()))
	}
}
