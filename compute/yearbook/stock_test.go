package yearbook

import (
	"fmt"
	"math/big"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/footage"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// sheet makes the rows of one workbook; every row knows its file and number.
type sheet struct {
	job compute.Job
	row int
}

func newSheet(name string) *sheet {
	return &sheet{job: compute.Job{Name: name, Files: []compute.InputFile{{Name: name + ".xlsx", SHA256: "hash of " + name}}, Settings: compute.Defaults(), SheetOrder: map[string]int{}}}
}

func (s *sheet) origin(fields ...string) compute.Origin {
	s.row++
	table := &compute.Table{File: s.job.Files[0].Name, Sheet: "All", Cols: map[string]int{}}
	for i, f := range fields {
		table.Cols[f] = i + 1
	}
	return compute.Origin{Table: table, Row: s.row}
}

func on(n int) time.Time { return time.Date(2026, time.March, n, 0, 0, 0, 0, time.UTC) }

func (s *sheet) load(l compute.Load) *sheet {
	l.Origin = s.origin("load", "use", "boards", "limit", "date in", "date out")
	s.job.Loads = append(s.job.Loads, l)
	return s
}

// board adds a board 1 in thick and 8 ft long of the width given.
func (s *sheet) board(load, id string, width units.Length) *sheet {
	b := compute.Board{Origin: s.origin("board", "dry width"), ID: id, Load: load, Width: width}
	if width > 0 {
		b.Thickness, b.Length = []units.Length{units.Inch}, 8*units.Foot
	}
	s.job.Boards = append(s.job.Boards, b)
	return s
}

func (s *sheet) sale(v compute.Sale) *sheet {
	v.Origin = s.origin("sale", "boards", "pieces", "load")
	s.job.Sales = append(s.job.Sales, v)
	return s
}

func (s *sheet) week() compute.Week {
	_, w := compute.AssessWeek(&s.job)
	return w
}

// balanced fails when made is not sold + used + left on any line or in any sum, when the lines and the list of boards do not
// agree, or when what is left of the exact footage is more than a hundredth away.
func balanced(t interface {
	Helper()
	Errorf(string, ...any)
}, b *Yearbook) {
	t.Helper()
	sum := map[compute.FootageRule]*Line{}
	all := Count{}
	for _, l := range append(slices.Clone(b.Lines), b.Totals...) {
		if c := l.Boards; c.Made != c.Sold+c.Used+c.Left || min(c.Sold, c.Used, c.Left) < 0 {
			t.Errorf("load %q, %v: boards %+v do not balance", l.Load, l.Rule, c)
		}
		if f := l.Feet; f.Made != f.Sold+f.Used+f.Left || min(f.Sold, f.Used, f.Left) < 0 {
			t.Errorf("load %q, %v: footage %+v does not balance", l.Load, l.Rule, f)
		}
	}
	for _, l := range b.Lines {
		if sum[l.Rule] == nil {
			sum[l.Rule] = &Line{}
		}
		s := sum[l.Rule]
		s.Boards, s.Feet = s.Boards.add(l.Boards), s.Feet.add(l.Feet)
		all = all.add(l.Boards)
	}
	for _, total := range b.Totals {
		if s := sum[total.Rule]; s == nil || s.Boards != total.Boards || s.Feet != total.Feet {
			t.Errorf("%v: the sum %+v %+v is not that of its lines", total.Rule, total.Boards, total.Feet)
		}
	}
	if all != b.All.Boards {
		t.Errorf("all boards %+v, the lines have %+v", b.All.Boards, all)
	}
	// The stock list says of a load whose boards went by the piece what the account says is left.
	left := map[string]int{}
	for _, l := range b.Lines {
		left[l.Load] += l.Boards.Left
	}
	for _, g := range b.Stock {
		if g.ByPiece > 0 && g.Left != left[g.Load] || g.ByPiece == 0 && g.Left != 0 {
			t.Errorf("the stock list has %d of load %q left, %d gone by the piece, the account %d", g.Left, g.Load, g.ByPiece, left[g.Load])
		}
	}
	// Each number stands once in its load, and every board that went by number stands in the sale it went in.
	seen, gone := map[string]bool{}, 0
	exact := map[compute.FootageRule]*big.Rat{}
	for _, board := range b.Boards {
		k := board.Load + "\x00" + compute.IDKey(board.ID)
		if seen[k] {
			t.Errorf("board %s of load %q stands twice", board.ID, board.Load)
		}
		seen[k] = true
		if board.Fate != Left {
			gone++
		}
		if board.Footage.Known {
			if exact[board.Footage.Rule] == nil {
				exact[board.Footage.Rule] = new(big.Rat)
			}
			f, err := footage.Of(footage.Rule(board.Footage.Rule), footage.Piece{Thickness: board.Thickness, Width: board.Width, Length: board.Length, Count: 1})
			if err != nil {
				t.Errorf("board %s: %v", board.ID, err)
				continue
			}
			exact[board.Footage.Rule].Add(exact[board.Footage.Rule], f.Rat())
		}
	}
	named, pieces := 0, 0
	for _, s := range b.Sales {
		named, pieces = named+len(s.Boards), pieces+s.Pieces
	}
	if named != gone || gone+pieces != all.Sold+all.Used {
		t.Errorf("%d boards have gone by number and the sales name %d; with %d by the piece the lines have %d gone", gone, named, pieces, all.Sold+all.Used)
	}
	for _, total := range b.Totals {
		var sold, used int64
		n := int64(len(b.Lines))
		for _, sale := range b.Sales {
			for _, f := range sale.Footage {
				switch {
				case f.Rule != total.Rule:
				case sale.OwnUse != "":
					used, n = used+f.Hundredths, n+1
				default:
					sold, n = sold+f.Hundredths, n+1
				}
			}
		}
		if d := sold - total.Feet.Sold; max(d, -d) > n {
			t.Errorf("%v: the sales come to %d hundredths, the lines to %d", total.Rule, sold, total.Feet.Sold)
		}
		if d := used - total.Feet.Used; max(d, -d) > n {
			t.Errorf("%v: own use comes to %d hundredths, the lines to %d", total.Rule, used, total.Feet.Used)
		}
	}
	for rule, want := range exact {
		hundredths := new(big.Rat).Mul(want, big.NewRat(100, 1))
		got := new(big.Rat).SetInt64(sum[rule].Feet.Made)
		if apart, _ := new(big.Rat).Sub(got, hundredths).Float64(); apart > 0.5*float64(len(b.Lines)) || apart < -0.5*float64(len(b.Lines)) {
			t.Errorf("%v: made %d hundredths, the boards come to %s", rule, sum[rule].Feet.Made, hundredths.FloatString(2))
		}
	}
}

// TestStockBalances: made = used + sold + left over random weeks, in whatever order the weeks are given.
func TestStockBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var weeks []compute.Week
		for w := range rapid.IntRange(1, 5).Draw(t, "weeks") {
			s := newSheet(fmt.Sprintf("w%d", w))
			loads := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"K1", "K2", "K3"}), 0, 3, rapid.ID).Draw(t, "loads")
			for _, l := range loads {
				said := 0
				if rapid.Bool().Draw(t, "count said") {
					said = rapid.IntRange(0, 12).Draw(t, "said")
				}
				s.load(compute.Load{ID: l, Boards: said, Use: rapid.SampledFrom([]string{"", "flooring", "siding"}).Draw(t, "use")})
			}
			for range rapid.IntRange(0, 10).Draw(t, "boards") {
				load := ""
				if len(loads) > 0 && rapid.IntRange(0, 5).Draw(t, "in a load") > 0 {
					load = rapid.SampledFrom(loads).Draw(t, "of load")
				}
				width := units.Length(0)
				if rapid.IntRange(0, 6).Draw(t, "sized") > 0 {
					width = units.Length(rapid.IntRange(50, 200).Draw(t, "32nds")) * units.Inch / 32
				}
				s.board(load, rapid.SampledFrom([]string{"1", "2", "3", "4", "5", "6", "7"}).Draw(t, "id"), width)
			}
			for range rapid.IntRange(0, 5).Draw(t, "sales") {
				v := compute.Sale{ID: rapid.SampledFrom([]string{"S1", "S2", "Ida"}).Draw(t, "sale"), Load: rapid.SampledFrom([]string{"", "K1", "K2", "K9"}).Draw(t, "from")}
				if rapid.Bool().Draw(t, "dated") {
					v.Date = on(rapid.IntRange(1, 5).Draw(t, "day"))
				}
				if rapid.IntRange(0, 3).Draw(t, "own") == 0 {
					v.OwnUse = "shelf"
				}
				if rapid.Bool().Draw(t, "by number") {
					v.Boards = rapid.SliceOfN(rapid.SampledFrom([]string{"1", "2", "3", "5", "8"}), 1, 4).Draw(t, "ids")
				} else {
					v.Pieces = rapid.IntRange(1, 9).Draw(t, "pieces")
				}
				s.sale(v)
			}
			if rapid.Bool().Draw(t, "week dated") {
				s.job.Air = append(s.job.Air, compute.Air{Origin: s.origin(), Time: on(10 + w)})
			}
			weeks = append(weeks, s.week())
		}
		one := Join(weeks)
		balanced(t, one)
		shuffled := rapid.Permutation(weeks).Draw(t, "order")
		if d := cmp.Diff(one.Lines, Join(shuffled).Lines); d != "" {
			t.Errorf("the order the weeks are given in changes the stock:\n%s", d)
		}
		if d := cmp.Diff(one.Findings, Join(shuffled).Findings); d != "" {
			t.Errorf("the order the weeks are given in changes the findings:\n%s", d)
		}
	})
}

// codes lists the codes of the findings.
func codes(b *Yearbook) []finding.Code {
	var all []finding.Code
	for _, f := range b.Findings {
		all = append(all, f.Code)
	}
	return all
}

// TestFindingsOfJoining: what two weeks can't agree on is said once, with what was counted all the same.
func TestFindingsOfJoining(t *testing.T) {
	eight := 8 * units.Inch // 1 x 8 in x 8 ft: 5 1/3 board feet
	k1 := compute.Load{ID: "K1", Use: "flooring", Boards: 4, DateIn: on(1), DateOut: on(8)}
	first := func() *sheet {
		return newSheet("a").load(k1).board("K1", "1", eight).board("K1", "2", eight).board("K1", "3", eight).board("K1", "4", eight).
			sale(compute.Sale{ID: "S1", Load: "K1", Boards: []string{"1"}, Date: on(9)})
	}
	for _, tt := range []struct {
		name  string
		later *sheet
		want  []finding.Code
		count Count
	}{
		{"nothing new", newSheet("b").load(k1), nil, Count{4, 1, 0, 3}},
		{"another use", newSheet("b").load(compute.Load{ID: "k-1", Use: "siding", Boards: 4}), []finding.Code{"S001"}, Count{4, 1, 0, 3}},
		{"another number of boards", newSheet("b").load(compute.Load{ID: "K1", Boards: 6}), []finding.Code{"S001"}, Count{6, 1, 0, 5}},
		{"the name of an earlier load", newSheet("b").load(compute.Load{ID: "K1", Boards: 2, DateIn: on(10)}).board("K1", "1", eight), []finding.Code{"S002"}, Count{6, 1, 0, 5}},
		{"sold in a later week", newSheet("b").load(k1).sale(compute.Sale{ID: "S2", Load: "K1", Boards: []string{"2", "3"}, Date: on(12)}), nil, Count{4, 3, 0, 1}},
		{"used in a later week", newSheet("b").load(k1).sale(compute.Sale{ID: "own use", OwnUse: "a shelf", Load: "K1", Boards: []string{"2"}, Date: on(12)}), nil, Count{4, 1, 1, 2}},
		{"sold without its load", newSheet("b").sale(compute.Sale{ID: "S2", Boards: []string{"2"}, Date: on(12)}), nil, Count{4, 2, 0, 2}},
		{"the same sale carried over", newSheet("b").load(k1).sale(compute.Sale{ID: "S1", Load: "K1", Boards: []string{"1"}, Date: on(9)}), nil, Count{4, 1, 0, 3}},
		{"sold twice", newSheet("b").load(k1).sale(compute.Sale{ID: "S2", Load: "K1", Boards: []string{"1"}, Date: on(12)}), []finding.Code{"S003"}, Count{4, 1, 0, 3}},
		{"a board nobody knows", newSheet("b").load(k1).sale(compute.Sale{ID: "S2", Load: "K1", Boards: []string{"9"}, Date: on(12)}), []finding.Code{"S004"}, Count{4, 1, 0, 3}},
		{"by the piece", newSheet("b").load(k1).sale(compute.Sale{ID: "S2", Load: "K1", Pieces: 2, Date: on(12)}), nil, Count{4, 3, 0, 1}},
		{"more pieces than are left", newSheet("b").load(k1).sale(compute.Sale{ID: "S2", Load: "K1", Pieces: 7, Date: on(12)}), []finding.Code{"S005"}, Count{4, 4, 0, 0}},
		{"pieces of no load", newSheet("b").sale(compute.Sale{ID: "S2", Pieces: 2, Date: on(12)}), []finding.Code{"S011"}, Count{4, 1, 0, 3}},
		{"another width", newSheet("b").load(k1).board("K1", "2", 5*units.Inch), []finding.Code{"S007"}, Count{4, 1, 0, 3}},
		{"a width that drying explains", newSheet("b").load(k1).board("K1", "2", 8*units.Inch-units.Inch/4), nil, Count{4, 1, 0, 3}},
		{"a number in no load", newSheet("b").load(k1).load(compute.Load{ID: "K2", Boards: 1}).board("", "2", eight), []finding.Code{"S008"}, Count{6, 1, 0, 5}},
		{"no day", newSheet("undated").load(compute.Load{ID: "K2", Boards: 1}), []finding.Code{"S010"}, Count{5, 1, 0, 4}},
		{"the same bytes", func() *sheet { s := first(); s.job.Name = "b"; s.job.Files[0].Name = "b.xlsx"; return s }(), []finding.Code{"S013"}, Count{4, 1, 0, 3}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if tt.name != "no day" {
				tt.later.job.Air = append(tt.later.job.Air, compute.Air{Origin: tt.later.origin(), Time: on(13)}) // a day of the week itself
			}
			b := Join([]compute.Week{tt.later.week(), first().week()})
			if got := codes(b); !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v\n%v", got, tt.want, b.Findings)
			}
			if b.All.Boards != tt.count {
				t.Errorf("boards %+v, want %+v", b.All.Boards, tt.count)
			}
			balanced(t, b)
		})
	}
}

// TestPiecesInTwoWeeks: a sale by the piece that stands in two workbooks is one sale; the later number counts.
func TestPiecesInTwoWeeks(t *testing.T) {
	k1 := compute.Load{ID: "K1", Boards: 10}
	for _, tt := range []struct {
		name          string
		early, late   int
		day, otherDay time.Time
		want          []finding.Code
		sold          int
	}{
		{"carried over", 3, 3, on(2), on(2), nil, 3},
		{"corrected", 3, 4, on(2), on(2), []finding.Code{"S006"}, 4},
		{"another day", 3, 3, on(2), on(3), nil, 6},
		{"no day", 3, 3, time.Time{}, time.Time{}, []finding.Code{"S009"}, 3},
		{"one day missing", 3, 3, on(2), time.Time{}, []finding.Code{"S009"}, 3},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, b := newSheet("a").load(k1), newSheet("b").load(k1)
			a.sale(compute.Sale{ID: "S1", Load: "K1", Pieces: tt.early, Date: tt.day})
			b.sale(compute.Sale{ID: "S1", Load: "K1", Pieces: tt.late, Date: tt.otherDay})
			a.job.Weights = []compute.Weight{{Origin: a.origin(), Sample: "x", Load: "K1", Date: on(4), Weight: units.Kilogram}}
			b.job.Weights = []compute.Weight{{Origin: b.origin(), Sample: "x", Load: "K1", Date: on(11), Weight: units.Kilogram}}
			book := Join([]compute.Week{a.week(), b.week()})
			if got := codes(book); !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v\n%v", got, tt.want, book.Findings)
			}
			if book.All.Boards.Sold != tt.sold {
				t.Errorf("sold %d, want %d", book.All.Boards.Sold, tt.sold)
			}
			balanced(t, book)
		})
	}
}

// TestSawnOnce: a row of the saw that stands in two workbooks counts once when its day, load or number tells it; else each time.
func TestSawnOnce(t *testing.T) {
	pine := wood.Species{Name: "eastern white pine"}
	cut := func(s *sheet, when time.Time) *sheet {
		s.job.Cuts = append(s.job.Cuts, compute.Cut{Origin: s.origin(), Species: pine, Thickness: units.Inch, Width: 12 * units.Inch, Length: 8 * units.Foot, Pieces: 5, Date: when})
		s.job.Air = append(s.job.Air, compute.Air{Origin: s.origin(), Time: on(20)})
		return s
	}
	// 1 in x 12 in x 8 ft is 8 board feet (144 cubic inches each).
	for _, tt := range []struct {
		name       string
		a, b       time.Time
		hundredths int64
		want       []finding.Code
	}{
		{"carried over", on(2), on(2), 4000, []finding.Code{"S012"}},
		{"two days", on(2), on(3), 8000, nil},
		{"no day", time.Time{}, time.Time{}, 8000, []finding.Code{"S014"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := Join([]compute.Week{cut(newSheet("a"), tt.a).week(), cut(newSheet("b"), tt.b).week()})
			if len(b.Sawn) != 1 || b.Sawn[0].Feet.Hundredths != tt.hundredths {
				t.Errorf("sawn %+v, want %d hundredths", b.Sawn, tt.hundredths)
			}
			if got := codes(b); !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v\n%v", got, tt.want, b.Findings)
			}
		})
	}
}

// TestWeeksGoByTheirDays: which week counts is told by its days, not by the name of its file.
func TestWeeksGoByTheirDays(t *testing.T) {
	late := newSheet("a").load(compute.Load{ID: "K1", Boards: 1, Use: "siding"}).board("K1", "1", 8*units.Inch)
	early := newSheet("b").load(compute.Load{ID: "K1", Boards: 1, Use: "siding"}).board("K1", "1", 8*units.Inch-units.Inch/8)
	late.job.Sales = []compute.Sale{{Origin: late.origin(), ID: "S9", Load: "K1", Boards: []string{"1"}, Date: on(9)}}
	early.job.Sales = []compute.Sale{{Origin: early.origin(), ID: "S2", Load: "K1", Boards: []string{"1"}, Date: on(2)}}
	b := Join([]compute.Week{late.week(), early.week()})
	if got := b.Weeks[0].Name + b.Weeks[1].Name; got != "ba" {
		t.Errorf("order of weeks: got %s, want ba", got)
	}
	if got := b.Boards[0]; got.Width != 8*units.Inch || got.Sale != "S2" {
		t.Errorf("width %v in sale %s; want the later width, 8 in, and the earlier sale, S2", got.Width, got.Sale)
	}
	if got := codes(b); !slices.Equal(got, []finding.Code{"S003"}) || b.Findings[0].Place.File != "a.xlsx" {
		t.Errorf("got %v, want S003 in a.xlsx", b.Findings)
	}
}

// TestBoardKnownByItsPlace: a board read by its place in one week and listed with number and place in another is one board.
func TestBoardKnownByItsPlace(t *testing.T) {
	k1 := compute.Load{ID: "K1", Boards: 2, Courses: 1, Spots: 2}
	first, second := newSheet("a").load(k1), newSheet("b").load(k1)
	for spot := 1; spot <= 2; spot++ {
		first.job.Readings = append(first.job.Readings, compute.Reading{Taking: &compute.Taking{Field: "reading", Load: "K1", Date: on(3)}, Origin: first.origin("reading"), Course: 1, Spot: spot,
			Value: units.Reading{State: units.Number, MC: units.Percent(8)}, WoodTemp: units.Celsius(20)})
	}
	second.board("K1", "1", 8*units.Inch)
	second.job.Boards[0].Course, second.job.Boards[0].Spot = 1, 2
	b := Join([]compute.Week{first.week(), second.week()})
	if b.All.Boards.Made != 2 || len(b.Boards) != 2 {
		t.Errorf("%d boards, %d listed; want 2: that of spot 1, and the one numbered 1 in spot 2", b.All.Boards.Made, len(b.Boards))
	}
	for _, board := range b.Boards {
		if board.MC.State != units.Number {
			t.Errorf("board %s: its reading was lost", board.ID)
		}
	}
	balanced(t, b)
}
