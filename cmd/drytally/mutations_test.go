package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"drytally/compute"
	"drytally/ingest"
	"drytally/ingest/bind"
	"drytally/ingest/sheet"
	"drytally/report"
)

// sheetRow is one row of a sheet.
type sheetRow struct {
	file, sheet string
	row         int
}

// taken is what the whole program made of a week.
type taken struct {
	refused string // the code of a refusal of the whole
	books   []*sheet.Workbook
	result  *compute.Result
	fates   map[sheetRow]compute.RowFate
	json    string
}

// throughAll takes a week through the whole program: reading, assessing, papers in memory.
func throughAll(w week) (*taken, error) {
	g := &taken{fates: map[sheetRow]compute.RowFate{}}
	for _, f := range w.files {
		book, err := ingest.Open(f.name, f.data)
		var refused *ingest.FileError
		switch {
		case errors.As(err, &refused):
			if refused.Code == "" || err.Error() == "" {
				return nil, fmt.Errorf("refused without a word: %v", err)
			}
			g.refused = string(refused.Code)
			return g, nil
		case err != nil:
			return nil, fmt.Errorf("an error that isn't for the owner: %w", err)
		}
		g.books = append(g.books, book)
	}
	g.result = compute.Assess(bind.Bind(w.name, g.books))
	if err := g.account(); err != nil {
		return nil, err
	}
	if err := report.Check(io.Discard, g.result); err != nil {
		return nil, fmt.Errorf("check: %w", err)
	}
	if g.result.UsedRows() == 0 {
		g.refused = "no table"
		return g, nil
	}
	files, err := report.Papers(g.result, report.About{Version: "test"})
	if err != nil {
		return nil, fmt.Errorf("papers: %w", err)
	}
	if err := report.Summary(io.Discard, g.result, "papers", files); err != nil {
		return nil, fmt.Errorf("summary: %w", err)
	}
	for _, f := range files {
		switch filepath.Ext(f.Name) {
		case ".pdf":
			if !bytes.HasPrefix(f.Data, []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(f.Data), []byte("%%EOF")) {
				return nil, fmt.Errorf("%s is no whole PDF", f.Name)
			}
		case ".xlsx":
			if _, err := ingest.Open(f.Name, f.Data); err != nil {
				return nil, fmt.Errorf("%s can't be read: %w", f.Name, err)
			}
		case ".json":
			g.json = string(f.Data)
			if err := g.countsIn(f.Data); err != nil {
				return nil, fmt.Errorf("%s: %w", f.Name, err)
			}
		}
	}
	if g.json == "" {
		return nil, errors.New("no results.json among the papers")
	}
	return g, nil
}

// account holds the result against the sheets: every row with content has exactly one fate and no other row has one, and
// every record comes from a row that was used or set aside.
func (g *taken) account() error {
	content := map[sheetRow]bool{}
	for _, book := range g.books {
		for _, s := range book.Sheets {
			name := s.Name
			for _, r := range s.Rows {
				if r.Has(func(c sheet.Cell) bool { return c.Kind != sheet.Blank && strings.TrimSpace(c.Text) != "" || c.NoResult }) {
					content[sheetRow{book.Name, name, r.Number}] = true
				}
			}
		}
	}
	for _, a := range g.result.Accounts {
		for f := range a.Rows.All() {
			at := sheetRow{a.File, a.Sheet, f.Row}
			if _, twice := g.fates[at]; twice || !content[at] {
				return fmt.Errorf("%v has two fates, or one and no content", at)
			}
			if f.Fate == compute.SetAside && f.Why == "" {
				return fmt.Errorf("%v is set aside and doesn't say why", at)
			}
			g.fates[at] = f
		}
	}
	if len(g.fates) != len(content) {
		return fmt.Errorf("%d rows with content, %d fates: rows are lost", len(content), len(g.fates))
	}
	return nil
}

// countsIn holds the counts in results.json against the sheets.
func (g *taken) countsIn(data []byte) error {
	var r struct {
		Sheets []struct {
			Content int `json:"rows_with_content"`
			Used    int `json:"rows_used"`
			Aside   int `json:"rows_set_aside"`
			Not     int `json:"rows_not_data"`
		} `json:"sheets"`
	}
	if err := json.Unmarshal(data, &r); err != nil {
		return err
	}
	all := 0
	for _, s := range r.Sheets {
		if s.Used+s.Aside+s.Not != s.Content {
			return fmt.Errorf("%d used, %d set aside, %d not data of %d rows", s.Used, s.Aside, s.Not, s.Content)
		}
		all += s.Content
	}
	if all != len(g.fates) {
		return fmt.Errorf("%d rows, the sheets have %d", all, len(g.fates))
	}
	return nil
}

// find gives the cells in which a marker stands, and the format of the last.
func (g *taken) find(marker string) (at []sheetRow, col []int, format sheet.Format) {
	for _, book := range g.books {
		for _, s := range book.Sheets {
			for _, r := range s.Rows {
				for c := range r.Cells() {
					if c.Text == marker || c.Kind == sheet.Number && strconv.FormatFloat(c.Number, 'f', -1, 64) == marker {
						at, col, format = append(at, sheetRow{book.Name, s.Name, r.Number}), append(col, c.Col), c.Format
					}
				}
			}
		}
	}
	return at, col, format
}

// told reports whether the owner is told of a cell: by a finding at it, at its row, or at a heading above it.
func (g *taken) told(at sheetRow, col int) bool {
	for _, f := range g.result.Findings {
		p := f.Place
		sameSheet := p.File == at.file && (p.Sheet == at.sheet || p.Sheet == "")
		if sameSheet && (p.Row == at.row || p.Row < at.row && p.Col == col || p.Row == 0) {
			return true
		}
	}
	return false
}

// judge says what is wrong with what was made of a mutated week.
func judge(m mutated, before, g *taken) error {
	if !m.sound {
		return nil
	}
	if g.refused != "" {
		// A table of text has no other mark of what it is than its headings and its separators.
		if strings.HasSuffix(m.files[0].name, ".xlsx") {
			return fmt.Errorf("a properly written workbook is refused: %s", g.refused)
		}
		return nil
	}
	if got, want := len(g.fates), len(before.fates)+m.rows; got != want {
		return fmt.Errorf("%d rows have a fate, want %d", got, want)
	}
	if m.same && (g.result.UsedRows() != before.result.UsedRows() || g.result.SetAside() != before.result.SetAside()) {
		return fmt.Errorf("%d rows used and %d set aside, before %d and %d", g.result.UsedRows(), g.result.SetAside(), before.result.UsedRows(), before.result.SetAside())
	}
	if m.marker == "" {
		return nil
	}
	at, col, kind := g.find(m.marker)
	if len(at) != 1 {
		return fmt.Errorf("%q stands in %d cells as read", m.marker, len(at))
	}
	was, is := before.fates[at[0]], g.fates[at[0]]
	switch {
	case kind != sheet.General && kind != sheet.Fraction && kind != sheet.Percent:
		return nil // a number in a cell of dates is a date, and stands as one in the results
	case is.Why == "legend":
		return nil // read as the owner's name for a wood, whatever stands beside it
	case is.Kind == compute.KindSettings && is.Fate == compute.Used && col[0] > 2:
		return nil // a remark beside a setting
	}
	quoted, _ := json.Marshal(m.marker)
	inside := string(quoted[1 : len(quoted)-1])
	switch {
	case is.Fate == compute.Used && !strings.Contains(g.json, inside) && !g.told(at[0], col[0]):
		return fmt.Errorf("row %v is used, and what stands in column %d is neither used nor told", at[0], col[0])
	case was.Fate == compute.Used && is.Fate == compute.NotData && !g.told(at[0], col[0]):
		return fmt.Errorf("row %v was used and is not data now (%s), and nobody is told", at[0], is.Why)
	}
	return nil
}

// mostTime is how long the whole program may take over one small week on a busy machine with the race detector.
const mostTime = 60 * time.Second

// TestMutations takes mutated demo weeks through the whole program: no panic, no hang, no row lost, and what was put into a
// cell is used or told. DRYTALLY_MUTATIONS says how many, DRYTALLY_SEED which.
func TestMutations(t *testing.T) {
	count, seed := 40, uint64(1)
	if testing.Short() {
		count = 16
	}
	for name, set := range map[string]func(n int){"DRYTALLY_MUTATIONS": func(n int) { count = n }, "DRYTALLY_SEED": func(n int) { seed = uint64(n) }} {
		if s := os.Getenv(name); s != "" {
			n, err := strconv.Atoi(s)
			if err != nil || n < 1 {
				t.Fatalf("%s is %q, want a number", name, s)
			}
			set(n)
		}
	}
	weeks := demoWeeks(t)
	var before []*taken
	for _, w := range weeks {
		g, err := throughAll(w)
		if err != nil || g.refused != "" {
			t.Fatalf("%s: %v %v", w.name, err, g)
		}
		before = append(before, g)
	}
	var mu sync.Mutex
	fates := map[string]int{}
	slowest, slow := time.Duration(0), ""
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for n := range next {
				rng := rand.New(rand.NewPCG(seed, uint64(n)))
				i := rng.IntN(len(weeks))
				m := mutate(rng, weeks[i])
				began := time.Now()
				g, err := limited(m.week)
				if err == nil {
					err = judge(m, before[i], g)
				}
				took := time.Since(began)
				mu.Lock()
				switch {
				case err != nil:
					fates["wrong"]++
					t.Errorf("seed %d, number %d: %s: %v", seed, n, m.what, err)
				case g.refused != "":
					fates["refused"]++
				case g.result.SetAside() > before[i].result.SetAside() || len(g.result.Withheld()) > len(before[i].result.Withheld()):
					fates["rows set aside or papers withheld"]++
				case len(g.result.Findings) > len(before[i].result.Findings):
					fates["told in a finding"]++
				default:
					fates["read"]++
				}
				if m.marker != "" {
					fates["(with a marker in a cell)"]++
				}
				if took > slowest {
					slowest, slow = took, m.what
				}
				mu.Unlock()
			}
		})
	}
	for n := range count {
		next <- n
	}
	close(next)
	wg.Wait()
	t.Logf("%d mutations of seed %d: %v; the slowest took %v (%s)", count, seed, fates, slowest.Round(time.Millisecond), slow)
	if fates["refused"] == 0 || fates["rows set aside or papers withheld"] == 0 || fates["(with a marker in a cell)"] == 0 {
		t.Error("a kind of outcome never came up: the mutations are too weak")
	}
}

// limited runs a week through the program, turns a panic into an error and gives up after a time.
func limited(w week) (*taken, error) {
	type end struct {
		g   *taken
		err error
	}
	done := make(chan end, 1)
	go func() {
		var e end
		defer func() {
			if r := recover(); r != nil {
				e.err = fmt.Errorf("panic: %v\n%s", r, debug.Stack())
			}
			done <- e
		}()
		e.g, e.err = throughAll(w)
	}()
	select {
	case e := <-done:
		return e.g, e.err
	case <-time.After(mostTime):
		return nil, fmt.Errorf("not done after %v", mostTime)
	}
}
