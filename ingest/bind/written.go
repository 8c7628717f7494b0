package bind

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/price"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// writer writes values so that the reader takes them for the same again, under the headings of a form in a system of units.
type writer struct {
	system   units.System
	currency string
	reader   binder
}

func newWriter(s *compute.Settings) *writer {
	w := &writer{system: s.System, currency: s.Currency}
	settings := compute.Defaults()
	settings.System, settings.Aliases = s.System, s.Aliases
	w.reader = binder{job: &compute.Job{Settings: settings}, book: &sheet.Workbook{}, sheet: &sheet.Sheet{}, woods: map[string]wood.Match{}}
	return w
}

// written gives the text of a value for a field below a heading. The text has been read back: an error means that none of
// the ways to write the value gives it back to the last digit.
func (w *writer) written(heading string, f Field, v value) (string, error) {
	_, unit := headingWords(heading)
	for _, text := range w.ways(f, v) {
		if w.readsBack(text, unit, f, v) {
			return text, nil
		}
	}
	return "", fmt.Errorf("%s can't be written so that it reads back the same", f.Name)
}

// readsBack reports whether a text, stored as a form stores it, is read as the value and without a word.
func (w *writer) readsBack(text string, unit cell.Unit, f Field, v value) bool {
	c := sheet.Cell{Row: 1, Col: 1, Kind: sheet.Text, Text: text, Format: sheet.AsText}
	if n, ok := FormNumberIn(text, formKind(f.What)); ok {
		c.Kind, c.Number, c.Format = sheet.Number, n, sheet.General
	}
	if cell.Empty(c) || cell.Ditto(c) {
		return false
	}
	w.reader.job.Findings = nil
	got, ok := w.reader.read(c, column{col: 1, unit: unit}, f)
	said := slices.DeleteFunc(w.reader.job.Findings, func(x finding.Finding) bool {
		return len(v.readings) > 0 && v.readings[0].Doubtful && x.Code == finding.CellAbout
	})
	return ok && len(said) == 0 && sameValue(f.What, got, v)
}

// FormNumberIn gives the number a cell of a form stores for a text; ok is false where it stores the text.
func FormNumberIn(text string, kind FormKind) (n float64, ok bool) {
	if kind != FormNumber {
		return 0, false
	}
	n, err := strconv.ParseFloat(text, 64)
	return n, err == nil && strconv.FormatFloat(n, 'f', -1, 64) == text
}

func sameValue(what quantity, a, b value) bool {
	switch what {
	case aText, anID:
		return a.text == b.text
	case anIDList:
		return slices.Equal(a.ids, b.ids)
	case aSpecies:
		return a.species == b.species
	case aSawing:
		return a.sawing == b.sawing
	case aThickness, aLength, aRun, aSpan:
		return slices.Equal(a.lengths, b.lengths)
	case aReading:
		return slices.Equal(a.readings, b.readings)
	case aDate:
		return a.date.Equal(b.date)
	case aClock, aShare, anArea:
		return a.number == b.number
	case aTemperature:
		return a.temp == b.temp
	case aHumidity:
		return a.rh == b.rh
	case anMC:
		return a.mc == b.mc
	case aMass:
		return a.mass == b.mass && a.massUnit == b.massUnit
	case aBurden:
		return a.mass == b.mass
	case aPrice, aPriceBF, aSum:
		return a.money.Price == b.money.Price && strings.EqualFold(a.money.Currency, b.money.Currency)
	case aCount, aMonth:
		return a.count == b.count
	case aYesNo:
		return a.said == b.said
	case aSize:
		return a.size == b.size
	case aCutOut:
		return a.unread == b.unread && a.cutOut.Total == b.cutOut.Total && slices.Equal(a.cutOut.Stretches, b.cutOut.Stretches)
	}
	return false
}

// ways lists how a value may be written, the plainest first.
func (w *writer) ways(f Field, v value) []string {
	plain := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	round := func(x float64) string { return plain(math.Round(x*1e6) / 1e6) }
	switch f.What {
	case aText, anID:
		return []string{v.text}
	case anIDList:
		return []string{strings.Join(v.ids, ", "), strings.Join(v.ids, "; ")}
	case aSpecies:
		return []string{v.species.Name}
	case aSawing:
		switch v.sawing.Kind {
		case compute.FlatSawn:
			return []string{"flat"}
		case compute.QuarterSawn:
			return []string{"quarter"}
		case compute.MixedSawn:
			return []string{"mixed"}
		}
		return []string{plain(v.sawing.Angle) + "°"}
	case aThickness, aLength, aRun:
		return w.lengthWays(f.What, v.lengths)
	case aReading:
		return []string{v.readings[0].String()}
	case aSpan:
		l := v.lengths[0]
		ways := []string{round(l.Feet()) + " ft", round(l.Inches()) + " in", round(l.Millimetres()) + " mm"}
		if w.system == units.Metric {
			slices.Reverse(ways)
		}
		return ways
	case aBurden:
		ways := []string{round(v.mass.Pounds()) + " lb", round(v.mass.Grams()/1000) + " kg", plain(v.mass.Grams()) + " g"}
		if w.system == units.Metric {
			ways[0], ways[1] = ways[1], ways[0]
		}
		return ways
	case aPrice, aPriceBF, aSum:
		return []string{priceText(v.money.Price, cmp.Or(v.money.Currency, w.currency)), priceText(v.money.Price, "")}
	case aCutOut:
		if v.unread {
			return nil
		}
		inches := cutOutIn(v.cutOut, " in", func(l units.Length) string { return round(l.Inches()) })
		millimetres := cutOutIn(v.cutOut, " mm", func(l units.Length) string { return round(l.Millimetres()) })
		if w.system == units.Metric {
			return []string{millimetres, inches}
		}
		return []string{inches, millimetres}
	case aDate:
		return []string{v.date.Format(time.DateOnly), v.date.Format("2006-01-02 15:04"), v.date.Format("2006-01-02 15:04:05")}
	case aClock:
		t := time.Time{}.Add(time.Duration(v.number * float64(time.Hour)).Round(time.Second))
		return []string{t.Format("15:04"), t.Format("15:04:05")}
	case aTemperature:
		f, c := v.temp.Fahrenheit(), v.temp.Celsius()
		if w.system == units.Metric {
			return []string{round(c), plain(c), round(f) + " F", plain(f) + " F"}
		}
		return []string{round(f), plain(f), round(c) + " C", plain(c) + " C"}
	case aHumidity:
		return []string{round(v.rh.Percent()), plain(v.rh.Percent()), round(v.rh.Percent()) + " %"} // 1 % needs the sign
	case anMC:
		return []string{v.mc.String(), v.mc.String() + " %"} // 1 % needs the sign
	case aShare:
		return []string{round(v.number * 100), plain(v.number * 100), round(v.number*100) + " %", plain(v.number*100) + " %"} // one below 1 % needs the sign
	case anArea:
		metres := v.number * 0.3048 * 0.3048
		if w.system == units.Metric {
			return []string{round(metres), plain(metres), plain(v.number) + " sq ft"}
		}
		return []string{round(v.number), plain(v.number), round(metres) + " m2"}
	case aMass:
		if v.massUnit == units.InGrams {
			return []string{plain(v.mass.Grams())}
		}
		in := v.mass.In(v.massUnit)
		return []string{round(in) + " " + v.massUnit.String(), plain(in) + " " + v.massUnit.String()}
	case aCount:
		return []string{strconv.Itoa(v.count)}
	case aMonth:
		return []string{time.Month(v.count).String()[:3]}
	case aYesNo:
		return []string{v.said.String()}
	}
	return nil
}

// lengthWays writes one length as the trade does where that is exact, else in decimals.
func (w *writer) lengthWays(what quantity, all []units.Length) []string {
	if len(all) != 1 {
		return nil
	}
	l := all[0]
	inches := strconv.FormatFloat(l.Inches(), 'f', -1, 64)
	if l%units.Fraction(1, 64) == 0 {
		inches = l.Trade()
	}
	mm := strconv.FormatFloat(l.Millimetres(), 'f', -1, 64)
	switch {
	case w.system == units.Metric:
		return []string{mm, inches + `"`, mm + " mm"}
	case what == aRun && l%units.Foot == 0:
		return []string{strconv.FormatInt(int64(l/units.Foot), 10), inches + `"`}
	case what == aRun:
		return []string{l.FeetInches(), inches + `"`, mm + " mm"}
	}
	return []string{inches, mm + " mm"}
}

// setting writes a setting the owner gave; "" when it can't be written so that it reads back.
func (w *writer) setting(s *Setting, shown string, v value) string {
	if s.several {
		return shown
	}
	text, err := w.written(withUnit(s.Name, s.What, w.system), Field{Name: s.Name, What: s.What}, v)
	if err != nil {
		return ""
	}
	return text
}

// cutOutIn writes bad wood in a unit: 14.5 to 20 in; 4 to 9 in from the top; or lose 8 in.
func cutOutIn(c cell.CutOut, unit string, number func(units.Length) string) string {
	if c.Total != 0 {
		return "lose " + number(c.Total) + unit
	}
	var all []string
	for _, s := range c.Stretches {
		text := number(s.From) + " to " + number(s.To) + unit
		if s.Top {
			text += " from the top"
		}
		all = append(all, text)
	}
	return strings.Join(all, "; ")
}

// priceText writes a price as it is read: 4.50 USD per board foot.
func priceText(p price.Price, currency string) string {
	per := map[price.Unit]string{price.BoardFoot: "per board foot", price.ThousandFeet: "per 1000 board feet", price.CubicMetre: "per cubic metre", price.Lot: "in all"}
	figure := fmt.Sprintf("%d.%02d", p.Hundredths/100, p.Hundredths%100)
	return strings.Join(strings.Fields(figure+" "+currency+" "+per[p.Per]), " ")
}

// pricesText writes the prices of the woods as they are read in one setting.
func pricesText(s *compute.Settings) string {
	var all []string
	for _, p := range s.Prices {
		all = append(all, p.Species+" = "+priceText(p.Price, s.Currency))
	}
	return strings.Join(all, "; ")
}
