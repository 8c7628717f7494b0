package bind

import (
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// binder makes one job of one workbook, or of one set of CSV files.
type binder struct {
	job   *compute.Job
	fates map[*sheet.Sheet]*fates
	sums  map[sumsKey]*sums        // what the tables read so far come to
	given map[string]finding.Place // settings given so far, on whatever sheet
	owner map[string]value         // what was given for them
	book  *sheet.Workbook          // the file being read
	sheet *sheet.Sheet
	settled
	// The load that title or sheet name for the table being read, where that stands, and whether it was said.
	loadAbove, loadFrom string
	saidLoad            bool
	woods               map[string]wood.Match // names looked up so far
	// Room taken again for every row, and the tables read so far.
	row     *rowValues
	byCol   map[int]sheet.Cell
	tables  map[tableKey]*compute.Table
	again   map[sheet.Cell]value               // what cells of the table being read say, their rows left out
	words   map[string]words                   // what texts of cells come to as words
	takings map[compute.Taking]*compute.Taking // how the last readings were taken
	regions []region                           // of the sheet being read, when lines of text are looked for between them
	amounts []pricedWood                       // prices of the settings, until all settings are read
	strange []strangeSetting
	taken   map[string]bool // names whose usual sense was taken, and said
	trying  bool            // a cell is read only to see whether it could be
	bare    []bareRun       // lengths of wanted pieces written without a unit, until all boards are read
}

type sumsKey struct {
	sheet *sheet.Sheet
	kind  compute.Kind
	col   int
}

// Bind turns the cells of one workbook (or of one set of CSV files) into a job. Settings are read first, wherever they
// stand, because aliases and units decide how the rest is read; loads next, because titles and sheets name them.
func Bind(name string, books []*sheet.Workbook) *compute.Job {
	job, _ := BindAndWrite(name, books)
	return job
}

// BindAndWrite is Bind. It gives the settings of the owner's too, by name, each written so that it reads back the same below
// the headings of a form; a setting that can't be written so has an empty text.
func BindAndWrite(name string, books []*sheet.Workbook) (*compute.Job, map[string]string) {
	b := &binder{
		job:   &compute.Job{Name: name, Settings: compute.Defaults(), SheetOrder: map[string]int{}},
		given: map[string]finding.Place{},
		owner: map[string]value{},
		fates: map[*sheet.Sheet]*fates{},
		sums:  map[sumsKey]*sums{},
		woods: map[string]wood.Match{},
		taken: map[string]bool{},
	}
	settleCommas(books)
	regions := map[*sheet.Sheet][]region{}
	for _, book := range books {
		b.book = book
		b.job.Files = append(b.job.Files, compute.InputFile{Name: book.Name, SHA256: book.SHA256})
		for i := range book.Sheets {
			s := &book.Sheets[i]
			b.sheet = s
			b.job.SheetOrder[s.Name] = len(b.job.SheetOrder)
			b.readLegend()
			regions[s] = b.findRegions(s)
			regions[s] = append(regions[s], findPairs(s, regions[s])...)
			b.readSettings(regions[s])
		}
	}
	b.settleStrange()
	b.settlePrices()
	b.settingsUsed()
	clear(b.woods) // the settings may have given names a meaning
	settledBy := b.settleDates(books, regions)
	// A loads table comes before loads written as names and values, which may only repeat it.
	b.readAll(books, regions, settledBy, func(r region) bool { return r.kind() == compute.KindLoads && r.pairs == nil })
	b.readAll(books, regions, settledBy, func(r region) bool { return r.pairs != nil })
	b.readAll(books, regions, settledBy, func(r region) bool { return r.kind() != compute.KindLoads })
	for _, book := range books {
		b.book, b.settled = book, settledBy[book]
		b.sayNameLetters(finding.Place{File: book.Name}, book.Name, "file")
		for i := range book.Sheets {
			b.sheet = &book.Sheets[i]
			b.regions = regions[b.sheet]
			if r, ok := b.findLines(b.sheet, regions[b.sheet]); ok {
				b.readRegion(r)
				regions[b.sheet] = append(regions[b.sheet], r)
			}
			b.sayHidden(regions[b.sheet])
			b.sayUnheaded(regions[b.sheet])
			b.sayLetters(regions[b.sheet])
			if !book.CSV {
				b.sayNameLetters(b.at(0, 0), b.sheet.Name, "sheet")
			}
			b.account(regions[b.sheet])
		}
	}
	b.sayLongPieces()
	b.settleRuns()
	b.wholeLoads()
	b.job.Findings.Sort(b.job.SheetOrder)
	b.job.Stands = stands(books)
	return b.job, b.settingsWritten()
}

// mostKept is how many cells are kept for the findings of the checks, which are made later: about 10 MB of them. Of larger
// files the checks tell what they understood instead.
const mostKept = 200_000

// stands gives what looks up a cell's own letters; nil when there are too many cells to keep.
func stands(books []*sheet.Workbook) func(finding.Place) string {
	type place struct{ file, sheet string }
	at, cells := map[place]*sheet.Sheet{}, 0
	for _, book := range books {
		for i := range book.Sheets {
			s := &book.Sheets[i]
			for _, row := range s.Rows {
				cells += row.Len()
			}
			name := s.Name
			if book.CSV {
				name = ""
			}
			at[place{book.Name, name}] = s
		}
	}
	if cells > mostKept {
		return nil
	}
	return func(p finding.Place) string {
		s := at[place{p.File, p.Sheet}]
		if s == nil {
			return ""
		}
		c := s.Cell(p.Row, p.Col)
		const longest = 12 // digits; longer ones are what a computer made of a shorter figure
		if c.Kind == sheet.Number && (c.Format != sheet.General && c.Format != sheet.Decimal && c.Format != sheet.AsText || len(c.Text) > longest) {
			return ""
		}
		return strings.TrimSpace(c.Text)
	}
}

// readAll reads the tables that a condition picks, in the order of files and sheets.
func (b *binder) readAll(books []*sheet.Workbook, regions map[*sheet.Sheet][]region, settledBy map[*sheet.Workbook]settled, pick func(region) bool) {
	for _, book := range books {
		b.book, b.settled = book, settledBy[book]
		for i := range book.Sheets {
			b.sheet = &book.Sheets[i]
			for _, r := range regions[b.sheet] {
				if pick(r) {
					b.readRegion(r)
				}
			}
		}
	}
}

// at gives the place of a cell on the sheet being read.
func (b *binder) at(row, col int) finding.Place {
	name := b.sheet.Name
	if b.book.CSV {
		name = ""
	}
	return finding.Place{File: b.book.Name, Sheet: name, Row: row, Col: col}
}

func (b *binder) say(code finding.Code, at finding.Place, stands, hint, problem string, args ...any) {
	b.job.Findings.Add(code, at, stands, hint, problem, args...)
}

// context gives what a cell of a column may be read with.
func (b *binder) context(name string, unit, fallback cell.Unit) cell.Context {
	return cell.Context{Unit: unit, Default: fallback, DecimalComma: b.book.DecimalComma, Date1904: b.book.Date1904,
		DayFirst: b.order, Year: b.year, Column: name}
}

// smallUnit and longUnit are what a bare size and a bare board length mean when neither heading nor cell says.
func (b *binder) smallUnit() cell.Unit {
	if b.job.Settings.System == units.Metric {
		return cell.Millimetre
	}
	return cell.Inch
}

func (b *binder) longUnit() cell.Unit {
	if b.job.Settings.System == units.Metric {
		return cell.Millimetre
	}
	return cell.Foot
}

func (b *binder) heatUnit() cell.Unit {
	if b.job.Settings.System == units.Metric {
		return cell.CelsiusUnit
	}
	return cell.Fahrenheit
}

func (b *binder) massUnit() cell.Unit { return cell.Gram }
