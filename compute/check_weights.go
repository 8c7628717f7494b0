package compute

import (
	"slices"
	"strings"

	"drytally/compute/drying"
	"drytally/compute/finding"
	"drytally/compute/units"
)

// wettestWood is a moisture content, in percent, above that of any wood: the greatest green one of the species table is 249 %,
// western redcedar sapwood (Wood Handbook, FPL-GTR-190 (2010), Table 4-1; seen).
const wettestWood = 300

// checkSections: a section that weighs more dry than wet, or many times as much wet as dry.
func checkSections(x *index) {
	for _, w := range x.job.Weights {
		if w.Section() && w.Ovendry >= w.Wet {
			hint := "weigh the section again"
			if mc, err := drying.SectionMC(w.Ovendry, w.Wet); err == nil && w.Ovendry > w.Wet {
				hint = "were the two swapped? " + grams(w.Ovendry) + " wet and " + grams(w.Wet) + " ovendry would be " + mc.String() + " %"
			}
			x.say("J009", w.Origin.At("section ovendry"), grams(w.Ovendry), hint,
				"a section of sample %q weighs %s ovendry and %s wet", w.Sample, grams(w.Ovendry), grams(w.Wet))
			continue
		}
		if mc, err := drying.SectionMC(w.Wet, w.Ovendry); err == nil && w.Section() && mc > units.Percent(wettestWood) {
			x.say("J042", w.Origin.At("section wet"), grams(w.Wet), "check both weights for a lost decimal point or digit",
				"a section of sample %q, %s wet and %s ovendry, would hold %s %% moisture, more than any wood", w.Sample, grams(w.Wet), grams(w.Ovendry), mc)
		}
	}
}

// gainShare is how much a sample board may gain between two weighings before it is said: a scale is no better.
const gainShare = 0.002

// checkGain: a sample board that gained weight.
func checkGain(x *index) {
	last := map[string]Weight{}
	stray := map[finding.Place]bool{} // said by a check of their own
	for _, s := range strayWeights(x.job) {
		stray[s.weight.Origin.At("weight")] = true
	}
	for _, w := range byDate(x.job.Weights) {
		if w.Weight == 0 || stray[w.Origin.At("weight")] {
			continue
		}
		k := key(w.Load) + "|" + key(w.Sample)
		if old, ok := last[k]; ok && !w.Date.IsZero() && float64(w.Weight) > float64(old.Weight)*(1+gainShare) {
			x.say("J014", w.Origin.At("weight"), grams(w.Weight), "check the two weights", "sample %q weighs %s, more than the %s of %s before it", w.Sample, grams(w.Weight), grams(old.Weight), old.Origin.At("weight").Cell())
		}
		last[k] = w
	}
}

// byDate gives the weighings in order of date; those without a date keep their place at the front.
func byDate(all []Weight) []Weight {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b Weight) int { return a.Date.Compare(b.Date) })
	return sorted
}

// checkSamplesWithoutSection: weighings of a sample whose ovendry weight can't be computed.
func checkSamplesWithoutSection(x *index) {
	has := map[string]bool{}
	for _, w := range x.job.Weights {
		if w.Section() {
			has[key(w.Sample)] = true
		}
	}
	said := map[string]bool{}
	for _, w := range x.job.Weights {
		k := key(w.Sample)
		if w.Weight != 0 && !has[k] && !said[k] {
			said[k] = true
			x.say("J019", w.Origin.At("sample"), w.Sample, "weigh a section wet and ovendry, and write both weights with this sample's number", "sample %q has weighings but no section weights", w.Sample)
		}
	}
}

// A weighing is taken for one with a lost point or digit when it is lostWeight times the median of its sample's weighings or
// more, or that part of it or less: no board loses four fifths of its green weight by drying, since that is 400 %.
const lostWeight = 5.0

// strayWeight is a weighing far from the others of its sample.
type strayWeight struct {
	weight *Weight
	median units.Mass
}

// strayWeights finds 460 g among 4600s, where a sample was weighed three times or more.
func strayWeights(job *Job) []strayWeight {
	byKey := map[string][]*Weight{}
	for i := range job.Weights {
		if w := &job.Weights[i]; w.Weight != 0 {
			byKey[sampleKey(w)] = append(byKey[sampleKey(w)], w)
		}
	}
	var stray []strayWeight
	for _, k := range sortedKeys(byKey) {
		ws := byKey[k]
		if len(ws) < 3 {
			continue
		}
		all := make([]units.Mass, len(ws))
		for i, w := range ws {
			all[i] = w.Weight
		}
		slices.Sort(all)
		median := all[len(all)/2]
		for _, w := range ws {
			if times := float64(w.Weight) / float64(median); times >= lostWeight || times <= 1/lostWeight {
				stray = append(stray, strayWeight{w, median})
			}
		}
	}
	return stray
}

// checkLostWeight: a weighing with a lost point or digit.
func checkLostWeight(x *index) {
	for _, s := range strayWeights(x.job) {
		w := s.weight
		meant := w.Weight * 10
		if w.Weight > s.median {
			meant = w.Weight / 10
		}
		hint := "weigh it again, or correct it"
		if t := float64(meant) / float64(s.median); t > 0.5 && t < 2 {
			hint = "is it " + grams(meant) + "? A decimal point or a digit may have been lost"
		}
		x.say("J042", w.Origin.At("weight"), grams(w.Weight), hint, "sample %q weighs %s here and around %s otherwise", w.Sample, grams(w.Weight), grams(s.median))
	}
}

func sampleKey(w *Weight) string { return key(w.Load) + "|" + key(w.Sample) }

// sameDayShare is how far two weighings of one board on one day may lie apart: the fastest drying loses no more in a day
// before it is two boards (our choice).
const sameDayShare = 0.10

// checkSampleTwice: one sample number with two quite different weights on one day.
func checkSampleTwice(x *index) {
	first := map[string]*Weight{}
	for i := range x.job.Weights {
		w := &x.job.Weights[i]
		if w.Weight == 0 || w.Date.IsZero() {
			continue
		}
		k := strings.Join([]string{sampleKey(w), day(w.Date).String()}, "|")
		old, ok := first[k]
		if !ok {
			first[k] = w
			continue
		}
		apart := float64(w.Weight-old.Weight) / float64(max(w.Weight, old.Weight))
		if apart > sameDayShare || apart < -sameDayShare {
			x.say("J043", w.Origin.At("sample"), w.Sample, "give one of the boards another number, or correct date or weight",
				"sample %q weighs %s here and %s in %s on the same day", w.Sample, grams(w.Weight), grams(old.Weight), old.Origin.At("weight").Cell())
		}
	}
}

// grams writes a small mass.
func grams(m units.Mass) string { return trim(m.Grams()) + " g" }
