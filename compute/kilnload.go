package compute

import (
	"time"

	"drytally/compute/drying"
	"drytally/compute/finding"
	"drytally/compute/footage"
	"drytally/compute/haul"
	"drytally/compute/stack"
	"drytally/compute/units"
)

// KilnResult is how the boards of the saw's tally that are not dried yet are loaded.
type KilnResult struct {
	Kiln  stack.Kiln
	Loads []KilnLoad  // first the boards of no load, then the loads without a date out, in the order of the loads sheet
	Aside []KilnAside // what is not loaded
}

// KilnAside is a load whose boards are not loaded again: it is out of the kiln.
type KilnAside struct {
	Load   string
	Out    time.Time
	Rows   int
	Boards int
}

// KilnLoad is one load as it would stand. Its rows' boards are placed or left out.
type KilnLoad struct {
	Load        string // empty: boards of no load in the loads sheet
	DateIn      time.Time
	Rows        []KilnRow
	Plan        stack.Plan // its rows are Rows
	Placed, Out int
	Stickers    int
	StickerRun  units.Length
	Lines       int       // lines of stickers, and bolsters, of all its stacks
	Footage     []Footage // green, of the boards placed, one per rule
	Green, Dry  haul.Range
	Says        []Statement // which boards these are, weights, air
	Taken       Statement   // which loads still stand in the kiln; no name: none, or this is one of them
	Warnings    []Statement // of what is mixed, and of what needs filling
	Open        []Statement // where the air finds a way round the boards
}

// KilnRow is a row of the saw's tally with what became of its boards.
type KilnRow struct {
	Cut     *Cut
	Placed  int
	Out     int
	Why     stack.Reason // of Out
	Courses []int        // that hold its boards, counted from the bottom through all stacks
}

// loadKiln lays the boards that are not dried yet, load by load.
func (x *index) loadKiln() {
	k := x.job.Settings.Kiln
	if k.Length == 0 && k.Width == 0 && k.Height == 0 {
		return
	}
	if !k.Given() {
		for _, m := range []struct {
			name string
			l    units.Length
		}{{"kiln length", k.Length}, {"kiln width", k.Width}, {"kiln height", k.Height}} {
			if m.l == 0 {
				x.say("J081", x.kilnPlace(), "", "write it into the settings too", "the kiln's loading needs its length, width and height inside; the %s is not given", m.name)
			}
		}
		return
	}
	if _, err := stack.For(k, nil); err != nil {
		x.say("J081", x.kilnPlace(), "", "look at the inside measures and the gaps", "no board fits into the kiln: %v", err)
		return
	}
	x.out.Kiln = &KilnResult{Kiln: k}
	x.oneKiln()
	groups, aside := map[int][]*Cut{}, map[int]*KilnAside{}
	for i := range x.job.Cuts {
		c := &x.job.Cuts[i]
		at, ok := x.loads[key(c.Load)]
		if !ok || c.Load == "" {
			at = -1
		} else if l := x.job.Loads[at]; !l.DateOut.IsZero() {
			if aside[at] == nil {
				aside[at] = &KilnAside{Load: l.ID, Out: l.DateOut}
			}
			aside[at].Rows++
			aside[at].Boards += c.Pieces
			continue
		}
		groups[at] = append(groups[at], c)
	}
	for at := -1; at < len(x.job.Loads); at++ {
		if a := aside[at]; a != nil {
			x.out.Kiln.Aside = append(x.out.Kiln.Aside, *a)
		}
		if cuts := groups[at]; len(cuts) > 0 {
			x.layLoad(at, cuts)
		}
	}
}

// kilnPlace is where the settings speak of the kiln first.
func (x *index) kilnPlace() (at finding.Place) {
	for _, name := range []string{"kiln length", "kiln width", "kiln height"} {
		for _, u := range x.job.Settings.Used {
			if u.Name == name && u.Place.File != "" {
				return u.Place
			}
		}
	}
	return at
}

// layThickness is how thick a row's boards lie. Boards sawn at one setting go into one course though they were measured a little apart,
// and lie as thick as the thickest of them, in whole steps of the saw.
func (x *index) layThickness(c *Cut, cuts []*Cut) units.Length {
	if len(c.Measured) < 2 && c.Setting == 0 {
		return c.Thickness
	}
	thickest := c.Thickness
	for _, other := range cuts {
		if other == c || c.Setting != 0 && other.Setting == c.Setting {
			for _, t := range append([]units.Length{other.Thickness}, other.Measured...) {
				thickest = max(thickest, t)
			}
		}
	}
	return thickest.RoundUp(x.job.Settings.SawStep)
}

// layLoad lays the cuts of one load; at is its index, or -1.
func (x *index) layLoad(at int, cuts []*Cut) {
	var l KilnLoad
	if at >= 0 {
		l.Load, l.DateIn = x.job.Loads[at].ID, x.job.Loads[at].DateIn
	}
	var rows []stack.Row
	for _, c := range cuts {
		rows = append(rows, stack.Row{Thickness: x.layThickness(c, cuts), Width: c.Width, Length: c.Length, Count: c.Pieces, Slow: slowness(c)})
	}
	plan, err := stack.For(x.job.Settings.Kiln, rows)
	if err != nil {
		x.say("J081", cuts[0].Origin.At("pieces"), "", "check sizes, pieces and the kiln's measures", "no loading could be worked out: %v", err)
		return
	}
	l.Plan = plan
	l.Placed, l.Out = plan.Boards()
	l.Stickers, l.StickerRun = plan.Stickers()
	for i, c := range cuts {
		f := plan.Fates[i]
		l.Rows = append(l.Rows, KilnRow{Cut: c, Placed: f.Placed, Out: f.Out, Why: f.Why})
	}
	n := 0
	for _, s := range plan.Stacks {
		l.Lines += len(s.Lines)
		for _, c := range s.Courses {
			n++
			for _, b := range c.Boards {
				r := &l.Rows[b.Row]
				if k := len(r.Courses); k == 0 || r.Courses[k-1] != n {
					r.Courses = append(r.Courses, n)
				}
			}
		}
	}
	x.whichBoards(&l)
	x.kilnFootage(&l)
	x.kilnWeight(&l)
	x.kilnAir(&l)
	x.kilnOpenings(&l)
	x.kilnTaken(&l)
	x.mixed(&l)
	x.out.Kiln.Loads = append(x.out.Kiln.Loads, l)
}

// slowness orders boards of one length: the thicker dries more slowly, and of one thickness the wood with the lower published
// safe rate.
func slowness(c *Cut) float64 {
	slow := c.Thickness.Inches()
	if safe, ok := drying.Safe(tableName(c.Species.Name), units.Inch); ok {
		slow += 0.001 / safe.PerDay.Percent()
	}
	return slow
}

// whichBoards says which boards of the tally these are.
func (x *index) whichBoards(l *KilnLoad) {
	with := []any{"load", l.Load, "n", l.Placed + l.Out, "rows", len(l.Rows)}
	switch {
	case l.Load == "":
		l.Says = append(l.Says, stated("kiln-of-no-load", with...))
	case l.DateIn.IsZero():
		l.Says = append(l.Says, stated("kiln-of-load", with...))
	default:
		l.Says = append(l.Says, stated("kiln-of-load-in", append(with, "in", dateOr(l.DateIn))...))
	}
}

// kilnFootage counts the green footage of the boards placed.
func (x *index) kilnFootage(l *KilnLoad) {
	t := x.newTally()
	known := map[FootageRule]bool{}
	var rules []FootageRule
	for _, r := range l.Rows {
		if r.Placed == 0 {
			continue
		}
		c := *r.Cut
		c.Pieces = r.Placed
		f := t.green(&c)
		if _, ok := known[f.Rule]; !ok {
			rules, known[f.Rule] = append(rules, f.Rule), true
		}
		known[f.Rule] = known[f.Rule] && f.Known
	}
	for _, rule := range rules {
		f := Footage{Rule: rule, Known: known[rule]}
		if tallied := t.rules[rule]; tallied != nil {
			f.Hundredths = tallied.Total().Hundredths()
		}
		l.Footage = append(l.Footage, f)
	}
}

// outward rounds a weight known about: to 10 lb or 5 kg, and under 500 lb (250 kg) to 1 lb or 1 kg.
func (x *index) outward(r haul.Range) haul.Range {
	step, fine, small := units.Pounds(10), units.Pounds(1), units.Pounds(500)
	if x.job.Settings.System == units.Metric {
		step, fine, small = 5*units.Kilogram, units.Kilogram, 250*units.Kilogram
	}
	if r.High < small {
		step = fine
	}
	return r.Outward(step)
}

// kilnWeight gives about what the boards placed weigh, green and dried to the target of their row. A weight is given when it
// can be given of all boards.
func (x *index) kilnWeight(l *KilnLoad) {
	var low, high units.MC // targets
	green, dry := true, true
	for _, r := range l.Rows {
		if r.Placed == 0 {
			continue
		}
		c := r.Cut
		v, err := footage.SolidOf(footage.Piece{Thickness: c.Thickness, Width: c.Width, Length: c.Length, Count: r.Placed})
		if err != nil {
			green, dry = false, false
			break
		}
		g, err := haul.Green(v, c.Species)
		green = green && err == nil
		l.Green = l.Green.Add(g)
		mc := x.cutTarget(c)
		d, err := haul.Dried(v, c.Species, mc)
		dry = dry && err == nil && mc != 0
		l.Dry = l.Dry.Add(d)
		if low == 0 || mc < low {
			low = mc
		}
		high = max(high, mc)
		x.cite(c.Species.GravitySource)
		x.cite(c.Species.GreenMeanSource)
		x.cite(c.Species.GreenSource)
	}
	l.Green, l.Dry = x.outward(l.Green), x.outward(l.Dry)
	show := x.job.Settings.System.Mass
	if !green {
		l.Green = haul.Range{}
	}
	if !dry {
		l.Dry = haul.Range{}
	}
	if l.Green.Known() {
		l.Says = append(l.Says, stated("kiln-weight-green", "low", show(l.Green.Low), "about", show(l.Green.About), "high", show(l.Green.High)))
		x.cite(haul.SpreadSource())
	} else if l.Placed > 0 {
		l.Says = append(l.Says, stated("kiln-weight-green-unknown"))
	}
	if l.Dry.Known() {
		to := low.String() + " %"
		if low != high {
			to = low.String() + " to " + high.String() + " %"
		}
		l.Says = append(l.Says, stated("kiln-weight-dry", "low", show(l.Dry.Low), "about", show(l.Dry.About), "high", show(l.Dry.High), "to", to))
	} else if l.Placed > 0 {
		l.Says = append(l.Says, stated("kiln-weight-dry-unknown"))
	}
}

// kilnAir holds the room at the walls against the sticker openings, and says where a course needs filling up.
func (x *index) kilnAir(l *KilnLoad) {
	size := x.job.Settings.System.Size
	near := func(l units.Length) string { return x.job.Settings.System.SizeTo(l, units.Fraction(1, 8)) }
	n := 0
	for i, s := range l.Plan.Stacks {
		with := []any{"stack", i + 1, "stacks", len(l.Plan.Stacks), "opening", size(s.Opening), "side", near(s.Side)}
		if s.Side < s.Opening {
			l.Says = append(l.Says, stated("kiln-air-narrow", with...))
		} else {
			l.Says = append(l.Says, stated("kiln-air-wide", with...))
		}
		for _, c := range s.Courses {
			if n++; c.Sparse {
				l.Warnings = append(l.Warnings, stated("kiln-sparse", "course", n, "boards", len(c.Boards), "thickness", size(c.Thickness), "gap", near(c.Gap)))
			}
		}
	}
	spacing, from := stack.SpacingFor(units.Inch)
	if x.job.Settings.Kiln.Spacing == 0 && spacing > 0 && l.Placed > 0 {
		x.cite(from)
	}
	x.cite(KilnSource())
}
