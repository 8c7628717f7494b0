package report

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/source"
	"drytally/compute/units"
)

// What results.json is made of: an object keeps the order of its keys, a line is an object small enough to stand on one
// line, a number is written with exactly the digits it has.
type (
	jsPair struct {
		key   string
		value any
	}
	jsObject []jsPair
	jsLine   []jsPair
	jsArray  []any
	jsNumber string
)

// jsWrite writes a value of results.json. Keys come in the order given, so the same result gives the same bytes.
func jsWrite(out *bytes.Buffer, value any, indent string) {
	switch v := value.(type) {
	case nil:
		out.WriteString("null")
	case bool:
		out.WriteString(strconv.FormatBool(v))
	case int:
		out.WriteString(strconv.Itoa(v))
	case jsNumber:
		out.WriteString(string(v))
	case string:
		jsString(out, v)
	case jsLine:
		out.WriteByte('{')
		for i, p := range v {
			if i > 0 {
				out.WriteString(", ")
			}
			jsString(out, p.key)
			out.WriteString(": ")
			jsWrite(out, p.value, indent)
		}
		out.WriteByte('}')
	case jsObject:
		jsBlock(out, '{', '}', len(v), indent, func(i int, inner string) {
			jsString(out, v[i].key)
			out.WriteString(": ")
			jsWrite(out, v[i].value, inner)
		})
	case jsArray:
		jsBlock(out, '[', ']', len(v), indent, func(i int, inner string) { jsWrite(out, v[i], inner) })
	default:
		panic("report: results.json has no way to write this value")
	}
}

func jsBlock(out *bytes.Buffer, opens, closes byte, n int, indent string, item func(i int, inner string)) {
	out.WriteByte(opens)
	inner := indent + "  "
	for i := range n {
		if i > 0 {
			out.WriteByte(',')
		}
		out.WriteString("\n" + inner)
		item(i, inner)
	}
	if n > 0 {
		out.WriteString("\n" + indent)
	}
	out.WriteByte(closes)
}

// jsString writes a JSON string. Letters that are no UTF-8 become U+FFFD; < and > stay readable.
func jsString(out *bytes.Buffer, s string) {
	if !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r > '~' || r == '"' || r == '\\' }) {
		out.WriteByte('"')
		out.WriteString(s)
		out.WriteByte('"')
		return
	}
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.Encode(s)                 // a string always encodes
	out.Truncate(out.Len() - 1) // the encoder ends with a line break
}

// jsEach makes an array of every element.
func jsEach[T any](all []T, one func(*T) any) jsArray {
	a := jsArray{}
	for i := range all {
		a = append(a, one(&all[i]))
	}
	return a
}

// jsTexts makes an array of texts.
func jsTexts(all []string) jsArray { return jsEach(all, func(s *string) any { return *s }) }

// jsDecimal writes n / 10^places exactly, without zeros at the end.
func jsDecimal(n int64, places int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	s := strconv.FormatInt(n, 10)
	if len(s) <= places {
		s = strings.Repeat("0", places-len(s)+1) + s
	}
	whole, rest := s[:len(s)-places], strings.TrimRight(s[len(s)-places:], "0")
	if rest != "" {
		whole += "." + rest
	}
	return sign + whole
}

// jsInchDecimals are enough to tell every nanometre from the next: half a unit of the ninth place is 0.0127 nm.
const jsInchDecimals = 9

// jsInches writes a length in inches: exactly where the decimals end, as every 64th and every mil does, else to nine
// decimals (a millimetre is no finite decimal of an inch).
func jsInches(l units.Length) string {
	if l < 0 {
		return "-" + jsInches(-l)
	}
	const unit = 1_000_000_000 // 10^jsInchDecimals
	whole, rest := int64(l/units.Inch), int64(l%units.Inch)
	return jsDecimal(whole*unit+(rest*unit+int64(units.Inch)/2)/int64(units.Inch), jsInchDecimals)
}

// jsLength writes a length in all its ways, or null when it was not given.
func jsLength(l units.Length) any {
	if l == 0 {
		return nil
	}
	return jsMeasure(l)
}

// jsMeasure writes a length of which 0 is a result.
func jsMeasure(l units.Length) any {
	return jsLine{{"in", jsNumber(jsInches(l))}, {"fraction", l.Trade()}, {"mm", jsNumber(jsDecimal(int64(l), 6))}}
}

func jsLengths(all []units.Length) any {
	return jsEach(all, func(l *units.Length) any { return jsLength(*l) })
}

// jsRange writes a predicted size with its range, or null.
func jsRange(r units.LengthRange) any {
	if r.Value == 0 {
		return nil
	}
	return jsObject{{"value", jsLength(r.Value)}, {"low", jsLength(r.Low)}, {"high", jsLength(r.High)}, {"confidence", jsReal(r.Confidence)}}
}

// jsRealDecimals keeps what a computed figure is worth and drops the noise of binary arithmetic, which differs from one kind
// of computer to the next.
const jsRealDecimals = 6

// jsReal writes a computed number to six decimals, or null when it is none.
func jsReal(x float64) any {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	s := strconv.FormatFloat(x, 'f', jsRealDecimals, 64)
	s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		s = "0"
	}
	return jsNumber(s)
}

// jsRealIf writes a number where 0 means that there is none.
func jsRealIf(x float64) any {
	if x == 0 {
		return nil
	}
	return jsReal(x)
}

// jsPercent writes a moisture content in percent, exactly.
func jsPercent(m units.MC) any { return jsNumber(m.String()) }

// jsPercentIf writes a moisture content where 0 means that there is none.
func jsPercentIf(m units.MC) any {
	if m == 0 {
		return nil
	}
	return jsPercent(m)
}

// jsCountIf writes a count where 0 means that it was not given.
func jsCountIf(n int) any {
	if n == 0 {
		return nil
	}
	return n
}

// jsReadingStates are the words of the four answers a meter can give.
var jsReadingStates = [...]string{units.NotTaken: "not taken", units.Number: "number", units.BelowRange: "below range", units.AboveRange: "above range"}

// jsReading writes a reading: what kind of answer, the number or mark shown if there is one, and how a sheet writes it.
func jsReading(r units.Reading) any {
	return jsLine{{"state", jsReadingStates[r.State]}, {"percent", jsPercentIf(r.MC)}, {"shown", r.String()}, {"doubtful", r.Doubtful}}
}

// jsEstimate writes an estimate, or null when it could not be given.
func jsEstimate(e units.Estimate) any {
	if !e.Known {
		return nil
	}
	o := jsLine{{"percent", jsPercent(e.Value)}, {"low_percent", jsPercent(e.Low)}, {"high_percent", jsPercent(e.High)}}
	if e.Confidence == 0 {
		o[1].value, o[2].value = nil, nil
	}
	return append(o, jsPair{"confidence", jsRealIf(e.Confidence)}, jsPair{"n", e.N})
}

func jsTemperature(t units.Temperature) any {
	if !t.Known() {
		return nil
	}
	return jsLine{{"f", jsReal(t.Fahrenheit())}, {"c", jsReal(t.Celsius())}}
}

func jsHumidity(h units.Humidity) any {
	if !h.Known() {
		return nil
	}
	return jsReal(h.Percent())
}

// jsMass writes a mass in grams exactly and in pounds, or null when it was not given.
func jsMass(m units.Mass) any {
	if m == 0 {
		return nil
	}
	return jsLine{{"g", jsNumber(jsDecimal(int64(m), 3))}, {"lb", jsReal(m.Pounds())}}
}

// jsISO writes a day as 2026-11-12, with the time of day behind a T when there is one. The sheets know no time zone.
func jsISO(t time.Time) string {
	if t.Hour() == 0 && t.Minute() == 0 && t.Second() == 0 {
		return t.Format("2006-01-02")
	}
	return t.Format("2006-01-02T15:04:05")
}

func jsDate(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return jsISO(t)
}

func jsSawing(s compute.Sawing) any {
	o := jsLine{{"kind", s.Kind.String()}, {"angle_degrees", nil}}
	if s.Kind == compute.RingAngle {
		o[1].value = jsReal(s.Angle)
	}
	return o
}

// jsFootage writes board feet with their rule, or null when they are not known.
func jsFootage(f compute.Footage) any {
	if !f.Known {
		return nil
	}
	return jsLine{{"rule", jsRule(f.Rule)}, {"board_feet", jsNumber(jsDecimal(f.Hundredths, 2))}}
}

// jsRule names a footage rule as the settings do.
func jsRule(r compute.FootageRule) string {
	return [...]string{"by species", "volume", "surface measure", "softwood nominal"}[r]
}

func jsSource(s source.Source) any {
	if s.Document == "" {
		return nil
	}
	return jsLine{{"document", s.Document}, {"place", s.Place}, {"status", s.Status.String()}}
}

// jsCell names the cell of a place, or null when it is a row, a sheet or a file.
func jsCell(p finding.Place) any {
	if p.Row == 0 || p.Col == 0 {
		return nil
	}
	return p.Cell()
}

func jsFinding(f *finding.Finding) any {
	return jsObject{{"code", string(f.Code)}, {"severity", f.Severity.String()}, {"file", f.Place.File}, {"sheet", f.Place.Sheet},
		{"cell", jsCell(f.Place)}, {"row", jsCountIf(f.Place.Row)}, {"stands", f.Stands}, {"problem", f.Problem}, {"hint", f.Hint}}
}

func jsFindings(all finding.List) any { return jsEach(all, jsFinding) }

// jsStatement writes a statement by name, with its values and in words; null when there is none.
func (j *job) jsStatement(s compute.Statement) any {
	if s.Name == "" {
		return nil
	}
	return jsObject{{"name", s.Name}, {"with", jsSorted(s.With)}, {"text", j.say(s)}}
}

func (j *job) jsStatements(all []compute.Statement) any {
	return jsEach(all, func(s *compute.Statement) any { return j.jsStatement(*s) })
}
