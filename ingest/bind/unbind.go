package bind

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/ingest/cell"
)

// Written is the records of a job written as rows of forms.
type Written struct {
	Job     *compute.Job // the records that were written, in the order of their rows
	Rows    map[compute.Kind][]WrittenRow
	Columns map[compute.Kind]map[string]int // how many columns fields with several need
	Failed  []string                        // rows that could not be written so that they read back, with the reason
}

// WrittenRow is one row of a form. With Again set the headings must stand above it once more: a cell it leaves blank would
// else be filled from the rows above.
type WrittenRow struct {
	Row   FormRow
	Again bool
}

// Write turns records into rows of forms: the reader makes the same records of them. Where they come from is not kept.
// Settings are not among them; see compute.SettingUsed.
func Write(job *compute.Job) Written {
	out := Written{Job: &compute.Job{Name: job.Name, Settings: job.Settings}, Rows: map[compute.Kind][]WrittenRow{}, Columns: map[compute.Kind]map[string]int{}}
	w := &unbinder{writer: newWriter(&job.Settings), out: &out}
	out.Job.Cuts = unbind(w, compute.KindCuts, job.Cuts, w.cut)
	out.Job.Boards = unbind(w, compute.KindBoards, job.Boards, w.board)
	out.Job.Readings = unbind(w, compute.KindReadings, job.Readings, w.reading)
	out.Job.Weights = unbind(w, compute.KindWeights, job.Weights, w.weight)
	out.Job.Air = unbind(w, compute.KindAir, job.Air, w.airLine)
	out.Job.Core = unbind(w, compute.KindAir, job.Core, w.core)
	out.Job.Climate = unbind(w, compute.KindClimate, job.Climate, w.climate)
	out.Job.Wanted = unbind(w, compute.KindWanted, job.Wanted, w.wanted)
	out.Job.Loads = unbind(w, compute.KindLoads, job.Loads, w.load)
	out.Job.Sales = unbind(w, compute.KindSold, job.Sales, w.sale)
	for i := range out.Job.Sales { // what could not be read of a price is not written, and was told
		out.Job.Sales[i].AsksUnread = false
	}
	for i := range out.Job.Wanted { // the same of its cells
		out.Job.Wanted[i].Unread = nil
	}
	for kind, rows := range out.Rows {
		again(tableOf(kind), rows)
	}
	return out
}

// mostAgain is how often the headings may stand again in a sheet before its rows are put into another order instead.
const mostAgain = 3

// unbind writes the records of one kind, in their order. Only where blanks stand so mixed among rows that would fill them that
// the headings had to stand again and again, rows with more blanks come first.
func unbind[T any](w *unbinder, kind compute.Kind, records []T, write func(*rowWriter, T) compute.Origin) []T {
	type written struct {
		record T
		row    FormRow
		filled int
	}
	t := tableOf(kind)
	var all []written
	for _, rec := range records {
		r := &rowWriter{unbinder: w, table: t, row: FormRow{}}
		origin := write(r, rec)
		if r.err != nil {
			w.out.Failed = append(w.out.Failed, fmt.Sprintf("%s: %v", origin.At(""), r.err))
			continue
		}
		one := written{record: rec, row: r.row}
		for _, f := range t.Fields {
			if f.Fill && r.row[f.Name] != "" {
				one.filled++
			}
		}
		all = append(all, one)
	}
	var rows []WrittenRow
	for _, one := range all {
		rows = append(rows, WrittenRow{Row: one.row})
	}
	if again(t, rows) > mostAgain {
		slices.SortStableFunc(all, func(a, b written) int { return a.filled - b.filled })
	}
	var kept []T
	for _, one := range all {
		kept = append(kept, one.record)
		w.out.Rows[kind] = append(w.out.Rows[kind], WrittenRow{Row: one.row})
	}
	return kept
}

// again marks the rows that need the headings above them once more, and counts them.
func again(t *Table, rows []WrittenRow) (n int) {
	above := map[string]bool{}
	for i := range rows {
		row := rows[i].Row
		for _, f := range t.Fields {
			if f.Fill && row[f.Name] == "" && above[f.Name] && (f.Within == "" || row[f.Within] == "") {
				rows[i].Again = true
			}
		}
		if rows[i].Again {
			n++
			clear(above)
		}
		for _, f := range t.Fields {
			if row[f.Name] != "" {
				above[f.Name] = true
			}
		}
	}
	return n
}

type unbinder struct {
	*writer
	out *Written
}

// rowWriter writes one row; the first error stays.
type rowWriter struct {
	*unbinder
	table *Table
	row   FormRow
	err   error
}

// put writes the value of a field, unless nothing was said.
func (r *rowWriter) put(name string, said bool, v value) { r.putNumbered(name, 1, said, v) }

func (r *rowWriter) putNumbered(name string, k int, said bool, v value) {
	if !said || r.err != nil {
		return
	}
	i := r.table.field(name)
	if i < 0 {
		panic("bind: no field " + name + " in " + string(r.table.Kind))
	}
	f := &r.table.Fields[i]
	text, err := r.written(withUnit(r.table.headingOf(f), f.What, r.system), *f, v)
	if err != nil {
		r.err = err
		return
	}
	r.row[numbered(name, k)] = text
	if r.out.Columns[r.table.Kind] == nil {
		r.out.Columns[r.table.Kind] = map[string]int{}
	}
	r.out.Columns[r.table.Kind][name] = max(k, r.out.Columns[r.table.Kind][name])
}

func (r *rowWriter) text(name, s string) { r.put(name, s != "", value{text: s}) }
func (r *rowWriter) length(name string, l units.Length) {
	r.put(name, l != 0, value{lengths: []units.Length{l}})
}

// cutOut writes the bad wood of a board. What could not be read can't be written either.
func (r *rowWriter) cutOut(c compute.CutOut) {
	v := value{cutOut: cell.CutOut{Total: c.Total}, unread: c.Unread}
	for _, s := range c.Stretches {
		v.cutOut.Stretches = append(v.cutOut.Stretches, cell.Stretch{From: s.From, To: s.To, Top: s.Top})
	}
	r.put("cut out", c.Unread || c.Total != 0 || len(c.Stretches) > 0, v)
}

// measured writes a size place by place, or once where it is only named.
func (r *rowWriter) measured(name string, places []units.Length, named units.Length) {
	if len(places) == 0 {
		r.length(name, named)
	}
	for i, l := range places {
		r.putNumbered(name, i+1, l != 0, value{lengths: []units.Length{l}})
	}
}
func (r *rowWriter) count(name string, n int)   { r.put(name, n != 0, value{count: n}) }
func (r *rowWriter) mc(name string, m units.MC) { r.put(name, m != 0, value{mc: m}) }
func (r *rowWriter) mass(name string, m units.Mass, u units.MassUnit) {
	r.put(name, m != 0, value{mass: m, massUnit: u})
}
func (r *rowWriter) number(name string, x float64) { r.put(name, x != 0, value{number: x}) }
func (r *rowWriter) date(name string, t time.Time) { r.put(name, !t.IsZero(), value{date: t}) }
func (r *rowWriter) sawing(s compute.Sawing) {
	r.put("sawing", s != compute.Sawing{}, value{sawing: s})
}
func (r *rowWriter) humidity(name string, h units.Humidity) { r.put(name, h.Known(), value{rh: h}) }
func (r *rowWriter) temperature(name string, t units.Temperature) {
	r.put(name, t.Known(), value{temp: t})
}

// moment writes a date, and its time of day beside it.
func (r *rowWriter) moment(t time.Time) {
	if t.IsZero() {
		return
	}
	midnight := t.Truncate(24 * time.Hour)
	r.date("date", midnight)
	r.put("time", !t.Equal(midnight), value{number: t.Sub(midnight).Hours()})
}

func (w *unbinder) cut(r *rowWriter, c compute.Cut) compute.Origin {
	r.put("species", c.Species.Name != "", value{species: c.Species})
	r.measured("green thickness", c.Measured, c.Thickness)
	r.length("sawn at", c.Setting)
	r.length("green width", c.Width)
	r.length("length", c.Length)
	r.count("pieces", c.Pieces)
	r.text("lot", c.ID)
	r.text("load", c.Load)
	r.sawing(c.Sawing)
	r.date("date", c.Date)
	r.text("note", c.Note)
	return c.Origin
}

func (w *unbinder) board(r *rowWriter, b compute.Board) compute.Origin {
	r.text("board", b.ID)
	r.text("load", b.Load)
	r.put("species", b.Species.Name != "", value{species: b.Species})
	r.measured("dry thickness", b.Thickness, 0)
	r.length("dry width", b.Width)
	r.length("length", b.Length)
	r.measured("green thickness", b.GreenMeasured, b.GreenThickness)
	r.length("sawn at", b.Setting)
	r.length("green width", b.GreenWidth)
	r.length("nominal", b.Nominal)
	r.length("nominal width", b.NominalWidth)
	r.length("cup", b.Cup)
	r.length("bow", b.Bow)
	r.length("crook", b.Crook)
	r.length("twist", b.Twist)
	r.cutOut(b.CutOut)
	r.sawing(b.Sawing)
	r.count("course", b.Course)
	r.count("spot", b.Spot)
	r.text("note", b.Note)
	return b.Origin
}

func (w *unbinder) reading(r *rowWriter, x compute.Reading) compute.Origin {
	r.text("board", x.Board)
	r.text("load", x.Load)
	r.count("course", x.Course)
	r.count("spot", x.Spot)
	r.put("reading", x.Value.State != units.NotTaken, value{readings: []units.Reading{x.Value}})
	r.text("which meter", x.Meter)
	r.temperature("wood temperature", x.WoodTemp)
	r.date("date", x.Date)
	r.length("depth", x.Depth)
	r.text("where", x.Where)
	r.text("note", x.Note)
	return x.Origin
}

func (w *unbinder) weight(r *rowWriter, x compute.Weight) compute.Origin {
	r.text("sample", x.Sample)
	r.text("load", x.Load)
	r.date("date", x.Date)
	r.mass("weight", x.Weight, x.Unit)
	r.mass("section wet", x.Wet, x.SectionUnit)
	r.mass("section ovendry", x.Ovendry, x.SectionUnit)
	r.text("note", x.Note)
	return x.Origin
}

func (w *unbinder) airLine(r *rowWriter, a compute.Air) compute.Origin {
	r.moment(a.Time)
	r.temperature("dry bulb", a.DryBulb)
	r.temperature("wet bulb", a.WetBulb)
	r.humidity("humidity", a.Humidity)
	r.text("where", a.Where)
	r.text("load", a.Load)
	r.text("running", a.Running)
	r.text("note", a.Note)
	return a.Origin
}

// core writes a line of a core probe. A probe that is only numbered stands in the column of that number, see addCores.
func (w *unbinder) core(r *rowWriter, c compute.Core) compute.Origin {
	r.moment(c.Time)
	k, err := strconv.Atoi(c.Probe)
	where := ""
	if err != nil {
		where, k = c.Probe, 1
		if at := strings.LastIndex(c.Probe, " "); at > 0 && coreWords(c.Probe[:at]) {
			if n, err := strconv.Atoi(c.Probe[at+1:]); err == nil {
				where, k = c.Probe[:at], n
			}
		}
	}
	r.text("where", where)
	r.putNumbered("core temperature", min(max(k, 1), mostColumns), c.Temp.Known(), value{temp: c.Temp})
	r.text("load", c.Load)
	r.text("note", c.Note)
	return c.Origin
}

func (w *unbinder) climate(r *rowWriter, c compute.Climate) compute.Origin {
	r.count("month", int(c.Month))
	r.temperature("temperature", c.Temp)
	r.humidity("humidity", c.Humidity)
	r.text("where", inOrOut(c.Indoors))
	r.text("note", c.Note)
	return c.Origin
}

func (w *unbinder) wanted(r *rowWriter, x compute.Wanted) compute.Origin {
	r.text("piece", x.Piece)
	r.put("species", x.Species.Name != "", value{species: x.Species})
	r.length("finished thickness", x.Thickness)
	r.length("finished width", x.Width)
	r.length("face", x.Face)
	r.length("length", x.Length)
	r.count("pieces", x.Pieces)
	r.number("area", x.Area)
	r.number("openings", x.Openings)
	r.length("lap", x.Joint)
	r.length("gap", x.Gap)
	r.length("wall height", x.WallHeight)
	r.length("wall width", x.WallRun)
	r.text("profile", x.Profile)
	r.text("use", x.Use)
	r.number("waste", x.Waste)
	r.sawing(x.Sawing)
	r.text("note", x.Note)
	return x.Origin
}

func (w *unbinder) load(r *rowWriter, l compute.Load) compute.Origin {
	r.text("load", l.ID)
	r.put("species", l.Species.Name != "", value{species: l.Species})
	r.text("use", l.Use)
	r.text("region", l.Region)
	r.mc("limit", l.Limit)
	r.mc("lowest", l.Low)
	r.date("date in", l.DateIn)
	r.date("date out", l.DateOut)
	r.count("boards", l.Boards)
	r.count("courses", l.Courses)
	r.count("spots", l.Spots)
	r.text("note", l.Note)
	return l.Origin
}

func (w *unbinder) sale(r *rowWriter, s compute.Sale) compute.Origin {
	r.text("sale", s.ID)
	r.text("load", s.Load)
	r.put("boards", len(s.Boards) > 0, value{ids: s.Boards})
	r.count("pieces", s.Pieces)
	r.text("buyer", s.Buyer)
	r.text("own use", s.OwnUse)
	r.put("price", s.Price.Given(), value{money: cell.MoneyOf{Price: s.Price, Currency: w.currency}})
	r.text("use", s.Use)
	r.date("date", s.Date)
	r.text("note", s.Note)
	return s.Origin
}
