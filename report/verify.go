package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"drytally/compute"
	"drytally/report/write"
)

// Verified is how a paper compares with what it should be.
type Verified struct {
	Name string // of the paper's file
	Same bool   // byte for byte; nothing else counts
	Says []compute.Statement
}

func (v *Verified) say(name string, with map[string]string) {
	v.Says = append(v.Says, compute.Statement{Name: name, With: with})
}

// Verify compares a paper with the papers made anew of the files it is said to come from. The program makes the same bytes of
// the same files, so a paper is unchanged when its bytes are those of one of them; of any other it tells, from what the paper
// says of itself, what can be told.
func Verify(name string, paper []byte, files []write.File, inputs []compute.InputFile, about About) Verified {
	v := Verified{Name: name}
	source := inputNames(inputs)
	for _, f := range files {
		if bytes.Equal(f.Data, paper) {
			v.Same = true
			v.say("verify-same", map[string]string{"paper": f.Name, "source": source})
			return v
		}
	}
	if !isPDF(paper) {
		if slices.ContainsFunc(files, func(f write.File) bool { return f.Name == name }) {
			v.say("verify-data-differs", map[string]string{"paper": name, "source": source})
		} else {
			v.say("verify-no-record", nil)
		}
		return v
	}
	r, ok := RecordOf(paper)
	if !ok {
		v.say("verify-no-record", nil)
		return v
	}
	var hashes []string
	for _, f := range inputs {
		hashes = append(hashes, f.SHA256)
	}
	sameSource := slices.Equal(hashes, r.Sources)
	switch {
	case r.Version != plain(about.Version):
		v.say("verify-other-version", map[string]string{"theirs": r.Version, "ours": plain(about.Version)})
		v.sayOfSource(sameSource, source)
	case r.Compiler != plain(about.Compiler):
		v.say("verify-other-compiler", map[string]string{"theirs": r.Compiler, "ours": plain(about.Compiler)})
		v.sayOfSource(sameSource, source)
	case !sameSource:
		v.say("verify-other-source", map[string]string{"number": r.Number, "source": source})
	default:
		v.altered(r, paper, files, source)
	}
	if about.Version == Unversioned || strings.HasSuffix(about.Version, "+changed") {
		v.say("verify-unversioned", nil)
	}
	return v
}

// Unversioned is the version of a program built in a way that leaves none in it.
const Unversioned = "development build"

func (v *Verified) sayOfSource(same bool, source string) {
	name := "verify-source-differs"
	if same {
		name = "verify-source-same"
	}
	v.say(name, map[string]string{"source": source})
}

// altered tells of a paper that names these files and this version and yet is none of its papers.
func (v *Verified) altered(r Record, paper []byte, files []write.File, source string) {
	for _, f := range files {
		own, ok := RecordOf(f.Data)
		if !ok || own.Number != r.Number {
			continue
		}
		v.say("verify-altered", map[string]string{"number": r.Number, "paper": f.Name, "source": source})
		pages, comparable := pagesThatDiffer(paper, f.Data)
		switch {
		case !comparable:
			v.say("verify-pages-other", nil)
		case len(pages) == 0:
			v.say("verify-pages-same", nil)
		default:
			v.say("verify-pages", map[string]string{"n": strconv.Itoa(len(pages)), "pages": list(pages)})
		}
		return
	}
	v.say("verify-number-unknown", map[string]string{"number": r.Number, "source": source})
}

// contentsOf finds where a page's content stands in a PDF as the papers are written: uncompressed objects, one content to a
// page, in order.
var contentsOf = regexp.MustCompile(`/Contents (\d+) 0 R`)

// pageContents gives what is drawn on each page, packed as it stands in the file.
func pageContents(pdf []byte) [][]byte {
	var all [][]byte
	for _, m := range contentsOf.FindAllSubmatch(pdf, -1) {
		_, object, found := bytes.Cut(pdf, fmt.Appendf(nil, "\n%s 0 obj\n", m[1]))
		_, stream, opened := bytes.Cut(object, []byte("stream\n"))
		stream, _, closed := bytes.Cut(stream, []byte("\nendstream"))
		if !found || !opened || !closed {
			return nil
		}
		all = append(all, stream)
	}
	return all
}

// pagesThatDiffer names the pages whose content is not the same. ok is false when the two can't be held against each other
// page by page.
func pagesThatDiffer(a, b []byte) (pages []string, ok bool) {
	as, bs := pageContents(a), pageContents(b)
	if len(as) == 0 || len(as) != len(bs) {
		return nil, false
	}
	for i := range as {
		if !bytes.Equal(as[i], bs[i]) {
			pages = append(pages, strconv.Itoa(i+1))
		}
	}
	return pages, true
}

// isPDF reports whether a file is a PDF by its first bytes.
func isPDF(data []byte) bool { return bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")) }

// Listed is what results.json says of the papers written with it.
type Listed struct {
	version string
	papers  []Made
}

// ReadListed reads the papers of a results.json.
func ReadListed(data []byte) (Listed, error) {
	var file struct {
		Schema  string
		Program struct{ Version string }
		Papers  []struct {
			File, SHA256 string
			Number       *string
		}
	}
	if err := json.Unmarshal(data, &file); err != nil || file.Schema != "drytally results" {
		return Listed{}, errors.New("this is no results.json written by drytally")
	}
	if len(file.Papers) == 0 {
		return Listed{}, errors.New("this results.json lists no papers")
	}
	l := Listed{version: file.Program.Version}
	for _, p := range file.Papers {
		m := Made{Name: p.File, SHA256: p.SHA256}
		if p.Number != nil {
			m.Number = *p.Number
		}
		l.papers = append(l.papers, m)
	}
	return l, nil
}

// Verify compares a paper with the list.
func (l Listed) Verify(name string, paper []byte) Verified {
	v := Verified{Name: name}
	sum := madeOf(name, "", paper).SHA256
	for _, m := range l.papers {
		if m.SHA256 == sum {
			v.Same = true
			v.say("verify-listed-same", map[string]string{"paper": m.Name})
			return v
		}
	}
	r, ok := RecordOf(paper)
	at := slices.IndexFunc(l.papers, func(m Made) bool { return ok && m.Number == r.Number })
	switch {
	case at >= 0:
		v.say("verify-listed-altered", map[string]string{"number": r.Number, "paper": l.papers[at].Name})
	case ok:
		v.say("verify-listed-not", map[string]string{"number": r.Number, "theirs": r.Version, "ours": plain(l.version)})
	case slices.ContainsFunc(l.papers, func(m Made) bool { return m.Name == name }):
		v.say("verify-listed-differs", map[string]string{"paper": name})
	default:
		v.say("verify-no-record", nil)
	}
	return v
}

// inputNames names the files of a job.
func inputNames(inputs []compute.InputFile) string {
	if n := len(inputs); n > 2 {
		return fmt.Sprintf("%s and %d more files", inputs[0].Name, n-1)
	}
	var names []string
	for _, f := range inputs {
		names = append(names, f.Name)
	}
	return list(names)
}

// WriteVerified writes what was found, paper by paper.
func WriteVerified(out io.Writer, all []Verified) error {
	t := &textOut{job: &job{}, lines: linesTo{out: out}}
	for _, v := range all {
		word := "NOT AS WRITTEN"
		if v.Same {
			word = "unchanged"
		}
		t.line("%s: %s", v.Name, word)
		var says []string
		for _, s := range v.Says {
			says = append(says, t.say(s))
		}
		t.para("    ", strings.Join(says, " "))
	}
	return t.end()
}
