package compute

import (
	"time"

	"drytally/compute/units"
)

// current leaves out the readings of a load that say nothing of it as it is: those taken before it went in, those of boards
// last read long before the others, and numbers the owner's meter does not show.
func (x *index) current(load string, readings []boardReading) []boardReading {
	var in time.Time
	var id string
	if i, ok := x.loads[load]; ok {
		in, id = x.job.Loads[i].DateIn, x.job.Loads[i].ID
	}
	var newest time.Time
	last := map[int]time.Time{}
	for _, r := range readings {
		if d := r.reading.Date; d.After(last[r.board]) {
			last[r.board] = d
		}
		if r.reading.Date.After(newest) {
			newest = r.reading.Date
		}
	}
	var kept []boardReading
	early, old := map[int]bool{}, map[int]bool{}
	var at *Reading
	for _, r := range readings {
		switch d := r.reading.Date; {
		case !x.meterShows(r.reading):
		case !d.IsZero() && !in.IsZero() && day(d).Before(day(in)):
			early[r.board] = true
			at = r.reading
			x.setAsideReading(r.reading, "read before the load went in")
		case !last[r.board].IsZero() && newest.Sub(last[r.board]) > longSpan:
			old[r.board] = true
		default:
			kept = append(kept, r)
		}
	}
	if len(early) > 0 {
		x.say("J016", at.Origin.At("date"), at.Date.Format(time.DateOnly), "check the date of the reading and of the load",
			"readings of %s were taken before load %q went in on %s; they were not used", counted(len(early), "board", "boards"), id, in.Format(time.DateOnly))
	}
	if len(old) > 0 && id != "" {
		x.say("J022", x.job.Loads[x.loads[load]].Origin.At("load"), id, "measure them again",
			"%s of load %q last read more than a week before the others: counted as not measured", counted(len(old), "board", "boards"), id)
	}
	return kept
}

// meterShows reports whether the owner's meter can have shown a number: one beyond the marks he gives is a slip.
func (x *index) meterShows(r *Reading) bool {
	s := x.job.Settings
	if r.Value.State != units.Number {
		return true
	}
	switch {
	case x.given("highest mark") && r.Value.MC > s.HighestMark:
		x.say("J028", r.Origin.At(r.Field), r.Value.String(), "check the number, or the meter's highest mark in the settings", "%s is over the meter's highest mark, %s", r.Value, s.HighestMark)
	case x.given("lowest mark") && r.Value.MC < s.LowestMark:
		x.say("J028", r.Origin.At(r.Field), r.Value.String(), "check the number, or the meter's lowest mark in the settings", "%s is under the meter's lowest mark, %s", r.Value, s.LowestMark)
	default:
		return true
	}
	x.setAsideReading(r, "not a number the meter shows")
	return false
}

// given reports whether the owner gave a setting himself.
func (x *index) given(setting string) bool {
	for _, u := range x.job.Settings.Used {
		if u.Name == setting {
			return u.Place.File != ""
		}
	}
	return false
}

// setAsideReading sets aside a row of the readings sheet. A row of the boards sheet stays used for its sizes.
func (x *index) setAsideReading(r *Reading, why string) {
	for i := range x.job.Boards {
		if x.job.Boards[i].Origin.SameRow(r.Origin) {
			return
		}
	}
	x.setAside(r.Origin, why)
}
