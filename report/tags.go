package report

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/report/page"
	"drytally/templates"
)

// tag is what one tag says. The code holds the same lines.
type tag struct {
	number string // of the board
	wood   string
	size   string
	mc     string
	over   string // only for a board over the limit of its use
	feet   string
	origin string // load and mill
}

// lines gives the tag's text from top to bottom.
func (t tag) lines() []string {
	var all []string
	for _, s := range []string{t.number, t.wood, t.size, t.over, t.mc, t.feet, t.origin} {
		if s != "" {
			all = append(all, s)
		}
	}
	return all
}

// code is what the code of the tag holds.
func (t tag) code() string { return strings.Join(t.lines(), "\n") }

// mostTags is how many tags one file holds: about fifty sheets, a print job a small printer takes. It also bounds the
// memory of a run, since a file is drawn as a whole.
const mostTags = 500

// tagPart is a sale's boards as far as one file of tags goes.
type tagPart struct {
	*compute.SaleResult
	part, parts int
}

// tagParts parts the boards of a sale into files of tags.
func tagParts(s *compute.SaleResult) []tagPart {
	var all []tagPart
	for boards := range slices.Chunk(s.Boards, mostTags) {
		some := *s
		some.Boards, some.Missing = boards, nil
		all = append(all, tagPart{SaleResult: &some, part: len(all) + 1})
	}
	for i := range all {
		all[i].parts = len(all)
	}
	if len(all) > 0 {
		all[len(all)-1].Missing = s.Missing // said once, at the end
	}
	return all
}

// fileID is what the file is named after. No id of a sheet holds the line feeds: another sale can't have it.
func (p tagPart) fileID() string {
	if p.parts == 1 {
		return p.ID
	}
	return fmt.Sprintf("%s\n\npart %d", p.ID, p.part)
}

// name is the sale as the sheets name it.
func (p tagPart) name() string {
	if p.parts == 1 {
		return p.ID
	}
	return fmt.Sprintf("%s, part %d of %d", p.ID, p.part, p.parts)
}

// tags makes the tag sheets of a part of a sale: a tag for each of its boards, in order.
func (j *job) tags(s tagPart) ([]byte, error) {
	d, sheet := j.newTagSheet(s, false)
	sheet.draw(d, j.tagsOf(s.SaleResult))
	j.tagRemarks(d, sheet, s.SaleResult)
	return d.Bytes()
}

// tagsOf writes the text of every tag.
func (j *job) tagsOf(s *compute.SaleResult) []tag {
	loads := map[int]*compute.LoadResult{}
	for i := range j.Loads {
		for _, b := range j.Loads[i].Boards {
			loads[b] = &j.Loads[i]
		}
	}
	all := make([]tag, 0, len(s.Boards))
	for _, at := range s.Boards {
		all = append(all, j.tagOf(&j.Boards[at], loads[at]))
	}
	return all
}

// tagOf writes the text of one tag. load is nil when the board belongs to none.
func (j *job) tagOf(b *compute.BoardResult, load *compute.LoadResult) tag {
	t := tag{number: b.Board.ID, wood: b.Species.Name, size: joined(": ", nominalWords(b, j.system), j.boardSize(b)), mc: j.tagMC(b, load), origin: j.tagOrigin(b, load)}
	if t.wood == "" {
		t.wood = "wood not said"
	}
	if b.Over {
		with := map[string]string{"use": "", "limit": ""}
		if load != nil && load.Band.Known {
			with = map[string]string{"use": load.Band.Use, "limit": load.Band.High.String()}
		}
		t.over = j.say(compute.Statement{Name: "tag-over", With: with})
	}
	if b.Footage.Known {
		t.feet = footageWords(b.Footage)
	}
	return t
}

func (j *job) tagOrigin(b *compute.BoardResult, load *compute.LoadResult) string {
	id := b.Board.Load
	if load != nil {
		id = load.Load.ID
	}
	if id != "" {
		id = "load " + id
	}
	return joined(", ", id, j.Job.Settings.MillName)
}

// boardSize writes thickness x width x length of a dry board, and names what was not measured.
func (j *job) boardSize(b *compute.BoardResult) string {
	part := func(l units.Length, write func(units.Length) string, name string) string {
		if l <= 0 {
			return name + " not measured"
		}
		return write(l)
	}
	return strings.Join([]string{part(b.Least, j.system.Size, "thickness"), part(b.Board.Width, j.system.Size, "width"),
		part(b.Board.Length, j.system.Run, "length")}, " x ")
}

// tagMC writes what is known of the board's moisture: its own reading, or that of its load. Neither is a claim of dryness.
func (j *job) tagMC(b *compute.BoardResult, load *compute.LoadResult) string {
	with := map[string]string{"mc": b.MC.MC.String(), "date": date(b.MC.Date), "low": b.MC.Low.String(), "high": b.MC.High.String(), "rough": "",
		"shown": b.MC.Reading.String(), "mark": "", "open": j.openWords(b.MC)}
	if b.MC.Mark != 0 && b.MC.Mark != b.MC.MC {
		with["mark"] = b.MC.Mark.String()
	}
	if b.MC.Rough {
		with["rough"] = "yes"
	}
	switch b.MC.State {
	case units.Number:
		if b.MC.High > b.MC.Low {
			return j.say(compute.Statement{Name: "tag-read-open", With: with})
		}
		return j.say(compute.Statement{Name: "tag-read", With: with})
	case units.BelowRange:
		return j.say(compute.Statement{Name: "tag-below", With: with})
	case units.AboveRange:
		return j.say(compute.Statement{Name: "tag-above", With: with})
	}
	if load == nil || !load.Mean.Known {
		return j.say(compute.Statement{Name: "tag-not-measured"})
	}
	if load.SlowMissing != "" {
		return j.say(compute.Statement{Name: "tag-load-uneven", With: map[string]string{"load": load.Load.ID, "places": load.SlowMissing}})
	}
	verdict := ""
	if load.Verdict == compute.NotDryYet {
		verdict = load.Verdict.String()
	}
	return j.say(compute.Statement{Name: "tag-load-read", With: map[string]string{"load": load.Load.ID, "mc": load.Mean.Value.String(), "verdict": verdict,
		"measured": strconv.Itoa(load.Measured), "n": strconv.Itoa(load.N), "dates": span(load.FirstReading, load.LastReading)}})
}

// tagRemarks writes below the last tag what the tags leave out.
func (j *job) tagRemarks(d *page.Doc, sheet *tagSheet, s *compute.SaleResult) {
	var all []string
	add := func(name string, with map[string]string) {
		all = append(all, j.say(compute.Statement{Name: name, With: with}))
	}
	st := j.Job.Settings
	size := j.system.Size(st.TagWidth) + " x " + j.system.Size(st.TagHeight)
	if sheet.shrunk {
		add("tag-too-large", map[string]string{"size": size})
	}
	if n := sheet.codeless; n > 0 {
		with := map[string]string{"n": strconv.Itoa(n), "of": strconv.Itoa(sheet.drawn), "size": size, "some": ""}
		if n < sheet.drawn {
			with["some"] = "yes"
		}
		add("tag-no-code", with)
	}
	if n := sheet.small; n > 0 {
		add("tag-number-small", map[string]string{"n": strconv.Itoa(n), "of": strconv.Itoa(sheet.drawn), "least": strconv.FormatFloat(readFrom3m, 'f', 1, 64)})
	}
	if n := d.Report().Cut; n > 0 {
		add("tag-cut-short", map[string]string{"n": strconv.Itoa(n)})
	}
	if len(s.Missing) > 0 {
		add("tag-missing", map[string]string{"boards": list(s.Missing)})
	}
	if left := sheet.cautionsLeft; len(left) > 0 {
		add("tag-caution-left-out", map[string]string{"text": strings.Join(left, " ")})
	}
	if len(all) == 0 {
		return
	}
	text, box := strings.Join(all, " "), sheet.remarks(d)
	for _, style := range []page.Style{{Size: page.SizeSmall}, {Size: page.SizeLeast}} { // rather small than on a page of their own
		if d.Measure(box.W, text, style) <= box.H {
			d.Paragraph(box.X, box.Y, box.W, text, style)
			return
		}
	}
	d.NewPage()
	for _, s := range all {
		d.Para(s, page.Style{})
		d.Space(2)
	}
}

// tagCautions lists the cautions of a tag of these boards.
func (j *job) tagCautions(s *compute.SaleResult) []string {
	woods := j.woodsOf(s.Boards, wood.Species{})
	var texts []string
	for _, c := range templates.Cautions("tag") {
		if c.For(woods, nil) {
			texts = append(texts, c.Text)
		}
	}
	return texts
}
