package compute

import (
	"time"

	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// Verdict is what a load report says of a load for its use. The zero value is "not shown".
type Verdict uint8

// The verdicts.
const (
	NotShown Verdict = iota
	NotDryYet
	DryButHeldBack
	DryForUse
)

// String gives the words printed.
func (v Verdict) String() string {
	return [...]string{"not shown", "not dry yet", "dry but for held-back boards", "dry for the use"}[v]
}

// Statement is a sentence to print: the name of its wording in templates and the words and numbers it takes, already
// rounded and written. Reports print it; they compute nothing.
type Statement struct {
	Name string            `json:"name"`
	With map[string]string `json:"with,omitempty"`
}

// Result is everything the papers print.
type Result struct {
	Job      *Job
	Findings finding.List // all findings, of reading and of computing, in reading order
	Accounts []Account    // what became of every row, after the checks
	Loads    []LoadResult
	Boards   []BoardResult // every board, in the order of its row
	Cuts     []CutResult   // every row of the saw's tally
	Sizes    []SizeResult  // one per wanted piece: what to set the saw to
	Sales    []SaleResult
	Species  []wood.Species  // the species the job used, by name
	Sources  []source.Source // every source a printed figure rests on, without repeats
}

// BoardMC is a board's moisture content: its highest corrected reading.
type BoardMC struct {
	Reading units.Reading // as read: the reading that decided
	State   units.ReadingState
	MC      units.MC // corrected, to the tenth; for BelowRange and AboveRange the meter's mark
	Low     units.MC // the lowest and highest the correction allows when wood temperature or species setting is not known
	High    units.MC
	N       int // readings on this board
	Date    time.Time
	Wood    units.Temperature // of the wood at the reading that decided
	Rough   bool              // the temperature correction is only rough (outside 10..30 C)
}

// BoardResult is one board with everything computed of it.
type BoardResult struct {
	Board     *Board
	Species   wood.Species // the board's own or its load's
	MC        BoardMC      // State NotTaken when the board was not measured
	Over      bool         // over its load's limit
	Under     bool         // under its load's lowest MC: too dry for the use
	Nominal   units.Length // nominal thickness used for footage
	Footage   Footage      // dry, net
	Least     units.Length // least thickness measured
	PlanesTo  units.Length // thickness it cleans up to whole; 0 when not computable
	RippedTo  units.Length // thickness when ripped in two first
	WidthTo   units.Length // width it can be jointed to
	Makes     []string     // wanted pieces it makes, largest first
	MakesNone Statement    // why it makes none, when Makes is empty
	Sold      string       // the sale it is in; empty when it is not sold
	ShrinkMC  units.Estimate
}

// Footage is a number of board feet by a named rule. Hundredths keeps the exact sum to print: a rule that gives whole feet
// gives multiples of 100.
type Footage struct {
	Rule       FootageRule
	Hundredths int64
	Known      bool
}

// Band is the moisture a use asks for.
type Band struct {
	Low, Mean, High units.MC
	Use, Region     string        // of the table row, or as the owner wrote it
	Source          source.Source // of High
	TableSource     source.Source // of Low and Mean, when they are the table's
	OwnLimit        bool          // High is the owner's own figure
	Known           bool
}

// WitnessKind names one of the four independent ways to know a load's moisture.
type WitnessKind uint8

// The witnesses.
const (
	WitnessMeter WitnessKind = iota
	WitnessWeight
	WitnessShrinkage
	WitnessAir
)

// String gives the word printed.
func (w WitnessKind) String() string { return [...]string{"meter", "weights", "shrinkage", "air"}[w] }

// Witness is what one of them says of the load's mean.
type Witness struct {
	Kind     WitnessKind
	Estimate units.Estimate // for air: Low is the least MC any board can have come to, High is not used
	Date     time.Time      // of the figure
	Compared bool           // false: too far in time from the readings to be held against them
	Detail   Statement      // what it rests on
	Source   source.Source
}

// Spot is one place of the stack seen from its end.
type Spot struct {
	Course, Spot int
	Board        string // id of the board that lies there, if known
	MC           BoardMC
	Over, Under  bool
}

// LoadResult is one load with its evidence and verdict.
type LoadResult struct {
	Load     *Load
	Species  []string // names, in order of first board
	Band     Band
	Boards   []int  // indices into Result.Boards
	N        int    // boards in the load
	NFrom    string // "loads sheet" or "boards listed"
	Measured int
	Over     []string // ids of boards over the limit, in order
	Under    []string // ids of boards under the band
	HeldBack []string // ids to take out, when the verdict is DryButHeldBack

	Mean      units.Estimate // of the load's boards; with HeldBack, of all
	MeanRest  units.Estimate // without the held-back boards
	Spread    units.MC       // standard deviation between boards
	Tolerance units.MC       // 95 % of boards at or below this with 95 % confidence; 0 when it could not be given
	OverBound int            // with 95 % confidence at most this many boards of the N are over the limit
	RestBound int            // the same of the boards that stay when the held-back ones are out
	RestN     int            // N less the held-back boards
	Allowed   int            // boards over the limit that the allowed share leaves room for among RestN
	Below     int            // readings below the meter's range
	Above     int            // above it

	Witnesses []Witness
	Conflicts []Statement

	Verdict  Verdict
	Reasons  []Statement
	ToSettle []Statement  // the least work that would settle an open verdict
	Notes    []Statement  // how the readings were corrected, what was not measured
	Warnings finding.List // findings that touch this load

	Stack       []Spot // every place of the stack when courses and spots are known
	Courses     int
	Spots       int
	NotMeasured []string // places or boards not measured, in words: "course 3, spot 5"

	FirstReading, LastReading time.Time
	GreenFootage, DryFootage  []Footage // one per rule
	Days                      DaysToTarget
	Sources                   []source.Source // of the corrections of its readings
	DrySolid                  int64           // thousandths of a cubic metre of its listed boards as measured dry; 0 when a size is missing
	Weight                    units.Mass      // of the dry pack, about; 0 when not computable
	Withheld                  bool            // an error touches its rows: no certificate for others
}

// DaysToTarget is the forecast of the drying curve. Known false: it could not be given, and Says tells why. For a load that
// is dry already Says is empty.
type DaysToTarget struct {
	Known          bool
	Days           float64 // whole days from From, rounded up
	Low, High      float64 // whole days, outward
	OpenEnd        bool    // no later end can be given: High is 0
	From           time.Time
	Target, Ends   units.MC // target MC and the MC the air leads to
	DailyLoss      units.MC // latest, points of MC a day, to the tenth
	SafeLoss       units.MC // published safe rate; 0 when none
	SafeLossSource source.Source
	Says           Statement
}

// CutResult is a row of the saw's tally with its footage and what it dries to.
type CutResult struct {
	Cut          *Cut
	Green        Footage
	DryThickness units.LengthRange
	DryWidth     units.LengthRange
	TargetMC     units.MC
}

// SizeResult is one wanted piece with its saw setting.
type SizeResult struct {
	Wanted    *Wanted
	TargetMC  units.MC
	TargetSrc source.Source
	Known     bool // false: Why says what is missing
	Why       Statement

	Thickness, Width             units.Length // what to set the saw to
	ThicknessExact, WidthExact   units.Length // before rounding up to the saw's step
	FinishThickness, FinishWidth units.Length
	PlaneThickness, PlaneWidth   units.Length // allowance, both faces or both edges
	ShrinkThickness, ShrinkWidth float64      // share of the green size, to TargetMC
	DryThickness, DryWidth       units.LengthRange
	CleansUp                     float64 // share of boards expected to clean up in both directions
	Pieces, Boards               int     // pieces wanted, boards to saw with the waste added
	WasteShare                   float64
	Green, Net                   Footage
	Weight                       units.Mass // of the green boards, about
	CanMake                      int        // dry boards on hand that make this piece
	LinealFeet                   float64    // running feet with the waste, when an area is covered
	Sawing                       Sawing     // as computed: the piece's own, or that of the week's cuts of the species
	Notes                        []Statement
	Sentence                     Statement // the plain-words line
}

// SaleResult is one sale: its boards, footage and what can be said of their moisture.
type SaleResult struct {
	ID                        string // made safe for a file name by the writer
	Buyer                     string
	Date                      time.Time
	Loads                     []string
	Boards                    []int    // indices into Result.Boards
	Missing                   []string // ids that name no board
	Solid                     int64    // thousandths of a cubic metre as measured; 0 when a size is missing
	Measured                  int      // boards of the sale with a reading of their own
	Footage                   []Footage
	Low, High, Mean           units.MC
	Below, Above              int
	FirstReading, LastReading time.Time
	Withheld                  bool
	WithheldWhy               []Statement
	Sales                     []*Sale // the rows
	Warnings                  finding.List
	Notes                     []Statement
}
