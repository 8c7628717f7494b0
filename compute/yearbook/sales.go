package yearbook

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/footage"
)

// Sale is one sale over all weeks, or what the mill used itself.
type Sale struct {
	Origin  compute.Origin // of its first row
	ID      string
	Buyer   string
	OwnUse  string // what the mill used them for; empty when they were sold
	Date    time.Time
	Loads   []string
	Boards  []string          // by number
	Pieces  int               // further boards without a number
	Footage []compute.Footage // of the boards by number and about of the others, one per rule
	Unsized int               // boards of it without a footage
	About   bool              // Footage holds a share of a load for boards without a number
}

// account is a Sale in the making.
type account struct {
	Sale
	key    string
	boards []*board
	feet   map[compute.FootageRule]footage.Feet
}

// lot is boards of a load that were sold or used by the piece, without their numbers.
type lot struct {
	of     *account
	load   int
	week   int // that says so last
	pieces int
	row    *compute.Sale // the first row of that week
}

// saleKey tells sales apart: by number and day. What stands in several workbooks is one sale.
func saleKey(s *compute.Sale) string {
	kind := "sold"
	if s.OwnUse != "" {
		kind = "used " + strings.ToLower(s.OwnUse)
	}
	return strings.Join([]string{kind, compute.IDKey(s.ID), dayWords(s.Date)}, "\x00")
}

// takeSales takes in the sold rows of a week.
func (j *join) takeSales(w int) {
	for i := range j.weeks[w].Sales {
		row := &j.weeks[w].Sales[i]
		k := saleKey(row)
		a := j.sales[k]
		if a == nil {
			a = &account{key: k, Sale: Sale{Origin: row.Origin, ID: row.ID, OwnUse: row.OwnUse, Date: row.Date}, feet: map[compute.FootageRule]footage.Feet{}}
			j.sales[k] = a
			j.order = append(j.order, a)
		}
		if a.Buyer == "" {
			a.Buyer = row.Buyer
		}
		for _, id := range row.Boards {
			j.sell(w, row, a, id)
		}
		if len(row.Boards) == 0 && row.Pieces > 0 {
			j.takeLot(w, row, a)
		}
	}
}

// sell gives one board to a sale, once.
func (j *join) sell(w int, row *compute.Sale, a *account, id string) {
	at, why := j.boardOf(w, row, id)
	if at < 0 {
		j.say("S004", row.Origin.At("boards"), id, "correct the number, or write the load beside it", "sale %q names board %q, which %s; it was not counted", row.ID, id, why)
		return
	}
	b := j.boards[at]
	switch {
	case b.of == nil:
		b.of, b.soldAt = a, row.Origin.At("boards")
		b.Fate, b.Sale, b.Buyer, b.Date = Sold, a.ID, row.Buyer, row.Date
		if row.OwnUse != "" {
			b.Fate, b.Sale = UsedByMill, row.OwnUse
		}
		a.boards = append(a.boards, b)
	case b.of == a && !(same(b.soldAt, row.Origin.At("boards"))):
		// It stands in several workbooks, or twice in one: one sale.
	case b.of != a && !j.oneSale(b.of, a):
		j.say("S003", row.Origin.At("boards"), id, "take it out of one of the two", "board %q went in %s already (%s); it was counted there alone", b.named(), b.of.words(), b.soldAt)
	}
}

// oneSale reports whether two accounts are one sale of which one row has no day.
func (j *join) oneSale(a, b *account) bool {
	return compute.SameID(a.ID, b.ID) && (a.OwnUse == "") == (b.OwnUse == "") && (a.Date.IsZero() || b.Date.IsZero())
}

// words names a sale.
func (a *account) words() string {
	if a.OwnUse != "" {
		return "the mill's own use (" + a.OwnUse + ")"
	}
	return "sale " + a.ID
}

// boardOf finds the board a sale names: that of its load; else that of its own week when only one load there has the number;
// else the only one of all weeks.
func (j *join) boardOf(w int, row *compute.Sale, id string) (at int, why string) {
	k := compute.IDKey(id)
	if row.Load != "" {
		load := j.loadAt(w, row.Load)
		if load < 0 {
			return -1, "is of a load that stands in no workbook"
		}
		if at, ok := j.find[boardKey{load, k}]; ok && !j.boards[at].gone {
			return at, ""
		}
		if at, ok := j.find[boardKey{-1, k}]; ok && len(j.byID[k]) == 1 {
			return at, "" // listed without its load, and there is no other of that number
		}
		return -1, "is in no workbook's boards of that load"
	}
	var here, all []int
	for _, at := range j.byID[k] {
		if b := j.boards[at]; !b.gone {
			all = append(all, at)
			if slices.ContainsFunc(j.weeks[w].Boards, func(wb compute.WeekBoard) bool {
				return compute.IDKey(wb.Board.ID) == k && (wb.Board.Load == "" && b.key.load < 0 || wb.Board.Load != "" && j.loadAt(w, wb.Board.Load) == b.key.load)
			}) {
				here = append(here, at)
			}
		}
	}
	switch {
	case len(here) == 1:
		return here[0], ""
	case len(all) == 1:
		return all[0], ""
	case len(all) == 0:
		return -1, "is in no workbook"
	}
	return -1, "is in several loads"
}

// takeLot takes boards sold by the piece. Rows of one week add up; another week that says the same sale again supersedes it.
func (j *join) takeLot(w int, row *compute.Sale, a *account) {
	load := j.onlyLoad(w)
	if row.Load != "" {
		load = j.loadAt(w, row.Load)
	}
	if load < 0 {
		j.say("S011", row.Origin.At("pieces"), cmp.Or(row.Load, row.ID), "write the load beside it, or the numbers of the boards", "sale %q takes %d pieces, but of which load is not known; they were not counted", row.ID, row.Pieces)
		return
	}
	for _, l := range j.lots {
		if l.load != load || l.of != a && (l.week == w || !j.oneSale(l.of, a)) {
			continue
		}
		if l.week == w {
			l.pieces += row.Pieces
			return
		}
		if row.Date.IsZero() {
			j.say("S009", row.Origin.At("date"), row.ID, "write the day of the sale", "sale %q of pieces of load %q has no date and stands in %s too; it was counted once", row.ID, j.loads[load].Name, l.row.Origin.At("pieces"))
		}
		if sum := j.piecesOf(w, row, load); sum != l.pieces {
			j.say("S006", row.Origin.At("pieces"), "", "correct the one that is wrong", "sale %q takes %d pieces of load %q here and %d in %s; the later one counts", row.ID, sum, j.loads[load].Name, l.pieces, l.row.Origin.At("pieces"))
		}
		l.week, l.pieces, l.row = w, row.Pieces, row
		return
	}
	j.lots = append(j.lots, &lot{of: a, load: load, week: w, pieces: row.Pieces, row: row})
}

// piecesOf adds up the rows of a week that sell pieces of a load in the sale of a row.
func (j *join) piecesOf(w int, row *compute.Sale, load int) int {
	sum := 0
	for i := range j.weeks[w].Sales {
		s := &j.weeks[w].Sales[i]
		of := j.onlyLoad(w)
		if s.Load != "" {
			of = j.loadAt(w, s.Load)
		}
		if len(s.Boards) == 0 && of == load && saleKey(s) == saleKey(row) {
			sum += s.Pieces
		}
	}
	return sum
}

// sortSales puts the sales in order of their days, those without one first.
func (j *join) sortSales() {
	slices.SortStableFunc(j.order, func(a, b *account) int { return cmp.Or(a.Date.Compare(b.Date), strings.Compare(a.key, b.key)) })
	for _, a := range j.order {
		for _, b := range a.boards {
			a.Boards = append(a.Boards, b.ID)
			if b.Load != "" && !slices.Contains(a.Loads, b.Load) {
				a.Loads = append(a.Loads, b.Load)
			}
		}
		slices.SortFunc(a.Boards, compute.CompareIDs)
		for _, rule := range Rules {
			if f, ok := a.feet[rule]; ok {
				a.Footage = append(a.Footage, compute.Footage{Rule: rule, Hundredths: f.Hundredths(), Known: true})
			}
		}
		if len(a.Boards) > 0 || a.Pieces > 0 {
			j.book.Sales = append(j.book.Sales, a.Sale)
		}
	}
}

// Rules are the rules of footage in the order of the papers.
var Rules = []compute.FootageRule{compute.SurfaceMeasure, compute.VolumeMeasure, compute.SoftwoodNominal}
