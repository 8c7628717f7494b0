package compute

import (
	"slices"
	"strconv"

	"drytally/compute/calibrate"
	"drytally/compute/source"
)

// sayMeter puts a comparison into words, and into the settings used when its line was.
func (x *index) sayMeter(c *comparison) {
	r := &c.result
	say := func(name string, with ...any) { r.Says = append(r.Says, stated(name, with...)) }
	wood := r.Species
	if wood == "" {
		wood = "wood not named"
	}
	if r.Difference.Known {
		low, high := "", ""
		if r.Difference.Confidence > 0 {
			low, high = r.Difference.Low.Tenth().Signed(), r.Difference.High.Tenth().Signed()
		}
		say("meters-difference", "meter", r.Meter, "oven", r.Oven, "against", r.Against, "n", r.Difference.N, "species", wood, "difference", r.Difference.Value.Tenth().Signed(),
			"low", low, "high", high, "spread", r.Spread)
	}
	if r.Marks+r.Apart > 0 {
		say("meters-left-out", "marks", r.Marks, "apart", r.Apart)
	}
	switch {
	case !r.Difference.Known:
	case !r.Line.Known || r.Difference.N < leastPairs:
		say("meters-few", "n", r.Difference.N, "least", leastPairs)
	case !c.usable:
		say("meters-no-line", "slope", strconv.FormatFloat(r.Line.Slope, 'f', 2, 64), "low", r.Line.Low, "high", r.Line.High, "residual", trimTo(r.Line.Residual, 1))
	default:
		mid := r.Line.At[len(r.Line.At)/2]
		say("meters-line", "equation", lineWritten(r.Line), "n", r.Difference.N, "low", r.Line.Low, "high", r.Line.High, "shown", mid.Shown, "mc", mid.MC,
			"from", mid.Low, "to", mid.High, "source", calibrate.LineSource())
	}
	if !r.Used {
		return
	}
	x.cite(calibrate.LineSource())
	say("meters-used", "n", r.Boards, "low", r.Line.Low, "high", r.Line.High)
	if r.Oven {
		say("meters-not-apart")
	}
	name := "meter line"
	if r.Meter != "" {
		name += ", " + r.Meter
	}
	if r.Species != "" {
		name += ", " + r.Species
	}
	against := "the oven"
	if !r.Oven {
		if against = "the main meter"; r.Against != "" {
			against = r.Against
		}
	}
	x.job.Settings.Used = append(slices.Clip(x.job.Settings.Used), SettingUsed{Name: name,
		Value:  lineWritten(r.Line) + ", from " + strconv.Itoa(r.Difference.N) + " boards held against " + against,
		Source: source.Source{Document: "the workbook", Place: calibrate.LineSource().Document + ", " + calibrate.LineSource().Place, Status: source.Derived}})
}

// lineWritten writes a line as an equation.
func lineWritten(l MeterLine) string {
	return "MC = " + strconv.FormatFloat(l.Intercept, 'f', 2, 64) + " + " + strconv.FormatFloat(l.Slope, 'f', 3, 64) + " x reading"
}

func trimTo(v float64, digits int) string { return strconv.FormatFloat(v, 'f', digits, 64) }

// serveLoads says of every load what its store does to it, whether it took up moisture, how hot its core was, and which
// meter lines its figures rest on.
func (x *index) serveLoads() {
	for i := range x.out.Loads {
		r := &x.out.Loads[i]
		x.storeLoad(r)
		x.riseOf(r)
		r.Notes = append(r.Notes, x.meterLines(r.Boards)...)
	}
	x.heatRecords()
}

// meterLines says by which lines of the owner's meters the readings of some boards were corrected, and of how many of them.
func (x *index) meterLines(boards []int) (says []Statement) {
	for _, c := range x.out.Meters {
		n := 0
		for _, at := range boards {
			if b := &x.out.Boards[at]; b.MC.Uncalibrated != 0 && b.Species.Name == c.Species {
				n++
			}
		}
		if !c.Used || n == 0 {
			continue
		}
		for _, s := range c.Says {
			if s.Name == "meters-used" {
				s = s.put("n", n)
			}
			says = append(says, s)
		}
	}
	return says
}
