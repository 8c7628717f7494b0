package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"strconv"
	"time"
)

// csvFile is one table in the making. Writing to memory cannot fail, so errors are not looked at.
type csvFile struct {
	buf bytes.Buffer
	w   *csv.Writer
}

// csvOptions are the habits of the programs that saved the files.
type csvOptions struct {
	comma rune // 0 is a comma
	mark  bool // byte order mark in front
	crlf  bool // Windows line ends
}

func newCSV(o csvOptions) *csvFile {
	c := &csvFile{}
	if o.mark {
		c.buf.WriteString("\ufeff")
	}
	c.w = csv.NewWriter(&c.buf)
	if o.comma != 0 {
		c.w.Comma = o.comma
	}
	c.w.UseCRLF = o.crlf
	return c
}

func (c *csvFile) row(cells ...string) { _ = c.w.Write(cells) }

func (c *csvFile) bytes() []byte {
	c.w.Flush()
	return c.buf.Bytes()
}

const iso = "2006-01-02"

// pineCSV makes the folder of the August pine: sixty boards for cladding, of which fourteen were read, all near the top.
func pineCSV() map[string][]byte {
	r := rand.New(rand.NewPCG(2026, 36))
	in, readOn := date(time.August, 10), date(time.September, 2)
	boards := stack{
		wood: whitePine, courses: 10, spots: 6, thick: 1, width: 10, places: 2,
		id:     func(course, spot int) string { return fmt.Sprintf("W%02d", (course-1)*6+spot) },
		length: func(course int) float64 { return 12 * float64(8+2*(course%2)) }, // by turns 8 and 10 ft
		mean:   11.4, spread: 0.8, driest: 9.6, wettest: 13.3,
		courseEffect: func(course int) float64 { return map[int]float64{1: 0.4, 2: 0.2, 5: 0.2, 10: -0.1}[course] },
		thickStep:    1.0 / 64, widthStep: 1.0 / 16, cups: []float64{0, 1.0 / 16, 1.0 / 16, 1.0 / 8}, bends: []float64{0, 1.0 / 8, 1.0 / 4},
	}.draw(r)
	samples := []sample{
		{"SB1", through(44.6, 9.5, 11.4, 22), 3.66, 55.8},
		{"SB2", through(41.8, 9.5, 11.1, 22), 3.71, 56.3},
		{"SB3", through(47.9, 9.5, 12.0, 22), 3.58, 54.9},
	}
	return map[string][]byte{
		"pine-csv/settings.csv": pineSettings(),
		"pine-csv/cuts.csv":     pineCuts(),
		"pine-csv/loads.csv":    pineLoads(in, in.AddDate(0, 0, 22)),
		"pine-csv/boards.csv":   pineBoards(boards),
		"pine-csv/readings.csv": pineReadings(r, boards, readOn),
		"pine-csv/weights.csv":  pineWeights(r, samples, in),
		"pine-csv/air.csv":      pineAir(r, in, 9.5),
		"pine-csv/wanted.csv":   pineWanted(),
		"pine-csv/sold.csv":     pineSold(),
	}
}

func pineSettings() []byte {
	c := newCSV(csvOptions{})
	c.row("Ninefinger Brook Mill: the August pine", "", "")
	c.row("An invented example: there is no such mill, place or person, and every figure was made up.", "", "")
	c.row("", "", "")
	c.row("name", "value", "note")
	for _, s := range [][2]string{
		{"mill name", "Ninefinger Brook Mill"}, {"mill address", "4 Millrace Lane, Ossivane Hollow"}, {"contact", "Maren, 555-0142"},
		{"saw step", "1/16"}, {"kerf", "3/32"}, {"planing per face", "1/16"}, {"edge cut", "1/8"}, {"end trim", "none"},
		{"meter type", "pin"}, {"meter set to species", "yes"}, {"meter corrects for wood temperature", "no"}, {"lowest mark", "7"},
		{"units", "inches"}, {"footage rule", "volume"}, {"paper", "Letter"}, {"region", "most of the United States"},
		{"allowed share", "1 in 10"}, {"species alias", "WP = eastern white pine"},
	} {
		c.row(s[0], s[1], "")
	}
	return c.bytes()
}

func pineCuts() []byte {
	c := newCSV(csvOptions{})
	c.row("species", "green thickness", "green width", "length", "pieces", "lot", "load", "sawing", "date", "note")
	c.row("eastern white pine", "1", "10", "10'", "30", "", "K12", "flat", "2026-07-20", "blowdown behind the brook")
	c.row("eastern white pine", "1", "10", "8'", "30", "", "K12", "flat", "2026-07-21", "")
	return c.bytes()
}

// pineLoads begins with a byte order mark, as some programs save.
func pineLoads(in, out time.Time) []byte {
	c := newCSV(csvOptions{mark: true})
	c.row("load", "use", "region", "date in", "date out", "boards in load", "courses", "spots", "note")
	c.row("K12", "exterior siding", "most of the United States", in.Format(iso), out.Format(iso), "60", "10", "6", "sun kiln")
	return c.bytes()
}

// pineBoards has Windows line ends.
func pineBoards(boards []board) []byte {
	c := newCSV(csvOptions{crlf: true})
	c.row("Board", "Load", "Wood", "Thick 1 (in)", "Thick 2 (in)", "Width (in)", "Length (ft)", "Cup (in)", "Bow (in)", "Course", "Spot", "Note")
	notes := map[string]string{"W07": "wane, one edge", "W31": `split at the end, trim 4"`, "W52": "pitch"}
	for i, b := range boards {
		wood := ""
		if i == 0 {
			wood = "WP"
		}
		c.row(b.id, "K12", wood, inches(b.thick[0], " "), inches(b.thick[1], " "), inches(b.width, []string{" ", "-"}[i%2]),
			strconv.Itoa(int(b.length)/12), blankZero(b.cup), blankZero(b.bow), strconv.Itoa(b.course), strconv.Itoa(b.spot), notes[b.id])
	}
	return c.bytes()
}

func blankZero(x float64) string {
	if x == 0 {
		return ""
	}
	return inches(x, " ")
}

// pineReadings reads the two top courses and two boards of the next: as far as the owner could reach.
func pineReadings(r *rand.Rand, boards []board, on time.Time) []byte {
	c := newCSV(csvOptions{})
	c.row("board", "reading", "wood temp F", "date", "where", "depth", "note")
	for i, b := range boards {
		if b.course < 9 && b.id != "W43" && b.id != "W48" {
			continue
		}
		f := 68 + float64(r.IntN(5))
		temp := fmt.Sprintf("%.0f", f)
		if i%7 == 3 {
			temp = ""
		}
		c.row(b.id, strconv.FormatFloat(read(r, b.mc, f), 'f', 1, 64), temp, on.Format(iso), "middle", "1/4", "")
	}
	return c.bytes()
}

// pineWeights is saved with semicolons; its numbers keep their points.
func pineWeights(r *rand.Rand, samples []sample, in time.Time) []byte {
	c := newCSV(csvOptions{comma: ';'})
	c.row("sample", "load", "date", "weight lb", "section wet g", "section ovendry g", "note")
	for _, s := range samples {
		for _, w := range s.weigh(r, in, []int{0, 1, 3, 5, 8, 11, 14, 17, 20, 22}, 0.005) {
			if w.wet > 0 {
				c.row(w.sample, "K12", w.day.Format(iso), "", fmt.Sprintf("%.1f", w.wet), fmt.Sprintf("%.1f", w.ovendry), "section")
				continue
			}
			c.row(w.sample, "K12", w.day.Format(iso), fmt.Sprintf("%.3f", w.weight), "", "", "")
		}
	}
	return c.bytes()
}

func pineAir(r *rand.Rand, in time.Time, e float64) []byte {
	c := newCSV(csvOptions{})
	c.row("date", "time", "dry bulb F", "wet bulb F", "where", "load")
	for d := range 23 {
		a := airAt(r, clockOn(in.AddDate(0, 0, d), 14, 30), 98, e)
		c.row(a.at.Format(iso), a.at.Format("15:04"), fmt.Sprintf("%.0f", a.dry), fmt.Sprintf("%.1f", a.wet), "sun kiln", "K12")
	}
	return c.bytes()
}

func pineWanted() []byte {
	c := newCSV(csvOptions{})
	c.row("piece", "species", "finished thickness", "finished width", "exposure", "gap", "length", "pieces", "wall height", "wall width", "openings (sq ft)", "profile", "use", "waste", "note")
	c.row("Cladding, wood shed", "WP", "3/4", "9 1/4", "", "1/2", "10'", "", "9' 8\"", "24'", "21", "board and batten", "exterior siding", "10%", "door is 3 x 7 ft")
	c.row("Battens, wood shed", "WP", "3/4", "2 1/4", "", "", "10'", "", "", "", "", "batten", "exterior siding", "5%", "ripped from the widest")
	c.row("Gable, wood shed", "WP", "3/4", "7 1/4", "6", "", "8'", "", "61 in", "12'", "", "beveled", "exterior siding", "15%", "butts 3/4")
	c.row("Back wall, wood shed", "WP", "3/4", "7 1/4", "", "", "8'", "", "9' 8\"", "12'", "", "shiplap", "exterior siding", "10%", "")
	return c.bytes()
}

func pineSold() []byte {
	c := newCSV(csvOptions{})
	c.row("sale no", "load", "pieces", "buyer", "date", "note")
	c.row("S27", "K12", "10", "Wim of Nether Tolley", "2026-09-04", "asked for 10 ft ones, not numbered")
	return c.bytes()
}
