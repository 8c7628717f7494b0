package blank

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/ingest"
	"drytally/ingest/bind"
	"drytally/ingest/sheet"
)

const weeks = "../../testdata/weeks"

func setOf(t *testing.T, path string) ingest.Set {
	t.Helper()
	sets, err := ingest.Gather([]string{path})
	if err != nil || len(sets) != 1 {
		t.Fatalf("%s: %d sets, %v", path, len(sets), err)
	}
	return sets[0]
}

func readSet(t *testing.T, path string) *compute.Job {
	t.Helper()
	job, err := ingest.Read(setOf(t, path))
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// numbers takes from a load's result what is printed of it, without the cells it rests on.
func numbers(l compute.LoadResult) compute.LoadResult {
	l.Load = nil
	l.Warnings = nil
	l.Boards = nil // indices
	l.Heat = nil
	for i := range l.Witnesses {
		l.Witnesses[i].Source = source.Source{}
	}
	return l
}

// TestCarriedWeekSaysTheSame: what is carried over gives the same records and settings, and the open loads the same verdict
// with the same numbers; carried over once more, nothing is lost either.
func TestCarriedWeekSaysTheSame(t *testing.T) {
	for _, week := range []string{"two-loads.xlsx", "metric-cherry.xlsx", "pine-csv"} {
		t.Run(week, func(t *testing.T) {
			first := filepath.Join(weeks, week)
			before := readSet(t, first)
			data, c, err := From(setOf(t, first))
			if err != nil {
				t.Fatal(err)
			}
			if len(c.Failed) > 0 {
				t.Errorf("could not be written: %q", c.Failed)
			}
			again, _, err := From(setOf(t, first))
			if err != nil || !bytes.Equal(data, again) {
				t.Errorf("two calls gave different bytes (%v)", err)
			}
			second := filepath.Join(t.TempDir(), "next.xlsx")
			if err := os.WriteFile(second, data, 0o600); err != nil {
				t.Fatal(err)
			}
			after := readSet(t, second)
			// The demo weeks hold no load that is done with, so that only cuts of no load stay behind.
			want := *before
			if len(before.Loads) > 1 {
				want.Cuts = only(before.Cuts, func(c compute.Cut) bool { return c.Load != "" })
			}
			if kind := Differ(&want, after); kind != "" {
				t.Errorf("%s are not the same", kind)
			}
			if len(after.Findings) > len(doubted(before)) {
				t.Errorf("findings: %v", after.Findings)
			}
			for i, u := range before.Settings.Used {
				v := after.Settings.Used[i]
				if u.Name != v.Name || u.Value != v.Value || (u.Place.File == "") != (v.Place.File == "") {
					t.Errorf("setting %q: got %q, want %q", u.Name, v.Value, u.Value)
				}
			}
			x, y := before.Settings, after.Settings
			x.Used, y.Used = nil, nil
			if d := cmp.Diff(x, y, cmp.AllowUnexported(units.Temperature{}, units.Humidity{})); d != "" {
				t.Errorf("settings (-before +after):\n%s", d)
			}
			r, s := compute.Assess(before), compute.Assess(after)
			if len(r.Loads) == 0 || len(r.Loads) != len(s.Loads) {
				t.Fatalf("%d loads before, %d after", len(r.Loads), len(s.Loads))
			}
			for i := range r.Loads {
				if d := cmp.Diff(numbers(r.Loads[i]), numbers(s.Loads[i]), cmp.AllowUnexported(units.Temperature{}, units.Humidity{})); d != "" {
					t.Errorf("load %s (-before +after):\n%s", r.Loads[i].Load.ID, d)
				}
				if c.Loads[i].Verdict != r.Loads[i].Verdict || c.Loads[i].Before != r.Loads[i].Verdict {
					t.Errorf("load %s: told %+v, want the verdict %s", r.Loads[i].Load.ID, c.Loads[i], r.Loads[i].Verdict)
				}
			}
			third, _, err := From(setOf(t, second))
			if err != nil {
				t.Fatal(err)
			}
			book, err := ingest.Open("third.xlsx", third)
			if err != nil {
				t.Fatal(err)
			}
			if kind := Differ(after, bind.Bind("third", []*sheet.Workbook{book})); kind != "" {
				t.Errorf("carried over twice, %s are not the same", kind)
			}
		})
	}
}

func doubted(j *compute.Job) []finding.Finding {
	return slices.DeleteFunc(slices.Clone(j.Findings), func(f finding.Finding) bool { return f.Code != finding.CellAbout })
}

// TestFaultsAreCarriedOver: whatever lies in a workbook, what is carried over of it reads back the same or is told row by row.
func TestFaultsAreCarriedOver(t *testing.T) {
	files, err := filepath.Glob("../../testdata/faults/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no fault files found: %v", err)
	}
	n := 0
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		dir := filepath.Join(t.TempDir(), "week")
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		for _, f := range archive.Files {
			if strings.HasSuffix(f.Name, ".csv") {
				if err := os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}
		sets, err := ingest.Gather([]string{dir})
		if err != nil {
			continue // the fault is shown in a workbook
		}
		n++
		books, err := sets[0].Books()
		if err != nil {
			continue // nothing of it can be read
		}
		job, settings := bind.BindAndWrite(sets[0].Name, books)
		result := compute.Assess(job)
		var unsound *Unsound
		if _, _, err := From(sets[0]); errors.As(err, &unsound) != (result.Findings.Count(finding.Error) > 0) {
			t.Errorf("%s: %d errors, but carrying it over gives %v", filepath.Base(file), result.Findings.Count(finding.Error), err)
		}
		// What is refused for its errors must come over as well as it was understood.
		if _, c, err := carry(sets[0], result, settings); err != nil {
			t.Errorf("%s: %v", filepath.Base(file), err)
		} else if len(c.Failed) > 0 {
			t.Logf("%s: %q", filepath.Base(file), c.Failed)
		}
	}
	if n < 40 {
		t.Errorf("only %d of %d fault files were tried", n, len(files))
	}
}

// TestEveryFieldIsCarried: a cell in every column of every sheet reaches a field of a record, and the record is carried over
// whole. A column that is new to the table must be new in Write too.
func TestEveryFieldIsCarried(t *testing.T) {
	for _, system := range []units.System{units.InchFoot, units.Metric} {
		f := filling{system: system, settings: map[string]string{}, written: bind.Written{Rows: map[compute.Kind][]bind.WrittenRow{}}}
		if system == units.Metric {
			f.settings["units"] = "metric"
		}
		for _, form := range bind.Forms(system, nil, nil) {
			row := bind.FormRow{}
			for _, c := range form.Columns {
				for _, e := range form.Examples {
					if row[c.Name] == "" {
						row[c.Name] = e[c.Name]
					}
				}
				switch {
				case row[c.Name] != "" && c.Name != "note":
				case len(c.Offers) > 0:
					row[c.Name] = c.Offers[0]
				default:
					row[c.Name] = map[bind.FormKind]string{bind.FormText: "told", bind.FormSize: "1", bind.FormNumber: "9", bind.FormDate: "2026-03-04"}[c.Kind]
				}
				if c.Kind == bind.FormSize && system == units.Metric && row[c.Name] == "1" {
					row[c.Name] = "25"
					if strings.HasPrefix(c.Name, "wall ") {
						row[c.Name] = "2500"
					}
				}
			}
			if form.Kind == compute.KindSold { // one of its three columns of money
				row["price"] = "4.50 USD per board foot"
				delete(row, "price per board foot")
				delete(row, "sum")
			}
			if form.Kind == compute.KindBoards {
				row["cut out"] = "14 to 20 in; 4 to 9 in from the top"
			}
			if form.Kind == compute.KindWeights { // the unit of a weight is carried too
				row["weight"], row["section wet"], row["section ovendry"] = "10.1 lb", "0.31 lb", "0.22 lb"
			}
			f.written.Rows[form.Kind] = append(f.written.Rows[form.Kind], bind.WrittenRow{Row: row})
		}
		data, err := f.make()
		if err != nil {
			t.Fatal(err)
		}
		book, err := ingest.Open("all.xlsx", data)
		if err != nil {
			t.Fatal(err)
		}
		job, _ := bind.BindAndWrite("all", []*sheet.Workbook{book})
		for _, f := range job.Findings {
			if f.Severity == finding.Error {
				t.Errorf("%s", f)
			}
		}
		for _, records := range []any{job.Loads, job.Boards, job.Readings, job.Weights, job.Air, job.Core, job.Cuts, job.Wanted, job.Sales, job.Climate} {
			v := reflect.ValueOf(records)
			for field := range v.Type().Elem().NumField() {
				name := v.Type().Elem().Field(field).Name
				filled := false
				for i := range v.Len() {
					filled = filled || !v.Index(i).Field(field).IsZero()
				}
				if !filled && name != "AsksUnread" && name != "Unread" { // of cells that can't be read
					t.Errorf("no cell reaches %s.%s", v.Type().Elem().Name(), name)
				}
			}
		}
		w := bind.Write(job)
		if len(w.Failed) > 0 {
			t.Errorf("can't be written: %q", w.Failed)
		}
		if kind := Differ(job, w.Job); kind != "" {
			t.Errorf("%s are lost in writing", kind)
		}
		f.written = w
		if data, err = f.make(); err != nil {
			t.Fatal(err)
		}
		settings := map[string]string{}
		if system == units.Metric {
			settings["units"] = "metric"
		}
		if _, err := readBack(data, w.Job, settings); err != nil {
			t.Errorf("%v", err)
		}
	}
}

// TestChoose: what is done with stays behind, and nothing else.
func TestChoose(t *testing.T) {
	out := time.Date(2026, time.June, 1, 0, 0, 0, 0, time.UTC)
	// Three boards a load, named by the load's letter.
	result := func(verdicts map[string]compute.Verdict, sold map[string]string, open string) *compute.Result {
		r := &compute.Result{Job: &compute.Job{}}
		for _, id := range []string{"A", "B", "C"} {
			l := compute.Load{ID: id, DateOut: out}
			if id == open {
				l.DateOut = time.Time{}
			}
			r.Job.Loads = append(r.Job.Loads, l)
			for _, n := range []string{"1", "2", "3"} {
				r.Job.Boards = append(r.Job.Boards, compute.Board{ID: id + n, Load: id})
				r.Job.Readings = append(r.Job.Readings, compute.Reading{Taking: &compute.Taking{}, Board: id + n})
			}
			r.Job.Weights = append(r.Job.Weights, compute.Weight{Sample: "S", Load: id})
			r.Job.Air = append(r.Job.Air, compute.Air{Load: id})
			r.Job.Cuts = append(r.Job.Cuts, compute.Cut{Load: id})
		}
		r.Job.Cuts = append(r.Job.Cuts, compute.Cut{})
		r.Job.Air = append(r.Job.Air, compute.Air{})
		r.Job.Boards = append(r.Job.Boards, compute.Board{ID: "X"})
		at := map[string]int{}
		for i := range r.Job.Boards {
			b := &r.Job.Boards[i]
			at[b.ID] = i
			r.Boards = append(r.Boards, compute.BoardResult{Board: b, Sold: sold[b.ID]})
		}
		sales := map[string]bool{}
		for i := range r.Job.Boards {
			id := sold[r.Job.Boards[i].ID]
			if id == "" {
				continue
			}
			if !sales[id] {
				sales[id] = true
				r.Job.Sales = append(r.Job.Sales, compute.Sale{ID: id})
				r.Sales = append(r.Sales, compute.SaleResult{ID: id})
			}
			for k := range r.Sales {
				if r.Sales[k].ID == id {
					r.Job.Sales[k].Boards = append(r.Job.Sales[k].Boards, r.Job.Boards[i].ID)
					if load := r.Job.Boards[i].Load; load != "" {
						r.Sales[k].Loads = append(r.Sales[k].Loads, load)
					}
				}
			}
		}
		for i := range r.Job.Loads {
			l := &r.Job.Loads[i]
			one := compute.LoadResult{Load: l, N: 3, Verdict: verdicts[l.ID]}
			for _, n := range []string{"1", "2", "3"} {
				one.Boards = append(one.Boards, at[l.ID+n])
			}
			r.Loads = append(r.Loads, one)
		}
		return r
	}
	dry := map[string]compute.Verdict{"A": compute.DryForUse, "B": compute.DryForUse, "C": compute.DryForUse}
	allOf := func(sale string, loads ...string) map[string]string {
		m := map[string]string{}
		for _, l := range loads {
			for _, n := range []string{"1", "2", "3"} {
				m[l+n] = sale + l
			}
		}
		return m
	}
	tests := []struct {
		name     string
		verdicts map[string]compute.Verdict
		sold     map[string]string
		open     string // the load without a date out
		loads    string // that stay
		sales    string // that stay
		boards   int
	}{
		{"all dry, nothing sold", dry, nil, "", "A B C", "", 10},
		{"one sold out", dry, allOf("S", "A"), "", "B C", "", 7},
		{"sold out but still in the kiln", dry, allOf("S", "A"), "A", "A B C", "SA", 10},
		{"sold out but not shown dry", map[string]compute.Verdict{"B": compute.DryForUse, "C": compute.DryForUse}, allOf("S", "A"), "", "A B C", "SA", 10},
		{"sold out but not dry yet", map[string]compute.Verdict{"A": compute.NotDryYet, "B": compute.DryForUse, "C": compute.DryForUse}, allOf("S", "A"), "", "A B C", "SA", 10},
		{"sold out with held-back boards", map[string]compute.Verdict{"A": compute.DryButHeldBack, "B": compute.DryForUse, "C": compute.DryForUse}, allOf("S", "A"), "", "B C", "", 7},
		{"one board left", dry, map[string]string{"A1": "S1", "A2": "S1"}, "", "A B C", "S1", 10},
		{"a sale of two loads keeps them together", dry, map[string]string{"A1": "S1", "A2": "S1", "A3": "S1", "B1": "S1"}, "", "A B C", "S1", 10},
		{"chained by sales", dry, map[string]string{"A1": "S1", "A2": "S1", "A3": "S1", "B1": "S1", "B2": "S2", "B3": "S2", "C1": "S2"}, "", "A B C", "S1 S2", 10},
		{"all sold out", dry, allOf("S", "A", "B", "C"), "", "", "", 1},
		{"a sold board of no load", dry, map[string]string{"X": "S9"}, "", "A B C", "", 9},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			kept, c := choose(result(tt.verdicts, tt.sold, tt.open))
			var loads, sales []string
			for _, l := range kept.Loads {
				loads = append(loads, l.ID)
			}
			for _, s := range kept.Sales {
				sales = append(sales, s.ID)
			}
			n := len(loads)
			if strings.Join(loads, " ") != tt.loads || strings.Join(sales, " ") != tt.sales || len(kept.Boards) != tt.boards {
				t.Errorf("got loads %q, sales %q and %d boards, want %q, %q and %d", loads, sales, len(kept.Boards), tt.loads, tt.sales, tt.boards)
			}
			if len(kept.Readings) != 3*n || len(kept.Weights) != n || len(kept.Air) != n+1 || len(kept.Cuts) != n || c.Cuts != 1 || len(c.Gone) != 3-n {
				t.Errorf("got %d readings, %d weights, %d lines of air, %d cuts; %d cuts and the loads %q left behind", len(kept.Readings), len(kept.Weights), len(kept.Air), len(kept.Cuts), c.Cuts, c.Gone)
			}
		})
	}
}

// TestCutsLeftBehindAreTold: the first sheet of the new workbook names the rows of cuts that were not brought along.
func TestCutsLeftBehindAreTold(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"cuts.csv":  "Species,Thickness,Width,Length,Pieces,Load\nwhite ash,1 1/8,6,8,10,K1\nwhite ash,1 1/8,6,8,7,\"\"\n\nTotal,,,,17\nred maple,1 1/8,7,8,5\nred maple,1 1/8,8,8,4\n",
		"loads.csv": "Load,Use,Boards\nK1,flooring,10\nK2,flooring,4\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sets, err := ingest.Gather([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	data, c, err := From(sets[0])
	if err != nil {
		t.Fatal(err)
	}
	if c.Cuts != 2 || c.CutBoards != 9 || c.CutRows != "cuts.csv rows 6 to 7" {
		t.Errorf("got %d rows, %d boards, %q; want 2, 9 and rows 6 to 7", c.Cuts, c.CutBoards, c.CutRows)
	}
	book, err := ingest.Open("new.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	said := false
	for _, r := range book.Sheets[0].Rows {
		for x := range r.Cells() {
			said = said || strings.Contains(x.Text, "not brought along: cuts.csv rows 6 to 7 of")
		}
	}
	if !said {
		t.Error("the new workbook does not say which cuts were left behind")
	}
}
