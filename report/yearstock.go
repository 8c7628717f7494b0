package report

import (
	"fmt"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/compute/yearbook"
	"drytally/report/page"
)

// drawFootage draws what was sawn, what came of it dry, and where that went: one bar for each rule.
func (j *yearJob) drawFootage(d *page.Doc) {
	if len(j.year.Totals)+len(j.year.Sawn) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "rule", Width: 42}, {Head: ""}, {Head: "sawn, green", Align: page.Right, Width: 22}, {Head: "made, net", Align: page.Right, Width: 22},
		{Head: "sold", Align: page.Right, Width: 20}, {Head: "used", Align: page.Right, Width: 20}, {Head: "left", Align: page.Right, Width: 22}}}
	some := false
	for _, rule := range yearbook.Rules {
		sawn, made := j.sawnBy(rule), j.totalBy(rule)
		if sawn == nil && made == nil {
			continue
		}
		feet, boards := []page.Cell{{Text: capital(ruleWords(rule))}, {Text: "board feet"}}, []page.Cell{{}, {Text: "boards"}}
		add := func(f, n string) {
			feet, boards = append(feet, page.Cell{Text: f, Face: page.Bold}), append(boards, page.Cell{Text: n})
		}
		if sawn == nil {
			add("-", "-")
		} else {
			add(boardFeet(sawn.Feet.Hundredths), strconv.Itoa(sawn.Boards))
		}
		if made == nil {
			made = &yearbook.Line{}
		}
		add(boardFeet(made.Feet.Made), strconv.Itoa(made.Boards.Made))
		add(about(made.AboutSold)+boardFeet(made.Feet.Sold), strconv.Itoa(made.Boards.Sold))
		add(about(made.AboutUsed)+boardFeet(made.Feet.Used), strconv.Itoa(made.Boards.Used))
		add(about(made.AboutSold || made.AboutUsed)+boardFeet(made.Feet.Left), strconv.Itoa(made.Boards.Left))
		some = some || made.AboutSold || made.AboutUsed
		t.Rows = append(t.Rows, page.Row{Cells: feet, Ruled: len(t.Rows) > 0}, page.Row{Cells: boards})
	}
	headedTable(d, "Boards and footage", t)
	d.KeepTogether(func() { j.drawBars(d) })
	words := j.wording("yearbook-footage")
	if n := j.year.All.Unsized; n > 0 {
		words += " " + j.wording("yearbook-unsized", "n", strconv.Itoa(n))
	}
	if some {
		words += " " + j.wording("yearbook-about")
	}
	d.Para(words, page.Style{Size: page.SizeSmall, Gray: page.Soft})
}

// about marks a figure that holds a share of a load.
func about(share bool) string {
	if share {
		return "about "
	}
	return ""
}

func (j *yearJob) sawnBy(rule compute.FootageRule) *yearbook.Sawn {
	for i := range j.year.Sawn {
		if j.year.Sawn[i].Rule == rule {
			return &j.year.Sawn[i]
		}
	}
	return nil
}

func (j *yearJob) totalBy(rule compute.FootageRule) *yearbook.Line {
	for i := range j.year.Totals {
		if j.year.Totals[i].Rule == rule {
			return &j.year.Totals[i]
		}
	}
	return nil
}

// drawBars draws the footage dried as a bar of what was sold, used and left, for each rule on one scale.
func (j *yearJob) drawBars(d *page.Doc) {
	most := int64(0)
	for _, l := range j.year.Totals {
		most = max(most, l.Feet.Made)
	}
	if most == 0 {
		return
	}
	b := d.Body()
	const name, high, gap = 44.0, 6.4, 2.2
	scale := (b.W - name) / float64(most)
	y := d.Y() + 1
	for _, l := range j.year.Totals {
		if l.Feet.Made == 0 {
			continue
		}
		d.Fit(page.Rect{X: b.X, Y: y, W: name - 3, H: high}, capital(ruleWords(l.Rule)), page.Style{Size: page.SizeTable}, 0)
		x := b.X + name
		for i, part := range []struct {
			word string
			feet int64
		}{{"sold", l.Feet.Sold}, {"used", l.Feet.Used}, {"left", l.Feet.Left}} {
			r := page.Rect{X: x, Y: y, W: float64(part.feet) * scale, H: high}
			if part.feet == 0 {
				continue
			}
			switch i {
			case 0:
				d.Hatch(r, 1.6, false, page.Stroke{Width: page.Hair, Gray: page.Mid})
			case 1:
				d.FillRect(r, page.Light)
			}
			d.StrokeRect(r, page.Stroke{})
			text := part.word + " " + boardFeet(part.feet)
			st := page.Style{Size: page.SizeTable, Align: page.Center}
			if w := d.TextWidth(text, st) + 2; w < r.W {
				d.FillRect(page.Rect{X: r.X + (r.W-w)/2, Y: r.Y + 1, W: w, H: high - 2}, page.White)
				d.Fit(r, text, st, 0)
			} else if w := d.TextWidth(part.word, st) + 1; w < r.W {
				d.FillRect(page.Rect{X: r.X + (r.W-w)/2, Y: r.Y + 1, W: w, H: high - 2}, page.White)
				d.Fit(r, part.word, st, 0)
			}
			x += r.W
		}
		y += high + gap
	}
	d.SetY(y + 0.5)
}

// drawStock writes the account of every load, and what is left of it by number.
func (j *yearJob) drawStock(d *page.Doc) {
	if len(j.year.Lines) == 0 {
		return
	}
	right := func(head string, w float64) page.Column { return page.Column{Head: head, Width: w, Align: page.Right} }
	t := page.Table{Columns: []page.Column{{Head: "load", Width: 20}, right("boards made", 12), right("sold", 9), right("used", 9), right("left", 10),
		right("board feet made", 18), right("sold", 16), right("used", 14), right("left", 16), {Head: ""}}}
	row := func(l *yearbook.Line) page.Row {
		var words []string
		if l.AboutSold || l.AboutUsed {
			words = append(words, "about")
		}
		if l.InKiln {
			words = append(words, "in the kiln")
		}
		if l.Unsized > 0 {
			words = append(words, fmt.Sprintf("%d without a footage", l.Unsized))
		}
		name, face := l.Load, page.Regular
		switch {
		case l.Sum:
			name, face = "all", page.Bold
		case name == "":
			name = "in no load"
		}
		n := func(s string) page.Cell { return page.Cell{Text: s, Face: face} }
		return page.Row{Ruled: l.Sum, Cells: []page.Cell{{Text: shortID(name), Face: page.Bold, Plain: true}, n(strconv.Itoa(l.Boards.Made)), n(strconv.Itoa(l.Boards.Sold)), n(strconv.Itoa(l.Boards.Used)), n(strconv.Itoa(l.Boards.Left)),
			n(boardFeet(l.Feet.Made)), n(boardFeet(l.Feet.Sold)), n(boardFeet(l.Feet.Used)), n(boardFeet(l.Feet.Left)), {Text: strings.Join(words, ", ")}}}
	}
	for i := range j.year.Totals {
		total := &j.year.Totals[i]
		if len(j.year.Totals) > 1 {
			t.Rows = append(t.Rows, page.Row{Group: true, Cells: []page.Cell{{Text: capital(ruleWords(total.Rule)), Span: len(t.Columns)}}})
		}
		for k := range j.year.Lines {
			if l := &j.year.Lines[k]; l.Rule == total.Rule {
				t.Rows = append(t.Rows, row(l))
			}
		}
		t.Rows = append(t.Rows, row(total))
	}
	headedTable(d, "Account of every load", t)
	j.drawLeft(d)
	j.drawGone(d)
}

// drawGone lists every sale once, and what the mill used itself.
func (j *yearJob) drawGone(d *page.Doc) {
	if len(j.year.Sales) == 0 {
		return
	}
	t := page.Table{Columns: []page.Column{{Head: "day", Width: 18}, {Head: "sale", Width: 17}, {Head: "to, or used for", Width: 38}, {Head: "from load", Width: 20}, {Head: "boards", Width: 12, Align: page.Right},
		{Head: "board feet", Width: 20, Align: page.Right}, {Head: ""}}}
	for i := range j.year.Sales {
		s := &j.year.Sales[i]
		to, id := s.Buyer, shortID(s.ID)
		if s.OwnUse != "" {
			to, id = "used: "+s.OwnUse, "-"
		}
		var feet, words []string
		for _, f := range s.Footage {
			feet = append(feet, boardFeet(f.Hundredths))
			if len(j.year.Totals) > 1 {
				words = append(words, ruleWords(f.Rule))
			}
		}
		if s.Pieces > 0 {
			words = append(words, fmt.Sprintf("%d by the piece", s.Pieces))
		}
		if s.About {
			words = append(words, "about")
		}
		if s.Unsized > 0 {
			words = append(words, fmt.Sprintf("%d without a footage", s.Unsized))
		}
		if len(feet) == 0 {
			feet = []string{"-"}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: shortDay(s.Date)}, {Text: id, Face: page.Bold, Plain: true}, {Text: to}, {Text: strings.Join(s.Loads, ", "), Plain: true},
			{Text: strconv.Itoa(len(s.Boards) + s.Pieces)}, {Text: strings.Join(feet, "; ")}, {Text: strings.Join(words, ", ")}}})
	}
	d.Need(30) // a list by days reads on over a page, and keeps no room empty
	d.Heading(1, "Sold and used")
	d.Table(t)
}

// drawLeft lists the boards left by number, with their place.
func (j *yearJob) drawLeft(d *page.Doc) {
	t := page.Table{Columns: []page.Column{{Head: "load", Width: 20}, {Head: "wood", Width: 27}, {Head: "sizes", Width: 48}, {Head: "where", Width: 30}, {Head: "boards listed", Width: 12, Align: page.Right}, {Head: "numbers"}},
		Empty: "No board is left."}
	for i := range j.year.Stock {
		g := &j.year.Stock[i]
		where, name := g.Kept, g.Load
		if g.InKiln {
			where = "in the kiln"
		}
		if name == "" {
			name = "in no load"
		}
		n, numbers := len(g.Boards), strings.Join(runsOf(g.Boards, 3, "-", nextID), ", ") // as a sold sheet takes them
		if n == 0 {
			n, numbers = g.Loose, "without a number"
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: shortID(name), Face: page.Bold, Plain: true}, {Text: g.Species}, {Text: j.sizeWords(g)}, {Text: where},
			{Text: strconv.Itoa(n)}, {Text: numbers, Plain: true}}})
		if g.ByPiece > 0 {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{}, {Text: j.wording("yearbook-by-piece", "n", strconv.Itoa(g.ByPiece), "left", strconv.Itoa(g.Left)), Span: 5, Face: page.Italic}}})
		}
	}
	headedTable(d, "Stock list", t)
}

// sizeWords writes the sizes of a group of boards: thickness x width x length, from and to where they differ.
func (j *yearJob) sizeWords(g *yearbook.Group) string {
	step := units.Fraction(1, 32)
	if j.system == units.Metric {
		step = units.Millimetre
	}
	var parts []string
	for k := range g.From {
		if g.To[k] == 0 {
			return "-"
		}
		write := func(l units.Length) string {
			if k == 2 {
				return j.system.Run(l)
			}
			return j.system.SizeTo(l, step)
		}
		from, to := write(g.From[k]), write(g.To[k])
		if from != to {
			from += " to " + to
		}
		parts = append(parts, from)
	}
	words := strings.Join(parts, " x ")
	if g.Unsized {
		words += ", some without a size"
	}
	return words
}

// nextID reports whether b is the number behind a: the same letters, and one more in as many digits, or one digit more where
// a has no room for it.
func nextID(a, b string) bool {
	head := func(s string) (string, string) {
		n := strings.TrimRight(s, "0123456789")
		return n, s[len(n):]
	}
	la, na := head(a)
	lb, nb := head(b)
	x, err1 := strconv.Atoi(na)
	y, err2 := strconv.Atoi(nb)
	if err1 != nil || err2 != nil || la != lb || y != x+1 {
		return false
	}
	return len(na) == len(nb) || len(nb) == len(na)+1 && strings.Trim(na, "9") == ""
}
