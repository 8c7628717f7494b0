package report

import (
	"drytally/compute"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// jsBoardRef points at a board: its place in the array "boards", and how the sheets call it.
func (j *job) jsBoardRef(at *int) any {
	b := j.Boards[*at].Board
	return jsLine{{"index", *at}, {"load", b.Load}, {"board", b.ID}}
}

// bounded reports whether readings and a limit bound the number of boards over it; without them a 0 would read like a
// result.
func bounded(l *compute.LoadResult) bool { return l.Measured > 0 && l.Band.Known }

func (j *job) jsLoad(l *compute.LoadResult) any {
	bound := func(n int) any {
		if !bounded(l) {
			return nil
		}
		return n
	}
	return append(jsOrigin(l.Load.Origin), jsObject{
		{"load", l.Load.ID},
		{"species", jsTexts(l.Species)},
		{"verdict", l.Verdict.String()},
		{"reasons", j.jsStatements(l.Reasons)},
		{"to_settle", j.jsStatements(l.ToSettle)},
		{"band", jsBand(l.Band)},
		{"n", l.N},
		{"n_from", l.NFrom},
		{"measured", l.Measured},
		{"over", jsTexts(l.Over)},
		{"under", jsTexts(l.Under)},
		{"held_back", jsTexts(l.HeldBack)},
		{"readings_below_range", l.Below},
		{"readings_above_range", l.Above},
		{"mean", jsEstimate(l.Mean)},
		{"mean_without_held_back", jsEstimate(l.MeanRest)},
		{"spread_points", jsPercentIf(l.Spread)},
		{"tolerance_percent", jsPercentIf(l.Tolerance)},
		{"no_tolerance_why", j.jsStatement(l.NoLimit)},
		{"mean_sampling_only", jsEstimate(l.Sampling)},
		{"mean_by_thirds", jsEstimate(l.ByThirds)},
		{"meter_off_points", jsPercentIf(l.MeterOff)},
		{"over_bound", bound(l.OverBound)},
		{"over_bound_counted", bound(l.Counted)},
		{"rest_n", l.RestN},
		{"rest_bound", bound(l.RestBound)},
		{"allowed", bound(l.Allowed)},
		{"witnesses", jsEach(l.Witnesses, j.jsWitness)},
		{"conflicts", j.jsStatements(l.Conflicts)},
		{"strata", jsEach(l.Strata, jsStratum)},
		{"strata_differ", j.jsStatements(l.StrataDiffer)},
		{"layers", j.jsLayers(l)},
		{"rise", j.jsRise(&l.Rise)},
		{"stores", jsEach(l.Stores, j.jsStore)},
		{"core_temperature", j.jsStatements(l.Heat)},
		{"notes", j.jsStatements(l.Notes)},
		{"findings", jsFindings(l.Warnings)},
		{"withheld", l.Withheld},
		{"courses", jsCountIf(l.Courses)},
		{"spots", jsCountIf(l.Spots)},
		{"places", jsEach(l.Stack, jsSpot)},
		{"not_measured", jsTexts(l.NotMeasured)},
		{"slow_places_missing", l.SlowMissing},
		{"first_reading", jsDate(l.FirstReading)},
		{"last_reading", jsDate(l.LastReading)},
		{"green_footage", jsEach(l.GreenFootage, func(f *compute.Footage) any { return jsFootage(*f) })},
		{"green_boards", jsCountIf(l.GreenBoards)},
		{"dry_footage", jsEach(l.DryFootage, func(f *compute.Footage) any { return jsFootage(*f) })},
		{"days", j.jsDays(&l.Days)},
		{"dry_thousandths_m3", jsCountIf(int(l.DrySolid))},
		{"sources", jsEach(l.Sources, func(s *source.Source) any { return jsSource(*s) })},
		{"weight", jsMass(l.Weight)},
		{"boards", jsEach(l.Boards, j.jsBoardRef)},
	}...)
}

func jsBand(b compute.Band) any {
	if !b.Known {
		return nil
	}
	return jsObject{{"low_percent", jsPercentIf(b.Low)}, {"mean_percent", jsPercentIf(b.Mean)}, {"high_percent", jsPercent(b.High)},
		{"use", b.Use}, {"region", b.Region}, {"own_limit", b.OwnLimit}, {"source", jsSource(b.Source)}, {"table_source", jsSource(b.TableSource)}}
}

// jsWitness writes what one witness says. The air knows only the least that a board can have come to.
func (j *job) jsWitness(w *compute.Witness) any {
	e := jsEstimate(w.Estimate)
	if w.Kind == compute.WitnessAir && w.Estimate.Known {
		e = jsLine{{"percent", nil}, {"low_percent", jsPercent(w.Estimate.Low)}, {"high_percent", nil}, {"confidence", nil}, {"n", w.Estimate.N}}
	}
	return jsObject{{"kind", w.Kind.String()}, {"estimate", e}, {"date", jsDate(w.Date)}, {"compared", w.Compared}, {"detail", j.jsStatement(w.Detail)}, {"source", jsSource(w.Source)}}
}

func jsSpot(s *compute.Spot) any {
	return jsObject{{"course", s.Course}, {"spot", s.Spot}, {"board", s.Board}, {"moisture", jsBoardMC(s.MC)}, {"over", s.Over}, {"under", s.Under}}
}

// jsBoardMC writes a board's moisture content, or null when it was not measured.
func jsBoardMC(m compute.BoardMC) any {
	if m.State == units.NotTaken {
		return nil
	}
	return jsLine{{"state", jsReadingStates[m.State]}, {"percent", jsPercent(m.MC)}, {"low_percent", jsPercent(m.Low)},
		{"high_percent", jsPercent(m.High)}, {"mark_percent", jsPercentIf(m.Mark)}, {"uncalibrated_percent", jsPercentIf(m.Uncalibrated)}, {"reading", jsReading(m.Reading)}, {"n", m.N}, {"date", jsDate(m.Date)}, {"wood_temperature", jsTemperature(m.Wood)}, {"rough", m.Rough}}
}

func (j *job) jsDays(d *compute.DaysToTarget) any {
	out := jsObject{{"known", d.Known}, {"days", nil}, {"days_low", nil}, {"days_high", nil}, {"open_end", d.OpenEnd}, {"from", jsDate(d.From)},
		{"target_percent", jsPercentIf(d.Target)}, {"ends_percent", jsPercentIf(d.Ends)}, {"daily_loss_points", jsPercentIf(d.DailyLoss)},
		{"reach_percent", jsPercentIf(d.Reach)}, {"reach_says", j.jsStatement(d.ReachSays)}, {"fastest_loss_points", jsPercentIf(d.FastestLoss)},
		{"fastest_sample", d.FastestSample}, {"fastest_from", jsDate(d.FastestFrom)}, {"fastest_to", jsDate(d.FastestTo)}, {"too_fast", d.TooFast},
		{"loss_says", j.jsStatements(d.LossSays)},
		{"safe_loss_points", jsPercentIf(d.SafeLoss)}, {"safe_loss_source", jsSource(d.SafeLossSource)}, {"says", j.jsStatement(d.Says)}}
	if d.Known {
		out[1].value, out[2].value = jsReal(d.Days), jsReal(d.Low)
		if !d.OpenEnd {
			out[3].value = jsReal(d.High)
		}
	}
	return out
}

func (j *job) jsBoardResult(b *compute.BoardResult) any {
	return append(jsOrigin(b.Board.Origin), jsObject{
		{"board", b.Board.ID},
		{"load", b.Board.Load},
		{"species", b.Species.Name},
		{"moisture", jsBoardMC(b.MC)},
		{"over", b.Over},
		{"under", b.Under},
		{"nominal", jsLength(b.Nominal)},
		{"footage", jsFootage(b.Footage)},
		{"least_thickness", jsLength(b.Least)},
		{"planes_to", jsLength(b.PlanesTo)},
		{"ripped_planes_to", jsLength(b.RippedTo)},
		{"width_to", jsLength(b.WidthTo)},
		{"bad_wood", jsObject{{"known", b.Bad.Known}, {"stretches", jsSpans(b.Bad.Spans)}, {"at_ends", jsLength(b.Bad.AtEnds)}}},
		{"cut_to", jsLength(b.CutTo)},
		{"cut_planes_to", jsLength(b.CutPlanes)},
		{"cut_ripped_planes_to", jsLength(b.CutRipped)}, {"cut_ripped_into", b.CutStrips},
		{"cut_width_to", jsLength(b.CutWidth)},
		{"chips_cm3", jsCountIf(int(b.Chips))},
		{"makes", jsTexts(b.Makes)},
		{"makes_none", j.jsStatement(b.MakesNone)},
		{"moisture_by_shrinkage", jsEstimate(b.ShrinkMC)},
		{"gradient", j.jsGradient(b.Gradient)},
		{"sold", b.Sold},
	}...)
}

func jsCutResult(c *compute.CutResult) any {
	return append(jsOrigin(c.Cut.Origin), jsObject{
		{"green_footage", jsFootage(c.Green)},
		{"target_percent", jsPercentIf(c.TargetMC)},
		{"dry_thickness", jsRange(c.DryThickness)},
		{"dry_width", jsRange(c.DryWidth)},
	}...)
}

func (j *job) jsSize(s *compute.SizeResult) any {
	share := func(x float64) any {
		if !s.Known {
			return nil
		}
		return jsReal(x)
	}
	return append(jsOrigin(s.Wanted.Origin), jsObject{
		{"piece", s.Wanted.Piece},
		{"species", s.Wanted.Species.Name},
		{"known", s.Known},
		{"why", j.jsStatement(s.Why)},
		{"sentence", j.jsStatement(s.Sentence)},
		{"target_percent", jsPercentIf(s.TargetMC)},
		{"target_source", jsSource(s.TargetSrc)},
		{"sawing", jsSawing(s.Sawing)},
		{"set_thickness", jsLength(s.Thickness)},
		{"set_width", jsLength(s.Width)},
		{"formula_thickness", jsLength(s.ThicknessExact)},
		{"formula_width", jsLength(s.WidthExact)},
		{"finished_thickness", jsLength(s.FinishThickness)},
		{"finished_width", jsLength(s.FinishWidth)},
		{"planing_thickness", jsLength(s.PlaneThickness)},
		{"planing_width", jsLength(s.PlaneWidth)},
		{"shrinkage_thickness_share", share(s.ShrinkThickness)},
		{"shrinkage_width_share", share(s.ShrinkWidth)},
		{"own_shrinkage", jsEach(s.Own, j.jsShrinkage)},
		{"dry_thickness", jsRange(s.DryThickness)},
		{"dry_width", jsRange(s.DryWidth)},
		{"cleans_up_share", share(s.CleansUp)},
		{"pieces", s.Pieces},
		{"boards", s.Boards},
		{"waste_share", jsReal(s.WasteShare)},
		{"waste_rule", wasteWord(s.WasteRule)},
		{"boards_waste_added", s.BoardsAdded},
		{"boards_waste_taken_out", s.BoardsTaken},
		{"running_feet_net", jsRealIf(s.LinealNet)},
		{"running_feet", jsRealIf(s.LinealFeet)},
		{"green_footage", jsFootage(s.Green)},
		{"net_footage", jsFootage(s.Net)},
		{"weight", jsMass(s.Weight)},
		{"weight_low", jsMass(s.WeightLow)},
		{"weight_high", jsMass(s.WeightHigh)},
		{"dry_weight", jsMass(s.DryWeight)},
		{"dry_weight_low", jsMass(s.DryWeightLow)},
		{"dry_weight_high", jsMass(s.DryWeightHigh)},
		{"green_thousandths_m3", jsCountIf(int(s.Solid))},
		{"dry_thousandths_m3", jsCountIf(int(s.DrySolid))},
		{"name", j.jsName(&s.Name)},
		{"shape", jsShape(&s.Shape)},
		{"cover", j.jsCover(&s.Cover)},
		{"boards_on_hand", s.CanMake},
		{"boards_large_enough", s.LargeEnough},
		{"boards_with_skip", s.Skip},
		{"skip_share", jsReal(s.SkipShare)},
		{"season", j.jsSeason(&s.Season)},
		{"notes", j.jsStatements(s.Notes)},
	}...)
}

// ageOf gives the days from the last reading to the sale, if both days are known.
func ageOf(s *compute.SaleResult) any {
	if s.Date.IsZero() || s.LastReading.IsZero() {
		return nil
	}
	return s.Age
}

func (j *job) jsSale(s *compute.SaleResult) any {
	return jsObject{
		{"sale", s.ID},
		{"buyer", s.Buyer},
		{"own_use", s.OwnUse},
		{"date", jsDate(s.Date)},
		{"rows", jsEach(s.Sales, func(r **compute.Sale) any { return jsOrigin((*r).Origin) })},
		{"loads", jsTexts(s.Loads)},
		{"boards", jsEach(s.Boards, j.jsBoardRef)},
		{"missing", jsTexts(s.Missing)},
		{"measured", s.Measured},
		{"low_percent", jsPercentIf(s.Low)},
		{"high_percent", jsPercentIf(s.High)},
		{"mean_percent", jsPercentIf(s.Mean)},
		{"boards_below_range", s.Below},
		{"boards_above_range", s.Above},
		{"first_reading", jsDate(s.FirstReading)},
		{"last_reading", jsDate(s.LastReading)},
		{"age_days", ageOf(s)},
		{"footage", jsEach(s.Footage, func(f *compute.Footage) any { return jsFootage(*f) })},
		{"thousandths_m3", jsCountIf(int(s.Solid))},
		{"weight", j.jsSaleWeight(&s.Weight)},
		{"methods", jsEach(s.Methods, func(m *compute.SaleMethod) any {
			return jsObject{{"load", m.Load}, {"boards", m.Boards}, {"says", j.jsStatements(m.Says)}}
		})},
		{"withheld", s.Withheld},
		{"withheld_why", j.jsStatements(s.WithheldWhy)},
		{"findings", jsFindings(s.Warnings)},
		{"notes", j.jsStatements(s.Notes)},
	}
}

func jsSpecies(s *wood.Species) any {
	return jsObject{
		{"name", s.Name}, {"botanical", s.Botanical}, {"botanical_status", s.BotanicalStatus.String()}, {"hardwood", s.Hardwood}, {"group", s.Group}, {"imported", s.Imported},
		{"radial_shrinkage_share", jsRealIf(s.Radial)}, {"tangential_shrinkage_share", jsRealIf(s.Tangential)},
		{"shrinkage_source", jsSource(s.ShrinkageSource)},
		{"fiber_saturation_percent", jsRealIf(s.Fiber)}, {"fiber_source", jsSource(s.FiberSource)},
		{"basic_gravity", jsRealIf(s.BasicGravity)}, {"gravity_source", jsSource(s.GravitySource)},
		{"gravity_12", jsRealIf(s.Gravity12)}, {"gravity_12_source", jsSource(s.Gravity12Source)},
		{"green_heartwood_percent", jsRealIf(s.GreenHeart)}, {"green_sapwood_percent", jsRealIf(s.GreenSap)},
		{"green_source", jsSource(s.GreenSource)},
		{"green_mean_percent", jsRealIf(s.GreenMean)}, {"green_mean_source", jsSource(s.GreenMeanSource)},
	}
}

// jsSettings writes the settings as the computations took them.
func jsSettings(s *compute.Settings) any {
	return jsObject{
		{"mill_name", s.MillName}, {"mill_address", s.MillAddress}, {"mill_contact", s.MillContact},
		{"saw_step", jsLength(s.SawStep)}, {"kerf", jsLength(s.Kerf)}, {"saw_spread", jsLength(s.SawSpread)}, {"waste_rule", wasteWord(s.WasteRule)},
		{"planing_per_face", jsLength(s.PlanePer)}, {"edge_cut", jsLength(s.EdgeCut)}, {"scant_share", jsReal(s.ScantShare)},
		{"meter", s.Meter.String()}, {"meter_set_to_species", s.MeterSpecies.String()}, {"meter_corrects_temperature", s.MeterWoodTemp.String()},
		{"meter_calibration", s.MeterCalibrate}, {"lowest_mark_percent", jsPercent(s.LowestMark)}, {"highest_mark_percent", jsPercent(s.HighestMark)},
		{"allowed_share", jsReal(s.AllowedShare)}, {"most_held_back_share", jsReal(s.MostHeldBack)}, {"limit_percent", jsPercentIf(s.Limit)},
		{"target_percent", jsPercentIf(s.Target)}, {"footage_rule", jsRule(s.Rule)}, {"units", [...]string{"inches and feet", "metric"}[s.System]},
		{"paper", [...]string{"Letter", "A4"}[s.Paper]}, {"tag_width", jsLength(s.TagWidth)}, {"tag_height", jsLength(s.TagHeight)},
		{"region", s.Region}, {"aliases", jsSorted(s.Aliases)}, {"end_trim", jsLength(s.EndTrim)}, {"meter_name", s.MeterName},
		{"store_temperature", jsTemperature(s.StoreTemp)}, {"store_relative_humidity_percent", jsHumidity(s.StoreHumidity)}, {"stored", s.Stored},
		{"kiln", jsKilnMeasures(s.Kiln)}, {"trailer_rated_load", jsMass(s.TrailerLoad)}, {"trailer_gross_rating", jsMass(s.TrailerGross)},
		{"trailer_empty_weight", jsMass(s.TrailerEmpty)}, {"money", jsMoneySettings(s)},
	}
}
