package bind

import (
	"fmt"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// value is what one cell says; which part counts follows from the field's quantity.
type value struct {
	text     string
	ids      []string
	lengths  []units.Length
	readings []units.Reading
	date     time.Time
	temp     units.Temperature
	rh       units.Humidity
	mc       units.MC
	number   float64 // share or area
	mass     units.Mass
	count    int
	sawing   compute.Sawing
	species  wood.Species
	size     cell.SizeOf
	said     compute.Said
}

// rowValues is one data row: its values and the column of each, by field name.
type rowValues struct {
	origin compute.Origin
	at     map[string]value
	bad    map[string]bool // cells that hold something that could not be read
	names  []string        // field names in column order
}

func (v *rowValues) has(name string) bool             { _, ok := v.at[name]; return ok }
func (v *rowValues) text(name string) string          { return v.at[name].text }
func (v *rowValues) date(name string) time.Time       { return v.at[name].date }
func (v *rowValues) count(name string) int            { return v.at[name].count }
func (v *rowValues) mass(name string) units.Mass      { return v.at[name].mass }
func (v *rowValues) mc(name string) units.MC          { return v.at[name].mc }
func (v *rowValues) species(name string) wood.Species { return v.at[name].species }
func (v *rowValues) sawing(name string) compute.Sawing {
	return v.at[name].sawing
}

// length gives the field's one length, or 0.
func (v *rowValues) length(name string) units.Length {
	if l := v.at[name].lengths; len(l) > 0 {
		return l[0]
	}
	return 0
}

// lengths gives all lengths of a field that may have several columns.
func (v *rowValues) lengths(name string) []units.Length {
	var all []units.Length
	for _, n := range v.names {
		if n == name || strings.HasPrefix(n, name+" ") && isDigits(n[len(name)+1:]) {
			all = append(all, v.at[n].lengths...)
		}
	}
	return all
}

// carried is what stands above a cell left blank, by column.
type carried struct {
	value value
	row   int
	said  int // row at which the carrying was last said; 0 when not yet
	name  string
	from  string
	until int
}

// readRegion reads the rows of one table.
func (b *binder) readRegion(r region) {
	for row := r.headFirst; row <= r.headLast; row++ {
		b.fate(row, r.table.Kind, compute.NotData, "heading")
	}
	if r.grid != nil {
		b.readGrid(r)
		return
	}
	for _, c := range r.cols {
		b.sayColumn(r, c)
	}
	above := map[int]*carried{}
	for i := range b.sheet.Rows {
		row := &b.sheet.Rows[i]
		if row.Number <= r.headLast || row.Number > r.until {
			continue
		}
		cells := cellsOf(row, r)
		if len(cells) == 0 {
			continue
		}
		if why := b.notData(row, r, cells); why != "" {
			b.fate(row.Number, r.table.Kind, compute.NotData, why)
			if why == "total" {
				b.sayFilled(r, above)
				clear(above)
			}
			continue
		}
		b.readRow(r, row, cells, above)
	}
	b.sayFilled(r, above)
}

// sayFilled says which blanks were filled from above.
func (b *binder) sayFilled(r region, above map[int]*carried) {
	for _, c := range r.cols {
		if k := above[c.col]; k != nil && k.said > 0 {
			b.sayOneFilled(c.col, k)
		}
	}
}

func (b *binder) sayOneFilled(col int, k *carried) {
	b.say("T004", b.at(k.said, col), "", "nothing to do if that is what was meant",
		"%s was left blank from here to row %d and taken from row %d: %s", k.name, k.until, k.row, k.from)
}

func (b *binder) sayColumn(r region, c column) {
	at := b.at(r.headFirst, c.col)
	switch {
	case c.field >= 0 && c.near:
		b.say("T002", at, c.heading, "correct the heading if it means something else", "the heading %q was read as %q", c.heading, c.name)
	case c.field < 0 && c.heading != "":
		b.say("T003", at, c.heading, "nothing to do if drytally needn't know it", "the column %q is not one drytally reads", c.heading)
	}
}

// cellsOf gives the cells with content of a row within a region's columns.
func cellsOf(row *sheet.Row, r region) []sheet.Cell {
	var cells []sheet.Cell
	for _, c := range row.Cells {
		if c.Col >= r.firstCol && c.Col <= r.lastCol && (!cell.Empty(c) || c.NoResult) {
			cells = append(cells, c)
		}
	}
	return cells
}

// notData says why a row of the table's block is no data: a repeated heading, a total, a note. It returns "" for data.
func (b *binder) notData(row *sheet.Row, r region, cells []sheet.Cell) string {
	known := 0
	for _, c := range cells {
		if c.Kind == sheet.Text {
			words, _ := headingWords(c.Text)
			if f, near := r.table.match(words, c.Text); f >= 0 && !near {
				known++
			}
		}
	}
	if known >= 2 && known*2 >= len(cells) {
		return "heading"
	}
	first := strings.ToLower(strings.TrimSpace(cells[0].Text))
	for _, c := range cells {
		if c.Kind == sheet.Text && totalWord(c.Text) {
			return "total"
		}
	}
	if isUnitRow(cells) {
		return "heading"
	}
	filled := 0
	for _, c := range cells {
		for _, k := range r.cols {
			if k.col == c.Col && k.field >= 0 && r.table.Fields[k.field].What != aText && !isTextOnly(c) {
				filled++
			}
		}
	}
	// One line of text under a table is a note, not a row: "all read by J. on Saturday".
	if filled == 0 && len(cells) == 1 && cells[0].Kind == sheet.Text && (strings.Contains(first, " ") || strings.HasSuffix(first, ":")) {
		return "note"
	}
	if len(cells) > 0 && allFormulasOfTotals(cells) {
		return "total"
	}
	return ""
}

// isTextOnly reports whether a cell holds text without any digit.
func isTextOnly(c sheet.Cell) bool {
	return c.Kind == sheet.Text && !strings.ContainsAny(c.Text, "0123456789")
}

// totalWord reports whether a text says that the row sums others up.
func totalWord(s string) bool {
	words, _ := headingWords(s)
	for _, w := range []string{"total", "totals", "subtotal", "sub total", "sum", "grand total", "average", "avg", "mean", "in all", "all together", "altogether"} {
		if words == w || strings.HasPrefix(words, w+" ") && len(words) < 32 || strings.HasSuffix(words, " "+w) && len(words) < 32 {
			return true
		}
	}
	return false
}

// isUnitRow reports whether all cells are units, as in a second heading line: in, in, ft.
func isUnitRow(cells []sheet.Cell) bool {
	for _, c := range cells {
		if c.Kind != sheet.Text {
			return false
		}
		if _, ok := unitWords[strings.ToLower(strings.Trim(c.Text, "()[]. "))]; !ok {
			return false
		}
	}
	return true
}

// allFormulasOfTotals reports whether a row is nothing but calculated numbers without a name, as under a column of figures.
func allFormulasOfTotals(cells []sheet.Cell) bool {
	for _, c := range cells {
		if !c.Formula {
			return false
		}
	}
	return len(cells) <= 3
}

// readRow reads one data row and makes its records.
func (b *binder) readRow(r region, row *sheet.Row, cells []sheet.Cell, above map[int]*carried) {
	v := &rowValues{at: map[string]value{}, bad: map[string]bool{}}
	sheetName := b.sheet.Name
	if b.book.CSV {
		sheetName = ""
	}
	v.origin = compute.Origin{File: b.book.Name, Sheet: sheetName, Row: row.Number, Cols: map[string]int{}}
	byCol := map[int]sheet.Cell{}
	for _, c := range cells {
		byCol[c.Col] = c
	}
	for _, k := range r.cols {
		if k.field < 0 {
			continue
		}
		f := r.table.Fields[k.field]
		v.origin.Cols[k.name] = k.col
		c, there := byCol[k.col]
		switch {
		case !there && f.Fill && above[k.col] != nil:
			up := above[k.col]
			v.set(k.name, up.value)
			if up.said == 0 {
				up.said = row.Number
			}
			up.until = row.Number
		case there && cell.Ditto(c):
			if up := above[k.col]; up != nil {
				v.set(k.name, up.value)
			} else {
				v.bad[k.name] = true
				b.say("T015", b.at(row.Number, k.col), c.Text, "write the value itself", "there is nothing above that this mark could repeat")
			}
		case there:
			val, ok := b.read(c, k, f)
			if !ok {
				v.bad[k.name] = true
				continue
			}
			v.set(k.name, val)
			if old := above[k.col]; old != nil && old.said > 0 {
				b.sayOneFilled(k.col, old)
			}
			above[k.col] = &carried{value: val, row: row.Number, name: k.name, from: c.Text}
		}
	}
	why := ""
	for _, f := range r.table.Fields {
		if !f.Required || v.has(f.Name) {
			continue
		}
		why = f.Name + " missing"
		if v.bad[f.Name] {
			why = f.Name + " not readable"
			break
		}
		b.say("T001", b.at(row.Number, v.origin.Cols[f.Name]), "", "fill the cell, or clear the row if it is not meant",
			"this row of the %s table has no %s", r.table.Kind, f.Name)
		break
	}
	if why == "" {
		why = b.make(r.table.Kind, v)
	}
	if why != "" {
		b.fate(row.Number, r.table.Kind, compute.SetAside, why)
		return
	}
	b.fate(row.Number, r.table.Kind, compute.Used, "")
}

func (v *rowValues) set(name string, val value) {
	v.at[name] = val
	v.names = append(v.names, name)
}

// problems adds what a cell's reader had to say, and reports whether a value came out.
func (b *binder) problems(c sheet.Cell, ps []cell.Problem) bool {
	ok := true
	for _, p := range ps {
		b.job.Findings.Add(p.Code, b.at(c.Row, c.Col), c.Text, p.Hint, "%s", p.Problem)
		if finding.KindOf(p.Code).Severity == finding.Error {
			ok = false
		}
	}
	return ok
}

// read reads one cell of a column.
func (b *binder) read(c sheet.Cell, k column, f Field) (value, bool) {
	var v value
	var ps []cell.Problem
	x := b.context(f.Name, k.unit, b.smallUnit())
	switch f.What {
	case aText:
		v.text, ps = cell.Text(c, x)
	case anID:
		v.text, ps = cell.Text(c, x)
	case anIDList:
		v.text, ps = cell.Text(c, x)
		if b.problems(c, ps) {
			ids, err := idList(v.text)
			if err != nil {
				b.say("T013", b.at(c.Row, c.Col), c.Text, "write board numbers apart by commas, a run as A01-A12", "%v", err)
				return v, false
			}
			v.ids = ids
			return v, true
		}
		return v, false
	case aSpecies:
		v.text, ps = cell.Text(c, x)
		if !b.problems(c, ps) {
			return v, false
		}
		var ok bool
		v.species, ok = b.speciesOf(v.text, b.at(c.Row, c.Col))
		return v, ok
	case aSawing:
		v.text, ps = cell.Text(c, x)
		if !b.problems(c, ps) {
			return v, false
		}
		s, ok := sawingOf(v.text)
		if !ok {
			b.say("T016", b.at(c.Row, c.Col), c.Text, "write flat, quarter, mixed, or the ring angle in degrees", "%q is not a way of sawing that is known; it was taken as not said", v.text)
		}
		v.sawing = s
		return v, true
	case aThickness:
		v.lengths, ps = cell.Thickness(c, x)
	case aLength:
		var l units.Length
		l, ps = cell.Length(c, x)
		v.lengths = []units.Length{l}
	case aRun:
		x.Default = b.longUnit()
		var l units.Length
		l, ps = cell.Length(c, x)
		v.lengths = []units.Length{l}
	case aReading:
		v.readings, ps = cell.Readings(c, x)
	case aDate:
		v.date, ps = cell.Date(c, x)
	case aClock:
		v.text, ps = cell.Text(c, x)
		if b.problems(c, ps) {
			d, ok := clockOf(c)
			if !ok {
				b.say("T017", b.at(c.Row, c.Col), c.Text, "write the time as 15:30 or 3:30 pm", "%q is not a time of day", c.Text)
				return v, false
			}
			v.number = d.Hours()
			return v, true
		}
		return v, false
	case aTemperature:
		x.Default = b.heatUnit()
		v.temp, ps = cell.Temperature(c, x)
	case aHumidity:
		v.rh, ps = cell.Humidity(c, x)
	case anMC:
		v.mc, ps = cell.MC(c, x)
	case aShare:
		v.number, ps = cell.Share(c, x)
	case aMass:
		x.Default = b.massUnit()
		v.mass, ps = cell.Mass(c, x)
	case aCount:
		v.count, ps = cell.Count(c, x)
	case anArea:
		x.Default = cell.SquareFoot
		if b.job.Settings.System == units.Metric {
			x.Default = cell.SquareMetre
		}
		v.number, ps = cell.Area(c, x)
	case aYesNo:
		yes, known, p := cell.YesNo(c, x)
		ps = p
		switch {
		case known && yes:
			v.said = compute.Yes
		case known:
			v.said = compute.No
		}
	case aSize:
		x.Default = b.smallUnit()
		v.size, ps = cell.Size(c, x)
	default:
		panic(fmt.Sprintf("bind: no reader for quantity %d", f.What))
	}
	if !b.problems(c, ps) {
		return v, false
	}
	return v, b.sane(c, f, v)
}

// sane refuses a size that no board has: the usual slip is a lost fraction or the wrong unit.
func (b *binder) sane(c sheet.Cell, f Field, v value) bool {
	var low, high units.Length
	switch {
	case f.What == aRun:
		low, high = 4*units.Inch, 60*units.Foot
	case strings.HasSuffix(f.Name, "thickness") || f.Name == "nominal":
		low, high = units.Fraction(1, 16), 24*units.Inch
	case strings.HasSuffix(f.Name, "width") || f.Name == "face":
		low, high = units.Fraction(1, 4), 60*units.Inch
	default:
		return true
	}
	for _, l := range v.lengths {
		if l < low || l > high {
			b.say("T011", b.at(c.Row, c.Col), c.Text, "write the size with its unit: 96 in, 8 ft, 7 1/4, 184 mm",
				"%q would be %s, which no %s of a board is", c.Text, b.job.Settings.System.Run(l), f.Name)
			return false
		}
	}
	return true
}
