package compute

import (
	"time"

	"drytally/compute/finding"
	"drytally/compute/profile"
	"drytally/compute/source"
	"drytally/compute/target"
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
	House    []HouseShrinkage // the mill's own shrinkage figures, by species and direction
	Findings finding.List     // all findings, of reading and of computing, in reading order
	Accounts []Account        // what became of every row, after the checks
	Loads    []LoadResult
	Boards   []BoardResult // every board, in the order of its row
	Cuts     []CutResult   // every row of the saw's tally
	Sizes    []SizeResult  // one per wanted piece: what to set the saw to
	Sales    []SaleResult
	Fit      *FitResult        // wanted pieces cut from the dry boards on hand; nil when there is nothing to fit
	Climate  []ClimateYear     // what the place leads wood to, outdoors and indoors
	Meters   []MeterComparison // meters held against the oven and against each other
	Heat     []HeatRecord      // one per probe in the core of a board
	Kiln     *KilnResult       // how the boards not yet dried are loaded; nil when the kiln's measures are not given
	Step     StepResult        // what a thicker saw setting takes of the logs
	Money    *MoneyResult      // nil when the owner gives no price
	Species  []wood.Species    // the species the job used, by name
	Sources  []source.Source   // every source a printed figure rests on, without repeats

	SawSpread  SawSpread    // the spread of the sawing the settings are computed with
	OneSetting []OneSetting // settings so near each other that one could do
	CoverBy    Statement    // how coverage is counted, when a piece covers an area
}

// BoardMC is a board's moisture content: its highest corrected reading.
type BoardMC struct {
	Reading units.Reading // as read: the reading that decided
	State   units.ReadingState
	MC      units.MC // corrected, to the tenth; for BelowRange and AboveRange the meter's mark, corrected
	Mark    units.MC // for BelowRange and AboveRange the mark as the meter has it; 0 for a number
	Low     units.MC // the lowest and highest the correction allows when wood temperature or species setting is not known
	High    units.MC
	// Uncalibrated is MC before this meter's own line was used, to the tenth; 0 when no line was.
	Uncalibrated units.MC
	N            int // readings on this board
	Date         time.Time
	Wood         units.Temperature // of the wood at the reading that decided
	Rough        bool              // the temperature correction is only rough (outside 10..30 C)
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
	Bad       BadWood      // what is cut out of it
	CutTo     units.Length // the length it is cut to first, that of the largest piece it makes or else comes nearest to; 0: left whole
	CutPlanes units.Length // thickness it cleans up to when cut to CutTo first; the next two likewise
	CutRipped units.Length // ripped as well, into CutStrips
	CutStrips int          // two, or as many as the piece needs to clean up or to lack least
	CutWidth  units.Length
	Chips     int64     // cubic centimetres planed and jointed off when it is worked whole, solid; 0 when not computable
	Makes     []string  // wanted pieces it makes, largest first
	MakesNone Statement // why it makes none, when Makes is empty
	Sold      string    // the sale it is in; empty when it is not sold
	ShrinkMC  units.Estimate
	Gradient  Gradient // shell against core, when both were read
}

// GradientSense says which layer of a board is the wetter. The zero value is "even": by less than 1.5 points either way.
type GradientSense uint8

// The senses.
const (
	LayersEven  GradientSense = iota
	CoreWetter                // not done drying
	ShellWetter               // took up moisture since
)

// String gives the words printed.
func (g GradientSense) String() string {
	return [...]string{"even", "core wetter: not done", "shell wetter: took up moisture since"}[g]
}

// Gradient compares shell and core of one board by the readings of its latest day.
type Gradient struct {
	Known       bool
	Shell, Core units.Reading // corrected, the mean of the layer's readings, to the tenth; a mark stays a limit
	Points      units.MC      // core less shell: above 0 the core is the wetter
	AtLeast     bool          // a mark is in it: the difference is at least Points, away from 0
	Sense       GradientSense
	Says        Statement
}

// Layers is what shell and core say of a load.
type Layers struct {
	Pairs                   int // boards with shell and core read
	CoreWetter, ShellWetter []string
	Even                    int
	Mean                    units.MC // of the differences core less shell that are numbers, to the tenth
	Says                    []Statement
}

// Stratum is a part of the stack: a third of its courses or of its spots.
type Stratum struct {
	By       string // "courses" or "spots"
	Name     string // bottom, middle, top; left, middle, right
	From, To int    // courses or spots, counted from the bottom and from the left
	Boards   int    // places in it that hold a board of the load
	Measured int
	Mean     units.Estimate // of its boards; Known false when not estimable. The meter's own error is in the range
	Reading  units.Estimate // the same without the meter's own error: it is common to all strata
	Spread   units.MC       // standard deviation between its boards
	Over     int            // boards measured over the limit
	Wettest  bool           // the highest mean of its kind
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
	Boards   []int  // indices into Result.Boards, in the order of the boards' numbers
	N        int    // boards in the load
	NFrom    string // "loads sheet" or "boards listed"
	Measured int
	Over     []string // ids of boards over the limit, in order
	Under    []string // ids of boards under the band
	HeldBack []string // ids to take out, when the verdict is DryButHeldBack

	Mean      units.Estimate // of the load's boards; with HeldBack, of all
	MeanRest  units.Estimate // without the held-back boards; not known where there are none
	Spread    units.MC       // standard deviation between boards
	Tolerance units.MC       // 95 % of boards at or below this with 95 % confidence; 0 when it could not be given
	NoLimit   Statement      // why Tolerance could not be given
	Sampling  units.Estimate // Mean with the range of sampling alone, as if the meter had no error of its own
	MeterOff  units.MC       // what the meter itself can be off, either way with 95 %: counted in Mean, Tolerance and the bounds
	Counted   int            // OverBound by counting alone, as if the meter had no error of its own
	Strata    []Stratum      // thirds of the courses, then thirds of the spots, when places are known
	// StrataDiffer says which parts are further apart than one standard deviation between boards; empty when the boards count
	// as one sample.
	StrataDiffer []Statement
	ByThirds     units.Estimate // the load's mean from the thirds of its courses, each weighed with its boards; Known false when a third has too few numbers
	Layers       Layers         // shell against core
	OverBound    int            // with 95 % confidence at most this many boards of the N are over the limit
	RestBound    int            // the same of the boards that stay when the held-back ones are out
	RestN        int            // N less the held-back boards
	Allowed      int            // boards over the limit that the allowed share leaves room for among RestN
	Below        int            // readings below the meter's range
	Above        int            // above it

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
	SlowMissing string   // slow places with too few measured boards, in words; empty when there are enough
	NotMeasured []string // places or boards not measured, in words: "course 3, spot 5"

	FirstReading, LastReading time.Time
	GreenFootage, DryFootage  []Footage // one per rule: green of the cuts that name the load, dry of its listed boards
	GreenBoards               int       // of the cuts that name the load
	Days                      DaysToTarget
	Stores                    []StoreResult   // what the air of the place it is kept in makes of it, one per place
	Rise                      RiseResult      // readings on two days, the later ones higher
	Heat                      []Statement     // the record of its core probes, or why air temperatures tell nothing of the core
	Sources                   []source.Source // of the corrections of its readings
	DrySolid                  int64           // thousandths of a cubic metre of its listed boards as measured dry; 0 when a size is missing
	Weight                    units.Mass      // of the dry pack, about; 0 when not computable
	Withheld                  bool            // an error touches its rows: no certificate for others
}

// DaysToTarget is the forecast of the drying curve. Known false: it could not be given, and Says tells why. For a load that
// is dry already Says is empty.
type DaysToTarget struct {
	Known        bool
	Days         float64 // whole days from From, rounded up
	Low, High    float64 // whole days, outward
	OpenEnd      bool    // no later end can be given: High is 0
	From         time.Time
	Target, Ends units.MC // target MC and the MC the air leads to
	DailyLoss    units.MC // latest, points of MC a day, to the tenth
	Reach        units.MC // the lowest moisture the wood can come to in the air of the end of the log; 0 without a log
	ReachSays    Statement
	// FastestLoss is the fastest loss between two weighings of any sample board; 0 when none was weighed twice.
	FastestLoss            units.MC
	FastestSample          string
	FastestFrom, FastestTo time.Time
	TooFast                bool // FastestLoss is above SafeLoss
	LossSays               []Statement
	SafeLoss               units.MC // published safe rate; 0 when none
	SafeLossSource         source.Source
	Says                   Statement
}

// HouseShrinkage is the mill's own shrinkage figure of a species in a direction: the table's joined with what its own boards
// showed. Shares are of the green size, green to ovendry.
type HouseShrinkage struct {
	Species     string
	Direction   string   // tangential, radial, or mixed sawing
	Known       bool     // false: too few boards, and Used is the table's figure
	Table       float64  // the handbook's
	Own         float64  // mean of the boards used
	Used        float64  // the two joined by their precision
	Error       float64  // standard error of Used, with what the meter can be off
	Boards      int      // used
	ByWeight    int      // of these, boards whose moisture content is known by weight
	LeftOut     []string // ids of boards left out as slips, in the order of their rows
	TableSource source.Source
	Says        Statement
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
	PlaneThickness, PlaneWidth   units.Length     // allowance, both faces or both edges
	ShrinkThickness, ShrinkWidth float64          // share of the green size, to TargetMC
	Own                          []HouseShrinkage // the mill's own figures the shrinkage rests on; empty: the table's
	DryThickness, DryWidth       units.LengthRange
	CleansUp                     float64 // share of boards expected to clean up in both directions
	Pieces, Boards               int     // pieces wanted, boards to saw with the waste added
	WasteShare                   float64
	Green, Net                   Footage
	Weight                       units.Mass   // of the green boards, about
	CanMake                      int          // dry boards on hand that make this piece
	LargeEnough                  int          // dry boards on hand of its wood that are long and wide enough
	Skip                         int          // of these, boards that keep unplaned places (skip) when cut to its length and planed whole to its thickness
	SkipShare                    float64      // Skip of LargeEnough, 0..1; 0 when there are none
	LinealFeet                   float64      // running feet with the waste, when an area is covered
	Sawing                       Sawing       // as computed: the piece's own, or that of the week's cuts of the species
	Season                       SeasonResult // how its width moves through the year of the place
	Notes                        []Statement
	Sentence                     Statement // the plain-words line

	WasteRule                target.WasteRule // by which Boards and LinealFeet are counted
	BoardsAdded, BoardsTaken int              // boards with the waste added to what is needed, and taken out of what is sawn
	LinealNet                float64          // running feet without waste
	WeightLow, WeightHigh    units.Mass       // of Weight: 20 % either way
	DryWeight                units.Mass       // of the same boards at TargetMC, before planing, about
	DryWeightLow             units.Mass       // of DryWeight: 10 % either way
	DryWeightHigh            units.Mass
	Solid, DrySolid          int64 // thousandths of a cubic metre of the boards to saw, green and dry
	Shape                    profile.Shape
	Cover                    Cover
	Name                     DressedName // what the trade calls the finished size
}

// SaleResult is one sale: its boards, footage and what can be said of their moisture.
type SaleResult struct {
	ID                        string // made safe for a file name by the writer
	Buyer                     string
	OwnUse                    string // what the mill used all of it for itself; such a row is no sale, and gets no papers
	Date                      time.Time
	Loads                     []string
	Boards                    []int    // indices into Result.Boards, load by load in the order of their numbers
	Missing                   []string // ids that name no board
	Solid                     int64    // thousandths of a cubic metre as measured; 0 when a size is missing
	Age                       int      // days from the last reading to the sale; 0 when either day is not known
	Measured                  int      // boards of the sale with a reading of their own
	Footage                   []Footage
	Low, High, Mean           units.MC
	Below, Above              int
	FirstReading, LastReading time.Time
	Withheld                  bool
	WithheldWhy               []Statement
	Sales                     []*Sale      // the rows
	Methods                   []SaleMethod // how the readings behind it were corrected, load by load
	Weight                    SaleWeight
	Warnings                  finding.List
	Notes                     []Statement
}

// Named counts the boards the rows of a sale name, whether they are found or not.
func (s *SaleResult) Named() int {
	n := 0
	for _, row := range s.Sales {
		n += len(row.Boards)
	}
	return n
}
