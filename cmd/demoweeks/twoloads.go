package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"
)

const invented = "An invented example: there is no such mill, place or person, and every figure was made up."

// mixed is the week of two loads: ash for a floor, dry but for three boards, and pine for cladding, not dry yet.
type mixed struct {
	r            *rand.Rand
	ash, pine    []board
	ashSamples   []sample
	pineSamples  []sample
	ashIn        time.Time
	ashOut       time.Time
	pineIn       time.Time
	pineRead     time.Time
	ashUnread    map[string]bool
	heldBack     []string
	pineMeasured []board
}

// Marks of the meter of the mill: it shows LO below its lowest number and 30+ above its highest.
const (
	mixedLowest  = 7.0
	mixedHighest = 30.0
)

func drawMixed() mixed {
	w := mixed{
		r: rand.New(rand.NewPCG(2026, 44)), ashIn: date(time.October, 5), ashOut: date(time.October, 30),
		pineIn: date(time.October, 19), pineRead: date(time.November, 4),
	}
	ash := stack{
		wood: whiteAsh, courses: 10, spots: 6, thick: 1.125, width: 4.25, places: 3,
		id: func(course, spot int) string { return fmt.Sprintf("A%02d", (course-1)*6+spot) },
		length: func(course int) float64 {
			if course <= 6 {
				return 8*12 + 2
			}
			return 10*12 + 1
		},
		mean: 8.0, spread: 0.6, driest: 6.6, wettest: 9.2,
		courseEffect: func(course int) float64 { return map[int]float64{1: 0.3, 5: 0.15, 6: 0.15, 10: -0.2}[course] },
		pockets:      map[[2]int]float64{{1, 4}: 12.3, {5, 3}: 11.2, {6, 4}: 11.7},
		thickStep:    1.0 / 64, widthStep: 1.0 / 32, cups: []float64{0, 0, 1.0 / 32, 1.0 / 32, 1.0 / 16}, bends: []float64{0, 0, 1.0 / 16, 1.0 / 8},
	}
	w.ash = ash.draw(w.r)
	w.heldBack = []string{"A04", "A27", "A34"}
	// Six boards nobody read: none of the bottom or middle courses, none of the widest or thickest.
	w.ashUnread = map[string]bool{}
	for _, id := range []string{"A09", "A14", "A19", "A38", "A45", "A58"} {
		w.ashUnread[id] = true
	}
	pine := stack{
		wood: whitePine, courses: 12, spots: 10, thick: 1, width: 10, places: 2,
		id: func(course, spot int) string { return fmt.Sprintf("P%03d", (course-1)*10+spot) },
		length: func(course int) float64 {
			if course <= 7 {
				return 12*12 + 1
			}
			return 10*12 + 2
		},
		mean: 18.4, spread: 2.6, driest: 13.2, wettest: 27.5,
		courseEffect: func(course int) float64 {
			switch {
			case course <= 3:
				return 1.6
			case course >= 11:
				return -1.4
			}
			return 0
		},
		pockets:   map[[2]int]float64{{1, 6}: 33, {3, 5}: 31.8},
		thickStep: 1.0 / 64, widthStep: 1.0 / 16, cups: []float64{0, 1.0 / 16, 1.0 / 16, 1.0 / 8}, bends: []float64{0, 1.0 / 8, 1.0 / 4},
	}
	w.pine = pine.draw(w.r)
	for _, b := range w.pine {
		// Four boards a course, shifted from course to course; the wet pockets lie among them.
		if b.spot%5 == b.course%5 || b.spot%5 == (b.course+2)%5 {
			w.pineMeasured = append(w.pineMeasured, b)
		}
	}
	// A section is a slice an inch long of the board as sawn; ovendry grams from basic specific gravity 0.55 and 0.34 (Wood
	// Handbook FPL-GTR-190, Table 5-3a; seen, pine green value at second hand).
	const ashE, pineE = 6.0, 10.0
	w.ashSamples = []sample{
		{"SB1", through(25.2, ashE, 8.1, 25), 2.84, 43.2},
		{"SB2", through(23.6, ashE, 7.7, 25), 2.91, 43.9},
		{"SB3", through(27.1, ashE, 8.5, 25), 2.88, 43.6},
	}
	w.pineSamples = []sample{
		{"SB4", through(52.4, pineE, 18.9, 16), 3.69, 56.1},
		{"SB5", through(48.3, pineE, 18.0, 16), 3.62, 55.0},
		{"SB6", through(57.0, pineE, 20.1, 16), 3.77, 57.2},
	}
	return w
}

func twoLoads() ([]byte, error) {
	w := drawMixed()
	b := newBook("m/d/yyyy")
	mixedSettings(b)
	mixedSawn(b)
	mixedLoads(b)
	w.boards(b)
	w.readings(b)
	w.samples(b)
	w.air(b)
	mixedWanted(b)
	mixedClimate(b)
	w.sold(b)
	w.rack(b)
	mixedNotes(b)
	const letter = 1
	b.wide(letter)
	return b.bytes("Ninefinger Brook Mill, week of 2 November 2026", clockOn(date(time.November, 5), 17, 40))
}

func mixedSettings(b *book) {
	p := b.page("Settings", 34, 38, 46)
	p.title("Ninefinger Brook Mill: week of 2 November 2026", invented)
	p.heading("Setting", "Value", "Remarks")
	p.line("Mill name", "Ninefinger Brook Mill")
	p.line("Mill address", "4 Millrace Lane, Ossivane Hollow")
	p.line("Contact", "Maren, 555-0142")
	p.blank()
	p.line("Saw step", fraction(1.0/16), "the scale has sixteenths")
	p.line("Saw kerf", `3/32"`)
	p.line("Saw spread", "0.03 in", "tried on eight boards last spring")
	p.line("Planing per face", fraction(1.0/16))
	p.line("Edge cut", `1/8"`, "each edge, on the jointer")
	p.blank()
	p.line("Meter type", "pin")
	p.line("Meter set to species", "yes")
	p.line("Meter corrects for wood temperature", "no")
	p.line("Lowest mark", 7, "shows LO below that")
	p.line("Highest mark", 30)
	p.line("Meter checked", "12 Oct on the test block: 12.0 on the 12 block")
	p.blank()
	p.line("Units", "inches")
	p.line("Footage rule", "surface measure for hardwood, volume for pine")
	p.line("Paper", "Letter")
	p.line("Region", "most of the United States")
	p.line("Store temperature", "58 F", "the shop in November, by the wall thermometer")
	p.line("Store humidity", "58 %")
	p.line("Boards are kept", "stickered in the shop")
	p.line("Allowed share over the limit", "1 in 10")
	p.line("Species alias", "WP = eastern white pine", "Odd writes it that way")
	p.blank()
	p.line("Kiln length", "13'", "the sun kiln, inside")
	p.line("Kiln width", "10'")
	p.line("Kiln height", "4'", "under the fan shelf")
	p.line("Trailer rated load", "1800 lb", "what the plate leaves for Odd's trailer")
}

func mixedSawn(b *book) {
	p := b.page("Sawn this week", 12, 22, 12, 12, 10, 8, 9, 12, 44)
	p.title("Sawn this week, and what went into the kilns", "Green sizes, off the saw")
	p.heading("Date", "Species", "Thick", "Wide", "Long", "Pcs", "Load", "How sawn", "Remarks")
	p.freeze(p.row - 1)
	from := p.row
	var subtotals []string
	sub := func(label string, from, result int) {
		subtotals = append(subtotals, fmt.Sprintf("F%d", p.row))
		p.total(skip{}, label, skip{}, skip{}, skip{}, sum{fmt.Sprintf("SUM(F%d:F%d)", from, p.row-1), result})
		p.blank()
	}
	// The newest stands first: a blank load below a load named could be read as the same load.
	p.line(day(date(time.November, 3)), "WP", `1"`, `2 3/4"`, "10'", 44, skip{}, "flat", "battens, on sticks; into the sun kiln after K15")
	p.line(day(date(time.November, 2)), "Black cherry", "1-1/8", "10-3/8", "8'", 14, skip{}, "mixed", "on sticks in the shed")
	p.line(day(date(time.November, 2)), skip{}, "1-1/8", "11 3/8", "8'", 6, skip{}, "mixed", "the two fat logs from Ilka's hedge")
	sub("Total this week", from, 64)
	from = p.row
	p.line(day(date(time.September, 22)), "WP", `1"`, `10"`, "12'", 70, "K15", "flat", "for the barn wall")
	p.line(day(date(time.September, 21)), skip{}, `1"`, `10"`, "10'", 50, "K15", "flat")
	sub("Total pine", from, 120)
	from = p.row
	p.line(day(date(time.June, 9)), "White ash", fraction(1.125), fraction(4.25), "8'", 36, "K14", "flat", "four straight butt logs; air-dried till October")
	p.line(day(date(time.June, 8)), skip{}, fraction(1.125), fraction(4.25), "10'", 24, "K14", "flat")
	sub("Total ash", from, 60)
	p.total(skip{}, "Total, all told", skip{}, skip{}, skip{}, sum{"SUM(" + strings.Join(subtotals, ",") + ")", 244})
}

func mixedLoads(b *book) {
	p := b.page("Loads", 9, 22, 28, 26, 10, 12, 12, 11, 10, 9, 44)
	p.title("What is in the kilns")
	p.heading("Load", "Species", "Used for", "Region", "Limit (%)", "Date in", "Date out", "Boards in load", "Courses", "Spots", "Remarks")
	p.line("K14", "white ash", "interior flooring", "most of the United States", skip{}, day(date(time.October, 5)), day(date(time.October, 30)), 60, 10, 6, "big kiln; restacked in the shop the same day")
	p.line("K15", "WP", "exterior siding", "most of the United States", skip{}, day(date(time.October, 19)), skip{}, 120, 12, 10, "sun kiln, still in")
}

func (w *mixed) boards(b *book) {
	p := b.page("Boards", 11, 8, 20, 14, 14, 14, 12, 10, 9, 9, 9, 8, 34)
	p.title("Dry sizes", "Calipers at both ends and the middle; pine only where it was pulled for the meter")
	p.heading("Board no.", "Load", "Species", "Thickness 1 (in)", "Thickness 2 (in)", "Thickness 3 (in)", "Width (in)", "Length", "Cup (in)", "Crook (in)", "Course", "Spot", "Notes")
	p.freeze(p.row - 1)
	notes := map[string]string{
		"A04": "feels cold, heavy", "A11": "small knot at one end", "A23": "end check 3 in, trim", "A34": "mineral streak",
		"A41": "nice face", "P006": "wet pocket, shows dark", "P025": "pitch and a wet streak", "P062": "bark on one edge",
	}
	list := func(load, wood string, boards []board) {
		for i, bd := range boards {
			species := any(skip{})
			if i == 0 {
				species = wood
			}
			cells := []any{bd.id, load, species}
			for k := range 3 {
				switch {
				case k >= len(bd.thick):
					cells = append(cells, skip{})
				case i%11 == 4 && k == 0:
					cells = append(cells, inches(bd.thick[k], "-")) // typed as 1-5/64
				default:
					cells = append(cells, fraction(bd.thick[k]))
				}
			}
			switch i % 9 {
			case 3:
				cells = append(cells, inches(bd.width, "-"))
			case 7:
				cells = append(cells, inches(bd.width, " "))
			default:
				cells = append(cells, fraction(bd.width))
			}
			cells = append(cells, feet(bd.length), bent(bd.cup), bent(bd.crook), bd.course, bd.spot)
			if n := notes[bd.id]; n != "" {
				cells = append(cells, n)
			}
			p.line(cells...)
		}
	}
	list("K14", "white ash", w.ash)
	p.total("Total", skip{}, "60 ash boards")
	p.blank()
	list("K15", "WP", w.pineMeasured)
	p.total("Total", skip{}, fmt.Sprintf("%d of 120 pine boards pulled", len(w.pineMeasured)))
}

// bent leaves the cell empty where there is nothing to measure.
func bent(x float64) any {
	if x == 0 {
		return skip{}
	}
	return fraction(x)
}

func (w *mixed) readings(b *book) {
	p := b.page("Meter readings", 10, 12, 12, 12, 12, 12, 40)
	p.title("Meter readings", "Insulated pins; wood temperature with the stick thermometer, when it was at hand")
	p.heading("Board", "Meter (%)", "Wood temp", "Date", "Where", "Depth (in)", "Remarks")
	p.freeze(p.row - 1)
	ashRead := w.ashOut.AddDate(0, 0, 1)
	for i, bd := range w.ash {
		if w.ashUnread[bd.id] {
			continue
		}
		f := 65 + float64(w.r.IntN(6))
		reading := read(w.r, bd.mc, f)
		temp := any(fmt.Sprintf("%.0f F", f))
		// The thermometer is forgotten now and then; never on a board near the limit.
		if i%8 == 5 && reading <= 8.2 {
			temp = skip{}
		}
		depth := any(fraction(0.25))
		remark := any(skip{})
		if slices.Contains(w.heldBack, bd.id) {
			remark = "tried twice, out of the stack"
		}
		p.line(bd.id, onDisplay(reading, mixedLowest, mixedHighest), temp, day(ashRead), "middle", depth, remark)
		switch {
		case bd.id == "A27":
			p.line(bd.id, "~10", fmt.Sprintf("%.0f F", f), day(ashRead), "end", fraction(0.25), "needle would not settle")
		case i%8 == 2:
			// Ends dry ahead of the middle.
			p.line(bd.id, onDisplay(read(w.r, bd.mc-0.5, f), mixedLowest, mixedHighest), fmt.Sprintf("%.0f F", f), day(ashRead), "end", fraction(0.25))
		}
	}
	p.blank()
	p.heading("Board", "Meter (%)", "Wood temp", "Date", "Where", "Depth (in)", "Remarks")
	for i, bd := range w.pineMeasured {
		f := 58 + float64(w.r.IntN(7))
		temp := any(fmt.Sprintf("%.0f F", f))
		if i%16 == 9 {
			temp = skip{}
		}
		remark := any(skip{})
		if bd.mc > mixedHighest {
			remark = "needle at the stop"
		}
		p.line(bd.id, onDisplay(read(w.r, bd.mc, f), mixedLowest, mixedHighest), temp, day(w.pineRead), "middle", fraction(0.25), remark)
		if i%15 == 6 {
			// Core wetter than the shell: the load is still on its way down.
			p.line(bd.id, onDisplay(read(w.r, bd.mc+1.5, f), mixedLowest, mixedHighest), temp, day(w.pineRead), "core", fraction(0.5), "pins to the middle")
		}
	}
}

func (w *mixed) samples(b *book) {
	p := b.page("Sample boards", 10, 9, 12, 13, 16, 20, 36)
	p.title("Sample boards", "Sections in the oven until they stopped losing; boards on the hanging scale")
	p.heading("Sample", "Load", "Date", "Weight (lb)", "Section wet (g)", "Section ovendry (g)", "Remarks")
	p.freeze(p.row - 1)
	list := func(load string, start time.Time, days []int, samples []sample) {
		for _, s := range samples {
			for _, row := range s.weigh(w.r, start, days, 0.005) {
				if row.wet > 0 {
					p.line(row.sample, load, day(row.day), skip{}, tenth(row.wet), tenth(row.ovendry), "section")
					continue
				}
				p.line(row.sample, load, day(row.day), fine(row.weight))
			}
			p.blank()
		}
	}
	list("K14", w.ashIn, []int{0, 2, 4, 7, 9, 11, 14, 16, 18, 21, 23, 25}, w.ashSamples)
	list("K15", w.pineIn, []int{0, 1, 2, 4, 6, 8, 10, 12, 14, 16}, w.pineSamples)
}

func (w *mixed) air(b *book) {
	p := b.page("Kiln air", 12, 8, 12, 9, 13, 13, 9, 16, 36)
	p.title("Kiln air", "Big kiln: two thermometers, one with a wet sock. Sun kiln: dial for humidity")
	p.heading("Where", "Load", "Date", "Time", "Dry bulb (F)", "Wet bulb (F)", "RH (%)", "Running", "Remarks")
	p.freeze(p.row - 1)
	for d := range 26 {
		a := airAt(w.r, clockOn(w.ashIn.AddDate(0, 0, d), 7, 30), 108, w.ashSamples[0].dries.e)
		remark := any(skip{})
		if d == 11 {
			remark = "filled the sock cup"
		}
		p.line("big kiln", "K14", day(a.at), clock(a.at), a.dry, tenth(a.wet), skip{}, "fans, heat", remark)
	}
	p.blank()
	for d := range 17 {
		on := w.pineIn.AddDate(0, 0, d)
		e := w.pineSamples[0].dries.e
		morning, afternoon := airAt(w.r, clockOn(on, 7, 45), 66, e+1), airAt(w.r, clockOn(on, 15, 0), 92, e-1)
		p.line("sun kiln", "K15", day(on), clock(morning.at), morning.dry, skip{}, morning.rh, "nothing")
		p.line("sun kiln", "K15", day(on), clock(afternoon.at), afternoon.dry, skip{}, afternoon.rh, "fans")
	}
}

// mixedClimate is the year of the invented place: monthly means outdoors, and of the heated rooms the floor goes into.
func mixedClimate(b *book) {
	p := b.page("Climate of the place", 9, 16, 15, 16, 15, 34)
	p.title("Climate of the place", "monthly means, made up like everything here")
	p.heading("Month", "Mean temp (F)", "Mean RH (%)", "Indoor temp (F)", "Indoor RH (%)", "Remarks")
	for i, m := range []struct {
		name                  string
		out, damp, in, inDamp float64
	}{
		{"Jan", 24, 72, 68, 30}, {"Feb", 27, 70, 68, 31}, {"Mar", 36, 68, 68, 34}, {"Apr", 47, 64, 68, 39}, {"May", 58, 66, 70, 45}, {"Jun", 67, 70, 73, 52},
		{"Jul", 71, 72, 75, 55}, {"Aug", 69, 75, 75, 55}, {"Sep", 61, 76, 71, 51}, {"Oct", 50, 74, 69, 44}, {"Nov", 39, 75, 68, 37}, {"Dec", 28, 75, 68, 32},
	} {
		note := any(skip{})
		if i == 9 {
			note = "stove lit from here on"
		}
		p.line(m.name, m.out, m.damp, m.in, m.inDamp, note)
	}
}

func mixedWanted(b *book) {
	p := b.page("Wanted", 24, 20, 18, 16, 9, 9, 10, 9, 13, 10, 11, 14, 20, 20, 9, 34)
	p.title("Wanted")
	p.heading("Piece", "Species", "Finished thickness", "Finished width", "Face", "Gap", "Length", "Pieces", "Area (sq ft)", "Height", "Wall width", "Openings (sq ft)", "Profile", "Use", "Waste", "Remarks")
	p.line("Floor, front room", "white ash", "3/4", "3 1/2", "3 1/4", skip{}, "8'", skip{}, 110, skip{}, skip{}, skip{}, "tongue and groove", "interior flooring", share(0.10), "3 1/4 shows, 1/4 tongue")
	p.line("Barn wall, boards", "WP", `3/4"`, "9-1/4", skip{}, "1/2", "12'", skip{}, skip{}, `11' 6"`, "60'", 50, "board and batten", "exterior siding", share(0.10), "long side, big door off")
	p.line("Barn wall, battens", skip{}, `3/4"`, "2-1/4", skip{}, skip{}, "12'", skip{}, skip{}, skip{}, skip{}, skip{}, "batten", "exterior siding", share(0.05))
	p.blank()
	p.line("Shelves, Oona's pantry", "black cherry", fraction(0.75), 9, skip{}, skip{}, `36"`, 14, skip{}, skip{}, skip{}, skip{}, "square", "interior shelving", "10%")
}

func (w *mixed) sold(b *book) {
	p := b.page("Sold", 10, 11, 56, 8, 30, 12, 40)
	p.title("Sold")
	p.heading("Sale no.", "From load", "Boards", "Pcs", "Buyer", "Date", "Remarks")
	ids := w.soldBoards()
	next := func(id string) string {
		var n int
		fmt.Sscanf(id, "A%d", &n)
		return fmt.Sprintf("A%02d", n+1)
	}
	p.line("S31", "K14", runs(ids, next), len(ids), "Perrin, Upper Quessel", day(date(time.November, 5)), "picks up Saturday with the trailer")
}

// soldBoards are the first 24 ash boards that were read and stay in the stack.
func (w *mixed) soldBoards() []string {
	var ids []string
	for _, bd := range w.ash {
		if len(ids) < 24 && !w.ashUnread[bd.id] && !slices.Contains(w.heldBack, bd.id) {
			ids = append(ids, bd.id)
		}
	}
	return ids
}

// rack lists cherry from an earlier year that lies in the shop, in no load.
func (w *mixed) rack(b *book) {
	cherry := stack{
		wood: blackCherry, courses: 1, spots: 12, thick: 1.125, width: 10.5, places: 1,
		id:     func(_, spot int) string { return fmt.Sprintf("C%02d", spot) },
		length: func(int) float64 { return 8 * 12 }, mean: 8.3, spread: 0.4, driest: 7.4, wettest: 9.2,
		courseEffect: func(int) float64 { return 0 },
		thickStep:    1.0 / 64, widthStep: 1.0 / 16, cups: []float64{0, 1.0 / 16, 1.0 / 8}, bends: []float64{0, 1.0 / 8},
	}
	p := b.page("Shop rack", 10, 20, 12, 12, 10, 10, 24, 34)
	p.title("On the rack in the shop: dry boards from last year, in no load")
	p.heading("Board", "Wood", "Thick (in)", "Wide (in)", "Long", "Cup (in)", "Cut out, from butt end", "Notes")
	bad := map[string]string{"C03": "knot 40-44 in", "C08": `butt 6 in; split 5' to 5'4"`, "C11": `lose 8"`}
	for i, bd := range cherry.draw(w.r) {
		species, note := any(skip{}), any(skip{})
		if i == 0 {
			species, note = "Black cherry", "all one tree"
		}
		cutOut := any(skip{})
		if s := bad[bd.id]; s != "" {
			cutOut = s
		}
		p.line(bd.id, species, fraction(bd.thick[0]), fraction(bd.width), feet(bd.length), bent(bd.cup), cutOut, note)
	}
}

func mixedNotes(b *book) {
	p := b.page("Notes to self", 70)
	p.line("ask Odd for more stickers, 3/4 dry ones")
	p.line("sock on the wet bulb is due for a wash")
	p.line("battens go in as soon as the barn boards come out")
}
