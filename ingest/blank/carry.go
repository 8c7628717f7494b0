package blank

import (
	"cmp"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest"
	"drytally/ingest/bind"
	"drytally/ingest/sheet"
)

// Carried says what a new workbook took over from an earlier one, and what it left behind.
type Carried struct {
	Last      string // the earlier workbook
	Settings  int
	Loads     []CarriedLoad // in the order of the loads sheet
	Loose     int           // boards of no load that the loads sheet names
	Wanted    int
	Climate   int      // months
	Air       int      // lines of the air log and of probes
	Sales     []string // whose papers come out again
	Gone      []string // loads left behind: dry, out of the kiln and sold out
	SalesGone int      // rows of sales left behind
	Cuts      int      // rows of cuts left behind because they name no load
	CutBoards int      // boards of these rows
	CutRows   string   // where they stand: Cuts rows 5 to 9, 12
	Unread    []string // headings of columns that are not read, so that nothing of them can be carried
	SetAside  int      // rows the earlier workbook's reading had set aside
	Failed    []string // rows and settings that can't be written so that they read back the same

	before map[string]compute.Verdict // of the loads of the earlier workbook
}

// CarriedLoad is a load taken over with all of its rows.
type CarriedLoad struct {
	ID              string
	Verdict, Before compute.Verdict // in the new workbook and in the earlier one
	Out             bool            // it has a date out
	Boards, Sold    int             // boards of the load, and how many of them are sold
	Readings        int
	Weights         int
}

// Unsound says that a workbook holds errors, so that nothing of it is carried over: a reading that can't be read would be lost without
// a word, and a load it keeps from being dry would be dry.
type Unsound struct {
	Last   string
	Errors int
	First  finding.Finding
}

func (e *Unsound) Error() string {
	what := "errors"
	if e.Errors == 1 {
		what = "error"
	}
	return fmt.Sprintf("%s holds %d %s, and what can't be read can't be carried over; the first: %s\n    hint: correct them, or clear the cells that are not meant; drytally check names them all", e.Last, e.Errors, what, e.First)
}

// From makes a workbook that carries over what is still open in an earlier one: the owner's settings, every load that is not
// dry, not out of the kiln or not sold out, with all that is known of it, boards of no load that are not sold, the wanted
// pieces and the climate. What it makes was read back: the records are the same, or it is an error.
func From(last ingest.Set) ([]byte, Carried, error) {
	books, err := last.Books()
	if err != nil {
		return nil, Carried{}, err
	}
	job, settings := bind.BindAndWrite(last.Name, books)
	result := compute.Assess(job)
	// What could not be read can't be carried over, and with it would go the reason for which papers are withheld.
	if n := result.Findings.Count(finding.Error); n > 0 {
		at := slices.IndexFunc(result.Findings, func(f finding.Finding) bool { return f.Severity == finding.Error })
		return nil, Carried{}, &Unsound{Last: last.Owner(), Errors: n, First: result.Findings[at]}
	}
	return carry(last, result, settings)
}

// carry makes the new workbook of what was understood of the last one.
func carry(last ingest.Set, result *compute.Result, settings map[string]string) ([]byte, Carried, error) {
	job := result.Job
	kept, c := choose(result)
	c.Last = last.Owner()
	f := filling{system: job.Settings.System, settings: settings, written: bind.Write(kept), last: c.Last, left: c.CutRows,
		aliases: slices.Sorted(maps.Keys(job.Settings.Aliases))}
	c.Failed = append(c.Failed, f.written.Failed...)
	for _, u := range job.Settings.Used {
		if text, given := settings[u.Name]; given && text == "" {
			c.Failed = append(c.Failed, fmt.Sprintf("%s: the setting %q can't be written so that it reads back the same", u.Place, u.Name))
			delete(settings, u.Name)
		}
	}
	c.Settings = len(settings)
	data, err := f.make()
	if err != nil {
		return nil, Carried{}, err
	}
	again, err := readBack(data, f.written.Job, settings)
	if err != nil {
		return nil, Carried{}, err
	}
	c.count(f.written.Job, compute.Assess(again))
	return data, c, nil
}

// asBefore reports whether a finding is of what was carried over as it stands: a mark for "about", signs no paper can show, a long piece.
func asBefore(code finding.Code) bool {
	return code == finding.CellAbout || code == "T061" || code == "T072" || code == "T062" || code == "T063"
}

// readBack reads a workbook just made and holds it against what was written into it.
func readBack(data []byte, want *compute.Job, settings map[string]string) (*compute.Job, error) {
	book, err := ingest.Open("new.xlsx", data)
	if err != nil {
		return nil, fmt.Errorf("the new workbook can't be read back, and was not written: %w", err)
	}
	got, gave := bind.BindAndWrite("new", []*sheet.Workbook{book})
	for _, f := range got.Findings {
		if !asBefore(f.Code) {
			return nil, fmt.Errorf("the new workbook does not read back as it should, and was not written: %s", f)
		}
	}
	if !maps.Equal(gave, settings) {
		return nil, fmt.Errorf("the settings don't read back the same from the new workbook; it was not written")
	}
	if kind := Differ(want, got); kind != "" {
		return nil, fmt.Errorf("%s don't read back the same from the new workbook; it was not written", kind)
	}
	return got, nil
}

// Differ names the first kind of record in which two jobs differ, apart from the cells they come from; "" when they are the
// same.
func Differ(a, b *compute.Job) string {
	for _, x := range []struct {
		kind string
		a, b any
	}{{"loads", a.Loads, b.Loads}, {"boards", a.Boards, b.Boards}, {"readings", a.Readings, b.Readings}, {"weights", a.Weights, b.Weights},
		{"lines of the air log", a.Air, b.Air}, {"core temperatures", a.Core, b.Core}, {"cuts", a.Cuts, b.Cuts}, {"wanted pieces", a.Wanted, b.Wanted},
		{"sales", a.Sales, b.Sales}, {"months", a.Climate, b.Climate}} {
		v, w := reflect.ValueOf(x.a), reflect.ValueOf(x.b)
		if v.Len() != w.Len() {
			return x.kind
		}
		for i := range v.Len() {
			if !reflect.DeepEqual(placeless(v.Index(i)), placeless(w.Index(i))) {
				return x.kind
			}
		}
	}
	return ""
}

// placeless copies a record without the place it was read from.
func placeless(record reflect.Value) any {
	c := reflect.New(record.Type()).Elem()
	c.Set(record)
	for _, name := range []string{"Origin", "Field"} {
		if f := c.FieldByName(name); f.IsValid() {
			f.SetZero()
		}
	}
	return c.Interface()
}

// chooser decides what of a workbook is still open.
type chooser struct {
	r    *compute.Result
	gone map[string]bool // loads left behind, by their own writing
	only string          // the one load of the workbook: rows that name none are of it
}

// choose parts what is still open from what is done with.
func choose(r *compute.Result) (*compute.Job, Carried) {
	c := chooser{r: r, gone: map[string]bool{}}
	if len(r.Loads) == 1 {
		c.only = r.Loads[0].Load.ID
	}
	for i := range r.Loads {
		c.gone[r.Loads[i].Load.ID] = c.soldOut(&r.Loads[i])
	}
	c.joinSales()
	kept := &compute.Job{Name: r.Job.Name, Settings: r.Job.Settings, Findings: r.Job.Findings, Wanted: r.Job.Wanted, Climate: r.Job.Climate}
	out := Carried{SetAside: r.SetAside(), before: map[string]compute.Verdict{}}
	for i := range r.Loads {
		out.before[r.Loads[i].Load.ID] = r.Loads[i].Verdict
		if l := r.Loads[i].Load; c.gone[l.ID] {
			out.Gone = append(out.Gone, l.ID)
		} else {
			kept.Loads = append(kept.Loads, *l)
		}
	}
	j := r.Job
	sold := map[*compute.Board]string{}
	for i := range r.Boards {
		sold[r.Boards[i].Board] = r.Boards[i].Sold
	}
	for i := range j.Boards {
		b := &j.Boards[i]
		if c.keeps(b.Load, "") && (c.loadOf(b.Load) != "" || sold[b] == "" || c.keepsSale(sold[b])) {
			kept.Boards = append(kept.Boards, *b)
		}
	}
	kept.Readings = only(j.Readings, func(x compute.Reading) bool { return c.keeps(x.Load, x.Board) })
	kept.Weights = only(j.Weights, func(x compute.Weight) bool { return c.keeps(x.Load, "") })
	kept.Air = only(j.Air, func(x compute.Air) bool { return c.keeps(x.Load, "") })
	kept.Core = only(j.Core, func(x compute.Core) bool { return c.keeps(x.Load, "") })
	var left []compute.Origin
	kept.Cuts = only(j.Cuts, func(x compute.Cut) bool {
		if x.Load == "" && c.only == "" {
			out.Cuts, out.CutBoards, left = out.Cuts+1, out.CutBoards+x.Pieces, append(left, x.Origin)
			return false
		}
		return c.keeps(x.Load, "")
	})
	out.CutRows = rowsOf(left)
	for _, f := range j.Findings {
		if (f.Code == "T003" || f.Code == "T071") && !slices.Contains(out.Unread, f.Stands) {
			out.Unread = append(out.Unread, f.Stands)
		}
	}
	kept.Sales = only(j.Sales, func(x compute.Sale) bool { return c.keepsSale(x.ID) })
	out.SalesGone = len(j.Sales) - len(kept.Sales)
	return kept, out
}

// rowsOf names rows in the order they stand: Cuts rows 5 to 9, 12; Pine row 4.
func rowsOf(all []compute.Origin) string {
	var sheets []string
	runs := map[string][]string{}
	counts := map[string]int{}
	for i := 0; i < len(all); {
		at := all[i].At("")
		name := cmp.Or(at.Sheet, at.File)
		n := 1
		for i+n < len(all) && all[i+n].SameSheet(all[i]) && all[i+n].Row == all[i].Row+n {
			n++
		}
		if runs[name] == nil {
			sheets = append(sheets, name)
		}
		run := fmt.Sprint(all[i].Row)
		if n > 1 {
			run += fmt.Sprintf(" to %d", all[i+n-1].Row)
		}
		runs[name], counts[name] = append(runs[name], run), counts[name]+n
		i += n
	}
	for i, name := range sheets {
		word := "rows"
		if counts[name] == 1 {
			word = "row"
		}
		sheets[i] = name + " " + word + " " + strings.Join(runs[name], ", ")
	}
	return strings.Join(sheets, "; ")
}

func only[T any](all []T, keep func(T) bool) []T {
	var out []T
	for _, x := range all {
		if keep(x) {
			out = append(out, x)
		}
	}
	return out
}

// soldOut reports whether nothing is left to do with a load: it is dry, out of the kiln, and all its boards are sold.
func (c *chooser) soldOut(l *compute.LoadResult) bool {
	if l.Load.DateOut.IsZero() || l.Verdict != compute.DryForUse && l.Verdict != compute.DryButHeldBack {
		return false
	}
	return l.N > 0 && c.sold(l) >= l.N
}

// sold counts the boards of a load that are sold, named or only counted.
func (c *chooser) sold(l *compute.LoadResult) int {
	n := 0
	for _, at := range l.Boards {
		if c.r.Boards[at].Sold != "" {
			n++
		}
	}
	for _, s := range c.r.Job.Sales {
		if len(s.Boards) == 0 && (compute.SameID(s.Load, l.Load.ID) || s.Load == "" && c.only != "") {
			n += s.Pieces
		}
	}
	return n
}

// joinSales keeps loads together that a sale joins: the statement of a sale needs all its boards.
func (c *chooser) joinSales() {
	for changed := true; changed; {
		changed = false
		for _, s := range c.r.Sales {
			if !slices.ContainsFunc(s.Loads, func(l string) bool { return !c.isGone(l) }) {
				continue
			}
			for id, gone := range c.gone {
				if gone && slices.ContainsFunc(s.Loads, func(l string) bool { return compute.SameID(l, id) }) {
					c.gone[id], changed = false, true
				}
			}
		}
	}
}

// loadOf gives the load a name means: itself, or the only one there is.
func (c *chooser) loadOf(name string) string { return cmp.Or(name, c.only) }

func (c *chooser) isGone(load string) bool {
	for id, gone := range c.gone {
		if gone && compute.SameID(id, load) {
			return true
		}
	}
	return false
}

// keeps reports whether a row stays that names a load, or no load but a board.
func (c *chooser) keeps(load, board string) bool {
	if load = c.loadOf(load); load != "" {
		return !c.isGone(load)
	}
	if board == "" {
		return true
	}
	known, open := 0, 0
	for i := range c.r.Boards {
		if b := c.r.Boards[i].Board; compute.SameID(b.ID, board) {
			known++
			if b.Load == "" || !c.isGone(b.Load) {
				open++
			}
		}
	}
	return known == 0 || open > 0
}

// keepsSale reports whether a sale stays: it holds boards of a load that stays.
func (c *chooser) keepsSale(id string) bool {
	for _, s := range c.r.Sales {
		if compute.SameID(s.ID, id) {
			return slices.ContainsFunc(s.Loads, func(l string) bool { return !c.isGone(l) })
		}
	}
	return false
}

// count tells what the new workbook holds: the records that went into it, and what they come to.
func (c *Carried) count(kept *compute.Job, now *compute.Result) {
	ch := chooser{r: now}
	if len(now.Loads) == 1 {
		ch.only = now.Loads[0].Load.ID
	}
	for i := range now.Loads {
		l := &now.Loads[i]
		one := CarriedLoad{ID: l.Load.ID, Verdict: l.Verdict, Before: c.before[l.Load.ID], Out: !l.Load.DateOut.IsZero(), Boards: l.N, Sold: ch.sold(l)}
		for _, r := range kept.Readings {
			if compute.SameID(ch.readingLoad(r), l.Load.ID) {
				one.Readings++
			}
		}
		for _, w := range kept.Weights {
			if compute.SameID(ch.loadOf(w.Load), l.Load.ID) {
				one.Weights++
			}
		}
		c.Loads = append(c.Loads, one)
	}
	for _, b := range kept.Boards {
		if !slices.ContainsFunc(c.Loads, func(l CarriedLoad) bool { return compute.SameID(l.ID, ch.loadOf(b.Load)) }) {
			c.Loose++
		}
	}
	c.Wanted, c.Climate, c.Air = len(kept.Wanted), len(kept.Climate), len(kept.Air)+len(kept.Core)
	for _, s := range kept.Sales {
		if !slices.Contains(c.Sales, s.ID) {
			c.Sales = append(c.Sales, s.ID)
		}
	}
}

// readingLoad gives the load of a reading: its own, or that of its board.
func (c *chooser) readingLoad(r compute.Reading) string {
	if load := c.loadOf(r.Load); load != "" {
		return load
	}
	for i := range c.r.Boards {
		if b := c.r.Boards[i].Board; strings.TrimSpace(r.Board) != "" && compute.SameID(b.ID, r.Board) {
			return b.Load
		}
	}
	return ""
}
