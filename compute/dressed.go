package compute

import (
	"drytally/compute/footage"
	"drytally/compute/profile"
	"drytally/compute/source"
	"drytally/compute/units"
)

// DressedName is what the trade calls a finished size. Nominal and actual sizes are never mixed: these are names.
type DressedName struct {
	Known            bool
	Thickness, Width units.Length // nominal; Width is 0 for hardwood, which is named by its thickness alone
	Source           source.Source
	Says             Statement
}

// dryLumber is the highest moisture content of dry softwood lumber. Source: PS 20 Table 3 heading as reproduced; Tenn. Comp. R. & Regs.
// 0080-07-07-.05; seen.
const dryLumber = 19

// nameSize names the finished size of a square piece by the tables of dressed sizes. Rows recalled from memory name nothing.
func (x *index) nameSize(r *SizeResult) {
	w := r.Wanted
	show := x.job.Settings.System.Size
	if w.Species.Hardwood {
		s, ok := footage.Quarters(r.FinishThickness, footage.Surfaced)
		name, quarters := footage.QuartersName(s.Nominal)
		if !ok || !quarters || s.Source.Status == source.Memory {
			return
		}
		r.Name = DressedName{Known: true, Thickness: s.Nominal, Source: s.Source,
			Says: stated("name-hardwood", "thickness", show(r.FinishThickness), "name", name, "least", show(s.Dry), "source", s.Source)}
		x.cite(s.Source)
		return
	}
	if r.Shape.Kind.Joined() {
		x.nameWorked(r)
		return
	}
	t, wide, ok := footage.Dressed(r.FinishThickness, r.FinishWidth)
	if !ok || r.TargetMC > units.Percent(dryLumber) {
		return
	}
	rough := ""
	if t.RoughGreen != 0 && wide.RoughGreen != 0 {
		rough = show(t.RoughGreen) + " x " + show(wide.RoughGreen)
	}
	r.Name = DressedName{Known: true, Thickness: t.Nominal, Width: wide.Nominal, Source: t.Source,
		Says: stated("name-softwood", "size", show(r.FinishThickness)+" x "+show(r.FinishWidth), "name", t.Nominal.Trade()+" x "+wide.Nominal.Trade(),
			"least", show(t.Dry)+" x "+show(wide.Dry), "exact", t.Dry == r.FinishThickness && wide.Dry == r.FinishWidth, "rough", rough,
			"set", show(r.Thickness)+" x "+show(r.Width), "source", t.Source)}
	x.cite(t.Source)
}

// patterns are the tables of worked lumber a profile is named by. Those of PS 20 for shiplap, center match and flooring are recalled
// from memory and name nothing.
var patterns = map[profile.Kind][]string{
	profile.Lapped:       {"rabbeted_bevel_siding"},
	profile.Beveled:      {"bevel_siding"},
	profile.TongueGroove: {"drop_tg_channel_rustic_siding", "rustic_drop_siding_matched"},
}

// nameWorked names a milled board by the nominal width of the pattern that has just its face and overall width.
func (x *index) nameWorked(r *SizeResult) {
	t, ok := footage.NominalThickness(r.FinishThickness)
	if !ok || t.Source.Status == source.Memory || r.TargetMC > units.Percent(dryLumber) {
		return
	}
	for _, item := range patterns[r.Shape.Kind] {
		face, overall := r.Shape.Shows, r.Shape.Overall
		if r.Shape.Kind == profile.Beveled { // its table has the overall width alone
			face, overall = r.Shape.Overall, 0
		}
		s, ok := footage.Worked(item, face, overall)
		if !ok {
			continue
		}
		show := x.job.Settings.System.Size
		r.Name = DressedName{Known: true, Thickness: t.Nominal, Width: s.Nominal, Source: s.Source,
			Says: stated("name-worked", "kind", r.Shape.Kind, "overall", show(r.Shape.Overall), "face", show(r.Shape.Shows), "name", t.Nominal.Trade()+" x "+s.Nominal.Trade(), "source", s.Source)}
		x.cite(s.Source)
		return
	}
}
