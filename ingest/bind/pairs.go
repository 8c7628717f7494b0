package bind

import (
	"regexp"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/ingest/cell"
	"drytally/ingest/sheet"
)

// pair is a name and the value beside or behind it: Load | K3, or "Load: K3" in one cell.
type pair struct {
	row    int
	name   string
	at     sheet.Cell   // the cell of the name
	values []sheet.Cell // beside it; with several, each is of another record
	inline bool
}

// inlinePair takes "name: value" and "name = value" apart.
var inlinePair = regexp.MustCompile(`^\s*([\pL][\pL\d .#/%()\-]{0,40}?)\s*(?::|=)\s*(\S.*?)\s*$`)

// pairsOf reads a row as pairs: one name with values beside it, or pairs written into its cells.
func pairsOf(row *sheet.Row) []pair {
	var cells []sheet.Cell
	for c := range row.Cells() {
		if !cell.Empty(c) || c.NoResult {
			cells = append(cells, c)
		}
	}
	if len(cells) == 0 || cells[0].Kind != sheet.Text {
		return nil
	}
	var all []pair
	for i, c := range cells {
		written := inlinePairs(c)
		if len(written) == 0 && i == 0 && len(cells) > 1 {
			break // a name with its values beside it
		}
		if len(written) == 0 {
			return nil
		}
		all = append(all, written...)
	}
	if len(all) > 0 {
		return all
	}
	if len(cells) < 2 {
		return nil
	}
	return []pair{{row: row.Number, name: cells[0].Text, at: cells[0], values: cells[1:]}}
}

// inlinePairs reads the pairs written into one cell: "Load: K3 / Use: flooring". It gives none when a part is no pair.
func inlinePairs(c sheet.Cell) []pair {
	if c.Kind != sheet.Text || !strings.ContainsAny(c.Text, ":=") {
		return nil
	}
	var all []pair
	for _, part := range strings.FieldsFunc(strings.ReplaceAll(c.Text, " / ", "\n"), func(r rune) bool { return r == '\n' || r == ';' }) {
		if strings.TrimSpace(part) == "" {
			continue
		}
		m := inlinePair.FindStringSubmatch(part)
		if m == nil {
			return nil
		}
		v := c
		v.Text = m[2]
		all = append(all, pair{row: c.Row, name: m[1], at: c, values: []sheet.Cell{v}, inline: true})
	}
	return all
}

// pairs is a loads sheet lying on its side: names down, the values of each load beside them.
type pairs struct {
	of []pair // those whose name is a field of the loads table
}

func (p *pairs) dates(s *sheet.Sheet) []dateColumn {
	t := tableOf(compute.KindLoads)
	d := dateColumn{sheet: s, name: "date"}
	for _, one := range p.of {
		if f, _, _ := t.named(one.name); f >= 0 && t.Fields[f].What == aDate {
			for _, v := range one.values {
				if !cell.Empty(v) {
					d.add(v)
				}
			}
		}
	}
	return []dateColumn{d}
}

func nameWords(name string) string {
	words, _ := headingWords(name)
	return words
}

// named finds the field that the name of a pair names.
func (t *Table) named(name string) (field int, near bool, other string) {
	return t.match(spell(name))
}

// plainNames are headings of a load that many other things go by too: alone they are no sign of a load.
var plainNames = []string{"id", "name", "no", "number"}

// findPairs looks for loads written as names and values outside the tables of a sheet. A block begins with the load's own
// name and holds at least one more field.
func findPairs(s *sheet.Sheet, rs []region) []region {
	table := tableOf(compute.KindLoads)
	load := table.field("load")
	speaks := speaksFor(table, s.Name)
	if !speaks && saleSlip(s, rs) {
		return nil
	}
	var found []region
	var block []pair
	last := 0
	end := func() {
		if len(block) >= 2 {
			found = append(found, region{table: table, headFirst: block[0].row, headLast: block[0].row - 1, firstCol: 1, lastCol: sheet.LastCol,
				until: block[len(block)-1].row, pairs: &pairs{of: block}})
		}
		block = nil
	}
	for i := range s.Rows {
		row := &s.Rows[i]
		if !hasContent(row) {
			continue
		}
		if inside(rs, row.Number) {
			end()
			continue
		}
		for _, p := range pairsOf(row) {
			f, near, _ := table.named(p.name)
			switch {
			case f < 0 || near:
				continue
			case f == load:
				end()
				if slices.Contains(plainNames, nameWords(p.name)) && !speaks {
					continue
				}
				block = append(block, p)
			case len(block) > 0 && row.Number <= last+2 && (p.inline || len(p.values) <= len(block[0].values)):
				block = append(block, p)
			default:
				continue
			}
			last = row.Number
		}
	}
	end()
	return found
}

// saleSlip reports whether names and values of a sheet speak of a buyer: then a load named there is the one sold from.
func saleSlip(s *sheet.Sheet, rs []region) bool {
	sold := tableOf(compute.KindSold)
	buyer := sold.field("buyer")
	for i := range s.Rows {
		if inside(rs, s.Rows[i].Number) {
			continue
		}
		for _, p := range pairsOf(&s.Rows[i]) {
			if words := nameWords(p.name); !slices.Contains([]string{"to", "who", "name", "for", "company"}, words) && sold.exact(spell(p.name)) == buyer {
				return true
			}
		}
	}
	return false
}

// readPairs makes the loads of a block of names and values. A load that the loads sheet holds too is left to that sheet.
func (b *binder) readPairs(r region) {
	table := r.table
	beside := 1
	for _, p := range r.pairs.of {
		beside = max(beside, len(p.values))
	}
	rows := map[int]bool{}
	for _, p := range r.pairs.of {
		rows[p.row] = true
	}
	fates := func(f compute.Fate, why string) {
		for row := range rows {
			b.fate(row, table.Kind, f, why)
		}
	}
	for k := range beside {
		v := &rowValues{bad: map[string]bool{}, filled: map[string]bool{}, origin: b.origin(r.pairs.of[0].row)}
		for _, p := range r.pairs.of {
			f, _, _ := table.named(p.name)
			_, unit := headingWords(p.name)
			field := table.Fields[f]
			c, ok := p.value(r.pairs.of[0], k)
			if !ok || v.has(field.Name) {
				continue
			}
			if p.row == v.origin.Row {
				v.setCol(field.Name, c.Col)
			}
			val, ok := b.read(c, column{col: c.Col, unit: unit}, field)
			if !ok {
				v.bad[field.Name] = true
				continue
			}
			v.set(field.Name, val)
		}
		if !v.has("load") {
			if len(v.names)+len(v.bad) > 0 {
				fates(compute.SetAside, "load missing or not readable")
			}
			continue
		}
		if slices.ContainsFunc(b.job.Loads, func(l compute.Load) bool {
			return compute.SameID(l.ID, v.text("load")) && l.Origin.Row != v.origin.Row
		}) {
			b.say("T044", b.at(v.origin.Row, v.origin.Cols()["load"]), v.text("load"), "nothing to do if both say the same", "the lines naming load %q were passed over, because a loads table holds that load", v.text("load"))
			fates(compute.NotData, "load of another table")
			continue
		}
		if why := b.makeLoad(v); why != "" {
			fates(compute.SetAside, why)
			continue
		}
		fates(compute.Used, "")
	}
}

// value gives the k-th value of a pair: the one under the k-th value of the first pair.
func (p pair) value(first pair, k int) (sheet.Cell, bool) {
	if p.inline || first.inline {
		if k == 0 && len(p.values) > 0 {
			return p.values[0], true
		}
		return sheet.Cell{}, false
	}
	if k >= len(first.values) {
		return sheet.Cell{}, false
	}
	for _, c := range p.values {
		if c.Col == first.values[k].Col {
			return c, true
		}
	}
	return sheet.Cell{}, false
}
