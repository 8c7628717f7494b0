package main

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// metric is the week of one load of cherry for shelves, kept in millimetres: every board read, and dry.
type metric struct {
	r       *rand.Rand
	boards  []board
	samples []sample
	in, out time.Time
	read    time.Time
}

const (
	metricLowest  = 6.0
	metricHighest = 30.0
	metricTemp    = 18.0 // Celsius, of the wood on the day it was read
)

func drawMetric() metric {
	m := metric{
		r:  rand.New(rand.NewPCG(2026, 43)),
		in: date(time.September, 28), out: date(time.October, 22), read: date(time.October, 23),
	}
	cherry := stack{
		wood: blackCherry, mm: true, courses: 8, spots: 5, thick: 29, width: 260, places: 2,
		id:     func(course, spot int) string { return fmt.Sprint((course-1)*5 + spot) },
		length: func(int) float64 { return 2500 },
		mean:   7.85, spread: 0.42, driest: 6.8, wettest: 8.6,
		courseEffect: func(course int) float64 { return map[int]float64{1: 0.2, 4: 0.1, 5: 0.1}[course] },
		thickStep:    0.1, widthStep: 0.5, cups: []float64{0, 0.5, 1, 1, 1.5}, bends: []float64{0, 1, 2, 3},
	}
	m.boards = cherry.draw(m.r)
	for i := range m.boards {
		m.boards[i].length += float64(m.r.IntN(5)) * 5
	}
	// A sample is 750 mm of a board of 29 x 260 mm: 5.65 L, ovendry 2.66 kg at basic specific gravity 0.47 (Wood Handbook
	// FPL-GTR-190, Table 5-3a; seen).
	const e = 5.9
	m.samples = []sample{
		{"T1", through(22.4, e, 7.8, 24), 2.655, 92.3},
		{"T2", through(21.1, e, 7.6, 24), 2.702, 93.8},
		{"T3", through(23.8, e, 8.2, 24), 2.618, 91.0},
	}
	return m
}

func metricCherry() ([]byte, error) {
	m := drawMetric()
	b := newBook("yyyy-mm-dd")
	metricMill(b)
	metricSawing(b)
	metricLoad(b)
	m.sizes(b)
	m.moisture(b)
	m.weighings(b)
	m.climate(b)
	metricOrders(b)
	m.delivered(b)
	const a4 = 9
	b.wide(a4)
	return b.bytes("Ninefinger Brook Mill, cherry of October 2026", clockOn(date(time.October, 24), 9, 15))
}

func metricMill(b *book) {
	p := b.page("Mill", 32, 36, 40)
	p.title("Ninefinger Brook Mill: the cherry, October 2026", invented, "Kept by Ilka, who measures in millimetres.")
	p.heading("Item", "Entry", "Comment")
	p.line("Mill name", "Ninefinger Brook Mill")
	p.line("Address", "4 Millrace Lane, Ossivane Hollow")
	p.line("Contact", "Ilka, 555-0142")
	p.line("Units", "mm")
	p.line("Paper", "A4")
	p.line("Tag width", "100 mm")
	p.line("Tag height", "50 mm")
	p.blank()
	p.line("Saw step", "1 mm")
	p.line("Kerf", "2.4 mm")
	p.line("Planing per face", "1.5 mm")
	p.line("Edge cut", "3 mm")
	p.blank()
	p.line("Meter", "pin")
	p.line("Meter set to species", "yes", "cherry, on the dial")
	p.line("Meter corrects for temperature", "no")
	p.line("Lowest reading", int(metricLowest))
	p.line("Highest reading", int(metricHighest))
	p.line("Footage rule", "volume")
	p.line("Region", "most of the United States")
	p.line("Allowed share", share(0.10), "over the limit")
	p.blank()
	p.line("Currency", "florins", "for the sums on the summary")
	p.line("Price of black cherry", "12.50 per board foot")
	p.line("Drying charge", "0.40 per board foot")
	p.line("Log value", "1.10 per board foot")
}

func metricSawing(b *book) {
	p := b.page("Sawing", 16, 15, 15, 10, 8, 11, 12, 13, 40)
	p.title("Off the saw")
	p.heading("Wood", "Thk green (mm)", "Wd green (mm)", "Lg (mm)", "Qty", "Kiln load", "Sawn as", "Date", "Comment")
	p.line("black cherry", 29, 180, 2500, 12, skip{}, "quarter", day(date(time.October, 20)), "new, on sticks")
	p.line(skip{}, 29, 260, 2500, 40, "C16", "flat", day(date(time.July, 14)), "air-dried under the lean-to till September")
	p.total("Total", skip{}, skip{}, skip{}, sum{fmt.Sprintf("SUM(E%d:E%d)", p.row-2, p.row-1), 52})
}

func metricLoad(b *book) {
	p := b.page("Load", 10, 16, 20, 26, 10, 13, 13, 12, 9, 11, 40)
	p.title("The load")
	p.heading("Load no", "Wood", "Use", "Region", "Max MC", "In", "Out", "No of boards", "Layers", "Per layer", "Comment")
	p.line("C16", "black cherry", "interior shelving", "most of the United States", "10 %", day(date(time.September, 28)), day(date(time.October, 22)), 40, 8, 5, "layer 1 is at the bottom")
}

func (m *metric) sizes(b *book) {
	p := b.page("Dry sizes", 8, 8, 16, 11, 11, 10, 10, 10, 10, 11, 11, 8, 10, 20, 28)
	p.title("Dry sizes after the kiln")
	p.heading("Pc no", "Load", "Wood", "Thk A (mm)", "Thk B (mm)", "Wd (mm)", "Lg (mm)", "Cup (mm)", "Bow (mm)", "Crook (mm)", "Twist (mm)", "Layer", "Position", "Defects (mm)", "Comment")
	p.freeze(p.row - 1)
	comments := map[int]string{3: "knot near one end", 17: "sapwood edge", 22: "gum streak", 36: "the best one"}
	for i, bd := range m.boards {
		wood, comment, bad := any(skip{}), any(skip{}), any(skip{})
		if i == 0 {
			wood = "black cherry"
		}
		if c := comments[i+1]; c != "" {
			comment = c
		}
		if s := map[int]string{3: "knot 140-220", 22: "gum 900-960; 1400-1430 from the top"}[i+1]; s != "" {
			bad = s
		}
		p.line(i+1, "C16", wood, tenth(bd.thick[0]), tenth(bd.thick[1]), bd.width, bd.length,
			millimetres(bd.cup), millimetres(bd.bow), millimetres(bd.crook), millimetres(bd.twist), bd.course, bd.spot, bad, comment)
	}
}

// millimetres leaves the cell empty where there is nothing to measure.
func millimetres(x float64) any {
	if x == 0 {
		return skip{}
	}
	return x
}

func (m *metric) moisture(b *book) {
	p := b.page("Moisture", 16, 9, 16, 14, 12, 12, 34)
	p.title("Load C16, moisture content in % by the meter",
		"Read 2026-10-23, wood at 18 C, pins 7 mm deep, middle of each board; one layer a row, seen from the front")
	cells := []any{"Layer"}
	for spot := 1; spot <= 5; spot++ {
		cells = append(cells, spot)
	}
	p.written("heading", cells)
	for course := 8; course >= 1; course-- {
		label := any(course)
		switch course {
		case 8:
			label = "8 (top)"
		case 1:
			label = "1 (bottom)"
		}
		cells := []any{label}
		for spot := 1; spot <= 5; spot++ {
			bd := m.boards[(course-1)*5+spot-1]
			r := to(shown(bd.mc+clamp(0.3*m.r.NormFloat64(), -0.5, 0.5), metricTemp), 0.1)
			cells = append(cells, onDisplay(r, metricLowest, metricHighest))
		}
		p.line(cells...)
	}
	p.blank()
	p.blank()
	p.title("Read again deeper, to see whether the core is dry too")
	p.heading("Pc no", "MC %", "Wood temp (C)", "Date", "Depth (mm)", "Where", "Comment")
	for _, pc := range []int{3, 12, 18, 23, 29, 40} {
		bd := m.boards[pc-1]
		r := to(shown(bd.mc+0.3, metricTemp), 0.1)
		p.line(pc, onDisplay(r, metricLowest, metricHighest), metricTemp, day(m.read), 13, "core")
	}
}

func (m *metric) weighings(b *book) {
	p := b.page("Weighing", 9, 8, 13, 13, 17, 20, 34)
	p.title("Sample boards")
	p.heading("Sample", "Load", "Date", "Weight (kg)", "Wet section (g)", "Ovendry section (g)", "Comment")
	p.freeze(p.row - 1)
	for _, s := range m.samples {
		for _, row := range s.weigh(m.r, m.in, []int{0, 2, 5, 7, 9, 12, 14, 17, 20, 22, 24}, 0.002) {
			if row.wet > 0 {
				p.line(row.sample, "C16", day(row.day), skip{}, tenth(row.wet), tenth(row.ovendry), "oven at 103 C")
				continue
			}
			p.line(row.sample, "C16", day(row.day), fine(row.weight))
		}
	}
}

func (m *metric) climate(b *book) {
	p := b.page("Climate", 18, 13, 9, 12, 40)
	p.title("Air in the kiln")
	p.heading("Date and time", "Dry bulb (C)", "RH", "Where", "Comment")
	p.freeze(p.row - 1)
	for d := range 25 {
		a := airAt(m.r, clockOn(m.in.AddDate(0, 0, d), 8, 0), 104, m.samples[0].dries.e)
		p.line(moment(a.at), tenth(to(celsius(a.dry), 0.5)), share(a.rh/100), "kiln")
	}
}

func metricOrders(b *book) {
	p := b.page("Orders", 24, 16, 10, 10, 10, 8, 22, 10, 40)
	p.title("Orders")
	p.heading("Piece", "Wood", "Thk (mm)", "Wd (mm)", "Lg (mm)", "Qty", "Use", "Waste %", "Comment")
	p.line("Shelf, study wall", "black cherry", 19, 230, 900, 18, "interior shelving", 10, "front edge eased")
	p.line("Shelf, alcove", skip{}, 22, 200, 1100, 8, "interior shelving", 10)
}

func (m *metric) delivered(b *book) {
	p := b.page("Sold", 9, 9, 9, 30, 13, 34)
	p.title("Sold")
	p.heading("Sale", "Load", "Pc no", "Buyer", "Date", "Comment")
	for _, pc := range metricSold {
		comment := any(skip{})
		if pc == metricSold[0] {
			comment = "paid"
		}
		p.line("V7", "C16", pc, "Joss, Tarn Marlow", day(date(time.October, 24)), comment)
	}
}

// metricSold are the boards of the sale, one a row.
var metricSold = []int{1, 2, 4, 6, 7, 9, 11, 14, 15, 16, 20, 21}
