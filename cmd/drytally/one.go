package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest"
	"drytally/report"
	"drytally/report/write"
)

// outcome is what became of one workbook.
type outcome struct {
	code      int
	empty     bool // a blank workbook: nothing was made, and nothing is wrong
	unchanged bool // its papers stood already and were not made again
	lasting   bool // no use in trying again before the workbook itself changes
}

// errChanged says that a source file is no longer what was read.
var errChanged = errors.New("it was changed while its papers were made")

// one reads, assesses and writes one workbook or one set of CSV files. When somebody saves it in the meantime, the papers
// would be those of a workbook that no longer is: then it begins anew, a few times.
func one(c call, set ingest.Set, out, errOut io.Writer) outcome {
	const most = 3
	for i := 1; ; i++ {
		o, err := once(c, set, out)
		if errors.Is(err, errChanged) {
			if i < most {
				continue
			}
			err = fmt.Errorf("%s: it keeps being changed while it is read; run again when it is saved", printable(set.Owner()))
		}
		if err != nil {
			tell(errOut, err)
		}
		return o
	}
}

// once is one try at a workbook. It writes to out only when it gives no error.
func once(c call, set ingest.Set, out io.Writer) (o outcome, err error) {
	failed := outcome{code: exitFile}
	folder := set.PapersFolder(c.to)
	if c.skip && !c.again {
		// What can't be read now is told when it is read in earnest.
		if sum, err := set.Sum(); err == nil {
			if aside, ok := write.Standing(folder, set.Owner(), madeFrom(sum)); ok {
				return unchanged(set, folder, aside, out)
			}
		}
	}
	job, err := ingest.Read(set)
	if err != nil {
		var refused *ingest.FileError
		failed.lasting = errors.As(err, &refused)
		return failed, err
	}
	result := compute.Assess(job)
	o = outcome{code: exitWritten, lasting: true}
	if result.SetAside() > 0 || len(result.Withheld()) > 0 {
		o.code = exitSetAside
	}
	if c.check {
		if err := report.Check(out, result); err != nil || !result.Unfilled() {
			return o, err
		}
		_, err := fmt.Fprintf(out, "\n%s; %s\n", unfilled(set), fillIn)
		return o, err
	}
	if result.Unfilled() {
		if c.skip { // beside others it is only not yet begun
			o.empty = true
			_, err := fmt.Fprintf(out, "%s\n", unfilled(set))
			return o, err
		}
		failed.lasting = true
		return failed, fmt.Errorf("%s\n    hint: %s", unfilled(set), fillIn)
	}
	if result.UsedRows() == 0 {
		none := finding.KindOf(finding.FileNoTable)
		failed.lasting = true
		return failed, fmt.Errorf("%s: error %s: %s\n    hint: %s", printable(set.Owner()), none.Code, none.Meaning, none.ToDo)
	}
	files, err := report.Papers(result, about())
	if err != nil {
		failed.lasting = true
		return failed, fmt.Errorf("%s: %w", printable(set.Name), err)
	}
	if c.to != "" {
		if err := os.MkdirAll(c.to, 0o755); err != nil {
			return failed, fmt.Errorf("the folder %q can't be made: %w", c.to, err)
		}
	}
	sum := ingest.SumOf(job.Files)
	papers := write.Set{MadeFrom: madeFrom(sum), SetAside: o.code == exitSetAside, Still: func() error {
		if now, err := set.Sum(); err != nil || now != sum {
			return errChanged
		}
		return nil
	}}
	for _, f := range files {
		if err := papers.Add(f.Name, f.Data); err != nil {
			failed.lasting = true
			return failed, err
		}
	}
	if err := papers.Commit(folder, set.Owner(), c.force); err != nil {
		return failed, err
	}
	if err := report.Summary(out, result, folder, files); err != nil {
		return failed, err
	}
	return o, nil
}

// unchanged says in a line that the papers stand already. The exit code is that of the run that wrote them: what was set
// aside then still is.
func unchanged(set ingest.Set, folder string, aside bool, out io.Writer) (outcome, error) {
	o := outcome{code: exitWritten, unchanged: true, lasting: true}
	more := ""
	if aside {
		o.code = exitSetAside
		more = "; rows were set aside or a paper withheld, see summary.pdf"
	}
	_, err := fmt.Fprintf(out, "%s: unchanged, its papers stand in %s%s\n", printable(set.Owner()), printable(folder), more)
	return o, err
}

// printable shows a name without what could steer the screen.
func printable(name string) string {
	if strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return strconv.Quote(name)
	}
	return name
}

// tell says on stderr what went wrong. Names of files stand in it, and a name can hold signs that move the cursor or color the
// screen: they are written out. A line break is kept before an indented line, as the hint is.
func tell(errOut io.Writer, err error) {
	var b strings.Builder
	text := err.Error()
	for i, r := range text {
		if unicode.IsPrint(r) || r == '\n' && strings.HasPrefix(text[i+1:], "    ") {
			b.WriteRune(r)
			continue
		}
		b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
	}
	fmt.Fprintf(errOut, "drytally: %s\n", b.String())
}

// madeFrom stands for everything papers are made from: the files, by their sum, and the program.
func madeFrom(sum string) string {
	p := program()
	if p == "" {
		return ""
	}
	h := sha256.Sum256([]byte(p + "\n" + sum))
	return hex.EncodeToString(h[:])
}

// program tells one build of drytally from another. A build from changed or unmarked sources has no version of its own and
// is told by the bytes of the program itself; empty when those can't be read: then nothing counts as unchanged.
var program = sync.OnceValue(func() string {
	if info, ok := debug.ReadBuildInfo(); ok && slices.Contains(info.Settings, debug.BuildSetting{Key: "vcs.modified", Value: "false"}) {
		return "version " + version()
	}
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return ""
	}
	return "bytes " + hex.EncodeToString(h.Sum(nil))
})

// fillIn says what to do with a blank workbook.
const fillIn = "type over the grey examples or write below them, then run drytally again"

func unfilled(set ingest.Set) string {
	return printable(set.Owner()) + ": there is nothing in it yet but headings and examples, so no paper can be made"
}
