package xlsx

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"runtime"
	"runtime/metrics"
	"strings"
	"testing"
	"time"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// TestLimits reads files made to exhaust the machine. Each must end within two seconds and 200 MB, most with a refusal.
func TestLimits(t *testing.T) {
	if testing.Short() || raceDetector {
		t.Skip("not checked with -short or the race detector: what files made to exhaust the machine take (with it times and sizes say nothing)")
	}
	base := plain("")
	// The files are made when their turn comes and let go before they are read: what the test itself holds would
	// otherwise raise the bound at which the collector sets in.
	fill := func(part, before, unit string, n int, after string) func() parts {
		return func() parts { return base.with(parts{part: before + strings.Repeat(unit, n) + after}) }
	}
	const open, shut = `<worksheet ` + mainNS + `><sheetData>`, `</sheetData></worksheet>`
	numbered := func() parts {
		var rows strings.Builder
		for r := 1; r <= 1000000; r++ {
			fmt.Fprintf(&rows, `<row r="%d"/>`, r)
		}
		return base.with(parts{sheetOne: open + rows.String() + shut})
	}
	// Rows that differ from each other, as those of a table do, and letters that cannot be packed.
	table := func() parts {
		var rows strings.Builder
		for r := 1; r <= 400000; r++ {
			fmt.Fprintf(&rows, `<row r="%d"><c r="A%d"><v>%d</v></c><c r="B%d"><v>%d.%d</v></c></row>`, r, r, r*7919%1000003, r, r%29, r*31%97)
		}
		return base.with(parts{sheetOne: open + rows.String() + shut})
	}
	padded := func() parts {
		draw, letters := rand.New(rand.NewPCG(3, 7)), make([]byte, 900<<10)
		for i := range letters {
			letters[i] = 'a' + byte(draw.IntN(26))
		}
		return base.with(parts{sheetOne: open + "<!--" + string(letters) + "-->" + strings.Repeat("<row>"+strings.Repeat("<c><v>1</v></c>", 100)+"</row>", 20000) + shut})
	}
	const texts = "xl/sharedStrings.xml"
	for _, c := range []struct {
		name string
		make func() parts
		part string
		says string
	}{
		{"bomb of spaces", fill(sheetOne, open, strings.Repeat(" ", 1024), 300<<10, shut), sheetOne, "unpacks"},
		{"spaces inside the limit", fill(sheetOne, open, strings.Repeat(" ", 1024), 23<<10, shut), sheetOne, "longer than any cell"},
		{"million rows", numbered, sheetOne, "200000 rows"},
		{"million rows without numbers", fill(sheetOne, open, "<row/>", 1000000, shut), sheetOne, "200000 rows"},
		{"million cells", fill(sheetOne, open, "<row>"+strings.Repeat("<c/>", 100)+"</row>", 10000, shut), sheetOne, "600000 cells"},
		{"cells with values", fill(sheetOne, open, "<row>"+strings.Repeat("<c><v>1</v></c>", 100)+"</row>", 10000, shut), sheetOne, "600000 cells"},
		{"a large table in earnest", table, "", ""},
		{"cells behind letters that fill the file", padded, sheetOne, "600000 cells"},
		{"just within the cells", fill(sheetOne, open, "<row>"+strings.Repeat("<c><v>1</v></c>", 100)+"</row>", 5990, shut), "", ""},
		{"cells in one row", fill(sheetOne, open+"<row>", "<c/>", 20000, "</row>"+shut), sheetOne, "16384"},
		{"deep", fill(sheetOne, open, "<a>", 5000000, ""), sheetOne, "does not belong"},
		{"deep where tags are skipped", fill(sheetOne, "<worksheet "+mainNS+"><sheetPr>", "<a>", 5000000, ""), sheetOne, "64 deep"},
		{"small tags", fill(sheetOne, "<worksheet "+mainNS+"><sheetPr>", "<a/>", 5900000, "</sheetPr>"), sheetOne, "tags"},
		{"attributes", fill(sheetOne, "<worksheet "+mainNS+"><sheetPr>", "<a "+strings.Repeat(`b="" `, 1000)+"/>", 4500, "</sheetPr>"), sheetOne, "XML"},
		{"one tag of attributes", fill(sheetOne, "<worksheet ", `b="" `, 4000000, mainNS+"/>"), sheetOne, "longer than any cell"},
		{"one long text", fill(texts, "<sst "+mainNS+"><si><t>", "oak ", 5000000, "</t></si></sst>"), texts, "longer than any cell"},
		{"a text too long", fill(texts, "<sst "+mainNS+"><si><t>", "oak ", 9000, "</t></si></sst>"), texts, "32767 letters"},
		{"a text of many runs", fill(texts, "<sst "+mainNS+"><si>", "<r><t>"+strings.Repeat("x", 1000)+"</t></r>", 20000, "</si></sst>"), texts, "32767 letters"},
		{"many texts", fill(texts, "<sst "+mainNS+">", "<si/>", 1000000, "</sst>"), texts, "300000 texts"},
		{"long texts", fill(texts, "<sst "+mainNS+">", "<si><t>"+strings.Repeat("x", 32767)+"</t></si>", 730, "</sst>"), "", ""},
		{"all parts together", func() parts {
			long := strings.Repeat("<si><t>"+strings.Repeat("x", 32767)+"</t></si>", 730)
			return base.with(parts{texts: "<sst " + mainNS + ">" + long + "</sst>", sheetOne: open + strings.Repeat(strings.Repeat(" ", 1000)+"<row/>", 20000) + shut})
		}, sheetOne, "all parts together"},
		{"many merged blocks", fill(sheetOne, open+"</sheetData><mergeCells>", `<mergeCell ref="A1:B2"/>`, 500000, "</mergeCells></worksheet>"), sheetOne, "65536 merged"},
		{"many columns", fill(sheetOne, "<worksheet "+mainNS+"><cols>", `<col min="1" max="16384" hidden="1"/>`, 300000, "</cols></worksheet>"), sheetOne, "twice"},
		{"many styles", fill("xl/styles.xml", "<styleSheet "+mainNS+"><cellXfs>", "<xf/>", 1000000, "</cellXfs></styleSheet>"), "xl/styles.xml", "65536 cell styles"},
		{"many number formats", fill("xl/styles.xml", "<styleSheet "+mainNS+"><numFmts>", `<numFmt numFmtId="200" formatCode="0"/>`, 500000, "</numFmts></styleSheet>"), "", ""},
		{"many namespaces", fill(sheetOne, "<worksheet "+mainNS+"><sheetPr>", `<a xmlns:b="u" xmlns:c="u"/>`, 700000, "</sheetPr>"), sheetOne, "cut"},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := c.make().pack(t)
			started, peak := time.Now(), watchMemory(t)
			_, err := Read("week47.xlsx", data)
			took, used := time.Since(started), peak()
			if c.says == "" && err != nil {
				t.Errorf("got error %v, want none", err)
			}
			if c.says != "" {
				var code finding.Code = finding.FileTooLarge
				if f, ok := err.(*sheet.FileError); ok {
					code = f.Code
				}
				wantFault(t, err, code, c.part, c.says)
			}
			t.Logf("%v, %d MB", took.Round(time.Millisecond), used>>20)
			if used > 200<<20 {
				t.Errorf("got %d MB in use, want at most 200", used>>20)
			}
			if took > 2*time.Second {
				t.Errorf("took %v, want at most two seconds", took)
			}
		})
	}
}

func TestTooManyParts(t *testing.T) {
	t.Parallel()
	data := bytes.Repeat([]byte("PK\x01\x02"+strings.Repeat("\x00", 42)), sheet.MaxEntries+1)
	_, err := Read("week47.xlsx", data)
	wantFault(t, err, finding.FileTooLarge, "", "parts")
}

func TestTooManySheets(t *testing.T) {
	t.Parallel()
	var list strings.Builder
	for i := range sheet.MaxSheets + 1 {
		fmt.Fprintf(&list, `<sheet name="S%d" r:id="r%d"/>`, i, i)
	}
	p := plain("").edit(t, "xl/workbook.xml", "<sheets>", "<sheets>"+list.String())
	_, err := Read("week47.xlsx", p.pack(t))
	wantFault(t, err, finding.FileTooLarge, "xl/workbook.xml", "256 sheets")
}

func TestFileTooLarge(t *testing.T) {
	t.Parallel()
	_, err := Read("week47.xlsx", make([]byte, sheet.MaxFileBytes+1))
	wantFault(t, err, finding.FileTooLarge, "", "64 MB")
}

// watchMemory samples the heap, live and dead objects together, until the returned function is called, which gives
// the most that came on top of what was in use before.
func watchMemory(t *testing.T) func() uint64 {
	t.Helper()
	runtime.GC()
	heap := func() uint64 {
		s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		metrics.Read(s)
		return s[0].Value.Uint64()
	}
	before, top := heap(), uint64(0)
	stop, stopped := make(chan bool), make(chan bool)
	go func() {
		defer close(stopped)
		for {
			if now := heap(); now > before {
				top = max(top, now-before)
			}
			select {
			case <-stop:
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	return func() uint64 {
		close(stop)
		<-stopped
		return top
	}
}
