package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/target"
	"drytally/compute/units"
	"drytally/report/page"
)

// sixteenth is how finely a predicted size is printed.
var sixteenth = units.Fraction(1, 16)

// cutSheet makes the sheet read at the saw: the settings of the wanted pieces, the week's cuts, and what the dry boards make.
func (j *job) cutSheet() ([]byte, error) {
	return drawn(j.paper("Cut sheet", j.Job.Name, "cut sheet", j.weekDay()), j.drawCutSheet)
}

// weekDay is the last day the sheets name, for papers that have no day of their own.
func (j *job) weekDay() time.Time {
	var last time.Time
	take := func(t time.Time) {
		if t.After(last) {
			last = t
		}
	}
	for i := range j.Loads {
		take(j.Loads[i].LastReading)
	}
	for _, c := range j.Cuts {
		take(c.Cut.Date)
	}
	for _, s := range j.Sales {
		take(s.Date)
	}
	return last
}

func (j *job) drawCutSheet(d *page.Doc) {
	j.drawSettings(d)
	j.drawNoSettings(d)
	j.drawCutCautions(d) // where the saw's settings are, not behind the tables
	j.drawInUse(d)
	j.drawWeekCuts(d)
	j.drawPlaning(d)
	j.drawFit(d)
	j.drawCutAppendix(d)
}

// drawSettings draws the wanted pieces that have a setting, grouped by the thickness the saw is set to.
func (j *job) drawSettings(d *page.Doc) {
	var all []*compute.SizeResult
	for i := range j.Sizes {
		if j.Sizes[i].Known {
			all = append(all, &j.Sizes[i])
		}
	}
	if len(all) == 0 {
		return
	}
	slices.SortStableFunc(all, func(a, b *compute.SizeResult) int {
		return cmp.Or(cmp.Compare(a.Thickness, b.Thickness), cmp.Compare(a.Width, b.Width))
	})
	legend := j.wording("cut-legend")
	if s := &j.SawSpread; s.Says.Name != "" {
		legend += " " + j.wording("cut-spread", "used", s.Says.With["used"], "from", s.From.String(), "boards", strconv.Itoa(s.Boards), "readings", strconv.Itoa(s.Readings))
	}
	d.Para(legend, page.Style{Size: page.SizeTable, Gray: page.Soft})
	for _, o := range j.OneSetting {
		d.Para(j.say(o.Says), page.Style{Size: page.SizeTable, Face: page.Bold})
	}
	for i := 0; i < len(all); {
		n := 1
		for i+n < len(all) && all[i+n].Thickness == all[i].Thickness {
			n++
		}
		for k, s := range all[i : i+n] {
			d.KeepTogether(func() {
				if k == 0 {
					j.drawSettingHead(d, s.Thickness, n)
				} else {
					d.Space(2)
				}
				j.drawSetting(d, s)
			})
		}
		i += n
	}
}

// drawSettingHead is the line above the pieces of one thickness, to be found from a step away.
func (j *job) drawSettingHead(d *page.Doc, thickness units.Length, pieces int) {
	d.Space(3)
	b, y := d.Body(), d.Y()
	d.Bookmark(0, y, "Thickness "+j.system.Size(thickness))
	d.Line(b.X, y, b.Right(), y, page.Stroke{Width: page.Heavy})
	const h = 11.0
	st := page.Style{Face: page.Bold, Size: 26 * page.Point}
	label := page.Style{Size: page.SizeHeading}
	d.Fit(page.Rect{X: b.X, Y: y + 1, W: 36, H: h}, "Thickness", label, 0)
	d.Fit(page.Rect{X: b.X + 38, Y: y + 1, W: b.W - 78, H: h}, j.system.Size(thickness), st, 0)
	label.Align = page.Right
	d.Fit(page.Rect{X: b.Right() - 38, Y: y + 1, W: 38, H: h}, count(pieces, "piece", "pieces"), label, 0)
	d.SetY(y + h + 2)
}

// drawSetting draws one wanted piece: setting and end view, figures, the plain sentence, and the boxes to tick.
func (j *job) drawSetting(d *page.Doc, s *compute.SizeResult) {
	b, y := d.Body(), d.Y()
	d.Line(b.X, y, b.Right(), y, page.Stroke{})
	w := s.Wanted
	const headHeight, viewWidth = 22.0, 84.0
	left := b.W - viewWidth - page.Gutter
	d.Fit(page.Rect{X: b.X, Y: y + 1, W: left, H: 10.5}, j.system.Size(s.Thickness)+" x "+j.system.Size(s.Width), page.Style{Face: page.Bold, Size: 25 * page.Point}, 0)
	d.Fit(page.Rect{X: b.X, Y: y + 11.6, W: left, H: 5.5}, w.Piece, page.Style{Face: page.Bold, Size: page.SizeHeading}, 0)
	sawn := "sawing " + sawnWords(s.Sawing)
	if k := s.Sawing.Kind; k == compute.FlatSawn || k == compute.QuarterSawn {
		sawn = sawnWords(s.Sawing)
	}
	d.FitBox(page.Rect{X: b.X, Y: y + 17, W: left, H: headHeight - 16.4}, joined(", ", oneLine(w.Species.Name), sawn, oneLine(w.Profile), oneLine(w.Use)),
		page.Style{Size: page.SizeTable}, 0)
	j.drawEndView(d, s, page.Rect{X: b.Right() - viewWidth, Y: y + 2, W: viewWidth, H: headHeight - 2})
	d.SetY(y + headHeight + 1)
	size, number, wide := j.settingFigures(s)
	drawFigures(d, size, number, wide)
	d.Para(j.say(s.Sentence), page.Style{})
	if len(s.Notes) > 0 {
		d.Space(0.8)
		d.Bullets(j.allSaid(s.Notes), page.Style{Size: page.SizeTable})
	}
	if w.Note != "" {
		d.Para("Note in the sheet: "+oneLine(w.Note), page.Style{Size: page.SizeTable, Face: page.Italic})
	}
	d.Space(1.2)
	j.drawTally(d, s.Boards)
}

// settingFigures are the figures below a setting: those of its size, those of how many, and those of all its boards together.
func (j *job) settingFigures(s *compute.SizeResult) (size, number, wide []page.Pair) {
	w := s.Wanted
	near := func(l units.Length) string { return j.system.SizeTo(l, units.Fraction(1, 32)) } // as in the sentence
	finished := j.system.Size(s.FinishThickness) + " x " + j.system.Size(s.FinishWidth)
	if w.Length > 0 {
		finished += " x " + j.system.Run(w.Length)
	}
	area := j.areaWords(w.Area)
	if s.Cover.Openings > 0 && w.Pieces == 0 {
		area = j.areaWords(s.Cover.Net) + ", openings taken off"
	}
	pieces := "by area: " + area
	if w.Area == 0 {
		pieces = strconv.Itoa(s.Pieces)
	} else if s.Pieces > 0 {
		pieces = strconv.Itoa(s.Pieces) + " for " + area
	}
	waste := wasteWords(s)
	boards := "not counted"
	if s.Boards > 0 {
		boards = fmt.Sprintf("%d with %s", s.Boards, waste)
	}
	var other page.Pair // the boards when the owner's percentage is understood the other way
	if s.BoardsAdded != s.BoardsTaken && s.BoardsTaken > 0 {
		other = page.Pair{Key: "If " + shareWords(s.WasteShare) + " is lost", Value: fmt.Sprintf("%d, so that enough are left", s.BoardsTaken)}
		if s.WasteRule == target.LoseWaste {
			other = page.Pair{Key: "If " + shareWords(s.WasteShare) + " is added", Value: fmt.Sprintf("%d, and no more", s.BoardsAdded)}
		}
	}
	running := fmt.Sprintf("%s with %s", j.system.Running(s.LinealFeet), waste)
	if w.Area > 0 && w.Pieces == 0 { // what covers the area; whole boards of the length come to more
		running = j.wording("cut-running-area", "running", j.system.Running(s.LinealFeet), "waste", waste)
	}
	size = []page.Pair{
		{Key: "Finished", Value: finished},
		{Key: "Dry, about", Value: near(s.DryThickness.Value) + " x " + near(s.DryWidth.Value) + " at " + s.TargetMC.String() + " %"},
		{Key: "Running", Value: running},
	}
	number = []page.Pair{
		{Key: "Pieces, before waste", Value: pieces},
		{Key: "Boards to saw", Value: boards},
	}
	if stock, ok := stockNote(s); ok {
		number = append(number, page.Pair{Key: "With boards on hand", Value: j.wording("cut-boards-stock", "rest", stock["rest"], "made", stock["made"], "open", stock["open"])})
	}
	if other.Key != "" {
		number = append(number, other)
	}
	var weights []string
	if s.Weight > 0 {
		weights = append(weights, j.aboutMass(s.Weight, s.WeightLow, s.WeightHigh)+" green")
	}
	if s.DryWeight > 0 {
		weights = append(weights, j.aboutMass(s.DryWeight, s.DryWeightLow, s.DryWeightHigh)+" dry")
	}
	if len(weights) > 0 {
		wide = append(wide, page.Pair{Key: "Weight", Value: strings.Join(weights, ", ")})
	}
	if s.Solid > 0 && s.DrySolid > 0 { // of measured sizes, never of nominal ones
		wide = append(wide, page.Pair{Key: "Solid wood", Value: j.solid(s.Solid) + " green, " + j.solid(s.DrySolid) + " dry"})
	}
	return size, number, append(wide, page.Pair{Key: "Footage", Value: settingFootage(s)})
}

// stockNote gives the figures of the note that says what boards on hand make of a piece and what is then still to saw.
func stockNote(s *compute.SizeResult) (with map[string]string, ok bool) {
	for _, n := range s.Notes {
		if n.Name == "size-from-stock" {
			return n.With, true
		}
	}
	return nil, false
}

// areaWords writes an area in the owner's measure.
func (j *job) areaWords(squareFeet float64) string {
	if j.system == units.Metric {
		foot := units.Foot.Millimetres() / 1000
		return decimal(squareFeet*foot*foot) + " m\u00b2"
	}
	return decimal(squareFeet) + " square feet"
}

// wasteWords names how the waste of a count is counted.
func wasteWords(s *compute.SizeResult) string {
	if s.WasteShare == 0 {
		return "no waste"
	}
	return shareWords(s.WasteShare) + [...]string{" waste added", " waste taken out"}[s.WasteRule]
}

// aboutMass writes a weight from the tables with its range, to two figures: it is known no better.
func (j *job) aboutMass(value, low, high units.Mass) string {
	rough := func(m units.Mass) units.Mass {
		step, unit := 1.0, m.Pounds()
		if j.system == units.Metric {
			unit = m.Grams() / 1000
		}
		for unit/step >= 100 {
			step *= 10
		}
		unit = math.Round(unit/step) * step
		if j.system == units.Metric {
			return units.Grams(unit * 1000)
		}
		return units.Pounds(unit)
	}
	if low == 0 || high == 0 {
		return "about " + j.system.Mass(rough(value))
	}
	if rough(low) == rough(high) {
		return "about " + j.system.Mass(rough(value))
	}
	from := j.system.Mass(rough(low))
	from, _, _ = strings.Cut(from, " ")
	return "about " + j.system.Mass(rough(value)) + " (" + from + " to " + j.system.Mass(rough(high)) + ")"
}

// rangeWords writes the ends of a predicted size, with the unit once where it is a word.
func (j *job) rangeWords(r units.LengthRange) string {
	low, high := j.system.SizeTo(r.Low, sixteenth), j.system.SizeTo(r.High, sixteenth)
	if _, unit, ok := strings.Cut(high, " "); ok && j.system == units.Metric {
		low = strings.TrimSuffix(low, " "+unit)
	}
	return low + " to " + high
}

// settingFootage writes the green and the net footage of a setting, each with its rule.
func settingFootage(s *compute.SizeResult) string {
	switch {
	case s.Green.Known && s.Net.Known && s.Green.Rule == s.Net.Rule:
		return boardFeet(s.Green.Hundredths) + " green, " + boardFeet(s.Net.Hundredths) + " net when dry: board feet by " + ruleWords(s.Green.Rule)
	case s.Green.Known && s.Net.Known:
		return footageWords(s.Green) + " green; " + footageWords(s.Net) + " net when dry"
	case s.Green.Known:
		return footageWords(s.Green) + " green"
	case s.Net.Known:
		return footageWords(s.Net) + " net when dry"
	}
	return "not known"
}

// drawFigures sets two lists of figures side by side and those that take the whole width below them, in type to be read at the saw.
func drawFigures(d *page.Doc, left, right, wide []page.Pair) {
	t := page.Table{Columns: []page.Column{{Width: 21}, {}, {Width: 34}, {Width: 56}}, Size: 10 * page.Point}
	for i := range max(len(left), len(right)) {
		row := page.Row{Cells: make([]page.Cell, 4)}
		for k, list := range [][]page.Pair{left, right} {
			if i < len(list) {
				row.Cells[2*k] = page.Cell{Text: list[i].Key}
				row.Cells[2*k+1] = page.Cell{Text: list[i].Value, Face: page.Bold}
			}
		}
		t.Rows = append(t.Rows, row)
	}
	for _, p := range wide {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: p.Key}, {Text: p.Value, Face: page.Bold, Span: 3}}})
	}
	d.Table(t)
}

// sawnWords names how boards are sawn.
func sawnWords(s compute.Sawing) string {
	if s.Kind == compute.RingAngle {
		return fmt.Sprintf("rings at %s degrees to the face", decimal(s.Angle))
	}
	return s.Kind.String()
}

// decimal writes a number of the sheets without needless digits.
func decimal(x float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
}

// shareWords writes a share as a percentage.
func shareWords(x float64) string { return decimal(x*100) + " %" }

// tenthWords writes a share as a percentage with its tenth, so that figures side by side look alike.
func tenthWords(x float64) string { return strconv.FormatFloat(x*100, 'f', 1, 64) + " %" }

// drawNoSettings lists the wanted pieces that could not be computed, and why.
func (j *job) drawNoSettings(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "piece", Width: 38}, {Head: "wood", Width: 38}, {Head: "finished", Width: 34}, {Head: "no setting, because"}}}
	for _, s := range j.Sizes {
		if s.Known {
			continue
		}
		w, why := s.Wanted, j.say(s.Why)
		for _, n := range s.Notes {
			if n.Name == "cell-unread" {
				why += " " + j.say(n)
			}
		}
		t.Rows = append(t.Rows, page.Cells(w.Piece, w.Species.Name, j.sizeOrNot(w.Thickness)+" x "+j.sizeOrNot(w.Width), why))
	}
	if len(t.Rows) > 0 {
		d.Heading(1, "Pieces without a setting")
		d.Table(t)
	}
}

func (j *job) sizeOrNot(l units.Length) string {
	if l <= 0 {
		return "not given"
	}
	return j.system.Size(l)
}

// drawCutCautions writes the cautions of the cut sheet.
func (j *job) drawCutCautions(d *page.Doc) {
	var uses []string
	for _, s := range j.Sizes {
		uses = append(uses, s.Wanted.Use)
	}
	j.drawCautions(d, "cut", j.weekWoods(), uses, nil)
}
