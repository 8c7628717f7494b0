package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
)

// file is a source file in memory.
type file struct {
	name string
	data []byte
}

// week is a workbook or a set of CSV files that belong together.
type week struct {
	name  string
	files []file
}

func demoWeeks(t *testing.T) []week {
	t.Helper()
	read := func(path string) file {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return file{filepath.Base(path), data}
	}
	const folder = "../../testdata/weeks/"
	sets, err := filepath.Glob(folder + "pine-csv/*.csv")
	if err != nil || len(sets) < 5 {
		t.Fatalf("got %d files, %v", len(sets), err)
	}
	pine := week{name: "pine"}
	for _, path := range sets {
		pine.files = append(pine.files, read(path))
	}
	return []week{{"two-loads", []file{read(folder + "two-loads.xlsx")}}, {"metric-cherry", []file{read(folder + "metric-cherry.xlsx")}}, pine}
}

// mutated is a week with something done to it.
type mutated struct {
	week
	what   string
	sound  bool   // still properly written: it must be read
	marker string // a text or number that was put into one cell
	rows   int    // rows more than before; meant only when sound
	same   bool   // only written otherwise: the same rows must be used
}

// mutate does one thing, at random, to a week.
func mutate(rng *rand.Rand, w week) mutated {
	m := mutated{week: week{w.name, slices.Clone(w.files)}}
	at := rng.IntN(len(m.files))
	f := &m.files[at]
	isCSV := strings.HasSuffix(f.name, ".csv")
	switch n := rng.IntN(10); {
	case n < 2:
		f.data, m.what = mutateBytes(rng, f.data)
	case isCSV:
		mutateTable(rng, &m, f)
	case n < 5:
		parts := unpack(f.data)
		m.what = mutatePart(rng, parts)
		f.data = packed(parts)
	default:
		mutateCells(rng, &m, f)
	}
	m.what = w.name + ", " + f.name + ": " + m.what
	return m
}

// oddValues are what sheets hold where something else is meant.
var oddValues = []string{"", " ", "-", "0", "-1", "-12.5", "1e9", "1e-9", "99999999999", "NaN", "Inf", "1,234", "9,5", "1.2.3", "5/4", "11 3/8", "4-May", "10' 6\"", "3/7", "0/0", "1/0",
	"TRUE", "#DIV/0!", "#REF!", "=A1", "wet", "LO", "33+", "<6", "~10", "10.5?", "6-8", "8 %", "0.08", "105", "60 F", "-40 C", "12/11/10", "2026-02-30", "46146", "today", "total", "Total:", "Board",
	"all", "A01-A99999", "A01-", "x", "same", "\"", "\u2033", "\u00BD", "\u0661\u0662", "\uFF11\uFF12", "\u200B", "\u202E5.7", "a\nb", "\t8", "\U0001F332", "\u00A08.5\u00A0", "'8", "e\u0301",
	"eastern white pine", "unobtainium", strings.Repeat("9", 300), strings.Repeat("very long ", 300), "1x12x10'", "2x6x10 (40)", "mm", "in", "metric", "<b>", "&amp;", "{{.}}", "%s%n", "../../x", "CON", "\\", "$1"}

// mutateBytes damages a file as a bad disk or a broken-off copy does.
func mutateBytes(rng *rand.Rand, data []byte) ([]byte, string) {
	b := slices.Clone(data)
	at := rng.IntN(len(b))
	n := min(len(b)-at, 1+rng.IntN(200))
	switch rng.IntN(6) {
	case 0:
		b[at] ^= 1 << rng.IntN(8)
		return b, fmt.Sprintf("bit of byte %d turned", at)
	case 1:
		return b[:at], fmt.Sprintf("cut off after %d bytes", at)
	case 2:
		return slices.Delete(b, at, at+n), fmt.Sprintf("%d bytes at %d gone", n, at)
	case 3:
		return slices.Insert(b, at, slices.Clone(b[at:at+n])...), fmt.Sprintf("%d bytes at %d twice", n, at)
	case 4:
		clear(b[at : at+n])
		return b, fmt.Sprintf("%d bytes at %d zero", n, at)
	}
	for i := range n {
		b[at+i] = byte(rng.Uint32())
	}
	return b, fmt.Sprintf("%d bytes at %d at random", n, at)
}

// part is one part of a workbook.
type part struct {
	name string
	text string
}

func unpack(data []byte) []part {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		panic(err)
	}
	var parts []part
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			panic(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			panic(err)
		}
		parts = append(parts, part{f.Name, string(b)})
	}
	return parts
}

func packed(parts []part) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, p := range parts {
		w, err := z.Create(p.name)
		if err != nil {
			panic(err)
		}
		if _, err := io.WriteString(w, p.text); err != nil {
			panic(err)
		}
	}
	if err := z.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

var (
	aTag    = regexp.MustCompile(`<[^>]*>`)
	aValue  = regexp.MustCompile(`>[^<]+<`)
	aNumber = regexp.MustCompile(`="[^"]*"`)
	anItem  = regexp.MustCompile(`(?s)<(?:c|si|xf|row|sheet|Relationship|Override|mergeCell|numFmt) [^>]*?(?:/>|>.*?</(?:c|si|xf|row|sheet|Relationship|Override|mergeCell|numFmt)>)`)
)

// pick gives one place of a pattern.
func pick(rng *rand.Rand, re *regexp.Regexp, text string) (from, to int, ok bool) {
	all := re.FindAllStringIndex(text, -1)
	if len(all) == 0 {
		return 0, 0, false
	}
	at := all[rng.IntN(len(all))]
	return at[0], at[1], true
}

// mutatePart edits the XML of one part; the packing stays sound.
func mutatePart(rng *rand.Rand, parts []part) string {
	i := rng.IntN(len(parts))
	if rng.IntN(2) == 0 { // mostly sheets and what they point at
		for !strings.Contains(parts[i].name, "sheet") && !strings.Contains(parts[i].name, "Strings") && !strings.Contains(parts[i].name, "styles") {
			i = rng.IntN(len(parts))
		}
	}
	p := &parts[i]
	odd := []string{"", "-1", "0", "1", "99999999", "1e999", "NaN", "A0", "XFE1", "A1:ZZZ9", "s", "d", "e", "b", "str", "inlineStr", "\u00E9", "1048577", "rId1", "&bogus;", "]]>"}[rng.IntN(21)]
	switch rng.IntN(9) {
	case 0:
		if from, to, ok := pick(rng, aTag, p.text); ok {
			tag := p.text[from:to]
			p.text = p.text[:from] + p.text[to:]
			return p.name + ": tag " + tag + " gone"
		}
	case 1:
		if from, to, ok := pick(rng, aValue, p.text); ok {
			p.text = p.text[:from+1] + odd + p.text[to-1:]
			return p.name + ": a value is " + strconv.Quote(odd)
		}
	case 2:
		if from, to, ok := pick(rng, aNumber, p.text); ok {
			was := p.text[from:to]
			p.text = p.text[:from+2] + odd + p.text[to-1:]
			return p.name + ": attribute " + was + " is " + strconv.Quote(odd)
		}
	case 3:
		if from, to, ok := pick(rng, anItem, p.text); ok {
			p.text = p.text[:to] + p.text[from:]
			return p.name + ": an element twice"
		}
	case 4:
		if from, to, ok := pick(rng, anItem, p.text); ok {
			p.text = p.text[:from] + p.text[to:]
			return p.name + ": an element gone"
		}
	case 5:
		p.text = p.text[:rng.IntN(len(p.text))]
		return p.name + ": cut off"
	case 6:
		p.text = strings.Replace(p.text, "?>", "?><!DOCTYPE x [<!ENTITY e \"eeee\">]>", 1)
		return p.name + ": a document type"
	case 7:
		j := rng.IntN(len(parts))
		p.text, parts[j].text = parts[j].text, p.text
		return p.name + ": swapped with " + parts[j].name
	default:
		was := p.name
		p.name = "xl/other" + strconv.Itoa(i) + ".xml"
		return was + ": under another name"
	}
	return p.name + ": nothing to change"
}

var (
	aRow  = regexp.MustCompile(`(?s)<row r="(\d+)"[^>]*>(.*?)</row>`)
	aCell = regexp.MustCompile(`(?s)<c r="([A-Z]+)(\d+)"([^>]*?)(?:/>|>(.*?)</c>)`)
)

// sheetParts gives the places of the sheets among the parts.
func sheetParts(parts []part) []int {
	var at []int
	for i, p := range parts {
		if strings.HasPrefix(p.name, "xl/worksheets/sheet") && aCell.MatchString(p.text) {
			at = append(at, i)
		}
	}
	return at
}

// markers are values that stand nowhere in the demo weeks.
func marker(rng *rand.Rand) string {
	return []string{"Zq17x", "-703.4375", "Zq 17", "8.5 Zq", "70343.75", "Zq"}[rng.IntN(6)]
}

// mutateCells changes cells or rows of a workbook that stays properly written.
func mutateCells(rng *rand.Rand, m *mutated, f *file) {
	parts := unpack(f.data)
	sheets := sheetParts(parts)
	p := &parts[sheets[rng.IntN(len(sheets))]]
	m.sound = true
	switch n := rng.IntN(8); n {
	case 0: // a row twice, those below moved down
		rows := aRow.FindAllStringSubmatchIndex(p.text, -1)
		at := rows[rng.IntN(len(rows))]
		row := p.text[at[0]:at[1]]
		p.text = p.text[:at[1]] + moveRows(row+p.text[at[1]:], 1)
		p.text = dropMerges(p.text)
		m.rows = 1
		if !hasContent(row) {
			m.rows = 0
		}
		m.what = p.name + ": row " + p.text[at[2]:at[3]] + " twice"
	case 1: // a row gone
		rows := aRow.FindAllStringSubmatchIndex(p.text, -1)
		at := rows[rng.IntN(len(rows))]
		if hasContent(p.text[at[0]:at[1]]) {
			m.rows = -1
		}
		m.what = p.name + ": row " + p.text[at[2]:at[3]] + " gone"
		p.text = p.text[:at[0]] + p.text[at[1]:]
	case 2: // two cells of a row swapped
		rows := aRow.FindAllStringSubmatchIndex(p.text, -1)
		at := rows[rng.IntN(len(rows))]
		cells := aCell.FindAllStringSubmatch(p.text[at[0]:at[1]], -1)
		a, b := cells[rng.IntN(len(cells))], cells[rng.IntN(len(cells))]
		swapped := strings.Replace(p.text[at[0]:at[1]], a[0], "\x00", 1)
		swapped = strings.Replace(swapped, b[0], strings.Replace(a[0], a[1]+a[2], b[1]+b[2], 1), 1)
		swapped = strings.Replace(swapped, "\x00", strings.Replace(b[0], b[1]+b[2], a[1]+a[2], 1), 1)
		p.text = p.text[:at[0]] + swapped + p.text[at[1]:]
		m.what = p.name + ": " + a[1] + a[2] + " and " + b[1] + b[2] + " swapped"
	default: // a cell changed
		cells := aCell.FindAllStringSubmatchIndex(p.text, -1)
		at := cells[rng.IntN(len(cells))]
		ref := p.text[at[2]:at[5]]
		style := regexp.MustCompile(` s="\d+"`).FindString(p.text[at[6]:at[7]])
		value := oddValues[rng.IntN(len(oddValues))]
		if n > 4 {
			value = marker(rng)
			m.marker = value
		}
		cell := `<c r="` + ref + `"` + style + ` t="inlineStr"><is><t xml:space="preserve">` + escaped(value) + `</t></is></c>`
		if _, err := strconv.ParseFloat(value, 64); err == nil && !strings.ContainsAny(value, "NI") && len(value) < 20 {
			cell = `<c r="` + ref + `"` + style + `><v>` + value + `</v></c>`
		}
		row := rowAround(p.text, at[0])
		p.text = p.text[:at[0]] + cell + p.text[at[1]:]
		now := rowAround(p.text, at[0])
		if hasContent(row) != hasContent(now) {
			m.rows = 1
			if hasContent(row) {
				m.rows = -1
			}
		}
		m.what = p.name + ": " + ref + " is " + strconv.Quote(value)
	}
	f.data = packed(parts)
}

// hasContent reports whether cells hold anything.
func hasContent(cells string) bool {
	return regexp.MustCompile(`<v>|<t[^>]*>[^<]*[^<\s]`).MatchString(cells)
}

func rowAround(text string, at int) string {
	from := strings.LastIndex(text[:at], "<row ")
	return text[from : from+strings.Index(text[from:], "</row>")]
}

// moveRows renumbers rows and the cells in them.
func moveRows(text string, by int) string {
	return aRow.ReplaceAllStringFunc(text, func(row string) string {
		number := aRow.FindStringSubmatch(row)[1]
		n, _ := strconv.Atoi(number)
		moved := strconv.Itoa(n + by)
		row = strings.Replace(row, `r="`+number+`"`, `r="`+moved+`"`, 1)
		return aCell.ReplaceAllStringFunc(row, func(c string) string {
			ref := aCell.FindStringSubmatch(c)
			return strings.Replace(c, `r="`+ref[1]+ref[2]+`"`, `r="`+ref[1]+moved+`"`, 1)
		})
	})
}

// dropMerges takes out merged blocks, which moving rows would tear.
func dropMerges(text string) string {
	return regexp.MustCompile(`(?s)<mergeCells.*?</mergeCells>`).ReplaceAllString(text, "")
}

func escaped(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(s)
}

// mutateTable changes a CSV file that stays properly written.
func mutateTable(rng *rand.Rand, m *mutated, f *file) {
	comma := ','
	if head, _, _ := bytes.Cut(f.data, []byte("\n")); bytes.Contains(head, []byte(";")) {
		comma = ';'
	}
	r := csv.NewReader(bytes.NewReader(f.data))
	r.Comma, r.FieldsPerRecord = comma, -1
	table, err := r.ReadAll()
	if err != nil {
		panic(err)
	}
	m.sound = true
	row := rng.IntN(len(table))
	empty := func(cells []string) bool { return strings.TrimSpace(strings.Join(cells, "")) == "" }
	switch n := rng.IntN(10); n {
	case 0:
		table = slices.Insert(table, row, slices.Clone(table[row]))
		m.what = fmt.Sprintf("row %d twice", row+1)
		if !empty(table[row]) {
			m.rows = 1
		}
	case 1:
		if !empty(table[row]) {
			m.rows = -1
		}
		table = slices.Delete(table, row, row+1)
		m.what = fmt.Sprintf("row %d gone", row+1)
	case 2:
		a, b := rng.IntN(len(table[row])), rng.IntN(len(table[row]))
		table[row][a], table[row][b] = table[row][b], table[row][a]
		m.what = fmt.Sprintf("cells %d and %d of row %d swapped", a+1, b+1, row+1)
	case 3:
		comma = []rune{';', '\t', '|'}[rng.IntN(3)]
		m.same, m.what = true, fmt.Sprintf("fields parted by %q", comma)
	case 4:
		m.what, m.same = "in other letters", true
		f.data = inOtherLetters(rng, f.data, m, string(comma))
		return
	default:
		col := rng.IntN(len(table[row]))
		was := empty(table[row])
		value := oddValues[rng.IntN(len(oddValues))]
		if n > 6 {
			value = marker(rng)
			m.marker = value
		}
		table[row][col] = value
		if is := empty(table[row]); is != was {
			m.rows = 1
			if is {
				m.rows = -1
			}
		}
		m.what = fmt.Sprintf("row %d, field %d is %q", row+1, col+1, value)
	}
	if len(table) == 0 {
		m.sound = false
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = comma
	if err := w.WriteAll(table); err != nil {
		panic(err)
	}
	f.data = b.Bytes()
}

// inOtherLetters writes the same text as other programs do.
func inOtherLetters(rng *rand.Rand, data []byte, m *mutated, comma string) []byte {
	text := string(data)
	switch rng.IntN(4) {
	case 0:
		m.what = "with a mark in front"
		return append([]byte("\xEF\xBB\xBF"), data...)
	case 1:
		m.what = "with other line ends"
		return []byte(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", "\r\n"))
	case 2:
		m.what = "in UTF-16"
		b := []byte("\xFF\xFE")
		for _, u := range utf16.Encode([]rune(text)) {
			b = append(b, byte(u), byte(u>>8))
		}
		return b
	}
	m.what = "with empty lines at the end"
	return append(slices.Clone(data), "\n\n"+strings.Repeat(comma, 3)+"\n"...)
}
