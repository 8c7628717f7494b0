// Package compute holds the nouns of the trade and Assess, which turns a Job (what the sheets say) into a Result (what
// the papers print). It reads no file, no clock and no chance.
package compute

import (
	"time"

	"drytally/compute/finding"
	"drytally/compute/price"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// Table is a table that records were read from: the sheet it stands on, and the column of each field by the field's name.
type Table struct {
	File, Sheet string
	Cols        map[string]int
}

// Origin is the row a record was read from. The records of one table share its Table, which is never changed; it is nil when
// they come from none.
type Origin struct {
	Table *Table
	Row   int
}

// At gives the place of a field of the record; the whole row when the field was not in the sheet.
func (o Origin) At(field string) finding.Place {
	if o.Table == nil {
		return finding.Place{Row: o.Row}
	}
	return finding.Place{File: o.Table.File, Sheet: o.Table.Sheet, Row: o.Row, Col: o.Table.Cols[field]}
}

// Cols gives the column of each field that was in the sheet, by the field's name.
func (o Origin) Cols() map[string]int {
	if o.Table == nil {
		return nil
	}
	return o.Table.Cols
}

// SameSheet reports whether two records stand on one sheet.
func (o Origin) SameSheet(p Origin) bool {
	a, b := o.At(""), p.At("")
	return a.File == b.File && a.Sheet == b.Sheet
}

// SameRow reports whether two records were read from one row.
func (o Origin) SameRow(p Origin) bool { return o.At("") == p.At("") }

// Kind names a kind of table. The kinds are those of the sheets a sawyer keeps.
type Kind string

// The kinds of tables.
const (
	KindSettings Kind = "settings"
	KindCuts     Kind = "cuts"
	KindBoards   Kind = "boards"
	KindReadings Kind = "readings"
	KindWeights  Kind = "weights"
	KindAir      Kind = "air"
	KindWanted   Kind = "wanted"
	KindLoads    Kind = "loads"
	KindSold     Kind = "sold"
	KindClimate  Kind = "climate"
)

// InputFile is a file that was read.
type InputFile struct {
	Name   string // without its folder
	SHA256 string // hexadecimal
}

// Job is everything the sheets of one workbook (or one set of CSV files) say. Records keep the order of their rows.
type Job struct {
	Name     string // the workbook's name without folder and extension; papers go into NAME-papers
	Files    []InputFile
	Settings Settings
	Cuts     []Cut
	Boards   []Board
	Readings []Reading
	Unread   []Unread
	Weights  []Weight
	Air      []Air
	Wanted   []Wanted
	Loads    []Load
	Sales    []Sale
	Core     []Core
	Climate  []Climate
	Accounts []Account
	Findings finding.List
	// SheetOrder gives the position of each sheet, for sorting findings into reading order.
	SheetOrder map[string]int
	// Stands gives what stands in a cell, in its own letters; "" where that is not known or says nothing to a person, as the
	// stored number of a date. nil when the cells are not kept. Only findings ask for it.
	Stands func(finding.Place) string
}

// Sawing is how the rings lie in a board.
type Sawing struct {
	Kind  SawingKind
	Angle float64 // RingAngle only: degrees between the rings and the wide face, 0 flat .. 90 quarter
}

// SawingKind is a kind of sawing. The zero value is "not said", which is computed like mixed sawing.
type SawingKind uint8

// The kinds of sawing.
const (
	SawingNotSaid SawingKind = iota
	FlatSawn
	QuarterSawn
	MixedSawn
	RingAngle
)

// String gives the trade's word.
func (s SawingKind) String() string {
	return [...]string{"not said", "flat-sawn", "quarter-sawn", "mixed", "ring angle"}[s]
}

// Cut is a row of green boards from the saw.
type Cut struct {
	Origin           Origin
	Species          wood.Species
	Thickness, Width units.Length // green; the mean when it was measured in several places
	Length           units.Length
	Measured         []units.Length // green thickness, place by place; one value when it is only named
	Setting          units.Length   // what the saw was set to in thickness, when the sheet says so; else 0
	Pieces           int
	ID               string // board or lot id, if given
	Load             string
	Sawing           Sawing
	Date             time.Time
	Note             string
}

// Board is a dry board, measured.
type Board struct {
	Origin          Origin
	ID              string
	Load            string
	Species         wood.Species // Name empty when neither the row nor its load says
	Thickness       []units.Length
	Width           units.Length
	Length          units.Length
	GreenThickness  units.Length // when the sheet carries them beside the dry sizes; the mean of several places
	GreenMeasured   []units.Length
	Setting         units.Length // what the saw was set to in thickness, when the sheet says so; else 0
	GreenWidth      units.Length
	Nominal         units.Length // nominal thickness (4/4 is 1 inch), when named
	NominalWidth    units.Length // nominal width, when named
	Cup, Bow, Crook units.Length
	Twist           units.Length
	CutOut          CutOut
	Sawing          Sawing
	Course, Spot    int // place in the stack: course 1 is the bottom, spot 1 the left end; 0 is not given
	Note            string
}

// CutOut is the bad wood of a board, as given.
type CutOut struct {
	Stretches []Stretch
	Total     units.Length // lost at the ends, wherever; only without Stretches
	Unread    bool         // something stands there that could not be read: where the bad wood lies is not known
}

// Stretch is a part of a board's length. From is 0 or more, To is above From.
type Stretch struct {
	From, To units.Length
	Top      bool // measured from the top end; else from the butt end
}

// Reading is one answer of the moisture meter.
type Reading struct {
	*Taking      // never nil
	Origin       Origin
	Board        string // empty when the place is given instead
	Course, Spot int
	Value        units.Reading
	WoodTemp     units.Temperature
}

// Taking is how a reading was taken. A season has half a million readings, most of them taken like the one before: readings
// taken alike share one Taking, which is never changed.
type Taking struct {
	Field string // the field (and so the cell) of the origin that holds the reading
	Load  string
	Date  time.Time
	Depth units.Length
	Where string // end, middle, face, core ... as written
	Meter string // which meter, when several are told apart; empty is the meter of the settings
	Note  string
}

// Unread is a row of readings none of which could be read. Its board is known to be in the load all the same.
type Unread struct {
	Origin       Origin
	Board        string
	Load         string
	Course, Spot int
}

// Weight is one weighing: of a sample board (Weight), or of a section (Wet and Ovendry).
type Weight struct {
	Origin       Origin
	Sample       string // id of the sample board the weighing or the section belongs to
	Load         string
	Date         time.Time
	Weight       units.Mass // the sample board
	Wet, Ovendry units.Mass // a section cut from it
	Note         string
	// Unit and SectionUnit are what the weight and the section's wet weight were written in.
	Unit, SectionUnit units.MassUnit
}

// Section reports whether the row is about an ovendry section.
func (w Weight) Section() bool { return w.Wet != 0 || w.Ovendry != 0 }

// Air is one line of the air log.
type Air struct {
	Origin           Origin
	Time             time.Time
	DryBulb, WetBulb units.Temperature
	Humidity         units.Humidity
	Where            string
	Load             string
	Running          string
	Note             string
}

// Core is one line of the log of a probe in the core of a board.
type Core struct {
	Origin Origin
	Field  string // the field (and so the cell) of the origin that holds the temperature
	Time   time.Time
	Temp   units.Temperature
	Probe  string // tells several probes apart: where it is, as written, or the number of its column
	Load   string
	Note   string
}

// Climate is the mean air of one month at the place the wood is for.
type Climate struct {
	Origin   Origin
	Month    time.Month
	Temp     units.Temperature
	Humidity units.Humidity
	Indoors  bool // else outdoors, in the shade
	Note     string
}

// Wanted is a finished piece somebody wants.
type Wanted struct {
	Origin           Origin
	Piece            string
	Species          wood.Species
	Thickness, Width units.Length // finished: overall, with tongue or lap
	Face             units.Length // what shows, when it is less than the overall width
	Length           units.Length
	Pieces           int
	Area             float64      // square feet to cover, when given instead of pieces
	Joint            units.Length // lap or tongue; of a door panel or rail the depth of groove or tenon on each side
	Gap              units.Length // between the boards of board and batten
	WallHeight       units.Length // of the wall to cover; of a door's part, of the door
	WallRun          units.Length // width of the wall to cover; of a door's part, of the door
	Openings         float64      // square feet of doors and windows to take off the area
	Profile          string       // as written
	Use              string       // as written
	Waste            float64      // share added, 0..1
	Sawing           Sawing
	Note             string
	Unread           []string // fields whose cells hold what could not be read
}

// Load is one kiln load.
type Load struct {
	Origin         Origin
	ID             string
	Species        wood.Species // Name empty when the row does not say
	Use            string
	Region         string
	Limit          units.MC // the owner's own highest MC; 0 when not given
	Low            units.MC // the owner's own lowest MC; 0 when not given
	DateIn         time.Time
	DateOut        time.Time
	Boards         int // boards in the load; 0 when not given
	Courses, Spots int
	Note           string
}

// Sale is a row of the sold sheet: boards of a load (by id) or a count.
type Sale struct {
	Origin Origin
	ID     string
	Load   string
	Boards []string
	Pieces int
	Buyer  string
	Use    string
	// AsksUnread says that something stands where a price is read and is none that counts: what the row asks is not known.
	AsksUnread bool
	OwnUse     string // what the mill itself used them for, "own use" when it doesn't say; empty when they were sold
	Date       time.Time
	Note       string
	Price      price.Price // what the row asks; not given: the price of the wood, when the settings have one
}
