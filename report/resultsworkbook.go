package report

import (
	"fmt"
	"net/url"
	"strings"

	"github.com/xuri/excelize/v2"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
)

// column is one column of a sheet: its heading with the unit, its width in characters, and what stands in a row.
type column[T any] struct {
	head  string
	width float64
	cell  func(T) any
	field string // the field of the owner's sheet it comes from, for notes on flagged cells
}

// table writes a sheet of one table: headings that stay in sight, a filter on every column, one row per element. A table
// without rows gets no sheet.
func table[T any](b *book, name string, rows []T, columns []column[T]) {
	if len(rows) == 0 {
		return
	}
	var widths []float64
	for _, c := range columns {
		widths = append(widths, c.width)
	}
	b.sheet(name, widths)
	numbers := make([]bool, len(columns))
	for r, row := range rows {
		lines := 1
		for i, c := range columns {
			value := c.cell(row)
			b.put(name, i+1, r+2, value)
			if prose, ok := value.(bookProse); ok {
				lines = max(lines, linesOf(string(prose), c.width))
			}
			numbers[i] = numbers[i] || isNumber(value)
		}
		b.height(name, r+2, lines)
	}
	lines := 1
	for i, c := range columns {
		style := "heading"
		if numbers[i] {
			style = "heading right"
		}
		b.text(name, i+1, 1, c.head, style)
		lines = max(lines, linesOf(c.head, c.width*0.85)) // bold is wider
	}
	b.height(name, 1, lines)
	if b.err != nil {
		return
	}
	last := cellName(len(columns), len(rows)+1)
	b.keep(b.f.SetPanes(name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	b.keep(b.f.AutoFilter(name, "A1:"+last, nil))
	b.keep(b.f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: "'" + name + "'!$1:$1", Scope: name}))
}

// isNumber reports whether a value is written as a number, which stands to the right of its cell.
func isNumber(value any) bool {
	switch value.(type) {
	case int, units.MC, bookInches, bookMM, bookDay, bookMoment, bookShare, bookDecimal, bookNumber:
		return true
	}
	return false
}

// pointers gives a pointer to every element, the rows of a table.
func pointers[T any](all []T) []*T {
	out := make([]*T, len(all))
	for i := range all {
		out[i] = &all[i]
	}
	return out
}

// resultsWorkbook makes results.xlsx: every table with its computed columns as numbers, for the owner.
func (j *job) resultsWorkbook() ([]byte, error) {
	b := newBook()
	front := j.summarySheet(b)
	notedTable(j, b, "Loads", pointers(j.Loads), j.loadColumns(), func(l *compute.LoadResult) (compute.Origin, string) { return l.Load.Origin, "" })
	table(b, "Witnesses", j.witnessRows(), j.witnessColumns())
	notedTable(j, b, "Boards", pointers(j.Boards), j.boardColumns(), func(r *compute.BoardResult) (compute.Origin, string) { return r.Board.Origin, "" })
	notedTable(j, b, "Readings", pointers(j.readingRows()), j.readingColumns(), func(r *readingRow) (compute.Origin, string) { return r.Origin, r.Field })
	table(b, "Strata", j.stratumRows(), j.stratumColumns())
	table(b, "Meters", pointers(j.Meters), j.meterColumns())
	table(b, "Meter pairs", j.meterPairRows(), meterPairColumns())
	notedTable(j, b, "Sizes", pointers(j.Sizes), j.sizeColumns(), func(s *compute.SizeResult) (compute.Origin, string) { return s.Wanted.Origin, "" })
	notedTable(j, b, "Cuts", pointers(j.Cuts), j.cutColumns(), func(c *compute.CutResult) (compute.Origin, string) { return c.Cut.Origin, "" })
	table(b, "Shrinkage", pointers(j.House), j.shrinkageColumns())
	table(b, "One setting", pointers(j.OneSetting), j.settingNearColumns())
	table(b, "Saw spread", j.spreadRows(), j.spreadColumns())
	table(b, "Planing", pointers(j.Boards), j.planingColumns())
	table(b, "Fit", j.fitPieces(), j.fitColumns())
	table(b, "Fit cuts", j.fitCuts(), j.fitCutColumns())
	table(b, "Leftovers", j.leftovers(), j.leftoverColumns())
	table(b, "Fit wood", j.woodRows(), j.woodColumns())
	table(b, "Sales", pointers(j.Sales), j.saleColumns())
	table(b, "Kiln courses", j.kilnCourses(), j.kilnCourseColumns())
	table(b, "Kiln rows", j.kilnRows(), j.kilnRowColumns())
	table(b, "Money", j.moneyRows(), j.moneyColumns())
	table(b, "Storage", j.storeRows(), j.storeColumns())
	notedTable(j, b, "Climate", pointers(j.Job.Climate), j.climateColumns(), func(c *compute.Climate) (compute.Origin, string) { return c.Origin, "" })
	notedTable(j, b, "Weights", pointers(j.Job.Weights), j.weightColumns(), func(w *compute.Weight) (compute.Origin, string) { return w.Origin, "" })
	notedTable(j, b, "Air", pointers(j.Job.Air), j.airColumns(), func(a *compute.Air) (compute.Origin, string) { return a.Origin, "" })
	table(b, "Core temperatures", j.probeRows(), j.probeColumns())
	table(b, "Probe log", pointers(j.Job.Core), j.coreColumns())
	table(b, "Findings", pointers(j.Findings), j.findingColumns())
	table(b, "Rows", j.accountRows(), accountColumns())
	table(b, "Settings", pointers(j.Job.Settings.Used), j.settingColumns())
	table(b, "Sources", j.Sources, sourceColumns())
	table(b, "Cautions", j.cautionRows(), cautionColumns())
	table(b, "Papers", pointers(j.made), madeColumns())
	front.contents(sheetWords)
	return b.bytes("Results of "+j.Job.Name, j.about.Version, j.Job.Settings.Paper)
}

// summarySheet is the first page: what was read, what came of each load, and what else the book holds.
func (j *job) summarySheet(b *book) *frontPage {
	p := b.front("Summary", "Results of "+j.Job.Name, []float64{26, 28, 70, 12, 12, 14})
	p.line("drytally " + j.about.Version)
	p.line("Moisture content is in percent of the ovendry weight, as it was on the days of reading.")
	p.heads(3, "Read", "", "SHA-256")
	for _, f := range j.Job.Files {
		p.line(f.Name, nil, f.SHA256)
	}
	p.heads(3, "Rows and findings")
	p.line("Rows used", j.UsedRows())
	p.line("Rows set aside", j.SetAside())
	p.line("Rows that are not data", j.NotDataRows())
	p.line("Errors", j.Findings.Count(finding.Error))
	p.line("Warnings", j.Findings.Count(finding.Warning))
	p.line("Notes", j.Findings.Count(finding.Note))
	if len(j.Loads) > 0 {
		p.heads(3, "Load", "Verdict", "First reason", "Boards", "Measured", "Mean MC (%)")
		for _, l := range j.Loads {
			reason, mean := "", any(nil)
			if len(l.Reasons) > 0 {
				reason = j.say(l.Reasons[0])
			}
			if l.Mean.Known {
				mean = l.Mean.Value
			}
			p.high(3, reason)
			p.line(l.Load.ID, l.Verdict.String(), bookProse(reason), l.N, l.Measured, mean)
		}
	}
	if j.Fit != nil && len(j.Fit.Says) > 0 {
		p.heads(3, "Wanted pieces from the boards on hand")
		for _, s := range j.Fit.Says {
			words := j.say(s)
			p.high(3, words)
			p.line(nil, nil, bookProse(words))
		}
	}
	if papers := j.Withheld(); len(papers) > 0 {
		p.heads(3, "Withheld")
		for _, paper := range papers {
			p.line(paper)
		}
	}
	return p
}

// sheetWords says what each sheet of the book holds.
var sheetWords = map[string]string{
	"Loads": "each load with its evidence and verdict", "Witnesses": "what meter, weights, shrinkage and air say of each load",
	"Boards": "every dry board with its moisture and footage; notes hang on doubtful cells", "Readings": "every reading as it was read",
	"Strata": "the thirds of each stack, wettest named", "Meters": "meters held against the oven and against each other",
	"Meter pairs": "the boards measured both ways",
	"Sizes":       "what to set the saw to for each wanted piece", "Cuts": "the saw's tally with footage and dry sizes",
	"Saw spread": "the spread of the sawing, used and measured", "One setting": "settings so near that one could do",
	"Shrinkage": "the mill's own shrinkage beside the handbook's", "Fit": "which wanted pieces the boards on hand make",
	"Kiln courses": "how the boards not dried yet are loaded, from the bottom", "Kiln rows": "what became of each row's boards",
	"Money":    "what your own figures come to",
	"Fit cuts": "how each of these boards is cut", "Leftovers": "what goes back to the stack then",
	"Fit wood": "what becomes of the wood of these boards",
	"Storage":  "what the air it is kept in makes of each load", "Climate": "the year of the place and what it brings wood to",
	"Core temperatures": "times and temperatures of probes in boards", "Probe log": "the probes' log as it was read",
	"Planing": "what each dry board planes to and makes", "Sales": "each sale with footage and moisture",
	"Weights": "weighings as they were read", "Air": "the air log as it was read",
	"Findings": "what is wrong or doubtful, with a link to the cell", "Rows": "what became of every row",
	"Settings": "every setting as used", "Sources": "where the figures come from",
	"Cautions": "the numbered cautions of the moisture statements, and where each is known from",
	"Papers":   "the papers written beside this workbook, with their numbers",
}

// notedTable writes a table whose rows come from rows of the owner's sheets, and hangs notes on the cells that findings speak
// of: on the column that shows what stands there, else on the first. at gives a row's origin, and which of several fields of
// one name it shows ("" where it shows them all): one row of the sheet may hold several readings.
func notedTable[T any](j *job, b *book, name string, rows []T, columns []column[T], at func(T) (o compute.Origin, field string)) {
	table(b, name, rows, columns)
	of := map[finding.Place][]*finding.Finding{} // by row
	for i := range j.Findings {
		p := j.Findings[i].Place
		p.Col = 0
		of[p] = append(of[p], &j.Findings[i])
	}
	for i, row := range rows {
		o, own := at(row)
		if o.Row == 0 {
			continue
		}
		notes := map[int][]string{} // by column
		for _, f := range of[o.At("")] {
			if own != "" && ofAnother(o, own, f.Place.Col) {
				continue
			}
			at := noteColumn(columns, o, f.Place.Col)
			words := fmt.Sprintf("%s: %s %s: %s", f.Place, f.Severity, f.Code, f.Problem)
			if f.Hint != "" {
				words += "\n" + f.Hint
			}
			notes[at] = append(notes[at], words)
		}
		for at := range columns {
			if len(notes[at]) > 0 {
				b.note(name, at+1, i+2, strings.Join(notes[at], "\n"))
			}
		}
	}
}

// ofAnother reports whether a column holds another field of the same kind than own: "reading 2" beside "reading".
func ofAnother(o compute.Origin, own string, col int) bool {
	kind := strings.TrimRight(own, " 0123456789")
	for field, at := range o.Cols() {
		if at == col && field != own && strings.TrimRight(field, " 0123456789") == kind {
			return true
		}
	}
	return false
}

// noteColumn finds the column that shows what stands in a cell of the owner's row; the first column when none does.
func noteColumn[T any](columns []column[T], o compute.Origin, col int) int {
	if col == 0 {
		return 0
	}
	for i, c := range columns {
		if c.field == "" {
			continue
		}
		for field, at := range o.Cols() {
			// Several columns may hold one field: thickness, thickness 2.
			if at == col && (field == c.field || strings.HasPrefix(field, c.field+" ")) {
				return i
			}
		}
	}
	return 0
}

// cellLink links to a cell of the owner's workbook, which stands beside the folder of papers. CSV files that are read
// together stand in a folder of their own; they have no cells to jump to.
func (j *job) cellLink(p finding.Place, text string) bookLink {
	if p.File == "" {
		return bookLink{text: text}
	}
	target := "../"
	if len(j.Job.Files) > 1 && j.Job.Name != "" {
		target += url.PathEscape(j.Job.Name) + "/"
	}
	target += strings.ReplaceAll(url.PathEscape(p.File), "%2F", "/")
	if lower := strings.ToLower(p.File); p.Sheet != "" && (strings.HasSuffix(lower, ".xlsx") || strings.HasSuffix(lower, ".xlsm")) {
		cell := "A1"
		if p.Row > 0 {
			cell = finding.Column(max(1, p.Col)) + fmt.Sprint(p.Row)
		}
		target += "#'" + strings.NewReplacer("%", "%25", " ", "%20", "#", "%23", "'", "''").Replace(shown(p.Sheet, "")) + "'!" + cell
	}
	return bookLink{text: text, target: target}
}

// place names the cell of a place within its file: Readings!D14.
func place(p finding.Place) string {
	p.File = ""
	return strings.TrimPrefix(p.String(), ": ")
}
