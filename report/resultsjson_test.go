package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/fit"
	"drytally/compute/haul"
	"drytally/compute/heat"
	"drytally/compute/price"
	"drytally/compute/profile"
	"drytally/compute/season"
	"drytally/compute/source"
	"drytally/compute/stack"
	"drytally/compute/target"
	"drytally/compute/units"
	"drytally/compute/wood"
)

// fullResult is the invented week with every kind of record and every optional part filled.
func fullResult() *compute.Result {
	r := exampleResult()
	job := r.Job
	at := func(row int, fields ...string) compute.Origin { return exampleOrigin("Readings", row, fields...) }
	job.Readings = []compute.Reading{
		{Taking: &compute.Taking{Field: "reading", Load: "K14", Date: day(16), Depth: inch(1, 4), Where: "middle"}, Origin: at(2, "board", "reading"), Board: "K14-1", Value: units.Reading{State: units.Number, MC: units.Percent(7.5)}, WoodTemp: units.Fahrenheit(68)},
		{Taking: &compute.Taking{Field: "reading", Date: day(16).Add(15*time.Hour + 30*time.Minute)}, Origin: at(3, "board", "reading"), Board: "K14-2", Value: units.Reading{State: units.BelowRange}},
		{Taking: &compute.Taking{Field: "reading"}, Origin: at(14, "board", "reading"), Board: "K14-3", Value: units.Reading{State: units.AboveRange, MC: units.Percent(33), Doubtful: true}, Course: 2, Spot: 3},
	}
	job.Weights = []compute.Weight{{Origin: exampleOrigin("Weights", 2, "sample"), Sample: "S1", Load: "K14", Date: day(3), Weight: units.Grams(4210.5)},
		{Origin: exampleOrigin("Weights", 3, "sample"), Sample: "S1", Wet: units.Grams(52.31), Ovendry: units.Grams(46.02), Note: "oven 103 C"}}
	job.Air = []compute.Air{{Origin: exampleOrigin("Air", 2, "date"), Time: day(5).Add(8 * time.Hour), DryBulb: units.Fahrenheit(104.5), Humidity: units.RelativeHumidity(41), Where: "kiln", Running: "fans"},
		{Origin: exampleOrigin("Air", 3, "date"), Time: day(6), DryBulb: units.Celsius(40), WetBulb: units.Celsius(29)}}
	job.Sales = []compute.Sale{{Origin: exampleOrigin("Sold", 2, "sale"), ID: "S7", Load: "K14", Boards: []string{"K14-1", "K14-2"}, Buyer: "A. Buyer", Date: day(20)}}
	job.Settings.Aliases = map[string]string{"WP": "eastern white pine", "RO": "northern red oak"}
	job.Settings.Meter, job.Settings.MeterSpecies = compute.PinMeter, compute.Yes
	book := source.Source{Document: "Wood Handbook FPL-GTR-190 (2010)", Place: "Table 4-2", Status: source.Seen}
	l := &r.Loads[0]
	l.Band.OwnLimit, l.Spread, l.Tolerance, l.OverBound, l.RestN, l.RestBound, l.Allowed = true, units.Percent(0.6), units.Percent(9.4), 7, 32, 3, 3
	l.Under, l.Below, l.Above = []string{"K14-4"}, 2, 1
	l.Witnesses = []compute.Witness{
		{Kind: compute.WitnessMeter, Estimate: l.Mean, Date: day(17), Compared: true, Source: book,
			Detail: compute.Statement{Name: "witness-meter", With: map[string]string{"n": "31", "dates": "16 to 17 October 2026", "bias": "1.0"}}},
		{Kind: compute.WitnessAir, Estimate: units.Estimate{Low: units.Percent(6.1), N: 40, Known: true}, Source: book},
	}
	l.Stack = []compute.Spot{{Course: 1, Spot: 1, Board: "K14-1", MC: r.Boards[0].MC}, {Course: 1, Spot: 2}}
	l.NotMeasured = []string{"course 1, spot 2"}
	l.GreenFootage = []compute.Footage{{Rule: compute.VolumeMeasure, Hundredths: 26125, Known: true}}
	l.DryFootage = []compute.Footage{{Rule: compute.SurfaceMeasure, Hundredths: 25100, Known: true}, {}}
	l.Warnings = finding.List{r.Findings[2], r.Findings[3]}
	l.Notes = []compute.Statement{{Name: "species-by-meter"}}
	l.Withheld = true
	r.Boards[0].ShrinkMC = units.Estimate{Value: units.Percent(8), Low: units.Percent(3), High: units.Percent(13), Confidence: 0.95, N: 1, Known: true}
	r.Boards[0].Board.GreenThickness, r.Boards[0].Board.Sawing = units.Millimetres(27), compute.Sawing{Kind: compute.RingAngle, Angle: 37.5}
	for i := range r.Boards {
		job.Boards = append(job.Boards, *r.Boards[i].Board)
	}
	return r
}

func resultsOf(t *testing.T, r *compute.Result) (data []byte, parsed map[string]any) {
	t.Helper()
	j := exampleJob(r)
	j.made = []Made{madeOf("load-K14.pdf", "0A1B2-C3D4E", []byte("paper")), madeOf("results.xlsx", "", []byte("workbook"))}
	data, err := j.resultsJSON()
	if err == nil {
		err = j.failed
	}
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if err := d.Decode(&parsed); err != nil {
		t.Fatalf("results.json can't be read back: %v", err)
	}
	return data, parsed
}

// dig walks into parsed JSON by keys and places: "boards.0.moisture.percent".
func dig(t *testing.T, in any, path string) any {
	t.Helper()
	for _, step := range strings.Split(path, ".") {
		switch v := in.(type) {
		case map[string]any:
			next, ok := v[step]
			if !ok {
				t.Fatalf("%s: no key %q", path, step)
			}
			in = next
		case []any:
			n, err := strconv.Atoi(step)
			if err != nil || n >= len(v) {
				t.Fatalf("%s: no element %q of %d", path, step, len(v))
			}
			in = v[n]
		default:
			t.Fatalf("%s: nothing below %v", path, in)
		}
	}
	return in
}

func resultsSchemaOf(t *testing.T) (schema map[string]any) {
	t.Helper()
	raw, err := os.ReadFile("results.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, &schema); err != nil {
		t.Fatal(err)
	}
	return schema
}

func TestResultsJSONFollowsItsSchema(t *testing.T) {
	schema := resultsSchemaOf(t)
	metric := filledResult()
	metric.Job.Settings.System, metric.Job.Settings.Paper = units.Metric, compute.A4
	for name, r := range map[string]*compute.Result{"full": fullResult(), "filled": filledResult(), "metric": metric, "example": exampleResult(),
		"empty": {Job: &compute.Job{Name: "empty", Settings: compute.Defaults()}}} {
		t.Run(name, func(t *testing.T) {
			_, parsed := resultsOf(t, r)
			for _, problem := range follows(schema, schema, parsed, "") {
				t.Error(problem)
			}
		})
	}
}

func TestSchemaRefusesWhatItShould(t *testing.T) {
	schema := resultsSchemaOf(t)
	for name, spoil := range map[string]func(map[string]any){
		"key missing":      func(m map[string]any) { delete(m, "loads") },
		"key too many":     func(m map[string]any) { m["grade"] = "" },
		"text for number":  func(m map[string]any) { m["boards"].([]any)[0].(map[string]any)["row"] = "4" },
		"unknown verdict":  func(m map[string]any) { m["loads"].([]any)[0].(map[string]any)["verdict"] = "fine" },
		"hash cut":         func(m map[string]any) { m["inputs"].([]any)[0].(map[string]any)["sha256"] = "9f" },
		"fraction for int": func(m map[string]any) { m["summary"].(map[string]any)["rows_used"] = json.Number("1.5") },
	} {
		_, parsed := resultsOf(t, fullResult())
		spoil(parsed)
		if len(follows(schema, schema, parsed, "")) == 0 {
			t.Errorf("%s: the schema took it", name)
		}
	}
}

// The numbers of results.json are those of the result: exact lengths, moisture contents and footage.
func TestResultsJSONHoldsTheNumbers(t *testing.T) {
	r := fullResult()
	_, parsed := resultsOf(t, r)
	for path, want := range map[string]string{
		"records.readings.0.reading.percent":          "7.5",
		"records.readings.1.reading.percent":          "<nil>", // LO alone names no number
		"records.readings.1.reading.state":            "below range",
		"records.readings.1.date":                     "2026-10-16T15:30:00",
		"records.readings.2.reading.shown":            "33.0+?",
		"records.readings.2.fate":                     "set aside",
		"records.readings.0.cell":                     "B2",
		"records.readings.0.wood_temperature.f":       "68",
		"records.weights.1.section_wet.g":             "52.31",
		"records.air.0.dry_bulb.f":                    "104.5",
		"records.boards.0.green_thickness.mm":         "27",
		"records.boards.0.green_thickness.in":         "1.062992126", // 27/25.4 = 1.0629921259842...
		"records.boards.0.thickness.0.in":             "1.0625",
		"records.boards.0.thickness.0.fraction":       "1 1/16",
		"records.boards.0.length.in":                  "126",
		"records.boards.0.sawing.angle_degrees":       "37.5",
		"records.wanted.2.area_square_feet":           "640",
		"loads.0.mean.percent":                        "7.9",
		"loads.0.witnesses.1.estimate.low_percent":    "6.1",
		"loads.0.witnesses.1.estimate.high_percent":   "<nil>",
		"loads.0.green_footage.0.board_feet":          "261.25",
		"loads.0.verdict":                             "dry but for held-back boards",
		"loads.1.days.days_high":                      "12",
		"loads.1.mean":                                "<nil>",
		"loads.0.over_bound":                          "7",
		"loads.1.over_bound":                          "<nil>", // nothing was measured
		"sizes.3.cleans_up_share":                     "<nil>", // no setting
		"boards.0.moisture_by_shrinkage.high_percent": "13.0",
		"cuts.1.green_footage.board_feet":             "648.13",
		"sizes.0.set_width.in":                        "6.25",
		"settings.values.saw_spread.in":               "0.03",
		"settings.values.aliases.WP":                  "eastern white pine",
		"sales.0.boards.3.index":                      "5",
		"findings.2.cell":                             "A41",
		"summary.rows_set_aside":                      "2",
	} {
		if got := fmt.Sprint(dig(t, parsed, path)); got != want {
			t.Errorf("%s: got %s, want %s", path, got, want)
		}
	}
	for i, b := range r.Boards {
		path := fmt.Sprintf("boards.%d.", i)
		for key, l := range map[string]units.Length{"least_thickness": b.Least, "planes_to": b.PlanesTo, "ripped_planes_to": b.RippedTo, "width_to": b.WidthTo} {
			sameLength(t, dig(t, parsed, path+key), l, path+key)
		}
		if b.MC.State == units.NotTaken {
			if got := dig(t, parsed, path+"moisture"); got != nil {
				t.Errorf("%smoisture: got %v for a board that was not measured", path, got)
			}
			continue
		}
		if got := number(t, dig(t, parsed, path+"moisture.percent")); units.Percent(got) != b.MC.MC {
			t.Errorf("%smoisture.percent: got %v, want %s", path, got, b.MC.MC)
		}
	}
	if got := dig(t, parsed, "loads.0.reasons.0.text"); !strings.Contains(got.(string), "K14-9, K14-13") {
		t.Errorf("the reason in words lacks its boards: %v", got)
	}
}

func number(t *testing.T, v any) float64 {
	t.Helper()
	n, ok := v.(json.Number)
	if !ok {
		t.Fatalf("%v (%T) is no number", v, v)
	}
	x, err := n.Float64()
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func sameLength(t *testing.T, got any, want units.Length, path string) {
	t.Helper()
	if want == 0 {
		if got != nil {
			t.Errorf("%s: got %v for no length", path, got)
		}
		return
	}
	if l := units.Inches(number(t, dig(t, got, "in"))); l != want {
		t.Errorf("%s.in: got %v, want %v", path, l, want)
	}
	if l := units.Millimetres(number(t, dig(t, got, "mm"))); l != want {
		t.Errorf("%s.mm: got %v, want %v", path, l, want)
	}
}

// Every length can be read back from its decimals, in inches and in millimetres.
func TestLengthDecimalsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := units.Length(rapid.Int64Range(-int64(100*units.Foot), int64(100*units.Foot)).Draw(t, "nanometres"))
		in, err := strconv.ParseFloat(jsInches(l), 64)
		if err != nil || units.Inches(in) != l {
			t.Fatalf("%d nm was written as %s in, which reads back as %d nm", l, jsInches(l), units.Inches(in))
		}
		mm, err := strconv.ParseFloat(jsDecimal(int64(l), 6), 64)
		if err != nil || units.Millimetres(mm) != l {
			t.Fatalf("%d nm was written as %s mm", l, jsDecimal(int64(l), 6))
		}
	})
}

func TestResultsJSONIsStable(t *testing.T) {
	first, _ := resultsOf(t, filledResult())
	for range 5 {
		if again, _ := resultsOf(t, filledResult()); !bytes.Equal(first, again) {
			t.Fatal("two runs gave different bytes")
		}
	}
}

func TestResultsJSONCarriesNastyText(t *testing.T) {
	r := fullResult()
	nasty := "=1+1 \"quoted\" <b>\x00\x1b[31m\u2028 \\ \xff tail"
	r.Job.Boards[0].Note = nasty
	data, parsed := resultsOf(t, r)
	want := strings.ToValidUTF8(nasty, "\ufffd")
	if got := dig(t, parsed, "records.boards.0.note"); got != want {
		t.Errorf("note: got %q, want %q", got, want)
	}
	if bytes.IndexByte(data, 0x1b) >= 0 || bytes.IndexByte(data, 0) >= 0 {
		t.Error("a raw control character stands in the file")
	}
}

func TestNoNumberIsNull(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := jsReal(x); got != nil {
			t.Errorf("%v: got %v, want null", x, got)
		}
	}
	for x, want := range map[float64]jsNumber{0: "0", -1e-9: "0", 1.0 / 3: "0.333333", 100: "100", 0.1 + 0.2: "0.3"} {
		if got := jsReal(x); got != want {
			t.Errorf("%v: got %v, want %s", x, got, want)
		}
	}
}

// A field added to what is computed or read must be written too. The numbers are the fields that results.json writes.
func TestResultsJSONKnowsEveryField(t *testing.T) {
	for _, s := range []struct {
		of     any
		fields int
	}{
		{compute.Result{}, 21}, {compute.BoardMC{}, 11}, {compute.BoardResult{}, 23}, {compute.Footage{}, 3}, {compute.Band{}, 9},
		{compute.Witness{}, 6}, {compute.Spot{}, 6}, {compute.LoadResult{}, 53}, {compute.DaysToTarget{}, 20}, {compute.CutResult{}, 5},
		{compute.SizeResult{}, 48}, {compute.SaleResult{}, 25}, {compute.SaleMethod{}, 3}, {compute.Job{}, 18}, {compute.Cut{}, 13}, {compute.Board{}, 22},
		{compute.Reading{}, 7}, {compute.Taking{}, 7}, {compute.Weight{}, 10}, {compute.Air{}, 9}, {compute.Wanted{}, 20}, {compute.Load{}, 13}, {compute.Sale{}, 12},
		{compute.Settings{}, 41}, {compute.SettingUsed{}, 4}, {finding.Finding{}, 6}, {compute.RowFate{}, 4}, {units.Estimate{}, 6},
		{compute.Unread{}, 5}, {compute.Core{}, 7}, {compute.Climate{}, 6}, {compute.Origin{}, 2}, {compute.Table{}, 3}, {compute.Account{}, 3}, {compute.InputFile{}, 2},
		{compute.Sawing{}, 2}, {compute.Statement{}, 2}, {compute.Gradient{}, 7}, {compute.Layers{}, 6}, {compute.Stratum{}, 11},
		{compute.HouseShrinkage{}, 12}, {compute.MeterComparison{}, 13}, {compute.MeterPair{}, 5}, {compute.MeterLine{}, 8}, {compute.LinePoint{}, 4},
		{compute.HeatRecord{}, 9}, {compute.HeldAt{}, 5}, {heat.Figure{}, 6}, // its kind stays out
		{compute.ClimateYear{}, 7}, {season.MonthEMC{}, 3}, {compute.SeasonResult{}, 8}, {compute.SeasonMove{}, 9}, {compute.RiseResult{}, 13},
		{compute.StoreResult{}, 20}, {compute.StorePoint{}, 3}, {compute.FitResult{}, 12}, {compute.FitPiece{}, 7}, {fit.Plan{}, 9}, {fit.Sheet{}, 4},
		{fit.Board{}, 13}, {fit.Planed{}, 3}, {fit.Span{}, 2}, {fit.Part{}, 9}, {fit.Leftover{}, 6}, {fit.Score{}, 3},
		{units.Reading{}, 3}, {units.LengthRange{}, 4}, {compute.SawSpread{}, 10}, {target.Sawing{}, 6}, {compute.OneSetting{}, 8}, {compute.Cover{}, 17}, {compute.DressedName{}, 5}, {profile.Shape{}, 4}, {source.Source{}, 3}, {wood.Species{}, 20}, {compute.CutOut{}, 3}, {compute.Stretch{}, 3}, {compute.BadWood{}, 4}, {compute.FitWood{}, 7}, {compute.KilnResult{}, 3}, {compute.KilnLoad{}, 16}, {compute.KilnRow{}, 5}, {compute.KilnAside{}, 4}, {stack.Kiln{}, 10}, {stack.Stack{}, 12}, {stack.Course{}, 8}, {stack.Board{}, 4}, {compute.SaleWeight{}, 11}, {haul.Range{}, 3}, {compute.StepResult{}, 10}, {compute.MoneyResult{}, 4}, {compute.SaleMoney{}, 4}, {compute.MoneyLine{}, 9}, {compute.DryingMoney{}, 13}, {compute.StepMoney{}, 4}, {price.Price{}, 2}, {compute.WoodPrice{}, 2}, {compute.FitRead{}, 3},
	} {
		if got := reflect.TypeOf(s.of).NumField(); got != s.fields {
			t.Errorf("%T has %d fields, results.json was written for %d: write the new one into it, its schema and results.xlsx", s.of, got, s.fields)
		}
	}
}
