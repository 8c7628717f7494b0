package delim

import (
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/encoding/charmap"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// grid writes a sheet's cells as A1=text, with # in front of a number's text.
func grid(book *sheet.Workbook) []string {
	var out []string
	for _, row := range book.Sheets[0].Rows {
		for c := range row.Cells() {
			mark := ""
			if c.Kind == sheet.Number {
				mark = "#"
			}
			out = append(out, finding.Place{Row: c.Row, Col: c.Col}.Cell()+"="+mark+c.Text)
		}
	}
	return out
}

func wide(text string, order binary.AppendByteOrder, mark bool) []byte {
	var out []byte
	if mark {
		out = order.AppendUint16(out, 0xFEFF)
	}
	for _, unit := range utf16.Encode([]rune(text)) {
		out = order.AppendUint16(out, unit)
	}
	return out
}

// TestForms writes one table in every mix of letters, separators and line ends and reads it back.
func TestForms(t *testing.T) {
	t.Parallel()
	want := []string{"A1=Board", "B1=Thickness", "C1=Note", "A2=Bjørk 1", "B2=11 3/8\"", "C2=½ wet", "A4=oak", "B4=#9.5", "C4=two\nlines", "A5=ash", "C5=#-3"}
	letters := map[string]func(string) ([]byte, error){
		"utf-8":          func(s string) ([]byte, error) { return []byte(s), nil },
		"utf-8 marked":   func(s string) ([]byte, error) { return []byte("\uFEFF" + s), nil },
		"utf-16 le":      func(s string) ([]byte, error) { return wide(s, binary.LittleEndian, true), nil },
		"utf-16 be":      func(s string) ([]byte, error) { return wide(s, binary.BigEndian, true), nil },
		"utf-16 le bare": func(s string) ([]byte, error) { return wide(s, binary.LittleEndian, false), nil },
		"utf-16 be bare": func(s string) ([]byte, error) { return wide(s, binary.BigEndian, false), nil },
		"windows-1252":   func(s string) ([]byte, error) { return charmap.Windows1252.NewEncoder().Bytes([]byte(s)) },
	}
	for name, encode := range letters {
		for _, sep := range []string{",", ";", "\t", "|"} {
			for _, end := range []string{"\n", "\r", "\r\n"} {
				for _, first := range []string{"", "sep=" + sep + end} {
					for _, last := range []string{"", end} {
						table := first + strings.Join([]string{
							"Board" + sep + "Thickness" + sep + "Note",
							"Bjørk 1" + sep + "11 3/8\"" + sep + "½ wet",
							"",
							"oak" + sep + "9.5" + sep + "\"two\nlines\"",
							"ash" + sep + sep + "-3",
						}, end) + last
						data, err := encode(table)
						if err != nil {
							t.Fatal(err)
						}
						book, err := Read("week47.csv", data)
						if err != nil {
							t.Errorf("%s %q %q: got error %v", name, sep, end, err)
							continue
						}
						if diff := cmp.Diff(want, grid(book)); diff != "" {
							t.Errorf("%s %q %q first %q last %q (-want +got):\n%s", name, sep, end, first, last, diff)
						}
						if s := book.Sheets[0]; s.Name != "week47" || book.Name != "week47.csv" || !book.CSV || book.DecimalComma {
							t.Errorf("got sheet %q of %q, CSV %v, decimal comma %v", s.Name, book.Name, book.CSV, book.DecimalComma)
						}
					}
				}
			}
		}
	}
}

func TestTables(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		want       []string
		comma      bool
	}{
		{"inch mark in a plain field", "a,11 3/8\",b\n", []string{"A1=a", "B1=11 3/8\"", "C1=b"}, false},
		{"doubled inch mark", "a,\"11 3/8\"\"\",b\n", []string{"A1=a", "B1=11 3/8\"", "C1=b"}, false},
		{"single inch mark inside quotes", "a,\"1 1/2\" wide\",b\n", []string{"A1=a", "B1=1 1/2\" wide", "C1=b"}, false},
		{"feet and inches", "10' 6\",5'\n", []string{"A1=10' 6\"", "B1=5'"}, false},
		{"separator inside quotes", "\"oak, red\",2\n", []string{"A1=oak, red", "B1=#2"}, false},
		{"separator before an inch mark", "\"oak, 1\" wide\",2\n", []string{"A1=oak, 1\" wide", "B1=#2"}, false},
		{"quoted empty field", "a,\"\",b\n", []string{"A1=a", "C1=b"}, false},
		{"space behind a quoted field", "\"a\" ,b\n", []string{"A1=a", "B1=b"}, false},
		{"quote not at the start", "a \"b\",c\n", []string{"A1=a \"b\"", "B1=c"}, false},
		{"quoted line end counts one row", "\"a\r\nb\",c\nd,e\n", []string{"A1=a\r\nb", "B1=c", "A2=d", "B2=e"}, false},
		{"blank lines count", "\n\na,b\n\nc,d\n\n", []string{"A3=a", "B3=b", "A5=c", "B5=d"}, false},
		{"ragged", "a\nb,c,d\ne,f\n", []string{"A1=a", "A2=b", "B2=c", "C2=d", "A3=e", "B3=f"}, false},
		{"one column", "a\nb\n", []string{"A1=a", "A2=b"}, false},
		{"one field", "a", []string{"A1=a"}, false},
		{"old end mark", "a,b\n\x1A", []string{"A1=a", "B1=b"}, false},
		{"sep line in quotes", "\"sep=;\"\na;b,c\n", []string{"A1=a", "B1=b,c"}, false},
		{"sep line decides", "sep=,\na;b,c;d\n", []string{"A1=a;b", "B1=c;d"}, false},
		{"sep line in capitals", "SEP=|\na|b\n", []string{"A1=a", "B1=b"}, false},
		{"title with commas", "Week 47, oak, red\na;b;c\nd;e;f\n", []string{"A1=Week 47, oak, red", "A2=a", "B2=b", "C2=c", "A3=d", "B3=e", "C3=f"}, false},
		{"notes with semicolons", "a,b\nc,d; wet\ne,f\n", []string{"A1=a", "B1=b", "A2=c", "B2=d; wet", "A3=e", "B3=f"}, false},
		{"decimal commas", "id;mc\n1;9,5\n2;10,25\n", []string{"A1=id", "B1=mc", "A2=#1", "B2=9,5", "A3=#2", "B3=10,25"}, true},
		{"decimal commas and a title", "Week 47, oak\nid;mc;note\n1;9,5\n2;10,5\n3;7,5;wet\n", []string{"A1=Week 47, oak", "A2=id", "B2=mc", "C2=note", "A3=#1", "B3=9,5", "A4=#2", "B4=10,5", "A5=#3", "B5=7,5", "C5=wet"}, true},
		{"decimal commas, grouped points stay text", "a;b\n1.234;9,5\n", []string{"A1=a", "B1=b", "A2=1.234", "B2=9,5"}, true},
		{"commas that may group", "a;b\n1,234;2\n", []string{"A1=a", "B1=b", "A2=1,234", "B2=#2"}, false},
		{"both marks settle nothing", "a;b\n9,5;2.5\n", []string{"A1=a", "B1=b", "A2=9,5", "B2=#2.5"}, false},
		{"commas in a tab file settle nothing", "a\tb\n9,5\t2\n", []string{"A1=a", "B1=b", "A2=9,5", "B2=#2"}, false},
		{"numbers", "1,-2,+3,4.50,.5,5.,007, 8 ,9\n", []string{"A1=#1", "B1=#-2", "C1=#+3", "D1=#4.50", "E1=#.5", "F1=#5.", "G1=#007", "H1=# 8 ", "I1=#9"}, false},
		{"no numbers", "1e3,0x1,1_0,1.2.3,-,.,NaN,Inf,5/4,33+,<6,٣\n", []string{"A1=1e3", "B1=0x1", "C1=1_0", "D1=1.2.3", "E1=-", "F1=.", "G1=NaN", "H1=Inf", "I1=5/4", "J1=33+", "K1=<6", "L1=٣"}, false},
		{"more digits than a number holds", strings.Repeat("9", 400) + ",1\n", []string{"A1=" + strings.Repeat("9", 400), "B1=#1"}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			book, err := Read("t.csv", []byte(c.text))
			if err != nil {
				t.Fatalf("got error %v for %q", err, c.text)
			}
			if diff := cmp.Diff(c.want, grid(book)); diff != "" || book.DecimalComma != c.comma {
				t.Errorf("%q: got decimal comma %v, want %v (-want +got):\n%s", c.text, book.DecimalComma, c.comma, diff)
			}
		})
	}
}

func TestNames(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{"a/b/oak.2.csv": "oak.2", `C:\w\oak.tsv`: "oak", "oak": "oak", ".csv": ".csv"} {
		book, err := Read(name, []byte("a,b"))
		if err != nil || book.Sheets[0].Name != want {
			t.Errorf("got %v and error %v for %q, want the sheet %q", book, err, name, want)
		}
	}
}

func TestFaults(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		code       finding.Code
		says       string
	}{
		{"empty", "", finding.FileEmpty, ""},
		{"blank", " \r\n\t\n", finding.FileEmpty, ""},
		{"mark alone", "\uFEFF", finding.FileEmpty, ""},
		{"zero bytes", "a,b\x00c\n", finding.FileUnknown, "zero"},
		{"control character", "a,b\nc,\x07\n", finding.FileUnknown, "line 2"},
		{"undefined letter", "a,\x81\n", finding.FileLetters, ""},
		{"utf-8 cut", "Bjørk,Bj\xC3", finding.FileLetters, "UTF-8"},
		{"utf-8 and windows-1252", "Bjørk,Bj\xF8rk\n", finding.FileLetters, "UTF-8"},
		{"marked utf-8 that is none", "\uFEFFBj\xF8rk\n", finding.FileLetters, "UTF-8"},
		{"utf-16 cut", "\xFF\xFEa\x00b", finding.FileLetters, "UTF-16"},
		{"half a pair", "\xFF\xFE\x3C\xD8a\x00", finding.FileLetters, "UTF-16"},
		{"half a pair at the end", "\xFF\xFEa\x00\x3C\xD8", finding.FileLetters, "UTF-16"},
		{"quote never closed", "a,b\nc,\"d\n", finding.FileQuote, "B2"},
		{"ditto mark that swallows", "a,\",b\nc,\"d\",e\n", finding.FileQuote, "B1"},
		{"inch mark that swallows lines", "\"11 3/8\"\",oak\n\"11 1/2\"\",ash\n", finding.FileQuote, "A1"},
		{"inch mark, then a separator", "\"1 1/2\" oak, wet\",x\n", finding.FileQuote, "A1"},
		{"unknown separator", "sep=:\na:b\n", finding.FileSeparator, `":"`},
		{"no separator", "sep=\na,b\n", finding.FileSeparator, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			book, err := Read("week47.csv", []byte(c.text))
			var fault *sheet.FileError
			if !errors.As(err, &fault) {
				t.Fatalf("got %v and error %v for %q, want a refusal with code %s", book, err, c.text, c.code)
			}
			if fault.Code != c.code || !strings.Contains(fault.Problem, c.says) || fault.Hint == "" || fault.File != "week47.csv" {
				t.Errorf("got %+v for %q, want code %s saying %q", fault, c.text, c.code, c.says)
			}
		})
	}
}

// TestLimits reads texts made to exhaust the machine.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name, unit string
		n          int
		says       string
	}{
		{"bytes", "x", sheet.MaxTextBytes + 1, "32 MB"},
		{"rows", "a\n", sheet.MaxTextBytes / 2, "200000 rows"},
		{"blank rows", "\n", sheet.MaxRows + 1, "holds nothing"},
		{"cells", strings.Repeat("a,", 100) + "\n", 6001, "600000 filled"},
		{"columns", ",", sheet.LastCol + 1, "16384 fields"},
		{"a text", "a", sheet.MaxTextLength + 1, "32767 letters"},
		{"quotes", "\"a\" b", sheet.MaxTextBytes / 5, "closed"},
		{"separators of all kinds", "a,b;c|d\te\n", sheet.MaxTextBytes / 10, "200000 rows"},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := []byte(strings.Repeat(c.unit, c.n))
			if c.name == "columns" {
				data = append(data, 'a')
			}
			started := time.Now()
			_, err := Read("week47.csv", data)
			took := time.Since(started)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got error %v, want one saying %q", err, c.says)
			}
			t.Log(took.Round(time.Millisecond))
			// The race detector slows everything several times over.
			if took > 2*time.Second && !raceDetector {
				t.Errorf("took %v, want at most two seconds", took)
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	var text strings.Builder
	for r := range 20000 {
		fmt.Fprintf(&text, "red oak %d,%d.5,\"11 3/8\"\"\",2024-03-05,wet\n", r%50, r)
	}
	data := []byte(text.String())
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read("season.csv", data); err != nil {
			b.Fatal(err)
		}
	}
}
