package compute

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"drytally/compute/units"
)

// OneSetting is a group of wanted pieces of one wood whose settings lie within one step of the saw, so that one setting, the largest,
// could do for all.
type OneSetting struct {
	Species          string
	Pieces           []string // as their rows name them, in the order of their settings
	Thickness, Width units.Length
	OneThickness     bool    // their thicknesses are not the same yet
	OneWidth         bool    // their widths are not the same yet
	More             float64 // how much more wood the smallest of them then takes, as a share
	Says             Statement
}

// oneSettings finds settings no more than one step of the saw apart. All settings are whole steps, so these are neighbours on the
// scale: the sawyer would rather set it once. Thickness goes before width: a cant is sawn at one thickness, boards are edged later.
func (x *index) oneSettings() {
	bySpecies := map[string][]*SizeResult{}
	var order []string
	for i := range x.out.Sizes {
		s := &x.out.Sizes[i]
		if !s.Known {
			continue
		}
		name := s.Wanted.Species.Name
		if bySpecies[name] == nil {
			order = append(order, name)
		}
		bySpecies[name] = append(bySpecies[name], s)
	}
	for _, name := range order {
		thick := func(s *SizeResult) units.Length { return s.Thickness }
		wide := func(s *SizeResult) units.Length { return s.Width }
		for _, like := range withinStep(bySpecies[name], thick, x.job.Settings.SawStep) {
			apart := like[0].Thickness != like[len(like)-1].Thickness
			whole := false // one group of widths holds them all
			for _, both := range withinStep(like, wide, x.job.Settings.SawStep) {
				if both[0].Width == both[len(both)-1].Width || len(both) == 1 {
					continue
				}
				whole = whole || len(both) == len(like)
				x.sayOneSetting(name, both, apart && !sameThickness(both), true)
			}
			if apart && !whole {
				x.sayOneSetting(name, like, true, false)
			}
		}
	}
}

func sameThickness(all []*SizeResult) bool {
	return !slices.ContainsFunc(all, func(s *SizeResult) bool { return s.Thickness != all[0].Thickness })
}

// withinStep parts sizes, the largest first, into runs no longer than a step.
func withinStep(all []*SizeResult, of func(*SizeResult) units.Length, step units.Length) [][]*SizeResult {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b *SizeResult) int { return cmp.Compare(of(b), of(a)) })
	var out [][]*SizeResult
	for _, s := range sorted {
		if n := len(out); n > 0 && of(out[n-1][0])-of(s) <= step {
			out[n-1] = append(out[n-1], s)
			continue
		}
		out = append(out, []*SizeResult{s})
	}
	return out
}

func (x *index) sayOneSetting(species string, all []*SizeResult, thickness, width bool) {
	o := OneSetting{Species: species, OneThickness: thickness, OneWidth: width}
	var names []string
	for _, s := range all {
		o.Thickness, o.Width = max(o.Thickness, s.Thickness), max(o.Width, s.Width)
	}
	for _, s := range all {
		o.Pieces = append(o.Pieces, s.Wanted.Piece)
		names = append(names, fmt.Sprintf("%s (%s x %s)", s.Wanted.Piece, x.show(s.Thickness), x.show(s.Width)))
		more := 1.0
		if thickness {
			more *= float64(o.Thickness) / float64(s.Thickness)
		}
		if width {
			more *= float64(o.Width) / float64(s.Width)
		}
		o.More = max(o.More, more-1)
	}
	if !width {
		o.Width = 0
	}
	at := x.show(o.Thickness)
	if width {
		at += " x " + x.show(o.Width)
	}
	o.Says = stated("one-setting", "pieces", strings.Join(names, " and "), "at", at, "both", thickness && width, "width", width, "more", percent(o.More))
	x.out.OneSetting = append(x.out.OneSetting, o)
}
