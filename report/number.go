package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"regexp"
	"strings"
)

// Made is a paper as it was made.
type Made struct {
	Name   string // of the file
	Number string // of the paper; empty for workbooks and data
	SHA256 string // of the file's bytes, hexadecimal
}

func madeOf(name, number string, data []byte) Made {
	sum := sha256.Sum256(data)
	return Made{name, number, hex.EncodeToString(sum[:])}
}

// Record is what a paper says of itself in its properties. It identifies; it does not prove: anyone can write it. Only the
// bytes prove.
type Record struct {
	Number   string
	Version  string   // of the program
	Compiler string   // the program was built with
	Sources  []string // SHA-256 of every file it was made from, in order
}

const recordMark = "drytally paper No. "

// recordForm is the record in a PDF as it stands in the file: the PDF library writes ASCII as it is, backslashes before
// parentheses apart, of which there are none.
var recordForm = regexp.MustCompile(recordMark + `([0-9A-F]{5}-[0-9A-F]{5}); version ([^;()\\]*); built with ([^;()\\]*); made from((?: sha256:[0-9a-f]{64})*)`)

// String writes the record for the properties of the paper.
func (r Record) String() string {
	s := fmt.Sprintf("%s%s; version %s; built with %s; made from", recordMark, r.Number, plain(r.Version), plain(r.Compiler))
	for _, sum := range r.Sources {
		s += " sha256:" + sum
	}
	return s
}

// plain keeps the letters that stand in a PDF as they are.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x20 || r > 0x7E || strings.ContainsRune(`;()\`, r) {
			return '_'
		}
		return r
	}, s)
}

// RecordOf finds the record in the bytes of a paper. ok is false when it holds none, or several that differ: the file is no
// paper of ours, or another program saved it anew.
func RecordOf(pdf []byte) (r Record, ok bool) {
	for _, m := range recordForm.FindAllSubmatch(pdf, -1) {
		one := Record{Number: string(m[1]), Version: string(m[2]), Compiler: string(m[3])}
		for _, s := range strings.Fields(string(m[4])) {
			one.Sources = append(one.Sources, strings.TrimPrefix(s, "sha256:"))
		}
		if ok && one.String() != r.String() {
			return Record{}, false
		}
		r, ok = one, true
	}
	return r, ok
}

// stamp gives the number of a paper and the record in its properties. The number is the first ten hexadecimal digits, in two
// groups, of a hash over which paper it is, the program's version, the files it rests on, and all text and lines drawn on
// it: the same content has the same number, and another word or figure gives another.
func (j *job) stamp(id string) func([sha256.Size]byte) (number, keywords string) {
	return func(drawn [sha256.Size]byte) (string, string) {
		h := sha256.New()
		fmt.Fprintf(h, "%q %q\n", id, j.about.Version)
		r := Record{Version: j.about.Version, Compiler: j.about.Compiler}
		for _, f := range j.Job.Files {
			fmt.Fprintf(h, "%q %s\n", f.Name, f.SHA256)
			r.Sources = append(r.Sources, f.SHA256)
		}
		fmt.Fprintf(h, "%x\n", drawn)
		s := strings.ToUpper(hex.EncodeToString(h.Sum(nil)[:5]))
		r.Number = s[:5] + "-" + s[5:]
		j.number = r.Number
		return r.Number, r.String()
	}
}
