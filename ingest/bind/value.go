package bind

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/price"
	"drytally/compute/units"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// problems adds what a cell's reader had to say, and reports whether a value came out.
func (b *binder) problems(c sheet.Cell, ps []cell.Problem) bool {
	ok := true
	for _, p := range ps {
		b.job.Findings.Add(p.Code, b.at(c.Row, c.Col), c.Text, b.inFile(p.Hint), "%s", p.Problem)
		if finding.KindOf(p.Code).Severity == finding.Error {
			ok = false
		}
	}
	return ok
}

// read reads one cell of a column.
func (b *binder) read(c sheet.Cell, k column, f Field) (value, bool) {
	said := len(b.job.Findings)
	v, ok := b.readCell(c, k, f)
	if !ok {
		b.keepTrueExamples(said, c, k, f)
	}
	return v, ok
}

func (b *binder) readCell(c sheet.Cell, k column, f Field) (value, bool) {
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
			if n, ok := piecesAlone(v.text); ok {
				v.count = n
				return v, true
			}
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
		suggestPoint(c, ps)
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
		if x.Default = b.massUnit(); k.unsaid {
			x.Default = cell.UnitNone
		}
		v.mass, v.massUnit, ps = cell.MassIn(c, x)
	case aCount:
		v.count, ps = cell.Count(c, x)
	case anArea:
		x.Default = cell.SquareFoot
		if b.job.Settings.System == units.Metric {
			x.Default = cell.SquareMetre
		}
		read := cell.Area
		if f.Name == "openings" {
			read = cell.Openings
		}
		v.number, ps = read(c, x)
	case aYesNo:
		yes, known, p := cell.YesNo(c, x)
		ps = p
		switch {
		case known && yes:
			v.said = compute.Yes
		case known:
			v.said = compute.No
		}
	case aCutOut:
		v.cutOut, ps = cell.CutOutOf(c, x)
		v.unread = len(ps) > 0 && len(v.cutOut.Stretches) == 0 && v.cutOut.Total == 0
	case aMonth:
		m, ok := b.monthOf(c, x)
		v.count = int(m)
		return v, ok
	case aSpan:
		if x.Default = cell.UnitNone; b.job.Settings.System == units.Metric {
			x.Default = cell.Millimetre
		}
		var l units.Length
		l, ps = cell.Length(c, x)
		v.lengths = []units.Length{l}
	case aBurden:
		if x.Default = cell.Pound; b.job.Settings.System == units.Metric {
			x.Default = cell.Kilogram
		}
		v.mass, ps = cell.Mass(c, x)
	case aPrice, aPriceBF, aSum:
		if f.Name == "price" && b.bareMoney(c) {
			v.moneyAt, v.moneyStands = b.at(c.Row, c.Col), c.Text
			b.sayNoMoney(c, "write what it is for behind each figure, or head the column \"price per board foot\" or \"sum asked\"", "the figures under this heading don't say what they are for; no money is worked out from them")
			return v, true
		}
		v.money, ps = cell.Price(c, x, map[quantity]price.Unit{aPriceBF: price.BoardFoot, aSum: price.Lot}[f.What])
		v.moneyAt, v.moneyStands = b.at(c.Row, c.Col), c.Text
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
	case strings.HasPrefix(f.Name, "wall "):
		low, high = 4*units.Inch, 1000*units.Foot
	case f.What == aRun:
		low, high = 4*units.Inch, 60*units.Foot
	case f.What == aSpan:
		low, high = 6*units.Inch, 200*units.Foot
	case strings.HasSuffix(f.Name, "thickness") || f.Name == "nominal" || f.Name == "sawn at":
		low, high = units.Fraction(1, 16), 24*units.Inch
	case strings.HasSuffix(f.Name, "width") || f.Name == "face":
		low, high = units.Fraction(1, 4), 60*units.Inch
	default:
		return true
	}
	if meant := lostBlank(c.Text); c.Kind == sheet.Text && meant != nil {
		b.say("T011", b.at(c.Row, c.Col), c.Text, "is it "+either(meant)+"? Write the blank, or the size with a point",
			"%q can be read two ways: a blank may have been lost", c.Text)
		return false
	}
	for _, l := range v.lengths {
		if l < low || l > high {
			of := f.Name + " of a board"
			if f.What == aSpan {
				of = f.Name
			}
			b.say("T011", b.at(c.Row, c.Col), c.Text, "write the size with its unit, such as 96 in, 8 ft, 7 1/4 or 184 mm",
				"%q would be %s, which no %s is", c.Text, b.job.Settings.System.Run(l), of)
			return false
		}
	}
	return true
}

// topHeavy is a fraction greater than one.
var topHeavy = regexp.MustCompile(`^\s*(\d{1,4})/(2|4|8|16|32|64)\s*(?:"|''|in\.?|″)?\s*$`)

// lostBlank gives the mixed numbers that a top-heavy fraction may have been before its blank was lost: 6 1/2 for 61/2, and
// 1 11/16 or 11 1/16 for 111/16. Quarter names such as 5/4 and 16/4 have none.
func lostBlank(text string) []string {
	m := topHeavy.FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	den, _ := strconv.Atoi(m[2])
	if n, _ := strconv.Atoi(m[1]); n < den {
		return nil
	}
	var meant []string
	for i := 1; i < len(m[1]); i++ {
		n, _ := strconv.Atoi(m[1][i:])
		if m[1][i] != '0' && n < den && n%2 == 1 {
			meant = append(meant, m[1][:i]+" "+m[1][i:]+"/"+m[2])
		}
	}
	return meant
}

// bareWhole is a whole number of three digits, as 105 stands for 10.5.
var bareWhole = regexp.MustCompile(`^\s*(\d{2})(\d)\s*%?\s*$`)

// suggestPoint writes the reading that was most likely meant into the hint about one that is too high.
func suggestPoint(c sheet.Cell, ps []cell.Problem) {
	m := bareWhole.FindStringSubmatch(c.Text)
	for i := range ps {
		if ps[i].Code == finding.CellOutOfRange && m != nil {
			ps[i].Hint = "is it " + m[1] + "." + m[2] + "? A decimal point may have been lost; else measure again"
		}
	}
}
