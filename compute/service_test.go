package compute

import (
	"math"
	"strings"
	"testing"
	"time"

	"drytally/compute/shrink"
	"drytally/compute/units"
	"drytally/compute/wood"
)

func on(month time.Month, day, hour, minute int) time.Time {
	return time.Date(2026, month, day, hour, minute, 0, 0, time.UTC)
}

// has reports whether a statement of that name is among them, and gives the first.
func has(all []Statement, name string) (Statement, bool) {
	for _, s := range all {
		if s.Name == name {
			return s, true
		}
	}
	return Statement{}, false
}

// placeClimate: 70 F all year, 40 % humidity in January and 65 % in July: 7.7 and 12.0 % (FOR-128 and Table 4-2 of the Wood Handbook; seen).
func placeClimate(job *Job, indoors bool) {
	job.Climate = []Climate{
		{Origin: row("climate", 2), Month: time.January, Temp: units.Fahrenheit(70), Humidity: units.RelativeHumidity(40), Indoors: indoors},
		{Origin: row("climate", 3), Month: time.July, Temp: units.Fahrenheit(70), Humidity: units.RelativeHumidity(65), Indoors: indoors},
	}
}

func wantedFloor(job *Job, sawing SawingKind) *Wanted {
	oak, _ := wood.ByName("northern red oak")
	job.Wanted = []Wanted{{Origin: row("wanted", 2), Piece: "floor", Species: oak, Thickness: units.Fraction(3, 4), Width: units.Inches(5.375),
		Face: units.Inches(5.125), Length: 8 * units.Foot, Pieces: 10, Use: "flooring", Sawing: Sawing{Kind: sawing}}}
	return &job.Wanted[0]
}

// TestSeasonOfPiece: a red oak floor with a face of 5 1/8 in made at the band's average of 8 %, indoors between 7.7 and 12.0 %.
// Northern red oak shrinks by 8.6 % tangentially: coefficient (0.086/30)/(1 - 0.086*20/30) = 0.0030410; swelling 5.125 * 0.0030410
// * 4.0 = 0.0623 in, shrinking 5.125 * 0.0030410 * 0.3 = 0.0047 in.
func TestSeasonOfPiece(t *testing.T) {
	job := week(4, 8, 8, 8, 8)
	placeClimate(job, true)
	wantedFloor(job, FlatSawn)
	r := Assess(job)
	s := r.Sizes[0].Season
	if !s.Known || !s.Indoors || s.Low != units.Percent(7.7) || s.High != units.Percent(12) || s.Width != units.Inches(5.125) || s.LapGiven != units.Inches(0.25) || len(s.Moves) != 1 {
		t.Fatalf("got %+v", s)
	}
	m := s.Moves[0]
	if m.Made != units.Percent(8) || math.Abs(m.Swell.Inches()-0.0623) > 0.00005 || math.Abs(m.Shrink.Inches()-0.0047) > 0.00005 || !m.Coefficient {
		t.Errorf("swells %.5f and shrinks %.5f from %s, want 0.0623 and 0.0047 from 8.0", m.Swell.Inches(), m.Shrink.Inches(), m.Made)
	}
	// 24.7 % more wood movement holds 95 of 100 pieces (1.645 * 15 %): 0.0777 + a little for the coefficient's own curve, 3/32 as a gap.
	if m.SwellMost < m.Swell*12/10 || m.LeastGap != units.Fraction(3, 32) || m.LeastLap != units.Fraction(1, 32) {
		t.Errorf("most %.4f, gap %s, lap %s; want about 0.078, 3/32, 1/32", m.SwellMost.Inches(), m.LeastGap, m.LeastLap)
	}
	if _, ok := has(s.Says, "season-lap-short"); ok {
		t.Error("a tongue of 1/4 in is called too short for 1/32")
	}
}

func TestSeasonOpen(t *testing.T) {
	for _, c := range []struct {
		name    string
		indoors bool
		use     string
		says    string
	}{
		{"no months of its kind", false, "flooring", "season-no-months"},
		{"outdoors", false, "siding", "season-move"},
	} {
		job := week(4, 8, 8, 8, 8)
		placeClimate(job, c.indoors)
		wantedFloor(job, FlatSawn).Use = c.use
		s := Assess(job).Sizes[0].Season
		if _, ok := has(s.Says, c.says); !ok {
			t.Errorf("%s: says %v, want %q", c.name, s.Says, c.says)
		}
	}
	job := week(4, 8, 8, 8, 8)
	placeClimate(job, true)
	wantedFloor(job, FlatSawn).Piece = "something"
	job.Wanted[0].Use, job.Settings.Target = "", units.Percent(8)
	if s := Assess(job).Sizes[0].Season; s.Known || len(s.Says) != 1 || s.Says[0].Name != "season-no-use" {
		t.Errorf("own target, no use: %+v", s)
	}
	job = week(4, 8, 8, 8, 8)
	wantedFloor(job, FlatSawn)
	if r := Assess(job); len(r.Climate) != 0 || len(r.Sizes[0].Season.Says) != 0 {
		t.Errorf("no climate: %+v, %+v", r.Climate, r.Sizes[0].Season)
	}
}

// TestSeasonOfLoad: boards of a load that make the piece give a movement from that load's own mean.
func TestSeasonOfLoad(t *testing.T) {
	job := week(4, 9, 9, 9, 9)
	placeClimate(job, true)
	w := wantedFloor(job, SawingNotSaid)
	ash, _ := wood.ByName("white ash")
	w.Species, w.Width, w.Face, w.Length = ash, units.Inches(4), 0, 7*units.Foot // the boards are 8 ft long, with ends to trim
	s := Assess(job).Sizes[0].Season
	if len(s.Moves) != 2 || s.Moves[1].Load != "K1" || s.Moves[1].Made != units.Percent(9) || s.Moves[1].Swell >= s.Moves[0].Swell || s.Moves[1].Shrink <= s.Moves[0].Shrink {
		t.Errorf("got %+v", s.Moves)
	}
}

// stored makes a dry load that came out on 3 May, read at about 8 % the day before, and an air log of its shed.
func stored(kept string, where string, f, rh float64) *Job {
	job := week(4, 7.9, 8.1, 8, 8)
	job.Loads[0].DateIn, job.Loads[0].DateOut = on(4, 1, 0, 0), on(5, 3, 0, 0)
	job.Settings.Stored = kept
	for i := range 3 {
		job.Air = append(job.Air, Air{Origin: row("air", i+2), Time: on(6, 1+i, 12, 0), Where: where, DryBulb: units.Fahrenheit(f), Humidity: units.RelativeHumidity(rh)})
	}
	return job
}

// TestStore: air of 70 F and 65 % leads wood to 12.0 %. Close-piled in an open shed the fast pace is 2 points a month: the band of
// flooring ends at 10.0, two points away, after 30 days; from 3 May that is 2 June. The ends: 12 - 1.5 and 12 + 0.5.
func TestStore(t *testing.T) {
	l := only(t, stored("close-piled, open shed", "Shed", 70, 65))
	if len(l.Stores) != 1 {
		t.Fatalf("%d stores, want 1", len(l.Stores))
	}
	s := l.Stores[0]
	if s.Air != units.Percent(12) || s.Lines != 3 || s.Start != units.Percent(8) || !s.From.Equal(on(5, 3, 0, 0)) || s.EndLow != units.Percent(10.5) || s.EndHigh != units.Percent(12.5) {
		t.Errorf("got %+v", s)
	}
	if !s.Leaves || s.LeavesAfter != 30 || !s.MeasureBy.Equal(on(6, 2, 0, 0)) {
		t.Errorf("leaves %v after %d days, measure by %v; want 30 and 2 June", s.Leaves, s.LeavesAfter, s.MeasureBy)
	}
	// White ash 7.8 % tangential, 4.9 radial, sawing not said: 6.35 %. C = (0.0635/30)/(1-0.0635*20/30) = 0.0022102; 5 in by 2.5 and
	// 4.5 points: 0.0276 and 0.0497 in.
	if math.Abs(s.WidthLow.Inches()-0.0276) > 0.0001 || math.Abs(s.WidthHi.Inches()-0.0497) > 0.0001 || s.Width != 5*units.Inch {
		t.Errorf("5 in swells by %.4f to %.4f, want 0.0276 to 0.0497", s.WidthLow.Inches(), s.WidthHi.Inches())
	}
}

func TestStoreOther(t *testing.T) {
	job := stored("wrapped pack", "kiln", 70, 65)
	if l := only(t, job); len(l.Stores) != 0 {
		t.Errorf("the kiln's own air was taken for a store: %+v", l.Stores)
	}
	job.Settings.StoreTemp, job.Settings.StoreHumidity = units.Fahrenheit(70), units.RelativeHumidity(65)
	l := only(t, job)
	if len(l.Stores) != 1 || l.Stores[0].Where != "settings" || l.Stores[0].Lines != 0 || l.Stores[0].Air != units.Percent(12) || l.Stores[0].LeavesAfter < 250 {
		t.Errorf("wrapped, by the settings: %+v", l.Stores)
	}
	// A heated shop that leads to 8.2 % leaves nothing to fear: half a point either way stays within 6 to 10.
	l = only(t, stored("", "heated shop", 70, 43.5))
	if s := l.Stores[0]; s.Leaves || !s.MeasureBy.IsZero() {
		t.Errorf("heated shop: %+v", s)
	}
	if _, ok := has(l.Stores[0].Says, "store-stays"); !ok {
		t.Errorf("heated shop says %v", l.Stores[0].Says)
	}
	// A load not dry and still in the kiln has no store.
	wet := stored("", "shed", 70, 65)
	wet.Loads[0].DateOut = time.Time{}
	for i := range wet.Readings {
		wet.Readings[i].Value.MC = units.Percent(20)
	}
	if l := only(t, wet); len(l.Stores) != 0 {
		t.Errorf("wet load: %+v", l.Stores)
	}
}

// TestRise: "it was 7, now it reads 12". Both days the same four boards with known wood temperature: the meter alone explains
// sqrt(1 + 1) = 1.41, outward 1.5. Air that makes 12.0 % at 70 F has 65 %.
func TestRise(t *testing.T) {
	job := stored("", "shed", 70, 65)
	for i, mc := range []float64{11.9, 12.1, 12, 12} {
		r := job.Readings[i]
		r.Origin = row("readings", 20+i)
		r.Value.MC = units.Percent(mc)
		r.taken(func(t *Taking) { t.Date = on(8, 12, 0, 0) })
		job.Readings = append(job.Readings, r)
	}
	for i := range 4 {
		job.Readings[i].Value.MC -= units.Percent(1)
	}
	r := only(t, job).Rise
	if !r.Known || !r.Shown || !r.Same || r.Boards != 4 || r.First != units.Percent(7) || r.Last != units.Percent(12) || r.Rise.Value != units.Percent(5) ||
		r.Meter != units.Percent(1.5) || math.Abs(r.Humidity.Percent()-65) > 0.5 {
		t.Errorf("got %+v, want 7.0 to 12.0 with 1.5 of the meter and 65 %%", r)
	}
	for _, name := range []string{"rise-found", "rise-meter", "rise-air", "rise-days", "rise-store"} {
		if _, ok := has(r.Says, name); !ok {
			t.Errorf("no %s in %v", name, r.Says)
		}
	}
	if s, _ := has(r.Says, "rise-store"); s.With["can"] != "true" {
		t.Errorf("air of 12 %% can make 12 %%: %v", s.With)
	}
	for i := range job.Air {
		job.Air[i].Humidity = units.RelativeHumidity(40)
	}
	if s, _ := has(only(t, job).Rise.Says, "rise-store"); s.With["can"] != "false" {
		t.Errorf("air of 7.7 %% can't make 12 %%: %v", s.With)
	}
}

func TestRiseSmall(t *testing.T) {
	again := func(by float64, temp units.Temperature) RiseResult {
		job := week(4, 8, 8, 8, 8)
		for i := range 4 {
			r := job.Readings[i]
			r.Value.MC, r.WoodTemp = units.Percent(8+by), temp
			r.taken(func(t *Taking) { t.Date = on(8, 12, 0, 0) })
			job.Readings = append(job.Readings, r)
		}
		return only(t, job).Rise
	}
	known := units.Celsius(22.7)
	if r := again(0.4, known); r.Known {
		t.Errorf("0.4 points: %+v, want nothing", r)
	}
	if r := again(-3, known); r.Known {
		t.Errorf("drier: %+v, want nothing", r)
	}
	if r := again(1.2, known); !r.Known || r.Shown {
		t.Errorf("1.2 points: %+v, want told and not shown", r)
	}
	if r := again(2, known); !r.Known || !r.Shown {
		t.Errorf("2 points: %+v, want shown", r)
	}
	// Wood whose temperature is not known can read a point off either way on top.
	if r := again(2, units.Temperature{}); !r.Known || r.Meter <= units.Percent(1.5) {
		t.Errorf("2 points, temperature not known: %+v, want more than 1.5 of the meter", r)
	}
	if r := only(t, week(4, 8, 8, 8, 8)).Rise; r.Known {
		t.Errorf("one day: %+v", r)
	}
}

// TestHeat: two runs at or above 56 C, 20 and 10 minutes; the record is of one probe and goes with its sentence.
func TestHeat(t *testing.T) {
	job := week(4, 8, 8, 8, 8)
	for i, c := range []float64{50, 57, 58, 57, 50, 57, 57} {
		job.Core = append(job.Core, Core{Origin: row("air", i+2), Field: "core temperature", Time: on(6, 3, 10, 10*i), Temp: units.Celsius(c), Probe: "1"})
	}
	r := Assess(job)
	if len(r.Heat) != 1 || r.Heat[0].Load != "K1" || r.Heat[0].Lines != 7 || r.Heat[0].Highest.Celsius() != 58 || r.Heat[0].Gaps != 0 {
		t.Fatalf("got %+v", r.Heat)
	}
	for _, at := range r.Heat[0].At {
		longest, total := 0, 0
		if at.Temp.Celsius() < 57 { // 55 and 56 C
			longest, total = 20, 30
		}
		if at.Longest != longest || at.Total != total || len(at.Published) == 0 {
			t.Errorf("at %g C: %d and %d minutes, %d published; want %d and %d", at.Temp.Celsius(), at.Longest, at.Total, len(at.Published), longest, total)
		}
	}
	if _, ok := has(r.Loads[0].Heat, "heat-no-claim"); !ok {
		t.Errorf("no sentence that it is no claim: %v", r.Loads[0].Heat)
	}
	// No word that claims anything, whatever the record.
	for _, s := range r.Loads[0].Heat {
		for _, word := range []string{"passed", "sterile", "treated", "free", "safe", "meets"} {
			if strings.Contains(strings.ToLower(s.Name), word) {
				t.Errorf("statement %q", s.Name)
			}
		}
	}
}

// TestHeatAir: air alone tells nothing of the core, however hot.
func TestHeatAir(t *testing.T) {
	job := week(4, 8, 8, 8, 8)
	job.Air = []Air{{Origin: row("air", 2), Time: on(6, 3, 10, 0), Load: "K1", DryBulb: units.Fahrenheit(180), Humidity: units.RelativeHumidity(20)}}
	r := Assess(job)
	if len(r.Heat) != 0 {
		t.Errorf("a record from air: %+v", r.Heat)
	}
	if _, ok := has(r.Loads[0].Heat, "heat-air-only"); !ok {
		t.Errorf("says %v", r.Loads[0].Heat)
	}
	if _, ok := has(r.Loads[0].Heat, "heat-no-claim-air"); !ok {
		t.Errorf("says %v", r.Loads[0].Heat)
	}
	job.Air = nil
	if l := only(t, job); len(l.Heat) != 0 {
		t.Errorf("no log at all says %v", l.Heat)
	}
}

// TestHeatProbes: several probes are never joined, and lines that may be of either of two loads belong to none.
func TestHeatProbes(t *testing.T) {
	job := week(4, 8, 8, 8, 8)
	job.Loads = append(job.Loads, Load{Origin: row("loads", 3), ID: "K2", DateIn: on(6, 1, 0, 0)})
	job.Loads[0].DateIn, job.Loads[0].DateOut = on(5, 1, 0, 0), on(6, 2, 0, 0)
	add := func(probe string, at time.Time) {
		job.Core = append(job.Core, Core{Origin: row("air", 2), Time: at, Temp: units.Celsius(60), Probe: probe})
	}
	add("1", on(5, 20, 10, 0))
	add("2", on(5, 20, 10, 10))
	add("1", on(6, 1, 10, 0)) // both are in
	add("1", on(6, 9, 10, 0))
	r := Assess(job)
	got := map[string]int{}
	for _, h := range r.Heat {
		got[h.Load+"/"+h.Probe] += h.Lines
		for _, at := range h.At {
			if at.Total != 0 {
				t.Errorf("single lines of %s/%s make %d minutes", h.Load, h.Probe, at.Total)
			}
		}
	}
	for name, n := range map[string]int{"K1/1": 1, "K1/2": 1, "/1": 1, "K2/1": 1} {
		if got[name] != n {
			t.Errorf("%s: %d lines, want %d (%v)", name, got[name], n, got)
		}
	}
}

// TestTypicalWidth: the middle of the widths, and mixed when boards are sawn differently.
func TestTypicalWidth(t *testing.T) {
	job := week(3, 8, 8, 8)
	for i, w := range []float64{9, 5, 6} {
		job.Boards[i].Width, job.Boards[i].Sawing = units.Inches(w), Sawing{Kind: FlatSawn}
	}
	of := func() (units.Length, shrink.Direction) {
		r := Assess(job)
		x := &index{job: job, out: r}
		w, d, ok := x.typicalWidth(&r.Loads[0])
		if !ok {
			t.Fatal("no typical width")
		}
		return w, d
	}
	w, flat := of()
	job.Boards[1].Sawing = Sawing{Kind: QuarterSawn}
	_, mixed := of()
	if w != 6*units.Inch || flat.Share <= mixed.Share {
		t.Errorf("got %s, shrinkage %g flat and %g mixed", w, flat.Share, mixed.Share)
	}
}

// TestSaleMoves: the widest board of a sale, 8 in of flat-sawn northern red oak, 8.6 % tangentially: coefficient (0.086/30)/(1 -
// 0.086*20/30) = 0.0030410. Without a climate sheet over the band of flooring, 6 to 10 %: 8 * 0.0030410 * 4.0 = 0.0973 in. With one,
// between 7.7 and 12.0 %: 8 * 0.0030410 * 4.3 = 0.1046 in.
func TestSaleMoves(t *testing.T) {
	for _, c := range []struct {
		name          string
		climate       bool
		use           string
		where, change string
		near          string // the nearest 64th
		low, high     string
	}{
		{name: "by the band", where: "band", low: "6.0", high: "10.0", change: `0.097"`, near: `3/32"`},
		{name: "by the climate", climate: true, where: "indoors", low: "7.7", high: "12.0", change: `0.105"`, near: `7/64"`},
		{name: "of two uses", use: "exterior siding"},
	} {
		job := week(4, 8, 8, 8, 8)
		oak, _ := wood.ByName("northern red oak")
		job.Loads[0].Use, job.Loads[0].Limit = "flooring", 0
		var ids []string
		for i := range job.Boards {
			job.Boards[i].Species, job.Boards[i].Width, job.Boards[i].Sawing = oak, units.Inches(float64(5+i)), Sawing{Kind: FlatSawn}
			ids = append(ids, job.Boards[i].ID)
		}
		if c.climate {
			placeClimate(job, true)
		}
		job.Sales = []Sale{{Origin: row("sold", 2), ID: "S1", Load: job.Loads[0].ID, Boards: ids, Use: c.use}}
		move, ok := has(Assess(job).Sales[0].Notes, "sale-move")
		if ok != (c.change != "") || move.With["where"] != c.where || move.With["change"] != c.change || move.With["near"] != c.near || move.With["low"] != c.low || move.With["high"] != c.high {
			t.Errorf("%s: got %v %v, want a change of %q between %s and %s, %s", c.name, ok, move.With, c.change, c.low, c.high, c.where)
		}
		if ok && move.With["width"] != `8"` {
			t.Errorf("%s: it is said of a board %s wide, want 8\"", c.name, move.With["width"])
		}
	}
}

// TestSaleAfterTheDay: boards kept where 70 F and 65 % lead wood to 12.0 % were to be measured again by 2 June (TestStore). A sale on that
// day says nothing, one on the day after says so.
func TestSaleAfterTheDay(t *testing.T) {
	for _, c := range []struct {
		day  int
		said bool
	}{{2, false}, {3, true}} {
		job := stored("close-piled, open shed", "Shed", 70, 65)
		job.Sales = []Sale{{Origin: row("sold", 2), ID: "S1", Load: job.Loads[0].ID, Boards: []string{job.Boards[0].ID}, Date: on(6, c.day, 0, 0)}}
		if note, ok := has(Assess(job).Sales[0].Notes, "sale-remeasure"); ok != c.said || ok && note.With["date"] != "2 June 2026" {
			t.Errorf("sold on %d June: said %v %v, want %v", c.day, ok, note.With, c.said)
		}
	}
}

// TestSawingOfItsLoad: boards whose row names no sawing move as the cuts of their own load were sawn, whatever else of the wood was
// sawn that week. Of northern red oak, 8 in between 6 and 10 %, flat-sawn 0.097 in (TestSaleMoves), quarter-sawn about half.
func TestSawingOfItsLoad(t *testing.T) {
	for _, c := range []struct {
		name   string
		cuts   []Cut
		sawing string
		change string
	}{
		{"its own cuts", []Cut{{Load: "K1", Sawing: Sawing{Kind: FlatSawn}}, {Load: "K9", Sawing: Sawing{Kind: QuarterSawn}}}, "flat-sawn", `0.097"`},
		{"cuts of no load", []Cut{{Sawing: Sawing{Kind: FlatSawn}}}, "flat-sawn", `0.097"`},
		{"cuts that differ", []Cut{{Load: "K1", Sawing: Sawing{Kind: FlatSawn}}, {Load: "K1", Sawing: Sawing{Kind: QuarterSawn}}}, "", `0.070"`},
	} {
		job := week(4, 8, 8, 8, 8)
		oak, _ := wood.ByName("northern red oak")
		job.Loads[0].ID, job.Loads[0].Use, job.Loads[0].Limit = "K1", "flooring", 0
		var ids []string
		for i := range job.Boards {
			b := &job.Boards[i]
			b.Load, b.Species, b.Width = "K1", oak, 8*units.Inch
			ids = append(ids, b.ID)
		}
		for i := range job.Readings {
			job.Readings[i].Load = "K1"
		}
		for _, cut := range c.cuts {
			cut.Origin, cut.Species, cut.Thickness, cut.Width, cut.Length, cut.Pieces = row("cuts", 2), oak, units.Inch, 8*units.Inch, 8*units.Foot, 4
			job.Cuts = append(job.Cuts, cut)
		}
		job.Sales = []Sale{{Origin: row("sold", 2), ID: "S1", Load: "K1", Boards: ids}}
		move, ok := has(Assess(job).Sales[0].Notes, "sale-move")
		if !ok || move.With["sawing"] != c.sawing || move.With["change"] != c.change {
			t.Errorf("%s: got %v, want %q and %s", c.name, move.With, c.sawing, c.change)
		}
	}
}
