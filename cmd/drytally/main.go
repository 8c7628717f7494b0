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
	"slices"
	"strings"

	"drytally/report"

	"golang.org/x/mod/module"
)

const usage = `drytally reads the week's workbook of a small sawmill and writes its papers.

  drytally WEEK.xlsx         write its papers into WEEK-papers/ beside it
  drytally FOLDER            the same for every workbook in it; its CSV files
                             together are one set
  drytally A.csv B.csv ...   CSV files of one folder are one set
  drytally check WEEK.xlsx   only say what was understood and what is wrong
  drytally blank NEW.xlsx    an empty workbook to fill in, columns explained
  drytally verify PAPER.pdf WEEK.xlsx
                             say whether papers came from this workbook
                             unchanged; a folder of papers stands for all in
                             it, results.json can stand for the workbook
  drytally season FOLDER     all its weeks together: loads, footage, stock left,
                             your own shrinkage; into FOLDER/season-papers/
  drytally watch FOLDER      stay and do the first line whenever a workbook is
                             saved or dropped there; Ctrl-C stops it

Options
  -to FOLDER   put the papers' folder there instead of beside the workbook
  -force       replace papers even where a file in their folder was changed;
               blank: replace NEW.xlsx
  -again       make papers anew also where nothing changed; else the workbooks
               of a folder, or several named at once, are passed over when
               their papers stand as written and were made from the same files
               by the same drytally
  -from FILE   blank: carry over settings, open loads and unsold boards
  -metric      blank: millimetres, Celsius and A4 instead of inches and Letter
  -version     say which drytally this is
  -h           this help

Read: xlsx or CSV sheets of settings, cuts, boards, readings, weights, air,
climate, wanted, loads, sold, recognized by their column headings. The workbook
is never changed.
Written: summary.pdf, cut-sheet.pdf, kiln-loading.pdf, load-ID.pdf,
statement-SALE.pdf, tags-SALE.pdf, results.xlsx, results.json; season.pdf,
season.xlsx.

Exit codes
  0  written, nothing set aside
  1  written, but rows were set aside or a paper was withheld
  2  the call was wrong
  3  a file can't be read or written, or holds nothing yet; nothing of it was
     written
  Of verify: 0 all unchanged, 1 not, 2 and 3 as above.

Examples
  drytally testdata/weeks/two-loads.xlsx
  drytally blank week48.xlsx -from week47.xlsx
`

func main() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(thrifty)
	}
	os.Exit(stay(run(os.Args[1:], os.Stdout, os.Stderr)))
}

// thrifty is from how many bytes on the program tidies its memory more often, at the cost of time. No week comes near it; ten
// years of readings in one workbook do.
const thrifty = 212 << 20

// The exit codes; they stand in the usage text.
const (
	exitWritten  = 0
	exitSetAside = 1
	exitCall     = 2
	exitFile     = 3
)

// call is what the command line asks for.
type call struct {
	check, blank, verify, watch, season bool // at most one; none is the main job

	to     string
	from   string // blank: the workbook to carry over from
	metric bool   // blank: in millimetres
	force  bool
	again  bool // make papers anew even where nothing changed
	skip   bool // leave workbooks as they are whose papers stand already
	paths  []string
}

// run is the program; main only hands it the process's own arguments and streams.
func run(args []string, out, errOut io.Writer) int {
	c, code, done := parse(args, out, errOut)
	switch {
	case done:
		return code
	case c.blank:
		return runBlank(c, out, errOut)
	case c.verify:
		return verifyPapers(c.paths, out, errOut)
	case c.watch:
		return watchUntilStopped(c, out, errOut)
	case c.season:
		return season(c, out, errOut)
	}
	return several(c, out, errOut)
}

// parse reads the command line. done is true when nothing is left to do but to exit with code.
func parse(args []string, out, errOut io.Writer) (c call, code int, done bool) {
	if len(args) == 0 {
		fmt.Fprint(errOut, usage)
		return c, exitCall, true
	}
	if i := slices.IndexFunc(commands, func(k command) bool { return k.name == args[0] }); i >= 0 {
		*commands[i].asked(&c) = true
		args = args[1:]
	} else if wrong := misspelt(args[0]); wrong != "" {
		tell(errOut, errors.New(wrong))
		return c, exitCall, true
	}
	flags := flag.NewFlagSet("drytally", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	flags.StringVar(&c.to, "to", "", "")
	flags.StringVar(&c.from, "from", "", "")
	flags.BoolVar(&c.metric, "metric", false, "")
	flags.BoolVar(&c.force, "force", false, "")
	flags.BoolVar(&c.again, "again", false, "")
	showVersion := flags.Bool("version", false, "")
	// Options may stand before or after the files.
	for len(args) > 0 {
		err := flags.Parse(args)
		if errors.Is(err, flag.ErrHelp) {
			fmt.Fprint(out, usage)
			return c, exitWritten, true
		}
		if err != nil {
			tell(errOut, errors.New(nearOption(err.Error())))
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
	if wrong := c.wrong(); wrong != "" {
		tell(errOut, errors.New(wrong))
		return c, exitCall, true
	}
	return c, 0, false
}

// wrong says what in a call does not go together, or is missing.
func (c call) wrong() string {
	switch {
	case c.blank && c.to != "":
		return "-to is for papers; write the folder into the name of the new workbook"
	case c.blank && c.again:
		return "-again is for papers; -force replaces a workbook of that name"
	case c.blank && len(c.paths) == 0:
		return "name the workbook to make, as in: drytally blank week48.xlsx"
	case !c.blank && c.from != "":
		return "-from goes with drytally blank"
	case !c.blank && c.metric:
		return "-metric goes with drytally blank; a workbook says itself what its units are"
	case c.verify && (c.to != "" || c.force || c.again):
		return "verify writes nothing; leave -to, -force and -again out"
	case c.check && (c.to != "" || c.force || c.again):
		return "check writes nothing; leave -to, -force and -again out"
	case c.watch && len(c.paths) != 1:
		return "watch takes one folder"
	case c.season && len(c.paths) == 0:
		return "name the folder with the season's workbooks"
	case len(c.paths) == 0:
		return "name a workbook, a folder, or CSV files (drytally -h tells more)"
	}
	return ""
}

// nearOption turns the flag package's message into ours and names the option that may be meant.
func nearOption(message string) string {
	if name, ok := strings.CutPrefix(message, "flag needs an argument: "); ok {
		if name == "-from" {
			return name + " needs a workbook behind it"
		}
		return name + " needs a folder behind it"
	}
	if strings.HasPrefix(message, "invalid boolean value") {
		return "-again, -force, -metric and -version stand alone, without a value"
	}
	_, name, ok := strings.Cut(message, "flag provided but not defined: -")
	if !ok {
		return message
	}
	for _, known := range []string{"to", "force", "from", "again", "metric", "version", "h"} {
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
