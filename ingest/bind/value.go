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
	x := b.context(f.Name, k.unit, b.bareUnit(k, f))
	switch f.What {
	case anIDList, aSpecies, aSawing, aClock:
		return b.readWords(c, x, f)
	case aMonth:
		m, ok := b.monthOf(c, x)
		return value{count: int(m)}, ok
	case aPrice, aPriceBF, aSum:
		return b.readMoney(c, x, f)
	}
	v, ps := b.readFigure(c, x, f)
	if !b.problems(c, ps) {
		return v, false
	}
	return v, b.sane(c, f, v)
}

// bareUnit is what a number of a column means that names no unit, when its heading names none either.
func (b *binder) bareUnit(k column, f Field) cell.Unit {
	metric := b.job.Settings.System == units.Metric
	inOurs := func(ours, theirs cell.Unit) cell.Unit {
		if metric {
			return theirs
		}
		return ours
	}
	switch f.What {
	case aRun:
		return b.longUnit()
	case aSpan:
		return inOurs(cell.UnitNone, cell.Millimetre)
	case anArea:
		return inOurs(cell.SquareFoot, cell.SquareMetre)
	case aBurden:
		return inOurs(cell.Pound, cell.Kilogram)
	case aTemperature:
		return b.heatUnit()
	case aMass:
		if k.unsaid {
			return cell.UnitNone
		}
		return b.massUnit()
	}
	return b.smallUnit()
}

// readWords reads a cell whose words mean something: boards, a wood, a way of sawing, a time of day.
func (b *binder) readWords(c sheet.Cell, x cell.Context, f Field) (v value, ok bool) {
	text, ps := cell.Text(c, x)
	v.text = text
	if !b.problems(c, ps) {
		return v, false
	}
	at := b.at(c.Row, c.Col)
	switch f.What {
	case anIDList:
		if n, ok := piecesAlone(text); ok {
			v.count = n
			return v, true
		}
		ids, err := idList(text)
		if err != nil {
			b.say("T013", at, c.Text, "write board numbers apart by commas, a run as A01-A12", "%v", err)
			return v, false
		}
		v.ids = ids
		return v, true
	case aSpecies:
		v.species, ok = b.speciesOf(text, at)
		return v, ok
	case aSawing:
		s, ok := sawingOf(text)
		if !ok {
			b.say("T016", at, c.Text, "write flat, quarter, mixed, or the ring angle in degrees", "%q is not a way of sawing that is known; it was taken as not said", text)
		}
		v.sawing = s
		return v, true
	case aClock:
		d, ok := clockOf(c)
		if !ok {
			b.say("T017", at, c.Text, "write the time as 15:30 or 3:30 pm", "%q is not a time of day", c.Text)
			return v, false
		}
		v.number = d.Hours()
		return v, true
	}
	panic(fmt.Sprintf("bind: no reader of words for quantity %d", f.What))
}

// readMoney reads a price; a figure under "price" that does not say what it is for is left alone.
func (b *binder) readMoney(c sheet.Cell, x cell.Context, f Field) (v value, ok bool) {
	v.moneyAt, v.moneyStands = b.at(c.Row, c.Col), c.Text
	if f.Name == "price" && b.bareMoney(c) {
		b.sayNoMoney(c, "write what it is for behind each figure, or head the column \"price per board foot\" or \"sum asked\"", "the figures under this heading don't say what they are for; no money is worked out from them")
		return v, true
	}
	var ps []cell.Problem
	v.money, ps = cell.Price(c, x, map[quantity]price.Unit{aPriceBF: price.BoardFoot, aSum: price.Lot}[f.What])
	return v, b.problems(c, ps)
}

// readFigure reads a text or a figure with its unit.
func (b *binder) readFigure(c sheet.Cell, x cell.Context, f Field) (v value, ps []cell.Problem) {
	switch f.What {
	case aText, anID:
		v.text, ps = cell.Text(c, x)
	case aThickness:
		v.lengths, ps = cell.Thickness(c, x)
	case aLength, aRun, aSpan:
		var l units.Length
		l, ps = cell.Length(c, x)
		v.lengths = []units.Length{l}
	case aSize:
		v.size, ps = cell.Size(c, x)
	case aCutOut:
		v.cutOut, ps = cell.CutOutOf(c, x)
		v.unread = len(ps) > 0 && len(v.cutOut.Stretches) == 0 && v.cutOut.Total == 0
	case aReading:
		v.readings, ps = cell.Readings(c, x)
		suggestPoint(c, ps)
	case aDate:
		v.date, ps = cell.Date(c, x)
	case aTemperature:
		v.temp, ps = cell.Temperature(c, x)
	case aHumidity:
		v.rh, ps = cell.Humidity(c, x)
	case anMC:
		v.mc, ps = cell.MC(c, x)
	case aShare:
		v.number, ps = cell.Share(c, x)
	case aMass:
		v.mass, v.massUnit, ps = cell.MassIn(c, x)
	case aBurden:
		v.mass, ps = cell.Mass(c, x)
	case aCount:
		v.count, ps = cell.Count(c, x)
	case anArea:
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
	default:
		panic(fmt.Sprintf("bind: no reader for quantity %d", f.What))
	}
	return v, ps
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
