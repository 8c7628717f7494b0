package ingest_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/price"
	"drytally/compute/profile"
	"drytally/compute/units"
	"drytally/ingest"
	"drytally/ingest/bind"
	"drytally/ingest/sheet"
	"drytally/templates"
	"drytally/testdata/tool"
)

var update = flag.Bool("update", false, "write what was understood into the files anew; look at the difference")

const faults = "../testdata/faults"

// TestFaults reads every set of sheets in testdata/faults and compares what was understood of it with what stands beside
// it: the records, the findings with their cells, and the fate of every row. Each file teaches one lesson, told on top.
func TestFaults(t *testing.T) {
	tool.NoUpdate(t, *update)
	files, err := filepath.Glob(faults + "/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no fault files found: %v", err)
	}
	provoked := map[finding.Code]bool{}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			var books []*sheet.Workbook
			want := ""
			for _, f := range archive.Files {
				if f.Name == "understood" {
					want = string(f.Data)
					continue
				}
				data := f.Data
				if strings.HasSuffix(f.Name, ".xlsx") {
					data = workbookFrom(t, f.Name, f.Data)
				}
				book, err := ingest.Open(f.Name, data)
				if err != nil {
					t.Fatalf("%s: %v", f.Name, err)
				}
				books = append(books, book)
			}
			job := bind.Bind("week", books)
			result := compute.Assess(job)
			for _, f := range result.Findings {
				provoked[f.Code] = true
			}
			conserved(t, books, result)
			got := understood(result)
			if got == want {
				return
			}
			if !*update {
				t.Fatalf("understood differs (-want +got):\n%s", cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
			}
			kept := archive.Files[:0]
			for _, f := range archive.Files {
				if f.Name != "understood" {
					kept = append(kept, f)
				}
			}
			archive.Files = append(kept, txtar.File{Name: "understood", Data: []byte(got)})
			if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
				t.Fatal(err)
			}
		})
	}
	// Every finding about tables and jobs is provoked by a file here; those about files and cells have tests of their own.
	for _, k := range finding.Kinds() {
		if (k.Code[0] == 'T' || k.Code[0] == 'J') && !provoked[k.Code] {
			t.Errorf("no file in testdata/faults provokes %s: %s", k.Code, k.Meaning)
		}
	}
}

// conserved: used + set aside + not data = rows with content, on every sheet.
func conserved(t *testing.T, books []*sheet.Workbook, r *compute.Result) {
	t.Helper()
	for _, book := range books {
		for _, s := range book.Sheets {
			content := 0
			for _, row := range s.Rows {
				for c := range row.Cells() {
					if c.Kind != sheet.Blank && strings.TrimSpace(c.Text) != "" || c.NoResult {
						content++
						break
					}
				}
			}
			for _, a := range r.Accounts {
				if a.File != book.Name || a.Sheet != s.Name {
					continue
				}
				if sum := a.Count(compute.Used) + a.Count(compute.SetAside) + a.Count(compute.NotData); sum != content {
					t.Errorf("%s %s: %d rows used, set aside or not data, of %d with content", book.Name, s.Name, sum, content)
				}
			}
		}
	}
}

// cutOutWords writes down the bad wood of a board as it was read.
func cutOutWords(c compute.CutOut) string {
	var all []string
	for _, s := range c.Stretches {
		w := s.From.String() + " to " + s.To.String()
		if s.Top {
			w += " from the top"
		}
		all = append(all, w)
	}
	if c.Total > 0 {
		all = append(all, "lose "+c.Total.String())
	}
	if c.Unread {
		all = append(all, "not read")
	}
	return strings.Join(all, "; ")
}

// understood writes down a result in plain lines: records, findings, rows.
func understood(r *compute.Result) string {
	var b strings.Builder
	line := func(format string, args ...any) {
		b.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
	}
	j := r.Job
	for _, c := range j.Cuts {
		line("cut %s%s", at(c.Origin), fields("species", c.Species.Name, "t", c.Thickness, "measured", several(c.Measured), "sawn at", c.Setting, "w", c.Width, "l", c.Length, "pieces", c.Pieces, "lot", c.ID, "load", c.Load, "sawing", c.Sawing.Kind, "angle", c.Sawing.Angle, "date", c.Date, "note", c.Note))
	}
	for _, x := range j.Boards {
		line("board %s%s", at(x.Origin), fields("id", x.ID, "load", x.Load, "species", x.Species.Name, "t", x.Thickness, "w", x.Width, "l", x.Length, "green t", x.GreenThickness, "green w", x.GreenWidth,
			"nominal", x.Nominal, "cup", x.Cup, "bow", x.Bow, "crook", x.Crook, "twist", x.Twist, "cut out", cutOutWords(x.CutOut), "course", x.Course, "spot", x.Spot, "note", x.Note))
	}
	for _, x := range j.Readings {
		line("reading %s%s", at(x.Origin), fields("board", x.Board, "load", x.Load, "course", x.Course, "spot", x.Spot, "value", x.Value, "meter", x.Meter, "wood", x.WoodTemp, "date", x.Date, "depth", x.Depth, "where", x.Where, "note", x.Note))
	}
	for _, x := range j.Weights {
		line("weight %s%s", at(x.Origin), fields("sample", x.Sample, "load", x.Load, "date", x.Date, "weight", x.Weight, "wet", x.Wet, "ovendry", x.Ovendry, "note", x.Note))
	}
	for _, x := range j.Air {
		line("air %s%s", at(x.Origin), fields("time", x.Time, "dry", x.DryBulb, "wet", x.WetBulb, "rh", x.Humidity, "where", x.Where, "load", x.Load, "running", x.Running, "note", x.Note))
	}
	for _, x := range j.Wanted {
		line("wanted %s%s", at(x.Origin), fields("piece", x.Piece, "species", x.Species.Name, "t", x.Thickness, "w", x.Width, "l", x.Length, "face", x.Face, "lap", x.Joint, "gap", x.Gap, "wall h", x.WallHeight, "wall w", x.WallRun, "openings", x.Openings, "pieces", x.Pieces, "area", x.Area, "profile", x.Profile, "use", x.Use, "waste", x.Waste, "note", x.Note))
	}
	for _, x := range j.Loads {
		line("load %s%s", at(x.Origin), fields("id", x.ID, "species", x.Species.Name, "use", x.Use, "region", x.Region, "limit", x.Limit, "lowest", x.Low, "in", x.DateIn, "out", x.DateOut, "boards", x.Boards, "courses", x.Courses, "spots", x.Spots, "note", x.Note))
	}
	for _, x := range j.Sales {
		line("sale %s%s", at(x.Origin), fields("id", x.ID, "load", x.Load, "boards", strings.Join(x.Boards, " "), "pieces", x.Pieces, "buyer", x.Buyer, "use", x.Use, "own", x.OwnUse, "date", x.Date, "note", x.Note, "asks", asked(x.Price, j.Settings.Currency)))
	}
	for _, s := range j.Settings.Used {
		if s.Place.File != "" {
			line("setting %s = %s", s.Name, s.Value)
		}
	}
	for _, l := range r.Loads {
		line("verdict %s: %s", l.Load.ID, l.Verdict)
	}
	for _, x := range j.Core {
		line("core %s%s", at(x.Origin), fields("time", x.Time, "temp", x.Temp, "probe", x.Probe, "load", x.Load, "note", x.Note))
	}
	for _, x := range j.Climate {
		line("climate %s%s", at(x.Origin), fields("month", x.Month.String(), "temp", x.Temp, "rh", x.Humidity, "indoors", fmt.Sprint(x.Indoors), "note", x.Note))
	}
	say := func(all []compute.Statement) {
		for _, s := range all {
			text, err := templates.Say(s.Name, s.With)
			if err != nil {
				text = err.Error()
			}
			line("  %s", text)
		}
	}
	for _, c := range r.Climate {
		line("year of the place:")
		say(c.Says)
	}
	if r.SawSpread.Boards > 0 {
		line("spread of the saw, from %s:", r.SawSpread.From)
		say([]compute.Statement{r.SawSpread.Says})
	}
	for _, s := range r.Sizes {
		if k := s.Shape.Kind; k > profile.Square || s.Cover.Courses > 0 || s.Cover.Openings > 0 {
			line("shape of %s: %s%s", s.Wanted.Piece, k, fields("overall", s.Shape.Overall, "shows", s.Shape.Shows, "lap", s.Shape.Joint, "l", s.Wanted.Length, "pieces", s.Pieces, "boards", s.Boards))
			say(s.Notes)
			say(s.Cover.Says)
			if s.Name.Known {
				say([]compute.Statement{s.Name.Says})
			}
		}
		if len(s.Season.Says) > 0 {
			line("season of %s:", s.Wanted.Piece)
			say(s.Season.Says)
		}
	}
	for _, m := range r.Meters {
		line("meters:")
		say(m.Says)
	}
	for _, l := range r.Loads {
		for _, s := range l.Stores {
			line("store of %s:", l.Load.ID)
			say(s.Says)
		}
		if l.Rise.Known {
			line("rise of %s:", l.Load.ID)
			say(l.Rise.Says)
		}
		if len(l.Heat) > 0 {
			line("heat of %s:", l.Load.ID)
			say(l.Heat)
		}
	}
	if r.Kiln != nil {
		for _, a := range r.Kiln.Aside {
			line("kiln: load %s is out, %d boards", a.Load, a.Boards)
		}
		for _, l := range r.Kiln.Loads {
			line("kiln, load %q: %d placed, %d left out, %d stickers, %s to %s green", l.Load, l.Placed, l.Out, l.Stickers, j.Settings.System.Mass(l.Green.Low), j.Settings.System.Mass(l.Green.High))
			for _, row := range l.Rows {
				line("  %s: %d placed in courses %v, %d left out, %s", at(row.Cut.Origin), row.Placed, row.Courses, row.Out, row.Why)
			}
			say(l.Warnings)
		}
	}
	if r.Job.Settings.TrailerLoad != 0 || r.Job.Settings.TrailerGross != 0 {
		for _, s := range r.Sales {
			line("weight of %s:", s.ID)
			say(s.Weight.Says)
		}
	}
	if m := r.Money; m != nil {
		for _, s := range m.Sales {
			for _, l := range s.Lines {
				line("money of %s: %d boards of %s, %s: %s, known %v", s.Sale, l.Boards, l.What, asked(l.Price, m.Currency), l.Amount.Write(m.Currency), l.Known)
				if l.Why.Name != "" {
					say([]compute.Statement{l.Why})
				}
			}
			line("money of %s: total %s, known %v", s.Sale, s.Total.Write(m.Currency), s.Known)
		}
		for _, d := range m.Drying {
			line("drying of %s: in %s, out %s", d.Load, d.InAmount.Write(m.Currency), d.OutAmount.Write(m.Currency))
			say(d.Says)
		}
		if m.Step.Known {
			say([]compute.Statement{r.Step.Says, m.Step.Says})
		}
	}
	for _, f := range r.Findings {
		line("%s", f)
		if f.Stands != "" {
			line("  stands: %q", f.Stands)
		}
		if strings.Contains(f.Hint, "?") {
			line("  asks: %s", f.Hint) // a hint that names what was most likely meant
		}
	}
	for _, a := range r.Accounts {
		line("rows %s: %d used, %d set aside, %d not data", a.Sheet, a.Count(compute.Used), a.Count(compute.SetAside), a.Count(compute.NotData))
		for row := range a.Rows.All() {
			if row.Fate != compute.Used {
				line("  %d %s: %s", row.Row, row.Fate, row.Why)
			}
		}
	}
	return b.String()
}

// asked writes a price, or nothing when none is given.
func asked(p price.Price, currency string) string {
	if !p.Given() {
		return ""
	}
	return p.Write(currency)
}

func at(o compute.Origin) string {
	p := o.At("")
	if p.Sheet != "" {
		return fmt.Sprintf("%s:%d", p.Sheet, p.Row)
	}
	return fmt.Sprintf("%s:%d", p.File, p.Row)
}

// several gives what was measured in more than one place.
func several(all []units.Length) []units.Length {
	if len(all) < 2 {
		return nil
	}
	return all
}

// fields writes pairs of name and value, leaving out what was not given.
func fields(pairs ...any) string {
	var b strings.Builder
	for i := 0; i < len(pairs); i += 2 {
		s := ""
		switch v := pairs[i+1].(type) {
		case string:
			s = v
		case int:
			if v != 0 {
				s = fmt.Sprint(v)
			}
		case float64:
			if v != 0 {
				s = fmt.Sprint(v)
			}
		case units.Length:
			if v != 0 {
				s = v.String()
			}
		case []units.Length:
			var all []string
			for _, l := range v {
				all = append(all, l.String())
			}
			s = strings.Join(all, " ")
		case units.MC:
			if v != 0 {
				s = v.String()
			}
		case units.Mass:
			if v != 0 {
				s = fmt.Sprintf("%g g", v.Grams())
			}
		case units.Temperature:
			if v.Known() {
				s = fmt.Sprintf("%.1f F", v.Fahrenheit())
			}
		case units.Humidity:
			if v.Known() {
				s = fmt.Sprintf("%g %%", v.Percent())
			}
		case units.Reading:
			s = v.String()
		case compute.SawingKind:
			if v != compute.SawingNotSaid {
				s = v.String()
			}
		case time.Time:
			if !v.IsZero() {
				s = strings.TrimSuffix(v.Format("2006-01-02 15:04"), " 00:00")
			}
		default:
			s = fmt.Sprintf("(%T)", v)
		}
		if s != "" {
			fmt.Fprintf(&b, ", %s %s", pairs[i], s)
		}
	}
	return b.String()
}
