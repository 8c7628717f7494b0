// Model makes the small tasks of cases.json and has a general integer solver find the best plan of each.
//
//	apt-get install coinor-cbc
//	go run ./compute/fit/testdata/model compute/fit/testdata
//	go run ./compute/fit/testdata/model compute/fit/testdata knotty
//
// It writes cases.json and solved.csv into the folder, or knotty.json and knotty.csv: boards with several stretches of bad wood, which
// may overlap and reach over an end, and with crooks. The tests only read the four.
//
// The model is written down here on its own, from the description of the pattern space in the documentation of package fit, and
// uses none of its code: for every clear length a choice between sections and strips, a number of them, each with its size and the
// count of each piece in it. Sizes are whole 64ths of an inch. Each case is solved three times: for the missing pieces, then with
// their number fixed for their order, then with both fixed for the wood.
package main

import (
	"encoding/json"
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Case is one task; sizes are 64ths of an inch.
type Case struct {
	Name                                               string
	EndTrim, CrossKerf, RipKerf, LeftLength, LeftWidth int
	Boards                                             []Board
	Pieces                                             []Piece
}

// Board is a dry board.
type Board struct {
	ID, Species              string
	Length, Width, Thickness int
	Whole, Ripped            int
	Crook                    int      `json:",omitempty"`
	HeldBack                 bool     `json:",omitempty"`
	Deny                     []string `json:",omitempty"`
	LoseStart, LoseEnd       int      `json:",omitempty"`
	Defects                  [][2]int `json:",omitempty"` // each longer than two kerfs
}

// Piece is a wanted piece.
type Piece struct {
	ID, Species              string
	Thickness, Width, Length int
	Count                    int
}

const (
	inch = 64
	// seconds is the most the solver may take at one level. A case it can't prove in that time is left out, whatever it found.
	seconds = "10"
)

func main() {
	if len(os.Args) < 2 || len(os.Args) > 3 || len(os.Args) == 3 && os.Args[2] != "knotty" {
		log.Fatal("usage: model FOLDER [knotty]")
	}
	folder, wanted, draw, to, solved, word := os.Args[1], 60, random, "cases.json", "solved.csv", ""
	if len(os.Args) == 3 {
		wanted, draw, to, solved, word = 40, knotty, "knotty.json", "knotty.csv", " knotty"
	}
	version, _ := exec.Command("cbc", "-quit").CombinedOutput()
	var out strings.Builder
	fmt.Fprintf(&out, "# Best plans of %s; Debian package coinor-cbc, %s; go run ./compute/fit/testdata/model compute/fit/testdata%s\n", to, versionLine(string(version)), word)
	fmt.Fprintln(&out, "case,missing,order,wood")
	work, err := os.MkdirTemp("", "model")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(work)
	var cases []Case
	for n := 0; len(cases) < wanted; n++ {
		start := time.Now()
		c := draw(n)
		best, ok := [3]int{-1, -1, -1}, true
		for level := range best {
			if best[level], ok = solve(work, c, level, best); !ok {
				break
			}
		}
		fmt.Fprintln(os.Stderr, c.Name, ok, best, time.Since(start).Round(time.Second))
		if ok {
			cases = append(cases, c)
			fmt.Fprintf(&out, "%s,%d,%d,%d\n", c.Name, best[0], best[1], best[2])
		}
	}
	data, err := json.MarshalIndent(cases, "", " ")
	if err != nil {
		log.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, to), append(data, '\n'), 0o644); err != nil {
		log.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, solved), []byte(out.String()), 0o644); err != nil {
		log.Fatal(err)
	}
}

func versionLine(s string) string {
	for line := range strings.Lines(s) {
		if strings.HasPrefix(line, "Version") {
			return strings.TrimSpace(line)
		}
	}
	return "version not said"
}

// random makes the n-th case. Sizes are eighths of an inch and thicknesses quarters, so that wood in hundredths of a board foot never
// lies nearer to a whole number than a solver can tell.
func random(n int) Case {
	r := rand.New(rand.NewPCG(uint64(n), 20))
	pick := func(all ...int) int { return all[r.IntN(len(all))] }
	c := Case{Name: fmt.Sprintf("case%02d", n), EndTrim: pick(0, 1, 1, 2) * inch, CrossKerf: pick(8, 8, 16), RipKerf: pick(8, 8, 16),
		LeftLength: pick(12, 24) * inch, LeftWidth: pick(2, 3) * inch}
	woods := []string{"cherry"}
	if n%7 == 3 {
		woods = append(woods, "walnut")
	}
	for i := range 2 + r.IntN(3) {
		c.Pieces = append(c.Pieces, Piece{ID: fmt.Sprintf("p%d", i+1), Species: woods[r.IntN(len(woods))], Thickness: pick(48, 48, 64),
			Width: 2*inch + 8*r.IntN(33), Length: 18*inch + 16*r.IntN(150), Count: 1 + r.IntN(4)})
	}
	for i := range 2 + r.IntN(3) {
		b := Board{ID: fmt.Sprintf("b%d", i+1), Species: woods[r.IntN(len(woods))], Length: 48*inch + 16*r.IntN(240), Width: 5*inch + 16*r.IntN(29),
			Thickness: pick(64, 80), Whole: pick(40, 48, 64, 64), Ripped: 64}
		if i > 0 && r.IntN(4) == 0 { // alike boards
			b = c.Boards[i-1]
			b.ID = fmt.Sprintf("b%d", i+1)
		}
		switch r.IntN(8) {
		case 0:
			at := b.Length/32*8 + 8*r.IntN(b.Length/16)
			b.Defects = [][2]int{{at, at + 32 + 8*r.IntN(40)}}
		case 1:
			b.LoseStart = 128 + 8*r.IntN(60)
		case 2:
			b.LoseEnd = 128 + 8*r.IntN(60)
		case 3:
			if n%2 == 0 {
				b.Deny = []string{c.Pieces[r.IntN(len(c.Pieces))].ID}
			}
		case 4:
			b.HeldBack = n%3 == 0
		}
		c.Boards = append(c.Boards, b)
	}
	return c
}

// knotty makes the n-th case of boards with several stretches of bad wood, most of them from one to four, and some with a crook.
func knotty(n int) Case {
	r := rand.New(rand.NewPCG(uint64(n), 21))
	c := random(n)
	c.Name = fmt.Sprintf("knot%02d", n)
	for i := range c.Boards {
		b := &c.Boards[i]
		b.Defects, b.LoseStart, b.LoseEnd, b.HeldBack = nil, 0, 0, false
		for range r.IntN(5) {
			at := 8 * (r.IntN(b.Length/8+8) - 4) // some reach over an end
			b.Defects = append(b.Defects, [2]int{at, at + 40 + 8*r.IntN(48)})
		}
		if r.IntN(3) == 0 {
			b.Crook = 16 * (1 + r.IntN(8))
		}
		if r.IntN(4) == 0 {
			b.LoseEnd = 64 + 8*r.IntN(40)
		}
	}
	// More and shorter pieces: long ones find no room between the bad wood.
	for i := range c.Pieces {
		p := &c.Pieces[i]
		p.Length, p.Count = 10*inch+16*r.IntN(120), 1+r.IntN(5)
	}
	return c
}

// clearLength is a part of a board without defects.
type clearLength struct {
	board         Board
	length        int // all of it
	lead, useable int
}

func clearLengths(c Case) []clearLength {
	var out []clearLength
	for _, b := range c.Boards {
		if b.HeldBack {
			continue
		}
		// Every 64th of an inch of the length is marked that is lost.
		lost := make([]bool, b.Length)
		lose := func(from, to int) {
			for x := max(0, from); x < min(b.Length, to); x++ {
				lost[x] = true
			}
		}
		lose(0, b.LoseStart)
		lose(b.Length-b.LoseEnd, b.Length)
		for _, d := range b.Defects {
			lose(d[0], d[1])
		}
		if lost[0] { // bad wood at an end takes at least the trim with it
			lose(0, c.EndTrim)
		}
		if lost[b.Length-1] {
			lose(b.Length-c.EndTrim, b.Length)
		}
		for from := 0; from < b.Length; {
			to := from
			for to < b.Length && !lost[to] {
				to++
			}
			l := clearLength{board: b, length: to - from}
			if trim := c.EndTrim - from; trim > 0 { // bad wood may end within the trim
				l.lead = max(trim, c.CrossKerf)
			}
			l.useable = l.length - l.lead - max(0, c.EndTrim-(b.Length-to))
			if l.useable > 0 {
				out = append(out, l)
			}
			for from = to; from < b.Length && lost[from]; from++ {
			}
		}
	}
	return out
}

// edge is what straightening takes off the width of a part of a board, rounded up to a 64th.
func (b Board) edge(part int) int {
	all := b.Length * b.Length
	return (b.Crook*part*part + all - 1) / all
}

// model collects rows of a linear program in the text form solvers read.
type model struct {
	rows    strings.Builder
	whole   []string
	binary  []string
	n       int
	missing []string
}

func (m *model) row(left string, sign string, right int) {
	m.n++
	fmt.Fprintf(&m.rows, " r%d: %s %s %d\n", m.n, left, sign, right)
}

func term(by int, name string) string {
	if by < 0 {
		return fmt.Sprintf(" - %d %s", -by, name)
	}
	return fmt.Sprintf(" + %d %s", by, name)
}

func solve(folder string, c Case, level int, best [3]int) (int, bool) {
	m := &model{}
	made := make([]string, len(c.Pieces))
	var wood strings.Builder
	for k, l := range clearLengths(c) {
		m.clear(c, l, k, made)
		fmt.Fprintf(&wood, " + wood%d", k)
	}
	missing, order := "", ""
	for i, p := range c.Pieces {
		z := fmt.Sprintf("z%d", i)
		m.whole = append(m.whole, z)
		m.row(made[i]+" + "+z, ">=", p.Count)
		missing += " + " + z
		order += term(len(c.Pieces)-i, z)
	}
	if level > 0 {
		m.row(missing, "=", best[0])
	}
	if level > 1 {
		m.row(order, "=", best[1])
	}
	goal := []string{missing, order, wood.String()}[level]
	if goal == "" {
		return 0, true
	}
	text := "Minimize\n goal:" + goal + "\nSubject To\n" + m.rows.String() + "Generals\n " + strings.Join(m.whole, "\n ") + "\nBinaries\n " + strings.Join(m.binary, "\n ") + "\nEnd\n"
	in, out := filepath.Join(folder, "model.lp"), filepath.Join(folder, "model.txt")
	if err := os.WriteFile(in, []byte(text), 0o644); err != nil {
		log.Fatal(err)
	}
	if said, err := exec.Command("cbc", in, "-sec", seconds, "-ratioGap", "0", "-allowableGap", "0", "-solve", "-solution", out).CombinedOutput(); err != nil {
		log.Fatal(err, string(said))
	}
	data, err := os.ReadFile(out)
	if err != nil {
		log.Fatal(err)
	}
	first, _, _ := strings.Cut(string(data), "\n")
	if strings.HasPrefix(first, "Stopped on time") {
		return 0, false
	}
	if !strings.HasPrefix(first, "Optimal") {
		log.Fatalf("%s level %d: %s", c.Name, level, first)
	}
	v, err := strconv.ParseFloat(first[strings.LastIndex(first, " ")+1:], 64)
	if err != nil {
		log.Fatal(err)
	}
	return int(v + 0.5), true
}

// clear models one clear length. Rows are sections along it or strips across it.
func (m *model) clear(c Case, l clearLength, k int, made []string) {
	used := fmt.Sprintf("wood%d", k)
	m.whole = append(m.whole, used)
	var ways []string
	for _, rip := range []bool{false, true} {
		var can []int
		for i, p := range c.Pieces {
			thick := l.board.Whole >= p.Thickness || l.board.Ripped >= p.Thickness && 2*p.Width+c.RipKerf <= l.board.Width
			if p.Species == l.board.Species && thick && p.Length <= l.useable && p.Width+l.board.edge(p.Length) <= l.board.Width && !slices.Contains(l.board.Deny, p.ID) {
				can = append(can, i)
			}
		}
		if len(can) == 0 {
			continue
		}
		rowSize, itemSize := func(p Piece) int { return p.Length }, func(p Piece) int { return p.Width }
		rowKerf, itemKerf, rowEnd := c.CrossKerf, c.RipKerf, l.useable
		itemEnd := func(length int) int { return l.board.Width - l.board.edge(length) } // across a section of the length
		lost, whole, least, other := l.lead, l.length, c.LeftLength, l.board.Width >= c.LeftWidth
		if rip {
			rowSize, itemSize = itemSize, rowSize
			rowKerf, itemKerf, rowEnd = itemKerf, rowKerf, itemEnd(l.length)
			itemEnd = func(int) int { return l.useable }
			lost, whole, least, other = l.board.edge(l.length), l.board.Width, c.LeftWidth, l.length >= c.LeftLength
		}
		way := fmt.Sprintf("y%d_%t", k, rip)
		m.binary = append(m.binary, way)
		ways = append(ways, way)
		var sizes []int
		wanted := 0
		for _, i := range can {
			sizes = append(sizes, rowSize(c.Pieces[i]))
			wanted += c.Pieces[i].Count
		}
		slices.Sort(sizes)
		sizes = slices.Compact(sizes)
		reach, before := "", ""
		for row := range min((rowEnd+rowKerf)/(sizes[0]+rowKerf), wanted) {
			is, size := "", ""
			for j, s := range sizes {
				t := fmt.Sprintf("t%d_%t_%d_%d", k, rip, row, j)
				m.binary = append(m.binary, t)
				is += " + " + t
				size += term(s, t)
				reach += term(s+rowKerf, t)
			}
			m.row(is+" - "+way, "<=", 0)
			if row > 0 { // the larger row first
				m.row(before+strings.ReplaceAll(size, "+", "-"), ">=", 0)
			}
			before = size
			across := ""
			for _, i := range can {
				p := c.Pieces[i]
				n := fmt.Sprintf("n%d_%t_%d_%d", k, rip, row, i)
				m.whole = append(m.whole, n)
				made[i] += " + " + n
				across += term(itemSize(p)+itemKerf, n)
				large := ""
				for j, s := range sizes {
					if s >= rowSize(p) {
						large += term(-p.Count, fmt.Sprintf("t%d_%t_%d_%d", k, rip, row, j))
					}
				}
				m.row(" + "+n+large, "<=", 0)
			}
			for j, s := range sizes {
				across += term(-(itemEnd(s) + itemKerf), fmt.Sprintf("t%d_%t_%d_%d", k, rip, row, j))
			}
			m.row(across, "<=", 0)
		}
		m.row(reach+term(-(rowEnd+rowKerf), way), "<=", 0)
		// Wood: T x W x L / (64 64 64 1.44) hundredths, a whole number that is no less. In quarters, eighths and eighths of an inch
		// 64 64 64 1.44 is 16 8 8 9216/25.
		area := l.board.Thickness / 16 * (l.board.Width / 8)
		if rip {
			area = l.board.Thickness / 16 * (l.length / 8)
		}
		const by = 9216 // an eighth of the factor of the row below
		all := fmt.Sprintf("full%d_%t", k, rip)
		// The last kerf may reach past the end; then all is used up and no more.
		m.row(term(8*by, used)+times(-25*area, reach, 1)+term(-25*area*lost, way)+term(25*area*rowKerf, all), ">=", 0)
		m.binary = append(m.binary, all)
		full := (25*(l.board.Thickness/16)*(l.board.Width/8)*(l.length/8) + by - 1) / by
		m.row(" + "+used+term(-full, all), ">=", 0)
		if room := whole - lost - least; other {
			m.row(reach+term(-room, way)+term(-max(0, rowEnd+rowKerf-room), all), "<=", 0)
		} else {
			m.row(" + "+all+" - "+way, "=", 0)
		}
	}
	if len(ways) > 1 {
		m.row(" + "+ways[0]+" + "+ways[1], "<=", 1)
	}
}

// times multiplies every coefficient of a sum of terms with a factor and divides it by a part of it.
func times(by int, terms string, part int) string {
	out := ""
	words := strings.Fields(terms)
	for i := 0; i < len(words); i += 3 {
		n, err := strconv.Atoi(words[i+1])
		if err != nil || n%part != 0 {
			log.Fatal(words, err)
		}
		if words[i] == "-" {
			n = -n
		}
		out += term(by*(n/part), words[i+2])
	}
	return out
}
