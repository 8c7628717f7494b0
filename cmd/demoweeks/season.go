package main

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// The truth behind the weeks of the invented season: what its account must find again within its own ranges. Nobody at the mill
// knows it.
const (
	// The mill's wood shrinks so many times as much as the handbook's.
	seasonAshTangential, seasonAshRadial       = 1.10, 0.92
	seasonCherryTangential, seasonCherryRadial = 0.93, 1.06
	// Boards of the bottom three courses in the two left spots come out wetter by so many points.
	seasonWet = 1.4
	// The meter shows so many points too little.
	seasonMeterLow = 0.6
)

// The stack of the one kiln of the mill, the same for every load, and its wet corner.
const (
	seasonCourses, seasonSpots = 9, 6
	seasonWetCourses           = 3
	seasonWetSpots             = 2
)

// seasonBoard is a board with what it was before the kiln.
type seasonBoard struct {
	board
	green, greenWidth float64
	read              bool
}

// seasonLoad is one load of air-dried boards, five to seven days in the kiln.
type seasonLoad struct {
	name    string
	wood    timber
	width   float64 // as sawn, inches
	use     string
	in, out time.Time
	sawn    time.Time
	boards  []seasonBoard
	samples []sample
	rows    []weighing
	ids     []int // boards a section was cut from on the day of reading
}

// drawSeason draws the loads of so many weeks, one a week. The day a load comes out is the Thursday of its week.
func drawSeason(r *rand.Rand, weeks int) []*seasonLoad {
	var all []*seasonLoad
	for w := range weeks {
		out := date(time.January, 8).AddDate(0, 0, 7*w)
		l := &seasonLoad{name: fmt.Sprintf("N%02d", w+1), wood: whiteAsh, width: 4.25, use: "interior flooring", out: out, in: out.AddDate(0, 0, -seasonDays(w)), sawn: out.AddDate(0, -7, 0)}
		tangential, radial := seasonAshTangential, seasonAshRadial
		if w%3 == 2 {
			l.wood, l.width, l.use = blackCherry, 6.25, "interior shelving"
			tangential, radial = seasonCherryTangential, seasonCherryRadial
		}
		level := 7.7 + 0.2*clamp(r.NormFloat64(), -1.5, 1.5) // not every load comes out alike
		for course := 1; course <= seasonCourses; course++ {
			for spot := 1; spot <= seasonSpots; spot++ {
				b := seasonBoard{board: board{id: fmt.Sprint((course-1)*seasonSpots + spot), course: course, spot: spot, length: 8*12 + 1}}
				b.mc = level + 0.45*clamp(r.NormFloat64(), -2, 2)
				if course <= seasonWetCourses && spot <= seasonWetSpots {
					b.mc += seasonWet
				}
				b.green = to(1.125+sawBetween*r.NormFloat64()+sawWithin*r.NormFloat64(), 0.001)
				b.greenWidth = to(l.width+sawWidth*r.NormFloat64(), 1.0/32)
				thick := l.wood.radial * radial * (1 + shrinkSpread*clamp(r.NormFloat64(), -2, 2))
				wide := l.wood.tangential * tangential * (1 + shrinkSpread*clamp(r.NormFloat64(), -2, 2))
				b.thick = []float64{to(dried(b.green, thick, b.mc)+0.003*r.NormFloat64(), 0.001)}
				b.width = to(dried(b.greenWidth, wide, b.mc), 1.0/64)
				b.read = (course+spot+w)%3 != 0
				l.boards = append(l.boards, b)
			}
		}
		// Three boards of the stack are weighed; what they weigh ovendry is that of 8 feet of their size.
		for _, at := range []int{7, 28, 46} {
			b := &l.boards[at]
			b.read = true
			const e = 5.0
			start := 19.5 + 1.2*r.NormFloat64()
			s := sample{fmt.Sprint(at + 1), through(start, e, b.mc, float64(seasonDays(w))), to(14.2+0.5*r.NormFloat64(), 0.001), 43}
			l.samples = append(l.samples, s)
			l.rows = append(l.rows, s.weigh(r, l.in, []int{0, 2, 4, seasonDays(w)}, 0.005)...)
		}
		for _, at := range []int{2, 20, 33} {
			l.boards[at].read = true
			l.ids = append(l.ids, at)
		}
		all = append(all, l)
	}
	return all
}

// seasonDays is how long the load of a week is in the kiln: 5, 6 or 7 days.
func seasonDays(week int) int { return 5 + (week*2+week/3)%3 }

// seasonWeeks makes so many weekly workbooks, 1 to 52, of a season of the invented mill: each holds the load that came out that
// week, the load of the week before as it was, what was sold, and what the mill used itself. The keys are file names.
func seasonWeeks(weeks int) (map[string][]byte, error) {
	r := rand.New(rand.NewPCG(2026, 52))
	loads := drawSeason(r, weeks)
	files := map[string][]byte{}
	for w, l := range loads {
		var before *seasonLoad
		if w > 0 {
			before = loads[w-1]
		}
		b := newBook("yyyy-mm-dd")
		seasonSettings(b, l)
		seasonSawn(b, l)
		seasonLoads(b, before, l)
		l.sizes(b)
		l.readings(b, r)
		l.weights(b, r)
		seasonWanted(b)
		seasonSold(b, w, before, l)
		const letter = 1
		b.wide(letter)
		name := "week-of-" + l.out.Format("2006-01-02") + ".xlsx"
		data, err := b.bytes("Ninefinger Brook Mill, week of "+l.out.Format("2 January 2006"), clockOn(l.out.AddDate(0, 0, 1), 17, 0))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		files[name] = data
	}
	return files, nil
}

func seasonSettings(b *book, l *seasonLoad) {
	p := b.page("Settings", 34, 38)
	p.title("Ninefinger Brook Mill: week of "+l.out.Format("2 January 2006"), invented)
	p.heading("Setting", "Value")
	p.line("Mill name", "Ninefinger Brook Mill")
	p.line("Mill address", "4 Millrace Lane, Ossivane Hollow")
	p.line("Contact", "Maren, 555-0142")
	p.line("Saw step", fraction(1.0/16))
	p.line("Saw spread", "0.03 in")
	p.line("Meter type", "pin")
	p.line("Meter set to species", "yes")
	p.line("Meter corrects for wood temperature", "no")
	p.line("Lowest mark", 5)
	p.line("Highest mark", 30)
	p.line("Units", "inches")
	p.line("Footage rule", "volume")
	p.line("Boards are kept", "on sticks in the shop")
}

func seasonSawn(b *book, l *seasonLoad) {
	p := b.page("Sawn", 13, 18, 12, 12, 10, 8, 9, 12)
	p.title("What the load was sawn from, off the saw")
	p.heading("Date", "Species", "Thick", "Wide", "Long", "Pcs", "Load", "How sawn")
	p.line(day(l.sawn), l.wood.name, fraction(1.125), fraction(l.width), "8'", seasonCourses*seasonSpots, l.name, "flat")
}

func seasonLoads(b *book, loads ...*seasonLoad) {
	p := b.page("Loads", 9, 18, 20, 12, 12, 11, 10, 9)
	p.title("Loads")
	p.heading("Load", "Species", "Used for", "Date in", "Date out", "Boards in load", "Courses", "Spots")
	for _, l := range loads {
		if l != nil {
			p.line(l.name, l.wood.name, l.use, day(l.in), day(l.out), seasonCourses*seasonSpots, seasonCourses, seasonSpots)
		}
	}
}

func (l *seasonLoad) sizes(b *book) {
	p := b.page("Boards", 9, 8, 16, 13, 13, 12, 11, 10, 8, 7, 9)
	p.title("Boards, green off the saw and dry out of the kiln")
	p.heading("Board", "Load", "Species", "Green thickness (in)", "Green width (in)", "Thickness (in)", "Width (in)", "Length", "Course", "Spot", "Sawing")
	p.freeze(p.row - 1)
	for _, bd := range l.boards {
		p.line(bd.id, l.name, l.wood.name, fine(bd.green), fraction(bd.greenWidth), fine(bd.thick[0]), fraction(bd.width), feet(bd.length), bd.course, bd.spot, "flat")
	}
}

func (l *seasonLoad) readings(b *book, r *rand.Rand) {
	p := b.page("Meter readings", 9, 8, 12, 12, 12, 12)
	p.title("Meter readings the day the load came out")
	p.heading("Board", "Load", "Meter (%)", "Wood temp", "Date", "Where")
	p.freeze(p.row - 1)
	for _, bd := range l.boards {
		if bd.read {
			f := 66 + float64(r.IntN(6))
			p.line(bd.id, l.name, tenth(read(r, bd.mc-seasonMeterLow, f)), fmt.Sprintf("%.0f F", f), day(l.out), "middle")
		}
	}
}

func (l *seasonLoad) weights(b *book, r *rand.Rand) {
	p := b.page("Weights", 9, 8, 13, 13, 16, 18)
	p.title("Sample boards of the stack, and sections cut the day it came out")
	p.heading("Sample", "Load", "Date", "Weight (lb)", "Section wet (g)", "Section ovendry (g)")
	p.freeze(p.row - 1)
	for _, row := range l.rows {
		if row.wet > 0 {
			p.line(row.sample, l.name, day(row.day), skip{}, tenth(row.wet), tenth(row.ovendry))
			continue
		}
		p.line(row.sample, l.name, day(row.day), fine(row.weight))
	}
	for _, at := range l.ids {
		ovendry := to(43*(1+0.05*r.NormFloat64()), 0.1)
		// ASTM D4442: moisture content = 100 (wet - ovendry) / ovendry; definition seen.
		p.line(l.boards[at].id, l.name, day(l.out), skip{}, tenth(to(ovendry*(1+l.boards[at].mc/100), 0.1)), tenth(ovendry))
	}
}

func seasonWanted(b *book) {
	p := b.page("Wanted", 24, 18, 18, 16, 10, 9, 20)
	p.title("Wanted")
	p.heading("Piece", "Species", "Finished thickness", "Finished width", "Length", "Pieces", "Use")
	p.line("Floor, front room", "white ash", "3/4", "3 1/2", "8'", 60, "interior flooring")
	p.line("Shelves, pantry", "black cherry", "3/4", "5 1/2", "8'", 12, "interior shelving")
}

// seasonSold writes what is sold: boards of a load go in its own week, and by number or by the piece in the week after.
func seasonSold(b *book, w int, before, l *seasonLoad) {
	p := b.page("Sold", 10, 10, 26, 8, 28, 18, 12)
	p.title("Sold, and used ourselves")
	p.heading("Sale no.", "From load", "Boards", "Pcs", "Buyer", "Own use", "Date")
	on := day(l.out.AddDate(0, 0, 1))
	p.line(fmt.Sprintf("S%d", 101+2*w), l.name, "1-18", 18, "Perrin, Upper Quessel", skip{}, on)
	if before == nil {
		return
	}
	switch w % 3 {
	case 0:
		p.line(fmt.Sprintf("S%d", 102+2*w), before.name, "19-24", 6, "Joss, Tarn Marlow", skip{}, on)
	case 1:
		p.line(fmt.Sprintf("S%d", 102+2*w), before.name, skip{}, 8, "Perrin, Upper Quessel", skip{}, on)
	case 2:
		p.line(skip{}, before.name, "25, 27-30", skip{}, skip{}, "bench tops", on)
	}
}
