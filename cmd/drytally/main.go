// Command drytally reads the week's workbook of a small sawmill and writes its papers.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"strings"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/ingest"
	"drytally/report"
	"drytally/report/write"

	"golang.org/x/mod/module"
)

const usage = `drytally reads the week's workbook of a small sawmill and writes its papers.

  drytally WEEK.xlsx         write its papers into WEEK-papers/ beside it
  drytally FOLDER            the same for every workbook in it; its CSV files
                             together are one set
  drytally A.csv B.csv ...   CSV files of one folder are one set
  drytally check WEEK.xlsx   only say what was understood and what is wrong
  drytally verify PAPER.pdf WEEK.xlsx
                             say whether papers came from this workbook
                             unchanged; a folder of papers stands for all in
                             it, results.json can stand for the workbook

Options
  -to FOLDER   put the papers' folder there instead of beside the workbook
  -force       replace papers even where a file in their folder was changed
  -version     say which drytally this is
  -h           this help

Read: xlsx or CSV sheets of settings, cuts, boards, readings, weights, air,
wanted, loads, sold, recognized by their column headings. The workbook is never
changed.
Written: summary.pdf, cut-sheet.pdf, load-ID.pdf, statement-SALE.pdf,
tags-SALE.pdf, results.xlsx, results.json.

Exit codes
  0  written, nothing set aside
  1  written, but rows were set aside or a paper was withheld
  2  the call was wrong
  3  a file can't be read or written; nothing of it was written
  Of verify: 0 all unchanged, 1 not, 2 and 3 as above.

Example
  drytally testdata/weeks/two-loads.xlsx
`

func main() { os.Exit(stay(run(os.Args[1:], os.Stdout, os.Stderr))) }

// The exit codes; they stand in the usage text.
const (
	exitWritten  = 0
	exitSetAside = 1
	exitCall     = 2
	exitFile     = 3
)

// call is what the command line asks for.
type call struct {
	check  bool
	verify bool
	to     string
	force  bool
	paths  []string
}

// run is the program; main only hands it the process's own arguments and streams.
func run(args []string, out, errOut io.Writer) int {
	c, code, done := parse(args, out, errOut)
	if done {
		return code
	}
	if c.verify {
		return verifyPapers(c.paths, out, errOut)
	}
	sets, err := ingest.Gather(c.paths)
	if err != nil {
		fmt.Fprintf(errOut, "drytally: %v\n", err)
		return exitFile
	}
	if !c.check {
		if err := ingest.Apart(sets, c.to); err != nil {
			fmt.Fprintf(errOut, "drytally: %v\n", err)
			return exitCall
		}
	}
	worst := exitWritten
	for i, set := range sets {
		if i > 0 {
			fmt.Fprintln(out)
		}
		worst = max(worst, one(c, set, out, errOut))
	}
	return worst
}

// one reads, assesses and writes one workbook or one set of CSV files.
func one(c call, set ingest.Set, out, errOut io.Writer) int {
	job, err := ingest.Read(set)
	if err != nil {
		fmt.Fprintf(errOut, "drytally: %v\n", err)
		return exitFile
	}
	result := compute.Assess(job)
	code := exitWritten
	if result.SetAside() > 0 || len(result.Withheld()) > 0 {
		code = exitSetAside
	}
	if c.check {
		if err := report.Check(out, result); err != nil {
			fmt.Fprintf(errOut, "drytally: %v\n", err)
			return exitFile
		}
		return code
	}
	if result.UsedRows() == 0 {
		none := finding.KindOf(finding.FileNoTable)
		fmt.Fprintf(errOut, "drytally: %s: error %s: %s\n    hint: %s\n", set.Owner(), none.Code, none.Meaning, none.ToDo)
		return exitFile
	}
	files, err := report.Papers(result, about())
	if err != nil {
		fmt.Fprintf(errOut, "drytally: %s: %v\n", set.Name, err)
		return exitFile
	}
	folder := set.PapersFolder(c.to)
	if c.to != "" {
		if err := os.MkdirAll(c.to, 0o755); err != nil {
			fmt.Fprintf(errOut, "drytally: the folder %q can't be made: %v\n", c.to, err)
			return exitFile
		}
	}
	if err := commit(folder, files, set.Owner(), c.force); err != nil {
		fmt.Fprintf(errOut, "drytally: %v\n", err)
		return exitFile
	}
	if err := report.Summary(out, result, folder, files); err != nil {
		fmt.Fprintf(errOut, "drytally: %v\n", err)
		return exitFile
	}
	return code
}

// commit puts the papers into their folder, all or none.
func commit(folder string, files []write.File, owner string, force bool) error {
	var papers write.Set
	for _, f := range files {
		if err := papers.Add(f.Name, f.Data); err != nil {
			return err
		}
	}
	return papers.Commit(folder, owner, force)
}

// parse reads the command line. done is true when nothing is left to do but to exit with code.
func parse(args []string, out, errOut io.Writer) (c call, code int, done bool) {
	if len(args) == 0 {
		fmt.Fprint(errOut, usage)
		return c, exitCall, true
	}
	switch args[0] {
	case "check":
		c.check = true
		args = args[1:]
	case "verify":
		c.verify = true
		args = args[1:]
	}
	flags := flag.NewFlagSet("drytally", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.StringVar(&c.to, "to", "", "")
	flags.BoolVar(&c.force, "force", false, "")
	showVersion := flags.Bool("version", false, "")
	// Options may stand before or after the files.
	for len(args) > 0 {
		err := flags.Parse(args)
		if errors.Is(err, flag.ErrHelp) {
			fmt.Fprint(out, usage)
			return c, exitWritten, true
		}
		if err != nil {
			fmt.Fprintf(errOut, "drytally: %s\n", nearOption(err.Error()))
			return c, exitCall, true
		}
		args = flags.Args()
		if len(args) > 0 {
			c.paths = append(c.paths, args[0])
			args = args[1:]
		}
	}
	if *showVersion {
		fmt.Fprintf(out, "drytally %s\n", version())
		return c, exitWritten, true
	}
	if c.verify && (c.to != "" || c.force) {
		fmt.Fprintln(errOut, "drytally: verify writes nothing; leave -to and -force out")
		return c, exitCall, true
	}
	if len(c.paths) == 0 {
		fmt.Fprintln(errOut, "drytally: name a workbook, a folder, or CSV files (drytally -h tells more)")
		return c, exitCall, true
	}
	return c, 0, false
}

// nearOption turns the flag package's message into ours and names the option that may be meant.
func nearOption(message string) string {
	if name, ok := strings.CutPrefix(message, "flag needs an argument: "); ok {
		return name + " needs a folder behind it"
	}
	if strings.HasPrefix(message, "invalid boolean value") {
		return "-force and -version stand alone, without a value"
	}
	_, name, ok := strings.Cut(message, "flag provided but not defined: -")
	if !ok {
		return message
	}
	for _, known := range []string{"to", "force", "version", "h"} {
		if strings.HasPrefix(known, strings.TrimLeft(name, "-")) || strings.HasPrefix(strings.TrimLeft(name, "-"), known) {
			return fmt.Sprintf("there is no option -%s; did you mean -%s?", name, known)
		}
	}
	return fmt.Sprintf("there is no option -%s (drytally -h lists them)", name)
}

// about names the program on its papers.
func about() report.About { return report.About{Version: version(), Compiler: runtime.Version()} }

// version names the state of the source this program was built from: its release, else its revision; "+changed" when the source
// had been changed since.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return report.Unversioned
	}
	return versionOf(info)
}

func versionOf(info *debug.BuildInfo) string {
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	name := set["vcs.revision"]
	switch release := info.Main.Version; {
	case release != "" && release != "(devel)" && !module.IsPseudoVersion(strings.TrimSuffix(release, "+dirty")):
		name = strings.TrimSuffix(release, "+dirty")
	case len(name) > 12:
		name = name[:12]
	case name == "":
		return report.Unversioned
	}
	if set["vcs.modified"] == "true" {
		name += "+changed"
	}
	return name
}
