package page

import (
	"fmt"
	"testing"
	"time"
)

// sampleDate is a date of the shape a job has.
var sampleDate = time.Date(2024, 11, 22, 9, 30, 0, 0, time.UTC)

// sample draws every part of the package on a few pages. The words are filler in the manner of the papers.
func sample(t *testing.T, o Options) *Doc {
	t.Helper()
	o.Title, o.Author, o.Subject = "Load report 12", "Mill name", "Moisture of load 12"
	o.Footer = "load 12 \u00B7 week47.xlsx \u00B7 drytally"
	o.Date = sampleDate
	o.OnPage = func(d *Doc, n int) {
		if n > 1 {
			d.Text(d.Body().X, d.Y()+3, "Load report 12, continued", Style{Size: SizeSmall, Gray: Soft})
			d.SetY(d.Y() + 7)
		}
	}
	d := New(o)
	d.Title("Load report 12", "No. 12-2024-47\n22 November 2024")
	d.Rule(Stroke{Width: Heavy})
	d.Para("Not shown dry: 12 more boards must be measured, 4 of them from the bottom courses.",
		Style{Face: Bold, Size: SizeLead})
	d.Space(1)
	d.Para(`White oak sawn 1 1/8" thick, dressed to 13/16" by 7 1/4", nominal 5/4. The kiln ran from 3 to 21 November; the `+
		`widest board is 11 3/8" and lies in course 3. Movement in service is 1/16" a foot, within the 3/32" the lap allows`+
		d.Note("The coefficient is that of the handbook for 6 to 14 %.")+".", Style{})
	d.Space(2)
	d.Pairs([]Pair{{"species", "white oak"}, {"use", "floor, interior, heated"}, {"boards in the load", "118"},
		{"boards measured", "36"}, {"highest reading", "9.4 %, board 41"}, {"last reading", "21 November 2024"},
		{"limit", "9 %, the owner's"}, {"meter", "pin, set to another species"}}, 2)

	d.Heading(1, "Readings against the band")
	picture(d)

	d.Heading(1, "The stack from its end")
	stack(d)

	d.Heading(1, "Boards")
	tab := Table{Columns: []Column{{Head: "board", Width: 16}, {Head: "thickness", Align: Right, Width: 18},
		{Head: "width", Align: Right, Width: 18}, {Head: "length", Align: Right, Width: 18},
		{Head: "moisture content, %", Align: Right, Width: 20}, {Head: "measured", Align: Center, Width: 16}, {Head: "remark"}}}
	for i := range 46 {
		mark := Ticked
		if i%5 == 2 {
			mark = EmptyBox
		}
		row := Row{Cells: []Cell{{Text: fmt.Sprint("A", i+1)}, {Text: `1 1/16"`}, {Text: fmt.Sprintf(`%d %d/16"`, 5+i%7, 1+2*(i%8))},
			{Text: `10' 6"`}, {Text: fmt.Sprintf("%.1f", 7+float64(i%9)/3)}, {Mark: mark}, {Text: ""}}}
		if i%11 == 4 {
			row.Cells[6].Text = "read at the end only; the core was not measured, see the list of what is missing"
		}
		row.Shade = i == 17
		tab.Rows = append(tab.Rows, row)
	}
	tab.Rows = append([]Row{{Group: true, Cells: []Cell{{Text: "bottom courses", Span: 7}}}}, tab.Rows...)
	tab.Rows = append(tab.Rows, Row{Ruled: true, Cells: []Cell{{Text: "46 boards", Face: Bold, Span: 4}, {Text: "8.3", Face: Bold}, {}, {}}})
	d.Table(tab)
	d.Note("A reading under the lowest mark of the meter is counted as under the limit, whatever it is.")
	d.Notes()
	d.KeepTogether(func() {
		d.Heading(1, "To do")
		d.Bullets([]string{"measure 4 boards of the bottom course", "write down the wood temperature of the readings of 18 November"}, Style{})
		d.Space(12)
		d.Line(d.Body().X, d.Y(), d.Body().X+70, d.Y(), Stroke{})
		d.Text(d.Body().X, d.Y()+3.4, "date and signature", Style{Size: SizeSmall, Gray: Soft})
		d.Space(6)
	})
	d.NewPage()
	tag(t, d)
	return d
}

func picture(d *Doc) {
	h := 26.0
	d.Need(h + AxisHeight)
	box := Rect{d.Body().X + 16, d.Y() + 2, d.Body().W - 22, h}
	a := Axis{Box: box, Low: 4, High: 14, Step: 1, Minor: 2, Label: "moisture content, %"}
	lo, _ := a.At(6)
	hi, _ := a.At(9)
	d.FillRect(Rect{lo, box.Y, hi - lo, h}, Pale)
	d.Line(hi, box.Y, hi, box.Bottom(), Stroke{Width: 0.35})
	d.Text(hi+1, box.Y+2.6, "limit 9", Style{Size: SizeSmall})
	d.Axis(a)
	for i := range 24 {
		x, _ := a.At(6.2 + float64(i*7%24)/6)
		k := FilledDot
		if x > hi {
			k = OpenTriangle
		}
		d.Marker(k, x, box.Y+6+float64(i%6)*2.6, 2)
	}
	for i, k := range []MarkerKind{FilledDot, OpenDot, HalfDot, FilledSquare, OpenSquare, FilledTriangle, OpenTriangle, Cross} {
		d.Marker(k, box.X+100+float64(i)*5, box.Y+3, 2.4)
	}
	d.Arrow(box.Right()-8, box.Y+12, box.Right(), box.Y+12, Stroke{})
	d.Polyline([]Pt{{lo, box.Bottom() - 4}, {lo + 10, box.Bottom() - 8}, {hi, box.Bottom() - 6}}, Stroke{Dash: []float64{1, 0.8}})
	d.TextUp(box.X-4, box.Y+h/2, "boards", Style{Size: SizeSmall, Gray: Soft, Align: Center})
	d.SetY(box.Bottom() + AxisHeight)
}

func stack(d *Doc) {
	const rows, cols, w, h = 4, 8, 18.0, 5.0
	d.Need(rows*(h+1) + 4)
	x0, y0 := d.Body().X+14, d.Y()+1
	for r := range rows {
		d.Fit(Rect{d.Body().X, y0 + float64(r)*(h+1), 12, h}, fmt.Sprint("course ", rows-r), Style{Size: SizeSmall, Gray: Soft}, 0)
		for c := range cols {
			b := Rect{x0 + float64(c)*(w+1), y0 + float64(r)*(h+1), w, h}
			switch {
			case (r+c)%5 == 0:
				d.Hatch(b, 1.1, r%2 == 0, Stroke{Width: Hair, Gray: Mid})
			case (r+c)%7 == 0:
				d.FillRect(b, Pale)
				d.Fit(b, "9.8 over", Style{Face: Bold, Size: SizeSmall, Align: Center}, 0)
			default:
				d.Fit(b, fmt.Sprintf("%.1f", 7+float64((r*c)%5)/4), Style{Size: SizeSmall, Align: Center}, 0)
			}
			d.StrokeRect(b, Stroke{})
		}
	}
	d.SetY(y0 + rows*(h+1) + 2)
}

func tag(t *testing.T, d *Doc) {
	t.Helper()
	r := Rect{d.Body().X, d.Y() + 4, 101.6, 50.8}
	d.StrokeRect(r, Stroke{Width: Hair, Gray: Mid, Dash: []float64{1, 1}})
	in := r.Inset(4)
	text := `board A17, white oak, 1 1/16 x 7 1/4 in x 10 ft 6 in, 6.66 bd ft, MC 8.1 % on 2024-11-21`
	if _, err := d.QR(in.Right()-28, in.Y-2, 28, text); err != nil {
		t.Fatal(err)
	}
	d.Fit(Rect{in.X, in.Y, 60, 16}, "A17", Style{Face: Bold, Size: 44 * Point}, 0)
	d.Fit(Rect{in.X, in.Y + 18, 60, 7}, `1 1/16" x 7 1/4" x 10' 6"`, Style{Size: 14 * Point}, 0)
	d.FitBox(Rect{in.X, in.Y + 27, in.W, 14}, "white oak, flat-sawn. 6.66 board feet by surface measure. Moisture content 8.1 % on 21 November 2024, "+
		"measured with a pin meter at mid length, not at the core.", Style{}, 0)
	d.TextUp(r.Right()+5, r.Bottom(), "cut here", Style{Size: SizeSmall, Gray: Soft})
	x, w := d.Column(3, 3)
	d.FitBox(Rect{x + 8, r.Y, w - 8, 12}, nasty[2], Style{}, 0)
	big := Style{Size: 36 * Point}
	d.Text(d.Body().X, 110, `11 3/8" x 13/16" 5/4`, big)
	big.Face = Bold
	d.Text(d.Body().X, 128, `7 63/64" 1/2 10 1/4 A-3/8`, big)
	big.Face = Italic
	d.Text(d.Body().X, 146, `11 3/8" 15/32 ft²`+raised(10)+raised(12), big)
}
