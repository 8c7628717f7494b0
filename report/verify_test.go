package report

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"drytally/compute"
	"drytally/compute/units"
	"drytally/report/write"
)

var verifyAbout = About{Version: "1.2.3", Compiler: "go1.26"}

func papersOf(t *testing.T, r *compute.Result, about About) []write.File {
	t.Helper()
	files, err := Papers(r, about)
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func fileNamed(t *testing.T, files []write.File, name string) []byte {
	t.Helper()
	for _, f := range files {
		if f.Name == name {
			return f.Data
		}
	}
	t.Fatalf("no paper is called %s", name)
	return nil
}

// wordsOf joins the sentences of what was found.
func wordsOf(t *testing.T, v Verified) string {
	t.Helper()
	var out strings.Builder
	if err := WriteVerified(&out, []Verified{v}); err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(out.String()), " ")
}

func TestVerifyTellsWhatCanBeTold(t *testing.T) {
	r := exampleResult()
	files := papersOf(t, r, verifyAbout)
	load := fileNamed(t, files, "load-K14.pdf")
	record, ok := RecordOf(load)
	if !ok {
		t.Fatal("a paper holds no record")
	}
	changed := func(old, new string) []byte {
		if !bytes.Contains(load, []byte(old)) {
			t.Fatalf("the paper does not hold %q", old)
		}
		return bytes.Replace(load, []byte(old), []byte(new), 1)
	}
	drawn := pageContents(load)
	if len(drawn) < 2 {
		t.Fatalf("got %d pages, want two at least", len(drawn))
	}
	flipped := bytes.Clone(drawn[1])
	flipped[len(flipped)/2] ^= 1
	other := exampleResult()
	other.Job.Files[0].SHA256 = strings.Repeat("ab", 32)
	for _, c := range []struct {
		name, file string
		data       []byte
		same       bool
		want       string
	}{
		{"as written", "load-K14.pdf", load, true, "unchanged"},
		{"renamed", "for the buyer.pdf", load, true, "Byte for byte the load-K14.pdf"},
		{"a workbook of results", "results.xlsx", fileNamed(t, files, "results.xlsx"), true, "unchanged"},
		{"a byte of page 2", "load-K14.pdf", bytes.Replace(load, drawn[1], flipped, 1), false, "Page 2 is not as written"},
		{"an author changed", "load-K14.pdf", changed("/Lang (en-US)", "/Lang (en-GB)"), false, "The pages themselves draw the same"},
		{"a number changed", "load-K14.pdf", changed(record.Number, "00000-00000"), false, "no paper of these files has that number"},
		{"a byte added", "load-K14.pdf", append(bytes.Clone(load), '\n'), false, "NOT AS WRITTEN"},
		{"cut off", "load-K14.pdf", load[:len(load)-1], false, "NOT AS WRITTEN"},
		{"a page taken out of the list", "load-K14.pdf", changed("/Contents", "/Cantents"), false, "can't be held against"},
		{"record removed", "load-K14.pdf", changed(recordMark, "x"), false, "holds no record"},
		{"two records", "load-K14.pdf", append(bytes.Clone(load), strings.Replace(record.String(), record.Number, "00000-00000", 1)...), false, "holds no record"},
		{"another workbook", "load-K14.pdf", fileNamed(t, papersOf(t, other, verifyAbout), "load-K14.pdf"), false, "another SHA-256 than week42.xlsx"},
		{"another version", "load-K14.pdf", fileNamed(t, papersOf(t, r, About{Version: "1.2.2", Compiler: "go1.26"}), "load-K14.pdf"), false, "verify it with 1.2.2. The SHA-256 it names as its source is that of week42.xlsx"},
		{"another version, another workbook", "load-K14.pdf", fileNamed(t, papersOf(t, other, About{Version: "1.2.2", Compiler: "go1.26"}), "load-K14.pdf"), false, "is not that of week42.xlsx"},
		{"another compiler", "load-K14.pdf", fileNamed(t, papersOf(t, r, About{Version: "1.2.3", Compiler: "go1.27"}), "load-K14.pdf"), false, "built with go1.27"},
		{"workbook of results changed", "results.xlsx", append(bytes.Clone(fileNamed(t, files, "results.xlsx")), 0), false, "changed or saved anew"},
		{"a letter to a friend", "letter.pdf", []byte("%PDF-1.4\nhello"), false, "holds no record"},
		{"nothing", "load-K14.pdf", nil, false, "NOT AS WRITTEN"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := Verify(c.file, c.data, files, r.Job.Files, verifyAbout)
			if got := wordsOf(t, v); v.Same != c.same || !strings.Contains(got, c.want) {
				t.Errorf("got %v, %q, want %v with %q", v.Same, got, c.same, c.want)
			}
		})
	}
	unversioned := About{Version: Unversioned, Compiler: "go1.26"}
	v := Verify("load-K14.pdf", append(bytes.Clone(fileNamed(t, papersOf(t, r, unversioned), "load-K14.pdf")), '\n'), papersOf(t, r, unversioned), r.Job.Files, unversioned)
	if got := wordsOf(t, v); !strings.Contains(got, "carries no version of its own") {
		t.Errorf("a program without a version says %q", got)
	}
}

// No paper with a byte changed, added or taken away is ever called unchanged.
func TestVerifyNeverPassesAChangedByte(t *testing.T) {
	r := exampleResult()
	files := papersOf(t, r, verifyAbout)
	listed, err := ReadListed(fileNamed(t, files, "results.json"))
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		f := files[rapid.IntRange(0, len(files)-1).Draw(t, "paper")]
		data := bytes.Clone(f.Data)
		at := rapid.IntRange(0, len(data)-1).Draw(t, "at")
		switch rapid.IntRange(0, 2).Draw(t, "how") {
		case 0:
			data[at] ^= 1 << rapid.IntRange(0, 7).Draw(t, "bit")
		case 1:
			data = data[:at]
		case 2:
			data = append(data, rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(t, "more")...)
		}
		if Verify(f.Name, data, files, r.Job.Files, verifyAbout).Same || listed.Verify(f.Name, data).Same {
			t.Fatalf("%s with a changed byte is called unchanged", f.Name)
		}
	})
}

func TestVerifyAgainstTheList(t *testing.T) {
	r := exampleResult()
	files := papersOf(t, r, verifyAbout)
	listed, err := ReadListed(fileNamed(t, files, "results.json"))
	if err != nil {
		t.Fatal(err)
	}
	load := fileNamed(t, files, "load-K14.pdf")
	wetter := exampleResult()
	wetter.Boards[0].MC.MC += units.Percent(1)
	for _, c := range []struct {
		name, file string
		data       []byte
		same       bool
		want       string
	}{
		{"as written", "load-K14.pdf", load, true, "that results.json lists"},
		{"altered", "load-K14.pdf", append(bytes.Clone(load), ' '), false, "lists as load-K14.pdf with other bytes"},
		{"of another run", "load-K14.pdf", fileNamed(t, papersOf(t, wetter, verifyAbout), "load-K14.pdf"), false, "does not list"},
		{"workbook altered", "results.xlsx", []byte("PK"), false, "results.xlsx that results.json lists"},
		{"of somebody", "bill.pdf", []byte("%PDF-1.4"), false, "holds no record"},
	} {
		if v := listed.Verify(c.file, c.data); v.Same != c.same || !strings.Contains(wordsOf(t, v), c.want) {
			t.Errorf("%s: got %v, %q, want %v with %q", c.name, v.Same, wordsOf(t, v), c.same, c.want)
		}
	}
	for _, f := range files {
		if v := listed.Verify(f.Name, f.Data); v.Same == (f.Name == "results.json") {
			t.Errorf("%s against the list: %v", f.Name, v.Same)
		}
	}
	for _, bad := range []string{"", "{}", "[]", `{"schema":"drytally results"}`, `{"schema":"other","papers":[{"file":"a"}]}`} {
		if _, err := ReadListed([]byte(bad)); err == nil {
			t.Errorf("%q was taken for results", bad)
		}
	}
}

// A number stands for what is printed: the same content has the same number, any other figure, word, drawing, version or
// source another one.
func TestNumberIsOfTheContent(t *testing.T) {
	number := func(r *compute.Result, about About, name string) string {
		t.Helper()
		record, ok := RecordOf(fileNamed(t, papersOf(t, r, about), name))
		if !ok || !regexp.MustCompile(`^[0-9A-F]{5}-[0-9A-F]{5}$`).MatchString(record.Number) {
			t.Fatalf("%s has the record %+v", name, record)
		}
		return record.Number
	}
	const paper = "load-K14.pdf"
	seen := map[string]string{number(exampleResult(), verifyAbout, paper): "as it is"}
	if _, again := seen[number(exampleResult(), verifyAbout, paper)]; !again {
		t.Error("two runs gave two numbers")
	}
	if _, again := seen[number(exampleResult(), About{Version: "1.2.3", Compiler: "go2"}, paper)]; !again {
		t.Error("the compiler changes the number of the same content")
	}
	for name, change := range map[string]func(*compute.Result, *About){
		"one reading":           func(r *compute.Result, _ *About) { r.Boards[0].MC.MC += units.Percent(0.1).Tenth() },
		"the mill":              func(r *compute.Result, _ *About) { r.Job.Settings.MillName += "s" },
		"a board's mark":        func(r *compute.Result, _ *About) { r.Boards[0].Over = true },
		"the file's name":       func(r *compute.Result, _ *About) { r.Job.Files[0].Name = "week43.xlsx" },
		"the file's content":    func(r *compute.Result, _ *About) { r.Job.Files[0].SHA256 = strings.Repeat("0", 64) },
		"the program's version": func(_ *compute.Result, a *About) { a.Version = "1.2.4" },
	} {
		r, about := exampleResult(), verifyAbout
		change(r, &about)
		n := number(r, about, paper)
		if other, ok := seen[n]; ok {
			t.Errorf("%s and %s have the same number", name, other)
		}
		seen[n] = name
	}
	files := papersOf(t, exampleResult(), verifyAbout)
	numbers := map[string]string{}
	for _, f := range files {
		record, ok := RecordOf(f.Data)
		if strings.HasSuffix(f.Name, ".pdf") != ok {
			t.Errorf("%s: record %v", f.Name, ok)
		}
		if !ok {
			continue
		}
		if other := numbers[record.Number]; other != "" {
			t.Errorf("%s and %s have the same number", f.Name, other)
		}
		numbers[record.Number] = f.Name
		if fmt.Sprint(record.Sources) != "["+exampleResult().Job.Files[0].SHA256+"]" || record.Version != "1.2.3" {
			t.Errorf("%s has the record %+v", f.Name, record)
		}
	}
}

func TestRecordReadsBack(t *testing.T) {
	for _, c := range []struct{ version, want string }{{"v1.0.0+changed", "v1.0.0+changed"}, {"(devel); built with x\n", "_devel__ built with x_"}, {"a\\b\u00e9", "a_b_"}} {
		r := Record{Number: "01234-ABCDE", Version: c.version, Compiler: "go1.26.1", Sources: []string{strings.Repeat("a", 64), strings.Repeat("b", 64)}}
		got, ok := RecordOf([]byte("x (" + r.String() + ") y"))
		if !ok || got.Version != c.want || got.Number != r.Number || len(got.Sources) != 2 || got.Compiler != r.Compiler {
			t.Errorf("%q reads back as %+v, %v", c.version, got, ok)
		}
	}
}
