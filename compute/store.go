package compute

import (
	"slices"
	"strings"
	"time"

	"drytally/compute/air"
	"drytally/compute/season"
	"drytally/compute/shrink"
	"drytally/compute/source"
	"drytally/compute/units"
)

// StoreResult is what the air of a store makes of a load after the kiln.
type StoreResult struct {
	Where             string            // as the air log names it; "settings" when temperature and humidity come from there
	Temp              units.Temperature // mean of the lines; not known when wet bulbs alone don't tell
	Air               units.MC          // equilibrium moisture content, mean of the lines, to the tenth
	Lines             int               // of the air log; 0 when it is from the settings
	FirstLine, Last   time.Time         // of the log; zero for the settings
	Kept              season.Kept
	Start             units.MC  // the load's mean
	From              time.Time // the day of Start: the last reading, or the day out of the kiln when that is later; zero when not known
	Points            []StorePoint
	EndLow, EndHigh   units.MC     // where it ends
	Width             units.Length // typical: the middle width of its boards; 0 when none was measured
	WidthLow, WidthHi units.Length // by how much that width has changed in the end; shrinking is negative
	Leaves            bool         // the forecast can leave the band of the use within two years
	LeavesAfter       int          // the last whole day on which it can't have left, counted from From
	MeasureBy         time.Time    // that day; zero when From is not known or it never leaves
	Source            source.Source
	Says              []Statement
}

// StorePoint is the forecast for one day.
type StorePoint struct {
	Days      int
	Low, High units.MC // to the tenth, outward
}

// storeDays are the days a forecast is given for.
var storeDays = [...]int{30, 60, 90, 180}

// isStore reports whether a line of the air log was taken where boards are kept.
func isStore(where string) bool {
	w := strings.ToLower(where)
	return slices.ContainsFunc([]string{"shed", "shop", "store", "storage", "barn", "garage", "warehouse", "loft"}, func(p string) bool { return strings.Contains(w, p) })
}

// storeAir is the air of one store.
type storeAir struct {
	where       string
	temp        units.Temperature
	emc         units.MC
	lines       int
	first, last time.Time
	kept        season.Kept
}

// storesOf lists the stores of a load: those of the air log, or else the one of the settings.
func (x *index) storesOf(l *Load) []storeAir {
	var names []string
	rows := map[string][]*Air{}
	for i := range x.job.Air {
		a := &x.job.Air[i]
		if !isStore(a.Where) || a.Load != "" && key(a.Load) != key(l.ID) {
			continue
		}
		k := key(a.Where)
		if rows[k] == nil {
			names = append(names, k)
		}
		rows[k] = append(rows[k], a)
	}
	said := season.KeptOf(x.job.Settings.Stored)
	var all []storeAir
	for _, k := range names {
		s := storeAir{where: rows[k][0].Where, kept: said}
		if s.kept == season.KeptNotSaid {
			s.kept = season.KeptOf(s.where)
		}
		var log []air.Record
		sum, n := 0.0, 0
		for _, a := range rows[k] {
			log = append(log, air.Record{DryBulb: a.DryBulb, WetBulb: a.WetBulb, Humidity: a.Humidity})
			if a.DryBulb.Known() {
				sum += a.DryBulb.Celsius()
				n++
			}
			if s.first.IsZero() || a.Time.Before(s.first) {
				s.first = a.Time
			}
			if a.Time.After(s.last) {
				s.last = a.Time
			}
		}
		total, err := air.Summarize(log)
		if err != nil {
			continue
		}
		s.emc, s.lines = total.Mean.Tenth(), total.Used
		s.temp = units.Celsius(sum / float64(n))
		all = append(all, s)
	}
	if len(all) > 0 {
		return all
	}
	set := x.job.Settings
	if e, err := air.Equilibrium(set.StoreTemp, set.StoreHumidity); err == nil {
		return []storeAir{{where: "settings", temp: set.StoreTemp, emc: e.MC.Tenth(), kept: said}}
	}
	return nil
}

// storeLoad forecasts a load that is out of the kiln, or dry, in every store that is known.
func (x *index) storeLoad(r *LoadResult) {
	mean := r.Mean
	if r.MeanRest.Known {
		mean = r.MeanRest
	}
	if !mean.Known || r.Verdict == NotDryYet && r.Load.DateOut.IsZero() {
		return
	}
	for _, s := range x.storesOf(r.Load) {
		f, err := season.Regain(mean.Value, s.emc, s.kept)
		if err != nil {
			continue
		}
		out := StoreResult{Where: s.where, Temp: s.temp, Air: s.emc, Lines: s.lines, FirstLine: s.first, Last: s.last, Kept: s.kept, Start: mean.Value,
			EndLow: f.EndLow, EndHigh: f.EndHigh, Source: f.Pace.Source, From: r.LastReading}
		if r.Load.DateOut.After(out.From) {
			out.From = r.Load.DateOut
		}
		for _, d := range storeDays {
			low, high := f.At(float64(d))
			out.Points = append(out.Points, StorePoint{d, low, high})
		}
		x.cite(out.Source)
		x.cite(air.EMCSource())
		x.sayStore(r, &out, f)
		r.Stores = append(r.Stores, out)
	}
}

// sayStore settles the date to measure again and the change of a width, and says it all.
func (x *index) sayStore(r *LoadResult, s *StoreResult, f season.Forecast) {
	say := func(name string, with ...any) { s.Says = append(s.Says, stated(name, with...)) }
	say("store-air", "where", s.Where, "temperature", x.job.Settings.System.Temperature(s.Temp), "emc", s.Air, "lines", s.Lines, "dates", dates(day(s.FirstLine), day(s.Last)))
	p := s.Points
	say("store-forecast", "start", s.Start, "date", dateOr(s.From), "about", f.Pace.About, "low30", p[0].Low, "high30", p[0].High,
		"low90", p[2].Low, "high90", p[2].High, "endlow", s.EndLow, "endhigh", s.EndHigh, "source", s.Source)
	if b := r.Band; b.Known {
		s.LeavesAfter, s.Leaves = f.Leaves(b.Low, b.High)
		switch {
		case b.Low != 0 && s.Start < b.Low || s.Start > b.High:
			s.Leaves, s.LeavesAfter = false, 0
			say("store-outside-already", "start", s.Start, "low", b.Low, "high", b.High)
		case !s.Leaves:
			s.LeavesAfter = 0
			say("store-stays", "low", b.Low, "high", b.High)
		default:
			date := ""
			if !s.From.IsZero() {
				s.MeasureBy = day(s.From).AddDate(0, 0, s.LeavesAfter)
				date = dateOr(s.MeasureBy)
			}
			say("store-measure-by", "days", s.LeavesAfter, "date", date, "low", b.Low, "high", b.High)
		}
	}
	x.storeWidth(r, s)
}

// storeWidth says by how much a typical width of the load changes.
func (x *index) storeWidth(r *LoadResult, s *StoreResult) {
	width, across, ok := x.typicalWidth(r)
	if !ok {
		return
	}
	low, _, err1 := season.Change(width, across, s.Start, s.EndLow)
	high, _, err2 := season.Change(width, across, s.Start, s.EndHigh)
	if err1 != nil || err2 != nil {
		return
	}
	s.Width, s.WidthLow, s.WidthHi = width, low, high
	s.Says = append(s.Says, stated("store-width", "width", x.show(width), "low", x.signedThin(low), "high", x.signedThin(high)))
	x.cite(season.MoveSource())
}

func (x *index) signedThin(l units.Length) string {
	if l > 0 {
		return "+" + x.thin(l)
	}
	return x.thin(l)
}

// typicalWidth gives the middle dry width of a load's boards and the shrinkage across it. Boards of several woods, or sawn
// differently, take the first wood and the middle of the sawings.
func (x *index) typicalWidth(r *LoadResult) (units.Length, shrink.Direction, bool) {
	var widths []units.Length
	at, saw, mixed := -1, Sawing{}, false
	for _, i := range r.Boards {
		b := &x.out.Boards[i]
		if b.Board.Width == 0 || b.Species.Name == "" {
			continue
		}
		widths = append(widths, b.Board.Width)
		if at < 0 {
			at, saw = i, x.boardSawing(b)
		}
		mixed = mixed || x.boardSawing(b) != saw
	}
	if at < 0 {
		return 0, shrink.Direction{}, false
	}
	if mixed {
		saw = Sawing{Kind: MixedSawn}
	}
	slices.Sort(widths)
	across, err := shrink.Across(x.out.Boards[at].Species, shrink.Width, sawingOf(saw))
	return widths[len(widths)/2], across, err == nil
}
