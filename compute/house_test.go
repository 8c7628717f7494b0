package compute

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"drytally/compute/shrink"
	"drytally/compute/units"
	"drytally/templates"
)

// ashTangential is the handbook's figure of white ash: Wood Handbook FPL-GTR-190 (2010), Table 4-3; seen.
const ashTangential = 0.078

// ownBoards is a week with n flat-sawn ash boards of known green and dry width, whose wood shrinks by s0 with a spread of 15 %
// between boards, and one wanted piece of ash.
func ownBoards(n int, s0 float64, seed uint64) *Job {
	random := rand.New(rand.NewPCG(seed, 1))
	job := week(n, many(n, 8)...)
	for i := range job.Boards {
		b := &job.Boards[i]
		green := 5 + 3*random.Float64()
		share := s0 * math.Max(0.3, 1+0.15*random.NormFloat64()) * (30 - 8) / 30
		b.GreenWidth, b.Width = to64(units.Inches(green)), to64(units.Inches(green*(1-share)))
		b.Sawing = Sawing{Kind: FlatSawn}
	}
	job.Wanted = []Wanted{{Origin: row("wanted", 2), Piece: "floor", Species: job.Loads[0].Species, Thickness: units.Fraction(3, 4), Width: 8 * units.Inch,
		Length: 8 * units.Foot, Pieces: 10, Use: "flooring", Sawing: Sawing{Kind: FlatSawn}}}
	return job
}

// slips makes typing slips in n boards: digits exchanged, a point lost, green and dry exchanged, an inch too much, a wrong line.
func slips(job *Job, n int) {
	for k := range n {
		b := &job.Boards[(k*19+3)%len(job.Boards)]
		switch k % 5 {
		case 0:
			b.Width = units.Inches(b.Width.Inches() / 2) // 3.1 for 6.2
		case 1:
			b.GreenWidth = units.Inches(b.GreenWidth.Inches() * 10) // 65 for 6.5
		case 2:
			b.GreenWidth, b.Width = b.Width, b.GreenWidth
		case 3:
			b.Width -= units.Inch
		case 4:
			b.GreenWidth += units.Inch
		}
	}
}

func figure(t *testing.T, job *Job) HouseShrinkage {
	t.Helper()
	r := Assess(job)
	for _, h := range r.House {
		if h.Direction == tangential {
			return h
		}
	}
	t.Fatalf("no figure: %+v", r.House)
	return HouseShrinkage{}
}

// TestHouseSlips: 5 % typing slips move the mill's figure by no more than 0.2 % against the sound boards alone, while the plain mean goes astray.
func TestHouseSlips(t *testing.T) {
	worst, plainWorst, leftOut, good := 0.0, 0.0, 0, 0
	for seed := range uint64(40) {
		all := figure(t, ownBoards(100, 0.09, seed))
		good += len(all.LeftOut)
		job := ownBoards(100, 0.09, seed)
		slips(job, 5)
		sound := ownBoards(100, 0.09, seed) // the 95 boards without a slip
		for i := range sound.Boards {
			if sound.Boards[i].Width != job.Boards[i].Width || sound.Boards[i].GreenWidth != job.Boards[i].GreenWidth {
				sound.Boards[i].GreenWidth = 0
			}
		}
		clean := figure(t, sound)
		h := figure(t, job)
		worst = math.Max(worst, math.Abs(h.Used/clean.Used-1))
		leftOut += len(h.LeftOut)
		if h.Boards+len(h.LeftOut) != 100 || len(h.LeftOut) < 5 {
			t.Errorf("seed %d: %d used, %d left out; want all 100 accounted for and the 5 slips out", seed, h.Boards, len(h.LeftOut))
		}
		sum := 0.0
		for _, b := range job.Boards {
			sum += (1 - float64(b.Width)/float64(b.GreenWidth)) * 30 / 22 / 100 // equation 4-9 solved for S0 at 8 %
		}
		plainWorst = math.Max(plainWorst, math.Abs(sum/clean.Own-1))
	}
	t.Logf("40 mills of 100 boards with 5 slips: figure off by at most %.2f %%, plain mean by up to %.0f %%; %d boards left out, %d of sound weeks", 100*worst, 100*plainWorst, leftOut, good)
	if worst > 0.002 {
		t.Errorf("slips move the figure by %.2f %%, want at most 0.2", 100*worst)
	}
	if plainWorst < 0.1 {
		t.Errorf("the slips are too mild to show anything: plain mean off by %.2f %%", 100*plainWorst)
	}
	if good > 40 {
		t.Errorf("%d sound boards of 4000 left out, want at most 1 in 100", good)
	}
}

// TestHouseFigure: many weighed boards lead to their own mean; boards read with the meter are trusted no further than the
// meter; the figure is that of shrink.House when every board was weighed.
func TestHouseFigure(t *testing.T) {
	job := ownBoards(60, 0.09, 7)
	read := figure(t, job)
	on := job.Readings[0].Date
	for _, b := range job.Boards {
		job.Weights = append(job.Weights,
			Weight{Origin: row("weights", 2), Sample: b.ID, Load: "K1", Date: on, Weight: units.Grams(1080)},
			Weight{Origin: row("weights", 3), Sample: b.ID, Load: "K1", Date: on, Wet: units.Grams(108), Ovendry: units.Grams(100)})
	}
	weighed := figure(t, job)
	if weighed.ByWeight != weighed.Boards || read.ByWeight != 0 || weighed.Error >= read.Error {
		t.Errorf("weighed %+v, read %+v", weighed, read)
	}
	var known []shrink.Known
	out := map[string]bool{}
	for _, id := range weighed.LeftOut {
		out[id] = true
	}
	for _, b := range job.Boards {
		if !out[b.ID] {
			known = append(known, shrink.Known{Green: b.GreenWidth, Dry: b.Width, MC: units.Percent(8)})
		}
	}
	across, _ := shrink.Across(job.Loads[0].Species, shrink.Width, shrink.Sawing{Kind: shrink.Flat})
	want, err := shrink.House(across, known)
	if err != nil || math.Abs(weighed.Used-want.Direction.Share) > 1e-12 || math.Abs(weighed.Error-want.Error) > 1e-12 {
		t.Errorf("weighed: %.5f +- %.5f, shrink.House %.5f +- %.5f (%v)", weighed.Used, weighed.Error, want.Direction.Share, want.Error, err)
	}
	if weighed.Table != ashTangential || !(weighed.Used > ashTangential && weighed.Used < weighed.Own) {
		t.Errorf("table %.4f, own %.4f, used %.4f: want it between", weighed.Table, weighed.Own, weighed.Used)
	}
	// 1 point of 22 lost (two-sided 95 %) is 2.3 % of the figure, whatever the number of boards.
	if least := weighed.Own * 1 / 1.96 / 22; read.Error < 0.9*least {
		t.Errorf("read boards: error %.5f, less than the meter's own %.5f", read.Error, least)
	}
}

// TestHouseInSize: the cut sheet's setting rests on the mill's figure and says on how many boards.
func TestHouseInSize(t *testing.T) {
	none := ownBoards(40, 0.11, 3)
	for i := range none.Boards {
		none.Boards[i].GreenWidth = 0
	}
	plain := Assess(none).Sizes[0]
	r := Assess(ownBoards(40, 0.11, 3))
	own := r.Sizes[0]
	if len(plain.Own) != 0 || len(own.Own) != 1 || own.ShrinkWidth <= plain.ShrinkWidth || own.Width <= plain.Width || own.ShrinkThickness != plain.ShrinkThickness {
		t.Errorf("plain %v at %.4f, own %v at %.4f, rests on %v", plain.Width, plain.ShrinkWidth, own.Width, own.ShrinkWidth, own.Own)
	}
	text := ""
	for _, s := range append(own.Notes, own.Own[0].Says) {
		said, err := templates.Say(s.Name, s.With)
		if err != nil {
			t.Error(err)
		}
		text += said + "\n"
	}
	wantSaid(t, text, "The shrinkage in width (tangential) rests on 40 of your own boards", "7.8 % in the handbook", "white ash, tangential: 40 of your own boards")
}

// TestHouseTooFew: fewer than five boards, or slips among most of them, leave the handbook's figure.
func TestHouseTooFew(t *testing.T) {
	few := ownBoards(4, 0.09, 1)
	half := ownBoards(10, 0.09, 1)
	for i := range 5 {
		half.Boards[i].GreenWidth = units.Inches(60)
	}
	for name, job := range map[string]*Job{"four": few, "half of them slips": half} {
		r := Assess(job)
		h := r.House[0]
		if h.Known || h.Used != h.Table || len(r.Sizes[0].Own) != 0 {
			t.Errorf("%s: %+v", name, h)
		}
		said, err := templates.Say(h.Says.Name, h.Says.With)
		if err != nil || !strings.Contains(said, "The handbook's 7.8 % is used") {
			t.Errorf("%s: %q (%v)", name, said, err)
		}
	}
}

// TestHouseDirections: a quarter-sawn board's width is radial, its thickness tangential; boards of unsaid sawing speak for
// pieces of unsaid sawing only, and keep the range between the two directions.
func TestHouseDirections(t *testing.T) {
	for _, tt := range []struct {
		kind SawingKind
		want string
	}{{FlatSawn, tangential}, {QuarterSawn, radial}, {SawingNotSaid, mixed}, {MixedSawn, mixed}} {
		job := ownBoards(12, 0.05, 2)
		for i := range job.Boards {
			job.Boards[i].Sawing.Kind = tt.kind
		}
		h := Assess(job).House
		if len(h) != 1 || h[0].Direction != tt.want {
			t.Errorf("%s: %+v, want %s", tt.kind, h, tt.want)
		}
	}
	job := ownBoards(12, 0.05, 2)
	for i := range job.Boards {
		job.Boards[i].Sawing = Sawing{Kind: RingAngle, Angle: 45}
	}
	if h := Assess(job).House; len(h) != 0 {
		t.Errorf("ring angle 45: %+v, want none", h)
	}
	x := &index{out: &Result{House: []HouseShrinkage{{Species: "white ash", Direction: mixed, Known: true, Used: 0.07}}}}
	ash := job.Loads[0].Species
	table, _ := shrink.Across(ash, shrink.Width, shrink.Sawing{})
	d, used, err := x.across(ash, shrink.Width, shrink.Sawing{})
	if err != nil || len(used) != 1 || d.Share != 0.07 || math.Abs(d.High/d.Low-table.High/table.Low) > 1e-9 {
		t.Errorf("mixed: %+v (%v), table %+v", d, err, table)
	}
	if d, used, _ := x.across(ash, shrink.Width, shrink.Sawing{Kind: shrink.Flat}); len(used) != 0 || d.Share != ash.Tangential {
		t.Errorf("flat with a mixed figure: %+v", d)
	}
}

// TestKnownMC: a mark, a load not known, or a wet board is no moisture content to reckon shrinkage with.
func TestKnownMC(t *testing.T) {
	job := ownBoards(6, 0.08, 5)
	job.Readings[0].Value = reading("LO")
	job.Readings[1].Value = units.Reading{State: units.Number, MC: units.Percent(26)}
	job.Readings[1].taken(func(t *Taking) { t.Date = time.Time{} })
	if h := Assess(job).House; len(h) != 1 || h[0].Boards+len(h[0].LeftOut) != 4 {
		t.Errorf("%+v, want the four boards with a number well under fiber saturation", h)
	}
}
